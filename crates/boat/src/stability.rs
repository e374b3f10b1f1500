//! Stability in each loading, with the old rig or the new one.

use crate::inclining::{band, roll_period};
use crate::table::{Node, ends};
use crate::{
    Banded, Curve, DEGREE, Fault, GRAVITY, Inclining, Input, Loading, Righting, Source, Weight,
};

/// The ends of the bands: displacement, then GM or the tested stiffness, one at a time.
const ENDS: [(f64, f64); 5] = [(0.0, 0.0), (-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)];

/// What comes off and goes on, summed up.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Change {
    /// Σ Δm [kg].
    pub(crate) mass: f64,
    /// Σ Δm x [kg m].
    pub(crate) along: f64,
    /// Σ Δm z [kg m].
    pub(crate) up: f64,
    /// Σ Δm z² [kg m²].
    square: f64,
}

impl Change {
    /// The old rig off, the new one on.
    pub(crate) fn of(input: &Input) -> Self {
        let mut sum = Self::default();
        let mut add = |weight: &Weight, mass: f64| {
            sum.mass += mass;
            sum.along += mass * weight.x;
            sum.up += mass * weight.z;
            sum.square += mass * weight.z * weight.z;
        };
        for weight in &input.off {
            add(weight, -weight.mass);
        }
        for weight in &input.on {
            add(weight, weight.mass);
        }
        sum
    }
}

/// Less than this floats no boat [kg].
const LIGHTEST: f64 = 1e-3;

/// A displacement that is one [kg].
pub(crate) fn displacement(input: &Input, which: usize) -> Option<f64> {
    let load = input.loads.get(which).copied().flatten()?;
    (load > LIGHTEST && load < 1e12).then_some(load)
}

/// The loading she sails in.
pub(crate) fn chosen(input: &Input) -> usize {
    if input.loading < 3 { input.loading } else { 1 }
}

/// What stability is taken from, as put in.
#[derive(Debug)]
pub(crate) struct Basis<'a> {
    pub(crate) input: &'a Input,
    pub(crate) test: &'a Result<Inclining, Fault>,
    pub(crate) table: &'a Result<Vec<Node>, Fault>,
}

