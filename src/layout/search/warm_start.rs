//! What one search knew that helps the next: a warm start.
//!
//! Jobs often follow one another that differ in little. Fronts are fitted to the boards of their plan and planned
//! once more; a wish bars boards from fronts; on a screen one figure changes at a time. The columns, the duals and
//! the plan of the last search are where the next one begins then, and column generation has little left to do.
//!
//! None of it is trusted. A column is laid out anew on the new job's boards, and left out where it does not fit
//! them; duals are made safe anew (`master::prices`), so that any are as good for a bound as any others; and
//! boards are priced until the new job's own prices hold. What is proved is proved of the new job alone.

use std::collections::HashMap;
use std::ops::Range;

use rayon::prelude::*;

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::state::State;
use crate::layout::master::program::row::Row;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::solved::Relaxed;
use crate::layout::model::completion::Completion;
use crate::layout::model::items::Gluing;
use crate::layout::model::looks::Look;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::Shape;

/// What a search knew when it ended, for a search of nearly the same job to begin with. Nothing at first, and of
/// no use to a job of other runs or other boards.
#[derive(Clone, Debug, Default)]
pub struct WarmStart(Option<Known>);

/// What a search knew when it ended.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Known {
    frame: Frame,
    gluings: Vec<Gluing>,
    /// Width and crook of each board.
    wood: Vec<(i64, f64)>,
    learned: Learned,
    plan: Vec<Pattern>,
}

/// What a search has found out so far.
#[derive(Clone, Debug, Default)]
pub(in crate::layout) struct Learned {
    /// Columns that a plan as good as the best may have, or one not much dearer.
    pub(in crate::layout) columns: Vec<Pattern>,
    /// Duals of the relaxation without cuts of its own.
    pub(in crate::layout) duals: HashMap<Row, f64>,
}

/// What the numbers of rows, items, boards and looks stand for.
#[derive(Clone, Debug, PartialEq)]
struct Frame {
    items: Vec<(Range<usize>, Option<usize>)>,
    staves: Vec<usize>,
    boards: Vec<usize>,
    looks: Vec<Look>,
    tones: usize,
}

impl Frame {
    fn of(problem: &Problem) -> Frame {
        let items = problem.items.iter();
        Frame {
            items: items.map(|item| (item.rows.clone(), item.gluing)).collect(),
            staves: problem.gluings.iter().map(|of| of.staves).collect(),
            boards: problem.stock.iter().map(|stock| stock.board).collect(),
            looks: problem.looks.all.clone(),
            tones: problem.tones.len(),
        }
    }
}

fn wood(problem: &Problem) -> Vec<(i64, f64)> {
    let stock = problem.stock.iter();
    stock.map(|stock| (stock.width, stock.crook)).collect()
}

impl WarmStart {
    pub(in crate::layout) fn of(
        problem: &Problem,
        mut learned: Learned,
        plan: Vec<Pattern>,
    ) -> WarmStart {
        learned.duals.retain(|_, dual| *dual != 0.0);
        WarmStart(Some(Known {
            frame: Frame::of(problem),
            gluings: problem.gluings.clone(),
            wood: wood(problem),
            learned,
            plan,
        }))
    }

    /// What of it is of use to another job.
    pub(in crate::layout) fn for_job(&self, problem: &Problem) -> Option<&Known> {
        let known = self.0.as_ref()?;
        (known.frame == Frame::of(problem)).then_some(known)
    }
}

impl Known {
    /// The columns that can be cut in the job, each at what it costs there.
    pub(in crate::layout) fn columns(&self, problem: &Problem, costs: &Costs) -> Vec<Pattern> {
        self.laid_out(&self.learned.columns, problem, costs)
    }

    /// The plan, as far as it can be cut in the job: what is glued of all its staves.
    pub(in crate::layout) fn plan(&self, problem: &Problem, costs: &Costs) -> State {
        let mut left: Vec<usize> = problem.stock.iter().map(|stock| stock.count).collect();
        let mut boards = self.laid_out(&self.plan, problem, costs);
        boards.retain(|board| {
            let one = left[board.stock].checked_sub(1);
            one.inspect(|&rest| left[board.stock] = rest).is_some()
        });
        let mut plan = State::of(problem, boards);
        for (gluing, of) in problem.gluings.iter().enumerate() {
            if plan.uses(gluing) && !plan.may_be_glued(problem, gluing) {
                plan.remove_item(problem, costs, of.item);
            }
        }
        plan
    }

    /// Prices that follow from the duals in the job.
    pub(in crate::layout) fn prices(&self, problem: &Problem) -> Relaxed {
        Relaxed::at(problem, &self.learned.duals)
    }

    /// A relaxation that keeps the tone rows which mattered.
    pub(in crate::layout) fn relaxation(&self, problem: &Problem, prices: &Relaxed) -> Relaxation {
        Relaxation::new(problem)
            .with_rows(self.learned.duals.keys().copied())
            .boxed(problem, prices)
    }

    fn laid_out(&self, patterns: &[Pattern], problem: &Problem, costs: &Costs) -> Vec<Pattern> {
        let completion = Completion::of(problem);
        let as_wide = wood(problem);
        let of = |pattern: &Pattern| {
            let stock = pattern.stock;
            let staves_stay = self.wood[stock] == as_wide[stock];
            let shape = self.resized(problem, pattern, staves_stay)?;
            let board = &problem.stock[stock];
            let free = board.count > 0 && pattern.items().all(|item| board.widest[item] > 0);
            let whole = free && completion.complete(problem, stock, &shape);
            let wood = whole
                .then(|| costs.wood(problem, stock, &shape))
                .flatten()?;
            Some(Pattern { stock, shape, wood })
        };
        patterns.par_iter().filter_map(of).collect()
    }

    /// Its strips as wide as their blanks are in the job; nothing where staves may be of other widths there, or a
    /// front is cut more often than there are of its kind.
    fn resized(&self, problem: &Problem, pattern: &Pattern, staves_stay: bool) -> Option<Shape> {
        let mut cut = vec![0; problem.chain.len()];
        for item in pattern.items() {
            let (first, of) = (problem.items[item].rows.start, &problem.items[item]);
            cut[first] += usize::from(of.gluing.is_none());
            let stays =
                |gluing: usize| staves_stay && self.gluings[gluing] == problem.gluings[gluing];
            let stays = of.gluing.is_none_or(stays);
            if !stays || cut[first] > problem.identical.count(first).max(1) {
                return None;
            }
        }
        let mut shape = pattern.shape.clone();
        for strip in shape.iter_mut().flatten() {
            let items = strip.items.iter().map(|&item| &problem.items[item]);
            if items.clone().all(|item| item.gluing.is_none()) {
                strip.width = items.map(|item| item.width).max()?;
            }
        }
        Some(shape)
    }
}
