//! Which piece on the ground is which board, and its four corners.

use super::ground::{Ground, Small};
use super::parts::{Piece, pieces};
use super::refine::edge_points;
use super::side::{Side, crossing};
use crate::photo::colour::Lab;
use crate::photo::picture::Picture;
use crate::photo::plane::Point;

/// Finds below this confidence are not used before they are confirmed.
pub const SURE: f64 = 0.75;
/// Pixels of the longer side of the small copy that is searched.
const LONGEST: usize = 1100;

/// A board found in a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// Its corners in pixels: near edge at the hook end, near edge at the far end, far edge at the
    /// far end, far edge at the hook end. The hook end is taken to be left (in a tall picture at the
    /// top), the near edge at the bottom (left).
    pub corners: [Point; 4],
    /// 0 to 1.
    pub confidence: f64,
}

/// Looks for boards of known length and width. The answers stand in the order of `sizes`; several
/// boards are taken in their order from the top down (in a tall picture from the left).
pub fn find_boards(picture: &Picture, sizes: &[(f64, f64)]) -> Vec<Option<Found>> {
    let small = small_of(picture);
    let ground = Ground::of(&small);
    let mut finds: Vec<(Quad, f64)> = Vec::new();
    for piece in pieces(&small, &ground) {
        let Some(quad) = quad_of(picture, &small, &piece) else {
            continue;
        };
        let sure = sureness(&small, &ground, &piece, &quad);
        // The same board with and without its paper: the surer one stays.
        match finds.iter_mut().find(|(other, _)| other.overlaps(&quad)) {
            Some(other) if other.1 * nearest(&other.0, sizes) < sure * nearest(&quad, sizes) => {
                *other = (quad, sure);
            }
            Some(_) => {}
            None => finds.push((quad, sure)),
        }
    }
    assign(finds, sizes)
}

fn small_of(picture: &Picture) -> Small {
    let by = picture.width.max(picture.height).div_ceil(LONGEST);
    Small {
        width: picture.width / by,
        height: picture.height / by,
        by,
        lab: picture.shrunk(by).into_iter().map(Lab::of_linear).collect(),
    }
}

/// Four corners and how well they are known.
struct Quad {
    corners: [Point; 4],
    rough: f64,
}

impl Quad {
    fn long(&self) -> f64 {
        let c = &self.corners;
        (c[0].distance(c[1]) + c[3].distance(c[2])) / 2.0
    }

    fn wide(&self) -> f64 {
        let c = &self.corners;
        (c[0].distance(c[3]) + c[1].distance(c[2])) / 2.0
    }

    fn middle(&self) -> Point {
        let sum = |part: fn(&Point) -> f64| self.corners.iter().map(part).sum::<f64>() / 4.0;
        Point::new(sum(|p| p.x), sum(|p| p.y))
    }

    fn overlaps(&self, other: &Quad) -> bool {
        self.middle().distance(other.middle()) < 0.5 * self.wide().max(other.wide())
    }

    fn area(&self) -> f64 {
        let c = &self.corners;
        (0..4)
            .map(|i| (c[i], c[(i + 1) % 4]))
            .map(|(a, b)| a.x * b.y - b.x * a.y)
            .sum::<f64>()
            .abs()
            / 2.0
    }
}

/// How near a quad's proportions are to those of the board they are nearest to.
fn nearest(quad: &Quad, sizes: &[(f64, f64)]) -> f64 {
    sizes
        .iter()
        .map(|&size| likeness(quad, size))
        .fold(0.0, f64::max)
}

/// 1 for the very proportions of a board; perspective and crook change them by some per cent.
fn likeness(quad: &Quad, (long, wide): (f64, f64)) -> f64 {
    let off = (quad.long() / quad.wide().max(1e-6) / (long / wide)).ln() / 0.15;
    (-off * off).exp()
}

/// The four sides of a piece, from its rough outline and then from the picture.
fn quad_of(picture: &Picture, small: &Small, piece: &Piece) -> Option<Quad> {
    let axes = Axes::of(piece);
    let places: Vec<(f64, f64)> = piece
        .pixels
        .iter()
        .map(|&p| axes.to(Point::of(p)))
        .collect();
    let [low, high] = rims(&places, |p| p);
    let [from, to] = rims(&places, |(u, v)| (v, u));
    let rough = corners_of(&axes, [low?, high?, from?, to?]);
    let by = small.by as f64;
    let rough = rough.map(|p| Point::new(p.x * by, p.y * by));
    let inside = Quad {
        corners: rough,
        rough: 0.0,
    }
    .middle();
    let reach = 3.0 * by + 2.0;
    let side = |a: usize, b: usize, turned: bool| {
        let points = edge_points(picture, rough[a], rough[b], inside, reach);
        let places = points.iter().map(|&p| axes.to(p));
        let places: Vec<_> = places
            .map(|(u, v)| if turned { (v, u) } else { (u, v) })
            .collect();
        Side::through(&places)
    };
    let sides = [
        side(0, 1, false)?,
        side(3, 2, false)?,
        side(0, 3, true)?,
        side(1, 2, true)?,
    ];
    let spread = sides.iter().map(|side| side.rough).fold(0.0, f64::max);
    Some(Quad {
        corners: corners_of(&axes, sides),
        rough: spread,
    })
}

/// Corners where sides cross: low, high, from, to.
fn corners_of(axes: &Axes, [low, high, from, to]: [Side; 4]) -> [Point; 4] {
    [(low, from), (low, to), (high, to), (high, from)]
        .map(|(along, across)| axes.back(crossing(&along, &across)))
}

