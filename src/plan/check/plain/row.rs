//! A stretch as a row of pieces, and the positions nearest one side that the rules allow it.
//!
//! All distances are reckoned from the side the pieces are pushed to, so that one computation
//! serves both: seen from the far end a board's coordinates are negated and its rows reversed.

use crate::measure::Length;

/// One blank of a row, in its order from the side pushed to.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub long: Length,
    /// Between which starts it would lie on or too near a defect, both ends free again.
    pub blocked: Vec<(Length, Length)>,
}

/// A distance that two pieces of a row keep.
#[derive(Clone, Copy, Debug)]
struct Apart {
    first: usize,
    second: usize,
    /// From start to start.
    least: Length,
    most: Option<Length>,
}

/// The blanks of one stretch, and how far neighbours lie apart.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    pub pieces: Vec<Piece>,
    /// Least and widest gap after each piece but the last.
    pub gaps: Vec<(Length, Option<Length>)>,
}

/// Consecutive pieces milled as one: the first, the last, and how long they are together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Group {
    pub first: usize,
    pub last: usize,
    pub least: Length,
    pub most: Length,
}

impl Row {
    /// The least distance from the start of one piece to the end of a later one.
    pub fn shortest(&self, first: usize, last: usize) -> Length {
        let pieces = self.pieces[first..=last].iter().map(|piece| piece.long);
        let gaps = self.gaps[first..last].iter().map(|gap| gap.0);
        pieces.sum::<Length>() + gaps.sum()
    }

    /// The same at the widest gaps; nothing when they have no limit.
    pub fn longest(&self, first: usize, last: usize) -> Option<Length> {
        let pieces = self.pieces[first..=last].iter().map(|piece| piece.long);
        let gaps = self.gaps[first..last].iter().map(|gap| gap.1);
        Some(pieces.sum::<Length>() + gaps.sum::<Option<Length>>()?)
    }

    /// Where every piece starts when each lies as near the side as may be, none before `from` and
    /// none ending past `limit`, milled in `groups`; nothing when there is no such place.
    ///
    /// The allowed positions are closed under taking the nearer of two for each piece, so that a
    /// nearest one exists: pieces are moved away only as far as something makes them.
    pub fn nearest(&self, groups: &[Group], from: Length, limit: Length) -> Option<Vec<Length>> {
        let apart = self.distances(groups)?;
        let mut starts = vec![from; self.pieces.len()];
        loop {
            settle(&apart, &mut starts)?;
            if !self.clear_defects(&mut starts) {
                break;
            }
            if self.end(&starts) > limit {
                return None;
            }
        }
        (self.end(&starts) <= limit).then_some(starts)
    }

    /// The same with no defect anywhere: what the saw and the jointer alone ask for.
    pub fn nearest_on_sound_wood(&self, groups: &[Group], from: Length) -> Option<Vec<Length>> {
        let mut starts = vec![from; self.pieces.len()];
        settle(&self.distances(groups)?, &mut starts)?;
        Some(starts)
    }

    /// Where the row ends.
    pub fn end(&self, starts: &[Length]) -> Length {
        let ends = starts.iter().zip(&self.pieces);
        let ends = ends.map(|(&start, piece)| start + piece.long);
        ends.max().unwrap_or_default()
    }

    /// The distances rules 4 and 5 ask for; nothing when no distance would do.
    fn distances(&self, groups: &[Group]) -> Option<Vec<Apart>> {
        let mut apart = Vec::new();
        for (first, &(least, most)) in self.gaps.iter().enumerate() {
            let long = self.pieces[first].long;
            apart.push(Apart {
                first,
                second: first + 1,
                least: long + least,
                most: most.map(|most| long + most),
            });
        }
        for group in groups {
            let long = self.pieces[group.last].long;
            apart.push(Apart {
                first: group.first,
                second: group.last,
                least: group.least - long,
                most: Some(group.most - long),
            });
        }
        let possible = |a: &Apart| a.most.is_none_or(|most| most >= a.least);
        apart.iter().all(possible).then_some(apart)
    }

    /// Moves every piece that lies too near a defect past it; whether any was moved.
    fn clear_defects(&self, starts: &mut [Length]) -> bool {
        let mut moved = false;
        for (start, piece) in starts.iter_mut().zip(&self.pieces) {
            while let Some(met) = piece.blocked.iter().find(|b| b.0 < *start && *start < b.1) {
                *start = met.1;
                moved = true;
            }
        }
        moved
    }
}

/// Moves pieces away from the side until every distance is kept; nothing when that never ends,
/// which shows after as many rounds as there are pieces.
fn settle(apart: &[Apart], starts: &mut [Length]) -> Option<()> {
    for _ in 0..=starts.len() {
        let mut moved = false;
        for a in apart {
            let second = starts[a.first] + a.least;
            if starts[a.second] < second {
                starts[a.second] = second;
                moved = true;
            }
            let first = a.most.map(|most| starts[a.second] - most);
            if let Some(first) = first.filter(|&first| starts[a.first] < first) {
                starts[a.first] = first;
                moved = true;
            }
        }
        if !moved {
            return Some(());
        }
    }
    None
}
