//! Photos of boards, rendered: copper, parts and cans of a board as a camera over its middle would see them. Nothing of them was
//! taken; every board is invented. They are what the demo shows under its boards, and what tracing is tried on.

#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::many_single_char_names,
    reason = "pixels and their weights"
)]

use image::{Rgb, RgbImage};
use refarad::domain::{Board, Mounting, Position, Side};

type Colour = [f32; 3];

const MASK: Colour = [28.0, 84.0, 48.0];
const COPPER: Colour = [44.0, 112.0, 66.0];
const TIN: Colour = [186.0, 186.0, 178.0];
const SILK: Colour = [214.0, 218.0, 208.0];
const METAL: Colour = [196.0, 198.0, 200.0];
const BENCH: Colour = [150.0, 141.0, 128.0];
const BLACK: Colour = [34.0, 34.0, 37.0];
const SLEEVES: [Colour; 4] = [[36.0, 36.0, 42.0], [30.0, 42.0, 92.0], [70.0, 40.0, 34.0], [26.0, 66.0, 62.0]];
/// Distance of the camera from the board, mm: a long lens.
pub(crate) const CAMERA_MM: f64 = 3000.0;
/// Bench around the board, mm.
const MARGIN_MM: f64 = 8.0;
/// How far the board lies askew, degrees.
const ASKEW_DEG: f64 = 0.7;

/// A photo and what is to be found in it.
pub(crate) struct Rendered {
    pub(crate) picture: RgbImage,
    /// Where the corners of the picture lie on the board, as a job keeps them.
    pub(crate) corners_mm: [[f64; 2]; 4],
    /// Rim of each upright can: centre and radius in pixels, direction of the stripe in degrees as a photo has them (y down),
    /// and whether it is surface mounted.
    pub(crate) rims: Vec<([f64; 3], Option<f64>, bool)>,
}

/// Numbers that look random and are the same each time (xorshift).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// From 0 to 1.
    pub(crate) fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, lo: f64, hi: f64) -> f64 {
        lo + self.share() * (hi - lo)
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[(self.share() * all.len() as f64) as usize % all.len()]
    }
}

/// A painter in millimetres on the board.
struct Canvas {
    width: usize,
    height: usize,
    pixels: Vec<Colour>,
    px_per_mm: f64,
    middle_mm: [f64; 2],
}

impl Canvas {
    /// A place in the picture; `height_mm` above the board it moves away from the middle.
    fn at(&self, [x_mm, y_mm]: [f64; 2], height_mm: f64) -> [f64; 2] {
        let nearer = CAMERA_MM / (CAMERA_MM - height_mm);
        let (sin, cos) = ASKEW_DEG.to_radians().sin_cos();
        let [dx, dy] = [(x_mm - self.middle_mm[0]) * nearer, (y_mm - self.middle_mm[1]) * nearer];
        let (x, y) = (dx * cos - dy * sin, dx * sin + dy * cos);
        [self.width as f64 / 2.0 + x * self.px_per_mm, self.height as f64 / 2.0 - y * self.px_per_mm]
    }

    /// The same backwards, on the board.
    fn mm(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let (sin, cos) = ASKEW_DEG.to_radians().sin_cos();
        let (dx, dy) =
            ((x - self.width as f64 / 2.0) / self.px_per_mm, (self.height as f64 / 2.0 - y) / self.px_per_mm);
        [self.middle_mm[0] + dx * cos + dy * sin, self.middle_mm[1] - dx * sin + dy * cos]
    }

    /// Paints what `depth` says is inside (positive, pixels) within a square around a point.
    fn paint(&mut self, [x, y]: [f64; 2], reach: f64, colour: impl Fn(f64, f64) -> (f64, Colour)) {
        let range = |at: f64, size: usize| {
            ((at - reach - 1.0).max(0.0) as usize).min(size)..((at + reach + 2.0).max(0.0) as usize).min(size)
        };
        for row in range(y, self.height) {
            for column in range(x, self.width) {
                let (depth, colour) = colour(column as f64 + 0.5 - x, row as f64 + 0.5 - y);
                let cover = (depth + 0.5).clamp(0.0, 1.0) as f32;
                let pixel = &mut self.pixels[row * self.width + column];
                *pixel = std::array::from_fn(|n| pixel[n] * (1.0 - cover) + colour[n] * cover);
            }
        }
    }

