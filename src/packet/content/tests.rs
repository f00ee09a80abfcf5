use super::*;
use crate::draw::testing::chest;
use crate::packet::Block;
use crate::plan::fixture;

fn ids(document: &Document) -> Vec<&str> {
    document.parts.iter().map(|part| part.id.as_str()).collect()
}

#[test]
fn the_packet_has_a_sheet_a_board_and_what_was_added() {
    let (job, plan) = chest();
    let extras = Extras {
        fitting: Some(Part::new("fitting", "Fitting sheet")),
        estimate: Some(Part::new("estimate", "Estimate")),
        ..Extras::default()
    };
    let document = document(&job, &plan, &extras);
    assert_eq!(
        ids(&document),
        [
            "overview", "board-1", "board-2", "board-3", "cutlist", "fitting", "order", "estimate",
            "cautions"
        ]
    );
}

#[test]
fn a_break_is_told_with_its_fronts_and_boards() {
    let (job, plan) = chest();
    let document = document(&job, &plan, &Extras::default());
    let told = document.parts[0].blocks.iter().any(|block| match block {
        Block::Table(table) => table.rows.iter().any(|row| {
            let cells: Vec<String> = row.iter().map(|c| c.show(document.ruler)).collect();
            cells == ["bottom", "D5 and D6", "C and C"]
        }),
        _ => false,
    });
    assert!(told);
}

#[test]
fn cautions_stand_where_the_job_gives_cause() {
    let titles = |job: &Job, plan: &Plan| -> Vec<String> {
        let part = cautions::part(job, plan);
        let titles = part.blocks.iter().filter_map(|block| match block {
            Block::Caution { title, .. } => Some(title.clone()),
            _ => None,
        });
        titles.collect()
    };
    let (job, plan) = chest();
    let with_arches = titles(&job, &plan);
    assert!(with_arches.contains(&"Curved edges".to_owned()));
    assert!(!with_arches.iter().any(|title| title.contains("checks")));
    let with_checks = titles(&fixture::job(), &fixture::plan());
    assert!(with_checks.iter().any(|title| title.contains("checks")));
    assert!(!with_checks.contains(&"Curved edges".to_owned()));
}
