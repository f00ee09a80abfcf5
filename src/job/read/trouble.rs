//! What can be wrong between the cells of a job: names, references, places.

use crate::job::fault::{Trouble, Weight};
use crate::job::{Front, Grain};

/// How warp is measured.
pub(in crate::job) const WARP: &str = "warp is how far the board stands off a straight line or a flat bench at \
                    the most, over its whole length or width";

/// What can be wrong with a row of `boards.csv`, beyond its cells.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BoardTrouble {
    /// No rows.
    #[error("there are no boards in it")]
    None,
    /// Warp that no board has.
    #[error("a board {size} {dimension} can't be so far from straight")]
    Warp {
        /// How long or wide it is.
        size: String,
        /// `long` or `wide`.
        dimension: &'static str,
    },
    /// A name that stands in the file already.
    #[error("this board stands in line {line} already")]
    Twice {
        /// Where it stood first.
        line: usize,
    },
}

impl Trouble for BoardTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            BoardTrouble::None => "one line a board below the header".into(),
            BoardTrouble::Warp { size, .. } => format!("less than {size}"),
            BoardTrouble::Twice { .. } => "a name of its own for each board".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            BoardTrouble::None => None,
            BoardTrouble::Warp { .. } => Some(WARP.into()),
            BoardTrouble::Twice { .. } => {
                Some("identical boards can share one line with a `count`".into())
            }
        }
    }
}

/// What can be wrong with a row of `defects.csv`, beyond its cells.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DefectTrouble {
    /// A board that is not in `boards.csv`.
    #[error("there is no such board in boards.csv")]
    UnknownBoard {
        /// The board it was probably meant to be.
        nearest: Option<String>,
    },
    /// A copy beyond the board's count.
    #[error("there is no such copy: the board's count is {count}")]
    UnknownCopy {
        /// The board's count.
        count: u32,
    },
    /// An end before its start.
    #[error("it lies before `{start}`")]
    Backwards {
        /// The column of the start.
        start: &'static str,
    },
    /// A place that is not on the board.
    #[error("it lies off board {board}, which is {size} {dimension}")]
    OffBoard {
        /// The board.
        board: String,
        /// How long or wide it is.
        size: String,
        /// `long` or `wide`.
        dimension: &'static str,
    },
}

impl Trouble for DefectTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            DefectTrouble::UnknownBoard { .. } => "the name of a board".into(),
            DefectTrouble::UnknownCopy { count } => format!("a copy from 1 to {count}"),
            DefectTrouble::Backwards { start } => format!("`{start}` or more"),
            DefectTrouble::OffBoard { size, .. } => format!("0 to {size}"),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            DefectTrouble::UnknownBoard { nearest } => did_you_mean(nearest.as_deref()),
            DefectTrouble::OffBoard { dimension, .. } => Some(match *dimension {
                "wide" => "`low` and `high` are measured across, from the near edge".into(),
                _ => "`from` and `to` are measured along, from the hook end".into(),
            }),
            _ => None,
        }
    }
}

/// What can be wrong with a row of `fronts.csv`, beyond its cells.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FrontTrouble {
    /// No rows.
    #[error("there are no fronts in it")]
    None,
    /// A name another front has.
    #[error("front {name} stands in line {line} already")]
    Twice {
        /// The name.
        name: String,
        /// Where it stood first.
        line: usize,
    },
    /// A front without a run that is named like a run.
    #[error("this front has no run, and a run bears its name")]
    NamedLikeRun,
    /// A place that can't be a place in anything.
    #[error("a place means nothing without a run")]
    PlaceWithoutRun,
    /// A run of one front, spelt almost like another.
    #[error("only this front is in this run")]
    RunAlmost {
        /// The other run.
        nearest: String,
    },
    /// A place another front of the run has.
    #[error("place {place} of this run is taken by line {line}")]
    PlaceTaken {
        /// The place.
        place: i64,
        /// Who has it.
        line: usize,
        /// Whether both places are written; one may come from the order in the file.
        given: bool,
    },
    /// Another grain direction than the rest of the run.
    #[error("this run's grain is {} since line {line}", word(.grain))]
    MixedGrain {
        /// The run's first row.
        line: usize,
        /// The run's grain.
        grain: Grain,
    },
    /// Another way to read than the rest of the run.
    #[error("this run reads `{}` since line {line}", reads(.alike))]
    MixedReads {
        /// The run's first row.
        line: usize,
        /// Whether the run's fronts are to look alike.
        alike: bool,
    },
    /// A board that is not in `boards.csv`.
    #[error("there is no such board in boards.csv")]
    UnknownBoard {
        /// The board it was probably meant to be.
        nearest: Option<String>,
    },
    /// A board asked for and barred.
    #[error("this board stands under `board` too")]
    BoardBothWays,
    /// An arch without a rise.
    #[error("an arch needs a rise")]
    ArchWithoutRise,
    /// A rise without an arch.
    #[error("only an arch has a rise")]
    RiseOfSquare,
    /// An arch as high as its front or higher.
    #[error("the arch is as high as its front, and leaves no sides")]
    ArchAboveFront,
    /// Only one of the two distances from the case's corner.
    #[error("a place on the case is two distances, and there is nothing under `{missing}`")]
    HalfAPlace {
        /// The other column.
        missing: &'static str,
    },
    /// One place for several fronts.
    #[error("{count} fronts can't stand in one place")]
    PlaceOfMany {
        /// How many.
        count: i64,
    },
    /// A front that reaches past the case.
    #[error("the front reaches past the case, which is {size} {dimension}")]
    OffCase {
        /// The case's size.
        size: String,
        /// `wide` or `high`.
        dimension: &'static str,
    },
    /// Two fronts in one place.
    #[error("it covers part of front {other}")]
    Overlaps {
        /// The other front.
        other: String,
    },
}

