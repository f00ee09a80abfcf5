//! Proposals the maker accepts, written into the job's files: changed in place, the old one beside.

use std::path::Path;

use super::super::Failure;
use super::super::disk::{Disk, replace_with_backup};
use crate::job::{
    BOARDS_CSV, CornersMark, DEFECTS_CSV, DefectMark, DefectSide, JobFiles, Needs, PHOTOS_CSV,
    PhotoSide, Reading, mark_corners, mark_defect, mark_tone,
};
use crate::measure::Length;
use crate::photo::defects::LIKELY;
use crate::photo::outline::SURE;
use crate::photo::pile::{BoardTold, DefectTold, Told};

/// What is accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Accept {
    /// Corners found, into `photos.csv`.
    Corners,
    /// Defects proposed, into `defects.csv`.
    Defects,
    /// Tones measured, into `boards.csv` where they say `photo`.
    Tones,
}

/// Which proposals are accepted.
#[derive(Clone, Debug)]
pub struct Picked {
    /// Of which sort.
    pub what: Accept,
    /// Of these boards only; of all when empty.
    pub boards: Vec<String>,
    /// Defects of these numbers only.
    pub numbers: Vec<usize>,
    /// Least confidence; when not given, what is called sure of corners and likely of defects.
    pub above: Option<f64>,
}

/// What was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Accepted {
    /// The file.
    pub file: String,
    /// The old one beside it, when there was one and it changed.
    pub backup: Option<String>,
    /// What was written, line by line.
    pub what: Vec<String>,
}

impl Picked {
    fn of_board(&self, board: &str) -> bool {
        self.boards.is_empty() || self.boards.iter().any(|name| name == board)
    }

    /// Named boards and numbers are meant, whatever their confidence.
    fn least(&self, usual: f64) -> f64 {
        let named = !self.boards.is_empty() || !self.numbers.is_empty();
        self.above.unwrap_or(if named { 0.0 } else { usual })
    }
}

/// Writes what is picked; the readers judge the file as it would stand.
pub(super) fn write(
    disk: &dyn Disk,
    folder: &Path,
    files: &JobFiles,
    reading: &Reading,
    told: &Told,
    picked: &Picked,
) -> Result<Accepted, Failure> {
    let (name, text, what) = match picked.what {
        Accept::Corners => corners(files, reading, told, picked),
        Accept::Defects => defects(files, reading, told, picked),
        Accept::Tones => tones(files, reading, told, picked),
    };
    let path = folder.join(name);
    let mut backup = None;
    if !what.is_empty() {
        files
            .clone()
            .with(name, text.clone())
            .parse_for(Needs::Photos)?;
        let had = path.exists();
        replace_with_backup(disk, &path, text.as_bytes()).map_err(|why| Failure::Write {
            path: path.clone(),
            why,
        })?;
        backup = had.then(|| format!("{}.bak", path.display()));
    }
    Ok(Accepted {
        file: path.display().to_string(),
        backup,
        what,
    })
}

