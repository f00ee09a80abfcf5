//! Lumber grades: the least a board of a grade holds.

use super::Choice;
use crate::measure::Length;

/// A hardwood lumber grade, or boards without a defect.
///
/// Figures: NHLA grading rules as summarised in a distributor's chart (Hood Distribution,
/// *Lumber Grades*), which agrees with AHEC, *The Illustrated Guide to American Hardwood Lumber
/// Grades*.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// No defects at all: no published grade, for boards picked one by one.
    Clear,
    /// First and seconds, judged by the poorer face.
    #[default]
    Fas,
    /// FAS on the better face, No. 1 Common on the poorer.
    FasOneFace,
    /// Like FAS one face, from smaller boards.
    Selects,
    /// No. 1 Common.
    Common1,
    /// No. 2A Common.
    Common2,
    /// No. 3A Common.
    Common3,
}

/// The least clear cuttings one face must give.
#[derive(Clone, Copy, Debug)]
pub struct ClearFace {
    /// Cutting units wanted for each foot of surface measure; 12 would be the whole face.
    pub units_per_foot: u64,
    /// Least sizes of a cutting, width and length in inches: any of them will do.
    pub least_cuttings: &'static [(f64, f64)],
    /// Most cuttings as a function of the surface measure.
    pub most_cuttings: fn(u64) -> u64,
}

const FAS: ClearFace = ClearFace {
    units_per_foot: 10,
    least_cuttings: &[(4.0, 60.0), (3.0, 84.0)],
    most_cuttings: |surface| (surface / 4).clamp(1, 4),
};
const COMMON_1: ClearFace = ClearFace {
    units_per_foot: 8,
    least_cuttings: &[(4.0, 24.0), (3.0, 36.0)],
    most_cuttings: |surface| ((surface + 1) / 3).clamp(1, 5),
};
const COMMON_2: ClearFace = ClearFace {
    units_per_foot: 6,
    least_cuttings: &[(3.0, 24.0)],
    most_cuttings: |surface| (surface / 2).clamp(1, 7),
};
const COMMON_3: ClearFace = ClearFace {
    units_per_foot: 4,
    least_cuttings: &[(3.0, 24.0)],
    most_cuttings: |_| u64::MAX,
};

impl Grade {
    /// What the better and the poorer face must give; nothing when no defect is allowed.
    pub fn faces(self) -> Option<[ClearFace; 2]> {
        match self {
            Grade::Clear => None,
            Grade::Fas => Some([FAS, FAS]),
            Grade::FasOneFace | Grade::Selects => Some([FAS, COMMON_1]),
            Grade::Common1 => Some([COMMON_1, COMMON_1]),
            Grade::Common2 => Some([COMMON_2, COMMON_2]),
            Grade::Common3 => Some([COMMON_3, COMMON_3]),
        }
    }

    /// Least width and length of a board of this grade, as bought. A kiln-dried board may be a
    /// quarter of an inch narrower (NHLA rules 2023, p. 56).
    pub fn least_board(self) -> (Length, Length) {
        let (inches, feet) = match self {
            Grade::Clear => return (Length::ZERO, Length::ZERO),
            Grade::Fas | Grade::FasOneFace => (6.0, 8.0),
            Grade::Selects => (4.0, 6.0),
            Grade::Common1 | Grade::Common2 | Grade::Common3 => (3.0, 4.0),
        };
        let scant = 0.25;
        (
            Length::from_inches(inches - scant),
            Length::from_inches(12.0 * feet),
        )
    }

    /// Its name as the trade prints it.
    pub fn name(self) -> &'static str {
        match self {
            Grade::Clear => "clear",
            Grade::Fas => "FAS",
            Grade::FasOneFace => "FAS one face",
            Grade::Selects => "Selects",
            Grade::Common1 => "No. 1 Common",
            Grade::Common2 => "No. 2A Common",
            Grade::Common3 => "No. 3A Common",
        }
    }
}

impl Choice for Grade {
    const WORDS: &'static [(&'static str, Grade)] = &[
        ("clear", Grade::Clear),
        ("FAS", Grade::Fas),
        ("FAS one face", Grade::FasOneFace),
        ("Selects", Grade::Selects),
        ("1 Common", Grade::Common1),
        ("2A Common", Grade::Common2),
        ("3A Common", Grade::Common3),
    ];
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Grade, least board, least cuttings, yield, units: NHLA rules as summarised; see the file.
    const PUBLISHED: &str = include_str!("../../tests/data/nhla_grades.csv");

    fn published(row: &str) -> csv::StringRecord {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_reader(PUBLISHED.as_bytes());
        let found = reader.records().map_while(Result::ok);
        found
            .into_iter()
            .find(|record| &record[0] == row)
            .expect("the table has the row")
    }

    fn inches(text: &str) -> f64 {
        text.split_whitespace().next().unwrap().parse().unwrap()
    }

    #[test]
    fn the_poorer_face_gives_the_published_cutting_units() {
        let rows = [
            ("FAS", Grade::Fas),
            ("No. 1 Common", Grade::Common1),
            ("No. 2A Common", Grade::Common2),
            ("No. 3A Common", Grade::Common3),
        ];
        for (row, grade) in rows {
            let record = published(row);
            let [_, poorer] = grade.faces().unwrap();
            assert_eq!(record[4], poorer.units_per_foot.to_string(), "{row}");
            let cuttings: Vec<(f64, f64)> = record[2]
                .split(" or ")
                .map(|size| {
                    let (wide, long) = size.split_once(" x ").unwrap();
                    (inches(wide.trim()), 12.0 * inches(long))
                })
                .collect();
            assert_eq!(cuttings, poorer.least_cuttings, "{row}");
            let (wide, long) = record[1].split_once(" x ").unwrap();
            let least = grade.least_board();
            assert_eq!(least.0.inches() + 0.25, inches(wide), "{row}");
            assert_eq!(least.1.inches(), 12.0 * inches(long), "{row}");
        }
    }

    #[test]
    fn cuttings_are_counted_as_published() {
        // FAS: SM/4, at most 4. No. 1 Common: (SM+1)/3, at most 5. No. 2A: SM/2, at most 7.
        assert_eq!((FAS.most_cuttings)(8), 2);
        assert_eq!((FAS.most_cuttings)(40), 4);
        assert_eq!((COMMON_1.most_cuttings)(8), 3);
        assert_eq!((COMMON_1.most_cuttings)(40), 5);
        assert_eq!((COMMON_2.most_cuttings)(8), 4);
        assert_eq!((COMMON_2.most_cuttings)(40), 7);
    }
}
