//! Changes of a plan that may cost nothing. None is promised to keep the rules: the checker says.

use crate::job::Job;
use crate::measure::Length;
use crate::plan::{BoardPlan, Kept, Plan, Section, Strip};

use super::stretches::{of_stretches, other_end};

/// Every change, one after another.
pub fn all<'p>(job: &'p Job, plan: &'p Plan) -> impl Iterator<Item = Plan> + 'p {
    of_boards(job, plan)
        .chain(of_sections(job, plan))
        .chain(of_strips(job, plan))
        .chain(of_stretches(job, plan))
}

/// The plan with something changed.
pub fn with(plan: &Plan, change: impl FnOnce(&mut Plan)) -> Plan {
    let mut plan = plan.clone();
    change(&mut plan);
    plan
}

/// Boards whose cuts are mirrored along or across, and boards that change places.
fn of_boards<'p>(job: &'p Job, plan: &'p Plan) -> impl Iterator<Item = Plan> + 'p {
    let count = plan.boards.len();
    let mirrored = (0..count).flat_map(move |b| {
        let board = &job.boards[plan.boards[b].board];
        let along = with(plan, |plan| mirror_along(&mut plan.boards[b], board.length));
        let across = with(plan, |plan| mirror_across(&mut plan.boards[b], board.width));
        [along, across]
    });
    let pairs = (0..count).flat_map(move |a| (a + 1..count).map(move |b| (a, b)));
    let swapped = pairs.filter_map(move |(a, b)| {
        let size = |b: usize| {
            let board = &job.boards[plan.boards[b].board];
            (board.length, board.width, board.thickness)
        };
        let swap = |plan: &mut Plan| {
            let [one, other] = [a, b].map(|b| (plan.boards[b].board, plan.boards[b].copy));
            (plan.boards[a].board, plan.boards[a].copy) = other;
            (plan.boards[b].board, plan.boards[b].copy) = one;
        };
        (size(a) == size(b)).then(|| with(plan, swap))
    });
    mirrored.chain(swapped)
}

fn mirror_along(cut: &mut BoardPlan, length: Length) {
    let turned = |from: &mut Length, to: &mut Length| (*from, *to) = (length - *to, length - *from);
    cut.kept
        .iter_mut()
        .for_each(|k| turned(&mut k.from, &mut k.to));
    cut.sections.reverse();
    for section in &mut cut.sections {
        turned(&mut section.from, &mut section.to);
        for strip in &mut section.strips {
            strip.blanks.reverse();
            for blank in &mut strip.blanks {
                turned(&mut blank.from, &mut blank.to);
                blank.left = other_end(blank.left);
            }
        }
    }
}

fn mirror_across(cut: &mut BoardPlan, width: Length) {
    let turned =
        |low: &mut Length, high: &mut Length| (*low, *high) = (width - *high, width - *low);
    cut.kept
        .iter_mut()
        .for_each(|k| turned(&mut k.low, &mut k.high));
    cut.sections
        .iter_mut()
        .for_each(|section| turn_over(section, width));
}

fn turn_over(section: &mut Section, width: Length) {
    let turned =
        |low: &mut Length, high: &mut Length| (*low, *high) = (width - *high, width - *low);
    section.strips.reverse();
    for strip in &mut section.strips {
        turned(&mut strip.low, &mut strip.high);
        for blank in &mut strip.blanks {
            turned(&mut blank.low, &mut blank.high);
        }
    }
}

