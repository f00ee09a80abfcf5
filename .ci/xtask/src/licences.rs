//! The licences of all that is inside the program.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::{Done, root};

/// How the files are named that hold a licence or a notice.
const NAMES: [&str; 5] = ["license", "licence", "copying", "notice", "unlicense"];

/// The licences of every crate built into the program for a target, and of its font. Crates that
/// share a text share its place.
pub fn text(target: &str) -> Done<String> {
    let metadata = metadata(target)?;
    let mut texts: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in built_in(&metadata)? {
        let told = |key: &str| package[key].as_str().unwrap_or_default();
        let name = format!("{} {} ({})", told("name"), told("version"), told("license"));
        let folder = Path::new(told("manifest_path")).parent().ok_or("a path")?;
        let mut found = files(folder)?;
        if found.is_empty() {
            let authors: Vec<&str> = package["authors"]
                .as_array()
                .into_iter()
                .flatten()
                .filter_map(Value::as_str)
                .collect();
            found.push(format!(
                "No licence file comes with it. Its authors: {}.\n",
                authors.join(", ")
            ));
        }
        for text in found {
            texts.entry(text).or_default().insert(name.clone());
        }
    }
    let font = fs::read_to_string(root().join("src/draw/fonts/LICENSE"))?;
    texts
        .entry(font)
        .or_default()
        .insert("The fonts DejaVu Sans Condensed".to_owned());
    let mut all =
        String::from("grainrow is under the licence in the file LICENSE. What is built into it:\n");
    let rule = "-".repeat(78);
    for (text, names) in texts {
        let names: Vec<String> = names.into_iter().collect();
        all += &format!(
            "\n{rule}\n{}\n{rule}\n\n{}\n",
            names.join("\n"),
            text.trim_end()
        );
    }
    Ok(all)
}

fn metadata(target: &str) -> Done<Value> {
    let output = Command::new(env!("CARGO"))
        .args([
            "metadata",
            "--locked",
            "--format-version",
            "1",
            "--filter-platform",
            target,
        ])
        .current_dir(root())
        .output()?;
    if !output.status.success() {
        return Err(String::from_utf8_lossy(&output.stderr).into());
    }
    Ok(serde_json::from_slice(&output.stdout)?)
}

/// The packages that the program is linked from, itself left out: not what builds or tests it.
fn built_in(metadata: &Value) -> Done<Vec<&Value>> {
    let list = |value: &'_ Value| value.as_array().cloned().unwrap_or_default();
    let nodes: BTreeMap<String, Value> = list(&metadata["resolve"]["nodes"])
        .into_iter()
        .map(|node| (node["id"].as_str().unwrap_or_default().to_owned(), node))
        .collect();
    let packages = metadata["packages"].as_array().ok_or("no packages")?;
    let own = packages
        .iter()
        .find(|package| package["name"] == "grainrow");
    let own = own
        .and_then(|package| package["id"].as_str())
        .ok_or("no grainrow")?;
    let (mut open, mut known) = (vec![own.to_owned()], BTreeSet::new());
    while let Some(id) = open.pop() {
        let node = nodes.get(&id).ok_or("an unknown package")?;
        for dependency in list(&node["deps"]) {
            let linked = list(&dependency["dep_kinds"])
                .iter()
                .any(|kind| kind["kind"].is_null());
            let id = dependency["pkg"].as_str().unwrap_or_default().to_owned();
            if linked && known.insert(id.clone()) {
                open.push(id);
            }
        }
    }
    let is_known = |package: &&Value| package["id"].as_str().is_some_and(|id| known.contains(id));
    Ok(packages.iter().filter(is_known).collect())
}

fn files(folder: &Path) -> Done<Vec<String>> {
    let mut texts = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().to_lowercase();
        if entry.path().is_file() && NAMES.iter().any(|start| name.starts_with(start)) {
            texts.push(String::from_utf8_lossy(&fs::read(entry.path())?).into_owned());
        }
    }
    texts.sort();
    Ok(texts)
}
