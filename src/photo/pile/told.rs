//! What photographs told, as `photos.json` has it: lengths in the job's unit.

use serde::Serialize;

use super::faces::{Face, FaceName};
use super::finds::{Find, Shown};
use super::tones::{are_alike, disagreements, kind_of, scale_of, uncertain};
use crate::job::{DefectKind, PhotoSide, Reading};
use crate::measure::{Length, Unit};
use crate::photo::defects::Proposal;
use crate::photo::outline::SURE;
use crate::photo::tone::Scale;

/// All that photographs told.
#[derive(Clone, Debug, Serialize)]
pub struct Told {
    format: u32,
    /// The unit of all lengths.
    pub unit: Unit,
    /// Photograph by photograph.
    pub photos: Vec<PhotoTold>,
    /// Face by face; one without sure corners is not among them.
    pub boards: Vec<BoardTold>,
    /// What the maker should know, in words.
    #[serde(skip)]
    pub notes: Vec<String>,
    /// Boards that can't be told apart by tone, each group once.
    #[serde(skip)]
    pub alike: Vec<Vec<String>>,
}

/// One photograph.
#[derive(Clone, Debug, Serialize)]
pub struct PhotoTold {
    /// The picture's path in the job's folder.
    pub photo: String,
    /// The board.
    pub board: String,
    /// Its copy.
    pub copy: u32,
    /// Which face.
    pub side: PhotoSide,
    /// Start of what it shows.
    pub from: f64,
    /// End of what it shows.
    pub to: f64,
    /// Four corners in pixels, when known.
    pub corners: Option<[[f64; 2]; 4]>,
    /// Whether they were looked for.
    pub found: bool,
    /// How sure they are; 1 when given.
    pub confidence: f64,
    /// Its row of `photos.csv`.
    #[serde(skip)]
    pub row: Option<usize>,
    #[serde(skip)]
    pub(super) shown: Option<Shown>,
}

/// One face of a board.
#[derive(Clone, Debug, Serialize)]
pub struct BoardTold {
    /// The board.
    pub board: String,
    /// Its copy.
    pub copy: u32,
    /// Which face.
    pub side: PhotoSide,
    /// Pixels of the straightened picture a unit.
    pub scale: f64,
    /// Median CIE Lab of sound wood.
    pub lab: [f64; 3],
    /// Steps, 0 palest to 10 darkest.
    pub tone: f64,
    /// Within so many steps, 19 times of 20.
    pub uncertain: f64,
    /// The tone along it.
    pub along: Vec<AlongTold>,
    /// The grain along it.
    pub slope: Vec<SlopeTold>,
    /// Defects proposed.
    pub defects: Vec<DefectTold>,
    /// The straightened picture: a JPEG and its size.
    #[serde(skip)]
    pub jpeg: Vec<u8>,
    #[serde(skip)]
    pub(super) size: (usize, usize),
    #[serde(skip)]
    pub(super) advice: Option<&'static str>,
    /// Whether its tone is left to photographs.
    #[serde(skip)]
    pub by_photo: bool,
}

/// The colour of a part of a board.
#[derive(Clone, Debug, Serialize)]
pub struct AlongTold {
    /// Start.
    pub from: f64,
    /// End.
    pub to: f64,
    /// Median CIE Lab.
    pub lab: [f64; 3],
}

/// The grain of a part of a board.
#[derive(Clone, Debug, Serialize)]
pub struct SlopeTold {
    /// Start.
    pub from: f64,
    /// End.
    pub to: f64,
    /// Against the board's length; above zero when it rises towards the far edge.
    pub degrees: f64,
}

/// A defect proposed.
#[derive(Clone, Debug, Serialize)]
pub struct DefectTold {
    /// Its number on the proof sheet, on this face.
    pub number: usize,
    /// What it seems to be.
    pub kind: DefectKind,
    /// Start along.
    pub from: f64,
    /// End along.
    pub to: f64,
    /// Start across.
    pub low: f64,
    /// End across.
    pub high: f64,
    /// 0 to 1.
    pub confidence: f64,
}

impl BoardTold {
    /// Its name.
    pub fn name(&self) -> FaceName {
        FaceName {
            board: self.board.clone(),
            copy: self.copy,
            side: self.side,
        }
    }
}

/// A figure to so many decimals.
fn to(value: f64, decimals: i32) -> f64 {
    let times = 10f64.powi(decimals);
    (value * times).round() / times
}

/// Inches in the job's unit, to a hundredth of an inch or a tenth of a millimetre.
fn length(inches: f64, unit: Unit) -> f64 {
    let decimals = match unit {
        Unit::Inch => 2,
        Unit::Mm => 1,
    };
    to(Length::from_inches(inches).in_unit(unit), decimals)
}

/// Puts all into words and figures.
pub(super) fn tell(reading: &Reading, finds: &[Find], faces: Vec<Face>) -> Told {
    let unit = reading.job.settings.unit;
    let scale = scale_of(reading, &faces);
    let mut notes = notes_on_photos(reading, finds);
    notes.extend(disagreements(reading, &faces, &scale));
    notes.extend(faces.iter().filter_map(|face| steep(face, reading)));
    let sure: Vec<f64> = faces.iter().map(|face| uncertain(face, &faces)).collect();
    let alike = groups(&faces);
    let boards = faces.into_iter().zip(sure);
    Told {
        format: 1,
        unit,
        photos: photos(reading, finds, unit),
        boards: boards
            .map(|(face, off)| board(reading, face, &scale, off, unit))
            .collect(),
        notes,
        alike,
    }
}

