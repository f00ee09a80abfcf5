//! Changes against a model that knows nothing of files: lists of rows, changed the plain way.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use rand::seq::IndexedRandom;
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use tempfile::TempDir;

use super::*;
use crate::job::{Grid, columns_of};

const BOARDS: &str = "# the pile\r\nboard;length;width;thickness;tone;notes\r\nB1;96;7 1/2;4/4;medium;\"a; b\"\r\n\r\n# below: bought\r\nB2;84;6;5/4;dark;\r\n";
const FRONTS: &str =
    "front,width,height,thickness,run\n# top row\n1a,12,5,3/4,top\n1b,12,5,3/4,top\n";

fn job() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join(BOARDS_CSV), BOARDS).unwrap();
    fs::write(folder.path().join(FRONTS_CSV), FRONTS).unwrap();
    fs::write(folder.path().join(JOB_TOML), "title = \"A\" # mine\n").unwrap();
    folder
}

fn text(folder: &Path, file: &str) -> String {
    fs::read_to_string(folder.join(file)).unwrap()
}

fn set(file: &str, row: u64, column: &str, value: &str, was: &str) -> Change {
    Change::Set {
        file: file.to_owned(),
        row,
        column: column.to_owned(),
        value: value.to_owned(),
        was: was.to_owned(),
    }
}

fn ids(desk: &Desk, file: &str) -> Vec<u64> {
    desk.paper(file).unwrap().rows.clone()
}

#[test]
fn a_cell_changes_and_every_other_byte_stays() {
    let folder = job();
    let mut desk = Desk::open(folder.path()).unwrap();
    let rows = ids(&desk, BOARDS_CSV);
    desk.change("", "", &[set(BOARDS_CSV, rows[1], "width", "6 1/4", "6")])
        .unwrap();
    let expected = BOARDS.replace("84;6;", "84;6 1/4;");
    assert_eq!(text(folder.path(), BOARDS_CSV), expected);
    assert_eq!(text(folder.path(), "boards.csv.bak"), BOARDS);
}

#[test]
fn what_somebody_else_changed_is_kept_and_the_same_cell_is_asked_about() {
    let folder = job();
    let mut desk = Desk::open(folder.path()).unwrap();
    let rows = ids(&desk, BOARDS_CSV);
    let theirs = BOARDS
        .replace("84;6;", "84;9;")
        .replace("B1;", "B0;10;10;4/4;5;\r\nB1;");
    fs::write(folder.path().join(BOARDS_CSV), &theirs).unwrap();
    desk.change("", "", &[set(BOARDS_CSV, rows[0], "length", "97", "96")])
        .unwrap();
    let both = theirs.replace("B1;96;", "B1;97;");
    assert_eq!(text(folder.path(), BOARDS_CSV), both);
    let clash = desk.change("", "", &[set(BOARDS_CSV, rows[1], "width", "7", "6")]);
    let Err(Refused::Clash(clash)) = clash else {
        panic!("{clash:?}");
    };
    assert_eq!((clash.theirs.as_str(), clash.yours.as_str()), ("9", "7"));
    assert_eq!(text(folder.path(), BOARDS_CSV), both);
}

#[test]
fn a_new_name_is_taken_up_wherever_the_old_one_stood() {
    let folder = job();
    fs::write(
        folder.path().join("wishes.csv"),
        "wish\n1a=B2\nB1=out\ntop=B2\n",
    )
    .unwrap();
    let mut desk = Desk::open(folder.path()).unwrap();
    let rows = ids(&desk, BOARDS_CSV);
    desk.change("", "", &[set(BOARDS_CSV, rows[1], "board", "K2", "B2")])
        .unwrap();
    assert_eq!(
        text(folder.path(), "wishes.csv"),
        "wish\n1a=K2\nB1=out\ntop=K2\n"
    );
}

