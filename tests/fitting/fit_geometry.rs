//! Openings, insets and arches against exact constructions, published identities and a general
//! geometry library (`geo`).

use geo::{Area, Contains, Distance, Euclidean, Line, LineString, Polygon};
use grainrow::fit::{
    Arc, Assumed, Bevel, Drawn, Impossible, Outline, Point, Quad, radius_of, solve,
};
use grainrow::job::{BevelSize, Edges, Measure, Measured};
use grainrow::measure::Length;
use proptest::prelude::*;

fn measured(left: f64, right: f64, top: f64, bottom: f64, up: f64, down: f64) -> Measured {
    let some = |inches: f64| (inches > 0.0).then(|| Length::from_inches(inches));
    Measured {
        left: Length::from_inches(left),
        right: Length::from_inches(right),
        top: Length::from_inches(top),
        bottom: Length::from_inches(bottom),
        diagonal_up: some(up),
        diagonal_down: some(down),
    }
}

/// As drawn, in inches.
fn drawn(width: f64, height: f64) -> Drawn {
    Drawn {
        width: width * 25.4,
        left: height * 25.4,
        higher: 0.0,
    }
}

fn polygon(quad: &Quad) -> Polygon<f64> {
    let ring: Vec<(f64, f64)> = quad.corners().iter().map(|p| (p.x, p.y)).collect();
    Polygon::new(LineString::from(ring), vec![])
}

fn measures_of(quad: &Quad) -> Measured {
    let sides = quad.sides().map(Length::from_mm);
    Measured {
        left: sides.left,
        right: sides.right,
        top: sides.top,
        bottom: sides.bottom,
        diagonal_up: Some(Length::from_mm(quad.diagonal_up())),
        diagonal_down: Some(Length::from_mm(quad.diagonal_down())),
    }
}

fn close(a: Point, b: Point) -> bool {
    a.distance(b) < 1e-3
}

/// 3-4-5: a rectangle 4 by 3 has diagonals of 5 (Euclid I.47).
#[test]
fn a_three_four_five_rectangle_is_found_from_any_diagonal() {
    for (up, down) in [(5.0, 0.0), (0.0, 5.0), (5.0, 5.0), (0.0, 0.0)] {
        let solved = solve(&measured(3.0, 3.0, 4.0, 4.0, up, down), &drawn(4.0, 3.0)).unwrap();
        assert!(close(
            solved.quad.upper_right,
            Point::new(4.0 * 25.4, 3.0 * 25.4)
        ));
        assert!(close(solved.quad.upper_left, Point::new(0.0, 3.0 * 25.4)));
        let unknown = up == 0.0 && down == 0.0;
        assert_eq!(solved.assumed == Assumed::LowerLeftSquare, unknown);
    }
}

/// An isosceles trapezoid with whole sides: parallel sides 7 and 1, legs 5, height 4,
/// diagonals sqrt(4² + 4²); by Ptolemy's theorem d² = 5² + 7 x 1 = 32.
#[test]
fn an_isosceles_trapezoid_is_found_exactly() {
    let d = 32f64.sqrt();
    for (up, down) in [(d, 0.0), (0.0, d), (d, d)] {
        let solved = solve(&measured(5.0, 5.0, 1.0, 7.0, up, down), &drawn(7.0, 4.0)).unwrap();
        assert!(close(
            solved.quad.upper_left,
            Point::new(3.0 * 25.4, 4.0 * 25.4)
        ));
        assert!(close(
            solved.quad.upper_right,
            Point::new(4.0 * 25.4, 4.0 * 25.4)
        ));
    }
}

/// One diagonal an eighth too long: an opening with both diagonals is solved with the misfit
/// shared out, each adjusted by less than the eighth, and the disagreement reported whole.
#[test]
fn a_small_disagreement_is_shared_out() {
    let m = measured(8.0, 8.0, 15.0, 15.0, 17.0, 17.125);
    let solved = solve(&m, &drawn(15.0, 8.0)).unwrap();
    let disagreement = solved.disagreement.unwrap().inches();
    assert!((disagreement - 0.125).abs() < 0.001, "{disagreement}");
    let adjusted = solved.adjusted.unwrap().inches();
    assert!(adjusted > 0.02 && adjusted < 0.0625, "{adjusted}");
}

