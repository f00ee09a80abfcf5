use super::*;
use crate::job::{Fault, Stand};
use crate::measure::Length;

const FRONTS: &str = "front,width,height,thickness,run,count,across,up\n\
                      A1,10,6,3/4,top,,,\nA2,10,6,3/4,top,,,\nB,20,8,3/4,,,,\nC,5,4,3/4,,2,,\n";

fn with(toml: &str, fronts: &str) -> JobFiles {
    let boards = "board,length,width,thickness,tone\nB1,120,10,5/4,\"Light; streaky\"\n";
    JobFiles::new()
        .with(JOB_TOML, toml)
        .with(BOARDS_CSV, boards)
        .with(FRONTS_CSV, fronts)
}

fn told(faults: &Faults) -> Vec<String> {
    let one = |fault: &Fault| {
        let hint = fault.trouble.hint().unwrap_or_default();
        format!("{fault} | {hint}")
    };
    faults.iter().map(one).collect()
}

fn faults(files: &JobFiles) -> Vec<String> {
    let Err(faults) = files.parse() else {
        panic!("the files were read without a fault");
    };
    told(&faults)
}

fn job(files: &JobFiles) -> Job {
    let reading = files.parse();
    reading.unwrap_or_else(|faults| panic!("{faults}")).job
}

#[test]
fn rows_name_runs_fronts_and_counted_fronts_from_left_to_right() {
    let toml = "[case]\nwidth = \"24\"\nheight = \"\"\nrail = \"3/4\"\nrows = [[\"top\"], [\"C\", \"B\"]]\n";
    let job = job(&with(toml, FRONTS));
    let case = &job.settings.case;
    assert_eq!(case.width, Some(Length::from_inches(24.0)));
    assert_eq!(
        (case.height, case.rail),
        (None, Some(Length::from_inches(0.75)))
    );
    assert_eq!(
        job.case_rows(),
        [vec![vec![0, 1]], vec![vec![3, 4], vec![2]]]
    );
    assert_eq!(job.boards[0].tone_words, "Light");
}

#[test]
fn a_front_may_say_where_it_stands() {
    let fronts = "front,width,height,thickness,across,up\nA,10,6,3/4,1 1/2,20\nB,10,6,3/4,,\n";
    let job = job(&with("", fronts));
    let stands = Stand {
        across: Length::from_inches(1.5),
        up: Length::from_inches(20.0),
    };
    assert_eq!(job.fronts[0].stands, Some(stands));
    assert_eq!(job.fronts[1].stands, None);
}

#[test]
fn what_is_wrong_with_the_case_is_told_all_at_once() {
    let toml = "[case]\nwide = 3\nheight = \"-4\"\nrows = [[\"tpo\"], [\"top\", \"A1\"]]\n";
    insta::assert_snapshot!(faults(&with(toml, FRONTS)).join("\n"));
    let list = "[case]\nrows = \"top\"\n";
    insta::assert_snapshot!(faults(&with(list, FRONTS)).join("\n"));
}

#[test]
fn what_is_wrong_with_a_place_on_the_case_is_told() {
    let fronts = "front,width,height,thickness,count,across,up\n\
                  A,10,6,3/4,,4,\nB,10,6,3/4,3,4,4\nC,10,6,3/4,,-1,2\n";
    insta::assert_snapshot!(faults(&with("", fronts)).join("\n"));
}

/// The plan does not depend on it, so it stops nothing.
#[test]
fn what_does_not_fit_the_case_is_a_warning() {
    let toml = "[case]\nwidth = 19\nheight = 12\nrows = [[\"top\"], [\"B\"]]\n";
    let reading = with(toml, FRONTS).parse().expect("only warnings");
    insta::assert_snapshot!(told(&reading.findings).join("\n"));
    let fronts = "front,width,height,thickness,across,up\nA,10,6,3/4,1,1\nB,10,6,3/4,8,2\n";
    let placed = with("[case]\nwidth = 16\n", fronts)
        .parse()
        .expect("only warnings");
    insta::assert_snapshot!(told(&placed.findings).join("\n"));
}
