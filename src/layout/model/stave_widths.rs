//! Widths a stave may have (rule 10d).
//!
//! **Which widths suffice.** A stave is a whole multiple of the glue step; or, alone in its section, as wide
//! as the section is there; or, once in a front, just what the others leave missing. What is missing is the
//! front's width less some whole board widths less multiples of the step, so that there are finitely many:
//! [`Gluing::rests`] lists those that are not multiples themselves. A stave as wide as possible among these is as
//! good as any other in a strip that wide, since the staves of a front need only be wide enough together; where
//! it turns out wider than the others leave missing it is ripped narrower in the end, which never
//! takes more wood (`trim`).

use crate::layout::model::items::Gluing;
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;

/// Board widths that are no multiples and stand together in one front, at most, and the widths left missing
/// that are listed for one way to glue: where there are more, patterns are asked for a little less
/// ([`Gluing::asked_width`]).
const MOST_FULL: usize = 2;
const MOST_RESTS: usize = 4000;

impl Gluing {
    /// The widest allowed width of a stave no wider than `wide`, 0 if there is none; `full` says whether the
    /// strip has the whole width to itself.
    pub(in crate::layout) fn widest_in(&self, step: i64, wide: i64, full: bool) -> i64 {
        if full {
            return wide;
        }
        let multiple = wide / step * step;
        let rest = self.rests.partition_point(|&rest| rest <= wide);
        let rest = rest.checked_sub(1).map_or(0, |at| self.rests[at]);
        multiple.max(rest)
    }

    /// All allowed widths from `least` to `most`, but for whole board widths.
    pub(in crate::layout) fn widths(&self, step: i64, least: i64, most: i64) -> Vec<i64> {
        let first = (least + step - 1) / step;
        let multiples = (first..=most.max(0) / step).map(|times| times * step);
        let rests = self.rests.iter().copied();
        let rests = rests.filter(|rest| (least..=most).contains(rest));
        let mut widths: Vec<i64> = multiples.chain(rests).collect();
        widths.sort_unstable();
        widths.dedup();
        widths
    }
}

impl Stock {
    /// Whether a strip so wide takes all the width of a section that holds no more than one item.
    pub(in crate::layout) fn is_full(&self, wide: i64) -> bool {
        self.fulls.binary_search(&wide).is_ok()
    }
}

impl Problem<'_> {
    /// Lists the whole widths of each board, and what they leave missing of each front.
    pub(in crate::layout) fn add_rests(&mut self) {
        let cuts = self.cuts;
        let rooms: Vec<i64> = self
            .gluings
            .iter()
            .map(|m| self.items[m.item].room)
            .collect();
        for stock in &mut self.stock {
            let full = |room: &i64| stock.width - 2 * stock.edge_loss(&cuts, *room);
            let mut fulls: Vec<i64> = rooms.iter().map(full).collect();
            fulls.sort_unstable();
            fulls.dedup();
            stock.fulls = fulls;
        }
        for gluing in 0..self.gluings.len() {
            let (rests, all) = self.rests(gluing);
            let of = &mut self.gluings[gluing];
            of.rests = rests;
            if !all {
                of.asked_width = of.total_width - (cuts.glue_step - 1);
            }
        }
    }

    fn rests(&self, gluing: usize) -> (Vec<i64>, bool) {
        let (of, step) = (&self.gluings[gluing], self.cuts.glue_step);
        let item = &self.items[of.item];
        let odd = |stock: &Stock| {
            let full = stock.width - 2 * stock.edge_loss(&self.cuts, item.room);
            let fits = stock.widest[of.item] >= full && full <= of.widest;
            (fits && full % step != 0).then_some(full)
        };
        let mut odd: Vec<i64> = self.stock.iter().filter_map(odd).collect();
        odd.sort_unstable();
        odd.dedup();
        let least = item.width;
        let mut sums = vec![(0, 0)];
        let mut last = sums.clone();
        for count in 1..=MOST_FULL.min(of.staves - 1) {
            let longer = last
                .iter()
                .flat_map(|&(sum, _)| odd.iter().map(move |full| (sum + full, count)));
            last = longer.collect();
            sums.extend(&last);
        }
        let narrowest = (least + step - 1) / step * step;
        let mut rests = Vec::new();
        for (full, count) in sums {
            let others = (of.staves - 1 - count) as i64;
            let most = of.total_width - full - others * narrowest;
            let rest = |times: i64| most - times * step;
            let times = if others == 0 {
                0
            } else {
                (most - least).max(0) / step
            };
            rests.extend(
                (0..=times)
                    .map(rest)
                    .filter(|&rest| rest >= least && rest % step != 0),
            );
        }
        rests.sort_unstable();
        rests.dedup();
        let all = rests.len() <= MOST_RESTS && (of.staves - 1 <= MOST_FULL || odd.is_empty());
        rests.truncate(MOST_RESTS);
        (rests, all)
    }
}
