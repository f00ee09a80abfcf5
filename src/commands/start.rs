//! `start`: a small commented job to begin with.

use std::path::Path;

use super::{Failure, Output, write_all};
use crate::job::{BOARDS_CSV, DEFECTS_CSV, FRONTS_CSV, JOB_TOML};

/// The example's files. It is invented.
const EXAMPLE: [(&str, &str); 4] = [
    (JOB_TOML, include_str!("example/job.toml")),
    (BOARDS_CSV, include_str!("example/boards.csv")),
    (FRONTS_CSV, include_str!("example/fronts.csv")),
    (DEFECTS_CSV, include_str!("example/defects.csv")),
];

/// Writes the example job into `folder` and names its files. With `force`, files of those
/// names are overwritten.
///
/// # Errors
/// [`Failure::InTheWay`] when one is there already and `force` is not set, or
/// [`Failure::Write`].
pub fn start(folder: &Path, force: bool) -> Result<Vec<String>, Failure> {
    let there = |name: &&str| folder.join(name).exists();
    let names = EXAMPLE.map(|(name, _)| name);
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
    let outputs: Vec<Output> = EXAMPLE
        .iter()
        .map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec()))
        .collect();
    write_all(folder, &outputs)?;
    Ok(names.map(str::to_owned).to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{JobFiles, Settings};

    fn example() -> JobFiles {
        EXAMPLE.iter().fold(JobFiles::new(), |files, (name, text)| {
            files.with(name, *text)
        })
    }

    #[test]
    fn what_the_example_shows_are_the_defaults() {
        let settings = example().parse().unwrap().job.settings;
        let defaults = Settings {
            title: settings.title.clone(),
            species: settings.species.clone(),
            ..Settings::default()
        };
        assert_eq!(settings, defaults);
    }

    #[test]
    fn the_example_has_nothing_to_warn_of() {
        assert!(example().parse().unwrap().findings.is_empty());
    }
}
