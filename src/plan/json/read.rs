//! From `plan.json` back to a plan of the same job.

use thiserror::Error;

use super::rows::{BlankRow, BoardRow, FORMAT, MoneyRow, PlanRow, SectionRow, StripRow, TotalsRow};
use super::sound::unsound;
use crate::job::Job;
use crate::measure::{LITRES_IN_BOARD_FOOT, Length, Unit, Volume};
use crate::plan::{Blank, BoardPlan, Kept, Money, NotMade, Plan, Reads, Section, Strip, Totals};

/// What keeps a `plan.json` from being a plan of this job.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PlanFault {
    /// Not JSON, or not the JSON of a plan.
    #[error("line {line}, column {column}: {why}")]
    Syntax {
        /// Line in the file, from 1.
        line: usize,
        /// Column in the line, from 1.
        column: usize,
        /// What was found and what was expected.
        why: String,
    },
    /// Bytes that are not text.
    #[error("it is not UTF-8 text from byte {byte} on: was it changed by hand?")]
    NotText {
        /// The first byte that is not.
        byte: usize,
    },
    /// Numbers that no board can have.
    #[error("{place}: {what}, which no plan of grainrow says: was it changed by hand?")]
    Unsound {
        /// The board or front.
        place: String,
        /// What is wrong.
        what: String,
    },
    /// Written in a version of the format this program does not know.
    #[error("format {found}, but this program reads formats 1 to {FORMAT}")]
    Format {
        /// The version the file names.
        found: u32,
    },
    /// A board the job does not have.
    #[error("board {board}, copy {copy}, is not in the job's boards.csv")]
    UnknownBoard {
        /// The board's name.
        board: String,
        /// The copy's number.
        copy: u32,
    },
    /// A front the job does not have.
    #[error("front {front} is not in the job's fronts.csv")]
    UnknownFront {
        /// The front's name.
        front: String,
    },
}

/// The plan in the text of a `plan.json`, made for `job`. The file may be in either unit.
///
/// # Errors
/// Every board and front the job does not know, or the one fault that keeps the text from being
/// read at all.
pub fn from_json(job: &Job, text: &str) -> Result<Plan, Vec<PlanFault>> {
    let row = parsed(text)?;
    let mut reader = Reader::new(job, row.unit);
    let plan = reader.plan(row);
    if reader.faults.is_empty() {
        Ok(plan)
    } else {
        Err(reader.faults)
    }
}

/// The rows of a file whose format is known.
pub(super) fn parsed(text: &str) -> Result<PlanRow, Vec<PlanFault>> {
    let row: PlanRow = serde_json::from_str(text).map_err(|fault| vec![syntax(&fault)])?;
    if !(1..=FORMAT).contains(&row.format) {
        return Err(vec![PlanFault::Format { found: row.format }]);
    }
    let unsound = unsound(&row);
    match unsound.is_empty() {
        true => Ok(row),
        false => Err(unsound),
    }
}

fn syntax(fault: &serde_json::Error) -> PlanFault {
    let why = fault.to_string();
    let place = format!(" at line {} column {}", fault.line(), fault.column());
    PlanFault::Syntax {
        line: fault.line(),
        column: fault.column(),
        why: why.strip_suffix(&place).unwrap_or(&why).to_owned(),
    }
}

