//! Battens, yard and boom: beams on the mast and the sheet, under wind and cloth at every reef and on both tacks.
//!
//! Places are along the spar from its luff end. Across it there are two ways: square to the sail, and in the sail's plane.

use crate::GRAVITY;
use crate::beam::{Beam, Bent, larger, put, spread, stations};
use crate::blow::{Blow, Factor};
use crate::mast::{MOST_STATES, MOST_WEAK, Weak};
use crate::materials::{Factors, Kind};
use crate::sections::{Fault, Pole, Section, Weight};
use crate::stress::{left, most, ratios, sections, size};

/// Most spars of a sail.
pub const MOST_SPARS: usize = 13;

/// The spars of a sail and what they stand in.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SailInput {
    /// Boom, battens upward, yard.
    pub spars: Vec<Made>,
    /// Between them, lowest first: one fewer.
    pub panels: Vec<Cloth>,
    /// Full hoist first.
    pub states: Vec<SailState>,
    /// Parrel ends ahead of and abaft the mast axis [m].
    pub parrel: (f64, f64),
    /// Catch points of the lifts, shares of the boom.
    pub catches: Vec<f64>,
    /// Sling, share of the yard.
    pub sling: f64,
    /// Stiffness of the cloth, E t [N/m] (2e5).
    pub stretch: f64,
    /// Wind, factors.
    pub rules: SparRules,
}

/// A spar as made.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Made {
    /// From its luff end.
    pub pole: Pole,
    /// Where the sheet draws, or the leech holds the yard [m].
    pub sheet: f64,
    /// Joints and holes.
    pub weak: Vec<Weak>,
}

/// A panel as the spars feel it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Cloth {
    /// Width between its spars at the luff and at the leech [m].
    pub widths: (f64, f64),
    /// How far its cloth stands out between the spars, in the middle [m]; nought of flat cloth.
    pub sagitta: f64,
}

/// A reef state as the spars feel it.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SailState {
    /// Panels lowered.
    pub lowered: usize,
    /// Wind it is carried up to, the more of on the wind and off, late reefing within, apparent at the sail [m/s]; none without
    /// advice: the most.
    pub wind: Option<f64>,
    /// Pressure of the wind it is carried up to, the more of on the wind and off, no factor of strength within [Pa]: what bend is told in.
    pub steady: f64,
    /// How far each spar reaches ahead of the mast axis [m].
    pub ahead: Vec<f64>,
    /// Thrust of the sheet along each spar, towards the luff [N].
    pub thrust: Vec<f64>,
    /// Pull of the halyard at the sling: weight that stands, and the sheet's down pull [N].
    pub sling: f64,
    /// Weight of boom and bundle on the lifts [N].
    pub lying: f64,
}

/// Wind and factors.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SparRules {
    /// The wind for strength.
    pub blow: Blow,
    /// On what lies in the lifts (2).
    pub dynamic: f64,
    /// On the strength of the material: alloy 1.3, clear timber 2.5, class 1.3, laminate 2.5.
    pub factors: Factors,
}

/// The proof of a sail's spars.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SailAccount {
    /// Boom to yard.
    pub spars: Vec<SparAccount>,
    /// Design pressures, state by state, coefficient and gust within [Pa].
    pub pressures: Vec<f64>,
    /// What could not be used; then nothing is proved.
    pub faults: Vec<Fault>,
}

/// A spar over all states and both tacks.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SparAccount {
    /// Its weight, from the luff end.
    pub weight: Weight,
    /// Every factor in its loads and strength, in the state that sets the ratio.
    pub factors: Vec<(Factor, f64)>,
    /// All of them multiplied.
    pub product: f64,
    /// Greatest stress over what is allowed, weak places within.
    pub ratio: f64,
    /// Where [m].
    pub at: f64,
    /// State that sets it.
    pub state: usize,
    /// Whether the tack on which the parrel holds it sets it; else that on which it lies on the mast.
    pub on_parrel: bool,
    /// Greatest moment, both ways together [N m].
    pub moment: f64,
    /// Greatest deflection square to the sail from the line of its holds in the wind a state is carried up to, as a share of its
    /// length.
    pub bend: f64,
    /// State that sets it.
    pub bend_state: usize,
    /// Greatest deflection in the sail's plane, as a share of its length.
    pub bow: f64,
    /// Greatest force on the mast, square to the sail [N].
    pub mast: f64,
    /// Greatest force its sheet end must hold square to the sail [N].
    pub sheet: f64,
    /// Greatest moment over the same without thrust.
    pub magnified: f64,
    /// Ratio at each weak place, as given.
    pub weak: Vec<f64>,
    /// False where the thrust is more than it can stand.
    pub stands: bool,
    /// What of it could not be used: it is not proved then.
    pub fault: Option<Fault>,
}

