//! Walks every pattern of a board whose value may exceed a threshold.
//!
//! First the *lane*: items crosscut one by one from the full width of the board, each a section
//! of its own; nothing is gained by making one section of them, unless an edge beside them is
//! long enough to keep only together. Then sections of several strips, or of one strip of several
//! items with an edge to keep, longest first. In each, the first strip is the longest and sets the
//! section's length; the others follow by falling width. Two sections whose strips turn out as wide
//! are never better than one, but for the wood that a longer section of a crooked board loses.
//! Where an order makes no difference to the value, only one is walked; where it does, with
//! defects, the placer tries them all. A section is left out where a stave could have the next allowed width
//! from what is wasted beside its strips: it is walked with that too, and narrowed where defects ask for it.

mod edges;
mod given;
mod memory;
mod must;
mod narrower;
mod record;
mod strips;
mod uses;

use std::collections::HashSet;

use super::super::Part;
use super::super::geometry::edge;
use super::super::pattern::Costs;
use super::super::place::{Shape, StripShape};
use super::super::problem::{Problem, Stock};
use super::super::sisters::Sisters;
use super::area::{Area, Worths};
use super::tables::Tables;
use super::{Priced, Prices, Valued};
use given::Given;
use memory::Memory;
use must::Must;
use strips::Lane;

/// Half-made patterns between two looks at the clock.
const STOP_EVERY: usize = 4096;

/// How far a walk may go.
#[derive(Clone, Copy)]
pub(in super::super) struct Limit<'s> {
    /// Half-made patterns looked at.
    pub(in super::super) nodes: usize,
    /// Patterns returned.
    pub(in super::super) found: usize,
    /// Half-made patterns remembered.
    pub(in super::super) remembered: usize,
    /// No more need be known of the best pattern than that it is worth no more than this, if anything.
    pub(in super::super) suffices: Option<f64>,
    /// Whether to raise the threshold to the worst of the best `found` as they come.
    pub(in super::super) best_only: bool,
    /// Asked now and then whether to give up.
    pub(in super::super) stop: &'s (dyn Fn() -> bool + Sync),
}

#[expect(clippy::too_many_arguments, reason = "one call site, one meaning each")]
pub(super) fn explore<'p>(
    (problem, stock): (&'p Problem, usize),
    costs: &'p Costs,
    prices: &'p Prices,
    sisters: &'p Sisters,
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
        sisters,
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
        staves: vec![0; problem.modes.len()],
        twins: vec![0; problem.chain.len()],
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
pub(super) fn after_lane(problem: &Problem, stock: &Stock, tables: &Tables) -> Vec<f64> {
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

struct Walk<'p, 'a> {
    problem: &'p Problem<'a>,
    costs: &'p Costs,
    prices: &'p Prices,
    index: usize,
    stock: &'p Stock,
    /// What there is to go with staves of this board.
    sisters: &'p Sisters,
    tables: &'p Tables<'p>,
    /// What crook takes off either edge of the shortest edge kept, if any is.
    loss: Option<i64>,
    /// Cost of the whole board and of its place.
    fixed: f64,
    least: f64,
    /// The least, below nothing, that a pattern may owe.
    floor: f64,
    /// Sum of the prices less than nothing of what the pattern cuts.
    owed: f64,
    limit: Limit<'p>,
    nodes: usize,
    cut_short: bool,
    upper: f64,
    shape: Shape,
    /// Length and strip widths of each section of `shape`.
    outline: Vec<(i64, i64)>,
    used: Vec<bool>,
    staves: Vec<usize>,
    /// Twins cut, by the first row of their kind.
    twins: Vec<usize>,
    seen: HashSet<Shape>,
    found: Vec<Valued>,
    area: Area<'p>,
    /// What the fronts not cut yet are worth more than their area.
    rest: Worths,
    /// Area of the closed strips of the section begun.
    filled: f64,
    given: Given,
    /// The staves that the board is known to give.
    giving: Vec<Must>,
    memory: Memory,
}

impl Walk<'_, '_> {
    /// Counts a half-made pattern; whether it is one too many.
    fn spent(&mut self) -> bool {
        self.nodes += 1;
        if self.nodes > self.limit.nodes
            || (self.nodes.is_multiple_of(STOP_EVERY) && (self.limit.stop)())
        {
            self.cut_short = true;
        }
        self.cut_short
    }

    /// Whether something worth `paid` and at most `more` may pass the threshold.
    fn passes(&self, paid: f64, more: f64) -> bool {
        paid - self.given.over + more - self.fixed > self.least
    }

    /// Whether to give up what is worth `paid` and at most `more`.
    fn hopeless(&mut self, paid: f64, more: f64) -> bool {
        self.spent() || !self.passes(paid, more)
    }

    /// One more item of the lane, from position `from` on; the lane is `start` long, saw cuts
    /// included.
    fn lane(&mut self, then: &[f64], from: usize, start: i64, paid: f64) {
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
    fn sections(&mut self, left: i64, longest: i64, paid: f64) {
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
            let strip = Lane {
                class,
                section_left: left,
                longest: left.min(longest),
                then: Some(
                    self.tables
                        .then(wide_left - self.problem.cuts.rip, left, rate),
                ),
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
