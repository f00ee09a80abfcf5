//! Ways to stack the strips of a section across a board with defects.
//!
//! **Which places suffice.** Fix the order of the strips, and on which side of each defect each blank
//! passes. What may then be moved across is bounded by the board's edges (less the loss to crook), by
//! defects, by a rip between neighbours, and by the least width of a kept edge; all are differences of
//! two places or of a place and a fixed line. The wood kept beside the strips is linear in the lowest
//! and the highest place. So a best stack has every strip pushed against one of those lines, or against a
//! neighbour that is (a corner of the region): strips chained up from the near edge, a defect's far side or
//! the line of the least kept edge, or chained down from the like on the other side. A blank narrower
//! than its strip lies at its low or its high edge (rule 10c), so each defect gives four lines.
//!
//! Of stacks that pass all defects alike only the ones that keep most beside them are returned; on a
//! crooked board, also those that leave room for a longer section.

use std::collections::HashMap;

use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;
use crate::layout::model::zone::{Blocked, FACES, blocked};

/// Stacks of one section that are looked at; where there are more, the search is not complete.
const MOST_STACKS: usize = 20_000;
/// Stacks between two looks at the clock.
const LOOK_EVERY: usize = 256;

/// One way to stack the strips of a section.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Stack {
    /// Strips from the near edge on: index into the section, and low side.
    pub(in crate::layout) strips: Vec<(usize, i64)>,
    /// Width of the edges that are wide enough to keep.
    pub(in crate::layout) edge: i64,
    /// What crook may take off either edge at most.
    pub(in crate::layout) loss: i64,
}

/// What defects leave of a strip: one list of blocked lengths for each blank, place and face.
type Lanes = Vec<Vec<Blocked>>;

/// All stacks worth trying where the section is one of `lengths` long; whether these are all.
pub(in crate::layout) fn stacks(
    problem: &Problem,
    stock: &Stock,
    section: &[StripShape],
    lengths: &[i64],
) -> (Vec<Stack>, bool) {
    let mut losses: Vec<i64> = lengths
        .iter()
        .map(|&long| stock.edge_loss(&problem.cuts, long))
        .collect();
    losses.sort_unstable();
    losses.dedup();
    let mut stacker = Stacker {
        problem,
        stock,
        section,
        losses,
        count: 0,
        passes: HashMap::new(),
        known: HashMap::new(),
        best: HashMap::new(),
        order: Vec::new(),
    };
    stacker.orders(&mut Vec::new(), 0);
    let complete = stacker.count < MOST_STACKS && !problem.patience.is_over();
    let mut found: Vec<(usize, Stack)> = stacker.best.into_values().flatten().collect();
    found.sort_unstable_by_key(|(nth, _)| *nth);
    (
        found.into_iter().map(|(_, stack)| stack).collect(),
        complete,
    )
}

struct Stacker<'p, 'a> {
    problem: &'p Problem<'a>,
    stock: &'p Stock,
    section: &'p [StripShape],
    losses: Vec<i64>,
    count: usize,
    /// How each strip passes the defects at each low side: a number for all lanes alike.
    passes: HashMap<(usize, i64), usize>,
    known: HashMap<Lanes, usize>,
    /// By how each strip passes the defects.
    best: HashMap<Vec<usize>, Vec<(usize, Stack)>>,
    order: Vec<usize>,
}

impl Stacker<'_, '_> {
    /// Every order of the strips; of strips alike the first comes first.
    fn orders(&mut self, order: &mut Vec<usize>, used: u64) {
        if order.len() == self.section.len() {
            self.order.clone_from(order);
            let candidates = self.candidates();
            self.choose(&candidates, &mut Vec::new());
            return;
        }
        for i in 0..self.section.len() {
            let unused = |i: usize| used >> i & 1 == 0;
            let alike = |j: usize| unused(j) && self.section[j] == self.section[i];
            if unused(i) && !(0..i).any(alike) {
                order.push(i);
                self.orders(order, used | 1 << i);
                order.pop();
            }
        }
    }

    fn width(&self, place: usize) -> i64 {
        self.section[self.order[place]].width
    }

    /// Lines a strip may be pushed against from above, and from below, as its low side.
    fn lines(&self, place: usize) -> (Vec<i64>, Vec<i64>) {
        let (strip, cuts) = (&self.section[self.order[place]], &self.problem.cuts);
        let wide = strip.width;
        let mut up = self.losses.clone();
        let mut down: Vec<i64> = (self.losses.iter())
            .map(|loss| self.stock.width - loss - wide)
            .collect();
        if cuts.keep_length.is_some() {
            up.push(cuts.keep_width + cuts.rip);
            down.push(self.stock.width - cuts.keep_width - cuts.rip - wide);
        }
        let mut widths: Vec<i64> = (0..strip.items.len())
            .map(|item| strip.blank_width(self.problem, self.stock, item))
            .chain([wide])
            .collect();
        widths.sort_unstable();
        widths.dedup();
        for zone in &self.stock.zones {
            for &blank in &widths {
                up.extend([zone.high, zone.high - (wide - blank)]);
                down.extend([zone.low - wide, zone.low - blank]);
            }
        }
        (up, down)
    }

