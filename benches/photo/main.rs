//! What photographs tell, measured against pictures of known truth.
//!
//! ```sh
//! cargo bench --bench photo -- FOLDER            # all rows
//! cargo bench --bench photo -- FOLDER tone join  # some
//! ```
//!
//! `FOLDER` has the wood: `labels.csv`, `runs.csv` and `scans/`, as RESULTS.md beside this folder
//! says. `grow` and `sample` write files of the project anew: run them from its root.

mod camera;
mod corners;
mod facing;
mod grow;
mod sample;
mod shape;
mod speed;
mod tone;
mod wood;

use std::path::Path;

use wood::Scans;

fn main() {
    let words = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"));
    let words: Vec<String> = words.collect();
    let Some((folder, rows)) = words.split_first() else {
        println!(
            "photo: skipped; name the folder of the scans: cargo bench --bench photo -- FOLDER"
        );
        return;
    };
    let scans = Scans::read(Path::new(folder));
    let named = |name: &str| rows.iter().any(|row| row == name);
    let on = |name: &str| rows.is_empty() || named(name);
    for (name, run) in [
        ("corners", corners::run as fn(&Scans)),
        ("shape", shape::run),
        ("tone", tone::run),
        ("defects", grow::shipped),
        ("facing", facing::run),
        ("speed", speed::run),
    ] {
        if on(name) {
            run(&scans);
        }
    }
    if named("grow") {
        grow::run(&scans);
    }
    if named("sample") {
        sample::run(&scans, Path::new("sample-boards/spruce/photos"));
    }
}
