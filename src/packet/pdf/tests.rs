use super::*;
use crate::draw::testing::{chest, clashes, random};
use crate::job::generate::{Size, generate};
use crate::layout;
use crate::measure::Unit;

fn generated(seed: u64, unit: Unit) -> (Job, Plan) {
    let mut job = generate(Size::CHEST, seed);
    job.settings.unit = unit;
    let plan = layout::quick(&job, seed);
    (job, plan)
}

/// A sample of the project, planned fast.
fn sample(name: &str) -> (Job, Plan) {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let reading = crate::job::read(&root.join("sample-boards").join(name)).expect("a sample");
    let plan = layout::quick(&reading.job, 1);
    (reading.job, plan)
}

/// Packets of all kinds: by hand, random boards of 24 in to 16 ft with 1 to 30 blanks, two fronts,
/// a chest, sixty fronts.
fn packets() -> Vec<(Job, Plan)> {
    let mut cases = vec![chest()];
    cases.extend((0..12).map(random));
    cases.extend((0..3).map(|seed| generated(seed, [Unit::Inch, Unit::Mm][seed as usize % 2])));
    for (size, seed) in [
        (Size::new(2, 1, 2), 5),
        (Size::new(30, 8, 20), 3),
        (Size::KITCHEN, 4),
    ] {
        let job = generate(size, seed);
        let plan = layout::quick(&job, seed);
        cases.push((job, plan));
    }
    cases
}

fn on_paper(job: &Job, plan: &Plan) -> Vec<(Document, Vec<Drawing>)> {
    let document = document(job, plan, &Extras::default());
    [Paper::LETTER.lying(), Paper::A4.lying()]
        .map(|paper| (document.clone(), sheets(&document, paper)))
        .into()
}

#[test]
fn nothing_on_a_sheet_overlaps_or_leaves_it() {
    for (job, plan) in packets() {
        for sheet in on_paper(&job, &plan).into_iter().flat_map(|(_, all)| all) {
            let clashes = clashes(&sheet);
            assert!(clashes.is_empty(), "{}: {clashes:#?}", sheet.title);
        }
    }
}

/// The parts on a sheet, as its foot says, and how far down its words go, as a share.
fn foot_and_depth(sheet: &Drawing) -> (Vec<String>, f64) {
    let mut texts: Vec<_> = sheet.texts().collect();
    let page = texts.pop().expect("a page number");
    let foot = texts.pop().expect("a foot");
    assert!(page.words.contains(" / "));
    let lowest = texts.iter().map(|t| t.extent().bottom).fold(0.0, f64::max);
    let parts = foot.words.split(" · ").skip(1).map(str::to_owned);
    (parts.collect(), lowest / sheet.height)
}

#[test]
fn a_board_keeps_to_one_sheet() {
    for (i, (job, plan)) in packets().into_iter().enumerate() {
        for (document, all) in on_paper(&job, &plan) {
            let told: Vec<Vec<String>> = all.iter().map(|sheet| foot_and_depth(sheet).0).collect();
            for part in document.parts.iter().filter(|part| part.is_board()) {
                let sheets = told
                    .iter()
                    .filter(|names| names.contains(&part.title))
                    .count();
                assert!(sheets > 0, "{i}: no sheet for {}", part.title);
                let index: usize = part.id["board-".len()..].parse().expect("a number");
                let marks = crate::packet::marks(&job, &plan.boards[index - 1]).len();
                assert!(
                    marks >= 12 || sheets == 1,
                    "{i}: {} on {sheets}",
                    part.title
                );
            }
        }
    }
}

