//! All ways to lay one lane in a strip: gaps, direction, face, and place along and across.

use grainrow::job::{Between, Board, DefectSide, Job};
use grainrow::measure::Length;
use grainrow::plan::{Blank, End, Face};

use super::steps;
use super::structure::Lane;

/// A lane laid down.
#[derive(Clone, Debug)]
pub struct Laid {
    pub from: Length,
    pub to: Length,
    /// Whether it is shorter than the shortest safe length.
    pub short: bool,
    pub blanks: Vec<Blank>,
}

/// All ways to lay `lane` in a strip from `low` to `high` of `board`, one for each start and end.
pub fn ways(job: &Job, board: &Board, lane: &Lane, low: Length, high: Length) -> Vec<Laid> {
    let (begins, ends) = board.between_trims(&job.settings.allowances);
    let mut found: Vec<Laid> = Vec::new();
    for left in [End::Hook, End::Far] {
        let mut order = lane.fronts.clone();
        if left == End::Far {
            order.reverse();
        }
        for gaps in all_gaps(job, lane, left) {
            let shape = shape(job, &order, &gaps);
            let long = shape.last().map(|piece| piece.1).unwrap_or_default();
            if !thick_enough(job, board, lane.width, &order, &shape) {
                continue;
            }
            for from in steps(begins, ends - long) {
                if found
                    .iter()
                    .any(|laid| (laid.from, laid.to) == (from, from + long))
                {
                    continue;
                }
                let at = |low, face| blanks(lane, &order, &shape, from, low, left, face);
                let clear = lows(lane.width, low, high)
                    .into_iter()
                    .flat_map(|low| [at(low, Face::Up), at(low, Face::Down)])
                    .find(|blanks| blanks.iter().all(|blank| is_clear(job, board, blank)));
                found.extend(clear.map(|blanks| Laid {
                    from,
                    to: from + long,
                    short: long < job.settings.allowances.shortest_safe,
                    blanks,
                }));
            }
        }
    }
    found
}

/// Every gap between neighbours from the least to the most, on the grid. In board order.
fn all_gaps(job: &Job, lane: &Lane, left: End) -> Vec<Vec<Length>> {
    let allow = &job.settings.allowances;
    let mut all = vec![Vec::new()];
    for &front in &lane.fronts[..lane.fronts.len() - 1] {
        let space = match allow.between {
            Between::Tight => Length::ZERO,
            Between::AsBuilt => job.fronts[front].space_after.unwrap_or_default(),
        };
        let least = allow.crosscut_kerf.max(space - allow.rough_length);
        let longest = job.boards.iter().map(|board| board.length).max();
        let most = match job.fronts[front].alike {
            true => longest.unwrap_or_default(),
            false => allow.longest_skip - allow.rough_length,
        };
        let gaps: Vec<Length> = steps(least, most)
            .filter(|&gap| gap >= least && gap <= most)
            .collect();
        let extend = |chosen: &Vec<Length>| -> Vec<Vec<Length>> {
            gaps.iter()
                .map(|&gap| [chosen.clone(), vec![gap]].concat())
                .collect()
        };
        all = all.iter().flat_map(extend).collect();
    }
    if left == End::Far {
        all.iter_mut().for_each(|gaps| gaps.reverse());
    }
    all
}

/// Start and end of each blank from the lane's own start.
fn shape(job: &Job, order: &[usize], gaps: &[Length]) -> Vec<(Length, Length)> {
    let mut at = Length::ZERO;
    let mut pieces = Vec::new();
    for (index, &front) in order.iter().enumerate() {
        let to = at + job.fronts[front].along() + job.settings.allowances.rough_length;
        pieces.push((at, to));
        at = to + gaps.get(index).copied().unwrap_or_default();
    }
    pieces
}

/// Tries every way to part the lane into groups milled together.
fn thick_enough(
    job: &Job,
    board: &Board,
    width: Length,
    order: &[usize],
    shape: &[(Length, Length)],
) -> bool {
    let safe = job.settings.allowances.shortest_safe;
    let left = |long: Length| {
        let along = long.inches() / board.length.inches();
        let across = width.inches() / board.width.inches();
        board.thickness.inches()
            - board.bow.inches() * along.powi(2)
            - board.cup.inches() * across.powi(2)
            - board.twist.inches() * along * across
    };
    let holds = |group: &[usize], long: Length| {
        let skim = 2.0 * job.settings.allowances.plane.inches();
        let needed = |&front: &usize| job.fronts[front].thickness.inches() + skim;
        group
            .iter()
            .map(needed)
            .all(|needed| left(long) >= needed - 1e-9)
    };
    let n = order.len();
    let whole = shape[n - 1].1;
    if whole < safe {
        return holds(order, safe);
    }
    // Bit i of the mask: a cut between blank i and the next.
    (0u32..1 << (n - 1)).any(|cuts| {
        let mut start = 0;
        (0..n).all(|end| {
            if end + 1 < n && cuts & (1 << end) == 0 {
                return true;
            }
            let long = shape[end].1 - shape[start].0;
            let fine = long >= safe && holds(&order[start..=end], long);
            start = end + 1;
            fine
        })
    })
}

/// Where a blank may lie across its strip: at either edge, or on the grid between.
fn lows(width: Length, low: Length, high: Length) -> Vec<Length> {
    if high - low < width {
        return Vec::new();
    }
    let mut lows = vec![low, high - width];
    let whole = Length::from_nm(low.nm().div_euclid(super::STEP.nm()) * super::STEP.nm());
    lows.extend(steps(whole, high - width).filter(|&at| at > low && at < high - width));
    lows
}

fn blanks(
    lane: &Lane,
    order: &[usize],
    shape: &[(Length, Length)],
    start: Length,
    low: Length,
    left: End,
    face: Face,
) -> Vec<Blank> {
    let blank = |(&front, &(from, to)): (&usize, &(Length, Length))| Blank {
        front,
        stave: lane.stave,
        staves: lane.staves,
        stretch: lane.stretch,
        from: start + from,
        to: start + to,
        low,
        high: low + lane.width,
        left,
        face,
    };
    order.iter().zip(shape).map(blank).collect()
}

fn is_clear(job: &Job, board: &Board, blank: &Blank) -> bool {
    let clear = job.settings.allowances.clear;
    board.defects.iter().all(|defect| {
        let hidden = matches!(
            (defect.side, blank.face),
            (DefectSide::Up, Face::Down) | (DefectSide::Down, Face::Up)
        );
        hidden
            || blank.to + clear <= defect.from
            || defect.to + clear <= blank.from
            || blank.high + clear <= defect.low
            || defect.high + clear <= blank.low
    })
}
