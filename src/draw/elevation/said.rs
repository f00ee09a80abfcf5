//! What is written on a front: its name, its board, how dark that is.

use super::pulls::Pulls;
use crate::draw::font::{self, Weight};
use crate::draw::shape::{Ink, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;

/// What is written on a front.
pub struct Said<'a> {
    /// Its name.
    pub front: &'a str,
    /// Its boards.
    pub boards: String,
    /// Their tone; nothing where they differ.
    pub tone: String,
}

impl Said<'_> {
    /// Writes it where it can be largest, clear of the pulls; its words are larger than usual by a
    /// factor.
    pub fn draw(
        &self,
        drawing: &mut Drawing,
        (rect, larger): (Rect, f64),
        pulls: &Pulls,
        paper: Ink,
    ) {
        let room = rect.inset(2.0);
        let mut best: Option<Vec<Text>> = None;
        for free in pulls.free(room) {
            let lines = self.lines(free, larger);
            let size = |texts: &Vec<Text>| texts[0].size;
            if lines.as_ref().map_or(0.0, size) > best.as_ref().map_or(0.0, size) + 0.1 {
                best = lines;
            }
        }
        let best = best.or_else(|| self.lines(room, larger));
        let texts = best.or_else(|| self.one_line(room, larger));
        for text in texts.into_iter().flatten() {
            drawing.text_on(text, paper);
        }
    }

    /// The name, and the board below it; nothing where there is no room for two lines.
    fn lines(&self, room: Rect, larger: f64) -> Option<Vec<Text>> {
        if room.height() <= 19.0 {
            return None;
        }
        let centre = room.centre();
        let most = (room.height() * 0.42).clamp(theme::LEAST, 12.0 * larger);
        let fit = |words: &str, weight, most| font::fit(words, weight, room.width(), most, 4.0);
        let large = fit(self.front, Weight::Bold, most)?;
        let usual = (large * 0.8).min(8.0 * larger);
        let with_tone = format!("{}, {}", self.boards, self.tone);
        let told = match self.tone.is_empty() {
            true => None,
            false => fit(&with_tone, Weight::Regular, usual).filter(|size| *size > usual * 0.7),
        };
        let (words, small) = match told {
            Some(size) => (with_tone, size),
            None => {
                let size = fit(&self.boards, Weight::Regular, usual)?;
                (self.boards.clone(), size)
            }
        };
        let first = Text::new(self.front, centre.x, centre.y - 0.5, large).bold();
        // Below what hangs down from a large name, too.
        let clear = large * font::DESCENT + small * font::CAPITAL + 0.2;
        let base = centre.y + (small + 1.0).max(clear);
        let second = Text::new(words, centre.x, base, small);
        Some(vec![first.middle(), second.middle()])
    }

    /// All in one line, smaller if need be; upward on a narrow front.
    fn one_line(&self, room: Rect, larger: f64) -> Option<Vec<Text>> {
        let centre = room.centre();
        let both = format!("{} · {}", self.front, self.boards);
        let upward = room.height() > room.width();
        let (along, across) = match upward {
            true => (room.height(), room.width()),
            false => (room.width(), room.height()),
        };
        let most = (across * 0.8).min(9.0 * larger);
        // Some of the grain beside the words, if they stay legible.
        let tries = [
            (both.as_str(), 0.7, theme::LEAST),
            (&both, 1.0, theme::LEAST),
            (self.front, 1.0, theme::LEAST),
            (&both, 1.0, 3.5),
            (self.front, 1.0, 3.5),
            (&self.boards, 1.0, 3.5),
        ];
        tries.into_iter().find_map(|(words, share, least)| {
            let size = font::fit(words, Weight::Bold, along * share, most, least)?;
            let aside = size * 0.36;
            let text = match upward {
                true => Text::new(words, centre.x + aside, centre.y, size).upward(),
                false => Text::new(words, centre.x, centre.y + aside, size),
            };
            Some(vec![text.bold().middle()])
        })
    }
}
