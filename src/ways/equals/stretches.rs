//! Stretches turned end for end or face over, and such as change places.

use crate::job::Job;
use crate::plan::{Blank, End, Face, Plan};

use super::moves::{strips, with};

/// Where the blanks of a stretch (or of one stave of it) lie, in the order they are read in.
#[derive(Clone, PartialEq, Eq)]
struct Lying {
    run: usize,
    stretch: u32,
    stave: u32,
    staves: u32,
    strip: (usize, usize, usize),
    blanks: Vec<usize>,
}

impl Lying {
    fn blank<'p>(&self, plan: &'p mut Plan, at: usize) -> &'p mut Blank {
        let (b, s, t) = self.strip;
        &mut plan.boards[b].sections[s].strips[t].blanks[at]
    }

    fn each(&self, plan: &mut Plan, mut change: impl FnMut(&mut Blank)) {
        self.blanks
            .iter()
            .for_each(|&at| change(self.blank(plan, at)));
    }

    fn fronts(&self, plan: &Plan) -> Vec<usize> {
        let (b, s, t) = self.strip;
        let blanks = &plan.boards[b].sections[s].strips[t].blanks;
        self.blanks.iter().map(|&at| blanks[at].front).collect()
    }
}

/// Stretches that are turned end for end or face over, and pairs of them that change places.
pub fn of_stretches<'p>(job: &Job, plan: &'p Plan) -> impl Iterator<Item = Plan> + 'p {
    let lying = lying(job, plan);
    let turned = lying.clone().into_iter().flat_map(move |one| {
        let ended = with(plan, |plan| turn_end_for_end(plan, &one));
        let over = with(plan, |plan| one.each(plan, turn_face_over));
        let both = with(&ended, |plan| one.each(plan, turn_face_over));
        [ended, over, both]
    });
    let count = lying.len();
    let pairs = (0..count).flat_map(move |a| (a + 1..count).map(move |b| (a, b)));
    let exchanged = pairs.filter_map(move |(a, b)| exchanged(plan, &lying[a], &lying[b]));
    turned.chain(exchanged)
}

/// Every stretch's blanks.
fn lying(job: &Job, plan: &Plan) -> Vec<Lying> {
    let mut run_of = vec![0; job.fronts.len()];
    for (run, fronts) in job.runs.iter().enumerate() {
        fronts.fronts.iter().for_each(|&front| run_of[front] = run);
    }
    let mut all = Vec::new();
    for strip in strips(plan) {
        let (b, s, t) = strip;
        let blanks = &plan.boards[b].sections[s].strips[t].blanks;
        let key = |blank: &Blank| (run_of[blank.front], blank.stretch, blank.stave);
        let mut first = 0;
        for group in blanks.chunk_by(|a, b| key(a) == key(b)) {
            let (run, stretch, stave) = key(&group[0]);
            let mut places: Vec<usize> = (first..first + group.len()).collect();
            if group[0].left == End::Far {
                places.reverse();
            }
            first += group.len();
            all.push(Lying {
                run,
                stretch,
                stave,
                staves: group[0].staves,
                strip,
                blanks: places,
            });
        }
    }
    all
}

/// The other end.
pub fn other_end(end: End) -> End {
    match end {
        End::Hook => End::Far,
        End::Far => End::Hook,
    }
}

fn turn_face_over(blank: &mut Blank) {
    blank.face = match blank.face {
        Face::Up => Face::Down,
        Face::Down => Face::Up,
    };
}

/// Mirrors a stretch within the length it takes.
fn turn_end_for_end(plan: &mut Plan, one: &Lying) {
    let (b, s, t) = one.strip;
    let blanks = &mut plan.boards[b].sections[s].strips[t].blanks;
    let (Some(first), Some(last)) = (one.blanks.iter().min(), one.blanks.iter().max()) else {
        return;
    };
    let blanks = &mut blanks[*first..=*last];
    let ends = blanks[0].from + blanks[blanks.len() - 1].to;
    blanks.reverse();
    for blank in blanks {
        (blank.from, blank.to) = (ends - blank.to, ends - blank.from);
        blank.left = other_end(blank.left);
    }
}

/// Two stretches in each other's places: those that follow one another in a run with the break moved, and others
/// where they have as many fronts.
fn exchanged(plan: &Plan, one: &Lying, other: &Lying) -> Option<Plan> {
    let (first, second) = match one.stretch < other.stretch {
        true => (one, other),
        false => (other, one),
    };
    let whole = first.staves == 1 && second.staves == 1;
    if first.run == second.run && whole && second.stretch == first.stretch + 1 {
        return Some(with(plan, |plan| move_break(plan, first, second)));
    }
    (one.blanks.len() == other.blanks.len()).then(|| with(plan, |plan| swap(plan, one, other)))
}

/// The fronts of two stretches that follow one another, the places of these the other way round.
fn move_break(plan: &mut Plan, first: &Lying, second: &Lying) {
    let fronts = [first.fronts(plan), second.fronts(plan)].concat();
    let places = |lying: &Lying| lying.blanks.clone().into_iter();
    let places = places(second)
        .map(|at| (second, at, first.stretch))
        .chain(places(first).map(|at| (first, at, second.stretch)));
    for (front, (lying, at, stretch)) in fronts.into_iter().zip(places) {
        let blank = lying.blank(plan, at);
        (blank.front, blank.stretch) = (front, stretch);
    }
}

fn swap(plan: &mut Plan, one: &Lying, other: &Lying) {
    let of = |blank: &mut Blank| (blank.front, blank.stave, blank.staves, blank.stretch);
    for (&a, &b) in one.blanks.iter().zip(&other.blanks) {
        let (here, there) = (of(one.blank(plan, a)), of(other.blank(plan, b)));
        let set = |blank: &mut Blank, to: (usize, u32, u32, u32)| {
            (blank.front, blank.stave, blank.staves, blank.stretch) = to;
        };
        set(one.blank(plan, a), there);
        set(other.blank(plan, b), here);
    }
}
