//! The curve of an arched top: a circle's arc, in millimetres.

use super::point::Point;

/// The upper part of a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// The circle's centre.
    pub centre: Point,
    /// The circle's radius.
    pub radius: f64,
}

/// One height of a curve above the front's bottom edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ordinate {
    /// To the right of the arch's centre line; negative to its left.
    pub from_centre: f64,
    /// From the front's lower left corner, along its bottom edge.
    pub from_left: f64,
    /// Height of the curve above the bottom edge.
    pub height: f64,
}

/// The radius of an arc with a chord and a rise: `chord² / (8 rise) + rise / 2`.
///
/// Source: Euclid III.35, the intersecting chords: `rise (2 radius - rise) = (chord / 2)²`.
pub fn radius_of(chord: f64, rise: f64) -> f64 {
    chord * chord / (8.0 * rise) + rise / 2.0
}

impl Arc {
    /// The arc that rises `rise` between its two ends.
    pub fn with_rise(left: Point, right: Point, rise: f64) -> Option<Arc> {
        let half = left.distance(right) / 2.0;
        (rise > 0.0 && rise <= half)
            .then(|| Arc::with_radius(left, right, radius_of(2.0 * half, rise)))?
    }

    /// The arc of a radius that bulges upwards between its two ends, and is at most a half
    /// circle. Nothing when the ends are farther apart than two radii.
    pub fn with_radius(left: Point, right: Point, radius: f64) -> Option<Arc> {
        let way = left.to(right);
        let half = way.length() / 2.0;
        // Rounding may leave a half circle a hair short of its own radius.
        (half > 0.0 && half <= radius * (1.0 + 1e-12)).then(|| {
            let down = (radius * radius - half * half).max(0.0).sqrt();
            Arc {
                centre: left
                    .moved(way, 0.5)
                    .moved(way.turned_left(), -down / (2.0 * half)),
                radius,
            }
        })
    }

    /// Height of the curve at `x`, unless the circle does not reach there.
    pub fn height_at(&self, x: f64) -> Option<f64> {
        let off = x - self.centre.x;
        (off.abs() <= self.radius)
            .then(|| self.centre.y + (self.radius * self.radius - off * off).sqrt())
    }

    /// The curve at an even distance inside this one: a smaller circle about the same centre.
    pub fn inset(&self, by: f64) -> Arc {
        Arc {
            radius: self.radius - by,
            ..*self
        }
    }

    /// The same moved.
    pub fn moved(&self, way: Point) -> Arc {
        Arc {
            centre: self.centre.moved(way, 1.0),
            ..*self
        }
    }

    /// Heights at both ends and at every whole step from the centre line between them.
    pub fn ordinates(&self, left: f64, right: f64, step: f64) -> Vec<Ordinate> {
        let first = ((left - self.centre.x) / step).ceil() as i64;
        let last = ((right - self.centre.x) / step).floor() as i64;
        // A station closer than this to a corner would only repeat it.
        let clear = step / 16.0;
        let stations = (first..=last).map(|n| self.centre.x + n as f64 * step);
        let between = stations.filter(|x| x - left > clear && right - x > clear);
        std::iter::once(left)
            .chain(between)
            .chain(std::iter::once(right))
            .filter_map(|x| {
                Some(Ordinate {
                    from_centre: x - self.centre.x,
                    from_left: x,
                    height: self.height_at(x)?,
                })
            })
            .collect()
    }
}
