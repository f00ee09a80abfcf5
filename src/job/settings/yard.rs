//! `[yard]`: what boards the lumber yard tends to have.

use super::{Cells, Keys, Section};
use crate::job::fault::{Fault, Trouble};
use crate::job::grade::Grade;
use crate::job::table::Cell;
use crate::measure::{Length, Ruler, Tone, Unit};

/// What boards the lumber yard tends to have.
#[derive(Clone, Debug, PartialEq)]
pub struct Yard {
    /// Thicknesses on sale, thinnest first.
    pub thickness: Vec<OnSale>,
    /// How long boards are.
    pub length: Mix<Length>,
    /// How wide boards are.
    pub width: Mix<Length>,
    /// Their grade.
    pub grade: Grade,
    /// How dark they are.
    pub tone: Span<Tone>,
    /// Hollow along the whole board.
    pub bow: Span<Length>,
    /// Hollow across the whole board.
    pub cup: Span<Length>,
    /// Wind over the whole board.
    pub twist: Span<Length>,
    /// Sideways bend over the whole board.
    pub crook: Span<Length>,
    /// Boards of each thickness that are looked through to choose from; 0: they are bought as they come.
    pub look_through: i64,
}

/// Most boards anyone looks through.
pub const MOST_LOOKED_THROUGH: i64 = 400;

/// A thickness on sale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnSale {
    /// Rough thickness.
    pub thickness: Length,
    /// Price of a board foot, or of a litre in a metric job, where it is known.
    pub price: Option<f64>,
}

/// From the least to the most, both included, all as likely.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Span<T> {
    /// The least.
    pub least: T,
    /// The most.
    pub most: T,
}

/// Spans and how often each is met. Never empty; the shares are above zero together.
#[derive(Clone, Debug, PartialEq)]
pub struct Mix<T> {
    /// Each span with its share.
    pub parts: Vec<(Span<T>, f64)>,
}

impl<T: Copy + PartialOrd> Mix<T> {
    /// One span alone.
    pub fn of(least: T, most: T) -> Mix<T> {
        Mix {
            parts: vec![(Span { least, most }, 1.0)],
        }
    }

    /// The spans that are met at all.
    fn met(&self) -> impl Iterator<Item = &Span<T>> {
        self.parts.iter().filter(|p| p.1 > 0.0).map(|p| &p.0)
    }

    /// The least of all.
    pub fn least(&self) -> T {
        let least = |a: T, b: T| if b < a { b } else { a };
        let first = self.parts[0].0.least;
        self.met().map(|s| s.least).reduce(least).unwrap_or(first)
    }

    /// The most of all.
    pub fn most(&self) -> T {
        let most = |a: T, b: T| if b > a { b } else { a };
        let first = self.parts[0].0.most;
        self.met().map(|s| s.most).reduce(most).unwrap_or(first)
    }
}

impl Yard {
    /// Whether the price of every thickness on sale is known.
    pub fn priced(&self) -> bool {
        self.thickness.iter().all(|t| t.price.is_some())
    }
}

/// What can be wrong in `[yard]`, beyond a single value.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum YardTrouble {
    /// A span that ends before it begins.
    #[error("its least is above its most")]
    LeastAboveMost,
    /// Nothing to draw from.
    #[error("it is empty: there is nothing to choose from")]
    Empty,
    /// Boards too small for their grade.
    #[error("boards that {what} are not graded {grade}")]
    TooSmall {
        /// "short" or "narrow".
        what: &'static str,
        /// The grade.
        grade: &'static str,
        /// The least the grade asks for.
        least: String,
    },
    /// Warp that no board of the yard could have.
    #[error("the smallest boards are {size} {dimension}, and can't be so far from straight")]
    Warp {
        /// The least length or width.
        size: String,
        /// `long` or `wide`.
        dimension: &'static str,
    },
    /// A price for what is not on sale.
    #[error("that thickness is not on sale")]
    NotOnSale,
    /// A thickness named twice.
    #[error("that thickness is named twice")]
    Twice,
}

impl Trouble for YardTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            YardTrouble::LeastAboveMost => "the least first, such as \"6 to 10\"".into(),
            YardTrouble::Empty => "at least one, with a share above zero".into(),
            YardTrouble::TooSmall { least, .. } => format!("{least} or more"),
            YardTrouble::Warp { size, .. } => format!("less than {size}"),
            YardTrouble::NotOnSale => "one of those listed at `thickness`".into(),
            YardTrouble::Twice => "each thickness once".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            YardTrouble::TooSmall { .. } => {
                Some("raise the least, or set `grade` to one that is sold that small".into())
            }
            _ => None,
        }
    }
}