    fn disc(&mut self, at: [f64; 2], r: f64, colour: Colour) {
        self.paint(at, r, |x, y| (r - x.hypot(y), colour));
    }

    /// A line with round ends.
    fn line(&mut self, a: [f64; 2], b: [f64; 2], width: f64, colour: Colour) {
        let middle = [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
        let half = [(b[0] - a[0]) / 2.0, (b[1] - a[1]) / 2.0];
        let long = half[0].hypot(half[1]);
        self.paint(middle, long + width, |x, y| {
            let along = if long > 0.0 { ((x * half[0] + y * half[1]) / (long * long)).clamp(-1.0, 1.0) } else { 0.0 };
            (width / 2.0 - (x - along * half[0]).hypot(y - along * half[1]), colour)
        });
    }

    /// A rectangle turned by `degrees` anticlockwise, with rounded light across its narrow side where it is `round`.
    fn rect(&mut self, at: [f64; 2], [long, wide]: [f64; 2], degrees: f64, colour: Colour, round: bool) {
        let (sin, cos) = (degrees + ASKEW_DEG).to_radians().sin_cos();
        self.paint(at, long.hypot(wide) / 2.0, |x, y| {
            let (u, v) = (x * cos - y * sin, x * sin + y * cos);
            let lit = if round { 0.55 + 0.75 * (1.0 - (v / wide * 2.0 + 0.25).powi(2)).max(0.0) } else { 1.0 };
            ((long / 2.0 - u.abs()).min(wide / 2.0 - v.abs()), colour.map(|c| c * lit as f32))
        });
    }

    /// A soft shadow.
    fn shadow(&mut self, [x, y]: [f64; 2], r: f64, soft: f64) {
        for row in (y - r - soft).max(0.0) as usize..((y + r + soft).max(0.0) as usize).min(self.height) {
            for column in (x - r - soft).max(0.0) as usize..((x + r + soft).max(0.0) as usize).min(self.width) {
                let depth = (r + soft - (column as f64 - x).hypot(row as f64 - y)) / (2.0 * soft);
                let dark = 1.0 - 0.55 * depth.clamp(0.0, 1.0) as f32;
                let pixel = &mut self.pixels[row * self.width + column];
                *pixel = pixel.map(|c| c * dark);
            }
        }
    }
}

/// The photo of a board, `px_per_mm` pixels to a millimetre.
pub(crate) fn render(board: &Board, px_per_mm: f64, seed: u64) -> Rendered {
    let [wide, deep] = board.outline_mm.unwrap();
    let mut dice = Dice(seed);
    let size = [wide, deep].map(|mm| ((mm + 2.0 * MARGIN_MM) * px_per_mm) as usize);
    let mut canvas = Canvas {
        width: size[0],
        height: size[1],
        pixels: vec![BENCH; size[0] * size[1]],
        px_per_mm,
        middle_mm: [wide / 2.0, deep / 2.0],
    };
    let middle = canvas.at(canvas.middle_mm, 0.0);
    canvas.rect(
        [middle[0] + 5.0, middle[1] + 7.0],
        [wide * px_per_mm, deep * px_per_mm],
        0.0,
        [92.0, 86.0, 78.0],
        false,
    );
    canvas.rect(middle, [wide * px_per_mm, deep * px_per_mm], 0.0, MASK, false);
    let mut taken = reserved(board);
    copper(&mut canvas, board, &mut dice);
    fixtures(&mut canvas, board, &mut dice);
    others(&mut canvas, board, &mut taken, &mut dice);
    let mut upright: Vec<&Position> =
        board.positions.iter().filter(|p| p.side.unwrap_or_default() == Side::Top && p.centre_mm().is_some()).collect();
    upright
        .sort_by(|a, b| a.original.can.height_mm.unwrap_or(11.0).total_cmp(&b.original.can.height_mm.unwrap_or(11.0)));
    let mut rims = Vec::new();
    for position in upright {
        rims.extend(can(&mut canvas, position, &mut dice));
    }
    let [w, h] = size.map(|side| side as f64);
    let corners_mm = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]].map(|corner| canvas.mm(corner));
    Rendered { picture: develop(&canvas, &mut dice), corners_mm, rims }
}

