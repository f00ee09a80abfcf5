//! A length as an exact whole number of nanometres.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length, exact: a whole number of nanometres.
///
/// One inch is 25 400 000 nm and 1/64 in is 396 875 nm, so fractions of an inch down to
/// 64ths and decimals of a millimetre down to six places are both held without rounding.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// The unit a job is written and printed in.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum Unit {
    /// Inches, printed as fractions.
    #[default]
    Inch,
    /// Millimetres, printed whole unless halves or tenths are asked for.
    Mm,
}

/// How lengths are printed: the unit, and the finest part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ruler {
    /// The unit printed.
    pub unit: Unit,
    /// Finest parts of the unit: 8, 16, 32 or 64 of an inch; 1, 2 or 10 of a millimetre. A
    /// number that belongs to the other unit prints sixteenths of an inch, or tenths of a
    /// millimetre.
    pub fraction: u32,
}

/// Nanometres in an inch (exact since 1959: international yard and pound agreement).
pub const NM_PER_INCH: i64 = 25_400_000;
/// Nanometres in a millimetre.
pub const NM_PER_MM: i64 = 1_000_000;

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0);

    /// A length of `nm` nanometres.
    pub const fn from_nm(nm: i64) -> Length {
        Length(nm)
    }

    /// The nearest whole nanometre to `inches`.
    pub fn from_inches(inches: f64) -> Length {
        Length((inches * NM_PER_INCH as f64).round() as i64)
    }

    /// The nearest whole nanometre to `mm` millimetres.
    pub fn from_mm(mm: f64) -> Length {
        Length((mm * NM_PER_MM as f64).round() as i64)
    }

    /// The nearest whole nanometre to `value` in `unit`.
    pub fn from_unit(value: f64, unit: Unit) -> Length {
        match unit {
            Unit::Inch => Length::from_inches(value),
            Unit::Mm => Length::from_mm(value),
        }
    }

    /// A usual size that is a round number in either unit: `inches`, or in a metric shop `mm`.
    pub fn round_in(unit: Unit, inches: f64, mm: f64) -> Length {
        match unit {
            Unit::Inch => Length::from_inches(inches),
            Unit::Mm => Length::from_mm(mm),
        }
    }

    /// Whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// Inches, as the nearest floating-point number.
    pub fn inches(self) -> f64 {
        self.0 as f64 / NM_PER_INCH as f64
    }

    /// Millimetres, as the nearest floating-point number.
    pub fn mm(self) -> f64 {
        self.0 as f64 / NM_PER_MM as f64
    }

    /// The number of `unit`s, as the nearest floating-point number.
    pub fn in_unit(self, unit: Unit) -> f64 {
        match unit {
            Unit::Inch => self.inches(),
            Unit::Mm => self.mm(),
        }
    }

    /// Not less than zero.
    pub fn at_least_zero(self) -> Length {
        Length(self.0.max(0))
    }

    /// Half of it, the odd nanometre dropped.
    pub fn half(self) -> Length {
        Length(self.0 / 2)
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0 * times)
    }
}

impl Div<i64> for Length {
    type Output = Length;
    fn div(self, parts: i64) -> Length {
        Length(self.0 / parts)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(iter: I) -> Length {
        iter.fold(Length::ZERO, Add::add)
    }
}

impl Default for Ruler {
    fn default() -> Ruler {
        Ruler {
            unit: Unit::Inch,
            fraction: 16,
        }
    }
}

impl Ruler {
    /// The ruler a job in `unit` is printed with unless it says otherwise: sixteenths of an inch,
    /// or whole millimetres.
    pub fn of(unit: Unit) -> Ruler {
        let fraction = match unit {
            Unit::Inch => 16,
            Unit::Mm => 1,
        };
        Ruler { unit, fraction }
    }

    /// The same unit in its finest parts: 64ths of an inch, tenths of a millimetre.
    pub fn finest(self) -> Ruler {
        let fraction = match self.unit {
            Unit::Inch => 64,
            Unit::Mm => 10,
        };
        Ruler { fraction, ..self }
    }

