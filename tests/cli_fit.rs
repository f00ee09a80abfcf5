//! `fit` and `woods` as a maker meets them.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use assert_cmd::assert::Assert;
use predicates::prelude::*;
use predicates::str::contains;
use tempfile::TempDir;

const OPENINGS: &str = "front,left,right,top,bottom,diagonal_up\n\
                        D1,8 1/8,8 3/16,20 1/8,20 1/8,\nD2,8 1/8,8 1/8,20 1/8,20 1/8,21 45/64\n";

fn shop(openings: &str) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in [
        (
            "job.toml",
            "title = \"Two drawers\"\nspecies = \"cherry\"\n[bevel]\nface = 1\nangle = 15.7\n[pulls]\n",
        ),
        (
            "boards.csv",
            "board,length,width,thickness,tone\nB1,96,9 1/2,5/4,medium\n",
        ),
        (
            "fronts.csv",
            "front,width,height,thickness,run\nD1,20,8,7/8,top\nD2,20,8,7/8,top\n",
        ),
        ("openings.csv", openings),
    ] {
        fs::write(folder.path().join(name), text).unwrap();
    }
    folder
}

fn run(folder: &Path, words: &[&str]) -> Assert {
    Command::cargo_bin("grainrow")
        .unwrap()
        .current_dir(folder)
        .args(words)
        .assert()
}

#[test]
fn fit_prints_the_sheet_and_writes_it() {
    let shop = shop(OPENINGS);
    run(shop.path(), &["fit", "."])
        .code(0)
        .stdout(contains("Fitting sheet: Two drawers"))
        .stdout(contains("lower left corner is taken as square"))
        .stdout(contains("reads 74.3"));
    for name in [
        "fit.txt",
        "fit.csv",
        "fit.json",
        "fitting-1.svg",
        "fitting-1.png",
    ] {
        assert!(shop.path().join("out").join(name).exists(), "{name}");
    }
    let table = fs::read_to_string(shop.path().join("out/fit.csv")).unwrap();
    assert!(table.starts_with("front,fitted,width,height,thickness,square,"));
    assert_eq!(table.lines().count(), 3);
}

#[test]
fn fit_json_holds_decimal_lengths_in_the_jobs_unit() {
    let shop = shop(OPENINGS);
    let done = run(shop.path(), &["fit", ".", "--json"]).code(0);
    let sheet: serde_json::Value = serde_json::from_slice(&done.get_output().stdout).unwrap();
    assert_eq!(sheet["unit"], "inch");
    let front = &sheet["fronts"][1];
    assert_eq!(front["square"], true);
    // 20 1/8 less a 1/16 gap on either side.
    assert!((front["width"].as_f64().unwrap() - 20.0).abs() < 0.001);
    assert_eq!(front["opening"]["assumed"], "nothing");
    assert_eq!(
        sheet["fronts"][0]["opening"]["assumed"],
        "lower_left_square"
    );
    assert_eq!(front["pulls"]["holes"][0]["from_centre"], 0.0);
}

#[test]
fn the_plan_is_made_from_fitted_sizes() {
    let shop = shop(OPENINGS);
    run(shop.path(), &["plan", ".", "--time", "5", "--quiet"]).code(0);
    let list = fs::read_to_string(shop.path().join("out/cutlist.csv")).unwrap();
    let mut rows = csv::Reader::from_reader(list.as_bytes());
    let mut column = |name: &str| rows.headers().unwrap().iter().position(|h| h == name);
    let (front, height) = (column("front").unwrap(), column("finished_height").unwrap());
    let heights: Vec<(String, String)> = rows
        .records()
        .map(|row| row.unwrap())
        .map(|row| (row[front].to_owned(), row[height].to_owned()))
        .collect();
    let expected = [("D1", "8 1/16"), ("D2", "8")].map(|(f, h)| (f.to_owned(), h.to_owned()));
    assert_eq!(heights, expected);
    assert!(shop.path().join("out/fit.txt").exists());
}

#[test]
fn check_tells_an_opening_that_cannot_close() {
    let shop = shop("front,left,right,top,bottom\nD1,8,8,2,20 1/8\n");
    for command in ["check", "fit", "plan"] {
        run(shop.path(), &[command, "."])
            .code(2)
            .stderr(contains("can't close").and(contains("`top` is likely")));
    }
    assert!(!shop.path().join("out").exists());
}

#[test]
fn woods_lists_species_with_their_source() {
    let folder = tempfile::tempdir().unwrap();
    run(folder.path(), &["woods", "cherry"])
        .code(0)
        .stdout(contains("Cherry, black"))
        .stdout(contains("0.00248"))
        .stdout(contains("Wood Handbook"));
    let all = run(folder.path(), &["woods", "--json"]).code(0);
    let species: serde_json::Value = serde_json::from_slice(&all.get_output().stdout).unwrap();
    assert_eq!(species.as_array().map(Vec::len), Some(71));
    run(folder.path(), &["woods", "plywood"])
        .code(2)
        .stdout(contains("No species"));
}
