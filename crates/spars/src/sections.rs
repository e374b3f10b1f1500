//! What a spar is: pieces of round tube or timber one after another, one in another where they are sleeved; and what
//! it amounts to at any place along it.

use crate::materials::{Factors, Kind, Material};
use core::f64::consts::PI;

/// Most pieces of a spar.
pub const MOST_PIECES: usize = 8;

/// Longest spar [m] and thickest [m]: beyond them it is a slip of the keys.
const MOST: (f64, f64) = (60.0, 2.0);

/// A round piece of a spar, of straight taper.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Piece {
    /// Its foot, from the foot of the spar [m].
    pub from: f64,
    /// Its top [m].
    pub to: f64,
    /// Outside diameter at its foot and its top [m].
    pub diameters: (f64, f64),
    /// Wall at its foot and its top [m]; solid without.
    pub walls: Option<(f64, f64)>,
    /// Staves it is glued up of, 3 to 24: round outside, flat inside; nought for a tube.
    pub staves: usize,
    /// What it is made of.
    pub material: Material,
}

/// A whole spar: pieces in the order of their feet. Pieces that overlap are one in the other and bend as one.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Pole {
    /// At most [`MOST_PIECES`].
    pub pieces: Vec<Piece>,
}

/// Why something cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Fault {
    /// No pieces, or too many.
    Pieces,
    /// A piece of no length, ahead of the one before it, or beyond all measure.
    Length(usize),
    /// A diameter that is none: tapered to nothing, or beyond all measure.
    Diameter(usize),
    /// A wall of no thickness, or thicker than the radius.
    Wall(usize),
    /// Staves that close no round.
    Staves(usize),
    /// Of no real material.
    Material(usize),
    /// Nothing between this piece and what is below it.
    Gap(usize),
    /// The piece does not go into the one it overlaps, nor over it.
    Sleeve(usize),
    /// No bury, or as much as there is mast.
    Bury,
    /// No states, too many, or a list that does not match them.
    States,
    /// A number that is none, or beyond all measure.
    Number,
    /// Supports that lie on one another, or beyond the spar's ends.
    Supports,
    /// A factor below one.
    Factor,
}

/// What a spar amounts to at a place.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Section {
    /// Outside diameter [m].
    pub diameter: f64,
    /// Least wall [m], the radius of what is solid.
    pub wall: f64,
    /// Area of all material [m²].
    pub area: f64,
    /// Second moment of area of all material, I [m⁴].
    pub inertia: f64,
    /// I over the outside radius, Z [m³].
    pub modulus: f64,
    /// Stiffness in bending, Σ E I [N m²].
    pub bending: f64,
    /// Stiffness along, Σ E A [N].
    pub axial: f64,
    /// Mass [kg/m].
    pub mass: f64,
    /// Moment that may be asked of it [N m], factor and wrinkling of thin walls within.
    pub moment: f64,
    /// Thrust that may be asked of it [N].
    pub thrust: f64,
    /// Shear force that may be asked of it [N]; infinite where no strength is told.
    pub shear: f64,
    /// Whether wrinkling and not strength sets the moment by more than a tenth.
    pub wrinkles: bool,
}

/// Mass and where it lies.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Weight {
    /// Mass [kg].
    pub mass: f64,
    /// Centre from the foot of the spar [m].
    pub centre: f64,
    /// Second moment of mass about the foot [kg m²].
    pub turning: f64,
}

impl Weight {
    /// Two together.
    pub fn and(self, other: Self) -> Self {
        let mass = self.mass + other.mass;
        let first = self.mass * self.centre + other.mass * other.centre;
        Self {
            mass,
            centre: if mass > 0.0 { first / mass } else { 0.0 },
            turning: self.turning + other.turning,
        }
    }

    /// A mass at a place.
    pub fn at(mass: f64, centre: f64) -> Self {
        Self {
            mass,
            centre,
            turning: mass * centre * centre,
        }
    }
}

/// A stave, all of a piece alike: what a plank is sawn to before the spar is rounded.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Stave {
    /// How many.
    pub count: usize,
    /// Bevel of either edge off square [rad]: π / n.
    pub bevel: f64,
    /// Thickness [m]: the wall.
    pub thickness: (f64, f64),
    /// Width of its outer face at foot and top [m]: D tan(π/n).
    pub outer: (f64, f64),
    /// Width of its inner face at foot and top [m]: (D - 2 t) tan(π/n).
    pub inner: (f64, f64),
    /// Length [m].
    pub length: f64,
}

