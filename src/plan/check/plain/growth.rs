//! Rule 10 (a) over all sections of a board: no two grow into the same slack, and slack is never
//! shared out.

use super::section::{Growth, Growths, Reach, Rows};
use super::strip::Side;
use crate::measure::Length;

/// One section of a board, as far as its ends are concerned.
pub(super) struct Stood {
    pub rows: Rows,
    /// It lies where it lay before the plan was made, and is held to nothing.
    pub stood: bool,
    /// Whether its hook end, and its far end, lies at an end trim.
    pub at_trim: [bool; 2],
}

/// What is wrong with the sections of one board, in order along it; `kerf` lies between neighbours
/// at least. A section is named by its position.
pub(super) enum Fault {
    /// Neither tight nor grown over all the slack.
    Loose(usize),
    /// No way to explain all lengths leaves every section that has to be anchored so.
    Shared,
}

pub(super) fn fault(sections: &[Stood], kerf: Length, keep: Option<Length>) -> Option<Fault> {
    let mut ways = Vec::new();
    for (index, section) in sections.iter().enumerate() {
        if section.stood || !section.rows.holds() {
            ways.push(vec![Growths::default()]);
            continue;
        }
        let own = section.rows.growths(&reach(sections, index, kerf, keep));
        if own.is_empty() {
            return Some(Fault::Loose(index));
        }
        ways.push(own);
    }
    (!some_way(sections, kerf, &ways, &mut Vec::new())).then_some(Fault::Shared)
}

fn reach(sections: &[Stood], index: usize, kerf: Length, keep: Option<Length>) -> Reach {
    let section = &sections[index];
    let [at_hook, at_far] = section.at_trim;
    Reach {
        hook: at_hook || is_beside(sections, index, Side::Hook, kerf),
        far: at_far || is_beside(sections, index, Side::Far, kerf),
        keep: keep == Some(section.rows.to - section.rows.from),
    }
}

/// The section next to one, on a side.
fn neighbour(sections: &[Stood], index: usize, side: Side) -> Option<usize> {
    match side {
        Side::Hook => index.checked_sub(1),
        Side::Far => Some(index + 1).filter(|&next| next < sections.len()),
    }
}

/// Whether just a kerf lies between a section and the next one on a side.
fn is_beside(sections: &[Stood], index: usize, side: Side, kerf: Length) -> bool {
    let (near, _) = side.span((sections[index].rows.from, sections[index].rows.to));
    neighbour(sections, index, side).is_some_and(|next| {
        let (_, next) = side.span((sections[next].rows.from, sections[next].rows.to));
        next + kerf == near
    })
}

/// Whether some choice of one way a section agrees with itself.
fn some_way(
    sections: &[Stood],
    kerf: Length,
    ways: &[Vec<Growths>],
    chosen: &mut Vec<Growths>,
) -> bool {
    let Some(own) = ways.get(chosen.len()) else {
        return all_anchored(sections, kerf, chosen);
    };
    own.iter().any(|&growth| {
        let grown = |end: Growth| end != Growth::Tight;
        if grown(growth.hook) && chosen.last().is_some_and(|last| grown(last.far)) {
            // Both would have grown into the same slack.
            return false;
        }
        chosen.push(growth);
        let found = some_way(sections, kerf, ways, chosen);
        chosen.pop();
        found
    })
}

/// Whether every section that has grown at one end only, or up to which another has grown, is
/// anchored.
fn all_anchored(sections: &[Stood], kerf: Length, chosen: &[Growths]) -> bool {
    let grown_up_to = |index: usize| {
        let before = index.checked_sub(1).map(|before| chosen[before].far);
        let after = chosen.get(index + 1).map(|after| after.hook);
        [before, after].contains(&Some(Growth::AllSlack))
    };
    let must = |index: usize| chosen[index].at_one_end() || grown_up_to(index);
    let anchored = anchored(sections, kerf, chosen);
    (0..sections.len()).all(|index| sections[index].stood || !must(index) || anchored[index])
}

/// Which sections are anchored: those that lie fast by themselves, and those a kerf from an end of
/// one that is. An end grown to the shortest kept piece has not grown over slack: it anchors its own at
/// the end trim and a kerf from an anchored neighbour, though no blank stands fast against it. An end grown
/// over all the slack anchors its own only when the other has grown to the shortest kept piece.
fn anchored(sections: &[Stood], kerf: Length, chosen: &[Growths]) -> Vec<bool> {
    const SIDES: [Side; 2] = [Side::Hook, Side::Far];
    let holds = |index: usize, side: Side| match chosen[index].at(side) {
        Growth::Tight => true,
        // The other end is as far from here as the shortest kept piece is long.
        Growth::AllSlack => chosen[index].at(side.other()) == Growth::ToKeep,
        Growth::ToKeep => true,
    };
    let mut anchored: Vec<bool> = (0..sections.len())
        .map(|index| {
            let fast = |&side: &Side| {
                let blanks_count = chosen[index].at(side) != Growth::ToKeep;
                holds(index, side) && lies_fast(&sections[index], side, blanks_count)
            };
            sections[index].stood || SIDES.iter().any(fast)
        })
        .collect();
    // From either end on: an anchor is handed on from neighbour to neighbour.
    for _ in 0..sections.len() {
        for index in 0..sections.len() {
            let handed_on = |&side: &Side| {
                holds(index, side)
                    && is_beside(sections, index, side, kerf)
                    && neighbour(sections, index, side).is_some_and(|next| {
                        anchored[next] && chosen[next].at(side.other()) != Growth::AllSlack
                    })
            };
            anchored[index] |= SIDES.iter().any(handed_on);
        }
    }
    anchored
}

/// Whether an end lies at the end trim, or, where blanks count, one fast against it stands just clear of a defect.
fn lies_fast(section: &Stood, side: Side, blanks_count: bool) -> bool {
    let at_trim = match side {
        Side::Hook => section.at_trim[0],
        Side::Far => section.at_trim[1],
    };
    let (lanes, near, far) = section.rows.seen(side);
    at_trim || blanks_count && lanes.iter().any(|lane| lane.stands_at_defect(near, far))
}