    /// Places of each strip: its own lines, and those of its neighbours with the strips between.
    fn candidates(&self) -> Vec<Vec<i64>> {
        let (count, rip) = (self.order.len(), self.problem.cuts.rip);
        let lines: Vec<_> = (0..count).map(|place| self.lines(place)).collect();
        let least = self.losses[0];
        let mut all = vec![Vec::new(); count];
        let mut chain: Vec<i64> = Vec::new();
        for place in 0..count {
            if place > 0 {
                let past = self.width(place - 1) + rip;
                chain.iter_mut().for_each(|low| *low += past);
            }
            chain.extend(&lines[place].0);
            all[place].extend(&chain);
        }
        chain.clear();
        for place in (0..count).rev() {
            let wide = self.width(place);
            if place + 1 < count {
                chain.iter_mut().for_each(|low| *low -= wide + rip);
            }
            chain.extend(&lines[place].1);
            all[place].extend(&chain);
        }
        // No strip may lie where those below or above it have no room.
        let mut below = least;
        for (place, lows) in all.iter_mut().enumerate() {
            let above: i64 = (place..count).map(|p| self.width(p) + rip).sum();
            let most = self.stock.width - least - (above - rip);
            lows.retain(|&low| low >= below && low <= most);
            lows.sort_unstable();
            lows.dedup();
            below += self.width(place) + rip;
        }
        all
    }

    fn choose(&mut self, candidates: &[Vec<i64>], lows: &mut Vec<i64>) {
        let look = self.count.is_multiple_of(LOOK_EVERY);
        if self.count >= MOST_STACKS || (look && self.problem.patience.is_over()) {
            return;
        }
        let place = lows.len();
        if place == candidates.len() {
            self.count += 1;
            self.keep(lows);
            return;
        }
        let least = match lows.last() {
            Some(low) => low + self.width(place - 1) + self.problem.cuts.rip,
            None => i64::MIN,
        };
        for &low in candidates[place].iter().filter(|&&low| low >= least) {
            lows.push(low);
            self.choose(candidates, lows);
            lows.pop();
        }
    }

    /// Remembers a stack unless one that passes all defects alike is as good.
    fn keep(&mut self, lows: &[i64]) {
        let cuts = &self.problem.cuts;
        let (first, last) = (lows[0], lows[lows.len() - 1] + self.width(lows.len() - 1));
        let kept = |width: i64| {
            if width >= cuts.keep_width.max(1) {
                width
            } else {
                0
            }
        };
        let beyond = self.stock.width - last;
        let stack = Stack {
            strips: self
                .order
                .iter()
                .copied()
                .zip(lows.iter().copied())
                .collect(),
            edge: kept(first - cuts.rip) + kept(beyond - cuts.rip),
            loss: first.min(beyond),
        };
        let mut key = vec![0; stack.strips.len()];
        for &(strip, low) in &stack.strips {
            key[strip] = self.passes(strip, low);
        }
        let straight = self.stock.crook == 0.0;
        let nth = self.count;
        let alike = self.best.entry(key).or_default();
        let as_good = |a: &Stack, b: &Stack| a.edge >= b.edge && (straight || a.loss >= b.loss);
        if !alike.iter().any(|(_, before)| as_good(before, &stack)) {
            alike.retain(|(_, before)| !as_good(&stack, before));
            alike.push((nth, stack));
        }
    }

    fn passes(&mut self, strip: usize, low: i64) -> usize {
        if let Some(&passes) = self.passes.get(&(strip, low)) {
            return passes;
        }
        let next = self.known.len();
        let passes = *self.known.entry(self.lanes(strip, low)).or_insert(next);
        self.passes.insert((strip, low), passes);
        passes
    }

    fn lanes(&self, strip: usize, low: i64) -> Lanes {
        let shape = &self.section[strip];
        let faces = if self.stock.one_sided {
            &FACES[..]
        } else {
            &FACES[..1]
        };
        let mut lanes = Lanes::new();
        for place in 0..shape.items.len() {
            let wide = shape.blank_width(self.problem, self.stock, place);
            for &face in faces {
                let at = |low: i64| blocked(&self.stock.zones, low, low + wide, face);
                lanes.push(at(low));
                if wide < shape.width {
                    lanes.push(at(low + shape.width - wide));
                }
            }
        }
        lanes
    }
}
