//! The case in its own wood, from the pictures that `photo` wrote last.

use std::path::Path;

use super::super::Output;
use super::super::outputs::file_names;
use super::face_name;
use crate::draw::{BoardFace, Joint, elevation_photo};
use crate::job::{Job, PhotoSide, read_plain};
use crate::measure::Length;
use crate::photo::picture::open;
use crate::photo::plane::{Strip, Window};
use crate::plan::Plan;
use crate::text::csv_bytes;

/// The file the facing edges of all joints are told in.
const FACING: &str = "facing.csv";

#[derive(serde::Deserialize)]
struct Measured {
    boards: Vec<Seen>,
}

#[derive(serde::Deserialize)]
struct Seen {
    board: String,
    copy: u32,
    side: PhotoSide,
}

/// The elevation in photographs and the table of joints; nothing where no photograph was measured.
///
/// # Panics
/// When the plan is not one for this job.
pub(in crate::commands) fn in_own_wood(
    job: &Job,
    plan: &Plan,
    folders: [&Path; 2],
) -> (Vec<Output>, Vec<Joint>) {
    let faces = folders
        .into_iter()
        .map(|folder| faces_in(job, folder))
        .find(|f| !f.is_empty());
    let Some((png, joints)) = faces.and_then(|faces| elevation_photo(job, plan, &faces)) else {
        return (Vec::new(), Vec::new());
    };
    let outputs = vec![
        ("elevation-photo.png".to_owned(), png),
        (FACING.to_owned(), table(&joints)),
    ];
    (outputs, joints)
}

/// The straightened pictures in a folder of results. A picture that is gone or was changed into
/// something else is left out: the plan does not hang on it.
fn faces_in(job: &Job, out: &Path) -> Vec<BoardFace> {
    let json = read_plain(&out.join("photos.json")).unwrap_or_default();
    let Ok(measured) = serde_json::from_slice::<Measured>(&json) else {
        return Vec::new();
    };
    let name = |seen: &Seen| face_name(&job.boards, &seen.board, seen.copy, seen.side);
    let names = file_names(measured.boards.iter().map(name));
    let seen = measured.boards.into_iter().zip(names);
    seen.filter_map(|(seen, name)| {
        let bytes = read_plain(&out.join(format!("photos/{name}.jpg"))).ok()?;
        let board = job.boards.iter().find(|board| board.id == seen.board)?;
        let strip = strip_of(&bytes, (board.length, board.width))?;
        Some(BoardFace {
            board: seen.board,
            copy: seen.copy,
            side: seen.side,
            strip,
        })
    })
    .collect()
}

/// A straightened picture as light again.
fn strip_of(jpeg: &[u8], (length, width): (Length, Length)) -> Option<Strip> {
    let picture = open(jpeg).ok()?;
    let window = Window {
        from: 0.0,
        to: length.inches(),
        low: 0.0,
        high: width.inches(),
    };
    Some(Strip {
        window,
        scale: picture.width as f64 / window.length(),
        width: picture.width,
        height: picture.height,
        light: picture.shrunk(1),
    })
}

fn table(joints: &[Joint]) -> Vec<u8> {
    let rows = joints.iter().map(|joint| {
        let unbroken = if joint.unbroken { "yes" } else { "no" };
        let [run, first, second] = [&joint.run, &joint.first, &joint.second].map(Clone::clone);
        let difference = format!("{:.1}", joint.difference);
        vec![run, first, second, unbroken.to_owned(), difference]
    });
    csv_bytes(&["run", "first", "second", "unbroken", "dE00"], rows)
}
