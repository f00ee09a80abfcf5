//! Chalk that stays against chalk that moves, until no other choice can be better.

use std::collections::BTreeMap;
use std::time::Instant;

use crate::job::Job;
use crate::layout::{Limits, Request, Watch, replan};
use crate::plan::{self, Blank, Plan, Sawn, Violation, check_recut, placed};

use super::merge::merge;
use super::reduce::{Origin, Reduced, State, mismatches, partner, reduce};
use super::rest::Rest;
use super::stays::{Fronts, as_plan, holding};

/// The plan that is chalked on the boards.
#[derive(Clone, Copy, Debug)]
pub struct Last<'a> {
    /// The plan, as read for the job as it is now.
    pub plan: &'a Plan,
}

impl Last<'_> {
    /// Whether it counted money; a recut goes on doing so.
    pub fn by_money(&self) -> bool {
        self.plan.totals.money.is_some()
    }
}

/// A new plan for work in progress.
#[derive(Clone, Debug)]
pub struct Recut {
    /// The plan of the whole job, what is cut in its place.
    pub plan: Plan,
    /// What the saw has done.
    pub sawn: Sawn,
    /// Fronts whose chalk would have held and that are placed anew all the same.
    pub moved: Vec<usize>,
    /// Fronts whose chalk could not hold, each with the rule against it.
    pub released: Vec<(usize, Violation)>,
    /// Whether the last plan stands as it was.
    pub unchanged: bool,
}

/// Gap below which a recut counts as proved, in the unit of the cost.
const PROVED: f64 = 1e-6;
/// Chalk left in stretches the saw has begun on is tried both ways up to this many fronts.
const MOST_BEGUN: usize = 3;
/// Boards whose chalk is tried alone for being planned anew.
const MOST_ALONE: usize = 12;

/// Plans what is left to do: of plans of nearly equal cost the one that moves fewest fronts, one
/// front moved counting `[worth] moved` board feet.
///
/// `sawn` is what the saw has done, from [`begun`](super::begun). The bound of the plan's totals
/// is what any other recut costs at least, its moves counted, less the moves of this one.
pub fn recut(
    job: &Job,
    last: &Last<'_>,
    sawn: &Sawn,
    request: &Request,
    watch: &dyn Watch,
) -> Recut {
    let clock = Instant::now();
    let (held, released) = holding(job, last, sawn);
    let state = State {
        job,
        last,
        sawn,
        held: &held,
    };
    if let Some(plan) = as_it_was(state, released.is_empty()) {
        return Recut {
            plan,
            sawn: sawn.clone(),
            moved: Vec::new(),
            released,
            unchanged: true,
        };
    }
    let request = Request {
        by_money: last.by_money(),
        ..request.clone()
    };
    let mut search = Search {
        state,
        request,
        watch,
        clock,
        best: None,
    };
    let bound = search.run();
    let best = search.best.take();
    let Choice { mut plan, score } = best.unwrap_or_else(|| search.stand_still());
    let gap = (score.cost - bound).max(0.0);
    let gap = if gap < PROVED { 0.0 } else { gap };
    plan.totals.bound = (plan.totals.cost - gap).max(0.0);
    plan.totals.seconds = clock.elapsed().as_secs_f64();
    plan.totals = plan::totals(job, &plan, last.by_money());
    Recut {
        moved: moves(state, &plan),
        sawn: sawn.clone(),
        released,
        plan,
        unchanged: false,
    }
}

/// The last plan itself, when nothing speaks against it and nothing is left to plan.
fn as_it_was(state: State<'_>, all_held: bool) -> Option<Plan> {
    let State {
        job,
        last,
        sawn,
        held,
    } = state;
    let made = |front: usize| held.contains(&front) || sawn.is_fixed(front);
    let still_missing = |front: usize| last.plan.not_made.iter().any(|m| m.front == front);
    let all_made = (0..job.fronts.len()).all(made);
    let same_cost = |plan: &Plan| (plan.totals.cost - last.plan.totals.cost).abs() < PROVED;
    if !all_held || (0..job.fronts.len()).any(|f| !made(f) && !still_missing(f)) {
        return None;
    }
    let there = as_plan(job, last.plan, sawn, held, last.by_money());
    // A tone that counts for nothing may have changed: the figures are always the job's.
    (all_made && same_cost(&there)).then(|| Plan {
        totals: plan::totals(job, last.plan, last.by_money()),
        ..last.plan.clone()
    })
}

