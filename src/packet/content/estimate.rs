//! What an estimate said, beside the plan of the boards that were bought.

use super::super::document::{Block, Column, Part, Picture, Table};
use super::super::phrase::Phrase;
use crate::draw;
use crate::estimate::{Bought, Estimate, LOSS_NOTE, Percentile, amount, fine_amount};
use crate::job::Job;
use crate::measure::Unit;

/// The estimate's part of the packet: the feet to buy, both charts, and where they come from.
pub fn estimate_part(job: &Job, estimate: &Estimate) -> Part {
    let ruler = job.settings.ruler();
    let tallied = match estimate.unit {
        Unit::Inch => "tallied as the trade does",
        Unit::Mm => "measured as they are",
    };
    let mut part = Part::new("estimate", "How much to buy");
    part.table(feet(estimate));
    part.blocks.push(Block::Picture(Picture::of(ruler, |_| {
        draw::feet_to_buy(estimate)
    })));
    part.blocks.push(Block::Picture(Picture::of(ruler, |ruler| {
        draw::need_of_runs(estimate, ruler)
    })));
    part.text(
        format!(
            "From {} random piles, seed {}, of {}. Boards are bought as they come and {tallied}, until the fast planner makes every front with no break that could be \
             spared. {LOSS_NOTE} Figures in brackets are 95 % intervals. Net and so many per cent is a rule of \
             thumb: common practice, no source.",
            estimate.trials, estimate.seed, estimate.yard
        )
        .as_str(),
    );
    part
}

fn feet(estimate: &Estimate) -> Table {
    let unit = estimate.unit;
    let mut columns = vec![Column::words("buy")];
    for head in ["in the fronts", "in the blanks"] {
        columns.push(Column::figures(head));
    }
    for told in &estimate.all.feet {
        columns.push(Column::figures(&format!("{} %", told.percent)));
    }
    let row = |name: &str, net: f64, rough: f64, need: &Bought| -> Vec<Phrase> {
        let feet = [net, rough].map(|wood| fine_amount(unit, wood));
        let cells = std::iter::once(name.to_owned()).chain(feet);
        let cells = cells.chain(need.feet.iter().map(|told| shown(told, unit)));
        cells.map(|cell| Phrase::from(cell.as_str())).collect()
    };
    let lots = estimate.lots.iter();
    let mut rows: Vec<_> = lots
        .map(|lot| row(&lot.thickness, lot.net, lot.rough, &lot.need))
        .collect();
    if rows.len() != 1 {
        rows.push(row("all", estimate.net, estimate.rough, &estimate.all));
    }
    Table {
        caption: match unit {
            Unit::Inch => "Board feet, and how sure so many suffice",
            Unit::Mm => "Cubic metres, and how sure so much suffices",
        }
        .to_owned(),
        columns,
        rows,
        ..Table::default()
    }
}

fn shown(told: &Percentile, unit: Unit) -> String {
    let end = |value: Option<f64>| value.map_or("?".to_owned(), |value| amount(unit, value));
    match told.value {
        None => "not reached".to_owned(),
        Some(_) => format!("{} ({}-{})", end(told.value), end(told.low), end(told.high)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::{Ask, Silent};
    use crate::job::generate::{Size, generate};
    use crate::measure::Length;

    #[test]
    fn the_part_holds_the_table_and_both_charts() {
        let mut job = generate(Size::new(3, 3, 1), 2);
        for front in &mut job.fronts {
            front.width = front.width.min(Length::from_inches(20.0));
        }
        let ask = Ask {
            trials: 20,
            ..Ask::default()
        };
        let estimate = crate::estimate::estimate(&job, &ask, &Silent).unwrap();
        let part = estimate_part(&job, &estimate);
        let pictures = part
            .blocks
            .iter()
            .filter(|b| matches!(b, Block::Picture(_)));
        assert_eq!(pictures.count(), 2);
        let Block::Table(table) = &part.blocks[0] else {
            panic!("a table comes first");
        };
        assert!(
            table
                .rows
                .iter()
                .all(|row| row.len() == table.columns.len())
        );
        let json = serde_json::to_string(&estimate).unwrap();
        let read: Estimate = serde_json::from_str(&json).unwrap();
        // Numbers come back to the last digit but one.
        assert_eq!(read.all.feet, estimate.all.feet);
        assert!((read.net - estimate.net).abs() < 1e-9);
    }
}
