//! The fitting sheet as a part of the packet.

use crate::draw;
use crate::fit::{CAUTIONS, Fitted, ORDER_OF_WORK, Sheet, lines};
use crate::measure::{Length, Ruler, Unit};
use crate::packet::document::{Block, Column, Part, Picture, Table};
use crate::packet::phrase::Phrase;

/// The fitting sheet: drawings of all fronts, then what to do to each.
///
/// Its lengths are finer than the rest of the packet's, to 1/64 in or 0.1 mm, and in the job's
/// unit alone.
pub fn fitting(sheet: &Sheet) -> Part {
    let mut part = Part::new("fitting", "Fitting sheet");
    part.text(match sheet.ruler.unit {
        Unit::Inch => {
            "Sizes in inches, to the nearest 1/64. Left and right as seen from the front."
        }
        Unit::Mm => "Sizes in millimetres, to 0.1. Left and right as seen from the front.",
    });
    for page in 0..draw::fitting(sheet).len() {
        let picture = Picture::of(sheet.ruler, |ruler| drawn_in(sheet, ruler, page));
        part.blocks.push(Block::Picture(picture));
    }
    part.heading("Order of work");
    part.steps(ORDER_OF_WORK.map(Phrase::from).into());
    for fitted in &sheet.fronts {
        front(&mut part, sheet, fitted);
    }
    for words in CAUTIONS {
        part.blocks.push(Block::Caution {
            title: "Fitting".to_owned(),
            words: words.to_owned(),
        });
    }
    part
}

/// One page of drawings with its lengths in the ruler's unit.
fn drawn_in(sheet: &Sheet, ruler: Ruler, page: usize) -> draw::Drawing {
    let sheet = Sheet {
        ruler: Ruler {
            fraction: sheet.ruler.fraction,
            ..ruler
        },
        ..sheet.clone()
    };
    draw::fitting(&sheet).swap_remove(page)
}

fn front(part: &mut Part, sheet: &Sheet, fitted: &Fitted) {
    part.heading(format!("{}  {}", fitted.front + 1, fitted.name));
    let rows = lines(sheet, fitted);
    let figures = rows
        .into_iter()
        .map(|(label, words)| (label.to_owned(), Phrase::from(words)));
    part.blocks.push(Block::Figures(figures.collect()));
    let Some(arch) = &fitted.arch else {
        return;
    };
    let show = |mm: f64| Phrase::from(sheet.ruler.show(Length::from_mm(mm)));
    part.table(Table {
        caption: format!("Heights of the curve over {}", fitted.name),
        columns: [
            "from the arch's centre line",
            "from the left corner",
            "height",
        ]
        .map(Column::figures)
        .into(),
        rows: arch
            .ordinates
            .iter()
            .map(|o| vec![show(o.from_centre), show(o.from_left), show(o.height)])
            .collect(),
        large: false,
    });
}
