//! Lines laid out: closed forms, the taut string, the mast's own turning.

use crate::rigs::{near, pippin};
use geometry::parrel::yard_parrel_length;
use geometry::spar::Spar;
use kurbo::Point;
use rigging::path::round_mast;
use rigging::space::{Frame, distance};
use rigging::{Input, Line, Named, Path};

/// Derived twice: the frame turns as the sail's plane of the geometry does.
#[test]
fn the_frame_is_the_sails_own_plane() {
    let mut mast = pippin(6, 4.0).mast;
    mast.rake = 0.07;
    for sheeting in [-1.4, -0.3, 0.0, 0.8, 1.5] {
        let (frame, plane) = (Frame::new(&mast, sheeting), mast.sheeted(sheeting));
        for p in [Point::new(3.0, 1.0), Point::new(-0.4, 6.0)] {
            let place = frame.sail(p);
            assert!(distance(place, plane.place(p)) < 1e-12);
            let (u, w, v) = frame.of(place);
            near(u, p.x, 1e-12);
            near(w, frame.off, 1e-12);
            near(v, p.y, 1e-12);
            // By a small turn.
            let later = Frame::new(&mast, sheeting + 1e-6).sail(p);
            near(
                distance(place, later),
                1e-6 * rigging_length(frame.turning(place)),
                1e-11,
            );
        }
    }
}

fn rigging_length(p: geometry::mast::Place) -> f64 {
    (p.x * p.x + p.y * p.y + p.z * p.z).sqrt()
}

/// Straight runs added up by hand, and the halyard's length the same at every sheeting angle.
#[test]
fn a_halyard_is_its_parts_and_its_run() {
    let mut input = pippin(6, 4.0);
    for parts in 1..=5 {
        let halyard = input.lines.halyard.as_mut().unwrap();
        halyard.parts = parts;
        let (lead, cleat) = (halyard.lead, halyard.cleat);
        for state in 0..input.states.len() {
            let yard = input.states[state].spars.last().unwrap();
            let sling = yard.at(0.48 * yard.length);
            let (u, v) = (sling.x, input.fitting - sling.y);
            let tackle = (u * u + v * v + 0.11f64.powi(2)).sqrt();
            let run = distance(input.mast.axis_at(input.fitting), lead) + distance(lead, cleat);
            for sheeting in [-1.4, 0.0, 1.4] {
                let path = input.path(Line::Halyard, state, sheeting).unwrap();
                near(path.length, parts as f64 * tackle + run, 1e-9);
            }
        }
    }
}

fn drawn(path: &Path) -> f64 {
    path.stops
        .windows(2)
        .map(|two| two[0].parts as f64 * distance(two[0].at, two[1].at))
        .sum()
}

/// The rope round the mast as drawn, corner by corner on the mast's surface, is nearly the taut length worked out from
/// tangents and arc, and shrinks to it with a thin mast. (Chords are shorter than their arc: at most 2 % of the diameter here.)
#[test]
fn a_drawn_parrel_is_its_taut_length() {
    for diameter in [0.2, 0.02, 0.0002] {
        let mut input = pippin(6, 4.0);
        (input.mast.diameter, input.mast.top_diameter) = (diameter, diameter);
        for spar in 1..6 {
            let path = input.path(Line::Parrel(spar), 0, 0.4).unwrap();
            let along = input.states[0].spars[spar];
            let ahead = along.ahead().unwrap();
            let parrels = input.lines.parrels.unwrap();
            let length = yard_parrel_length(
                parrels.ahead,
                parrels.abaft,
                0.11 - 0.5 * diameter,
                0.5 * diameter,
                along.angle,
            );
            near(path.length, length, 1e-9);
            assert!(ahead > 0.0);
            let drawn = drawn(&path);
            assert!(
                drawn < length + 1e-9 && drawn > length - 0.02 * diameter,
                "{spar}: {drawn} {length}"
            );
            for stop in path.stops.iter().filter(|s| s.named == Named::Round) {
                let (u, w, _) = Frame::new(&input.mast, 0.4).of(stop.at);
                near(u.hypot(w), 0.5 * diameter, 1e-9);
            }
        }
    }
}

