//! Walks what is known to follow a half-made pattern from an earlier one.

use std::rc::Rc;

use crate::layout::geometry::placed::edge;
use crate::layout::pricing::explore::memory::{ALL_FOLLOWS, FOLLOWS, Follow, Met, Open};
use crate::layout::pricing::explore::must::Must;
use crate::layout::pricing::explore::walk::Walk;

impl Walk<'_, '_> {
    /// Walks what may follow the sections closed, unless that is known.
    pub(in crate::layout) fn follow(
        &mut self,
        left: i64,
        longest: i64,
        paid: f64,
        walk: impl FnOnce(&mut Self),
    ) {
        if !self.may_be_done(left) {
            return;
        }
        let paid = paid - self.given.over;
        let met = self.met(left, longest, paid);
        let known = self.known(&met);
        self.memory.open.push(Open {
            sections: self.shape.len(),
            paid,
            follows: Vec::new(),
            many: false,
        });
        if let Some((follows, must)) = known {
            self.try_again(&follows, left, paid);
            if !must.is_empty() {
                self.memory.musts.push(must);
                walk(self);
                self.memory.musts.pop();
            }
        } else {
            walk(self);
        }
        self.remember(met);
    }

    fn met(&self, left: i64, longest: i64, paid: f64) -> Met {
        let (problem, cuts) = (self.problem, &self.problem.cuts);
        let mut cut = Vec::new();
        for strip in self.shape.iter().flatten() {
            for item in strip.items.iter().map(|&item| &problem.items[item]) {
                match item.gluing {
                    Some(gluing) => cut.push(problem.chain.len() + gluing),
                    None => cut.extend(item.rows.clone()),
                }
            }
        }
        cut.sort_unstable();
        let mut edges = Vec::new();
        if let Some(keep) = cuts.keep_length {
            let may =
                |&&(long, wide): &&(i64, i64)| edge(self.stock, cuts, wide, long.max(keep)) > 0;
            edges.extend(self.outline.iter().filter(may));
            edges.sort_unstable();
        }
        Met {
            cut,
            left,
            longest,
            paid,
            owed: self.owed,
            edges,
            staves: self.begun(),
            given: self.given.wide(|at| self.ended(at, left)),
            follows: Rc::default(),
        }
    }

    /// Whether no more staves of the rounding cuts at a place follow in `left` nanometres of board.
    fn ended(&self, at: usize, left: i64) -> bool {
        let asks = &self.prices.rounding[at].0.asks;
        asks.iter().all(|&(gluing, _)| {
            let item = &self.problem.items[self.problem.gluings[gluing].item];
            let most = self.completion.most(self.problem, self.index, gluing);
            item.room > left || self.staves[gluing] >= most
        })
    }

    /// The gluings begun, and how wide their staves are together.
    fn begun(&self) -> Vec<(usize, i64)> {
        let mut begun: Vec<(usize, i64)> = Vec::new();
        for strip in self.shape.iter().flatten() {
            for &item in &strip.items {
                let Some(gluing) = self.problem.items[item].gluing else {
                    continue;
                };
                let wide = self.stave(item, strip.width);
                match begun.iter_mut().find(|begun| begun.0 == gluing) {
                    Some(begun) => begun.1 += wide,
                    None => begun.push((gluing, wide)),
                }
            }
        }
        begun.sort_unstable();
        begun
    }

    /// What followed an earlier half-made pattern that beats this one, and what it could not have.
    fn known(&self, met: &Met) -> Option<(Rc<Vec<Follow>>, Must)> {
        let earlier = self.memory.met.get(&met.cut)?;
        let beats = earlier.iter().filter(|earlier| earlier.beats(met));
        let with = beats.map(|earlier| (earlier, self.lacks(earlier, met)));
        let (earlier, wants) = with.min_by_key(|(_, wants)| wants.len())?;
        Some((earlier.follows.clone(), self.must(wants)))
    }

    /// Tries behind this half-made pattern what followed another.
    fn try_again(&mut self, follows: &[Follow], left: i64, paid: f64) {
        let sections = self.shape.len();
        let crosscut = self.problem.cuts.crosscut;
        for follow in follows {
            if self.cut_short || (self.limit.stop)() {
                self.cut_short = true;
                return;
            }
            let long = follow.outline.iter().map(|section| section.0 + crosscut);
            let left = left - long.sum::<i64>();
            self.shape.extend(follow.shape.iter().cloned());
            self.outline.extend(&follow.outline);
            self.finish(left, paid + self.given.over + follow.worth);
            self.shape.truncate(sections);
            self.outline.truncate(sections);
        }
    }

    /// Notes what made the pattern paid `paid`, which is worth looking at, for all it came of.
    pub(in crate::layout) fn note(&mut self, paid: f64) {
        for open in &mut self.memory.open {
            if open.follows.len() == FOLLOWS {
                (open.many, open.follows) = (true, Vec::new());
            }
            if open.sections < self.shape.len() && !open.many {
                open.follows.push(Follow {
                    shape: self.shape[open.sections..].to_vec(),
                    outline: self.outline[open.sections..].to_vec(),
                    worth: paid - open.paid,
                });
            }
        }
    }

    /// Remembers a half-made pattern of which all that may follow has been walked.
    fn remember(&mut self, met: Met) {
        let Some(open) = self.memory.open.pop() else {
            return;
        };
        let walked = !self.cut_short && !open.many && self.anew();
        let follows = self.memory.follows + open.follows.len();
        let room = self.memory.count < self.limit.remembered && follows <= ALL_FOLLOWS;
        if walked && room {
            self.memory.follows = follows;
            self.memory.count += 1;
            let follows = Rc::new(open.follows);
            let same = self.memory.met.entry(met.cut.clone()).or_default();
            same.push(Met { follows, ..met });
        }
    }
}
