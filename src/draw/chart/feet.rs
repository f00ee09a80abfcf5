//! Board feet to buy against the confidence that they suffice.

use super::axis::{Scale, marks};
use crate::draw::shape::{Ink, Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::estimate::{Bought, Estimate, Percentile, amount, asked};
use crate::measure::Unit;

/// Height of the chart itself.
const TALL: f64 = 300.0;
/// Room left of the chart for its numbers, and right of it for names.
const LEFT: f64 = 52.0;
const RIGHT: f64 = 150.0;
const TOP: f64 = 44.0;
/// Lines of two names closer than this would touch.
const NAME: f64 = 10.0;

struct Chart<'e> {
    estimate: &'e Estimate,
    sheet: Drawing,
    across: Scale,
    up: Scale,
    /// Names to set right of the chart: where they belong, and the words.
    names: Vec<(f64, String, bool)>,
}

/// How many board feet suffice in what share of the piles, for all thicknesses together and for
/// each; the rule of thumb and the purchases asked about as dashed lines.
pub fn feet_to_buy(estimate: &Estimate) -> Drawing {
    let title = match estimate.unit {
        Unit::Inch => "Board feet to buy, and how sure they suffice",
        Unit::Mm => "Wood to buy, and how sure it suffices",
    };
    let mut chart = Chart {
        estimate,
        sheet: Drawing::new(theme::WIDTH, title),
        across: Scale {
            from: 0.0,
            to: 100.0,
            start: LEFT,
            end: theme::WIDTH - RIGHT,
        },
        up: Scale {
            from: 0.0,
            to: 1.0,
            start: TOP + TALL,
            end: TOP,
        },
        names: Vec::new(),
    };
    chart.sheet.height = TOP + TALL + 40.0;
    chart.frame(title);
    chart.level_lines();
    if estimate.lots.len() > 1 {
        for lot in &estimate.lots {
            chart.curve(&lot.need, &lot.thickness, false);
        }
    }
    chart.curve(&estimate.all, "all together", true);
    chart.intervals();
    chart.set_names();
    chart.sheet
}

