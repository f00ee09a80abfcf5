//! From a job's files to a [`Job`] whose parts fit together, or to every fault in them.

pub(super) mod boards;
mod case;
mod case_trouble;
pub(super) mod defects;
pub(super) mod done;
mod findings;
pub(super) mod fronts;
pub(super) mod openings;
mod photo_tones;
mod photo_trouble;
pub(super) mod photos;
mod runs;
mod slip;
mod slips;
mod trouble;
pub(super) mod wishes;

pub use case_trouble::CaseTrouble;
pub use openings::OpeningTrouble;
pub use photo_trouble::PhotoTrouble;
pub use slip::Slip;
pub use trouble::{BoardTrouble, DefectTrouble, DoneTrouble, FrontTrouble, NoBoard};

use std::path::Path;
use std::sync::Arc;

use super::fault::{Faults, Source};
use super::files::{
    BOARDS_CSV, DEFECTS_CSV, DONE_CSV, FRONTS_CSV, JOB_TOML, JobFiles, KNOWN_FILES, OPENINGS_CSV,
    PHOTOS_CSV, PHOTOS_JSON, WISHES_CSV,
};
use super::table::Table;
use super::{Done, Front, Job, Photo, Settings, Wish};
use photo_tones::PhotoTones;

/// A job that can be used, and what its maker should know about it.
#[derive(Clone, Debug, Default)]
pub struct Reading {
    /// The job.
    pub job: Job,
    /// What has been done in the shop so far.
    pub done: Done,
    /// Photographs of its boards, in file order.
    pub photos: Vec<Photo>,
    /// Wishes in force, in file order: the job asks for all of them.
    pub wishes: Vec<Wish>,
    /// What the fronts and boards ask without the wishes.
    pub(crate) asked: Asked,
    /// Warnings: nothing that keeps the job from being planned.
    pub findings: Faults,
}

/// What fronts and boards ask of a plan, apart from sizes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Asked {
    fronts: Vec<(Vec<String>, Vec<String>, bool)>,
    left_out: Vec<bool>,
}

impl Asked {
    fn of(job: &Job) -> Asked {
        let fronts = job.fronts.iter();
        let asks = |f: &Front| (f.boards.clone(), f.not_boards.clone(), f.with_next);
        Asked {
            fronts: fronts.map(asks).collect(),
            left_out: job.boards.iter().map(|board| board.left_out).collect(),
        }
    }
}

impl Reading {
    /// The job as it would be without any wish.
    pub fn without_wishes(&self) -> Job {
        let mut job = self.job.clone();
        for (front, asked) in job.fronts.iter_mut().zip(&self.asked.fronts) {
            (front.boards, front.not_boards, front.with_next) = asked.clone();
        }
        for (board, left_out) in job.boards.iter_mut().zip(&self.asked.left_out) {
            board.left_out = *left_out;
        }
        job
    }

    /// Whether every front can be made by some board, as far as sizes alone tell.
    pub fn all_can_be_made(&self) -> bool {
        !self
            .findings
            .iter()
            .any(|finding| finding.trouble.keeps_a_front())
    }
}

/// Which files a command can't do without.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Needs {
    /// Boards and fronts.
    #[default]
    Boards,
    /// Fronts only: boards are read when they are there.
    Fronts,
    /// Boards and fronts; tones that photographs are to tell need not be known yet.
    Photos,
}

/// Reads and checks the job in a folder.
///
/// # Errors
/// Every fault found in its files.
pub fn read(folder: &Path) -> Result<Reading, Faults> {
    JobFiles::read(folder)?.parse()
}

impl JobFiles {
    /// Checks the files and makes a job of them.
    ///
    /// # Errors
    /// Every fault found, in file order.
    pub fn parse(&self) -> Result<Reading, Faults> {
        self.parse_for(Needs::Boards)
    }

    /// The same for a command that may do without some files.
    ///
    /// # Errors
    /// Every fault found, in file order.
    pub fn parse_for(&self, needs: Needs) -> Result<Reading, Faults> {
        let mut faults = Faults::new();
        let mut job = self.job(needs, &mut faults);
        let asked = Asked::of(&job);
        let wishes = self.wishes(&mut job, &mut faults);
        let done = self.done(&job, &mut faults);
        let photos = self.photos(&job, &mut faults);
        faults.sort(&KNOWN_FILES);
        if faults.forbid_use() {
            return Err(faults);
        }
        Ok(Reading {
            job,
            done,
            photos,
            wishes,
            asked,
            findings: faults,
        })
    }

    /// What is done. A job with faults of its own may lack fronts and boards only because of
    /// them, so its `done.csv` is not held against it.
    fn done(&self, job: &Job, faults: &mut Faults) -> Done {
        let Some(source) = self.get(DONE_CSV, faults) else {
            return Done::default();
        };
        let table = Table::read(&source, &done::COLUMNS, job.settings.unit, faults);
        if faults.forbid_use() {
            return Done::default();
        }
        done::read(&table, job, faults)
    }

