//! `grainrow photo` from the command line: pictures drawn here, of which everything is known.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use grainrow::commands::{self, PhotoOrder};
use grainrow::photo::colour::to_byte;
use grainrow::photo::picture::jpeg_of;
use predicates::prelude::*;
use tempfile::TempDir;

const FRONTS: &str = "front,width,height,thickness\nlid,18,3,3/4\n";
/// Pixels an inch.
const SCALE: usize = 20;
/// Inches of ground and paper around a board of 30 by 5.
const AROUND: usize = 3;

/// A board 30 by 5 in on grey ground, paper along both edges, light falling off to the right.
fn board(wood: [f32; 3]) -> Vec<u8> {
    let (width, height) = ((30 + 2 * AROUND) * SCALE, (5 + 2 * AROUND) * SCALE);
    let bytes = (0..width * height).flat_map(|at| {
        let inches = |pixel: usize| (pixel as f64 + 0.5) / SCALE as f64 - AROUND as f64;
        let (x, y) = (inches(at % width), 5.0 - inches(at / width));
        let seen = if (0.0..30.0).contains(&x) && (0.0..5.0).contains(&y) {
            wood
        } else if (-2.0..-0.5).contains(&y) || (5.5..7.0).contains(&y) {
            [0.85; 3]
        } else {
            [0.07; 3]
        };
        let light = (0.95 - 0.01 * x) as f32;
        seen.map(|part| to_byte(part * light))
    });
    jpeg_of(width, height, &bytes.collect::<Vec<u8>>())
}

/// A job of two boards left to photographs and one of tone 5.
fn job() -> TempDir {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, bytes: &[u8]| {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    };
    write("job.toml", b"");
    write("fronts.csv", FRONTS.as_bytes());
    write(
        "boards.csv",
        b"# my pile\nboard,length,width,thickness,tone\nA,30,5,4/4,5\nB,30,5,4/4,photo; greyish\nC,30,5,4/4,photo\n",
    );
    write("photos/A.jpg", &board([0.38, 0.25, 0.15]));
    write("photos/B.jpg", &board([0.26, 0.17, 0.10]));
    write("photos/C.jpg", &board([0.26, 0.17, 0.10]));
    folder
}

fn photo(folder: &Path, more: &[&str]) -> assert_cmd::assert::Assert {
    let mut command = Command::cargo_bin("grainrow").unwrap();
    command.arg("photo").arg(folder).args(more).assert()
}

fn check(folder: &Path) -> assert_cmd::assert::Assert {
    Command::cargo_bin("grainrow")
        .unwrap()
        .arg("check")
        .arg(folder)
        .assert()
}

fn text(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).unwrap()
}

/// Y of A's wood is 0.2704 and of B's 0.1841, so L* is 59.01 and 49.99 (CIE 15: 116 Y^(1/3) - 16):
/// 3.0 steps of 3 apart. The program sees them in light that falls off.
#[test]
fn photographs_tell_tones_that_plans_then_use() {
    let job = job();
    check(job.path()).code(2).stderr(predicate::str::contains(
        "no photograph has told the tone of B yet",
    ));
    photo(job.path(), &[])
        .success()
        .stdout(predicate::str::contains("not told apart by tone: B, C"));
    let told: serde_json::Value =
        serde_json::from_str(&text(job.path(), "out/photos.json")).unwrap();
    let boards = told["boards"].as_array().unwrap();
    assert_eq!(
        (boards.len(), told["format"].as_u64(), told["unit"].as_str()),
        (3, Some(1), Some("inch"))
    );
    let tone = |at: usize| boards[at]["tone"].as_f64().unwrap();
    assert_eq!(tone(0), 5.0);
    assert!((tone(1) - 8.0).abs() < 0.25, "{}", tone(1));
    assert!(boards[1]["uncertain"].as_f64().unwrap() < 1.0);
    let corners = told["photos"][1]["corners"].as_array().unwrap();
    for (corner, (x, y)) in corners
        .iter()
        .zip([(60, 160), (660, 160), (660, 60), (60, 60)])
    {
        let off = (corner[0].as_f64().unwrap() - f64::from(x))
            .hypot(corner[1].as_f64().unwrap() - f64::from(y));
        assert!(off < 2.0, "{corner}");
    }
    check(job.path()).success();
    let tally = || {
        let mut command = Command::cargo_bin("grainrow").unwrap();
        command.arg("tally").arg(job.path()).assert().success()
    };
    tally().stdout(predicate::str::contains("out/photos/B-up.jpg"));
    let mut plan = Command::cargo_bin("grainrow").unwrap();
    plan.arg("plan").arg(job.path()).assert().success();
    // One board makes the one front, and is seen with its blank; the others as they are.
    tally().stdout(predicate::str::contains("-photo.jpg").count(1));
    let proof = text(job.path(), "out/photos/proof.html");
    assert!(proof.contains("B-up.jpg") && proof.contains("<polygon"));
    assert!(
        fs::read(job.path().join("out/photos/B-up.jpg"))
            .unwrap()
            .starts_with(&[0xff, 0xd8])
    );
}

