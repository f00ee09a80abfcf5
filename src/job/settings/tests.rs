use proptest::prelude::*;

use super::*;
use crate::job::Grade;
use crate::measure::Length;

fn read(text: &str) -> (Settings, Vec<String>) {
    let mut faults = Faults::new();
    let settings = Settings::read(&Source::new("job.toml", text), &mut faults);
    faults.sort(&["job.toml"]);
    let complaints = faults.iter().map(|fault| {
        let trouble = &fault.trouble;
        let more: Vec<String> = trouble
            .expected()
            .into_iter()
            .chain(trouble.hint())
            .collect();
        format!("{fault} | {}", more.join(" | "))
    });
    (settings, complaints.collect())
}

/// Every key with the default it is documented with.
const DEFAULTS: &str = r#"
title = ""
units = "inch"
fraction = 16
species = ""
[allowances]
crosscut_kerf = "1/8"
rip_kerf = "1/8"
end_trim = "2"
edge_trim = "1/8"
rough_length = "1"
rough_width = "1/4"
plane = "1/32"
clear = "1/4"
longest_skip = "2"
shortest_safe = "12"
keep_offcut = "24"
keep_width = "4"
between = "tight"
[worth]
unbroken = 4.0
tone_run = 1.0
tone_case = 0.5
glue_line = 2.0
owned = 0.0
[glue]
allow = true
from = "8"
least_stave = "2"
step = "1/8"
joint = "1/8"
[yard]
thickness = ["4/4", "5/4", "6/4", "8/4"]
length = "96 to 144"
width = "6 to 10"
grade = "FAS"
tone = "3 to 7"
bow = "0 to 1/4"
cup = "0 to 1/16"
twist = "0 to 1/8"
crook = "0 to 1/4"
"#;

#[test]
fn an_empty_file_means_the_documented_defaults() {
    assert_eq!(read(""), (Settings::default(), vec![]));
    assert_eq!(read(DEFAULTS), (Settings::default(), vec![]));
}

/// The metric defaults as agreed, each an exact number of millimetres or litres.
const METRIC: &str = r#"
units = "mm"
fraction = 1
[allowances]
crosscut_kerf = 3
rip_kerf = 3
end_trim = 50
edge_trim = 3
rough_length = 25
rough_width = 6
plane = 1
clear = 6
longest_skip = 50
shortest_safe = 300
keep_offcut = 600
keep_width = 100
[worth]
unbroken = 10
tone_run = 2.5
tone_case = 1.25
glue_line = 5
[money]
per = "m3"
[glue]
least_stave = 50
joint = 3
"#;

#[test]
fn a_metric_job_starts_from_round_millimetres_and_litres() {
    let (short, faults) = read("units = \"mm\"\n");
    assert!(faults.is_empty(), "{faults:?}");
    assert_eq!(read(METRIC), (short.clone(), vec![]));
    assert_eq!(short, Settings::of(Unit::Mm));
    // Every default length there is, fitting and yard too, to half a millimetre.
    let text = format!("{short:?}");
    let lengths = text.split("Length(").skip(1);
    let lengths: Vec<i64> = lengths
        .map(|rest| rest.split(')').next().unwrap().parse().unwrap())
        .collect();
    assert!(lengths.len() > 30, "{}", lengths.len());
    assert!(lengths.iter().all(|nm| nm % 500_000 == 0), "{lengths:?}");
}

#[test]
fn a_comma_between_digits_is_a_decimal_comma_between_quotation_marks() {
    let (settings, faults) = read(
        "units = \"mm\"\n[allowances]\nrip_kerf = \"3,2\"\n[yard]\nlength = \"2,5 m to 3,6 m\"\n\
         thickness = [\"27,5\"]\nprice = { \"27,5\" = 2400 }\ncup = \"0 to 1,5\"\n",
    );
    assert!(faults.is_empty(), "{faults:?}");
    let mm = Length::from_mm;
    assert_eq!(settings.allowances.rip_kerf, mm(3.2));
    assert_eq!(settings.yard.length, Mix::of(mm(2500.0), mm(3600.0)));
    assert_eq!(settings.yard.thickness[0].thickness, mm(27.5));
    assert_eq!(settings.yard.cup.most, mm(1.5));
}

