//! The jobs and optima that `tests/reference/solve.py` wrote.

use std::fs;
use std::path::PathBuf;

use grainrow::job::{
    Allowances, Between, Board, Defect, DefectKind, DefectSide, Front, Glue, Job, Run, Settings,
    Worth,
};
use grainrow::measure::{Length, Tone};
use serde::Deserialize;

/// A job and what a general solver found for it.
pub struct Reference {
    pub name: String,
    pub job: Job,
    /// Least cost in board feet.
    pub cost: f64,
    /// Seconds the general solver took to prove it.
    pub seconds: f64,
}

#[derive(Deserialize)]
struct File {
    jobs: Vec<JobRow>,
}

#[derive(Deserialize)]
struct JobRow {
    name: String,
    allowances: AllowancesRow,
    worth: WorthRow,
    boards: Vec<BoardRow>,
    fronts: Vec<FrontRow>,
    expected: Expected,
}

#[derive(Deserialize)]
struct Expected {
    proved: bool,
    cost: Option<f64>,
    seconds: f64,
}

#[derive(Deserialize)]
struct AllowancesRow {
    crosscut_kerf: f64,
    rip_kerf: f64,
    end_trim: f64,
    edge_trim: f64,
    rough_length: f64,
    rough_width: f64,
    plane: f64,
    clear: f64,
    longest_skip: f64,
    shortest_safe: f64,
    keep_offcut: f64,
    keep_width: f64,
}

#[derive(Deserialize)]
struct WorthRow {
    unbroken: f64,
    tone_run: f64,
    tone_case: f64,
    glue_line: f64,
}

#[derive(Deserialize)]
struct BoardRow {
    board: String,
    length: f64,
    width: f64,
    quarters: f64,
    tone: f64,
    bow: f64,
    cup: f64,
    twist: f64,
    defects: Vec<DefectRow>,
}

#[derive(Deserialize)]
struct DefectRow {
    from: f64,
    to: f64,
    low: f64,
    high: f64,
    side: DefectSide,
}

#[derive(Deserialize)]
struct FrontRow {
    front: String,
    run: String,
    width: f64,
    height: f64,
    thickness: f64,
}

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

/// All jobs whose optimum the general solver proved.
pub fn references() -> Vec<Reference> {
    let mut path = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    path.push("tests/reference/expected.json");
    let text = fs::read_to_string(&path).expect("the expected values are part of the project");
    let file: File = serde_json::from_str(&text).expect("what solve.py writes");
    let proved = |row: &JobRow| row.expected.proved;
    let reference = |row: JobRow| Reference {
        job: job(&row),
        name: row.name,
        cost: row.expected.cost.expect("a proved job has a cost"),
        seconds: row.expected.seconds,
    };
    file.jobs
        .into_iter()
        .filter(proved)
        .map(reference)
        .collect()
}

fn job(row: &JobRow) -> Job {
    Job {
        settings: settings(row),
        boards: row.boards.iter().map(board).collect(),
        fronts: row.fronts.iter().map(front).collect(),
        runs: runs(&row.fronts),
        ..Job::default()
    }
}

fn settings(row: &JobRow) -> Settings {
    let allow = &row.allowances;
    Settings {
        title: row.name.clone(),
        allowances: Allowances {
            crosscut_kerf: inches(allow.crosscut_kerf),
            rip_kerf: inches(allow.rip_kerf),
            end_trim: inches(allow.end_trim),
            edge_trim: inches(allow.edge_trim),
            rough_length: inches(allow.rough_length),
            rough_width: inches(allow.rough_width),
            plane: inches(allow.plane),
            clear: inches(allow.clear),
            longest_skip: inches(allow.longest_skip),
            shortest_safe: inches(allow.shortest_safe),
            keep_offcut: Some(inches(allow.keep_offcut)),
            keep_width: inches(allow.keep_width),
            between: Between::Tight,
        },
        worth: Worth {
            unbroken: row.worth.unbroken,
            tone_run: row.worth.tone_run,
            tone_case: row.worth.tone_case,
            glue_line: row.worth.glue_line,
            owned: 0.0,
            ..Worth::default()
        },
        glue: Glue {
            allow: false,
            ..Glue::default()
        },
        ..Settings::default()
    }
}

fn board(row: &BoardRow) -> Board {
    let defect = |d: &DefectRow| Defect {
        kind: DefectKind::Knot,
        from: inches(d.from),
        to: inches(d.to),
        low: inches(d.low),
        high: inches(d.high),
        side: d.side,
        notes: String::new(),
    };
    Board {
        id: row.board.clone(),
        copies: vec![1],
        length: inches(row.length),
        width: inches(row.width),
        thickness: inches(row.quarters / 4.0),
        tone: Tone::new(row.tone).expect("a tone from 0 to 10"),
        bow: inches(row.bow),
        cup: inches(row.cup),
        twist: inches(row.twist),
        defects: row.defects.iter().map(defect).collect(),
        ..Board::default()
    }
}

fn front(row: &FrontRow) -> Front {
    Front {
        name: row.front.clone(),
        width: inches(row.width),
        height: inches(row.height),
        thickness: inches(row.thickness),
        ..Front::default()
    }
}

/// Fronts of a run follow one another in the file.
fn runs(rows: &[FrontRow]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        match runs.last_mut().filter(|run| run.name == row.run) {
            Some(run) => run.fronts.push(index),
            None => runs.push(Run {
                name: row.run.clone(),
                fronts: vec![index],
            }),
        }
    }
    runs
}
