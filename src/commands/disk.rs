//! The few things done to a disk where the order matters, so that a test can pull the plug between
//! any two of them.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use crate::job::read_plain;

/// A disk that may fail at any call.
pub(super) trait Disk {
    /// Makes a folder and those above it.
    fn make_folder(&self, path: &Path) -> io::Result<()>;
    /// Writes a file in full and waits until it is on the disk.
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;
    /// Gives a file or folder another name; a file of that name is replaced.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Removes a file, if it is there.
    fn remove_file(&self, path: &Path) -> io::Result<()>;
    /// Removes a folder with all in it, if it is there.
    fn remove_folder(&self, path: &Path) -> io::Result<()>;
}

/// The disk there is.
pub(super) struct Real;

impl Disk for Real {
    fn make_folder(&self, path: &Path) -> io::Result<()> {
        fs::create_dir_all(path)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        // A link that stands there is replaced, never written through.
        if fs::symlink_metadata(path).is_ok_and(|found| found.is_symlink()) {
            fs::remove_file(path)?;
        }
        let mut file = fs::File::create(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove_file(&self, path: &Path) -> io::Result<()> {
        unless_gone(fs::remove_file(path))
    }

    fn remove_folder(&self, path: &Path) -> io::Result<()> {
        unless_gone(fs::remove_dir_all(path))
    }
}

fn unless_gone(result: io::Result<()>) -> io::Result<()> {
    match result {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        other => other,
    }
}

/// Replaces one file by another text, the old one beside it as `NAME.bak`.
///
/// At every moment the file is there, old or new, and so is the old text.
pub(super) fn replace_with_backup(disk: &dyn Disk, path: &Path, text: &[u8]) -> io::Result<()> {
    let beside = |suffix: &str| {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(suffix);
        path.with_file_name(name)
    };
    let (new, old, backup) = (beside(".new"), beside(".old"), beside(".bak"));
    let replaced = || {
        match read_plain(path) {
            Ok(before) => {
                disk.write(&old, &before)?;
                disk.rename(&old, &backup)?;
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => return Err(error),
        }
        disk.write(&new, text)?;
        disk.rename(&new, path)
    };
    let done = replaced();
    if done.is_err() {
        // A full disk is left no fuller.
        let _ = disk.remove_file(&old);
        let _ = disk.remove_file(&new);
    }
    done
}

#[cfg(test)]
pub(super) mod testing {
    use super::*;
    use std::cell::Cell;

    /// A disk whose plug is pulled after so many calls: the one it happens in is half done, if a
    /// write can be, and none after it does anything.
    pub(in crate::commands) struct Unplugged {
        left: Cell<usize>,
    }

    impl Unplugged {
        pub(in crate::commands) fn after(calls: usize) -> Unplugged {
            Unplugged {
                left: Cell::new(calls),
            }
        }

        fn works(&self) -> io::Result<()> {
            match self.left.get().checked_sub(1) {
                Some(left) => {
                    self.left.set(left);
                    Ok(())
                }
                None => Err(io::Error::other("the plug was pulled")),
            }
        }
    }

    impl Disk for Unplugged {
        fn make_folder(&self, path: &Path) -> io::Result<()> {
            self.works()?;
            Real.make_folder(path)
        }

        fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
            let works = self.works();
            if works.is_err() && self.left.replace(usize::MIN) == 0 {
                // What a crash leaves of a write.
                let _ = Real.write(path, &bytes[..bytes.len() / 2]);
            }
            works?;
            Real.write(path, bytes)
        }

        fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
            self.works()?;
            Real.rename(from, to)
        }

        fn remove_file(&self, path: &Path) -> io::Result<()> {
            self.works()?;
            Real.remove_file(path)
        }

        fn remove_folder(&self, path: &Path) -> io::Result<()> {
            self.works()?;
            Real.remove_folder(path)
        }
    }

    /// A disk that is full after so many writes: half of the next one fits, and none after it.
    pub(in crate::commands) struct Full(Cell<usize>);

    impl Full {
        pub(in crate::commands) fn after(writes: usize) -> Full {
            Full(Cell::new(writes))
        }

        /// Writes that still have room.
        pub(in crate::commands) fn left(&self) -> usize {
            self.0.get()
        }
    }

    impl Disk for Full {
        fn make_folder(&self, path: &Path) -> io::Result<()> {
            Real.make_folder(path)
        }

        fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
            let Some(left) = self.0.get().checked_sub(1) else {
                Real.write(path, &bytes[..bytes.len() / 2])?;
                return Err(io::ErrorKind::StorageFull.into());
            };
            self.0.set(left);
            Real.write(path, bytes)
        }

        fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
            Real.rename(from, to)
        }

        fn remove_file(&self, path: &Path) -> io::Result<()> {
            Real.remove_file(path)
        }

        fn remove_folder(&self, path: &Path) -> io::Result<()> {
            Real.remove_folder(path)
        }
    }
}