/// What to order for a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Order {
    /// The piece.
    pub piece: usize,
    /// How many.
    pub count: usize,
    /// Width, or outside diameter of tube [m].
    pub width: f64,
    /// Thickness, or wall of tube [m].
    pub thickness: f64,
    /// Length [m].
    pub length: f64,
    /// Wood in the planks [m³]; nought of tube.
    pub volume: f64,
}

/// What a piece is at a place.
#[derive(Clone, Copy)]
struct Layer {
    outer: f64,
    /// Radius of a round bore, apothem of one with flats.
    inner: f64,
    area: f64,
    inertia: f64,
    /// First moment of half of it about the neutral axis.
    half: f64,
}

/// Tangent of half the angle between the sides of a regular polygon: π / n.
fn half_side(n: usize) -> f64 {
    let (sin, cos) = angles::sin_cos(PI / n as f64);
    sin / cos
}

/// Area and second moment of a regular polygon with an apothem: n a² tan(π/n); A a² (3 + tan²(π/n)) / 12.
fn polygon(n: usize, apothem: f64) -> (f64, f64) {
    let tan = half_side(n);
    let area = n as f64 * apothem * apothem * tan;
    (area, area * apothem * apothem * (3.0 + tan * tan) / 12.0)
}

impl Piece {
    /// A tube or a solid piece.
    pub fn new(
        from: f64,
        to: f64,
        diameters: (f64, f64),
        walls: Option<(f64, f64)>,
        material: Material,
    ) -> Self {
        Self {
            from,
            to,
            diameters,
            walls,
            staves: 0,
            material,
        }
    }

    fn share(&self, x: f64) -> f64 {
        ((x - self.from) / (self.to - self.from)).max(0.0).min(1.0)
    }

    fn layer(&self, x: f64) -> Layer {
        let share = self.share(x);
        let between = |(foot, top): (f64, f64)| foot + (top - foot) * share;
        let outer = 0.5 * between(self.diameters);
        let inner = self.walls.map_or(0.0, |walls| outer - between(walls));
        let (area, inertia) = if self.staves > 0 {
            polygon(self.staves, inner)
        } else {
            let square = inner * inner;
            (PI * square, 0.25 * PI * square * square)
        };
        let square = outer * outer;
        // A bore with flats taken as round of the same area: 1 % off with six staves.
        let bore = (area / PI).sqrt();
        Layer {
            outer,
            inner,
            area: PI * square - area,
            inertia: 0.25 * PI * square * square - inertia,
            half: (outer * square - bore * bore * bore) / 1.5,
        }
    }

    /// Staves of a hollow piece.
    pub fn stave(&self) -> Option<Stave> {
        let walls = self.walls.filter(|_| self.staves > 0)?;
        let bevel = PI / self.staves as f64;
        let tan = half_side(self.staves);
        let (foot, top) = self.diameters;
        Some(Stave {
            count: self.staves,
            bevel,
            thickness: walls,
            outer: (foot * tan, top * tan),
            inner: ((foot - 2.0 * walls.0) * tan, (top - 2.0 * walls.1) * tan),
            length: self.to - self.from,
        })
    }
}

/// Stress at which a wall wrinkles in bending [Pa].
///
/// The lesser of γ E t / (r √(3(1 - ν²))) with γ = 1 - 0.731 (1 - e^(-√(r/t)/16)) (NASA SP-8007, bending) and the stress at
/// Brazier's moment of a long tube, M = (2√2 π/9) E r t² / √(1 - ν²) over π r² t. r is mid-wall; E is √(E along x E across).
pub fn wrinkling(material: &Material, radius: f64, wall: f64) -> f64 {
    let stiffness = (material.stiffness * material.across).sqrt();
    let rest = (1.0 - material.poisson * material.poisson).sqrt();
    let ratio = radius / wall;
    let down = 1.0 - 0.731 * (1.0 - (-ratio.sqrt() / 16.0).exp());
    let shell = down / (3f64.sqrt() * rest);
    let flattened = 2.0 * 2f64.sqrt() / 9.0 / rest;
    stiffness / ratio * shell.min(flattened)
}

/// Strength left where a wall may wrinkle: Johnson's parabola, f (1 - f / (4 w)) down to w = f / 2, then w. The form for
/// crippling is common practice; it never gives more for a thinner wall.
fn crippled(strength: f64, wrinkling: f64) -> f64 {
    if wrinkling > 0.5 * strength {
        strength * (1.0 - 0.25 * strength / wrinkling)
    } else {
        wrinkling
    }
}

