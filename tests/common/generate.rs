//! Invented jobs of any size for tests and benchmarks, equal for equal seeds.
//!
//! A generated job looks like a shop's: cases of five rows, each row as wide as its case and its
//! fronts of equal height, thin and thick, and a
//! pile of flat-sawn boards of mixed size, thickness and tone, a little warped, with the usual
//! knots, end checks and wane. Nothing in it is measured on real boards. Sizes are whole
//! sixteenths of an inch, warp whole thirty-seconds, and all settings are the defaults.
//!
//! | what | distribution |
//! |---|---|
//! | cases | a new one every five runs, 30 to 72 in wide, the narrow ones likelier |
//! | fronts along the grain | the case's width shared out: equally in three runs of five, else with shares up to three to one |
//! | fronts across the grain | 4 to 8 1/2 in, equal within a run, the low ones likelier |
//! | front thickness, by run | 3/4 in 65 %, 7/8 in 25 %, 1 1/8 in 10 % |
//! | grain | one run of five vertical |
//! | boards | 66 to 132 in long, 6 to 12 in wide, the small ones likelier |
//! | board thickness | 4/4 60 %, 5/4 25 %, 6/4 10 %, 8/4 5 % |
//! | tone | 2 to 8 in half steps, the middle likelier |
//! | warp over the board | bow and crook to 3/8 in, twist to 1/4 in, cup to 1/8 in, mostly small |
//! | defects | none 35 %, one 35 %, two 20 %, three 10 %; see `defect` |
//!
//! The pile is sized so that its face comes near 3.5 to 5 times that of all blanks, as far as board
//! sizes allow: most fronts can be made, and which board makes which is a real choice.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use grainrow::job::{Board, Cut, Defect, DefectKind, DefectSide, Front, Grain, Job, Run, Settings};
use grainrow::measure::{Length, Tone};

/// How large a generated job is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Fronts in all.
    pub fronts: usize,
    /// Runs they stand in, at most as many as fronts.
    pub runs: usize,
    /// Boards in the pile.
    pub boards: usize,
}

impl Size {
    /// A chest: 20 fronts in 5 runs, 14 boards.
    pub const CHEST: Size = Size::new(20, 5, 14);
    /// A kitchen: 60 fronts in 15 runs, 40 boards.
    pub const KITCHEN: Size = Size::new(60, 15, 40);
    /// A house: 200 fronts in 50 runs, 120 boards.
    pub const HOUSE: Size = Size::new(200, 50, 120);
    /// A mill: 1000 fronts in 250 runs, 600 boards.
    pub const MILL: Size = Size::new(1000, 250, 600);

    /// So many fronts in so many runs, and so many boards.
    pub const fn new(fronts: usize, runs: usize, boards: usize) -> Size {
        Size {
            fronts,
            runs,
            boards,
        }
    }
}

/// An invented job of the given size; see the [module](self) for what is in it.
///
/// Equal sizes and seeds give equal jobs on every machine.
pub fn generate(size: Size, seed: u64) -> Job {
    let mut dice = Dice(Pcg64::seed_from_u64(seed));
    let (fronts, runs) = dice.fronts(size);
    let settings = Settings {
        title: format!("Invented job {seed} of {} fronts", size.fronts),
        ..Settings::default()
    };
    let face: f64 = fronts.iter().map(|f| blank_face(f, &settings)).sum();
    let face = face * dice.between(3.5, 5.0);
    Job {
        boards: dice.pile(size.boards, face),
        settings,
        fronts,
        runs,
        ..Job::default()
    }
}

/// Square inches of the blank a front is milled from.
pub fn blank_face(front: &Front, settings: &Settings) -> f64 {
    let allow = &settings.allowances;
    (front.along() + allow.rough_length).inches() * (front.across() + allow.rough_width).inches()
}

/// No front is shorter along the grain, in inches.
const SHORTEST: f64 = 5.0;

