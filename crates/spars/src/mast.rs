//! The mast: a beam on partners and step, under every load case at every reef, and whether it bears them.
//!
//! Heights are along the mast from the partners, down negative. Across it there are two ways: to leeward, and aft.

use crate::GRAVITY;
use crate::beam::{Beam, Bent, larger, put, spread, stations};
use crate::blow::{Blow, Factor, pressure};
use crate::materials::{Factors, Material};
use crate::sections::{Fault, Pole, Section, Weight};
use crate::stress::{left, most, ratios, sections, size};

/// Everything the proof of a mast needs.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MastInput {
    /// The mast from its heel.
    pub pole: Pole,
    /// Heel to partners [m].
    pub bury: f64,
    /// Rake, head aft positive [rad].
    pub rake: f64,
    /// Full hoist first, all down last.
    pub states: Vec<MastState>,
    /// The sail lowered and lashed, for the storm.
    pub bundle: Bundle,
    /// Masthead fittings [kg].
    pub head: f64,
    /// Halyard and lifts come down from the masthead so far off the axis [m], to the side that is worse.
    pub fitting: f64,
    /// Greatest righting moment of the boat [N m].
    pub righting: f64,
    /// Places weaker than the mast around them.
    pub weak: Vec<Weak>,
    /// Partners.
    pub wedges: Wedges,
    /// Rule, factors, winds.
    pub rules: MastRules,
}

/// A reef state as far as the mast feels it.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MastState {
    /// Where hoisted spars lie on the mast, and the share of the sail's force each brings. [`shares`] has them from areas.
    pub holds: Vec<(f64, f64)>,
    /// Area standing [m²].
    pub area: f64,
    /// Wind it is carried up to on the wind, late reefing within, apparent at the sail [m/s]; none where no advice is: the most.
    pub wind_on: Option<f64>,
    /// The same running.
    pub wind_off: Option<f64>,
    /// Share of the boat's heeling moment this mast has with all sails standing (1 with one mast).
    pub share: f64,
    /// Rule B: share of the side force that the mast takes, the rest going by the sheet.
    pub mast_share: f64,
    /// Rule B: centre of effort over the centre of lateral resistance [m].
    pub lever: f64,
    /// Weight that stands, on the halyard [N].
    pub standing: f64,
    /// Its centre abaft the mast axis along the sail [m].
    pub arm: f64,
    /// Sling, and the lowest hold of what keeps the sail from swinging [m].
    pub sling: (f64, f64),
    /// Thrust of the halyard's parts at the masthead [N].
    pub halyard: f64,
    /// Weight of boom and bundle on the lifts [N].
    pub lying: f64,
    /// Thrust of the lifts at the masthead [N].
    pub lifts: f64,
    /// Blow at the leech when a gybe ends, all parts of the sheet together [N], and the pressure of the wind she is carried up to running,
    /// its coefficient within but no factor [Pa]; else the gybe factor serves.
    pub gybe: Option<(f64, f64)>,
}

/// The sail lowered.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Bundle {
    /// Weight with the boom, wet [N].
    pub weight: f64,
    /// Its height on the mast [m].
    pub height: f64,
    /// Its side [m²].
    pub area: f64,
}

/// A place weaker than the mast around it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Weak {
    /// Above the partners [m]; of a batten, yard or boom from its luff end.
    pub height: f64,
    /// What it is.
    pub what: Weakness,
}

/// What makes a place weak.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Weakness {
    /// A weld; share of the strength left (0.7).
    Weld(f64),
    /// A hole right through, diameter [m]: net section with its strips gone where they bear most.
    Hole(f64),
    /// The edge of a tabernacle; share of the strength left.
    Tabernacle(f64),
    /// A joint or scarf; share of the strength left.
    Joint(f64),
}

/// The mast in its partners.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Wedges {
    /// Height that bears [m] (0.10).
    pub height: f64,
    /// Thickness [m] (0.02).
    pub thickness: f64,
}

