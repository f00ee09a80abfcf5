//! `plan`: from a job's folder to chalk marks.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::by_hand::{self, Changed};
use super::disk::{Disk, Real};
use super::fit::FittedJob;
use super::photo::{best_read, faces_seen, in_own_wood};
use super::shelf::Shelf;
use super::{Failure, Output, estimate, fit, mark, outputs, sized};
use crate::draw::{BoardFace, Joint};
use crate::fit::Sheet;
use crate::job::{DONE_CSV, Job, JobFiles, Needs, Reading, mark_anew};
use crate::layout::{self, Request, WarmStart, Watch};
use crate::measure::{Unit, Volume};
use crate::packet::{Extras, Photos, ways_pages};
use crate::plan::{self, Limits, Plan};
use crate::ways::{self, Nearest, Ways};

/// done.csv as it was before a plan was made anew over it, beside that plan.
pub const FORGOTTEN: &str = "forgotten.csv";

/// What to plan, and where to write it.
#[derive(Clone, Debug, Default)]
pub struct PlanOrder {
    /// The job's folder.
    pub folder: PathBuf,
    /// The output folder; `out` in the job's folder when not given.
    pub out: Option<PathBuf>,
    /// How to plan.
    pub request: Request,
    /// Most wood to use, in the unit it was asked for in; it joins the limits of `request`.
    pub most_wood: Option<MostWood>,
    /// The date to print on the packet; none when not given, so that output is repeatable.
    pub date: Option<String>,
    /// Plan all anew even when some is cut already.
    pub force: bool,
    /// Most plans to choose from; only the best is made when not given.
    pub ways: Option<usize>,
    /// A plan.json to take as it stands, instead of the best.
    pub from: Option<PathBuf>,
    /// What a search of nearly the same job knew.
    pub warm: WarmStart,
}

/// A limit on wood as it was asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MostWood {
    /// Board feet, or litres.
    pub amount: f64,
    /// The unit of a job that counts so.
    pub unit: Unit,
}

/// A plan that passed the checker and is written.
#[derive(Clone, Debug)]
pub struct Planned {
    /// The job and its findings.
    pub reading: Reading,
    /// The plan.
    pub plan: Plan,
    /// The plans to choose from, when asked for; `plan` is the chosen one of them.
    pub ways: Option<Ways>,
    /// What every sheet says of a plan changed by hand.
    pub by_hand: Option<String>,
    /// The output folder.
    pub out: PathBuf,
    /// The files in it.
    pub files: Vec<String>,
    /// The maker's own files that were in the way, by where they are now in the output folder.
    pub set_aside: Vec<String>,
    /// How well facing edges agree, where photographs show both.
    pub joints: Vec<Joint>,
}

/// Plans the job, checks the plan by every rule, and writes it. A plan that is there is shelved.
///
/// # Errors
/// Any [`Failure`]; nothing is written unless all of it can be.
pub fn plan(order: &PlanOrder, watch: &dyn Watch) -> Result<Planned, Failure> {
    plan_on(&Real, order, watch)
}

/// The same on a disk that may fail.
pub(super) fn plan_on(
    disk: &dyn Disk,
    order: &PlanOrder,
    watch: &dyn Watch,
) -> Result<Planned, Failure> {
    let out = order.out();
    let shelf = Shelf::open(disk, &out, &order.folder)?;
    let found = find(order, watch)?;
    put(&shelf, order, found)
}

impl PlanOrder {
    fn out(&self) -> PathBuf {
        self.out.clone().unwrap_or_else(|| self.folder.join("out"))
    }

    fn faces(&self, job: &Job) -> Vec<BoardFace> {
        faces_seen(job, [&self.out(), &self.folder.join("out")])
    }
}

/// A plan that passed the checker and is not written yet.
#[derive(Clone, Debug)]
pub struct Found {
    /// The job and its findings.
    pub reading: Reading,
    /// The plan.
    pub plan: Plan,
    /// The plans to choose from, when asked for.
    pub ways: Option<Ways>,
    /// What every sheet says of a plan changed by hand.
    pub by_hand: Option<String>,
    /// The fitting sheet, when openings are measured.
    pub fitting: Option<Sheet>,
    /// What photographs show of the boards.
    pub faces: Vec<BoardFace>,
    /// What the search knew, for the next one of nearly the same job.
    pub warm: WarmStart,
}

