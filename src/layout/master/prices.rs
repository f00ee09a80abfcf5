//! Makes prices from the relaxation's duals that are safe to build a bound on.

use std::collections::{BTreeMap, HashMap};

use crate::layout::master::mixed::Mixing;
use crate::layout::master::program::model::{
    EXCESS_COST, Extra, NM_PER_INCH, constant, gluing_cost, heights, most_stretches,
};
use crate::layout::master::program::row::Row;
use crate::layout::master::separate::tone_side::{Cause, Side};
use crate::layout::master::sides;
use crate::layout::model::problem::Problem;
use crate::layout::model::worths::Worths;
use crate::layout::pricing::prices::{NarrowWide, Prices};

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
/// gluings, and the sides of the steps. Where it does not, the payments are scaled down (steps),
/// capped (fronts) or passed on to the staves (gluings). Patterns are the business of pricing.
pub(in crate::layout) fn safe(problem: &Problem, extra: Extra, duals: &HashMap<Row, f64>) -> Safe {
    let dual = |row: Row| duals.get(&row).copied().unwrap_or(0.0);
    let rows = problem.chain.len();
    // What each worth lets the rows pay: a gluing its lines and its stretch (`gluing_cost`), sides of tone steps
    // theirs (`sides`), logs and ways of sawing theirs (`mixed`).
    let &Worths {
        unbroken,
        tone_run,
        tone_case,
        glue_line: _,
        mixed,
    } = &problem.worth;
    let gone: Vec<f64> = (0..problem.runs.len())
        .map(|run| dual(Row::Gone(run)).clamp(0.0, unbroken))
        .collect();
    let fronts: Vec<f64> = (0..rows)
        .map(|row| {
            // What covers a front above a step is entered as what does not cover it below.
            let above = (0..problem.tones.len()).map(|step| dual(Row::Above(row, step)).max(0.0));
            let paid = dual(Row::Front(problem.identical.first(row))) + above.sum::<f64>();
            let run = problem.items[problem.starts[row].start].run;
            paid.min(problem.unmade(row) + gone[run])
        })
        .collect();
    let runs = gone.iter().zip(&problem.runs);
    let gone: f64 = runs
        .map(|(gone, rows)| gone * (1.0 - rows.len() as f64))
        .sum();
    let tolls = Tolls::new(problem, &dual);
    let worth = (tone_run, tone_case + tolls.tone);
    let sides = sides::tolls(problem, extra.sides, worth, &dual);
    let mixing = Mixing::new(problem, mixed, &dual);
    // Duals of "no more than" rows are negative or zero when costs are minimised.
    let paired: Vec<f64> = (0..extra.subset_rows.len())
        .map(|cut| (-dual(Row::Subset(cut))).max(0.0))
        .collect();
    let board: Vec<f64> = (0..problem.stock.len())
        .map(|b| match problem.used.contains(&b) {
            true => dual(Row::Full(b)),
            false => dual(Row::Board(b)).min(0.0),
        })
        .collect();
    let gains = (0..extra.rounding.len()).map(|rounding| dual(Row::Rounding(rounding)));
    let rounding = extra.rounding.iter().cloned().zip(gains);
    let mut prices = Prices {
        item: vec![vec![0.0; problem.items.len()]; problem.looks.all.len()],
        width: vec![0.0; problem.gluings.len()],
        narrow_wide: narrow_wide(problem, duals),
        once: once(problem, extra.sides, &sides.single, duals),
        rounding: rounding.filter(|(_, gain)| *gain > 0.0).collect(),
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
            prices.item[at][index] = match item.gluing {
                None => {
                    let paid: f64 = item.rows.clone().map(|r| fronts[r]).sum();
                    paid - looks - sided - unbroken - tolls.stretch
                }
                Some(gluing) => -looks / problem.gluings[gluing].staves as f64 - sided,
            };
        }
    }
    for (gluing, m) in problem.gluings.iter().enumerate() {
        let paid: f64 = m.rows.clone().map(|r| fronts[r]).sum();
        let pairs = extra.subset_rows.iter().zip(&paired);
        let pairs: f64 = pairs
            .filter(|(cut, _)| cut.pairs_glued(&m.rows))
            .map(|(_, toll)| toll)
            .sum();
        let once: f64 = (0..problem.stock.len())
            .map(|board| (-dual(Row::Once(gluing, board))).max(0.0))
            .sum();
        let asks = prices.rounding.iter().flat_map(|(rounding, gain)| {
            let asks = rounding.asks.iter().filter(|ask| ask.0 == gluing);
            asks.map(move |ask| ask.1 as f64 * gain)
        });
        let asked: f64 = asks.sum();
        let need = paid - gluing_cost(problem, gluing) - tolls.stretch - pairs + once - asked;
        let (each, width) = stave_prices(problem, gluing, need, duals);
        prices.width[gluing] = width / NM_PER_INCH;
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

/// What each kind of board pays once for staves of a gluing.
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
            for &(gluing, board) in from {
                *once[board].entry(gluing).or_insert(0.0) += toll;
            }
        }
    }
    for (&row, &dual) in duals {
        if let Row::Once(gluing, board) = row
            && dual < 0.0
        {
            *once[board].entry(gluing).or_insert(0.0) -= dual;
        }
    }
    once.into_iter()
        .map(|of| of.into_iter().collect())
        .collect()
}

/// What the duals say narrow staves pay, by gluing.
fn narrow_wide(problem: &Problem, duals: &HashMap<Row, f64>) -> Vec<Vec<NarrowWide>> {
    let mut narrow_wide = vec![Vec::new(); problem.gluings.len()];
    for (&row, &dual) in duals {
        if let Row::NarrowWide(gluing, narrow) = row
            && dual < 0.0
        {
            let of = &problem.gluings[gluing];
            narrow_wide[gluing].push(NarrowWide {
                narrow,
                toll: -dual,
                wide: of.partner(narrow),
                gain: -dual * (of.staves as f64 - 1.0),
            });
        }
    }
    for of in &mut narrow_wide {
        of.sort_by_key(|pair| pair.narrow);
    }
    narrow_wide
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
        let toll = |row: Row| (-dual(row)).clamp(0.0, EXCESS_COST);
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

/// Price of a stave and of an inch of its width, such that all staves of the gluing together are
/// paid `need`: what its fronts are paid less its own cost. Where gluing does not pay that is less
/// than nothing, and every stave falls short by its share.
fn stave_prices(
    problem: &Problem,
    gluing: usize,
    need: f64,
    duals: &HashMap<Row, f64>,
) -> (f64, f64) {
    let m = &problem.gluings[gluing];
    let inches = m.asked_width as f64 / NM_PER_INCH;
    let Some(width) = duals.get(&Row::Width(gluing)) else {
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