/// Circles of the board on which no other part stands, mm.
fn reserved(board: &Board) -> Vec<[f64; 3]> {
    let cans = board.positions.iter().filter_map(|position| {
        let (x, y) = position.centre_mm()?;
        let can = &position.original.can;
        let lying = can.mounting == Some(Mounting::Axial);
        let reach =
            if lying { can.height_mm.unwrap_or(25.0) / 2.0 + 8.0 } else { can.diameter_mm.unwrap_or(10.0) / 2.0 };
        Some([x, y, reach + 2.5])
    });
    let holes = board.holes_mm.iter().map(|&[x, y, d]| [x, y, d + 3.0]);
    cans.chain(holes).collect()
}

/// Traces in straight and slanting runs, and vias.
fn copper(canvas: &mut Canvas, board: &Board, dice: &mut Dice) {
    let [wide, deep] = board.outline_mm.unwrap();
    let scale = canvas.px_per_mm;
    for _ in 0..(wide * deep / 140.0) as usize {
        let mut at = [dice.between(4.0, wide - 4.0), dice.between(4.0, deep - 4.0)];
        let width = dice.of(&[0.5, 0.5, 0.8, 1.2, 2.4]) * scale;
        for _ in 0..3 {
            let [dx, dy] = dice.of(&[[1.0, 0.0], [0.0, 1.0], [0.7, 0.7], [-1.0, 0.0], [0.0, -1.0], [0.7, -0.7]]);
            let long = dice.between(4.0, 26.0);
            let to = [(at[0] + dx * long).clamp(3.0, wide - 3.0), (at[1] + dy * long).clamp(3.0, deep - 3.0)];
            let (a, b) = (canvas.at(at, 0.0), canvas.at(to, 0.0));
            canvas.line(a, b, width, COPPER);
            at = to;
        }
        let end = canvas.at(at, 0.0);
        canvas.disc(end, 0.8 * scale, TIN);
        canvas.disc(end, 0.35 * scale, BLACK);
    }
}

/// Holes with their screws, and what fills the areas to stay out of: a heat sink, a transformer, a connector.
fn fixtures(canvas: &mut Canvas, board: &Board, dice: &mut Dice) {
    let scale = canvas.px_per_mm;
    for &[x, y, d] in &board.holes_mm {
        let at = canvas.at([x, y], 0.0);
        canvas.disc(at, d * scale, TIN);
        canvas.disc(at, 0.85 * d * scale, [150.0, 150.0, 146.0]);
        for degrees in [25.0, 115.0] {
            canvas.rect(at, [1.1 * d * scale, 0.22 * d * scale], degrees, [70.0, 70.0, 70.0], false);
        }
    }
    for (n, &[x, y, w, h]) in board.keepouts_mm.iter().enumerate() {
        let at = canvas.at([x + w / 2.0, y + h / 2.0], 0.0);
        let size = [w * scale * 0.94, h * scale * 0.94];
        let ground = [[58.0, 60.0, 64.0], [92.0, 62.0, 38.0], [196.0, 192.0, 178.0]][n % 3];
        canvas.rect([at[0] + 4.0, at[1] + 5.0], size, 0.0, [16.0, 44.0, 26.0], false);
        canvas.rect(at, size, 0.0, ground, false);
        let bars = (w.max(h) / 5.0) as usize;
        for bar in 0..bars {
            let along = (bar as f64 + 0.5) / bars as f64 - 0.5;
            let (to, bar_size) = if w >= h {
                ([at[0] + along * size[0], at[1]], [size[0] / bars as f64 * 0.45, size[1] * 0.9])
            } else {
                ([at[0], at[1] + along * size[1]], [size[0] * 0.9, size[1] / bars as f64 * 0.45])
            };
            let lighter = dice.between(1.2, 1.45) as f32;
            canvas.rect(to, bar_size, 0.0, ground.map(|c| (c * lighter).min(235.0)), false);
        }
    }
}

