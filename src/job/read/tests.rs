use proptest::prelude::*;

use super::*;
use crate::job::{DefectKind, DefectSide, Grain, Shape};
use crate::measure::Length;

const BOARDS: &str = "board,length,width,thickness,tone\nB1,10',7 1/2,5/4,medium\nB2,96,6,4/4,4\n";
const FRONTS: &str = "front,width,height,thickness\nD1,20,6,7/8\n";

fn files() -> JobFiles {
    JobFiles::new()
        .with(JOB_TOML, "")
        .with(BOARDS_CSV, BOARDS)
        .with(FRONTS_CSV, FRONTS)
}

fn job(files: &JobFiles) -> Job {
    files
        .parse()
        .unwrap_or_else(|faults| panic!("{faults}"))
        .job
}

fn with_fronts(rows: &str) -> JobFiles {
    let header = "front,width,height,thickness,run,place,grain,count,shape,rise,board,glue";
    files().with(FRONTS_CSV, format!("{header}\n{rows}"))
}

fn with_boards(rows: &str) -> JobFiles {
    let header = "board,length,width,thickness,tone,count,bow,cut,price";
    files().with(BOARDS_CSV, format!("{header}\n{rows}"))
}

fn with_defects(rows: &str) -> JobFiles {
    let boards = "board,length,width,thickness,tone,count\nB1,96,7,4/4,5,1\nP,96,8,4/4,5,4\n";
    let header = "board,kind,from,to,low,high,side,copy";
    files()
        .with(BOARDS_CSV, boards)
        .with(DEFECTS_CSV, format!("{header}\n{rows}"))
}

/// Every fault of the files, one a line, with what was expected and the hint.
fn faults(files: &JobFiles) -> String {
    let Err(faults) = files.parse() else {
        panic!("the files were read without a fault");
    };
    told(&faults)
}

fn warnings(files: &JobFiles) -> String {
    told(
        &files
            .parse()
            .unwrap_or_else(|faults| panic!("{faults}"))
            .findings,
    )
}

fn told(faults: &Faults) -> String {
    let lines = faults.iter().map(|fault| {
        let trouble = &fault.trouble;
        let parts = [Some(fault.to_string()), trouble.expected(), trouble.hint()];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" | ")
    });
    lines.collect::<Vec<_>>().join("\n")
}

fn names(job: &Job) -> Vec<(String, Vec<String>)> {
    let run = |run: &crate::job::Run| {
        let fronts = run
            .fronts
            .iter()
            .map(|&front| job.fronts[front].name.clone());
        (run.name.clone(), fronts.collect())
    };
    job.runs.iter().map(run).collect()
}

#[test]
fn every_column_of_a_board_lands_in_its_field() {
    let files = files().with(
        BOARDS_CSV,
        "Board;LENGTH;Width;thickness;tone;log;cut;bow;cup;twist;crook;moisture;price;photo;notes\r\n\
         B1;7' 10 1/2\"; 8⅜ ;5/4;\"medium dark; pinkish\";L1;Quarter;1/4;1/16;1/8;3/8;8.5%;9.5;b1.jpg;wide end far\r\n",
    );
    let board = &job(&files).boards[0];
    assert_eq!(board.id, "B1");
    assert_eq!(board.copies, [1]);
    assert_eq!(board.length, Length::from_inches(94.5));
    assert_eq!(board.width, Length::from_inches(8.375));
    assert_eq!(board.thickness, Length::from_inches(1.25));
    assert_eq!(board.tone.value(), 6.0);
    assert_eq!(board.log.as_deref(), Some("L1"));
    assert_eq!(board.cut, Some(crate::wood::Cut::Quarter));
    let warp = [board.bow, board.cup, board.twist, board.crook];
    assert_eq!(warp, [0.25, 0.0625, 0.125, 0.375].map(Length::from_inches));
    assert_eq!((board.moisture, board.price), (Some(8.5), Some(9.5)));
    assert_eq!(board.photo.as_deref(), Some("b1.jpg"));
    assert_eq!(board.notes, "pinkish; wide end far");
}