/// The outermost points to either side, bin by bin along.
fn rims(places: &[(f64, f64)], turn: fn((f64, f64)) -> (f64, f64)) -> [Option<Side>; 2] {
    const CLEAR: f64 = 0.04;
    let places: Vec<(f64, f64)> = places.iter().map(|&p| turn(p)).collect();
    let least = places.iter().map(|p| p.0).fold(f64::MAX, f64::min);
    let most = places.iter().map(|p| p.0).fold(f64::MIN, f64::max);
    let bins = ((most - least) as usize).clamp(12, 200);
    let mut rims = vec![(f64::MAX, f64::MIN); bins];
    for (at, off) in &places {
        let bin = (((at - least) / (most - least) * bins as f64) as usize).min(bins - 1);
        rims[bin] = (rims[bin].0.min(*off), rims[bin].1.max(*off));
    }
    let clear = (CLEAR * bins as f64) as usize + 1;
    let seen = rims.iter().enumerate().skip(clear).take(bins - 2 * clear);
    let seen: Vec<(f64, (f64, f64))> = seen
        .filter(|(_, rim)| rim.0 <= rim.1)
        .map(|(bin, rim)| {
            (
                least + (bin as f64 + 0.5) / bins as f64 * (most - least),
                *rim,
            )
        })
        .collect();
    let side = |pick: fn((f64, f64)) -> f64| {
        let points: Vec<(f64, f64)> = seen.iter().map(|(at, rim)| (*at, pick(*rim))).collect();
        Side::through(&points)
    };
    [side(|rim| rim.0 - 0.5), side(|rim| rim.1 + 0.5)]
}

/// A piece's own axes: u along it (to the right, or down where it stands), v across towards the far
/// edge (up, or to the right).
struct Axes {
    middle: Point,
    u: (f64, f64),
    v: (f64, f64),
}

impl Axes {
    fn of(piece: &Piece) -> Axes {
        let n = piece.pixels.len() as f64;
        let points = || piece.pixels.iter().map(|&p| Point::of(p));
        let middle = Point::new(
            points().map(|p| p.x).sum::<f64>() / n,
            points().map(|p| p.y).sum::<f64>() / n,
        );
        let moment = |f: fn(f64, f64) -> f64| -> f64 {
            points().map(|p| f(p.x - middle.x, p.y - middle.y)).sum()
        };
        let (xx, xy, yy) = (
            moment(|x, _| x * x),
            moment(|x, y| x * y),
            moment(|_, y| y * y),
        );
        let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
        let (mut ux, mut uy) = (angle.cos(), angle.sin());
        let backwards = if ux.abs() >= uy.abs() {
            ux < 0.0
        } else {
            uy < 0.0
        };
        if backwards {
            (ux, uy) = (-ux, -uy);
        }
        Axes {
            middle,
            u: (ux, uy),
            v: (uy, -ux),
        }
    }

    fn to(&self, p: Point) -> (f64, f64) {
        let (x, y) = (p.x - self.middle.x, p.y - self.middle.y);
        (x * self.u.0 + y * self.u.1, x * self.v.0 + y * self.v.1)
    }

    fn back(&self, (u, v): (f64, f64)) -> Point {
        Point::new(
            self.middle.x + u * self.u.0 + v * self.v.0,
            self.middle.y + u * self.u.1 + v * self.v.1,
        )
    }
}

impl Point {
    fn of((x, y): (u32, u32)) -> Point {
        Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5)
    }
}

/// How sure a piece is a board, whatever its proportions.
fn sureness(small: &Small, ground: &Ground, piece: &Piece, quad: &Quad) -> f64 {
    let inside = piece
        .pixels
        .iter()
        .map(|&(x, y)| ground.off[y as usize * small.width + x as usize]);
    let mut inside: Vec<f32> = inside.collect();
    inside.sort_by(f32::total_cmp);
    let contrast = f64::from(inside[inside.len() / 4]) / f64::from(ground.rough.max(1.0));
    let plain = 1.0 / (1.0 + (-(contrast - 3.0) * 1.6).exp());
    let area = quad.area() / (small.by * small.by) as f64;
    let fill = piece.pixels.len() as f64 / area.max(1.0);
    let full = (-((fill - 1.0) / 0.12).powi(2)).exp();
    let straight = 1.0 / (1.0 + (quad.rough / (1.5 * small.by as f64).max(2.0)).powi(4));
    let whole = if piece.cut { 0.3 } else { 1.0 };
    plain * full * straight * whole
}

/// The finds that are most like the boards wanted, in their order over the picture.
fn assign(finds: Vec<(Quad, f64)>, sizes: &[(f64, f64)]) -> Vec<Option<Found>> {
    let mut ranked: Vec<(Quad, f64)> = finds;
    ranked.sort_by(|a, b| (b.1 * nearest(&b.0, sizes)).total_cmp(&(a.1 * nearest(&a.0, sizes))));
    let spare = ranked
        .get(sizes.len())
        .map_or(0.0, |(quad, sure)| sure * nearest(quad, sizes));
    ranked.truncate(sizes.len());
    let lies = |quad: &Quad| {
        let c = &quad.corners;
        let wide = (c[1].x - c[0].x).abs() >= (c[1].y - c[0].y).abs();
        if wide {
            quad.middle().y
        } else {
            quad.middle().x
        }
    };
    ranked.sort_by(|a, b| lies(&a.0).total_cmp(&lies(&b.0)));
    let all = ranked.len() == sizes.len();
    let mut finds = ranked.into_iter();
    sizes
        .iter()
        .map(|&size| {
            let (quad, sure) = finds.next()?;
            // With one too few, or another as good, it is open which is which.
            let open = if all { 1.0 } else { 0.3 };
            let confidence = sure * likeness(&quad, size) * open * (1.0 - 0.7 * spare);
            Some(Found {
                corners: quad.corners,
                confidence,
            })
        })
        .collect()
}
