use super::*;
use crate::draw::testing::chest;
use crate::measure::Ruler;
use crate::packet::Block;
use crate::plan::{Fate, Sawn, SawnPiece, fixture};

fn ids(document: &Document) -> Vec<&str> {
    document.parts.iter().map(|part| part.id.as_str()).collect()
}

#[test]
fn the_packet_has_a_sheet_a_board_and_what_was_added() {
    let (job, plan) = chest();
    let sheet = crate::fit::fit(&job).expect("a job without openings");
    let extras = Extras {
        fitting: Some(&sheet),
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
    let [Block::Pair { right: beside, .. }, ..] = &document.parts[0].blocks[..] else {
        panic!("the case, and beside it figures and breaks");
    };
    let told = beside.iter().any(|block| match block {
        Block::Table(table) => table.rows.iter().any(|row| {
            let cells: Vec<String> = row.iter().map(|c| c.show(document.ruler)).collect();
            cells == ["bottom", "D5 and D6", "C and C"]
        }),
        _ => false,
    });
    assert!(told);
}

/// What can hurt in fitting is told once, among the cautions; how far its figures can be trusted, on
/// the fitting sheet.
#[test]
fn each_caution_of_fitting_is_told_once() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let reading = crate::job::read(&root.join("sample-boards/chest")).expect("a sample");
    let fitting = crate::fit::fit(&reading.job).expect("a sample fits");
    let plan = crate::layout::quick(&reading.job, 1);
    let extras = Extras {
        fitting: Some(&fitting),
        ..Extras::default()
    };
    let all = format!("{:?}", document(&reading.job, &plan, &extras));
    for words in crate::fit::CAUTIONS {
        assert_eq!(all.matches(words).count(), 1, "{words}");
    }
    let without = format!("{:?}", document(&reading.job, &plan, &Extras::default()));
    assert!(!without.contains(crate::fit::CAUTIONS[0]));
}

#[test]
fn cautions_stand_where_the_job_gives_cause() {
    let titles = |job: &Job, plan: &Plan| -> Vec<String> {
        let part = cautions::part(job, plan, false);
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

fn steps(work: &[Block], ruler: Ruler) -> String {
    let steps = work.iter().filter_map(|block| match block {
        Block::Steps(steps) => Some(steps.iter().map(|step| step.show(ruler))),
        _ => None,
    });
    steps.flatten().collect::<Vec<String>>().join("; ")
}

#[test]
fn a_board_at_work_tells_what_is_done() {
    let (job, plan) = chest();
    let cut = &plan.boards[0];
    let (section, strip) = (&cut.sections[0], &cut.sections[0].strips[0]);
    let sawn = Sawn {
        pieces: vec![SawnPiece {
            board: cut.board,
            copy: cut.copy,
            section: (section.from, section.to),
            strip: (strip.low, strip.high),
            blank: strip.blanks[0].clone(),
            fate: Fate::Cut,
        }],
        ..Sawn::default()
    };
    let progress = Progress {
        sawn: &sawn,
        anew: &[],
    };
    let part = board::part(&job, &plan, 0, (Some(&progress), None));
    let (marks, work) = (&part.blocks, &part.blocks);
    let ruler = job.settings.ruler();
    let told: Vec<String> = marks
        .iter()
        .filter_map(|block| match block {
            Block::Table(table) => Some(table.rows.iter().map(|row| row[3].show(ruler))),
            _ => None,
        })
        .flatten()
        .collect();
    let done = told.iter().filter(|what| what.ends_with("(done)")).count();
    // Two ends of the section, two edges of the strip, the end of D1 that the section's end is not,
    // and with it where D2 starts.
    assert_eq!((done, told.len() > done), (6, true), "{told:?}");
    let all = steps(work, ruler);
    assert!(
        !all.contains("Crosscut at") && !all.contains("Rip"),
        "{all}"
    );
    assert!(all.contains("D2 at") && !all.contains("D1 at"), "{all}");
}

#[test]
fn a_piece_narrower_than_its_strip_is_ripped_after_the_strip_is_crosscut() {
    let (job, mut plan) = chest();
    let ruler = job.settings.ruler();
    let told = |plan: &Plan| {
        let part = board::part(&job, plan, 0, (None, None));
        steps(&part.blocks, ruler)
    };
    assert!(!told(&plan).contains("narrower"));
    let blank = &mut plan.boards[0].sections[0].strips[0].blanks[0];
    blank.high = blank.high - (blank.high - blank.low) / 4;
    let piece = format!("{} to {}", ruler.show(blank.low), ruler.show(blank.high));
    let all = told(&plan);
    let (before, rip) = all
        .split_once("Rip pieces of section 1 narrower, from the near edge: ")
        .expect("told");
    assert!(before.contains("Crosscut the strips of section 1"), "{all}");
    assert!(rip.contains(&piece), "{piece} in {all}");
}
