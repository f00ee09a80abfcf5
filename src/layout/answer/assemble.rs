//! Turns the chosen patterns into a plan with coordinates, copies and stretch numbers.

use crate::layout::geometry::place::best::place_nearest;
use crate::layout::geometry::place::spans::spans;
use crate::layout::geometry::placed::{Placed, PlacedItem, PlacedSection};
use crate::layout::model::pattern::{Pattern, sorted};
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, End, Section, Strip};

/// A pattern that was found to fit its board and is not found to now: a fault of the program, never of a job.
pub(in crate::layout) struct Unplaced {
    /// Rows of the fronts it cuts something of.
    pub(in crate::layout) rows: Vec<usize>,
}

/// The boards of the plan that cuts `patterns`, in order of kind and copy, and the patterns that could not be
/// laid out.
pub(in crate::layout) fn boards(
    problem: &Problem,
    patterns: &[Pattern],
) -> (Vec<BoardPlan>, Vec<Unplaced>) {
    let mut order: Vec<&Pattern> = patterns.iter().collect();
    order.sort_by_key(|p| (p.stock, first_row(problem, p)));
    let numbers = stretch_numbers(problem, patterns);
    let mut next_copy = vec![0; problem.stock.len()];
    let mut maker = Maker {
        problem,
        numbers,
        staves: vec![0; problem.gluings.len()],
    };
    let (mut plans, mut unplaced) = (Vec::new(), Vec::new());
    for pattern in order {
        let stock = &problem.stock[pattern.stock];
        let Some(placed) = place_nearest(problem, stock, &sorted(&pattern.shape)) else {
            let rows = pattern
                .items()
                .flat_map(|item| problem.items[item].rows.clone());
            unplaced.push(Unplaced {
                rows: rows.collect(),
            });
            continue;
        };
        let copies = &problem.job.boards[stock.board].copies;
        let copy = copies[next_copy[pattern.stock]];
        next_copy[pattern.stock] += 1;
        plans.push(maker.board(stock, copy, placed));
    }
    (plans, unplaced)
}

fn first_row(problem: &Problem, pattern: &Pattern) -> usize {
    pattern
        .items()
        .map(|i| problem.items[i].rows.start)
        .min()
        .unwrap_or(0)
}

/// Number of the stretch each front is in, counted from 1 along its run.
fn stretch_numbers(problem: &Problem, patterns: &[Pattern]) -> Vec<u32> {
    let mut first_of = vec![None; problem.chain.len()];
    for item in patterns.iter().flat_map(Pattern::items) {
        let fronts = problem.items[item].rows.clone();
        let start = fronts.start;
        fronts.for_each(|row| first_of[row] = Some(start));
    }
    let mut numbers = vec![0; problem.chain.len()];
    for run in &problem.runs {
        let (mut number, mut last) = (0, None);
        for row in run.clone() {
            if first_of[row].is_some() && first_of[row] != last {
                number += 1;
            }
            last = first_of[row].or(last);
            numbers[row] = number;
        }
    }
    numbers
}

/// Writes boards out, counting the staves of each gluing as they come.
struct Maker<'p, 'a> {
    problem: &'p Problem<'a>,
    numbers: Vec<u32>,
    staves: Vec<u32>,
}

impl Maker<'_, '_> {
    fn board(&mut self, stock: &Stock, copy: u32, placed: Placed) -> BoardPlan {
        BoardPlan {
            board: stock.board,
            copy,
            kept: placed.kept,
            sections: placed
                .sections
                .into_iter()
                .map(|section| self.section(section))
                .collect(),
        }
    }

    fn section(&mut self, section: PlacedSection) -> Section {
        let nm = Length::from_nm;
        Section {
            from: nm(section.from),
            to: nm(section.to),
            strips: section
                .strips
                .into_iter()
                .map(|strip| Strip {
                    low: nm(strip.low),
                    high: nm(strip.high),
                    blanks: strip.items.iter().flat_map(|i| self.blanks(i)).collect(),
                })
                .collect(),
        }
    }

    fn blanks(&mut self, placed: &PlacedItem) -> Vec<Blank> {
        let item = &self.problem.items[placed.item];
        let mut rows: Vec<usize> = item.rows.clone().collect();
        if placed.reverse {
            rows.reverse();
        }
        let (stave, staves) = match item.gluing {
            Some(gluing) => {
                self.staves[gluing] += 1;
                (
                    self.staves[gluing],
                    self.problem.gluings[gluing].staves as u32,
                )
            }
            None => (1, 1),
        };
        rows.into_iter()
            .zip(spans(self.problem, placed))
            .map(|(row, (from, to))| Blank {
                front: self.problem.chain[row],
                stave,
                staves,
                stretch: self.numbers[row],
                from: Length::from_nm(from),
                to: Length::from_nm(to),
                low: Length::from_nm(placed.low),
                high: Length::from_nm(placed.low + placed.width),
                left: if placed.reverse { End::Far } else { End::Hook },
                face: placed.face,
            })
            .collect()
    }
}