impl Pole {
    /// A parallel or tapered spar of one piece.
    pub fn one(
        length: f64,
        diameters: (f64, f64),
        walls: Option<(f64, f64)>,
        material: Material,
    ) -> Self {
        Self {
            pieces: vec![Piece::new(0.0, length, diameters, walls, material)],
        }
    }

    /// Length from foot to top [m].
    pub fn length(&self) -> f64 {
        self.pieces.iter().fold(0.0, |most, p| p.to.max(most))
    }

    /// Whether it is the same all along: one piece without taper.
    pub(crate) fn is_even(&self) -> bool {
        let even = |(foot, top): (f64, f64)| foot == top;
        match self.pieces.as_slice() {
            [piece] => even(piece.diameters) && piece.walls.is_none_or(even),
            _ => false,
        }
    }

    /// What is wrong with it, the first of it.
    ///
    /// # Errors
    /// A wall thicker than the radius, a taper to nothing, a gap, a sleeve that does not fit, and so on.
    pub fn check(&self) -> Result<(), Fault> {
        if self.pieces.is_empty() || self.pieces.len() > MOST_PIECES {
            return Err(Fault::Pieces);
        }
        let mut reached = 0.0f64;
        let mut foot = 0.0f64;
        for (i, p) in self.pieces.iter().enumerate() {
            if !(p.from >= foot && p.to - p.from > 1e-3 && p.to < MOST.0) {
                return Err(Fault::Length(i));
            }
            let fits = |d: f64| d > 1e-3 && d < MOST.1;
            if !(fits(p.diameters.0) && fits(p.diameters.1)) {
                return Err(Fault::Diameter(i));
            }
            let walls = |w: f64, d: f64| w > 1e-5 && w <= 0.5 * d;
            if let Some((a, b)) = p.walls
                && !(walls(a, p.diameters.0) && walls(b, p.diameters.1))
            {
                return Err(Fault::Wall(i));
            }
            if p.staves != 0 && (!(3..=24).contains(&p.staves) || p.walls.is_none()) {
                return Err(Fault::Staves(i));
            }
            if p.staves != 0 {
                // The corners of the bore must not come through the wall.
                for x in [p.from, p.to] {
                    let layer = p.layer(x);
                    if layer.inner >= layer.outer * angles::cos(PI / p.staves as f64) {
                        return Err(Fault::Staves(i));
                    }
                }
            }
            if !p.material.is_real() {
                return Err(Fault::Material(i));
            }
            if p.from > reached + 1e-6 {
                return Err(Fault::Gap(i));
            }
            for below in self.pieces.iter().take(i) {
                let (a, b) = (p.from, p.to.min(below.to));
                if b - a > 1e-6 && !(nested(p, below, a, b) || nested(below, p, a, b)) {
                    return Err(Fault::Sleeve(i));
                }
            }
            foot = p.from;
            reached = reached.max(p.to);
        }
        Ok(())
    }

    /// What it is at a place from its foot [m]; where two pieces meet, the upper. Beyond its ends that of the end. For a
    /// pole that is in order.
    pub fn at(&self, x: f64, factors: &Factors) -> Section {
        let top = self.length();
        let mut x = x.max(0.0).min(top);
        // In a slit between pieces too narrow to be a gap: the piece above it.
        let mut next = f64::INFINITY;
        for p in &self.pieces {
            if x >= p.from && (x < p.to || p.to >= top) {
                next = x;
            } else if x < p.from {
                next = next.min(p.from);
            }
        }
        if next.is_finite() {
            x = next;
        }
        let mut s = Section {
            wall: f64::INFINITY,
            ..Section::default()
        };
        // Shares of the strains that may be.
        let (mut curve, mut short, mut slide) = (f64::INFINITY, f64::INFINITY, f64::INFINITY);
        let (mut halves, mut widths) = (0.0, 0.0);
        let mut plain = f64::INFINITY;
        for p in &self.pieces {
            if x < p.from || (x >= p.to && p.to < top) {
                continue;
            }
            let (layer, m) = (p.layer(x), &p.material);
            let wall = layer.outer - layer.inner;
            s.diameter = s.diameter.max(2.0 * layer.outer);
            s.wall = s.wall.min(wall);
            s.area += layer.area;
            s.inertia += layer.inertia;
            s.bending += m.stiffness * layer.inertia;
            s.axial += m.stiffness * layer.area;
            s.mass += m.density * layer.area;
            halves += m.stiffness * layer.half;
            widths += 2.0 * wall;
            let factor = factors.of(m.kind);
            let mut strength = m.bending();
            let asked = m.stiffness * layer.outer;
            plain = plain.min(strength / factor / asked);
            if layer.inner > 0.0 {
                let radius = 0.5 * (layer.outer + layer.inner);
                strength = crippled(strength, wrinkling(m, radius, wall));
            }
            curve = curve.min(strength / factor / asked);
            short = short.min(strength.min(m.compression) / factor / m.stiffness);
            if m.shear > 0.0 {
                slide = slide.min(m.shear / factor);
            }
        }
        s.modulus = 2.0 * s.inertia / s.diameter;
        s.moment = s.bending * curve;
        s.thrust = s.axial * short;
        // τ = V Σ(E Q) / (Σ(E I) b): the formula of Jourawski, layers bending as one.
        s.shear = slide * s.bending * widths / halves;
        s.wrinkles = curve < 0.9 * plain;
        s
    }

