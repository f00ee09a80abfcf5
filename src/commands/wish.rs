//! `wish`: what a wish costs against the best plan without it.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::time::Duration;

use serde::Serialize;

use super::Failure;
use super::disk::{Disk, Real, replace_with_backup};
use super::fit::FittedJob;
use super::shelf::Shelf;
use crate::job::{
    Asks, Fault, Faults, Job, JobFiles, Needs, Place, Source, WISHES_CSV, Wish, WishTrouble,
    mark_wishes,
};
use crate::layout::{self, Request, Watch};
use crate::measure::{Unit, Volume};
use crate::plan::{self, Plan, Totals, placed};

/// Which wishes to price, and what to do with them.
#[derive(Clone, Debug)]
pub struct WishOrder {
    /// The job's folder.
    pub folder: PathBuf,
    /// The wishes, as typed.
    pub wishes: Vec<String>,
    /// What to do.
    pub what: Asking,
    /// How to plan.
    pub request: Request,
}

/// What to do with wishes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asking {
    /// Tell what they cost, beside those in force.
    Price,
    /// The same, and write them to `wishes.csv` where they can be had.
    Keep,
    /// Tell what each of those in force costs.
    List,
    /// Take them out of `wishes.csv`, and tell what that saves.
    Drop,
}

/// What wishes cost.
#[derive(Clone, Debug, Serialize)]
pub struct Wished {
    /// Of this form.
    pub format: u32,
    /// The figures of the best plan without them.
    pub without: serde_json::Value,
    /// The figures of the best plan with all of them.
    pub with: serde_json::Value,
    /// The differences.
    pub costs: Costs,
    /// Each wish by itself.
    pub wishes: Vec<Priced>,
    /// Pairs that can be had one by one, and not together.
    pub conflicts: Vec<[String; 2]>,
    /// What comes from elsewhere.
    pub changes: Vec<Change>,
    /// The file written, when one was.
    pub written: Option<String>,
    /// The job's unit.
    #[serde(skip)]
    pub unit: Unit,
}

/// How much more a plan takes than another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Costs {
    /// Board feet, or litres.
    pub feet: f64,
    /// Breaks.
    pub breaks: i64,
    /// Glue lines.
    pub glue_lines: i64,
    /// Logs beyond the first, over the runs.
    pub mixed_logs: i64,
    /// Ways of sawing beyond the first, over the runs.
    pub mixed_cuts: i64,
    /// Tone steps inside runs.
    pub tone_run: f64,
    /// Tone steps over all.
    pub tone_case: f64,
    /// All of it.
    pub cost: f64,
}

/// A wish and its price.
#[derive(Clone, Debug, Serialize)]
pub struct Priced {
    /// As written.
    pub wish: String,
    /// Whether a plan keeps it that makes no less.
    pub possible: bool,
    /// What it costs; nothing when it can't be had.
    pub cost: Option<f64>,
    /// The price in words, or why it can't be had.
    pub words: String,
    /// Why it can't be had.
    pub why: Option<String>,
    /// The nearest wish that can be had, where this one can't.
    pub nearest: Option<String>,
    /// Whether both plans are proved, and with them the price.
    pub proved: bool,
}

/// A front that comes from elsewhere.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Change {
    /// Its name.
    pub front: String,
    /// The boards it came from.
    pub from_board: String,
    /// The boards it comes from.
    pub to_board: String,
}

/// Plans with the wishes and without, and tells the difference. Writes nothing but what `what` asks for.
///
/// # Errors
/// [`Failure::Faults`] when the job has faults, or a wish has; before anything is searched.
pub fn wish(order: &WishOrder, watch: &dyn Watch) -> Result<Wished, Failure> {
    wish_on(&Real, order, watch)
}

/// The same on a disk that may fail.
pub(super) fn wish_on(
    disk: &dyn Disk,
    order: &WishOrder,
    watch: &dyn Watch,
) -> Result<Wished, Failure> {
    let reading = FittedJob::read(&order.folder, Needs::Boards, None)?.reading;
    let in_force = &reading.wishes;
    let (kept, asked) = match order.what {
        Asking::Price | Asking::Keep => (in_force.clone(), parsed(&reading.job, &order.wishes)?),
        Asking::List => (Vec::new(), in_force.clone()),
        Asking::Drop => split(in_force, &order.wishes)?,
    };
    let base = asking(&reading.without_wishes(), &kept)?;
    let all = asking(&base, &asked)?;
    let pricing = Pricing {
        base: &base,
        request: &order.request,
        watch,
    };
    let mut wished = pricing.wished(&all, &asked, order.what == Asking::List)?;
    let written = match order.what {
        Asking::Keep => Some((order.wishes.as_slice(), &[] as &[String])),
        Asking::Drop => Some((&[] as &[String], order.wishes.as_slice())),
        _ => None,
    };
    let possible = wished.wishes.iter().all(|wish| wish.possible) && wished.conflicts.is_empty();
    if let Some((keep, drop)) = written.filter(|_| possible || order.what == Asking::Drop) {
        wished.written = Some(write(disk, order, keep, drop)?);
    }
    Ok(wished)
}

