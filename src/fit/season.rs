//! What the seasons do to a front: how much it grows and shrinks, and the gap to leave for it.

use serde::Serialize;

use super::crown::Crown;
use crate::job::{Edge, Edges, Gaps, Grain, Mode};
use crate::wood::Moisture;

/// A time of the year, as far as wood is concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Season {
    /// The day the front is fitted.
    Today,
    /// When the house is at its driest.
    Driest,
    /// When the house is at its dampest.
    Wettest,
}

/// How moist a front's wood is through the year, and what it does about it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seasons {
    /// On the day of fitting.
    pub today: Moisture,
    /// When the house is at its driest.
    pub driest: Moisture,
    /// When the house is at its dampest.
    pub wettest: Moisture,
    /// Change in size across the grain for each unit of size and per cent of moisture.
    pub per_percent: f64,
}

/// A front's gaps, today and through the year. Millimetres; overlaps when it is an overlay.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Movement {
    /// The gap to leave at each edge on the day of fitting.
    pub today: Edges<f64>,
    /// The front's size across the grain, at its largest, on that day.
    pub across: f64,
    /// Each edge's share of the growth.
    shares: Edges<f64>,
    seasons: Option<Seasons>,
    mode: Mode,
    /// Under an arch the gap at the top is the one between the curves.
    crown: Option<Crown>,
}

impl Season {
    /// The three of them.
    pub const ALL: [Season; 3] = [Season::Today, Season::Driest, Season::Wettest];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Season::Today => "today",
            Season::Driest => "driest",
            Season::Wettest => "wettest",
        }
    }
}

impl Season {
    /// The end of a sentence that begins "it sticks when".
    pub(crate) fn when(self) -> &'static str {
        match self {
            Season::Today => "it is hung today",
            Season::Driest => "the house is driest",
            Season::Wettest => "the house is dampest",
        }
    }
}

impl Seasons {
    /// How moist the wood is then.
    pub fn moisture(&self, season: Season) -> Moisture {
        match season {
            Season::Today => self.today,
            Season::Driest => self.driest,
            Season::Wettest => self.wettest,
        }
    }

    /// Share of its size a front gains from today to a moisture content; below zero it shrinks.
    fn gain(&self, moisture: Moisture) -> f64 {
        self.per_percent * (moisture.value() - self.today.value())
    }
}

impl Movement {
    /// Shares an opening's size across the grain, `inside`, out to the front and its gaps.
    ///
    /// At an edge that moves, the gap today is what must remain at the tightest plus the edge's
    /// share of the front's growth to the dampest season: a front of size `H` grows by
    /// `H x gain`, so `inside = H + remain + H x gain x shares` gives `H`. At the ends of the
    /// grain it is the maker's `sides`. An overlay covers what the maker says. `more` is added to
    /// the top's gap, for a curve that comes nearer to its opening than a straight top would.
    pub(super) fn reckon(
        inside: f64,
        grain: Grain,
        gaps: &Gaps,
        (shares, more): (Edges<f64>, f64),
        seasons: Option<Seasons>,
    ) -> Movement {
        let moving = moving_edges(grain);
        let gain = seasons.map_or(0.0, |s| s.gain(s.wettest).max(0.0));
        let mut base = Edges::each(|edge| base_gap(edge, moving.contains(&edge), gaps, &seasons));
        base.top += more;
        let free = |edge: Edge| match gaps.mode == Mode::Inset && gaps.fixed.at(edge).is_none() {
            true => shares.at(edge),
            false => 0.0,
        };
        let sign = if gaps.mode == Mode::Inset { 1.0 } else { -1.0 };
        let taken: f64 = moving.iter().map(|&edge| base.at(edge)).sum();
        let growing: f64 = moving.iter().map(|&edge| free(edge)).sum();
        let across = (inside - sign * taken) / (1.0 + gain * growing);
        Movement {
            today: Edges::each(|edge| base.at(edge) + across.max(0.0) * gain * free(edge)),
            across,
            shares,
            seasons,
            mode: gaps.mode,
            crown: None,
        }
    }

    /// The same sizes in wood that moves otherwise than they were reckoned with.
    pub(super) fn with(self, seasons: Option<Seasons>) -> Movement {
        Movement { seasons, ..self }
    }

    /// The same under an arch.
    pub(super) fn under(self, crown: Option<Crown>) -> Movement {
        Movement { crown, ..self }
    }

    /// Share of the growth at the bottom, or at the left when the grain is vertical.
    pub(super) fn first_share(&self, grain: Grain) -> f64 {
        self.shares.at(moving_edges(grain)[0])
    }

    /// A front of a size across the grain, in no measured opening: it has no gaps.
    pub fn of_size(across: f64, shares: Edges<f64>, seasons: Option<Seasons>) -> Movement {
        Movement {
            today: Edges::all(0.0),
            across,
            shares,
            seasons,
            mode: Mode::Inset,
            crown: None,
        }
    }

    /// By how much the front is larger across the grain than today; below zero it is smaller.
    pub fn growth(&self, season: Season) -> f64 {
        self.seasons
            .map_or(0.0, |s| self.growth_at(s.moisture(season)))
    }

    /// The same at any moisture content.
    pub fn growth_at(&self, moisture: Moisture) -> f64 {
        self.seasons.map_or(0.0, |s| self.across * s.gain(moisture))
    }

    /// The gaps (or overlaps) then; under an arch the least between the two curves.
    pub fn gaps(&self, season: Season) -> Edges<f64> {
        self.gaps_after(self.growth(season))
    }

    /// The gaps (or overlaps) at any moisture content.
    pub fn gaps_at(&self, moisture: Moisture) -> Edges<f64> {
        self.gaps_after(self.growth_at(moisture))
    }

    /// The same where they are widest.
    pub fn widest(&self, season: Season) -> Edges<f64> {
        let growth = self.growth(season);
        let gaps = self.straight(growth);
        let most = self.crown.map(|crown| crown.gaps(growth)[1]);
        Edges {
            top: most.unwrap_or(gaps.top),
            ..gaps
        }
    }

    fn gaps_after(&self, growth: f64) -> Edges<f64> {
        let gaps = self.straight(growth);
        let least = self.crown.map(|crown| crown.gaps(growth)[0]);
        Edges {
            top: least.unwrap_or(gaps.top),
            ..gaps
        }
    }

    /// The gaps as if the top were straight.
    fn straight(&self, growth: f64) -> Edges<f64> {
        let sign = match self.mode {
            Mode::Inset => -1.0,
            Mode::Overlay => 1.0,
        };
        Edges::each(|edge| self.today.at(edge) + sign * growth * self.shares.at(edge))
    }
}

/// The two edges that move: wood moves across the grain only.
pub(crate) fn moving_edges(grain: Grain) -> [Edge; 2] {
    match grain {
        Grain::Horizontal => [Edge::Bottom, Edge::Top],
        Grain::Vertical => [Edge::Left, Edge::Right],
    }
}

/// What an edge's gap (or overlap) is before growth is added.
fn base_gap(edge: Edge, moves: bool, gaps: &Gaps, seasons: &Option<Seasons>) -> f64 {
    let asked = match (gaps.mode, seasons) {
        (Mode::Overlay, _) => gaps.overlap,
        (Mode::Inset, Some(_)) if moves => gaps.least,
        // Without a climate nobody knows how much of a gap the seasons need.
        (Mode::Inset, _) => gaps.sides.max(gaps.least),
    };
    gaps.fixed.at(edge).unwrap_or(asked).mm()
}
