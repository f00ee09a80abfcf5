//! One finished front, and the runs fronts stand in.

use super::Board;
use super::fitting::Mode;
use crate::measure::Length;
use crate::wood::Cut;

/// One finished drawer front, door or panel.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Front {
    /// Its name; copies of a counted row are `NAME.1` and so on.
    pub name: String,
    /// Finished width as seen on the case.
    pub width: Length,
    /// Finished height as seen on the case, an arch's to its crown.
    pub height: Length,
    /// Finished thickness.
    pub thickness: Length,
    /// Which way the grain goes on the finished front.
    pub grain: Grain,
    /// Distance on the case to the next front of its run.
    pub space_after: Option<Length>,
    /// Its outline.
    pub shape: Shape,
    /// The only boards it may come from, by `Board::id`; all, when none is named.
    pub boards: Vec<String>,
    /// Boards it may not come from.
    pub not_boards: Vec<String>,
    /// Whether its run stands side by side across the grain and is to look alike, as door beside door, rather
    /// than read as one piece of wood: then wood may be lost between neighbours.
    pub alike: bool,
    /// Whether it is to stay in one stretch with the next front of its run.
    pub with_next: bool,
    /// Whether it may be glued up from staves, [`Glue::from`](super::Glue::from) taken into
    /// account.
    pub glue: bool,
    /// What its own row says of gluing; nothing leaves it to the job.
    pub glue_asked: Option<bool>,
    /// How its wood was taken to be sawn when its size was fitted to an opening for all seasons;
    /// nothing when it was not.
    pub sawn: Option<Cut>,
    /// Whether it sits inside its opening or covers it; `None` leaves it to the job.
    pub mode: Option<Mode>,
    /// Where it stands on the case, if its row says so.
    pub stands: Option<Stand>,
    /// Whatever the maker wrote.
    pub notes: String,
}

/// Where a front's lower left corner is, from the case's.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stand {
    /// To the right.
    pub across: Length,
    /// Upwards.
    pub up: Length,
}

/// Which way the grain goes on a finished front.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Grain {
    /// Side to side: the front's width is cut along the board.
    #[default]
    Horizontal,
    /// Up and down: the front's height is cut along the board.
    Vertical,
}

/// A front's outline.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shape {
    /// Four straight edges.
    #[default]
    Square,
    /// An arched top that stands `rise` above its corners.
    Arch {
        /// Crown above the corners.
        rise: Length,
    },
    /// A slice of an arch that runs over its neighbours too; the front's height is to its
    /// highest point.
    Slice {
        /// Height at the left corner.
        left: Length,
        /// Height at the right corner.
        right: Length,
        /// Radius of the curve between them.
        radius: Length,
    },
}

/// Fronts whose grain should carry through, in order: left to right when horizontal, bottom
/// to top when vertical.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Run {
    /// Its name; a front without a run is a run of its own, named like the front.
    pub name: String,
    /// Indices into `Job::fronts`, by place.
    pub fronts: Vec<usize>,
}

impl Front {
    /// Whether it may come from a board, as far as names go.
    pub fn may_come_from(&self, board: &Board) -> bool {
        let named = |ids: &[String]| ids.contains(&board.id);
        let asked = self.boards.is_empty() || named(&self.boards);
        asked && !named(&self.not_boards) && !board.left_out
    }

    /// The board it must come from, where that is one.
    pub fn only_board(&self) -> Option<&str> {
        match self.boards.as_slice() {
            [only] => Some(only),
            _ => None,
        }
    }

    /// The finished dimension cut along the board.
    pub fn along(&self) -> Length {
        match self.grain {
            Grain::Horizontal => self.width,
            Grain::Vertical => self.height,
        }
    }

    /// The finished dimension cut across the board.
    pub fn across(&self) -> Length {
        match self.grain {
            Grain::Horizontal => self.height,
            Grain::Vertical => self.width,
        }
    }
}
