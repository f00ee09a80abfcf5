//! The case in its own wood, from the pictures that `photo` wrote last.

use std::path::{Path, PathBuf};

use super::super::Output;
use super::super::outputs::{file_name, file_names};
use super::face_name;
use crate::draw::{BoardFace, Joint, Reader, board_name, board_photo, copy_name, elevation_photo};
use crate::job::{Job, PhotoSide, read_plain};
use crate::layout::Request;
use crate::measure::{Length, Unit};
use crate::packet::Photos;
use crate::photo::picture::open;
use crate::photo::plane::{Strip, Window};
use crate::plan::{Plan, Reads};
use crate::text::csv_bytes;
use crate::ways::{self, Case};

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
    defects: Vec<Blemish>,
}

/// In the job's unit.
#[derive(serde::Deserialize)]
struct Blemish {
    from: f64,
    to: f64,
    low: f64,
    high: f64,
}

/// A plan in its boards' photographs.
#[derive(Default)]
pub(in crate::commands) struct OwnWood {
    /// The pictures, and the table of joints.
    pub outputs: Vec<Output>,
    /// How well facing edges agree.
    pub joints: Vec<Joint>,
    /// The pictures for the packet.
    pub photos: Photos,
}

/// The elevation in photographs, each board with its blanks drawn over it, and the table of joints; nothing where no
/// photograph was measured.
///
/// # Panics
/// When the plan is not one for this job.
pub(in crate::commands) fn in_own_wood(job: &Job, plan: &Plan, faces: &[BoardFace]) -> OwnWood {
    let Some((case, joints)) = elevation_photo(job, plan, faces) else {
        return OwnWood::default();
    };
    let mut outputs = vec![
        ("elevation-photo.png".to_owned(), case.png()),
        (FACING.to_owned(), table(&joints)),
    ];
    let names = file_names(plan.boards.iter().map(|cut| board_name(job, cut)));
    let boards = (0..plan.boards.len()).map(|index| board_photo(job, plan, index, faces));
    let boards: Vec<Option<Vec<u8>>> = boards
        .map(|board| board.map(|board| board.jpeg()))
        .collect();
    let seen = names.iter().zip(&boards);
    outputs.extend(seen.filter_map(|(name, board)| {
        let name = format!("boards/{name}-photo.jpg");
        board.clone().map(|jpeg| (name, jpeg))
    }));
    let case = Some(case.jpeg());
    OwnWood {
        outputs,
        joints,
        photos: Photos { case, boards },
    }
}

/// The elevation of a plan in its boards' photographs, as a JPEG; nothing where no photograph was measured by a
/// `photo` that wrote to `out`.
///
/// # Panics
/// When the plan is not one for this job.
pub fn photographed(out: &Path, job: &Job, plan: &Plan) -> Option<Vec<u8>> {
    let (case, _) = elevation_photo(job, plan, &faces_in(job, out))?;
    Some(case.jpeg())
}

/// What photographs show of the job's boards, from the first folder of results that has any.
pub(in crate::commands) fn faces_seen(job: &Job, folders: [&Path; 2]) -> Vec<BoardFace> {
    let faces = folders.into_iter().map(|folder| faces_in(job, folder));
    faces
        .into_iter()
        .find(|f| !f.is_empty())
        .unwrap_or_default()
}

/// Of the plans that cost the same, one whose photographs read no worse, with both readings among its figures;
/// the plan as it is where no joint is seen.
pub(in crate::commands) fn best_read(
    job: &Job,
    plan: Plan,
    faces: &[BoardFace],
    request: &Request,
    stop: &dyn Fn() -> bool,
) -> Plan {
    if faces.is_empty() {
        return plan;
    }
    let reader = Reader::new(job, faces);
    let case = Case {
        job,
        by_money: request.by_money,
        limits: &request.limits,
        reads: &|plan| reader.reads(plan),
        stop,
    };
    let first = reader.reads(&plan);
    let (mut best, found) = ways::best_reading(&case, &plan);
    best.totals.reads = Some(Reads {
        now: found[1],
        first: first[1],
    });
    best
}

/// The file in a folder of results that shows a board: its photograph with the blanks drawn over it, else the
/// straightened one of the side that lies up. Nothing where two boards' names make one file name.
pub(in crate::commands) fn picture_of(
    job: &Job,
    out: &Path,
    board: &str,
    copy: u32,
) -> Option<PathBuf> {
    let copies = job.boards.iter().flat_map(|kind| {
        let copies = kind.copies.iter();
        copies.map(|&copy| copy_name(job, &kind.id, copy))
    });
    let name = copy_name(job, board, copy);
    let file = file_name(&name);
    let alone = copies.filter(|other| file_name(other) == file).count() == 1;
    let face = file_name(&face_name(&job.boards, board, copy, PhotoSide::Up));
    let pictures = [
        out.join(format!("boards/{file}-photo.jpg")),
        out.join(format!("photos/{face}.jpg")),
    ];
    let picture = pictures.into_iter().find(|picture| picture.is_file());
    picture.filter(|_| alone)
}

/// The straightened pictures in a folder of results. A picture that is gone or was changed into
/// something else is left out: the plan does not hang on it.
fn faces_in(job: &Job, out: &Path) -> Vec<BoardFace> {
    let json = read_plain(&out.join("photos.json")).unwrap_or_default();
    let Ok(measured) = serde_json::from_slice::<Measured>(&json) else {
        return Vec::new();
    };
    let name = |seen: &Seen| face_name(&job.boards, &seen.board, seen.copy, seen.side);
    let unit = match job.settings.unit {
        Unit::Inch => 1.0,
        Unit::Mm => 1.0 / 25.4,
    };
    let in_inches = |b: &Blemish| [b.from, b.to, b.low, b.high].map(|edge| edge * unit);
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
            blemishes: seen.defects.iter().map(in_inches).collect(),
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
