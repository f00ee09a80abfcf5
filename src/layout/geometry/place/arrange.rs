//! Sections in every order, each at every tight place, on a board with defects.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::layout::geometry::place::along::{Lies, Segment, best_along};
use crate::layout::geometry::place::arranged::Arranged;
use crate::layout::geometry::place::options::{Options, Sections};
use crate::layout::geometry::place::pack::Bench;
use crate::layout::geometry::placed::{PlacedSection, measured};
use crate::layout::model::problem::Problem;
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::shape::{Shape, outline};
use crate::layout::model::stock::Stock;
use crate::layout::model::watch::Patience;

/// Half-made orders looked at; where there are more, the search is not complete.
const MOST_ORDERS: usize = 20_000;
/// The same where the nearest of equal arrangements is looked for.
const MOST_TIDY: usize = 2_000;
/// Orders between two looks at the clock.
const LOOK_EVERY: usize = 64;
/// Times that the ways to stack the sections of a crooked board are looked for anew at other lengths, and
/// lengths of one section that are looked at.
const ROUNDS: usize = 4;
const MOST_LENGTHS: usize = 60;

/// The arrangement of `shape` that keeps most; none is looked for once one costs no more than `lower`, and
/// none that costs `enough` or more is of use.
///
/// `tidy` asks for the arrangement nearest the hook end and the near edge of those that cost as little.
pub(in crate::layout) fn arrange(
    (problem, stock): (&Problem, &Stock),
    (sections, index): (&Sections, usize),
    shape: &Shape,
    (lower, enough): (f64, f64),
    tidy: bool,
) -> Arranged {
    let known = (sections, index);
    let bench = Bench::new(problem, stock);
    let outline = outline(problem, shape);
    let mut lengths: Vec<BTreeSet<i64>> = outline.iter().map(|of| BTreeSet::from([of.0])).collect();
    // On a crooked board the places across depend on how long the section turns out.
    if stock.crook > 0.0 {
        let keep = problem.cuts.keep_length;
        let keep = keep.filter(|&keep| keep <= stock.usable());
        lengths.iter_mut().for_each(|of| of.extend(keep));
    }
    for _ in 0..ROUNDS {
        let mut longer = lengths.clone();
        let arranged = arrange_of(
            (&bench, known),
            shape,
            (lower, enough, tidy),
            &lengths,
            &mut longer,
        );
        let settled = stock.crook == 0.0 || longer == lengths;
        if settled || longer.iter().any(|of| of.len() > MOST_LENGTHS) {
            let least = if settled { arranged.least } else { lower };
            return Arranged { least, ..arranged };
        }
        lengths = longer;
    }
    Arranged {
        least: lower,
        ..arrange_of(
            (&bench, known),
            shape,
            (lower, enough, tidy),
            &lengths,
            &mut lengths.clone(),
        )
    }
}

/// The same with places across for sections of such `lengths`; notes the other lengths they may have.
fn arrange_of(
    (bench, (sections, index)): (&Bench, (&Sections, usize)),
    shape: &Shape,
    (lower, enough, tidy): (f64, f64, bool),
    lengths: &[BTreeSet<i64>],
    longer: &mut [BTreeSet<i64>],
) -> Arranged {
    let (problem, stock) = (bench.problem, bench.stock);
    let mut complete = true;
    let mut all = Vec::new();
    for (section, lengths) in shape.iter().zip(lengths) {
        let lengths: Vec<i64> = lengths.iter().copied().collect();
        let (options, all_of_them) = sections.options((bench, index), section, lengths);
        complete &= all_of_them;
        all.push(options);
    }
    for (options, longer) in all.iter().zip(longer.iter_mut()) {
        longer.extend(&options.lengths);
    }
    if all.iter().any(|options| options.segments.is_empty()) {
        return Arranged::none(if complete { f64::INFINITY } else { lower });
    }
    let mut search = Arranger {
        patience: problem.patience,
        stock,
        cuts: &problem.cuts,
        shape,
        options: &all,
        lower,
        enough,
        tidy,
        orders: 0,
        most_orders: if tidy { MOST_TIDY } else { MOST_ORDERS },
        best: None,
        longer,
    };
    search.next(&mut Vec::new(), 0, stock.from);
    complete &= search.orders < search.most_orders && !problem.patience.is_over();
    let enough_found = search.best.as_ref().is_some_and(|best| best.0 <= lower);
    let best = search.best.take();
    let Some((cost, chosen, lies)) = best else {
        return Arranged::none(if complete { enough } else { lower });
    };
    let sections: Option<Vec<PlacedSection>> = (chosen.iter().zip(&lies))
        .map(|(&(section, nth), lies)| {
            let stack = &all[section].stacks[all[section].segments[nth].1];
            bench.placed(&shape[section], stack, (lies.from, lies.to), lies.to_far)
        })
        .collect();
    let placed = sections.map(|sections| measured(stock, &problem.cuts, sections));
    Arranged {
        least: if complete || enough_found {
            cost
        } else {
            lower
        },
        placed,
    }
}

/// Cost, the sections in order each with the segment chosen, and where they lie.
type Best = (f64, Vec<(usize, usize)>, Vec<Lies>);

