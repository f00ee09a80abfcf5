//! Which files of an output folder are grainrow's. The others are the maker's: where one of them
//! has a name that is needed, it is set aside and not lost.

use std::path::{Component, Path};

use super::{BEFORE, Shelf, UNDONE, read_if_there, wrote};
use crate::commands::Failure;
use crate::job::read_plain;

/// Names the files of a plan, a line each; never one of them itself.
pub(super) const LIST: &str = ".written";
/// Names the files that other commands wrote beside the plan.
const BESIDE: &str = ".written-beside";
/// Where the maker's own files go.
const YOURS: &str = "yours";

/// The files of the plan in a folder, but none that would lead out of it or into what is not a
/// plan's.
pub(in crate::commands) fn listed(folder: &Path) -> Vec<String> {
    names_in(&folder.join(LIST))
}

fn names_in(list: &Path) -> Vec<String> {
    let bytes = read_plain(list).unwrap_or_default();
    let text = String::from_utf8(bytes).unwrap_or_default();
    let plain = text.lines().filter(|name| is_plain(name));
    plain.map(str::to_owned).collect()
}

/// Whether a name is one a plan's file can have: within its folder, not hidden, not on a shelf.
fn is_plain(name: &str) -> bool {
    let mut parts = Path::new(name).components().peekable();
    let Some(Component::Normal(first)) = parts.peek() else {
        return false;
    };
    let shelf = first
        .to_str()
        .is_none_or(|first| first == BEFORE || first == UNDONE || first.starts_with(YOURS));
    let shown = |part: Component<'_>| matches!(part, Component::Normal(part) if part.to_str().is_some_and(|part| !part.starts_with('.')));
    !shelf && parts.all(shown)
}

impl Shelf<'_> {
    /// Whether a file of that name is grainrow's.
    fn is_ours(&self, name: &str) -> bool {
        let mut known = listed(self.out);
        known.extend(names_in(&self.out.join(BESIDE)));
        known.iter().any(|known| known == name)
    }

    /// Makes room for a file of that name: what is not grainrow's is moved to `yours/`, unless it
    /// says just the same.
    pub(super) fn make_room(&self, name: &str, coming: &[u8]) -> Result<(), Failure> {
        let path = self.at(name)?;
        if !path.exists() || self.is_ours(name) {
            return Ok(());
        }
        if path.is_file() && read_if_there(&path)?.as_deref() == Some(coming) {
            return Ok(());
        }
        let places = (1..).map(|number| match number {
            1 => format!("{YOURS}/{name}"),
            _ => format!("{YOURS}-{number}/{name}"),
        });
        for place in places {
            if !self.at(&place)?.exists() {
                self.rename(name, &place)?;
                self.set_aside.borrow_mut().push(place);
                break;
            }
        }
        Ok(())
    }

    /// Files of these names, beside the plan, are grainrow's from now on.
    pub(super) fn own_beside(&self, new: &[String]) -> Result<(), Failure> {
        let list = self.at(BESIDE)?;
        let mut names = names_in(&list);
        names.extend_from_slice(new);
        names.sort_unstable();
        names.dedup();
        let text = names.join("\n") + "\n";
        if read_if_there(&list)?.as_deref() == Some(text.as_bytes()) {
            return Ok(());
        }
        wrote(&list, self.disk.write(&list, text.as_bytes()))
    }
}

#[cfg(test)]
mod tests {
    use super::is_plain;

    #[test]
    fn only_names_of_a_plans_own_files_are_taken() {
        for name in ["plan.json", "boards/B1.svg", "ways/1/boards/C7-2.png"] {
            assert!(is_plain(name), "{name}");
        }
        for name in [
            "",
            ".",
            "..",
            "../boards.csv",
            "/etc/hostname",
            "boards/../../boards.csv",
            ".written",
            "boards/.x",
            "before/1/plan.json",
            "undone/1/plan.json",
            "yours/plan.json",
            "yours-2/x",
        ] {
            assert!(!is_plain(name), "{name}");
        }
    }
}
