//! Asks the optimiser for plans at one weight after another.

use std::time::{Duration, Instant};

use super::envelope::{Bounds, corners, lowest, near, same};
use super::figures::{Measure, Point, Weight};
use crate::job::{Job, Settings};
use crate::layout::{self, Request, WarmStart, Watch};
use crate::plan::{self, Plan};

/// Least board feet a break or a tone step counts: enough to choose the better of two plans that
/// take the same wood.
const LITTLE: f64 = 1e-3;

/// A break or a tone step is never worth more than so many times the wood of the plan at the
/// job's own worths.
const DEAR: f64 = 3.0;

/// How far a search has come.
pub(super) struct Search<'a> {
    job: &'a Job,
    request: &'a Request,
    watch: &'a dyn Watch,
    begun: Instant,
    pub(super) measure: Measure,
    pub(super) found: Vec<Found>,
    pub(super) tried: Vec<Tried>,
    pub(super) complete: bool,
    /// What the last question told: the wood is the same whatever it is worth.
    warm: WarmStart,
}

/// A plan, with its figures at the job's own worths.
pub(super) struct Found {
    pub(super) plan: Plan,
    pub(super) point: Point,
}

/// A weight at which the optimiser was asked, and what it proved that any plan costs there.
pub(super) struct Tried {
    pub(super) weight: Weight,
    least: f64,
}

