//! What is done and chalked already when a job is planned anew.

use super::finish::finish;
use super::problem::Problem;
use super::search::Search;
use super::{Request, Watch};
use crate::job::Job;
use crate::measure::BoardFeet;
use crate::plan::Plan;

/// What planning must know of work in progress beyond the job itself. The default knows of none.
///
/// The job is the one still to be planned: pieces already cut off stand among its boards, and a
/// part of a run that is already made is one front pinned to a board of its own that nothing else
/// fits on, so that its tone and the breaks beside it count like any other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// What using a board counts, by index into [`Job::boards`], where it is not the whole board:
    /// the wood of a piece left over from a board in use is spent already.
    pub counts: Vec<Option<Counts>>,
    /// The board each front is chalked on now, by index into [`Job::fronts`] and [`Job::boards`].
    pub home: Vec<Option<usize>>,
    /// What it costs, in board feet, to make a front with a home on another board.
    pub moved: f64,
    /// What it costs, in board feet, to make a front on a board because of how unlike its
    /// neighbours the board is, by front, then by board; nothing where the list is empty.
    pub unlike: Vec<Vec<f64>>,
    /// Mean price of a board foot on offer when the job was begun; turns worths into money even
    /// when what was on offer is bought.
    pub mean_price: Option<f64>,
}

/// What using a board counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counts {
    /// Board feet that count as used when the board is used and nothing of it is kept.
    pub whole: BoardFeet,
    /// Whether what is kept of it counts as saved.
    pub kept: bool,
    /// Whether a board on offer is still to be paid for.
    pub price: bool,
}

/// A plan of work in progress, and what it costs as the history counts it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Replanned {
    /// The plan of the rest; the figures of its totals count boards whole, as always.
    pub plan: Plan,
    /// Its cost as the history counts it, moved fronts included.
    pub cost: f64,
    /// No plan of the rest costs less than this.
    pub bound: f64,
}

/// The best plan of what is left to do, with a proven bound on what any costs.
pub fn replan(job: &Job, history: &History, request: &Request, watch: &dyn Watch) -> Replanned {
    let begun = std::time::Instant::now();
    super::with_threads(request.threads, || {
        let problem = Problem::with(job, request.by_money, history);
        let mut search = Search::new(&problem, watch, request.time, begun);
        search.run(request.seed);
        Replanned {
            cost: search.best.cost(&problem),
            bound: search.bound,
            plan: finish(&problem, &search.best, search.bound, search.seconds()),
        }
    })
}
