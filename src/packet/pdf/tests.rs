use super::*;
use crate::draw::testing::{chest, clashes};
use crate::job::generate::{Size, generate};
use crate::layout;
use crate::measure::Unit;

fn generated(seed: u64, unit: Unit) -> (Job, Plan) {
    let mut job = generate(Size::CHEST, seed);
    job.settings.unit = unit;
    let plan = layout::quick(&job, seed);
    (job, plan)
}

#[test]
fn nothing_on_a_sheet_overlaps_or_leaves_it() {
    let mut cases = vec![chest()];
    cases.extend((0..3).map(|seed| generated(seed, [Unit::Inch, Unit::Mm][seed as usize % 2])));
    for (job, plan) in cases {
        let document = document(&job, &plan, &Extras::default());
        for paper in [Paper::LETTER.lying(), Paper::A4.lying()] {
            for sheet in sheets(&document, paper) {
                let clashes = clashes(&sheet);
                assert!(clashes.is_empty(), "{}: {clashes:#?}", sheet.title);
            }
        }
    }
}

#[test]
fn equal_packets_are_equal_bytes_and_the_date_is_printed_when_given() {
    let (job, plan) = chest();
    let none = Extras::default();
    assert_eq!(
        packet_pdf(&job, &plan, &none),
        packet_pdf(&job, &plan, &none)
    );
    let dated = Extras {
        date: Some("1 May 2031".to_owned()),
        ..Extras::default()
    };
    let document = document(&job, &plan, &dated);
    for sheet in sheets(&document, Paper::LETTER.lying()) {
        assert!(sheet.texts().any(|text| text.words.contains("1 May 2031")));
    }
}

#[test]
#[ignore = "writes packets to look at"]
fn pictures() {
    let dir = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("target/pictures");
    std::fs::create_dir_all(&dir).expect("a folder");
    let sixty = generate(Size::new(90, 22, 60), 4);
    let sixty_plan = layout::quick(&sixty, 4);
    for (name, (job, plan)) in [
        ("hand", chest()),
        ("inch", generated(1, Unit::Inch)),
        ("mm", generated(2, Unit::Mm)),
        ("sixty", (sixty, sixty_plan)),
    ] {
        let extras = Extras::default();
        let begun = std::time::Instant::now();
        std::fs::write(
            dir.join(format!("{name}.pdf")),
            packet_pdf(&job, &plan, &extras),
        )
        .expect("written");
        let html = crate::packet::packet_html(&job, &plan, &extras);
        println!(
            "{name}: {:?}, {} bytes of HTML",
            begun.elapsed(),
            html.len()
        );
        std::fs::write(dir.join(format!("{name}.html")), html).expect("written");
    }
}
