//! `photo`: what photographs tell of the boards.

mod accept;
mod add;
mod case;
mod fetch;

pub use accept::{Accept, Accepted, Picked};
pub use add::{add_picture, picture};
pub use case::photographed;
pub(super) use case::{best_read, faces_seen, in_own_wood, picture_of};

use std::path::{Path, PathBuf};

use super::disk::{Disk, Real};
use super::outputs::file_names;
use super::shelf::Shelf;
use super::{Failure, Output};
use crate::job::{Board, JobFiles, Needs, PhotoSide, Reading, read_plain};
use crate::photo::pile::{BoardTold, Known, Told, measure_pile, proof_html};

/// What was found and measured, so that it need not be again.
const KNOWN: &str = "photos/known.json";

/// What to measure, and what of it to write into the job.
#[derive(Clone, Debug)]
pub struct PhotoOrder {
    /// The job's folder.
    pub folder: PathBuf,
    /// Where results go; `out` in the job's folder when not given.
    pub out: Option<PathBuf>,
    /// What is accepted of an earlier look, if anything.
    pub accept: Option<Picked>,
}

/// What photographs told.
#[derive(Clone, Debug)]
pub struct Photographed {
    /// All of it.
    pub told: Told,
    /// The files written.
    pub files: Vec<PathBuf>,
    /// Where they are.
    pub out: PathBuf,
    /// The maker's own files that were in the way, by where they are now in the output folder.
    pub set_aside: Vec<String>,
    /// What was written into the job.
    pub accepted: Option<Accepted>,
    /// How many pictures and faces had to be looked at; the others have not changed since an earlier look.
    pub looked: usize,
    /// Warnings of the job's files.
    pub findings: crate::job::Faults,
}

/// Measures the boards of a job by their photographs, and writes what was accepted into the job.
///
/// # Errors
/// [`Failure::Faults`] when the job or a picture has faults, [`Failure::NoPhotos`],
/// [`Failure::Write`], [`Failure::Busy`]; nothing is written then.
pub fn photo(
    order: &PhotoOrder,
    news: &(dyn Fn(usize, usize) + Sync),
) -> Result<Photographed, Failure> {
    photo_on(&Real, order, news)
}

pub(super) fn photo_on(
    disk: &dyn Disk,
    order: &PhotoOrder,
    news: &(dyn Fn(usize, usize) + Sync),
) -> Result<Photographed, Failure> {
    let out = order
        .out
        .clone()
        .unwrap_or_else(|| order.folder.join("out"));
    let shelf = Shelf::open(disk, &out, &order.folder)?;
    let known = Known::read(&read_plain(&out.join(KNOWN)).unwrap_or_default());
    let (mut reading, mut told) = measured(&order.folder, &known, news)?;
    let mut accepted = None;
    if let Some(picked) = &order.accept {
        let files = JobFiles::read(&order.folder)?;
        accepted = Some(accept::write(
            disk,
            &order.folder,
            &files,
            &reading,
            &told,
            picked,
        )?);
        if picked.what == Accept::Corners {
            // Boards whose corners are sure now are measured like the others.
            (reading, told) = measured(&order.folder, &known, news)?;
        }
    }
    let mut outputs = outputs(&reading, &told);
    outputs.push((KNOWN.to_owned(), known.bytes()));
    shelf.put_beside(&outputs)?;
    Ok(Photographed {
        told,
        files: outputs.iter().map(|(name, _)| out.join(name)).collect(),
        set_aside: shelf.set_aside(),
        out: out.clone(),
        accepted,
        looked: known.looked(),
        findings: reading.findings,
    })
}

fn measured(
    folder: &Path,
    known: &Known,
    news: &(dyn Fn(usize, usize) + Sync),
) -> Result<(Reading, Told), Failure> {
    let reading = JobFiles::read(folder)?.parse_for(Needs::Photos)?;
    if reading.photos.is_empty() {
        return Err(Failure::NoPhotos);
    }
    let told = measure_pile(&reading, &|file| fetch::fetch(folder, file), known, news)?;
    Ok((reading, told))
}

/// The files written: figures, pictures and the proof sheet.
fn outputs(reading: &Reading, told: &Told) -> Vec<Output> {
    let name = |b: &BoardTold| face_name(&reading.job.boards, &b.board, b.copy, b.side);
    let names: Vec<String> = file_names(told.boards.iter().map(name))
        .into_iter()
        .map(|name| format!("{name}.jpg"))
        .collect();
    let json = serde_json::to_string_pretty(told).unwrap_or_default() + "\n";
    let proof = proof_html(told, &names, reading.job.settings.ruler());
    let mut outputs = vec![
        ("photos.json".to_owned(), json.into_bytes()),
        ("photos/proof.html".to_owned(), proof.into_bytes()),
    ];
    let pictures = told.boards.iter().zip(&names);
    outputs.extend(pictures.map(|(board, name)| (format!("photos/{name}"), board.jpeg.clone())));
    outputs
}

/// `BOARD-SIDE`, with the copy where there are several.
fn face_name(boards: &[Board], board: &str, copy: u32, side: PhotoSide) -> String {
    let kinds = boards.iter().filter(|kind| kind.id == board);
    let copies: usize = kinds.map(|kind| kind.copies.len()).sum();
    let side = match side {
        PhotoSide::Up => "up",
        PhotoSide::Down => "down",
    };
    match copies {
        0 | 1 => format!("{board}-{side}"),
        _ => format!("{board}-{copy}-{side}"),
    }
}
