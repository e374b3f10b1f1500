//! Sails of neighbouring masts, one behind the other: whether they have room.

use geometry::mast::Mast;
use geometry::{SailPlan, Spar};
use kurbo::{Point, Vec2};

use crate::account::MastAccount;

/// How far a sail stands clear of the next mast aft and its sail, in profile: both at full hoist,
/// sheeted along the centreline.
pub(crate) struct Room {
    /// The mast ahead.
    pub(crate) fore: usize,
    /// The next one aft.
    pub(crate) aft: usize,
    /// Least distance along the boat at one height; negative where they overlap [m].
    pub(crate) gap: f64,
    /// True when the mast itself is nearer than the luff of its sail.
    pub(crate) to_mast: bool,
}

/// The room behind each sail that has a mast abaft it and shares some height with that mast or its
/// sail.
pub(crate) fn rooms(masts: &[MastAccount]) -> Vec<Room> {
    let mut rooms = Vec::new();
    for (fore, ahead) in masts.iter().enumerate() {
        let Some((aft, abaft)) = next_aft(masts, fore) else {
            continue;
        };
        let Some(plan) = &ahead.plan else {
            continue;
        };
        let leech = after_edge(&ahead.mast, plan);
        let luff = abaft.plan.as_ref();
        let to_luff = luff.and_then(|plan| gap(&leech, &fore_edge(&abaft.mast, plan)));
        let to_mast = gap(&leech, &mast_edge(&abaft.mast));
        let of_mast = to_mast.is_some_and(|mast| to_luff.is_none_or(|luff| mast < luff));
        if let Some(gap) = if of_mast { to_mast } else { to_luff } {
            rooms.push(Room {
                fore,
                aft,
                gap,
                to_mast: of_mast,
            });
        }
    }
    rooms
}

/// The next mast aft; of masts in one place the later in the list.
fn next_aft(masts: &[MastAccount], fore: usize) -> Option<(usize, &MastAccount)> {
    let place = |i: usize, mast: &MastAccount| (mast.mast.x, i);
    let here = place(fore, masts.get(fore)?);
    masts
        .iter()
        .enumerate()
        .filter(|(i, mast)| place(*i, mast) > here)
        .reduce(|a, b| {
            if place(b.0, b.1) < place(a.0, a.1) {
                b
            } else {
                a
            }
        })
}

/// Boom, leech and yard from the tack round to the throat, (x, z) in ship axes.
fn after_edge(mast: &Mast, plan: &SailPlan) -> Vec<Point> {
    let luff = |spar: &Spar| spar.luff;
    profile(mast, edge(plan, &luff, &Spar::leech, plan.leech_round))
}

/// Boom, luff and yard from the clew round to the peak, (x, z) in ship axes.
fn fore_edge(mast: &Mast, plan: &SailPlan) -> Vec<Point> {
    let luff = |spar: &Spar| spar.luff;
    profile(mast, edge(plan, &Spar::leech, &luff, -plan.luff_round))
}

/// One edge of a sail upward, with the far ends of boom and yard; `round` to the right of it. A
/// round edge goes by the middle of its panels.
fn edge(
    plan: &SailPlan,
    far: &dyn Fn(&Spar) -> Point,
    near: &dyn Fn(&Spar) -> Point,
    round: f64,
) -> Vec<Point> {
    let mut edge = Vec::with_capacity(2 * plan.spars.len() + 2);
    edge.extend(plan.boom().map(far));
    for spar in &plan.spars {
        let end = near(spar);
        if let (Some(below), true) = (edge.last().copied(), edge.len() > 1 && round != 0.0) {
            let chord: Vec2 = end - below;
            edge.push(below.midpoint(end) + Vec2::new(chord.y, -chord.x) * round);
        }
        edge.push(end);
    }
    edge.extend(plan.yard().map(far));
    edge
}