/// The one source of chance, asked in a fixed order.
struct Dice(Pcg64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0.random_range(0.0..1.0)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Which of the weights a throw falls on.
    fn pick(&mut self, weights: &[f64]) -> usize {
        let mut left = self.unit() * weights.iter().sum::<f64>();
        let last = weights.len().saturating_sub(1);
        weights
            .iter()
            .position(|weight| {
                left -= weight;
                left < 0.0
            })
            .unwrap_or(last)
    }

    fn fronts(&mut self, size: Size) -> (Vec<Front>, Vec<Run>) {
        let mut fronts = Vec::new();
        let mut runs = Vec::new();
        let mut case = 0.0;
        for (index, count) in self.run_sizes(size).into_iter().enumerate() {
            if index % 5 == 0 {
                case = 30.0 + 42.0 * self.unit().powf(1.5);
            }
            let name = format!("row{}", index + 1);
            let first = fronts.len();
            fronts.extend(self.row(&name, count, case));
            runs.push(Run {
                name,
                fronts: (first..first + count).collect(),
            });
        }
        (fronts, runs)
    }

    /// One front for each run, the rest thrown among them.
    fn run_sizes(&mut self, size: Size) -> Vec<usize> {
        let runs = size.runs.min(size.fronts);
        let mut counts = vec![1; runs];
        let most = 2 * size.fronts.div_ceil(runs.max(1));
        let mut left = size.fronts - runs;
        while left > 0 {
            let run = self.0.random_range(0..runs);
            if counts[run] < most {
                counts[run] += 1;
                left -= 1;
            }
        }
        counts
    }

    /// A row of `count` fronts as wide as its case.
    fn row(&mut self, name: &str, count: usize, case: f64) -> Vec<Front> {
        let across = to_parts(4.0 + 4.5 * self.unit().powf(1.2), 8);
        let thickness = [0.75, 0.875, 1.125][self.pick(&[0.65, 0.25, 0.10])];
        let vertical = self.unit() < 0.2;
        let equal = self.unit() < 0.6;
        let space = to_parts(self.between(0.75, 1.25), 4);
        let shares: Vec<f64> = (0..count)
            .map(|_| if equal { 1.0 } else { self.between(1.0, 3.0) })
            .collect();
        let clear = case - space.inches() * (count - 1) as f64;
        let all: f64 = shares.iter().sum();
        (0..count)
            .map(|place| {
                let along = to_parts((clear * shares[place] / all).max(SHORTEST), 16);
                let (width, height, grain) = if vertical {
                    (across, along, Grain::Vertical)
                } else {
                    (along, across, Grain::Horizontal)
                };
                Front {
                    name: format!("{name}.{}", place + 1),
                    width,
                    height,
                    thickness: Length::from_inches(thickness),
                    grain,
                    space_after: (place + 1 < count).then_some(space),
                    glue: true,
                    ..Front::default()
                }
            })
            .collect()
    }

    /// Boards whose faces add up to about `face` square inches.
    fn pile(&mut self, count: usize, face: f64) -> Vec<Board> {
        let throws: Vec<(f64, f64)> = (0..count).map(|_| (self.unit(), self.unit())).collect();
        let sizes = pile_sizes(&throws, face);
        sizes
            .into_iter()
            .enumerate()
            .map(|(index, (length, width))| self.board(index, length, width))
            .collect()
    }

    fn board(&mut self, index: usize, length: Length, width: Length) -> Board {
        let thickness = [1.0, 1.25, 1.5, 2.0][self.pick(&[0.60, 0.25, 0.10, 0.05])];
        let tone = 2.0 + ((self.unit() + self.unit()) * 6.0).round() / 2.0;
        let mut warp = |most: f64, power: f64| to_parts(most * self.unit().powf(power), 32);
        let (bow, cup) = (warp(0.375, 2.0), warp(0.125, 2.0));
        let (twist, crook) = (warp(0.25, 3.0), warp(0.375, 2.0));
        let defects = self.pick(&[0.35, 0.35, 0.20, 0.10]);
        Board {
            id: format!("B{}", index + 1),
            copies: vec![1],
            length,
            width,
            thickness: Length::from_inches(thickness),
            tone: Tone::new(tone).unwrap_or_default(),
            cut: Some(Cut::Flat),
            bow,
            cup,
            twist,
            crook,
            defects: (0..defects).map(|_| self.defect(length, width)).collect(),
            ..Board::default()
        }
    }

    /// A knot (half of them, two of five on one side only), an end check, wane along an edge, or
    /// a stain.
    fn defect(&mut self, length: Length, width: Length) -> Defect {
        let (long, wide) = (length.inches(), width.inches());
        let place = self.unit();
        let (kind, along, across, side) = match self.pick(&[0.5, 0.2, 0.2, 0.1]) {
            0 => {
                let size = self.between(0.5, 2.0);
                let side = self.side(0.6);
                let low = self.between(0.0, wide - size);
                let from = place * (long - size);
                let across = (low, low + size);
                (DefectKind::Knot, (from, from + size), across, side)
            }
            1 => {
                let reach = self.between(2.0, 8.0);
                let low = self.between(0.5, wide - 1.0);
                let from = if place < 0.5 { 0.0 } else { long - reach };
                let across = (low, low + 0.25);
                (
                    DefectKind::Check,
                    (from, from + reach),
                    across,
                    DefectSide::Both,
                )
            }
            2 => {
                let reach = self.between(6.0, 30.0);
                let depth = self.between(0.25, 1.0);
                let from = place * (long - reach);
                let low = if self.unit() < 0.5 { 0.0 } else { wide - depth };
                let side = self.side(0.2);
                (
                    DefectKind::Wane,
                    (from, from + reach),
                    (low, low + depth),
                    side,
                )
            }
            _ => {
                let reach = self.between(2.0, 6.0);
                let low = self.between(0.0, wide - 1.5);
                let from = place * (long - reach);
                let side = self.side(0.3);
                (
                    DefectKind::Stain,
                    (from, from + reach),
                    (low, low + 1.5),
                    side,
                )
            }
        };
        Defect {
            kind,
            from: to_parts(along.0, 16),
            to: to_parts(along.1, 16).min(length),
            low: to_parts(across.0, 16),
            high: to_parts(across.1, 16).min(width),
            side,
            notes: String::new(),
        }
    }

    fn side(&mut self, through: f64) -> DefectSide {
        let half = (1.0 - through) / 2.0;
        [DefectSide::Both, DefectSide::Up, DefectSide::Down][self.pick(&[through, half, half])]
    }
}

/// Lengths and widths for the thrown numbers, all raised to the one power that brings the sum of
/// the faces nearest to `face` square inches.
fn pile_sizes(throws: &[(f64, f64)], face: f64) -> Vec<(Length, Length)> {
    let sizes = |power: f64| -> Vec<(Length, Length)> {
        let size = |&(long, wide): &(f64, f64)| {
            let length = to_parts(66.0 + 66.0 * long.powf(power), 2);
            (length, to_parts(6.0 + 6.0 * wide.powf(power), 8))
        };
        throws.iter().map(size).collect()
    };
    let off = |power: f64| {
        let sum: f64 = sizes(power)
            .iter()
            .map(|(length, width)| length.inches() * width.inches())
            .sum();
        (sum - face).abs()
    };
    let powers = (5..=60).map(|tenths| f64::from(tenths) / 10.0);
    let best = powers.min_by(|&a, &b| off(a).total_cmp(&off(b)));
    sizes(best.unwrap_or(1.0))
}

/// `inches` to the nearest one `parts`th.
fn to_parts(inches: f64, parts: u32) -> Length {
    let parts = f64::from(parts);
    Length::from_inches((inches * parts).round() / parts)
}
