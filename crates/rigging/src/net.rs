//! Where the blocks of a sheet hang: the joint convex minimum.
//!
//! Blocks without weight hang where the sheet's rope is shortest, all its parts together, while no span is drawn
//! out beyond its length: least Σ n |A - B| over the sheet's stretches, subject to Σ n |A - B| <= L for each span. Every
//! length is convex in the places of the blocks, so the minimum is one. (Derived: least potential energy of a taut
//! sheet.) With t for each stretch's length it is a second-order cone programme:
//!
//! ```text
//! least Σ n t + M Σ z,   |A - B| <= t,   Σ n t <= L + z,   z >= 0,
//! ```
//!
//! z being what a span is too short by, at a price M no span's pull comes near to. It is solved by Newton's steps on
//! its logarithmic barrier (S. Boyd, L. Vandenberghe, *Convex Optimization*, chapter 11). Stretches are eliminated one by one,
//! which leaves a quasi-definite system in blocks and spans alone; such a system needs no pivots (R. Vanderbei).

use crate::space::{NOWHERE, distance, dot, length, less, plus};
use geometry::mast::Place;

/// An end of a stretch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tie {
    /// A place that does not give.
    Fixed(Place),
    /// A block, by its number.
    Block(usize),
}

/// Straight rope between two ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// One end.
    pub from: Tie,
    /// The other.
    pub to: Tie,
    /// Parts of rope.
    pub parts: f64,
    /// The span it belongs to; none for the sheet itself.
    pub span: Option<usize>,
}

/// Blocks, spans and the sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Net {
    /// How many blocks.
    pub blocks: usize,
    /// Length of rope of each span [m].
    pub spans: Vec<f64>,
    /// All stretches.
    pub stretches: Vec<Stretch>,
}

/// Where everything hangs.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hung {
    /// Place of each block.
    pub blocks: Vec<Place>,
    /// Rope of the sheet, all parts [m].
    pub rope: f64,
    /// Pull in each span over the pull in the sheet; nought for a slack one.
    pub pulls: Vec<f64>,
    /// What each span is too short by [m]; nought mostly.
    pub short: Vec<f64>,
    /// Newton's steps taken.
    pub steps: usize,
}

/// Price of a span's missing length: pulls in it stay below this many times the sheet's.
const PRICE: f64 = 1e3;

/// Newton's steps in all.
const MOST_STEPS: usize = 200;

/// The barrier counts for so many metres at the end, for each cone.
const SHARP: f64 = 1e7;

/// A stretch under way: vector, length variable.
#[derive(Clone, Copy)]
struct Now {
    d: Place,
    t: f64,
    /// t² - d².
    room: f64,
}

/// A state of the programme.
#[derive(Clone)]
struct Point {
    blocks: Vec<Place>,
    t: Vec<f64>,
    z: Vec<f64>,
}

impl Net {
    fn place(&self, tie: Tie, blocks: &[Place]) -> Place {
        match tie {
            Tie::Fixed(place) => place,
            Tie::Block(i) => blocks.get(i).copied().unwrap_or(NOWHERE),
        }
    }

    fn reach(&self, stretch: &Stretch, blocks: &[Place]) -> Place {
        less(
            self.place(stretch.from, blocks),
            self.place(stretch.to, blocks),
        )
    }

    /// What is left of each span: L + z - Σ n t.
    fn left(&self, at: &Point) -> Vec<f64> {
        let mut left: Vec<f64> = self.spans.iter().zip(&at.z).map(|(l, z)| l + z).collect();
        for (stretch, t) in self.stretches.iter().zip(&at.t) {
            if let Some(left) = stretch.span.and_then(|i| left.get_mut(i)) {
                *left -= stretch.parts * t;
            }
        }
        left
    }

