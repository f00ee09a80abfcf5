//! A plan in the making: which patterns are cut, and what that costs so far.

use crate::layout::geometry::costs::Costs;
use crate::layout::model::mixed::Mixed;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape};
use crate::layout::model::together::{Together, staves_with_loss};
use crate::layout::model::worths::{Counted, EXCESS};

/// Board feet a sum in floating point may be off.
const FEET_ROUNDING: f64 = 1e-9;

/// A plan in the making. Each entry of `boards` is one board copy.
///
/// Between changes every gluing is whole: either none or all of its staves are cut.
#[derive(Clone)]
pub(in crate::layout) struct State {
    pub(in crate::layout) boards: Vec<Pattern>,
    /// Copies of each kind not yet cut.
    pub(in crate::layout) left: Vec<usize>,
    /// Whether each front is cut, or some stave of it.
    pub(in crate::layout) covered: Vec<bool>,
    /// Staves cut of each gluing.
    staves: Vec<usize>,
    /// Pieces of each run by tone index.
    run_tones: Vec<Vec<u32>>,
    case_tones: Vec<u32>,
    pub(in crate::layout) mixed: Mixed,
    stretches: Vec<u32>,
}

impl State {
    pub(in crate::layout) fn new(problem: &Problem) -> State {
        State {
            boards: Vec::new(),
            left: problem.stock.iter().map(|s| s.count).collect(),
            covered: vec![false; problem.chain.len()],
            staves: vec![0; problem.gluings.len()],
            run_tones: vec![vec![0; problem.tones.len()]; problem.runs.len()],
            case_tones: vec![0; problem.tones.len()],
            mixed: Mixed::new(problem),
            stretches: vec![0; problem.runs.len()],
        }
    }

    /// A finished set of patterns as a state.
    pub(in crate::layout) fn of(problem: &Problem, patterns: Vec<Pattern>) -> State {
        let mut state = State::new(problem);
        for pattern in patterns {
            state.left[pattern.stock] -= 1;
            for item in pattern.items() {
                state.add(problem, pattern.stock, item);
            }
            state.boards.push(pattern);
        }
        state
    }

    fn add(&mut self, problem: &Problem, stock: usize, item: usize) {
        let it = &problem.items[item];
        let tone = problem.stock[stock].tone;
        self.run_tones[it.run][tone] += 1;
        self.case_tones[tone] += 1;
        self.mixed
            .add(it.run, problem.labels(&problem.stock[stock]));
        if let Some(gluing) = it.gluing {
            self.staves[gluing] += 1;
            if self.staves[gluing] > 1 {
                return;
            }
        }
        self.stretches[it.run] += 1;
        it.rows.clone().for_each(|row| self.covered[row] = true);
    }

    fn subtract(&mut self, problem: &Problem, stock: usize, item: usize) {
        let it = &problem.items[item];
        let tone = problem.stock[stock].tone;
        self.run_tones[it.run][tone] -= 1;
        self.case_tones[tone] -= 1;
        self.mixed
            .subtract(it.run, problem.labels(&problem.stock[stock]));
        if let Some(gluing) = it.gluing {
            self.staves[gluing] -= 1;
            if self.staves[gluing] > 0 {
                return;
            }
        }
        self.stretches[it.run] -= 1;
        it.rows.clone().for_each(|row| self.covered[row] = false);
    }

    /// Takes a whole board back, and what is left elsewhere of the stretches glued from it.
    pub(in crate::layout) fn remove_board(
        &mut self,
        problem: &Problem,
        costs: &Costs,
        index: usize,
    ) {
        let pattern = self.boards.swap_remove(index);
        self.left[pattern.stock] += 1;
        for item in pattern.items() {
            self.subtract(problem, pattern.stock, item);
        }
        for item in pattern.items() {
            if let Some(gluing) = problem.items[item].gluing
                && self.staves[gluing] > 0
            {
                self.remove_item(problem, costs, item);
            }
        }
    }

