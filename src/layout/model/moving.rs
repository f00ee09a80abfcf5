//! What work in progress makes a pattern cost: fronts that leave the place they are chalked at, and
//! fronts unlike their neighbours.

use crate::layout::model::history::{Chalk, History};
use crate::layout::model::items::Item;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::Shape;
use crate::layout::model::stock::{Staying, Stock};

impl Stock {
    /// What `item` costs here at least for where its fronts are chalked and what their neighbours
    /// look like.
    pub(in crate::layout) fn moving(&self, item: usize) -> f64 {
        self.moving.get(item).copied().unwrap_or(0.0)
    }
}

impl Problem<'_> {
    /// What the fronts of `shape` cost on a board of kind `stock` for where they are chalked and
    /// for what their neighbours look like.
    pub(in crate::layout) fn moving(&self, stock: usize, shape: &Shape) -> f64 {
        let stock = &self.stock[stock];
        let strips = || shape.iter().flatten();
        let each: f64 = strips()
            .flat_map(|strip| &strip.items)
            .map(|&item| stock.moving(item))
            .sum();
        let cut = |item: usize| strips().any(|strip| strip.items.contains(&item));
        let here = stock.staying.iter().filter(|staying| cut(staying.item));
        let pushed = here.filter(|staying| {
            let mut items = strips().flat_map(|strip| &strip.items);
            items.any(|&other| self.is_in_the_way(stock, staying, other))
        });
        each + pushed.map(|staying| staying.moved).sum::<f64>()
    }

    /// Whether `other` has no room on the board while chalk stays on it. Other chalk may stay too.
    fn is_in_the_way(&self, stock: &Stock, staying: &Staying, other: usize) -> bool {
        let item = &self.items[other];
        let fits = |&(long, wide): &(i64, i64)| item.length <= long && item.width <= wide;
        stock.staying.iter().all(|chalk| chalk.item != other) && !staying.room.iter().any(fits)
    }

    /// Notes what each item costs on each board for the fronts chalked elsewhere and for those whose
    /// neighbours look different.
    pub(in crate::layout) fn add_moving(&mut self, history: &History, price: f64) {
        let no_home = history.moved == 0.0 || history.home.iter().all(Option::is_none);
        if no_home && history.unlike.iter().all(Vec::is_empty) {
            return;
        }
        for index in 0..self.stock.len() {
            let board = self.stock[index].board;
            let here = history.chalk.iter().filter(|chalk| chalk.board == board);
            let staying: Vec<Staying> = here
                .filter_map(|chalk| self.staying(chalk, history.moved * price))
                .collect();
            let cost = |(index, item): (usize, &Item)| {
                let may_stay = staying.iter().any(|staying| staying.item == index);
                price * self.cost_of_moving(history, item, board, may_stay)
            };
            let moving = self.items.iter().enumerate().map(cost).collect();
            (self.stock[index].moving, self.stock[index].staying) = (moving, staying);
        }
    }

    /// In board feet. A stretch that is not chalked as one can't stay as one.
    fn cost_of_moving(&self, history: &History, item: &Item, board: usize, may_stay: bool) -> f64 {
        let fronts = || item.rows.clone().map(|row| self.chain[row]);
        if let Some(gluing) = item.gluing {
            // Glued fronts may stay where they are, but none that is chalked in one piece may.
            let whole = |&front: &usize| history.chalk.iter().any(|c| c.fronts.contains(&front));
            let staves = self.gluings[gluing].staves as f64;
            return history.moved * fronts().filter(whole).count() as f64 / staves;
        }
        let of_front = |front: usize| {
            let home = history.home.get(front).copied().flatten();
            let leaves = home.is_some_and(|at| at != board || !may_stay);
            let unlike = history.unlike.get(front).and_then(|by| by.get(board));
            unlike.copied().unwrap_or(0.0) + if leaves { history.moved } else { 0.0 }
        };
        fronts().map(of_front).sum()
    }

    /// The one-piece item of just these fronts.
    fn staying(&self, chalk: &Chalk, moved: f64) -> Option<Staying> {
        let is_it =
            |item: &Item| item.gluing.is_none() && self.chain[item.rows.clone()] == chalk.fronts;
        let room = chalk.room.iter().map(|(long, wide)| (long.nm(), wide.nm()));
        Some(Staying {
            item: self.items.iter().position(is_it)?,
            moved: moved * chalk.fronts.len() as f64,
            room: room.collect(),
        })
    }
}
