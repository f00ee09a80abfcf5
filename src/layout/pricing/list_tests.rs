//! Lists of patterns, against those that fall far shorter: what a walk leaves out for its bounds, or
//! knows from before, is missed in no list.

use std::collections::BTreeMap;

use proptest::prelude::*;

use crate::job::generate::Size;
use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::ruin::Ruin;
use crate::layout::master::columns::Columns;
use crate::layout::master::relax::Relaxation;
use crate::layout::model::completion::Completion;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape};
use crate::layout::pricing::area::Area;
use crate::layout::pricing::board::price;
use crate::layout::pricing::heights::heights;
use crate::layout::pricing::priced::{Limit, Priced};
use crate::layout::pricing::prices::{NarrowWide, Prices};
use crate::layout::pricing::rounding_cut::RoundingCut;
use crate::layout::pricing::tables::board::Tables;
use crate::layout::pricing::tests::in_steps;

const SMALL: Size = Size {
    fronts: 3,
    runs: 2,
    boards: 2,
};
const LARGER: Size = Size {
    fronts: 9,
    runs: 3,
    boards: 6,
};
/// Shares of a board that patterns of the larger jobs fall short of their price at most: long lists have more
/// to miss, but of some boards only short ones end without what is remembered.
const NEAR: [f64; 2] = [0.25, 0.6];
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
        item: vec![vec![0.0; problem.items.len()]; problem.looks.all.len()],
        width: vec![0.0; problem.gluings.len()],
        narrow_wide: vec![Vec::new(); problem.gluings.len()],
        once: vec![Vec::new(); problem.stock.len()],
        rounding: Vec::new(),
        board: vec![0.0; problem.stock.len()],
        tone: vec![0.0; problem.stock.len()],
    };
    for (index, item) in problem.items.iter().enumerate() {
        let worth = item.length as f64 * item.width as f64 * foot * between(0.5, 1.1);
        prices.item.iter_mut().for_each(|tone| tone[index] = worth);
    }
    for (index, gluing) in problem.gluings.iter().enumerate() {
        let long = problem.items[gluing.item].length as f64 * foot;
        prices.width[index] = long * between(0.4, 1.0);
        let least = problem.items[gluing.item].width;
        let narrow =
            least + ((gluing.total_width / 2 - least).max(0) as f64 * between(0.0, 0.9)) as i64;
        if gluing.narrow(narrow) {
            let toll = long * least as f64 * between(0.0, 0.6);
            prices.narrow_wide[index].push(NarrowWide {
                narrow,
                toll,
                wide: gluing.partner(narrow),
                gain: toll * (gluing.staves as f64 - 1.0),
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
    listed_within(300_000, problem, prices, stock, least, remembered)
}

fn listed_within(
    nodes: usize,
    problem: &Problem,
    prices: &Prices,
    stock: usize,
    least: f64,
    remembered: usize,
) -> Priced {
    let limit = Limit {
        nodes,
        found: if least < 0.0 { MANY } else { 1 },
        remembered,
        suffices: None,
        best_only: least >= 0.0,
        stop: &|| false,
    };
    let (completion, costs) = (Completion::of(problem), Costs::default());
    price((problem, &completion), &costs, prices, stock, least, &limit)
}

/// Some of the patterns worth more than `least`, the first that a walk meets.
fn some(problem: &Problem, prices: &Prices, stock: usize, least: f64) -> Priced {
    let limit = Limit {
        nodes: 300_000,
        found: 300,
        remembered: 0,
        suffices: None,
        best_only: false,
        stop: &|| false,
    };
    let (completion, costs) = (Completion::of(problem), Costs::default());
    price((problem, &completion), &costs, prices, stock, least, &limit)
}

/// The patterns that can be cut just so, and what they are worth to nine places.
fn worths(priced: &Priced, least: f64) -> BTreeMap<Shape, i64> {
    let good = priced.found.iter().filter(|v| v.sure && v.value > least);
    good.map(|v| (v.pattern.shape.clone(), (v.value * 1e9).round() as i64))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3))]

    #[test]
    fn a_list_has_all_that_a_far_longer_one_has(
        seed in 1_u64..40,
        rates in prop::collection::vec(0.0_f64..1.0, 40..80),
        near in 0.02_f64..0.15,
    ) {
        let job = in_steps(1.0, SMALL, seed);
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
        let job = in_steps(1.0, SMALL, seed);
        let problem = Problem::new(&job, false);
        let prices = drawn(&problem, &rates);
        for index in 0..problem.stock.len() {
            let stock = &problem.stock[index];
            let priced = some(&problem, &prices, index, -0.5 * stock.whole);
            let floor = -2.0 * stock.whole;
            let heights = heights(&problem, stock, &prices, floor);
            let completion = Completion::of(&problem);
            let tables = Tables::new((&problem, index), &completion, &prices, &heights, floor);
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
                let (mut staves, mut taken) = (BTreeMap::new(), Vec::new());
                let given = |staves: &[(usize, i64)]| -> f64 {
                    let each = prices.rounding.iter();
                    each.map(|(rounding, gain)| gain * rounding.given(staves.iter().copied()) as f64)
                        .sum()
                };
                // Piece by piece, as a walk takes them, with what each fills.
                for strip in pattern.strips() {
                    for (place, &item) in strip.items.iter().enumerate() {
                        let all = area.of(stock.usable()) - cut;
                        let most = area.most(&rest, all, stock.usable());
                        prop_assert!(paid + kept <= most + 1e-9, "{paid} and {kept} over {most}");
                        let m = &moves[&item];
                        let before = staves.entry(item).or_insert(0);
                        rest = area.without(&problem, m, *before, rest);
                        *before += 1;
                        let wide = strip.blank_width(&problem, stock, place);
                        paid -= prices.of(&problem, stock, item, wide) - m.toll_at_least();
                        paid += given(&taken);
                        taken.extend(problem.items[item].gluing.map(|gluing| (gluing, wide)));
                        paid -= given(&taken);
                        cut += area.strip(m.room - problem.cuts.crosscut, wide);
                    }
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3))]

    #[test]
    fn a_board_known_to_give_staves_has_all_patterns_with_them_and_no_others(
        seed in 1_u64..40,
        rates in prop::collection::vec(0.0_f64..1.0, 40..80),
        near in 0.02_f64..0.06,
        owed in -0.5_f64..0.1,
        which in any::<prop::sample::Index>(),
    ) {
        let job = in_steps(1.0, SMALL, seed);
        let mut problem = Problem::new(&job, false);
        let mut prices = drawn(&problem, &rates);
        let which = which.index(problem.stock.len() * problem.gluings.len().max(1));
        let (stock, gluing) = (which % problem.stock.len(), which / problem.stock.len());
        prop_assume!(gluing < problem.gluings.len());
        let (item, whole) = (problem.gluings[gluing].item, problem.stock[stock].whole);
        let least = -near * whole;
        // Other patterns are worth something, and a stave of it less than nothing: nobody would cut one if it
        // need not be.
        let best = listed_within(40_000, &problem, &prices, stock, 0.0, 100_000);
        prices.board[stock] += 0.3 * whole - best.upper;
        prices.item[problem.stock[stock].look][item] = owed * whole;
        let all = listed_within(40_000, &problem, &prices, stock, least, 0);
        prop_assume!(all.complete);
        problem.giving = vec![(stock, gluing)];
        let has = |shape: &Shape| shape.iter().flatten().any(|strip| strip.items.contains(&item));
        let mut all = worths(&all, least);
        all.retain(|shape, _| has(shape));
        for remembered in [0, 100_000] {
            let these = listed_within(40_000, &problem, &prices, stock, least, remembered);
            let complete = these.complete;
            let these = worths(&these, least);
            prop_assert!(these.keys().all(has));
            for (shape, worth) in all.iter().filter(|_| complete) {
                prop_assert_eq!(these.get(shape), Some(worth), "board {}: {:?}", stock, shape);
            }
        }
        let best = listed_within(40_000, &problem, &prices, stock, 0.0, 100_000);
        let most = all.values().map(|&worth| worth as f64 / 1e9).fold(least, f64::max);
        prop_assert!(best.upper >= most - 1e-8, "{} below {most}", best.upper);
        if best.complete && most > 1e-6 {
            let found = best.found.first().map_or(0.0, |v| v.value);
            prop_assert!(found >= most - 1e-8, "{found} below {most}");
        }
    }
}

