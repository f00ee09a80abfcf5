//! Surface measure and board feet as the lumber trade tallies them, in whole numbers.

use super::length::NM_PER_INCH;
use super::{BoardFeet, Length};

/// A tally in the making. Halves go up and down in turn, so the order of boards matters.
///
/// Rules: AHEC/NHLA, The Illustrated Guide to American Hardwood Lumber Grades, Measurement
/// section (full width in inches with its fraction, times whole feet of length, over 12,
/// rounded to the nearest whole foot before thickness is applied). An exact half goes up the
/// first time, down the next and so on within one tally: advice of E. Wengert, WOODWEB
/// Knowledge Base, *Rounding Numbers when Figuring Board Feet*, 4 October 2007; the rules
/// book's own wording was not read.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    next_half_goes_down: bool,
}

/// The surface measure of one board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Surface {
    /// Whole square feet of face, as counted.
    pub feet: u64,
    /// Where an exact half went, when it was one.
    pub half: Option<Half>,
}

/// Where an exact half was rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    /// To the next whole foot.
    Up,
    /// To the last whole foot.
    Down,
}

impl Tally {
    /// A tally with nothing in it yet: its first half goes up.
    pub fn new() -> Tally {
        Tally::default()
    }

    /// Surface measure of the next board. Negative sizes count as none.
    pub fn surface(&mut self, length: Length, width: Length) -> Surface {
        let whole_feet = i128::from(length.at_least_zero().nm() / (12 * NM_PER_INCH));
        let top = whole_feet * i128::from(width.at_least_zero().nm());
        let bottom = i128::from(12 * NM_PER_INCH);
        let (whole, rest) = (top / bottom, 2 * (top % bottom));
        let half = (rest == bottom).then(|| self.next_half());
        let up = rest > bottom || half == Some(Half::Up);
        Surface {
            feet: u64::try_from(whole).unwrap_or(0) + u64::from(up),
            half,
        }
    }

    /// A sum to the nearest whole, an exact half up and down in turn.
    ///
    /// What is summed is whole feet times whole quarters, so that a half is exact here.
    pub fn whole(&mut self, sum: f64) -> f64 {
        match sum - sum.floor() {
            0.5 => match self.next_half() {
                Half::Up => sum.ceil(),
                Half::Down => sum.floor(),
            },
            _ => sum.round(),
        }
    }

    fn next_half(&mut self) -> Half {
        self.next_half_goes_down = !self.next_half_goes_down;
        if self.next_half_goes_down {
            Half::Up
        } else {
            Half::Down
        }
    }
}

impl BoardFeet {
    /// Board feet of `surface` square feet of face at a board's counted thickness (whole
    /// quarters of an inch, at least four).
    pub fn of_surface(surface: u64, thickness: Length) -> BoardFeet {
        BoardFeet::new(surface as f64 * thickness.nominal_quarters() as f64 / 4.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(serde::Deserialize)]
    struct Example {
        id: String,
        thickness_in: f64,
        width_in: f64,
        length_ft: f64,
        #[serde(rename = "SM")]
        surface: String,
        board_feet: String,
    }

    /// Published and worked examples; each row names its source.
    fn examples() -> Vec<Example> {
        let text = include_str!("../../tests/data/board_measure.csv");
        csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_reader(text.as_bytes())
            .deserialize()
            .collect::<Result<_, _>>()
            .expect("the table of examples is well formed")
    }

    fn sizes(example: &Example) -> (Length, Length, Length) {
        let inches = Length::from_inches;
        (
            inches(example.length_ft * 12.0),
            inches(example.width_in),
            inches(example.thickness_in),
        )
    }

    #[test]
    fn the_published_examples_come_out() {
        let mut checked = 0;
        for example in examples() {
            let Ok(expected) = example.surface.parse::<u64>() else {
                continue;
            };
            let (length, width, thickness) = sizes(&example);
            let surface = Tally::new().surface(length, width);
            assert_eq!(surface.feet, expected, "{}", example.id);
            assert_eq!(surface.half, None, "{}", example.id);
            let feet = BoardFeet::of_surface(surface.feet, thickness);
            assert_eq!(
                feet.value(),
                example.board_feet.parse::<f64>().unwrap(),
                "{}",
                example.id
            );
            checked += 1;
        }
        assert_eq!(checked, 13);
    }

    #[test]
    fn halves_go_up_and_down_in_turn() {
        let mut tally = Tally::new();
        let halves: Vec<_> = examples()
            .iter()
            .filter(|example| example.id.starts_with("BMH"))
            .map(|example| {
                let (length, width, _) = sizes(example);
                tally.surface(length, width)
            })
            .collect();
        let expected = [
            (8, Half::Up),
            (4, Half::Down),
            (5, Half::Up),
            (7, Half::Down),
            (5, Half::Up),
        ];
        let expected = expected.map(|(feet, half)| Surface {
            feet,
            half: Some(half),
        });
        assert_eq!(halves, expected);
    }

    #[test]
    fn a_board_under_a_foot_counts_nothing() {
        let surface = Tally::new().surface(Length::from_inches(11.9), Length::from_inches(9.0));
        assert_eq!(surface.feet, 0);
    }
}
