//! Tones measured by photographs: what `photo` last wrote into `out/photos.json`.

use std::collections::BTreeMap;

use crate::measure::Tone;

/// The tones that photographs told, by board and copy.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct PhotoTones(BTreeMap<(String, u32), Tone>);

#[derive(serde::Deserialize)]
struct Measured {
    boards: Vec<BoardMeasured>,
}

#[derive(serde::Deserialize)]
struct BoardMeasured {
    board: String,
    copy: u32,
    tone: f64,
}

impl PhotoTones {
    /// Those of a file; none when it is not as `photo` writes it.
    pub(super) fn read(text: &str) -> PhotoTones {
        let measured = serde_json::from_str::<Measured>(text).map(|measured| measured.boards);
        let mut tones = BTreeMap::new();
        for row in measured.unwrap_or_default() {
            if let Some(tone) = Tone::new(row.tone) {
                // The side that is up stands first and counts.
                tones.entry((row.board, row.copy)).or_insert(tone);
            }
        }
        PhotoTones(tones)
    }

    /// The tone of a copy of a board.
    pub(super) fn of(&self, board: &str, copy: u32) -> Option<Tone> {
        self.0.get(&(board.to_owned(), copy)).copied()
    }
}
