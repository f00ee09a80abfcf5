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

/// The same as one line that goes to and fro, along the rectangle's edges between the strokes.
pub fn hatch_line(rect: Rect, step: f64) -> Vec<Point> {
    let mut points: Vec<Point> = Vec::new();
    for (i, (low, high)) in hatch(rect, step).into_iter().enumerate() {
        let stroke = if i % 2 == 0 { [low, high] } else { [high, low] };
        if let Some(&last) = points.last()
            && last.x != stroke[0].x
            && last.y != stroke[0].y
        {
            let corner = if i % 2 == 0 {
                Point::new(rect.left, rect.bottom)
            } else {
                Point::new(rect.right, rect.top)
            };
            points.push(corner);
        }
        points.extend(stroke);
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_to_and_fro_turns_on_the_edges_only() {
        let rect = Rect::new(10.0, 20.0, 50.0, 35.0);
        let points = hatch_line(rect, 5.0);
        for pair in points.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let stroke = ((a.x + a.y) - (b.x + b.y)).abs() < 1e-9;
            let on = |x: f64, y: f64| a.x == x && b.x == x || a.y == y && b.y == y;
            let edge = on(rect.left, rect.top) || on(rect.right, rect.bottom);
            assert!(stroke || edge, "{a:?} to {b:?}");
        }
    }

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