/// A plan and how good it is.
#[derive(Clone, Debug)]
struct Choice {
    plan: Plan,
    score: Score,
}

/// More square feet made come first, then less cost, moves and unlike replacements counted.
#[derive(Clone, Copy, Debug)]
struct Score {
    made: f64,
    cost: f64,
}

impl Score {
    fn better_than(&self, other: &Score) -> bool {
        const HAIR: f64 = 1e-9;
        self.made > other.made + HAIR
            || (self.made > other.made - HAIR && self.cost < other.cost - HAIR)
    }
}

struct Search<'a> {
    state: State<'a>,
    request: Request,
    watch: &'a dyn Watch,
    clock: Instant,
    best: Option<Choice>,
}

impl Search<'_> {
    /// Tries the choices in turn; gives the least any recut can cost, as far as is known.
    fn run(&mut self) -> f64 {
        let held = self.state.held.clone();
        self.try_staying(&held);
        let (bound, freest) = self.free_all(&held);
        if self.is_proved(bound) {
            return bound;
        }
        if let Some(freest) = freest {
            self.try_staying(&freest);
        }
        for board in self.boards_of(&held) {
            if self.watch.stop() || self.is_proved(bound) {
                break;
            }
            let stays: Fronts = held.difference(&board).copied().collect();
            self.try_staying(&stays);
        }
        bound
    }

    fn is_proved(&self, bound: f64) -> bool {
        self.best
            .as_ref()
            .is_some_and(|best| best.score.cost <= bound + PROVED)
    }

    /// Frees all chalk, but for what is left of stretches the saw has begun on: that is tried both
    /// ways, for only there does a new place cost a break that the old one does not.
    ///
    /// Gives the bound, and which chalk the best of these plans leaves on its board.
    fn free_all(&mut self, held: &Fronts) -> (f64, Option<Fronts>) {
        let begun = self.in_begun_stretches(held);
        let all_ways = begun.len() <= MOST_BEGUN;
        let ways = if all_ways {
            0..1_usize << begun.len()
        } else {
            0..2
        };
        let mut bound = f64::INFINITY;
        let mut freest: Option<Choice> = None;
        for way in ways {
            let stay = |at: usize| {
                if all_ways {
                    way >> at & 1 == 1
                } else {
                    way == 1
                }
            };
            let stays: Fronts = begun
                .iter()
                .enumerate()
                .filter(|(at, _)| stay(*at))
                .map(|(_, &f)| f)
                .collect();
            let (choice, least) = self.plan_with(&stays);
            bound = bound.min(least);
            let better = |c: &Choice| {
                freest
                    .as_ref()
                    .is_none_or(|f| c.score.better_than(&f.score))
            };
            if let Some(choice) = choice.filter(better) {
                self.offer(choice.clone());
                freest = Some(choice);
            }
        }
        let bound = if all_ways { bound } else { f64::NEG_INFINITY };
        (bound, freest.map(|choice| self.at_home(&choice.plan, held)))
    }

    /// Chalk in stretches of which some is cut already.
    fn in_begun_stretches(&self, held: &Fronts) -> Vec<usize> {
        let State {
            job, last, sawn, ..
        } = self.state;
        let key = |front: usize| {
            let (.., blank) = placed(last.plan).find(|(.., blank)| blank.front == front)?;
            Some((job.place_of(front).0, blank.stretch))
        };
        let begun: Vec<_> = sawn
            .standing()
            .filter_map(|piece| key(piece.blank.front))
            .collect();
        let in_begun = |front: &usize| key(*front).is_some_and(|key| begun.contains(&key));
        held.iter().copied().filter(in_begun).collect()
    }

    /// Fronts a plan leaves on the board they are chalked on.
    fn at_home(&self, plan: &Plan, held: &Fronts) -> Fronts {
        let (before, now) = (boards_by_front(self.state.last.plan), boards_by_front(plan));
        let same = |front: &&usize| before.get(front) == now.get(front);
        held.iter().filter(same).copied().collect()
    }

    /// The chalk of each board that bears some.
    fn boards_of(&self, held: &Fronts) -> Vec<Fronts> {
        let mut boards: BTreeMap<(usize, u32), Fronts> = BTreeMap::new();
        for (board, _, _, blank) in placed(self.state.last.plan) {
            if held.contains(&blank.front) {
                let fronts = boards.entry((board.board, board.copy)).or_default();
                fronts.insert(blank.front);
            }
        }
        boards.into_values().take(MOST_ALONE).collect()
    }

    fn try_staying(&mut self, stays: &Fronts) {
        if let (Some(choice), _) = self.plan_with(stays) {
            self.offer(choice);
        }
    }

    fn offer(&mut self, choice: Choice) {
        let better = |best: &Choice| choice.score.better_than(&best.score);
        if self.best.as_ref().is_none_or(better) {
            self.best = Some(choice);
        }
    }

    /// The best plan with this chalk in its place, and the least any such plan costs.
    ///
    /// Where kept pieces of some rests are only nearly counted, a plan without those rests may turn
    /// out better than the one that seemed best.
    fn plan_with(&self, stays: &Fronts) -> (Option<Choice>, f64) {
        let mut reduced = reduce(self.state, stays);
        let (choice, bound) = self.best_of(&mut reduced, stays);
        if reduced.slack == 0.0 {
            return (choice, bound);
        }
        forbid(&mut reduced, |rest| !rest.exact);
        let (other, _) = self.best_of(&mut reduced, stays);
        let better = match (&choice, &other) {
            (Some(choice), Some(other)) => other.score.better_than(&choice.score),
            (None, _) => true,
            (_, None) => false,
        };
        (if better { other } else { choice }, bound)
    }

    fn best_of(&self, reduced: &mut Reduced, stays: &Fronts) -> (Option<Choice>, f64) {
        let mut bound = None;
        // A rest cut in a way its board does not allow is not offered again.
        for _ in 0..=reduced.origin.len() {
            let request = self.share_of_time();
            let answer = replan(&reduced.job, &reduced.history, &request, self.watch);
            let least = reduced.base + answer.bound - reduced.slack;
            let bound = *bound.get_or_insert(least);
            match merge(self.state, stays, reduced, &answer.plan) {
                Ok(plan) => return (self.scored(plan), bound),
                Err(refused) => forbid(reduced, |rest| *rest == refused),
            }
        }
        (None, bound.unwrap_or(f64::NEG_INFINITY))
    }

    /// What is asked of one choice: a third of the time that is left, so that others get some too.
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

    /// A plan that keeps every rule, with its score.
    fn scored(&self, plan: Plan) -> Option<Choice> {
        let State {
            job, last, sawn, ..
        } = self.state;
        check_recut(job, &plan, sawn, last.by_money(), &self.request.limits).ok()?;
        let score = self.score(&plan);
        Some(Choice { plan, score })
    }

    fn score(&self, plan: &Plan) -> Score {
        let State { job, last, .. } = self.state;
        let missing: Vec<usize> = plan.not_made.iter().map(|m| m.front).collect();
        let area = |front: usize| {
            let front = &job.fronts[front];
            front.width.inches() * front.height.inches() / 144.0
        };
        let made = (0..job.fronts.len())
            .filter(|f| !missing.contains(f))
            .map(area)
            .sum();
        let price = match last.by_money() {
            true => plan::mean_price(job).unwrap_or(1.0),
            false => 1.0,
        };
        let worth = &job.settings.worth;
        let moves = worth.moved * moves(self.state, plan).len() as f64;
        let cost = plan.totals.cost - self.lost_wood(plan) + (moves + self.unlike(plan)) * price;
        Score { made, cost }
    }

    /// Wood of boards from which nothing good was cut: it is spent whether the plan uses the rest
    /// of the board or not, so it must not speak against using it.
    fn lost_wood(&self, plan: &Plan) -> f64 {
        let State {
            job, last, sawn, ..
        } = self.state;
        let stands = |b: &(usize, u32)| sawn.standing().any(|p| (p.board, p.copy) == *b);
        let mut used = plan.clone();
        let begun = sawn.skeleton().boards();
        used.boards = begun
            .into_iter()
            .filter(|b| !stands(&(b.board, b.copy)))
            .collect();
        used.boards.retain(|b| {
            plan.boards
                .iter()
                .any(|p| (p.board, p.copy) == (b.board, b.copy))
        });
        for board in &mut used.boards {
            board.kept = super::kept::kept(job, board, &sawn.crosscuts);
        }
        let totals = plan::totals(job, &used, last.by_money());
        totals
            .money
            .map_or(totals.feet_used.value(), |m| m.buy + m.owned)
    }

    /// What replacements cost for not looking like their neighbours.
    fn unlike(&self, plan: &Plan) -> f64 {
        let State {
            job, sawn, held, ..
        } = self.state;
        let new = |blank: &Blank| {
            blank.staves == 1 && !held.contains(&blank.front) && !sawn.is_fixed(blank.front)
        };
        let steps: usize = placed(plan)
            .filter(|(.., blank)| new(blank))
            .filter_map(|(board, .., blank)| {
                Some(mismatches(
                    partner(job, sawn, blank.front)?,
                    &job.boards[board.board],
                ))
            })
            .sum();
        job.settings.worth.tone_run * steps as f64
    }

    /// What is cut and the chalk that holds, with nothing new: when no search found more.
    fn stand_still(&self) -> Choice {
        let State {
            job,
            last,
            sawn,
            held,
        } = self.state;
        let plan = as_plan(job, last.plan, sawn, held, last.by_money());
        let score = self.score(&plan);
        Choice { plan, score }
    }
}

