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

use crate::space::{NOWHERE, cross, distance, dot, length, less, plus};
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
#[cfg(feature = "joined")]
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
#[cfg(feature = "joined")]
const MOST_STEPS: usize = 200;

/// The barrier counts for so many metres at the end, for each cone.
#[cfg(feature = "joined")]
const SHARP: f64 = 1e7;

/// A stretch under way: its vector, its length variable t, and t² - d².
#[cfg(feature = "joined")]
struct Now {
    d: Place,
    t: f64,
    room: f64,
}

/// Unknowns of the programme, one after another: blocks (x, y, z), what each span is short by, the stretches' lengths.
#[cfg(feature = "joined")]
type Unknowns = Vec<f64>;

impl Net {
    /// The one place a single block is drawn to, its parts, and the length of its span; none for other nets. Stretches lead from the block.
    fn single(&self) -> Option<(Place, f64, f64)> {
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
        drawn.map(|(s, parts)| (s, parts, l))
    }

    /// Where one block hangs on one span, drawn to a single place s, the pull in the span over that in the sheet, and what the span is too
    /// short by: the point of the convex body Σ n |Q - P| <= l nearest to s; s itself within, with no pull. None for other nets.
    ///
    /// A body so thin that Newton's steps find nothing on it is come to from a thicker one, halving what there is to spare from one to the
    /// next. What does not reach hangs where it needs least: at one of its ends, or of a pair anywhere between.
    pub fn one(&self) -> Option<(Place, f64, f64)> {
        let (s, parts, l) = self.single()?;
        let start = (s, 0.0);
        let told = |(q, price): (Place, f64)| {
            let out = distance(q, s);
            let pull = if out > 1e-6 { parts * price / out } else { 0.0 };
            (q, pull.min(PRICE), 0.0)
        };
        if let Some(found) = self.quick(s, l, start) {
            return Some(told(found));
        }
        let (mut least, mut at) = (f64::INFINITY, s);
        let mut ends = [s; 2];
        let mut count = 0;
        for leg in self.stretches.iter().filter(|leg| leg.span.is_some()) {
            let Tie::Fixed(p) = leg.to else { continue };
            let needs = self.gathered(p);
            if needs < least {
                (least, at) = (needs, p);
            }
            if let Some(end) = ends.get_mut(count) {
                *end = p;
            }
            count += 1;
        }
        let spare = l - least;
        if spare.is_nan() {
            return None;
        }
        if spare <= 1e-9 {
            let [from, to] = ends;
            let along = less(to, from);
            let share = dot(less(s, from), along) / dot(along, along);
            if count == 2 && share.is_finite() {
                at = plus(from, share.max(0.0).min(1.0), along);
            }
            return Some((at, PRICE, -spare));
        }
        // From where s lies just within.
        let most = self.gathered(s) - least;
        let mut known = start;
        let mut more = spare * f64::from(1u32 << 31);
        for _ in 0..63 {
            if more < most {
                // Past a kink the way leads from further out again.
                for out in [0.0, 0.001, 0.01, 0.03, 0.1, 0.3, 1.0] {
                    let from = plus(known.0, out, less(s, known.0));
                    if let Some(found) = self.quick(s, least + more, (from, known.1)) {
                        known = found;
                        break;
                    }
                }
            }
            more = (more * core::f64::consts::FRAC_1_SQRT_2).max(spare);
        }
        // At a kink that none of them passed, back to where it reaches.
        let (mut near, mut far) = (0.0, 1.0);
        let back = |share: f64| plus(at, share, less(known.0, at));
        if self.gathered(known.0) > l + 1e-9 * (1.0 + l) {
            for _ in 0..50 {
                let middle = 0.5 * (near + far);
                if self.gathered(back(middle)) > l {
                    far = middle;
                } else {
                    near = middle;
                }
            }
            known.0 = back(near);
        }
        Some(told(known))
    }

    /// Rope a span takes with its block at a place.
    fn gathered(&self, q: Place) -> f64 {
        let mut rope = 0.0;
        for leg in self.stretches.iter().filter(|leg| leg.span.is_some()) {
            if let Tie::Fixed(p) = leg.to {
                rope += leg.parts * distance(q, p);
            }
        }
        rope
    }

