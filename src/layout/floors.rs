//! The floors of the optimiser hold: no file imports from a higher one, and no files import from each other in a
//! circle. Tests may look upwards.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Floors, each standing on those before it.
const FLOORS: [&str; 7] = [
    "model",
    "geometry",
    "pricing",
    "master",
    "heuristics",
    "search",
    "answer",
];

/// What each file imports of the others, both by their path below `layout`.
type Imports = BTreeMap<String, BTreeSet<String>>;

/// The text of each file, by its path below `layout`: `model::stock`; a folder's own file is the folder.
fn sources() -> BTreeMap<String, String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/layout");
    let (mut found, mut folders) = (BTreeMap::new(), vec![(root, String::new())]);
    while let Some((folder, name)) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("the sources are there") {
            let path = entry.expect("an entry can be read").path();
            let stem = path.file_stem().and_then(|stem| stem.to_str());
            let stem = stem.expect("names of sources are plain");
            let below = match (name.as_str(), stem) {
                (name, "mod") => name.to_owned(),
                ("", stem) => stem.to_owned(),
                (name, stem) => format!("{name}::{stem}"),
            };
            if path.is_dir() {
                folders.push((path, below));
            } else {
                let text = std::fs::read_to_string(&path).expect("a source is text");
                found.insert(below, text);
            }
        }
    }
    found
}

/// The code of a file without its comments and tests.
fn code(text: &str) -> String {
    let tests = text.find("#[cfg(test)]\nmod tests {");
    let lines = text[..tests.unwrap_or(text.len())].lines();
    let code = lines.map(|line| line.split("//").next().unwrap_or_default());
    code.collect::<Vec<_>>().join("\n")
}

/// The paths below `layout` that start with `super` or `crate::layout`, with those in braces each by itself.
fn paths(file: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for start in ["crate::layout::", "super::"] {
        for (at, _) in text.match_indices(start) {
            let before = text[..at].chars().next_back();
            if before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':') {
                continue;
            }
            let mut at = at;
            let mut from: Vec<&str> = file.split("::").filter(|part| !part.is_empty()).collect();
            if start == "super::" {
                while text[at..].starts_with(start) {
                    at += start.len();
                    from.pop();
                }
            } else {
                (from, at) = (Vec::new(), at + start.len());
            }
            spread(&from.join("::"), &text[at..], &mut found);
        }
    }
    found
}

/// Adds each path that `tree`, the text behind a `::`, stands for behind `before`.
fn spread(before: &str, tree: &str, found: &mut Vec<String>) {
    if let Some(inside) = tree.strip_prefix('{') {
        let (mut depth, mut from) = (0, 0);
        for (at, c) in inside.char_indices() {
            if depth == 0 && (c == ',' || c == '}') {
                spread(before, inside[from..at].trim(), found);
                from = at + 1;
            }
            depth += match c {
                '{' => 1,
                '}' if depth == 0 => return,
                '}' => -1,
                _ => 0,
            };
        }
        return;
    }
    let end = tree.find(|c: char| !c.is_alphanumeric() && c != '_');
    let (name, rest) = tree.split_at(end.unwrap_or(tree.len()));
    let path = [before, name].join("::");
    let path = path.trim_matches(':').to_owned();
    match rest.strip_prefix("::") {
        Some(rest) => spread(&path, rest, found),
        None => found.push(path),
    }
}

/// Which of the other files each file imports from.
fn imports(sources: &BTreeMap<String, String>) -> Imports {
    let of = |path: &String| {
        let ends = path.match_indices("::").map(|(at, _)| at);
        let mut prefixes: Vec<&str> = ends.map(|end| &path[..end]).collect();
        prefixes.push(path);
        let known = |prefix: &&&str| sources.contains_key(**prefix);
        prefixes.iter().rfind(known).map(|&file| file.to_owned())
    };
    let tested = |file: &str| file.ends_with("tests") || file == "floors";
    let files = sources.iter().filter(|(file, _)| !tested(file));
    files
        .map(|(file, text)| {
            let found = paths(file, &code(text));
            let found = found.iter().filter_map(of).filter(|other| other != file);
            (file.clone(), found.collect())
        })
        .collect()
}

