//! Makes prices from the relaxation's duals that are safe to build a bound on.

use std::collections::{BTreeMap, HashMap};

use crate::layout::master::mixed::Mixing;
use crate::layout::master::program::model::{
    Extra, NM_PER_INCH, OVER, constant, heights, mode_cost, most_stretches,
};
use crate::layout::master::program::row::Row;
use crate::layout::master::separate::tone_side::{Cause, Side};
use crate::layout::model::problem::Problem;
use crate::layout::pricing::prices::{Prices, Sister};

/// Prices, and what the fixed part of the bound comes to: a lower bound on the cost is `fixed`
/// less, for every board there is, the most that a pattern on it is worth (if more than nothing).
pub(in crate::layout) struct Safe {
    pub(in crate::layout) prices: Prices,
    pub(in crate::layout) fixed: f64,
    /// Price of each front.
    pub(in crate::layout) fronts: Vec<f64>,
    /// What a board foot of wood counts: more than one when feet are limited.
    pub(in crate::layout) wood: f64,
    /// What a pattern pays for each cut of which it takes two rows.
    pub(in crate::layout) paired: Vec<f64>,
    /// What a pattern pays for each side it puts its run on.
    pub(in crate::layout) sided: Vec<f64>,
}

/// Repairs `duals`, which a floating-point solver leaves slightly out of place, so that weak
/// duality holds to the last digit whatever they are.
///
/// Every variable but the patterns must cost at least what the rows pay for it: unmade fronts,
/// modes, and the sides of the steps. Where it does not, the payments are scaled down (steps),
/// capped (fronts) or passed on to the staves (modes). Patterns are the business of pricing.
pub(in crate::layout) fn safe(problem: &Problem, extra: Extra, duals: &HashMap<Row, f64>) -> Safe {
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
    let sides = crate::layout::master::sides::tolls(problem, extra.sides, tolls.tone, &dual);
    let mixing = Mixing::new(problem, &dual);
    // Duals of "no more than" rows are negative or zero when costs are minimised.
    let paired: Vec<f64> = (0..extra.cuts.len())
        .map(|cut| (-dual(Row::Cut(cut))).max(0.0))
        .collect();
    let board: Vec<f64> = (0..problem.stock.len())
        .map(|b| match problem.used.contains(&b) {
            true => dual(Row::Full(b)),
            false => dual(Row::Board(b)).min(0.0),
        })
        .collect();
    let gains = (0..extra.givers.len()).map(|givers| dual(Row::Givers(givers)));
    let givers = extra.givers.iter().cloned().zip(gains);
    let mut prices = Prices {
        item: vec![vec![0.0; problem.items.len()]; problem.looks.all.len()],
        width: vec![0.0; problem.modes.len()],
        sisters: sisters(problem, duals),
        once: once(problem, extra.sides, &sides.single, duals),
        givers: givers.filter(|(_, gain)| *gain > 0.0).collect(),
        board,
        tone: sides.board.iter().map(|toll| -toll).collect(),
    };
    for (at, look) in problem.looks.all.iter().enumerate() {
        let tone = look.tone;
        for (index, item) in problem.items.iter().enumerate() {
            let toll = |r: usize| sides.toll[r][tone] + mixing.toll(problem, r, at);
            let looks: f64 = item.rows.clone().map(toll).sum();
            let tolls_of = extra.sides.iter().zip(&sides.single);
            let sided: f64 = tolls_of
                .map(|(side, toll)| side.of_item(problem, index, tone) * toll)
                .sum();
            prices.item[at][index] = match item.mode {
                None => {
                    let paid: f64 = item.rows.clone().map(|r| fronts[r]).sum();
                    paid - looks - sided - problem.worth.unbroken - tolls.stretch
                }
                Some(mode) => -looks / problem.modes[mode].staves as f64 - sided,
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
        let once: f64 = (0..problem.stock.len())
            .map(|board| (-dual(Row::Once(mode, board))).max(0.0))
            .sum();
        let asks = prices.givers.iter().flat_map(|(givers, gain)| {
            let asks = givers.asks.iter().filter(|ask| ask.0 == mode);
            asks.map(move |ask| ask.1 as f64 * gain)
        });
        let asked: f64 = asks.sum();
        let need = paid - mode_cost(problem, mode) - tolls.stretch - pairs + once - asked;
        let (each, width) = stave_prices(problem, mode, need, duals);
        prices.width[mode] = width / NM_PER_INCH;
        for look in &mut prices.item {
            look[m.item] += each;
        }
    }
    Safe {
        fixed: constant(problem) + fronts.iter().sum::<f64>() + sides.paid + gone
            - tolls.free
            - mixing.free
            - paired.iter().sum::<f64>(),
        fronts,
        paired,
        sided: sides.single,
        wood: 1.0 + tolls.foot,
        prices,
    }
}

/// What each kind of board pays once for staves of a mode.
fn once(
    problem: &Problem,
    sides: &[Side],
    tolls: &[f64],
    duals: &HashMap<Row, f64>,
) -> Vec<Vec<(usize, f64)>> {
    let mut once = vec![BTreeMap::new(); problem.stock.len()];
    for (side, &toll) in sides.iter().zip(tolls) {
        if let Cause::Front { from, .. } = &side.cause
            && toll > 0.0
        {
            for &(mode, board) in from {
                *once[board].entry(mode).or_insert(0.0) += toll;
            }
        }
    }
    for (&row, &dual) in duals {
        if let Row::Once(mode, board) = row
            && dual < 0.0
        {
            *once[board].entry(mode).or_insert(0.0) -= dual;
        }
    }
    once.into_iter()
        .map(|of| of.into_iter().collect())
        .collect()
}

/// What the duals say narrow staves pay, by mode.
fn sisters(problem: &Problem, duals: &HashMap<Row, f64>) -> Vec<Vec<Sister>> {
    let mut sisters = vec![Vec::new(); problem.modes.len()];
    for (&row, &dual) in duals {
        if let Row::Sister(mode, narrow) = row
            && dual < 0.0
        {
            let of = &problem.modes[mode];
            sisters[mode].push(Sister {
                narrow,
                toll: -dual,
                wide: of.sister(narrow),
                gain: -dual * (of.staves as f64 - 1.0),
            });
        }
    }
    for of in &mut sisters {
        of.sort_by_key(|sister| sister.narrow);
    }
    sisters
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
    let inches = m.asked_width as f64 / NM_PER_INCH;
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