/// Rise κ = sagitta / width of a panel's cloth between its spars: as cut, but never less than a flat strip stretches to,
/// s = 0.9086 a (p a / E t)^(1/3), a half the width (long membrane strip, ν = 0).
pub fn rise(cloth: &Cloth, pressure: f64, stretch: f64) -> f64 {
    let width = cloth.width();
    if width <= 0.0 || pressure <= 0.0 {
        return 0.5;
    }
    // The cube root by logarithm: `powf` is long in the wasm.
    let root = ((0.5 * pressure * width / stretch).ln() / 3.0).exp();
    let stretched = 0.4543 * root;
    (cloth.sagitta / width).max(stretched).min(0.5)
}

/// Pull of round cloth in the sail's plane over pressure times width, at a rise κ.
///
/// Cloth of radius R = h²/(8 s) + s/2 pulls p R; in the sail's plane p (R - s) = p h (1/(8 κ) - κ/2), square to it p h/2. From
/// a half circle on it pulls square to the sail alone.
pub fn pull(rise: f64) -> f64 {
    if rise > 0.0 && rise < 0.5 {
        0.125 / rise - 0.5 * rise
    } else {
        0.0
    }
}

/// Pulls of the cloth below and above a spar that gives way, over pressure times width each.
///
/// `give` is the spar's mean deflection in the plane under 1 N/m [m²/N]. Going up by y it narrows the panel above and widens
/// the one below; the cloth keeps its length h (1 + 8 κ²/3), so κ² = κ₀² ± 3 y / (8 h), never tighter than at rest. The y at which
/// the spar's bend and the pulls agree is bracketed and halved: the more it gives the less it is pulled. The spars beyond are
/// held rigid, which is on the safe side. Derived; a rigid spar would be asked for several times as much.
pub fn pulls(
    below: Option<&Cloth>,
    above: Option<&Cloth>,
    pressure: f64,
    stretch: f64,
    give: f64,
) -> [f64; 2] {
    let of = |cloth: Option<&Cloth>| {
        cloth.map_or((0.0, 0.5), |c| (c.width(), rise(c, pressure, stretch)))
    };
    let rest = [of(below), of(above)];
    let at = |y: f64| {
        let of = |(width, rest): (f64, f64), y: f64| {
            if width <= 0.0 {
                return 0.0;
            }
            pull((rest * rest + (0.375 * y / width).max(0.0)).sqrt())
        };
        [of(rest[0], -y), of(rest[1], y)]
    };
    let (mut low, mut high) = (-rest[0].0, rest[1].0);
    for _ in 0..40 {
        let y = 0.5 * (low + high);
        let [down, up] = at(y);
        if give * pressure * (up * rest[1].0 - down * rest[0].0) > y {
            low = y;
        } else {
            high = y;
        }
    }
    at(0.5 * (low + high))
}

impl Cloth {
    fn width(&self) -> f64 {
        0.5 * (self.widths.0 + self.widths.1)
    }
}

impl SailInput {
    /// What keeps the spars from being proved.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let n = self.spars.len();
        let like = |s: &SailState| s.lowered < n && s.ahead.len() == n && s.thrust.len() == n;
        if !(2..=MOST_SPARS).contains(&n)
            || self.panels.len() + 1 != n
            || self.states.is_empty()
            || self.states.len() > MOST_STATES
            || self.catches.len() > MOST_STATES
            || !self.states.iter().all(like)
            || self.spars.iter().any(|s| s.weak.len() > MOST_WEAK)
        {
            faults.push(Fault::States);
        } else if !self.measured() {
            faults.push(Fault::Number);
        }
        let dynamic = self.rules.dynamic;
        if !(self.rules.factors.is_real() && (1.0..1e3).contains(&dynamic)) {
            faults.push(Fault::Factor);
        }
        faults
    }

    /// Design pressures, state by state.
    fn pressures(&self) -> Vec<f64> {
        let mut list = Vec::new();
        for state in &self.states {
            list.push(self.rules.blow.pressure(state.wind));
        }
        list
    }

    fn measured(&self) -> bool {
        let (mut sum, mut least) = (0.0, self.parrel.0.min(self.parrel.1));
        let mut all = |list: &[f64], positive: bool| {
            for n in list {
                sum += n.abs();
                if positive {
                    least = least.min(*n);
                }
            }
        };
        all(&[self.parrel.0, self.parrel.1], true);
        all(&self.catches, true);
        for s in &self.states {
            all(&s.ahead, false);
            all(&s.thrust, false);
            all(&[s.wind.unwrap_or(0.0), s.steady, s.sling, s.lying], true);
        }
        for c in &self.panels {
            all(&[c.widths.0, c.widths.1, c.sagitta], true);
        }
        for s in &self.spars {
            all(&[s.sheet], true);
            for w in &s.weak {
                all(&[w.height], true);
            }
        }
        sum < 1e8
            && least >= 0.0
            && self.stretch > 1.0
            && self.stretch < 1e12
            && self.sling > 0.0
            && self.sling < 1.0
            && self.catches.iter().all(|c| *c <= 1.0)
            && self.rules.blow.is_real()
    }
}

