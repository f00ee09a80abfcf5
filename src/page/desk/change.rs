//! What a maker may change, and what becomes of the files.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::paper::{Paper, take};
use super::{rename, settings};
use crate::commands::Failure;
use crate::job::{
    BOARDS_CSV, FRONTS_CSV, JOB_TOML, TableEdit, WISHES_CSV, edit_table, mark_wishes,
};

/// One change, as the page asks for it. Rows are named by their numbers.
#[derive(Clone, Debug, Deserialize)]
#[serde(tag = "op", rename_all = "lowercase", deny_unknown_fields)]
pub enum Change {
    /// A cell says something else.
    Set {
        /// The file of the table.
        file: String,
        /// The row.
        row: u64,
        /// The column.
        column: String,
        /// What it says now.
        value: String,
        /// What it said when the maker began to change it.
        was: String,
    },
    /// A row more.
    Add {
        /// The file of the table.
        file: String,
        /// The row it stands before; the end when not given.
        before: Option<u64>,
        /// What it says.
        cells: BTreeMap<String, String>,
    },
    /// A row less.
    Remove {
        /// The file of the table.
        file: String,
        /// The row.
        row: u64,
    },
    /// A row elsewhere.
    Move {
        /// The file of the table.
        file: String,
        /// The row.
        row: u64,
        /// The row it stands before then; the end when not given.
        before: Option<u64>,
    },
    /// A setting of job.toml; the default when it says nothing.
    Key {
        /// The section, nothing for the top.
        section: String,
        /// The key.
        key: String,
        /// What it says.
        value: String,
    },
    /// Wishes put in force or taken out.
    Wish {
        /// Those to keep.
        #[serde(default)]
        keep: Vec<String>,
        /// Those to drop.
        #[serde(default)]
        drop: Vec<String>,
    },
}

/// A cell that somebody else changed meanwhile.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Clash {
    /// The file.
    pub file: String,
    /// The row.
    pub row: u64,
    /// The column.
    pub column: String,
    /// What it says now.
    pub theirs: String,
    /// What it was to say.
    pub yours: String,
}

/// Why a change was not made.
#[derive(Debug, thiserror::Error)]
pub enum Refused {
    /// Somebody else changed the same cell.
    #[error("somebody else changed `{}` meanwhile: it says `{}` now", .0.column, .0.theirs)]
    Clash(Clash),
    /// The row is not there any more.
    #[error("that row is not there any more")]
    Gone,
    /// There is no such thing to change.
    #[error("{0}")]
    Unknown(String),
    /// There is nothing to take back, or to do again.
    #[error("there is nothing to take back")]
    Nothing,
    /// It can't be written.
    #[error(transparent)]
    Failed(#[from] Failure),
}

/// What a change came to: texts by file, rows by file, numbers of rows added.
type Worked = (
    BTreeMap<&'static str, String>,
    BTreeMap<&'static str, Vec<u64>>,
    Vec<u64>,
);

/// Changes at work, on copies.
pub struct Work<'d> {
    papers: &'d BTreeMap<&'static str, Paper>,
    next: &'d mut u64,
    tables: BTreeMap<&'static str, (TableEdit, Vec<u64>)>,
    texts: BTreeMap<&'static str, String>,
    added: Vec<u64>,
}

/// Most characters of one cell: nobody writes more.
const LONGEST: usize = 2000;

impl<'d> Work<'d> {
    pub fn new(papers: &'d BTreeMap<&'static str, Paper>, next: &'d mut u64) -> Work<'d> {
        Work {
            papers,
            next,
            tables: BTreeMap::new(),
            texts: BTreeMap::new(),
            added: Vec::new(),
        }
    }

    /// Makes one change.
    pub fn apply(&mut self, change: &Change) -> Result<(), Refused> {
        match change {
            Change::Set {
                file,
                row,
                column,
                value,
                was,
            } => self.set((file, *row, column), value, was),
            Change::Add {
                file,
                before,
                cells,
            } => self.add(file, *before, cells),
            Change::Remove { file, row } => self.remove(file, *row),
            Change::Move { file, row, before } => self.move_row(file, *row, *before),
            Change::Key {
                section,
                key,
                value,
            } => {
                let text = self.text(JOB_TOML)?;
                let text = settings::set(&text, section, key, &plain(value))?;
                self.texts.insert(JOB_TOML, text);
                Ok(())
            }
            Change::Wish { keep, drop } => {
                let text = self.text(WISHES_CSV)?;
                let keep: Vec<String> = keep.iter().map(|wish| plain(wish)).collect();
                self.texts
                    .insert(WISHES_CSV, mark_wishes(&text, &keep, drop));
                Ok(())
            }
        }
    }

    /// What became of the files.
    pub fn finish(self) -> Result<Worked, Refused> {
        let mut rows = BTreeMap::new();
        let mut texts = self.texts;
        for (file, (edit, numbers)) in self.tables {
            if edit.rows() != numbers.len() {
                return Err(Refused::Unknown(format!("{file} can't be changed so here")));
            }
            rows.insert(file, numbers);
            texts.insert(file, edit.into_text());
        }
        Ok((texts, rows, self.added))
    }

    fn text(&self, file: &'static str) -> Result<String, Refused> {
        if let Some(text) = self.texts.get(file) {
            return Ok(text.clone());
        }
        let paper = self.papers.get(file).ok_or(Refused::Gone)?;
        match paper.trouble() {
            Some(why) => Err(Refused::Unknown(format!("{file}: {why}"))),
            None => Ok(paper.text().unwrap_or("").to_owned()),
        }
    }

    /// The table of a file, and the numbers of its rows.
    fn table(&mut self, file: &str) -> Result<&mut (TableEdit, Vec<u64>), Refused> {
        let unknown = || Refused::Unknown(format!("there is no table {file}"));
        let paper = self.papers.get(file).ok_or_else(unknown)?;
        if !self.tables.contains_key(paper.file) {
            let text = self.text(paper.file)?;
            let edit = edit_table(file, &text).ok_or_else(unknown)?;
            self.tables.insert(paper.file, (edit, paper.rows.clone()));
        }
        self.tables.get_mut(paper.file).ok_or_else(unknown)
    }

    fn column(&self, file: &str, column: &str) -> Result<&'static str, Refused> {
        let columns = self.papers.get(file).and_then(Paper::columns);
        let found = columns.and_then(|columns| columns.find(column));
        found.ok_or_else(|| Refused::Unknown(format!("{file} has no column {column}")))
    }