impl Chart<'_> {
    fn most(&self) -> f64 {
        let told = self.estimate.all.feet.iter();
        let told = told.filter_map(|p| p.high.or(p.value));
        let lots = self.estimate.lots.iter().map(|lot| &lot.need);
        let drawn = lots.chain([&self.estimate.all]);
        let curve = drawn.flat_map(|b| b.curve.iter().filter_map(|point| point.1));
        let thumb = self.estimate.thumb.iter().map(|thumb| thumb.feet);
        let have = self.estimate.have.iter().map(|have| have.feet);
        let all = told.chain(curve).chain(thumb).chain(have);
        all.fold(1.0, f64::max)
    }

    fn frame(&mut self, title: &str) {
        let unit = self.estimate.unit;
        let marks = marks(self.most() * 1.04, 8);
        self.up.to = marks[marks.len() - 1];
        let sheet = &mut self.sheet;
        sheet.text(Text::new(title, theme::MARGIN, 18.0, theme::TITLE).bold());
        let (left, right) = (self.across.start, self.across.end);
        for &feet in &marks {
            let y = self.up.at(feet);
            let ink = if feet == 0.0 {
                theme::INK
            } else {
                theme::WASTE
            };
            sheet.line(Point::new(left, y), Point::new(right, y), 0.6, ink);
            sheet.text(Text::new(asked(unit, feet), left - 6.0, y + 3.0, theme::MARK).end());
        }
        let bottom = self.up.start;
        for percent in [0.0, 20.0, 50.0, 80.0, 90.0, 95.0] {
            let x = self.across.at(percent);
            sheet.line(
                Point::new(x, bottom),
                Point::new(x, bottom + 4.0),
                0.6,
                theme::INK,
            );
            sheet.text(Text::new(format!("{percent}"), x, bottom + 14.0, theme::MARK).middle());
        }
        let middle = (left + right) / 2.0;
        let words = "per cent of piles in which so much suffices";
        sheet.text(Text::new(words, middle, bottom + 29.0, theme::MARK).middle());
        sheet.text(Text::new(
            unit.bulk(),
            theme::MARGIN,
            TOP - 8.0,
            theme::MARK,
        ));
    }

    /// The rule of thumb and the purchases, as dashed lines across.
    fn level_lines(&mut self) {
        let thumb = self.estimate.thumb.iter();
        let thumb = thumb.map(|t| (t.feet, format!("net and {} %", t.percent)));
        let have = self
            .estimate
            .have
            .iter()
            .filter(|have| have.thickness.is_none());
        let have = have.map(|have| {
            (
                have.feet,
                format!("{} bought", asked(self.estimate.unit, have.feet)),
            )
        });
        for (feet, words) in thumb.chain(have) {
            let y = self.up.at(feet);
            let (left, right) = (self.across.start, self.across.end);
            self.sheet.dashes(
                Point::new(left, y),
                Point::new(right, y),
                5.0,
                0.9,
                theme::FAINT,
            );
            self.names.push((y, words, false));
        }
    }

    fn curve(&mut self, bought: &Bought, name: &str, bold: bool) {
        let mut points: Vec<Point> = Vec::new();
        for (percent, feet) in steps(bought) {
            let Some(feet) = feet else { break };
            let spot = Point::new(self.across.at(percent), self.up.at(feet));
            // Feet come in whole boards: the curve is a stair.
            let before = points.last().map_or(self.across.start, |last| last.x);
            points.push(Point::new(before, spot.y));
            points.push(spot);
        }
        let Some(&last) = points.last() else { return };
        let (width, ink) = if bold {
            (2.2, theme::INK)
        } else {
            (1.2, theme::FAINT)
        };
        self.sheet.stroke(points, width, ink);
        self.names.push((last.y, name.to_owned(), bold));
    }

    /// The percentiles told, each with its interval and its feet.
    fn intervals(&mut self) {
        for told in &self.estimate.all.feet {
            let Percentile {
                percent,
                value: Some(value),
                low,
                high,
            } = *told
            else {
                continue;
            };
            let x = self.across.at(percent);
            let (low, high) = (low.unwrap_or(value), high.unwrap_or(value));
            let ends = [low, high].map(|feet| self.up.at(feet));
            self.sheet.line(
                Point::new(x, ends[0]),
                Point::new(x, ends[1]),
                1.4,
                theme::INK,
            );
            for y in ends {
                self.sheet.line(
                    Point::new(x - 3.0, y),
                    Point::new(x + 3.0, y),
                    1.4,
                    theme::INK,
                );
            }
            let dot = Rect::new(x, self.up.at(value), x, self.up.at(value)).inset(-2.4);
            self.sheet.fill(dot, theme::INK);
            let words = Text::new(self.told(value), x - 5.0, ends[1] - 5.0, theme::MARK);
            self.sheet.text_on(words.bold().end(), Ink::WHITE);
        }
    }

    /// A figure of the estimate: board feet are whole already.
    fn told(&self, value: f64) -> String {
        match self.estimate.unit {
            Unit::Inch => format!("{value}"),
            Unit::Mm => amount(Unit::Mm, value),
        }
    }

    /// Names beside the ends of their lines, pushed apart where they would touch.
    fn set_names(&mut self) {
        let mut names = std::mem::take(&mut self.names);
        names.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut above = f64::INFINITY;
        for (y, words, bold) in names {
            let base = (y + 3.0).min(above - NAME);
            above = base;
            let text = Text::new(words, self.across.end + 6.0, base, theme::MARK);
            self.sheet.text(if bold { text.bold() } else { text });
        }
    }
}

/// The curve's steps, those of the percentiles told among them: their signs stand on the curve.
pub(super) fn steps(bought: &Bought) -> Vec<(f64, Option<f64>)> {
    let told = bought.feet.iter().map(|told| (told.percent, told.value));
    let mut steps: Vec<_> = bought.curve.iter().copied().chain(told).collect();
    steps.sort_by(|a, b| a.0.total_cmp(&b.0));
    steps.dedup_by_key(|step| step.0);
    steps
}
