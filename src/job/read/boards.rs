//! `boards.csv`: one row a board, or several identical ones.

use std::collections::BTreeMap;

use super::photo_tones::PhotoTones;
use super::photo_trouble::PhotoTrouble;
use super::trouble::BoardTrouble;
use crate::job::fault::{Fault, Faults};
use crate::job::table::{Columns, Line, Table};
use crate::job::{Board, Defect};
use crate::measure::{Ruler, Tone};

/// The columns of `boards.csv`.
pub(in crate::job) const COLUMNS: Columns = Columns {
    required: &["board", "length", "width", "thickness", "tone"],
    optional: &[
        "count",
        "log",
        "cut",
        "bow",
        "cup",
        "twist",
        "crook",
        "moisture",
        "price",
        "use",
        "trim_hook",
        "trim_far",
        "photo",
        "notes",
    ],
};

/// More identical boards than any shop holds; beyond it a count is a slip.
pub(super) const MOST_COPIES: i64 = 10_000;

/// One row: what could be read of it, and the defects found on its copies.
#[derive(Debug)]
pub(super) struct BoardRow<'t> {
    pub line: Line<'t>,
    pub id: Option<String>,
    /// The board, when all its cells could be read.
    pub board: Option<Board>,
    /// How many identical ones, when that could be read.
    pub count: Option<u32>,
    /// Defects on every copy.
    pub on_all: Vec<Defect>,
    /// Defects on single copies.
    pub on_copy: BTreeMap<u32, Vec<Defect>>,
}

/// Reads all rows; faults are added to `faults`.
pub(super) fn read<'t>(table: &'t Table, ruler: Ruler, faults: &mut Faults) -> Vec<BoardRow<'t>> {
    let rows: Vec<BoardRow<'t>> = table.lines().map(|line| read_row(line, faults)).collect();
    check_names(&rows, faults);
    for row in &rows {
        check_warp(row, ruler, faults);
    }
    if rows.is_empty() && table.has_header() {
        faults.push(Fault::new(table.place(), BoardTrouble::None));
    }
    rows
}

fn read_row<'t>(line: Line<'t>, faults: &mut Faults) -> BoardRow<'t> {
    let id = line.need("board", faults, |cell| cell.name());
    let count = match line.get("count", faults, |cell| cell.whole(1..=MOST_COPIES)) {
        Some(count) => u32::try_from(count).ok(),
        None => line.text("count").is_empty().then_some(1),
    };
    BoardRow {
        line,
        board: read_board(line, id.clone(), faults),
        id,
        count,
        on_all: Vec::new(),
        on_copy: BTreeMap::new(),
    }
}

fn read_board(line: Line<'_>, id: Option<String>, faults: &mut Faults) -> Option<Board> {
    let length = line.need("length", faults, |cell| cell.size());
    let width = line.need("width", faults, |cell| cell.size());
    let thickness = line.need("thickness", faults, |cell| cell.thickness());
    let by_photo = is_by_photo(line);
    let tone = match by_photo {
        true => Some((Tone::default(), note_of(line))),
        false => line.need("tone", faults, |cell| cell.tone()),
    };
    let cut = line.get("cut", faults, |cell| cell.choice());
    let in_use = line.get("use", faults, |cell| cell.choice());
    let trim_hook = line.get("trim_hook", faults, |cell| cell.distance());
    let trim_far = line.get("trim_far", faults, |cell| cell.distance());
    let mut warp = |column| {
        line.get(column, faults, |cell| cell.distance())
            .unwrap_or_default()
    };
    let (bow, cup, twist, crook) = (warp("bow"), warp("cup"), warp("twist"), warp("crook"));
    // Green wood holds more water than wood; beyond three times its weight it is a slip.
    let moisture = line.get("moisture", faults, |cell| cell.number(0.0..=300.0));
    let price = line.get("price", faults, |cell| cell.number(0.0..=1e6));
    let (tone, note) = tone?;
    let notes: Vec<String> = [note, line.text("notes")]
        .into_iter()
        .filter(|text| !text.is_empty())
        .collect();
    Some(Board {
        id: id?,
        length: length?,
        width: width?,
        thickness: thickness?,
        tone,
        tone_words: tone_words(line),
        tone_by_photo: by_photo,
        log: line.some_text("log"),
        cut,
        left_out: in_use == Some(false),
        trim_hook,
        trim_far,
        bow,
        cup,
        twist,
        crook,
        moisture,
        price,
        photo: line.some_text("photo"),
        notes: notes.join("; "),
        ..Board::default()
    })
}

