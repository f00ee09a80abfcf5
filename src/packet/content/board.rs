//! One board's sheet: diagram, marks, what to do in order.

use crate::draw::{board_in, board_name};
use crate::job::Job;
use crate::packet::document::{Block, Column, Part, Picture, Table};
use crate::packet::marks::{Mark, MarkKind, marks};
use crate::packet::phrase::Phrase;
use crate::plan::{BoardPlan, Face, Plan, Section};

/// The sheet of `plan.boards[index]`.
pub fn part(job: &Job, plan: &Plan, index: usize) -> Part {
    let cut = &plan.boards[index];
    let name = board_name(job, cut);
    let mut part = Part::new(format!("board-{}", index + 1), format!("Board {name}"));
    let picture = Picture::of(job.settings.ruler(), |ruler| {
        board_in(job, plan, index, ruler)
    });
    part.blocks.push(Block::Picture(picture));
    let notes = &job.boards[cut.board].notes;
    if !notes.is_empty() {
        part.text(format!("Noted: {notes}"));
    }
    let marks = vec![
        Block::Heading(format!("Marks on {name}")),
        Block::Table(mark_table(job, cut, &name)),
    ];
    let work = vec![
        Block::Heading(format!("What to do with {name}")),
        Block::Steps(steps(job, cut, &name)),
    ];
    part.blocks.push(Block::Pair(marks, work));
    part
}

fn mark_table(job: &Job, cut: &BoardPlan, name: &str) -> Table {
    let marks = marks(job, cut);
    let rows = marks
        .iter()
        .filter(|mark| mark.kind != MarkKind::Keep)
        .enumerate()
        .map(|(i, mark)| row(i + 1, mark));
    Table {
        caption: format!("Marks on board {name}, in the order chalked"),
        columns: vec![
            Column::figures("mark"),
            Column::words("cut"),
            Column::figures("from hook end"),
            Column::figures("from near edge"),
            Column::words("the line runs"),
            Column::words("what it is"),
        ],
        rows: rows.collect(),
        large: true,
    }
}

fn row(number: usize, mark: &Mark) -> Vec<Phrase> {
    let span = |(from, to): (_, _)| Phrase::default().length(from).words(" to ").length(to);
    let (hook, near, line) = if mark.is_across() {
        (mark.along.0.into(), Phrase::default(), span(mark.across))
    } else {
        (Phrase::default(), mark.across.0.into(), span(mark.along))
    };
    vec![
        Phrase::from(number.to_string()),
        mark.kind.name().into(),
        hook,
        near,
        line,
        mark.what.as_str().into(),
    ]
}

fn steps(job: &Job, cut: &BoardPlan, name: &str) -> Vec<Phrase> {
    let mut steps = vec![Phrase::from(format!(
        "Lay {name} with its measured side up and its hook end to the left. Chalk every mark, \
         front name, left end, top arrow and triangle."
    ))];
    let ends = cut
        .sections
        .iter()
        .map(|s| Phrase::from(s.from).words(" and ").length(s.to));
    steps.push(Phrase::from("Crosscut at ").and(Phrase::join(ends, ", ")));
    for (i, section) in cut.sections.iter().enumerate() {
        steps.push(rip(i + 1, section));
        steps.push(part_strips(job, i + 1, section));
    }
    for kept in &cut.kept {
        steps.push(
            Phrase::from(format!("Keep the piece “{name}, "))
                .sizes(&[kept.to - kept.from, kept.high - kept.low])
                .words("” (from ")
                .length(kept.from)
                .words(" to ")
                .length(kept.to)
                .words("): write that on it and put it on the rack"),
        );
    }
    let turned = faces_under(job, cut);
    if !turned.is_empty() {
        steps.push(Phrase::from(format!(
            "The side that now lies down will show on {}: mark it as the face",
            turned.join(", ")
        )));
    }
    steps
}

fn rip(number: usize, section: &Section) -> Phrase {
    let strips = section
        .strips
        .iter()
        .map(|s| Phrase::from(s.low).words(" to ").length(s.high));
    Phrase::from(format!("Rip section {number}, from the near edge: "))
        .and(Phrase::join(strips, ", "))
}

fn part_strips(job: &Job, number: usize, section: &Section) -> Phrase {
    let blanks = section.strips.iter().flat_map(|strip| &strip.blanks);
    let blanks = blanks.map(|blank| {
        let name = super::super::table::piece_name(&job.fronts[blank.front].name, blank);
        Phrase::from(format!("{name} at "))
            .length(blank.from)
            .words(" to ")
            .length(blank.to)
    });
    Phrase::from(format!("Crosscut the strips of section {number}: "))
        .and(Phrase::join(blanks, ", "))
}

/// Fronts that show the side that was down when the board was measured.
fn faces_under(job: &Job, cut: &BoardPlan) -> Vec<String> {
    let strips = cut.sections.iter().flat_map(|section| &section.strips);
    strips
        .flat_map(|strip| &strip.blanks)
        .filter(|blank| blank.face == Face::Down)
        .map(|blank| super::super::table::piece_name(&job.fronts[blank.front].name, blank))
        .collect()
}
