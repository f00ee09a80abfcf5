//! Wedges cut on a simulated sled, in the order and at the angles a fitting sheet prints: every
//! corner of every front must come out where it was fitted.

use std::path::Path;

use crate::common::sled::{At, Cut, Workpiece, farthest_off, left_of};
use grainrow::fit::{Sheet, fit, text, to_json};
use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles, Needs, OPENINGS_CSV};
use proptest::prelude::*;
use serde_json::Value;

/// 1/64 in: finer than a front is fitted.
fn within(metric: bool) -> f64 {
    if metric { 25.4 / 64.0 } else { 1.0 / 64.0 }
}

fn sheet(toml: &str, front: &str, opening: &str) -> Sheet {
    let files = JobFiles::new()
        .with(JOB_TOML, toml)
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,120 in,9 in,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            format!("front,width,height,thickness,grain,shape,rise,mode\n{front}\n"),
        )
        .with(
            OPENINGS_CSV,
            format!("front,left,right,top,bottom,diagonal_up,diagonal_down\n{opening}\n"),
        );
    let job = files
        .parse()
        .unwrap_or_else(|faults| panic!("{faults}"))
        .job;
    fit(&job).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Cuts a front's blank as its sheet says; `rounded` as it is printed, not as it is stored.
fn made(front: &Value, rounded: Option<bool>) -> Workpiece {
    let number = |key: &str| front[key].as_f64().expect("a number");
    let mut piece = Workpiece::blank(number("width"), number("height"));
    for mut cut in Cut::all(front) {
        if let Some(metric) = rounded {
            // Printed: shims to 0.001 in or 0.01 mm, what comes off to 1/64 in or 0.1 mm.
            let [shim, mark] = if metric {
                [100.0, 10.0]
            } else {
                [1000.0, 64.0]
            };
            cut.shim = (cut.shim * shim).round() / shim;
            cut.take_off = (cut.take_off * mark).round() / mark;
            cut.over = (cut.over * mark).round() / mark;
            cut.by_end = !cut.by_line;
        }
        piece.cut(&cut);
    }
    piece
}

fn off(front: &Value, rounded: Option<bool>) -> f64 {
    let arched = !front["arch"].is_null();
    farthest_off(&made(front, rounded), &Workpiece::fitted(front), arched)
}

#[test]
fn every_front_of_the_samples_comes_off_the_sled_as_it_was_fitted() {
    for sample in ["chest", "small", "tall-case"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("sample-boards")
            .join(sample);
        let reading = JobFiles::read(&folder).and_then(|files| files.parse_for(Needs::Fronts));
        let sheet =
            fit(&reading.unwrap_or_else(|f| panic!("{f}")).job).unwrap_or_else(|f| panic!("{f}"));
        let json = to_json(&sheet);
        let metric = json["unit"] == "mm";
        let mut cuts = 0;
        for front in json["fronts"].as_array().expect("fronts") {
            for rounded in [None, Some(metric)] {
                let off = off(front, rounded);
                assert!(
                    off < within(metric),
                    "{} of {sample}: {off}",
                    front["front"]
                );
            }
            cuts += front["wedges"].as_array().expect("a list").len();
        }
        assert!(cuts > 20 || sample != "chest", "{cuts}");
    }
}

/// A front whose top falls and whose ends lean: when its ends are cut first, as the eye would
/// begin, the top's shim belongs to an end that is not square any more.
#[test]
fn a_shim_is_reckoned_against_the_edge_as_it_is_then() {
    let opening = Opening::new([(0.0, 0.0), (18.375, 0.0), (18.42, 7.19), (-0.06, 6.9)]);
    let sheet = sheet("", "D,18,7,3/4,,,,", &opening.row);
    let json = to_json(&sheet);
    let front = &json["fronts"][0];
    assert!(
        front["wedges"].as_array().expect("a list").len() == 3,
        "{front}"
    );
    assert!(off(front, None) < 0.001, "{}", off(front, None));
    let words = text(&sheet)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    for order in ["cut 1 of 3, ", "cut 2 of 3, ", "cut 3 of 3, "] {
        assert!(words.contains(order), "{words}");
    }
}

