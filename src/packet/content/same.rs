//! What a table says in every row is said once.

use crate::packet::document::Table;
use crate::packet::phrase::Phrase;

/// Takes the columns out of a table that say the same in every row, and tells them in a sentence;
/// its first column stays, and so does a table of one row about one thing. Columns that say nothing are left out.
pub fn said_once(table: Table) -> (Table, Option<Phrase>) {
    let Some(first) = table.rows.first() else {
        return (table, None);
    };
    if table.rows.len() == 1 && first[0] != Phrase::from(ALL) {
        return (without(table, |cells| is_empty(cells[0])), None);
    }
    let same = |i: usize| table.rows.iter().all(|row| row[i] == first[i]);
    let told = (1..table.columns.len()).filter(|&i| same(i) && !is_empty(&first[i]));
    let told: Vec<Phrase> = told
        .map(|i| Phrase::from(format!("{} ", table.columns[i].full_name())).and(first[i].clone()))
        .collect();
    let words = (!told.is_empty()).then(|| Phrase::join(told, ", "));
    let table = without(table, |cells| cells.iter().all(|cell| cell == &cells[0]));
    (table, words)
}

/// What stands for the names of all.
const ALL: &str = "all";

fn is_empty(cell: &Phrase) -> bool {
    *cell == Phrase::default() || *cell == Phrase::from("")
}

/// The table without the columns, after the first, whose cells `goes` is true of.
fn without(table: Table, goes: impl Fn(&[&Phrase]) -> bool) -> Table {
    let stays = |&i: &usize| {
        let cells: Vec<&Phrase> = table.rows.iter().map(|row| &row[i]).collect();
        i == 0 || !goes(&cells)
    };
    let kept: Vec<usize> = (0..table.columns.len()).filter(stays).collect();
    let row = |row: &Vec<Phrase>| kept.iter().map(|&i| row[i].clone()).collect();
    Table {
        columns: kept.iter().map(|&i| table.columns[i].clone()).collect(),
        rows: table.rows.iter().map(row).collect(),
        ..table
    }
}

/// Rows that say the same of several things, each under all their names: `all` where they are
/// `count`.
pub fn grouped(rows: Vec<(String, Vec<Phrase>)>, count: usize) -> Vec<Vec<Phrase>> {
    let mut groups: Vec<(Vec<String>, Vec<Phrase>)> = Vec::new();
    for (name, cells) in rows {
        match groups.iter_mut().find(|(_, other)| *other == cells) {
            Some((names, _)) => names.push(name),
            None => groups.push((vec![name], cells)),
        }
    }
    let row = |(names, cells): (Vec<String>, Vec<Phrase>)| {
        let names = match names.len() == count && count > 1 {
            true => ALL.to_owned(),
            false => names.join(", "),
        };
        std::iter::once(Phrase::from(names)).chain(cells).collect()
    };
    groups.into_iter().map(row).collect()
}
