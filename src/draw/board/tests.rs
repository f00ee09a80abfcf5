use super::*;
use crate::draw::fraction::in_line;
use crate::draw::shape::Shape;
use crate::draw::testing::{clashes, random};

/// No words overlap, none is smaller than ten points as it is set, and no drawing is higher than a
/// sheet.
fn assert_clear(job: &crate::job::Job, plan: &crate::plan::Plan, seed: u64) {
    let ruler = job.settings.ruler();
    let layouts = board_layouts(job, plan, 0, ruler, None);
    let alone = board(job, plan, 0);
    for drawing in layouts.iter().flatten() {
        assert!(
            drawing.height <= 500.0,
            "seed {seed}: {} points high",
            drawing.height
        );
    }
    let narrow = board_narrow(job, plan, 0, ruler, None);
    for drawing in layouts.iter().flatten().chain([&alone, &narrow]) {
        let clashes = clashes(drawing);
        assert!(clashes.is_empty(), "seed {seed}: {clashes:#?}");
        let set = drawing.texts().flat_map(Text::set);
        let sizes = set.filter_map(|shape| match shape {
            Shape::Text(text) => Some(text.size),
            _ => None,
        });
        let least = sizes.fold(f64::MAX, f64::min);
        assert!(least >= 10.0, "seed {seed}: letters of {least} points");
    }
}

/// The words of a drawing, fractions in line.
fn words_of(drawing: &Drawing) -> Vec<String> {
    drawing.texts().map(|text| in_line(&text.words)).collect()
}

#[test]
fn every_mark_is_written_on_the_diagram_with_its_number() {
    for seed in 0..60 {
        let (job, plan) = random(seed);
        let drawing = board(&job, &plan, 0);
        let words = words_of(&drawing);
        let marks = crate::work::marks(&job, &plan.boards[0], None);
        let chalked = marks
            .iter()
            .filter(|mark| mark.kind != crate::work::MarkKind::Keep);
        for (i, mark) in chalked.enumerate() {
            let at = if mark.is_across() {
                mark.along.0
            } else {
                mark.across.0
            };
            let figure = job.settings.ruler().show(at);
            // One without room is told in the key.
            let told = format!("mark {} at {figure}", i + 1);
            let in_key = words.join(" ").contains(&told);
            assert!(
                in_key || words.contains(&figure),
                "seed {seed}: no mark {figure}"
            );
            let number = (i + 1).to_string();
            assert!(
                in_key || words.contains(&number),
                "seed {seed}: no number {number}"
            );
        }
    }
}

#[test]
fn a_piece_narrower_than_its_strip_has_its_final_rip_marked() {
    let (job, mut plan) = random(0);
    let ruler = job.settings.ruler();
    // All blanks of a stretch are as wide as each other.
    let blanks = &mut plan.boards[0].sections[0].strips[0].blanks;
    for blank in blanks.iter_mut() {
        blank.high = blank.high - (blank.high - blank.low) / 4;
    }
    let mark = ruler.show(blanks[0].high);
    let words = words_of(&board(&job, &plan, 0));
    assert!(words.contains(&mark), "{mark} in {words:?}");
}

#[test]
fn blanks_are_drawn_to_scale_at_their_marks() {
    let (job, plan) = random(3);
    let view = View::new(&job, &plan, 0, job.settings.ruler());
    let drawing = board(&job, &plan, 0);
    let band = bands(&view)[0];
    let drawn = |shape: &Shape| match shape {
        Shape::Area { points, .. } if points.len() == 4 => Some(Rect::around(points)),
        _ => None,
    };
    let rects: Vec<Rect> = drawing.shapes.iter().filter_map(drawn).collect();
    let mut ratios = Vec::new();
    for blank in view
        .blanks()
        .filter(|b| band.shows(b.from) && band.shows(b.to))
    {
        let (left, right) = (band.x(blank.from), band.x(blank.to));
        let is = |r: &&Rect| (r.left - left).abs() < 1e-6 && (r.right - right).abs() < 1e-6;
        let rect = rects.iter().find(is).expect("a blank at its marks");
        ratios.push(rect.height() / (blank.high - blank.low).inches());
    }
    assert!(ratios.len() > 1);
    assert!(
        ratios.iter().all(|ratio| (ratio - ratios[0]).abs() < 1e-6),
        "{ratios:?}"
    );
}

/// The figures of a strip stand below it or above it only where no other strip lies between, and
/// the names of defects likewise.
#[test]
fn no_leader_crosses_a_front() {
    for seed in 0..100 {
        let (job, plan) = random(seed);
        let view = View::new(&job, &plan, 0, job.settings.ruler());
        let marks = marks::numbered(&view);
        for mut band in bands(&view) {
            band.near = 500.0;
            let all = above(&view, &band, &marks).into_iter().map(|l| (l, 0.0));
            let all = all.chain(below(&view, &band, &marks).into_iter().map(|l| (l, 500.0)));
            for (label, edge) in all {
                for blank in view.blanks() {
                    let rect = Rect::new(
                        band.x(blank.from) + 0.5,
                        band.y(blank.high) + 0.5,
                        band.x(blank.to) - 0.5,
                        band.y(blank.low) - 0.5,
                    );
                    let (from, to) = (
                        crate::draw::Point::new(label.x, label.y),
                        crate::draw::Point::new(label.x, edge),
                    );
                    assert!(
                        !rect.is_crossed(from, to),
                        "seed {seed}: {label:?} {blank:?}"
                    );
                }
            }
        }
    }
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
fn what_stays_joined_is_drawn_in_dashes_and_bracketed() {
    let (job, plan) = (crate::plan::fixture::job(), crate::plan::fixture::plan());
    let words = |index| {
        let drawing = board(&job, &plan, index);
        let texts = drawing.texts();
        texts
            .map(|text| format!("{} ", text.words))
            .collect::<String>()
    };
    assert!(words(1).contains("leave joined: L2 + L1"), "{}", words(1));
    assert!(words(1).contains("cut apart when flat"));
    assert!(!words(0).contains("joined"), "20 in are long enough alone");
}