/// Fore side of a mast from the partners up, (x, z) in ship axes.
fn mast_edge(mast: &Mast) -> Vec<Point> {
    let taper = mast.parallel.max(0.0).min(1.0) * mast.lap;
    let side = |height: f64| Point::new(-0.5 * mast.diameter_at(height), height);
    profile(mast, vec![side(0.0), side(taper), side(mast.lap)])
}

fn profile(mast: &Mast, mut edge: Vec<Point>) -> Vec<Point> {
    let plane = mast.sheeted(0.0);
    for point in &mut edge {
        let place = plane.place(*point);
        *point = Point::new(place.x, place.z);
    }
    edge
}

/// Least distance, along x at one height, from one line to another abaft it; `None` when they share
/// no height.
///
/// Between two corners both lines are straight, so the least lies at the height of a corner.
fn gap(ahead: &[Point], abaft: &[Point]) -> Option<f64> {
    let mut least: Option<f64> = None;
    for corner in ahead.iter().chain(abaft) {
        let (Some(aftmost), Some(foremost)) = (
            at_height(ahead, corner.y, |a, b| a > b),
            at_height(abaft, corner.y, |a, b| a < b),
        ) else {
            continue;
        };
        let here = foremost - aftmost;
        if least.is_none_or(|least| here < least) {
            least = Some(here);
        }
    }
    least
}

/// The x that comes before all others where a line passes a height; `None` where it does not.
fn at_height(line: &[Point], z: f64, before: fn(f64, f64) -> bool) -> Option<f64> {
    let mut found: Option<f64> = None;
    for pair in line.windows(2) {
        let &[a, b] = pair else { continue };
        if (a.y - z) * (b.y - z) > 0.0 {
            continue;
        }
        // A level piece is met at that end which comes before the other.
        let x = if a.y != b.y {
            a.x + (b.x - a.x) * ((z - a.y) / (b.y - a.y))
        } else if before(a.x, b.x) {
            a.x
        } else {
            b.x
        };
        if found.is_none_or(|best| before(x, best)) {
            found = Some(x);
        }
    }
    found
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn line(corners: &[(f64, f64)]) -> Vec<Point> {
        corners.iter().map(|corner| Point::from(*corner)).collect()
    }

    /// By hand: a leech bulging to 3 at height 2, against a luff leaning from 5 forward to 4.
    #[test]
    fn the_least_gap_lies_at_a_corner_of_either_line() {
        let leech = line(&[(0.0, 0.0), (2.0, 0.0), (3.0, 2.0), (1.0, 4.0), (0.0, 3.0)]);
        let luff = line(&[(9.0, 1.0), (5.0, 1.0), (4.0, 3.0), (8.0, 5.0)]);
        // At height 2: 4.5 - 3; at height 1: 5 - 2.5; at height 3: 4 - 2.
        assert_eq!(gap(&leech, &luff), Some(1.5));
        let nearer = line(&[(4.0, -1.0), (4.0, 1.9), (2.6, 2.5), (4.0, 2.6)]);
        assert!((gap(&leech, &nearer).unwrap() - 0.1).abs() < 1e-12);
        let crossing = line(&[(2.5, -1.0), (2.5, 5.0)]);
        assert_eq!(gap(&leech, &crossing), Some(-0.5));
    }

    #[test]
    fn lines_without_a_common_height_have_no_gap() {
        let leech = line(&[(0.0, 0.0), (2.0, 0.0), (2.0, 1.0)]);
        assert_eq!(gap(&leech, &line(&[(3.0, 1.1), (3.0, 2.0)])), None);
        assert_eq!(gap(&leech, &line(&[(3.0, 1.0), (3.0, 2.0)])), Some(1.0));
        assert_eq!(gap(&leech, &[]), None);
        // A boom lying level is met at both its ends.
        assert_eq!(gap(&leech, &line(&[(5.0, 0.0), (1.5, 0.0)])), Some(-0.5));
    }
}
