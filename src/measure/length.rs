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
    /// Millimetres, printed with at most one decimal.
    Mm,
}

/// How lengths are printed: the unit, and for inches the finest fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ruler {
    /// The unit printed.
    pub unit: Unit,
    /// Finest denominator for inches: 8, 16, 32 or 64.
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
    /// Writes a length as a maker reads it: `11 3/8` (no mark for the unit), or `289` for mm.
    ///
    /// Rounded to the nearest fraction (halves away from zero), or to a tenth of a millimetre.
    pub fn show(&self, length: Length) -> String {
        match self.unit {
            Unit::Mm => show_mm(length),
            Unit::Inch => show_inches(length, i64::from(self.fraction)),
        }
    }

    /// The ruler for a finished size: itself, or in 64ths of an inch for a length that its own
    /// fraction does not show. A front fitted to its opening seldom measures whole sixteenths.
    pub fn for_finished(self, length: Length) -> Ruler {
        let step = NM_PER_INCH / i64::from(self.fraction);
        let fraction = match length.nm() % step {
            0 => self.fraction,
            _ => self.fraction.max(64),
        };
        Ruler { fraction, ..self }
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

fn show_mm(length: Length) -> String {
    let tenths = div_round(length.nm(), NM_PER_MM / 10);
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
