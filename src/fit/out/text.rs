//! The fitting sheet as a person reads it at the bench.

use std::fmt::Write;

use super::block::block;
use super::{CAUTIONS, ORDER_OF_WORK, WEDGES};
use crate::fit::{Caution, Season, Sheet};
use crate::job::Mode;
use crate::measure::Unit;

/// Columns of the sheet: a letter page in a ten-point typewriter face.
pub(super) const COLUMNS: usize = 84;

/// The whole sheet as plain text.
pub fn text(sheet: &Sheet) -> String {
    let mut out = String::new();
    let title = match sheet.title.as_str() {
        "" => "Fitting sheet".to_owned(),
        title => format!("Fitting sheet: {title}"),
    };
    let _ = writeln!(out, "{title}\n{}", "=".repeat(title.chars().count()));
    for line in head(sheet) {
        wrapped(&mut out, "", &line);
    }
    let everywhere = everywhere(sheet);
    if !everywhere.is_empty() {
        let _ = writeln!(out, "\nLook again, on every front");
        for caution in &everywhere {
            wrapped(&mut out, "  - ", caution);
        }
    }
    let _ = writeln!(out, "\nOrder of work");
    for (number, step) in ORDER_OF_WORK.iter().enumerate() {
        wrapped(&mut out, &format!("{:>2}  ", number + 1), step);
    }
    if sheet.has_wedges() {
        let _ = writeln!(out, "\nWedges");
        for words in WEDGES {
            wrapped(&mut out, "  - ", words);
        }
    }
    for (index, fitted) in sheet.fronts.iter().enumerate() {
        let _ = writeln!(out, "\n{}", "-".repeat(COLUMNS));
        block(&mut out, sheet, index + 1, fitted, &everywhere);
    }
    let _ = writeln!(out, "\n{}\nMind", "-".repeat(COLUMNS));
    for caution in CAUTIONS {
        wrapped(&mut out, "  - ", caution);
    }
    out
}

/// The cautions that are the same on every front of several.
pub fn everywhere(sheet: &Sheet) -> Vec<String> {
    let (Some(first), true) = (sheet.fronts.first(), sheet.fronts.len() > 1) else {
        return Vec::new();
    };
    let on_all = |caution: &&Caution| sheet.fronts.iter().all(|f| f.cautions.contains(caution));
    let common = first.cautions.iter().filter(on_all);
    common.map(|caution| caution.say(&sheet.ruler)).collect()
}

/// What is to be known before any front: units, wood, moisture, how many openings there are.
pub fn head(sheet: &Sheet) -> Vec<String> {
    let mut lines = Vec::new();
    lines.push(match sheet.ruler.unit {
        Unit::Inch => "All sizes in inches, to the nearest 1/64; shims to a thousandth too.".into(),
        Unit::Mm => "All sizes in millimetres, to the nearest 0.1; shims to 0.01.".into(),
    });
    let is = |mode: Mode| sheet.fronts.iter().any(|fitted| fitted.mode == mode);
    lines.push(
        match (is(Mode::Inset), is(Mode::Overlay)) {
            (true, true) => {
                "Fronts sit inside their openings, but for those with an overlap, which cover the \
                 frame around theirs; left and right as seen from the front."
            }
            (false, true) => {
                "Fronts cover the frame around their openings: for gap read overlap. Left and \
                 right as seen from the front."
            }
            _ => "Fronts sit inside their openings; left and right as seen from the front.",
        }
        .to_owned(),
    );
    let unknown = sheet.fronts.iter().all(|fitted| fitted.reveal.is_none());
    if is(Mode::Overlay) && unknown {
        lines.push(
            "The gap between two fronts that cover one divider is not reckoned: write the \
             divider's width as `divider` under [gaps] in job.toml."
                .to_owned(),
        );
    }
    let known = sheet.fronts.iter().find_map(|fitted| fitted.seasons);
    lines.push(match (sheet.species, known) {
        (Some(species), Some(seasons)) => format!(
            "Wood: {species}. Moisture {} today, {} when the house is driest, {} when dampest.",
            seasons.moisture(Season::Today),
            seasons.moisture(Season::Driest),
            seasons.moisture(Season::Wettest),
        ),
        (None, _) => "No species is named in job.toml: the seasons are not reckoned with.".into(),
        (Some(_), None) => "No [climate] in job.toml: the seasons are not reckoned with.".into(),
    });
    let fitted = sheet.fronts.iter().filter(|f| f.opening.is_some()).count();
    lines.push(match sheet.fronts.len() - fitted {
        0 => format!("{fitted} fronts, each fitted to its own opening."),
        rest => format!(
            "{fitted} fronts fitted to their openings; {rest} without one, at the size drawn."
        ),
    });
    lines
}

/// Writes words under a label, broken into lines.
pub(super) fn wrapped(out: &mut String, label: &str, words: &str) {
    let indent = label.chars().count();
    let mut line = label.to_owned();
    let mut used = indent;
    for word in whole_numbers(words) {
        let length = word.chars().count();
        if used > indent && used + 1 + length > COLUMNS {
            let _ = writeln!(out, "{}", line.trim_end());
            line = " ".repeat(indent);
            used = indent;
        }
        if used > indent {
            line.push(' ');
            used += 1;
        }
        line.push_str(&word);
        used += length;
    }
    let _ = writeln!(out, "{}", line.trim_end());
}

/// Words that must stay whole: a number and the fraction after it are one.
fn whole_numbers(words: &str) -> Vec<String> {
    let mut whole: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
        let fraction = word.starts_with(|c: char| c.is_ascii_digit()) && word.contains('/');
        match whole.last_mut() {
            Some(number) if fraction && digits(number.trim_start_matches('(')) => {
                number.push(' ');
                number.push_str(word);
            }
            _ => whole.push(word.to_owned()),
        }
    }
    whole
}
