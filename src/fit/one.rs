//! Fitting one front: opening, seasons, outline, then what is done to it.

use super::arc::Arc;
use super::caution::Caution;
use super::fitted::Fitted;
use super::outline::Outline;
use super::over::Over;
use super::placed::{gaps_of, to_opening};
use super::point::Point;
use super::quad::Quad;
use super::reveal::Reveal;
use super::sawing::{Sawing, Sawn, pinned};
use super::season::{Movement, Seasons};
use super::trouble::FitTrouble;
use super::watch;
use super::wedge::wedges;
use super::work;
use crate::job::{FRONTS_CSV, Fault, Front, JOB_TOML, Job, Opening, Places};
use crate::measure::Length;
use crate::wood::{self, Cut};

/// Fits one front.
///
/// # Errors
/// Its first fault, at the cell or key it comes from.
pub(super) fn fit_one(
    job: &Job,
    index: usize,
    opening: Option<&Opening>,
    sawing: &Sawing,
) -> Result<Fitted, Fault> {
    let front = &job.fronts[index];
    let over = Over::of(job, front);
    sides_under(job, front, &over)?;
    let sawn = sawing.of(job, index, opening);
    let moving = seasons(job, front, sawn.real);
    let seasons = seasons(job, front, sawn.size);
    let (opened, outline, movement) = match opening {
        Some(opening) => {
            let placed = to_opening(job, front, &over, opening, seasons)?;
            (Some(placed.opening), placed.outline, placed.movement)
        }
        None => {
            let (outline, movement) = as_drawn(job, front, &over, seasons)?;
            (None, outline, movement)
        }
    };
    let mode = gaps_of(job, front).mode;
    let mut fitted = Fitted {
        front: index,
        name: front.name.clone(),
        thickness: front.thickness,
        grain: front.grain,
        mode,
        opening: opened,
        outline,
        seasons: moving,
        cut: sawn.real,
        reckoned: sawn
            .size
            .or_else(|| job.settings.fitting.climate.as_ref().map(|c| c.cut)),
        movement: movement.with(moving),
        reveal: opened.and_then(|o| Reveal::of(&job.settings.fitting.gaps, mode, o.extra)),
        wedges: wedges(&outline, job.settings.fitting.sled.fence),
        bevel: work::bevel(job, front, opening, &outline)?,
        arch: work::arch(job, &over, &outline, opened.as_ref()),
        pulls: work::pulls(job, opening, &over, &outline, None),
        sawn_otherwise: None,
        cautions: Vec::new(),
        notes: opening.map(|o| o.notes.clone()).unwrap_or_default(),
    };
    fitted.sawn_otherwise = sawn_otherwise(job, &sawn);
    fitted.cautions = watch::cautions(job, front, &over, &fitted);
    Ok(fitted)
}

/// Whether a front has sides under its slice of an arch.
fn sides_under(job: &Job, front: &Front, over: &Over<'_>) -> Result<(), Fault> {
    let (Over::Slice { arch, .. }, drawn) = (over, over.drawn(front)) else {
        return Ok(());
    };
    let lower = drawn.left.min(drawn.left + drawn.higher);
    if lower > 0.0 {
        return Ok(());
    }
    let trouble = FitTrouble::ArchTooHigh {
        front: front.name.clone(),
        falls: front.height - Length::from_mm(lower),
        height: front.height,
        ruler: job.settings.ruler(),
    };
    Err(Fault::new(arch.places.at(JOB_TOML, &["rise"]), trouble))
}

fn as_drawn(
    job: &Job,
    front: &Front,
    over: &Over<'_>,
    seasons: Option<Seasons>,
) -> Result<(Outline, Movement), Fault> {
    let gaps = &job.settings.fitting.gaps;
    let ruler = job.settings.ruler();
    let drawn = over.drawn(front);
    let quad = Quad {
        lower_left: Point::default(),
        lower_right: Point::new(drawn.width, 0.0),
        upper_right: Point::new(drawn.width, drawn.left + drawn.higher),
        upper_left: Point::new(0.0, drawn.left),
    };
    let place = match over {
        Over::Slice { arch, .. } => arch.places.at(JOB_TOML, &["chord", "fronts"]),
        _ => Places::default().at(FRONTS_CSV, &[]),
    };
    let outline = outline_over(&quad, over)
        .map_err(|across| Fault::new(place, FitTrouble::arch(front, across, ruler)))?;
    let shares = gaps.anchor.shares(front.grain);
    let movement = Movement::of_size(front.across().mm(), shares, seasons);
    Ok((outline, movement))
}

/// Puts the curve over four corners; the distance from corner to corner when it can't span it.
pub(super) fn outline_over(quad: &Quad, over: &Over<'_>) -> Result<Outline, f64> {
    let across = quad.sides().top;
    let arc = match over.radius(across) {
        None => None,
        Some(radius) => {
            let arc = Arc::with_radius(quad.upper_left, quad.upper_right, radius);
            let flat_enough = match over {
                Over::Own { rise } => *rise <= across / 2.0,
                _ => true,
            };
            Some(arc.filter(|_| flat_enough).ok_or(across)?)
        }
    };
    Ok(Outline { quad: *quad, arc })
}

/// The wood's moisture through the year. A front that must come from one board has that
/// board's moisture, when it was measured.
fn seasons(job: &Job, front: &Front, cut: Option<Cut>) -> Option<Seasons> {
    let climate = job.settings.fitting.climate.as_ref()?;
    let species = wood::find(&job.settings.species).ok()?;
    let measured = pinned(job, front)
        .and_then(|board| board.moisture)
        .and_then(wood::Moisture::percent);
    Some(Seasons {
        today: measured.unwrap_or(climate.today.moisture()),
        driest: climate.driest.equilibrium(),
        wettest: climate.wettest.equilibrium(),
        per_percent: wood::change_per_percent(species, cut.unwrap_or(climate.cut)),
    })
}

/// What is to be told when a front's board is sawn in another way than is written, or than its
/// size was reckoned with.
fn sawn_otherwise(job: &Job, sawn: &Sawn<'_>) -> Option<Caution> {
    let climate = job.settings.fitting.climate.as_ref()?;
    let (board, name) = sawn.board.and_then(|b| Some((b.cut?, b.id.clone())))?;
    let told = |reckoned: Cut, typed: bool| Caution::SawnOtherwise {
        board,
        name: name.clone(),
        reckoned,
        typed,
    };
    let typed = sawn.typed.filter(|&cut| cut != board);
    let size = Some(sawn.size.unwrap_or(climate.cut)).filter(|&cut| cut != board);
    let typed = typed.map(|cut| told(cut, true));
    typed.or_else(|| size.map(|cut| told(cut, false)))
}