fn photos(reading: &Reading, finds: &[Find], unit: Unit) -> Vec<PhotoTold> {
    let photos = reading.photos.iter().zip(finds);
    photos
        .map(|(photo, find)| PhotoTold {
            photo: photo.file.clone(),
            board: photo.board.clone(),
            copy: photo.copy,
            side: photo.side,
            from: photo.from.in_unit(unit),
            to: photo.to.in_unit(unit),
            corners: find
                .corners
                .map(|all| all.map(|p| [to(p.x, 1), to(p.y, 1)])),
            found: find.found,
            confidence: to(find.confidence, 2),
            row: photo.row,
            shown: find.shown.clone(),
        })
        .collect()
}

fn board(reading: &Reading, face: Face, scale: &Scale, off: f64, unit: Unit) -> BoardTold {
    let colour = &face.measured.colour;
    let a_unit = Length::from_unit(1.0, unit).inches();
    let lab = |lab: crate::photo::colour::Lab| lab.parts().map(|part| to(part, 1));
    let along = colour.along.iter().map(|part| AlongTold {
        from: length(part.from, unit),
        to: length(part.to, unit),
        lab: lab(part.lab),
    });
    let slope = face.measured.slopes.iter().map(|slope| SlopeTold {
        from: length(slope.from, unit),
        to: length(slope.to, unit),
        degrees: to(slope.degrees, 1),
    });
    BoardTold {
        scale: face.scale * a_unit,
        lab: lab(colour.lab),
        tone: scale.tone(colour.lab.l),
        uncertain: to(scale.steps(off), 1),
        along: along.collect(),
        slope: slope.collect(),
        defects: defects(&face.measured.proposals, unit),
        by_photo: kind_of(reading, &face).is_some_and(|board| board.tone_by_photo),
        advice: face.measured.missing.advice(),
        size: face.size,
        jpeg: face.jpeg,
        board: face.name.board,
        copy: face.name.copy,
        side: face.name.side,
    }
}

fn defects(proposals: &[Proposal], unit: Unit) -> Vec<DefectTold> {
    let numbered = proposals.iter().zip(1..);
    numbered
        .map(|(proposal, number)| {
            let [from, to_, low, high] = proposal.edges.map(|edge| length(edge, unit));
            let confidence = to(proposal.confidence, 2);
            DefectTold {
                number,
                kind: proposal.kind,
                from,
                to: to_,
                low,
                high,
                confidence,
            }
        })
        .collect()
}

fn notes_on_photos(reading: &Reading, finds: &[Find]) -> Vec<String> {
    let mut notes = Vec::new();
    for (photo, find) in reading.photos.iter().zip(finds) {
        let (file, board) = (&photo.file, &photo.board);
        if find.usable().is_none() {
            let sure = match find.corners {
                Some(_) => format!(
                    "the corners of {board} are not sure ({:.2} of {SURE} at least)",
                    find.confidence
                ),
                None => format!("{board} was not found"),
            };
            notes.push(format!(
                "{file}: {sure}, so it is not used. Look at the proof sheet: `--accept corners` takes \
                 what is drawn there; or write the corners into photos.csv"
            ));
        }
        if find.guessed_colours && find.shown.is_some() {
            notes.push(format!(
                "{file}: its colour profile can't be read; sRGB is taken"
            ));
        }
    }
    notes
}

/// A caution where the grain runs out steeply.
fn steep(face: &Face, reading: &Reading) -> Option<String> {
    let sure = |slope: &&crate::photo::grain::Slope| slope.is_steep() && slope.confidence > 0.35;
    let steep: Vec<_> = face.measured.slopes.iter().filter(sure).collect();
    let worst = steep
        .iter()
        .max_by(|a, b| a.degrees.abs().total_cmp(&b.degrees.abs()))?;
    let ruler = reading.job.settings.ruler();
    let show = |inches: f64| ruler.show_with_unit(Length::from_inches(inches));
    Some(format!(
        "{}: from {} to {} the grain is as steep as 1 in {:.0} ({:.0} degrees): steeper than 1 in 8 a \
         front breaks and tears easily",
        face.name.board,
        show(worst.from),
        show(worst.to),
        worst.one_in(),
        worst.degrees.abs()
    ))
}

/// Faces from the palest on, in groups of which all are like the first.
fn groups(faces: &[Face]) -> Vec<Vec<String>> {
    let mut order: Vec<&Face> = faces.iter().collect();
    let lightness = |face: &Face| face.measured.colour.lab.l;
    order.sort_by(|a, b| lightness(b).total_cmp(&lightness(a)));
    let mut groups: Vec<Vec<&Face>> = Vec::new();
    for face in order {
        match groups.last_mut() {
            Some(group) if are_alike(group[0], face) => group.push(face),
            _ => groups.push(vec![face]),
        }
    }
    let named = |group: Vec<&Face>| group.iter().map(|face| face.name.board.clone()).collect();
    groups
        .into_iter()
        .filter(|group| group.len() > 1)
        .map(named)
        .collect()
}
