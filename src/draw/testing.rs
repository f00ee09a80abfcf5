//! Invented boards and plans for tests: geometrically sound, not planned by anyone.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use crate::job::{Board, Cut, Defect, DefectKind, DefectSide, Front, Grain, Job, Run, Shape};
use crate::measure::{Length, Tone, Unit};
use crate::plan::{Blank, BoardPlan, End, Face, Kept, Plan, Section, Strip};

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

/// One board of 24 in to 16 ft with 1 to 30 blanks, inch or metric, with defects and staves.
pub fn random(seed: u64) -> (Job, Plan) {
    let mut rng = Pcg64::seed_from_u64(seed);
    let mut job = Job::default();
    if seed % 2 == 1 {
        job.settings.unit = Unit::Mm;
    }
    let sixteenths = |rng: &mut Pcg64, low: f64, high: f64| {
        inches((rng.random_range(low..=high) * 16.0).round() / 16.0)
    };
    let length = sixteenths(&mut rng, 24.0, 192.0);
    let width = sixteenths(&mut rng, 3.0, 14.0);
    let mut board = Board {
        id: format!("B{}", seed % 40 + 1),
        copies: vec![1],
        length,
        width,
        thickness: inches(1.25),
        tone: Tone::new((seed % 21) as f64 / 2.0).unwrap_or_default(),
        cut: [None, Some(Cut::Flat), Some(Cut::Rift), Some(Cut::Quarter)][seed as usize % 4],
        ..Board::default()
    };
    let kinds = [
        DefectKind::Knot,
        DefectKind::Check,
        DefectKind::Wane,
        DefectKind::Sap,
    ];
    for _ in 0..rng.random_range(0..6) {
        let from = length.nm() * rng.random_range(0..90) / 100;
        let low = width.nm() * rng.random_range(0..80) / 100;
        board.defects.push(Defect {
            kind: kinds[rng.random_range(0..kinds.len())],
            from: Length::from_nm(from),
            to: Length::from_nm((from + inches(3.0).nm()).min(length.nm())),
            low: Length::from_nm(low),
            high: Length::from_nm((low + inches(1.0).nm()).min(width.nm())),
            side: [DefectSide::Both, DefectSide::Up, DefectSide::Down][rng.random_range(0..3)],
            notes: String::new(),
        });
    }
    job.boards.push(board);
    let mut cut = BoardPlan {
        board: 0,
        copy: 1,
        ..BoardPlan::default()
    };
    let wanted = rng.random_range(1..=30usize);
    let kerf = inches(0.125);
    let shortest = (length.inches() * 0.9 * 4.0 / wanted as f64).clamp(4.0, 20.0);
    let mut at = inches(rng.random_range(0.25..2.0));
    while job.fronts.len() < wanted && (length - at).inches() > shortest + 1.0 {
        let room = (length - at - inches(0.5)).inches();
        let span = rng.random_range(shortest..=room.min(60.0).max(shortest + 0.1));
        let section = section(
            &mut rng,
            &mut job,
            at,
            inches(span.min(room)),
            width,
            wanted,
        );
        at = section.to + kerf;
        cut.sections.push(section);
    }
    let left = length - at - inches(2.0);
    if left > inches(24.0) {
        cut.kept.push(Kept {
            from: at,
            to: length - inches(2.0),
            low: Length::ZERO,
            high: width,
        });
    }
    let plan = Plan {
        boards: vec![cut],
        ..Plan::default()
    };
    (job, plan)
}

fn section(
    rng: &mut Pcg64,
    job: &mut Job,
    from: Length,
    span: Length,
    width: Length,
    wanted: usize,
) -> Section {
    let mut section = Section {
        from,
        to: from + span,
        strips: Vec::new(),
    };
    let strips = rng.random_range(1..=(width.inches() / 2.2).max(1.0) as i64);
    let high_at = |i: i64| inches(0.125) + (width - inches(0.25)) * i / strips;
    for i in 0..strips {
        if job.fronts.len() >= wanted {
            break;
        }
        let mut strip = Strip {
            low: high_at(i),
            high: high_at(i + 1)
                - if i + 1 < strips {
                    inches(0.125)
                } else {
                    Length::ZERO
                },
            blanks: Vec::new(),
        };
        let grain = [Grain::Horizontal, Grain::Horizontal, Grain::Vertical][rng.random_range(0..3)];
        let staves = if rng.random_range(0..6) == 0 { 2 } else { 1 };
        let (left, face) = (
            [End::Hook, End::Far][rng.random_range(0..2)],
            [Face::Up, Face::Down][rng.random_range(0..2)],
        );
        let run = job.runs.len();
        job.runs.push(Run {
            name: format!("row {}", run + 1),
            fronts: Vec::new(),
        });
        let mut at = section.from;
        while section.to - at > inches(4.0) && job.fronts.len() < wanted {
            let length = inches(rng.random_range(4.0..30.0)).min(section.to - at);
            let index = job.fronts.len();
            let along = length - inches(1.0);
            let across = strip.high - strip.low - inches(0.25);
            let (width, height) = match grain {
                Grain::Horizontal => (along, across),
                Grain::Vertical => (across, along),
            };
            let names = ["D", "door-", "upper left drawer ", "F"];
            job.fronts.push(Front {
                name: format!("{}{}", names[rng.random_range(0..4)], index + 1),
                width,
                height,
                thickness: inches(0.75),
                grain,
                shape: if index % 7 == 3 {
                    Shape::Arch { rise: inches(0.75) }
                } else {
                    Shape::Square
                },
                ..Front::default()
            });
            job.runs[run].fronts.push(index);
            strip.blanks.push(Blank {
                front: index,
                stave: 1,
                staves,
                stretch: 1,
                from: at,
                to: at + length,
                low: strip.low,
                high: strip.high,
                left,
                face,
            });
            at = at + length + inches(0.125);
        }
        if strip.blanks.is_empty() {
            job.runs.pop();
        } else {
            section.strips.push(strip);
        }
    }
    section
}

