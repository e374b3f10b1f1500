//! What the lines carry: statics.

use core::f64::consts::PI;

use crate::account::{Held, Loads, Working};
use crate::sheet::{Hanging, NO_LEVER, outward};
use crate::space::{Frame, dot, on};
use crate::tackle::{gain, hauled, held};
use crate::work::Hung;
use crate::{End, GRAVITY, Hauling, Input, Knot, LUFFING, Line, MOST_BLOCKS, Sheet, State};
use kurbo::Point;
use wind::AIR_DENSITY;

/// Masses of a part of the sail: sum, first moment about the partners, second about the mast axis.
#[derive(Clone, Copy, Default)]
struct Mass {
    sum: f64,
    u: f64,
    v: f64,
    turning: f64,
}

impl Mass {
    /// Adds a rod or a strip of cloth between two points, its mass spread evenly: second moment m (a² + a b + b²) / 3.
    fn add(&mut self, mass: f64, a: Point, b: Point) {
        self.sum += mass;
        self.u += 0.5 * mass * (a.x + b.x);
        self.v += 0.5 * mass * (a.y + b.y);
        self.turning += mass * (a.x * a.x + a.x * b.x + b.x * b.x) / 3.0;
    }
}

/// Number of spars that lie on the lifts.
pub(crate) fn lying(now: &State) -> usize {
    if now.on_lifts { now.lowered + 1 } else { 0 }
}

/// Standing (dry cloth times `wet`) and lying (cloth wet) part of the sail.
fn masses(input: &Input, now: &State, wet: f64) -> (Mass, Mass) {
    let (mut up, mut down) = (Mass::default(), Mass::default());
    let lie = lying(now);
    for (i, (spar, mass)) in now.spars.iter().zip(&input.weights.spars).enumerate() {
        let (a, b) = (spar.luff, spar.leech());
        let part = if i < lie { &mut down } else { &mut up };
        part.add(mass.max(0.0), a, b);
        // The cloth above it.
        if let (Some(cloth), Some(over)) = (input.weights.cloth.get(i), now.spars.get(i + 1)) {
            let (a, b) = (a.lerp(over.luff, 0.5), b.lerp(over.leech(), 0.5));
            let lies = i + 1 < lie;
            let factor = if lies { input.weights.wet } else { wet };
            let part = if lies { &mut down } else { &mut up };
            part.add(cloth.max(0.0) * factor.max(0.0), a, b);
        }
    }
    (up, down)
}

/// Mass of a block with its shackle [kg] (common practice, small boats').
const BLOCK: f64 = 0.25;

/// Weight of the blocks that hang on what stands [N].
fn blocks(input: &Input, now: &State) -> f64 {
    let mut count = 0.0;
    if input.lines.halyard.is_some_and(|h| h.parts > 1) {
        count += 1.0;
    }
    for span in input.lines.sheets.iter().flat_map(|s| &s.spans) {
        let stands = |end: &End| matches!(end.at, Knot::Spar(spar) if spar >= lying(now));
        if span.ends.iter().any(stands) {
            count += 1.0;
        }
    }
    count * BLOCK * GRAVITY
}

