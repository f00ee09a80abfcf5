//! Shapes to pictures, by plotters' backends.

mod compact;
mod paint;
mod png;
mod svg;

pub use png::Canvas;
pub use svg::font_rules;
