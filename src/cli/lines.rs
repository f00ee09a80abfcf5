//! Lines no longer than the terminal is wide, and the verdict in colour: on a terminal only.

use std::io::IsTerminal;

/// Bold green, bold yellow, plain again (ECMA-48, select graphic rendition).
const GREEN: &str = "\u{1b}[1;32m";
const YELLOW: &str = "\u{1b}[1;33m";
const PLAIN: &str = "\u{1b}[0m";

/// Text as it is shown on standard output: as it is where that is no terminal.
pub fn fitted(text: &str) -> String {
    let out = std::io::stdout();
    if !out.is_terminal() {
        return text.to_owned();
    }
    let width = console::Term::stdout().size_checked();
    let width = width.map_or(80, |(_, columns)| usize::from(columns));
    let text = wrapped(text, width);
    let plain = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    if plain { text } else { coloured(&text) }
}

/// Sentences broken at spaces, under where they begin; rows of tables are left whole.
fn wrapped(text: &str, width: usize) -> String {
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        let (words, end) = match line.strip_suffix('\n') {
            Some(words) => (words, "\n"),
            None => (line, ""),
        };
        let start = words.len() - words.trim_start().len();
        let is_row = words[start..].contains("  ");
        if is_row || words.chars().count() <= width {
            out.push_str(line);
            continue;
        }
        let mut used = start;
        out.push_str(&words[..start]);
        for (i, word) in words[start..].split(' ').enumerate() {
            let long = word.chars().count();
            if i > 0 && used + 1 + long > width {
                out.push('\n');
                out.push_str(&words[..start]);
                used = start;
            } else if i > 0 {
                out.push(' ');
                used += 1;
            }
            out.push_str(word);
            used += long;
        }
        out.push_str(end);
    }
    out
}

/// The verdict on a plan: green where it is proved, yellow where it may not be the best.
fn coloured(text: &str) -> String {
    const NAME: &str = " that is ";
    let paint = |line: &str| {
        let Some(value) = line.strip_prefix(NAME).map(str::trim_start) else {
            return line.to_owned();
        };
        let before = &line[..line.len() - value.len()];
        let (value, end) = match value.strip_suffix('\n') {
            Some(value) => (value, "\n"),
            None => (value, ""),
        };
        let ink = if value.starts_with("proved") {
            GREEN
        } else {
            YELLOW
        };
        format!("{before}{ink}{value}{PLAIN}{end}")
    };
    text.split_inclusive('\n').map(paint).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_sentences_are_broken_at_spaces_and_rows_are_not() {
        let text = "  one two three four five\n a   row of a table that is long\nend";
        assert_eq!(
            wrapped(text, 16),
            "  one two three\n  four five\n a   row of a table that is long\nend"
        );
        assert_eq!(
            wrapped("unbreakablyLongWord x", 5),
            "unbreakablyLongWord\nx"
        );
    }

    #[test]
    fn only_the_verdict_is_coloured() {
        let text = " cost     3.00\n that is  proved best in 0.7 s\n";
        let shown = coloured(text);
        assert_eq!(
            shown,
            format!(" cost     3.00\n that is  {GREEN}proved best in 0.7 s{PLAIN}\n")
        );
        assert!(coloured(" that is  at most 2 % above the best").contains(YELLOW));
    }
}
