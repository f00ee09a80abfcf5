//! The four edges of a front or an opening, as seen from the front of the case.

use serde::Serialize;

/// One of the four edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Edge {
    /// On the left.
    Left,
    /// On the right.
    Right,
    /// Above.
    Top,
    /// Below: the reference edge, from which heights are measured.
    Bottom,
}

/// Something for each of the four edges.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Edges<T> {
    /// On the left.
    pub left: T,
    /// On the right.
    pub right: T,
    /// Above.
    pub top: T,
    /// Below.
    pub bottom: T,
}

impl Edge {
    /// All four, in the order they are read out.
    pub const ALL: [Edge; 4] = [Edge::Left, Edge::Right, Edge::Top, Edge::Bottom];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Edge::Left => "left",
            Edge::Right => "right",
            Edge::Top => "top",
            Edge::Bottom => "bottom",
        }
    }
}

impl<T: Copy> Edges<T> {
    /// The same on all four.
    pub fn all(value: T) -> Edges<T> {
        Edges {
            left: value,
            right: value,
            top: value,
            bottom: value,
        }
    }

    /// What `make` makes of each edge.
    pub fn each(mut make: impl FnMut(Edge) -> T) -> Edges<T> {
        Edges {
            left: make(Edge::Left),
            right: make(Edge::Right),
            top: make(Edge::Top),
            bottom: make(Edge::Bottom),
        }
    }

    /// What it is at one edge.
    pub fn at(&self, edge: Edge) -> T {
        match edge {
            Edge::Left => self.left,
            Edge::Right => self.right,
            Edge::Top => self.top,
            Edge::Bottom => self.bottom,
        }
    }

    /// The same, to be changed.
    pub fn at_mut(&mut self, edge: Edge) -> &mut T {
        match edge {
            Edge::Left => &mut self.left,
            Edge::Right => &mut self.right,
            Edge::Top => &mut self.top,
            Edge::Bottom => &mut self.bottom,
        }
    }

    /// Each of the four turned into something else.
    pub fn map<U>(&self, mut turn: impl FnMut(T) -> U) -> Edges<U> {
        Edges {
            left: turn(self.left),
            right: turn(self.right),
            top: turn(self.top),
            bottom: turn(self.bottom),
        }
    }
}
