//! A row of labels above or below a board, each led to its mark.

use crate::draw::font::Weight;
use crate::draw::shape::{Ink, Point, Text};
use crate::draw::sheet::Drawing;
use crate::draw::spread::spread;
use crate::draw::theme;

/// Between a tape and the labels, for the leaders.
pub const LEADERS: f64 = 12.0;

/// What stands in a row.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What it says.
    pub words: String,
    /// Where its mark lies along the sheet.
    pub x: f64,
    /// Where its leader ends: the tape, or the thing it names.
    pub y: f64,
    /// Bold marks are cut first.
    pub weight: Weight,
}

/// Labels with their places.
#[derive(Clone, Debug, Default)]
pub struct Row {
    labels: Vec<Label>,
    places: Vec<f64>,
    size: f64,
    turned: bool,
}

/// On which side of the board a row stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Above it.
    Above,
    /// Below it.
    Below,
}

impl Row {
    /// Finds places between `low` and `high`: lying if they fit, turned if not, then smaller.
    ///
    /// When even that is too much the regular labels are left out: they are in the table.
    pub fn plan(mut labels: Vec<Label>, low: f64, high: f64) -> Row {
        labels.sort_by(|a, b| a.x.total_cmp(&b.x));
        let sizes = [theme::MARK, theme::NOTE, theme::LEAST];
        let lying = sizes[..2].iter().map(|&size| (size, false));
        let turned = sizes.iter().map(|&size| (size, true));
        for (size, turned) in lying.chain(turned) {
            if let Some(row) = Row::try_plan(&labels, size, turned, low, high) {
                return row;
            }
        }
        labels.retain(|label| label.weight == Weight::Bold);
        Row::try_plan(&labels, theme::LEAST, true, low, high).unwrap_or_default()
    }

    fn try_plan(labels: &[Label], size: f64, turned: bool, low: f64, high: f64) -> Option<Row> {
        let wanted: Vec<f64> = labels.iter().map(|label| label.x).collect();
        let needs: Vec<f64> = labels
            .iter()
            .map(|label| match turned {
                true => size * 1.15,
                false => label.text(size).length() + size * 0.7,
            })
            .collect();
        let places = spread(&wanted, &needs, low, high)?;
        let farthest = wanted
            .iter()
            .zip(&places)
            .map(|(want, place)| (want - place).abs())
            .fold(0.0, f64::max);
        // A lying label far from its mark is harder to follow than a turned one beside it.
        (turned || farthest < 60.0).then(|| Row {
            labels: labels.to_vec(),
            places,
            size,
            turned,
        })
    }

    /// Height the row takes, leaders included.
    pub fn height(&self) -> f64 {
        if self.labels.is_empty() {
            return 0.0;
        }
        let longest = self
            .labels
            .iter()
            .map(|label| label.text(self.size).length())
            .fold(0.0, f64::max);
        LEADERS + 2.0 + if self.turned { longest } else { self.size }
    }

    /// Draws the row, its leaders beginning at `edge`, the outer edge of the tape.
    pub fn draw(&self, drawing: &mut Drawing, edge: f64, side: Side) {
        let away = match side {
            Side::Above => -1.0,
            Side::Below => 1.0,
        };
        let foot = edge + away * LEADERS;
        for (label, &place) in self.labels.iter().zip(&self.places) {
            let leader = [
                Point::new(label.x, label.y),
                Point::new(label.x, edge + away * 2.5),
                Point::new(place, foot - away * 1.5),
            ];
            drawing.stroke(leader, 0.5, theme::FAINT);
            drawing.text(self.text(label, place, foot, side));
        }
    }

    fn text(&self, label: &Label, place: f64, foot: f64, side: Side) -> Text {
        let text = label.text(self.size);
        let half_capital = self.size * 0.36;
        match (self.turned, side) {
            (false, Side::Above) => text.middle().at(place, foot - 1.5),
            (false, Side::Below) => text.middle().at(place, foot + self.size * 0.73 + 1.0),
            (true, Side::Above) => text.upward().at(place + half_capital, foot),
            (true, Side::Below) => text.upward().end().at(place + half_capital, foot),
        }
    }
}

impl Label {
    fn text(&self, size: f64) -> Text {
        Text {
            weight: self.weight,
            ..Text::new(self.words.as_str(), 0.0, 0.0, size).ink(Ink::BLACK)
        }
    }
}
