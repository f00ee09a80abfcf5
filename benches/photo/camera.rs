//! Photographs of known truth: a board on a plane, looked at through a known camera.

use grainrow::photo::colour::to_byte;
use grainrow::photo::picture::{Picture, jpeg_of, open};
use grainrow::photo::plane::{Homography, Point, Strip};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// What lies around the board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ground {
    Plain([f32; 3]),
    /// Boards of a bench, from light to dark.
    Bench,
}

/// Where white paper lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Laid {
    Nowhere,
    OneEnd,
    BothEnds,
    BothEdges,
    Frame,
}

/// How a picture is taken.
#[derive(Clone, Debug)]
pub struct Shot {
    pub ground: Ground,
    pub paper: Laid,
    /// Pixels an inch, about.
    pub scale: f64,
    /// Lens distortion (Brown's first radial coefficient, on half the picture's diagonal).
    pub k1: f64,
    /// Tilt of the camera, as a part of the picture.
    pub tilt: f64,
    /// How much light falls off over the picture, as a part, and the cast of the lamp.
    pub fall: f64,
    pub cast: [f32; 3],
    /// The exponent of the phone's own tone curve.
    pub curve: f32,
    pub noise: f32,
    /// Inches the scene is high at least.
    pub high: f64,
    pub seed: u64,
}

impl Default for Shot {
    fn default() -> Shot {
        Shot {
            ground: Ground::Plain([0.09, 0.10, 0.12]),
            paper: Laid::BothEdges,
            scale: 45.0,
            k1: 0.0,
            tilt: 0.04,
            fall: 0.3,
            cast: [1.0, 0.92, 0.75],
            curve: 1.0,
            noise: 0.006,
            high: 0.0,
            seed: 1,
        }
    }
}

/// A picture, and where the corners of each board are: near hook, near far, far far, far hook.
pub struct Taken {
    pub jpeg: Vec<u8>,
    pub corners: Vec<[Point; 4]>,
    pub width: usize,
    pub height: usize,
}

impl Taken {
    pub fn picture(&self) -> Picture {
        open(&self.jpeg).unwrap()
    }
}

/// Inches of ground beyond the boards.
pub const MARGIN: f64 = 3.5;
const PAPER: f32 = 0.85;

/// Takes boards lying one above the other, `between` inches apart.
pub fn take(boards: &[&Strip], shot: &Shot) -> Taken {
    let between = 4.5;
    let long = boards.iter().map(|b| b.window.length()).fold(0.0, f64::max);
    let lows: Vec<f64> = boards
        .iter()
        .scan(MARGIN, |low, board| {
            let here = *low;
            *low += board.window.width() + between;
            Some(here)
        })
        .collect();
    let high = lows.last().unwrap() + boards.last().unwrap().window.width() + MARGIN;
    let scene = (long + 2.0 * MARGIN, high.max(shot.high));
    let mut rng = Pcg64Mcg::seed_from_u64(shot.seed);
    let (width, height) = (
        (scene.0 * shot.scale) as usize,
        (scene.1 * shot.scale) as usize,
    );
    let lens = Lens::new(scene, (width, height), shot, &mut rng);
    let mut noise = || (0..3).map(|_| rng.random::<f32>()).sum::<f32>() * 2.0 - 3.0;
    let mut bytes = Vec::with_capacity(3 * width * height);
    for y in 0..height {
        for x in 0..width {
            let mut sum = [0.0f32; 3];
            for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                let place = lens.to_scene(Point::new(x as f64 + dx, y as f64 + dy));
                let seen = reflect(boards, &lows, scene, shot, place);
                let fallen = fallen(scene, shot, place);
                sum = [0, 1, 2].map(|c| sum[c] + 0.25 * seen[c] * fallen * shot.cast[c]);
            }
            for light in sum {
                let light = light.powf(shot.curve) + shot.noise * noise() * light.max(0.02).sqrt();
                bytes.push(to_byte(light));
            }
        }
    }
    let corner = |board: &Strip, low: f64| {
        let (from, to) = (MARGIN, MARGIN + board.window.length());
        let top = low + board.window.width();
        [(from, low), (to, low), (to, top), (from, top)]
            .map(|(x, y)| lens.to_picture(Point::new(x, y)))
    };
    let corners = boards
        .iter()
        .zip(&lows)
        .map(|(board, &low)| corner(board, low))
        .collect();
    Taken {
        jpeg: jpeg_of(width, height, &bytes),
        corners,
        width,
        height,
    }
}

/// What part of the light a place of the scene sends back.
fn reflect(boards: &[&Strip], lows: &[f64], scene: (f64, f64), shot: &Shot, p: Point) -> [f32; 3] {
    for (board, low) in boards.iter().zip(lows) {
        let (along, across) = (p.x - MARGIN, p.y - low);
        let (long, wide) = (board.window.length(), board.window.width());
        if (0.0..long).contains(&along) && (0.0..wide).contains(&across) {
            return sample(board, along + board.window.from, across + board.window.low);
        }
        if is_paper(shot.paper, (along, across), (long, wide)) {
            return [PAPER; 3];
        }
    }
    match shot.ground {
        Ground::Plain(colour) => colour,
        Ground::Bench => {
            let plank = ((p.y / 3.1).floor() * 7.3).sin().abs() as f32;
            let line = ((p.y * 9.0 + (p.x / 7.0).sin() * 3.0).sin() * 0.5 + 0.5) as f32;
            let _ = scene;
            [0.42, 0.27, 0.14].map(|c| c * (0.6 + 0.5 * plank + 0.35 * line))
        }
    }
}

