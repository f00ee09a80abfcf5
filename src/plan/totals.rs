//! The figures of a plan, from the plan and its job.

use std::collections::BTreeMap;

use super::{Blank, BoardPlan, Kept, Money, Plan, Totals};
use crate::job::{Board, Job};
use crate::measure::Volume;

/// A gap below this counts as a proof.
const PROVED_GAP: f64 = 1e-6;

/// The figures of `plan`, with the bound and the seconds its own totals already hold.
///
/// `by_money` counts money instead of wood, as far as any board has a price; when none
/// has, wood decides as always and [`Totals::money`] stays empty.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn totals(job: &Job, plan: &Plan, by_money: bool) -> Totals {
    let feet: f64 = plan
        .boards
        .iter()
        .map(|b| job.volume_of(kind(job, b)).value())
        .sum();
    let kept: f64 = plan.boards.iter().map(|b| kept_feet(job, b)).sum();
    let breaks = breaks(job, plan);
    let (fronts, lines) = front_figures(job, plan);
    let (tone_run, tone_case) = tone_spreads(job, plan);
    let mixed_logs = mixed(job, plan, &|board| board.log.as_ref());
    let mixed_cuts = mixed(job, plan, &|board| board.cut.as_ref());
    let mut totals = Totals {
        fronts: job.fronts.len(),
        made: fronts.made,
        boards_used: plan.boards.len(),
        feet_used: Volume::new(feet - kept),
        feet_fronts: Volume::new(fronts.feet),
        feet_kept: Volume::new(kept),
        yield_share: share(fronts.feet, feet - kept),
        breaks,
        glue_lines: lines,
        mixed_logs,
        mixed_cuts,
        tone_run,
        tone_case,
        money: by_money.then(|| money(job, plan)).flatten(),
        ..plan.totals.clone()
    };
    totals.cost = cost(job, &totals);
    totals.gap = match totals.cost {
        // A plan of nothing has no gap, unless making nothing is not proved to be all there is.
        0.0 => plan.totals.gap.floor(),
        cost => share(cost - totals.bound, cost).max(0.0),
    };
    totals.proved = totals.gap < PROVED_GAP;
    totals
}

/// Finished area of the fronts a plan does not make, in square inches.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn missing_area(job: &Job, plan: &Plan) -> f64 {
    let areas = plan.not_made.iter().map(|missing| {
        let front = &job.fronts[missing.front];
        front.width.inches() * front.height.inches()
    });
    areas.sum()
}

/// Writes into `totals` how far they are proved: no plan is cheaper by more than `lead`, where what is not made
/// counts as dearer than all wood.
pub(crate) fn prove(totals: &mut Totals, lead: f64) {
    totals.bound = (totals.cost - lead).clamp(0.0, totals.cost);
    totals.gap = if lead < PROVED_GAP { 0.0 } else { 1.0 };
}

/// Mean price of a board foot (a litre) on offer, each board weighing by its volume and copies;
/// `None` when nothing is on offer.
pub fn mean_price(job: &Job) -> Option<f64> {
    let (mut feet, mut price) = (0.0, 0.0);
    for board in job.boards.iter().filter(|board| !board.left_out) {
        if let Some(per_foot) = board.price {
            let all = job.volume_of(board).value() * board.copies.len() as f64;
            feet += all;
            price += per_foot * all;
        }
    }
    (feet > 0.0).then(|| price / feet)
}

/// Lumber, as a volume or in money, and what looks are worth.
fn cost(job: &Job, totals: &Totals) -> f64 {
    let worth = &job.settings.worth;
    let looks = worth.unbroken * totals.breaks as f64
        + worth.tone_run * totals.tone_run
        + worth.tone_case * totals.tone_case
        + worth.glue_line * totals.glue_lines as f64
        + worth.mixed_log * totals.mixed_logs as f64
        + worth.mixed_cut * totals.mixed_cuts as f64;
    match totals.money {
        None => totals.feet_used.value() + looks,
        Some(money) => money.buy + money.owned + money.mean_price * looks,
    }
}

/// An offered board is bought whole, whatever of it is kept; of an owned one what is used counts.
fn money(job: &Job, plan: &Plan) -> Option<Money> {
    let mut money = Money {
        mean_price: mean_price(job)?,
        ..Money::default()
    };
    for planned in &plan.boards {
        let board = kind(job, planned);
        match board.price {
            Some(price) => money.buy += price * job.volume_of(board).value(),
            None => {
                let used = job.volume_of(board).value() - kept_feet(job, planned);
                money.owned += job.settings.worth.owned * used;
            }
        }
    }
    Some(money)
}

fn kind<'a>(job: &'a Job, planned: &BoardPlan) -> &'a Board {
    &job.boards[planned.board]
}

