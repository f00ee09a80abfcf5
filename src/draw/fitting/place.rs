//! Where words go on a crowded sheet: as near as can be to what they tell, clear of the rest.

use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;

/// Step of the search for a free spot, in points.
const STEP: f64 = 2.0;
/// Free around words.
const AIR: f64 = 1.2;

/// What is taken on one front's drawing.
pub struct Taken {
    cell: Rect,
    /// The front with the opening drawn around it.
    frame: Rect,
    words: Vec<Rect>,
}

impl Taken {
    /// Nothing but the front itself, within `cell`.
    pub fn new(cell: Rect, frame: Rect) -> Taken {
        let words = Vec::new();
        Taken { cell, frame, words }
    }

    /// Writes a text, whose room is taken from now on.
    pub fn put(&mut self, drawing: &mut Drawing, text: Text) {
        self.words.push(text.extent());
        drawing.text(text);
    }

    /// Where the words begin that stand farthest to the left.
    pub fn left_of_words(&self) -> f64 {
        let lefts = self.words.iter().map(|words| words.left);
        lefts.fold(self.cell.right, f64::min)
    }

    /// Writes words outside the front, as near to `tip` as there is room, and leads them to it.
    ///
    /// Nothing is written when no spot is free: what a drawing says stands in the list beside it.
    pub fn lead(&mut self, drawing: &mut Drawing, text: Text, tip: Point) {
        let Some(text) = self.nearest(text, tip) else {
            return;
        };
        let from = foot(&text.extent().inset(-AIR), tip);
        drawing.line(from, tip, 0.5, theme::FAINT);
        self.put(drawing, text);
    }

    fn nearest(&self, text: Text, tip: Point) -> Option<Text> {
        let room = self.cell.inset(3.0);
        let (columns, rows) = (room.width() / STEP, room.height() / STEP);
        // Words are measured once: there are thousands of spots.
        let at_origin = text.clone().at(0.0, 0.0).extent();
        let mut best: Option<(f64, Point)> = None;
        for i in 0..columns as i32 {
            for j in 0..rows as i32 {
                let (x, y) = (STEP * f64::from(i), STEP * f64::from(j));
                let spot = Point::new(room.left + x, room.top + y);
                let extent = at_origin.shifted(spot);
                let far = distance(&extent, tip);
                let nearer = best.is_none_or(|(least, _)| far < least);
                if nearer && self.is_free(&extent, room, tip) {
                    best = Some((far, spot));
                }
            }
        }
        best.map(|(_, spot)| text.at(spot.x, spot.y))
    }

    fn is_free(&self, extent: &Rect, room: Rect, tip: Point) -> bool {
        let words = extent.inset(-AIR);
        let from = foot(&words, tip);
        room.holds(extent, 0.0)
            && !words.overlaps(&self.frame, 0.0)
            && self.words.iter().all(|other| {
                !words.overlaps(other, 0.0) && !other.inset(-AIR / 2.0).is_crossed(from, tip)
            })
    }
}

/// How far a box is from a point, squared.
fn distance(extent: &Rect, tip: Point) -> f64 {
    let from = foot(extent, tip);
    (from.x - tip.x).powi(2) + (from.y - tip.y).powi(2)
}

/// The point of a box that is nearest to another point.
fn foot(rect: &Rect, to: Point) -> Point {
    Point::new(
        to.x.clamp(rect.left, rect.right),
        to.y.clamp(rect.top, rect.bottom),
    )
}