/// Two sections of the same widths may still be given what is left beside them in different ways, and be
/// worth more than the one section they would make.
#[test]
fn sections_that_turn_out_unlike_are_not_taken_for_one() {
    let job = in_steps(0.5, SMALL, 16);
    let problem = Problem::new(&job, false);
    let mut prices = drawn(&problem, &[0.0]);
    // Stretches in one piece, then those glued from two staves and from three, by the stretch.
    let wholes = [0.77, 1.54, 0.77, 1.35];
    let staves = [[0.192, 0.192], [0.385, 0.83], [0.192, 0.192], [0.56, 0.386]];
    let stretch = |item: usize| {
        let rows = &problem.items[item].rows;
        (0..wholes.len()).find(|&whole| problem.items[whole].rows == *rows)
    };
    let worth = |item: usize| match problem.items[item].gluing {
        None => wholes[item],
        Some(gluing) => {
            let of =
                stretch(item).map(|whole| staves[whole].get(problem.gluings[gluing].staves - 2));
            of.flatten().copied().unwrap_or(0.0)
        }
    };
    let worths_of: Vec<f64> = (0..problem.items.len()).map(worth).collect();
    (prices.item.iter_mut()).for_each(|tone| tone.copy_from_slice(&worths_of));
    let glued = |whole: usize, staves: usize| {
        let rows = &problem.items[whole].rows;
        let of = |m: &crate::layout::model::items::Gluing| m.rows == *rows && m.staves == staves;
        problem
            .gluings
            .iter()
            .position(of)
            .expect("there is such a way to glue")
    };
    let (gluing, other) = (glued(1, 3), glued(3, 2));
    prices.width = vec![0.0; problem.gluings.len()];
    (prices.width[gluing], prices.width[other]) = (1.07e-8, 1.16e-8);
    prices.narrow_wide.iter_mut().for_each(Vec::clear);
    let narrow = problem.items[problem.gluings[gluing].item].width;
    prices.narrow_wide[gluing].push(NarrowWide {
        narrow,
        toll: 0.373,
        wide: problem.gluings[gluing].partner(narrow),
        gain: 0.746,
    });
    let (stock, whole) = (1, problem.stock[1].whole);
    prices.board[stock] -= listed(&problem, &prices, stock, 0.0, 0).upper;
    let (near, far) = (-0.11 * whole, -0.22 * whole);
    let lists = [(near, 100_000), (far, 0)].map(|(least, remembered)| {
        let list = listed(&problem, &prices, stock, least, remembered);
        assert!(list.complete);
        worths(&list, near)
    });
    assert_eq!(lists[0], lists[1]);
    let unlike = |shape: &&Shape| {
        let strips = |section: &Vec<StripShape>| section.len() == 2;
        shape.len() == 2 && shape.iter().all(strips)
    };
    assert!(lists[0].keys().filter(unlike).count() > 0);
}

