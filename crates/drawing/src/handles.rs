//! Handles: what the hand can take hold of on the drawing, and what it then changes.
//!
//! A handle knows the path it edits and how it moves. [`dragged`] finds the value at which the
//! handle lies under the finger: the drawing is asked, not a rule of thumb, so it holds in every
//! reef state too. The mast stays where the boat has it, so balance is dragged by the tack: the
//! sail slides along its boom past the mast line.

use design::{Design, Family, SailDesign};
use geometry::Spar;
use kurbo::{Affine, Point, Vec2};
use quantities::listed::Listed as _;
use quantities::{Quantity, Text, bounds, quantity};

use crate::fit::Frame;
use crate::moment::{Medium, Moment};
use crate::palette::Role;
use crate::points;
use crate::scene::{Scene, Stroke, circle};

/// One place to take hold of.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    /// Name, the same for every sail: handles belong to the sail in hand.
    pub id: &'static str,
    /// Path of the document it edits; empty for the hoist, which is no part of the design.
    pub path: String,
    /// What it is and does.
    pub label: Text,
    /// Where it lies [px].
    pub at: Point,
    /// How it moves.
    pub axis: Axis,
    /// What its number is.
    pub quantity: &'static Quantity,
    /// Its number now, document units.
    pub value: f64,
    /// Least number it can be dragged to, document units.
    pub least: f64,
    /// Greatest number it can be dragged to, document units.
    pub most: f64,
    /// One press of an arrow key, document units.
    pub step: f64,
    /// A point that goes up and down the page too: path of that number (its height, from above how far to
    /// starboard), and the number, document units.
    pub across: Option<(String, f64)>,
}

/// How a handle moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Axis {
    /// Along a line.
    Slide {
        /// Unit vector on the page in which the value grows.
        direction: Vec2,
        /// Document units to the metre.
        per_metre: f64,
    },
    /// About a point.
    Turn {
        /// The point [px].
        centre: Point,
    },
}

/// What a drag asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Dragged {
    /// An edit of the design: a path and its value in document units, not yet rounded to its step.
    Edit {
        /// Path in the document.
        path: String,
        /// Value, document units.
        value: f64,
    },
    /// Several numbers together.
    Edits {
        /// The holds are written out first ([`design::Document::write_holds`]).
        holds: bool,
        /// Path and value, document units, not yet rounded to its step.
        numbers: Vec<(String, f64)>,
    },
    /// Another hoist: panels lowered, per mast.
    Hoist(Vec<f64>),
}

/// What is taken hold of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Grip {
    Clew,
    Head,
    Peak,
    Balance,
    Hoist,
}

impl Grip {
    const ALL: [Grip; 5] = [
        Grip::Clew,
        Grip::Head,
        Grip::Peak,
        Grip::Balance,
        Grip::Hoist,
    ];

    const fn id(self) -> &'static str {
        match self {
            Grip::Clew => "clew",
            Grip::Head => "head",
            Grip::Peak => "peak",
            Grip::Balance => "balance",
            Grip::Hoist => "hoist",
        }
    }

    const fn label(self) -> &'static str {
        match self {
            Grip::Clew => "handle.clew",
            Grip::Head => "handle.head",
            Grip::Peak => "handle.peak",
            Grip::Balance => "handle.balance",
            Grip::Hoist => "handle.hoist",
        }
    }

    /// Path in the document. A sail by the table keeps its numbers spar by spar.
    fn path(self, design: &Design, mast: usize) -> Option<String> {
        let sail = &design.masts.get(mast)?.sail;
        let yard = sail.table.len().saturating_sub(1);
        let by_table = sail.family == Family::Table;
        let leaf = match self {
            Grip::Clew if by_table => "spars.0.length_m".to_string(),
            Grip::Head if by_table => format!("spars.{yard}.up_m"),
            Grip::Peak if by_table => format!("spars.{yard}.angle_deg"),
            Grip::Clew => "chord_m".to_string(),
            Grip::Head => "panel_width_m".to_string(),
            Grip::Peak => "yard_angle_deg".to_string(),
            Grip::Balance => "balance_pct".to_string(),
            Grip::Hoist => return Some(String::new()),
        };
        Some(format!("masts.{mast}.sail.{leaf}"))
    }

    /// The number it edits, in the design [SI].
    fn slot(self, sail: &mut SailDesign) -> Option<&mut f64> {
        let by_table = sail.family == Family::Table;
        match self {
            // A spar's direction is kept beside its angle, so both are set below.
            Grip::Clew if by_table => sail.table.first_mut().map(|spar| &mut spar.length),
            Grip::Head if by_table => sail.table.last_mut().map(|spar| &mut spar.luff.y),
            Grip::Peak if by_table => sail.table.last_mut().map(|spar| &mut spar.angle),
            Grip::Clew => Some(&mut sail.chord),
            Grip::Head => Some(&mut sail.panel_width),
            Grip::Peak => Some(&mut sail.yard_angle),
            Grip::Balance => Some(&mut sail.balance),
            Grip::Hoist => None,
        }
    }

    /// Where it sits on a sail, in the sail's plane.
    fn on(self, spars: &[Spar], sling: f64) -> Option<Point> {
        let (boom, yard) = (spars.first()?, spars.last()?);
        Some(match self {
            Grip::Clew => boom.leech(),
            Grip::Balance => boom.luff,
            Grip::Head => yard.luff,
            Grip::Peak => yard.leech(),
            Grip::Hoist => yard.at(sling * yard.length),
        })
    }
}

