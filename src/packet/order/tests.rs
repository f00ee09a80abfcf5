use super::*;
use crate::draw::testing::chest;
use crate::job::generate::{Size, generate};
use crate::layout;
use crate::plan::{Fate, Sawn, SawnPiece, fixture};

fn phase<'a>(phases: &'a [Phase], title: &str) -> &'a Phase {
    let found = phases.iter().find(|phase| phase.title.contains(title));
    found.unwrap_or_else(|| panic!("no phase {title}"))
}

fn text(phase: &Phase) -> Vec<String> {
    let ruler = crate::measure::Ruler::default();
    phase.steps.iter().map(|step| step.show(ruler)).collect()
}

#[test]
fn fronts_of_one_size_share_a_stop() {
    let (job, plan) = chest();
    let phases = phases(&job, &plan, None);
    let stops = phase(&phases, "Crosscut to finished length");
    assert_eq!(stops.settings, Some(3));
    assert_eq!(
        text(stops),
        [
            "stop at 42 3/8: D4",
            "stop at 21 1/8: D5, D6",
            "stop at 14: D1, D2, D3"
        ]
    );
    assert_eq!(phase(&phases, "Plane").settings, Some(1));
}

#[test]
fn short_neighbours_are_flattened_together_and_staves_glued() {
    let (job, plan) = (fixture::job(), fixture::plan());
    let phases = phases(&job, &plan, None);
    let flatten = text(phase(&phases, "Flatten"));
    assert!(
        flatten
            .iter()
            .any(|step| step.contains(" + ") && step.contains("joined")),
        "{flatten:?}"
    );
    assert_eq!(phase(&phases, "glue").steps.len(), 1);
}

#[test]
fn every_front_made_is_planed_ripped_and_crosscut_once() {
    let job = generate(Size::CHEST, 3);
    let plan = layout::quick(&job, 3);
    let phases = phases(&job, &plan, None);
    let not_made: Vec<usize> = plan.not_made.iter().map(|n| n.front).collect();
    for title in ["Plane to", "Rip to finished", "Crosscut to finished"] {
        let steps = text(phase(&phases, title));
        let mut names: Vec<&str> = steps
            .iter()
            .filter_map(|step| step.split_once(": "))
            .flat_map(|(_, list)| list.split(", "))
            .collect();
        names.sort_unstable();
        let made = (0..job.fronts.len()).filter(|f| !not_made.contains(f));
        let mut all: Vec<&str> = made.map(|f| job.fronts[f].name.as_str()).collect();
        all.sort_unstable();
        assert_eq!(names, all, "{title}");
    }
}

/// What was cut from the first strip of the chest's first board.
fn first_board_cut(plan: &Plan, fate: Fate) -> Sawn {
    let cut = &plan.boards[0];
    let (section, strip) = (&cut.sections[0], &cut.sections[0].strips[0]);
    let piece = |blank: &crate::plan::Blank| SawnPiece {
        board: cut.board,
        copy: cut.copy,
        section: (section.from, section.to),
        strip: (strip.low, strip.high),
        blank: blank.clone(),
        fate,
    };
    Sawn {
        pieces: strip.blanks.iter().map(piece).collect(),
        ..Sawn::default()
    }
}

#[test]
fn what_is_cut_is_not_sawn_again_and_what_is_made_is_left_alone() {
    let (job, plan) = chest();
    for fate in [Fate::Cut, Fate::Made] {
        let sawn = first_board_cut(&plan, fate);
        let progress = Progress {
            sawn: &sawn,
            anew: &[],
        };
        let phases = phases(&job, &plan, Some(&progress));
        for title in ["boards into sections", "sections into strips"] {
            let steps = text(phase(&phases, title)).join("; ");
            assert!(
                !steps.contains("A section") && !steps.contains("A: "),
                "{steps}"
            );
            assert!(
                steps.contains("B section 1") || steps.contains("B: "),
                "{steps}"
            );
        }
        let pieces = phases
            .iter()
            .find(|phase| phase.title.contains("strips into pieces"));
        assert!(pieces.is_none_or(|phase| !text(phase).join("; ").contains("D1")));
        let stops = text(phase(&phases, "Crosscut to finished length")).join("; ");
        assert_eq!(stops.contains("D1"), fate == Fate::Cut, "{stops}");
    }
}

/// 7 and 4 3/8 in: 11 3/8, the front's 11, a joint of 1/8 and 1/4 to spare.
#[test]
fn staves_are_glued_at_their_own_widths_which_add_up_to_the_fronts_blank() {
    let (job, plan) = fixture::uneven_staves();
    let glue = text(phase(&phases(&job, &plan, None), "glue the staves"));
    let expected =
        "G, top to bottom: stave 1 (C no. 1) 7 wide, stave 2 (C no. 2) 4 3/8 wide, 11 3/8 together";
    assert_eq!(glue, [expected]);
    let planed = text(phase(&phases(&job, &plan, None), "Plane to thickness"));
    // Half a plane's skim for each of two faces is left on: 3/4 and twice 1/32.
    assert_eq!(
        planed[0],
        "planer at 13/16 in: G stave 1 of 2, G stave 2 of 2"
    );
}

#[test]
fn the_phases_come_in_the_order_of_the_work() {
    let (job, plan) = (fixture::job(), fixture::plan());
    let titles: Vec<String> = phases(&job, &plan, None)
        .into_iter()
        .map(|p| p.title)
        .collect();
    let expected = [
        "Mark the face",
        "Crosscut the boards",
        "Give each section a straight edge",
        "Rip the sections",
        "Crosscut the strips",
        "Flatten",
        "Plane to thickness",
        "Cut apart",
        "Joint and glue",
        "Plane the glued",
        "Rip to finished",
        "Crosscut to finished",
    ];
    assert_eq!(titles.len(), expected.len(), "{titles:?}");
    for (title, begins) in titles.iter().zip(expected) {
        assert!(title.starts_with(begins), "{title}, not {begins}");
    }
}
