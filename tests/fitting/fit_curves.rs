//! Arched fronts, bevels and pulls: against brute force over many points of both curves, against
//! sums over the openings, and against what a saw can do.

use grainrow::fit::{Fitted, Sheet, fit, text, to_json};
use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles, OPENINGS_CSV};
use proptest::prelude::*;
use serde_json::Value;

type At = (f64, f64);

fn sheet(toml: &str, fronts: &str, openings: &str) -> Sheet {
    let files = JobFiles::new()
        .with(JOB_TOML, toml)
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,120 in,9 in,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            format!("front,width,height,thickness,grain,shape,rise,space_after\n{fronts}\n"),
        )
        .with(
            OPENINGS_CSV,
            format!("front,left,right,top,bottom,diagonal_up,anchor\n{openings}\n"),
        );
    let job = files
        .parse()
        .unwrap_or_else(|faults| panic!("{faults}"))
        .job;
    fit(&job).unwrap_or_else(|faults| panic!("{faults}"))
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

/// Points of a circle's upper part between two places, from a centre.
fn curve(centre: At, radius: f64, from: f64, to: f64, count: u32) -> Vec<At> {
    (0..=count)
        .map(|i| from + (to - from) * f64::from(i) / f64::from(count))
        .map(|x| {
            (
                x,
                centre.1 + (radius * radius - (x - centre.0).powi(2)).max(0.0).sqrt(),
            )
        })
        .collect()
}

/// The least distance from a front's curve up to its opening's, by brute force: every point of the
/// one, moved as the wood moves, against every point of the other. Below zero where it is through.
///
/// `front` is a record of `fit.json`; the opening is `width` wide, its straight sides `sides` high,
/// its arch rises `rise`.
fn nearest(
    front: &Value,
    (width, sides, rise): (f64, f64, f64),
    growth: f64,
    vertical: bool,
) -> f64 {
    let radius = width * width / (8.0 * rise) + rise / 2.0;
    let centre = (width / 2.0, sides + rise - radius);
    let over = curve(centre, radius, -width * 0.02, width * 1.02, 6000);
    let stands = &front["opening"]["stands"];
    let (x, y) = (number(&stands[0]), number(&stands[1]));
    let arch = &front["arch"];
    let (middle, below) = (number(&arch["centre_line"]), number(&arch["centre_below"]));
    let own = number(&front["width"]);
    let high = number(&front["height"]);
    let own_curve = curve((middle, -below), number(&arch["radius"]), 0.0, own, 300);
    let moved = own_curve.iter().map(|p| match vertical {
        true => (x + p.0 + growth * (p.0 / own - 0.5), y + p.1),
        false => (x + p.0, y + p.1 + growth * (p.1 / high - 0.5)),
    });
    let gaps = moved.map(|p| {
        let far = over.iter().map(|q| (p.0 - q.0).hypot(p.1 - q.1));
        let far = far.fold(f64::MAX, f64::min);
        let through = (p.0 - centre.0).hypot(p.1 - centre.1) > radius;
        if through { -far } else { far }
    });
    gaps.fold(f64::MAX, f64::min)
}

const MAPLE: &str = "species = \"sugar maple\"\n[climate]\nmoisture = 7\ndriest_temperature = 68\n\
                     driest_humidity = 30\nwettest_temperature = 75\nwettest_humidity = 65\n";

/// A door of hard maple under an arch of its own: wood that swells sideways pushes its haunches
/// against the arch. The gap told is the least between the curves, and the least asked for is left.
fn door(width: f64, rise: f64, vertical: bool) {
    let grain = if vertical { "vertical" } else { "horizontal" };
    let high = 24.0 + rise;
    let sheet = sheet(
        MAPLE,
        &format!("D,{width},{high},3/4,{grain},arch,{rise},"),
        &format!("D,24,24,{width},{width},{:.6},", width.hypot(24.0)),
    );
    let json = to_json(&sheet);
    let front = &json["fronts"][0];
    for season in front["seasons"].as_array().expect("seasons") {
        let growth = number(&season["growth"]);
        let told = number(&season["gaps"]["top"]);
        let found = nearest(front, (width, 24.0, rise), growth, vertical);
        assert!(
            (told - found).abs() < 0.002,
            "{width} {rise} {season}: {found}"
        );
        assert!(
            found > 1.0 / 32.0 - 0.002,
            "{width} {rise} {season}: {found}"
        );
    }
    let grows = number(&front["seasons"][2]["growth"]);
    assert!(grows > 0.1, "{grows}");
}

