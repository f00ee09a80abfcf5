use super::*;
use crate::draw::Rect;
use crate::draw::testing::{chest, clashes, random};
use crate::measure::Length;

/// Narrower than its own sheet and with larger words, as the packet has it.
const NARROW: Easel = Easel {
    width: 530.0,
    height: 420.0,
    titled: false,
    words: 1.4,
};

#[test]
fn no_words_overlap_on_200_random_cases() {
    for seed in 0..200 {
        let (job, plan) = random(seed);
        for easel in [Easel::SHEET, NARROW] {
            let drawing = elevation_on(&job, &plan, None, (easel, Unit::Inch));
            let clashes = clashes(&drawing);
            assert!(clashes.is_empty(), "seed {seed}: {clashes:#?}");
            assert!(drawing.height <= 500.0, "seed {seed}");
        }
    }
}

#[test]
fn fronts_stand_apart_and_in_run_order() {
    let (job, _) = chest();
    let arrangement = Arrangement::of(&job, Easel::SHEET);
    let frame = arrangement.frame(0.0);
    let rects: Vec<_> = arrangement.fronts.iter().map(|p| frame.rect(p)).collect();
    for (i, a) in rects.iter().enumerate() {
        assert!(rects[..i].iter().all(|b| !a.overlaps(b, 0.01)));
    }
    let left = |front: usize| {
        arrangement
            .fronts
            .iter()
            .find(|p| p.front == front)
            .map(|p| p.left)
    };
    for run in &job.runs {
        for pair in run.fronts.windows(2) {
            assert!(left(pair[0]) < left(pair[1]));
        }
    }
}

#[test]
fn a_chest_looks_as_it_did() {
    let (job, plan) = chest();
    insta::assert_snapshot!(elevation(&job, &plan, None).svg_element());
}

/// The invented chest's first row: openings of 13 21/32 and 13 5/8 in, gaps of 1/16 in at the sides,
/// fronts 3/4 in apart: 5/8 in of divider between two openings.
#[test]
fn openings_and_dividers_are_drawn_to_scale() {
    let (mut job, plan) = chest();
    job.runs.truncate(1);
    for front in &mut job.fronts {
        front.space_after = Some(Length::from_inches(0.75));
    }
    for front in 0..3 {
        let sides = [6.0, 6.0, 14.125, 14.125].map(Length::from_inches);
        job.openings.push(crate::job::Opening {
            front,
            measured: crate::job::Measured {
                left: sides[0],
                right: sides[1],
                top: sides[2],
                bottom: sides[3],
                ..Default::default()
            },
            ..Default::default()
        });
    }
    let sheet = crate::fit::fit(&job).expect("openings that close");
    let bare = elevation(&job, &plan, None);
    let drawing = elevation(&job, &plan, Some(&sheet));
    assert_eq!(clashes(&drawing), Vec::<String>::new());
    let scale = Arrangement::of(&job, Easel::SHEET).frame(0.0).scale;
    let dividers: Vec<f64> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            crate::draw::Shape::Area { points, fill } if *fill == theme::WASTE => {
                Some(points[1].x - points[0].x)
            }
            _ => None,
        })
        .collect();
    // Two dividers and their swatch in the legend.
    assert_eq!(dividers.len(), 3);
    for divider in &dividers[..2] {
        assert!((divider / scale - 0.625).abs() < 1e-9, "{divider}");
    }
    assert!(drawing.texts().any(|text| text.words == "divider"));
    assert!(bare.texts().all(|text| text.words != "divider"));
}

/// An overlay front hides its opening and stands proud of the case: no outline of an opening
/// around it, but a shadow below and to the right; the legend says what that means.
#[test]
fn an_overlay_front_is_drawn_as_one() {
    let (mut job, plan) = chest();
    job.runs.truncate(1);
    for front in 0..2 {
        let sides = [6.0, 6.0, 14.125, 14.125].map(Length::from_inches);
        job.openings.push(crate::job::Opening {
            front,
            measured: crate::job::Measured {
                left: sides[0],
                right: sides[1],
                top: sides[2],
                bottom: sides[3],
                ..Default::default()
            },
            ..Default::default()
        });
    }
    let counts = |job: &crate::job::Job| {
        let sheet = crate::fit::fit(job).expect("openings that close");
        let drawing = elevation(job, &plan, Some(&sheet));
        assert_eq!(clashes(&drawing), Vec::<String>::new());
        let areas = |ink| {
            let shapes = drawing.shapes.iter();
            let shadows = shapes.filter(
                |shape| matches!(shape, crate::draw::Shape::Area { fill, .. } if *fill == ink),
            );
            shadows.count()
        };
        let legend = "overlay: covers its opening";
        (
            areas(theme::FAINT),
            drawing.texts().any(|t| t.words == legend),
        )
    };
    let (none, told) = counts(&job);
    assert!(!told);
    job.fronts[1].mode = Some(crate::job::Mode::Overlay);
    // The front's and the legend's.
    assert_eq!(counts(&job), (none + 2, true));
    let sheet = crate::fit::fit(&job).expect("openings that close");
    let openings = Openings::of(&job, Some(&sheet));
    assert!(openings.is_known(0) && !openings.is_known(1));
}

