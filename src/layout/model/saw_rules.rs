//! What the saws take and what is kept.

/// What the saws take and what is kept, in nanometres.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct SawRules {
    pub(in crate::layout) crosscut: i64,
    pub(in crate::layout) rip: i64,
    pub(in crate::layout) edge: i64,
    pub(in crate::layout) keep_length: Option<i64>,
    pub(in crate::layout) keep_width: i64,
    /// No blank or stave is wider: what the machines take.
    pub(in crate::layout) widest: Option<i64>,
    /// Staves are ripped to whole multiples of this.
    pub(in crate::layout) glue_step: i64,
}
