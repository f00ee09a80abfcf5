//! A whole job played through on the chest: plan, cut two boards, find a defect, spoil a front,
//! recut twice, go back once, finish. The commands are those of the README.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use predicates::prelude::*;
use predicates::str::contains;

/// A copy of the chest in a folder of its own.
struct Shop {
    folder: tempfile::TempDir,
}

impl Shop {
    fn new() -> Shop {
        let folder = tempfile::tempdir().unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-boards/chest");
        let to = folder.path().join("chest");
        fs::create_dir(&to).unwrap();
        for entry in fs::read_dir(from).unwrap().map(Result::unwrap) {
            if entry.path().is_file() {
                fs::copy(entry.path(), to.join(entry.file_name())).unwrap();
            }
        }
        Shop { folder }
    }

    fn job(&self) -> PathBuf {
        self.folder.path().join("chest")
    }

    fn run(&self, command: &str, words: &[&str]) -> assert_cmd::assert::Assert {
        let mut grainrow = Command::cargo_bin("grainrow").unwrap();
        grainrow.arg(command).arg(self.job()).args(words);
        if ["plan", "recut"].contains(&command) && !words.contains(&"--undo") {
            grainrow.args(["--time", "5"]);
        }
        grainrow.assert()
    }

    fn plan(&self) -> serde_json::Value {
        self.plan_in("out")
    }

    fn plan_in(&self, folder: &str) -> serde_json::Value {
        let text = fs::read_to_string(self.job().join(folder).join("plan.json")).unwrap();
        serde_json::from_str(&text).unwrap()
    }
}

/// Every blank of a plan: board, copy and the blank.
fn blanks(plan: &serde_json::Value) -> Vec<(String, serde_json::Value)> {
    let list = |value: &serde_json::Value| value.as_array().cloned().unwrap_or_default();
    let mut found = Vec::new();
    for board in list(&plan["boards"]) {
        let name = format!("{} {}", board["board"].as_str().unwrap(), board["copy"]);
        for strip in list(&board["sections"])
            .iter()
            .flat_map(|section| list(&section["strips"]))
        {
            found.extend(
                list(&strip["blanks"])
                    .into_iter()
                    .map(|blank| (name.clone(), blank)),
            );
        }
    }
    found
}

fn fronts_on(plan: &serde_json::Value, board: &str) -> Vec<String> {
    let on = blanks(plan).into_iter().filter(|(name, _)| name == board);
    on.map(|(_, blank)| blank["front"].as_str().unwrap().to_owned())
        .collect()
}

/// Where a front lies.
fn place(plan: &serde_json::Value, front: &str) -> Vec<(String, [f64; 4])> {
    let of_front = blanks(plan)
        .into_iter()
        .filter(|(_, blank)| blank["front"] == front);
    of_front
        .map(|(board, blank)| {
            (
                board,
                ["from", "to", "low", "high"].map(|edge| blank[edge].as_f64().unwrap()),
            )
        })
        .collect()
}

