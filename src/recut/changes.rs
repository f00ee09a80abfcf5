//! What a recut changes, front by front, and why.

use crate::job::Job;
use crate::measure::Ruler;
use crate::plan::{Blank, BoardPlan, Fate, Plan, Sawn, placed};

use super::Recut;
use super::compare::{compared, look};
use super::why::{no_longer_holds, on_cut};

/// What becomes of one front.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Change {
    /// The front.
    pub front: String,
    /// What becomes of it.
    pub kind: Kind,
    /// Where it was to come from, when that is no longer so.
    pub was: Option<String>,
    /// Where it comes from.
    pub now: Option<String>,
    /// Why it is not where it was; of a front that is cut, what was found on it since.
    pub why: Option<String>,
    /// What to buy, when it can't be made.
    pub buy: Option<String>,
    /// The fronts beside it in its run that are cut or made: what it should look like.
    pub partners: Vec<Partner>,
}

/// What becomes of a front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// It is made.
    Made,
    /// Its blank is cut.
    Cut,
    /// It stays where it is chalked.
    Stays,
    /// Its chalk would have held, but it is better made elsewhere.
    Moved,
    /// It is to be made anew, or for the first time.
    New,
    /// It can't be made.
    NotMade,
}

/// A neighbour a new front should be matched to.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Partner {
    /// The neighbour.
    pub front: String,
    /// Its board, with log, tone and cut as far as they are known.
    pub board: String,
    /// How the new front's board compares.
    #[serde(rename = "match")]
    pub compared: String,
}

/// Every front of the job in file order, and what becomes of it.
pub fn changes(job: &Job, last: &Plan, recut: &Recut) -> Vec<Change> {
    let teller = Teller { job, last, recut };
    (0..job.fronts.len())
        .map(|front| teller.of(front))
        .collect()
}

struct Teller<'a> {
    job: &'a Job,
    last: &'a Plan,
    recut: &'a Recut,
}

impl Teller<'_> {
    fn of(&self, front: usize) -> Change {
        let kind = self.kind(front);
        let fresh = matches!(kind, Kind::Moved | Kind::New);
        let gone = fresh || kind == Kind::NotMade;
        let missing = self.recut.plan.not_made.iter().find(|m| m.front == front);
        let why = match (kind, missing) {
            (Kind::NotMade, Some(missing)) if !missing.why.is_empty() => Some(missing.why.clone()),
            _ if gone => Some(self.why(front, kind)),
            _ => on_cut(self.job, &self.recut.plan, &self.recut.sawn, front),
        };
        Change {
            front: self.job.fronts[front].name.clone(),
            kind,
            was: gone.then(|| self.place(self.last, front)).flatten(),
            now: self.place(&self.recut.plan, front),
            why,
            buy: missing.map(|m| m.buy.clone()).filter(|buy| !buy.is_empty()),
            partners: if fresh {
                self.partners(front)
            } else {
                Vec::new()
            },
        }
    }

    fn kind(&self, front: usize) -> Kind {
        let standing = self.recut.sawn.standing().find(|p| p.blank.front == front);
        match standing.map(|piece| piece.fate) {
            Some(Fate::Made) => return Kind::Made,
            Some(_) => return Kind::Cut,
            None => {}
        }
        if self.recut.plan.not_made.iter().any(|m| m.front == front) {
            Kind::NotMade
        } else if self.recut.moved.contains(&front) {
            Kind::Moved
        } else if self.is_where_it_was(front) {
            Kind::Stays
        } else {
            Kind::New
        }
    }

    fn is_where_it_was(&self, front: usize) -> bool {
        let spots = |plan: &Plan| -> Vec<_> {
            let spots = self.spots(plan, front).into_iter();
            spots
                .map(|(board, b)| {
                    let place = (b.from, b.to, b.low, b.high);
                    (board.board, board.copy, b.stave, place, b.left, b.face)
                })
                .collect()
        };
        spots(self.last) == spots(&self.recut.plan)
    }

    fn spots<'p>(&self, plan: &'p Plan, front: usize) -> Vec<(&'p BoardPlan, &'p Blank)> {
        let of_front = placed(plan).filter(|(.., blank)| blank.front == front);
        of_front
            .map(|(board, _, _, blank)| (board, blank))
            .collect::<Vec<_>>()
    }

    fn why(&self, front: usize, kind: Kind) -> String {
        let lost = |p: &&crate::plan::SawnPiece| p.blank.front == front && !p.stands();
        if let Some((_, violation)) = self.recut.released.iter().find(|(f, _)| *f == front) {
            let spots = self.spots(self.last, front);
            let why = no_longer_holds(self.job, &self.recut.sawn, &spots, violation);
            return format!("its old place no longer holds: {why}");
        }
        if kind == Kind::Moved {
            return "the plan is better by more than leaving its chalk is worth".to_owned();
        }
        if self.spots(self.last, front).is_empty() {
            return match self.last.not_made.iter().any(|m| m.front == front) {
                true => "it could not be made before".to_owned(),
                false => "the last plan does not have it, or not its board".to_owned(),
            };
        }
        if self.recut.sawn.pieces.iter().any(|p| lost(&p)) {
            return "its blank was spoiled".to_owned();
        }
        "the rest of the plan takes its place".to_owned()
    }

    /// Where a plan takes a front from, as a maker finds it with a tape.
    fn place(&self, plan: &Plan, front: usize) -> Option<String> {
        let ruler = self.job.settings.ruler();
        let spots: Vec<String> = self
            .spots(plan, front)
            .into_iter()
            .map(|(board, blank)| self.spot(&ruler, board, blank))
            .collect();
        (!spots.is_empty()).then(|| spots.join("; "))
    }

    fn spot(&self, ruler: &Ruler, planned: &BoardPlan, blank: &Blank) -> String {
        let board = &self.job.boards[planned.board];
        let copies = self.job.boards.iter().filter(|b| b.id == board.id);
        let several = copies.map(|b| b.copies.len()).sum::<usize>() > 1;
        let copy = if several {
            format!(" copy {}", planned.copy)
        } else {
            String::new()
        };
        let stave = if blank.staves > 1 {
            format!("stave {} on ", blank.stave)
        } else {
            String::new()
        };
        format!(
            "{stave}{}{copy}, {} to {} from the hook end, {} to {} from the near edge",
            board.id,
            ruler.show(blank.from),
            ruler.show(blank.to),
            ruler.show(blank.low),
            ruler.show(blank.high),
        )
    }

    /// The nearest front on either side in the run that is cut or made.
    fn partners(&self, front: usize) -> Vec<Partner> {
        let (run, place) = self.job.place_of(front);
        let fronts = &self.job.runs[run].fronts;
        let sawn = &self.recut.sawn;
        let before = fronts[..place].iter().rev().find(|&&f| sawn.is_fixed(f));
        let after = fronts[place + 1..].iter().find(|&&f| sawn.is_fixed(f));
        let own = self
            .spots(&self.recut.plan, front)
            .first()
            .map(|(board, _)| board.board);
        let tell = |&other: &usize| {
            let theirs = board_of(sawn, other)?;
            let (theirs, own) = (&self.job.boards[theirs], &self.job.boards[own?]);
            Some(Partner {
                front: self.job.fronts[other].name.clone(),
                board: look(theirs),
                compared: compared(theirs, own),
            })
        };
        before.into_iter().chain(after).filter_map(tell).collect()
    }
}

fn board_of(sawn: &Sawn, front: usize) -> Option<usize> {
    sawn.standing()
        .find(|piece| piece.blank.front == front)
        .map(|piece| piece.board)
}
