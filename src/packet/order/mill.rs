//! The jointer's and planer's phases.

use super::Phase;
use super::settings::{Allowed, fewest};
use crate::draw::board_name;
use crate::job::Job;
use crate::measure::Length;
use crate::packet::joined::{as_one, names};
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::packet::todo::Todo;
use crate::plan::BoardPlan;
use crate::work::piece_name;
use crate::work::{BoardWork, Joined};

/// Pieces none of whose fronts is made yet: those made were flat already, and the rest with them.
pub(super) fn to_flatten<'w, 'a>(
    works: &'w [BoardWork<'a>],
    todo: Todo<'w>,
) -> impl Iterator<Item = (&'a BoardPlan, &'w Joined<'a>)> {
    let all = works
        .iter()
        .flat_map(|work| work.pieces().map(|(.., piece)| (work.cut, piece)));
    all.filter(move |(_, piece)| piece.blanks.iter().all(|blank| todo.front(blank)))
}

/// Pieces flattened one face at a time; short neighbours together.
pub fn flatten(job: &Job, works: &[BoardWork], todo: Todo) -> Phase {
    let shortest = job.settings.allowances.shortest_safe;
    let (mut steps, mut short, mut alone) = (Vec::new(), Vec::new(), Vec::new());
    for (cut, piece) in to_flatten(works, todo) {
        let start = format!("{}: {}, ", board_name(job, cut), as_one(job, piece));
        if piece.long() < shortest {
            let words = Phrase::from(start)
                .words("only ")
                .with_unit(piece.long())
                .words(" long: too short for the machines, flatten and plane it by hand");
            short.push(words);
        } else if piece.is_cut_apart() {
            steps.push(Phrase::from(start).with_unit(piece.long()).words(" long"));
        } else {
            alone.push(names(job, piece));
        }
    }
    steps.extend(short);
    if !alone.is_empty() {
        let list = alone.join(", ");
        steps.push(Phrase::from(format!("each by itself: {list}")));
    }
    Phase {
        title: "Flatten one face, an edge square to it".to_owned(),
        how: Phrase::from("Joined as they are. No piece shorter than ")
            .with_unit(shortest)
            .words(
                " goes over the jointer or through the planer by itself; the machine's manual may \
                 ask for more.",
            ),
        steps,
        ..Phase::default()
    }
}

/// Everything through the planer, still joined, the thickest setting first; staves keep what is
/// planed off after gluing.
pub fn plane(job: &Job, works: &[BoardWork], todo: Todo) -> Phase {
    let allowances = &job.settings.allowances;
    let mut cuts = Vec::new();
    for (_, piece) in to_flatten(works, todo) {
        // By hand, as the phase before says.
        if piece.long() < allowances.shortest_safe {
            continue;
        }
        cuts.extend(piece.blanks.iter().map(|blank| {
            let front = &job.fronts[blank.front];
            let skim = match blank.staves {
                0 | 1 => Length::ZERO,
                _ => allowances.plane * 2,
            };
            exactly(front.thickness + skim, piece_name(&front.name, blank))
        }));
    }
    let mut phase = planed(cuts);
    phase.title = "Plane to thickness, still joined".to_owned();
    phase.how = "Thickest first, all of one thickness in one go, about the same off both faces. Staves keep what is planed off once they are glued."
        .into();
    phase.mind = "Mind: collect the dust at the machine, and wear a mask.".into();
    phase
}

/// Glued fronts to their thickness.
pub fn plane_glued(pieces: &[PieceOf]) -> Phase {
    let glued = pieces
        .iter()
        .filter(|piece| piece.blank.stave == 1 && piece.blank.staves > 1);
    let (short, long): (Vec<&PieceOf>, Vec<&PieceOf>) = glued.partition(|piece| {
        piece.blank.to - piece.blank.from < piece.job.settings.allowances.shortest_safe
    });
    let cut = |piece: &&PieceOf| exactly(piece.front().thickness, piece.front().name.clone());
    let mut phase = planed(long.iter().map(cut).collect());
    phase.steps.extend(by_hand(&short));
    phase.title = "Plane the glued fronts to thickness".to_owned();
    phase.how = "About the same off both faces.".into();
    phase
}

fn by_hand(short: &[&PieceOf]) -> Option<Phrase> {
    let names: Vec<&str> = short.iter().map(|p| p.front().name.as_str()).collect();
    let words = format!("by hand, too short for the planer: {}", names.join(", "));
    (!names.is_empty()).then(|| words.into())
}

fn exactly(at: Length, what: String) -> Allowed<String> {
    Allowed {
        least: at,
        most: at,
        what,
    }
}

fn planed(cuts: Vec<Allowed<String>>) -> Phase {
    let settings = fewest(cuts);
    let step = |setting: &super::settings::Setting<String>| {
        Phrase::from("planer at ")
            .with_unit(setting.at)
            .words(format!(": {}", setting.what.join(", ")))
    };
    Phase {
        settings: Some(settings.len()),
        steps: settings.iter().map(step).collect(),
        ..Phase::default()
    }
}
