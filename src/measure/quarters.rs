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

    /// The thickness lumber is counted at, in whole quarters of an inch, and at least 4.
    ///
    /// Stock thinner than one inch counts as one inch (AHEC/NHLA, The Illustrated Guide to
    /// American Hardwood Lumber Grades, Measurement section). Rough boards may be scant once they
    /// are dry: a measured thickness counts as the thickest one that is sold whose
    /// least measure it reaches (`tests/data/facts/surfaced_thickness.csv`). Whole
    /// quarters that nobody sells, `9/4`, count as written.
    pub fn nominal_quarters(self) -> i64 {
        if self.nm() % QUARTER == 0 {
            return (self.nm() / QUARTER).max(4);
        }
        let sold = quarters_sold().take_while(|&q| Length::scant(q) <= self);
        sold.last().unwrap_or(4)
    }

    /// The least that a dry rough board of this many quarters may measure: 1/16 in less, from 2 in
    /// on 1/8 in.
    ///
    /// Source: NHLA, Rules for the Measurement and Inspection of Hardwood and Cypress 2023, p. 56,
    /// as quoted in NHLA Rules Corner of 28 February 2025.
    pub fn scant(quarters: i64) -> Length {
        let less = if quarters < 8 { 16 } else { 8 };
        Length::from_nm(quarters * QUARTER - NM_PER_INCH / less)
    }
}

const QUARTER: i64 = NM_PER_INCH / 4;

/// Thicknesses of hardwood that are sold, from 1 in on: by quarters up to 2 in, then by halves.
///
/// Source: `tests/data/facts/surfaced_thickness.csv`, continued upward by halves.
pub fn quarters_sold() -> impl Iterator<Item = i64> {
    (4..=8).chain((10..=MOST_QUARTERS).step_by(2))
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

    #[derive(serde::Deserialize)]
    struct Sold {
        quarter_name: String,
        rough_kiln_dried_min_in: f64,
    }

    /// The published table; each row names its source.
    fn sold() -> Vec<(i64, f64)> {
        let text = include_str!("../../tests/data/facts/surfaced_thickness.csv");
        let rows = csv::Reader::from_reader(text.as_bytes()).into_deserialize::<Sold>();
        let rows = rows.map(|row| row.expect("the table is well formed"));
        rows.filter_map(|row| {
            let quarters = row.quarter_name.strip_suffix("/4")?.parse().ok()?;
            Some((quarters, row.rough_kiln_dried_min_in))
        })
        .collect()
    }

    #[test]
    fn a_scant_board_counts_as_what_it_was_sold_as_down_to_the_published_least() {
        let counted = |inches| Length::from_inches(inches).nominal_quarters();
        let sold = sold();
        assert_eq!(sold.len(), 9);
        for pair in sold.windows(2) {
            let ((below, _), (quarters, least)) = (pair[0], pair[1]);
            assert_eq!(counted(least), quarters, "{least}");
            assert_eq!(counted(least + 1.0 / 64.0), quarters, "{least} and a bit");
            assert_eq!(counted(least - 1.0 / 64.0), below, "{least} less a bit");
            assert_eq!(Length::scant(quarters), Length::from_inches(least));
        }
        assert_eq!(sold.first(), Some(&(4, 0.9375)));
        assert_eq!((counted(0.9375), counted(0.5)), (4, 4));
    }

    #[test]
    fn whole_quarters_count_as_written() {
        let counted =
            |text| Length::parse_thickness(text, Unit::Inch).map(Length::nominal_quarters);
        for (text, quarters) in [("5/4", 5), ("9/4", 9), ("8/4", 8), ("3/4", 4)] {
            assert_eq!(counted(text), Ok(quarters), "{text}");
        }
        assert_eq!(counted("2 1/16"), Ok(8));
    }
}
