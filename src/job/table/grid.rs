//! A table as its cells are written, for whoever shows it to be changed.

use super::Columns;
use super::header::Header;
use super::scan::scan;
use crate::job::fault::{Faults, Source};

/// The cells of a table as text, each row with the lines it stands on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Grid {
    /// The header as written.
    pub header: Vec<String>,
    /// The known column each header cell names; nothing for one that names none.
    pub columns: Vec<Option<&'static str>>,
    /// The rows in file order.
    pub rows: Vec<GridRow>,
}

/// A row of a [`Grid`].
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct GridRow {
    /// Its first and last line, counted from 1.
    pub lines: (usize, usize),
    /// Its cells in the order of the header; there may be fewer or more.
    pub cells: Vec<String>,
}

impl Grid {
    /// Reads a table's text; what is wrong with it is for the readers to tell.
    pub fn read(text: &str, columns: &Columns) -> Grid {
        let source = Source::new("", text);
        let mut rows = scan(&source, &mut Faults::new()).into_iter();
        let Some(header) = rows.next() else {
            return Grid::default();
        };
        let known = Header::read(&source, &header, columns, &mut Faults::new());
        let lines: Vec<usize> = text.match_indices('\n').map(|(at, _)| at + 1).collect();
        let line = |at: usize| 1 + lines.partition_point(|&start| start <= at);
        Grid {
            columns: known.names().to_vec(),
            header: header.into_iter().map(|cell| cell.text).collect(),
            rows: rows
                .map(|cells| GridRow {
                    lines: (
                        cells.first().map_or(1, |cell| line(cell.span.start)),
                        cells.last().map_or(1, |cell| line(cell.span.end)),
                    ),
                    cells: cells.into_iter().map(|cell| cell.text).collect(),
                })
                .collect(),
        }
    }

    /// What a row says in a column; nothing when it has no such cell.
    pub fn cell(&self, row: usize, column: &str) -> &str {
        let at = self.columns.iter().position(|name| *name == Some(column));
        let cell = at.and_then(|at| self.rows.get(row)?.cells.get(at));
        cell.map_or("", String::as_str)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_come_with_their_lines() {
        let columns = Columns {
            required: &["front"],
            optional: &["notes"],
        };
        let text = "# top row first\nFront;colour;notes\n1a;;\"two\nlines\"\n\n1b;x;\n";
        let grid = Grid::read(text, &columns);
        assert_eq!(grid.columns, [Some("front"), None, Some("notes")]);
        assert_eq!(grid.rows[0].lines, (3, 4));
        assert_eq!(grid.rows[1].lines, (6, 6));
        assert_eq!(grid.cell(0, "notes"), "two\nlines");
        assert_eq!(grid.cell(1, "front"), "1b");
        assert_eq!(grid.cell(1, "width"), "");
    }
}
