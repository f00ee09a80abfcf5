//! The best recut of a tiny job by trying everything.
//!
//! Tried are: every set of chalk that stays; every way to part what is left of the runs into
//! stretches; every board, and on it every length of strip, width of section and length of board
//! that is left, for each of these. Nothing of this is shared with the recut it is to judge; what it
//! is to judge by is only the cost of a plan and how many fronts with chalk it moves.

use std::collections::{BTreeMap, HashMap};

use grainrow::job::Job;
use grainrow::measure::Length;
use grainrow::plan::{Blank, BoardPlan, Kept, NotMade, Plan, Sawn, Section, Strip, totals};

use super::board::{Boards, name_blanks};
use super::places::{Place, places};
use super::structure::{Lane, Option as RunOption, run_options};

/// What is begun: the last plan, what is cut, and the fronts whose chalk holds.
pub struct Begun<'a> {
    pub job: &'a Job,
    pub last: &'a Plan,
    pub sawn: &'a Sawn,
    pub held: &'a [usize],
}

/// The best there is.
#[derive(Clone, Debug)]
pub struct Best {
    /// Square inches made.
    pub area: f64,
    /// Cost and moves.
    pub cost: f64,
    pub plan: Plan,
    pub moved: usize,
    /// Fronts whose chalk stays.
    pub stays: Vec<usize>,
}

pub type Copy = (usize, u32);
pub type Span = (Length, Length);
/// Sections of a board, their strips, and the blanks in them.
pub type Laid = BTreeMap<Span, BTreeMap<Span, Vec<Blank>>>;

/// The best recut: most area made, then least cost with `moved` for each front that moves.
pub fn solve(begun: &Begun) -> Best {
    let mut search = Search {
        begun,
        boards: Boards::new(begun.job),
        known: HashMap::new(),
        best: None,
    };
    for mask in 0..1_u32 << begun.held.len() {
        let stays = begun.held.iter().enumerate();
        let stays: Vec<usize> = stays
            .filter(|(at, _)| mask >> at & 1 == 1)
            .map(|(_, &front)| front)
            .collect();
        search.with_staying(&stays);
    }
    search.best.expect("making nothing more is always possible")
}

/// What lies on the boards when this chalk stays beside what is cut.
fn laid(begun: &Begun, stays: &[usize]) -> BTreeMap<Copy, Laid> {
    let mut boards: BTreeMap<Copy, Laid> = BTreeMap::new();
    let mut add = |copy: Copy, section: Span, strip: Span, blank: Option<&Blank>| {
        let strips = boards.entry(copy).or_default().entry(section).or_default();
        strips.entry(strip).or_default().extend(blank.cloned());
    };
    for piece in &begun.sawn.pieces {
        let blank = piece.stands().then_some(&piece.blank);
        add((piece.board, piece.copy), piece.section, piece.strip, blank);
    }
    for board in &begun.last.boards {
        for section in &board.sections {
            for strip in &section.strips {
                for blank in strip.blanks.iter().filter(|b| stays.contains(&b.front)) {
                    let spans = ((section.from, section.to), (strip.low, strip.high));
                    add((board.board, board.copy), spans.0, spans.1, Some(blank));
                }
            }
        }
    }
    boards
}

struct Search<'a> {
    begun: &'a Begun<'a>,
    boards: Boards<'a>,
    known: HashMap<(Copy, String, Vec<Lane>), Option<BoardPlan>>,
    best: Option<Best>,
}

