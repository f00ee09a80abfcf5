//! A row of labels above or below a board, each led to its mark.

use crate::draw::font::Weight;
use crate::draw::shape::{Point, Text};
use crate::draw::sheet::Drawing;
use crate::draw::spread::spread;
use crate::draw::theme;

/// Between a board and the labels, for the leaders.
const LEADERS: f64 = 16.0;
/// A label farther from its mark is hard to follow.
const FAR: f64 = 70.0;
/// Radius of the ring around a mark's number.
pub const RING: f64 = 8.4;

/// What stands in a row.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Its number in the table of marks.
    pub number: Option<usize>,
    /// What it says.
    pub words: String,
    /// Where its mark lies along the sheet.
    pub x: f64,
    /// Where its leader ends: the board's edge, or the thing it names.
    pub y: f64,
    /// Height of its letters.
    pub size: f64,
    /// Bold ones are figures to chalk.
    pub weight: Weight,
}

/// Labels with their places.
#[derive(Clone, Debug, Default)]
pub struct Row {
    labels: Vec<Label>,
    places: Vec<f64>,
    turned: bool,
    /// Whether a label has no place, or one far from its mark.
    pub crowded: bool,
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
    /// Finds places between `low` and `high`: lying if they fit near their marks, else turned.
    ///
    /// When even that is too much the plain labels are left out: they are not chalked.
    pub fn plan(mut labels: Vec<Label>, low: f64, high: f64) -> Row {
        labels.sort_by(|a, b| a.x.total_cmp(&b.x));
        for turned in [false, true] {
            if let Some(row) = Row::try_plan(&labels, turned, low, high) {
                return row;
            }
        }
        labels.retain(|label| label.weight == Weight::Bold);
        let row = Row::try_plan(&labels, true, low, high);
        Row {
            crowded: true,
            ..row.unwrap_or_default()
        }
    }

    fn try_plan(labels: &[Label], turned: bool, low: f64, high: f64) -> Option<Row> {
        let wanted: Vec<f64> = labels.iter().map(|label| label.x).collect();
        let needs: Vec<f64> = labels.iter().map(|label| label.needs(turned)).collect();
        let places = spread(&wanted, &needs, low, high)?;
        let farthest = wanted
            .iter()
            .zip(&places)
            .map(|(want, place)| (want - place).abs())
            .fold(0.0, f64::max);
        (turned || farthest < FAR).then(|| Row {
            labels: labels.to_vec(),
            places,
            turned,
            crowded: farthest > FAR,
        })
    }

    /// Where leaders leave the board, from left to right.
    pub fn leaders(&self) -> impl Iterator<Item = f64> + '_ {
        self.labels.iter().map(|label| label.x)
    }

    /// The numbers of its marks.
    pub fn told(&self) -> impl Iterator<Item = usize> + '_ {
        self.labels.iter().filter_map(|label| label.number)
    }

    /// Height the row takes, leaders included.
    pub fn height(&self) -> f64 {
        let heights = self.labels.iter().map(|label| label.height(self.turned));
        let highest = heights.fold(0.0, f64::max);
        if self.labels.is_empty() {
            0.0
        } else {
            LEADERS + highest + 2.0
        }
    }

    /// Draws the row, its leaders beginning at `edge`.
    pub fn draw(&self, drawing: &mut Drawing, edge: f64, side: Side) {
        let away = match side {
            Side::Above => -1.0,
            Side::Below => 1.0,
        };
        let foot = edge + away * LEADERS;
        for (label, &place) in self.labels.iter().zip(&self.places) {
            let leader = [
                Point::new(label.x, label.y),
                Point::new(label.x, edge + away * 4.0),
                Point::new(place, foot - away * 1.0),
            ];
            drawing.stroke(leader, theme::THIN, theme::INK);
            self.write(drawing, label, (place, foot), side);
        }
    }

    fn write(&self, drawing: &mut Drawing, label: &Label, (x, foot): (f64, f64), side: Side) {
        let away = match side {
            Side::Above => -1.0,
            Side::Below => 1.0,
        };
        let mut foot = foot;
        if let Some(number) = label.number {
            ring(drawing, Point::new(x, foot + away * RING), number);
            foot += away * (2.0 * RING + 2.0);
        }
        let text = label.text();
        let extent = text.extent();
        let (up, down) = (-extent.top, extent.bottom);
        let half_capital = label.size * 0.365;
        drawing.text(match (self.turned, side) {
            (false, Side::Above) => text.middle().at(x, foot - down),
            (false, Side::Below) => text.middle().at(x, foot + up),
            (true, Side::Above) => text.upward().at(x + half_capital, foot),
            (true, Side::Below) => text.upward().end().at(x + half_capital, foot),
        });
    }
}

/// A mark's number in its ring.
pub fn ring(drawing: &mut Drawing, centre: Point, number: usize) {
    let corner = |i: i32| {
        let turn = f64::from(i) * std::f64::consts::TAU / 24.0;
        Point::new(centre.x + RING * turn.cos(), centre.y + RING * turn.sin())
    };
    let corners: Vec<Point> = (0..24).map(corner).collect();
    drawing.area(corners.clone(), theme::PAPER);
    drawing.outline(corners, theme::THIN, theme::INK);
    let base = centre.y + theme::SMALL * 0.365;
    drawing.text(Text::new(number.to_string(), centre.x, base, theme::SMALL).middle());
}

impl Label {
    fn text(&self) -> Text {
        Text {
            weight: self.weight,
            ..Text::new(self.words.as_str(), 0.0, 0.0, self.size)
        }
    }

    fn across(&self) -> f64 {
        let extent = self.text().extent();
        extent.height()
    }

    fn needs(&self, turned: bool) -> f64 {
        let ring = if self.number.is_some() {
            2.0 * RING
        } else {
            0.0
        };
        match turned {
            true => self.across().max(ring) + 2.0,
            false => self.text().length().max(ring) + 7.0,
        }
    }

    fn height(&self, turned: bool) -> f64 {
        let ring = if self.number.is_some() {
            2.0 * RING + 2.0
        } else {
            0.0
        };
        ring + if turned {
            self.text().length()
        } else {
            self.across()
        }
    }
}
