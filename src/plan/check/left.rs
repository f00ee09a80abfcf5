//! What the saw has left of a strip: wood that is gone holds nothing together, and is no waste to
//! leave on a short piece.
//!
//! Neighbours of which one is marked cut and the other is not yet may well have left the board as
//! one piece: they count as joined.

use super::view::Placed;
use crate::measure::Length;
use crate::plan::Sawn;

/// What is left, as far as the saw has been told of.
#[derive(Clone, Copy)]
pub(super) struct Left<'s> {
    sawn: Option<&'s Sawn>,
    kerf: Length,
}

impl<'s> Left<'s> {
    pub(super) fn new(sawn: Option<&'s Sawn>, kerf: Length) -> Left<'s> {
        Left { sawn, kerf }
    }

    /// Whether a blank has left its strip already.
    pub(super) fn is_cut(&self, placed: &Placed) -> bool {
        self.sawn
            .is_some_and(|sawn| sawn.is_fixed(placed.blank.front))
    }

    /// Whether two blanks that follow one another are still one piece of wood.
    pub(super) fn joined(&self, a: &Placed, b: &Placed) -> bool {
        let (from, to) = (a.blank.to, b.blank.from);
        let between = |gone: &(Length, Length)| gone.0 <= to && from <= gone.1;
        !self.gone(a).iter().any(between)
    }

    /// How far from a piece its strip is whole: towards the hook end, and away from it.
    pub(super) fn around(&self, first: &Placed, last: &Placed) -> (Length, Length) {
        let (mut from, mut to) = (first.section.from, first.section.to);
        for gone in self.gone(first) {
            if gone.1 <= first.blank.from {
                from = from.max(gone.1);
            } else if gone.0 >= last.blank.to {
                to = to.min(gone.0);
            }
        }
        (from, to)
    }

    /// Wood that is gone along the strip a blank lies in: blanks that were lost, each with its
    /// kerfs, and the kerfs of crosscuts.
    fn gone(&self, placed: &Placed) -> Vec<(Length, Length)> {
        let Some(sawn) = self.sawn else {
            return Vec::new();
        };
        let on = (placed.planned.board, placed.planned.copy);
        let blank = placed.blank;
        let beside = |low: Length, high: Length| low < blank.high && blank.low < high;
        let lost = sawn.pieces.iter().filter(|piece| {
            !piece.stands()
                && (piece.board, piece.copy) == on
                && beside(piece.blank.low, piece.blank.high)
        });
        let lost = lost.map(|p| (p.blank.from - self.kerf, p.blank.to + self.kerf));
        let through = sawn.crosscuts.iter();
        let through = through.filter(|cut| (cut.board, cut.copy) == on);
        lost.chain(through.map(|cut| (cut.at, cut.at + self.kerf)))
            .collect()
    }
}