struct Arranger<'s> {
    patience: Patience<'s>,
    stock: &'s Stock,
    cuts: &'s SawRules,
    shape: &'s Shape,
    options: &'s [Arc<Options>],
    lower: f64,
    enough: f64,
    tidy: bool,
    orders: usize,
    most_orders: usize,
    best: Option<Best>,
    /// Lengths that each section may grow to.
    longer: &'s mut [BTreeSet<i64>],
}

impl Arranger<'_> {
    fn done(&self) -> bool {
        let good = |best: &Best| !self.tidy && best.0 <= self.lower;
        self.orders >= self.most_orders
            || (self.orders.is_multiple_of(LOOK_EVERY) && self.patience.is_over())
            || self.best.as_ref().is_some_and(good)
    }

    /// One more section, which starts at `at` or later.
    fn next(&mut self, chosen: &mut Vec<(usize, usize)>, used: u64, at: i64) {
        self.orders += 1;
        if self.done() || self.hopeless(chosen, used, at) {
            return;
        }
        if chosen.len() == self.shape.len() {
            self.look(chosen);
            return;
        }
        for section in 0..self.shape.len() {
            let unused = |i: usize| used >> i & 1 == 0;
            // Of sections alike the first comes first.
            let alike = |i: usize| unused(i) && self.shape[i] == self.shape[section];
            if !unused(section) || (0..section).any(alike) {
                continue;
            }
            let options = self.options;
            for (nth, (segment, _)) in options[section].segments.iter().enumerate() {
                let from = segment.first.max(at);
                if from > segment.last {
                    continue;
                }
                chosen.push((section, nth));
                let next = from + segment.long + self.cuts.crosscut;
                self.next(chosen, used | 1 << section, next);
                chosen.pop();
            }
        }
    }

    fn segment(&self, (section, nth): (usize, usize)) -> &Segment {
        &self.options[section].segments[nth].0
    }

    /// Whether nothing better can come of what is chosen, by length alone.
    fn hopeless(&self, chosen: &[(usize, usize)], used: u64, at: i64) -> bool {
        let kerf = self.cuts.crosscut;
        let rest = (0..self.shape.len()).filter(|i| used >> i & 1 == 0);
        let (mut least, mut beside) = (0, 0.0);
        for section in rest {
            least += self.options[section].shortest + kerf;
            beside += self.options[section].most_beside;
        }
        if at + least - kerf > self.stock.to {
            return true;
        }
        let mut long = least;
        let mut gaps = 0.0;
        let mut before: Option<&Segment> = None;
        for &place in chosen {
            let segment = self.segment(place);
            beside += segment.long as f64 * segment.edge as f64;
            // What lies between two that can come no nearer is kept beside one of them at most.
            if let Some(before) = before {
                let gap = (segment.first - kerf - before.last - before.long).max(0);
                gaps += gap as f64 * before.edge.max(segment.edge) as f64;
                long += gap;
            }
            long += segment.long + kerf;
            before = Some(segment);
        }
        let slack = (self.stock.usable() - (long - kerf)).max(0);
        let wide = self.stock.width as f64;
        let kept = beside + gaps + slack as f64 * wide;
        let kept = if self.cuts.keep_length.is_some() {
            kept
        } else {
            0.0
        };
        let cost = self.stock.whole - self.stock.kept_rate * kept;
        let dearer = |best: &Best| match self.tidy {
            true => cost > best.0 + SAME_COST,
            false => cost >= best.0 - SAME_COST,
        };
        cost >= self.enough || self.best.as_ref().is_some_and(dearer)
    }

    /// What is nearest the hook end and the near edge comes first by this.
    fn nearness(&self, chosen: &[(usize, usize)], lies: &[Lies]) -> Vec<i64> {
        let along = lies.iter().flat_map(|lies| [lies.from, lies.to]);
        let across = chosen.iter().flat_map(|&(section, nth)| {
            let options = &self.options[section];
            let stack = &options.stacks[options.segments[nth].1];
            stack.strips.iter().map(|&(_, low)| low)
        });
        along.chain(across).collect()
    }

    fn look(&mut self, chosen: &[(usize, usize)]) {
        let segments: Vec<&Segment> = chosen.iter().map(|&place| self.segment(place)).collect();
        let mut longer = vec![BTreeSet::new(); chosen.len()];
        let found = best_along(self.stock, self.cuts, &segments, &mut longer);
        for (&(section, _), longer) in chosen.iter().zip(longer) {
            self.longer[section].extend(longer);
        }
        let Some((kept, lies)) = found else {
            return;
        };
        let cost = self.stock.whole - self.stock.kept_rate * kept;
        let better = |best: &Best| {
            let nearer = || self.nearness(chosen, &lies) < self.nearness(&best.1, &best.2);
            cost < best.0 - SAME_COST || (self.tidy && cost < best.0 + SAME_COST && nearer())
        };
        if self.best.as_ref().is_none_or(better) {
            self.best = Some((cost, chosen.to_vec(), lies));
        }
    }
}

/// Arrangements that differ by less cost the same.
const SAME_COST: f64 = 1e-12;
