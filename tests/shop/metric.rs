//! A metric job: the same plan as the inch job it was written from, in litres, and no inch in
//! anything it shows.

#[allow(dead_code)]
use crate::common::generate::{Size, generate};
use crate::common::shop::Shop;
use grainrow::job::{Job, Worth};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::{Length, Unit};
use grainrow::plan::{Limits, Plan, check, from_json, to_json};

/// Litres in a board foot. NIST Special Publication 811, Appendix B.9: 2.359 737 E-03 m3.
const LITRES: f64 = 2.359_737;

/// A random job of boards at least an inch thick.
fn in_inches(seed: u64) -> Job {
    let mut job = generate(Size::new(8, 2, 6), seed);
    let inch = Length::from_inches(1.0);
    for board in &mut job.boards {
        board.thickness = board.thickness.max(inch);
    }
    job
}

/// The same job as a metric maker would write it: every length and worth turned.
fn in_mm(job: &Job) -> Job {
    let mut job = job.clone();
    job.settings.unit = Unit::Mm;
    let Worth {
        unbroken,
        tone_run,
        tone_case,
        glue_line,
        moved,
        ..
    } = &mut job.settings.worth;
    for worth in [unbroken, tone_run, tone_case, glue_line, moved] {
        *worth *= LITRES;
    }
    job
}

fn best(job: &Job) -> Plan {
    let plan = layout::plan(job, &Request::default(), &Silent);
    assert_eq!(check(job, &plan, false, &Limits::default()), Ok(()));
    plan
}

#[test]
fn a_metric_job_written_from_an_inch_job_gets_the_same_plan_at_as_many_litres() {
    for seed in 1..=6 {
        let (inch, mm) = (in_inches(seed), in_mm(&in_inches(seed)));
        let (a, b) = (best(&inch), best(&mm));
        assert!(a.totals.proved && b.totals.proved, "seed {seed}");
        assert_eq!(a.boards, b.boards, "seed {seed}");
        let times = |litres: f64, feet: f64| {
            let near = (litres - feet * LITRES).abs() <= 1e-6 * litres.abs().max(1.0);
            assert!(near, "seed {seed}: {litres} litres, {feet} board feet");
        };
        times(b.totals.cost, a.totals.cost);
        times(b.totals.feet_used.value(), a.totals.feet_used.value());
        times(b.totals.feet_fronts.value(), a.totals.feet_fronts.value());
        times(b.totals.feet_kept.value(), a.totals.feet_kept.value());
        assert!((a.totals.yield_share - b.totals.yield_share).abs() < 1e-9);
    }
}

/// A board of 20 mm: 2 m x 0.2 m x 20 mm is 8 litres, whatever an inch is.
#[test]
fn thin_boards_count_as_they_are() {
    let mut job = in_mm(&in_inches(1));
    job.boards.truncate(1);
    job.boards[0].length = Length::from_mm(2000.0);
    job.boards[0].width = Length::from_mm(200.0);
    job.boards[0].thickness = Length::from_mm(20.0);
    job.boards[0].defects.clear();
    job.settings.allowances.keep_offcut = None;
    for front in &mut job.fronts {
        front.width = Length::from_mm(150.0);
        front.height = Length::from_mm(100.0);
        front.thickness = Length::from_mm(12.0);
    }
    let plan = best(&job);
    assert!(plan.totals.made > 0);
    let used = plan.totals.boards_used as f64 * 8.0;
    assert!((plan.totals.feet_used.value() - used).abs() < 1e-9);
}

#[test]
fn the_file_of_a_metric_plan_names_litres_and_reads_back() {
    let job = in_mm(&in_inches(2));
    let plan = best(&job);
    let text = to_json(&job, &plan);
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    let totals = value["totals"].as_object().unwrap();
    for name in ["litres_used", "litres_fronts", "litres_kept"] {
        assert!(totals[name].as_f64().is_some(), "{name}");
    }
    assert!(totals.keys().all(|name| !name.contains("feet")));
    let read = from_json(&job, &text).unwrap();
    assert_eq!(read.boards, plan.boards);
    // As exact as the published figure.
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-6 * b.abs().max(1.0), "{a} {b}");
    near(read.totals.feet_used.value(), plan.totals.feet_used.value());
    // Read for the job it was written from, it is board feet again.
    let inch = in_inches(2);
    let turned = from_json(&inch, &text).unwrap().totals;
    near(
        turned.feet_used.value() * LITRES,
        plan.totals.feet_used.value(),
    );
    near(turned.cost * LITRES, plan.totals.cost);
}

/// Words only inches are told in. Names of files, and the switch of the packet, are not on the
/// screen.
const OF_INCHES: [&str; 9] = [
    "inch", "feet", "foot", "/4", "/8", "/16", "1/2", "\"8", " ft",
];

