//! `grainrow woods`

use clap::Args;
use grainrow::commands::Failure;
use grainrow::wood::{self, Seen, Species};

use super::exit::Exit;
use super::report::Report;
use super::tally::table;

/// List the species and how much they move for each per cent of moisture
#[derive(Debug, Args)]
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
        report.result(&found, &shown(&found));
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
    let mut table = table(&["species", "flat sawn", "rift", "quarter sawn"], 1);
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
        ]);
    }
    let starred = found.iter().any(|species| species.seen == Seen::Memory);
    let star = if starred {
        "* From memory: look it up before much depends on it.\n"
    } else {
        ""
    };
    format!(
        "{}\n\nChange in width for each unit of width and each per cent of moisture content,\n\
         between 6 and 14 %. Source: Wood Handbook, FPL-GTR-190 (USDA Forest Products\n\
         Laboratory, 2010), chapter 13, Table 13-5; rift is the mean of the other two.\n{star}",
        table.trim_fmt()
    )
}
