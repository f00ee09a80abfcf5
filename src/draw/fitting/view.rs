//! From a front's millimetres to points on the sheet.

use crate::draw::shape::{Point, Rect};
use crate::fit::Outline;
use crate::job::Edges;

/// Points the curve of an arched top is drawn through: at print size no corner shows.
const CURVE: u32 = 48;

/// Where a front lies on the sheet.
#[derive(Clone, Copy, Debug)]
pub struct View {
    left: f64,
    bottom: f64,
    /// Points for a millimetre.
    pub scale: f64,
}

impl View {
    /// Fits the front into `room`, standing on its bottom, in the middle.
    pub fn of(outline: &Outline, room: Rect) -> View {
        let (width, height) = (outline.width(), outline.height());
        let scale = (room.width() / width).min(room.height() / height);
        let skew = outline.quad.upper_left.x.min(0.0);
        View {
            left: room.centre().x - (width / 2.0 + skew) * scale,
            bottom: room.centre().y + height * scale / 2.0,
            scale,
        }
    }

    /// A spot of the front, from its lower left corner.
    pub fn at(&self, x: f64, y: f64) -> Point {
        Point::new(self.left + x * self.scale, self.bottom - y * self.scale)
    }

    /// The front's outline moved inwards by millimetres, as a polygon; nothing when that leaves
    /// no room.
    pub fn inset(&self, outline: &Outline, by: &Edges<f64>) -> Option<Vec<Point>> {
        let (inner, corner) = outline.inset(by)?;
        let moved = View {
            left: self.left + corner.x * self.scale,
            bottom: self.bottom - corner.y * self.scale,
            ..*self
        };
        Some(moved.polygon(&inner))
    }

    /// The front's outline, `apart` points larger all round.
    pub fn around(&self, outline: &Outline, apart: f64) -> Vec<Point> {
        let grown = self.inset(outline, &Edges::all(-apart / self.scale));
        grown.unwrap_or_else(|| self.polygon(outline))
    }

    /// The front's outline: the lower left corner, the lower right one, and over the top back.
    pub fn polygon(&self, outline: &Outline) -> Vec<Point> {
        let quad = &outline.quad;
        let mut points = vec![
            self.at(quad.lower_left.x, quad.lower_left.y),
            self.at(quad.lower_right.x, quad.lower_right.y),
            self.at(quad.upper_right.x, quad.upper_right.y),
        ];
        if let Some(arc) = outline.arc {
            let (right, left) = (quad.upper_right.x, quad.upper_left.x);
            for i in 1..CURVE {
                let x = right + (left - right) * f64::from(i) / f64::from(CURVE);
                points.extend(arc.height_at(x).map(|y| self.at(x, y)));
            }
        }
        points.push(self.at(quad.upper_left.x, quad.upper_left.y));
        points
    }
}
