//! Simulated annealing by ruin and recreate.

use std::sync::Arc;

use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use crate::layout::heuristics::packing::sheet::{Blank, Scale, Sheet, Spot};
use crate::layout::heuristics::packing::task::{Packing, Task};

/// Chance that a place is passed over.
const BLINK: f64 = 0.03;
/// Temperatures, as shares of the mean area of a blank.
const HOT: f64 = 0.3;
const COLD: f64 = 0.01;
/// What a blank left out counts, where what is wasted counts one.
const OUT: f64 = 2.0;

/// One search, for as many rounds as wanted.
pub(in crate::layout) struct Annealing<'s> {
    rng: Pcg64,
    scale: Scale,
    /// Mean area of a blank.
    mean: f64,
    pub(in crate::layout) now: Packing<'s>,
    energy: f64,
}

impl<'s> Annealing<'s> {
    pub(in crate::layout) fn new(task: &'s Task<'s, '_>, seed: u64) -> Annealing<'s> {
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
        let area = |&stock: &usize| {
            let stock = &problem.stock[stock];
            stock.usable() as f64 * stock.width as f64
        };
        let scale = Scale {
            cuts: problem.cuts,
            least_long: blanks.iter().map(|b| b.long).min().unwrap_or(0),
            least_wide: blanks.iter().map(|b| b.wide).min().unwrap_or(0),
            end: 1.0,
            edge: 0.9,
            strip: 0.8,
            board: task.boards.iter().map(area).fold(0.0, f64::max),
        };
        let sheet = |&stock: &usize| Arc::new(Sheet::new(&problem.stock[stock], &scale));
        let mut search = Annealing {
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

    /// What is left out, some times over, less the wood still of use: a sum of what is left out and
    /// what is wasted, but for a constant.
    fn energy_of(&self, packing: &Packing) -> f64 {
        let out: f64 = packing.out.iter().map(Blank::area).sum();
        let sheets = packing.sheets.iter();
        let free: f64 = sheets.map(|sheet| sheet.free).sum();
        OUT * out - free
    }

    /// One round; `done` is the share of all rounds done.
    pub(in crate::layout) fn round(&mut self, done: f64) {
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

    /// A section of some sheet, if that sheet has any.
    fn some_section(&mut self, packing: &Packing) -> Option<(usize, usize)> {
        let sheet = self.rng.random_range(0..packing.sheets.len());
        let sections = packing.sheets[sheet].sections.len();
        (sections > 0).then(|| (sheet, self.rng.random_range(0..sections)))
    }

    fn clear_sections(&mut self, packing: &mut Packing<'s>) {
        for _ in 0..self.rng.random_range(1..=3) {
            let Some((sheet, section)) = self.some_section(packing) else {
                continue;
            };
            let sheet = Arc::make_mut(&mut packing.sheets[sheet]);
            let strips = sheet.sections.swap_remove(section).strips.into_iter();
            packing.out.extend(strips.flat_map(|strip| strip.blanks));
            sheet.measure(&self.scale);
        }
    }

    fn clear_strips(&mut self, packing: &mut Packing<'s>) {
        for _ in 0..self.rng.random_range(1..=4) {
            let Some((sheet, section)) = self.some_section(packing) else {
                continue;
            };
            let sheet = Arc::make_mut(&mut packing.sheets[sheet]);
            let strips = &mut sheet.sections[section].strips;
            let strip = strips.swap_remove(self.rng.random_range(0..strips.len()));
            packing.out.extend(strip.blanks);
            sheet.measure(&self.scale);
        }
    }

    fn take_blanks(&mut self, packing: &mut Packing<'s>) {
        for _ in 0..self.rng.random_range(2..=6) {
            let Some((sheet, section)) = self.some_section(packing) else {
                continue;
            };
            let sheet = Arc::make_mut(&mut packing.sheets[sheet]);
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
