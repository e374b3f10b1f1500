//! What the lines carry: statics.

use crate::account::{Loads, Working};
use crate::sheet::Hanging;
use crate::space::{Frame, dot, plus};
use crate::tackle::{gain, hauled, held};
use crate::{GRAVITY, Hauls, Input, State};
use kurbo::Point;

/// A lever shorter than this holds nothing [m].
const NO_LEVER: f64 = 0.02;

/// Density of air at sea level [kg/m³]: ISO 2533.
const AIR: f64 = 1.225;

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

/// Loads of a state, its sheets hung at each angle of the account after the first.
pub(crate) fn loads(input: &Input, now: &State, hung: &[(f64, Vec<Option<Hanging>>)]) -> Loads {
    let rules = &input.rules;
    let (up, down) = masses(input, now, 1.0);
    let (up_wet, _) = masses(input, now, input.weights.wet);
    let wind = if now.centre.is_some() {
        (now.pressure * now.area).max(0.0)
    } else {
        0.0
    };
    let mut found = Loads {
        standing: up.sum * GRAVITY,
        lying: down.sum * GRAVITY,
        wind,
        ..Loads::default()
    };
    // The sheet holds the wind about the mast; centre abaft it.
    let centre = now.centre.map_or(0.0, |c| c.x);
    for (sheeting, sheets) in hung {
        found
            .working
            .push(working(input, now, *sheeting, sheets, wind, centre));
    }
    let (mut down_up, mut down_lying) = (0.0f64, 0.0f64);
    for work in &found.working {
        down_up = down_up.max(work.down.0);
        down_lying = down_lying.max(work.down.1);
    }
    found.sheet_down = down_up;
    found.lift_down = down_lying;
    found.sling = found.standing + down_up;

    let parts = input.lines.halyard.map_or(1, |h| h.parts.min(6));
    let weight = up_wet.sum * GRAVITY;
    found.hoist = hauled(weight, parts, 1, rules.sheave_loss);
    found.hold = held(found.standing, parts, 1, rules.sheave_loss);

    // On the wind what the mast takes presses the parrels.
    let pressed = found.working.iter().take(2).map(|w| w.mast);
    let pressed = pressed.fold(0.0, f64::max);
    found.friction = rules.parrel_friction.max(0.0) * pressed;
    if found.friction > 0.0 && found.standing > 0.0 {
        let limit = now.pressure * found.standing / found.friction;
        found.falls_below = limit.is_finite().then_some(limit);
    }

    if let (Some(yard), true) = (now.spars.last(), up.sum > 0.0) {
        let sling = yard.at(input.sling * yard.length);
        let arm = (up.u / up.sum - sling.x).abs();
        let (low, turns) = parrels(input, now, sling);
        let height = sling.y - low;
        if height > 0.1 {
            found.parrel = up.sum * GRAVITY * arm / (height * 2.0 * turns);
        }
    }
    found.lift = lift(input, now, &down, down_lying);
    found.gybe = gybe(input, hung, &up, &down, now);
    found
}

/// Mean height of the standing holds of the luff hauling parrel, and how often it turns round the mast; the lowest
/// standing batten without one.
fn parrels(input: &Input, now: &State, sling: Point) -> (f64, f64) {
    let (mut sum, mut count) = (0.0, 0.0);
    for line in &input.lines.hauling {
        if line.hauls == Hauls::Luff {
            for hold in &line.holds {
                if let Some(spar) = now.spars.get(hold.spar)
                    && hold.spar >= lying(now)
                {
                    sum += spar.at(hold.share * spar.length).y;
                    count += 1.0;
                }
            }
        }
    }
    if count > 0.0 {
        return (sum / count, (count - 1.0f64).max(1.0));
    }
    let low = now.spars.get(lying(now)).map_or(sling.y, |s| s.luff.y);
    (low, 1.0)
}

/// The sheets at one angle.
fn working(
    input: &Input,
    now: &State,
    sheeting: f64,
    sheets: &[Option<Hanging>],
    wind: f64,
    centre: f64,
) -> Working {
    let mut work = Working {
        sheeting,
        ..Working::default()
    };
    let out = if sheeting < 0.0 { -1.0 } else { 1.0 };
    let frame = Frame::new(&input.mast, sheeting);
    // Sheets that grow as the sail goes out share one pull.
    let holds = |hanging: &&Hanging| hanging.lever * out > NO_LEVER;
    let hung = || sheets.iter().flatten().filter(holds);
    let lever: f64 = hung().map(|h| h.lever * out).sum();
    let moment = wind * centre;
    let mut side = 0.0;
    if lever > NO_LEVER && moment > 0.0 {
        let tension = moment / lever;
        work.tension = Some(tension);
        for (i, sheet) in input.lines.sheets.iter().enumerate() {
            let Some(hanging) = sheets.get(i).and_then(Option::as_ref).filter(holds) else {
                continue;
            };
            let parts = parts(sheet);
            let loss = input.rules.sheave_loss;
            // As many sheaves as parts, all drawn alike: mean pull x parts over the gain.
            let pull = tension * parts as f64;
            work.hand = work.hand.max(pull / gain(parts, loss));
            work.held = work.held.max(held(pull, parts, 0, loss));
            for mut pull in hanging.ends(sheet, now, &frame) {
                pull.force = plus(crate::space::NOWHERE, tension, pull.force);
                let down = -dot(pull.force, frame.v);
                if pull.spar < lying(now) {
                    work.down.1 += down;
                } else {
                    work.down.0 += down;
                }
                side += dot(pull.force, frame.w);
                if let Some(spar) = now.spars.get(pull.spar) {
                    let along = plus(
                        plus(crate::space::NOWHERE, spar.along.x, frame.u),
                        spar.along.y,
                        frame.v,
                    );
                    work.thrust = work.thrust.max(-dot(pull.force, along));
                }
                work.pulls.push(pull);
            }
        }
    }
    work.mast = (out * wind + side).abs();
    work
}

