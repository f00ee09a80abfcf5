//! Words with lengths in them, which can be written in either unit.

use crate::measure::{Length, Ruler, Unit};

/// A line of words and lengths.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Phrase(pub Vec<Piece>);

/// A piece of a [`Phrase`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// Words.
    Words(String),
    /// A length, written without its unit.
    Length(Length),
    /// A length, written with its unit.
    WithUnit(Length),
    /// A finished size, in 64ths of an inch if the ruler's own fraction does not show it.
    Finished(Length),
    /// Words that hold lengths finer than the job's ruler shows, written once for each unit.
    Either {
        /// With lengths in inches.
        inch: String,
        /// With lengths in millimetres.
        mm: String,
    },
}

impl Phrase {
    /// Adds words.
    pub fn words(mut self, words: impl Into<String>) -> Phrase {
        self.0.push(Piece::Words(words.into()));
        self
    }

    /// Adds a length.
    pub fn length(mut self, length: Length) -> Phrase {
        self.0.push(Piece::Length(length));
        self
    }

    /// Adds a length with its unit.
    pub fn with_unit(mut self, length: Length) -> Phrase {
        self.0.push(Piece::WithUnit(length));
        self
    }

    /// Adds sizes with the sign for "by" between them.
    pub fn sizes(mut self, lengths: &[Length]) -> Phrase {
        for (i, &length) in lengths.iter().enumerate() {
            if i > 0 {
                self = self.words(" × ");
            }
            self = self.length(length);
        }
        self
    }

    /// Adds a finished size.
    pub fn finished(mut self, length: Length) -> Phrase {
        self.0.push(Piece::Finished(length));
        self
    }

    /// Words with lengths in them, as they read in inches and in millimetres.
    pub fn in_units(inch: String, mm: String) -> Phrase {
        if inch == mm {
            return Phrase::from(inch);
        }
        Phrase(vec![Piece::Either { inch, mm }])
    }

    /// Adds finished sizes with the sign for "by" between them.
    pub fn finished_sizes(mut self, lengths: &[Length]) -> Phrase {
        for (i, &length) in lengths.iter().enumerate() {
            if i > 0 {
                self = self.words(" × ");
            }
            self = self.finished(length);
        }
        self
    }

    /// The same, beginning with a capital.
    pub fn as_sentence(mut self) -> Phrase {
        match self.0.first_mut() {
            Some(Piece::Words(words)) => capitalise(words),
            Some(Piece::Either { inch, mm }) => {
                capitalise(inch);
                capitalise(mm);
            }
            _ => {}
        }
        self
    }

    /// Adds another phrase.
    pub fn and(mut self, other: Phrase) -> Phrase {
        self.0.extend(other.0);
        self
    }

    /// Phrases in a row, with `between` between them.
    pub fn join(phrases: impl IntoIterator<Item = Phrase>, between: &str) -> Phrase {
        let mut all = Phrase::default();
        for (i, phrase) in phrases.into_iter().enumerate() {
            if i > 0 {
                all = all.words(between);
            }
            all = all.and(phrase);
        }
        all
    }

    /// The phrase as plain text.
    pub fn show(&self, ruler: Ruler) -> String {
        self.0.iter().map(|piece| piece.show(ruler)).collect()
    }
}

impl Piece {
    /// The piece as plain text.
    pub fn show(&self, ruler: Ruler) -> String {
        match self {
            Piece::Words(words) => words.clone(),
            Piece::Length(length) => ruler.show(*length),
            Piece::WithUnit(length) => ruler.show_with_unit(*length),
            Piece::Finished(length) => ruler.for_finished(*length).show(*length),
            Piece::Either { inch, mm } => match ruler.unit {
                Unit::Inch => inch.clone(),
                Unit::Mm => mm.clone(),
            },
        }
    }
}

fn capitalise(words: &mut String) {
    let mut letters = words.chars();
    if let Some(first) = letters.next() {
        *words = first.to_uppercase().chain(letters).collect();
    }
}

impl From<&str> for Phrase {
    fn from(words: &str) -> Phrase {
        Phrase::default().words(words)
    }
}

impl From<String> for Phrase {
    fn from(words: String) -> Phrase {
        Phrase::default().words(words)
    }
}

impl From<Length> for Phrase {
    fn from(length: Length) -> Phrase {
        Phrase::default().length(length)
    }
}

/// The ruler's inches and its millimetres.
pub fn both(ruler: Ruler) -> [Ruler; 2] {
    [Unit::Inch, Unit::Mm].map(|unit| Ruler { unit, ..ruler })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phrase_reads_in_either_unit() {
        let phrase = Phrase::from("cut ")
            .sizes(&[Length::from_inches(20.5), Length::from_inches(6.0)])
            .words(" from ")
            .with_unit(Length::from_inches(0.125));
        let [inch, mm] = both(Ruler::default());
        assert_eq!(phrase.show(inch), "cut 20 1/2 × 6 from 1/8 in");
        assert_eq!(phrase.show(mm), "cut 520.7 × 152.4 from 3.2 mm");
    }
}