    /// Parts of the unit that are printed.
    fn parts(&self) -> i64 {
        match (self.unit, self.fraction) {
            (Unit::Inch, parts @ 8..) => i64::from(parts),
            (Unit::Inch, _) => 16,
            (Unit::Mm, parts @ (1 | 2)) => i64::from(parts),
            (Unit::Mm, _) => 10,
        }
    }

    /// The least length printed: 1/16 in, or 1 mm.
    pub fn step(&self) -> Length {
        let unit = match self.unit {
            Unit::Inch => NM_PER_INCH,
            Unit::Mm => NM_PER_MM,
        };
        Length(unit / self.parts())
    }

    /// Writes a length as a maker reads it: `11 3/8` (no mark for the unit), or `289` for mm.
    ///
    /// Rounded to the nearest [`Ruler::step`], halves away from zero.
    pub fn show(&self, length: Length) -> String {
        match self.unit {
            Unit::Mm => show_mm(length, self.parts()),
            Unit::Inch => show_inches(length, self.parts()),
        }
    }

    /// The ruler for a finished size: itself, or the finest one for a length that its own parts
    /// do not show. A front fitted to its opening seldom measures whole sixteenths.
    pub fn for_finished(self, length: Length) -> Ruler {
        match length.nm() % self.step().nm() {
            0 => self,
            _ => self.finest(),
        }
    }

    /// The same with its unit: `11 3/8 in`, `289 mm`.
    pub fn show_with_unit(&self, length: Length) -> String {
        format!("{} {}", self.show(length), self.unit)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Unit::Inch => "in",
            Unit::Mm => "mm",
        })
    }
}

fn show_mm(length: Length, parts: i64) -> String {
    let tenths = div_round(length.nm(), NM_PER_MM / parts) * (10 / parts);
    if tenths % 10 == 0 {
        format!("{}", tenths / 10)
    } else {
        let sign = if tenths < 0 { "-" } else { "" };
        format!("{sign}{}.{}", tenths.abs() / 10, tenths.abs() % 10)
    }
}

fn show_inches(length: Length, denominator: i64) -> String {
    let parts = div_round(length.nm(), NM_PER_INCH / denominator);
    let sign = if parts < 0 { "-" } else { "" };
    let (whole, mut top, mut bottom) = (
        parts.abs() / denominator,
        parts.abs() % denominator,
        denominator,
    );
    while top != 0 && top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    match (whole, top) {
        (w, 0) => format!("{sign}{w}"),
        (0, t) => format!("{sign}{t}/{bottom}"),
        (w, t) => format!("{sign}{w} {t}/{bottom}"),
    }
}

/// Nearest whole number of `unit`s in `value`, halves away from zero.
fn div_round(value: i64, unit: i64) -> i64 {
    let half = unit / 2;
    if value >= 0 {
        (value + half) / unit
    } else {
        -((-value + half) / unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(fraction: u32, mm: f64) -> String {
        let unit = Unit::Mm;
        Ruler { unit, fraction }.show(Length::from_mm(mm))
    }

    #[test]
    fn millimetres_are_whole_unless_halves_are_asked_for() {
        assert_eq!(Ruler::of(Unit::Mm).show(Length::from_mm(289.4)), "289");
        assert_eq!(
            [289.5, -289.5, 0.4].map(|mm| shown(1, mm)),
            ["290", "-290", "0"]
        );
        assert_eq!(
            [289.2, 289.3, -0.5].map(|mm| shown(2, mm)),
            ["289", "289.5", "-0.5"]
        );
        assert_eq!(shown(10, 289.26), "289.3");
    }

    #[test]
    fn a_ruler_turned_to_the_other_unit_prints_parts_of_that_one() {
        let length = Length::from_inches(11.375);
        let turned = |ruler: Ruler, unit| Ruler { unit, ..ruler }.show(length);
        assert_eq!(turned(Ruler::of(Unit::Inch), Unit::Mm), "288.9");
        assert_eq!(turned(Ruler::of(Unit::Mm), Unit::Inch), "11 3/8");
    }

    #[test]
    fn a_finished_size_is_shown_as_finely_as_it_takes() {
        let ruler = Ruler::of(Unit::Mm);
        let shown = |mm| {
            let length = Length::from_mm(mm);
            ruler.for_finished(length).show(length)
        };
        assert_eq!([397.0, 397.3].map(shown), ["397", "397.3"]);
    }
}
