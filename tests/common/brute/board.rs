//! The best sections of a board: what is kept of it is worth most.

use std::collections::HashMap;

use grainrow::job::{Board, Job};
use grainrow::measure::{BoardFeet, Length};
use grainrow::plan::{BoardPlan, Kept, Section};

use super::across::{Across, Stack, splits};
use super::steps;
use super::structure::Lane;

/// All loads tried on all kinds of board.
pub struct Boards<'a> {
    job: &'a Job,
    across: Vec<Across<'a>>,
    stacks: HashMap<(usize, Length, Length, Vec<Lane>), Option<Stack>>,
    done: HashMap<(usize, Vec<Lane>), Option<Cut>>,
}

/// A length of board to crosscut sections from.
#[derive(Clone, Copy)]
struct Gap {
    /// Where the last section must end.
    to: Length,
    /// Whether what is left at its hook end, and at its far end, is kept.
    ends: [bool; 2],
}

/// Sections, and the square inches kept, as nanometres squared.
#[derive(Clone, Debug)]
struct Cut {
    kept: i128,
    sections: Vec<Section>,
}

impl<'a> Boards<'a> {
    pub fn new(job: &'a Job) -> Boards<'a> {
        Boards {
            job,
            across: job
                .boards
                .iter()
                .map(|board| Across::new(job, board))
                .collect(),
            stacks: HashMap::new(),
            done: HashMap::new(),
        }
    }

    /// The least board feet used when `lanes` are cut from one board of this kind.
    pub fn feet_used(&mut self, kind: usize, lanes: &[Lane]) -> Option<f64> {
        self.best(kind, lanes)?;
        let plan = self.plan(kind, 1, lanes);
        let board = &self.job.boards[kind];
        let feet = |k: &Kept| BoardFeet::of_piece(k.to - k.from, k.high - k.low, board.thickness);
        let kept: f64 = plan.kept.iter().map(|kept| feet(kept).value()).sum();
        Some(board.feet().value() - kept)
    }

    /// The plan of a board for lanes it can hold.
    pub fn plan(&mut self, kind: usize, copy: u32, lanes: &[Lane]) -> BoardPlan {
        let mut sections = self.best(kind, lanes).expect("lanes that fit").sections;
        name_blanks(&mut sections, lanes);
        BoardPlan {
            board: kind,
            copy,
            kept: self.kept(&self.job.boards[kind], &sections),
            sections,
        }
    }

    fn best(&mut self, kind: usize, lanes: &[Lane]) -> Option<Cut> {
        let mut lanes: Vec<Lane> = lanes.iter().map(Lane::unnamed).collect();
        lanes.sort();
        let key = (kind, lanes);
        if !self.done.contains_key(&key) {
            let board = &self.job.boards[kind];
            let (from, to) = board.between_trims(&self.job.settings.allowances);
            let mut memo = HashMap::new();
            let gap = Gap {
                to,
                ends: [true; 2],
            };
            let found = self.sections(kind, &key.1, from, true, gap, &mut memo);
            self.done.insert(key.clone(), found);
        }
        self.done[&key].clone()
    }

    /// The best sections for `lanes` from `at` on.
    fn sections(
        &mut self,
        kind: usize,
        lanes: &[Lane],
        at: Length,
        first: bool,
        gap: Gap,
        memo: &mut HashMap<(Vec<Lane>, Length), Option<Cut>>,
    ) -> Option<Cut> {
        if let Some(known) = memo.get(&(lanes.to_vec(), at)).filter(|_| !first) {
            return known.clone();
        }
        let (job, board) = (self.job, &self.job.boards[kind]);
        let allow = &job.settings.allowances;
        let last = gap.to;
        let begin = at;
        let mut best: Option<Cut> = None;
        for (here, rest) in splits(lanes) {
            for from in steps(at, last) {
                for to in steps(from, last).skip(1) {
                    let Some(stack) = self.stack(kind, from, to, &here) else {
                        continue;
                    };
                    let after = if rest.is_empty() {
                        let kept = self.end(board, last - to - allow.crosscut_kerf, gap.ends[1]);
                        Some(Cut {
                            kept,
                            sections: Vec::new(),
                        })
                    } else {
                        self.sections(kind, &rest, to + allow.crosscut_kerf, false, gap, memo)
                    };
                    let Some(mut cut) = after else { continue };
                    cut.kept += i128::from((to - from).nm()) * i128::from(stack.kept.nm());
                    if first {
                        let before = from - allow.crosscut_kerf - begin;
                        cut.kept += self.end(board, before, gap.ends[0]);
                    }
                    if best.as_ref().is_none_or(|best| cut.kept > best.kept) {
                        let strips = stack.strips;
                        cut.sections.insert(0, Section { from, to, strips });
                        best = Some(cut);
                    }
                }
            }
        }
        if !first {
            memo.insert((lanes.to_vec(), at), best.clone());
        }
        best
    }

    fn stack(&mut self, kind: usize, from: Length, to: Length, lanes: &[Lane]) -> Option<Stack> {
        let key = (kind, from, to, lanes.to_vec());
        if !self.stacks.contains_key(&key) {
            let found = self.across[kind].best(from, to, lanes);
            self.stacks.insert(key.clone(), found);
        }
        self.stacks[&key].clone()
    }

    /// What is kept of an end so long.
    fn end(&self, board: &Board, long: Length, is_end: bool) -> i128 {
        let allow = &self.job.settings.allowances;
        let fits = allow.keep_offcut.is_some_and(|least| long >= least);
        if is_end && fits && long > Length::ZERO && board.width >= allow.keep_width {
            i128::from(long.nm()) * i128::from(board.width.nm())
        } else {
            0
        }
    }

    /// The best sections for `lanes` between `from` and `to`, and which ends of that are kept.
    pub fn between(
        &mut self,
        kind: usize,
        (from, to): (Length, Length),
        ends: [bool; 2],
        lanes: &[Lane],
    ) -> Option<Vec<Section>> {
        let mut memo = HashMap::new();
        let gap = Gap { to, ends };
        let found = self.sections(kind, lanes, from, true, gap, &mut memo)?;
        Some(found.sections)
    }

    /// Strips of one kind of board.
    pub fn across(&mut self, kind: usize) -> &mut Across<'a> {
        &mut self.across[kind]
    }

