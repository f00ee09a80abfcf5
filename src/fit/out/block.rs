//! One front's block on the fitting sheet.

use std::fmt::Write;

use super::text::wrapped;
use super::{edge_list, sizes, wedge_words};
use crate::fit::fitted::{Fitted, FittedArch, FittedBevel, FittedOpening};
use crate::fit::wedge::square_within;
use crate::fit::{Assumed, Hole, PullMarks, Season, Seasons, Sheet};
use crate::job::{Edge, Edges, Grain, Mode};
use crate::measure::{Length, Ruler};

/// Writes one front's block: a heading, then a labelled paragraph for each thing to do.
///
/// Cautions said `everywhere` are not repeated.
pub(super) fn block(
    out: &mut String,
    sheet: &Sheet,
    number: usize,
    fitted: &Fitted,
    everywhere: &[String],
) {
    let _ = writeln!(out, "{number:>2}  {}", fitted.name);
    let mut told_curve = false;
    for (label, words) in lines(sheet, fitted) {
        if everywhere.contains(&words) {
            continue;
        }
        // The curve's heights stand in columns after the blank it is sawn from.
        if let (true, Some(arch)) = (label == PULLS && !told_curve, &fitted.arch) {
            ordinates(out, arch, &sheet.ruler);
            told_curve = true;
        }
        wrapped(out, &format!("    {label:<13} "), &words);
    }
    if let (false, Some(arch)) = (told_curve, &fitted.arch) {
        ordinates(out, arch, &sheet.ruler);
    }
}

/// The label of the lines about pulls.
const PULLS: &str = "Pulls";
/// The label of what is to be looked at again.
const LOOK_AGAIN: &str = "LOOK AGAIN";
/// Said of a front without an opening.
const NOT_MEASURED: &str = "not measured: size as drawn";

/// All there is to do to one front, each line under its label; an arch's heights are apart, in
/// `FittedArch::ordinates`.
pub fn lines(sheet: &Sheet, fitted: &Fitted) -> Vec<(&'static str, String)> {
    let ruler = &sheet.ruler;
    let opening = match &fitted.opening {
        Some(opening) => opened(opening, ruler),
        None => NOT_MEASURED.into(),
    };
    let mut lines = vec![("Finished", finished(fitted, ruler)), ("Opening", opening)];
    lines.extend(gap_lines(fitted, ruler));
    let wedges = wedge_words(&fitted.wedges, ruler).into_iter();
    lines.extend(wedges.map(|words| ("Wedge", words)));
    lines.extend(bevel(fitted, ruler).map(|words| ("Bevel", words)));
    if let Some(arch) = &fitted.arch {
        lines.extend(arch_lines(fitted, arch, ruler));
    }
    if let Some(marks) = &fitted.pulls {
        let pulls = pulls(marks, ruler).into_iter();
        lines.extend(pulls.map(|words| (PULLS, words)));
    }
    let cautions = fitted.cautions.iter();
    lines.extend(cautions.map(|caution| (LOOK_AGAIN, caution.say(ruler))));
    if !fitted.notes.is_empty() {
        lines.push(("Notes", fitted.notes.clone()));
    }
    lines
}

fn finished(fitted: &Fitted, ruler: &Ruler) -> String {
    let grain = match fitted.grain {
        Grain::Horizontal => "horizontal",
        Grain::Vertical => "vertical",
    };
    let cut = fitted.cut.map(|cut| format!(", {} sawn", cut.word()));
    let cut = cut.unwrap_or_default();
    let start = format!(
        "{} wide, {} high, {} thick; grain {grain}{cut}. ",
        ruler.show(fitted.width()),
        ruler.show(fitted.height()),
        ruler.show(fitted.thickness)
    );
    let (sides, [up, down]) = sizes(fitted);
    let square = fitted.is_square() && fitted.arch.is_none();
    let shape = if square { "Square. " } else { "" };
    format!(
        "{start}{shape}Left {}, right {}, top {}, bottom {}; diagonals up {}, down {}.",
        ruler.show(sides.left),
        ruler.show(sides.right),
        ruler.show(sides.top),
        ruler.show(sides.bottom),
        ruler.show(up),
        ruler.show(down)
    )
}