#[test]
fn a_misread_measurement_is_named() {
    let right = measured(8.0, 8.0, 15.0, 15.0, 17.0, 17.0);
    let an_inch_more = |m: Measure| {
        let mut wrong = right;
        let slot = match m {
            Measure::Left => &mut wrong.left,
            Measure::Right => &mut wrong.right,
            Measure::Top => &mut wrong.top,
            Measure::Bottom => &mut wrong.bottom,
            Measure::DiagonalUp => wrong.diagonal_up.as_mut().unwrap(),
            Measure::DiagonalDown => wrong.diagonal_down.as_mut().unwrap(),
        };
        *slot += Length::from_inches(1.0);
        wrong
    };
    for wrong in Measure::ALL {
        let why = solve(&an_inch_more(wrong), &drawn(15.0, 8.0)).unwrap_err();
        assert!(matches!(why.fault, Impossible::DiagonalsDisagree(_)));
        assert_eq!(why.suspect.measure, wrong);
        let off = why.suspect.expected - right.of(wrong).unwrap();
        assert!(off.inches().abs() < 0.05, "{wrong:?} {off:?}");
    }
}

/// Every row of `sagitta.csv`: Euclid III.35; the first three are exact right triangles
/// (5-12-13 and twice 7-24-25).
#[test]
fn arches_agree_with_the_chord_and_rise_identities() {
    let table = include_str!("../data/facts/sagitta.csv");
    for row in csv::Reader::from_reader(table.as_bytes()).records() {
        let row = row.unwrap();
        let number = |i: usize| row[i].parse::<f64>().unwrap();
        let (chord, rise, radius) = (number(0), number(1), number(2));
        assert!((radius_of(chord, rise) - radius).abs() < 1e-6, "{row:?}");
        let (left, right) = (Point::new(0.0, 7.0), Point::new(chord, 7.0));
        let arc = Arc::with_radius(left, right, radius_of(chord, rise)).unwrap();
        assert!((arc.radius - radius).abs() < 1e-6);
        assert!((arc.height_at(chord / 2.0).unwrap() - 7.0 - rise).abs() < 1e-6);
        assert!((arc.height_at(0.0).unwrap() - 7.0).abs() < 1e-6);
        // Arc length by many short chords through the ordinates.
        let n = 20_000;
        let at = |i: i32| {
            let x = chord * f64::from(i) / f64::from(n);
            Point::new(x, arc.height_at(x).unwrap())
        };
        let length: f64 = (0..n).map(|i| at(i).distance(at(i + 1))).sum();
        assert!((length - number(3)).abs() < 2e-4, "{row:?}: {length}");
    }
}

#[test]
fn ordinates_stand_every_step_from_the_centre_line() {
    let (left, right) = (Point::new(0.0, 50.0), Point::new(200.0, 50.0));
    let arc = Arc::with_radius(left, right, radius_of(200.0, 10.0)).unwrap();
    let table = arc.ordinates(0.0, 200.0, 25.0);
    let from_centre: Vec<f64> = table.iter().map(|o| o.from_centre.round()).collect();
    assert_eq!(
        from_centre,
        [-100.0, -75.0, -50.0, -25.0, 0.0, 25.0, 50.0, 75.0, 100.0]
    );
    assert!((table[4].height - 60.0).abs() < 1e-9);
    for (a, b) in table.iter().zip(table.iter().rev()) {
        assert!((a.height - b.height).abs() < 1e-9);
    }
}

/// Common practice, no source: a gauge reading a little over 74 degrees goes with a bevel that
/// runs an inch to an inch and a half in on stock about 7/8 thick.
#[test]
fn a_gauge_reading_over_74_goes_with_the_usual_bevel() {
    let thickness = Length::from_inches(0.875);
    for face in [1.0, 1.25, 1.5] {
        let bevel = Bevel::of(&BevelSize::FaceAngle(Length::from_inches(face), 15.7));
        assert!(bevel.gauge() > 74.0 && bevel.gauge() < 75.0);
        let edge = bevel.edge_left(thickness).inches();
        assert!(edge > 0.4 && edge < 0.65, "{face}: {edge}");
    }
}

/// tan 45° = 1, tan 30° = 1/sqrt 3.
#[test]
fn two_measures_of_a_bevel_give_the_third() {
    let inch = Length::from_inches;
    let bevel = Bevel::of(&BevelSize::FaceDrop(inch(0.5), inch(0.5)));
    assert!((bevel.angle - 45.0).abs() < 1e-9 && (bevel.gauge() - 45.0).abs() < 1e-9);
    let bevel = Bevel::of(&BevelSize::DropAngle(inch(1.0), 30.0));
    assert!((bevel.face.inches() - 3f64.sqrt()).abs() < 1e-6);
    let bevel = Bevel::of(&BevelSize::FaceAngle(inch(3f64.sqrt()), 30.0));
    assert!((bevel.drop.inches() - 1.0).abs() < 1e-6);
}

prop_compose! {
    /// An opening a cabinet might have: corners up to 15 mm from a rectangle's.
    fn openings()(
        width in 120.0..1200.0_f64, height in 90.0..700.0_f64,
        off in prop::array::uniform5(-15.0..15.0_f64),
    ) -> Quad {
        Quad {
            lower_left: Point::default(),
            lower_right: Point::new(width + off[0], 0.0),
            upper_right: Point::new(width + off[1], height + off[2]),
            upper_left: Point::new(off[3], height + off[4]),
        }
    }
}

