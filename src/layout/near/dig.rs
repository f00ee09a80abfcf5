//! Walks all plans of a few patterns whose shortfalls add up to less than the gap.
//!
//! At a relaxation's prices a plan costs its bound and, for each pattern, what that pattern falls
//! short of the best on its board. Where the gap is narrow or the patterns are few, hardly any
//! sets of patterns pass, and walking them is sooner done than solving another relaxation.

use super::super::master::Column;
use super::super::problem::Problem;

/// Half-made plans looked at.
const NODES: usize = 20_000;

/// How a front is made so far.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Cover {
    Free,
    Whole,
    Glued(usize),
}

/// A walk over the plans made of some columns.
pub(super) struct Dig<'d, 'a> {
    problem: &'d Problem<'a>,
    columns: &'d [&'d Column],
    /// What each falls short, and the most that a plan's may come to.
    short: &'d [f64],
    room: f64,
    /// Columns that cut each front, or a stave of it; least shortfall first.
    cutting: Vec<Vec<usize>>,
    /// Columns with a stave of each mode, in order.
    staved: Vec<Vec<usize>>,
    left: Vec<usize>,
    cover: Vec<Cover>,
    staves: Vec<usize>,
    chosen: Vec<usize>,
    nodes: usize,
    /// Told of each plan; answers what room is left for better ones.
    plan: &'d mut dyn FnMut(&[usize]) -> Option<f64>,
}

impl<'d, 'a> Dig<'d, 'a> {
    /// Calls `plan` with every set of columns that cuts each front once, with a shortfall less than
    /// `room`; false when there are too many half-made ones to walk them all.
    pub(super) fn walk(
        problem: &'d Problem<'a>,
        columns: &'d [&'d Column],
        short: &'d [f64],
        room: f64,
        plan: &'d mut dyn FnMut(&[usize]) -> Option<f64>,
    ) -> bool {
        let mut cutting = vec![Vec::new(); problem.chain.len()];
        let mut staved = vec![Vec::new(); problem.modes.len()];
        for (place, column) in columns.iter().enumerate() {
            for &item in &column.wholes {
                for row in problem.items[item].rows.clone() {
                    cutting[row].push(place);
                }
            }
            let mut modes: Vec<usize> = column.staves.iter().map(|&(mode, _)| mode).collect();
            modes.sort_unstable();
            modes.dedup();
            for mode in modes {
                staved[mode].push(place);
                for row in problem.modes[mode].rows.clone() {
                    cutting[row].push(place);
                }
            }
        }
        for places in &mut cutting {
            places.sort_by(|&a, &b| short[a].total_cmp(&short[b]));
            places.dedup();
        }
        // Nobody need make what nobody can.
        let cover = problem.hopeless.iter().map(|hopeless| match hopeless {
            true => Cover::Whole,
            false => Cover::Free,
        });
        let mut dig = Dig {
            problem,
            columns,
            short,
            room,
            cutting,
            staved,
            left: problem.stock.iter().map(|stock| stock.count).collect(),
            cover: cover.collect(),
            staves: vec![0; problem.modes.len()],
            chosen: Vec::new(),
            nodes: 0,
            plan,
        };
        dig.go(0.0);
        dig.nodes <= NODES
    }

    /// One more column.
    fn go(&mut self, spent: f64) {
        self.nodes += 1;
        if self.nodes > NODES {
            return;
        }
        if let Some(mode) = self.begun() {
            for place in self.staved[mode].clone() {
                self.choose(place, spent);
            }
            return;
        }
        match self.hardest(spent) {
            Some(row) => {
                for place in self.cutting[row].clone() {
                    if spent + self.short[place] >= self.room {
                        break;
                    }
                    self.choose(place, spent);
                }
            }
            None => {
                if let Some(room) = (self.plan)(&self.chosen) {
                    self.room = room;
                }
            }
        }
    }

    /// Goes on with a column, if it goes with what is chosen.
    fn choose(&mut self, place: usize, spent: f64) {
        let spent = spent + self.short[place];
        if spent >= self.room || self.nodes > NODES || !self.fits(place) {
            return;
        }
        let cover = self.cover.clone();
        self.take(place, true);
        self.chosen.push(place);
        self.go(spent);
        self.chosen.pop();
        self.take(place, false);
        self.cover = cover;
    }

    fn fits(&self, place: usize) -> bool {
        let column = self.columns[place];
        let problem = self.problem;
        let free =
            |rows: std::ops::Range<usize>| rows.clone().all(|row| self.cover[row] == Cover::Free);
        if self.left[column.pattern.stock] == 0 {
            return false;
        }
        let mut wholes = column.wholes.iter();
        wholes.all(|&item| free(problem.items[item].rows.clone()))
            && column.staves.iter().all(|&(mode, _)| {
                let m = &problem.modes[mode];
                let count = column
                    .staves
                    .iter()
                    .filter(|&&(other, _)| other == mode)
                    .count();
                self.staves[mode] + count <= m.staves
                    && (self.staves[mode] > 0 || free(m.rows.clone()))
            })
    }

    /// Notes a column as chosen, or takes it back but for what covers the fronts.
    fn take(&mut self, place: usize, take: bool) {
        let column = self.columns[place];
        let stock = column.pattern.stock;
        self.left[stock] = if take {
            self.left[stock] - 1
        } else {
            self.left[stock] + 1
        };
        for &(mode, _) in &column.staves {
            self.staves[mode] = if take {
                self.staves[mode] + 1
            } else {
                self.staves[mode] - 1
            };
            for row in self.problem.modes[mode].rows.clone() {
                self.cover[row] = Cover::Glued(mode);
            }
        }
        for &item in &column.wholes {
            for row in self.problem.items[item].rows.clone() {
                self.cover[row] = Cover::Whole;
            }
        }
    }

    /// A mode some staves of which are still to be found.
    fn begun(&self) -> Option<usize> {
        self.cover.iter().find_map(|cover| match *cover {
            Cover::Glued(mode) if self.staves[mode] < self.problem.modes[mode].staves => Some(mode),
            _ => None,
        })
    }

    /// The front not yet made that the fewest columns can still make.
    fn hardest(&self, spent: f64) -> Option<usize> {
        let ways = |row: usize| {
            let near = self.cutting[row].iter();
            near.take_while(|&&place| spent + self.short[place] < self.room)
                .filter(|&&place| self.fits(place))
                .count()
        };
        let free = (0..self.cover.len()).filter(|&row| self.cover[row] == Cover::Free);
        free.min_by_key(|&row| ways(row))
    }
}
