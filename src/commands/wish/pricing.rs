//! The price of a wish: the best plan with it against the best without.

use std::collections::{BTreeMap, BTreeSet};
use std::time::Duration;

use super::super::fit::FittedJob;
use super::super::sized;
use super::costs::Costs;
use super::{Change, Failure, Priced, Wished, asking};
use crate::job::{Asks, Job, Wish};
use crate::layout::{self, Request, WarmStart, Watch};
use crate::plan::{self, Plan, placed};

/// What prices are found with.
pub(super) struct Pricing<'p> {
    /// The job as it was read.
    pub(super) fitted: &'p FittedJob,
    /// The job without the wishes that are priced.
    pub(super) base: &'p Job,
    pub(super) request: &'p Request,
    /// What a search of the job knew.
    pub(super) warm: &'p WarmStart,
    pub(super) watch: &'p dyn Watch,
}

/// A plan, and the job it is for: fronts are fitted to the boards they come from.
#[derive(Clone)]
struct Sized {
    job: Job,
    plan: Plan,
    /// What the search knew.
    warm: WarmStart,
}

impl Pricing<'_> {
    /// Plans with the wishes and without; each wish by itself, or, with `each_last`, as the last of all.
    pub(super) fn wished(
        &self,
        all: &Job,
        wishes: &[Wish],
        each_last: bool,
    ) -> Result<Wished, Failure> {
        let mut without = self.plan(self.base, self.warm)?;
        let with = match wishes {
            [] => without.clone(),
            _ => self.keeping(all, &mut without)?,
        };
        let mut priced = Vec::new();
        for (at, wish) in wishes.iter().enumerate() {
            priced.push(if each_last {
                // One in force costs what the plan would be cheaper by without it.
                let others: Vec<Wish> = others(wishes, at);
                let mut less = self.plan(&asking(self.base, &others)?, &without.warm)?;
                let kept = self.keeping(all, &mut less)?;
                self.priced(wish, &less, &kept.plan)
            } else if wishes.len() == 1 {
                self.priced(wish, &without, &with.plan)
            } else {
                let one = self.keeping(
                    &asking(self.base, std::slice::from_ref(wish))?,
                    &mut without,
                )?;
                self.priced(wish, &without, &one.plan)
            });
        }
        let together = is_possible(self.base, &without.plan, &with.plan);
        let conflicts = match !together && priced.iter().all(|one| one.possible) {
            true => self.conflicts(wishes, &mut without)?,
            false => Vec::new(),
        };
        let (without, with) = (without.plan, with.plan);
        Ok(Wished {
            format: 1,
            costs: Costs::between(&without.totals, &with.totals),
            changes: changes(self.base, &without, &with),
            without: figures(self.base, &without),
            with: figures(self.base, &with),
            wishes: priced,
            conflicts,
            written: None,
            unit: self.base.settings.unit,
        })
    }

    fn plan(&self, job: &Job, warm: &WarmStart) -> Result<Sized, Failure> {
        self.plan_within(job, self.request, warm)
    }

    /// The best plan, searched from what an earlier search knew.
    fn plan_within(
        &self,
        job: &Job,
        request: &Request,
        warm: &WarmStart,
    ) -> Result<Sized, Failure> {
        let mut fitted = self.fitted.asking(job.clone());
        let search = |job: &Job, request: &Request, warm: &mut WarmStart| {
            let plan = layout::plan_from(job, request, self.watch, warm);
            (job.clone(), plan)
        };
        let from = (self.watch, warm);
        let found = sized::in_rounds(&mut fitted, request, from, search, |found| &found.1);
        let ((job, plan), warm) = found?;
        Ok(Sized { job, plan, warm })
    }

    /// The best plan of a job that asks for more than `best` was made for: that one where it keeps the wish as
    /// it is. Where the search ended early and found a better one now, that is the best without the wish too.
    fn keeping(&self, job: &Job, best: &mut Sized) -> Result<Sized, Failure> {
        let asked = self.fitted.asking(job.clone()).sized_like(&best.job);
        if plan::check(
            &asked,
            &best.plan,
            self.request.by_money,
            &self.request.limits,
        )
        .is_ok()
        {
            return Ok(best.clone());
        }
        let mut kept = self.plan(job, &best.warm)?;
        let mut fronts = kept.job.fronts.iter().zip(&best.job.fronts);
        let same_sizes = fronts.all(|(a, b)| (a.width, a.height) == (b.width, b.height));
        let more = |one: &Sized, other: &Sized| is_possible(self.base, &one.plan, &other.plan);
        let as_much = same_sizes && more(best, &kept) && more(&kept, best);
        if as_much && kept.plan.totals.cost < best.plan.totals.cost {
            *best = kept.clone();
        }
        // No plan with a wish that makes as much costs less than the best without it.
        let totals = &mut kept.plan.totals;
        if as_much && totals.bound < best.plan.totals.bound {
            totals.bound = best.plan.totals.bound.min(totals.cost);
            kept.plan.totals = plan::totals(&kept.job, &kept.plan, self.request.by_money);
        }
        Ok(kept)
    }

    fn priced(&self, wish: &Wish, best: &Sized, with: &Plan) -> Priced {
        let without = &best.plan;
        let possible = is_possible(self.base, without, with);
        let costs = Costs::between(&without.totals, &with.totals);
        let why = (!possible).then(|| why(self.base, without, with));
        let words = match &why {
            None => format!("{wish} costs {}", costs.in_words(self.base.settings.unit)),
            Some(why) => format!("{wish} can't be had: {why}"),
        };
        Priced {
            wish: wish.text.clone(),
            possible,
            cost: possible.then_some(costs.cost),
            words,
            nearest: why.is_some().then(|| self.nearest(wish, best)).flatten(),
            why,
            proved: without.totals.proved && with.totals.proved,
        }
    }

    /// The same fronts from another board, at the least cost, in words.
    fn nearest(&self, wish: &Wish, best: &Sized) -> Option<String> {
        let without = &best.plan;
        let Asks::From { fronts, board } = &wish.asks else {
            return None;
        };
        let ids: BTreeSet<&String> = self.base.boards.iter().map(|board| &board.id).collect();
        let share = |time: Duration| time / ids.len().max(1) as u32;
        let request = Request {
            time: self.request.time.map(share),
            ..self.request.clone()
        };
        let name = wish.text.split('=').next().unwrap_or_default().trim();
        let at = boards_of(self.base, without);
        let is_so = |id: &String| fronts.iter().all(|front| at.get(front) == Some(id));
        let others = ids.into_iter().filter(|id| *id != board && !is_so(id));
        let tried = others.filter_map(|id| {
            let one = Wish {
                text: format!("{name}={id}"),
                asks: Asks::From {
                    fronts: fronts.clone(),
                    board: id.clone(),
                },
            };
            let job = asking(self.base, std::slice::from_ref(&one)).ok()?;
            let plan = self.plan_within(&job, &request, &best.warm).ok()?.plan;
            let costs = Costs::between(&without.totals, &plan.totals);
            let unit = self.base.settings.unit;
            is_possible(self.base, without, &plan)
                .then(|| (costs.cost, format!("{one} costs {}", costs.in_words(unit))))
        });
        let least = tried.min_by(|a, b| a.0.total_cmp(&b.0));
        least.map(|(_, words)| words)
    }

    /// The pairs no plan keeps both of.
    fn conflicts(&self, wishes: &[Wish], without: &mut Sized) -> Result<Vec<[String; 2]>, Failure> {
        let mut conflicts = Vec::new();
        for (at, one) in wishes.iter().enumerate() {
            for other in &wishes[at + 1..] {
                let both = asking(self.base, &[one.clone(), other.clone()])?;
                let kept = self.keeping(&both, without)?;
                if !is_possible(self.base, &without.plan, &kept.plan) {
                    conflicts.push([one.text.clone(), other.text.clone()]);
                }
            }
        }
        Ok(conflicts)
    }
}

