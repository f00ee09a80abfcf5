//! What the nearest plan to limits that can't be kept looks like.

use std::fmt;
use std::time::{Duration, Instant};

use super::misses;
use crate::job::{Front, Job, Settings, Worth};
use crate::layout::{self, Request, Watch};
use crate::measure::{Unit, Volume};
use crate::plan::{Limits, Plan, Totals};

/// What a break, a tone step or a glue line counts where only one figure matters: of equal
/// plans the best-looking is the one to find, and to tell them apart helps the search.
const LITTLE: f64 = 1e-5;

/// No front is glued with more lines than this.
const MOST_LINES: usize = 15;

/// So much the least found may lie above what is proved and still be the least.
const SAME: f64 = 5e-3;

/// A figure a limit can be set on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Breaks over all runs.
    Breaks,
    /// Wood used.
    Feet,
    /// Tone spread over the whole piece.
    Tone,
}

/// The least a figure can be with every front made that can be.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// The figure.
    pub figure: Figure,
    /// The job's unit, which says what wood is counted in.
    pub unit: Unit,
    /// The least found.
    pub found: f64,
    /// No plan has less.
    pub at_least: f64,
    /// Whether the least found fails the limit set on it; if not, only all limits together can't
    /// be kept.
    pub over: bool,
    /// What stands in the way, by how much, and what would cure it: a sentence each.
    pub misses: Vec<String>,
}

impl Nearest {
    /// Whether nothing less than what was found is possible.
    pub fn proved(&self) -> bool {
        self.at_least >= self.found - SAME
    }
}

impl fmt::Display for Nearest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let found = self.figure.in_words(self.found, self.unit);
        if self.proved() {
            return write!(f, "the least possible is {found}");
        }
        if self.at_least <= 0.0 {
            return write!(f, "the least found is {found}");
        }
        let least = self.figure.in_words(self.at_least, self.unit);
        write!(
            f,
            "the least found is {found}, and no plan has less than {least}"
        )
    }
}

impl Figure {
    fn in_words(self, value: f64, unit: Unit) -> String {
        match self {
            Figure::Breaks if value == 1.0 => "1 break".to_owned(),
            Figure::Breaks => format!("{value} breaks"),
            Figure::Feet => format!("{} used", Volume::new(value).show(unit)),
            Figure::Tone => format!("a tone spread of {value:.1}"),
        }
    }

    /// The limit set on it.
    fn limit(self, limits: &Limits) -> Option<f64> {
        match self {
            Figure::Breaks => limits.most_breaks.map(|most| most as f64),
            Figure::Feet => limits.most_feet.map(|most| most.value()),
            Figure::Tone => limits.tone_within,
        }
    }

    fn of(self, totals: &Totals) -> f64 {
        match self {
            Figure::Breaks => totals.breaks as f64,
            Figure::Feet => totals.feet_used.value(),
            Figure::Tone => totals.tone_case,
        }
    }

    /// Worths at which the plan with the least of this figure is the best, and what one unit of
    /// it costs then.
    fn worth(self, job: &Job) -> (Worth, f64) {
        let nothing = Worth {
            unbroken: LITTLE,
            tone_run: LITTLE,
            tone_case: LITTLE,
            glue_line: LITTLE,
            mixed_log: LITTLE,
            mixed_cut: LITTLE,
            ..job.settings.worth.clone()
        };
        // More than all the wood there is, for the least that the figure can change by.
        let dear = 1.0 + wood(job);
        match self {
            Figure::Feet => (nothing, 1.0),
            Figure::Breaks => (
                Worth {
                    unbroken: dear,
                    ..nothing
                },
                dear,
            ),
            Figure::Tone => {
                let unit = dear / differences(job).get(1).copied().unwrap_or(1.0);
                (
                    Worth {
                        tone_case: unit,
                        ..nothing
                    },
                    unit,
                )
            }
        }
    }

    /// The least the figure can be when the cost at those worths is at least `bound`.
    fn at_least(self, job: &Job, bound: f64, unit: f64) -> f64 {
        let slack = 1e-6 * bound.max(1.0) + looks(job);
        match self {
            Figure::Feet => (bound - slack).max(0.0),
            Figure::Breaks => ((bound - slack - wood(job)) / unit).ceil().max(0.0),
            Figure::Tone => {
                let least = (bound - slack - wood(job)) / unit;
                let mut possible = differences(job).into_iter();
                possible.find(|&d| d >= least).unwrap_or(0.0)
            }
        }
    }
}

