//! What can be wrong with a table's form and with a single cell.

use crate::job::fault::{Trouble, nearest};
use crate::measure::{LengthError, TONE_WORDS, ToneError, Unit};

/// What can be wrong with a table's form.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TableTrouble {
    /// Nothing but blank lines and comments.
    #[error("the file has no header line")]
    NoHeader {
        /// A header that would do.
        columns: String,
    },
    /// A header cell that names no column.
    #[error("there is no such column")]
    UnknownColumn {
        /// The column it was probably meant to be.
        nearest: Option<String>,
        /// All columns there are.
        known: String,
    },
    /// The same column twice.
    #[error("this column stands in the header twice")]
    RepeatedColumn,
    /// A required column is not there.
    #[error("this column is missing")]
    MissingColumn {
        /// The missing column.
        name: &'static str,
    },
    /// A row goes on past the header.
    #[error("the row has {cells} cells, the header {columns}")]
    TooManyCells {
        /// Cells in the row.
        cells: usize,
        /// Columns in the header.
        columns: usize,
    },
    /// A quotation that never closes.
    #[error("a quoted cell begins here and never ends")]
    OpenQuote,
}

impl Trouble for TableTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            TableTrouble::NoHeader { columns } => format!("a first line such as {columns}"),
            TableTrouble::UnknownColumn { known, .. } => format!("one of {known}"),
            TableTrouble::RepeatedColumn => "each column once".into(),
            TableTrouble::MissingColumn { name } => format!("a column `{name}` in the header"),
            TableTrouble::TooManyCells { columns, .. } => format!("at most {columns} cells"),
            TableTrouble::OpenQuote => "a second quotation mark".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        Some(match self {
            TableTrouble::UnknownColumn { nearest, .. } => match nearest {
                Some(name) => format!("did you mean `{name}`?"),
                None => "remove the column, or move what it says to `notes`".into(),
            },
            TableTrouble::TooManyCells { .. } => {
                "put a cell that has the separator in it between quotation marks".into()
            }
            TableTrouble::OpenQuote => {
                "close it with a second one, or remove it if no cell was meant to be quoted".into()
            }
            _ => return None,
        })
    }
}

/// What can be wrong with one cell.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CellTrouble {
    /// A cell that must be filled in is not.
    #[error("the cell is empty")]
    Empty,
    /// Control characters in a name, or too many letters.
    #[error("it can't be a name")]
    NotAName,
    /// Not a length.
    #[error("it can't be read as a length: {why}")]
    Length {
        /// Why not.
        why: LengthError,
        /// The job's unit.
        unit: Unit,
    },
    /// Not a thickness.
    #[error("it can't be read as a thickness: {why}")]
    Thickness {
        /// Why not.
        why: LengthError,
        /// The job's unit.
        unit: Unit,
    },
    /// Not a tone.
    #[error("it can't be read as a tone: {why}")]
    Tone {
        /// Why not.
        why: ToneError,
        /// The words it was probably meant to be.
        nearest: Option<String>,
    },
    /// A size of nothing or less.
    #[error("it must be above zero")]
    NotAboveZero,
    /// A distance below zero.
    #[error("it must not be below zero")]
    BelowZero,
    /// Not a number.
    #[error("it is not a number")]
    NotANumber,
    /// A number outside its range.
    #[error("it is outside {least} to {most}")]
    OutOfRange {
        /// Least allowed.
        least: f64,
        /// Most allowed.
        most: f64,
    },
    /// Not so many numbers.
    #[error("it is not {many} numbers with spaces between them")]
    NotNumbers {
        /// How many.
        many: usize,
    },
    /// Not a whole number in its range.
    #[error("it is not a whole number from {least} to {most}")]
    NotWhole {
        /// Least allowed.
        least: i64,
        /// Most allowed.
        most: i64,
    },
    /// None of the words of a closed choice.
    #[error("it is none of the words known here")]
    NotOneOf {
        /// The words, for a message.
        offered: String,
        /// The word it was probably meant to be.
        nearest: Option<String>,
    },
}

impl CellTrouble {
    pub(super) fn tone(why: ToneError, written: &str) -> CellTrouble {
        let word = written.split(';').next().unwrap_or("");
        CellTrouble::Tone {
            why,
            nearest: nearest(word.trim(), TONE_WORDS.map(|(word, _)| word)),
        }
    }
}

impl Trouble for CellTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            CellTrouble::Empty => "a value".into(),
            CellTrouble::NotAName => "a name of at most 60 letters on one line".into(),
            CellTrouble::Length { unit, .. } => match unit {
                Unit::Inch => "a length such as 11 3/8 or 7' 10 1/2\"".into(),
                Unit::Mm => "a length such as 289, 28.9 cm or 2.4 m".into(),
            },
            CellTrouble::Thickness { unit, .. } => match unit {
                Unit::Inch => "quarters such as 5/4, or a length such as 1 3/16".into(),
                Unit::Mm => "a length such as 27".into(),
            },
            CellTrouble::Tone { .. } => {
                format!("0 to 10, or {}", list(TONE_WORDS.map(|(word, _)| word)))
            }
            CellTrouble::NotAboveZero => "a length above zero".into(),
            CellTrouble::BelowZero => "zero or more".into(),
            CellTrouble::NotANumber => "a number such as 8 or 8.5".into(),
            CellTrouble::OutOfRange { least, most } => format!("a number from {least} to {most}"),
            CellTrouble::NotNumbers { many } => match many {
                2 => "pixels from the left and from the top such as `412.5 1803`".into(),
                _ => "a rectangle of the picture such as `100 80 900 140`".into(),
            },
            CellTrouble::NotWhole { least, .. } => {
                format!("a whole number such as {}", least.max(&1))
            }
            CellTrouble::NotOneOf { offered, .. } => format!("one of {offered}"),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            CellTrouble::Length { why, unit } | CellTrouble::Thickness { why, unit } => {
                length_hint(why, *unit)
            }
            CellTrouble::Tone { nearest, .. } | CellTrouble::NotOneOf { nearest, .. } => {
                did_you_mean(nearest.as_deref())
            }
            _ => None,
        }
    }
}

fn length_hint(why: &LengthError, unit: Unit) -> Option<String> {
    Some(match why {
        LengthError::Comma => {
            "write decimals with a point, 28.9, or between quotation marks".into()
        }
        LengthError::TopHeavy => "write a fraction below 1 after the whole number: 11 3/8".into(),
        LengthError::InchesOverFeet => "write the feet and less than 12 inches: 7' 10 1/2\"".into(),
        LengthError::UnknownUnit(_) => match unit {
            Unit::Inch => "units are ', \", ft and in".into(),
            Unit::Mm => "units are mm, cm and m".into(),
        },
        LengthError::DecimalOver { meant } => return did_you_mean(meant.as_deref()),
        LengthError::Date { meant } => {
            let first = meant.split(" or ").next().unwrap_or(meant);
            format!(
                "before typing, format the column as text; or write an inch mark after the \
                 fraction, {first}\", which a spreadsheet leaves alone"
            )
        }
        LengthError::LeftOver(_) => "one length a cell; remarks go to `notes`".into(),
        _ => return None,
    })
}

fn did_you_mean(word: Option<&str>) -> Option<String> {
    word.map(|word| format!("did you mean `{word}`?"))
}

/// Names one after the other, for a message.
pub(super) fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    names.into_iter().collect::<Vec<_>>().join(", ")
}
