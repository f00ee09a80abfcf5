//! Walks against every set of columns, tried one by one.

use crate::job::generate::{Size, generate};
use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::ruin::Ruin;
use crate::layout::heuristics::state::State;
use crate::layout::master::columns::{Column, Columns};
use crate::layout::model::problem::Problem;
use crate::layout::model::together::Together;
use crate::layout::search::list::branch::Question;
use crate::layout::search::list::cost;
use crate::layout::search::list::enumerate::{Enumeration, Limit};

const SIZE: Size = Size {
    fronts: 5,
    runs: 2,
    boards: 3,
};
/// Columns of a job at most: more make too many sets.
const COLUMNS: usize = 50;

/// Whether the columns make every front once (or, unless `all`, at most once), from boards there are; or may
/// do so with more of them.
fn makes(problem: &Problem, columns: &[&Column], whole: bool, all: bool) -> bool {
    let mut cut = vec![0; problem.chain.len()];
    let mut used = vec![0; problem.stock.len()];
    let mut staves = vec![Together::default(); problem.gluings.len()];
    for column in columns {
        used[column.pattern.stock] += 1;
        for &item in &column.wholes {
            problem.items[item]
                .rows
                .clone()
                .for_each(|row| cut[row] += 1);
        }
        for (gluing, wide, lost) in column.staves_with_loss() {
            staves[gluing].add(wide, lost);
        }
    }
    for (at, (staves, gluing)) in staves.iter().zip(&problem.gluings).enumerate() {
        let count = staves.count;
        if count > gluing.staves || (whole && count > 0 && count < gluing.staves) {
            return false;
        }
        if count == gluing.staves && !staves.may_do(problem, at) {
            return false;
        }
        if count > 0 {
            gluing.rows.clone().for_each(|row| cut[row] += 1);
        }
    }
    let there = used.iter().zip(&problem.stock);
    there.clone().all(|(used, stock)| *used <= stock.count)
        && cut
            .iter()
            .all(|&times| times == 1 || (times == 0 && !(whole && all)))
}

/// Every plan there is that goes on from `chosen` with columns from `from` on.
fn all(
    problem: &Problem,
    columns: &[&Column],
    (reduced_costs, room, every): (&[f64], f64, bool),
    from: usize,
    chosen: &mut Vec<usize>,
    plans: &mut Vec<Vec<usize>>,
) {
    let picked: Vec<&Column> = chosen.iter().map(|&i| columns[i]).collect();
    let spent: f64 = chosen.iter().map(|&i| reduced_costs[i]).sum();
    if spent >= room || !makes(problem, &picked, false, every) {
        return;
    }
    if makes(problem, &picked, true, every) {
        plans.push(chosen.clone());
    }
    for i in from..columns.len() {
        chosen.push(i);
        all(
            problem,
            columns,
            (reduced_costs, room, every),
            i,
            chosen,
            plans,
        );
        chosen.pop();
    }
}

/// Either answer to whether two fronts are cut from one board keeps the plans that give it, and no others.
fn assert_told_apart(problem: &Problem, plan: &[&Column]) {
    let cuts = |column: &Column, row: usize| {
        let mut wholes = column.wholes.iter();
        wholes.any(|&item| problem.items[item].rows.contains(&row))
    };
    for b in 0..problem.chain.len() {
        for a in 0..b {
            let together = plan.iter().any(|column| cuts(column, a) && cuts(column, b));
            for yes in [true, false] {
                let question = Question::Together(a, b);
                let mut columns = plan.iter();
                let kept = columns.all(|column| question.allows(problem, column, usize::MAX, yes));
                assert_eq!(kept, together == yes, "rows {a} and {b}: {yes}");
            }
        }
    }
}

#[test]
fn walks_meet_every_plan_once() {
    let (mut met, mut lacking, mut glued, mut copies) = (0, 0, 0, 0);
    for seed in 1..=120 {
        let mut job = generate(SIZE, seed);
        if seed % 2 == 0 {
            job.boards[0].copies = vec![1, 2];
        }
        let problem = Problem::new(&job, false);
        if problem.identical.any() || problem.hopeless.contains(&true) {
            continue;
        }
        let costs = Costs::default();
        let mut ruin = Ruin::new(&problem, &costs, seed);
        let mut known = Columns::default();
        for _ in 0..300 {
            ruin.round(1.0);
            for pattern in ruin.now.boards.iter().take(COLUMNS - known.len()) {
                known.add(&problem, pattern);
            }
        }
        let columns = known.all();
        let reduced_costs: Vec<f64> = (0..columns.len())
            .map(|i| (i * 7 % 11) as f64 / 8.0)
            .collect();
        for (room, makes_all) in [(2.0, true), (100.0, true), (1.5, false)] {
            let (mut walked, mut every) = (Vec::new(), Vec::new());
            let limit = Limit {
                room,
                base: 1.0,
                unmade: (!makes_all).then(|| vec![0.0; problem.chain.len()]),
                nodes: usize::MAX,
                stop: &|| false,
            };
            let mut plan = |chosen: &[usize]| {
                let mut chosen = chosen.to_vec();
                chosen.sort_unstable();
                walked.push(chosen);
                None
            };
            assert!(Enumeration::walk(
                &problem,
                &columns,
                &reduced_costs,
                limit,
                &mut plan
            ));
            all(
                &problem,
                &columns,
                (&reduced_costs, room, makes_all),
                0,
                &mut Vec::new(),
                &mut every,
            );
            walked.sort();
            every.sort();
            assert_eq!(walked, every, "seed {seed}, room {room}");
            lacking += usize::from(!makes_all) * walked.len();
            for plan in walked.iter().filter(|_| makes_all) {
                let made: Vec<&Column> = plan.iter().map(|&i| columns[i]).collect();
                assert_told_apart(&problem, &made);
                let state = State::of(&problem, known.pick(&problem, plan));
                let cost = state.cost(&problem);
                assert!(
                    (cost::cost(&problem, &made) - cost).abs() < 1e-9,
                    "seed {seed}"
                );
                glued += usize::from(made.iter().any(|column| !column.staves.is_empty()));
                copies += usize::from(
                    made.iter()
                        .filter(|c| problem.stock[c.pattern.stock].count > 1)
                        .count()
                        > 1,
                );
            }
            met += usize::from(makes_all) * walked.len();
        }
    }
    assert!(
        met > 250 && lacking > 300 && glued > 50 && copies > 30,
        "{met}, {lacking}, {glued}, {copies}"
    );
}
