//! The case in its own wood: each front filled from its very place on its very board.

use super::arrange::Arrangement;
use super::front::{Outline, stave_rect};
use super::reads::{Joint, Reader};
use super::spans::{self, Source};
use super::{Easel, Sources};
use crate::draw::board::upright;
use crate::draw::render::Canvas;
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::{Front, Grain, Job, PhotoSide};
use crate::photo::plane::Strip;
use crate::plan::{Blank, End, Face, Plan};
use crate::work::stave_span;

/// A board's face as its photographs show it.
#[derive(Clone, Debug)]
pub struct BoardFace {
    /// The board.
    pub board: String,
    /// Its copy.
    pub copy: u32,
    /// Which face.
    pub side: PhotoSide,
    /// Its picture from straight above, in even light.
    pub strip: Strip,
    /// What seems to be wrong with it: from, to, low, high, in inches.
    pub blemishes: Vec<[f64; 4]>,
}

/// The elevation in photographs, and every joint whose fronts are both seen; nothing when no
/// front is.
///
/// # Panics
/// When the plan is not one for this job.
pub fn elevation_photo(
    job: &Job,
    plan: &Plan,
    faces: &[BoardFace],
) -> Option<(Canvas, Vec<Joint>)> {
    let sources = spans::sources(job, plan);
    let seen = |source: &Source| face_of(job, source, faces).is_some();
    let any = sources.iter().flatten().flatten().any(seen);
    let joints = || Reader::new(job, faces).joints(&sources);
    any.then(|| (picture(job, &sources, faces), joints()))
}

fn picture(job: &Job, sources: &Sources, faces: &[BoardFace]) -> Canvas {
    let mut drawing = Drawing::new(theme::WIDTH, "Elevation in photographs");
    let title = match job.settings.title.as_str() {
        "" => "In its own wood".to_owned(),
        title => format!("{title}: in its own wood"),
    };
    let base = theme::MARGIN + theme::TITLE * 0.8;
    drawing.text(Text::new(title, theme::MARGIN, base, theme::TITLE).bold());
    let arrangement = Arrangement::of(job, Easel::SHEET);
    let frame = arrangement.frame(base + 14.0);
    super::case::draw(&mut drawing, &arrangement, &frame);
    for placed in &arrangement.fronts {
        let rect = frame.rect(placed);
        if sources[placed.front]
            .as_ref()
            .is_none_or(|staves| !all_seen(job, staves, faces))
        {
            let source = sources[placed.front].as_deref();
            super::front::draw(
                &mut drawing,
                job,
                rect,
                (1.0, 1.0),
                (placed.front, None),
                source,
            );
        }
    }
    spans::draw_breaks(&mut drawing, job, &arrangement, &frame, sources);
    spans::draw_brackets(&mut drawing, job, &arrangement, &frame, sources);
    drawing.height = frame.bottom + 26.0;
    let mut canvas = Canvas::of(&drawing);
    for placed in &arrangement.fronts {
        if let Some(staves) = &sources[placed.front]
            && all_seen(job, staves, faces)
        {
            fill(
                &mut canvas,
                job,
                frame.rect(placed),
                placed.front,
                staves,
                faces,
            );
        }
    }
    canvas
}

fn all_seen(job: &Job, staves: &[Source], faces: &[BoardFace]) -> bool {
    staves
        .iter()
        .all(|stave| face_of(job, stave, faces).is_some())
}

/// The picture of the face that a blank shows.
fn face_of<'f>(job: &Job, source: &Source, faces: &'f [BoardFace]) -> Option<&'f BoardFace> {
    face_at(job, source, faces).map(|at| &faces[at])
}

/// Which picture shows a blank's face.
pub(super) fn face_at(job: &Job, source: &Source, faces: &[BoardFace]) -> Option<usize> {
    let side = match source.blank.face {
        Face::Up => PhotoSide::Up,
        Face::Down => PhotoSide::Down,
    };
    let id = &job.boards[source.cut.board].id;
    let is_it =
        |face: &BoardFace| face.board == *id && face.copy == source.cut.copy && face.side == side;
    faces.iter().position(is_it)
}

/// Fills a front from its boards.
fn fill(
    canvas: &mut Canvas,
    job: &Job,
    rect: Rect,
    index: usize,
    staves: &[Source],
    faces: &[BoardFace],
) {
    let front = &job.fronts[index];
    let outline = Outline::of(front, rect);
    for stave in staves {
        let Some(face) = face_of(job, stave, faces) else {
            continue;
        };
        let spans = staves.iter().map(|source| source.blank);
        let part = stave_rect(front, rect, stave_span(spans, stave.blank));
        let place = Place::of(front, stave.blank);
        canvas.fill(part, |point| {
            let (along, across) = place.on_board(point, part, front.grain);
            outline
                .holds(point)
                .then(|| light_at(&face.strip, along, across))
        });
    }
}

pub(in crate::draw) fn light_at(strip: &Strip, along: f64, across: f64) -> [u8; 3] {
    let light = strip.pixel(strip.column(along), strip.row(across));
    light.map(crate::photo::colour::to_byte)
}

/// Where the finished wood of a blank lies on its board, in inches.
pub(super) struct Place<'b> {
    pub(super) blank: &'b Blank,
    pub(super) along: (f64, f64),
    pub(super) across: (f64, f64),
}

impl<'b> Place<'b> {
    /// The finished piece lies in the middle of its blank; what is between neighbours is lost. A
    /// glued front's staves are jointed as they come, so they are taken whole across.
    pub(super) fn of(front: &Front, blank: &'b Blank) -> Place<'b> {
        let trim = (blank.to - blank.from - front.along()).inches() / 2.0;
        let rip = match blank.staves {
            1 => (blank.high - blank.low - front.across()).inches() / 2.0,
            _ => 0.0,
        };
        Place {
            blank,
            along: (blank.from.inches() + trim, blank.to.inches() - trim),
            across: (blank.low.inches() + rip, blank.high.inches() - rip),
        }
    }

    /// The place on the board of a point of the front as it hangs on the case.
    fn on_board(&self, point: Point, part: Rect, grain: Grain) -> (f64, f64) {
        let right = (point.x - part.left) / part.width();
        let up = (part.bottom - point.y) / part.height();
        let (forward, upward) = match grain {
            Grain::Horizontal => (right, up),
            Grain::Vertical => (up, 1.0 - right),
        };
        let along = if self.blank.left == End::Hook {
            forward
        } else {
            1.0 - forward
        };
        let across = if upright(self.blank) {
            upward
        } else {
            1.0 - upward
        };
        let between = |(from, to): (f64, f64), part: f64| from + (to - from) * part;
        (between(self.along, along), between(self.across, across))
    }
}
