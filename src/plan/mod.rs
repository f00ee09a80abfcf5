//! A plan as plain data: which front comes from where on which board.

mod model;

pub use model::{Blank, BoardPlan, End, Face, Kept, Money, NotMade, Plan, Section, Strip, Totals};