/// The prices of the relaxation over all patterns of a job, as near as some rounds come.
fn relaxed(problem: &Problem, seed: u64) -> Prices {
    let costs = Costs::default();
    let mut ruin = Ruin::new(problem, &costs, seed);
    (0..20).for_each(|_| _ = ruin.round(1.0));
    let (mut columns, mut relaxation) = (Columns::default(), Relaxation::new(problem).sided());
    for pattern in &ruin.best.boards {
        columns.add(problem, pattern);
    }
    loop {
        let solved = relaxation.solve_sided(problem, &columns.all(), 1e-6);
        let prices = solved.expect("no time was set").relaxed.prices;
        let priced = (0..problem.stock.len()).flat_map(|stock| {
            let priced = best_of(problem, &prices, stock);
            priced.found.into_iter().filter(|valued| valued.sure)
        });
        let new = priced.filter(|valued| columns.add(problem, &valued.pattern));
        if new.count() == 0 {
            return prices;
        }
    }
}

fn best_of(problem: &Problem, prices: &Prices, stock: usize) -> Priced {
    listed(problem, prices, stock, 1e-7, 100_000)
}

/// The same prices where staves are also paid by the unit, and the best pattern of each board is hardly worth
/// anything.
fn by_units(problem: &Problem, prices: &Prices, seed: u64) -> Prices {
    let mut prices = prices.clone();
    let gluings = &problem.gluings;
    for (at, gluing) in gluings
        .iter()
        .enumerate()
        .skip(seed as usize % 3)
        .step_by(3)
    {
        let apart = |&other: &usize| gluings[other].rows.end <= gluing.rows.start;
        let unit = gluing.widest + gluing.widest / (2 + seed as i64 % 5);
        let rounding = RoundingCut::new(problem, at, (0..at).find(apart), unit);
        prices
            .rounding
            .push((rounding, problem.stock[0].whole / 6.0));
    }
    prices.rounding.sort_by(|a, b| a.0.cmp(&b.0));
    for stock in 0..problem.stock.len() {
        prices.board[stock] -= best_of(problem, &prices, stock).upper;
    }
    prices
}

