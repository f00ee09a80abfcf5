//! Few machine settings for a number of cuts: the fewest where their order is free.

use std::collections::VecDeque;

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

/// Groups cuts of equal settings where some must follow others: each queue is made in its order.
/// Next is always the setting at which most cuts can be made now, the widest of equals.
pub fn in_order<T>(queues: Vec<Vec<(Length, T)>>) -> Vec<Setting<T>> {
    let mut queues: Vec<VecDeque<(Length, T)>> = queues.into_iter().map(Into::into).collect();
    let mut settings = Vec::new();
    loop {
        let now = queues.iter().filter_map(|queue| Some(queue.front()?.0));
        let Some(at) = now.max_by_key(|&at| (ready(&queues, at), at)) else {
            return settings;
        };
        let mut what = Vec::new();
        for queue in &mut queues {
            while queue.front().is_some_and(|(next, _)| *next == at) {
                what.extend(queue.pop_front().map(|(_, cut)| cut));
            }
        }
        settings.push(Setting { at, what });
    }
}

/// How many cuts can be made at a setting as the queues stand.
fn ready<T>(queues: &[VecDeque<(Length, T)>], at: Length) -> usize {
    let of_queue =
        |queue: &VecDeque<(Length, T)>| queue.iter().take_while(|(next, _)| *next == at).count();
    queues.iter().map(of_queue).sum()
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
        fn cuts_in_order_are_made_once_and_never_before_their_turn(
            queues in proptest::collection::vec(proptest::collection::vec(0..4i64, 0..5), 0..6)
        ) {
            let named = queues.iter().enumerate().map(|(q, queue)| {
                let cuts = queue.iter().enumerate();
                cuts.map(|(i, &at)| (Length::from_mm(at as f64), (q, i))).collect()
            });
            let mut made = vec![0; queues.len()];
            for setting in in_order(named.collect()) {
                for (queue, index) in setting.what {
                    prop_assert_eq!(made[queue], index);
                    prop_assert_eq!(setting.at, Length::from_mm(queues[queue][index] as f64));
                    made[queue] += 1;
                }
            }
            let all: Vec<usize> = queues.iter().map(Vec::len).collect();
            prop_assert_eq!(made, all);
        }

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