/// How the moment on the wind is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Rule {
    /// Moment at the partners = dynamic factor x greatest righting moment; nothing off for the sheet.
    A,
    /// Full statics: force = righting moment / lever, the mast's share of it, at its height over the partners, times a
    /// larger factor.
    B,
}

/// Rule, factors and winds. Usual values in brackets are common practice.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MastRules {
    /// A by default.
    pub rule: Rule,
    /// Dynamic factor on the righting moment, and on weights at heel (1.3).
    pub dynamic: f64,
    /// Factor of rule B in its place (2.0).
    pub statics: f64,
    /// The wind for strength.
    pub blow: Blow,
    /// Where no blow at the leech is known: a gybe over the force squared off (1.5).
    pub gybe: f64,
    /// Storm on the bare pole, its gusts within [m/s] (64 kn).
    pub storm: f64,
    /// Drag coefficient of mast and bundle (1.1, 1.0).
    pub drag: (f64, f64),
    /// Heel on the wind and in the storm [rad] (30°).
    pub heel: f64,
    /// On the strength of the material.
    pub factors: Factors,
}

/// A load case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Case {
    /// (a) On the wind.
    CloseHauled,
    /// (b) Squared off; never capped by the righting moment.
    SquaredOff,
    /// (c) Accidental gybe: half the blow at the leech in the wind she is carried up to running. An accident is not held together with
    /// a gust and a late reef as well (EN 1990, accidental situations, takes what else acts at its frequent value; from memory).
    Gybe,
    /// (d) Bare pole with the bundle lashed, in a storm.
    Storm,
    /// (e) Own weight and the sail's at heel, thrust of halyard and lifts.
    Weight,
}

/// The proof of a mast.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MastAccount {
    /// Its own mass, fittings left out, from the heel.
    pub weight: Weight,
    /// Every case at every state where it arises.
    pub cases: Vec<CaseAccount>,
    /// The envelope of all cases, heel to top; two rows where something changes at a step.
    pub rows: Vec<Row>,
    /// Greatest ratio of stress to what is allowed, weak places within.
    pub ratio: f64,
    /// Where [m above the partners].
    pub at: f64,
    /// Number of the case that sets it.
    pub governs: usize,
    /// Each weak place as given.
    pub weak: Vec<WeakAccount>,
    /// Greatest force of the mast on the partners, to leeward and aft [N], and its case.
    pub partners: ([f64; 2], usize),
    /// Greatest force of the heel on its step, to leeward and aft [N], and its case.
    pub step: ([f64; 2], usize),
    /// Greatest thrust on the step [N].
    pub thrust: f64,
    /// Pull that lifts the heel out, hull upside down: the mast's own weight [N].
    pub uplift: f64,
    /// Mean pressure under the wedges [Pa]: force over diameter times height.
    pub bearing: f64,
    /// What the wall bears under the wedges, by its factor [Pa]; nought where no table tells.
    pub bearing_allowed: f64,
    /// Stress round the wall of a tube between the wedges [Pa]; none of what is solid.
    pub wall: Option<f64>,
    /// Hole in the deck [m]: diameter at the partners and wedges either side.
    pub hole: f64,
    /// Greatest bend at the top as a share of its height over the partners, sailing: gybe and storm left out.
    pub bend: f64,
    /// First two natural frequencies, standing bare [Hz].
    pub frequencies: [f64; 2],
    /// Winds at which it may shake, least and most for each [m/s].
    pub shake: [(f64, f64); 2],
    /// What could not be used; with any the rest is empty.
    pub faults: Vec<Fault>,
}

