//! Branch and price: parts of all plans, each with a relaxation and prices of its own.
//!
//! Where the gap is wide, the patterns within it are too many to list. Then the plans are split by
//! a question (`question`, `split`), each part gets prices of its own, which bound it better, and the gap
//! left is closed by a list as soon as that is short. The question is the one whose two answers
//! raise the relaxation most over the patterns known (strong branching); which boards give the staves of a
//! glued front is asked last, when nothing else is open. A part starts from the best
//! prices of the whole it is a part of, with what boards were found to be worth at them, and from its
//! patterns that a better plan may have, and no front's price may rise far above that at first: parts with
//! hardly a plan would else be priced at whatever a few patterns make of it. Where a board takes too long
//! to price, the part is split with the bound it has: its own parts are priced sooner. A list may tell of
//! patterns worth more than their price, with staves of a width that no price asked for; then the part is
//! priced again with them.
//!
//! Parts are worked on in batches of a fixed size, and some levels down in one batch: so the answer does not
//! depend on how many threads there are, and yet a part that takes long seldom keeps the others waiting.

pub(in crate::layout) mod grow;
pub(in crate::layout) mod node;
pub(in crate::layout) mod question;
pub(in crate::layout) mod split;
