//! Where results and errors go: results to standard output, all else to standard error.

use std::io::{IsTerminal, Write};

use grainrow::commands::Failure;
use grainrow::job::{Fault, Faults};
use grainrow::measure::{Unit, volume_names};
use miette::{GraphicalReportHandler, GraphicalTheme};
use serde::Serialize;

use super::exit::Exit;

/// How much is shown, and in which form.
#[derive(Clone, Copy, Debug)]
pub struct Report {
    pub json: bool,
    pub quiet: bool,
}

/// Faults as a machine reads them.
#[derive(Serialize)]
struct JsonFaults<'a> {
    error: String,
    faults: Option<&'a Faults>,
}

impl Report {
    /// Shows a result: `value` as JSON when asked for, else `text`.
    pub fn result(&self, value: &impl Serialize, text: &str) {
        self.result_in(Unit::Inch, value, text);
    }

    /// The same of a result with volumes in it, which a job in millimetres has in litres.
    pub fn result_in(&self, unit: Unit, value: &impl Serialize, text: &str) {
        if self.json {
            let json = serde_json::to_string_pretty(value).unwrap_or_default();
            print(&format!("{}\n", volume_names(unit, &json)));
        } else {
            self.text(text);
        }
    }

    /// Shows a result that has no other form in JSON.
    pub fn text(&self, text: &str) {
        if !self.quiet && !self.json {
            print(text);
        }
    }

    /// Says what is wrong with what was asked for.
    pub fn usage(&self, why: &str) {
        complain(&format!("error: {why}\n"));
    }

    /// Says on standard error what is not wrong but good to know.
    pub fn warning(&self, words: &str) {
        if !self.quiet {
            complain(&format!("warning: {words}\n"));
        }
    }

    /// Shows warnings on standard error.
    pub fn findings(&self, findings: &Faults) {
        if !self.quiet {
            show(findings.iter());
        }
    }

    /// Shows why a command did not do its job, and says how that ends.
    pub fn failure(&self, failure: &Failure) -> Exit {
        let faults = match failure {
            Failure::Faults(faults) => Some(faults),
            _ => None,
        };
        show(faults.into_iter().flatten());
        complain(&format!("error: {failure}\n"));
        if self.json {
            let value = JsonFaults {
                error: failure.to_string(),
                faults,
            };
            self.result(&value, "");
        }
        failure.into()
    }
}

/// Prints to standard output; a reader that has gone away is no error.
pub fn print(text: &str) {
    let _ = anstream::stdout().write_all(text.as_bytes());
}

fn complain(text: &str) {
    let _ = anstream::stderr().write_all(text.as_bytes());
}

/// Shows each fault beside the line it stands on.
fn show<'a>(faults: impl Iterator<Item = &'a Fault>) {
    let handler = GraphicalReportHandler::new_themed(theme()).with_width(100);
    for fault in faults {
        let mut text = String::new();
        // A fault that can't be drawn beside its line is still told.
        if handler.render_report(&mut text, fault).is_err() {
            text = format!("{fault}\n");
        }
        complain(&format!("{text}\n"));
    }
}

fn theme() -> GraphicalTheme {
    let plain = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    if plain || !std::io::stderr().is_terminal() {
        GraphicalTheme::unicode_nocolor()
    } else {
        GraphicalTheme::unicode()
    }
}
