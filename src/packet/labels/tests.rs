use super::*;
use crate::draw::testing::{chest, clashes};
use crate::measure::{Length, Unit};

#[test]
fn every_front_made_has_one_label_with_its_size() {
    let (job, plan) = chest();
    let sheets = label_sheets(&job, &plan);
    assert_eq!(sheets.len(), 1);
    let words: Vec<&str> = sheets[0].texts().map(|t| t.words.as_str()).collect();
    for name in ["D1", "D2", "D3", "D4", "D5", "D6"] {
        assert_eq!(words.iter().filter(|w| **w == name).count(), 1, "{name}");
    }
    assert!(
        !words.contains(&"E1"),
        "a front that is not made has a label"
    );
    assert!(words.contains(&"14 × 6 × 3/4 in"));
    assert!(words.contains(&"top, 2 of 3"));
}

#[test]
fn printing_starts_at_the_label_asked_for_and_goes_on_another_sheet() {
    let (mut job, plan) = chest();
    job.settings.labels.start = 28;
    let sheets = label_sheets(&job, &plan);
    assert_eq!(sheets.len(), 2);
    // Label 28 is the first of the tenth row: 9 rows of 1 in below a margin of 1/2 in.
    let first = sheets[0].texts().next().expect("a label").extent();
    assert!(
        first.top > 9.5 * 72.0 && first.bottom < 10.5 * 72.0,
        "{first:?}"
    );
    assert_eq!(
        sheets[1]
            .texts()
            .filter(|t| t.weight == Weight::Bold)
            .count(),
        3
    );
}

#[test]
fn words_stay_on_their_label_on_any_sheet() {
    for (columns, rows, unit) in [(3, 10, Unit::Inch), (5, 13, Unit::Mm), (1, 4, Unit::Mm)] {
        let (mut job, plan) = chest();
        job.settings.unit = unit;
        job.settings.labels.columns = columns;
        job.settings.labels.rows = rows;
        let labels = job.settings.labels.clone();
        let rects: Vec<Rect> = (0..(columns * rows) as usize)
            .map(|spot| place(&labels, &job, spot))
            .collect();
        for sheet in label_sheets(&job, &plan) {
            assert!(clashes(&sheet).is_empty(), "{:#?}", clashes(&sheet));
            for text in sheet.texts() {
                let extent = text.extent();
                assert!(
                    rects.iter().any(|r| r.holds(&extent, 0.0)),
                    "{}",
                    text.words
                );
            }
        }
    }
}

#[test]
fn labels_have_the_size_the_sheet_leaves() {
    let (job, _) = chest();
    // (8 1/2 - 2 x 3/16 - 2 x 1/8) / 3 by (11 - 1) / 10.
    let (width, height) = job.settings.labels.label_size(Unit::Inch);
    assert_eq!(width, Length::from_inches(2.625));
    assert_eq!(height, Length::from_inches(1.0));
}

/// The upper stave is 7 in wide, the lower 4 3/8; both 19 in long.
#[test]
fn every_stave_has_a_label_of_its_own_with_its_own_width() {
    let (job, plan) = crate::plan::fixture::uneven_staves();
    let sheets = label_sheets(&job, &plan);
    let words: Vec<&str> = sheets[0].texts().map(|t| t.words.as_str()).collect();
    let at = |wanted: &str| words.iter().position(|word| *word == wanted).expect(wanted);
    let (upper, lower, front) = (at("G stave 1 of 2"), at("G stave 2 of 2"), at("G"));
    assert!(upper < lower && lower < front);
    assert_eq!(words[upper + 1], "19 × 7 in rough");
    assert_eq!(words[lower + 1], "19 × 4 3/8 in rough");
    assert_eq!(words[upper + 2], "board C no. 1");
    assert_eq!(words[front + 1], "18 × 11 × 3/4 in");
}
