//! Which fronts are alike in everything the plan depends on; `merging` finds and merges them.

/// Which fronts are identical fronts.
#[derive(Clone, Debug, Default)]
pub(in crate::layout) struct IdenticalFronts {
    /// The first row of each row's kind: for most rows, the row itself.
    pub(in crate::layout) first: Vec<usize>,
    /// All rows of a kind, by its first row; empty for the others.
    pub(in crate::layout) rows: Vec<Vec<usize>>,
}

impl IdenticalFronts {
    /// No two of `rows` fronts are alike.
    pub(in crate::layout) fn none(rows: usize) -> IdenticalFronts {
        IdenticalFronts {
            first: (0..rows).collect(),
            rows: (0..rows).map(|row| vec![row]).collect(),
        }
    }

    /// How many ways there are to tell them apart.
    pub(in crate::layout) fn ways(&self) -> f64 {
        let of = |rows: &Vec<usize>| (1..=rows.len()).map(|count| count as f64).product::<f64>();
        self.rows.iter().map(of).product()
    }

    /// Whether any two fronts are alike.
    pub(in crate::layout) fn any(&self) -> bool {
        self.rows.iter().any(|rows| rows.len() > 1)
    }

    /// The first row of the kind of the front at `row`.
    pub(in crate::layout) fn first(&self, row: usize) -> usize {
        self.first[row]
    }

    /// How many fronts there are of the kind whose first row is `row`; none if it is not a first.
    pub(in crate::layout) fn count(&self, row: usize) -> usize {
        self.rows[row].len()
    }
}
