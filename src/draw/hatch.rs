//! Hatching: slanted lines that fill a rectangle.

use super::shape::{Point, Rect};

/// Lines rising to the right at 45 degrees, `step` points apart (across the page), cut off at
/// the rectangle's edges.
pub fn hatch(rect: Rect, step: f64) -> Vec<(Point, Point)> {
    let mut lines = Vec::new();
    // A line is all points with x + y constant; anchored to the sheet, so neighbours match.
    let mut sum = ((rect.left + rect.top) / step).ceil() * step;
    while sum < rect.right + rect.bottom {
        let from_x = rect.left.max(sum - rect.bottom);
        let to_x = rect.right.min(sum - rect.top);
        if from_x < to_x {
            lines.push((
                Point::new(from_x, sum - from_x),
                Point::new(to_x, sum - to_x),
            ));
        }
        sum += step;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatching_fills_its_rectangle_and_stays_inside() {
        let rect = Rect::new(10.0, 20.0, 50.0, 35.0);
        let lines = hatch(rect, 5.0);
        // Sums x + y run from 30 to 85; the line through the corner itself has no length.
        assert_eq!(lines.len(), 10);
        for (a, b) in lines {
            assert!(rect.holds(&Rect::new(a.x, b.y, b.x, a.y), 1e-9));
            assert!(
                ((a.x + a.y) - (b.x + b.y)).abs() < 1e-9,
                "not at 45 degrees"
            );
        }
    }
}
