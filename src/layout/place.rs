//! Finds coordinates for a board pattern: the arrangement that keeps most.
//!
//! On a clear board every order is as good as another and the answer is direct. Where there are
//! defects, sections, strips and stretches are tried in every order, each pushed as near the
//! hook end as the defects let it, and the same on the board turned end for end.

use crate::plan::Face;

use super::geometry::{Placed, PlacedItem, PlacedSection, PlacedStrip, clear_cost, edge, settle};
use super::problem::{Problem, Stock};
use super::strip::{PackedStrip, pack_strip};
use super::zone::Zone;

/// A board pattern without coordinates: sections and their strips.
pub(super) type Shape = Vec<Vec<StripShape>>;

/// A strip without coordinates.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct StripShape {
    pub(super) width: i64,
    pub(super) items: Vec<usize>,
}

impl StripShape {
    /// A strip for one item, `width` wide.
    pub(super) fn of(item: usize, width: i64) -> StripShape {
        StripShape {
            width,
            items: vec![item],
        }
    }
}

/// Widest blank `item` may have on an untouched board of this kind: 0 when it does not fit.
///
/// For a stave, the widest strip that is free of defects somewhere, or the widest that still
/// comes out thick enough.
pub(super) fn widest_alone(problem: &Problem, stock: &Stock, item: usize) -> i64 {
    let it = &problem.items[item];
    let pinned = it.rows.clone().all(|row| {
        let front = &problem.job.fronts[problem.chain[row]];
        let id = &problem.board(stock).id;
        front.board.as_ref().is_none_or(|board| board == id)
    });
    let fits = |width: i64| {
        clear_cost(stock, &problem.cuts, &[(it.room, width)]).is_some()
            && flat_alone(problem, stock, item, width)
            && (stock.zones.is_empty() || {
                let strip = StripShape::of(item, width);
                let wide = Stock {
                    widest: vec![width; item + 1],
                    ..stock.clone()
                };
                let shape = vec![vec![strip]];
                fits_pushed(problem, &wide, &shape) || place(problem, &wide, &shape).is_some()
            })
    };
    if !pinned || !fits(it.width) {
        return 0;
    }
    let Some(mode) = it.mode else {
        return it.width;
    };
    // Each condition only gets harder with width: halve the interval down to a nanometre.
    let full = stock.width - 2 * stock.edge_loss(&problem.cuts, it.room);
    let (mut good, mut bad) = (it.width, problem.modes[mode].widest.min(full) + 1);
    if fits(bad - 1) {
        return bad - 1;
    }
    while bad - good > 1 {
        let middle = good + (bad - good) / 2;
        if fits(middle) {
            good = middle
        } else {
            bad = middle
        }
    }
    good
}

/// Whether `item`, tight and `width` wide, comes out thick enough.
fn flat_alone(problem: &Problem, stock: &Stock, item: usize, width: i64) -> bool {
    let it = &problem.items[item];
    let starts = tight_starts(&it.lengths, &it.gaps, 0);
    let spans: Vec<(i64, i64)> = starts
        .iter()
        .zip(&it.lengths)
        .map(|(&start, &length)| (start, start + length))
        .collect();
    problem.thick_enough(stock, it, width, &spans, false)
}

/// Lengths and strip widths of a pattern's sections, as [`clear_cost`] wants them.
pub(super) fn outline(problem: &Problem, shape: &Shape) -> Vec<(i64, i64)> {
    let crosscut = problem.cuts.crosscut;
    shape
        .iter()
        .map(|strips| {
            let long = |strip: &StripShape| {
                let rooms: i64 = strip.items.iter().map(|&i| problem.items[i].room).sum();
                rooms + crosscut * (strip.items.len() as i64 - 1)
            };
            let wide: i64 = strips.iter().map(|s| s.width).sum();
            let rips = problem.cuts.rip * (strips.len() as i64 - 1);
            (strips.iter().map(long).max().unwrap_or(0), wide + rips)
        })
        .collect()
}