/// A numerical taut string on the mast: points at even heights and bearings, each drawn to the middle of its neighbours and
/// pushed out of the mast again, gets as long as the closed form has it for ends at different heights.
#[test]
fn a_rope_round_the_mast_between_two_heights_is_a_taut_string() {
    let mut input: Input = pippin(6, 4.0);
    (input.mast.diameter, input.mast.top_diameter) = (0.15, 0.15);
    input.mast.offset = 0.1;
    let (p, q) = (Point::new(-0.25, 2.0), Point::new(0.45, 2.9));
    let closed = round_mast(&input, p, q);
    let n = 120;
    let (r, off) = (0.075, 0.1);
    // From ahead round the far side (w > 0 is the sail's here) to abaft.
    let mut chain: Vec<[f64; 3]> = (0..=n)
        .map(|i| {
            let share = f64::from(i) / f64::from(n);
            let from = f64::atan2(off, -0.25);
            let to = f64::atan2(off, 0.45) + 2.0 * core::f64::consts::PI;
            let bearing = from + (to - from) * share;
            [0.2 * bearing.cos(), 0.2 * bearing.sin(), 2.0 + 0.9 * share]
        })
        .collect();
    chain[0] = [-0.25, off, 2.0];
    chain[n as usize] = [0.45, off, 2.9];
    for _ in 0..60_000 {
        for i in 1..n as usize {
            let (before, after) = (chain[i - 1], chain[i + 1]);
            for (c, (p, q)) in chain[i].iter_mut().zip(before.iter().zip(&after)) {
                *c += 1.6 * (0.5 * (p + q) - *c);
            }
            let out = chain[i][0].hypot(chain[i][1]);
            if out < r {
                chain[i][0] *= r / out;
                chain[i][1] *= r / out;
            }
        }
    }
    let string: f64 = chain
        .windows(2)
        .map(|w| {
            let d = |c: usize| w[1][c] - w[0][c];
            (d(0) * d(0) + d(1) * d(1) + d(2) * d(2)).sqrt()
        })
        .sum();
    near(string, closed, 2e-3 * closed);
}

/// Common practice: the usual lines of any rig all lead somewhere, from one panel to twelve.
#[test]
fn usual_leads_work_for_any_rig() {
    for panels in 1..=12 {
        for chord in [1.2, 3.0, 5.5] {
            let input = pippin(panels, chord);
            let all = input.all();
            assert!(all.len() >= panels + 6, "{panels}");
            for line in all {
                assert!(input.led(line), "{panels}: {line:?}");
                for state in 0..input.states.len() {
                    for sheeting in [-1.48, 0.0, 1.48] {
                        let path = input.path(line, state, sheeting).unwrap();
                        assert!(path.length.is_finite() && path.length > 0.1, "{line:?}");
                    }
                }
            }
        }
    }
}

/// Common practice: one sheet holds every batten end it gathers, and the boom's; each once.
#[test]
fn one_sheet_gathers_the_ends_from_the_boom_up() {
    for panels in 1..=12 {
        let input = pippin(panels, 4.0);
        let mut gathered = vec![0; panels + 1];
        for end in input.lines.sheets[0].spans.iter().flat_map(|s| &s.ends) {
            if let rigging::Knot::Spar(spar) = end.at {
                gathered[spar] += 1;
            }
        }
        assert_eq!(gathered.pop(), Some(0), "the yard");
        let top = gathered.iter().take_while(|n| **n == 1).count();
        assert!(gathered[top..].iter().all(|n| *n == 0), "{gathered:?}");
        assert!(3 * top >= 2 * panels, "{panels}: {gathered:?}");
    }
}

/// A mast that stands up and a level batten: the parrel of the trade's own closed form.
#[test]
fn a_spar_on_the_mast_has_the_closed_form() {
    let mut input = pippin(2, 3.0);
    (
        input.mast.diameter,
        input.mast.top_diameter,
        input.mast.offset,
    ) = (0.2, 0.2, 0.1);
    for state in &mut input.states {
        state.spars[1] = Spar::new(Point::new(-0.5, 2.0), 0.0, 3.0);
    }
    let parrels = input.lines.parrels.as_mut().unwrap();
    (parrels.ahead, parrels.abaft) = (0.3, 0.4);
    let (a, b, r) = (0.3, 0.4, 0.1);
    let closed =
        a + b + r * (2.0 * core::f64::consts::PI - 2.0 * f64::atan(a / r) - 2.0 * f64::atan(b / r));
    near(
        input.path(Line::Parrel(1), 0, 0.0).unwrap().length,
        closed,
        1e-12,
    );
}
