//! Ways that stay within a folder: no link on them, and no name that leads up or elsewhere.

use std::fs;
use std::path::{Component, Path, PathBuf};

use crate::commands::Failure;

/// The path of `name` in `folder`.
///
/// # Errors
/// [`Failure::Leads`] when a part of the way is a link, or would leave the folder.
pub(super) fn inside(folder: &Path, name: &str) -> Result<PathBuf, Failure> {
    let mut path = folder.to_owned();
    for part in Path::new(name).components() {
        let Component::Normal(part) = part else {
            return Err(Failure::Leads {
                path: folder.join(name),
            });
        };
        path.push(part);
        if fs::symlink_metadata(&path).is_ok_and(|found| found.is_symlink()) {
            return Err(Failure::Leads { path });
        }
    }
    Ok(path)
}
