//! Questions about a plan that pricing can be told the answer to.
//!
//! An answer bars items from boards, says that a board is used, or says which side of a tone step a run is
//! on; so the part of all plans with that answer is a job like any other.

use crate::layout::master::columns::Column;
use crate::layout::master::solved::Solved;
use crate::layout::model::items::Item;
use crate::layout::model::problem::{OnSide, Problem};

/// A yes-or-no question about a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::layout) enum Question {
    /// Are the fronts at this row and the next in one stretch?
    Joined(usize),
    /// Is the front at this row glued?
    Glued(usize),
    /// Is this gluing used?
    Gluing(usize),
    /// Is the front at this row cut in one piece from a board of this kind?
    From(usize, usize),
    /// Does this board give a stave of this gluing or more?
    Stave(usize, usize),
    /// Is this board used?
    Board(usize),
    /// Does some piece of this run, or of the case, lie on this side of a tone step?
    Side(OnSide),
}

/// A share this far from a whole number at least makes a question.
const OPEN: f64 = 1e-3;
/// Questions of each kind worth trying.
const TRIED: usize = 2;

/// The questions of each kind that the solution over `columns` is most of two minds about; those about
/// staves only where there are no others. Few of the patterns known have a stave of a given front from a
/// given board, so that an answer seems to raise the relaxation by more than it does in the end.
pub(in crate::layout) fn questions(
    problem: &Problem,
    columns: &[&Column],
    solved: &Solved,
) -> Vec<Question> {
    let kinds = [
        joined(problem, columns, solved),
        glued(problem, solved),
        gluings(solved),
        from(problem, columns, solved),
        boards(problem, columns, solved),
        sides(problem, solved),
    ];
    let open: Vec<Question> = kinds.into_iter().flat_map(most_open).collect();
    if open.is_empty() {
        return most_open(staves(problem, columns, solved));
    }
    open
}

fn most_open(mut shares: Vec<(Question, f64)>) -> Vec<Question> {
    let open = |share: f64| (share - share.floor()).min(share.ceil() - share);
    shares.retain(|&(_, share)| open(share) > OPEN);
    // The sort keeps the order of equals: the questions come in order.
    shares.sort_by(|a, b| open(b.1).total_cmp(&open(a.1)));
    shares.truncate(TRIED);
    shares.into_iter().map(|(question, _)| question).collect()
}

fn joins(item: &Item, row: usize) -> bool {
    item.rows.contains(&row) && item.rows.contains(&(row + 1))
}

/// Share of the whole stretches and glued ones that `has` says yes to.
fn share(
    problem: &Problem,
    columns: &[&Column],
    solved: &Solved,
    has: &dyn Fn(&Item) -> bool,
) -> f64 {
    let wholes = columns.iter().zip(&solved.shares).map(|(column, share)| {
        let items = column.wholes.iter();
        items.filter(|&&item| has(&problem.items[item])).count() as f64 * share
    });
    let glued = problem.gluings.iter().zip(&solved.glued);
    let glued = glued.filter(|(gluing, _)| has(&problem.items[gluing.item]));
    wholes.sum::<f64>() + glued.map(|(_, share)| share).sum::<f64>()
}

fn joined(problem: &Problem, columns: &[&Column], solved: &Solved) -> Vec<(Question, f64)> {
    let within = problem.runs.iter().flat_map(|rows| {
        let last = rows.end.saturating_sub(1);
        rows.start..last.max(rows.start)
    });
    within
        .map(|row| {
            let joins = |item: &Item| joins(item, row);
            (
                Question::Joined(row),
                share(problem, columns, solved, &joins),
            )
        })
        .collect()
}

fn glued(problem: &Problem, solved: &Solved) -> Vec<(Question, f64)> {
    let of = |row: usize| -> f64 {
        let gluings = problem.gluings.iter().zip(&solved.glued);
        gluings
            .filter(|(gluing, _)| gluing.rows.contains(&row))
            .map(|(_, share)| share)
            .sum()
    };
    (0..problem.chain.len())
        .map(|row| (Question::Glued(row), of(row)))
        .collect()
}

fn gluings(solved: &Solved) -> Vec<(Question, f64)> {
    let shares = solved.glued.iter().enumerate();
    shares
        .map(|(gluing, &share)| (Question::Gluing(gluing), share))
        .collect()
}

