//! Grows the small trees that judge spots, and says how well they do on wood they never saw.
//!
//! The wood: Kodytek, Bodzas, Bilik, "A large-scale image dataset of wood surface defects for
//! automated vision-based quality control processes", F1000Research 2021, 10:581; data
//! doi 10.5281/zenodo.4694695, CC BY 4.0. The trees learn from the scans numbered 991..., and are
//! judged on all others. Gradient boosting of the logistic loss: Friedman, Greedy function
//! approximation, Annals of Statistics 29 (2001) 1189-1232.

use grainrow::photo::defects::{
    Contrast, FEATURES, Proposal, Tree, Trees, apart, propose, shared, spots_of,
};
use grainrow::photo::plane::Strip;

use crate::wood::{Marked, Scans, Wood};

const HEADER: &str = "\
# Trees that judge dark spots of a board; grown by `cargo bench --bench photo -- grow` (benches/photo/grow.rs).
# Learned from the scans numbered 991... of Kodytek, Bodzas, Bilik, A large-scale image dataset of wood
# surface defects for automated vision-based quality control processes, F1000Research 2021, 10:581,
# data doi 10.5281/zenodo.4694695, licence CC BY 4.0.
# One tree a line: figure:bound for each node of a heap, then what each leaf adds.
";
const ROUNDS: usize = 120;
const SHRINK: f64 = 0.12;
const DEPTH: u32 = 3;
const LEAST_LEAF: f64 = 12.0;
/// Marked defects smaller than this (10 mm, in inches) neither count nor harm.
const SMALL: f64 = 0.394;

struct Example {
    features: [f64; FEATURES],
    good: bool,
    weight: f64,
}

pub fn boards(scans: &Scans, learn: bool) -> Vec<Wood> {
    let all = scans.runs.iter().flat_map(|run| &run.1);
    all.filter(|name| name.starts_with("991") == learn)
        .map(|name| scans.board(std::slice::from_ref(name), 45.0))
        .collect()
}

pub fn run(scans: &Scans) {
    let learn = boards(scans, true);
    let mut examples = Vec::new();
    for wood in &learn {
        let contrast = Contrast::of(&wood.strip);
        for spot in spots_of(&contrast) {
            let edges = spot.edges(&contrast);
            let best = wood
                .marked
                .iter()
                .map(|m| alike(&m.box_, &edges))
                .fold(0.0, f64::max);
            if (0.2..0.35).contains(&best) {
                continue;
            }
            examples.push(Example {
                features: spot.features,
                good: best >= 0.35,
                weight: 1.0,
            });
        }
    }
    let good = examples.iter().filter(|e| e.good).count();
    println!(
        "{} spots to learn from, {good} on marked defects",
        examples.len()
    );
    let trees = grow(&examples);
    std::fs::write(
        "src/photo/defects/trees.txt",
        HEADER.to_owned() + &trees.write(),
    )
    .unwrap();
    for (name, woods) in [
        ("learned from", learn),
        ("other series", boards(scans, false)),
    ] {
        judge(name, &woods, |strip| {
            let contrast = Contrast::of(strip);
            let spots = spots_of(&contrast).into_iter().map(|spot| Proposal {
                kind: spot.kind(),
                confidence: trees.confidence(&spot.features),
                edges: spot.edges(&contrast),
            });
            apart(spots.filter(|p| p.confidence > 0.02).collect())
        });
    }
}

/// How well two rectangles agree: what they share of what they cover together.
fn alike(a: &[f64; 4], b: &[f64; 4]) -> f64 {
    let area = |r: &[f64; 4]| (r[1] - r[0]) * (r[3] - r[2]);
    let over = shared(a, b) * area(a).min(area(b));
    over / (area(a) + area(b) - over)
}

fn grow(examples: &[Example]) -> Trees {
    let weight: f64 = examples.iter().map(|e| e.weight).sum();
    let good: f64 = examples.iter().filter(|e| e.good).map(|e| e.weight).sum();
    let mut trees = Trees {
        start: (good / (weight - good)).ln(),
        trees: Vec::new(),
    };
    let mut scores = vec![trees.start; examples.len()];
    for _ in 0..ROUNDS {
        let slopes: Vec<(f64, f64)> = (examples.iter().zip(&scores))
            .map(|(e, score)| {
                let p = 1.0 / (1.0 + (-score).exp());
                (
                    e.weight * (f64::from(e.good) - p),
                    e.weight * (p * (1.0 - p)).max(1e-6),
                )
            })
            .collect();
        let tree = tree(examples, &slopes);
        for (score, example) in scores.iter_mut().zip(examples) {
            *score += tree.answer(&example.features);
        }
        trees.trees.push(tree);
    }
    trees
}

