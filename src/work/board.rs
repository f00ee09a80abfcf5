//! One board's work, section by section and strip by strip.

use super::pieces::{Joined, pieces};
use super::rips::{Rip, rips};
use crate::job::Job;
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, Sawn, SawnPiece, Section, Strip};

/// How a board is cut, in order.
#[derive(Clone, Debug)]
pub struct BoardWork<'a> {
    /// The board, as planned.
    pub cut: &'a BoardPlan,
    /// Its sections, from the hook end on.
    pub sections: Vec<SectionWork<'a>>,
}

/// How a section is cut.
#[derive(Clone, Debug)]
pub struct SectionWork<'a> {
    /// Its number on the board, counted from 1.
    pub number: usize,
    /// The section, as planned.
    pub section: &'a Section,
    /// Whether it is crosscut from its board already.
    pub done: bool,
    /// Whether the saw has made its two ends already, with it or with what lay beside it.
    pub ends_made: [bool; 2],
    /// The rips still to be made, in order.
    pub rips: Vec<Rip>,
    /// Its strips, from the near edge on.
    pub strips: Vec<StripWork<'a>>,
}

/// How a strip is cut.
#[derive(Clone, Debug)]
pub struct StripWork<'a> {
    /// Its number in the section, counted from 1.
    pub number: usize,
    /// The strip, as planned.
    pub strip: &'a Strip,
    /// Whether it is ripped from its section already.
    pub done: bool,
    /// The pieces it is crosscut into, from the hook end on.
    pub pieces: Vec<Joined<'a>>,
}

impl<'a> BoardWork<'a> {
    /// The work on a board, after what `sawn` tells to be cut.
    ///
    /// # Panics
    /// When the plan's indices do not point into `job`.
    pub fn of(job: &Job, cut: &'a BoardPlan, sawn: Option<&Sawn>) -> BoardWork<'a> {
        let sections = cut.sections.iter().enumerate();
        BoardWork {
            cut,
            sections: sections
                .map(|(index, section)| of_section(job, cut, (index + 1, section), sawn))
                .collect(),
        }
    }

    /// All pieces of the board with the section and the strip they lie in.
    pub fn pieces(
        &self,
    ) -> impl Iterator<Item = (&SectionWork<'a>, &StripWork<'a>, &Joined<'a>)> + '_ {
        self.sections.iter().flat_map(|section| {
            section.strips.iter().flat_map(move |strip| {
                let pieces = strip.pieces.iter();
                pieces.map(move |piece| (section, strip, piece))
            })
        })
    }

    /// The piece a blank is flattened in.
    pub fn piece_of(&self, blank: &Blank) -> Option<&Joined<'a>> {
        let holds = |piece: &&Joined| piece.blanks.iter().any(|b| std::ptr::eq(*b, blank));
        self.pieces().map(|(_, _, piece)| piece).find(holds)
    }
}

/// What was cut from a board, good or spoiled.
pub(super) fn sawn_from<'s>(
    cut: &BoardPlan,
    sawn: Option<&'s Sawn>,
) -> impl Iterator<Item = &'s SawnPiece> {
    let on = (cut.board, cut.copy);
    let pieces = sawn.into_iter().flat_map(|sawn| &sawn.pieces);
    pieces.filter(move |piece| (piece.board, piece.copy) == on)
}

/// Where the saw has cut through a board: both sides of each blade's way.
fn made_ends(cut: &BoardPlan, kerf: Length, sawn: Option<&Sawn>) -> Vec<Length> {
    let on = (cut.board, cut.copy);
    let sections = sawn_from(cut, sawn).map(|piece| piece.section);
    let ends = sections.flat_map(|(from, to)| [from - kerf, from, to, to + kerf]);
    let crosscuts = sawn.into_iter().flat_map(|sawn| &sawn.crosscuts);
    let through = crosscuts.filter(|c| (c.board, c.copy) == on);
    ends.chain(through.flat_map(|c| [c.at, c.at + kerf]))
        .collect()
}

fn of_section<'a>(
    job: &Job,
    cut: &'a BoardPlan,
    (number, section): (usize, &'a Section),
    sawn: Option<&Sawn>,
) -> SectionWork<'a> {
    let ends: (Length, Length) = (section.from, section.to);
    let of_strip = |(index, strip): (usize, &'a Strip)| {
        let here = (ends, (strip.low, strip.high));
        StripWork {
            number: index + 1,
            strip,
            done: sawn_from(cut, sawn).any(|piece| (piece.section, piece.strip) == here),
            pieces: pieces(job, cut, section, strip, sawn),
        }
    };
    let kerf = job.settings.allowances.crosscut_kerf;
    let made = made_ends(cut, kerf, sawn);
    let is_made = |at: Length| made.contains(&at);
    let strips: Vec<StripWork> = section.strips.iter().enumerate().map(of_strip).collect();
    SectionWork {
        number,
        section,
        done: sawn_from(cut, sawn).any(|piece| piece.section == ends),
        ends_made: [is_made(section.from), is_made(section.to)],
        rips: rips(&strips, job.settings.allowances.rip_kerf),
        strips,
    }
}