/// A spar at one place on the mast.
struct Laid<'a> {
    made: &'a Made,
    input: &'a SailInput,
    number: usize,
    beam: Beam,
    sections: Vec<Section>,
    left: Vec<f64>,
    /// Stations of mast, sheet, sling or first and last catch.
    mast: usize,
    sheet: usize,
    sling: usize,
    catches: [usize; 2],
    ahead: f64,
    /// Mean deflection in the sail's plane under 1 N/m, once it is asked for.
    give: Option<f64>,
}

impl<'a> Laid<'a> {
    /// None where mast and sheet lie on one another.
    fn new(input: &'a SailInput, number: usize, made: &'a Made, ahead: f64) -> Option<Self> {
        let length = made.pole.length();
        // A spar that lies wholly abaft the mast is held at its luff end.
        let mast = ahead.max(0.0).min(length);
        let sheet = made.sheet.min(length);
        if sheet - mast < 0.1 * length {
            return None;
        }
        let (mut first, mut last) = (1.0f64, 0.0f64);
        for c in &input.catches {
            first = first.min(*c);
            last = last.max(*c);
        }
        if last - first < 0.1 {
            // One catch: the mast holds the rest.
            first = mast / length;
            last = last.max(first + 0.1).min(1.0);
        }
        let sling = input.sling * length;
        let mut knots = vec![mast, sheet];
        if number == 0 {
            knots.push(first * length);
            knots.push(last * length);
        }
        if number + 1 == input.spars.len() {
            knots.push(sling);
        }
        for p in &made.pole.pieces {
            knots.push(p.from);
            knots.push(p.to);
        }
        for w in &made.weak {
            knots.push(w.height);
        }
        let at = stations(length, &knots, length / 24.0);
        let factors = &input.rules.factors;
        let even = made.pole.is_even().then(|| made.pole.at(0.0, factors));
        let sections = sections(&at, &|x| even.unwrap_or_else(|| made.pole.at(x, factors)));
        let left = left(&at, &sections, &made.weak, 0.0);
        let beam = Beam {
            bending: sections.iter().map(|s| s.bending).collect(),
            at,
            supports: [0, 0],
        };
        let station = |x: f64| beam.station(x);
        let (mast_at, sheet_at, sling_at) = (station(mast), station(sheet), station(sling));
        let catches = [station(first * length), station(last * length)];
        (sheet_at > mast_at && catches[1] > catches[0] && sling_at > 0).then_some(Self {
            made,
            input,
            number,
            beam,
            sections,
            left,
            mast: mast_at,
            sheet: sheet_at,
            sling: sling_at,
            catches,
            ahead: mast,
            give: None,
        })
    }

    /// Bent square to the sail: wind on half of each panel that stands next to it, on mast and sheet; on the other tack the mast's
    /// force goes by the parrel's ends, shared by the lever. First whether it has any wind.
    fn across(&mut self, state: &SailState, pressure: f64, on_parrel: bool) -> (Bent, f64) {
        let at = &self.beam.at;
        let length = self.made.pole.length();
        let (foot, top) = self.halves(state);
        let mut loads = vec![0.0; at.len()];
        let each = |k: usize| foot + (top - foot) * at[k] / length;
        spread(at, &mut loads, &each, 0.5 * pressure);
        let mut thrust = vec![0.0; at.len()];
        thrust[self.sheet] = state.thrust[self.number].max(0.0);
        self.beam.supports = [self.mast, self.sheet];
        if on_parrel {
            let mast = self.beam.bend(&loads, &[]).reactions[0];
            let (fore, aft) = self.input.parrel;
            let (fore, aft) = (fore.min(self.ahead), aft.min(length - self.ahead));
            let span = fore + aft;
            if span > 1e-3 {
                put(at, &mut loads, self.ahead - fore, mast * aft / span);
                put(at, &mut loads, self.ahead + aft, mast * fore / span);
                let mut bent = self.beam.bend(&loads, &thrust);
                bent.reactions[0] += mast;
                return (bent, thrust[self.sheet]);
            }
        }
        (self.beam.bend(&loads, &thrust), thrust[self.sheet])
    }

