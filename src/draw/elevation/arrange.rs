//! Where the fronts stand on the case, and where on the sheet.

use super::{Easel, standing};
use crate::draw::shape::{Point, Rect};
use crate::draw::theme;
use crate::job::Job;
use crate::measure::Length;

/// Between runs, in inches, drawn wide enough for a bracket.
const RUN_GAP_SHARE: f64 = 0.035;
/// Room between runs, in points, that a bracket with its board's name needs.
pub const BRACKET: f64 = 10.5;
/// Left and right of all fronts together: for the case's height and the bracket beside the last
/// column.
const SIDES: f64 = 7.0 * theme::MARGIN;
/// For the case's width and what is said below it, in points, where words have their usual size.
const BELOW: f64 = 46.0;
/// No case is drawn larger than this, in points for each inch.
const LARGEST_SCALE: f64 = 20.0;

/// A front with its place, in inches from the arrangement's upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Index into `Job::fronts`.
    pub front: usize,
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// All fronts with their places.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrangement {
    /// The fronts, run by run.
    pub fronts: Vec<Placed>,
    /// The case around them; one a bank where they fold into several.
    pub bodies: Vec<Body>,
    /// What the job does not say and the drawing takes for granted.
    pub assumed: Vec<Assumed>,
    /// Width of all, in inches.
    pub width: f64,
    /// Height of all, in inches.
    pub height: f64,
    room: Room,
}

/// The case's outline, in inches from the arrangement's upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Where it is.
    pub rect: Rect,
    /// Whether the job says how wide and how high it is.
    pub known: (bool, bool),
}

/// Something the job does not say.
#[derive(Clone, Debug, PartialEq)]
pub enum Assumed {
    /// Which row stands above which.
    Rows,
    /// Drawn in several banks, so that it can be seen.
    Banks(usize),
    /// Between rows, in inches.
    Rails(f64),
    /// Between neighbours of a run, in inches.
    Gaps(f64),
    /// The case's width.
    Width,
    /// The case's height.
    Height,
    /// Fronts of a case that has places for others only.
    Beside(Vec<usize>),
}

/// What fronts are arranged in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Room {
    /// Between runs, in inches.
    pub gap: f64,
    /// Of the sheet.
    pub easel: Easel,
}

/// How inches of the arrangement become points on the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    left: f64,
    top: f64,
    /// Points for each inch.
    pub scale: f64,
    /// Where the arrangement ends.
    pub bottom: f64,
    /// Between runs, in points.
    pub gap: f64,
    /// Where the sheet's margin begins on the right.
    pub right: f64,
}

impl Arrangement {
    /// As the job says that the fronts stand; else rows from the top in the order of the job.
    pub fn of(job: &Job, easel: Easel) -> Arrangement {
        let mut gap = rail(job);
        let mut best = standing::arrange(job, Room { gap, easel });
        // Small scales leave a bracket no room: wider rails make the scale smaller still.
        for _ in 0..4 {
            if is_said(job) || gap * best.scale() >= BRACKET {
                break;
            }
            gap = (4.4 * BRACKET / best.scale()).ceil() / 4.0;
            best = standing::arrange(job, Room { gap, easel });
        }
        best
    }

    pub(super) fn empty(room: Room) -> Arrangement {
        Arrangement {
            fronts: Vec::new(),
            bodies: Vec::new(),
            assumed: Vec::new(),
            width: 0.0,
            height: 0.0,
            room,
        }
    }

    /// Moves all so that it begins in the upper left corner, and measures it.
    pub(super) fn trimmed(mut self) -> Arrangement {
        let rects = self.fronts.iter().map(Placed::rect);
        let all = rects.chain(self.bodies.iter().map(|body| body.rect));
        let corners: Vec<Point> = all.flat_map(|rect| rect.corners()).collect();
        if corners.is_empty() {
            return self;
        }
        let all = Rect::around(&corners);
        let by = Point::new(-all.left, -all.top);
        for placed in &mut self.fronts {
            (placed.left, placed.top) = (placed.left + by.x, placed.top + by.y);
        }
        for body in &mut self.bodies {
            body.rect = body.rect.shifted(by);
        }
        (self.width, self.height) = (all.width(), all.height());
        self
    }

    /// Between rows, in inches.
    pub(super) fn gap(&self) -> f64 {
        self.room.gap
    }

    pub(super) fn scale(&self) -> f64 {
        let easel = self.room.easel;
        let height = easel.height - BELOW * easel.words;
        ((easel.width - SIDES) / self.width.max(1.0))
            .min(height / self.height.max(1.0))
            .min(LARGEST_SCALE)
    }

    /// The frame that centres the arrangement on the sheet, its top at `top`.
    pub fn frame(&self, top: f64) -> Frame {
        let scale = self.scale();
        Frame {
            left: (self.room.easel.width - self.width * scale) / 2.0,
            top,
            scale,
            bottom: top + self.height * scale,
            gap: self.room.gap * scale,
            right: self.room.easel.width - theme::MARGIN,
        }
    }
}

impl Placed {
    /// What it covers, in inches.
    pub fn rect(&self) -> Rect {
        let (right, bottom) = (self.left + self.width, self.top + self.height);
        Rect::new(self.left, self.top, right, bottom)
    }
}

impl Frame {
    /// Where a front stands on the sheet.
    pub fn rect(&self, placed: &Placed) -> Rect {
        self.on_sheet(placed.rect())
    }

    /// A rectangle of the arrangement on the sheet.
    pub fn on_sheet(&self, rect: Rect) -> Rect {
        let x = |inches: f64| self.left + inches * self.scale;
        let y = |inches: f64| self.top + inches * self.scale;
        Rect::new(x(rect.left), y(rect.top), x(rect.right), y(rect.bottom))
    }
}

/// Whether the job says what lies between rows.
fn is_said(job: &Job) -> bool {
    job.settings.case.rail.is_some()
}

/// Between rows, in inches: as the job says, or so much that the larger the case, the wider a rail,
/// in quarters of an inch.
fn rail(job: &Job) -> f64 {
    let face = job.fronts.iter();
    let face: f64 = face.map(|f| f.width.inches() * f.height.inches()).sum();
    let drawn = (face.sqrt() * RUN_GAP_SHARE * 4.0).ceil() / 4.0;
    job.settings.case.rail.map_or(drawn, Length::inches)
}