#[track_caller]
fn no_inch(what: &str, text: &str) {
    for word in OF_INCHES {
        let met = text.lines().find(|line| line.contains(word));
        assert_eq!(met, None, "{what}: {word}");
    }
    // A number of inches: `12 in `, `12 in,`.
    let bytes = text.as_bytes();
    for (at, _) in text.match_indices(" in") {
        let after = bytes.get(at + 3).copied().unwrap_or(b'\n');
        let before = at > 0 && bytes[at - 1].is_ascii_digit();
        let unit = before && !after.is_ascii_alphanumeric();
        let words = {
            // "7 in 10", "in the": words, not a unit.
            let next = text[at + 3..].trim_start();
            next.starts_with("the") || next.starts_with(|c: char| c.is_ascii_digit())
        };
        assert!(
            !unit || words,
            "{what}: {}",
            &text[at.saturating_sub(40)..(at + 10).min(text.len())]
        );
    }
}

#[test]
fn the_commands_show_a_metric_maker_no_inch() {
    let shop = Shop::empty();
    shop.run(&["start", "--units", "mm"]).code(0);
    for name in ["job.toml", "boards.csv", "fronts.csv", "defects.csv"] {
        no_inch(name, &shop.read(name));
    }
    let told = |words: &[&str]| {
        let output = shop.run(words).get_output().clone();
        let text =
            String::from_utf8(output.stdout).unwrap() + &String::from_utf8_lossy(&output.stderr);
        no_inch(&words.join(" "), &text);
        text
    };
    for words in [
        &["check"][..],
        &["check", "--json"],
        &["tally", "--json"],
        &["plan", "--time", "10"],
        &["plan", "--json", "--time", "10"],
        &["plan", "--ways", "2", "--time", "5"],
        &["mark", "D1", "--spoiled"],
        &["recut", "--time", "10"],
        &["tally", "--rack"],
        &["tally", "--rack", "--json"],
    ] {
        told(words);
    }
    assert!(told(&["tally"]).contains("m³"));
    let estimate = told(&[
        "estimate", "--trials", "60", "--have", "27=0.06", "--have", "0,08",
    ]);
    assert!(
        estimate.contains("0.06 m³ of 27 mm suffices with a chance of"),
        "{estimate}"
    );
    assert!(estimate.contains("0.08 m³ suffices"), "{estimate}");
    no_inch("estimate.json", &shop.read("out/estimate.json"));
    let json: serde_json::Value = serde_json::from_str(&shop.read("out/estimate.json")).unwrap();
    assert_eq!(json["have"][0]["litres"].as_f64(), Some(60.0));
    assert!(json["all"]["litres"].is_array());
    no_inch("marks.csv", &shop.read("out/marks.csv"));
    no_inch("boards.csv of the rack", &shop.read("out/rack/boards.csv"));
}

#[test]
fn a_limit_in_litres_is_kept_and_one_in_board_feet_is_no_limit_of_a_metric_job() {
    use predicates::str::contains;
    let shop = Shop::empty();
    shop.run(&["start", "--units", "mm"]).code(0);
    shop.run(&["plan", "--time", "10"]).code(0);
    let plan: serde_json::Value = serde_json::from_str(&shop.read("out/plan.json")).unwrap();
    let used = plan["totals"]["litres_used"].as_f64().unwrap();
    let most = |litres: f64| format!("{litres:.3}");
    shop.run(&["plan", "--time", "10", "--most-litres", &most(used + 0.01)])
        .code(0);
    shop.run(&["plan", "--time", "10", "--most-litres", "5"])
        .code(2)
        .stderr(contains("litres used"));
    shop.run(&["plan", "--most-feet", "30"])
        .code(2)
        .stderr(contains("this job counts litres: --most-litres"));
    let shop = Shop::with_the_example();
    shop.run(&["plan", "--most-litres", "30"])
        .code(2)
        .stderr(contains("this job counts board feet: --most-feet"));
}

/// By money the plan is the same whatever the price is written for: 2400 a m3 is 5.6634 a foot.
#[test]
fn a_price_per_m3_and_one_per_board_foot_buy_the_same_boards() {
    let files = |unit: &str, per: &str, price: f64| {
        let shop = Shop::empty();
        shop.run(&["start", "--units", "mm"]).code(0);
        let toml = shop
            .read("job.toml")
            .replace("per = \"m3\"", &format!("per = \"{per}\""));
        assert!(toml.contains(unit));
        let boards = format!(
            "board;length;width;thickness;tone;price\nY1;2550;190;34;5;{price}\nY2;2440;162;27;4;{price}\n\
             Y3;2150;210;27;5;{price}\nY4;3000;160;27;5;\n"
        );
        shop.write("job.toml", &toml)
            .write("boards.csv", &boards)
            .write("defects.csv", "board;kind;from;to;low;high\n")
    };
    let buy = |shop: &Shop| {
        let output = shop.run(&["plan", "--by", "money", "--json", "--time", "10"]);
        let output = output.code(0).get_output().stdout.clone();
        let plan: serde_json::Value = serde_json::from_slice(&output).unwrap();
        (
            plan["totals"]["money"]["buy"].as_f64().unwrap(),
            plan["boards"].clone(),
        )
    };
    let (m3, boards) = buy(&files("mm", "m3", 2400.0));
    let (foot, same) = buy(&files("mm", "board foot", 2400.0 * LITRES / 1000.0));
    assert!((m3 - foot).abs() < 1e-4 * m3.max(1.0), "{m3} {foot}");
    assert_eq!(boards, same);
}
