//! What the lines are worked out from: the sail's states with their wind and weights, the deck, the
//! chosen leads.

use geometry::hull::Hull;
use geometry::mast::Place;
use geometry::{MOST_PANELS, ReefState, Reefs, SailPlan};
use quantities::listed::Listed as _;
use quantities::quantity as q;
use quantities::{Arg, Problem, Text, bounds};
use rigging::{
    Cleats, Deck, Fault, Input, Line, Lines, MOST_BLOCKS, Obstacle, Roof, Rules, Sheet, Span,
    State, System, Weights, even,
};
use wind::{AIR_DENSITY, KNOT};

use crate::account::{LinesAccount, MastAccount, RigStep};
use crate::design::{Design, HAULING, Leaves, LinesDesign, MastDesign, SailDesign, SpanRow};
use crate::made::Made;
use crate::sewn::ClothAccount;

/// Apparent wind at full sail where stability is not known, or none [m/s] (common practice); a reef stands as much more as its
/// area is less.
const UNKNOWN_WIND: f64 = 16.0 * KNOT;

/// What the wind for strength is made of: that of the reef so many states on, since crews reef late, in a gust, with the
/// coefficient of strength instead of heel's. The list of usual values (defaults, section 6) has all of them as common practice.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Strength {
    /// Reefs taken too late.
    pub late_reefs: usize,
    /// Gust, on speed.
    pub gust: f64,
    /// Force coefficient for strength.
    pub coefficient: f64,
    /// Least apparent wind that ropes are held against [m/s]: any boat is caught by as much.
    pub floor: f64,
    /// Most apparent wind, gust within [m/s]: nobody sails in more.
    pub cap: f64,
}

impl Strength {
    /// As the rules of the spars have it.
    pub(crate) fn of(rules: &Leaves) -> Self {
        Self {
            late_reefs: rules.usual("late_reefs") as usize,
            gust: rules.usual("gust"),
            coefficient: rules.usual("coefficient"),
            floor: rules.usual("floor_kn").min(rules.usual("cap_kn")),
            cap: rules.usual("cap_kn"),
        }
    }

    /// Wind that a state is carried up to, reefing late: the most of those up to so many reefs on, on the wind (0) or off it (1) [m/s].
    pub(crate) fn late(&self, winds: &[[f64; 2]], lowered: usize, way: usize) -> f64 {
        let late = winds.iter().skip(lowered).take(self.late_reefs + 1);
        late.fold(0.0, |most: f64, wind| most.max(wind[way]))
    }

    /// Wind for strength of a state on the wind [m/s].
    fn wind(&self, winds: &[[f64; 2]], lowered: usize) -> f64 {
        let wind = self.gust * self.late(winds, lowered, 0);
        wind.max(self.floor).min(self.cap)
    }
}

/// A least wind over the most: the most stands in for it.
pub(crate) fn floor_problem(rules: &Leaves) -> Option<Problem> {
    let number = |key: &str| q::WIND_FLOOR.document_from_si(rules.usual(key));
    let (floor, cap) = (number("floor_kn"), number("cap_kn"));
    let text = Text::new("problem.floor").with_key("label", q::WIND_FLOOR.label);
    let text = text.with("value", Arg::Given(floor, &q::WIND_FLOOR));
    let text = text.with("most", (cap, &q::WIND_CAP));
    (floor > cap).then(|| Problem::refused("spars.floor_kn", text))
}

/// Half a coachroof's width over the boat's beam (common practice; as the plan of the deck has it).
const ROOF_WIDTH: f64 = 0.31;

/// Each mast and its sail as the lines of the others meet them.
pub(crate) fn obstacles(masts: &[MastAccount]) -> Vec<Obstacle> {
    let mut all = Vec::new();
    for mast in masts {
        let spars = |state: Option<&ReefState>| {
            let placed = state.map_or(&[][..], |state| state.spars.as_slice());
            placed.iter().map(|placed| placed.spar).listed()
        };
        let states = mast.reefs.as_ref().map_or(&[][..], |reefs| &reefs.states);
        all.push(Obstacle {
            mast: mast.mast,
            standing: spars(states.first()),
            lying: spars(states.last()),
        });
    }
    all
}

/// A row of cleats on the after end of the coachroof, or on deck ahead of the cockpit; without either, well aft.
fn cleats(hull: &Hull, from: usize) -> Cleats {
    let beam = 0.5 * hull.beam;
    let (x, half, z) = match (hull.coachroof, hull.cockpit) {
        (Some(roof), _) => (
            roof.to,
            ROOF_WIDTH * hull.beam,
            hull.top_at(0.5 * (roof.from + roof.to)),
        ),
        (None, Some(well)) => (well.from, 0.7 * beam, hull.deck_height(well.from)),
        _ => {
            let (bow, stern) = hull.ends();
            let x = stern - 0.15 * (stern - bow);
            (x, 0.7 * beam, hull.deck_height(x))
        }
    };
    Cleats {
        at: (x - 0.05, half, z),
        from,
    }
}