#[test]
fn an_arched_door_keeps_its_gap_at_the_haunches_when_it_is_damp() {
    door(18.0, 2.0, true);
    door(24.0, 6.0, true);
    door(24.0, 6.0, false);
}

/// A gap fixed by the maker stays as it is, and the haunches that then stick are told.
#[test]
fn haunches_that_stick_are_told() {
    let sheet = sheet(
        &format!("{MAPLE}[gaps]\ntop = \"1/16\"\n"),
        "D,24,30,3/4,vertical,arch,6,",
        "D,24,24,24,24,33.941125,",
    );
    let closes = sheet.fronts[0]
        .cautions
        .iter()
        .filter(|c| c.kind() == "closes");
    let words: Vec<String> = closes.map(|c| c.say(&sheet.ruler)).collect();
    assert!(
        words
            .iter()
            .any(|w| w.starts_with("it sticks: the gap at the top")),
        "{words:?}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn the_gap_under_an_arch_is_the_least_between_the_curves(
        width in 8.0..30.0_f64, share in 0.05..0.35_f64, vertical in any::<bool>()
    ) {
        let rise = share * width;
        let grain = if vertical { "vertical" } else { "horizontal" };
        let sheet = sheet(
            MAPLE,
            &format!("D,{width:.5},{:.5},3/4,{grain},arch,{rise:.5},", 20.0 + rise),
            &format!("D,20,20,{width:.5},{width:.5},{:.6},", width.hypot(20.0)),
        );
        let json = to_json(&sheet);
        let front = &json["fronts"][0];
        for season in front["seasons"].as_array().expect("seasons") {
            let found = nearest(front, (width, 20.0, rise), number(&season["growth"]), vertical);
            let told = number(&season["gaps"]["top"]);
            prop_assert!((told - found).abs() < 0.003, "{told} {found} {season}");
            prop_assert!(told > 1.0 / 32.0 - 1e-5, "{told}");
        }
    }
}

fn kinds(fitted: &Fitted) -> Vec<&'static str> {
    fitted
        .cautions
        .iter()
        .map(|caution| caution.kind())
        .collect()
}

/// Two openings of 20 in with a divider of 3/4 between them: the arch over both spans 40 3/4.
fn two_under(chord: &str) -> Sheet {
    sheet(
        &format!(
            "[[arch]]\nname = \"crest\"\nfronts = [\"A\", \"B\"]\nchord = {chord}\nrise = 3\n[pulls]\n"
        ),
        "A,19 7/8,8,3/4,,,,7/8\nB,19 7/8,8,3/4,,,,",
        "A,5,7 63/64,20.223,20,,\nB,7 63/64,5,20.223,20,,",
    )
}

#[test]
fn a_chord_that_is_not_what_stands_under_it_is_told() {
    for (chord, told) in [
        ("40.75", false),
        ("40.65", false),
        ("40.2", true),
        ("42", true),
    ] {
        let sheet = two_under(chord);
        let all = sheet
            .fronts
            .iter()
            .all(|f| kinds(f).contains(&"arch_chord") == told);
        assert!(all, "{chord}: {:?}", kinds(&sheet.fronts[0]));
    }
    let sheet = two_under("40.2");
    let words = text(&sheet)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        words.contains("a chord of 40 13/64 in, and the openings under it make 40 3/4 in"),
        "{words}"
    );
}

/// The chest's arch against its own files: four openings (by their sides and the way from corner
/// to corner) and three dividers; and its pulls, which stand over one rail, in one line.
#[test]
fn the_chests_arch_spans_what_stands_under_it_and_its_pulls_stand_in_line() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-boards/chest");
    let job = grainrow::job::read(folder.as_ref())
        .unwrap_or_else(|f| panic!("{f}"))
        .job;
    let row = &job.openings[..4];
    let open = row.iter().map(|o| {
        let rises = o.measured.right.inches() - o.measured.left.inches();
        (o.measured.top.inches().powi(2) - rises * rises).sqrt()
    });
    let between: f64 = job.fronts[..3]
        .iter()
        .map(|f| f.space_after.expect("a divider").inches())
        .sum();
    let under = open.sum::<f64>() + between;
    let chord = job.settings.fitting.arches[0].chord.inches();
    assert!((chord - under).abs() < 1.0 / 8.0, "{chord} {under}");
    let sheet = fit(&job).unwrap_or_else(|f| panic!("{f}"));
    let levels: Vec<_> = sheet.fronts[..4]
        .iter()
        .map(|f| f.pulls.as_ref().expect("pulls").level)
        .collect();
    assert!(levels.iter().all(|level| *level == levels[0]), "{levels:?}");
    for fitted in &sheet.fronts[..4] {
        assert!(!kinds(fitted).contains(&"arch_chord") && !kinds(fitted).contains(&"off_arch"));
        // Half of the crest over the rail, 4 5/32 at the ends and a rise of 2 1/2, less the gaps.
        let level = levels[0].inches();
        let gaps = fitted.movement.today;
        let high = 4.15 + 2.5 - (gaps.top + gaps.bottom) / 25.4;
        assert!((level - high / 2.0).abs() < 1.0 / 32.0, "{level}");
    }
}

