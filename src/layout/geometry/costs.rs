//! One board's pattern and its cost, found once and remembered.

use std::collections::HashMap;
use std::sync::RwLock;

use crate::layout::geometry::place::best::{fits, place};
use crate::layout::geometry::place::flat::is_clear;
use crate::layout::geometry::place::options::Sections;
use crate::layout::geometry::placed::clear_cost;
use crate::layout::model::pattern::sorted;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, outline};

/// What a pattern's wood costs, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::layout) struct Wood {
    /// In the best arrangement found.
    pub(in crate::layout) found: Option<f64>,
    /// In any arrangement at least: infinite where there is none.
    pub(in crate::layout) least: f64,
}

impl Wood {
    /// Whether more might come of looking for arrangements that cost less than `enough`.
    fn is_open(&self, enough: f64) -> bool {
        self.least < enough && self.found.is_none_or(|found| self.least < found)
    }
}

/// Costs of patterns on boards with defects, where finding one takes a search.
#[derive(Default)]
pub(in crate::layout) struct Costs {
    known: RwLock<HashMap<(usize, Shape), (Wood, f64)>>,
    sections: Sections,
    rough: bool,
}

impl Costs {
    /// Costs that only ask whether a pattern fits, and charge the wood it would use on a clear
    /// board: many times sooner found, and enough where only what can be made counts.
    pub(in crate::layout) fn rough() -> Costs {
        Costs {
            rough: true,
            ..Costs::default()
        }
    }

    /// Cost of the wood `shape` uses on a board of kind `stock`, and of what moves there, or nothing
    /// when it is not known to fit.
    pub(in crate::layout) fn wood(
        &self,
        problem: &Problem,
        stock: usize,
        shape: &Shape,
    ) -> Option<f64> {
        self.wood_below(problem, stock, shape, f64::INFINITY).found
    }

    /// The same where no arrangement that costs `enough` or more is of use.
    pub(in crate::layout) fn wood_below(
        &self,
        problem: &Problem,
        stock: usize,
        shape: &Shape,
        enough: f64,
    ) -> Wood {
        let board = &problem.stock[stock];
        let none = Wood {
            found: None,
            least: f64::INFINITY,
        };
        if !board.part.allows(shape.iter().map(Vec::len)) {
            return none;
        }
        let Some(lower) = clear_cost(board, &problem.cuts, &outline(problem, shape)) else {
            return none;
        };
        let moving = problem.moving(stock, shape);
        if is_clear(problem, board, shape) {
            return Wood {
                found: Some(lower + moving),
                least: lower + moving,
            };
        }
        let key = (stock, sorted(shape));
        if let Ok(known) = self.known.read()
            && let Some(&(wood, asked)) = known.get(&key)
            && (asked >= enough || !wood.is_open(enough))
        {
            return wood;
        }
        if problem.patience.is_over() {
            return Wood {
                found: None,
                least: lower + moving,
            };
        }
        let wood = if self.rough {
            let sections = (&self.sections, stock);
            let found = fits(problem, board, sections, &key.1).then_some(lower + moving);
            Wood {
                found,
                least: found.unwrap_or(f64::INFINITY),
            }
        } else {
            let arranged = place((problem, stock), &self.sections, &key.1, enough - moving);
            Wood {
                found: arranged.placed.map(|placed| placed.cost + moving),
                least: arranged.least + moving,
            }
        };
        // What was broken off is not known.
        if !problem.patience.is_over()
            && let Ok(mut known) = self.known.write()
        {
            known.insert(key, (wood, enough));
        }
        wood
    }
}