/// Sections that slide to either end of the waste beside them, are mirrored within their own length, or turned over.
fn of_sections<'p>(job: &'p Job, plan: &'p Plan) -> impl Iterator<Item = Plan> + 'p {
    let places = plan.boards.iter().enumerate();
    let places = places.flat_map(|(b, cut)| (0..cut.sections.len()).map(move |s| (b, s)));
    places.flat_map(move |(b, s)| {
        let board = &job.boards[plan.boards[b].board];
        let cut = &plan.boards[b];
        let allowances = &job.settings.allowances;
        let [hook, far] = board.trims(allowances);
        let section = &cut.sections[s];
        let least = match s.checked_sub(1) {
            Some(before) => cut.sections[before].to + allowances.crosscut_kerf,
            None => hook,
        };
        let most = match cut.sections.get(s + 1) {
            Some(after) => after.from - allowances.crosscut_kerf,
            None => board.length - far,
        };
        let slides = [least - section.from, most - section.to].into_iter();
        let slides = slides.filter(|&by| by != Length::ZERO);
        let slid =
            slides.map(move |by| with(plan, |plan| slide(&mut plan.boards[b].sections[s], by)));
        let turned = with(plan, |plan| {
            let cut = &mut plan.boards[b];
            let edges = (cut.sections[s].from, cut.sections[s].to);
            let beside = |k: &&mut Kept| (k.from, k.to) == edges;
            for kept in cut.kept.iter_mut().filter(beside) {
                (kept.low, kept.high) = (board.width - kept.high, board.width - kept.low);
            }
            turn_over(&mut cut.sections[s], board.width);
        });
        let mirrored = with(plan, |plan| mirror_within(&mut plan.boards[b].sections[s]));
        slid.chain([turned, mirrored])
    })
}

fn slide(section: &mut Section, by: Length) {
    section.from += by;
    section.to += by;
    let strips = section.strips.iter_mut();
    for blank in strips.flat_map(|strip| &mut strip.blanks) {
        blank.from += by;
        blank.to += by;
    }
}

fn mirror_within(section: &mut Section) {
    let ends = section.from + section.to;
    for strip in &mut section.strips {
        strip.blanks.reverse();
        for blank in &mut strip.blanks {
            (blank.from, blank.to) = (ends - blank.to, ends - blank.from);
            blank.left = other_end(blank.left);
        }
    }
}

/// Parts of the room beside a strip at which it is tried.
const PARTS: i64 = 4;

/// Strips that slide across, and neighbours that change places.
fn of_strips<'p>(job: &'p Job, plan: &'p Plan) -> impl Iterator<Item = Plan> + 'p {
    let allowances = &job.settings.allowances;
    strips(plan).flat_map(move |(b, s, t)| {
        let width = job.boards[plan.boards[b].board].width;
        let strips = &plan.boards[b].sections[s].strips;
        let least = match t.checked_sub(1) {
            Some(below) => strips[below].high + allowances.rip_kerf,
            None => allowances.edge_trim,
        };
        let most = match strips.get(t + 1) {
            Some(above) => above.low - allowances.rip_kerf,
            None => width - allowances.edge_trim,
        };
        let (strip, room) = (&strips[t], most - least - (strips[t].high - strips[t].low));
        let lows = (0..=PARTS).map(move |part| least + room * part / PARTS);
        let lows = lows.filter(move |&low| room > Length::ZERO && low != strip.low);
        let slid = lows.map(move |low| {
            let by = low - plan.boards[b].sections[s].strips[t].low;
            with(plan, |plan| {
                lift(&mut plan.boards[b].sections[s].strips[t], by)
            })
        });
        let swapped = strips.get(t + 1).map(|above| {
            let down = strip.low - above.low;
            let up = above.high - strip.high;
            with(plan, |plan| {
                let strips = &mut plan.boards[b].sections[s].strips;
                lift(&mut strips[t], up);
                lift(&mut strips[t + 1], down);
                strips.swap(t, t + 1);
            })
        });
        slid.chain(swapped)
    })
}

/// Every strip: its board, its section, its place there.
pub fn strips(plan: &Plan) -> impl Iterator<Item = (usize, usize, usize)> + '_ {
    plan.boards.iter().enumerate().flat_map(|(b, cut)| {
        let sections = cut.sections.iter().enumerate();
        sections.flat_map(move |(s, section)| (0..section.strips.len()).map(move |t| (b, s, t)))
    })
}

fn lift(strip: &mut Strip, by: Length) {
    strip.low += by;
    strip.high += by;
    for blank in &mut strip.blanks {
        blank.low += by;
        blank.high += by;
    }
}