    /// Takes an item off every board it is on (a stave: with all the others of its gluing).
    pub(in crate::layout) fn remove_item(&mut self, problem: &Problem, costs: &Costs, item: usize) {
        let mut index = 0;
        while index < self.boards.len() {
            let pattern = &self.boards[index];
            let stock = pattern.stock;
            let times = pattern.items().filter(|&i| i == item).count();
            if times == 0 {
                index += 1;
                continue;
            }
            let shape = without(problem, stock, &pattern.shape, item);
            (0..times).for_each(|_| self.subtract(problem, stock, item));
            if shape.is_empty() {
                self.boards.swap_remove(index);
                self.left[stock] += 1;
                continue;
            }
            // What fitted with a piece more fits without it.
            let wood = costs
                .wood(problem, stock, &shape)
                .unwrap_or(problem.stock[stock].whole);
            self.boards[index] = Pattern { stock, shape, wood };
            index += 1;
        }
    }

    /// Takes all of a run off the boards.
    pub(in crate::layout) fn remove_run(&mut self, problem: &Problem, costs: &Costs, run: usize) {
        let of_run = |item: &usize| problem.items[*item].run == run;
        while let Some(item) = self.boards.iter().find_map(|b| b.items().find(of_run)) {
            self.remove_item(problem, costs, item);
        }
    }

    /// Adds an item to a cut board, which becomes `shape`.
    pub(in crate::layout) fn extend(
        &mut self,
        problem: &Problem,
        board: usize,
        item: usize,
        shape: Shape,
        wood: f64,
    ) {
        let stock = self.boards[board].stock;
        self.boards[board] = Pattern { stock, shape, wood };
        self.add(problem, stock, item);
    }

    /// Cuts a fresh board.
    pub(in crate::layout) fn open(
        &mut self,
        problem: &Problem,
        stock: usize,
        item: usize,
        shape: Shape,
        wood: f64,
    ) {
        self.left[stock] -= 1;
        self.boards.push(Pattern { stock, shape, wood });
        self.add(problem, stock, item);
    }

    /// What one more piece of `run` from a board of kind `stock` adds to the tone spreads, and for its log and
    /// way of sawing.
    pub(in crate::layout) fn look_rise(&self, problem: &Problem, run: usize, stock: usize) -> f64 {
        let stock = &problem.stock[stock];
        let tone = stock.tone;
        self.mixed.rise(problem, run, problem.labels(stock))
            + problem.worth.tone_run * rise(problem, &self.run_tones[run], tone)
            + problem.worth.tone_case * rise(problem, &self.case_tones, tone)
    }

    /// Whether anything is glued this way.
    pub(in crate::layout) fn uses(&self, gluing: usize) -> bool {
        self.staves[gluing] > 0
    }

    /// Breaks over all runs.
    pub(in crate::layout) fn breaks(&self) -> u32 {
        self.stretches.iter().map(|&n| n.saturating_sub(1)).sum()
    }

    /// Breaks in one run.
    pub(in crate::layout) fn breaks_of(&self, run: usize) -> u32 {
        self.stretches[run].saturating_sub(1)
    }

    /// Glue lines over all fronts.
    pub(in crate::layout) fn glue_lines(&self, problem: &Problem) -> usize {
        let cut = problem.gluings.iter().zip(&self.staves);
        cut.filter(|&(_, &n)| n > 0)
            .map(|(gluing, _)| (gluing.staves - 1) * gluing.rows.len())
            .sum()
    }

    /// Cost as the contract counts it, with a penalty for what is not made.
    pub(in crate::layout) fn cost(&self, problem: &Problem) -> f64 {
        let wood: f64 = self.boards.iter().map(|p| p.wood).sum();
        let counted = Counted {
            breaks: f64::from(self.breaks()),
            run_spreads: self.run_tones.iter().map(|t| spread(problem, t)).sum(),
            case_spread: spread(problem, &self.case_tones),
            glue_lines: self.glue_lines(problem) as f64,
            mixed: self.mixed.beyond_first(),
        };
        problem.worth.cost(wood, &counted) + self.penalty(problem)
    }

    /// The part of the cost that stands for fronts not made and limits not kept.
    pub(in crate::layout) fn penalty(&self, problem: &Problem) -> f64 {
        let unmade: f64 = self.unmade().map(|row| problem.unmade(row)).sum();
        unmade + EXCESS * self.excess(problem)
    }

