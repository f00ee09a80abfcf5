//! The optimiser's answer back on the measured boards, beside what is there.

use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, NotMade, Plan, Section, Strip};

use super::copies::keep_copies;
use super::reduce::{Origin, Reduced, State};
use super::rest::{Part, Rest};
use super::stays::{Fronts, finish, in_use};

/// The whole plan; nothing when a rest was cut in a way its part of the board does not allow.
pub(super) fn merge(
    state: State<'_>,
    stays: &Fronts,
    reduced: &Reduced,
    answer: &Plan,
) -> Option<Plan> {
    let State {
        job, last, sawn, ..
    } = state;
    let there = in_use(last.plan, sawn, stays);
    let mut plan = Plan {
        boards: there,
        ..Plan::default()
    };
    // Indices of sections and strips hold until all new wood is placed; then all is put in order.
    let mut more: Vec<(usize, Vec<Section>)> = Vec::new();
    for planned in &answer.boards {
        match &reduced.origin[planned.board] {
            Origin::There => {}
            Origin::Whole(board) => plan.boards.push(BoardPlan {
                board: *board,
                copy: planned.copy,
                kept: Vec::new(),
                sections: moved(&planned.sections, reduced, (Length::ZERO, Length::ZERO)),
            }),
            Origin::Rest(rest) => {
                let sections = moved(&planned.sections, reduced, rest.origin(job));
                let at = place_of(&mut plan, rest);
                put(&mut plan.boards[at], rest, sections, &mut more, at)?;
            }
        }
    }
    for (at, sections) in more {
        plan.boards[at].sections.extend(sections);
    }
    put_in_order(&mut plan);
    keep_copies(state, &mut plan, stays);
    plan.not_made = not_made(reduced, answer);
    finish(job, &mut plan, last.plan, sawn, stays, last.by_money());
    Some(plan)
}

fn not_made(reduced: &Reduced, answer: &Plan) -> Vec<NotMade> {
    let real = answer.not_made.iter().filter_map(|missing| {
        Some(NotMade {
            front: reduced.fronts[missing.front]?,
            ..missing.clone()
        })
    });
    real.collect()
}

/// Sections of a reduced board as sections of the measured one.
fn moved(sections: &[Section], reduced: &Reduced, origin: (Length, Length)) -> Vec<Section> {
    let (along, across) = origin;
    let blank = |blank: &Blank| Blank {
        front: reduced.fronts[blank.front].unwrap_or(usize::MAX),
        // Told apart from the stretches that are there; numbered anew once all is in place.
        stretch: NEW + blank.stretch,
        from: blank.from + along,
        to: blank.to + along,
        low: blank.low + across,
        high: blank.high + across,
        ..blank.clone()
    };
    let strip = |strip: &Strip| Strip {
        low: strip.low + across,
        high: strip.high + across,
        blanks: strip.blanks.iter().map(blank).collect(),
    };
    let section = |section: &Section| Section {
        from: section.from + along,
        to: section.to + along,
        strips: section.strips.iter().map(strip).collect(),
    };
    sections.iter().map(section).collect()
}

/// Stretch numbers above this are the optimiser's.
const NEW: u32 = 1 << 24;

fn place_of(plan: &mut Plan, rest: &Rest) -> usize {
    let here = |b: &BoardPlan| (b.board, b.copy) == (rest.board, rest.copy);
    plan.boards.iter().position(here).unwrap_or_else(|| {
        plan.boards.push(BoardPlan {
            board: rest.board,
            copy: rest.copy,
            ..BoardPlan::default()
        });
        plan.boards.len() - 1
    })
}

fn put(
    board: &mut BoardPlan,
    rest: &Rest,
    sections: Vec<Section>,
    more: &mut Vec<(usize, Vec<Section>)>,
    at: usize,
) -> Option<()> {
    match rest.part {
        Part::Board => more.push((at, sections)),
        Part::Section(index) => {
            let strips = as_strips(sections)?;
            board.sections[index].strips.extend(strips);
        }
        Part::Strip(index, strip) => {
            let one_strip = sections.iter().all(|section| section.strips.len() == 1);
            if !one_strip {
                return None;
            }
            let strips = sections.into_iter().flat_map(|section| section.strips);
            let blanks = strips.flat_map(|strip| strip.blanks);
            board.sections[index].strips[strip].blanks.extend(blanks);
        }
    }
    Some(())
}

/// Sections of a section's free width as strips of its full length, when that is what they are:
/// one section, or several of one strip each that can lie in the same strip.
fn as_strips(sections: Vec<Section>) -> Option<Vec<Strip>> {
    if sections.len() == 1 {
        return sections.into_iter().next().map(|section| section.strips);
    }
    if sections.iter().any(|section| section.strips.len() != 1) {
        return None;
    }
    let strips: Vec<Strip> = sections
        .into_iter()
        .flat_map(|section| section.strips)
        .collect();
    Some(vec![Strip {
        low: strips.iter().map(|strip| strip.low).min()?,
        high: strips.iter().map(|strip| strip.high).max()?,
        blanks: strips.into_iter().flat_map(|strip| strip.blanks).collect(),
    }])
}

fn put_in_order(plan: &mut Plan) {
    plan.boards.sort_by_key(|board| (board.board, board.copy));
    for board in &mut plan.boards {
        board.sections.sort_by_key(|section| section.from);
        for section in &mut board.sections {
            section.strips.sort_by_key(|strip| strip.low);
            for strip in &mut section.strips {
                strip.blanks.sort_by_key(|blank| blank.from);
            }
        }
    }
}