/// Parts of a sheet, all together.
pub(crate) fn parts(sheet: &crate::Sheet) -> usize {
    let falls = sheet.spans.iter().flat_map(|span| &span.falls);
    falls.map(|f| f.parts).sum::<usize>().max(1)
}

/// The greatest pull in a leg of the lifts.
///
/// The boom is stiff and hangs on legs that give alike: each takes W/n (1 + (x - m)(x_i - m) / s²) with the load at x,
/// legs at x_i with mean m and mean square s² about it; legs that would push are slack, and the rest take it all. Half
/// goes to either side; a leg that leans takes W / cos. Derived.
fn lift(input: &Input, now: &State, bundle: &Mass, sheet: f64) -> f64 {
    let (Some(lifts), Some(boom)) = (&input.lines.lifts, now.spars.first()) else {
        return 0.0;
    };
    let load = input.rules.dynamic.max(0.0) * bundle.sum * GRAVITY + sheet.max(0.0);
    if load <= 0.0 || lifts.catches.is_empty() {
        return 0.0;
    }
    let points: Vec<Point> = (lifts.catches.iter())
        .map(|c| boom.at(c * boom.length))
        .collect();
    // The sheet draws at the clew.
    let clew = sheet.max(0.0) * boom.leech().x;
    let dynamic = input.rules.dynamic.max(0.0) * GRAVITY * bundle.u;
    let at = (dynamic + clew) / load;
    let mut slack = vec![false; points.len()];
    let mut worst = 0.0f64;
    for _ in 0..points.len() {
        let (mut n, mut m, mut s) = (0.0, 0.0, 0.0);
        for (p, _) in points.iter().zip(&slack).filter(|(_, slack)| !**slack) {
            n += 1.0;
            m += p.x;
            s += p.x * p.x;
        }
        if n == 0.0 {
            break;
        }
        m /= n;
        s = s / n - m * m;
        let mut again = false;
        worst = 0.0;
        for (p, slack) in points.iter().zip(slack.iter_mut()).filter(|(_, s)| !**s) {
            let lean = if s > 1e-9 {
                (at - m) * (p.x - m) / s
            } else {
                0.0
            };
            let share = (1.0 + lean) / n;
            if share < 0.0 {
                *slack = true;
                again = true;
            }
            let up = (lifts.height - p.y).max(0.1);
            worst = worst.max(0.5 * load * share * (1.0 + (p.x / up) * (p.x / up)).sqrt());
        }
        if !again {
            break;
        }
    }
    worst
}

/// Speed of the leech over the wind's at which a sail that swings about its luff is driven no faster: ∫ (1 - x s)|1 - x s| s ds = 0
/// over the chord, so (x - 1)³/3 + (x - 1)⁴/4 = 1/12.
const OUTRUN: f64 = 1.5606;

/// Pull in the sheet at the end of an accidental gybe, squared off.
///
/// With the wind from dead aft its moment M sin θ drives the sail from amidships to squared off: it works at most M. And the sail swings at
/// most so fast that its leech outruns the wind, whose speed is √(2 p / ρ) at the state's design pressure: ½ I (1.56 V / leech)². The
/// lesser is the energy E. The sheet, taken as the thinnest a hand can hold, is a spring of k = strength/5 / (stretch x rope), and what the
/// wind adds while it stretches is counted: T = T₀ + √(T₀² + 2 k E). Derived, on the safe side: the air carried along and the giving of mast
/// and sail are left out.
fn gybe(
    input: &Input,
    hung: &[(f64, Vec<Option<Hanging>>)],
    up: &Mass,
    down: &Mass,
    now: &State,
) -> Option<f64> {
    let centre = now.centre?.x;
    let rope = input
        .ropes
        .sheet
        .choose(0.0, 1.0, 1.0, input.rules.hand_rope)?;
    let (sheeting, sheets) = hung.last()?;
    let still = working(
        input,
        now,
        *sheeting,
        sheets,
        now.pressure * now.area,
        centre,
    )
    .tension?;
    let leech = (now.spars.iter()).fold(0.1, |most: f64, s| most.max(s.leech().x));
    let speed = OUTRUN * (2.0 * now.pressure / AIR).max(0.0).sqrt() / leech;
    let swing = 0.5 * (up.turning + down.turning) * speed * speed;
    let energy = swing.min(now.pressure * now.area * centre).max(0.0);
    let length: f64 = sheets.iter().flatten().map(|h| h.length).sum();
    let spring = 0.2 * rope.strength / (input.rules.stretch.max(1e-3) * length.max(0.1));
    Some(still + (still * still + 2.0 * spring * energy).sqrt())
}
