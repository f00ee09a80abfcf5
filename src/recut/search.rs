//! Chalk that stays against chalk that goes, by branch and bound.
//!
//! A *branch* is a set of decisions; [`reduce`] makes of it a job whose best plan costs no more than
//! any recut that keeps to them. The branch that may hold the cheapest recut is looked into first:
//! its answer is put back on the boards, and so is the answer with all that chalk in its place which
//! it left on its board. When neither costs as little as the branch promised, one thing it left open
//! is decided both ways.

use std::collections::BTreeSet;
use std::time::Instant;

use crate::layout::{Limits, Request, Watch, replan};
use crate::plan::Plan;

use super::branch::{at_home, children};
use super::cutoff::Cutoff;
use super::merge::merge;
use super::reduce::{Decided, Reduced, State, reduce};
use super::rules::wrong;
use super::score::{score, staying};
use super::stays::{Fronts, as_plan};

/// Gap below which a recut counts as proved, in the unit of the cost.
pub(super) const PROVED: f64 = 1e-6;
/// Branches looked into before the best recut so far has to do.
const MOST_BRANCHES: usize = 400;

/// The best recut found, and how much less another may cost.
pub(super) struct Found {
    pub(super) plan: Plan,
    pub(super) gap: f64,
}

pub(super) struct Search<'a> {
    state: State<'a>,
    request: Request,
    watch: &'a dyn Watch,
    clock: Instant,
    /// The best plan so far and its score.
    best: Option<(Plan, f64)>,
    /// Chalk that has been tried in its place.
    tried: BTreeSet<Fronts>,
}

/// A branch not looked into yet, and what its recuts cost at least.
struct Branch {
    decided: Decided,
    bound: f64,
}

/// What looking into a branch came to.
pub(super) struct Answer {
    pub(super) reduced: Reduced,
    /// The plan of the reduced job, back on the boards; nothing when it does not keep every rule.
    pub(super) plan: Option<Plan>,
    bound: f64,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        state: State<'a>,
        request: Request,
        watch: &'a dyn Watch,
        clock: Instant,
    ) -> Search<'a> {
        Search {
            state,
            request,
            watch,
            clock,
            best: None,
            tried: BTreeSet::new(),
        }
    }

    /// Looks into branches until none can hold a better recut, or time is up.
    pub(super) fn run(mut self) -> Found {
        self.try_staying(self.state.held.clone());
        let mut open = vec![Branch {
            decided: Decided::default(),
            bound: f64::NEG_INFINITY,
        }];
        let mut settled = f64::INFINITY;
        for _ in 0..MOST_BRANCHES {
            let Some(branch) = take_lowest(&mut open) else {
                break;
            };
            if self.is_over() || self.is_proved(branch.bound) {
                open.push(branch);
                break;
            }
            let answer = self.look_into(&branch.decided);
            let bound = answer.bound.max(branch.bound);
            if let Some(plan) = &answer.plan {
                self.offer(plan.clone());
                if !self.is_proved(bound) {
                    self.try_staying(at_home(self.state, &branch.decided, plan));
                }
            }
            let children = match self.is_proved(bound) {
                true => Vec::new(),
                false => children(self.state, &branch.decided, &answer),
            };
            if children.is_empty() {
                settled = settled.min(bound);
            }
            open.extend(
                children
                    .into_iter()
                    .map(|decided| Branch { decided, bound }),
            );
        }
        let bound = open.iter().map(|b| b.bound).fold(settled, f64::min);
        let (plan, score) = self.best.take().unwrap_or_else(|| self.stand_still());
        Found {
            plan,
            gap: (score - bound).max(0.0),
        }
    }

    /// Whether to end with what there is.
    fn is_over(&self) -> bool {
        let late = |time| self.clock.elapsed() >= time;
        self.watch.stop() || self.request.time.is_some_and(late)
    }

    /// Whether nothing that costs at least `bound` beats the best plan.
    fn is_proved(&self, bound: f64) -> bool {
        let best = self.best.as_ref();
        best.is_some_and(|(_, score)| *score <= bound + PROVED)
    }

    /// Tries this chalk in its place.
    fn try_staying(&mut self, stays: Fronts) {
        if !self.tried.insert(stays.clone()) || (self.best.is_some() && self.is_over()) {
            return;
        }
        let goes = self.state.held.difference(&stays).copied().collect();
        let decided = Decided {
            stays,
            goes,
            ..Decided::default()
        };
        if let Some(plan) = self.look_into(&decided).plan {
            self.offer(plan);
        }
    }

    fn offer(&mut self, plan: Plan) {
        const HAIR: f64 = 1e-9;
        let new = score(self.state, &plan);
        let better = |(_, best): &(Plan, f64)| new < *best - HAIR;
        if self.best.as_ref().is_none_or(better) {
            self.best = Some((plan, new));
        }
    }

    /// The best plan of what a branch leaves to do; given up once it can't be better than what is
    /// known.
    fn look_into(&self, decided: &Decided) -> Answer {
        let reduced = reduce(self.state, decided);
        let best = self.best.as_ref().map(|(_, score)| *score);
        let watch = Cutoff::new(self.watch, &reduced, best);
        let replanned = replan(
            &reduced.job,
            &reduced.history,
            &self.share_of_time(),
            &watch,
        );
        let plan = merge(self.state, &decided.stays, &reduced, &replanned.plan);
        Answer {
            bound: reduced.base + replanned.bound,
            plan: plan.filter(|plan| self.keeps_rules(plan)),
            reduced,
        }
    }

    fn keeps_rules(&self, plan: &Plan) -> bool {
        let State {
            job, last, sawn, ..
        } = self.state;
        let stays = staying(self.state, plan);
        wrong(
            job,
            plan,
            (sawn, &stays),
            last.by_money(),
            &self.request.limits,
        )
        .is_empty()
    }

    /// What is asked of one branch: a third of the time that is left, so that others get some too.
    /// Limits are for the whole plan.
    fn share_of_time(&self) -> Request {
        let left = self
            .request
            .time
            .map(|time| time.saturating_sub(self.clock.elapsed()));
        Request {
            time: left.map(|left| left / 3),
            limits: Limits::default(),
            ..self.request.clone()
        }
    }

    /// What is cut and the chalk that holds, with nothing new: when no search found more.
    fn stand_still(&self) -> (Plan, f64) {
        let State {
            job,
            last,
            sawn,
            held,
        } = self.state;
        let plan = as_plan(job, last.plan, sawn, held, last.by_money());
        let score = score(self.state, &plan);
        (plan, score)
    }
}

/// The branch with the lowest bound; of equal ones the one where most is decided.
fn take_lowest(open: &mut Vec<Branch>) -> Option<Branch> {
    let decided = |b: &Branch| {
        let chalk = b.decided.stays.len() + b.decided.goes.len();
        chalk + b.decided.edges.len()
    };
    let order = |a: &Branch, b: &Branch| {
        a.bound
            .total_cmp(&b.bound)
            .then(decided(b).cmp(&decided(a)))
            .then(b.decided.stays.len().cmp(&a.decided.stays.len()))
    };
    let lowest = (0..open.len()).min_by(|&a, &b| order(&open[a], &open[b]))?;
    Some(open.swap_remove(lowest))
}
