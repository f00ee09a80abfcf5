//! The outline of an opening or a front: four corners, and perhaps a curved top.

use super::arc::Arc;
use super::point::{Line, Point};
use super::quad::Quad;
use crate::job::{Edge, Edges};

/// Four corners standing on the bottom edge, and the curve over the top if it is arched.
/// Millimetres; the lower left corner is the origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outline {
    /// The corners.
    pub quad: Quad,
    /// The curve through both upper corners.
    pub arc: Option<Arc>,
}

impl Outline {
    /// The outline whose edges lie `by` inside this one's, square to them.
    ///
    /// Returned together with where its lower left corner lies in this outline. Nothing when
    /// the distances leave no room.
    pub fn inset(&self, by: &Edges<f64>) -> Option<(Outline, Point)> {
        let arc = self.arc.map(|arc| arc.inset(by.top));
        let line = |edge: Edge| self.quad.edge(edge).shifted_left(by.at(edge));
        Outline { arc, ..*self }.between(line)
    }

    /// The outline between four lines, its upper corners where the sides meet the top or, when it
    /// is arched, this one's curve. With it, where its lower left corner lies.
    pub(super) fn between(&self, line: impl Fn(Edge) -> Line) -> Option<(Outline, Point)> {
        let upper = |edge| match self.arc {
            Some(arc) => line(edge).meets_circle_above(arc.centre, arc.radius),
            None => line(edge).meets(line(Edge::Top)),
        };
        let quad = Quad {
            lower_left: line(Edge::Left).meets(line(Edge::Bottom))?,
            lower_right: line(Edge::Right).meets(line(Edge::Bottom))?,
            upper_right: upper(Edge::Right)?,
            upper_left: upper(Edge::Left)?,
        };
        if !quad.stands_upright() {
            return None;
        }
        let corner = quad.lower_left;
        let back = Point::new(-corner.x, -corner.y);
        let arc = self.arc.map(|arc| arc.moved(back));
        let quad = quad.at_origin();
        Some((Outline { quad, arc }, corner))
    }

    /// Height of the highest point above the bottom edge: the crest when the curve's centre
    /// line runs through this front, else the higher corner.
    pub fn height(&self) -> f64 {
        let corner = self.quad.upper_left.y.max(self.quad.upper_right.y);
        match self.arc {
            Some(arc) if self.has_crest() => arc.centre.y + arc.radius,
            _ => corner,
        }
    }

    /// Whether the curve's highest point lies between the corners.
    pub fn has_crest(&self) -> bool {
        self.arc.is_some_and(|arc| {
            (self.quad.upper_left.x..=self.quad.upper_right.x).contains(&arc.centre.x)
        })
    }

    /// Width of the smallest blank with a straight bottom edge that holds it.
    pub fn width(&self) -> f64 {
        let (left, right) = self.quad.reach();
        right - left
    }

    /// How far a point inside lies from each edge; negative when it lies outside it.
    pub fn clearances(&self, point: Point) -> Edges<f64> {
        let to = |edge| self.quad.edge(edge).left_of(point);
        Edges {
            left: to(Edge::Left),
            right: to(Edge::Right),
            bottom: to(Edge::Bottom),
            top: match self.arc {
                Some(arc) if point.y > arc.centre.y => arc.radius - arc.centre.distance(point),
                // From below the centre the ends of the curve are nearest.
                Some(_) => {
                    let corners = [self.quad.upper_left, self.quad.upper_right];
                    let far = corners.map(|corner| corner.distance(point));
                    far[0].min(far[1])
                }
                None => to(Edge::Top),
            },
        }
    }
}