/// Circuits, resistors, film capacitors and chips where there is room.
fn others(canvas: &mut Canvas, board: &Board, taken: &mut Vec<[f64; 3]>, dice: &mut Dice) {
    let [wide, deep] = board.outline_mm.unwrap();
    let tries = (wide * deep / 9.0) as usize;
    for n in 0..tries {
        // The large ones first, or there is no room for them.
        let kind = if n < tries / 30 { 0 } else { (dice.share() * 7.0) as usize };
        let reach = [12.0, 7.0, 6.5, 2.4, 2.4, 2.0, 6.5][kind];
        let at_mm = [dice.between(reach, wide - reach), dice.between(reach, deep - reach)];
        let free = taken.iter().all(|[x, y, r]| (at_mm[0] - x).hypot(at_mm[1] - y) > r + reach);
        let clear = |[x, y, w, h]: &[f64; 4]| {
            let [dx, dy] = [(x - at_mm[0]).max(at_mm[0] - x - w), (y - at_mm[1]).max(at_mm[1] - y - h)];
            dx.max(dy) > reach
        };
        if !free || !board.keepouts_mm.iter().all(clear) {
            continue;
        }
        taken.push([at_mm[0], at_mm[1], reach]);
        let at = canvas.at(at_mm, 0.0);
        part(canvas, at, kind, dice);
    }
}

fn part(canvas: &mut Canvas, at: [f64; 2], kind: usize, dice: &mut Dice) {
    let scale = canvas.px_per_mm;
    let turned = dice.of(&[0.0, 90.0]);
    let (sin, cos) = f64::to_radians(turned).sin_cos();
    let off = |u: f64, v: f64| [at[0] + (u * cos + v * sin) * scale, at[1] + (v * cos - u * sin) * scale];
    let dark = [16.0, 44.0, 26.0];
    match kind {
        // A circuit with pins on both sides.
        0 => {
            for n in 0..8 {
                for side in [-1.0, 1.0] {
                    canvas.rect(
                        off((f64::from(n) - 3.5) * 2.54, side * 3.9),
                        [0.9 * scale, 1.8 * scale],
                        turned,
                        TIN,
                        false,
                    );
                }
            }
            canvas.rect(off(0.4, 0.4), [20.5 * scale, 6.6 * scale], turned, dark, false);
            canvas.rect(at, [20.0 * scale, 6.4 * scale], turned, [42.0, 42.0, 45.0], false);
            canvas.disc(off(-9.6, 0.0), 0.9 * scale, [22.0, 22.0, 24.0]);
            canvas.rect(off(0.0, 0.0), [9.0 * scale, 0.9 * scale], turned, [120.0, 120.0, 118.0], false);
        }
        // A resistor with its bands, a diode.
        1 | 6 => {
            canvas.line(off(-6.0, 0.0), off(6.0, 0.0), 0.7 * scale, TIN);
            for end in [-6.0, 6.0] {
                canvas.disc(off(end, 0.0), 1.0 * scale, TIN);
            }
            let body = if kind == 1 { dice.of(&[[196.0, 164.0, 118.0], [120.0, 160.0, 186.0]]) } else { BLACK };
            canvas.rect(off(0.3, 0.35), [6.8 * scale, 2.5 * scale], turned, dark, false);
            canvas.rect(at, [6.6 * scale, 2.4 * scale], turned, body, true);
            let bands: &[f64] = if kind == 1 { &[-2.2, -1.1, 0.1, 2.1] } else { &[2.2] };
            for &band in bands {
                let colour =
                    dice.of(&[[120.0, 60.0, 30.0], [180.0, 40.0, 36.0], [210.0, 120.0, 30.0], [30.0, 30.0, 30.0]]);
                let colour = if kind == 1 { colour } else { SILK };
                canvas.rect(off(band, 0.0), [0.6 * scale, 2.4 * scale], turned, colour, true);
            }
        }
        // A film capacitor.
        2 => {
            let colour = dice.of(&[[168.0, 40.0, 38.0], [44.0, 88.0, 156.0], [206.0, 168.0, 60.0]]);
            canvas.rect(off(0.5, 0.6), [10.4 * scale, 4.6 * scale], turned, dark, false);
            canvas.rect(at, [10.0 * scale, 4.4 * scale], turned, colour, false);
            canvas.rect(
                off(0.0, -0.5),
                [6.0 * scale, 0.7 * scale],
                turned,
                colour.map(|c| (c * 1.5).min(240.0)),
                false,
            );
        }
        // Chips.
        _ => {
            let colour =
                if kind == 3 { [46.0, 46.0, 48.0] } else { dice.of(&[[168.0, 132.0, 96.0], [136.0, 104.0, 78.0]]) };
            canvas.rect(at, [3.3 * scale, 1.7 * scale], turned, TIN, false);
            canvas.rect(at, [2.1 * scale, 1.7 * scale], turned, colour, false);
        }
    }
}

