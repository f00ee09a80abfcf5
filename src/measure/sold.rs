//! Thicknesses lumber is sold in.

use super::quarters::quarters_sold;
use super::{Length, Ruler, Unit};

/// Thin hardwood that is sold by quarters of an inch below 1 in.
///
/// Source: `tests/data/facts/surfaced_thickness.csv`.
const THIN: i64 = 3;

/// Preferred thicknesses of sawn hardwood in mm: EN 1313-2, from memory.
const METRIC: [f64; 10] = [20.0, 27.0, 32.0, 40.0, 50.0, 60.0, 65.0, 70.0, 80.0, 100.0];

/// The thinnest rough stock that is sold and is at least `need` thick however scant it may be:
/// `5/4`, or `27 mm`. What is thicker than all that is sold is told as it is.
pub fn thickness_sold(need: Length, unit: Unit) -> String {
    let ruler = Ruler {
        unit,
        ..Ruler::default()
    };
    let found = match unit {
        Unit::Inch => std::iter::once(THIN)
            .chain(quarters_sold())
            .find(|&quarters| Length::scant(quarters) >= need)
            .map(|quarters| format!("{quarters}/4")),
        Unit::Mm => METRIC
            .into_iter()
            .map(Length::from_mm)
            .find(|&thick| thick >= need)
            .map(|thick| ruler.show_with_unit(thick)),
    };
    found.unwrap_or_else(|| ruler.show_with_unit(need))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Least measures of dry rough boards: `tests/data/facts/surfaced_thickness.csv`.
    #[test]
    fn a_board_to_buy_is_of_a_thickness_that_is_sold_and_thick_enough_though_scant() {
        let sold = |inches| thickness_sold(Length::from_inches(inches), Unit::Inch);
        assert_eq!(sold(0.6875), "3/4");
        assert_eq!(sold(0.8125), "4/4");
        assert_eq!(sold(0.9375), "4/4");
        assert_eq!(sold(0.96875), "5/4", "4/4 may be as thin as 15/16");
        assert_eq!(sold(2.0), "10/4", "9/4 is not sold, and 8/4 may be scant");
        let metric = |mm| thickness_sold(Length::from_mm(mm), Unit::Mm);
        assert_eq!(metric(23.0), "27 mm");
        assert_eq!(metric(27.1), "32 mm");
    }
}
