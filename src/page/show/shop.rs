//! The work in the shop: board after board with its marks, then machine after machine.

use serde_json::{Value, json};

use super::case;
use crate::commands::Shop;
use crate::draw::{self, Progress};
use crate::job::Job;
use crate::measure::Ruler;
use crate::packet::{Phase, phases};
use crate::page::plans::Best;
use crate::plan::{self, BoardPlan};
use crate::work::{Mark, marks};

/// Where the work stands. `best` is the plan on the screen: whether the shop works by that one.
pub fn shop(shop: &Shop, best: Option<&Best>) -> Value {
    let (job, plan) = (&shop.reading.job, &shop.plan);
    let ruler = job.settings.ruler();
    let progress = Progress {
        sawn: &shop.sawn,
        anew: &[],
    };
    let begun = !shop.reading.done.is_empty();
    let phases = phases(job, plan, begun.then_some(&progress));
    json!({
        "same": best.is_some_and(|best| is_same(best, &shop.json)),
        "begun": begun,
        "fronts": case::fronts(job, plan, Some(&shop.sawn)),
        "boards": plan.boards.iter().map(|cut| board(shop, cut)).collect::<Vec<_>>(),
        "phases": phases.iter().map(|phase| told(phase, ruler)).collect::<Vec<_>>(),
    })
}

/// Whether the plan on the screen is the one the shop works by: the same cuts.
fn is_same(best: &Best, json: &str) -> bool {
    let ours = match best.sawn() {
        Some(sawn) => plan::to_json_sawn(best.job(), best.the_plan(), sawn),
        None => plan::to_json(best.job(), best.the_plan()),
    };
    let boards = |text: &str| {
        let plan: Value = serde_json::from_str(text).ok()?;
        plan.get("boards").cloned()
    };
    boards(&ours).is_some() && boards(&ours) == boards(json)
}

fn board(shop: &Shop, cut: &BoardPlan) -> Value {
    let job = &shop.reading.job;
    let ruler = job.settings.ruler();
    let marks = marks(job, cut, Some(&shop.sawn));
    let strips = cut.sections.iter().flat_map(|section| &section.strips);
    let fronts = strips.flat_map(|strip| &strip.blanks);
    let mut fronts: Vec<&str> = fronts
        .map(|blank| job.fronts[blank.front].name.as_str())
        .collect();
    fronts.dedup();
    json!({
        "id": job.boards[cut.board].id,
        "copy": cut.copy,
        "name": draw::board_name(job, cut),
        "facts": facts(job, cut, ruler),
        "fronts": fronts,
        "marks": marks.iter().enumerate().map(|(at, m)| mark(at + 1, m, ruler)).collect::<Vec<_>>(),
    })
}

fn facts(job: &Job, cut: &BoardPlan, ruler: Ruler) -> String {
    let board = &job.boards[cut.board];
    format!(
        "{} × {} × {}",
        ruler.show(board.length),
        ruler.show(board.width),
        draw::thickness(board.thickness, ruler)
    )
}

fn mark(number: usize, mark: &Mark, ruler: Ruler) -> Value {
    let (at, from, line) = match mark.is_across() {
        true => (mark.along.0, "from the hook end", mark.across),
        false => (mark.across.0, "from the near edge", mark.along),
    };
    json!({
        "number": number,
        "kind": mark.kind.name(),
        "at": ruler.show(at),
        "from": from,
        "line": format!("{} to {}", ruler.show(line.0), ruler.show(line.1)),
        "what": mark.what,
        "done": mark.done,
    })
}

fn told(phase: &Phase, ruler: Ruler) -> Value {
    let steps: Vec<String> = phase.steps.iter().map(|step| step.show(ruler)).collect();
    json!({
        "title": phase.title,
        "how": phase.how.show(ruler),
        "mind": phase.mind.show(ruler),
        "steps": steps,
    })
}

/// The diagram of a board of the shop's plan, to chalk from.
pub fn board_svg(shop: &Shop, at: usize) -> Option<String> {
    let (job, plan) = (&shop.reading.job, &shop.plan);
    plan.boards.get(at)?;
    let begun = !shop.reading.done.is_empty();
    let progress = Progress {
        sawn: &shop.sawn,
        anew: &[],
    };
    let ruler = job.settings.ruler();
    Some(draw::board_in(job, plan, at, ruler, begun.then_some(&progress)).svg())
}