/// Warp that would leave no board: bent further than it is long, hollow or crooked further than it
/// is wide.
fn check_warp(row: &BoardRow<'_>, ruler: Ruler, faults: &mut Faults) {
    let Some(board) = &row.board else { return };
    let (long, wide) = ((board.length, "long"), (board.width, "wide"));
    for (column, warp, (size, dimension)) in [
        ("bow", board.bow, long),
        ("cup", board.cup, wide),
        ("twist", board.twist, wide),
        ("crook", board.crook, wide),
    ] {
        if warp >= size {
            let size = ruler.show_with_unit(size);
            let trouble = BoardTrouble::Warp { size, dimension };
            faults.push(Fault::new(row.line.place(column), trouble));
        }
    }
}

/// Whether the tone is left to photographs.
fn is_by_photo(line: Line<'_>) -> bool {
    let text = line.text("tone");
    let tone = text.split(';').next().unwrap_or("");
    tone.trim().eq_ignore_ascii_case("photo")
}

/// The tone as it is written, where that is in words.
fn tone_words(line: Line<'_>) -> String {
    let text = line.text("tone");
    let tone = text.split(';').next().unwrap_or("").trim();
    let in_words = tone.starts_with(char::is_alphabetic) && !is_by_photo(line);
    if in_words {
        tone.to_owned()
    } else {
        String::new()
    }
}

/// What follows the tone.
fn note_of(line: Line<'_>) -> String {
    let text = line.text("tone");
    text.split_once(';')
        .map(|(_, note)| note.trim().to_owned())
        .unwrap_or_default()
}

/// Tones left to photographs must have been told by some; pictures are named elsewhere now.
pub(super) fn check_tones(rows: &[BoardRow<'_>], tones: &PhotoTones, faults: &mut Faults) {
    for row in rows {
        let (Some(board), Some(count)) = (&row.board, row.count) else {
            continue;
        };
        let untold = (1..=count).find(|&copy| tones.of(&board.id, copy).is_none());
        if let Some(copy) = untold.filter(|_| board.tone_by_photo) {
            let name = match count {
                1 => board.id.clone(),
                _ => format!("{} #{copy}", board.id),
            };
            faults.push(Fault::new(
                row.line.place("tone"),
                PhotoTrouble::NoTone { board: name },
            ));
        }
        if let Some(photo) = &board.photo {
            let trouble = PhotoTrouble::OldColumn {
                row: format!("{photo},{}", board.id),
            };
            faults.push(Fault::new(row.line.place("photo"), trouble));
        }
    }
}

fn check_names(rows: &[BoardRow<'_>], faults: &mut Faults) {
    let mut first: BTreeMap<&str, &BoardRow<'_>> = BTreeMap::new();
    for row in rows {
        let Some(id) = row.id.as_deref() else {
            continue;
        };
        if let Some(before) = first.get(id) {
            let line = before.line.number();
            faults.push(Fault::new(
                row.line.place("board"),
                BoardTrouble::Twice { line },
            ));
        } else {
            first.insert(id, row);
        }
    }
}

/// The board kinds of all rows whose cells could be read: copies of a row that carry the same
/// defects and the same tone are one kind.
pub(super) fn kinds(rows: Vec<BoardRow<'_>>, tones: Option<&PhotoTones>) -> Vec<Board> {
    rows.into_iter()
        .flat_map(|row| kinds_of(row, tones))
        .collect()
}

fn kinds_of(row: BoardRow<'_>, tones: Option<&PhotoTones>) -> Vec<Board> {
    let (Some(board), Some(count)) = (row.board, row.count) else {
        return Vec::new();
    };
    let mut kinds: Vec<Board> = Vec::new();
    for copy in 1..=count {
        let own = row.on_copy.get(&copy).into_iter().flatten();
        let defects: Vec<Defect> = row.on_all.iter().chain(own).cloned().collect();
        let by_photo = board.tone_by_photo.then_some(tones).flatten();
        let tone = by_photo
            .and_then(|tones| tones.of(&board.id, copy))
            .unwrap_or(board.tone);
        let alike = |kind: &&mut Board| kind.defects == defects && kind.tone == tone;
        match kinds.iter_mut().find(alike) {
            Some(kind) => kind.copies.push(copy),
            None => kinds.push(Board {
                copies: vec![copy],
                defects,
                tone,
                ..board.clone()
            }),
        }
    }
    kinds
}