/// Handles of the sail in hand, in the order a keyboard meets them; with a line in hand, of that alone.
pub fn handles(moment: &Moment, frame: &Frame) -> Vec<Handle> {
    if let Some(found) = points::in_profile(moment, frame) {
        return found;
    }
    Grip::ALL
        .into_iter()
        .filter_map(|grip| handle(moment, frame, grip))
        .listed()
}

fn handle(moment: &Moment, frame: &Frame, grip: Grip) -> Option<Handle> {
    let mast = moment.view.mast;
    let rig = Rig::now(moment, frame)?;
    let at = rig.plane * grip.on(&rig.spars, rig.sling)?;
    let label = Text::new(grip.label());
    if grip == Grip::Hoist {
        let direction = hoist_direction(moment, &rig)?;
        return Some(Handle {
            id: grip.id(),
            path: String::new(),
            label,
            at,
            axis: Axis::Slide {
                direction: direction.0,
                per_metre: direction.1,
            },
            quantity: &quantity::PANELS_LOWERED,
            value: rig.hoist,
            least: 0.0,
            most: rig.spars.len().saturating_sub(1) as f64,
            step: 1.0,
            across: None,
        });
    }
    let path = grip.path(moment.design, mast)?;
    let row = bounds::row(&path)?;
    let mut sail = moment.design.masts.get(mast)?.sail.clone();
    let si = *grip.slot(&mut sail)?;
    let value = row.quantity.document_from_si(si);
    let axis = if grip == Grip::Peak {
        Axis::Turn {
            centre: rig.plane * rig.spars.last()?.luff,
        }
    } else {
        let nudge = row.quantity.si_from_document(row.nudge.max(1e-6));
        let moved = Rig::with(moment, frame, grip, si + nudge)?;
        let by = (moved.plane * grip.on(&moved.spars, moved.sling)?) - at;
        let px = by.hypot();
        if px.is_nan() || px < 1e-9 {
            return None;
        }
        Axis::Slide {
            direction: by / px,
            per_metre: row.quantity.document_from_si(nudge) / (px / frame.scale),
        }
    };
    Some(Handle {
        id: grip.id(),
        path,
        label,
        at,
        axis,
        quantity: row.quantity,
        value,
        least: row.hard_least,
        most: row.hard_most,
        step: row.nudge,
        across: None,
    })
}

/// What a handle held at a point [px] asks for: the value at which it lies there, or as near as
/// its line or arc comes. `None` where there is no such handle or nothing can be said.
pub fn dragged(moment: &Moment, frame: &Frame, id: &str, pointer: Point) -> Option<Dragged> {
    if !pointer.is_finite() {
        return None;
    }
    if let Some(found) = points::in_profile(moment, frame) {
        let handle = found.into_iter().find(|handle| handle.id == id)?;
        let off = (pointer - handle.at) / frame.scale;
        return points::led(moment, handle, off);
    }
    let grip = Grip::ALL.into_iter().find(|grip| grip.id() == id)?;
    let mast = moment.view.mast;
    if grip == Grip::Hoist {
        let value = hoist_at(moment, frame, pointer)?;
        let mut hoist: Vec<f64> = moment
            .pose
            .masts
            .iter()
            .map(|m| m.as_ref().map_or(0.0, |m| m.hoist))
            .listed();
        *hoist.get_mut(mast)? = value;
        return Some(Dragged::Hoist(hoist));
    }
    let path = grip.path(moment.design, mast)?;
    let row = bounds::row(&path)?;
    let least = row.quantity.si_from_document(row.hard_least);
    let most = row.quantity.si_from_document(row.hard_most);
    let mut sail = moment.design.masts.get(mast)?.sail.clone();
    let from = (*grip.slot(&mut sail)?).max(least).min(most);
    let si = if grip == Grip::Peak {
        turned_to(moment, frame, pointer, from, (least, most))?
    } else {
        slid_to(moment, frame, grip, pointer, from, (least, most))?
    };
    Some(Dragged::Edit {
        path,
        value: row.quantity.document_from_si(si),
    })
}

