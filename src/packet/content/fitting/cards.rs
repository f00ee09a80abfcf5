//! A card a front for the screen: its drawing beside what to do to it.

use super::Both;
use crate::draw;
use crate::fit::{Fitted, Ordinate, Sheet, lines};
use crate::measure::Length;
use crate::packet::document::{Block, Column, Picture, Table};
use crate::packet::phrase::Phrase;

/// What is the same on every front and on several, then a card for each.
pub fn blocks(sheets: &Both) -> Vec<Block> {
    let sheet = &sheets.inch;
    let told: Vec<Vec<Told>> = sheet.fronts.iter().map(|f| sheets.told(f)).collect();
    let everywhere = common(&told);
    let mut blocks = Vec::new();
    if !everywhere.is_empty() {
        blocks.push(Block::Heading("The same on every front".to_owned()));
        blocks.push(Block::Lines(paragraphs(&everywhere)));
    }
    let several = shared(sheet, &told, &everywhere);
    if !several.is_empty() {
        blocks.push(Block::Heading("The same on several fronts".to_owned()));
        let lines = several.iter().map(|(names, one)| {
            let words = Phrase::from(format!("{}: ", names.join(", ")));
            (one.label.clone(), words.and(one.words.clone()))
        });
        blocks.push(Block::Lines(lines.collect()));
    }
    for (fitted, told) in sheet.fronts.iter().zip(told) {
        let said = || everywhere.iter().chain(several.iter().map(|(_, one)| one));
        let is_own = |one: &Told| !said().any(|other| same(one, other));
        let own = told.into_iter().filter(is_own);
        blocks.extend(front(sheets, fitted, &own.collect::<Vec<Told>>()));
    }
    blocks
}

/// A sentence, which line of a front it belongs to, and the label of that line.
#[derive(Clone, Debug, PartialEq)]
struct Told {
    line: usize,
    label: String,
    words: Phrase,
}

fn same(one: &Told, other: &Told) -> bool {
    (&one.label, &one.words) == (&other.label, &other.words)
}

/// Sentences that are the same on every front of several.
fn common(all: &[Vec<Told>]) -> Vec<Told> {
    let (Some(first), true) = (all.first(), all.len() > 1) else {
        return Vec::new();
    };
    let on_all = |one: &&Told| {
        all.iter()
            .all(|told| told.iter().any(|other| same(one, other)))
    };
    first.iter().filter(on_all).cloned().collect()
}

/// What the seasons do and what is to be looked at again, where it is the same on some fronts, with
/// their names: it is read before the work, not at the saw.
fn shared(sheet: &Sheet, all: &[Vec<Told>], everywhere: &[Told]) -> Vec<(Vec<String>, Told)> {
    const LABELS: [&str; 3] = ["Driest", "Dampest", "LOOK AGAIN"];
    let mut groups: Vec<(Vec<String>, Told)> = Vec::new();
    for (fitted, told) in sheet.fronts.iter().zip(all) {
        let open = told
            .iter()
            .filter(|one| LABELS.contains(&one.label.as_str()));
        for one in open.filter(|one| !everywhere.iter().any(|other| same(one, other))) {
            match groups.iter_mut().find(|(_, other)| same(one, other)) {
                Some((names, _)) => names.push(fitted.name.clone()),
                None => groups.push((vec![fitted.name.clone()], one.clone())),
            }
        }
    }
    groups.retain(|(names, _)| names.len() > 1);
    groups.sort_by_key(|(_, one)| LABELS.iter().position(|label| *label == one.label));
    groups
}

/// Sentences gathered into lines again.
fn paragraphs(told: &[Told]) -> Vec<(String, Phrase)> {
    let lines = told.chunk_by(|a, b| a.line == b.line);
    let paragraph = |line: &[Told]| {
        let words = line.iter().map(|one| one.words.clone());
        let words = Phrase::join(words, " ").as_sentence();
        Some((line.first()?.label.clone(), words))
    };
    lines.filter_map(paragraph).collect()
}

impl Both {
    /// All there is to do to one front, sentence by sentence.
    fn told(&self, fitted: &Fitted) -> Vec<Told> {
        let (inch, mm) = (lines(&self.inch, fitted), lines(&self.mm, fitted));
        let mut told = Vec::new();
        for (line, ((label, inch), (_, mm))) in inch.into_iter().zip(mm).enumerate() {
            let pairs = sentences(&inch).into_iter().zip(sentences(&mm));
            told.extend(pairs.map(|(inch, mm)| Told {
                line,
                label: label.to_owned(),
                words: Phrase::in_units(inch, mm),
            }));
        }
        told
    }
}

fn front(sheets: &Both, fitted: &Fitted, told: &[Told]) -> Vec<Block> {
    let title = format!("{}. {}", fitted.front + 1, fitted.name);
    let [inch, mm] = [&sheets.inch, &sheets.mm].map(|sheet| draw::front(sheet, fitted));
    let picture = Picture {
        inch,
        mm,
        narrow: None,
        heights: Vec::new(),
    };
    let card = Block::Pair {
        left: vec![Block::Heading(title), Block::Picture(picture)],
        right: vec![Block::Lines(paragraphs(told))],
        share: 0.34,
    };
    let curve = fitted.arch.as_ref().map(|arch| {
        let table = curve(sheets, &fitted.name, &arch.ordinates);
        Block::Table(table)
    });
    std::iter::once(card).chain(curve).collect()
}

/// Words parted after each full stop that a space follows.
fn sentences(words: &str) -> Vec<String> {
    words
        .split_inclusive(". ")
        .map(|s| s.trim_end().to_owned())
        .collect()
}

/// The heights of a curve, as a person strikes them, from one end to the other.
fn curve(sheets: &Both, name: &str, ordinates: &[Ordinate]) -> Table {
    let row = |ordinate: &Ordinate| {
        let figures = [ordinate.from_centre, ordinate.from_left, ordinate.height];
        figures
            .map(|figure| sheets.length(Length::from_mm(figure)))
            .to_vec()
    };
    Table {
        caption: format!("Heights of the curve over {name}"),
        columns: ["from the arch's middle", "from the left corner", "height"]
            .map(Column::figures)
            .to_vec(),
        rows: ordinates.iter().map(row).collect(),
        ..Table::default()
    }
}
