//! Long boards of known truth, put together from consecutive scans of sawn timber.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use grainrow::photo::picture;
use grainrow::photo::plane::{Strip, Window};

/// Width of a scanned board, and length of one scan, in inches: assumed, as the scale of the scans
/// is not published.
pub const WIDE: f64 = 7.0;
pub const LONG: f64 = 3.0;

/// A defect people marked: its kind and from, to, low, high in inches.
#[derive(Clone, Debug)]
pub struct Marked {
    pub kind: String,
    pub box_: [f64; 4],
}

/// A board: its light (linear reflectance) and its marked defects.
#[derive(Clone)]
pub struct Wood {
    pub strip: Strip,
    pub marked: Vec<Marked>,
}

pub struct Scans {
    folder: std::path::PathBuf,
    labels: BTreeMap<String, Vec<(String, [f64; 4])>>,
    pub runs: Vec<(String, Vec<String>)>,
}

impl Scans {
    pub fn read(folder: &Path) -> Scans {
        let text = |name: &str| fs::read_to_string(folder.join(name)).expect("the folder's table");
        let mut labels: BTreeMap<String, Vec<(String, [f64; 4])>> = BTreeMap::new();
        for row in text("labels.csv").lines().skip(1) {
            let cells: Vec<&str> = row.split(',').collect();
            let edge = |at: usize| cells[at].parse().unwrap();
            let edges = [edge(2), edge(3), edge(4), edge(5)];
            labels
                .entry(cells[0].to_owned())
                .or_default()
                .push((cells[1].to_owned(), edges));
        }
        let mut names: Vec<String> = fs::read_dir(folder.join("scans"))
            .expect("scans")
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        let mut left: Vec<String> = names;
        let mut runs = Vec::new();
        for row in text("runs.csv").lines().skip(1) {
            let cells: Vec<&str> = row.split(',').collect();
            let stem = |name: &String| name.trim_end_matches(".jpg").to_owned();
            let within = |name: &String| {
                stem(name).len() == cells[0].len()
                    && *stem(name) >= *cells[0]
                    && *stem(name) <= *cells[1]
            };
            runs.push((
                cells[0].to_owned(),
                left.iter().filter(|n| within(n)).cloned().collect(),
            ));
            left.retain(|name| !within(name));
        }
        runs.extend(left.into_iter().map(|name| (name.clone(), vec![name])));
        Scans {
            folder: folder.to_owned(),
            labels,
            runs,
        }
    }

    /// Scans under one another, along the board from its hook end, at a scale.
    pub fn board(&self, names: &[String], scale: f64) -> Wood {
        let length = LONG * names.len() as f64;
        let window = Window {
            from: 0.0,
            to: length,
            low: 0.0,
            high: WIDE,
        };
        let mut strip = Strip::black(window, scale);
        let mut marked = Vec::new();
        for (index, name) in names.iter().enumerate() {
            let scan =
                picture::open(&fs::read(self.folder.join("scans").join(name)).unwrap()).unwrap();
            let (left, right) = edges_of(&scan);
            let start = LONG * index as f64;
            let (wide, high) = ((right - left) as f64, scan.height as f64);
            for column in strip.column(start)..=strip.column(start + LONG - 1e-9) {
                for row in 0..strip.height {
                    let y0 = (strip.along(column) - start) / LONG * high;
                    let x0 = left as f64 + strip.across(row) / WIDE * wide;
                    let at = row * strip.width + column;
                    strip.light[at] = area(&scan, x0, y0, wide / WIDE / scale, high / LONG / scale);
                }
            }
            for (kind, [l, t, r, b]) in self.labels.get(name).into_iter().flatten() {
                let along = |y: f64| start + y / high * LONG;
                let across = |x: f64| (x - left as f64) / wide * WIDE;
                marked.push(Marked {
                    kind: kind.clone(),
                    box_: [along(*t), along(*b), across(*l), across(*r)],
                });
            }
        }
        let (strip, from) = sound(&strip);
        for mark in &mut marked {
            mark.box_[0] -= from;
            mark.box_[1] -= from;
        }
        Wood { strip, marked }
    }
}

/// The mean light around a place of a scan.
fn area(scan: &picture::Picture, x: f64, y: f64, wide: f64, high: f64) -> [f32; 3] {
    let (nx, ny) = (wide.ceil().max(1.0) as usize, high.ceil().max(1.0) as usize);
    let mut sum = [0.0f32; 3];
    for i in 0..nx {
        for j in 0..ny {
            let dx = ((i as f64 + 0.5) / nx as f64 - 0.5) * wide;
            let dy = ((j as f64 + 0.5) / ny as f64 - 0.5) * high;
            let light = scan.between(x + dx, y + dy);
            sum = [0, 1, 2].map(|c| sum[c] + light[c]);
        }
    }
    sum.map(|c| c / (nx * ny) as f32)
}

/// The columns between which the board lies: outside it the ground is dark.
fn edges_of(scan: &picture::Picture) -> (usize, usize) {
    let mean = |x: usize| {
        let column = (0..scan.height)
            .step_by(8)
            .map(|y| scan.linear(x as isize, y as isize)[1]);
        let lights: Vec<f32> = column.collect();
        lights.iter().sum::<f32>() / lights.len() as f32
    };
    let means: Vec<f32> = (0..scan.width).map(mean).collect();
    let mut sorted = means.clone();
    sorted.sort_by(f32::total_cmp);
    let edge = 0.5 * sorted[sorted.len() / 2];
    let left = means.iter().position(|&m| m > edge).unwrap_or(0);
    let right = means
        .iter()
        .rposition(|&m| m > edge)
        .unwrap_or(scan.width - 1);
    (left + 6, right.saturating_sub(6))
}

/// The board without the dark ground beyond its ends, and what was cut off its start.
fn sound(strip: &Strip) -> (Strip, f64) {
    let mean = |column: usize| {
        (0..strip.height)
            .map(|row| strip.pixel(column, row)[1])
            .sum::<f32>()
            / strip.height as f32
    };
    let means: Vec<f32> = (0..strip.width).map(mean).collect();
    let mut sorted = means.clone();
    sorted.sort_by(f32::total_cmp);
    let edge = 0.6 * sorted[sorted.len() / 2];
    let first = means.iter().position(|&m| m > edge).unwrap_or(0);
    let last = means
        .iter()
        .rposition(|&m| m > edge)
        .unwrap_or(strip.width - 1);
    let (first, last) = match (first, last + 1 == strip.width) {
        (0, true) => (0, last),
        _ => (
            first + (first > 0) as usize * 8,
            last - if last + 1 == strip.width { 0 } else { 8 },
        ),
    };
    let width = last + 1 - first;
    let from = first as f64 / strip.scale;
    let window = Window {
        to: width as f64 / strip.scale,
        ..strip.window
    };
    let light = (0..strip.height * width)
        .map(|at| strip.pixel(first + at % width, at / width))
        .collect();
    (
        Strip {
            window,
            scale: strip.scale,
            width,
            height: strip.height,
            light,
        },
        from,
    )
}
