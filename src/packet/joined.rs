//! Pieces that leave their strip as one, in words.

use super::phrase::Phrase;
use crate::draw::board_name;
use crate::job::Job;
use crate::plan::BoardPlan;
pub use crate::work::joined_names as names;
use crate::work::{Joined, SectionWork, StripWork, piece_name};

/// `A1 + A2 + A3 joined`, `C1 with its waste`, `B1`.
pub fn as_one(job: &Job, piece: &Joined) -> String {
    let joined = if piece.blanks.len() > 1 {
        " joined"
    } else {
        ""
    };
    let waste = if piece.has_waste() {
        " with its waste"
    } else {
        ""
    };
    format!("{}{joined}{waste}", names(job, piece))
}

/// Where a strip is crosscut, and what is left joined; nothing when no more is to be cut from it
/// and nothing to be left.
pub fn parting(job: &Job, strip: &StripWork) -> Option<Phrase> {
    let open: Vec<&Joined> = strip.pieces.iter().filter(|piece| !piece.cut).collect();
    let is_plain = |piece: &&Joined| !piece.is_cut_apart() && piece.ends_made == [true; 2];
    if open.iter().all(is_plain) {
        return None;
    }
    let told = |piece: &Joined| {
        let leave = if piece.is_cut_apart() { "leave " } else { "" };
        Phrase::from(format!("{leave}{} at ", as_one(job, piece)))
            .length(piece.from)
            .words(" to ")
            .length(piece.to)
    };
    Some(Phrase::join(open.into_iter().map(told), ", "))
}

/// Where pieces of a strip that are narrower than it are ripped from it.
pub fn narrowing(job: &Job, strip: &StripWork) -> Option<Phrase> {
    let whole = (strip.strip.low, strip.strip.high);
    let pieces = strip.pieces.iter();
    let told: Vec<Phrase> = pieces
        .filter(|piece| !piece.cut && piece.across() != whole)
        .map(|piece| {
            let (low, high) = piece.across();
            Phrase::from(format!("{} at ", as_one(job, piece)))
                .length(low)
                .words(" to ")
                .length(high)
        })
        .collect();
    (!told.is_empty()).then(|| Phrase::join(told, ", "))
}

/// Where a piece that is flat is cut apart, from its own end.
pub fn apart(job: &Job, piece: &Joined) -> Phrase {
    let blank = |blank: &&crate::plan::Blank| {
        let name = piece_name(&job.fronts[blank.front].name, blank);
        Phrase::from(format!("{name} at "))
            .length(blank.from - piece.from)
            .words(" to ")
            .length(blank.to - piece.from)
    };
    Phrase::from(format!("{}: ", names(job, piece)))
        .and(Phrase::join(piece.blanks.iter().map(blank), ", "))
}

/// `W1, section 1, strip 2`.
pub fn place(job: &Job, cut: &BoardPlan, section: &SectionWork, strip: &StripWork) -> String {
    let board = board_name(job, cut);
    format!(
        "{board}, section {}, strip {}",
        section.number, strip.number
    )
}
