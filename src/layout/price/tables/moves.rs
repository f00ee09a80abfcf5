//! Ways on from each position of the chain.

use super::super::super::problem::{Cuts, Problem, Stock};
use super::super::Prices;
use super::Tables;

/// One way on from a position of the chain: cut this item.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Move {
    pub(in super::super) item: usize,
    /// How often: more than once only for staves and twins.
    pub(in super::super) times: usize,
    /// Position after it.
    pub(in super::super) next: usize,
    /// Narrowest strip that can hold it.
    pub(in super::super) width: i64,
    /// Length and one saw cut, for all times together.
    pub(in super::super) room: i64,
    pub(super) cells: usize,
    /// Price for all times less what moving its fronts costs, for a stave without its width.
    pub(in super::super) price: f64,
    /// Price of a nanometre of strip width for all times, for a stave.
    pub(in super::super) per_width: f64,
    /// No blank of it is wider.
    pub(in super::super) widest: i64,
    stave: bool,
}

impl Move {
    /// Width of the item crosscut from the full width of the board: a stave takes all there is.
    pub(in super::super) fn lane_width(&self, stock: &Stock, cuts: &Cuts) -> i64 {
        if self.stave {
            let each = self.room / self.times as i64 - cuts.crosscut;
            (stock.width - 2 * stock.edge_loss(cuts, each)).min(self.widest)
        } else {
            self.width
        }
    }

    /// Price in a strip `strip` wide that might be made `slack` wider.
    pub(in super::super) fn price_in(&self, strip: i64, slack: i64) -> f64 {
        self.price + self.per_width * (strip + slack).min(self.widest) as f64
    }
}

impl Tables {
    pub(super) fn moves(
        &self,
        problem: &Problem,
        stock: &Stock,
        prices: &Prices,
        floor: f64,
    ) -> Vec<Vec<Move>> {
        let at = |item: usize, times: usize| {
            let it = &problem.items[item];
            let room = (it.room + self.crosscut) * times as i64;
            Move {
                item,
                times,
                next: 0,
                width: it.width,
                room,
                cells: (room / self.cell) as usize,
                price: (prices.item[stock.tone][item] - stock.moving(item)) * times as f64,
                per_width: it.mode.map_or(0.0, |m| prices.width[m]) * times as f64,
                widest: it.mode.map_or(it.width, |m| {
                    problem.modes[m].widest.min(stock.widest[item])
                }),
                stave: it.mode.is_some(),
            }
        };
        let good = |m: &Move| {
            stock.widest[m.item] > 0
                && m.room <= stock.usable() + self.crosscut
                && m.price_in(stock.width, 0) > floor + 1e-9
        };
        // Rows without a good item are left out of the chain.
        let mut moves: Vec<Vec<Move>> = Vec::new();
        let mut position = Vec::with_capacity(problem.chain.len() + 1);
        for row in 0..problem.chain.len() {
            position.push(moves.len());
            let wholes = problem.starts[row].clone().flat_map(|item| {
                let most = most_alike(problem, stock, row, item);
                (1..=most).map(move |times| at(item, times))
            });
            let staves = problem.glued_starts[row].iter().flat_map(|&mode| {
                let m = &problem.modes[mode];
                (1..=m.staves).map(|times| at(m.item, times))
            });
            let here: Vec<Move> = wholes.chain(staves).filter(good).collect();
            if !here.is_empty() {
                moves.push(here);
            }
        }
        position.push(moves.len());
        for m in moves.iter_mut().flatten() {
            m.next = position[problem.items[m.item].rows.end];
        }
        moves
    }
}

/// How many twins of the front at `row` one strip may hold; one for an item of a front without.
fn most_alike(problem: &Problem, stock: &Stock, row: usize, item: usize) -> usize {
    let kerf = problem.cuts.crosscut;
    let blanks = (stock.usable() + kerf) / (problem.items[item].room + kerf).max(1);
    match problem.twins.count(row) {
        count @ 0..=1 => count,
        count => count.min(usize::try_from(blanks).unwrap_or(0)),
    }
}