/// Most that all looks together can count at [`LITTLE`].
fn looks(job: &Job) -> f64 {
    let widest = differences(job).last().copied().unwrap_or(0.0);
    let tones = widest * (job.runs.len() + 1) as f64;
    // A break and some glue lines for each front.
    LITTLE * (tones + (1 + MOST_LINES) as f64 * job.fronts.len() as f64)
}

/// Volume of the whole pile.
fn wood(job: &Job) -> f64 {
    let feet = |board: &crate::job::Board| job.volume_of(board).value() * board.copies.len() as f64;
    job.boards.iter().map(feet).sum()
}

/// Every difference of two boards' tones, least first: what a tone spread can be.
fn differences(job: &Job) -> Vec<f64> {
    let tones = || job.boards.iter().map(|board| board.tone.value());
    let mut all: Vec<f64> = tones()
        .flat_map(|a| tones().map(move |b| (a - b).abs()))
        .collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// For each limit that `plan` fails, the least its figure can be. Nothing when the plan keeps to
/// all of them and leaves out no front that another plan makes.
///
/// `time` is shared by the questions that takes.
pub fn nearest(
    job: &Job,
    request: &Request,
    plan: &Plan,
    time: Option<Duration>,
    watch: &dyn Watch,
) -> Vec<Nearest> {
    let limits = &request.limits;
    // To leave a front out is no way to keep to a limit.
    let suspect = !plan.not_made.is_empty();
    let over = |failed: bool, set: bool| failed || (suspect && set);
    let figures = [
        (
            Figure::Breaks,
            over(
                !limits.breaks_kept(&plan.totals),
                limits.most_breaks.is_some(),
            ),
        ),
        (
            Figure::Feet,
            over(!limits.feet_kept(&plan.totals), limits.most_feet.is_some()),
        ),
        (
            Figure::Tone,
            over(
                !limits.tone_kept(&plan.totals),
                limits.tone_within.is_some(),
            ),
        ),
    ];
    let asked: Vec<Figure> = figures
        .into_iter()
        .filter_map(|(figure, over)| over.then_some(figure))
        .collect();
    let begun = Instant::now();
    let mut found = Vec::new();
    for (nth, &figure) in asked.iter().enumerate() {
        let left = time.map(|time| time.saturating_sub(begun.elapsed()));
        let share = left.map(|left| left / (asked.len() - nth) as u32);
        let (least, lacking) = least(job, request, figure, share, watch);
        let better_made = lacking < area_lacking(job, plan);
        if better_made || !limits.kept_by(&plan.totals) {
            found.push(least);
        }
    }
    found
}

/// Area of the fronts a plan does not make, in square nanometres: the less the better, before all else.
fn area_lacking(job: &Job, plan: &Plan) -> i128 {
    let fronts = plan
        .not_made
        .iter()
        .map(|lacking| &job.fronts[lacking.front]);
    let area = |front: &Front| i128::from(front.width.nm()) * i128::from(front.height.nm());
    fronts.map(area).sum()
}

/// The least of one figure when no limit holds, and the area of what is not made then.
fn least(
    job: &Job,
    request: &Request,
    figure: Figure,
    time: Option<Duration>,
    watch: &dyn Watch,
) -> (Nearest, i128) {
    let (worth, unit) = figure.worth(job);
    let free = Job {
        settings: Settings {
            worth,
            ..job.settings.clone()
        },
        ..job.clone()
    };
    let limits = &request.limits;
    let request = Request {
        time,
        by_money: false,
        limits: Limits::default(),
        ..request.clone()
    };
    let plan = layout::plan(&free, &request, watch);
    let found = figure.of(&plan.totals);
    let limit = figure.limit(limits).unwrap_or(f64::INFINITY);
    let over = found > limit + 1e-6;
    let nearest = Nearest {
        figure,
        unit: job.settings.unit,
        found,
        at_least: figure.at_least(job, plan.totals.bound, unit).min(found),
        over,
        misses: match (over, figure) {
            (false, _) => Vec::new(),
            (true, Figure::Breaks) => misses::broken_runs(job, &plan),
            (true, Figure::Tone) => misses::tone_spread(job, &plan, limit),
            (true, Figure::Feet) => vec![format!("that is {:.2} more than asked", found - limit)],
        },
    };
    (nearest, area_lacking(job, &plan))
}
