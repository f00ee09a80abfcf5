//! Questions that split a list of patterns in two.

use std::collections::HashMap;
use std::ops::Range;

use crate::layout::master::columns::Column;
use crate::layout::master::solved::Solved;
use crate::layout::model::problem::Problem;

/// A yes-or-no question about a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(in crate::layout) enum Question {
    /// Is the front at this row cut in one piece from this board?
    From(usize, usize),
    /// Is this stretch cut in one piece?
    Whole(usize),
    /// Is this gluing used?
    Glued(usize),
    /// Does some stave of this gluing come from this board?
    Stave(usize, usize),
    /// Are the fronts at these rows cut in one piece each, and from one board? (Ryan, Foster 1981, An
    /// integer programming approach to scheduling.) Only this tells apart what is cut from boards alike.
    Together(usize, usize),
    /// Is the pattern at this place of the list cut, from this board?
    Pattern(usize, usize),
}

/// A share this far from a whole number at least makes a question.
const OPEN: f64 = 1e-3;

/// Questions worth trying.
const TRIED: usize = 6;

/// The questions the solution is most of two minds about; none when it is of one. `places` are
/// those of the columns in the list.
pub(in crate::layout) fn questions(
    problem: &Problem,
    columns: &[&Column],
    places: &[usize],
    solved: &Solved,
) -> Vec<Question> {
    let mut shares: HashMap<Question, f64> = HashMap::new();
    for (column, &share) in columns.iter().zip(&solved.shares) {
        for question in answered_yes(problem, column) {
            *shares.entry(question).or_insert(0.0) += share;
        }
    }
    for (gluing, &share) in solved.glued.iter().enumerate() {
        shares.insert(Question::Glued(gluing), share);
    }
    let best = most_open(
        shares
            .into_iter()
            .map(|(question, share)| (question, share, weight(problem, question))),
    );
    if !best.is_empty() {
        return best;
    }
    let patterns = columns.iter().zip(places).zip(&solved.shares);
    let mut best = most_open(patterns.map(|((column, &place), &share)| {
        let question = Question::Pattern(place, column.pattern.stock);
        (question, share, 1.0)
    }));
    best.truncate(1);
    best
}

/// The questions a pattern says yes to, but for the one about itself.
fn answered_yes(problem: &Problem, column: &Column) -> Vec<Question> {
    let stock = column.pattern.stock;
    let mut answered_yes = Vec::new();
    let told_apart = |&&item: &&usize| problem.identical.count(problem.items[item].rows.start) == 1;
    for &item in column.wholes.iter().filter(told_apart) {
        let rows = problem.items[item].rows.clone();
        answered_yes.extend(rows.map(|row| Question::From(row, stock)));
        answered_yes.push(Question::Whole(item));
    }
    if problem.stock[stock].count == 1 {
        let mut gluings: Vec<usize> = column.staves.iter().map(|&(gluing, _)| gluing).collect();
        gluings.dedup();
        answered_yes.extend(
            gluings
                .into_iter()
                .map(|gluing| Question::Stave(gluing, stock)),
        );
    }
    answered_yes.extend(together(problem, column));
    answered_yes.sort_unstable();
    answered_yes.dedup();
    answered_yes
}

/// The questions about pairs of fronts that a pattern says yes to, where there are boards alike.
fn together(problem: &Problem, column: &Column) -> Vec<Question> {
    if problem.stock[column.pattern.stock].count == 1 {
        return Vec::new();
    }
    let wholes = column.wholes.iter().map(|&item| &problem.items[item].rows);
    let mut rows: Vec<usize> = wholes.flat_map(Clone::clone).collect();
    rows.retain(|&row| problem.identical.count(row) == 1);
    rows.sort_unstable();
    let pairs = rows.iter().enumerate();
    pairs
        .flat_map(|(i, &a)| rows[i + 1..].iter().map(move |&b| Question::Together(a, b)))
        .collect()
}

