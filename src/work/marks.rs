//! The chalk marks of a board, in the order they are drawn and cut.

use super::board::{BoardWork, SectionWork, StripWork};
use super::pieces::Joined;
use super::rips::RipKind;
use crate::job::Job;
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, Fate, Kept, Sawn, SawnPiece};

/// `D1`, or `D1 stave 2 of 3`.
pub fn piece_name(front: &str, blank: &Blank) -> String {
    if blank.staves == 1 {
        front.to_owned()
    } else {
        format!("{front} stave {} of {}", blank.stave, blank.staves)
    }
}

/// `A1 + A2 + A3`.
pub fn joined_names(job: &Job, piece: &Joined) -> String {
    let name = |blank: &&Blank| piece_name(&job.fronts[blank.front].name, blank);
    let names: Vec<String> = piece.blanks.iter().map(name).collect();
    names.join(" + ")
}

/// A line to chalk on a board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// Which saw follows it.
    pub kind: MarkKind,
    /// Where the line runs: along the board from the hook end. Equal ends for a line across.
    pub along: (Length, Length),
    /// Where the line runs: across the board from the near edge. Equal ends for a line along.
    pub across: (Length, Length),
    /// What begins or ends at it.
    pub what: String,
    /// Whether the saw has followed it already.
    pub done: bool,
}

/// The steps in which a board is marked and cut, in the order of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkKind {
    /// Across the whole board: a section begins or ends.
    Crosscut,
    /// Along a section: its straight edge, made to the chalk.
    Straighten,
    /// Along a section: a strip begins or ends.
    Rip,
    /// Across a strip: a piece that is flattened as one begins or ends.
    FinalCrosscut,
    /// Along a piece that is narrower than its strip.
    FinalRip,
    /// Across a piece that is flat: a blank begins or ends.
    CutApart,
    /// The outline of a piece that goes back on the rack.
    Keep,
}

impl MarkKind {
    /// Its name in `marks.csv`.
    pub fn name(self) -> &'static str {
        match self {
            MarkKind::Crosscut => "crosscut",
            MarkKind::Straighten => "straighten",
            MarkKind::Rip => "rip",
            MarkKind::FinalCrosscut => "final crosscut",
            MarkKind::FinalRip => "final rip",
            MarkKind::CutApart => "cut apart",
            MarkKind::Keep => "keep",
        }
    }
}

impl Mark {
    fn across(kind: MarkKind, at: Length, across: (Length, Length), what: String) -> Mark {
        Mark {
            kind,
            along: (at, at),
            across,
            what,
            done: false,
        }
    }

    fn along(kind: MarkKind, at: Length, along: (Length, Length), what: String) -> Mark {
        Mark {
            kind,
            along,
            across: (at, at),
            what,
            done: false,
        }
    }

    /// Whether the line runs across the board.
    pub fn is_across(&self) -> bool {
        self.along.0 == self.along.1
    }
}

/// The marks of one board: crosscuts from the hook end on, then the rips of each section, then
/// the cuts that free its pieces, then those that part a piece once it is flat, and last what is
/// kept. A line that an earlier cut already made is not marked again; one that the saw has followed
/// says so.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn marks(job: &Job, planned: &BoardPlan, sawn: Option<&Sawn>) -> Vec<Mark> {
    let (mut crosscuts, mut rips) = (Vec::new(), Vec::new());
    let (mut finals, mut apart) = (Vec::new(), Vec::new());
    for section in &BoardWork::of(job, planned, sawn).sections {
        crosscuts.extend(section_ends(job, planned, section));
        for strip in &section.strips {
            rips.extend(told(strip_edges(section, strip), strip.done));
            for piece in &strip.pieces {
                finals.extend(piece_cuts(job, section, strip, piece));
                let made = |blank: &&Blank| is_made(sawn, blank);
                let is_apart = piece.blanks.iter().any(made);
                apart.extend(told(blank_ends(job, section, piece), is_apart));
            }
        }
    }
    let kept = planned.kept.iter();
    let kept = kept.flat_map(|kept| kept_edges(job, planned, kept));
    [crosscuts, rips, finals, apart, kept.collect()].concat()
}

fn is_made(sawn: Option<&Sawn>, blank: &Blank) -> bool {
    let is =
        |piece: &&SawnPiece| (piece.blank.front, piece.blank.stave) == (blank.front, blank.stave);
    let piece = sawn.and_then(|sawn| sawn.standing().find(is));
    piece.is_some_and(|piece| piece.fate == Fate::Made)
}

