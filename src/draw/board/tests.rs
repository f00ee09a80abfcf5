use super::*;
use crate::draw::testing::{clashes, random};

/// No words overlap, and the drawing is no higher than a sheet.
fn assert_clear(job: &crate::job::Job, plan: &crate::plan::Plan, seed: u64) {
    let drawing = board(job, plan, 0);
    let clashes = clashes(&drawing);
    assert!(clashes.is_empty(), "seed {seed}: {clashes:#?}");
    assert!(
        drawing.height <= theme::HEIGHT + 0.01,
        "seed {seed}: {} points high",
        drawing.height
    );
}

#[test]
fn no_words_overlap_on_200_random_boards() {
    for seed in 0..200 {
        let (job, plan) = random(seed);
        assert_clear(&job, &plan, seed);
    }
}

/// `cargo test --lib -- --ignored pictures` writes PNG and SVG files to look at.
#[test]
#[ignore = "writes pictures to look at"]
fn pictures() {
    let dir = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("target/pictures");
    std::fs::create_dir_all(&dir).expect("a folder");
    for seed in 0..12 {
        let (job, plan) = random(seed);
        let drawing = board(&job, &plan, 0);
        std::fs::write(dir.join(format!("board-{seed}.png")), drawing.png()).expect("written");
        std::fs::write(dir.join(format!("board-{seed}.svg")), drawing.svg()).expect("written");
    }
}

#[test]
fn a_crowded_inch_board_looks_as_it_did() {
    let (job, plan) = random(8);
    insta::assert_snapshot!(board(&job, &plan, 0).svg_element());
}

#[test]
fn a_metric_board_looks_as_it_did() {
    let (job, plan) = random(5);
    insta::assert_snapshot!(board(&job, &plan, 0).svg_element());
}

#[test]
fn a_file_of_its_own_holds_its_font_and_real_text() {
    let (job, plan) = random(3);
    let svg = board(&job, &plan, 0).svg();
    assert!(svg.contains("src:url(data:font/ttf;base64,"));
    assert!(svg.contains("</text>"));
    assert!(!svg.contains("<image"));
}

#[test]
fn every_mark_is_written_on_the_diagram() {
    for seed in 0..60 {
        let (job, plan) = random(seed);
        let drawing = board(&job, &plan, 0);
        let ruler = job.settings.ruler();
        // The numbers on the tapes are faint; marks are not.
        let marks = drawing.texts().filter(|text| text.ink == theme::INK);
        let words: Vec<&str> = marks.map(|text| text.words.as_str()).collect();
        let sections = &plan.boards[0].sections;
        let blanks = sections
            .iter()
            .flat_map(|s| &s.strips)
            .flat_map(|s| &s.blanks);
        let along = sections.iter().flat_map(|s| [s.from, s.to]);
        for at in along.chain(blanks.flat_map(|b| [b.from, b.to])) {
            let mark = ruler.show(at);
            assert!(
                words.contains(&mark.as_str()),
                "seed {seed}: no mark {mark}"
            );
        }
    }
}

#[test]
fn a_piece_narrower_than_its_strip_has_its_final_rip_written_below() {
    let (job, mut plan) = random(0);
    let written = |plan: &crate::plan::Plan| {
        let drawing = board(&job, plan, 0);
        let texts = drawing.texts();
        texts
            .map(|text| format!("{} ", text.words))
            .collect::<String>()
    };
    let strips = plan.boards[0].sections.iter_mut();
    for strip in strips.flat_map(|section| &mut section.strips) {
        for blank in &mut strip.blanks {
            (blank.low, blank.high) = (strip.low, strip.high);
        }
    }
    assert!(!written(&plan).contains("Final rips"));
    let ruler = job.settings.ruler();
    // All blanks of a stretch are as wide as each other.
    let blanks = &mut plan.boards[0].sections[0].strips[0].blanks;
    for blank in blanks.iter_mut() {
        blank.high = blank.high - (blank.high - blank.low) / 4;
    }
    let blank = &blanks[0];
    let mark = format!(": {} to {}", ruler.show(blank.low), ruler.show(blank.high));
    let words = written(&plan);
    let (_, finals) = words
        .split_once("Final rips, from the near edge")
        .expect("written");
    assert!(finals.contains(&mark), "{mark} in {finals}");
}

#[test]
fn no_words_overlap_where_many_pieces_are_narrower_than_their_strips() {
    for seed in 0..100 {
        let (job, mut plan) = random(seed);
        let strips = plan.boards[0].sections.iter_mut();
        let blanks = strips.flat_map(|section| &mut section.strips);
        for blank in blanks.flat_map(|strip| &mut strip.blanks).step_by(3) {
            blank.high = blank.high - (blank.high - blank.low) / 8;
        }
        assert_clear(&job, &plan, seed);
    }
}

