//! Time and memory of `grainrow photo` for a pile of pictures as a phone takes them.

use std::fs;
use std::path::Path;
use std::time::Instant;

use grainrow::commands::{PhotoOrder, photo};

use crate::camera::{Shot, take};
use crate::shape::{crop, long_board};
use crate::wood::Scans;

const BOARDS: usize = 14;
/// Part of the board each of its two photographs shows: they overlap by 30 % of one.
const PART: f64 = 1.0 / 1.7;
/// A scene of 4 by 3, as a phone sees it.
const HIGH: f64 = 0.75;
/// Pixels along a picture.
const WIDE: f64 = 4000.0;

pub fn run(scans: &Scans) {
    let board = long_board(scans, 45.0);
    let long = board.window.length();
    let job = tempfile::tempdir().expect("a folder");
    let write = |name: &str, bytes: &[u8]| {
        let path = job.path().join(name);
        fs::create_dir_all(path.parent().expect("in a folder")).expect("a folder");
        fs::write(path, bytes).expect("a disk");
    };
    let mut photos = "photo,board,from,to\n".to_owned();
    for (half, (from, to)) in [(0.0, PART * long), (long - PART * long, long)]
        .into_iter()
        .enumerate()
    {
        let part = crop(&board, from, to);
        let scene = part.window.length() + 2.0 * crate::camera::MARGIN;
        let shot = Shot {
            scale: WIDE / scene,
            high: HIGH * scene,
            ..Shot::default()
        };
        let taken = take(&[&part], &shot);
        if half == 0 {
            let million = (taken.width * taken.height) as f64 / 1e6;
            println!(
                "{} by {}: {million:.1} million pixels",
                taken.width, taken.height
            );
        }
        for at in 0..BOARDS {
            let file = format!("photos/B{at}-{half}.jpg");
            // Each is a file of its own: bytes behind a JPEG's end are no part of the picture.
            write(&file, &[&taken.jpeg[..], &[at as u8]].concat());
            photos += &format!("{file},B{at},{from:.3},{to:.3}\n");
        }
    }
    let boards = (0..BOARDS).map(|at| {
        let wide = board.window.width();
        format!("B{at},{long:.3},{wide:.3},4/4,photo\n")
    });
    let boards = boards.collect::<String>();
    write("photos.csv", photos.as_bytes());
    write(
        "boards.csv",
        format!("board,length,width,thickness,tone\n{boards}").as_bytes(),
    );
    write(
        "fronts.csv",
        b"front,width,height,thickness\nlid,18,3,3/4\n",
    );
    write("job.toml", b"");
    drop(board);
    for what in ["all new", "one picture new", "nothing new"] {
        timed(job.path(), what);
        let mut other = fs::read(job.path().join("photos/B3-0.jpg")).expect("a picture");
        if what == "all new" {
            other.push(0);
            write("photos/B3-0.jpg", &other);
        }
    }
}

fn timed(folder: &Path, what: &str) {
    let order = PhotoOrder {
        folder: folder.to_owned(),
        out: None,
        accept: None,
    };
    let (clock, before) = (Instant::now(), processor());
    let done = photo(&order, &|_, _| ()).expect("pictures that can be read");
    let spent = processor() - before;
    println!(
        "{what}: {} faces told, {} looks, {:.1} s, {spent:.1} s of processor time",
        done.told.boards.len(),
        done.looked,
        clock.elapsed().as_secs_f64(),
    );
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find(|line| line.starts_with("VmHWM"));
    println!(
        "peak memory, with what the bench itself holds: {}",
        peak.unwrap_or("unknown")
    );
}

/// Seconds of processor time so far, on Linux.
fn processor() -> f64 {
    let stat = fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let fields = stat
        .rsplit(')')
        .next()
        .unwrap_or_default()
        .split_whitespace();
    let ticks: f64 = fields
        .skip(11)
        .take(2)
        .filter_map(|t| t.parse::<f64>().ok())
        .sum();
    ticks / 100.0
}
