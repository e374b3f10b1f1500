//! Results held against their limits. Each check has one row in [`CHECKS`], and a test that sees
//! it pass and fail.

use quantities::bounds::{self, ASPECT_LEAST, ASPECT_MOST, HEAD_STEP_MOST_DEG};
use quantities::quantity as q;
use quantities::{Arg, Basis, Check, Part, Quantity, Severity, Text};

use cloth::{Construction, Cut, Split};
use geometry::Spar;
use rigging::{Hauls, Knot, Line, What};

use crate::account::{Account, LinesAccount, MastAccount, StateRow, USUAL_TRAVEL, travel_needed};
use crate::afloat::state_of;
use crate::design::{Design, Family, Leaves, MastDesign};
use crate::lines::wind_of;
use crate::neighbours::{Room, rooms};
use crate::proofs::SparsAccount;
use crate::sewn::ClothAccount;

/// What is always the same about one check.
#[derive(Debug)]
pub struct CheckRow {
    /// Its name, unique in the table.
    pub key: &'static str,
    /// Catalogue key of what is checked, as a heading.
    pub name: &'static str,
    /// Catalogue key of the sentence when it fails.
    pub found: &'static str,
    /// The sentence for a negative value, told without its sign; none where no value is negative.
    pub below: Option<&'static str>,
    /// Catalogue key of what to do then.
    pub advice: &'static str,
    /// What the limit rests on.
    pub basis: Basis,
    /// How bad it is to fail.
    pub severity: Severity,
}

macro_rules! below {
    ($key:literal) => {
        None
    };
    ($key:literal below) => {
        Some(concat!("check.", $key, ".below"))
    };
}

