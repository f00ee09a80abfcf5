//! One board's sheet: diagram, marks, what to do in order.

use crate::draw::{Progress, board_facts, board_layouts, board_name, board_narrow, board_untitled};
use crate::job::Job;
use crate::packet::document::{Block, Column, Part, Photo, Picture, Table};
use crate::packet::faces::faces;
use crate::packet::joined::{narrowing, parting};
use crate::packet::phrase::{Phrase, both};
use crate::packet::todo::Todo;
use crate::plan::{BoardPlan, Kept, Plan};
use crate::work::{BoardWork, Joined, Mark, MarkKind, Rip, RipKind, SectionWork};

/// The sheet of `plan.boards[index]`.
pub fn part(
    job: &Job,
    plan: &Plan,
    index: usize,
    (progress, photo): (Option<&Progress>, Option<Vec<u8>>),
) -> Part {
    let todo = Todo::after(progress);
    let cut = &plan.boards[index];
    let name = board_name(job, cut);
    let mut part = Part::new(format!("board-{}", index + 1), format!("Board {name}"));
    let ruler = job.settings.ruler();
    let [inch, mm] = both(ruler).map(|ruler| board_facts(job, plan, index, ruler));
    part.subtitle = Phrase::in_units(inch, mm);
    let notes = &job.boards[cut.board].notes;
    if !notes.is_empty() {
        part.subtitle = part.subtitle.words(format!(" · noted: {notes}"));
    }
    let picture = Picture::of(ruler, |ruler| {
        board_untitled(job, plan, index, ruler, progress)
    });
    part.blocks.push(Block::Picture(Picture {
        narrow: Some(both(ruler).map(|ruler| board_narrow(job, plan, index, ruler, progress))),
        heights: board_layouts(job, plan, index, ruler, progress),
        ..picture
    }));
    part.blocks.extend(photo.map(|jpeg| {
        Block::Photo(Photo {
            about: format!("{name} in its photograph, the blanks drawn over it"),
            jpeg,
        })
    }));
    for table in mark_tables(job, cut, &name, todo) {
        part.table(table);
    }
    part.heading(format!("What to do with {name}"));
    part.steps(steps(job, cut, &name, todo));
    part
}

/// The marks across the board, and those along it, numbered in the order they are chalked.
fn mark_tables(job: &Job, cut: &BoardPlan, name: &str, todo: Todo) -> [Table; 2] {
    let marks = crate::work::marks(job, cut, todo.sawn()).into_iter();
    let chalked = marks.filter(|mark| mark.kind != MarkKind::Keep);
    let (across, along): (Vec<_>, Vec<_>) =
        chalked.enumerate().partition(|(_, mark)| mark.is_across());
    let table = |marks: Vec<(usize, Mark)>, caption: String, from: &str| Table {
        caption,
        columns: vec![
            Column::figures("mark"),
            Column::figures(from),
            Column::words("cut"),
            Column::words("what it is"),
        ],
        rows: marks.iter().map(|(i, mark)| row(i + 1, mark)).collect(),
        large: true,
        ..Table::default()
    };
    [
        table(
            across,
            format!("Lines across {name}, from the hook end"),
            "from hook end",
        ),
        table(
            along,
            format!("Lines along {name}, from the near edge"),
            "from near edge",
        ),
    ]
}

fn row(number: usize, mark: &Mark) -> Vec<Phrase> {
    let at = match mark.is_across() {
        true => mark.along.0,
        false => mark.across.0,
    };
    vec![
        Phrase::from(number.to_string()),
        at.into(),
        mark.kind.name().into(),
        match mark.done {
            true => format!("{} (done)", mark.what).into(),
            false => mark.what.as_str().into(),
        },
    ]
}

