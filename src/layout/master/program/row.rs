//! What the constraints of the master program say.

/// What a constraint says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(in crate::layout) enum Row {
    /// The front at this row, and each of its identical fronts, is cut once or left unmade.
    Front(usize),
    /// Something of this run is made, or it is gone.
    Gone(usize),
    /// Boards of this kind are no more than there are.
    Board(usize),
    /// All boards of this kind are used.
    Full(usize),
    /// All staves of this gluing are cut when it is used.
    Staves(usize),
    /// The staves of this gluing are wide enough together.
    Width(usize),
    /// Gluing, width: staves no wider have a wide one that makes up for it.
    NarrowWide(usize, i64),
    /// Gluing, board: patterns of the board with staves of the gluing are no more than the gluing is used.
    Once(usize, usize),
    /// Front, step: what covers the front at or below the step is what does below the step entered
    /// before it, and the patterns of the tones between.
    UpTo(usize, usize),
    /// Front, step: what covers the front at or below the step is within `P`.
    Below(usize, usize),
    /// Front, step: what covers the front above the step is within `D`.
    Above(usize, usize),
    /// Run, step: the run is on one side of the step at least.
    Sides(usize, usize),
    /// Run, step: what a run has below the step the case has too.
    CaseBelow(usize, usize),
    /// The same above.
    CaseAbove(usize, usize),
    /// Step: the case is on one side of it at least.
    CaseSides(usize),
    /// Boards of this kind are used no more than the case is below the step darker than they.
    BoardBelow(usize),
    /// The same above the step paler.
    BoardAbove(usize),
    /// Kind, front, label: what covers the front with the label is within its share of the run.
    Label(usize, usize, usize),
    /// Kind, run: the run pays for the shares of its labels beyond one.
    Mixed(usize, usize),
    /// Breaks are within their limit.
    MostBreaks,
    /// Board feet used are within their limit.
    MostFeet,
    /// The tone spread of the case is within its limit.
    ToneWithin,
    /// The cut at this place.
    Subset(usize),
    /// Patterns give the units of staves that the rounding cuts at this place ask for.
    Rounding(usize),
    /// What the side at this place says is within `P` or `D` of its run.
    Side(usize),
}

impl Row {
    /// Whether it is an equation.
    pub(in crate::layout) fn equal(&self) -> bool {
        matches!(
            self,
            Row::Front(_) | Row::Full(_) | Row::UpTo(..) | Row::Staves(_)
        )
    }
}