/// Every table of `job.toml` reads its numbers alike: `2,5` between quotation marks is what `2.5`
/// is without.
#[test]
fn every_table_reads_a_decimal_comma() {
    let text = |number: fn(&str) -> String| {
        let lines = [
            ("fraction", "0.5"),
            ("[worth]\nunbroken", "9.5"),
            ("tone_run", "2.25"),
            ("[glue]\nleast_stave", "50.5"),
            ("[photo]\nstep", "2.5"),
            ("[climate]\nmoisture", "8.5"),
            ("driest_temperature", "21.5"),
            ("driest_humidity", "30.5"),
            ("wettest_temperature", "24.5"),
            ("wettest_humidity", "62.5"),
            ("[gaps]\nsides", "1.5"),
            ("[bevel]\nface", "32.5"),
            ("angle", "15.5"),
            ("[pulls]\nend_share", "0.25"),
            ("height_share", "0.45"),
            ("spacing", "76.5"),
        ];
        let lines = lines.map(|(key, value)| format!("{key} = {}\n", number(value)));
        format!("units = \"mm\"\nspecies = \"beech\"\n{}", lines.concat())
    };
    let (points, faults) = read(&text(str::to_owned));
    assert!(faults.is_empty(), "{faults:?}");
    let (commas, faults) = read(&text(|number| format!("\"{}\"", number.replace('.', ","))));
    assert!(faults.is_empty(), "{faults:?}");
    assert_eq!(commas, points);
    assert_ne!(points.fitting, Settings::of(Unit::Mm).fitting);
    assert!((commas.worth.unbroken - 9.5).abs() < 1e-12);
}

#[test]
fn prices_are_reckoned_with_by_the_jobs_own_volume() {
    let price = |text: &str| {
        let (settings, faults) = read(text);
        assert!(faults.is_empty(), "{faults:?}");
        (
            settings.yard.thickness[0].price.unwrap(),
            settings.worth.owned,
        )
    };
    let metric = "units = \"mm\"\n[worth]\nowned = 500\n[yard]\nprice = 2400\n";
    // 2400 for 1000 litres.
    assert_eq!(price(metric), (2.4, 0.5));
    let inch = "[worth]\nowned = 500\n[money]\nper = \"m3\"\n[yard]\nprice = 2400\n";
    // NIST Special Publication 811: 1 board foot is 2.359 737 litres.
    let (yard, owned) = price(inch);
    assert!((yard - 2400.0 * 0.002_359_737).abs() < 1e-5);
    assert!((owned - 500.0 * 0.002_359_737).abs() < 1e-5);
    assert_eq!(price("[yard]\nprice = 9.5\n"), (9.5, 0.0));
}

#[test]
fn a_fraction_of_an_inch_in_a_metric_job_is_told_and_harms_nothing() {
    let (settings, faults) = read("units = \"mm\"\nfraction = 16\n");
    assert_eq!(settings.fraction, 1);
    insta::assert_snapshot!(faults.join("\n"), @"job.toml, line 2, fraction `16`: it is a fraction of an inch, and this job is in millimetres: whole ones are printed | 1 for whole millimetres, 0.5 for halves | remove the line for whole millimetres");
    let (_, faults) = read("units = \"mm\"\nfraction = 0.25\n");
    insta::assert_snapshot!(faults.join("\n"), @"job.toml, line 2, fraction `0.25`: it is none of the numbers allowed here | one of 1 for whole millimetres, 0.5 for halves");
}

#[test]
fn a_metric_maker_is_told_in_millimetres_what_was_expected() {
    let (_, faults) = read(
        "units = \"mm\"\n[allowances]\nend_trim = true\nclear = \"x\"\n[yard]\nthickness = 3.5\nprice = [3]\nwidth = \"100 to 200\"\n",
    );
    let text = faults.join("\n");
    for word in [" in ", "inch", "/8", "/4", " ft", "feet"] {
        assert!(!text.contains(word), "{word}: {text}");
    }
}