    /// Widths of the standing panels next to it, together, at luff and leech.
    fn halves(&self, state: &SailState) -> (f64, f64) {
        let (below, above) = self.standing(state);
        let of = |cloth: Option<&Cloth>| cloth.map_or((0.0, 0.0), |c| c.widths);
        let (a, b) = (of(below), of(above));
        (a.0 + b.0, a.1 + b.1)
    }

    /// Panels next to it that stand.
    fn standing(&self, state: &SailState) -> (Option<&'a Cloth>, Option<&'a Cloth>) {
        let i = self.number;
        let below = if i > state.lowered {
            self.input.panels.get(i - 1)
        } else {
            None
        };
        let above = if i >= state.lowered {
            self.input.panels.get(i)
        } else {
            None
        };
        (below, above)
    }

    /// Bent in the sail's plane, up positive: cloth above pulls up, cloth below down, its own weight; the yard hangs on its
    /// sling, throat and peak drawn down so that they balance; the boom lies in its lifts with the bundle.
    fn within(&mut self, state: &SailState, pressure: f64) -> Bent {
        let at = &self.beam.at;
        let n = at.len();
        let length = self.made.pole.length();
        let mut loads = vec![0.0; n];
        let yard = self.number + 1 == self.input.spars.len();
        let lies = self.number == 0 && state.lowered > 0;
        self.beam.supports = if yard {
            [0, self.sling]
        } else if lies {
            self.catches
        } else {
            [0, self.sheet]
        };
        let (below, above) = self.standing(state);
        if below.or(above).is_some() {
            let give = *self.give.get_or_insert_with(|| {
                let mut even = vec![0.0; n];
                spread(at, &mut even, &|_| 1.0, 1.0);
                let bent = self.beam.bend(&even, &[]);
                let mut mean = 0.0;
                for (load, y) in even.iter().zip(&bent.deflection) {
                    mean += load * y / length;
                }
                mean.max(0.0)
            });
            let found = pulls(below, above, pressure, self.input.stretch, give);
            for (cloth, by) in [(below, -found[0]), (above, found[1])] {
                if let Some(c) = cloth {
                    let each = |k: usize| c.widths.0 + (c.widths.1 - c.widths.0) * at[k] / length;
                    spread(at, &mut loads, &each, by * pressure);
                }
            }
        }
        spread(at, &mut loads, &|k| self.sections[k].mass, -GRAVITY);
        if yard {
            let sling = at[self.sling];
            put(at, &mut loads, 0.0, -state.sling * (1.0 - sling / length));
            put(at, &mut loads, length, -state.sling * sling / length);
        } else if lies {
            let lying = self.input.rules.dynamic * state.lying / length;
            spread(at, &mut loads, &|_| 1.0, -lying);
        }
        self.beam.bend(&loads, &[])
    }

    /// Takes what is worst into the account.
    fn take(
        &self,
        account: &mut SparAccount,
        square: &(Bent, f64),
        plane: &Bent,
        (state, steady): (usize, f64),
        on_parrel: bool,
    ) {
        let (square, thrust) = square;
        account.stands &= square.stands;
        let n = self.sections.len();
        let mut push = vec![0.0; n];
        for p in &mut push[self.mast..=self.sheet] {
            *p = *thrust;
        }
        let ratios = ratios(&self.sections, &self.left, [square, plane], &push);
        for (k, ratio) in ratios.into_iter().enumerate() {
            let moment = size(square.moment[k], plane.moment[k]);
            account.moment = larger(account.moment, moment);
            if ratio > account.ratio {
                account.ratio = ratio;
                account.at = self.beam.at[k];
                account.state = state;
                account.on_parrel = on_parrel;
            }
            for (w, found) in self.made.weak.iter().zip(&mut account.weak) {
                if (self.beam.at[k] - w.height).abs() < 1e-5 {
                    *found = found.max(ratio);
                }
            }
            let bend = steady * square.deflection[k].abs() / self.made.pole.length();
            account.bow = larger(
                account.bow,
                plane.deflection[k].abs() / self.made.pole.length(),
            );
            if bend > account.bend {
                account.bend = bend;
                account.bend_state = state;
            }
        }
        account.mast = account.mast.max(square.reactions[0].abs());
        account.sheet = account.sheet.max(square.reactions[1].abs());
    }
}

