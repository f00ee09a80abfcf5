//! Everything `plan` hands to the shop, as named bytes.

use std::collections::HashSet;

use rayon::prelude::*;

use super::Output;
use crate::draw::{self, Drawing};
use crate::job::Job;
use crate::packet;
use crate::plan::{self, Plan};
use crate::recut::Recut;

/// The files of a plan, in the order they are told.
pub(super) fn of_plan(job: &Job, plan: &Plan, extras: &packet::Extras) -> Vec<Output> {
    let mut outputs = written(job, plan, extras);
    outputs.extend(drawn(job, plan, extras));
    outputs
}

/// The files of a recut: a plan's, with what the saw has done.
pub(super) fn of_recut(job: &Job, recut: &Recut, extras: &packet::Extras) -> Vec<Output> {
    let mut outputs = of_plan(job, &recut.plan, extras);
    outputs[0].1 = plan::to_json_sawn(job, &recut.plan, &recut.sawn).into_bytes();
    outputs
}

/// What is written: the plan first of all.
fn written(job: &Job, plan: &Plan, extras: &packet::Extras) -> Vec<Output> {
    let mut outputs = vec![
        (
            "plan.json".to_owned(),
            plan::to_json(job, plan).into_bytes(),
        ),
        (
            "marks.csv".to_owned(),
            packet::marks_csv(job, plan, extras.progress.as_ref()),
        ),
        ("cutlist.csv".to_owned(), packet::cutlist_csv(job, plan)),
    ];
    let ((html, pdf), labels) = rayon::join(
        || {
            rayon::join(
                || packet::packet_html(job, plan, extras),
                || packet::packet_pdf(job, plan, extras),
            )
        },
        || packet::labels_pdf(job, plan),
    );
    outputs.extend([
        ("packet.html".to_owned(), html.into_bytes()),
        ("packet.pdf".to_owned(), pdf),
        ("labels.pdf".to_owned(), labels),
    ]);
    outputs
}

/// What is drawn. Turning shapes into dots takes longer than all the rest: every drawing by itself.
fn drawn(job: &Job, plan: &Plan, extras: &packet::Extras) -> Vec<Output> {
    let mut drawings = drawings(job, plan, extras);
    if let Some(notice) = &extras.notice {
        let noticed = drawings.iter_mut();
        noticed.for_each(|(_, drawing)| drawing.below(draw::line_of_words(notice)));
    }
    let drawings = drawings.into_par_iter();
    drawings.flat_map_iter(pictures).collect()
}

/// The elevation and each used board's diagram, by file name.
fn drawings(job: &Job, plan: &Plan, extras: &packet::Extras) -> Vec<(String, Drawing)> {
    let boards = plan.boards.iter().map(|cut| draw::board_name(job, cut));
    let (ruler, progress) = (job.settings.ruler(), extras.progress.as_ref());
    let board = |index| draw::board_in(job, plan, index, ruler, progress);
    let elevation = draw::elevation(job, plan, extras.fitting);
    let diagrams = file_names(boards)
        .into_iter()
        .enumerate()
        .map(|(index, name)| (format!("boards/{name}"), board(index)));
    std::iter::once(("elevation".to_owned(), elevation))
        .chain(diagrams)
        .collect()
}

fn pictures((name, drawing): (String, Drawing)) -> Vec<Output> {
    vec![
        (format!("{name}.svg"), drawing.svg().into_bytes()),
        (format!("{name}.png"), drawing.png()),
    ]
}

/// A name fit for any file system, made from what a maker calls something.
pub fn file_name(name: &str) -> String {
    file_names(std::iter::once(name.to_owned())).remove(0)
}

/// Names fit for any file system, each its own even where case does not count, and none that a
/// program would take for an option.
pub(super) fn file_names(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut taken: HashSet<String> = HashSet::new();
    let own = |name: String| {
        let safe = |c: char| {
            if c.is_alphanumeric() || "-_".contains(c) {
                c
            } else {
                '-'
            }
        };
        let base: String = name.chars().map(safe).collect();
        let base = match base.starts_with('-') || is_device(&base) {
            true => format!("board-{}", base.trim_start_matches('-')),
            false => base,
        };
        let numbered = (2..).map(|number| format!("{base}-{number}"));
        let mut wanted = std::iter::once(base.clone()).chain(numbered);
        let free = wanted.find(|wanted| taken.insert(wanted.to_lowercase()));
        free.unwrap_or(base)
    };
    names.map(own).collect()
}

/// Whether a file of that name would be a device on Windows, whatever follows a full stop
/// (Microsoft, *Naming Files, Paths, and Namespaces*).
fn is_device(name: &str) -> bool {
    let name = name.to_uppercase();
    let numbered = |port: &str| {
        let number = name.strip_prefix(port);
        number.is_some_and(|number| {
            let mut signs = number.chars();
            let one = signs.next().is_some_and(|c| "0123456789¹²³".contains(c));
            one && signs.next().is_none()
        })
    };
    ["CON", "PRN", "AUX", "NUL"].contains(&name.as_str()) || numbered("COM") || numbered("LPT")
}

#[cfg(test)]
mod tests {
    use super::file_names;

    #[test]
    fn file_names_stay_in_their_folder_and_apart() {
        let names = ["B1", "b1", "../x", "a/b", "a:b", "Kirsche Ü 3"].map(str::to_owned);
        let expected = ["B1", "b1-2", "board-x", "a-b", "a-b-2", "Kirsche-Ü-3"];
        assert_eq!(file_names(names.into_iter()), expected);
    }

    #[test]
    fn no_file_is_a_device_or_looks_like_an_option() {
        let names = [
            "CON", "nul", "Com1", "LPT9", "COM", "CONE", "-rf", "--", "Aux",
        ];
        let names = names.map(str::to_owned);
        let expected = [
            "board-CON",
            "board-nul",
            "board-Com1",
            "board-LPT9",
            "COM",
            "CONE",
            "board-rf",
            "board-",
            "board-Aux",
        ];
        assert_eq!(file_names(names.into_iter()), expected);
    }
}
