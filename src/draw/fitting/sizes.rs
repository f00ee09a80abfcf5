//! Sizes and gaps around a front.

use super::APART;
use super::view::View;
use crate::draw::shape::{Ink, Rect, Text};
use crate::draw::theme;
use crate::fit::{Fitted, Season};
use crate::job::Edges;
use crate::measure::{Length, Ruler};

/// Heights at the sides, the width below, the width or the crest above; and between them and the
/// front the shims (or overlaps) of today.
pub fn sizes(fitted: &Fitted, view: &View, ruler: &Ruler) -> Vec<Text> {
    let quad = &fitted.outline.quad;
    let sides = quad.sides().map(Length::from_mm);
    let top = match fitted.arch {
        Some(_) => format!("highest {}", ruler.show(fitted.height())),
        None => ruler.show(sides.top),
    };
    let words = Edges {
        top,
        ..sides.map(|side| ruler.show(side))
    };
    let mut texts = around(fitted, view, words, SIZES).to_vec();
    if fitted.opening.is_some() {
        let gaps = fitted.movement.gaps(Season::Today);
        let words = gaps.map(|gap| ruler.show(Length::from_mm(gap)));
        texts.extend(around(fitted, view, words, GAPS));
    }
    texts
}

/// How words are set around a front.
struct Setting {
    size: f64,
    ink: Ink,
    /// From the front's edge to the base line: at the left, right, top, bottom.
    away: Edges<f64>,
}

const SIZES: Setting = Setting {
    size: theme::MARK,
    ink: theme::INK,
    away: Edges {
        left: 17.0,
        right: 23.0,
        top: 18.0,
        bottom: 24.0,
    },
};

const GAPS: Setting = Setting {
    size: theme::NOTE,
    ink: theme::FAINT,
    away: Edges {
        left: APART + 2.0,
        right: APART + 8.0,
        top: APART + 3.0,
        bottom: APART + 8.0,
    },
};

/// Words at the middle of each edge, those at the sides reading upwards.
fn around(fitted: &Fitted, view: &View, words: Edges<String>, setting: Setting) -> [Text; 4] {
    let front = Rect::around(&view.polygon(&fitted.outline));
    let centre = front.centre();
    let Setting { size, ink, away } = setting;
    let text = |words: String| Text::new(words, 0.0, 0.0, size).ink(ink).middle();
    [
        text(words.left)
            .upward()
            .at(front.left - away.left, centre.y),
        text(words.right)
            .upward()
            .at(front.right + away.right, centre.y),
        text(words.top).at(centre.x, front.top - away.top),
        text(words.bottom).at(centre.x, front.bottom + away.bottom),
    ]
}
