//! Fractions set as a maker writes them: numerator over denominator.
//!
//! In words to be set, a fraction whose two numbers stand above one another is told by the
//! fraction slash of Unicode (U+2044) between them: `20 3\u{2044}8`.

use super::font::{self, Weight};
use super::shape::{Anchor, Point, Shape, Text};

/// Between the two numbers of a stacked fraction.
pub const SLASH: char = '\u{2044}';
/// Height of the digits of a fraction, as a share of the figure they follow.
const DIGITS: f64 = 0.64;
/// The same beside small words, which would lose them otherwise.
const SMALL_DIGITS: f64 = 0.7;
/// No digit of a fraction is smaller than this beside words that are not.
const LEAST: f64 = 10.0;
/// Size of figures read at the bench, and of the digits of their fractions.
pub const BENCH: f64 = 9.6;
const BENCH_DIGITS: f64 = 8.0;
/// The space before a fraction, as a share of the usual.
const SPACE: f64 = 0.6;
/// Between a number of a fraction and the bar, and half as thick as the bar, as shares of the
/// digits.
const GAP: f64 = 0.13;
const BAR: f64 = 0.09;

/// The same words with their proper fractions stacked; `5/4`, a board's thickness, stays in line.
pub fn stacked(words: &str) -> String {
    let signs: Vec<char> = words.chars().collect();
    let number = |signs: &[char]| signs.iter().collect::<String>().parse::<u32>().ok();
    let is_digit = |i: usize| signs.get(i).is_some_and(char::is_ascii_digit);
    let proper = |at: usize| {
        let from = (0..at).rev().find(|&i| !is_digit(i)).map_or(0, |i| i + 1);
        let to = (at + 1..).find(|&i| !is_digit(i)).unwrap_or(at + 1);
        let before = from.checked_sub(1).map(|i| signs[i]);
        let stands_alone = before.is_none_or(|c| " (\u{a0}-".contains(c));
        let numbers = number(&signs[from..at]).zip(number(&signs[at + 1..to]));
        stands_alone && numbers.is_some_and(|(top, bottom)| top < bottom)
    };
    let sign = |(i, &c): (usize, &char)| if c == '/' && proper(i) { SLASH } else { c };
    signs.iter().enumerate().map(sign).collect()
}

/// The same words with every fraction in line, as they are searched for.
pub fn in_line(words: &str) -> String {
    words.replace(SLASH, "/")
}

/// A piece of words as they are set.
enum Part<'a> {
    Words(&'a str),
    Space,
    Fraction(&'a str, &'a str),
}

fn parts(words: &str) -> Vec<Part<'_>> {
    let digit = |c: char| c.is_ascii_digit();
    let mut parts = Vec::new();
    let mut rest = words;
    while let Some((before, after)) = rest.split_once(SLASH) {
        let text = before.trim_end_matches(digit);
        let end = after.find(|c| !digit(c)).unwrap_or(after.len());
        let whole = text.strip_suffix(' ');
        parts.push(Part::Words(whole.unwrap_or(text)));
        parts.extend(whole.map(|_| Part::Space));
        parts.push(Part::Fraction(&before[text.len()..], &after[..end]));
        rest = &after[end..];
    }
    parts.push(Part::Words(rest));
    parts
}

/// Height of a fraction's digits beside words of `size`.
fn digits(size: f64) -> f64 {
    match size {
        size if (size - BENCH).abs() < 1e-9 => BENCH_DIGITS,
        size if size < LEAST => size * SMALL_DIGITS,
        size => (size * DIGITS).max(LEAST),
    }
}

/// How far words with stacked fractions run.
pub fn width(words: &str, size: f64, weight: Weight) -> f64 {
    let small = digits(size);
    let of_part = |part: Part| match part {
        Part::Words(words) => font::width(words, size, weight),
        Part::Space => font::width(" ", size, weight) * SPACE,
        Part::Fraction(top, bottom) => {
            let of = |number| font::width(number, small, weight);
            of(top).max(of(bottom)) + small * 0.1
        }
    };
    parts(words).into_iter().map(of_part).sum()
}

/// How far a fraction reaches above and below the base line.
pub fn reach(size: f64) -> (f64, f64) {
    let half = digits(size) * (font::CAPITAL + GAP + BAR / 2.0);
    let middle = size * font::CAPITAL / 2.0;
    (half + middle, half - middle)
}

/// A text with stacked fractions as texts in line and the bars between them.
pub fn set(text: &Text) -> Vec<Shape> {
    let small = digits(text.size);
    let middle = text.size * font::CAPITAL / 2.0;
    let start = text.start();
    let at = |along: f64, down: f64| match text.upward {
        true => Point::new(start.x + down, start.y - along),
        false => Point::new(start.x + along, start.y + down),
    };
    let write = |words: &str, size: f64, along: f64, down: f64| {
        Shape::Text(Text {
            words: words.to_owned(),
            at: at(along, down),
            size,
            anchor: Anchor::Start,
            ..text.clone()
        })
    };
    let mut shapes = Vec::new();
    let mut along = 0.0;
    for part in parts(&text.words) {
        match part {
            Part::Words(words) => {
                if !words.is_empty() {
                    shapes.push(write(words, text.size, along, 0.0));
                }
                along += font::width(words, text.size, text.weight);
            }
            Part::Space => along += font::width(" ", text.size, text.weight) * SPACE,
            Part::Fraction(top, bottom) => {
                let [over, under] = [top, bottom].map(|n| font::width(n, small, text.weight));
                let wide = over.max(under) + small * 0.1;
                let bar = -middle;
                let gap = small * (GAP + BAR / 2.0);
                shapes.push(write(top, small, along + (wide - over) / 2.0, bar - gap));
                let below = bar + gap + small * font::CAPITAL;
                shapes.push(write(bottom, small, along + (wide - under) / 2.0, below));
                shapes.push(Shape::Stroke {
                    points: vec![at(along, bar), at(along + wide, bar)],
                    width: small * BAR,
                    ink: text.ink,
                });
                along += wide;
            }
        }
    }
    shapes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_proper_fractions_are_stacked() {
        let told = |words: &str| stacked(words).replace(SLASH, "|");
        assert_eq!(told("20 3/8 × 7 15/16"), "20 3|8 × 7 15|16");
        assert_eq!(told("(1/2)"), "(1|2)");
        assert_eq!(told("5/4"), "5/4", "a thickness in quarters");
        assert_eq!(told("a/b 3/ /8 1/2/3"), "a/b 3/ /8 1|2/3");
        assert_eq!(in_line(&stacked("20 3/8")), "20 3/8");
    }

    #[test]
    fn the_numbers_of_a_fraction_stand_above_one_another_and_fill_what_was_measured() {
        let text = Text::new(stacked("20 15/16"), 10.0, 50.0, 16.0);
        let extent = text.extent();
        let shapes = set(&text);
        let texts: Vec<&Text> = shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Text(text) => Some(text),
                _ => None,
            })
            .collect();
        let words: Vec<&str> = texts.iter().map(|text| text.words.as_str()).collect();
        assert_eq!(words, ["20", "15", "16"]);
        for text in &texts {
            assert!(extent.holds(&text.extent(), text.size * 0.23), "{text:?}");
            assert!(text.size >= 10.0);
        }
        assert!(texts[1].at.y < texts[2].at.y - 7.0, "one above the other");
        assert!(!texts[1].extent().overlaps(&texts[0].extent(), 0.0));
    }
}
