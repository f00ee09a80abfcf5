//! A job of any bytes is read, or every fault in it is told.
#![no_main]

mod files;

use grainrow::fit::{Sawing, fit_planned};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    match files::of(bytes).parse() {
        Ok(reading) => drop(fit_planned(&reading.job, &Sawing::default())),
        Err(faults) => {
            assert!(faults.forbid_use());
            for fault in &faults {
                let _ = fault.shown();
            }
        }
    }
});
