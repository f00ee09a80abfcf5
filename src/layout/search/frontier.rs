//! Which parts of a search to go on with.

/// Takes `batch` of the open parts: the `deep` split most often, which are nearest to a plan, and those
/// with the least bounds, which hold the bound of the whole down. `at` tells a part's depth and bound.
pub(in crate::layout) fn next<P>(
    open: &mut Vec<P>,
    (batch, deep): (usize, usize),
    at: impl Fn(&P) -> (usize, f64),
) -> Vec<P> {
    let by_bound = |a: &P, b: &P| at(b).1.total_cmp(&at(a).1);
    open.sort_by(|a, b| at(a).0.cmp(&at(b).0).then(by_bound(a, b)));
    let mut taken = open.split_off(open.len().saturating_sub(deep));
    open.sort_by(by_bound);
    taken.extend(open.split_off(open.len().saturating_sub(batch - deep)));
    taken
}
