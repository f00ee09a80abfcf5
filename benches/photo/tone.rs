//! Tones measured in rendered photographs against the scans themselves.

use grainrow::photo::colour::{Lab, delta_e};
use grainrow::photo::face::{View, measure, see};
use grainrow::photo::plane::Strip;
use grainrow::photo::tone::colour_of;

use crate::camera::{Laid, Shot, take};
use crate::wood::{Scans, Wood};

struct Seen {
    truth: Lab,
    found: Lab,
    within: f64,
    between: f64,
}

pub fn run(scans: &Scans) {
    let runs = scans.runs.iter().filter(|run| run.1.len() > 2);
    let woods: Vec<Wood> = runs.map(|run| scans.board(&run.1, 50.0)).collect();
    for (name, paper) in [
        ("both edges", Laid::BothEdges),
        ("a frame", Laid::Frame),
        ("both ends", Laid::BothEnds),
        ("one end", Laid::OneEnd),
        ("none", Laid::Nowhere),
    ] {
        let (mut within, mut between, mut true_within, mut true_between) = (vec![], vec![], 0, 0);
        let mut last: Option<Seen> = None;
        for (at, pair) in woods.windows(2).enumerate() {
            let curve = 1.1;
            let seed = at as u64;
            let cast = [[1.0, 0.92, 0.75], [0.9, 0.95, 1.0], [1.0, 0.85, 0.6]][at % 3];
            let shot = Shot {
                paper,
                curve,
                seed,
                cast,
                scale: 30.0,
                ..Shot::default()
            };
            let [a, b] = pair_in_one(&pair[0].strip, &pair[1].strip, &shot);
            // What the pair's difference is off by, put upon one of them.
            let off = off(&a, &b);
            within.push(off.0);
            true_within += usize::from(off.1.abs() <= a.within.hypot(b.within));
            // The same board in two pictures.
            if let Some(before) = last {
                between.push(self::off(&before, &a).0);
                let off = self::off(&before, &a).1;
                true_between += usize::from(off.abs() <= before.between.hypot(a.between));
            }
            last = Some(b);
        }
        let (w, b) = (within.len(), between.len());
        println!(
            "tone, paper at {name}: within a photo dE00 median {:.2}, 95 % {:.2}, uncertainty true {}/{w}; \
             between photos {:.2}, {:.2}, {}/{b}",
            part(&mut within, 0.5),
            part(&mut within, 0.95),
            true_within,
            part(&mut between, 0.5),
            part(&mut between, 0.95),
            true_between
        );
    }
}

/// Error of a difference: in dE00, and in L*.
fn off(a: &Seen, b: &Seen) -> (f64, f64) {
    let moved = |part: fn(Lab) -> f64| {
        part(a.truth) + part(b.found) - part(a.found) - (part(b.truth) - part(a.truth))
    };
    let shifted = Lab {
        l: moved(|l| l.l),
        a: moved(|l| l.a),
        b: moved(|l| l.b),
    };
    (delta_e(a.truth, shifted), shifted.l - a.truth.l)
}

fn pair_in_one(a: &Strip, b: &Strip, shot: &Shot) -> [Seen; 2] {
    let taken = take(&[a, b], shot);
    let picture = taken.picture();
    [(a, 0), (b, 1)].map(|(board, at)| {
        let view = View {
            window: board.window,
            corners: taken.corners[at],
            white: None,
        };
        let sight = see(&picture, &view).expect("a board");
        let measured = measure(vec![sight], board.window, 6.0).expect("a face");
        let spots: Vec<[f64; 4]> = measured.proposals.iter().map(|p| p.edges).collect();
        Seen {
            truth: colour_of(board, &spots, 6.0).lab,
            found: measured.colour.lab,
            within: measured.within,
            between: measured.between(),
        }
    })
}

pub fn part(values: &mut [f64], part: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let at = ((values.len() as f64 - 1.0) * part).round();
    values.get(at as usize).copied().unwrap_or(f64::NAN)
}
