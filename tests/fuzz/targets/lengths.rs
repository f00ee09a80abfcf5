//! Any text is a length or it is told why not; what is printed reads back.
#![no_main]

use grainrow::measure::{Length, Ruler, Unit};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    for unit in [Unit::Inch, Unit::Mm] {
        let _ = Length::parse_thickness(text, unit);
        if let Ok(length) = Length::parse(text, unit) {
            let shown = Ruler::of(unit).show(length);
            let again = Length::parse(&shown, unit).expect("a length that was printed");
            assert_eq!(Ruler::of(unit).show(again), shown);
        }
    }
});