/// The board's light between its pixels.
fn sample(board: &Strip, along: f64, across: f64) -> [f32; 3] {
    let x = (along - board.window.from) * board.scale - 0.5;
    let y = (board.window.high - across) * board.scale - 0.5;
    let (left, top) = (x.floor(), y.floor());
    let (fx, fy) = ((x - left) as f32, (y - top) as f32);
    let pixel = |dx: f64, dy: f64| {
        let column = (left + dx).clamp(0.0, board.width as f64 - 1.0) as usize;
        let row = (top + dy).clamp(0.0, board.height as f64 - 1.0) as usize;
        board.pixel(column, row)
    };
    let (a, b, c, d) = (
        pixel(0.0, 0.0),
        pixel(1.0, 0.0),
        pixel(0.0, 1.0),
        pixel(1.0, 1.0),
    );
    [0, 1, 2].map(|i| {
        let above = a[i] + (b[i] - a[i]) * fx;
        let below = c[i] + (d[i] - c[i]) * fx;
        above + (below - above) * fy
    })
}

fn is_paper(paper: Laid, (x, y): (f64, f64), (long, wide): (f64, f64)) -> bool {
    let beside = (-2.0..-0.2).contains(&y) || (wide + 0.2..wide + 2.0).contains(&y);
    let within = (-0.5..long + 0.5).contains(&x);
    let first = (-2.5..-0.2).contains(&x) && (0.0..wide).contains(&y);
    let last = (long + 0.2..long + 2.5).contains(&x) && (0.0..wide).contains(&y);
    match paper {
        Laid::Nowhere => false,
        Laid::OneEnd => first,
        Laid::BothEnds => first || last,
        Laid::BothEdges => beside && within,
        Laid::Frame => (beside && within) || first || last,
    }
}

/// How much light falls on a place: off from a lamp, towards one side.
fn fallen(scene: (f64, f64), shot: &Shot, p: Point) -> f32 {
    let towards = if shot.seed.is_multiple_of(2) {
        0.3
    } else {
        0.7
    };
    let long = scene.0.max(scene.1);
    let (x, y) = (
        (p.x - towards * scene.0) / long,
        (p.y - 0.2 * scene.1) / long,
    );
    let exposure = 0.85 - 0.1 * ((shot.seed % 4) as f64 / 3.0);
    (exposure / (1.0 + 4.0 * shot.fall * (x * x + y * y))) as f32
}

/// From the scene to the picture and back.
struct Lens {
    to_plain: Homography,
    to_scene: Homography,
    middle: Point,
    diagonal: f64,
    k1: f64,
}

impl Lens {
    fn new(scene: (f64, f64), size: (usize, usize), shot: &Shot, rng: &mut Pcg64Mcg) -> Lens {
        let (w, h) = (size.0 as f64, size.1 as f64);
        let mut off = || (rng.random::<f64>() - 0.5) * shot.tilt * h;
        // The near edge is at the bottom; a little room is kept for the tilt.
        let room = 0.03 * h;
        let mut corner = |x: f64, y: f64| Point::new(x + off(), y + off());
        let seen = [
            corner(room, h - room),
            corner(w - room, h - room),
            corner(w - room, room),
            corner(room, room),
        ];
        let corners = [(0.0, 0.0), (scene.0, 0.0), scene, (0.0, scene.1)];
        let to_plain = Homography::between(corners.map(|(x, y)| Point::new(x, y)), seen).unwrap();
        Lens {
            to_plain,
            to_scene: to_plain.back(),
            middle: Point::new(w / 2.0, h / 2.0),
            diagonal: w.hypot(h) / 2.0,
            k1: shot.k1,
        }
    }

    fn bent(&self, p: Point, k: f64) -> Point {
        let (x, y) = (
            (p.x - self.middle.x) / self.diagonal,
            (p.y - self.middle.y) / self.diagonal,
        );
        let by = 1.0 + k * (x * x + y * y);
        Point::new(
            self.middle.x + (p.x - self.middle.x) * by,
            self.middle.y + (p.y - self.middle.y) * by,
        )
    }

    fn to_picture(&self, p: Point) -> Point {
        self.bent(self.to_plain.at(p), self.k1)
    }

    fn to_scene(&self, p: Point) -> Point {
        // One step of iteration is within a hundredth of a pixel for so little distortion.
        let mut plain = p;
        for _ in 0..3 {
            let bent = self.bent(plain, self.k1);
            plain = Point::new(plain.x + p.x - bent.x, plain.y + p.y - bent.y);
        }
        self.to_scene.at(plain)
    }
}
