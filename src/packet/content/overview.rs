//! The first sheet: the case, the figures that matter, the breaks.

use std::collections::{BTreeMap, BTreeSet};

use super::Extras;
use crate::draw::{Easel, board_name, elevation_on};
use crate::job::Job;
use crate::measure::Unit;
use crate::packet::document::{Block, Column, Part, Photo, Picture, Table};
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::packet::shopping::{shopping_list, to_buy};
use crate::packet::todo::Todo;
use crate::plan::Plan;

/// The elevation's share of the sheet's width; the figures stand beside it.
const SHARE: f64 = 0.76;
/// What the elevation is drawn on: that share of a letter sheet, as high as leaves room for the
/// legend.
const EASEL: Easel = Easel {
    width: 530.0,
    height: 420.0,
    titled: false,
    words: 1.4,
};

/// The first sheet: the case, and beside it the figures that matter and the breaks.
pub fn part(job: &Job, plan: &Plan, extras: &Extras) -> Part {
    let mut part = Part::new("overview", "The case");
    let picture = Picture::of(job.settings.ruler(), |ruler| {
        elevation_on(job, plan, extras.fitting, (EASEL, ruler.unit))
    });
    let pieces = PieceOf::all(job, plan);
    let todo = Todo::after(extras.progress.as_ref());
    let mut figures = figures(plan, job.settings.unit);
    if todo.is_begun() {
        // Of a plan at work what is planned, what is cut and what is made are three things.
        let planned = format!("{} of {} fronts", plan.totals.made, plan.totals.fronts);
        figures[0] = ("planned".to_owned(), planned.into());
        figures[3].0 = "wood used, cut or planned".to_owned();
        figures[5].0 = "to be kept".to_owned();
        let done = done(&pieces, todo);
        figures.splice(1..1, done);
    }
    figures.extend(to_buy(job, plan).map(|buy| ("buy".to_owned(), buy.in_words().into())));
    let mut beside = vec![Block::Figures(figures)];
    let breaks = breaks(job, &pieces);
    if !breaks.is_empty() {
        beside.push(Block::Heading("Where the grain breaks off".to_owned()));
        beside.push(Block::Table(Table {
            caption: "Breaks".to_owned(),
            columns: ["run", "between", "boards"].map(Column::words).to_vec(),
            rows: breaks,
            ..Table::default()
        }));
    }
    let photo = extras.photos.case.clone().map(|jpeg| {
        Block::Photo(Photo {
            about: "The case in its own wood".to_owned(),
            jpeg,
        })
    });
    part.blocks.push(Block::Pair {
        left: std::iter::once(Block::Picture(picture))
            .chain(photo)
            .collect(),
        right: beside,
        share: SHARE,
    });
    not_made(&mut part, job, plan);
    part
}

fn figures(plan: &Plan, unit: Unit) -> Vec<(String, Phrase)> {
    let totals = &plan.totals;
    let feet = |wood: crate::measure::Volume| wood.show(unit);
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
        ("breaks", totals.breaks.to_string()),
        ("boards used", totals.boards_used.to_string()),
        ("wood used", feet(totals.feet_used)),
        ("in fronts", feet(totals.feet_fronts)),
        ("kept", feet(totals.feet_kept)),
        ("yield", format!("{:.0} %", totals.yield_share * 100.0)),
        ("glue lines", totals.glue_lines.to_string()),
        (
            "tone steps",
            format!(
                "{} within runs, {} over the case",
                totals.tone_run, totals.tone_case
            ),
        ),
    ];
    if totals.mixed_logs + totals.mixed_cuts > 0 {
        let (logs, cuts) = (totals.mixed_logs, totals.mixed_cuts);
        figures.push((
            "mixed within runs",
            format!("{logs} more logs, {cuts} more ways of sawing"),
        ));
    }
    figures.push(("this plan", proof));
    figures
        .into_iter()
        .map(|(name, value)| (name.to_owned(), Phrase::from(value)))
        .collect()
}

/// How many pieces are cut, and how many fronts are made of them.
fn done(pieces: &[PieceOf], todo: Todo) -> [(String, Phrase); 2] {
    let cut = pieces.iter().filter(|p| !todo.piece(p.blank)).count();
    let fronts = |done: bool| -> BTreeSet<usize> {
        let of = pieces.iter().filter(|p| !done || !todo.front(p.blank));
        of.map(|piece| piece.blank.front).collect()
    };
    let cut = format!("{cut} of {} pieces", pieces.len());
    let made = format!("{} of {} fronts", fronts(true).len(), fronts(false).len());
    [("cut", cut), ("made", made)].map(|(name, words)| (name.to_owned(), words.into()))
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
        ..Table::default()
    });
    part.text("To buy for all of them:");
    part.steps(
        shopping_list(job, plan)
            .into_iter()
            .map(Phrase::from)
            .collect(),
    );
}
