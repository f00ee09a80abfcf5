//! Every contiguous part of every run: the stretches a plan can be made of.

use std::ops::Range;

use crate::job::{Front, Job};
use crate::layout::model::items::{Gluing, Item};
use crate::layout::model::problem::Problem;
use crate::milling;

/// All stretches in one piece.
pub(in crate::layout) fn whole_items(
    job: &Job,
    chain: &[usize],
    runs: &[Range<usize>],
) -> Vec<Item> {
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
/// From two staves, or as few as fit the widest board, to as many as are wide enough when each is as narrow as
/// allowed.
pub(in crate::layout) fn add_gluings(problem: &mut Problem) {
    let settings = &problem.job.settings;
    let least = settings.glue.least_stave.nm();
    let widest = problem
        .stock
        .iter()
        .map(|s| s.width - 2 * problem.cuts.edge)
        .max()
        .unwrap_or(0)
        .min(problem.cuts.widest.unwrap_or(i64::MAX));
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
        // More staves than are wide enough at their narrowest only add glue lines.
        let enough = (2..=MOST_STAVES).find(|&k| total(k) <= least * k as i64);
        for staves in 2..=enough.unwrap_or(MOST_STAVES) {
            if total(staves) > widest * staves as i64 {
                continue;
            }
            let total_width = total(staves);
            // A stave is never narrower than the least, nor need it be wider than what so many leave missing.
            let step = problem.cuts.glue_step;
            let multiple = (least + step - 1) / step * step;
            let (gluing, stave) = (problem.gluings.len(), problem.items.len());
            problem.glued_starts[rows.start].push(gluing);
            problem.items.push(item(
                problem.job,
                &problem.chain,
                run,
                rows.clone(),
                least,
                Some(gluing),
            ));
            problem.gluings.push(Gluing {
                rows: rows.clone(),
                staves,
                total_width,
                asked_width: total_width,
                widest: (total_width - least * (staves as i64 - 1))
                    .max(multiple)
                    .min(widest),
                item: stave,
                rests: Vec::new(),
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
    let joined = |row: usize| {
        let widest = milling::widest_gap(&job.fronts[chain[row]], allowances);
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
    gluing: Option<usize>,
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
    let widest_gap = fronts(job, chain, &stretch)
        .find_map(|front| milling::widest_gap(front, allowances))
        .map_or(0, |gap| gap.nm());
    Item {
        run,
        widest_gap,
        rows: stretch,
        room: length.max(allowances.shortest_safe.nm()),
        lengths,
        gaps,
        width,
        length,
        gluing,
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
