//! The saw's rough phases: sections, a straight edge, strips, pieces to flatten.

use super::Phase;
use super::settings::{Setting, in_order};
use crate::draw::board_name;
use crate::job::Job;
use crate::measure::Length;
use crate::packet::joined::{narrowing, parting, place};
use crate::packet::phrase::Phrase;
use crate::packet::stock::has_checks;
use crate::plan::{BoardPlan, Plan};
use crate::work::{BoardWork, RipKind, SectionWork, StripWork};

/// Boards into sections, to the chalk.
pub fn crosscut(job: &Job, plan: &Plan, works: &[BoardWork]) -> Phase {
    let whole = |work: &&BoardWork| work.sections.iter().any(|s| !s.done);
    let steps = works.iter().filter(whole).map(|work| {
        let sections = work.sections.iter().filter(|s| !s.done);
        let ends = sections.map(|s| {
            Phrase::from(s.section.from)
                .words(" to ")
                .length(s.section.to)
        });
        Phrase::from(format!("{}: sections ", board_name(job, work.cut)))
            .and(Phrase::join(ends, ", "))
            .words(kept_words(work.cut))
    });
    let mind = match has_checks(job, plan) {
        true => {
            "Mind: wood can break loose or close on the blade at the checks, splits and knots of \
             this stock. Stay out of line with the blade."
        }
        false => "",
    };
    Phase {
        title: "Crosscut the boards into sections".to_owned(),
        how:
            "At the chalk, measured from the hook end, on the waste side of each line: between two \
              lines the blade has its own width."
                .into(),
        mind: minded(mind),
        on_sheets: boards(job, works, |work| whole(&work)),
        steps: steps.collect(),
        ..Phase::default()
    }
}

/// The names of the boards on which something is done.
fn boards(job: &Job, works: &[BoardWork], is_done: impl Fn(&BoardWork) -> bool) -> Vec<String> {
    let works = works.iter().filter(|work| is_done(work));
    works.map(|work| board_name(job, work.cut)).collect()
}

fn minded(words: &str) -> Phrase {
    match words {
        "" => Phrase::default(),
        words => words.into(),
    }
}

fn kept_words(cut: &BoardPlan) -> &'static str {
    if cut.kept.is_empty() {
        ""
    } else {
        ". Write its size on what is kept"
    }
}

fn sections<'w, 'a>(
    works: &'w [BoardWork<'a>],
) -> impl Iterator<Item = (&'a BoardPlan, &'w SectionWork<'a>)> {
    works
        .iter()
        .flat_map(|work| work.sections.iter().map(|section| (work.cut, section)))
}

/// The edge of each section that the fence is set from.
pub fn straighten(job: &Job, works: &[BoardWork]) -> Phase {
    let steps = sections(works).filter_map(|(cut, section)| {
        let rip = section.rips.iter().find(|rip| rip.kind == RipKind::Chalk)?;
        let name = format!(
            "{} section {}: along ",
            board_name(job, cut),
            section.number
        );
        Some(Phrase::from(name).length(rip.at))
    });
    Phase {
        title: "Give each section a straight edge".to_owned(),
        how: "Along the chalk, so far from the near edge, from end to end, with a straightedge, a \
              track or a sled; what lies nearer is waste, or an edge that is kept. A raw edge never runs along the fence."
            .into(),
        on_sheets: boards(job, works, |work| {
            let mut rips = work.sections.iter().flat_map(|section| &section.rips);
            rips.any(|rip| rip.kind == RipKind::Chalk)
        }),
        steps: steps.collect(),
        ..Phase::default()
    }
}

/// Sections into strips, grouped by fence setting; the strips of a section in their order.
pub fn rip(job: &Job, works: &[BoardWork]) -> Phase {
    let cuts = sections(works).map(|(cut, section)| fence_cuts(job, cut, section));
    let settings = in_order(cuts.collect());
    Phase {
        title: "Rip the sections into strips".to_owned(),
        how: "From that edge on, strip after strip as listed. “With waste” is ripped with what lies beside it; “turned” then runs \
              with its other edge along the fence, and the waste falls away."
            .into(),
        mind: "Mind: guard, riving knife and push sticks, as the saw's manual says.".into(),
        settings: Some(settings.len()),
        steps: settings.iter().map(at_fence).collect(),
        on_sheets: boards(job, works, |work| {
            let mut rips = work.sections.iter().flat_map(|section| &section.rips);
            rips.any(|rip| rip.kind != RipKind::Chalk)
        }),
        shared: true,
    }
}

fn fence_cuts(job: &Job, cut: &BoardPlan, section: &SectionWork) -> Vec<(Length, String)> {
    let board = board_name(job, cut);
    let rips = section.rips.iter().filter_map(|rip| {
        let (at, how) = match rip.kind {
            RipKind::Chalk => return None,
            RipKind::Fence { at, with_waste } => (at, if with_waste { " with waste" } else { "" }),
            RipKind::Turned { at } => (at, " turned"),
        };
        let strip = format!(
            "{board} section {} strip {}{how}",
            section.number, rip.strip
        );
        Some((at, strip))
    });
    rips.collect()
}

/// `fence at 6 1/4 in: W1 section 1 strip 1, W2 section 1 strip 1`.
fn at_fence(setting: &Setting<String>) -> Phrase {
    Phrase::from("fence at ")
        .with_unit(setting.at)
        .words(format!(": {}", setting.what.join(", ")))
}

/// What is said of each strip that has something to say, after where it is.
fn strip_by_strip(
    job: &Job,
    works: &[BoardWork],
    say: impl Fn(&StripWork) -> Option<Phrase>,
) -> Vec<Phrase> {
    let mut steps = Vec::new();
    for (cut, section) in sections(works) {
        for strip in &section.strips {
            let start = format!("{}: ", place(job, cut, section, strip));
            steps.extend(say(strip).map(|words| Phrase::from(start).and(words)));
        }
    }
    steps
}

/// Whether a strip of a board has something to say.
fn says(work: &BoardWork, say: impl Fn(&StripWork) -> Option<Phrase>) -> bool {
    let mut strips = work.sections.iter().flat_map(|section| &section.strips);
    strips.any(|strip| say(strip).is_some())
}

/// Strips into the pieces that are flattened.
pub fn part(job: &Job, works: &[BoardWork]) -> Phase {
    Phase {
        title: "Crosscut the strips into pieces to flatten".to_owned(),
        how: Phrase::from(
            "At the chalk, measured from the hook end of the whole board. What would \
                           be shorter than ",
        )
        .with_unit(job.settings.allowances.shortest_safe)
        .words(" stays joined to its neighbours, or keeps its waste, until it is flat."),
        on_sheets: boards(job, works, |work| says(work, |strip| parting(job, strip))),
        steps: strip_by_strip(job, works, |strip| parting(job, strip)),
        ..Phase::default()
    }
}

/// Pieces that are narrower than their strips.
pub fn narrow(job: &Job, works: &[BoardWork]) -> Phase {
    Phase {
        title: "Rip pieces that are narrower than their strips".to_owned(),
        how: "To the chalk, measured from the near edge of the whole board, an edge of the strip \
              along the fence."
            .into(),
        on_sheets: boards(job, works, |work| says(work, |strip| narrowing(job, strip))),
        steps: strip_by_strip(job, works, |strip| narrowing(job, strip)),
        ..Phase::default()
    }
}