fn reads(alike: &bool) -> &'static str {
    if *alike { "alike" } else { "through" }
}

fn word(grain: &Grain) -> &'static str {
    match grain {
        Grain::Horizontal => "horizontal",
        Grain::Vertical => "vertical",
    }
}

impl Trouble for FrontTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            FrontTrouble::None => "one line a front below the header".into(),
            FrontTrouble::Twice { .. } => "a name of its own for each front".into(),
            FrontTrouble::NamedLikeRun => "another name for the front or the run".into(),
            FrontTrouble::PlaceWithoutRun => "a name under `run`, or no place".into(),
            FrontTrouble::RunAlmost { .. } => "the name of a run".into(),
            FrontTrouble::PlaceTaken { .. } => "a place of its own for each front of a run".into(),
            FrontTrouble::MixedGrain { grain, .. } => format!("`{}`", word(grain)),
            FrontTrouble::MixedReads { alike, .. } => format!("`{}`", reads(alike)),
            FrontTrouble::UnknownBoard { .. } => {
                "the name of a board, or several with | between".into()
            }
            FrontTrouble::BoardBothWays => "each board under one of the two".into(),
            FrontTrouble::ArchWithoutRise => {
                "how far it rises above its corners, under `rise`".into()
            }
            FrontTrouble::RiseOfSquare => "`arch` under `shape`, or no rise".into(),
            FrontTrouble::ArchAboveFront => "less than the front's height".into(),
            FrontTrouble::HalfAPlace { .. } => "a distance under both, or under neither".into(),
            FrontTrouble::PlaceOfMany { .. } => "a line of its own for each of them".into(),
            FrontTrouble::OffCase { size, .. } => format!("an end at {size} at the most"),
            FrontTrouble::Overlaps { .. } => "a place of its own for each front".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            FrontTrouble::Twice { .. } => Some(
                "fronts alike can share one line with a `count`: copies are NAME.1, NAME.2 …"
                    .into(),
            ),
            FrontTrouble::PlaceTaken { given: false, .. } => Some(
                "a row without a place takes its position among the run's rows: give every row \
                 of the run a place, or none"
                    .into(),
            ),
            FrontTrouble::MixedGrain { .. } => Some(
                "grain can only carry through fronts of one direction: make two runs of it".into(),
            ),
            FrontTrouble::MixedReads { .. } => {
                Some("all fronts of a run read one way: make two runs of it".into())
            }
            FrontTrouble::RunAlmost { nearest } => did_you_mean(Some(nearest)),
            FrontTrouble::UnknownBoard { nearest } => did_you_mean(nearest.as_deref()),
            FrontTrouble::ArchAboveFront => Some("the height is measured to the crown".into()),
            FrontTrouble::HalfAPlace { .. } | FrontTrouble::OffCase { .. } => Some(
                "`across` and `up` lead from the case's lower left corner to the front's".into(),
            ),
            _ => None,
        }
    }

    fn weight(&self) -> Weight {
        match self {
            FrontTrouble::RunAlmost { .. }
            | FrontTrouble::OffCase { .. }
            | FrontTrouble::Overlaps { .. } => Weight::Warning,
            _ => Weight::Fault,
        }
    }
}

/// Why no board can make a front, however it is cut; the rest of the job can be planned.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoBoard {
    /// Along the grain.
    #[error("it can't be made: it takes {need} along the grain, and {} between its trims", leaves(.whose, .most))]
    TooLong {
        /// Taken by the rough piece.
        need: String,
        /// Left by the longest board.
        most: String,
        /// The board it must come from, if one is named.
        whose: Option<String>,
    },
    /// Across the grain.
    #[error("it can't be made: it takes {need} across the grain, and {} between its trims", leaves(.whose, .most))]
    TooWide {
        /// Taken by the rough piece, or by the narrowest stave.
        need: String,
        /// Left by the widest board.
        most: String,
        /// The board it must come from, if one is named.
        whose: Option<String>,
    },
    /// In thickness.
    #[error("it can't be made: it takes {need} of thickness, and {}", leaves(.whose, .most))]
    TooThick {
        /// Taken with a skim off each face.
        need: String,
        /// Of the thickest board.
        most: String,
        /// The board it must come from, if one is named.
        whose: Option<String>,
    },
    /// Every board it may come from is left out.
    #[error("it can't be made: no board is left that it may come from")]
    NoneLeft,
    /// Wider than the machines take, and not to be glued.
    #[error("it can't be made: its blank is {need} wide, and the machines take {most} at most")]
    Machines {
        /// Width of the rough piece, or of the narrowest stave.
        need: String,
        /// Widest piece that can be flattened and planed.
        most: String,
    },
    /// Each by itself, but no board has all three.
    #[error(
        "it can't be made: no board is {length} long and {width} wide between its trims and {thickness} thick at once"
    )]
    NotTogether {
        /// Taken along.
        length: String,
        /// Taken across.
        width: String,
        /// Taken in thickness.
        thickness: String,
    },
}