    /// The barrier function; none outside.
    fn barrier(&self, at: &Point, sharp: f64) -> Option<f64> {
        let mut sum = 0.0;
        for (stretch, t) in self.stretches.iter().zip(&at.t) {
            let r = length(self.reach(stretch, &at.blocks));
            let room = (t - r) * (t + r);
            if !(room > 0.0 && *t > 0.0) {
                return None;
            }
            sum -= room.ln();
            if stretch.span.is_none() {
                sum += sharp * stretch.parts * t;
            }
        }
        for (left, z) in self.left(at).iter().zip(&at.z) {
            if !(*left > 0.0 && *z > 0.0) {
                return None;
            }
            sum += sharp * PRICE * z - left.ln() - z.ln();
        }
        sum.is_finite().then_some(sum)
    }

    /// A start inside: blocks amid what holds them, stretches and spans with room to spare.
    fn start(&self) -> Point {
        let mut blocks = vec![NOWHERE; self.blocks];
        for i in 0..self.blocks {
            let (mut sum, mut count) = (NOWHERE, 0.0);
            for stretch in self.stretches.iter().filter(|s| s.span.is_some()) {
                let other = match (stretch.from, stretch.to) {
                    (Tie::Block(j), other) | (other, Tie::Block(j)) if j == i => other,
                    _ => continue,
                };
                sum = plus(sum, 1.0, self.place(other, &blocks));
                count += 1.0;
            }
            if count > 0.0 {
                blocks[i] = plus(NOWHERE, 1.0 / count, sum);
            }
        }
        let t: Vec<f64> = (self.stretches.iter())
            .map(|stretch| length(self.reach(stretch, &blocks)) + 0.3)
            .collect();
        let mut at = Point {
            blocks,
            t,
            z: vec![0.0; self.spans.len()],
        };
        let left = self.left(&at);
        for (z, left) in at.z.iter_mut().zip(left) {
            *z = (-left).max(0.0) + 0.3;
        }
        at
    }

    /// Finds where the blocks hang, to a micrometre of rope. None where a number is none.
    pub fn hang(&self) -> Option<Hung> {
        let mut at = self.start();
        let mut sharp = 1.0;
        let mut steps = 0;
        let mut value = self.barrier(&at, sharp)?;
        while steps < MOST_STEPS {
            steps += 1;
            let (step, gain) = self.newton(&at, sharp);
            if !gain.is_finite() {
                return None;
            }
            let mut share = 1.0;
            for _ in 0..40 {
                let tried = at.moved(&step, share);
                if let Some(now) = self.barrier(&tried, sharp)
                    && now <= value - 0.05 * share * gain + 1e-13 * value.abs()
                {
                    at = tried;
                    value = now;
                    break;
                }
                share *= 0.5;
            }
            // Near enough the path, or no nearer by rounding. At the end the pulls are wanted too.
            let last = sharp >= SHARP;
            if gain < if last { 1e-7 } else { 0.3 } || share < 1e-9 {
                if last {
                    break;
                }
                sharp *= 10.0;
                value = self.barrier(&at, sharp)?;
            }
        }
        let left = self.left(&at);
        let rope = |span| {
            (self.stretches.iter().filter(|s| s.span == span))
                .map(|s| s.parts * length(self.reach(s, &at.blocks)))
                .sum::<f64>()
        };
        Some(Hung {
            rope: rope(None),
            pulls: left.iter().map(|left| 1.0 / (sharp * left)).collect(),
            short: (self.spans.iter().enumerate())
                .map(|(i, span)| (rope(Some(i)) - span).max(0.0))
                .collect(),
            steps,
            blocks: at.blocks,
        })
    }

