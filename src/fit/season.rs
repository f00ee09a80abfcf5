//! What the seasons do to a front: how much it grows and shrinks, and the gap to leave for it.

use serde::Serialize;

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
    /// grain it is the maker's `sides`. An overlay covers what the maker says.
    pub fn reckon(
        inside: f64,
        grain: Grain,
        gaps: &Gaps,
        shares: Edges<f64>,
        seasons: Option<Seasons>,
    ) -> Movement {
        let moving = moving_edges(grain);
        let gain = seasons.map_or(0.0, |s| s.gain(s.wettest).max(0.0));
        let base = Edges::each(|edge| base_gap(edge, moving.contains(&edge), gaps, &seasons));
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
        }
    }

    /// A front of a size across the grain, in no measured opening: it has no gaps.
    pub fn of_size(across: f64, shares: Edges<f64>, seasons: Option<Seasons>) -> Movement {
        Movement {
            today: Edges::all(0.0),
            across,
            shares,
            seasons,
            mode: Mode::Inset,
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

    /// The gaps (or overlaps) then.
    pub fn gaps(&self, season: Season) -> Edges<f64> {
        self.gaps_after(self.growth(season))
    }

    /// The gaps (or overlaps) at any moisture content.
    pub fn gaps_at(&self, moisture: Moisture) -> Edges<f64> {
        self.gaps_after(self.growth_at(moisture))
    }

    fn gaps_after(&self, growth: f64) -> Edges<f64> {
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
