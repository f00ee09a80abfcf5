//! What was found and measured before: pictures and faces that have not changed are not looked at again.
//!
//! An entry is known by a digest of all it depends on: a picture's bytes, where its boards may lie, corners,
//! paper. What is compared between boards (tones, groups alike) is made anew each time. Entries that a run does
//! not ask for are dropped, so that there are never more of them than pictures and faces.

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hasher};
use std::sync::{Mutex, PoisonError};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// Raised whenever anything is found or measured in another way.
const MEASURING: u32 = 1;

/// What is known by digest, and which of it was asked for.
#[derive(Debug, Default)]
pub struct Known(Mutex<Entries>);

#[derive(Debug, Default)]
struct Entries {
    known: BTreeMap<String, Value>,
    asked: BTreeSet<String>,
    looked: usize,
}

#[derive(Serialize, Deserialize)]
struct File {
    measuring: u32,
    version: String,
    known: BTreeMap<String, Value>,
}

impl Known {
    /// What [`Known::bytes`] of an earlier run wrote. Of what is no such file, nothing is known.
    pub fn read(bytes: &[u8]) -> Known {
        let file: Option<File> = serde_json::from_slice(bytes).ok();
        let known = file
            .filter(|file| {
                (file.measuring, file.version.as_str()) == (MEASURING, env!("CARGO_PKG_VERSION"))
            })
            .map(|file| file.known);
        Known(Mutex::new(Entries {
            known: known.unwrap_or_default(),
            ..Entries::default()
        }))
    }

    /// What was asked for, to be read again.
    pub fn bytes(&self) -> Vec<u8> {
        let entries = self.entries();
        let asked = entries.known.iter();
        let asked = asked.filter(|(digest, _)| entries.asked.contains(*digest));
        let file = File {
            measuring: MEASURING,
            version: env!("CARGO_PKG_VERSION").to_owned(),
            known: asked
                .map(|(digest, value)| (digest.clone(), value.clone()))
                .collect(),
        };
        serde_json::to_vec(&file).unwrap_or_default()
    }

    /// How many pictures and faces had to be looked at.
    pub fn looked(&self) -> usize {
        self.entries().looked
    }

    /// What is known by this digest, or else what `look` finds.
    ///
    /// # Errors
    /// Those of `look`, which is not remembered then.
    pub(super) fn or_look<T, E>(
        &self,
        digest: &str,
        look: impl FnOnce() -> Result<T, E>,
    ) -> Result<T, E>
    where
        T: Serialize + DeserializeOwned,
    {
        let known = {
            let mut entries = self.entries();
            entries.asked.insert(digest.to_owned());
            entries.known.get(digest).cloned()
        };
        let read = known.and_then(|value| serde_json::from_value(value).ok());
        if let Some(found) = read {
            return Ok(found);
        }
        let found = look()?;
        let value = serde_json::to_value(&found).unwrap_or_default();
        let mut entries = self.entries();
        entries.looked += 1;
        entries.known.insert(digest.to_owned(), value);
        Ok(found)
    }

    fn entries(&self) -> std::sync::MutexGuard<'_, Entries> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// 128 bits that tell bytes from others, here and with this build of the standard library alone: elsewhere all is
/// looked at again.
pub(super) fn digest(bytes: &[u8]) -> String {
    let half = |first: u8| {
        let mut hasher = DefaultHasher::new();
        hasher.write_u8(first);
        hasher.write(bytes);
        hasher.finish()
    };
    format!("{:016x}{:016x}", half(0), half(1))
}

/// Bytes as text in JSON.
pub(super) mod as_text {
    use base64::Engine;
    use base64::engine::general_purpose::STANDARD;
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serializer};

    pub fn serialize<S: Serializer>(bytes: &[u8], to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(&STANDARD.encode(bytes))
    }

    pub fn deserialize<'d, D: Deserializer<'d>>(from: D) -> Result<Vec<u8>, D::Error> {
        let text = String::deserialize(from)?;
        STANDARD.decode(text).map_err(D::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn look(known: &Known, digest: &str, found: f64) -> f64 {
        let found: Result<f64, ()> = known.or_look(digest, || Ok(found));
        found.expect("looking never fails here")
    }

    #[test]
    fn what_is_known_is_not_looked_at_again_and_what_is_not_asked_for_is_dropped() {
        let known = Known::default();
        let third = 1.0 / 3.0;
        assert_eq!(
            (look(&known, "a", third), look(&known, "b", 2.0)),
            (third, 2.0)
        );
        let again = Known::read(&known.bytes());
        assert_eq!((look(&again, "a", 9.0), again.looked()), (third, 0));
        let last = Known::read(&again.bytes());
        assert_eq!((look(&last, "b", 5.0), last.looked()), (5.0, 1));
    }

    #[test]
    fn what_is_no_such_file_or_of_another_measuring_is_as_good_as_none() {
        let known = Known::default();
        look(&known, "a", 1.0);
        let bytes = known.bytes();
        let text = String::from_utf8(bytes.clone()).unwrap();
        let other = text.replace(&format!("\"measuring\":{MEASURING}"), "\"measuring\":0");
        let wrong = text.replace("1.0", "\"x\"");
        assert!(other != text && wrong != text);
        let cut = bytes[..bytes.len() / 2].to_vec();
        for bytes in [cut, other.into(), wrong.into(), vec![0xff; 40], Vec::new()] {
            let known = Known::read(&bytes);
            assert_eq!((look(&known, "a", 7.0), known.looked()), (7.0, 1));
        }
    }

    #[test]
    fn other_bytes_have_another_digest() {
        assert_ne!(digest(b"a"), digest(b"b"));
        assert_eq!(digest(b"a").len(), 32);
    }
}
