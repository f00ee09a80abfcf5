//! How dark a board is.

/// How dark a board is: 0 the palest, 10 the darkest.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Tone(f64);

impl Tone {
    /// The palest tone there is.
    pub const PALEST: f64 = 0.0;
    /// The darkest tone there is.
    pub const DARKEST: f64 = 10.0;

    /// A tone from its number, or nothing when it is not between 0 and 10.
    pub fn new(value: f64) -> Option<Tone> {
        (Tone::PALEST..=Tone::DARKEST)
            .contains(&value)
            .then_some(Tone(value))
    }

    /// Its number, 0 to 10.
    pub fn value(self) -> f64 {
        self.0
    }
}
