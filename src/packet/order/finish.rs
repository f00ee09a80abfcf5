//! Final sizes, and what is shaped last.

use super::Phase;
use super::settings::{Allowed, Setting, fewest};
use crate::job::{Front, Shape};
use crate::measure::{Length, Unit};
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;

/// Fronts to their finished dimension across the grain, grouped by fence setting.
pub fn rip(pieces: &[PieceOf]) -> Phase {
    finished(
        pieces,
        "Rip to finished width",
        "Across the grain, the jointed edge along the fence. Sizes are the fronts' largest; wedges come \
         off in fitting.",
        "fence",
        Front::across,
    )
}

/// Fronts to their finished dimension along the grain, grouped by stop setting.
pub fn crosscut(pieces: &[PieceOf]) -> Phase {
    finished(
        pieces,
        "Crosscut to finished length",
        "Along the grain: square the left end (the bottom of vertical grain), then cut to the stop.",
        "stop",
        Front::along,
    )
}

fn finished(
    pieces: &[PieceOf],
    title: &str,
    how: &str,
    what: &'static str,
    size: impl Fn(&Front) -> Length,
) -> Phase {
    let fronts: Vec<&PieceOf> = pieces.iter().filter(|p| p.blank.stave == 1).collect();
    let cuts = fronts.iter().map(|piece| {
        let at = settable(size(piece.front()), piece.job.settings.unit);
        Allowed {
            least: at,
            most: at,
            what: piece.front().name.clone(),
        }
    });
    let settings = fewest(cuts.collect());
    Phase {
        title: title.to_owned(),
        how: how.into(),
        mind: short_ones(&fronts),
        settings: Some(settings.len()),
        steps: settings
            .iter()
            .map(|setting| at_finished(what, setting))
            .collect(),
        ..Phase::default()
    }
}

/// The rule of thumb that short pieces are not held by hand at any machine: Popular Woodworking
/// no. 165, November 2007, p. 55.
fn short_ones(fronts: &[&PieceOf]) -> Phrase {
    let short = |piece: &&&PieceOf| {
        piece.blank.to - piece.blank.from < piece.job.settings.allowances.shortest_safe
    };
    let names: Vec<&str> = fronts
        .iter()
        .filter(short)
        .map(|piece| piece.front().name.as_str())
        .collect();
    match (names.is_empty(), fronts.first()) {
        (false, Some(first)) => {
            Phrase::from("Mind: on a sled, clamped, or by hand, because shorter than ")
                .with_unit(first.job.settings.allowances.shortest_safe)
                .words(format!(": {}.", names.join(", ")))
        }
        _ => Phrase::default(),
    }
}

/// What a fence or a stop can be set to: the nearest 1/64 in or 0.1 mm. Sizes of fronts fitted to
/// openings that differ by less share a setting.
fn settable(length: Length, unit: Unit) -> Length {
    let step = match unit {
        Unit::Inch => Length::from_inches(1.0 / 64.0).nm(),
        Unit::Mm => Length::from_mm(0.1).nm(),
    };
    Length::from_nm((length.nm() + step / 2).div_euclid(step) * step)
}

/// `stop at 13 35/64: D1, D2`.
fn at_finished(what: &str, setting: &Setting<String>) -> Phrase {
    let list = setting.what.join(", ");
    Phrase::from(format!("{what} at "))
        .finished(setting.at)
        .words(format!(": {list}"))
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
               grain turns out."
            .into(),
        steps: arches.collect(),
        ..Phase::default()
    }
}
