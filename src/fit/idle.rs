//! Settings that are written and do nothing: their maker thinks they do.

use crate::job::{
    Anchor, Edge, Fault, Faults, Front, Grain, JOB_TOML, Job, Mode, OPENINGS_CSV, Opening,
    OwnBevel, Trouble, Weight,
};

/// A setting without effect.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("it has no effect: {why}")]
pub struct Idle {
    why: String,
    cure: Option<&'static str>,
}

impl Trouble for Idle {
    fn hint(&self) -> Option<String> {
        self.cure.map(str::to_owned)
    }

    fn weight(&self) -> Weight {
        Weight::Warning
    }
}

/// Warnings about every fitting setting that is written and does nothing for this job.
pub fn idle(job: &Job) -> Faults {
    let mut found = Faults::new();
    gaps(job, &mut found);
    anchors(job, &mut found);
    seasons(job, &mut found);
    work(job, &mut found);
    found
}

fn tell(found: &mut Faults, place: crate::job::Place, why: String, cure: Option<&'static str>) {
    found.push(Fault::new(place, Idle { why, cure }));
}

fn mode(job: &Job, opening: &Opening) -> Mode {
    let own = job.fronts[opening.front].mode;
    own.unwrap_or(job.settings.fitting.gaps.mode)
}

/// Whether the seasons are reckoned with at all.
fn has_seasons(job: &Job) -> bool {
    job.settings.fitting.climate.is_some() && !job.settings.species.is_empty()
}

fn gaps(job: &Job, found: &mut Faults) {
    let gaps = &job.settings.fitting.gaps;
    let mut say = |key: &'static str, why: &str| {
        if gaps.places.has(key) {
            let place = gaps.places.at(JOB_TOML, &[key]);
            tell(found, place, why.to_owned(), None);
        }
    };
    let keys = ["sides", "least", "most", "overlap", "divider"];
    if job.openings.is_empty() {
        let edges = Edge::ALL.map(Edge::word);
        for key in keys.into_iter().chain(edges).chain(["anchor"]) {
            say(key, "no opening is measured, so no front is fitted");
        }
        return;
    }
    let any = |wanted: Mode| job.openings.iter().any(|o| mode(job, o) == wanted);
    let fixed = Edge::ALL.iter().all(|&edge| gaps.fixed.at(edge).is_some());
    if !any(Mode::Inset) {
        for key in ["sides", "most"] {
            say(key, "no measured front is inset");
        }
    } else if fixed {
        say("sides", "the gap at every edge is fixed");
    }
    if !any(Mode::Overlay) {
        for key in ["overlap", "divider"] {
            say(key, "no measured front is an overlay");
        }
    } else if fixed {
        say("overlap", "the overlap at every edge is fixed");
    }
}

/// Whether a front's wood moves at the edge it is anchored at.
fn anchored(anchor: Anchor, grain: Grain) -> bool {
    match anchor {
        Anchor::Centre => true,
        Anchor::Bottom | Anchor::Top => grain == Grain::Horizontal,
        Anchor::Left | Anchor::Right => grain == Grain::Vertical,
    }
}

const WRONG_WAY: &str = "wood moves across its grain only: top or bottom with horizontal grain, \
                         left or right with vertical grain";

const UNMOVED: &str = "without `species` and [climate] nothing is known of how wood moves";

