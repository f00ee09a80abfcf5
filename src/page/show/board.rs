//! Boards to scale: what lies where on them. Lengths are in the job's unit.

use serde_json::{Value, json};

use crate::draw::{board_facts, board_name, defect_name};
use crate::job::{Board, Defect, DefectSide, Job};
use crate::measure::{Length, Unit};
use crate::plan::{Blank, BoardPlan, Plan};

/// Every board of the pile as it lies there.
pub fn pile(job: &Job) -> Vec<Value> {
    let unit = job.settings.unit;
    job.boards
        .iter()
        .map(|board| {
            json!({
                "id": board.id,
                "copies": board.copies,
                "length": board.length.in_unit(unit),
                "width": board.width.in_unit(unit),
                "tone": board.tone.value(),
                "trims": board.trims(&job.settings.allowances).map(|trim| trim.in_unit(unit)),
                "left_out": board.left_out,
                "on_offer": board.price.is_some(),
                "volume": job.volume_of(board).show(unit),
                "defects": defects(board, unit),
            })
        })
        .collect()
}

fn defects(board: &Board, unit: Unit) -> Vec<Value> {
    let one = |defect: &Defect| {
        json!({
            "kind": defect_name(defect.kind),
            "at": rect((defect.from, defect.to), (defect.low, defect.high), unit),
            "side": match defect.side {
                DefectSide::Both => "both",
                DefectSide::Up => "up",
                DefectSide::Down => "down",
            },
        })
    };
    board.defects.iter().map(one).collect()
}

/// From, to, low, high.
fn rect(along: (Length, Length), across: (Length, Length), unit: Unit) -> [f64; 4] {
    [along.0, along.1, across.0, across.1].map(|length| length.in_unit(unit))
}

/// The boards a plan cuts, with what is cut from them.
pub fn cut_boards(job: &Job, plan: &Plan) -> Vec<Value> {
    let unit = job.settings.unit;
    let boards = plan.boards.iter().enumerate();
    boards
        .map(|(at, cut)| {
            let board = &job.boards[cut.board];
            let kept = cut.kept.iter();
            let kept: Vec<_> = kept
                .map(|kept| rect((kept.from, kept.to), (kept.low, kept.high), unit))
                .collect();
            json!({
                "id": board.id,
                "name": board_name(job, cut),
                "copy": cut.copy,
                "length": board.length.in_unit(unit),
                "width": board.width.in_unit(unit),
                "tone": board.tone.value(),
                "to_buy": board.price.is_some(),
                "facts": board_facts(job, plan, at, job.settings.ruler()),
                "defects": defects(board, unit),
                "kept": kept,
                "blanks": blanks(job, cut, unit),
            })
        })
        .collect()
}

fn blanks(job: &Job, cut: &BoardPlan, unit: Unit) -> Vec<Value> {
    let strips = cut.sections.iter().flat_map(|section| &section.strips);
    let blanks = strips.flat_map(|strip| &strip.blanks);
    let one = |blank: &Blank| {
        json!({
            "front": job.fronts[blank.front].name,
            "at": rect((blank.from, blank.to), (blank.low, blank.high), unit),
            "stave": blank.stave,
            "staves": blank.staves,
            "left": blank.left,
            "face": blank.face,
        })
    };
    blanks.map(one).collect()
}