impl Section for Yard {
    const NAME: &'static str = "yard";

    fn read(&mut self, keys: &mut Keys<'_>) {
        self.read_thickness(keys);
        self.read_price(keys);
        let size = |cell: &Cell| cell.size();
        read_mix(keys, "length", &mut self.length, size);
        read_mix(keys, "width", &mut self.width, size);
        keys.choice("grade", &mut self.grade);
        read_span(keys, "tone", &mut self.tone, |cell| Ok(cell.tone()?.0));
        let distance = |cell: &Cell| cell.distance();
        read_span(keys, "bow", &mut self.bow, distance);
        read_span(keys, "cup", &mut self.cup, distance);
        read_span(keys, "twist", &mut self.twist, distance);
        read_span(keys, "crook", &mut self.crook, distance);
        keys.whole(
            "look_through",
            0..=MOST_LOOKED_THROUGH,
            &mut self.look_through,
        );
        self.check_grade(keys);
        self.check_warp(keys);
    }
}

impl Yard {
    /// Warp that would leave no board of the smallest there are.
    fn check_warp(&self, keys: &mut Keys<'_>) {
        let ruler = Ruler::of(keys.unit());
        let (long, wide) = ((self.length.least(), "long"), (self.width.least(), "wide"));
        for (key, warp, (size, dimension)) in [
            ("bow", self.bow, long),
            ("cup", self.cup, wide),
            ("twist", self.twist, wide),
            ("crook", self.crook, wide),
        ] {
            if warp.most >= size {
                let size = ruler.show_with_unit(size);
                keys.fault_at(key, YardTrouble::Warp { size, dimension });
            }
        }
    }

    fn read_thickness(&mut self, keys: &mut Keys<'_>) {
        let expected = match keys.unit() {
            Unit::Inch => "a thickness such as \"4/4\", or a list of them",
            Unit::Mm => "a thickness such as 27, or a list of them",
        };
        let cells = match keys.cells("thickness", expected) {
            Some(Cells::One(cell)) => vec![cell],
            Some(Cells::List(cells)) => cells,
            Some(Cells::Named(..)) => {
                return keys.wrong_kind("thickness", expected);
            }
            None => return,
        };
        let mut on_sale: Vec<OnSale> = Vec::new();
        for cell in &cells {
            let Some(thickness) = keys.keep(cell.thickness()) else {
                continue;
            };
            if on_sale.iter().any(|t| t.thickness == thickness) {
                keys.keep::<()>(Err(cell.fault(YardTrouble::Twice)));
                continue;
            }
            let price = None;
            on_sale.push(OnSale { thickness, price });
        }
        on_sale.sort_by_key(|t| t.thickness);
        match (cells.is_empty(), on_sale.is_empty()) {
            (true, _) => keys.fault_at("thickness", YardTrouble::Empty),
            (false, false) => self.thickness = on_sale,
            (false, true) => {}
        }
    }

    fn read_price(&mut self, keys: &mut Keys<'_>) {
        /// No wood costs more; beyond it a number is a slip.
        const PRICE: std::ops::RangeInclusive<f64> = 0.0..=1e6;
        let expected = match keys.unit() {
            Unit::Inch => "a number, or one for each thickness: { \"4/4\" = 9.5, \"5/4\" = 11 }",
            Unit::Mm => "a number, or one for each thickness: { 27 = 2400, 34 = 2600 }",
        };
        match keys.cells("price", expected) {
            Some(Cells::One(cell)) => {
                if let Some(price) = keys.keep(cell.number(PRICE)) {
                    self.thickness
                        .iter_mut()
                        .for_each(|t| t.price = Some(price));
                }
            }
            Some(Cells::Named(pairs)) => {
                for (name, cell) in pairs {
                    let named = keys.keep(name.thickness());
                    let price = keys.keep(cell.number(PRICE));
                    let Some(named) = named else { continue };
                    match self.thickness.iter_mut().find(|t| t.thickness == named) {
                        Some(on_sale) => on_sale.price = price,
                        None => {
                            keys.keep::<()>(Err(name.fault(YardTrouble::NotOnSale)));
                        }
                    }
                }
            }
            Some(Cells::List(_)) => keys.wrong_kind("price", expected),
            None => {}
        }
    }

