//! Files changed after the saw had begun, so that they can't be true of what is cut: told before
//! anything is planned, with what to do; and a plan made anew over all that is no dead end.

#[allow(dead_code)]
use std::fs;

use crate::common::shop::Shop;
use predicates::str::contains;

const BOARDS: &str =
    "board,length,width,thickness,tone,count\nB1,60,6,5/4,5,1\nP,40,6 1/2,5/4,5,3\n";
const FRONTS: &str = "front,width,height,thickness,run,count,board\n\
                      left,14,5,3/4,row,,B1\nright,14,5,3/4,row,,B1\nlow,24,5,3/4,,3,P\n";

/// A planned job: a row of two on B1, and three fronts each on a copy of P.
fn planned() -> Shop {
    let shop = Shop::empty();
    fs::create_dir(shop.path("")).unwrap();
    let shop = shop
        .write("job.toml", "")
        .write("boards.csv", BOARDS)
        .write("fronts.csv", FRONTS);
    shop.run(&["plan", "--time", "5"]).code(0);
    shop
}

/// The same with some fronts cut.
fn cut(fronts: &[&str]) -> Shop {
    let shop = planned();
    shop.run(&[&["mark"], fronts, &["--cut"]].concat()).code(0);
    shop
}

fn plan(shop: &Shop) -> serde_json::Value {
    serde_json::from_str(&shop.read("out/plan.json")).unwrap()
}

/// Board, copy, start and end of a front.
fn place(shop: &Shop, front: &str) -> (String, u64, f64, f64) {
    let plan = plan(shop);
    for board in plan["boards"].as_array().unwrap() {
        for section in board["sections"].as_array().unwrap() {
            for strip in section["strips"].as_array().unwrap() {
                for blank in strip["blanks"].as_array().unwrap() {
                    if blank["front"] == front {
                        return (
                            board["board"].as_str().unwrap().to_owned(),
                            board["copy"].as_u64().unwrap(),
                            blank["from"].as_f64().unwrap(),
                            blank["to"].as_f64().unwrap(),
                        );
                    }
                }
            }
        }
    }
    panic!("{front} is in no board of the plan");
}

/// Every command that goes by what is cut refuses, says these words, and changes nothing.
#[track_caller]
fn refused(shop: &Shop, words: &[&str]) {
    let before = shop.read("out/plan.json");
    for command in [
        &["recut", "--time", "5"][..],
        &["tally", "--rack"],
        &["mark", "low.1", "--made"],
    ] {
        let mut assert = shop.run(command).code(2);
        for word in words {
            assert = assert.stderr(contains(*word));
        }
    }
    assert_eq!(shop.read("out/plan.json"), before);
}

#[test]
fn a_board_made_smaller_than_its_cuts_is_told() {
    let cuts = ["left", "right"];
    let (.., end) = place(&planned(), "right");
    let reached = if end > 20.0 { "right" } else { "left" };
    let shorter = cut(&cuts).write("boards.csv", &BOARDS.replace("B1,60,", "B1,20,"));
    refused(
        &shorter,
        &[reached, "B1", "length of 20 in", "had before it was cut"],
    );
    let narrower = cut(&cuts).write("boards.csv", &BOARDS.replace("B1,60,6,", "B1,60,5,"));
    refused(&narrower, &["left", "B1", "width of 5 in", "near edge"]);
    // Still as wide as the cuts reach: that may be what is left of it.
    let same = cut(&cuts).write("boards.csv", &BOARDS.replace("B1,60,6,", "B1,60,5 7/8,"));
    same.run(&["recut", "--time", "5"]).code(0);
}

#[test]
fn a_count_below_a_cut_copy_and_a_board_gone_or_renamed_are_told() {
    let on_third = |shop: &Shop| {
        let fronts = ["low.1", "low.2", "low.3"];
        fronts
            .into_iter()
            .find(|front| place(shop, front).1 == 3)
            .unwrap()
    };
    let third = on_third(&planned());
    let fewer = cut(&[third]).write("boards.csv", &BOARDS.replace("5/4,5,3", "5/4,5,2"));
    refused(
        &fewer,
        &[third, "number 3 of board P", "only 2 of it", "`count` to 3"],
    );
    let pinned = FRONTS.replace(",B1", ",");
    let renamed = cut(&["left"])
        .write("boards.csv", &BOARDS.replace("B1,", "C1,"))
        .write("fronts.csv", &pinned);
    refused(&renamed, &["left", "board B1", "no such board"]);
    let gone = cut(&["left", "right"])
        .write("boards.csv", &BOARDS.replace("B1,60,6,5/4,5,1\n", ""))
        .write("fronts.csv", &pinned);
    refused(&gone, &["left, right", "board B1", "no such board"]);
}

#[test]
fn a_front_taken_out_after_its_blank_was_cut_is_told() {
    let shop = cut(&["left"]);
    shop.run(&["mark", "right", "--spoiled"]).code(0);
    shop.run(&["recut", "--time", "5"]);
    let shop = shop
        .write("fronts.csv", &FRONTS.replace("left,14,5,3/4,row,,B1\n", ""))
        .write("done.csv", "front,state,notes\nright,spoiled,\n");
    refused(&shop, &["left", "B1", "fronts.csv has it no longer"]);
}

#[test]
fn a_front_made_larger_than_its_cut_blank_is_told() {
    let larger = FRONTS.replace("left,14,", "left,15 1/4,");
    refused(
        &cut(&["left"]).write("fronts.csv", &larger),
        &["left", "15 in along", "15 1/4 in now", "spoiled"],
    );
    // Once it is made its size is what it is.
    let shop = cut(&["left"]);
    shop.run(&["mark", "left", "--made"]).code(0);
    let shop = shop.write("fronts.csv", &larger);
    shop.run(&["recut", "--time", "5"]).code(0);
}

