//! Reading a length in any notation a maker writes.

use super::date::fraction_of_date;
use super::length::{NM_PER_INCH, NM_PER_MM};
use super::number::{Ratio, take_number};
use super::plain::plain;
use super::{Length, Unit};

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    /// Nothing is written.
    #[error("it is empty")]
    Empty,
    /// No number where one belongs.
    #[error("there is no number where one belongs")]
    NoNumber,
    /// A decimal comma or a thousands comma: which of the two can't be told.
    #[error("a comma can mean two things in a number")]
    Comma,
    /// A fraction over nothing.
    #[error("a fraction can't be over 0")]
    OverZero,
    /// A whole number followed by a fraction of one or more.
    #[error("the fraction after a whole number is 1 or more")]
    TopHeavy,
    /// Twelve inches or more after feet.
    #[error("the inches after feet are 12 or more")]
    InchesOverFeet,
    /// A unit that is none of ours.
    #[error("`{0}` is no unit of length known here")]
    UnknownUnit(String),
    /// Something after the end of the length.
    #[error("`{0}` is left over after the length")]
    LeftOver(String),
    /// Longer than any board.
    #[error("no board is that long")]
    TooLong,
    /// A decimal number over another number: `8.3/8`.
    #[error("a number with decimals can't stand over another")]
    DecimalOver {
        /// What was probably meant, where that is a length: `8 3/8`.
        meant: Option<String>,
    },
    /// A date, which a spreadsheet makes of a fraction.
    #[error("it is a date, which a spreadsheet made of {meant}")]
    Date {
        /// What was probably typed.
        meant: String,
    },
}

impl Length {
    /// Reads a length: `11 3/8`, `11-3/8`, `11.375`, `11 3/8"`, `7' 10 1/2"`, `7'`, `289 mm`,
    /// `28.9 cm`, `2.4 m`; a number without a unit is in `unit`.
    ///
    /// Curly quotes and fraction characters (`⅜`) read as their plain forms. The result is
    /// the nearest whole nanometre, exact for inches by 64ths and millimetres by six places.
    /// A leading minus is read, so that whoever asks for a positive length can say so.
    ///
    /// # Errors
    /// [`LengthError`] when the text is not a length, or one beyond 100 m.
    ///
    /// ```
    /// use grainrow::measure::{Length, Unit};
    ///
    /// let written = Length::parse("7' 10 1/2\"", Unit::Mm);
    /// assert_eq!(written, Ok(Length::from_inches(94.5)));
    /// assert_eq!(Length::parse("289", Unit::Mm), Ok(Length::from_mm(289.0)));
    /// ```
    pub fn parse(text: &str, unit: Unit) -> Result<Length, LengthError> {
        let text = plain(text);
        if text.is_empty() {
            return Err(LengthError::Empty);
        }
        let (negative, rest) = match text.strip_prefix('-') {
            Some(rest) => (true, rest.trim_start()),
            None => (false, text.strip_prefix('+').unwrap_or(&text).trim_start()),
        };
        let nm = unsigned(rest, unit).map_err(|why| match fraction_of_date(&text) {
            Some(meant) => LengthError::Date { meant },
            None => why,
        })?;
        let length = Length::from_nm(i64::try_from(nm).map_err(|_| LengthError::TooLong)?);
        Ok(if negative { -length } else { length })
    }
}

/// Nanometres of a length without its sign.
fn unsigned(text: &str, unit: Unit) -> Result<i128, LengthError> {
    let (number, rest) = take_number(text)?;
    let (word, rest) = take_unit(rest);
    match word {
        "'" | "ft" | "foot" | "feet" => feet_and_inches(number, rest),
        word => {
            let nm = number.times(nm_per(word, unit)?)?;
            nothing_left(rest)?;
            Ok(nm)
        }
    }
}

