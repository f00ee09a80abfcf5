//! Why a front is not made, and that the board named would make it. All jobs are invented.

use grainrow::job::{Board, Front, Job, Run};
use grainrow::layout::{self, Request};
use grainrow::measure::{Length, Tone};
use grainrow::plan::{Limits, NotMade};

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

fn board(id: &str, length: f64, width: f64, tone: f64) -> Board {
    Board {
        id: id.to_owned(),
        copies: vec![1],
        length: inches(length),
        width: inches(width),
        thickness: inches(1.0),
        tone: Tone::new(tone).expect("a tone"),
        ..Board::default()
    }
}

fn front(name: &str, width: f64, height: f64) -> Front {
    Front {
        name: name.to_owned(),
        width: inches(width),
        height: inches(height),
        thickness: inches(0.75),
        ..Front::default()
    }
}

/// Each front a run of its own.
fn job(boards: Vec<Board>, fronts: Vec<Front>) -> Job {
    let run = |(index, front): (usize, &Front)| Run {
        name: front.name.clone(),
        fronts: vec![index],
    };
    Job {
        runs: fronts.iter().enumerate().map(run).collect(),
        boards,
        fronts,
        ..Job::default()
    }
}

fn missing(job: &Job, limits: Limits) -> Vec<NotMade> {
    let request = Request {
        limits,
        ..Request::default()
    };
    layout::plan(job, &request, &layout::Silent).not_made
}

/// The one reason given; the job is made whole by adding `cure`.
fn reason(mut job: Job, limits: Limits, cure: Board) -> NotMade {
    let found = missing(&job, limits);
    assert_eq!(found.len(), 1, "{found:?}");
    job.boards.push(cure);
    assert_eq!(missing(&job, limits), []);
    found[0].clone()
}

// Blanks are an inch longer and a quarter wider than their front; boards lose an inch at either end
// and an eighth at either edge (the default allowances).

#[test]
fn too_long_for_every_board() {
    let job = job(
        vec![board("A", 24.0, 8.0, 5.0)],
        vec![front("D", 30.0, 5.0)],
    );
    let found = reason(job, Limits::default(), board("B", 35.0, 5.5, 5.0));
    assert!(
        found.why.starts_with("too long: its blank takes 31"),
        "{}",
        found.why
    );
    assert!(
        found.buy.starts_with("a 4/4 board at least 5 1/2"),
        "{}",
        found.buy
    );
    assert!(found.buy.contains("35 in long"), "{}", found.buy);
}

#[test]
fn too_wide_for_every_board() {
    let job = job(
        vec![board("A", 48.0, 4.0, 5.0)],
        vec![front("D", 30.0, 5.0)],
    );
    let found = reason(job, Limits::default(), board("B", 35.0, 5.5, 5.0));
    assert!(
        found.why.starts_with("too wide: its blank takes 5 1/4"),
        "{}",
        found.why
    );
    assert!(found.why.ends_with("it may not be glued"), "{}", found.why);
}

#[test]
fn too_thin_once_flat() {
    let mut bowed = board("A", 48.0, 8.0, 5.0);
    // A piece of 31 in keeps (31/48)^2 of it.
    bowed.bow = inches(1.0);
    let job = job(vec![bowed], vec![front("D", 30.0, 5.0)]);
    let found = reason(job, Limits::default(), board("B", 48.0, 8.0, 5.0));
    assert!(
        found.why.starts_with("too thin: it needs 13/16"),
        "{}",
        found.why
    );
}

#[test]
fn no_room_on_the_board_it_must_come_from() {
    let mut pinned = front("D", 30.0, 5.0);
    pinned.boards = vec!["A".to_owned()];
    let job = job(
        vec![board("A", 24.0, 8.0, 5.0), board("B", 48.0, 8.0, 5.0)],
        vec![pinned],
    );
    let found = missing(&job, Limits::default());
    assert!(
        found[0].why.contains("board A, which it must come from,"),
        "{}",
        found[0].why
    );
}

#[test]
fn no_room_left() {
    let fronts = vec![front("D", 30.0, 5.0), front("E", 30.0, 5.0)];
    let job = job(vec![board("A", 48.0, 6.0, 5.0)], fronts);
    let found = reason(job, Limits::default(), board("B", 35.0, 5.5, 5.0));
    assert!(found.why.starts_with("no room left"), "{}", found.why);
}

#[test]
fn out_of_tone() {
    let fronts = vec![front("D", 30.0, 5.0), front("E", 30.0, 6.0)];
    let boards = vec![board("A", 48.0, 6.0, 2.0), board("B", 48.0, 6.5, 8.0)];
    let limits = Limits {
        tone_within: Some(1.5),
        ..Limits::default()
    };
    let found = reason(job(boards, fronts), limits, board("C", 36.0, 6.5, 7.0));
    // Board B makes either front, A the first only.
    let expected = "tone limit: the boards left that it fits on are of tone 2 to 2, \
                    and beside the other fronts it may be 6.5 to 9.5";
    assert_eq!((found.front, &*found.why), (0, expected));
    assert!(found.buy.ends_with("of tone 6.5 to 9.5"), "{}", found.buy);
}

#[test]
fn the_rest_is_proved_best_whatever_can_never_be_made() {
    let boards = vec![board("A", 40.0, 8.0, 3.0), board("B", 30.0, 6.0, 4.0)];
    let fronts = vec![
        front("long", 50.0, 4.0),
        front("left", 12.0, 5.0),
        front("right", 12.0, 5.0),
    ];
    let mut job = job(boards, fronts);
    job.runs = vec![Run {
        name: "row".to_owned(),
        fronts: vec![1, 0, 2],
    }];
    let plan = layout::plan(&job, &Request::default(), &layout::Silent);
    assert_eq!(plan.not_made.len(), 1);
    assert_eq!(plan.totals.made, 2);
    assert!(plan.totals.proved, "{:?}", plan.totals);
    assert!((plan.totals.bound - plan.totals.cost).abs() < 1e-6);
}
