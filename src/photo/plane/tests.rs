use super::*;
use crate::photo::picture::Picture;

const UNIT: [Point; 4] = [
    Point::new(0.0, 0.0),
    Point::new(1.0, 0.0),
    Point::new(1.0, 1.0),
    Point::new(0.0, 1.0),
];

/// Heckbert, Fundamentals of Texture Mapping and Image Warping (1989), section 2.2.3: the unit
/// square onto a quadrilateral in closed form.
fn heckbert(q: [Point; 4], p: Point) -> Point {
    let (dx1, dx2) = (q[1].x - q[2].x, q[3].x - q[2].x);
    let (dy1, dy2) = (q[1].y - q[2].y, q[3].y - q[2].y);
    let sx = q[0].x - q[1].x + q[2].x - q[3].x;
    let sy = q[0].y - q[1].y + q[2].y - q[3].y;
    let det = dx1 * dy2 - dx2 * dy1;
    let (g, h) = ((sx * dy2 - dx2 * sy) / det, (dx1 * sy - sx * dy1) / det);
    let (a, b) = (q[1].x - q[0].x + g * q[1].x, q[3].x - q[0].x + h * q[3].x);
    let (d, e) = (q[1].y - q[0].y + g * q[1].y, q[3].y - q[0].y + h * q[3].y);
    let w = g * p.x + h * p.y + 1.0;
    Point::new(
        (a * p.x + b * p.y + q[0].x) / w,
        (d * p.x + e * p.y + q[0].y) / w,
    )
}

#[test]
fn four_corners_map_as_in_closed_form() {
    let seen = [
        (412.5, 1803.1),
        (3690.2, 1790.0),
        (3688.7, 1241.3),
        (409.9, 1260.4),
    ];
    let seen = seen.map(|(x, y)| Point::new(x, y));
    let mapping = Homography::between(UNIT, seen).unwrap();
    let back = mapping.back();
    for step in 0..=100 {
        let p = Point::new(f64::from(step % 11) / 10.0, f64::from(step / 11) / 9.0);
        assert!(mapping.at(p).distance(heckbert(seen, p)) < 1e-6);
        assert!(back.at(mapping.at(p)).distance(p) < 1e-9);
    }
}

#[test]
fn corners_that_make_no_board_map_nothing() {
    let corners = |xy: [(f64, f64); 4]| xy.map(|(x, y)| Point::new(x, y));
    for folded in [
        [(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)],
        [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.0, 1.0)],
        [(0.0, 0.0), (0.0, 0.0), (1.0, 1.0), (0.0, 1.0)],
        [(0.0, 0.0), (4.0, 0.0), (1.0, 1.0), (0.0, 4.0)],
    ] {
        assert_eq!(Homography::between(UNIT, corners(folded)), None);
    }
}

/// Black and white lines a pixel wide are half the light, but for the half line at the rim of a
/// pixel that is 6.5 of them wide.
#[test]
fn shrinking_averages_light_and_does_not_alias() {
    let bytes: Vec<u8> = (0..240 * 240)
        .flat_map(|at| [if (at % 240) % 2 == 0 { 255 } else { 0 }; 3])
        .collect();
    let picture = Picture::new(240, 240, bytes).unwrap();
    let corners = [(0.0, 240.0), (240.0, 240.0), (240.0, 0.0), (0.0, 0.0)];
    let board = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
    let points = |xy: [(f64, f64); 4]| xy.map(|(x, y)| Point::new(x, y));
    let mapping = Homography::between(points(board), points(corners)).unwrap();
    let window = Window {
        from: 0.5,
        to: 9.5,
        low: 0.5,
        high: 9.5,
    };
    for light in straighten(&picture, &mapping, window, 3.7).light {
        assert!((light[0] - 0.5).abs() < 0.09, "{}", light[0]);
    }
}

#[test]
fn the_hook_end_is_left_and_the_near_edge_at_the_bottom() {
    // Seen from the far side: the hook end is right, the near edge at the top.
    let corners = [(200.0, 20.0), (20.0, 20.0), (20.0, 60.0), (200.0, 60.0)];
    let board = [(0.0, 0.0), (18.0, 0.0), (18.0, 4.0), (0.0, 4.0)];
    let points = |xy: [(f64, f64); 4]| xy.map(|(x, y)| Point::new(x, y));
    let mapping = Homography::between(points(board), points(corners)).unwrap();
    let bytes = (0..220 * 80).flat_map(|at| {
        let (x, y) = (at % 220, at / 220);
        [
            if x > 150 { 250 } else { 10 },
            if y < 35 { 250 } else { 10 },
            0,
        ]
    });
    let picture = Picture::new(220, 80, bytes.collect()).unwrap();
    let window = Window {
        from: 0.0,
        to: 18.0,
        low: 0.0,
        high: 4.0,
    };
    let strip = straighten(&picture, &mapping, window, 10.0);
    let (hook, near) = (strip.pixel(10, 20)[0], strip.pixel(90, strip.height - 5)[1]);
    let (far_end, far_edge) = (strip.pixel(170, 20)[0], strip.pixel(90, 5)[1]);
    assert!(hook > 0.9 && far_end < 0.1 && near > 0.9 && far_edge < 0.1);
    assert_eq!(strip.row(0.05), strip.height - 1);
    assert!((strip.across(strip.row(3.02)) - 3.0).abs() < 0.11);
}
