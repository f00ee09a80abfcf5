//! How much wood, counted the way a job counts it: in board feet or in litres.

use super::{BoardFeet, Length, Unit};

/// An amount of wood in a job's own unit of volume: board feet where the job is in inches,
/// litres where it is in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Volume(f64);

/// Litres in a board foot: 144 cubic inches of 16.387 064 ml each (exact since the inch is).
pub const LITRES_IN_BOARD_FOOT: f64 = 144.0 * 0.016_387_064;
/// Litres in a cubic metre.
pub const LITRES_IN_M3: f64 = 1000.0;
/// Cubic millimetres in a litre.
const MM3_IN_LITRE: f64 = 1e6;
/// So many litres and more are told in cubic metres.
const LARGE: f64 = 100.0;

impl Volume {
    /// None at all.
    pub const ZERO: Volume = Volume(0.0);

    /// From a plain number of board feet or litres.
    pub fn new(value: f64) -> Volume {
        // A sum of nothing is minus zero, which nobody wants to read.
        Volume(value + 0.0)
    }

    /// The exact volume of a piece: in inches its board feet, at least one inch thick (see
    /// [`BoardFeet::of_piece`]); in millimetres its litres as they are.
    pub fn of_piece(unit: Unit, length: Length, width: Length, thickness: Length) -> Volume {
        match unit {
            Unit::Inch => Volume(BoardFeet::of_piece(length, width, thickness).value()),
            Unit::Mm => Volume(length.mm() * width.mm() * thickness.mm() / MM3_IN_LITRE),
        }
    }

    /// The plain number.
    pub fn value(self) -> f64 {
        self.0
    }

    /// With its unit: `31.25 board feet`; `73.7 litres`, or from 100 litres on `0.213 m³`.
    pub fn show(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => format!("{:.2} board feet", self.0),
            Unit::Mm if self.0.abs() < LARGE => format!("{:.1} litres", self.0),
            Unit::Mm => format!("{} m³", self.in_bulk(unit)),
        }
    }

    /// The bare number in the unit wood is bought in ([`Unit::bulk`]): `31.25`, or `0.074`.
    pub fn in_bulk(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => format!("{:.2}", self.0),
            Unit::Mm => format!("{:.3}", self.0 / LITRES_IN_M3),
        }
    }
}

impl Unit {
    /// What volumes of a job in this unit are counted in.
    pub fn volumes(self) -> &'static str {
        match self {
            Unit::Inch => "board feet",
            Unit::Mm => "litres",
        }
    }

    /// One of them.
    pub fn one_volume(self) -> &'static str {
        match self {
            Unit::Inch => "board foot",
            Unit::Mm => "litre",
        }
    }

    /// What wood is bought in by a maker who measures in this unit.
    pub fn bulk(self) -> &'static str {
        match self {
            Unit::Inch => "board feet",
            Unit::Mm => "m³",
        }
    }

    /// Litres or board feet in one of [`Unit::bulk`].
    pub fn volumes_in_bulk(self) -> f64 {
        match self {
            Unit::Inch => 1.0,
            Unit::Mm => LITRES_IN_M3,
        }
    }
}

/// The names of a job's figures in JSON: `feet` in a name is `litres` where the job is in
/// millimetres. Names are those strings that stand before a colon.
pub fn volume_names(unit: Unit, json: &str) -> String {
    if unit == Unit::Inch {
        return json.to_owned();
    }
    let mut renamed = String::with_capacity(json.len());
    let mut rest = json;
    while let Some(start) = rest.find('"') {
        let end = start + 1 + end_of_string(&rest[start + 1..]);
        let (before, string) = (&rest[..start], &rest[start..end]);
        renamed.push_str(before);
        rest = &rest[end..];
        match rest.trim_start().starts_with(':') {
            true => renamed.push_str(&string.replace("feet", "litres")),
            false => renamed.push_str(string),
        }
    }
    renamed + rest
}

/// Where a string whose opening mark is gone has its closing mark behind it.
fn end_of_string(text: &str) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_litre_is_a_cube_of_a_hundred_millimetres() {
        let hundred = Length::from_mm(100.0);
        let volume = |unit| Volume::of_piece(unit, hundred, hundred, hundred).value();
        assert_eq!(volume(Unit::Mm), 1.0);
        // NIST Special Publication 811, Appendix B.9: 1 board foot is 2.359 737 E-03 cubic metre.
        assert!((1.0 / volume(Unit::Inch) - 2.359_737).abs() < 5e-7);
        assert!((LITRES_IN_BOARD_FOOT - 2.359_737).abs() < 5e-7);
    }

    #[test]
    fn thin_wood_counts_as_it_is_in_litres_only() {
        let (long, wide) = (Length::from_mm(1000.0), Length::from_mm(100.0));
        let volume = |unit, mm| Volume::of_piece(unit, long, wide, Length::from_mm(mm)).value();
        assert_eq!(volume(Unit::Mm, 12.0), 1.2);
        assert_eq!(volume(Unit::Inch, 12.0), volume(Unit::Inch, 25.4));
    }

    #[test]
    fn small_volumes_are_litres_and_large_ones_cubic_metres() {
        assert_eq!(Volume::new(73.74).show(Unit::Mm), "73.7 litres");
        assert_eq!(Volume::new(212.6).show(Unit::Mm), "0.213 m³");
        assert_eq!(Volume::new(31.25).show(Unit::Inch), "31.25 board feet");
    }

    #[test]
    fn names_change_and_values_do_not() {
        let json = r#"{ "feet_used": 2, "why \" feet\": ": "feet: 3", "feet" : ["feet"] }"#;
        assert_eq!(volume_names(Unit::Inch, json), json);
        assert_eq!(
            volume_names(Unit::Mm, json),
            r#"{ "litres_used": 2, "why \" litres\": ": "feet: 3", "litres" : ["feet"] }"#
        );
    }
}
