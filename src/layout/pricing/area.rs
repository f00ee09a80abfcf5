//! What is still to come in a pattern, by area alone.
//!
//! [`Tables`] knows how pieces lie, and may cut a front in several strips. This bound cuts every front
//! once and lets it lie as it likes. A piece fills its length and a saw cut by its width and a saw cut;
//! so at any price of area, what comes is worth at most the area left at that price and what each front is
//! worth more than its own area (Lagrangian relaxation of "no more than the area there is", see
//! Fisher, *The Lagrangian Relaxation Method for Solving Integer Programming Problems*, Management
//! Science 27, 1981). A stretch is shared out to its fronts such that no choice of stretches that cut
//! each front once is worth more than its fronts: each has what the best choice from it on along the
//! chain is worth more than the best from the next on.

use crate::layout::model::problem::Problem;
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::tables::board::Tables;
use crate::layout::pricing::tables::moves::Move;

/// Prices of area looked at, how many times as dear as the one before each is, and how many are cheaper than
/// the one that bounds a whole board best. Behind a half-made pattern less area is left, and it is dearer.
const RATES: usize = 6;
const DEARER: f64 = 1.25;
const CHEAPER: i32 = 2;

/// Steps in search of the price that bounds a whole board best.
const STEPS: usize = 20;

/// A worth at each price of area.
pub(in crate::layout) type Worths = [f64; RATES];

/// Bounds by area for one kind of board at given prices.
pub(in crate::layout) struct Area<'p> {
    rates: Worths,
    /// What the front at each row is worth more than its area.
    fronts: Vec<Worths>,
    /// What one stave of each gluing is.
    staves: Vec<Worths>,
    /// The stave of each gluing, where one may be cut.
    moves: Vec<Option<Move<'p>>>,
    /// Width to fill, a saw cut included.
    wide: i64,
    cuts: SawRules,
    /// What a nanometre of board may keep beyond that width.
    beyond: f64,
}

