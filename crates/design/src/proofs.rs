//! Whether mast and spars bear the wind: what the proofs are made from, every rule followed, and what comes of them.

use geometry::{ReefState, Reefs};
use quantities::quantity as q;
use quantities::{Arg, Problem, Text};
use rigging::Loads;
use spars::blow::{Blow, shares};
use spars::mast::{Bundle, MastRules, MastState, Rule, Wedges};
use spars::spar::{Cloth, Made as SparMade, SailState, SparRules};
use spars::{Fault, MastAccount as MastProof, MastInput, SailAccount, SailInput};

use crate::account::{LinesAccount, MastAccount, RigStep};
use crate::afloat::state_of;
use crate::design::{Design, MastDesign};
use crate::edits::mast_path;
use crate::lines::Strength;
use crate::made::{Made, factors, weak, word_of};

/// Mast and spars of one mast, and what they were proved with.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SparsAccount {
    /// The mast, every rule followed.
    pub mast_input: MastInput,
    /// Its proof.
    pub mast: MastProof,
    /// Boom, battens, yard, every rule followed.
    pub sail_input: SailInput,
    /// Their proof.
    pub sail: SailAccount,
}

/// A righting moment that no wind comes to [N m]: where hers is not known the wind alone loads the mast.
pub(crate) const UNKNOWN_RIGHTING: f64 = 1e7;

/// All there is to a proof before it is one.
struct Proof<'a> {
    design: &'a Design,
    typed: &'a MastDesign,
    m: usize,
    masts: &'a [MastAccount],
    account: &'a MastAccount,
    reefs: &'a Reefs,
    lines: &'a LinesAccount,
    sequence: &'a [RigStep],
    boat: &'a boat::Account,
}

/// Proves mast and spars of a mast; none without a sail.
pub(crate) fn proofs(
    design: &Design,
    m: usize,
    masts: &[MastAccount],
    made: &Made,
    sequence: &[RigStep],
    boat: &boat::Account,
) -> Option<SparsAccount> {
    let account = masts.get(m)?;
    let proof = Proof {
        design,
        typed: design.masts.get(m)?,
        m,
        masts,
        account,
        reefs: account.reefs.as_ref()?,
        lines: account.lines.as_ref()?,
        sequence,
        boat,
    };
    let (mut mast_states, mut sail_states) = (Vec::new(), Vec::new());
    for k in 0..proof.reefs.states.len() {
        let (mast, sail) = proof.state(k)?;
        mast_states.push(mast);
        sail_states.push(sail);
    }
    let mast_input = proof.mast(mast_states, made.mast.clone());
    let sail_input = proof.sail(sail_states, &made.spars)?;
    Some(SparsAccount {
        mast: spars::prove(&mast_input),
        mast_input,
        sail: spars::prove_sail(&sail_input),
        sail_input,
    })
}

/// Why mast or sail could not be proved, though each spar is possible by itself. A spar that the mast crosses too near its leech has
/// no problem of its own: that the yard leaves the mast is told by a check.
pub(crate) fn unproved(m: usize, found: &SparsAccount, made: &Made) -> Option<Problem> {
    let told = &made.weights.faults;
    let faults = &found.mast.faults;
    if faults.contains(&Fault::Bury) {
        let path = mast_path(m, "bury_m");
        let value = q::BURY.document_from_si(found.mast_input.bury);
        let text = Text::new("problem.bury").with_key("label", q::BURY.label);
        let text = text.with("value", Arg::Given(value, &q::BURY));
        return Some(Problem::new(path, text));
    }
    let mast = !faults.is_empty() && told.iter().all(|(spar, _)| spar.is_some());
    (mast || !found.sail.faults.is_empty())
        .then(|| Problem::new(mast_path(m, "spars"), Text::new("problem.no_spar")))
}

