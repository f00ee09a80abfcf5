//! One file of a job, changed by the maker.

use std::path::Path;

use super::Failure;
use super::disk::{Real, replace_with_backup};
use super::write::write_all;

/// Replaces a file of a job's folder by another text: it is there whole at every moment, old or
/// new. With `backup`, the old one stays beside it as `NAME.bak`.
///
/// # Errors
/// [`Failure::Write`]; the file is then as it was.
pub fn save(folder: &Path, name: &str, text: &str, backup: bool) -> Result<(), Failure> {
    if !backup {
        return write_all(folder, &[(name.to_owned(), text.as_bytes().to_vec())]);
    }
    let path = folder.join(name);
    replace_with_backup(&Real, &path, text.as_bytes()).map_err(|why| Failure::Write { path, why })
}
