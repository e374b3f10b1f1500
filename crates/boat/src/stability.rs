//! Stability in each loading, with the old rig or the new one.

use crate::inclining::{band, roll_period};
use crate::righting::Balance;
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
        let mut add = |fault: Fault, there: bool| {
            if there {
                faults.push(fault);
            }
        };
        let source = self.input.source;
        match self.test {
            Err(fault) => add(*fault, source == Source::Test),
            Ok(test) => {
                add(Fault::OneSided, source == Source::Test && !test.both_sides);
                let few = test.scatter.is_none();
                add(Fault::FewReadings, source == Source::Test && few);
            }
        }
        if let Err(fault) = self.table {
            add(*fault, source == Source::Table);
        }
        let chosen = chosen(self.input);
        let unknown = [1, chosen].map(|which| displacement(self.input, which).is_none());
        add(
            Fault::Displacement,
            (source != Source::Test || chosen != 1) && unknown != [false; 2],
        );
    }

    /// What rights her at one end of the bands, and the difference of the stores [kg].
    fn righting(&self, which: usize, end: usize, change: &Change) -> Option<(Righting, f64)> {
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
        let stores = load - sailing;
        let gone = GRAVITY * (stores * input.stores_height + change.up);
        found.stiffness = stiffness - gone;
        found.sine = if found.lever > 0.0 {
            -gone
        } else {
            found.stiffness
        };
        if load > 0.0 {
            found.displacement = load + change.mass;
        }
        Some((found, stores))
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
        let mut rightings = [Righting::default(); 5];
        let mut stores = 0.0;
        for (end, righting) in rightings.iter_mut().enumerate().rev() {
            (*righting, stores) = self.righting(which, end, change)?;
        }
        let [r, ..] = rightings;
        let sinkage = (stores + change.mass) / (hull.water * hull.waterplane_area());
        let mut curve = Curve {
            rightings,
            limit: hull.wall_sided_to(sinkage),
            crew: input.crew.to_weather * input.crew.mass * input.crew.arm * GRAVITY,
            balances: [Balance::default(); 5],
            table: Vec::new(),
        };
        if let (Source::Table, Ok(table)) = (input.source, self.table) {
            curve.limit = ends(table).1;
            curve.table = table.clone();
        }

        let figure = |of: &dyn Fn(&Righting) -> f64| {
            Banded::of(&mut |end| rightings.get(end).map_or(0.0, of))
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
        for (moment, degrees) in loading.moments.iter_mut().zip([1.0, 10.0, 20.0, 30.0]) {
            *moment = curve.moment(degrees * DEGREE);
        }
        if stiffness.value < 0.0 {
            loading.loll = curve.nought(-1.0).unwrap_or(curve.limit);
        }
        let mut real = stiffness.is_finite() && greatest.is_finite() && curve.crew.is_finite();
        if r.displacement != 0.0 {
            let mass = r.displacement;
            let height = figure(&|r| r.stiffness / (r.displacement * GRAVITY));
            // What she sinks deeper is a slab at the waterline.
            let added = stores + change.mass;
            let slab = added * (hull.canoe_draught + 0.5 * sinkage);
            let sailing = mass - added;
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
        real.then_some((loading, curve))
    }
}

/// 1 and a band's end; never nought, however wide the band.
fn share(off: f64) -> f64 {
    if off > -0.95 { 1.0 + off } else { 0.05 }
}
