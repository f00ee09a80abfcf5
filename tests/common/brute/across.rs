//! The best stack of strips in a section: the widest kept edges.

use std::collections::HashMap;

use grainrow::job::{Board, Job};
use grainrow::measure::Length;
use grainrow::plan::{Blank, Strip};

use super::lane::{Laid, ways};
use super::strip::least_end;
use super::structure::Lane;
use super::{STEP, steps};

/// Strips of one section and the width of the edges kept beside them.
#[derive(Clone, Debug)]
pub struct Stack {
    pub kept: Length,
    pub strips: Vec<Strip>,
}

/// A strip, the lanes in it, and where its section starts.
type StripKey = (Length, Length, Vec<Lane>, Length);

/// All strips tried on one kind of board.
pub struct Across<'a> {
    job: &'a Job,
    board: &'a Board,
    ways: HashMap<(Length, Length, Lane), Vec<Laid>>,
    ends: HashMap<StripKey, Option<(Length, Vec<Blank>)>>,
}

/// Where strips may begin and end: on the grid, and, on a crooked board, on the grid counted from
/// the near trim. That is enough while no edge is kept on a crooked board, as then every stack of
/// strips that fits can be pushed towards the near edge until each strip meets the trim, the strip
/// before, or a defect.
struct Candidates {
    from: Length,
    to: Length,
    all: Vec<Length>,
    /// Whether the board's near edge, and its far edge, lies beside them.
    edges: [bool; 2],
}

impl<'a> Across<'a> {
    pub fn new(job: &'a Job, board: &'a Board) -> Across<'a> {
        Across {
            job,
            board,
            ways: HashMap::new(),
            ends: HashMap::new(),
        }
    }

    /// The best stack of strips that holds all `lanes` in a section.
    pub fn best(&mut self, from: Length, to: Length, lanes: &[Lane]) -> Option<Stack> {
        let places = self.candidates(from, to);
        self.stack(from, to, lanes, places.from, true, &places)
    }

    /// The best stack of strips between `low` and `high`, beside strips that are there; nothing is
    /// trimmed off an edge that is sawn already.
    pub fn best_between(
        &mut self,
        (from, to): (Length, Length),
        (low, high): (Length, Length),
        lanes: &[Lane],
    ) -> Option<Stack> {
        let mut places = self.candidates(from, to);
        places.edges = [low == Length::ZERO, high == self.board.width];
        let near = if places.edges[0] { places.from } else { low };
        let far = if places.edges[1] { places.to } else { high };
        (places.from, places.to) = (near, far);
        places.all.extend(steps(near, far));
        places.all.retain(|&at| at >= near && at <= far);
        places.all.sort();
        places.all.dedup();
        self.stack(from, to, lanes, near, true, &places)
    }

    /// The blanks of `lanes` in a strip that is there, between `from` and `to`.
    pub fn in_strip(
        &mut self,
        (from, to): (Length, Length),
        (low, high): (Length, Length),
        lanes: &[Lane],
    ) -> Option<Vec<Blank>> {
        self.strip(from, to, low, high, lanes)
    }

    fn candidates(&self, from: Length, to: Length) -> Candidates {
        let part = (to - from).inches() / self.board.length.inches();
        let bend = self.board.crook.inches() * part * part / 2.0;
        // Rounded up: a nanometre more trim than asked for is within the rules.
        let bend = Length::from_nm((bend * STEP.nm() as f64).ceil() as i64);
        let near = self.job.settings.allowances.edge_trim + bend;
        let far = self.board.width - near;
        let mut all: Vec<Length> = steps(near, far).collect();
        all.extend(steps(Length::ZERO, far).filter(|&at| at >= near));
        all.sort();
        all.dedup();
        Candidates {
            from: near,
            to: far,
            all,
            edges: [true, true],
        }
    }

    fn stack(
        &mut self,
        from: Length,
        to: Length,
        lanes: &[Lane],
        least: Length,
        first: bool,
        places: &Candidates,
    ) -> Option<Stack> {
        let rip = self.job.settings.allowances.rip_kerf;
        let mut best: Option<Stack> = None;
        for (here, rest) in splits(lanes) {
            let widest = here.iter().map(|lane| lane.width).max().unwrap_or_default();
            for &low in places.all.iter().filter(|&&low| low >= least) {
                for high in self.highs(low, widest, places) {
                    let Some(blanks) = self.strip(from, to, low, high, &here) else {
                        continue;
                    };
                    let above = if rest.is_empty() {
                        let beside = self.board.width - high - rip;
                        let kept = self.edge(from, to, beside, places.edges[1]);
                        Some(Stack {
                            kept,
                            strips: Vec::new(),
                        })
                    } else {
                        self.stack(from, to, &rest, high + rip, false, places)
                    };
                    let Some(mut stack) = above else { continue };
                    if first {
                        stack.kept += self.edge(from, to, low - rip, places.edges[0]);
                    }
                    if best.as_ref().is_none_or(|best| stack.kept > best.kept) {
                        stack.strips.insert(0, Strip { low, high, blanks });
                        best = Some(stack);
                    }
                }
            }
        }
        best
    }

    /// A strip as narrow as its widest lane, or wider, so that its lanes can dodge defects.
    fn highs(&self, low: Length, widest: Length, places: &Candidates) -> Vec<Length> {
        let mut highs = vec![low + widest];
        if !self.board.defects.is_empty() {
            highs.extend(places.all.iter().filter(|&&high| high > low + widest));
        }
        highs.retain(|&high| high <= places.to);
        highs
    }

    fn strip(
        &mut self,
        from: Length,
        to: Length,
        low: Length,
        high: Length,
        lanes: &[Lane],
    ) -> Option<Vec<Blank>> {
        let key = (low, high, lanes.to_vec(), from);
        if !self.ends.contains_key(&key) {
            let ways: Vec<Vec<Laid>> = lanes
                .iter()
                .map(|lane| self.lane_ways(lane, low, high))
                .collect();
            self.ends
                .insert(key.clone(), least_end(self.job, &ways, from));
        }
        let found = self.ends[&key].as_ref()?;
        (found.0 <= to).then(|| found.1.clone())
    }

    fn lane_ways(&mut self, lane: &Lane, low: Length, high: Length) -> Vec<Laid> {
        let key = (low, high, lane.clone());
        let found = self.ways.entry(key);
        found
            .or_insert_with(|| ways(self.job, self.board, lane, low, high))
            .clone()
    }

    /// The width kept of an edge: all or nothing.
    fn edge(&self, from: Length, to: Length, width: Length, is_edge: bool) -> Length {
        let allow = &self.job.settings.allowances;
        let long_enough = allow.keep_offcut.is_some_and(|least| to - from >= least);
        if is_edge && long_enough && width >= allow.keep_width && width > Length::ZERO {
            width
        } else {
            Length::ZERO
        }
    }
}

/// All ways to take some of the lanes and leave the rest.
pub fn splits(lanes: &[Lane]) -> Vec<(Vec<Lane>, Vec<Lane>)> {
    (1u32..1 << lanes.len())
        .map(|mask| {
            let (here, rest): (Vec<_>, Vec<_>) = lanes
                .iter()
                .cloned()
                .enumerate()
                .partition(|(index, _)| mask & (1 << index) != 0);
            let plain =
                |lanes: Vec<(usize, Lane)>| lanes.into_iter().map(|(_, lane)| lane).collect();
            (plain(here), plain(rest))
        })
        .collect()
}
