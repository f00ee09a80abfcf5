//! A shop in small: boards, and a maker who does what the printed order of work says.

use std::collections::BTreeMap;

use grainrow::draw::board_name;
use grainrow::job::{DefectSide, Job};
use grainrow::measure::Length;
use grainrow::packet::{Phase, phases};
use grainrow::plan::{Blank, Face, Plan};

/// What printing to 1/64 in, or to a tenth of a millimetre, may be off, twice.
const PRINTED: f64 = 2.0 / 64.0;

/// Along the board, then across it, in inches of the measured board.
#[derive(Clone, Copy, Debug)]
struct Wood {
    along: (f64, f64),
    across: (f64, f64),
    /// Whether its near edge can run along a fence.
    straight: bool,
    flat: bool,
}

/// The maker's bench: what is sawn off, by the name the sheet gives it.
#[derive(Default)]
struct Shop {
    sections: BTreeMap<String, Wood>,
    strips: BTreeMap<String, Wood>,
    /// Pieces by their fronts' names, with their board's.
    pieces: BTreeMap<String, (String, Wood)>,
    blanks: BTreeMap<String, (String, Wood)>,
}

/// One blank of the plan: where it must not be cut, and what must come out.
struct Wanted<'a> {
    name: String,
    board: String,
    blank: &'a Blank,
    along: (f64, f64),
    across: (f64, f64),
}

/// Does all that the sheet says, and looks at what comes out.
///
/// # Panics
/// When anything goes wrong.
pub fn walk(job: &Job, plan: &Plan) {
    let phases = phases(job, plan, None);
    let wanted = wanted(job, plan);
    let mut shop = Shop::default();
    let mut so_far = 0;
    for phase in &phases {
        let place = ORDER
            .iter()
            .position(|title| phase.title.starts_with(title));
        let place = place.unwrap_or_else(|| panic!("a phase nobody knows: {}", phase.title));
        assert!(place + 1 > so_far, "{} comes too late", phase.title);
        so_far = place + 1;
        let steps = steps(job, phase);
        let each = |work: &mut dyn FnMut(&str)| steps.iter().for_each(|step| work(step));
        match place {
            1 => each(&mut |step| crosscut(job, &wanted, &mut shop, step)),
            2 => each(&mut |step| straighten(job, &wanted, &mut shop, step)),
            3 => each(&mut |step| rip(job, &wanted, &mut shop, step)),
            4 => each(&mut |step| part(job, &mut shop, step)),
            5 => each(&mut |step| narrow(job, &mut shop, step)),
            6 => {
                each(&mut |step| flatten(job, &wanted, &mut shop, step));
            }
            8 => each(&mut |step| cut_apart(job, &mut shop, step)),
            _ => {}
        }
        if place == 7 {
            let planed: usize = steps.iter().map(|step| list_of(step).len()).sum();
            assert_eq!(planed, wanted.len(), "every piece is planed once");
        }
        if (11..13).contains(&place) {
            every_front_once(job, plan, &steps, &phase.title);
        }
    }
    came_out(job, &wanted, &shop);
}

/// The phases, as their titles begin.
const ORDER: [&str; 14] = [
    "Mark the face",
    "Crosscut the boards into sections",
    "Give each section a straight edge",
    "Rip the sections into strips",
    "Crosscut the strips into pieces",
    "Rip pieces that are narrower",
    "Flatten one face",
    "Plane to thickness",
    "Cut apart what was left joined",
    "Joint and glue",
    "Plane the glued",
    "Rip to finished width",
    "Crosscut to finished length",
    "Shape",
];

fn steps(job: &Job, phase: &Phase) -> Vec<String> {
    let ruler = job.settings.ruler();
    phase.steps.iter().map(|step| step.show(ruler)).collect()
}

fn wanted<'a>(job: &Job, plan: &'a Plan) -> Vec<Wanted<'a>> {
    let mut all = Vec::new();
    for cut in &plan.boards {
        let strips = cut.sections.iter().flat_map(|section| &section.strips);
        for blank in strips.flat_map(|strip| &strip.blanks) {
            let front = &job.fronts[blank.front].name;
            all.push(Wanted {
                name: match blank.staves {
                    1 => front.clone(),
                    staves => format!("{front} stave {} of {staves}", blank.stave),
                },
                board: board_name(job, cut),
                blank,
                along: (blank.from.inches(), blank.to.inches()),
                across: (blank.low.inches(), blank.high.inches()),
            });
        }
    }
    all
}

