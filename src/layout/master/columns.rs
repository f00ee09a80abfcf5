//! The patterns the master program may choose from.

use std::collections::HashSet;

use crate::layout::model::pattern::{Pattern, sorted};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::Shape;
use crate::layout::model::together::staves_with_loss;

/// A pattern and what the master program needs to know of it.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Column {
    pub(in crate::layout) pattern: Pattern,
    /// Cost of its wood and of its one-piece stretches.
    pub(in crate::layout) cost: f64,
    /// One-piece items.
    pub(in crate::layout) wholes: Vec<usize>,
    /// Staves: gluing and blank width.
    pub(in crate::layout) staves: Vec<(usize, i64)>,
    /// What each loses when it is ripped to a plain width, see [`Together`](crate::layout::model::together::Together).
    pub(in crate::layout) lost: Vec<i64>,
    pub(in crate::layout) tone: usize,
    /// Runs it cuts something of, but for identical fronts, which have no say in tones.
    pub(in crate::layout) runs: Vec<usize>,
}

impl Column {
    /// Gluing, width and loss of each stave.
    pub(in crate::layout) fn staves_with_loss(
        &self,
    ) -> impl Iterator<Item = (usize, i64, i64)> + '_ {
        let staves = self.staves.iter().zip(&self.lost);
        staves.map(|(&(gluing, wide), &lost)| (gluing, wide, lost))
    }

    /// The gluings it has staves of.
    pub(in crate::layout) fn gluings(&self) -> impl Iterator<Item = usize> + '_ {
        let staves = self.staves.iter().enumerate();
        let first = staves
            .filter(|&(i, &(gluing, _))| !self.staves[..i].iter().any(|stave| stave.0 == gluing));
        first.map(|(_, &(gluing, _))| gluing)
    }
}

/// Patterns without repeats, in the order they came.
#[derive(Clone, Default)]
pub(in crate::layout) struct Columns {
    all: Vec<Column>,
    known: HashSet<(usize, Shape)>,
}

impl Columns {
    /// Adds a pattern; false when it is already there.
    pub(in crate::layout) fn add(&mut self, problem: &Problem, pattern: &Pattern) -> bool {
        let shape = sorted(&problem.identical.merged(problem, &pattern.shape));
        if !self.known.insert((pattern.stock, shape.clone())) {
            return false;
        }
        let pattern = Pattern {
            shape,
            ..pattern.clone()
        };
        let wholes: Vec<usize> = pattern
            .items()
            .filter(|&i| problem.items[i].gluing.is_none())
            .collect();
        let staves = staves_with_loss(problem, &pattern);
        self.all.push(Column {
            cost: pattern.wood + problem.worth.unbroken * wholes.len() as f64,
            wholes,
            staves: staves
                .iter()
                .map(|&(gluing, wide, _)| (gluing, wide))
                .collect(),
            lost: staves.iter().map(|stave| stave.2).collect(),
            tone: problem.stock[pattern.stock].tone,
            runs: runs(problem, &pattern),
            pattern,
        });
        true
    }

    /// How many there are.
    pub(in crate::layout) fn len(&self) -> usize {
        self.all.len()
    }

    /// All patterns, in the order they came.
    pub(in crate::layout) fn patterns(&self) -> impl Iterator<Item = &Pattern> + '_ {
        self.all.iter().map(|column| &column.pattern)
    }

    /// All columns, in the order they came.
    pub(in crate::layout) fn all(&self) -> Vec<&Column> {
        self.all.iter().collect()
    }

    /// The patterns at the given places, as a plan.
    pub(in crate::layout) fn pick(&self, problem: &Problem, places: &[usize]) -> Vec<Pattern> {
        let patterns = places.iter().map(|&i| self.all[i].pattern.clone());
        problem.identical.told_apart(problem, patterns.collect())
    }
}

fn runs(problem: &Problem, pattern: &Pattern) -> Vec<usize> {
    let items = pattern.items().map(|item| &problem.items[item]);
    let single = items.filter(|item| problem.identical.count(item.rows.start) == 1);
    let mut runs: Vec<usize> = single.map(|item| item.run).collect();
    runs.sort_unstable();
    runs.dedup();
    runs
}