/// The spruce of the samples: of the plans that cost the same one is taken that reads better.
#[test]
fn photographs_choose_among_plans_of_equal_cost() {
    let folder = TempDir::new().unwrap();
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-boards/spruce");
    let copy = |from: &Path, to: &Path| {
        std::fs::create_dir_all(to).unwrap();
        for file in std::fs::read_dir(from).unwrap().map(Result::unwrap) {
            if file.path().is_file() {
                std::fs::copy(file.path(), to.join(file.file_name())).unwrap();
            }
        }
    };
    copy(&sample, folder.path());
    copy(&sample.join("photos"), &folder.path().join("photos"));
    let planned = || -> serde_json::Value {
        let done = assert_cmd::Command::cargo_bin("grainrow")
            .unwrap()
            .args(["plan", "--json"])
            .arg(folder.path())
            .assert()
            .code(0);
        serde_json::from_slice(&done.get_output().stdout).unwrap()
    };
    let blind = planned();
    assert!(blind["totals"].get("reads").is_none());
    photo(folder.path(), &[]).code(0);
    let seen = planned();
    let figure = |plan: &serde_json::Value, name: &str| plan["totals"][name].as_f64().unwrap();
    assert!((figure(&seen, "cost") - figure(&blind, "cost")).abs() < 1e-6);
    assert_eq!(seen["totals"]["proved"], true);
    assert!(figure(&seen, "reads") < figure(&seen, "reads_first") - 0.5);
    // The same by the table of joints, which is rounded to tenths.
    let table = text(folder.path(), "out/facing.csv");
    let differences = table.lines().skip(1).map(|line| {
        let last = line.rsplit(',').next().unwrap();
        last.parse::<f64>().unwrap()
    });
    let differences: Vec<f64> = differences.collect();
    let mean = differences.iter().sum::<f64>() / differences.len() as f64;
    assert!((mean - figure(&seen, "reads")).abs() < 0.06, "{mean}");
}

#[test]
fn what_is_accepted_is_written_as_the_maker_would() {
    let job = job();
    photo(job.path(), &["--accept", "corners"]).success();
    let photos = text(job.path(), "photos.csv");
    assert!(photos.starts_with("photo,board,hook_near,far_near,far_far,hook_far\nphotos/A.jpg,A,"));
    assert_eq!(photos.lines().count(), 4);
    photo(job.path(), &["--accept", "tones"]).success();
    let boards = text(job.path(), "boards.csv");
    assert!(
        boards.starts_with(
            "# my pile\nboard,length,width,thickness,tone\nA,30,5,4/4,5\nB,30,5,4/4,8"
        ),
        "{boards}"
    );
    assert!(boards.contains("; greyish\n"));
    assert!(text(job.path(), "boards.csv.bak").contains("photo; greyish"));
    // Nothing is left to accept.
    photo(job.path(), &["--accept", "tones"])
        .success()
        .stdout(predicate::str::contains("nothing to accept"));
}

#[test]
fn pictures_that_can_not_be_used_are_told_at_their_row() {
    let job = job();
    let write = |name: &str, bytes: &[u8]| fs::write(job.path().join(name), bytes).unwrap();
    let whole = board([0.3, 0.2, 0.1]);
    write("photos/B.jpg", &whole[..whole.len() / 2]);
    write("photos/C.jpg", b"\0\0\0\x20ftypheic\0\0\0\0mif1heic");
    write(
        "photos.csv",
        b"photo,board\nphotos/A.jpg,A\nphotos/B.jpg,B\nphotos/C.jpg,C\nphotos/D.jpg,C\n",
    );
    let told = photo(job.path(), &[]).code(2);
    let errors = String::from_utf8(told.get_output().stderr.clone()).unwrap();
    for part in [
        "photos.csv:3",
        "cut short",
        "photos.csv:4",
        "HEIC",
        "JPEG",
        "photos.csv:5",
        "there is no such picture",
    ] {
        assert!(errors.contains(part), "{part} in {errors}");
    }
    assert!(!job.path().join("out").exists());
}