/// Lines belayed at the row of cleats, or where they would be: all that run but sheets by their blocks.
pub(crate) fn belayed(lines: &LinesAccount) -> usize {
    let row = lines.input.deck.cleats.at.0;
    let there = |tail: &Place| tail.x <= row + 1e-9;
    let tails = lines.account.lines.iter().filter_map(|line| line.tail);
    tails.filter(there).count()
}

/// All but one's own.
fn others(obstacles: &[Obstacle], m: usize) -> Vec<Obstacle> {
    let mut others = obstacles.to_vec();
    if m < others.len() {
        others.remove(m);
    }
    others
}

/// The lines of a mast's sail; none without a sail.
pub(crate) fn lines(
    design: &Design,
    m: usize,
    account: &MastAccount,
    (obstacles, taken): (&[Obstacle], usize),
    (sequence, steps): (&[RigStep], &[boat::StepAccount]),
    made: &Made,
    problems: &mut Vec<Problem>,
) -> Option<LinesAccount> {
    let (typed, reefs) = (design.masts.get(m)?, account.reefs.as_ref()?);
    let hull = &design.boat.hull;
    let ends = hull.ends();
    let rules = &design.lines;
    let strength = Strength::of(&design.spars.rules);
    let running = design.boat.particulars.conditions.running_force;
    let (winds, none) = winds(m, reefs, sequence, steps, strength.cap);
    if none {
        let wind = q::APPARENT_WIND.document_from_si(UNKNOWN_WIND);
        let text = Text::new("problem.no_wind").with("limit", (wind, &q::APPARENT_WIND));
        problems.push(Problem::new(path(m, ""), text));
    }
    let mut input = Input {
        mast: account.mast,
        fitting: account.mast.lap - typed.sail.masthead_clearance,
        sling: typed.sail.sling,
        squared: typed.sail.squared_off,
        close: rules.close,
        states: states((&typed.sail, running), reefs, &winds, &strength),
        lines: Lines::default(),
        weights: weights(typed, account.cloth.as_ref()?, rules.wet, made),
        give: made.give,
        deck: Deck {
            height: hull.deck_height(ends.1),
            ends,
            half_beam: hull.half_beam_at(ends.1),
            sides: core::array::from_fn(|i| {
                hull.half_beam_at(ends.0 + 0.125 * i as f64 * (ends.1 - ends.0))
            }),
            lifeline: rules.lifeline,
            roof: hull.coachroof.map(|roof| Roof {
                from: roof.from,
                to: roof.to,
                half_width: ROOF_WIDTH * hull.beam,
                top: hull.top_at(0.5 * (roof.from + roof.to)),
            }),
            well: hull.cockpit.map(|well| (well.from, well.to)),
            cleats: cleats(hull, taken),
        },
        obstacles: others(obstacles, m),
        rules: Rules {
            tip: typed.lines.typed("sheet.tip_m").unwrap_or(0.0),
            ..rules.rules
        },
        ropes: rules.ropes,
        tails: rules.tails,
    };
    input.lines = chosen(&typed.lines, m, &input, problems);
    if let Some(parrels) = &mut input.lines.parrels {
        parrels.travel = account.travel;
    }
    let account = rigging::account(&input);
    for fault in &account.faults {
        let (leaf, most) = match fault {
            Fault::Led(Line::Lifts) => ("lifts.catches_pct", MOST_BLOCKS),
            Fault::Led(Line::Hauling(_)) => ("holds", 2 * MOST_PANELS),
            Fault::Led(_) => ("spans", MOST_BLOCKS),
            _ => {
                problems.push(Problem::refused(path(m, ""), Text::new("problem.no_lines")));
                continue;
            }
        };
        let text = Text::new("problem.too_many").with("most", most as u32);
        let problem = Problem::refused(path(m, leaf), text);
        // Each span of such a sheet is at fault.
        if !problems.contains(&problem) {
            problems.push(problem);
        }
    }
    Some(LinesAccount {
        input,
        account,
        strength,
        winds,
    })
}

/// Path of a leaf of a sail's lines, or of all of them.
fn path(m: usize, leaf: &str) -> String {
    let path = format!("masts.{m}.lines.{leaf}");
    path.strip_suffix('.').map(str::to_owned).unwrap_or(path)
}

