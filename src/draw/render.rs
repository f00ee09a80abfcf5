//! Shapes to pictures, by plotters' backends.

mod paint;
mod png;
mod svg;

pub use svg::font_rules;
