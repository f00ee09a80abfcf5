//! Walks all plans of a few patterns whose reduced costs add up to less than the gap.
//!
//! At a relaxation's prices a plan costs its bound and, for each pattern, what that pattern falls
//! short of the best on its board. Where the gap is narrow or the patterns are few, hardly any
//! sets of patterns pass, and walking them is sooner done than solving another relaxation.
//!
//! It is a search for exact covers: the front that the fewest patterns can still make is made by each in
//! turn. A pattern that was tried is not tried again beside those tried after it, or each plan with glued
//! fronts would be met once for every order of its staves.

use fixedbitset::FixedBitSet;

use crate::layout::master::columns::Column;
use crate::layout::model::problem::Problem;
use crate::layout::model::together::Together;
use crate::layout::search::list::sets::{Sets, rows};

/// Half-made plans between two looks at the clock.
const STOP_EVERY: usize = 4096;

/// How far a walk may go.
pub(in crate::layout) struct Limit<'l> {
    /// What the shortfalls of a plan may come to.
    pub(in crate::layout) room: f64,
    /// What a plan costs whose shortfalls come to nothing.
    pub(in crate::layout) base: f64,
    /// Cost of leaving each front unmade; nothing where all that can be made must be.
    pub(in crate::layout) unmade: Option<Vec<f64>>,
    /// Half-made plans looked at.
    pub(in crate::layout) nodes: usize,
    /// DualPoint now and then whether to give up.
    pub(in crate::layout) stop: &'l (dyn Fn() -> bool + Sync),
}

/// A walk over the plans made of some columns, which stand in the order of their shortfalls.
pub(in crate::layout) struct Enumeration<'d, 'a> {
    problem: &'d Problem<'a>,
    columns: Vec<&'d Column>,
    /// Where each stands in the list given.
    places: Vec<usize>,
    /// What each falls short.
    reduced_costs: Vec<f64>,
    limit: Limit<'d>,
    sets: Sets,
    /// The columns that may be in a plan with each.
    beside: Vec<FixedBitSet>,
    left: Vec<usize>,
    /// Fronts neither cut nor, with their stretch, begun.
    free: FixedBitSet,
    /// Staves cut of each gluing.
    staves: Vec<Together>,
    chosen: Vec<usize>,
    /// Cost of the fronts left unmade.
    left_unmade: f64,
    nodes: usize,
    cut_short: bool,
    /// Told of each plan; answers what room is left for better ones.
    plan: &'d mut dyn FnMut(&[usize]) -> Option<f64>,
}

