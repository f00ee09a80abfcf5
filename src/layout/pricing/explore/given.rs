//! What a half-made pattern is paid too much for the staves it gives.

use crate::layout::model::problem::Problem;
use crate::layout::pricing::prices::Prices;
use crate::layout::pricing::tables::moves::Move;

/// The staves of each of the rounding cuts that are paid for, in a half-made pattern.
pub(in crate::layout) struct Given {
    /// By item: the rounding cuts it counts for, and the units of one stave by itself.
    of: Vec<Vec<(usize, i64)>>,
    each: Vec<Units>,
    /// What it was before each item, where that matters to it, and what was too much then.
    before: Vec<(Units, f64)>,
    /// Every stave was paid as if it were alone on the board: what that is too much.
    pub(in crate::layout) over: f64,
}

#[derive(Clone, Copy)]
struct Units {
    gain: f64,
    unit: i64,
    /// Units that were paid for.
    paid: i64,
    /// How wide the staves are together at most.
    wide: i64,
}

impl Units {
    fn over(&self) -> f64 {
        self.gain * (self.paid - (self.wide + self.unit - 1) / self.unit) as f64
    }
}

impl Given {
    pub(in crate::layout) fn new(problem: &Problem, board: usize, prices: &Prices) -> Given {
        let each = prices.rounding.iter().map(|(rounding, gain)| Units {
            gain: *gain,
            unit: rounding.unit,
            paid: 0,
            wide: 0,
        });
        let stock = &problem.stock[board];
        let of = |(index, gluing): (usize, Option<usize>)| -> Vec<(usize, i64)> {
            let Some(gluing) = gluing else {
                return Vec::new();
            };
            let widest = problem.gluings[gluing].widest.min(stock.widest[index]);
            let rounding = prices.rounding.iter().enumerate();
            let rounding = rounding.filter(|(_, (rounding, _))| rounding.has(gluing));
            rounding
                .map(|(at, (rounding, _))| (at, rounding.units(widest)))
                .collect()
        };
        let gluings = problem.items.iter().map(|item| item.gluing);
        Given {
            of: gluings.enumerate().map(of).collect(),
            each: each.collect(),
            before: Vec::new(),
            over: 0.0,
        }
    }

    /// Takes an item, of a strip that is `wide` at most.
    pub(in crate::layout) fn take(&mut self, m: &Move, wide: i64) {
        for &(at, units) in &self.of[m.item] {
            let each = &mut self.each[at];
            self.before.push((*each, self.over));
            self.over -= each.over();
            each.paid += units * m.times as i64;
            each.wide += wide.min(m.widest) * m.times as i64;
            self.over += each.over();
        }
    }

    /// Gives the last item taken back.
    pub(in crate::layout) fn give_back(&mut self, m: &Move) {
        for &(at, _) in self.of[m.item].iter().rev() {
            if let Some((units, over)) = self.before.pop() {
                (self.each[at], self.over) = (units, over);
            }
        }
    }

    /// How wide the staves of each of the rounding cuts are together; none where no more follow, `ended` says.
    pub(in crate::layout) fn wide(&self, ended: impl Fn(usize) -> bool) -> Vec<i64> {
        let each = self.each.iter().enumerate();
        each.map(|(at, units)| if ended(at) { 0 } else { units.wide })
            .collect()
    }
}
