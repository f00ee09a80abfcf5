//! What the shop is told while it works: what leaves a board together, what is to be bought, what
//! stands in the way of a limit, why a front moves. All jobs are invented.

#[allow(dead_code)]
use std::fs;
use std::path::Path;

use crate::common::shop::Shop;
use predicates::prelude::*;
use predicates::str::contains;

/// The sample of a bench chest in a folder of its own, planned.
fn bench_chest() -> Shop {
    let shop = Shop::empty();
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-boards/small");
    fs::create_dir(shop.folder.path().join("job")).unwrap();
    for name in ["job.toml", "boards.csv", "fronts.csv", "defects.csv"] {
        fs::copy(from.join(name), shop.path(name)).unwrap();
    }
    shop.run(&["plan", "--time", "20"]).code(0);
    shop
}

fn job(boards: &str, fronts: &str, settings: &str) -> Shop {
    let shop = Shop::empty();
    fs::create_dir(shop.folder.path().join("job")).unwrap();
    shop.write("boards.csv", boards)
        .write("fronts.csv", fronts)
        .write("job.toml", settings)
}

/// A1 to A3 are 5 7/16 long, an inch more rough, a blade of 1/8 between two: 19 9/16 together,
/// 6 7/16 each, and 12 is the shortest that goes through a machine.
#[test]
fn a_front_marked_cut_is_told_what_it_leaves_its_board_with() {
    let shop = bench_chest();
    let together = "A1 and A2 + A3 leave the board as one piece, 19 9/16 in long";
    shop.run(&["mark", "A1", "--cut"])
        .code(0)
        .stdout(contains(together))
        .stdout(contains(
            "If A1 was sawn off alone it is only 6 7/16 in long",
        ));
    shop.run(&["mark", "A2", "A3", "--cut"])
        .code(0)
        .stdout(contains("note").not());
    shop.run(&["mark", "B1", "B2", "C1", "--cut"])
        .code(0)
        .stdout(contains("note").not());
}

/// The stain of the sample's W3 is on the side that C1 does not show.
#[test]
fn a_stain_on_the_other_side_is_no_reason_and_the_knot_is() {
    let shop = bench_chest();
    let knot = ["--board", "W3", "--defect", "knot", "8", "9", "1", "2"];
    shop.run(&[&["mark"], &knot[..]].concat()).code(0);
    shop.run(&["recut", "--time", "20"])
        .code(0)
        .stdout(contains("C1: new"))
        .stdout(contains(
            "a knot lies there or too near, 8 to 9 from the hook end",
        ))
        .stdout(contains("stain").not());
}

#[test]
fn a_crosscut_through_a_front_is_named_as_the_reason() {
    let shop = bench_chest();
    shop.run(&["mark", "--board", "W3", "--crosscut", "10"])
        .code(0);
    shop.run(&["recut", "--time", "20"])
        .code(0)
        .stdout(contains("C1: new"))
        .stdout(contains("W3 was cut through at 10"));
}

#[test]
fn a_defect_on_a_blank_that_is_cut_is_named() {
    let shop = bench_chest();
    shop.run(&["mark", "C1", "--cut"]).code(0);
    let knot = ["--board", "W3", "--defect", "knot", "8", "9", "1", "2"];
    shop.run(&[&["mark"], &knot[..]].concat()).code(0);
    shop.run(&["recut", "--time", "20"])
        .code(0)
        .stdout(contains("C1: a knot lies on it, 8 to 9 from the hook end"));
}

