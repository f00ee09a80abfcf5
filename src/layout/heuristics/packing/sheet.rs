//! One board being filled with blanks, in whole numbers: clear wood, one front a blank.

use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::shape::{Shape, StripShape};
use crate::layout::model::stock::Stock;

/// A front to be cut in one piece.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct Blank {
    pub(in crate::layout) item: usize,
    pub(in crate::layout) long: i64,
    pub(in crate::layout) wide: i64,
}

impl Blank {
    pub(in crate::layout) fn area(&self) -> f64 {
        self.long as f64 * self.wide as f64
    }
}

#[derive(Clone, Debug, Default)]
pub(in crate::layout) struct Strip {
    pub(in crate::layout) blanks: Vec<Blank>,
    long: i64,
    wide: i64,
}

#[derive(Clone, Debug, Default)]
pub(in crate::layout) struct Section {
    pub(in crate::layout) strips: Vec<Strip>,
    long: i64,
    wide: i64,
}

/// A board and the blanks on it.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Sheet<'s> {
    pub(in crate::layout) stock: &'s Stock,
    pub(in crate::layout) sections: Vec<Section>,
    long: i64,
    /// Wood left that counts.
    pub(in crate::layout) free: f64,
}

/// A place for one more blank on a sheet.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) enum Spot {
    /// At the end of this strip of this section.
    Strip(usize, usize),
    /// As a strip of this section.
    Beside(usize),
    /// As a section.
    Section,
}

/// How wood that is left counts: by its area, nothing where no blank fits, and more in one piece.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct Scale {
    pub(in crate::layout) cuts: SawRules,
    /// The shortest and the narrowest blank.
    pub(in crate::layout) least_long: i64,
    pub(in crate::layout) least_wide: i64,
    /// What a piece of an unused end, of an edge beside strips, and of a strip's end count.
    pub(in crate::layout) end: f64,
    pub(in crate::layout) edge: f64,
    pub(in crate::layout) strip: f64,
    /// Area of a board.
    pub(in crate::layout) board: f64,
}

/// How much more a piece of wood counts in one than in many.
const WHOLE: f64 = 0.3;

impl Scale {
    /// What a rectangle of wood counts: the larger, the more by the foot.
    fn worth(&self, long: f64, wide: f64) -> f64 {
        let area = long * wide;
        area * (1.0 - WHOLE + WHOLE * (area / self.board).sqrt())
    }

    fn along(&self, long: i64) -> f64 {
        let long = long - self.cuts.crosscut;
        if long < self.least_long {
            0.0
        } else {
            long as f64
        }
    }

    fn across(&self, wide: i64) -> f64 {
        let wide = wide - self.cuts.rip;
        if wide < self.least_wide {
            0.0
        } else {
            wide as f64
        }
    }
}

impl Strip {
    fn of(blank: Blank) -> Strip {
        Strip {
            long: blank.long,
            wide: blank.wide,
            blanks: vec![blank],
        }
    }

    fn measure(&mut self, cuts: &SawRules) {
        let kerfs = cuts.crosscut * (self.blanks.len() as i64 - 1);
        self.long = self.blanks.iter().map(|b| b.long).sum::<i64>() + kerfs;
        self.wide = self.blanks.iter().map(|b| b.wide).max().unwrap_or(0);
    }
}

impl Section {
    fn measure(&mut self, cuts: &SawRules) {
        self.strips.retain(|strip| !strip.blanks.is_empty());
        self.strips.iter_mut().for_each(|strip| strip.measure(cuts));
        let kerfs = cuts.rip * (self.strips.len() as i64 - 1);
        self.long = self.strips.iter().map(|s| s.long).max().unwrap_or(0);
        self.wide = self.strips.iter().map(|s| s.wide).sum::<i64>() + kerfs;
    }

    /// Wood free in its strips, were it `long`.
    fn free_in_strips(&self, scale: &Scale, long: i64) -> f64 {
        let free = self.strips.iter();
        let free = free.map(|s| scale.worth(scale.along(long - s.long), s.wide as f64));
        free.sum::<f64>() * scale.strip
    }
}

