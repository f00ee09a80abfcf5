//! Walks every pattern of a board whose value may exceed a threshold.
//!
//! First the *lane*: items crosscut one by one from the full width of the board, each a section
//! of its own; nothing is gained by making one section of them, unless an edge beside them is
//! long enough to keep only together. Then sections of several strips, or of one strip of several
//! items with an edge to keep, longest first. In each, the first strip is the longest and sets the
//! section's length; the others follow by falling width. Two sections with the same strip widths
//! are never better than one, but for the wood that a longer section of a crooked board loses.
//! Where an order makes no difference to the value, only one is walked; where it does, with
//! defects, the placer tries them all.

use std::collections::HashSet;

use super::super::Part;
use super::super::geometry::{clear_cost, edge};
use super::super::pattern::{Costs, Pattern, sorted};
use super::super::place::{Shape, StripShape, place};
use super::super::problem::{Problem, Stock};
use super::tables::{Move, Tables};
use super::{Priced, Prices, Valued};

/// Half-made patterns between two looks at the clock.
const STOP_EVERY: usize = 4096;

/// How far a walk may go.
#[derive(Clone, Copy)]
pub(in super::super) struct Limit<'s> {
    /// Half-made patterns looked at.
    pub(in super::super) nodes: usize,
    /// Patterns returned.
    pub(in super::super) found: usize,
    /// Whether to raise the threshold to the worst of the best `found` as they come.
    pub(in super::super) best_only: bool,
    /// Asked now and then whether to give up.
    pub(in super::super) stop: &'s (dyn Fn() -> bool + Sync),
}

#[expect(clippy::too_many_arguments, reason = "one call site, one meaning each")]
pub(super) fn explore<'p>(
    problem: &'p Problem,
    costs: &'p Costs,
    prices: &'p Prices,
    stock: usize,
    tables: &'p Tables,
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
        tables,
        fixed: board.whole - prices.board[stock],
        least,
        floor,
        owed: 0.0,
        limit: *limit,
        nodes: 0,
        cut_short: false,
        upper: least,
        shape: Vec::new(),
        outline: Vec::new(),
        left: false,
        used: vec![false; problem.chain.len()],
        staves: vec![0; problem.modes.len()],
        twins: vec![0; problem.chain.len()],
        seen: HashSet::new(),
        found: Vec::new(),
    };
    let then = after_lane(problem, board, tables);
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
    tables: &'p Tables,
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
    /// Whether a strip is of a width left over by sisters.
    left: bool,
    used: Vec<bool>,
    staves: Vec<usize>,
    /// Twins cut, by the first row of their kind.
    twins: Vec<usize>,
    seen: HashSet<Shape>,
    found: Vec<Valued>,
}

impl Walk<'_, '_> {
    /// Adds an item's price to what the pattern owes if it is less than nothing; false when it would
    /// owe more than a pattern that counts can, see [`super::price_above`].
    fn owes(&mut self, price: f64) -> bool {
        let owed = self.owed + price.min(0.0);
        let may = price >= 0.0 || owed > self.floor;
        if may {
            self.owed = owed;
        }
        may
    }

    /// Whether nothing worth `paid` and at most `more` can pass the threshold.
    fn hopeless(&mut self, paid: f64, more: f64) -> bool {
        self.nodes += 1;
        if self.nodes > self.limit.nodes
            || (self.nodes.is_multiple_of(STOP_EVERY) && (self.limit.stop)())
        {
            self.cut_short = true;
        }
        self.cut_short || paid + more - self.fixed <= self.least
    }

