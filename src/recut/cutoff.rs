//! Gives up on a branch once nothing in it can be better than what is known.

use std::sync::atomic::{AtomicBool, Ordering};

use crate::layout::{News, Watch};

use super::reduce::Reduced;

/// Passes news on, told for the whole plan, and asks to stop once the bound is high enough.
pub(super) struct Cutoff<'w> {
    watch: &'w dyn Watch,
    /// What the whole plan costs beside the reduced job.
    base: f64,
    fronts: usize,
    /// A bound this high is high enough.
    enough: f64,
    reached: AtomicBool,
}

impl<'w> Cutoff<'w> {
    pub(super) fn new(watch: &'w dyn Watch, reduced: &Reduced, best: Option<f64>) -> Cutoff<'w> {
        Cutoff {
            watch,
            base: reduced.base,
            fronts: reduced.job.fronts.len(),
            enough: best.map_or(f64::INFINITY, |best| best - reduced.base),
            reached: AtomicBool::new(false),
        }
    }
}

impl Watch for Cutoff<'_> {
    fn news(&self, news: &News) {
        // The bound told leaves out what is not made, so it says enough only when all is.
        if news.made == self.fronts && news.bound >= self.enough {
            self.reached.store(true, Ordering::Relaxed);
        }
        self.watch.news(&News {
            cost: news.cost + self.base,
            bound: news.bound + self.base,
            ..*news
        });
    }

    fn stop(&self) -> bool {
        self.reached.load(Ordering::Relaxed) || self.watch.stop()
    }
}