#[test]
fn blanks_are_drawn_to_scale_at_their_marks() {
    let (job, plan) = random(0);
    let view = View::new(&job, &plan, 0, job.settings.ruler());
    let drawing = board(&job, &plan, 0);
    let scale = band::bands(&view)[0].scale;
    for blank in view.blanks() {
        let width = (blank.to - blank.from).inches() * scale;
        let height = (blank.high - blank.low).inches() * scale;
        let left = SIDE + blank.from.inches() * scale;
        let drawn = drawing.shapes.iter().any(|shape| match shape {
            crate::draw::Shape::Area { points, .. } if points.len() == 4 => {
                let (a, c) = (points[0], points[2]);
                (a.x - left).abs() < 1e-6
                    && (c.x - a.x - width).abs() < 1e-6
                    && (c.y - a.y - height).abs() < 1e-6
            }
            _ => false,
        });
        assert!(drawn, "{blank:?}");
    }
}

#[test]
fn the_top_turns_over_with_each_of_far_and_down() {
    use crate::plan::{End, Face};
    use view::Way;
    let (job, plan) = random(0);
    let view = View::new(&job, &plan, 0, job.settings.ruler());
    let blank = view
        .blanks()
        .find(|b| view.front(b).grain == crate::job::Grain::Horizontal)
        .expect("one lies flat");
    for (left, face, top) in [
        (End::Hook, Face::Up, Way::Up),
        (End::Far, Face::Up, Way::Down),
        (End::Hook, Face::Down, Way::Down),
        (End::Far, Face::Down, Way::Up),
    ] {
        let turned = crate::plan::Blank {
            left,
            face,
            ..blank.clone()
        };
        assert_eq!(view.top(&turned), top, "{left:?} {face:?}");
    }
}

/// A tape without its lines is only a bar: they once were one stroke to and fro, which the picture
/// in dots left out.
#[test]
fn the_lines_of_the_tapes_are_painted() {
    let (job, plan) = random(0);
    let drawing = board(&job, &plan, 0);
    let length = job.boards[0].length.inches();
    let ticks = drawing.shapes.iter().filter(|shape| match shape {
        crate::draw::Shape::Stroke { points, width, .. } => {
            *width == 0.35 && points.len() == 2 && points[0].x == points[1].x
        }
        _ => false,
    });
    assert_eq!(ticks.count(), 2 * (length.floor() as usize + 1));
}

#[test]
fn no_leader_runs_through_a_number_of_a_tape() {
    for seed in 0..60 {
        let (job, plan) = random(seed);
        let struck = crate::draw::testing::crossings(&crate::draw::Drawing {
            shapes: board(&job, &plan, 0)
                .shapes
                .into_iter()
                .filter(|shape| match shape {
                    crate::draw::Shape::Text(text) => text.size == 6.0 && !text.upward,
                    crate::draw::Shape::Stroke { points, width, .. } => {
                        *width == 0.5 && points.len() == 3
                    }
                    crate::draw::Shape::Area { .. } => false,
                })
                .collect(),
            ..crate::draw::Drawing::default()
        });
        let on_tape = struck
            .iter()
            .filter(|words| words.trim_start_matches('"').starts_with(char::is_numeric));
        assert_eq!(on_tape.count(), 0, "seed {seed}: {struck:?}");
    }
}

/// Board C is 48 x 9 in, 3 square feet, and makes 7 of 11 3/8 parts of a front of 18 x 11 in, its
/// other copy 4 3/8 of them: 198 x 7 / 11.375 / 432 is 28 %, 198 x 4.375 / 11.375 / 432 is 18 %.
#[test]
fn a_stave_counts_for_its_own_part_of_the_front_in_its_boards_yield() {
    let (mut job, plan) = crate::plan::fixture::uneven_staves();
    job.boards[2].length = crate::measure::Length::from_inches(48.0);
    let facts = |index| board_facts(&job, &plan, index, job.settings.ruler());
    assert!(facts(2).ends_with("yield 28 %"), "{}", facts(2));
    assert!(facts(3).ends_with("yield 18 %"), "{}", facts(3));
}

/// Two fronts flattened together, and one that keeps its waste: A1 and A2 are cut apart later, so
/// the cut between them is in dashes, and what they are part of is said below.
#[test]
fn what_stays_joined_is_drawn_in_dashes_and_named_below() {
    let (job, plan) = (crate::plan::fixture::job(), crate::plan::fixture::plan());
    let words = |index| {
        let drawing = board(&job, &plan, index);
        let texts = drawing.texts();
        texts
            .map(|text| format!("{} ", text.words))
            .collect::<String>()
    };
    assert!(
        words(1).contains("Leave joined until flat L2 + L1"),
        "{}",
        words(1)
    );
    assert!(words(1).contains("cut apart when flat"));
    assert!(!words(0).contains("joined"), "20 in are long enough alone");
}