#[test]
fn every_column_of_a_front_lands_in_its_field() {
    let files = files().with(
        FRONTS_CSV,
        "front,width,height,thickness,run,grain,space_after,shape,rise,board,glue,notes\n\
         D1,20,8,7/8,top,vertical,3/4,arch,1 1/2,B1,no,mind the crown\n",
    );
    let job = job(&files);
    let front = &job.fronts[0];
    assert_eq!(front.grain, Grain::Vertical);
    assert_eq!(front.along(), Length::from_inches(8.0));
    assert_eq!(front.space_after, Some(Length::from_inches(0.75)));
    let rise = Length::from_inches(1.5);
    assert_eq!(front.shape, Shape::Arch { rise });
    assert_eq!(front.only_board(), Some("B1"));
    assert!(!front.glue);
    assert_eq!(front.notes, "mind the crown");
    assert_eq!(job.runs[0].name, "top");
}

#[test]
fn bare_numbers_are_in_the_jobs_unit_and_quarters_are_not() {
    let files = files()
        .with(JOB_TOML, "units = \"mm\"")
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,2.4 m,190,5/4,3\n",
        )
        .with(FRONTS_CSV, "front,width,height,thickness\nD1,500,150,22\n");
    let job = job(&files);
    assert_eq!(job.boards[0].width, Length::from_mm(190.0));
    assert_eq!(job.boards[0].thickness, Length::from_inches(1.25));
    assert_eq!(job.fronts[0].thickness, Length::from_mm(22.0));
}

#[test]
fn a_front_without_a_run_is_a_run_of_its_own() {
    let job = job(&with_fronts("A,20,6,3/4,,,,2\nB,20,6,3/4\n"));
    let alone = |name: &str| (name.to_owned(), vec![name.to_owned()]);
    assert_eq!(names(&job), ["A.1", "A.2", "B"].map(alone));
}

#[test]
fn a_run_follows_its_places_and_copies_follow_one_another() {
    let rows = "A,20,6,3/4,top,3\nX,9,6,3/4,low\nB,20,6,3/4,top,1,,2\nC,20,6,3/4,top,2\n";
    let names = names(&job(&with_fronts(rows)));
    assert_eq!(names[0].0, "top");
    assert_eq!(names[0].1, ["B.1", "B.2", "C", "A"]);
    assert_eq!(names[1].0, "low");
}

#[test]
fn without_places_a_run_follows_the_file() {
    let names = names(&job(&with_fronts("C,20,6,3/4,top\nA,20,6,3/4,top\n")));
    assert_eq!(names[0].1, ["C", "A"]);
}

#[test]
fn gluing_follows_the_row_and_else_the_job_and_its_least_width() {
    // Across the grain: 6, 9, 8, 7 7/8, and 20 on a front 6 high with its grain up and down.
    let rows = with_fronts(
        "A,20,6,3/4,,,,,,,,yes\nB,20,9,3/4,,,,,,,,no\nC,20,8,3/4\nD,20,7 7/8,3/4\n\
         E,20,6,3/4,,,vertical\n",
    );
    let glue = |files: &JobFiles| {
        job(files)
            .fronts
            .iter()
            .map(|front| front.glue)
            .collect::<Vec<_>>()
    };
    let toml = |text: &str| rows.clone().with(JOB_TOML, format!("[glue]\n{text}\n"));
    assert_eq!(glue(&rows), [true, false, true, false, true]);
    assert_eq!(
        glue(&toml("allow = false")),
        [true, false, false, false, false]
    );
    assert_eq!(glue(&toml("from = 7")), [true, false, true, true, true]);
}

#[test]
fn a_metric_job_glues_from_200_mm() {
    let rows = "front,width,height,thickness\nA,500,200,20\nB,500,199,20\n";
    let boards = "board,length,width,thickness,tone\nM,2400,150,26,5\n";
    let files = files().with(FRONTS_CSV, rows).with(BOARDS_CSV, boards);
    let job = job(&files.with(JOB_TOML, "units = \"mm\""));
    let glued: Vec<bool> = job.fronts.iter().map(|front| front.glue).collect();
    assert_eq!(glued, [true, false]);
    assert_eq!(job.settings.glue.step, crate::measure::Length::from_mm(2.0));
}

