//! The steps of a plan, each by itself: `cargo bench --bench steps`.

#[path = "../tests/common/generate.rs"]
#[allow(dead_code)]
mod generate;

use std::hint::black_box;
use std::path::Path;

use criterion::{Criterion, criterion_group, criterion_main};
use generate::{Size, generate};
use grainrow::draw;
use grainrow::job::{Job, read};
use grainrow::layout;
use grainrow::packet::{Extras, packet_html, packet_pdf};
use grainrow::plan::{Limits, check, from_json, to_json, totals};

/// The jobs the steps are timed on.
fn jobs() -> [(&'static str, Job); 2] {
    [
        ("chest", generate(Size::CHEST, 1)),
        ("kitchen", generate(Size::KITCHEN, 1)),
    ]
}

fn construct(c: &mut Criterion) {
    let mut group = c.benchmark_group("first plan");
    group.sample_size(10);
    for (name, job) in jobs() {
        group.bench_function(name, |b| b.iter(|| layout::quick(black_box(&job), 1)));
    }
}

fn price(c: &mut Criterion) {
    let mut group = c.benchmark_group("first plans and prices");
    group.sample_size(10);
    for (name, job) in jobs() {
        group.bench_function(name, |b| b.iter(|| layout::price_bound(black_box(&job))));
    }
}

fn verify(c: &mut Criterion) {
    let mut group = c.benchmark_group("check a plan");
    for (name, job) in jobs() {
        let plan = layout::quick(&job, 1);
        let limits = Limits::default();
        group.bench_function(name, |b| {
            b.iter(|| check(black_box(&job), black_box(&plan), false, &limits));
        });
    }
}

fn count(c: &mut Criterion) {
    let mut group = c.benchmark_group("count the figures");
    for (name, job) in jobs() {
        let plan = layout::quick(&job, 1);
        group.bench_function(name, |b| b.iter(|| totals(black_box(&job), &plan, false)));
    }
}

fn shop(c: &mut Criterion) {
    let mut group = c.benchmark_group("packet");
    group.sample_size(10);
    // Sixty boards or so are cut for the last one.
    let [chest, kitchen] = jobs();
    let sixty = ("sixty boards", generate(Size::new(110, 28, 90), 1));
    for (name, job) in [chest, kitchen, sixty] {
        let plan = layout::quick(&job, 1);
        let extras = Extras::default();
        println!(
            "{name}: {} boards cut, packet.html of {} bytes",
            plan.boards.len(),
            packet_html(&job, &plan, &extras).len()
        );
        group.bench_function(format!("packet.html, {name}"), |b| {
            b.iter(|| packet_html(black_box(&job), &plan, &extras));
        });
        group.bench_function(format!("packet.pdf, {name}"), |b| {
            b.iter(|| packet_pdf(black_box(&job), &plan, &extras));
        });
        group.bench_function(format!("a board as PNG, {name}"), |b| {
            b.iter(|| draw::board(black_box(&job), &plan, 0).png());
        });
    }
}

fn file(c: &mut Criterion) {
    let mut group = c.benchmark_group("plan.json");
    for (name, job) in jobs() {
        let plan = layout::quick(&job, 1);
        let text = to_json(&job, &plan);
        group.bench_function(format!("write, {name}"), |b| {
            b.iter(|| to_json(black_box(&job), black_box(&plan)));
        });
        group.bench_function(format!("read, {name}"), |b| {
            b.iter(|| from_json(black_box(&job), black_box(&text)));
        });
    }
}

fn folder(c: &mut Criterion) {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-boards");
    let mut group = c.benchmark_group("read a job");
    for name in ["small", "chest", "tall-case"] {
        let job = samples.join(name);
        group.bench_function(name, |b| b.iter(|| read(black_box(&job)).map(|_| ())));
    }
}

criterion_group!(steps, folder, construct, price, verify, count, file, shop);
criterion_main!(steps);
