//! Drawings on sheets: as large as there is room for them.

use super::Flow;
use crate::draw::{Drawing, Point, Shape, Text};

/// How much larger than it is a drawing may be printed; one much narrower than the sheet is set
/// like words.
const MOST_ENLARGED: f64 = 1.25;
/// Below a drawing.
const BELOW_PICTURE: f64 = 6.0;

/// Room that a drawing leaves for what comes below it, in points.
#[derive(Clone, Copy, Debug, Default)]
pub struct Below {
    /// What must stand on the same sheet.
    pub must: f64,
    /// What had better stand there too.
    pub may: f64,
}

impl Flow<'_> {
    /// Puts a drawing on the sheet, over the whole width, smaller if it is too high. It gives way
    /// a little so that what comes below stays on the same sheet.
    pub fn picture(&mut self, drawing: &Drawing, below: Below) {
        let sheet = (self.bottom() - self.top()) * self.style.most_picture;
        let room = sheet - below.must - BELOW_PICTURE;
        let small = drawing.width < self.full_width() / 2.0;
        let enlarged = match small {
            true => self.style.words.min(1.0),
            false => MOST_ENLARGED,
        };
        let most = (self.width() / drawing.width)
            .min(enlarged)
            .min(room / drawing.height.max(1.0));
        let height = drawing.height * most;
        let room_above = |below: f64| self.bottom() - self.y - below - BELOW_PICTURE;
        let smaller = [below.may, below.must].map(room_above).into_iter();
        let share = smaller
            .map(|room| (room / height).min(1.0))
            .find(|share| *share >= self.style.least_picture);
        let scale = most * share.unwrap_or(1.0);
        self.need(drawing.height * scale);
        self.place(drawing, scale);
        self.y += BELOW_PICTURE;
    }

    /// Puts a drawing on the sheet that is there in several heights: the highest that leaves room
    /// for what comes below it. What is drawn keeps its size, or grows with a wider sheet.
    pub fn layouts(&mut self, layouts: &[Vec<Drawing>], below: Below) {
        let first = layouts.first().and_then(|layout| layout.first());
        let scale = first.map_or(1.0, |drawing| self.width() / drawing.width);
        let height = |layout: &&Vec<Drawing>| {
            let drawings = layout.iter().map(|drawing| drawing.height * scale);
            drawings.sum::<f64>() + BELOW_PICTURE
        };
        let room = |below: f64| self.bottom() - self.y - below + 1e-6;
        let fits = |below: f64| layouts.iter().find(|l| height(l) <= room(below));
        let chosen = match self.is_low() {
            true => None,
            false => fits(below.may).or_else(|| fits(below.must)),
        };
        let Some(chosen) = chosen.or(layouts.last()) else {
            return;
        };
        // What fits on this sheet as it is drawn stays there, if it grows less with a wider sheet.
        let ends = chosen.iter().scan(0.0, |end, drawing| {
            *end += drawing.height;
            Some(*end)
        });
        let here = ends.take_while(|end| *end <= room(0.0)).last();
        let scale = here.map_or(scale, |end| scale.min(room(0.0) / end));
        for drawing in chosen {
            self.need(drawing.height * scale);
            self.place(drawing, scale);
        }
        self.y += BELOW_PICTURE;
    }

    /// Puts a drawing where the next thing goes.
    fn place(&mut self, drawing: &Drawing, scale: f64) {
        let offset = Point::new(
            self.left() + (self.width() - drawing.width * scale) / 2.0,
            self.y,
        );
        if !self.trial {
            let shapes = drawing.shapes.iter();
            let moved = shapes.map(|shape| moved(shape, scale, offset));
            self.sheet().shapes.extend(moved);
        }
        self.y += drawing.height * scale;
    }
}

/// A shape at another place and scale.
fn moved(shape: &Shape, scale: f64, offset: Point) -> Shape {
    let map = |p: &Point| Point::new(p.x * scale + offset.x, p.y * scale + offset.y);
    match shape {
        Shape::Area { points, fill } => Shape::Area {
            points: points.iter().map(map).collect(),
            fill: *fill,
        },
        Shape::Stroke { points, width, ink } => Shape::Stroke {
            points: points.iter().map(map).collect(),
            width: width * scale,
            ink: *ink,
        },
        Shape::Text(text) => Shape::Text(Text {
            at: map(&text.at),
            size: text.size * scale,
            ..text.clone()
        }),
    }
}
