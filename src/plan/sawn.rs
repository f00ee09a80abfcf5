//! What the saw has done already: the blanks cut from their boards, good or spoiled, and the boards
//! cut through. With it goes the chalk that a plan found on the boards and left there.

use std::collections::{BTreeMap, BTreeSet};

use super::{Blank, BoardPlan, Plan, Section, Strip};
use crate::job::Crosscut;
use crate::measure::Length;

/// Everything that can't be undone, and the chalk that was not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sawn {
    /// Blanks cut, in the order they were told.
    pub pieces: Vec<SawnPiece>,
    /// Boards cut through.
    pub crosscuts: Vec<Crosscut>,
    /// Fronts whose chalk an earlier plan made and this one left where it lay: how it was marked is
    /// no matter of this plan. Sorted.
    pub stays: Vec<usize>,
}

/// A blank that was cut, with the section and the strip it was cut from.
#[derive(Clone, Debug, PartialEq)]
pub struct SawnPiece {
    /// Index into [`Job::boards`](crate::job::Job::boards).
    pub board: usize,
    /// Which copy.
    pub copy: u32,
    /// Where its section starts and ends along the board.
    pub section: (Length, Length),
    /// Where its strip starts and ends across the board.
    pub strip: (Length, Length),
    /// The blank, as it was planned.
    pub blank: Blank,
    /// What became of it.
    pub fate: Fate,
}

/// What became of a blank that was cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Fate {
    /// It is cut.
    Cut,
    /// Its front is made.
    Made,
    /// It was lost.
    Spoiled,
}

impl SawnPiece {
    /// Whether it is good: its front needs no other blank.
    pub fn stands(&self) -> bool {
        self.fate != Fate::Spoiled
    }
}

/// Sections and strips of boards, in order, each holding the blanks put into it.
#[derive(Clone, Debug, Default)]
pub struct Skeleton {
    boards: BTreeMap<(usize, u32), Sections>,
}

/// Along a board, then across it.
type Sections = BTreeMap<(Length, Length), Strips>;
type Strips = BTreeMap<(Length, Length), Vec<Blank>>;

impl Skeleton {
    /// Makes sure of a section and a strip, and puts a blank into it if there is one.
    pub fn add(
        &mut self,
        board: (usize, u32),
        section: (Length, Length),
        strip: (Length, Length),
        blank: Option<&Blank>,
    ) {
        let sections = self.boards.entry(board).or_default();
        let strips = sections.entry(section).or_default();
        strips.entry(strip).or_default().extend(blank.cloned());
    }

    /// The boards, by kind and copy; a strip from which all blanks were lost stays empty.
    pub fn boards(self) -> Vec<BoardPlan> {
        let board = |((board, copy), sections): ((usize, u32), Sections)| BoardPlan {
            board,
            copy,
            kept: Vec::new(),
            sections: sections.into_iter().map(section).collect(),
        };
        self.boards.into_iter().map(board).collect()
    }
}

fn section(((from, to), strips): ((Length, Length), Strips)) -> Section {
    let strip = |((low, high), mut blanks): ((Length, Length), Vec<Blank>)| {
        blanks.sort_by_key(|blank| blank.from);
        Strip { low, high, blanks }
    };
    Section {
        from,
        to,
        strips: strips.into_iter().map(strip).collect(),
    }
}

impl Sawn {
    /// Whether nothing is cut yet.
    pub fn is_empty(&self) -> bool {
        self.pieces.is_empty() && self.crosscuts.is_empty()
    }

    /// Pieces whose fronts need no other blank.
    pub fn standing(&self) -> impl Iterator<Item = &SawnPiece> {
        self.pieces.iter().filter(|piece| piece.stands())
    }

    /// Boards ever cut into, by kind and copy: what is spent of them stays spent.
    pub fn cut_into(&self) -> BTreeSet<(usize, u32)> {
        let pieces = self.pieces.iter().map(|piece| (piece.board, piece.copy));
        let through = self.crosscuts.iter().map(|cut| (cut.board, cut.copy));
        pieces.chain(through).collect()
    }

    /// Whether a section of a board is sawn off, both its ends cut.
    pub fn is_off(&self, board: (usize, u32), section: (Length, Length)) -> bool {
        let same = |p: &SawnPiece| (p.board, p.copy) == board && p.section == section;
        self.pieces.iter().any(same)
    }

    /// Whether a front is cut or made.
    pub fn is_fixed(&self, front: usize) -> bool {
        self.standing().any(|piece| piece.blank.front == front)
    }

    /// The sections and strips the saw has begun on, with the blanks that stand.
    pub fn skeleton(&self) -> Skeleton {
        let mut skeleton = Skeleton::default();
        for piece in &self.pieces {
            let blank = piece.stands().then_some(&piece.blank);
            skeleton.add((piece.board, piece.copy), piece.section, piece.strip, blank);
        }
        skeleton
    }
}

/// Every blank of a plan with its board, section and strip.
pub(crate) fn placed(plan: &Plan) -> impl Iterator<Item = (&BoardPlan, &Section, &Strip, &Blank)> {
    plan.boards.iter().flat_map(|board| {
        board.sections.iter().flat_map(move |section| {
            section.strips.iter().flat_map(move |strip| {
                let blanks = strip.blanks.iter();
                blanks.map(move |blank| (board, section, strip, blank))
            })
        })
    })
}