    /// One more item of the lane, from position `from` on; the lane is `start` long, saw cuts
    /// included.
    fn lane(&mut self, then: &[f64], from: usize, start: i64, paid: f64) {
        let left = self.stock.usable() - start;
        self.sections(left, i64::MAX, paid);
        let tables = self.tables;
        for position in from..tables.moves.len() {
            if self.hopeless(paid, tables.lane_growth(position, start, then)) {
                return;
            }
            for m in &tables.moves[position] {
                if m.room - self.problem.cuts.crosscut > left || !self.free(m) {
                    continue;
                }
                let each = m.room / m.times as i64 - self.problem.cuts.crosscut;
                let width = m.lane_width(self.stock, &self.problem.cuts);
                for _ in 0..m.times {
                    self.shape.push(vec![StripShape::of(m.item, width)]);
                    self.outline.push((each, width));
                }
                let price = m.price_in(width, 0);
                if !self.owes(price) {
                    self.shape.truncate(self.shape.len() - m.times);
                    self.outline.truncate(self.outline.len() - m.times);
                    continue;
                }
                self.take(m, true);
                self.lane(then, m.next, start + m.room, paid + price);
                self.take(m, false);
                self.owed -= price.min(0.0);
                self.shape.truncate(self.shape.len() - m.times);
                self.outline.truncate(self.outline.len() - m.times);
            }
        }
    }

