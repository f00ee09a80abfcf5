//! `wish`: what a wish costs against the best plan without it.

mod costs;
mod pricing;

use std::path::PathBuf;

use serde::Serialize;

use super::Failure;
use super::disk::{Disk, Real, replace_with_backup};
use super::failure::TYPED;
use super::fit::FittedJob;
use super::mark;
use super::shelf::Shelf;
use crate::job::{
    Fault, Faults, Job, JobFiles, Needs, Place, Source, WISHES_CSV, Wish, WishTrouble, mark_wishes,
};
use crate::layout::{Request, WarmStart, Watch};
use crate::measure::Unit;
pub use costs::Costs;
use pricing::Pricing;

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
    /// What a search of the job knew.
    pub warm: WarmStart,
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
/// [`Failure::Faults`] when the job has faults, or a wish has, before anything is searched;
/// [`Failure::WishAfterCut`] once something is cut.
pub fn wish(order: &WishOrder, watch: &dyn Watch) -> Result<Wished, Failure> {
    wish_on(&Real, order, watch)
}

/// The same on a disk that may fail.
pub(super) fn wish_on(
    disk: &dyn Disk,
    order: &WishOrder,
    watch: &dyn Watch,
) -> Result<Wished, Failure> {
    let fitted = FittedJob::read(&order.folder, Needs::Boards, None)?;
    let reading = &fitted.reading;
    if mark::is_begun(reading) {
        return Err(Failure::WishAfterCut);
    }
    let in_force = &reading.wishes;
    let (kept, asked) = match order.what {
        Asking::Price | Asking::Keep => (in_force.clone(), parsed(&reading.job, &order.wishes)?),
        Asking::List => (Vec::new(), in_force.clone()),
        Asking::Drop => split(in_force, &order.wishes)?,
    };
    let base = asking(&reading.without_wishes(), &kept)?;
    let all = asking(&base, &asked)?;
    let pricing = Pricing {
        fitted: &fitted,
        base: &base,
        request: &order.request,
        warm: &order.warm,
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
    let source = Source::new(TYPED, text);
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
