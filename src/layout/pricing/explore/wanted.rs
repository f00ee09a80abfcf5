//! Whether what must follow a half-made pattern still may.

use crate::layout::pricing::area::Worths;
use crate::layout::pricing::explore::memory::Met;
use crate::layout::pricing::explore::must::{Must, Want};
use crate::layout::pricing::explore::walk::Walk;

impl Walk<'_, '_> {
    /// All that must follow.
    fn musts(&self) -> impl Iterator<Item = &Must> {
        self.giving.iter().chain(&self.memory.musts)
    }

    /// The staves that the board is known to give.
    pub(in crate::layout) fn known_to_give(&self) -> Vec<Must> {
        let giving = self.problem.giving.iter();
        let here = giving.filter(|(board, _)| *board == self.index);
        here.map(|&(_, gluing)| {
            self.must(vec![Want {
                gluing,
                count: 0,
                together: None,
            }])
        })
        .collect()
    }

    /// Most that `area` is worth, with what is kept of `long` nanometres of board, by area alone.
    pub(in crate::layout) fn by_area(&self, area: f64, long: i64) -> f64 {
        let mut rest = self.rest;
        let musts = self.musts();
        // Each holds by itself; one stave may do for several.
        for must in musts.filter(|must| !must.done(&self.staves)) {
            let both = rest.iter_mut().zip(&self.rest).zip(&must.less);
            both.for_each(|((rest, all), less)| *rest = rest.min(all + less));
        }
        self.area.most(&rest, area, long)
    }

    /// Whether the staves that must follow may fit in what is left.
    pub(in crate::layout) fn may_be_done(&self, left: i64) -> bool {
        let fits =
            |gluing: usize| self.problem.items[self.problem.gluings[gluing].item].room <= left;
        let may = |must: &Must| must.wants.iter().any(|want| fits(want.gluing));
        self.musts()
            .all(|must| must.done(&self.staves) || may(must))
    }

    /// The staves that may follow `later` and not `earlier`, whose own are too narrow.
    pub(in crate::layout) fn lacks(&self, earlier: &Met, later: &Met) -> Vec<Want> {
        let both = earlier.staves.iter().zip(&later.staves);
        both.filter_map(|(&(gluing, wide), &(_, wider))| {
            self.want(gluing, (wide, wider), later.left)
        })
        .collect()
    }

    /// That one of the staves wanted must follow.
    pub(in crate::layout) fn must(&self, mut wants: Vec<Want>) -> Must {
        if wants.len() > 1 {
            wants.iter_mut().for_each(|want| want.together = None);
        }
        let mut less = Worths::default().map(|_| f64::NEG_INFINITY);
        for want in &wants {
            let of = self.problem.gluings[want.gluing].asked_width;
            let below = want.together.map_or(i64::MAX, |together| of - together);
            let forced = self.area.forced(want.gluing, below);
            let both = less.iter_mut().zip(forced);
            both.for_each(|(less, forced)| *less = less.max(forced));
        }
        Must { wants, less }
    }

    fn want(&self, gluing: usize, (wide, wider): (i64, i64), left: i64) -> Option<Want> {
        let item = &self.problem.items[self.problem.gluings[gluing].item];
        if wide >= wider || item.room > left {
            return None;
        }
        let count = self.staves[gluing];
        let more = (self.completion.most(self.problem, self.index, gluing)).saturating_sub(count);
        let enough = |more: usize, wide: i64| {
            (self.completion).enough(self.problem, gluing, (count + more, wide))
        };
        let widest = self.widest_of(gluing);
        let alike = (1..=more).all(|more| {
            let (least, most) = (more as i64 * item.width, more as i64 * widest);
            enough(more, wide + least) || !enough(more, wider + most)
        });
        (!alike).then_some(Want {
            gluing,
            count,
            together: (more == 1).then_some(wide),
        })
    }

    /// Whether `times` more staves of a gluing, `wide` together, are not known to have followed earlier.
    pub(in crate::layout) fn wanted(&self, gluing: usize, times: usize, wide: i64) -> bool {
        let count = self.staves[gluing];
        let wants = self.memory.musts.iter().flat_map(|must| &must.wants);
        let mut same = wants.filter(|want| (want.gluing, want.count) == (gluing, count));
        same.all(|want| {
            want.together.is_none_or(|together| {
                let staves = (count + times, together + wide);
                !self.completion.enough(self.problem, gluing, staves)
            })
        })
    }

    /// Whether the pattern has all staves it must have.
    pub(in crate::layout) fn done(&self) -> bool {
        if self.musts().next().is_none() {
            return true;
        }
        // What is tried again is not in the count kept.
        let mut staves = vec![0; self.problem.gluings.len()];
        let items = self.shape.iter().flatten().flat_map(|strip| &strip.items);
        items
            .filter_map(|&item| self.problem.items[item].gluing)
            .for_each(|gluing| staves[gluing] += 1);
        self.musts().all(|must| must.done(&staves))
    }

    /// Whether all that was known from earlier half-made patterns has been left behind.
    pub(in crate::layout) fn anew(&self) -> bool {
        let mut musts = self.memory.musts.iter();
        musts.all(|must| must.done(&self.staves))
    }
}
