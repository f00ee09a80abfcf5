//! Corners found in rendered photographs.

use grainrow::photo::outline::{SURE, find_boards};
use grainrow::photo::plane::Strip;

use crate::camera::{Ground, Laid, Shot, take};
use crate::wood::Scans;

pub fn run(scans: &Scans) {
    for (name, ground, k1) in [
        ("plain ground", Ground::Plain([0.09, 0.10, 0.12]), 0.0),
        (
            "plain ground, k1 0.01",
            Ground::Plain([0.09, 0.10, 0.12]),
            0.01,
        ),
        (
            "pale grey ground, k1 0.01",
            Ground::Plain([0.3, 0.31, 0.33]),
            0.01,
        ),
        ("wooden bench", Ground::Bench, 0.0),
    ] {
        let (mut offs, mut missed, mut wrong) = (Vec::new(), 0, 0);
        let mut boards = 0;
        for (index, (_, run)) in scans.runs.iter().filter(|r| r.1.len() > 2).enumerate() {
            let wood = scans.board(run, 60.0);
            for (turn, paper) in [Laid::Nowhere, Laid::BothEdges, Laid::Frame]
                .into_iter()
                .enumerate()
            {
                let seed = (index * 3 + turn) as u64;
                let shot = Shot {
                    ground,
                    k1,
                    paper,
                    seed,
                    ..Shot::default()
                };
                boards += 1;
                match found(&wood.strip, &shot) {
                    Some(off) if off < 0.5 => offs.push(off),
                    Some(_) => wrong += 1,
                    None => {
                        missed += 1;
                    }
                }
            }
        }
        offs.sort_by(f64::total_cmp);
        let within = offs.iter().filter(|off| **off <= 0.1).count();
        println!(
            "corners, {name}: {boards} boards, within 0.1 in {within}, median {:.3}, worst {:.3}, not sure {missed}, sure and wrong {wrong}",
            offs.get(offs.len() / 2).unwrap_or(&f64::NAN),
            offs.last().unwrap_or(&f64::NAN)
        );
    }
}

/// The worst corner's distance in inches, when the find is sure.
fn found(board: &Strip, shot: &Shot) -> Option<f64> {
    let taken = take(&[board], shot);
    let size = (board.window.length(), board.window.width());
    let found = find_boards(&taken.picture(), &[size])[0]?;
    (found.confidence >= SURE).then(|| {
        let pairs = found.corners.iter().zip(&taken.corners[0]);
        pairs
            .map(|(a, b)| a.distance(*b) / shot.scale)
            .fold(0.0, f64::max)
    })
}
