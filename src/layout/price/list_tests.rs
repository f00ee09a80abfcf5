//! Lists of patterns, against those that fall far shorter: what a walk leaves out for its bounds, or
//! knows from before, is missed in no list.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::super::place::Shape;
use super::area::Area;
use super::*;
use crate::job::generate::{Size, generate};

const SMALL: Size = Size {
    fronts: 3,
    runs: 2,
    boards: 2,
};
const LARGER: Size = Size {
    fronts: 6,
    runs: 2,
    boards: 4,
};
/// Patterns of one list at most.
const MANY: usize = 60_000;

/// Prices from `rates`, drawn between nothing and one: of fronts by the wood they take, of staves and
/// their width, of narrow staves and wide ones, and of what is paid once.
fn drawn(problem: &Problem, rates: &[f64]) -> Prices {
    let stock = &problem.stock[0];
    let foot = stock.whole / (stock.length as f64 * stock.width as f64);
    let mut rates = rates.iter().copied().cycle();
    let mut between = |low: f64, high: f64| low + (high - low) * rates.next().unwrap_or(0.5);
    let mut prices = Prices {
        item: vec![vec![0.0; problem.items.len()]; problem.tones.len()],
        width: vec![0.0; problem.modes.len()],
        sisters: vec![Vec::new(); problem.modes.len()],
        once: vec![Vec::new(); problem.stock.len()],
        board: vec![0.0; problem.stock.len()],
        tone: vec![0.0; problem.stock.len()],
    };
    for (index, item) in problem.items.iter().enumerate() {
        let worth = item.length as f64 * item.width as f64 * foot * between(0.7, 1.3);
        prices.item.iter_mut().for_each(|tone| tone[index] = worth);
    }
    for (index, mode) in problem.modes.iter().enumerate() {
        let long = problem.items[mode.item].length as f64 * foot;
        prices.width[index] = long * between(0.6, 1.2);
        let least = problem.items[mode.item].width;
        let narrow =
            least + ((mode.total_width / 2 - least).max(0) as f64 * between(0.0, 0.9)) as i64;
        if mode.narrow(narrow) {
            let toll = long * least as f64 * between(0.0, 0.6);
            prices.sisters[index].push(Sister {
                narrow,
                toll,
                wide: mode.sister(narrow),
                gain: toll * (mode.staves as f64 - 1.0),
            });
        }
        let toll = long * least as f64 * between(-0.4, 0.4);
        if toll > 0.0 {
            prices.once.iter_mut().for_each(|of| of.push((index, toll)));
        }
    }
    prices
}

fn listed(
    problem: &Problem,
    prices: &Prices,
    stock: usize,
    least: f64,
    remembered: usize,
) -> Priced {
    let limit = Limit {
        nodes: 300_000,
        found: if least < 0.0 { MANY } else { 1 },
        remembered,
        suffices: None,
        best_only: least >= 0.0,
        stop: &|| false,
    };
    let (sisters, costs) = (Sisters::of(problem), Costs::default());
    price((problem, &sisters), &costs, prices, stock, least, &limit)
}

