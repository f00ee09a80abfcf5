//! The bound of the larger fronts alone, where the cost comes in whole boards.
//!
//! Any plan is one of some of its runs too: what the others were cut from goes to waste, which takes no
//! board more. So no plan costs less than the best plan of the larger fronts. Small fronts go almost
//! anywhere; they make the patterns many, and are seldom why a plan needs a board more. Where cheaper boards
//! do not hold even the larger ones, that is proved over a small part of the patterns.
//!
//! Which fronts those are is found by packing them into cheaper boards: the fewest of the largest for which
//! a short search fails are tried. That it fails proves nothing: they may turn out to have a cheaper plan,
//! and then more are taken.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::state::State;
use crate::layout::model::problem::Problem;
use crate::layout::model::watch::{News, Watch};
use crate::layout::search::bin_packing::{Packing, SharedBounds, Thoroughness};
use crate::layout::search::optimiser::Optimiser;
use crate::layout::search::pricer::Stop;

/// Share of the fronts that are left out at least: with few of them the rest is as hard as all.
const LEFT_OUT: f64 = 0.25;
/// Share of the time left that proving it for some of them may take.
const SHARE: f64 = 0.5;

/// Looks for what the best plan of the larger fronts costs.
pub(in crate::layout) struct BinPackingBound<'s, 'a> {
    pub(in crate::layout) problem: &'s Problem<'a>,
    pub(in crate::layout) costs: &'s Costs,
    pub(in crate::layout) begun: Instant,
    pub(in crate::layout) time: Option<Duration>,
    /// Whether to give up: time is up, or the best plan is known.
    pub(in crate::layout) stop: &'s Stop<'s>,
    /// What is known of the whole job, and told of it.
    pub(in crate::layout) shared: &'s SharedBounds,
    pub(in crate::layout) seed: u64,
}

impl<'s, 'a> BinPackingBound<'s, 'a> {
    /// The last of the cheaper plans that packing comes to. Once a short search finds none, the larger fronts
    /// may show that there is none; a long one follows where they do not. Where no time is set it comes
    /// first, since the proof may take without end.
    pub(in crate::layout) fn pack(&self, mut packing: Packing<'s, 'a>) -> State {
        let (before, after) = match self.time {
            Some(_) => (Thoroughness::Short, Some(Thoroughness::Full)),
            None => (Thoroughness::Full, None),
        };
        packing.pack(before);
        if !self.shared.closed() {
            self.raise_bound(&packing.best);
        }
        if let Some(after) = after.filter(|_| !self.shared.closed()) {
            packing.pack(after);
        }
        packing.best
    }

    /// Raises the bound as far as that can be found out; `best` is the best plan known.
    fn raise_bound(&self, best: &State) {
        let groups = by_size(self.problem);
        let fronts: usize = groups.iter().map(Vec::len).sum();
        let most = ((1.0 - LEFT_OUT) * fronts as f64) as usize;
        let few = |groups: &[Vec<usize>]| groups.iter().map(Vec::len).sum::<usize>() <= most;
        let tried = (0..groups.len()).take_while(|&count| few(&groups[..=count]));
        let (mut fit, most) = (0, tried.count());
        while let Some(count) = self.fewest_unpacked(&groups, fit..most, best) {
            if !self.alone(&groups, count, best) {
                return;
            }
            fit = count;
        }
    }

    /// How many of the largest are not packed into cheaper boards by a short search, where fewer are; nothing
    /// where all in the range are.
    fn fewest_unpacked(
        &self,
        groups: &[Vec<usize>],
        tried: Range<usize>,
        best: &State,
    ) -> Option<usize> {
        let packed = |count: usize| {
            let part = self.problem.without(&groups[count..].concat());
            let rest = self.rest(best, &part);
            let costs = Costs::default();
            let shared = SharedBounds::new(rest.cost(&part), 0.0);
            let cheaper = self.shared.beats(rest.cost(&part));
            let packing = Packing::new(&part, (&costs, self.stop, &shared), rest, self.seed);
            cheaper || packing.is_none_or(|packing| packing.better(Thoroughness::Short).is_some())
        };
        let (mut fit, mut fail) = (tried.start, tried.end);
        if fit == fail || packed(fail) {
            return None;
        }
        while fail - fit > 1 {
            let middle = fit.midpoint(fail);
            let end = if packed(middle) { &mut fit } else { &mut fail };
            *end = middle;
        }
        Some(fail)
    }

    /// Raises the bound to what the best plan of so many of the largest costs; true when that is cheaper than
    /// the best plan of all.
    fn alone(&self, groups: &[Vec<usize>], count: usize, best: &State) -> bool {
        let part = self.problem.without(&groups[count..].concat());
        let alone = Alone {
            stop: self.stop,
            shared: self.shared,
            makes: groups[..count].iter().map(Vec::len).sum(),
            known: AtomicBool::new(false),
        };
        let time = self.time.map(|time| {
            let now = self.begun.elapsed();
            now + time.saturating_sub(now).mul_f64(SHARE)
        });
        let mut search = Optimiser::new(&part, &alone, time, self.begun);
        search.offer(self.rest(best, &part));
        if let Some(root) = search.root(self.seed, false) {
            search.close(root, self.seed);
        }
        self.shared.bound(search.bound);
        self.shared.beats(search.cost)
    }

    /// What the best plan leaves of itself where only some runs are made.
    fn rest(&self, best: &State, part: &Problem) -> State {
        let mut rest = best.clone();
        for (run, rows) in part.runs.iter().enumerate() {
            if rows.clone().all(|row| part.hopeless[row]) {
                rest.remove_run(self.problem, self.costs, run);
            }
        }
        rest
    }
}

