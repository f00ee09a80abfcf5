//! Why a front is not made, and the least board that would cure it.

use crate::job::{Board, Front};
use crate::layout::heuristics::state::State;
use crate::layout::model::problem::Problem;
use crate::measure::{Length, Ruler, thickness_sold};
use crate::milling;
use crate::plan::NotMade;

/// The reason that binds for the front at `row` of a plan, and what to buy.
pub(in crate::layout) fn not_made(problem: &Problem, state: &State, row: usize) -> NotMade {
    let front = &problem.job.fronts[problem.chain[row]];
    NotMade {
        front: problem.chain[row],
        why: why(problem, state, front, row),
        buy: buy(problem, state, front),
    }
}

/// The same for a front of a board that could not be laid out.
pub(in crate::layout) fn lost(problem: &Problem, state: &State, row: usize) -> NotMade {
    let front = &problem.job.fronts[problem.chain[row]];
    NotMade {
        front: problem.chain[row],
        why: "the program found it a place and lost it again: a fault of the program; please report it".to_owned(),
        buy: buy(problem, state, front),
    }
}

fn why(problem: &Problem, state: &State, front: &Front, row: usize) -> String {
    let job = problem.job;
    let ruler = job.settings.ruler();
    let pinned: Vec<&Board> = job
        .boards
        .iter()
        .filter(|b| front.may_come_from(b))
        .collect();
    if pinned.is_empty() {
        return "no board is left that it may come from".to_owned();
    }
    let which = match front.only_board() {
        Some(id) => format!("board {id}, which it must come from,"),
        None if front.boards.is_empty() => "every board".to_owned(),
        None => "every board it may come from".to_owned(),
    };
    let allowances = &job.settings.allowances;
    let long = milling::blank_length(front, allowances).max(allowances.shortest_safe);
    let usable = |b: &&Board| b.clear_length(allowances);
    let longest = pinned.iter().map(usable).max().unwrap_or_default();
    if long > longest {
        return format!(
            "too long: its blank takes {}, and {which} gives at most {} between the end trims",
            ruler.show_with_unit(long),
            ruler.show_with_unit(longest)
        );
    }
    if let Some(text) = too_thin(problem, front, &pinned, long, &which) {
        return text;
    }
    if !problem.fits_somewhere(row) {
        let wide = milling::blank_width(front, allowances);
        if let Some(most) = job.settings.machines.widest.filter(|&most| wide > most) {
            let glue = if front.glue {
                ""
            } else {
                ", and it may not be glued"
            };
            return format!(
                "too wide: its blank takes {}, and the machines take {} at most{glue}",
                ruler.show_with_unit(wide),
                ruler.show_with_unit(most)
            );
        }
        let widest = pinned
            .iter()
            .map(|b| b.width - allowances.edge_trim * 2)
            .max()
            .unwrap_or_default();
        let glue = if front.glue {
            ""
        } else {
            ", and it may not be glued"
        };
        return if wide > widest {
            format!(
                "too wide: its blank takes {}, and {which} gives at most {} between the edges{glue}",
                ruler.show_with_unit(wide),
                ruler.show_with_unit(widest)
            )
        } else {
            format!(
                "no sound place: defects, crook or warp leave no room for its blank on {which} long and wide enough"
            )
        };
    }
    if let Some(text) = out_of_tone(problem, state, row) {
        return text;
    }
    "no room left: the boards it fits on are taken up by the other fronts".to_string()
}

/// Palest and darkest tone one more front may have, when there is a limit on tone.
fn tones_left(problem: &Problem, state: &State) -> Option<(f64, f64)> {
    let within = problem.limits.tone_within?;
    let used = state
        .boards
        .iter()
        .map(|board| problem.stock[board.stock].tone);
    let tones: Vec<f64> = used.map(|tone| problem.tones[tone]).collect();
    let palest = tones.iter().copied().reduce(f64::min)?;
    let darkest = tones.iter().copied().reduce(f64::max)?;
    Some((darkest - within, palest + within))
}

/// The tone reason, when there are boards left that the front fits on, and each is too pale or dark
/// beside those used.
fn out_of_tone(problem: &Problem, state: &State, row: usize) -> Option<String> {
    let (palest, darkest) = tones_left(problem, state)?;
    let item = problem.starts[row].start;
    let left = problem.stock.iter().zip(&state.left);
    let fits = left.filter(|(stock, left)| **left > 0 && stock.widest[item] > 0);
    let mut on: Vec<f64> = fits.map(|(stock, _)| problem.tones[stock.tone]).collect();
    on.sort_by(f64::total_cmp);
    let apart = |tone: &f64| *tone < palest - TONE_ROUNDING || *tone > darkest + TONE_ROUNDING;
    let (first, last) = (on.first()?, on.last()?);
    on.iter().all(apart).then(|| {
        format!(
            "tone limit: the boards left that it fits on are of tone {first} to {last}, and beside the other fronts it may be {palest} to {darkest}"
        )
    })
}

/// Tone steps a limit may be off by rounding.
const TONE_ROUNDING: f64 = 1e-9;

/// The thickness reason with its numbers, when no board is thick enough after flattening.
fn too_thin(
    problem: &Problem,
    front: &Front,
    boards: &[&Board],
    long: Length,
    which: &str,
) -> Option<String> {
    let settings = &problem.job.settings;
    let ruler = Ruler {
        fraction: 64,
        ..settings.ruler()
    };
    let least = if front.glue {
        settings.glue.least_stave
    } else {
        milling::blank_width(front, &settings.allowances)
    };
    let left = |b: &&Board| b.thickness - milling::flattening_loss(b, long, least);
    let best = boards.iter().map(left).max()?;
    let need = front.thickness + settings.allowances.plane * 2;
    (best < need).then(|| {
        format!(
            "too thin: it needs {} with the final skim off both faces, and {which} leaves at most {} after flattening",
            ruler.show_with_unit(need),
            ruler.show_with_unit(best)
        )
    })
}

/// The least flat, clear board that makes the front in one piece.
fn buy(problem: &Problem, state: &State, front: &Front) -> String {
    let settings = &problem.job.settings;
    let ruler = settings.ruler();
    let least = milling::least_board(&[front], &settings.allowances);
    let tone = tones_left(problem, state).map_or(String::new(), |(palest, darkest)| {
        format!(", of tone {palest} to {darkest}")
    });
    format!(
        "a {} board at least {} wide and {} long, flat and clear{tone}",
        thickness_sold(least.thick, ruler.unit),
        ruler.show_with_unit(least.wide),
        ruler.show_with_unit(least.long)
    )
}
