//! The openings around the fronts and the dividers between them, to scale, when they were measured.

use super::arrange::{Arrangement, Frame, Placed};
use super::front::Outline;
use crate::draw::shape::{Point, Rect};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::fit::{Fitted, Season, Sheet};
use crate::job::{Edges, Grain, Job, Mode};
use crate::measure::Length;

/// The openings of inset fronts. Those behind overlays are hidden.
pub struct Openings<'a> {
    job: &'a Job,
    sheet: Option<&'a Sheet>,
}

impl<'a> Openings<'a> {
    /// The openings of a job, as far as a fitting sheet knows them.
    pub fn of(job: &'a Job, sheet: Option<&'a Sheet>) -> Openings<'a> {
        Openings { job, sheet }
    }

    fn fitted(&self, front: usize) -> Option<&'a Fitted> {
        let fronts = self.sheet.iter().flat_map(|sheet| &sheet.fronts);
        fronts
            .into_iter()
            .find(|fitted| fitted.front == front && fitted.opening.is_some())
            .filter(|fitted| fitted.mode == Mode::Inset)
    }

    /// Whether a front's opening is known.
    pub fn is_known(&self, front: usize) -> bool {
        self.fitted(front).is_some()
    }

    /// Draws every opening, and then the dividers between neighbours. Tells whether there was a
    /// divider.
    pub fn draw(&self, drawing: &mut Drawing, arrangement: &Arrangement, frame: &Frame) -> bool {
        let open = arrangement.fronts.iter().filter_map(|placed| {
            let fitted = self.fitted(placed.front)?;
            Some(Open::of(self.job, fitted, placed, frame))
        });
        let open: Vec<Open> = open.collect();
        for one in &open {
            drawing.outline(one.outline.clone(), 0.4, theme::FAINT);
        }
        let mut any = false;
        for run in &self.job.runs {
            for pair in run.fronts.windows(2) {
                let find = |front| open.iter().find(|one| one.front == front);
                let (Some(a), Some(b)) = (find(pair[0]), find(pair[1])) else {
                    continue;
                };
                let known = self.job.fronts[pair[0]].space_after.is_some();
                let grain = self.job.fronts[pair[0]].grain;
                if let Some(corners) = between(a, b, grain).filter(|_| known) {
                    drawing.area(corners, theme::WASTE);
                    drawing.outline(corners, 0.4, theme::FAINT);
                    any = true;
                }
            }
        }
        any
    }
}

/// An opening on the sheet.
struct Open {
    front: usize,
    /// Around it; under an arch up to the highest point.
    rect: Rect,
    /// Where its upper corners lie, down the sheet.
    corners: [f64; 2],
    outline: Vec<Point>,
}

impl Open {
    fn of(job: &Job, fitted: &Fitted, placed: &Placed, frame: &Frame) -> Open {
        let scale = frame.scale / Length::from_inches(1.0).mm();
        let gaps = fitted.movement.gaps(Season::Today).map(|gap| gap * scale);
        let inner = frame.rect(placed);
        let rect = grown(inner, &gaps);
        let mut outline = Outline::of(&job.fronts[placed.front], inner).over();
        for point in &mut outline {
            point.y -= gaps.top;
        }
        if let [first, .., last] = outline.as_mut_slice() {
            (first.x, last.x) = (rect.left, rect.right);
        }
        let ends = [outline.first(), outline.last()];
        let corners = ends.map(|end| end.map_or(rect.top, |point| point.y));
        outline.push(Point::new(rect.right, rect.bottom));
        outline.push(Point::new(rect.left, rect.bottom));
        Open {
            front: placed.front,
            rect,
            corners,
            outline,
        }
    }
}

fn grown(rect: Rect, by: &Edges<f64>) -> Rect {
    Rect::new(
        rect.left - by.left,
        rect.top - by.top,
        rect.right + by.right,
        rect.bottom + by.bottom,
    )
}

/// The divider between two openings of a run, as far as both reach; nothing when they touch.
fn between(a: &Open, b: &Open, grain: Grain) -> Option<[Point; 4]> {
    match grain {
        Grain::Horizontal => (b.rect.left > a.rect.right).then(|| {
            [
                Point::new(a.rect.right, a.corners[1]),
                Point::new(b.rect.left, b.corners[0]),
                Point::new(b.rect.left, b.rect.bottom),
                Point::new(a.rect.right, a.rect.bottom),
            ]
        }),
        Grain::Vertical => (a.rect.top > b.rect.bottom).then(|| {
            let (left, right) = (a.rect.left.max(b.rect.left), a.rect.right.min(b.rect.right));
            Rect::new(left, b.rect.bottom, right, a.rect.top).corners()
        }),
    }
}