type Change = (&'static str, String, Vec<String>);

fn corners(files: &JobFiles, reading: &Reading, told: &Told, picked: &Picked) -> Change {
    let least = picked.least(SURE);
    let mut what = Vec::new();
    let mut marks = Vec::new();
    for (photo, found) in told.photos.iter().enumerate() {
        let wanted = found.found && found.confidence >= least && picked.of_board(&found.board);
        if let Some(corners) = found.corners.filter(|_| wanted) {
            let (file, board, sure) = (&found.photo, &found.board, found.confidence);
            what.push(format!(
                "{file}: the corners of {board} (confidence {sure:.2})"
            ));
            marks.push(CornersMark { photo, corners });
        }
    }
    let before = files.text(PHOTOS_CSV).unwrap_or("");
    (
        PHOTOS_CSV,
        mark_corners(before, &reading.photos, &marks),
        what,
    )
}

fn defects(files: &JobFiles, reading: &Reading, told: &Told, picked: &Picked) -> Change {
    let least = picked.least(LIKELY);
    let mut text = files.text(DEFECTS_CSV).unwrap_or("").to_owned();
    let mut what = Vec::new();
    for board in told
        .boards
        .iter()
        .filter(|board| picked.of_board(&board.board))
    {
        for defect in &board.defects {
            let numbered = picked.numbers.is_empty() || picked.numbers.contains(&defect.number);
            if !numbered || defect.confidence < least || is_known(reading, told, board, defect) {
                continue;
            }
            let mark = mark_of(reading, told, board, defect);
            let [from, to, low, high] = &mark.edges;
            let kind = format!("{:?}", defect.kind).to_lowercase();
            what.push(format!(
                "{}: {kind} {from} to {to} along, {low} to {high} across",
                board.board
            ));
            text = mark_defect(&text, &mark, told.unit);
        }
    }
    (DEFECTS_CSV, text, what)
}

/// Whether the job has a defect there already, perhaps this very one.
fn is_known(reading: &Reading, told: &Told, board: &BoardTold, defect: &DefectTold) -> bool {
    let here = [defect.from, defect.to, defect.low, defect.high];
    let kinds = reading.job.boards.iter();
    let mut kinds =
        kinds.filter(|kind| kind.id == board.board && kind.copies.contains(&board.copy));
    kinds.any(|kind| {
        kind.defects.iter().any(|known| {
            let edges = [known.from, known.to, known.low, known.high];
            crate::photo::defects::shared(&edges.map(|edge| edge.in_unit(told.unit)), &here) > 0.5
        })
    })
}

fn mark_of(reading: &Reading, told: &Told, board: &BoardTold, defect: &DefectTold) -> DefectMark {
    let kinds = || {
        reading
            .job
            .boards
            .iter()
            .filter(|kind| kind.id == board.board)
    };
    let copies: usize = kinds().map(|kind| kind.copies.len()).sum();
    let (length, width) = kinds()
        .next()
        .map_or_else(Default::default, |k| (k.length, k.width));
    let ruler = reading.job.settings.ruler();
    let within = |at: f64, most: Length| {
        ruler.show(Length::from_unit(at, told.unit).min(most).at_least_zero())
    };
    DefectMark {
        board: board.board.clone(),
        copy: (copies > 1).then_some(board.copy),
        kind: defect.kind,
        edges: [
            within(defect.from, length),
            within(defect.to, length),
            within(defect.low, width),
            within(defect.high, width),
        ],
        // A knot seen on one face is in the way on both until the maker has looked at the other.
        side: DefectSide::Both,
        notes: format!(
            "proposed from the photograph of its {} side, confidence {:.2}",
            if board.side == PhotoSide::Up {
                "up"
            } else {
                "down"
            },
            defect.confidence
        ),
    }
}

fn tones(files: &JobFiles, _: &Reading, told: &Told, picked: &Picked) -> Change {
    let mut text = files.text(BOARDS_CSV).unwrap_or("").to_owned();
    let mut what: Vec<String> = Vec::new();
    let mut boards: Vec<&BoardTold> = Vec::new();
    for board in told
        .boards
        .iter()
        .filter(|b| b.by_photo && picked.of_board(&b.board))
    {
        if boards.iter().all(|other| other.board != board.board) {
            boards.push(board);
        }
    }
    for board in boards {
        let alike =
            |b: &&BoardTold| b.board == board.board && b.tone != board.tone && b.copy != board.copy;
        // Copies of different tones have no one tone to write.
        if told.boards.iter().find(alike).is_none() {
            text = mark_tone(&text, &board.board, board.tone);
            what.push(format!(
                "{}: tone {} within {:.1}",
                board.board, board.tone, board.uncertain
            ));
        }
    }
    (BOARDS_CSV, text, what)
}
