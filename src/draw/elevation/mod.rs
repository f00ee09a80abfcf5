//! The case seen from the front: every front in its place, with the grain it will have.

mod arrange;
mod figure;
mod front;
mod legend;
mod spans;

use crate::job::Job;
use crate::measure::Ruler;
use crate::plan::Plan;

use super::shape::Text;
use super::sheet::Drawing;
use super::theme;
use arrange::Arrangement;
use spans::Source;

/// The elevation of the case, in the job's unit.
///
/// Horizontal runs are rows, the first at the top; vertical runs that follow one another in the
/// job stand side by side. Fronts of a run keep the distances the job gives.
///
/// # Panics
/// When the plan is not one for this job.
pub fn elevation(job: &Job, plan: &Plan) -> Drawing {
    elevation_in(job, plan, job.settings.ruler())
}

/// The same with lengths written as `ruler` says.
///
/// # Panics
/// As [`elevation`].
pub fn elevation_in(job: &Job, plan: &Plan, ruler: Ruler) -> Drawing {
    let title = match job.settings.title.as_str() {
        "" => "Elevation".to_owned(),
        title => format!("{title}: elevation"),
    };
    let mut drawing = Drawing::new(theme::WIDTH, title.clone());
    let base = theme::MARGIN + theme::TITLE * 0.8;
    drawing.text(Text::new(title, theme::MARGIN, base, theme::TITLE).bold());
    let arrangement = Arrangement::of(job);
    let sources = spans::sources(job, plan);
    let frame = arrangement.frame(base + 14.0);
    for placed in &arrangement.fronts {
        let source = sources[placed.front].as_deref();
        front::draw(&mut drawing, job, frame.rect(placed), placed.front, source);
    }
    spans::draw_breaks(&mut drawing, job, &arrangement, &frame, &sources);
    spans::draw_brackets(&mut drawing, job, &arrangement, &frame, &sources);
    drawing.height = legend::draw(&mut drawing, job, plan, &frame, ruler);
    drawing
}

/// Where each front's blanks come from; `None` for a front that is not made.
type Sources<'a> = Vec<Option<Vec<Source<'a>>>>;

#[cfg(test)]
mod tests;
