use super::*;
use crate::fit::{Fitted, lines};
use crate::packet::document::{Column, Table};

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

/// What a row of a table says under a head.
fn cell(table: &Table, row: &[Phrase], head: &str, ruler: Ruler) -> String {
    let names = table.columns.iter().map(Column::full_name);
    let at = names.into_iter().position(|name| name == head);
    row[at.unwrap_or_else(|| panic!("no column {head}"))].show(ruler)
}

/// The rows of a front.
fn rows_of<'t>(table: &'t Table, name: &str) -> Vec<&'t Vec<Phrase>> {
    let is_of = |row: &&Vec<Phrase>| {
        let names = row[0].show(Ruler::default());
        names == "all" || names.split(", ").any(|one| one == name)
    };
    table.rows.iter().filter(is_of).collect()
}

/// The lines of `fit.txt` of a front under a label.
fn told(sheet: &Sheet, fitted: &Fitted, label: &str) -> Vec<String> {
    let all = lines(sheet, fitted).into_iter();
    let own = all.filter(|(other, _)| *other == label);
    own.map(|(_, words)| words).collect()
}

/// A figure under another's head would be cut: cuts and pulls are held against the sentences of
/// `fit.txt`, edges and diagonals against the distances of corners.
#[test]
fn each_figure_stands_under_its_head() {
    let sheet = chest();
    let sheets = Both::of(&sheet);
    let (wedges, sizes, gaps, pulls) = (
        cuts::wedges(&sheets),
        tables::finished(&sheets),
        tables::gaps(&sheets),
        cuts::pulls(&sheets),
    );
    let mut seen = [0; 4];
    for (in_unit, fitted) in [&sheets.inch, &sheets.mm].into_iter().flat_map(|sheet| {
        let fronts = sheet.fronts.iter();
        fronts.map(move |fitted| (sheet, fitted))
    }) {
        let ruler = in_unit.ruler;
        let name = fitted.name.as_str();
        let rows = rows_of(&wedges, name);
        for (row, words) in rows.iter().zip(told(in_unit, fitted, "Wedge")) {
            let cell = |head: &str| cell(&wedges, row, head, ruler);
            let cut = format!(
                "{} edge: {} off at the {}, to nothing over {}",
                cell("edge"),
                cell("off"),
                cell("at the"),
                cell("over")
            );
            assert!(words.contains(&cut), "{name}: {cut}: {words}");
            if !words.contains("plane to it") {
                let shim = format!("shim {}", cell("shim"));
                assert!(words.contains(&shim), "{name}: {shim}: {words}");
                let at = format!(" at {}", cell("shim at"));
                let on = words.split("; ").last().expect("how it is held");
                assert!(on.contains(&at), "{name}: {at}: {words}");
                let fence = cell("to the fence");
                assert!(on.starts_with(&fence), "{name}: {fence}: {words}");
                seen[0] += 1;
            }
        }
        let [lower_left, lower_right, upper_right, upper_left] = fitted.outline.quad.corners();
        let [row] = rows_of(&sizes, name)[..] else {
            panic!("a row of sizes for {name}");
        };
        for (head, from, to) in [
            ("edges of the front left", lower_left, upper_left),
            ("edges of the front right", lower_right, upper_right),
            ("edges of the front top", upper_left, upper_right),
            ("edges of the front bottom", lower_left, lower_right),
            ("diagonals up", lower_left, upper_right),
            ("diagonals down", upper_left, lower_right),
        ] {
            let away = (to.x - from.x).hypot(to.y - from.y);
            let wanted = ruler.show(Length::from_mm(away));
            assert_eq!(cell(&sizes, row, head, ruler), wanted, "{name}: {head}");
            seen[1] += 1;
        }
        if fitted.opening.is_some() {
            let [row] = rows_of(&gaps, name)[..] else {
                panic!("a row of gaps for {name}");
            };
            for (label, group) in [
                ("Shims today", "today"),
                ("Driest", "driest"),
                ("Dampest", "dampest"),
            ] {
                let at = |edge: &str| cell(&gaps, row, &format!("{group} {edge}"), ruler);
                let [left, right, top, bottom] = ["left", "right", "top", "bottom"].map(at);
                let wanted = format!("left {left}, right {right}, top {top}, bottom {bottom}");
                let words = told(in_unit, fitted, label).concat();
                assert!(words.contains(&wanted), "{name} {label}: {wanted}: {words}");
                seen[2] += 1;
            }
        }
        let sentences = told(in_unit, fitted, "Pulls");
        for (row, words) in rows_of(&pulls, name).iter().zip(sentences.iter().skip(1)) {
            let hole = |which: &str| {
                let at =
                    |from: &str| cell(&pulls, row, &format!("{which} hole from {from}"), ruler);
                format!(
                    "{} of the centre line ({} from the left end, {} from the right, {} below the top)",
                    at("centre line"),
                    at("left end"),
                    at("right end"),
                    at("top")
                )
            };
            let wanted = format!("{}; {}", hole("first"), hole("second"));
            assert!(words.contains(&wanted), "{name}: {wanted}: {words}");
            seen[3] += 1;
        }
    }
    assert!(seen.iter().all(|count| *count >= 20), "{seen:?}");
}

/// Below each distance stands the height of the curve there: `y` of a point of the circle, which
/// corners and crest tell.
#[test]
fn a_curve_is_struck_from_the_figures_of_one_point() {
    let sheet = chest();
    let sheets = Both::of(&sheet);
    let table = cuts::curve(&sheets);
    let fronts = sheet.fronts.iter();
    let arches = fronts.filter_map(|fitted| Some((fitted, fitted.arch.as_ref()?)));
    let mut points = 0;
    for (fitted, arch) in arches {
        let rows = rows_of(&table, &fitted.name);
        let lines = |what: &str| -> Vec<String> {
            let of = rows.iter().filter(|row| row[1].show(sheet.ruler) == what);
            let cells = of.flat_map(|row| row[2..].iter().map(|cell| cell.show(sheet.ruler)));
            cells.filter(|cell| !cell.is_empty()).collect()
        };
        let told = [
            lines("from the middle"),
            lines("from the left"),
            lines("height"),
        ];
        let (radius, below) = (arch.radius.mm(), arch.centre_below.mm());
        for (i, ordinate) in arch.ordinates.iter().enumerate() {
            let show = |mm: f64| sheet.ruler.show(Length::from_mm(mm));
            let middle = show(ordinate.from_centre).replace('-', "− ");
            let left = show(ordinate.from_left).replace('-', "− ");
            let wanted = [middle, left, show(ordinate.height)];
            assert_eq!(told.each_ref().map(|line| line[i].clone()), wanted);
            let height = (radius.powi(2) - ordinate.from_centre.powi(2)).sqrt() - below;
            assert!(
                (height - ordinate.height).abs() < 0.2,
                "{height} {ordinate:?}"
            );
            points += 1;
        }
    }
    assert!(points >= 40, "{points}");
}
