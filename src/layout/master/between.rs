//! Prices between two.

use std::collections::BTreeMap;

use crate::layout::master::solved::Relaxed;
use crate::layout::pricing::prices::{NarrowWide, Prices};

impl Relaxed {
    /// Prices between these and `other`'s, `share` of the latter: as safe as both, since what
    /// makes prices safe is linear in them.
    pub(in crate::layout) fn between(&self, other: &Relaxed, share: f64) -> Relaxed {
        let mix = |a: f64, b: f64| (1.0 - share) * a + share * b;
        let mixed = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(&a, &b)| mix(a, b)).collect();
        let items = self.prices.item.iter().zip(&other.prices.item);
        Relaxed {
            prices: Prices {
                item: items.map(|(a, b)| mixed(a, b)).collect(),
                width: mixed(&self.prices.width, &other.prices.width),
                narrow_wide: (self
                    .prices
                    .narrow_wide
                    .iter()
                    .zip(&other.prices.narrow_wide))
                .map(|(a, b)| narrow_wide_between(a, b, share))
                .collect(),
                once: (self.prices.once.iter().zip(&other.prices.once))
                    .map(|(a, b)| between(a, b, share))
                    .collect(),
                rounding: between(&self.prices.rounding, &other.prices.rounding, share),
                board: mixed(&self.prices.board, &other.prices.board),
                tone: mixed(&self.prices.tone, &other.prices.tone),
            },
            fixed: mix(self.fixed, other.fixed),
            wood: mix(self.wood, other.wood),
            fronts: mixed(&self.fronts, &other.fronts),
            paired: Vec::new(),
            sided: Vec::new(),
            ..self.clone()
        }
    }
}

/// What pairs of a narrow and a wide stave pay, between two, `share` of the latter.
fn narrow_wide_between(a: &[NarrowWide], b: &[NarrowWide], share: f64) -> Vec<NarrowWide> {
    let both = a.iter().map(|pair| pair.share(1.0 - share));
    let mut both: Vec<NarrowWide> = both.chain(b.iter().map(|s| s.share(share))).collect();
    both.sort_by_key(|pair| pair.narrow);
    both.dedup_by(|b, a| {
        let same = a.narrow == b.narrow;
        if same {
            (a.toll, a.gain) = (a.toll + b.toll, a.gain + b.gain);
        }
        same
    });
    both
}

/// What is paid for each of some things between two, `share` of the latter.
fn between<T: Ord + Clone>(a: &[(T, f64)], b: &[(T, f64)], share: f64) -> Vec<(T, f64)> {
    let mut both = BTreeMap::new();
    for (of, share) in [(a, 1.0 - share), (b, share)] {
        for (thing, toll) in of {
            *both.entry(thing.clone()).or_insert(0.0) += toll * share;
        }
    }
    both.into_iter().collect()
}
