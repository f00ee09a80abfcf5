//! Prices that were asked at, and the bound that follows.

use crate::layout::master::solved::Relaxed;
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::priced::Priced;

/// Prices that were asked at, and what came of it.
#[derive(Clone)]
pub(in crate::layout) struct DualPoint {
    pub(in crate::layout) relaxed: Relaxed,
    /// Most that a pattern of each board is worth.
    upper: Vec<f64>,
    /// What a plan costs at least.
    pub(in crate::layout) bound: f64,
    /// Whether every board was priced to the end.
    pub(in crate::layout) complete: bool,
}

impl DualPoint {
    pub(in crate::layout) fn new(
        problem: &Problem,
        relaxed: Relaxed,
        priced: &[Priced],
    ) -> DualPoint {
        let upper: Vec<f64> = priced.iter().map(|p| p.upper).collect();
        DualPoint {
            bound: lagrange(problem, &relaxed, &upper),
            relaxed,
            upper,
            complete: priced.iter().all(|p| p.complete),
        }
    }

    /// Prices at which no board has been looked at yet.
    pub(in crate::layout) fn guessed(relaxed: Relaxed) -> DualPoint {
        DualPoint {
            upper: vec![f64::INFINITY; relaxed.prices.board.len()],
            relaxed,
            bound: f64::NEG_INFINITY,
            complete: false,
        }
    }

    /// The same for a part of the plans: what holds for all of them holds for these.
    pub(in crate::layout) fn narrowed(self, problem: &Problem) -> DualPoint {
        let idle = |stock: &Stock| stock.widest.iter().all(|&widest| widest == 0);
        let upper: Vec<f64> = (problem.stock.iter().zip(self.upper))
            .map(|(stock, upper)| {
                if idle(stock) {
                    f64::NEG_INFINITY
                } else {
                    upper
                }
            })
            .collect();
        DualPoint {
            bound: lagrange(problem, &self.relaxed, &upper),
            upper,
            ..self
        }
    }
}

/// Weak duality: the fixed part less the most that the boards of a plan can be worth.
fn lagrange(problem: &Problem, relaxed: &Relaxed, upper: &[f64]) -> f64 {
    let places = upper.iter().zip(&relaxed.prices.board);
    let mut worth: Vec<f64> = (places.map(|(upper, place)| upper * relaxed.wood - place)).collect();
    let take = |&board: &usize| std::mem::take(&mut worth[board]);
    let used: f64 = problem.used.iter().map(take).sum();
    relaxed.fixed - used - most_together(problem, worth)
}

/// Most that the boards of a plan are worth together where one of each kind is worth at most `worth`.
pub(in crate::layout) fn most_together(problem: &Problem, worth: Vec<f64>) -> f64 {
    let mut kinds: Vec<(f64, usize)> = (worth.into_iter())
        .zip(problem.stock.iter().map(|stock| stock.count))
        .filter(|(worth, _)| *worth > 0.0)
        .collect();
    kinds.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut left = problem.most_boards();
    let mut take = |count: usize| {
        let taken = count.min(left);
        left -= taken;
        taken as f64
    };
    kinds
        .iter()
        .map(|(worth, count)| worth * take(*count))
        .sum()
}

/// Cost of a plan that uses every board at its price and has only patterns worth theirs.
pub(in crate::layout) fn base(problem: &Problem, relaxed: &Relaxed) -> f64 {
    let boards = relaxed.prices.board.iter().zip(&problem.stock);
    let places: f64 = boards
        .map(|(place, stock)| place * stock.count as f64)
        .sum();
    relaxed.fixed + places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::generate::{Size, generate};
    use crate::layout::master::columns::Columns;
    use crate::layout::master::relax::Relaxation;

    #[test]
    fn no_more_boards_count_than_a_plan_may_use() {
        let size = Size {
            fronts: 3,
            runs: 3,
            boards: 2,
        };
        let mut job = generate(size, 1);
        job.boards[0].copies = (1..=200).collect();
        let problem = Problem::new(&job, false);
        let most = problem.most_boards();
        assert!((3..20).contains(&most), "{most}");
        assert_eq!(problem.stock[0].count, most);
        // The dearer board first, of which there is one, then the other.
        let rest = (most - 1) as f64;
        assert_eq!(most_together(&problem, vec![2.0, 5.0]), 5.0 + 2.0 * rest);
        assert_eq!(most_together(&problem, vec![2.0, -5.0]), 2.0 + 2.0 * rest);
        assert_eq!(most_together(&problem, vec![-2.0, -5.0]), 0.0);
    }

    #[test]
    fn a_board_that_must_be_used_counts_what_it_is_short_of_its_price() {
        let size = Size {
            fronts: 3,
            runs: 3,
            boards: 2,
        };
        let job = generate(size, 1);
        let mut problem = Problem::new(&job, false);
        let columns = Columns::default();
        let mut relaxation = Relaxation::new(&problem);
        let solved = relaxation.solve_sided(&problem, &columns.all(), 1e-8);
        let relaxed = solved.expect("leaving all unmade is a solution").relaxed;
        let places: Vec<f64> = relaxed.prices.board.clone();
        // At no price for their places, one worth two and the other short by three.
        let upper = [2.0, -3.0].map(|worth| worth / relaxed.wood);
        let upper: Vec<f64> = (upper.iter().zip(&places))
            .map(|(upper, place)| upper + place / relaxed.wood)
            .collect();
        assert!((lagrange(&problem, &relaxed, &upper) - (relaxed.fixed - 2.0)).abs() < 1e-9);
        problem.used = vec![1];
        assert!((lagrange(&problem, &relaxed, &upper) - (relaxed.fixed + 1.0)).abs() < 1e-9);
        // One that can't be cut from at all leaves no plan.
        problem.stock[1].widest.fill(0);
        let point = DualPoint {
            relaxed,
            upper,
            bound: 0.0,
            complete: true,
        };
        assert_eq!(point.narrowed(&problem).bound, f64::INFINITY);
    }
}
