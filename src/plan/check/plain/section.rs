//! Rule 10 (a): how a section may have come to its length.

use super::strip::{Lane, Side};
use crate::measure::Length;

/// A section with its strips seen from both ends.
pub(super) struct Rows {
    pub from: Length,
    pub to: Length,
    pub hook: Vec<Lane>,
    pub far: Vec<Lane>,
}

/// How one end of a section has come to lie where it lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Growth {
    /// As near the other end as its strips allow.
    #[default]
    Tight,
    /// It has grown over all the slack beside it.
    AllSlack,
    /// It has grown until the section is as long as the shortest kept piece.
    ToKeep,
}

/// The same of both ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Growths {
    pub hook: Growth,
    pub far: Growth,
}

/// What a section may grow to.
pub(super) struct Reach {
    /// Whether its hook end lies as far out as it could: at the end trim or a kerf from a neighbour.
    pub hook: bool,
    /// Whether its far end does.
    pub far: bool,
    /// Whether it is exactly as long as the shortest kept piece.
    pub keep: bool,
}

impl Growths {
    pub(super) fn at(self, side: Side) -> Growth {
        match side {
            Side::Hook => self.hook,
            Side::Far => self.far,
        }
    }

    pub(super) fn at_one_end(self) -> bool {
        (self.hook == Growth::Tight) != (self.far == Growth::Tight)
    }
}

impl Rows {
    /// Its rows seen from a side, and the side's end and the other, in that direction.
    pub(super) fn seen(&self, side: Side) -> (&[Lane], Length, Length) {
        let (near, far) = side.span((self.from, self.to));
        match side {
            Side::Hook => (&self.hook, near, far),
            Side::Far => (&self.far, near, far),
        }
    }

    /// How near the side all of it can end, with that side's end at `from` and the other no farther
    /// than `limit`.
    fn least_end(&self, side: Side, from: Length, limit: Length) -> Option<Length> {
        let (lanes, ..) = self.seen(side);
        let ends = lanes.iter().map(|lane| lane.least_end(from, limit));
        ends.collect::<Option<Vec<Length>>>()?.into_iter().max()
    }

    /// Whether its strips can lie in this much of the board.
    fn fits(&self, from: Length, to: Length) -> bool {
        self.least_end(Side::Hook, from, to).is_some()
    }

    /// Whether its strips can lie in it at all; if not, other rules say so.
    pub(super) fn holds(&self) -> bool {
        self.fits(self.from, self.to)
    }

    /// Every way it may have come to its length: none when it is neither tight nor grown.
    pub(super) fn growths(&self, reach: &Reach) -> Vec<Growths> {
        use Growth::{AllSlack, Tight, ToKeep};
        let hair = Length::from_nm(1);
        let hook_fast = !self.fits(self.from + hair, self.to);
        let far_fast = !self.fits(self.from, self.to - hair);
        let mut ways = Vec::new();
        let mut add = |hook, far| ways.push(Growths { hook, far });
        if hook_fast && far_fast {
            add(Tight, Tight);
        }
        if !far_fast && self.is_tight_at(Side::Hook) {
            if reach.far {
                add(Tight, AllSlack);
            }
            if reach.keep {
                add(Tight, ToKeep);
            }
        }
        if !hook_fast && self.is_tight_at(Side::Far) {
            if reach.hook {
                add(AllSlack, Tight);
            }
            if reach.keep {
                add(ToKeep, Tight);
            }
        }
        if self.fits(self.from + hair, self.to - hair) {
            if reach.hook && reach.far {
                add(AllSlack, AllSlack);
            }
            if reach.hook && reach.keep {
                add(AllSlack, ToKeep);
            }
            if reach.far && reach.keep {
                add(ToKeep, AllSlack);
            }
        }
        ways
    }

    /// Whether this end could not move in if the other were as near to it as it can be.
    fn is_tight_at(&self, side: Side) -> bool {
        let (_, near, far) = self.seen(side);
        let hair = Length::from_nm(1);
        self.least_end(side, near, far)
            .is_some_and(|end| self.least_end(side, near + hair, end).is_none())
    }
}
