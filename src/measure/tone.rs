//! How dark a board is.

use super::plain::plain;

/// The words for tones, palest first, and the number each stands for.
pub const TONE_WORDS: [(&str, f64); 8] = [
    ("very pale", 1.0),
    ("pale", 2.0),
    ("light", 3.0),
    ("medium light", 4.0),
    ("medium", 5.0),
    ("medium dark", 6.0),
    ("dark", 7.0),
    ("very dark", 9.0),
];

/// Why a text is not a tone.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ToneError {
    /// A number outside 0 to 10.
    #[error("it is not between 0 and 10")]
    OutOfRange,
    /// Neither a number nor a word for a tone.
    #[error("it is neither a number nor a word for a tone")]
    Unknown,
}

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

    /// Reads a tone, a number or words, and the free note that may follow a `;`.
    ///
    /// # Errors
    /// [`ToneError`] when what stands before the `;` is neither.
    ///
    /// ```
    /// use grainrow::measure::Tone;
    ///
    /// let (tone, note) = Tone::parse("medium-dark; a little pink").unwrap();
    /// assert_eq!((tone.value(), note), (6.0, "a little pink"));
    /// ```
    pub fn parse(text: &str) -> Result<(Tone, &str), ToneError> {
        let (tone, note) = text.split_once(';').unwrap_or((text, ""));
        let words = plain(&plain(tone).replace('-', " "));
        let named = TONE_WORDS.iter().find(|(name, _)| *name == words);
        let value = match named {
            Some((_, value)) => *value,
            None => plain(tone).parse().map_err(|_| ToneError::Unknown)?,
        };
        let tone = Tone::new(value).ok_or(ToneError::OutOfRange)?;
        Ok((tone, note.trim()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> Result<f64, ToneError> {
        Tone::parse(text).map(|(tone, _)| tone.value())
    }

    #[test]
    fn numbers_and_words_are_tones() {
        for (text, number) in TONE_WORDS {
            assert_eq!(value(text), Ok(number));
            assert_eq!(value(&text.to_uppercase().replace(' ', "-")), Ok(number));
        }
        assert_eq!(value(" 4.5 "), Ok(4.5));
        assert_eq!(value("0"), Ok(0.0));
        assert_eq!(value("10"), Ok(10.0));
        assert_eq!(value("Very  -  Pale"), Ok(1.0));
    }

    #[test]
    fn a_note_follows_a_semicolon() {
        assert_eq!(
            Tone::parse("5; greyish; streaked").map(|t| t.1),
            Ok("greyish; streaked")
        );
        assert_eq!(Tone::parse("dark").map(|t| t.1), Ok(""));
    }

    #[test]
    fn other_words_and_numbers_are_refused() {
        assert_eq!(value("11"), Err(ToneError::OutOfRange));
        assert_eq!(value("-1"), Err(ToneError::OutOfRange));
        assert_eq!(value("inf"), Err(ToneError::OutOfRange));
        assert_eq!(value("NaN"), Err(ToneError::OutOfRange));
        assert_eq!(value("brown"), Err(ToneError::Unknown));
        assert_eq!(value(""), Err(ToneError::Unknown));
    }
}