/// Enough for a quadratic method on a smooth path; a straight one is done at the first.
const MOST_STEPS: usize = 8;

/// Gauss-Newton on one number: the value whose place is nearest to the pointer.
fn slid_to(
    moment: &Moment,
    frame: &Frame,
    grip: Grip,
    pointer: Point,
    from: f64,
    (least, most): (f64, f64),
) -> Option<f64> {
    let place = |value: f64| {
        let rig = Rig::with(moment, frame, grip, value)?;
        Some(rig.plane * grip.on(&rig.spars, rig.sling)?)
    };
    let mut value = from;
    let mut at = place(value)?;
    for _ in 0..MOST_STEPS {
        // Towards the middle of the range, so that the probe is never refused.
        let probe = if value > 0.5 * (least + most) {
            -1e-5
        } else {
            1e-5
        };
        let slope = (place(value + probe)? - at) / probe;
        let step = (pointer - at).dot(slope) / slope.hypot2();
        if !step.is_finite() {
            return None;
        }
        let next = (value + step).max(least).min(most);
        // A plan may be impossible out there: then go half as far, and half again.
        let mut reach = next - value;
        let mut found = None;
        for _ in 0..6 {
            if let Some(there) = place(value + reach) {
                found = Some(there);
                break;
            }
            reach *= 0.5;
        }
        at = found?;
        value += reach;
        // A tenth of a millimetre, or a hundredth of a per cent.
        if reach.abs() < 1e-4 && (step - reach).abs() < 1e-4 {
            break;
        }
    }
    Some(value)
}

/// The yard angle at which the yard points at the pointer.
fn turned_to(
    moment: &Moment,
    frame: &Frame,
    pointer: Point,
    from: f64,
    (least, most): (f64, f64),
) -> Option<f64> {
    let miss = |value: f64| {
        let rig = Rig::with(moment, frame, Grip::Peak, value)?;
        if rig.plane.determinant().abs() < 1e-9 {
            return None;
        }
        let yard = rig.spars.last()?;
        let arm = rig.plane.inverse() * pointer - yard.luff;
        if arm.hypot() < 1e-6 {
            return None;
        }
        // Between the two directions, the short way round.
        Some(yard.along.cross(arm).atan2(yard.along.dot(arm)))
    };
    let mut value = from;
    let mut left = miss(value)?;
    // At full hoist the yard turns as its angle does; lower down, by less.
    let mut per_value = 1.0_f64;
    for _ in 0..MOST_STEPS {
        let next = (value + left / per_value).max(least).min(most);
        if (next - value).abs() < 1e-7 {
            break;
        }
        let then = miss(next)?;
        let slope = (left - then) / (next - value);
        if slope.is_finite() && slope.abs() > 0.05 {
            per_value = slope;
        }
        (value, left) = (next, then);
    }
    Some(value)
}

/// One sail as it stands, or would stand.
struct Rig {
    spars: Vec<Spar>,
    plane: Affine,
    sling: f64,
    hoist: f64,
}

impl Rig {
    fn now(moment: &Moment, frame: &Frame) -> Option<Self> {
        let mast = moment.view.mast;
        let pose = moment.pose.masts.get(mast)?.as_ref()?;
        let account = moment.account.masts.get(mast)?;
        Some(Self {
            spars: pose.spars.clone(),
            plane: frame.sail(&account.mast, pose.sheeting),
            sling: account.plan.as_ref()?.sling,
            hoist: pose.hoist,
        })
    }