fn feet_and_inches(feet: Ratio, rest: &str) -> Result<i128, LengthError> {
    let feet_nm = feet.times(12 * i128::from(NM_PER_INCH))?;
    // Architects join feet and inches by a hyphen: 7'-10 1/2".
    let rest = rest.strip_prefix('-').unwrap_or(rest).trim_start();
    if rest.is_empty() {
        return Ok(feet_nm);
    }
    let (inches, rest) = take_number(rest)?;
    if inches.0 >= 12 * inches.1 {
        return Err(LengthError::InchesOverFeet);
    }
    let (word, rest) = take_unit(rest);
    if !matches!(word, "" | "\"" | "in" | "inch" | "inches") {
        return Err(LengthError::LeftOver(word.to_owned()));
    }
    nothing_left(rest)?;
    Ok(feet_nm + inches.times(NM_PER_INCH.into())?)
}

fn nothing_left(rest: &str) -> Result<(), LengthError> {
    if rest.is_empty() {
        Ok(())
    } else {
        Err(LengthError::LeftOver(rest.to_owned()))
    }
}

/// Nanometres in the unit a word names; no word means the job's unit.
fn nm_per(word: &str, unit: Unit) -> Result<i128, LengthError> {
    let nm = match (word, unit) {
        ("\"" | "in" | "inch" | "inches", _) | ("", Unit::Inch) => NM_PER_INCH,
        ("mm", _) | ("", Unit::Mm) => NM_PER_MM,
        ("cm", _) => 10 * NM_PER_MM,
        ("m", _) => 1000 * NM_PER_MM,
        _ => return Err(LengthError::UnknownUnit(word.to_owned())),
    };
    Ok(nm.into())
}

