//! Marks of fronts that the order of work has leave their board together.

use crate::job::Job;
use crate::plan::{Blank, BoardPlan, Plan, Sawn};
use crate::work::{BoardWork, Joined};

/// What is known before the marks are made: the job, its present plan, what was cut.
pub(super) struct Before {
    pub(super) job: Job,
    pub(super) plan: Plan,
    pub(super) sawn: Sawn,
}

/// Pieces of which some fronts are told to be cut, and others are not: they leave the board
/// together, and stay joined until they are flat.
pub(super) fn left_joined(before: &Before, sawn: &Sawn, names: &[String]) -> Vec<String> {
    let job = &before.job;
    let name = |blank: &&Blank| job.fronts[blank.front].name.as_str();
    let ruler = job.settings.ruler();
    let mut notes = Vec::new();
    for cut in &before.plan.boards {
        let work = BoardWork::of(job, cut, Some(&before.sawn));
        for (.., piece) in work.pieces().filter(|(.., piece)| !piece.cut) {
            let is_told = |blank: &&Blank| names.iter().any(|told| told == name(blank));
            let (told, rest): (Vec<&Blank>, Vec<&Blank>) = piece
                .blanks
                .iter()
                .copied()
                .partition(|blank| is_told(blank));
            if told.is_empty() || rest.is_empty() {
                continue;
            }
            let list = |blanks: &[&Blank]| {
                let names: Vec<&str> = blanks.iter().map(name).collect();
                names.join(" + ")
            };
            let (told, rest, long) = (list(&told), list(&rest), ruler.show_with_unit(piece.long()));
            let mut note = format!(
                "{told} and {rest} leave the board as one piece, {long} long, and stay joined \
                 until it is flat: mark {rest} too when it is cut."
            );
            note += &sawn_alone(job, cut, sawn, &told);
            notes.push(note);
        }
    }
    notes
}

/// What it means when the fronts were sawn off by themselves.
fn sawn_alone(job: &Job, cut: &BoardPlan, sawn: &Sawn, told: &str) -> String {
    let ruler = job.settings.ruler();
    let safe = job.settings.allowances.shortest_safe;
    let work = BoardWork::of(job, cut, Some(sawn));
    let names = |piece: &Joined| {
        let names = piece
            .blanks
            .iter()
            .map(|b| job.fronts[b.front].name.as_str());
        names.collect::<Vec<&str>>().join(" + ")
    };
    let alone = work.pieces().map(|(.., piece)| piece);
    let mut short = alone.filter(|piece| piece.cut && piece.long() < safe && names(piece) == told);
    short.next().map_or(String::new(), |piece| {
        let long = ruler.show_with_unit(piece.long());
        format!(
            " If {told} was sawn off alone it is only {long} long: too short for jointer and \
             planer, flatten it by hand."
        )
    })
}
