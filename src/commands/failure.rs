//! Why a command did not do its job.

use std::fmt::Write as _;
use std::io;
use std::path::PathBuf;

use crate::estimate::Obstacle;
use crate::job::Faults;
use crate::measure::Unit;
use crate::plan::{PlanFault, Violation};
use crate::recut::BegunFault;

/// Why a command did not do its job.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// The job's files have faults.
    #[error("{}", faults_found(.0))]
    Faults(Faults),
    /// Files are in the way that the maker may have written.
    #[error("{} already there in {}: {}; --force overwrites", are(.names), .folder.display(), .names.join(", "))]
    InTheWay {
        /// The folder.
        folder: PathBuf,
        /// The files in it.
        names: Vec<String>,
    },
    /// Planning by money when no board has a price.
    #[error(
        "--by money needs a `price` for the boards on offer, and no board in boards.csv has one"
    )]
    NoPrices,
    /// A purchase that can't be read.
    #[error("`--have {written}` can't be read: write {}", purchases(*.unit))]
    NoPurchase {
        /// What was written.
        written: String,
        /// The job's unit.
        unit: Unit,
    },
    /// A limit in board feet on a job in millimetres, or the other way round.
    #[error("this job counts {}: --most-{}", .unit.volumes(), if *.unit == Unit::Mm { "litres" } else { "feet" })]
    OtherVolumes {
        /// The job's unit.
        unit: Unit,
    },
    /// No plan within the maker's limits was found.
    #[error("{0}")]
    Limits(String),
    /// Fronts that no board of the yard could make.
    #[error("{}", no_board_makes(.0))]
    Obstacles(Vec<Obstacle>),
    /// An estimate that was stopped before it knew anything.
    #[error(
        "not one random pile was bought to its end before this was stopped: give it more with --time"
    )]
    NoTrial,
    /// A short list when no board has a price.
    #[error(
        "--short-list ranks boards on offer, and no board in boards.csv has a `price` to be on offer by"
    )]
    NothingOnOffer,
    /// Planning anew when some of the job is cut already.
    #[error(
        "some of this job is cut already (done.csv): `grainrow recut` plans the rest; --force plans all of it anew, and forgets what is cut"
    )]
    AlreadyBegun,
    /// A wish after the first cut.
    #[error(
        "some of this job is cut already (done.csv): what a wish costs is told before the first cut. Write it into wishes.csv, and `grainrow recut` keeps it for what is not cut"
    )]
    WishAfterCut,
    /// A wish to drop that is not in force.
    #[error("the wish `{wish}` is not in force; those in wishes.csv: {}", if .known.is_empty() { "none" } else { .known.as_str() })]
    NoWish {
        /// The wish.
        wish: String,
        /// Those in force.
        known: String,
    },
    /// No photographs of the job's boards.
    #[error(
        "there are no photographs of these boards: put pictures named after them (C7.jpg) into the job's folder photos, or name them in photos.csv; `grainrow photo --help` says how to take them"
    )]
    NoPhotos,
    /// There is no plan to go on from.
    #[error("there is no plan in {}: `grainrow plan` makes one", .out.display())]
    NoPlan {
        /// The output folder.
        out: PathBuf,
    },
    /// There is no plan to go back to.
    #[error("there is no earlier plan in {}", .out.join("before").display())]
    NoEarlierPlan {
        /// The output folder.
        out: PathBuf,
    },
    /// The present plan can't be read.
    #[error("{}: {}", .path.display(), lines(.faults))]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        faults: Vec<PlanFault>,
    },
    /// What is marked as done does not go with the present plan.
    #[error("{}", lines(.0))]
    Begun(Vec<BegunFault>),
    /// Going back to a plan that has what was cut since elsewhere.
    #[error(
        "the earlier plan can't hold any more: {} {} cut since, where it has other wood",
        .fronts.join(", "), if .fronts.len() == 1 { "was" } else { "were" }
    )]
    CutSince {
        /// The fronts.
        fronts: Vec<String>,
    },
    /// The checker refused the plan: a fault of this program.
    #[error("{}", rejected(.0))]
    Rejected(Vec<Violation>),
    /// A plan changed by hand breaks rules.
    #[error(
        "nothing was written: this plan breaks {}\n{}",
        if .0.len() == 1 { "a rule" } else { "rules" }, lines(.0)
    )]
    BreaksRules(Vec<Violation>),
    /// Another command is at work in the output folder.
    #[error(
        "another grainrow is at work in {}: run this again when it has ended", .out.display()
    )]
    Busy {
        /// The output folder.
        out: PathBuf,
    },
    /// A way within the output folder that leads out of it.
    #[error(
        "{} leads out of the output folder, and grainrow writes only within it: remove the link, or choose another folder with --out", .path.display()
    )]
    Leads {
        /// The link.
        path: PathBuf,
    },
    /// What should be a plan half put in its place is not as grainrow writes it.
    #[error(
        "{} is not as grainrow writes it, so nothing was touched: look at what is in {}, then remove that folder", .path.display(), .folder.display()
    )]
    NotOurs {
        /// The file.
        path: PathBuf,
        /// The folder it stands in.
        folder: PathBuf,
    },
    /// A file beside the job's own could not be read.
    #[error("{} could not be read: {why}", .path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// What the system says.
        why: io::Error,
    },
    /// An output could not be written.
    #[error("{} could not be written: {why}", .path.display())]
    Write {
        /// The file or folder.
        path: PathBuf,
        /// What the system says.
        why: io::Error,
    },
}

impl From<Faults> for Failure {
    fn from(faults: Faults) -> Failure {
        Failure::Faults(faults)
    }
}

fn purchases(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "board feet such as 60, or 5/4=20 for one thickness",
        Unit::Mm => "cubic metres such as 0.15, or 27=0.06 for one thickness",
    }
}

fn lines<T: std::fmt::Display>(faults: &[T]) -> String {
    let lines: Vec<String> = faults.iter().map(T::to_string).collect();
    lines.join("\n")
}

fn are(names: &[String]) -> &'static str {
    if names.len() == 1 {
        "a file is"
    } else {
        "files are"
    }
}

/// What stands for a file in faults of what was typed.
pub(super) const TYPED: &str = "the command line";

fn faults_found(faults: &Faults) -> String {
    let found = || faults.iter().filter(|fault| !fault.is_warning());
    let place = match found().all(|fault| fault.place.file() == TYPED) {
        true => "what was typed",
        false => "the job's files",
    };
    match found().count() {
        1 => format!("1 fault in {place}"),
        many => format!("{many} faults in {place}"),
    }
}

fn no_board_makes(obstacles: &[Obstacle]) -> String {
    let mut text = String::from("no board of the yard that [yard] in job.toml describes makes");
    for obstacle in obstacles {
        // Writing to a string can't fail.
        let _ = write!(text, "\n  {obstacle}");
    }
    text
}

fn rejected(violations: &[Violation]) -> String {
    let mut text = String::from(
        "the plan found breaks its own rules, so nothing was written. This is a fault of \
         grainrow, not of your job: please report it with the job's folder and these lines:",
    );
    for violation in violations {
        // Writing to a string can't fail.
        let _ = write!(text, "\n  {violation}");
    }
    text
}