proptest! {
    #[test]
    fn an_opening_is_found_again_from_its_own_measures(quad in openings(), which in 0..3) {
        let mut m = measures_of(&quad);
        match which {
            0 => m.diagonal_up = None,
            1 => m.diagonal_down = None,
            _ => {}
        }
        let sides = quad.sides();
        let as_drawn = Drawn { width: sides.bottom, left: sides.left, higher: 0.0 };
        let found = solve(&m, &as_drawn).unwrap().quad;
        for (a, b) in quad.corners().into_iter().zip(found.corners()) {
            prop_assert!(a.distance(b) < 0.001, "{quad:?} {found:?}");
        }
    }

    #[test]
    fn a_square_lower_left_corner_needs_no_diagonal(quad in openings()) {
        let quad = Quad { upper_left: Point::new(0.0, quad.upper_left.y), ..quad };
        let mut m = measures_of(&quad);
        (m.diagonal_up, m.diagonal_down) = (None, None);
        let sides = quad.sides();
        let as_drawn = Drawn { width: sides.bottom, left: sides.left, higher: 0.0 };
        let found = solve(&m, &as_drawn).unwrap().quad;
        prop_assert!(found.upper_right.distance(quad.upper_right) < 0.001);
    }

    /// Inside by `geo`'s containment, and its nearest distance to each edge is the gap.
    #[test]
    fn an_inset_lies_inside_with_its_gaps(
        quad in openings(), gaps in prop::array::uniform4(0.0..20.0_f64)
    ) {
        let by = Edges { left: gaps[0], right: gaps[1], top: gaps[2], bottom: gaps[3] };
        let (inner, corner) = Outline { quad, arc: None }.inset(&by).unwrap();
        let outside = polygon(&quad);
        let placed = inner.quad.corners().map(|p| geo::Point::new(p.x + corner.x, p.y + corner.y));
        let c = quad.corners().map(|p| geo::coord! { x: p.x, y: p.y });
        let edges = [
            (by.bottom, Line::new(c[0], c[1])), (by.right, Line::new(c[1], c[2])),
            (by.top, Line::new(c[2], c[3])), (by.left, Line::new(c[3], c[0])),
        ];
        for (gap, line) in edges {
            let nearest = placed.iter().map(|p| Euclidean.distance(p, &line)).fold(f64::MAX, f64::min);
            prop_assert!(nearest >= gap - 1e-6, "{nearest} for {gap}");
        }
        if gaps.iter().all(|&gap| gap > 1e-3) {
            for p in placed {
                prop_assert!(outside.contains(&p));
            }
        }
        prop_assert!(polygon(&inner.quad).unsigned_area() <= outside.unsigned_area() + 1e-6);
    }

    #[test]
    fn gaps_wider_than_the_opening_leave_no_front(quad in openings(), wide in 700.0..5000.0_f64) {
        let gaps = Edges::all(wide);
        let inner = Outline { quad, arc: None }.inset(&gaps);
        prop_assert!(inner.is_none());
    }

    /// Every point of an arched front's curve keeps the gap from the opening's curve, measured
    /// from the nearest of many points on it.
    #[test]
    fn an_arched_front_keeps_its_gap_along_the_whole_curve(
        width in 200.0..1000.0_f64, height in 100.0..400.0_f64, rise in 5.0..60.0_f64,
        higher in -20.0..20.0_f64, gap in 0.5..10.0_f64,
    ) {
        let quad = Quad {
            lower_left: Point::default(),
            lower_right: Point::new(width, 0.0),
            upper_right: Point::new(width, height + higher),
            upper_left: Point::new(0.0, height),
        };
        let radius = radius_of(quad.sides().top, rise);
        let arc = Arc::with_radius(quad.upper_left, quad.upper_right, radius).unwrap();
        let opening = Outline { quad, arc: Some(arc) };
        let (front, corner) = opening.inset(&Edges::all(gap)).unwrap();
        let inner = front.arc.unwrap();
        let outer: Vec<Point> = (0..=400)
            .map(|i| width * f64::from(i) / 400.0)
            .map(|x| Point::new(x, arc.height_at(x).unwrap()))
            .collect();
        for i in 0..=40 {
            let (left, right) = (front.quad.upper_left.x, front.quad.upper_right.x);
            let x = left + (right - left) * f64::from(i) / 40.0;
            let here = Point::new(x + corner.x, inner.height_at(x).unwrap() + corner.y);
            let nearest = outer.iter().map(|p| p.distance(here)).fold(f64::MAX, f64::min);
            prop_assert!(nearest >= gap - 1e-6, "{nearest} at {x}");
        }
        prop_assert!(front.height() <= opening.height() - 2.0 * gap + 1e-6);
    }
}
