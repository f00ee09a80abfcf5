//! Half-made patterns met before: what follows one may follow another that cuts the same fronts.
//!
//! Where less of the board is left behind a half-made pattern than behind an earlier one, and it has been
//! paid no more, whatever makes a good pattern of it made a better one of the earlier. So it is not walked
//! again: the sections that followed the earlier one are tried behind it, each in turn, and nothing is
//! lost. Whether sections are worth noting is asked as if all they may keep were kept: that is at least as
//! much behind the earlier one, whatever its crook does to a longer edge.
//!
//! Staves are the one thing in which the later one may do more: with wider ones of a front, it can do with
//! narrower ones to follow. Then only what has such staves is walked ([`Must`]).

use std::collections::HashMap;
use std::rc::Rc;

use super::super::super::geometry::edge;
use super::super::super::place::Shape;
use super::Walk;
use super::must::Must;

/// Sections noted behind one half-made pattern, and behind all of a walk, at most: where more follows, it is
/// walked again rather than kept.
const FOLLOWS: usize = 1_000;
const ALL_FOLLOWS: usize = 50_000;

/// The rows and the staves that a half-made pattern cuts, in order.
type Cut = Vec<usize>;

/// A half-made pattern whose last section is closed.
pub(super) struct Met {
    cut: Cut,
    /// Board left after it.
    pub(super) left: i64,
    /// The next section may be no longer.
    longest: i64,
    paid: f64,
    /// See [`Walk::owed`].
    owed: f64,
    /// Length and strip widths of the sections with an edge that may be kept, in order.
    edges: Vec<(i64, i64)>,
    /// The modes begun, and how wide their staves may turn out together.
    pub(super) staves: Vec<(usize, i64)>,
    /// See [`Given::wide`](super::given::Given::wide): what staves to follow get.
    given: Vec<i64>,
    follows: Rc<Vec<Follow>>,
}

/// Sections that made a pattern worth looking at.
struct Follow {
    shape: Shape,
    outline: Vec<(i64, i64)>,
    /// What is paid for them.
    worth: f64,
}

/// A half-made pattern that is being walked.
struct Open {
    /// How many sections it has.
    sections: usize,
    paid: f64,
    follows: Vec<Follow>,
    /// Whether more follows than is noted.
    many: bool,
}

/// What a walk remembers.
#[derive(Default)]
pub(super) struct Memory {
    met: HashMap<Cut, Vec<Met>>,
    count: usize,
    follows: usize,
    open: Vec<Open>,
    pub(super) musts: Vec<Must>,
}

impl Met {
    /// Whether whatever may follow `later`, but for its staves, may follow this and is as good.
    fn beats(&self, later: &Met) -> bool {
        self.left >= later.left
            && self.longest >= later.longest.min(later.left)
            && self.paid >= later.paid
            && self.owed >= later.owed
            && among(&later.edges, &self.edges)
            && self.given == later.given
    }
}

/// Whether all of `some` are among `all`; both are in order.
fn among(some: &[(i64, i64)], all: &[(i64, i64)]) -> bool {
    let mut all = all.iter();
    some.iter().all(|one| all.any(|other| other == one))
}

impl Walk<'_, '_> {
    /// Walks what may follow the sections closed, unless that is known.
    pub(super) fn follow(
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
                match item.mode {
                    Some(mode) => cut.push(problem.chain.len() + mode),
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

    /// Whether no more staves of the givers at a place follow in `left` nanometres of board.
    fn ended(&self, at: usize, left: i64) -> bool {
        let asks = &self.prices.givers[at].0.asks;
        asks.iter().all(|&(mode, _)| {
            let item = &self.problem.items[self.problem.modes[mode].item];
            let most = self.sisters.most(self.problem, self.index, mode);
            item.room > left || self.staves[mode] >= most
        })
    }

    /// The modes begun, and how wide their staves are together.
    fn begun(&self) -> Vec<(usize, i64)> {
        let mut begun: Vec<(usize, i64)> = Vec::new();
        for strip in self.shape.iter().flatten() {
            for &item in &strip.items {
                let Some(mode) = self.problem.items[item].mode else {
                    continue;
                };
                let wide = self.stave(item, strip.width);
                match begun.iter_mut().find(|begun| begun.0 == mode) {
                    Some(begun) => begun.1 += wide,
                    None => begun.push((mode, wide)),
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
    pub(super) fn note(&mut self, paid: f64) {
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
