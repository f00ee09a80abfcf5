//! The blanks of one stretch in a lane, each as near the hook end as the rules allow.
//!
//! The places of the blanks are bounded by differences of two of them (the gaps, the length of a piece
//! milled together) and by defects. Of two solutions of such bounds the nearer place of each blank
//! is one too, so there is a solution in which every blank is nearest: it is found by moving on only what must.

use crate::layout::geometry::place::spans::spans_of;
use crate::layout::model::items::Item;
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;
use crate::layout::model::zone::Blocked;
use crate::measure::Length;
use crate::milling::flat_enough;

/// Ways to mill a stretch in groups are tried for no more blanks than this.
const MOST_GROUPED: usize = 10;

/// Starts of `item`'s blanks in a lane, in order along the board, the last one as early as can be, thick
/// enough once flat (rule 5). A lane is the blanks' width, whether the run's last front comes first, and what
/// is blocked.
pub(in crate::layout) fn earliest_flat(
    problem: &Problem,
    stock: &Stock,
    item: &Item,
    (width, reverse, blocked): (i64, bool, &[Blocked]),
    at: i64,
) -> Option<Vec<i64>> {
    let line = Line::new(item, reverse);
    let starts = line.nearest(&[], blocked, (at, stock.to))?;
    let flat = |starts: &[i64]| {
        let spans = spans_of(item, starts, reverse);
        problem.thick_enough(stock, item, width, &spans, reverse)
    };
    if !stock.warped || flat(&starts) {
        return Some(starts);
    }
    let count = item.lengths.len();
    if count > MOST_GROUPED {
        return None;
    }
    let longest = longest(problem, stock, item, (width, reverse));
    let safe = problem.job.settings.allowances.shortest_safe.nm();
    let groupings = 0..1_u32 << (count - 1);
    let solved = groupings
        .filter_map(|cuts| line.nearest(&groups(&longest, safe, cuts), blocked, (at, stock.to)));
    let end = |starts: &Vec<i64>| starts[count - 1];
    solved.filter(|starts| flat(starts)).min_by_key(end)
}

/// The blanks from `first` to `last` are milled as one piece, between `least` and `most` long.
struct Group {
    first: usize,
    last: usize,
    least: i64,
    most: i64,
}

/// For each blank of a stretch, in order along the board, the longest piece that leaves its front its
/// thickness.
fn longest(
    problem: &Problem,
    stock: &Stock,
    item: &Item,
    (width, reverse): (i64, bool),
) -> Vec<i64> {
    let allowances = &problem.job.settings.allowances;
    let board = problem.board(stock);
    let longest = |row: usize| {
        let front = &problem.job.fronts[problem.chain[row]];
        let flat = |long: i64| {
            let (long, wide) = (Length::from_nm(long), Length::from_nm(width));
            flat_enough(board, front, allowances.plane, long, wide)
        };
        let (mut good, mut bad) = (0, stock.length + 1);
        while bad - good > 1 {
            let middle = good + (bad - good) / 2;
            if flat(middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good
    };
    let mut all: Vec<i64> = item.rows.clone().map(longest).collect();
    if reverse {
        all.reverse();
    }
    all
}

/// The groups that end with the blanks whose bits are set, and with the last.
fn groups(longest: &[i64], shortest_safe: i64, cuts: u32) -> Vec<Group> {
    let count = longest.len();
    let mut groups = Vec::new();
    let mut first = 0;
    for last in 0..count {
        if last + 1 == count || cuts >> last & 1 == 1 {
            let most = longest[first..=last].iter().min();
            groups.push(Group {
                first,
                last,
                least: shortest_safe,
                most: most.copied().unwrap_or(0),
            });
            first = last + 1;
        }
    }
    if let [all] = &mut groups[..] {
        // A stretch that is shorter altogether is milled with the waste beside it.
        all.least = 0;
    }
    groups
}

/// The blanks of a stretch, in order along the board.
struct Line {
    lengths: Vec<i64>,
    gaps: Vec<i64>,
    widest_gap: i64,
}

impl Line {
    fn new(item: &Item, reverse: bool) -> Line {
        let mut line = Line {
            lengths: item.lengths.clone(),
            gaps: item.gaps.clone(),
            widest_gap: item.widest_gap,
        };
        if reverse {
            line.lengths.reverse();
            line.gaps.reverse();
        }
        line
    }

    /// Every blank as near `from` as can be with these groups.
    fn nearest(
        &self,
        groups: &[Group],
        blocked: &[Blocked],
        (from, limit): (i64, i64),
    ) -> Option<Vec<i64>> {
        let count = self.lengths.len();
        let mut starts = vec![from; count];
        loop {
            let mut settled = true;
            let mut move_on = |start: &mut i64, to: i64| {
                settled &= to <= *start;
                *start = to.max(*start);
            };
            for i in 0..count {
                if i > 0 {
                    let after = starts[i - 1] + self.lengths[i - 1] + self.gaps[i - 1];
                    move_on(&mut starts[i], after);
                }
                for &(zone, end) in blocked {
                    if zone < starts[i] + self.lengths[i] {
                        move_on(&mut starts[i], end);
                    }
                }
            }
            for group in groups {
                let end = self.lengths[group.last];
                let first = starts[group.first];
                move_on(&mut starts[group.last], first + group.least - end);
                let last = starts[group.last];
                move_on(&mut starts[group.first], last + end - group.most);
            }
            for i in (1..count).rev() {
                let gap = self.widest_gap.max(self.gaps[i - 1]);
                let before = starts[i] - gap - self.lengths[i - 1];
                move_on(&mut starts[i - 1], before);
            }
            if starts[count - 1] + self.lengths[count - 1] > limit {
                return None;
            }
            if settled {
                return Some(starts);
            }
        }
    }
}
