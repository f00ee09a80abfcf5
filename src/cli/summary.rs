//! A plan in short, for the terminal.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use grainrow::commands::{FORGOTTEN, Planned};
use grainrow::draw::Joint;
use grainrow::job::Job;
use grainrow::measure::{Unit, Volume};
use grainrow::packet::{shopping_list, to_buy};
use grainrow::plan::{Plan, Totals};

use super::tally::table;

/// The figures, then which boards each run comes from, then what can't be made, then where
/// the files are.
pub fn of_plan(planned: &Planned) -> String {
    let Planned {
        reading,
        plan,
        out,
        files,
        ..
    } = planned;
    let mut text = String::new();
    if !reading.job.settings.title.is_empty() {
        let _ = writeln!(text, "{}\n", reading.job.settings.title);
    }
    let _ = writeln!(
        text,
        "{}\n\n{}",
        figures(&plan.totals, reading.job.settings.unit),
        runs(&reading.job, plan)
    );
    if let Some(line) = &planned.by_hand {
        let _ = writeln!(text, "\nThis plan is {line}.");
    }
    text += &buy(&reading.job, plan);
    text += &not_made(&reading.job, plan);
    text += &facing(&planned.joints);
    let _ = writeln!(text, "\nIn {}: {}", out.display(), listed(files));
    if files.iter().any(|file| file == FORGOTTEN) {
        let _ = writeln!(
            text,
            "What was marked before is put aside, by a line `anew` in done.csv; {FORGOTTEN} keeps it as\n\
             it was. `grainrow recut --undo` brings back the plan before with its marks."
        );
    }
    text
}

/// The joints whose facing edges agree least.
fn facing(joints: &[Joint]) -> String {
    /// From about here on a difference reads as another colour (Drvna industrija 2020).
    const SEEN: f64 = 2.0;
    const MOST: usize = 3;
    let mut worst: Vec<&Joint> = joints
        .iter()
        .filter(|joint| joint.difference > SEEN)
        .collect();
    worst.sort_by(|a, b| b.difference.total_cmp(&a.difference));
    let told = worst.iter().take(MOST).map(|joint| {
        let broken = if joint.unbroken { "" } else { ", a break" };
        let (first, second) = (&joint.first, &joint.second);
        format!("{first} to {second} (dE00 {:.1}{broken})", joint.difference)
    });
    match joints.is_empty() {
        true => String::new(),
        false if worst.is_empty() => {
            "\nBy the photographs all facing edges agree (dE00 below 2).\n".to_owned()
        }
        false => {
            let told: Vec<String> = told.collect();
            format!(
                "\nBy the photographs these facing edges agree least: {}\n",
                told.join("; ")
            )
        }
    }
}

/// The same of a recut, whose changes are told already.
pub fn of_recut(job: &Job, plan: &Plan, out: &Path, files: &[String]) -> String {
    format!(
        "{}\n\n{}\n{}{}\nIn {}: {}\n",
        figures(&plan.totals, job.settings.unit),
        runs(job, plan),
        buy(job, plan),
        joint_list(job, plan),
        out.display(),
        listed(files)
    )
}

fn figures(totals: &Totals, unit: Unit) -> String {
    let mut table = table(&["plan", ""], 2);
    let mut row = |name: &str, value: String| {
        table.add_row([name.to_owned(), value]);
    };
    row(
        "fronts made",
        format!("{} of {}", totals.made, totals.fronts),
    );
    row("boards used", totals.boards_used.to_string());
    let wood = |volume: Volume| format!("{:.2}", volume.value());
    let used = format!("{} used", unit.volumes());
    row(&used, wood(totals.feet_used));
    row("kept for later", wood(totals.feet_kept));
    row("in the fronts", wood(totals.feet_fronts));
    row("yield", format!("{:.0} %", 100.0 * totals.yield_share));
    row("breaks", totals.breaks.to_string());
    if totals.glue_lines > 0 {
        row("glue lines", totals.glue_lines.to_string());
    }
    row(
        "tone in runs, over all",
        format!("{:.1}, {:.1}", totals.tone_run, totals.tone_case),
    );
    if totals.mixed_logs + totals.mixed_cuts > 0 {
        let mixed = format!("{}, {}", totals.mixed_logs, totals.mixed_cuts);
        row("more logs, sawings in runs", mixed);
    }
    if let Some(money) = &totals.money {
        row("to buy", format!("{:.2}", money.buy));
        row("owned, counted at", format!("{:.2}", money.owned));
    }
    row("cost", format!("{:.2}", totals.cost));
    row("that is", verdict(totals));
    table.trim_fmt()
}

