//! The files of the example plan, as they stand on disk.

use super::{cutlist_csv, joints, marks_csv};
use crate::measure::Unit;
use crate::plan::fixture::{blanks, cut, inches, job, plan};

fn text(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes).expect("CSV is UTF-8")
}

#[test]
fn marks_come_in_the_order_they_are_chalked() {
    insta::assert_snapshot!(text(marks_csv(&job(), &plan(), None)));
}

#[test]
fn the_cutlist_has_a_row_for_every_blank() {
    insta::assert_snapshot!(text(cutlist_csv(&job(), &plan())));
}

#[test]
fn millimetres_are_shown_as_millimetres() {
    let mut job = job();
    job.settings.unit = Unit::Mm;
    insta::assert_snapshot!(
        text(marks_csv(&job, &plan(), None))
            .lines()
            .take(6)
            .collect::<Vec<_>>()
            .join("\n")
    );
}

#[test]
fn a_blank_narrower_and_shorter_than_its_strip_gets_its_own_marks() {
    let mut planned = cut(
        0,
        1,
        blanks(&[(0, 21.0)], 2.0, 0.125, 6.375),
        [30.125, 94.0, 8.0],
    );
    planned.sections[0].to = inches(30.0);
    planned.sections[0].strips[0].high = inches(7.0);
    let what: Vec<String> = super::marks(&job(), &planned)
        .into_iter()
        .map(|mark| format!("{}: {}", mark.kind.name(), mark.what))
        .collect();
    assert_eq!(
        what,
        [
            "crosscut: section 1 starts",
            "crosscut: section 1 ends",
            "straighten: section 1, strip 1, near edge",
            "rip: section 1, strip 1, far edge",
            "final crosscut: D1 ends",
            "final rip: D1, far edge",
            "keep: kept piece 63 7/8 long, 8 wide, starts",
            "keep: kept piece 63 7/8 long, 8 wide, ends",
        ]
    );
}

#[test]
fn a_joint_says_how_far_it_is_off_the_case() {
    let all = joints(&job(), &plan());
    assert_eq!(all.len(), 2);
    // A kerf and an inch of rough length are lost, the case has 3/4.
    assert_eq!(all[0].lost, inches(1.125));
    assert_eq!(all[0].off_by(), Some(inches(0.375)));
    assert_eq!(all[1].lost, inches(1.125), "from the far end too");
}

/// marks.csv and the board's sheet take the same marks for done.
#[test]
fn marks_that_are_done_are_flagged_in_the_file_as_on_the_sheet() {
    use crate::plan::{Fate, Sawn, SawnPiece};
    let (job, plan) = (job(), plan());
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
    let progress = crate::draw::Progress {
        sawn: &sawn,
        anew: &[],
    };
    let rows = text(marks_csv(&job, &plan, Some(&progress)));
    let done: Vec<&str> = rows.lines().filter(|row| row.ends_with(",yes")).collect();
    // Both ends of the section, both edges of its strip, where D1 ends, and with the same
    // blade where D2 starts.
    assert_eq!(done.len(), 6, "{rows}");
    assert!(done.iter().all(|row| row.starts_with("A,1,")), "{rows}");
    assert!(done[4].contains("D1 ends"), "{rows}");
    assert!(!text(marks_csv(&job, &plan, None)).contains(",yes"));
}

/// The blade that ended one section made the start of the next, a kerf farther on.
#[test]
fn an_end_that_the_blade_of_the_section_before_has_made_is_done() {
    use crate::plan::{Fate, Sawn, SawnPiece};
    let job = job();
    let mut planned = cut(
        0,
        1,
        blanks(&[(0, 21.0)], 2.0, 0.125, 6.375),
        [0.0, 0.0, 0.0],
    );
    let next = cut(
        0,
        1,
        blanks(&[(1, 21.0)], 23.125, 0.125, 6.375),
        [0.0, 0.0, 0.0],
    );
    planned.sections.extend(next.sections);
    let (section, strip) = (&planned.sections[0], &planned.sections[0].strips[0]);
    let sawn = Sawn {
        pieces: vec![SawnPiece {
            board: 0,
            copy: 1,
            section: (section.from, section.to),
            strip: (strip.low, strip.high),
            blank: strip.blanks[0].clone(),
            fate: Fate::Cut,
        }],
        ..Sawn::default()
    };
    let marks = crate::work::marks(&job, &planned, Some(&sawn));
    let crosscuts = marks
        .iter()
        .filter(|mark| mark.kind == super::MarkKind::Crosscut);
    let told: Vec<(&str, bool)> = crosscuts
        .map(|mark| (mark.what.as_str(), mark.done))
        .collect();
    assert_eq!(
        told,
        [
            ("section 1 starts", true),
            ("section 1 ends", true),
            ("section 2 starts", true),
            ("section 2 ends", false),
        ]
    );
}
