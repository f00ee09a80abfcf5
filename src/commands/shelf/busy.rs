//! One command at a time in an output folder. The system lets go of the lock when a process ends,
//! however it ends.

use std::fs::{File, TryLockError};
use std::path::Path;
use std::thread::sleep;
use std::time::{Duration, Instant};

use crate::commands::Failure;

/// The file that is locked. It is left where it is: removing it would let two commands in.
pub(super) const FILE: &str = ".busy";

/// A command that is nearly done is waited for.
const PATIENCE: Duration = Duration::from_secs(2);

/// Keeps other commands away until it is dropped.
#[derive(Debug)]
pub(super) struct Busy(Option<File>);

impl Busy {
    /// Takes the lock.
    ///
    /// # Errors
    /// [`Failure::Busy`] when another command keeps it, [`Failure::Write`] when there can't be one.
    pub fn take(path: &Path) -> Result<Busy, Failure> {
        let failed = |why| Failure::Write {
            path: path.to_owned(),
            why,
        };
        let open = File::options()
            .create(true)
            .truncate(false)
            .write(true)
            .open(path);
        let file = open.map_err(failed)?;
        let begun = Instant::now();
        loop {
            match file.try_lock() {
                Ok(()) => return Ok(Busy(Some(file))),
                Err(TryLockError::WouldBlock) if begun.elapsed() < PATIENCE => {
                    sleep(Duration::from_millis(20));
                }
                Err(TryLockError::WouldBlock) => {
                    let out = path.parent().unwrap_or(path).to_owned();
                    return Err(Failure::Busy { out });
                }
                // Some disks of other machines know no locks: better without than not at all.
                Err(TryLockError::Error(_)) => return Ok(Busy(None)),
            }
        }
    }
}

impl Drop for Busy {
    fn drop(&mut self) {
        // Closing the file lets go as well.
        let _ = self.0.take().map(|file| file.unlock());
    }
}
