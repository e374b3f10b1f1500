//! The boat with her rig on: what each step of the reef sequence brings to [`boat::account()`].

use boat::{Sail, Step, Windage};
use quantities::listed::Listed as _;

use crate::account::{MastAccount, RigStep};
use crate::design::{Design, MastDesign};

/// Stability, balance and reef winds.
pub(crate) fn afloat(
    design: &Design,
    masts: &[MastAccount],
    sequence: &[RigStep],
) -> boat::Account {
    boat::account(&input(design, masts, sequence))
}

/// What they are worked out from.
pub(crate) fn input(design: &Design, masts: &[MastAccount], sequence: &[RigStep]) -> boat::Input {
    boat::Input {
        steps: sequence
            .iter()
            .map(|step| step_of(design, masts, &step.lowered))
            .listed(),
        ..design.boat.particulars.clone()
    }
}

fn step_of(design: &Design, masts: &[MastAccount], lowered: &[usize]) -> Step {
    let mut step = Step::default();
    step.windage.push(hull(design));
    // All sails are squared off to one side, the one that puts their common centre further out.
    let (mut to_port, mut to_starboard) = (0.0, 0.0);
    let mut ports = Vec::new();
    for ((typed, mast), lowered) in design.masts.iter().zip(masts).zip(lowered) {
        let outline = &mast.mast;
        step.windage.push(Windage {
            force: design.wind.mast_drag,
            area: outline.lap * 0.5 * (outline.diameter + outline.top_diameter),
            z: 0.5 * (outline.z + outline.head().z),
        });
        let Some(row) = mast.rows.get(state_of(*lowered)) else {
            continue;
        };
        step.windage.push(Windage {
            force: design.wind.bundle_drag,
            area: row.bundle_height * typed.sail.boom_length(),
            z: row.bundle.z,
        });
        let (sail, port) = sail(typed, mast, *lowered);
        to_port += sail.area * sail.efficiency * port;
        to_starboard += sail.area * sail.efficiency * sail.squared;
        step.sails.push(sail);
        ports.push(port);
    }
    if to_port.abs() > to_starboard.abs() {
        for (sail, port) in step.sails.iter_mut().zip(ports) {
            sail.squared = port;
        }
    }
    step
}

/// Which reef state has this many panels lowered: the second is full hoist on the lifts.
pub(crate) fn state_of(lowered: usize) -> usize {
    if lowered > 0 { lowered + 1 } else { 0 }
}

/// One sail with some panels lowered, and its centre out of the centreline squared off to port; in it
/// stands that to starboard. Heel goes by the centre of its area, overbalance by the place of the
/// attached force.
fn sail(typed: &MastDesign, mast: &MastAccount, lowered: usize) -> (Sail, f64) {
    let sail = &typed.sail;
    let mut found = Sail {
        area: 0.0,
        x: mast.mast.x,
        z: mast.mast.z,
        force: sail.side_force,
        efficiency: sail.efficiency,
        pressure_aft: 0.0,
        chord: 0.0,
        squared: 0.0,
    };
    let row = mast.rows.get(state_of(lowered));
    let state = mast.reefs.as_ref().and_then(|reefs| reefs.lowered(lowered));
    let (Some(row), Some(state)) = (row, state) else {
        return (found, 0.0);
    };
    let (Some(centre), Some(centroid)) = (row.centre, state.centroid) else {
        return (found, 0.0);
    };
    found.area = row.area;
    found.x = centre.x;
    found.z = centre.z;
    if let (Some(pressure), Some(chord)) = (state.pressure, state.chord) {
        found.pressure_aft = pressure.x + (sail.attached - sail.chord_share) * chord.x;
        found.chord = chord.hypot();
    }
    let out = |sheeting: f64| mast.mast.sheeted(sheeting).place(centroid).y;
    found.squared = out(sail.squared_off);
    (found, out(-sail.squared_off))
}

/// Side of hull and coachroof above the water.
fn hull(design: &Design) -> Windage {
    let hull = &design.boat.hull;
    // Simpson over the three freeboards.
    let height = (hull.freeboard_bow + 4.0 * hull.freeboard_mid + hull.freeboard_stern) / 6.0;
    let side = hull.loa * height;
    let (mut area, mut first) = (side, side * 0.5 * height);
    if let Some(roof) = &hull.coachroof {
        let front = (roof.to - roof.from) * roof.height;
        area += front;
        first += front * (hull.freeboard_mid + 0.5 * roof.height);
    }
    Windage {
        force: design.wind.hull_drag,
        area,
        z: first / area,
    }
}