fn anchors(job: &Job, found: &mut Faults) {
    let still = |grain: Grain| match grain {
        Grain::Horizontal => "the grain is horizontal, and the width does not change",
        Grain::Vertical => "the grain is vertical, and the height does not change",
    };
    let gaps = &job.settings.fitting.gaps;
    let ruled = job.openings.iter().filter(|o| o.anchor.is_none());
    let wrong: Vec<&Front> = ruled
        .map(|o| &job.fronts[o.front])
        .filter(|front| !anchored(gaps.anchor, front.grain))
        .collect();
    if let (Some(first), true) = (wrong.first(), gaps.places.has("anchor")) {
        let place = gaps.places.at(JOB_TOML, &["anchor"]);
        let more = match wrong.len() {
            1 => String::new(),
            many => format!(" and {} more", many - 1),
        };
        let why = format!("of front {}{more} {}", first.name, still(first.grain));
        tell(found, place, why, Some(WRONG_WAY));
    }
    if wrong.is_empty()
        && gaps.places.has("anchor")
        && !job.openings.is_empty()
        && !has_seasons(job)
    {
        let place = gaps.places.at(JOB_TOML, &["anchor"]);
        tell(found, place, UNMOVED.to_owned(), None);
    }
    for opening in &job.openings {
        let Some(anchor) = opening.anchor else {
            continue;
        };
        let place = || opening.places.at(OPENINGS_CSV, &["anchor"]);
        let front = &job.fronts[opening.front];
        if !anchored(anchor, front.grain) {
            let why = match front.grain {
                Grain::Horizontal => "the grain is horizontal, and the width does not change",
                Grain::Vertical => "the grain is vertical, and the height does not change",
            };
            tell(found, place(), why.to_owned(), Some(WRONG_WAY));
        } else if !has_seasons(job) {
            tell(found, place(), UNMOVED.to_owned(), None);
        }
    }
}

fn seasons(job: &Job, found: &mut Faults) {
    let fitting = &job.settings.fitting;
    if let Some(climate) = &fitting.climate {
        if job.settings.species.is_empty() {
            let place = climate.places.at(JOB_TOML, &["climate"]);
            let cure = "the `woods` command lists all species";
            let why = "no `species` is named, and without one nobody knows how the wood moves";
            tell(found, place, why.to_owned(), Some(cure));
        }
        let own = |front: usize| {
            job.openings
                .iter()
                .any(|o| o.front == front && o.cut.is_some())
        };
        let all = (0..job.fronts.len()).all(own);
        if climate.places.has("cut") && all && !job.fronts.is_empty() {
            let place = climate.places.at(JOB_TOML, &["cut"]);
            let why = "every front has its own in openings.csv";
            tell(found, place, why.to_owned(), None);
        }
    }
    for opening in job.openings.iter().filter(|o| o.cut.is_some()) {
        if !has_seasons(job) {
            let place = opening.places.at(OPENINGS_CSV, &["cut"]);
            tell(found, place, UNMOVED.to_owned(), None);
        }
    }
}

fn work(job: &Job, found: &mut Faults) {
    let fitting = &job.settings.fitting;
    if let Some(rule) = &fitting.bevel {
        let own = |front: usize| {
            let opening = job.openings.iter().find(|o| o.front == front);
            opening.is_some_and(|o| o.bevel != OwnBevel::AsRuled)
        };
        if (0..job.fronts.len()).all(own) && !job.fronts.is_empty() {
            let place = rule.places.at(JOB_TOML, &["face", "drop", "angle"]);
            let why = "every front has its own bevel, or none, in openings.csv";
            tell(found, place, why.to_owned(), None);
        }
        if Edge::ALL.iter().all(|&edge| !rule.edges.at(edge)) {
            let place = rule
                .places
                .at(JOB_TOML, &["edges", "face", "drop", "angle"]);
            tell(found, place, "no edge has the bevel".into(), None);
        }
    }
    let Some(rule) = &fitting.pulls else { return };
    let count = |front: usize| {
        let opening = job.openings.iter().find(|o| o.front == front);
        let own = opening.and_then(|o| o.pulls);
        // A little under the limit: fitting may still make the front as wide.
        let wide = |limit| job.fronts[front].width + crate::measure::Length::from_mm(25.0) >= limit;
        own.unwrap_or_else(|| {
            if rule.two_from.is_some_and(wide) {
                2
            } else {
                1
            }
        })
    };
    let most = (0..job.fronts.len()).map(count).max().unwrap_or(0);
    if most == 0 && !job.fronts.is_empty() {
        let place = fitting.pull_places.at(JOB_TOML, &["pulls"]);
        tell(found, place, "no front has a pull".into(), None);
    } else if most < 2 && fitting.pull_places.has("end_share") {
        let place = fitting.pull_places.at(JOB_TOML, &["end_share"]);
        tell(found, place, "no front has two pulls".into(), None);
    }
}
