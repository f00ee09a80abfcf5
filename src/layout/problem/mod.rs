//! A job as the optimiser sees it: stock, rows to cover, and the items that cover them.
//!
//! A *row* is one front, at its position in the chain of all runs. An *item* is one way to cut
//! consecutive rows as one stretch: in one piece, or as one stave of a *mode*, which is a stretch
//! glued from so many staves. A board pattern is a set of items.

mod prepare;

use std::collections::HashMap;
use std::ops::Range;

use crate::job::{Board, Job};
use crate::measure::Length;
use crate::milling;
use crate::plan::{self, Limits};

use super::mixed::{KINDS, Labels, Looks};
use super::moving::Staying;
use super::state::UNMADE;
use super::twins::Twins;
use super::watch::Patience;
use super::zone::Zone;
use super::{History, Part};

/// A job prepared for the search. Lengths are whole nanometres.
#[derive(Clone)]
pub(super) struct Problem<'a> {
    pub(super) job: &'a Job,
    /// Fronts in chain order: run after run, each by place. Row `r < chain.len()` is `chain[r]`.
    pub(super) chain: Vec<usize>,
    /// Rows of each run.
    pub(super) runs: Vec<Range<usize>>,
    /// All items: one-piece stretches by first row, then the staves, one a mode.
    pub(super) items: Vec<Item>,
    /// Ways to glue a stretch.
    pub(super) modes: Vec<Mode>,
    /// One-piece items that start at each row, shortest first.
    pub(super) starts: Vec<Range<usize>>,
    /// Modes of the stretches that start at each row.
    pub(super) glued_starts: Vec<Vec<usize>>,
    /// Board kinds.
    pub(super) stock: Vec<Stock>,
    /// Different tones on hand, palest first.
    pub(super) tones: Vec<f64>,
    /// Different looks on hand.
    pub(super) looks: Looks,
    pub(super) cuts: Cuts,
    pub(super) worth: Worths,
    /// Whether the cost is money.
    pub(super) by_money: bool,
    /// What the plan must keep to.
    pub(super) limits: Limits,
    /// Fronts that can trade places.
    pub(super) twins: Twins,
    /// Sides of tone steps that runs are known to be on.
    pub(super) sides: Vec<OnSide>,
    /// Boards known to be used, of which there is one each.
    pub(super) used: Vec<usize>,
    /// Boards, of which there is one each, known to give a stave of a mode or more: `(board, mode)`.
    pub(super) giving: Vec<(usize, usize)>,
    /// Whether each row is of a front that no board can make, nor any part of it.
    pub(super) hopeless: Vec<bool>,
    /// How long boards are looked at.
    pub(super) patience: Patience<'a>,
}

/// A run, or after the last one the case, with something on one side of a tone step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct OnSide {
    pub(super) run: usize,
    pub(super) step: usize,
    pub(super) below: bool,
}

/// What the saws take and what is kept, in nanometres.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cuts {
    pub(super) crosscut: i64,
    pub(super) rip: i64,
    pub(super) edge: i64,
    pub(super) keep_length: Option<i64>,
    pub(super) keep_width: i64,
    /// No blank or stave is wider: what the machines take.
    pub(super) widest: Option<i64>,
    /// Staves are ripped to whole multiples of this.
    pub(super) glue_step: i64,
}

/// What looks cost, in the unit of the cost.
#[derive(Clone, Copy, Debug)]
pub(super) struct Worths {
    pub(super) unbroken: f64,
    pub(super) tone_run: f64,
    pub(super) tone_case: f64,
    pub(super) glue_line: f64,
    /// One more log inside a run, one more way of sawing.
    pub(super) mixed: [f64; KINDS],
}

/// One way to cut consecutive rows of a run: a stretch in one piece, or one stave of it.
#[derive(Clone, Debug)]
pub(super) struct Item {
    pub(super) run: usize,
    /// The fronts' rows.
    pub(super) rows: Range<usize>,
    /// Blank lengths in run order.
    pub(super) lengths: Vec<i64>,
    /// Least gap after each blank but the last.
    pub(super) gaps: Vec<i64>,
    /// Widest gap.
    pub(super) widest_gap: i64,
    /// Blank width in one piece; the least width of a stave.
    pub(super) width: i64,
    /// Length with the least gaps.
    pub(super) length: i64,
    /// Length to reserve in the strip: `length`, or the shortest safe length.
    pub(super) room: i64,
    /// Index into `modes`, when it is a stave.
    pub(super) mode: Option<usize>,
}

