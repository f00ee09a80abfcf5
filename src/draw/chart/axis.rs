//! Scales and their round numbers.

/// A scale from numbers to points on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Number at the beginning.
    pub from: f64,
    /// Number at the end.
    pub to: f64,
    /// Where the beginning lies, in points.
    pub start: f64,
    /// Where the end lies.
    pub end: f64,
}

impl Scale {
    /// Where a number lies; numbers beyond the ends lie beyond them.
    pub fn at(&self, number: f64) -> f64 {
        let share = (number - self.from) / (self.to - self.from);
        self.start + (self.end - self.start) * share
    }
}

/// The step of 1, 2 or 5 times a power of ten that cuts `most` into at most `parts` parts.
pub fn step(most: f64, parts: usize) -> f64 {
    let wanted = (most / parts.max(1) as f64).max(1e-9);
    let power = 10_f64.powf(wanted.log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0].map(|times| times * power);
    let fits = |step: &&f64| **step >= wanted * (1.0 - 1e-9);
    *steps.iter().find(fits).unwrap_or(&steps[3])
}

/// Round numbers from 0 up to and including the first that is not below `most`.
pub fn marks(most: f64, parts: usize) -> Vec<f64> {
    let step = step(most, parts);
    let last = (most / step - 1e-9).ceil().max(1.0) as usize;
    (0..=last).map(|i| i as f64 * step).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_few() {
        assert_eq!(step(80.0, 8), 10.0);
        assert_eq!(step(81.0, 8), 20.0);
        assert_eq!(step(7.0, 5), 2.0);
        assert_eq!(marks(7.0, 5), [0.0, 2.0, 4.0, 6.0, 8.0]);
        assert_eq!(marks(0.0, 5).len(), 2);
    }

    #[test]
    fn a_scale_may_run_either_way() {
        let scale = Scale {
            from: 0.0,
            to: 10.0,
            start: 100.0,
            end: 50.0,
        };
        assert_eq!((scale.at(0.0), scale.at(5.0)), (100.0, 75.0));
    }
}
