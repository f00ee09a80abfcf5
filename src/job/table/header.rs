//! The first row of a table: which column stands where.

use std::sync::Arc;

use super::scan::RawCell;
use super::{TableTrouble, trouble};
use crate::job::fault::{Fault, Faults, Place, Source, nearest};

/// The columns a table may have.
#[derive(Clone, Copy, Debug)]
pub struct Columns {
    /// Those it must have.
    pub required: &'static [&'static str],
    /// Those it may have.
    pub optional: &'static [&'static str],
}

/// The known columns of a file, each at its position.
#[derive(Debug, Default)]
pub(super) struct Header {
    names: Vec<Option<&'static str>>,
}

impl Columns {
    /// All of them, those it must have first.
    pub fn all(&self) -> impl Iterator<Item = &'static str> {
        self.required.iter().chain(self.optional).copied()
    }

    /// The column a text names, in any case.
    pub fn find(&self, written: &str) -> Option<&'static str> {
        let written = written.to_lowercase().replace([' ', '-'], "_");
        self.all().find(|name| *name == written)
    }
}

impl Header {
    pub(super) fn read(
        source: &Arc<Source>,
        cells: &[RawCell],
        columns: &Columns,
        faults: &mut Faults,
    ) -> Header {
        let mut header = Header::default();
        for (position, cell) in cells.iter().enumerate() {
            let place = Place::span_of(source, cell.span.clone());
            let place = place.named(&format!("column {}", position + 1), &cell.text);
            let name = header.name_of(cell, columns);
            let name = faults.keep(name.map_err(|trouble| Fault::new(place, trouble)));
            header.names.push(name.flatten());
        }
        header.check_required(source, cells, columns, faults);
        header
    }

    /// The column a header cell names; nothing for an empty one.
    fn name_of(
        &self,
        cell: &RawCell,
        columns: &Columns,
    ) -> Result<Option<&'static str>, TableTrouble> {
        if cell.text.is_empty() {
            return Ok(None);
        }
        let Some(name) = columns.find(&cell.text) else {
            return Err(TableTrouble::UnknownColumn {
                nearest: nearest(&cell.text, columns.all()),
                known: trouble::list(columns.all()),
            });
        };
        if self.position(name).is_some() {
            return Err(TableTrouble::RepeatedColumn);
        }
        Ok(Some(name))
    }

    fn check_required(
        &self,
        source: &Arc<Source>,
        cells: &[RawCell],
        columns: &Columns,
        faults: &mut Faults,
    ) {
        let whole = match (cells.first(), cells.last()) {
            (Some(first), Some(last)) => first.span.start..last.span.end,
            _ => 0..0,
        };
        for name in columns.required {
            if self.position(name).is_none() {
                let place = Place::span_of(source, whole.clone()).named(name, "");
                faults.push(Fault::new(place, TableTrouble::MissingColumn { name }));
            }
        }
    }

    pub(super) fn position(&self, name: &str) -> Option<usize> {
        self.names.iter().position(|known| *known == Some(name))
    }

    /// The known column at each position.
    pub(super) fn names(&self) -> &[Option<&'static str>] {
        &self.names
    }

    pub(super) fn len(&self) -> usize {
        self.names.len()
    }
}
