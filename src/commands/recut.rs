//! `recut`: a new plan after a board has let its maker down, and the way back.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::disk::{Disk, Real};
use super::fit::FittedJob;
use super::photo::{faces_seen, in_own_wood};
use super::plan::FORGOTTEN;
use super::shelf::{Shelf, listed};
use super::{Failure, fit, outputs};
use crate::draw::Progress;
use crate::job::{DONE_CSV, Job, JobFiles, Needs, Reading, read_plain, unmark_anew};
use crate::layout::{Request, Watch};
use crate::packet::{Extras, Replaces};
use crate::plan::{self, Earlier, Plan, PlanFault, Sawn, earlier_from_json, placed};
use crate::recut::{self, Change, Kind, Last, Recut, begun_on, changes};

/// What to recut, and where its plans are.
#[derive(Clone, Debug, Default)]
pub struct RecutOrder {
    /// The job's folder.
    pub folder: PathBuf,
    /// The folder of its plans; `out` in the job's folder when not given.
    pub out: Option<PathBuf>,
    /// How to plan.
    pub request: Request,
}

/// A recut that passed the checker and is written.
#[derive(Clone, Debug)]
pub struct Recutting {
    /// The job and its findings.
    pub reading: Reading,
    /// The new plan.
    pub recut: Recut,
    /// What it changes, front by front.
    pub changes: Vec<Change>,
    /// The output folder.
    pub out: PathBuf,
    /// The files in it.
    pub files: Vec<String>,
    /// The maker's own files that were in the way, by where they are now in the output folder.
    pub set_aside: Vec<String>,
    /// The text of `plan.json`.
    pub json: String,
}

/// Whether two files hold one plan, whichever of its chalk is known to stay: what a plan placed anew stays where
/// it is in the next one.
fn is_same_plan(one: &str, other: &str) -> bool {
    let placed = |text: &str| {
        let mut plan: serde_json::Value = serde_json::from_str(text).ok()?;
        plan.as_object_mut()?.remove("stays");
        Some(plan)
    };
    one == other || placed(one).is_some_and(|plan| placed(other) == Some(plan))
}

/// A plan gone back to.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Undone {
    /// The number under `before` of the plan that is present again.
    pub number: u32,
    /// The output folder.
    pub out: PathBuf,
}

impl RecutOrder {
    fn out(&self) -> PathBuf {
        self.out.clone().unwrap_or_else(|| self.folder.join("out"))
    }
}

/// Plans what is left of a job, checks the plan by every rule, and writes it in place of the last
/// one, which is kept.
///
/// # Errors
/// Any [`Failure`]; the last plan stays present unless all of the new one can be written.
pub fn recut(order: &RecutOrder, watch: &dyn Watch) -> Result<Recutting, Failure> {
    recut_on(&Real, order, watch)
}

/// The same on a disk that may fail.
pub(super) fn recut_on(
    disk: &dyn Disk,
    order: &RecutOrder,
    watch: &dyn Watch,
) -> Result<Recutting, Failure> {
    let out = order.out();
    let shelf = Shelf::open(disk, &out, &order.folder)?;
    let found = find(order, watch)?;
    let FoundRecut {
        fitted,
        recut,
        changes,
        before,
        json,
    } = found;
    let mut files = listed(&out);
    if !is_same_plan(&json, &before) {
        let anew = anew(&changes);
        let progress = Progress {
            sawn: &recut.sawn,
            anew: &anew,
        };
        let fitting = fitted.sheet_for(&recut.plan)?;
        let job = &fitted.reading.job;
        let faces = faces_seen(job, [&out, &order.folder.join("out")]);
        let own_wood = in_own_wood(job, &recut.plan, &faces);
        let extras = Extras {
            photos: own_wood.photos,
            fitting: fitting.as_ref(),
            progress: Some(progress),
            replaces: Some(Replaces {
                number: shelf.number()?,
                changes: changes.clone(),
            }),
            ..Extras::default()
        };
        let mut outputs = outputs::of_recut(job, &recut, &extras);
        outputs.extend(own_wood.outputs);
        outputs.extend(fitting.iter().flat_map(fit::outputs));
        files = outputs.iter().map(|(name, _)| name.clone()).collect();
        shelf.replace(&outputs, None)?;
    }
    Ok(Recutting {
        reading: fitted.reading,
        recut,
        changes,
        set_aside: shelf.set_aside(),
        out: out.clone(),
        files,
        json,
    })
}

/// What a recut would be, before anything is written of it.
///
/// # Errors
/// As for [`recut()`], but for those of writing.
pub fn preview(order: &RecutOrder, watch: &dyn Watch) -> Result<Recutting, Failure> {
    let found = find(order, watch)?;
    Ok(Recutting {
        reading: found.fitted.reading,
        recut: found.recut,
        changes: found.changes,
        out: order.out(),
        files: Vec::new(),
        set_aside: Vec::new(),
        json: found.json,
    })
}

/// A recut that passed the checker and is not written yet.
struct FoundRecut {
    fitted: FittedJob,
    recut: Recut,
    changes: Vec<Change>,
    /// The text of the plan it starts from.
    before: String,
    /// Its own.
    json: String,
}

