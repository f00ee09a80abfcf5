//! Writing outputs so that nothing is ever half written.

use std::fs;
use std::io::{self, Write};
use std::path::{Component, Path};

use tempfile::NamedTempFile;

use super::{Failure, Output};

/// Lists what the last command wrote, so that the next can clear away what no longer holds.
const LIST: &str = ".written";

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

/// Writes a command's files like [`write_all`], and removes those it wrote here last time that
/// are not written again: the diagram of a board no longer used.
///
/// # Errors
/// When a file or folder can't be written, or an old file can't be removed.
pub fn write_anew(folder: &Path, outputs: Vec<Output>) -> Result<(), Failure> {
    let before = written_before(folder);
    let mut names: Vec<String> = outputs.iter().map(|(name, _)| name.clone()).collect();
    names.sort_unstable();
    let mut outputs = outputs;
    outputs.push((LIST.to_owned(), (names.join("\n") + "\n").into_bytes()));
    write_all(folder, &outputs)?;
    for old in before.iter().filter(|old| !names.contains(old)) {
        let path = folder.join(old);
        match fs::remove_file(&path) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => return Err(failed(&path, why)),
            _ => {}
        }
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

/// Names the last command listed, but none that would lead out of the folder.
fn written_before(folder: &Path) -> Vec<String> {
    let list = fs::read_to_string(folder.join(LIST)).unwrap_or_default();
    let inside = |name: &&str| {
        let mut parts = Path::new(name).components().peekable();
        parts.peek().is_some() && parts.all(|part| matches!(part, Component::Normal(_)))
    };
    list.lines().filter(inside).map(str::to_owned).collect()
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
    fn files_are_written_and_stale_ones_cleared_away() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("out");
        write_anew(&out, vec![file("a.txt", "1"), file("boards/B1.svg", "2")]).unwrap();
        fs::write(out.join("mine.txt"), "keep me").unwrap();
        write_anew(&out, vec![file("a.txt", "3"), file("boards/B2.svg", "4")]).unwrap();
        assert_eq!(names(&out), [".written", "a.txt", "boards", "mine.txt"]);
        assert_eq!(names(&out.join("boards")), ["B2.svg"]);
        assert_eq!(fs::read_to_string(out.join("a.txt")).unwrap(), "3");
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

    #[test]
    fn a_list_that_leads_out_of_the_folder_removes_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("out");
        fs::create_dir(&out).unwrap();
        fs::write(folder.path().join("boards.csv"), "mine").unwrap();
        fs::write(out.join(LIST), "../boards.csv\n/etc/hostname\n\n").unwrap();
        write_anew(&out, vec![file("a.txt", "1")]).unwrap();
        assert_eq!(names(folder.path()), ["boards.csv", "out"]);
    }
}