/// Whoever reads marks.csv sees what is cut, as whoever reads the packet does.
#[test]
fn marks_of_what_is_cut_are_flagged_in_marks_csv() {
    let shop = bench_chest();
    shop.run(&["mark", "C1", "--cut"]).code(0);
    shop.run(&["mark", "A1", "--spoiled"]).code(0);
    shop.run(&["recut", "--time", "20"]);
    let marks = shop.read("out/marks.csv");
    let of_w3: Vec<&str> = marks.lines().filter(|row| row.starts_with("W3,")).collect();
    let cuts = of_w3.iter().filter(|row| row.contains("section 1"));
    assert!(cuts.clone().count() >= 4, "{marks}");
    let first_four: Vec<&&str> = cuts.take(4).collect();
    assert!(
        first_four.iter().all(|row| row.ends_with(",yes")),
        "{marks}"
    );
}

const FRONTS: &str = "front,width,height,thickness\nD1,20,5,3/4\nD2,40,5,3/4\n";

/// Y1 is 60 x 8 x 1 / 144 = 3.33 board feet, bought whole: 26.67 at 8.
#[test]
fn what_a_plan_takes_of_what_is_on_offer_is_named() {
    let boards = "board,length,width,thickness,tone,price\nO1,30,6,4/4,5,\nY1,60,8,4/4,5,8\nY2,60,9,4/4,5,8\n";
    let shop = job(boards, FRONTS, "");
    for more in [
        &["plan", "--time", "10"][..],
        &["plan", "--time", "10", "--by", "money"],
    ] {
        shop.run(more)
            .code(0)
            .stdout(contains("buy: Y1 (3.33 board feet, 26.67)"));
    }
    assert!(
        shop.read("out/packet.html")
            .contains("Y1 (3.33 board feet, 26.67)")
    );
}

/// A front 15/16 thick needs 1 in flat, and 4/4 may be as thin as 15/16: 5/4 is to be bought.
#[test]
fn fronts_that_can_not_be_made_end_in_one_list() {
    let fronts = format!("{FRONTS}E1,50,6,3/4\nE2,50,6,3/4\nF,50,6,15/16\n");
    let shop = job(
        "board,length,width,thickness,tone\nB,49,12,4/4,5\n",
        &fronts,
        "",
    );
    shop.run(&["plan", "--time", "10"])
        .code(3)
        .stdout(contains("To buy for all of them:"))
        .stdout(contains(
            "4/4: 2 at least 6 1/2 in wide and 55 in long (E1, E2)",
        ))
        .stdout(contains("5/4: 1 at least 6 1/2 in wide and 55 in long (F)"));
}

const ROW: &str =
    "front,width,height,thickness,run\na,14,5,3/4,row 2\nb,14,5,3/4,row 2\nc,14,5,3/4,row 2\n";
const SHORT: &str =
    "board,length,width,thickness,tone\nE1,49 1/8,6,4/4,5\nE2,60,5,4/4,5\nE3,35,6,4/4,5\n";

/// Three blanks of 15 and two cuts of 1/8 take 45 1/4; E1 has 49 1/8 less twice 2.
#[test]
fn a_row_that_misses_its_board_is_told_by_how_much_and_the_cure_cures_it() {
    let shop = job(SHORT, ROW, "");
    shop.run(&["plan", "--time", "10", "--unbroken"])
        .code(2)
        .stderr(contains("is 1 break"))
        .stderr(contains(
            "row 2 fits E1 if 1/8 less is trimmed off its ends",
        ))
        .stderr(contains(
            "a 4/4 board at least 5 1/2 in wide and 49 1/4 in long would take it",
        ));
    // A sixteenth less off either end.
    let shop = shop.write("job.toml", "[allowances]\nend_trim = \"1 15/16\"\n");
    shop.run(&["plan", "--time", "10", "--unbroken"]).code(0);
    // Or the board that was named.
    let shop = shop
        .write("job.toml", "")
        .write("boards.csv", &format!("{SHORT}E4,49 1/4,5 1/2,4/4,5\n"));
    shop.run(&["plan", "--time", "10", "--unbroken"]).code(0);
}

