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
    assert_eq!(species.as_array().map(Vec::len), Some(90));
    run(folder.path(), &["woods", "plywood"])
        .code(2)
        .stdout(contains("No species"));
}

/// Change in size for each per cent of moisture, black cherry: Wood Handbook, FPL-GTR-190, Table
/// 13-5: radial 0.00126 (quarter sawn), tangential 0.00248 (flat sawn).
const CHERRY: [(&str, f64); 2] = [("quarter", 0.00126), ("flat", 0.00248)];

/// A shop of one board, sawn as said, for one drawer front; what is typed beside its opening.
fn one_board(cut: &str, typed: &str) -> TempDir {
    let folder = shop(OPENINGS);
    let write = |name: &str, text: String| fs::write(folder.path().join(name), text).unwrap();
    let climate = "[climate]\nmoisture = 7\ndriest_temperature = 68\ndriest_humidity = 30\n\
                   wettest_temperature = 75\nwettest_humidity = 65\n";
    write("job.toml", format!("species = \"cherry\"\n{climate}"));
    write(
        "boards.csv",
        format!("board,length,width,thickness,tone,cut\nB1,96,9 1/2,5/4,medium,{cut}\n"),
    );
    write(
        "fronts.csv",
        "front,width,height,thickness\nD1,20,8,7/8\n".into(),
    );
    write(
        "openings.csv",
        format!("front,left,right,top,bottom,cut\nD1,8 1/8,8 1/8,20 1/8,20 1/8,{typed}\n"),
    );
    folder
}

fn fitted(shop: &TempDir) -> serde_json::Value {
    let done = run(shop.path(), &["fit", ".", "--json"]).code(0);
    serde_json::from_slice(&done.get_output().stdout).unwrap()
}

/// Growth by the published coefficient of the board's own cut, and half of it at top and bottom
/// beside the least gap of 1/32; the plan's blank is the fitted size and the allowance, so that
/// sheet and plan speak of one front.
#[test]
fn a_front_moves_as_the_board_is_sawn_that_the_plan_cuts_it_from() {
    for (cut, coefficient) in CHERRY {
        let shop = one_board(cut, "");
        run(shop.path(), &["plan", ".", "--time", "5", "--quiet"]).code(0);
        let read = |name: &str| fs::read_to_string(shop.path().join("out").join(name)).unwrap();
        let planned: serde_json::Value = serde_json::from_str(&read("fit.json")).unwrap();
        let sheet = fitted(&shop);
        assert_eq!(planned, sheet);
        let front = &sheet["fronts"][0];
        assert_eq!(front["cut"], cut);
        let number = |value: &serde_json::Value| value.as_f64().unwrap();
        let height = number(&front["height"]);
        let [today, _, damp] = [0, 1, 2].map(|i| number(&front["moisture"][i]));
        let growth = height * coefficient * (damp - today);
        let told = number(&front["seasons"][2]["growth"]);
        assert!((told - growth).abs() < 2e-3 * growth, "{told} {growth}");
        let gap = number(&front["seasons"][0]["gaps"]["top"]);
        assert!((gap - 1.0 / 32.0 - growth / 2.0).abs() < 1e-4, "{gap}");
        let plan: serde_json::Value = serde_json::from_str(&read("plan.json")).unwrap();
        let blank = &plan["boards"][0]["sections"][0]["strips"][0]["blanks"][0];
        let wide = number(&blank["high"]) - number(&blank["low"]);
        assert!((wide - height - 0.25).abs() < 1e-6, "{wide} {height}");
    }
}

#[test]
fn a_typed_cut_that_the_board_contradicts_is_told() {
    let shop = one_board("flat", "quarter");
    assert!(!fitted(&shop).to_string().contains("sawn_otherwise"));
    run(shop.path(), &["plan", ".", "--time", "5", "--quiet"]).code(0);
    let sheet = fitted(&shop);
    assert_eq!(sheet["fronts"][0]["cut"], "flat");
    let words = sheet["fronts"][0]["cautions"].to_string();
    assert!(
        words.contains("board B1 is flat sawn, and what is written for this front says quarter"),
        "{words}"
    );
    let agreed = one_board("quarter", "quarter");
    run(agreed.path(), &["plan", ".", "--time", "5", "--quiet"]).code(0);
    assert!(!fitted(&agreed).to_string().contains("sawn_otherwise"));
}

/// A plan made for these sizes holds in the commands that follow it.
#[test]
fn a_recut_finds_the_fronts_as_they_were_planned() {
    let shop = one_board("quarter", "");
    run(shop.path(), &["plan", ".", "--time", "5", "--quiet"]).code(0);
    run(shop.path(), &["recut", "."])
        .code(0)
        .stdout(contains("nothing to change").or(contains("Nothing to change")));
}

#[test]
fn settings_without_effect_are_told_by_check_and_fit() {
    let shop = one_board("flat", "");
    let toml = fs::read_to_string(shop.path().join("job.toml")).unwrap();
    fs::write(
        shop.path().join("job.toml"),
        format!("{toml}[gaps]\nanchor = \"left\"\n"),
    )
    .unwrap();
    for command in ["check", "fit"] {
        run(shop.path(), &[command, "."])
            .code(0)
            .stderr(contains("it has no effect: of front D1"));
    }
}
