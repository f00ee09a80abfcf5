//! Which side of a board will show: marked before anything is cut.

use super::phrase::Phrase;
use super::todo::Todo;
use crate::job::Job;
use crate::plan::{BoardPlan, Face};
use crate::work::piece_name;

/// What to mark as the face of a board; nothing when all its pieces are cut.
pub fn faces(job: &Job, cut: &BoardPlan, todo: Todo) -> Option<Phrase> {
    let (up, down) = (on(job, cut, todo, Face::Up), on(job, cut, todo, Face::Down));
    let words = match (up.is_empty(), down.is_empty()) {
        (true, true) => return None,
        (false, true) => "the side that was up when measured".to_owned(),
        (true, false) => "the side that lay down when measured".to_owned(),
        (false, false) => format!(
            "the side that was up when measured for {}, the side that lay down for {}",
            up.join(", "),
            down.join(", ")
        ),
    };
    Some(words.into())
}

fn on(job: &Job, cut: &BoardPlan, todo: Todo, face: Face) -> Vec<String> {
    let strips = cut.sections.iter().flat_map(|section| &section.strips);
    strips
        .flat_map(|strip| &strip.blanks)
        .filter(|blank| blank.face == face && todo.piece(blank))
        .map(|blank| piece_name(&job.fronts[blank.front].name, blank))
        .collect()
}
