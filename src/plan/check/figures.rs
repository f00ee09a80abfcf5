//! Rule 8 and the cost: every figure of the totals, counted anew, and the limits.

use std::collections::{BTreeMap, BTreeSet};

use super::view::{Placed, View};
use super::{FIGURE_TOLERANCE, Limits, Rule, Violation};
use crate::measure::Unit;
use crate::plan::{Money, Totals};

pub(super) fn check(view: &View, by_money: bool, limits: &Limits) -> Vec<Violation> {
    let stated = &view.plan.totals;
    let found = counted(view, by_money);
    let mut faults = counts(stated, &found);
    faults.extend(figures(stated, &found));
    faults.extend(money(stated, &found));
    faults.extend(bound(stated, &found));
    let mut violations: Vec<Violation> =
        faults.into_iter().map(|t| fault(Rule::Totals, t)).collect();
    let broken = kept_to(&found, limits, view.job.settings.unit);
    violations.extend(broken.into_iter().map(|t| fault(Rule::Limits, t)));
    violations
}

fn fault(rule: Rule, text: String) -> Violation {
    Violation {
        rule,
        board: None,
        front: None,
        text,
    }
}

fn counted(view: &View, by_money: bool) -> Totals {
    let blanks = view.blanks();
    let made: BTreeSet<usize> = blanks.iter().map(|p| p.blank.front).collect();
    let mut totals = Totals {
        fronts: view.job.fronts.len(),
        made: made.len(),
        boards_used: view.plan.boards.len(),
        breaks: breaks(view, &blanks),
        // A front of k staves has k blanks and k - 1 lines.
        glue_lines: blanks.len() - made.len(),
        mixed_logs: mixed(view, &blanks, |board| board.log.clone()),
        mixed_cuts: mixed(view, &blanks, |board| {
            board.cut.map(|cut| format!("{cut:?}"))
        }),
        tone_run: tone_run(view, &blanks),
        tone_case: spread(blanks.iter().map(|p| p.board.tone.value())),
        ..Totals::default()
    };
    lumber(view, &mut totals);
    let fronts = feet_of_fronts(view, &blanks);
    totals.feet_fronts = crate::measure::Volume::new(fronts);
    totals.yield_share = fronts / totals.feet_used.value();
    totals.money = priced(view, by_money);
    totals.cost = cost(view, &totals);
    totals
}

/// Cubic inches in a board foot.
const CUBIC_INCHES: f64 = 144.0;
/// Cubic millimetres in a litre.
const CUBIC_MM: f64 = 1e6;

/// What a square inch of a board counts: board feet at least an inch thick, or litres.
fn of_square_inch(view: &View, board: &crate::job::Board) -> f64 {
    match view.job.settings.unit {
        Unit::Inch => board.thickness.inches().max(1.0) / CUBIC_INCHES,
        Unit::Mm => 25.4 * 25.4 * board.thickness.mm() / CUBIC_MM,
    }
}

/// The volume of a board.
fn whole(view: &View, board: &crate::job::Board) -> f64 {
    board.length.inches() * board.width.inches() * of_square_inch(view, board)
}

/// The volume of a used board, and of what is kept of it.
fn board_and_kept(view: &View, planned: &crate::plan::BoardPlan) -> (f64, f64) {
    let board = view.kind(planned);
    let thick = of_square_inch(view, board);
    let kept: f64 = planned
        .kept
        .iter()
        .map(|k| (k.to - k.from).inches() * (k.high - k.low).inches() * thick)
        .sum();
    (whole(view, board), kept)
}

fn lumber(view: &View, totals: &mut Totals) {
    let (mut used, mut all_kept) = (0.0, 0.0);
    for planned in &view.plan.boards {
        let (whole, kept) = board_and_kept(view, planned);
        used += whole - kept;
        all_kept += kept;
    }
    totals.feet_used = crate::measure::Volume::new(used);
    totals.feet_kept = crate::measure::Volume::new(all_kept);
}

