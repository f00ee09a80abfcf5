//! Where on a board in use new pieces may lie.

use grainrow::measure::Length;

use super::begun::{Begun, Copy, Laid, Span};

/// A part of a board nothing lies on.
pub enum Place {
    Strip {
        section: Span,
        strip: Span,
        free: Span,
    },
    Section {
        section: Span,
        free: Span,
    },
    Board {
        free: Span,
        ends: [bool; 2],
    },
}

/// All of them on a board that bears what is laid.
pub fn places(begun: &Begun, (kind, copy): Copy, laid: &Laid) -> Vec<Place> {
    let allow = &begun.job.settings.allowances;
    let board = &begun.job.boards[kind];
    let whole = board.between_trims(allow);
    let sections: Vec<Span> = laid.keys().copied().collect();
    // A section that is sawn off leaves an end of board on either side.
    let sawn_at = |at: Length| {
        let off = sections
            .iter()
            .filter(|&&s| begun.sawn.is_off((kind, copy), s));
        let kerf = allow.crosscut_kerf;
        off.into_iter()
            .any(|s| s.1 + kerf == at || s.0 - kerf == at)
    };
    let gaps = free(whole, &sections, allow.crosscut_kerf);
    let mut places: Vec<Place> = gaps
        .into_iter()
        .map(|free| Place::Board {
            free,
            ends: [
                free.0 == whole.0 || sawn_at(free.0),
                free.1 == whole.1 || sawn_at(free.1),
            ],
        })
        .collect();
    for (&section, strips) in laid {
        let taken: Vec<Span> = strips.keys().copied().collect();
        let gaps = free((Length::ZERO, board.width), &taken, allow.rip_kerf);
        places.extend(
            gaps.into_iter()
                .map(|free| Place::Section { section, free }),
        );
        for (&strip, blanks) in strips {
            let lost =
                begun.sawn.pieces.iter().filter(|p| {
                    (p.board, p.copy, p.section, p.strip) == (kind, copy, section, strip)
                });
            let mut taken: Vec<Span> = blanks.iter().map(|b| (b.from, b.to)).collect();
            taken.extend(lost.map(|p| (p.blank.from, p.blank.to)));
            taken.sort_unstable();
            let gaps = free(section, &taken, allow.crosscut_kerf);
            places.extend(gaps.into_iter().map(|free| Place::Strip {
                section,
                strip,
                free,
            }));
        }
    }
    places
}

/// What is left of `whole` beside what is taken, in order, a kerf apart.
fn free(whole: Span, taken: &[Span], kerf: Length) -> Vec<Span> {
    let mut gaps = Vec::new();
    let mut at = whole.0;
    for &(from, to) in taken {
        gaps.push((at, from - kerf));
        at = at.max(to + kerf);
    }
    gaps.push((at, whole.1));
    gaps.retain(|(from, to)| from < to);
    gaps
}
