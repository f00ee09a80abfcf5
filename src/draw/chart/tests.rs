use super::*;
use crate::draw::testing::clashes;
use crate::estimate::{Ask, Bought, Chance, Estimate, Held, Percentile, Purchase, Silent, Thumb};
use crate::job::generate::{Size, generate};
use crate::measure::{Length, Ruler};

fn invented(seed: u64) -> Estimate {
    let mut job = generate(Size::new(8, 3, 1), seed);
    for front in &mut job.fronts {
        front.width = front.width.min(Length::from_inches(20.0));
    }
    let ask = Ask {
        trials: 30,
        seed,
        have: vec![Purchase {
            feet: 33.5,
            thickness: None,
        }],
        ..Ask::default()
    };
    crate::estimate::estimate(&job, &ask, &Silent).expect("the yard's boards make it")
}

#[test]
fn no_text_is_cut_off_or_covers_another() {
    for seed in 0..4 {
        let mut estimate = invented(seed);
        assert_eq!(clashes(&feet_to_buy(&estimate)), Vec::<String>::new());
        let ruler = Ruler::default();
        assert_eq!(
            clashes(&need_of_runs(&estimate, ruler)),
            Vec::<String>::new()
        );
        for run in &mut estimate.runs {
            run.run = "the long row under the window, left of the stove".to_owned();
            run.whole = false;
        }
        assert_eq!(
            clashes(&need_of_runs(&estimate, ruler)),
            Vec::<String>::new()
        );
    }
}

#[test]
fn lines_that_end_side_by_side_are_still_named_apart() {
    let mut estimate = invented(1);
    let chance = Chance::of(1, 2);
    let thumb = |percent: f64, feet: f64| Thumb {
        percent,
        feet,
        short: chance,
    };
    estimate.thumb = vec![thumb(20.0, 40.0), thumb(30.0, 40.5)];
    estimate.have = vec![Held {
        feet: 40.2,
        thickness: None,
        chance,
    }];
    assert_eq!(clashes(&feet_to_buy(&estimate)), Vec::<String>::new());
}

#[test]
fn what_is_not_known_is_left_out() {
    let mut estimate = invented(2);
    let unknown = Percentile {
        percent: 95.0,
        value: None,
        low: None,
        high: None,
    };
    estimate.all = Bought {
        feet: vec![unknown],
        money: None,
        curve: vec![(50.0, None)],
    };
    estimate.runs[0].first_fit = vec![unknown];
    assert_eq!(clashes(&feet_to_buy(&estimate)), Vec::<String>::new());
    assert_eq!(
        clashes(&need_of_runs(&estimate, Ruler::default())),
        Vec::<String>::new()
    );
}

#[test]
fn the_curve_is_drawn_to_scale() {
    let estimate = invented(0);
    let drawing = feet_to_buy(&estimate);
    let bold = drawing.shapes.iter().find_map(|shape| match shape {
        crate::draw::Shape::Stroke { points, width, .. } if *width == 2.2 => Some(points),
        _ => None,
    });
    let points = bold.expect("there is a curve");
    let feet: Vec<f64> = super::feet::steps(&estimate.all)
        .into_iter()
        .filter_map(|step| step.1)
        .collect();
    let (first, last) = (points[0], points[points.len() - 1]);
    // Heights go with feet: the line through the first and last point tells the scale.
    let per_foot = (first.y - last.y) / (feet[feet.len() - 1] - feet[0]);
    for (point, feet_here) in points.iter().skip(1).step_by(2).zip(&feet) {
        let expected = first.y - per_foot * (feet_here - feet[0]);
        assert!((point.y - expected).abs() < 1e-6);
    }
}

/// 95 lies between two of the curve's even percentiles: its sign stood beside the stair once.
#[test]
fn every_sign_of_a_percentile_stands_on_the_curve() {
    let estimate = invented(0);
    let drawing = feet_to_buy(&estimate);
    let curve = drawing.shapes.iter().find_map(|shape| match shape {
        crate::draw::Shape::Stroke { points, width, .. } if *width == 2.2 => Some(points),
        _ => None,
    });
    let curve = curve.expect("there is a curve");
    let signs: Vec<_> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            crate::draw::Shape::Area { points, fill } if *fill == crate::draw::Ink::BLACK => {
                Some(crate::draw::Rect::around(points).centre())
            }
            _ => None,
        })
        .collect();
    assert_eq!(signs.len(), estimate.all.feet.len());
    for sign in signs {
        let near = |p: &&crate::draw::Point| (p.x - sign.x).hypot(p.y - sign.y) < 1e-6;
        assert!(curve.iter().any(|p| near(&p)), "{sign:?}");
    }
}
