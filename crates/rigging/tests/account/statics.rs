//! What lines bear, by virtual work and levers worked out anew.

use crate::rigs::{demos, near, pippin};
use geometry::Spar;
use geometry::parrel::batten_parrel_length;
use kurbo::Point;
use rigging::path::round_mast;
use rigging::{Choices, Hauls, Input, Line, Lines, Named, State, Use, account};

pub(crate) fn lying(now: &State) -> usize {
    if now.on_lifts { now.lowered + 1 } else { 0 }
}

/// Every line there is.
fn all_of_them(input: &Input) -> Input {
    let choices = Choices {
        hauling: [Use::Running; 6],
        ..Choices::default()
    };
    let mut input = input.clone();
    input.lines = Lines::usual(&input, &choices);
    input
}

/// Mass and first moment of what stands about the mast, from the weights.
fn standing(input: &Input, now: &State) -> (f64, f64) {
    let lie = lying(now);
    let (mut mass, mut first) = (0.0, 0.0);
    let mut add = |m: f64, x: f64| {
        mass += m;
        first += m * x;
    };
    for (i, spar) in now.spars.iter().enumerate() {
        let middle = spar.at(0.5 * spar.length).x;
        if i >= lie {
            add(input.weights.spars[i], middle);
        }
        if i + 1 >= lie && i + 1 < now.spars.len() {
            let over = &now.spars[i + 1];
            let middle = 0.5 * (middle + over.at(0.5 * over.length).x);
            add(input.weights.cloth[i], middle);
        }
    }
    (mass, first)
}

/// Spars turned about a point by an angle, foot forward.
fn turned(spar: &Spar, about: Point, by: f64) -> Spar {
    let (x, y) = (spar.luff.x - about.x, spar.luff.y - about.y);
    let (sin, cos) = by.sin_cos();
    let luff = Point::new(about.x + x * cos + y * sin, about.y + y * cos - x * sin);
    Spar::new(luff, spar.angle - by, spar.length)
}

/// Virtual work on the whole path, as drawn for a rig whose standing spars are turned about the sling: the pull a hauling line needs to
/// keep the sail from swinging. And the usual luff hauling parrel does so at every reef in which a batten of it stands.
#[test]
fn hauling_parrels_keep_the_sail_from_swinging() {
    let mut held = 0;
    for (name, plain) in demos(0.0) {
        let input = all_of_them(&plain);
        let found = account(&input);
        for (s, now) in input.states.iter().enumerate() {
            let (mass, first) = standing(&input, now);
            if mass <= 0.0 {
                continue;
            }
            let yard = now.spars.last().unwrap();
            let sling = yard.at(input.sling * yard.length);
            let swing = 9.80665 * (first - mass * sling.x);
            near(found.loads[s].swing, swing.max(0.0), 1e-6 * swing.abs());
            for (n, line) in input.lines.hauling.iter().enumerate() {
                let length = |by: f64| {
                    let mut moved = input.clone();
                    for spar in moved.states[s].spars.iter_mut().skip(lying(now)) {
                        *spar = turned(spar, sling, by);
                    }
                    moved.path(Line::Hauling(n), s, 0.0).unwrap().length
                };
                let lever = (length(1e-4) - length(-1e-4)) / 2e-4;
                let told = found.loads[s].hauling[n];
                near(told.lever, lever, 1e-4 * (1.0 + lever.abs()));
                if let Some(pull) = told.pull {
                    near(pull, swing.max(0.0) / lever, 1e-3 * pull + 1e-6);
                } else {
                    assert!(lever < 0.021, "{name} {s} {:?} {lever}", line.hauls);
                }
                let stands = line.holds.iter().any(|hold| hold.spar >= lying(now));
                if line.hauls == Hauls::Luff && stands {
                    assert!(lever > 0.3, "{name} {s}: {lever}");
                    let haul = told.haul.unwrap();
                    assert!(
                        haul > told.pull.unwrap() && haul < input.rules.hand,
                        "{haul}"
                    );
                    held += 1;
                }
            }
            let keeps = found.loads[s].keeps;
            assert!(keeps.is_some(), "{name} {s}");
        }
    }
    assert!(held > 15, "{held}");
}

/// A parrel goes round the mast wherever its ends are, and grows evenly as one of them passes the mast's axis.
#[test]
fn a_parrel_always_goes_round() {
    let input = pippin(6, 4.0);
    let last = |x: f64| round_mast(&input, Point::new(-0.3, 2.0), Point::new(x, 2.0));
    let radius = 0.5 * input.mast.diameter_at(2.0);
    let off = input.mast.offset - radius;
    for x in [-0.2, -0.001, 0.001, 0.2] {
        near(last(x), batten_parrel_length(0.3, x, off, radius), 1e-12);
    }
    near(last(-1e-6), last(1e-6), 1e-5);
    // A batten slid so far that both ends are ahead of the mast.
    for ahead in [-0.2, -0.02, 0.02] {
        let mut input = input.clone();
        let parrels = input.lines.parrels.as_mut().unwrap();
        (parrels.ahead, parrels.abaft) = (ahead, 0.3);
        let path = input.path(Line::Parrel(2), 0, 0.4).unwrap();
        let drawn: f64 = (path.stops.windows(2))
            .map(|two| two[0].parts as f64 * rigging::space::distance(two[0].at, two[1].at))
            .sum();
        assert!(
            path.stops
                .iter()
                .filter(|s| s.named == Named::Round)
                .count()
                > 3
        );
        assert!(path.length > 0.45, "{ahead}: {}", path.length);
        near(drawn, path.length, 0.02);
    }
}

/// Each parrel of a standing spar bears at least its even share of what the mast takes, over the rope it takes up in standing off; one that
/// lies bears none of it. The yard's own is held by the yard hauling parrel.
#[test]
fn parrels_share_the_masts_force_over_what_stands() {
    for (name, input) in demos(0.0) {
        let found = account(&input);
        let mut least = vec![0.0f64; input.states[0].spars.len()];
        for (now, loads) in input.states.iter().zip(&found.loads) {
            let count = (now.spars.len() - lying(now)).max(1);
            let mast = loads.working.iter().map(|w| w.mast).fold(0.0, f64::max);
            for least in least.iter_mut().skip(lying(now)) {
                *least = least.max(loads.times * mast / count as f64);
            }
        }
        let yard = input.states[0].spars.len() - 1;
        // Half a panel alone.
        least[yard] *= 0.5;
        for known in &found.lines {
            let spar = match known.line {
                Line::Parrel(spar) => spar,
                Line::Hauling(i) if input.lines.hauling[i].hauls == Hauls::Yard => yard,
                _ => continue,
            };
            // Two parts square to the sail would hold it with half the force each: no rope does better.
            assert!(
                known.load >= 0.5 * least[spar],
                "{name} {:?} {}",
                known.line,
                known.load
            );
            assert!(
                known.load < 8.0 * least[spar].max(40.0),
                "{name} {:?} {}",
                known.line,
                known.load
            );
        }
    }
}