impl Basis<'_> {
    /// What of the source cannot be used.
    pub(crate) fn faults(&self, faults: &mut Vec<Fault>) {
        let which = chosen(self.input);
        let mut known = displacement(self.input, 1).is_some();
        match (self.input.source, self.test, self.table) {
            (Source::Test, Err(fault), _) | (Source::Table, _, Err(fault)) => faults.push(*fault),
            (Source::Test, Ok(test), _) => {
                if !test.both_sides {
                    faults.push(Fault::OneSided);
                }
                if test.scatter.is_none() {
                    faults.push(Fault::FewReadings);
                }
                known |= which == 1;
            }
            _ => {}
        }
        if !known || (which != 1 && displacement(self.input, which).is_none()) {
            faults.push(Fault::Displacement);
        }
    }

    /// What rights her at one end of the bands.
    fn righting(&self, which: usize, end: usize, change: &Change) -> Option<Righting> {
        let (input, hull) = (self.input, &self.input.hull);
        let (heavier, stiffer) = *ENDS.get(end)?;
        let weigh = share(heavier * input.bands.displacement);
        let (sailing, load) = match (displacement(input, 1), displacement(input, which)) {
            (Some(sailing), Some(load)) => (sailing * weigh, load * weigh),
            // A test needs no displacement.
            (None, None) if which == 1 && input.source == Source::Test => (0.0, 0.0),
            _ => return None,
        };
        let mut found = Righting {
            form: hull.water * GRAVITY * hull.second_moment(),
            ..Righting::default()
        };
        let stiffness = match input.source {
            Source::Form => {
                let height = hull.metacentre(sailing).height;
                sailing * GRAVITY * height * share(stiffer * input.bands.height)
            }
            Source::Test => {
                let test = self.test.as_ref().ok()?;
                test.stiffness * share(stiffer * band(test, input.readings.len()))
            }
            Source::Table => {
                found.lever = sailing * GRAVITY;
                found.form = 0.0;
                found.lever * ends(self.table.as_ref().ok()?).0
            }
        };
        let gone = GRAVITY * ((load - sailing) * input.stores_height + change.up);
        found.stiffness = stiffness - gone;
        found.sine = if found.lever > 0.0 {
            -gone
        } else {
            found.stiffness
        };
        if load > 0.0 {
            found.displacement = load + change.mass;
        }
        Some(found)
    }

    /// One loading with a change of weights; its righting moments are left in the curve. The product m g GM is carried through:
    ///
    /// - form: m g GM with KB, BM, KG for the displacement; a heavier boat of the same form has less BM and
    ///   more to be righted by, so displacement and GM do not err apart;
    /// - test: as fitted, no displacement in it;
    /// - table: m g times the slope of GZ upright.
    ///
    /// What comes aboard at a height z above the waterline changes it by -Δm g z, to first order for
    /// upright sides: what she sinks deeper adds its buoyancy at the waterline itself. m g BM = ρ g I stays.
    pub(crate) fn loading(
        &self,
        which: usize,
        change: &Change,
        curve: &mut Curve,
    ) -> Option<Loading> {
        let (input, hull) = (self.input, &self.input.hull);
        for (end, righting) in curve.rightings.iter_mut().enumerate() {
            *righting = self.righting(which, end, change)?;
        }
        let [r, ..] = curve.rightings;
        // Without a displacement only the rig comes and goes.
        let mass = r.displacement;
        let sailing = displacement(input, 1);
        let added = sailing.map_or(change.mass, |sailing| mass - sailing);
        let sinkage = added / (hull.water * hull.waterplane_area());
        if curve.table.is_empty() {
            curve.limit = hull.wall_sided_to(sinkage);
        }
        let curve = &*curve;
        let figure = |of: &dyn Fn(&Righting) -> f64| {
            Banded::of(&mut |end| curve.rightings.get(end).map_or(0.0, of))
        };
        let stiffness = figure(&|r| r.stiffness);
        let (greatest, estimated) = curve.greatest(input.greatest_factor);
        let mut loading = Loading {
            displacement: None,
            draught: hull.canoe_draught + sinkage,
            stiffness,
            height: None,
            buoyancy: None,
            radius: None,
            gravity: None,
            moments: [None; 4],
            greatest,
            estimated,
            limit: curve.limit,
            vanishing: curve.nought(1.0),
            loll: 0.0,
            period: None,
        };
        // At one degree, then in tens.
        let mut degrees = 1.0;
        for moment in &mut loading.moments {
            *moment = curve.moment(degrees * DEGREE);
            degrees = if degrees < 10.0 { 10.0 } else { degrees + 10.0 };
        }
        if stiffness.value < 0.0 {
            loading.loll = curve.nought(-1.0).unwrap_or(curve.limit);
        }
        let mut real = stiffness.is_finite() && greatest.is_finite() && curve.crew.is_finite();
        if let Some(sailing) = sailing {
            let height = figure(&|r| r.stiffness / (r.displacement * GRAVITY));
            // What she sinks deeper is a slab at the waterline.
            let slab = added * (hull.canoe_draught + 0.5 * sinkage);
            let buoyancy = (sailing * hull.metacentre(sailing).buoyancy + slab) / mass;
            let radius = hull.water * hull.second_moment() / mass;
            let gravity = buoyancy + radius - height.value;
            // Spars aloft change how she rolls: I = m k² + Σ Δm (z - z_G)².
            let above = gravity - loading.draught;
            let spars = change.square + above * (above * change.mass - 2.0 * change.up);
            let square = input.roll.gyration * input.roll.gyration;
            let inertia = (mass - change.mass) * square + spars;
            loading.displacement = Some(mass);
            loading.height = Some(height);
            loading.buoyancy = Some(buoyancy);
            loading.radius = Some(radius);
            loading.gravity = Some(gravity);
            loading.period = roll_period((inertia / mass).sqrt(), height.value);
            real &= mass > LIGHTEST && height.is_finite() && gravity.is_finite();
        }
        real.then_some(loading)
    }
}

/// 1 and a band's end; never nought, however wide the band.
fn share(off: f64) -> f64 {
    if off > -0.95 { 1.0 + off } else { 0.05 }
}
