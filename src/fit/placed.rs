//! A front put into its measured opening, or over it.

use super::crown::Crown;
use super::fitted::FittedOpening;
use super::one::outline_over;
use super::opening::{Solved, solve};
use super::outline::Outline;
use super::over::Over;
use super::plain::{nearly_square, square_around};
use super::point::Point;
use super::season::{Movement, Season, Seasons};
use super::trouble::FitTrouble;
use super::wedge::square_within;
use crate::job::{Edge, Edges, Fault, Front, Gaps, Grain, Job, Mode, OPENINGS_CSV, Opening};

/// A front in its opening.
pub(super) struct Placed {
    pub opening: FittedOpening,
    pub outline: Outline,
    pub movement: Movement,
}

/// How a front is to sit.
struct Sitting<'a> {
    front: &'a Front,
    gaps: Gaps,
    shares: Edges<f64>,
    seasons: Option<Seasons>,
}

/// Puts a front into its opening.
///
/// # Errors
/// Its first fault, at the cell it comes from.
pub(super) fn to_opening(
    job: &Job,
    front: &Front,
    over: &Over<'_>,
    opening: &Opening,
    seasons: Option<Seasons>,
) -> Result<Placed, Fault> {
    let ruler = job.settings.ruler();
    let at = |columns: &[&'static str]| opening.places.at(OPENINGS_CSV, columns);
    let solved = solve(&opening.measured, &over.drawn(front)).map_err(|why| {
        let column = why.suspect.measure.column();
        Fault::new(at(&[column]), FitTrouble::NoQuad { why, ruler })
    })?;
    let inside = outline_over(&solved.quad, over)
        .map_err(|across| Fault::new(at(&["top"]), FitTrouble::arch(front, across, ruler)))?;
    let gaps = gaps_of(job, front);
    let anchor = opening.anchor.unwrap_or(gaps.anchor);
    let sitting = Sitting {
        front,
        shares: anchor.shares(front.grain),
        gaps,
        seasons,
    };
    sitting.place(opening, &solved, &inside).map_err(|today| {
        let front = front.name.clone();
        let narrow = narrower(&inside, &today);
        Fault::new(at(&[narrow]), FitTrouble::GapsTooWide { front })
    })
}

/// The job's gaps with the front's own way of sitting.
pub(super) fn gaps_of(job: &Job, front: &Front) -> Gaps {
    let gaps = &job.settings.fitting.gaps;
    Gaps {
        mode: front.mode.unwrap_or(gaps.mode),
        ..gaps.clone()
    }
}

impl Sitting<'_> {
    /// Finds the gap under a curve by repetition: it is made wider until the least is left in
    /// every season, wherever the curves come nearest. The gaps of today where there is no room.
    fn place(
        &self,
        opening: &Opening,
        solved: &Solved,
        inside: &Outline,
    ) -> Result<Placed, Edges<f64>> {
        let mut more = 0.0;
        let mut placed = self.try_with(opening, solved, inside, more)?;
        let curved = inside.arc.is_some() && self.gaps.mode == Mode::Inset;
        if !curved || self.gaps.fixed.top.is_some() {
            return Ok(placed);
        }
        for _ in 0..50 {
            let left = Season::ALL.map(|season| placed.movement.gaps(season).top);
            let short = self.gaps.least.mm() - left.into_iter().fold(f64::MAX, f64::min);
            if short < 1e-7 {
                break;
            }
            more += short;
            placed = self.try_with(opening, solved, inside, more)?;
        }
        Ok(placed)
    }

    fn try_with(
        &self,
        opening: &Opening,
        solved: &Solved,
        inside: &Outline,
        more: f64,
    ) -> Result<Placed, Edges<f64>> {
        let grain = self.front.grain;
        let across = match grain {
            Grain::Horizontal => inside.height(),
            Grain::Vertical => inside.width(),
        };
        let ways = (self.shares, more);
        let movement = Movement::reckon(across, grain, &self.gaps, ways, self.seasons);
        let sign = match self.gaps.mode {
            Mode::Inset => 1.0,
            Mode::Overlay => -1.0,
        };
        let asked = inside
            .inset(&movement.today.map(|gap| sign * gap))
            .filter(|_| movement.across > 0.0)
            .ok_or(movement.today)?;
        let (outline, stands) = self.square_where_it_may(&asked);
        let mode = self.gaps.mode;
        let share = movement.first_share(grain);
        let crown = Crown::of(&outline, inside, stands, (grain, mode), share);
        let extra = extra(inside, &outline, stands, &movement);
        Ok(Placed {
            opening: FittedOpening {
                measured: opening.measured,
                solved: *solved,
                outline: *inside,
                stands,
                extra: match mode {
                    Mode::Inset => Edges::all(0.0),
                    Mode::Overlay => extra,
                },
            },
            outline,
            movement: movement.under(crown),
        })
    }

    /// An inset front follows its opening, but for what nobody would see; one that covers a
    /// leaning opening is square itself, and covers it by no less.
    fn square_where_it_may(&self, (asked, corner): &(Outline, Point)) -> (Outline, Point) {
        let (outline, at) = match self.gaps.mode {
            Mode::Inset => nearly_square(asked, square_within().mm()),
            Mode::Overlay => square_around(asked).unwrap_or((*asked, Point::default())),
        };
        (outline, corner.moved(at, 1.0))
    }
}

/// By how much a front reaches farther over each edge of its opening than asked, at the most.
fn extra(inside: &Outline, front: &Outline, stands: Point, movement: &Movement) -> Edges<f64> {
    let corners = front.quad.corners().map(|corner| corner.moved(stands, 1.0));
    Edges::each(|edge| {
        if edge == Edge::Top && inside.arc.is_some() {
            return 0.0;
        }
        let line = inside.quad.edge(edge);
        let covers = corners.into_iter().map(|corner| -line.left_of(corner));
        (covers.fold(f64::MIN, f64::max) - movement.today.at(edge)).max(0.0)
    })
}

/// The column of the size that the gaps eat up.
fn narrower(inside: &Outline, gaps: &Edges<f64>) -> &'static str {
    let height = inside.quad.sides().left - gaps.top - gaps.bottom;
    let width = inside.quad.sides().bottom - gaps.left - gaps.right;
    if height < width { "left" } else { "bottom" }
}
