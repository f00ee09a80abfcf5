//! The shortest section that holds a set of lanes one after another in one strip.

use grainrow::job::Job;
use grainrow::measure::Length;
use grainrow::plan::Blank;

use super::lane::Laid;

/// For a section that starts at `from`: the least place it can end at, and the blanks.
///
/// `lanes` has every way to lay each lane. All orders are tried. Of the ways to lay the next lane
/// only the ends matter to those after it, and the nearer its end the more room is left; so it is
/// enough to try the one with the nearest end among those that are shorter than the shortest safe
/// length, and among those that are not.
pub fn least_end(job: &Job, lanes: &[Vec<Laid>], from: Length) -> Option<(Length, Vec<Blank>)> {
    let mut search = Search {
        job,
        lanes,
        best: None,
    };
    let start = State {
        free: from,
        blank: from,
        end: from,
    };
    search.extend(start, &mut vec![false; lanes.len()], &mut Vec::new());
    search.best
}

struct Search<'a> {
    job: &'a Job,
    lanes: &'a [Vec<Laid>],
    best: Option<(Length, Vec<Blank>)>,
}

#[derive(Clone, Copy)]
struct State {
    /// From here on the strip is free of blanks, of their kerf, and of lengths set aside.
    free: Length,
    /// The next blank may start here: a kerf after all blanks and lengths set aside.
    blank: Length,
    /// Where the section must reach at least.
    end: Length,
}

impl Search<'_> {
    fn extend(&mut self, state: State, done: &mut Vec<bool>, laid: &mut Vec<Blank>) {
        if self
            .best
            .as_ref()
            .is_some_and(|(best, _)| state.end >= *best)
        {
            return;
        }
        if done.iter().all(|&done| done) {
            self.best = Some((state.end, laid.clone()));
            return;
        }
        for lane in 0..self.lanes.len() {
            if done[lane] {
                continue;
            }
            done[lane] = true;
            for short in [false, true] {
                let fits = |way: &&Laid| way.short == short && way.from >= state.blank;
                let nearest = self.lanes[lane]
                    .iter()
                    .filter(fits)
                    .min_by_key(|way| way.to);
                if let Some(way) = nearest {
                    let count = laid.len();
                    laid.extend(way.blanks.iter().cloned());
                    self.extend(self.after(state, way), done, laid);
                    laid.truncate(count);
                }
            }
            done[lane] = false;
        }
    }

    /// A short lane has the shortest safe length set aside for it, as near the hook end as can be.
    fn after(&self, state: State, way: &Laid) -> State {
        let allow = &self.job.settings.allowances;
        let taken = if way.short {
            (state.free + allow.shortest_safe).max(way.to)
        } else {
            way.to
        };
        State {
            free: taken + allow.crosscut_kerf,
            blank: taken + allow.crosscut_kerf,
            end: taken,
        }
    }
}
