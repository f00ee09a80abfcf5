//! The tables of one board at given prices.

use std::cell::RefCell;
use std::rc::Rc;

use crate::layout::geometry::placed::edge;
use crate::layout::model::completion::Completion;
use crate::layout::model::problem::Problem;
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::prices::Prices;
use crate::layout::pricing::tables::growth::{Growth, greater};
use crate::layout::pricing::tables::moves;
use crate::layout::pricing::tables::moves::Move;

/// Cells the usable length of a board is divided into.
const LENGTH_CELLS: i64 = 160;
/// Cells the width of a board is divided into.
const WIDTH_CELLS: i64 = 96;
/// Strip widths in a row from which on they share a chord.
const CHORDS: usize = 4;
/// Lengths looked at together where a first strip is told from one that is worth nothing.
const LENGTHS: usize = 8;
/// Width cells taken together where it is told how much of a width is edge.
const TOGETHER: usize = 4;

/// A strip width and what a strip that wide can hold.
pub(in crate::layout) struct Class {
    pub(in crate::layout) height: i64,
    /// `after[p * (n + 1) + l]`: most that the items from position `p` on are worth in `l` cells.
    after: Vec<f64>,
}

/// Bounds for one kind of board at given prices.
pub(in crate::layout) struct Tables<'p> {
    /// Nanometres to a length cell.
    pub(in crate::layout) cell: i64,
    n: usize,
    width_cell: i64,
    widths: usize,
    pub(in crate::layout) moves: Vec<Vec<Move<'p>>>,
    pub(in crate::layout) classes: Vec<Class>,
    /// Most that the items from a position on are worth when each is crosscut from the full
    /// width of the board, as [`Class::after`].
    lane: Vec<f64>,
    /// `rest[w * (n + 1) + l]`: most that strips in `w` width cells of a section `l` cells long
    /// are worth, wood kept beside them included.
    rest: Vec<f64>,
    /// `board[l]`: most that `l` cells of board are worth, kept wood included.
    board: Vec<f64>,
    /// See [`Tables::stretched`], by the bits of what a nanometre is worth.
    stretched: RefCell<Vec<(u64, Rc<[f64]>)>>,
    /// Wood a crooked board gives back to strips of shorter sections.
    pub(in crate::layout) slack: i64,
    pub(in crate::layout) crosscut: i64,
    rip: i64,
    /// Item lengths are rounded down one by one, so a section may be so many cells longer.
    longer: usize,
}

impl<'p> Tables<'p> {
    pub(in crate::layout) fn new(
        (problem, index): (&'p Problem, usize),
        completion: &Completion,
        prices: &'p Prices,
        heights: &[i64],
        floor: f64,
    ) -> Tables<'p> {
        let (cuts, stock) = (&problem.cuts, &problem.stock[index]);
        let cell = ((stock.usable() + cuts.crosscut) / LENGTH_CELLS).max(1);
        let narrowest = heights.first().map_or(i64::MAX, |wide| wide + cuts.rip);
        let width_cell = ((stock.width + cuts.rip) / WIDTH_CELLS)
            .min(narrowest)
            .max(1);
        let mut tables = Tables {
            cell,
            n: ((stock.usable() + cuts.crosscut) / cell) as usize,
            width_cell,
            // A board no wider than its edges' trims gives nothing.
            widths: ((stock.width - 2 * cuts.edge + cuts.rip).max(0) / width_cell) as usize,
            moves: moves::moves((problem, index), completion, prices, floor, cell),
            classes: Vec::new(),
            lane: Vec::new(),
            rest: Vec::new(),
            board: Vec::new(),
            stretched: RefCell::default(),
            slack: 2 * (stock.edge_loss(cuts, stock.usable()) - cuts.edge),
            crosscut: cuts.crosscut,
            rip: cuts.rip,
            longer: 0,
        };
        let shortest = tables.moves.iter().flatten().map(|m| m.cells).min();
        tables.longer = tables.n / shortest.unwrap_or(1).max(1) + 1;
        tables.classes = tables.classes_of(heights);
        tables.lane = tables.chain(|m| Some(tables.lane_price(stock, cuts, m)));
        tables.rest = tables.rest(problem, stock);
        tables.board = tables.board(problem, stock);
        tables
    }

    /// Most a whole board can be worth, kept wood included, before the cost of the board.
    pub(in crate::layout) fn best(&self, then: &[f64]) -> f64 {
        self.lane_growth(0, then).most(0)
    }

