//! The corners of each photograph: given, or looked for.

use rayon::prelude::*;

use super::{Fetch, Steps, all_or_faults, picture_of};
use crate::job::{Board, Fault, Faults, Photo, PhotoSide, Reading};
use crate::photo::outline::{SURE, find_boards};
use crate::photo::picture::{Picture, jpeg_of};
use crate::photo::plane::{Point, Window};

/// Pixels of the longer side of the copies on the proof sheet.
const SHOWN: usize = 1400;

/// What was found in one photograph.
#[derive(Clone, Debug)]
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
    /// Whether the picture names colours that could not be understood.
    pub guessed_colours: bool,
}

/// A small copy of a picture.
#[derive(Clone, Debug)]
pub(super) struct Shown {
    pub by: usize,
    pub width: usize,
    pub height: usize,
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
    fetch: &Fetch<'_>,
    steps: &Steps<'_>,
) -> Result<Vec<Find>, Faults> {
    let groups = by_picture(&reading.photos);
    let found: Vec<Result<Vec<(usize, Find)>, Fault>> = groups
        .into_par_iter()
        .map(|group| in_picture(reading, &group, fetch, steps))
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
    group: &[usize],
    fetch: &Fetch<'_>,
    steps: &Steps<'_>,
) -> Result<Vec<(usize, Find)>, Fault> {
    let photos = &reading.photos;
    let picture = picture_of(&photos[group[0]], fetch)?;
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
        false => find_boards(&picture, &sizes),
    };
    let mut shown = Some(shown(&picture));
    Ok(group
        .iter()
        .map(|&at| {
            steps.step();
            let found = wanted.iter().position(|&wanted| wanted == at);
            let found = found.and_then(|index| looked.get(index).copied().flatten());
            let given = photos[at]
                .corners
                .map(|all| all.map(|[x, y]| Point::new(x, y)));
            let find = Find {
                corners: given.or(found.map(|found| seen_from(photos[at].side, found.corners))),
                found: given.is_none(),
                confidence: given.map_or(found.map_or(0.0, |f| f.confidence), |_| 1.0),
                shown: shown.take(),
                guessed_colours: picture.guessed_colours,
            };
            (at, find)
        })
        .collect())
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
