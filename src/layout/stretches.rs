//! Every contiguous part of every run: the stretches a plan can be made of.

use std::ops::Range;

use crate::job::{Front, Job};
use crate::milling;

use super::problem::{Item, Mode, Problem};

/// All stretches in one piece.
pub(super) fn whole_items(job: &Job, chain: &[usize], runs: &[Range<usize>]) -> Vec<Item> {
    let mut items = Vec::new();
    for (run, range) in runs.iter().enumerate() {
        for stretch in parts(job, chain, range) {
            let width = fronts(job, chain, &stretch)
                .map(|f| milling::blank_width(f, &job.settings.allowances).nm())
                .max()
                .unwrap_or(0);
            items.push(item(job, chain, run, stretch, width, None));
        }
    }
    items
}

/// Adds the ways to glue every stretch that may be glued, and their staves as items.
///
/// The fewest staves that fit the widest board, and one more: each further stave costs another
/// glue line in every front of the stretch.
pub(super) fn add_modes(problem: &mut Problem) {
    let settings = &problem.job.settings;
    let least = settings.glue.least_stave.nm();
    let widest = problem
        .stock
        .iter()
        .map(|s| s.width - 2 * problem.cuts.edge)
        .max()
        .unwrap_or(0);
    let stretches: Vec<(usize, Range<usize>)> = problem
        .runs
        .iter()
        .enumerate()
        .flat_map(|(run, range)| {
            let parts = parts(problem.job, &problem.chain, range);
            parts.into_iter().map(move |part| (run, part))
        })
        .collect();
    for (run, rows) in stretches {
        let may = |f: &Front| f.glue;
        if !fronts(problem.job, &problem.chain, &rows).all(may) || least > widest {
            continue;
        }
        let total = |staves: usize| {
            fronts(problem.job, &problem.chain, &rows)
                .map(|f| {
                    milling::glued_width(f, staves as u32, &settings.allowances, &settings.glue)
                })
                .max()
                .map_or(0, |w| w.nm())
        };
        let Some(fewest) = (2..=MOST_STAVES).find(|&k| total(k) <= widest * k as i64) else {
            continue;
        };
        for staves in fewest..=fewest + 1 {
            let total_width = total(staves);
            let (mode, stave) = (problem.modes.len(), problem.items.len());
            problem.glued_starts[rows.start].push(mode);
            problem.items.push(item(
                problem.job,
                &problem.chain,
                run,
                rows.clone(),
                least,
                Some(mode),
            ));
            problem.modes.push(Mode {
                rows: rows.clone(),
                staves,
                total_width,
                widest: least.max(total_width - least * (staves as i64 - 1)),
                item: stave,
            });
        }
    }
}

/// No front is glued from more staves than this.
const MOST_STAVES: usize = 16;

/// The contiguous parts of a run that one strip may hold: neighbours whose least gap is no wider
/// than the widest allowed.
fn parts(job: &Job, chain: &[usize], run: &Range<usize>) -> Vec<Range<usize>> {
    let allowances = &job.settings.allowances;
    let widest = milling::widest_gap(allowances);
    let joined = |row: usize| {
        let least = milling::joint_gap(&job.fronts[chain[row]], allowances);
        widest.is_some_and(|widest| least <= widest)
    };
    let mut parts = Vec::new();
    for first in run.clone() {
        for end in first + 1..=run.end {
            parts.push(first..end);
            if !joined(end - 1) {
                break;
            }
        }
    }
    parts
}

/// An item for the fronts at `stretch` with blanks `width` wide.
fn item(
    job: &Job,
    chain: &[usize],
    run: usize,
    stretch: Range<usize>,
    width: i64,
    mode: Option<usize>,
) -> Item {
    let allowances = &job.settings.allowances;
    let lengths: Vec<i64> = fronts(job, chain, &stretch)
        .map(|f| milling::blank_length(f, allowances).nm())
        .collect();
    let gaps: Vec<i64> = fronts(job, chain, &stretch)
        .take(lengths.len() - 1)
        .map(|f| milling::joint_gap(f, allowances).nm())
        .collect();
    let length = lengths.iter().sum::<i64>() + gaps.iter().sum::<i64>();
    Item {
        run,
        rows: stretch,
        widest_gap: milling::widest_gap(allowances).map_or(0, |g| g.nm()),
        room: length.max(allowances.shortest_safe.nm()),
        lengths,
        gaps,
        width,
        length,
        mode,
    }
}

/// The fronts at positions `stretch` of the chain.
fn fronts<'j>(
    job: &'j Job,
    chain: &[usize],
    stretch: &Range<usize>,
) -> impl Iterator<Item = &'j Front> {
    chain[stretch.clone()]
        .iter()
        .map(|&f| &job.fronts[f])
        .collect::<Vec<_>>()
        .into_iter()
}
