//! The plan of a job that has changed since, and what the saw has done under it.

use std::mem::take;

use super::read::{PlanFault, Reader, parsed};
use super::rows::{CrosscutRow, PlanRow, SawnRow};
use super::sound::apart;
use super::write::Writer;
use crate::job::{Crosscut, Job};
use crate::plan::{Plan, Sawn, SawnPiece};

/// A plan read for a job that may have changed since it was made.
#[derive(Clone, Debug, Default)]
pub struct Earlier {
    /// The plan, less what the job no longer has.
    pub plan: Plan,
    /// What the saw had done when it was made.
    pub sawn: Sawn,
    /// The version of the format it was written in.
    pub format: u32,
    /// The boards and fronts left out because the job no longer has them.
    pub gone: Vec<PlanFault>,
    /// The blanks left out with them.
    pub dropped: Vec<Dropped>,
}

/// A blank of an earlier plan whose board or front the job no longer has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dropped {
    /// Its front.
    pub front: String,
    /// Its board.
    pub board: String,
    /// Which copy.
    pub copy: u32,
    /// Whether it was cut already when that plan was made.
    pub cut: bool,
}

impl Earlier {
    /// Whether it was made when cuts had to be plain already.
    pub fn is_plain(&self) -> bool {
        self.format > 1
    }
}

/// Reads a `plan.json` for a job that may have changed since: boards and fronts the job no longer
/// has are left out and told.
///
/// # Errors
/// What keeps the text from being read at all.
pub fn earlier_from_json(job: &Job, text: &str) -> Result<Earlier, Vec<PlanFault>> {
    let mut row = parsed(text)?;
    let apart = apart(&row);
    if !apart.is_empty() {
        return Err(apart);
    }
    let dropped = dropped(job, &row);
    let gone = drop_unknown(job, &mut row);
    let mut reader = Reader::new(job, row.unit);
    let format = row.format;
    let (pieces, crosscuts) = (take(&mut row.sawn), take(&mut row.crosscuts));
    let piece = |piece| sawn_piece(&mut reader, piece);
    let pieces = pieces.into_iter().map(piece).collect();
    let cut = |cut| crosscut(&mut reader, cut);
    let crosscuts = crosscuts.iter().map(cut).collect();
    let stays = take(&mut row.stays);
    let stays = stays.iter().map(|name| reader.front(name)).collect();
    Ok(Earlier {
        plan: reader.plan(row),
        sawn: Sawn {
            pieces,
            crosscuts,
            stays,
        },
        format,
        gone,
        dropped,
    })
}

/// Every blank, chalked or cut, whose board or front the job does not have.
fn dropped(job: &Job, row: &PlanRow) -> Vec<Dropped> {
    let has_board = |id: &str, copy: u32| {
        let is = |board: &crate::job::Board| board.id == id && board.copies.contains(&copy);
        job.boards.iter().any(is)
    };
    let has_front = |name: &str| job.fronts.iter().any(|front| front.name == name);
    let chalked = row.boards.iter().flat_map(|board| {
        let strips = board.sections.iter().flat_map(|section| &section.strips);
        let blanks = strips.flat_map(|strip| &strip.blanks);
        blanks.map(|blank| {
            (
                blank.front.as_str(),
                board.board.as_str(),
                board.copy,
                false,
            )
        })
    });
    let cut = row.sawn.iter().map(|piece| {
        let front = piece.blank.front.as_str();
        (front, piece.board.as_str(), piece.copy, true)
    });
    let all = chalked.chain(cut);
    all.filter(|(front, board, copy, _)| !has_board(board, *copy) || !has_front(front))
        .map(|(front, board, copy, cut)| Dropped {
            front: front.to_owned(),
            board: board.to_owned(),
            copy,
            cut,
        })
        .collect()
}

/// Takes out whatever names a board or a front the job does not have.
fn drop_unknown(job: &Job, row: &mut PlanRow) -> Vec<PlanFault> {
    let mut gone: Vec<PlanFault> = Vec::new();
    let mut tell = |fault: PlanFault| {
        if !gone.contains(&fault) {
            gone.push(fault);
        }
        false
    };
    let has_board = |id: &str, copy: u32| {
        job.boards
            .iter()
            .any(|board| board.id == id && board.copies.contains(&copy))
    };
    let has_front = |name: &str| job.fronts.iter().any(|front| front.name == name);
    let board_fault = |board: &str, copy| PlanFault::UnknownBoard {
        board: board.to_owned(),
        copy,
    };
    let front_fault = |front: &str| PlanFault::UnknownFront {
        front: front.to_owned(),
    };
    row.boards
        .retain(|b| has_board(&b.board, b.copy) || tell(board_fault(&b.board, b.copy)));
    for strip in row
        .boards
        .iter_mut()
        .flat_map(|b| &mut b.sections)
        .flat_map(|s| &mut s.strips)
    {
        strip
            .blanks
            .retain(|blank| has_front(&blank.front) || tell(front_fault(&blank.front)));
    }
    row.not_made.retain(|missing| has_front(&missing.front));
    row.sawn.retain(|p| {
        (has_board(&p.board, p.copy) || tell(board_fault(&p.board, p.copy)))
            && (has_front(&p.blank.front) || tell(front_fault(&p.blank.front)))
    });
    row.crosscuts.retain(|cut| has_board(&cut.board, cut.copy));
    row.stays.retain(|front| has_front(front));
    gone
}

fn sawn_piece(reader: &mut Reader<'_>, row: SawnRow) -> SawnPiece {
    SawnPiece {
        board: reader.kind(&row.board, row.copy),
        copy: row.copy,
        section: (reader.length(row.section[0]), reader.length(row.section[1])),
        strip: (reader.length(row.strip[0]), reader.length(row.strip[1])),
        blank: reader.blank(row.blank),
        fate: row.fate,
    }
}

fn crosscut(reader: &mut Reader<'_>, row: &CrosscutRow) -> Crosscut {
    Crosscut {
        board: reader.kind(&row.board, row.copy),
        copy: row.copy,
        at: reader.length(row.at),
    }
}

impl Writer<'_> {
    /// What the saw has done, as rows.
    pub(super) fn sawn(&self, sawn: &Sawn) -> (Vec<SawnRow>, Vec<CrosscutRow>, Vec<String>) {
        let id = |board: usize| self.job.boards[board].id.clone();
        let piece = |piece: &SawnPiece| SawnRow {
            board: id(piece.board),
            copy: piece.copy,
            fate: piece.fate,
            section: [piece.section.0, piece.section.1].map(|at| self.length(at)),
            strip: [piece.strip.0, piece.strip.1].map(|at| self.length(at)),
            blank: self.blank(&piece.blank),
        };
        let crosscut = |cut: &Crosscut| CrosscutRow {
            board: id(cut.board),
            copy: cut.copy,
            at: self.length(cut.at),
        };
        (
            sawn.pieces.iter().map(piece).collect(),
            sawn.crosscuts.iter().map(crosscut).collect(),
            sawn.stays
                .iter()
                .map(|&f| self.job.fronts[f].name.clone())
                .collect(),
        )
    }
}
