//! Faults as diagnostics, so that they can be shown beside the line they stand on.

use std::fmt::{self, Display};
use std::ops::Range;

use miette::{
    Diagnostic, LabeledSpan, MietteError, MietteSpanContents, Severity, SourceCode, SourceSpan,
    SpanContents,
};

use super::{Fault, Place};
use crate::text::{shortened, shown};

/// Most of a line that is shown before and after the place itself, in bytes.
const BESIDE: usize = 60;
/// Most that is shown of the place itself, in bytes.
const LONGEST: usize = 120;

/// A fault as it is shown on a terminal: in words, beside the part of the file it stands in.
/// Nothing of what the maker wrote acts on the terminal.
#[derive(Debug)]
pub struct Shown {
    severity: Severity,
    says: String,
    help: Option<String>,
    label: Option<String>,
    excerpt: Option<Excerpt>,
}

/// The lines about a place, each as long as can be read.
#[derive(Debug)]
struct Excerpt {
    file: String,
    /// The number of its first line, from 0.
    line: usize,
    text: String,
    /// The place within the text.
    span: Range<usize>,
    /// How much further along its line the place stands in the file.
    shift: isize,
}

impl Fault {
    /// The fault as a terminal shows it.
    pub fn shown(&self) -> Shown {
        let excerpt = Excerpt::of(&self.place);
        let expected = self.trouble.expected();
        let expected = expected.map(|what| safe(&format!("expected {what}")));
        let (label, beside) = match excerpt {
            Some(_) => (expected, None),
            None => (None, expected),
        };
        let hint = self.trouble.hint().map(|hint| safe(&hint));
        let help: Vec<String> = beside.into_iter().chain(hint).collect();
        Shown {
            severity: match self.is_warning() {
                true => Severity::Warning,
                false => Severity::Error,
            },
            says: safe(&self.to_string()),
            help: (!help.is_empty()).then(|| help.join("\n")),
            label,
            excerpt,
        }
    }
}

/// Text that can be read, and that does nothing to a terminal.
fn safe(text: &str) -> String {
    shown(&shortened(text))
}

impl Excerpt {
    fn of(place: &Place) -> Option<Excerpt> {
        let span = place.span()?;
        let text = place.source().text();
        let (before, marked) = (text.get(..span.start)?, text.get(span.clone())?);
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        let after = &text[span.end..];
        let rest = &after[..after.find(['\n', '\r']).unwrap_or(after.len())];
        let mut line = place.line()? - 1;
        let mut shown = String::new();
        if let Some(above) = before[..start].lines().last() {
            line -= 1;
            shown += &begin_of(above);
            shown.push('\n');
        }
        let begin = shown.len();
        shown += &end_of(&text[start..span.start]);
        let from = shown.len();
        // A cell may go on over several lines: the first says which it is.
        let first = marked.lines().next().unwrap_or("");
        shown += &cut(first, LONGEST);
        let to = shown.len();
        if first.len() == marked.len() {
            shown += &begin_of(rest);
        }
        if let Some(below) = after[rest.len()..].lines().nth(1) {
            shown.push('\n');
            shown += &begin_of(below);
        }
        Some(Excerpt {
            file: place.file().to_owned(),
            line,
            text: shown,
            span: from..to,
            shift: (span.start - start) as isize - (from - begin) as isize,
        })
    }
}

fn begin_of(line: &str) -> String {
    cut(line, 2 * BESIDE)
}

/// The beginning of a text, made safe.
fn cut(line: &str, most: usize) -> String {
    let mut ends = (0..=most.min(line.len())).rev();
    let end = ends.find(|&end| line.is_char_boundary(end)).unwrap_or(0);
    match end == line.len() {
        true => shown(line),
        false => shown(&line[..end]) + "…",
    }
}

/// The end of a text, made safe.
fn end_of(line: &str) -> String {
    let mut starts = line.len().saturating_sub(2 * BESIDE)..=line.len();
    let start = starts.find(|&start| line.is_char_boundary(start));
    let start = start.unwrap_or(line.len());
    match start {
        0 => shown(line),
        _ => format!("…{}", shown(&line[start..])),
    }
}

impl Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.says)
    }
}

impl std::error::Error for Shown {}

impl Diagnostic for Shown {
    fn severity(&self) -> Option<Severity> {
        Some(self.severity)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        let help = self.help.as_ref()?;
        Some(Box::new(help))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        let excerpt = self.excerpt.as_ref()?;
        Some(excerpt)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let span = &self.excerpt.as_ref()?.span;
        let label = LabeledSpan::new(self.label.clone(), span.start, span.len());
        Some(Box::new(std::iter::once(label)))
    }
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let found = self.text.read_span(span, before, after)?;
        let column = match found.column() {
            // The beginning of a line, whatever of it is left out.
            0 => 0,
            column => column.saturating_add_signed(self.shift),
        };
        Ok(Box::new(MietteSpanContents::new_named(
            self.file.clone(),
            found.data(),
            *found.span(),
            self.line + found.line(),
            column,
            found.line_count(),
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::fault::Source;
    use crate::job::table::CellTrouble;
    use miette::{GraphicalReportHandler, GraphicalTheme};

    fn drawn(text: &str, span: Range<usize>) -> String {
        let source = Source::new("boards.csv", text);
        let place = Place::span_of(&source, span.clone()).named("tone", &text[span]);
        let fault = Fault::new(place, CellTrouble::NotANumber);
        let mut drawn = String::new();
        GraphicalReportHandler::new_themed(GraphicalTheme::unicode_nocolor())
            .with_width(100)
            .render_report(&mut drawn, &fault.shown())
            .unwrap();
        drawn
    }

    #[test]
    fn a_place_far_along_its_line_is_drawn_with_what_stands_beside_it() {
        let text = format!(
            "board\n{}here{}\nlast",
            "x,".repeat(50_000),
            ",y".repeat(50_000)
        );
        let at = text.find("here").unwrap();
        let drawn = drawn(&text, at..at + 4);
        assert!(drawn.contains("boards.csv:2:100001"), "{drawn}");
        assert!(drawn.contains("x,here,y"), "{drawn}");
        assert!(drawn.len() < 2000, "{drawn}");
    }

    #[test]
    fn what_is_drawn_does_nothing_to_the_terminal() {
        let text = "board\n\u{1b}]0;x\u{7},\u{202e}bad\u{9b}2J,y\n\u{1b}[2J";
        let at = text.find('\u{202e}').unwrap();
        let drawn = drawn(text, at..text.find(",y").unwrap());
        assert!(
            !drawn.contains(['\u{1b}', '\u{7}', '\u{202e}', '\u{9b}']),
            "{drawn:?}"
        );
        assert!(drawn.contains("\\u{202e}bad\\u{9b}2J"), "{drawn}");
    }
}