#[test]
fn a_chest_is_finished_through_a_check_and_a_spoiled_front() {
    let shop = Shop::new();
    shop.run("plan", &[]).success();
    let first = shop.plan();
    let boards: Vec<String> = {
        let mut names: Vec<String> = blanks(&first).into_iter().map(|(name, _)| name).collect();
        names.dedup();
        names
    };
    assert!(boards.len() >= 4, "{boards:?}");

    // Two boards are cut.
    let mut cut: Vec<String> = Vec::new();
    for board in &boards[..2] {
        let fronts = fronts_on(&first, board);
        let mut words: Vec<&str> = fronts.iter().map(String::as_str).collect();
        words.push("--cut");
        shop.run("mark", &words)
            .success()
            .stdout(contains("written to"));
        cut.extend(fronts);
    }
    shop.run("recut", &[])
        .success()
        .stdout(contains("the plan stands as it is"));
    shop.run("plan", &[]).code(2).stderr(contains("recut"));

    // A check shows under the first front of a third board; a front that is cut is spoiled.
    let checked = fronts_on(&first, &boards[2])[0].clone();
    let [from, to, low, high] = place(&first, &checked)[0].1;
    let name = boards[2].split(' ').next().unwrap();
    let (middle, across) = ((from + to) / 2.0, (low + high) / 2.0);
    let edges =
        [middle - 1.0, middle + 1.0, across - 0.125, across + 0.125].map(|e| format!("{e:.3}"));
    let [a, b, c, d] = edges.each_ref().map(String::as_str);
    let before = fs::read_to_string(shop.job().join("defects.csv")).unwrap();
    shop.run("mark", &["--board", name, "--defect", "check", a, b, c, d])
        .success();
    let after = fs::read_to_string(shop.job().join("defects.csv")).unwrap();
    assert!(after.starts_with(&before), "what was there stays as it was");
    let backup = fs::read_to_string(shop.job().join("defects.csv.bak")).unwrap();
    assert_eq!(backup, before);
    let spoiled = cut.pop().unwrap();
    shop.run("mark", &[&spoiled, "--spoiled"]).success();
    shop.run("recut", &[])
        .success()
        .stdout(contains(format!("{spoiled}: new")))
        .stdout(contains("its blank was spoiled"))
        .stdout(contains("beside"));
    let second = shop.plan();
    for front in &cut {
        assert_eq!(
            place(&second, front),
            place(&first, front),
            "{front} is cut"
        );
    }
    assert_ne!(place(&second, &spoiled), place(&first, &spoiled));
    assert_ne!(place(&second, &checked), place(&first, &checked));
    assert_eq!(second["not_made"].as_array().unwrap().len(), 0);

    // Back, and on again: the same plan.
    shop.run("recut", &["--undo"]).success();
    assert_eq!(shop.plan()["boards"], first["boards"]);
    shop.run("recut", &[]).success();
    assert_eq!(shop.plan()["boards"], second["boards"]);

    // The new blank is spoiled too.
    shop.run("mark", &[&spoiled, "--spoiled"]).success();
    shop.run("mark", &[&spoiled, "--spoiled"])
        .code(2)
        .stderr(contains("recut after each one"));
    shop.run("recut", &[]).success();
    let third = shop.plan();
    assert_ne!(place(&third, &spoiled), place(&second, &spoiled));
    assert_ne!(place(&third, &spoiled), place(&first, &spoiled));

    // All is made.
    let mut all: Vec<String> = blanks(&third)
        .into_iter()
        .map(|(_, b)| b["front"].as_str().unwrap().to_owned())
        .collect();
    all.dedup();
    let mut words: Vec<&str> = all.iter().map(String::as_str).collect();
    words.push("--made");
    shop.run("mark", &words).success();
    shop.run("recut", &["--undo"])
        .code(2)
        .stderr(contains("can't hold any more"));
    shop.run("recut", &[])
        .success()
        .stdout(contains("the plan stands as it is").and(contains("Made: ")));
    shop.run("tally", &["--rack"])
        .success()
        .stdout(contains("For the next job"));
    let rack = fs::read_to_string(shop.job().join("out/rack/boards.csv")).unwrap();
    assert!(rack.starts_with("board,length,width,thickness,tone"));
}

#[test]
fn slips_are_told_and_change_nothing() {
    let shop = Shop::new();
    shop.run("recut", &[])
        .code(2)
        .stderr(contains("`grainrow plan` makes one"));
    shop.run("mark", &["2a", "--cut"])
        .code(2)
        .stderr(contains("`grainrow plan` makes one"));
    shop.run("plan", &[]).success();
    shop.run("mark", &["2z", "--cut"])
        .code(2)
        .stderr(contains("there is no such front"));
    shop.run("mark", &["2a"])
        .code(2)
        .stderr(contains("--cut, --made or --spoiled"));
    shop.run("mark", &["--board", "C99", "--crosscut", "20"])
        .code(2)
        .stderr(contains("no such board"));
    shop.run("mark", &["--board", "C1", "--crosscut", "20", "1/2", "3"])
        .code(2);
    shop.run(
        "mark",
        &["--board", "C1", "--defect", "knot", "3", "5", "1", "99"],
    )
    .code(2);
    assert!(!shop.job().join("done.csv").exists());
    assert!(!shop.job().join("defects.csv.bak").exists());
    shop.run("recut", &["--undo"])
        .code(2)
        .stderr(contains("no earlier plan"));
    shop.run("mark", &["--board", "C1", "--crosscut", "20", "1/2"])
        .success();
    let done = fs::read_to_string(shop.job().join("done.csv")).unwrap();
    assert_eq!(done, "front,state,notes,board,at\n,crosscut,,C1,20 1/2\n");
}
