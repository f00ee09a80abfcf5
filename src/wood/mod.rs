//! What is published about wood and water: species, equilibrium moisture, movement.
//!
//! This room knows nothing of jobs or fronts; it stands on `measure` alone.

mod air;
mod movement;
mod species;

pub use air::{Air, Humidity, Moisture, Temperature};
pub use movement::{Cut, change_per_percent, growth};
pub use species::{NotFound, Seen, Source, Species, find, table};