/// A number on one line and its fraction on the next would be read as two.
#[test]
fn no_line_begins_with_the_fraction_of_a_number() {
    let (job, plan) = generated(0, Unit::Inch);
    for sheet in on_paper(&job, &plan).into_iter().flat_map(|(_, all)| all) {
        let texts: Vec<_> = sheet.texts().collect();
        for pair in texts.windows(2) {
            let (above, below) = (&pair[0].words, &pair[1].words);
            let next = pair[1].at.x == pair[0].at.x && pair[1].at.y > pair[0].at.y;
            let word = below.split(' ').next().unwrap_or_default();
            let torn = next && word.contains('/') && above.contains(" at ") || word == "in";
            assert!(
                !(torn && above.ends_with(char::is_numeric)),
                "{above} | {below}"
            );
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
    for unit in [Unit::Inch, Unit::Mm] {
        let (document, papers) = fitted_sample_in("chest", unit);
        for (sheets, paper) in papers.iter().zip(["letter", "a4"]) {
            let file = dir.join(format!("chest-{unit:?}-{paper}.pdf"));
            std::fs::write(file, sheets_to_pdf(sheets, &document.title)).expect("written");
        }
    }
    let samples = ["chest", "small", "tall-case"].map(sample);
    let one = generate(Size::new(1, 1, 1), 1);
    let one = (one.clone(), layout::quick(&one, 1));
    for (i, (job, plan)) in samples
        .into_iter()
        .chain([one])
        .chain(packets())
        .enumerate()
    {
        let name = format!("packet-{i:02}");
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

/// Words of a unit that the job is not in: a figure followed by it.
fn has_unit(words: &str, units: &[&str]) -> bool {
    let words: Vec<&str> = words
        .split([' ', '\u{a0}', ',', '.', ')', '(', ';'])
        .collect();
    words
        .windows(2)
        .any(|pair| pair[0].ends_with(|c: char| c.is_ascii_digit()) && units.contains(&pair[1]))
}

/// Paper has no switch: who measures in one unit meets no word of the other.
#[test]
fn sheets_bear_no_figure_in_the_other_unit() {
    let (inch, plan) = sample("chest");
    let (mm, metric) = sample("tall-case");
    let fitting = crate::fit::fit(&inch).expect("a sample fits");
    let with = Extras {
        fitting: Some(&fitting),
        ..Extras::default()
    };
    let of_inches = ["in", "inch", "inches", "board", "lb", "cubic", "quarters"];
    let of_mm = ["mm", "cm", "m", "m³", "litres", "kg"];
    assert!(has_unit("at least 27 in high", &of_inches));
    for (job, plan, extras, others) in [
        (&inch, &plan, &with, &of_mm[..]),
        (&mm, &metric, &Extras::default(), &of_inches[..]),
    ] {
        let document = document(job, plan, extras);
        for sheet in sheets(&document, Paper::A4.lying()) {
            for text in sheet.texts() {
                assert!(!has_unit(&text.words, others), "{}", text.words);
            }
        }
    }
}

/// The letters of a board's sheets are ten points high or more, as they are set.
#[test]
fn nothing_on_a_board_sheet_is_smaller_than_ten_points() {
    for (job, plan) in packets() {
        for sheet in on_paper(&job, &plan).into_iter().flat_map(|(_, all)| all) {
            let parts = foot_and_depth(&sheet).0;
            if !parts.iter().all(|part| part.starts_with("Board ")) {
                continue;
            }
            let set = sheet.texts().flat_map(crate::draw::Text::set);
            for shape in set {
                if let crate::draw::Shape::Text(text) = shape {
                    assert!(text.size >= 9.999, "{}: {text:?}", sheet.title);
                }
            }
        }
    }
}

/// Names in scripts that the type has letters for, and in four that it has not: each stands on the
/// sheets of the packet and on a label, itself or as the number that a table explains.
#[test]
fn every_name_prints_in_any_script() {
    let (mut job, plan) = chest();
    let names = [
        "Ящик",
        "Συρτάρι",
        "抽屉",
        "引き出し",
        "מגירה",
        "درج",
        "Größe Ø",
    ];
    for (front, name) in job.fronts.iter_mut().zip(names) {
        name.clone_into(&mut front.name);
    }
    job.boards[0].id = "楓".to_owned();
    let document = document(&job, &plan, &Extras::default());
    let sheets = sheets(&document, Paper::A4.lying());
    let words: Vec<&str> = sheets
        .iter()
        .flat_map(Drawing::texts)
        .map(|text| text.words.as_str())
        .collect();
    let labels = crate::packet::label_sheets(&job, &plan);
    let on_labels: Vec<&str> = labels
        .iter()
        .flat_map(Drawing::texts)
        .map(|text| text.words.as_str())
        .collect();
    for (i, name) in names.into_iter().enumerate() {
        let drawn = crate::draw::can_write(name);
        assert_eq!(
            drawn,
            [true, true, false, false, false, false, true][i],
            "{name}"
        );
        let number = format!("#{}", i + 1);
        let shown = if drawn { name } else { &number };
        assert!(words.contains(&name), "{name} or the table of it");
        assert!(
            words.iter().any(|w| w.contains(shown)),
            "{shown} on a sheet"
        );
        // The last one is a front that is not made.
        let made = plan.not_made.iter().all(|missing| missing.front != i) && i < 6;
        assert!(
            !made || on_labels.contains(&shown),
            "{shown} on a label: {on_labels:?}"
        );
    }
    assert!(words.contains(&"Board #1"), "the board's sheet");
    assert!(words.contains(&"Numbers for names"), "a warning");
}

/// How far down a sheet's shapes reach, as a share of what its margins leave.
fn filled(sheet: &Drawing) -> f64 {
    let count = sheet.shapes.len().saturating_sub(2);
    let down = |shape: &crate::draw::Shape| match shape {
        crate::draw::Shape::Area { points, .. } | crate::draw::Shape::Stroke { points, .. } => {
            points.iter().map(|point| point.y).fold(0.0, f64::max)
        }
        crate::draw::Shape::Text(text) => text.extent().bottom,
    };
    // The last two are the foot.
    let lowest = sheet.shapes[..count].iter().map(down).fold(0.0, f64::max);
    (lowest - 36.0) / (sheet.height - 88.0)
}

/// The rest of a crowded board may have a sheet to itself.
#[test]
fn no_sheet_but_the_last_is_less_than_half_full() {
    for (i, (job, plan)) in packets().into_iter().enumerate() {
        for (_, all) in on_paper(&job, &plan) {
            let told: Vec<_> = all
                .iter()
                .map(|s| (foot_and_depth(s).0, filled(s)))
                .collect();
            let empty = (0..told.len() - 1).find(|&at| {
                let (parts, filled) = &told[at];
                let rest = at > 0 && parts[0].starts_with("Board ") && told[at - 1].0 == *parts;
                *filled < 0.5 && !rest
            });
            assert_eq!(empty, None, "{i}: {told:#?}");
        }
    }
}

/// A sample's packet with its fitting sheet, on both usual papers.
fn fitted_sample(name: &str) -> (Document, [Vec<Drawing>; 2]) {
    fitted_sample_in(name, Unit::Inch)
}

fn fitted_sample_in(name: &str, unit: Unit) -> (Document, [Vec<Drawing>; 2]) {
    let (mut job, plan) = sample(name);
    job.settings.unit = unit;
    let fitting = crate::fit::fit(&job).expect("a sample fits");
    let extras = Extras {
        fitting: Some(&fitting),
        ..Extras::default()
    };
    let document = document(&job, &plan, &extras);
    let papers = [Paper::LETTER.lying(), Paper::A4.lying()];
    let all = papers.map(|paper| sheets(&document, paper));
    (document, all)
}

/// Sheets of the chest: the case, six boards, and words and figures no smaller than told.
const MOST_OF_CHEST: usize = 14;

/// The fitted chest: a drawing and a paragraph a front once took nine sheets by themselves.
#[test]
fn the_chest_with_its_fitting_sheet_takes_few_sheets() {
    let (_, papers) = fitted_sample("chest");
    for all in papers {
        for sheet in &all {
            assert_eq!(clashes(sheet), Vec::<String>::new(), "{}", sheet.title);
        }
        assert!(all.len() <= MOST_OF_CHEST, "{} sheets", all.len());
        for sheet in &all[..all.len() - 1] {
            assert!(
                filled(sheet) >= 0.5,
                "{:?} {}",
                foot_and_depth(sheet).0,
                filled(sheet)
            );
        }
    }
}

/// Words and figures of the fitting sheet are nine points high, the numbers of fractions eight.
#[test]
fn nothing_on_a_fitting_sheet_is_smaller_than_eight_points() {
    let (_, papers) = fitted_sample("chest");
    for sheet in papers.iter().flatten() {
        if foot_and_depth(sheet).0 != ["Fitting sheet"] {
            continue;
        }
        for shape in sheet.texts().flat_map(crate::draw::Text::set) {
            if let crate::draw::Shape::Text(text) = shape {
                let number = text.words.chars().all(|c| c.is_ascii_digit());
                let least = if number { 8.0 } else { 9.0 };
                assert!(text.size >= least - 0.001, "{}: {text:?}", sheet.title);
            }
        }
    }
}

/// The case, and below it the order of work and the cautions; the board and the cutting list.
#[test]
fn a_job_with_one_front_takes_two_sheets() {
    for unit in [Unit::Inch, Unit::Mm] {
        let mut job = generate(Size::new(1, 1, 1), 1);
        job.settings.unit = unit;
        let plan = layout::quick(&job, 1);
        assert_eq!(plan.totals.made, 1);
        for (_, all) in on_paper(&job, &plan) {
            let told: Vec<_> = all
                .iter()
                .map(|s| (foot_and_depth(s).0, filled(s)))
                .collect();
            assert!(all.len() <= 2, "{told:#?}");
            for sheet in &all {
                assert_eq!(clashes(sheet), Vec::<String>::new(), "{}", sheet.title);
            }
        }
    }
}