/// The usual lines of what is chosen, with whatever is typed laid over them.
fn chosen(typed: &LinesDesign, m: usize, input: &Input, problems: &mut Vec<Problem>) -> Lines {
    let mut lines = Lines::usual(input, &typed.choices);
    let spars = input.states.first().map_or(0, |s| s.spars.len());
    let yard = spars.saturating_sub(1);
    let mut within = |(list, at, leaf): (&str, usize, &str), value: usize, most: usize| {
        if value <= most {
            return true;
        }
        let path = path(m, &format!("{list}.{at}.{leaf}"));
        let Some(row) = bounds::row(&path) else {
            return false;
        };
        let number = |n: usize| Arg::Given(n as f64, row.quantity);
        let text = Text::new("problem.beyond")
            .with_key("label", row.quantity.label)
            .with("value", number(value))
            .with("most", number(most));
        problems.push(Problem::refused(path, text));
        false
    };
    if !typed.typed.is_empty() {
        slots(&mut lines, &mut |parts, value| {
            let known = typed.typed.iter().find(|(leaf, _)| is(leaf, parts));
            *value = known.map_or(*value, |(_, typed)| *typed);
        });
    }

    let sheets = lines.sheets.len();
    let mut spans: [Vec<&SpanRow>; 2] = Default::default();
    for row in &typed.spans {
        // Without a sheet they hold nothing.
        if sheets > 0
            && within(("spans", row.at, "sheet"), row.sheet + 1, sheets)
            && within(("spans", row.at, "top"), row.top, yard)
            && within(("spans", row.at, "ends"), row.ends, row.top + 1)
            && let Some(spans) = spans.get_mut(row.sheet)
        {
            spans.push(row);
        }
    }
    let alike = typed.choices.system == Some(System::Pair) && spans[1].is_empty();
    for (i, sheet) in lines.sheets.iter_mut().enumerate().take(2) {
        let parts = parts(sheet);
        let rows = &spans[if alike { 0 } else { i }];
        if !rows.is_empty() {
            sheet.spans.clear();
        }
        for (k, row) in rows.iter().enumerate() {
            let last = k + 1 == rows.len();
            let parts = row.parts.unwrap_or(if last { parts } else { even(parts) });
            let block = sheet.deck.first().copied().unwrap_or(sheet.cleat);
            let mut span = Span::usual(input, (row.top, row.ends), parts, block);
            span.length = row.length.unwrap_or(span.length);
            sheet.spans.push(span);
        }
    }

    if let Some(lifts) = &mut lines.lifts
        && !typed.catches.is_empty()
    {
        lifts.catches.clone_from(&typed.catches);
    }
    for line in &mut lines.hauling {
        let i = line.hauls as usize;
        let mut holds = Vec::new();
        for row in typed.holds.iter().filter(|row| row.line == i) {
            if within(("holds", row.at, "spar"), row.hold.spar, yard) {
                holds.push(row.hold);
            }
        }
        if !holds.is_empty() {
            line.holds = holds;
        }
    }
    lines
}

/// Parts of the block its end may be fast on: the last span's.
fn parts(sheet: &Sheet) -> usize {
    let last = sheet.spans.last().and_then(|s| s.falls.first());
    last.map_or(1, |fall| fall.parts)
}

/// Whether a leaf is that of these parts.
pub(crate) fn is(leaf: &str, [head, middle, end]: [&str; 3]) -> bool {
    let rest = leaf.strip_prefix(head).and_then(|r| r.strip_prefix(middle));
    rest == Some(end)
}

/// Every number of the lines that has a field of its own, with the parts of the field's path.
pub(crate) fn slots(lines: &mut Lines, each: &mut dyn FnMut([&str; 3], &mut f64)) {
    let place =
        |head: &str, at: &str, place: &mut Place, each: &mut dyn FnMut([&str; 3], &mut f64)| {
            each([head, at, "_x_m"], &mut place.x);
            each([head, at, "_y_m"], &mut place.y);
            each([head, at, "_z_m"], &mut place.z);
        };
    if let Some(halyard) = &mut lines.halyard {
        let mut parts = halyard.parts as f64;
        each(["halyard", ".parts", ""], &mut parts);
        halyard.parts = parts as usize;
        place("halyard", ".lead", &mut halyard.lead, each);
        place("halyard", ".cleat", &mut halyard.cleat, each);
    }
    for (i, sheet) in lines.sheets.iter_mut().enumerate().take(2) {
        if let Some(block) = sheet.deck.first_mut() {
            place("sheet", [".block", ".block_2"][i], block, each);
        }
        place("sheet", [".cleat", ".cleat_2"][i], &mut sheet.cleat, each);
        let mut parts = parts(sheet) as f64;
        each(["sheet", ".parts", ""], &mut parts);
        sheet.part(parts as usize);
    }
    if let Some(lifts) = &mut lines.lifts {
        each(["lifts", ".height", "_m"], &mut lifts.height);
        if let Some(cleat) = &mut lifts.cleat {
            place("lifts", ".cleat", cleat, each);
        }
    }
    if let Some(parrels) = &mut lines.parrels {
        each(["parrels", ".ahead", "_m"], &mut parrels.ahead);
        each(["parrels", ".abaft", "_m"], &mut parrels.abaft);
    }
    for line in &mut lines.hauling {
        let head = HAULING[line.hauls as usize];
        if let [first, rest @ ..] = line.leads.as_mut_slice() {
            place(head, ".lead", first, each);
            if let Some(cleat) = rest.last_mut() {
                place(head, ".cleat", cleat, each);
            }
        }
    }
}

