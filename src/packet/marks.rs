//! The chalk marks of each board, in the order they are drawn and cut.

use super::table::{csv_bytes, piece_name};
use super::todo::Todo;
use crate::job::Job;
use crate::measure::{Length, Ruler};
use crate::plan::{Blank, BoardPlan, Kept, Plan, Section, Strip};

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

/// The steps in which a board is marked and cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkKind {
    /// Across the whole board: a section begins or ends.
    Crosscut,
    /// Along a section: a strip begins or ends.
    Rip,
    /// Across a strip: a blank begins or ends.
    FinalCrosscut,
    /// Along a blank that is narrower than its strip.
    FinalRip,
    /// The outline of a piece that goes back on the rack.
    Keep,
}

impl MarkKind {
    /// Its name in `marks.csv`.
    pub fn name(self) -> &'static str {
        match self {
            MarkKind::Crosscut => "crosscut",
            MarkKind::Rip => "rip",
            MarkKind::FinalCrosscut => "final crosscut",
            MarkKind::FinalRip => "final rip",
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
/// the final cuts of each strip, and last what is kept. A line that an earlier cut already made is
/// not marked again.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn marks(job: &Job, planned: &BoardPlan) -> Vec<Mark> {
    marks_after(job, planned, Todo::default())
}

/// The same, those done already among them told apart.
pub(super) fn marks_after(job: &Job, planned: &BoardPlan, todo: Todo) -> Vec<Mark> {
    let mut crosscuts = Vec::new();
    let mut rips = Vec::new();
    let mut finals = Vec::new();
    for (index, section) in planned.sections.iter().enumerate() {
        let name = format!("section {}", index + 1);
        let ends = section_ends(job, planned, &name, section);
        crosscuts.extend(told(ends, todo.section(planned, section)));
        for (index, strip) in section.strips.iter().enumerate() {
            let name = format!("{name}, strip {}", index + 1);
            let edges = strip_edges(&name, section, strip);
            rips.extend(told(edges, todo.strip(planned, section, strip)));
            for blank in &strip.blanks {
                let cuts = final_cuts(job, section, strip, blank);
                finals.extend(told(cuts, todo.piece(blank)));
            }
        }
    }
    let kept = planned.kept.iter();
    let kept = kept.flat_map(|kept| kept_edges(job, planned, kept));
    [crosscuts, rips, finals, kept.collect()].concat()
}

/// Marks with whether the saw has followed them.
fn told(marks: Vec<Mark>, open: bool) -> impl Iterator<Item = Mark> {
    marks.into_iter().map(move |mark| Mark {
        done: !open,
        ..mark
    })
}

fn section_ends(job: &Job, planned: &BoardPlan, name: &str, section: &Section) -> Vec<Mark> {
    let whole = (Length::ZERO, job.boards[planned.board].width);
    let cut =
        |at, what: &str| Mark::across(MarkKind::Crosscut, at, whole, format!("{name} {what}"));
    vec![cut(section.from, "starts"), cut(section.to, "ends")]
}

fn strip_edges(name: &str, section: &Section, strip: &Strip) -> Vec<Mark> {
    let along = (section.from, section.to);
    let cut =
        |at, edge: &str| Mark::along(MarkKind::Rip, at, along, format!("{name}, {edge} edge"));
    vec![cut(strip.low, "near"), cut(strip.high, "far")]
}

fn final_cuts(job: &Job, section: &Section, strip: &Strip, blank: &Blank) -> Vec<Mark> {
    let name = piece_name(&job.fronts[blank.front].name, blank);
    let across = (strip.low, strip.high);
    let ends = [
        (blank.from, section.from, "starts"),
        (blank.to, section.to, "ends"),
    ];
    let open = ends.into_iter().filter(|(at, done, _)| at != done);
    let mut found: Vec<Mark> = open
        .map(|(at, _, what)| {
            Mark::across(
                MarkKind::FinalCrosscut,
                at,
                across,
                format!("{name} {what}"),
            )
        })
        .collect();
    found.extend(final_rips(&name, blank, strip.low, strip.high));
    found
}

fn final_rips(name: &str, blank: &Blank, low: Length, high: Length) -> Vec<Mark> {
    let along = (blank.from, blank.to);
    let edges = [(blank.low, low, "near"), (blank.high, high, "far")];
    let open = edges.into_iter().filter(|(at, done, _)| at != done);
    open.map(|(at, _, edge)| {
        Mark::along(
            MarkKind::FinalRip,
            at,
            along,
            format!("{name}, {edge} edge"),
        )
    })
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
/// `line` says from where to where it runs.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn marks_csv(job: &Job, plan: &Plan) -> Vec<u8> {
    let ruler = job.settings.ruler();
    let mut rows = Vec::new();
    for planned in &plan.boards {
        for (index, mark) in marks(job, planned).iter().enumerate() {
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
