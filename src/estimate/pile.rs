//! Random boards as the yard tends to have them.
//!
//! Sizes come evenly from the yard's spans, lengths by whole inches and widths by eighths from
//! the least on; in a metric yard by 10 and 5 mm. A board's own clear yield is drawn evenly between the least its grade allows
//! and the least of the next better kind of yield (the whole face, for FAS); defects are then
//! put on it one by one until the yield has come down to that, and a defect that would take it
//! below the grade is put elsewhere. How often each kind of defect comes and how large it is are
//! our invention; that yields are spread evenly is too. The least yields are published.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use super::clear::{cuttings, surface, units};
use crate::job::{Board, ClearFace, Defect, DefectKind, DefectSide, Mix, Span, Yard};
use crate::measure::{Length, Tone, Unit};
use crate::plan::Face;

/// Defects tried on a board before it is left as it is.
const TRIES: usize = 24;
/// Cutting units in a foot of surface measure.
const WHOLE_FACE: f64 = 12.0;

/// An endless pile of boards of one thickness.
pub struct Pile<'y> {
    yard: &'y Yard,
    thickness: Length,
    measured_in: Unit,
    rng: Pcg64,
    drawn: u32,
}

impl<'y> Pile<'y> {
    /// The pile of one trial. Equal yards, thicknesses, seeds and trials give equal piles.
    pub fn new(yard: &'y Yard, thickness: Length, seed: u64, trial: u64) -> Pile<'y> {
        let parts = [seed, trial, thickness.nm().unsigned_abs()];
        let mixed = parts
            .into_iter()
            .fold(0, |mixed, part| Pcg64::seed_from_u64(mixed ^ part).random());
        Pile {
            yard,
            thickness,
            measured_in: Unit::Inch,
            rng: Pcg64::seed_from_u64(mixed),
            drawn: 0,
        }
    }

    /// The same, its boards measured in round numbers of `unit`.
    pub fn measured_in(self, unit: Unit) -> Pile<'y> {
        Pile {
            measured_in: unit,
            ..self
        }
    }

    fn unit(&mut self) -> f64 {
        self.rng.random_range(0.0..1.0)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// The next board.
    pub fn board(&mut self) -> Board {
        self.drawn += 1;
        let yard = self.yard;
        let size = |inches, mm| Length::round_in(self.measured_in, inches, mm);
        let (inch, eighth) = (size(1.0, 10.0), size(0.125, 5.0));
        let hair = size(1.0 / 32.0, 0.5);
        let length = self.of_mix(&yard.length, inch);
        let width = self.of_mix(&yard.width, eighth);
        let tone = self.tone(&yard.tone);
        let mut board = Board {
            id: format!("Y{}", self.drawn),
            copies: vec![1],
            length,
            width,
            thickness: self.thickness,
            tone,
            bow: self.of_span(&yard.bow, hair),
            cup: self.of_span(&yard.cup, hair),
            twist: self.of_span(&yard.twist, hair),
            crook: self.of_span(&yard.crook, hair),
            ..Board::default()
        };
        if let Some(faces) = yard.grade.faces() {
            self.spoil(&mut board, faces);
        }
        board
    }

    fn of_mix(&mut self, mix: &Mix<Length>, step: Length) -> Length {
        let sum: f64 = mix.parts.iter().map(|part| part.1).sum();
        let mut left = self.unit() * sum;
        let picked = mix.parts.iter().find(|part| {
            left -= part.1;
            left < 0.0
        });
        let (span, _) = picked.unwrap_or(&mix.parts[0]);
        self.of_span(span, step)
    }

    /// Evenly one of the sizes a whole number of steps above the least.
    fn of_span(&mut self, span: &Span<Length>, step: Length) -> Length {
        let steps = (span.most - span.least).nm() / step.nm();
        span.least + step * (self.unit() * (steps + 1) as f64) as i64
    }

    fn tone(&mut self, span: &Span<Tone>) -> Tone {
        let halves = ((span.most.value() - span.least.value()) * 2.0).floor();
        let above = (self.unit() * (halves + 1.0)).floor() / 2.0;
        Tone::new(span.least.value() + above).unwrap_or(span.least)
    }

    /// Puts defects on a clear board until its faces give as little as is drawn for them.
    fn spoil(&mut self, board: &mut Board, [better, poorer]: [ClearFace; 2]) {
        let whole = surface(board).max(1) as f64;
        let share = self.unit();
        let least = |rules: &ClearFace| rules.units_per_foot as f64;
        let aim = least(&poorer) + share * (next_better(&poorer) - least(&poorer));
        for _ in 0..TRIES {
            let defect = self.defect(board.length, board.width);
            board.defects.push(defect);
            let of = |face, rules: &ClearFace| units(&cuttings(board, face, rules)) / whole;
            let (up, down) = (of(Face::Up, &better), of(Face::Down, &poorer));
            if up < least(&better) || down < least(&poorer) {
                board.defects.pop();
            } else if down <= aim {
                break;
            }
        }
    }

    /// A knot, an end check or split, wane along an edge, or a streak of sap.
    fn defect(&mut self, length: Length, width: Length) -> Defect {
        let (long, wide) = (length.inches(), width.inches());
        let kind = self.unit();
        let (kind, reach, depth, side) = if kind < 0.45 {
            let size = self.between(0.5, 1.75).min(wide / 2.0);
            (DefectKind::Knot, size, size, self.side(0.6))
        } else if kind < 0.65 {
            (
                DefectKind::Check,
                self.between(2.0, 10.0),
                0.25,
                DefectSide::Both,
            )
        } else if kind < 0.85 {
            (
                DefectKind::Wane,
                self.between(6.0, 30.0),
                self.between(0.25, 1.0),
                self.side(0.3),
            )
        } else {
            (
                DefectKind::Sap,
                self.between(12.0, 36.0),
                self.between(0.375, 1.25),
                self.side(0.4),
            )
        };
        let (reach, depth) = (reach.min(long / 2.0), depth.min(wide / 2.0));
        let from = match kind {
            DefectKind::Check if self.unit() < 0.5 => 0.0,
            DefectKind::Check => long - reach,
            _ => self.between(0.0, long - reach),
        };
        let low = match kind {
            DefectKind::Knot | DefectKind::Check => self.between(0.0, wide - depth),
            _ if self.unit() < 0.5 => 0.0,
            _ => wide - depth,
        };
        let round = |inches: f64| rounded(self.measured_in, inches);
        Defect {
            kind,
            from: round(from),
            to: round(from + reach).min(length),
            low: round(low),
            high: round(low + depth).min(width),
            side,
            notes: String::new(),
        }
    }

    fn side(&mut self, through: f64) -> DefectSide {
        let throw = self.unit();
        if throw < through {
            DefectSide::Both
        } else if throw < (1.0 + through) / 2.0 {
            DefectSide::Up
        } else {
            DefectSide::Down
        }
    }
}

/// Cutting units a foot the next better published yield begins at.
fn next_better(rules: &ClearFace) -> f64 {
    match rules.units_per_foot {
        0..=3 => 4.0,
        4..=5 => 6.0,
        6..=7 => 8.0,
        8..=9 => 10.0,
        _ => WHOLE_FACE,
    }
}

/// To sixteenths of an inch, or whole millimetres.
fn rounded(unit: Unit, inches: f64) -> Length {
    match unit {
        Unit::Inch => Length::from_inches((inches * 16.0).round() / 16.0),
        Unit::Mm => Length::from_mm(Length::from_inches(inches).mm().round()),
    }
}

#[cfg(test)]
mod tests;