fn opened(opening: &FittedOpening, ruler: &Ruler) -> String {
    let measured = &opening.measured;
    let mut words = format!(
        "left {}, right {}, top {}, bottom {}",
        ruler.show(measured.left),
        ruler.show(measured.right),
        ruler.show(measured.top),
        ruler.show(measured.bottom)
    );
    let diagonals = [
        ("up", measured.diagonal_up),
        ("down", measured.diagonal_down),
    ];
    for (way, diagonal) in diagonals {
        if let Some(diagonal) = diagonal {
            let _ = write!(words, ", diagonal {way} {}", ruler.show(diagonal));
        }
    }
    for remark in of_opening(opening, ruler) {
        let _ = write!(words, "; {remark}");
    }
    words
}

/// What is to be said of an opening beside its figures.
fn of_opening(opening: &FittedOpening, ruler: &Ruler) -> Vec<String> {
    let mut remarks = Vec::new();
    if opening.solved.assumed == Assumed::LowerLeftSquare {
        remarks.push("no diagonal, so the lower left corner is taken as square".to_owned());
    }
    if let Some(adjusted) = opening.solved.adjusted
        && adjusted.mm() > 0.2
    {
        remarks.push(format!(
            "the six do not quite agree: each adjusted by at most {}",
            ruler.show(adjusted)
        ));
    }
    remarks
}

/// What is to be said of a front that tables of its figures do not say, each line under its label.
pub fn remarks(sheet: &Sheet, fitted: &Fitted) -> Vec<(&'static str, String)> {
    let ruler = &sheet.ruler;
    let mut remarks = match &fitted.opening {
        None => vec![("Opening", NOT_MEASURED.to_owned())],
        Some(opening) => of_opening(opening, ruler)
            .into_iter()
            .map(|remark| ("Opening", remark))
            .collect(),
    };
    remarks.extend(covers_more(fitted, ruler).map(|words| ("Overlap today", words)));
    remarks.extend(between(fitted, ruler).map(|words| ("Between", words)));
    remarks.extend(
        fitted
            .arch
            .as_ref()
            .map(|arch| ("Arch", drawn(arch, ruler))),
    );
    let cautions = fitted.cautions.iter();
    remarks.extend(cautions.map(|caution| (LOOK_AGAIN, caution.say(ruler))));
    if !fitted.notes.is_empty() {
        remarks.push(("Notes", fitted.notes.clone()));
    }
    remarks
}

fn gap_lines(fitted: &Fitted, ruler: &Ruler) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    let what = match fitted.mode {
        Mode::Inset => "Shims today",
        Mode::Overlay => "Overlap today",
    };
    if fitted.opening.is_some() {
        let mut words = four(&fitted.movement.gaps(Season::Today), ruler);
        words.extend(covers_more(fitted, ruler).map(|more| format!("; {more}")));
        lines.push((what, words));
    }
    let seasons = fitted.seasons.into_iter();
    lines.extend(seasons.flat_map(|seasons| season_lines(fitted, &seasons, ruler)));
    lines.extend(between(fitted, ruler).map(|words| ("Between", words)));
    lines
}

/// What a square front covers more of a leaning opening; nothing when that is not to be seen.
fn covers_more(fitted: &Fitted, ruler: &Ruler) -> Option<String> {
    let extra = fitted.opening.map_or(Edges::all(0.0), |o| o.extra);
    let most = Edge::ALL.map(|edge| extra.at(edge));
    let most = Length::from_mm(most.into_iter().fold(0.0, f64::max));
    (most > square_within()).then(|| {
        format!(
            "square over a leaning opening, so up to {} more at an end",
            ruler.show(most)
        )
    })
}

