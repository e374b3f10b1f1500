//! A beam of any taper on two supports, overhanging either or both of them, bent by forces across and thrust along.

/// Rounds of the search for the shape that thrust gives; each gains a factor of the critical load over the thrust, so a
/// thrust above seven tenths of the critical counts as too much.
const ROUNDS: usize = 48;

/// Most stations between two knots.
const MOST: f64 = 256.0;

/// A beam as stations along it. A step in stiffness is two stations at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Beam {
    /// Places along it, never falling [m].
    pub at: Vec<f64>,
    /// Stiffness in bending at each, E I [N m²], positive.
    pub bending: Vec<f64>,
    /// Stations that are held from going across, the lesser first. The first takes the thrust too.
    pub supports: [usize; 2],
}

/// A beam under load.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bent {
    /// Shear between each station and the next [N]: sum of all that acts beyond.
    pub shear: Vec<f64>,
    /// Moment at each station [N m]; bends towards the forces beyond it.
    pub moment: Vec<f64>,
    /// Slope at each [rad].
    pub slope: Vec<f64>,
    /// Deflection at each [m], the way the forces count.
    pub deflection: Vec<f64>,
    /// What the supports put on the beam [N].
    pub reactions: [f64; 2],
    /// Greatest moment without thrust [N m].
    pub before: f64,
    /// False where the thrust is more than it can stand: the rest is then without thrust.
    pub stands: bool,
}

/// Places for stations: every knot twice (just below it and just above), and between them so many that none are further
/// apart than `spacing`. Knots in any order; what lies out of 0 to `length` is left out.
pub fn stations(length: f64, knots: &[f64], spacing: f64) -> Vec<f64> {
    let mut at = vec![0.0];
    let mut last = 0.0;
    // Each round goes on to the next knot; one more to the end.
    for _ in 0..=knots.len() {
        let next = knots.iter().fold(length, |next, k| {
            if *k > last + 1e-6 && *k < next {
                *k
            } else {
                next
            }
        });
        let parts = ((next - last) / spacing).ceil().max(1.0).min(MOST);
        let mut i = 1.0;
        while i < parts {
            at.push(last + (next - last) * i / parts);
            i += 1.0;
        }
        at.push(next);
        if next >= length {
            break;
        }
        at.push(next);
        last = next;
    }
    at
}

/// Puts a force on the two stations next to its place, by the lever; beyond an end as a pair that draws the same. Shear
/// and moment are exact at every station.
pub fn put(at: &[f64], loads: &mut [f64], place: f64, force: f64) {
    let mut i = 0;
    for j in 0..at.len().saturating_sub(1) {
        if at[j + 1] > at[j] {
            i = j;
            if place <= at[j + 1] {
                break;
            }
        }
    }
    if let (Some(a), Some(b)) = (at.get(i), at.get(i + 1)) {
        let share = if b > a { (place - a) / (b - a) } else { 0.0 };
        loads[i] += force * (1.0 - share);
        loads[i + 1] += force * share;
    }
}

/// Puts a load along the beam on its stations, `each` [N/m] at them and straight between, times `factor`.
pub fn spread(at: &[f64], loads: &mut [f64], each: &dyn Fn(usize) -> f64, factor: f64) {
    for i in 0..at.len().saturating_sub(1) {
        let h = factor * (at[i + 1] - at[i]) / 6.0;
        if h != 0.0 {
            let (a, b) = (each(i), each(i + 1));
            loads[i] += h * (2.0 * a + b);
            loads[i + 1] += h * (a + 2.0 * b);
        }
    }
}

/// The larger, without a call.
pub(crate) fn larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

impl Beam {
    /// The station at or next above a place.
    pub fn station(&self, place: f64) -> usize {
        let mut i = 0;
        while i + 1 < self.at.len() && self.at[i] < place - 1e-9 {
            i += 1;
        }
        i
    }

    /// Bends it by forces across it at its stations and thrusts along it towards its foot.
    ///
    /// Reactions by statics; shear and moment summed from the far end; slope and deflection from M / (E I), straight
    /// between stations. A thrust p at a place that has gone out by y adds p (y - y at x) to the moment at x below it; round after
    /// round until the shape stays. It stands while the rounds draw together.
    pub fn bend(&self, loads: &[f64], thrust: &[f64]) -> Bent {
        let n = self.at.len();
        let mut bent = Bent {
            shear: vec![0.0; n],
            moment: vec![0.0; n],
            slope: vec![0.0; n],
            deflection: vec![0.0; n],
            reactions: [0.0; 2],
            before: 0.0,
            stands: true,
        };
        if n < 2 || loads.len() != n || self.bending.len() != n {
            return bent;
        }
        self.round(loads, &[], &[], &mut bent);
        for m in &bent.moment {
            bent.before = larger(bent.before, m.abs());
        }
        let mut along = 0.0;
        for p in thrust {
            along += p.abs();
        }
        if thrust.len() != n || along == 0.0 {
            return bent;
        }
        let mut shape = bent.deflection.clone();
        let mut step = f64::INFINITY;
        for _ in 0..ROUNDS {
            self.round(loads, thrust, &shape, &mut bent);
            let (mut most, mut change) = (0.0, 0.0);
            for (a, b) in shape.iter_mut().zip(&bent.deflection) {
                let by = *b - *a;
                most = larger(most, b.abs());
                change = larger(change, by.abs());
                *a = *b;
            }
            if change <= 1e-4 * most {
                return bent;
            }
            // Rounds that do not draw together: the thrust is critical.
            if change >= 0.98 * step {
                break;
            }
            step = change;
        }
        self.round(loads, &[], &[], &mut bent);
        bent.stands = false;
        bent
    }

