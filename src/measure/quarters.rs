//! Thickness as the trade writes it: quarters of an inch.

use super::length::NM_PER_INCH;
use super::plain::plain;
use super::{Length, LengthError, Unit};

/// Thicker than any lumber sold by quarters; `96/4` is a slip.
const MOST_QUARTERS: i64 = 64;

impl Length {
    /// Reads a board's thickness: quarters of an inch (`4/4`, `5/4`, `8/4`, whatever the
    /// job's unit) or a measured length as [`Length::parse`] reads it.
    ///
    /// # Errors
    /// [`LengthError`] when it is neither.
    ///
    /// ```
    /// use grainrow::measure::{Length, Unit};
    ///
    /// assert_eq!(Length::parse_thickness("5/4", Unit::Mm), Ok(Length::from_inches(1.25)));
    /// assert_eq!(Length::parse_thickness("27", Unit::Mm), Ok(Length::from_mm(27.0)));
    /// ```
    pub fn parse_thickness(text: &str, unit: Unit) -> Result<Length, LengthError> {
        match quarters(&plain(text)) {
            Some(quarters) => Ok(Length::from_nm(quarters * NM_PER_INCH / 4)),
            None => Length::parse(text, unit),
        }
    }

    /// Whole quarters of an inch in this thickness, and at least 4: the thickness lumber is
    /// counted at.
    ///
    /// Stock thinner than one inch counts as one inch (AHEC/NHLA, The Illustrated Guide to
    /// American Hardwood Lumber Grades, Measurement section); a measured thickness between
    /// quarters counts as the quarter it fills (common practice, no source).
    pub fn nominal_quarters(self) -> i64 {
        (self.nm() / (NM_PER_INCH / 4)).max(4)
    }
}

fn quarters(text: &str) -> Option<i64> {
    let top = text.strip_suffix("/4")?;
    let quarters = top.parse().ok()?;
    (1..=MOST_QUARTERS).contains(&quarters).then_some(quarters)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quarters_are_quarters_of_an_inch_in_any_unit() {
        for unit in [Unit::Inch, Unit::Mm] {
            for (text, inches) in [("4/4", 1.0), ("5/4", 1.25), ("6/4", 1.5), ("8/4", 2.0)] {
                let read = Length::parse_thickness(text, unit);
                assert_eq!(read, Ok(Length::from_inches(inches)), "{text}");
            }
        }
    }

    #[test]
    fn anything_else_is_a_measured_length() {
        let mm = |text| Length::parse_thickness(text, Unit::Mm);
        assert_eq!(mm("1 3/16\""), Ok(Length::from_inches(1.1875)));
        assert_eq!(mm("30"), Ok(Length::from_mm(30.0)));
        assert!(mm("thick").is_err());
    }

    #[test]
    fn a_measured_thickness_counts_as_the_quarter_it_fills() {
        let counted = |inches| Length::from_inches(inches).nominal_quarters();
        assert_eq!(counted(0.75), 4);
        assert_eq!(counted(1.1875), 4);
        assert_eq!(counted(1.25), 5);
        assert_eq!(counted(2.0625), 8);
    }
}
