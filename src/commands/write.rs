//! Writing outputs so that nothing is ever half written.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use tempfile::NamedTempFile;

use super::{Failure, Output};

/// Writes files into `folder`, making it when needed.
///
/// Every file is first written in full under a temporary name beside its place, then all are
/// renamed: when one can't be written, none is changed.
///
/// # Errors
/// When a file or folder can't be written.
pub fn write_all(folder: &Path, outputs: &[Output]) -> Result<(), Failure> {
    let mut ready = Vec::new();
    for (name, bytes) in outputs {
        let path = folder.join(name);
        let temporary = prepare(&path, bytes).map_err(|why| failed(&path, why))?;
        ready.push((temporary, path));
    }
    for (temporary, path) in ready {
        temporary
            .persist(&path)
            .map_err(|error| failed(&path, error.error))?;
    }
    Ok(())
}

/// The whole file under a temporary name in the folder it will stand in.
fn prepare(path: &Path, bytes: &[u8]) -> io::Result<NamedTempFile> {
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    let mut file = tempfile::Builder::new()
        .prefix(".writing-")
        .tempfile_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    readable(file.path())?;
    Ok(file)
}

/// Temporary files are private; what is written for the shop may be read by others.
#[cfg(unix)]
fn readable(path: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable(_path: &Path) -> io::Result<()> {
    Ok(())
}

fn failed(path: &Path, why: io::Error) -> Failure {
    Failure::Write {
        path: path.to_owned(),
        why,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str, text: &str) -> Output {
        (name.to_owned(), text.as_bytes().to_vec())
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let mut names: Vec<String> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn when_one_file_can_not_be_written_none_is_changed() {
        let folder = tempfile::tempdir().unwrap();
        write_all(folder.path(), &[file("a.txt", "old")]).unwrap();
        // A file stands where the second output wants a folder.
        let outputs = [file("a.txt", "new"), file("a.txt/b.txt", "x")];
        assert!(matches!(
            write_all(folder.path(), &outputs),
            Err(Failure::Write { .. })
        ));
        assert_eq!(
            fs::read_to_string(folder.path().join("a.txt")).unwrap(),
            "old"
        );
        assert_eq!(names(folder.path()), ["a.txt"]);
    }
}