fn kept_feet(job: &Job, planned: &BoardPlan) -> f64 {
    let thickness = kind(job, planned).thickness;
    let feet = |k: &Kept| job.volume(k.to - k.from, k.high - k.low, thickness).value();
    planned.kept.iter().map(feet).sum()
}

/// `part / whole`, and nothing of nothing.
fn share(part: f64, whole: f64) -> f64 {
    if whole == 0.0 { 0.0 } else { part / whole }
}

fn blanks(plan: &Plan) -> impl Iterator<Item = (&BoardPlan, &Blank)> {
    plan.boards.iter().flat_map(|board| {
        let strips = board.sections.iter().flat_map(|section| &section.strips);
        strips.flat_map(move |strip| strip.blanks.iter().map(move |blank| (board, blank)))
    })
}

fn run_of_fronts(job: &Job) -> Vec<usize> {
    let mut runs = vec![0; job.fronts.len()];
    for (index, run) in job.runs.iter().enumerate() {
        for &front in &run.fronts {
            runs[front] = index;
        }
    }
    runs
}

/// A run cut as m stretches has m - 1 breaks.
fn breaks(job: &Job, plan: &Plan) -> usize {
    let run_of = run_of_fronts(job);
    let mut stretches: BTreeMap<usize, Vec<u32>> = BTreeMap::new();
    for (_, blank) in blanks(plan) {
        let seen = stretches.entry(run_of[blank.front]).or_default();
        if !seen.contains(&blank.stretch) {
            seen.push(blank.stretch);
        }
    }
    stretches.values().map(|seen| seen.len() - 1).sum()
}

struct FrontFigures {
    made: usize,
    feet: f64,
}

/// Fronts made, their volume, and the glue lines in them.
///
/// A front glued from boards of different thickness counts each board's thickness by the share
/// its stave has in the width of all staves.
fn front_figures(job: &Job, plan: &Plan) -> (FrontFigures, usize) {
    let mut staves: BTreeMap<usize, Vec<(f64, f64)>> = BTreeMap::new();
    for (planned, blank) in blanks(plan) {
        let width = (blank.high - blank.low).inches();
        let face = &job.fronts[blank.front];
        let feet = job.volume(face.width, face.height, kind(job, planned).thickness);
        staves
            .entry(blank.front)
            .or_default()
            .push((width, feet.value()));
    }
    let mean = |staves: &Vec<(f64, f64)>| {
        let whole: f64 = staves.iter().map(|(width, _)| width).sum();
        staves
            .iter()
            .map(|(width, feet)| feet * share(*width, whole))
            .sum::<f64>()
    };
    let figures = FrontFigures {
        made: staves.len(),
        feet: staves.values().map(mean).sum(),
    };
    (figures, staves.values().map(|s| s.len() - 1).sum())
}

/// Darkest less palest, summed over the runs and over all used boards.
fn tone_spreads(job: &Job, plan: &Plan) -> (f64, f64) {
    let run_of = run_of_fronts(job);
    let mut runs: BTreeMap<usize, Spread> = BTreeMap::new();
    for (planned, blank) in blanks(plan) {
        let spread = runs.entry(run_of[blank.front]).or_default();
        spread.add(kind(job, planned).tone.value());
    }
    let mut case = Spread::default();
    // A board all of whose fronts were lost shows nowhere.
    for planned in plan.boards.iter().filter(|b| yields(b)) {
        case.add(kind(job, planned).tone.value());
    }
    (runs.values().map(Spread::width).sum(), case.width())
}

/// Of the boards each run is cut from, how many labels beyond the first there are; one without counts for none.
fn mixed<'j, L: PartialEq>(
    job: &'j Job,
    plan: &Plan,
    label: &dyn Fn(&'j Board) -> Option<&'j L>,
) -> usize {
    let run_of = run_of_fronts(job);
    let mut runs: BTreeMap<usize, Vec<&L>> = BTreeMap::new();
    for (planned, blank) in blanks(plan) {
        let seen = runs.entry(run_of[blank.front]).or_default();
        if let Some(label) = label(kind(job, planned)).filter(|label| !seen.contains(label)) {
            seen.push(label);
        }
    }
    runs.values().map(|seen| seen.len().saturating_sub(1)).sum()
}

/// Whether a front comes from a board.
fn yields(planned: &BoardPlan) -> bool {
    let strips = planned.sections.iter().flat_map(|section| &section.strips);
    strips.into_iter().any(|strip| !strip.blanks.is_empty())
}

/// The palest and the darkest seen.
#[derive(Default)]
struct Spread(Option<(f64, f64)>);

impl Spread {
    fn add(&mut self, tone: f64) {
        let (palest, darkest) = self.0.unwrap_or((tone, tone));
        self.0 = Some((palest.min(tone), darkest.max(tone)));
    }

    fn width(&self) -> f64 {
        self.0.map_or(0.0, |(palest, darkest)| darkest - palest)
    }
}
