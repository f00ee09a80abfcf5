//! Tones of all measured boards on one scale, and which can't be told apart.

use super::faces::Face;
use crate::job::{Board, Reading};
use crate::photo::tone::{Anchor, Scale};

/// Tones disagree when they are this many steps apart at least.
const APART: f64 = 2.0;

/// The scale of a pile: anchored by the boards whose tones were typed.
pub(super) fn scale_of(reading: &Reading, faces: &[Face]) -> Scale {
    let step = reading.job.settings.photo.step;
    let lightness = |face: &Face| face.measured.colour.lab.l;
    let anchors: Vec<Anchor> = faces
        .iter()
        .filter_map(|face| {
            let board = kind_of(reading, face).filter(|board| !board.tone_by_photo)?;
            let (tone, lightness) = (board.tone.value(), lightness(face));
            Some(Anchor { tone, lightness })
        })
        .collect();
    let pile: Vec<f64> = faces.iter().map(lightness).collect();
    Scale::of(step, &anchors, &pile)
}

/// The kind of board a face belongs to.
pub(super) fn kind_of<'r>(reading: &'r Reading, face: &Face) -> Option<&'r Board> {
    let name = &face.name;
    let boards = &reading.job.boards;
    boards
        .iter()
        .find(|b| b.id == name.board && b.copies.contains(&name.copy))
}

/// How far a face's L* may be off against all others measured.
pub(super) fn uncertain(face: &Face, faces: &[Face]) -> f64 {
    match faces.iter().all(|other| share_a_picture(face, other)) {
        true => face.measured.within,
        false => face.measured.between(),
    }
}

/// Whether two faces can't be told apart by lightness.
pub(super) fn are_alike(one: &Face, two: &Face) -> bool {
    let [a, b] = match share_a_picture(one, two) {
        true => [one, two].map(|face| face.measured.within),
        false => [one, two].map(|face| face.measured.between()),
    };
    let off = one.measured.colour.lab.l - two.measured.colour.lab.l;
    off.abs() < a.hypot(b)
}

fn share_a_picture(one: &Face, two: &Face) -> bool {
    one.pictures
        .iter()
        .any(|picture| two.pictures.contains(picture))
}

/// Typed tones that photographs contradict, in words.
pub(super) fn disagreements(reading: &Reading, faces: &[Face], scale: &Scale) -> Vec<String> {
    let told = faces.iter().filter_map(|face| {
        let board = kind_of(reading, face).filter(|board| !board.tone_by_photo)?;
        let (typed, seen) = (board.tone.value(), scale.tone(face.measured.colour.lab.l));
        let off = scale.steps(uncertain(face, faces));
        ((typed - seen).abs() > APART.max(1.5 * off)).then(|| {
            format!(
                "{}: the tone typed is {typed}, its photograph says {seen} (within {off:.1}); the typed one counts",
                face.name.board
            )
        })
    });
    told.collect()
}
