//! Characters that are not seen but do something.

/// The longest text told in one piece: far more than anybody reads.
const LONGEST: usize = 500;

/// Whether a character does something to a terminal, or turns the order of what is read: control
/// characters, C1 codes among them, the marks of Unicode for the direction of text (Unicode
/// Standard Annex 9, section 2), and those that end a line in some programs only.
fn acts(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{061c}'
                | '\u{200e}'
                | '\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2066}'..='\u{2069}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
        )
}

/// Text for a terminal: what would act on it is shown by its number. Line ends and tabs stay.
pub fn shown(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if acts(c) && !matches!(c, '\n' | '\t') {
            out.extend(c.escape_unicode());
        } else {
            out.push(c);
        }
    }
    out
}

/// JSON for a terminal: the same characters as JSON's own escapes, so that it says the same.
pub fn escaped_in_json(json: &str) -> String {
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        if acts(c) && !matches!(c, '\n' | '\t' | '\r') {
            // All of them stand in the first plane: one escape each.
            out += &format!("\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out
}

/// Text for a drawing or a page: what no XML file may have, and what is not seen, is a sign that
/// something was there (XML 1.0, section 2.2). Line ends and tabs are spaces.
pub fn printable(text: &str) -> String {
    let sign = |c: char| match c {
        '\n' | '\r' | '\t' => ' ',
        '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
        _ if acts(c) => '\u{fffd}',
        _ => c,
    };
    text.chars().map(sign).collect()
}

/// Text cut off where a message would become hard to read.
pub fn shortened(text: &str) -> String {
    match text.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ECMA-48: ESC begins a sequence, U+009B does the same in one character.
    #[test]
    fn what_acts_on_a_terminal_is_shown_by_its_number() {
        let typed = "a\u{1b}[2Jb\u{9b}31mc\u{7}\u{202e}d\te\nf";
        let expected = "a\\u{1b}[2Jb\\u{9b}31mc\\u{7}\\u{202e}d\te\nf";
        assert_eq!(shown(typed), expected);
        assert_eq!(shown("Küche 3/4\" — Ñ 木"), "Küche 3/4\" — Ñ 木");
    }

    #[test]
    fn escaped_json_says_the_same() {
        let typed = "a\u{9b}31m\u{202e}b\u{feff}";
        let json = serde_json::to_string(typed).unwrap();
        let escaped = escaped_in_json(&json);
        assert!(!escaped.chars().any(acts));
        assert_eq!(serde_json::from_str::<String>(&escaped).unwrap(), typed);
    }

    #[test]
    fn a_drawing_has_nothing_that_xml_forbids() {
        assert_eq!(
            printable("a\u{0}b\u{1b}c\nd\u{ffff}"),
            "a\u{fffd}b\u{fffd}c d\u{fffd}"
        );
    }
}
