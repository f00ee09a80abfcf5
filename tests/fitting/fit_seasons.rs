//! Fitted fronts through the year: what must hold whatever the opening and the weather.

use grainrow::fit::{Fitted, Season, Sheet, fit, fitted_job};
use grainrow::job::{BOARDS_CSV, Edge, FRONTS_CSV, JOB_TOML, Job, JobFiles, OPENINGS_CSV};
use grainrow::measure::Length;
use grainrow::wood::Moisture;
use proptest::prelude::*;

/// A job of one front; the weather in °F and per cent: shop, driest, wettest.
fn job(gaps: &str, weather: [f64; 3], front: &str, opening: &str) -> Job {
    let [shop, driest, wettest] = weather;
    let toml = format!(
        "species = \"red oak\"\n[gaps]\n{gaps}\n[climate]\nshop_temperature = 68\n\
         shop_humidity = {shop}\ndriest_temperature = 68\ndriest_humidity = {driest}\n\
         wettest_temperature = 68\nwettest_humidity = {wettest}\n"
    );
    let files = JobFiles::new()
        .with(JOB_TOML, toml)
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,120,9,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            format!("front,width,height,thickness,grain,shape,rise\n{front}\n"),
        )
        .with(
            OPENINGS_CSV,
            format!("front,left,right,top,bottom,diagonal_up,diagonal_down\n{opening}\n"),
        );
    files
        .parse()
        .unwrap_or_else(|faults| panic!("{faults}"))
        .job
}

fn only(job: &Job) -> Fitted {
    let sheet: Sheet = fit(job).unwrap_or_else(|faults| panic!("{faults}"));
    sheet.fronts.into_iter().next().expect("one front")
}

/// Common practice, no source: a front fitted in the driest part of the year gets a gap just
/// under 1/8 at top and bottom.
#[test]
fn a_front_fitted_in_the_driest_season_gets_just_under_an_eighth() {
    let drawer = job(
        "",
        [25.0, 25.0, 60.0],
        "D,20,8 1/4,3/4,,,",
        "D,8 1/2,8 1/2,20 1/4,20 1/4,,",
    );
    let gaps = only(&drawer).movement.gaps(Season::Today);
    for gap in [gaps.top, gaps.bottom] {
        let inches = gap / 25.4;
        assert!(inches > 3.0 / 32.0 && inches < 0.125, "{inches}");
    }
}

#[test]
fn grain_decides_which_way_a_front_moves() {
    let weather = [40.0, 25.0, 65.0];
    let wide = only(&job(
        "",
        weather,
        "D,20,8,3/4,horizontal,,",
        "D,8,8,20,20,,",
    ));
    let door = only(&job("", weather, "D,20,8,3/4,vertical,,", "D,8,8,20,20,,"));
    let moves = |front: &Fitted, edge| {
        let [dry, wet] = [Season::Driest, Season::Wettest].map(|s| front.movement.gaps(s).at(edge));
        dry - wet > 0.1
    };
    let moving = |front: &Fitted| Edge::ALL.map(|edge| moves(front, edge));
    assert_eq!(moving(&wide), [false, false, true, true]);
    assert_eq!(moving(&door), [true, true, false, false]);
}

#[test]
fn the_anchored_edge_keeps_its_gap() {
    for (anchor, still) in [("bottom", Edge::Bottom), ("top", Edge::Top)] {
        let gaps = format!("anchor = \"{anchor}\"");
        let front = only(&job(
            &gaps,
            [40.0, 25.0, 65.0],
            "D,20,8,3/4,,,",
            "D,8,8,20,20,,",
        ));
        let at = |season: Season| front.movement.gaps(season).at(still);
        assert!((at(Season::Today) - 25.4 / 32.0).abs() < 1e-6);
        assert!((at(Season::Driest) - at(Season::Wettest)).abs() < 1e-9);
    }
}

#[test]
fn a_gap_that_closes_or_opens_too_far_is_told() {
    let sheet = |gaps: &str| {
        let job = job(
            gaps,
            [40.0, 20.0, 80.0],
            "D,20,12,3/4,,,",
            "D,12,12,20,20,,",
        );
        let kinds: Vec<&str> = only(&job).cautions.iter().map(|c| c.kind()).collect();
        kinds.join(" ")
    };
    assert_eq!(sheet("most = 1"), "beyond_coefficients beyond_coefficients");
    assert!(sheet("top = \"1/64\"\nmost = 1").contains("closes"));
    assert!(sheet("most = \"1/8\"").contains("opens"));
}

