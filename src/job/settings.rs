//! The settings of `job.toml`, with the defaults a maker would start from.

use crate::measure::{Length, Ruler, Unit};

/// Everything `job.toml` says.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// The job's title.
    pub title: String,
    /// The unit bare numbers are in, and results are written in.
    pub unit: Unit,
    /// Finest fraction of an inch printed: 8, 16, 32 or 64.
    pub fraction: u32,
    /// A species the wood table knows, or empty.
    pub species: String,
    /// What the saws, the jointer and the planer take.
    pub allowances: Allowances,
    /// What looks are worth, in board feet.
    pub worth: Worth,
    /// Gluing fronts up from staves.
    pub glue: Glue,
}

/// What cutting and milling take, and the least that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowances {
    /// Width of a crosscut.
    pub crosscut_kerf: Length,
    /// Width of a rip cut.
    pub rip_kerf: Length,
    /// Off each end of every board.
    pub end_trim: Length,
    /// Off each edge of every section.
    pub edge_trim: Length,
    /// A blank is this much longer than its front.
    pub rough_length: Length,
    /// A blank is this much wider than its front.
    pub rough_width: Length,
    /// Final skim off each face.
    pub plane: Length,
    /// Kept between a blank and a defect.
    pub clear: Length,
    /// Most wood lost between finished neighbours of one stretch.
    pub longest_skip: Length,
    /// Shortest piece to send over a jointer or through a planer.
    pub shortest_safe: Length,
    /// Shortest kept piece; `None` keeps nothing.
    pub keep_offcut: Option<Length>,
    /// Narrowest kept piece.
    pub keep_width: Length,
    /// What decides the least distance between neighbours of a stretch.
    pub between: Between,
}

/// What decides the least distance between finished neighbours of a stretch.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Between {
    /// As little as the saw allows.
    #[default]
    Tight,
    /// The distance the fronts have on the case, when that is larger.
    AsBuilt,
}

/// What looks are worth to this maker, in board feet of lumber.
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// Avoiding one break.
    pub unbroken: f64,
    /// One tone step inside a run.
    pub tone_run: f64,
    /// One tone step over the whole piece.
    pub tone_case: f64,
    /// Avoiding one glue line in one front.
    pub glue_line: f64,
    /// What a board foot already owned counts, in money, when planning by money.
    pub owned: f64,
}

/// Gluing fronts up from staves.
#[derive(Clone, Debug, PartialEq)]
pub struct Glue {
    /// Whether fronts may be glued unless their row says otherwise.
    pub allow: bool,
    /// Narrowest stave.
    pub least_stave: Length,
    /// Extra width for each glued joint.
    pub joint: Length,
}

impl Settings {
    /// How lengths of this job are printed.
    pub fn ruler(&self) -> Ruler {
        Ruler {
            unit: self.unit,
            fraction: self.fraction,
        }
    }
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            title: String::new(),
            unit: Unit::Inch,
            fraction: 16,
            species: String::new(),
            allowances: Allowances::default(),
            worth: Worth::default(),
            glue: Glue::default(),
        }
    }
}

impl Default for Allowances {
    fn default() -> Allowances {
        let inches = Length::from_inches;
        Allowances {
            crosscut_kerf: inches(0.125),
            rip_kerf: inches(0.125),
            end_trim: inches(2.0),
            edge_trim: inches(0.125),
            rough_length: inches(1.0),
            rough_width: inches(0.25),
            plane: inches(0.03125),
            clear: inches(0.25),
            longest_skip: inches(2.0),
            shortest_safe: inches(12.0),
            keep_offcut: Some(inches(24.0)),
            keep_width: inches(4.0),
            between: Between::Tight,
        }
    }
}

impl Default for Worth {
    fn default() -> Worth {
        Worth {
            unbroken: 4.0,
            tone_run: 1.0,
            tone_case: 0.5,
            glue_line: 2.0,
            owned: 0.0,
        }
    }
}

impl Default for Glue {
    fn default() -> Glue {
        Glue {
            allow: true,
            least_stave: Length::from_inches(2.0),
            joint: Length::from_inches(0.125),
        }
    }
}