fn steps(job: &Job, cut: &BoardPlan, name: &str, todo: Todo) -> Vec<Phrase> {
    let work = todo.work(job, cut);
    let open: Vec<&SectionWork> = work.sections.iter().filter(|s| !s.done).collect();
    let mut steps = Vec::new();
    if let Some(faces) = faces(job, cut, todo) {
        let face = Phrase::from("Mark the face: ").and(faces).words(". ");
        steps.push(face.words(chalk(open.len() == cut.sections.len())));
    }
    let ends: Vec<Phrase> = open.iter().filter_map(|s| ends_to_cut(s)).collect();
    if !ends.is_empty() {
        steps.push(Phrase::from("Crosscut at ").and(Phrase::join(ends, ", ")));
    }
    for section in &work.sections {
        steps.extend(rip(section));
        steps.extend(part_strips(job, section));
        steps.extend(final_rips(job, section));
    }
    if steps.is_empty() && todo.is_begun() {
        steps = vec![Phrase::from(format!("All fronts of {name} are cut."))];
    }
    steps.extend(flat_first(&work, todo));
    steps.extend(cut.kept.iter().map(|kept| keep(name, kept)));
    steps
}

/// The ends of a section that no earlier cut has made.
fn ends_to_cut(work: &SectionWork) -> Option<Phrase> {
    let ends = [work.section.from, work.section.to].into_iter();
    let open = ends.zip(work.ends_made).filter(|(_, made)| !made);
    let open: Vec<Phrase> = open.map(|(at, _)| at.into()).collect();
    (!open.is_empty()).then(|| Phrase::join(open, " and "))
}

/// How the board lies when it is chalked, which its drawing shows.
fn chalk(untouched: bool) -> &'static str {
    match untouched {
        true => "With the measured side up, hook end left, chalk all that is drawn",
        false => {
            "With the measured side up, hook end left, chalk all that is drawn but what bears a \
             tick: that is cut"
        }
    }
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

/// The straight edge of a section, and the strips still to be ripped from it, in order.
fn rip(work: &SectionWork) -> Option<Phrase> {
    let chalk = work.rips.iter().find(|rip| rip.kind == RipKind::Chalk);
    let edge = chalk.map(|rip| Phrase::from("straight edge along ").length(rip.at));
    let rips = work.rips.iter().filter_map(one_rip);
    let all: Vec<Phrase> = edge.into_iter().chain(rips).collect();
    let start = format!("Rip section {}: ", work.number);
    (!all.is_empty()).then(|| Phrase::from(start).and(Phrase::join(all, ", ")))
}

/// `strip 2 with waste, fence at 4`.
fn one_rip(rip: &Rip) -> Option<Phrase> {
    let (at, how) = match rip.kind {
        RipKind::Chalk => return None,
        RipKind::Fence { at, with_waste } => (at, if with_waste { " with waste" } else { "" }),
        RipKind::Turned { at } => (at, " turned"),
    };
    Some(Phrase::from(format!("strip {}{how}, fence at ", rip.strip)).length(at))
}

fn part_strips(job: &Job, work: &SectionWork) -> Option<Phrase> {
    let strips = work.strips.iter();
    let told: Vec<Phrase> = strips.filter_map(|strip| parting(job, strip)).collect();
    let start = format!("Crosscut the strips of section {}: ", work.number);
    (!told.is_empty()).then(|| Phrase::from(start).and(Phrase::join(told, ", ")))
}

/// Rips along pieces narrower than their strips. The caution is common practice, no source.
fn final_rips(job: &Job, work: &SectionWork) -> Option<Phrase> {
    let strips = work.strips.iter();
    let told: Vec<Phrase> = strips.filter_map(|strip| narrowing(job, strip)).collect();
    let start = format!(
        "Rip pieces of section {} narrower, from the near edge: ",
        work.number
    );
    (!told.is_empty()).then(|| {
        Phrase::from(start)
            .and(Phrase::join(told, ", "))
            .words(". Short pieces at the band saw or by hand: the saw's manual says how short")
    })
}

/// What must be flat before it is cut apart.
fn flat_first(work: &BoardWork, todo: Todo) -> Option<Phrase> {
    let mut pieces = work.pieces().map(|(.., piece)| piece);
    let open =
        |piece: &Joined| piece.is_cut_apart() && piece.blanks.iter().all(|blank| todo.front(blank));
    let words = "Cut apart what is joined only when it is flat, as the order of work says";
    pieces.any(open).then(|| words.into())
}