/// The best arrangement of `shape` on a board, or nothing when it does not fit.
pub(super) fn place(problem: &Problem, stock: &Stock, shape: &Shape) -> Option<Placed> {
    let lower = clear_cost(stock, &problem.cuts, &outline(problem, shape))?;
    if stock.zones.is_empty() {
        // Sections lie at the hook end: where only that may be kept, at the other.
        if stock.ends == [true, false] {
            let found = place_clear(problem, &turned(stock), shape)?;
            return Some(turn_back(problem, stock, found));
        }
        return place_clear(problem, stock, shape);
    }
    let mut best: Option<Placed> = None;
    let mirrored = turned(stock);
    for (turn, stock) in [(false, stock), (true, &mirrored)] {
        for start in starts(problem, stock) {
            let mut search = Search {
                problem,
                stock,
                shape,
                any: false,
                best: None,
            };
            search.next(&mut Vec::new(), 0, start);
            if let Some(found) = search.best
                && best.as_ref().is_none_or(|b| found.cost < b.cost - 1e-12)
            {
                best = Some(if turn {
                    turn_back(problem, stock, found)
                } else {
                    found
                });
            }
            if best.as_ref().is_some_and(|b| b.cost <= lower + 1e-9) {
                return best;
            }
        }
    }
    best
}

/// Whether `shape` fits when pushed as near as can be to one end of the board or the other.
pub(super) fn fits_pushed(problem: &Problem, stock: &Stock, shape: &Shape) -> bool {
    let fits_on = |stock: &Stock| {
        let mut search = Search {
            problem,
            stock,
            shape,
            any: true,
            best: None,
        };
        search.next(&mut Vec::new(), 0, stock.from);
        search.best.is_some()
    };
    fits_on(stock) || fits_on(&turned(stock))
}

/// Where the first section may start: at the trim, or far enough on that the hook end is kept.
fn starts(problem: &Problem, stock: &Stock) -> Vec<i64> {
    let mut starts = vec![stock.from];
    if let Some(keep) = problem.cuts.keep_length {
        let least = stock.from + keep + problem.cuts.crosscut;
        starts.push(least);
        starts.extend(stock.zones.iter().map(|z| z.to).filter(|&to| to > least));
        starts.retain(|&s| s < stock.to);
    }
    starts
}

/// The same board hooked at its other end.
fn turned(stock: &Stock) -> Stock {
    Stock {
        zones: stock
            .zones
            .iter()
            .map(|z: &Zone| z.mirrored(stock.length))
            .collect(),
        ends: [stock.ends[1], stock.ends[0]],
        ..stock.clone()
    }
}

/// Coordinates found on the turned board, measured from the real hook end again.
fn turn_back(problem: &Problem, stock: &Stock, placed: Placed) -> Placed {
    let length = stock.length;
    let mut sections = placed.sections;
    sections.reverse();
    for section in &mut sections {
        (section.from, section.to) = (length - section.to, length - section.from);
        for strip in &mut section.strips {
            strip.items.reverse();
            for placed in &mut strip.items {
                let lengths = &problem.items[placed.item].lengths;
                let n = lengths.len();
                let ends: Vec<i64> = (0..n)
                    .map(|i| {
                        let blank = lengths[if placed.reverse { n - 1 - i } else { i }];
                        length - (placed.starts[i] + blank)
                    })
                    .rev()
                    .collect();
                placed.starts = ends;
                placed.reverse = !placed.reverse;
            }
        }
    }
    settle(stock, &problem.cuts, sections)
}

/// A clear board: sections side by side from the hook end, strips from the near edge. Sections
/// with an edge to keep may be made long enough for that, and one may take up all unused wood.
fn place_clear(problem: &Problem, stock: &Stock, shape: &Shape) -> Option<Placed> {
    let cuts = &problem.cuts;
    let outline = outline(problem, shape);
    let keep = cuts.keep_length.unwrap_or(0);
    let keeps = |i: usize| keep > 0 && edge(stock, cuts, outline[i].1, outline[i].0.max(keep)) > 0;
    let edged: Vec<usize> = (0..shape.len()).filter(|&i| keeps(i)).take(6).collect();
    let mut best: Option<Placed> = None;
    for choice in 0..1_u32 << edged.len() {
        let mut longs: Vec<i64> = outline.iter().map(|&(long, _)| long).collect();
        for (nth, &i) in edged.iter().enumerate() {
            if choice >> nth & 1 == 1 {
                longs[i] = longs[i].max(keep);
            }
        }
        let cutting = cuts.crosscut * (shape.len() as i64 - 1);
        let spare = stock.usable() - longs.iter().sum::<i64>() - cutting;
        if spare < 0 {
            continue;
        }
        for filler in edged.iter().map(|&i| Some(i)).chain([None]) {
            let mut longs = longs.clone();
            if let Some(i) = filler {
                longs[i] += spare;
            }
            let placed = clear_board(problem, stock, shape, &outline, &longs);
            if best.as_ref().is_none_or(|b| placed.cost < b.cost - 1e-12) {
                best = Some(placed);
            }
        }
    }
    best
}

