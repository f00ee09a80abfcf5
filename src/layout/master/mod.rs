//! The master program: which patterns to cut so that every front is cut once.
//!
//! In workshop words, over the patterns known so far: cut every front once; glue a stretch only
//! when all its staves are cut and are wide enough together; cut no more boards of a kind than
//! there are; pay for wood, for each stretch started, for glue lines, and for the spread of tones
//! in each run and over the case. Everything is linear in the patterns but the tone spreads.
//!
//! **Tone spreads.** Between each two neighbouring tones on hand lies a *step*. A run pays for a
//! step when it has a front at or below it and a front above it. With `P = 1` when some front of
//! the run is at or below, and `D = 1` when some front is above, the run pays `P + D - 1` times
//! the height of the step. For every front, the patterns at or below the step that cover it are
//! no more than `P`, those above it no more than `D`: since a front is covered once, this makes
//! the relaxation as strong as one 0-1 variable for each window of tones (take every front's
//! fractional tones in order of darkness: the share of the order at which the palest front is
//! below the step and the darkest above it is `max - min` over fronts, and that is what `P + D -
//! 1` comes to). The case pays the same way, over its runs.
//!
//! **Logs and ways of sawing.** A run pays for each log beyond its first. With `U = 1` for a log when some front
//! of the run is cut from it, the patterns of that log that cover a front are no more than `U`, and the run pays
//! for the sum of its `U` less one, if that is more than nothing; ways of sawing likewise.
//!
//! **Glued fronts.** Staves count by their share of a front, so one glued from boards on both sides of
//! a step would be on each by half. Where that matters a row says: what cuts the front in one piece on
//! this side, and of each way to glue it the staves there by their share or, if that is more, the
//! patterns of one board there with a stave of it, are together no more than `P` (or `D`). So that
//! boards are not made up for by half of others, another row says: the patterns of one board with a
//! stave of a glued stretch are no more than it is glued. And staves are wide enough together only on
//! average: a narrow one would be made up for by half of a wide one. Where it matters a row says that
//! those no wider than some width have another wide enough to go with them. Half of a narrow board would
//! also make up for what whole ones lack: another row counts the width that each pattern gives one or two
//! glued stretches in whole units (`super::rounding cuts`).

pub(in crate::layout) mod at_duals;
pub(in crate::layout) mod between;
pub(in crate::layout) mod columns;
pub(in crate::layout) mod mixed;
pub(in crate::layout) mod prices;
pub(in crate::layout) mod program;
pub(in crate::layout) mod relax;
#[cfg(test)]
mod relax_tests;
pub(in crate::layout) mod separate;
pub(in crate::layout) mod sides;
pub(in crate::layout) mod simplex;
pub(in crate::layout) mod solved;
pub(in crate::layout) mod whole;
