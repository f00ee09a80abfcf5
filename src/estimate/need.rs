//! What single runs ask of a board.

use super::lot::Lot;
use crate::job::Job;
use crate::measure::Length;
use crate::milling;

/// The least board for a run, or for a part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Least {
    /// Length, end trims included.
    pub length: Length,
    /// Width, edge trims included.
    pub width: Length,
}

/// The least flat and clear board that takes a whole run of the lot in one strip.
pub fn whole(lot: &Lot, run: usize) -> Least {
    let job = &lot.job;
    let allowances = &job.settings.allowances;
    let fronts = &job.runs[run].fronts;
    let blanks: Length = fronts
        .iter()
        .map(|&f| milling::blank_length(&job.fronts[f], allowances))
        .sum();
    let joints: Length = fronts[..fronts.len() - 1]
        .iter()
        .map(|&f| milling::joint_gap(&job.fronts[f], allowances))
        .sum();
    least(job, blanks + joints, fronts)
}

/// The least flat and clear board that takes the longest front of a run.
pub fn longest_front(lot: &Lot, run: usize) -> Least {
    let job = &lot.job;
    let allowances = &job.settings.allowances;
    let fronts = &job.runs[run].fronts;
    let blank = |&f: &usize| milling::blank_length(&job.fronts[f], allowances);
    least(
        job,
        fronts.iter().map(blank).max().unwrap_or_default(),
        fronts,
    )
}

/// The length and the width below which a board makes no front of these lots at all.
pub fn useless_below(lots: &[Lot]) -> Least {
    let each = lots.iter().flat_map(|lot| {
        let fronts = 0..lot.job.fronts.len();
        fronts.map(move |f| {
            let blank = milling::blank_length(&lot.job.fronts[f], &lot.job.settings.allowances);
            least(&lot.job, blank, &[f])
        })
    });
    let smaller = |a: Least, b: Least| Least {
        length: a.length.min(b.length),
        width: a.width.min(b.width),
    };
    each.reduce(smaller).unwrap_or(Least {
        length: Length::ZERO,
        width: Length::ZERO,
    })
}

fn least(job: &Job, long: Length, fronts: &[usize]) -> Least {
    let allowances = &job.settings.allowances;
    let wide = |&f: &usize| milling::blank_width(&job.fronts[f], allowances);
    let wide = fronts.iter().map(wide).max().unwrap_or_default();
    Least {
        length: long.max(allowances.shortest_safe) + allowances.end_trim * 2,
        width: wide + allowances.edge_trim * 2,
    }
}
