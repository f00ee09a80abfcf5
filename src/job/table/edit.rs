//! Changing a table in place: every byte that is not about the change stays as it is.

use std::sync::Arc;

use super::Columns;
use super::header::Header;
use super::scan::{RawCell, scan, separator_of};
use crate::job::fault::{Faults, Source};
use crate::text::to_cell;

/// The text of a table being changed. Its order, comments, separator, line ends and columns are
/// kept; a column that is needed and not there is added at the end of the header.
#[derive(Clone, Debug)]
pub struct TableEdit {
    text: String,
    columns: Columns,
}

impl TableEdit {
    /// Begins with the text of a file; one without a header gets the columns named by `header`.
    pub fn new(text: &str, columns: Columns, header: &[&str]) -> TableEdit {
        let mut edit = TableEdit {
            text: text.to_owned(),
            columns,
        };
        if edit.scanned().is_empty() {
            edit.end_line();
            edit.text += &header.join(",");
            edit.end_line();
        }
        edit
    }

    /// The changed text.
    pub fn into_text(self) -> String {
        self.text
    }

    /// How many rows there are below the header.
    pub fn rows(&self) -> usize {
        self.scanned().len().saturating_sub(1)
    }

    /// What a row says in a column; empty when it says nothing.
    pub fn cell(&self, row: usize, column: &str) -> String {
        let rows = self.scanned();
        let position = self.position(&rows, column);
        let cell = position.and_then(|at| rows.get(row + 1)?.get(at));
        cell.map(|cell| cell.text.clone()).unwrap_or_default()
    }

    /// Writes a cell of a row.
    pub fn set(&mut self, row: usize, column: &'static str, value: &str) {
        let at = self.column(column);
        let rows = self.scanned();
        let Some(cells) = rows.get(row + 1) else {
            return;
        };
        let written = self.written(value, at == 0);
        if let Some(cell) = cells.get(at) {
            self.text.replace_range(cell.span.clone(), &written);
        } else if let Some(last) = cells.last() {
            let gap = self.separator().to_string().repeat(at + 1 - cells.len());
            self.text.insert_str(last.span.end, &(gap + &written));
        }
    }

    /// Takes a row out, with its line.
    pub fn remove(&mut self, row: usize) {
        if let Some(lines) = self.lines(row) {
            self.text.replace_range(lines, "");
        }
    }

    /// Moves a row to stand before another, or after the last one; its line goes with it as it is.
    pub fn move_row(&mut self, row: usize, before: Option<usize>) {
        self.end_line();
        let Some(lines) = self.lines(row) else {
            return;
        };
        let line = self.text[lines.clone()].to_owned();
        let last = self.rows().checked_sub(1);
        let to = match before {
            Some(before) => self.lines(before).map(|lines| lines.start),
            None => last.and_then(|last| Some(self.lines(last)?.end)),
        };
        match to {
            Some(to) if to >= lines.end => {
                self.text.insert_str(to, &line);
                self.text.replace_range(lines, "");
            }
            Some(to) if to <= lines.start => {
                self.text.replace_range(lines, "");
                self.text.insert_str(to, &line);
            }
            _ => {}
        }
    }

    /// The bytes of a row's line or lines, their end included.
    fn lines(&self, row: usize) -> Option<std::ops::Range<usize>> {
        let rows = self.scanned();
        let cells = rows.get(row + 1)?;
        let (first, last) = (cells.first()?, cells.last()?);
        let before = &self.text[..first.span.start];
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        let end = self.text[last.span.end..].find('\n');
        let end = end.map_or(self.text.len(), |at| last.span.end + at + 1);
        Some(start..end)
    }

    /// Adds a row at the end; columns not named stay empty.
    pub fn append(&mut self, cells: &[(&'static str, String)]) {
        let named: Vec<(usize, &str)> = cells
            .iter()
            .filter(|(_, value)| !value.is_empty())
            .map(|(column, value)| (self.column(column), value.as_str()))
            .collect();
        let width = self.scanned().first().map_or(0, Vec::len);
        let cell = |at: usize| {
            let value = named.iter().find(|(column, _)| *column == at);
            value.map_or(String::new(), |(_, value)| self.written(value, at == 0))
        };
        let row: Vec<String> = (0..width).map(cell).collect();
        let row = row.join(&self.separator().to_string());
        self.end_line();
        self.text += &row;
        self.end_line();
    }

    fn scanned(&self) -> Vec<Vec<RawCell>> {
        scan(&self.source(), &mut Faults::new())
    }

    fn source(&self) -> Arc<Source> {
        Source::new("", &self.text)
    }

    fn position(&self, rows: &[Vec<RawCell>], column: &str) -> Option<usize> {
        let header = rows.first()?;
        let mut ignored = Faults::new();
        Header::read(&self.source(), header, &self.columns, &mut ignored).position(column)
    }

    /// The position of a column, which is added when it is not there.
    fn column(&mut self, name: &str) -> usize {
        let rows = self.scanned();
        if let Some(at) = self.position(&rows, name) {
            return at;
        }
        let header = rows.first().map_or(&[][..], Vec::as_slice);
        let end = header.last().map_or(self.text.len(), |cell| cell.span.end);
        let added = format!("{}{name}", self.separator());
        self.text.insert_str(end, &added);
        header.len()
    }

    fn separator(&self) -> char {
        char::from(separator_of(&self.text))
    }

    /// A value as a cell, between quotation marks where it needs them.
    fn written(&self, value: &str, first: bool) -> String {
        let value = &to_cell(value);
        let unsafe_start = value.starts_with('"') || (first && value.starts_with('#'));
        let split = value.contains([self.separator(), '\n', '\r']);
        let trimmed = value.trim() != value;
        if unsafe_start || split || trimmed {
            format!("\"{}\"", value.replace('"', "\"\""))
        } else {
            value.to_owned()
        }
    }

    /// Ends the last line, the way the file ends its lines.
    fn end_line(&mut self) {
        let end = if self.text.contains("\r\n") {
            "\r\n"
        } else {
            "\n"
        };
        if !self.text.is_empty() && !self.text.ends_with(['\n', '\r']) {
            self.text += end;
        }
    }
}
