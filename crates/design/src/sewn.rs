//! The cloth of a sail: the document's shape, construction and allowances as the crate `cloth` takes them, every rule followed.

use cloth::{
    Barrel, Bows, Cloth, Construction, Cut as CamberCut, Depths, Input, Limits, MeanLine,
    PanelShape, Patches, Pockets, Sewing, Split, Warp, Wing,
};
use geometry::mast::Mast;
use geometry::{MOST_PANELS, Reefs, SailPlan, Spar};
use kurbo::Point;
use quantities::Problem;

use crate::account::{Account, LinesAccount};
use crate::design::{Cut, Design, MastDesign};
use crate::lines::cloth;

/// The cloth of a sail, and what it was worked out from.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ClothAccount {
    /// Every rule followed.
    pub input: Input,
    /// Cloth of each panel made up, lowest first [kg].
    pub panels: Vec<f64>,
}

/// Camber of the lower panels: barrel, shelf, after part of a split panel, bows (common practice).
const CAMBER: [f64; 4] = [0.07, 0.08, 0.06, 0.07];
/// Slot over chord, and over the mast's diameter there (common practice).
const SLOT: (f64, f64) = (0.08, 2.0);
/// Mass of the webbing is that of so much of it [m].
const WEBBING_LENGTH: f64 = 100.0;

/// The cloth of a mast's sail; none where there is no such mast.
pub(crate) fn sewn(
    design: &Design,
    m: usize,
    (mast, plan, reefs): (&Mast, &SailPlan, &Reefs),
    problems: &mut Vec<Problem>,
) -> Option<ClothAccount> {
    let typed = design.masts.get(m)?;
    let (rules, sail) = (&design.cloth, &typed.sail);
    let pull = [[0.0; 2]; MOST_PANELS + 1];
    let input = Input {
        spars: plan.spars.clone(),
        luff_round: sail.luff_round,
        leech_round: sail.leech_round,
        mast: *mast,
        depths: Depths {
            boom: sail.boom_depth,
            batten: sail.batten_depth,
            yard: sail.yard_depth,
        },
        travel: travel(reefs),
        shapes: shapes(m, typed, plan.n_panels(), problems),
        line: line(typed),
        construction: constructions(typed, mast, &plan.spars)[sail.cut as usize],
        sewing: Sewing {
            seam: rules.usual("seam_m"),
            batten: rules.usual("batten_seam_m"),
            edge: rules.usual("tabling_m"),
            hem: rules.usual("hem_m"),
            pockets: if rules.word("pockets") == "hems" {
                Pockets::Hems
            } else {
                Pockets::Strips
            },
            pocket_ease: rules.usual("pocket_ease_pct"),
            pocket_end: rules.usual("pocket_end_m"),
            offsets: rules.usual("offsets") as usize,
            patches: Patches {
                share: rules.usual("patch_pct"),
                layers: rules.usual("patch_layers") as usize,
                strength: rules.usual("patch_strength"),
                pull,
            },
            thread: rules.usual("thread"),
            webbing: rules.usual("webbing_kg") / WEBBING_LENGTH,
            eye_pitch: rules.usual("eye_pitch_m"),
        },
        cloth: Cloth {
            mass: cloth(typed, plan),
            roll: rules.usual("roll_m"),
            warp: match rules.word("warp") {
                "battens" => Warp::Battens,
                "leech" => Warp::Leech,
                _ => Warp::Fitting,
            },
        },
        limits: Limits {
            strain: rules.usual("strain_pct"),
            gather: rules.usual("gather_pct"),
            barrel: rules.usual("barrel_depth_pct"),
        },
    };
    let mut panels = Vec::new();
    for panel in &plan.panel_moments {
        panels.push(1.15 * panel.area * input.cloth.mass);
    }
    Some(ClothAccount { input, panels })
}

impl ClothAccount {
    /// Takes what the lines pull at the spars' ends into the patches.
    pub(crate) fn pulled(&mut self, _lines: &LinesAccount) {}
}

/// The five ways to make a sail with the document's numbers: flat, cambered, wing, split, bows. None without a plan.
pub fn ways(design: &Design, m: usize, account: &Account) -> Vec<Construction> {
    let known = account.masts.get(m).and_then(|mast| mast.cloth.as_ref());
    match (design.masts.get(m), known) {
        (Some(typed), Some(known)) => {
            let (mast, spars) = (&known.input.mast, &known.input.spars);
            constructions(typed, mast, spars).to_vec()
        }
        _ => Vec::new(),
    }
}

