//! `wishes.csv`: the wishes in force, one a row.

use crate::job::fault::{Fault, Faults};
use crate::job::table::{Columns, Table};
use crate::job::{Job, Wish};

/// The columns of `wishes.csv`.
pub(in crate::job) const COLUMNS: Columns = Columns {
    required: &["wish"],
    optional: &["notes"],
};

/// Reads all rows and makes the job ask for each.
pub(super) fn read(table: &Table, job: &mut Job, faults: &mut Faults) -> Vec<Wish> {
    let mut wishes = Vec::new();
    for line in table.lines() {
        let Some(text) = line.need("wish", faults, |cell| Ok(cell.text().to_owned())) else {
            continue;
        };
        let mut asking = job.clone();
        match Wish::parse(job, &text).and_then(|wish| wish.ask(&mut asking).map(|()| wish)) {
            Ok(wish) => {
                *job = asking;
                wishes.push(wish);
            }
            Err(trouble) => faults.push(Fault::new(line.place("wish"), trouble)),
        }
    }
    wishes
}
