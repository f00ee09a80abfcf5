//! Cells of a table that a spreadsheet may open.

/// Signs by which a spreadsheet takes a cell for a formula, the wide forms of them among them.
const FORMULA: [char; 10] = [
    '=', '+', '-', '@', '\t', '\r', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
];

/// A cell as it is written. One that a spreadsheet would run as a formula has an apostrophe before
/// it, which is how a spreadsheet is told that a cell is text; numbers below zero stay as they are.
/// [`from_cell`] takes the apostrophe away again.
pub fn to_cell(text: &str) -> String {
    if is_marked(text) && !is_number(text) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// What a cell says that [`to_cell`] wrote. A cell written by a maker is as it is.
pub fn from_cell(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if is_marked(text) => text,
        _ => cell,
    }
}

/// Whether a text begins with a formula's sign, any number of apostrophes before it.
fn is_marked(text: &str) -> bool {
    text.trim_start_matches('\'').starts_with(FORMULA)
}

fn is_number(text: &str) -> bool {
    let figures = text.strip_prefix(['-', '+']);
    figures.is_some_and(|figures| {
        let part = |c: char| c.is_ascii_digit() || matches!(c, ' ' | '.' | '/');
        figures.starts_with(|c: char| c.is_ascii_digit()) && figures.chars().all(part)
    })
}

/// A header and rows of cells as the bytes of a CSV file: comma separated, quoted where a cell
/// asks for it, none a formula.
pub fn csv_bytes(header: &[&str], rows: impl IntoIterator<Item = Vec<String>>) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new()
        .flexible(true)
        .from_writer(Vec::new());
    let header = header.iter().map(|&name| name.to_owned()).collect();
    for row in std::iter::once(header).chain(rows) {
        let cells = row.iter().map(|cell| to_cell(cell));
        // Writing to memory can't fail.
        let _ = writer.write_record(cells);
    }
    writer.into_inner().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The signs named by the OWASP page "CSV Injection".
    #[test]
    fn no_cell_begins_as_a_formula() {
        for typed in [
            "=1+1",
            "+1+1",
            "-1+cmd|' /C calc'!A0",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
        ] {
            assert_eq!(to_cell(typed), format!("'{typed}"));
        }
        for typed in ["-1/8", "-3 1/2", "+2.5", "B1", "O'Neil", "'tis", ""] {
            assert_eq!(to_cell(typed), typed);
        }
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(text in "'{0,3}[-=+@a1]?.{0,6}") {
            let written = to_cell(&text);
            prop_assert_eq!(from_cell(&written), text.as_str());
        }
    }
}