/// Loads of a state, its sheets hung at each angle of the account after the first.
pub(crate) fn loads(input: &Input, now: &State, hung: &[Hung]) -> Loads {
    let rules = &input.rules;
    let (up, down) = masses(input, now, 1.0);
    let (up_wet, _) = masses(input, now, input.weights.wet);
    let mut found = Loads {
        standing: up.sum * GRAVITY,
        lying: down.sum * GRAVITY,
        wind: wind_on(now).0,
        ..Loads::default()
    };
    if now.pressure > 0.0 {
        let times = now.strength.max(0.0) / now.pressure;
        found.times = if times < MOST_TIMES { times } else { 0.0 };
    }
    if found.standing > 0.0 {
        found.blocks = blocks(input, now);
    }
    for (sheeting, sheets) in hung {
        found.working.push(working(input, now, *sheeting, sheets));
    }
    let (mut down_up, mut down_lying) = (0.0f64, 0.0f64);
    for work in &found.working {
        down_up = down_up.max(work.down.0);
        down_lying = down_lying.max(work.down.1);
    }
    found.sheet_down = down_up;
    found.lift_down = down_lying;
    found.sling = found.standing + down_up;

    // On the wind what the mast takes presses the parrels.
    let weight = found.standing + found.blocks;
    for (i, work) in found.working.iter_mut().enumerate() {
        let friction = rules.parrel_friction.max(0.0) * work.mast;
        let limit = now.pressure * weight / friction;
        if friction > 0.0 && found.standing > 0.0 && limit.is_finite() {
            work.falls_below = Some(limit);
        }
        if i < 2 && friction >= found.friction {
            found.friction = friction;
            found.falls_below = work.falls_below;
        }
    }

    let parts = input.lines.halyard.map_or(1, |h| h.parts.min(6));
    let wet = up_wet.sum * GRAVITY + found.blocks + LUFFING * found.friction;
    if found.standing > 0.0 {
        found.hoist = hauled(wet, parts, 1, rules.sheave_loss);
        found.hold = held(weight, parts, 1, rules.sheave_loss);
    }

    if let (Some(yard), true) = (now.spars.last(), up.sum > 0.0) {
        let sling = on(yard, input.sling);
        found.swing = (GRAVITY * (up.u - up.sum * sling.x)).max(0.0);
        for (i, line) in input.lines.hauling.iter().enumerate() {
            let held = held_by(input, now, line, sling, found.swing);
            let least = |i: usize| found.hauling.get(i).and_then(|h: &Held| h.pull);
            let known = found.keeps.and_then(least).unwrap_or(f64::INFINITY);
            if held.pull.is_some_and(|pull| pull < known) && input.led(Line::Hauling(i)) {
                found.keeps = Some(i);
            }
            found.hauling.push(held);
        }
    }
    (found.lift, found.lift_fall) =
        lift(input, now, &down, (rules.dynamic, down_lying * found.times));
    let still = lift(input, now, &down, (1.0, 0.0)).1;
    found.lift_hand = hauled(still, 1, 0, rules.sheave_loss);
    found
}

/// More than any pressure for strength is over that of the hand.
const MOST_TIMES: f64 = 1e6;

/// A line against the swing of what stands, by virtual work on its own path: the standing holds turn about the sling, those that lie
/// stay.
///
/// Hauled, its pull grows less from the tail on by every sheave and, in a turn round the mast of half its circumference, by
/// exp(-friction π) (Euler and Eytelwein, textbooks); a turn's lesser pull is taken for both its ends.
fn held_by(input: &Input, now: &State, line: &Hauling, sling: Point, swing: f64) -> Held {
    const STEP: f64 = 1e-5;
    let lie = lying(now);
    let mut grows: Vec<f64> = Vec::new();
    for by in [STEP, -STEP] {
        let moved = |spar: usize, p: Point| {
            let (up, aft) = (p.y - sling.y, p.x - sling.x);
            let by = if spar < lie { 0.0 } else { by };
            Point::new(p.x + by * up, p.y - by * aft)
        };
        let mut leg = 0;
        input.legs(line, now, &moved, &mut |length| {
            if by > 0.0 {
                grows.push(length);
            } else if let Some(grows) = grows.get_mut(leg) {
                *grows = (*grows - length) / (2.0 * STEP);
            }
            leg += 1;
        });
    }
    let rules = &input.rules;
    let sheave = (1.0 - rules.sheave_loss).max(0.1);
    let mut passed = if line.leads.len() > 1 { sheave } else { 1.0 };
    let (mut lever, mut hauled) = (0.0, 0.0);
    for (i, grows) in grows.iter().rev().enumerate() {
        if i > 0 || line.leads.is_empty() {
            passed *= sheave;
            if line.hauls.round() {
                passed *= (-rules.parrel_friction.max(0.0) * PI).exp();
            }
        }
        lever += grows;
        hauled += grows * passed;
    }
    let pull = |lever: f64| (lever > NO_LEVER).then(|| swing / lever);
    let held = pull(lever);
    Held {
        lever,
        pull: held,
        haul: pull(hauled).filter(|_| held.is_some() && line.cleat().is_some()),
    }
}

