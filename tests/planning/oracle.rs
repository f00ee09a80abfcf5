//! Tiny jobs against an exact method that shares nothing with the optimiser: `tests/reference/oracle.py` tries
//! every place of each job's own grid, from the rules of cutting alone. `store.py` wrote what it found.

use std::time::Duration;

use grainrow::job::{BOARDS_CSV, DEFECTS_CSV, FRONTS_CSV, JOB_TOML, Job, JobFiles};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::Volume;
use grainrow::plan::{Limits, Plan, check};
use grainrow::ways;
use serde::Deserialize;

/// Both count in floating point.
const NEAR: f64 = 1e-6;
/// More than any of these jobs takes: one that is not proved by then fails rather than hangs.
const PATIENCE: Duration = Duration::from_secs(120);

#[derive(Deserialize)]
struct File {
    lines: Vec<String>,
    jobs: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    name: String,
    /// Lines of job.toml, boards.csv, fronts.csv and defects.csv.
    files: [Vec<usize>; 4],
    words: Vec<String>,
    area: f64,
    /// Nothing where no plan of that area keeps the limits.
    cost: Option<f64>,
    several: bool,
    test: bool,
}

impl File {
    fn read() -> File {
        serde_json::from_str(include_str!("../reference/oracle.json"))
            .expect("as store.py writes it")
    }

    /// The job; nothing where a reader refuses it, as it does one with a defect off its board.
    fn job(&self, row: &Row) -> Option<Job> {
        let names = [JOB_TOML, BOARDS_CSV, FRONTS_CSV, DEFECTS_CSV];
        let mut files = JobFiles::new();
        for (name, lines) in names.into_iter().zip(&row.files) {
            if !lines.is_empty() {
                let text: String = lines
                    .iter()
                    .map(|&line| self.lines[line].clone() + "\n")
                    .collect();
                files = files.with(name, text);
            }
        }
        files.parse().ok().map(|reading| reading.job)
    }
}

impl Row {
    fn request(&self) -> Request {
        let value = |name: &str| {
            let at = self.words.iter().position(|word| word == name)?;
            self.words.get(at + 1)
        };
        let number = |name: &str| value(name).map(|word| word.parse().expect("a number"));
        let unbroken = self
            .words
            .iter()
            .any(|word| word == "--unbroken")
            .then_some(0);
        Request {
            time: Some(PATIENCE),
            threads: 1,
            by_money: value("--by").is_some(),
            limits: Limits {
                most_breaks: number("--most-breaks")
                    .map(|most: f64| most as usize)
                    .or(unbroken),
                most_feet: number("--most-feet")
                    .or(number("--most-litres"))
                    .map(Volume::new),
                tone_within: number("--tone-within"),
            },
            ..Request::default()
        }
    }

    /// What the plan and the oracle differ in, if they do.
    fn contradiction(&self, job: &Job) -> Option<String> {
        let request = self.request();
        let plan = layout::plan(job, &request, &Silent);
        let kept = request.limits.kept_by(&plan.totals);
        let Some(cost) = self.cost else {
            let all = (area_made(job, &plan) - self.area).abs() < NEAR;
            let refused = || !ways::nearest(job, &request, &plan, request.time, &Silent).is_empty();
            return (kept && (all || !refused()))
                .then(|| "a plan within limits that none keeps".to_owned());
        };
        if let Err(faults) = check(job, &plan, request.by_money, &request.limits) {
            return Some(format!("{faults:?}"));
        }
        let area = area_made(job, &plan);
        let totals = &plan.totals;
        let same = (area - self.area).abs() < NEAR && (totals.cost - cost).abs() < NEAR;
        (!same || !totals.proved).then(|| {
            let (found, proved) = (totals.cost, totals.proved);
            format!(
                "{area} at {found}, proved: {proved}; best is {} at {cost}",
                self.area
            )
        })
    }
}

/// Finished area of the fronts made, in the job's own unit squared.
fn area_made(job: &Job, plan: &Plan) -> f64 {
    let unit = job.settings.unit;
    let made = |front: &usize| plan.not_made.iter().all(|not| not.front != *front);
    let area = |front: usize| {
        let front = &job.fronts[front];
        front.width.in_unit(unit) * front.height.in_unit(unit)
    };
    (0..job.fronts.len()).filter(made).map(area).sum()
}

/// What contradicts, and how many jobs were planned.
fn contradictions(rows: &[&Row], file: &File) -> (Vec<String>, usize) {
    let looked_at = crate::common::side_by_side::each(rows.len(), |nth| {
        let row = rows[nth];
        let found = row.contradiction(&file.job(row)?);
        Some(found.map(|said| format!("{}: {said}", row.name)))
    });
    let planned: Vec<Option<String>> = looked_at.into_iter().flatten().collect();
    let count = planned.len();
    (planned.into_iter().flatten().collect(), count)
}

#[test]
fn proved_plans_cost_what_the_oracle_finds() {
    let file = File::read();
    let rows: Vec<&Row> = file.jobs.iter().filter(|row| row.test).collect();
    let several = rows.iter().filter(|row| row.several).count();
    assert!(rows.len() >= 500, "{} jobs", rows.len());
    assert!(
        several * 2 >= rows.len(),
        "{several} of {} with several pieces",
        rows.len()
    );
    let (found, planned) = contradictions(&rows, &file);
    assert!(
        planned * 50 >= rows.len() * 49,
        "{planned} of {} read",
        rows.len()
    );
    assert!(found.is_empty(), "{}:\n{}", found.len(), found.join("\n"));
}

/// All that are stored: `cargo test --release --test planning oracle -- --ignored`.
#[test]
#[ignore = "takes minutes"]
fn all_proved_plans_cost_what_the_oracle_finds() {
    let file = File::read();
    let rows: Vec<&Row> = file.jobs.iter().collect();
    assert!(rows.len() >= 2500, "{} jobs", rows.len());
    let (found, planned) = contradictions(&rows, &file);
    assert!(
        planned * 50 >= rows.len() * 49,
        "{planned} of {} read",
        rows.len()
    );
    assert!(found.is_empty(), "{}:\n{}", found.len(), found.join("\n"));
}
