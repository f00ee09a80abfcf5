use super::*;
use crate::photo::colour::Lab;
use crate::photo::plane::{Strip, Window};

#[test]
fn typed_tones_anchor_the_scale_and_else_the_median_is_five() {
    let anchor = |tone, lightness| Anchor { tone, lightness };
    // 60 is 4 and 54 is 6, three L* a step: 57 is 5 and 45 is 9.
    let scale = Scale::of(3.0, &[anchor(4.0, 60.0), anchor(6.0, 54.0)], &[80.0]);
    assert_eq!(
        (scale.tone(57.0), scale.tone(45.0), scale.tone(20.0)),
        (5.0, 9.0, 10.0)
    );
    let pile = Scale::of(3.0, &[], &[70.0, 50.0, 62.0]);
    assert_eq!(
        (pile.tone(62.0), pile.tone(50.0), pile.tone(70.0)),
        (5.0, 9.0, 2.3)
    );
    // A board typed darker than all others anchors by no more than its vote.
    let odd = Scale::of(
        3.0,
        &[anchor(4.0, 60.0), anchor(4.0, 60.0), anchor(9.0, 60.0)],
        &[],
    );
    assert_eq!(odd.tone(60.0), 4.0);
}

#[test]
fn the_median_leaves_out_defects_glare_and_the_rim() {
    let window = Window {
        from: 0.0,
        to: 24.0,
        low: 0.0,
        high: 6.0,
    };
    let mut face = Strip::black(window, 12.0);
    let wood = [0.4f32, 0.28, 0.17];
    for row in 0..face.height {
        for column in 0..face.width {
            let (x, y) = (face.along(column), face.across(row));
            face.light[row * face.width + column] = match (x, y) {
                _ if x < 10.0 => [0.05; 3],
                _ if x > 20.0 => [0.95; 3],
                _ if !(0.15..5.85).contains(&y) => [0.0; 3],
                _ => wood,
            };
        }
    }
    let colour = colour_of(&face, &[[0.0, 10.0, 0.0, 6.0]], 6.0);
    assert_eq!(colour.lab, Lab::of_linear(wood));
    assert!((colour.glare - 3.8 / 13.8).abs() < 0.02, "{}", colour.glare);
    let parts: Vec<f64> = colour.along.iter().map(|along| along.from).collect();
    assert_eq!(parts, [6.0, 12.0, 18.0]);
}