#[cfg(unix)]
/// What was in the output folder and is not grainrow's stays the maker's.
#[test]
fn results_go_through_no_link_and_over_no_file_of_the_makers_own() {
    let folder = job();
    let elsewhere = TempDir::new().unwrap();
    let out = folder.path().join("out");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("photos.json"), "{\"mine\":true}").unwrap();
    photo(folder.path(), &[])
        .code(0)
        .stderr(predicate::str::contains("was not written by grainrow"));
    let mine = fs::read_to_string(out.join("yours/photos.json")).unwrap();
    assert_eq!(mine, "{\"mine\":true}");
    #[cfg(unix)]
    {
        fs::remove_dir_all(out.join("photos")).unwrap();
        std::os::unix::fs::symlink(elsewhere.path(), out.join("photos")).unwrap();
        photo(folder.path(), &[]).code(2);
        assert_eq!(fs::read_dir(elsewhere.path()).unwrap().count(), 0);
    }
}

#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    let (job, elsewhere) = (job(), TempDir::new().unwrap());
    let secret = elsewhere.path().join("secret.jpg");
    fs::write(&secret, board([0.3, 0.2, 0.1])).unwrap();
    fs::remove_file(job.path().join("photos/B.jpg")).unwrap();
    std::os::unix::fs::symlink(&secret, job.path().join("photos/B.jpg")).unwrap();
    photo(job.path(), &[])
        .code(2)
        .stderr(predicate::str::contains("leads out of the job's folder"));
}

#[test]
fn a_job_without_photographs_says_how_to_begin() {
    let job = job();
    fs::remove_dir_all(job.path().join("photos")).unwrap();
    photo(job.path(), &[])
        .code(2)
        .stderr(predicate::str::contains("C7.jpg"));
}

/// How many pictures and faces a run looks at.
fn looked(folder: &Path) -> usize {
    let order = PhotoOrder {
        folder: folder.to_owned(),
        out: None,
        accept: None,
    };
    commands::photo(&order, &|_, _| ()).unwrap().looked
}

#[test]
fn only_what_has_changed_is_looked_at_again() {
    let job = job();
    let at = |name: &str| job.path().join(name);
    let written = |name: &str| fs::read(at("out").join(name)).unwrap();
    assert_eq!(looked(job.path()), 6, "three pictures, three faces");
    let files = ["photos.json", "photos/proof.html", "photos/A-up.jpg"];
    let first = files.map(written);
    assert_eq!(looked(job.path()), 0);
    assert_eq!(files.map(written), first, "told byte for byte as at first");
    // Another picture of B: that and B's face.
    fs::write(at("photos/B.jpg"), board([0.30, 0.20, 0.12])).unwrap();
    assert_eq!(looked(job.path()), 2);
    // A board of another length is looked for anew, and measured anew.
    let boards = fs::read_to_string(at("boards.csv")).unwrap();
    fs::write(at("boards.csv"), boards.replace("C,30", "C,30.25")).unwrap();
    assert_eq!(looked(job.path()), 2);
    // What can't be read is nothing known, and is written anew.
    fs::write(at("out/photos/known.json"), "{\"known\":").unwrap();
    assert_eq!(looked(job.path()), 6);
    fs::remove_file(at("out/photos/known.json")).unwrap();
    let again = files.map(written);
    assert_eq!(looked(job.path()), 6);
    assert_eq!(files.map(written), again);
}

#[test]
fn a_tone_or_a_defect_typed_needs_no_other_look() {
    let job = job();
    looked(job.path());
    let boards = fs::read_to_string(job.path().join("boards.csv")).unwrap();
    fs::write(
        job.path().join("boards.csv"),
        boards.replace("4/4,5", "4/4,3"),
    )
    .unwrap();
    let before = text(job.path(), "out/photos.json");
    assert_eq!(looked(job.path()), 0);
    assert_ne!(
        text(job.path(), "out/photos.json"),
        before,
        "the scale moves with it"
    );
}
