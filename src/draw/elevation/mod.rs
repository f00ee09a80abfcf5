//! The case seen from the front: every front in its place, with the grain it will have.

mod arrange;
mod case;
mod figure;
mod front;
mod legend;
mod openings;
mod photo;
mod pulls;
mod reads;
mod said;
mod spans;
mod standing;

pub use arrange::Placed;
pub(in crate::draw) use photo::light_at;
pub use photo::{BoardFace, elevation_photo};
pub use reads::{Joint, Reader};

use crate::fit::Sheet;
use crate::job::Job;
use crate::measure::{Ruler, Unit};
use crate::plan::Plan;

use super::shape::Text;
use super::sheet::Drawing;
use super::theme;
use crate::draw::names::writable;
use arrange::Arrangement;
use openings::Openings;
use spans::Source;

/// The sheet an elevation is drawn on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Easel {
    /// Its width, in points.
    pub width: f64,
    /// Most height for the fronts, in points.
    pub height: f64,
    /// Whether it bears a title.
    pub titled: bool,
    /// Sizes of words, as a share of the usual: more where it is made smaller to be seen.
    pub words: f64,
}

impl Easel {
    /// A sheet of its own.
    pub const SHEET: Easel = Easel {
        width: theme::WIDTH,
        height: 400.0,
        titled: true,
        words: 1.0,
    };
}

/// The elevation of the case.
///
/// Fronts stand as `[case]` and their own places say. Else horizontal runs are rows, the first at
/// the top, and vertical runs stand side by side; what is assumed is written below. Fronts of a
/// run keep the distances the job gives; openings that were measured are drawn around their
/// fronts, with the dividers between them. It bears the case's outside sizes and a scale bar.
///
/// # Panics
/// When the plan is not one for this job.
pub fn elevation(job: &Job, plan: &Plan, fitting: Option<&Sheet>) -> Drawing {
    let unit = job.settings.unit;
    elevation_on(&writable(job), plan, fitting, (Easel::SHEET, unit))
}

/// Where the fronts stand on the elevation.
///
/// # Panics
/// When the job's runs do not cover its fronts.
pub fn elevation_places(job: &Job) -> Vec<Placed> {
    Arrangement::of(job, Easel::SHEET).fronts
}

/// [`elevation`] on a sheet of any size, its scale bar in `unit`.
///
/// # Panics
/// As [`elevation`].
pub fn elevation_on(
    job: &Job,
    plan: &Plan,
    fitting: Option<&Sheet>,
    (easel, unit): (Easel, Unit),
) -> Drawing {
    let title = match job.settings.title.as_str() {
        "" => "Elevation".to_owned(),
        title => format!("{title}: elevation"),
    };
    let mut drawing = Drawing::new(easel.width, title.clone());
    let mut top = theme::MARGIN / 2.0;
    if easel.titled {
        let base = theme::MARGIN + theme::TITLE * 0.8;
        drawing.text(Text::new(title, theme::MARGIN, base, theme::TITLE).bold());
        top = base + 14.0;
    }
    let arrangement = Arrangement::of(job, easel);
    let sources = spans::sources(job, plan);
    let frame = arrangement.frame(top);
    let openings = Openings::of(job, fitting);
    case::draw(&mut drawing, &arrangement, &frame);
    let dividers = openings.draw(&mut drawing, &arrangement, &frame);
    let proud = front::shadows(&mut drawing, job, &arrangement, &frame);
    for placed in &arrangement.fronts {
        let source = sources[placed.front].as_deref();
        // A thinner outline leaves the gap around a front to be seen.
        let line = if openings.is_known(placed.front) {
            0.6
        } else {
            1.0
        };
        let rect = frame.rect(placed);
        front::draw(
            &mut drawing,
            job,
            rect,
            (line, easel.words),
            (placed.front, fitting),
            source,
        );
    }
    spans::draw_breaks(&mut drawing, job, &arrangement, &frame, &sources);
    spans::draw_brackets(&mut drawing, job, &arrangement, &frame, &sources);
    let ruler = Ruler {
        unit,
        ..job.settings.ruler()
    };
    let sizes = (ruler, easel.words);
    let bottom = case::sizes(&mut drawing, &arrangement, &frame, sizes);
    let bottom = legend::draw(
        &mut drawing,
        (job, plan),
        (&frame, bottom),
        (dividers, proud),
        (easel.words, unit),
    );
    let below = (bottom, ruler, easel.words);
    drawing.height = case::note(&mut drawing, job, &arrangement, below);
    drawing
}

/// Where each front's blanks come from; `None` for a front that is not made.
type Sources<'a> = Vec<Option<Vec<Source<'a>>>>;

#[cfg(test)]
mod tests;