    /// As it would stand were the grip's number this one [SI].
    fn with(moment: &Moment, frame: &Frame, grip: Grip, si: f64) -> Option<Self> {
        let at = moment.view.mast;
        let mut mast = moment.design.masts.get(at)?.clone();
        *grip.slot(&mut mast.sail)? = si;
        if grip == Grip::Peak
            && let Some(yard) = mast.sail.table.last_mut()
        {
            *yard = Spar::new(yard.luff, yard.angle, yard.length);
        }
        let pose = moment.pose.masts.get(at)?.as_ref()?;
        let (spars, sling, mast) = if pose.hoist == 0.0 {
            // At full hoist the plan alone decides.
            let plan = mast.sail.plan_rule().plan().0?;
            let mast = moment.account.masts.get(at)?.mast;
            (plan.spars, plan.sling, mast)
        } else {
            design::spars_at(&moment.design.boat.hull, &mast, pose.hoist)?
        };
        Some(Self {
            spars,
            plane: frame.sail(&mast, pose.sheeting),
            sling,
            hoist: pose.hoist,
        })
    }

    /// The same sail at another hoist.
    fn hoisted(moment: &Moment, frame: &Frame, hoist: f64) -> Option<Self> {
        let account = moment.account.masts.get(moment.view.mast)?;
        Some(Self {
            spars: account.reefs.as_ref()?.placed_at(hoist),
            hoist,
            ..Self::now(moment, frame)?
        })
    }

    /// Sling point [px].
    fn sling_at(&self) -> Option<Point> {
        Some(self.plane * Grip::Hoist.on(&self.spars, self.sling)?)
    }
}

/// Which way the sling goes as panels are lowered, and panels to the metre.
fn hoist_direction(moment: &Moment, rig: &Rig) -> Option<(Vec2, f64)> {
    let account = moment.account.masts.get(moment.view.mast)?;
    let reefs = account.reefs.as_ref()?;
    let (first, last) = (reefs.states.first()?, reefs.states.last()?);
    let way = rig.plane * last.sling - rig.plane * first.sling;
    let metres = first.sling.distance(last.sling);
    let panels = reefs.n_panels() as f64;
    (way.hypot() > 1e-6 && metres > 1e-6).then(|| (way / way.hypot(), panels / metres))
}

/// The hoist at which the sling stands at the pointer's height: it only ever comes down as panels
/// are lowered, so it is bisected.
fn hoist_at(moment: &Moment, frame: &Frame, pointer: Point) -> Option<f64> {
    let most = moment
        .pose
        .masts
        .get(moment.view.mast)?
        .as_ref()?
        .spars
        .len()
        .saturating_sub(1);
    let height = |hoist: f64| Some(Rig::hoisted(moment, frame, hoist)?.sling_at()?.y);
    let (mut low, mut high) = (0.0, most as f64);
    if pointer.y <= height(low)? {
        return Some(low);
    }
    if pointer.y >= height(high)? {
        return Some(high);
    }
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        if height(middle)? < pointer.y {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

/// Rings where the hand can take hold; none on paper or where the design is only looked at.
/// Those of a line in hand are `points`.
pub(crate) fn rings(moment: &Moment, frame: &Frame, points: Option<Vec<Handle>>) -> Vec<Ring> {
    let mut rings = Vec::with_capacity(Grip::ALL.len());
    if moment.medium == Medium::Paper || !moment.view.hands {
        return rings;
    }
    let small = if frame.width.min(frame.height) < 480.0 {
        5.0
    } else {
        6.0
    };
    let mut ring = |at: Point, id: &str| {
        rings.push(Ring {
            at,
            radius: small,
            held: moment.view.active == id,
        });
    };
    if let Some(found) = points {
        for handle in found {
            ring(handle.at, handle.id);
        }
    } else if let Some(rig) = Rig::now(moment, frame) {
        for grip in Grip::ALL {
            let Some(at) = grip.on(&rig.spars, rig.sling) else {
                continue;
            };
            ring(rig.plane * at, grip.id());
        }
    }
    rings
}

/// One place to take hold of, as it is drawn.
pub(crate) struct Ring {
    pub(crate) at: Point,
    pub(crate) radius: f64,
    held: bool,
}

/// Draws rings; the one held is larger and filled.
pub(crate) fn draw(scene: &mut Scene, rings: &[Ring]) {
    for Ring { at, radius, held } in rings {
        let radius = if *held { 8.0 } else { *radius };
        let ring = circle(*at, radius);
        let ground = if *held { Role::Accent } else { Role::Paper };
        scene.figure(ring, Some(ground), Some(Stroke::new(Role::Handle, 1.8)));
        let dot = circle(*at, 2.0);
        scene.fill(dot, if *held { Role::Paper } else { Role::Handle });
    }
}
