//! Jobs spoiled at random: what a slip of the hand, a bad disk or ill will makes of a good one.

use rand::{Rng, RngExt};

/// Cells and signs that readers have stumbled over, or might.
const PIECES: [&str; 34] = [
    "",
    "0",
    "-1",
    "1e308",
    "NaN",
    "inf",
    "9223372036854775808",
    "1/0",
    "0/0",
    "99999999999/64",
    "5/4",
    "4-May",
    "27,5",
    "\"",
    "\"\"",
    "'",
    "=1+1",
    "\u{0}",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{feff}",
    "\r",
    "\n",
    "\r\n",
    ";",
    ",",
    "#",
    "yes",
    "no",
    "..",
    "CON",
    "½",
    "½½½",
    "𝟗",
];

/// The text of a file after one to four changes.
pub fn spoiled(text: &str, chance: &mut impl Rng) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..chance.random_range(1..=4) {
        spoil(&mut bytes, chance);
    }
    bytes
}

/// The text of a file in which one to three digits of its tables are others: mostly still a job.
pub fn other_figures(text: &str, chance: &mut impl Rng) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    let digits: Vec<usize> = (0..bytes.len())
        .filter(|&at| bytes[at].is_ascii_digit())
        .collect();
    for _ in 0..chance.random_range(1..=3) {
        if !digits.is_empty() {
            let at = digits[chance.random_range(0..digits.len())];
            bytes[at] = b'0' + chance.random_range(0..10);
        }
    }
    bytes
}

fn spoil(bytes: &mut Vec<u8>, chance: &mut impl Rng) {
    let at = chance.random_range(0..=bytes.len());
    let piece = PIECES[chance.random_range(0..PIECES.len())].as_bytes();
    match chance.random_range(0..7) {
        // One bit of one byte.
        0 if at < bytes.len() => bytes[at] ^= 1 << chance.random_range(0..8),
        1 => bytes.truncate(at),
        2 => drop(bytes.splice(at..at, piece.iter().copied())),
        // A whole cell, or a value behind its key.
        3 | 4 => {
            let ends = |byte: &u8| b",;=:\n".contains(byte);
            let from = bytes[..at].iter().rposition(ends).map_or(0, |end| end + 1);
            let to = bytes[at..].iter().position(ends);
            let to = to.map_or(bytes.len(), |end| at + end);
            drop(bytes.splice(from..to, piece.iter().copied()));
        }
        // A line twice, or not at all.
        5 | 6 => {
            let ends = |byte: &u8| *byte == b'\n';
            let from = bytes[..at].iter().rposition(ends).map_or(0, |end| end + 1);
            let to = bytes[at..].iter().position(ends);
            let to = to.map_or(bytes.len(), |end| at + end + 1);
            let line = bytes[from..to].to_vec();
            let times = if chance.random_bool(0.5) { 2 } else { 0 };
            drop(bytes.splice(from..to, line.repeat(times)));
        }
        _ => {}
    }
}
