use super::*;
use crate::job::{BOARDS_CSV, DEFECTS_CSV, DONE_CSV, FRONTS_CSV, JOB_TOML, JobFiles};

fn knot(edges: [&str; 4]) -> DefectMark {
    DefectMark {
        board: "B3".to_owned(),
        copy: None,
        kind: DefectKind::Knot,
        edges: edges.map(str::to_owned),
        side: DefectSide::Both,
        notes: String::new(),
    }
}

#[test]
fn a_new_file_gets_a_header_and_a_row() {
    let text = mark_front("", "D1", Some(Finished::Cut), "");
    assert_eq!(text, "front,state,notes\nD1,cut,\n");
}

#[test]
fn a_blank_is_cut_then_made_in_one_row_and_a_spoiled_row_stays() {
    let mut text = "# mine\nFront;State;Notes\r\n\r\nD2 ; cut ;nice\r\n# end".to_owned();
    text = mark_front(&text, "D2", Some(Finished::Made), "");
    assert_eq!(
        text,
        "# mine\nFront;State;Notes\r\n\r\nD2 ; made ;nice\r\n# end"
    );
    text = mark_front(&text, "D2", None, "tear-out; deep");
    text = mark_front(&text, "D2", Some(Finished::Cut), "");
    assert_eq!(
        text,
        "# mine\nFront;State;Notes\r\n\r\nD2 ; spoiled ;\"tear-out; deep\"\r\n# end\r\nD2;cut;"
            .to_owned()
            + "\r\n"
    );
}

#[test]
fn a_defect_is_written_in_the_numbers_of_its_file() {
    let style = |rows: &str, edges| {
        let text = format!("board,kind,from,to,low,high,side\n{rows}");
        let changed = mark_defect(&text, &knot(edges), Unit::Inch);
        changed.strip_prefix(&text).unwrap().trim_end().to_owned()
    };
    let edges = ["30 1/2", "34", "2", "4.25"];
    assert_eq!(
        style("A,knot,1,2 1/4,3,4,\n", edges),
        "B3,knot,30 1/2,34,2,4 1/4,"
    );
    assert_eq!(
        style("A,knot,1,2-1/4,3,4,\n", edges),
        "B3,knot,30-1/2,34,2,4-1/4,"
    );
    assert_eq!(
        style("A,knot,1.5,2.25,3,4,\n", edges),
        "B3,knot,30.5,34,2,4.25,"
    );
    assert_eq!(
        style("A,knot,1\",2 1/4\",3\",4\",\n", edges),
        "B3,knot,30 1/2\",34\",2\",4 1/4\","
    );
    assert_eq!(style("", edges), "B3,knot,30 1/2,34,2,4.25,");
    // 30.3 in is no fraction down to 64ths: it stays as typed.
    assert_eq!(
        style("A,knot,1,2 1/4,3,4,\n", ["30.3", "34", "2", "4"]),
        "B3,knot,30.3,34,2,4,"
    );
}

#[test]
fn a_side_not_in_the_header_gets_its_column() {
    let mark = DefectMark {
        side: DefectSide::Down,
        copy: Some(2),
        notes: "found late".to_owned(),
        ..knot(["1", "2", "3", "4"])
    };
    let text = mark_defect(
        "board,kind,from,to,low,high\nA,knot,1,2,3,4",
        &mark,
        Unit::Inch,
    );
    assert_eq!(
        text,
        "board,kind,from,to,low,high,copy,notes,side\nA,knot,1,2,3,4\nB3,knot,1,2,3,4,2,found late,down\n"
    );
}

#[test]
fn what_is_marked_is_read_back() {
    let done = mark_front("", "D1", None, "a, \"b\"");
    let done = mark_front(&done, "D1", Some(Finished::Made), "");
    let done = mark_crosscut(&done, "B3", None, "80 3/8", Unit::Inch, "");
    let reading = JobFiles::new()
        .with(JOB_TOML, "")
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB3,120,8,4/4,5\n",
        )
        .with(
            DEFECTS_CSV,
            mark_defect("", &knot(["30", "34", "2", "4"]), Unit::Inch),
        )
        .with(FRONTS_CSV, "front,width,height,thickness\nD1,20,6,3/4\n")
        .with(DONE_CSV, done)
        .parse()
        .unwrap();
    let front = reading.done.front(0);
    assert_eq!((front.now, front.spoiled), (Some(Finished::Made), 1));
    assert_eq!(reading.done.crosscuts[0].at.inches(), 80.375);
    assert_eq!(reading.job.boards[0].defects.len(), 1);
}

#[test]
fn slips_in_done_csv_are_told_at_their_place() {
    let files = JobFiles::new()
        .with(JOB_TOML, "")
        .with(BOARDS_CSV, "board,length,width,thickness,tone\nB3,120,8,4/4,5\n")
        .with(FRONTS_CSV, "front,width,height,thickness\nD1,20,6,3/4\n")
        .with(
            DONE_CSV,
            "front,state,board,at\nD9,made\nD1,maed\nD1,made\nD1,cut\n,crosscut,B4,5\n,crosscut,B3,130\n",
        );
    let faults = files.parse().unwrap_err();
    let lines: Vec<Option<usize>> = faults.iter().map(|f| f.place.line()).collect();
    assert_eq!(lines, [2, 3, 5, 6, 7].map(Some), "{faults}");
}

#[test]
fn marks_put_aside_are_never_changed_and_can_be_brought_back() {
    let before = "# mine\nfront,state,notes\nD1,cut,nice\n";
    let aside = mark_anew(before, "planned anew");
    assert_eq!(aside, format!("{before},anew,planned anew\n"));
    // The same front again: a row of its own below.
    let again = mark_front(&aside, "D1", Some(Finished::Cut), "");
    assert_eq!(again, format!("{aside}D1,cut,\n"));
    let made = mark_front(&again, "D1", Some(Finished::Made), "");
    assert_eq!(made, format!("{aside}D1,made,\n"));
    assert_eq!(unmark_anew(&aside), before);
    assert_eq!(unmark_anew(before), before);
    let windows = "front,state\r\nD1,cut\r\n,anew\r\nD2,cut\r\n";
    assert_eq!(unmark_anew(windows), "front,state\r\nD1,cut\r\nD2,cut\r\n");
}