impl<'d, 'a> Enumeration<'d, 'a> {
    /// Calls `plan` with every set of columns that cuts each front once (or, where that may be, leaves it
    /// unmade), with staves that are wide enough together and reduced costs within `limit`; false when there
    /// are too many half-made ones to walk them all.
    pub(in crate::layout) fn walk(
        problem: &'d Problem<'a>,
        columns: &[&'d Column],
        reduced_costs: &[f64],
        limit: Limit<'d>,
        plan: &'d mut dyn FnMut(&[usize]) -> Option<f64>,
    ) -> bool {
        let mut places: Vec<usize> = (0..columns.len())
            .filter(|&i| reduced_costs[i] < limit.room)
            .collect();
        places.sort_by(|&a, &b| reduced_costs[a].total_cmp(&reduced_costs[b]));
        let columns: Vec<&Column> = places.iter().map(|&place| columns[place]).collect();
        let sets = Sets::of(problem, &columns);
        // Nobody need make what nobody can.
        let mut free = FixedBitSet::with_capacity(problem.chain.len());
        for (row, hopeless) in problem.hopeless.iter().enumerate() {
            free.set(row, !hopeless);
        }
        let mut enumerate = Enumeration {
            problem,
            reduced_costs: places.iter().map(|&place| reduced_costs[place]).collect(),
            beside: (0..columns.len())
                .map(|i| sets.beside(problem, &columns, i))
                .collect(),
            sets,
            left: problem.stock.iter().map(|stock| stock.count).collect(),
            free,
            staves: vec![Together::default(); problem.gluings.len()],
            chosen: Vec::new(),
            left_unmade: 0.0,
            nodes: 0,
            cut_short: false,
            columns,
            places,
            limit,
            plan,
        };
        let mut all = FixedBitSet::with_capacity(enumerate.columns.len());
        all.insert_range(..);
        enumerate.go(0.0, all);
        !enumerate.cut_short
    }

    /// One more column, of those `open`.
    fn go(&mut self, spent: f64, mut open: FixedBitSet) {
        self.nodes += 1;
        let look = self.nodes.is_multiple_of(STOP_EVERY);
        self.cut_short |= self.nodes > self.limit.nodes || (look && (self.limit.stop)());
        if self.cut_short {
            return;
        }
        let within = (self.reduced_costs)
            .partition_point(|reduced_costs| spent + reduced_costs < self.limit.room);
        open.remove_range(within..);
        let (ways, row) = match self.begun() {
            Some(gluing) => (&self.sets.staved[gluing], None),
            None => match self.hardest(&open) {
                Some(row) => (&self.sets.cutting[row], Some(row)),
                None => return self.tell(),
            },
        };
        let ways: Vec<usize> = ways.intersection(&open).collect();
        for i in ways {
            let spent = spent + self.reduced_costs[i];
            if self.cut_short {
                return;
            }
            if spent >= self.limit.room {
                break;
            }
            if self.fits(i) {
                let mut beside = self.beside[i].clone();
                beside.intersect_with(&open);
                self.take(i);
                self.go(spent, beside);
                self.give_back(i);
            }
            open.remove(i);
        }
        if let Some(row) = row {
            self.leave_unmade(row, spent, open);
        }
    }

    /// Goes on without a front, as long as that alone does not cost too much: its price and its part of the
    /// shortfalls are not both told apart, so it is taken to fall short of nothing.
    fn leave_unmade(&mut self, row: usize, spent: f64, mut open: FixedBitSet) {
        let Some(cost) = self.limit.unmade.as_ref().map(|unmade| unmade[row]) else {
            return;
        };
        if self.left_unmade + cost >= self.limit.base + self.limit.room {
            return;
        }
        open.difference_with(&self.sets.cutting[row]);
        self.free.remove(row);
        self.left_unmade += cost;
        self.go(spent, open);
        self.left_unmade -= cost;
        self.free.insert(row);
    }

    fn tell(&mut self) {
        let chosen = self.chosen.iter();
        let plan: Vec<usize> = chosen.map(|&i| self.places[i]).collect();
        if let Some(room) = (self.plan)(&plan) {
            self.limit.room = room;
        }
    }

    /// A gluing some staves of which are still to be found.
    fn begun(&self) -> Option<usize> {
        let gluings = self.staves.iter().zip(&self.problem.gluings);
        let mut gluings = gluings.map(|(staves, m)| 0 < staves.count && staves.count < m.staves);
        gluings.position(|begun| begun)
    }

    /// Whether there is a board for a column, and its staves with those there are not too many, nor all and
    /// certainly too narrow.
    fn fits(&self, i: usize) -> bool {
        let column = self.columns[i];
        let fits = |gluing: usize| {
            let mut staves = self.staves[gluing].clone();
            let new = column.staves_with_loss().filter(|stave| stave.0 == gluing);
            new.for_each(|(_, wide, lost)| staves.add(wide, lost));
            staves.may_do(self.problem, gluing)
        };
        self.left[column.pattern.stock] > 0 && column.gluings().all(fits)
    }

    fn take(&mut self, i: usize) {
        let column = self.columns[i];
        self.chosen.push(i);
        self.left[column.pattern.stock] -= 1;
        for row in rows(self.problem, column) {
            self.free.remove(row);
        }
        for (gluing, wide, lost) in column.staves_with_loss() {
            self.staves[gluing].add(wide, lost);
        }
    }

    fn give_back(&mut self, i: usize) {
        let (problem, column) = (self.problem, self.columns[i]);
        self.chosen.pop();
        self.left[column.pattern.stock] += 1;
        let staves: Vec<_> = column.staves_with_loss().collect();
        for &(gluing, wide, lost) in staves.iter().rev() {
            self.staves[gluing].give_back(wide, lost);
        }
        let wholes = column.wholes.iter().map(|&item| &problem.items[item].rows);
        let glued = column
            .gluings()
            .filter(|&gluing| self.staves[gluing].count == 0);
        let glued = glued.map(|gluing| &problem.gluings[gluing].rows);
        for rows in wholes.chain(glued) {
            self.free.insert_range(rows.clone());
        }
    }

    /// The front not yet made that the fewest columns can still make.
    fn hardest(&self, open: &FixedBitSet) -> Option<usize> {
        let ways = |&row: &usize| self.sets.cutting[row].intersection_count(open);
        self.free.ones().min_by_key(ways)
    }
}
