//! A bevel's three measures, how to set a saw to them, and what they leave of the front.

use super::outline::Outline;
use crate::job::{BevelSize, Edges};
use crate::measure::Length;

/// A bevel: a plane that falls from the face to the edge.
///
/// The front stands on its edge, face to a tall fence, and the blade leans: it then leans from
/// upright by the bevel's angle to the face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bevel {
    /// How far it runs in on the face: the height of the cut above the table.
    pub face: Length,
    /// How much lower it leaves the edge.
    pub drop: Length,
    /// Its angle to the face in degrees: the blade's tilt from upright. `tan angle = drop / face`.
    pub angle: f64,
}

/// The flat a front's bevels leave in the middle of its face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flat {
    /// Left to right.
    pub width: Length,
    /// Bottom to top; to the crest when arched.
    pub height: Length,
    /// Bottom to top where it is lowest.
    pub lowest: Length,
}

impl Bevel {
    /// The bevel two of its measures make. Angles must lie between 0 and 90 degrees.
    pub fn of(size: &BevelSize) -> Bevel {
        match *size {
            BevelSize::FaceDrop(face, drop) => Bevel {
                face,
                drop,
                angle: drop.mm().atan2(face.mm()).to_degrees(),
            },
            BevelSize::FaceAngle(face, angle) => Bevel {
                face,
                drop: Length::from_mm(face.mm() * angle.to_radians().tan()),
                angle,
            },
            BevelSize::DropAngle(drop, angle) => Bevel {
                face: Length::from_mm(drop.mm() / angle.to_radians().tan()),
                drop,
                angle,
            },
        }
    }

    /// What a gauge zeroed on the table reads on the blade: 90 degrees upright.
    pub fn gauge(&self) -> f64 {
        90.0 - self.angle
    }

    /// Thickness it leaves at the edge; zero or less when it is deeper than the stock.
    pub fn edge_left(&self, thickness: Length) -> Length {
        thickness - self.drop
    }

    /// The flat it leaves; nothing when bevels meet at any height of the front, as those from
    /// the bottom and from a falling arch may do at its lower side.
    pub fn flat(&self, outline: &Outline, on: &Edges<bool>) -> Option<Flat> {
        let by = on.map(|on| if on { self.face.mm() } else { 0.0 });
        let (inner, _) = outline.inset(&by)?;
        let sides = inner.quad.sides();
        let corners = [inner.quad.upper_left.y, inner.quad.upper_right.y];
        let narrow = match inner.arc {
            Some(_) => sides.bottom.min(inner.width()),
            None => sides.bottom.min(sides.top),
        };
        Some(Flat {
            width: Length::from_mm(narrow),
            height: Length::from_mm(inner.height()),
            lowest: Length::from_mm(corners[0].min(corners[1])),
        })
    }

    /// How long a blade must be above the table to cut it: the front stands on its edge, and the
    /// blade leans.
    pub fn blade(&self) -> Length {
        Length::from_mm(self.face.mm() / self.angle.to_radians().cos())
    }
}
