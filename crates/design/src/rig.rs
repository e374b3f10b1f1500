//! All sails together, and the order in which they are reefed.

use geometry::rig::{Standing, least_change_of_lead};
use quantities::listed::Listed as _;
use quantities::{Problem, Text};

use crate::account::{MastAccount, RigAccount, RigStep};
use crate::design::Design;

/// Area, centre and reef sequence of the whole rig.
pub(crate) fn rig(
    design: &Design,
    masts: &[MastAccount],
    problems: &mut Vec<Problem>,
) -> RigAccount {
    // standing[m][k]: mast m with k panels lowered. Row 1 is full hoist once more, on the lifts.
    let standing: Vec<Vec<Standing>> = masts
        .iter()
        .map(|mast| {
            mast.rows
                .iter()
                .filter(|row| row.lowered > 0 || !row.on_lifts)
                .map(|row| Standing {
                    area: row.area,
                    x: row.centre.map_or(0.0, |c| c.x),
                    z: row.centre.map_or(0.0, |c| c.z),
                })
                .listed()
        })
        .listed();
    let together = |lowered: &[usize]| {
        let sails = standing.iter().zip(lowered);
        Standing::together(sails.filter_map(|(states, k)| states.get(*k).copied()))
    };
    let full = together(&vec![0; masts.len()]);
    let order = match &design.sequence {
        Some(typed) => match sequence_fault(typed, &standing) {
            None => typed.clone(),
            Some(problem) => {
                problems.push(problem);
                least_change_of_lead(&standing)
            }
        },
        None => least_change_of_lead(&standing),
    };
    let area = full.map_or(0.0, |f| f.area);
    RigAccount {
        area,
        centre: full,
        sequence: order
            .into_iter()
            .map(|lowered| {
                let now = together(&lowered);
                RigStep {
                    standing: now,
                    share: now.map_or(0.0, |s| if area > 0.0 { s.area / area } else { 0.0 }),
                    shift: now.zip(full).map(|(now, full)| now.x - full.x),
                    lowered,
                }
            })
            .listed(),
        air_draught: masts
            .iter()
            .map(|mast| {
                let bare = mast.mast.head().z;
                mast.rows.first().map_or(bare, |row| row.air_draught)
            })
            .fold(0.0, f64::max),
    }
}

/// The first step of a typed sequence that cannot be: one number per mast, no more panels than
/// there are, none hoisted again on the way down, all standing at the start.
fn sequence_fault(typed: &[Vec<usize>], standing: &[Vec<Standing>]) -> Option<Problem> {
    let fault = |step: usize, key| {
        Some(Problem::refused(
            format!("reefs.sequence.{step}"),
            Text::new(key),
        ))
    };
    let mut before: Option<&Vec<usize>> = None;
    for (i, step) in typed.iter().enumerate() {
        if step.len() != standing.len() {
            return fault(i, "problem.sequence_masts");
        }
        if step
            .iter()
            .zip(standing)
            .any(|(k, states)| *k >= states.len().max(1))
        {
            return fault(i, "problem.sequence_panels");
        }
        let rises = match before {
            None => step.iter().any(|k| *k > 0),
            Some(before) => step.iter().zip(before).any(|(now, before)| now < before),
        };
        if rises {
            return fault(i, "problem.sequence_order");
        }
        before = Some(step);
    }
    None
}
