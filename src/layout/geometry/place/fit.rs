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
