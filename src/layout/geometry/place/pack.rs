//! A section's strips pushed to one end.

use crate::layout::geometry::place::across::Stack;
use crate::layout::geometry::place::spans::spans;
use crate::layout::geometry::place::strip::pack_strip;
use crate::layout::geometry::place::turn::{turn_strip, turned};
use crate::layout::geometry::placed::{PlacedSection, PlacedStrip};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;
use crate::layout::model::zone::blocked;

/// A section packed as near as can be to the end it is pushed to.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Packed {
    pub(in crate::layout) from: i64,
    pub(in crate::layout) to: i64,
    /// No end may lie past this.
    pub(in crate::layout) limit: i64,
    /// Starts and ends of all blanks.
    pub(in crate::layout) blanks: Vec<(i64, i64)>,
    /// By how much the section would have to move for a blank with no slack between it and the end
    /// pushed to, to be just clear of a defect.
    pub(in crate::layout) held: Vec<i64>,
}

/// The sides of a board a section is measured from.
pub(in crate::layout) struct Bench<'p, 'a> {
    pub(in crate::layout) problem: &'p Problem<'a>,
    pub(in crate::layout) stock: &'p Stock,
    /// The same board hooked at its other end.
    pub(in crate::layout) turned: Stock,
}

impl<'p, 'a> Bench<'p, 'a> {
    pub(in crate::layout) fn new(problem: &'p Problem<'a>, stock: &'p Stock) -> Bench<'p, 'a> {
        Bench {
            problem,
            stock,
            turned: turned(stock),
        }
    }

    /// The earliest end of a stack of strips that starts at `at` or later.
    pub(in crate::layout) fn earliest(
        &self,
        section: &[StripShape],
        stack: &Stack,
        at: i64,
    ) -> Option<Packed> {
        packed(self.problem, self.stock, section, stack, at)
    }

    /// The latest start of one that ends at `to` or before.
    pub(in crate::layout) fn latest(
        &self,
        section: &[StripShape],
        stack: &Stack,
        to: i64,
    ) -> Option<Packed> {
        let length = self.stock.length;
        let back = packed(self.problem, &self.turned, section, stack, length - to)?;
        Some(Packed {
            from: length - back.to,
            to: length - back.from,
            limit: back.limit,
            blanks: (back.blanks.iter())
                .map(|&(from, to)| (length - to, length - from))
                .collect(),
            held: back.held.iter().map(|by| -by).collect(),
        })
    }

    /// The stack in a section from `from` to `to`, its blanks pushed to the hook end or the far end.
    pub(in crate::layout) fn placed(
        &self,
        section: &[StripShape],
        stack: &Stack,
        (from, to): (i64, i64),
        to_far: bool,
    ) -> Option<PlacedSection> {
        let strip = |&(strip, low): &(usize, i64)| -> Option<PlacedStrip> {
            if to_far {
                let at = self.stock.length - to;
                let packed = pack_strip(self.problem, &self.turned, &section[strip], low, at)?;
                Some(turn_strip(self.problem, self.stock.length, packed.strip))
            } else {
                let packed = pack_strip(self.problem, self.stock, &section[strip], low, from)?;
                Some(packed.strip)
            }
        };
        let strips = stack.strips.iter().map(strip).collect::<Option<_>>()?;
        Some(PlacedSection { from, to, strips })
    }
}

fn packed(
    problem: &Problem,
    stock: &Stock,
    section: &[StripShape],
    stack: &Stack,
    at: i64,
) -> Option<Packed> {
    let mut packed = Packed {
        from: at,
        to: at,
        limit: stock.to,
        blanks: Vec::new(),
        held: Vec::new(),
    };
    for &(strip, low) in &stack.strips {
        let strip = pack_strip(problem, stock, &section[strip], low, at)?;
        packed.to = packed.to.max(strip.to);
        note(problem, stock, &strip.strip, at, &mut packed);
    }
    Some(packed)
}

/// Notes a strip's blanks, and what would hold those with no slack before them.
fn note(problem: &Problem, stock: &Stock, strip: &PlacedStrip, at: i64, packed: &mut Packed) {
    let mut next = Some(at);
    for placed in &strip.items {
        let item = &problem.items[placed.item];
        let lane = blocked(
            &stock.zones,
            placed.low,
            placed.low + placed.width,
            placed.face,
        );
        let blanks = spans(problem, placed);
        let count = blanks.len();
        for (nth, &(from, to)) in blanks.iter().enumerate() {
            packed.blanks.push((from, to));
            if next != Some(from) {
                next = None;
                continue;
            }
            let sides = lane.iter().flat_map(|&(zone, end)| [zone - to, end - from]);
            packed.held.extend(sides);
            let gap = match nth + 1 < count {
                true if placed.reverse => item.gaps[count - 2 - nth],
                true => item.gaps[nth],
                false => problem.cuts.crosscut,
            };
            next = Some(to + gap);
        }
    }
}
