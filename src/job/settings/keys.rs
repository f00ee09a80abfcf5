//! The keys of one table of `job.toml`, each read once into its slot.

use std::collections::BTreeMap;
use std::ops::{Range, RangeInclusive};
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::Section;
use super::trouble::KeyTrouble;
use crate::job::choice::Choice;
use crate::job::fault::{Fault, Faults, Place, Source, Trouble, nearest};
use crate::job::table::Cell;
use crate::measure::{Length, Ruler, Unit};

/// The keys of one table. Whatever a section asks for is known; the rest is
/// reported as unknown.
pub struct Keys<'a> {
    source: &'a Arc<Source>,
    /// `[allowances]`, or nothing at the top.
    section: String,
    left: BTreeMap<&'a str, (Range<usize>, &'a Spanned<DeValue<'a>>)>,
    asked: Vec<&'static str>,
    places: BTreeMap<&'static str, Place>,
    /// The section as a whole.
    own: Place,
    unit: Unit,
    faults: &'a mut Faults,
}

/// A value as it is written, cell by cell.
#[derive(Clone, Debug)]
pub enum Cells {
    /// One value.
    One(Cell),
    /// A list: `["4/4", "5/4"]`.
    List(Vec<Cell>),
    /// A table of names and values: `{ "4/4" = 9.5 }`.
    Named(Vec<(Cell, Cell)>),
}

