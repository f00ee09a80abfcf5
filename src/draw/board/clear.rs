//! Room for words beside the defects of a piece, so that no word hides one.

use super::band::Band;
use super::view::View;
use crate::draw::shape::Rect;

/// Least height words are given when they move out of a defect's way.
const LEAST_HEIGHT: f64 = 12.0;

/// The largest part of `room`, between or above or below the defects in it, that is `wide` enough;
/// all of it when none is.
pub fn of_defects(view: &View, band: &Band, room: Rect, wide: f64) -> Rect {
    let defects: Vec<Rect> = view
        .board
        .defects
        .iter()
        .filter_map(|d| band.rect((d.from, d.to), (d.low, d.high)))
        .map(|rect| rect.inset(-2.0))
        .filter(|rect| rect.overlaps(&room, 0.0))
        .collect();
    if defects.is_empty() {
        return room;
    }
    let along = defects.iter().map(|d| (d.left, d.right)).collect();
    let (left, right) = widest_gap(along, (room.left, room.right));
    let across = defects.iter().map(|d| (d.top, d.bottom)).collect();
    let (top, bottom) = widest_gap(across, (room.top, room.bottom));
    let parts = [
        Rect::new(left, room.top, right, room.bottom),
        Rect::new(room.left, top, room.right, bottom),
    ];
    let area = |rect: &Rect| rect.width() * rect.height();
    let fit = parts
        .into_iter()
        .filter(|part| part.width() >= wide && part.height() >= LEAST_HEIGHT.min(room.height()));
    fit.max_by(|a, b| area(a).total_cmp(&area(b)))
        .unwrap_or(room)
}

/// The widest part of `room` with no defect above, in or below it: where no leader to one runs.
pub fn of_leaders(view: &View, band: &Band, room: Rect) -> Rect {
    let defects = view.board.defects.iter();
    let rects = defects.filter_map(|d| band.rect((d.from, d.to), (d.low, d.high)));
    let along = rects.map(|rect| (rect.left - 1.0, rect.right + 1.0));
    let (left, right) = widest_gap(along.collect(), (room.left, room.right));
    Rect::new(left, room.top, right, room.bottom)
}

/// The widest stretch of `whole` that none of the spans touches.
fn widest_gap(mut spans: Vec<(f64, f64)>, whole: (f64, f64)) -> (f64, f64) {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    spans.push((whole.1, whole.1));
    let (mut best, mut from) = ((whole.0, whole.0), whole.0);
    for (low, high) in spans {
        let to = low.min(whole.1);
        if to - from > best.1 - best.0 {
            best = (from, to);
        }
        from = from.max(high);
    }
    best
}

#[cfg(test)]
mod tests {
    use super::widest_gap;

    #[test]
    fn the_widest_gap_lies_between_the_spans() {
        let spans = vec![(60.0, 70.0), (10.0, 20.0), (15.0, 30.0)];
        assert_eq!(widest_gap(spans, (0.0, 75.0)), (30.0, 60.0));
        assert_eq!(widest_gap(vec![(-5.0, 50.0)], (0.0, 75.0)), (50.0, 75.0));
        assert_eq!(widest_gap(vec![(-5.0, 90.0)], (0.0, 75.0)), (0.0, 0.0));
    }
}