#[test]
fn wood_wetter_than_the_house_ever_is_gets_the_least_gap_and_a_word() {
    let front = only(&job(
        "",
        [80.0, 25.0, 55.0],
        "D,20,8,3/4,,,",
        "D,8,8,20,20,,",
    ));
    assert!((front.movement.today.top - 25.4 / 32.0).abs() < 1e-9);
    assert!(front.cautions.iter().any(|c| c.kind() == "only_shrinks"));
}

#[test]
fn an_overlay_covers_the_frame_and_loses_cover_when_dry() {
    let gaps = "mode = \"overlay\"\noverlap = \"3/8\"\ntop = \"1/4\"\nleast = \"1/4\"";
    let front = only(&job(
        gaps,
        [40.0, 25.0, 65.0],
        "D,20,8,3/4,,,",
        "D,8,8,20,20,,",
    ));
    let near = |length: Length, inches: f64| (length.inches() - inches).abs() < 1e-6;
    assert!(near(front.width(), 20.75), "{:?}", front.width());
    assert!(near(front.height(), 8.625), "{:?}", front.height());
    let dry = front.movement.gaps(Season::Driest);
    assert!(dry.top < 25.4 / 4.0 && (dry.left - 25.4 * 0.375).abs() < 1e-9);
    assert!(front.cautions.iter().any(|c| c.kind() == "closes"));
}

/// Two openings of 8 in with a rail of 3/4 in between them stand 8 3/4 in apart, bottom to bottom;
/// what two like fronts leave open is that less the height one of them has at the time.
#[test]
fn overlay_fronts_on_one_divider_close_the_gap_between_them_when_it_is_damp() {
    let gaps = "mode = \"overlay\"\noverlap = \"5/16\"\ndivider = \"3/4\"\nleast = \"1/16\"";
    for (anchor, closes) in [("centre", true), ("bottom", true)] {
        let gaps = format!("{gaps}\nanchor = \"{anchor}\"");
        let front = only(&job(
            &gaps,
            [30.0, 25.0, 75.0],
            "D,20,8,3/4,,,",
            "D,8,8,20,20,,",
        ));
        let reveal = front.reveal.expect("a divider");
        for season in Season::ALL {
            let height = front.height().mm() + front.movement.growth(season);
            let open = 8.75 * 25.4 - height;
            let told = reveal.stacked(&front.movement, season).mm();
            assert!((told - open).abs() < 1e-5, "{told} {open}");
            let beside = reveal.beside(&front.movement, season).inches();
            assert!((beside - 0.125).abs() < 1e-6, "{beside}");
        }
        let crowded = front.cautions.iter().any(|c| c.kind() == "crowds");
        assert_eq!(crowded, closes);
    }
    let wide = gaps.replace("3/4", "1");
    let front = only(&job(
        &wide,
        [30.0, 25.0, 75.0],
        "D,20,8,3/4,,,",
        "D,8,8,20,20,,",
    ));
    assert!(front.cautions.iter().all(|c| c.kind() != "crowds"));
}

#[test]
fn an_overlay_sheet_says_when_it_does_not_reckon_with_neighbours() {
    let overlay = job(
        "mode = \"overlay\"",
        [30.0, 25.0, 75.0],
        "D,20,8,3/4,,,",
        "D,8,8,20,20,,",
    );
    let sheet = fit(&overlay).unwrap_or_else(|faults| panic!("{faults}"));
    let text = grainrow::fit::text(&sheet);
    let words: Vec<&str> = text.split_whitespace().collect();
    let text = words.join(" ");
    assert!(
        text.contains("write the divider's width as `divider`"),
        "{text}"
    );
}

/// Common practice, no source: a chest of about twenty fronts has every front fitted to its own
/// opening. The invented chest is such a one, and its plan is made from the fitted sizes.
#[test]
fn the_chest_is_planned_from_twenty_fitted_fronts() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-boards/chest");
    let drawn = grainrow::job::read(folder.as_ref())
        .unwrap_or_else(|f| panic!("{f}"))
        .job;
    let sheet = fit(&drawn).unwrap_or_else(|faults| panic!("{faults}"));
    let fitted = fitted_job(&drawn).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(sheet.fronts.len(), 20);
    for (one, front) in sheet.fronts.iter().zip(&fitted.fronts) {
        assert!(one.opening.is_some() && one.bevel.is_some() && one.pulls.is_some());
        assert_eq!((front.width, front.height), (one.width(), one.height()));
        let drawn = &drawn.fronts[one.front];
        assert_ne!(front.height, drawn.height);
        assert!((front.height - drawn.height).inches().abs() < 0.25);
    }
    let row: Vec<_> = sheet
        .fronts
        .iter()
        .filter_map(|f| f.arch.as_ref())
        .collect();
    assert_eq!(row.len(), 4);
    // One arch: it falls to the left under its left half, and to the right under its right.
    assert!(row[0].left < row[0].right && row[1].left < row[1].right);
    assert!(row[2].left > row[2].right && row[3].left > row[3].right);
    let text = grainrow::fit::text(&sheet);
    for (number, front) in sheet.fronts.iter().enumerate() {
        let heading = format!("\n{:>2}  {}\n", number + 1, front.name);
        assert_eq!(text.matches(&heading).count(), 1, "{heading}");
    }
    let widest = text.lines().map(|line| line.chars().count()).max();
    assert!(widest <= Some(84), "{widest:?}");
}