/// The wishes as read one after another; any fault is told before a search begins.
fn parsed(job: &Job, texts: &[String]) -> Result<Vec<Wish>, Failure> {
    let (mut job, mut wishes) = (job.clone(), Vec::new());
    for text in texts {
        let asked = Wish::parse(&job, text).and_then(|wish| wish.ask(&mut job).map(|()| wish));
        wishes.push(asked.map_err(|why| fault(text, why))?);
    }
    Ok(wishes)
}

fn fault(text: &str, why: WishTrouble) -> Failure {
    let source = Source::new("the command line", text);
    let place = Place::span_of(&source, 0..text.len()).named("wish", text);
    let mut faults = Faults::new();
    faults.push(Fault::new(place, why));
    Failure::Faults(faults)
}

/// Those in force that stay, and those to be dropped.
fn split(in_force: &[Wish], texts: &[String]) -> Result<(Vec<Wish>, Vec<Wish>), Failure> {
    let named = |wish: &Wish| texts.iter().any(|text| text.trim() == wish.text);
    let there = |text: &&String| in_force.iter().all(|wish| wish.text != text.trim());
    if let Some(text) = texts.iter().find(there) {
        let known: Vec<&str> = in_force.iter().map(|wish| wish.text.as_str()).collect();
        return Err(Failure::NoWish {
            wish: text.clone(),
            known: known.join(", "),
        });
    }
    let (drop, stay) = in_force.iter().cloned().partition(named);
    Ok((stay, drop))
}

/// The job with wishes.
fn asking(job: &Job, wishes: &[Wish]) -> Result<Job, Failure> {
    let mut job = job.clone();
    for wish in wishes {
        wish.ask(&mut job).map_err(|why| fault(&wish.text, why))?;
    }
    Ok(job)
}

fn write(
    disk: &dyn Disk,
    order: &WishOrder,
    keep: &[String],
    drop: &[String],
) -> Result<String, Failure> {
    let _shelf = Shelf::open(disk, &order.folder.join("out"), &order.folder)?;
    let files = JobFiles::read(&order.folder)?;
    let trimmed = |texts: &[String]| -> Vec<String> {
        texts.iter().map(|text| text.trim().to_owned()).collect()
    };
    let before = files.text(WISHES_CSV).unwrap_or("").to_owned();
    let after = mark_wishes(&before, &trimmed(keep), &trimmed(drop));
    // The readers judge what was written.
    files.with(WISHES_CSV, after.clone()).parse()?;
    let path = order.folder.join(WISHES_CSV);
    replace_with_backup(disk, &path, after.as_bytes()).map_err(|why| Failure::Write {
        path: path.clone(),
        why,
    })?;
    Ok(path.display().to_string())
}

/// What prices are found with.
struct Pricing<'p> {
    base: &'p Job,
    request: &'p Request,
    watch: &'p dyn Watch,
}