    /// Sections every `step` from the foot, and at the top; at most 400 of them. None for a pole, factors or a step
    /// that cannot be.
    pub fn schedule(&self, step: f64, factors: &Factors) -> Vec<(f64, Section)> {
        let mut rows = Vec::new();
        let length = self.length();
        if self.check().is_err() || !factors.is_real() || !(step > 0.0 && length / step < 400.0) {
            return rows;
        }
        let mut i = 0;
        loop {
            let x = step * f64::from(i);
            if x > length - 1e-6 {
                break;
            }
            rows.push((x, self.at(x, factors)));
            i += 1;
        }
        rows.push((length, self.at(length, factors)));
        rows
    }

    /// Volume of material [m³] and weight, exact: area is quadratic along a piece, so Simpson's rule is.
    ///
    /// # Errors
    /// As [`Pole::check`].
    pub fn weigh(&self) -> Result<(f64, Weight), Fault> {
        self.check()?;
        let (mut volume, mut weight) = (0.0, Weight::default());
        for p in &self.pieces {
            let length = p.to - p.from;
            // Halves, since the second moment is of fourth degree: Boole's rule.
            let mut sums = [0.0; 3];
            for (i, w) in [7.0, 32.0, 12.0, 32.0, 7.0].into_iter().enumerate() {
                let x = p.from + length * 0.25 * i as f64;
                let part = w / 90.0 * length * p.layer(x).area;
                sums[0] += part;
                sums[1] += part * x;
                sums[2] += part * x * x;
            }
            volume += sums[0];
            weight = weight.and(Weight {
                mass: p.material.density * sums[0],
                centre: sums[1] / sums[0],
                turning: p.material.density * sums[2],
            });
        }
        Ok((volume, weight))
    }

    /// Its pieces as they are made: what tapers on from what is below it is one stick with it, of the greater diameter; `butted` pieces
    /// stay apart.
    pub fn sticks(&self, butted: bool) -> Vec<Piece> {
        let mut sticks: Vec<Piece> = Vec::new();
        for piece in &self.pieces {
            match sticks.last_mut() {
                Some(last)
                    if !butted
                        && last.to == piece.from
                        && last.diameters.1 == piece.diameters.0
                        && last.staves == piece.staves
                        && last.walls.is_some() == piece.walls.is_some()
                        && last.material == piece.material =>
                {
                    let most = |a: f64, b: f64| if a > b { a } else { b };
                    last.to = piece.to;
                    last.diameters = (most(last.diameters.0, piece.diameters.0), piece.diameters.1);
                    if let (Some(walls), Some(above)) = (&mut last.walls, piece.walls) {
                        *walls = (most(walls.0, above.0), above.1);
                    }
                }
                _ => sticks.push(*piece),
            }
        }
        sticks
    }

    /// What to order: tube by its greatest diameter and wall; a baulk square round what is solid; planks for staves, stick by stick.
    /// Timber with `allowance` on width and thickness for saw and plane [m] (0.006) and `waste` on length [m] (0.1).
    pub fn order(&self, butted: bool, allowance: f64, waste: f64) -> Vec<Order> {
        let most = |(a, b): (f64, f64)| a.max(b);
        let (allowance, waste) = (allowance.max(0.0), waste.max(0.0));
        let mut orders = Vec::new();
        if self.check().is_err() {
            return orders;
        }
        for (piece, p) in self.sticks(butted).iter().enumerate() {
            let sawn = matches!(p.material.kind, Kind::Clear | Kind::Class);
            let (count, width, thickness) = match (p.stave(), p.walls) {
                (Some(stave), Some(walls)) => (
                    stave.count,
                    most(stave.outer) + allowance,
                    most(walls) + allowance,
                ),
                (_, Some(walls)) => (1, most(p.diameters), most(walls)),
                _ if sawn => {
                    let side = most(p.diameters) + allowance;
                    (1, side, side)
                }
                _ => (1, most(p.diameters), 0.5 * most(p.diameters)),
            };
            let length = p.to - p.from + if sawn { waste } else { 0.0 };
            orders.push(Order {
                piece,
                count,
                width,
                thickness,
                length,
                volume: if sawn {
                    count as f64 * width * thickness * length
                } else {
                    0.0
                },
            });
        }
        orders
    }
}

