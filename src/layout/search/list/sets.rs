//! Which columns go with which.

use fixedbitset::FixedBitSet;

use crate::layout::master::columns::Column;
use crate::layout::model::problem::Problem;

/// Columns by what they cut.
pub(in crate::layout) struct Sets {
    /// Those that cut each front, or a stave of it.
    pub(in crate::layout) cutting: Vec<FixedBitSet>,
    /// Those with a stave of each gluing.
    pub(in crate::layout) staved: Vec<FixedBitSet>,
    /// Those of each kind of board.
    of_board: Vec<FixedBitSet>,
}

impl Sets {
    pub(in crate::layout) fn of(problem: &Problem, columns: &[&Column]) -> Sets {
        let sets = |count: usize| vec![FixedBitSet::with_capacity(columns.len()); count];
        let mut of = Sets {
            cutting: sets(problem.chain.len()),
            staved: sets(problem.gluings.len()),
            of_board: sets(problem.stock.len()),
        };
        for (i, column) in columns.iter().enumerate() {
            rows(problem, column).for_each(|row| of.cutting[row].insert(i));
            column
                .gluings()
                .for_each(|gluing| of.staved[gluing].insert(i));
            of.of_board[column.pattern.stock].insert(i);
        }
        of
    }

    /// The columns that a plan may have beside one: they cut other fronts, or staves of the same.
    pub(in crate::layout) fn beside(
        &self,
        problem: &Problem,
        columns: &[&Column],
        i: usize,
    ) -> FixedBitSet {
        let column = columns[i];
        let mut beside = FixedBitSet::with_capacity(columns.len());
        beside.insert_range(..);
        for &item in &column.wholes {
            for row in problem.items[item].rows.clone() {
                beside.difference_with(&self.cutting[row]);
            }
        }
        let count = |column: &Column, gluing: usize| {
            let staves = column.staves.iter();
            staves.filter(|stave| stave.0 == gluing).count()
        };
        for gluing in column.gluings() {
            let m = &problem.gluings[gluing];
            for row in m.rows.clone() {
                let mut others = self.cutting[row].clone();
                others.difference_with(&self.staved[gluing]);
                beside.difference_with(&others);
            }
            let room = m.staves.saturating_sub(count(column, gluing));
            let too_many = |&other: &usize| count(columns[other], gluing) > room;
            for other in self.staved[gluing].ones().filter(too_many) {
                beside.remove(other);
            }
        }
        if problem.stock[column.pattern.stock].count == 1 {
            beside.difference_with(&self.of_board[column.pattern.stock]);
        }
        beside
    }
}

/// The fronts a column cuts, or staves of them.
pub(in crate::layout) fn rows(problem: &Problem, column: &Column) -> impl Iterator<Item = usize> {
    let wholes = column.wholes.iter().map(|&item| &problem.items[item].rows);
    let glued = column.gluings().map(|gluing| &problem.gluings[gluing].rows);
    wholes.chain(glued).flat_map(|rows| rows.clone())
}
