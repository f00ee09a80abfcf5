//! Pulls, where the job says that there are any.

use crate::draw::shape::{Point, Rect};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::fit::{Hole, PullMarks, Sheet};
use crate::job::{Front, Job, Level, PullRule};

/// Kept free around a pull, in points.
const CLEAR: f64 = 3.5;

/// Where the pulls of a front are, on the sheet: both ends of each, which for a knob are one.
#[derive(Clone, Debug, Default)]
pub struct Pulls {
    all: Vec<(Point, Point)>,
}

impl Pulls {
    /// Those of a front that fills `rect`: as its fitting has them, else by the job's rule.
    pub fn of(job: &Job, fitting: Option<&Sheet>, front: usize, rect: Rect) -> Pulls {
        let fitted = fitting.and_then(|sheet| sheet.fronts.iter().find(|f| f.front == front));
        let front = &job.fronts[front];
        match (fitted, &job.settings.fitting.pulls) {
            (Some(fitted), _) => {
                let marks = fitted.pulls.as_ref();
                marks.map_or(Pulls::default(), |marks| Pulls::marked(marks, front, rect))
            }
            (None, Some(rule)) => Pulls::ruled(rule, front, rect),
            (None, None) => Pulls::default(),
        }
    }

    fn marked(marks: &PullMarks, front: &Front, rect: Rect) -> Pulls {
        let scale = rect.width() / front.width.mm().max(1e-9);
        let spot = |hole: &Hole| {
            let (x, y) = (hole.at.x * scale, hole.at.y * scale);
            Point::new(rect.left + x, rect.bottom - y)
        };
        let pulls = marks.holes.chunk_by(|a, b| a.pull == b.pull);
        let ends = |holes: &[Hole]| Some((spot(holes.first()?), spot(holes.last()?)));
        Pulls {
            all: pulls.filter_map(ends).collect(),
        }
    }

    fn ruled(rule: &PullRule, front: &Front, rect: Rect) -> Pulls {
        let pair = [rule.end_share, 1.0 - rule.end_share];
        let shares: &[f64] = match rule.two_from {
            Some(from) if front.width >= from => &pair,
            _ => &[0.5],
        };
        let scale = rect.width() / front.width.mm().max(1e-9);
        let y = match rule.level {
            Level::Share(share) => rect.bottom - share * rect.height(),
            Level::Above(height) => rect.bottom - height.mm() * scale,
        };
        let half = rule
            .spacing
            .map_or(0.0, |spacing| spacing.mm() * scale / 2.0);
        let pull = |share: &f64| {
            let x = rect.left + share * rect.width();
            (Point::new(x - half, y), Point::new(x + half, y))
        };
        Pulls {
            all: shares.iter().map(pull).collect(),
        }
    }

    /// Draws them: a bar from hole to hole, or a knob.
    pub fn draw(&self, drawing: &mut Drawing) {
        for &(from, to) in &self.all {
            if to.x - from.x > 2.0 {
                drawing.line(from, to, 3.4, theme::PAPER);
                drawing.line(from, to, 1.8, theme::INK);
            } else {
                let middle = Point::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
                drawing.area(circle(middle, 3.0), theme::PAPER);
                drawing.area(circle(middle, 2.0), theme::INK);
            }
        }
    }

    /// The parts of a front's room that no pull is in: between two, beside, above and below.
    pub fn free(&self, room: Rect) -> Vec<Rect> {
        let points: Vec<Point> = self.all.iter().flat_map(|&(a, b)| [a, b]).collect();
        if points.is_empty() {
            return vec![room];
        }
        let taken = Rect::around(&points).inset(-CLEAR);
        let between = self.all.windows(2).map(|pair| {
            let (left, right) = (pair[0].1.x + CLEAR, pair[1].0.x - CLEAR);
            Rect {
                left,
                right,
                ..room
            }
        });
        let (right, bottom, top) = (taken.left, taken.top, taken.bottom);
        let sides = [
            Rect { right, ..room },
            Rect { bottom, ..room },
            Rect { top, ..room },
        ];
        between.chain(sides).collect()
    }
}

fn circle(middle: Point, radius: f64) -> Vec<Point> {
    let corner = |i: u32| {
        let turn = f64::from(i) / 16.0 * std::f64::consts::TAU;
        let (x, y) = (radius * turn.cos(), radius * turn.sin());
        Point::new(middle.x + x, middle.y + y)
    };
    (0..16).map(corner).collect()
}
