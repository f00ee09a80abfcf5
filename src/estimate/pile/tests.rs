use super::*;
use crate::estimate::clear::Patch;
use crate::job::Grade;

fn boards(grade: Grade, count: usize) -> Vec<Board> {
    let yard = Yard {
        grade,
        ..Yard::default()
    };
    let mut pile = Pile::new(&yard, Length::from_inches(1.0), 7, 0);
    (0..count).map(|_| pile.board()).collect()
}

fn apart(a: &Patch, b: &Patch) -> bool {
    a.to <= b.from || b.to <= a.from || a.high <= b.low || b.high <= a.low
}

/// Counts a face anew: the cuttings must be clear, apart, on the board, large enough and few
/// enough; then their units count.
fn graded(board: &Board, face: Face, rules: &ClearFace) -> f64 {
    let cuttings = cuttings(board, face, rules);
    assert!(cuttings.len() as u64 <= (rules.most_cuttings)(surface(board)));
    for (i, cutting) in cuttings.iter().enumerate() {
        let (wide, long) = (cutting.high - cutting.low, cutting.to - cutting.from);
        assert!(
            rules
                .least_cuttings
                .iter()
                .any(|&(w, l)| wide >= w && long >= l)
        );
        assert!(cutting.from >= 0.0 && cutting.to <= board.length.inches());
        assert!(cutting.low >= 0.0 && cutting.high <= board.width.inches());
        assert!(cuttings[..i].iter().all(|other| apart(other, cutting)));
        for defect in &board.defects {
            let hidden = matches!(
                (defect.side, face),
                (DefectSide::Up, Face::Down) | (DefectSide::Down, Face::Up)
            );
            let spot = Patch {
                from: defect.from.inches(),
                to: defect.to.inches(),
                low: defect.low.inches(),
                high: defect.high.inches(),
            };
            assert!(
                hidden || apart(&spot, cutting),
                "{defect:?} lies in {cutting:?}"
            );
        }
    }
    units(&cuttings)
}

#[test]
fn every_board_gives_the_published_least_of_its_grade() {
    // FAS 83 1/3 %, No. 1 Common 66 2/3 %, No. 2A Common 50 %, No. 3A Common 33 1/3 % of the
    // surface measure in clear cuttings: tests/data/nhla_grades.csv.
    let grades = [
        (Grade::Fas, [5.0 / 6.0, 5.0 / 6.0]),
        (Grade::FasOneFace, [5.0 / 6.0, 2.0 / 3.0]),
        (Grade::Common1, [2.0 / 3.0, 2.0 / 3.0]),
        (Grade::Common2, [0.5, 0.5]),
        (Grade::Common3, [1.0 / 3.0, 1.0 / 3.0]),
    ];
    for (grade, least) in grades {
        let faces = grade.faces().unwrap();
        for board in boards(grade, 150) {
            for (face, i) in [(Face::Up, 0), (Face::Down, 1)] {
                let share = graded(&board, face, &faces[i]) / (12 * surface(&board)) as f64;
                assert!(share >= least[i] - 1e-9, "{grade:?}: {share} of {board:?}");
            }
        }
    }
}

#[test]
fn poorer_grades_are_poorer() {
    let clear = |grade: Grade| {
        let rules = Grade::Common2.faces().unwrap()[1];
        let boards = boards(grade, 150);
        let share = |b: &Board| {
            units(&cuttings(b, Face::Down, &rules)) * 12.0 / (b.length.inches() * b.width.inches())
        };
        boards.iter().map(share).sum::<f64>() / boards.len() as f64
    };
    let shares = [
        Grade::Clear,
        Grade::Fas,
        Grade::Common1,
        Grade::Common2,
        Grade::Common3,
    ]
    .map(clear);
    assert!((shares[0] - 1.0).abs() < 1e-9);
    assert!(
        shares.windows(2).all(|pair| pair[0] > pair[1]),
        "{shares:?}"
    );
}

#[test]
fn sizes_keep_to_the_yards_spans_and_shares() {
    let inches = Length::from_inches;
    let span = |least, most| Span {
        least: inches(least),
        most: inches(most),
    };
    let yard = Yard {
        width: Mix {
            parts: vec![(span(6.0, 7.0), 3.0), (span(9.0, 10.0), 1.0)],
        },
        ..Yard::default()
    };
    let mut pile = Pile::new(&yard, inches(1.0), 1, 2);
    let boards: Vec<Board> = (0..400).map(|_| pile.board()).collect();
    let wide = boards.iter().filter(|b| b.width >= inches(9.0)).count();
    // 1 in 4 of 400 boards: 100, give or take four standard deviations of 8.7.
    assert!((65..=135).contains(&wide), "{wide}");
    for board in &boards {
        assert!(yard.length.least() <= board.length && board.length <= yard.length.most());
        let width = board.width;
        assert!(span(6.0, 7.0).least <= width && width <= inches(10.0));
        assert!(width <= inches(7.0) || width >= inches(9.0));
        assert!(board.bow <= yard.bow.most && board.tone >= yard.tone.least);
    }
}

#[test]
fn equal_seeds_give_equal_piles_and_others_do_not() {
    let yard = Yard::default();
    let first = |seed, trial| Pile::new(&yard, Length::from_inches(1.0), seed, trial).board();
    assert_eq!(first(1, 5), first(1, 5));
    assert_ne!(first(1, 5), first(2, 5));
    assert_ne!(first(1, 5), first(1, 6));
}
