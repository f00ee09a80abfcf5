use super::*;
use crate::fit::{Fitted, lines};
use crate::packet::document::Table;

fn chest() -> Sheet {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let reading = crate::job::read(&root.join("sample-boards/chest")).expect("a sample");
    fit::fit(&reading.job).expect("a sample fits")
}

/// Figures in words: numbers with their fractions.
fn figures(words: &str) -> Vec<String> {
    let figure = |c: char| c.is_ascii_digit() || " ./".contains(c);
    let pieces = words.split(|c| !figure(c));
    let trimmed = pieces.map(|piece| piece.trim_matches([' ', '.', '/']).to_owned());
    trimmed.filter(|piece| !piece.is_empty()).collect()
}

/// What the tables and remarks say of a front, and what they say of all.
fn said(blocks: &[Block], fitted: &Fitted, ruler: Ruler) -> Vec<String> {
    let is_of = |names: &str| names == "all" || names.split(", ").any(|name| name == fitted.name);
    let of_table = |table: &Table| {
        let rows = table.rows.iter().filter(|row| is_of(&row[0].show(ruler)));
        rows.flatten()
            .map(|cell| cell.show(ruler))
            .collect::<Vec<_>>()
    };
    let told = blocks.iter().flat_map(|block| match block {
        Block::Text(words) => vec![words.show(ruler)],
        Block::Table(table) => of_table(table),
        Block::Lines(lines) => lines.iter().map(|(_, words)| words.show(ruler)).collect(),
        _ => Vec::new(),
    });
    told.flat_map(|words| figures(&words)).collect()
}

/// What the paragraphs of `fit.txt` tell of each front, the tables tell too, in either unit.
#[test]
fn no_figure_of_the_fitting_sheet_is_lost_in_its_tables() {
    let sheet = chest();
    for ruler in both(sheet.ruler) {
        let sheet = Sheet {
            ruler,
            ..sheet.clone()
        };
        let part = part(&sheet);
        let paper = part.blocks.iter().find_map(|block| match block {
            Block::Either { paper, .. } => Some(paper),
            _ => None,
        });
        let paper = paper.expect("tables");
        for fitted in &sheet.fronts {
            let said = said(paper, fitted, ruler);
            for (label, words) in lines(&sheet, fitted) {
                for figure in figures(&words) {
                    assert!(said.contains(&figure), "{} {label}: {figure}", fitted.name);
                }
            }
            for ordinate in fitted.arch.iter().flat_map(|arch| &arch.ordinates) {
                let height = ruler.show(Length::from_mm(ordinate.height));
                assert!(said.contains(&height), "{}: {height}", fitted.name);
            }
        }
    }
}

/// A figure that a cut needs is in the line of that cut.
#[test]
fn a_cut_has_a_line_in_the_order_it_is_made() {
    let sheet = chest();
    let cuts: usize = sheet.fronts.iter().map(|fitted| fitted.wedges.len()).sum();
    let part = part(&sheet);
    let table = part.blocks.iter().find_map(|block| match block {
        Block::Either { paper, .. } => paper.iter().find_map(|block| match block {
            Block::Table(table) if table.caption.starts_with("Wedges") => Some(table),
            _ => None,
        }),
        _ => None,
    });
    let table = table.expect("a table of cuts");
    assert_eq!(table.rows.len(), cuts);
    let told: Vec<[String; 2]> = table
        .rows
        .iter()
        .map(|row| [0, 1].map(|i| row[i].show(sheet.ruler)))
        .collect();
    let wanted = sheet.fronts.iter().flat_map(|fitted| {
        let count = fitted.wedges.len();
        (1..=count).map(move |i| [fitted.name.clone(), format!("{i} of {count}")])
    });
    assert_eq!(told, wanted.collect::<Vec<_>>());
}
