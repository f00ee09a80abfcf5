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
        self.bar.set_message(told(news, self.stop()));
    }

    fn stop(&self) -> bool {
        self.stop.pressed()
    }
}

/// Cost, bound and gap of the best plan so far, within a line of 80 columns.
fn told(news: &News, stopping: bool) -> String {
    let News { cost, bound, .. } = news;
    let gap = match *cost > 0.0 {
        true => format!("{:.1} %", 100.0 * (cost - bound).max(0.0) / cost),
        false => "0 %".to_owned(),
    };
    let end = match stopping {
        true => "stopping",
        false => "Ctrl-C keeps the plan",
    };
    format!("cost {cost:.2}  bound {bound:.2}  gap {gap}  {end}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cost_bound_gap_and_how_to_stop_fit_a_line() {
        let news = News {
            cost: 40_000.0,
            bound: 39_000.0,
            made: 1000,
            seconds: 59.0,
        };
        let words = told(&news, false);
        assert_eq!(
            words,
            "cost 40000.00  bound 39000.00  gap 2.5 %  Ctrl-C keeps the plan"
        );
        // A sign before it, the time after it.
        assert!(words.chars().count() + 10 <= 80);
        assert!(told(&news, true).ends_with("stopping"));
    }
}
