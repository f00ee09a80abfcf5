//! Commands and what they hand to the shop, as a maker meets them.

#[path = "../common/mod.rs"]
mod common;

mod attacks;
mod cli;
mod cli_choices;
mod cli_fit;
mod cli_photo;
mod metric;
mod shop_story;
mod shop_words;
mod wishes;
mod work_order;
