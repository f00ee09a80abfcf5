//! The fitting sheet in tables: what the fronts measure, and their gaps.

use super::Both;
use super::columns::{figures, name, table};
use super::cuts::{arches, bevels, curve, pulls, wedges};
use crate::fit::{Fitted, Season, sizes, square_within};
use crate::job::{Edges, Grain, Mode};
use crate::measure::Length;
use crate::packet::content::same::{grouped, said_once};
use crate::packet::document::{Block, Column, Table};
use crate::packet::phrase::Phrase;

/// The four edges as the heads of tables name them.
const EDGES: [&str; 4] = ["left", "right", "top", "bottom"];

/// All figures of the sheet, table by table, in the order they are wanted.
pub fn blocks(sheets: &Both) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut add = |heading: &str, how: &str, table: Table| {
        if table.rows.is_empty() {
            return;
        }
        let (table, same) = said_once(Table {
            caption: heading.to_owned(),
            bench: true,
            ..table
        });
        let same = same.map(|same| Phrase::from("The same in all lines: ").and(same).words("."));
        let words: Vec<Phrase> = [(!how.is_empty()).then(|| how.into()), same]
            .into_iter()
            .flatten()
            .collect();
        blocks.push(Block::Heading(heading.to_owned()));
        if !words.is_empty() {
            blocks.push(Block::Text(Phrase::join(words, " ")));
        }
        if table.columns.len() > 1 {
            blocks.push(Block::Table(table));
        }
    };
    add("Sizes", "", finished(sheets));
    add("Wedges, cut by cut", WEDGE_HEADS, wedges(sheets));
    add("Gaps", "", gaps(sheets));
    add("Bevels", "", bevels(sheets));
    add("Arched tops", ARCHES, arches(sheets));
    add("Heights of the curve", "", curve(sheets));
    add("Pulls", PULLS, pulls(sheets));
    blocks
}

const WEDGE_HEADS: &str = "So much off at one end, to nothing over the length of the cut; a shim so \
    thick, so far along the fence; where the front lies on a batten, how long that edge of it is.";
const ARCHES: &str = "The blank is as wide and as high as the front, its bottom edge straight.";
const PULLS: &str = "The pull line stands above the bottom edge; holes are left or right of the \
    centre line, and from each edge as given.";

/// What each front and its opening measure.
pub fn finished(sheets: &Both) -> Table {
    let columns = [
        figures("finished", &["wide", "high", "thick"]),
        figures("edges of the front", &EDGES),
        figures("diagonals", &["up", "down"]),
        figures("opening, as measured", &EDGES),
        figures("its diagonals", &["up", "down"]),
        figures("flat between the bevels", &["wide", "high", "lower side"]),
        ["grain", "sawn"].map(Column::words).to_vec(),
    ];
    let rows = sheets.inch.fronts.iter().map(|fitted| {
        let show = |length: Length| sheets.length(length);
        let maybe = |length: Option<Length>| length.map(show).unwrap_or_default();
        let (sides, diagonals) = sizes(fitted);
        let measured = fitted.opening.map(|opening| opening.measured);
        let flat = fitted.bevel.as_ref().and_then(|bevel| bevel.flat);
        let lower = flat.filter(|flat| flat.lowest < flat.height - square_within());
        let mut row = vec![name(fitted)];
        row.extend([fitted.width(), fitted.height(), fitted.thickness].map(show));
        row.extend(in_order(&sides).map(show));
        row.extend(diagonals.map(show));
        row.extend(match measured {
            Some(m) => [m.left, m.right, m.top, m.bottom].map(show),
            None => Default::default(),
        });
        row.extend([
            maybe(measured.and_then(|m| m.diagonal_up)),
            maybe(measured.and_then(|m| m.diagonal_down)),
            maybe(flat.map(|flat| flat.width)),
            maybe(flat.map(|flat| flat.height)),
            maybe(lower.map(|flat| flat.lowest)),
            match fitted.grain {
                Grain::Horizontal => "horizontal".into(),
                Grain::Vertical => "vertical".into(),
            },
            fitted.cut.map(|cut| cut.word().into()).unwrap_or_default(),
        ]);
        row
    });
    table(columns.concat(), rows.collect())
}

fn in_order<T: Copy>(edges: &Edges<T>) -> [T; 4] {
    [edges.left, edges.right, edges.top, edges.bottom]
}

/// The gaps of today and of the seasons; fronts that have the same stand in one line.
pub fn gaps(sheets: &Both) -> Table {
    let today = ["left", "right", "top", "bottom"];
    let season = ["moisture", "moves", "left", "right", "top", "bottom"];
    let mut columns = vec![Column::words("given as")];
    columns.extend(figures("today", &today));
    columns.extend(figures("driest", &season));
    columns.extend(figures("dampest", &season));
    let rows = sheets.inch.fronts.iter().filter_map(|fitted| {
        let of = |season: Season| match fitted.opening {
            Some(_) => in_order(&fitted.movement.gaps(season))
                .map(|gap| sheets.length(Length::from_mm(gap))),
            None => Default::default(),
        };
        if fitted.opening.is_none() && fitted.seasons.is_none() {
            return None;
        }
        let what = match fitted.mode {
            Mode::Inset => "shim",
            Mode::Overlay => "overlap",
        };
        let mut cells = vec![Phrase::from(what)];
        cells.extend(of(Season::Today));
        for season in [Season::Driest, Season::Wettest] {
            let Some(seasons) = fitted.seasons else {
                cells.extend(<[Phrase; 6]>::default());
                continue;
            };
            cells.push(seasons.moisture(season).to_string().into());
            cells.push(moves(sheets, fitted, season));
            cells.extend(of(season));
        }
        Some((fitted.name.clone(), cells))
    });
    let rows = grouped(rows.collect(), sheets.inch.fronts.len());
    table(columns, rows)
}

/// `+3/64 high`: what a season makes of a front.
fn moves(sheets: &Both, fitted: &Fitted, season: Season) -> Phrase {
    let growth = Length::from_mm(fitted.movement.growth(season));
    let sign = match growth >= Length::ZERO {
        true => "+ ",
        false => "− ",
    };
    let across = match fitted.grain {
        Grain::Horizontal => " high",
        Grain::Vertical => " wide",
    };
    let amount = Length::from_nm(growth.nm().abs());
    Phrase::from(sign).and(sheets.length(amount)).words(across)
}
