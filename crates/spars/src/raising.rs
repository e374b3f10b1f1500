//! Raising the mast about a hinge: the pull on the line, what hinge and gin pole bear, and where the mast balances.

use crate::GRAVITY;
use crate::sections::Weight;
use crate::stress::size;

/// How a mast is raised: it lies with its head towards -x and comes up about the hinge, drawn towards +x.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Raising {
    /// Mast with what comes up with it; centre from its heel.
    pub weight: Weight,
    /// Hinge from the heel, along the mast [m].
    pub hinge: f64,
    /// Where the line (or the gin pole's stay) is made fast, from the hinge along the mast [m].
    pub fast: f64,
    /// Length of a gin pole square to the mast at the hinge, towards the tackle [m]; nought without.
    pub gin: f64,
    /// Where the tackle is fast: away from the head, and above the hinge [m].
    pub lead: (f64, f64),
    /// Parts of the tackle (1 to 6), and the loss in each sheave.
    pub tackle: (usize, f64),
}

/// Forces at an angle [N]. Along x towards the tackle, along z up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Raised {
    /// Mast above the level [rad].
    pub angle: f64,
    /// Pull in the tackle, all parts together.
    pub pull: f64,
    /// Pull at its tail.
    pub hand: f64,
    /// Pull in the stay from gin pole to mast; nought without a gin pole.
    pub stay: f64,
    /// Thrust in the gin pole.
    pub gin: f64,
    /// What hinge and foot of the gin pole bear together: the mast pushes them so.
    pub hinge: (f64, f64),
}

/// Forces at an angle [rad] of the mast above the level; none where the line has no lever.
///
/// Moments of weight and tackle about the hinge: T r = W c cos(angle), r the lever of the tackle, from the gin pole's
/// head, or from the mast. The gin pole's head: stay, thrust and tackle in balance. Friction of the hinge left out. Derived.
pub fn raise(how: &Raising, angle: f64) -> Option<Raised> {
    let (sin, cos) = angles::sin_cos(angle);
    let weight = how.weight.mass * GRAVITY;
    let arm = how.weight.centre - how.hinge;
    // Head of the mast towards -x when down.
    let mast = (-cos, sin);
    let fast = (how.fast * mast.0, how.fast * mast.1);
    let gin = (how.gin * sin, how.gin * cos);
    let from = if how.gin > 0.0 { gin } else { fast };
    let unit = |a: (f64, f64), b: (f64, f64)| {
        let (x, z) = (b.0 - a.0, b.1 - a.1);
        let length = size(x, z);
        (length > 1e-6).then(|| (x / length, z / length))
    };
    let line = unit(from, how.lead)?;
    // Moment that turns the head up and over: clockwise seen with x to the right.
    let turn = |at: (f64, f64), force: (f64, f64)| at.1 * force.0 - at.0 * force.1;
    let lever = turn(from, line);
    let needed = weight * arm * cos;
    let pull = if needed.abs() < 1e-9 {
        0.0
    } else {
        needed / lever
    };
    if !pull.is_finite() || lever < 0.02 || how.fast <= 0.0 {
        return None;
    }
    let pull = pull.max(0.0);
    let mut raised = Raised {
        angle,
        pull,
        hinge: (pull * line.0, pull * line.1 - weight),
        ..Raised::default()
    };
    if how.gin > 0.0 {
        // At the gin pole's head: pull x line + stay x (towards the mast) + thrust x (from the hinge) = 0.
        let stay = unit(gin, fast)?;
        let out = (gin.0 / how.gin, gin.1 / how.gin);
        let whole = stay.0 * out.1 - stay.1 * out.0;
        if whole.abs() < 1e-9 {
            return None;
        }
        raised.stay = -pull * (line.0 * out.1 - line.1 * out.0) / whole;
        let along = |v: (f64, f64)| v.0 * out.0 + v.1 * out.1;
        raised.gin = -(pull * along(line) + raised.stay * along(stay));
    }
    let (parts, loss) = how.tackle;
    let keep = 1.0 - loss.max(0.0).min(0.9);
    let (mut gain, mut part) = (0.0, 1.0);
    for _ in 0..parts.max(1).min(6) {
        gain += part;
        part *= keep;
    }
    // The tail leaves over one sheave more.
    raised.hand = pull / (gain * keep);
    let all = [raised.pull, raised.hand, raised.stay, raised.gin];
    let sound = all.iter().chain([&raised.hinge.0, &raised.hinge.1]);
    sound.into_iter().all(|n| n.is_finite()).then_some(raised)
}

/// Where the mast balances with `more` kilograms hung at a place from the heel [m]: mass and balance point.
pub fn balance(mast: Weight, more: &[(f64, f64)]) -> Weight {
    more.iter().fold(mast, |all, (mass, place)| {
        all.and(Weight::at(mass.max(0.0), *place))
    })
}