fn number(job: &Job, text: &str) -> f64 {
    let length = Length::parse(text.trim(), job.settings.unit);
    length
        .unwrap_or_else(|why| panic!("{text}: {why}"))
        .inches()
}

/// `2 to 21 9/16`
fn span(job: &Job, text: &str) -> (f64, f64) {
    let (from, to) = text
        .split_once(" to ")
        .unwrap_or_else(|| panic!("{text}: from, to"));
    (number(job, from), number(job, to))
}

/// What follows the colon, at its commas.
fn list_of(step: &str) -> Vec<&str> {
    let (_, list) = step
        .split_once(": ")
        .unwrap_or_else(|| panic!("{step}: a list"));
    list.split(", ").collect()
}

fn safe(job: &Job) -> f64 {
    job.settings.allowances.shortest_safe.inches()
}

fn kerf(job: &Job) -> f64 {
    job.settings.allowances.rip_kerf.inches()
}

fn meet(a: (f64, f64), b: (f64, f64)) -> bool {
    a.0 + PRINTED < b.1 && b.0 + PRINTED < a.1
}

/// No blank lies under the blade's way.
fn no_blank_under(
    wanted: &[Wanted],
    board: &str,
    along: (f64, f64),
    across: (f64, f64),
    step: &str,
) {
    let under = wanted
        .iter()
        .find(|w| w.board == board && meet(w.along, along) && meet(w.across, across));
    assert!(
        under.is_none(),
        "{step}: cuts through {}",
        under.unwrap().name
    );
}

fn crosscut(job: &Job, wanted: &[Wanted], shop: &mut Shop, step: &str) {
    let (board, ends) = step.split_once(": sections ").expect("sections");
    let ends = ends.split(". ").next().expect("words");
    let kind = job
        .boards
        .iter()
        .find(|b| board == b.id || board.starts_with(&format!("{} no. ", b.id)));
    let kind = kind.unwrap_or_else(|| panic!("no board {board}"));
    let wide = kind.width.inches();
    let blade = job.settings.allowances.crosscut_kerf.inches();
    for (index, ends) in ends.split(", ").enumerate() {
        let (from, to) = span(job, ends);
        assert!(
            to - from + PRINTED >= safe(job),
            "{step}: a section too short to be flattened"
        );
        for blade in [(from - blade, from), (to, to + blade)] {
            no_blank_under(wanted, board, blade, (0.0, wide), step);
        }
        let wood = Wood {
            along: (from, to),
            across: (0.0, wide),
            straight: false,
            flat: false,
        };
        shop.sections
            .insert(format!("{board} section {}", index + 1), wood);
    }
}

fn board_of(place: &str) -> &str {
    let end = place.rfind(" section ").expect("a section");
    place[..end].trim_end_matches(',')
}

fn straighten(job: &Job, wanted: &[Wanted], shop: &mut Shop, step: &str) {
    let (section, at) = step.split_once(": along ").expect("a line");
    let at = number(job, at);
    let wood = shop
        .sections
        .get_mut(section)
        .expect("a section that is there");
    no_blank_under(
        wanted,
        board_of(section),
        wood.along,
        (at - kerf(job), at),
        step,
    );
    wood.across.0 = at;
    wood.straight = true;
}

fn rip(job: &Job, wanted: &[Wanted], shop: &mut Shop, step: &str) {
    let (fence, _) = step.split_once(": ").expect("a fence");
    let unit = format!(" {}", job.settings.unit);
    let fence = fence
        .strip_prefix("fence at ")
        .expect("a fence")
        .trim_end_matches(&unit);
    let fence = number(job, fence);
    for name in list_of(step) {
        let bare = name
            .trim_end_matches(" with waste")
            .trim_end_matches(" turned");
        let end = bare.rfind(" strip ").expect("a strip");
        let board = board_of(&bare[..end]).to_owned();
        if name.ends_with(" turned") {
            let strip = shop
                .strips
                .get_mut(bare)
                .expect("it was ripped with its waste");
            let low = strip.across.1 - fence;
            no_blank_under(wanted, &board, strip.along, (low - kerf(job), low), step);
            strip.across.0 = low;
            continue;
        }
        let section = shop
            .sections
            .get_mut(&bare[..end])
            .expect("a section that is there");
        assert!(section.straight, "{name}: a raw edge along the fence");
        let line = section.across.0 + fence;
        no_blank_under(
            wanted,
            &board,
            section.along,
            (line, line + kerf(job)),
            step,
        );
        let strip = Wood {
            across: (section.across.0, line),
            ..*section
        };
        assert!(
            shop.strips.insert(bare.to_owned(), strip).is_none(),
            "{bare} twice"
        );
        section.across.0 = line + kerf(job);
    }
}

