//! Makes prices from the relaxation's duals that are safe to build a bound on.

use std::collections::HashMap;

use super::super::price::Prices;
use super::super::problem::{OnSide, Problem};
use super::cuts::Side;
use super::model::{
    Extra, NM_PER_INCH, OVER, Row, constant, height, heights, mode_cost, most_stretches,
};

/// Prices, and what the fixed part of the bound comes to: a lower bound on the cost is `fixed`
/// less, for every board there is, the most that a pattern on it is worth (if more than nothing).
pub(super) struct Safe {
    pub(super) prices: Prices,
    pub(super) fixed: f64,
    /// Price of each front.
    pub(super) fronts: Vec<f64>,
    /// What a board foot of wood counts: more than one when feet are limited.
    pub(super) wood: f64,
    /// What a pattern pays for each cut of which it takes two rows.
    pub(super) paired: Vec<f64>,
    /// What a pattern pays for each side it puts its run on.
    pub(super) sided: Vec<f64>,
}

/// Repairs `duals`, which a floating-point solver leaves slightly out of place, so that weak
/// duality holds to the last digit whatever they are.
///
/// Every variable but the patterns must cost at least what the rows pay for it: unmade fronts,
/// modes, and the sides of the steps. Where it does not, the payments are scaled down (steps),
/// capped (fronts) or passed on to the staves (modes). Patterns are the business of pricing.
pub(super) fn safe(problem: &Problem, extra: Extra, duals: &HashMap<Row, f64>) -> Safe {
    let dual = |row: Row| duals.get(&row).copied().unwrap_or(0.0);
    let rows = problem.chain.len();
    let gone: Vec<f64> = (0..problem.runs.len())
        .map(|run| dual(Row::Gone(run)).clamp(0.0, problem.worth.unbroken))
        .collect();
    let fronts: Vec<f64> = (0..rows)
        .map(|row| {
            // What covers a front above a step is entered as what does not cover it below.
            let above = (0..problem.tones.len()).map(|step| dual(Row::Above(row, step)).max(0.0));
            let paid = dual(Row::Front(problem.twins.first(row))) + above.sum::<f64>();
            let run = problem.items[problem.starts[row].start].run;
            paid.min(problem.unmade(row) + gone[run])
        })
        .collect();
    let runs = gone.iter().zip(&problem.runs);
    let gone: f64 = runs
        .map(|(gone, rows)| gone * (1.0 - rows.len() as f64))
        .sum();
    let tolls = Tolls::new(problem, &dual);
    let sides = sides(problem, extra.sides, tolls.tone, &dual);
    // Duals of "no more than" rows are negative or zero when costs are minimised.
    let paired: Vec<f64> = (0..extra.cuts.len())
        .map(|cut| (-dual(Row::Cut(cut))).max(0.0))
        .collect();
    let board: Vec<f64> = (0..problem.stock.len())
        .map(|b| dual(Row::Board(b)).min(0.0))
        .collect();
    let mut prices = Prices {
        item: vec![vec![0.0; problem.items.len()]; problem.tones.len()],
        width: vec![0.0; problem.modes.len()],
        board,
        tone: sides.board.iter().map(|toll| -toll).collect(),
    };
    for tone in 0..problem.tones.len() {
        for (index, item) in problem.items.iter().enumerate() {
            let looks: f64 = item.rows.clone().map(|r| sides.toll[r][tone]).sum();
            prices.item[tone][index] = match item.mode {
                None => {
                    let paid: f64 = item.rows.clone().map(|r| fronts[r]).sum();
                    paid - looks - problem.worth.unbroken - tolls.stretch
                }
                Some(mode) => -looks / problem.modes[mode].staves as f64,
            };
        }
    }
    for (mode, m) in problem.modes.iter().enumerate() {
        let paid: f64 = m.rows.clone().map(|r| fronts[r]).sum();
        let pairs = extra.cuts.iter().zip(&paired);
        let pairs: f64 = pairs
            .filter(|(cut, _)| cut.pairs_glued(&m.rows))
            .map(|(_, toll)| toll)
            .sum();
        let need = paid - mode_cost(problem, mode) - tolls.stretch - pairs;
        let (each, width) = stave_prices(problem, mode, need, duals);
        prices.width[mode] = width / NM_PER_INCH;
        for tone in &mut prices.item {
            tone[m.item] += each;
        }
    }
    Safe {
        fixed: constant(problem) + fronts.iter().sum::<f64>() + sides.paid + gone
            - tolls.free
            - paired.iter().sum::<f64>(),
        fronts,
        paired,
        sided: sides.single,
        wood: 1.0 + tolls.foot,
        prices,
    }
}

