//! One more picture of a board, from a camera.

use std::path::Path;

use super::super::outputs::file_names;
use super::super::{Failure, write_all};
use super::fetch::fetch;
use crate::photo::picture::{Picture, PictureTrouble, open};

/// Puts a picture of a board into the job's folder for photographs, under a name made from the
/// board's, and gives its path within the job's folder. No picture that is there is touched.
///
/// # Errors
/// The picture's trouble when it is none; [`Failure::Write`].
pub fn add_picture(
    folder: &Path,
    board: &str,
    bytes: &[u8],
) -> Result<Result<String, PictureTrouble>, Failure> {
    if let Err(why) = open(bytes).map(|_: Picture| ()) {
        return Ok(Err(why));
    }
    let kind = if bytes.starts_with(b"\x89PNG") {
        "png"
    } else {
        "jpg"
    };
    let base = file_names(std::iter::once(board.to_owned())).remove(0);
    let names = std::iter::once(base.clone()).chain((2..).map(|n| format!("{base}-{n}")));
    let name = names
        .map(|name| format!("photos/{name}.{kind}"))
        .find(|name| !folder.join(name).exists())
        .unwrap_or_default();
    write_all(folder, &[(name.clone(), bytes.to_vec())])?;
    Ok(Ok(name))
}

/// The bytes of a picture that `photos.csv` names, from inside the job's folder and from nowhere
/// else.
///
/// # Errors
/// In words, when it can't be had.
pub fn picture(folder: &Path, file: &str) -> Result<Vec<u8>, String> {
    fetch(folder, file).map_err(|why| why.to_string())
}
