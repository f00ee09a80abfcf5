//! A picture's bytes, from inside the job's folder and from nowhere else.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;

use crate::job::read_plain;
use crate::photo::pile::Unread;

/// Larger files are no photographs.
const MOST_BYTES: u64 = 1 << 30;

/// Reads a picture. Links are followed, but not out of the job's folder.
pub(super) fn fetch(folder: &Path, file: &str) -> Result<Vec<u8>, Unread> {
    let home = fs::canonicalize(folder).map_err(|why| told(&why))?;
    let path = fs::canonicalize(folder.join(file)).map_err(|why| told(&why))?;
    if !path.starts_with(&home) {
        return Err(Unread::Outside);
    }
    let size = fs::metadata(&path).map_err(|why| told(&why))?.len();
    if size > MOST_BYTES {
        return Err(Unread::System("it is larger than a gigabyte".to_owned()));
    }
    read_plain(&path).map_err(|why| told(&why))
}

fn told(why: &io::Error) -> Unread {
    match why.kind() {
        ErrorKind::NotFound => Unread::Missing,
        _ => Unread::System(why.to_string()),
    }
}
