//! What goes back on the rack as the files the next job begins with.

use crate::job::{Choice, Defect, Job};
use crate::measure::{Length, Ruler, Unit};

use super::RackPiece;

/// `boards.csv` and `defects.csv` of the pieces. Sizes are rounded down to what the job's ruler
/// shows, warp and defects outward, so that no piece is written larger or better than it is.
pub fn rack_csv(job: &Job, pieces: &[RackPiece]) -> [(&'static str, Vec<u8>); 2] {
    let ruler = job.settings.ruler();
    let down = |length| shown(&ruler, length, false);
    let up = |length| shown(&ruler, length, true);
    let board = |piece: &RackPiece| {
        let b = &piece.board;
        let warp = |w: Length| {
            if w == Length::ZERO {
                String::new()
            } else {
                up(w)
            }
        };
        let notes: Vec<&str> = [piece.from.as_str(), b.notes.as_str()]
            .into_iter()
            .filter(|text| !text.is_empty())
            .collect();
        vec![
            piece.name.clone(),
            down(b.length),
            down(b.width),
            quarters(&ruler, b.thickness),
            b.tone.value().to_string(),
            b.log.clone().unwrap_or_default(),
            b.cut.map(|cut| word(cut).to_owned()).unwrap_or_default(),
            warp(b.bow),
            warp(b.cup),
            warp(b.twist),
            warp(b.crook),
            b.moisture.map(|m| m.to_string()).unwrap_or_default(),
            notes.join("; "),
        ]
    };
    let defect = |piece: &RackPiece, d: &Defect| {
        let b = &piece.board;
        // A rounded edge stays on its piece.
        let within = |at: Length, most: Length| if at >= most { down(most) } else { up(at) };
        vec![
            piece.name.clone(),
            word(d.kind).to_owned(),
            down(d.from),
            within(d.to, b.length),
            down(d.low),
            within(d.high, b.width),
            word(d.side).to_owned(),
            d.notes.clone(),
        ]
    };
    let boards = pieces.iter().map(board).collect();
    let defects = pieces
        .iter()
        .flat_map(|piece| piece.board.defects.iter().map(move |d| defect(piece, d)))
        .collect();
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

/// A length to the ruler's fraction, down or up.
fn shown(ruler: &Ruler, length: Length, up: bool) -> String {
    // A piece of the rack is measured again one day: tenths of a millimetre do no harm there.
    let ruler = match ruler.unit {
        Unit::Inch => *ruler,
        Unit::Mm => ruler.finest(),
    };
    let step = ruler.step();
    let rounded = if up {
        (length.nm() + step.nm() - 1).div_euclid(step.nm())
    } else {
        length.nm().div_euclid(step.nm())
    };
    ruler.show(step * rounded)
}

/// A rough thickness as the trade writes it, where it is a whole number of quarters.
fn quarters(ruler: &Ruler, thickness: Length) -> String {
    let quarter = Length::from_inches(0.25).nm();
    match thickness.nm() % quarter {
        0 if ruler.unit == Unit::Inch => format!("{}/4", thickness.nm() / quarter),
        _ => shown(ruler, thickness, false),
    }
}

fn word<T: Choice + PartialEq>(value: T) -> &'static str {
    let named = T::WORDS.iter().find(|(_, known)| *known == value);
    named.map_or("", |(word, _)| word)
}

fn csv_bytes(header: &[&str], rows: Vec<Vec<String>>) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let header: Vec<String> = header.iter().map(|name| (*name).to_owned()).collect();
    for row in std::iter::once(header).chain(rows) {
        // Writing to memory can't fail, and every row has the header's number of cells.
        writer.write_record(&row).expect("a row of cells");
    }
    writer.into_inner().expect("memory takes what is left")
}
