//! A job's folder as one text: before each file stands a line `== NAME`.

use grainrow::job::{
    BOARDS_CSV, DEFECTS_CSV, DONE_CSV, FRONTS_CSV, JOB_TOML, JobFiles, OPENINGS_CSV,
};

const NAMES: [&str; 6] = [
    JOB_TOML,
    BOARDS_CSV,
    FRONTS_CSV,
    DEFECTS_CSV,
    OPENINGS_CSV,
    DONE_CSV,
];

/// The files in the bytes; what stands before the first name is nobody's.
pub fn of(bytes: &[u8]) -> JobFiles {
    let mut files = JobFiles::new();
    let mut open: Option<(&'static str, Vec<u8>)> = None;
    for line in bytes.split_inclusive(|&byte| byte == b'\n') {
        let name = line.strip_prefix(b"== ").map(<[u8]>::trim_ascii);
        let known = name.and_then(|name| NAMES.into_iter().find(|known| known.as_bytes() == name));
        match (known, &mut open) {
            (Some(name), _) => {
                if let Some((name, text)) = open.replace((name, Vec::new())) {
                    files = files.with(name, text);
                }
            }
            (None, Some((_, text))) => text.extend_from_slice(line),
            (None, None) => {}
        }
    }
    match open {
        Some((name, text)) => files.with(name, text),
        None => files,
    }
}
