//! What a maker wants in the plan beside the best of it, as it is written: `3a=C5`, `C9=out`.

use std::fmt;

use super::fault::{Trouble, nearest};
use super::{Board, Front, Job};

/// A wish, and what it says of the job.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// As the maker wrote it.
    pub text: String,
    /// What it asks.
    pub asks: Asks,
}

/// What a wish asks. Fronts are indices into `Job::fronts`.
#[derive(Clone, Debug, PartialEq)]
pub enum Asks {
    /// These fronts come from this board.
    From {
        /// One front, or all of a run.
        fronts: Vec<usize>,
        /// By `Board::id`.
        board: String,
    },
    /// These fronts do not come from this board.
    NotFrom {
        /// One front, or all of a run.
        fronts: Vec<usize>,
        /// By `Board::id`.
        board: String,
    },
    /// This board is left out.
    Out {
        /// By `Board::id`.
        board: String,
    },
    /// Neighbours of a run stay in one stretch.
    Together {
        /// The earlier of the two.
        first: usize,
        /// The next of its run.
        second: usize,
    },
}

/// What can be wrong with a wish.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WishTrouble {
    /// None of the ways to write one.
    #[error("this is no wish")]
    NotAWish,
    /// A name of no front and no run.
    #[error("there is no front or run `{name}`")]
    UnknownFront {
        /// The name.
        name: String,
        /// What it was probably meant to be.
        nearest: Option<String>,
    },
    /// A name of no board.
    #[error("there is no board `{name}`")]
    UnknownBoard {
        /// The name.
        name: String,
        /// What it was probably meant to be.
        nearest: Option<String>,
    },
    /// Fronts that are no neighbours of a run.
    #[error("{first} and {second} are no neighbours of a run")]
    NotNeighbours {
        /// One.
        first: String,
        /// The other.
        second: String,
    },
    /// Nothing that was not so already.
    #[error("it says nothing new: that is so already")]
    NothingNew,
    /// What goes against the job or another wish.
    #[error("it can't be together with what is asked already: {0}")]
    Contradicts(String),
}

