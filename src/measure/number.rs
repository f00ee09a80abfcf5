//! The numbers lengths are written with, exact.

use super::LengthError;
use super::length::NM_PER_MM;

/// An exact number: numerator over denominator, the denominator above zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ratio(pub i128, pub i128);

/// 100 m: so far beyond any board that sums and products of lengths can't overflow.
const LONGEST_NM: i128 = 100_000 * NM_PER_MM as i128;
/// More digits than this in one number are a slip, and would not fit.
const MOST_DIGITS: usize = 12;

impl Ratio {
    /// The nearest whole number of nanometres in this many units of `nm` each.
    pub(super) fn times(self, nm: i128) -> Result<i128, LengthError> {
        // Digits are at most 12, so top x nm stays far below the reach of 128 bits.
        let rounded = (2 * self.0 * nm + self.1) / (2 * self.1);
        if rounded > LONGEST_NM {
            return Err(LengthError::TooLong);
        }
        Ok(rounded)
    }
}

/// Splits off `11`, `11.375`, `3/8`, `11 3/8` or `11-3/8`.
pub(super) fn take_number(text: &str) -> Result<(Ratio, &str), LengthError> {
    let (first, rest) = take_decimal(text)?;
    if let Some(bottom) = rest.strip_prefix('/') {
        let (bottom, rest) = take_decimal(bottom)?;
        return Ok((over(first, bottom)?, rest));
    }
    let Some(next) = fraction_after(rest) else {
        return Ok((first, rest));
    };
    let (top, rest) = take_decimal(next)?;
    let (bottom, rest) = take_decimal(&rest[1..])?;
    let part = over(top, bottom)?;
    if first.1 != 1 || part.0 >= part.1 {
        return Err(LengthError::TopHeavy);
    }
    Ok((Ratio(first.0 * part.1 + part.0, part.1), rest))
}

/// What follows the space or hyphen before a fraction, when a fraction follows.
fn fraction_after(rest: &str) -> Option<&str> {
    let gap = rest.len() - rest.trim_start_matches([' ', '-']).len();
    // A space or a hyphen, or a hyphen with spaces about it; two hyphens are a slip.
    if gap == 0 || rest[..gap].matches('-').count() > 1 {
        return None;
    }
    let next = &rest[gap..];
    let digits = next.find(|c: char| !c.is_ascii_digit())?;
    (digits > 0 && next[digits..].starts_with('/')).then_some(next)
}

fn over(top: Ratio, bottom: Ratio) -> Result<Ratio, LengthError> {
    if bottom.0 == 0 {
        return Err(LengthError::OverZero);
    }
    if top.1 != 1 || bottom.1 != 1 {
        return Err(LengthError::NoNumber);
    }
    Ok(Ratio(top.0, bottom.0))
}

/// Splits off digits with at most one point; the number is exact.
fn take_decimal(text: &str) -> Result<(Ratio, &str), LengthError> {
    let end = text
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(text.len());
    let (written, rest) = text.split_at(end);
    if rest.starts_with(',') {
        return Err(LengthError::Comma);
    }
    let (whole, part) = written.split_once('.').unwrap_or((written, ""));
    if whole.is_empty() && part.is_empty() || part.contains('.') {
        return Err(LengthError::NoNumber);
    }
    if whole.len() + part.len() > MOST_DIGITS {
        return Err(LengthError::TooLong);
    }
    let digits = format!("{whole}{part}");
    let top = digits.parse().map_err(|_| LengthError::NoNumber)?;
    let bottom = (0..part.len()).fold(1, |ten, _| ten * 10);
    Ok((Ratio(top, bottom), rest))
}
