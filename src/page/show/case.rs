//! The fronts where they stand on the case, and where each comes from.

use serde_json::{Value, json};

use crate::draw::{board_name, elevation_places};
use crate::job::{Front, Grain, Job, Shape};
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, Fate, Plan, Sawn};

/// All fronts with their places, in inches from the upper left corner of the elevation.
pub fn fronts(job: &Job, plan: &Plan, sawn: Option<&Sawn>) -> Vec<Value> {
    let places = elevation_places(job);
    let ruler = job.settings.ruler();
    let runs = &job.runs;
    job.fronts
        .iter()
        .enumerate()
        .map(|(index, front)| {
            let place = places.iter().find(|place| place.front == index);
            let run = runs.iter().find(|run| run.fronts.contains(&index));
            let from = sources(plan, index);
            let missing = plan.not_made.iter().find(|missing| missing.front == index);
            json!({
                "name": front.name,
                "run": run.map(|run| &run.name),
                "alone": run.is_none_or(|run| run.fronts.len() < 2),
                "place": place.map(|p| [p.left, p.top, p.width, p.height]),
                "grain": match front.grain {
                    Grain::Horizontal => "across",
                    Grain::Vertical => "up",
                },
                "top": top(front),
                "size": format!("{} × {}", ruler.show(front.width), ruler.show(front.height)),
                "from": from.iter().map(|(cut, blank)| source(job, plan, cut, blank))
                    .collect::<Vec<_>>(),
                "fate": fate(sawn, index),
                "missing": missing.map(|missing| json!({ "why": missing.why, "buy": missing.buy })),
            })
        })
        .collect()
}

/// Shares of the height at which an arched top stands at its left and right corner.
fn top(front: &Front) -> Option<[f64; 2]> {
    let share = |length: Length| length.nm() as f64 / front.height.nm().max(1) as f64;
    match front.shape {
        Shape::Square => None,
        Shape::Arch { rise } => Some([1.0 - share(rise); 2]),
        Shape::Slice { left, right, .. } => Some([share(left), share(right)]),
    }
}

fn fate(sawn: Option<&Sawn>, front: usize) -> Option<&'static str> {
    let mut pieces = sawn?.standing().filter(|piece| piece.blank.front == front);
    pieces.next().map(|piece| match piece.fate {
        Fate::Made => "made",
        _ => "cut",
    })
}

fn sources(plan: &Plan, front: usize) -> Vec<(&BoardPlan, &Blank)> {
    let boards = plan.boards.iter();
    let blanks = boards.flat_map(|cut| {
        let strips = cut.sections.iter().flat_map(|section| &section.strips);
        strips.flat_map(move |strip| strip.blanks.iter().map(move |blank| (cut, blank)))
    });
    let mut found: Vec<_> = blanks.filter(|(_, b)| b.front == front).collect();
    found.sort_by_key(|(_, blank)| blank.stave);
    found
}

fn source(job: &Job, plan: &Plan, cut: &BoardPlan, blank: &Blank) -> Value {
    json!({
        "board": board_name(job, cut),
        "id": job.boards[cut.board].id,
        "at": plan.boards.iter().position(|other| std::ptr::eq(other, cut)),
        "tone": job.boards[cut.board].tone.value(),
        "stretch": blank.stretch,
        "stave": blank.stave,
        "staves": blank.staves,
    })
}

/// Neighbours of a run that are not cut one after another.
pub fn breaks(job: &Job, plan: &Plan) -> Vec<[String; 2]> {
    let stretch = |front: usize| sources(plan, front).first().map(|(_, blank)| blank.stretch);
    let mut found = Vec::new();
    for run in &job.runs {
        for pair in run.fronts.windows(2) {
            let (one, other) = (stretch(pair[0]), stretch(pair[1]));
            if one.is_some() && other.is_some() && one != other {
                found.push([pair[0], pair[1]].map(|front| job.fronts[front].name.clone()));
            }
        }
    }
    found
}