/// A can; its rim where it stands upright.
fn can(canvas: &mut Canvas, position: &Position, dice: &mut Dice) -> Option<([f64; 3], Option<f64>, bool)> {
    let can = &position.original.can;
    let (x, y) = position.centre_mm()?;
    let (diameter, tall) = (can.diameter_mm?, can.height_mm.unwrap_or(11.0));
    let (scale, sleeve) = (canvas.px_per_mm, dice.of(&SLEEVES));
    let towards_plus = position.rotation_deg;
    if can.mounting == Some(Mounting::Axial) {
        let (at, degrees) = (canvas.at([x, y], 0.0), towards_plus.unwrap_or(0.0));
        let (sin, cos) = f64::to_radians(degrees + ASKEW_DEG).sin_cos();
        let off = |u: f64| [at[0] + u * cos * scale, at[1] - u * sin * scale];
        canvas.line(off(-tall / 2.0 - 6.0), off(tall / 2.0 + 6.0), 0.9 * scale, TIN);
        canvas.rect([at[0] + 5.0, at[1] + 6.0], [tall * scale, diameter * scale], degrees, [16.0, 44.0, 26.0], false);
        canvas.rect(at, [tall * scale, diameter * scale], degrees, sleeve.map(|c| c * 1.6), true);
        canvas.rect(off(tall * 0.46), [0.05 * tall * scale, diameter * scale], degrees, METAL, true);
        canvas.rect(off(-tall * 0.3), [0.12 * tall * scale, diameter * scale], degrees, SILK, true);
        return None;
    }
    let smd = can.mounting == Some(Mounting::Smd);
    let base = canvas.at([x, y], 0.0);
    let r_base = diameter / 2.0 * scale;
    canvas.shadow([base[0] + tall * scale * 0.1, base[1] + tall * scale * 0.13], r_base * 1.02, r_base * 0.25 + 3.0);
    if smd {
        let side = (diameter + 0.4) * scale;
        canvas.rect(base, [side * 1.25, diameter * 0.22 * scale], towards_plus.unwrap_or(0.0), TIN, false);
        canvas.rect(base, [side, side], 0.0, BLACK, false);
    }
    // The wall, from the board up.
    let steps = (tall * scale / 2.0).clamp(2.0, 40.0) as usize;
    for step in 0..steps {
        let height = tall * step as f64 / steps as f64;
        let nearer = CAMERA_MM / (CAMERA_MM - height);
        let (wall, lit) = if smd { (METAL, 0.62) } else { (sleeve, 0.75) };
        let at = canvas.at([x, y], height);
        canvas.disc(at, r_base * nearer, wall.map(|c| c * lit));
    }
    let top = canvas.at([x, y], tall);
    let r = r_base * CAMERA_MM / (CAMERA_MM - tall);
    let stripe = towards_plus.filter(|_| can.technology != Some(refarad::domain::Technology::NonPolar));
    let stripe = stripe.map(|degrees| (180.0 - degrees - ASKEW_DEG).rem_euclid(360.0));
    face(canvas, top, r, &Face { sleeve, smd, screw: can.mounting == Some(Mounting::Screw), stripe }, dice);
    Some(([top[0], top[1], r], stripe, smd))
}

/// What a can shows from above.
struct Face {
    sleeve: Colour,
    smd: bool,
    screw: bool,
    stripe: Option<f64>,
}

