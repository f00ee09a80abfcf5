//! The font that travels with the program, and how wide it sets a text.

use std::sync::LazyLock;

use ab_glyph::{Font, FontRef};

use super::fraction;

/// Name of the font family, as pictures call it.
pub const FAMILY: &str = "DejaVu Sans Condensed";
/// Height of a capital, as a share of the em.
pub const CAPITAL: f64 = 0.73;
/// Depth of a descender, as a share of the em.
pub const DESCENT: f64 = 0.22;

/// How heavy a text is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Weight {
    /// Plain.
    #[default]
    Regular,
    /// Heavy.
    Bold,
}

static REGULAR: &[u8] = include_bytes!("fonts/DejaVuSansCondensed.ttf");
static BOLD: &[u8] = include_bytes!("fonts/DejaVuSansCondensed-Bold.ttf");

static REGULAR_FACE: LazyLock<FontRef<'static>> = LazyLock::new(|| face(REGULAR));
static BOLD_FACE: LazyLock<FontRef<'static>> = LazyLock::new(|| face(BOLD));

fn face(bytes: &'static [u8]) -> FontRef<'static> {
    FontRef::try_from_slice(bytes).expect("the program's own font file is whole")
}

impl Weight {
    /// The font file of this weight.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Weight::Regular => REGULAR,
            Weight::Bold => BOLD,
        }
    }

    /// The font of this weight, ready to be measured.
    pub fn face(self) -> &'static FontRef<'static> {
        match self {
            Weight::Regular => &REGULAR_FACE,
            Weight::Bold => &BOLD_FACE,
        }
    }
}

/// How far each of the first characters runs, in font units: placing words measures them without
/// end, and looking a glyph up takes long.
type Advances = [f32; 256];

static REGULAR_ADVANCES: LazyLock<Advances> = LazyLock::new(|| advances(Weight::Regular));
static BOLD_ADVANCES: LazyLock<Advances> = LazyLock::new(|| advances(Weight::Bold));

fn advances(weight: Weight) -> Advances {
    std::array::from_fn(|code| advance(weight, u8::try_from(code).unwrap_or(0).into()))
}

fn advance(weight: Weight, c: char) -> f32 {
    let face = weight.face();
    face.h_advance_unscaled(face.glyph_id(c))
}

/// How far a text of `size` runs, in points. The font has no kerning, so every picture agrees.
pub fn width(words: &str, size: f64, weight: Weight) -> f64 {
    if words.contains(fraction::SLASH) {
        return fraction::width(words, size, weight);
    }
    let known = match weight {
        Weight::Regular => &*REGULAR_ADVANCES,
        Weight::Bold => &*BOLD_ADVANCES,
    };
    let advance = |c: char| match known.get(c as usize) {
        Some(&advance) => advance,
        None => advance(weight, c),
    };
    let units: f32 = words.chars().map(advance).sum();
    f64::from(units) * size / units_per_em(weight)
}

/// Font units in one em.
pub fn units_per_em(weight: Weight) -> f64 {
    f64::from(weight.face().units_per_em().unwrap_or(2048.0))
}

/// The largest size, from `most` down to `least`, at which `words` run no longer than `room`.
pub fn fit(words: &str, weight: Weight, room: f64, most: f64, least: f64) -> Option<f64> {
    let at_one = width(words, 1.0, weight).max(1e-9);
    let size = (room / at_one).min(most);
    (size >= least).then_some(size)
}

/// Breaks `words` into lines no longer than `room` at spaces, but never a number from its fraction
/// or its unit; a longer single word stands alone.
pub fn wrap(words: &str, size: f64, weight: Weight, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in unbroken(words) {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size, weight) <= room => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// The words of a text, `16 1/2 in` being one.
fn unbroken(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(before) if belongs(before, word) => {
                before.push(' ');
                before.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Whether `word` is read with the number that `before` ends in.
pub fn belongs(before: &str, word: &str) -> bool {
    let before = before.rsplit([' ', '\u{a0}']).next().unwrap_or_default();
    let number = before.ends_with(|c: char| c.is_ascii_digit());
    let fraction =
        word.starts_with(|c: char| c.is_ascii_digit()) && word.contains(['/', fraction::SLASH]);
    let unit = ["in", "mm", "%"].contains(&word.trim_end_matches([',', ';', '.', ':', ')']));
    number && (unit || fraction && !before.contains(['/', fraction::SLASH]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_as_wide_as_the_font_file_says() {
        // Advances read from DejaVuSansCondensed.ttf 2.37 with another tool (fonttools):
        // "1" 1172, "B" 1264, space 585, of 2048 units an em.
        let units = 1172.0 + 1264.0 + 585.0;
        let measured = width("1 B", 2048.0, Weight::Regular);
        assert!((measured - units).abs() < 1.0, "{measured} against {units}");
    }

    #[test]
    fn every_sign_the_drawings_use_is_in_the_font() {
        for weight in [Weight::Regular, Weight::Bold] {
            for sign in "0123456789/×·–—…↑→↔⅛½éßØłŽЖω".chars() {
                assert_ne!(weight.face().glyph_id(sign).0, 0, "{sign} is missing");
            }
        }
    }

    #[test]
    fn wrapped_lines_fit_and_lose_no_word() {
        let words = "rip at 1/8, then at 6 1/2, and turn the strip end for end";
        let lines = wrap(words, 8.0, Weight::Regular, 70.0);
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), words);
        for line in lines {
            assert!(width(&line, 8.0, Weight::Regular) <= 70.0, "{line}");
        }
    }

    #[test]
    fn a_number_stays_with_its_fraction_and_its_unit() {
        let words = "rip at 16 1/2 in, then at 1/8 3/4 %";
        let lines = wrap(words, 8.0, Weight::Regular, 1.0);
        let expected = ["rip", "at", "16 1/2 in,", "then", "at", "1/8", "3/4 %"];
        assert_eq!(lines, expected);
    }
}
