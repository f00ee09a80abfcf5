//! What to buy and which plan to choose, as a maker asks for them on the command line.

use crate::common::shop::Shop;
#[allow(dead_code)]
use assert_cmd::assert::Assert;
use predicates::prelude::*;
use predicates::str::contains;
use std::fs;

const PLAN: [&str; 3] = ["plan", "--time", "5"];

#[test]
fn estimate_needs_no_boards_and_leaves_a_plan_alone() {
    let shop = Shop::with_the_example().write("out.txt", "mine");
    fs::remove_file(shop.path("boards.csv")).unwrap();
    fs::remove_file(shop.path("defects.csv")).unwrap();
    shop.run(&[
        "estimate", "--trials", "40", "--have", "30", "--have", "4/4=5",
    ])
    .code(0)
    .stdout(contains("how sure so many suffice"))
    .stdout(contains("30 board feet suffice with a chance of"))
    .stdout(contains("common practice, no source"));
    for name in ["estimate.json", "estimate-feet.svg", "estimate-runs.png"] {
        assert!(shop.path("out").join(name).exists(), "{name}");
    }
    let json: serde_json::Value = serde_json::from_str(&shop.read("out/estimate.json")).unwrap();
    assert_eq!(json["trials"], 40);
    assert_eq!(json["all"]["feet"][2]["percent"], 90.0);
}

#[test]
fn estimate_says_what_the_yard_can_not_make_before_it_tries() {
    let shop = Shop::with_the_example().write(
        "job.toml",
        "[yard]\nthickness = \"4/4\"\nwidth = \"4 to 5\"\nlength = \"4' to 6'\"\n\
         grade = \"1 Common\"\n[glue]\nallow = false\n",
    );
    shop.run(&["estimate"])
        .code(2)
        .stderr(contains("no board of the yard").and(contains("door: too wide")));
    assert!(!shop.path("out").exists());
}

#[test]
fn a_short_list_needs_boards_on_offer() {
    let shop = Shop::with_the_example();
    shop.run(&["plan", "--short-list", "3"])
        .code(2)
        .stderr(contains("--short-list ranks boards on offer"));
    let offered = "board,length,width,thickness,tone,price\nB1,60,6,4/4,5,\nB2,96,8,4/4,5,9\nB3,40,4,4/4,5,9\n";
    fs::remove_file(shop.path("defects.csv")).unwrap();
    let shop = shop.write("boards.csv", offered);
    shop.run(&["plan", "--short-list", "3"])
        .code(0)
        .stdout(contains("more fronts").and(contains("B2")));
}

/// The part of the output that tells the ways, with what differs from run to run left out.
fn ways_told(output: &Assert) -> String {
    let text = String::from_utf8(output.get_output().stdout.clone()).unwrap();
    let from = text.find("Ways to choose from").expect("the ways are told");
    text[from..].replace('\\', "/")
}

#[test]
fn ways_are_told_with_the_price_of_each_step_and_written_each_to_its_folder() {
    let shop = Shop::with_the_example();
    let output = shop.run(&["plan", "--time", "30", "--ways", "5"]).code(0);
    insta::assert_snapshot!(ways_told(&output));
    let table: serde_json::Value = serde_json::from_str(&shop.read("out/ways/ways.json")).unwrap();
    let ways = table["ways"].as_array().unwrap();
    assert!(ways.len() > 1);
    for way in ways {
        let folder = way["folder"].as_str().unwrap();
        let plan = shop.read(&format!("out/{folder}/plan.json"));
        let plan: serde_json::Value = serde_json::from_str(&plan).unwrap();
        assert_eq!(plan["totals"], way["totals"]);
        assert!(shop.path("out").join(folder).join("packet.html").exists());
    }
    let chosen = table["chosen"].as_u64().unwrap();
    let present: serde_json::Value = serde_json::from_str(&shop.read("out/plan.json")).unwrap();
    let same = &ways[chosen as usize - 1]["totals"];
    assert_eq!(present["totals"]["cost"], same["cost"]);
    // A plan without ways leaves none of them behind as if they were its own.
    shop.run(&PLAN).code(0);
    assert!(!shop.path("out/ways").exists());
    assert!(shop.path("out/before/1/ways/ways.json").exists());
}

#[test]
fn ways_as_json_are_the_table() {
    let shop = Shop::with_the_example();
    let output = shop
        .run(&["plan", "--time", "30", "--ways", "3", "--json"])
        .code(0);
    let table: serde_json::Value =
        serde_json::from_slice(&output.get_output().stdout).expect("JSON on stdout");
    assert_eq!(table["format"], 1);
    assert!(table["ways"].as_array().unwrap().len() <= 3);
    shop.run(&["plan", "--ways", "1"]).code(2);
}

#[test]
fn a_limit_that_can_not_be_kept_says_the_least_that_is_possible() {
    let shop = Shop::with_the_example().write("job.toml", "[glue]\nallow = false\n");
    shop.run(&["plan", "--time", "30", "--most-feet", "1"])
        .code(2)
        .stderr(contains(
            "no plan keeps to the limits: the least possible is",
        ))
        .stderr(contains("board feet used"));
    // Each alone can be kept, both together can't.
    shop.run(&[
        "plan",
        "--time",
        "30",
        "--most-feet",
        "5",
        "--tone-within",
        "0",
    ])
    .code(2)
    .stderr(contains("though each alone can be kept"));
    assert!(!shop.path("out").exists());
}