fn face(canvas: &mut Canvas, at: [f64; 2], r: f64, face: &Face, dice: &mut Dice) {
    let apart = |x: f64, y: f64, degrees: f64| {
        let d = (y.atan2(x).to_degrees() - degrees).rem_euclid(360.0);
        d.min(360.0 - d)
    };
    let brush = dice.between(0.0, 180.0).to_radians();
    let metal = move |x: f64, y: f64| {
        let shine =
            0.86 + 0.16 * (y.atan2(x) * 2.0 + brush).cos() + 0.05 * ((x * brush.sin() + y * brush.cos()) * 1.3).sin();
        METAL.map(|c| c * shine as f32)
    };
    let ring = if face.smd {
        1.0
    } else if face.screw {
        0.86
    } else {
        0.72
    };
    let letters = dice.between(0.0, 360.0);
    if !face.smd {
        canvas.paint(at, r, |x, y| {
            let d = x.hypot(y) / r;
            // The edge of the sleeve catches the light.
            let lit = if d > 0.95 { 1.7 } else { 1.0 + 0.25 * (y.atan2(x) + 2.4).cos() };
            let striped = face.stripe.is_some_and(|degrees| apart(x, y, degrees) < 21.0);
            let lettered =
                (0.79..0.9).contains(&d) && apart(x, y, letters) < 48.0 && (y.atan2(x) * 23.0).sin() > 0.2 && r > 24.0;
            let colour = if striped {
                [176.0, 180.0, 186.0]
            } else if lettered {
                SILK
            } else {
                face.sleeve
            };
            (r - x.hypot(y), colour.map(|c| (c * lit as f32).min(250.0)))
        });
    }
    if face.screw {
        canvas.disc(at, r * ring, [48.0, 46.0, 44.0]);
        let degrees = face.stripe.unwrap_or(180.0).to_radians();
        for sign in [-1.0, 1.0] {
            let terminal = [at[0] + sign * degrees.cos() * r * 0.42, at[1] + sign * degrees.sin() * r * 0.42];
            canvas.disc(terminal, r * 0.2, [176.0, 160.0, 110.0]);
            canvas.disc(terminal, r * 0.11, [86.0, 80.0, 62.0]);
        }
        return;
    }
    canvas.paint(at, r * ring, |x, y| {
        let d = r * ring - x.hypot(y);
        let marked =
            face.smd && face.stripe.is_some_and(|s| x * s.to_radians().cos() + y * s.to_radians().sin() > 0.42 * r);
        let rim = if d < 0.07 * r { 0.72 } else { 1.0 };
        (d, if marked { BLACK } else { metal(x, y).map(|c| c * rim) })
    });
    // The lines along which it bursts when it must.
    if !face.smd && r > 12.0 {
        for degrees in [brush.to_degrees(), brush.to_degrees() + 90.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let end = |sign: f64| [at[0] + sign * cos * r * 0.56, at[1] + sign * sin * r * 0.56];
            canvas.line(end(-1.0), end(1.0), (r * 0.035).max(1.0), [132.0, 134.0, 136.0]);
        }
    }
}

/// Light that falls off to one side, softness of a lens, and the noise of a sensor.
fn develop(canvas: &Canvas, dice: &mut Dice) -> RgbImage {
    let (w, h) = (canvas.width, canvas.height);
    RgbImage::from_fn(w as u32, h as u32, |x, y| {
        let (x, y) = (x as usize, y as usize);
        let pixel = |dx: usize, dy: usize| {
            canvas.pixels[(y + dy).saturating_sub(1).min(h - 1) * w + (x + dx).saturating_sub(1).min(w - 1)]
        };
        let (u, v) = (x as f64 / w as f64 - 0.5, y as f64 / h as f64 - 0.5);
        let light = (1.06 - 0.22 * (u - 0.2 * v) - 0.35 * (u * u + v * v)) as f32;
        let noise = (dice.share() + dice.share() - 1.0) as f32 * 5.0;
        Rgb(std::array::from_fn(|n| {
            let near = pixel(0, 1)[n] + pixel(2, 1)[n] + pixel(1, 0)[n] + pixel(1, 2)[n];
            ((pixel(1, 1)[n] * 0.6 + near * 0.1) * light + noise).clamp(0.0, 255.0) as u8
        }))
    })
}