/// The fronts that can be made, run by run and identical fronts together, the largest first.
fn by_size(problem: &Problem) -> Vec<Vec<usize>> {
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for run in &problem.runs {
        let mut rows = run.clone().filter(|&row| !problem.hopeless[row]).peekable();
        if rows.peek().is_some() {
            let kind = groups
                .entry(problem.identical.first(run.start))
                .or_default();
            kind.extend(rows);
        }
    }
    let size = |rows: &[usize]| {
        let areas = rows.iter().map(|&row| {
            let item = &problem.items[problem.starts[row].start];
            item.length as f64 * item.width as f64
        });
        areas.sum::<f64>() / rows.len() as f64
    };
    let mut groups: Vec<Vec<usize>> = groups.into_values().collect();
    groups.sort_by(|a, b| size(b).total_cmp(&size(a)));
    groups
}

/// Waits until it is known whether some of the fronts can be made for less than all are.
struct Alone<'w> {
    stop: &'w Stop<'w>,
    shared: &'w SharedBounds,
    makes: usize,
    known: AtomicBool,
}

impl Watch for Alone<'_> {
    fn news(&self, news: &News) {
        let known = self.shared.beats(news.cost) || !self.shared.beats(news.bound);
        if known && news.made == self.makes {
            self.known.store(true, Ordering::Relaxed);
        }
    }

    fn stop(&self) -> bool {
        self.known.load(Ordering::Relaxed) || (self.stop)()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::job::Allowances;
    use crate::job::Board;
    use crate::job::Front;
    use crate::job::Glue;
    use crate::job::Job;
    use crate::job::Run;
    use crate::job::Settings;
    use crate::job::Worth;
    use crate::layout::model::watch::Silent;
    use crate::measure::Length;

    /// A job whose plans cost so many whole boards: nothing is kept and looks count nothing.
    fn job(items: &[(i64, i64)]) -> Job {
        let inches = |whole: i64| Length::from_nm(whole * 25_400_000);
        let front = |(index, &(long, wide)): (usize, &(i64, i64))| Front {
            name: index.to_string(),
            width: inches(long),
            height: inches(wide),
            thickness: inches(1),
            ..Front::default()
        };
        let run = |index: usize| Run {
            name: index.to_string(),
            fronts: vec![index],
        };
        let settings = Settings {
            allowances: Allowances {
                plane: Length::ZERO,
                shortest_safe: Length::ZERO,
                keep_offcut: None,
                ..Allowances::default()
            },
            worth: Worth {
                unbroken: 0.0,
                tone_run: 0.0,
                tone_case: 0.0,
                glue_line: 0.0,
                mixed_log: 0.0,
                mixed_cut: 0.0,
                ..Worth::default()
            },
            glue: Glue {
                allow: false,
                ..Glue::default()
            },
            ..Settings::default()
        };
        Job {
            settings,
            boards: vec![Board {
                id: "board".to_owned(),
                copies: (1..=items.len() as u32).collect(),
                length: inches(50),
                width: inches(12),
                thickness: inches(1),
                ..Board::default()
            }],
            fronts: items.iter().enumerate().map(front).collect(),
            runs: (0..items.len()).map(run).collect(),
            ..Job::default()
        }
    }

    /// Searches to the end without a look at the larger fronts.
    fn proved<'p, 'a>(problem: &'p Problem<'a>) -> Optimiser<'p, 'a> {
        let mut search = Optimiser::new(problem, &Silent, None, Instant::now());
        if let Some(root) = search.root(0, false) {
            search.close(root, 0);
        }
        assert!(search.closed(), "not proved");
        search
    }

    fn bound_by_packing<'s, 'a>(
        search: &'s Optimiser<'_, 'a>,
        shared: &'s SharedBounds,
    ) -> BinPackingBound<'s, 'a> {
        BinPackingBound {
            problem: search.problem,
            costs: &search.costs,
            begun: search.begun,
            time: None,
            stop: &|| false,
            shared,
            seed: 0,
        }
    }

    #[test]
    fn larger_fronts_that_need_all_boards_prove_the_plan() {
        // No two of the large ones share a board; the small ones go beside them.
        let large = [(30, 8), (30, 8), (26, 9), (26, 9)];
        let small = [(5, 3), (4, 4), (9, 2)];
        let job = job(&[&small[..], &large[..]].concat());
        let problem = Problem::new(&job, false);
        let search = proved(&problem);
        let shared = SharedBounds::new(search.cost, 0.0);
        bound_by_packing(&search, &shared).raise_bound(&search.incumbent);
        assert!(shared.closed(), "{} for {}", shared.least(), search.cost);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// So many of the largest, against a job of just these.
        #[test]
        fn larger_fronts_alone_are_a_job_of_their_own(
            items in prop::collection::vec((4i64..=40, 2i64..=11), 4..12),
        ) {
            let whole = job(&items);
            let problem = Problem::new(&whole, false);
            let search = proved(&problem);
            let groups = by_size(&problem);
            for count in 1..groups.len() {
                let of: Vec<(i64, i64)> =
                    groups[..count].concat().iter().map(|&row| items[row]).collect();
                let few = job(&of);
                let few = Problem::new(&few, false);
                let least = proved(&few).cost;
                let shared = SharedBounds::new(search.cost, 0.0);
                let cheaper = bound_by_packing(&search, &shared).alone(&groups, count, &search.incumbent);
                prop_assert_eq!(cheaper, least < search.cost - 1e-9, "{} of {:?}", count, items);
                prop_assert!(shared.least() <= least + 1e-9, "{} of {:?}", count, items);
                prop_assert!(cheaper || shared.closed(), "{} of {:?}", count, items);
            }
        }
    }
}
