//! What the tables of the fitting sheet are made of.

use crate::fit::Fitted;
use crate::packet::document::{Column, Table};
use crate::packet::phrase::Phrase;

/// A table, its rows told front by front.
pub fn table(columns: Vec<Column>, rows: Vec<Vec<Phrase>>) -> Table {
    Table {
        columns: std::iter::once(Column::words("front"))
            .chain(columns)
            .collect(),
        rows,
        ..Table::default()
    }
}

/// Columns of figures with something in common.
pub fn figures(group: &str, heads: &[&str]) -> Vec<Column> {
    let heads = heads.iter();
    heads.map(|head| Column::figures(head).of(group)).collect()
}

/// A front by its name.
pub fn name(fitted: &Fitted) -> Phrase {
    fitted.name.as_str().into()
}
