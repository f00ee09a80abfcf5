//! Drawings: one board, the case's elevation, charts.
//!
//! A drawing is made in three steps. What is planned becomes shapes, which are plain data in
//! points ([`Drawing`]); shapes become a picture ([`Drawing::svg`], [`Drawing::png`]), drawn by
//! plotters with a font that travels with the program; writing it is the caller's.

mod board;
mod board_photo;
mod chart;
mod elevation;
mod fitting;
mod font;
mod fraction;
mod hatch;
mod names;
mod render;
mod shape;
mod sheet;
mod spread;
#[cfg(test)]
pub(crate) mod testing;
mod theme;

pub use board::{
    Progress, Status, board, board_facts, board_in, board_layouts, board_name, board_narrow,
    board_untitled, copy_name, defect_name, ring, thickness,
};
pub use board_photo::board_photo;
pub use chart::{feet_to_buy, need_of_runs};
pub use elevation::{
    BoardFace, Easel, Joint, Placed, Reader, elevation, elevation_on, elevation_photo,
    elevation_places,
};
pub use fitting::{fitting, front};
pub use font::{
    Weight, belongs as belongs_together, fit as fit_text, units_per_em, width as text_width, wrap,
};
pub use fraction::{BENCH, SLASH, in_line, reach, stacked};
pub use names::{Named, Renamed, can_write, unwritable, writable, writable_sheet};
pub use render::font_rules;
pub use shape::{Anchor, Ink, Point, Rect, Shape, Text};
pub use sheet::Drawing;
pub use sheet::line_of_words;
