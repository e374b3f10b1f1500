//! The number that stands behind a field, typed or by its rule.

use quantities::bounds;

use crate::account::{Account, MastAccount};
use crate::design::{Design, MastDesign};
use crate::lines::{cloth, is, slots};
use crate::made::rule_value;
use crate::sewn::{usual_camber, usual_head, usual_slot};

/// The value in use at a path, in document units: what is typed if it is usable, else what its
/// rule comes to. A plain usual value, which needs no design, is not looked up for boat and wind. `masts.N.sail.area`, which is typed but not stored, gives the
/// area there is. `None` for words, choices, flags and unknown paths, and for what
/// is simply not there.
pub fn in_use(design: &Design, account: &Account, path: &str) -> Option<f64> {
    let row = if path.ends_with(".sail.area") {
        &bounds::TARGET_AREA
    } else {
        bounds::row(path)?
    };
    let si = si_in_use(design, account, path)?;
    Some(row.quantity.document_from_si(si)).filter(|value| value.is_finite())
}

fn si_in_use(design: &Design, account: &Account, path: &str) -> Option<f64> {
    let (first, rest) = path.split_once('.')?;
    match first {
        "boat" => boat(design, rest),
        "wind" => wind(design, rest),
        "masts" => {
            let (m, leaf) = indexed(rest)?;
            mast(design, account, m, leaf)
        }
        "reefs" => {
            let (step, m) = indexed(rest.strip_prefix("sequence.")?)?;
            let step = account.rig.sequence.get(step)?;
            step.lowered
                .get(m.parse::<usize>().ok()?)
                .map(|k| *k as f64)
        }
        _ => None,
    }
}

fn indexed(path: &str) -> Option<(usize, &str)> {
    let (index, rest) = path.split_once('.')?;
    Some((index.parse().ok()?, rest))
}

fn boat(design: &Design, leaf: &str) -> Option<f64> {
    let boat = &design.boat;
    let hull = &boat.hull;
    let known = &boat.particulars;
    Some(match leaf {
        "loa_m" => hull.loa,
        "lwl_m" => hull.lwl,
        "beam_m" => hull.beam,
        "draught_m" => hull.draught,
        "bow_overhang_m" => hull.bow_overhang,
        "freeboard_bow_m" => hull.freeboard_bow,
        "freeboard_mid_m" => hull.freeboard_mid,
        "freeboard_stern_m" => hull.freeboard_stern,
        "coachroof.from_m" => hull.coachroof?.from,
        "coachroof.to_m" => hull.coachroof?.to,
        "coachroof.height_m" => hull.coachroof?.height,
        "cockpit.from_m" => hull.cockpit?.from,
        "cockpit.to_m" => hull.cockpit?.to,
        "cockpit.seat_m" => hull.cockpit?.seat,
        "coachroof_clearance_m" => boat.coachroof_clearance,
        "cockpit_clearance_m" => boat.cockpit_clearance,
        "eye_height_m" => boat.eye_height,
        "boom_end_clearance_m" => boat.boom_end_clearance,
        "air_draught_m" => boat.air_draught?,
        "bwl_m" => known.hull.beam,
        "canoe_draught_m" => known.hull.canoe_draught,
        "kg_pct" => known.hull.gravity,
        "light_kg" => known.loads[0]?,
        "displacement_kg" => known.loads[1]?,
        "laden_kg" => known.loads[2]?,
        "ballast_kg" => boat.ballast,
        _ => return None,
    })
}

fn wind(design: &Design, leaf: &str) -> Option<f64> {
    let conditions = &design.boat.particulars.conditions;
    Some(match leaf {
        "boat_speed_kn" => conditions.course.boat_speed,
        "comfort_deg" => conditions.comfort,
        _ => return None,
    })
}

