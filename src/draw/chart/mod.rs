//! Charts of an estimate: what to buy against how sure to be, and what each run needs.

mod axis;
mod feet;
mod runs;

pub use feet::feet_to_buy;
pub use runs::need_of_runs;

#[cfg(test)]
mod tests;
