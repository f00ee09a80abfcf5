//! The fewest machine settings that serve a number of cuts.

use crate::measure::Length;

/// A cut that may be set anywhere from `least` to `most`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Allowed<T> {
    /// Narrowest setting that leaves enough.
    pub least: Length,
    /// Widest setting there is wood for.
    pub most: Length,
    /// What is cut.
    pub what: T,
}

/// Cuts made at one setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting<T> {
    /// Where the fence or the stop stands.
    pub at: Length,
    /// What is cut there, in the order given.
    pub what: Vec<T>,
}

/// Groups cuts into the fewest settings that suit each of them, the widest first.
///
/// This is piercing intervals with the fewest points: take the interval that ends first, set
/// there, drop every interval that holds the point, repeat. The intervals so taken are disjoint,
/// so no fewer points can do. (Standard result: Gavril, SIAM Journal on Computing 1, 1972,
/// p. 180, on interval graphs; from memory.)
pub fn fewest<T>(cuts: Vec<Allowed<T>>) -> Vec<Setting<T>> {
    let mut by_end: Vec<(usize, Allowed<T>)> = cuts.into_iter().enumerate().collect();
    by_end.sort_by_key(|(i, cut)| (cut.most, *i));
    let mut settings: Vec<(Length, Vec<(usize, T)>)> = Vec::new();
    for (i, cut) in by_end {
        match settings.last_mut() {
            Some((at, what)) if cut.least <= *at => what.push((i, cut.what)),
            _ => settings.push((cut.most, vec![(i, cut.what)])),
        }
    }
    settings.reverse();
    settings
        .into_iter()
        .map(|(at, mut what)| {
            what.sort_by_key(|(i, _)| *i);
            Setting {
                at,
                what: what.into_iter().map(|(_, what)| what).collect(),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cut(least: i64, most: i64, what: usize) -> Allowed<usize> {
        Allowed {
            least: Length::from_mm(least as f64),
            most: Length::from_mm(most as f64),
            what,
        }
    }

    #[test]
    fn cuts_that_overlap_share_a_setting() {
        let settings = fewest(vec![cut(100, 100, 0), cut(90, 110, 1), cut(120, 130, 2)]);
        assert_eq!(settings.len(), 2);
        assert_eq!(settings[0].at, Length::from_mm(130.0));
        assert_eq!(settings[1].at, Length::from_mm(100.0));
        assert_eq!(settings[1].what, [0, 1]);
    }

    proptest! {
        #[test]
        fn every_cut_is_set_once_and_fits_and_brute_force_needs_as_many(
            cuts in proptest::collection::vec((0..12i64, 0..5i64), 1..8)
        ) {
            let all: Vec<_> = cuts
                .iter()
                .enumerate()
                .map(|(i, &(least, more))| cut(least, least + more, i))
                .collect();
            let settings = fewest(all.clone());
            let mut seen: Vec<usize> = settings.iter().flat_map(|s| s.what.clone()).collect();
            seen.sort_unstable();
            prop_assert_eq!(seen, (0..cuts.len()).collect::<Vec<_>>());
            for setting in &settings {
                for &i in &setting.what {
                    prop_assert!(all[i].least <= setting.at && setting.at <= all[i].most);
                }
            }
            // Every set of whole points from 0 to 16 that pierces all has at least as many.
            let fewest_by_force = (0u32..1 << 17)
                .filter(|set| set.count_ones() < settings.len() as u32)
                .find(|set| {
                    cuts.iter().all(|&(least, more)| {
                        (least..=least + more).any(|at| set >> at & 1 == 1)
                    })
                });
            prop_assert_eq!(fewest_by_force, None);
        }
    }
}