/// A case at a state. Forces and moments are to leeward and aft.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct CaseAccount {
    /// Which.
    pub case: Case,
    /// Number of the state.
    pub state: usize,
    /// Every factor in it; of the material that at the partners.
    pub factors: Vec<(Factor, f64)>,
    /// All of them multiplied.
    pub product: f64,
    /// Moment at the partners by the sail's force, or the storm's [N m].
    pub wind: f64,
    /// On the wind: whether the wind and not the righting moment sets it.
    pub by_wind: bool,
    /// Moment at the partners, everything within [N m].
    pub moment: [f64; 2],
    /// Force of the mast on the partners [N].
    pub partners: [f64; 2],
    /// Force of the heel on its step [N].
    pub step: [f64; 2],
    /// Thrust on the step [N].
    pub thrust: f64,
    /// Deflection of the top [m].
    pub top: [f64; 2],
    /// Greatest stress over what is allowed.
    pub ratio: f64,
    /// Where [m above the partners].
    pub at: f64,
    /// Greatest moment over the same without thrust.
    pub magnified: f64,
    /// False where the thrust is more than the mast can stand up under.
    pub stands: bool,
}

impl MastAccount {
    /// Pressure under the wedges or stress of the wall between them, the greater, over what is allowed; nought where no table tells.
    pub fn wedged(&self) -> f64 {
        if self.bearing_allowed > 0.0 {
            self.wall.unwrap_or(0.0).max(self.bearing) / self.bearing_allowed
        } else {
            0.0
        }
    }
}

impl CaseAccount {
    /// Deflection of the top where the case counts for the mast's bend, else nought [m].
    pub(crate) fn bend(&self) -> f64 {
        match self.case {
            Case::Gybe | Case::Storm => 0.0,
            _ => size(self.top[0], self.top[1]),
        }
    }
}

/// The mast at a station: the envelope, or one case.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Row {
    /// Above the partners [m].
    pub height: f64,
    /// Outside diameter [m].
    pub diameter: f64,
    /// Shear force [N].
    pub shear: f64,
    /// Moment [N m].
    pub moment: f64,
    /// Slope [rad].
    pub slope: f64,
    /// Deflection [m].
    pub deflection: f64,
    /// Stress over what is allowed: bending and thrust together, or shear.
    pub ratio: f64,
    /// Number of the case that sets the ratio.
    pub governs: usize,
}

/// A weak place.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct WeakAccount {
    /// Above the partners [m].
    pub height: f64,
    /// Share of the moment left.
    pub left: f64,
    /// Stress over what is allowed there.
    pub ratio: f64,
    /// Number of the case.
    pub governs: usize,
}

/// Most states and most holds in one.
pub const MOST_STATES: usize = 16;
/// Most weak places.
pub const MOST_WEAK: usize = 16;

/// Strouhal's number of a round cylinder across the wind, 0.2 below the critical Reynolds number (textbook; EN 1991-1-4
/// annex E has 0.18, from memory): V = f D / St.
const STROUHAL: f64 = 0.2;

/// Share of the blow at the leech that comes on the mast as well: a rod that swings about one end and is struck at
/// the other is thrown back by (m L (L/2) / I) - 1 = 1/2 of the blow (derived).
const THROWN: f64 = 0.5;

/// Stations no further apart than this share of the mast's length.
const FINENESS: f64 = 1.0 / 96.0;

