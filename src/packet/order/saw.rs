//! The saw's phases: crosscuts and rips, rough and finished.

use super::Phase;
use super::settings::{Allowed, Setting, fewest};
use crate::draw::board_name;
use crate::job::{Front, Job};
use crate::measure::{Length, Unit};
use crate::milling::blank_width;
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::packet::stock::has_checks;
use crate::packet::todo::Todo;
use crate::plan::{BoardPlan, Plan, Strip};

/// Boards into sections, to the chalk.
pub fn crosscut(job: &Job, plan: &Plan, todo: Todo) -> Phase {
    let whole = |cut: &&BoardPlan| cut.sections.iter().any(|s| todo.section(cut, s));
    let steps = plan.boards.iter().filter(whole).map(|cut| {
        let sections = cut.sections.iter().filter(|s| todo.section(cut, s));
        let ends = sections.map(|s| Phrase::from(s.from).words(" to ").length(s.to));
        Phrase::from(format!("{}: sections ", board_name(job, cut)))
            .and(Phrase::join(ends, ", "))
            .words(kept_words(cut))
    });
    Phase {
        title: "Crosscut the boards into sections".to_owned(),
        how: "At the chalk, measured from the hook end. Cut on the waste side of each line: the \
              plan leaves the blade its own width between two lines."
            .into(),
        mind: match has_checks(job, plan) {
            true => {
                "Mind: wood can break loose or close on the blade at the checks, splits and knots of \
                 this stock. Stay out of line with the blade."
            }
            false => "",
        },
        settings: None,
        steps: steps.collect(),
    }
}

fn kept_words(cut: &BoardPlan) -> &'static str {
    if cut.kept.is_empty() {
        ""
    } else {
        ". Write its size on what is kept"
    }
}

/// Sections into strips, grouped by fence setting.
pub fn rip_rough(job: &Job, plan: &Plan, todo: Todo) -> Phase {
    let mut cuts = Vec::new();
    for cut in &plan.boards {
        for (s, section) in cut.sections.iter().enumerate() {
            for (r, strip) in section.strips.iter().enumerate() {
                if !todo.strip(cut, section, strip) {
                    continue;
                }
                let last = r + 1 == section.strips.len();
                cuts.push(Allowed {
                    least: if last {
                        least_width(job, strip)
                    } else {
                        strip.high - strip.low
                    },
                    most: strip.high - strip.low,
                    what: format!("{} section {} strip {}", board_name(job, cut), s + 1, r + 1),
                });
            }
        }
    }
    let settings = fewest(cuts);
    Phase {
        title: "Rip the sections into strips".to_owned(),
        how: "Straighten the near edge at the chalk first, then rip from there, strip 1 next to \
              that edge. The last strip of a section may come out a little narrower than its \
              chalk, never too narrow for its fronts, so that more strips share a fence setting."
            .into(),
        mind: "Mind: guard, riving knife and push sticks, as the saw's manual says.",
        settings: Some((settings.len(), "fence")),
        steps: settings
            .into_iter()
            .map(|setting| at("fence", &setting))
            .collect(),
    }
}

/// The narrowest the last strip of a section may be ripped, keeping its near edge: not below
/// what any of its blanks needs, nor cutting into a blank that lies away from that edge.
fn least_width(job: &Job, strip: &Strip) -> Length {
    let planned = strip.high - strip.low;
    let needs = strip.blanks.iter().map(|blank| {
        if blank.low != strip.low || blank.staves > 1 {
            return blank.high - strip.low;
        }
        let front: &Front = &job.fronts[blank.front];
        blank_width(front, &job.settings.allowances)
    });
    needs.max().unwrap_or(planned).min(planned)
}

/// Strips into the pieces that are milled.
pub fn part(pieces: &[PieceOf]) -> Phase {
    let steps = pieces
        .chunk_by(|a, b| std::ptr::eq(a.strip.1, b.strip.1))
        .filter(|strip| strip.len() > 1)
        .map(|strip| {
            let names = strip.iter().map(|piece| {
                Phrase::from(format!("{} at ", piece.name()))
                    .length(piece.blank.from)
                    .words(" to ")
                    .length(piece.blank.to)
            });
            Phrase::from(format!("{}: ", strip[0].place())).and(Phrase::join(names, ", "))
        });
    Phase {
        title: "Crosscut the strips into pieces".to_owned(),
        how: "At the chalk, measured from the hook end of the whole board. Leave uncut the pieces \
              that the next phase flattens together."
            .into(),
        mind: "",
        settings: None,
        steps: steps.collect(),
    }
}

/// Fronts to their finished dimension across the grain, grouped by fence setting.
pub fn rip_finished(pieces: &[PieceOf]) -> Phase {
    finished(
        pieces,
        "Joint an edge and rip to finished width",
        "Width is across the grain. The sizes are the fronts' own at their largest; wedges come off \
         when they are fitted.",
        "fence",
        Front::across,
    )
}

/// Fronts to their finished dimension along the grain, grouped by stop setting.
pub fn crosscut_finished(pieces: &[PieceOf]) -> Phase {
    finished(
        pieces,
        "Crosscut to finished length",
        "Length is along the grain. Square the left end (the bottom of vertical grain) first, then \
         cut to the stop. Cut apart what was flattened together.",
        "stop",
        Front::along,
    )
}

fn finished(
    pieces: &[PieceOf],
    title: &str,
    how: &str,
    what: &'static str,
    size: impl Fn(&Front) -> Length,
) -> Phase {
    let cuts = pieces.iter().filter(|piece| piece.blank.stave == 1);
    let cuts = cuts.map(|piece| {
        let at = settable(size(piece.front()), piece.job.settings.unit);
        Allowed {
            least: at,
            most: at,
            what: piece.front().name.clone(),
        }
    });
    let settings = fewest(cuts.collect());
    Phase {
        title: title.to_owned(),
        how: how.into(),
        mind: "",
        settings: Some((settings.len(), what)),
        steps: settings
            .iter()
            .map(|setting| at_finished(what, setting))
            .collect(),
    }
}

/// What a fence or a stop can be set to: the nearest 1/64 in or 0.1 mm. Sizes of fronts fitted to
/// openings that differ by less share a setting.
fn settable(length: Length, unit: Unit) -> Length {
    let step = match unit {
        Unit::Inch => Length::from_inches(1.0 / 64.0).nm(),
        Unit::Mm => Length::from_mm(0.1).nm(),
    };
    Length::from_nm((length.nm() + step / 2).div_euclid(step) * step)
}

/// `stop at 13 35/64: D1, D2`.
fn at_finished(what: &str, setting: &Setting<String>) -> Phrase {
    let list = setting.what.join(", ");
    Phrase::from(format!("{what} at "))
        .finished(setting.at)
        .words(format!(": {list}"))
}

/// `fence at 6 1/4 in: D1, D2`.
fn at(what: &str, setting: &Setting<String>) -> Phrase {
    let list = setting.what.join(", ");
    Phrase::from(format!("{what} at "))
        .with_unit(setting.at)
        .words(format!(": {list}"))
}