fn find(order: &RecutOrder, watch: &dyn Watch) -> Result<FoundRecut, Failure> {
    let out = order.out();
    let fitted = FittedJob::read(&order.folder, Needs::Boards, Some(&out))?;
    let reading = &fitted.reading;
    let job = &reading.job;
    let (before, earlier) = present(job, &out)?;
    let sawn = begun_on(job, &earlier, &reading.done).map_err(Failure::Begun)?;
    let last = Last {
        plan: &earlier.plan,
        plain: earlier.is_plain(),
    };
    let recut = recut::recut(job, &last, &sawn, &order.request, watch);
    let limits = &order.request.limits;
    if let Err(mut found) =
        plan::check_recut(job, &recut.plan, &recut.sawn, last.by_money(), limits)
    {
        found.retain(|violation| !violation.is_note());
        if !found.is_empty() {
            return Err(Failure::Rejected(found));
        }
    }
    let changes = changes(job, &earlier.plan, &recut);
    let json = plan::to_json_sawn(job, &recut.plan, &recut.sawn);
    Ok(FoundRecut {
        fitted,
        recut,
        changes,
        before,
        json,
    })
}

/// The fronts that are placed anew.
fn anew(changes: &[Change]) -> Vec<usize> {
    let anew = |change: &Change| matches!(change.kind, Kind::Moved | Kind::New);
    (0..changes.len()).filter(|&f| anew(&changes[f])).collect()
}

/// The present plan: its text, and what it is for the job as it is now.
pub(super) fn present(job: &Job, out: &Path) -> Result<(String, Earlier), Failure> {
    let path = out.join("plan.json");
    let bytes = match read_plain(&path) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return Err(Failure::NoPlan {
                out: out.to_owned(),
            });
        }
        Err(why) => return Err(Failure::Read { path, why }),
    };
    let text = String::from_utf8(bytes).map_err(|error| {
        vec![PlanFault::NotText {
            byte: error.utf8_error().valid_up_to(),
        }]
    });
    let read = text.and_then(|text| Ok((earlier_from_json(job, &text)?, text)));
    let (earlier, text) = read.map_err(|faults| Failure::Unreadable { path, faults })?;
    Ok((text, earlier))
}

/// Goes back to the plan before the present one.
///
/// # Errors
/// [`Failure::NoEarlierPlan`]; [`Failure::CutSince`] when a blank has been cut that the earlier
/// plan has elsewhere, or not at all.
pub fn undo(order: &RecutOrder) -> Result<Undone, Failure> {
    undo_on(&Real, order)
}

/// The same on a disk that may fail.
pub(super) fn undo_on(disk: &dyn Disk, order: &RecutOrder) -> Result<Undone, Failure> {
    let out = order.out();
    let shelf = Shelf::open(disk, &out, &order.folder)?;
    let reading = FittedJob::read(&order.folder, Needs::Boards, Some(&out))?.reading;
    let job = &reading.job;
    let (_, now) = present(job, &out)?;
    let (number, files) = shelf.earlier()?;
    let folder = out.join("before").join(number.to_string());
    let (_, before) = present(job, &folder)?;
    let sawn = begun_on(job, &now, &reading.done).map_err(Failure::Begun)?;
    let cut = cut_since(job, &sawn, &before);
    if !cut.is_empty() {
        return Err(Failure::CutSince { fronts: cut });
    }
    let marks = marks_again(order, &out, &folder, &before)?;
    shelf.go_back(number, &files, marks.as_deref())?;
    Ok(Undone {
        number,
        out: out.clone(),
    })
}

/// What done.csv says once a plan made anew over earlier marks is gone back from: those count
/// again.
fn marks_again(
    order: &RecutOrder,
    out: &Path,
    back_to: &Path,
    before: &Earlier,
) -> Result<Option<String>, Failure> {
    if !listed(out).iter().any(|name| name == FORGOTTEN) {
        return Ok(None);
    }
    let files = JobFiles::read(&order.folder)?;
    let marks = unmark_anew(files.text(DONE_CSV).unwrap_or(""));
    // They must still go with the job, and with the plan they were made for.
    let reading = files.with(DONE_CSV, marks.clone()).parse()?;
    let fitted = FittedJob::read(&order.folder, Needs::Boards, Some(back_to))?;
    begun_on(&fitted.reading.job, before, &reading.done).map_err(Failure::Begun)?;
    Ok(Some(marks))
}

/// Fronts with a blank cut, good or lost, that the earlier plan neither has nor knew to be lost.
fn cut_since(job: &Job, sawn: &Sawn, before: &Earlier) -> Vec<String> {
    let planned = |plan: &Plan, piece: &plan::SawnPiece| {
        placed(plan).any(|(board, _, _, blank)| {
            (board.board, board.copy) == (piece.board, piece.copy)
                && (blank.front, blank.stave) == (piece.blank.front, piece.blank.stave)
                && (blank.from, blank.to) == (piece.blank.from, piece.blank.to)
                && (blank.low, blank.high) == (piece.blank.low, piece.blank.high)
        })
    };
    let known = |piece: &plan::SawnPiece| {
        let same = |other: &plan::SawnPiece| {
            (other.board, other.copy, other.blank.from)
                == (piece.board, piece.copy, piece.blank.from)
                && (other.blank.front, other.blank.stave) == (piece.blank.front, piece.blank.stave)
        };
        before.sawn.pieces.iter().any(same)
    };
    let mut fronts: Vec<String> = sawn
        .pieces
        .iter()
        .filter(|piece| !planned(&before.plan, piece) && !known(piece))
        .map(|piece| job.fronts[piece.blank.front].name.clone())
        .collect();
    fronts.dedup();
    fronts
}