    /// The same for a span that reaches, from a place outside and the price μ there.
    ///
    /// Newton's steps on Q - s + μ ∇g = 0, g = l, with no search: they come down on the body from outside, since g
    /// lies above its tangents. What they find is tried against both equations, so it is the least there is (g is convex); None where they
    /// find nothing: at a kink, or the rope being too short.
    fn quick(&self, s: Place, l: f64, (mut q, mut price): (Place, f64)) -> Option<(Place, f64)> {
        if self.gathered(s) <= l {
            return Some((s, 0.0));
        }
        for step in 0..30 {
            let mut g = -l;
            let mut slope = NOWHERE;
            // Rows of the identity and μ times the curvature, which is symmetric.
            let (mut x, mut y, mut z) = (NOWHERE, NOWHERE, NOWHERE);
            let mut own = 1.0;
            for leg in self.stretches.iter().filter(|leg| leg.span.is_some()) {
                let Tie::Fixed(p) = leg.to else { continue };
                let d = less(q, p);
                let r = length(d);
                if r < 1e-9 {
                    // Within, if anywhere: a leg of no length.
                    if step > 0 {
                        return None;
                    }
                    continue;
                }
                let n = leg.parts / r;
                g += leg.parts * r;
                slope = plus(slope, n, d);
                own += price * n;
                let bend = -price * n / (r * r);
                x = plus(x, bend * d.x, d);
                y = plus(y, bend * d.y, d);
                z = plus(z, bend * d.z, d);
            }
            let rest = plus(less(q, s), price, slope);
            let out = distance(q, s);
            if g.abs() < 1e-10 * (1.0 + l) && length(rest) < 1e-9 * (1.0 + out) && price > 0.0 {
                // The line's pull is along q - s, the legs' along the slope.
                return (out > 1e-6).then_some((q, price));
            }
            (x.x, y.y, z.z) = (x.x + own, y.y + own, z.z + own);
            // Solved by its cofactors, for what is left and for the slope.
            let (a, b, c) = (cross(y, z), cross(z, x), cross(x, y));
            let all = 1.0 / dot(x, a);
            let solved = |r: Place| {
                let sum = plus(plus(NOWHERE, all * r.x, a), all * r.y, b);
                plus(sum, all * r.z, c)
            };
            let (straight, along) = (solved(rest), solved(slope));
            let more = (g - dot(slope, straight)) / dot(slope, along);
            q = plus(less(q, straight), -more, along);
            price = (price + more).max(0.0);
        }
        None
    }
}

/// Blocks that are joined: no document makes any, so the wasm does without.
#[cfg(feature = "joined")]
impl Net {
    /// Where the spans' and the stretches' unknowns begin.
    fn begin(&self) -> (usize, usize) {
        (3 * self.blocks, 3 * self.blocks + self.spans.len())
    }

    /// From one end of a stretch to the other, fixed ends taken `fixed` times: nought for a step.
    fn reach(&self, stretch: &Stretch, at: &[f64], fixed: f64) -> Place {
        let place = |tie| match tie {
            Tie::Fixed(place) => plus(NOWHERE, fixed, place),
            Tie::Block(i) => match at.get(3 * i..3 * i + 3) {
                Some(&[x, y, z]) => Place { x, y, z },
                _ => NOWHERE,
            },
        };
        less(place(stretch.from), place(stretch.to))
    }

    fn now(&self, e: usize, at: &[f64]) -> Now {
        let d = self.reach(&self.stretches[e], at, 1.0);
        let (t, r) = (at[self.begin().1 + e], length(d));
        let room = (t - r) * (t + r);
        Now { d, t, room }
    }

    /// What is left of each span: L + z - Σ n t.
    fn left(&self, at: &[f64]) -> Vec<f64> {
        let (spans, stretches) = self.begin();
        let mut left = self.spans.clone();
        for (i, left) in left.iter_mut().enumerate() {
            *left += at[spans + i];
            for (stretch, t) in self.stretches.iter().zip(&at[stretches..]) {
                if stretch.span == Some(i) {
                    *left -= stretch.parts * t;
                }
            }
        }
        left
    }

    /// The barrier function; none outside.
    fn barrier(&self, at: &[f64], sharp: f64) -> Option<f64> {
        let mut sum = 0.0;
        // All logarithms in one, before it gets too small or great.
        let mut product = 1.0f64;
        let mut inside = |n: f64| {
            product *= n;
            if !(1e-200..1e200).contains(&product) {
                sum -= product.ln();
                product = 1.0;
            }
            n > 0.0
        };
        let mut cost = 0.0;
        for (e, stretch) in self.stretches.iter().enumerate() {
            let now = self.now(e, at);
            if !(now.t > 0.0 && inside(now.room)) {
                return None;
            }
            if stretch.span.is_none() {
                cost += stretch.parts * now.t;
            }
        }
        for (left, z) in self.left(at).iter().zip(&at[self.begin().0..]) {
            if !(inside(*left) && inside(*z)) {
                return None;
            }
            cost += PRICE * z;
        }
        let sum = sum - product.ln() + sharp * cost;
        sum.is_finite().then_some(sum)
    }

    /// A start inside: blocks amid what holds them, stretches and spans with room to spare.
    fn start(&self) -> Unknowns {
        let (spans, stretches) = self.begin();
        let mut at = vec![0.0; stretches + self.stretches.len()];
        for i in 0..self.blocks {
            let (mut sum, mut count) = (NOWHERE, 0.0);
            for stretch in self.stretches.iter().filter(|s| s.span.is_some()) {
                // The block itself is at nought yet.
                let d = self.reach(stretch, &at, 1.0);
                if stretch.from == Tie::Block(i) {
                    (sum, count) = (plus(sum, -1.0, d), count + 1.0);
                } else if stretch.to == Tie::Block(i) {
                    (sum, count) = (plus(sum, 1.0, d), count + 1.0);
                }
            }
            if count > 0.0 {
                (at[3 * i], at[3 * i + 1]) = (sum.x / count, sum.y / count);
                at[3 * i + 2] = sum.z / count;
            }
        }
        for (e, stretch) in self.stretches.iter().enumerate() {
            at[stretches + e] = length(self.reach(stretch, &at, 1.0)) + 0.3;
        }
        for (i, left) in self.left(&at).iter().enumerate() {
            at[spans + i] = (-left).max(0.0) + 0.3;
        }
        at
    }

