//! Results held against their limits. Each check has one row in [`CHECKS`], and a test that sees
//! it pass and fail.

use quantities::bounds::{self, ASPECT_LEAST, ASPECT_MOST, HEAD_STEP_MOST_DEG};
use quantities::quantity as q;
use quantities::{Arg, Basis, Check, Part, Quantity, Severity, Text};

use crate::account::{Account, MastAccount, StateRow, USUAL_TRAVEL, travel_needed};
use crate::design::{Design, Family, MastDesign};
use crate::neighbours::{Room, rooms};

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
}

/// A slide smaller than this is lost in the play of the lashings [m] (common practice).
const PLAY: f64 = 0.005;

/// Lengths are shown to the centimetre: what is missing of less than half of one is not missing [m].
const SHOWN: f64 = 0.005;

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
    list
}

/// What was found, in document units.
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

        let turns = plan
            .spars
            .windows(2)
            .map(|s| (s[1].angle - s[0].angle).abs());
        let (turn, panel) = greatest(turns);
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

        let (kink, batten) = greatest(figures.leech_kinks.iter().map(|kink| kink.abs()));
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
        let (_, panel) = greatest((0..n.saturating_sub(1)).map(|i| forced(i).abs()));
        let slide = if n > 1 { forced(panel) } else { 0.0 };
        let needed = travel_needed(reefs);
        let left = mast.sail.travel.unwrap_or(USUAL_TRAVEL) * mast.sail.boom_length();
        self.hold(
            &SLIDE_FORCED,
            slide.abs() <= PLAY || needed <= left + 1e-9,
            Found {
                value: Some((slide.abs(), &q::SLIDE)),
                limit: Some((PLAY, &q::SLIDE)),
                part: Part::Batten(panel + 1),
                state: None,
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

        let (_, state) = greatest(reefs.states.iter().map(|s| s.travel_needed));
        let shifts = reefs.states.get(state).map_or(&[][..], |s| &s.spars);
        let (_, spar) = greatest(shifts.iter().take(n).map(|p| p.shift.abs()));
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
            |row| row.over_coachroof,
            (boat.coachroof_clearance, &q::COACHROOF_CLEARANCE),
            &q::CLEARANCE_COACHROOF,
        );
        self.over(
            &OVER_SEAT,
            result,
            |row| row.over_seat,
            (boat.cockpit_clearance, &q::COCKPIT_CLEARANCE),
            &q::CLEARANCE_COCKPIT,
        );
        self.over(
            &SIGHT,
            result,
            |row| row.over_eye,
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
        clearance: impl Fn(&StateRow) -> Option<f64>,
        limit: (f64, &'static Quantity),
        quantity: &'static Quantity,
    ) {
        let clear = result.rows.iter().map(clearance);
        let least = clear
            .enumerate()
            .filter_map(|(i, value)| Some((i, value?)))
            .reduce(|a, b| if b.1 < a.1 { b } else { a });
        if let Some((state, least)) = least {
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

/// The greatest of some numbers and its place; 0 at place 0 where there are none.
fn greatest(numbers: impl Iterator<Item = f64>) -> (f64, usize) {
    numbers.enumerate().fold(
        (0.0, 0),
        |best, (i, x)| if x > best.0 { (x, i) } else { best },
    )
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

/// A spar by its name in a sentence's beginning.
fn spar_name(spar: usize, n: usize) -> Arg {
    match spar {
        0 => Arg::Key("spar.boom"),
        _ if spar == n => Arg::Key("spar.yard"),
        _ => Text::new("spar.batten").with("number", spar as u32).into(),
    }
}
