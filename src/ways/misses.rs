//! Which run stands in the way of a limit, by how much, and what would cure it.

use super::whole::Whole;
use crate::job::Job;
use crate::plan::{Plan, placed};

/// For each run that `plan` breaks: how nearly a board takes it in one piece.
pub(super) fn broken_runs(job: &Job, plan: &Plan) -> Vec<String> {
    let broken = (0..job.runs.len()).filter(|&run| is_broken(job, plan, run));
    broken.map(|run| Whole::of(job, run).told()).collect()
}

fn is_broken(job: &Job, plan: &Plan, run: usize) -> bool {
    let of_front = |front: usize| {
        let mut blanks = placed(plan).filter(|(.., blank)| blank.front == front);
        blanks.next().map(|(.., blank)| blank.stretch)
    };
    let fronts = job.runs[run].fronts.iter();
    let made: Vec<u32> = fronts.filter_map(|&front| of_front(front)).collect();
    made.windows(2).any(|pair| pair[0] != pair[1])
}

/// The palest and the darkest board used, the runs they make, and what would do instead.
pub(super) fn tone_spread(job: &Job, plan: &Plan, within: f64) -> Vec<String> {
    let tone = |board: usize| job.boards[board].tone.value();
    let used = || plan.boards.iter().map(|cut| cut.board);
    let palest = used().min_by(|&a, &b| tone(a).total_cmp(&tone(b)));
    let darkest = used().max_by(|&a, &b| tone(a).total_cmp(&tone(b)));
    let (Some(palest), Some(darkest)) = (palest, darkest) else {
        return Vec::new();
    };
    let over = tone(darkest) - tone(palest) - within;
    let told = |board: usize| {
        let runs = runs_from(job, plan, board).join(", ");
        format!("{} of tone {} ({runs})", job.boards[board].id, tone(board))
    };
    let allowed = (tone(darkest) - within, tone(palest) + within);
    vec![format!(
        "{} and {} are {over:.1} too far apart; for {} a board of tone {} or paler would do, or for \
         {} one of {} or darker",
        told(palest),
        told(darkest),
        runs_from(job, plan, darkest).join(", "),
        allowed.1,
        runs_from(job, plan, palest).join(", "),
        allowed.0.max(0.0),
    )]
}

/// The runs cut from a board, each once.
fn runs_from(job: &Job, plan: &Plan, board: usize) -> Vec<String> {
    let blanks = placed(plan).filter(|(cut, ..)| cut.board == board);
    let mut names: Vec<String> = Vec::new();
    for (.., blank) in blanks {
        let name = &job.runs[job.place_of(blank.front).0].name;
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    names
}