#[test]
fn copies_with_defects_of_their_own_become_kinds_of_their_own() {
    let job = job(&with_defects(
        "P,knot,1,2,0,1,up,3\nP,split,90,96,0,8,,\nB1,check,0,4,2,2 1/8,down,\n",
    ));
    let kinds: Vec<_> = job
        .boards
        .iter()
        .map(|board| (board.id.as_str(), board.copies.clone(), board.defects.len()))
        .collect();
    assert_eq!(
        kinds,
        [
            ("B1", vec![1], 1),
            ("P", vec![1, 2, 4], 1),
            ("P", vec![3], 2)
        ]
    );
    assert_eq!(job.boards[0].defects[0].side, DefectSide::Down);
    assert_eq!(job.boards[2].defects[1].kind, DefectKind::Knot);
}

#[test]
fn copies_with_equal_defects_stay_one_kind() {
    let job = job(&with_defects("P,knot,1,2,0,1,,3\nP,knot,1,2,0,1,,1\n"));
    let copies: Vec<_> = job.boards[1..]
        .iter()
        .map(|board| board.copies.clone())
        .collect();
    assert_eq!(copies, [vec![1, 3], vec![2, 4]]);
}

#[test]
fn missing_files_are_named_all_at_once() {
    insta::assert_snapshot!(faults(&JobFiles::new()));
}

#[test]
fn boards_are_not_needed_for_fronts_alone() {
    let files = JobFiles::new().with(JOB_TOML, "").with(FRONTS_CSV, FRONTS);
    assert!(files.parse().is_err());
    assert!(
        files
            .parse_for(Needs::Fronts)
            .is_ok_and(|reading| reading.job.boards.is_empty())
    );
}

#[test]
fn text_that_is_not_utf8_says_so() {
    insta::assert_snapshot!(faults(
        &files().with(BOARDS_CSV, *b"board,length\nB\xe91,96\n")
    ));
}

#[test]
fn every_bad_cell_of_a_board_is_a_fault() {
    insta::assert_snapshot!(faults(&with_boards(
        "B1,-96,0,thick,brown,0,-1/4,flt,free\n,96 ells,\"7,5\",4/4,11,1.5,1/4,flat,-1\nB3,96,6,4/4,drak\n"
    )));
}

#[test]
fn a_board_named_twice_is_a_fault() {
    insta::assert_snapshot!(faults(&with_boards(
        "B1,96,6,4/4,5\nB2,96,6,4/4,5\nB1,90,6,4/4,5\n"
    )));
}

#[test]
fn a_defect_must_lie_on_a_board_there_is() {
    insta::assert_snapshot!(faults(&with_defects(
        "b1,knot,1,2,0,1\nB1,knot,97,98,0,1\nB1,knt,1,2,5,7 1/16\nB1,knot,5,4,3,2\n\
         P,knot,1,2,0,1,,5\nB1,knot,1,2,0,1,top\nB1,knot,-1,2,0,1\n"
    )));
}

#[test]
fn every_bad_cell_of_a_front_is_a_fault() {
    insta::assert_snapshot!(faults(&with_fronts(
        "D1,0,-6,x,top,first,diagonal,none,round,,B9,maybe\nD2,20,6,3/4,,,,,arch,,B2\n\
         D3,20,6,3/4,,,,,square,1\nD4,20,6,3/4,,,,,arch,6\n"
    )));
}

#[test]
fn names_that_clash_are_faults() {
    insta::assert_snapshot!(faults(&with_fronts(
        "A,20,6,3/4,,,,2\nA.2,20,6,3/4\nB,20,6,3/4\nB,20,6,3/4\nC,20,6,3/4\nD,20,6,3/4,C\nE,20,6,3/4,,4\n"
    )));
}

#[test]
fn places_that_collide_are_faults() {
    insta::assert_snapshot!(faults(&with_fronts(
        "A,20,6,3/4,top,1\nB,20,6,3/4,top,1\nC,20,6,3/4,low\nD,20,6,3/4,low,1\n"
    )));
}

#[test]
fn a_run_of_mixed_grain_is_a_fault() {
    insta::assert_snapshot!(faults(&with_fronts(
        "A,20,6,3/4,top\nB,20,6,3/4,top,,vertical\nC,20,6,3/4,top,,horizontal\n"
    )));
}

#[test]
fn empty_tables_are_faults() {
    let files = files().with(BOARDS_CSV, "board,length,width,thickness,tone\n");
    insta::assert_snapshot!(faults(&files.with(FRONTS_CSV, "# later\n")));
}

