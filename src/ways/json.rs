//! `ways.json`: the choice for other programs.

use serde::Serialize;
use serde_json::Value;

use super::{Step, Way, Ways};
use crate::job::{Job, Worth};
use crate::measure::volume_names;
use crate::plan;

#[derive(Serialize)]
struct File {
    format: u32,
    chosen: usize,
    complete: bool,
    ways: Vec<Row>,
}

#[derive(Serialize)]
struct Row {
    way: usize,
    folder: String,
    totals: Value,
    best_for: BestFor,
    step: Option<StepRow>,
}

#[derive(Serialize)]
struct BestFor {
    unbroken: f64,
    tone_run: f64,
    tone_case: f64,
    gap: f64,
    proved: bool,
}

#[derive(Serialize)]
struct StepRow {
    #[serde(flatten)]
    step: Step,
    words: String,
}

impl Ways {
    /// The ways as `ways.json`; each plan is in the `plan.json` of its folder, and its totals are
    /// those of that file.
    pub fn to_json(&self, job: &Job) -> String {
        let file = File {
            format: 1,
            chosen: self.chosen + 1,
            complete: self.complete,
            ways: self
                .ways
                .iter()
                .enumerate()
                .map(|(index, way)| row(job, index, way))
                .collect(),
        };
        let text = serde_json::to_string_pretty(&file).unwrap_or_default();
        volume_names(job.settings.unit, &text) + "\n"
    }
}

fn row(job: &Job, index: usize, way: &Way) -> Row {
    let plan: Value = serde_json::from_str(&plan::to_json(job, &way.plan)).unwrap_or_default();
    let Worth {
        unbroken,
        tone_run,
        tone_case,
        ..
    } = way.best_for;
    Row {
        way: index + 1,
        folder: Ways::folder(index),
        totals: plan["totals"].clone(),
        best_for: BestFor {
            unbroken,
            tone_run,
            tone_case,
            gap: way.gap,
            proved: way.proved,
        },
        step: way.step.map(|step| StepRow {
            words: step.in_words(job.settings.unit),
            step,
        }),
    }
}
