//! One board's sheet: diagram, marks, what to do in order.

use crate::draw::{Progress, board_facts, board_name, board_untitled};
use crate::job::Job;
use crate::measure::Length;
use crate::packet::document::{Block, Column, Part, Picture, Table};
use crate::packet::marks::{Mark, MarkKind, marks_after};
use crate::packet::phrase::{Phrase, both};
use crate::packet::table::piece_name;
use crate::packet::todo::Todo;
use crate::plan::{Blank, BoardPlan, Face, Kept, Plan, Section};

/// The sheet of `plan.boards[index]`.
pub fn part(job: &Job, plan: &Plan, index: usize, progress: Option<&Progress>) -> Part {
    let todo = Todo::after(progress);
    let cut = &plan.boards[index];
    let name = board_name(job, cut);
    let mut part = Part::new(format!("board-{}", index + 1), format!("Board {name}"));
    let ruler = job.settings.ruler();
    let [inch, mm] = both(ruler).map(|ruler| board_facts(job, plan, index, ruler));
    part.subtitle = Phrase::in_units(inch, mm);
    let picture = Picture::of(ruler, |ruler| {
        board_untitled(job, plan, index, ruler, progress)
    });
    part.blocks.push(Block::Picture(picture));
    let notes = &job.boards[cut.board].notes;
    if !notes.is_empty() {
        part.text(format!("Noted: {notes}"));
    }
    let marks = vec![
        Block::Heading(format!("Marks on {name}")),
        Block::Table(mark_table(job, cut, todo)),
    ];
    let work = vec![
        Block::Heading(format!("What to do with {name}")),
        Block::Steps(steps(job, cut, &name, todo)),
    ];
    part.blocks.push(Block::Pair {
        left: marks,
        right: work,
        share: 0.66,
    });
    part
}

fn mark_table(job: &Job, cut: &BoardPlan, todo: Todo) -> Table {
    let marks = marks_after(job, cut, todo);
    let rows = marks
        .iter()
        .filter(|mark| mark.kind != MarkKind::Keep)
        .enumerate()
        .map(|(i, mark)| row(i + 1, mark));
    Table {
        caption: "In the order chalked".to_owned(),
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
        match mark.done {
            true => format!("{} (done)", mark.what).into(),
            false => mark.what.as_str().into(),
        },
    ]
}

fn steps(job: &Job, cut: &BoardPlan, name: &str, todo: Todo) -> Vec<Phrase> {
    let open: Vec<&Section> = cut
        .sections
        .iter()
        .filter(|section| todo.section(cut, section))
        .collect();
    let chalk = match open.len() == cut.sections.len() {
        true => "Chalk every mark, front name, left end, top arrow and triangle.",
        false => {
            "What is crossed out is cut already. Chalk every mark that is not done, front name, \
             left end, top arrow and triangle."
        }
    };
    let mut steps = vec![Phrase::from(format!(
        "Lay {name} with its measured side up and its hook end to the left. {chalk}"
    ))];
    let ends = open
        .iter()
        .map(|s| Phrase::from(s.from).words(" and ").length(s.to));
    if !open.is_empty() {
        steps.push(Phrase::from("Crosscut at ").and(Phrase::join(ends, ", ")));
    }
    for (i, section) in cut.sections.iter().enumerate() {
        steps.extend(rip(i + 1, cut, section, todo));
        steps.extend(part_strips(job, i + 1, section, todo));
        steps.extend(final_rips(job, i + 1, section, todo));
    }
    if steps.len() == 1 && todo.is_begun() {
        steps = vec![Phrase::from(format!("All fronts of {name} are cut."))];
    }
    steps.extend(cut.kept.iter().map(|kept| keep(name, kept)));
    let turned = faces_under(job, cut, todo);
    if !turned.is_empty() {
        steps.push(Phrase::from(format!(
            "The side that now lies down will show on {}: mark it as the face",
            turned.join(", ")
        )));
    }
    steps
}

fn keep(name: &str, kept: &Kept) -> Phrase {
    Phrase::from(format!("Keep the piece “{name}, "))
        .sizes(&[kept.to - kept.from, kept.high - kept.low])
        .words("” (from ")
        .length(kept.from)
        .words(" to ")
        .length(kept.to)
        .words("): write that on it and put it on the rack")
}

fn rip(number: usize, cut: &BoardPlan, section: &Section, todo: Todo) -> Option<Phrase> {
    let strips = section.strips.iter();
    let open: Vec<Phrase> = strips
        .filter(|strip| todo.strip(cut, section, strip))
        .map(|s| Phrase::from(s.low).words(" to ").length(s.high))
        .collect();
    let start = format!("Rip section {number}, from the near edge: ");
    (!open.is_empty()).then(|| Phrase::from(start).and(Phrase::join(open, ", ")))
}

fn part_strips(job: &Job, number: usize, section: &Section, todo: Todo) -> Option<Phrase> {
    let blanks = section.strips.iter().flat_map(|strip| &strip.blanks);
    let open: Vec<Phrase> = blanks
        .filter(|blank| todo.piece(blank))
        .map(|blank| piece_at(job, blank, (blank.from, blank.to)))
        .collect();
    let start = format!("Crosscut the strips of section {number}: ");
    (!open.is_empty()).then(|| Phrase::from(start).and(Phrase::join(open, ", ")))
}

/// Rips along pieces narrower than their strips. The caution is common practice, no source.
fn final_rips(job: &Job, number: usize, section: &Section, todo: Todo) -> Option<Phrase> {
    let strips = section.strips.iter();
    let open: Vec<Phrase> = strips
        .flat_map(|strip| strip.blanks.iter().map(move |blank| (strip, blank)))
        .filter(|(strip, blank)| (blank.low, blank.high) != (strip.low, strip.high))
        .filter(|(_, blank)| todo.piece(blank))
        .map(|(_, blank)| piece_at(job, blank, (blank.low, blank.high)))
        .collect();
    let start = format!("Rip pieces of section {number} narrower, from the near edge: ");
    (!open.is_empty()).then(|| {
        Phrase::from(start)
            .and(Phrase::join(open, ", "))
            .words(". Short pieces at the band saw or by hand: the saw's manual says how short")
    })
}

/// `D1 at 2 to 22 1/2`.
fn piece_at(job: &Job, blank: &Blank, (from, to): (Length, Length)) -> Phrase {
    let name = piece_name(&job.fronts[blank.front].name, blank);
    Phrase::from(format!("{name} at "))
        .length(from)
        .words(" to ")
        .length(to)
}

/// Fronts that show the side that was down when the board was measured.
fn faces_under(job: &Job, cut: &BoardPlan, todo: Todo) -> Vec<String> {
    let strips = cut.sections.iter().flat_map(|section| &section.strips);
    strips
        .flat_map(|strip| &strip.blanks)
        .filter(|blank| blank.face == Face::Down && todo.piece(blank))
        .map(|blank| piece_name(&job.fronts[blank.front].name, blank))
        .collect()
}
