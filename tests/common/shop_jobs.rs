//! Small invented jobs that ask something of the order of work, inches throughout.

use grainrow::job::{Board, Defect, DefectKind, DefectSide, Front, Job, Run};
use grainrow::measure::{Length, Tone};
use grainrow::plan::{Blank, BoardPlan, Kept, Plan, Section, Strip, totals};

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

fn board(id: &str, length: f64, width: f64, defects: Vec<Defect>) -> Board {
    Board {
        id: id.to_owned(),
        copies: vec![1],
        length: inches(length),
        width: inches(width),
        thickness: inches(1.0),
        tone: Tone::new(5.0).expect("a tone"),
        defects,
        ..Board::default()
    }
}

fn knot([from, to, low, high]: [f64; 4]) -> Defect {
    Defect {
        kind: DefectKind::Knot,
        from: inches(from),
        to: inches(to),
        low: inches(low),
        high: inches(high),
        side: DefectSide::Both,
        notes: String::new(),
    }
}

fn front(name: &str, width: f64, height: f64) -> Front {
    Front {
        name: name.to_owned(),
        width: inches(width),
        height: inches(height),
        thickness: inches(0.75),
        ..Front::default()
    }
}

/// `runs` of fronts by index; every other front is a run of its own.
fn job(boards: Vec<Board>, fronts: Vec<Front>, runs: &[&[usize]]) -> Job {
    let mut all: Vec<Run> = runs
        .iter()
        .enumerate()
        .map(|(i, run)| Run {
            name: format!("row {}", i + 1),
            fronts: run.to_vec(),
        })
        .collect();
    for (index, front) in fronts.iter().enumerate() {
        if !runs.iter().any(|run| run.contains(&index)) {
            all.push(Run {
                name: front.name.clone(),
                fronts: vec![index],
            });
        }
    }
    let mut job = Job {
        boards,
        fronts,
        runs: all,
        ..Job::default()
    };
    job.settings.fraction = 64;
    job
}

/// Fronts of 5 to 10 in: rows that hold together and single ones that need waste.
pub fn short_fronts() -> Job {
    let fronts = vec![
        front("A1", 5.5, 3.0),
        front("A2", 5.5, 3.0),
        front("A3", 5.5, 3.0),
        front("B1", 9.0, 4.0),
        front("B2", 9.0, 4.0),
        front("C", 7.0, 3.5),
        front("D", 6.0, 2.5),
    ];
    let boards = vec![
        board("W1", 60.0, 8.0, vec![knot([20.0, 21.0, 3.0, 4.0])]),
        board("W2", 40.0, 6.0, Vec::new()),
    ];
    job(boards, fronts, &[&[0, 1, 2], &[3, 4]])
}

fn blank(front: usize, along: [f64; 2], across: [f64; 2]) -> Blank {
    Blank {
        front,
        stave: 1,
        staves: 1,
        stretch: 1,
        from: inches(along[0]),
        to: inches(along[1]),
        low: inches(across[0]),
        high: inches(across[1]),
        left: Default::default(),
        face: Default::default(),
    }
}

fn strip(front: usize, along: [f64; 2], across: [f64; 2]) -> Strip {
    Strip {
        low: inches(across[0]),
        high: inches(across[1]),
        blanks: vec![blank(front, along, across)],
    }
}

/// One board, one section.
fn plan(job: &Job, along: [f64; 2], strips: Vec<Strip>, kept: Vec<Kept>) -> Plan {
    let section = Section {
        from: inches(along[0]),
        to: inches(along[1]),
        strips,
    };
    let mut plan = Plan {
        boards: vec![BoardPlan {
            board: 0,
            copy: 1,
            kept,
            sections: vec![section],
        }],
        ..Plan::default()
    };
    plan.totals = totals(job, &plan, false);
    plan
}

/// Knots at the near edge and between two strips: the first strip begins at 2, the second half an
/// inch past what the blade leaves of the first.
pub fn strips_with_gaps() -> (Job, Plan) {
    let knots = vec![knot([10.0, 12.0, 0.0, 1.5]), knot([8.0, 9.0, 7.375, 7.5])];
    let boards = vec![board("W1", 26.0, 13.0, knots)];
    let fronts = vec![front("D1", 20.0, 4.75), front("D2", 20.0, 4.0)];
    let job = job(boards, fronts, &[]);
    let along = [2.0, 23.0];
    let strips = vec![strip(0, along, [2.0, 7.0]), strip(1, along, [7.75, 12.0])];
    let plan = plan(&job, along, strips, Vec::new());
    (job, plan)
}

/// The second strip is wider than the first.
pub fn wider_strip_second() -> (Job, Plan) {
    let boards = vec![board("W1", 26.0, 10.0, Vec::new())];
    let fronts = vec![front("D1", 20.0, 2.75), front("D2", 20.0, 5.0)];
    let job = job(boards, fronts, &[]);
    let along = [2.0, 23.0];
    let strips = vec![
        strip(0, along, [0.125, 3.125]),
        strip(1, along, [3.25, 8.5]),
    ];
    let plan = plan(&job, along, strips, Vec::new());
    (job, plan)
}
