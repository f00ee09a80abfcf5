//! Which of the plans found are ways to choose, and for which worths.

use super::envelope::{corners, lowest, same};
use super::figures::{Point, Weight};
use super::search::Search;
use super::{Step, Way, Ways};

impl Search<'_> {
    /// Weights at which the envelope is looked at: its corners, and where it was asked.
    fn looked_at(&self) -> Vec<Weight> {
        let tried = self.tried.iter().map(|tried| tried.weight);
        tried
            .chain(corners(&self.points(), &self.bounds()))
            .collect()
    }

    /// Plans that no other one beats in every figure and that are best at some weight.
    pub(super) fn best_somewhere(&self) -> Vec<usize> {
        let points = self.points();
        let weights = self.looked_at();
        let is_best = |&i: &usize| {
            let best = |&weight: &Weight| same(weight.cost(points[i]), lowest(&points, weight));
            !points.iter().any(|&other| beats(other, points[i])) && weights.iter().any(best)
        };
        (0..points.len()).filter(is_best).collect()
    }

    /// The plans, the one that takes least wood first.
    pub(super) fn ways(self, most: usize) -> Ways {
        let own = self.measure.own();
        let points = self.points();
        let mut picked = self.best_somewhere();
        let cost = |i: usize| own.cost(points[i]);
        picked.sort_by(|&a, &b| cost(a).total_cmp(&cost(b)));
        let best = picked.first().copied();
        picked.truncate(most.max(1));
        picked.sort_by(|&a, &b| points[a].partial_cmp(&points[b]).unwrap_or(a.cmp(&b)));
        let mut ways: Vec<Way> = Vec::new();
        for &i in &picked {
            let step = ways
                .last()
                .map(|before| Step::between(&before.plan.totals, &self.found[i].plan.totals));
            ways.push(self.way(i, Some(i) == best, step));
        }
        Ways {
            chosen: picked.iter().position(|&i| Some(i) == best).unwrap_or(0),
            complete: self.complete && picked.len() == self.best_somewhere().len(),
            ways,
        }
    }

    fn way(&self, i: usize, chosen: bool, step: Option<Step>) -> Way {
        let weight = if chosen {
            self.measure.own()
        } else {
            self.weight_of(i)
        };
        let cost = weight.cost(self.found[i].point);
        let least = self.least_at(weight).min(cost);
        let proved = self.proved_at(weight, cost) || self.cell_is_proved(i);
        Way {
            plan: self.found[i].plan.clone(),
            best_for: self.measure.worth(weight),
            gap: if proved || cost <= 0.0 {
                0.0
            } else {
                1.0 - least / cost
            },
            proved,
            step,
        }
    }

    /// Corners of the weights for which a plan is best.
    fn cell(&self, i: usize) -> Vec<Weight> {
        let points = self.points();
        let mut corners = corners(&points, &self.bounds());
        corners.retain(|&weight| same(weight.cost(points[i]), lowest(&points, weight)));
        corners
    }

    /// Whether a plan is proved best at all corners of its weights, and so at all of them.
    fn cell_is_proved(&self, i: usize) -> bool {
        let cell = self.cell(i);
        let proved = |&weight: &Weight| self.proved_at(weight, weight.cost(self.found[i].point));
        cell.len() > 2 && cell.iter().all(proved)
    }

    /// A weight for which a plan is best: the middle of all such weights where it is proved
    /// there, else one at which it is proved, else the one with the narrowest gap.
    fn weight_of(&self, i: usize) -> Weight {
        let (points, point) = (self.points(), self.found[i].point);
        if self.cell_is_proved(i) {
            let cell = self.cell(i);
            let mean =
                |of: fn(&Weight) -> f64| cell.iter().map(of).sum::<f64>() / cell.len() as f64;
            let middle = Weight {
                unbroken: mean(|w| w.unbroken),
                tone: mean(|w| w.tone),
            };
            let round = Weight {
                unbroken: two_digits(middle.unbroken),
                tone: two_digits(middle.tone),
            };
            let others = points.iter().enumerate().filter(|&(other, _)| other != i);
            let clear = others
                .map(|(_, &other)| round.cost(other))
                .all(|cost| cost > round.cost(point) && !same(cost, round.cost(point)));
            return if clear { round } else { middle };
        }
        let best = |weight: &Weight| same(weight.cost(point), lowest(&points, *weight));
        let gap = |weight: &Weight| weight.cost(point) - self.least_at(*weight);
        let weights = self.looked_at().into_iter().filter(best);
        let nearest = weights.min_by(|a, b| gap(a).total_cmp(&gap(b)));
        nearest.unwrap_or(self.measure.own())
    }
}

/// Whether a plan is better in some figure and worse in none.
fn beats(one: Point, other: Point) -> bool {
    let no_worse = (0..3).all(|i| one[i] <= other[i] || same(one[i], other[i]));
    no_worse && (0..3).any(|i| one[i] < other[i] && !same(one[i], other[i]))
}

/// To two digits that count.
fn two_digits(value: f64) -> f64 {
    if value <= 0.0 {
        return value;
    }
    let unit = 10_f64.powi(value.log10().floor() as i32 - 1);
    (value / unit).round() * unit
}
