//! Dates in cells that were meant to hold a fraction: what a spreadsheet makes of `5/4`.

/// The beginnings of month names in English, German and French, January first.
const MONTHS: [&[&str]; 12] = [
    &["jan"],
    &["feb", "fév", "fev"],
    &["mar", "mär", "mrz"],
    &["apr", "avr"],
    &["may", "mai"],
    &["jun", "juin"],
    &["jul", "juil"],
    &["aug", "aoû", "aou"],
    &["sep"],
    &["oct", "okt"],
    &["nov"],
    &["dec", "dez", "déc"],
];
/// No board is as many inches or millimetres wide as a year has in its number, beside two more
/// numbers.
const YEARS: std::ops::RangeInclusive<u32> = 1900..=2199;

/// The fraction that a date such as `4-may`, `jan 08` or `2024-05-04` was probably typed as
/// (`5/4`, `1/8`), or both when it can't be told; nothing when the text is no date.
pub(super) fn fraction_of_date(text: &str) -> Option<String> {
    let is_time = |word: &&str| word.contains(':');
    let words: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || matches!(c, '-' | '.' | '/'))
        .filter(|word| !word.is_empty() && !is_time(word))
        .collect();
    let number = |word: &str| word.parse::<u32>().ok().filter(|_| word.len() <= 4);
    let year = |word: &str| number(word).is_some_and(|year| YEARS.contains(&year));
    let (month, day) = match words[..] {
        [a, b] => named(a, b)?,
        [a, b, last] if year(last) => named(a, b).or_else(|| Some((number(b)?, number(a)?)))?,
        [first, month, day] if year(first) => (number(month)?, number(day)?),
        _ => return None,
    };
    if !(1..=12).contains(&month.min(day)) || !(1..=31).contains(&month.max(day)) {
        return None;
    }
    Some(typed(month, day))
}

/// The month and the day of two words, one of them a month's name.
fn named(a: &str, b: &str) -> Option<(u32, u32)> {
    let day = |word: &str| word.parse::<u32>().ok().filter(|day| *day <= 31);
    match (month(a), month(b)) {
        (Some(month), None) => Some((month, day(b)?)),
        (None, Some(month)) => Some((month, day(a)?)),
        _ => None,
    }
}

fn month(word: &str) -> Option<u32> {
    let begins = |names: &&[&str]| names.iter().any(|name| word.starts_with(name));
    let index = MONTHS.iter().position(begins)?;
    u32::try_from(index + 1).ok()
}

/// What makers type: quarters, or an odd number of halves, eighths and so on.
fn typed(month: u32, day: u32) -> String {
    let usual = |&(top, bottom): &(u32, u32)| {
        bottom > 1 && bottom.is_power_of_two() && (top % 2 == 1 || bottom == 4)
    };
    let both = [(month, day), (day, month)];
    let mut likely: Vec<(u32, u32)> = both.into_iter().filter(usual).collect();
    if likely.is_empty() {
        likely = both.to_vec();
    }
    likely.dedup();
    let written = likely.iter().map(|(top, bottom)| format!("{top}/{bottom}"));
    written.collect::<Vec<_>>().join(" or ")
}

#[cfg(test)]
mod tests {
    use super::fraction_of_date;

    /// What common spreadsheets show and export for the fractions on the right (from memory).
    #[test]
    fn dates_give_back_the_fraction_they_were_typed_as() {
        for (date, typed) in [
            ("4-may", "5/4"),
            ("may-04", "5/4"),
            ("8-jan", "1/8"),
            ("08. jan", "1/8"),
            ("3-aug", "3/8"),
            ("mrz 08", "3/8"),
            ("4. mai", "5/4"),
            ("16-jul", "7/16"),
            ("2024-05-04", "5/4"),
            ("2024-03-08 00:00:00", "3/8"),
            ("08.03.2024", "3/8"),
            ("3/4/2024", "3/4"),
            ("4-aug", "8/4"),
            ("8-apr", "8/4"),
        ] {
            assert_eq!(fraction_of_date(date).as_deref(), Some(typed), "{date}");
        }
    }

    #[test]
    fn lengths_and_slips_are_no_dates() {
        for text in [
            "11 3/8", "1.2.3", "7' 10", "4 maple", "", "12-11-10", "32-may", "may",
        ] {
            assert_eq!(fraction_of_date(text), None, "{text}");
        }
    }
}