fn mast(design: &Design, account: &Account, m: usize, leaf: &str) -> Option<f64> {
    let result = account.masts.get(m)?;
    let mast = &result.mast;
    let typed = design.masts.get(m)?;
    if let Some(leaf) = leaf.strip_prefix("lines.") {
        return line(typed, result, leaf);
    }
    if let Some(leaf) = leaf.strip_prefix("spars.") {
        let typed_number = typed.spars.made.number(leaf);
        return typed_number.or_else(|| rule_value(typed, mast, leaf));
    }
    if let Some(leaf) = leaf.strip_prefix("cloth.") {
        return sewn(typed, result, leaf);
    }
    if let Some(leaf) = leaf.strip_prefix("weights.") {
        return weight(typed, result, leaf);
    }
    let Some(leaf) = leaf.strip_prefix("sail.") else {
        return Some(match leaf {
            "position_m" => mast.x,
            "partners_m" => mast.z,
            "bury_m" => mast.bury,
            "lap_m" => mast.lap,
            "rake_deg" => mast.rake,
            "diameter_m" => mast.diameter,
            "top_diameter_m" => mast.top_diameter,
            "parallel_pct" => mast.parallel,
            _ => return None,
        });
    };
    let sail = &typed.sail;
    Some(match leaf {
        "area" => result.figures.as_ref()?.area,
        "panels" => sail.panels as f64,
        "head_panels" => sail.head_panels as f64,
        "chord_m" => sail.chord,
        "panel_width_m" => sail.panel_width,
        "rise_deg" => sail.rise,
        "boom_rise_deg" => sail.boom_rise.unwrap_or(sail.rise),
        "yard_angle_deg" => sail.yard_angle,
        "yard_length_pct" => sail.yard_length,
        "luff_rake_deg" => sail.luff_rake,
        "luff_round_pct" => sail.luff_round,
        "leech_round_pct" => sail.leech_round,
        "balance_pct" => sail.balance,
        "boom_height_m" => sail.boom_height,
        "sling_pct" => sail.sling,
        "offset_m" => mast.offset,
        "chord_share_pct" => sail.chord_share,
        "side_force" => sail.side_force,
        "batten_depth_m" => sail.batten_depth,
        "boom_depth_m" => sail.boom_depth,
        "yard_depth_m" => sail.yard_depth,
        "folded_cloth_m" => sail.folded_cloth,
        "drop_m" => sail.drop,
        "travel_pct" => result.travel / sail.boom_length(),
        "drift_m" => result.drift_wanted,
        "masthead_clearance_m" => sail.masthead_clearance,
        "leech_kink_deg" => sail.leech_kink,
        "halyard_angle_deg" => sail.halyard_angle,
        "squared_off_deg" => sail.squared_off,
        _ => {
            let (list, rest) = leaf.split_once('.')?;
            return match list {
                "head_widths_pct" => sail.head_widths.get(rest.parse::<usize>().ok()?).copied(),
                "head_steps" => sail.head_steps.get(rest.parse::<usize>().ok()?).copied(),
                "spars" => {
                    let (i, leaf) = indexed(rest)?;
                    let spar = sail.table.get(i)?;
                    match leaf {
                        "aft_m" => Some(spar.luff.x),
                        "up_m" => Some(spar.luff.y),
                        "angle_deg" => Some(spar.angle),
                        "length_m" => Some(spar.length),
                        _ => None,
                    }
                }
                _ => None,
            };
        }
    })
}

fn line(typed: &MastDesign, result: &MastAccount, leaf: &str) -> Option<f64> {
    let typed = &typed.lines;
    let lines = &result.lines.as_ref()?.input.lines;
    let (head, field) = leaf.split_once('.')?;
    match (head, indexed(field)) {
        ("spans", Some((i, leaf))) => {
            let row = typed.spans.iter().find(|row| row.at == i)?;
            // Its place among those of its sheet.
            let before = typed.spans.iter().take_while(|row| row.at < i);
            let j = before.filter(|other| other.sheet == row.sheet).count();
            let span = lines.sheets.get(row.sheet).and_then(|s| s.spans.get(j));
            match leaf {
                "sheet" => Some((row.sheet + 1) as f64),
                "top" => Some(row.top as f64),
                "ends" => Some(row.ends as f64),
                "length_m" => row.length.or(span.map(|span| span.length)),
                _ => {
                    let parts = span.and_then(|s| s.falls.first()).map(|fall| fall.parts);
                    row.parts.or(parts).map(|parts| parts as f64)
                }
            }
        }
        ("holds", Some((i, leaf))) => {
            let row = typed.holds.iter().find(|row| row.at == i)?;
            match leaf {
                "spar" => Some(row.hold.spar as f64),
                "along_pct" => Some(row.hold.share),
                _ => None,
            }
        }
        ("lifts", _) if field.starts_with("catches") => {
            let (_, i) = field.split_once('.')?;
            let catches = &lines.lifts.as_ref()?.catches;
            catches.get(i.parse::<usize>().ok()?).copied()
        }
        _ => typed.typed(leaf).or_else(|| {
            let mut found = None;
            slots(&mut lines.clone(), &mut |parts, value| {
                if found.is_none() && is(leaf, parts) {
                    found = Some(*value);
                }
            });
            found
        }),
    }
}

fn sewn(typed: &MastDesign, result: &MastAccount, leaf: &str) -> Option<f64> {
    let made = &typed.cloth.made;
    let input = result.cloth.as_ref().map(|cloth| &cloth.input);
    if let Some((list, rest)) = leaf.split_once('.') {
        let (i, leaf) = indexed(rest)?;
        let rows = match list {
            "shapes" => &typed.cloth.shapes,
            _ => &typed.cloth.ordinates,
        };
        let row = rows.iter().find(|row| row.at == i)?;
        return row.number(leaf).or_else(|| {
            let panel = row.number("panel")? as usize;
            let shape = input?.shapes.get(panel.wrapping_sub(1))?;
            match leaf {
                "camber_pct" => Some(shape.camber),
                "place_pct" => Some(shape.place),
                _ => None,
            }
        });
    }
    made.number(leaf).or_else(|| {
        let lower = || {
            made.number("camber_pct")
                .unwrap_or_else(|| usual_camber(typed, typed.sail.cut))
        };
        Some(match leaf {
            "camber_pct" => lower(),
            "head_camber_pct" => usual_head(input?.panels(), lower()),
            "head_place_pct" => made.usual("place_pct"),
            "slot_pct" => usual_slot(&input?.mast, &input?.spars),
            _ => return None,
        })
    })
}

fn weight(typed: &MastDesign, result: &MastAccount, leaf: &str) -> Option<f64> {
    let spars = &result.lines.as_ref()?.input.weights.spars;
    let known = &typed.weights;
    match leaf {
        "cloth_gsm" => Some(1000.0 * cloth(typed, result.plan.as_ref()?)),
        "boom_kg" => known.boom.or(spars.first().copied()),
        "batten_kg" => known.batten.or(spars.get(1).copied()),
        "yard_kg" => known.yard.or(spars.last().copied()),
        _ => None,
    }
}