impl Search<'_> {
    fn with_staying(&mut self, stays: &[usize]) {
        let (job, sawn) = (self.begun.job, self.begun.sawn);
        let there = |front: &usize| stays.contains(front) || sawn.is_fixed(*front);
        let mut structures: Vec<Vec<Lane>> = vec![Vec::new()];
        for run in 0..job.runs.len() {
            let fresh = |option: &RunOption| {
                let mut fronts = option.lanes.iter().flat_map(|lane| &lane.fronts);
                fronts.all(|front| !there(front))
            };
            let options: Vec<RunOption> = run_options(job, run).into_iter().filter(fresh).collect();
            structures = structures
                .iter()
                .flat_map(|lanes| {
                    let with = |o: &RunOption| [lanes.clone(), o.lanes.clone()].concat();
                    options.iter().map(with)
                })
                .collect();
        }
        let laid = laid(self.begun, stays);
        for lanes in structures {
            self.assign(stays, &laid, &lanes, &mut BTreeMap::new());
        }
    }

    /// Lays the first of `lanes` on every board in turn, and the rest after it.
    fn assign(
        &mut self,
        stays: &[usize],
        laid: &BTreeMap<Copy, Laid>,
        lanes: &[Lane],
        load: &mut BTreeMap<Copy, Vec<Lane>>,
    ) {
        let Some((lane, rest)) = lanes.split_first() else {
            self.finish(stays, laid, load);
            return;
        };
        let job = self.begun.job;
        for (kind, board) in job.boards.iter().enumerate() {
            let may = |&front: &usize| super::may_come_from(&job.fronts[front], board);
            if !lane.fronts.iter().all(may) {
                continue;
            }
            for &copy in &board.copies {
                let copy = (kind, copy);
                let fresh = !load.contains_key(&copy) && !laid.contains_key(&copy);
                load.entry(copy).or_default().push(lane.clone());
                if self.cut(laid.get(&copy), copy, &load[&copy]).is_some() {
                    self.assign(stays, laid, rest, load);
                }
                let lanes = load.entry(copy).or_default();
                lanes.pop();
                if lanes.is_empty() {
                    load.remove(&copy);
                }
                if fresh {
                    // All further copies of this kind are just as empty.
                    break;
                }
            }
        }
    }

    fn finish(
        &mut self,
        stays: &[usize],
        laid: &BTreeMap<Copy, Laid>,
        load: &BTreeMap<Copy, Vec<Lane>>,
    ) {
        let job = self.begun.job;
        let mut copies: Vec<Copy> = laid.keys().chain(load.keys()).copied().collect();
        copies.sort_unstable();
        copies.dedup();
        let mut plan = Plan::default();
        for copy in copies {
            let lanes = load.get(&copy).cloned().unwrap_or_default();
            let board = self.cut(laid.get(&copy), copy, &lanes).expect("cut before");
            plan.boards.push(board);
        }
        number_stretches(self.begun, stays, &mut plan);
        let made = |front: usize| blanks(&plan).any(|blank| blank.front == front);
        let inches = |front: usize| {
            let front = &job.fronts[front];
            front.width.inches() * front.height.inches()
        };
        let area = (0..job.fronts.len()).filter(|&f| made(f)).map(inches).sum();
        let missing: Vec<usize> = (0..job.fronts.len()).filter(|&f| !made(f)).collect();
        plan.not_made = missing
            .into_iter()
            .map(|front| NotMade {
                front,
                why: "no way found among all".to_owned(),
                buy: "another board".to_owned(),
            })
            .collect();
        plan.totals = totals(job, &plan, false);
        let moved = self.begun.held.len() - stays.len();
        let cost = plan.totals.cost + job.settings.worth.moved * moved as f64;
        let better = |best: &Best| {
            area > best.area + 1e-9 || (area > best.area - 1e-9 && cost < best.cost - 1e-9)
        };
        if self.best.as_ref().is_none_or(better) {
            self.best = Some(Best {
                area,
                cost,
                plan,
                moved,
                stays: stays.to_vec(),
            });
        }
    }

    /// The best way to lay `lanes` on a board beside what lies there.
    fn cut(&mut self, laid: Option<&Laid>, copy: Copy, lanes: &[Lane]) -> Option<BoardPlan> {
        let key = (copy, format!("{laid:?}"), lanes.to_vec());
        if !self.known.contains_key(&key) {
            let nothing = Laid::new();
            let laid = laid.unwrap_or(&nothing);
            let places = places(self.begun, copy, laid);
            let mut best: Option<(f64, BoardPlan)> = None;
            let mut chosen = vec![Vec::new(); places.len()];
            self.place(copy, laid, &places, lanes, &mut chosen, &mut best);
            self.known.insert(key.clone(), best.map(|(_, plan)| plan));
        }
        self.known[&key].clone()
    }

    /// Puts the first of `lanes` into every place in turn, and the rest after it.
    fn place(
        &mut self,
        copy: Copy,
        laid: &Laid,
        places: &[Place],
        lanes: &[Lane],
        chosen: &mut Vec<Vec<Lane>>,
        best: &mut Option<(f64, BoardPlan)>,
    ) {
        if let Some((lane, rest)) = lanes.split_first() {
            for at in 0..places.len() {
                chosen[at].push(lane.clone());
                self.place(copy, laid, places, rest, chosen, best);
                chosen[at].pop();
            }
            return;
        }
        let mut laid = laid.clone();
        for (place, lanes) in places.iter().zip(chosen.iter()) {
            if !lanes.is_empty() && self.fill(copy.0, place, lanes, &mut laid).is_none() {
                return;
            }
        }
        let plan = board_plan(self.begun, copy, &laid);
        let kept = |k: &grainrow::plan::Kept| (k.to - k.from).inches() * (k.high - k.low).inches();
        let kept: f64 = plan.kept.iter().map(kept).sum();
        if best.as_ref().is_none_or(|(most, _)| kept > *most) {
            *best = Some((kept, plan));
        }
    }

    fn fill(&mut self, kind: usize, place: &Place, lanes: &[Lane], laid: &mut Laid) -> Option<()> {
        match *place {
            Place::Strip {
                section,
                strip,
                free,
            } => {
                let blanks = self.boards.across(kind).in_strip(free, strip, lanes)?;
                let mut named = vec![Section {
                    strips: vec![Strip {
                        low: strip.0,
                        high: strip.1,
                        blanks,
                    }],
                    ..Section::default()
                }];
                name_blanks(&mut named, lanes);
                let strips = laid.get_mut(&section)?;
                strips
                    .get_mut(&strip)?
                    .append(&mut named[0].strips[0].blanks);
            }
            Place::Section { section, free } => {
                let across = self.boards.across(kind);
                let strips = across.best_between(section, free, lanes)?.strips;
                let mut named = vec![Section {
                    strips,
                    ..Section::default()
                }];
                name_blanks(&mut named, lanes);
                let into = laid.get_mut(&section)?;
                for strip in named.remove(0).strips {
                    into.insert((strip.low, strip.high), strip.blanks);
                }
            }
            Place::Board { free, ends } => {
                let mut sections = self.boards.between(kind, free, ends, lanes)?;
                name_blanks(&mut sections, lanes);
                for section in sections {
                    let into = laid.entry((section.from, section.to)).or_default();
                    for strip in section.strips {
                        into.insert((strip.low, strip.high), strip.blanks);
                    }
                }
            }
        }
        Some(())
    }
}

