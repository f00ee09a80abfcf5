//! The numbers lengths are written with, exact.

use super::LengthError;
use super::length::NM_PER_MM;

/// An exact number: numerator over denominator, the denominator above zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ratio(pub i128, pub i128);

/// 100 m: so far beyond any board that sums and products of lengths can't overflow.
const LONGEST_NM: i128 = 100_000 * NM_PER_MM as i128;
/// More digits before the point are a slip, and would not fit.
const MOST_DIGITS: usize = 12;
/// A billionth of a millimetre is beyond measuring; digits past it change no nanometre.
const MOST_DECIMALS: usize = 12;
/// Denominators makers write: halves to 128ths, and what thirds, fifths and tenths make.
const USUAL: [i128; 14] = [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64, 100, 128];

impl Ratio {
    /// The nearest whole number of nanometres in this many units of `nm` each.
    pub(super) fn times(self, nm: i128) -> Result<i128, LengthError> {
        // 24 digits at most, so top x nm stays below the reach of 128 bits.
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
    if bottom.1 != 1 {
        return Err(LengthError::NoNumber);
    }
    if top.1 != 1 {
        // `8.3/8`: the point stands where a space belongs.
        let (whole, part) = (top.0 / top.1, top.0 % top.1);
        let meant = (part > 0 && part < bottom.0).then(|| format!("{whole} {part}/{}", bottom.0));
        return Err(LengthError::DecimalOver { meant });
    }
    Ok(Ratio(top.0, bottom.0))
}

/// A fraction in a length that no tape shows, such as `13/17`: probably a slip.
pub fn odd_fraction(text: &str) -> Option<String> {
    let text = super::plain::plain(text);
    let (before, after) = text.split_once('/')?;
    let top: String = digits(before.chars().rev()).chars().rev().collect();
    let bottom = digits(after.chars());
    let odd = bottom.parse::<i128>().ok().filter(|n| !USUAL.contains(n));
    odd.filter(|_| !top.is_empty())
        .map(|bottom| format!("{top}/{bottom}"))
}

fn digits(chars: impl Iterator<Item = char>) -> String {
    chars.take_while(char::is_ascii_digit).collect()
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
    let whole = whole.trim_start_matches('0');
    if whole.len() > MOST_DIGITS {
        return Err(LengthError::TooLong);
    }
    let part = &part[..part.len().min(MOST_DECIMALS)];
    let digits = format!("0{whole}{part}");
    let top = digits.parse().map_err(|_| LengthError::NoNumber)?;
    let bottom = (0..part.len()).fold(1, |ten, _| ten * 10);
    Ok((Ratio(top, bottom), rest))
}

#[cfg(test)]
mod tests {
    use super::odd_fraction;

    #[test]
    fn only_fractions_no_tape_shows_are_odd() {
        for text in [
            "11 3/8",
            "7' 10 1/2\"",
            "⅓",
            "5/12",
            "289",
            "49/64",
            "3/100",
            "5/4",
        ] {
            assert_eq!(odd_fraction(text), None, "{text}");
        }
        assert_eq!(odd_fraction("11 13/17").as_deref(), Some("13/17"));
        assert_eq!(odd_fraction("7/9\"").as_deref(), Some("7/9"));
    }
}
