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
    let mut part = Part::new("fitting", "Fitting sheet");
    let [inch, mm] = both(sheet.ruler).map(|ruler| Sheet {
        ruler,
        ..sheet.clone()
    });
    let sheets = Both { inch, mm };
    for words in sheets.phrases(fit::head) {
        part.text(words);
    }
    let everywhere = sheets.phrases(fit::everywhere);
    if !everywhere.is_empty() {
        part.heading("Look again, on every front");
        everywhere
            .iter()
            .for_each(|words| part.text(words.clone().as_sentence()));
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
    for fitted in &sheet.fronts {
        front(&mut part, &sheets, fitted, &everywhere);
    }
    part
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

    fn length(&self, mm: f64) -> Phrase {
        let length = Length::from_mm(mm);
        let [inch, mm] = [&self.inch, &self.mm].map(|sheet| sheet.ruler.show(length));
        Phrase::in_units(inch, mm)
    }
}

fn front(part: &mut Part, sheets: &Both, fitted: &Fitted, everywhere: &[Phrase]) {
    let title = format!("{}. {}", fitted.front + 1, fitted.name);
    let [inch, mm] = [&sheets.inch, &sheets.mm].map(|sheet| draw::front(sheet, fitted));
    let picture = Picture {
        inch,
        mm,
        heights: Vec::new(),
    };
    let labels = lines(&sheets.inch, fitted)
        .into_iter()
        .map(|(label, _)| label.to_owned());
    let sentences = |sheet: &Sheet| {
        let lines = lines(sheet, fitted).into_iter();
        lines.map(|(_, words)| words).collect()
    };
    let told = labels.zip(sheets.phrases(sentences));
    let told = told.filter(|(_, words)| !everywhere.contains(words));
    part.blocks.push(Block::Pair {
        left: vec![Block::Heading(title), Block::Picture(picture)],
        right: vec![Block::Lines(told.collect())],
        share: 0.34,
    });
    if let Some(arch) = &fitted.arch {
        part.table(curve(sheets, &fitted.name, &arch.ordinates));
    }
}

/// Reads one figure of an ordinate.
type Tell = fn(&Ordinate) -> f64;

/// The heights of a curve, as a person strikes them: along the board, not down the sheet.
fn curve(sheets: &Both, name: &str, ordinates: &[Ordinate]) -> Table {
    const A_ROW: usize = 8;
    let mut rows = Vec::new();
    let tell: [(&str, Tell); 3] = [
        ("from the arch's middle", |o| o.from_centre),
        ("from the left corner", |o| o.from_left),
        ("height", |o| o.height),
    ];
    for some in ordinates.chunks(A_ROW) {
        for (what, of) in tell {
            let mut row = vec![Phrase::from(what)];
            row.extend(some.iter().map(|ordinate| sheets.length(of(ordinate))));
            row.resize(A_ROW + 1, Phrase::default());
            rows.push(row);
        }
    }
    let mut columns = vec![Column::words("")];
    columns.resize(A_ROW + 1, Column::figures(""));
    Table {
        caption: format!("Heights of the curve over {name}"),
        columns,
        rows,
        large: false,
    }
}
