use super::*;
use crate::draw::testing::{chest, clashes};

/// A recut says on every sheet which plan it is, begins with what changes, and has no sheet for a
/// board that is cut.
#[test]
fn a_recuts_packet_says_which_plan_it_is_and_begins_with_what_changes() {
    use crate::packet::Replaces;
    use crate::plan::{Fate, Sawn, SawnPiece};
    use crate::recut::{Change, Kind};
    let (job, plan) = chest();
    let whole = &plan.boards[0];
    let (section, strip) = (&whole.sections[0], &whole.sections[0].strips[0]);
    let piece = |blank: &crate::plan::Blank, fate| SawnPiece {
        board: whole.board,
        copy: whole.copy,
        section: (section.from, section.to),
        strip: (strip.low, strip.high),
        blank: blank.clone(),
        fate,
    };
    let mut pieces: Vec<SawnPiece> = strip.blanks.iter().map(|b| piece(b, Fate::Made)).collect();
    pieces.push(piece(
        &plan.boards[1].sections[0].strips[0].blanks[0],
        Fate::Spoiled,
    ));
    let sawn = Sawn {
        pieces,
        ..Sawn::default()
    };
    let change = |front: usize, kind| Change {
        front: job.fronts[front].name.clone(),
        kind,
        was: Some("B, 2 to 20".to_owned()),
        now: Some("C, 30 to 48".to_owned()),
        why: None,
        buy: None,
        partners: Vec::new(),
    };
    let kinds = [
        Kind::Made,
        Kind::Made,
        Kind::Cut,
        Kind::New,
        Kind::Moved,
        Kind::Stays,
    ];
    let changes = kinds
        .into_iter()
        .enumerate()
        .map(|(front, kind)| change(front, kind));
    let extras = Extras {
        progress: Some(crate::draw::Progress {
            sawn: &sawn,
            anew: &[3],
        }),
        replaces: Some(Replaces {
            number: 1,
            changes: changes.collect(),
        }),
        ..Extras::default()
    };
    let document = document(&job, &plan, &extras);
    assert_eq!(document.parts[0].id, "changes");
    assert!(document.parts.iter().all(|part| part.id != "board-1"));
    assert!(document.parts.iter().any(|part| part.id == "board-2"));
    let all = sheets(&document, Paper::LETTER.lying());
    for sheet in &all {
        assert_eq!(clashes(sheet), Vec::<String>::new(), "{}", sheet.title);
        let told = |text: &crate::draw::Text| text.words.contains("Plan 2, replaces plan 1");
        assert!(sheet.texts().any(told), "{}", sheet.title);
    }
    let first: Vec<&str> = all[0].texts().map(|text| text.words.as_str()).collect();
    for told in [
        "✓",
        "✗",
        "→",
        "made anew",
        "moves",
        "cut",
        "stays where it is chalked",
    ] {
        assert!(first.contains(&told), "{told}: {first:?}");
    }
    let html = crate::packet::packet_html(&job, &plan, &extras);
    assert!(html.contains("Plan 2, replaces plan 1"));
    // What is planned, cut and made are three figures of their own.
    let words: String = all
        .iter()
        .flat_map(Drawing::texts)
        .map(|t| format!("{}\n", t.words))
        .collect();
    for told in ["planned\n", "cut\n", "made\n", "3 of 6 fronts"] {
        assert!(words.contains(told), "{told}");
    }
}