/// A clear board with sections of the given lengths.
fn clear_board(
    problem: &Problem,
    stock: &Stock,
    shape: &Shape,
    outline: &[(i64, i64)],
    longs: &[i64],
) -> Placed {
    let mut at = stock.from;
    let sections = shape
        .iter()
        .zip(outline.iter().zip(longs))
        .map(|(strips, (&(_, wide), &long))| {
            let section = clear_section(problem, stock, strips, wide, at, long);
            at += long + problem.cuts.crosscut;
            section
        })
        .collect();
    settle(stock, &problem.cuts, sections)
}

/// One section of a clear board, `long` from `at`.
fn clear_section(
    problem: &Problem,
    stock: &Stock,
    strips: &[StripShape],
    wide: i64,
    at: i64,
    long: i64,
) -> PlacedSection {
    let cuts = &problem.cuts;
    let loss = stock.edge_loss(cuts, long);
    let middle = cuts.keep_width + cuts.rip;
    let both = stock.width - wide - 2 * cuts.rip;
    let gains = cuts.keep_length.is_some_and(|keep| long >= keep)
        && both >= 2 * cuts.keep_width
        && loss > cuts.rip
        && middle >= loss;
    let mut low = if gains { middle } else { loss };
    let strips = strips
        .iter()
        .map(|strip| {
            let high = low + strip.width;
            let mut from = at;
            let items = strip
                .items
                .iter()
                .map(|&item| {
                    let it = &problem.items[item];
                    let placed = PlacedItem {
                        item,
                        starts: tight_starts(&it.lengths, &it.gaps, from),
                        reverse: false,
                        face: Face::Up,
                        low,
                        width: problem.blank_width(stock, item, strip.width),
                    };
                    from += it.room + cuts.crosscut;
                    placed
                })
                .collect();
            let strip = PlacedStrip { low, high, items };
            low = high + cuts.rip;
            strip
        })
        .collect();
    PlacedSection {
        from: at,
        to: at + long,
        strips,
    }
}

fn tight_starts(lengths: &[i64], gaps: &[i64], from: i64) -> Vec<i64> {
    let mut at = from;
    (0..lengths.len())
        .map(|i| {
            let start = at;
            at += lengths[i] + gaps.get(i).copied().unwrap_or(0);
            start
        })
        .collect()
}

/// Search over the order of sections, and of strips within each, on a board with defects.
struct Search<'p, 'a> {
    problem: &'p Problem<'a>,
    stock: &'p Stock,
    shape: &'p Shape,
    /// Whether the first arrangement found will do.
    any: bool,
    best: Option<Placed>,
}

impl Search<'_, '_> {
    /// Places one more section at `at` or later.
    fn next(&mut self, placed: &mut Vec<PlacedSection>, used: u64, at: i64) {
        if self.any && self.best.is_some() {
            return;
        }
        if placed.len() == self.shape.len() {
            if self.any {
                self.best = Some(Placed::default());
                return;
            }
            let found = settle(self.stock, &self.problem.cuts, placed.clone());
            if self
                .best
                .as_ref()
                .is_none_or(|b| found.cost < b.cost - 1e-12)
            {
                self.best = Some(found);
            }
            return;
        }
        for i in 0..self.shape.len() {
            if used >> i & 1 == 1 {
                continue;
            }
            for section in self.arrangements(i, at) {
                let next = section.to + self.problem.cuts.crosscut;
                placed.push(section);
                self.next(placed, used | 1 << i, next);
                placed.pop();
            }
        }
    }

    /// The arrangement of a section that ends first, and the one that uses least wood; each also
    /// made just long enough for its edges to be kept.
    fn arrangements(&self, section: usize, at: i64) -> Vec<PlacedSection> {
        let strips = &self.shape[section];
        let mut stack = Stack {
            problem: self.problem,
            stock: self.stock,
            strips,
            at,
            loss: 0,
            ends_first: None,
            uses_least: None,
        };
        let mut long = outline(self.problem, &vec![strips.clone()])[0].0;
        // A longer section of a crooked board loses more at its edges: settle on a length.
        for _ in 0..3 {
            stack.loss = self.stock.edge_loss(&self.problem.cuts, long);
            (stack.ends_first, stack.uses_least) = (None, None);
            stack.next(&mut Vec::new(), 0, stack.loss);
            match &stack.ends_first {
                Some((_, s)) if s.to - s.from > long && self.stock.crook > 0.0 => {
                    long = s.to - s.from;
                }
                _ => break,
            }
        }
        let cuts = &self.problem.cuts;
        let ends_first = stack.ends_first.map(|(_, s)| s);
        let uses_least = stack.uses_least.map(|(_, s)| s);
        let mut found: Vec<PlacedSection> = Vec::new();
        for s in [ends_first, uses_least].into_iter().flatten() {
            let same = found
                .iter()
                .any(|f| f.to == s.to && f.strips[0].low == s.strips[0].low);
            if !same && s.fits_edges(self.stock, cuts, s.from, s.to) {
                found.push(s);
            }
        }
        if !self.any {
            let longer: Vec<_> = found.iter().filter_map(|s| self.long_enough(s)).collect();
            found.extend(longer);
        }
        found
    }