fn from(problem: &Problem, columns: &[&Column], solved: &Solved) -> Vec<(Question, f64)> {
    let mut shares = vec![vec![0.0; problem.stock.len()]; problem.chain.len()];
    for (column, share) in columns.iter().zip(&solved.shares) {
        for &item in &column.wholes {
            for row in problem.items[item].rows.clone() {
                shares[row][column.pattern.stock] += share;
            }
        }
    }
    let rows = shares.into_iter().enumerate();
    rows.flat_map(|(row, boards)| {
        let boards = boards.into_iter().enumerate();
        boards.map(move |(board, share)| (Question::From(row, board), share))
    })
    .collect()
}

fn staves(problem: &Problem, columns: &[&Column], solved: &Solved) -> Vec<(Question, f64)> {
    let mut shares = vec![vec![0.0; problem.stock.len()]; problem.gluings.len()];
    for (column, share) in columns.iter().zip(&solved.shares) {
        for gluing in column.gluings() {
            shares[gluing][column.pattern.stock] += share;
        }
    }
    let gluings = shares.into_iter().enumerate();
    gluings
        .flat_map(|(gluing, boards)| {
            let boards = boards.into_iter().enumerate();
            let boards = boards.filter(|&(board, _)| problem.stock[board].count == 1);
            boards.map(move |(board, share)| (Question::Stave(gluing, board), share))
        })
        .collect()
}

fn boards(problem: &Problem, columns: &[&Column], solved: &Solved) -> Vec<(Question, f64)> {
    let mut shares = vec![0.0; problem.stock.len()];
    for (column, &share) in columns.iter().zip(&solved.shares) {
        shares[column.pattern.stock] += share;
    }
    let boards = shares.into_iter().enumerate();
    boards
        .filter(|&(board, _)| problem.stock[board].count == 1)
        .map(|(board, share)| (Question::Board(board), share))
        .collect()
}

fn sides(problem: &Problem, solved: &Solved) -> Vec<(Question, f64)> {
    let mut shares = Vec::new();
    for run in 0..=problem.runs.len() {
        for (below, sides) in [(true, &solved.below), (false, &solved.above)] {
            for (step, &share) in sides[run].iter().enumerate() {
                shares.push((Question::Side(OnSide { run, step, below }), share));
            }
        }
    }
    shares
}

impl Question {
    /// The job of the plans that answer `yes` or no; nothing when that is known already, as it is
    /// where a front is of two minds about being made at all.
    pub(in crate::layout) fn answered<'a>(
        &self,
        problem: &Problem<'a>,
        yes: bool,
    ) -> Option<Problem<'a>> {
        let mut part = problem.clone();
        let mut news = false;
        for (board, stock) in part.stock.iter_mut().enumerate() {
            for (item, widest) in problem.items.iter().zip(&mut stock.widest) {
                if *widest > 0 && self.bars(problem, item, (board, stock.tone), yes) {
                    *widest = 0;
                    news = true;
                }
            }
        }
        if let Question::Board(board) | Question::Stave(_, board) = *self
            && yes
            && !part.used.contains(&board)
        {
            part.used.push(board);
            news = true;
        }
        if let Question::Stave(gluing, board) = *self
            && yes
            && !part.giving.contains(&(board, gluing))
        {
            part.giving.push((board, gluing));
            news = true;
        }
        for side in self.settled(problem, yes) {
            if !part.sides.contains(&side) {
                part.sides.push(side);
                news = true;
            }
        }
        news.then_some(part)
    }

    /// The sides of tone steps that follow from an answer.
    fn settled(&self, problem: &Problem, yes: bool) -> Vec<OnSide> {
        match *self {
            Question::Side(side) => settled(problem, side, yes),
            // A board in use puts the case on its side of every step.
            Question::Board(board) | Question::Stave(_, board) if yes => {
                let tone = problem.stock[board].tone;
                let steps = 0..problem.tones.len().saturating_sub(1);
                let side = |step| OnSide {
                    run: problem.runs.len(),
                    step,
                    below: tone <= step,
                };
                steps.map(side).collect()
            }
            _ => Vec::new(),
        }
    }

    /// Whether no plan that answers `yes` or no cuts this item from a board of this kind and tone.
    fn bars(
        &self,
        problem: &Problem,
        item: &Item,
        (board, tone): (usize, usize),
        yes: bool,
    ) -> bool {
        let whole = item.gluing.is_none();
        match *self {
            Question::Joined(row) => {
                let here = item.rows.contains(&row) || item.rows.contains(&(row + 1));
                here && joins(item, row) != yes
            }
            Question::Glued(row) => item.rows.contains(&row) && whole == yes,
            Question::Gluing(gluing) | Question::Stave(gluing, _) if yes => {
                let rows = &problem.gluings[gluing].rows;
                let overlaps = rows.start < item.rows.end && item.rows.start < rows.end;
                overlaps && item.gluing != Some(gluing)
            }
            Question::Gluing(gluing) => item.gluing == Some(gluing),
            Question::Stave(gluing, here) => item.gluing == Some(gluing) && board == here,
            Question::From(row, here) if yes => {
                item.rows.contains(&row) && !(whole && board == here)
            }
            Question::From(row, here) => item.rows.contains(&row) && whole && board == here,
            Question::Board(of) => !yes && board == of,
            Question::Side(side) => {
                let of = side.run == item.run || side.run == problem.runs.len();
                !yes && of && (tone <= side.step) == side.below
            }
        }
    }
}

