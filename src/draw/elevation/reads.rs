//! How a plan reads in photographs: facing edges, neighbouring faces, and blemishes on them.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use super::Sources;
use super::photo::{BoardFace, Place, face_at};
use super::spans::{self, Source};
use crate::draw::board::upright;
use crate::job::Job;
use crate::photo::colour::{Lab, delta_e};
use crate::photo::edge::{Edge, Inward};
use crate::photo::plane::Strip;
use crate::plan::{End, Plan};

/// How well the facing edges of two neighbours of a run agree.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// The run.
    pub run: String,
    /// The front on the left, or below.
    pub first: String,
    /// The front on the right, or above.
    pub second: String,
    /// Whether both are of one stretch.
    pub unbroken: bool,
    /// Mean difference of lines across, in dE00.
    pub difference: f64,
}

/// Where an edge was looked at: which face, its figures to the bit, at its hook end or not, turned or not.
type EdgeAt = (usize, [u64; 3], bool, bool);

/// Reads plans of one job in its boards' photographs, and remembers what it has looked at.
pub struct Reader<'f> {
    job: &'f Job,
    faces: &'f [BoardFace],
    edges: RefCell<HashMap<EdgeAt, Rc<Edge>>>,
    looks: RefCell<HashMap<(usize, [u64; 4]), Lab>>,
}

impl<'f> Reader<'f> {
    /// A reader of these photographs.
    pub fn new(job: &'f Job, faces: &'f [BoardFace]) -> Reader<'f> {
        Reader {
            job,
            faces,
            edges: RefCell::default(),
            looks: RefCell::default(),
        }
    }

    /// How a plan reads, less being better: joints that are not seen (what no photograph shows may be anything); the
    /// mean difference of facing edges over those that are; the mean difference of their faces, both in dE00; and
    /// the blemishes on the faces.
    ///
    /// # Panics
    /// When the plan is not one for the job.
    pub fn reads(&self, plan: &Plan) -> [f64; 4] {
        let sources = spans::sources(self.job, plan);
        let joints = self.joints(&sources);
        let edges = mean(joints.iter().map(|joint| joint.difference));
        let faces = mean(self.pairs().filter_map(|(_, first, second)| {
            let look = |front: usize| self.look_of(front, sources[front].as_ref()?);
            Some(delta_e(look(first)?, look(second)?))
        }));
        let staves = sources.iter().enumerate();
        let blemishes = staves.flat_map(|(front, staves)| {
            let staves = staves.iter().flatten();
            staves.map(move |source| self.blemishes(front, source))
        });
        let unseen = self.pairs().count() - joints.len();
        let blemishes = blemishes.sum::<usize>();
        [unseen as f64, edges, faces, blemishes as f64]
    }

    /// Every joint between neighbours of a run that are both seen.
    pub(super) fn joints(&self, sources: &Sources) -> Vec<Joint> {
        let joint = |(run, first, second): (&str, usize, usize)| {
            let (one, two) = (sources[first].as_ref()?, sources[second].as_ref()?);
            let staves = one.iter().zip(two);
            let differences: Option<Vec<f64>> = staves
                .map(|(a, b)| {
                    let right = self.edge(first, a, false)?;
                    Some(right.difference(&*self.edge(second, b, true)?))
                })
                .collect();
            Some(Joint {
                run: run.to_owned(),
                first: self.job.fronts[first].name.clone(),
                second: self.job.fronts[second].name.clone(),
                unbroken: one[0].blank.stretch == two[0].blank.stretch,
                difference: mean(differences?.into_iter()),
            })
        };
        self.pairs().filter_map(joint).collect()
    }

    /// Neighbours of every run, with its name.
    fn pairs(&self) -> impl Iterator<Item = (&'f str, usize, usize)> {
        self.job.runs.iter().flat_map(|run| {
            let pairs = run.fronts.windows(2);
            pairs.map(move |pair| (run.name.as_str(), pair[0], pair[1]))
        })
    }

    /// The edge at a front's left (bottom) or right (top).
    fn edge(&self, front: usize, source: &Source, at_left: bool) -> Option<Rc<Edge>> {
        let face = face_at(self.job, source, self.faces)?;
        let place = Place::of(&self.job.fronts[front], source.blank);
        let at_hook = (source.blank.left == End::Hook) == at_left;
        let (along, inward) = match at_hook {
            true => (place.along.0, Inward::Far),
            false => (place.along.1, Inward::Hook),
        };
        let turned = !upright(source.blank);
        let figures = [along, place.across.0, place.across.1].map(f64::to_bits);
        let mut edges = self.edges.borrow_mut();
        let edge = edges
            .entry((face, figures, at_hook, turned))
            .or_insert_with(|| {
                let strip = &self.faces[face].strip;
                Rc::new(Edge::of(strip, along, place.across, inward, turned))
            });
        Some(Rc::clone(edge))
    }

    /// The mean colour of a front's face; nothing where a part of it is not seen.
    fn look_of(&self, front: usize, staves: &[Source]) -> Option<Lab> {
        let looks: Option<Vec<Lab>> = staves.iter().map(|stave| self.look(front, stave)).collect();
        let looks = looks?;
        let part = |of: fn(&Lab) -> f64| mean(looks.iter().map(of));
        Some(Lab {
            l: part(|look| look.l),
            a: part(|look| look.a),
            b: part(|look| look.b),
        })
    }

    fn look(&self, front: usize, source: &Source) -> Option<Lab> {
        let face = face_at(self.job, source, self.faces)?;
        let place = Place::of(&self.job.fronts[front], source.blank);
        let (along, across) = (place.along, place.across);
        let figures = [along.0, along.1, across.0, across.1].map(f64::to_bits);
        let mut looks = self.looks.borrow_mut();
        let look = looks
            .entry((face, figures))
            .or_insert_with(|| colour(&self.faces[face].strip, along, across));
        Some(*look)
    }

    /// Blemishes on the finished wood of a blank.
    fn blemishes(&self, front: usize, source: &Source) -> usize {
        let Some(face) = face_at(self.job, source, self.faces) else {
            return 0;
        };
        let Place { along, across, .. } = Place::of(&self.job.fronts[front], source.blank);
        let on_it = |[from, to, low, high]: &&[f64; 4]| {
            *from < along.1 && *to > along.0 && *low < across.1 && *high > across.0
        };
        self.faces[face].blemishes.iter().filter(on_it).count()
    }
}

/// The mean colour of a part of a face, from spots all over it.
fn colour(strip: &Strip, along: (f64, f64), across: (f64, f64)) -> Lab {
    const SPOTS: (usize, usize) = (64, 24);
    let at = |(from, to): (f64, f64), spot: usize, of: usize| {
        from + (to - from) * (spot as f64 + 0.5) / of as f64
    };
    let mut sum = [0.0f32; 3];
    for column in 0..SPOTS.0 {
        for row in 0..SPOTS.1 {
            let (x, y) = (at(along, column, SPOTS.0), at(across, row, SPOTS.1));
            let light = strip.pixel(strip.column(x), strip.row(y));
            sum = [0, 1, 2].map(|c| sum[c] + light[c]);
        }
    }
    Lab::of_linear(sum.map(|c| c / (SPOTS.0 * SPOTS.1) as f32))
}

/// The mean; 0 of nothing.
fn mean(figures: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = figures.fold((0.0, 0.0), |(sum, count), figure| {
        (sum + figure, count + 1.0)
    });
    if count == 0.0 { 0.0 } else { sum / count }
}
