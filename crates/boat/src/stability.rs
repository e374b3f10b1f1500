//! Stability in each loading, with the old rig or the new one.

use crate::inclining::{band, roll_period};
use crate::righting::Peak;
use crate::table::{Node, ends};
use crate::{Banded, Curve, Fault, GRAVITY, Inclining, Input, Loading, Righting, Source, Weight};

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
        match (self.input.source, self.test, self.table) {
            (Source::Test, Err(fault), _) | (Source::Table, _, Err(fault)) => faults.push(*fault),
            (Source::Test, Ok(test), _) => {
                if !test.both_sides {
                    faults.push(Fault::OneSided);
                }
                if test.scatter.is_none() {
                    faults.push(Fault::FewReadings);
                }
            }
            _ => {}
        }
        if self.input.source != Source::Test && displacement(self.input, 1).is_none() {
            faults.push(Fault::Displacement);
        }
    }

    /// One loading with a change of weights: figures and curve. The product m g GM is carried through:
    ///
    /// - form: m g GM with KB, BM, KG for the displacement; a heavier boat of the same form has less BM and
    ///   more to be righted by, so displacement and GM do not err apart;
    /// - test: as fitted, no displacement in it;
    /// - table: m g times the slope of GZ upright.
    ///
    /// What comes aboard at a height z above the waterline changes it by -Δm g z, to first order for
    /// upright sides: what she sinks deeper adds its buoyancy at the waterline itself. m g BM = ρ g I stays.
    pub(crate) fn loading(&self, which: usize, change: &Change) -> Option<(Loading, Curve)> {
        let (input, hull) = (self.input, &self.input.hull);
        let sailing = displacement(input, 1);
        let load = displacement(input, which);
        let stores = match (load, sailing) {
            (Some(load), Some(sailing)) => load - sailing,
            // A test needs no displacement.
            (None, None) if which == 1 && input.source == Source::Test => 0.0,
            _ => return None,
        };
        let mut rightings = [Righting::default(); 5];
        let mut heights = [0.0; 5];
        let mut table = &Vec::new();
        for ((righting, height), (heavier, stiffer)) in
            rightings.iter_mut().zip(&mut heights).zip(ENDS)
        {
            let weigh = share(heavier * input.bands.displacement);
            let sailing = sailing.unwrap_or(0.0) * weigh;
            righting.form = hull.water * GRAVITY * hull.second_moment();
            righting.stiffness = match input.source {
                Source::Form => {
                    let height = hull.metacentre(sailing).height;
                    sailing * GRAVITY * height * share(stiffer * input.bands.height)
                }
                Source::Test => {
                    let test = self.test.as_ref().ok()?;
                    test.stiffness * share(stiffer * band(test, input.readings.len()))
                }
                Source::Table => {
                    table = self.table.as_ref().ok()?;
                    righting.lever = sailing * GRAVITY;
                    righting.form = 0.0;
                    righting.lever * ends(table).0
                }
            };
            let gone = GRAVITY * (stores * weigh * input.stores_height + change.up);
            let own = righting.stiffness;
            righting.stiffness -= gone;
            righting.sine = righting.stiffness;
            if righting.lever > 0.0 {
                righting.sine -= own;
            }
            let mass = load.unwrap_or(0.0) * weigh + change.mass;
            *height = righting.stiffness / (mass * GRAVITY);
        }

        let mass = load.map(|load| load + change.mass);
        let sinkage = (stores + change.mass) / (hull.water * hull.waterplane_area());
        let draught = hull.canoe_draught + sinkage;
        let mut curve = Curve {
            rightings,
            limit: hull.wall_sided_to(sinkage),
            crew: input.crew.to_weather * input.crew.mass * input.crew.arm * GRAVITY,
            exponent: input.conditions.exponent,
            crests: [Peak::default(); 5],
            table: table.clone(),
        };
        if input.source == Source::Table {
            curve.limit = ends(table).1;
        }

        let stiffness = Banded::of(rightings.map(|r| r.stiffness));
        let real = stiffness.most.is_finite()
            && stiffness.least.is_finite()
            && mass.is_none_or(|mass| mass > LIGHTEST);
        if !real {
            return None;
        }
        let height = mass.map(|_| Banded::of(heights));
        let (mut buoyancy, mut radius, mut gravity) = (None, None, None);
        let mut gyration = input.roll.gyration * input.roll.gyration;
        if let (Some(mass), Some(sailing), Some(height)) = (mass, sailing, height) {
            // What she sinks deeper is a slab at the waterline.
            let slab = (mass - sailing) * (hull.canoe_draught + 0.5 * sinkage);
            let centre = (sailing * hull.metacentre(sailing).buoyancy + slab) / mass;
            let metacentric = hull.water * hull.second_moment() / mass;
            let weight = centre + metacentric - height.value;
            (buoyancy, radius, gravity) = (Some(centre), Some(metacentric), Some(weight));
            // Spars aloft change how she rolls: I = m k² + Σ Δm (z - z_G)².
            let above = weight - draught;
            let spars = change.square - 2.0 * above * change.up + above * above * change.mass;
            gyration = ((mass - change.mass) * gyration + spars) / mass;
        }
        let (greatest, estimated) = curve.greatest(input.greatest_factor);
        let degrees = core::f64::consts::PI / 180.0;
        let loading = Loading {
            displacement: mass,
            draught,
            stiffness,
            height,
            buoyancy,
            radius,
            gravity,
            moments: [1.0, 10.0, 20.0, 30.0].map(|heel| curve.moment(heel * degrees)),
            greatest,
            estimated,
            limit: curve.limit,
            vanishing: curve.vanishing(),
            loll: curve.loll(),
            period: height.and_then(|height| roll_period(gyration.sqrt(), height.value)),
        };
        Some((loading, curve))
    }
}

/// 1 and a band's end; never nought, however wide the band.
fn share(off: f64) -> f64 {
    if off > -0.95 { 1.0 + off } else { 0.05 }
}
