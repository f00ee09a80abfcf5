//! Makes the pictures of the sample job: boards of real scans, photographed by a known camera.

use std::fs;
use std::path::Path;

use crate::camera::{Laid, Shot, take};
use crate::wood::Scans;

pub fn run(scans: &Scans, folder: &Path) {
    fs::create_dir_all(folder).expect("the folder");
    let mut runs: Vec<_> = scans.runs.iter().filter(|run| run.1.len() >= 4).collect();
    runs.sort_by_key(|run| std::cmp::Reverse(run.1.len()));
    for (at, (_, names)) in runs.iter().enumerate().take(5) {
        let wood = scans.board(names, 60.0);
        let shot = Shot {
            scale: 40.0,
            paper: Laid::BothEdges,
            seed: 3 + at as u64,
            ..Shot::default()
        };
        let taken = take(&[&wood.strip], &shot);
        let name = ["A", "B", "C", "D", "E"][at];
        fs::write(folder.join(format!("{name}.jpg")), &taken.jpeg).expect("a picture");
        println!(
            "{name}: {:.2} long, {} pixels by {}, {} bytes, scans {}..{}",
            wood.strip.window.length(),
            taken.width,
            taken.height,
            taken.jpeg.len(),
            names[0],
            names[names.len() - 1]
        );
    }
}
