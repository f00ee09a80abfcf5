//! Colours and sizes shared by all drawings. Every shade is legible in black and white.

use super::shape::Ink;

/// Width of a drawing: fits a letter sheet (11 in) and an A4 sheet (297 mm) lying on its side.
pub const WIDTH: f64 = 720.0;
/// Free on both sides of a drawing.
pub const MARGIN: f64 = 8.0;

/// Wood that becomes chips or short ends.
pub const WASTE: Ink = Ink(206, 203, 197);
/// The case around its fronts.
pub const CASE: Ink = Ink(228, 226, 222);
/// The paper, blanks and kept pieces.
pub const PAPER: Ink = Ink::WHITE;
/// Lines and words.
pub const INK: Ink = Ink::BLACK;
/// Words and lines of less weight.
pub const FAINT: Ink = Ink(85, 85, 85);
/// The cabinetmaker's triangle.
pub const TRIANGLE: Ink = Ink(110, 110, 110);

/// Size of the figures on a board: their fractions' digits are then ten points high.
pub const FIGURE: f64 = 16.0;
/// Size of a board's second words.
pub const WORD: f64 = 13.0;
/// Nothing on a board is smaller: ten points are read at arm's length.
pub const SMALL: f64 = 10.0;
/// The two weights of line on a board stand two to one (technical drawing standards advise it).
pub const THICK: f64 = 1.6;
/// The thin one.
pub const THIN: f64 = 0.8;

/// Size of titles.
pub const TITLE: f64 = 13.0;
/// Size of marks on a tape.
pub const MARK: f64 = 8.5;
/// Size of notes.
pub const NOTE: f64 = 7.5;
/// No text is set smaller.
pub const LEAST: f64 = 5.5;

/// The shade of a board of `tone` 0 (palest) to 10 (darkest). Black words stand out on all.
pub fn tone_shade(tone: f64) -> Ink {
    let share = (tone / 10.0).clamp(0.0, 1.0);
    let mix = |pale: f64, dark: f64| (pale + (dark - pale) * share).round() as u8;
    Ink(mix(254.0, 160.0), mix(250.0, 114.0), mix(240.0, 76.0))
}

/// Relative luminance, 0 (black) to 1 (white).
///
/// Source: W3C, Web Content Accessibility Guidelines 2.1, definition of relative luminance.
#[cfg(test)]
fn luminance(ink: Ink) -> f64 {
    let channel = |level: u8| {
        let share = f64::from(level) / 255.0;
        if share <= 0.03928 {
            share / 12.92
        } else {
            ((share + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(ink.0) + 0.7152 * channel(ink.1) + 0.0722 * channel(ink.2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_out_on_every_shade() {
        // 4.5 to 1 is what WCAG 2.1, success criterion 1.4.3, asks of text (level AA).
        let contrast = |a: Ink, b: Ink| {
            let (a, b) = (luminance(a), luminance(b));
            (a.max(b) + 0.05) / (a.min(b) + 0.05)
        };
        for step in 0..=10 {
            assert!(contrast(INK, tone_shade(f64::from(step))) >= 4.5);
        }
        for paper in [WASTE, PAPER, CASE] {
            assert!(contrast(FAINT, paper) >= 4.5, "{paper:?}");
        }
    }

    /// CIE L* of a grey print; a difference of 1 is about what an eye tells apart side by side
    /// (CIE 15:2004, 8.2.1; from memory).
    #[test]
    fn half_a_step_of_tone_is_told_apart_in_grey() {
        let lightness = |tone: f64| 116.0 * luminance(tone_shade(tone)).cbrt() - 16.0;
        for half in 0..20 {
            let (pale, dark) = (f64::from(half) / 2.0, f64::from(half + 1) / 2.0);
            let difference = lightness(pale) - lightness(dark);
            assert!(difference > 2.0, "{pale}: {difference}");
        }
    }

    #[test]
    fn darker_boards_are_shaded_darker() {
        for step in 0..10 {
            let (pale, dark) = (f64::from(step), f64::from(step + 1));
            assert!(luminance(tone_shade(pale)) > luminance(tone_shade(dark)));
        }
    }
}