/// The patterns that can be cut just so, and what they are worth to nine places.
fn worths(priced: &Priced, least: f64) -> BTreeMap<Shape, i64> {
    let good = priced.found.iter().filter(|v| v.sure && v.value > least);
    good.map(|v| (v.pattern.shape.clone(), (v.value * 1e9).round() as i64))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_list_has_all_that_a_far_longer_one_has(
        seed in 1_u64..40,
        rates in prop::collection::vec(0.0_f64..1.0, 40..80),
        near in 0.02_f64..0.15,
    ) {
        let job = generate(SMALL, seed);
        let problem = Problem::new(&job, false);
        let mut prices = drawn(&problem, &rates);
        for stock in 0..problem.stock.len() {
            // As where prices are good: the best pattern is hardly worth anything.
            let best = listed(&problem, &prices, stock, 0.0, 0);
            if !best.complete {
                continue;
            }
            prices.board[stock] -= best.upper;
            let whole = problem.stock[stock].whole;
            let far = listed(&problem, &prices, stock, -2.0 * near * whole, 0);
            if !far.complete {
                continue;
            }
            let least = -near * whole;
            let close = listed(&problem, &prices, stock, least, 100_000);
            prop_assert!(close.complete);
            let (all, these) = (worths(&far, least), worths(&close, least));
            for (shape, worth) in &all {
                prop_assert_eq!(these.get(shape), Some(worth), "board {}: {:?}", stock, shape);
            }
            // None is worth more than the best, or than what was asked for.
            prop_assert!(close.upper <= far.upper.max(least) + 1e-9);
        }
    }

    #[test]
    fn no_pattern_nor_what_is_left_of_it_is_worth_more_than_its_area_allows(
        seed in 1_u64..40,
        rates in prop::collection::vec(0.0_f64..1.0, 40..80),
    ) {
        let job = generate(SMALL, seed);
        let problem = Problem::new(&job, false);
        let prices = drawn(&problem, &rates);
        for index in 0..problem.stock.len() {
            let stock = &problem.stock[index];
            let priced = listed(&problem, &prices, index, -0.5 * stock.whole, 0);
            let floor = -2.0 * stock.whole;
            let heights = heights(&problem, stock, &prices, floor);
            let sisters = Sisters::of(&problem);
            let tables = Tables::new((&problem, index), &sisters, &prices, &heights, floor);
            let area = Area::new(&problem, stock, &tables);
            let moves: BTreeMap<usize, _> = (tables.moves.iter().flatten())
                .filter(|m| m.times == 1)
                .map(|m| (m.item, *m))
                .collect();
            for valued in priced.found.iter().filter(|v| v.sure).take(300) {
                let pattern = &valued.pattern;
                let kept = stock.whole - pattern.wood;
                let mut paid = valued.value + pattern.wood - prices.place(index);
                let (mut rest, mut cut) = (area.all(&problem), 0.0);
                let mut staves = BTreeMap::new();
                // Piece by piece, as a walk takes them, with what each fills.
                for strip in pattern.strips() {
                    for (place, &item) in strip.items.iter().enumerate() {
                        let all = area.of(stock.usable()) - cut;
                        let most = area.most(&rest, all, stock.usable());
                        prop_assert!(paid + kept <= most + 1e-9, "{paid} and {kept} over {most}");
                        let m = &moves[&item];
                        let before = staves.entry(item).or_insert(0);
                        rest = area.without(&problem, m, *before, rest);
                        let toll = match problem.items[item].mode {
                            Some(mode) if *before == 0 => prices.toll(index, mode),
                            _ => 0.0,
                        };
                        *before += 1;
                        let wide = strip.blank_width(&problem, stock, place);
                        paid -= prices.of(&problem, stock, item, wide) - toll;
                        cut += area.strip(m.room - problem.cuts.crosscut, wide);
                    }
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn what_a_walk_remembers_takes_nothing_from_a_list(
        seed in 1_u64..40,
        rates in prop::collection::vec(0.0_f64..1.0, 40..80),
        near in 0.02_f64..0.1,
    ) {
        let job = generate(LARGER, seed);
        let problem = Problem::new(&job, false);
        let mut prices = drawn(&problem, &rates);
        for stock in 0..problem.stock.len() {
            let best = listed(&problem, &prices, stock, 0.0, 100_000);
            if !best.complete {
                continue;
            }
            prices.board[stock] -= best.upper;
            let least = -near * problem.stock[stock].whole;
            let all = listed(&problem, &prices, stock, least, 0);
            if !all.complete {
                continue;
            }
            let these = listed(&problem, &prices, stock, least, 100_000);
            prop_assert!(these.complete);
            prop_assert_eq!(worths(&all, least), worths(&these, least), "board {}", stock);
        }
    }
}
