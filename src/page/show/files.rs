//! A file as the page shows it: a table with its cells, or the settings.

use serde_json::{Map, Value, json};

use crate::commands::example_settings;
use crate::job::Choice;
use crate::job::{Grid, JOB_TOML, PHOTOS_CSV};
use crate::measure::Unit;
use crate::page::desk::{Desk, SETTINGS};

/// A file of the desk.
pub fn file(desk: &Desk, name: &str) -> Value {
    let Some(paper) = desk.paper(name) else {
        return Value::Null;
    };
    if name == JOB_TOML {
        return settings(paper.text().unwrap_or(""), paper.trouble());
    }
    let columns = paper.columns();
    let grid = paper.grid().unwrap_or_default();
    let all: Vec<&str> = columns.iter().flat_map(|columns| columns.all()).collect();
    let needed = columns.map_or(&[][..], |columns| columns.required);
    json!({
        "file": name,
        "there": paper.text().is_some(),
        "trouble": paper.trouble(),
        "columns": all,
        "needed": needed,
        "shown": grid.columns.iter().flatten().collect::<Vec<_>>(),
        "rows": rows(&grid, &paper.rows),
    })
}

fn rows(grid: &Grid, numbers: &[u64]) -> Vec<Value> {
    let rows = grid.rows.iter().zip(numbers);
    rows.map(|(row, number)| {
        let named = grid.columns.iter().zip(&row.cells);
        let cells: Map<String, Value> = named
            .filter_map(|(name, cell)| Some(((*name)?.to_owned(), json!(cell))))
            .collect();
        json!({ "id": number, "lines": [row.lines.0, row.lines.1], "cells": cells })
    })
    .collect()
}

fn settings(text: &str, trouble: Option<&str>) -> Value {
    let table: toml::Table = text.parse().unwrap_or_default();
    let unit = table.get("units").and_then(toml::Value::as_str);
    let unit = unit.and_then(Unit::from_word).unwrap_or_default();
    let defaults: toml::Table = example_settings(unit).parse().unwrap_or_default();
    let list: Vec<Value> = SETTINGS
        .iter()
        .map(|setting| {
            let usual = match setting.key {
                "title" | "species" => String::new(),
                _ => written(&defaults, setting.section, setting.key),
            };
            json!({
                "section": setting.section,
                "key": setting.key,
                "kind": setting.kind,
                "what": setting.what,
                "value": written(&table, setting.section, setting.key),
                "usual": usual,
            })
        })
        .collect();
    json!({
        "file": JOB_TOML,
        "trouble": trouble,
        "unit": unit,
        "fraction": table.get("fraction").and_then(number).unwrap_or(16.0),
        "settings": list,
    })
}

fn number(value: &toml::Value) -> Option<f64> {
    value
        .as_float()
        .or_else(|| Some(value.as_integer()? as f64))
}

/// What a key says, as a maker reads it; nothing when it is not there.
fn written(table: &toml::Table, section: &str, key: &str) -> String {
    let value = match section {
        "" => table.get(key),
        section => table.get(section).and_then(|section| section.get(key)),
    };
    match value {
        Some(toml::Value::String(text)) => text.clone(),
        Some(toml::Value::Boolean(yes)) => if *yes { "yes" } else { "no" }.to_owned(),
        Some(other) => other.to_string(),
        None => String::new(),
    }
}

/// The pictures that `photos.csv` names, by the numbers of their rows.
pub fn pictures(desk: &Desk) -> Vec<(u64, String)> {
    let Some(paper) = desk.paper(PHOTOS_CSV) else {
        return Vec::new();
    };
    let grid = paper.grid().unwrap_or_default();
    let rows = paper.rows.iter().enumerate();
    rows.map(|(at, number)| (*number, grid.cell(at, "photo").to_owned()))
        .collect()
}
