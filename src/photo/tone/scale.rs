//! From lightness to steps of tone, anchored by what the maker typed.

/// A board whose tone was typed and whose lightness was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchor {
    /// What was typed, 0 to 10.
    pub tone: f64,
    /// Its L*.
    pub lightness: f64,
}

/// Tones by lightness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Difference in L* that counts as one step.
    step: f64,
    /// `tone + L* / step`, the same for all boards.
    sum: f64,
}

impl Scale {
    /// Anchored by boards that have both; else the pile's median lightness is 5.
    pub fn of(step: f64, anchors: &[Anchor], pile: &[f64]) -> Scale {
        let sums = anchors
            .iter()
            .map(|anchor| anchor.tone + anchor.lightness / step);
        let mut sums: Vec<f64> = match anchors.is_empty() {
            false => sums.collect(),
            true => pile
                .iter()
                .map(|lightness| 5.0 + lightness / step)
                .collect(),
        };
        sums.sort_by(f64::total_cmp);
        let half = sums.len() / 2;
        let sum = match sums.len() {
            0 => 0.0,
            n if n % 2 == 1 => sums[half],
            _ => (sums[half - 1] + sums[half]) / 2.0,
        };
        Scale { step, sum }
    }

    /// The tone of a lightness, 0 to 10, to a tenth of a step.
    pub fn tone(&self, lightness: f64) -> f64 {
        let tone = self.sum - lightness / self.step;
        (tone.clamp(0.0, 10.0) * 10.0).round() / 10.0
    }

    /// How many steps a difference in L* is.
    pub fn steps(&self, lightness: f64) -> f64 {
        lightness / self.step
    }
}
