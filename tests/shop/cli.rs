//! The command line, as a maker meets it.

#[allow(dead_code)]
use std::fs;

use crate::common::shop::Shop;
use predicates::prelude::*;
use predicates::str::contains;

const PLAN: [&str; 3] = ["plan", "--time", "5"];

#[test]
fn start_writes_a_job_that_checks_and_plans_at_once() {
    let shop = Shop::with_the_example();
    shop.run(&["check"])
        .code(0)
        .stdout(contains("4 boards"))
        .stdout(contains("No faults."));
    shop.run(&PLAN).code(0).stdout(contains("5 of 5"));
    for name in [
        "plan.json",
        "marks.csv",
        "cutlist.csv",
        "elevation.svg",
        "elevation.png",
        "packet.html",
        "packet.pdf",
        "labels.pdf",
    ] {
        assert!(shop.path("out").join(name).exists(), "{name}");
    }
}

#[test]
fn start_never_overwrites_a_job_unless_forced() {
    let shop = Shop::with_the_example().write("boards.csv", "mine");
    shop.run(&["start"])
        .code(2)
        .stderr(contains("boards.csv"))
        .stderr(contains("--force overwrites"));
    assert_eq!(shop.read("boards.csv"), "mine");
    shop.run(&["start", "--force"]).code(0);
    assert!(shop.read("boards.csv").contains("B4"));
}

#[test]
fn all_faults_of_all_files_are_told_at_once() {
    let shop = Shop::with_the_example()
        .write("job.toml", "unit = \"mm\"\n")
        .write(
            "boards.csv",
            "board,length,width,thickness,tone\nB1,-96,6,4/4,drak\n",
        )
        .write("fronts.csv", "front,width,hight,thickness\nD1,20,6,3/4\n")
        .write(
            "defects.csv",
            "board,kind,from,to,low,high\nB7,knot,1,2,0,1\n",
        );
    shop.run(&PLAN)
        .code(2)
        .stderr(contains("job.toml, line 1, key `unit`"))
        .stderr(contains("did you mean `units`?"))
        .stderr(contains(
            "boards.csv, line 2, length `-96`: it must be above zero",
        ))
        .stderr(contains("did you mean `dark`?"))
        .stderr(contains("there is no such column"))
        .stderr(contains("did you mean `height`?"))
        .stderr(contains("there is no such board in boards.csv"))
        .stderr(contains("6 faults in the job's files"))
        .stdout("");
    assert!(!shop.path("out").exists());
}

#[test]
fn a_fault_is_shown_beside_its_line() {
    let shop = Shop::with_the_example().write(
        "fronts.csv",
        "# mine\nfront,width,height,thickness\nD1,20 ells,6,3/4\n",
    );
    let output = shop.run(&["check"]).code(2).get_output().stderr.clone();
    insta::assert_snapshot!(String::from_utf8(output).unwrap());
}

#[test]
fn faults_can_be_read_by_a_machine() {
    let shop =
        Shop::with_the_example().write("fronts.csv", "front,width,height,thickness\nD1,x,6,3/4\n");
    let output = shop
        .run(&["check", "--json"])
        .code(2)
        .get_output()
        .stdout
        .clone();
    let told: serde_json::Value = serde_json::from_slice(&output).unwrap();
    let fault = &told["faults"][0];
    assert_eq!(fault["file"], "fronts.csv");
    assert_eq!(fault["line"], 2);
    assert_eq!(fault["column"], "width");
    assert_eq!(fault["cell"], "x");
}

#[test]
fn a_folder_that_is_not_there_is_said_so() {
    let shop = Shop::empty();
    shop.run(&["plan"])
        .code(2)
        .stderr(contains("there is no such folder"))
        .stderr(contains("grainrow start"));
}

#[test]
fn a_front_no_board_can_make_does_not_stop_the_rest() {
    let shop = Shop::with_the_example();
    let fronts = shop.read("fronts.csv") + "beam,140,4,3/4,,,,\n";
    let shop = shop.write("fronts.csv", &fronts);
    shop.run(&["check"]).code(3).stderr(contains(
        "it can't be made: it takes 141 in along the grain",
    ));
    shop.run(&PLAN)
        .code(3)
        .stdout(contains("5 of 6"))
        .stdout(contains("Not made: beam"));
    assert!(shop.read("out/plan.json").contains("\"not_made\""));
}

#[test]
fn json_prints_what_plan_json_holds() {
    let shop = Shop::with_the_example();
    let output = shop
        .run(&["plan", "--time", "5", "--json"])
        .code(0)
        .get_output()
        .stdout
        .clone();
    assert_eq!(
        String::from_utf8(output).unwrap(),
        shop.read("out/plan.json")
    );
}

