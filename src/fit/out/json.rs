//! The fitting sheet as JSON: lengths are decimal numbers in the job's unit.

use serde::Serialize;

use super::{CAUTIONS, ORDER_OF_WORK, WEDGES, edge_list, sizes};
use crate::fit::fitted::{Fitted, FittedArch, FittedBevel, FittedOpening};
use crate::fit::{Assumed, PullMarks, Reveal, Said, Season, Sheet, Wedge};
use crate::job::{Edge, Edges, Grain, Mode};
use crate::measure::{Length, Unit};
use crate::wood::Cut;

#[derive(Serialize)]
struct SheetRecord<'a> {
    format: u32,
    title: &'a str,
    unit: Unit,
    mode: Mode,
    species: Option<&'a str>,
    order_of_work: [&'static str; 5],
    how_to_cut_wedges: &'static [&'static str],
    cautions: [&'static str; 3],
    fronts: Vec<FrontRecord<'a>>,
}

#[derive(Serialize)]
struct FrontRecord<'a> {
    front: &'a str,
    /// The finished blank.
    width: f64,
    height: f64,
    thickness: f64,
    grain: Grain,
    mode: Mode,
    cut: Option<Cut>,
    square: bool,
    sides: Edges<f64>,
    diagonal_up: f64,
    diagonal_down: f64,
    opening: Option<OpeningRecord>,
    moisture: Option<[f64; 3]>,
    seasons: Vec<SeasonRecord>,
    /// To a like front over one divider; overlays only.
    between: Option<BetweenRecord>,
    /// In the order they are cut.
    wedges: Vec<WedgeRecord>,
    bevel: Option<BevelRecord>,
    arch: Option<ArchRecord<'a>>,
    pulls: Option<PullsRecord>,
    cautions: Vec<Said>,
    notes: &'a str,
}

#[derive(Serialize)]
struct OpeningRecord {
    sides: Edges<f64>,
    diagonal_up: f64,
    diagonal_down: f64,
    assumed: Assumed,
    disagreement: Option<f64>,
    adjusted: Option<f64>,
    /// Where the front's lower left corner stands today, from the opening's: to the right, up.
    stands: [f64; 2],
    /// What an overlay covers more than asked, at the most.
    extra: Edges<f64>,
}

#[derive(Serialize)]
struct SeasonRecord {
    season: Season,
    moisture: Option<f64>,
    growth: f64,
    /// Gaps, or overlaps when the fronts are overlays; none without an opening.
    gaps: Option<Edges<f64>>,
}

#[derive(Serialize)]
struct BetweenRecord {
    divider: f64,
    /// Today, driest, wettest.
    stacked: [f64; 3],
    beside: [f64; 3],
}

#[derive(Serialize)]
struct WedgeRecord {
    edge: Edge,
    take_off: f64,
    thick_end: Edge,
    over: f64,
    shim: f64,
    fence: f64,
    to_fence: crate::fit::ToFence,
    /// How long the edge at the fence is then.
    against: f64,
    held_by: crate::fit::HeldBy,
}

#[derive(Serialize)]
struct BevelRecord {
    edges: Vec<&'static str>,
    face: f64,
    drop: f64,
    tilt_degrees: f64,
    gauge_degrees: f64,
    edge_left: f64,
    /// Nothing when the bevels meet.
    flat_width: Option<f64>,
    flat_height: Option<f64>,
    flat_lowest: Option<f64>,
}

#[derive(Serialize)]
struct ArchRecord<'a> {
    shared: Option<&'a str>,
    radius: f64,
    opening_radius: f64,
    centre_line: f64,
    centre_below: f64,
    left: f64,
    right: f64,
    crest: Option<f64>,
    draw_with: &'static str,
    ordinates: Vec<OrdinateRecord>,
}

#[derive(Serialize)]
struct OrdinateRecord {
    from_centre: f64,
    from_left: f64,
    height: f64,
}

#[derive(Serialize)]
struct PullsRecord {
    above_bottom: f64,
    spacing: Option<f64>,
    hole: f64,
    holes: Vec<HoleRecord>,
}

#[derive(Serialize)]
struct HoleRecord {
    pull: u32,
    from_centre: f64,
    to_edge: Edges<f64>,
}

/// A length as a number in the job's unit, exact to a millionth.
#[derive(Clone, Copy)]
struct Scale(Unit);

impl Scale {
    fn of(self, length: Length) -> f64 {
        (length.in_unit(self.0) * 1e6).round() / 1e6
    }

    fn mm(self, mm: f64) -> f64 {
        self.of(Length::from_mm(mm))
    }
}

/// The sheet as a JSON value.
pub fn to_json(sheet: &Sheet) -> serde_json::Value {
    let scale = Scale(sheet.ruler.unit);
    let record = SheetRecord {
        format: 1,
        title: &sheet.title,
        unit: sheet.ruler.unit,
        mode: sheet.mode,
        species: sheet.species,
        order_of_work: ORDER_OF_WORK,
        how_to_cut_wedges: if sheet.has_wedges() { &WEDGES } else { &[] },
        cautions: CAUTIONS,
        fronts: sheet
            .fronts
            .iter()
            .map(|fitted| front(sheet, fitted, scale))
            .collect(),
    };
    // The records hold nothing JSON can't say: their keys are words and their numbers finite.
    serde_json::to_value(record).unwrap_or_default()
}

