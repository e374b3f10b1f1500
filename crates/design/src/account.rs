//! Everything there is to know about a design, and the only place that knows the order of work.

use geometry::hull::Hull;
use geometry::mast::{Mast, Place};
use geometry::parrel::Parrel;
use geometry::rig::Standing;
use geometry::{Fault, ReefInput, Reefs, SailPlan, Spar};
use kurbo::Point;
use quantities::listed::Listed as _;
use quantities::{Check, Problem};

use crate::afloat::afloat;
use crate::checks::checks;
use crate::design::{Design, MastDesign};
use crate::faults::{hull_problems, needs, placing_problems, plan_problems};
use crate::figures::figures;
use crate::lines::{Strength, belayed, floor_problem, lines, obstacles};
use crate::made::made;
use crate::mast_lengths::MastLengths;
use crate::parrels::parrels;
use crate::proofs::{SparsAccount, proofs, unproved};
use crate::rig::rig;
use crate::sewn::{ClothAccount, open_slot, sewn};
use crate::squared_off::squared_off;
use crate::state_rows::state_rows;

/// Works out everything about a design. Total: whatever cannot be is named among the problems,
/// and the rest is worked out without it.
pub fn account(design: &Design) -> Account {
    worked_out(design, Vec::new())
}

/// Works out a design in the hand, many times a second. Mast and spars keep the proof they had `before`, which is taken from there: nothing
/// is told of them that does not hold for the design before or, once [`account`] has been asked, for this one.
pub fn account_in_hand(design: &Design, before: &mut Account) -> Account {
    let masts = before.masts.iter_mut();
    worked_out(design, masts.map(|mast| mast.spars.take()).listed())
}

/// Everything about a design, but for the proofs that are `kept`.
fn worked_out(design: &Design, mut kept: Vec<Option<SparsAccount>>) -> Account {
    let mut problems = hull_problems(&design.boat.hull);
    let mut masts: Vec<MastAccount> = design
        .masts
        .iter()
        .enumerate()
        .map(|(m, mast)| mast_account(design, m, mast, &mut problems))
        .listed();
    problems.extend(floor_problem(&design.spars.rules));
    let rig = rig(design, &masts, &mut problems);
    let boat = afloat(design, &masts, &rig.sequence);
    let others = obstacles(&masts);
    let mut taken = 0;
    let mut poles = Vec::new();
    for (m, mast) in masts.iter_mut().enumerate() {
        // What the spars weigh needs no force: their loads need their weight.
        let plan = mast.plan.as_ref();
        let made = plan.and_then(|plan| made(design, m, &mast.mast, plan, &mut problems));
        if let Some(made) = &made {
            mast.lines = lines(
                design,
                m,
                mast,
                (&others, taken),
                (&rig.sequence, &boat.steps),
                made,
                &mut problems,
            );
            taken += mast.lines.as_ref().map_or(0, belayed);
            if let (Some(cloth), Some(lines)) = (&mut mast.cloth, &mast.lines) {
                cloth.pulled(lines);
            }
        }
        poles.push(made);
    }
    let mut proved = Vec::new();
    for (m, made) in poles.into_iter().enumerate() {
        let made = made.as_ref();
        let kept = kept.get_mut(m).and_then(Option::take);
        let found = made.and_then(|made| {
            kept.or_else(|| proofs(design, m, &masts, made, &rig.sequence, &boat))
        });
        if let (Some(found), Some(made)) = (&found, made) {
            problems.extend(unproved(m, found, made));
        }
        proved.push(found);
    }
    for (mast, proved) in masts.iter_mut().zip(proved) {
        mast.spars = proved;
    }
    let needs = needs(design, &boat, &mut problems);
    let mut account = Account {
        masts,
        rig,
        boat,
        needs,
        problems,
        checks: Vec::new(),
    };
    account.checks = checks(design, &account);
    account
}

/// One sail on its mast, as far as its spars' places need.
struct LaidOut {
    plan: Option<SailPlan>,
    faults: Vec<Fault>,
    lengths: MastLengths,
    reefs: Option<Reefs>,
    travel: f64,
}