/// How much an answer settles: the more fronts of a stretch, the more.
fn weight(problem: &Problem, question: Question) -> f64 {
    let rows = match question {
        Question::From(..) | Question::Pattern(..) | Question::Together(..) => 1,
        Question::Whole(item) => problem.items[item].rows.len(),
        Question::Glued(gluing) | Question::Stave(gluing, _) => problem.gluings[gluing].rows.len(),
    };
    1.0 + 0.1 * rows as f64
}

fn most_open(questions: impl Iterator<Item = (Question, f64, f64)>) -> Vec<Question> {
    let open = |share: f64| (share - share.floor()).min(share.ceil() - share);
    let mut questions: Vec<(Question, f64)> = questions
        .filter(|&(_, share, _)| open(share) > OPEN)
        .map(|(question, share, weight)| (question, open(share) * weight))
        .collect();
    questions.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    questions.truncate(TRIED);
    questions
        .into_iter()
        .map(|(question, _)| question)
        .collect()
}

impl Question {
    /// The board that must be used after the answer, if the answer does not show otherwise.
    pub(in crate::layout) fn fills(&self, problem: &Problem, yes: bool) -> Option<usize> {
        match *self {
            Question::Stave(_, board) | Question::Pattern(_, board) => {
                (yes && problem.stock[board].count == 1).then_some(board)
            }
            _ => None,
        }
    }

    /// Whether a plan that answers `yes` or no may have the column at `place` of the list.
    pub(in crate::layout) fn allows(
        &self,
        problem: &Problem,
        column: &Column,
        place: usize,
        yes: bool,
    ) -> bool {
        let stock = column.pattern.stock;
        let alone = |board: usize| problem.stock[board].count == 1;
        match *self {
            Question::From(row, board) => {
                let cuts = cuts_whole(problem, column, row);
                match (yes, stock == board) {
                    (true, true) => {
                        (cuts || !alone(board)) && !glues(problem, column, row..row + 1, None)
                    }
                    (true, false) => !cuts && !glues(problem, column, row..row + 1, None),
                    (false, here) => !(here && cuts),
                }
            }
            Question::Whole(item) => {
                let has = column.wholes.contains(&item);
                let rows = problem.items[item].rows.clone();
                if yes {
                    let other = rows.clone().any(|row| cuts_whole(problem, column, row));
                    (has || !other) && !glues(problem, column, rows, None)
                } else {
                    !has
                }
            }
            Question::Glued(gluing) => {
                let rows = problem.gluings[gluing].rows.clone();
                if yes {
                    let other = rows.clone().any(|row| cuts_whole(problem, column, row));
                    !other && !glues(problem, column, rows, Some(gluing))
                } else {
                    column.staves.iter().all(|&(m, _)| m != gluing)
                }
            }
            Question::Stave(gluing, board) => {
                let has = column.staves.iter().any(|&(m, _)| m == gluing);
                stock != board || has == yes
            }
            Question::Together(a, b) if yes => {
                let glues = |row: usize| glues(problem, column, row..row + 1, None);
                let apart = cuts_whole(problem, column, a) != cuts_whole(problem, column, b);
                !(apart || glues(a) || glues(b))
            }
            Question::Together(a, b) => {
                !(cuts_whole(problem, column, a) && cuts_whole(problem, column, b))
            }
            Question::Pattern(this, board) if yes => {
                place == this || stock != board || !alone(board)
            }
            Question::Pattern(this, _) => place != this,
        }
    }
}

/// Whether the column cuts the front at `row` in one piece.
fn cuts_whole(problem: &Problem, column: &Column, row: usize) -> bool {
    let mut wholes = column.wholes.iter();
    wholes.any(|&item| problem.items[item].rows.contains(&row))
}

/// Whether the column has a stave of any of the fronts at `rows`, other than of gluing `but`.
fn glues(problem: &Problem, column: &Column, rows: Range<usize>, but: Option<usize>) -> bool {
    column.staves.iter().any(|&(gluing, _)| {
        let of = &problem.gluings[gluing].rows;
        Some(gluing) != but && of.start < rows.end && rows.start < of.end
    })
}
