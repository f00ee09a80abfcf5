//! Whether the staves of a front are wide enough together as rule 10d allows them to be wide.

use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;

/// What a stave loses that could not be ripped to the whole step below: more than any front is wide.
const NOT_RIPPED: i64 = 1 << 50;
/// Said of a stave that is narrower than any may be.
const TOO_NARROW: i64 = NOT_RIPPED + 1;

/// Staves of one front, or of one stretch, found so far.
///
/// Only one of them may be of a width that is neither a whole multiple of the glue step nor a whole board:
/// just what the others leave missing. Any other such stave is ripped to the whole step below.
#[derive(Clone, Debug, Default)]
pub(in crate::layout) struct Together {
    pub(in crate::layout) count: usize,
    wide: i64,
    /// What staves of no plain width lose when they are ripped.
    lost: Vec<i64>,
    /// Widths of staves that can't be ripped: the step below is too narrow.
    stubborn: Vec<i64>,
    /// Widths of the others, ripped to whole steps; of whole boards nothing is ripped.
    plain: Vec<i64>,
    /// Staves that are too narrow, whatever the others are.
    too_narrow: usize,
}

impl Together {
    /// One more stave, which loses `lost` when it is ripped to a plain width.
    pub(in crate::layout) fn add(&mut self, wide: i64, lost: i64) {
        self.count += 1;
        self.wide += wide;
        match lost {
            NOT_RIPPED => self.stubborn.push(wide),
            TOO_NARROW => self.too_narrow += 1,
            lost => {
                self.plain.push(wide - lost);
                self.lost.extend((lost > 0).then_some(lost));
            }
        }
    }

    /// Takes the stave back that was added last.
    pub(in crate::layout) fn give_back(&mut self, wide: i64, lost: i64) {
        self.count -= 1;
        self.wide -= wide;
        match lost {
            NOT_RIPPED => _ = self.stubborn.pop(),
            TOO_NARROW => self.too_narrow -= 1,
            lost => {
                self.plain.pop();
                if lost > 0 {
                    self.lost.pop();
                }
            }
        }
    }

    /// How wide they are together with as few of them ripped as must be: all but the one that loses most, or
    /// that can't be.
    pub(in crate::layout) fn wide(&self) -> i64 {
        let most = if self.stubborn.is_empty() {
            self.lost.iter().copied().max().unwrap_or(0)
        } else {
            0
        };
        self.ripped() + most
    }

    /// The same with all of them ripped that can be.
    pub(in crate::layout) fn ripped(&self) -> i64 {
        self.wide - self.lost.iter().sum::<i64>()
    }

    /// Whether they are all the staves of a gluing, and wide enough, with one at most just what the others leave
    /// missing.
    pub(in crate::layout) fn complete(&self, problem: &Problem, gluing: usize) -> bool {
        let of = &problem.gluings[gluing];
        let least = problem.items[of.item].width;
        let step = problem.cuts.glue_step;
        self.count == of.staves
            && self.too_narrow == 0
            && self.is_enough(of.total_width, least, step)
    }

    /// Whether they are not all the staves of a gluing yet, or may be wide enough: where not all widths are
    /// listed, what is a little too narrow stands for staves that are not.
    pub(in crate::layout) fn may_do(&self, problem: &Problem, gluing: usize) -> bool {
        let of = &problem.gluings[gluing];
        let stands_for_wider = of.asked_width < of.total_width && self.wide >= of.asked_width;
        self.count < of.staves
            || (self.count == of.staves && stands_for_wider)
            || self.complete(problem, gluing)
    }

    fn is_enough(&self, total: i64, least: i64, step: i64) -> bool {
        let [stubborn] = self.stubborn[..] else {
            return self.stubborn.is_empty() && self.wide() >= total;
        };
        // The others may be ripped narrower until as much is missing as the one is wide, at least and at most.
        let over = self.ripped() - stubborn - total;
        let (low, high) = (over + least, over + stubborn);
        let whole_boards = self.plain.iter().filter(|wide| *wide % step != 0);
        let whole_boards: Vec<i64> = whole_boards.copied().collect();
        let steps = |wide: i64| (wide - least).div_euclid(step);
        let multiples = self.plain.iter().filter(|wide| *wide % step == 0);
        let multiples: i64 = multiples.map(|&wide| steps(wide).max(0)).sum();
        (0..1_u32 << whole_boards.len()).any(|chosen| {
            let ripped = (0..whole_boards.len()).filter(|i| chosen >> i & 1 == 1);
            let mut may = Some((0, multiples));
            for wide in ripped.map(|i| whole_boards[i]) {
                // To the whole step below, and further.
                let left = steps(wide - wide % step);
                may = may
                    .filter(|_| left >= 0)
                    .map(|(lost, most)| (lost + wide % step, most + left));
            }
            may.is_some_and(|(lost, most)| {
                let times = ((low - lost).max(0) + step - 1) / step;
                times <= most && lost + times * step <= high
            })
        })
    }