    /// How far the plan is over its limits: breaks, tone steps and board feet added up.
    fn excess(&self, problem: &Problem) -> f64 {
        let limits = &problem.limits;
        let over = |figure: f64, most: Option<f64>| most.map_or(0.0, |m| (figure - m).max(0.0));
        let wood: f64 = self.boards.iter().map(|p| p.wood).sum();
        over(
            f64::from(self.breaks()),
            limits.most_breaks.map(|n| n as f64),
        ) + over(spread(problem, &self.case_tones), limits.tone_within)
            + over(wood, limits.most_feet.map(|f| f.value() + FEET_ROUNDING))
    }

    /// Whether the staves of every front are wide enough together, in widths they may have.
    pub(in crate::layout) fn is_wide_enough(&self, problem: &Problem) -> bool {
        let mut found = vec![Together::default(); problem.gluings.len()];
        let staves = self
            .boards
            .iter()
            .flat_map(|pattern| staves_with_loss(problem, pattern));
        staves.for_each(|(gluing, wide, lost)| found[gluing].add(wide, lost));
        let gluings = found.iter().zip(&problem.gluings);
        (gluings.enumerate())
            .all(|(at, (staves, gluing))| !self.uses(at) || staves.is_plain(gluing.total_width))
    }

    /// Whether the staves of a gluing are wide enough together once they are ripped to widths they may have.
    pub(in crate::layout) fn may_be_glued(&self, problem: &Problem, gluing: usize) -> bool {
        let item = problem.gluings[gluing].item;
        let mut found = Together::default();
        let boards = self.boards.iter();
        let staves = boards
            .filter(|pattern| pattern.items().any(|one| one == item))
            .flat_map(|pattern| staves_with_loss(problem, pattern));
        staves
            .filter(|stave| stave.0 == gluing)
            .for_each(|(_, wide, lost)| found.add(wide, lost));
        found.complete(problem, gluing)
    }

    /// Whether every front is made that can be.
    pub(in crate::layout) fn complete(&self, problem: &Problem) -> bool {
        self.unmade().all(|row| problem.hopeless[row])
    }

    /// Rows of fronts that are not made.
    pub(in crate::layout) fn unmade(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.covered.len()).filter(|&row| !self.covered[row])
    }
}

fn ends(counts: &[u32]) -> Option<(usize, usize)> {
    let first = counts.iter().position(|&n| n > 0)?;
    let last = counts.iter().rposition(|&n| n > 0)?;
    Some((first, last))
}

fn spread(problem: &Problem, counts: &[u32]) -> f64 {
    ends(counts).map_or(0.0, |(first, last)| {
        problem.tones[last] - problem.tones[first]
    })
}

fn rise(problem: &Problem, counts: &[u32], tone: usize) -> f64 {
    let t = &problem.tones;
    ends(counts).map_or(0.0, |(first, last)| {
        (t[first] - t[tone]).max(0.0) + (t[tone] - t[last]).max(0.0)
    })
}

/// A shape on a board of kind `stock` less one item; strips are narrowed to what is left in them, and strips
/// and sections left empty disappear.
pub(in crate::layout) fn without(
    problem: &Problem,
    stock: usize,
    shape: &Shape,
    item: usize,
) -> Shape {
    let board = &problem.stock[stock];
    let narrowed = |strip: &StripShape| {
        let left: Vec<usize> = (0..strip.items.len())
            .filter(|&place| strip.items[place] != item)
            .collect();
        let wide = |&place: &usize| strip.blank_width(problem, board, place);
        let width = left.iter().map(wide).max()?;
        let narrower = strip.narrower.iter().copied();
        Some(StripShape {
            width,
            items: left.iter().map(|&place| strip.items[place]).collect(),
            narrower: narrower
                .filter(|&(of, wide)| of != item && wide != problem.blank_width(board, of, width))
                .collect(),
        })
    };
    shape
        .iter()
        .map(|section| section.iter().filter_map(narrowed).collect::<Vec<_>>())
        .filter(|section| !section.is_empty())
        .collect()
}