impl<'a> Search<'a> {
    pub(super) fn new(job: &'a Job, request: &'a Request, watch: &'a dyn Watch) -> Search<'a> {
        Search {
            job,
            request,
            watch,
            begun: Instant::now(),
            measure: Measure::new(job, request.by_money),
            found: Vec::new(),
            tried: Vec::new(),
            complete: false,
            warm: WarmStart::default(),
        }
    }

    /// Looks for at most `most` plans, each best for some worths.
    pub(super) fn run(&mut self, most: usize) {
        let half = self.request.time.map(|time| time / 2);
        let time = if most > 1 { half } else { self.request.time };
        self.ask(self.measure.own(), time);
        while self.best_somewhere().len() < most && !self.stopped() {
            let Some(next) = self.next() else {
                self.complete = self.right_at_all_corners();
                return;
            };
            self.ask(next, self.share(most));
        }
    }

    fn stopped(&self) -> bool {
        let over = |time: Duration| self.begun.elapsed() >= time.mul_f64(0.98);
        self.watch.stop() || self.request.time.is_some_and(over)
    }

    /// Time for one more question: some are asked in vain.
    fn share(&self, most: usize) -> Option<Duration> {
        let wanted = most.saturating_sub(self.best_somewhere().len()).max(1);
        let left = self.request.time?.saturating_sub(self.begun.elapsed());
        Some(left / (2 * wanted as u32))
    }

    fn ask(&mut self, weight: Weight, time: Option<Duration>) {
        let job = Job {
            settings: Settings {
                worth: self.measure.worth(weight),
                ..self.job.settings.clone()
            },
            ..self.job.clone()
        };
        let request = Request {
            time,
            ..self.request.clone()
        };
        let plan = layout::plan_from(&job, &request, self.watch, &mut self.warm);
        let least = self.measure.in_feet(plan.totals.bound);
        let known = self.missing();
        let missing = area_missing(self.job, &plan);
        let fewer_made = known.is_some_and(|known| missing > known + 1e-9);
        if fewer_made || (known.is_some() && !self.request.limits.kept_by(&plan.totals)) {
            self.tried.push(Tried { weight, least: 0.0 });
            return;
        }
        if known.is_some_and(|known| missing < known - 1e-9) {
            // Plans that make fewer fronts are no choice beside this one.
            self.found.clear();
            self.tried.clear();
        }
        self.tried.push(Tried { weight, least });
        self.keep(plan);
    }

    /// Adds a plan, its cost and bound at the job's own worths, unless it is known.
    fn keep(&mut self, mut plan: Plan) {
        let by_money = self.request.by_money;
        let at_own = plan::totals(self.job, &plan, by_money);
        // A bound proved at other worths says nothing about the job's own.
        let own_bound = match self.found.first() {
            Some(first) => first.plan.totals.bound,
            None if near_own(&self.tried, self.measure.own()) => at_own.bound,
            None => 0.0,
        };
        plan.totals.bound = own_bound.min(at_own.cost);
        plan.totals = plan::totals(self.job, &plan, by_money);
        let point = self.measure.point(&plan.totals);
        let alike = |a: Point, b: Point| (0..3).all(|i| same(a[i], b[i]));
        if !self.found.iter().any(|known| alike(known.point, point)) {
            self.found.push(Found { plan, point });
        }
    }

    /// Area of the fronts the plans known leave out.
    fn missing(&self) -> Option<f64> {
        let first = self.found.first()?;
        Some(area_missing(self.job, &first.plan))
    }

    pub(super) fn points(&self) -> Vec<Point> {
        self.found.iter().map(|found| found.point).collect()
    }

    /// Worths looked at: between next to nothing and more than all the wood is worth.
    pub(super) fn bounds(&self) -> Bounds {
        let wood = self.found.first().map_or(1.0, |f| f.point[0].max(1.0));
        let (own, dear) = (self.measure.own(), DEAR * wood);
        let step = self.measure.tone_step();
        Bounds {
            least: Weight {
                unbroken: LITTLE,
                tone: LITTLE / step,
            },
            most: Weight {
                unbroken: dear.max(own.unbroken),
                tone: (dear / step).max(own.tone),
            },
        }
    }

    /// The next weight to ask at: the job's own but for one extreme, then the corner whose plans
    /// differ most.
    fn next(&self) -> Option<Weight> {
        let bounds = self.bounds();
        let own = self.measure.own();
        let own = Weight {
            unbroken: own.unbroken.max(bounds.least.unbroken),
            tone: own.tone.max(bounds.least.tone),
        };
        let Bounds { least, most } = bounds;
        let extremes = [
            Weight {
                unbroken: most.unbroken,
                ..own
            },
            Weight {
                unbroken: least.unbroken,
                ..own
            },
            Weight {
                tone: most.tone,
                ..own
            },
            Weight {
                tone: least.tone,
                ..own
            },
        ];
        let untried = |weight: &Weight| !self.is_tried(*weight, &bounds);
        let corner = || {
            let points = self.points();
            let corners = corners(&points, &bounds).into_iter().filter(untried);
            corners.max_by(|a, b| {
                let difference = |w: &Weight| difference(&points, *w);
                difference(a).total_cmp(&difference(b))
            })
        };
        extremes.into_iter().find(untried).or_else(corner)
    }

    fn is_tried(&self, weight: Weight, bounds: &Bounds) -> bool {
        let known = |tried: &Tried| near(tried.weight, weight, bounds);
        self.tried.iter().any(known)
    }

    /// The most that is proved of what any plan costs at a weight: a plan never costs less when
    /// looks count more.
    pub(super) fn least_at(&self, weight: Weight) -> f64 {
        let bounds = self.bounds();
        let below = |tried: &&Tried| {
            let at = tried.weight;
            near(at, weight, &bounds) || (at.unbroken <= weight.unbroken && at.tone <= weight.tone)
        };
        let least = self.tried.iter().filter(below).map(|tried| tried.least);
        least.fold(0.0, f64::max)
    }

    /// Whether a plan of this cost is proved best at the weight.
    pub(super) fn proved_at(&self, weight: Weight, cost: f64) -> bool {
        let least = self.least_at(weight);
        least >= cost || same(least, cost)
    }

    fn right_at_all_corners(&self) -> bool {
        let points = self.points();
        corners(&points, &self.bounds())
            .into_iter()
            .all(|weight| self.proved_at(weight, lowest(&points, weight)))
    }
}

fn near_own(tried: &[Tried], own: Weight) -> bool {
    tried.last().is_some_and(|tried| tried.weight == own)
}

/// Square inches of the fronts a plan leaves out.
fn area_missing(job: &Job, plan: &Plan) -> f64 {
    let area = |front: usize| {
        let front = &job.fronts[front];
        front.width.inches() * front.height.inches()
    };
    plan.not_made
        .iter()
        .map(|missing| area(missing.front))
        .sum()
}

/// How much the plans that are best at a weight differ, in shares of what all plans differ.
fn difference(points: &[Point], weight: Weight) -> f64 {
    let least = lowest(points, weight);
    let tied: Vec<&Point> = points
        .iter()
        .filter(|&&point| same(weight.cost(point), least))
        .collect();
    let spread = |of: &mut dyn Iterator<Item = f64>| {
        let (low, high) = of.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
            (low.min(x), high.max(x))
        });
        high - low
    };
    (0..3)
        .map(|i| {
            let all = spread(&mut points.iter().map(|point| point[i]));
            let here = spread(&mut tied.iter().map(|point| point[i]));
            if all > 0.0 { here / all } else { 0.0 }
        })
        .sum()
}
