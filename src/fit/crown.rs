//! How near an arched front's curve comes to its opening's through the year.
//!
//! Both are circles about one centre on the day of fitting. Wood that swells across the grain
//! makes the front's an ellipse: with vertical grain it meets the opening at its haunches though
//! its crest does not move.

use super::arc::Arc;
use super::outline::Outline;
use super::point::Point;
use crate::job::{Grain, Mode};

/// Spots of the curve that are looked at: the gap between two of them is off by far less than a
/// thousandth of a millimetre.
const SPOTS: u32 = 256;

/// An arched front's curve under its opening's, on the day of fitting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Crown {
    /// The opening's curve, from the front's lower left corner.
    over: Arc,
    /// The front's.
    arc: Arc,
    /// Directions from its centre to its left and right end, in radians.
    ends: [f64; 2],
    grain: Grain,
    mode: Mode,
    /// Where the front begins across the grain, and how large it is there.
    begins: f64,
    across: f64,
    /// The share of its growth at that side.
    share: f64,
}

impl Crown {
    /// The curve of a front that stands at `stands` in its opening; `share` of its growth is at
    /// the bottom, or at the left when its grain is vertical.
    pub fn of(
        front: &Outline,
        opening: &Outline,
        stands: Point,
        (grain, mode): (Grain, Mode),
        share: f64,
    ) -> Option<Crown> {
        let (arc, over) = (front.arc?, opening.arc?);
        let towards = |corner: Point| {
            let way = arc.centre.to(corner);
            way.y.atan2(way.x)
        };
        let (left, right) = front.quad.reach();
        Some(Crown {
            over: over.moved(Point::new(-stands.x, -stands.y)),
            arc,
            ends: [front.quad.upper_left, front.quad.upper_right].map(towards),
            grain,
            mode,
            begins: match grain {
                Grain::Horizontal => 0.0,
                Grain::Vertical => left,
            },
            across: match grain {
                Grain::Horizontal => front.height(),
                Grain::Vertical => right - left,
            },
            share,
        })
    }

    /// The least and the greatest gap (or overlap) between the curves, towards their common
    /// centre, when the front is larger by `growth` across the grain.
    pub fn gaps(&self, growth: f64) -> [f64; 2] {
        let [left, right] = self.ends;
        let spots = (0..=SPOTS).map(|i| {
            let turn = left + (right - left) * f64::from(i) / f64::from(SPOTS);
            self.gap(turn, growth)
        });
        spots.fold([f64::MAX, f64::MIN], |[least, most], gap| {
            [least.min(gap), most.max(gap)]
        })
    }

    fn gap(&self, turn: f64, growth: f64) -> f64 {
        let out = Point::new(turn.cos(), turn.sin());
        let mut spot = self.arc.centre.moved(out, self.arc.radius);
        let moved = |at: f64| at + growth * ((at - self.begins) / self.across - self.share);
        match self.grain {
            Grain::Horizontal => spot.y = moved(spot.y),
            Grain::Vertical => spot.x = moved(spot.x),
        }
        let inside = self.over.radius - self.over.centre.distance(spot);
        match self.mode {
            Mode::Inset => inside,
            Mode::Overlay => -inside,
        }
    }
}