    /// Where one block hangs on one span, drawn to a single place s, and the pull in the span over that in the sheet: the point of the
    /// convex body Σ n |Q - P| <= l nearest to s; s itself within, with no pull.
    ///
    /// Newton's steps on Q - s + μ ∇g = 0, g = l, with no search: from s they come down on the body from outside, since g
    /// lies above its tangents. What they find is tried against both equations, so it is the least there is (g is convex); None where they
    /// find nothing: at a kink, or the rope being too short. [`Net::hang`] does without them. Stretches lead from the block.
    pub fn quick(&self) -> Option<(Place, f64)> {
        let [l] = *self.spans.as_slice() else {
            return None;
        };
        let mut drawn = None;
        for stretch in &self.stretches {
            let Tie::Fixed(to) = stretch.to else {
                return None;
            };
            if stretch.span.is_none() && drawn.replace((to, stretch.parts)).is_some() {
                return None;
            }
        }
        let (s, parts) = drawn?;
        let (mut q, mut price) = (s, 0.0);
        for step in 0..30 {
            let mut g = -l;
            let mut slope = NOWHERE;
            // Lower half of the identity and μ times the curvature, bordered by the slope.
            let mut matrix = [0.0; 16];
            for leg in self.stretches.iter().filter(|leg| leg.span.is_some()) {
                let Tie::Fixed(p) = leg.to else { continue };
                let n = leg.parts;
                let d = less(q, p);
                let r = length(d);
                if r < 1e-9 {
                    // Within, if anywhere: a leg of no length.
                    if step > 0 {
                        return None;
                    }
                    continue;
                }
                g += n * r;
                slope = plus(slope, n / r, d);
                let d = [d.x, d.y, d.z];
                for i in 0..3 {
                    matrix[5 * i] += price * n / r;
                    for j in 0..=i {
                        matrix[4 * i + j] -= price * n * d[i] * d[j] / (r * r * r);
                    }
                }
            }
            if step == 0 && g <= 0.0 {
                return Some((s, 0.0));
            }
            let rest = plus(less(q, s), price, slope);
            let out = distance(q, s);
            if g.abs() < 1e-10 * (1.0 + l) && length(rest) < 1e-9 * (1.0 + out) && price > 0.0 {
                // The line's pull is along q - s, the legs' along the slope.
                return (out > 1e-6).then(|| (q, parts * price / out));
            }
            let mut right = [-rest.x, -rest.y, -rest.z, -g];
            (matrix[12], matrix[13], matrix[14]) = (slope.x, slope.y, slope.z);
            for i in 0..3 {
                matrix[5 * i] += 1.0;
            }
            solve(&mut matrix, &mut right, 4);
            q = plus(
                q,
                1.0,
                Place {
                    x: right[0],
                    y: right[1],
                    z: right[2],
                },
            );
            price = (price + right[3]).max(0.0);
        }
        None
    }

