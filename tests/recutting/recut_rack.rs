//! What goes back on the rack from boards the saw has been at.

use grainrow::job::{BOARDS_CSV, Crosscut, FRONTS_CSV, JOB_TOML, Job, JobFiles};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::Length;
use grainrow::plan::Sawn;
use grainrow::recut::{RackPiece, rack, rack_csv};

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

/// A board 100 x 6 1/2 in, 1 3/16 thick, hollow by 3/16 over its length and 1/16 over its width, of
/// which a length of 40 and all the width is left: 3/16 x 0.4^2 = 0.03 of bow, all of the cup. What
/// is written is read again as it was, to a thousandth of a thousandth of an inch, and once more.
#[test]
fn thickness_stays_as_measured_and_warp_goes_with_the_piece_however_often_it_is_racked() {
    let header = "board,length,width,thickness,tone,bow,cup,twist";
    let boards = format!("{header}\nB1,100,6 1/2,1 3/16,5,3/16,1/16,1/10\n");
    let parse = |boards: &str, fronts: &str| {
        let files = JobFiles::new()
            .with(BOARDS_CSV, boards)
            .with(
                FRONTS_CSV,
                format!("front,width,height,thickness\n{fronts}"),
            )
            .with(JOB_TOML, "fraction = 8");
        files.parse().unwrap().job
    };
    let job = parse(&boards, "a,20,5,3/4\n");
    let through = Sawn {
        crosscuts: vec![Crosscut {
            board: 0,
            copy: 1,
            at: Length::from_inches(40.0),
        }],
        ..Sawn::default()
    };
    let pieces = rack(&job, &Default::default(), &through);
    let first = &pieces[0].board;
    assert_eq!(first.length, Length::from_inches(40.0));
    let near = |a: Length, inches: f64| (a.inches() - inches).abs() < 1e-6;
    assert!(near(first.bow, 0.03) && near(first.cup, 0.0625) && near(first.twist, 0.04));
    assert_eq!(first.thickness, Length::from_inches(1.1875));

    let text = written(&job, &pieces);
    let mut again = parse(&text, "a,20,5,3/4\n");
    for _ in 0..3 {
        let read = again
            .boards
            .iter()
            .find(|b| b.id == pieces[0].name)
            .expect("the first rest");
        assert!(
            near(read.bow, 0.03) && near(read.cup, 0.0625) && near(read.twist, 0.04),
            "{text}"
        );
        assert_eq!(
            (read.length, read.thickness),
            (first.length, first.thickness)
        );
        let whole = rack(&again, &Default::default(), &Sawn::default());
        again = parse(&written(&again, &whole), "a,20,5,3/4\n");
    }
}

fn written(job: &Job, pieces: &[RackPiece]) -> String {
    String::from_utf8(rack_csv(job, pieces)[0].1.clone()).unwrap()
}