    fn set(
        &mut self,
        (file, row, column): (&str, u64, &str),
        value: &str,
        was: &str,
    ) -> Result<(), Refused> {
        let column = self.column(file, column)?;
        let value = plain(value);
        let (edit, rows) = self.table(file)?;
        let at = rows.iter().position(|number| *number == row);
        let at = at.ok_or(Refused::Gone)?;
        let now = edit.cell(at, column);
        if now == value {
            return Ok(());
        }
        if plain(&now) != plain(was) {
            return Err(Refused::Clash(Clash {
                file: file.to_owned(),
                row,
                column: column.to_owned(),
                theirs: now,
                yours: value,
            }));
        }
        edit.set(at, column, &value);
        if edit.rows() < rows.len() {
            // The last word of the row is gone, and the row with it: its line goes too.
            rows.remove(at);
        }
        let is_name = matches!(
            (file, column),
            (BOARDS_CSV, "board") | (FRONTS_CSV, "front")
        );
        match is_name && !now.is_empty() && !value.is_empty() {
            true => self.rename(file, &now, &value),
            false => Ok(()),
        }
    }

    /// What is named elsewhere goes by its new name there too.
    fn rename(&mut self, file: &str, old: &str, new: &str) -> Result<(), Refused> {
        let (edit, _) = self.table(file)?;
        let column = if file == BOARDS_CSV { "board" } else { "front" };
        let named = |name: &str| {
            let rows = 0..edit.rows();
            rows.filter(|&row| edit.cell(row, column) == name).count()
        };
        if named(old) > 0 || named(new) > 1 {
            return Ok(());
        }
        for (other, columns) in rename::places(file) {
            if self.papers.get(other).is_none_or(|p| p.text().is_none()) {
                continue;
            }
            let (edit, _) = self.table(other)?;
            for row in 0..edit.rows() {
                for column in *columns {
                    let cell = edit.cell(row, column);
                    if let Some(cell) = rename::renamed(column, &cell, old, new) {
                        edit.set(row, column, &cell);
                    }
                }
            }
        }
        Ok(())
    }

    fn add(
        &mut self,
        file: &str,
        before: Option<u64>,
        cells: &BTreeMap<String, String>,
    ) -> Result<(), Refused> {
        let mut named = Vec::new();
        for (column, value) in cells {
            named.push((self.column(file, column)?, plain(value)));
        }
        if named.iter().all(|(_, value)| value.is_empty()) {
            return Err(Refused::Unknown("a row that says nothing".to_owned()));
        }
        let number = take(self.next);
        let (edit, rows) = self.table(file)?;
        edit.append(&named);
        rows.push(number);
        self.added.push(number);
        match before {
            Some(before) => self.move_row(file, number, Some(before)),
            None => Ok(()),
        }
    }

    fn remove(&mut self, file: &str, row: u64) -> Result<(), Refused> {
        let (edit, rows) = self.table(file)?;
        let at = rows.iter().position(|number| *number == row);
        let at = at.ok_or(Refused::Gone)?;
        edit.remove(at);
        rows.remove(at);
        Ok(())
    }

    fn move_row(&mut self, file: &str, row: u64, before: Option<u64>) -> Result<(), Refused> {
        let (edit, rows) = self.table(file)?;
        let find = |wanted: u64| rows.iter().position(|number| *number == wanted);
        let at = find(row).ok_or(Refused::Gone)?;
        let to = match before {
            Some(before) => Some(find(before).ok_or(Refused::Gone)?),
            None => None,
        };
        if to == Some(at) {
            return Ok(());
        }
        edit.move_row(at, to);
        rows.remove(at);
        let to = to.map_or(rows.len(), |to| if to > at { to - 1 } else { to });
        rows.insert(to, row);
        Ok(())
    }
}

/// What a maker typed on one line: what is not seen and would act elsewhere is left out.
fn plain(text: &str) -> String {
    let blank = |c: char| match c {
        '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => ' ',
        c => c,
    };
    let seen = |c: &char| !c.is_control() && *c != '\u{feff}';
    let line: String = text.chars().map(blank).filter(seen).take(LONGEST).collect();
    line.trim().to_owned()
}
