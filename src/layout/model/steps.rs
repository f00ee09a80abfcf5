//! Costs that come in steps.
//!
//! Where nothing is kept and looks count nothing, a plan costs so many whole boards: no plan costs
//! anything between two sums of boards. A bound may then be raised to the next such sum, and a plan that
//! beats the best known is a whole step cheaper.

use crate::layout::model::problem::Problem;
use crate::layout::model::worths::Worths;

/// Nanometres in an inch.
const INCH: i128 = 25_400_000;

/// Difference in cost, in board feet, that divides the cost of every plan that makes all fronts;
/// nothing when costs are not known to come in steps.
pub(in crate::layout) fn step(problem: &Problem) -> Option<f64> {
    let &Worths {
        unbroken,
        tone_run,
        tone_case,
        glue_line,
        mixed,
    } = &problem.worth;
    let one_tone = problem.tones.len() <= 1 || (tone_run == 0.0 && tone_case == 0.0);
    let single = problem.runs.iter().all(|run| run.len() <= 1);
    let one_piece = unbroken == 0.0 || single;
    let unglued = glue_line == 0.0 || problem.gluings.is_empty();
    // What is cut in one piece has one log and is sawn in one way.
    let unmixed =
        mixed == [0.0; 2] || !problem.looks.mix() || (single && problem.gluings.is_empty());
    let all_used = problem.cuts.keep_length.is_none() && !problem.by_money;
    if !(one_tone && one_piece && unglued && unmixed && all_used) {
        return None;
    }
    let mut step = 0;
    for stock in &problem.stock {
        let board = problem.board(stock);
        let thickness = i128::from(board.thickness.nm()).max(INCH);
        let wood = i128::from(stock.length) * i128::from(stock.width) * thickness;
        // Work in progress counts some boards otherwise, and fronts that move.
        if (feet(wood) - stock.whole).abs() > 1e-9 || !stock.moving.is_empty() {
            return None;
        }
        step = gcd(step, wood);
    }
    (step > 0).then(|| feet(step))
}

/// Cost of the wood in the blanks alone, each front's at the rate of the cheapest board, where costs
/// come in steps: boards are used up then, and blanks do not overlap, so no plan that makes all fronts
/// that can be made costs less. A glued front takes no less wood than one in one piece.
pub(in crate::layout) fn blanks_alone(problem: &Problem) -> f64 {
    let area = |long: i64, wide: i64| long as f64 * wide as f64;
    let rates = problem
        .stock
        .iter()
        .map(|s| s.whole / area(s.length, s.width));
    let rate = rates.fold(f64::INFINITY, f64::min);
    let makable = (0..problem.chain.len()).filter(|&row| !problem.hopeless[row]);
    let alone = makable.map(|row| &problem.items[problem.starts[row].start]);
    alone.map(|item| area(item.length, item.width)).sum::<f64>() * rate
}

/// The least multiple of `step` that is no less than `bound`, but for rounding.
pub(in crate::layout) fn next(bound: f64, step: f64) -> f64 {
    (bound / step - 1e-6).ceil() * step
}

fn feet(cubic_nm: i128) -> f64 {
    cubic_nm as f64 / (144.0 * (INCH * INCH * INCH) as f64)
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}
