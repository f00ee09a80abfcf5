//! All the ways one section of a pattern may lie on a board with defects, found once and remembered.

use std::collections::HashMap;
use std::sync::{Arc, RwLock};

use crate::layout::geometry::place::across::{Stack, stacks};
use crate::layout::geometry::place::along::{Grown, Segment};
use crate::layout::geometry::place::interval::{Packer, intervals};
use crate::layout::geometry::place::pack::{Bench, Packed};
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;

/// Sections remembered at most: with more, all are forgotten.
const MOST_KNOWN: usize = 20_000;

/// Board, strips and lengths of a section.
type Key = (usize, Vec<StripShape>, Vec<i64>);

/// Sections looked at before: patterns share them.
#[derive(Default)]
pub(in crate::layout) struct Sections {
    known: RwLock<HashMap<Key, (Arc<Options>, bool)>>,
}

impl Sections {
    /// All the ways a section of one of `lengths` may lie on the board of kind `index`, and whether these are
    /// all.
    pub(in crate::layout) fn options(
        &self,
        (bench, index): (&Bench, usize),
        section: &[StripShape],
        lengths: Vec<i64>,
    ) -> (Arc<Options>, bool) {
        let key = (index, section.to_vec(), lengths);
        if let Ok(known) = self.known.read()
            && let Some((options, all)) = known.get(&key)
        {
            return (Arc::clone(options), *all);
        }
        let (options, all) = options_of(bench, section, &key.2);
        let options = Arc::new(options);
        if !bench.problem.patience.is_over()
            && let Ok(mut known) = self.known.write()
        {
            if known.len() >= MOST_KNOWN {
                known.clear();
            }
            known.insert(key, (Arc::clone(&options), all));
        }
        (options, all)
    }
}

/// One section of a pattern, in all the ways it may lie.
pub(in crate::layout) struct Options {
    pub(in crate::layout) stacks: Vec<Stack>,
    /// What may lie where, and the stack it is of.
    pub(in crate::layout) segments: Vec<(Segment, usize)>,
    /// Lengths of the tight places, also of those too long for their stack.
    pub(in crate::layout) lengths: Vec<i64>,
    pub(in crate::layout) shortest: i64,
    /// Most that is kept beside it, but for what it grows over slack.
    pub(in crate::layout) most_beside: f64,
}

struct Stacked<'s, 'p, 'a> {
    bench: &'s Bench<'p, 'a>,
    section: &'s [StripShape],
    stack: &'s Stack,
}

impl Packer for Stacked<'_, '_, '_> {
    fn earliest(&self, at: i64) -> Option<Packed> {
        self.bench.earliest(self.section, self.stack, at)
    }

    fn latest(&self, to: i64) -> Option<Packed> {
        self.bench.latest(self.section, self.stack, to)
    }
}

/// All the ways a section of one of `lengths` may lie, and whether these are all.
fn options_of(bench: &Bench, section: &[StripShape], lengths: &[i64]) -> (Options, bool) {
    let (problem, stock) = (bench.problem, bench.stock);
    let mut lines: Vec<i64> = (stock.zones.iter())
        .flat_map(|zone| [zone.from, zone.to])
        .collect();
    lines.sort_unstable();
    lines.dedup();
    let (stacks, mut complete) = stacks(problem, stock, section, lengths);
    complete &= section
        .iter()
        .all(crate::layout::geometry::place::strip::in_every_order);
    let mut segments: Vec<(Segment, usize)> = Vec::new();
    let mut tight_lengths = Vec::new();
    for (nth, stack) in stacks.iter().enumerate() {
        if problem.patience.is_over() {
            complete = false;
            break;
        }
        let packer = Stacked {
            bench,
            section,
            stack,
        };
        let (found, all) = intervals(&packer, stock.from, &lines);
        complete &= all;
        for interval in found {
            tight_lengths.push(interval.long);
            let tight = Segment {
                first: interval.first,
                last: interval.last,
                long: interval.long,
                grown: Grown::No,
                edge: stack.edge,
                loss: stack.loss,
                hook_held: interval.hook_held,
                far_held: interval.far_held,
            };
            if stock.edge_loss(&problem.cuts, tight.long) <= stack.loss {
                let grown = just_long_enough(stock, &problem.cuts, &tight);
                segments.extend(grown.into_iter().map(|segment| (segment, nth)));
                segments.push((tight, nth));
            }
        }
    }
    // A section too short for its edges to be kept may still grow.
    let beside = |segment: &Segment| segment.long as f64 * segment.edge as f64;
    let shortest = segments.iter().map(|(segment, _)| segment.long).min();
    let most_beside = segments
        .iter()
        .map(|(segment, _)| beside(segment))
        .fold(0.0, f64::max);
    let options = Options {
        shortest: shortest.unwrap_or(0),
        most_beside,
        stacks,
        segments,
        lengths: tight_lengths,
    };
    (options, complete)
}

/// The section made just long enough for its edges to be kept, to either end.
fn just_long_enough(stock: &Stock, cuts: &SawRules, tight: &Segment) -> Vec<Segment> {
    let Some(keep) = cuts.keep_length else {
        return Vec::new();
    };
    let more = keep - tight.long;
    if more <= 0 || tight.edge == 0 || stock.edge_loss(cuts, keep) > tight.loss {
        return Vec::new();
    }
    let to_far = Segment {
        last: tight.last.min(stock.to - keep),
        long: keep,
        grown: Grown::ToFar,
        far_held: Vec::new(),
        ..tight.clone()
    };
    let back = |at: &i64| at - more;
    let to_hook = Segment {
        first: (tight.first - more).max(stock.from),
        last: tight.last - more,
        long: keep,
        grown: Grown::ToHook,
        hook_held: Vec::new(),
        far_held: tight.far_held.iter().map(back).collect(),
        ..tight.clone()
    };
    let both = [to_far, to_hook].into_iter();
    both.filter(|segment| segment.first <= segment.last)
        .collect()
}
