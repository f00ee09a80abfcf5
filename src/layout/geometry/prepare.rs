//! Prepares a job: which item fits on which board is asked of geometry.

use std::collections::HashMap;
use std::ops::Range;

use rayon::prelude::*;

use crate::job::Job;
use crate::layout::geometry::place::alone::Alone;
use crate::layout::geometry::place::flat::flat_alone;
use crate::layout::model::history::History;
use crate::layout::model::identical::IdenticalFronts;
use crate::layout::model::looks::Looks;
use crate::layout::model::prepare;
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;
use crate::layout::model::watch::Patience;
use crate::plan;
use crate::plan::Limits;

impl<'a> Problem<'a> {
    /// Prepares `job`; `by_money` counts money instead of board feet.
    pub(in crate::layout) fn new(job: &'a Job, by_money: bool) -> Problem<'a> {
        Problem::with(job, by_money, &History::default())
    }

    /// The same for a job of which some is done or chalked already.
    pub(in crate::layout) fn with(job: &'a Job, by_money: bool, history: &History) -> Problem<'a> {
        let chain: Vec<usize> = job.runs.iter().flat_map(|r| r.fronts.clone()).collect();
        let runs = prepare::run_ranges(job);
        let mut tones: Vec<f64> = job.boards.iter().map(|b| b.tone.value()).collect();
        tones.sort_by(f64::total_cmp);
        tones.dedup();
        let mean_price = || history.mean_price.or_else(|| plan::mean_price(job));
        let price = by_money.then(mean_price).flatten();
        let items = crate::layout::model::stretches::whole_items(job, &chain, &runs);
        let mut problem = Problem {
            job,
            starts: prepare::starts(&items, chain.len()),
            glued_starts: vec![Vec::new(); chain.len()],
            chain,
            runs,
            items,
            gluings: Vec::new(),
            stock: Vec::new(),
            looks: Looks::of(job, &tones),
            tones,
            cuts: prepare::cuts(job),
            worth: prepare::worths(job, price.unwrap_or(1.0)),
            by_money: price.is_some(),
            limits: Limits::default(),
            identical: IdenticalFronts::default(),
            sides: Vec::new(),
            used: Vec::new(),
            giving: Vec::new(),
            hopeless: Vec::new(),
            patience: Patience::default(),
        };
        problem.stock = job
            .boards
            .iter()
            .enumerate()
            .map(|(index, board)| prepare::stock(&problem, index, board, history))
            .collect();
        crate::layout::model::stretches::add_gluings(&mut problem);
        let most = problem.most_boards();
        let stock = problem.stock.iter_mut();
        stock.for_each(|stock| stock.count = stock.count.min(most));
        // Of thousands of fronts and boards each pair is looked at: all boards side by side.
        let alone = |stock: &Stock| (widest_of(&problem, stock), flat_of(&problem, stock));
        let alone: Vec<_> = problem.stock.par_iter().map(alone).collect();
        for (stock, (widest, flat)) in problem.stock.iter_mut().zip(alone) {
            (stock.widest, stock.flat) = (widest, flat);
        }
        problem.add_rests();
        problem.hopeless = crate::layout::model::problem::hopeless(&problem);
        problem.add_moving(history, price.unwrap_or(1.0));
        problem.identical = IdenticalFronts::of(&problem);
        problem
    }
}

/// The widest blank each item may have on a board by itself.
fn widest_of(problem: &Problem, stock: &Stock) -> Vec<i64> {
    let mut alone = Alone::new(problem, stock);
    // However many staves a stretch is glued from, each lies on the board alike.
    let mut staves: HashMap<Range<usize>, i64> = HashMap::new();
    let widest = |item: usize| {
        let of = &problem.items[item];
        let Some(gluing) = of.gluing else {
            return alone.widest(item);
        };
        let staves = staves.entry(of.rows.clone());
        let widest = *staves.or_insert_with(|| alone.widest(item));
        widest.min(problem.gluings[gluing].widest)
    };
    (0..problem.items.len()).map(widest).collect()
}

/// Whether each item, in one piece, comes out of a board thick enough.
fn flat_of(problem: &Problem, stock: &Stock) -> Vec<bool> {
    let flat =
        |item: usize| !stock.warped || flat_alone(problem, stock, item, problem.items[item].width);
    (0..problem.items.len()).map(flat).collect()
}
