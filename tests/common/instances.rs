//! Published cutting and packing instances as jobs; see `tests/data/bench/README.md`.

use std::fs;
use std::path::PathBuf;

use grainrow::job::{Allowances, Between, Board, Front, Glue, Job, Run, Settings, Worth};
use grainrow::measure::Length;
use grainrow::plan::Plan;
use serde::Deserialize;

/// A published instance: equal boards and the items to be cut from as few as can be.
#[derive(Clone, Debug)]
pub struct Instance {
    pub name: String,
    /// Length and width.
    pub board: (i64, i64),
    /// Length and width.
    pub items: Vec<(i64, i64)>,
    /// No cutting uses fewer boards.
    pub lower_bound: usize,
    /// The least number of boards, where it is known.
    pub optimum: Option<usize>,
}

#[derive(Deserialize)]
struct Lengths {
    name: String,
    board: i64,
    items: Vec<i64>,
    optimum: usize,
}

#[derive(Deserialize)]
struct Counts {
    name: String,
    board: i64,
    /// Length and count.
    items: Vec<(i64, usize)>,
    optimum: usize,
}

#[derive(Deserialize)]
struct Rectangles {
    name: String,
    board: (i64, i64),
    items: Vec<(i64, i64)>,
    computed_lower_bound: usize,
    published_lower_bound: Option<usize>,
}

fn read<Row: for<'de> Deserialize<'de>>(file: &str) -> Vec<Row> {
    let mut path = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    path.push("tests/data/bench");
    path.push(file);
    let text = fs::read_to_string(&path).expect("the instances are part of the project");
    serde_json::from_str(&text).expect("instances in the form described")
}

/// One-dimensional instances with known optimum.
pub fn one_dimensional() -> Vec<Instance> {
    let rows: Vec<Lengths> = read("one_dimensional.json");
    let instance = |row: Lengths| Instance {
        name: row.name,
        board: (row.board, 1),
        items: row.items.into_iter().map(|long| (long, 1)).collect(),
        lower_bound: row.optimum,
        optimum: Some(row.optimum),
    };
    rows.into_iter().map(instance).collect()
}

/// Textbook cutting stock examples with known optimum.
pub fn cutting_stock() -> Vec<Instance> {
    let rows: Vec<Counts> = read("cutting_stock.json");
    let instance = |row: Counts| Instance {
        name: row.name,
        board: (row.board, 1),
        items: row
            .items
            .into_iter()
            .flat_map(|(long, count)| vec![(long, 1); count])
            .collect(),
        lower_bound: row.optimum,
        optimum: Some(row.optimum),
    };
    rows.into_iter().map(instance).collect()
}

/// Two-dimensional bin packing instances, with the greater of their two lower bounds.
pub fn two_dimensional() -> Vec<Instance> {
    let rows: Vec<Rectangles> = read("two_dimensional.json");
    let instance = |row: Rectangles| Instance {
        name: row.name,
        board: row.board,
        items: row.items,
        lower_bound: row
            .published_lower_bound
            .unwrap_or(0)
            .max(row.computed_lower_bound),
        optimum: None,
    };
    rows.into_iter().map(instance).collect()
}

impl Instance {
    /// The instance as a job, one unit an inch: fronts that ask for nothing but their size, and
    /// as many equal boards as there are items.
    pub fn job(&self) -> Job {
        let inches = |whole: i64| Length::from_nm(whole * 25_400_000);
        let front = |(index, &(long, wide)): (usize, &(i64, i64))| Front {
            name: format!("{}", index + 1),
            width: inches(long),
            height: inches(wide),
            thickness: inches(1),
            ..Front::default()
        };
        let fronts: Vec<Front> = self.items.iter().enumerate().map(front).collect();
        let run = |(index, front): (usize, &Front)| Run {
            name: front.name.clone(),
            fronts: vec![index],
        };
        Job {
            settings: bare_settings(&self.name),
            boards: vec![Board {
                id: "board".to_owned(),
                copies: (1..=self.items.len() as u32).collect(),
                length: inches(self.board.0),
                width: inches(self.board.1),
                thickness: inches(1),
                ..Board::default()
            }],
            runs: fronts.iter().enumerate().map(run).collect(),
            fronts,
            ..Job::default()
        }
    }
}

/// No kerf, no trim, nothing kept, looks worth nothing.
fn bare_settings(title: &str) -> Settings {
    Settings {
        title: title.to_owned(),
        allowances: Allowances {
            crosscut_kerf: Length::ZERO,
            rip_kerf: Length::ZERO,
            end_trim: Length::ZERO,
            edge_trim: Length::ZERO,
            rough_length: Length::ZERO,
            rough_width: Length::ZERO,
            plane: Length::ZERO,
            clear: Length::ZERO,
            longest_skip: Length::ZERO,
            shortest_safe: Length::ZERO,
            keep_offcut: None,
            keep_width: Length::ZERO,
            between: Between::Tight,
        },
        worth: Worth {
            unbroken: 0.0,
            tone_run: 0.0,
            tone_case: 0.0,
            glue_line: 0.0,
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

/// Boards the plan's proven bound stands for: no plan uses fewer.
pub fn boards_by_bound(job: &Job, plan: &Plan) -> f64 {
    plan.totals.bound / job.boards[0].feet().value()
}
