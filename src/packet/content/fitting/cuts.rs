//! The fitting sheet in tables: what is cut, drawn and bored.

use super::Both;
use super::columns::{figures, name, table};
use crate::fit::{Fitted, HeldBy, Hole, Ordinate, ToFence, Wedge, edge_list};
use crate::job::Edge;
use crate::measure::{Length, Ruler, Unit};
use crate::packet::content::same::grouped;
use crate::packet::document::{Column, Table};
use crate::packet::phrase::Phrase;

/// A line a cut, in the order they are made.
pub fn wedges(sheets: &Both) -> Table {
    let columns = [
        Column::words("cut"),
        Column::words("edge"),
        Column::figures("off"),
        Column::words("at the"),
        Column::figures("over"),
        Column::words("to the fence"),
        Column::figures("shim"),
        Column::figures("shim exactly"),
        Column::figures("shim at"),
        Column::figures("batten"),
    ];
    let row = |fitted: &Fitted, index: usize, wedge: &Wedge| {
        let count = fitted.wedges.len();
        let sled = wedge.held_by != HeldBy::Line;
        let on_sled = |cell: Phrase| if sled { cell } else { Phrase::default() };
        let batten = match wedge.held_by {
            HeldBy::Batten => sheets.length(wedge.against),
            _ => Phrase::default(),
        };
        vec![
            name(fitted),
            format!("{} of {count}", index + 1).into(),
            wedge.edge.word().into(),
            sheets.length(wedge.take_off),
            end(wedge.thick_end).into(),
            sheets.length(wedge.over),
            match sled {
                true => fence(wedge.to_fence).into(),
                false => "plane to a line".into(),
            },
            on_sled(sheets.say(|ruler| shim(ruler, wedge.shim).0)),
            on_sled(sheets.say(|ruler| shim(ruler, wedge.shim).1)),
            on_sled(sheets.length(wedge.fence)),
            batten,
        ]
    };
    let fronts = sheets.inch.fronts.iter();
    let rows = fronts.flat_map(|fitted| {
        let wedges = fitted.wedges.iter().enumerate();
        wedges.map(move |(index, wedge)| row(fitted, index, wedge))
    });
    table(columns.to_vec(), rows.collect())
}

/// A shim's thickness, and in inches its thousandths, which a caliper shows.
fn shim(ruler: &Ruler, shim: Length) -> (String, String) {
    match ruler.unit {
        Unit::Inch => (ruler.show(shim), format!("{:.3}", shim.inches())),
        Unit::Mm => (format!("{:.2}", shim.mm()), String::new()),
    }
}

fn end(edge: Edge) -> &'static str {
    match edge {
        Edge::Left => "left end",
        Edge::Right => "right end",
        Edge::Top => "top",
        Edge::Bottom => "bottom",
    }
}

fn fence(edge: ToFence) -> &'static str {
    match edge {
        ToFence::Left => "left end",
        ToFence::Right => "right end",
        ToFence::Top => "top",
        ToFence::Bottom => "bottom",
    }
}

/// How the bevels are cut; fronts that have the same stand in one line.
pub fn bevels(sheets: &Both) -> Table {
    let mut columns = vec![Column::words("edges")];
    columns.extend(figures(
        "",
        &["in on the face", "down at the edge", "edge left"],
    ));
    columns.extend(figures(
        "blade",
        &["tilted, degrees", "gauge on the table", "high"],
    ));
    let rows = sheets.inch.fronts.iter().filter_map(|fitted| {
        let bevel = fitted.bevel.as_ref()?;
        let cells = vec![
            edge_list(&bevel.on).join(", ").into(),
            sheets.length(bevel.bevel.face),
            sheets.length(bevel.bevel.drop),
            sheets.length(bevel.edge_left),
            format!("{:.1}", bevel.bevel.angle).into(),
            format!("{:.1}", bevel.bevel.gauge()).into(),
            sheets.length(bevel.bevel.face),
        ];
        Some((fitted.name.clone(), cells))
    });
    let rows = grouped(rows.collect(), sheets.inch.fronts.len());
    table(columns, rows)
}

