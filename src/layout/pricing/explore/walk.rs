//! The walk over all patterns of a board: lane, then sections.

use std::collections::HashSet;

use crate::layout::geometry::costs::Costs;
use crate::layout::geometry::placed::edge;
use crate::layout::model::completion::Completion;
use crate::layout::model::history::Part;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape};
use crate::layout::model::stock::Stock;
use crate::layout::pricing::area::{Area, Worths};
use crate::layout::pricing::explore::given::Given;
use crate::layout::pricing::explore::lane::Lane;
use crate::layout::pricing::explore::memory::Memory;
use crate::layout::pricing::explore::must::Must;
use crate::layout::pricing::priced::{Limit, Priced, Valued};
use crate::layout::pricing::prices::Prices;
use crate::layout::pricing::tables::board::Tables;

/// Half-made patterns between two looks at the clock.
const STOP_EVERY: usize = 4096;

#[expect(clippy::too_many_arguments, reason = "one call site, one meaning each")]
pub(in crate::layout) fn explore<'p>(
    (problem, stock): (&'p Problem, usize),
    costs: &'p Costs,
    prices: &'p Prices,
    completion: &'p Completion,
    tables: &'p Tables<'p>,
    (least, floor): (f64, f64),
    limit: &Limit<'p>,
    top: f64,
) -> Priced {
    let board = &problem.stock[stock];
    let mut walk = Walk {
        problem,
        costs,
        prices,
        index: stock,
        stock: board,
        completion,
        tables,
        loss: (problem.cuts.keep_length).map(|keep| board.edge_loss(&problem.cuts, keep)),
        fixed: board.whole - prices.place(stock),
        least,
        floor,
        owed: 0.0,
        limit: *limit,
        nodes: 0,
        cut_short: false,
        upper: least,
        shape: Vec::new(),
        outline: Vec::new(),
        used: vec![false; problem.chain.len()],
        staves: vec![0; problem.gluings.len()],
        identical: vec![0; problem.chain.len()],
        seen: HashSet::new(),
        found: Vec::new(),
        area: Area::new(problem, board, tables),
        rest: Worths::default(),
        filled: 0.0,
        given: Given::new(problem, stock, prices),
        giving: Vec::new(),
        memory: Memory::default(),
    };
    let then = after_lane(problem, board, tables);
    walk.rest = walk.area.all(problem);
    walk.giving = walk.known_to_give();
    walk.lane(&then, 0, 0, 0.0);
    walk.found.sort_by(|a, b| b.value.total_cmp(&a.value));
    walk.found.truncate(limit.found);
    Priced {
        upper: if walk.cut_short { top } else { walk.upper },
        complete: !walk.cut_short,
        found: walk.found,
    }
}

/// What may follow the lane, by its cells.
pub(in crate::layout) fn after_lane(problem: &Problem, stock: &Stock, tables: &Tables) -> Vec<f64> {
    tables.after_lane(stock.usable(), lane_stretch(problem, stock, tables))
}

/// Value of a nanometre of unused board to the widest edge beside an item of the lane.
fn lane_stretch(problem: &Problem, stock: &Stock, tables: &Tables) -> f64 {
    let Some(keep) = problem.cuts.keep_length else {
        return 0.0;
    };
    let moves = tables.moves.iter().flatten();
    let narrowest = moves.map(|m| m.lane_width(stock, &problem.cuts)).min();
    let edge = narrowest.map_or(0, |wide| edge(stock, &problem.cuts, wide, keep));
    edge as f64 * stock.kept_rate
}

pub(in crate::layout) struct Walk<'p, 'a> {
    pub(in crate::layout) problem: &'p Problem<'a>,
    pub(in crate::layout) costs: &'p Costs,
    pub(in crate::layout) prices: &'p Prices,
    pub(in crate::layout) index: usize,
    pub(in crate::layout) stock: &'p Stock,
    /// What there is to go with staves of this board.
    pub(in crate::layout) completion: &'p Completion,
    pub(in crate::layout) tables: &'p Tables<'p>,
    /// What crook takes off either edge of the shortest edge kept, if any is.
    pub(in crate::layout) loss: Option<i64>,
    /// Cost of the whole board and of its place.
    pub(in crate::layout) fixed: f64,
    pub(in crate::layout) least: f64,
    /// The least, below nothing, that a pattern may owe.
    pub(in crate::layout) floor: f64,
    /// Sum of the prices less than nothing of what the pattern cuts.
    pub(in crate::layout) owed: f64,
    pub(in crate::layout) limit: Limit<'p>,
    pub(in crate::layout) nodes: usize,
    pub(in crate::layout) cut_short: bool,
    pub(in crate::layout) upper: f64,
    pub(in crate::layout) shape: Shape,
    /// Length and strip widths of each section of `shape`.
    pub(in crate::layout) outline: Vec<(i64, i64)>,
    pub(in crate::layout) used: Vec<bool>,
    pub(in crate::layout) staves: Vec<usize>,
    /// Identical fronts cut, by the first row of their kind.
    pub(in crate::layout) identical: Vec<usize>,
    pub(in crate::layout) seen: HashSet<Shape>,
    pub(in crate::layout) found: Vec<Valued>,
    pub(in crate::layout) area: Area<'p>,
    /// What the fronts not cut yet are worth more than their area.
    pub(in crate::layout) rest: Worths,
    /// Area of the closed strips of the section begun.
    pub(in crate::layout) filled: f64,
    pub(in crate::layout) given: Given,
    /// The staves that the board is known to give.
    pub(in crate::layout) giving: Vec<Must>,
    pub(in crate::layout) memory: Memory,
}

