//! `estimate`: how much to buy, before the boards exist.

use std::path::{Path, PathBuf};

use super::disk::Real;
use super::shelf::Shelf;
use super::{Failure, Output, fit};
use crate::draw;
use crate::estimate::{self, Ask, Estimate, Lot, NoEstimate, Purchase, Watch};
use crate::job::{Job, Needs, read_plain};
use crate::measure::{Unit, volume_names};
use crate::packet::{self, Part};

/// The figures' file.
const JSON: &str = "estimate.json";

/// What to estimate, and where to write it.
#[derive(Clone, Debug, Default)]
pub struct EstimateOrder {
    /// The job's folder; it may lack a `boards.csv`.
    pub folder: PathBuf,
    /// The output folder; `out` in the job's folder when not given.
    pub out: Option<PathBuf>,
    /// What is asked.
    pub ask: Ask,
    /// Purchases to judge as the maker writes them, beside those of `ask`.
    pub have: Vec<String>,
}

/// An estimate that is written.
#[derive(Clone, Debug)]
pub struct Estimated {
    /// The job.
    pub job: Job,
    /// The estimate.
    pub estimate: Estimate,
    /// The output folder.
    pub out: PathBuf,
    /// The files in it.
    pub files: Vec<String>,
    /// The maker's own files that were in the way, by where they are now in the output folder.
    pub set_aside: Vec<String>,
}

/// Estimates what to buy, and writes the figures and the charts. A plan's files beside them are
/// left as they are.
///
/// # Errors
/// Any [`Failure`]; nothing is written unless all of it can be.
pub fn estimate(order: &EstimateOrder, watch: &dyn Watch) -> Result<Estimated, Failure> {
    let out = order
        .out
        .clone()
        .unwrap_or_else(|| order.folder.join("out"));
    let shelf = Shelf::open(&Real, &out, &order.folder)?;
    let (reading, _) = fit::read_fitted(&order.folder, Needs::Fronts)?;
    let job = reading.job;
    let mut ask = order.ask.clone();
    for written in &order.have {
        let unit = job.settings.unit;
        let purchase = Purchase::parse(written, unit).ok_or_else(|| Failure::NoPurchase {
            written: written.clone(),
            unit,
        })?;
        ask.have.push(purchase);
    }
    if let (true, size @ 1..) = (ask.look_through.is_empty(), job.settings.yard.look_through) {
        ask.look_through = vec![size as usize];
    }
    let estimate = estimate::estimate(&job, &ask, watch).map_err(|why| match why {
        NoEstimate::Obstacles(obstacles) => Failure::Obstacles(obstacles),
        NoEstimate::NoTrial => Failure::NoTrial,
    })?;
    let outputs = outputs(&job, &estimate);
    shelf.put_beside(&outputs)?;
    Ok(Estimated {
        files: outputs.into_iter().map(|(name, _)| name).collect(),
        job,
        estimate,
        set_aside: shelf.set_aside(),
        out: out.clone(),
    })
}

/// The packet's part for the estimate that was last written to `out`, if it was made for fronts
/// and a yard like these.
pub(super) fn part_of(job: &Job, out: &Path) -> Option<Part> {
    let bytes = read_plain(&out.join(JSON)).ok()?;
    let estimate: Estimate = serde_json::from_slice(&bytes).ok()?;
    let lots = estimate::lots(job).ok()?;
    let net: f64 = lots.iter().map(Lot::net).sum();
    let rough: f64 = lots.iter().map(Lot::rough).sum();
    let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let same = estimate.fronts == job.fronts.len()
        && near(estimate.net, net)
        && near(estimate.rough, rough)
        && estimate.yard == estimate::yard_in_words(&job.settings);
    same.then(|| packet::estimate_part(job, &estimate))
}

fn outputs(job: &Job, estimate: &Estimate) -> Vec<Output> {
    let json = serde_json::to_string_pretty(estimate).unwrap_or_default();
    let json = volume_names(estimate.unit, &json) + "\n";
    let need = match estimate.unit {
        Unit::Inch => "estimate-feet",
        Unit::Mm => "estimate-litres",
    };
    let charts = [
        (need, draw::feet_to_buy(estimate)),
        (
            "estimate-runs",
            draw::need_of_runs(estimate, job.settings.ruler()),
        ),
    ];
    let mut outputs = vec![(JSON.to_owned(), json.into_bytes())];
    for (name, chart) in charts {
        outputs.push((format!("{name}.svg"), chart.svg().into_bytes()));
        outputs.push((format!("{name}.png"), chart.png()));
    }
    outputs
}