/// What the driest and the dampest season make of a front and its gaps.
fn season_lines(fitted: &Fitted, seasons: &Seasons, ruler: &Ruler) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    for (label, season) in [("Driest", Season::Driest), ("Dampest", Season::Wettest)] {
        let growth = Length::from_mm(fitted.movement.growth(season));
        let verb = match growth >= Length::ZERO {
            true => "grows",
            false => "shrinks",
        };
        let amount = Length::from_nm(growth.nm().abs());
        let across = match fitted.grain {
            Grain::Horizontal => "in height",
            Grain::Vertical => "in width",
        };
        let mut words = format!(
            "{}: {verb} {} {across}",
            seasons.moisture(season),
            ruler.show(amount)
        );
        if fitted.opening.is_some() {
            let gaps = fitted.movement.gaps(season);
            let _ = write!(words, "; then {}", four(&gaps, ruler));
        }
        lines.push((label, words));
    }
    lines
}

/// What two overlay fronts leave open on the divider they share.
fn between(fitted: &Fitted, ruler: &Ruler) -> Option<String> {
    let reveal = fitted.reveal?;
    let seasons: &[(Season, &str)] = match fitted.seasons {
        Some(_) => &[
            (Season::Today, "today"),
            (Season::Driest, "driest"),
            (Season::Wettest, "dampest"),
        ],
        None => &[(Season::Today, "today")],
    };
    let all = |at: &dyn Fn(Season) -> Length| {
        let words = seasons
            .iter()
            .map(|&(season, word)| format!("{} {word}", ruler.show(at(season))));
        words.collect::<Vec<_>>().join(", ")
    };
    Some(format!(
        "to a like front on one divider of {}: one above the other {}; side by side {}",
        ruler.show(reveal.divider),
        all(&|season| reveal.stacked(&fitted.movement, season)),
        all(&|season| reveal.beside(&fitted.movement, season))
    ))
}

fn four(gaps: &Edges<f64>, ruler: &Ruler) -> String {
    let words = Edge::ALL.map(|edge| {
        let gap = ruler.show(Length::from_mm(gaps.at(edge)));
        format!("{} {gap}", edge.word())
    });
    words.join(", ")
}

fn bevel(fitted: &Fitted, ruler: &Ruler) -> Option<String> {
    let bevel = fitted.bevel.as_ref()?;
    let mut words = format!(
        "{}: {} in on the face, {} down at the edge, which leaves {}. Blade tilted {:.1} degrees \
         from upright (a gauge zeroed on the table reads {:.1}), cut {} high on the face.{}",
        edge_list(&bevel.on).join(", "),
        ruler.show(bevel.bevel.face),
        ruler.show(bevel.bevel.drop),
        ruler.show(bevel.edge_left),
        bevel.bevel.angle,
        bevel.bevel.gauge(),
        ruler.show(bevel.bevel.face),
        flat(bevel, ruler)
    );
    if fitted.arch.is_some() {
        words += " Cut the straight edges before the curve is sawn; the arched edge can't run \
                  against the fence.";
    }
    Some(words)
}

/// The flat between a front's bevels.
fn flat(bevel: &FittedBevel, ruler: &Ruler) -> String {
    let Some(flat) = bevel.flat else {
        return String::new();
    };
    let lowest = match flat.lowest < flat.height - square_within() {
        true => format!(" ({} at its lower side)", ruler.show(flat.lowest)),
        false => String::new(),
    };
    format!(
        " The flat between the bevels is {} wide, {} high{lowest}.",
        ruler.show(flat.width),
        ruler.show(flat.height)
    )
}

