//! What tables of figures do not say of the fronts.

use super::Both;
use crate::fit::remarks;
use crate::packet::content::same::grouped;
use crate::packet::document::Block;
use crate::packet::phrase::Phrase;

/// Each remark once, with the names of the fronts it is made of.
pub fn blocks(sheets: &Both) -> Vec<Block> {
    let mut rows = Vec::new();
    for fitted in &sheets.inch.fronts {
        let (inch, mm) = (remarks(&sheets.inch, fitted), remarks(&sheets.mm, fitted));
        for ((label, inch), (_, mm)) in inch.into_iter().zip(mm) {
            let cells = vec![Phrase::from(label), Phrase::in_units(inch, mm)];
            rows.push((fitted.name.clone(), cells));
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let line = |row: Vec<Phrase>| {
        let [names, label, words] = <[Phrase; 3]>::try_from(row).unwrap_or_default();
        (label.show(sheets.inch.ruler), names.words(": ").and(words))
    };
    let rows = grouped(rows, sheets.inch.fronts.len()).into_iter();
    let mut lines: Vec<(String, Phrase)> = rows.map(line).collect();
    // What is to be looked at again comes first.
    lines.sort_by_key(|(label, _)| label != "LOOK AGAIN");
    vec![
        Block::Heading("To know of single fronts".to_owned()),
        Block::Lines(lines),
    ]
}