#[test]
fn a_byte_order_mark_and_windows_line_ends_change_nothing() {
    let (settings, faults) = read("\u{feff}units = \"mm\"\r\n[allowances]\r\nrip_kerf = 3\r\n");
    assert!(faults.is_empty(), "{faults:?}");
    assert_eq!(settings.unit, Unit::Mm);
}

#[test]
fn every_key_lands_in_its_own_field() {
    let (settings, faults) = read(
        "units = \"mm\"\nfraction = 0.5\n[allowances]\nrip_kerf = 3\nend_trim = 50.5\n\
         plane = \"1/32 in\"\nkeep_offcut = \"none\"\nbetween = \"as_built\"\n\
         [worth]\nunbroken = 7\n[glue]\nallow = false\n",
    );
    assert!(faults.is_empty(), "{faults:?}");
    let allowances = &settings.allowances;
    assert_eq!((settings.unit, settings.fraction), (Unit::Mm, 2));
    assert_eq!(allowances.rip_kerf, Length::from_mm(3.0));
    assert_eq!(allowances.end_trim, Length::from_mm(50.5));
    assert_eq!(allowances.plane, Length::from_inches(0.03125));
    assert_eq!(allowances.keep_offcut, None);
    assert_eq!(allowances.between, Between::AsBuilt);
    assert_eq!(settings.worth.unbroken, 7.0);
    assert!(!settings.glue.allow);
}

#[test]
fn unknown_keys_and_sections_are_faults_with_the_nearest_name() {
    let (_, faults) = read("[allowances]\nend_trm = \"2\"\n[gleu]\nallow = true\n");
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert!(faults[0].starts_with(
        "job.toml, line 2, [allowances] key `end_trm`: there is no such setting here"
    ));
    assert!(faults[0].ends_with("did you mean `end_trim`?"));
    assert!(faults[1].starts_with("job.toml, line 3, key `gleu`: there is no such setting here"));
    assert!(faults[1].ends_with("did you mean `glue`?"));
}