/// Every blank counts its share of the finished front, by the width of its staves.
fn feet_of_fronts(view: &View, blanks: &[Placed]) -> f64 {
    let mut width_of: BTreeMap<usize, f64> = BTreeMap::new();
    for placed in blanks {
        *width_of.entry(placed.blank.front).or_default() += placed.width().inches();
    }
    let share = |p: &Placed| {
        let face = p.front.width.inches() * p.front.height.inches();
        let thick = of_square_inch(view, p.board);
        face * thick * p.width().inches() / width_of[&p.blank.front]
    };
    blanks.iter().map(share).sum()
}

fn breaks(view: &View, blanks: &[Placed]) -> usize {
    let key = |p: &Placed| (view.places[p.blank.front].0, p.blank.stretch);
    let stretches: BTreeSet<(usize, u32)> = blanks.iter().map(key).collect();
    let runs: BTreeSet<usize> = stretches.iter().map(|&(run, _)| run).collect();
    stretches.len() - runs.len()
}

fn tone_run(view: &View, blanks: &[Placed]) -> f64 {
    let mut tones: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for placed in blanks {
        let run = view.places[placed.blank.front].0;
        tones
            .entry(run)
            .or_default()
            .push(placed.board.tone.value());
    }
    tones.into_values().map(|run| spread(run.into_iter())).sum()
}

/// Different words on the boards each run is cut from, less one a run that has any.
fn mixed(view: &View, blanks: &[Placed], word: fn(&crate::job::Board) -> Option<String>) -> usize {
    let named = blanks.iter().filter_map(|placed| {
        let run = view.places[placed.blank.front].0;
        Some((run, word(placed.board)?))
    });
    let words: BTreeSet<(usize, String)> = named.collect();
    let runs: BTreeSet<usize> = words.iter().map(|(run, _)| *run).collect();
    words.len() - runs.len()
}

/// Darkest less palest; of nothing, nothing.
fn spread(tones: impl Iterator<Item = f64> + Clone) -> f64 {
    let darkest = tones.clone().fold(f64::NEG_INFINITY, f64::max);
    let palest = tones.fold(f64::INFINITY, f64::min);
    (darkest - palest).max(0.0)
}

/// Money, when asked for and any board has a price: offered boards whole at their price, owned
/// ones what is used of them, and the mean price on offer by board feet.
fn priced(view: &View, by_money: bool) -> Option<Money> {
    let offered = || {
        let there = view.job.boards.iter().filter(|b| !b.left_out);
        there.filter_map(|b| Some((b, b.price?)))
    };
    let on_offer: f64 = offered()
        .map(|(b, _)| whole(view, b) * b.copies.len() as f64)
        .sum();
    if !by_money || on_offer == 0.0 {
        return None;
    }
    let value: f64 = offered()
        .map(|(b, price)| price * whole(view, b) * b.copies.len() as f64)
        .sum();
    let mut money = Money {
        mean_price: value / on_offer,
        ..Money::default()
    };
    for planned in &view.plan.boards {
        let (whole, kept) = board_and_kept(view, planned);
        match view.kind(planned).price {
            Some(price) => money.buy += price * whole,
            None => money.owned += view.job.settings.worth.owned * (whole - kept),
        }
    }
    Some(money)
}

fn cost(view: &View, totals: &Totals) -> f64 {
    let worth = &view.job.settings.worth;
    let looks = worth.unbroken * totals.breaks as f64
        + worth.tone_run * totals.tone_run
        + worth.tone_case * totals.tone_case
        + worth.glue_line * totals.glue_lines as f64
        + worth.mixed_log * totals.mixed_logs as f64
        + worth.mixed_cut * totals.mixed_cuts as f64;
    match &totals.money {
        Some(money) => money.buy + money.owned + looks * money.mean_price,
        None => totals.feet_used.value() + looks,
    }
}

fn counts(stated: &Totals, found: &Totals) -> Vec<String> {
    let pairs = [
        ("fronts", stated.fronts, found.fronts),
        ("made", stated.made, found.made),
        ("boards_used", stated.boards_used, found.boards_used),
        ("breaks", stated.breaks, found.breaks),
        ("glue_lines", stated.glue_lines, found.glue_lines),
        ("mixed_logs", stated.mixed_logs, found.mixed_logs),
        ("mixed_cuts", stated.mixed_cuts, found.mixed_cuts),
    ];
    let wrong = pairs
        .into_iter()
        .filter(|(_, stated, found)| stated != found);
    wrong
        .map(|(name, stated, found)| format!("{name} is {found}, not {stated}"))
        .collect()
}