/// A stretch glued from `staves` staves.
#[derive(Clone, Debug)]
pub(super) struct Mode {
    /// The fronts' rows.
    pub(super) rows: Range<usize>,
    pub(super) staves: usize,
    /// Least sum of the staves' blank widths.
    pub(super) total_width: i64,
    /// What patterns must be wide together: as much, or where not all [`rests`](Mode::rests) are listed, less by
    /// what a rest that is not may be wider than the next that is. No plan is lost so, and a bound stays one.
    pub(super) asked_width: i64,
    /// No stave need be wider: the others are at least as wide as allowed.
    pub(super) widest: i64,
    /// Its stave, index into `items`.
    pub(super) item: usize,
    /// Widths that the other staves may leave missing and that are no multiples of the step, in order.
    pub(super) rests: Vec<i64>,
}

impl Mode {
    /// Whether staves `width` wide would not do for all of it.
    pub(super) fn narrow(&self, width: i64) -> bool {
        width * (self.staves as i64) < self.asked_width
    }

    /// How wide the widest stave is at least where another is only `narrow` wide: an equal share of
    /// what that one leaves. Where more are that narrow, it is wider still.
    pub(super) fn sister(&self, narrow: i64) -> i64 {
        let others = (self.staves as i64 - 1).max(1);
        (self.asked_width - narrow + others - 1) / others
    }
}

/// One kind of board.
#[derive(Clone, Debug)]
pub(super) struct Stock {
    /// Index into `Job::boards`.
    pub(super) board: usize,
    pub(super) count: usize,
    pub(super) length: i64,
    pub(super) width: i64,
    /// Wood between the end trims.
    pub(super) from: i64,
    pub(super) to: i64,
    pub(super) crook: f64,
    /// What it is a part of.
    pub(super) part: Part,
    /// Whether the hook end and the far end may be kept.
    pub(super) ends: [bool; 2],
    /// Cost of using the whole board.
    pub(super) whole: f64,
    /// Cost given back for each square nanometre kept.
    pub(super) kept_rate: f64,
    /// Index into `Problem::tones`.
    pub(super) tone: usize,
    /// Index into the problem's looks.
    pub(super) look: usize,
    /// Rectangles blanks must not overlap.
    pub(super) zones: Vec<Zone>,
    /// Widths that a strip takes when it has a section to itself, in order.
    pub(super) fulls: Vec<i64>,
    /// Whether some defect shows on one side only.
    pub(super) one_sided: bool,
    /// Whether a piece can come out too thin.
    pub(super) warped: bool,
    /// Whether each one-piece item comes out thick enough with its blanks as near as can be.
    pub(super) flat: Vec<bool>,
    /// Widest blank each item may have here, 0 for items that do not fit: what is left after the
    /// edges, and for a stave what flattening allows.
    pub(super) widest: Vec<i64>,
    /// What each item costs here at least because its fronts are chalked elsewhere or look different
    /// from their neighbours; empty when nothing does.
    pub(super) moving: Vec<f64>,
    /// Items that may stay where they are chalked on such a board.
    pub(super) staying: Vec<Staying>,
}

impl Stock {
    /// Free wood at either edge that no strip may use, in a section `long`.
    pub(super) fn edge_loss(&self, cuts: &Cuts, long: i64) -> i64 {
        let share = long as f64 / self.length as f64;
        let lost = self.crook * share * share / 2.0;
        // Rounded up by hand: `f64::ceil` is a call where the processor is not known to round, and this is
        // asked for millions of times.
        let whole = lost as i64;
        cuts.edge + whole + i64::from((whole as f64) < lost)
    }

    /// Length between the trims.
    pub(super) fn usable(&self) -> i64 {
        self.to - self.from
    }
}

