//! Packs fronts into given boards: a search that asks only whether they all fit.
//!
//! Where a plan costs so many whole boards, one plan is as dear as the next until a board less will
//! do, so the cost says nothing about the way there. This search is given too few boards on purpose
//! and leaves fronts out; what is left out, and what wood is lost to waste where nothing fits, is
//! what it brings down by ruin and recreate, under simulated annealing. (Fewer vehicles are found
//! the same way in Christiaens, Vanden Berghe (2020), Slack induction by string removals,
//! Transportation Sci. 54.)

mod sheet;

use std::sync::Arc;

use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use rayon::prelude::*;

use super::pattern::{Costs, Pattern};
use super::problem::Problem;
use sheet::{Blank, Scale, Sheet, Spot};

/// Chance that a place is passed over.
const BLINK: f64 = 0.03;
/// Temperatures, as shares of the mean area of a blank.
const HOT: f64 = 0.3;
const COLD: f64 = 0.01;
/// Searches side by side, and rounds between two looks at each other and at the clock.
const SIDE_BY_SIDE: u64 = 4;
const LEG: usize = 500;

/// What is packed, and where.
pub(super) struct Task<'t, 'a> {
    pub(super) problem: &'t Problem<'a>,
    /// One-piece items to be cut, each once.
    pub(super) items: Vec<usize>,
    /// Kinds of the boards to cut them from, one entry a board.
    pub(super) boards: Vec<usize>,
}

/// Sheets, and what none of them holds.
#[derive(Clone)]
struct Packing<'s> {
    sheets: Vec<Arc<Sheet<'s>>>,
    out: Vec<Blank>,
}

/// Whether [`pack`] knows all that matters about this job: clear boards, to be used up.
pub(super) fn knows(problem: &Problem) -> bool {
    let clear =
        |stock: &super::problem::Stock| stock.zones.is_empty() && stock.part == super::Part::Board;
    problem.stock.iter().all(clear)
}

/// Patterns that cut all items from the boards, or nothing when so many rounds found none.
///
/// Searches go side by side, always as many, and stop together: so the answer is the same on any
/// number of threads.
pub(super) fn pack(
    task: &Task,
    costs: &Costs,
    seed: u64,
    rounds: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Option<Vec<Pattern>> {
    let side = (0..SIDE_BY_SIDE).into_par_iter();
    let seed = |one: u64| seed.wrapping_mul(SIDE_BY_SIDE).wrapping_add(one);
    let mut searches: Vec<Search> = side.map(|one| Search::new(task, seed(one))).collect();
    for leg in 0..rounds.div_ceil(LEG) {
        if let Some(found) = searches.iter().find(|search| search.now.out.is_empty()) {
            return found.now.patterns(task.problem, costs);
        }
        if stop() {
            return None;
        }
        searches.par_iter_mut().for_each(|search| {
            let legs = leg * LEG..(leg + 1) * LEG;
            for round in legs {
                if search.now.out.is_empty() {
                    return;
                }
                search.round(round as f64 / rounds as f64);
            }
        });
    }
    None
}

impl<'s> Packing<'s> {
    fn patterns(&self, problem: &Problem, costs: &Costs) -> Option<Vec<Pattern>> {
        let used = self
            .sheets
            .iter()
            .filter(|sheet| !sheet.sections.is_empty());
        used.map(|sheet| {
            let shape = sheet.shape();
            // Sheets know of clear boards all there is to know.
            let stock = sheet.stock.board;
            let wood = costs.wood(problem, stock, &shape)?;
            Some(Pattern { stock, shape, wood })
        })
        .collect()
    }
}

struct Search<'s> {
    rng: Pcg64,
    scale: Scale,
    /// Mean area of a blank.
    mean: f64,
    now: Packing<'s>,
    energy: f64,
}