impl Pricing<'_> {
    fn wished(&self, all: &Job, wishes: &[Wish], each_last: bool) -> Result<Wished, Failure> {
        let mut without = self.plan(self.base);
        let with = match wishes {
            [] => without.clone(),
            _ => self.keeping(all, &mut without),
        };
        let mut priced = Vec::new();
        for (at, wish) in wishes.iter().enumerate() {
            priced.push(if each_last {
                // One in force costs what the plan would be cheaper by without it.
                let others: Vec<Wish> = others(wishes, at);
                let mut less = self.plan(&asking(self.base, &others)?);
                let kept = self.keeping(all, &mut less);
                self.priced(wish, &less, &kept)
            } else if wishes.len() == 1 {
                self.priced(wish, &without, &with)
            } else {
                let one = self.keeping(
                    &asking(self.base, std::slice::from_ref(wish))?,
                    &mut without,
                );
                self.priced(wish, &without, &one)
            });
        }
        let together = is_possible(self.base, &without, &with);
        let conflicts = match !together && priced.iter().all(|one| one.possible) {
            true => self.conflicts(wishes, &mut without)?,
            false => Vec::new(),
        };
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

    fn plan(&self, job: &Job) -> Plan {
        layout::plan(job, self.request, self.watch)
    }

    /// The best plan of a job that asks for more than `best` was made for: that one where it keeps the wish as
    /// it is. Where the search ended early and found a better one now, that is the best without the wish too.
    fn keeping(&self, job: &Job, best: &mut Plan) -> Plan {
        if plan::check(job, best, self.request.by_money, &self.request.limits).is_ok() {
            return best.clone();
        }
        let mut plan = self.plan(job);
        let better = plan.totals.cost < best.totals.cost && is_possible(self.base, best, &plan);
        if better && best.not_made.len() == plan.not_made.len() {
            *best = plan.clone();
        }
        // No plan with a wish costs less than the best without it.
        if best.not_made.len() == plan.not_made.len() && plan.totals.bound < best.totals.bound {
            plan.totals.bound = best.totals.bound.min(plan.totals.cost);
            plan.totals = plan::totals(job, &plan, self.request.by_money);
        }
        plan
    }

    fn priced(&self, wish: &Wish, without: &Plan, with: &Plan) -> Priced {
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
            nearest: why.is_some().then(|| self.nearest(wish, without)).flatten(),
            why,
            proved: without.totals.proved && with.totals.proved,
        }
    }

    /// The same fronts from another board, at the least cost, in words.
    fn nearest(&self, wish: &Wish, without: &Plan) -> Option<String> {
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
        let tried = ids.into_iter().filter(|id| *id != board).filter_map(|id| {
            let one = Wish {
                text: format!("{name}={id}"),
                asks: Asks::From {
                    fronts: fronts.clone(),
                    board: id.clone(),
                },
            };
            let job = asking(self.base, std::slice::from_ref(&one)).ok()?;
            let plan = layout::plan(&job, &request, self.watch);
            let costs = Costs::between(&without.totals, &plan.totals);
            let unit = self.base.settings.unit;
            is_possible(self.base, without, &plan)
                .then(|| (costs.cost, format!("{one} costs {}", costs.in_words(unit))))
        });
        let least = tried.min_by(|a, b| a.0.total_cmp(&b.0));
        least.map(|(_, words)| words)
    }

    /// The pairs no plan keeps both of.
    fn conflicts(&self, wishes: &[Wish], without: &mut Plan) -> Result<Vec<[String; 2]>, Failure> {
        let mut conflicts = Vec::new();
        for (at, one) in wishes.iter().enumerate() {
            for other in &wishes[at + 1..] {
                let both = asking(self.base, &[one.clone(), other.clone()])?;
                let plan = self.keeping(&both, without);
                if !is_possible(self.base, without, &plan) {
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
    let missing = |plan: &Plan| -> f64 {
        let areas = plan.not_made.iter().map(|missing| {
            let front = &job.fronts[missing.front];
            front.width.inches() * front.height.inches()
        });
        areas.sum()
    };
    missing(with) <= missing(without) + 1e-9
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

impl Costs {
    /// From one plan to another.
    pub fn between(from: &Totals, to: &Totals) -> Costs {
        let count = |from: usize, to: usize| to as i64 - from as i64;
        // What is below the precision of a proof is nothing.
        let less = |from: f64, to: f64| {
            if (to - from).abs() < 1e-6 {
                0.0
            } else {
                to - from
            }
        };
        Costs {
            feet: less(from.feet_used.value(), to.feet_used.value()),
            breaks: count(from.breaks, to.breaks),
            glue_lines: count(from.glue_lines, to.glue_lines),
            mixed_logs: count(from.mixed_logs, to.mixed_logs),
            mixed_cuts: count(from.mixed_cuts, to.mixed_cuts),
            tone_run: less(from.tone_run, to.tone_run),
            tone_case: less(from.tone_case, to.tone_case),
            cost: less(from.cost, to.cost).max(0.0),
        }
    }

    /// In words: `1.8 board feet and 1 tone step more in the runs`.
    pub fn in_words(&self, unit: Unit) -> String {
        let counted = |change: i64, what: &str| {
            let plural = if change.abs() == 1 { "" } else { "s" };
            let how = if change < 0 { "fewer" } else { "more" };
            (change != 0).then(|| format!("{} {what}{plural} {how}", change.abs()))
        };
        let toned = |change: f64, place: &str| {
            let (steps, how) = (change.abs(), if change < 0.0 { "less" } else { "more" });
            let plural = if steps == 1.0 { "" } else { "s" };
            (change != 0.0).then(|| format!("{steps:.1} tone step{plural} {how} {place}"))
        };
        let how = if self.feet < 0.0 { "less" } else { "more" };
        let wood = (self.feet != 0.0)
            .then(|| format!("{} {how}", Volume::new(self.feet.abs()).show(unit)));
        let all = [
            wood,
            counted(self.breaks, "break"),
            counted(self.glue_lines, "glue line"),
            counted(self.mixed_logs, "log"),
            counted(self.mixed_cuts, "way of sawing"),
            toned(self.tone_run, "in the runs"),
            toned(self.tone_case, "over all"),
        ];
        let told: Vec<String> = all.into_iter().flatten().collect();
        match told.as_slice() {
            [] => "nothing".to_owned(),
            _ => format!("{:.2}: {}", self.cost, told.join(", ")),
        }
    }
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