    /// The pieces kept of a board cut like this.
    pub fn kept(&self, board: &Board, sections: &[Section]) -> Vec<Kept> {
        let allow = &self.job.settings.allowances;
        let (first, last) = (&sections[0], &sections[sections.len() - 1]);
        let whole = |from, to| Kept {
            from,
            to,
            low: Length::ZERO,
            high: board.width,
        };
        let mut pieces = vec![
            whole(board.trims(allow)[0], first.from - allow.crosscut_kerf),
            whole(last.to + allow.crosscut_kerf, board.between_trims(allow).1),
        ];
        for section in sections {
            let strips = &section.strips;
            let edge = |low, high| Kept {
                from: section.from,
                to: section.to,
                low,
                high,
            };
            pieces.push(edge(Length::ZERO, strips[0].low - allow.rip_kerf));
            let far = strips[strips.len() - 1].high + allow.rip_kerf;
            pieces.push(edge(far, board.width));
        }
        let enough = |k: &Kept| {
            let long = k.to - k.from;
            let wide = k.high - k.low;
            let least = allow.keep_offcut.unwrap_or(Length::from_nm(i64::MAX));
            long >= least && wide >= allow.keep_width && long > Length::ZERO && wide > Length::ZERO
        };
        pieces.retain(enough);
        pieces
    }
}

/// Says on each blank which stretch and stave it is of. The blanks of a lane lie side by side.
pub fn name_blanks(sections: &mut [Section], lanes: &[Lane]) {
    let mut open = lanes.to_vec();
    for strip in sections.iter_mut().flat_map(|section| &mut section.strips) {
        let mut at = 0;
        while at < strip.blanks.len() {
            let blank = &strip.blanks[at];
            let width = blank.high - blank.low;
            let is = |lane: &Lane| lane.fronts.contains(&blank.front) && lane.width == width;
            let found = open.iter().position(is).expect("a lane for every blank");
            let lane = open.swap_remove(found);
            for blank in &mut strip.blanks[at..at + lane.fronts.len()] {
                blank.stretch = lane.stretch;
                (blank.stave, blank.staves) = (lane.stave, lane.staves);
            }
            at += lane.fronts.len();
        }
    }
}
