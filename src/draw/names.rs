//! Names that the program's font has no letters for: on drawings a number stands for them, and a
//! table says whose it is.

use std::borrow::Cow;

use ab_glyph::Font;

use super::font::Weight;
use crate::fit::Sheet;
use crate::job::Job;

/// What bears a number instead of its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Named {
    /// A board.
    Board,
    /// A front.
    Front,
    /// A run.
    Run,
}

/// A name that cannot be drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamed {
    /// What bears it.
    pub what: Named,
    /// The number that stands for it on every drawing: `#3` is the third.
    pub number: String,
    /// The name as the maker wrote it.
    pub name: String,
    /// Its index among the job's boards, fronts or runs.
    pub index: usize,
}

impl Named {
    /// What it is, in a word.
    pub fn word(self) -> &'static str {
        match self {
            Named::Board => "board",
            Named::Front => "front",
            Named::Run => "run",
        }
    }
}

/// Whether the font has every letter of a text.
pub fn can_write(words: &str) -> bool {
    let faces = [Weight::Regular, Weight::Bold].map(Weight::face);
    let has = |sign: char| faces.iter().all(|face| face.glyph_id(sign).0 != 0);
    words.chars().all(has)
}

/// The names of a job that cannot be drawn, with the numbers that stand for them.
pub fn unwritable(job: &Job) -> Vec<Renamed> {
    let boards = job.boards.iter().map(|board| board.id.as_str());
    let fronts = job.fronts.iter().map(|front| front.name.as_str());
    let runs = job.runs.iter().map(|run| run.name.as_str());
    let mut all = numbered(Named::Board, boards.collect());
    all.extend(numbered(Named::Front, fronts.collect()));
    all.extend(numbered(Named::Run, runs.collect()));
    all
}

/// Equal names have one number; none is a name that something else has.
fn numbered(what: Named, names: Vec<&str>) -> Vec<Renamed> {
    let number = |index: usize| {
        let mut number = format!("#{}", index + 1);
        while names.contains(&number.as_str()) {
            number.insert(0, '#');
        }
        number
    };
    let first = |name: &str| names.iter().position(|other| *other == name);
    let odd = names
        .iter()
        .enumerate()
        .filter(|(_, name)| !can_write(name));
    odd.map(|(index, &name)| Renamed {
        what,
        number: number(first(name).unwrap_or(index)),
        name: name.to_owned(),
        index,
    })
    .collect()
}

/// The job with a number for each name that cannot be drawn.
pub fn writable(job: &Job) -> Cow<'_, Job> {
    let renamed = unwritable(job);
    if renamed.is_empty() {
        return Cow::Borrowed(job);
    }
    let mut job = job.clone();
    for Renamed {
        what,
        number,
        index,
        ..
    } in renamed
    {
        match what {
            Named::Board => job.boards[index].id = number,
            Named::Front => job.fronts[index].name = number,
            Named::Run => job.runs[index].name = number,
        }
    }
    Cow::Owned(job)
}

/// A fitting sheet with the names that fronts have in `job`.
pub fn writable_sheet<'a>(sheet: &'a Sheet, job: &Job) -> Cow<'a, Sheet> {
    let name = |front: usize| job.fronts.get(front).map(|front| front.name.as_str());
    if sheet
        .fronts
        .iter()
        .all(|fitted| name(fitted.front) == Some(fitted.name.as_str()))
    {
        return Cow::Borrowed(sheet);
    }
    let mut sheet = sheet.clone();
    for fitted in &mut sheet.fronts {
        if let Some(name) = name(fitted.front) {
            name.clone_into(&mut fitted.name);
        }
    }
    Cow::Owned(sheet)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::testing::chest;

    #[test]
    fn names_the_font_lacks_letters_for_get_numbers_and_others_stay() {
        let (mut job, _) = chest();
        for (i, name) in ["Ящик", "Συρτάρι", "Größe", "抽屉", "#5"]
            .into_iter()
            .enumerate()
        {
            job.fronts[i].name = name.to_owned();
        }
        job.boards[1].id = "לוח".to_owned();
        let told: Vec<(Named, String, String)> = unwritable(&job)
            .into_iter()
            .map(|r| (r.what, r.number, r.name))
            .collect();
        let expected = [(Named::Board, "#2", "לוח"), (Named::Front, "#4", "抽屉")];
        assert_eq!(
            told,
            expected.map(|(what, a, b)| (what, a.to_owned(), b.to_owned()))
        );
        let names: Vec<String> = writable(&job)
            .fronts
            .iter()
            .map(|f| f.name.clone())
            .collect();
        assert_eq!(names[..5], ["Ящик", "Συρτάρι", "Größe", "#4", "#5"]);
    }

    #[test]
    fn a_number_is_never_a_name_that_is_taken() {
        let (mut job, _) = chest();
        job.fronts[0].name = "درج".to_owned();
        job.fronts[1].name = "#1".to_owned();
        assert_eq!(writable(&job).fronts[0].name, "##1");
    }
}