/// What the limits charge for each stretch, board foot and tone step, and how much of that is
/// free because it is within them.
struct Tolls {
    stretch: f64,
    foot: f64,
    tone: f64,
    free: f64,
}

impl Tolls {
    fn new(problem: &Problem, dual: &dyn Fn(Row) -> f64) -> Tolls {
        let limits = &problem.limits;
        // Duals of "no more than" rows are negative or zero when costs are minimised.
        let toll = |row: Row| (-dual(row)).clamp(0.0, OVER);
        let (stretch, foot) = (toll(Row::MostBreaks), toll(Row::MostFeet));
        let tone = toll(Row::ToneWithin);
        let stretches = limits
            .most_breaks
            .map_or(0.0, |n| most_stretches(problem, n));
        let feet = limits.most_feet.map_or(0.0, |f| f.value());
        let tones = limits.tone_within.map_or(0.0, |t| t + heights(problem));
        Tolls {
            stretch,
            foot,
            tone,
            free: stretch * stretches + foot * feet + tone * tones,
        }
    }
}

/// Price of a stave and of an inch of its width, such that all staves of the mode together are
/// paid `need`: what its fronts are paid less its own cost. Where gluing does not pay that is less
/// than nothing, and every stave falls short by its share.
fn stave_prices(
    problem: &Problem,
    mode: usize,
    need: f64,
    duals: &HashMap<Row, f64>,
) -> (f64, f64) {
    let m = &problem.modes[mode];
    let inches = m.total_width as f64 / NM_PER_INCH;
    let Some(width) = duals.get(&Row::Width(mode)) else {
        // No stave of it is known yet: wood by the inch, so that scraps are not overpaid.
        return if need > 0.0 {
            (0.0, need / inches)
        } else {
            (need / m.staves as f64, 0.0)
        };
    };
    let width = width.max(0.0);
    ((need - inches * width) / m.staves as f64, width)
}

/// What fronts must pay for lying on one side of a step.
struct Sides {
    /// `toll[row][tone]`.
    toll: Vec<Vec<f64>>,
    /// Sum of the duals of all `P + D >= 1` rows.
    paid: f64,
    /// Toll of each side a single board puts its run on.
    single: Vec<f64>,
    /// Toll of the tone that a board of each kind brings into the case.
    board: Vec<f64>,
}