#[test]
fn steps_are_taken_back_and_done_again_after_the_program_was_started_anew() {
    let folder = job();
    let mut desk = Desk::open(folder.path()).unwrap();
    let rows = ids(&desk, FRONTS_CSV);
    for (width, was) in [("1", "12"), ("13", "1")] {
        let change = set(FRONTS_CSV, rows[0], "width", width, was);
        desk.change("1a wider", "typing", &[change]).unwrap();
    }
    let title = Change::Key {
        section: String::new(),
        key: "title".to_owned(),
        value: "B".to_owned(),
    };
    desk.change("title", "", &[title]).unwrap();
    assert_eq!(text(folder.path(), JOB_TOML), "title = \"B\" # mine\n");
    drop(desk);
    let mut desk = Desk::open(folder.path()).unwrap();
    assert_eq!(desk.next_steps(), (Some("title"), None));
    desk.undo(false).unwrap();
    assert_eq!(text(folder.path(), JOB_TOML), "title = \"A\" # mine\n");
    // What was typed into one cell goes in one step.
    desk.undo(false).unwrap();
    assert_eq!(text(folder.path(), FRONTS_CSV), FRONTS);
    drop(desk);
    let mut desk = Desk::open(folder.path()).unwrap();
    assert!(matches!(desk.undo(false), Err(Refused::Nothing)));
    desk.undo(true).unwrap();
    assert!(text(folder.path(), FRONTS_CSV).contains("1a,13,"));
    desk.undo(true).unwrap();
    assert_eq!(text(folder.path(), JOB_TOML), "title = \"B\" # mine\n");
}

#[test]
fn a_file_that_the_page_began_goes_again_when_that_is_taken_back() {
    let folder = job();
    let mut desk = Desk::open(folder.path()).unwrap();
    let wish = Change::Wish {
        keep: vec!["1a=B1".to_owned()],
        drop: Vec::new(),
    };
    desk.change("", "", &[wish]).unwrap();
    assert_eq!(text(folder.path(), WISHES_CSV), "wish,notes\n1a=B1,\n");
    desk.undo(false).unwrap();
    assert!(!folder.path().join(WISHES_CSV).exists());
}

#[test]
fn what_was_noted_and_not_written_is_written_when_the_job_is_opened_again() {
    let folder = job();
    let mut desk = Desk::open(folder.path()).unwrap();
    let rows = ids(&desk, FRONTS_CSV);
    desk.change("", "", &[set(FRONTS_CSV, rows[1], "run", "low", "top")])
        .unwrap();
    let after = text(folder.path(), FRONTS_CSV);
    drop(desk);
    // As if the program had been killed between noting and writing.
    fs::write(folder.path().join(FRONTS_CSV), FRONTS).unwrap();
    drop(Desk::open(folder.path()).unwrap());
    assert_eq!(text(folder.path(), FRONTS_CSV), after);
    // A file that is neither what it was nor what it was to be is left alone.
    fs::write(folder.path().join(FRONTS_CSV), "front,width\n").unwrap();
    let mut desk = Desk::open(folder.path()).unwrap();
    assert_eq!(text(folder.path(), FRONTS_CSV), "front,width\n");
    assert!(matches!(desk.undo(false), Err(Refused::Nothing)));
}

#[test]
fn a_row_of_which_the_last_word_goes_is_gone() {
    let folder = job();
    fs::write(
        folder.path().join(WISHES_CSV),
        "wish,notes\n1a=B1,\n1b=B2,\n",
    )
    .unwrap();
    let mut desk = Desk::open(folder.path()).unwrap();
    let rows = ids(&desk, WISHES_CSV);
    desk.change("", "", &[set(WISHES_CSV, rows[0], "wish", "", "1a=B1")])
        .unwrap();
    assert_eq!(ids(&desk, WISHES_CSV), rows[1..]);
    let grid = desk.paper(WISHES_CSV).unwrap().grid().unwrap();
    assert_eq!(grid.cell(0, "wish"), "1b=B2");
}

/// What a maker, or somebody who means no good, may type.
const WORDS: [&str; 14] = [
    "96",
    "7 1/2",
    "4/4",
    "dark",
    "",
    "a;b",
    "a,b",
    "\"",
    "<b>",
    "=1+1",
    "#",
    "'x",
    "½ é",
    "two\nlines",
];

