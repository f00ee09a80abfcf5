//! A change of one file: at one place some text is taken out, and other text put in.

use serde::{Deserialize, Serialize};

use super::FILES;

/// A change of one file that can be turned round.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Splice {
    file: String,
    at: usize,
    out: String,
    put: String,
    /// Marks of the whole text before and after; 0 when the file is not there.
    before: u64,
    after: u64,
}

/// A mark of a text: FNV-1a of 64 bits (Fowler, Noll and Vo), never 0 for a file that is there.
pub fn mark(text: Option<&str>) -> u64 {
    let Some(text) = text else {
        return 0;
    };
    let mut mark: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in text.bytes() {
        mark ^= u64::from(byte);
        mark = mark.wrapping_mul(0x0100_0000_01b3);
    }
    mark.max(1)
}

impl Splice {
    /// From one text of a file to another; nothing when they are the same.
    pub fn between(file: &str, before: Option<&str>, after: Option<&str>) -> Option<Splice> {
        if before == after {
            return None;
        }
        let (old, new) = (before.unwrap_or(""), after.unwrap_or(""));
        let head = old.bytes().zip(new.bytes()).take_while(|(a, b)| a == b);
        let mut at = head.count();
        while !old.is_char_boundary(at) {
            at -= 1;
        }
        let (old_rest, new_rest) = (&old[at..], &new[at..]);
        let ends = old_rest.bytes().rev().zip(new_rest.bytes().rev());
        let mut tail = ends.take_while(|(a, b)| a == b).count();
        while !old_rest.is_char_boundary(old_rest.len() - tail) {
            tail -= 1;
        }
        Some(Splice {
            file: file.to_owned(),
            at,
            out: old_rest[..old_rest.len() - tail].to_owned(),
            put: new_rest[..new_rest.len() - tail].to_owned(),
            before: mark(before),
            after: mark(after),
        })
    }

    /// The file's name; one of those known.
    pub fn file(&self) -> &'static str {
        let known = FILES.iter().find(|file| **file == self.file);
        known.copied().unwrap_or(FILES[0])
    }

    /// Whether it names a file of a job: what is noted on the disk may have been changed there.
    pub fn is_known(&self) -> bool {
        FILES.contains(&self.file.as_str())
    }

    /// The mark of the text it changes, and of what becomes of it.
    pub fn marks(&self) -> (u64, u64) {
        (self.before, self.after)
    }

    /// Back again.
    pub fn inverse(&self) -> Splice {
        Splice {
            file: self.file.clone(),
            at: self.at,
            out: self.put.clone(),
            put: self.out.clone(),
            before: self.after,
            after: self.before,
        }
    }

    /// What becomes of a text, if it is the one that is meant: nothing within when the file goes.
    pub fn applied(&self, text: Option<&str>) -> Option<Option<String>> {
        if mark(text) != self.before {
            return None;
        }
        if self.after == 0 {
            return Some(None);
        }
        let text = text.unwrap_or("");
        let rest = text.get(self.at..)?.strip_prefix(self.out.as_str())?;
        let spliced = format!("{}{}{rest}", &text[..self.at], self.put);
        (mark(Some(&spliced)) == self.after).then_some(Some(spliced))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_splice_goes_there_and_back(before in "[aäß½]{0,6}", after in "[aäß½]{0,6}") {
            for (before, after) in [(Some(&before), Some(&after)), (None, Some(&after))] {
                let (before, after) = (before.map(String::as_str), after.map(String::as_str));
                if let Some(splice) = Splice::between("boards.csv", before, after) {
                    prop_assert_eq!(splice.applied(before), Some(after.map(str::to_owned)));
                    let back = splice.inverse().applied(after);
                    prop_assert_eq!(back, Some(before.map(str::to_owned)));
                } else {
                    prop_assert_eq!(before, after);
                }
            }
        }
    }
}
