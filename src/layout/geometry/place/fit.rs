//! Whether sections fit on a board with defects, whatever they keep.
//!
//! All that a section means to those after it is where it ends, so of each set of sections the earliest end
//! is enough. That tells all but what crook takes off a section that turns out longer than it need be.

use crate::layout::geometry::place::across::{Stack, stacks};
use crate::layout::geometry::place::pack::Bench;
use crate::layout::geometry::place::strip::in_every_order;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape, outline};
use crate::layout::model::stock::Stock;

/// More sections than this are not looked at in every order.
const MOST: usize = 8;

/// Whether `shape` fits; nothing when that takes a closer look.
pub(in crate::layout) fn sections_fit(
    problem: &Problem,
    stock: &Stock,
    shape: &Shape,
) -> Option<bool> {
    if shape.len() > MOST {
        return None;
    }
    let mut all = true;
    let mut each = Vec::new();
    for (section, (long, _)) in shape.iter().zip(outline(problem, shape)) {
        // Room for the shortest section and for the longest: crook takes more of that.
        let (stacks, complete) = stacks(problem, stock, section, &[long, stock.usable()]);
        all &= complete && section.iter().all(in_every_order);
        each.push((&section[..], stacks));
    }
    let bench = Bench::new(problem, stock);
    if ends(&bench, &each, true) {
        return Some(true);
    }
    let never = all && (stock.crook == 0.0 || !ends(&bench, &each, false));
    never.then_some(false)
}

/// Whether there is an end of all the sections, in some order; `strict` heeds what crook takes off a section as
/// long as it turns out.
fn ends(bench: &Bench, each: &[(&[StripShape], Vec<Stack>)], strict: bool) -> bool {
    let sets = 1_usize << each.len();
    let mut ends: Vec<Option<i64>> = vec![None; sets];
    for set in 0..sets - 1 {
        let at = match ends[set] {
            _ if set == 0 => bench.stock.from,
            Some(end) => end + bench.problem.cuts.crosscut,
            None => continue,
        };
        for (nth, section) in each.iter().enumerate() {
            let with = set | 1 << nth;
            if with == set {
                continue;
            }
            if let Some(end) = earliest(bench, section, at, strict) {
                ends[with] = Some(ends[with].map_or(end, |before| before.min(end)));
            }
        }
    }
    ends[sets - 1].is_some()
}

fn earliest(
    bench: &Bench,
    (section, stacks): &(&[StripShape], Vec<Stack>),
    at: i64,
    strict: bool,
) -> Option<i64> {
    let end = |stack: &Stack| {
        let to = bench.earliest(section, stack, at)?.to;
        if strict && bench.stock.crook > 0.0 {
            let from = bench.latest(section, stack, to)?.from;
            let lost = bench.stock.edge_loss(&bench.problem.cuts, to - from);
            return (lost <= stack.loss).then_some(to);
        }
        Some(to)
    };
    stacks.iter().filter_map(end).min()
}

#[cfg(test)]
mod tests {
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64;

    use super::*;
    use crate::job::generate::{Size, generate};
    use crate::layout::geometry::place::arrange::arrange;
    use crate::layout::geometry::place::options::Sections;
    use crate::layout::model::pattern::sorted;
    use crate::measure::Length;

    /// One to four items in a section or two, a strip or two each.
    fn shape(problem: &Problem, stock: &Stock, dice: &mut Pcg64) -> Option<Shape> {
        let may: Vec<usize> = (0..problem.items.len())
            .filter(|&item| problem.items[item].gluing.is_none() && stock.widest[item] > 0)
            .collect();
        let mut shape = Shape::new();
        for _ in 0..dice.random_range(1..=4) {
            let item = *may.get(dice.random_range(0..may.len().max(1)))?;
            let strip = StripShape::of(item, problem.items[item].width);
            match (dice.random_range(0..3), shape.last_mut()) {
                (0, Some(section)) => section.push(strip),
                (1, Some(section)) if section[0].items.len() < 3 => {
                    section[0].width = section[0].width.max(strip.width);
                    section[0].items.push(item);
                }
                _ => shape.push(vec![strip]),
            }
        }
        Some(sorted(&shape))
    }

    /// The search for the arrangement that keeps most is the reference: it tries every tight place.
    #[test]
    fn sections_fit_just_where_an_arrangement_is_found() {
        let mut told = [0; 3];
        for seed in 0..12 {
            let mut dice = Pcg64::seed_from_u64(seed);
            let mut job = generate(Size::new(8, 4, 6), seed);
            for board in job.boards.iter_mut().skip(3) {
                board.crook = Length::from_inches(f64::from(dice.random_range(1..5)) * 0.5);
            }
            let problem = Problem::new(&job, false);
            for stock in &problem.stock {
                for _ in 0..12 {
                    let Some(shape) = shape(&problem, stock, &mut dice) else {
                        continue;
                    };
                    let costs = (0.0, f64::INFINITY);
                    let sections = (&Sections::default(), 0);
                    let found = arrange((&problem, stock), sections, &shape, costs, false);
                    let none = found.placed.is_none() && found.least == f64::INFINITY;
                    let fit = sections_fit(&problem, stock, &shape);
                    assert!(fit != Some(true) || !none, "{seed}: {shape:?}");
                    assert!(
                        fit != Some(false) || found.placed.is_none(),
                        "{seed}: {shape:?}"
                    );
                    told[fit.map_or(2, usize::from)] += 1;
                }
            }
        }
        let [no, yes, closer] = told;
        assert!(no > 100 && yes > 100 && closer < 100, "{told:?}");
    }
}