/// The rows of a table as a list: numbers and cells by column.
type Model = Vec<(u64, BTreeMap<&'static str, String>)>;

fn model_of(desk: &Desk, file: &str) -> Model {
    let paper = desk.paper(file).unwrap();
    let grid = paper.grid().unwrap();
    let columns: Vec<&str> = columns_of(file).unwrap().all().collect();
    let row = |at: usize| {
        let cells = columns
            .iter()
            .map(|column| (*column, grid.cell(at, column).to_owned()));
        cells.filter(|(_, cell)| !cell.is_empty()).collect()
    };
    (0..grid.rows.len())
        .map(|at| (paper.rows[at], row(at)))
        .collect()
}

fn shown(word: &str) -> String {
    word.replace('\n', " ").trim().to_owned()
}

/// One random change, made in both.
fn change(random: &mut Pcg64Mcg, desk: &mut Desk, model: &mut Model, file: &'static str) {
    // Names are left alone: what renaming does elsewhere has tests of its own.
    let columns: Vec<&'static str> = columns_of(file).unwrap().all().skip(1).collect();
    let column = *columns.choose(random).unwrap();
    let word = *WORDS.choose(random).unwrap();
    let at = random.random_range(0..model.len().max(1));
    let other = random.random_range(0..=model.len());
    let what = match model.len() {
        // A pile of that many boards is large.
        61.. => 2,
        _ => random.random_range(0..10),
    };
    match what {
        0 | 1 => {
            let name = format!("N{}", random.next_u32());
            let first = columns_of(file).unwrap().all().next().unwrap();
            let mut cells = BTreeMap::from([(first, name), (column, shown(word))]);
            cells.retain(|_, cell| !cell.is_empty());
            let before = model.get(other).map(|(id, _)| *id);
            let named = cells.iter().map(|(c, v)| ((*c).to_owned(), v.clone()));
            let add = Change::Add {
                file: file.to_owned(),
                before,
                cells: named.collect(),
            };
            let added = desk.change("", "", &[add]).unwrap().added[0];
            model.insert(other, (added, cells));
        }
        2 if !model.is_empty() => {
            let (row, _) = model.remove(at);
            let file = file.to_owned();
            desk.change("", "", &[Change::Remove { file, row }])
                .unwrap();
        }
        3 if !model.is_empty() => {
            let row = model.remove(at);
            let to = other.min(model.len());
            let before = model.get(to).map(|(id, _)| *id);
            model.insert(to, row.clone());
            let file = file.to_owned();
            let row = row.0;
            desk.change("", "", &[Change::Move { file, row, before }])
                .unwrap();
        }
        _ if !model.is_empty() => {
            let (row, cells) = &mut model[at];
            let was = cells.get(column).cloned().unwrap_or_default();
            desk.change("", "", &[set(file, *row, column, word, &was)])
                .unwrap();
            match shown(word) {
                empty if empty.is_empty() => cells.remove(column),
                word => cells.insert(column, word),
            };
        }
        _ => {}
    }
}

fn soak(changes: usize, seed: u64) {
    let folder = job();
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    let mut desk = Desk::open(folder.path()).unwrap();
    let mut models: BTreeMap<&'static str, Model> = BTreeMap::new();
    for file in [BOARDS_CSV, FRONTS_CSV, DEFECTS_CSV] {
        models.insert(file, model_of(&desk, file));
    }
    for number in 0..changes {
        let file = *[BOARDS_CSV, FRONTS_CSV, DEFECTS_CSV]
            .choose(&mut random)
            .unwrap();
        let model = models.get_mut(file).unwrap();
        change(&mut random, &mut desk, model, file);
        assert_eq!(
            &model_of(&desk, file),
            model,
            "{file} after change {number}"
        );
        // The file is what the page shows, with the maker's comments.
        let written = fs::read_to_string(folder.path().join(file)).unwrap_or_default();
        assert_eq!(desk.paper(file).unwrap().text().unwrap_or(""), written);
        let grid = Grid::read(&written, &columns_of(file).unwrap());
        assert_eq!(grid.rows.len(), model.len());
        if number % 97 == 0 {
            // Started anew: rows have other numbers, and say the same.
            desk = Desk::open(folder.path()).unwrap();
            for (file, model) in &mut models {
                let read = model_of(&desk, file);
                let cells = |m: &Model| m.iter().map(|(_, c)| c.clone()).collect::<Vec<_>>();
                assert_eq!(cells(&read), cells(model), "{file}");
                *model = read;
            }
        }
    }
    assert!(text(folder.path(), BOARDS_CSV).contains("# below: bought\r\n"));
    let last: Vec<String> = [BOARDS_CSV, FRONTS_CSV]
        .map(|file| text(folder.path(), file))
        .to_vec();
    let mut back = 0;
    while back < 500 && desk.undo(false).is_ok() {
        back += 1;
    }
    if changes < 500 {
        assert_eq!(text(folder.path(), BOARDS_CSV), BOARDS);
        assert_eq!(text(folder.path(), FRONTS_CSV), FRONTS);
    }
    for _ in 0..back {
        desk.undo(true).unwrap();
    }
    let again: Vec<String> = [BOARDS_CSV, FRONTS_CSV]
        .map(|file| text(folder.path(), file))
        .to_vec();
    assert_eq!(again, last);
}

#[test]
fn random_changes_leave_the_files_as_a_model_has_them() {
    soak(300, 1);
}

#[test]
#[ignore = "10 000 changes, each written to the disk: a minute or more"]
fn ten_thousand_random_changes_leave_the_files_as_a_model_has_them() {
    soak(10_000, 2);
}
