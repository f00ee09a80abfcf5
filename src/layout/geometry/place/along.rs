//! Sections in a given order along a board: where each lies, and which of them grow (rule 10a).
//!
//! **Which places suffice.** In the order given, each section is one tight place or slides as one piece
//! between two ([`interval`](crate::layout::geometry::place::interval)). What is kept is linear in where the
//! sections lie; they are held apart by a
//! saw cut, and by the least length of a kept end. So in a best arrangement every section lies at the
//! end of a slide, at a trim or the line of the least kept end, where a blank is just clear of a defect, or
//! a saw cut from a neighbour that does (a corner of the region). Those are the *places* below.
//!
//! A walk along the board then tries at each place whether the section before it grows up to this one, this
//! one grows back to it, or neither; and carries along whether each section that must be anchored is.

use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap};

use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::stock::Stock;

/// How a section has grown until it is just long enough for its edges to be kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::layout) enum Grown {
    No,
    ToHook,
    ToFar,
}

/// A section that may lie with its hook end anywhere from `first` to `last`.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Segment {
    pub(in crate::layout) first: i64,
    pub(in crate::layout) last: i64,
    pub(in crate::layout) long: i64,
    pub(in crate::layout) grown: Grown,
    /// Width of the edges wide enough to keep.
    pub(in crate::layout) edge: i64,
    /// What crook may take off either edge at most.
    pub(in crate::layout) loss: i64,
    /// Hook ends at which the hook end, and the far end, is held by a defect.
    pub(in crate::layout) hook_held: Vec<i64>,
    pub(in crate::layout) far_held: Vec<i64>,
}

/// Where a section lies in the end, and to which end its blanks are pushed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::layout) struct Lies {
    pub(in crate::layout) from: i64,
    pub(in crate::layout) to: i64,
    pub(in crate::layout) to_far: bool,
}

/// A section placed but for what happens at its far end.
#[derive(Clone, Copy, Debug)]
struct State {
    at: i64,
    /// Where it begins: before `at` when it has grown to the hook end over slack.
    from: i64,
    /// Held at its hook end: by the trim, a defect, or a section that is held.
    held: bool,
    /// Has to be anchored: a neighbour has grown at its side, or the section before hangs on it.
    must: bool,
    kept: f64,
    before: Option<usize>,
}

/// Area kept at most by such sections in this order, and where each lies; nothing when they do not fit.
/// `lengths` notes how long each section could grow over slack.
pub(in crate::layout) fn best_along(
    stock: &Stock,
    cuts: &SawRules,
    segments: &[&Segment],
    lengths: &mut [BTreeSet<i64>],
) -> Option<(f64, Vec<Lies>)> {
    let walk = Walk {
        stock,
        cuts,
        segments,
        lengths: RefCell::new(lengths),
    };
    let places = walk.places();
    let mut layers: Vec<Vec<(State, i64, bool)>> = Vec::new();
    let mut states = walk.begin(&places[0]);
    for nth in 0..segments.len() {
        let mut layer = Vec::new();
        let mut next: HashMap<(i64, i64, bool, bool), State> = HashMap::new();
        let mut order = Vec::new();
        for state in states {
            let after: &[i64] = places.get(nth + 1).map_or(&[], Vec::as_slice);
            for (end, grown, follow) in walk.steps(nth, &state, after) {
                let Some((kept, hangs)) = walk.finish(nth, &state, end, grown, follow) else {
                    continue;
                };
                layer.push((State { kept, ..state }, end, grown));
                let Some(follow) = follow else { continue };
                let new = walk.follow(nth, &state, end, grown, follow, hangs);
                let new = State {
                    kept,
                    before: Some(layer.len() - 1),
                    ..new
                };
                let key = (new.at, new.from, new.held, new.must);
                match next.get_mut(&key) {
                    Some(old) if old.kept >= new.kept => {}
                    Some(old) => *old = new,
                    None => {
                        order.push(key);
                        next.insert(key, new);
                    }
                }
            }
        }
        layers.push(layer);
        states = order
            .iter()
            .filter_map(|key| next.get(key).copied())
            .collect();
    }
    walk.trace(&layers)
}

