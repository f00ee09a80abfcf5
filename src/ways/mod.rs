//! A choice, not an answer: plans along the trade between wood, breaks and tone.
//!
//! Wood (with glue lines at their own worth), breaks and tone are three figures of a plan; what a
//! break and a tone step are worth turns them into one cost. Over all worths a plan's cost is a
//! plane, and the plans that are best for some worths make up the lower envelope of these planes.
//! The search asks the optimiser for the best plan at the job's own worths, then at extreme ones,
//! then at the corners of the envelope of the plans known so far: either a plan below it turns up
//! there, or the envelope is right at that corner. When it is right at all corners, no plan is
//! missing, because the true envelope is concave.
//!
//! Source of the method: A. Przybylski, X. Gandibleux, M. Ehrgott (2010), A recursive algorithm
//! for finding all nondominated extreme points in the outcome set of a multiobjective integer
//! programme, INFORMS J. Comput. 22 (parting the space of the weights; from memory).

mod envelope;
mod equals;
mod figures;
mod json;
mod misses;
mod nearest;
mod pick;
mod search;
mod steps;
mod whole;

use crate::job::{Job, Worth};
use crate::layout::{Request, Watch};
use crate::plan::Plan;

pub use equals::{Case, Reading, best_reading};
pub use nearest::{Figure, Nearest, nearest};
pub use steps::Step;

/// Plans to choose from.
#[derive(Clone, Debug, PartialEq)]
pub struct Ways {
    /// The plans, the one that takes least wood first.
    pub ways: Vec<Way>,
    /// Which of them is best at the job's own worths.
    pub chosen: usize,
    /// Whether no other plan is best for any worths between the extremes looked at.
    pub complete: bool,
}

impl Ways {
    /// The folder a way is written to, within the output folder: counted from 1.
    pub fn folder(index: usize) -> String {
        format!("ways/{}", index + 1)
    }
}

/// One plan to choose.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The plan; its cost and bound are at the job's own worths.
    pub plan: Plan,
    /// Worths for which it is the best.
    pub best_for: Worth,
    /// At most this share of its cost at those worths lies above the best possible one.
    pub gap: f64,
    /// Whether it is proved best for those worths.
    pub proved: bool,
    /// What it takes to come here from the way before it.
    pub step: Option<Step>,
}

/// At most `most` plans along the trade between wood, breaks and tone. `request.time` is for all
/// of them together; limits hold for each.
///
/// Plans that make fewer fronts than another are left out. Where time ran out before a proof, a
/// plan is the best known for its worths only, and says so.
pub fn ways(job: &Job, request: &Request, most: usize, watch: &dyn Watch) -> Ways {
    let mut search = search::Search::new(job, request, watch);
    search.run(most);
    search.ways(most)
}
