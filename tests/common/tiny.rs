//! Seeded tiny jobs for the exhaustive solver: whole inches, few fronts, every rule in play
//! somewhere. Invented; no shop is that crowded.

use grainrow::job::{
    Allowances, Between, Board, Defect, DefectKind, DefectSide, Front, Glue, Grain, Job, Run,
    Settings, Worth,
};
use grainrow::measure::{Length, Tone};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// How large, and with what.
#[derive(Clone, Copy, Debug)]
pub struct Tiny {
    pub fronts: usize,
    pub boards: usize,
    /// One front may be glued from staves.
    pub glue: bool,
    /// Boards have defects on one side or through.
    pub defects: bool,
    /// Boards are bowed, cupped, twisted or crooked.
    pub warp: bool,
    /// Some boards are on offer.
    pub prices: bool,
}

impl Default for Tiny {
    fn default() -> Tiny {
        Tiny {
            fronts: 3,
            boards: 2,
            glue: false,
            defects: true,
            warp: true,
            prices: false,
        }
    }
}

fn inches(whole: i64) -> Length {
    Length::from_nm(whole * 25_400_000)
}

struct Dice(Pcg64);

impl Dice {
    fn whole(&mut self, low: i64, high: i64) -> i64 {
        self.0.random_range(low..=high)
    }

    fn chance(&mut self, of_ten: i64) -> bool {
        self.whole(1, 10) <= of_ten
    }

    fn length(&mut self, low: i64, high: i64) -> Length {
        inches(self.whole(low, high))
    }
}

/// A tiny job; equal for equal sizes and seeds.
pub fn tiny(size: Tiny, seed: u64) -> Job {
    let mut dice = Dice(Pcg64::seed_from_u64(seed));
    let crooked = size.warp && dice.chance(3);
    let settings = settings(&mut dice, size, crooked);
    let boards: Vec<Board> = (0..size.boards)
        .map(|index| board(&mut dice, size, crooked, index))
        .collect();
    let (mut fronts, runs) = fronts(&mut dice, size);
    if dice.chance(3) {
        let pinned = dice.whole(0, size.fronts as i64 - 1) as usize;
        fronts[pinned].boards = vec![boards[0].id.clone()];
    }
    if size.glue {
        let glued = dice.whole(0, size.fronts as i64 - 1) as usize;
        fronts[glued].glue = true;
        fronts[glued].height = dice.length(3, 6);
    }
    Job {
        settings,
        boards,
        fronts,
        runs,
        ..Job::default()
    }
}

fn settings(dice: &mut Dice, size: Tiny, crooked: bool) -> Settings {
    let crosscut_kerf = dice.length(0, 1);
    let rough_length = dice.length(0, 1);
    let allowances = Allowances {
        crosscut_kerf,
        rip_kerf: dice.length(0, 1),
        end_trim: dice.length(0, 1),
        edge_trim: dice.length(0, 1),
        rough_length,
        rough_width: dice.length(0, 1),
        plane: Length::from_inches(1.0 / 32.0),
        clear: dice.length(0, 1),
        longest_skip: crosscut_kerf + rough_length + dice.length(0, 2),
        shortest_safe: inches([0, 4, 6, 9][dice.whole(0, 3) as usize]),
        keep_offcut: dice.chance(8).then(|| dice.length(5, 9)),
        // The exhaustive solver's grid needs that no edge of a crooked board is kept.
        keep_width: if crooked {
            inches(8)
        } else {
            dice.length(2, 4)
        },
        between: if dice.chance(2) {
            Between::AsBuilt
        } else {
            Between::Tight
        },
    };
    let hundredths = |dice: &mut Dice, low, high| dice.whole(low, high) as f64 / 100.0;
    let worth = Worth {
        unbroken: hundredths(dice, 0, 60),
        tone_run: hundredths(dice, 0, 15),
        tone_case: hundredths(dice, 0, 10),
        glue_line: hundredths(dice, 30, 60),
        owned: if size.prices {
            dice.whole(0, 6) as f64
        } else {
            0.0
        },
        ..Worth::default()
    };
    Settings {
        allowances,
        worth,
        glue: Glue {
            from: Length::ZERO,
            step: Length::from_inches(0.125),
            allow: size.glue,
            least_stave: dice.length(2, 3),
            joint: dice.length(0, 1),
        },
        ..Settings::default()
    }
}

fn board(dice: &mut Dice, size: Tiny, crooked: bool, index: usize) -> Board {
    let (length, width) = (dice.whole(12, 22), dice.whole(5, 8));
    let mut sixteenths = |most: i64| {
        let warped = size.warp && dice.chance(6);
        Length::from_inches(if warped {
            dice.whole(0, most) as f64 / 16.0
        } else {
            0.0
        })
    };
    let (bow, cup, twist) = (sixteenths(8), sixteenths(3), sixteenths(5));
    let crook = if crooked {
        sixteenths(16)
    } else {
        Length::ZERO
    };
    let defects = if size.defects { dice.whole(0, 2) } else { 0 };
    Board {
        id: format!("B{}", index + 1),
        copies: if dice.chance(3) { vec![1, 2] } else { vec![1] },
        length: inches(length),
        width: inches(width),
        thickness: Length::from_inches([1.0, 1.0, 1.25, 2.0][dice.whole(0, 3) as usize]),
        tone: Tone::new(dice.whole(2, 8) as f64 / 2.0).expect("a tone"),
        bow,
        cup,
        twist,
        crook,
        price: (size.prices && dice.chance(5)).then(|| dice.whole(2, 12) as f64),
        defects: (0..defects).map(|_| defect(dice, length, width)).collect(),
        ..Board::default()
    }
}

fn defect(dice: &mut Dice, length: i64, width: i64) -> Defect {
    let (from, low) = (dice.whole(0, length - 2), dice.whole(0, width - 1));
    let sides = [DefectSide::Both, DefectSide::Up, DefectSide::Down];
    Defect {
        kind: DefectKind::Knot,
        from: inches(from),
        to: inches(from + dice.whole(1, 2)),
        low: inches(low),
        high: inches(low + 1),
        side: sides[dice.whole(0, 2) as usize],
        notes: String::new(),
    }
}

fn fronts(dice: &mut Dice, size: Tiny) -> (Vec<Front>, Vec<Run>) {
    let (mut fronts, mut runs) = (Vec::new(), Vec::new());
    while fronts.len() < size.fronts {
        let left = (size.fronts - fronts.len()) as i64;
        let count = dice.whole(1, left.min(3)) as usize;
        let first = fronts.len();
        let name = format!("run{}", runs.len() + 1);
        let height = dice.length(1, 4);
        let thickness = Length::from_inches([0.75, 0.75, 1.0][dice.whole(0, 2) as usize]);
        let vertical = dice.chance(2);
        for place in 0..count {
            let (along, across) = (dice.length(2, 7), height);
            fronts.push(Front {
                name: format!("{name}.{}", place + 1),
                width: if vertical { across } else { along },
                height: if vertical { along } else { across },
                grain: if vertical {
                    Grain::Vertical
                } else {
                    Grain::Horizontal
                },
                thickness,
                space_after: Some(dice.length(0, 2)),
                ..Front::default()
            });
        }
        runs.push(Run {
            name,
            fronts: (first..first + count).collect(),
        });
    }
    (fronts, runs)
}
