//! Half-made patterns met before: what follows one may follow another that cuts the same fronts.
//!
//! Where less of the board is left behind a half-made pattern than behind an earlier one, and it has been
//! paid no more, whatever makes a good pattern of it made a better one of the earlier. So it is not walked
//! again: the sections that followed the earlier one are tried behind it, each in turn, and nothing is
//! lost. Whether sections are worth noting is asked as if all they may keep were kept: that is at least as
//! much behind the earlier one, whatever its crook does to a longer edge.
//!
//! Staves are the one thing in which the later one may do more: with wider ones of a front, it can do with
//! narrower ones to follow. Then only what has such staves is walked ([`Must`]).

use std::collections::HashMap;
use std::rc::Rc;

use crate::layout::model::shape::Shape;
use crate::layout::pricing::explore::must::Must;

/// Sections noted behind one half-made pattern, and behind all of a walk, at most: where more follows, it is
/// walked again rather than kept.
pub(in crate::layout) const FOLLOWS: usize = 1_000;
pub(in crate::layout) const ALL_FOLLOWS: usize = 50_000;

/// The rows and the staves that a half-made pattern cuts, in order.
type CutAlready = Vec<usize>;

/// A half-made pattern whose last section is closed.
pub(in crate::layout) struct Met {
    pub(in crate::layout) cut: CutAlready,
    /// Board left after it.
    pub(in crate::layout) left: i64,
    /// The next section may be no longer.
    pub(in crate::layout) longest: i64,
    pub(in crate::layout) paid: f64,
    /// See [`Walk::owed`].
    pub(in crate::layout) owed: f64,
    /// Length and strip widths of the sections with an edge that may be kept, in order.
    pub(in crate::layout) edges: Vec<(i64, i64)>,
    /// The gluings begun, and how wide their staves may turn out together.
    pub(in crate::layout) staves: Vec<(usize, i64)>,
    /// See [`Given::wide`](crate::layout::pricing::explore::given::Given::wide): what staves to follow get.
    pub(in crate::layout) given: Vec<i64>,
    pub(in crate::layout) follows: Rc<Vec<Follow>>,
}

/// Sections that made a pattern worth looking at.
pub(in crate::layout) struct Follow {
    pub(in crate::layout) shape: Shape,
    pub(in crate::layout) outline: Vec<(i64, i64)>,
    /// What is paid for them.
    pub(in crate::layout) worth: f64,
}

/// A half-made pattern that is being walked.
pub(in crate::layout) struct Open {
    /// How many sections it has.
    pub(in crate::layout) sections: usize,
    pub(in crate::layout) paid: f64,
    pub(in crate::layout) follows: Vec<Follow>,
    /// Whether more follows than is noted.
    pub(in crate::layout) many: bool,
}

/// What a walk remembers.
#[derive(Default)]
pub(in crate::layout) struct Memory {
    pub(in crate::layout) met: HashMap<CutAlready, Vec<Met>>,
    pub(in crate::layout) count: usize,
    pub(in crate::layout) follows: usize,
    pub(in crate::layout) open: Vec<Open>,
    pub(in crate::layout) musts: Vec<Must>,
}

impl Met {
    /// Whether whatever may follow `later`, but for its staves, may follow this and is as good.
    pub(in crate::layout) fn beats(&self, later: &Met) -> bool {
        self.left >= later.left
            && self.longest >= later.longest.min(later.left)
            && self.paid >= later.paid
            && self.owed >= later.owed
            && among(&later.edges, &self.edges)
            && self.given == later.given
    }
}

/// Whether all of `some` are among `all`; both are in order.
fn among(some: &[(i64, i64)], all: &[(i64, i64)]) -> bool {
    let mut all = all.iter();
    some.iter().all(|one| all.any(|other| other == one))
}