impl<'a> Keys<'a> {
    pub(super) fn new(
        source: &'a Arc<Source>,
        section: &str,
        table: &'a DeTable<'a>,
        unit: Unit,
        faults: &'a mut Faults,
    ) -> Keys<'a> {
        let left = table
            .iter()
            .map(|(key, value)| (key.get_ref().as_ref(), (key.span(), value)))
            .collect();
        Keys {
            source,
            section: section.to_owned(),
            left,
            asked: Vec::new(),
            places: BTreeMap::new(),
            own: Place::file_of(source),
            unit,
            faults,
        }
    }

    /// Bare numbers of the keys read from now on are in `unit`.
    pub(super) fn set_unit(&mut self, unit: Unit) {
        self.unit = unit;
    }

    /// Text.
    pub fn text(&mut self, key: &'static str, slot: &mut String) {
        self.put(key, slot, "text between quotation marks", |value, _| {
            value.as_str().map(|text| Ok(text.to_owned()))
        });
    }

    /// `true` or `false`.
    pub fn yes_no(&mut self, key: &'static str, slot: &mut bool) {
        self.put(key, slot, "true or false", |value, _| {
            value.as_bool().map(Ok)
        });
    }

    /// A length of zero or more, as text (`"1/8"`) or as a plain number in the job's unit.
    pub fn length(&mut self, key: &'static str, slot: &mut Length) {
        self.put(key, slot, a_length(self.unit), |_, cell| {
            Some(cell?.distance())
        });
    }

    /// A length above zero.
    pub fn size(&mut self, key: &'static str, slot: &mut Length) {
        self.put(key, slot, a_length(self.unit), |_, cell| Some(cell?.size()));
    }

    /// A length above zero, or `"none"`.
    pub fn size_or_none(&mut self, key: &'static str, slot: &mut Option<Length>) {
        let expected = "a length such as \"24\", or \"none\"";
        self.put(key, slot, expected, |_, cell| {
            let cell = cell?;
            Some(match cell.text() {
                "none" => Ok(None),
                _ => cell.size().map(Some),
            })
        });
    }

    /// A number within a range; between quotation marks with a decimal point or comma.
    pub fn number(&mut self, key: &'static str, range: RangeInclusive<f64>, slot: &mut f64) {
        self.put(key, slot, "a number", |_, cell| Some(cell?.number(range)));
    }

    /// A whole number within a range.
    pub fn whole(&mut self, key: &'static str, range: RangeInclusive<i64>, slot: &mut i64) {
        self.put(key, slot, "a whole number", |value, cell| {
            value.is_integer().then_some(())?;
            Some(cell?.whole(range))
        });
    }

    /// One of a closed set of words.
    pub fn choice<T: Choice>(&mut self, key: &'static str, slot: &mut T) {
        self.put(
            key,
            slot,
            "a word between quotation marks",
            |value, cell| {
                value.is_str().then_some(())?;
                Some(cell?.choice())
            },
        );
    }

    /// A value written as text or a number, read by `read`.
    pub fn value<T>(
        &mut self,
        key: &'static str,
        expected: &'static str,
        slot: &mut T,
        read: impl FnOnce(&Cell) -> Result<T, Fault>,
    ) {
        self.put(key, slot, expected, |_, cell| Some(read(cell?)));
    }

    /// A list of words.
    pub fn words(&mut self, key: &'static str, slot: &mut Vec<String>) {
        let expected = "a list such as [\"D1\", \"D2\"]";
        self.put(key, slot, expected, |value, _| {
            let words = value.as_array()?.iter();
            let words = words.map(|word| Some(word.get_ref().as_str()?.to_owned()));
            Some(Ok(words.collect::<Option<_>>()?))
        });
    }

    /// Any number of tables of one name: `[[arch]]`.
    pub fn sections<S: Section + Default>(&mut self, slot: &mut Vec<S>) {
        let Some((_, value)) = self.take(S::NAME) else {
            return;
        };
        let tables: Option<Vec<_>> = match value.get_ref() {
            DeValue::Array(array) => array
                .iter()
                .map(|one| Some((one.span(), one.get_ref().as_table()?)))
                .collect(),
            DeValue::Table(table) => Some(vec![(value.span(), table)]),
            _ => None,
        };
        let Some(tables) = tables else {
            let place = self.place(S::NAME, value);
            let trouble = KeyTrouble::NotATable { name: S::NAME };
            self.faults.push(Fault::new(place, trouble));
            return;
        };
        for (span, table) in tables {
            let mut one = S::default();
            self.read_section(&mut one, span, table);
            slot.push(one);
        }
    }

    fn read_section<S: Section>(
        &mut self,
        slot: &mut S,
        span: Range<usize>,
        table: &'a DeTable<'a>,
    ) {
        let name = format!("[{}]", S::NAME);
        let mut keys = Keys::new(self.source, &name, table, self.unit, self.faults);
        keys.own = Place::span_of(self.source, span).named(&name, "");
        slot.read(&mut keys);
        keys.finish();
    }

    /// A table below this one.
    pub fn section<S: Section>(&mut self, slot: &mut S) {
        let Some((_, value)) = self.take(S::NAME) else {
            return;
        };
        let Some(table) = value.get_ref().as_table() else {
            let place = self.place(S::NAME, value);
            self.faults
                .push(Fault::new(place, KeyTrouble::NotATable { name: S::NAME }));
            return;
        };
        self.read_section(slot, value.span(), table);
    }

    /// Reports every key nobody asked for.
    pub(super) fn finish(self) {
        for (key, (span, _)) in self.left {
            let trouble = KeyTrouble::Unknown {
                nearest: nearest(key, self.asked.iter().copied()),
                known: self.asked.join(", "),
            };
            let place = Place::span_of(self.source, span);
            let place = place.named(&label(&self.section, "key"), key);
            self.faults.push(Fault::new(place, trouble));
        }
    }

    /// A fault at a key of this section, for checks between keys; at the section when the key
    /// is not written.
    pub fn fault_at(&mut self, key: &'static str, trouble: impl Trouble + 'static) {
        let place = self.place_of(key);
        self.faults.push(Fault::new(place, trouble));
    }

    /// Where a key of this section stands; the section itself when the key is not written.
    pub fn place_of(&self, key: &'static str) -> Place {
        self.places.get(key).unwrap_or(&self.own).clone()
    }

    /// Whether a key read before was written.
    pub fn has(&self, key: &'static str) -> bool {
        self.places.contains_key(key)
    }

    /// A value in whatever shape it is written; `expected` is told when it is of another kind.
    pub fn cells(&mut self, key: &'static str, expected: &'static str) -> Option<Cells> {
        let (_, value) = self.take(key)?;
        let place = self.place(key, value);
        self.places.insert(key, place);
        let cells = match value.get_ref() {
            DeValue::Array(values) => {
                let cells = values.iter().map(|value| self.cell(key, value));
                cells.collect::<Option<_>>().map(Cells::List)
            }
            DeValue::Table(table) => {
                let pairs = table.iter().map(|(name, value)| {
                    let place = Place::span_of(self.source, name.span());
                    let place = place.named(&label(&self.section, key), name.get_ref());
                    let name = Cell::new(place, self.unit, true);
                    Some((name, self.cell(key, value)?))
                });
                pairs.collect::<Option<_>>().map(Cells::Named)
            }
            _ => self.cell(key, value).map(Cells::One),
        };
        if cells.is_none() {
            self.wrong_kind(key, expected);
        }
        cells
    }

    /// A list of lists of names, one written by itself being a list of one.
    pub fn rows(&mut self, key: &'static str, expected: &'static str) -> Option<Vec<Vec<Cell>>> {
        let (_, value) = self.take(key)?;
        let place = self.place(key, value);
        self.places.insert(key, place);
        let name = |value: &Spanned<DeValue<'_>>| match value.get_ref() {
            DeValue::String(_) => self.cell(key, value),
            _ => None,
        };
        let row = |value: &'a Spanned<DeValue<'a>>| match value.get_ref() {
            DeValue::Array(names) => names.iter().map(name).collect(),
            _ => name(value).map(|name| vec![name]),
        };
        let rows = value.get_ref().as_array();
        let rows = rows.and_then(|rows| rows.iter().map(row).collect());
        if rows.is_none() {
            self.wrong_kind(key, expected);
        }
        rows
    }

    fn cell(&self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Cell> {
        let text = written(value.get_ref())?;
        let place = self.place(key, value);
        let place = place.named(&label(&self.section, key), text);
        Some(Cell::new(place, self.unit, value.get_ref().is_str()))
    }

    /// A fault at a key read before: its value is of the wrong kind.
    pub fn wrong_kind(&mut self, key: &'static str, expected: &'static str) {
        self.fault_at(key, KeyTrouble::WrongKind { expected });
    }

    /// The value of a result; its fault is told with the others.
    pub fn keep<T>(&mut self, result: Result<T, Fault>) -> Option<T> {
        self.faults.keep(result)
    }

    /// The unit of bare numbers.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// How lengths are shown in messages.
    pub fn ruler(&self) -> Ruler {
        Ruler::of(self.unit)
    }

    /// Reads one key into its slot; `read` gives nothing when the value is of another kind.
    fn put<T>(
        &mut self,
        key: &'static str,
        slot: &mut T,
        expected: &'static str,
        read: impl FnOnce(&DeValue<'a>, Option<&Cell>) -> Option<Result<T, Fault>>,
    ) {
        let Some((_, value)) = self.take(key) else {
            return;
        };
        let place = self.place(key, value);
        self.places.insert(key, place.clone());
        let written = written(value.get_ref());
        let cell = written.map(|text| {
            let place = place.clone().named(&label(&self.section, key), text);
            Cell::new(place, self.unit, value.get_ref().is_str())
        });
        let wrong = || Err(Fault::new(place, KeyTrouble::WrongKind { expected }));
        let result = read(value.get_ref(), cell.as_ref()).unwrap_or_else(wrong);
        if let Some(value) = self.faults.keep(result) {
            *slot = value;
        }
    }

    fn take(&mut self, key: &'static str) -> Option<(Range<usize>, &'a Spanned<DeValue<'a>>)> {
        self.asked.push(key);
        self.left.remove(key)
    }

    fn place(&self, key: &str, value: &Spanned<DeValue<'_>>) -> Place {
        let text = self.source.text().get(value.span()).unwrap_or("");
        Place::span_of(self.source, value.span()).named(&label(&self.section, key), text)
    }
}

fn a_length(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "a length such as \"1/8\"",
        Unit::Mm => "a length such as 3",
    }
}

fn label(section: &str, key: &str) -> String {
    format!("{section} {key}").trim_start().to_owned()
}

/// The text of a value that may be read like a cell.
fn written<'v>(value: &'v DeValue<'_>) -> Option<&'v str> {
    match value {
        DeValue::String(text) => Some(text),
        DeValue::Integer(number) => Some(number.as_str()),
        DeValue::Float(number) => Some(number.as_str()),
        _ => None,
    }
}