fn arch_lines(fitted: &Fitted, arch: &FittedArch, ruler: &Ruler) -> Vec<(&'static str, String)> {
    let mut words = format!("Radius {}", ruler.show(arch.radius));
    if let Some(name) = &arch.shared {
        let _ = write!(words, ", a slice of the shared arch {name}");
    }
    let side = match arch.centre_line >= Length::ZERO {
        true => "right",
        false => "left",
    };
    let _ = write!(
        words,
        "; the arch's middle is {} to the {side} of the lower left corner. Heights: {} at the \
         left corner, {} at the right",
        ruler.show(Length::from_nm(arch.centre_line.nm().abs())),
        ruler.show(arch.left),
        ruler.show(arch.right)
    );
    if let Some(crest) = arch.crest {
        let _ = write!(words, ", {} at the crest", ruler.show(crest));
    }
    let _ = write!(words, ". {}.", drawn(arch, ruler));
    let blank = format!(
        "{} by {}, straight bottom edge",
        ruler.show(fitted.width()),
        ruler.show(fitted.height())
    );
    vec![("Arch", words), ("Blank", blank)]
}

/// How an arch's curve is drawn on a front.
fn drawn(arch: &FittedArch, ruler: &Ruler) -> String {
    let (below, place) = match arch.centre_below >= Length::ZERO {
        true => (arch.centre_below, "below"),
        false => (-arch.centre_below, "above"),
    };
    match arch.trammel {
        true => format!(
            "Draw it with a trammel from a point at the arch's middle, {} {place} the bottom edge",
            ruler.show(below)
        ),
        false => "Too large for a trammel here: spring a batten through the ordinates".to_owned(),
    }
}

/// The curve's heights in columns: from the arch's middle, from the lower left corner, and
/// up from the bottom edge.
fn ordinates(out: &mut String, arch: &FittedArch, ruler: &Ruler) {
    const A_ROW: usize = 5;
    let show = |mm: f64| ruler.show(Length::from_mm(mm));
    for (index, part) in arch.ordinates.chunks(A_ROW).enumerate() {
        let label = if index == 0 { "Ordinates" } else { "" };
        let columns: [(&str, &str, Vec<String>); 3] = [
            (
                label,
                "from middle",
                part.iter().map(|o| show(o.from_centre)).collect(),
            ),
            (
                "",
                "from left",
                part.iter().map(|o| show(o.from_left)).collect(),
            ),
            ("", "height", part.iter().map(|o| show(o.height)).collect()),
        ];
        for (label, what, cells) in columns {
            let cells: String = cells.iter().map(|cell| format!("{cell:>11}")).collect();
            let _ = writeln!(out, "    {label:<13} {what:<11}{cells}");
        }
    }
}

/// One line for the level and the holes, then one for each pull.
fn pulls(marks: &PullMarks, ruler: &Ruler) -> Vec<String> {
    let mut lines = vec![format!(
        "pull line {} above the bottom edge; holes {}{}",
        ruler.show(marks.level),
        ruler.show(marks.diameter),
        match marks.spacing {
            Some(spacing) => format!(", {} apart in a pull", ruler.show(spacing)),
            None => String::new(),
        }
    )];
    let last = marks.holes.last().map_or(0, |hole| hole.pull);
    for pull in 1..=last {
        let holes = marks.holes.iter().filter(|hole| hole.pull == pull);
        let words: Vec<String> = holes.map(|hole| hole_words(hole, ruler)).collect();
        let name = match last {
            1 => String::new(),
            _ => format!("pull {pull}: "),
        };
        lines.push(format!("{name}{}", words.join("; ")));
    }
    lines
}

fn hole_words(hole: &Hole, ruler: &Ruler) -> String {
    let off = hole.from_centre;
    let from = match off.nm() {
        0 => "on the centre line".to_owned(),
        nm => format!(
            "{} {} of the centre line",
            ruler.show(Length::from_nm(nm.abs())),
            if nm < 0 { "left" } else { "right" }
        ),
    };
    format!(
        "{from} ({} from the left end, {} from the right, {} below the top)",
        ruler.show(hole.to_edge.left),
        ruler.show(hole.to_edge.right),
        ruler.show(hole.to_edge.top)
    )
}
