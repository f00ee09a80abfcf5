//! Turning the characters people and spreadsheets really type into their plain forms.

/// The text with curly quotes, fraction characters, exotic spaces, dashes and slashes
/// replaced by plain ones, lower-cased, its ends trimmed and its inner gaps single spaces.
///
/// A fraction character is set apart from the number before it: `11⅜` becomes `11 3/8`.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 4);
    for c in text.chars() {
        match fraction(c) {
            Some(written) => {
                out.push(' ');
                out.push_str(written);
            }
            None => push_plain(&mut out, c),
        }
    }
    let doubled = out.replace("''", "\"");
    doubled.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text with a decimal point for each comma that is one: between two digits, and the only mark
/// of its number. `27,5` becomes `27.5`; `1,234.5` and `1,2,3` stay as they are.
pub fn decimal_points(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let of_number = |c: char| c.is_ascii_digit() || matches!(c, ',' | '.');
    let mut rest = text;
    while !rest.is_empty() {
        let end = rest.find(|c| !of_number(c)).unwrap_or(rest.len());
        let (number, after) = rest.split_at(end);
        match number.split_once(',') {
            Some((whole, part))
                if !whole.is_empty()
                    && !part.is_empty()
                    && !number.contains('.')
                    && !part.contains(',') =>
            {
                out.push_str(whole);
                out.push('.');
                out.push_str(part);
            }
            _ => out.push_str(number),
        }
        let next = after.find(of_number).unwrap_or(after.len());
        out.push_str(&after[..next]);
        rest = &after[next..];
    }
    out
}

fn push_plain(out: &mut String, c: char) {
    match c {
        '’' | '‘' | '′' | '‛' | 'ʹ' | '´' | '`' => out.push('\''),
        '”' | '“' | '″' | '‟' | '„' | '〃' | 'ʺ' => out.push('"'),
        '⁄' | '∕' | '/' => out.push('/'),
        '‐' | '‑' | '‒' | '–' | '—' | '−' => out.push('-'),
        '\u{feff}' | '\u{200b}' => {}
        c => out.extend(c.to_lowercase()),
    }
}

/// The vulgar fraction a character stands for.
fn fraction(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅐' => "1/7",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅑' => "1/9",
        '⅒' => "1/10",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::{decimal_points, plain};

    #[test]
    fn only_a_decimal_comma_becomes_a_point() {
        assert_eq!(decimal_points("27,5 mm to 1,25"), "27.5 mm to 1.25");
        for same in ["1,234.5", "1,2,3", ",5", "5,", "7, 8", "11 3/8", "hell, 5"] {
            assert_eq!(decimal_points(same), same);
        }
    }

    #[test]
    fn curly_and_prime_marks_read_as_plain_ones() {
        assert_eq!(plain(" 7’ 10½” "), "7' 10 1/2\"");
        assert_eq!(plain("7′ 10 1⁄2″"), "7' 10 1/2\"");
        assert_eq!(plain("11‑3∕8''"), "11-3/8\"");
    }

    #[test]
    fn a_fraction_character_stands_apart_from_its_whole_number() {
        assert_eq!(plain("11⅜"), "11 3/8");
        assert_eq!(plain("⅞"), "7/8");
        assert_eq!(plain("11\u{a0}⅜ IN"), "11 3/8 in");
    }
}
