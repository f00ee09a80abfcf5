//! Splitting a file into rows of cells, each with the bytes it stands on.

use std::ops::Range;
use std::sync::Arc;

use csv_core::{ReadFieldResult, Reader, ReaderBuilder};

use super::TableTrouble;
use crate::job::fault::{Fault, Faults, Place, Source};
use crate::text::from_cell;

/// One cell as written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RawCell {
    /// Its text without quotes, its ends trimmed.
    pub text: String,
    /// Where it stands in the file.
    pub span: Range<usize>,
    /// Whether it stands between quotation marks.
    pub quoted: bool,
}

/// The columns whose cells may go on over a line's end: notes, and the note after a tone.
const LONG: [&str; 2] = ["notes", "tone"];

/// All rows that are neither blank nor comments.
pub(super) fn scan(source: &Arc<Source>, faults: &mut Faults) -> Vec<Vec<RawCell>> {
    let text = source.text();
    let mut scanner = Scanner::new(text);
    let mut rows: Vec<Vec<RawCell>> = Vec::new();
    while let Some(mut cells) = scanner.next_row() {
        let header = rows.first().map(Vec::as_slice);
        if let Some(open) = (0..cells.len()).find(|&at| is_open(text, &cells, at, header)) {
            let start = cells[open].span.start;
            let line = text[start..].lines().next().unwrap_or("");
            let place = Place::span_of(source, start..start + line.len());
            faults.push(Fault::new(place, TableTrouble::OpenQuote));
            // The rest of that line is read as if the mark were not there, and the next line anew.
            cells.truncate(open);
            cells.extend(scanner.without_mark(start));
        }
        if cells.iter().any(|cell| !cell.text.is_empty()) {
            rows.push(cells);
        }
    }
    rows
}

/// Whether a cell opens a quotation that never closes, or only at a mark of a later line that was
/// meant for something else: only notes may go on over a line's end ([`LONG`]).
fn is_open(text: &str, cells: &[RawCell], at: usize, header: Option<&[RawCell]>) -> bool {
    let written = &text[cells[at].span.clone()];
    if !written.starts_with('"') {
        return false;
    }
    if written.matches('"').count() % 2 == 1 {
        return true;
    }
    if !written.contains('\n') {
        return false;
    }
    let name = header.and_then(|header| header.get(at));
    let named = |long: &&str| name.is_some_and(|name| name.text.eq_ignore_ascii_case(long));
    let long = LONG.iter().any(named);
    let fits = header.is_none_or(|header| cells.len() <= header.len());
    !(long && fits && written.ends_with('"'))
}

struct Scanner<'a> {
    text: &'a str,
    at: usize,
    reader: Reader,
    separator: u8,
    /// Room for one cell; unquoting only ever shortens it.
    unquoted: Vec<u8>,
}

impl<'a> Scanner<'a> {
    fn new(text: &'a str) -> Scanner<'a> {
        let mut scanner = Scanner {
            text,
            at: if text.starts_with('\u{feff}') { 3 } else { 0 },
            reader: Reader::new(),
            separator: b',',
            unquoted: vec![0; text.len() + 1],
        };
        scanner.skip_blank_and_comments();
        let header = text[scanner.at..].lines().next().unwrap_or("");
        scanner.separator = separator(header);
        scanner.reader = ReaderBuilder::new().delimiter(scanner.separator).build();
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
        let text = String::from_utf8_lossy(&self.unquoted[..written]);
        let text = from_cell(text.trim()).to_owned();
        let span = self.trimmed(start);
        cells.push(RawCell {
            text,
            quoted: self.text[span.clone()].starts_with('"'),
            span,
        });
        goes_on
    }

    /// Goes back to the line on which a quotation begins at `start`, and reads the rest of that
    /// line without its mark.
    fn without_mark(&mut self, start: usize) -> Vec<RawCell> {
        let line = self.text[start + 1..].lines().next().unwrap_or("");
        self.at = (start + 1 + line.len() + 1).min(self.text.len());
        self.reader = ReaderBuilder::new().delimiter(self.separator).build();
        let mut at = start + 1;
        let split = line.split(char::from(self.separator)).map(|cell| {
            let span = at..at + cell.len();
            at = span.end + 1;
            let before = cell.len() - cell.trim_start().len();
            let text = cell.trim();
            let start = span.start + before;
            RawCell {
                text: text.trim_matches('"').to_owned(),
                span: start..start + text.len(),
                quoted: false,
            }
        });
        split.collect()
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