/// Splits off a unit mark or word; what follows it is trimmed.
fn take_unit(text: &str) -> (&str, &str) {
    let text = text.trim_start();
    let end = match text.chars().next() {
        Some(mark @ ('\'' | '"')) => mark.len_utf8(),
        _ => text
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(text.len()),
    };
    let (word, rest) = text.split_at(end);
    // "in." is how many write it; a stop after a word says nothing.
    let rest = match word {
        "" | "'" | "\"" => rest,
        _ => rest.strip_prefix('.').unwrap_or(rest),
    };
    (word, rest.trim_start())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::measure::Ruler;

    fn inch(text: &str) -> Result<Length, LengthError> {
        Length::parse(text, Unit::Inch)
    }

    #[test]
    fn every_way_to_write_eleven_and_three_eighths_is_the_same() {
        let forms = [
            "11 3/8",
            "11-3/8",
            "11.375",
            "11 3/8\"",
            "11⅜",
            "11⅜”",
            "11 ⅜ in",
            "11 3/8 in.",
            " 11  3/8 ",
            "11-3/8''",
            "11 3⁄8",
            "0' 11 3/8\"",
            "+11 3/8",
            "91/8",
            "288.925 mm",
            "28.8925cm",
            ".288925 m",
            "11‑3/8",
            "11 – 3/8",
            "11 6/16",
            "11 3/8 INCHES",
        ];
        for form in forms {
            assert_eq!(inch(form), Ok(Length::from_nm(288_925_000)), "{form}");
        }
    }

    #[test]
    fn feet_go_with_or_without_inches() {
        let ninety_four_and_a_half = Ok(Length::from_inches(94.5));
        for form in [
            "7' 10 1/2\"",
            "7'10 1/2",
            "7'-10 1/2\"",
            "7’ 10½”",
            "7 ft 10.5 in",
            "7ft. 10-1/2",
            "7.875'",
            "7 7/8 ft",
            "7 feet 10 1/2 inches",
        ] {
            assert_eq!(
                Length::parse(form, Unit::Mm),
                ninety_four_and_a_half,
                "{form}"
            );
        }
        assert_eq!(inch("7'"), Ok(Length::from_inches(84.0)));
    }

    #[test]
    fn a_bare_number_is_in_the_jobs_unit() {
        assert_eq!(Length::parse("289", Unit::Mm), Ok(Length::from_mm(289.0)));
        assert_eq!(inch("289"), Ok(Length::from_inches(289.0)));
        assert_eq!(inch("289 mm"), Ok(Length::from_mm(289.0)));
        assert_eq!(
            Length::parse("2.4 m", Unit::Mm),
            Ok(Length::from_mm(2400.0))
        );
        assert_eq!(
            Length::parse("28.9 cm", Unit::Mm),
            Ok(Length::from_mm(289.0))
        );
    }

    #[test]
    fn many_decimals_are_read_to_the_nearest_nanometre() {
        let eleven = Ok(Length::from_inches(11.375));
        assert_eq!(inch("11.3750000000000000000000000001"), eleven);
        assert_eq!(inch("11.37499999999999999"), eleven);
        assert_eq!(inch("000000000000000011.375"), eleven);
        assert_eq!(inch("0.33333333333333333"), inch("1/3"));
    }

    #[test]
    fn a_minus_is_read_and_covers_the_fraction_too() {
        assert_eq!(inch("-1 3/8"), Ok(-Length::from_inches(1.375)));
        assert_eq!(inch("−3"), Ok(-Length::from_inches(3.0)));
    }

    #[test]
    fn what_is_no_length_says_why() {
        use LengthError::*;
        for (text, why) in [
            ("", Empty),
            ("  ", Empty),
            ("x", NoNumber),
            ("\"", NoNumber),
            ("1.2.3", NoNumber),
            (".", NoNumber),
            ("1/", NoNumber),
            ("1/2.5", NoNumber),
            ("11 3/", NoNumber),
            ("11,375", Comma),
            ("3/0", OverZero),
            ("11 9/8", TopHeavy),
            ("1.5 3/8", TopHeavy),
            ("7' 12\"", InchesOverFeet),
            ("12 furlongs", UnknownUnit("furlongs".into())),
            ("12 in x", LeftOver("x".into())),
            ("7' 3\" 4", LeftOver("4".into())),
            ("7' 3 mm", LeftOver("mm".into())),
            ("12 11", LeftOver("11".into())),
            ("101 m", TooLong),
            ("9999999999999999999999", TooLong),
            ("0.5/0", OverZero),
            (
                "8.3/8",
                DecimalOver {
                    meant: Some("8 3/8".into()),
                },
            ),
            ("8.16 / 8", LeftOver("/ 8".into())),
            ("8.16/8", DecimalOver { meant: None }),
            (
                "4-May",
                Date {
                    meant: "5/4".into(),
                },
            ),
            (
                "8-Jan",
                Date {
                    meant: "1/8".into(),
                },
            ),
        ] {
            assert_eq!(inch(text), Err(why), "{text:?}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn what_is_printed_in_64ths_reads_back_the_same(parts in -200_000i64..200_000) {
            let length = Length::from_nm(parts * NM_PER_INCH / 64);
            let ruler = Ruler { unit: Unit::Inch, fraction: 64 };
            prop_assert_eq!(inch(&ruler.show(length)), Ok(length));
            prop_assert_eq!(Length::parse(&ruler.show_with_unit(length), Unit::Mm), Ok(length));
        }

        #[test]
        fn what_is_printed_in_tenths_of_a_millimetre_reads_back_the_same(tenths in -50_000i64..50_000) {
            let length = Length::from_nm(tenths * NM_PER_MM / 10);
            let ruler = Ruler { unit: Unit::Mm, fraction: 16 };
            prop_assert_eq!(Length::parse(&ruler.show(length), Unit::Mm), Ok(length));
            prop_assert_eq!(inch(&ruler.show_with_unit(length)), Ok(length));
        }

        #[test]
        fn printing_is_off_by_at_most_half_a_fraction(nm in 0i64..5_000_000_000, power in 3u32..=6) {
            let ruler = Ruler { unit: Unit::Inch, fraction: 1 << power };
            let read = inch(&ruler.show(Length::from_nm(nm))).unwrap();
            let off = (read.nm() - nm).abs();
            prop_assert!(2 * off <= NM_PER_INCH / i64::from(ruler.fraction));
        }

        #[test]
        fn decimals_of_a_millimetre_are_exact_to_six_places(nm in 0i64..9_000_000_000) {
            let written = format!("{}.{:06} mm", nm / NM_PER_MM, nm % NM_PER_MM);
            prop_assert_eq!(inch(&written), Ok(Length::from_nm(nm)));
        }

        #[test]
        fn no_text_makes_it_panic(text in "\\PC*") {
            let _ = inch(&text);
        }

        #[test]
        fn no_near_length_makes_it_panic(text in "[-+0-9 ./'\"⅜’inftcm,]{0,24}") {
            let _ = Length::parse(&text, Unit::Mm);
        }
    }
}
