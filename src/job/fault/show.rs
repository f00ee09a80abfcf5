//! Faults as diagnostics, so that they can be shown beside the line they stand on.

use std::fmt::Display;

use miette::{Diagnostic, LabeledSpan, Severity, SourceCode, SourceSpan, SpanContents};

use super::{Fault, Source};

impl Diagnostic for Fault {
    fn severity(&self) -> Option<Severity> {
        Some(if self.is_warning() {
            Severity::Warning
        } else {
            Severity::Error
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        let expected = match self.place.span() {
            Some(_) => None,
            None => self.trouble.expected().map(expecting),
        };
        let lines: Vec<String> = expected.into_iter().chain(self.trouble.hint()).collect();
        (!lines.is_empty()).then(|| Box::new(lines.join("\n")) as Box<dyn Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.place
            .span()
            .map(|_| self.place.source() as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let span = self.place.span()?;
        let label = self.trouble.expected().map(expecting);
        let label = LabeledSpan::new(label, span.start, span.len());
        Some(Box::new(std::iter::once(label)))
    }
}

fn expecting(what: String) -> String {
    format!("expected {what}")
}

impl SourceCode for Source {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, miette::MietteError> {
        let text: &'a str = self.text();
        let found = text.read_span(span, before, after)?;
        Ok(Box::new(miette::MietteSpanContents::new_named(
            self.name().to_owned(),
            found.data(),
            *found.span(),
            found.line(),
            found.column(),
            found.line_count(),
        )))
    }
}
