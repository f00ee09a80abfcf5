//! The outline of an opening or a front: four corners, and perhaps a curved top.

use super::arc::Arc;
use super::point::Point;
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
        let quad = match self.arc {
            None => self.quad.inset(by)?,
            Some(arc) => self.under(arc.inset(by.top), by)?,
        };
        let corner = quad.lower_left;
        let arc = self
            .arc
            .map(|arc| arc.inset(by.top).moved(Point::new(-corner.x, -corner.y)));
        let quad = quad.at_origin();
        Some((Outline { quad, arc }, corner))
    }

    /// The inset corners, the upper ones where the sides meet the curve.
    fn under(&self, curve: Arc, by: &Edges<f64>) -> Option<Quad> {
        let line = |edge| self.quad.edge(edge).shifted_left(by.at(edge));
        let on_curve = |edge| line(edge).meets_circle_above(curve.centre, curve.radius);
        let quad = Quad {
            lower_left: line(Edge::Left).meets(line(Edge::Bottom))?,
            lower_right: line(Edge::Right).meets(line(Edge::Bottom))?,
            upper_right: on_curve(Edge::Right)?,
            upper_left: on_curve(Edge::Left)?,
        };
        quad.stands_upright().then_some(quad)
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