fn leaves(whose: &Option<String>, most: &str) -> String {
    match whose {
        Some(board) => format!("board {board} leaves {most}"),
        None => format!("no board leaves more than {most}"),
    }
}

impl NoBoard {
    /// The column of `fronts.csv` to point at.
    pub(super) fn column(&self, front: &Front) -> &'static str {
        match (self, front.grain) {
            (NoBoard::NoneLeft, _) => "front",
            (NoBoard::Machines { .. }, Grain::Horizontal) => "height",
            (NoBoard::Machines { .. }, Grain::Vertical) => "width",
            (NoBoard::TooLong { .. }, Grain::Horizontal) => "width",
            (NoBoard::TooLong { .. }, Grain::Vertical) => "height",
            (NoBoard::TooWide { .. }, Grain::Horizontal) => "height",
            (NoBoard::TooWide { .. }, Grain::Vertical) => "width",
            (NoBoard::TooThick { .. }, _) => "thickness",
            (NoBoard::NotTogether { .. }, _) => "front",
        }
    }
}

impl Trouble for NoBoard {
    fn hint(&self) -> Option<String> {
        let what = match self {
            NoBoard::TooLong { .. } => "add a longer board",
            NoBoard::TooWide { .. } => "add a wider board, or allow gluing",
            NoBoard::TooThick { .. } => "add a thicker board",
            NoBoard::NoneLeft => {
                "let it come from another board under `board`, `not_board` or `use`"
            }
            NoBoard::Machines { .. } => "allow gluing",
            NoBoard::NotTogether { .. } => "add such a board",
        };
        Some(format!(
            "{what}, or make the front smaller; everything else is planned without it"
        ))
    }

    fn weight(&self) -> Weight {
        Weight::Warning
    }

    fn keeps_a_front(&self) -> bool {
        true
    }
}

pub(super) fn did_you_mean(nearest: Option<&str>) -> Option<String> {
    nearest.map(|name| format!("did you mean `{name}`?"))
}

/// What can be wrong with a row of `done.csv`, beyond its cells.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DoneTrouble {
    /// A front that is not in `fronts.csv`.
    #[error("there is no such front in fronts.csv")]
    UnknownFront {
        /// The front it was probably meant to be.
        nearest: Option<String>,
    },
    /// A board that is not in `boards.csv`.
    #[error("there is no such board in boards.csv")]
    UnknownBoard {
        /// The board it was probably meant to be.
        nearest: Option<String>,
    },
    /// A copy the board does not have.
    #[error("the board has no such copy")]
    UnknownCopy {
        /// How many it has.
        copies: usize,
    },
    /// No copy named, of a board there are several of.
    #[error("there are {copies} of board {board}, and it does not say which of them was cut")]
    WhichCopy {
        /// The board.
        board: String,
        /// How many there are.
        copies: usize,
    },
    /// A cut that is not on the board.
    #[error("board {board} ends before it")]
    OffBoard {
        /// The board.
        board: String,
        /// How long it is.
        long: String,
    },
    /// A second row about the same blank.
    #[error("an earlier line says the same or more of this front")]
    Twice,
}

impl Trouble for DoneTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            DoneTrouble::UnknownFront { .. } => "a front of fronts.csv".into(),
            DoneTrouble::UnknownBoard { .. } => "a board of boards.csv".into(),
            DoneTrouble::UnknownCopy { copies } | DoneTrouble::WhichCopy { copies, .. } => {
                format!("a copy from 1 to {copies}")
            }
            DoneTrouble::OffBoard { long, .. } => {
                format!("a distance from the hook end below {long}")
            }
            DoneTrouble::Twice => "one line a blank: `cut`, or `made`, or `spoiled`".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            DoneTrouble::UnknownFront { nearest } => match nearest {
                Some(name) => Some(format!("did you mean `{name}`?")),
                None => Some("copies of a counted front are named NAME.1, NAME.2 and so on".into()),
            },
            DoneTrouble::UnknownBoard { nearest } => nearest
                .as_ref()
                .map(|name| format!("did you mean `{name}`?")),
            DoneTrouble::Twice => Some("remove one of the two lines".into()),
            DoneTrouble::WhichCopy { .. } => Some("with `mark`, say --copy".into()),
            _ => None,
        }
    }
}
