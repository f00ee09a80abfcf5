//! `grainrow woods`

use clap::Args;
use grainrow::commands::Failure;
use grainrow::wood::{self, Seen, Source, Species};

use super::exit::Exit;
use super::report::Report;
use super::tally::table;

/// List the species and how much they move for each per cent of moisture
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  grainrow woods cherry")]
pub struct Woods {
    /// Only species with this in one of their names
    name: Option<String>,
}

impl Woods {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let wanted = self.name.as_deref().unwrap_or("").to_lowercase();
        let bears = |species: &&Species| {
            let names = format!("{} {}", species.name, species.also);
            names.to_lowercase().contains(&wanted)
        };
        let found: Vec<&Species> = wood::table().iter().filter(bears).collect();
        report.result(&found, &shown(&found))?;
        Ok(if found.is_empty() {
            Exit::BadInput
        } else {
            Exit::Done
        })
    }
}

fn shown(found: &[&Species]) -> String {
    if found.is_empty() {
        return "No species has that in its name. All of them: grainrow woods\n".to_owned();
    }
    let mut sources: Vec<Source> = found.iter().map(|species| species.source).collect();
    sources.sort_unstable();
    sources.dedup();
    let number = |source| {
        sources
            .iter()
            .position(|known| *known == source)
            .unwrap_or(0)
            + 1
    };
    let mut table = table(
        &["species", "flat sawn", "rift", "quarter sawn", "source"],
        1,
    );
    for species in found {
        let memory = match species.seen {
            Seen::Memory => " *",
            Seen::Table => "",
        };
        let of = |cut| format!("{:.5}", wood::change_per_percent(species, cut));
        table.add_row([
            format!("{}{memory}", species.name),
            of(wood::Cut::Flat),
            of(wood::Cut::Rift),
            of(wood::Cut::Quarter),
            number(species.source).to_string(),
        ]);
    }
    let starred = found.iter().any(|species| species.seen == Seen::Memory);
    let star = if starred {
        "* From memory: look it up before much depends on it.\n"
    } else {
        ""
    };
    let sources = sources.iter().enumerate();
    let sources: String = sources
        .map(|(index, source)| format!("{}: {}\n", index + 1, source.citation()))
        .collect();
    format!(
        "{}\n\nChange in width for each unit of width and each per cent of moisture content,\n\
         between 6 and 14 %; rift is the mean of the other two.\n{sources}{star}",
        table.trim_fmt()
    )
}
