//! All ways to part a run into stretches and to glue these from staves.

use grainrow::job::Job;
use grainrow::measure::Length;

use super::{STEP, steps};

/// One stave of a stretch (all of it, when in one piece).
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Lane {
    pub run: usize,
    /// In run order.
    pub fronts: Vec<usize>,
    pub stretch: u32,
    pub stave: u32,
    pub staves: u32,
    pub width: Length,
}

impl Lane {
    /// The same cut, whatever stretch and stave of its run it is.
    pub fn unnamed(&self) -> Lane {
        Lane {
            stretch: 0,
            stave: 0,
            staves: 0,
            ..self.clone()
        }
    }
}

/// One way to make a run, or part of it.
#[derive(Clone, Debug)]
pub struct Option {
    pub lanes: Vec<Lane>,
    pub breaks: usize,
    pub glue_lines: usize,
    /// Square inches made.
    pub area: f64,
}

/// The most staves tried. The jobs must see to it that more never pay.
const MOST_STAVES: u32 = 3;

pub fn run_options(job: &Job, run: usize) -> Vec<Option> {
    let fronts = &job.runs[run].fronts;
    let mut options = Vec::new();
    for stretches in partings(fronts.len()) {
        let ways: Vec<Vec<Vec<Length>>> = stretches
            .iter()
            .map(|&(from, to)| stave_widths(job, &fronts[from..to]))
            .collect();
        for chosen in product(&ways) {
            options.push(option(job, run, &stretches, &chosen));
        }
    }
    options
}

/// All sets of intervals of `0..n` that do not overlap, in order; what none holds is not made.
fn partings(n: usize) -> Vec<Vec<(usize, usize)>> {
    fn extend(
        from: usize,
        n: usize,
        chosen: &mut Vec<(usize, usize)>,
        all: &mut Vec<Vec<(usize, usize)>>,
    ) {
        if from == n {
            all.push(chosen.clone());
            return;
        }
        extend(from + 1, n, chosen, all);
        for to in from + 1..=n {
            chosen.push((from, to));
            extend(to, n, chosen, all);
            chosen.pop();
        }
    }
    let mut all = Vec::new();
    extend(0, n, &mut Vec::new(), &mut all);
    all
}

/// All ways to share the width of a stretch among its staves.
fn stave_widths(job: &Job, fronts: &[usize]) -> Vec<Vec<Length>> {
    let settings = &job.settings;
    let widest = fronts
        .iter()
        .map(|&f| job.fronts[f].across())
        .max()
        .unwrap_or_default();
    let whole = widest + settings.allowances.rough_width;
    let mut ways = vec![vec![whole]];
    if !fronts.iter().all(|&front| job.fronts[front].glue) {
        return ways;
    }
    let least = settings.glue.least_stave;
    for staves in 2..=MOST_STAVES {
        let total = whole + settings.glue.joint * i64::from(staves - 1);
        shares(total, least, staves, &mut Vec::new(), &mut ways);
    }
    ways
}

/// A last stave takes what the others leave; none is made wider than needed. Which stave is the
/// first makes no difference, so that they come in order of width.
fn shares(
    left: Length,
    least: Length,
    staves: u32,
    so_far: &mut Vec<Length>,
    all: &mut Vec<Vec<Length>>,
) {
    if staves == 1 {
        let last = left.max(least);
        if so_far.last().is_none_or(|&before| before <= last) {
            all.push([so_far.clone(), vec![last]].concat());
        }
        return;
    }
    let first = Length::from_nm(least.nm().div_euclid(STEP.nm()) * STEP.nm()).max(least);
    let first = so_far.last().copied().unwrap_or(first);
    for width in steps(first, left.max(first)) {
        so_far.push(width);
        shares(left - width, least, staves - 1, so_far, all);
        so_far.pop();
    }
}

fn product(ways: &[Vec<Vec<Length>>]) -> Vec<Vec<Vec<Length>>> {
    let mut all = vec![Vec::new()];
    for stretch in ways {
        let extend = |chosen: &Vec<Vec<Length>>| -> Vec<Vec<Vec<Length>>> {
            let with = |way: &Vec<Length>| [chosen.clone(), vec![way.clone()]].concat();
            stretch.iter().map(with).collect()
        };
        all = all.iter().flat_map(extend).collect();
    }
    all
}

fn option(job: &Job, run: usize, stretches: &[(usize, usize)], widths: &[Vec<Length>]) -> Option {
    let fronts = &job.runs[run].fronts;
    let mut option = Option {
        lanes: Vec::new(),
        breaks: stretches.len().saturating_sub(1),
        glue_lines: 0,
        area: 0.0,
    };
    for (number, (&(from, to), staves)) in stretches.iter().zip(widths).enumerate() {
        option.glue_lines += (staves.len() - 1) * (to - from);
        for &front in &fronts[from..to] {
            option.area += job.fronts[front].width.inches() * job.fronts[front].height.inches();
        }
        option
            .lanes
            .extend(staves.iter().enumerate().map(|(stave, &width)| Lane {
                run,
                fronts: fronts[from..to].to_vec(),
                stretch: number as u32 + 1,
                stave: stave as u32 + 1,
                staves: staves.len() as u32,
                width,
            }));
    }
    option
}