/// Takes rests out of what can be planned on.
fn forbid(reduced: &mut Reduced, which: impl Fn(&Rest) -> bool) {
    for (board, origin) in reduced.job.boards.iter_mut().zip(&reduced.origin) {
        if matches!(origin, Origin::Rest(rest) if which(rest)) {
            board.copies.clear();
        }
    }
}

fn boards_by_front(plan: &Plan) -> BTreeMap<usize, Vec<(usize, u32, u32)>> {
    let mut boards: BTreeMap<usize, Vec<(usize, u32, u32)>> = BTreeMap::new();
    for (board, _, _, blank) in placed(plan) {
        let own = boards.entry(blank.front).or_default();
        own.push((board.board, board.copy, blank.stave));
        own.sort_unstable();
    }
    boards
}

/// Fronts whose chalk would have held and that lie elsewhere now, or nowhere.
fn moves(state: State<'_>, plan: &Plan) -> Vec<usize> {
    let spots = |plan: &Plan| {
        let mut spots: BTreeMap<usize, Vec<_>> = BTreeMap::new();
        for (board, _, _, b) in placed(plan) {
            let spot = (
                board.board,
                board.copy,
                b.stave,
                b.from,
                b.to,
                b.low,
                b.high,
            );
            let ways = (b.left as u8, b.face as u8);
            spots.entry(b.front).or_default().push((spot, ways));
        }
        spots.values_mut().for_each(|list| list.sort_unstable());
        spots
    };
    let (before, now) = (spots(state.last.plan), spots(plan));
    let moved = |front: &&usize| before.get(front) != now.get(front);
    state.held.iter().filter(moved).copied().collect()
}