/// The tangent of an end's lean is its corner's way to the side over the corner's height, however
/// high the blank stands above that corner under an arch.
#[test]
fn under_an_arch_the_taper_of_an_end_is_that_of_the_end_itself() {
    let arch = "[[arch]]\nname = \"crest\"\nfronts = [\"D\"]\nchord = \"30\"\nrise = \"6\"\n";
    let sheet = sheet(arch, "D,15,6,3/4,,,,", "D,3 9/16,3 1/2,14 15/16,15,15 1/2,");
    let json = to_json(&sheet);
    let front = &json["fronts"][0];
    let [_, _, _, upper_left] = Workpiece::fitted(front);
    let left = &front["wedges"].as_array().expect("a list")[0];
    assert_eq!(left["edge"], "left", "{front}");
    let tangent = left["shim"].as_f64().expect("a shim") / left["fence"].as_f64().expect("a fence");
    assert!(
        (tangent - (upper_left.0 / upper_left.1).abs()).abs() < 1e-6,
        "{front}"
    );
    assert!(front["height"].as_f64().expect("a height") > upper_left.1 + 0.5);
    assert!(off(front, None) < 0.001);
}

#[test]
fn a_front_too_steep_for_any_shim_is_marked_and_planed() {
    let sheet = sheet("", "D,12,10,3/4,,,,", "D,10.6,10.6,12,12,18.3,");
    let json = to_json(&sheet);
    let front = &json["fronts"][0];
    assert!(off(front, None) < 1.0 / 64.0, "{front}");
    let words = text(&sheet)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(words.contains("mark the line and plane to it"), "{words}");
    assert!(
        words.contains("too steep for a shim, whatever the order"),
        "{words}"
    );
}

/// How a blank is held whose edge ends before the shim, and what the distance is measured from.
#[test]
fn a_front_shorter_than_the_shims_distance_lies_on_a_batten() {
    let opening = "D,8,8,20,20,21 11/16,";
    let short = text(&sheet("", "D,20,8,3/4,,,,", opening));
    let words = short.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("at 24, on a batten (that edge is 20 1/32)"),
        "{words}"
    );
    assert!(
        words.contains("from the front's corner beside the blade to the near side of the shim"),
        "{words}"
    );
    let long = text(&sheet("[sled]\nfence = 18\n", "D,20,8,3/4,,,,", opening));
    assert!(!long.contains("on a batten ("), "{long}");
}

/// Corners of an opening and the six measures of it, in its unit.
struct Opening {
    corners: [At; 4],
    row: String,
}

impl Opening {
    fn new(corners: [At; 4]) -> Opening {
        let [a, b, c, d] = corners;
        let far = |p: At, q: At| (p.0 - q.0).hypot(p.1 - q.1);
        let row = format!(
            "D,{:.6},{:.6},{:.6},{:.6},{:.6},{:.6}",
            far(a, d),
            far(b, c),
            far(c, d),
            far(a, b),
            far(a, c),
            far(b, d)
        );
        Opening { corners, row }
    }

    /// The gap left at an edge by a piece that stands in it, bottom parallel, its lower left
    /// corner moved to `at`: bottom, right, top, left.
    fn gaps(&self, piece: &Workpiece, at: At) -> [f64; 4] {
        let stood = piece.stood();
        [0, 1, 2, 3].map(|edge| {
            let (a, b) = (self.corners[edge], self.corners[(edge + 1) % 4]);
            let inside = stood
                .corners
                .iter()
                .map(|p| left_of(a, b, (p.0 + at.0, p.1 + at.1)));
            inside.fold(f64::MAX, f64::min)
        })
    }
}

/// The promise: 1/16 at the sides and at top and bottom, as `[gaps]` says without a climate. The
/// piece is put where its bottom and left gaps are that; what is left at the other two is measured.
fn least_gaps(opening: &Opening, front: &Value, gap: f64) -> [f64; 4] {
    let piece = made(front, None);
    let mut at = (0.0, gap);
    for _ in 0..50 {
        at.0 += gap - opening.gaps(&piece, at)[3];
    }
    opening.gaps(&piece, at)
}

