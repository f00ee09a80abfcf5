//! The lower envelope of plans over all worths in a box, and its corners.

use super::figures::{Point, Weight};

/// Costs nearer than this share of themselves are the same.
pub(super) const SAME: f64 = 1e-6;

/// Least and most of each weight.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bounds {
    pub(super) least: Weight,
    pub(super) most: Weight,
}

/// A straight line of weights: `a * unbroken + b * tone = c`.
type Line = [f64; 3];

/// The least cost any of the points has at a weight.
pub(super) fn lowest(points: &[Point], weight: Weight) -> f64 {
    let costs = points.iter().map(|&point| weight.cost(point));
    costs.fold(f64::INFINITY, f64::min)
}

/// Whether the costs are the same but for rounding.
pub(super) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(b.abs()).max(1.0)
}

/// Corners of the envelope of `points` within `bounds`: where three plans cost the same and none
/// costs less, where two do at the box's edge, and the box's own corners.
pub(super) fn corners(points: &[Point], bounds: &Bounds) -> Vec<Weight> {
    let (low, high) = (bounds.least, bounds.most);
    let edges = [
        [1.0, 0.0, low.unbroken],
        [1.0, 0.0, high.unbroken],
        [0.0, 1.0, low.tone],
        [0.0, 1.0, high.tone],
    ];
    let mut found: Vec<Weight> = Vec::new();
    let mut add = |line: Line, other: Line, tied: &[usize]| {
        let Some(weight) = crossing(line, other).and_then(|weight| within(weight, bounds)) else {
            return;
        };
        let least = lowest(points, weight);
        let on_it = tied.iter().all(|&i| same(weight.cost(points[i]), least));
        if on_it && !found.iter().any(|&known| near(known, weight, bounds)) {
            found.push(weight);
        }
    };
    for upright in 0..2 {
        for level in 2..4 {
            add(edges[upright], edges[level], &[]);
        }
    }
    for i in 0..points.len() {
        for j in i + 1..points.len() {
            let tie = tie(points[i], points[j]);
            for edge in edges {
                add(tie, edge, &[i, j]);
            }
            for k in j + 1..points.len() {
                add(tie, self::tie(points[i], points[k]), &[i, j, k]);
            }
        }
    }
    found
}

/// The weights at which two plans cost the same.
fn tie(one: Point, other: Point) -> Line {
    [one[1] - other[1], one[2] - other[2], -(one[0] - other[0])]
}

fn crossing(one: Line, other: Line) -> Option<Weight> {
    let bottom = one[0] * other[1] - one[1] * other[0];
    (bottom.abs() > 1e-12).then(|| Weight {
        unbroken: (one[2] * other[1] - one[1] * other[2]) / bottom,
        tone: (one[0] * other[2] - one[2] * other[0]) / bottom,
    })
}

/// The weight, pulled onto the box when it lies outside by rounding only.
fn within(weight: Weight, bounds: &Bounds) -> Option<Weight> {
    let pull = |value: f64, least: f64, most: f64| {
        let slack = 1e-9 * (most - least);
        let inside = value >= least - slack && value <= most + slack;
        inside.then(|| value.clamp(least, most))
    };
    Some(Weight {
        unbroken: pull(weight.unbroken, bounds.least.unbroken, bounds.most.unbroken)?,
        tone: pull(weight.tone, bounds.least.tone, bounds.most.tone)?,
    })
}

/// Whether two weights are one for all purposes.
pub(super) fn near(one: Weight, other: Weight, bounds: &Bounds) -> bool {
    let close = |a: f64, b: f64, most: f64| (a - b).abs() <= 1e-7 * most;
    close(one.unbroken, other.unbroken, bounds.most.unbroken)
        && close(one.tone, other.tone, bounds.most.tone)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOX: Bounds = Bounds {
        least: Weight {
            unbroken: 0.0,
            tone: 0.0,
        },
        most: Weight {
            unbroken: 10.0,
            tone: 10.0,
        },
    };

    fn sorted(mut corners: Vec<Weight>) -> Vec<(f64, f64)> {
        corners.sort_by(|a, b| {
            a.unbroken
                .total_cmp(&b.unbroken)
                .then(a.tone.total_cmp(&b.tone))
        });
        corners.iter().map(|w| (w.unbroken, w.tone)).collect()
    }

    #[test]
    fn one_plan_has_the_corners_of_the_box() {
        let corners = corners(&[[20.0, 2.0, 3.0]], &BOX);
        let all = [(0.0, 0.0), (0.0, 10.0), (10.0, 0.0), (10.0, 10.0)];
        assert_eq!(sorted(corners), all);
    }

    #[test]
    fn two_plans_meet_where_a_break_costs_what_it_saves() {
        // Two breaks fewer for 6 board feet more: they tie at 3 board feet a break, whatever a
        // tone step is worth.
        let corners = corners(&[[20.0, 2.0, 1.0], [26.0, 0.0, 1.0]], &BOX);
        assert!(sorted(corners).ends_with(&[(3.0, 0.0), (3.0, 10.0), (10.0, 0.0), (10.0, 10.0)]));
    }

    #[test]
    fn three_plans_meet_in_one_point_worked_out_by_hand() {
        // 20 + 2b + 2t = 24 + 2t = 23 + 2b + t/2 at b = 2, t = 2.
        let points = [[20.0, 2.0, 2.0], [24.0, 0.0, 2.0], [23.0, 2.0, 0.5]];
        let corners = corners(&points, &BOX);
        assert!(corners.contains(&Weight {
            unbroken: 2.0,
            tone: 2.0
        }));
        // A plan above the envelope everywhere makes no corner.
        let more = [points[0], points[1], points[2], [30.0, 2.0, 2.0]];
        assert_eq!(self::corners(&more, &BOX).len(), corners.len());
    }
}