impl MastInput {
    /// What keeps the mast from being proved.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        if let Err(fault) = self.pole.check() {
            faults.push(fault);
        } else if !(self.bury > 0.05 && self.bury < self.pole.length() - 0.1) {
            faults.push(Fault::Bury);
        }
        let holds = |s: &MastState| s.holds.len() <= MOST_STATES;
        if self.states.is_empty()
            || self.states.len() > MOST_STATES
            || self.weak.len() > MOST_WEAK
            || !self.states.iter().all(holds)
        {
            faults.push(Fault::States);
        } else if !self.measured() {
            faults.push(Fault::Number);
        }
        let r = &self.rules;
        let least = [r.dynamic, r.statics, r.gybe];
        if !(r.factors.is_real() && least.iter().all(|n| *n >= 1.0)) {
            faults.push(Fault::Factor);
        }
        faults
    }

    /// Whether all numbers are numbers within measure.
    fn measured(&self) -> bool {
        let r = &self.rules;
        let mut sum = 0.0;
        let mut least = f64::INFINITY;
        let mut all = |list: &[f64]| {
            for n in list {
                sum += n.abs();
            }
        };
        all(&[self.bury, self.rake, self.head, self.fitting, self.righting]);
        all(&[self.bundle.weight, self.bundle.height, self.bundle.area]);
        all(&[self.wedges.height, self.wedges.thickness]);
        all(&[r.dynamic, r.statics, r.gybe, r.storm]);
        all(&[r.drag.0, r.drag.1, r.heel]);
        for s in &self.states {
            all(&[s.area, s.wind_on.unwrap_or(0.0), s.wind_off.unwrap_or(0.0)]);
            all(&[s.share, s.mast_share, s.lever, s.standing, s.arm]);
            all(&[s.sling.0, s.sling.1, s.halyard, s.lying, s.lifts]);
            let (blow, pressure) = s.gybe.unwrap_or_default();
            all(&[blow, pressure]);
            for (height, share) in &s.holds {
                all(&[*height, *share]);
                least = least.min(*share);
            }
            least = least.min(s.area).min(s.share).min(s.mast_share);
            least = least.min(s.standing).min(s.halyard).min(s.lying);
            least = least.min(s.lifts);
        }
        for w in &self.weak {
            let (Weakness::Weld(n)
            | Weakness::Hole(n)
            | Weakness::Tabernacle(n)
            | Weakness::Joint(n)) = w.what;
            all(&[w.height, n]);
            least = least.min(n);
        }
        least = least.min(self.righting).min(self.head).min(r.storm);
        least = least.min(self.bundle.weight).min(self.bundle.area);
        least = least.min(r.drag.0).min(r.drag.1).min(self.wedges.thickness);
        sum < 1e8
            && least >= 0.0
            && self.wedges.height > 1e-3
            && r.blow.is_real()
            && r.storm < 200.0
            && r.heel.abs() < 3.2
            && self.rake.abs() < 1.0
    }
}

/// The mast as the proof goes along it.
struct Standing<'a> {
    input: &'a MastInput,
    beam: Beam,
    sections: Vec<Section>,
    /// Mass at each station, fittings within [kg].
    mass: Vec<f64>,
    /// Share of the strength left at each station.
    left: Vec<f64>,
    /// Material at the partners.
    material: Option<Material>,
}

/// Two ways across and one along.
struct Loads {
    across: [Vec<f64>; 2],
    along: Vec<f64>,
}

/// A case bent.
struct Solved {
    account: CaseAccount,
    bent: [Bent; 2],
    /// Stress over what is allowed at each station.
    ratios: Vec<f64>,
}

impl<'a> Standing<'a> {
    fn new(input: &'a MastInput, fineness: f64) -> Self {
        let length = input.pole.length();
        let mut knots = vec![input.bury];
        for p in &input.pole.pieces {
            knots.push(p.from);
            knots.push(p.to);
        }
        for w in &input.weak {
            knots.push(w.height + input.bury);
        }
        let at = stations(length, &knots, length * fineness);
        let sections = sections(&at, &|x| input.pole.at(x, &input.rules.factors));
        let left = left(&at, &sections, &input.weak, input.bury);
        let mut beam = Beam {
            bending: sections.iter().map(|s| s.bending).collect(),
            at,
            supports: [0, 0],
        };
        beam.supports[1] = beam.station(input.bury);
        let mut mass = vec![0.0; beam.at.len()];
        spread(&beam.at, &mut mass, &|k| sections[k].mass, 1.0);
        if let Some(top) = mass.last_mut() {
            *top += input.head;
        }
        let mut material = None;
        for p in &input.pole.pieces {
            if p.from <= input.bury && p.to >= input.bury && material.is_none() {
                material = Some(p.material);
            }
        }
        Self {
            input,
            beam,
            sections,
            mass,
            left,
            material,
        }
    }

