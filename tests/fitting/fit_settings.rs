//! Settings that do nothing, advice that must work when followed, and fronts that sit their own
//! way.

use grainrow::fit::{Sheet, fit, idle};
use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, Job, JobFiles, OPENINGS_CSV};

const CLIMATE: &str = "[climate]\nmoisture = 7\ndriest_temperature = 68\ndriest_humidity = 25\n\
                       wettest_temperature = 75\nwettest_humidity = 65\n";

fn job(toml: &str, fronts: &str, openings: &str) -> Job {
    let files = JobFiles::new()
        .with(JOB_TOML, toml)
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone,cut\nB1,120 in,9 in,5/4,5,flat\n",
        )
        .with(
            FRONTS_CSV,
            format!("front,width,height,thickness,grain,mode\n{fronts}\n"),
        )
        .with(
            OPENINGS_CSV,
            format!("front,left,right,top,bottom,anchor,cut,bevel,pulls\n{openings}\n"),
        );
    let reading = files.parse().unwrap_or_else(|faults| panic!("{faults}"));
    reading.job
}

fn sheet(job: &Job) -> Sheet {
    fit(job).unwrap_or_else(|faults| panic!("{faults}"))
}

/// What is told to do nothing: file, cell and reason.
fn told(toml: &str, fronts: &str, openings: &str) -> String {
    let found = idle(&job(toml, fronts, openings));
    assert!(found.iter().all(|fault| fault.is_warning()));
    let lines: Vec<String> = found.iter().map(ToString::to_string).collect();
    lines.join("\n")
}

const FRONT: &str = "D,20,8,3/4,horizontal,";
const OPENING: &str = "D,8,8,20,20,,,,";

#[test]
fn a_job_whose_settings_all_count_is_told_nothing() {
    let toml = format!(
        "species = \"cherry\"\n[gaps]\nsides = 0.1\nleast = 0.05\nmost = 0.3\nanchor = \"bottom\"\n{CLIMATE}cut = \"flat\"\n\
         [bevel]\nface = 1\nangle = 15\n"
    );
    assert_eq!(told(&toml, FRONT, OPENING), "");
}

#[test]
fn an_anchor_at_an_end_of_the_grain_is_told() {
    let toml =
        |anchor: &str| format!("species = \"cherry\"\n[gaps]\nanchor = \"{anchor}\"\n{CLIMATE}");
    for (anchor, grain, idle) in [
        ("left", "horizontal", true),
        ("right", "horizontal", true),
        ("top", "horizontal", false),
        ("bottom", "vertical", true),
        ("right", "vertical", false),
        ("centre", "vertical", false),
    ] {
        let front = format!("D,20,8,3/4,{grain},");
        let said = told(&toml(anchor), &front, OPENING);
        assert_eq!(
            said.contains("job.toml") && said.contains("no effect: of front D the grain"),
            idle,
            "{said}"
        );
        let said = told(&toml("centre"), &front, &format!("D,8,8,20,20,{anchor},,,"));
        assert_eq!(
            said.contains("openings.csv") && said.contains("no effect: the grain"),
            idle,
            "{said}"
        );
    }
}

#[test]
fn every_setting_that_does_nothing_is_told_at_its_place() {
    for (toml, fronts, openings, key, why) in [
        (
            "[gaps]\noverlap = 0.5\n",
            FRONT,
            OPENING,
            "overlap",
            "no measured front is an overlay",
        ),
        (
            "[gaps]\ndivider = 0.75\n",
            FRONT,
            OPENING,
            "divider",
            "no measured front is an overlay",
        ),
        (
            "[gaps]\nmode = \"overlay\"\nsides = 0.1\n",
            FRONT,
            OPENING,
            "sides",
            "no measured front is inset",
        ),
        (
            "[gaps]\nmode = \"overlay\"\nmost = 0.3\n",
            FRONT,
            OPENING,
            "most",
            "no measured front is inset",
        ),
        (
            "[gaps]\nleft = 0.1\nright = 0.1\ntop = 0.1\nbottom = 0.1\nsides = 0.1\n",
            FRONT,
            OPENING,
            "sides",
            "fixed",
        ),
        (
            "[gaps]\nsides = 0.1\n",
            FRONT,
            "",
            "sides",
            "no opening is measured",
        ),
        (CLIMATE, FRONT, OPENING, "climate", "no `species`"),
        (
            "",
            FRONT,
            "D,8,8,20,20,,quarter,,",
            "cut",
            "without `species`",
        ),
        (
            "[bevel]\nface = 1\nangle = 15\n",
            FRONT,
            "D,8,8,20,20,,,no,",
            "face",
            "every front has its own bevel",
        ),
        (
            "[bevel]\nface = 1\nangle = 15\nedges = []\n",
            FRONT,
            OPENING,
            "face",
            "no edge has the bevel",
        ),
        (
            "[pulls]\nend_share = 0.2\n",
            FRONT,
            OPENING,
            "end_share",
            "no front has two pulls",
        ),
        (
            "[pulls]\nspacing = 3\n",
            FRONT,
            "D,8,8,20,20,,,,0",
            "[pulls]",
            "no front has a pull",
        ),
        (
            "[gaps]\nanchor = \"top\"\n",
            FRONT,
            OPENING,
            "anchor",
            "nothing is known of how wood moves",
        ),
    ] {
        let said = told(toml, fronts, openings);
        assert!(said.contains(key) && said.contains(why), "{toml}: {said}");
    }
    let both = format!("species = \"cherry\"\n{CLIMATE}cut = \"rift\"\n");
    let said = told(&both, FRONT, "D,8,8,20,20,,quarter,,");
    assert!(
        said.contains("every front has its own in openings.csv"),
        "{said}"
    );
}