impl<'s> Search<'s> {
    fn new(task: &'s Task<'s, '_>, seed: u64) -> Search<'s> {
        let problem = task.problem;
        let blank = |&item: &usize| {
            let it = &problem.items[item];
            Blank {
                item,
                long: it.room,
                wide: it.width,
            }
        };
        let blanks: Vec<Blank> = task.items.iter().map(blank).collect();
        let scale = Scale {
            cuts: problem.cuts,
            least_long: blanks.iter().map(|b| b.long).min().unwrap_or(0),
            least_wide: blanks.iter().map(|b| b.wide).min().unwrap_or(0),
            end: 1.0,
            edge: 0.95,
            strip: 0.9,
        };
        let sheet = |&stock: &usize| Arc::new(Sheet::new(&problem.stock[stock], &scale));
        let mut search = Search {
            rng: Pcg64::seed_from_u64(seed),
            scale,
            mean: blanks.iter().map(Blank::area).sum::<f64>() / blanks.len().max(1) as f64,
            now: Packing {
                sheets: task.boards.iter().map(sheet).collect(),
                out: blanks,
            },
            energy: 0.0,
        };
        let mut first = search.now.clone();
        search.recreate(&mut first);
        search.energy = search.energy_of(&first);
        search.now = first;
        search
    }

    /// What is left out, twice, less the wood still of use: the sum of what is left out and wasted,
    /// but for a constant.
    fn energy_of(&self, packing: &Packing) -> f64 {
        let out: f64 = packing.out.iter().map(Blank::area).sum();
        let sheets = packing.sheets.iter();
        let free: f64 = sheets.map(|sheet| sheet.free).sum();
        2.0 * out - free
    }

    /// One round; `done` is the share of all rounds done.
    fn round(&mut self, done: f64) {
        let mut next = self.now.clone();
        self.ruin(&mut next);
        self.recreate(&mut next);
        let energy = self.energy_of(&next);
        let heat = self.mean * HOT * (COLD / HOT).powf(done);
        let luck: f64 = self.rng.random_range(f64::MIN_POSITIVE..1.0);
        if energy < self.energy - heat * luck.ln() {
            (self.now, self.energy) = (next, energy);
        }
    }

    fn ruin(&mut self, packing: &mut Packing<'s>) {
        match self.rng.random_range(0..10) {
            0 => self.clear_sheet(packing),
            1..5 => self.clear_sections(packing),
            5..8 => self.clear_strips(packing),
            _ => self.take_blanks(packing),
        }
    }

    fn clear_sheet(&mut self, packing: &mut Packing<'s>) {
        let at = self.rng.random_range(0..packing.sheets.len());
        let sheet = Arc::make_mut(&mut packing.sheets[at]);
        packing.out.extend(sheet.blanks().copied());
        sheet.sections.clear();
        sheet.measure(&self.scale);
    }

    fn clear_sections(&mut self, packing: &mut Packing<'s>) {
        for _ in 0..self.rng.random_range(1..=3) {
            let at = self.rng.random_range(0..packing.sheets.len());
            let sheet = Arc::make_mut(&mut packing.sheets[at]);
            if sheet.sections.is_empty() {
                continue;
            }
            let section = self.rng.random_range(0..sheet.sections.len());
            let section = sheet.sections.swap_remove(section);
            let strips = section.strips.into_iter();
            packing.out.extend(strips.flat_map(|strip| strip.blanks));
            sheet.measure(&self.scale);
        }
    }

    fn clear_strips(&mut self, packing: &mut Packing<'s>) {
        for _ in 0..self.rng.random_range(1..=4) {
            let at = self.rng.random_range(0..packing.sheets.len());
            let sheet = Arc::make_mut(&mut packing.sheets[at]);
            if sheet.sections.is_empty() {
                continue;
            }
            let section = self.rng.random_range(0..sheet.sections.len());
            let strips = &mut sheet.sections[section].strips;
            let strip = strips.swap_remove(self.rng.random_range(0..strips.len()));
            packing.out.extend(strip.blanks);
            sheet.measure(&self.scale);
        }
    }

    fn take_blanks(&mut self, packing: &mut Packing<'s>) {
        for _ in 0..self.rng.random_range(2..=6) {
            let at = self.rng.random_range(0..packing.sheets.len());
            let sheet = Arc::make_mut(&mut packing.sheets[at]);
            if sheet.sections.is_empty() {
                continue;
            }
            let section = self.rng.random_range(0..sheet.sections.len());
            let strips = &mut sheet.sections[section].strips;
            let strip = self.rng.random_range(0..strips.len());
            let blanks = &mut strips[strip].blanks;
            let blank = blanks.swap_remove(self.rng.random_range(0..blanks.len()));
            packing.out.push(blank);
            sheet.measure(&self.scale);
        }
    }

    /// Puts what is left out where it leaves most wood of use.
    fn recreate(&mut self, packing: &mut Packing<'s>) {
        let mut out = std::mem::take(&mut packing.out);
        out.shuffle(&mut self.rng);
        match self.rng.random_range(0..10) {
            0..3 => out.sort_by_key(|b| std::cmp::Reverse(b.wide)),
            3..6 => out.sort_by_key(|b| std::cmp::Reverse(b.long)),
            6..9 => out.sort_by(|a, b| b.area().total_cmp(&a.area())),
            _ => {}
        }
        for blank in out {
            match self.best_spot(packing, &blank) {
                Some((sheet, spot)) => {
                    Arc::make_mut(&mut packing.sheets[sheet]).put(spot, blank, &self.scale);
                }
                None => packing.out.push(blank),
            }
        }
    }

    fn best_spot(&mut self, packing: &Packing, blank: &Blank) -> Option<(usize, Spot)> {
        let mut best: Option<(f64, usize, Spot)> = None;
        let rng = &mut self.rng;
        for (at, sheet) in packing.sheets.iter().enumerate() {
            sheet.spots(blank, &self.scale, &mut |spot, less| {
                let better = best.is_none_or(|(least, ..)| less < least);
                if better && !rng.random_bool(BLINK) {
                    best = Some((less, at, spot));
                }
            });
        }
        best.map(|(_, sheet, spot)| (sheet, spot))
    }
}