    /// Every case of the input.
    fn all(&self) -> Vec<(Case, usize)> {
        let mut all = Vec::new();
        for (k, state) in self.input.states.iter().enumerate() {
            let hoisted: f64 = state.holds.iter().map(|h| h.1).sum();
            if hoisted > 0.0 && state.area > 0.0 {
                all.push((Case::CloseHauled, k));
                all.push((Case::SquaredOff, k));
                all.push((Case::Gybe, k));
            }
            all.push((Case::Weight, k));
        }
        all.push((Case::Storm, self.input.states.len() - 1));
        all
    }

    /// Own weight, and what hangs on halyard and lifts, leaning `heel` to leeward, times `factor`.
    fn weights(&self, state: &MastState, heel: f64, factor: f64, loads: &mut Loads) {
        let (input, at) = (self.input, &self.beam.at);
        let ((sin_heel, cos_heel), (sin_rake, cos_rake)) =
            (angles::sin_cos(heel), angles::sin_cos(input.rake));
        // To leeward, aft, and down the mast.
        let lean = [sin_heel, sin_rake * cos_heel, cos_rake * cos_heel];
        let top = at[at.len() - 1];
        let lay = |way: usize, into: &mut Vec<f64>| {
            let down = factor * lean[way];
            for (load, mass) in into.iter_mut().zip(&self.mass) {
                *load += mass * GRAVITY * down;
            }
            if way < 2 {
                // What stands leans on the mast by its parrels, what lies by those of the boom.
                let total: f64 = state.holds.iter().map(|h| h.1).sum();
                for (height, share) in &state.holds {
                    if total > 0.0 {
                        let part = share / total * state.standing * down;
                        put(at, into, height + input.bury, part);
                    }
                }
                put(
                    at,
                    into,
                    input.bundle.height + input.bury,
                    state.lying * down,
                );
            } else {
                let thrust = state.halyard + state.lifts;
                put(at, into, top, factor * thrust);
            }
        };
        lay(0, &mut loads.across[0]);
        lay(1, &mut loads.across[1]);
        lay(2, &mut loads.along);
    }

    /// The sail hangs off the axis: a couple by its arm along the sail, `along`, and one by the fitting's place square to it.
    fn hang(&self, state: &MastState, along: usize, factor: f64, loads: &mut Loads) {
        let (input, at) = (self.input, &self.beam.at);
        let top = at[at.len() - 1];
        let high = state.sling.0 - state.sling.1;
        if high > 0.1 {
            let force = factor * state.standing * state.arm / high;
            let into = &mut loads.across[along];
            put(at, into, state.sling.0 + input.bury, force);
            put(at, into, state.sling.1 + input.bury, -force);
        }
        let couple = factor * (state.halyard + state.lifts) * input.fitting.abs();
        let into = &mut loads.across[1 - along];
        let part = couple * if along == 0 { -1.0 } else { 1.0 };
        put(at, into, top, part / 0.1);
        put(at, into, top - 0.1, -part / 0.1);
    }

