//! The chalk marks of each board, in the order they are drawn and cut.

use super::joined::names;
use super::table::piece_name;
use super::todo::Todo;
use crate::draw::Progress;
use crate::job::Job;
use crate::measure::{Length, Ruler};
use crate::plan::{Blank, BoardPlan, Kept, Plan};
use crate::text::csv_bytes;
use crate::work::{Joined, RipKind, SectionWork, StripWork};

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
/// kept. A line that an earlier cut already made is not marked again.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn marks(job: &Job, planned: &BoardPlan) -> Vec<Mark> {
    marks_after(job, planned, Todo::default())
}

/// The same, those done already among them told apart.
pub(super) fn marks_after(job: &Job, planned: &BoardPlan, todo: Todo) -> Vec<Mark> {
    let (mut crosscuts, mut rips) = (Vec::new(), Vec::new());
    let (mut finals, mut apart) = (Vec::new(), Vec::new());
    for section in &todo.work(job, planned).sections {
        crosscuts.extend(section_ends(job, planned, section));
        for strip in &section.strips {
            rips.extend(told(strip_edges(section, strip), strip.done));
            for piece in &strip.pieces {
                finals.extend(piece_cuts(job, section, strip, piece));
                let made = |blank: &&Blank| !todo.front(blank);
                let is_apart = piece.blanks.iter().any(made);
                apart.extend(told(blank_ends(job, section, piece), is_apart));
            }
        }
    }
    let kept = planned.kept.iter();
    let kept = kept.flat_map(|kept| kept_edges(job, planned, kept));
    [crosscuts, rips, finals, apart, kept.collect()].concat()
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
    let name = names(job, piece);
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

/// `marks.csv`: every mark of every board, in the order chalked, distances as the job's ruler
/// shows them.
///
/// A line across has its distance under `from_hook_end`, a line along under `from_near_edge`;
/// `line` says from where to where it runs, `done` is `yes` where the saw has followed it already.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn marks_csv(job: &Job, plan: &Plan, progress: Option<&Progress>) -> Vec<u8> {
    let ruler = job.settings.ruler();
    let todo = Todo::after(progress);
    let mut rows = Vec::new();
    for planned in &plan.boards {
        for (index, mark) in marks_after(job, planned, todo).iter().enumerate() {
            let [from_hook, from_near, line] = distances(&ruler, mark);
            rows.push(vec![
                job.boards[planned.board].id.clone(),
                planned.copy.to_string(),
                (index + 1).to_string(),
                mark.kind.name().to_owned(),
                from_hook,
                from_near,
                line,
                ruler.unit.to_string(),
                mark.what.clone(),
                if mark.done { "yes" } else { "" }.to_owned(),
            ]);
        }
    }
    let header = [
        "board",
        "copy",
        "mark",
        "cut",
        "from_hook_end",
        "from_near_edge",
        "line",
        "unit",
        "what",
        "done",
    ];
    csv_bytes(&header, rows)
}

fn distances(ruler: &Ruler, mark: &Mark) -> [String; 3] {
    let span = |(from, to): (Length, Length)| format!("{} to {}", ruler.show(from), ruler.show(to));
    if mark.is_across() {
        let line = format!("across, {}", span(mark.across));
        [ruler.show(mark.along.0), String::new(), line]
    } else {
        let line = format!("along, {}", span(mark.along));
        [String::new(), ruler.show(mark.across.0), line]
    }
}
