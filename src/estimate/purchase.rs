//! A purchase whose chance to suffice is asked for.

use crate::measure::{Length, Unit, decimal_points};

/// A purchase whose chance to suffice is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Purchase {
    /// Board feet, or litres where the job counts them.
    pub feet: f64,
    /// Of this thickness; `None` is all thicknesses together, in the shares each pile needs.
    pub thickness: Option<Length>,
}

impl Purchase {
    /// Reads `60` or `5/4=20` board feet; in a metric job `0.15` or `27=0.06` cubic metres.
    pub fn parse(text: &str, unit: Unit) -> Option<Purchase> {
        let (thickness, amount) = match text.split_once('=') {
            Some((thickness, amount)) => {
                let thickness = decimal_points(thickness.trim());
                (
                    Some(Length::parse_thickness(&thickness, unit).ok()?),
                    amount,
                )
            }
            None => (None, text),
        };
        let amount: f64 = decimal_points(amount.trim()).parse().ok()?;
        (amount.is_finite() && amount >= 0.0).then_some(Purchase {
            feet: amount * unit.volumes_in_bulk(),
            thickness,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_metric_purchase_is_cubic_metres_of_so_many_millimetres() {
        let read = |text| Purchase::parse(text, Unit::Mm).unwrap();
        assert_eq!(read("27=0.06").thickness, Some(Length::from_mm(27.0)));
        assert_eq!(
            [read("27=0.06"), read("27 = 0,06")].map(|p| p.feet),
            [60.0; 2]
        );
        assert_eq!((read("0.15").feet, read("0.15").thickness), (150.0, None));
    }

    #[test]
    fn one_in_inches_is_board_feet_of_so_many_quarters() {
        let read = Purchase::parse("5/4=20", Unit::Inch).unwrap();
        assert_eq!(
            (read.feet, read.thickness),
            (20.0, Some(Length::from_inches(1.25)))
        );
        for text in ["", "x", "5/4=", "=3", "-1", "5/4=nan"] {
            assert_eq!(Purchase::parse(text, Unit::Inch), None, "{text}");
        }
    }
}