    fn solve(&self, case: Case, k: usize) -> Solved {
        let (input, r) = (self.input, &self.input.rules);
        let state = &input.states[k];
        let n = self.beam.at.len();
        let mut loads = Loads {
            across: [vec![0.0; n], vec![0.0; n]],
            along: vec![0.0; n],
        };
        let total: f64 = state.holds.iter().map(|h| h.1).sum();
        let mut lever = 0.0;
        for (height, share) in &state.holds {
            lever += height * share / total;
        }
        let mut factors = Vec::new();
        let (mut wind, mut by_wind) = (0.0, false);
        // Sail's force by its shares; running it presses forward.
        let sail = |way: usize, force: f64, loads: &mut Loads| {
            for (height, share) in &state.holds {
                let part = force * share / total;
                put(
                    &self.beam.at,
                    &mut loads.across[way],
                    height + input.bury,
                    part,
                );
            }
        };
        match case {
            Case::CloseHauled => {
                let blown = r.blow.pressure(state.wind_on) * state.area;
                let (named, force);
                (force, named, by_wind) = self.close_hauled(state, lever, blown);
                wind = force * lever;
                sail(0, force, &mut loads);
                if by_wind {
                    factors.extend(r.blow.factors(state.wind_on));
                } else {
                    factors.push(named);
                }
                self.weights(state, r.heel, 1.0, &mut loads);
                self.hang(state, 1, 1.0, &mut loads);
            }
            Case::SquaredOff | Case::Gybe => {
                let accident = state.gybe.filter(|_| case == Case::Gybe);
                let pressure = if let Some((_, pressure)) = accident {
                    pressure
                } else {
                    factors.extend(r.blow.factors(state.wind_off));
                    r.blow.pressure(state.wind_off)
                };
                let mut force = pressure * state.area;
                if r.rule == Rule::B {
                    force *= state.mast_share;
                }
                if let Some((blow, _)) = accident {
                    force += THROWN * blow.max(0.0);
                } else if case == Case::Gybe {
                    force *= r.gybe;
                    factors.push((Factor::Gybe, r.gybe));
                }
                wind = force * lever;
                sail(1, -force, &mut loads);
                self.weights(state, 0.0, 1.0, &mut loads);
                self.hang(state, 0, 1.0, &mut loads);
            }
            Case::Storm => {
                let q = pressure(r.storm);
                let into = &mut loads.across[0];
                let deck = self.beam.supports[1];
                let each = |i: usize| {
                    if i > deck {
                        self.sections[i].diameter
                    } else {
                        0.0
                    }
                };
                spread(&self.beam.at, into, &each, q * r.drag.0);
                let lashed = q * r.drag.1 * input.bundle.area;
                put(
                    &self.beam.at,
                    into,
                    input.bundle.height + input.bury,
                    lashed,
                );
                for (x, load) in self.beam.at.iter().zip(into.iter()) {
                    wind += load * (x - input.bury).max(0.0);
                }
                factors.push((Factor::Drag, r.drag.0));
                factors.push((Factor::Dynamic, r.dynamic));
                let lashed = MastState {
                    lying: input.bundle.weight,
                    lifts: input.bundle.weight,
                    ..MastState::default()
                };
                self.weights(&lashed, r.heel, r.dynamic, &mut loads);
            }
            Case::Weight => {
                factors.push((Factor::Dynamic, r.dynamic));
                self.weights(state, r.heel, r.dynamic, &mut loads);
                self.hang(state, 1, r.dynamic, &mut loads);
            }
        }
        self.bend(case, k, loads, factors, wind, by_wind)
    }

    /// Force of the sail on the wind, the factor it has from the righting moment, and whether the wind is the lesser.
    ///
    /// M = the lesser of dynamic x RM (or, rule B, statics x RM / lever x the mast's share x height) and the wind's own. With
    /// another mast: all standing this mast has its share, alone all of it; the envelope, so alone, is a floor under rule B.
    fn close_hauled(
        &self,
        state: &MastState,
        lever: f64,
        blown: f64,
    ) -> (f64, (Factor, f64), bool) {
        let (input, r) = (self.input, &self.input.rules);
        let arm = lever.max(0.1);
        let alone = (r.dynamic * input.righting / arm).min(blown);
        let dynamic = (Factor::Dynamic, r.dynamic);
        if r.rule == Rule::A {
            return (alone, dynamic, alone >= blown);
        }
        let blown = blown * state.mast_share;
        let by_statics =
            r.statics * state.share * state.mast_share * input.righting / state.lever.max(0.1);
        let together = by_statics.min(blown);
        if state.share < 1.0 && alone > together {
            return (alone, dynamic, alone >= blown);
        }
        (together, (Factor::Statics, r.statics), together >= blown)
    }