impl<'p> Area<'p> {
    pub(in crate::layout) fn new(
        problem: &Problem,
        stock: &Stock,
        tables: &Tables<'p>,
    ) -> Area<'p> {
        let cuts = problem.cuts;
        let mut moves = vec![None; problem.gluings.len()];
        for m in tables.moves.iter().flatten().filter(|m| m.times == 1) {
            if let Some(gluing) = problem.items[m.item].gluing {
                moves[gluing] = Some(*m);
            }
        }
        let mut area = Area {
            rates: [0.0; RATES],
            fronts: vec![[0.0; RATES]; problem.chain.len()],
            staves: vec![[0.0; RATES]; problem.gluings.len()],
            moves,
            wide: (stock.width - 2 * cuts.edge + cuts.rip).max(0),
            cuts,
            beyond: 2.0 * stock.edge_loss(&cuts, stock.usable()) as f64 * stock.kept_rate,
        };
        let best = area.best_rate(problem, stock, tables);
        for at in 0..RATES {
            // Wood is worth what is given back for it at least.
            let rate = (best * DEARER.powi(at as i32 - CHEAPER)).max(stock.kept_rate);
            area.rates[at] = rate;
            let staves = area.stave_worths(rate);
            let fronts = area.front_worths(problem, tables, &staves, rate);
            for (row, worth) in fronts.into_iter().enumerate() {
                area.fronts[row][at] = worth;
            }
            for (gluing, worth) in staves.into_iter().enumerate() {
                area.staves[gluing][at] = worth;
            }
        }
        area
    }

    /// The price of area at which the bound of a whole board is least; the bound is convex in it.
    fn best_rate(&self, problem: &Problem, stock: &Stock, tables: &Tables) -> f64 {
        let whole = self.of(stock.usable());
        let bound = |rate: f64| {
            let staves = self.stave_worths(rate);
            let fronts = self.front_worths(problem, tables, &staves, rate);
            rate * whole + fronts.iter().sum::<f64>()
        };
        let dearest = tables.moves.iter().flatten().map(|m| {
            let area = m.room as f64 * (m.width + self.cuts.rip) as f64;
            m.price_at_most(stock.width) / area
        });
        let mut low = stock.kept_rate.max(0.0);
        let mut high = dearest.fold(low, f64::max);
        for _ in 0..STEPS {
            let third = (high - low) / 3.0;
            if bound(low + third) < bound(high - third) {
                high -= third;
            } else {
                low += third;
            }
        }
        f64::midpoint(low, high)
    }

    /// What a stave `wide` is worth more than its area.
    fn over(&self, m: &Move, wide: i64, rate: f64) -> f64 {
        let area = m.room as f64 * (wide + self.cuts.rip) as f64;
        m.price_at_most(wide) - m.toll_at_least() - rate * area
    }

    /// Most that a stave narrower than `below` is worth more than its area. Between the widths at which
    /// its price jumps it is a line.
    fn best_over(&self, m: &Move, below: i64, rate: f64) -> f64 {
        let most = m.widest.min(below - 1);
        let jumps = m.jumps().filter(|wide| (m.width..=most).contains(wide));
        let widths = jumps.chain([m.width.min(most), most]);
        let over = widths.map(|wide| self.over(m, wide, rate));
        over.fold(f64::NEG_INFINITY, f64::max)
    }

    fn stave_worths(&self, rate: f64) -> Vec<f64> {
        let of = |m: &Option<Move>| {
            let worth = m.as_ref().map(|m| self.best_over(m, i64::MAX, rate));
            worth.unwrap_or(0.0).max(0.0)
        };
        self.moves.iter().map(of).collect()
    }

    fn front_worths(
        &self,
        problem: &Problem,
        tables: &Tables,
        staves: &[f64],
        rate: f64,
    ) -> Vec<f64> {
        let rows = problem.chain.len();
        let mut from: Vec<Vec<(usize, f64)>> = vec![Vec::new(); rows];
        for m in tables.moves.iter().flatten().filter(|m| m.times == 1) {
            let item = &problem.items[m.item];
            let worth = match item.gluing {
                None => self.over(m, m.width, rate),
                Some(gluing) => staves[gluing] * m.most as f64,
            };
            from[item.rows.start].push((item.rows.end, worth));
        }
        let mut best = vec![0.0; rows + 1];
        for row in (0..rows).rev() {
            let worths = from[row].iter().map(|&(end, worth)| worth + best[end]);
            best[row] = worths.fold(best[row + 1], f64::max);
        }
        best.windows(2).map(|pair| pair[0] - pair[1]).collect()
    }

    /// Area of `long` nanometres of board.
    pub(in crate::layout) fn of(&self, long: i64) -> f64 {
        self.strip(long, self.wide - self.cuts.rip)
    }

    /// Area of a strip.
    pub(in crate::layout) fn strip(&self, long: i64, wide: i64) -> f64 {
        (long + self.cuts.crosscut).max(0) as f64 * (wide + self.cuts.rip) as f64
    }

    /// What all fronts are worth more than their area.
    pub(in crate::layout) fn all(&self, problem: &Problem) -> Worths {
        let mut all = [0.0; RATES];
        for (row, worths) in self.fronts.iter().enumerate() {
            add(&mut all, worths, problem.identical.count(row) as f64);
        }
        all
    }

    /// What is left of `rest` when an item is taken from it of whose gluing there are `before` staves.
    pub(in crate::layout) fn without(
        &self,
        problem: &Problem,
        m: &Move,
        before: usize,
        mut rest: Worths,
    ) -> Worths {
        let item = &problem.items[m.item];
        let times = m.times as f64;
        if problem.identical.count(item.rows.start) > 1 {
            add(&mut rest, &self.fronts[item.rows.start], -times);
            return rest;
        }
        if before == 0 {
            let fronts = &self.fronts[item.rows.clone()];
            fronts.iter().for_each(|front| add(&mut rest, front, -1.0));
        }
        if let Some(gluing) = item.gluing {
            // The fronts stand for all staves there may be.
            let staves = if before == 0 { m.most as f64 } else { 0.0 };
            add(&mut rest, &self.staves[gluing], staves - times);
        }
        rest
    }

    /// What the rest is worth less when a stave of a gluing, narrower than `below`, must be in it.
    pub(in crate::layout) fn forced(&self, gluing: usize, below: i64) -> Worths {
        let Some(m) = &self.moves[gluing] else {
            return [f64::NEG_INFINITY; RATES];
        };
        std::array::from_fn(|at| self.best_over(m, below, self.rates[at]) - self.staves[gluing][at])
    }

    /// Most that `area` is worth where `rest` is what is not cut yet, with what is kept of `long`
    /// nanometres of board.
    pub(in crate::layout) fn most(&self, rest: &Worths, area: f64, long: i64) -> f64 {
        let worth = self
            .rates
            .iter()
            .zip(rest)
            .map(|(rate, rest)| rate * area + rest);
        worth.fold(f64::INFINITY, f64::min) + self.beyond * long.max(0) as f64
    }
}

fn add(rest: &mut Worths, worths: &Worths, times: f64) {
    let both = rest.iter_mut().zip(worths);
    both.for_each(|(rest, worth)| *rest += worth * times);
}