/// What follows a section: the next one's place, and whether it grows back over the slack between.
#[derive(Clone, Copy)]
struct Follow {
    at: i64,
    grows_back: bool,
}

struct Walk<'w> {
    stock: &'w Stock,
    cuts: &'w SawRules,
    segments: &'w [&'w Segment],
    lengths: RefCell<&'w mut [BTreeSet<i64>]>,
}

impl Walk<'_> {
    /// The places of each section worth trying.
    fn places(&self) -> Vec<Vec<i64>> {
        let (kerf, count) = (self.cuts.crosscut, self.segments.len());
        let keep = self.cuts.keep_length.map(|keep| keep + kerf);
        let own = |segment: &Segment| -> Vec<i64> {
            let held = segment.hook_held.iter().chain(&segment.far_held);
            let held = held.filter(|at| (segment.first..=segment.last).contains(at));
            held.copied().chain([segment.first, segment.last]).collect()
        };
        let mut places: Vec<Vec<i64>> = self.segments.iter().map(|s| own(s)).collect();
        let mut chain: Vec<i64> = vec![self.stock.from];
        chain.extend(keep.map(|keep| self.stock.from + keep));
        for (nth, segment) in self.segments.iter().enumerate() {
            if nth > 0 {
                let past = self.segments[nth - 1].long + kerf;
                chain.iter_mut().for_each(|at| *at += past);
            }
            chain.extend(own(segment));
            chain.retain(|at| (segment.first..=segment.last).contains(at));
            places[nth].extend(&chain);
        }
        chain = vec![self.stock.to];
        chain.extend(keep.map(|keep| self.stock.to - keep));
        for nth in (0..count).rev() {
            let segment = self.segments[nth];
            let gap = if nth + 1 < count { kerf } else { 0 };
            chain.iter_mut().for_each(|at| *at -= segment.long + gap);
            chain.extend(own(segment));
            chain.retain(|at| (segment.first..=segment.last).contains(at));
            places[nth].extend(&chain);
        }
        for at in &mut places {
            at.sort_unstable();
            at.dedup();
        }
        places
    }

    /// The first section at each of its places, grown to the hook end or not.
    fn begin(&self, places: &[i64]) -> Vec<State> {
        let (segment, from) = (self.segments[0], self.stock.from);
        let mut states = Vec::new();
        for &at in places {
            let kept = match self.stock.ends[0] {
                true => self.end_kept(at - self.cuts.crosscut - from),
                false => 0.0,
            };
            states.push(State {
                at,
                from: at,
                held: at == from || segment.hook_held.contains(&at),
                must: false,
                kept,
                before: None,
            });
            if at > from && self.may_grow(0) {
                states.push(State {
                    at,
                    from,
                    held: false,
                    must: false,
                    kept: 0.0,
                    before: None,
                });
            }
        }
        states
    }

    fn end_kept(&self, long: i64) -> f64 {
        let keeps = |keep: i64| long >= keep.max(1) && self.stock.width >= self.cuts.keep_width;
        if self.cuts.keep_length.is_some_and(keeps) {
            long as f64 * self.stock.width as f64
        } else {
            0.0
        }
    }

    /// Whether a section may grow over slack: for its edges, and not twice.
    fn may_grow(&self, nth: usize) -> bool {
        self.segments[nth].edge > 0 && self.segments[nth].grown == Grown::No
    }

    /// The ways on from a section: its far end, whether it grew there, and what follows.
    fn steps(&self, nth: usize, state: &State, after: &[i64]) -> Vec<(i64, bool, Option<Follow>)> {
        let (segment, kerf) = (self.segments[nth], self.cuts.crosscut);
        let end = state.at + segment.long;
        if nth + 1 == self.segments.len() {
            let grown =
                (end < self.stock.to && self.may_grow(nth)).then_some((self.stock.to, true, None));
            return [(end, false, None)].into_iter().chain(grown).collect();
        }
        let next = self.segments[nth + 1];
        let mut steps = Vec::new();
        for &at in after.iter().filter(|&&at| at >= end + kerf) {
            let stay = Follow {
                at,
                grows_back: false,
            };
            let slack = at > end + kerf;
            let here = segment.grown == Grown::ToFar && slack;
            let there = next.grown == Grown::ToHook && slack;
            // Grown just long enough, both into one slack.
            let shared = segment.grown == Grown::ToFar && next.grown == Grown::ToHook;
            if !shared {
                steps.push((end, false, Some(stay)));
            }
            if slack && self.may_grow(nth) && !there {
                steps.push((at - kerf, true, Some(stay)));
            }
            if slack && self.may_grow(nth + 1) && !here {
                let back = Follow {
                    at,
                    grows_back: true,
                };
                steps.push((end, false, Some(back)));
            }
        }
        steps
    }

    /// Area kept once the section ends at `end`, and whether it hangs on the next to be anchored; nothing
    /// when its strips do not keep off the edges, or it must be anchored and can't be.
    fn finish(
        &self,
        nth: usize,
        state: &State,
        end: i64,
        grown: bool,
        follow: Option<Follow>,
    ) -> Option<(f64, bool)> {
        let (segment, cuts) = (self.segments[nth], self.cuts);
        let long = end - state.from;
        let grown_back = state.from < state.at;
        if grown || grown_back {
            self.lengths.borrow_mut()[nth].insert(long);
        }
        if self.stock.edge_loss(cuts, long) > segment.loss {
            return None;
        }
        let mut kept = state.kept;
        if cuts.keep_length.is_some_and(|keep| long >= keep) {
            kept += long as f64 * segment.edge as f64;
        }
        if follow.is_none() && self.stock.ends[1] {
            kept += self.end_kept(self.stock.to - end - cuts.crosscut);
        }
        let beside = follow.is_some_and(|follow| follow.grows_back);
        let must = state.must || beside || (grown != grown_back);
        let abuts = !grown && follow.is_some_and(|f| f.at == end + cuts.crosscut);
        let hangs = must && !self.anchored(nth, state, end, grown);
        (!hangs || abuts).then_some((kept, hangs))
    }

    /// Whether a section is anchored by itself or by what lies before it.
    fn anchored(&self, nth: usize, state: &State, end: i64, grown: bool) -> bool {
        let far = self.segments[nth].far_held.contains(&state.at) || end == self.stock.to;
        state.held || (!grown && far)
    }

    fn follow(
        &self,
        nth: usize,
        state: &State,
        end: i64,
        grown: bool,
        follow: Follow,
        hangs: bool,
    ) -> State {
        let next = self.segments[nth + 1];
        // An end grown just far enough to keep an edge has not grown over slack: it holds like one that has not
        // grown, at the trim or a kerf from what is held, but for a blank that stands off it.
        let abuts = !grown && follow.at == end + self.cuts.crosscut;
        let chained = abuts && self.anchored(nth, state, end, grown);
        let from = if follow.grows_back {
            end + self.cuts.crosscut
        } else {
            follow.at
        };
        State {
            at: follow.at,
            from,
            held: !follow.grows_back && (chained || next.hook_held.contains(&follow.at)),
            must: hangs || grown,
            kept: 0.0,
            before: None,
        }
    }

    /// The best way through, from the last section back.
    fn trace(&self, layers: &[Vec<(State, i64, bool)>]) -> Option<(f64, Vec<Lies>)> {
        let last = layers.last()?;
        let most = |best: Option<usize>, nth: usize| match best {
            Some(best) if last[best].0.kept >= last[nth].0.kept => Some(best),
            _ => Some(nth),
        };
        let best = (0..last.len()).fold(None, most)?;
        let kept = last[best].0.kept;
        let mut lies = Vec::new();
        let mut at = Some(best);
        for (nth, layer) in layers.iter().enumerate().rev() {
            let (state, end, grown) = layer[at?];
            // Blanks stand by the end that the section is held at.
            let back = state.from < state.at || self.segments[nth].grown == Grown::ToHook;
            let only_far = !state.held && self.segments[nth].far_held.contains(&state.at);
            lies.push(Lies {
                from: state.from,
                to: end,
                to_far: !grown && (back || only_far),
            });
            at = state.before;
        }
        lies.reverse();
        Some((kept, lies))
    }
}
