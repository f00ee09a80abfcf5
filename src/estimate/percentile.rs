//! Percentiles and chances from trials, each with the interval it is known to.

use serde::{Deserialize, Serialize};

/// How sure every interval is.
pub const CONFIDENCE: f64 = 0.95;

/// Half the width of a 95 % interval of the normal distribution, in standard deviations.
const Z: f64 = 1.959_963_984_540_054;

/// A percentile of the trials and the interval it lies in, with 95 % confidence.
///
/// Where too many trials came to no end the figure is not known: `None`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Percentile {
    /// Per cent of piles that need no more.
    pub percent: f64,
    /// So much suffices in that share of the trials.
    pub value: Option<f64>,
    /// The interval's lower end.
    pub low: Option<f64>,
    /// The interval's upper end.
    pub high: Option<f64>,
}

/// A chance and the interval it lies in, with 95 % confidence.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Chance {
    /// The share of the trials.
    pub share: f64,
    /// The interval's lower end.
    pub low: f64,
    /// The interval's upper end.
    pub high: f64,
}

impl Percentile {
    /// The least of `sorted` that at least `percent` of them do not exceed.
    ///
    /// The interval is the one between two order statistics that holds the percentile of any
    /// distribution with 95 % confidence: the trials below it are binomial. Source, from memory:
    /// W. J. Conover, *Practical Nonparametric Statistics*, confidence interval for a quantile.
    ///
    /// # Panics
    /// When `sorted` is empty.
    pub fn of(sorted: &[f64], percent: f64) -> Percentile {
        let n = sorted.len();
        let share = percent / 100.0;
        let rank = ((share * n as f64 - 1e-9).ceil() as usize).clamp(1, n);
        let (low, high) = ranks(n, share);
        let at = |rank: usize| {
            let value = sorted.get(rank.wrapping_sub(1)).copied();
            value.filter(|value| value.is_finite())
        };
        Percentile {
            percent,
            value: at(rank),
            low: at(low.max(1)),
            high: at(high),
        }
    }

    /// The interval's width as a share of the value; infinite where an end is not known.
    pub fn spread(&self) -> f64 {
        match (self.value, self.low, self.high) {
            (Some(value), Some(low), Some(high)) if value > 0.0 => (high - low) / value,
            (Some(_), Some(_), Some(_)) => 0.0,
            _ => f64::INFINITY,
        }
    }
}

impl Chance {
    /// Of `hits` in `trials`.
    ///
    /// Source, from memory: E. B. Wilson (1927), Probable inference, the law of succession, and
    /// statistical inference, J. Am. Stat. Assoc. 22: the score interval.
    pub fn of(hits: usize, trials: usize) -> Chance {
        let n = (trials as f64).max(1.0);
        let share = hits as f64 / n;
        let bottom = 1.0 + Z * Z / n;
        let middle = (share + Z * Z / (2.0 * n)) / bottom;
        let half = Z / bottom * (share * (1.0 - share) / n + Z * Z / (4.0 * n * n)).sqrt();
        Chance {
            share,
            low: (middle - half).clamp(0.0, share),
            high: (middle + half).clamp(share, 1.0),
        }
    }
}

/// Ranks, counted from 1, of the order statistics between which the percentile lies with at
/// least 95 % confidence, each tail holding at most half of the rest. 0 and `n + 1` stand for
/// no bound.
fn ranks(n: usize, share: f64) -> (usize, usize) {
    let tail = (1.0 - CONFIDENCE) / 2.0;
    let chances = binomial(n, share);
    let (mut low, mut below) = (0, 0.0);
    for (k, chance) in chances.iter().enumerate() {
        below += chance;
        if below > tail {
            low = k;
            break;
        }
    }
    let (mut high, mut above) = (n + 1, 0.0);
    for (k, chance) in chances.iter().enumerate().rev() {
        above += chance;
        if above > tail {
            high = k + 1;
            break;
        }
    }
    (low, high)
}

/// Chances of 0 to `n` hits in `n` throws.
fn binomial(n: usize, share: f64) -> Vec<f64> {
    let odds = (share / (1.0 - share)).ln();
    let mut log = n as f64 * (1.0 - share).ln();
    let mut chances = Vec::with_capacity(n + 1);
    for k in 0..=n {
        chances.push(log.exp());
        log += odds + ((n - k) as f64).ln() - ((k + 1) as f64).ln();
    }
    chances
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranks_for_the_median_are_those_of_the_sign_test_tables() {
        // Tables of the sign test's interval for the median, from memory (e.g. Gibbons and
        // Chakraborti, Nonparametric Statistical Inference): n = 10, 2nd and 9th, 97.9 %;
        // n = 20, 6th and 15th, 95.9 %; n = 8, 1st and 8th, 99.2 %.
        assert_eq!(ranks(10, 0.5), (2, 9));
        assert_eq!(ranks(20, 0.5), (6, 15));
        assert_eq!(ranks(8, 0.5), (1, 8));
    }

    #[test]
    fn chances_are_those_of_the_score_interval() {
        // R. G. Newcombe (1998), Statistics in Medicine 17: 81 of 263, score method
        // 0.2553 to 0.3662; 0 of 20, 0 to 0.1611 (from memory).
        let chance = Chance::of(81, 263);
        assert!((chance.low - 0.2553).abs() < 5e-5 && (chance.high - 0.3662).abs() < 5e-5);
        let none = Chance::of(0, 20);
        assert!(none.low == 0.0 && (none.high - 0.1611).abs() < 5e-5);
    }

    #[test]
    fn binomial_chances_add_up_to_one_for_many_trials() {
        for share in [0.5, 0.8, 0.95] {
            let sum: f64 = binomial(10_000, share).iter().sum();
            assert!((sum - 1.0).abs() < 1e-9, "{sum}");
        }
    }

    #[test]
    fn what_too_many_trials_never_reach_is_not_known() {
        let mut trials: Vec<f64> = (1..=100).map(f64::from).collect();
        trials[85..].fill(f64::INFINITY);
        let known = Percentile::of(&trials, 50.0);
        assert_eq!(known.value, Some(50.0));
        assert_eq!((known.low, known.high), (Some(40.0), Some(61.0)));
        assert_eq!(Percentile::of(&trials, 90.0).value, None);
        assert_eq!(Percentile::of(&trials, 80.0).high, None);
    }
}
