//! The reef states in ship axes, with what they clear.

use geometry::hull::Hull;
use geometry::mast::{Mast, Place, SailPlane};
use geometry::{ReefState, Reefs, Spar};
use kurbo::{Point, Vec2};
use quantities::listed::Listed as _;

use crate::account::StateRow;
use crate::design::{Boat, SailDesign};

/// One row per state, the sail sheeted along the centreline.
///
/// A boom with rise clears least there: as it swings out, every point of the boat comes under a
/// higher part of it.
pub(crate) fn state_rows(
    boat: &Boat,
    sail: &SailDesign,
    mast: &Mast,
    reefs: &Reefs,
) -> Vec<StateRow> {
    let plane = mast.sheeted(0.0);
    let full = reefs.states.first().and_then(|state| state.centroid);
    let full = full.map(|centroid| plane.place(centroid).x);
    reefs
        .states
        .iter()
        .map(|state| state_row(boat, sail, mast.lap, &plane, state, full))
        .listed()
}

fn state_row(
    boat: &Boat,
    sail: &SailDesign,
    lap: f64,
    plane: &SailPlane,
    state: &ReefState,
    full: Option<f64>,
) -> StateRow {
    let hull = &boat.hull;
    let ship = |p: Point| plane.place(p);
    let masthead = ship(Point::new(0.0, lap));
    let nothing = Spar::new(Point::ORIGIN, 0.0, 0.0);
    let boom = state.spars.first().map_or(nothing, |p| p.spar);
    let yard = state.spars.last().map_or(nothing, |p| p.spar);
    let half_boom = 0.5 * sail.boom_depth;
    let (fore, aft) = (profile(ship(boom.luff)), profile(ship(boom.leech())));
    let yard_height = ship(yard.luff).z.max(ship(yard.leech()).z);
    let centre = state.centroid.map(ship);
    StateRow {
        lowered: state.lowered,
        on_lifts: state.on_lifts,
        area: state.area,
        share: state.share,
        centre,
        pressure: state.pressure.map(ship),
        aft_of_mast: state.centroid.map(|c| c.x),
        centre_shift: centre.zip(full).map(|(now, full)| now.x - full),
        yard_height,
        sling_height: ship(state.sling).z,
        on_mast: state
            .spars
            .iter()
            .map(|p| p.spar.height_on_mast().filter(|_| p.spar.crosses_mast()))
            .listed(),
        chord_balance: state.chord_balance,
        area_balance: state.area_balance,
        bundle_height: state.bundle_height,
        bundle: ship(bundle_middle(state)),
        slides: state.spars.iter().map(|p| p.slide).listed(),
        shifts: state.spars.iter().map(|p| p.shift).listed(),
        boom_shift: state.boom_shift,
        over_deck: Hull {
            coachroof: None,
            ..*hull
        }
        .clearance(fore, aft, half_boom, hull.ends()),
        over_coachroof: hull.clearance_over_coachroof(fore, aft, half_boom),
        over_seat: hull.clearance_over_seat(fore, aft, half_boom),
        over_eye: over_eye(
            boat,
            fore,
            aft,
            half_boom,
            state.bundle_height,
            yard.angle == boom.angle,
        ),
        under_masthead: lap - state.sling.y,
        peak_over_masthead: yard.luff.y.max(yard.leech().y) - lap,
        air_draught: masthead.z.max(yard_height),
        halyard_angle: state.halyard_angle,
    }
}

/// (x, z) of a place.
fn profile(place: Place) -> Point {
    Point::new(place.x, place.z)
}

/// Middle of what lies in the bundle; of the boom alone while nothing does.
fn bundle_middle(state: &ReefState) -> Point {
    let mut sum = Vec2::ZERO;
    let mut n = 0.0;
    for placed in state.spars.iter().take_while(|p| p.lying) {
        sum += placed.spar.at(0.5 * placed.spar.length).to_vec2();
        n += 1.0;
    }
    match state.spars.first() {
        Some(boom) if n == 0.0 => boom.spar.at(0.5 * boom.spar.length),
        _ => (sum / f64::max(n, 1.0)).to_point(),
    }
}

/// How far the sight line of the helmsman, level and forward from the middle of the cockpit,
/// passes under the boom [m]; with all down, over the bundle if that is more.
///
/// `None` without a cockpit, or where no boom lies ahead of him.
fn over_eye(
    boat: &Boat,
    fore: Point,
    aft: Point,
    half_boom: f64,
    bundle_height: f64,
    all_down: bool,
) -> Option<f64> {
    let cockpit = boat.hull.cockpit?;
    let eye = Point::new(
        0.5 * (cockpit.from + cockpit.to),
        cockpit.seat + boat.eye_height,
    );
    let (left, right) = if fore.x <= aft.x {
        (fore, aft)
    } else {
        (aft, fore)
    };
    if left.x >= eye.x {
        return None;
    }
    let slope = (right.y - left.y) / (right.x - left.x).max(1e-6);
    // A straight boom is lowest and highest at the ends of what is seen of it.
    let seen = left.y + slope * (right.x.min(eye.x) - left.x);
    let square = slope.hypot(1.0);
    let under = left.y.min(seen) - half_boom * square - eye.y;
    let over = eye.y - (left.y.max(seen) + (bundle_height - half_boom) * square);
    Some(if all_down { under.max(over) } else { under })
}
