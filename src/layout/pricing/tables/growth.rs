//! How much a half-made pattern can still grow by.

/// Sums looked at together.
const TOGETHER: usize = 8;

/// What the items from each position of the chain on add to a length, and what follows each length:
/// whatever is cut next is worth no more than the largest sum of the two.
pub(in crate::layout) struct Growth<'t> {
    /// `add[p * stride + first + l]`: what items from position `p` on add for `l` cells.
    add: &'t [f64],
    stride: usize,
    first: usize,
    /// `then[l]`: what follows `l` cells.
    then: &'t [f64],
    /// Where a sum passed. From one position to the next it is mostly the same.
    at: usize,
}

impl<'t> Growth<'t> {
    pub(in crate::layout) fn new(
        add: &'t [f64],
        stride: usize,
        first: usize,
        then: &'t [f64],
    ) -> Growth<'t> {
        Growth {
            add,
            stride,
            first,
            then: &then[..then.len().min(stride - first)],
            at: 0,
        }
    }

    fn add(&self, position: usize) -> &'t [f64] {
        &self.add[position * self.stride + self.first..][..self.then.len()]
    }

    /// The largest sum from a position on.
    pub(in crate::layout) fn most(&self, position: usize) -> f64 {
        largest(self.add(position), self.then)
    }

    /// Whether some sum from a position on passes, where all larger than one that does pass too.
    pub(in crate::layout) fn passes(
        &mut self,
        position: usize,
        passes: impl Fn(f64) -> bool,
    ) -> bool {
        let (add, then) = (self.add(position), self.then);
        if let (Some(add), Some(then)) = (add.get(self.at), then.get(self.at))
            && passes(add + then)
        {
            return true;
        }
        let parts = add.chunks(TOGETHER).zip(then.chunks(TOGETHER));
        for (part, (add, then)) in parts.enumerate() {
            if passes(largest(add, then)) {
                let mut sums = add.iter().zip(then);
                let place = sums.position(|(add, then)| passes(add + then));
                self.at = part * TOGETHER + place.unwrap_or(0);
                return true;
            }
        }
        false
    }
}

fn largest(add: &[f64], then: &[f64]) -> f64 {
    let sums = add.iter().zip(then).map(|(add, then)| add + then);
    sums.fold(f64::NEG_INFINITY, greater)
}

/// The larger of two numbers. There is none that is not a number: then this is one step of the
/// processor, where `f64::max` is several.
pub(in crate::layout) fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Wherever the last sum passed, one passes if the largest does.
        #[test]
        fn some_sum_passes_if_the_largest_does(
            add in prop::collection::vec(-9_i32..9, 60),
            then in prop::collection::vec(-9_i32..9, 0..40),
            stride in 1_usize..20,
            first in 0_usize..20,
            least in prop::collection::vec(-20_i32..20, 3),
        ) {
            let [add, then] = [add, then].map(|all| all.into_iter().map(f64::from).collect::<Vec<_>>());
            let first = first % stride;
            let mut growth = Growth::new(&add, stride, first, &then);
            for (position, least) in least.into_iter().map(f64::from).enumerate() {
                let row = &add[position * stride..][..stride];
                let sums = row[first..].iter().zip(&then).map(|(add, then)| add + then);
                let most = sums.fold(f64::NEG_INFINITY, f64::max);
                prop_assert_eq!(growth.most(position), most);
                prop_assert_eq!(growth.passes(position, |sum| sum > least), most > least);
            }
        }
    }
}
