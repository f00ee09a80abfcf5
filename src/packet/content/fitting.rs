//! The fitting sheet as a part of the packet.

use crate::draw;
use crate::fit::{self, CAUTIONS, Fitted, ORDER_OF_WORK, Ordinate, Sheet, WEDGES, lines};
use crate::measure::Length;
use crate::packet::document::{Block, Column, Part, Picture, Table};
use crate::packet::phrase::{Phrase, both};

/// The fitting sheet: how to go about it, then a block for each front, its drawing beside what to
/// do to it.
///
/// Its lengths are finer than the rest of the packet's: to 1/64 in or 0.1 mm.
pub fn part(sheet: &Sheet) -> Part {
    let mut part = Part {
        columns: 4,
        ..Part::new("fitting", "Fitting sheet")
    };
    let [inch, mm] = both(sheet.ruler).map(|ruler| Sheet {
        ruler,
        ..sheet.clone()
    });
    let sheets = Both { inch, mm };
    for words in sheets.phrases(fit::head) {
        part.text(words);
    }
    let told: Vec<Vec<Told>> = sheet.fronts.iter().map(|f| sheets.told(f)).collect();
    let everywhere = common(&told);
    if !everywhere.is_empty() {
        part.heading("The same on every front");
        part.blocks.push(Block::Lines(paragraphs(&everywhere)));
    }
    let several = shared(sheet, &told, &everywhere);
    if !several.is_empty() {
        part.heading("The same on several fronts");
        let lines = several.iter().map(|(names, one)| {
            let words = Phrase::from(format!("{}: ", names.join(", ")));
            (one.label.clone(), words.and(one.words.clone()))
        });
        part.blocks.push(Block::Lines(lines.collect()));
    }
    part.heading("Order of work");
    part.steps(ORDER_OF_WORK.map(Phrase::from).into());
    if sheet.has_wedges() {
        part.heading("Wedges");
        for words in WEDGES {
            part.text(words);
        }
    }
    part.heading("Mind");
    for words in CAUTIONS {
        part.text(words);
    }
    for (fitted, told) in sheet.fronts.iter().zip(told) {
        let said = || everywhere.iter().chain(several.iter().map(|(_, one)| one));
        let is_own = |one: &Told| !said().any(|other| same(one, other));
        let own = told.into_iter().filter(is_own);
        front(&mut part, &sheets, fitted, &own.collect::<Vec<Told>>());
    }
    part
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

/// One sheet, its lengths written in inches and in millimetres.
struct Both {
    inch: Sheet,
    mm: Sheet,
}

impl Both {
    /// What `write` makes of the sheet, sentence by sentence, in either unit.
    fn phrases(&self, write: impl Fn(&Sheet) -> Vec<String>) -> Vec<Phrase> {
        let pairs = write(&self.inch).into_iter().zip(write(&self.mm));
        pairs.map(|(inch, mm)| Phrase::in_units(inch, mm)).collect()
    }

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

    fn length(&self, mm: f64) -> Phrase {
        let length = Length::from_mm(mm);
        let [inch, mm] = [&self.inch, &self.mm].map(|sheet| sheet.ruler.show(length));
        Phrase::in_units(inch, mm)
    }
}

fn front(part: &mut Part, sheets: &Both, fitted: &Fitted, told: &[Told]) {
    let title = format!("{}. {}", fitted.front + 1, fitted.name);
    let [inch, mm] = [&sheets.inch, &sheets.mm].map(|sheet| draw::front(sheet, fitted));
    let picture = Picture {
        inch,
        mm,
        narrow: None,
        heights: Vec::new(),
    };
    part.blocks.push(Block::Pair {
        left: vec![Block::Heading(title), Block::Picture(picture)],
        right: vec![Block::Lines(paragraphs(told))],
        share: 0.34,
    });
    if let Some(arch) = &fitted.arch {
        part.table(curve(sheets, &fitted.name, &arch.ordinates));
    }
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
        figures.map(|figure| sheets.length(figure)).to_vec()
    };
    Table {
        caption: format!("Heights of the curve over {name}"),
        columns: ["from the arch's middle", "from the left corner", "height"]
            .map(Column::figures)
            .to_vec(),
        rows: ordinates.iter().map(row).collect(),
        large: false,
    }
}