    /// Newton's step, and what it gains by its own reckoning.
    fn newton(&self, at: &Point, sharp: f64) -> (Point, f64) {
        let (blocks, spans) = (3 * self.blocks, self.spans.len());
        let n = blocks + spans;
        let mut matrix = vec![0.0; n * n];
        let mut right = vec![0.0; n];
        let left = self.left(at);
        let mut grad_z = vec![0.0; spans];
        for i in 0..spans {
            let (z, s) = (at.z[i], left[i]);
            grad_z[i] = sharp * PRICE - 1.0 / s - 1.0 / z;
            matrix[(blocks + i) * (n + 1)] = -(z * z + s * s);
            right[blocks + i] = -z * z * grad_z[i];
        }
        let now: Vec<Now> = (self.stretches.iter().zip(&at.t))
            .map(|(stretch, t)| {
                let d = self.reach(stretch, &at.blocks);
                let r = length(d);
                Now {
                    d,
                    t: *t,
                    room: (t - r) * (t + r),
                }
            })
            .collect();
        // Slope along t, with the span's or the sheet's share in it.
        let slope = |stretch: &Stretch, now: &Now| {
            stretch.parts * stretch.span.map_or(sharp, |i| 1.0 / left[i]) - 2.0 * now.t / now.room
        };
        for (stretch, now) in self.stretches.iter().zip(&now) {
            let Now { d, t, room } = *now;
            let both = t * t + dot(d, d);
            let curve = 2.0 * both / (room * room);
            // Cross term of t and d is `cross` d.
            let cross = -4.0 * t / (room * room);
            let pull = slope(stretch, now) / curve;
            let along = -4.0 / (room * both);
            let d = [d.x, d.y, d.z];
            let span = stretch.span.map(|i| blocks + i);
            if let Some(row) = span {
                matrix[row * (n + 1)] -= stretch.parts * stretch.parts / curve;
                right[row] += stretch.parts * pull;
            }
            let ties = [(stretch.from, 1.0), (stretch.to, -1.0)];
            for (tie, sign) in ties {
                let Tie::Block(b) = tie else { continue };
                for i in 0..3 {
                    let row = 3 * b + i;
                    right[row] -= sign * d[i] * (2.0 / room - cross * pull);
                    if let Some(span) = span {
                        matrix[span * n + row] -= sign * cross * d[i] * stretch.parts / curve;
                    }
                    for (other, other_sign) in ties {
                        let Tie::Block(c) = other else { continue };
                        for j in 0..3 {
                            let same = if i == j { 2.0 / room } else { 0.0 };
                            matrix[row * n + 3 * c + j] +=
                                sign * other_sign * (same + along * d[i] * d[j]);
                        }
                    }
                }
            }
        }
        solve(&mut matrix, &mut right, n);

        let mut step = Point {
            blocks: (0..self.blocks)
                .map(|i| Place {
                    x: right[3 * i],
                    y: right[3 * i + 1],
                    z: right[3 * i + 2],
                })
                .collect(),
            t: Vec::with_capacity(now.len()),
            z: Vec::with_capacity(spans),
        };
        let mut gain = 0.0;
        for (stretch, now) in self.stretches.iter().zip(&now) {
            let moved = |tie| match tie {
                Tie::Block(i) => step.blocks.get(i).copied().unwrap_or(NOWHERE),
                Tie::Fixed(_) => NOWHERE,
            };
            let moved = dot(now.d, less(moved(stretch.from), moved(stretch.to)));
            let Now { d, t, room } = *now;
            let curve = 2.0 * (t * t + dot(d, d)) / (room * room);
            let slope = slope(stretch, now);
            let held = stretch
                .span
                .map_or(0.0, |i| stretch.parts * right[blocks + i]);
            let grow = -(slope - 4.0 * t / (room * room) * moved + held) / curve;
            gain -= slope * grow + 2.0 / room * moved;
            step.t.push(grow);
        }
        for i in 0..spans {
            let grow = at.z[i] * at.z[i] * (right[blocks + i] - grad_z[i]);
            gain -= grad_z[i] * grow;
            step.z.push(grow);
        }
        (step, gain)
    }
}

impl Point {
    fn moved(&self, step: &Self, share: f64) -> Self {
        let along = |from: &[f64], by: &[f64]| {
            from.iter()
                .zip(by)
                .map(|(from, by)| from + share * by)
                .collect()
        };
        Self {
            blocks: (self.blocks.iter().zip(&step.blocks))
                .map(|(from, by)| plus(*from, share, *by))
                .collect(),
            t: along(&self.t, &step.t),
            z: along(&self.z, &step.z),
        }
    }
}

/// Solves a symmetric quasi-definite system, its lower half given, in place: L D Lᵀ without pivots.
fn solve(matrix: &mut [f64], right: &mut [f64], n: usize) {
    for j in 0..n {
        let pivot = matrix[j * (n + 1)];
        for i in j + 1..n {
            let factor = matrix[i * n + j] / pivot;
            for k in j + 1..=i {
                matrix[i * n + k] -= factor * matrix[k * n + j];
            }
            right[i] -= factor * right[j];
        }
        // The column is kept undivided for the rows above.
    }
    for j in (0..n).rev() {
        let mut sum = right[j];
        for i in j + 1..n {
            sum -= matrix[i * n + j] * right[i];
        }
        right[j] = sum / matrix[j * (n + 1)];
    }
}