fn board_plan(begun: &Begun, (board, copy): Copy, laid: &Laid) -> BoardPlan {
    let section = |(&(from, to), strips): (&Span, &BTreeMap<Span, Vec<Blank>>)| Section {
        from,
        to,
        strips: strips
            .iter()
            .map(|(&(low, high), blanks)| {
                let mut blanks = blanks.clone();
                blanks.sort_by_key(|blank| blank.from);
                Strip { low, high, blanks }
            })
            .collect(),
    };
    let sections: Vec<Section> = laid.iter().map(section).collect();
    BoardPlan {
        board,
        copy,
        kept: kept(begun, (board, copy), &sections),
        sections,
    }
}

/// The pieces kept of a board: ends of every length the saw has left of it, and edges.
fn kept(begun: &Begun, copy: Copy, sections: &[Section]) -> Vec<Kept> {
    let allow = &begun.job.settings.allowances;
    let board = &begun.job.boards[copy.0];
    let mut pieces = Vec::new();
    // Where the length begins that is looked at, and how far a piece before `to` may begin.
    let trims = board.trims(allow);
    let mut begins = trims[0];
    let mut is_end = true;
    let mut add = |from, to, low, high| {
        pieces.push(Kept {
            from,
            to,
            low,
            high,
        })
    };
    for section in sections {
        let off = begun.sawn.is_off(copy, (section.from, section.to));
        if is_end || off {
            add(
                begins,
                section.from - allow.crosscut_kerf,
                Length::ZERO,
                board.width,
            );
        }
        (begins, is_end) = (section.to + allow.crosscut_kerf, off);
        let strips = &section.strips;
        let far = strips[strips.len() - 1].high + allow.rip_kerf;
        add(
            section.from,
            section.to,
            Length::ZERO,
            strips[0].low - allow.rip_kerf,
        );
        add(section.from, section.to, far, board.width);
    }
    add(begins, board.length - trims[1], Length::ZERO, board.width);
    let least = allow.keep_offcut.unwrap_or(Length::from_nm(i64::MAX));
    let enough = |k: &Kept| {
        let (long, wide) = (k.to - k.from, k.high - k.low);
        long >= least && wide >= allow.keep_width && long > Length::ZERO && wide > Length::ZERO
    };
    pieces.retain(enough);
    pieces.sort_by_key(|kept| (kept.from, kept.low));
    pieces
}

fn blanks(plan: &Plan) -> impl Iterator<Item = &Blank> {
    let sections = plan.boards.iter().flat_map(|board| &board.sections);
    let strips = sections.flat_map(|section| &section.strips);
    strips.flat_map(|strip| &strip.blanks)
}

/// What is there keeps its stretch as far as it is in one piece; what is new has stretches of its
/// own.
fn number_stretches(begun: &Begun, stays: &[usize], plan: &mut Plan) {
    let there = |front: usize| stays.contains(&front) || begun.sawn.is_fixed(front);
    let of = |plan: &Plan, front: usize| blanks(plan).find(|b| b.front == front).map(|b| b.stretch);
    let mut numbers = vec![0; begun.job.fronts.len()];
    for run in &begun.job.runs {
        let (mut number, mut before) = (0, None);
        for &front in &run.fronts {
            let source = if there(front) { begun.last } else { &*plan };
            let stretch = of(source, front).map(|stretch| (there(front), stretch));
            if stretch.is_some() && stretch != before {
                number += 1;
            }
            before = stretch;
            numbers[front] = number;
        }
    }
    let sections = plan.boards.iter_mut().flat_map(|board| &mut board.sections);
    let strips = sections.flat_map(|section| &mut section.strips);
    for blank in strips.flat_map(|strip| &mut strip.blanks) {
        blank.stretch = numbers[blank.front];
    }
}
