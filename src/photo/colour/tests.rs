use super::*;

/// Table 1 of Sharma, Wu and Dalal 2005; `tests/data/facts/ciede2000.csv`.
#[test]
fn differences_are_the_34_published_ones_to_four_decimals() {
    let table = include_str!("../../../tests/data/facts/ciede2000.csv");
    let mut pairs = 0;
    for row in table.lines().skip(1) {
        let cells: Vec<f64> = row.split(',').take(8).map(|c| c.parse().unwrap()).collect();
        let lab = |at: usize| Lab {
            l: cells[at],
            a: cells[at + 1],
            b: cells[at + 2],
        };
        let (one, two) = (lab(1), lab(4));
        assert!((delta_e(one, two) - cells[7]).abs() < 1e-4, "{row}");
        assert!((delta_e(two, one) - cells[7]).abs() < 1e-4, "{row}");
        pairs += 1;
    }
    assert_eq!(pairs, 34);
}

/// Two general libraries, which differ by at most 0.022; `tests/data/facts/srgb_lab.csv`.
#[test]
fn srgb_colours_have_the_lab_of_two_libraries() {
    let table = include_str!("../../../tests/data/facts/srgb_lab.csv");
    let mut colours = 0;
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let byte = |at: usize| u8::from_str_radix(&cells[0][at..at + 2], 16).unwrap();
        let lab = Lab::of_linear([1, 3, 5].map(|at| to_linear(byte(at)))).parts();
        for library in [1, 4] {
            for (part, found) in lab.iter().enumerate() {
                let told: f64 = cells[library + part].parse().unwrap();
                assert!((found - told).abs() < 0.03, "{row}: {found} for {told}");
            }
        }
        colours += 1;
    }
    assert_eq!(colours, 11);
}

#[test]
fn bytes_come_back_from_their_light() {
    for byte in 0..=255 {
        assert_eq!(to_byte(to_linear(byte)), byte);
    }
}