impl Trouble for WishTrouble {
    fn expected(&self) -> Option<String> {
        let ways = "FRONT=BOARD, RUN=BOARD, FRONT!=BOARD, BOARD=out or FRONT+FRONT";
        Some(match self {
            WishTrouble::NotAWish => ways.into(),
            WishTrouble::UnknownFront { .. } => "the name of a front or a run".into(),
            WishTrouble::UnknownBoard { .. } => "the name of a board".into(),
            WishTrouble::NotNeighbours { .. } => "two fronts that follow one another".into(),
            WishTrouble::NothingNew | WishTrouble::Contradicts(_) => "another wish".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        let (WishTrouble::UnknownFront { nearest, .. } | WishTrouble::UnknownBoard { nearest, .. }) =
            self
        else {
            return None;
        };
        nearest
            .as_ref()
            .map(|name| format!("did you mean `{name}`?"))
    }
}

impl fmt::Display for Wish {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl Wish {
    /// Reads a wish about `job`.
    ///
    /// # Errors
    /// When it is none, or names what is not there.
    pub fn parse(job: &Job, text: &str) -> Result<Wish, WishTrouble> {
        let text = text.trim();
        let halves = |by: &str| {
            let (left, right) = text.split_once(by)?;
            Some((left.trim(), right.trim()))
        };
        let asks = if let Some((front, board)) = halves("!=") {
            Asks::NotFrom {
                fronts: fronts(job, front)?,
                board: board_named(job, board)?,
            }
        } else if let Some((front, board)) = halves("=") {
            let out = board.eq_ignore_ascii_case("out") && board_named(job, board).is_err();
            match out {
                true => Asks::Out {
                    board: board_named(job, front)?,
                },
                false => Asks::From {
                    fronts: fronts(job, front)?,
                    board: board_named(job, board)?,
                },
            }
        } else if let Some((first, second)) = halves("+") {
            together(job, front_named(job, first)?, front_named(job, second)?)?
        } else {
            return Err(WishTrouble::NotAWish);
        };
        Ok(Wish {
            text: text.to_owned(),
            asks,
        })
    }

    /// Makes the job ask for it.
    ///
    /// # Errors
    /// When the job asks so already, or for what can't be together with it; the job is not to be used then.
    pub fn ask(&self, job: &mut Job) -> Result<(), WishTrouble> {
        let before = job.clone();
        match &self.asks {
            Asks::From { fronts, board } => {
                for &front in fronts {
                    job.fronts[front].boards.retain(|asked| asked == board);
                    if job.fronts[front].boards.is_empty()
                        && !before.fronts[front].boards.is_empty()
                    {
                        return Err(against(&before, front));
                    }
                    job.fronts[front].boards = vec![board.clone()];
                }
            }
            Asks::NotFrom { fronts, board } => {
                for &front in fronts {
                    let barred = &mut job.fronts[front].not_boards;
                    if !barred.contains(board) {
                        barred.push(board.clone());
                    }
                }
            }
            Asks::Out { board } => {
                for kind in job.boards.iter_mut().filter(|kind| kind.id == *board) {
                    kind.left_out = true;
                }
            }
            Asks::Together { first, .. } => job.fronts[*first].with_next = true,
        }
        if *job == before {
            return Err(WishTrouble::NothingNew);
        }
        contradiction(job).map_or(Ok(()), |front| Err(against(&before, front)))
    }
}

/// A front that no board is left for, alone or with the neighbour it is to stay with.
fn contradiction(job: &Job) -> Option<usize> {
    let may = |front: &Front, board: &Board| front.may_come_from(board);
    let none = |front: &usize| {
        !job.boards
            .iter()
            .any(|board| may(&job.fronts[*front], board))
    };
    let apart = |pair: &&[usize]| {
        let [first, second] = [pair[0], pair[1]].map(|front| &job.fronts[front]);
        let shared = |board: &Board| may(first, board) && may(second, board);
        first.with_next && !job.boards.iter().any(shared)
    };
    let mut pairs = job.runs.iter().flat_map(|run| run.fronts.windows(2));
    let apart = pairs.find(apart).map(|pair| pair[1]);
    let asked = (0..job.fronts.len()).filter(|&front| {
        let front = &job.fronts[front];
        !front.boards.is_empty() || !front.not_boards.is_empty()
    });
    asked.into_iter().find(none).or(apart)
}

fn against(job: &Job, front: usize) -> WishTrouble {
    let front = &job.fronts[front];
    let name = &front.name;
    WishTrouble::Contradicts(
        match (front.boards.as_slice(), front.not_boards.as_slice()) {
            ([], []) => format!("no board would be left for {name}"),
            ([], barred) => format!("{name} may not come from {}", barred.join(" nor ")),
            (asked, _) => format!("{name} comes from {}", asked.join(" or ")),
        },
    )
}

/// The fronts of a name: one, or all of a run.
fn fronts(job: &Job, name: &str) -> Result<Vec<usize>, WishTrouble> {
    if let Some(front) = job.fronts.iter().position(|front| front.name == name) {
        return Ok(vec![front]);
    }
    let run = job.runs.iter().find(|run| run.name == name);
    run.map(|run| run.fronts.clone()).ok_or_else(|| {
        let fronts = job.fronts.iter().map(|front| front.name.as_str());
        let runs = job.runs.iter().map(|run| run.name.as_str());
        WishTrouble::UnknownFront {
            name: name.to_owned(),
            nearest: nearest(name, fronts.chain(runs)),
        }
    })
}

fn front_named(job: &Job, name: &str) -> Result<usize, WishTrouble> {
    match fronts(job, name)?.as_slice() {
        [front] => Ok(*front),
        _ => Err(WishTrouble::UnknownFront {
            name: name.to_owned(),
            nearest: None,
        }),
    }
}

fn board_named(job: &Job, name: &str) -> Result<String, WishTrouble> {
    let known = || job.boards.iter().map(|board| board.id.as_str());
    match known().find(|id| *id == name) {
        Some(id) => Ok(id.to_owned()),
        None => Err(WishTrouble::UnknownBoard {
            name: name.to_owned(),
            nearest: nearest(name, known()),
        }),
    }
}

fn together(job: &Job, one: usize, other: usize) -> Result<Asks, WishTrouble> {
    let follow = |first: usize, second: usize| {
        let pairs = job.runs.iter().flat_map(|run| run.fronts.windows(2));
        pairs.into_iter().any(|pair| pair == [first, second])
    };
    match (follow(one, other), follow(other, one)) {
        (true, _) => Ok(Asks::Together {
            first: one,
            second: other,
        }),
        (_, true) => Ok(Asks::Together {
            first: other,
            second: one,
        }),
        _ => Err(WishTrouble::NotNeighbours {
            first: job.fronts[one].name.clone(),
            second: job.fronts[other].name.clone(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles};

    fn job() -> Job {
        let files = JobFiles::new()
            .with(JOB_TOML, "")
            .with(BOARDS_CSV, "board,length,width,thickness,tone\nB1,96,8,5/4,5\nB2,96,8,5/4,5\n")
            .with(FRONTS_CSV, "front,width,height,thickness,run\na,20,6,3/4,top\nb,20,6,3/4,top\nc,20,6,3/4,top\n");
        files
            .parse()
            .unwrap_or_else(|faults| panic!("{faults}"))
            .job
    }

    fn asked(texts: &[&str]) -> Result<Job, WishTrouble> {
        let mut job = job();
        for text in texts {
            Wish::parse(&job, text)?.ask(&mut job)?;
        }
        Ok(job)
    }

    #[test]
    fn every_way_to_write_a_wish_is_read() {
        let job = asked(&["top=B1"]).expect("a wish");
        assert!(
            job.fronts
                .iter()
                .all(|front| front.only_board() == Some("B1"))
        );
        let job = asked(&["a != B2", "b+a"]).expect("two wishes");
        assert_eq!(job.fronts[0].not_boards, ["B2"]);
        assert!(job.fronts[0].with_next && !job.fronts[1].with_next);
        assert!(asked(&["B2=out"]).expect("a wish").boards[1].left_out);
    }

    #[test]
    fn what_is_wrong_with_a_wish_is_told_before_any_search() {
        let trouble = |texts: &[&str]| asked(texts).expect_err("trouble").to_string();
        assert_eq!(trouble(&["a"]), "this is no wish");
        assert_eq!(trouble(&["a=B3"]), "there is no board `B3`");
        assert_eq!(trouble(&["tap=B1"]), "there is no front or run `tap`");
        assert_eq!(trouble(&["a+c"]), "a and c are no neighbours of a run");
        assert_eq!(
            trouble(&["a=B1", "a=B1"]),
            "it says nothing new: that is so already"
        );
        let against = "it can't be together with what is asked already: ";
        assert_eq!(
            trouble(&["a=B1", "a=B2"]),
            format!("{against}a comes from B1")
        );
        assert_eq!(
            trouble(&["a=B1", "B1=out"]),
            format!("{against}a comes from B1")
        );
        assert_eq!(
            trouble(&["a=B1", "b=B2", "a+b"]),
            format!("{against}b comes from B2")
        );
    }

    #[test]
    fn a_name_mistyped_gets_the_nearest() {
        let hint = |text: &str| asked(&[text]).expect_err("trouble").hint();
        assert_eq!(hint("tpo=B1").as_deref(), Some("did you mean `top`?"));
        assert_eq!(hint("a=BB1").as_deref(), Some("did you mean `B1`?"));
    }
}
