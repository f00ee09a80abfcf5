//! What is done to a fitted front: its bevel, its curve, its pulls.

use super::bevel::Bevel;
use super::fitted::{FittedArch, FittedBevel, FittedOpening};
use super::outline::Outline;
use super::over::Over;
use super::pulls::{self as marks, PullMarks};
use super::trouble::FitTrouble;
use crate::job::{
    Edges, Fault, Front, JOB_TOML, Job, Level, OPENINGS_CSV, Opening, OwnBevel, Places, PullRule,
};
use crate::measure::{Length, Unit};

/// The front's own bevel, or the one by the job's rule.
pub(super) fn bevel(
    job: &Job,
    front: &Front,
    opening: Option<&Opening>,
    outline: &Outline,
) -> Result<Option<FittedBevel>, Fault> {
    let rule = job.settings.fitting.bevel.as_ref();
    let own = opening.map_or(OwnBevel::AsRuled, |o| o.bevel);
    let size = match (own, rule) {
        (OwnBevel::None, _) | (OwnBevel::AsRuled, None) => return Ok(None),
        (OwnBevel::Own(size), _) => size,
        (OwnBevel::AsRuled, Some(rule)) => rule.size,
    };
    let on = rule.map_or(Edges::all(true), |rule| rule.edges);
    let bevel = Bevel::of(&size);
    let edge_left = bevel.edge_left(front.thickness);
    if edge_left <= Length::ZERO {
        let place = match (own, rule, opening) {
            (OwnBevel::AsRuled, Some(rule), _) => {
                rule.places.at(JOB_TOML, &["drop", "face", "angle"])
            }
            (_, _, Some(opening)) => {
                let columns = ["bevel_drop", "bevel_face", "bevel_angle"];
                opening.places.at(OPENINGS_CSV, &columns)
            }
            _ => Places::default().at(JOB_TOML, &[]),
        };
        let trouble = FitTrouble::BevelTooDeep {
            front: front.name.clone(),
            drop: bevel.drop,
            thickness: front.thickness,
            ruler: job.settings.ruler(),
        };
        return Err(Fault::new(place, trouble));
    }
    Ok(Some(FittedBevel {
        bevel,
        on,
        edge_left,
        flat: bevel.flat(outline, &on),
    }))
}

/// The curve's heights, and how to draw it.
pub(super) fn arch(
    job: &Job,
    over: &Over<'_>,
    outline: &Outline,
    opened: Option<&FittedOpening>,
) -> Option<FittedArch> {
    let arc = outline.arc?;
    let step = match job.settings.unit {
        Unit::Inch => 25.4,
        Unit::Mm => 25.0,
    };
    let opening_radius = opened
        .and_then(|o| o.outline.arc)
        .map_or(arc.radius, |a| a.radius);
    let radius = Length::from_mm(arc.radius);
    Some(FittedArch {
        shared: match over {
            Over::Slice { arch, .. } => Some(arch.name.clone()),
            _ => None,
        },
        radius,
        opening_radius: Length::from_mm(opening_radius),
        centre_line: Length::from_mm(arc.centre.x),
        centre_below: Length::from_mm(-arc.centre.y),
        left: Length::from_mm(outline.quad.upper_left.y),
        right: Length::from_mm(outline.quad.upper_right.y),
        crest: outline
            .has_crest()
            .then(|| Length::from_mm(outline.height())),
        trammel: radius <= job.settings.fitting.sled.trammel,
        ordinates: arc.ordinates(outline.quad.upper_left.x, outline.quad.upper_right.x, step),
    })
}

/// Marks the front's pulls by the job's rule.
pub(super) fn pulls(
    job: &Job,
    opening: Option<&Opening>,
    over: &Over<'_>,
    outline: &Outline,
) -> Option<PullMarks> {
    let own = opening.and_then(|o| o.pulls);
    let ruled = job.settings.fitting.pulls;
    let rule = match (ruled, own) {
        (Some(rule), _) => rule,
        (None, Some(_)) => PullRule::of(job.settings.unit),
        (None, None) => return None,
    };
    let count = own.unwrap_or_else(|| marks::count(&rule, Length::from_mm(outline.width())));
    let level = match rule.level {
        Level::Above(height) => height.mm(),
        Level::Share(share) => share * crest(over, outline),
    };
    (count > 0).then(|| marks::mark(outline, &rule, count, level))
}

/// The height a pull's share is taken of: the front's own, or the crest of the arch it stands
/// under, so that all pulls under one arch stand at one level.
fn crest(over: &Over<'_>, outline: &Outline) -> f64 {
    match (over, outline.arc) {
        (Over::Slice { .. }, Some(arc)) => arc.centre.y + arc.radius,
        _ => outline.height(),
    }
}