/// The sides that follow from the answer to a question about one.
fn settled(problem: &Problem, side: OnSide, yes: bool) -> Vec<OnSide> {
    let case = problem.runs.len();
    let on = |run| OnSide { run, ..side };
    let off = |run| OnSide {
        run,
        below: !side.below,
        ..side
    };
    match yes {
        true if side.run == case => vec![side],
        // What a run has the case has too.
        true => vec![side, on(case)],
        false if side.run == case => (0..=case).map(off).collect(),
        false => vec![off(side.run), off(case)],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::generate::Size;
    use crate::job::generate::generate;

    #[test]
    fn a_board_is_used_and_the_case_on_its_sides_or_nothing_is_cut_from_it() {
        let job = generate(Size::CHEST, 3);
        let problem = Problem::new(&job, false);
        let case = problem.runs.len();
        for (board, stock) in problem.stock.iter().enumerate() {
            let question = Question::Board(board);
            let without = question.answered(&problem, false);
            let without = without.expect("fronts may be cut from every board");
            for (other, stock) in without.stock.iter().enumerate() {
                let same = stock.widest == problem.stock[other].widest;
                let idle = stock.widest.iter().all(|&widest| widest == 0);
                assert!(if other == board { idle } else { same });
            }
            let with = question.answered(&problem, true);
            let with = with.expect("no board is known to be used");
            assert_eq!(with.used, [board]);
            assert_eq!(with.sides.len(), problem.tones.len() - 1);
            for side in &with.sides {
                assert_eq!(
                    (side.run, side.below),
                    (case, stock.tone <= side.step),
                    "{side:?}"
                );
            }
            assert!(question.answered(&with, true).is_none());
        }
    }

    #[test]
    fn a_board_gives_staves_of_a_front_that_is_glued_so_or_none() {
        let job = generate(Size::CHEST, 7);
        let problem = Problem::new(&job, false);
        let widest =
            |problem: &Problem, board: usize, item: usize| problem.stock[board].widest[item];
        let mut tried = 0;
        for (gluing, of) in problem.gluings.iter().enumerate() {
            let from = |&board: &usize| widest(&problem, board, of.item) > 0;
            let Some(board) = (0..problem.stock.len()).find(from) else {
                continue;
            };
            tried += 1;
            let question = Question::Stave(gluing, board);
            let without = question
                .answered(&problem, false)
                .expect("it may give some");
            let with = question
                .answered(&problem, true)
                .expect("it need not give any");
            assert_eq!(
                (with.used.as_slice(), with.giving.as_slice()),
                (&[board][..], &[(board, gluing)][..])
            );
            for other in 0..problem.stock.len() {
                for (index, item) in problem.items.iter().enumerate() {
                    let before = widest(&problem, other, index);
                    let barred = other == board && index == of.item;
                    assert_eq!(
                        widest(&without, other, index),
                        if barred { 0 } else { before }
                    );
                    let apart = item.rows.end <= of.rows.start || of.rows.end <= item.rows.start;
                    let stays = apart || index == of.item;
                    assert_eq!(widest(&with, other, index), if stays { before } else { 0 });
                }
            }
        }
        assert!(tried > 0);
    }
}
