//! The cabinetmaker's triangle across each stretch: whoever can put the triangle together again
//! has the pieces in their order, the right way up.
//!
//! Common practice, no source: it points to the top of the work, its base along the bottom. It
//! is drawn over a stretch's finished fronts; of a glued front each stave bears its own slice,
//! stave 1 being the top one (the left one when the grain is vertical).

use super::band::Band;
use super::view::{View, upright};
use crate::draw::shape::{Point, Rect};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Grain;
use crate::plan::{Blank, End, Strip};

/// The triangle's sides in a unit square: left to right, bottom to top.
const SIDES: [[(f64, f64); 2]; 3] = [
    [(0.0, 0.0), (1.0, 0.0)],
    [(0.0, 0.0), (0.5, 1.0)],
    [(1.0, 0.0), (0.5, 1.0)],
];

/// Draws the triangles of every stretch on the board, as far as `band` shows them.
pub fn draw(drawing: &mut Drawing, view: &View, band: &Band) {
    let strips = view.cut.sections.iter().flat_map(|s| &s.strips);
    for stretch in strips.flat_map(|strip| stretches(view, strip)) {
        draw_one(drawing, view, band, stretch);
    }
}

/// The blanks of a strip, parted into stretches.
pub fn stretches<'a>(view: &View, strip: &'a Strip) -> Vec<&'a [Blank]> {
    let key = |b: &Blank| (view.job.place_of(b.front).0, b.stretch, b.stave);
    strip.blanks.chunk_by(|a, b| key(a) == key(b)).collect()
}

fn draw_one(drawing: &mut Drawing, view: &View, band: &Band, stretch: &[Blank]) {
    let (Some(first), Some(last)) = (stretch.first(), stretch.last()) else {
        return;
    };
    let frame = Rect::new(
        band.x(first.from),
        band.y(first.high),
        band.x(last.to),
        band.y(first.low),
    )
    .inset(2.5);
    let grain = view.front(first).grain;
    for side in SIDES {
        let Some(side) = slice(side, view.stave_span(first), grain) else {
            continue;
        };
        let [a, b] = side.map(|corner| on_board(corner, frame, first, grain));
        if let Some((a, b)) = band.clip(a, b) {
            drawing.line(a, b, theme::THIN, theme::TRIANGLE);
        }
    }
}

/// The part of a side that falls on one stave, in the stave's own unit square; `span` is the part
/// of the front that the stave makes.
fn slice(side: [(f64, f64); 2], (from, to): (f64, f64), grain: Grain) -> Option<[(f64, f64); 2]> {
    let (low, high) = match grain {
        Grain::Horizontal => (1.0 - to, 1.0 - from),
        Grain::Vertical => (from, to),
    };
    // The coordinate across the staves first.
    let turned = side.map(|(u, v)| match grain {
        Grain::Horizontal => (v, u),
        Grain::Vertical => (u, v),
    });
    let [a, b] = turned;
    if a.0.max(b.0) < low || a.0.min(b.0) > high {
        return None;
    }
    let cut = |p: (f64, f64)| {
        let at = p.0.clamp(low, high);
        let along = if a.0 == b.0 {
            p.1
        } else {
            a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0)
        };
        ((at - low) / (high - low), along)
    };
    Some([cut(a), cut(b)].map(|(across, along)| match grain {
        Grain::Horizontal => (along, across),
        Grain::Vertical => (across, along),
    }))
}

/// A point of the front's unit square, as the front lies on the board.
fn on_board((right, up): (f64, f64), frame: Rect, blank: &Blank, grain: Grain) -> Point {
    let from_hook = |share: f64| match blank.left {
        End::Hook => frame.left + share * frame.width(),
        End::Far => frame.right - share * frame.width(),
    };
    let from_near = |share: f64| frame.bottom - share * frame.height();
    match (grain, upright(blank)) {
        (Grain::Horizontal, true) => Point::new(from_hook(right), from_near(up)),
        (Grain::Horizontal, false) => Point::new(from_hook(right), from_near(1.0 - up)),
        (Grain::Vertical, true) => Point::new(from_hook(up), from_near(1.0 - right)),
        (Grain::Vertical, false) => Point::new(from_hook(up), from_near(right)),
    }
}