    /// One round, thrust on the shape found before.
    fn round(&self, loads: &[f64], thrust: &[f64], shape: &[f64], bent: &mut Bent) {
        // Slices: indexing a Vec is a call where the code is made for size.
        let (at, bending): (&[f64], &[f64]) = (&self.at, &self.bending);
        let [i, j] = self.supports;
        let n = at.len();
        let (shear, moment) = (&mut bent.shear[..n], &mut bent.moment[..n]);
        let (slope, deflection) = (&mut bent.slope[..n], &mut bent.deflection[..n]);
        let (loads, bending) = (&loads[..n], &bending[..n]);
        let foot = at[i];
        let (mut sum, mut turn, mut along) = (0.0, 0.0, 0.0);
        for k in 0..n {
            sum += loads[k];
            turn += loads[k] * (at[k] - foot);
        }
        for (p, y) in thrust.iter().zip(shape) {
            turn += p * y;
            along += p;
        }
        let far = -turn / (at[j] - foot);
        bent.reactions = [-sum - far, far];
        // From the far end: force, moment, thrust, and thrust times its way out.
        let (mut force, mut turned, mut push, mut out) = (0.0, 0.0, 0.0, 0.0);
        let mut above = at[n - 1];
        for k in (0..n).rev() {
            turned += force * (above - at[k]);
            above = at[k];
            shear[k] = force;
            moment[k] = turned;
            force += loads[k];
            if !thrust.is_empty() {
                let y = shape[k];
                moment[k] += out - push * y;
                push += thrust[k];
                out += thrust[k] * y;
            }
            if k == i {
                force -= sum + far;
                push -= along;
            }
            if k == j {
                force += far;
            }
        }
        let (mut tilt, mut y) = (0.0, 0.0);
        let mut curve = moment[0] / bending[0];
        for k in 0..n {
            slope[k] = tilt;
            deflection[k] = y;
            if k + 1 < n {
                let h = at[k + 1] - at[k];
                let next = moment[k + 1] / bending[k + 1];
                y += h * (tilt + h * (2.0 * curve + next) / 6.0);
                tilt += 0.5 * h * (curve + next);
                curve = next;
            }
        }
        // Turned and shifted so that it lies on its supports.
        let (low, high) = (deflection[i], deflection[j]);
        let tilt = (high - low) / (at[j] - foot);
        for k in 0..n {
            slope[k] -= tilt;
            deflection[k] -= low + tilt * (at[k] - foot);
        }
    }

    /// Its first two natural frequencies [Hz] with their shapes, the greatest of each 1; `mass` at its stations [kg].
    ///
    /// Inverse iteration (Stodola): the shape that its own inertia bends it to; the second kept square to the first.
    pub fn frequencies(&self, mass: &[f64]) -> [(f64, Vec<f64>); 2] {
        let n = self.at.len();
        let mut found = [(0.0, vec![0.0; n]), (0.0, vec![0.0; n])];
        if mass.len() != n || n < 3 || mass.iter().all(|m| *m <= 0.0) {
            return found;
        }
        let dot = |a: &[f64], b: &[f64]| {
            let mut sum = 0.0;
            for k in 0..n {
                sum += mass[k] * a[k] * b[k];
            }
            sum
        };
        for mode in 0..2 {
            let length = self.at[n - 1];
            let mut shape: Vec<f64> = (self.at.iter())
                .map(|x| {
                    let s = x / length;
                    if mode == 0 { s * s } else { s * s * (s - 0.7) }
                })
                .collect();
            let mut frequency = 0.0;
            for _ in 0..60 {
                if mode == 1 {
                    let first = &found[0].1;
                    let share = dot(&shape, first) / dot(first, first);
                    for (a, b) in shape.iter_mut().zip(first) {
                        *a -= share * b;
                    }
                }
                let most = shape.iter().fold(0.0f64, |m, s| m.max(s.abs()));
                let mut loads = vec![0.0; n];
                for k in 0..n {
                    shape[k] /= most;
                    loads[k] = mass[k] * shape[k];
                }
                let next = self.bend(&loads, &[]).deflection;
                let square = dot(&shape, &next) / dot(&next, &next);
                let new = square.abs().sqrt() / (2.0 * core::f64::consts::PI);
                shape = next;
                if !new.is_finite() {
                    return found;
                }
                let change = (new - frequency).abs();
                frequency = new;
                if change <= 1e-9 * frequency {
                    break;
                }
            }
            let most = shape.iter().fold(0.0f64, |m, s| m.max(s.abs()));
            for s in &mut shape {
                *s /= most;
            }
            found[mode] = (frequency, shape);
        }
        found
    }
}
