//! `fraction`: how finely lengths are printed.

use super::{KeyTrouble, Keys};
use crate::job::fault::Fault;
use crate::job::table::Cell;
use crate::measure::Unit;

/// What may be written in inches, and the parts of an inch each means.
const OF_AN_INCH: [(f64, u32); 4] = [(8.0, 8), (16.0, 16), (32.0, 32), (64.0, 64)];
/// The same in millimetres.
const OF_A_MM: [(f64, u32); 2] = [(1.0, 1), (0.5, 2)];

/// Reads `fraction` into `parts`, the finest parts of the unit that are printed.
pub(super) fn read(keys: &mut Keys<'_>, unit: Unit, parts: &mut u32) {
    let written = |cell: &Cell| -> Result<f64, Fault> {
        let number: Option<f64> = cell.figures().parse().ok();
        let allowed = match unit {
            Unit::Inch => "8, 16, 32, 64",
            Unit::Mm => "1 for whole millimetres, 0.5 for halves",
        };
        let trouble = KeyTrouble::NotOneOf {
            allowed: allowed.to_owned(),
        };
        let of = |table: &[(f64, u32)]| table.iter().any(|(n, _)| Some(*n) == number);
        // Sixteenths in a metric job are a slip that harms nothing: it is told below.
        let known = of(&OF_AN_INCH) || unit == Unit::Mm && of(&OF_A_MM);
        number.filter(|_| known).ok_or_else(|| cell.fault(trouble))
    };
    let mut number = 0.0;
    keys.value("fraction", "a number", &mut number, written);
    let find = |table: &[(f64, u32)]| table.iter().find(|(n, _)| *n == number).map(|(_, p)| *p);
    match unit {
        Unit::Inch => *parts = find(&OF_AN_INCH).unwrap_or(*parts),
        Unit::Mm => match (find(&OF_A_MM), find(&OF_AN_INCH)) {
            (Some(found), _) => *parts = found,
            (None, Some(_)) => keys.fault_at("fraction", KeyTrouble::FractionOfInch),
            (None, None) => {}
        },
    }
}