fn sides(problem: &Problem, single: &[Side], case_toll: f64, dual: &dyn Fn(Row) -> f64) -> Sides {
    let tones = problem.tones.len();
    let mut sides = Sides {
        toll: vec![vec![0.0; tones]; problem.chain.len()],
        paid: 0.0,
        single: vec![0.0; single.len()],
        board: vec![0.0; problem.stock.len()],
    };
    for step in 0..tones.saturating_sub(1) {
        let height = height(problem, step);
        let positive = |row: Row| dual(row).max(0.0);
        // The case's own variables can pass on at most what they cost.
        let runs = |row: fn(usize, usize) -> Row| -> f64 {
            let runs = problem.live_runs();
            runs.map(|run| positive(row(run, step))).sum()
        };
        let (boards_below, boards_above) = board_tolls(problem, step, dual);
        let paid_for = |tolls: &[(usize, f64)]| -> f64 {
            let each = tolls.iter();
            each.map(|&(board, toll)| toll * problem.stock[board].count as f64)
                .sum()
        };
        let case_below = runs(Row::CaseBelow) + paid_for(&boards_below);
        let case_above = runs(Row::CaseAbove) + paid_for(&boards_above);
        let both = positive(Row::CaseSides(step));
        let scale = within(
            (problem.worth.tone_case + case_toll) * height,
            both + case_below.max(case_above),
        );
        sides.paid += both * scale;
        for (board, toll) in boards_below.into_iter().chain(boards_above) {
            sides.board[board] += toll * scale;
        }
        let cost = (problem.worth.tone_case + case_toll) * height;
        let case = problem.runs.len();
        let known = |run, below| problem.sides.contains(&OnSide { run, step, below });
        // A side known to be on costs what no row pays for.
        let left = |known: bool, cost: f64| if known { cost.max(0.0) } else { 0.0 };
        sides.paid += left(known(case, true), cost - (both + case_below) * scale);
        sides.paid += left(known(case, false), cost - (both + case_above) * scale);
        for run in problem.live_runs() {
            let cost = problem.worth.tone_run * height;
            let low = cost + positive(Row::CaseBelow(run, step)) * scale;
            let high = cost + positive(Row::CaseAbove(run, step)) * scale;
            let both = positive(Row::Sides(run, step)).min(low).min(high);
            sides.paid += both;
            let rows = problem.runs[run].clone();
            // Duals of "no more than" rows are negative or zero when costs are minimised.
            let toll = |row: Row| match row {
                Row::Above(..) => dual(row).max(0.0),
                _ => (-dual(row)).max(0.0),
            };
            let below: f64 = rows.clone().map(|r| toll(Row::Below(r, step))).sum();
            let above: f64 = rows.clone().map(|r| toll(Row::Above(r, step))).sum();
            let here = |side: &Side| side.step == step && side.run == run;
            let single_tolls = |below: bool| -> f64 {
                let of = single.iter().enumerate();
                of.filter(|(_, side)| here(side) && side.below == below)
                    .map(|(index, _)| toll(Row::Side(index)))
                    .sum()
            };
            let (below, above) = (below + single_tolls(true), above + single_tolls(false));
            sides.paid += left(known(run, true), low - both - below);
            sides.paid += left(known(run, false), high - both - above);
            let below = within(low - both, below);
            let above = within(high - both, above);
            for (index, side) in single.iter().enumerate().filter(|(_, side)| here(side)) {
                let scale = if side.below { below } else { above };
                sides.single[index] = toll(Row::Side(index)) * scale;
            }
            for row in rows.clone() {
                for tone in 0..tones {
                    sides.toll[row][tone] += if tone <= step {
                        toll(Row::Below(row, step)) * below
                    } else {
                        toll(Row::Above(row, step)) * above
                    };
                }
            }
        }
    }
    sides
}

/// Boards that lie next to a step, below and above it, with what their tone costs the case there.
fn board_tolls(
    problem: &Problem,
    step: usize,
    dual: &dyn Fn(Row) -> f64,
) -> (Vec<(usize, f64)>, Vec<(usize, f64)>) {
    let tolls = |tone: usize, row: fn(usize) -> Row| {
        let boards = problem.stock.iter().enumerate();
        boards
            .filter(|(_, stock)| stock.tone == tone)
            // Duals of "no more than" rows are negative or zero when costs are minimised.
            .map(|(board, _)| (board, (-dual(row(board))).max(0.0)))
            .collect()
    };
    (
        tolls(step, Row::BoardBelow),
        tolls(step + 1, Row::BoardAbove),
    )
}

/// Factor that brings `sum` down to `most`, if it is more.
fn within(most: f64, sum: f64) -> f64 {
    if sum > most {
        (most / sum).max(0.0)
    } else {
        1.0
    }
}