/// Two overlay fronts on a narrow divider: the overlap advised is written into the job, and the
/// caution is gone. The figure named as today's is the one the job has.
#[test]
fn advice_about_overlaps_works_when_it_is_followed() {
    for unit in ["inch", "mm"] {
        let (scale, divider, overlap) = match unit {
            "inch" => (1.0, 0.75, 0.375),
            _ => (25.4, 19.0, 9.3),
        };
        let toml = |overlap: f64| {
            let least = 0.0625 * scale;
            format!(
                "units = \"{unit}\"\nspecies = \"cherry\"\n[gaps]\nmode = \"overlay\"\noverlap = {overlap}\n\
                 divider = {divider}\nleast = {least}\n{}",
                CLIMATE
                    .replace("68", "20")
                    .replace("75", "\"24 C\"")
                    .replace("driest_temperature = 20", "driest_temperature = \"20 C\"")
            )
        };
        let front = format!(
            "D,{:.3},{:.3},{:.3},horizontal,",
            20.0 * scale,
            8.0 * scale,
            0.75 * scale
        );
        let opening = format!(
            "D,{0:.3},{0:.3},{1:.3},{1:.3},,,,",
            8.0 * scale,
            20.0 * scale
        );
        let crowds = |overlap: f64| -> Vec<String> {
            let sheet = sheet(&job(&toml(overlap), &front, &opening));
            let found = sheet.fronts[0]
                .cautions
                .iter()
                .filter(|c| c.kind() == "crowds");
            found.map(|c| c.say(&sheet.ruler)).collect()
        };
        let before = crowds(overlap);
        assert_eq!(before.len(), 2, "{before:?}");
        let mut least = f64::MAX;
        for words in &before {
            let advised = words.split("at most ").nth(1).expect("advice");
            let now = if unit == "inch" {
                "(now 3/8 in)"
            } else {
                "(now 9.3 mm)"
            };
            assert!(
                advised.contains("today") && advised.contains(now),
                "{words}"
            );
            let figure = advised.split(" today").next().expect("a figure");
            least = least.min(
                grainrow::measure::Length::parse(figure, grainrow::measure::Unit::Inch)
                    .expect("a length")
                    .mm()
                    / if unit == "inch" { 25.4 } else { 1.0 },
            );
        }
        assert_eq!(crowds(least), Vec::<String>::new(), "{least}");
        // Not needlessly little: one step more is too much.
        let step = if unit == "inch" { 1.0 / 64.0 } else { 0.1 };
        assert!(!crowds(least + 1.01 * step).is_empty(), "{least}");
    }
}

#[test]
fn each_front_may_sit_its_own_way() {
    let fronts = "A,20,8,3/4,,overlay\nB,20,8,3/4,,\nC,20,8,3/4,,inset";
    let openings = "A,8,8,20,20,,,,\nB,8,8,20,20,,,,\nC,8,8,20,20,,,,";
    let sheet = sheet(&job("", fronts, openings));
    let widths: Vec<f64> = sheet.fronts.iter().map(|f| f.width().inches()).collect();
    // 20 in and 3/8 over at either side; 20 in less 1/16 at either side.
    for (width, expected) in widths.iter().zip([20.75, 19.875, 19.875]) {
        assert!((width - expected).abs() < 1e-6, "{widths:?}");
    }
    let text = grainrow::fit::text(&sheet);
    assert_eq!(text.matches("Overlap today").count(), 1, "{text}");
    assert_eq!(text.matches("Shims today").count(), 2, "{text}");
    let wrong = JobFiles::new()
        .with(JOB_TOML, "")
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,120,9,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            "front,width,height,thickness,mode\nA,20,8,3/4,flush\n",
        )
        .parse()
        .unwrap_err();
    assert!(wrong.to_string().contains("flush"), "{wrong}");
}

/// A job in millimetres: every default of fitting is a whole or half millimetre.
#[test]
fn a_metric_job_meets_round_defaults() {
    let toml = "units = \"mm\"\n[bevel]\nface = 25\nangle = 15\n[pulls]\n";
    let metric = job(toml, "D,500,200,20,horizontal,", "D,200,200,500,500,,,,");
    let fitting = &metric.settings.fitting;
    let rule = fitting.pull_rule(metric.settings.unit);
    let bevel = fitting.bevel.as_ref().expect("a bevel");
    let all = [
        fitting.gaps.sides,
        fitting.gaps.least,
        fitting.gaps.most,
        fitting.gaps.overlap,
        fitting.sled.fence,
        fitting.sled.trammel,
        rule.two_from.expect("a width"),
        rule.hole,
        rule.clear,
        bevel.thin,
        bevel.blade,
    ];
    for length in all {
        assert_eq!(length.nm() % 500_000, 0, "{length:?}");
    }
    // 500 mm less 1.5 at either side.
    assert!((sheet(&metric).fronts[0].width().mm() - 497.0).abs() < 1e-6);
}
