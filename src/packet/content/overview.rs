//! The first sheet: the case, the figures that matter, the breaks.

use std::collections::BTreeMap;

use crate::draw::{board_name, elevation};
use crate::job::{Job, Run};
use crate::packet::document::{Block, Column, Part, Picture, Table};
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::plan::Plan;

/// The first sheet.
pub fn part(job: &Job, plan: &Plan) -> Part {
    let mut part = Part::new("overview", "The case");
    let drawing = elevation(job, plan);
    let picture = Picture {
        inch: drawing.clone(),
        mm: drawing,
    };
    part.blocks.push(Block::Picture(picture));
    part.blocks.push(Block::Figures(figures(plan)));
    let pieces = PieceOf::all(job, plan);
    let breaks = breaks(job, &pieces);
    if !breaks.is_empty() {
        part.heading("Breaks");
        part.text("Here the grain does not run on:");
        part.table(Table {
            caption: "Breaks".to_owned(),
            columns: ["run", "between", "boards"].map(Column::words).to_vec(),
            rows: breaks,
            large: false,
        });
    }
    not_made(&mut part, job, plan);
    part.heading("Which boards make which run");
    part.table(runs(job, &pieces));
    part
}

fn figures(plan: &Plan) -> Vec<(String, Phrase)> {
    let totals = &plan.totals;
    let feet = |feet: crate::measure::BoardFeet| format!("{:.2} board feet", feet.value());
    let proof = if totals.proved {
        "proved: no plan costs less".to_owned()
    } else if totals.bound > 0.0 {
        format!("within {:.1} % of the best possible", totals.gap * 100.0)
    } else {
        "not proved".to_owned()
    };
    let mut figures = vec![
        (
            "fronts made",
            format!("{} of {}", totals.made, totals.fronts),
        ),
        ("boards used", totals.boards_used.to_string()),
        ("wood used", feet(totals.feet_used)),
        ("in fronts", feet(totals.feet_fronts)),
        ("kept", feet(totals.feet_kept)),
        ("yield", format!("{:.0} %", totals.yield_share * 100.0)),
        ("breaks", totals.breaks.to_string()),
        ("glue lines", totals.glue_lines.to_string()),
        (
            "tone steps",
            format!(
                "{} within runs, {} over the case",
                totals.tone_run, totals.tone_case
            ),
        ),
        ("this plan", proof),
    ];
    if let Some(money) = totals.money {
        figures.push(("to buy", format!("{:.2}", money.buy)));
    }
    figures
        .into_iter()
        .map(|(name, value)| (name.to_owned(), Phrase::from(value)))
        .collect()
}

/// Neighbours of a run that are made but not in one stretch.
fn breaks(job: &Job, pieces: &[PieceOf]) -> Vec<Vec<Phrase>> {
    let first: BTreeMap<usize, &PieceOf> = pieces
        .iter()
        .rev()
        .map(|piece| (piece.blank.front, piece))
        .collect();
    let mut rows = Vec::new();
    for run in &job.runs {
        let made: Vec<&&PieceOf> = run.fronts.iter().filter_map(|f| first.get(f)).collect();
        for pair in made.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            if a.blank.stretch != b.blank.stretch {
                rows.push(vec![
                    Phrase::from(run.name.as_str()),
                    format!("{} and {}", a.front().name, b.front().name).into(),
                    format!("{} and {}", board_name(job, a.cut), board_name(job, b.cut)).into(),
                ]);
            }
        }
    }
    rows
}

fn not_made(part: &mut Part, job: &Job, plan: &Plan) {
    if plan.not_made.is_empty() {
        return;
    }
    part.heading("Not made");
    let rows = plan.not_made.iter().map(|missing| {
        vec![
            Phrase::from(job.fronts[missing.front].name.as_str()),
            missing.why.as_str().into(),
            missing.buy.as_str().into(),
        ]
    });
    part.table(Table {
        caption: "Fronts that cannot be made".to_owned(),
        columns: ["front", "why", "what would do"]
            .map(Column::words)
            .to_vec(),
        rows: rows.collect(),
        large: false,
    });
}

fn runs(job: &Job, pieces: &[PieceOf]) -> Table {
    Table {
        caption: "Runs and their boards".to_owned(),
        columns: ["run", "fronts in order", "boards, stretch by stretch"]
            .map(Column::words)
            .to_vec(),
        rows: job.runs.iter().map(|run| row(job, run, pieces)).collect(),
        large: false,
    }
}

fn row(job: &Job, run: &Run, pieces: &[PieceOf]) -> Vec<Phrase> {
    let names: Vec<&str> = run
        .fronts
        .iter()
        .map(|&front| job.fronts[front].name.as_str())
        .collect();
    let mut stretches: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    for piece in pieces
        .iter()
        .filter(|p| run.fronts.contains(&p.blank.front))
    {
        let boards = stretches.entry(piece.blank.stretch).or_default();
        let name = board_name(job, piece.cut);
        if !boards.contains(&name) {
            boards.push(name);
        }
    }
    let boards: Vec<String> = stretches.values().map(|b| b.join(" + ")).collect();
    vec![
        Phrase::from(run.name.as_str()),
        names.join(", ").into(),
        boards.join(" / ").into(),
    ]
}