fn figures(stated: &Totals, found: &Totals) -> Vec<String> {
    // Nothing used has no yield.
    let found_yield = if found.made == 0 {
        0.0
    } else {
        found.yield_share
    };
    wrong_figures(&[
        (
            "feet_used",
            stated.feet_used.value(),
            found.feet_used.value(),
        ),
        (
            "feet_fronts",
            stated.feet_fronts.value(),
            found.feet_fronts.value(),
        ),
        (
            "feet_kept",
            stated.feet_kept.value(),
            found.feet_kept.value(),
        ),
        ("yield", stated.yield_share, found_yield),
        ("tone_run", stated.tone_run, found.tone_run),
        ("tone_case", stated.tone_case, found.tone_case),
        ("cost", stated.cost, found.cost),
    ])
}

fn money(stated: &Totals, found: &Totals) -> Vec<String> {
    match (&stated.money, &found.money) {
        (None, None) => Vec::new(),
        (Some(stated), Some(found)) => wrong_figures(&[
            ("money for boards to buy", stated.buy, found.buy),
            ("money for owned boards", stated.owned, found.owned),
            ("mean price", stated.mean_price, found.mean_price),
        ]),
        (Some(_), None) => vec!["money is given, but not asked for or not known".to_owned()],
        (None, Some(_)) => vec!["money is asked for, but not given".to_owned()],
    }
}

fn wrong_figures(figures: &[(&str, f64, f64)]) -> Vec<String> {
    let wrong = figures
        .iter()
        .filter(|(_, stated, found)| !near(*stated, *found));
    wrong
        .map(|(name, stated, found)| format!("{name} is {found}, not {stated}"))
        .collect()
}

/// The bound is no more than the cost, and gap and proof follow from both.
fn bound(stated: &Totals, found: &Totals) -> Vec<String> {
    let mut faults = Vec::new();
    let most = found.cost + FIGURE_TOLERANCE * found.cost.max(1.0);
    if stated.bound.is_nan() || stated.bound > most {
        faults.push(format!(
            "bound {} is above the cost {}",
            stated.bound, found.cost
        ));
    }
    let gap = match found.cost {
        // What makes nothing costs nothing, which alone proves nothing.
        0.0 if stated.gap == 1.0 => 1.0,
        0.0 => 0.0,
        cost => ((cost - stated.bound) / cost).max(0.0),
    };
    faults.extend(wrong_figures(&[("gap", stated.gap, gap)]));
    if stated.proved != (stated.gap < PROVED_GAP) {
        faults.push(format!(
            "proved is {} at a gap of {}",
            stated.proved, stated.gap
        ));
    }
    faults
}

/// A gap below this is a proof (by the definition of `proved` in plan.json).
const PROVED_GAP: f64 = 1e-6;

fn near(stated: f64, found: f64) -> bool {
    (stated - found).abs() <= FIGURE_TOLERANCE * found.abs().max(1.0)
}

fn kept_to(found: &Totals, limits: &Limits, unit: Unit) -> Vec<String> {
    let mut faults = Vec::new();
    if let Some(most) = limits.most_breaks.filter(|&most| found.breaks > most) {
        faults.push(format!("{} breaks, at most {most} asked for", found.breaks));
    }
    let feet = found.feet_used.value();
    if let Some(most) = limits.most_feet.map(|most| most.value())
        && feet > most + FIGURE_TOLERANCE * most.max(1.0)
    {
        let wood = unit.volumes();
        faults.push(format!("{feet} {wood} used, at most {most} asked for"));
    }
    let tone = found.tone_case;
    if let Some(within) = limits.tone_within.filter(|&w| tone > w + FIGURE_TOLERANCE) {
        faults.push(format!(
            "tone spread {tone} over the case, at most {within} asked for"
        ));
    }
    faults
}
