//! Closed choices a maker writes as a word.

use super::{Between, Cut, DefectKind, DefectSide, Grain, PhotoSide, Sheet};
use crate::measure::Unit;

/// A closed set of values, each with the word it is written by.
pub trait Choice: Copy + 'static {
    /// The words and their values, in the order they are offered.
    const WORDS: &'static [(&'static str, Self)];

    /// The value a word stands for, whatever its case.
    fn from_word(word: &str) -> Option<Self> {
        let word = word.trim();
        let named = |(name, _): &&(&str, Self)| name.eq_ignore_ascii_case(word);
        Self::WORDS.iter().find(named).map(|(_, value)| *value)
    }

    /// The word a value is written by.
    fn word(self) -> &'static str
    where
        Self: PartialEq,
    {
        let named = Self::WORDS.iter().find(|(_, value)| *value == self);
        named.map_or("", |(word, _)| word)
    }

    /// All words, for a message.
    fn offered() -> String {
        let words: Vec<&str> = Self::WORDS.iter().map(|(word, _)| *word).collect();
        words.join(", ")
    }
}

impl Choice for bool {
    const WORDS: &'static [(&'static str, bool)] = &[("yes", true), ("no", false)];
}

impl Choice for Unit {
    const WORDS: &'static [(&'static str, Unit)] = &[("inch", Unit::Inch), ("mm", Unit::Mm)];
}

impl Choice for Sheet {
    const WORDS: &'static [(&'static str, Sheet)] = &[
        ("auto", Sheet::Auto),
        ("letter", Sheet::Letter),
        ("a4", Sheet::A4),
    ];
}

impl Choice for Between {
    const WORDS: &'static [(&'static str, Between)] =
        &[("tight", Between::Tight), ("as_built", Between::AsBuilt)];
}

impl Choice for Cut {
    const WORDS: &'static [(&'static str, Cut)] = &[
        (Cut::Flat.word(), Cut::Flat),
        (Cut::Rift.word(), Cut::Rift),
        (Cut::Quarter.word(), Cut::Quarter),
    ];
}

impl Choice for Grain {
    const WORDS: &'static [(&'static str, Grain)] = &[
        ("horizontal", Grain::Horizontal),
        ("vertical", Grain::Vertical),
    ];
}

impl Choice for DefectSide {
    const WORDS: &'static [(&'static str, DefectSide)] = &[
        ("both", DefectSide::Both),
        ("up", DefectSide::Up),
        ("down", DefectSide::Down),
    ];
}

impl Choice for PhotoSide {
    const WORDS: &'static [(&'static str, PhotoSide)] =
        &[("up", PhotoSide::Up), ("down", PhotoSide::Down)];
}

impl Choice for DefectKind {
    const WORDS: &'static [(&'static str, DefectKind)] = &[
        ("knot", DefectKind::Knot),
        ("check", DefectKind::Check),
        ("split", DefectKind::Split),
        ("wane", DefectKind::Wane),
        ("sap", DefectKind::Sap),
        ("pith", DefectKind::Pith),
        ("stain", DefectKind::Stain),
        ("hole", DefectKind::Hole),
        ("other", DefectKind::Other),
    ];
}