/// The sheets at one angle.
pub(crate) fn working(
    input: &Input,
    now: &State,
    sheeting: f64,
    sheets: &[Option<Hanging>],
) -> Working {
    let mut work = Working {
        sheeting,
        ..Working::default()
    };
    let out = outward(sheeting);
    let frame = Frame::new(&input.mast, sheeting);
    // Those that hold share one pull.
    let hung = || {
        let all = input.lines.sheets.iter().zip(sheets).enumerate();
        all.filter_map(|(i, (sheet, hanging))| {
            let hanging = hanging.as_ref()?;
            (input.holds(i, sheeting, hanging)).then_some((sheet, hanging))
        })
    };
    let lever: f64 = hung().map(|(_, h)| h.lever * out).sum();
    let (wind, centre) = wind_on(now);
    let (mut side, mut along) = (0.0, 0.0);
    // The sheet holds the wind about the mast; centre abaft it.
    if lever > 0.0 && wind * centre > 0.0 {
        let tension = wind * centre / lever;
        work.tension = Some(tension);
        for (sheet, hanging) in hung() {
            work.hand = work.hand.max(pulled(input, sheet, tension));
            let parts = parts(sheet);
            let pull = tension * parts as f64;
            work.held = work.held.max(held(pull, parts, 0, input.rules.sheave_loss));
            let mut pulls = Vec::new();
            hanging.ends(sheet, now, &frame, tension, &mut |pull| pulls.push(pull));
            for pull in pulls {
                if pull.spar < lying(now) {
                    work.down.1 += pull.down;
                } else {
                    work.down.0 += pull.down;
                }
                side += dot(pull.force, frame.w);
                along += dot(pull.force, frame.u);
                work.thrust = work.thrust.max(pull.thrust);
                work.pulls.push(pull);
            }
        }
    }
    work.mast = (out * wind + side).hypot(along);
    work
}

/// The design wind's force on what stands [N], and how far abaft the mast it attacks [m].
pub(crate) fn wind_on(now: &State) -> (f64, f64) {
    match now.centre {
        Some(centre) => ((now.pressure * now.area).max(0.0), centre.x),
        None => (0.0, 0.0),
    }
}

/// Pull at a sheet's tail to haul it against a mean pull in its parts [N]: as many sheaves as parts, all drawn alike.
pub(crate) fn pulled(input: &Input, sheet: &Sheet, tension: f64) -> f64 {
    let parts = parts(sheet);
    tension * parts as f64 / gain(parts, input.rules.sheave_loss)
}

/// Parts of a sheet, all together.
pub(crate) fn parts(sheet: &Sheet) -> usize {
    let falls = sheet.spans.iter().flat_map(|span| &span.falls);
    falls.map(|f| f.parts).sum::<usize>().max(1)
}

/// The greatest pull in a leg of the lifts, and that of all legs of a side together [N], with so many times the bundle's
/// weight and the sheet's down pull on it.
///
/// The boom is stiff and hangs on legs that give alike: each takes W/n (1 + (x - m)(x_i - m) / s²) with the load at x,
/// legs at x_i with mean m and mean square s² about it; legs that would push are slack, and the rest take it all. On the wind the
/// bundle leans on the lifts of one side, so all of it is theirs; a leg that leans takes W / cos. Derived.
fn lift(input: &Input, now: &State, bundle: &Mass, (times, sheet): (f64, f64)) -> (f64, f64) {
    let (Some(lifts), Some(boom)) = (&input.lines.lifts, now.spars.first()) else {
        return (0.0, 0.0);
    };
    let dynamic = times.max(0.0) * GRAVITY;
    let sheet = sheet.max(0.0);
    let load = dynamic * bundle.sum + sheet;
    if load <= 0.0 || !input.led(Line::Lifts) {
        return (0.0, 0.0);
    }
    // The sheet draws at the clew.
    let at = (dynamic * bundle.u + sheet * boom.leech().x) / load;
    let mut slack = [false; MOST_BLOCKS];
    let (mut worst, mut sum) = (0.0f64, 0.0);
    // Each round drops a leg, or is the last.
    for _ in &lifts.catches {
        let (mut n, mut m, mut s) = (0.0, 0.0, 0.0);
        let legs = || lifts.catches.iter().zip(slack).enumerate();
        let taut = || legs().filter(|(_, (_, slack))| !slack);
        for (_, (catch, _)) in taut() {
            let x = on(boom, *catch).x;
            n += 1.0;
            m += x;
            s += x * x;
        }
        m /= n;
        s = s / n - m * m;
        let (mut least, mut pushes) = (0.0, None);
        (worst, sum) = (0.0, 0.0);
        for (i, (catch, _)) in taut() {
            let p = on(boom, *catch);
            let lean = if s > 1e-9 {
                (at - m) * (p.x - m) / s
            } else {
                0.0
            };
            let share = (1.0 + lean) / n;
            if share < least {
                (least, pushes) = (share, Some(i));
            }
            let up = (lifts.height - p.y).max(0.1);
            let pull = load * share * (p.x / up).hypot(1.0);
            worst = worst.max(pull);
            sum += pull;
        }
        let Some(i) = pushes else { break };
        slack[i] = true;
    }
    (worst, sum)
}