/// In the order of [`Cut`].
fn constructions(typed: &MastDesign, mast: &Mast, spars: &[Spar]) -> [Construction; 5] {
    let made = &typed.cloth.made;
    let cut = if made.word("camber_cut") == "shelf" {
        CamberCut::Shelf(made.usual("shelf_deg"))
    } else {
        CamberCut::Barrel(if made.word("barrel") == "hollow" {
            Barrel::Hollow
        } else {
            Barrel::Added
        })
    };
    let room = made.usual("room_m");
    let slot = made.number("slot_pct");
    [
        Construction::Flat,
        Construction::Cambered(cut),
        Construction::Wing(Wing {
            join: made.usual("join_pct"),
            thickness: made.usual("thickness_pct"),
            room,
        }),
        Construction::Split(Split {
            slot: slot.unwrap_or_else(|| usual_slot(mast, spars)),
            turn: made.usual("turn_deg"),
            fore: made.usual("fore_times"),
            cut,
        }),
        Construction::Bows(Bows { room }),
    ]
}

/// Slot by rule, share of the chord: 8 %, and twice the mast's diameter at every spar.
pub(crate) fn usual_slot(mast: &Mast, spars: &[Spar]) -> f64 {
    let mut most = SLOT.0;
    for spar in spars {
        if let Some(height) = spar.height_on_mast() {
            most = most.max(SLOT.1 * mast.diameter_at(height) / spar.length.max(0.1));
        }
    }
    most
}

/// Camber of the lower panels by rule.
pub(crate) fn usual_camber(typed: &MastDesign) -> f64 {
    let [barrel, shelf, split, bows] = CAMBER;
    match typed.sail.cut {
        Cut::Split => split,
        Cut::Paired => bows,
        _ if typed.cloth.made.word("camber_cut") == "shelf" => shelf,
        _ => barrel,
    }
}

/// Shape of each panel: by rule or graded from foot to head, then panel by panel.
fn shapes(
    _m: usize,
    typed: &MastDesign,
    panels: usize,
    _problems: &mut Vec<Problem>,
) -> Vec<PanelShape> {
    let made = &typed.cloth.made;
    let place = made.usual("place_pct");
    let foot = PanelShape {
        camber: made
            .number("camber_pct")
            .unwrap_or_else(|| usual_camber(typed)),
        place,
    };
    let head = PanelShape {
        camber: made.number("head_camber_pct").unwrap_or(foot.camber),
        place: made.number("head_place_pct").unwrap_or(place),
    };
    let mut shapes = cloth::shape::graded(panels, foot, head);
    if made.number("head_camber_pct").is_none() {
        let usual = cloth::shape::usual(panels, foot.camber);
        for (shape, usual) in shapes.iter_mut().zip(usual) {
            shape.camber = usual.camber;
        }
    }
    for row in &typed.cloth.shapes {
        let at = row.number("panel").map_or(0, |panel| panel as usize);
        if let Some(shape) = shapes.get_mut(at.wrapping_sub(1)) {
            shape.camber = row.number("camber_pct").unwrap_or(shape.camber);
            shape.place = row.number("place_pct").unwrap_or(shape.place);
        }
    }
    shapes
}

/// The mean line; the four-digit one stands in for own ordinates that make none.
fn line(typed: &MastDesign) -> MeanLine {
    let made = &typed.cloth.made;
    match made.word("line") {
        "parabola" => MeanLine::Parabola,
        "own" => {
            let mut points = Vec::new();
            for row in &typed.cloth.ordinates {
                points.push(Point::new(row.usual("along_pct"), row.usual("off_pct")));
            }
            let own = MeanLine::Own(points);
            if own.usable() {
                own
            } else {
                MeanLine::FourDigit
            }
        }
        _ => MeanLine::FourDigit,
    }
}

/// How far each spar moves ahead and aft past the mast over the reefs [m].
fn travel(reefs: &Reefs) -> Vec<[f64; 2]> {
    let mut travel = Vec::new();
    for state in &reefs.states {
        travel.resize(state.spars.len(), [0.0f64; 2]);
        for (placed, [ahead, aft]) in state.spars.iter().zip(&mut travel) {
            *ahead = ahead.max(-placed.shift);
            *aft = aft.max(placed.shift);
        }
    }
    travel
}