impl LaidOut {
    fn new(hull: &Hull, mast: &MastDesign) -> Self {
        let (mut plan, faults) = mast.sail.plan_rule().plan();
        let lengths = MastLengths::new(hull, mast, plan.as_ref());
        if let Some(plan) = &mut plan {
            open_slot(mast, &lengths.mast, plan);
        }
        let (reefs, travel) = match &plan {
            Some(plan) => {
                let (reefs, travel) = reefs_with_travel(mast, plan, &lengths.mast);
                (Some(reefs), travel)
            }
            None => (None, wanted_travel(mast)),
        };
        Self {
            plan,
            faults,
            lengths,
            reefs,
            travel,
        }
    }
}

/// Spars of a sail at a hoist, in its plane, boom to yard; the sling's share of the yard; the mast: as [`account`] and
/// [`pose`](crate::pose()) have them, for a hand that asks several times a move. `None` where the inputs give no plan.
pub fn spars_at(hull: &Hull, mast: &MastDesign, hoist: f64) -> Option<(Vec<Spar>, f64, Mast)> {
    let LaidOut {
        plan,
        lengths,
        reefs,
        ..
    } = LaidOut::new(hull, mast);
    Some((reefs?.placed_at(hoist), plan?.sling, lengths.mast))
}

/// One mast: plan, mast lengths, reefs, parrels, ship axes and clearances, squared off.
fn mast_account(
    design: &Design,
    m: usize,
    mast: &MastDesign,
    problems: &mut Vec<Problem>,
) -> MastAccount {
    let hull = &design.boat.hull;
    let LaidOut {
        plan,
        faults,
        lengths,
        reefs,
        travel,
    } = LaidOut::new(hull, mast);
    problems.extend(plan_problems(m, &mast.sail, &faults));
    let rows = reefs.as_ref().map_or_else(Vec::new, |reefs| {
        state_rows(&design.boat, &mast.sail, &lengths.mast, reefs)
    });
    let parrels = reefs
        .as_ref()
        .map_or_else(Vec::new, |reefs| parrels(&lengths.mast, reefs, travel));
    let squared_off = reefs.as_ref().map_or_else(Vec::new, |reefs| {
        squared_off(&lengths.mast, mast.sail.squared_off, reefs)
    });
    problems.extend(placing_problems(hull, m, mast, &lengths, &rows));
    let hung = plan.as_ref().zip(reefs.as_ref());
    let cloth =
        hung.and_then(|(plan, reefs)| sewn(design, m, (&lengths.mast, plan, reefs), problems));
    MastAccount {
        name: mast.name.clone(),
        mast: lengths.mast,
        figures: plan.as_ref().map(figures),
        plan,
        reefs,
        rows,
        parrels,
        travel,
        drift: lengths.drift,
        drift_wanted: lengths.drift_wanted,
        squared_off,
        cloth,
        lines: None,
        spars: None,
    }
}

/// Usual travel of the battens past the mast, share of the chord (common practice).
pub(crate) const USUAL_TRAVEL: f64 = 0.08;

fn wanted_travel(mast: &MastDesign) -> f64 {
    mast.sail.travel.unwrap_or(USUAL_TRAVEL) * mast.sail.boom_length()
}

/// The reefs and the travel they were given. Typed travel is kept to; by rule it is 8 % of the
/// chord, or as much more as the cloth needs before it folds.
fn reefs_with_travel(mast: &MastDesign, plan: &SailPlan, outline: &Mast) -> (Reefs, f64) {
    let sail = &mast.sail;
    let mut input = ReefInput {
        boom_depth: sail.boom_depth,
        batten_depth: sail.batten_depth,
        yard_depth: sail.yard_depth,
        folded_cloth: sail.folded_cloth,
        drop: sail.drop,
        travel: wanted_travel(mast),
        masthead: outline.lap,
        chord_share: sail.chord_share,
    };
    let reefs = Reefs::new(plan, &input);
    if sail.travel.is_some() {
        return (reefs, input.travel);
    }
    let needed = travel_needed(&reefs);
    if needed <= input.travel {
        return (reefs, input.travel);
    }
    input.travel = needed;
    let reefs = Reefs::new(plan, &input);
    // Shifts come out a rounding error past their bound.
    let needed = travel_needed(&reefs);
    (reefs, needed.max(input.travel))
}