/// The pairs of texts whose boxes overlap, and the texts that leave the sheet.
pub fn clashes(drawing: &super::Drawing) -> Vec<String> {
    let sheet = super::Rect::new(0.0, 0.0, drawing.width, drawing.height);
    let texts: Vec<_> = drawing.texts().map(|t| (t, t.extent())).collect();
    let mut found = Vec::new();
    for (i, (text, extent)) in texts.iter().enumerate() {
        if !sheet.holds(extent, 0.5) {
            found.push(format!("{:?} leaves the sheet", text.words));
        }
        for (other, box_of_other) in &texts[..i] {
            if extent.overlaps(box_of_other, 0.05) {
                found.push(format!("{:?} overlaps {:?}", text.words, other.words));
            }
        }
    }
    found
}

/// The texts that a line or a dark area runs through, unless a patch hides it behind the words.
pub fn crossings(drawing: &super::Drawing) -> Vec<String> {
    let shapes = &drawing.shapes;
    let mut found = Vec::new();
    for (place, shape) in shapes.iter().enumerate() {
        let super::Shape::Text(text) = shape else {
            continue;
        };
        let extent = text.extent();
        let hides = |shape: &super::Shape| match shape {
            super::Shape::Area { points, fill } => {
                fill.0 > 127 && super::Rect::around(points).holds(&extent, 0.01)
            }
            _ => false,
        };
        let bared = shapes[..place].iter().rposition(hides).unwrap_or(0);
        let seen = shapes[bared..].iter();
        if seen.filter(|s| runs_through(s, &extent.inset(0.2))).count() > 0 {
            found.push(format!("{:?} is run through", text.words));
        }
    }
    found
}

fn runs_through(shape: &super::Shape, extent: &super::Rect) -> bool {
    let (points, closed) = match shape {
        super::Shape::Stroke { points, .. } => (points, false),
        super::Shape::Area { points, fill } if fill.0 < 128 => (points, true),
        _ => return false,
    };
    let last = points.last().filter(|_| closed);
    let ends = last
        .into_iter()
        .chain(points)
        .zip(points.iter().skip(usize::from(!closed)));
    ends.into_iter()
        .any(|(from, to)| extent.is_crossed(*from, *to))
}

/// A small chest: a top row of three in one stretch, a wide drawer, a row with a break and an
/// arch, and one front that is not made.
pub fn chest() -> (Job, Plan) {
    let mut job = Job::default();
    job.settings.title = "Test chest".to_owned();
    let board = |id: &str, tone: f64, cut: Option<Cut>| Board {
        id: id.to_owned(),
        copies: vec![1],
        length: inches(96.0),
        width: inches(9.0),
        thickness: inches(1.0),
        tone: Tone::new(tone).unwrap_or_default(),
        cut,
        ..Board::default()
    };
    job.boards = vec![
        board("A", 2.0, Some(Cut::Flat)),
        board("B", 4.5, Some(Cut::Quarter)),
        board("C", 7.0, Some(Cut::Flat)),
    ];
    let rows: [(&str, &[f64], f64); 3] = [
        ("top", &[14.0, 14.0, 14.0], 6.0),
        ("middle", &[42.375], 7.5),
        ("bottom", &[21.125, 21.125], 8.0),
    ];
    let mut plan = Plan::default();
    for (row, (name, widths, height)) in rows.into_iter().enumerate() {
        let mut run = Run {
            name: name.to_owned(),
            fronts: Vec::new(),
        };
        let mut cut = BoardPlan {
            board: row,
            copy: 1,
            ..BoardPlan::default()
        };
        let mut at = inches(2.0);
        let mut blanks = Vec::new();
        for (i, &width) in widths.iter().enumerate() {
            let front = job.fronts.len();
            run.fronts.push(front);
            job.fronts.push(Front {
                name: format!("D{}", front + 1),
                width: inches(width),
                height: inches(height),
                thickness: inches(0.75),
                shape: if name == "top" {
                    Shape::Arch { rise: inches(0.5) }
                } else {
                    Shape::Square
                },
                ..Front::default()
            });
            blanks.push(Blank {
                front,
                stave: 1,
                staves: 1,
                stretch: if name == "bottom" { i as u32 + 1 } else { 1 },
                from: at,
                to: at + inches(width + 1.0),
                low: inches(0.125),
                high: inches(0.125 + height + 0.25),
                left: if row == 2 { End::Far } else { End::Hook },
                face: Face::Up,
            });
            at += inches(width + 1.125);
        }
        let (from, to) = (inches(2.0), at - inches(0.125));
        cut.sections.push(Section {
            from,
            to,
            strips: vec![Strip {
                low: blanks[0].low,
                high: blanks[0].high,
                blanks,
            }],
        });
        plan.boards.push(cut);
        job.runs.push(run);
    }
    job.runs.push(Run {
        name: "E1".to_owned(),
        fronts: vec![job.fronts.len()],
    });
    job.fronts.push(Front {
        name: "E1".to_owned(),
        width: inches(30.0),
        height: inches(5.0),
        thickness: inches(0.75),
        ..Front::default()
    });
    (job, plan)
}
