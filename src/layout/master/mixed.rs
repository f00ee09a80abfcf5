//! What fronts must pay for the log and the way of sawing of their board.

use crate::layout::master::program::row::Row;
use crate::layout::model::looks::KINDS;
use crate::layout::model::problem::Problem;

/// What there is to pay for logs and ways of sawing, safe to build a bound on.
pub(in crate::layout) struct Mixing {
    /// `toll[kind][row][label]`.
    toll: [Vec<Vec<f64>>; KINDS],
    /// What each run pays at most for one label, summed: the first is free.
    pub(in crate::layout) free: f64,
}

impl Mixing {
    /// The tolls the duals make. A run pays its worth for a label at most, and what the fronts pay for a label
    /// is no more than that: where the duals say more, it is scaled down.
    pub(in crate::layout) fn new(
        problem: &Problem,
        worth: [f64; KINDS],
        dual: &dyn Fn(Row) -> f64,
    ) -> Mixing {
        // Duals of "no more than" rows are negative or zero when costs are minimised.
        let toll = |row: Row| (-dual(row)).max(0.0);
        let labels = problem.looks.labels;
        let mut mixing = Mixing {
            toll: std::array::from_fn(|kind| vec![vec![0.0; labels[kind]]; problem.chain.len()]),
            free: 0.0,
        };
        for kind in (0..KINDS).filter(|&kind| labels[kind] > 0) {
            for (run, rows) in problem.runs.iter().enumerate() {
                let most = toll(Row::Mixed(kind, run)).min(worth[kind]);
                mixing.free += most;
                for label in 0..labels[kind] {
                    let of = |row: usize| toll(Row::Label(kind, row, label));
                    let sum: f64 = rows.clone().map(of).sum();
                    let scale = if sum > most { most / sum } else { 1.0 };
                    for row in rows.clone() {
                        mixing.toll[kind][row][label] = of(row) * scale;
                    }
                }
            }
        }
        mixing
    }

    /// What a front pays when it is cut from a board of a look.
    pub(in crate::layout) fn toll(&self, problem: &Problem, row: usize, look: usize) -> f64 {
        let labels = problem.looks.all[look].labels.into_iter();
        let toll = |(of, label): (&Vec<Vec<f64>>, Option<usize>)| label.map(|label| of[row][label]);
        self.toll.iter().zip(labels).filter_map(toll).sum()
    }
}
