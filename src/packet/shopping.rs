//! What a plan takes that is not there yet: boards on offer, and boards for what can't be made.

use std::collections::BTreeMap;

use crate::draw::board_name;
use crate::job::Job;
use crate::measure::{Length, Volume, thickness_sold};
use crate::milling::least_board;
use crate::plan::{Plan, totals};

/// The boards on offer that a plan uses.
#[derive(Clone, Debug, PartialEq)]
pub struct ToBuy {
    /// Their names, in the order of the plan.
    pub names: Vec<String>,
    /// Their volume in words; boards are bought whole.
    pub volume: String,
    /// Their price.
    pub money: f64,
}

/// What is to be bought for a plan; nothing when it uses no board on offer.
pub fn to_buy(job: &Job, plan: &Plan) -> Option<ToBuy> {
    let offered = plan
        .boards
        .iter()
        .filter(|cut| job.boards[cut.board].price.is_some());
    let names: Vec<String> = offered.clone().map(|cut| board_name(job, cut)).collect();
    let boards = offered.map(|cut| job.volume_of(&job.boards[cut.board]).value());
    let volume = Volume::new(boards.sum()).show(job.settings.unit);
    let money = totals(job, plan, true).money.map_or(0.0, |money| money.buy);
    (!names.is_empty()).then_some(ToBuy {
        names,
        volume,
        money,
    })
}

impl ToBuy {
    /// `buy: Y1, Y4 (13.50 board feet, 94.50)`, without the first word.
    pub fn in_words(&self) -> String {
        let names = self.names.join(", ");
        format!("{names} ({}, {:.2})", self.volume, self.money)
    }
}

/// Least sizes of boards to buy: how wide, then how long.
type Size = (Length, Length);

/// One shopping list for all that a plan does not make, a line a thickness that is sold: boards of
/// one size together, flat and clear, with the fronts each is for.
pub fn shopping_list(job: &Job, plan: &Plan) -> Vec<String> {
    let allowances = &job.settings.allowances;
    let ruler = job.settings.ruler();
    let mut wanted: BTreeMap<Length, BTreeMap<Size, Vec<&str>>> = BTreeMap::new();
    let mut sold: BTreeMap<String, Length> = BTreeMap::new();
    for missing in &plan.not_made {
        let front = &job.fronts[missing.front];
        let least = least_board(&[front], allowances);
        let name = thickness_sold(least.thick, ruler.unit);
        let thick = *sold.entry(name).or_insert(least.thick);
        let sizes = wanted.entry(thick).or_default();
        let size = (least.wide, least.long);
        sizes.entry(size).or_default().push(&front.name);
    }
    let line = |(thick, sizes): (Length, BTreeMap<Size, Vec<&str>>)| {
        let boards = sizes.iter().rev().map(|(&(wide, long), fronts)| {
            format!(
                "{} at least {} wide and {} long ({})",
                fronts.len(),
                ruler.show_with_unit(wide),
                ruler.show_with_unit(long),
                fronts.join(", ")
            )
        });
        let boards: Vec<String> = boards.collect();
        let thick = thickness_sold(thick, ruler.unit);
        format!("{thick}: {}", boards.join("; "))
    };
    wanted.into_iter().map(line).collect()
}