fn others(wishes: &[Wish], but: usize) -> Vec<Wish> {
    let all = wishes.iter().enumerate();
    all.filter(|(at, _)| *at != but)
        .map(|(_, wish)| wish.clone())
        .collect()
}

/// Whether a plan makes no less than the one without a wish.
fn is_possible(job: &Job, without: &Plan, with: &Plan) -> bool {
    plan::missing_area(job, with) <= plan::missing_area(job, without) + 1e-9
}

/// Why a front is not made that is made without the wish.
fn why(job: &Job, without: &Plan, with: &Plan) -> String {
    let made = |front: usize| {
        without
            .not_made
            .iter()
            .all(|missing| missing.front != front)
    };
    let lost = with.not_made.iter().find(|missing| made(missing.front));
    lost.map_or_else(
        || "less would be made".to_owned(),
        |lost| format!("{} {}", job.fronts[lost.front].name, lost.why),
    )
}

/// The fronts that come from other boards.
fn changes(job: &Job, without: &Plan, with: &Plan) -> Vec<Change> {
    let (before, after) = (boards_of(job, without), boards_of(job, with));
    let none = || "not made".to_owned();
    let change = |front: usize| {
        let from = before.get(&front).cloned().unwrap_or_else(none);
        let to = after.get(&front).cloned().unwrap_or_else(none);
        (from != to).then(|| Change {
            front: job.fronts[front].name.clone(),
            from_board: from,
            to_board: to,
        })
    };
    (0..job.fronts.len()).filter_map(change).collect()
}

/// The boards each front comes from.
fn boards_of(job: &Job, plan: &Plan) -> BTreeMap<usize, String> {
    let mut boards: BTreeMap<usize, BTreeSet<String>> = BTreeMap::new();
    for (planned, _, _, blank) in placed(plan) {
        let board = &job.boards[planned.board];
        let several = job.boards.iter().filter(|kind| kind.id == board.id);
        let copies: usize = several.map(|kind| kind.copies.len()).sum();
        let name = match copies {
            1 => board.id.clone(),
            _ => format!("{} #{}", board.id, planned.copy),
        };
        boards.entry(blank.front).or_default().insert(name);
    }
    let joined = |names: BTreeSet<String>| names.into_iter().collect::<Vec<_>>().join(" + ");
    boards
        .into_iter()
        .map(|(front, names)| (front, joined(names)))
        .collect()
}

/// A plan's figures as plan.json has them.
fn figures(job: &Job, plan: &Plan) -> serde_json::Value {
    let text = plan::to_json(job, plan);
    let read: Option<serde_json::Value> = serde_json::from_str(&text).ok();
    read.map(|plan| plan["totals"].clone()).unwrap_or_default()
}