impl Proof<'_> {
    fn blow(&self) -> Blow {
        let Strength {
            coefficient,
            gust,
            floor,
            cap,
            ..
        } = self.lines.strength;
        Blow {
            coefficient,
            gust,
            winds: (floor, cap),
        }
    }

    /// Greatest righting moment [N m].
    fn righting(&self) -> f64 {
        let particulars = &self.design.boat.particulars;
        let loading = self.boat.loadings.get(particulars.loading);
        let known = loading.and_then(Option::as_ref);
        let greatest = known.map_or(0.0, |loading| loading.greatest.value);
        if greatest > 0.0 {
            greatest.min(UNKNOWN_RIGHTING)
        } else {
            UNKNOWN_RIGHTING
        }
    }

    /// Share of the heeling moment of all sails that this one has, the most of the steps with so many panels of it lowered.
    fn share(&self, lowered: usize) -> f64 {
        let mut most = None;
        for step in self.sequence {
            if step.lowered.get(self.m) != Some(&lowered) {
                continue;
            }
            let (mut own, mut all) = (0.0, 0.0);
            for (i, (mast, lowered)) in self.masts.iter().zip(&step.lowered).enumerate() {
                let row = mast.rows.get(state_of(*lowered));
                if let (Some(row), Some(typed)) = (row, self.design.masts.get(i))
                    && let Some(centre) = row.centre
                {
                    let above = (centre.z - self.boat.pivot).max(0.0);
                    let moment = row.area * typed.sail.side_force * above;
                    all += moment;
                    own += if i == self.m { moment } else { 0.0 };
                }
            }
            if all > 0.0 {
                most = Some((own / all).max(most.unwrap_or(0.0)));
            }
        }
        most.unwrap_or(1.0)
    }

    /// Half the areas of the panels that stand, either side of each spar: height on the mast and share.
    fn holds(&self, k: usize, state: &ReefState) -> Vec<(f64, f64)> {
        let mut areas = Vec::new();
        if let Some(plan) = &self.account.plan {
            for panel in plan.panel_moments.iter().skip(state.lowered) {
                areas.push(panel.area.max(0.0));
            }
        }
        let mut holds = Vec::new();
        if areas.is_empty() || state.area <= 0.0 {
            return holds;
        }
        let on_mast = self.account.rows.get(k).map(|row| row.on_mast.as_slice());
        for (j, share) in shares(&areas).into_iter().enumerate() {
            let i = state.lowered + j;
            let crossed = on_mast.and_then(|heights| heights.get(i).copied().flatten());
            // One that does not cross it is held by its luff end.
            let luff = state.spars.get(i).map(|placed| placed.spar.luff.y);
            let height = crossed.or(luff).unwrap_or(0.0);
            holds.push((height.max(0.0).min(self.account.mast.lap), share));
        }
        holds
    }

    fn state(&self, k: usize) -> Option<(MastState, SailState)> {
        let state = self.reefs.states.get(k)?;
        let none = Loads::default();
        let loads = self.lines.account.loads.get(k).unwrap_or(&none);
        let lines = &self.lines.input.lines;
        let strength = &self.lines.strength;
        let [on, off] = [0, 1].map(|way| strength.late(&self.lines.winds, state.lowered, way));
        let holds = self.holds(k, state);
        let lowest = holds.first().map_or(0.0, |hold| hold.0);
        let standing = loads.standing + loads.blocks;
        let carried = self.lines.input.states.get(k);
        let (pressure, running) = carried.map_or((0.0, 0.0), |s| (s.pressure, s.running));
        // The sheet draws on the spars as hard as the wind they are made for.
        let wind = on.max(off);
        let times = if loads.times > 0.0 {
            self.blow().pressure(Some(wind)) / pressure
        } else {
            0.0
        };
        let down = loads.sheet_down * times;
        let mut mast_share = None;
        let mut thrust = vec![0.0f64; state.spars.len()];
        for work in &loads.working {
            if loads.wind > 0.0 {
                mast_share = Some((work.mast / loads.wind).max(mast_share.unwrap_or(0.0)));
            }
            for pull in &work.pulls {
                if let Some(thrust) = thrust.get_mut(pull.spar) {
                    *thrust = thrust.max(pull.thrust * times);
                }
            }
        }
        let mut ahead = Vec::new();
        for placed in &state.spars {
            let spar = &placed.spar;
            let along = spar.along.x;
            let crosses = if along > 1e-6 {
                -spar.luff.x / along
            } else {
                0.0
            };
            ahead.push(crosses.max(0.0).min(spar.length));
        }
        let parts = lines.halyard.map_or(1, |halyard| halyard.parts.max(1)) as f64;
        let hung = loads.lying + loads.lift_down * times;
        let by_fall = lines
            .lifts
            .as_ref()
            .is_some_and(|lifts| lifts.cleat.is_some());
        let centre = self.account.rows.get(k).and_then(|row| row.centre);
        let sling = state.sling.y.max(0.0).min(self.account.mast.lap);
        let arm = if loads.standing > 0.0 {
            state.sling.x + loads.swing / loads.standing
        } else {
            0.0
        };
        let mast = MastState {
            area: state.area.max(0.0),
            wind_on: Some(on),
            wind_off: Some(off),
            share: self.share(state.lowered),
            mast_share: mast_share.unwrap_or(1.0),
            lever: centre.map_or(0.0, |centre| centre.z - self.boat.pivot),
            standing,
            arm,
            sling: (sling, lowest),
            halyard: (standing + down) * (1.0 + 1.0 / parts),
            lying: loads.lying,
            lifts: if by_fall { 2.0 * hung } else { hung },
            gybe: loads.blow.map(|blow| (blow, running)),
            holds,
        };
        let sail = SailState {
            lowered: state.lowered,
            wind: Some(wind),
            steady: pressure.max(running),
            ahead,
            thrust,
            sling: standing + down,
            lying: loads.lying,
        };
        Some((mast, sail))
    }

    fn mast(&self, states: Vec<MastState>, pole: spars::Pole) -> MastInput {
        let (made, rules) = (&self.typed.spars.made, &self.design.spars.rules);
        let mast = &self.account.mast;
        let down = self.account.rows.last();
        let weight = self.lines.account.loads.last().map_or(0.0, |l| l.lying);
        MastInput {
            pole,
            bury: mast.bury,
            rake: mast.rake,
            states,
            bundle: Bundle {
                weight,
                height: down.map_or(0.0, |row| {
                    ((row.bundle.z - mast.z) / angles::cos(mast.rake))
                        .max(0.0)
                        .min(mast.lap)
                }),
                area: down.map_or(0.0, |row| row.bundle_height * self.typed.sail.boom_length()),
            },
            head: made.usual("head_kg"),
            fitting: made.usual("fitting_m"),
            righting: self.righting(),
            weak: weak(self.typed, mast, "mast", 0.0),
            wedges: Wedges {
                height: made.usual("wedge_height_m"),
                thickness: made.usual("wedge_thickness_m"),
            },
            rules: MastRules {
                rule: if rules.word("rule") == "b" {
                    Rule::B
                } else {
                    Rule::A
                },
                dynamic: rules.usual("dynamic"),
                statics: rules.usual("statics"),
                blow: self.blow(),
                gybe: rules.usual("gybe"),
                storm: rules.usual("storm_kn"),
                drag: (self.design.wind.mast_drag, self.design.wind.bundle_drag),
                heel: rules.usual("heel_deg"),
                factors: factors(rules, "mast"),
            },
        }
    }

    fn sail(&self, states: Vec<SailState>, poles: &[spars::Pole]) -> Option<SailInput> {
        let (plan, rules) = (self.account.plan.as_ref()?, &self.design.spars.rules);
        let lines = &self.lines.input.lines;
        let tip = self.lines.input.rules.tip;
        let n = plan.n_panels();
        let mut made = Vec::new();
        for (i, pole) in poles.iter().enumerate() {
            made.push(SparMade {
                sheet: (pole.length() - tip).max(0.0),
                pole: pole.clone(),
                weak: weak(self.typed, &self.account.mast, word_of(i, n), pole.length()),
            });
        }
        let cloth = self.account.cloth.as_ref();
        let mut panels = Vec::new();
        for (i, pair) in plan.spars.windows(2).enumerate() {
            if let [below, above] = pair {
                panels.push(Cloth {
                    widths: (
                        below.luff.distance(above.luff),
                        below.leech().distance(above.leech()),
                    ),
                    sagitta: cloth.map_or(0.0, |cloth| cloth.sagitta(i + 1)),
                });
            }
        }
        let lifts = lines.lifts.as_ref();
        Some(SailInput {
            spars: made,
            panels,
            states,
            parrel: lines
                .parrels
                .map_or((0.0, 0.0), |p| (p.ahead.max(0.0), p.abaft.max(0.0))),
            catches: lifts.map_or_else(Vec::new, |lifts| lifts.catches.clone()),
            sling: self.typed.sail.sling,
            stretch: rules.usual("cloth_stiffness"),
            rules: SparRules {
                blow: self.blow(),
                dynamic: self.lines.input.rules.dynamic,
                factors: factors(rules, "spar"),
            },
        })
    }
}