    fn check_grade(&self, keys: &mut Keys<'_>) {
        let grade = self.grade.name();
        let (width, length) = self.grade.least_board();
        let sizes = [
            ("width", "narrow", self.width.least(), width),
            ("length", "short", self.length.least(), length),
        ];
        for (key, what, written, least) in sizes {
            if written < least {
                let least = keys.ruler().show_with_unit(least);
                keys.fault_at(key, YardTrouble::TooSmall { what, grade, least });
            }
        }
    }
}

const SPAN: &str = "a span such as \"6 to 10\"";
const MIX: &str = "a span such as \"6 to 10\", or spans with their shares: \
                   { \"6 to 8\" = 3, \"8 to 10\" = 1 }";

fn read_span<T: Copy + PartialOrd>(
    keys: &mut Keys<'_>,
    key: &'static str,
    slot: &mut Span<T>,
    read: impl Fn(&Cell) -> Result<T, Fault>,
) {
    match keys.cells(key, SPAN) {
        Some(Cells::One(cell)) => {
            if let Some(span) = keys.keep(span(&cell, read)) {
                *slot = span;
            }
        }
        Some(_) => keys.wrong_kind(key, SPAN),
        None => {}
    }
}

fn read_mix<T: Copy + PartialOrd>(
    keys: &mut Keys<'_>,
    key: &'static str,
    slot: &mut Mix<T>,
    read: impl Fn(&Cell) -> Result<T, Fault>,
) {
    let mut parts = Vec::new();
    let mut whole = true;
    match keys.cells(key, MIX) {
        Some(Cells::One(cell)) => match keys.keep(span(&cell, read)) {
            Some(span) => parts.push((span, 1.0)),
            None => return,
        },
        Some(Cells::Named(pairs)) => {
            for (name, share) in pairs {
                let span = keys.keep(span(&name, &read));
                let share = keys.keep(share.number(0.0..=1e6));
                match (span, share) {
                    (Some(span), Some(share)) => parts.push((span, share)),
                    _ => whole = false,
                }
            }
        }
        Some(Cells::List(_)) => return keys.wrong_kind(key, MIX),
        None => return,
    }
    if !whole {
        return;
    }
    if parts.iter().all(|part| part.1 <= 0.0) {
        return keys.fault_at(key, YardTrouble::Empty);
    }
    *slot = Mix { parts };
}

/// `6 to 10`, `6..10`, or one value alone.
fn span<T: Copy + PartialOrd>(
    cell: &Cell,
    read: impl Fn(&Cell) -> Result<T, Fault>,
) -> Result<Span<T>, Fault> {
    let text = cell.text();
    let ends = text.split_once(" to ").or_else(|| text.split_once(".."));
    let (least, most) = match ends {
        Some((least, most)) => (read(&cell.part(least))?, read(&cell.part(most))?),
        None => {
            let only = read(cell)?;
            (only, only)
        }
    };
    if least > most {
        return Err(cell.fault(YardTrouble::LeastAboveMost));
    }
    Ok(Span { least, most })
}

/// Thicknesses on sale: quarters, or those of sawn hardwood in Europe (27, 34, 41, 54 mm: French
/// yards' series, from memory).
const ON_SALE: [(f64, f64); 4] = [(1.0, 27.0), (1.25, 34.0), (1.5, 41.0), (2.0, 54.0)];

impl Yard {
    /// A yard in round numbers of `unit`.
    pub fn of(unit: Unit) -> Yard {
        let size = |inches, mm| Length::round_in(unit, inches, mm);
        let on_sale = ON_SALE.map(|(inches, mm)| OnSale {
            thickness: size(inches, mm),
            price: None,
        });
        let span = |inches, mm| Span {
            least: Length::ZERO,
            most: size(inches, mm),
        };
        let tone = |value: f64| Tone::new(value).unwrap_or_default();
        Yard {
            look_through: 0,
            thickness: on_sale.to_vec(),
            length: Mix::of(size(96.0, 2500.0), size(144.0, 3600.0)),
            width: Mix::of(size(6.0, 150.0), size(10.0, 250.0)),
            grade: Grade::Fas,
            tone: Span {
                least: tone(3.0),
                most: tone(7.0),
            },
            bow: span(0.25, 6.0),
            cup: span(0.0625, 2.0),
            twist: span(0.125, 3.0),
            crook: span(0.25, 6.0),
        }
    }
}

impl Default for Yard {
    fn default() -> Yard {
        Yard::of(Unit::Inch)
    }
}