#[test]
fn what_a_walk_remembers_takes_nothing_from_a_list() {
    let (mut compared, mut patterns) = (0, 0);
    for seed in 20..=24 {
        let job = in_steps(0.5, LARGER, seed);
        let problem = Problem::new(&job, false);
        let prices = relaxed(&problem, seed);
        for prices in [by_units(&problem, &prices, seed), prices] {
            let stocks = (0..problem.stock.len()).flat_map(|stock| NEAR.map(|near| (stock, near)));
            for (stock, near) in stocks {
                let least = -near * problem.stock[stock].whole;
                let all = listed(&problem, &prices, stock, least, 0);
                if !all.complete {
                    continue;
                }
                let these = listed(&problem, &prices, stock, least, 100_000);
                assert!(these.complete);
                let (all, these) = (worths(&all, least), worths(&these, least));
                // It may have more: what followed elsewhere may have two strips of which one is enough.
                for (shape, worth) in &all {
                    let found = these.get(shape);
                    assert_eq!(found, Some(worth), "seed {seed}, board {stock}: {shape:?}");
                }
                compared += 1;
                patterns += all.len();
            }
        }
    }
    assert!(compared > 8 && patterns > 400, "{compared}, {patterns}");
}

#[test]
fn plans_give_the_units_of_staves_that_the_relaxation_asks_for() {
    let job = in_steps(0.5, Size::CHEST, 7);
    let problem = Problem::new(&job, false);
    let rounding = relaxed(&problem, 7).rounding;
    assert!(
        !rounding.is_empty(),
        "two fronts are glued, and boards are narrow"
    );
    let mut asked = 0;
    for seed in 1..=15 {
        let costs = Costs::default();
        let mut ruin = Ruin::new(&problem, &costs, seed);
        (0..5).for_each(|_| _ = ruin.round(1.0));
        let mut columns = Columns::default();
        let plan = &ruin.best.boards;
        plan.iter()
            .for_each(|pattern| _ = columns.add(&problem, pattern));
        let columns = columns.all();
        for (rounding, _) in &rounding {
            let staves = columns.iter().map(|column| column.staves.iter().copied());
            let given: i64 = staves.map(|staves| rounding.given(staves)).sum();
            let glued = |gluing: usize| columns.iter().any(|c| c.gluings().any(|of| of == gluing));
            let asks = rounding.asks.iter().filter(|ask| glued(ask.0));
            let asks: i64 = asks.map(|ask| ask.1).sum();
            assert!(given >= asks, "seed {seed}: {rounding:?}");
            asked += usize::from(asks > 0);
        }
    }
    assert!(asked > 0);
}
