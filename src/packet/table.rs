//! The words of tables.

use crate::plan::{End, Face};

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
