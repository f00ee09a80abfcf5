//! Settles a part: by a walk over its plans, or by the whole-number program.

use crate::layout::master::columns::Column;
use crate::layout::master::solved::Relaxed;
use crate::layout::master::whole::choose;
use crate::layout::search::list::near::{DUG, EQUAL, Near, Part, SECONDS, Searched};
use crate::layout::search::list::{cost, dig, values};

impl Near<'_, '_> {
    /// The best plan of a part by walking all that may be better than the best; nothing when that takes
    /// more than so many `looks`, one for each half-made plan and front of the job.
    pub(in crate::layout) fn dig(
        &self,
        part: &Part,
        relaxed: &Relaxed,
        looks: usize,
    ) -> Option<Searched> {
        if part.columns.len() > DUG || self.problem.twins.any() {
            return None;
        }
        let columns = self.chosen(part);
        let values = values::values(self.problem, &columns, self.rows(part), relaxed);
        let bound = values::bound(self.problem, &columns, &values, relaxed, &part.full);
        let short = columns.iter().zip(&values);
        let short: Vec<f64> = short
            .map(|(column, value)| (bound.best[column.pattern.stock] - value).max(0.0))
            .collect();
        let (mut upper, mut searched) = (self.upper, Searched::default());
        let mut plan = |chosen: &[usize]| {
            let made: Vec<&Column> = chosen.iter().map(|&i| columns[i]).collect();
            if cost::cost(self.problem, &made) >= upper - EQUAL {
                return None;
            }
            let plan: Vec<usize> = chosen.iter().map(|&i| part.columns[i]).collect();
            let cost = self.cost(&plan);
            if cost >= upper - EQUAL {
                return None;
            }
            if plan.iter().all(|&column| column >= self.unsure) && self.glued_up(&plan) {
                (upper, searched.found) = (cost, Some(plan));
            } else {
                let hoped = searched.hoped.unwrap_or(f64::INFINITY);
                searched.hoped = Some(hoped.min(cost));
            }
            Some(upper - bound.total)
        };
        let rows = 0..self.problem.chain.len();
        let unmade = || rows.map(|row| self.problem.unmade(row)).collect();
        let limit = dig::Limit {
            room: self.upper - bound.total,
            base: bound.total,
            unmade: (!self.all_made).then(unmade),
            nodes: looks / self.problem.chain.len().max(1),
            stop: self.stop,
        };
        dig::Dig::walk(self.problem, &columns, &short, limit, &mut plan).then_some(searched)
    }

    /// The best plan of the patterns, by the whole-number program.
    pub(in crate::layout) fn settle(&self, part: &Part) -> Option<Searched> {
        let chosen = choose(self.problem, &self.chosen(part), SECONDS)?;
        if !chosen.best {
            return None;
        }
        let plan: Vec<usize> = chosen.columns.iter().map(|&i| part.columns[i]).collect();
        Some(self.candidate(plan, chosen.cost))
    }

    /// A plan, or the hope of one.
    fn candidate(&self, plan: Vec<usize>, cost: f64) -> Searched {
        if plan.iter().any(|&column| column < self.unsure) || !self.glued_up(&plan) {
            return Searched {
                hoped: Some(cost),
                ..Searched::default()
            };
        }
        Searched {
            found: Some(plan),
            ..Searched::default()
        }
    }
}
