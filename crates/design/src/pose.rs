//! One moment of a design: where everything is at this hoist and sheeting angle.

use geometry::mast::Place;
use geometry::rig::Standing;
use geometry::{Reefs, Spar};
use kurbo::Point;
use quantities::listed::Listed as _;

use crate::account::{Account, MastAccount};
use crate::design::Design;
use crate::view::View;

/// The whole rig at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// One per mast; `None` for a mast without a usable sail plan.
    pub masts: Vec<Option<MastPose>>,
    /// What stands on all masts together.
    pub standing: Option<Standing>,
    /// Share of the full area that stands.
    pub share: f64,
}

/// One sail at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct MastPose {
    /// Panels lowered, with a fraction; never beyond 0..=N.
    pub hoist: f64,
    /// The state whose area, centre and balance hold now: an index into `rows` and `reefs.states`.
    /// As soon as a panel is being lowered it is slack and carries nothing, so this is the state
    /// that the folding panel is on its way to.
    pub state: usize,
    /// The panel being folded now, 1 = lowest; `None` on the detents.
    pub folding: Option<usize>,
    /// How much of it is folded, 0 to 1; 0 on the detents.
    pub folded: f64,
    /// Boom to yard, in the sail's plane.
    pub spars: Vec<Spar>,
    /// Sling point, in the sail's plane.
    pub sling: Point,
    /// Centroid of what carries wind, carried along with it, in the sail's plane.
    pub centre: Option<Point>,
    /// Place of the wind's force on it, in the sail's plane.
    pub pressure: Option<Point>,
    /// Sheeting angle, boom to starboard positive [rad].
    pub sheeting: f64,
    /// `centre` in ship axes at this sheeting angle.
    pub centre_on_ship: Option<Place>,
    /// Its lines, in the order of the cordage list.
    pub lines: Vec<rigging::Laid>,
}

/// Hoist this near a whole panel counts as on it.
const ON_THE_DETENT: f64 = 1e-6;

/// Where everything is at the view's hoist and sheeting angle. Total: a mast without a usable
/// plan gives `None`.
pub fn pose(design: &Design, account: &Account, view: &View) -> Pose {
    let sheeting = if view.sheeting.is_finite() {
        view.sheeting
    } else {
        0.0
    };
    let masts: Vec<Option<MastPose>> = account
        .masts
        .iter()
        .zip(&design.masts)
        .enumerate()
        .map(|(m, (mast, design))| {
            let hoist = view.hoist.get(m).copied().unwrap_or(0.0);
            let limit = design.sail.squared_off;
            mast_pose(mast, hoist, sheeting.max(-limit).min(limit))
        })
        .listed();
    let standing =
        Standing::together(account.masts.iter().zip(&masts).filter_map(|(mast, pose)| {
            let pose = pose.as_ref()?;
            let area = mast.rows.get(pose.state)?.area;
            let at = mast.mast.to_ship(pose.centre?, 0.0);
            Some(Standing {
                area,
                x: at.x,
                z: at.z,
            })
        }));
    let full = account.rig.area;
    Pose {
        share: standing.map_or(0.0, |s| if full > 0.0 { s.area / full } else { 0.0 }),
        standing,
        masts,
    }
}