    /// Most an item is worth when crosscut from the full width, with the edge kept beside it.
    pub(in crate::layout) fn lane_price(&self, stock: &Stock, cuts: &SawRules, m: &Move) -> f64 {
        let each = m.room / m.times as i64 - cuts.crosscut;
        let wide = m.lane_width(stock, cuts);
        let price = m.price_in(wide) - m.toll_at_least();
        let Some(keep) = cuts.keep_length.filter(|_| stock.kept_rate > 0.0) else {
            return price;
        };
        let long = each.max(keep);
        let kept = edge(stock, cuts, wide, long) as f64 * long as f64 * stock.kept_rate;
        price + kept * m.times as f64
    }

    /// What becomes of the board after the lane, by the lane's cells; `stretch` is the value of
    /// a nanometre of unused board.
    pub(in crate::layout) fn after_lane(&self, left: i64, stretch: f64) -> Vec<f64> {
        let after = self.stretched(stretch);
        after[..=self.cells(left)].iter().rev().copied().collect()
    }

    /// Most that each number of cells of board is worth behind a section whose edge is kept: what no
    /// section takes may go to that edge, at `stretch` a nanometre. Lengths are rounded down, so up to
    /// a cell more may be left than it seems. Few edges are asked about, each of them often.
    fn stretched(&self, stretch: f64) -> Rc<[f64]> {
        let mut known = self.stretched.borrow_mut();
        let bits = stretch.to_bits();
        if let Some((_, of)) = known.iter().find(|(of, _)| *of == bits) {
            return Rc::clone(of);
        }
        let step = self.cell as f64 * stretch;
        let mut most = f64::NEG_INFINITY;
        let most_of = |(l, board): (usize, &f64)| {
            most = greater(most, board - l as f64 * step);
            most + (l + 1) as f64 * step
        };
        let of: Rc<[f64]> = self.board.iter().enumerate().map(most_of).collect();
        known.push((bits, Rc::clone(&of)));
        of
    }

    /// What a lane `start` long so far, saw cut included, can still grow by together with what comes
    /// after it.
    pub(in crate::layout) fn lane_growth<'t>(&'t self, start: i64, then: &'t [f64]) -> Growth<'t> {
        Growth::new(&self.lane, self.n + 1, 0, self.following(start, then))
    }

    /// Most that `long` nanometres of board are worth.
    pub(in crate::layout) fn board_after(&self, long: i64) -> f64 {
        match usize::try_from((long + self.crosscut) / self.cell) {
            Ok(cells) if long >= 0 => self.board[cells.min(self.n)],
            _ => 0.0,
        }
    }

    /// The same where what no section takes may go to an edge kept before it, at `stretch` a nanometre.
    pub(in crate::layout) fn board_or_edge(&self, long: i64, stretch: f64) -> f64 {
        let Ok(cells) = usize::try_from((long + self.crosscut) / self.cell) else {
            return 0.0;
        };
        self.stretched(stretch)[cells.min(self.n)]
    }

    /// Cells of a section `long`, the saw cut behind it included.
    pub(in crate::layout) fn cells(&self, long: i64) -> usize {
        ((long + self.crosscut) / self.cell).clamp(0, self.n as i64) as usize
    }

    /// Most that a strip of class `class` is worth in a section of so many cells.
    pub(in crate::layout) fn strip_in(&self, class: usize, cells: usize) -> f64 {
        self.classes[class].after[cells]
    }