/// Under a falling arch the bevels from top and bottom meet at the low side first. The front is
/// 2 15/16 in high there under a circle of 42 1/2 in; 2 1/4 in farther in it is 4.1 in high, and
/// bevels of 2 1/4 in, the upper one square to the curve, leave nothing of that, though nearly 3 in
/// are left at the high side.
#[test]
fn bevels_that_meet_at_the_low_side_are_told() {
    let job = |face: &str| {
        sheet(
            &format!(
                "[bevel]\nface = {face}\nangle = 10\n[[arch]]\nname = \"crest\"\nfronts = [\"A\", \"B\"]\nchord = 40\nrise = 5\n"
            ),
            "A,19,8,3/4,,,,\nB,19,8,3/4,,,,",
            "A,3 1/16,7 1/2,19.5178,19,,",
        )
    };
    let meets = |sheet: &Sheet| kinds(&sheet.fronts[0]).contains(&"bevel_meets_itself");
    assert!(meets(&job("2.25")));
    let apart = job("1.125");
    assert!(!meets(&apart));
    let flat = apart.fronts[0]
        .bevel
        .expect("a bevel")
        .flat
        .expect("a flat");
    // 2.94 in and 0.6 in of rise, less 1.125 in and 1.125 in square to a slope of 0.53.
    let lowest = flat.lowest.inches();
    assert!((lowest - 1.13).abs() < 0.1, "{lowest}");
    assert!(flat.height.inches() > 4.5);
}

#[test]
fn a_bevel_no_blade_can_cut_is_told() {
    let with = |bevel: &str| {
        let sheet = sheet(
            &format!("[bevel]\n{bevel}\n"),
            "A,30,20,2,,,,",
            "A,20,20,30,30,36.0555,",
        );
        (
            kinds(&sheet.fronts[0]),
            text(&sheet)
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" "),
        )
    };
    // 3 1/8 in of blade, upright, reach 3.125 cos 15 = 3.018 in up the face of a front on its edge.
    let (said, _) = with("face = 3\nangle = 15");
    assert!(
        !said.contains(&"blade_too_short") && !said.contains(&"tilted_too_far"),
        "{said:?}"
    );
    let (said, _) = with("face = 3.04\nangle = 15");
    assert!(said.contains(&"blade_too_short"), "{said:?}");
    let (said, _) = with("face = 3.04\nangle = 15\nblade = 4");
    assert!(!said.contains(&"blade_too_short"), "{said:?}");
    let (said, words) = with("face = 1\nangle = 46");
    assert!(said.contains(&"tilted_too_far"), "{said:?}");
    assert!(words.contains("the blade tilted 44.0"), "{words}");
    let (said, _) = with("face = 1\nangle = 45");
    assert!(!said.contains(&"tilted_too_far"), "{said:?}");
}

/// The centre line is the front's upright middle line and nothing else; the flat is not said to be
/// at the left.
#[test]
fn each_line_has_a_name_of_its_own() {
    let sheet = sheet(
        "[bevel]\nface = 1\nangle = 15\n[pulls]\nspacing = 3\n",
        "A,20,10,3/4,,arch,2,",
        "A,8,8,20,20,21.540659,",
    );
    let words = text(&sheet)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(words.contains("pull line"), "{words}");
    assert!(
        words.contains("the arch's middle is 9 15/16 to the right"),
        "{words}"
    );
    assert!(
        words.contains("The flat between the bevels is 17 7/8 wide"),
        "{words}"
    );
    assert!(!words.contains("Flat left"), "{words}");
    for at in words.match_indices("centre line").map(|(at, _)| at) {
        let before = &words[at.saturating_sub(60)..at];
        let after = &words[at..(at + 60).min(words.len())];
        let fronts_own = ["the ", "of the "]
            .iter()
            .any(|word| before.ends_with(word));
        assert!(
            fronts_own && !after.contains("above the bottom"),
            "{before}|{after}"
        );
    }
}