/// Speed of the leech over the wind's at which a sail that swings about its luff is driven no faster: ∫ (1 - x s)|1 - x s| s ds = 0
/// over the chord, so (x - 1)³/3 + (x - 1)⁴/4 = 1/12.
const OUTRUN: f64 = 1.5606;

/// The sheet when an accidental gybe comes to its end, squared off.
pub(crate) struct Jerk {
    /// What it holds the wind with there [N].
    still: f64,
    /// What is to be stopped [J].
    energy: f64,
    /// Rope that stretches [m].
    rope: f64,
    /// Force at the leech over the pull in the rope: what the rope grows over the way of the leech, n = (dL/d angle) / leech.
    parts: f64,
}

/// With the wind from dead aft its moment M sin θ drives the sail from amidships to squared off: it works at most M. And the sail swings at
/// most so fast that its leech outruns the wind, whose speed is √(2 p / ρ) at the pressure it is carried up to: ½ I (1.56 V / leech)². The
/// lesser is the energy E. A gybe happens running, so p is the pressure off the wind; what the sheet holds goes with it. Derived, on the safe side: the air carried along and the giving of the mast are left out.
pub(crate) fn jerk(input: &Input, working: &[Working], hung: &[Hung], now: &State) -> Option<Jerk> {
    let centre = now.centre?.x;
    let pressure = now.running.max(0.0);
    let still = working.last()?.tension? * pressure / now.pressure;
    let (sheeting, sheets) = hung.last()?;
    let leech = (now.spars.iter()).fold(0.1, |most: f64, s| most.max(s.leech().x));
    let speed = OUTRUN * (2.0 * pressure / AIR_DENSITY).sqrt() / leech;
    let (up, down) = masses(input, now, 1.0);
    let swing = 0.5 * (up.turning + down.turning) * speed * speed;
    let energy = swing.min(pressure * now.area * centre).max(0.0);
    let (mut rope, mut lever) = (0.0, 0.0);
    for (i, hanging) in sheets.iter().enumerate() {
        if let Some(hanging) = hanging
            && input.holds(i, *sheeting, hanging)
        {
            rope += hanging.length;
            lever += hanging.lever.abs();
        }
    }
    Some(Jerk {
        still,
        energy,
        rope: rope.max(0.1),
        parts: lever / leech,
    })
}

impl Jerk {
    /// Pull in a rope of a strength, and the blow it all gives at the leech [N].
    ///
    /// Rope and spars are springs one after the other. With T in the rope it stretches by T/k, k = strength/5 / (stretch x rope), so
    /// the leech goes by T/(k n) for the rope; the force at the leech is n T, and for the spars' giving it goes by c n T. Stored:
    /// T²/(2 k) + (n T)² c/2 = T²/(2 K), 1/K = 1/k + n² c. Meanwhile the wind, n T₀ at the leech, adds n T₀ (T/(k n) + c n T) =
    /// T₀ T/K. So E + T₀ T/K = T²/(2 K), T = T₀ + √(T₀² + 2 K E). Derived.
    pub(crate) fn pull(&self, input: &Input, strength: f64) -> (f64, f64) {
        let rope = input.rules.stretch.max(1e-3) * self.rope / (0.2 * strength);
        let spring = 1.0 / (rope + self.parts * self.parts * input.give.max(0.0));
        let pull = self.still + (self.still * self.still + 2.0 * spring * self.energy).sqrt();
        (pull, self.parts * pull)
    }
}
