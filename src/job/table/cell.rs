//! One cell, read as whatever its column holds.

use std::ops::RangeInclusive;

use super::CellTrouble;
use crate::job::choice::Choice;
use crate::job::fault::{Fault, Place, Trouble, nearest};
use crate::measure::{Length, Tone, Unit, decimal_points};

/// Letters in a name: far more than fit on a board.
const LONGEST_NAME: usize = 60;

/// One cell and where it stands.
#[derive(Clone, Debug)]
pub struct Cell {
    place: Place,
    unit: Unit,
    /// Whether a comma between digits is a decimal comma: in a file separated by semicolons, and
    /// between quotation marks.
    comma: bool,
}

impl Cell {
    /// A cell at a named place; bare numbers are in `unit`.
    pub(in crate::job) fn new(place: Place, unit: Unit, comma: bool) -> Cell {
        Cell { place, unit, comma }
    }

    /// A part of what is written, read as a cell of its own at the same place.
    pub fn part(&self, text: &str) -> Cell {
        let column = self.place.column().unwrap_or("").to_owned();
        Cell {
            place: self.place.clone().named(&column, text.trim()),
            unit: self.unit,
            comma: self.comma,
        }
    }

    /// What is written, its ends trimmed.
    pub fn text(&self) -> &str {
        self.place.cell().unwrap_or("")
    }

    /// What is written, with a point where a decimal comma stands.
    pub fn figures(&self) -> String {
        match self.comma {
            true => decimal_points(self.text()),
            false => self.text().to_owned(),
        }
    }

    /// Where it stands.
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// The unit bare numbers are in.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// A fault at this cell.
    pub fn fault(&self, trouble: impl Trouble + 'static) -> Fault {
        Fault::new(self.place.clone(), trouble)
    }

    /// A name of a board, a front or a run.
    ///
    /// # Errors
    /// When it has line ends or other control characters in it, or is too long to chalk.
    pub fn name(&self) -> Result<String, Fault> {
        let text = self.text();
        if text.chars().any(char::is_control) || text.chars().count() > LONGEST_NAME {
            return Err(self.fault(CellTrouble::NotAName));
        }
        Ok(text.to_owned())
    }

    /// A length of any sign.
    ///
    /// # Errors
    /// When it is not a length.
    pub fn length(&self) -> Result<Length, Fault> {
        let unit = self.unit;
        Length::parse(&self.figures(), unit)
            .map_err(|why| self.fault(CellTrouble::Length { why, unit }))
    }

    /// A length above zero.
    ///
    /// # Errors
    /// When it is not a length, or not above zero.
    pub fn size(&self) -> Result<Length, Fault> {
        self.above_zero(self.length()?)
    }

    /// A length of zero or more.
    ///
    /// # Errors
    /// When it is not a length, or below zero.
    pub fn distance(&self) -> Result<Length, Fault> {
        let length = self.length()?;
        if length < Length::ZERO {
            return Err(self.fault(CellTrouble::BelowZero));
        }
        Ok(length)
    }

    /// A board's thickness: quarters or a length above zero.
    ///
    /// # Errors
    /// When it is neither.
    pub fn thickness(&self) -> Result<Length, Fault> {
        let unit = self.unit;
        let read = Length::parse_thickness(&self.figures(), unit);
        self.above_zero(read.map_err(|why| self.fault(CellTrouble::Thickness { why, unit }))?)
    }

    fn above_zero(&self, length: Length) -> Result<Length, Fault> {
        if length <= Length::ZERO {
            return Err(self.fault(CellTrouble::NotAboveZero));
        }
        Ok(length)
    }

    /// A tone and its note.
    ///
    /// # Errors
    /// When it is not a tone.
    pub fn tone(&self) -> Result<(Tone, String), Fault> {
        // The note keeps its commas.
        let (tone, note) = self.text().split_once(';').unwrap_or((self.text(), ""));
        let tone = if self.comma {
            decimal_points(tone)
        } else {
            tone.to_owned()
        };
        Tone::parse(&tone)
            .map(|(tone, _)| (tone, note.trim().to_owned()))
            .map_err(|why| self.fault(CellTrouble::tone(why, self.text())))
    }

    /// A number within a range; a per cent sign after it is allowed.
    ///
    /// # Errors
    /// When it is not a number, or outside the range.
    pub fn number(&self, range: RangeInclusive<f64>) -> Result<f64, Fault> {
        let figures = self.figures();
        let text = figures.trim_end_matches('%').trim_end();
        let number: f64 = text
            .parse()
            .map_err(|_| self.fault(CellTrouble::NotANumber))?;
        if !range.contains(&number) {
            let (least, most) = range.into_inner();
            return Err(self.fault(CellTrouble::OutOfRange { least, most }));
        }
        Ok(number)
    }

    /// A whole number within a range.
    ///
    /// # Errors
    /// When it is not a whole number, or outside the range.
    pub fn whole(&self, range: RangeInclusive<i64>) -> Result<i64, Fault> {
        let (least, most) = (*range.start(), *range.end());
        let number = self
            .text()
            .parse()
            .ok()
            .filter(|number| range.contains(number));
        number.ok_or_else(|| self.fault(CellTrouble::NotWhole { least, most }))
    }

    /// So many numbers, spaces between them.
    ///
    /// # Errors
    /// When there are more or fewer, or one is no number.
    pub fn numbers<const N: usize>(&self) -> Result<[f64; N], Fault> {
        let figures = self.figures();
        let numbers: Option<Vec<f64>> = figures
            .split_whitespace()
            .map(|word| word.parse().ok().filter(|number: &f64| number.abs() < 1e9))
            .collect();
        let numbers = numbers.and_then(|numbers| numbers.try_into().ok());
        numbers.ok_or_else(|| self.fault(CellTrouble::NotNumbers { many: N }))
    }

    /// One of a closed set of words.
    ///
    /// # Errors
    /// When it is none of them.
    pub fn choice<T: Choice>(&self) -> Result<T, Fault> {
        T::from_word(self.text()).ok_or_else(|| {
            self.fault(CellTrouble::NotOneOf {
                offered: T::offered(),
                nearest: nearest(self.text(), T::WORDS.iter().map(|(word, _)| *word)),
            })
        })
    }
}
