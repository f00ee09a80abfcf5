//! The table of what the optimiser reaches on invented, published and reference jobs.
//!
//! ```text
//! cargo bench --bench table                      # everything: about an hour and a half
//! cargo bench --bench table -- chest kitchen     # some rows only
//! cargo bench --bench table -- --share 0.1       # a tenth of the time for each job
//! cargo bench --bench table -- --jobs 3          # three random jobs a row
//! ```
//!
//! Rows: chest, kitchen, house, mill (random jobs, see `tests/common/generate.rs`), flat and long
//! (published instances, see `tests/data/bench`), reference (see `tests/reference`). Every plan is
//! given to the checker; a plan that fails it stops the table.

#[path = "../tests/common/generate.rs"]
#[allow(dead_code)]
mod generate;
#[path = "../tests/common/instances.rs"]
#[allow(dead_code)]
mod instances;
#[path = "../tests/common/reference.rs"]
mod reference;

use std::time::{Duration, Instant};

use generate::{Size, generate};
use grainrow::job::Job;
use grainrow::layout::{self, Request, Silent};
use grainrow::plan::{Limits, Plan, check};
use instances::{Instance, cutting_stock, one_dimensional, two_dimensional};
use reference::references;

/// What is asked for on the command line.
struct Options {
    rows: Vec<String>,
    share: f64,
    jobs: usize,
}

fn main() {
    let options = options();
    let wanted = |row: &str| options.rows.is_empty() || options.rows.iter().any(|r| r == row);
    println!("| row | job | fronts | made | cost | bound | gap % | proved | seconds |");
    println!("|---|---|---|---|---|---|---|---|---|");
    for (row, size, seconds, jobs) in [
        ("chest", Size::CHEST, 3.0, 20),
        ("kitchen", Size::KITCHEN, 30.0, 10),
        ("house", Size::HOUSE, 120.0, 3),
        ("mill", Size::MILL, 60.0, 1),
    ] {
        if wanted(row) {
            random_jobs(&options, row, size, seconds, jobs);
        }
    }
    if wanted("flat") {
        published(&options, "flat", two_dimensional());
    }
    if wanted("long") {
        published(
            &options,
            "long",
            [one_dimensional(), cutting_stock()].concat(),
        );
    }
    if wanted("reference") {
        against_reference(&options);
    }
}

fn options() -> Options {
    let mut options = Options {
        rows: Vec::new(),
        share: 1.0,
        jobs: usize::MAX,
    };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        match word.as_str() {
            // What cargo adds by itself.
            "--bench" => {}
            "--share" => options.share = number(words.next(), &word),
            "--jobs" => options.jobs = number(words.next(), &word),
            _ => options.rows.push(word),
        }
    }
    options
}

fn number<T: std::str::FromStr>(word: Option<String>, name: &str) -> T {
    word.and_then(|word| word.parse().ok()).unwrap_or_else(|| {
        eprintln!("{name} needs a number after it");
        std::process::exit(2);
    })
}

/// Plans a job in so many seconds (times the share asked for), checks and times the plan.
fn planned(options: &Options, job: &Job, seconds: f64) -> (Plan, f64) {
    let request = Request {
        time: Some(Duration::from_secs_f64(seconds * options.share)),
        ..Request::default()
    };
    let begun = Instant::now();
    let plan = layout::plan(job, &request, &Silent);
    let taken = begun.elapsed().as_secs_f64();
    if let Err(found) = check(job, &plan, false, &Limits::default()) {
        for violation in found {
            eprintln!("{}: {violation}", job.settings.title);
        }
        std::process::exit(1);
    }
    (plan, taken)
}

fn line(row: &str, name: &str, plan: &Plan, seconds: f64) {
    let t = &plan.totals;
    println!(
        "| {row} | {name} | {} | {} | {:.3} | {:.3} | {:.3} | {} | {seconds:.2} |",
        t.fronts,
        t.made,
        t.cost,
        t.bound,
        t.gap * 100.0,
        if t.proved { "yes" } else { "no" },
    );
}

fn random_jobs(options: &Options, row: &str, size: Size, seconds: f64, jobs: usize) {
    let (mut gaps, mut proved, mut times) = (Vec::new(), 0, Vec::new());
    let jobs = jobs.min(options.jobs);
    for seed in 1..=jobs as u64 {
        let (plan, taken) = planned(options, &generate(size, seed), seconds);
        line(row, &format!("seed {seed}"), &plan, taken);
        gaps.push(plan.totals.gap * 100.0);
        proved += usize::from(plan.totals.proved);
        times.push(taken);
    }
    println!(
        "| **{row}** | {jobs} jobs, {seconds} s | | | | | median {:.3}, worst {:.3} | {proved} | median {:.2}, worst {:.2} |",
        median(&mut gaps),
        gaps.last().copied().unwrap_or(0.0),
        median(&mut times),
        times.last().copied().unwrap_or(0.0),
    );
}

/// The middle one; sorts as it goes.
fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// Seconds for a published instance.
const PUBLISHED: f64 = 10.0;

fn published(options: &Options, row: &str, instances: Vec<Instance>) {
    let (mut used, mut least, mut met) = (0, 0, 0);
    let count = instances.len().min(options.jobs);
    for instance in instances.into_iter().take(count) {
        let (plan, taken) = planned(options, &instance.job(), PUBLISHED);
        let boards = plan.totals.boards_used;
        let name = format!(
            "{}: {boards} boards, {} at least",
            instance.name, instance.lower_bound
        );
        line(row, &name, &plan, taken);
        if boards < instance.lower_bound && plan.totals.made == instance.items.len() {
            eprintln!("{}: fewer boards than can be", instance.name);
            std::process::exit(1);
        }
        used += boards;
        least += instance.lower_bound;
        met += usize::from(boards == instance.lower_bound);
    }
    println!(
        "| **{row}** | {count} instances, {PUBLISHED} s | {used} boards, {least} at least: {:.3} times | {met} met | | | | | |",
        used as f64 / least.max(1) as f64,
    );
}

fn against_reference(options: &Options) {
    let (mut equal, mut slow, mut sooner) = (0, 0, 0);
    let all = references();
    let count = all.len().min(options.jobs);
    for reference in all.into_iter().take(count) {
        let (plan, taken) = planned(options, &reference.job, 60.0);
        let name = format!(
            "{}: optimum {:.3}, general solver {} s",
            reference.name, reference.cost, reference.seconds
        );
        line("reference", &name, &plan, taken);
        equal += usize::from((plan.totals.cost - reference.cost).abs() < 1e-6);
        if reference.seconds > 1.0 {
            slow += 1;
            sooner += usize::from(taken * 10.0 <= reference.seconds);
        }
    }
    println!(
        "| **reference** | {count} jobs | {equal} equal optima | {sooner} of {slow} slow ones ten times sooner | | | | | |"
    );
}
