//! `fit.csv`: one row a front.

use super::{edge_list, sizes, wedge_words};
use crate::fit::fitted::Fitted;
use crate::fit::{Season, Sheet};
use crate::job::Edge;
use crate::measure::{Length, Ruler};
use crate::text::csv_bytes;

const HEADER: [&str; 37] = [
    "front",
    "fitted",
    "width",
    "height",
    "thickness",
    "square",
    "left",
    "right",
    "top",
    "bottom",
    "diagonal_up",
    "diagonal_down",
    "gap_left",
    "gap_right",
    "gap_top",
    "gap_bottom",
    "driest_left",
    "driest_right",
    "driest_top",
    "driest_bottom",
    "wettest_left",
    "wettest_right",
    "wettest_top",
    "wettest_bottom",
    "grows",
    "shrinks",
    "wedges",
    "bevel_edges",
    "bevel_face",
    "bevel_drop",
    "bevel_tilt",
    "bevel_gauge",
    "arch_radius",
    "pull_height",
    "pull_holes",
    "cautions",
    "unit",
];

/// The sheet as a table: lengths as the bench reads them, to 1/64 in or 0.1 mm.
///
/// `gap_left` to `gap_bottom` are the shims to fit with today; for overlays they are overlaps.
pub fn csv(sheet: &Sheet) -> Vec<u8> {
    let rows = sheet.fronts.iter().map(|fitted| row(sheet, fitted));
    csv_bytes(&HEADER, rows)
}

fn row(sheet: &Sheet, fitted: &Fitted) -> Vec<String> {
    let ruler = &sheet.ruler;
    let yes = |yes: bool| if yes { "yes" } else { "no" }.to_owned();
    let (sides, diagonals) = sizes(fitted);
    let mut cells = vec![
        fitted.name.clone(),
        yes(fitted.opening.is_some()),
        ruler.show(fitted.width()),
        ruler.show(fitted.height()),
        ruler.show(fitted.thickness),
        yes(fitted.is_square()),
    ];
    cells.extend(Edge::ALL.map(|edge| ruler.show(sides.at(edge))));
    cells.extend(diagonals.map(|d| ruler.show(d)));
    cells.extend(Season::ALL.into_iter().flat_map(|s| gaps(fitted, s, ruler)));
    cells.extend(movement(fitted, ruler));
    cells.push(wedge_words(&fitted.wedges, ruler).join("; "));
    cells.extend(work(fitted, ruler));
    let cautions = fitted.cautions.iter().map(|caution| caution.say(ruler));
    cells.push(cautions.collect::<Vec<_>>().join("; "));
    cells.push(ruler.unit.to_string());
    cells
}

fn gaps(fitted: &Fitted, season: Season, ruler: &Ruler) -> [String; 4] {
    let known = fitted.opening.is_some() && (season == Season::Today || fitted.seasons.is_some());
    let gaps = fitted.movement.gaps(season);
    Edge::ALL.map(|edge| match known {
        true => ruler.show(Length::from_mm(gaps.at(edge))),
        false => String::new(),
    })
}

fn movement(fitted: &Fitted, ruler: &Ruler) -> [String; 2] {
    let known = fitted.seasons.is_some();
    [(Season::Wettest, 1.0), (Season::Driest, -1.0)].map(|(season, sign)| match known {
        true => ruler.show(Length::from_mm(sign * fitted.movement.growth(season))),
        false => String::new(),
    })
}

fn work(fitted: &Fitted, ruler: &Ruler) -> [String; 8] {
    let bevel = fitted.bevel.as_ref();
    let of_bevel =
        |show: &dyn Fn(&crate::fit::FittedBevel) -> String| bevel.map(show).unwrap_or_default();
    let pulls = fitted.pulls.as_ref();
    [
        of_bevel(&|b| edge_list(&b.on).join(" ")),
        of_bevel(&|b| ruler.show(b.bevel.face)),
        of_bevel(&|b| ruler.show(b.bevel.drop)),
        of_bevel(&|b| format!("{:.1}", b.bevel.angle)),
        of_bevel(&|b| format!("{:.1}", b.bevel.gauge())),
        fitted
            .arch
            .as_ref()
            .map(|arch| ruler.show(arch.radius))
            .unwrap_or_default(),
        pulls.map(|p| ruler.show(p.level)).unwrap_or_default(),
        pulls
            .map(|p| {
                let holes = p.holes.iter().map(|hole| ruler.show(hole.from_centre));
                holes.collect::<Vec<_>>().join("; ")
            })
            .unwrap_or_default(),
    ]
}