/// `leave A1 + A2 joined with its waste at 2 to 14`: names, where.
fn piece_at(job: &Job, words: &str) -> (String, (f64, f64)) {
    let (name, ends) = words.rsplit_once(" at ").expect("a place");
    (bare_name(name), span(job, ends))
}

fn bare_name(name: &str) -> String {
    let name = name.strip_prefix("leave ").unwrap_or(name);
    let name = name.trim_end_matches(" with its waste");
    name.trim_end_matches(" joined").to_owned()
}

fn part(job: &Job, shop: &mut Shop, step: &str) {
    let (place, _) = step.split_once(": ").expect("a place");
    let place = place.replace(", ", " ");
    let board = board_of(&place[..place.rfind(" strip ").expect("a strip")]).to_owned();
    let strip = shop
        .strips
        .remove(&place)
        .unwrap_or_else(|| panic!("no {place}"));
    let mut end = strip.along.0;
    for words in list_of(step) {
        let (name, (from, to)) = piece_at(job, words);
        assert!(
            from + PRINTED >= end && to <= strip.along.1 + PRINTED,
            "{step}: not there"
        );
        assert!(
            to - from + PRINTED >= safe(job),
            "{step}: {name} cut apart too short"
        );
        end = to + job.settings.allowances.crosscut_kerf.inches();
        let wood = Wood {
            along: (from, to),
            ..strip
        };
        shop.pieces.insert(name, (board.clone(), wood));
    }
}

fn narrow(job: &Job, shop: &mut Shop, step: &str) {
    for words in list_of(step) {
        let (name, across) = piece_at(job, words);
        if !shop.pieces.contains_key(&name) {
            continue;
        }
        let (_, wood) = shop.pieces.get_mut(&name).expect("a piece");
        wood.across = across;
    }
}

/// A strip that is not crosscut is a piece as it is.
fn find_piece(wanted: &[Wanted], shop: &mut Shop, name: &str) {
    if shop.pieces.contains_key(name) {
        return;
    }
    let blank = wanted
        .iter()
        .find(|w| w.name == name)
        .unwrap_or_else(|| panic!("no piece {name}"));
    let holds = |wood: &Wood| meet(wood.along, blank.along) && meet(wood.across, blank.across);
    let strip = shop
        .strips
        .iter()
        .find(|(place, wood)| {
            board_of(&place[..place.rfind(" strip ").unwrap()]) == blank.board && holds(wood)
        })
        .unwrap_or_else(|| panic!("{name} is in no strip"));
    let place = strip.0.clone();
    let wood = shop.strips.remove(&place).expect("it was found");
    shop.pieces
        .insert(name.to_owned(), (blank.board.clone(), wood));
}

fn flatten(job: &Job, wanted: &[Wanted], shop: &mut Shop, step: &str) {
    if let Some(list) = step.strip_prefix("each by itself: ") {
        for name in list.split(", ") {
            find_piece(wanted, shop, name);
            flat(job, shop, name);
        }
        return;
    }
    let (_, rest) = step.split_once(": ").expect("a piece");
    let (name, long) = rest.split_once(", ").expect("a length");
    assert!(!long.starts_with("only"), "{step}");
    let name = bare_name(name);
    find_piece(wanted, shop, &name);
    let unit = format!(" {} long", job.settings.unit);
    let long = number(job, long.trim_end_matches(&unit));
    let wood = shop.pieces[&name].1;
    assert!(
        (long - (wood.along.1 - wood.along.0)).abs() < PRINTED,
        "{step}: {wood:?}"
    );
    flat(job, shop, &name);
}