#[test]
fn a_crosscut_through_a_cut_front_is_refused_and_told() {
    let shop = cut(&["left"]);
    let (_, _, from, to) = place(&shop, "left");
    let middle = format!("{}", (from + to) / 2.0);
    let done = shop.read("done.csv");
    shop.run(&["mark", "--board", "B1", "--crosscut", &middle])
        .code(2)
        .stderr(contains("in the midst of front left"))
        .stderr(contains("spoiled"));
    assert_eq!(shop.read("done.csv"), done);
    // The front is marked cut after the crosscut has taken its place.
    let by_hand = format!("front,state,notes,board,at\n,crosscut,,B1,{middle}\nleft,cut,,,\n");
    let shop = shop.write("done.csv", &by_hand);
    refused(&shop, &["in the midst of front left"]);
    // Spoiled is what it is.
    let shop = shop.write("done.csv", &by_hand.replace("left,cut", "left,spoiled"));
    shop.run(&["recut", "--time", "5"]);
    let now = place(&shop, "left");
    assert!(
        now.0 != "B1" || now.2 > from + 0.1 || now.3 < to - 0.1,
        "{now:?}"
    );
}

#[test]
fn a_crosscut_beside_fronts_cut_long_before_is_told() {
    let shop = cut(&["left"]);
    // Another front is lost and planned anew: what was cut is on record.
    shop.run(&["mark", "low.1", "--spoiled"]).code(0);
    shop.run(&["recut", "--time", "5"]);
    let (_, _, from, _) = place(&shop, "right");
    let inside = format!("{}", from + 3.0);
    shop.run(&["mark", "--board", "B1", "--crosscut", &inside])
        .code(2)
        .stderr(contains(
            "had left the board before, when front left was cut",
        ));
}

#[test]
fn a_crosscut_of_one_of_several_boards_says_which() {
    let shop = planned();
    shop.run(&["mark", "--board", "P", "--crosscut", "38"])
        .code(2)
        .stderr(contains("which of them was cut"))
        .stderr(contains("--copy"));
    shop.run(&["mark", "--board", "P", "--copy", "2", "--crosscut", "38"])
        .code(0);
    shop.run(&["recut", "--time", "5"]).code(0);
}

#[test]
fn after_a_plan_made_anew_over_all_that_is_cut_nothing_is_a_dead_end() {
    let shop = cut(&["left"]);
    shop.run(&["mark", "low.2", "--spoiled"]).code(0);
    shop.run(&["recut", "--time", "5"]);
    shop.run(&["mark", "low.1", "--cut"]).code(0);
    let (done, old) = (shop.read("done.csv"), plan(&shop));
    shop.run(&["plan", "--time", "5"]).code(2);
    shop.run(&["plan", "--force", "--time", "5"]).code(0);
    assert_eq!(shop.read("out/forgotten.csv"), done);
    assert_eq!(shop.read("done.csv.bak"), done);
    assert!(shop.read("done.csv").starts_with(&done));

    // The way back brings the old plan and its marks.
    shop.run(&["recut", "--undo"]).code(0);
    assert_eq!(shop.read("done.csv"), done);
    assert_eq!(plan(&shop)["boards"], old["boards"]);
    shop.run(&["recut", "--time", "5"]);

    // And on again, where everything goes by the new plan.
    shop.run(&["plan", "--force", "--time", "5"]).code(0);
    let anew = plan(&shop);
    shop.run(&["recut", "--time", "5"])
        .code(0)
        .stdout(contains("stands as it is"));
    shop.run(&["tally", "--rack"]).code(0);
    shop.run(&["mark", "left", "--cut"]).code(0);
    shop.run(&["mark", "left", "--made"]).code(0);
    shop.run(&["mark", "low.2", "--spoiled"]).code(0);
    shop.run(&["recut", "--time", "5"]);
    assert_eq!(place(&shop, "left").0, "B1");
    shop.run(&["tally", "--rack"]).code(0);
    shop.run(&["recut", "--undo"]).code(0);
    assert_eq!(plan(&shop)["boards"], anew["boards"]);
    // The plan before knows nothing of the blank lost since: it can't be had back, and says why.
    shop.run(&["recut", "--undo"])
        .code(2)
        .stderr(contains("low.2"));
    assert!(shop.read("done.csv").contains("anew"));
    let done = |code: &i32| [0, 3].contains(code);
    shop.run(&["recut", "--time", "5"])
        .code(predicates::function::function(done));
}

/// Drawn 6 in high, and 5 in for the opening as it is measured: the blank is as high as that needs,
/// which is less than was drawn and no contradiction.
#[test]
fn a_front_fitted_to_a_smaller_opening_than_drawn_is_marked_as_planned() {
    let shop = Shop::empty();
    fs::create_dir(shop.path("")).unwrap();
    let opening = "front,left,right,top,bottom\nleft,5,5,14,14\n";
    let shop = shop
        .write("job.toml", "species = \"cherry\"\n")
        .write("boards.csv", BOARDS)
        .write(
            "fronts.csv",
            "front,width,height,thickness\nleft,14,6,3/4\n",
        )
        .write("openings.csv", opening);
    shop.run(&["plan", "--time", "5"]).code(0);
    shop.run(&["mark", "left", "--cut"]).code(0);
    shop.run(&["recut", "--time", "5"]).code(0);
}
