//! Looks for cuts that a solution of the relaxation breaks.

use std::collections::HashMap;

use crate::layout::master::columns::Column;
use crate::layout::master::solved::Solved;
use crate::layout::model::problem::Problem;

/// Three rows, or two rows and a board of which there is one.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(in crate::layout) struct SubsetRow {
    pub(in crate::layout) rows: Vec<usize>,
    pub(in crate::layout) board: Option<usize>,
}

impl SubsetRow {
    /// Whether the column uses two or more.
    pub(in crate::layout) fn pairs(&self, problem: &Problem, column: &Column) -> bool {
        let on_board = usize::from(self.board == Some(column.pattern.stock));
        let wholes = column.wholes.iter();
        let cut: usize = wholes
            .map(|&item| self.within(&problem.items[item].rows))
            .sum();
        on_board + cut >= 2
    }

    /// Whether a glued stretch of these rows uses two or more.
    pub(in crate::layout) fn pairs_glued(&self, rows: &std::ops::Range<usize>) -> bool {
        self.within(rows) >= 2
    }

    fn within(&self, rows: &std::ops::Range<usize>) -> usize {
        self.rows.iter().filter(|row| rows.contains(row)).count()
    }
}

/// Least sum of the shares over one.
const LEAST_VIOLATION: f64 = 0.02;
/// Cuts entered at a time.
const MOST: usize = 40;
/// Cuts entered at a time that share a given row.
const MOST_OF_ROW: usize = 6;

/// What one pattern or glued stretch uses: fronts, and its board.
struct Use {
    pub(in crate::layout) rows: Vec<usize>,
    pub(in crate::layout) board: Option<usize>,
    share: f64,
}

/// The cuts violated most.
pub(in crate::layout) fn violated(
    problem: &Problem,
    columns: &[&Column],
    solved: &Solved,
) -> Vec<SubsetRow> {
    let uses = uses(problem, columns, solved);
    let mut found: HashMap<[usize; 3], f64> = HashMap::new();
    // Every violated cut has two patterns that pair its rows differently; each pair of a pattern's
    // rows is joined with every third row that pairs with one of them elsewhere.
    let pairs = pair_shares(problem, &uses);
    let mut beside: HashMap<usize, Vec<usize>> = HashMap::new();
    for &(a, b) in pairs.keys() {
        beside.entry(a).or_default().push(b);
        beside.entry(b).or_default().push(a);
    }
    for &(a, b) in pairs.keys() {
        for &c in beside.get(&a).into_iter().chain(beside.get(&b)).flatten() {
            if c == a || c == b {
                continue;
            }
            let mut triple = [a, b, c];
            triple.sort_unstable();
            let rows = problem.chain.len();
            if triple.iter().filter(|&&t| t >= rows).count() > 1 || found.contains_key(&triple) {
                continue;
            }
            found.insert(triple, over(&uses, rows, &triple) - 1.0);
        }
    }
    let mut ranked: Vec<([usize; 3], f64)> = found
        .into_iter()
        .filter(|&(_, over)| over > LEAST_VIOLATION)
        .collect();
    ranked.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    pick(problem, &ranked)
}

/// The worst, not too many of which share a row.
fn pick(problem: &Problem, ranked: &[([usize; 3], f64)]) -> Vec<SubsetRow> {
    let rows = problem.chain.len();
    let mut times = vec![0; rows + problem.stock.len()];
    let mut cuts = Vec::new();
    for (triple, _) in ranked {
        if triple.iter().any(|&t| times[t] >= MOST_OF_ROW) {
            continue;
        }
        triple.iter().for_each(|&t| times[t] += 1);
        let fronts = triple.iter().copied().filter(|&t| t < rows);
        cuts.push(SubsetRow {
            rows: fronts.collect(),
            board: triple.iter().find(|&&t| t >= rows).map(|t| t - rows),
        });
        if cuts.len() == MOST {
            break;
        }
    }
    cuts
}

fn uses(problem: &Problem, columns: &[&Column], solved: &Solved) -> Vec<Use> {
    let single = |row: &usize| problem.identical.count(*row) == 1;
    let patterns = columns.iter().zip(&solved.shares).map(|(column, &share)| {
        let stock = column.pattern.stock;
        let items = column.wholes.iter();
        Use {
            rows: items
                .flat_map(|&item| problem.items[item].rows.clone())
                .filter(single)
                .collect(),
            board: (problem.stock[stock].count == 1).then_some(stock),
            share,
        }
    });
    let gluings = problem
        .gluings
        .iter()
        .zip(&solved.glued)
        .map(|(gluing, &share)| Use {
            rows: gluing.rows.clone().filter(single).collect(),
            board: None,
            share,
        });
    patterns
        .chain(gluings)
        .filter(|one| one.share > 1e-4)
        .collect()
}

/// How much is cut with both of two rows, by row; a board follows the rows.
fn pair_shares(problem: &Problem, uses: &[Use]) -> HashMap<(usize, usize), f64> {
    let mut pairs = HashMap::new();
    for one in uses.iter().filter(|one| one.share < 1.0 - 1e-4) {
        let board = one.board.map(|board| problem.chain.len() + board);
        let all: Vec<usize> = one.rows.iter().copied().chain(board).collect();
        for (i, &a) in all.iter().enumerate() {
            for &b in &all[i + 1..] {
                *pairs.entry((a.min(b), a.max(b))).or_insert(0.0) += one.share;
            }
        }
    }
    pairs.retain(|_, share| *share < 1.0 - 1e-3);
    pairs
}

/// Share of all that uses two or more of the three.
fn over(uses: &[Use], rows: usize, triple: &[usize; 3]) -> f64 {
    let used = |one: &&Use| {
        let has = |t: usize| match t.checked_sub(rows) {
            Some(board) => one.board == Some(board),
            None => one.rows.contains(&t),
        };
        triple.iter().filter(|&&t| has(t)).count() >= 2
    };
    uses.iter().filter(used).map(|one| one.share).sum()
}
