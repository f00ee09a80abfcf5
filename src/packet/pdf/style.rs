//! How large a part is set, so that it fills its sheets: a board's marks as large as its one sheet
//! lets them be, and no sheet with only a line or two on it.

use super::blocks;
use super::flow::{Begin, Flow};
use super::paper::Paper;
use crate::packet::document::{Block, Document, Part};

/// A last sheet filled less than this looks like an oversight.
const LEAST_FILLED: f64 = 0.5;

/// How large words are set, and how far drawings give way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Sizes of words, as a share of the usual.
    pub words: f64,
    /// The share of its size that a drawing keeps when it gives way to what comes below.
    pub least_picture: f64,
    /// The share of a sheet's height that a drawing may take.
    pub most_picture: f64,
}

impl Style {
    /// As things are set when there is nothing to choose.
    pub const PLAIN: Style = Style::new(1.0, 0.75);

    const fn new(words: f64, least_picture: f64) -> Style {
        Style {
            words,
            least_picture,
            most_picture: 1.0,
        }
    }

    /// The same with drawings no higher than a share of the sheet.
    pub const fn with_low_pictures(self, most_picture: f64) -> Style {
        Style {
            most_picture,
            ..self
        }
    }

    /// The style in which a part takes the fewest sheets, none of them nearly empty, and no length
    /// of a mark is torn; the earlier in the list of its kind the better.
    pub fn of(document: &Document, paper: Paper, part: &Part) -> Style {
        let from_afar = is_read_from_afar(&part.blocks);
        let styles: &[Style] = match from_afar {
            true => &READ_FROM_AFAR,
            false => &READ_IN_HAND,
        };
        let takes = |style: &&Style| {
            let mut flow = Flow::trial(document, paper);
            blocks::add_part(&mut flow, part, **style, Begin::Anew);
            let sheets = flow.count();
            let nearly_empty = sheets > 1 && flow.filled() < LEAST_FILLED;
            (sheets, nearly_empty, if from_afar { flow.torn } else { 0 })
        };
        styles
            .iter()
            .min_by_key(takes)
            .copied()
            .unwrap_or(Style::PLAIN)
    }
}

/// How a part is set that may go on below another.
pub const GOES_ON: Style = Style::new(0.95, 0.75);

/// The same where that saves a sheet of few.
pub const SMALL: Style = Style::new(0.845, 0.75);

/// Marks are read at arm's length: nothing under ten points; what is left of the sheet is the
/// drawing's.
const READ_FROM_AFAR: [Style; 2] = [Style::new(1.16, 1.0), TIGHT];

/// The same where room is short: words ten points high.
pub const TIGHT: Style = Style::new(1.06, 1.0);

/// Words are eight points high at least.
const READ_IN_HAND: [Style; 5] = [
    Style::PLAIN,
    Style::new(0.95, 0.75),
    Style::new(1.05, 0.75),
    Style::new(1.1, 0.75),
    Style::new(1.15, 0.75),
];

/// Whether the blocks hold a table that is read at arm's length.
pub fn is_read_from_afar(blocks: &[Block]) -> bool {
    blocks.iter().any(|block| match block {
        Block::Table(table) => table.large,
        Block::Beside(groups) => groups.iter().any(|group| is_read_from_afar(group)),
        Block::Pair { left, right, .. } => is_read_from_afar(left) || is_read_from_afar(right),
        _ => false,
    })
}