impl<'a> Problem<'a> {
    /// Prepares `job`; `by_money` counts money instead of board feet.
    pub(super) fn new(job: &'a Job, by_money: bool) -> Problem<'a> {
        Problem::with(job, by_money, &History::default())
    }

    /// The same for a job of which some is done or chalked already.
    pub(super) fn with(job: &'a Job, by_money: bool, history: &History) -> Problem<'a> {
        let chain: Vec<usize> = job.runs.iter().flat_map(|r| r.fronts.clone()).collect();
        let runs = prepare::run_ranges(job);
        let mut tones: Vec<f64> = job.boards.iter().map(|b| b.tone.value()).collect();
        tones.sort_by(f64::total_cmp);
        tones.dedup();
        let mean_price = || history.mean_price.or_else(|| plan::mean_price(job));
        let price = by_money.then(mean_price).flatten();
        let items = super::stretches::whole_items(job, &chain, &runs);
        let mut problem = Problem {
            job,
            starts: prepare::starts(&items, chain.len()),
            glued_starts: vec![Vec::new(); chain.len()],
            chain,
            runs,
            items,
            modes: Vec::new(),
            stock: Vec::new(),
            looks: Looks::of(job, &tones),
            tones,
            cuts: prepare::cuts(job),
            worth: prepare::worths(job, price.unwrap_or(1.0)),
            by_money: price.is_some(),
            limits: Limits::default(),
            twins: Twins::default(),
            sides: Vec::new(),
            used: Vec::new(),
            giving: Vec::new(),
            hopeless: Vec::new(),
            patience: Patience::default(),
        };
        problem.stock = job
            .boards
            .iter()
            .enumerate()
            .map(|(index, board)| prepare::stock(&problem, index, board, history))
            .collect();
        super::stretches::add_modes(&mut problem);
        let most = problem.most_boards();
        let stock = problem.stock.iter_mut();
        stock.for_each(|stock| stock.count = stock.count.min(most));
        for index in 0..problem.stock.len() {
            let stock = &problem.stock[index];
            // However many staves a stretch is glued from, each lies on the board alike.
            let mut staves: HashMap<Range<usize>, i64> = HashMap::new();
            let widest = (0..problem.items.len())
                .map(|item| {
                    let alone = || super::place::widest_alone(&problem, stock, item);
                    let of = &problem.items[item];
                    let Some(mode) = of.mode else { return alone() };
                    let widest = *staves.entry(of.rows.clone()).or_insert_with(alone);
                    widest.min(problem.modes[mode].widest)
                })
                .collect();
            problem.stock[index].widest = widest;
        }
        for index in 0..problem.stock.len() {
            let stock = &problem.stock[index];
            let flat = (0..problem.items.len())
                .map(|item| {
                    super::place::flat_alone(&problem, stock, item, problem.items[item].width)
                })
                .collect();
            problem.stock[index].flat = flat;
        }
        problem.add_rests();
        problem.hopeless = prepare::hopeless(&problem);
        problem.add_moving(history, price.unwrap_or(1.0));
        problem.twins = Twins::of(&problem);
        problem
    }

    /// Leaves out the ways to glue that are in no plan cheaper than `cost`, by their glue lines and the wood of
    /// the blanks alone.
    pub(super) fn leave_out_dear_glue(&mut self, cost: f64) {
        let wood: Vec<f64> = (0..self.chain.len())
            .map(|row| self.least_wood(row))
            .collect();
        let all: f64 = wood.iter().sum();
        let dear = |mode: &Mode| {
            let lines = (mode.staves - 1) * mode.rows.len();
            all + self.worth.glue_line * lines as f64 > cost
        };
        let dear: Vec<usize> = self
            .modes
            .iter()
            .filter(|m| dear(m))
            .map(|m| m.item)
            .collect();
        for stock in &mut self.stock {
            dear.iter().for_each(|&item| stock.widest[item] = 0);
        }
    }

    /// Least cost of the wood in the blank of the front at `row`: what is kept does not overlap it.
    fn least_wood(&self, row: usize) -> f64 {
        let item = &self.items[self.starts[row].start];
        let area = item.length as f64 * item.width as f64;
        let may = |stock: &&Stock| {
            let items = self.items.iter().zip(&stock.widest);
            items
                .filter(|(item, _)| item.rows.contains(&row))
                .any(|(_, &widest)| widest > 0)
        };
        let rate = |stock: &Stock| stock.whole / (stock.length as f64 * stock.width as f64);
        let rates = self.stock.iter().filter(may).map(rate);
        let least = rates.fold(f64::INFINITY, f64::min);
        // A front that no board can make takes none.
        if least.is_finite() {
            area * least.max(0.0)
        } else {
            0.0
        }
    }

    /// The job without these rows, which are of whole runs with all their twins: no board makes them, and
    /// nobody need.
    pub(super) fn without(&self, rows: &[usize]) -> Problem<'a> {
        let mut part = self.clone();
        for stock in &mut part.stock {
            for (item, widest) in self.items.iter().zip(&mut stock.widest) {
                if item.rows.clone().any(|row| rows.contains(&row)) {
                    *widest = 0;
                }
            }
        }
        part.hopeless = prepare::hopeless(&part);
        part
    }

    /// Makes the plan keep to `limits`.
    pub(super) fn keep_to(&mut self, limits: Limits) {
        self.limits = limits;
        self.twins = Twins::of(self);
    }

    /// Width of the blank of `item` in a strip `strip` wide of a board of kind `stock`.
    pub(super) fn blank_width(&self, stock: &Stock, item: usize, strip: i64) -> i64 {
        match self.items[item].mode {
            None => self.items[item].width,
            Some(mode) => {
                let wide = strip.min(self.modes[mode].widest).min(stock.widest[item]);
                let full = wide == strip && stock.is_full(strip);
                self.modes[mode].widest_in(self.cuts.glue_step, wide, full)
            }
        }
    }

    /// Most boards that any plan uses: one for each front, or for each of its staves.
    pub(super) fn most_boards(&self) -> usize {
        let staves = |row: usize| {
            let modes = self.modes.iter().filter(move |m| m.rows.contains(&row));
            modes.map(|mode| mode.staves).max().unwrap_or(1)
        };
        (0..self.chain.len()).map(staves).sum()
    }

    /// Less than nothing when cutting a piece of a board in use saves wood that is spent already: no
    /// plan costs less.
    pub(super) fn most_saved(&self) -> f64 {
        let saved = |s: &Stock| {
            let area = s.usable() as f64 * s.width as f64;
            (s.whole - s.kept_rate * area).min(0.0) * s.count as f64
        };
        self.stock.iter().map(saved).sum()
    }

    /// Whether the front at `row` can be made of the untouched pile, in one piece or glued.
    pub(super) fn fits_somewhere(&self, row: usize) -> bool {
        let on = |item: usize| {
            self.stock
                .iter()
                .map(move |s| s.widest[item] * s.count as i64)
        };
        let whole = self.starts[row].start;
        let glued = |&&mode: &&usize| {
            let m = &self.modes[mode];
            m.rows.len() == 1 && on(m.item).sum::<i64>() >= m.total_width
        };
        on(whole).max() > Some(0) || self.glued_starts[row].iter().find(glued).is_some()
    }

    /// Runs with at least one front that can be made.
    pub(super) fn live_runs(&self) -> std::ops::Range<usize> {
        0..self.runs.len()
    }

    /// Log and way of sawing of a kind of board.
    pub(super) fn labels(&self, stock: &Stock) -> Labels {
        self.looks.all[stock.look].labels
    }

    /// The board kind behind a stock entry.
    pub(super) fn board(&self, stock: &Stock) -> &'a Board {
        &self.job.boards[stock.board]
    }

