//! Prices between two.

use std::collections::BTreeMap;

use crate::layout::master::solved::Relaxed;
use crate::layout::pricing::prices::{Prices, Sister};

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
                sisters: (self.prices.sisters.iter().zip(&other.prices.sisters))
                    .map(|(a, b)| sisters_between(a, b, share))
                    .collect(),
                once: (self.prices.once.iter().zip(&other.prices.once))
                    .map(|(a, b)| between(a, b, share))
                    .collect(),
                givers: between(&self.prices.givers, &other.prices.givers, share),
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

/// Sisters' tolls between two, `share` of the latter.
fn sisters_between(a: &[Sister], b: &[Sister], share: f64) -> Vec<Sister> {
    let both = a.iter().map(|sister| sister.share(1.0 - share));
    let mut both: Vec<Sister> = both.chain(b.iter().map(|s| s.share(share))).collect();
    both.sort_by_key(|sister| sister.narrow);
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
