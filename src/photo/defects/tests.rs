use super::*;
use crate::photo::plane::Window;

const BOARD: Window = Window {
    from: 0.0,
    to: 24.0,
    low: 0.0,
    high: 6.0,
};

/// Straight-grained wood, with something done to it.
fn wood(change: impl Fn(f64, f64, [f32; 3]) -> [f32; 3]) -> Strip {
    let mut strip = Strip::black(BOARD, 40.0);
    for row in 0..strip.height {
        for column in 0..strip.width {
            let (x, y) = (strip.along(column), strip.across(row));
            let line = 1.0 + 0.06 * ((y + 0.01 * x) * 40.0).sin() as f32;
            let plain = [0.42, 0.28, 0.16].map(|c| c * line);
            strip.light[row * strip.width + column] = change(x, y, plain);
        }
    }
    strip
}

fn knot(x: f64, y: f64, plain: [f32; 3]) -> [f32; 3] {
    let off = ((x - 10.0) / 0.55).hypot((y - 2.5) / 0.45);
    let dark = (1.2 - off).clamp(0.0, 1.0) as f32;
    [0, 1, 2].map(|c| plain[c] * (1.0 - [0.72, 0.8, 0.85][c] * dark))
}

#[test]
fn a_knot_is_proposed_where_it_is_and_sound_wood_is_left_alone() {
    assert_eq!(propose(&wood(|_, _, plain| plain)), []);
    let found = propose(&wood(knot));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].kind, DefectKind::Knot);
    assert!(found[0].confidence > LIKELY);
    // Its heart, half as dark as it gets, is 0.77 in long and 0.63 in wide around 10, 2.5.
    for (edge, told) in found[0].edges.iter().zip([9.6, 10.4, 2.2, 2.8]) {
        assert!((edge - told).abs() < 0.15, "{found:?}");
    }
}

#[test]
fn a_pale_band_along_an_edge_is_sapwood() {
    let found = propose(&wood(|_, y, plain| match y > 4.8 {
        true => plain.map(|c| c * 1.9),
        false => plain,
    }));
    let sap: Vec<_> = found.iter().filter(|p| p.kind == DefectKind::Sap).collect();
    assert_eq!(sap.len(), 1, "{found:?}");
    assert!((sap[0].edges[2] - 4.8).abs() < 0.15 && sap[0].edges[3] == 6.0);
}

#[test]
fn the_shipped_trees_are_all_read_and_written_as_they_are() {
    let text = include_str!("trees.txt");
    let lines = text.lines().filter(|line| !line.starts_with('#')).count();
    assert_eq!(shipped().trees.len(), lines - 1);
    let comments = text.lines().filter(|line| line.starts_with('#'));
    let header: String = comments.map(|line| format!("{line}\n")).collect();
    assert_eq!(header + &shipped().write(), text);
    assert!(text.contains("10.5281/zenodo.4694695") && text.contains("CC BY 4.0"));
}

#[test]
fn rectangles_share_what_they_cover_together() {
    assert_eq!(shared(&[0.0, 2.0, 0.0, 2.0], &[1.0, 3.0, 0.0, 2.0]), 0.5);
    assert_eq!(shared(&[0.0, 2.0, 0.0, 2.0], &[3.0, 4.0, 0.0, 2.0]), 0.0);
    assert_eq!(shared(&[0.0, 4.0, 0.0, 4.0], &[1.0, 2.0, 1.0, 2.0]), 1.0);
}