/// Both ends lean inwards by just under 1/64 in and the top falls by as much: no wedge is worth
/// cutting, and the front must be smaller instead.
#[test]
fn a_wedge_that_is_not_cut_takes_nothing_from_the_gap() {
    let lean = 0.95 / 64.0;
    let opening = Opening::new([
        (0.0, 0.0),
        (20.0, 0.0),
        (20.0 - lean * 0.7, 8.0 - lean * 0.7),
        (lean * 0.7, 8.0),
    ]);
    let json = to_json(&sheet("", "D,20,8,3/4,,,,", &opening.row));
    let front = &json["fronts"][0];
    assert_eq!(
        (
            front["square"].clone(),
            front["wedges"].as_array().map(Vec::len)
        ),
        (true.into(), Some(0))
    );
    let gaps = least_gaps(&opening, front, 1.0 / 16.0);
    for gap in gaps {
        assert!(
            (1.0 / 16.0 - 1e-6..1.0 / 16.0 + 1.0 / 64.0).contains(&gap),
            "{gaps:?}"
        );
    }
}

/// An overlay front over a leaning opening is square, and covers the frame by no less than asked.
#[test]
fn an_overlay_front_stays_square_and_covers_enough_everywhere() {
    let opening = Opening::new([(0.0, 0.0), (20.0, 0.0), (20.125, 7.9), (0.1, 8.05)]);
    let json = to_json(&sheet("", "D,20,8,3/4,,,,overlay", &opening.row));
    let front = &json["fronts"][0];
    assert_eq!(front["mode"], "overlay");
    assert_eq!(
        (
            front["square"].clone(),
            front["wedges"].as_array().map(Vec::len)
        ),
        (true.into(), Some(0))
    );
    let at = &front["opening"]["stands"];
    let at = (at[0].as_f64().expect("x"), at[1].as_f64().expect("y"));
    let [a, b, c, d] = Workpiece::fitted(front).map(|p| (p.0 + at.0, p.1 + at.1));
    let ring = [a, b, c, d];
    // Every corner of the opening lies at least the overlap inside the front.
    for corner in opening.corners {
        for i in 0..4 {
            let inside = left_of(ring[i], ring[(i + 1) % 4], corner);
            assert!(inside >= 0.375 - 1e-5, "{inside}");
        }
    }
    assert!((a.1 - b.1).abs() < 1e-9 && (a.0 - d.0).abs() < 1e-5 && (b.0 - c.0).abs() < 1e-5);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    /// Square, leaning and out of square, in inches and millimetres, arched or not: cut as stored
    /// and as printed.
    #[test]
    fn any_front_comes_off_the_sled_as_it_was_fitted(
        size in (5.0..36.0_f64, 3.0..30.0_f64), off_by in prop::array::uniform4(-1.0..1.0_f64),
        small in any::<bool>(), metric in any::<bool>(), vertical in any::<bool>(),
        arched in any::<bool>(), fence in 12.0..30.0_f64,
    ) {
        let unit = if metric { 25.4 } else { 1.0 };
        let (w, h) = (size.0 * unit, size.1 * unit);
        // Leaning by up to three degrees, and by no more than 0.4 in.
        let most = [size.1, size.0].map(|long| (0.05 * long).min(0.4) * unit);
        let most = [most[0], most[1], most[0], most[1]];
        let scale = if small { 0.05 } else { 1.0 };
        let by: [f64; 4] = std::array::from_fn(|i| off_by[i] * most[i] * scale);
        let opening = Opening::new([(0.0, 0.0), (w, 0.0), (w + by[0], h + by[1]), (by[2], h + by[3])]);
        let rise = if arched { format!("arch,{:.6}", 0.12 * w) } else { ",".into() };
        let grain = if vertical { "vertical" } else { "horizontal" };
        let units = if metric { "mm" } else { "inch" };
        let toml = format!("units = \"{units}\"\n[gaps]\nsides = {}\nleast = {}\n[sled]\nfence = {:.3}\n", unit / 16.0, unit / 16.0, fence * unit);
        let height = if arched { h + 0.12 * w } else { h };
        let sheet = sheet(&toml, &format!("D,{w:.6},{height:.6},{:.4},{grain},{rise},", 0.75 * unit), &opening.row);
        let json = to_json(&sheet);
        let front = &json["fronts"][0];
        prop_assert!(front["wedges"].as_array().expect("a list").iter().all(|w| w["held_by"] != "line"));
        prop_assert!(off(front, None) < 0.004 * unit, "{} {front}", off(front, None));
        prop_assert!(off(front, Some(metric)) < within(metric), "{} {front}", off(front, Some(metric)));
        if !arched {
            let gaps = least_gaps(&opening, front, unit / 16.0);
            prop_assert!(gaps.iter().all(|gap| *gap >= unit / 16.0 - 1e-3 * unit), "{gaps:?} {front}");
        }
    }
}
