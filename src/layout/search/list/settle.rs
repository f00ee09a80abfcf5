//! Settles a part: by a walk over its plans, or by the whole-number program.

use crate::layout::master::columns::Column;
use crate::layout::master::solved::Relaxed;
use crate::layout::master::whole::choose;
use crate::layout::search::list::list_search::{
    EQUAL, ListSearch, MOST_ENUMERATED, Node, SECONDS, Searched,
};
use crate::layout::search::list::{cost, enumerate, values};

impl ListSearch<'_, '_> {
    /// The best plan of a part by walking all that may be better than the best; nothing when that takes
    /// more than so many `looks`, one for each half-made plan and front of the job.
    pub(in crate::layout) fn enumerate(
        &self,
        node: &Node,
        relaxed: &Relaxed,
        looks: usize,
    ) -> Option<Searched> {
        if node.columns.len() > MOST_ENUMERATED || self.problem.identical.any() {
            return None;
        }
        let columns = self.chosen(node);
        let values = values::values(self.problem, &columns, self.rows(node), relaxed);
        let bound = values::bound(self.problem, &columns, &values, relaxed, &node.full);
        let reduced_costs = columns.iter().zip(&values);
        let reduced_costs: Vec<f64> = reduced_costs
            .map(|(column, value)| (bound.best[column.pattern.stock] - value).max(0.0))
            .collect();
        let (mut upper, mut searched) = (self.upper, Searched::default());
        let mut plan = |chosen: &[usize]| {
            let made: Vec<&Column> = chosen.iter().map(|&i| columns[i]).collect();
            if cost::cost(self.problem, &made) >= upper - EQUAL {
                return None;
            }
            let plan: Vec<usize> = chosen.iter().map(|&i| node.columns[i]).collect();
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
        let limit = enumerate::Limit {
            room: self.upper - bound.total,
            base: bound.total,
            unmade: (!self.all_made).then(unmade),
            nodes: looks / self.problem.chain.len().max(1),
            stop: self.stop,
        };
        enumerate::Enumeration::walk(self.problem, &columns, &reduced_costs, limit, &mut plan)
            .then_some(searched)
    }

    /// The best plan of the patterns, by the whole-number program.
    pub(in crate::layout) fn settle(&self, node: &Node) -> Option<Searched> {
        let chosen = choose(self.problem, &self.chosen(node), SECONDS)?;
        if !chosen.best {
            return None;
        }
        let plan: Vec<usize> = chosen.columns.iter().map(|&i| node.columns[i]).collect();
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