/// The blank of a row 5 1/2 high is 5 3/4 wide, and E1 of 5 15/16 has 5 11/16 between the trims.
#[test]
fn a_row_too_wide_is_told_what_less_to_trim_off_the_edges() {
    let boards = "board,length,width,thickness,tone\nE1,52,5 15/16,4/4,5\nE3,20,7,4/4,5\nE4,20,7,4/4,5\nE5,20,7,4/4,5\n";
    let fronts = ROW.replace(",5,", ",5 1/2,");
    let shop = job(boards, &fronts, "");
    shop.run(&["plan", "--time", "10", "--unbroken"])
        .code(2)
        .stderr(contains(
            "row 2 fits E1 if 1/16 less is trimmed off its edges",
        ));
    let shop = shop.write("job.toml", "[allowances]\nedge_trim = \"3/32\"\n");
    shop.run(&["plan", "--time", "10", "--unbroken"]).code(0);
}

#[test]
fn a_tone_limit_that_fails_names_the_runs_and_boards() {
    let boards = "board,length,width,thickness,tone\nP,26,6,4/4,2\nD,40,6,4/4,7\n";
    let fronts = "front,width,height,thickness,run\na,20,5,3/4,upper\nb,34,5,3/4,lower\n";
    let shop = job(boards, fronts, "");
    shop.run(&["plan", "--time", "10", "--tone-within", "2"])
        .code(2)
        .stderr(contains(
            "P of tone 2 (upper) and D of tone 7 (lower) are 3.0 too far apart",
        ))
        .stderr(contains("for lower a board of tone 4 or paler would do"));
}

/// A bow of 5/8 in over 96 in takes 5/8 x (15/96)^2 = 0.0153 in from each blank by itself, but the
/// cup of 1/4 over 6 in takes 1/4 x (5.25/6)^2 = 0.1914: 0.7935 in are left of 1 in, 13/16 are needed.
#[test]
fn a_row_that_would_be_too_thin_is_told_so() {
    let boards = "board,length,width,thickness,tone,bow,cup\nE1,96,6,4/4,5,5/8,1/4\nE3,20,7,4/4,5,,\nE4,20,7,4/4,5,,\nE5,20,7,4/4,5,,\n";
    let shop = job(boards, ROW, "[glue]\nallow = false\n");
    shop.run(&["plan", "--time", "10", "--unbroken"])
        .code(2)
        .stderr(contains(
            "row 2 fits E1, but would be 1/16 too thin once flat and planed",
        ));
}

/// The screen and the file tell the same sizes, as they were measured.
#[test]
fn the_rack_on_the_screen_is_the_rack_in_its_file() {
    let boards = "board,length,width,thickness,tone,bow\nB1,100 1/32,6 11/64,1 3/16,5,1/16\nB2,90,7,5/4,5,\n";
    let shop = job(boards, FRONTS, "[allowances]\nkeep_offcut = \"12\"\n");
    shop.run(&["plan", "--time", "10"]).code(0);
    let output = shop
        .run(&["tally", "--rack", "--json"])
        .code(0)
        .get_output()
        .stdout
        .clone();
    let told: serde_json::Value = serde_json::from_slice(&output).unwrap();
    let told: Vec<[String; 4]> = told["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .map(|piece| {
            ["piece", "length", "width", "thickness"]
                .map(|key| piece[key].as_str().unwrap().to_owned())
        })
        .collect();
    let file = shop.read("out/rack/boards.csv");
    let mut rows = csv::Reader::from_reader(file.as_bytes());
    let written: Vec<[String; 4]> = rows
        .records()
        .map(|row| {
            let row = row.unwrap();
            [0, 1, 2, 3].map(|column| row[column].to_owned())
        })
        .collect();
    assert_eq!(told, written);
    assert!(!told.is_empty());
    // Whichever is used: the thickness of what is left is as it was measured.
    let as_measured = |row: &[String; 4]| match row[0].starts_with("B1") {
        true => row[3] == "1 3/16",
        false => row[3] == "5/4",
    };
    assert!(written.iter().all(as_measured), "{written:?}");
}
