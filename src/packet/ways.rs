//! The ways to choose from on one page: their elevations side by side, and what each step costs.

use super::document::{Block, Document, Part, Picture};
use super::html::document_html;
use super::pdf::{Paper, sheets, sheets_to_pdf};
use super::phrase::Phrase;
use crate::draw::{Easel, elevation_on, writable};
use crate::job::Job;
use crate::ways::{Way, Ways};

/// What each elevation is drawn on: three stand side by side on a sheet.
const EASEL: Easel = Easel {
    width: 330.0,
    height: 300.0,
    titled: false,
    words: 1.2,
};

/// The page as a document.
///
/// # Panics
/// When a plan's indices do not point into `job`.
pub fn ways_document(job: &Job, ways: &Ways) -> Document {
    let job = &*writable(job);
    let mut part = Part::new("ways", "Ways to choose from");
    part.text(
        "From left to right each takes more wood, and what that buys stands below it. Each is the \
         best plan there is for some worths under [worth] in job.toml; yours is the best for those \
         that stand there.",
    );
    let groups = ways.ways.iter().enumerate();
    let groups = groups.map(|(index, way)| group(job, ways, index, way));
    part.blocks.push(Block::Beside(groups.collect()));
    Document {
        title: job.settings.title.trim().to_owned(),
        date: None,
        notice: None,
        plan: None,
        ruler: job.settings.ruler(),
        parts: vec![part],
        fronts: Vec::new(),
    }
}

/// The page as HTML and as PDF.
///
/// # Panics
/// As [`ways_document`].
pub fn ways_pages(job: &Job, ways: &Ways) -> (String, Vec<u8>) {
    let document = ways_document(job, ways);
    let paper = Paper::of_unit(document.ruler.unit).lying();
    let pdf = sheets_to_pdf(&sheets(&document, paper), &document.title);
    (document_html(&document), pdf)
}

fn group(job: &Job, ways: &Ways, index: usize, way: &Way) -> Vec<Block> {
    let ruler = job.settings.ruler();
    let chosen = match index == ways.chosen {
        true => ": yours",
        false => "",
    };
    let picture = Picture::of(ruler, |ruler| {
        elevation_on(job, &way.plan, None, (EASEL, ruler.unit))
    });
    let mut told = Vec::new();
    if let Some(step) = way.step {
        let words = Phrase::from(step.in_words(ruler.unit)).as_sentence();
        told.push((format!("After way {index}"), words));
    }
    told.push(("In all".to_owned(), totals(job, way).into()));
    vec![
        Block::Heading(format!("Way {}{chosen}", index + 1)),
        Block::Picture(picture),
        Block::Lines(told),
    ]
}

fn totals(job: &Job, way: &Way) -> String {
    let totals = &way.plan.totals;
    let unit = job.settings.unit;
    let counted = |count: usize, what: &str| match count {
        0 => format!("no {what}"),
        1 => format!("1 {what}"),
        n => format!("{n} {what}s"),
    };
    let wood = match totals.money {
        Some(money) => format!("{:.2} in money", money.buy + money.owned),
        None => totals.feet_used.show(unit),
    };
    format!(
        "{wood}, {}, {}; tone steps: {} within runs, {} over the case.",
        counted(totals.breaks, "break"),
        counted(totals.glue_lines, "glue line"),
        totals.tone_run,
        totals.tone_case,
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::testing::{chest, clashes};
    use crate::ways::Step;

    fn ways() -> (Job, Ways) {
        let (job, plan) = chest();
        let step = Step {
            feet: 4.5,
            money: None,
            breaks: -3,
            tone_run: 0.0,
            tone_case: 0.0,
            glue_lines: 0,
        };
        let way = |step| Way {
            plan: plan.clone(),
            best_for: job.settings.worth.clone(),
            gap: 0.0,
            proved: true,
            step,
        };
        let ways = Ways {
            ways: vec![way(None), way(Some(step)), way(Some(step))],
            chosen: 1,
            complete: true,
        };
        (job, ways)
    }

    /// All on one sheet of either paper, in words without a negative price.
    #[test]
    fn all_ways_stand_side_by_side_on_one_sheet_with_the_price_of_each_step() {
        let (job, ways) = ways();
        let document = ways_document(&job, &ways);
        for paper in [Paper::LETTER.lying(), Paper::A4.lying()] {
            let all = sheets(&document, paper);
            assert_eq!(all.len(), 1);
            assert_eq!(clashes(&all[0]), Vec::<String>::new());
            let words: Vec<&str> = all[0].texts().map(|text| text.words.as_str()).collect();
            let said = words.join(" ");
            for told in ["Way 1", "Way 2: yours", "Way 3", "for 4.50 board feet"] {
                assert!(said.contains(told), "{told}: {said}");
            }
        }
    }
}
