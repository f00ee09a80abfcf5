//! The settings of job.toml that the page offers.

use super::Refused;
use crate::job::set_key;

/// How a setting is written in job.toml.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Words.
    Text,
    /// A length.
    Length,
    /// A number.
    Number,
    /// Yes or no.
    Choice,
}

/// One setting: its section, its key, how it is written, what it means.
#[derive(Clone, Copy, Debug, serde::Serialize)]
pub struct Setting {
    /// The section of job.toml, nothing for the top.
    pub section: &'static str,
    /// Its key.
    pub key: &'static str,
    /// How it is written.
    pub kind: Kind,
    /// What it means, in a few words.
    pub what: &'static str,
}

const fn setting(
    section: &'static str,
    key: &'static str,
    kind: Kind,
    what: &'static str,
) -> Setting {
    Setting {
        section,
        key,
        kind,
        what,
    }
}

/// The settings offered, in the order they are shown.
pub const SETTINGS: [Setting; 30] = [
    setting("", "title", Kind::Text, "Name of the piece"),
    setting("", "units", Kind::Text, "Unit: inch or mm"),
    setting("", "species", Kind::Text, "Species of wood"),
    setting(
        "allowances",
        "crosscut_kerf",
        Kind::Length,
        "Kerf of the crosscut saw",
    ),
    setting(
        "allowances",
        "rip_kerf",
        Kind::Length,
        "Kerf of the rip saw",
    ),
    setting(
        "allowances",
        "end_trim",
        Kind::Length,
        "Off each end of every board",
    ),
    setting(
        "allowances",
        "edge_trim",
        Kind::Length,
        "Off each edge, to straighten it",
    ),
    setting(
        "allowances",
        "rough_length",
        Kind::Length,
        "A blank is longer than its front by",
    ),
    setting(
        "allowances",
        "rough_width",
        Kind::Length,
        "A blank is wider than its front by",
    ),
    setting(
        "allowances",
        "plane",
        Kind::Length,
        "Final skim off each face",
    ),
    setting(
        "allowances",
        "clear",
        Kind::Length,
        "Kept between a blank and a defect",
    ),
    setting(
        "allowances",
        "longest_skip",
        Kind::Length,
        "Most wood lost between neighbours of one stretch",
    ),
    setting(
        "allowances",
        "shortest_safe",
        Kind::Length,
        "Shortest piece for the jointer and planer",
    ),
    setting(
        "allowances",
        "keep_offcut",
        Kind::Length,
        "Shortest piece kept for the rack",
    ),
    setting(
        "allowances",
        "keep_width",
        Kind::Length,
        "Narrowest piece kept for the rack",
    ),
    setting(
        "worth",
        "unbroken",
        Kind::Number,
        "Avoiding one break is worth",
    ),
    setting(
        "worth",
        "tone_run",
        Kind::Number,
        "One tone step inside a run",
    ),
    setting(
        "worth",
        "tone_case",
        Kind::Number,
        "One tone step over the whole piece",
    ),
    setting("worth", "glue_line", Kind::Number, "Avoiding one glue line"),
    setting(
        "worth",
        "mixed_log",
        Kind::Number,
        "One more log inside a run",
    ),
    setting(
        "worth",
        "mixed_cut",
        Kind::Number,
        "One more way of sawing inside a run",
    ),
    setting(
        "glue",
        "allow",
        Kind::Choice,
        "May wide fronts be glued up from staves",
    ),
    setting(
        "glue",
        "from",
        Kind::Length,
        "Narrower fronts are never glued",
    ),
    setting("glue", "least_stave", Kind::Length, "Narrowest stave"),
    setting(
        "machines",
        "widest",
        Kind::Length,
        "Widest piece the machines take",
    ),
    setting("case", "width", Kind::Length, "Width of the case, outside"),
    setting(
        "case",
        "height",
        Kind::Length,
        "Height of the case, outside",
    ),
    setting("case", "rail", Kind::Length, "Rail between two rows"),
    setting(
        "money",
        "per",
        Kind::Text,
        "Prices are per: board foot or m3",
    ),
    setting(
        "",
        "fraction",
        Kind::Number,
        "Finest fraction of an inch printed",
    ),
];

/// Sets one of them in the text of job.toml; the default counts again when `value` says nothing.
///
/// # Errors
/// [`Refused::Unknown`] in words.
pub fn set(text: &str, section: &str, key: &str, value: &str) -> Result<String, Refused> {
    let wanted = |s: &&Setting| s.section == section && s.key == key;
    let Some(setting) = SETTINGS.iter().find(wanted) else {
        return Err(Refused::Unknown(format!("there is no setting {key}")));
    };
    let written = match (value, setting.kind) {
        ("", _) => None,
        (value, Kind::Number) if value.parse::<f64>().is_ok_and(f64::is_finite) => {
            Some(value.to_owned())
        }
        ("yes" | "true", Kind::Choice) => Some("true".to_owned()),
        ("no" | "false", Kind::Choice) => Some("false".to_owned()),
        (value, _) => Some(toml::Value::from(value).to_string()),
    };
    set_key(text, section, key, written.as_deref()).map_err(Refused::Unknown)
}