    /// The same section reaching on until its edges are long enough to keep, where they are wide
    /// enough and it is shorter: what follows it must make room.
    fn long_enough(&self, section: &PlacedSection) -> Option<PlacedSection> {
        let cuts = &self.problem.cuts;
        let to = section.from + cuts.keep_length?;
        let reaches = to > section.to
            && to <= self.stock.to
            && section.edge_width(self.stock, cuts) > 0
            && section.fits_edges(self.stock, cuts, section.from, to);
        reaches.then(|| PlacedSection {
            to,
            ..section.clone()
        })
    }
}

/// Search over the strips of one section, stacked from the near edge.
struct Stack<'p, 'a> {
    problem: &'p Problem<'a>,
    stock: &'p Stock,
    strips: &'p [StripShape],
    at: i64,
    loss: i64,
    ends_first: Option<(i64, PlacedSection)>,
    uses_least: Option<(f64, PlacedSection)>,
}

impl Stack<'_, '_> {
    /// Puts one more strip at `low` or higher.
    fn next(&mut self, placed: &mut Vec<PackedStrip>, used: u64, low: i64) {
        if placed.len() == self.strips.len() {
            self.finish(placed);
            return;
        }
        let rest: i64 = (0..self.strips.len())
            .filter(|i| used >> i & 1 == 0)
            .map(|i| self.strips[i].width + self.problem.cuts.rip)
            .sum();
        let highest = self.stock.width - self.loss - (rest - self.problem.cuts.rip);
        for low in self.lows(low, highest, placed.is_empty()) {
            for i in 0..self.strips.len() {
                if used >> i & 1 == 1 {
                    continue;
                }
                let packed = pack_strip(self.problem, self.stock, &self.strips[i], low, self.at);
                let Some(strip) = packed else { continue };
                let next = strip.strip.high + self.problem.cuts.rip;
                placed.push(strip);
                self.next(placed, used | 1 << i, next);
                placed.pop();
            }
        }
    }

    /// Starts across the board worth trying: as low as can be, just above or just below each
    /// defect, as high as can be, and where an edge below is just wide enough to keep.
    fn lows(&self, least: i64, most: i64, first: bool) -> Vec<i64> {
        let mut lows = vec![least, most];
        if first && self.problem.cuts.keep_length.is_some() {
            lows.push(self.problem.cuts.keep_width + self.problem.cuts.rip);
        }
        for zone in &self.stock.zones {
            lows.push(zone.high);
            lows.extend(self.strips.iter().map(|s| zone.low - s.width));
        }
        lows.retain(|&low| low >= least && low <= most);
        lows.sort_unstable();
        lows.dedup();
        lows
    }

    fn finish(&mut self, placed: &[PackedStrip]) {
        let from = placed.iter().map(|s| s.from).min().unwrap_or(self.at);
        let to = placed.iter().map(|s| s.to).max().unwrap_or(self.at);
        let section = PlacedSection {
            from,
            to,
            strips: placed.iter().map(|s| s.strip.clone()).collect(),
        };
        if self.ends_first.as_ref().is_none_or(|(end, _)| to < *end) {
            self.ends_first = Some((to, section.clone()));
        }
        let used = (to - self.at) as f64 * self.stock.width as f64 - self.edge_area(&section);
        if self
            .uses_least
            .as_ref()
            .is_none_or(|(least, _)| used < *least)
        {
            self.uses_least = Some((used, section));
        }
    }

    /// Wood that may be kept beside the strips of a section, which can be made long enough.
    fn edge_area(&self, section: &PlacedSection) -> f64 {
        let cuts = &self.problem.cuts;
        let Some(keep) = cuts.keep_length else {
            return 0.0;
        };
        let (Some(first), Some(last)) = (section.strips.first(), section.strips.last()) else {
            return 0.0;
        };
        let low = first.low - cuts.rip;
        let high = self.stock.width - last.high - cuts.rip;
        let wide: i64 = [low, high]
            .into_iter()
            .filter(|&w| w >= cuts.keep_width)
            .sum();
        wide as f64 * (section.to - section.from).max(keep) as f64
    }
}