/// Plans the job and checks the plan by every rule, and writes nothing.
///
/// # Errors
/// As for [`plan()`], but for those of writing.
pub fn find(order: &PlanOrder, watch: &dyn Watch) -> Result<Found, Failure> {
    let mut fitted = FittedJob::read_for(&order.folder, Needs::Boards, order.from.as_deref())?;
    let reading = &fitted.reading;
    let unit = reading.job.settings.unit;
    let order = &in_own_volumes(order, unit)?;
    let request = &order.request;
    let priced = reading.job.boards.iter().any(|board| board.price.is_some());
    if request.by_money && !priced {
        return Err(Failure::NoPrices);
    }
    if mark::is_begun(reading) && !order.force {
        return Err(Failure::AlreadyBegun);
    }
    let begun = Instant::now();
    let found = match &order.from {
        Some(file) => as_it_stands(&fitted.reading.job, file, request, watch)?,
        None => search_fitted(&mut fitted, order, watch)?,
    };
    let Searched {
        mut plan,
        mut ways,
        by_hand,
        warm,
    } = found;
    let faces = order.faces(&fitted.reading.job);
    if by_hand.is_none() {
        let over = |time: Duration| begun.elapsed() >= time;
        let stop = || watch.stop() || request.time.is_some_and(over);
        plan = best_read(&fitted.reading.job, plan, &faces, request, &stop);
        if let Some(ways) = &mut ways {
            ways.ways[ways.chosen].plan = plan.clone();
        }
    }
    let fitting = fitted.sheet_for(&plan)?;
    let reading = fitted.reading;
    let time = sized::time_left(request.time, begun);
    let nearest = ways::nearest(&reading.job, request, &plan, time, watch);
    if !nearest.is_empty() {
        return Err(Failure::Limits(too_tight(
            &plan,
            &request.limits,
            &nearest,
            unit,
        )));
    }
    for plan in ways
        .iter()
        .flat_map(|ways| ways.ways.iter().map(|way| &way.plan))
    {
        checked(&reading.job, plan, request)?;
    }
    if by_hand.is_none() {
        checked(&reading.job, &plan, request)?;
    }
    Ok(Found {
        reading,
        plan,
        ways,
        by_hand,
        fitting,
        faces,
        warm,
    })
}

/// A good plan within milliseconds, with no proof, for who waits for a better one. It is checked by
/// every rule all the same, and nothing is written.
///
/// # Errors
/// As for [`find`].
pub fn sketch(order: &PlanOrder) -> Result<Found, Failure> {
    let fitted = FittedJob::read(&order.folder, Needs::Boards, None)?;
    if mark::is_begun(&fitted.reading) && !order.force {
        return Err(Failure::AlreadyBegun);
    }
    let plan = layout::quick(&fitted.reading.job, order.request.seed);
    checked(&fitted.reading.job, &plan, &order.request)?;
    let fitting = fitted.sheet_for(&plan)?;
    Ok(Found {
        reading: fitted.reading,
        plan,
        ways: None,
        by_hand: None,
        fitting,
        faces: Vec::new(),
        // No search was made: what was known still is.
        warm: order.warm.clone(),
    })
}

/// Writes a plan that [`find`] gave for this order, in place of the last one, which is shelved.
///
/// # Errors
/// As for [`plan()`], but for those of planning.
pub fn hand_over(order: &PlanOrder, found: Found) -> Result<Planned, Failure> {
    let out = order.out();
    let shelf = Shelf::open(&Real, &out, &order.folder)?;
    put(&shelf, order, found)
}

fn put(shelf: &Shelf, order: &PlanOrder, found: Found) -> Result<Planned, Failure> {
    let out = order.out();
    let Found {
        reading,
        plan,
        ways,
        by_hand,
        fitting,
        faces,
        warm: _,
    } = found;
    let own_wood = in_own_wood(&reading.job, &plan, &faces);
    let extras = Extras {
        photos: own_wood.photos,
        date: order.date.clone(),
        notice: by_hand.clone(),
        fitting: fitting.as_ref(),
        estimate: estimate::part_of(&reading.job, &out),
        progress: None,
        replaces: None,
    };
    let mut outputs = outputs::of_plan(&reading.job, &plan, &extras);
    outputs.extend(own_wood.outputs);
    outputs.extend(fitting.iter().flat_map(fit::outputs));
    outputs.extend(
        ways.iter()
            .flat_map(|ways| of_ways(&reading.job, ways, &extras)),
    );
    let marks = match mark::is_begun(&reading) {
        true => Some(put_aside(&order.folder, &mut outputs)?),
        false => None,
    };
    let files = outputs.iter().map(|(name, _)| name.clone()).collect();
    shelf.replace(&outputs, marks.as_deref())?;
    Ok(Planned {
        reading,
        plan,
        ways,
        by_hand,
        set_aside: shelf.set_aside(),
        out,
        files,
        joints: own_wood.joints,
    })
}

/// What a search came to.
struct Searched {
    plan: Plan,
    ways: Option<Ways>,
    by_hand: Option<String>,
    warm: WarmStart,
}

/// A plan changed by hand, when it keeps every rule.
fn as_it_stands(
    job: &Job,
    file: &Path,
    request: &Request,
    watch: &dyn Watch,
) -> Result<Searched, Failure> {
    let changed = Changed::compared(job, by_hand::read(job, file)?, request, watch);
    let line = changed.line(job.settings.unit);
    Ok(Searched {
        plan: changed.taken()?,
        ways: None,
        by_hand: Some(line),
        warm: WarmStart::default(),
    })
}

