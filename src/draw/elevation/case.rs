//! The case around the fronts: its outline, its outside sizes, and what of it is assumed.

use super::arrange::{Arrangement, Assumed, Frame};
use crate::draw::font::{Weight, wrap};
use crate::draw::fraction::stacked;
use crate::draw::shape::{Point, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Job;
use crate::measure::{Length, Ruler};

/// Below the case, for its width.
const SIZES: f64 = 15.0;
/// From the case to the line of a size.
const OFF: f64 = 8.0;

/// Draws the outline: in dashes where the job does not say how large the case is.
pub fn draw(drawing: &mut Drawing, arrangement: &Arrangement, frame: &Frame) {
    for body in &arrangement.bodies {
        let rect = frame.on_sheet(body.rect);
        drawing.fill(rect, theme::CASE);
        match body.known {
            (true, true) => drawing.outline(rect.corners(), 1.6, theme::INK),
            _ => drawing.dashed_outline(rect, 6.0, 0.8, theme::INK),
        }
    }
}

/// Draws the outside sizes of a case that is drawn as one, in parentheses where they only follow
/// from what is assumed. Gives where the drawing ends.
pub fn sizes(
    drawing: &mut Drawing,
    arrangement: &Arrangement,
    frame: &Frame,
    (ruler, words): (Ruler, f64),
) -> f64 {
    let [body] = arrangement.bodies[..] else {
        return frame.bottom;
    };
    let size = theme::NOTE * words.min(1.3);
    let half = size * 0.365;
    let rect = frame.on_sheet(body.rect);
    let told = |inches: f64, known: bool| {
        let length = stacked(&ruler.show_with_unit(Length::from_inches(inches)));
        if known { length } else { format!("({length})") }
    };
    let (x, y) = (rect.left - OFF, rect.bottom + OFF);
    let tick = (Point::new(0.0, 3.0), Point::new(3.0, 0.0));
    line(
        drawing,
        [Point::new(rect.left, y), Point::new(rect.right, y)],
        tick.0,
    );
    line(
        drawing,
        [Point::new(x, rect.top), Point::new(x, rect.bottom)],
        tick.1,
    );
    let (wide, high) = (body.rect.width(), body.rect.height());
    let across = told(wide, body.known.0);
    let up = told(high, body.known.1);
    let across = Text::new(across, rect.centre().x, y + half, size).middle();
    let up = Text::new(up, x + half, rect.centre().y, size);
    let up = up.middle().upward();
    for (text, room) in [(across, rect.width()), (up, rect.height())] {
        if text.length() < room {
            drawing.text_on(text, theme::PAPER);
        }
    }
    frame.bottom + SIZES
}

/// The line of a size, a tick across either end.
fn line(drawing: &mut Drawing, ends: [Point; 2], tick: Point) {
    drawing.stroke(ends, 0.6, theme::INK);
    for end in ends {
        let from = Point::new(end.x - tick.x, end.y - tick.y);
        let to = Point::new(end.x + tick.x, end.y + tick.y);
        drawing.line(from, to, 0.6, theme::INK);
    }
}

/// Writes what is assumed below `top`. Gives where the drawing ends.
pub fn note(
    drawing: &mut Drawing,
    job: &Job,
    arrangement: &Arrangement,
    (top, ruler, words): (f64, Ruler, f64),
) -> f64 {
    let size = theme::NOTE * words.min(1.2);
    let width = drawing.width - 2.0 * theme::MARGIN;
    let mut y = top;
    for sentence in sentences(job, arrangement, ruler) {
        for line in wrap(&stacked(&sentence), size, Weight::Regular, width) {
            y += size * 1.3;
            drawing.text(Text::new(line, theme::MARGIN, y, size));
        }
    }
    y + size * 0.5
}

/// What had to be assumed, in words; nothing where the job says all.
pub fn sentences(job: &Job, arrangement: &Arrangement, ruler: Ruler) -> Vec<String> {
    let assumed = &arrangement.assumed;
    let taken: Vec<String> = assumed
        .iter()
        .filter_map(|one| taken(one, assumed, ruler))
        .collect();
    let mut told: Vec<String> = assumed.iter().filter_map(|one| said(one, job)).collect();
    if !taken.is_empty() {
        told.push(format!(
            "Assumed, as the job does not say (under [case]): {}.",
            taken.join("; ")
        ));
    }
    told
}

/// One thing of a list of what is taken for granted.
fn taken(one: &Assumed, all: &[Assumed], ruler: Ruler) -> Option<String> {
    let length = |inches: f64| ruler.show_with_unit(Length::from_inches(inches));
    let both = all.contains(&Assumed::Width) && all.contains(&Assumed::Height);
    match one {
        Assumed::Rows => Some("rows one below another, as the runs stand in the file".into()),
        Assumed::Rails(gap) => Some(format!("rails of {}", length(*gap))),
        Assumed::Gaps(gap) => Some(format!("{} between neighbours", length(*gap))),
        Assumed::Width if both => Some("the case’s size".into()),
        Assumed::Width => Some("the case’s width".into()),
        Assumed::Height if !both => Some("the case’s height".into()),
        Assumed::Height | Assumed::Banks(_) | Assumed::Beside(_) => None,
    }
}

/// What needs a sentence of its own.
fn said(one: &Assumed, job: &Job) -> Option<String> {
    match one {
        Assumed::Banks(banks) => Some(format!(
            "Drawn in {banks} banks side by side, to be seen at all: the job does not say how its \
             rows stand."
        )),
        Assumed::Beside(fronts) => {
            let names = fronts.iter().map(|&front| job.fronts[front].name.as_str());
            let names = names.collect::<Vec<&str>>().join(", ");
            Some(format!(
                "Beside the case, as their rows give no place: {names}."
            ))
        }
        _ => None,
    }
}
