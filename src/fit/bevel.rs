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

    /// The flat it leaves; a side of zero or less means that it meets itself.
    pub fn flat(&self, outline: &Outline, on: &Edges<bool>) -> Flat {
        let taken = |edges: [bool; 2]| self.face * edges.iter().filter(|&&e| e).count() as i64;
        // The narrowest place counts: at whichever end the sides are closer.
        let sides = outline.quad.sides();
        let width = sides.bottom.min(outline.width());
        let width = match outline.arc {
            Some(_) => width,
            None => width.min(sides.top),
        };
        Flat {
            width: Length::from_mm(width) - taken([on.left, on.right]),
            height: Length::from_mm(outline.height()) - taken([on.bottom, on.top]),
        }
    }
}
