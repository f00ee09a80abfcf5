//! From blanks' starts to the lengths they take.

use crate::layout::geometry::placed::PlacedItem;
use crate::layout::model::items::Item;
use crate::layout::model::problem::Problem;

/// Starts and ends of the blanks of a placed item, in order along the board.
pub(in crate::layout) fn spans(problem: &Problem, placed: &PlacedItem) -> Vec<(i64, i64)> {
    spans_of(&problem.items[placed.item], &placed.starts, placed.reverse)
}

/// The same of an item whose blanks start so.
pub(in crate::layout) fn spans_of(item: &Item, starts: &[i64], reverse: bool) -> Vec<(i64, i64)> {
    let n = item.lengths.len();
    let length = |i: usize| item.lengths[if reverse { n - 1 - i } else { i }];
    let spans = starts.iter().enumerate();
    spans
        .map(|(i, &start)| (start, start + length(i)))
        .collect()
}
