//! What must follow a half-made pattern: where all else that may is known from an earlier one, or where the
//! board is known to give staves of a gluing.

use crate::layout::pricing::area::Worths;

/// Staves of which one at least must follow.
pub(in crate::layout) struct Must {
    pub(in crate::layout) wants: Vec<Want>,
    /// What the rest of the pattern is worth less for it.
    pub(in crate::layout) less: Worths,
}

/// A stave more of a gluing: one the pattern must have, or one that an earlier half-made pattern could not have,
/// or might not.
pub(in crate::layout) struct Want {
    pub(in crate::layout) gluing: usize,
    /// How many there are.
    pub(in crate::layout) count: usize,
    /// How wide they may turn out together in an earlier one, if that decides what it could not have.
    pub(in crate::layout) together: Option<i64>,
}

impl Must {
    pub(in crate::layout) fn is_empty(&self) -> bool {
        self.wants.is_empty()
    }

    pub(in crate::layout) fn done(&self, staves: &[usize]) -> bool {
        self.wants
            .iter()
            .any(|want| staves[want.gluing] > want.count)
    }
}