fn mast_pose(mast: &MastAccount, hoist: f64, sheeting: f64) -> Option<MastPose> {
    let (plan, reefs) = (mast.plan.as_ref()?, mast.reefs.as_ref()?);
    let n = reefs.n_panels();
    let mut hoist = if hoist.is_finite() {
        hoist.max(0.0).min(n as f64)
    } else {
        0.0
    };
    if (hoist - hoist.round()).abs() < ON_THE_DETENT {
        hoist = hoist.round();
    }
    let spars = reefs.placed_at(hoist);
    let folded = hoist.fract();
    let below = hoist.floor() as usize;
    let dropping = below == 0 && folded > 0.0 && folded < reefs_drop_share(reefs);
    let (state, folding) = if folded == 0.0 {
        (if below == 0 { 0 } else { below + 1 }, None)
    } else if dropping {
        // The boom has not yet reached its lifts: nothing is folding, all of it stands.
        (1, None)
    } else {
        (below + 2, Some(below + 1))
    };
    // What carries wind in the state moves as one body with its lowest spar.
    let there = reefs.states.get(state)?;
    let carry = |p: Point| -> Option<Point> {
        let from = there.spars.get(there.lowered)?.spar;
        let to = spars.get(there.lowered)?;
        let arm = p - from.luff;
        let (along, square) = (arm.dot(from.along), from.along.cross(arm));
        Some(to.luff + to.along * along + kurbo::Vec2::new(-to.along.y, to.along.x) * square)
    };
    let centre = there.centroid.and_then(carry);
    let sling = spars
        .last()
        .map_or(there.sling, |yard| yard.at(plan.sling * yard.length));
    let pressure = there.pressure.and_then(carry);
    let lines = mast.lines.as_ref().map_or_else(Vec::new, |lines| {
        let Some(now) = lines.input.states.get(state) else {
            return Vec::new();
        };
        let now = rigging::State {
            spars: spars.clone(),
            centre: pressure,
            ..*now
        };
        lines.input.lay(&lines.account, &now, sheeting)
    });
    Some(MastPose {
        lines,
        hoist,
        state,
        folding,
        folded: if folding.is_some() { folded } else { 0.0 },
        sling,
        pressure,
        centre_on_ship: centre.map(|c| mast.mast.to_ship(c, sheeting)),
        centre,
        sheeting,
        spars,
    })
}

/// Share of the first panel's halyard that the drop of the boom onto its lifts takes.
fn reefs_drop_share(reefs: &Reefs) -> f64 {
    let sling = |i: usize| reefs.states.get(i).map_or(0.0, |s| s.sling.y);
    let share = (sling(0) - sling(1)) / (sling(0) - sling(2));
    if share > 0.0 && share < 1.0 {
        share
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::account::account;
    use crate::demos::demos;
    use crate::document::Document;

    fn demo() -> (Document, Account) {
        let document = demos()[1].open().unwrap();
        let account = account(document.design());
        (document, account)
    }

    fn at((document, account): &(Document, Account), hoist: f64) -> MastPose {
        let view = View {
            hoist: vec![hoist],
            sheeting: 0.3,
            ..View::default()
        };
        pose(document.design(), account, &view).masts[0]
            .clone()
            .unwrap()
    }

    #[test]
    fn on_the_detents_the_pose_is_the_state() {
        let demo = demo();
        for k in 0..=7 {
            let pose = at(&demo, k as f64);
            let state = &demo.1.masts[0].reefs.as_ref().unwrap().states[pose.state];
            assert_eq!(state.lowered, k);
            assert_eq!(pose.folding, None);
            for (a, b) in pose.spars.iter().zip(&state.spars) {
                assert!(a.luff.distance(b.spar.luff) < 1e-9);
                assert!((a.angle - b.spar.angle).abs() < 1e-9);
            }
            assert!(pose.sling.distance(state.sling) < 1e-9);
            match (pose.centre, state.centroid) {
                (Some(a), Some(b)) => assert!(a.distance(b) < 1e-9),
                (a, b) => assert_eq!(a, b),
            }
        }
    }

    #[test]
    fn spars_move_without_a_jump_and_area_steps_at_the_battens() {
        let demo = demo();
        let mut before: Option<(MastPose, f64)> = None;
        let mut steps = 0;
        for i in 0..=7000 {
            let pose = at(&demo, f64::from(i) * 0.001);
            let area = demo.1.masts[0].rows[pose.state].area;
            if let Some((old, old_area)) = before {
                for (a, b) in pose.spars.iter().zip(&old.spars) {
                    assert!(a.luff.distance(b.luff) < 0.02, "hoist {}", pose.hoist);
                    assert!(a.leech().distance(b.leech()) < 0.04, "hoist {}", pose.hoist);
                }
                assert!(area <= old_area);
                steps += i32::from(area < old_area);
            }
            before = Some((pose, area));
        }
        assert_eq!(steps, 7);
    }

    #[test]
    fn a_folding_panel_carries_nothing() {
        let demo = demo();
        let pose = at(&demo, 2.4);
        assert_eq!(pose.folding, Some(3));
        assert!((pose.folded - 0.4).abs() < 1e-12);
        assert_eq!(demo.1.masts[0].rows[pose.state].lowered, 3);
    }

    #[test]
    fn an_impossible_view_is_brought_into_range() {
        let demo = demo();
        for hoist in [f64::NAN, f64::INFINITY, -3.0, 99.0] {
            assert!((0.0..=7.0).contains(&at(&demo, hoist).hoist));
        }
    }
}
