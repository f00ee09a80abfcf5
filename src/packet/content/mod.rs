//! What the packet says, part by part.

mod board;
mod cautions;
mod changes;
mod cutlist;
mod estimate;
mod fitting;
mod index;
mod names;
mod overview;
mod same;

pub use estimate::estimate_part;

use super::document::{Document, Part};
use super::order;
use super::todo::Todo;
use crate::draw::{self, Progress};
use crate::fit::Sheet;
use crate::job::Job;
use crate::plan::Plan;
use crate::recut::Change;

/// What other commands may add to a packet.
#[derive(Clone, Debug, Default)]
pub struct Extras<'a> {
    /// The date to print; none by default, so that equal jobs give equal packets.
    pub date: Option<String>,
    /// What every sheet says at its foot, such as that the plan was changed by hand.
    pub notice: Option<String>,
    /// The fitting sheet, if the job has openings.
    pub fitting: Option<&'a Sheet>,
    /// How far the work is, when the plan was made after the saw had begun.
    pub progress: Option<Progress<'a>>,
    /// The plan that this one replaces, and what becomes of each front.
    pub replaces: Option<Replaces>,
    /// Pictures and tables of an estimate, if one was made.
    pub estimate: Option<Part>,
    /// What photographs show of the case and the boards, as JPEG files.
    pub photos: Photos,
}

/// Photographs beside the drawings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Photos {
    /// The case in its own wood.
    pub case: Option<Vec<u8>>,
    /// Each of the plan's boards with the blanks drawn over it, where it was photographed.
    pub boards: Vec<Option<Vec<u8>>>,
}

/// The plan that another replaces.
#[derive(Clone, Debug, PartialEq)]
pub struct Replaces {
    /// Its number, counted from the job's first plan.
    pub number: u32,
    /// What becomes of each front, in file order.
    pub changes: Vec<Change>,
}

/// The whole packet as a document.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn document(job: &Job, plan: &Plan, extras: &Extras) -> Document {
    let renamed = draw::unwritable(job);
    let job = &*draw::writable(job);
    let ruler = job.settings.ruler();
    let progress = extras.progress.as_ref();
    let mut overview = overview::part(job, plan, extras);
    names::told(&mut overview, job, &renamed);
    let mut parts: Vec<Part> = changes::part(job, plan, extras).into_iter().collect();
    parts.push(overview);
    let todo = Todo::after(progress);
    let boards = (0..plan.boards.len()).filter(|&b| changes::is_open(&plan.boards[b], todo));
    let photo = |index: usize| extras.photos.boards.get(index).cloned().flatten();
    parts.extend(boards.map(|index| board::part(job, plan, index, (progress, photo(index)))));
    parts.push(cutlist::part(job, plan, progress));
    parts.extend(extras.fitting.map(|sheet| {
        let sheet = draw::writable_sheet(sheet, job);
        fitting::part(&sheet)
    }));
    parts.push(order::part(job, plan, progress));
    parts.extend(extras.estimate.clone());
    parts.push(cautions::part(job, plan, extras.fitting.is_some()));
    Document {
        title: title(job),
        date: extras.date.clone(),
        notice: extras.notice.clone(),
        plan: extras.replaces.as_ref().map(changes::name),
        ruler,
        fronts: index::fronts(job, plan, extras.fitting, &parts),
        parts,
    }
}

/// The job's title, or a plain word for one that has none.
fn title(job: &Job) -> String {
    match job.settings.title.trim() {
        "" => "Shop packet".to_owned(),
        title => title.to_owned(),
    }
}

#[cfg(test)]
mod tests;