    /// What of them decides with which others they are enough: where each of these is no less, so it is. Not
    /// beside a stave that can't be ripped: there more may be too much, see [`may_be_stubborn`].
    pub(in crate::layout) fn measures(&self) -> [i64; 3] {
        [self.wide(), self.ripped(), self.wide]
    }

    /// Whether they are just so: none is to be ripped.
    pub(in crate::layout) fn is_plain(&self, total: i64) -> bool {
        match self.lost.len() + self.stubborn.len() {
            _ if self.too_narrow > 0 => false,
            0 => self.wide >= total,
            1 => self.wide == total,
            _ => false,
        }
    }
}

/// Gluing, width and loss of every stave of a pattern, see [`Together::add`].
pub(in crate::layout) fn staves_with_loss(
    problem: &Problem,
    pattern: &Pattern,
) -> Vec<(usize, i64, i64)> {
    let stock = &problem.stock[pattern.stock];
    let mut staves = Vec::new();
    for section in &pattern.shape {
        for strip in section {
            let alone = section.len() == 1 && stock.is_full(strip.width);
            for (place, &item) in strip.items.iter().enumerate() {
                let Some(gluing) = problem.items[item].gluing else {
                    continue;
                };
                let wide = strip.blank_width(problem, stock, place);
                let least = problem.items[item].width;
                let whole = alone && wide == strip.width;
                let lost = if wide < least {
                    TOO_NARROW
                } else if whole {
                    0
                } else {
                    loss(wide, least, problem.cuts.glue_step)
                };
                staves.push((gluing, wide, lost));
            }
        }
    }
    staves
}

/// Whether staves of a gluing may be of widths that can't be ripped to the whole step below.
pub(in crate::layout) fn may_be_stubborn(problem: &Problem, gluing: usize) -> bool {
    let of = &problem.gluings[gluing];
    let least = problem.items[of.item].width;
    let stubborn = |&rest: &i64| loss(rest, least, problem.cuts.glue_step) == NOT_RIPPED;
    of.rests.iter().any(stubborn)
}

/// What a stave loses when it is ripped to the whole step below, no narrower than `least`.
pub(in crate::layout) fn loss(wide: i64, least: i64, step: i64) -> i64 {
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
    use crate::job::generate::Size;
    use crate::job::generate::generate;

    /// Where not all widths that may be missing are listed, a walk must not pass by what stands for them.
    #[test]
    fn staves_that_stand_for_widths_not_listed_are_not_given_up_nor_taken_for_enough() {
        let job = generate(Size::CHEST, 11);
        let mut problem = Problem::new(&job, false);
        let gluing = (problem.gluings.iter())
            .position(|gluing| gluing.staves == 2)
            .expect("some front of the job may be glued");
        let step = problem.cuts.glue_step;
        let total = problem.gluings[gluing].total_width;
        let narrow = together(&[(total / 2, 0), (total - total / 2 - 1, 0)]);
        assert!(!narrow.may_do(&problem, gluing) && !narrow.complete(&problem, gluing));
        problem.gluings[gluing].asked_width = total - (step - 1);
        assert!(narrow.may_do(&problem, gluing) && !narrow.complete(&problem, gluing));
    }

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
    fn a_stave_that_would_be_too_narrow_ripped_is_just_what_is_missing_or_none() {
        let lost = loss(25, 22, 10);
        let enough = |staves: &[(i64, i64)], total: i64| together(staves).is_enough(total, 22, 10);
        assert!(enough(&[(25, lost), (42, 2)], 65));
        // 22 to 25 are missing beside 40, or beside 30.
        assert!(enough(&[(25, lost), (42, 2)], 62));
        assert!(!enough(&[(25, lost), (42, 2)], 61));
        assert!(enough(&[(25, lost), (42, 2)], 55));
        assert!(!enough(&[(25, lost), (30, 0)], 45));
        assert!(!enough(&[(25, lost), (42, 2)], 66));
        assert!(!enough(&[(25, lost), (25, lost)], 50));
    }

    #[test]
    fn whole_boards_are_ripped_where_that_leaves_a_stave_wide_enough_to_be_missing() {
        // Two whole boards of 45 leave 25 of 115, less than the 30 a stave has at least: one of them ripped to 40
        // leaves 30. Of 105, both ripped to 40 leave 25, and one a step narrower 45, wider than there is.
        let lost = loss(30, 30, 20);
        let enough =
            |total: i64| together(&[(45, 0), (45, 0), (30, lost)]).is_enough(total, 30, 20);
        assert!(enough(115) && enough(120) && enough(110));
        assert!(!enough(116) && !enough(105) && !enough(121));
    }

    #[test]
    fn what_is_given_back_is_forgotten() {
        let mut all = together(&[(35, 5)]);
        all.add(42, 2);
        all.give_back(42, 2);
        assert_eq!((all.count, all.wide()), (1, 35));
    }
}