fn verdict(totals: &Totals) -> String {
    let seconds = totals.seconds;
    if totals.proved {
        return format!("proved best in {seconds:.1} s");
    }
    let gap = 100.0 * totals.gap;
    format!("at most {gap:.1} % above the best, after {seconds:.1} s")
}

/// Each run with the boards of its stretches in order: fronts of one stretch in brackets.
fn runs(job: &Job, plan: &Plan) -> String {
    let boards = boards_of(job, plan);
    let mut table = table(&["run", "cut from"], 2);
    for (run, _) in job.runs.iter().enumerate() {
        let stretches: Vec<String> = boards
            .range((run, 0)..(run + 1, 0))
            .map(|(_, stretch)| {
                format!(
                    "{} ({})",
                    stretch.boards.join(" + "),
                    stretch.fronts.join(" ")
                )
            })
            .collect();
        if !stretches.is_empty() {
            table.add_row([job.runs[run].name.clone(), stretches.join(", ")]);
        }
    }
    table.trim_fmt()
}

#[derive(Default)]
struct Stretch {
    boards: Vec<String>,
    fronts: Vec<String>,
}

/// What each stretch is cut from, by run and number.
fn boards_of(job: &Job, plan: &Plan) -> BTreeMap<(usize, u32), Stretch> {
    let mut run_of = vec![(0, 0); job.fronts.len()];
    for (run, members) in job.runs.iter().enumerate() {
        for (place, &front) in members.fronts.iter().enumerate() {
            run_of[front] = (run, place);
        }
    }
    let mut placed = Vec::new();
    for planned in &plan.boards {
        let board = &job.boards[planned.board];
        let counted = job.boards.iter().filter(|other| other.id == board.id);
        let name = match counted.map(|board| board.copies.len()).sum::<usize>() {
            1 => board.id.clone(),
            _ => format!("{} #{}", board.id, planned.copy),
        };
        let strips = planned.sections.iter().flat_map(|section| &section.strips);
        for blank in strips.flat_map(|strip| &strip.blanks) {
            let (run, place) = run_of[blank.front];
            placed.push(((run, blank.stretch), place, blank.front, name.clone()));
        }
    }
    placed.sort();
    let mut stretches: BTreeMap<(usize, u32), Stretch> = BTreeMap::new();
    for (stretch, _, front, board) in placed {
        let stretch = stretches.entry(stretch).or_default();
        push_new(&mut stretch.boards, board);
        push_new(&mut stretch.fronts, job.fronts[front].name.clone());
    }
    stretches
}

fn push_new(list: &mut Vec<String>, name: String) {
    if !list.contains(&name) {
        list.push(name);
    }
}

/// The boards on offer that the plan uses.
fn buy(job: &Job, plan: &Plan) -> String {
    to_buy(job, plan).map_or(String::new(), |buy| format!("\nbuy: {}\n", buy.in_words()))
}

/// One list of all there is to buy for the fronts not made.
fn joint_list(job: &Job, plan: &Plan) -> String {
    let lines = shopping_list(job, plan);
    if lines.is_empty() {
        return String::new();
    }
    format!("\nTo buy for all of them:\n  {}\n", lines.join("\n  "))
}

fn not_made(job: &Job, plan: &Plan) -> String {
    let mut text = String::new();
    for one in &plan.not_made {
        let name = &job.fronts[one.front].name;
        let _ = writeln!(text, "\nNot made: {name}. {}", one.why);
        if !one.buy.is_empty() {
            let _ = writeln!(text, "  To make it: {}", one.buy);
        }
    }
    text + &joint_list(job, plan)
}

/// File names, those of a folder summed up.
fn listed(files: &[String]) -> String {
    let mut folders: BTreeMap<&str, usize> = BTreeMap::new();
    let mut names = Vec::new();
    for file in files {
        match file.split_once('/') {
            Some((folder, _)) => *folders.entry(folder).or_default() += 1,
            None => names.push(file.clone()),
        }
    }
    names.extend(
        folders
            .iter()
            .map(|(folder, count)| format!("{folder}/ ({count} files)")),
    );
    names.join(", ")
}
