//! Where each mark of a board has its figure: below it, above it, or inside the strip it is of.

use super::band::Band;
use super::row::Label;
use super::view::View;
use crate::draw::font::Weight;
use crate::draw::fraction::stacked;
use crate::draw::shape::Rect;
use crate::draw::theme;
use crate::job::{Defect, DefectKind, DefectSide};
use crate::measure::Length;
use crate::plan::{Blank, Strip};
use crate::work::{Mark, MarkKind};

/// A mark with its number in the table.
#[derive(Clone, Debug)]
pub struct Numbered {
    /// Its number.
    pub number: usize,
    /// The line.
    pub mark: Mark,
}

/// Where the figure of a line across the board stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// Below the board.
    Below,
    /// Above it, because pieces of a lower strip lie under the line.
    Above,
    /// In its strip, between others.
    Inside,
}

/// The marks of a board, numbered as the table has them; what is kept is not chalked.
pub fn numbered(view: &View) -> Vec<Numbered> {
    let sawn = view.progress.map(|progress| progress.sawn);
    let marks = crate::work::marks(view.job, view.cut, sawn).into_iter();
    marks
        .filter(|mark| mark.kind != MarkKind::Keep)
        .enumerate()
        .map(|(index, mark)| Numbered {
            number: index + 1,
            mark,
        })
        .collect()
}

impl Numbered {
    /// Its figure.
    pub fn figure(&self, view: &View) -> String {
        let at = match self.mark.is_across() {
            true => self.mark.along.0,
            false => self.mark.across.0,
        };
        let figure = stacked(&view.ruler.show(at));
        match self.mark.done {
            true => format!("✓ {figure}"),
            false => figure,
        }
    }
}

/// Where the figure of a line across stands: where its leader crosses no piece of another strip.
pub fn spot(view: &View, mark: &Mark) -> Spot {
    let (at, (low, high)) = (mark.along.0, mark.across);
    let near = |blank: &&Blank| blank.from <= at && at <= blank.to;
    let mut others = view.blanks().filter(near);
    let mut over = view.blanks().filter(near);
    if !others.any(|blank| blank.high <= low) {
        Spot::Below
    } else if !over.any(|blank| blank.low >= high) {
        Spot::Above
    } else {
        Spot::Inside
    }
}

/// The labels of the figures that stand at `wanted`, their leaders ending at their strips.
pub fn figures(view: &View, band: &Band, marks: &[Numbered], wanted: Spot) -> Vec<Label> {
    let shown = |n: &&Numbered| n.mark.is_across() && band.shows(n.mark.along.0);
    let marks = marks.iter().filter(shown);
    let marks = marks.filter(|n| spot(view, &n.mark) == wanted);
    let label = |n: &Numbered| Label {
        number: Some(n.number),
        words: n.figure(view),
        x: band.x(n.mark.along.0),
        y: band.y(match wanted {
            Spot::Above => n.mark.across.1,
            _ => n.mark.across.0,
        }),
        size: theme::FIGURE,
        weight: Weight::Bold,
    };
    marks.map(label).collect()
}

/// The ends of sections measured from the far end, for reference: in parentheses.
pub fn references(view: &View, band: &Band) -> Vec<Label> {
    let ends = view.cut.sections.iter().flat_map(|s| [s.from, s.to]);
    let shown = ends.filter(|at| band.shows(*at));
    let label = |at: Length| Label {
        number: None,
        words: format!("({})", view.ruler.show(view.board.length - at)),
        x: band.x(at),
        y: band.y(view.board.width),
        size: theme::SMALL,
        weight: Weight::Regular,
    };
    shown.map(label).collect()
}

/// The names of defects that a leader from `side` reaches without crossing a front.
pub fn defects(view: &View, band: &Band, wanted: Spot) -> Vec<Label> {
    let labels = view.board.defects.iter().filter_map(|defect| {
        let rect = defect_rect(band, defect)?;
        let (side, x) = reached_from(view, band, defect, rect)?;
        (side == wanted).then(|| Label {
            number: None,
            words: defect_words(defect),
            x,
            y: match side {
                Spot::Above => rect.top + 1.0,
                _ => rect.bottom - 1.0,
            },
            size: theme::SMALL,
            weight: Weight::Regular,
        })
    });
    labels.collect()
}

/// The defects whose names must stand on themselves.
pub fn enclosed<'a>(view: &View<'a>, band: &Band) -> Vec<(&'a Defect, Rect)> {
    let defects = view.board.defects.iter().filter_map(|defect| {
        let rect = defect_rect(band, defect)?;
        let open = reached_from(view, band, defect, rect).is_some();
        (!open).then_some((defect, rect))
    });
    defects.collect()
}

fn defect_rect(band: &Band, defect: &Defect) -> Option<Rect> {
    band.rect((defect.from, defect.to), (defect.low, defect.high))
}

/// From where, and at which place along the sheet, a straight leader reaches a defect.
fn reached_from(view: &View, band: &Band, defect: &Defect, rect: Rect) -> Option<(Spot, f64)> {
    let over = |blank: &&Blank| blank.high > defect.low;
    let under = |blank: &&Blank| blank.low < defect.high;
    let tries = [rect.centre().x, rect.left + 1.0, rect.right - 1.0];
    let clear = |x: f64, in_way: &dyn Fn(&&Blank) -> bool| {
        let crossed = |blank: &Blank| band.x(blank.from) - 1.0 < x && x < band.x(blank.to) + 1.0;
        !view.blanks().filter(in_way).any(crossed)
    };
    let above = tries.into_iter().find(|&x| clear(x, &over));
    let below = || tries.into_iter().find(|&x| clear(x, &under));
    above
        .map(|x| (Spot::Above, x))
        .or_else(|| below().map(|x| (Spot::Below, x)))
}

/// `knot`, or `knot (under)` when it does not show on the side seen.
pub fn defect_words(defect: &Defect) -> String {
    let side = match defect.side {
        DefectSide::Down => " (under)",
        _ => "",
    };
    format!("{}{side}", defect_name(defect.kind))
}

/// Whether the waste lies towards zero from a line: something kept begins at it.
pub fn wasted_before(view: &View, mark: &Mark) -> bool {
    let sections = &view.cut.sections;
    let strips = || sections.iter().flat_map(|section| &section.strips);
    if mark.is_across() {
        let at = mark.along.0;
        let work = view.work();
        let begins = work.pieces().any(|(.., piece)| piece.from == at);
        begins || sections.iter().any(|s| s.from == at) || view.blanks().any(|b| b.from == at)
    } else {
        let at = mark.across.0;
        let begins = |strip: &Strip| strip.low == at;
        strips().any(begins) || view.blanks().any(|b| b.low == at)
    }
}

/// A defect's name.
pub fn defect_name(kind: DefectKind) -> &'static str {
    match kind {
        DefectKind::Knot => "knot",
        DefectKind::Check => "check",
        DefectKind::Split => "split",
        DefectKind::Wane => "wane",
        DefectKind::Sap => "sap",
        DefectKind::Pith => "pith",
        DefectKind::Stain => "stain",
        DefectKind::Hole => "hole",
        DefectKind::Other => "defect",
    }
}
