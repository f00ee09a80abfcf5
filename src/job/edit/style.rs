//! How a maker writes lengths: with fractions or decimals, a space or a hyphen, a mark or none.

use crate::job::table::TableEdit;
use crate::measure::{Length, Ruler, Unit};

/// The way the lengths of a file are written. Without any to go by, a length stays as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NumberStyle {
    seen: bool,
    /// Whether a fraction is ever written; else a decimal point.
    fractions: bool,
    decimals: bool,
    /// Between the whole number and its fraction.
    hyphen: bool,
    /// What follows each length: `"`, ` mm`, or nothing.
    mark: String,
}

impl NumberStyle {
    /// The style of all cells in these columns.
    pub fn of(edit: &TableEdit, columns: &[&str]) -> NumberStyle {
        let rows = 0..edit.rows();
        let cells = rows.flat_map(|row| columns.iter().map(move |column| edit.cell(row, column)));
        let cells: Vec<String> = cells.filter(|cell| !cell.is_empty()).collect();
        let any = |test: fn(&str) -> bool| cells.iter().any(|cell| test(cell));
        let marks: Vec<&str> = cells.iter().map(|cell| mark_of(cell)).collect();
        let same = marks.windows(2).all(|pair| pair[0] == pair[1]);
        NumberStyle {
            seen: !cells.is_empty(),
            fractions: any(|cell| cell.contains('/')),
            decimals: any(|cell| cell.contains('.')),
            hyphen: any(|cell| cell.trim_start_matches('-').contains('-')),
            mark: marks.first().filter(|_| same).unwrap_or(&"").to_string(),
        }
    }

    /// A length typed by the maker, in this style. What can't be read, or can't be written in the
    /// style without loss, stays as typed.
    pub fn write(&self, typed: &str, unit: Unit) -> String {
        let as_typed = typed.trim().to_owned();
        let Ok(length) = Length::parse(typed, unit) else {
            return as_typed;
        };
        if !self.seen {
            return as_typed;
        }
        let unit = match self.mark.trim() {
            "mm" => Unit::Mm,
            "" => unit,
            "\"" | "in" | "''" => Unit::Inch,
            _ => return as_typed,
        };
        let bare = match unit {
            Unit::Inch if self.fractions || !self.decimals => self.fraction(length),
            _ => decimal(length, unit),
        };
        let written = bare + &self.mark;
        match Length::parse(&written, unit) {
            Ok(read) if read == length => written,
            _ => as_typed,
        }
    }

    fn fraction(&self, length: Length) -> String {
        let ruler = Ruler {
            unit: Unit::Inch,
            fraction: 64,
        };
        let shown = ruler.show(length);
        if self.hyphen {
            shown.replace(' ', "-")
        } else {
            shown
        }
    }
}

fn decimal(length: Length, unit: Unit) -> String {
    let text = format!("{:.6}", length.in_unit(unit));
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// What follows the last digit of a length.
fn mark_of(cell: &str) -> &str {
    let number = |c: char| c.is_numeric() || matches!(c, '.' | '/');
    let end = cell.char_indices().rev().find(|(_, c)| number(*c));
    end.map_or("", |(at, c)| &cell[at + c.len_utf8()..])
}