    /// Whether every front of `item` comes out thick enough with its blanks at `spans`, in order
    /// along the board; `reverse` when the run's last front comes first.
    pub(super) fn thick_enough(
        &self,
        stock: &Stock,
        item: &Item,
        width: i64,
        spans: &[(i64, i64)],
        reverse: bool,
    ) -> bool {
        let mut fronts: Vec<_> = item
            .rows
            .clone()
            .map(|row| &self.job.fronts[self.chain[row]])
            .collect();
        if reverse {
            fronts.reverse();
        }
        let spans: Vec<_> = spans
            .iter()
            .map(|&(a, b)| (Length::from_nm(a), Length::from_nm(b)))
            .collect();
        let allowances = &self.job.settings.allowances;
        milling::thick_enough(
            self.board(stock),
            &fronts,
            &spans,
            Length::from_nm(width),
            allowances.plane,
            allowances.shortest_safe,
        )
    }

    /// Cost of leaving the front at `row` unmade: nothing where no plan makes it.
    pub(super) fn unmade(&self, row: usize) -> f64 {
        if self.hopeless[row] {
            0.0
        } else {
            UNMADE * self.area(row)
        }
    }

    /// What the fronts no plan makes would cost if they were counted.
    pub(super) fn lost(&self) -> f64 {
        let rows = (0..self.chain.len()).filter(|&row| self.hopeless[row]);
        rows.map(|row| UNMADE * self.area(row)).sum()
    }

    /// Square feet of the finished front at `row`: what decides between fronts when not all can be made.
    pub(super) fn area(&self, row: usize) -> f64 {
        let front = &self.job.fronts[self.chain[row]];
        front.width.inches() * front.height.inches() / 144.0
    }
}
