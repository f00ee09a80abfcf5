//! A strip being filled.

/// A strip being filled.
pub(in crate::layout) struct Lane {
    pub(in crate::layout) class: usize,
    /// Board left from the start of this section.
    pub(in crate::layout) section_left: i64,
    /// The strip may be no longer than this.
    pub(in crate::layout) longest: i64,
    /// What lies beside and after it by length, when it is the section's first strip.
    pub(in crate::layout) then: Option<Vec<f64>>,
    /// Width left beside it.
    pub(in crate::layout) wide_left: i64,
    /// Value of the edges kept beside earlier sections, and width of the widest.
    pub(in crate::layout) edges: f64,
    pub(in crate::layout) widest: f64,
}