#[test]
fn each_bad_value_is_a_fault_of_its_own() {
    let (_, faults) = read(
        "units = \"inches\"\nfraction = 12\nworth = 3\n[allowances]\nend_trim = \"-1\"\n\
         clear = true\nkeep_offcut = 0\nbetween = \"loose\"\n[glue]\nallow = \"yes\"\n",
    );
    insta::assert_snapshot!(faults.join("\n"), @r#"
    job.toml, line 1, units `inches`: it is none of the words known here | one of inch, mm | did you mean `inch`?
    job.toml, line 2, fraction `12`: it is none of the numbers allowed here | one of 8, 16, 32, 64
    job.toml, line 3, worth `3`: it is a section, not a single setting | [worth] on a line of its own
    job.toml, line 5, [allowances] end_trim `-1`: it must not be below zero | zero or more
    job.toml, line 6, [allowances] clear `true`: it is not of the right kind | a length such as "1/8"
    job.toml, line 7, [allowances] keep_offcut `0`: it must be above zero | a length above zero
    job.toml, line 8, [allowances] between `loose`: it is none of the words known here | one of tight, as_built
    job.toml, line 10, [glue] allow `"yes"`: it is not of the right kind | true or false
    "#);
}

#[test]
fn what_is_not_toml_says_where() {
    let (settings, faults) = read("title = \"x\"\nunits = inch\n[allowances\n");
    assert_eq!(settings, Settings::default());
    assert!(
        faults[0].starts_with("job.toml, line 2: it can't be read as TOML:"),
        "{faults:?}"
    );
}

#[test]
fn a_yard_may_say_how_often_and_at_what_price() {
    let (settings, faults) = read(
        "[yard]\nthickness = [\"8/4\", \"4/4\"]\nprice = { \"4/4\" = 9.5, \"8/4\" = 12 }\n\
         length = { \"8' to 10'\" = 3, \"12'\" = 1 }\nwidth = \"6..9 1/2\"\n\
         grade = \"1 Common\"\ntone = \"pale to dark\"\nbow = 0.25\n",
    );
    assert!(faults.is_empty(), "{faults:?}");
    let yard = settings.yard;
    let inches = Length::from_inches;
    let sold: Vec<_> = yard
        .thickness
        .iter()
        .map(|s| (s.thickness, s.price))
        .collect();
    assert_eq!(sold, [(inches(1.0), Some(9.5)), (inches(2.0), Some(12.0))]);
    assert!(yard.priced());
    assert_eq!(
        (yard.length.least(), yard.length.most()),
        (inches(96.0), inches(144.0))
    );
    assert_eq!(yard.length.parts.iter().map(|p| p.1).sum::<f64>(), 4.0);
    assert_eq!(yard.width, Mix::of(inches(6.0), inches(9.5)));
    assert_eq!(yard.grade, Grade::Common1);
    assert_eq!(
        (yard.tone.least.value(), yard.tone.most.value()),
        (2.0, 7.0)
    );
    assert_eq!(
        (yard.bow.least, yard.bow.most),
        (inches(0.25), inches(0.25))
    );
}

#[test]
fn a_yard_no_one_could_buy_from_is_told_key_by_key() {
    let (_, faults) = read(
        "[yard]\nthickness = []\nprice = { \"10/4\" = 9 }\nlength = \"144 to 96\"\n\
         width = { \"6 to 8\" = 0 }\ntone = \"3 to 12\"\nbow = \"0 to\"\ncup = [1]\n\
         grade = \"FASS\"\n",
    );
    insta::assert_snapshot!(faults.join("\n"), @r#"
    job.toml, line 2, [yard] thickness `[]`: it is empty: there is nothing to choose from | at least one, with a share above zero
    job.toml, line 3, [yard] price `10/4`: that thickness is not on sale | one of those listed at `thickness`
    job.toml, line 4, [yard] length `144 to 96`: its least is above its most | the least first, such as "6 to 10"
    job.toml, line 5, [yard] width `{ "6 to 8" = 0 }`: it is empty: there is nothing to choose from | at least one, with a share above zero
    job.toml, line 6, [yard] tone `12`: it can't be read as a tone: it is not between 0 and 10 | 0 to 10, or very pale, pale, light, medium light, medium, medium dark, dark, very dark
    job.toml, line 7, [yard] bow `0 to`: it can't be read as a length: `to` is no unit of length known here | a length such as 11 3/8 or 7' 10 1/2" | units are ', ", ft and in
    job.toml, line 8, [yard] cup `[1]`: it is not of the right kind | a span such as "6 to 10"
    job.toml, line 9, [yard] grade `FASS`: it is none of the words known here | one of clear, FAS, FAS one face, Selects, 1 Common, 2A Common, 3A Common | did you mean `FAS`?
    "#);
}

#[test]
fn boards_below_their_grades_least_size_are_faults() {
    let (_, faults) = read("[yard]\nlength = \"6' to 12'\"\nwidth = \"4 to 10\"\n");
    insta::assert_snapshot!(faults.join("\n"), @r#"
    job.toml, line 2, [yard] length `"6' to 12'"`: boards that short are not graded FAS | 96 in or more | raise the least, or set `grade` to one that is sold that small
    job.toml, line 3, [yard] width `"4 to 10"`: boards that narrow are not graded FAS | 5 3/4 in or more | raise the least, or set `grade` to one that is sold that small
    "#);
    let (_, faults) =
        read("[yard]\nlength = \"6' to 12'\"\nwidth = \"4 to 10\"\ngrade = \"Selects\"\n");
    assert!(faults.is_empty(), "{faults:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_it_panic(text in "(?s).{0,200}") {
        read(&text);
    }

    #[test]
    fn no_near_settings_make_it_panic(
        text in "(units|fraction|\\[allowances\\]|\\[glue\\]|\\[yard\\]|length|price| to |allow|end_trim|worth|[= .\"\\[\\]{},\n0-9a-e#é-]){0,40}"
    ) {
        read(&text);
    }
}