/// Unknown names become index 0 and a fault; with a fault no plan is handed out.
pub(super) struct Reader<'a> {
    job: &'a Job,
    unit: Unit,
    faults: Vec<PlanFault>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(job: &'a Job, unit: Unit) -> Reader<'a> {
        Reader {
            job,
            unit,
            faults: Vec::new(),
        }
    }

    pub(super) fn plan(&mut self, row: PlanRow) -> Plan {
        let boards = row.boards.into_iter().map(|b| self.board(b)).collect();
        let totals = totals(row.totals, self.volume());
        let not_made = row.not_made.into_iter().map(|missing| NotMade {
            front: self.front(&missing.front),
            why: missing.why,
            buy: missing.buy,
        });
        Plan {
            totals,
            boards,
            not_made: not_made.collect(),
        }
    }

    /// One of the file's volumes (board feet or litres) in those of the job. What the file counts
    /// as at least an inch thick stays so.
    fn volume(&self) -> f64 {
        match (self.unit, self.job.settings.unit) {
            (Unit::Inch, Unit::Mm) => LITRES_IN_BOARD_FOOT,
            (Unit::Mm, Unit::Inch) => 1.0 / LITRES_IN_BOARD_FOOT,
            _ => 1.0,
        }
    }

    pub(super) fn length(&self, value: f64) -> Length {
        Length::from_unit(value, self.unit)
    }

    pub(super) fn front(&mut self, name: &str) -> usize {
        let found = self.job.fronts.iter().position(|front| front.name == name);
        found.unwrap_or_else(|| {
            let front = name.to_owned();
            self.faults.push(PlanFault::UnknownFront { front });
            0
        })
    }

    /// The board kind a copy belongs to.
    pub(super) fn kind(&mut self, id: &str, copy: u32) -> usize {
        let is = |b: &crate::job::Board| b.id == id && b.copies.contains(&copy);
        self.job.boards.iter().position(is).unwrap_or_else(|| {
            self.faults.push(PlanFault::UnknownBoard {
                board: id.to_owned(),
                copy,
            });
            0
        })
    }

    fn board(&mut self, row: BoardRow) -> BoardPlan {
        let board = self.kind(&row.board, row.copy);
        let kept = row.kept.iter().map(|kept| Kept {
            from: self.length(kept.from),
            to: self.length(kept.to),
            low: self.length(kept.low),
            high: self.length(kept.high),
        });
        BoardPlan {
            board,
            copy: row.copy,
            kept: kept.collect(),
            sections: row.sections.into_iter().map(|s| self.section(s)).collect(),
        }
    }

    fn section(&mut self, row: SectionRow) -> Section {
        Section {
            from: self.length(row.from),
            to: self.length(row.to),
            strips: row.strips.into_iter().map(|s| self.strip(s)).collect(),
        }
    }

    fn strip(&mut self, row: StripRow) -> Strip {
        Strip {
            low: self.length(row.low),
            high: self.length(row.high),
            blanks: row.blanks.into_iter().map(|b| self.blank(b)).collect(),
        }
    }

    pub(super) fn blank(&mut self, row: BlankRow) -> Blank {
        Blank {
            front: self.front(&row.front),
            stave: row.stave,
            staves: row.staves,
            stretch: row.stretch,
            from: self.length(row.from),
            to: self.length(row.to),
            low: self.length(row.low),
            high: self.length(row.high),
            left: row.left,
            face: row.face,
        }
    }
}

/// The figures of a file, its volumes multiplied by `volume`; so are cost and bound, unless they
/// are money.
fn totals(row: TotalsRow, volume: f64) -> Totals {
    let cost = if row.money.is_some() { 1.0 } else { volume };
    let money = |money: MoneyRow| Money {
        buy: money.buy,
        owned: money.owned,
        mean_price: money.mean_price,
    };
    Totals {
        fronts: row.fronts,
        made: row.made,
        boards_used: row.boards_used,
        feet_used: Volume::new(row.feet_used * volume),
        feet_fronts: Volume::new(row.feet_fronts * volume),
        feet_kept: Volume::new(row.feet_kept * volume),
        yield_share: row.yield_share,
        breaks: row.breaks,
        glue_lines: row.glue_lines,
        mixed_logs: row.mixed_logs,
        mixed_cuts: row.mixed_cuts,
        tone_run: row.tone_run,
        tone_case: row.tone_case,
        cost: row.cost * cost,
        bound: row.bound * cost,
        gap: row.gap,
        proved: row.proved,
        seconds: row.seconds,
        money: row.money.map(money),
        reads: row
            .reads
            .zip(row.reads_first)
            .map(|(now, first)| Reads { now, first }),
    }
}