/// Proves boom, battens and yard: every state in which one stands (the boom with its bundle always), on both tacks.
///
/// Square to the sail and in its plane are bent apart and their moments joined as vectors (round spars). Never panics: what
/// cannot be is a fault, of the sail or of one spar.
pub fn prove_sail(input: &SailInput) -> SailAccount {
    let mut account = SailAccount {
        faults: input.faults(),
        ..SailAccount::default()
    };
    if !account.faults.is_empty() {
        return account;
    }
    account.pressures = input.pressures();
    for i in 0..input.spars.len() {
        let spar = prove_spar(input, i, &input.spars[i], &account.pressures);
        account.spars.push(spar);
    }
    account
}

/// One spar at a state on a tack, for a plot: places from the luff end [m], moments [N m], deflections square to the sail [m]; and
/// where mast and sheet hold it. None where it is not proved.
pub fn profile(
    input: &SailInput,
    i: usize,
    state: usize,
    on_parrel: bool,
) -> Option<(Vec<[f64; 3]>, [f64; 2])> {
    let made = input.spars.get(i)?;
    if !input.faults().is_empty() || made.pole.check().is_err() {
        return None;
    }
    let known = input.states.get(state)?;
    let mut spar = Laid::new(input, i, made, known.ahead[i])?;
    let stands = i >= known.lowered && known.lowered + 1 < input.spars.len();
    let pressure = if stands {
        input.pressures()[state]
    } else {
        0.0
    };
    let plane = spar.within(known, pressure);
    let (square, _) = spar.across(known, pressure, on_parrel);
    let mut rows = Vec::with_capacity(spar.sections.len());
    for (k, at) in spar.beam.at.iter().enumerate() {
        let moment = size(square.moment[k], plane.moment[k]);
        rows.push([*at, moment, square.deflection[k]]);
    }
    let holds = [spar.mast, spar.sheet].map(|k| spar.beam.at[k]);
    Some((rows, holds))
}

/// Another spar in the place of one: for the finder. None where the sail has faults.
pub(crate) fn prove_one(input: &SailInput, i: usize, made: &Made) -> Option<SparAccount> {
    if !input.faults().is_empty() || made.weak.len() > MOST_WEAK {
        return None;
    }
    Some(prove_spar(input, i, made, &input.pressures()))
}

fn prove_spar(input: &SailInput, i: usize, made: &Made, pressures: &[f64]) -> SparAccount {
    let mut account = SparAccount {
        weak: vec![0.0; made.weak.len()],
        stands: true,
        magnified: 1.0,
        ..SparAccount::default()
    };
    match made.pole.weigh() {
        Ok((_, weight)) => account.weight = weight,
        Err(fault) => {
            account.fault = Some(fault);
            return account;
        }
    }
    let mut laid: Option<Laid> = None;
    for (k, state) in input.states.iter().enumerate() {
        let stands = i >= state.lowered && state.lowered + 1 < input.spars.len();
        if !(stands || i == 0) {
            continue;
        }
        let ahead = state.ahead[i];
        if laid.as_ref().is_none_or(|l| l.ahead != ahead) {
            laid = Laid::new(input, i, made, ahead);
        }
        let Some(spar) = &mut laid else {
            account.fault = Some(Fault::Supports);
            return account;
        };
        let pressure = if stands { pressures[k] } else { 0.0 };
        // As good as linear in the wind; the thrust that magnifies it is the stronger wind's.
        let steady = if pressure > 0.0 {
            (state.steady / pressure).min(1.0)
        } else {
            0.0
        };
        let plane = spar.within(state, pressure);
        for on_parrel in [false, true] {
            let square = spar.across(state, pressure, on_parrel);
            if square.1 > 0.0 && square.0.stands && square.0.before > 0.0 {
                let after = most(&square.0.moment);
                account.magnified = account.magnified.max(after / square.0.before);
            }
            spar.take(&mut account, &square, &plane, (k, steady), on_parrel);
        }
    }
    let kind = made
        .pole
        .pieces
        .first()
        .map_or(Kind::Alloy, |p| p.material.kind);
    if let Some(state) = input.states.get(account.state) {
        if i >= state.lowered && state.lowered + 1 < input.spars.len() {
            account.factors.extend(input.rules.blow.factors(state.wind));
        } else {
            // The bundle on the lifts.
            account.factors.push((Factor::Dynamic, input.rules.dynamic));
        }
    }
    let material = (Factor::Material, input.rules.factors.of(kind));
    account.factors.push(material);
    account.product = account.factors.iter().fold(1.0, |p, f| p * f.1);
    account
}
