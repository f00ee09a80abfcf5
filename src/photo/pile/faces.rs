//! Each face of each board, measured from all its photographs.

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::finds::{Find, board_of, window_of};
use super::known::{as_text, digest};
use super::{Fetch, Known, Steps, all_or_faults, bytes_of, opened};
use crate::job::{Fault, Faults, PhotoSide, Reading};
use crate::measure::{Length, Unit};
use crate::photo::face::{Measured, View, see};
use crate::photo::picture::jpeg_of;
use crate::photo::plane::Window;

/// Which face of which board.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct FaceName {
    /// The board.
    pub board: String,
    /// Its copy.
    pub copy: u32,
    /// Which face.
    pub side: PhotoSide,
}

/// A face that was measured, without its light.
#[derive(Serialize, Deserialize)]
pub(super) struct Face {
    pub name: FaceName,
    /// Pixels of the straightened picture an inch, and its size.
    pub scale: f64,
    pub size: (usize, usize),
    #[serde(with = "as_text")]
    pub jpeg: Vec<u8>,
    /// The light is dropped: only what was measured is kept.
    pub measured: Measured,
    /// The pictures it was seen in.
    pub pictures: Vec<String>,
}

/// Length of the regions along a board.
pub(super) fn region(unit: Unit) -> Length {
    Length::round_in(unit, 6.0, 150.0)
}

/// Measures every face that has photographs with sure corners, in the order of the photographs.
pub(super) fn measure(
    reading: &Reading,
    finds: &[Find],
    (fetch, known): (&Fetch<'_>, &Known),
    steps: &Steps<'_>,
) -> Result<Vec<Face>, Faults> {
    let mut names: Vec<FaceName> = Vec::new();
    for photo in &reading.photos {
        let name = FaceName {
            board: photo.board.clone(),
            copy: photo.copy,
            side: photo.side,
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let faces: Vec<Result<Option<Face>, Fault>> = names
        .into_par_iter()
        .map(|name| face(name, reading, finds, (fetch, known), steps))
        .collect();
    Ok(all_or_faults(faces)?.into_iter().flatten().collect())
}

fn face(
    name: FaceName,
    reading: &Reading,
    finds: &[Find],
    (fetch, known): (&Fetch<'_>, &Known),
    steps: &Steps<'_>,
) -> Result<Option<Face>, Fault> {
    let mut parts = Vec::new();
    let mut whole = None;
    for (photo, find) in reading.photos.iter().zip(finds) {
        let same = photo.board == name.board && photo.copy == name.copy && photo.side == name.side;
        let Some(board) = board_of(reading, photo).filter(|_| same) else {
            continue;
        };
        steps.step();
        let Some(corners) = find.usable() else {
            continue;
        };
        let window = window_of(photo, board);
        whole = Some(Window {
            from: 0.0,
            to: board.length.inches(),
            ..window
        });
        let view = View {
            window,
            corners,
            white: photo.white,
        };
        parts.push((photo, &find.picture, view));
    }
    let every = region(reading.job.settings.unit).inches();
    let Some(window) = whole else {
        return Ok(None);
    };
    let seen: Vec<_> = (parts.iter())
        .map(|(photo, picture, view)| (&photo.file, picture, view))
        .collect();
    let asked = digest(format!("{name:?} {seen:?} {window:?} {every}").as_bytes());
    known.or_look(&asked, || {
        let (mut sights, mut pictures) = (Vec::new(), Vec::new());
        for (photo, _, view) in &parts {
            let picture = opened(photo, &bytes_of(photo, fetch)?)?;
            if let Some(sight) = see(&picture, view) {
                sights.push(sight);
                pictures.push(photo.file.clone());
            }
        }
        let measured = crate::photo::face::measure(sights, window, every);
        Ok(measured.map(|measured| kept(name, measured, pictures)))
    })
}

/// What is kept of a face once its picture is made.
fn kept(name: FaceName, mut measured: Measured, pictures: Vec<String>) -> Face {
    let strip = &mut measured.face;
    let size = (strip.width, strip.height);
    let scale = strip.scale;
    let jpeg = jpeg_of(strip.width, strip.height, &strip.bytes());
    strip.light = Vec::new();
    Face {
        name,
        scale,
        size,
        jpeg,
        measured,
        pictures,
    }
}
