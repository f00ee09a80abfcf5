//! The cutting list: every blank with its front, its board and its place.

use super::joints::{Joint, joints};
use super::table::{end_name, face_name};
use crate::job::{Grain, Job};
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, Plan};
use crate::text::csv_bytes;

const HEADER: [&str; 25] = [
    "front",
    "stave",
    "staves",
    "board",
    "copy",
    "section",
    "strip",
    "rough_length",
    "rough_width",
    "rough_thickness",
    "finished_width",
    "finished_height",
    "finished_thickness",
    "grain",
    "from_hook_end",
    "to_hook_end",
    "from_near_edge",
    "to_near_edge",
    "run",
    "stretch",
    "left_end",
    "face",
    "lost_to_next",
    "off_case",
    "unit",
];

/// `cutlist.csv`: one row a blank, in the order of the job's fronts and their staves, lengths as
/// the job's ruler shows them, finished sizes in 64ths where it does not.
///
/// `rough_length` is along the board, `finished_width` as seen on the case. `lost_to_next` is the
/// wood lost to the next front of the stretch, `off_case` how much that is more than their
/// distance on the case; both are empty at a stretch's end.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn cutlist_csv(job: &Job, plan: &Plan) -> Vec<u8> {
    let joints = joints(job, plan);
    let mut rows: Vec<((usize, u32), Vec<String>)> = Vec::new();
    for planned in &plan.boards {
        for (s, section) in planned.sections.iter().enumerate() {
            for (r, strip) in section.strips.iter().enumerate() {
                rows.extend(strip.blanks.iter().map(|blank| {
                    let mut cells = what(job, blank);
                    cells.extend(place(job, planned, [s + 1, r + 1], blank));
                    cells.extend(company(job, &joints, blank));
                    ((blank.front, blank.stave), in_header_order(cells))
                }));
            }
        }
    }
    rows.sort_by_key(|(key, _)| *key);
    csv_bytes(&HEADER, rows.into_iter().map(|(_, cells)| cells))
}

type Cell = (&'static str, String);

fn in_header_order(cells: Vec<Cell>) -> Vec<String> {
    let cell = |name: &&str| cells.iter().find(|(column, _)| column == name);
    let text = |name: &&str| cell(name).map(|(_, text)| text.clone()).unwrap_or_default();
    HEADER.iter().map(text).collect()
}

fn what(job: &Job, blank: &Blank) -> Vec<Cell> {
    let front = &job.fronts[blank.front];
    let ruler = job.settings.ruler();
    let finished = |length| ruler.for_finished(length).show(length);
    let grain = match front.grain {
        Grain::Horizontal => "horizontal",
        Grain::Vertical => "vertical",
    };
    vec![
        ("front", front.name.clone()),
        ("stave", blank.stave.to_string()),
        ("staves", blank.staves.to_string()),
        ("finished_width", finished(front.width)),
        ("finished_height", finished(front.height)),
        ("finished_thickness", finished(front.thickness)),
        ("grain", grain.to_owned()),
        ("unit", ruler.unit.to_string()),
    ]
}

fn place(job: &Job, planned: &BoardPlan, at: [usize; 2], blank: &Blank) -> Vec<Cell> {
    let board = &job.boards[planned.board];
    let ruler = job.settings.ruler();
    vec![
        ("board", board.id.clone()),
        ("copy", planned.copy.to_string()),
        ("section", at[0].to_string()),
        ("strip", at[1].to_string()),
        ("rough_length", ruler.show(blank.to - blank.from)),
        ("rough_width", ruler.show(blank.high - blank.low)),
        ("rough_thickness", ruler.show(board.thickness)),
        ("from_hook_end", ruler.show(blank.from)),
        ("to_hook_end", ruler.show(blank.to)),
        ("from_near_edge", ruler.show(blank.low)),
        ("to_near_edge", ruler.show(blank.high)),
    ]
}

fn company(job: &Job, joints: &[Joint], blank: &Blank) -> Vec<Cell> {
    let ruler = job.settings.ruler();
    let run = job
        .runs
        .iter()
        .find(|run| run.fronts.contains(&blank.front));
    let is_next = |j: &&Joint| (j.first, j.stave) == (blank.front, blank.stave);
    let next = joints.iter().find(is_next);
    let show = |length: Option<Length>| length.map(|l| ruler.show(l)).unwrap_or_default();
    vec![
        ("run", run.map(|run| run.name.clone()).unwrap_or_default()),
        ("stretch", blank.stretch.to_string()),
        ("left_end", end_name(blank.left).to_owned()),
        ("face", face_name(blank.face).to_owned()),
        ("lost_to_next", show(next.map(|joint| joint.lost))),
        ("off_case", show(next.and_then(Joint::off_by))),
    ]
}
