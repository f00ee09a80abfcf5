//! Fitting one front: opening, seasons, outline, then what is done to it.

use super::arc::Arc;
use super::fitted::{Fitted, FittedOpening};
use super::opening::solve;
use super::outline::Outline;
use super::over::Over;
use super::point::Point;
use super::quad::Quad;
use super::reveal::Reveal;
use super::season::{Movement, Seasons};
use super::trouble::FitTrouble;
use super::watch;
use super::wedge::wedges;
use super::work;
use crate::job::{
    Edges, FRONTS_CSV, Fault, Front, Grain, JOB_TOML, Job, Mode, OPENINGS_CSV, Opening, Places,
};
use crate::measure::Length;
use crate::wood::{self, Cut};

/// Fits one front.
///
/// # Errors
/// Its first fault, at the cell or key it comes from.
pub(super) fn fit_one(job: &Job, index: usize, opening: Option<&Opening>) -> Result<Fitted, Fault> {
    let front = &job.fronts[index];
    let over = Over::of(job, front);
    sides_under(job, front, &over)?;
    let cut = cut_of(job, front, opening);
    let seasons = seasons(job, front, cut);
    let (opened, outline, movement) = match opening {
        Some(opening) => to_opening(job, front, &over, opening, seasons)?,
        None => as_drawn(job, front, &over, seasons)?,
    };
    let mut fitted = Fitted {
        front: index,
        name: front.name.clone(),
        thickness: front.thickness,
        grain: front.grain,
        opening: opened,
        outline,
        seasons,
        cut,
        movement,
        reveal: opening.and_then(|_| Reveal::of(&job.settings.fitting.gaps)),
        wedges: wedges(&outline, job.settings.fitting.sled.fence),
        bevel: work::bevel(job, front, opening, &outline)?,
        arch: work::arch(job, &over, &outline, opened.as_ref()),
        pulls: work::pulls(job, opening, &over, &outline),
        cautions: Vec::new(),
        notes: opening.map(|o| o.notes.clone()).unwrap_or_default(),
    };
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

type Placed = (Option<FittedOpening>, Outline, Movement);

fn to_opening(
    job: &Job,
    front: &Front,
    over: &Over<'_>,
    opening: &Opening,
    seasons: Option<Seasons>,
) -> Result<Placed, Fault> {
    let gaps = &job.settings.fitting.gaps;
    let ruler = job.settings.ruler();
    let at = |columns: &[&'static str]| opening.places.at(OPENINGS_CSV, columns);
    let solved = solve(&opening.measured, &over.drawn(front)).map_err(|why| {
        let column = why.suspect.measure.column();
        Fault::new(at(&[column]), FitTrouble::NoQuad { why, ruler })
    })?;
    let inside = outline_over(&solved.quad, over)
        .map_err(|across| Fault::new(at(&["top"]), FitTrouble::arch(front, across, ruler)))?;
    let across = match front.grain {
        Grain::Horizontal => inside.height(),
        Grain::Vertical => inside.width(),
    };
    let anchor = opening.anchor.unwrap_or(gaps.anchor);
    let movement = Movement::reckon(
        across,
        front.grain,
        gaps,
        anchor.shares(front.grain),
        seasons,
    );
    let sign = match gaps.mode {
        Mode::Inset => 1.0,
        Mode::Overlay => -1.0,
    };
    let (outline, _) = inside
        .inset(&movement.today.map(|gap| sign * gap))
        .filter(|_| movement.across > 0.0)
        .ok_or_else(|| {
            let front = front.name.clone();
            let narrow = narrower(&inside, &movement.today);
            Fault::new(at(&[narrow]), FitTrouble::GapsTooWide { front })
        })?;
    let opened = FittedOpening {
        measured: opening.measured,
        solved,
        outline: inside,
    };
    Ok((Some(opened), outline, movement))
}

/// The column of the size that the gaps eat up.
fn narrower(inside: &Outline, gaps: &Edges<f64>) -> &'static str {
    let height = inside.quad.sides().left - gaps.top - gaps.bottom;
    let width = inside.quad.sides().bottom - gaps.left - gaps.right;
    if height < width { "left" } else { "bottom" }
}

fn as_drawn(
    job: &Job,
    front: &Front,
    over: &Over<'_>,
    seasons: Option<Seasons>,
) -> Result<Placed, Fault> {
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
    Ok((None, outline, movement))
}

/// Puts the curve over four corners; the distance from corner to corner when it can't span it.
fn outline_over(quad: &Quad, over: &Over<'_>) -> Result<Outline, f64> {
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
    let climate = job.settings.fitting.climate?;
    let species = wood::find(&job.settings.species).ok()?;
    let measured = board_of(job, front)
        .and_then(|board| board.moisture)
        .and_then(wood::Moisture::percent);
    Some(Seasons {
        today: measured.unwrap_or(climate.today.moisture()),
        driest: climate.driest.equilibrium(),
        wettest: climate.wettest.equilibrium(),
        per_percent: wood::change_per_percent(species, cut.unwrap_or(climate.cut)),
    })
}

fn cut_of(job: &Job, front: &Front, opening: Option<&Opening>) -> Option<Cut> {
    opening
        .and_then(|o| o.cut)
        .or_else(|| board_of(job, front)?.cut)
}

fn board_of<'a>(job: &'a Job, front: &Front) -> Option<&'a crate::job::Board> {
    let wanted = front.board.as_ref()?;
    job.boards.iter().find(|board| &board.id == wanted)
}