/// Greatest travel any state needs [m].
pub(crate) fn travel_needed(reefs: &Reefs) -> f64 {
    reefs
        .states
        .iter()
        .map(|state| state.travel_needed)
        .fold(0.0, f64::max)
}

/// What a design amounts to: SI, radians, ship axes where it says so.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Account {
    /// One entry per mast of the design, in its order.
    pub masts: Vec<MastAccount>,
    /// All sails together.
    pub rig: RigAccount,
    /// The boat with them on; its steps are those of the reef sequence.
    pub boat: boat::Account,
    /// Inputs without which stability or balance stay unknown: paths of fields or lists.
    pub needs: Vec<&'static str>,
    /// Inputs that cannot be, worst first within each mast.
    #[cfg_attr(feature = "serde", serde(serialize_with = "crate::printed::problems"))]
    pub problems: Vec<Problem>,
    /// Results held against their limits, passed ones included.
    #[cfg_attr(feature = "serde", serde(serialize_with = "crate::printed::checks"))]
    pub checks: Vec<Check>,
}

/// One mast and its sail.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MastAccount {
    /// Name typed in, or empty.
    pub name: String,
    /// The mast, every rule followed.
    pub mast: Mast,
    /// The sail plan; `None` when its inputs give none.
    pub plan: Option<SailPlan>,
    /// What the plan measures.
    pub figures: Option<Figures>,
    /// Reef states in the sail's own plane.
    pub reefs: Option<Reefs>,
    /// The same states in ship axes, with clearances; entry i belongs to `reefs.states[i]`.
    pub rows: Vec<StateRow>,
    /// One per spar, boom to yard.
    pub parrels: Vec<SparParrel>,
    /// Travel of the battens past the mast in use, in all [m].
    pub travel: f64,
    /// Halyard left block to block at full hoist: sling point to masthead fitting [m].
    pub drift: f64,
    /// Drift wanted: typed, or 5 % LAP and at least 0.25 m [m].
    pub drift_wanted: f64,
    /// Boom squared off to port, then to starboard; empty without a plan.
    pub squared_off: Vec<SquaredOff>,
    /// The cloth of its sail; `None` without a plan.
    pub cloth: Option<ClothAccount>,
    /// The lines of its sail; `None` without a plan.
    pub lines: Option<LinesAccount>,
    /// Mast and spars; `None` without a plan.
    pub spars: Option<SparsAccount>,
}

/// The lines of a sail, and what they were worked out from.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LinesAccount {
    /// Every rule followed.
    pub input: rigging::Input,
    /// What comes of it.
    pub account: rigging::Account,
    /// What the wind for strength is made of. Each state's product of it all, over the pressure of the hand, is its loads' `times`.
    pub strength: Strength,
    /// Winds each state is carried up to by panels lowered, on the wind and off it, apparent at the sail [m/s].
    pub winds: Vec<[f64; 2]>,
}

/// What a sail plan measures, in the sail's plane (u aft of the mast, v above the partners).
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Figures {
    /// Area [m²].
    pub area: f64,
    /// Centroid [m].
    pub centroid: Point,
    /// Length all round [m].
    pub perimeter: f64,
    /// Second moments about the centroid (∫u², ∫v², ∫uv) [m⁴].
    pub second_moments: (f64, f64, f64),
    /// (peak height above the lowest point of the boom)² / area.
    pub aspect: f64,
    /// Kink of the leech at battens 1..N-1, positive where it turns forward [rad].
    pub leech_kinks: Vec<f64>,
    /// Area of each panel, lowest first [m²].
    pub panel_areas: Vec<f64>,
    /// Straight luff, tack to throat [m].
    pub luff: f64,
    /// Leech, clew to peak, along its edges' chords [m].
    pub leech: f64,
    /// Highest point of the yard [m].
    pub peak: Point,
}