#[test]
fn out_names_another_folder() {
    let shop = Shop::with_the_example();
    shop.run(&["plan", "--time", "5", "--out", "elsewhere"])
        .code(0);
    assert!(shop.folder.path().join("elsewhere/plan.json").exists());
    assert!(!shop.path("out").exists());
}

#[test]
fn what_can_not_be_written_ends_in_code_4() {
    let shop = Shop::with_the_example().write("out", "a file where the folder should be");
    shop.run(&PLAN)
        .code(4)
        .stderr(contains("could not be written"));
    assert_eq!(shop.read("out"), "a file where the folder should be");
}

#[test]
fn quiet_says_nothing_when_all_is_well() {
    let shop = Shop::with_the_example();
    shop.run(&["plan", "--time", "5", "--quiet"])
        .code(0)
        .stdout("")
        .stderr("");
}

#[test]
fn nothing_is_coloured_when_not_on_a_terminal() {
    let shop = Shop::with_the_example();
    let no_escapes = || contains("\u{1b}").not();
    shop.run(&PLAN)
        .code(0)
        .stdout(no_escapes())
        .stderr(no_escapes());
    let shop = shop.write("fronts.csv", "front\n");
    shop.run(&["check"]).code(2).stderr(no_escapes());
}

#[test]
fn planning_by_money_needs_prices() {
    let shop = Shop::with_the_example();
    shop.run(&["plan", "--by", "money"])
        .code(2)
        .stderr(contains("needs a `price`"));
}

#[test]
fn tally_shows_the_trades_feet_beside_the_exact() {
    let shop = Shop::with_the_example();
    let output = shop.run(&["tally"]).code(0).get_output().stdout.clone();
    insta::assert_snapshot!(String::from_utf8(output).unwrap());
}

#[test]
fn usage_errors_end_in_code_2() {
    let shop = Shop::with_the_example();
    for words in [
        vec!["plan", "--time", "0"],
        vec!["plan", "--time", "soon"],
        vec!["plan", "--most-feet", "-1"],
        vec!["plan", "--unbroken", "--most-breaks", "2"],
        vec!["saw"],
    ] {
        shop.run(&words).code(2);
    }
}

/// A job so large that no search ends within seconds.
#[cfg(target_os = "linux")]
fn large_job(shop: Shop) -> Shop {
    let boards = (0..90).map(|board| {
        let (length, width) = (80 + 7 * (board % 9), 6 + board % 5);
        format!("B{board},{length},{width},5/4,{}\n", board % 7)
    });
    let fronts = (0..150).map(|front| {
        let (width, height) = (11 + front / 3 % 13, 4 + front / 3 % 4);
        format!("F{front},{width} 3/8,{height},7/8,run {}\n", front / 3)
    });
    let boards: String = boards.collect();
    let fronts: String = fronts.collect();
    shop.write(
        "boards.csv",
        &format!("board,length,width,thickness,tone\n{boards}"),
    )
    .write(
        "fronts.csv",
        &format!("front,width,height,thickness,run\n{fronts}"),
    )
    .write("defects.csv", "board,kind,from,to,low,high\n")
}

/// Whether a process has a handler of its own for Ctrl-C (SIGINT is 2: the second bit of the
/// mask the kernel shows).
#[cfg(target_os = "linux")]
fn listens_for_ctrl_c(process: u32) -> bool {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let mask = status.lines().find_map(|line| line.strip_prefix("SigCgt:"));
    let mask = mask.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok());
    mask.is_some_and(|mask| mask & 0b10 != 0)
}

#[cfg(target_os = "linux")]
#[test]
fn ctrl_c_writes_the_best_plan_so_far_and_ends_in_code_130() {
    use std::process::{Command, Stdio};

    let shop = large_job(Shop::with_the_example());
    let mut running = Command::new(assert_cmd::cargo::cargo_bin("grainrow"))
        .current_dir(shop.folder.path())
        .args(["plan", "job", "--time", "600"])
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    while !listens_for_ctrl_c(running.id()) && running.try_wait().unwrap().is_none() {
        std::thread::yield_now();
    }
    let process = running.id().to_string();
    Command::new("kill")
        .args(["-INT", &process])
        .status()
        .unwrap();
    assert_eq!(running.wait().unwrap().code(), Some(130));
    assert!(shop.read("out/plan.json").contains("\"made\""));
}

#[test]
fn equal_input_and_seed_give_equal_plans_for_any_number_of_threads() {
    let shop = Shop::with_the_example();
    let plan = |threads: &str| {
        shop.run(&["plan", "--seed", "7", "--threads", threads])
            .code(0);
        let text = shop.read("out/plan.json");
        text.lines()
            .filter(|line| !line.contains("\"seconds\""))
            .collect::<String>()
    };
    assert_eq!(plan("1"), plan("2"));
}