fn flat(job: &Job, shop: &mut Shop, name: &str) {
    let (_, wood) = shop.pieces.get_mut(name).expect("a piece");
    assert!(!wood.flat, "{name} twice");
    assert!(
        wood.along.1 - wood.along.0 + PRINTED >= safe(job),
        "{name} over the jointer: {wood:?}"
    );
    wood.flat = true;
}

fn cut_apart(job: &Job, shop: &mut Shop, step: &str) {
    let (head, _) = step.split_once(": ").expect("a piece");
    let (_, name) = head.rsplit_once(", ").expect("a board");
    let (board, wood) = shop
        .pieces
        .remove(name)
        .unwrap_or_else(|| panic!("no piece {name}"));
    assert!(wood.flat, "{name} is cut apart before it is flat");
    for words in list_of(step) {
        let (name, (from, to)) = piece_at(job, words);
        let along = (wood.along.0 + from, wood.along.0 + to);
        assert!(along.1 <= wood.along.1 + PRINTED, "{step}: past the end");
        let found = shop
            .blanks
            .insert(name.clone(), (board.clone(), Wood { along, ..wood }));
        assert!(found.is_none(), "{name} twice");
    }
}

fn every_front_once(job: &Job, plan: &Plan, steps: &[String], title: &str) {
    let mut named: Vec<&str> = steps.iter().flat_map(|step| list_of(step)).collect();
    named.sort_unstable();
    let missing: Vec<usize> = plan.not_made.iter().map(|missing| missing.front).collect();
    let made = (0..job.fronts.len()).filter(|front| !missing.contains(front));
    let mut fronts: Vec<&str> = made.map(|front| job.fronts[front].name.as_str()).collect();
    fronts.sort_unstable();
    assert_eq!(named, fronts, "{title}");
}

/// Every front once, from the board it was planned on, large enough and clear of defects.
fn came_out(job: &Job, wanted: &[Wanted], shop: &Shop) {
    let allow = &job.settings.allowances;
    for want in wanted {
        let whole = shop.pieces.get(&want.name).or(shop.blanks.get(&want.name));
        let (board, wood) = whole.unwrap_or_else(|| panic!("{} never came out", want.name));
        assert_eq!(*board, want.board, "{}", want.name);
        assert!(wood.flat, "{} never was flat", want.name);
        let near = |a: (f64, f64), b: (f64, f64)| {
            (a.0 - b.0).abs() < PRINTED && (a.1 - b.1).abs() < PRINTED
        };
        assert!(
            near(wood.along, want.along) && near(wood.across, want.across),
            "{}: {wood:?}, not {:?} {:?}",
            want.name,
            want.along,
            want.across
        );
        let front = &job.fronts[want.blank.front];
        let need = (front.along() + allow.rough_length).inches();
        assert!(
            wood.along.1 - wood.along.0 + PRINTED >= need,
            "{} is too short",
            want.name
        );
        if want.blank.staves == 1 {
            let need = (front.across() + allow.rough_width).inches();
            assert!(
                wood.across.1 - wood.across.0 + PRINTED >= need,
                "{} is too narrow",
                want.name
            );
        }
        let kind = job
            .boards
            .iter()
            .find(|b| *board == b.id || board.starts_with(&format!("{} no. ", b.id)));
        let clear = allow.clear.inches() - PRINTED;
        for defect in &kind.expect("a board").defects {
            let shows = match defect.side {
                DefectSide::Both => true,
                DefectSide::Up => want.blank.face == Face::Up,
                DefectSide::Down => want.blank.face == Face::Down,
            };
            let along = (defect.from.inches() - clear, defect.to.inches() + clear);
            let across = (defect.low.inches() - clear, defect.high.inches() + clear);
            let copies_alike = job
                .boards
                .iter()
                .filter(|b| b.id == kind.unwrap().id)
                .count()
                == 1;
            assert!(
                !(copies_alike && shows && meet(along, wood.along) && meet(across, wood.across)),
                "{} has {defect:?}",
                want.name
            );
        }
    }
    let blanks: usize = shop.blanks.len() + shop.pieces.len();
    assert_eq!(blanks, wanted.len(), "no more comes out than is wanted");
}
