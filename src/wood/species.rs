//! The species table, and finding a species by the name a maker writes.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde::Deserialize;

/// One species of the table.
#[derive(Clone, Debug, PartialEq, Deserialize, serde::Serialize)]
pub struct Species {
    /// The published name, the kind first: `Cherry, black`.
    #[serde(rename = "species")]
    pub name: String,
    /// `hardwood`, `softwood` or `imported` (to the United States), or `European`.
    pub group: String,
    /// Change across quarter sawn wood for each unit of width and per cent of moisture.
    pub radial: f64,
    /// The same across flat sawn wood.
    pub tangential: f64,
    /// How the figures came into the table.
    pub seen: Seen,
    /// Where they are published.
    pub source: Source,
    /// Other names, separated by semicolons.
    pub also: String,
}

/// How a species' figures came into the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Seen {
    /// Copied from the published table.
    Table,
    /// Written down from memory; look it up before much depends on it.
    Memory,
}

/// Where a species' figures are published.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Source {
    /// The Wood Handbook of the Forest Products Laboratory.
    Fpl,
    /// The German timber trade.
    Trade,
    /// Hoadley's table of woods in panel paintings.
    Hoadley,
}

impl Source {
    /// The source as a reader finds it.
    pub fn citation(self) -> &'static str {
        match self {
            Source::Fpl => {
                "Wood Handbook, FPL-GTR-190 (USDA Forest Products Laboratory, 2010), chapter 13, \
                 Table 13-5"
            }
            Source::Trade => {
                "Gesamtverband Deutscher Holzhandel, Fachwissen Holz: Quellen und Schwinden, \
                 table 4-5"
            }
            Source::Hoadley => {
                "R. B. Hoadley in The Structural Conservation of Panel Paintings (Getty \
                 Conservation Institute, 1998), Table 1, by Equation 13-3 of the Wood Handbook at \
                 10 % moisture"
            }
        }
    }
}

/// Why a name is not one species.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotFound {
    /// Several species bear that name: which they are.
    Several(Vec<&'static str>),
    /// None does: the nearest names.
    None(Vec<&'static str>),
}

const TABLE: &str = include_str!("species.csv");

static SPECIES: LazyLock<Vec<Species>> = LazyLock::new(|| {
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(TABLE.as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .expect("the table is part of the program, and a test reads all of it")
});

/// Every species known, in the table's order.
pub fn table() -> &'static [Species] {
    &SPECIES
}

/// The species a maker means by `name`.
///
/// Case, commas and the order of words do not matter (`black cherry` is `Cherry, black`), and
/// words may be left out as long as one species remains (`sassafras`, `rock elm`).
///
/// # Errors
/// When no species, or more than one, bears the name.
pub fn find(name: &str) -> Result<&'static Species, NotFound> {
    let wanted = words(name);
    let exact = |s: &&Species| names(s).any(|n| words(n) == wanted);
    if let Some(species) = table().iter().find(exact) {
        return Ok(species);
    }
    let loose: Vec<&Species> = table()
        .iter()
        .filter(|s| !wanted.is_empty() && names(s).any(|n| wanted.is_subset(&words(n))))
        .collect();
    match loose[..] {
        [species] => Ok(species),
        [] => Err(NotFound::None(nearest(name))),
        _ => Err(NotFound::Several(
            loose.iter().map(|s| s.name.as_str()).collect(),
        )),
    }
}

/// The published name and every other one.
fn names(species: &Species) -> impl Iterator<Item = &str> {
    let others = species.also.split(';').map(str::trim);
    std::iter::once(species.name.as_str()).chain(others.filter(|n| !n.is_empty()))
}

fn words(name: &str) -> BTreeSet<String> {
    name.split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_lowercase)
        .collect()
}

/// Up to three published names most like `name`.
fn nearest(name: &str) -> Vec<&'static str> {
    let wanted = spoken(name);
    let alike = |s: &Species| {
        names(s)
            .map(|n| strsim::jaro_winkler(&spoken(n), &wanted))
            .fold(0.0, f64::max)
    };
    let mut ranked: Vec<(f64, &str)> = table()
        .iter()
        .map(|s| (alike(s), s.name.as_str()))
        .filter(|(likeness, _)| *likeness > 0.7)
        .collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    ranked.into_iter().take(3).map(|(_, name)| name).collect()
}

/// A name as one says it: `Cherry, black` is `black cherry`.
fn spoken(name: &str) -> String {
    match name.split_once(',') {
        Some((kind, which)) => format!("{} {}", which.trim(), kind.trim()).to_lowercase(),
        None => name.trim().to_lowercase(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn is(written: &str, published: &str) {
        assert_eq!(find(written).map(|s| s.name.as_str()), Ok(published));
    }

    #[test]
    fn order_case_and_missing_words_do_not_matter() {
        is("black cherry", "Cherry, black");
        is("CHERRY", "Cherry, black");
        is("Oak, white", "White oak, commercial");
        is("hard maple", "Maple, sugar");
        is("live oak", "White oak, live");
        is("douglas-fir", "Douglas-fir, coast type");
        is("European oak", "Oak, European");
        is("Eiche", "Oak, European");
        is("ERLE", "Alder, European");
    }

    #[test]
    fn every_published_name_finds_itself() {
        for species in table() {
            is(&species.name, &species.name);
        }
    }

    /// Names that meant an American species before European ones were known still do.
    #[test]
    fn what_was_one_species_is_still_that_one() {
        is("beech", "Beech, American");
        is("ash", "Ash, white");
        is("walnut", "Walnut, black");
        is("chestnut", "Chestnut, American");
        is("alder", "Alder, red");
        is("lime", "Basswood, American");
        is("sycamore", "Sycamore, American");
        is("poplar", "Yellow-poplar");
        is("mahogany", "Mahogany (Swietenia)");
    }

    #[test]
    fn a_name_of_several_species_lists_them() {
        let Err(NotFound::Several(which)) = find("maple") else {
            panic!("maple is not one species");
        };
        assert!(which.contains(&"Maple, sugar") && which.contains(&"Maple, bigleaf"));
    }

    #[test]
    fn a_misspelt_name_gets_the_nearest() {
        let Err(NotFound::None(near)) = find("chery") else {
            panic!("not a species");
        };
        assert_eq!(near[0], "Cherry, black");
        assert_eq!(find(""), Err(NotFound::None(vec![])));
    }
}