    fn bend(
        &self,
        case: Case,
        state: usize,
        loads: Loads,
        mut factors: Vec<(Factor, f64)>,
        wind: f64,
        by_wind: bool,
    ) -> Solved {
        let (n, deck) = (self.beam.at.len(), self.beam.supports[1]);
        let bend = |way: usize| self.beam.bend(&loads.across[way], &loads.along);
        let bent = [bend(0), bend(1)];
        let material = (self.material).map_or(1.0, |m| self.input.rules.factors.of(m.kind));
        factors.push((Factor::Material, material));
        let product = factors.iter().fold(1.0, |p, f| p * f.1);
        let of = |list: &dyn Fn(&Bent) -> f64| [list(&bent[0]), list(&bent[1])];
        let moment = of(&|b| b.moment[deck]);
        let before = size(bent[0].before, bent[1].before);
        let after = size(most(&bent[0].moment), most(&bent[1].moment));
        let mut thrust = vec![0.0; n];
        let mut push = 0.0;
        for i in (0..n).rev() {
            push += loads.along[i];
            thrust[i] = push;
        }
        let ratios = ratios(&self.sections, &self.left, [&bent[0], &bent[1]], &thrust);
        let mut account = CaseAccount {
            case,
            state,
            factors,
            product,
            wind,
            by_wind,
            moment,
            partners: of(&|b| -b.reactions[1]),
            step: of(&|b| -b.reactions[0]),
            thrust: push,
            top: of(&|b| b.deflection[n - 1]),
            ratio: 0.0,
            at: 0.0,
            magnified: if before > 0.0 { after / before } else { 1.0 },
            stands: bent[0].stands && bent[1].stands,
        };
        for (ratio, x) in ratios.iter().zip(&self.beam.at) {
            if *ratio > account.ratio {
                account.ratio = *ratio;
                account.at = x - self.input.bury;
            }
        }
        Solved {
            account,
            bent,
            ratios,
        }
    }

    fn row(&self, solved: &Solved, i: usize) -> Row {
        let [a, b] = &solved.bent;
        Row {
            height: self.beam.at[i] - self.input.bury,
            diameter: self.sections[i].diameter,
            shear: size(a.shear[i], b.shear[i]),
            moment: size(a.moment[i], b.moment[i]),
            slope: size(a.slope[i], b.slope[i]),
            deflection: size(a.deflection[i], b.deflection[i]),
            ratio: solved.ratios[i],
            governs: 0,
        }
    }

    /// What the greatest force on the partners does to the mast there.
    fn wedge(&self, account: &mut MastAccount) {
        let (input, s) = (self.input, &self.sections[self.beam.supports[1]]);
        account.hole = s.diameter + 2.0 * input.wedges.thickness;
        let force = size(account.partners.0[0], account.partners.0[1]);
        account.bearing = force / (s.diameter * input.wedges.height);
        if let Some(m) = self.material {
            account.bearing_allowed = m.bearing / input.rules.factors.of(m.kind);
        }
        if s.wall < 0.49 * s.diameter {
            account.wall = Some(saddle(force, s, input.wedges.height));
        }
    }

    /// Frequencies, and the winds whose vortices keep time with them: f D / St over the part that swings at least half as far
    /// as what swings most.
    fn shake(&self, account: &mut MastAccount) {
        for (mode, (frequency, shape)) in self.beam.frequencies(&self.mass).iter().enumerate() {
            account.frequencies[mode] = *frequency;
            let (mut least, mut most) = (f64::INFINITY, 0.0f64);
            for (swing, s) in shape.iter().zip(&self.sections) {
                if swing.abs() >= 0.5 {
                    let wind = frequency * s.diameter / STROUHAL;
                    least = least.min(wind);
                    most = most.max(wind);
                }
            }
            account.shake[mode] = (least.min(most), most);
        }
    }
}