#[test]
fn a_front_no_board_can_make_is_a_warning_that_says_why() {
    insta::assert_snapshot!(warnings(&with_fronts(
        "long,120,6,3/4,,,,3\nwide,20,9,3/4,,,,,,,,no\nglued,20,9,3/4\nthick,20,6,1 1/4\n\
         pinned,100,5,3/4,,,,,,,B2\nboth,100,5,1,,,,,,,B2\ntall,6,130,3/4,,,vertical\n"
    )));
}

#[test]
fn a_front_that_takes_more_than_any_single_board_has_is_a_warning() {
    let files = with_fronts("A,90,6,3/4,,,,,,,,no\nB,90,6,3/4,,,,,,,,yes\nC,90,9,3/4\n");
    let boards = "board,length,width,thickness,tone\nB1,120,4,4/4,5\nB2,60,8,4/4,5\n";
    insta::assert_snapshot!(warnings(&files.with(BOARDS_CSV, boards)), @"fronts.csv, line 2, front `A`: it can't be made: no board is 91 in long and 6 1/4 in wide between its trims and 13/16 in thick at once | add such a board, or make the front smaller; everything else is planned without it");
}

#[test]
fn slips_are_warnings_that_stop_nothing() {
    let boards = with_boards(
        "B1,7 1/2,96,4/4,5\nb1,960,7,54,5\nB2,8,7,4/4,5\nB3,96,7 13/17,1 3/16,5\nB4,96,54,4/4,5\n",
    );
    insta::assert_snapshot!(warnings(&boards), @r"
    boards.csv, line 2, width `96`: the board is wider than it is long | are `length` and `width` swapped? Length is along the grain
    boards.csv, line 3, board `b1`: only its capitals set it apart from `B1` in line 2 | if both are the same, spell them alike
    boards.csv, line 3, length `960`: few are longer than 288 in | is a digit too many, or another unit meant?
    boards.csv, line 3, thickness `54`: few are thicker than 5 in | did you mean `5/4`?
    boards.csv, line 4, length `8`: so short a board is seldom worth measuring | feet are written with their mark: 8'
    boards.csv, line 5, width `7 13/17`: 13/17 is a fraction no tape shows | it is read as it stands
    boards.csv, line 6, width `54`: few are wider than 36 in | is a digit too many, or another unit meant?
    ");
    let fronts = with_fronts(
        "D1,20,5,3/4,top,,,,,,,\nD2,20,5 1/8,3/4,top,,,,,,,\nD3,20,5,3/4,Top,,,,,,,\nD4,20,5,3/4,Top,,,,,,,\n\
         V1,5,20,3/4,up,,vertical,,,,,\nV2,5 1/4,30,3/4,up,,vertical,,,,,\nA,6,9,3/4,,,,,arch,4,,\nd1,20,5,3/4,,,,,,,,\n",
    );
    insta::assert_snapshot!(warnings(&fronts), @r"
    fronts.csv, line 3, height `5 1/8`: the first front of this run, in line 2, has a height of 5 in | if the fronts are meant to differ, nothing is wrong
    fronts.csv, line 4, run `Top`: only its capitals set it apart from `top` in line 2 | if both are the same, spell them alike
    fronts.csv, line 7, width `5 1/4`: the first front of this run, in line 6, has a width of 5 in | if the fronts are meant to differ, nothing is wrong
    fronts.csv, line 8, rise `4`: it is more than half the width, and no arc of a circle stands so high | `rise` is how far the top stands above its corners
    fronts.csv, line 9, front `d1`: only its capitals set it apart from `D1` in line 2 | if both are the same, spell them alike
    ");
}

#[test]
fn a_date_is_told_for_what_it_was_and_a_point_for_a_space() {
    let files = with_boards("B1,8-Jan,8.3/8,4-May,5\nB2,96.000000000000000001,7,1,5\n");
    insta::assert_snapshot!(faults(&files), @r#"
    boards.csv, line 2, length `8-Jan`: it can't be read as a length: it is a date, which a spreadsheet made of 1/8 | a length such as 11 3/8 or 7' 10 1/2" | before typing, format the column as text; or write an inch mark after the fraction, 1/8", which a spreadsheet leaves alone
    boards.csv, line 2, width `8.3/8`: it can't be read as a length: a number with decimals can't stand over another | a length such as 11 3/8 or 7' 10 1/2" | did you mean `8 3/8`?
    boards.csv, line 2, thickness `4-May`: it can't be read as a thickness: it is a date, which a spreadsheet made of 5/4 | quarters such as 5/4, or a length such as 1 3/16 | before typing, format the column as text; or write an inch mark after the fraction, 5/4", which a spreadsheet leaves alone
    "#);
}

#[test]
fn a_metric_maker_meets_no_inch() {
    let boards = "board;length;width;thickness;tone\nB1;240 x;9 0;2,7,5;5\nB2;1,2;96 ells;;x\n\
                  B3;250000;1500;27;5\n";
    let files = files()
        .with(JOB_TOML, "units = \"mm\"\n")
        .with(BOARDS_CSV, boards)
        .with(
            FRONTS_CSV,
            "front;width;height;thickness\nD1;x;100;19\nD2;5000;100;19\n",
        );
    let text = faults(&files);
    for word in [" in ", "inch", "/8", "/4", " ft", "feet", "1/2"] {
        let meets = text.lines().filter(|line| line.contains(word));
        // "in brackets", "stands in": the word, not the unit.
        let meets: Vec<&str> = meets
            .filter(|line| word != " in " || line.contains("0 in "))
            .collect();
        assert!(meets.is_empty(), "{word}: {meets:?}");
    }
}

#[test]
fn a_price_per_cubic_metre_is_reckoned_with_per_litre() {
    let files = files()
        .with(JOB_TOML, "units = \"mm\"\n")
        .with(
            BOARDS_CSV,
            "board;length;width;thickness;tone;price\nB1;2400;200;27;5;2400,50\n",
        )
        .with(FRONTS_CSV, "front;width;height;thickness\nD1;400;100;19\n");
    assert_eq!(job(&files).boards[0].price, Some(2.4005));
}

fn with_done(rows: &str) -> JobFiles {
    with_boards("B1,96,7,4/4,5,1,,,\nP,96,7,4/4,5,3,,,\n")
        .with(DONE_CSV, format!("front,state,notes,board,copy,at\n{rows}"))
}

#[test]
fn a_crosscut_of_a_board_there_are_several_of_must_say_which() {
    insta::assert_snapshot!(faults(&with_done(",crosscut,,P,,20\n")), @"done.csv, line 2, copy: there are 3 of board P, and it does not say which of them was cut | a copy from 1 to 3 | with `mark`, say --copy");
    for row in [",crosscut,,P,2,20\n", ",crosscut,,B1,,20\n"] {
        assert_eq!(with_done(row).parse().unwrap().done.crosscuts.len(), 1);
    }
}

#[test]
fn a_row_anew_puts_aside_all_above_it() {
    let reading = with_done("D1,cut,\nGone,made,\n,crosscut,,B1,,20\n,anew,\n")
        .parse()
        .unwrap();
    assert!(reading.done.is_empty() && reading.done.anew);
    let reading = with_done("D1,cut,\n,anew,\nD1,spoiled,\n").parse().unwrap();
    assert_eq!(
        (reading.done.front(0).spoiled, reading.done.front(0).now),
        (1, None)
    );
}

#[test]
fn a_run_spelt_almost_like_another_is_a_warning() {
    insta::assert_snapshot!(warnings(&with_fronts(
        "A,9,6,3/4,top row\nB,9,6,3/4,top row\nC,9,6,3/4,Top-row\nD,9,6,3/4,top row 2\n"
    )));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_it_panic(
        toml in proptest::collection::vec(any::<u8>(), 0..80),
        boards in proptest::collection::vec(any::<u8>(), 0..120),
        fronts in proptest::collection::vec(any::<u8>(), 0..120),
    ) {
        let files = files().with(JOB_TOML, toml).with(BOARDS_CSV, boards.clone()).with(FRONTS_CSV, fronts);
        let _ = files.with(DEFECTS_CSV, boards).parse();
    }

    #[test]
    fn no_near_tables_make_it_panic(
        boards in "(B1|B2|96|7 1/2|4/4|dark|[,;\n\"'-]|2){0,60}",
        defects in "(B1|B2|knot|96|1|0|up|[,\n\"-]){0,60}",
        fronts in "(A|B|20|6|3/4|top|arch|vertical|[,\n\"-]|2){0,80}",
    ) {
        let boards = format!("board,length,width,thickness,tone,count\n{boards}");
        let files = with_defects(&defects).with(BOARDS_CSV, boards);
        let header = "front,width,height,thickness,run,place,count,shape,rise";
        let files = files.with(FRONTS_CSV, format!("{header}\n{fronts}"));
        if let Err(faults) = files.parse() {
            for fault in &faults {
                let _ = format!("{:?}", miette::Report::new(fault.shown()));
            }
        }
    }

    #[test]
    fn every_front_is_in_exactly_one_run(
        rows in proptest::collection::vec((0usize..4, 1u32..4), 1..9)
    ) {
        let rows: String = rows.iter().enumerate().map(|(row, (run, count))| {
            let run = ["", "r1", "r2", "r3"][*run];
            format!("F{row},9,5,3/4,{run},,,{count}\n")
        }).collect();
        let job = job(&with_fronts(&rows));
        let mut seen: Vec<usize> = job.runs.iter().flat_map(|run| run.fronts.clone()).collect();
        seen.sort_unstable();
        prop_assert_eq!(seen, (0..job.fronts.len()).collect::<Vec<_>>());
    }
}

#[test]
fn a_board_left_out_and_trims_of_its_own_are_read() {
    let rows = "board,length,width,thickness,tone,use,trim_hook,trim_far\n\
                B1,96,6,4/4,5,no,0,1 1/2\nB2,96,6,4/4,5,yes\nB3,96,6,4/4,5\n";
    let job = job(&files().with(BOARDS_CSV, rows));
    let left_out = job.boards.iter().map(|board| board.left_out);
    assert_eq!(left_out.collect::<Vec<_>>(), [true, false, false]);
    let allowances = &job.settings.allowances;
    let inches = Length::from_inches;
    assert_eq!(job.boards[0].trims(allowances), [inches(0.0), inches(1.5)]);
    assert_eq!(job.boards[1].trims(allowances), [inches(2.0), inches(2.0)]);
    assert_eq!(job.boards[0].clear_length(allowances), inches(94.5));
}

#[test]
fn several_boards_may_be_asked_for_or_barred() {
    let rows = "front,width,height,thickness,board,not_board,run,reads\n\
                D1,20,6,7/8,B1 | B2,,top,alike\nD2,20,6,7/8,,B1,top,alike\nD3,20,6,7/8,B1\n";
    let job = job(&files().with(FRONTS_CSV, rows));
    assert_eq!(job.fronts[0].boards, ["B1", "B2"]);
    assert_eq!(job.fronts[1].not_boards, ["B1"]);
    let may =
        |front: usize| [0, 1].map(|board| job.fronts[front].may_come_from(&job.boards[board]));
    assert_eq!(
        [0, 1, 2].map(may),
        [[true, true], [false, true], [true, false]]
    );
    assert_eq!(
        [0, 1, 2].map(|front| job.fronts[front].alike),
        [true, true, false]
    );
}

#[test]
fn what_is_wrong_with_boards_asked_for_and_ways_to_read_is_told() {
    let rows = "front,width,height,thickness,board,not_board,run,reads\n\
                D1,20,6,7/8,B1|B9,B1,top,alike\nD2,20,6,7/8,,B3,top,thorough\nD3,20,6,7/8,,,top,through\n";
    insta::assert_snapshot!(faults(&files().with(FRONTS_CSV, rows)));
}

#[test]
fn what_is_wrong_with_use_and_trims_is_told() {
    let rows = "board,length,width,thickness,tone,use,trim_hook\nB1,96,6,4/4,5,maybe,-1\n";
    insta::assert_snapshot!(faults(&files().with(BOARDS_CSV, rows)));
}

#[test]
fn a_front_that_no_board_is_left_for_is_told() {
    let files = files()
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone,use\nB1,96,8,5/4,5,no\nB2,96,8,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            "front,width,height,thickness,board\nD1,20,6,7/8,B1\nD2,20,6,7/8,\n",
        );
    insta::assert_snapshot!(warnings(&files));
}

#[test]
fn a_front_wider_than_the_machines_take_is_told() {
    let files = files().with(JOB_TOML, "[machines]\nwidest = \"6\"\n");
    insta::assert_snapshot!(warnings(&files));
}
