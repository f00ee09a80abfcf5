//! Sides looked at again in the whole picture, where an edge is known to a part of a pixel.

use crate::photo::colour::Lab;
use crate::photo::picture::Picture;
use crate::photo::plane::Point;

/// Looks at so many places of each side.
const PLACES: usize = 120;
/// Kept from the corners, as a part of the side.
const CORNER: f64 = 0.03;

/// Points of the edge between two rough corners, looked for so many pixels to either side. `inside`
/// is where the board lies.
pub fn edge_points(
    picture: &Picture,
    from: Point,
    to: Point,
    inside: Point,
    reach: f64,
) -> Vec<Point> {
    let long = from.distance(to).max(1.0);
    let (dx, dy) = ((to.x - from.x) / long, (to.y - from.y) / long);
    let (mut nx, mut ny) = (-dy, dx);
    if (inside.x - from.x) * nx + (inside.y - from.y) * ny < 0.0 {
        (nx, ny) = (-nx, -ny);
    }
    let reach = reach.ceil().max(3.0) as i32;
    (0..PLACES)
        .filter_map(|place| {
            let part = CORNER + (1.0 - 2.0 * CORNER) * (place as f64 + 0.5) / PLACES as f64;
            let middle = Point::new(from.x + dx * long * part, from.y + dy * long * part);
            let profile: Vec<Lab> = (-reach..=reach)
                .map(|step| smeared(picture, middle, (nx, ny), (dx, dy), f64::from(step)))
                .collect();
            let step = steepest(&profile)? - f64::from(reach);
            Some(Point::new(middle.x + nx * step, middle.y + ny * step))
        })
        .collect()
}

/// The colour a few pixels along the edge have on the whole.
fn smeared(
    picture: &Picture,
    middle: Point,
    normal: (f64, f64),
    along: (f64, f64),
    step: f64,
) -> Lab {
    let mut sum = [0.0f32; 3];
    for side in -2..=2 {
        let side = f64::from(side);
        let x = middle.x + normal.0 * step + along.0 * side;
        let y = middle.y + normal.1 * step + along.1 * side;
        let light = picture.between(x, y);
        sum = [0, 1, 2].map(|c| sum[c] + 0.2 * light[c]);
    }
    Lab::of_linear(sum)
}

/// Where a profile, from outside to inside, changes most for good, between its steps: what lies
/// before is of one colour, what lies behind of another.
fn steepest(profile: &[Lab]) -> Option<f64> {
    let n = profile.len();
    let mean = |range: std::ops::Range<usize>, part: usize| {
        let count = range.len() as f64;
        profile[range]
            .iter()
            .map(|lab| lab.parts()[part])
            .sum::<f64>()
            / count
    };
    let near = (n / 6).max(2);
    let outside = [0, 1, 2].map(|part| mean(0..near, part));
    let inside = [0, 1, 2].map(|part| mean(n - near..n, part));
    let towards = [0, 1, 2].map(|part| inside[part] - outside[part]);
    let length: f64 = towards.iter().map(|d| d * d).sum();
    if length < 16.0 {
        return None;
    }
    // 0 outside, 1 inside; the first time it stays above a half.
    let share: Vec<f64> = profile
        .iter()
        .map(|lab| {
            let parts = lab.parts();
            let dot: f64 = (0..3).map(|p| (parts[p] - outside[p]) * towards[p]).sum();
            dot / length
        })
        .collect();
    let at = (1..n - 1).find(|&at| share[at] >= 0.5 && share[at + 1] >= 0.5)?;
    let (before, here) = (share[at - 1], share[at]);
    (here > before).then(|| at as f64 - (here - 0.5) / (here - before).max(1e-6))
}
