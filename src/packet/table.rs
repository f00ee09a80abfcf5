//! The words of tables.

use crate::plan::{Blank, End, Face};

/// `D1`, or `D1 stave 2 of 3`.
pub(super) fn piece_name(front: &str, blank: &Blank) -> String {
    if blank.staves == 1 {
        front.to_owned()
    } else {
        format!("{front} stave {} of {}", blank.stave, blank.staves)
    }
}

pub(super) fn end_name(end: End) -> &'static str {
    match end {
        End::Hook => "hook",
        End::Far => "far",
    }
}

pub(super) fn face_name(face: Face) -> &'static str {
    match face {
        Face::Up => "up",
        Face::Down => "down",
    }
}