/// Where each arch is struck from.
pub fn arches(sheets: &Both) -> Table {
    let mut columns = vec![Column::words("slice of"), Column::figures("radius")];
    columns.push(Column::figures("arch's middle from the lower left"));
    columns.extend(figures(
        "heights",
        &["left corner", "right corner", "crest"],
    ));
    let rows = sheets.inch.fronts.iter().filter_map(|fitted| {
        let arch = fitted.arch.as_ref()?;
        let side = match arch.centre_line >= Length::ZERO {
            true => " to the right",
            false => " to the left",
        };
        let off = Length::from_nm(arch.centre_line.nm().abs());
        Some(vec![
            name(fitted),
            arch.shared.as_deref().unwrap_or_default().into(),
            sheets.length(arch.radius),
            sheets.length(off).words(side),
            sheets.length(arch.left),
            sheets.length(arch.right),
            arch.crest
                .map(|crest| sheets.length(crest))
                .unwrap_or_default(),
        ])
    });
    table(columns, rows.collect())
}

/// A figure of a curve's point, in millimetres.
type Figure = fn(&Ordinate) -> f64;

/// So many heights of a curve stand in a line.
const IN_A_LINE: usize = 18;

/// The heights of the curves from one end to the other: below how far from the arch's middle and from
/// the left corner each is, the height.
pub fn curve(sheets: &Both) -> Table {
    let arches = || {
        let fronts = sheets.inch.fronts.iter();
        fronts.flat_map(|fitted| fitted.arch.iter().map(move |arch| (fitted, arch)))
    };
    let most = arches().map(|(_, arch)| arch.ordinates.len()).max();
    let count = most.map_or(0, |most| most.div_ceil(most.div_ceil(IN_A_LINE).max(1)));
    let mut columns = vec![Column::words("what")];
    columns.extend((1..=count).map(|point| Column::figures(&point.to_string())));
    let mut rows = Vec::new();
    for (fitted, arch) in arches() {
        for some in arch.ordinates.chunks(count) {
            let lines: [(&str, Figure); 3] = [
                ("from the middle", |ordinate| ordinate.from_centre),
                ("from the left", |ordinate| ordinate.from_left),
                ("height", |ordinate| ordinate.height),
            ];
            rows.extend(lines.map(|(what, figure)| {
                let figures = some.iter().map(figure).map(Length::from_mm);
                let figures = figures.map(|figure| signed(sheets, figure));
                let padded = figures.chain(std::iter::repeat(Phrase::default()));
                let cells = padded.take(count);
                let head = [name(fitted), Phrase::from(what)];
                head.into_iter().chain(cells).collect()
            }));
        }
    }
    table(columns, rows)
}

/// A length, its minus apart from a fraction's bar.
fn signed(sheets: &Both, length: Length) -> Phrase {
    match length < Length::ZERO {
        true => Phrase::from("− ").and(sheets.length(Length::ZERO - length)),
        false => sheets.length(length),
    }
}

/// A line a pull, its holes from left to right.
pub fn pulls(sheets: &Both) -> Table {
    let hole = ["centre line", "left end", "right end", "top"];
    let mut columns = figures("", &["pull", "pull line", "holes", "apart"]);
    columns.extend(figures("first hole from", &hole));
    columns.extend(figures("second hole from", &hole));
    let fronts = sheets.inch.fronts.iter();
    let rows = fronts.flat_map(|fitted| {
        let marks = fitted.pulls.iter();
        marks.flat_map(move |marks| {
            let last = marks.holes.last().map_or(0, |hole| hole.pull);
            (1..=last).map(move |pull| {
                let mut row = vec![
                    name(fitted),
                    if last > 1 {
                        pull.to_string().into()
                    } else {
                        Phrase::default()
                    },
                    sheets.length(marks.level),
                    sheets.length(marks.diameter),
                    marks
                        .spacing
                        .map(|apart| sheets.length(apart))
                        .unwrap_or_default(),
                ];
                let mut holes = marks.holes.iter().filter(|hole| hole.pull == pull);
                for _ in 0..2 {
                    row.extend(hole_cells(sheets, holes.next()));
                }
                row
            })
        })
    });
    table(columns, rows.collect())
}

fn hole_cells(sheets: &Both, hole: Option<&Hole>) -> [Phrase; 4] {
    let Some(hole) = hole else {
        return Default::default();
    };
    let side = match hole.from_centre.nm() {
        0 => "",
        nm if nm < 0 => " left",
        _ => " right",
    };
    let off = Length::from_nm(hole.from_centre.nm().abs());
    [
        sheets.length(off).words(side),
        sheets.length(hole.to_edge.left),
        sheets.length(hole.to_edge.right),
        sheets.length(hole.to_edge.top),
    ]
}
