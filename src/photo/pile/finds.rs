//! The corners of each photograph: given, or looked for.

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::known::{as_text, digest};
use super::{Fetch, Known, Steps, all_or_faults, bytes_of, opened};
use crate::job::{Board, Fault, Faults, Photo, PhotoSide, Reading};
use crate::photo::outline::{SURE, find_boards};
use crate::photo::picture::{Picture, jpeg_of};
use crate::photo::plane::{Point, Window};

/// Pixels of the longer side of the copies on the proof sheet.
const SHOWN: usize = 1400;

/// What was found in one photograph.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct Find {
    /// Corners, given or found.
    pub corners: Option<[Point; 4]>,
    /// Whether they were looked for.
    pub found: bool,
    /// 1 when they were given.
    pub confidence: f64,
    /// A small copy of the picture for the proof sheet: how many of its pixels one is, its size, and
    /// a JPEG. Of several photographs of one picture only the first has it.
    pub shown: Option<Shown>,
    /// Digest of the picture's bytes.
    pub picture: String,
    /// Whether the picture names colours that could not be understood.
    pub guessed_colours: bool,
}

/// A small copy of a picture.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct Shown {
    pub by: usize,
    pub width: usize,
    pub height: usize,
    #[serde(with = "as_text")]
    pub jpeg: Vec<u8>,
}

impl Find {
    /// The corners, where they are sure enough to be used.
    pub fn usable(&self) -> Option<[Point; 4]> {
        self.corners.filter(|_| self.confidence >= SURE)
    }
}

/// The part of a board's face that a photograph shows, in inches.
pub(super) fn window_of(photo: &Photo, board: &Board) -> Window {
    Window {
        from: photo.from.inches(),
        to: photo.to.inches(),
        low: 0.0,
        high: board.width.inches(),
    }
}

/// The kind of board a photograph shows.
pub(super) fn board_of<'r>(reading: &'r Reading, photo: &Photo) -> Option<&'r Board> {
    let boards = reading.job.boards.iter();
    boards
        .into_iter()
        .find(|b| b.id == photo.board && b.copies.contains(&photo.copy))
}

/// Finds the corners of every photograph, in the order of the photographs.
pub(super) fn find(
    reading: &Reading,
    (fetch, known): (&Fetch<'_>, &Known),
    steps: &Steps<'_>,
) -> Result<Vec<Find>, Faults> {
    let groups = by_picture(&reading.photos);
    let found: Vec<Result<Vec<(usize, Find)>, Fault>> = groups
        .into_par_iter()
        .map(|group| in_picture(reading, group, (fetch, known), steps))
        .collect();
    let mut finds: Vec<(usize, Find)> = all_or_faults(found)?.into_iter().flatten().collect();
    finds.sort_by_key(|(at, _)| *at);
    Ok(finds.into_iter().map(|(_, find)| find).collect())
}

/// Photographs of the same picture, by index.
fn by_picture(photos: &[Photo]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for at in 0..photos.len() {
        let same = |group: &&mut Vec<usize>| photos[group[0]].file == photos[at].file;
        match groups.iter_mut().find(same) {
            Some(group) => group.push(at),
            None => groups.push(vec![at]),
        }
    }
    groups
}

fn in_picture(
    reading: &Reading,
    group: Vec<usize>,
    (fetch, known): (&Fetch<'_>, &Known),
    steps: &Steps<'_>,
) -> Result<Vec<(usize, Find)>, Fault> {
    let first = &reading.photos[group[0]];
    let bytes = bytes_of(first, fetch)?;
    let picture = digest(&bytes);
    let asked = group.iter().map(|&at| {
        let photo = &reading.photos[at];
        let window = board_of(reading, photo).map(|board| window_of(photo, board));
        (photo.side, photo.corners, window)
    });
    let asked: Vec<_> = asked.collect();
    let finds = known.or_look(&digest(format!("{picture} {asked:?}").as_bytes()), || {
        let open = opened(first, &bytes)?;
        Ok(look_in(reading, &group, (&open, &picture)))
    })?;
    group.iter().for_each(|_| steps.step());
    Ok(group.into_iter().zip(finds).collect())
}

/// Looks for the boards of the photographs of one picture.
fn look_in(reading: &Reading, group: &[usize], (picture, digest): (&Picture, &str)) -> Vec<Find> {
    let photos = &reading.photos;
    let wanted: Vec<usize> = group
        .iter()
        .copied()
        .filter(|&at| photos[at].corners.is_none())
        .collect();
    let sizes: Vec<(f64, f64)> = wanted
        .iter()
        .filter_map(|&at| Some(window_of(&photos[at], board_of(reading, &photos[at])?)))
        .map(|window| (window.length(), window.width()))
        .collect();
    let looked = match sizes.is_empty() {
        true => Vec::new(),
        false => find_boards(picture, &sizes),
    };
    let mut shown = Some(shown(picture));
    group
        .iter()
        .map(|&at| {
            let found = wanted.iter().position(|&wanted| wanted == at);
            let found = found.and_then(|index| looked.get(index).copied().flatten());
            let given = photos[at]
                .corners
                .map(|all| all.map(|[x, y]| Point::new(x, y)));
            Find {
                corners: given.or(found.map(|found| seen_from(photos[at].side, found.corners))),
                found: given.is_none(),
                confidence: given.map_or(found.map_or(0.0, |f| f.confidence), |_| 1.0),
                shown: shown.take(),
                picture: digest.to_owned(),
                guessed_colours: picture.guessed_colours,
            }
        })
        .collect()
}

/// A board is turned over about its length to show its other side: the near edge is at the top then.
fn seen_from(side: PhotoSide, [a, b, c, d]: [Point; 4]) -> [Point; 4] {
    match side {
        PhotoSide::Up => [a, b, c, d],
        PhotoSide::Down => [d, c, b, a],
    }
}

fn shown(picture: &Picture) -> Shown {
    let by = picture.width.max(picture.height).div_ceil(SHOWN);
    let (width, height) = (picture.width / by, picture.height / by);
    let small = picture.shrunk(by);
    let bytes: Vec<u8> = small
        .iter()
        .flat_map(|l| l.map(crate::photo::colour::to_byte))
        .collect();
    Shown {
        by,
        width,
        height,
        jpeg: jpeg_of(width, height, &bytes),
    }
}
