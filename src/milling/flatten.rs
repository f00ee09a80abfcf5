//! How much thickness flattening a warped piece takes.

use crate::job::{Board, Front};
use crate::measure::Length;

/// Thickness lost when a piece `long` by `wide`, cut from `board`, is flattened.
///
/// The slab between two parallel planes inside a curved slab of even thickness loses the
/// peak-to-peak height of its face. Bow and cup are taken as circular, so their height goes
/// with the square of the span; twist is a hyperbolic paraboloid, so its height goes with the
/// product: `bow (l/L)^2 + cup (w/W)^2 + twist (l/L)(w/W)`.
pub fn flattening_loss(board: &Board, long: Length, wide: Length) -> Length {
    let along = long.nm() as f64 / board.length.nm() as f64;
    let across = wide.nm() as f64 / board.width.nm() as f64;
    let loss = board.bow.nm() as f64 * along * along
        + board.cup.nm() as f64 * across * across
        + board.twist.nm() as f64 * along * across;
    Length::from_nm(loss.ceil() as i64)
}

/// Whether a piece `long` by `wide` of `board` still holds `front` after flattening and a final
/// skim of `plane` off each face.
pub fn flat_enough(
    board: &Board,
    front: &Front,
    plane: Length,
    long: Length,
    wide: Length,
) -> bool {
    board.thickness - flattening_loss(board, long, wide) >= front.thickness + plane * 2
}
