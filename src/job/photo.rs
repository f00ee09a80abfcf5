//! Photographs of boards, as `photos.csv` or the names of the pictures tell them.

use super::fault::Place;
use crate::measure::Length;

/// Which face of a board a photograph shows.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    serde::Serialize,
    serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum PhotoSide {
    /// The side that was up when the board was measured.
    #[default]
    Up,
    /// The other side.
    Down,
}

/// A picture of a part of one face of one board.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// The picture's path within the job's folder, parts divided by `/`.
    pub file: String,
    /// The board's name.
    pub board: String,
    /// Its copy.
    pub copy: u32,
    /// Which face.
    pub side: PhotoSide,
    /// Start of what lies between the corners, from the hook end.
    pub from: Length,
    /// End of it.
    pub to: Length,
    /// Corners in pixels of the picture as it is seen: near edge at `from`, near edge at `to`, far
    /// edge at `to`, far edge at `from`.
    pub corners: Option<[[f64; 2]; 4]>,
    /// A rectangle of the picture that shows white paper: x y and x y of two opposite corners.
    pub white: Option<[f64; 4]>,
    /// Where it is named, for faults of the picture itself.
    pub place: Place,
    /// Its row of `photos.csv`, counted from 0 below the header; nothing when there is no such file.
    pub row: Option<usize>,
}
