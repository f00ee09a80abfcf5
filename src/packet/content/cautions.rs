//! The usual cautions, each where the job gives cause for it.
//!
//! Figures marked as shop practice are not regulation: the machine's manual, local codes and
//! licensed practice come first.

use crate::fit;
use crate::job::{Job, Shape};
use crate::packet::document::{Block, Part};
use crate::packet::phrase::Phrase;
use crate::packet::stock::has_checks;
use crate::plan::Plan;

/// The cautions that concern this plan, and where the packet `fits` fronts to openings those of
/// that.
pub fn part(job: &Job, plan: &Plan, fits: bool) -> Part {
    let mut part = Part {
        columns: 3,
        ..Part::new("cautions", "Cautions")
    };
    part.text(
        "Reminders, not instructions: your machines' manuals, local codes and licensed practice come \
         before anything printed here.",
    );
    let mut caution = |title: &str, words: Phrase| {
        part.blocks.push(Block::Caution {
            title: title.to_owned(),
            words,
        });
    };
    caution("Saws", SAWS.into());
    caution("Dust", DUST.into());
    let [on_edge, small, _] = fit::CAUTIONS;
    let of_fitting = |words: &str| match fits {
        true => format!(" {words}"),
        false => String::new(),
    };
    let short = short_pieces(job).words(of_fitting(small));
    caution("Short and small pieces", short);
    if has_checks(job, plan) {
        caution("Stock with checks, splits and loose knots", CHECKS.into());
    }
    if job.fronts.iter().any(|front| front.shape != Shape::Square) {
        caution("Curved edges", CURVES.into());
    }
    let on_edge = format!("{ON_EDGE}{}", of_fitting(on_edge));
    caution("Tall pieces on edge", on_edge.into());
    caution("A chest that stands free can tip over", tipping());
    part
}

/// Guards: 29 CFR 1910.213 (summary read; paragraphs (c) and (s) from memory).
const SAWS: &str = "Keep the guard, the splitter or riving knife and the anti-kickback device in \
    place for ripping, and use push sticks where hands would come near the blade. In workplaces \
    in the United States 29 CFR 1910.213 asks for them; elsewhere look up the local code.";

/// Figures: Popular Woodworking no. 165, November 2007, p. 55 (12 in and 3 in), and owners'
/// manuals that differ among themselves. No regulation with a least length was found.
fn short_pieces(job: &Job) -> Phrase {
    Phrase::from("This plan sends nothing shorter than ")
        .with_unit(job.settings.allowances.shortest_safe)
        .words(
            " over the jointer or through the planer by itself: shop practice, not a regulation. The \
             manual of each machine governs; the planer's least length depends on its feed rollers. Cut small fronts from longer \
             pieces last, and hold short ones with a clamp, a jig or push blocks.",
        )
}

/// Common practice, no source.
const CHECKS: &str = "Wood can break loose or close on the blade at a check, a split or a knot. \
    Look for metal, grit and hidden checks before each cut, cut them off with support on both \
    sides, and never stand in line with the blade.";

/// Common practice, no source.
const CURVES: &str = "Arched tops leave short grain at the corners and have no straight edge to \
    bear on. Shape them against a template or a fixture that holds the piece, feed against the \
    cutter, and take small bites where the grain turns out.";

/// Common practice, no source.
const ON_EDGE: &str = "Bevelling or fitting a tall front on edge needs a fence at least half as \
    tall as the piece, or a sled that carries it; a hand plane at the bench is slower and kinder.";

/// Common practice, no source.
const DUST: &str = "Collect dust at each machine and wear a mask and eye and ear protection. The \
    dust of some woods irritates skin and lungs: look up yours.";

/// Scope: ASTM F2057-23 as restated by ASTM (notice of May 2023) and the CPSC's guidance on
/// clothing storage units; 16 CFR part 1261. A plan knows neither mass nor volume, nor the
/// case's height, so the caution stands on every packet.
///
/// The figures are those of the rule in either unit: 27 in and 686 mm, 30 lb and 13.6 kg, 3.2 cubic
/// feet and 90.6 litres.
fn tipping() -> Phrase {
    let words = |height: &str, mass: &str, room: &str| {
        format!(
            "A free-standing chest can tip over on a child when drawers are open. In the United \
             States, clothing storage units at least {height} high, of {mass} or more and with \
             {room} or more of closed storage are under 16 CFR part 1261 (ASTM F2057-23). This \
             packet does not say that a piece complies: check the rule in force, test, and anchor \
             it to the wall."
        )
    };
    Phrase::in_units(
        words("27 in", "30 lb", "3.2 cubic feet"),
        words("686 mm", "13.6 kg", "90.6 litres"),
    )
}
