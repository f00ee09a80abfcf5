//! Ways on from each position of the chain.

use crate::layout::model::completion::Completion;
use crate::layout::model::items::Gluing;
use crate::layout::model::problem::Problem;
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::prices::{NarrowWide, Prices};

/// One way on from a position of the chain: cut this item.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct Move<'p> {
    pub(in crate::layout) item: usize,
    /// How often: more than once only for staves and identical fronts.
    pub(in crate::layout) times: usize,
    /// Position after it.
    pub(in crate::layout) next: usize,
    /// Narrowest strip that can hold it.
    pub(in crate::layout) width: i64,
    /// Length and one saw cut, for all times together.
    pub(in crate::layout) room: i64,
    pub(in crate::layout) cells: usize,
    /// Price for all times less what moving its fronts costs, for a stave without its width and toll and
    /// with all it may get for what it gives.
    pub(in crate::layout) price: f64,
    /// Price of a nanometre of strip width for all times, for a stave.
    pub(in crate::layout) per_width: f64,
    /// What a narrow stave pays for a wide one, and a wide one gets.
    narrow_wide: &'p [NarrowWide],
    /// No blank of it is wider.
    pub(in crate::layout) widest: i64,
    /// What the first stave of its gluing pays.
    toll: f64,
    /// Staves of its gluing that the board may give.
    pub(in crate::layout) most: usize,
    /// How its width is found in a strip, for a stave: its gluing, whole widths of the board, glue step.
    glue: Option<(&'p Gluing, &'p [i64], i64)>,
}

impl Move<'_> {
    /// Width of the item crosscut from the full width of the board: a stave takes all there is.
    pub(in crate::layout) fn lane_width(&self, stock: &Stock, cuts: &SawRules) -> i64 {
        if self.glue.is_some() {
            let each = self.room / self.times as i64 - cuts.crosscut;
            self.blank_width(stock.width - 2 * stock.edge_loss(cuts, each))
        } else {
            self.width
        }
    }

    /// What it pays at least of the toll: a share of its own, whether or not it is the first.
    pub(in crate::layout) fn toll_at_least(&self) -> f64 {
        self.toll * self.times as f64 / self.most.max(1) as f64
    }

    /// Widths at which the price of a stave jumps.
    pub(in crate::layout) fn jumps(&self) -> impl Iterator<Item = i64> {
        self.narrow_wide.iter().flat_map(|s| [s.wide, s.narrow + 1])
    }

    /// Price in a strip `strip` wide.
    pub(in crate::layout) fn price_in(&self, strip: i64) -> f64 {
        self.price_of(self.blank_width(strip))
    }

    /// The same if a stave could be of any width.
    pub(in crate::layout) fn price_at_most(&self, strip: i64) -> f64 {
        self.price_of(strip.min(self.widest))
    }

    fn price_of(&self, wide: i64) -> f64 {
        let pairs = NarrowWide::of(self.narrow_wide, wide) * self.times as f64;
        self.price + self.per_width * wide as f64 + pairs
    }

    /// Width of its blank in a strip `strip` wide.
    pub(in crate::layout) fn blank_width(&self, strip: i64) -> i64 {
        let wide = strip.min(self.widest);
        match self.glue {
            Some((gluing, fulls, step)) => {
                let full = wide == strip && fulls.binary_search(&strip).is_ok();
                gluing.widest_in(step, wide, full)
            }
            None => wide,
        }
    }
}

/// The ways on from each position of the chain, each of a number of `cell` nanometres, that are worth
/// more than `floor`.
pub(in crate::layout) fn moves<'p>(
    (problem, index): (&'p Problem, usize),
    completion: &Completion,
    prices: &'p Prices,
    floor: f64,
    cell: i64,
) -> Vec<Vec<Move<'p>>> {
    let (crosscut, stock) = (problem.cuts.crosscut, &problem.stock[index]);
    let at = |item: usize, times: usize| {
        let it = &problem.items[item];
        let room = (it.room + crosscut) * times as i64;
        let widest = it.gluing.map_or(it.width, |m| {
            problem.gluings[m].widest.min(stock.widest[item])
        });
        let gain = it.gluing.map_or(0.0, |m| prices.gain(m, widest));
        Move {
            item,
            times,
            next: 0,
            width: it.width,
            room,
            cells: (room / cell) as usize,
            price: (prices.item[stock.look][item] - stock.moving(item) + gain) * times as f64,
            per_width: it.gluing.map_or(0.0, |m| prices.width[m]) * times as f64,
            narrow_wide: it.gluing.map_or(&[], |m| &prices.narrow_wide[m]),
            widest,
            toll: it.gluing.map_or(0.0, |m| prices.toll(index, m)),
            most: it.gluing.map_or(1, |m| completion.most(problem, index, m)),
            glue: it.gluing.map(|m| {
                (
                    &problem.gluings[m],
                    &stock.fulls[..],
                    problem.cuts.glue_step,
                )
            }),
        }
    };
    let good = |m: &Move| {
        stock.widest[m.item] > 0
            && m.room <= stock.usable() + crosscut
            && m.price_at_most(stock.width) > floor + 1e-9
    };
    // Rows without a good item are left out of the chain.
    let mut moves: Vec<Vec<Move<'p>>> = Vec::new();
    let mut position = Vec::with_capacity(problem.chain.len() + 1);
    for row in 0..problem.chain.len() {
        position.push(moves.len());
        let wholes = problem.starts[row].clone().flat_map(|item| {
            let most = most_alike(problem, stock, row, item);
            (1..=most).map(move |times| at(item, times))
        });
        let staves = problem.glued_starts[row].iter().flat_map(|&gluing| {
            let item = problem.gluings[gluing].item;
            (1..=completion.most(problem, index, gluing)).map(move |times| at(item, times))
        });
        let here: Vec<Move<'p>> = wholes.chain(staves).filter(good).collect();
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

/// How many identical fronts of the front at `row` one strip may hold; one for an item of a front without.
fn most_alike(problem: &Problem, stock: &Stock, row: usize, item: usize) -> usize {
    let kerf = problem.cuts.crosscut;
    let blanks = (stock.usable() + kerf) / (problem.items[item].room + kerf).max(1);
    match problem.identical.count(row) {
        count @ 0..=1 => count,
        count => count.min(usize::try_from(blanks).unwrap_or(0)),
    }
}
