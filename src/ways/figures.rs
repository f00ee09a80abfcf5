//! A plan as a point, worths as a direction to look at it from.

use crate::job::{Job, Worth};
use crate::plan::{self, Totals};

/// Wood with its glue lines and mixed logs and cuts, breaks, and tone, each as little as can be wished. Wood and tone are
/// in the job's volumes, tone at its worths.
pub(super) type Point = [f64; 3];

/// What a break is worth in board feet, and how many times the job's worth a tone step is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Weight {
    pub(super) unbroken: f64,
    pub(super) tone: f64,
}

impl Weight {
    /// Cost of a plan at this weight, in board feet.
    pub(super) fn cost(self, point: Point) -> f64 {
        point[0] + self.unbroken * point[1] + self.tone * point[2]
    }
}

/// How a job's plans are measured.
#[derive(Clone, Debug)]
pub(super) struct Measure {
    worth: Worth,
    /// Price that turns worths into money; 1 when board feet count.
    price: f64,
    /// What a tone step in a run and over all is worth at weight 1.
    tone: [f64; 2],
}

impl Measure {
    pub(super) fn new(job: &Job, by_money: bool) -> Measure {
        let worth = job.settings.worth.clone();
        let price = by_money.then(|| plan::mean_price(job)).flatten();
        let given_up = worth.tone_run == 0.0 && worth.tone_case == 0.0;
        let of_tone = if given_up {
            Worth::of(job.settings.unit)
        } else {
            worth.clone()
        };
        Measure {
            worth,
            price: price.filter(|&price| price > 0.0).unwrap_or(1.0),
            tone: [of_tone.tone_run, of_tone.tone_case],
        }
    }

    /// The weight at which plans are weighed as the job says.
    pub(super) fn own(&self) -> Weight {
        let given_up = self.worth.tone_run == 0.0 && self.worth.tone_case == 0.0;
        Weight {
            unbroken: self.worth.unbroken,
            tone: if given_up { 0.0 } else { 1.0 },
        }
    }

    /// The larger worth of a tone step at weight 1.
    pub(super) fn tone_step(&self) -> f64 {
        self.tone[0].max(self.tone[1])
    }

    pub(super) fn worth(&self, weight: Weight) -> Worth {
        Worth {
            unbroken: weight.unbroken,
            tone_run: weight.tone * self.tone[0],
            tone_case: weight.tone * self.tone[1],
            ..self.worth.clone()
        }
    }

    pub(super) fn point(&self, totals: &Totals) -> Point {
        let wood = match totals.money {
            Some(money) => (money.buy + money.owned) / self.price,
            None => totals.feet_used.value(),
        };
        [
            wood + self.worth.glue_line * totals.glue_lines as f64
                + self.worth.mixed_log * totals.mixed_logs as f64
                + self.worth.mixed_cut * totals.mixed_cuts as f64,
            totals.breaks as f64,
            self.tone[0] * totals.tone_run + self.tone[1] * totals.tone_case,
        ]
    }

    /// A cost the optimiser reports, in board feet.
    pub(super) fn in_feet(&self, cost: f64) -> f64 {
        cost / self.price
    }
}