    /// What a first strip of class `class`, `start` long so far (saw cut included), can still grow by
    /// together with all that lies beside and after it: `then[l]` for a section of `l` cells.
    pub(in crate::layout) fn first_growth<'t>(
        &'t self,
        class: usize,
        start: i64,
        then: &'t [f64],
    ) -> Growth<'t> {
        let after = &self.classes[class].after;
        Growth::new(after, self.n + 1, 0, self.following(start, then))
    }

    /// What a strip of class `class` with `left` nanometres to go can still grow by together with what
    /// is beside and after it, which does not depend on it.
    pub(in crate::layout) fn growth<'t>(
        &'t self,
        class: usize,
        left: i64,
        beside: &'t [f64; 1],
    ) -> Growth<'t> {
        let after = &self.classes[class].after;
        Growth::new(after, self.n + 1, self.cells(left), beside)
    }

    /// What of `then` follows a length of `start` nanometres or more.
    fn following<'t>(&self, start: i64, then: &'t [f64]) -> &'t [f64] {
        let start = usize::try_from(start / self.cell).ok();
        start.and_then(|start| then.get(start..)).unwrap_or(&[])
    }

    /// What lies beside and after a first strip, by the section's length in cells: strips and
    /// edge in `wide` nanometres of width, and what becomes of `left` nanometres of board less
    /// the section; `stretch` is the value of a nanometre of board given to a kept edge.
    pub(in crate::layout) fn then(&self, wide: i64, left: i64, stretch: f64) -> Vec<f64> {
        let cells = self.cells(left);
        let after = self.stretched(stretch);
        let mut then: Vec<f64> = after[..=cells].iter().rev().copied().collect();
        if let Some(rest) = self.beside(wide) {
            let longer = &rest[self.longer.min(cells)..=cells];
            let (then, last) = then.split_at_mut(longer.len());
            then.iter_mut()
                .zip(longer)
                .for_each(|(then, beside)| *then += beside);
            last.iter_mut().for_each(|then| *then += rest[cells]);
        }
        then
    }

    /// What strips in `wide` nanometres of width are worth, by the section's length in cells.
    fn beside(&self, wide: i64) -> Option<&[f64]> {
        let w = usize::try_from((wide + self.rip) / self.width_cell).ok()?;
        Some(&self.rest[w.min(self.widths) * (self.n + 1)..][..=self.n])
    }

    /// No less than a first strip of class `class` is worth with [all that lies beside and after
    /// it](Tables::then): longer sections are worth no less, and what is left of the board no more, so of some
    /// lengths together the longest section and the shortest rest bound all.
    pub(in crate::layout) fn first_at_most(
        &self,
        class: usize,
        (wide, left): (i64, i64),
        stretch: f64,
    ) -> f64 {
        let cells = self.cells(left);
        let (strip, beside) = (&self.classes[class].after, self.beside(wide));
        let after = self.stretched(stretch);
        let firsts = (0..=cells).step_by(LENGTHS);
        let most = firsts.map(|first| {
            let last = (first + LENGTHS - 1).min(cells);
            let beside = beside.map_or(0.0, |rest| rest[(last + self.longer).min(cells)]);
            strip[last] + beside + after[cells - first]
        });
        most.fold(f64::NEG_INFINITY, greater)
    }

    /// Most that strips in `wide` nanometres of width are worth in a section of so many cells.
    pub(in crate::layout) fn rest_in(&self, wide: i64, cells: usize) -> f64 {
        match usize::try_from((wide + self.rip) / self.width_cell) {
            Ok(w) if wide >= 0 => self.rest[w.min(self.widths) * (self.n + 1) + cells],
            _ => 0.0,
        }
    }

    /// The strip widths, each with what a strip that wide can hold.
    ///
    /// Between two widths at which something more fits or a price jumps, what each choice of items is
    /// worth is no more than a line in the width, and so the most any is worth no more than its chord: where
    /// many widths lie between two they share it.
    fn classes_of(&self, heights: &[i64]) -> Vec<Class> {
        let moves = || self.moves.iter().flatten();
        let mut corners: Vec<i64> = moves()
            .flat_map(|m| {
                [m.width, m.widest, m.widest + 1]
                    .into_iter()
                    .chain(m.jumps())
            })
            .collect();
        corners.sort_unstable();
        corners.dedup();
        let mut classes: Vec<Class> = Vec::with_capacity(heights.len());
        let mut at = 0;
        while at < heights.len() {
            classes.push(self.class(heights[at]));
            let corner = corners.partition_point(|&corner| corner <= heights[at]);
            let next = corners.get(corner).copied().unwrap_or(i64::MAX);
            let end = heights.partition_point(|&height| height < next);
            if end - at > CHORDS {
                let last = self.line(heights[at], heights[end - 1]);
                for &height in &heights[at + 1..end - 1] {
                    let first = &classes[at];
                    let share =
                        (height - first.height) as f64 / (heights[end - 1] - first.height) as f64;
                    let both = first.after.iter().zip(&last.0).zip(&last.1);
                    let after = both
                        .map(|((_, low), high)| low + (high - low) * share)
                        .collect();
                    classes.push(Class { height, after });
                }
                classes.push(self.class(heights[end - 1]));
                at = end;
            } else {
                classes.extend(
                    heights[at + 1..end]
                        .iter()
                        .map(|&height| self.class(height)),
                );
                at = end;
            }
        }
        classes
    }

    fn class(&self, height: i64) -> Class {
        Class {
            height,
            after: self
                .chain(|m| (m.width <= height).then(|| m.price_in(height) - m.toll_at_least())),
        }
    }

    /// Tables at two widths where each stave counts as wide as its strip, or as may be.
    fn line(&self, low: i64, high: i64) -> (Vec<f64>, Vec<f64>) {
        let at = |height: i64| {
            self.chain(|m| (m.width <= low).then(|| m.price_at_most(height) - m.toll_at_least()))
        };
        (at(low), at(high))
    }

    /// Dynamic program along the chain: most that the items from each position on are worth in
    /// each number of cells, at the given prices (nothing for items that may not be taken).
    pub(in crate::layout) fn chain(&self, price: impl Fn(&Move) -> Option<f64>) -> Vec<f64> {
        let (moves, stride) = (&self.moves, self.n + 1);
        let mut after = vec![0.0; (moves.len() + 1) * stride];
        for position in (0..moves.len()).rev() {
            let (head, tail) = after.split_at_mut((position + 1) * stride);
            let here = &mut head[position * stride..];
            here.copy_from_slice(&tail[..stride]);
            for m in &moves[position] {
                let Some(price) = price(m).filter(|_| m.cells <= self.n) else {
                    continue;
                };
                let next = &tail[(m.next - position - 1) * stride..][..stride];
                for (now, then) in here[m.cells..].iter_mut().zip(next) {
                    *now = greater(*now, price + then);
                }
            }
        }
        after
    }

    fn rest(&self, problem: &Problem, stock: &Stock) -> Vec<f64> {
        let stride = self.n + 1;
        let mut packed = vec![0.0_f64; (self.widths + 1) * stride];
        for w in 1..=self.widths {
            packed.copy_within((w - 1) * stride..w * stride, w * stride);
            for class in &self.classes {
                let cells = ((class.height + self.rip) / self.width_cell) as usize;
                if cells > w {
                    continue;
                }
                let (head, tail) = packed.split_at_mut(w * stride);
                let before = &head[(w - cells) * stride..][..stride];
                let more = class.after.iter().zip(before);
                for (best, (strip, before)) in tail[..stride].iter_mut().zip(more) {
                    *best = greater(*best, strip + before);
                }
            }
        }
        self.with_edges(problem, stock, packed)
    }

    /// Adds what may be kept beside the strips: with `w` cells for strips and edge, any part of
    /// them may be edge.
    fn with_edges(&self, problem: &Problem, stock: &Stock, packed: Vec<f64>) -> Vec<f64> {
        let Some(keep) = problem.cuts.keep_length.filter(|_| stock.kept_rate > 0.0) else {
            return packed;
        };
        let stride = self.n + 1;
        let mut best = packed.clone();
        for w in 0..=self.widths {
            for used in (0..=w).step_by(TOGETHER) {
                let packed = &packed[w.min(used + TOGETHER - 1) * stride..];
                // Strips already cut take the rest of the width, but for less than one cell.
                let cells = (self.widths + used) as i64 - w as i64 - 1;
                let wide = (cells * self.width_cell - self.rip).max(0);
                let spare = edge(stock, &problem.cuts, wide, keep);
                if spare == 0 {
                    continue;
                }
                let kept = (spare + self.slack) as f64 * stock.kept_rate;
                for l in (keep / self.cell - 1).max(0) as usize..stride {
                    let long = ((l as i64 + 1) * self.cell).min(stock.usable()) as f64;
                    let value = packed[l] + kept * long;
                    best[w * stride + l] = best[w * stride + l].max(value);
                }
            }
        }
        best
    }

    pub(in crate::layout) fn board(&self, problem: &Problem, stock: &Stock) -> Vec<f64> {
        let stride = self.n + 1;
        let section = &self.rest[self.widths * stride..];
        let keep = problem
            .cuts
            .keep_length
            .filter(|_| stock.width >= problem.cuts.keep_width && stock.ends != [false; 2]);
        (0..=self.n).fold(Vec::with_capacity(stride), |mut board: Vec<f64>, l| {
            let long = ((l as i64 + 1) * self.cell - self.crosscut).min(stock.usable());
            let end = match keep {
                Some(keep) if long >= keep => long as f64 * stock.width as f64 * stock.kept_rate,
                _ => 0.0,
            };
            let best = (1..=l).fold(end, |best, s| best.max(section[s] + board[l - s]));
            board.push(best);
            board
        })
    }
}