    /// One more section in `left` nanometres of board, no longer than `longest`.
    fn sections(&mut self, left: i64, longest: i64, paid: f64) {
        if !self.shape.is_empty() {
            self.finish(paid);
        }
        // Strips ripped from what is left of a section all run its full length.
        if self.stock.part == Part::Section && !self.shape.is_empty() {
            return;
        }
        let edges = self.edges_kept();
        let widest = self.widest_edge();
        let stretch = widest * self.stock.kept_rate * left.max(0) as f64;
        let after = self.tables.board_after(left) + stretch;
        if self.hopeless(paid, edges + after) {
            return;
        }
        for class in 0..self.tables.classes.len() {
            let height = self.tables.classes[class].height;
            let wide_left = self.stock.width - 2 * self.problem.cuts.edge - height;
            if wide_left < 0 {
                break;
            }
            if !self.shares_width(height, wide_left) || !self.take_left(class, true) {
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
            self.take_left(class, false);
            self.shape.pop();
            self.outline.pop();
        }
    }

    /// One more item in the strip being filled, from position `from` of the chain on; `long` is
    /// its length so far.
    fn strip(&mut self, lane: &Lane, items: &mut Vec<usize>, from: usize, long: i64, paid: f64) {
        let height = self.tables.classes[lane.class].height;
        if !items.is_empty() && self.fills(height, items) {
            self.close_strip(lane, items, long, paid);
        }
        let crosscut = self.problem.cuts.crosscut;
        let start = if items.is_empty() { 0 } else { long + crosscut };
        let tables = self.tables;
        let bound = |position: usize, beside: f64| match &lane.then {
            Some(then) => lane.edges + tables.growth(lane.class, position, start, then),
            None => tables.strip_after(lane.class, position, lane.longest - start) + beside,
        };
        let beside = match lane.then {
            Some(_) => 0.0,
            None => {
                let (section, _) = self.outline[self.outline.len() - 1];
                tables.rest_after(lane.wide_left - self.problem.cuts.rip, section)
                    + self.after_section(lane, section)
            }
        };
        for position in from..tables.moves.len() {
            if self.hopeless(paid, bound(position, beside)) {
                return;
            }
            for m in &tables.moves[position] {
                if m.width > height || start + m.room - crosscut > lane.longest || !self.free(m) {
                    continue;
                }
                let price = m.price_in(height, tables.slack);
                if !self.owes(price) {
                    continue;
                }
                self.take(m, true);
                items.extend(std::iter::repeat_n(m.item, m.times));
                self.strip(lane, items, m.next, start + m.room - crosscut, paid + price);
                items.truncate(items.len() - m.times);
                self.take(m, false);
                self.owed -= price.min(0.0);
            }
        }
    }

    /// The strip is full: on to the next one of the section, or to the next section.
    fn close_strip(&mut self, lane: &Lane, items: &[usize], long: i64, paid: f64) {
        let height = self.tables.classes[lane.class].height;
        let at = self.shape.len() - 1;
        let before = self.outline[at];
        let rip = self.problem.cuts.rip;
        self.shape[at].push(StripShape {
            width: height,
            items: items.to_vec(),
        });
        self.outline[at] = if lane.then.is_some() {
            (long, height)
        } else {
            (before.0, before.1 + rip + height)
        };
        let section = self.outline[at].0;
        self.beside_strips(lane, section, paid);
        if !self.in_lane(at) && !self.repeats(at) {
            let left = lane.section_left - section - self.problem.cuts.crosscut;
            self.sections(left, section, paid);
        }
        self.shape[at].pop();
        self.outline[at] = before;
    }

    /// Takes a strip of a width left over by sisters, or gives it back; false when one is taken
    /// already: one in a pattern is enough.
    fn take_left(&mut self, class: usize, take: bool) -> bool {
        if !self.tables.classes[class].left {
            return true;
        }
        let may = self.left != take;
        self.left = take;
        may
    }

    /// Whether a strip this wide leaves room for another beside it, or for an edge to keep.
    fn shares_width(&self, height: i64, wide_left: i64) -> bool {
        if self.stock.part == Part::Strip {
            return false;
        }
        let cuts = &self.problem.cuts;
        let narrowest = self.tables.classes.first().map_or(0, |c| c.height);
        wide_left >= narrowest + cuts.rip
            || cuts
                .keep_length
                .is_some_and(|keep| edge(self.stock, cuts, height, keep) > 0)
    }

    /// Whether a section is one the lane has already, or can stand in for: a single item that leaves
    /// nothing to keep beside it, or a stave as wide as can be.
    fn in_lane(&self, at: usize) -> bool {
        let [strip] = &self.shape[at][..] else {
            return false;
        };
        let [item] = strip.items[..] else {
            return false;
        };
        let Some(mode) = self.problem.items[item].mode else {
            return true;
        };
        let (cuts, long) = (&self.problem.cuts, self.outline[at].0);
        let full = self.stock.width - 2 * self.stock.edge_loss(cuts, long);
        let widest = self.problem.modes[mode].widest.min(self.stock.widest[item]);
        let keeps = |keep: i64| edge(self.stock, cuts, strip.width, long.max(keep)) > 0;
        let narrow = !self.stock.zones.is_empty() || cuts.keep_length.is_some_and(keeps);
        !narrow || strip.width >= full.min(widest)
    }

    /// Whether an earlier section has the same strip widths, and both would do as one.
    fn repeats(&self, at: usize) -> bool {
        let widths = |section: &[StripShape]| -> Vec<i64> {
            let mut widths: Vec<i64> = section.iter().map(|s| s.width).collect();
            widths.sort_unstable();
            widths
        };
        let here = widths(&self.shape[at]);
        let loss = self
            .stock
            .edge_loss(&self.problem.cuts, self.stock.usable());
        self.outline[at].1 <= self.stock.width - 2 * loss
            && self.shape[..at]
                .iter()
                .any(|s| (s.len() > 1 || s[0].items.len() > 1) && widths(s) == here)
    }

    /// One more strip in the same section, no wider than the last one unless that was the first.
    fn beside_strips(&mut self, lane: &Lane, section: i64, paid: f64) {
        let rip = self.problem.cuts.rip;
        let last = if lane.then.is_some() {
            self.tables.classes.len() - 1
        } else {
            lane.class
        };
        for class in 0..=last {
            let next = Lane {
                class,
                section_left: lane.section_left,
                longest: section,
                then: None,
                wide_left: lane.wide_left - rip - self.tables.classes[class].height,
                edges: lane.edges,
                widest: lane.widest,
            };
            if next.wide_left < 0 {
                break;
            }
            let more = self.tables.strip_after(class, 0, section)
                + self.tables.rest_after(next.wide_left - rip, section)
                + self.after_section(&next, section);
            if paid + more - self.fixed > self.least && self.take_left(class, true) {
                self.strip(&next, &mut Vec::new(), 0, 0, paid);
                self.take_left(class, false);
            }
        }
    }

    /// Most that what comes after a section at least `long` adds, with the edges already kept.
    fn after_section(&self, lane: &Lane, long: i64) -> f64 {
        let left = lane.section_left - long - self.problem.cuts.crosscut;
        let wide = self.stock.width - 2 * self.problem.cuts.edge - lane.wide_left;
        let stretch = self.stretch_rate(wide, lane.widest) * left.max(0) as f64;
        lane.edges + self.tables.board_after(left).max(stretch)
    }

    /// Most that a nanometre of unused board is worth to the edge kept beside this section, with
    /// strips `wide` so far, or beside an earlier one, where `widest` may be kept.
    fn stretch_rate(&self, wide: i64, widest: f64) -> f64 {
        let Some(keep) = self.problem.cuts.keep_length else {
            return 0.0;
        };
        let here = edge(self.stock, &self.problem.cuts, wide, keep);
        (here as f64).max(widest) * self.stock.kept_rate
    }

    /// Value of the edges kept beside the sections closed so far, each at least long enough.
    fn edges_kept(&self) -> f64 {
        let Some(keep) = self.problem.cuts.keep_length else {
            return 0.0;
        };
        self.outline
            .iter()
            .map(|&(long, wide)| {
                // The longer a section, the narrower its edges.
                let spare = edge(self.stock, &self.problem.cuts, wide, long.max(keep));
                spare as f64 * long.max(keep) as f64 * self.stock.kept_rate
            })
            .sum()
    }

    fn widest_edge(&self) -> f64 {
        if self.problem.cuts.keep_length.is_none() {
            return 0.0;
        }
        self.outline
            .iter()
            .map(|&(long, wide)| edge(self.stock, &self.problem.cuts, wide, long))
            .max()
            .unwrap_or(0) as f64
    }

    /// Whether a strip this wide is not wider than its items have use for.
    fn fills(&self, height: i64, items: &[usize]) -> bool {
        items.iter().any(|&i| match self.problem.items[i].mode {
            Some(_) => true,
            None => self.problem.items[i].width == height,
        })
    }

    /// Whether the item's fronts are not yet cut on this board, or only as staves of its own mode.
    fn free(&self, m: &Move) -> bool {
        let it = &self.problem.items[m.item];
        let alike = self.problem.twins.count(it.rows.start);
        if alike > 1 {
            return self.twins[it.rows.start] + m.times <= alike;
        }
        if let Some(mode) = it.mode
            && self.staves[mode] > 0
        {
            return self.staves[mode] + m.times <= self.problem.modes[mode].staves;
        }
        !it.rows.clone().any(|row| self.used[row])
    }

    fn take(&mut self, m: &Move, take: bool) {
        let it = &self.problem.items[m.item];
        let counted = |before: usize| {
            if take {
                before + m.times
            } else {
                before - m.times
            }
        };
        if self.problem.twins.count(it.rows.start) > 1 {
            self.twins[it.rows.start] = counted(self.twins[it.rows.start]);
            return;
        }
        let mut mark = true;
        if let Some(mode) = it.mode {
            let before = self.staves[mode];
            self.staves[mode] = counted(before);
            // The fronts stay taken as long as any stave of them is.
            mark = before == 0 || self.staves[mode] == 0;
        }
        if mark {
            it.rows.clone().for_each(|row| self.used[row] = take);
        }
    }

    /// Records the pattern made so far when its true value passes the threshold.
    fn finish(&mut self, paid: f64) {
        let cuts = &self.problem.cuts;
        let Some(clear) = clear_cost(self.stock, cuts, &self.outline) else {
            return;
        };
        // What is paid counts staves as wide as they could ever be here.
        if paid - clear + self.prices.board[self.index] <= self.least {
            return;
        }
        let shape = sorted(&self.widened());
        if !self.seen.insert(shape.clone()) {
            return;
        }
        let moving = self.problem.moving(self.index, &shape);
        let clear = clear + moving;
        let wood = self.costs.wood(self.problem, self.index, &shape);
        let mut pattern = Pattern {
            stock: self.index,
            shape,
            wood: clear,
        };
        let hoped = self.prices.value(self.problem, &pattern);
        let value = wood.map(|wood| hoped - (wood - clear));
        if value.is_none_or(|value| value < hoped - 1e-9)
            && let Some(best) = self.with_narrow_staves(&pattern, hoped - moving)
            && best > self.least
            && value.is_none_or(|value| best > value + 1e-9)
        {
            self.upper = self.upper.max(best);
            let hoped = Pattern {
                wood: clear + hoped - best,
                ..pattern.clone()
            };
            self.keep(hoped, best, false);
        }
        if let (Some(value), Some(wood)) = (value, wood)
            && value > self.least
        {
            pattern.wood = wood;
            self.upper = self.upper.max(value);
            self.keep(pattern, value, true);
        }
    }

    fn keep(&mut self, pattern: Pattern, value: f64, sure: bool) {
        self.found.push(Valued {
            pattern,
            value,
            sure,
        });
        if self.found.len() >= 2 * self.limit.found {
            self.keep_best();
        }
    }

    /// Most that a pattern held up by defects could be worth if staves that share a strip with
    /// others were narrower than it, which is not searched: paid in full, but as easy to place as
    /// the narrowest. Nothing when there are no such staves, or it still does not fit. A stave
    /// alone in a strip is narrower in a pattern with a narrower strip.
    fn with_narrow_staves(&self, pattern: &Pattern, hoped: f64) -> Option<f64> {
        let stave = |&item: &usize| self.problem.items[item].mode.is_some();
        let mut narrow = self.stock.clone();
        let mut any = false;
        for strip in pattern.strips().filter(|s| s.items.len() > 1) {
            for &item in strip.items.iter().filter(|i| stave(i)) {
                narrow.widest[item] = self.problem.items[item].width;
                any = true;
            }
        }
        if !any {
            return None;
        }
        let wood = place(self.problem, &narrow, &pattern.shape)?.cost;
        Some(hoped - (wood - pattern.wood))
    }

    /// The shape with width that would be wasted given to staves, those that are paid most for
    /// it first.
    fn widened(&self) -> Shape {
        let cuts = &self.problem.cuts;
        let mut shape = self.shape.clone();
        for (section, &(long, wide)) in shape.iter_mut().zip(&self.outline) {
            let mut spare = self.stock.width - 2 * self.stock.edge_loss(cuts, long) - wide;
            let edge = edge(self.stock, cuts, wide, long);
            if spare <= 0 || (edge > 0 && cuts.keep_length.is_some_and(|keep| long >= keep)) {
                continue;
            }
            let mut order: Vec<usize> = (0..section.len()).collect();
            let pay = |strip: &StripShape| -> f64 {
                let modes = strip
                    .items
                    .iter()
                    .filter_map(|&i| self.problem.items[i].mode);
                modes.map(|m| self.prices.width[m]).sum()
            };
            order.sort_by(|&a, &b| pay(&section[b]).total_cmp(&pay(&section[a])));
            for i in order
                .into_iter()
                .filter(|&i| pay(&section[i]) > 0.0)
                .collect::<Vec<_>>()
            {
                let strip = &mut section[i];
                let use_for = |&item: &usize| match self.problem.items[item].mode {
                    Some(mode) => self.problem.modes[mode].widest.min(self.stock.widest[item]),
                    None => 0,
                };
                let most = strip.items.iter().map(use_for).max().unwrap_or(0);
                let more = (most - strip.width).clamp(0, spare);
                strip.width += more;
                spare -= more;
            }
        }
        shape
    }

    fn keep_best(&mut self) {
        self.found.sort_by(|a, b| b.value.total_cmp(&a.value));
        self.found.truncate(self.limit.found);
        if self.limit.best_only {
            self.least = self.found[self.limit.found - 1].value.max(self.least);
        } else {
            self.cut_short = true;
        }
    }
}

/// A strip being filled.
struct Lane {
    class: usize,
    /// Board left from the start of this section.
    section_left: i64,
    /// The strip may be no longer than this.
    longest: i64,
    /// What lies beside and after it by length, when it is the section's first strip.
    then: Option<Vec<f64>>,
    /// Width left beside it.
    wide_left: i64,
    /// Value of the edges kept beside earlier sections, and width of the widest.
    edges: f64,
    widest: f64,
}
