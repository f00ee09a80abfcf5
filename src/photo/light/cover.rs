//! Where paper lies beside a board, and so what of the light it can tell.

use super::Paper;
use crate::photo::plane::Window;

/// Parts along a board that are looked at for paper.
const PARTS: usize = 8;

/// Which sides and parts of a board have paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cover {
    /// Parts of the near edge, of eight.
    pub near: usize,
    /// Parts of the far edge, of eight.
    pub far: usize,
    /// Whether any lies at or beyond the first eighth.
    pub hook: bool,
    /// Whether any lies at or beyond the last eighth.
    pub end: bool,
}

/// What paper would have to be added.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Missing {
    /// No paper at all.
    All,
    /// Paper at one end only.
    OtherEnd,
    /// Paper along one edge, or at the ends only.
    Edges,
    /// Nothing.
    Nothing,
}

impl Cover {
    /// What paper there is beside a board.
    pub fn of(paper: &[Paper], board: Window) -> Cover {
        let mut parts = [[0usize; PARTS]; 2];
        let mut cover = Cover::default();
        for bit in paper {
            let part = (bit.place.x - board.from) / board.length() * PARTS as f64;
            cover.hook |= part < 1.0;
            cover.end |= part >= (PARTS - 1) as f64;
            let side = usize::from(bit.place.y > board.high);
            let beside = bit.place.y < board.low || bit.place.y > board.high;
            if beside && (0.0..PARTS as f64).contains(&part) {
                parts[side][part as usize] += 1;
            }
        }
        let full = |side: &[usize; PARTS]| side.iter().filter(|&&bits| bits >= 4).count();
        (cover.near, cover.far) = (full(&parts[0]), full(&parts[1]));
        cover
    }

    /// Whether a whole edge has paper.
    pub fn along(&self) -> bool {
        self.near.max(self.far) >= PARTS - 2
    }

    /// Whether both edges have.
    pub fn both(&self) -> bool {
        self.near.min(self.far) >= PARTS - 2
    }

    /// What to add.
    pub fn missing(&self) -> Missing {
        match self {
            _ if self.both() => Missing::Nothing,
            _ if self.along() || (self.hook && self.end) => Missing::Edges,
            _ if self.hook || self.end || self.near + self.far > 0 => Missing::OtherEnd,
            _ => Missing::All,
        }
    }
}

impl Missing {
    /// How far a tone measured so may be off in L*, 19 times of 20: the light's part of it.
    ///
    /// Measured on rendered photographs of known truth (`benches/RESULTS.md`): falling light over
    /// 3 to 8 ft, a cast, an unknown tone curve.
    pub fn uncertain(self) -> f64 {
        match self {
            Missing::Nothing => 0.9,
            Missing::Edges => 2.5,
            Missing::OtherEnd => 5.5,
            Missing::All => 13.0,
        }
    }

    /// What to do, for the proof sheet.
    pub fn advice(self) -> Option<&'static str> {
        match self {
            Missing::Nothing => None,
            Missing::Edges => Some("lay strips of white paper along both long edges"),
            Missing::OtherEnd => {
                Some("there is paper at one end only: lay strips along both long edges")
            }
            Missing::All => Some(
                "no white paper was found: lay strips along both long edges, or say where it is \
                 with `white` in photos.csv",
            ),
        }
    }
}
