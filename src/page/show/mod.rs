//! What the page reads: tables, settings, plans, the work in the shop, as JSON.

mod board;
mod case;
mod figures;
mod files;
mod plan;
mod shop;

pub use files::{file, pictures};
pub use plan::{outline, plan};
pub use shop::{board_svg, shop};