#[test]
#[ignore = "writes pictures to look at"]
fn pictures() {
    let dir = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("target/pictures");
    std::fs::create_dir_all(&dir).expect("a folder");
    let (job, plan) = chest();
    let drawing = elevation(&job, &plan, None);
    std::fs::write(dir.join("chest.png"), drawing.png()).expect("written");
    std::fs::write(dir.join("chest.svg"), drawing.svg()).expect("written");
    for seed in 0..6 {
        let (job, plan) = random(seed);
        let drawing = elevation(&job, &plan, None);
        std::fs::write(dir.join(format!("case-{seed}.png")), drawing.png()).expect("written");
    }
}

/// Stave 1 is 7 in wide and stave 2 is 4 3/8: the glue line lies 7 / 11.375 of the way down.
#[test]
fn the_glue_line_lies_where_the_staves_meet() {
    let (job, plan) = crate::plan::fixture::uneven_staves();
    let front = 4;
    let arrangement = Arrangement::of(&job, Easel::SHEET);
    let placed = arrangement.fronts.iter().find(|p| p.front == front);
    assert!(placed.is_some());
    let drawing = elevation(&job, &plan, None);
    let areas: Vec<Rect> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            crate::draw::Shape::Area { points, .. } if points.len() == 4 => {
                let x = || points.iter().map(|p| p.x);
                let y = || points.iter().map(|p| p.y);
                let (left, right) = (x().fold(f64::MAX, f64::min), x().fold(f64::MIN, f64::max));
                let (top, bottom) = (y().fold(f64::MAX, f64::min), y().fold(f64::MIN, f64::max));
                Some(Rect::new(left, top, right, bottom))
            }
            _ => None,
        })
        .collect();
    let whole = 18.0 / 11.0;
    let is_pair = |a: &Rect, b: &Rect| {
        let alike = (a.left - b.left).abs() < 1e-6 && (a.right - b.right).abs() < 1e-6;
        let shape = a.width() / (a.height() + b.height());
        alike && (a.bottom - b.top).abs() < 1e-6 && (shape - whole).abs() < 1e-3
    };
    let pair = areas
        .windows(2)
        .find(|pair| is_pair(&pair[0], &pair[1]))
        .expect("two staves");
    let share = pair[0].height() / (pair[0].height() + pair[1].height());
    assert!((share - 7.0 / 11.375).abs() < 1e-6, "{share}");
}

fn body_of(arrangement: &Arrangement) -> arrange::Body {
    let [body] = arrangement.bodies[..] else {
        panic!("one case, not {:?}", arrangement.bodies);
    };
    body
}

fn place_of(arrangement: &Arrangement, front: usize) -> Rect {
    let placed = arrangement.fronts.iter().find(|p| p.front == front);
    placed.expect("it stands somewhere").rect()
}

fn words(drawing: &Drawing) -> String {
    let texts = drawing.texts().map(|text| text.words.clone());
    texts.collect::<Vec<String>>().join(" ")
}

/// A case of 48 by 34 in with rails of 3/4 in: drawn so, its sizes as they are written, and nothing
/// of it assumed.
#[test]
fn a_case_that_is_told_is_drawn_to_scale_and_nothing_of_it_is_assumed() {
    let (mut job, plan) = chest();
    for front in &mut job.fronts {
        front.space_after = Some(Length::from_inches(0.25));
    }
    let case = &mut job.settings.case;
    case.width = Some(Length::from_inches(48.0));
    case.height = Some(Length::from_inches(34.0));
    case.rail = Some(Length::from_inches(0.75));
    let rows = [&["middle"][..], &["top"], &["bottom"], &["E1"]];
    case.rows = rows
        .map(|row| row.iter().map(|&name| name.to_owned()).collect())
        .to_vec();
    let arrangement = Arrangement::of(&job, Easel::SHEET);
    let body = body_of(&arrangement);
    assert!((body.rect.width() - 48.0).abs() < 1e-9 && (body.rect.height() - 34.0).abs() < 1e-9);
    let rects: Vec<Rect> = (0..job.fronts.len())
        .map(|f| place_of(&arrangement, f))
        .collect();
    assert!(rects.iter().all(|rect| body.rect.holds(rect, 1e-9)));
    // The wide drawer stands above the top run here, a rail between them.
    assert!((rects[0].top - rects[3].bottom - 0.75).abs() < 1e-9);
    let drawing = elevation(&job, &plan, None);
    assert_eq!(clashes(&drawing), Vec::<String>::new());
    let words = words(&drawing);
    assert!(!words.contains("Assumed"), "{words}");
    assert!(
        words.contains("48 in") && !words.contains("(48 in)"),
        "{words}"
    );
}

