//! What is left when the job is done, for the next one.

use crate::job::{Board, Choice, Defect, Job};
use crate::measure::{Length, Ruler, Unit};
use crate::plan::{BoardPlan, Kept, Plan, Sawn};

use super::kept::kept;

/// A piece that goes back on the rack: a whole board, or what is kept of one.
#[derive(Clone, Debug, PartialEq)]
pub struct RackPiece {
    /// Its name: the board's, or `B3 rest 1`.
    pub name: String,
    /// The piece as a board of its own; its defects are measured on it.
    pub board: Board,
    /// Where it comes from.
    pub from: String,
}

/// The pieces left after `plan`: kept pieces and owned boards not used, in the order of the boards.
/// Boards on offer that the plan does not buy are not there to be kept.
pub fn rack(job: &Job, plan: &Plan, sawn: &Sawn) -> Vec<RackPiece> {
    let mut pieces = Vec::new();
    let begun = sawn.skeleton().boards();
    for (index, board) in job.boards.iter().enumerate() {
        for &copy in &board.copies {
            let here = |b: &&BoardPlan| (b.board, b.copy) == (index, copy);
            let planned = plan.boards.iter().find(here);
            match (planned, begun.iter().find(here)) {
                (Some(planned), _) => {
                    pieces.extend(kept_pieces(job, board, copy, &planned.kept));
                }
                (None, Some(lost)) => {
                    let kept = kept(job, lost, &sawn.crosscuts);
                    pieces.extend(kept_pieces(job, board, copy, &kept));
                }
                (None, None) if board.price.is_none() => pieces.push(whole(job, board, copy)),
                (None, None) => {}
            }
        }
    }
    pieces
}

fn name(job: &Job, board: &Board, copy: u32) -> String {
    let copies = job.boards.iter().filter(|b| b.id == board.id);
    match copies.map(|b| b.copies.len()).sum::<usize>() {
        0 | 1 => board.id.clone(),
        _ => format!("{}.{copy}", board.id),
    }
}

fn whole(job: &Job, board: &Board, copy: u32) -> RackPiece {
    let name = name(job, board, copy);
    RackPiece {
        board: Board {
            id: name.clone(),
            copies: vec![1],
            ..board.clone()
        },
        name,
        from: "not used".to_owned(),
    }
}

fn kept_pieces(job: &Job, board: &Board, copy: u32, kept: &[Kept]) -> Vec<RackPiece> {
    let of = name(job, board, copy);
    let ruler = job.settings.ruler();
    let piece = |(index, kept): (usize, &Kept)| {
        let name = format!("{of} rest {}", index + 1);
        let from = format!(
            "left of {of}: {} to {} from its hook end, {} to {} from its near edge",
            ruler.show(kept.from),
            ruler.show(kept.to),
            ruler.show(kept.low),
            ruler.show(kept.high),
        );
        RackPiece {
            board: part(board, kept, &name),
            name,
            from,
        }
    };
    kept.iter().enumerate().map(piece).collect()
}

/// A kept piece as a board: warp goes with its size as flattening reckons it, defects are those
/// that lie on it.
fn part(board: &Board, kept: &Kept, name: &str) -> Board {
    let along = (kept.to - kept.from).inches() / board.length.inches();
    let across = (kept.high - kept.low).inches() / board.width.inches();
    let scaled = |warp: Length, by: f64| Length::from_nm((warp.nm() as f64 * by).ceil() as i64);
    let clip = |at: Length, from: Length, to: Length| at.max(from).min(to) - from;
    let on = |d: &&Defect| {
        d.from < kept.to && kept.from < d.to && d.low < kept.high && kept.low < d.high
    };
    let moved = |d: &Defect| Defect {
        from: clip(d.from, kept.from, kept.to),
        to: clip(d.to, kept.from, kept.to),
        low: clip(d.low, kept.low, kept.high),
        high: clip(d.high, kept.low, kept.high),
        ..d.clone()
    };
    Board {
        id: name.to_owned(),
        copies: vec![1],
        length: kept.to - kept.from,
        width: kept.high - kept.low,
        bow: scaled(board.bow, along * along),
        cup: scaled(board.cup, across * across),
        twist: scaled(board.twist, along * across),
        crook: scaled(board.crook, along * along),
        price: None,
        defects: board.defects.iter().filter(on).map(moved).collect(),
        ..board.clone()
    }
}

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
    let step = match ruler.unit {
        Unit::Inch => Length::from_inches(1.0 / f64::from(ruler.fraction)),
        Unit::Mm => Length::from_mm(0.1),
    };
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
        0 => format!("{}/4", thickness.nm() / quarter),
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
