use super::*;
use crate::draw::testing::{chest, clashes, random};

#[test]
fn no_words_overlap_on_200_random_cases() {
    for seed in 0..200 {
        let (job, plan) = random(seed);
        let drawing = elevation(&job, &plan);
        let clashes = clashes(&drawing);
        assert!(clashes.is_empty(), "seed {seed}: {clashes:#?}");
        assert!(drawing.height <= theme::HEIGHT, "seed {seed}");
    }
}

#[test]
fn fronts_stand_apart_and_in_run_order() {
    let (job, _) = chest();
    let arrangement = Arrangement::of(&job);
    let frame = arrangement.frame(0.0);
    let rects: Vec<_> = arrangement.fronts.iter().map(|p| frame.rect(p)).collect();
    for (i, a) in rects.iter().enumerate() {
        assert!(rects[..i].iter().all(|b| !a.overlaps(b, 0.01)));
    }
    let left = |front: usize| {
        arrangement
            .fronts
            .iter()
            .find(|p| p.front == front)
            .map(|p| p.left)
    };
    for run in &job.runs {
        for pair in run.fronts.windows(2) {
            assert!(left(pair[0]) < left(pair[1]));
        }
    }
}

#[test]
fn a_chest_looks_as_it_did() {
    let (job, plan) = chest();
    insta::assert_snapshot!(elevation(&job, &plan).svg_element());
}

#[test]
#[ignore = "writes pictures to look at"]
fn pictures() {
    let dir = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("target/pictures");
    std::fs::create_dir_all(&dir).expect("a folder");
    let (job, plan) = chest();
    let drawing = elevation(&job, &plan);
    std::fs::write(dir.join("chest.png"), drawing.png()).expect("written");
    std::fs::write(dir.join("chest.svg"), drawing.svg()).expect("written");
    for seed in 0..6 {
        let (job, plan) = random(seed);
        let drawing = elevation(&job, &plan);
        std::fs::write(dir.join(format!("case-{seed}.png")), drawing.png()).expect("written");
    }
}
