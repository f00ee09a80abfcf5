//! All photographs of a job's boards: opened, found, measured and told.

mod faces;
mod finds;
mod known;
mod proof;
mod told;
mod tones;

pub use faces::FaceName;
pub use known::Known;
pub use proof::proof_html;
pub use told::{AlongTold, BoardTold, DefectTold, PhotoTold, SlopeTold, Told};

use std::sync::atomic::{AtomicUsize, Ordering};

use super::picture::{Picture, PictureTrouble, open};
use crate::job::{Fault, Faults, Photo, Reading, Trouble};

/// Where a picture's bytes come from: a file of the job's folder, by the path its row names.
pub type Fetch<'a> = dyn Fn(&str) -> Result<Vec<u8>, Unread> + Sync + 'a;

/// Why a picture's file can't be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unread {
    /// There is none of that name.
    #[error("there is no such picture")]
    Missing,
    /// A link that leads out of the job's folder.
    #[error("it leads out of the job's folder")]
    Outside,
    /// What the system says.
    #[error("the picture can't be read: {0}")]
    System(String),
}

impl Trouble for Unread {
    fn hint(&self) -> Option<String> {
        Some(match self {
            Unread::Missing => "paths count from the job's folder, as in photos/C7.jpg".into(),
            Unread::Outside => "copy the picture into the folder `photos` of the job".into(),
            Unread::System(_) => return None,
        })
    }
}

impl Trouble for PictureTrouble {
    fn hint(&self) -> Option<String> {
        Some(self.cure().into())
    }
}

/// How far the work has come: pictures looked at, of all looks there will be.
pub type Progress<'a> = dyn Fn(usize, usize) + Sync + 'a;

/// Measures every board that has photographs, but for what is `known`.
///
/// # Errors
/// A fault for each picture that can't be read.
pub fn measure_pile(
    reading: &Reading,
    fetch: &Fetch<'_>,
    known: &Known,
    news: &Progress<'_>,
) -> Result<Told, Faults> {
    let steps = Steps {
        done: AtomicUsize::new(0),
        all: 2 * reading.photos.len(),
        news,
    };
    let finds = finds::find(reading, (fetch, known), &steps)?;
    let faces = faces::measure(reading, &finds, (fetch, known), &steps)?;
    Ok(told::tell(reading, &finds, faces))
}

/// Counts pictures looked at, from any thread.
struct Steps<'a> {
    done: AtomicUsize,
    all: usize,
    news: &'a Progress<'a>,
}

impl Steps<'_> {
    fn step(&self) {
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        (self.news)(done, self.all);
    }
}

/// The bytes of a photograph's picture.
fn bytes_of(photo: &Photo, fetch: &Fetch<'_>) -> Result<Vec<u8>, Fault> {
    fetch(&photo.file).map_err(|why| Fault::new(photo.place.clone(), why))
}

/// The picture they are.
fn opened(photo: &Photo, bytes: &[u8]) -> Result<Picture, Fault> {
    open(bytes).map_err(|why| Fault::new(photo.place.clone(), why))
}

/// All values, or all faults.
fn all_or_faults<T>(results: Vec<Result<T, Fault>>) -> Result<Vec<T>, Faults> {
    let mut faults = Faults::new();
    let values = results
        .into_iter()
        .filter_map(|result| faults.keep(result))
        .collect();
    if faults.is_empty() {
        Ok(values)
    } else {
        Err(faults)
    }
}
