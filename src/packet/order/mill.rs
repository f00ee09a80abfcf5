//! The jointer's and planer's phases, gluing, and what is shaped last.

use super::Phase;
use super::settings::{Allowed, fewest};
use crate::draw::board_name;
use crate::job::{Grain, Job, Shape};
use crate::measure::Length;
use crate::milling::{flat_enough, milled_together};
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::packet::todo::Todo;
use crate::plan::{BoardPlan, Plan};

/// Pieces flattened one face at a time; short neighbours together.
pub fn flatten(job: &Job, plan: &Plan, todo: Todo) -> Phase {
    let boards = plan.boards.iter();
    let groups: Vec<Group> = boards.flat_map(|cut| groups(job, cut, todo)).collect();
    let together = groups.iter().filter(|group| group.names.len() > 1);
    let mut steps: Vec<Phrase> = together
        .map(|group| {
            let pieces = group.names.join(" + ");
            Phrase::from(format!("{}: {pieces} together, ", group.board))
                .with_unit(group.long)
                .words(" long, cut apart at the end")
        })
        .collect();
    let short = groups
        .iter()
        .filter(|group| group.names.len() == 1 && group.padded);
    steps.extend(short.map(|group| {
        Phrase::from(format!(
            "{}: {} with its waste still on, ",
            group.board, group.names[0]
        ))
        .with_unit(group.long)
        .words(" long")
    }));
    let alone: Vec<String> = groups
        .iter()
        .filter(|group| group.names.len() == 1 && !group.padded)
        .map(|group| group.names[0].clone())
        .collect();
    if !alone.is_empty() {
        steps.push(Phrase::from(format!(
            "each by itself: {}",
            alone.join(", ")
        )));
    }
    let shortest = job.settings.allowances.shortest_safe;
    Phase {
        title: "Flatten one face".to_owned(),
        how: Phrase::from("No piece shorter than ").with_unit(shortest).words(
            " goes over the jointer or through the planer by itself; the machine's manual may ask \
             for more.",
        ),
        mind: "",
        settings: None,
        steps,
    }
}

/// Pieces flattened as one.
struct Group {
    board: String,
    names: Vec<String>,
    long: Length,
    /// Whether waste is needed to make it long enough.
    padded: bool,
}

/// The groups of one board: of each strip, each stretch.
fn groups(job: &Job, cut: &BoardPlan, todo: Todo) -> Vec<Group> {
    let mut pieces = PieceOf::of_board(job, cut);
    pieces.retain(|piece| todo.front(piece.blank));
    let same = |a: &PieceOf, b: &PieceOf| {
        let key = |p: &PieceOf| {
            (
                job.place_of(p.blank.front).0,
                p.blank.stretch,
                p.blank.stave,
            )
        };
        std::ptr::eq(a.strip.1, b.strip.1) && key(a) == key(b)
    };
    pieces
        .chunk_by(same)
        .flat_map(|stretch| of_stretch(job, cut, stretch))
        .collect()
}

fn of_stretch(job: &Job, cut: &BoardPlan, stretch: &[PieceOf]) -> Vec<Group> {
    let allowances = &job.settings.allowances;
    let spans: Vec<(Length, Length)> = stretch
        .iter()
        .map(|piece| (piece.blank.from, piece.blank.to))
        .collect();
    let wide = stretch[0].blank.high - stretch[0].blank.low;
    let fits = |first: usize, last: usize, long| {
        stretch[first..=last]
            .iter()
            .all(|p| flat_enough(p.board(), p.front(), allowances.plane, long, wide))
    };
    let split = milled_together(&spans, allowances.shortest_safe, fits);
    split
        .unwrap_or_default()
        .into_iter()
        .map(|milled| Group {
            board: board_name(job, cut),
            names: stretch[milled.first..=milled.last]
                .iter()
                .map(PieceOf::name)
                .collect(),
            long: milled.long,
            padded: spans[milled.last].1 - spans[milled.first].0 < milled.long,
        })
        .collect()
}

/// Glued fronts, stave by stave.
pub fn glue(pieces: &[PieceOf]) -> Phase {
    let first = pieces
        .iter()
        .filter(|p| p.blank.stave == 1 && p.blank.staves > 1);
    let steps = first.map(|first| {
        let mut staves: Vec<&PieceOf> = pieces
            .iter()
            .filter(|p| p.blank.front == first.blank.front)
            .collect();
        staves.sort_by_key(|p| p.blank.stave);
        let side = match first.front().grain {
            Grain::Horizontal => "top to bottom",
            Grain::Vertical => "left to right",
        };
        let from: Vec<String> = staves
            .iter()
            .map(|p| format!("stave {} ({})", p.blank.stave, board_name(p.job, p.cut)))
            .collect();
        Phrase::from(format!(
            "{}, {side}: {}",
            first.front().name,
            from.join(", ")
        ))
    });
    Phase {
        title: "Joint and glue the staves".to_owned(),
        how: "Plane the staves alike, joint their edges, and glue them so that the triangle \
              closes. Let the glue dry as its maker says before planing on."
            .into(),
        mind: "",
        settings: None,
        steps: steps.collect(),
    }
}

/// All fronts through the planer, the thickest setting first.
pub fn plane(pieces: &[PieceOf]) -> Phase {
    let cuts = pieces.iter().filter(|piece| piece.blank.stave == 1);
    let cuts = cuts.map(|piece| Allowed {
        least: piece.front().thickness,
        most: piece.front().thickness,
        what: piece.front().name.clone(),
    });
    let settings = fewest(cuts.collect());
    Phase {
        title: "Plane to thickness".to_owned(),
        how: "Thickest first, all pieces of one thickness in one go. Take about the same off \
              both faces in the end, so that the piece stays flat."
            .into(),
        mind: "Mind: collect the dust at the machine, and wear a mask.",
        settings: Some((settings.len(), "planer")),
        steps: settings
            .into_iter()
            .map(|setting| {
                Phrase::from("planer at ")
                    .with_unit(setting.at)
                    .words(format!(": {}", setting.what.join(", ")))
            })
            .collect(),
    }
}

/// Arched tops.
pub fn shape(pieces: &[PieceOf]) -> Phase {
    let fronts = pieces.iter().filter(|piece| piece.blank.stave == 1);
    let arches = fronts.filter_map(|piece| match piece.front().shape {
        Shape::Square => None,
        Shape::Arch { rise } => Some(
            Phrase::from(format!("{}: rise ", piece.front().name))
                .finished(rise)
                .words(" over ")
                .finished(piece.front().width),
        ),
        Shape::Slice {
            left,
            right,
            radius,
        } => Some(
            Phrase::from(format!("{}: ", piece.front().name))
                .finished(left)
                .words(" high at the left corner, ")
                .finished(right)
                .words(" at the right, radius ")
                .with_unit(radius),
        ),
    });
    Phase {
        title: "Shape the arched tops".to_owned(),
        how: "Neighbours of one stretch while they lie side by side, so that their curves agree."
            .into(),
        mind: "Mind: hold them in a fixture or against a template, and take small bites where the \
               grain turns out.",
        settings: None,
        steps: arches.collect(),
    }
}