/// Winds each state is carried up to by panels lowered, on the wind and off it [m/s]; and whether she stands up to none.
fn winds(
    m: usize,
    reefs: &Reefs,
    sequence: &[RigStep],
    steps: &[boat::StepAccount],
    cap: f64,
) -> (Vec<[f64; 2]>, bool) {
    let mut none = false;
    let mut winds = Vec::new();
    for state in &reefs.states {
        if state.lowered < winds.len() {
            continue;
        }
        let mut found = [0.0f64; 2];
        for (step, account) in sequence.iter().zip(steps) {
            if step.lowered.get(m) != Some(&state.lowered) {
                continue;
            }
            for (wind, limit) in found.iter_mut().zip([&account.on, &account.off]) {
                if let Some(limit) = limit {
                    *wind = wind.max(limit.apparent);
                    none |= limit.apparent <= 0.0;
                }
            }
        }
        for wind in &mut found {
            if *wind <= 0.0 {
                *wind = UNKNOWN_WIND / state.share.max(0.01).sqrt();
            }
            *wind = wind.min(cap);
        }
        winds.push(found);
    }
    (winds, none)
}

/// The reef states, each with the wind it is carried up to, on the wind and off it, and that of strength.
fn states(
    (sail, running): (&SailDesign, f64),
    reefs: &Reefs,
    winds: &[[f64; 2]],
    strength: &Strength,
) -> Vec<State> {
    let pressure = |coefficient: f64, wind: f64| 0.5 * AIR_DENSITY * coefficient * wind * wind;
    (reefs.states.iter())
        .map(|state| {
            let unknown = [UNKNOWN_WIND; 2];
            let [on, off] = *winds.get(state.lowered).unwrap_or(&unknown);
            let strong = strength.wind(winds, state.lowered);
            State {
                lowered: state.lowered,
                on_lifts: state.on_lifts,
                spars: state.spars.iter().map(|placed| placed.spar).listed(),
                area: state.area,
                centre: state.pressure,
                pressure: pressure(sail.side_force, on),
                strength: pressure(strength.coefficient, strong),
                running: pressure(running, off),
            }
        })
        .listed()
}

/// Wind of a pressure that has a coefficient within [m/s].
pub(crate) fn wind_of(pressure: f64, coefficient: f64) -> f64 {
    (2.0 * pressure / (AIR_DENSITY * coefficient)).sqrt()
}

/// Apparent wind up to which what stands comes down of its own weight, the sail luffing [m/s].
pub fn comes_down(loads: &rigging::Loads, coefficient: f64) -> Option<f64> {
    let pressure = loads.falls_below? / rigging::LUFFING;
    Some(wind_of(pressure, coefficient)).filter(|wind| wind.is_finite())
}

/// Cloth by the size of the sail [m², kg/m²]: the first row it does not pass (common practice).
const CLOTH: [(f64, f64); 5] = [
    (10.0, 0.140),
    (20.0, 0.180),
    (35.0, 0.230),
    (60.0, 0.280),
    (f64::INFINITY, 0.330),
];
/// Cloth of a sail, typed or by its size [kg/m²].
pub(crate) fn cloth(typed: &MastDesign, plan: &SailPlan) -> f64 {
    if let Some(grams) = typed.weights.cloth {
        return 0.001 * grams;
    }
    let area = plan.area();
    let mut cloth = 0.0;
    for (most, mass) in CLOTH {
        cloth = mass;
        if area <= most {
            break;
        }
    }
    cloth
}

/// Weights as typed, else of the spars as made, all limbs of a fork or a pair of bows as heavy as the batten for their length.
fn weights(typed: &MastDesign, cloth: &ClothAccount, wet: f64, made: &Made) -> Weights {
    let known = &typed.weights;
    let sewn = &cloth.input;
    let last = sewn.panels();
    let mut spars = Vec::new();
    for (i, spar) in sewn.spars.iter().enumerate() {
        let known = if i == 0 {
            known.boom
        } else if i == last {
            known.yard
        } else {
            known.batten
        };
        let made = made.weights.spars.get(i).copied().flatten();
        let limbs = sewn.stick_length(i) / spar.length.max(0.01);
        spars.push(known.unwrap_or(made.map_or(0.0, |weight| limbs * weight.mass)));
    }
    Weights {
        spars,
        cloth: cloth.panels.clone(),
        wet,
    }
}
