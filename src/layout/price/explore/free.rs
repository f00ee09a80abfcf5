//! Staves of a width no price asks for.
//!
//! At given prices what a strip is worth is a line in its width between two corners: where a stave is as wide
//! as it may be, where a wide one gets more or a narrow one pays, where another blank fits. Nothing else
//! depends on it but the width that is left beside the strips, which is worth a line too until an edge is too
//! narrow to keep, or nothing is left. So of two strips of a section that lie between corners one may give to
//! the other, step by step, and one way it is worth no less; and a single one may give to the edge, or take
//! from it. The best pattern has no more than one strip between corners in a section, and that
//! one takes all there is: a vertex of a linear program has no more variables between their bounds than
//! it has rows (Dantzig, *Linear Programming and Extensions*, 1963). All staves of a mode on one board must be
//! wide enough together, which is one more row, and one more such strip somewhere on the board.
//!
//! So it is where only the best pattern is asked for, on a board without defects. Where it is warped a width
//! between corners may come out thick enough when those at them do not: then what they would be worth stands in
//! for it, and is no less. Lists have all widths: there the staves of other boards decide.

use super::super::super::geometry::both_kept;
use super::Walk;

impl Walk<'_, '_> {
    /// Whether a strip lies between corners.
    pub(super) fn is_free(&self, class: usize, items: &[usize]) -> bool {
        self.corners_only
            && self.tables.is_between(class, items)
            && !self.stock.is_full(self.tables.classes[class].height)
    }

    /// Whether the section begun has more strips between corners than the best pattern may have.
    pub(super) fn has_too_many_free(&self) -> bool {
        self.free > 1 && self.excess + self.free - 1 > self.may_complete()
    }

    /// The strips too many between corners once the section begun is closed with `free` of them, over what the
    /// sections before it have; none where the best pattern has no so many.
    pub(super) fn excess_with(&self, at: usize) -> Option<usize> {
        if !self.corners_only || self.free == 0 {
            return Some(self.excess);
        }
        let tight = usize::from(self.takes_all(at));
        let excess = self.excess + self.free - tight;
        (excess <= self.may_complete()).then_some(excess)
    }

    /// Modes begun all staves of which may be on this board.
    fn may_complete(&self) -> usize {
        let begun = self
            .staves
            .iter()
            .enumerate()
            .filter(|(_, count)| **count > 0);
        let all = |&(mode, _): &(usize, &usize)| {
            let most = self.sisters.most(self.problem, self.index, mode);
            most >= self.problem.modes[mode].staves
        };
        begun.filter(all).count()
    }

    /// Whether a step more of width beside a section's strips would be one too many, for an edge kept or at all.
    fn takes_all(&self, at: usize) -> bool {
        let cuts = &self.problem.cuts;
        let (long, wide) = self.outline[at];
        let width = self.stock.width;
        let losses = [self.stock.usable(), long].map(|long| self.stock.edge_loss(cuts, long));
        let within = |least: i64, most: i64| least < wide + cuts.glue_step && most >= wide;
        let full = losses.map(|loss| width - 2 * loss);
        if within(full[0], full[1]) {
            return true;
        }
        let one = losses.map(|loss| width - loss - cuts.rip - cuts.keep_width);
        let two = losses.map(|loss| width - 2 * both_kept(cuts, loss));
        cuts.keep_length.is_some() && (within(one[0], one[1]) || within(two[0], two[1]))
    }
}
