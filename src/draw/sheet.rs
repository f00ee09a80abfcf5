//! A drawing, and the pen that puts shapes on it.

use super::font::{Weight, wrap};
use super::shape::{Ink, Point, Rect, Shape, Text};
use super::theme;

/// A finished drawing: plain shapes on a sheet, in points.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Width of the sheet, in points.
    pub width: f64,
    /// Height of the sheet, in points.
    pub height: f64,
    /// What it shows, in a few words, for those who can't see it.
    pub title: String,
    /// The shapes, the later ones covering the earlier.
    pub shapes: Vec<Shape>,
}

/// Words by themselves, to stand below a drawing.
pub fn line_of_words(words: &str) -> Drawing {
    let mut lines = Drawing::new(theme::WIDTH, words);
    let width = theme::WIDTH - 2.0 * theme::MARGIN;
    for line in wrap(words, theme::SMALL, Weight::Regular, width) {
        lines.height += theme::SMALL * 1.3;
        lines.text(Text::new(line, theme::MARGIN, lines.height, theme::SMALL));
    }
    lines.height += theme::MARGIN;
    lines
}

impl Drawing {
    /// An empty sheet `width` points wide; its height is set when its content is known.
    pub fn new(width: f64, title: impl Into<String>) -> Drawing {
        Drawing {
            width,
            title: title.into(),
            ..Drawing::default()
        }
    }

    /// Fills a polygon.
    pub fn area(&mut self, points: impl Into<Vec<Point>>, fill: Ink) {
        self.shapes.push(Shape::Area {
            points: points.into(),
            fill,
        });
    }

    /// Fills a rectangle.
    pub fn fill(&mut self, rect: Rect, fill: Ink) {
        self.area(rect.corners(), fill);
    }

    /// Draws a line through points.
    pub fn stroke(&mut self, points: impl Into<Vec<Point>>, width: f64, ink: Ink) {
        self.shapes.push(Shape::Stroke {
            points: points.into(),
            width,
            ink,
        });
    }

    /// Draws a straight line.
    pub fn line(&mut self, from: Point, to: Point, width: f64, ink: Ink) {
        self.stroke([from, to], width, ink);
    }

    /// Draws the outline of a polygon.
    pub fn outline(&mut self, points: impl Into<Vec<Point>>, width: f64, ink: Ink) {
        let mut points = points.into();
        points.extend(points.first().copied());
        self.stroke(points, width, ink);
    }

    /// Draws a straight line of dashes `dash` points long with gaps half as long.
    pub fn dashes(&mut self, from: Point, to: Point, dash: f64, width: f64, ink: Ink) {
        let length = (to.x - from.x).hypot(to.y - from.y);
        let on_line = |d: f64| {
            let share = if length > 0.0 { d / length } else { 0.0 };
            Point::new(
                from.x + (to.x - from.x) * share,
                from.y + (to.y - from.y) * share,
            )
        };
        let mut done = 0.0;
        while done < length {
            self.line(
                on_line(done),
                on_line((done + dash).min(length)),
                width,
                ink,
            );
            done += dash * 1.5;
        }
    }

    /// Draws a rectangle's outline in dashes.
    pub fn dashed_outline(&mut self, rect: Rect, dash: f64, width: f64, ink: Ink) {
        let corners = rect.corners();
        for i in 0..4 {
            self.dashes(corners[i], corners[(i + 1) % 4], dash, width, ink);
        }
    }

    /// Writes a text.
    pub fn text(&mut self, text: Text) {
        self.shapes.push(Shape::Text(text));
    }

    /// Writes a text on a patch of `paper` that hides the lines behind it.
    pub fn text_on(&mut self, text: Text, paper: Ink) {
        self.fill(text.extent().inset(-0.8), paper);
        self.text(text);
    }

    /// Adds another drawing below all that is there.
    pub fn below(&mut self, other: Drawing) {
        let down = self.height;
        let lower = |p: &Point| Point::new(p.x, p.y + down);
        self.shapes
            .extend(other.shapes.into_iter().map(|shape| match shape {
                Shape::Area { points, fill } => Shape::Area {
                    points: points.iter().map(lower).collect(),
                    fill,
                },
                Shape::Stroke { points, width, ink } => Shape::Stroke {
                    points: points.iter().map(lower).collect(),
                    width,
                    ink,
                },
                Shape::Text(text) => Shape::Text(Text {
                    at: lower(&text.at),
                    ..text
                }),
            }));
        self.height += other.height;
    }

    /// All texts on the sheet.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.shapes.iter().filter_map(|shape| match shape {
            Shape::Text(text) => Some(text),
            _ => None,
        })
    }
}
