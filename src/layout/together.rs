//! Whether the staves of a front are wide enough together as rule 10d allows them to be wide.

use super::pattern::Pattern;
use super::problem::{Mode, Problem};

/// What a stave loses that could not be ripped to the whole step below: more than any front is wide.
const NOT_RIPPED: i64 = 1 << 50;

/// Staves of one front, or of one stretch, found so far.
///
/// Only one of them may be of a width that is neither a whole multiple of the glue step nor a whole board:
/// just what the others leave missing. Any other such stave is ripped to the whole step below.
#[derive(Clone, Debug, Default)]
pub(super) struct Together {
    pub(super) count: usize,
    wide: i64,
    /// What staves of no plain width lose when they are ripped.
    lost: Vec<i64>,
}

impl Together {
    /// One more stave, which loses `lost` when it is ripped to a plain width.
    pub(super) fn add(&mut self, wide: i64, lost: i64) {
        self.count += 1;
        self.wide += wide;
        if lost > 0 {
            self.lost.push(lost);
        }
    }

    /// Takes the stave back that was added last.
    pub(super) fn give_back(&mut self, wide: i64, lost: i64) {
        self.count -= 1;
        self.wide -= wide;
        if lost > 0 {
            self.lost.pop();
        }
    }

    /// How wide they are together with as few of them ripped as must be: all but the one that loses most.
    pub(super) fn wide(&self) -> i64 {
        let most = self.lost.iter().copied().max().unwrap_or(0);
        self.wide - (self.lost.iter().sum::<i64>() - most)
    }

    /// The same with all of them ripped.
    pub(super) fn ripped(&self) -> i64 {
        self.wide - self.lost.iter().sum::<i64>()
    }

    /// Whether none need be ripped.
    pub(super) fn is_plain(&self) -> bool {
        self.lost.len() <= 1
    }

    /// Whether they are all the staves of `mode`, and wide enough.
    pub(super) fn complete(&self, mode: &Mode) -> bool {
        self.count == mode.staves && self.wide() >= mode.total_width
    }
}

/// Mode, width and loss of every stave of a pattern, see [`Together::add`].
pub(super) fn staves_with_loss(problem: &Problem, pattern: &Pattern) -> Vec<(usize, i64, i64)> {
    let stock = &problem.stock[pattern.stock];
    let mut staves = Vec::new();
    for section in &pattern.shape {
        for strip in section {
            let alone = section.len() == 1 && stock.is_full(strip.width);
            for (place, &item) in strip.items.iter().enumerate() {
                let Some(mode) = problem.items[item].mode else {
                    continue;
                };
                let wide = strip.blank_width(problem, stock, place);
                let least = problem.items[item].width;
                let lost = if alone && wide == strip.width {
                    0
                } else {
                    loss(wide, least, problem.cuts.glue_step)
                };
                staves.push((mode, wide, lost));
            }
        }
    }
    staves
}

/// What a stave loses when it is ripped to the whole step below, no narrower than `least`.
pub(super) fn loss(wide: i64, least: i64, step: i64) -> i64 {
    let lost = wide % step;
    if lost > 0 && wide - lost < least {
        NOT_RIPPED
    } else {
        lost
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn together(staves: &[(i64, i64)]) -> Together {
        let mut all = Together::default();
        staves.iter().for_each(|&(wide, lost)| all.add(wide, lost));
        all
    }

    #[test]
    fn one_stave_may_be_just_what_is_missing_and_no_more() {
        // Steps of 10: 35 and 42 are 77 only where both may stay as they are.
        let (five, two) = (loss(35, 20, 10), loss(42, 20, 10));
        assert_eq!((five, two), (5, 2));
        assert_eq!(together(&[(35, five), (40, 0)]).wide(), 75);
        assert_eq!(together(&[(35, five), (42, two)]).wide(), 75);
    }

    #[test]
    fn a_stave_that_would_be_too_narrow_ripped_stays_or_is_none() {
        let lost = loss(25, 22, 10);
        assert_eq!(together(&[(25, lost), (42, 2)]).wide(), 65);
        assert!(together(&[(25, lost), (25, lost)]).wide() < 0);
    }

    #[test]
    fn what_is_given_back_is_forgotten() {
        let mut all = together(&[(35, 5)]);
        all.add(42, 2);
        all.give_back(42, 2);
        assert_eq!((all.count, all.wide()), (1, 35));
    }
}
