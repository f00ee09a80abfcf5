//! What is wrong with a plan.

use std::fmt;

use thiserror::Error;

/// One rule broken in one place.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("{rule}: {place}{text}", place = self.place())]
pub struct Violation {
    /// The rule broken.
    pub rule: Rule,
    /// The board it is broken on, with its copy, where it is about one.
    pub board: Option<String>,
    /// The front it is broken for, where it is about one.
    pub front: Option<String>,
    /// What is wrong, with the numbers.
    pub text: String,
}

impl Violation {
    /// Whether it keeps no one from cutting the plan: a note, where the maker drew it by hand.
    pub fn is_note(&self) -> bool {
        self.rule == Rule::Plain
    }

    fn place(&self) -> String {
        match (&self.board, &self.front) {
            (Some(board), Some(front)) => format!("board {board}, front {front}: "),
            (Some(board), None) => format!("board {board}: "),
            (None, Some(front)) => format!("front {front}: "),
            (None, None) => String::new(),
        }
    }
}

/// What a plan is tested for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Rule {
    /// Every board is one of the pile's, cut once, and cut for something.
    Boards,
    /// Every front is made once or said not to be made; pinned ones come from their board.
    Fronts,
    /// Sections, strips and blanks lie where the saw can cut them, a kerf apart.
    Cuts,
    /// A blank is just as large as its front and its stretch need.
    Sizes,
    /// A blank keeps clear of defects.
    Defects,
    /// A stretch follows its run, in one strip, with little lost between.
    Stretches,
    /// What flattening leaves is thick enough.
    Thickness,
    /// Kept pieces are just those worth keeping.
    Kept,
    /// Staves add up to their front.
    Staves,
    /// The plan keeps to the limits asked for.
    Limits,
    /// The figures of the totals are right.
    Totals,
    /// Cuts are plain: nothing is shared out, grown or pushed aside without need. A plan that breaks
    /// only this one can be cut.
    Plain,
    /// What is cut stays where it was cut, and nothing is placed on wood that is gone.
    Sawn,
}

impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Rule::Boards => "boards",
            Rule::Fronts => "fronts",
            Rule::Cuts => "cuts",
            Rule::Sizes => "sizes",
            Rule::Defects => "defects",
            Rule::Stretches => "stretches",
            Rule::Thickness => "thickness",
            Rule::Kept => "kept pieces",
            Rule::Staves => "staves",
            Rule::Limits => "limits",
            Rule::Totals => "totals",
            Rule::Plain => "plain cuts",
            Rule::Sawn => "already sawn",
        })
    }
}
