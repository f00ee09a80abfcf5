//! A plan made after the saw had begun: what stands is not touched, what is gone is not used.

use super::view::{Placed, View, board_name};
use super::{Limits, Rule, Violation, boards, look, names_only_what_is_there, plain};
use crate::job::{Crosscut, Job};
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, Plan, Sawn, SawnPiece};

/// Tests a plan like [`check`](super::check), and against what the saw has done: every blank that is cut and
/// good stays exactly where it was cut, and nothing new is placed on wood that is gone. What was
/// cut before is not held to rules that it can't be changed to meet.
///
/// # Errors
/// Everything that is wrong.
pub fn check_recut(
    job: &Job,
    plan: &Plan,
    sawn: &Sawn,
    by_money: bool,
    limits: &Limits,
) -> Result<(), Vec<Violation>> {
    let mut found = look(job, plan, by_money, limits, Some(sawn));
    if !names_only_what_is_there(job, plan) {
        return Err(found);
    }
    let excused = Excused::new(job, sawn);
    found.retain(|violation| !excused.is(violation));
    let view = View::new(job, plan, Some(sawn));
    found.extend(plain::check(&view, &found));
    let blanks = view.blanks();
    found.extend(
        sawn.standing()
            .filter_map(|piece| moved(&view, piece, &blanks)),
    );
    found.extend(left_out(&view, sawn));
    for placed in &blanks {
        if !sawn.is_fixed(placed.blank.front) {
            found.extend(on_wood_gone(&view, sawn, placed));
        }
    }
    if found.is_empty() { Ok(()) } else { Err(found) }
}

/// What can't be held against a plan because the saw has been there.
struct Excused {
    /// What is wrong with the pieces alone, as they were cut.
    as_cut: Vec<Violation>,
    fronts: Vec<String>,
    /// Boards cut into.
    boards: Vec<String>,
}

impl Excused {
    fn new(job: &Job, sawn: &Sawn) -> Excused {
        let alone = Plan {
            boards: sawn.skeleton().boards(),
            ..Plan::default()
        };
        let name = |board: usize, copy| board_name(&job.boards[board].id, copy);
        let fixed = sawn
            .standing()
            .map(|piece| job.fronts[piece.blank.front].name.clone());
        let boards = sawn.cut_into().into_iter();
        let boards = boards.map(|(board, copy)| name(board, copy));
        Excused {
            as_cut: look(job, &alone, false, &Limits::default(), Some(sawn)),
            fronts: fixed.collect(),
            boards: boards.collect(),
        }
    }

    fn is(&self, violation: &Violation) -> bool {
        let of_piece = violation
            .front
            .as_ref()
            .is_some_and(|f| self.fronts.contains(f));
        let on = |boards: &[String]| violation.board.as_ref().is_some_and(|b| boards.contains(b));
        match violation.rule {
            Rule::Totals | Rule::Limits => false,
            // A strip whose blanks were all spoiled is empty, and so may the board be.
            Rule::Boards => on(&self.boards) && boards::is_idle(violation),
            Rule::Fronts => of_piece && violation.text.starts_with("must come from"),
            Rule::Cuts => self.as_cut.contains(violation),
            _ => of_piece,
        }
    }
}

/// A piece that stands and is not in the plan where it was cut.
fn moved(view: &View, piece: &SawnPiece, blanks: &[Placed]) -> Option<Violation> {
    let same = |placed: &&Placed| {
        (placed.planned.board, placed.planned.copy) == (piece.board, piece.copy)
            && same_blank(placed.blank, &piece.blank)
    };
    if blanks.iter().any(|placed| same(&placed)) {
        return None;
    }
    Some(Violation {
        rule: Rule::Sawn,
        board: Some(board_name(&view.job.boards[piece.board].id, piece.copy)),
        front: Some(view.job.fronts[piece.blank.front].name.clone()),
        text: "it is cut already, and the plan has it elsewhere".to_owned(),
    })
}

fn same_blank(a: &Blank, b: &Blank) -> bool {
    let place = |b: &Blank| (b.from, b.to, b.low, b.high);
    (a.front, a.stave, a.staves, a.left, a.face) == (b.front, b.stave, b.staves, b.left, b.face)
        && place(a) == place(b)
}

/// A rectangle of wood that is gone: a blank, or a kerf.
struct Gone {
    along: (Length, Length),
    across: (Length, Length),
    what: String,
}

fn on_wood_gone(view: &View, sawn: &Sawn, placed: &Placed) -> Vec<Violation> {
    let blank = placed.blank;
    let on = (placed.planned.board, placed.planned.copy);
    let meets = |gone: &Gone| {
        let apart = |a: (Length, Length), b: (Length, Length)| a.1 <= b.0 || b.1 <= a.0;
        !apart((blank.from, blank.to), gone.along) && !apart((blank.low, blank.high), gone.across)
    };
    let pieces = sawn.pieces.iter().filter(|p| (p.board, p.copy) == on);
    let crosscuts = sawn.crosscuts.iter().filter(|c| (c.board, c.copy) == on);
    pieces
        .flat_map(|piece| gone_with(view, piece, placed.board.width))
        .chain(crosscuts.map(|cut| gone_by(view, cut, placed.board.width)))
        .filter(meets)
        .map(|gone| {
            placed.fault(
                Rule::Sawn,
                format!("placed on wood already gone: {}", gone.what),
            )
        })
        .collect()
}

/// A blank cut takes its wood, and the kerfs that freed it: across the board at its section's ends,
/// along its section at its strip's edges, across its strip at its own ends.
fn gone_with(view: &View, piece: &SawnPiece, width: Length) -> Vec<Gone> {
    let allow = &view.job.settings.allowances;
    let (crosscut, rip) = (allow.crosscut_kerf, allow.rip_kerf);
    let (section, strip, blank) = (piece.section, piece.strip, &piece.blank);
    let name = &view.job.fronts[blank.front].name;
    let gone = |along, across, what: &str| Gone {
        along,
        across,
        what: format!("{what} {name}"),
    };
    let whole = (Length::ZERO, width);
    vec![
        gone((section.0 - crosscut, section.0), whole, "the crosscut of"),
        gone((section.1, section.1 + crosscut), whole, "the crosscut of"),
        gone(section, (strip.0 - rip, strip.0), "the rip of"),
        gone(section, (strip.1, strip.1 + rip), "the rip of"),
        gone(
            (blank.from - crosscut, blank.to + crosscut),
            strip,
            "the blank of",
        ),
    ]
}

fn gone_by(view: &View, cut: &Crosscut, width: Length) -> Gone {
    let kerf = view.job.settings.allowances.crosscut_kerf;
    Gone {
        along: (cut.at, cut.at + kerf),
        across: (Length::ZERO, width),
        what: format!("the crosscut at {}", view.show(cut.at)),
    }
}

/// A board cut into is spent but for what is kept of it, whether it still carries a front or not.
fn left_out(view: &View, sawn: &Sawn) -> Vec<Violation> {
    let listed = |board: &(usize, u32)| {
        let here = |planned: &BoardPlan| (planned.board, planned.copy) == *board;
        view.plan.boards.iter().any(here)
    };
    let missing = sawn.cut_into().into_iter().filter(|board| !listed(board));
    missing
        .map(|(board, copy)| Violation {
            rule: Rule::Sawn,
            board: Some(board_name(&view.job.boards[board].id, copy)),
            front: None,
            text: "it is cut into already, and the plan leaves it out".to_owned(),
        })
        .collect()
}
