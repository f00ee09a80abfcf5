use std::path::Path;

use super::*;
use crate::draw::testing::{clashes, crossings};
use crate::fit::fit;
use crate::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles, Needs, OPENINGS_CSV};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

fn sample(name: &str) -> Sheet {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("sample-boards")
        .join(name);
    let reading = JobFiles::read(&folder).and_then(|files| files.parse_for(Needs::Fronts));
    let reading = reading.unwrap_or_else(|faults| panic!("{faults}"));
    fit(&reading.job).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Four fronts in openings out of square, with and without bevels, arches, pulls and long names.
fn random(seed: u64) -> Option<Sheet> {
    let mut rng = Pcg64::seed_from_u64(seed);
    let metric = seed % 2 == 1;
    let unit = if metric { 25.0 } else { 1.0 };
    let mut toml = format!("units = \"{}\"\n", if metric { "mm" } else { "inch" });
    if seed.is_multiple_of(3) {
        toml += "[gaps]\nmode = \"overlay\"\n";
    }
    if seed % 4 < 2 {
        toml += &format!("[bevel]\nface = {}\nangle = 15\n", 0.75 * unit);
    }
    if !seed.is_multiple_of(5) {
        toml += &format!(
            "[pulls]\ntwo_from = {}\nspacing = {}\n",
            24.0 * unit,
            3.0 * unit
        );
    }
    let mut fronts = String::from("front,width,height,thickness,grain,shape,rise\n");
    let mut openings = String::from("front,left,right,top,bottom,diagonal_up\n");
    for i in 0..4 {
        let width: f64 = rng.random_range(3.0..40.0);
        let height: f64 = rng.random_range(3.0..40.0);
        let name = ["D", "door ", "the left drawer of the uppermost row, no. "][i % 3];
        let grain = ["horizontal", "vertical"][rng.random_range(0..2)];
        let shape = match rng.random_range(0..4) {
            0 => format!("arch,{:.2}", height.min(width) * 0.2 * unit),
            _ => ",".to_owned(),
        };
        fronts += &format!(
            "\"{name}{i}\",{:.3},{:.3},{},{grain},{shape}\n",
            width * unit,
            height * unit,
            0.75 * unit
        );
        let off: [f64; 3] = std::array::from_fn(|_| rng.random_range(-0.12..0.12));
        let corner = if shape == "," {
            height
        } else {
            height - height.min(width) * 0.2
        };
        let right = corner + off[0];
        let lean = off[2];
        openings += &format!(
            "\"{name}{i}\",{:.3},{:.3},{:.3},{:.3},{:.3}\n",
            corner * unit,
            right * unit,
            (width + off[1]) * unit,
            width * unit,
            (width + lean).hypot(right) * unit
        );
    }
    let board = format!(
        "board,length,width,thickness,tone\nB,{},{},5/4,5\n",
        96.0 * unit,
        9.0 * unit
    );
    let job = JobFiles::new()
        .with(JOB_TOML, toml)
        .with(BOARDS_CSV, board)
        .with(FRONTS_CSV, fronts)
        .with(OPENINGS_CSV, openings)
        .parse()
        .unwrap_or_else(|faults| panic!("seed {seed}: {faults}"))
        .job;
    fit(&job).ok()
}

/// What is wrong with the words on a sheet's drawings.
fn faults(sheet: &Sheet) -> Vec<String> {
    let pages = fitting(sheet);
    let singles = sheet.fronts.iter().map(|fitted| front(sheet, fitted));
    let drawings: Vec<Drawing> = pages.into_iter().chain(singles).collect();
    let found = drawings
        .iter()
        .flat_map(|d| [clashes(d), crossings(d)].concat());
    found.collect()
}

/// The figures of wedges, with the dash that begins them.
fn wedge_figures(sheet: &Sheet) -> usize {
    let pages = fitting(sheet);
    let figures = pages.iter().flat_map(Drawing::texts);
    figures.filter(|text| text.words.starts_with('–')).count()
}

#[test]
fn no_words_on_the_chests_fronts_touch_one_another_or_a_line() {
    let sheet = sample("chest");
    assert_eq!(faults(&sheet), Vec::<String>::new());
    let wedges: usize = sheet.fronts.iter().map(|fitted| fitted.wedges.len()).sum();
    assert!(wedges > 10);
    assert_eq!(wedge_figures(&sheet), wedges);
}

#[test]
fn the_heading_fits_its_sheet_however_the_fronts_sit() {
    let mut sheet = sample("chest");
    let last = sheet.fronts.len();
    for overlays in [0, 1, last] {
        for fitted in &mut sheet.fronts[..overlays] {
            fitted.mode = Mode::Overlay;
        }
        for page in fitting(&sheet) {
            let right = page.texts().map(|text| text.extent().right);
            assert!(right.fold(0.0, f64::max) <= page.width, "{overlays}");
        }
        assert_eq!(faults(&sheet), Vec::<String>::new(), "{overlays}");
    }
}

#[test]
fn no_words_touch_on_fronts_in_200_random_openings() {
    let (mut fitted, mut wedges) = (0, 0);
    for seed in 0..50 {
        let Some(sheet) = random(seed) else { continue };
        assert_eq!(faults(&sheet), Vec::<String>::new(), "seed {seed}");
        let here: usize = sheet.fronts.iter().map(|f| f.wedges.len()).sum();
        assert_eq!(wedge_figures(&sheet), here, "seed {seed}");
        (fitted, wedges) = (fitted + sheet.fronts.len(), wedges + here);
    }
    assert!(
        fitted >= 160 && wedges >= 200,
        "{fitted} fronts, {wedges} wedges"
    );
}

/// `cargo test --lib -- --ignored pictures` writes PNG files to look at.
#[test]
#[ignore = "writes pictures to look at"]
fn pictures() {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/pictures");
    std::fs::create_dir_all(&dir).expect("a folder");
    let random = (0..8).filter_map(|seed| Some((format!("random-{seed}"), random(seed)?)));
    for (name, sheet) in random.chain([("chest".to_owned(), sample("chest"))]) {
        for (i, drawing) in fitting(&sheet).iter().enumerate() {
            let path = dir.join(format!("fitting-{name}-{i}.png"));
            std::fs::write(path, drawing.png()).expect("written");
        }
    }
}
