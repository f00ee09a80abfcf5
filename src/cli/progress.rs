//! What a search tells while it runs, on a terminal only.

use std::io::IsTerminal;
use std::time::Duration;

use grainrow::layout::{News, Watch};
use indicatif::{ProgressBar, ProgressStyle};

use super::report::Report;
use super::stop::Stop;

/// Shows the best cost, the bound and the time; asks the search to stop after Ctrl-C.
#[derive(Debug)]
pub struct Progress {
    bar: ProgressBar,
    stop: Stop,
}

impl Progress {
    pub fn new(report: &Report, stop: Stop) -> Progress {
        let bar = bar(report, "looking for a first plan");
        Progress { bar, stop }
    }

    /// Clears the line away.
    pub fn finish(&self) {
        self.bar.finish_and_clear();
    }
}

/// A line that says `message` and the time, on a terminal only.
pub fn bar(report: &Report, message: &'static str) -> ProgressBar {
    let shown = !report.quiet && std::io::stderr().is_terminal();
    let bar = if shown {
        ProgressBar::new_spinner()
    } else {
        ProgressBar::hidden()
    };
    if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}  {elapsed}") {
        bar.set_style(style);
    }
    bar.set_message(message);
    bar.enable_steady_tick(Duration::from_millis(100));
    bar
}

impl Watch for Progress {
    fn news(&self, news: &News) {
        let stopping = if self.stop() { "  stopping" } else { "" };
        let News {
            cost, bound, made, ..
        } = news;
        let message = format!("cost {cost:.2}  bound {bound:.2}  {made} fronts made{stopping}");
        self.bar.set_message(message);
    }

    fn stop(&self) -> bool {
        self.stop.pressed()
    }
}
