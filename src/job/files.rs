//! The files of a job's folder, as bytes: from disk, or from memory in tests.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;
use std::sync::Arc;

use super::fault::{Fault, Faults, Place, Source, Trouble};

/// The settings file's name.
pub const JOB_TOML: &str = "job.toml";
/// The boards file's name.
pub const BOARDS_CSV: &str = "boards.csv";
/// The fronts file's name.
pub const FRONTS_CSV: &str = "fronts.csv";
/// The defects file's name.
pub const DEFECTS_CSV: &str = "defects.csv";

/// The openings file's name.
pub const OPENINGS_CSV: &str = "openings.csv";
/// The name of the file that tells what is done.
pub const DONE_CSV: &str = "done.csv";
/// The name of the file of wishes.
pub const WISHES_CSV: &str = "wishes.csv";
/// The name of the file that says which picture shows which board.
pub const PHOTOS_CSV: &str = "photos.csv";
/// What photographs told, as `photo` last wrote it.
pub const PHOTOS_JSON: &str = "out/photos.json";

/// Every file of a job's folder that is ever read, in the order their faults are told.
pub(super) const KNOWN_FILES: [&str; 9] = [
    JOB_TOML,
    BOARDS_CSV,
    FRONTS_CSV,
    DEFECTS_CSV,
    OPENINGS_CSV,
    WISHES_CSV,
    DONE_CSV,
    PHOTOS_CSV,
    PHOTOS_JSON,
];

/// The files of a job, by name.
///
/// ```
/// use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles};
///
/// let job = JobFiles::new()
///     .with(JOB_TOML, "title = \"A box\"")
///     .with(BOARDS_CSV, "board,length,width,thickness,tone\nB1,8',7 1/2,4/4,medium\n")
///     .with(FRONTS_CSV, "front,width,height,thickness\nlid,20,6,3/4\n")
///     .parse()?
///     .job;
/// assert_eq!(job.fronts[0].name, "lid");
/// # Ok::<(), grainrow::job::Faults>(())
/// ```
#[derive(Clone, Debug, Default)]
pub struct JobFiles {
    files: BTreeMap<&'static str, Vec<u8>>,
    /// The names of the pictures in the folder for photographs.
    pictures: Vec<String>,
}

/// What can be wrong with a whole file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FileTrouble {
    /// The job's folder is not there.
    #[error("there is no such folder")]
    NoFolder,
    /// A file every job has is not there.
    #[error("the file is missing")]
    Missing,
    /// The file is there but can't be read.
    #[error("the file can't be read: {0}")]
    Unreadable(String),
    /// Bytes that are not UTF-8.
    #[error("the file is not UTF-8 text from byte {0} on")]
    NotText(usize),
}

impl Trouble for FileTrouble {
    fn hint(&self) -> Option<String> {
        Some(match self {
            FileTrouble::NoFolder => "`grainrow start DIR` writes a small job to begin with".into(),
            FileTrouble::Missing => {
                "a job is a folder with job.toml, boards.csv and fronts.csv; `grainrow start DIR` \
                 writes a small one to begin with, and an empty job.toml takes every default"
                    .into()
            }
            FileTrouble::Unreadable(_) => return None,
            FileTrouble::NotText(_) => "save it as CSV UTF-8".into(),
        })
    }
}

impl JobFiles {
    /// No files yet.
    pub fn new() -> JobFiles {
        JobFiles::default()
    }

    /// The same with one more file; `name` is one of the names a job's folder has.
    #[must_use]
    pub fn with(mut self, name: &'static str, content: impl Into<Vec<u8>>) -> JobFiles {
        self.files.insert(name, content.into());
        self
    }

    /// The same with pictures of these names in the folder for photographs.
    #[must_use]
    pub fn with_pictures(mut self, names: &[&str]) -> JobFiles {
        self.pictures = names.iter().map(|name| (*name).to_owned()).collect();
        self
    }

    /// The names of the pictures in the folder for photographs, in order.
    pub fn pictures(&self) -> &[String] {
        &self.pictures
    }

    /// Reads a job's folder. Files that are not there are left out: whether they are needed
    /// is decided when they are parsed.
    ///
    /// # Errors
    /// When the folder is not there, or a file in it can't be read.
    pub fn read(folder: &Path) -> Result<JobFiles, Faults> {
        let mut faults = Faults::new();
        let mut files = JobFiles {
            pictures: pictures_in(&folder.join("photos")),
            ..JobFiles::new()
        };
        if !folder.is_dir() {
            let name = folder.display().to_string();
            faults.push(file_fault(&name, FileTrouble::NoFolder));
            return Err(faults);
        }
        for name in KNOWN_FILES {
            match read_plain(&folder.join(name)) {
                Ok(bytes) => files = files.with(name, bytes),
                Err(error) if error.kind() == ErrorKind::NotFound => {}
                // A file stands where the folder of results should: no photograph has told anything.
                Err(error) if name == PHOTOS_JSON && error.kind() == ErrorKind::NotADirectory => {}
                Err(error) => {
                    faults.push(file_fault(name, FileTrouble::Unreadable(error.to_string())));
                }
            }
        }
        if faults.is_empty() {
            Ok(files)
        } else {
            Err(faults)
        }
    }

    /// Settings and fronts alone, as if there were no boards yet.
    #[must_use]
    pub fn fronts_alone(mut self) -> JobFiles {
        self.files
            .retain(|name, _| [JOB_TOML, FRONTS_CSV].contains(name));
        self.pictures.clear();
        self
    }

    /// Whether there is a file of that name.
    pub fn has(&self, name: &str) -> bool {
        self.files.contains_key(name)
    }

    /// The text of a file, when it is there and is text.
    pub fn text(&self, name: &str) -> Option<&str> {
        std::str::from_utf8(self.files.get(name)?).ok()
    }

    /// The text of a file a job must have.
    pub(super) fn need(&self, name: &'static str, faults: &mut Faults) -> Option<Arc<Source>> {
        if !self.has(name) {
            faults.push(file_fault(name, FileTrouble::Missing));
        }
        self.get(name, faults)
    }

    /// The text of a file a job may have.
    pub(super) fn get(&self, name: &'static str, faults: &mut Faults) -> Option<Arc<Source>> {
        let bytes = self.files.get(name)?;
        match std::str::from_utf8(bytes) {
            Ok(text) => Some(Source::new(name, text)),
            Err(error) => {
                faults.push(file_fault(name, FileTrouble::NotText(error.valid_up_to())));
                None
            }
        }
    }
}

/// The bytes of a plain file. A pipe or a device is none: it might never end.
pub(crate) fn read_plain(path: &Path) -> io::Result<Vec<u8>> {
    let found = fs::metadata(path)?;
    if found.is_file() {
        return fs::read(path);
    }
    let what = if found.is_dir() {
        "it is a folder"
    } else {
        "it is a pipe or a device, not a plain file"
    };
    Err(io::Error::new(ErrorKind::InvalidInput, what))
}

/// The pictures in a folder by name; none when it is not there.
fn pictures_in(folder: &Path) -> Vec<String> {
    const KINDS: [&str; 5] = ["jpg", "jpeg", "png", "heic", "heif"];
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| {
            let kind = name.rsplit_once('.').map(|(_, kind)| kind.to_lowercase());
            kind.is_some_and(|kind| KINDS.contains(&kind.as_str()))
        })
        .collect();
    names.sort();
    names
}

fn file_fault(name: &str, trouble: FileTrouble) -> Fault {
    Fault::new(Place::file_of(&Source::new(name, "")), trouble)
}