/// Proves a mast.
///
/// Every case at every state is bent as a beam on partners and step, own weight and thrust within; the account is their
/// envelope. Never panics: what cannot be is a fault.
pub fn prove(input: &MastInput) -> MastAccount {
    let mut account = MastAccount {
        faults: input.faults(),
        ..MastAccount::default()
    };
    if !account.faults.is_empty() {
        return account;
    }
    let mast = Standing::new(input, FINENESS);
    if let Ok((_, weight)) = input.pole.weigh() {
        account.weight = weight;
    }
    let n = mast.beam.at.len();
    account.rows = vec![Row::default(); n];
    for (case, state) in mast.all() {
        let solved = mast.solve(case, state);
        let number = account.cases.len();
        for (i, row) in account.rows.iter_mut().enumerate() {
            let now = mast.row(&solved, i);
            row.height = now.height;
            row.diameter = now.diameter;
            row.shear = larger(row.shear, now.shear);
            row.moment = larger(row.moment, now.moment);
            row.slope = larger(row.slope, now.slope);
            row.deflection = larger(row.deflection, now.deflection);
            if now.ratio > row.ratio {
                row.ratio = now.ratio;
                row.governs = number;
            }
        }
        let c = &solved.account;
        if c.ratio > account.ratio {
            (account.ratio, account.at, account.governs) = (c.ratio, c.at, number);
        }
        let force = |f: [f64; 2]| size(f[0], f[1]);
        if force(c.partners) > force(account.partners.0) {
            account.partners = (c.partners, number);
        }
        if force(c.step) > force(account.step.0) {
            account.step = (c.step, number);
        }
        account.thrust = account.thrust.max(c.thrust);
        account.bend = larger(account.bend, c.bend() / (input.pole.length() - input.bury));
        account.cases.push(solved.account);
    }
    for w in &input.weak {
        let mut found = WeakAccount {
            height: w.height,
            left: 1.0,
            ratio: 0.0,
            governs: 0,
        };
        for (i, row) in account.rows.iter().enumerate() {
            if (row.height - w.height).abs() < 1e-5 {
                found.left = found.left.min(mast.left[i]);
                if row.ratio > found.ratio {
                    (found.ratio, found.governs) = (row.ratio, row.governs);
                }
            }
        }
        account.weak.push(found);
    }
    account.uplift = (account.weight.mass + input.head) * GRAVITY;
    mast.wedge(&mut account);
    mast.shake(&mut account);
    account
}

/// Stress, bend, wedges and mass over some cases, on half the stations, nothing else: for the finder. None with faults.
pub(crate) fn quick(input: &MastInput, pairs: &[(Case, usize)]) -> Option<MastAccount> {
    if !input.faults().is_empty() {
        return None;
    }
    let mast = Standing::new(input, 2.0 * FINENESS);
    let mut account = MastAccount {
        weight: input.pole.weigh().ok()?.1,
        ..MastAccount::default()
    };
    for (case, state) in pairs {
        let found = mast.solve(*case, *state).account;
        account.ratio = account.ratio.max(found.ratio);
        account.bend = account.bend.max(found.bend());
        if size(found.partners[0], found.partners[1])
            > size(account.partners.0[0], account.partners.0[1])
        {
            account.partners.0 = found.partners;
        }
        account.cases.push(found);
    }
    account.bend /= input.pole.length() - input.bury;
    mast.wedge(&mut account);
    Some(account)
}

/// One case along the mast, for a plot; empty where the input has faults or the case does not arise.
pub fn profile(input: &MastInput, case: Case, state: usize) -> Vec<Row> {
    if !input.faults().is_empty() {
        return Vec::new();
    }
    let mast = Standing::new(input, FINENESS);
    if !mast.all().contains(&(case, state)) {
        return Vec::new();
    }
    let solved = mast.solve(case, state);
    (0..mast.beam.at.len())
        .map(|i| mast.row(&solved, i))
        .collect()
}

/// Stress round the wall of a tube that lies in wedges over a third of its girth [Pa]: Zick's saddle at its horn, long
/// shell (ASME; from memory), P / (4 t (b + 1.56 √(r t))) + 3 K P / (2 t²) with K = 0.0528 at 120°. Wedges that bear further
/// round ease it.
fn saddle(force: f64, s: &Section, height: f64) -> f64 {
    const HORN: f64 = 0.0528;
    let (wall, radius) = (s.wall, 0.5 * (s.diameter - s.wall));
    let width = height + 1.56 * (radius * wall).sqrt();
    force / (4.0 * wall * width) + 1.5 * HORN * force / (wall * wall)
}