    /// Finds where the blocks hang, to a micrometre of rope. None where a number is none.
    pub fn hang(&self) -> Option<Hung> {
        let known = |tie| !matches!(tie, Tie::Block(i) if i >= self.blocks);
        let led = |s: &Stretch| {
            known(s.from) && known(s.to) && s.span.is_none_or(|i| i < self.spans.len())
        };
        if !self.stretches.iter().all(led) {
            return None;
        }
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
                let mut tried = at.clone();
                for (tried, step) in tried.iter_mut().zip(&step) {
                    *tried += share * step;
                }
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
        let mut hung = Hung {
            blocks: Vec::new(),
            rope: 0.0,
            pulls: Vec::new(),
            short: self.spans.clone(),
            steps,
        };
        for block in at[..3 * self.blocks].chunks_exact(3) {
            let (x, y, z) = (block[0], block[1], block[2]);
            hung.blocks.push(Place { x, y, z });
        }
        for left in self.left(&at) {
            hung.pulls.push(1.0 / (sharp * left));
        }
        for stretch in &self.stretches {
            let rope = stretch.parts * length(self.reach(stretch, &at, 1.0));
            match stretch.span {
                None => hung.rope += rope,
                Some(i) => hung.short[i] -= rope,
            }
        }
        for short in &mut hung.short {
            *short = (-*short).max(0.0);
        }
        Some(hung)
    }

    /// Newton's step, and what it gains by its own reckoning.
    fn newton(&self, at: &[f64], sharp: f64) -> (Unknowns, f64) {
        let (blocks, n) = self.begin();
        let mut matrix = vec![0.0; n * n];
        let mut step = vec![0.0; at.len()];
        let left = self.left(at);
        let grad_z = |i: usize| sharp * PRICE - 1.0 / left[i] - 1.0 / at[blocks + i];
        for (i, s) in left.iter().enumerate() {
            let z = at[blocks + i];
            matrix[(blocks + i) * (n + 1)] = -(z * z + s * s);
            step[blocks + i] = -z * z * grad_z(i);
        }
        // Slope along t, with the span's or the sheet's share in it, and curve along it.
        let slope = |stretch: &Stretch, now: &Now| {
            let each = stretch.span.map_or(sharp, |i| 1.0 / left[i]);
            let both = now.t * now.t + dot(now.d, now.d);
            (
                stretch.parts * each - 2.0 * now.t / now.room,
                2.0 * both / (now.room * now.room),
            )
        };
        for (e, stretch) in self.stretches.iter().enumerate() {
            let now = self.now(e, at);
            let (slope, curve) = slope(stretch, &now);
            let Now { d, t, room } = now;
            // Cross term of t and d is `cross` d.
            let cross = -4.0 * t / (room * room);
            let pull = slope / curve;
            let along = -4.0 / (room * (t * t + dot(d, d)));
            let d = [d.x, d.y, d.z];
            let span = stretch.span.map(|i| blocks + i);
            if let Some(row) = span {
                matrix[row * (n + 1)] -= stretch.parts * stretch.parts / curve;
                step[row] += stretch.parts * pull;
            }
            let ties = [(stretch.from, 1.0), (stretch.to, -1.0)];
            for (tie, sign) in ties {
                let Tie::Block(b) = tie else { continue };
                for i in 0..3 {
                    let row = 3 * b + i;
                    step[row] -= sign * d[i] * (2.0 / room - cross * pull);
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
        solve(&mut matrix, &mut step, n);

        let mut gain = 0.0;
        for (e, stretch) in self.stretches.iter().enumerate() {
            let now = self.now(e, at);
            let (slope, curve) = slope(stretch, &now);
            let moved = dot(now.d, self.reach(stretch, &step, 0.0));
            let held = stretch
                .span
                .map_or(0.0, |i| stretch.parts * step[blocks + i]);
            let cross = 4.0 * now.t / (now.room * now.room);
            let grow = -(slope - cross * moved + held) / curve;
            gain -= slope * grow + 2.0 / now.room * moved;
            step[n + e] = grow;
        }
        for i in 0..left.len() {
            let z = at[blocks + i];
            let grow = z * z * (step[blocks + i] - grad_z(i));
            gain -= grad_z(i) * grow;
            step[blocks + i] = grow;
        }
        (step, gain)
    }
}

/// Solves a symmetric quasi-definite system, its lower half given, in place: L D Lᵀ without pivots.
#[cfg(feature = "joined")]
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
