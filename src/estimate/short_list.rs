//! Which one board on offer, added to the pile, would save most.

use rayon::prelude::*;
use serde::Serialize;

use crate::job::{Board, Job};
use crate::layout;
use crate::measure::Unit;
use crate::plan::Plan;

/// Boards on offer, each judged by what it alone would save.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ShortList {
    /// What wood is counted in.
    #[serde(skip)]
    pub unit: Unit,
    /// Cost of the plan from the owned boards alone, as the plan counts it.
    pub cost: f64,
    /// Fronts that plan makes.
    pub made: usize,
    /// The best boards to add, the best first.
    pub boards: Vec<Candidate>,
}

/// One board on offer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Candidate {
    /// Its name in `boards.csv`.
    pub board: String,
    /// Its whole price.
    pub price: f64,
    /// Fronts made more than without it.
    pub more_made: usize,
    /// Cost saved in board feet or litres: what the plan without it costs less what the plan with it
    /// costs. Its price is not in it. With more fronts made it says only which of two boards
    /// does it cheaper.
    pub saves: f64,
    /// Breaks fewer than without it (negative: more).
    pub fewer_breaks: i64,
    /// Cost saved for each unit of money it costs; nothing for a board that is given away.
    pub saves_for_money: Option<f64>,
}

/// The `count` boards on offer (those with a price) that would save most when one of them alone
/// were added to the owned ones; `None` when nothing is on offer.
///
/// All plans are the fast planner's, so a small saving may be its luck. A board that saves
/// nothing is left out.
pub fn short_list(job: &Job, count: usize, seed: u64) -> Option<ShortList> {
    let offered: Vec<&Board> = job.boards.iter().filter(|b| b.price.is_some()).collect();
    if offered.is_empty() {
        return None;
    }
    let owned = Job {
        boards: job
            .boards
            .iter()
            .filter(|b| b.price.is_none())
            .cloned()
            .collect(),
        ..job.clone()
    };
    let plans: Vec<Plan> = offered
        .par_iter()
        .map(|board| layout::quick(&with(&owned, board), seed))
        .collect();
    let base = layout::quick(&owned, seed);
    let base = without_luck(&owned, base, &plans);
    let mut boards: Vec<Candidate> = offered
        .iter()
        .zip(&plans)
        .map(|(board, plan)| candidate(job, board, &base, plan))
        .filter(|candidate| candidate.more_made > 0 || candidate.saves > 1e-6)
        .collect();
    boards.sort_by(|a, b| {
        let made = b.more_made.cmp(&a.more_made);
        made.then(b.saves.total_cmp(&a.saves))
    });
    boards.truncate(count);
    Some(ShortList {
        unit: job.settings.unit,
        cost: base.totals.cost,
        made: base.totals.made,
        boards,
    })
}

/// The owned boards and one copy of one on offer.
fn with(owned: &Job, board: &Board) -> Job {
    let mut job = owned.clone();
    job.boards.push(Board {
        copies: board.copies.iter().copied().take(1).collect(),
        price: None,
        ..board.clone()
    });
    job
}

/// The best plan known from owned boards alone: one that was to use an offered board and did
/// not counts too.
fn without_luck(owned: &Job, base: Plan, plans: &[Plan]) -> Plan {
    let offered = owned.boards.len();
    plans
        .iter()
        .filter(|plan| plan.boards.iter().all(|b| b.board != offered))
        .fold(base, |best, plan| {
            let better =
                (plan.totals.made, -plan.totals.cost) > (best.totals.made, -best.totals.cost);
            if better { plan.clone() } else { best }
        })
}

fn candidate(job: &Job, board: &Board, base: &Plan, plan: &Plan) -> Candidate {
    let price = board.price.unwrap_or(0.0) * job.volume_of(board).value();
    let more_made = plan.totals.made.saturating_sub(base.totals.made);
    let saves = if plan.totals.made < base.totals.made {
        0.0
    } else {
        base.totals.cost - plan.totals.cost
    };
    Candidate {
        board: board.id.clone(),
        price,
        more_made,
        saves,
        fewer_breaks: base.totals.breaks as i64 - plan.totals.breaks as i64,
        saves_for_money: (price > 0.0).then(|| saves / price),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{Front, Run};
    use crate::measure::Length;

    fn board(id: &str, length: f64, price: Option<f64>) -> Board {
        Board {
            id: id.to_owned(),
            copies: vec![1],
            length: Length::from_inches(length),
            width: Length::from_inches(6.5),
            thickness: Length::from_inches(1.0),
            price,
            ..Board::default()
        }
    }

    /// A run of two 30 in fronts, and two boards of which each takes one.
    fn job() -> Job {
        let front = |name: &str| Front {
            name: name.to_owned(),
            width: Length::from_inches(30.0),
            height: Length::from_inches(6.0),
            thickness: Length::from_inches(0.75),
            ..Front::default()
        };
        Job {
            boards: vec![
                board("own1", 36.0, None),
                board("own2", 36.0, None),
                board("short", 50.0, Some(5.0)),
                board("long", 68.0, Some(5.0)),
            ],
            fronts: vec![front("a"), front("b")],
            runs: vec![Run {
                name: "top".to_owned(),
                fronts: vec![0, 1],
            }],
            ..Job::default()
        }
    }

    #[test]
    fn the_board_that_spares_the_break_comes_first() {
        let list = short_list(&job(), 5, 0).unwrap();
        // By hand: two boards 36 by 6 1/2, no kept piece: 3.25 ft; one break: 4 ft more.
        assert!((list.cost - (2.0 * 36.0 * 6.5 / 144.0 + 4.0)).abs() < 1e-9);
        let best = &list.boards[0];
        assert_eq!((best.board.as_str(), best.fewer_breaks), ("long", 1));
        // One board 68 by 6 1/2 costs 3.07 ft.
        assert!((best.saves - (list.cost - 68.0 * 6.5 / 144.0)).abs() < 1e-9);
        assert!(list.boards.iter().all(|b| b.board != "short"), "{list:?}");
    }

    #[test]
    fn a_board_that_makes_more_fronts_comes_before_one_that_is_cheap() {
        let mut job = job();
        job.boards.remove(0);
        let list = short_list(&job, 1, 0).unwrap();
        assert_eq!(list.boards.len(), 1);
        assert_eq!((list.made, list.boards[0].more_made), (1, 1));
        assert_eq!(list.boards[0].board, "long");
    }

    #[test]
    fn nothing_on_offer_is_no_list() {
        let mut job = job();
        job.boards.truncate(2);
        assert_eq!(short_list(&job, 3, 0), None);
    }
}