    /// The wishes in force. Where the files have faults of their own, fronts and boards may lack only because
    /// of them.
    fn wishes(&self, job: &mut Job, faults: &mut Faults) -> Vec<Wish> {
        let Some(source) = self.get(WISHES_CSV, faults) else {
            return Vec::new();
        };
        let table = Table::read(&source, &wishes::COLUMNS, job.settings.unit, faults);
        if faults.forbid_use() {
            return Vec::new();
        }
        wishes::read(&table, job, faults)
    }

    /// Which pictures show which boards. A job with faults of its own may lack boards only because
    /// of them.
    fn photos(&self, job: &Job, faults: &mut Faults) -> Vec<Photo> {
        let Some(source) = self.get(PHOTOS_CSV, faults) else {
            return photos::by_name(self.pictures(), &job.boards);
        };
        let table = Table::read(&source, &photos::COLUMNS, job.settings.unit, faults);
        if faults.forbid_use() {
            return Vec::new();
        }
        photos::read(&table, &job.boards, &job.settings, faults)
    }

    fn job(&self, needs: Needs, faults: &mut Faults) -> Job {
        let settings = match self.need(JOB_TOML, faults) {
            Some(source) => Settings::read(&source, faults),
            None => Settings::default(),
        };
        let boards = match needs {
            Needs::Boards | Needs::Photos => self.need(BOARDS_CSV, faults),
            Needs::Fronts => self.get(BOARDS_CSV, faults),
        };
        let (defects, fronts) = (self.get(DEFECTS_CSV, faults), self.need(FRONTS_CSV, faults));
        let openings = self.get(OPENINGS_CSV, faults);
        let mut table = |source: Option<Arc<Source>>, columns| {
            Some(Table::read(&source?, columns, settings.unit, faults))
        };
        let tables = Tables {
            boards: table(boards, &boards::COLUMNS),
            defects: table(defects, &defects::COLUMNS),
            fronts: table(fronts, &fronts::COLUMNS),
            openings: table(openings, &openings::COLUMNS),
        };
        let tones = PhotoTones::read(self.text(PHOTOS_JSON).unwrap_or(""));
        let tones = (needs == Needs::Boards).then_some(tones);
        fit_together(settings, &tables, tones.as_ref(), faults)
    }
}

/// The tables of a job that are there.
struct Tables {
    boards: Option<Table>,
    defects: Option<Table>,
    fronts: Option<Table>,
    openings: Option<Table>,
}

fn fit_together(
    settings: Settings,
    tables: &Tables,
    tones: Option<&PhotoTones>,
    faults: &mut Faults,
) -> Job {
    let boards = tables.boards.as_ref();
    let mut board_rows = boards.map(|table| boards::read(table, settings.ruler(), faults));
    if let (Some(rows), Some(table)) = (&mut board_rows, &tables.defects) {
        defects::read(table, rows, settings.ruler(), faults);
    }
    let known = board_rows.as_deref();
    let fronts = tables.fronts.as_ref();
    let front_rows = fronts.map(|table| fronts::read(table, known, faults));
    let front_rows = front_rows.unwrap_or_default();
    let gathered = runs::gather(&front_rows, &settings.glue, faults);
    let fitting = &settings.fitting;
    case::check(&settings, &front_rows, &gathered, faults);
    openings::check_arches(&fitting.arches, &front_rows, &gathered.fronts, faults);
    let openings = tables.openings.as_ref().map(|table| {
        let ruled = fitting.bevel.is_some();
        openings::read(table, &front_rows, &gathered.fronts, ruled, faults)
    });
    let board_rows = board_rows.unwrap_or_default();
    if !faults.forbid_use() {
        slips::collect(&settings, tables, &board_rows, &front_rows, faults);
    }
    let volumes = settings.pricing.volumes(settings.unit);
    if let Some(tones) = tones {
        boards::check_tones(&board_rows, tones, faults);
    }
    let mut boards = boards::kinds(board_rows, tones);
    for board in &mut boards {
        // Written per board foot or cubic metre, reckoned with per board foot or litre.
        board.price = board.price.map(|price| price / volumes);
    }
    let job = Job {
        settings,
        boards,
        fronts: gathered.fronts,
        runs: gathered.runs,
        openings: openings.unwrap_or_default(),
    };
    if !faults.forbid_use() {
        findings::collect(&job, &front_rows, &gathered.row_of, faults);
    }
    job
}

#[cfg(test)]
mod case_tests;
#[cfg(test)]
mod photo_tests;
#[cfg(test)]
mod tests;
