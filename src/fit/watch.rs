//! Looks over a fitted front for what its maker should look at again.

use super::caution::Caution;
use super::fitted::Fitted;
use super::over::Over;
use super::reveal::Reveal;
use super::season::{Movement, Season, moving_edges};
use crate::job::{Edge, Front, Job, Mode, PullRule};
use crate::measure::Length;

/// Gaps are compared to within this, so that rounding never warns.
const HAIR: f64 = 0.005;
/// A corner farther from square than this many degrees was probably mismeasured.
const LEANS: f64 = 2.0;
/// Two diagonals that disagree by more than this (1/16 in) are mentioned.
const DISAGREES: f64 = 1.5875;
/// A fitted size farther from the drawn one than this (1/2 in) is mentioned.
const FAR: f64 = 12.7;
/// Corner heights farther from the arch than this (1/8 in) are mentioned.
const OFF_ARCH: f64 = 3.175;

/// All cautions about one front.
pub(super) fn cautions(job: &Job, front: &Front, over: &Over<'_>, fitted: &Fitted) -> Vec<Caution> {
    let mut found = Vec::new();
    opening(front, over, fitted, job, &mut found);
    gaps(job, fitted, &mut found);
    reveal(job, fitted, &mut found);
    moisture(fitted, &mut found);
    bevel(job, fitted, &mut found);
    pulls(job, fitted, &mut found);
    found
}

fn opening(front: &Front, over: &Over<'_>, fitted: &Fitted, job: &Job, found: &mut Vec<Caution>) {
    let Some(opening) = &fitted.opening else {
        return;
    };
    let corners = ["lower left", "lower right", "upper right", "upper left"];
    let judged = if fitted.arch.is_some() { 2 } else { 4 };
    let leans = opening.solved.quad.leans();
    for (corner, lean) in corners.into_iter().zip(leans).take(judged) {
        if lean.abs() > LEANS {
            let degrees = lean.abs();
            found.push(Caution::Leans { corner, degrees });
        }
    }
    if let (Some(by), Some(adjusted)) = (opening.solved.disagreement, opening.solved.adjusted)
        && by.mm().abs() > DISAGREES
    {
        let by = Length::from_nm(by.nm().abs());
        found.push(Caution::Disagrees { by, adjusted });
    }
    if job.settings.fitting.gaps.mode == Mode::Inset {
        far_from_drawn("width", front.width, fitted.width(), found);
        far_from_drawn("height", front.height, fitted.height(), found);
    }
    if let Over::Slice { placed: true, .. } = over {
        let quad = &opening.outline.quad;
        let measured = quad.upper_right.y - quad.upper_left.y;
        let expected = over.drawn(front).higher;
        if (measured - expected).abs() > OFF_ARCH {
            found.push(Caution::OffArch {
                measured: Length::from_mm(measured),
                expected: Length::from_mm(expected),
            });
        }
    }
}

fn far_from_drawn(what: &'static str, drawn: Length, fitted: Length, found: &mut Vec<Caution>) {
    if (drawn - fitted).mm().abs() > FAR {
        found.push(Caution::FarFromDrawn {
            what,
            drawn,
            fitted,
        });
    }
}

fn gaps(job: &Job, fitted: &Fitted, found: &mut Vec<Caution>) {
    if fitted.opening.is_none() {
        return;
    }
    let gaps = &job.settings.fitting.gaps;
    for edge in Edge::ALL {
        let still = !moving_edges(fitted.grain).contains(&edge);
        let seasons: &[Season] = if still || fitted.seasons.is_none() {
            &[Season::Today]
        } else {
            &Season::ALL
        };
        let then = |season: &Season| (*season, fitted.movement.gaps(*season).at(edge));
        let widest = seasons.iter().map(then).max_by(|a, b| a.1.total_cmp(&b.1));
        let tightest = seasons.iter().map(then).min_by(|a, b| a.1.total_cmp(&b.1));
        let mode = gaps.mode;
        if let Some((season, gap)) = tightest.filter(|(_, gap)| *gap < gaps.least.mm() - HAIR) {
            found.push(Caution::Closes {
                mode,
                edge,
                season,
                to: Length::from_mm(gap),
                least: gaps.least,
            });
        }
        // An overlap is as wide as its maker wants it: only its least matters.
        let judged = widest.filter(|_| mode == Mode::Inset);
        if let Some((season, gap)) = judged.filter(|(_, gap)| *gap > gaps.most.mm() + HAIR) {
            found.push(Caution::Opens {
                mode,
                edge,
                season,
                to: Length::from_mm(gap),
                most: gaps.most,
            });
        }
    }
}

