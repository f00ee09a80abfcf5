//! What goes back on the rack from boards the saw has been at.

use grainrow::job::{BOARDS_CSV, Crosscut, FRONTS_CSV, JOB_TOML, JobFiles};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::Length;
use grainrow::plan::Sawn;
use grainrow::recut::rack;

#[test]
fn a_board_cut_through_goes_back_on_the_rack_as_its_lengths() {
    let job = JobFiles::new()
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,100,6,5/4,5\nB2,90,6,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            "front,width,height,thickness,board\na,20,5,3/4,B1\n",
        )
        .with(JOB_TOML, "")
        .parse()
        .unwrap()
        .job;
    let plan = layout::plan(&job, &Request::default(), &Silent);
    let through = |board, at| Crosscut {
        board,
        copy: 1,
        at: Length::from_inches(at),
    };
    let sawn = Sawn {
        pieces: Vec::new(),
        crosscuts: vec![through(0, 60.0), through(1, 40.0)],
        stays: Vec::new(),
    };
    let lengths: Vec<f64> = rack(&job, &plan, &sawn)
        .iter()
        .map(|piece| piece.board.length.inches())
        .collect();
    // B1: 2 and 21 to the front, a kerf; to 60; a kerf; to 98. B2: to 40, a kerf, to 90.
    assert_eq!(lengths, [36.875, 37.875, 40.0, 49.875]);
}
