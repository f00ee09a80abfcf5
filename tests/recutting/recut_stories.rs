//! Stories of work in progress: a recut keeps every rule, wood spent stays spent, and nothing that
//! only forbids can make a proved recut cheaper.
//!
//! `cargo test --test recutting recut_stories` plays the first 40; all five hundred are played by
//! `cargo test --test recutting recut_stories -- --ignored`, or so many from another seed on with
//! `RECUT_STORIES=800 RECUT_SEED=9000` before it.

use std::ops::Range;
use std::sync::atomic::{AtomicU64, Ordering};

use crate::common::stories::{Stand, defect, fronts_made, story};
use grainrow::plan::{Sawn, Violation, check_recut, to_json_sawn};
use grainrow::recut::Recut;
use rand::RngExt;
use rand_pcg::Pcg64;

/// What a recut is judged by: square inches made, then the cost. Nothing is counted for moves.
#[derive(Clone, Copy, Debug)]
struct Worth {
    area: f64,
    cost: f64,
    proved: bool,
}

impl Worth {
    fn of(stand: &Stand, recut: &Recut) -> Worth {
        let inches = |&front: &usize| {
            let front = &stand.job.fronts[front];
            front.width.inches() * front.height.inches()
        };
        Worth {
            area: fronts_made(&recut.plan).iter().map(inches).sum(),
            cost: recut.plan.totals.cost,
            proved: recut.plan.totals.proved,
        }
    }

    /// Whether this one makes more, or as much for less.
    fn beats(&self, other: &Worth) -> bool {
        const HAIR: f64 = 1e-6;
        self.area > other.area + HAIR
            || (self.area > other.area - HAIR && self.cost < other.cost - HAIR)
    }
}

/// What came of one story.
#[derive(Default)]
struct Told {
    played: usize,
    proved: usize,
    compared: usize,
    not_plain: Vec<String>,
    wrong: Vec<String>,
}

impl Told {
    fn and(mut self, other: Told) -> Told {
        self.played += other.played;
        self.proved += other.proved;
        self.compared += other.compared;
        self.not_plain.extend(other.not_plain);
        self.wrong.extend(other.wrong);
        self
    }
}

/// The rules a recut breaks, and where it is only not plain.
fn broken(stand: &Stand, recut: &Recut) -> (Vec<String>, Vec<String>) {
    let limits = Default::default();
    let found = check_recut(&stand.job, &recut.plan, &recut.sawn, false, &limits).err();
    let (notes, faults): (Vec<_>, Vec<_>) = found
        .unwrap_or_default()
        .into_iter()
        .partition(|v| v.is_note());
    let told = |found: Vec<Violation>| found.iter().map(ToString::to_string).collect();
    (told(faults), told(notes))
}

/// One restriction more: a defect, a board less that nothing was cut from, no gluing.
fn restricted(stand: &Stand, sawn: &Sawn, dice: &mut Pcg64) -> Vec<(&'static str, Stand)> {
    let mut all = Vec::new();
    let mut one = stand.clone();
    let at = dice.random_range(0..one.job.boards.len());
    let new = defect(dice, &one.job.boards[at]);
    one.job.boards[at].defects.push(new);
    all.push(("one more defect", one));
    let untouched = |&board: &usize| !sawn.cut_into().contains(&(board, 1));
    if let Some(board) = (0..stand.job.boards.len()).find(untouched) {
        let mut one = stand.clone();
        // Of no use any more; taken out of the pile its chalk would be forgotten, not let go.
        one.job.boards[board].thickness = grainrow::measure::Length::from_inches(0.5);
        all.push(("a board less", one));
    }
    if stand.job.fronts.iter().any(|front| front.glue) {
        let mut one = stand.clone();
        one.job
            .fronts
            .iter_mut()
            .for_each(|front| front.glue = false);
        all.push(("no gluing", one));
    }
    all
}

/// Jobs and plans in full, when `RECUT_SHOW` is set.
fn show(plans: &[(&Stand, &Recut)]) -> String {
    if std::env::var_os("RECUT_SHOW").is_none() {
        return String::new();
    }
    let one = |(stand, recut): &(&Stand, &Recut)| {
        let plan = to_json_sawn(&stand.job, &recut.plan, &recut.sawn);
        format!(
            "\n{:?}\n{:?}\n{plan}",
            stand.job.boards, stand.job.settings.allowances
        )
    };
    plans.iter().map(one).collect()
}

fn play(seed: u64) -> Told {
    let mut told = Told::default();
    let Some((stand, mut dice)) = story(seed) else {
        return told;
    };
    told.played = 1;
    let sawn = stand.sawn();
    let base = stand.recut();
    let (faults, not_plain) = broken(&stand, &base);
    let at_seed = |text: String| format!("seed {seed}: {text}");
    let shown = |text| at_seed(text) + &show(&[(&stand, &base)]);
    told.not_plain.extend(not_plain.into_iter().map(shown));
    told.wrong.extend(
        faults
            .into_iter()
            .map(|fault| format!("seed {seed}: {fault}")),
    );
    for board in sawn.cut_into() {
        if !base.plan.boards.iter().any(|b| (b.board, b.copy) == board) {
            told.wrong
                .push(format!("seed {seed}: board {board:?} is forgotten"));
        }
    }
    let worth = Worth::of(&stand, &base);
    told.proved += usize::from(worth.proved);
    let mut cases = restricted(&stand, &sawn, &mut dice);
    let after = stand.after(&base);
    cases.push(("nothing more, recut again", after.clone()));
    cases.extend(restricted(&after, &base.sawn, &mut dice));
    for (what, case) in cases.into_iter().filter(|_| worth.proved) {
        let next = case.recut();
        told.compared += 1;
        let now = Worth::of(&case, &next);
        if now.beats(&worth) {
            let detail = show(&[(&stand, &base), (&case, &next)]);
            let text = format!("{what}: {now:?} beats {worth:?}{detail}");
            told.wrong.push(at_seed(text));
        }
    }
    told
}

/// Plays them on all processors: threads of their own, since a recut starts a pool for itself.
fn play_all(seeds: Range<u64>) {
    let next = AtomicU64::new(seeds.start);
    let worker = || {
        let mut told = Told::default();
        loop {
            let seed = next.fetch_add(1, Ordering::Relaxed);
            if !seeds.contains(&seed) {
                return told;
            }
            told = told.and(play(seed));
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, usize::from);
    let told = std::thread::scope(|scope| {
        let started: Vec<_> = (0..workers).map(|_| scope.spawn(worker)).collect();
        let ended = started.into_iter().map(|worker| worker.join().unwrap());
        ended.fold(Told::default(), Told::and)
    });
    println!(
        "{} stories, {} proved, {} compared, {} cuts not plain, {} wrong",
        told.played,
        told.proved,
        told.compared,
        told.not_plain.len(),
        told.wrong.len()
    );
    for note in &told.not_plain {
        println!("{note}");
    }
    assert!(told.wrong.is_empty(), "{}", told.wrong.join("\n"));
    assert!(told.compared > told.played, "hardly any could be compared");
}

#[test]
fn forbidding_something_never_makes_a_proved_recut_cheaper() {
    play_all(0..40);
}

#[test]
#[ignore = "plays 500 stories, some minutes long"]
fn forbidding_something_never_makes_a_proved_recut_cheaper_in_500_stories() {
    let number = |name: &str| std::env::var(name).ok().and_then(|text| text.parse().ok());
    let first = number("RECUT_SEED").unwrap_or(0);
    play_all(first..first + number("RECUT_STORIES").unwrap_or(520));
}
