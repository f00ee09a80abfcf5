//! From a plan to `plan.json`.

use super::rows::{
    BlankRow, BoardRow, FORMAT, FittedRow, KeptRow, MoneyRow, NotMadeRow, PlanRow, SectionRow,
    StripRow, TotalsRow,
};
use crate::job::Job;
use crate::measure::{Length, Unit, volume_names};
use crate::plan::{Blank, BoardPlan, Money, Plan, Sawn, Section, Strip, Totals};

/// `plan` as the text of `plan.json`, ended by a line end.
///
/// Lengths are in the job's unit, to nine decimals: enough for [`from_json`](super::from_json)
/// to give back the very same nanometres. Other figures are rounded to nine decimals too,
/// seconds to three.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn to_json(job: &Job, plan: &Plan) -> String {
    to_json_sawn(job, plan, &Sawn::default())
}

/// The same of a plan made after the saw had begun: what it has done is written with it.
///
/// # Panics
/// When an index of the plan or of `sawn` does not point into `job`.
pub fn to_json_sawn(job: &Job, plan: &Plan, sawn: &Sawn) -> String {
    let writer = Writer {
        job,
        unit: job.settings.unit,
        run_of: run_names(job),
    };
    let (sawn, crosscuts, stays) = writer.sawn(sawn);
    let row = PlanRow {
        format: FORMAT,
        title: job.settings.title.clone(),
        unit: writer.unit,
        totals: totals_row(&plan.totals),
        boards: plan.boards.iter().map(|b| writer.board(b)).collect(),
        not_made: writer.not_made(plan),
        sawn,
        crosscuts,
        stays,
        fitted: fitted(job),
    };
    let text = serde_json::to_string_pretty(&row).expect("plain rows always serialise");
    volume_names(writer.unit, &text) + "\n"
}

fn fitted(job: &Job) -> Vec<FittedRow> {
    let fitted = job.fronts.iter().filter_map(|front| {
        Some(FittedRow {
            front: front.name.clone(),
            cut: front.sawn?,
        })
    });
    fitted.collect()
}

pub(super) struct Writer<'a> {
    pub(super) job: &'a Job,
    unit: Unit,
    run_of: Vec<&'a str>,
}

impl Writer<'_> {
    pub(super) fn length(&self, length: Length) -> f64 {
        decimals(length.in_unit(self.unit), 9)
    }

    fn board(&self, planned: &BoardPlan) -> BoardRow {
        let board = &self.job.boards[planned.board];
        let kept = planned.kept.iter().map(|kept| KeptRow {
            from: self.length(kept.from),
            to: self.length(kept.to),
            low: self.length(kept.low),
            high: self.length(kept.high),
        });
        BoardRow {
            board: board.id.clone(),
            copy: planned.copy,
            tone: board.tone.value(),
            kept: kept.collect(),
            sections: planned.sections.iter().map(|s| self.section(s)).collect(),
        }
    }

    fn section(&self, section: &Section) -> SectionRow {
        SectionRow {
            from: self.length(section.from),
            to: self.length(section.to),
            strips: section.strips.iter().map(|s| self.strip(s)).collect(),
        }
    }

    fn strip(&self, strip: &Strip) -> StripRow {
        StripRow {
            low: self.length(strip.low),
            high: self.length(strip.high),
            blanks: strip.blanks.iter().map(|b| self.blank(b)).collect(),
        }
    }

    pub(super) fn blank(&self, blank: &Blank) -> BlankRow {
        BlankRow {
            front: self.job.fronts[blank.front].name.clone(),
            stave: blank.stave,
            staves: blank.staves,
            run: self.run_of[blank.front].to_owned(),
            stretch: blank.stretch,
            from: self.length(blank.from),
            to: self.length(blank.to),
            low: self.length(blank.low),
            high: self.length(blank.high),
            left: blank.left,
            face: blank.face,
        }
    }

    fn not_made(&self, plan: &Plan) -> Vec<NotMadeRow> {
        let row = |missing: &crate::plan::NotMade| NotMadeRow {
            front: self.job.fronts[missing.front].name.clone(),
            why: missing.why.clone(),
            buy: missing.buy.clone(),
        };
        plan.not_made.iter().map(row).collect()
    }
}

fn totals_row(totals: &Totals) -> TotalsRow {
    let money = |money: Money| MoneyRow {
        buy: decimals(money.buy, 9),
        owned: decimals(money.owned, 9),
        mean_price: decimals(money.mean_price, 9),
    };
    TotalsRow {
        fronts: totals.fronts,
        made: totals.made,
        boards_used: totals.boards_used,
        feet_used: decimals(totals.feet_used.value(), 9),
        feet_fronts: decimals(totals.feet_fronts.value(), 9),
        feet_kept: decimals(totals.feet_kept.value(), 9),
        yield_share: decimals(totals.yield_share, 9),
        breaks: totals.breaks,
        glue_lines: totals.glue_lines,
        mixed_logs: totals.mixed_logs,
        mixed_cuts: totals.mixed_cuts,
        tone_run: decimals(totals.tone_run, 9),
        tone_case: decimals(totals.tone_case, 9),
        cost: decimals(totals.cost, 9),
        bound: decimals(totals.bound, 9),
        gap: decimals(totals.gap, 9),
        proved: totals.proved,
        seconds: decimals(totals.seconds, 3),
        money: totals.money.map(money),
        reads: totals.reads.map(|reads| decimals(reads.now, 6)),
        reads_first: totals.reads.map(|reads| decimals(reads.first, 6)),
    }
}

fn run_names(job: &Job) -> Vec<&str> {
    let mut names = vec![""; job.fronts.len()];
    for run in &job.runs {
        for &front in &run.fronts {
            names[front] = &run.name;
        }
    }
    names
}

fn decimals(value: f64, places: i32) -> f64 {
    let scale = 10f64.powi(places);
    (value * scale).round() / scale
}
