//! Splitting a file into rows of cells, each with the bytes it stands on.

use std::ops::Range;
use std::sync::Arc;

use csv_core::{ReadFieldResult, Reader, ReaderBuilder};

use super::TableTrouble;
use crate::job::fault::{Fault, Faults, Place, Source};

/// One cell as written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RawCell {
    /// Its text without quotes, its ends trimmed.
    pub text: String,
    /// Where it stands in the file.
    pub span: Range<usize>,
}

/// All rows that are neither blank nor comments.
pub(super) fn scan(source: &Arc<Source>, faults: &mut Faults) -> Vec<Vec<RawCell>> {
    let text = source.text();
    let mut scanner = Scanner::new(text);
    let mut rows = Vec::new();
    while let Some(cells) = scanner.next_row() {
        for cell in cells
            .iter()
            .filter(|cell| is_open(&text[cell.span.clone()]))
        {
            let first_line = text[cell.span.clone()].lines().next().unwrap_or("");
            let span = cell.span.start..cell.span.start + first_line.len();
            faults.push(Fault::new(
                Place::span_of(source, span),
                TableTrouble::OpenQuote,
            ));
        }
        if cells.iter().any(|cell| !cell.text.is_empty()) {
            rows.push(cells);
        }
    }
    rows
}

/// Whether a cell as written opens a quotation that never closes.
fn is_open(written: &str) -> bool {
    written.starts_with('"') && written.matches('"').count() % 2 == 1
}

struct Scanner<'a> {
    text: &'a str,
    at: usize,
    reader: Reader,
    /// Room for one cell; unquoting only ever shortens it.
    unquoted: Vec<u8>,
}

impl<'a> Scanner<'a> {
    fn new(text: &'a str) -> Scanner<'a> {
        let mut scanner = Scanner {
            text,
            at: if text.starts_with('\u{feff}') { 3 } else { 0 },
            reader: Reader::new(),
            unquoted: vec![0; text.len() + 1],
        };
        scanner.skip_blank_and_comments();
        let header = text[scanner.at..].lines().next().unwrap_or("");
        scanner.reader = ReaderBuilder::new().delimiter(separator(header)).build();
        scanner
    }

    fn next_row(&mut self) -> Option<Vec<RawCell>> {
        self.skip_blank_and_comments();
        if self.at == self.text.len() {
            return None;
        }
        let mut cells = Vec::new();
        while self.next_cell(&mut cells) {}
        Some(cells)
    }

    /// Reads one more cell; false when it was the row's last.
    fn next_cell(&mut self, cells: &mut Vec<RawCell>) -> bool {
        let start = self.at;
        let mut written = 0;
        let goes_on = loop {
            let input = &self.text.as_bytes()[self.at..];
            let (result, read, put) = self.reader.read_field(input, &mut self.unquoted[written..]);
            self.at += read;
            written += put;
            match result {
                ReadFieldResult::InputEmpty | ReadFieldResult::OutputFull => {}
                ReadFieldResult::Field { record_end } => break !record_end,
                ReadFieldResult::End => break false,
            }
        };
        let text = String::from_utf8_lossy(&self.unquoted[..written])
            .trim()
            .to_owned();
        cells.push(RawCell {
            text,
            span: self.trimmed(start),
        });
        goes_on
    }

    /// What was read since `start` without the separator, line end and spaces about it.
    fn trimmed(&self, start: usize) -> Range<usize> {
        let read = &self.text[start..self.at];
        let cell = read.strip_suffix(['\n', '\r', ',', ';']).unwrap_or(read);
        let before = cell.len() - cell.trim_start().len();
        let cell = cell.trim();
        start + before..start + before + cell.len()
    }

    fn skip_blank_and_comments(&mut self) {
        loop {
            let rest = &self.text[self.at..];
            let line = rest.find(['\n', '\r']).map_or(rest, |end| &rest[..end]);
            let start = line.trim_start();
            if line.len() == rest.len() && start.is_empty() {
                self.at = self.text.len();
                return;
            }
            if !start.is_empty() && !start.starts_with('#') {
                return;
            }
            self.at = (self.at + line.len() + 1).min(self.text.len());
        }
    }
}

/// The separator of a file, as its header tells it.
pub(super) fn separator_of(text: &str) -> u8 {
    let mut scanner = Scanner::new(text);
    scanner.skip_blank_and_comments();
    separator(text[scanner.at..].lines().next().unwrap_or(""))
}

/// A comma or a semicolon, whichever the header has more of outside quotes.
fn separator(header: &str) -> u8 {
    let count = |wanted: char| {
        let outside = header.split('"').step_by(2);
        outside
            .map(|part| part.matches(wanted).count())
            .sum::<usize>()
    };
    if count(';') > count(',') { b';' } else { b',' }
}