fn floor(file: &str) -> usize {
    let name = file.split("::").next().unwrap_or_default();
    let floor = FLOORS.iter().position(|floor| *floor == name);
    // What stands on none of them is the way in, above all.
    floor.unwrap_or(FLOORS.len())
}

/// Imports from a higher floor.
fn upward(imports: &Imports) -> Vec<String> {
    let each = imports
        .iter()
        .flat_map(|(file, of)| of.iter().map(move |other| (file, other)));
    each.filter(|(file, other)| floor(other) > floor(file))
        .map(|(file, other)| format!("{file} imports from {other}"))
        .collect()
}

/// Files left over when those that import from none of the others are taken away, again and again: those in
/// circles, and those that stand on one.
fn circles(imports: &Imports) -> Vec<&String> {
    let mut left: BTreeSet<&String> = imports.keys().collect();
    loop {
        let stands = |file: &&&String| imports[**file].iter().any(|other| left.contains(other));
        let next: BTreeSet<&String> = left.iter().filter(stands).copied().collect();
        if next.len() == left.len() {
            return left.into_iter().collect();
        }
        left = next;
    }
}

#[test]
fn no_file_imports_from_a_higher_floor() {
    let sources = sources();
    for floor in FLOORS {
        assert!(sources.contains_key(floor), "no floor {floor}");
    }
    let imports = imports(&sources);
    // So many at least: what reads the sources would else pass for want of anything read.
    let count: usize = imports.values().map(BTreeSet::len).sum();
    assert!(count > 400, "{count} imports");
    assert_eq!(upward(&imports), Vec::<String>::new());
}

#[test]
fn no_files_import_from_each_other_in_a_circle() {
    assert_eq!(circles(&imports(&sources())), Vec::<&String>::new());
}

#[test]
fn nothing_is_handed_on_under_another_floors_name() {
    for (file, text) in sources() {
        let handed_on = code(&text)
            .lines()
            .any(|line| line.starts_with("pub") && line.contains(" use "));
        assert!(
            !handed_on || file.is_empty(),
            "{file} hands on what is not its own"
        );
    }
}

/// The imports of files with these texts.
fn made_up(texts: &[(&str, &str)]) -> Imports {
    let text = |&(file, text): &(&str, &str)| (file.to_owned(), text.to_owned());
    imports(&texts.iter().map(text).collect())
}

#[test]
fn an_import_from_a_higher_floor_is_found_however_it_is_written() {
    let high = ("search::tree", "pub struct Tree;");
    for text in [
        "use crate::layout::search::tree::Tree;",
        "use super::super::search::tree::Tree;",
        "use crate::layout::{model::b::B, search::{tree::{Tree, Other}}};",
        "fn f() { crate::layout::search::tree::grow(); }",
    ] {
        let imports = made_up(&[high, ("model::a", text), ("model::b", "")]);
        assert_eq!(
            upward(&imports),
            ["model::a imports from search::tree"],
            "{text}"
        );
    }
    let below = made_up(&[
        ("model::a", ""),
        ("search::tree", "use crate::layout::model::a::A;"),
    ]);
    assert_eq!(upward(&below), Vec::<String>::new());
    let tests = "#[cfg(test)]\nmod tests {\nuse crate::layout::search::tree::Tree;\n}";
    assert_eq!(
        upward(&made_up(&[high, ("model::a", tests)])),
        Vec::<String>::new()
    );
}

#[test]
fn a_circle_is_found() {
    let a = ("model::a", "use super::b::B;");
    let b = ("model::b", "use crate::layout::model::c::C;");
    assert_eq!(
        circles(&made_up(&[a, b, ("model::c", "")])),
        Vec::<&String>::new()
    );
    let closed = made_up(&[a, b, ("model::c", "use crate::layout::model::{a::A, d};")]);
    assert_eq!(circles(&closed), ["model::a", "model::b", "model::c"]);
}