proptest! {
    /// However crooked the opening, whatever the weather: on the day of fitting every corner of
    /// the front keeps its gap from every edge, and when the house is dampest the least is left.
    #[test]
    fn a_front_lies_inside_its_opening_with_at_least_its_gaps(
        size in (6.0..30.0_f64, 4.0..24.0_f64), off in prop::array::uniform3(-0.25..0.25_f64),
        weather in prop::array::uniform3(10.0..90.0_f64), vertical in any::<bool>(),
        anchor in prop::sample::select(vec!["centre", "bottom", "top", "left", "right"]),
        arched in any::<bool>(),
    ) {
        let (w, h) = size;
        let weather = [weather[0], weather[1].min(weather[2]), weather[1].max(weather[2])];
        let grain = if vertical { "vertical" } else { "horizontal" };
        let shape = if arched { "arch,1" } else { "," };
        let (left, bottom) = (h, w);
        let (right_x, right_y) = (w + off[0], h + off[1]);
        let right = (right_x - w).hypot(right_y);
        let top = (right_x - off[2]).hypot(right_y - h);
        let left = left.hypot(off[2]);
        let up = right_x.hypot(right_y);
        let job = job(
            &format!("anchor = \"{anchor}\""),
            weather,
            &format!("D,{w:.6},{:.6},3/4,{grain},{shape}", h + 1.0),
            &format!("D,{left:.6},{right:.6},{top:.6},{bottom:.6},{up:.6},"),
        );
        let front = only(&job);
        let fitted = front.opening.expect("an opening");
        let (opening, at) = (fitted.outline, fitted.stands);
        let today = front.movement.gaps(Season::Today);
        let corner = front.outline.quad.corners();
        for point in corner {
            let place = grainrow::fit::Point::new(point.x + at.x, point.y + at.y);
            let clear = opening.clearances(place);
            for edge in Edge::ALL {
                prop_assert!(clear.at(edge) >= today.at(edge) - 1e-4, "{edge:?} {clear:?} {today:?}");
            }
        }
        let least = 25.4 / 32.0;
        for season in Season::ALL {
            for edge in Edge::ALL {
                prop_assert!(front.movement.gaps(season).at(edge) >= least - 1e-6);
            }
        }
        prop_assert!(!front.cautions.iter().any(|c| c.kind() == "closes"));
    }

    /// The front once made: damper wood never leaves more gap.
    #[test]
    fn more_humidity_never_means_more_gap(
        a in 0.0..30.0_f64, b in 0.0..30.0_f64, vertical in any::<bool>(),
    ) {
        let grain = if vertical { "vertical" } else { "horizontal" };
        let front = only(&job("", [45.0, 25.0, 65.0], &format!("D,20,8,3/4,{grain},,"), "D,8,8,20,20,,"));
        let [dry, wet] = [a.min(b), a.max(b)].map(|m| Moisture::percent(m).expect("a moisture"));
        let (before, after) = (front.movement.gaps_at(dry), front.movement.gaps_at(wet));
        for edge in Edge::ALL {
            prop_assert!(after.at(edge) <= before.at(edge) + 1e-9);
        }
    }

    /// The front yet to be made: the damper the shop, the smaller the gap left for the summer.
    #[test]
    fn a_damper_shop_never_means_a_larger_gap_today(a in 5.0..95.0_f64, b in 5.0..95.0_f64) {
        let gap = |shop: f64| {
            let job = job("", [shop, 25.0, 70.0], "D,20,8,3/4,,,", "D,8,8,20,20,,");
            only(&job).movement.today.top
        };
        prop_assert!(gap(a.max(b)) <= gap(a.min(b)) + 1e-9);
    }
}
