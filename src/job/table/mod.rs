//! A table of one file: its header checked, its rows with typed cells.
//!
//! Every table of a job is read the same way: name the columns once in [`Columns`], read the
//! [`Table`], then ask each row's [`Line`] for its cells. A cell that can't be read becomes a
//! fault at its place and the rest of the row is still read.

mod cell;
mod edit;
mod grid;
mod header;
mod line;
mod scan;
mod trouble;

pub use cell::Cell;
pub use edit::TableEdit;
pub use grid::{Grid, GridRow};
pub use header::Columns;
pub use line::Line;
pub use trouble::{CellTrouble, TableTrouble};

use std::sync::Arc;

use super::fault::{Fault, Faults, Place, Source};
use crate::measure::Unit;
use header::Header;
use scan::{RawCell, scan, separator_of};

/// A file's rows under its header.
#[derive(Debug)]
pub struct Table {
    source: Arc<Source>,
    header: Header,
    rows: Vec<Vec<RawCell>>,
    unit: Unit,
    separator: u8,
}

impl Table {
    /// Reads a table; bare numbers in its cells are in `unit`.
    ///
    /// Faults of the header and of the table's form are added to `faults`. Rows are kept
    /// even then, so that their own faults are found in the same run.
    pub fn read(source: &Arc<Source>, columns: &Columns, unit: Unit, faults: &mut Faults) -> Table {
        let mut rows = scan(source, faults).into_iter();
        let header = match rows.next() {
            Some(cells) => Header::read(source, &cells, columns, faults),
            None => {
                faults.push(Fault::new(
                    Place::file_of(source),
                    TableTrouble::NoHeader {
                        columns: columns.required.join(","),
                    },
                ));
                Header::default()
            }
        };
        let table = Table {
            source: Arc::clone(source),
            header,
            rows: rows.collect(),
            unit,
            separator: separator_of(source.text()),
        };
        table.check_widths(faults);
        table
    }

    /// The whole file.
    pub fn place(&self) -> Place {
        Place::file_of(&self.source)
    }

    /// Whether there is a header line at all.
    pub fn has_header(&self) -> bool {
        self.header.len() > 0
    }

    /// The rows in file order.
    pub fn lines(&self) -> impl Iterator<Item = Line<'_>> {
        self.rows.iter().map(|cells| Line::new(self, cells))
    }

    fn check_widths(&self, faults: &mut Faults) {
        let columns = self.header.len();
        for row in &self.rows {
            let extra = row.iter().skip(columns).find(|cell| !cell.text.is_empty());
            if let Some(extra) = extra.filter(|_| columns > 0) {
                let place = Place::span_of(&self.source, extra.span.clone());
                let trouble = TableTrouble::TooManyCells {
                    cells: row.len(),
                    columns,
                };
                faults.push(Fault::new(
                    place.named("beyond the last column", &extra.text),
                    trouble,
                ));
            }
        }
    }
}

#[cfg(test)]
mod tests;