#[test]
fn what_the_job_does_not_say_of_the_case_is_said_to_be_assumed() {
    let (job, plan) = chest();
    let words = words(&elevation(&job, &plan, None));
    for told in [
        "Assumed, as the job does not say",
        "rails of",
        "the case’s size",
        "in)",
    ] {
        assert!(words.contains(told), "{told}: {words}");
    }
}

/// Sixty fronts fold into banks only with a word.
#[test]
fn fronts_never_fold_into_banks_in_silence() {
    use crate::job::generate::{Size, generate};
    let mut folded = 0;
    for seed in 0..6 {
        let job = generate(Size::KITCHEN, seed);
        let arrangement = Arrangement::of(&job, NARROW);
        let drawing = elevation_on(&job, &Plan::default(), None, (NARROW, Unit::Inch));
        let banks = format!("Drawn in {} banks", arrangement.bodies.len());
        assert_eq!(
            words(&drawing).contains("banks"),
            arrangement.bodies.len() > 1
        );
        if arrangement.bodies.len() > 1 {
            assert!(words(&drawing).contains(&banks));
            folded += 1;
        }
    }
    assert!(folded > 0, "no job of these folds");
}

#[test]
fn a_front_stands_where_its_row_says_and_others_beside_the_case_with_a_word() {
    let (mut job, plan) = chest();
    let inch = Length::from_inches;
    for (front, (across, up)) in [(1.0, 20.0), (16.0, 21.0)].into_iter().enumerate() {
        let (across, up) = (inch(across), inch(up));
        job.fronts[front].stands = Some(crate::job::Stand { across, up });
    }
    let arrangement = Arrangement::of(&job, Easel::SHEET);
    let body = body_of(&arrangement).rect;
    let (first, second) = (place_of(&arrangement, 0), place_of(&arrangement, 1));
    assert!((first.left - body.left - 1.0).abs() < 1e-9);
    assert!((body.bottom - first.bottom - 20.0).abs() < 1e-9);
    assert!((second.left - first.left - 15.0).abs() < 1e-9);
    assert!((first.bottom - second.bottom - 1.0).abs() < 1e-9);
    assert!((2..job.fronts.len()).all(|f| place_of(&arrangement, f).left > body.right));
    let drawing = elevation(&job, &plan, None);
    assert_eq!(clashes(&drawing), Vec::<String>::new());
    assert!(words(&drawing).contains("Beside the case, as their rows give no place: D3"));
}

/// Pulls by the job's rule: two on the wide drawer, a quarter of its width from either end; no name
/// lies on one.
#[test]
fn pulls_stand_where_the_job_says_and_clear_of_names() {
    let (mut job, plan) = chest();
    job.settings.fitting.pulls = Some(crate::job::PullRule::of(Unit::Inch));
    let drawing = elevation(&job, &plan, None);
    let knobs: Vec<Rect> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            crate::draw::Shape::Area { points, fill } if *fill == theme::INK => {
                Some(Rect::around(points))
            }
            _ => None,
        })
        .collect();
    // One on each of the three and the two, two on the wide one; none on what is not made.
    assert_eq!(knobs.len(), 7);
    let arrangement = Arrangement::of(&job, Easel::SHEET);
    let frame = arrangement.frame(0.0);
    let wide = frame.on_sheet(place_of(&arrangement, 3));
    let at = |knob: &Rect| (knob.centre().x - wide.left) / wide.width();
    assert!((at(&knobs[3]) - 0.25).abs() < 1e-6 && (at(&knobs[4]) - 0.75).abs() < 1e-6);
    for text in drawing.texts() {
        assert!(
            knobs.iter().all(|knob| !knob.overlaps(&text.extent(), 0.0)),
            "{}",
            text.words
        );
    }
}

/// The tone of a board is written on its fronts as its maker wrote it.
#[test]
fn the_makers_own_word_for_a_tone_stands_on_the_front_and_in_the_legend() {
    let (mut job, plan) = chest();
    job.boards[1].tone_words = "honey brown".to_owned();
    let words = words(&elevation(&job, &plan, None));
    assert!(words.contains("B, honey brown"), "{words}");
    assert!(words.contains("4.5 honey brown"), "{words}");
}
