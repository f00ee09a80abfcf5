//! The optimiser's answer back on the measured boards, beside what is there.

use std::collections::BTreeMap;

use crate::job::Job;
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, NotMade, Plan, Sawn, Section, Strip, placed};

use super::reduce::{Origin, Reduced, State};
use super::rest::{Part, Rest};
use super::stays::{Fronts, finish, occupied};

/// The whole plan, or the rest that was cut in a way the rest of its board does not allow.
pub(super) fn merge(
    state: State<'_>,
    stays: &Fronts,
    reduced: &Reduced,
    answer: &Plan,
) -> Result<Plan, Rest> {
    let State {
        job, last, sawn, ..
    } = state;
    let there = occupied(last.plan, sawn, stays);
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
    Ok(plan)
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
) -> Result<(), Rest> {
    let refused = || rest.clone();
    match rest.part {
        Part::Board => more.push((at, sections)),
        Part::Section(index) => {
            let strips = as_strips(sections).ok_or_else(refused)?;
            board.sections[index].strips.extend(strips);
        }
        Part::Strip(index, strip) => {
            let one_strip = sections.iter().all(|section| section.strips.len() == 1);
            if !one_strip {
                return Err(refused());
            }
            let strips = sections.into_iter().flat_map(|section| section.strips);
            let blanks = strips.flat_map(|strip| strip.blanks);
            board.sections[index].strips[strip].blanks.extend(blanks);
        }
    }
    Ok(())
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

/// Of identical boards takes the copies that bore the same fronts before, and where a board bears
/// just the fronts it bore, leaves them where they are chalked.
fn keep_copies(state: State<'_>, plan: &mut Plan, stays: &Fronts) {
    let State {
        job, sawn, held, ..
    } = state;
    let last = state.last.plan;
    let all_hold = |b: &BoardPlan| blanks(b).all(|blank| held.contains(&blank.front));
    let there: Vec<(usize, u32)> = occupied(last, sawn, stays)
        .iter()
        .map(|b| (b.board, b.copy))
        .collect();
    for kind in 0..job.boards.len() {
        let free = |b: &BoardPlan| b.board == kind && !there.contains(&(b.board, b.copy));
        let fresh: Vec<usize> = (0..plan.boards.len())
            .filter(|&i| free(&plan.boards[i]))
            .collect();
        let cut_through = |copy: u32| {
            sawn.crosscuts
                .iter()
                .any(|cut| (cut.board, cut.copy) == (kind, copy))
        };
        if fresh.iter().any(|&i| cut_through(plan.boards[i].copy)) {
            continue;
        }
        let mut copies: Vec<u32> = job.boards[kind]
            .copies
            .iter()
            .copied()
            .filter(|&copy| !there.contains(&(kind, copy)) && !cut_through(copy))
            .collect();
        let shared = |index: usize, copy: u32, plan: &Plan| {
            let before = last
                .boards
                .iter()
                .find(|b| (b.board, b.copy) == (kind, copy));
            before.map_or(0, |before| {
                let now = fronts(&plan.boards[index]);
                fronts(before)
                    .iter()
                    .filter(|front| now.contains(front))
                    .count()
            })
        };
        // The best pairs first; equal ones in the order of the boards, then the copies.
        let mut pairs: Vec<(usize, usize, u32)> = Vec::new();
        for &index in &fresh {
            pairs.extend(
                copies
                    .iter()
                    .map(|&copy| (shared(index, copy, plan), index, copy)),
            );
        }
        pairs.sort_by_key(|&(shared, index, copy)| (std::cmp::Reverse(shared), index, copy));
        let mut open = fresh.clone();
        for (_, index, copy) in pairs {
            if open.contains(&index) && copies.contains(&copy) {
                open.retain(|&other| other != index);
                copies.retain(|&other| other != copy);
                plan.boards[index].copy = copy;
                if let Some(before) = last.boards.iter().find(|b| {
                    (b.board, b.copy) == (kind, copy)
                        && all_hold(b)
                        && fronts(b) == fronts(&plan.boards[index])
                        && stretches(job, b) == stretches(job, &plan.boards[index])
                }) {
                    let mut before = before.sections.clone();
                    tell_stretches(&mut before, &plan.boards[index]);
                    plan.boards[index].sections = before;
                }
            }
        }
    }
    plan.boards.sort_by_key(|board| (board.board, board.copy));
}

fn blanks(board: &BoardPlan) -> impl Iterator<Item = &Blank> {
    let strips = board.sections.iter().flat_map(|section| &section.strips);
    strips.flat_map(|strip| &strip.blanks)
}

/// The fronts on a board, each stave by its number and how wide it is.
fn fronts(board: &BoardPlan) -> Vec<(usize, u32, u32, i64)> {
    let width = |b: &Blank| {
        if b.staves > 1 {
            (b.high - b.low).nm()
        } else {
            0
        }
    };
    let mut fronts: Vec<(usize, u32, u32, i64)> = blanks(board)
        .map(|b| (b.front, b.stave, b.staves, width(b)))
        .collect();
    fronts.sort_unstable();
    fronts
}

/// Which fronts of a board are in one stretch.
fn stretches(job: &Job, board: &BoardPlan) -> Vec<Vec<usize>> {
    let mut groups: BTreeMap<(usize, u32), Vec<usize>> = BTreeMap::new();
    for blank in blanks(board) {
        let run = job.place_of(blank.front).0;
        groups
            .entry((run, blank.stretch))
            .or_default()
            .push(blank.front);
    }
    let mut groups: Vec<Vec<usize>> = groups.into_values().collect();
    groups.iter_mut().for_each(|group| group.sort_unstable());
    groups.sort();
    groups
}

/// Gives the blanks of old sections the stretch numbers their fronts have now.
fn tell_stretches(sections: &mut [Section], now: &BoardPlan) {
    let strips = sections.iter_mut().flat_map(|section| &mut section.strips);
    for blank in strips.flat_map(|strip| &mut strip.blanks) {
        if let Some(new) = blanks(now).find(|b| b.front == blank.front) {
            blank.stretch = new.stretch;
        }
    }
}

/// Numbers the stretches of every run anew, from 1 along the run.
///
/// Neighbours are in one stretch when they were before and both are there, or when both are new
/// and the optimiser put them in one.
pub(super) fn number_stretches(
    job: &Job,
    plan: &mut Plan,
    last: &Plan,
    sawn: &Sawn,
    stays: &Fronts,
) {
    let is_there = |front: usize| stays.contains(&front) || sawn.is_fixed(front);
    let stretch_in = |plan: &Plan, front: usize| {
        placed(plan)
            .find(|(.., blank)| blank.front == front)
            .map(|(.., blank)| blank.stretch)
    };
    let mut numbers = vec![0; job.fronts.len()];
    for run in &job.runs {
        let mut number = 0;
        let mut before: Option<(bool, Option<u32>)> = None;
        for &front in &run.fronts {
            let there = is_there(front);
            let stretch = stretch_in(if there { last } else { &*plan }, front);
            let now = stretch.map(|_| (there, stretch));
            if now.is_some() && now != before {
                number += 1;
            }
            before = now;
            numbers[front] = number;
        }
    }
    for board in &mut plan.boards {
        let strips = board
            .sections
            .iter_mut()
            .flat_map(|section| &mut section.strips);
        for blank in strips.flat_map(|strip| &mut strip.blanks) {
            blank.stretch = numbers[blank.front];
        }
    }
}
