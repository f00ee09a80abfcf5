//! Where results and errors go: results to standard output, all else to standard error.

use std::io::{ErrorKind, IsTerminal, Write};
use std::path::{Path, PathBuf};

use grainrow::commands::Failure;
use grainrow::job::{Fault, Faults};
use grainrow::measure::{Unit, volume_names};
use grainrow::text::{escaped_in_json, shown};
use miette::{GraphicalReportHandler, GraphicalTheme};
use serde::Serialize;

use super::exit::Exit;
use super::lines;

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
    ///
    /// # Errors
    /// As for all that is shown here: when it can't be written.
    pub fn result(&self, value: &impl Serialize, text: &str) -> Result<(), Failure> {
        self.result_in(Unit::Inch, value, text)
    }

    /// The same of a result with volumes in it, which a job in millimetres has in litres.
    pub fn result_in(&self, unit: Unit, value: &impl Serialize, text: &str) -> Result<(), Failure> {
        if !self.json {
            return self.text(text);
        }
        let json = serde_json::to_string_pretty(value).unwrap_or_default();
        self.json(&format!("{}\n", volume_names(unit, &json)))
    }

    /// Shows a result that has no other form in JSON.
    pub fn text(&self, text: &str) -> Result<(), Failure> {
        match self.quiet || self.json {
            true => Ok(()),
            false => print(&lines::fitted(&shown(text))),
        }
    }

    /// Shows a result that is JSON already.
    pub fn json(&self, json: &str) -> Result<(), Failure> {
        print(&escaped_in_json(json))
    }

    /// Says what is wrong with what was asked for.
    pub fn usage(&self, why: &str) {
        complain(&shown(&format!("error: {why}\n")));
    }

    /// Says on standard error what is not wrong but good to know.
    pub fn warning(&self, words: &str) {
        if !self.quiet {
            complain(&shown(&format!("warning: {words}\n")));
        }
    }

    /// Shows warnings on standard error.
    pub fn findings(&self, findings: &Faults) {
        if !self.quiet {
            show(findings);
        }
    }

    /// Says which of the maker's own files were in the way, and where they are now.
    pub fn set_aside(&self, out: &Path, names: &[String]) {
        for name in names.iter().filter(|_| !self.quiet) {
            let (place, file) = name.split_once('/').unwrap_or(("", name));
            let (old, new) = (out.join(file), out.join(place).join(file));
            let note = format!(
                "note: {} was not written by grainrow, so it is kept: it is now {}\n",
                old.display(),
                new.display()
            );
            complain(&shown(&note));
        }
    }

    /// Shows why a command did not do its job, and says how that ends.
    pub fn failure(&self, failure: &Failure) -> Exit {
        let faults = match failure {
            Failure::Faults(faults) => Some(faults),
            _ => None,
        };
        if let Some(faults) = faults {
            show(faults);
        }
        complain(&shown(&format!("error: {failure}\n")));
        if self.json {
            let value = JsonFaults {
                error: failure.to_string(),
                faults,
            };
            // What could not be said once can't be said again.
            let _ = self.result(&value, "");
        }
        failure.into()
    }
}

/// Prints to standard output; a reader that has gone away is no error.
fn print(text: &str) -> Result<(), Failure> {
    let mut out = anstream::stdout();
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    match written {
        Err(why) if why.kind() != ErrorKind::BrokenPipe => Err(Failure::Write {
            path: PathBuf::from("standard output"),
            why,
        }),
        _ => Ok(()),
    }
}

pub fn complain(text: &str) {
    let _ = anstream::stderr().write_all(text.as_bytes());
}

/// Faults shown at the most: who mends these will run it again.
const MOST_SHOWN: usize = 50;

/// Shows each fault beside the line it stands on. What forbids use goes before warnings when there
/// are more than can be shown.
fn show(faults: &Faults) {
    let handler = GraphicalReportHandler::new_themed(theme()).with_width(100);
    let mut list: Vec<&Fault> = faults.iter().collect();
    if list.len() > MOST_SHOWN {
        list.sort_by_key(|fault| fault.is_warning());
    }
    for fault in list.iter().take(MOST_SHOWN) {
        let mut text = String::new();
        // A fault that can't be drawn beside its line is still told.
        if handler.render_report(&mut text, &fault.shown()).is_err() {
            text = format!("{}\n", fault.shown());
        }
        complain(&format!("{text}\n"));
    }
    if let Some(more @ 1..) = list.len().checked_sub(MOST_SHOWN) {
        complain(&format!("and {more} more like these; --json lists all\n\n"));
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