/// Plans, and fits the fronts to the boards they come from.
fn search_fitted(
    fitted: &mut FittedJob,
    order: &PlanOrder,
    watch: &dyn Watch,
) -> Result<Searched, Failure> {
    let search = |job: &Job, request: &Request, warm: &mut WarmStart| {
        search(job, request, order.ways, watch, warm)
    };
    let from = (watch, &order.warm);
    let found = sized::in_rounds(fitted, &order.request, from, search, |found| &found.0);
    let ((plan, ways), warm) = found?;
    Ok(Searched {
        plan,
        ways,
        by_hand: None,
        warm,
    })
}

/// What done.csv says from a plan on that was made anew over what is cut: the marks so far are put
/// aside. The file as it was goes with the plan, so that going back from it can bring them back.
fn put_aside(folder: &Path, outputs: &mut Vec<Output>) -> Result<String, Failure> {
    let files = JobFiles::read(folder)?;
    let before = files.text(DONE_CSV).unwrap_or("");
    outputs.push((FORGOTTEN.to_owned(), before.as_bytes().to_vec()));
    Ok(mark_anew(
        before,
        "planned anew; the lines above are put aside",
    ))
}

/// The order with its limit on wood among the others. A metric job counts litres: board feet that
/// count thin wood as an inch can't be turned into them.
fn in_own_volumes(order: &PlanOrder, unit: Unit) -> Result<PlanOrder, Failure> {
    let mut order = order.clone();
    if let Some(most) = order.most_wood {
        if most.unit != unit {
            return Err(Failure::OtherVolumes { unit });
        }
        order.request.limits.most_feet = Some(Volume::new(most.amount));
    }
    Ok(order)
}

/// The best plan, and those to choose from when asked for.
fn search(
    job: &Job,
    request: &Request,
    ways: Option<usize>,
    watch: &dyn Watch,
    warm: &mut WarmStart,
) -> (Plan, Option<Ways>) {
    let Some(most) = ways else {
        return (layout::plan_from(job, request, watch, warm), None);
    };
    let ways = ways::ways(job, request, most, watch);
    let plan = ways.ways[ways.chosen].plan.clone();
    (plan, Some(ways))
}

fn checked(job: &Job, plan: &Plan, request: &Request) -> Result<(), Failure> {
    plan::check(job, plan, request.by_money, &request.limits).map_err(Failure::Rejected)
}

/// Each way's files in its own folder, and the table of them.
fn of_ways(job: &Job, ways: &Ways, extras: &Extras) -> Vec<Output> {
    let mut files = vec![("ways/ways.json".to_owned(), ways.to_json(job).into_bytes())];
    let (html, pdf) = ways_pages(job, ways);
    files.push(("ways/ways.html".to_owned(), html.into_bytes()));
    files.push(("ways/ways.pdf".to_owned(), pdf));
    // The photographs are of the chosen plan.
    let extras = &Extras {
        photos: Photos::default(),
        ..extras.clone()
    };
    for (index, way) in ways.ways.iter().enumerate() {
        let folder = Ways::folder(index);
        let outputs = outputs::of_plan(job, &way.plan, extras).into_iter();
        files.extend(outputs.map(|(name, bytes)| (format!("{folder}/{name}"), bytes)));
    }
    files
}

/// Why no plan keeps to the limits, and what would be the nearest.
fn too_tight(plan: &Plan, limits: &Limits, nearest: &[Nearest], unit: Unit) -> String {
    let over: Vec<&Nearest> = nearest.iter().filter(|nearest| nearest.over).collect();
    if over.is_empty() {
        return format!(
            "no plan within all the limits was found, though each alone can be kept; \
             the nearest has {}",
            figures(plan, limits, unit)
        );
    }
    let certain = over.iter().any(|nearest| nearest.proved());
    let beginning = match certain {
        true => "no plan keeps to the limits",
        false => "no plan within the limits was found",
    };
    let figures: Vec<String> = over.iter().map(ToString::to_string).collect();
    let misses = over.iter().flat_map(|nearest| &nearest.misses);
    let misses: String = misses.map(|miss| format!("\n  {miss}")).collect();
    format!("{beginning}: {}{misses}", figures.join("; "))
}

/// The figures of a plan on which limits are set.
fn figures(plan: &Plan, limits: &Limits, unit: Unit) -> String {
    let totals = &plan.totals;
    let missing = totals.fronts - totals.made;
    let all = [
        (
            limits.most_breaks.is_some(),
            format!("{} breaks", totals.breaks),
        ),
        (
            limits.most_feet.is_some(),
            format!("{} used", totals.feet_used.show(unit)),
        ),
        (
            limits.tone_within.is_some(),
            format!("a tone spread of {:.1}", totals.tone_case),
        ),
        (missing > 0, format!("{missing} fronts not made")),
    ];
    let set = all
        .into_iter()
        .filter_map(|(set, figure)| set.then_some(figure));
    set.collect::<Vec<_>>().join(", ")
}