/// Two overlay fronts on one divider need a gap between them as an inset front needs its own.
fn reveal(job: &Job, fitted: &Fitted, found: &mut Vec<Caution>) {
    let Some(reveal) = &fitted.reveal else {
        return;
    };
    let least = job.settings.fitting.gaps.least;
    let seasons: &[Season] = match fitted.seasons {
        Some(_) => &Season::ALL,
        None => &[Season::Today],
    };
    let between = [
        ("one above the other", Reveal::stacked as BetweenAt),
        ("side by side", Reveal::beside),
    ];
    for (how, at) in between {
        let then = |season: &Season| (*season, at(reveal, &fitted.movement, *season));
        let tightest = seasons.iter().map(then).min_by_key(|(_, gap)| *gap);
        if let Some((season, to)) = tightest.filter(|(_, gap)| gap.mm() < least.mm() - HAIR) {
            found.push(Caution::Crowds {
                how,
                season,
                divider: reveal.divider,
                to,
                least,
            });
        }
    }
}

type BetweenAt = fn(&Reveal, &Movement, Season) -> Length;

fn moisture(fitted: &Fitted, found: &mut Vec<Caution>) {
    let Some(seasons) = &fitted.seasons else {
        return;
    };
    if seasons.today > seasons.wettest {
        found.push(Caution::OnlyShrinks);
    }
    for season in Season::ALL {
        let moisture = seasons.moisture(season);
        if !moisture.is_within_coefficients() {
            found.push(Caution::BeyondCoefficients { season, moisture });
        }
    }
}

fn bevel(job: &Job, fitted: &Fitted, found: &mut Vec<Caution>) {
    let Some(bevel) = &fitted.bevel else {
        return;
    };
    if bevel.flat.width <= Length::ZERO || bevel.flat.height <= Length::ZERO {
        found.push(Caution::BevelMeetsItself);
    }
    let rule = job.settings.fitting.bevel.as_ref();
    let least = rule.map_or_else(
        || crate::job::thin_edge(job.settings.unit),
        |rule| rule.thin,
    );
    if bevel.edge_left < least {
        let left = bevel.edge_left;
        found.push(Caution::ThinEdge { left, least });
    }
    let least = job.settings.allowances.shortest_safe;
    let sides = fitted.outline.quad.sides();
    // A curved edge is never fed past the saw.
    let curved = |edge| edge == Edge::Top && fitted.arch.is_some();
    let short = |&edge: &Edge| {
        bevel.on.at(edge) && !curved(edge) && Length::from_mm(sides.at(edge)) < least
    };
    let edges: Vec<Edge> = Edge::ALL.into_iter().filter(short).collect();
    if !edges.is_empty() {
        found.push(Caution::ShortToBevel { edges, least });
    }
}

fn pulls(job: &Job, fitted: &Fitted, found: &mut Vec<Caution>) {
    let Some(marks) = &fitted.pulls else {
        return;
    };
    let rule = job.settings.fitting.pulls;
    let clear = rule
        .unwrap_or_else(|| PullRule::of(job.settings.unit))
        .clear;
    let radius = marks.diameter.half();
    for edge in Edge::ALL {
        let bevelled = fitted.bevel.filter(|bevel| bevel.on.at(edge));
        let face = bevelled.map_or(Length::ZERO, |bevel| bevel.bevel.face);
        let Some(hole) = marks.holes.iter().min_by_key(|hole| hole.to_edge.at(edge)) else {
            continue;
        };
        let wood = hole.to_edge.at(edge) - radius - face;
        let pull = hole.pull;
        if wood < Length::ZERO && bevelled.is_some() {
            found.push(Caution::HoleInBevel { pull, edge });
        } else if wood < clear {
            found.push(Caution::HoleNearEdge { pull, edge, wood });
        }
    }
    let crossed = |pair: &[super::pulls::Hole]| {
        pair[1].pull > pair[0].pull && pair[1].from_centre - pair[0].from_centre < marks.diameter
    };
    if marks.holes.windows(2).any(crossed) {
        found.push(Caution::PullsOverlap);
    }
}
