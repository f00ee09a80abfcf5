//! What a branch left open, decided both ways.

use std::collections::{BTreeMap, BTreeSet};

use crate::layout::Counts;
use crate::measure::Length;
use crate::plan::{BoardPlan, Plan, placed};

use super::reduce::{Decided, Origin, State, edge_taken};
use super::rest::{Edge, Rest};
use super::score::moves;
use super::search::Answer;
use super::stays::Fronts;

/// Chalk that stays in a branch, and all open chalk the answer leaves on its board.
pub(super) fn at_home(state: State<'_>, decided: &Decided, answer: &Plan) -> Fronts {
    let (before, now) = (boards_by_front(state.last.plan), boards_by_front(answer));
    let same = |front: &&usize| before.get(front) == now.get(front);
    let home = open(state, decided).into_iter().filter(|f| same(&f));
    decided.stays.iter().copied().chain(home).collect()
}

/// A branch parted by something its answer does not settle; none when it settles all.
pub(super) fn children(state: State<'_>, decided: &Decided, answer: &Answer) -> Vec<Decided> {
    if let Some(front) = unsettled_front(state, decided, answer.plan.as_ref()) {
        return by_first_to_go(decided, &open_beside(state, decided, front));
    }
    let Some((edge, span, used)) = unsettled_edge(state, decided, answer) else {
        return Vec::new();
    };
    let (mut less, mut more) = (decided.clone(), decided.clone());
    less.edges.insert(edge, (span.0, used - Length::from_nm(1)));
    more.edges.insert(edge, (used, span.1));
    vec![less, more]
}

/// All of these fronts stay, or each in turn is the first to go. Parted front by front, a branch
/// would be in between where part of a stretch stays and the rest is free to lose its grain.
fn by_first_to_go(decided: &Decided, fronts: &[usize]) -> Vec<Decided> {
    let stay = |fronts: &[usize]| {
        let mut decided = decided.clone();
        decided.stays.extend(fronts);
        decided
    };
    let going = fronts.iter().enumerate().map(|(at, &front)| {
        let mut decided = stay(&fronts[..at]);
        decided.goes.insert(front);
        decided
    });
    std::iter::once(stay(fronts)).chain(going).collect()
}

/// The open chalk of a front's stretch, in run order.
fn open_beside(state: State<'_>, decided: &Decided, front: usize) -> Vec<usize> {
    let open = open(state, decided);
    let key = stretch(state, front);
    let run = &state.job.runs[state.job.place_of(front).0];
    let beside = |f: &&usize| open.contains(f) && stretch(state, **f) == key;
    run.fronts.iter().filter(beside).copied().collect()
}

fn open(state: State<'_>, decided: &Decided) -> Fronts {
    let is_open = |f: &&usize| !decided.stays.contains(f) && !decided.goes.contains(f);
    state.held.iter().filter(is_open).copied().collect()
}

/// Open chalk whose place the answer does not settle: beside cut pieces of its stretch, where only
/// staying avoids a break, or moved without leaving its board.
fn unsettled_front(state: State<'_>, decided: &Decided, plan: Option<&Plan>) -> Option<usize> {
    let open = open(state, decided);
    let begun = begun_stretches(state, decided);
    let is_begun = |f: &&usize| stretch(state, **f).is_some_and(|key| begun.contains(&key));
    if let Some(&front) = open.iter().find(is_begun) {
        return Some(front);
    }
    let Some(plan) = plan else {
        return open.first().copied();
    };
    moves(state, plan).into_iter().find(|f| open.contains(f))
}

fn begun_stretches(state: State<'_>, decided: &Decided) -> BTreeSet<(usize, u32)> {
    let cut = state.sawn.standing().map(|piece| piece.blank.front);
    let there = cut.chain(decided.stays.iter().copied());
    there.filter_map(|front| stretch(state, front)).collect()
}

/// The run and the stretch a front is chalked in.
fn stretch(state: State<'_>, front: usize) -> Option<(usize, u32)> {
    let (.., blank) = placed(state.last.plan).find(|(.., blank)| blank.front == front)?;
    Some((state.job.place_of(front).0, blank.stretch))
}

/// The pieces of boards in use that the answer may cut, and what they count.
fn rests(answer: &Answer) -> impl Iterator<Item = (&Rest, &Counts)> {
    let boards = answer.reduced.origin.iter();
    let boards = boards.zip(&answer.reduced.history.counts);
    boards.filter_map(|(origin, counts)| match (origin, counts) {
        (Origin::Rest(rest), Some(counts)) => Some((rest, counts)),
        _ => None,
    })
}

/// An edge of which the answer uses more than was counted, its span in this branch, and how much
/// is used.
fn unsettled_edge(
    state: State<'_>,
    decided: &Decided,
    answer: &Answer,
) -> Option<(Edge, (Length, Length), Length)> {
    let plan = answer.plan.as_ref()?;
    rests(answer)
        .filter_map(|(rest, counts)| Some((rest, rest.edge?, counts.whole)))
        .find_map(|(rest, edge, counted)| {
            let used = used_of(state, rest, edge, plan)?;
            let taken = edge_taken(state.job, rest, used);
            let known = decided.edges.get(&edge).copied();
            let span = known.unwrap_or((Length::from_nm(1), rest.high - rest.low));
            let differs = taken.value() > counted.value() + 1e-9 && used > span.0;
            differs.then_some((edge, span, used))
        })
}

/// How far new strips reach into an edge, from the strips beside it.
fn used_of(state: State<'_>, rest: &Rest, edge: Edge, plan: &Plan) -> Option<Length> {
    let here = |b: &&BoardPlan| (b.board, b.copy) == (edge.board, edge.copy);
    let board = plan.boards.iter().find(here)?;
    let section = board.sections.iter().find(|s| s.from == edge.from)?;
    let width = state.job.boards[edge.board].width;
    let used = if edge.near {
        rest.high - section.strips.iter().map(|s| s.low).min()?
    } else {
        section.strips.iter().map(|s| s.high).max()? - rest.low
    };
    (used > Length::ZERO && used <= width).then_some(used)
}

/// The boards each front's staves come from.
fn boards_by_front(plan: &Plan) -> BTreeMap<usize, Vec<(usize, u32, u32)>> {
    let mut boards: BTreeMap<usize, Vec<(usize, u32, u32)>> = BTreeMap::new();
    for (board, _, _, blank) in placed(plan) {
        let own = boards.entry(blank.front).or_default();
        own.push((board.board, board.copy, blank.stave));
        own.sort_unstable();
    }
    boards
}