fn tree(examples: &[Example], slopes: &[(f64, f64)]) -> Tree {
    let inner = (1usize << DEPTH) - 1;
    let mut nodes = vec![(0, f64::INFINITY); inner];
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); 2 * inner + 1];
    members[0] = (0..examples.len()).collect();
    for node in 0..inner {
        nodes[node] = split(examples, slopes, &members[node]).unwrap_or((0, 1e9));
        let (feature, bound) = nodes[node];
        let (below, above): (Vec<usize>, Vec<usize>) = members[node]
            .iter()
            .partition(|&&at| examples[at].features[feature] <= bound);
        members[2 * node + 1] = below;
        members[2 * node + 2] = above;
    }
    let leaves = members[inner..].iter().map(|at| {
        let (g, h) = at
            .iter()
            .fold((0.0, 0.0), |(g, h), &i| (g + slopes[i].0, h + slopes[i].1));
        SHRINK * g / (h + 1.0)
    });
    Tree {
        leaves: leaves.collect(),
        nodes,
    }
}

fn split(examples: &[Example], slopes: &[(f64, f64)], members: &[usize]) -> Option<(usize, f64)> {
    let mut best: Option<(f64, usize, f64)> = None;
    let sum = |at: &[usize]| {
        at.iter()
            .fold((0.0, 0.0), |(g, h), &i| (g + slopes[i].0, h + slopes[i].1))
    };
    let (all_g, all_h) = sum(members);
    let gain = |g: f64, h: f64| g * g / (h + 1.0);
    for feature in 0..FEATURES {
        let mut sorted = members.to_vec();
        sorted.sort_by(|&a, &b| {
            examples[a].features[feature].total_cmp(&examples[b].features[feature])
        });
        let (mut g, mut h) = (0.0, 0.0);
        for (rank, pair) in sorted.windows(2).enumerate() {
            g += slopes[pair[0]].0;
            h += slopes[pair[0]].1;
            let (low, high) = (
                examples[pair[0]].features[feature],
                examples[pair[1]].features[feature],
            );
            let enough =
                rank as f64 + 1.0 >= LEAST_LEAF && (sorted.len() - rank - 1) as f64 >= LEAST_LEAF;
            if low < high && enough {
                let gained = gain(g, h) + gain(all_g - g, all_h - h) - gain(all_g, all_h);
                if best.is_none_or(|(most, ..)| gained > most) {
                    best = Some((gained, feature, (low + high) / 2.0));
                }
            }
        }
    }
    best.map(|(_, feature, bound)| (feature, bound))
}

/// A marked defect is found by a proposal that shares at least 0.3 of what both cover together.
fn hits(mark: &Marked, edges: &[f64; 4]) -> bool {
    alike(&mark.box_, edges) >= 0.3
}

pub fn judge(name: &str, woods: &[Wood], find: impl Fn(&Strip) -> Vec<Proposal> + Sync) {
    use rayon::prelude::*;
    let found: Vec<Vec<Proposal>> = woods.par_iter().map(|w| find(&w.strip)).collect();
    let large = |m: &Marked| (m.box_[1] - m.box_[0]).max(m.box_[3] - m.box_[2]) >= SMALL;
    let mut false_ones: Vec<f64> = Vec::new();
    let mut of_marked: Vec<(String, f64)> = Vec::new();
    for (wood, proposals) in woods.iter().zip(&found) {
        for p in proposals {
            if !wood.marked.iter().any(|m| hits(m, &p.edges)) {
                false_ones.push(p.confidence);
            }
        }
        for mark in wood.marked.iter().filter(|m| large(m)) {
            let best = proposals
                .iter()
                .filter(|p| hits(mark, &p.edges))
                .map(|p| p.confidence);
            of_marked.push((mark.kind.clone(), best.fold(0.0, f64::max)));
        }
    }
    false_ones.sort_by(|a, b| b.total_cmp(a));
    for rate in [0.1, 0.15, 0.25, 0.5, 1.0] {
        let rank = (rate * woods.len() as f64) as usize;
        let bound = false_ones.get(rank).copied().unwrap_or(0.0);
        let mut kinds: Vec<&str> = of_marked.iter().map(|(k, _)| k.as_str()).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let part = |test: &dyn Fn(&str) -> bool| {
            let all: Vec<_> = of_marked.iter().filter(|(k, _)| test(k)).collect();
            let hit = all.iter().filter(|(_, c)| *c > bound).count();
            format!("{hit}/{}", all.len())
        };
        let by_kind: Vec<String> = kinds
            .iter()
            .map(|k| format!("{k} {}", part(&|x| x == *k)))
            .collect();
        println!(
            "{name}, {rate} false a scan (confidence {bound:.2}): knots {}, {}",
            part(&|k| k.contains("knot")),
            by_kind.join(", ")
        );
    }
}

pub fn shipped(scans: &Scans) {
    judge("shipped, other series", &boards(scans, false), propose);
}