/// One reef state in ship axes, the sail sheeted along the centreline.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct StateRow {
    /// Panels lowered.
    pub lowered: usize,
    /// True once the boom hangs on its lifts.
    pub on_lifts: bool,
    /// Area standing [m²].
    pub area: f64,
    /// Share of the full area.
    pub share: f64,
    /// Centroid of what stands; `None` when nothing does.
    pub centre: Option<Place>,
    /// Place of the wind's force, at the chord share of each panel.
    pub pressure: Option<Place>,
    /// Centroid aft of the mast axis, square to it [m].
    pub aft_of_mast: Option<f64>,
    /// Centroid of this state aft of the centroid at full hoist [m].
    pub centre_shift: Option<f64>,
    /// Highest point of the yard above the waterline [m].
    pub yard_height: f64,
    /// Sling point above the waterline [m].
    pub sling_height: f64,
    /// Where each spar crosses the mast, boom first [m above partners]; `None` where it does not.
    pub on_mast: Vec<Option<f64>>,
    /// Share of the lowest standing spar ahead of the mast axis.
    pub chord_balance: Option<f64>,
    /// Share of the standing area ahead of the mast axis.
    pub area_balance: Option<f64>,
    /// Underside of the boom to top of the uppermost lying spar [m].
    pub bundle_height: f64,
    /// Middle of the lying spars.
    pub bundle: Place,
    /// Slide of each spar on the one below, aft positive, boom first [m].
    pub slides: Vec<f64>,
    /// Each spar aft past the mast from its place at full hoist, boom first [m].
    pub shifts: Vec<f64>,
    /// Boom aft of its place at full hoist [m].
    pub boom_shift: f64,
    /// Boom's underside above the deck [m]; `None` where the boom lies nowhere over the boat.
    pub over_deck: Option<f64>,
    /// Boom's underside above the coachroof [m]; `None` where the boom does not reach over it.
    pub over_coachroof: Option<f64>,
    /// Boom's underside above the cockpit seat [m].
    pub over_seat: Option<f64>,
    /// Boom's underside above the helmsman's eye, where it is lowest ahead of him [m].
    pub over_eye: Option<f64>,
    /// Sling point under the masthead, along the mast [m].
    pub under_masthead: f64,
    /// Height of the peak above (+) or under (-) the masthead, along the mast [m].
    pub peak_over_masthead: f64,
    /// Highest point of mast and sail above the waterline [m].
    pub air_draught: f64,
    /// Halyard off the mast axis, sling abaft positive [rad].
    pub halyard_angle: f64,
}

/// The rope that holds a spar to the mast.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SparParrel {
    /// Number of the spar: boom 0, yard N.
    pub spar: usize,
    /// Height on the mast at full hoist [m above partners]; `None` where the spar misses the mast.
    pub height: Option<f64>,
    /// Mast diameter there [m].
    pub diameter: f64,
    /// Travel forward and aft of its place at full hoist that the rope allows [m].
    pub forward: f64,
    /// See `forward` [m].
    pub aft: f64,
    /// Length, span and stand-off. For the yard: the taut length at full hoist.
    pub parrel: Parrel,
}

/// The sail squared off on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SquaredOff {
    /// Sheeting angle, boom to starboard positive [rad].
    pub sheeting: f64,
    /// Place of the wind's force at full sail.
    pub pressure: Place,
    /// After end of the boom.
    pub boom_end: Place,
    /// True when the sail lies abaft the mast and presses on it; false when it hangs on its
    /// parrels ahead of the mast.
    pub presses_on_mast: bool,
}

/// All sails of the boat together.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RigAccount {
    /// Area of all sails at full hoist [m²].
    pub area: f64,
    /// Their common centre of effort.
    pub centre: Option<Standing>,
    /// The reef sequence, from all standing to all down.
    pub sequence: Vec<RigStep>,
    /// Highest point of the rig above the waterline [m].
    pub air_draught: f64,
}

/// One step of the reef sequence.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RigStep {
    /// Panels lowered per mast.
    pub lowered: Vec<usize>,
    /// What stands; `None` when nothing does.
    pub standing: Option<Standing>,
    /// Share of the full area.
    pub share: f64,
    /// Centre of effort aft of its place at full sail [m].
    pub shift: Option<f64>,
}