impl Walk<'_, '_> {
    /// Counts a half-made pattern; whether it is one too many.
    pub(in crate::layout) fn spent(&mut self) -> bool {
        self.nodes += 1;
        if self.nodes > self.limit.nodes
            || (self.nodes.is_multiple_of(STOP_EVERY) && (self.limit.stop)())
        {
            self.cut_short = true;
        }
        self.cut_short
    }

    /// Whether something worth `paid` and at most `more` may pass the threshold.
    pub(in crate::layout) fn passes(&self, paid: f64, more: f64) -> bool {
        paid - self.given.over + more - self.fixed > self.least
    }

    /// Whether to give up what is worth `paid` and at most `more`.
    pub(in crate::layout) fn hopeless(&mut self, paid: f64, more: f64) -> bool {
        self.spent() || !self.passes(paid, more)
    }

    /// One more item of the lane, from position `from` on; the lane is `start` long, saw cuts
    /// included.
    pub(in crate::layout) fn lane(&mut self, then: &[f64], from: usize, start: i64, paid: f64) {
        let left = self.stock.usable() - start;
        self.sections(left, i64::MAX, paid);
        let tables = self.tables;
        let mut growth = tables.lane_growth(start, then);
        let edges = self.edges_kept();
        for position in from..tables.moves.len() {
            if self.spent() || !growth.passes(position, |growth| self.passes(paid, edges + growth))
            {
                return;
            }
            for m in &tables.moves[position] {
                if m.room - self.problem.cuts.crosscut > left || !self.free(m) {
                    continue;
                }
                let each = m.room / m.times as i64 - self.problem.cuts.crosscut;
                let width = m.lane_width(self.stock, &self.problem.cuts);
                if !self.wide_enough(m, width) {
                    continue;
                }
                for _ in 0..m.times {
                    self.shape.push(vec![StripShape::of(m.item, width)]);
                    self.outline.push((each, width));
                }
                let price = m.price_in(width);
                if !self.owes(price) {
                    self.shape.truncate(self.shape.len() - m.times);
                    self.outline.truncate(self.outline.len() - m.times);
                    continue;
                }
                let paid = paid + price - m.toll_at_least();
                let rest = self.rest;
                self.rest = self.without(m);
                self.take(m, true);
                self.given.take(m, width);
                self.lane(then, m.next, start + m.room, paid);
                self.given.give_back(m);
                self.take(m, false);
                self.rest = rest;
                self.owed -= price.min(0.0);
                self.shape.truncate(self.shape.len() - m.times);
                self.outline.truncate(self.outline.len() - m.times);
            }
        }
    }

    /// One more section in `left` nanometres of board, no longer than `longest`.
    pub(in crate::layout) fn sections(&mut self, left: i64, longest: i64, paid: f64) {
        if !self.shape.is_empty() {
            self.finish(left, paid);
        }
        // Strips ripped from what is left of a section all run its full length.
        if self.stock.part == Part::Section && !self.shape.is_empty() {
            return;
        }
        let edges = self.edges_kept();
        let widest = self.widest_edge();
        let stretch = widest * self.stock.kept_rate * left.max(0) as f64;
        let after = self.tables.board_after(left) + stretch;
        let after = after.min(self.by_area(self.area.of(left), left));
        if self.hopeless(paid, edges + after) {
            return;
        }
        let walk = |walk: &mut Self| walk.first_strips(left, longest, paid, (edges, widest));
        self.follow(left, longest, paid, walk);
    }

    /// One more section, by the width of its first strip; edges worth `edges` are kept so far, the widest
    /// of them `widest`.
    fn first_strips(&mut self, left: i64, longest: i64, paid: f64, (edges, widest): (f64, f64)) {
        // The widest first: they are worth most, and the threshold rises with what is found.
        for class in (0..self.tables.classes.len()).rev() {
            let height = self.tables.classes[class].height;
            let wide_left = self.stock.width - 2 * self.problem.cuts.edge - height;
            if wide_left < 0 {
                continue;
            }
            if !self.shares_width(height, wide_left) {
                continue;
            }
            let rate = self.stretch_rate(height, widest);
            let beside = wide_left - self.problem.cuts.rip;
            let most = (self.tables).first_at_most(class, (beside, left), rate);
            if !self.passes(paid, edges + most) {
                continue;
            }
            let strip = Lane {
                class,
                section_left: left,
                longest: left.min(longest),
                then: Some(self.tables.then(beside, left, rate)),
                wide_left,
                edges,
                widest,
            };
            self.shape.push(Vec::new());
            self.outline.push((0, 0));
            self.strip(&strip, &mut Vec::new(), 0, 0, paid);
            self.shape.pop();
            self.outline.pop();
        }
    }
}
