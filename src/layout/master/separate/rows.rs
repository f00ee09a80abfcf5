//! Looks for rows left out of the relaxation that its solution breaks.

use std::collections::BTreeMap;

use crate::layout::master::columns::Column;
use crate::layout::master::program::row::Row;
use crate::layout::model::problem::Problem;

/// A solution of the relaxation.
pub(in crate::layout) struct Violated<'s, 'a> {
    pub(in crate::layout) problem: &'s Problem<'a>,
    pub(in crate::layout) columns: &'s [&'s Column],
    pub(in crate::layout) shares: &'s [f64],
    /// Share of each gluing.
    pub(in crate::layout) glued: &'s [f64],
    /// `[run][step]`: share of the run at or below the step, and above it; the last run is the case.
    pub(in crate::layout) below: &'s [Vec<f64>],
    pub(in crate::layout) above: &'s [Vec<f64>],
    /// What a row may be violated by.
    pub(in crate::layout) slight: f64,
}

impl Violated<'_, '_> {
    /// The rows it breaks.
    pub(in crate::layout) fn rows(&self) -> Vec<Row> {
        let mut violated = self.fronts();
        violated.extend(self.boards());
        violated.extend(self.narrow_wide());
        violated.extend(self.once());
        violated
    }

    /// Fronts cut on one side of a step by more than their run is there.
    fn fronts(&self) -> Vec<Row> {
        let problem = self.problem;
        let upto = self.up_to_steps();
        let mut violated = Vec::new();
        let last = problem.tones.len().saturating_sub(1);
        for run in problem.live_runs() {
            let single = |&row: &usize| problem.identical.count(row) == 1;
            for row in problem.runs[run].clone().filter(single) {
                for step in 0..last {
                    let (low, all) = (upto[row][step], upto[row][last]);
                    if low > self.below[run][step] + self.slight {
                        violated.push(Row::Below(row, step));
                    }
                    if all - low > self.above[run][step] + self.slight {
                        violated.push(Row::Above(row, step));
                    }
                }
            }
        }
        violated
    }

    /// `[row][tone]`: how often each front is cut from boards of that tone or paler.
    fn up_to_steps(&self) -> Vec<Vec<f64>> {
        let problem = self.problem;
        let mut cut = vec![vec![0.0; problem.tones.len()]; problem.chain.len()];
        for (column, &share) in self.columns.iter().zip(self.shares) {
            for &item in &column.wholes {
                for row in problem.items[item].rows.clone() {
                    cut[row][column.tone] += share;
                }
            }
            for &(gluing, _) in &column.staves {
                let m = &problem.gluings[gluing];
                for row in m.rows.clone() {
                    cut[row][column.tone] += share / m.staves as f64;
                }
            }
        }
        for tones in &mut cut {
            for tone in 1..tones.len() {
                tones[tone] += tones[tone - 1];
            }
        }
        cut
    }

    /// Boards used by more than the case is on their side of a step.
    fn boards(&self) -> Vec<Row> {
        let problem = self.problem;
        let mut used = vec![0.0; problem.stock.len()];
        for (column, &share) in self.columns.iter().zip(self.shares) {
            used[column.pattern.stock] += share;
        }
        let case = problem.runs.len();
        let mut violated = Vec::new();
        for (board, stock) in problem.stock.iter().enumerate() {
            let over = |side: f64| used[board] > stock.count as f64 * side + self.slight;
            if self.below[case]
                .get(stock.tone)
                .is_some_and(|&side| over(side))
            {
                violated.push(Row::BoardBelow(board));
            }
            if stock.tone > 0 && over(self.above[case][stock.tone - 1]) {
                violated.push(Row::BoardAbove(board));
            }
        }
        violated
    }

    /// Boards of which there is one that give staves of a gluing by more than it is used.
    fn once(&self) -> Vec<Row> {
        let mut used: BTreeMap<(usize, usize), f64> = BTreeMap::new();
        for (column, &share) in self.columns.iter().zip(self.shares) {
            let board = column.pattern.stock;
            if self.problem.stock[board].count == 1 {
                for gluing in column.gluings() {
                    *used.entry((gluing, board)).or_insert(0.0) += share;
                }
            }
        }
        let over = |&((gluing, _), share): &((usize, usize), f64)| {
            share > self.glued[gluing] + self.slight
        };
        let over = used.into_iter().filter(over);
        over.map(|((gluing, board), _)| Row::Once(gluing, board))
            .collect()
    }

    /// Of each gluing the widths at which most staves lack a wide enough one beside them.
    fn narrow_wide(&self) -> Vec<Row> {
        let mut widths: BTreeMap<usize, BTreeMap<i64, f64>> = BTreeMap::new();
        for (column, &share) in self.columns.iter().zip(self.shares) {
            for &(gluing, width) in &column.staves {
                *widths
                    .entry(gluing)
                    .or_default()
                    .entry(width)
                    .or_insert(0.0) += share;
            }
        }
        let worst = |(gluing, widths): (usize, BTreeMap<i64, f64>)| {
            let of = &self.problem.gluings[gluing];
            let narrow = widths.keys().copied().filter(|&width| of.narrow(width));
            let lone = narrow.map(|narrow| {
                let staves: f64 = widths.range(..=narrow).map(|(_, share)| share).sum();
                let narrow_wide: f64 = widths
                    .range(of.partner(narrow)..)
                    .map(|(_, share)| share)
                    .sum();
                (staves - narrow_wide * (of.staves as f64 - 1.0), narrow)
            });
            let (lone, narrow) = lone.max_by(|a, b| a.0.total_cmp(&b.0))?;
            (lone > self.slight).then_some(Row::NarrowWide(gluing, narrow))
        };
        widths.into_iter().filter_map(worst).collect()
    }
}