macro_rules! check_rows {
    ($($(#[$doc:meta])* $name:ident $key:literal $basis:ident $severity:ident $($below:ident)?;)*) => {
        $($(#[$doc])* static $name: CheckRow = CheckRow {
            key: $key,
            name: concat!("check.", $key),
            found: concat!("check.", $key, ".found"),
            below: below!($key $($below)?),
            advice: concat!("check.", $key, ".advice"),
            basis: Basis::$basis,
            severity: Severity::$severity,
        };)*
        /// Every check, in the order of the work.
        pub static CHECKS: &[&CheckRow] = &[$(&$name),*];
    };
}

check_rows! {
    /// Height against area.
    ASPECT "aspect" CommonPractice Look;
    /// Width of the lowest panel against its chord.
    PANEL_WIDTH "panel_width" CommonPractice Look;
    /// Chord ahead of the mast against what suits the cut.
    BALANCE "balance" CommonPractice Look below;
    /// Every panel a convex figure.
    PANEL_CONVEX "panel_convex" Derived Danger;
    /// Turn from one spar to the next.
    HEAD_STEP "head_step" CommonPractice Look;
    /// Kink of the leech at a batten.
    LEECH_KINK "leech_kink" CommonPractice Look;
    /// Every panel folds to the height of the bundle.
    CLOTH_FOLDS "cloth_folds" Derived Danger;
    /// A spar that the folding cloth pushes along.
    SLIDE_FORCED "slide_forced" Derived Look;
    /// Travel of the parrels against what the reefs need.
    TRAVEL "travel" Derived Danger;
    /// The yard crosses the mast in every state in which it carries cloth.
    YARD_AT_MAST "yard_at_mast" Derived Look;
    /// Halyard off the mast at full hoist.
    HALYARD_ANGLE "halyard_angle" CommonPractice Look;
    /// Halyard left block to block.
    DRIFT "drift" CommonPractice Look below;
    /// Boom above the coachroof.
    OVER_COACHROOF "over_coachroof" CommonPractice Look below;
    /// Boom above the cockpit seat.
    OVER_SEAT "over_seat" CommonPractice Look below;
    /// The helmsman sees under the boom, or over the bundle.
    SIGHT "sight" CommonPractice Look;
    /// End of the boom above the water, squared off.
    BOOM_END "boom_end" CommonPractice Look below;
    /// A sail and the next one aft do not overlap in profile.
    SAILS_APART "sails_apart" CommonPractice Look;
    /// Highest point of the rig against the bridges.
    AIR_DRAUGHT "air_draught" Derived Look;
    /// Mast where the boat has room for it.
    MAST_PLACE "mast_place" Derived Look;
    /// The attached force aft of the mast by a margin.
    OVERBALANCE "overbalance" CommonPractice Look;
    /// The attached force not ahead of the mast, or the eased sheet spills no wind.
    SPILLS "spills" Derived Danger;
    /// Lead of all sails against the band of the way the CLR was found.
    LEAD "lead" CommonPractice Look below;
    /// CE of all sails against that of the rig she has.
    LEAD_NOW "lead_now" CommonPractice Look below;
    /// CE over the reefs against its place at full sail.
    LEAD_SHIFT "lead_shift" CommonPractice Look below;
    /// Something rights her.
    STABLE "stable" Derived Danger;
    /// How well the stability is known.
    ESTIMATE "estimate" CommonPractice Look;
    /// Sail area against displacement.
    SAIL_AREA "sail_area" CommonPractice Look;
    /// Every reef stands more wind than the one before.
    REEF_WINDS "reef_winds" Derived Look;
    /// A sheet that can still be hauled in.
    TWO_BLOCKED "two_blocked" Derived Danger;
    /// A sheet that holds the sail in at every angle.
    SHEET_HOLDS "sheet_holds" Derived Danger;
    /// A span's block clear of its deck block.
    BLOCKS_APART "blocks_apart" CommonPractice Look;
    /// Spans that reach all their batten ends.
    SPAN_SHORT "span_short" Derived Danger;
    /// Deck blocks on the boat.
    SHEET_ON_BOAT "sheet_on_boat" Derived Danger;
    /// Spans that gather every batten end.
    ENDS_GATHERED "ends_gathered" CommonPractice Look;
    /// Sheets clear of the leech.
    SHEET_LEECH "sheet_leech" CommonPractice Look below;
    /// Sheets clear of the other masts and their sails.
    SHEET_NEIGHBOUR "sheet_neighbour" Derived Danger;
    /// Sheets clear of the coachroof.
    SHEET_COACHROOF "sheet_coachroof" Derived Look;
    /// Span blocks over the deck.
    SHEET_DECK "sheet_deck" Derived Look;
    /// Sheets over the lifelines.
    SHEET_LIFELINE "sheet_lifeline" Derived Look;
    /// Slack spans that catch no batten end.
    SPAN_CATCHES "span_catches" CommonPractice Look;
    /// Lifts that hold the boom wherever it moves.
    LIFTS_OFF "lifts_off" CommonPractice Look;
    /// Sheets that one rope can be rove to.
    SHEET_ROVE "sheet_rove" Derived Look;
    /// No gear left out that the sail needs.
    GEAR "gear" CommonPractice Danger;
    /// Pull of a hand at halyard and sheets.
    HAND_FORCE "hand_force" CommonPractice Look;
    /// Ropes that the tables hold.
    ROPE_STRENGTH "rope_strength" Derived Danger;
    /// Sheets and spans strong enough for an accidental gybe.
    GYBE "gybe" CommonPractice Look;
    /// A hauling parrel keeps the standing sail from swinging to hang under its sling.
    SAIL_HELD "sail_held" Derived Look;
    /// What stands comes down, luffing, in the wind in which it should.
    COMES_DOWN "comes_down" CommonPractice Look;
    /// Stress in the mast against what is allowed, weak places within.
    MAST_STRESS "mast_stress" CommonPractice Danger;
    /// Bend of the mast in sailing.
    MAST_BEND "mast_bend" CommonPractice Look;
    /// Thrust that the mast stands up under.
    MAST_STANDS "mast_stands" Derived Danger;
    /// Pressure of the wedges.
    WEDGES "wedges" Derived Look;
    /// Stress of the wall between the wedges.
    WALL_CRUSHED "wall_crushed" Derived Danger;
    /// Bare mast that shakes in no wind that she lies in.
    MAST_SHAKES "mast_shakes" CommonPractice Look;
    /// Stress in boom, battens and yard, weak places within.
    SPAR_STRESS "spar_stress" CommonPractice Danger;
    /// Bend of boom, battens and yard.
    SPAR_BEND "spar_bend" CommonPractice Look;
    /// Forked and bowed battens that the mast does not stand in.
    STRADDLES "straddles" Derived Danger;
    /// Room between the mast and the limbs either side of it.
    MAST_ROOM "mast_room" CommonPractice Look;
    /// Slot against the mast in it.
    SLOT "slot" CommonPractice Look;
    /// Barrels that still stand.
    BARREL "barrel" CommonPractice Look;
}

/// What fouls, chafes or does not reach.
static FINDINGS: &[(What, &CheckRow, Part)] = &[
    (What::TwoBlocked, &TWO_BLOCKED, Part::Leech),
    (What::NoHold, &SHEET_HOLDS, Part::Leech),
    (What::BlockToBlock, &BLOCKS_APART, Part::Leech),
    (What::SpanShort, &SPAN_SHORT, Part::Leech),
    (What::OffBoat, &SHEET_ON_BOAT, Part::Hull),
    (What::Leech, &SHEET_LEECH, Part::Leech),
    (What::Neighbour, &SHEET_NEIGHBOUR, Part::Leech),
    (What::Coachroof, &SHEET_COACHROOF, Part::Coachroof),
    (What::Deck, &SHEET_DECK, Part::Hull),
    (What::Lifeline, &SHEET_LIFELINE, Part::Hull),
    (What::Catches, &SPAN_CATCHES, Part::Leech),
    (What::Lifts, &LIFTS_OFF, Part::Lifts),
];

/// Least wind whose vortices shake a bare mast with any strength [m/s]: 8 kn (common practice). The most is that of strength.
const SHAKES_FROM: f64 = 8.0 * wind::KNOT;

/// Lifts that are off by less are set up by hand [m] (common practice).
const LIFTS_MOST: f64 = 0.10;

/// A slide smaller than this is lost in the play of the lashings [m] (common practice).
const PLAY: f64 = 0.005;

/// Lengths are shown to the centimetre: what is missing of less than half of one is not missing [m].
const SHOWN: f64 = 0.005;

/// The same of what is shown to the millimetre [m].
const SHOWN_FINE: f64 = 0.0005;

/// CE against the rig she has, either way [% LWL] (common practice).
const LEAD_NOW_MOST: f64 = 2.0;
/// Share of the full area below which hull and bundle, not the sail, decide how she steers
/// (common practice).
pub const STEERS: f64 = 1.0 / 3.0;
/// Half width of the band of her stability above which it is but an estimate [%] (common practice).
const ESTIMATE_MOST: f64 = 15.0;
/// Sail area over displacement (common practice; owners' tables print 12 to 25).
const SAIL_AREA_LEAST: f64 = 8.0;
const SAIL_AREA_MOST: f64 = 25.0;

/// Least and greatest lead [% LWL], by profile or by extended keel (common practice).
pub fn lead_band(keel: bool, n_masts: usize) -> (f64, f64) {
    match (keel, n_masts) {
        (false, 0 | 1) => (0.0, 16.0),
        (true, 0 | 1) => (0.0, 10.0),
        (false, _) => (-2.0, 18.0),
        (true, _) => (-2.0, 14.0),
    }
}

/// All checks of a design, passed ones included.
pub(crate) fn checks(design: &Design, account: &Account) -> Vec<Check> {
    let mut list = Vec::with_capacity(CHECKS.len() * account.masts.len());
    for (m, (mast, result)) in design.masts.iter().zip(&account.masts).enumerate() {
        let mut sail = Judge {
            m: Some(m),
            list: &mut list,
        };
        sail.plan(mast, result);
        sail.folding(mast, result);
        sail.lowering(mast, result);
        sail.clearing(design, result);
        sail.placed(m, design, account);
        if let Some(cloth) = &result.cloth {
            sail.cloth(cloth);
        }
        if let Some(lines) = &result.lines {
            sail.lines(mast, lines);
        }
        if let Some(spars) = &result.spars {
            sail.spars(&design.spars.rules, spars);
        }
    }
    for room in rooms(&account.masts) {
        let mut sail = Judge {
            m: Some(room.fore),
            list: &mut list,
        };
        sail.apart(design, &room);
    }
    if let Some(limit) = design.boat.air_draught {
        let value = account.rig.air_draught;
        Judge {
            m: None,
            list: &mut list,
        }
        .hold(
            &AIR_DRAUGHT,
            value <= limit,
            Found {
                value: Some((value, &q::AIR_DRAUGHT)),
                limit: Some((limit, &q::AIR_DRAUGHT_LIMIT)),
                part: Part::Mast,
                state: None,
            },
            &|text| text,
        );
    }
    Judge {
        m: None,
        list: &mut list,
    }
    .afloat(design, account);
    list
}

/// What was found, in document units.
#[derive(Clone, Copy)]
struct Found {
    value: Option<(f64, &'static Quantity)>,
    limit: Option<(f64, &'static Quantity)>,
    part: Part,
    state: Option<usize>,
}

struct Judge<'a> {
    m: Option<usize>,
    list: &'a mut Vec<Check>,
}

impl Judge<'_> {
    /// Adds one check. A failing one says value and limit and whatever `more` puts into both its
    /// sentences: a function behind a pointer, or every check would bring a copy of this one.
    fn hold(
        &mut self,
        row: &'static CheckRow,
        passed: bool,
        found: Found,
        more: &dyn Fn(Text) -> Text,
    ) {
        let below = row
            .below
            .filter(|_| found.value.is_some_and(|value| value.0 < 0.0));
        let sentence = |key| {
            let mut text = Text::new(key);
            if let Some((value, quantity)) = found.value {
                let value = if below.is_some() { -value } else { value };
                text = text.with("value", (value, quantity));
            }
            if let Some(limit) = found.limit {
                text = text.with("limit", limit);
            }
            more(text)
        };
        let (text, advice) = if passed {
            (Text::new(row.name), Text::new("check.nothing_to_do"))
        } else {
            (sentence(below.unwrap_or(row.found)), sentence(row.advice))
        };
        self.list.push(Check {
            key: row.key,
            mast: self.m,
            state: found.state,
            value: found.value,
            limit: found.limit,
            basis: row.basis,
            severity: if passed {
                Severity::Passed
            } else {
                row.severity
            },
            text,
            advice,
            part: found.part,
        });
    }

    /// The plan as it stands.
    fn plan(&mut self, mast: &MastDesign, result: &MastAccount) {
        let (Some(plan), Some(figures)) = (&result.plan, &result.figures) else {
            return;
        };
        let sail = &mast.sail;
        // A sail or panel upside down has no proportions; that it is, is told elsewhere.
        if figures.area > 0.0 {
            self.between(
                &ASPECT,
                (figures.aspect, &q::ASPECT),
                (ASPECT_LEAST, ASPECT_MOST),
                Part::Sail,
            );
        }

        // A fan's panels are wider at the leech than at the luff: the mean counts.
        let chord = sail.boom_length();
        let width = match sail.family {
            Family::FannedHead => sail.panel_width,
            _ => figures.panel_areas.first().map_or(0.0, |area| area / chord),
        };
        if width > 0.0 {
            self.between(
                &PANEL_WIDTH,
                (width, &q::PANEL_WIDTH),
                (0.12 * chord, 0.32 * chord),
                Part::Panel(1),
            );
        }

        let (least, _, most) = bounds::cut(sail.cut.word()).balance_pct;
        self.between(
            &BALANCE,
            (100.0 * sail.balance, &q::BALANCE),
            (least, most),
            Part::Luff,
        );

        let folded = plan.panels().position(|panel| !panel.is_convex());
        self.hold(
            &PANEL_CONVEX,
            folded.is_none(),
            Found {
                value: None,
                limit: None,
                part: folded.map_or(Part::Sail, |i| Part::Panel(i + 1)),
                state: None,
            },
            &|text| text.with("number", folded.map_or(0, |i| i as u32 + 1)),
        );

        let mut turns = plan
            .spars
            .windows(2)
            .map(|s| (s[1].angle - s[0].angle).abs());
        let (turn, panel) = greatest(&mut turns);
        self.hold(
            &HEAD_STEP,
            turn.to_degrees() <= HEAD_STEP_MOST_DEG + 1e-9,
            Found {
                value: Some((turn.to_degrees(), &q::TURN)),
                limit: Some((HEAD_STEP_MOST_DEG, &q::TURN)),
                part: Part::Panel(panel + 1),
                state: None,
            },
            &|text| text.with("number", panel as u32 + 1),
        );

        let (kink, batten) = greatest(&mut figures.leech_kinks.iter().map(|kink| kink.abs()));
        self.hold(
            &LEECH_KINK,
            kink <= sail.leech_kink + 1e-9,
            Found {
                value: Some((kink.to_degrees(), &q::LEECH_KINK)),
                limit: Some((sail.leech_kink.to_degrees(), &q::LEECH_KINK_LIMIT)),
                part: Part::Leech,
                state: None,
            },
            &|text| text.with("number", batten as u32 + 1),
        );
    }

    /// What the cloth does as it folds.
    fn folding(&mut self, mast: &MastDesign, result: &MastAccount) {
        let Some(reefs) = &result.reefs else {
            return;
        };
        let n = reefs.n_panels();
        let stiff = reefs.slides.iter().position(|slide| !slide.folds);
        self.hold(
            &CLOTH_FOLDS,
            stiff.is_none(),
            Found {
                value: None,
                limit: None,
                part: stiff.map_or(Part::Bundle, |i| Part::Panel(i + 1)),
                state: None,
            },
            &|text| text.with("number", stiff.map_or(0, |i| i as u32 + 1)),
        );

        // Forced aft counts positive, forced forward negative. The yard has hauling parrels. Where
        // usual or typed travel is enough, the slide asks for nothing.
        let forced = |i: usize| {
            let slide = reefs.slides.get(i).filter(|slide| slide.folds);
            slide.map_or(0.0, |s| s.least.max(0.0) + s.most.min(0.0))
        };
        let (_, panel) = greatest(&mut (0..n.saturating_sub(1)).map(|i| forced(i).abs()));
        let slide = if n > 1 { forced(panel) } else { 0.0 };
        let needed = travel_needed(reefs);
        let left = mast.sail.travel.unwrap_or(USUAL_TRAVEL) * mast.sail.boom_length();
        let answered = needed <= left + 1e-9;
        self.hold(
            &SLIDE_FORCED,
            slide.abs() <= PLAY || answered,
            // Travel that answers the slide is what it is then held against.
            if answered && slide.abs() > PLAY {
                Found {
                    value: Some((needed, &q::TRAVEL_NEEDED)),
                    limit: Some((left, &q::TRAVEL_NEEDED)),
                    part: Part::Batten(panel + 1),
                    state: None,
                }
            } else {
                Found {
                    value: Some((slide.abs(), &q::SLIDE)),
                    limit: Some((PLAY, &q::SLIDE)),
                    part: Part::Batten(panel + 1),
                    state: None,
                }
            },
            &|text| {
                text.with("number", panel as u32 + 1)
                    .with_key(
                        "way",
                        if slide > 0.0 {
                            "way.aft"
                        } else {
                            "way.forward"
                        },
                    )
                    .with("travel", (needed, &q::TRAVEL_NEEDED))
            },
        );

        let (_, state) = greatest(&mut reefs.states.iter().map(|s| s.travel_needed));
        let shifts = reefs.states.get(state).map_or(&[][..], |s| &s.spars);
        let (_, spar) = greatest(&mut shifts.iter().take(n).map(|p| p.shift.abs()));
        self.hold(
            &TRAVEL,
            needed <= result.travel + 1e-9,
            Found {
                value: Some((needed, &q::TRAVEL_NEEDED)),
                limit: Some((result.travel, &q::TRAVEL_NEEDED)),
                part: Part::Parrel(spar),
                state: Some(state),
            },
            &|text| text.with("spar", spar_name(spar, n)),
        );
    }

    /// Yard and halyard.
    fn lowering(&mut self, mast: &MastDesign, result: &MastAccount) {
        let Some(reefs) = &result.reefs else {
            return;
        };
        let away = reefs
            .states
            .iter()
            .position(|s| s.area > 0.0 && !s.yard_at_mast);
        self.hold(
            &YARD_AT_MAST,
            away.is_none(),
            Found {
                value: None,
                limit: None,
                part: Part::Yard,
                state: away,
            },
            &|text| text,
        );
        let angle = reefs.states.first().map_or(0.0, |s| s.halyard_angle.abs());
        self.hold(
            &HALYARD_ANGLE,
            angle <= mast.sail.halyard_angle + 1e-9,
            Found {
                value: Some((angle.to_degrees(), &q::HALYARD_ANGLE)),
                limit: Some((
                    mast.sail.halyard_angle.to_degrees(),
                    &q::HALYARD_ANGLE_LIMIT,
                )),
                part: Part::Halyard,
                state: Some(0),
            },
            &|text| text,
        );
        self.hold(
            &DRIFT,
            result.drift >= result.drift_wanted - SHOWN,
            Found {
                value: Some((result.drift, &q::DRIFT)),
                limit: Some((result.drift_wanted, &q::DRIFT)),
                part: Part::Halyard,
                state: Some(0),
            },
            &|text| text,
        );
    }

    /// What the boom must clear. A boom that does not reach over a thing has nothing to clear.
    fn clearing(&mut self, design: &Design, result: &MastAccount) {
        let boat = &design.boat;
        self.over(
            &OVER_COACHROOF,
            result,
            &|row| row.over_coachroof,
            (boat.coachroof_clearance, &q::COACHROOF_CLEARANCE),
            &q::CLEARANCE_COACHROOF,
        );
        self.over(
            &OVER_SEAT,
            result,
            &|row| row.over_seat,
            (boat.cockpit_clearance, &q::COCKPIT_CLEARANCE),
            &q::CLEARANCE_COCKPIT,
        );
        self.over(
            &SIGHT,
            result,
            &|row| row.over_eye,
            (0.0, &q::CLEARANCE_SIGHT),
            &q::CLEARANCE_SIGHT,
        );
        let ends = result.squared_off.iter().map(|side| side.boom_end.z);
        if let Some(least) = ends.reduce(f64::min) {
            self.hold(
                &BOOM_END,
                least >= boat.boom_end_clearance - SHOWN,
                Found {
                    value: Some((least, &q::BOOM_END_HEIGHT)),
                    limit: Some((boat.boom_end_clearance, &q::BOOM_END_CLEARANCE)),
                    part: Part::Boom,
                    state: Some(0),
                },
                &|text| {
                    text.with(
                        "lack",
                        (boat.boom_end_clearance - least, &q::BOOM_END_CLEARANCE),
                    )
                },
            );
        }
    }

    fn over(
        &mut self,
        row: &'static CheckRow,
        result: &MastAccount,
        clearance: &dyn Fn(&StateRow) -> Option<f64>,
        limit: (f64, &'static Quantity),
        quantity: &'static Quantity,
    ) {
        if let Some((state, least)) = least(&mut result.rows.iter().map(clearance)) {
            self.hold(
                row,
                least >= limit.0 - SHOWN,
                Found {
                    value: Some((least, quantity)),
                    limit: Some(limit),
                    part: Part::Boom,
                    state: Some(state),
                },
                &|text| text.with("lack", (limit.0 - least, quantity)),
            );
        }
    }

    /// Mast and force: what the boat asks of each sail.
    fn placed(&mut self, m: usize, design: &Design, account: &Account) {
        let Some(mast) = design.masts.get(m) else {
            return;
        };
        let limits = [mast.from, mast.to];
        if limits.iter().any(Option::is_some) {
            let at = mast.position;
            let passed = limits[0].is_none_or(|from| at >= from - SHOWN)
                && limits[1].is_none_or(|to| at <= to + SHOWN);
            let [from, to] = limits;
            let limit = match (from, to) {
                (Some(from), Some(to)) if (at - to).abs() < (at - from).abs() => to,
                (Some(from), _) => from,
                (None, to) => to.unwrap_or(at),
            };
            self.hold(
                &MAST_PLACE,
                passed,
                Found {
                    value: Some((at, &q::MAST_POSITION)),
                    limit: Some((limit, &q::MAST_POSITION)),
                    part: Part::Mast,
                    state: None,
                },
                &|text| text,
            );
        }
        let mut margins = account.boat.steps.iter().map(|step| {
            let sail = step.sails.get(m);
            sail.and_then(|sail| sail.margin)
        });
        if let Some((state, margin)) = least(&mut margins) {
            let step = account.rig.sequence.get(state);
            let lowered = step.and_then(|step| step.lowered.get(m));
            // Two checks, the worse one alone told.
            let wanted = design.wind.overbalance;
            let (row, value, limit) = if margin < 0.0 {
                (&SPILLS, -margin, None)
            } else {
                (
                    &OVERBALANCE,
                    margin,
                    Some((100.0 * wanted, &q::OVERBALANCE)),
                )
            };
            self.hold(
                row,
                margin >= wanted - 1e-9,
                Found {
                    value: Some((100.0 * value, &q::OVERBALANCE)),
                    limit,
                    part: Part::Luff,
                    state: Some(state_of(lowered.copied().unwrap_or(0))),
                },
                &|text| text,
            );
        }
    }

    /// Its lines: of each kind of finding the worst, then pulls and ropes.
    fn lines(&mut self, mast: &MastDesign, lines: &LinesAccount) {
        let (input, account) = (&lines.input, &lines.account);
        if account.loads.is_empty() {
            return;
        }
        for (what, row, part) in FINDINGS {
            let there = match what {
                What::Lifts => input.lines.lifts.is_some(),
                What::Lifeline => input.deck.lifeline > 0.0,
                What::Neighbour => !input.lines.sheets.is_empty() && !input.obstacles.is_empty(),
                What::Coachroof => !input.lines.sheets.is_empty() && input.deck.roof.is_some(),
                _ => !input.lines.sheets.is_empty(),
            };
            if !there {
                continue;
            }
            let mut worst: Option<&rigging::Finding> = None;
            for finding in account.findings.iter().filter(|f| f.what == *what) {
                if worst.is_none_or(|w| finding.worse(w)) {
                    worst = Some(finding);
                }
            }
            let (quantity, limit) = match what {
                What::BlockToBlock => (&q::BLOCKS_APART, Some(input.rules.block_to_block)),
                What::Lifts => (&q::LINE_OFF, Some(LIFTS_MOST)),
                What::Leech => (&q::LINE_OFF, Some(rigging::CLEAR)),
                _ => (&q::LINE_OFF, None),
            };
            let value = worst.map(|found| match what {
                What::Leech => (found.by, quantity),
                _ => (found.by.abs(), quantity),
            });
            let passed = match what {
                What::Lifts => worst.is_none_or(|found| found.by.abs() <= LIFTS_MOST),
                _ => worst.is_none(),
            };
            self.hold(
                row,
                passed,
                Found {
                    value: value.filter(|_| !matches!(what, What::TwoBlocked | What::NoHold)),
                    limit: limit.map(|limit| (limit, quantity)),
                    part: *part,
                    state: worst.map(|found| found.state),
                },
                &|text| {
                    let angle = worst.map_or(0.0, |found| found.sheeting.abs().to_degrees());
                    text.with("angle", (angle, &q::SHEETING_ANGLE))
                },
            );
        }

        let plain = Found {
            value: None,
            limit: None,
            part: Part::Leech,
            state: None,
        };
        if !input.lines.sheets.is_empty() {
            let rove = input.lines.sheets.iter().all(|sheet| sheet.odd() <= 1);
            self.hold(&SHEET_ROVE, rove, plain, &|text| text);
        }
        let hauling = &input.lines.hauling;
        let yard = hauling.iter().any(|line| line.hauls == Hauls::Yard);
        let needed = [
            (input.lines.halyard.is_some(), "line.halyard", Part::Halyard),
            (!input.lines.sheets.is_empty(), "line.sheet", Part::Leech),
            (input.lines.lifts.is_some(), "line.lifts", Part::Lifts),
            (input.lines.parrels.is_some(), "line.parrels", Part::Luff),
            (yard, "choice.line.yard", Part::Luff),
        ];
        let mut there = true;
        for (_, line, part) in needed.into_iter().filter(|(there, ..)| !there) {
            there = false;
            let found = Found { part, ..plain };
            self.hold(&GEAR, false, found, &|text| text.with_key("line", line));
        }
        if there {
            self.hold(&GEAR, true, plain, &|text| text);
        }

        let hoist = greatest(&mut account.loads.iter().map(|l| l.hoist));
        let sheet = greatest(&mut account.loads.iter().map(|l| {
            let hands = l.working.iter().map(|w| w.hand);
            hands.fold(0.0, f64::max)
        }));
        let haul = greatest(&mut account.loads.iter().map(|l| {
            let keeps = l.keeps.and_then(|line| l.hauling.get(line)?.haul);
            keeps.unwrap_or(0.0)
        }));
        let (line, part, (pull, state)) = if haul.0 > hoist.0.max(sheet.0) {
            (Line::Hauling(0), Part::Luff, haul)
        } else if input.lines.halyard.is_some() && hoist.0 > sheet.0 {
            (Line::Halyard, Part::Halyard, hoist)
        } else {
            (Line::Sheet(0), Part::Leech, sheet)
        };
        if pull > 0.0 {
            self.hold(
                &HAND_FORCE,
                pull <= input.rules.hand,
                Found {
                    value: Some((pull, &q::HAND_PULL)),
                    limit: Some((input.rules.hand, &q::HAND_LIMIT)),
                    part,
                    state: Some(state),
                },
                &|text| text.with_key("line", line_word(line)),
            );
        }

        let thick = account.lines.iter().find(|line| line.rope.is_none());
        if !account.lines.is_empty() {
            self.hold(
                &ROPE_STRENGTH,
                thick.is_none(),
                Found {
                    value: thick.map(|line| (line.load, &q::LINE_PULL)),
                    limit: None,
                    part: thick.map_or(Part::None, |line| line_part(line.line)),
                    state: None,
                },
                &|text| {
                    let line = thick.map_or(Line::Halyard, |line| line.line);
                    text.with_key("line", line_word(line))
                },
            );
        }

        let spars = mast_spars(input);
        if !input.lines.sheets.is_empty() {
            let sheeted = |spar: usize| {
                let spans = input.lines.sheets.iter().flat_map(|s| &s.spans);
                spans
                    .flat_map(|s| &s.ends)
                    .any(|e| e.at == Knot::Spar(spar))
            };
            // Uppermost ones may be left out.
            let top = (0..spars)
                .rev()
                .find(|spar| sheeted(*spar))
                .unwrap_or(spars);
            let free = (0..top).find(|spar| !sheeted(*spar));
            self.hold(
                &ENDS_GATHERED,
                free.is_none(),
                Found {
                    value: None,
                    limit: None,
                    part: Part::Leech,
                    state: None,
                },
                &|text| text.with("spar", spar_name(free.unwrap_or(0), spars - 1)),
            );
        }

        let mut worst: Option<(f64, Line)> = None;
        for line in &account.lines {
            if let Some(left) = line.gybe_left(input)
                && worst.is_none_or(|(known, _)| left < known)
            {
                worst = Some((left, line.line));
            }
        }
        if let Some((left, line)) = worst {
            let quantity = &q::GYBE_LEFT;
            self.hold(
                &GYBE,
                left >= rigging::GYBE_FACTOR - 1e-9,
                Found {
                    value: Some((left, quantity)),
                    limit: Some((rigging::GYBE_FACTOR, quantity)),
                    part: Part::Leech,
                    state: None,
                },
                &|text| text.with_key("line", line_word(line)),
            );
        }

        // Where a batten parrel or none is all there is, nothing is said to hold it.
        if !input.lines.hauling.is_empty() {
            let swings = |l: &rigging::Loads| l.swing > 0.0 && l.keeps.is_none();
            let state = account.loads.iter().position(swings);
            self.hold(
                &SAIL_HELD,
                state.is_none(),
                Found {
                    value: None,
                    limit: None,
                    part: Part::Luff,
                    state,
                },
                &|text| text,
            );
        }

        // Pressure it comes down in, luffing, over that in which it is reefed: the least.
        let mut shares = input.states.iter().zip(&account.loads).map(|(state, l)| {
            let falls = l.falls_below.filter(|_| state.pressure > 0.0)?;
            Some(falls / (rigging::LUFFING * state.pressure))
        });
        if let Some((state, share)) = least(&mut shares)
            && let Some(there) = input.states.get(state)
        {
            let wind = |pressure| {
                let wind = wind_of(pressure, mast.sail.side_force);
                Some((q::APPARENT_WIND.document_from_si(wind), &q::APPARENT_WIND))
            };
            self.hold(
                &COMES_DOWN,
                share >= 1.0,
                Found {
                    value: wind(share * there.pressure),
                    limit: wind(there.pressure),
                    part: Part::Halyard,
                    state: Some(state),
                },
                &|text| text,
            );
        }
    }

    /// The mast among the cloth and its battens, wherever the reefs take them, and the depth of barrels.
    fn cloth(&mut self, cloth: &ClothAccount) {
        let input = &cloth.input;
        let n = input.panels();
        let spars = input.spars.iter().enumerate();
        if let Some((spar, room)) = least(&mut (0..=n).map(|i| input.mast_room(i))) {
            let wanted = input.room_wanted();
            let stands = room >= -SHOWN_FINE;
            let rows = [
                (&STRADDLES, stands, -room, None),
                (&MAST_ROOM, room >= wanted - SHOWN_FINE, room, Some(wanted)),
            ];
            // One that the mast stands in has no room.
            let told = if stands { 2 } else { 1 };
            for (row, passed, value, limit) in rows.into_iter().take(told) {
                self.hold(
                    row,
                    passed,
                    Found {
                        value: Some((value, &q::BATTEN_ROOM)),
                        limit: limit.map(|limit| (limit, &q::BATTEN_ROOM)),
                        part: part_of(spar, n),
                        state: None,
                    },
                    &|text| text.with("spar", spar_name(spar, n)),
                );
            }
        }
        if let Construction::Split(split) = input.construction {
            let wanted = |(_, spar): (usize, &Spar)| {
                let height = spar.height_on_mast()?;
                Some(2.0 * input.mast.diameter_at(height) / spar.length)
            };
            let (wanted, spar) = greatest(&mut spars.map(|at| wanted(at).unwrap_or(0.0)));
            self.hold(
                &SLOT,
                split.slot >= wanted - 1e-9,
                Found {
                    value: Some((100.0 * split.slot, &q::SLOT)),
                    limit: Some((100.0 * wanted, &q::SLOT)),
                    part: part_of(spar, n),
                    state: None,
                },
                &|text| text.with("spar", spar_name(spar, n)),
            );
        }
        if let Construction::Cambered(Cut::Barrel(_))
        | Construction::Split(Split {
            cut: Cut::Barrel(_),
            ..
        }) = input.construction
        {
            // A half circle is half as deep as it is wide.
            let (fills, panel) = greatest(&mut cloth.fills.iter().copied());
            let (depth, limit) = (0.5 * fills, input.limits.barrel);
            self.hold(
                &BARREL,
                depth <= limit + 1e-9,
                Found {
                    value: Some((100.0 * depth.min(9.99), &q::BARREL_DEPTH)),
                    limit: Some((100.0 * limit, &q::BARREL_DEPTH)),
                    part: Part::Panel(panel + 1),
                    state: None,
                },
                &|text| text.with("number", panel as u32 + 1),
            );
        }
    }

    /// Mast and spars: stress, bend, wedges, thrust, shake.
    fn spars(&mut self, rules: &Leaves, spars: &SparsAccount) {
        let mast = &spars.mast;
        if let Some(governs) = mast.cases.get(mast.governs) {
            let cap = spars.mast_input.rules.blow.winds.1;
            let [(least, most), _] = mast.shake;
            let falls = mast.cases.iter().find(|case| !case.stands);
            let bears = mast.bearing_allowed;
            let share = |ratio: f64| ratio.min(99.0);
            // Row, whether it passes, value and limit [SI], their quantity, state.
            type Judged = (
                &'static CheckRow,
                bool,
                f64,
                f64,
                &'static Quantity,
                Option<usize>,
            );
            let judged: [Judged; 6] = [
                (
                    &MAST_STRESS,
                    mast.ratio <= 1.0 + 1e-9,
                    share(mast.ratio),
                    1.0,
                    &q::AREA_SHARE,
                    Some(governs.state),
                ),
                (
                    &MAST_BEND,
                    mast.bend <= rules.usual("mast_bend_pct") + 1e-9,
                    share(mast.bend),
                    rules.usual("mast_bend_pct"),
                    &q::BEND_LIMIT,
                    None,
                ),
                (
                    &MAST_STANDS,
                    falls.is_none(),
                    falls.unwrap_or(governs).thrust,
                    0.0,
                    &q::LINE_PULL,
                    falls.map(|case| case.state),
                ),
                (
                    &WEDGES,
                    mast.bearing <= bears,
                    mast.bearing,
                    bears,
                    &q::MATERIAL_BEARING,
                    None,
                ),
                (
                    &WALL_CRUSHED,
                    mast.wall.is_none_or(|wall| wall <= bears),
                    mast.wall.unwrap_or(0.0),
                    bears,
                    &q::MATERIAL_BEARING,
                    None,
                ),
                (
                    &MAST_SHAKES,
                    most < SHAKES_FROM || least > cap,
                    least,
                    SHAKES_FROM,
                    &q::WIND_CAP,
                    None,
                ),
            ];
            for (row, passed, value, limit, quantity, state) in judged {
                // No table tells what the mast bears under its wedges, or it has no wall.
                let bearing = quantity.label == q::MATERIAL_BEARING.label;
                if bearing && (limit <= 0.0 || value <= 0.0) {
                    continue;
                }
                let number = |si: f64| (quantity.document_from_si(si), quantity);
                self.hold(
                    row,
                    passed,
                    Found {
                        value: Some(number(value)),
                        limit: (limit > 0.0).then(|| number(limit)),
                        part: Part::Mast,
                        state,
                    },
                    &|text| {
                        let most = q::WIND_CAP.document_from_si(most);
                        text.with("most", (most, &q::WIND_CAP))
                    },
                );
            }
        }
        let n = spars.sail.spars.len().saturating_sub(1);
        let limit = rules.usual("spar_bend_pct");
        for (row, stress, limit, quantity) in [
            (&SPAR_STRESS, true, 1.0, &q::AREA_SHARE),
            (&SPAR_BEND, false, limit, &q::BEND_LIMIT),
        ] {
            let mut fails = false;
            // Boom, battens, yard: of each that fails the worst.
            for from in [0, 1, n] {
                let mut worst: Option<(f64, usize, usize)> = None;
                for (i, spar) in spars.sail.spars.iter().enumerate() {
                    let of = if i == 0 || i >= n { i } else { 1 };
                    let (value, state) = if !stress {
                        (spar.bend, spar.bend_state)
                    } else if spar.stands {
                        (spar.ratio, spar.state)
                    } else {
                        (99.0, spar.state)
                    };
                    if of == from && spar.fault.is_none() && worst.is_none_or(|w| value > w.0) {
                        worst = Some((value.min(99.0), i, state));
                    }
                }
                let Some((value, i, state)) = worst else {
                    continue;
                };
                let passed = value <= limit + 1e-9;
                fails |= !passed;
                if passed && (fails || from < n) {
                    continue;
                }
                let number = |si: f64| (quantity.document_from_si(si), quantity);
                self.hold(
                    row,
                    passed,
                    Found {
                        value: Some(number(value)),
                        limit: Some(number(limit)),
                        part: part_of(i, n),
                        state: Some(state),
                    },
                    &|text| text.with("spar", spar_name(i, n)),
                );
            }
        }
    }

    /// The boat as a whole, all sails on her.
    fn afloat(&mut self, design: &Design, account: &Account) {
        let boat = &account.boat;
        let particulars = &design.boat.particulars;
        let lwl = design.boat.hull.lwl;
        let full = boat.steps.first();
        if let Some(lead) = full.and_then(|step| step.lead) {
            let keel = particulars.lateral.method == boat::Method::Keel;
            self.between(
                &LEAD,
                (100.0 * lead, &q::LEAD),
                lead_band(keel, design.masts.len()),
                Part::Sail,
            );
        }
        let now = boat.rig_now.as_ref().map(|rig| rig.together);
        if let (Some(now), Some(centre)) = (now, full.and_then(|step| step.centre)) {
            self.between(
                &LEAD_NOW,
                (100.0 * (now.x - centre.x) / lwl, &q::LEAD),
                (-LEAD_NOW_MOST, LEAD_NOW_MOST),
                Part::Sail,
            );
        }
        let steers = account.rig.sequence.iter().map(|step| step.share >= STEERS);
        let mut shifts = boat.steps.iter().zip(steers).map(|(step, steers)| {
            let shift = step.shift.filter(|_| steers);
            shift.map_or(0.0, f64::abs)
        });
        let (greatest, state) = greatest(&mut shifts);
        if full.is_some_and(|step| step.centre.is_some()) {
            // Ahead in the account, aft to the reader.
            let shift = boat.steps.get(state).and_then(|step| step.shift);
            self.hold(
                &LEAD_SHIFT,
                greatest <= design.wind.shift + 1e-9,
                Found {
                    value: Some((-100.0 * shift.unwrap_or(0.0), &q::LEAD_SHIFT)),
                    limit: Some((100.0 * design.wind.shift, &q::LEAD_SHIFT)),
                    part: Part::Sail,
                    state: Some(state),
                },
                &|text| text,
            );
        }
        let loading = boat.loadings.get(particulars.loading);
        if let Some(loading) = loading.and_then(Option::as_ref) {
            let stiffness = &loading.stiffness;
            self.hold(
                &STABLE,
                stiffness.value > 0.0,
                Found {
                    value: Some((stiffness.value, &q::STIFFNESS)),
                    limit: None,
                    part: Part::Hull,
                    state: None,
                },
                &|text| text,
            );
            if stiffness.value > 0.0 {
                let band = 100.0 * (stiffness.most - stiffness.value) / stiffness.value;
                self.hold(
                    &ESTIMATE,
                    band <= ESTIMATE_MOST,
                    Found {
                        value: Some((band, &q::STIFFNESS_BAND)),
                        limit: Some((ESTIMATE_MOST, &q::STIFFNESS_BAND)),
                        part: Part::Hull,
                        state: None,
                    },
                    &|text| text,
                );
            }
        }
        if let Some(ratio) = boat.ratios.area_displacement {
            self.between(
                &SAIL_AREA,
                (ratio, &q::SAIL_AREA_RATIO),
                (SAIL_AREA_LEAST, SAIL_AREA_MOST),
                Part::Sail,
            );
        }
        let winds = |i: usize| {
            let step = boat.steps.get(i)?;
            Some(step.on.as_ref()?.forecast.value)
        };
        let falls = (1..boat.steps.len())
            .find(|i| matches!((winds(i - 1), winds(*i)), (Some(a), Some(b)) if b < a - SHOWN));
        if winds(0).is_some() {
            let (state, before) = falls.map_or((None, None), |i| (Some(i), winds(i - 1)));
            let wind = |value: Option<f64>| {
                value.map(|value| (q::TRUE_WIND.document_from_si(value), &q::TRUE_WIND))
            };
            self.hold(
                &REEF_WINDS,
                falls.is_none(),
                Found {
                    value: wind(falls.and_then(winds)),
                    limit: wind(before),
                    part: Part::Bundle,
                    state,
                },
                &|text| text,
            );
        }
    }

    /// What stands abaft it.
    fn apart(&mut self, design: &Design, room: &Room) {
        let quantity = &q::CLEARANCE_SAILS;
        self.hold(
            &SAILS_APART,
            room.gap >= -SHOWN,
            Found {
                value: Some((room.gap, quantity)),
                limit: Some((0.0, quantity)),
                part: Part::Leech,
                state: Some(0),
            },
            &|text| {
                let edge = if room.to_mast {
                    "edge.mast"
                } else {
                    "edge.luff"
                };
                text.with("lack", (-room.gap, quantity))
                    .with_key("edge", edge)
                    .with("next", mast_name(design, room.aft))
            },
        );
    }

    /// A value that has a least and a most; the limit told is the nearer one.
    fn between(
        &mut self,
        row: &'static CheckRow,
        (value, quantity): (f64, &'static Quantity),
        (least, most): (f64, f64),
        part: Part,
    ) {
        let limit = if 2.0 * value < least + most {
            least
        } else {
            most
        };
        self.hold(
            row,
            value >= least - 1e-9 && value <= most + 1e-9,
            Found {
                value: Some((value, quantity)),
                limit: Some((limit, quantity)),
                part,
                state: None,
            },
            &|text| {
                text.with("least", (least, quantity))
                    .with("most", (most, quantity))
            },
        );
    }
}

fn mast_spars(input: &rigging::Input) -> usize {
    input.states.first().map_or(0, |state| state.spars.len())
}

/// A line in a sentence's beginning; a span goes with its sheet.
fn line_word(line: Line) -> &'static str {
    match line {
        Line::Halyard => "line.halyard",
        Line::Sheet(_) | Line::Span(..) => "line.sheet",
        Line::Lifts => "line.lifts",
        Line::Parrel(_) => "line.parrels",
        Line::Hauling(_) => "line.hauling",
    }
}

fn line_part(line: Line) -> Part {
    match line {
        Line::Halyard => Part::Halyard,
        Line::Sheet(_) | Line::Span(..) => Part::Leech,
        Line::Lifts => Part::Lifts,
        Line::Parrel(spar) => Part::Parrel(spar),
        Line::Hauling(_) => Part::Luff,
    }
}

/// The greatest of some numbers and its place; 0 at place 0 where there are none.
fn greatest(numbers: &mut dyn Iterator<Item = f64>) -> (f64, usize) {
    let mut best = (0.0, 0);
    for (i, number) in numbers.enumerate() {
        if number > best.0 {
            best = (number, i);
        }
    }
    best
}

/// The least of what is there and its place.
fn least(numbers: &mut dyn Iterator<Item = Option<f64>>) -> Option<(usize, f64)> {
    let mut least: Option<(usize, f64)> = None;
    for (i, number) in numbers.enumerate() {
        if let Some(number) = number
            && least.is_none_or(|(_, found)| number < found)
        {
            least = Some((i, number));
        }
    }
    least
}

/// A mast by its name, or its number.
fn mast_name(design: &Design, m: usize) -> Arg {
    match design.masts.get(m) {
        Some(mast) if !mast.name.trim().is_empty() => mast.name.clone().into(),
        _ => Text::new("mast.numbered")
            .with("number", m as u32 + 1)
            .into(),
    }
}

/// A spar of so many panels in the drawing.
fn part_of(spar: usize, n: usize) -> Part {
    match spar {
        0 => Part::Boom,
        _ if spar == n => Part::Yard,
        _ => Part::Batten(spar),
    }
}

/// A spar by its name in a sentence's beginning.
fn spar_name(spar: usize, n: usize) -> Arg {
    match spar {
        0 => Arg::Key("spar.boom"),
        _ if spar == n => Arg::Key("spar.yard"),
        _ => Text::new("spar.batten").with("number", spar as u32).into(),
    }
}