/// Marks with whether the saw has followed them.
fn told(marks: Vec<Mark>, done: bool) -> impl Iterator<Item = Mark> {
    marks.into_iter().map(move |mark| Mark { done, ..mark })
}

fn section_ends(job: &Job, planned: &BoardPlan, work: &SectionWork) -> Vec<Mark> {
    let whole = (Length::ZERO, job.boards[planned.board].width);
    let cut = |at, what: &str, done| {
        let what = format!("section {} {what}", work.number);
        let mark = Mark::across(MarkKind::Crosscut, at, whole, what);
        Mark { done, ..mark }
    };
    let [from_made, to_made] = work.ends_made;
    vec![
        cut(work.section.from, "starts", from_made),
        cut(work.section.to, "ends", to_made),
    ]
}

fn strip_edges(work: &SectionWork, strip: &StripWork) -> Vec<Mark> {
    let along = (work.section.from, work.section.to);
    let is_straightened = |at| {
        let mut rips = work.rips.iter();
        rips.any(|rip| rip.kind == RipKind::Chalk && (rip.strip, rip.at) == (strip.number, at))
    };
    let cut = |at, edge: &str| {
        let kind = match is_straightened(at) {
            true => MarkKind::Straighten,
            false => MarkKind::Rip,
        };
        let what = format!(
            "section {}, strip {}, {edge} edge",
            work.number, strip.number
        );
        Mark::along(kind, at, along, what)
    };
    vec![cut(strip.strip.low, "near"), cut(strip.strip.high, "far")]
}

/// What frees a piece from its strip.
fn piece_cuts(job: &Job, work: &SectionWork, strip: &StripWork, piece: &Joined) -> Vec<Mark> {
    let name = joined_names(job, piece);
    let (low, high) = (strip.strip.low, strip.strip.high);
    let [from_made, to_made] = piece.ends_made;
    let ends = [
        (piece.from, work.section.from, from_made, "starts"),
        (piece.to, work.section.to, to_made, "ends"),
    ];
    let ends = ends
        .into_iter()
        .filter(|(at, end_of_section, ..)| at != end_of_section);
    let ends = ends.map(|(at, _, done, what)| {
        let what = format!("{name} {what}");
        let mark = Mark::across(MarkKind::FinalCrosscut, at, (low, high), what);
        Mark { done, ..mark }
    });
    let across = piece.across();
    let edges = [(across.0, low, "near"), (across.1, high, "far")];
    let edges = edges.into_iter().filter(|(at, done, _)| at != done);
    let edges = edges.map(|(at, _, edge)| {
        let what = format!("{name}, {edge} edge");
        let mark = Mark::along(MarkKind::FinalRip, at, (piece.from, piece.to), what);
        Mark {
            done: piece.cut,
            ..mark
        }
    });
    ends.chain(edges).collect()
}

/// What parts a piece once it is flat.
fn blank_ends(job: &Job, work: &SectionWork, piece: &Joined) -> Vec<Mark> {
    let across = piece.across();
    let done = [piece.from, piece.to, work.section.from, work.section.to];
    let ends = piece.blanks.iter().flat_map(|blank| {
        let name = piece_name(&job.fronts[blank.front].name, blank);
        [(blank.from, "starts"), (blank.to, "ends")]
            .map(|(at, what)| (at, format!("{name} {what}")))
    });
    let open = ends.filter(|(at, _)| !done.contains(at));
    open.map(|(at, what)| Mark::across(MarkKind::CutApart, at, across, what))
        .collect()
}

/// The edges of a kept piece that are not edges of the board.
fn kept_edges(job: &Job, planned: &BoardPlan, kept: &Kept) -> Vec<Mark> {
    let board = &job.boards[planned.board];
    let ruler = job.settings.ruler();
    let (long, wide) = (
        ruler.show(kept.to - kept.from),
        ruler.show(kept.high - kept.low),
    );
    let what = |edge: &str| format!("kept piece {long} long, {wide} wide, {edge}");
    let (along, across) = ((kept.from, kept.to), (kept.low, kept.high));
    let mut found = Vec::new();
    if across == (Length::ZERO, board.width) {
        for (at, edge) in [(kept.from, "starts"), (kept.to, "ends")] {
            found.push(Mark::across(MarkKind::Keep, at, across, what(edge)));
        }
        return found;
    }
    for (at, edge) in [(kept.low, "near edge"), (kept.high, "far edge")] {
        if at != Length::ZERO && at != board.width {
            found.push(Mark::along(MarkKind::Keep, at, along, what(edge)));
        }
    }
    found
}
