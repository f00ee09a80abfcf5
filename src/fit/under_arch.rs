//! Fronts that stand under one arch, seen together: their pulls at one level, and whether what is
//! measured under the arch makes up its chord.

use super::caution::Caution;
use super::fitted::Fitted;
use super::over::Over;
use super::{watch, work};
use crate::job::{Edge, Job, Mode, SharedArch};
use crate::measure::Length;

/// A chord farther than this (1/8 in) from what is measured under it is told.
const CHORD_OFF: f64 = 3.175;

/// Levels the pulls under each arch, and tells a chord that does not agree.
pub(super) fn settle(job: &Job, fronts: &mut [Fitted]) {
    for arch in &job.settings.fitting.arches {
        let place = |name: &String| fronts.iter().position(|f| &f.name == name);
        let under: Option<Vec<usize>> = arch.fronts.iter().map(place).collect();
        let Some(under) = under.filter(|under| !under.is_empty()) else {
            continue;
        };
        level(job, fronts, &under);
        let disagrees = chord(job, arch, fronts, &under);
        for &index in &under {
            fronts[index].cautions.extend(disagrees.clone());
        }
    }
}

/// Each front's own corners make its own crest; a share of their mean stands at one level over
/// the rail they all stand on.
fn level(job: &Job, fronts: &mut [Fitted], under: &[usize]) {
    let crests = under.iter().map(|&index| {
        let front = &job.fronts[fronts[index].front];
        work::crest(&Over::of(job, front), &fronts[index].outline)
    });
    let mean = crests.sum::<f64>() / under.len() as f64;
    for &index in under {
        let fitted = &mut fronts[index];
        let front = &job.fronts[fitted.front];
        let opening = job.openings.iter().find(|o| o.front == fitted.front);
        let over = Over::of(job, front);
        fitted.pulls = work::pulls(job, opening, &over, &fitted.outline, Some(mean));
        fitted.cautions = watch::cautions(job, front, &over, fitted);
    }
}

/// The caution about a chord; nothing when it agrees, or not all under it is measured.
fn chord(job: &Job, arch: &SharedArch, fronts: &[Fitted], under: &[usize]) -> Option<Caution> {
    let (mut open, mut dividers, mut gaps) = (0.0, 0.0, 0.0);
    for &index in under {
        let quad = fronts[index].opening?.outline.quad;
        open += quad.upper_right.x - quad.upper_left.x;
    }
    for pair in under.windows(2) {
        let [a, b] = [&fronts[pair[0]], &fronts[pair[1]]];
        dividers += job.fronts[a.front].space_after?.mm();
        gaps += beyond(a, Edge::Right) + beyond(b, Edge::Left);
    }
    // From front to front lie the divider and both gaps; some write the divider's own width.
    let lengths = [open + dividers - gaps, open + dividers];
    let [low, high] = [
        lengths[0].min(lengths[1]) - CHORD_OFF,
        lengths[0].max(lengths[1]) + CHORD_OFF,
    ];
    (!(low..=high).contains(&arch.chord.mm())).then(|| Caution::ArchChord {
        arch: arch.name.clone(),
        chord: arch.chord,
        under: lengths.map(Length::from_mm),
    })
}

/// How far an opening reaches beyond its front at an edge today.
fn beyond(fitted: &Fitted, edge: Edge) -> f64 {
    let gap = fitted.movement.today.at(edge);
    match fitted.mode {
        Mode::Inset => gap,
        Mode::Overlay => -gap,
    }
}