fn front<'a>(sheet: &Sheet, fitted: &'a Fitted, scale: Scale) -> FrontRecord<'a> {
    let (sides, diagonals) = sizes(fitted);
    FrontRecord {
        front: &fitted.name,
        width: scale.of(fitted.width()),
        height: scale.of(fitted.height()),
        thickness: scale.of(fitted.thickness),
        grain: fitted.grain,
        mode: fitted.mode,
        cut: fitted.cut,
        square: fitted.is_square(),
        sides: sides.map(|l| scale.of(l)),
        diagonal_up: scale.of(diagonals[0]),
        diagonal_down: scale.of(diagonals[1]),
        opening: fitted.opening.as_ref().map(|o| opening(o, scale)),
        moisture: fitted
            .seasons
            .map(|s| Season::ALL.map(|season| percent(s.moisture(season).value()))),
        seasons: Season::ALL.map(|s| season(fitted, s, scale)).into(),
        between: fitted.reveal.map(|r| between(fitted, &r, scale)),
        wedges: fitted.wedges.iter().map(|w| wedge(w, scale)).collect(),
        bevel: fitted.bevel.as_ref().map(|b| bevel(b, scale)),
        arch: fitted.arch.as_ref().map(|a| arch(a, scale)),
        pulls: fitted.pulls.as_ref().map(|p| pulls(p, scale)),
        cautions: fitted
            .cautions
            .iter()
            .map(|caution| caution.said(&sheet.ruler))
            .collect(),
        notes: &fitted.notes,
    }
}

fn percent(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn opening(opening: &FittedOpening, scale: Scale) -> OpeningRecord {
    let quad = &opening.solved.quad;
    OpeningRecord {
        sides: quad.sides().map(|mm| scale.mm(mm)),
        diagonal_up: scale.mm(quad.diagonal_up()),
        diagonal_down: scale.mm(quad.diagonal_down()),
        assumed: opening.solved.assumed,
        disagreement: opening.solved.disagreement.map(|l| scale.of(l)),
        adjusted: opening.solved.adjusted.map(|l| scale.of(l)),
        stands: [opening.stands.x, opening.stands.y].map(|mm| scale.mm(mm)),
        extra: opening.extra.map(|mm| scale.mm(mm)),
    }
}

fn season(fitted: &Fitted, season: Season, scale: Scale) -> SeasonRecord {
    SeasonRecord {
        season,
        moisture: fitted.seasons.map(|s| percent(s.moisture(season).value())),
        growth: scale.mm(fitted.movement.growth(season)),
        gaps: fitted
            .opening
            .map(|_| fitted.movement.gaps(season).map(|mm| scale.mm(mm))),
    }
}

fn between(fitted: &Fitted, reveal: &Reveal, scale: Scale) -> BetweenRecord {
    let movement = &fitted.movement;
    BetweenRecord {
        divider: scale.of(reveal.divider),
        stacked: Season::ALL.map(|season| scale.of(reveal.stacked(movement, season))),
        beside: Season::ALL.map(|season| scale.of(reveal.beside(movement, season))),
    }
}

fn wedge(wedge: &Wedge, scale: Scale) -> WedgeRecord {
    WedgeRecord {
        edge: wedge.edge,
        take_off: scale.of(wedge.take_off),
        thick_end: wedge.thick_end,
        over: scale.of(wedge.over),
        shim: scale.of(wedge.shim),
        fence: scale.of(wedge.fence),
        to_fence: wedge.to_fence,
        against: scale.of(wedge.against),
        held_by: wedge.held_by,
    }
}

fn bevel(fitted: &FittedBevel, scale: Scale) -> BevelRecord {
    BevelRecord {
        edges: edge_list(&fitted.on),
        face: scale.of(fitted.bevel.face),
        drop: scale.of(fitted.bevel.drop),
        tilt_degrees: percent(fitted.bevel.angle),
        gauge_degrees: percent(fitted.bevel.gauge()),
        edge_left: scale.of(fitted.edge_left),
        flat_width: fitted.flat.map(|flat| scale.of(flat.width)),
        flat_height: fitted.flat.map(|flat| scale.of(flat.height)),
        flat_lowest: fitted.flat.map(|flat| scale.of(flat.lowest)),
    }
}

fn arch(arch: &FittedArch, scale: Scale) -> ArchRecord<'_> {
    ArchRecord {
        shared: arch.shared.as_deref(),
        radius: scale.of(arch.radius),
        opening_radius: scale.of(arch.opening_radius),
        centre_line: scale.of(arch.centre_line),
        centre_below: scale.of(arch.centre_below),
        left: scale.of(arch.left),
        right: scale.of(arch.right),
        crest: arch.crest.map(|l| scale.of(l)),
        draw_with: if arch.trammel { "trammel" } else { "batten" },
        ordinates: arch
            .ordinates
            .iter()
            .map(|o| OrdinateRecord {
                from_centre: scale.mm(o.from_centre),
                from_left: scale.mm(o.from_left),
                height: scale.mm(o.height),
            })
            .collect(),
    }
}

fn pulls(marks: &PullMarks, scale: Scale) -> PullsRecord {
    PullsRecord {
        above_bottom: scale.of(marks.level),
        spacing: marks.spacing.map(|l| scale.of(l)),
        hole: scale.of(marks.diameter),
        holes: marks
            .holes
            .iter()
            .map(|hole| HoleRecord {
                pull: hole.pull,
                from_centre: scale.of(hole.from_centre),
                to_edge: hole.to_edge.map(|l| scale.of(l)),
            })
            .collect(),
    }
}
