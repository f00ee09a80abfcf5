//! What goes back on the rack as the files the next job begins with.

use crate::job::{Choice, Defect, Job};
use crate::measure::{Length, Ruler, Unit};
use crate::text::csv_bytes;

use super::RackPiece;

/// `boards.csv` and `defects.csv` of the pieces, every length as it is: what is read again is what
/// was written, so that nothing is rounded once more each time a piece goes back on the rack.
pub fn rack_csv(job: &Job, pieces: &[RackPiece]) -> [(&'static str, Vec<u8>); 2] {
    let unit = job.settings.unit;
    let as_is = |length| exactly(unit, length);
    let board = |piece: &RackPiece| {
        let b = &piece.board;
        let warp = |w: Length| {
            if w == Length::ZERO {
                String::new()
            } else {
                as_is(w)
            }
        };
        let notes: Vec<&str> = [piece.from.as_str(), b.notes.as_str()]
            .into_iter()
            .filter(|text| !text.is_empty())
            .collect();
        let [length, width, thickness] = rack_sizes(job, piece);
        vec![
            piece.name.clone(),
            length,
            width,
            thickness,
            b.tone.value().to_string(),
            b.log.clone().unwrap_or_default(),
            b.cut.map(|cut| cut.word().to_owned()).unwrap_or_default(),
            warp(b.bow),
            warp(b.cup),
            warp(b.twist),
            warp(b.crook),
            b.trim_hook.map(as_is).unwrap_or_default(),
            b.trim_far.map(as_is).unwrap_or_default(),
            b.moisture.map(|m| m.to_string()).unwrap_or_default(),
            notes.join("; "),
        ]
    };
    let defect = |piece: &RackPiece, d: &Defect| {
        vec![
            piece.name.clone(),
            d.kind.word().to_owned(),
            as_is(d.from),
            as_is(d.to),
            as_is(d.low),
            as_is(d.high),
            d.side.word().to_owned(),
            d.notes.clone(),
        ]
    };
    let boards = pieces.iter().map(board);
    let defects = pieces
        .iter()
        .flat_map(|piece| piece.board.defects.iter().map(move |d| defect(piece, d)));
    let board_header = [
        "board",
        "length",
        "width",
        "thickness",
        "tone",
        "log",
        "cut",
        "bow",
        "cup",
        "twist",
        "crook",
        "trim_hook",
        "trim_far",
        "moisture",
        "notes",
    ];
    let defect_header = [
        "board", "kind", "from", "to", "low", "high", "side", "notes",
    ];
    [
        ("boards.csv", csv_bytes(&board_header, boards)),
        ("defects.csv", csv_bytes(&defect_header, defects)),
    ]
}

/// Length, width and thickness of a piece, as its file has them: in an inch job the thickness in
/// quarters where it is a whole number of them.
pub fn rack_sizes(job: &Job, piece: &RackPiece) -> [String; 3] {
    let unit = job.settings.unit;
    let board = &piece.board;
    let quarter = Length::from_inches(0.25).nm();
    let thickness = match board.thickness.nm() % quarter {
        0 if unit == Unit::Inch => format!("{}/4", board.thickness.nm() / quarter),
        _ => exactly(unit, board.thickness),
    };
    [
        exactly(unit, board.length),
        exactly(unit, board.width),
        thickness,
    ]
}

/// A length as a file has it: in 64ths of an inch or tenths of a millimetre where these show it,
/// else as a decimal fine enough that no measure is lost.
fn exactly(unit: Unit, length: Length) -> String {
    let finest = Ruler::of(unit).finest();
    if length.nm() % finest.step().nm() == 0 {
        return finest.show(length);
    }
    let text = match unit {
        Unit::Inch => format!("{:.6}", length.inches()),
        Unit::Mm => format!("{:.4}", length.mm()),
    };
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
