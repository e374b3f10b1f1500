//! One moment of a design: where everything is at this hoist and sheeting angle.

use geometry::mast::Place;
use geometry::rig::Standing;
use geometry::Spar;
use kurbo::Point;

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
}
