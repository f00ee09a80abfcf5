//! What openings make of fronts, against tables, constructions and simulated cuts.

#[path = "../common/mod.rs"]
mod common;

mod fit_curves;
mod fit_faults;
mod fit_geometry;
mod fit_seasons;
mod fit_settings;
mod fit_wedges;
mod wood_published;