/// Least wall of a parallel round spar that bears a moment [m], half the diameter where only solid does; none where not even that
/// does, or of numbers that cannot be. By halving: [`Section::moment`] is never less for a thicker wall.
pub fn wall_for(diameter: f64, moment: f64, material: &Material, factors: &Factors) -> Option<f64> {
    let bears = |wall: f64| {
        let pole = Pole::one(1.0, (diameter, diameter), Some((wall, wall)), *material);
        pole.check().is_ok() && pole.at(0.5, factors).moment >= moment
    };
    let (mut less, mut wall) = (0.0, 0.5 * diameter);
    if !bears(wall) {
        return None;
    }
    for _ in 0..40 {
        let middle = 0.5 * (less + wall);
        if bears(middle) {
            wall = middle;
        } else {
            less = middle;
        }
    }
    Some(wall)
}

/// Whether one piece goes into the bore of another between two places.
fn nested(inner: &Piece, outer: &Piece, from: f64, to: f64) -> bool {
    let into = |x| inner.layer(x).outer <= outer.layer(x).inner + 1e-4;
    outer.walls.is_some() && into(from) && into(to)
}

/// Tubes sold by the metre: outside diameter and wall [m]; sizes that aluminium stockholders commonly keep (common practice).
pub fn tube(i: usize) -> Option<(f64, f64)> {
    const TUBES: [(u16, u16); 30] = [
        (250, 15),
        (250, 20),
        (300, 15),
        (300, 20),
        (320, 20),
        (350, 20),
        (380, 20),
        (400, 20),
        (400, 30),
        (450, 20),
        (500, 20),
        (500, 30),
        (600, 20),
        (600, 30),
        (600, 50),
        (700, 30),
        (800, 30),
        (800, 50),
        (900, 30),
        (1000, 30),
        (1000, 50),
        (1200, 30),
        (1200, 50),
        (1300, 50),
        (1400, 50),
        (1500, 50),
        (1600, 50),
        (1800, 50),
        (2000, 50),
        (2200, 60),
    ];
    let (d, t) = TUBES.get(i)?;
    Some((1e-4 * f64::from(*d), 1e-4 * f64::from(*t)))
}

/// Tapered poles, as for lamps and flags: diameter of foot and top, wall, parallel foot, length [m] (common practice: sizes
/// vary by maker).
pub fn tapered_pole(i: usize) -> Option<[f64; 5]> {
    const POLES: [[u16; 5]; 10] = [
        [100, 60, 3, 1500, 6000],
        [120, 60, 4, 2000, 7000],
        [120, 76, 4, 2000, 8000],
        [140, 60, 4, 2500, 8000],
        [140, 76, 4, 2500, 9000],
        [160, 76, 4, 3000, 10000],
        [160, 76, 5, 3000, 10000],
        [180, 76, 5, 3500, 11000],
        [200, 89, 5, 4000, 12000],
        [225, 100, 6, 4500, 14000],
    ];
    let mut found = [0.0; 5];
    for (number, mm) in found.iter_mut().zip(POLES.get(i)?) {
        *number = 1e-3 * f64::from(*mm);
    }
    Some(found)
}

/// A tapered pole: parallel foot, straight taper above it.
pub fn parallel_foot(
    length: f64,
    foot: f64,
    diameters: (f64, f64),
    walls: Option<(f64, f64)>,
    material: Material,
) -> Pole {
    let (bottom, top) = diameters;
    let low = walls.map(|(a, _)| (a, a));
    let mut pieces = Vec::new();
    if foot > 1e-3 {
        let to = foot.min(length);
        pieces.push(Piece::new(0.0, to, (bottom, bottom), low, material));
    }
    if length - foot > 1e-3 {
        let from = foot.max(0.0);
        pieces.push(Piece::new(from, length, (bottom, top), walls, material));
    }
    Pole { pieces }
}