impl<'s> Sheet<'s> {
    pub(in crate::layout) fn new(stock: &'s Stock, scale: &Scale) -> Sheet<'s> {
        let mut sheet = Sheet {
            stock,
            sections: Vec::new(),
            long: 0,
            free: 0.0,
        };
        sheet.measure(scale);
        sheet
    }

    /// Finds its lengths and widths again after blanks were taken off.
    pub(in crate::layout) fn measure(&mut self, scale: &Scale) {
        let cuts = &scale.cuts;
        self.sections.iter_mut().for_each(|s| s.measure(cuts));
        self.sections.retain(|section| !section.strips.is_empty());
        let long = self.sections.iter().map(|s| s.long + cuts.crosscut);
        self.long = long.sum::<i64>() - cuts.crosscut;
        self.free = self.free(scale);
    }

    fn free(&self, scale: &Scale) -> f64 {
        let sections = self.sections.iter();
        let sections =
            sections.map(|s| self.beside(scale, s.long, s.wide) + s.free_in_strips(scale, s.long));
        self.end(scale, self.long) + sections.sum::<f64>()
    }

    /// What the end left of `long` counts.
    fn end(&self, scale: &Scale, long: i64) -> f64 {
        scale.end
            * scale.worth(
                scale.along(self.stock.usable() - long),
                self.stock.width as f64,
            )
    }

    /// What the edge beside strips `wide` of a section `long` counts.
    fn beside(&self, scale: &Scale, long: i64, wide: i64) -> f64 {
        scale.edge
            * scale.worth(
                long as f64,
                scale.across(self.room_across(scale, long) - wide),
            )
    }

    fn room_across(&self, scale: &Scale, long: i64) -> i64 {
        self.stock.width - 2 * self.stock.edge_loss(&scale.cuts, long)
    }

    /// Every place for the blank, with how much less wood is left that counts.
    pub(in crate::layout) fn spots(
        &self,
        blank: &Blank,
        scale: &Scale,
        found: &mut dyn FnMut(Spot, f64),
    ) {
        let most = self.stock.widest[blank.item];
        if most == 0 || most < blank.wide {
            return;
        }
        for (at, section) in self.sections.iter().enumerate() {
            self.spots_in(section, at, blank, scale, found);
        }
        let long = self.long + scale.cuts.crosscut + blank.long;
        if long <= self.stock.usable() && blank.wide <= self.room_across(scale, blank.long) {
            let after = self.end(scale, long) + self.beside(scale, blank.long, blank.wide);
            found(Spot::Section, self.end(scale, self.long) - after);
        }
    }

    fn spots_in(
        &self,
        section: &Section,
        at: usize,
        blank: &Blank,
        scale: &Scale,
        found: &mut dyn FnMut(Spot, f64),
    ) {
        let cuts = &scale.cuts;
        let now = self.end(scale, self.long)
            + self.beside(scale, section.long, section.wide)
            + section.free_in_strips(scale, section.long);
        // What is left when the section is this long and its strips this wide.
        let after = |long: i64, wide: i64| {
            let all = self.long + long - section.long;
            let fits = all <= self.stock.usable() && wide <= self.room_across(scale, long);
            fits.then(|| {
                self.end(scale, all)
                    + self.beside(scale, long, wide)
                    + section.free_in_strips(scale, long)
            })
        };
        for (place, strip) in section.strips.iter().enumerate() {
            let grown = strip.long + cuts.crosscut + blank.long;
            let long = section.long.max(grown);
            let wider = (blank.wide - strip.wide).max(0);
            if let Some(after) = after(long, section.wide + wider) {
                let in_strip = scale.worth(scale.along(long - grown), (strip.wide + wider) as f64)
                    - scale.worth(scale.along(long - strip.long), strip.wide as f64);
                found(Spot::Strip(at, place), now - after - in_strip * scale.strip);
            }
        }
        let long = section.long.max(blank.long);
        if let Some(after) = after(long, section.wide + cuts.rip + blank.wide) {
            let in_strip = scale.worth(scale.along(long - blank.long), blank.wide as f64);
            found(Spot::Beside(at), now - after - in_strip * scale.strip);
        }
    }

    pub(in crate::layout) fn put(&mut self, spot: Spot, blank: Blank, scale: &Scale) {
        match spot {
            Spot::Strip(section, strip) => self.sections[section].strips[strip].blanks.push(blank),
            Spot::Beside(section) => self.sections[section].strips.push(Strip::of(blank)),
            Spot::Section => self.sections.push(Section {
                strips: vec![Strip::of(blank)],
                ..Section::default()
            }),
        }
        self.measure(scale);
    }

    pub(in crate::layout) fn blanks(&self) -> impl Iterator<Item = &Blank> + '_ {
        let strips = self.sections.iter().flat_map(|section| &section.strips);
        strips.flat_map(|strip| &strip.blanks)
    }

    /// The pattern's shape.
    pub(in crate::layout) fn shape(&self) -> Shape {
        let strip = |strip: &Strip| StripShape {
            width: strip.wide,
            items: strip.blanks.iter().map(|blank| blank.item).collect(),
            narrower: Vec::new(),
        };
        let section = |section: &Section| section.strips.iter().map(strip).collect();
        self.sections.iter().map(section).collect()
    }
}
