//! `start`: a small commented job to begin with.

use std::path::Path;

use super::{Failure, Output, write_all};
use crate::job::{BOARDS_CSV, DEFECTS_CSV, FRONTS_CSV, JOB_TOML, OPENINGS_CSV, set_key};
use crate::measure::Unit;

/// The example's files. It is invented.
type Example = [(&'static str, &'static str); 4];

/// The chest sample, to play with.
const CHEST: [(&str, &str); 5] = [
    (JOB_TOML, include_str!("../../sample-boards/chest/job.toml")),
    (
        BOARDS_CSV,
        include_str!("../../sample-boards/chest/boards.csv"),
    ),
    (
        FRONTS_CSV,
        include_str!("../../sample-boards/chest/fronts.csv"),
    ),
    (
        DEFECTS_CSV,
        include_str!("../../sample-boards/chest/defects.csv"),
    ),
    (
        OPENINGS_CSV,
        include_str!("../../sample-boards/chest/openings.csv"),
    ),
];

const IN_INCHES: Example = [
    (JOB_TOML, include_str!("example/job.toml")),
    (BOARDS_CSV, include_str!("example/boards.csv")),
    (FRONTS_CSV, include_str!("example/fronts.csv")),
    (DEFECTS_CSV, include_str!("example/defects.csv")),
];
/// The same cabinet as a maker with a metric tape would write it, in a spreadsheet that separates
/// by semicolons.
const IN_MM: Example = [
    (JOB_TOML, include_str!("example_mm/job.toml")),
    (BOARDS_CSV, include_str!("example_mm/boards.csv")),
    (FRONTS_CSV, include_str!("example_mm/fronts.csv")),
    (DEFECTS_CSV, include_str!("example_mm/defects.csv")),
];

fn example(unit: Unit) -> Example {
    match unit {
        Unit::Inch => IN_INCHES,
        Unit::Mm => IN_MM,
    }
}

/// Writes the example job in `unit` into `folder` and names its files. With `force`, files of
/// those names are overwritten.
///
/// # Errors
/// [`Failure::InTheWay`] when one is there already and `force` is not set, or
/// [`Failure::Write`].
pub fn start(folder: &Path, unit: Unit, force: bool) -> Result<Vec<String>, Failure> {
    write_job(folder, &example(unit), force)
}

/// The example's job.toml in a unit: every setting with its meaning and its default.
pub fn example_settings(unit: Unit) -> &'static str {
    let [(_, settings), ..] = example(unit);
    settings
}

/// Writes a copy of the chest sample into `folder`, and names its files.
///
/// # Errors
/// As for [`start`].
pub fn start_chest(folder: &Path) -> Result<Vec<String>, Failure> {
    write_job(folder, &CHEST, false)
}

/// Writes a job without boards and fronts yet, to be typed in.
///
/// # Errors
/// As for [`start`].
pub fn start_empty(folder: &Path, unit: Unit, title: &str) -> Result<Vec<String>, Failure> {
    let [(_, settings), ..] = example(unit);
    let written = toml::Value::from(title).to_string();
    let settings = set_key(settings, "", "title", Some(&written)).unwrap_or_default();
    let settings = set_key(&settings, "", "species", Some("\"\"")).unwrap_or_default();
    let semicolon = unit == Unit::Mm;
    let table = |header: &str| match semicolon {
        true => header.replace(',', ";") + "\n",
        false => header.to_owned() + "\n",
    };
    let boards = table("board,length,width,thickness,tone,notes");
    let fronts = table("front,width,height,thickness,run,notes");
    let files = [
        (JOB_TOML, settings.as_str()),
        (BOARDS_CSV, boards.as_str()),
        (FRONTS_CSV, fronts.as_str()),
    ];
    write_job(folder, &files, false)
}

fn write_job(folder: &Path, files: &[(&str, &str)], force: bool) -> Result<Vec<String>, Failure> {
    let there = |name: &&str| folder.join(name).exists();
    let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
    let in_the_way: Vec<String> = names
        .iter()
        .filter(|name| there(name))
        .map(ToString::to_string)
        .collect();
    if !force && !in_the_way.is_empty() {
        return Err(Failure::InTheWay {
            folder: folder.to_owned(),
            names: in_the_way,
        });
    }
    let outputs: Vec<Output> = files
        .iter()
        .map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec()))
        .collect();
    write_all(folder, &outputs)?;
    Ok(names.into_iter().map(str::to_owned).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{JobFiles, Settings};

    fn files(unit: Unit) -> JobFiles {
        let files = example(unit).into_iter();
        files.fold(JobFiles::new(), |files, (name, text)| {
            files.with(name, text)
        })
    }

    #[test]
    fn what_the_examples_show_are_the_defaults() {
        for unit in [Unit::Inch, Unit::Mm] {
            let settings = files(unit).parse().unwrap().job.settings;
            let defaults = Settings {
                title: settings.title.clone(),
                species: settings.species.clone(),
                ..Settings::of(unit)
            };
            assert_eq!(settings, defaults);
        }
    }

    #[test]
    fn the_examples_have_nothing_to_warn_of() {
        for unit in [Unit::Inch, Unit::Mm] {
            let findings = files(unit).parse().unwrap().findings;
            assert!(findings.is_empty(), "{findings}");
        }
    }

    #[test]
    fn the_metric_example_knows_no_inch() {
        for (name, text) in IN_MM {
            for word in ["inch", "/4", "/8", "/2", "feet"] {
                assert!(!text.contains(word), "{name}: {word}");
            }
        }
    }
}
