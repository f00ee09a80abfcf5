//! Where in a job's files something stands.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// A file's name and text, shared by everything that points into it.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    name: String,
    text: String,
    /// Where each line but the first begins.
    lines: Vec<usize>,
}

/// A spot in a file: the whole of it, or a cell or a key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    source: Arc<Source>,
    span: Option<Range<usize>>,
    column: Option<String>,
    cell: Option<String>,
}

impl Source {
    /// A file by name and text.
    pub fn new(name: impl Into<String>, text: &str) -> Arc<Source> {
        Arc::new(Source {
            name: name.into(),
            text: text.to_owned(),
            lines: text.match_indices('\n').map(|(at, _)| at + 1).collect(),
        })
    }

    /// The file's name within its folder.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The file's text.
    pub fn text(&self) -> &str {
        &self.text
    }
}

impl Place {
    /// A whole file.
    pub fn file_of(source: &Arc<Source>) -> Place {
        Place {
            source: Arc::clone(source),
            span: None,
            column: None,
            cell: None,
        }
    }

    /// Bytes of a file.
    pub fn span_of(source: &Arc<Source>, span: Range<usize>) -> Place {
        Place {
            span: Some(span),
            ..Place::file_of(source)
        }
    }

    /// The same place, known to be in a column (or under a key) and to read `cell`.
    #[must_use]
    pub fn named(self, column: &str, cell: &str) -> Place {
        Place {
            column: Some(column.to_owned()),
            cell: Some(cell.to_owned()),
            ..self
        }
    }

    /// The file's name.
    pub fn file(&self) -> &str {
        &self.source.name
    }

    /// The line, counted from 1.
    pub fn line(&self) -> Option<usize> {
        let start = self.span.as_ref()?.start;
        let lines = &self.source.lines;
        (start <= self.source.text.len()).then(|| 1 + lines.partition_point(|&line| line <= start))
    }

    /// The column's or key's name.
    pub fn column(&self) -> Option<&str> {
        self.column.as_deref()
    }

    /// What is written there.
    pub fn cell(&self) -> Option<&str> {
        self.cell.as_deref()
    }

    /// The bytes of the file it covers.
    pub fn span(&self) -> Option<Range<usize>> {
        self.span.clone()
    }

    pub(super) fn source(&self) -> &Source {
        &self.source
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file())?;
        if let Some(line) = self.line() {
            write!(f, ", line {line}")?;
        }
        if let Some(column) = self.column() {
            write!(f, ", {column}")?;
        }
        match self.cell() {
            Some("") | None => Ok(()),
            Some(cell) => write!(f, " `{}`", shortened(cell)),
        }
    }
}

/// A cell's text on one line, cut off where a message would become hard to read.
fn shortened(cell: &str) -> String {
    const MOST: usize = 60;
    let blank = |c: char| {
        if matches!(c, '\n' | '\r' | '\t') {
            ' '
        } else {
            c
        }
    };
    let mut text: String = cell.chars().take(MOST).map(blank).collect();
    if cell.chars().nth(MOST).is_some() {
        text.push('…');
    }
    text
}
