//! The parts of a [`Problem`] that follow from the job alone.

use std::ops::Range;

use crate::job::{Board, Job, Worth};
use crate::layout::model::history::{History, Part};
use crate::layout::model::items::Item;
use crate::layout::model::problem::Problem;
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::stock::Stock;
use crate::layout::model::worths::Worths;
use crate::layout::model::zone::zones_of;
use crate::measure::Length;

/// Where the items of each row start in a list sorted by first row.
pub(in crate::layout) fn starts(items: &[Item], rows: usize) -> Vec<Range<usize>> {
    (0..rows)
        .map(|row| {
            let first = items.partition_point(|item| item.rows.start < row);
            let last = items.partition_point(|item| item.rows.start <= row);
            first..last
        })
        .collect()
}

pub(in crate::layout) fn run_ranges(job: &Job) -> Vec<Range<usize>> {
    let mut start = 0;
    job.runs
        .iter()
        .map(|run| {
            let range = start..start + run.fronts.len();
            start = range.end;
            range
        })
        .collect()
}

pub(in crate::layout) fn cuts(job: &Job) -> SawRules {
    let a = &job.settings.allowances;
    SawRules {
        crosscut: a.crosscut_kerf.nm(),
        rip: a.rip_kerf.nm(),
        edge: a.edge_trim.nm(),
        keep_length: a.keep_offcut.map(|l| l.nm()),
        keep_width: a.keep_width.nm(),
        widest: job.settings.machines.widest.map(|widest| widest.nm()),
        glue_step: job.settings.glue.step.nm().max(1),
    }
}

pub(in crate::layout) fn worths(job: &Job, price: f64) -> Worths {
    let &Worth {
        unbroken,
        tone_run,
        tone_case,
        glue_line,
        mixed_log,
        mixed_cut,
        // A board's own cost (`stock`), and that of a front that moves (`Problem::add_moving`).
        owned: _,
        moved: _,
    } = &job.settings.worth;
    Worths {
        unbroken: unbroken * price,
        tone_run: tone_run * price,
        tone_case: tone_case * price,
        glue_line: glue_line * price,
        mixed: [mixed_log * price, mixed_cut * price],
    }
}

pub(in crate::layout) fn stock(
    problem: &Problem,
    index: usize,
    board: &Board,
    history: &History,
) -> Stock {
    let settings = &problem.job.settings;
    let (from, to) = board.between_trims(&settings.allowances);
    let counts = history.counts.get(index).copied().flatten();
    let feet = counts
        .map_or(problem.job.volume_of(board), |c| c.whole)
        .value();
    let one = Length::from_inches(1.0);
    let feet_rate = problem.job.volume(one, one, board.thickness).value() / (25.4e6 * 25.4e6);
    let (foot_cost, kept_rate) = match (problem.by_money, board.price) {
        (false, _) => (1.0, feet_rate),
        (true, Some(_)) if counts.is_some_and(|c| !c.price) => (0.0, 0.0),
        (true, Some(price)) => (price, 0.0),
        (true, None) => (settings.worth.owned, settings.worth.owned * feet_rate),
    };
    let ends = counts.map_or([true; 2], |c| c.ends);
    let kept_rate = if counts.is_none_or(|c| c.kept) {
        kept_rate
    } else {
        0.0
    };
    Stock {
        board: index,
        count: if board.left_out {
            0
        } else {
            board.copies.len()
        },
        length: board.length.nm(),
        width: board.width.nm(),
        from: from.nm(),
        // A board no longer than its trims gives nothing.
        to: to.max(from).nm(),
        crook: board.crook.nm() as f64,
        part: counts.map_or(Part::Board, |c| c.part),
        ends,
        whole: feet * foot_cost,
        kept_rate,
        tone: problem
            .tones
            .iter()
            .position(|&t| t == board.tone.value())
            .unwrap_or(0),
        look: problem.looks.of_board[index],
        zones: zones_of(board, settings.allowances.clear.nm()),
        fulls: Vec::new(),
        one_sided: board
            .defects
            .iter()
            .any(|d| d.side != crate::job::DefectSide::Both),
        // A board thinner than some front needs holds it nowhere, flat or not.
        warped: [board.bow, board.cup, board.twist]
            .iter()
            .any(|w| w.nm() != 0)
            || problem
                .job
                .fronts
                .iter()
                .any(|front| front.thickness + settings.allowances.plane * 2 > board.thickness),
        flat: Vec::new(),
        widest: Vec::new(),
        moving: Vec::new(),
        staying: Vec::new(),
    }
}
