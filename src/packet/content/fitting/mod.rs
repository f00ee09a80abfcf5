//! The fitting sheet as a part of the packet: in tables on paper, in a card a front on a screen.
//!
//! Its lengths are finer than the rest of the packet's: to 1/64 in or 0.1 mm.

mod cards;
mod columns;
mod cuts;
mod remarks;
mod tables;

use crate::fit::{self, CAUTIONS, ORDER_OF_WORK, Sheet, WEDGES};
use crate::measure::{Length, Ruler};
use crate::packet::document::{Block, Part};
use crate::packet::phrase::{Phrase, both};

/// The fitting sheet: how to go about it, then what is to be done to each front.
pub fn part(sheet: &Sheet) -> Part {
    let mut part = Part::new("fitting", "Fitting sheet");
    let sheets = Both::of(sheet);
    // What can hurt stands among the cautions; how far the figures can be trusted stands here.
    let [.., averages] = CAUTIONS;
    let head = Phrase::join(sheets.phrases(fit::head), " ");
    part.text(head.words(format!(" {averages}")));
    let mut how = vec![
        Block::Heading("Order of fitting".to_owned()),
        Block::Steps(ORDER_OF_WORK.map(Phrase::from).into()),
    ];
    if sheet.has_wedges() {
        how.push(Block::Heading("Wedges".to_owned()));
        how.extend(WEDGES.map(|words| Block::Text(words.into())));
    }
    part.blocks.push(Block::Columns(3, how));
    part.blocks.push(Block::Either {
        paper: tables::blocks(&sheets)
            .into_iter()
            .chain(remarks::blocks(&sheets))
            .collect(),
        screen: cards::blocks(&sheets),
    });
    part
}

/// One sheet, its lengths written in inches and in millimetres.
struct Both {
    inch: Sheet,
    mm: Sheet,
}

impl Both {
    fn of(sheet: &Sheet) -> Both {
        let [inch, mm] = both(sheet.ruler).map(|ruler| Sheet {
            ruler,
            ..sheet.clone()
        });
        Both { inch, mm }
    }

    /// What `write` makes of the sheet, sentence by sentence, in either unit.
    fn phrases(&self, write: impl Fn(&Sheet) -> Vec<String>) -> Vec<Phrase> {
        let pairs = write(&self.inch).into_iter().zip(write(&self.mm));
        pairs.map(|(inch, mm)| Phrase::in_units(inch, mm)).collect()
    }

    /// What is written with the ruler of either unit.
    fn say(&self, write: impl Fn(&Ruler) -> String) -> Phrase {
        Phrase::in_units(write(&self.inch.ruler), write(&self.mm.ruler))
    }

    /// A length.
    fn length(&self, length: Length) -> Phrase {
        self.say(|ruler| ruler.show(length))
    }
}

#[cfg(test)]
mod tests;
