//! The cloth of a sail: the document's shape, construction and allowances as the crate `cloth` takes them, every rule followed.

use cloth::shape::{graded, usual};
use cloth::{
    Barrel, Bows, Cloth, Construction, Cut as CamberCut, Depths, Fault, Input, LEAST_WIDTH, Limits,
    MeanLine, PanelShape, Patches, Pockets, Sewing, Split, Warp, Way, Weighed, Wing,
};
use geometry::mast::Mast;
use geometry::plan::LEAST_PART;
use geometry::{MOST_PANELS, Panel, Reefs, SailPlan, Spar};
use kurbo::Point;
use quantities::quantity as q;
use quantities::{Arg, Problem, Text, bounds};

use crate::account::{Account, LinesAccount};
use crate::design::{Cut, Design, Family, Leaves, MastDesign};
use crate::edits::mast_path;
use crate::lines::cloth;
use crate::made::outside;

/// The cloth of a sail, and what it was worked out from.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ClothAccount {
    /// Every rule followed.
    pub input: Input,
    /// Cloth of each panel made up, lowest first [kg]; layers that only a pull asks for are left out.
    pub panels: Vec<f64>,
    /// Share of the room for its camber that each panel takes: 1 is a barrel of a half circle, or shelves that meet.
    pub fills: Vec<f64>,
    /// What keeps the sail or a panel of it from being cut so.
    pub faults: Vec<Fault>,
}

/// Camber of the lower panels: barrel, shelf, after part of a split panel, bows (common practice).
const CAMBER: [f64; 4] = [0.07, 0.08, 0.06, 0.07];
/// Slot over chord, and over the mast's diameter there (common practice).
const SLOT: (f64, f64) = (0.08, 2.0);
/// A slot narrower than this share of the chord is not cut (common practice).
const LEAST_SLOT: f64 = 0.04;
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
        shapes: shapes(m, typed, (sail.cut, plan.n_panels()), problems),
        line: line(m, typed, problems),
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
    let weighed = input.weigh();
    let mut told = Told { m, typed, problems };
    for fault in &weighed.faults {
        told.fault(*fault, &input, &weighed);
    }
    told.roll(&input, weighed.roll);
    Some(ClothAccount {
        input,
        panels: weighed.panels,
        fills: weighed.fills,
        faults: weighed.faults,
    })
}

impl ClothAccount {
    /// Takes what the sheets draw at the leech ends of the spars into the patches: down the leech, as hard as the wind for strength has it. What
    /// the spar takes along itself, and what tabling and webbing carry on to the yard, is left out.
    pub(crate) fn pulled(&mut self, lines: &LinesAccount) {
        let pulls = &mut self.input.sewing.patches.pull;
        for loads in &lines.account.loads {
            for work in &loads.working {
                for pull in &work.pulls {
                    if let Some([_, leech]) = pulls.get_mut(pull.spar) {
                        *leech = leech.max(pull.down * loads.times);
                    }
                }
            }
        }
    }

    /// How far the cloth of a panel stands out between its spars in the middle [m]; nought of cloth that is flat from spar to spar, which its
    /// stretch rounds. Fore and after part of a split panel pull side by side, each as the inverse of its own.
    pub(crate) fn sagitta(&self, panel: usize) -> f64 {
        let input = &self.input;
        let (Some(shape), Some([low, up])) = (
            input.shapes.get(panel - 1),
            input.spars.get(panel - 1..=panel),
        ) else {
            return 0.0;
        };
        let chord = 0.5 * (low.length + up.length);
        match input.construction {
            Construction::Cambered(_) => shape.camber * chord,
            Construction::Split(split) => {
                let ahead = |spar: &Spar| spar.ahead().unwrap_or(0.0) / spar.length;
                let mast = 0.5 * (ahead(low) + ahead(up));
                let fore = (mast - 0.5 * split.slot).max(0.0);
                let after = (1.0 - mast - 0.5 * split.slot).max(0.0);
                let pull = |part: f64, camber: f64| part / (camber * part).max(1e-6);
                let all = pull(fore, split.fore * shape.camber) + pull(after, shape.camber);
                chord * (fore + after) / all.max(1e-6)
            }
            _ => 0.0,
        }
    }
}

/// The five ways to make a sail with the document's numbers, each with its own usual camber where none is typed: flat, cambered, wing, split,
/// bows. None without a plan.
pub fn ways(design: &Design, m: usize, account: &Account) -> Vec<Way> {
    let mut ways = Vec::new();
    let known = account.masts.get(m).and_then(|mast| mast.cloth.as_ref());
    if let (Some(typed), Some(known)) = (design.masts.get(m), known) {
        let input = &known.input;
        for construction in constructions(typed, &input.mast, &input.spars) {
            let cut = CUTS[construction.number()];
            ways.push(Way {
                construction,
                shapes: shapes(m, typed, (cut, input.panels()), &mut Vec::new()),
            });
        }
    }
    ways
}

const CUTS: [Cut; 5] = [Cut::Flat, Cut::Cambered, Cut::Wing, Cut::Split, Cut::Paired];

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

/// Takes the slot of split panels out of their area.
pub(crate) fn open_slot(typed: &MastDesign, mast: &Mast, plan: &mut SailPlan) {
    if typed.sail.cut == Cut::Split {
        let slot = typed.cloth.made.number("slot_pct");
        plan.open_slot(slot.unwrap_or_else(|| usual_slot(mast, &plan.spars)));
    }
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

/// Camber of the lower panels by rule, the sail cut so.
pub(crate) fn usual_camber(typed: &MastDesign, cut: Cut) -> f64 {
    let [barrel, shelf, split, bows] = CAMBER;
    match cut {
        Cut::Split => split,
        Cut::Paired => bows,
        _ if typed.cloth.made.word("camber_cut") == "shelf" => shelf,
        _ => barrel,
    }
}

/// Camber of the top panel by rule, of so many with so much in the lower ones.
pub(crate) fn usual_head(panels: usize, lower: f64) -> f64 {
    let usual = cloth::shape::usual(panels, lower);
    usual.last().map_or(lower, |shape| shape.camber)
}

/// Shape of each of so many panels, the sail cut so: by rule or graded from foot to head, then panel by panel.
fn shapes(
    m: usize,
    typed: &MastDesign,
    (cut, panels): (Cut, usize),
    problems: &mut Vec<Problem>,
) -> Vec<PanelShape> {
    let made = &typed.cloth.made;
    let place = made.usual("place_pct");
    let lower = made.number("camber_pct");
    let foot = PanelShape {
        camber: lower.unwrap_or_else(|| usual_camber(typed, cut)),
        place,
    };
    let top = made.number("head_camber_pct");
    let head = PanelShape {
        camber: top.unwrap_or(foot.camber),
        place: made.number("head_place_pct").unwrap_or(place),
    };
    let mut shapes = graded(panels, foot, head);
    if top.is_none() {
        for (shape, usual) in shapes.iter_mut().zip(usual(panels, foot.camber)) {
            shape.camber = usual.camber;
        }
    }
    for row in &typed.cloth.shapes {
        let at = row.usual("panel") as usize;
        if let Some(shape) = shapes.get_mut(at.wrapping_sub(1)) {
            shape.camber = row.number("camber_pct").unwrap_or(shape.camber);
            shape.place = row.number("place_pct").unwrap_or(shape.place);
        } else {
            let within = (1.0, panels as f64);
            problems.extend(outside(m, "cloth.shapes", row, "panel", within));
        }
    }
    shapes
}

/// The mean line; the four-digit one stands in for own ordinates that make none.
fn line(m: usize, typed: &MastDesign, problems: &mut Vec<Problem>) -> MeanLine {
    match typed.cloth.made.word("line") {
        "parabola" => MeanLine::Parabola,
        "own" => {
            let mut points = Vec::new();
            for row in &typed.cloth.ordinates {
                points.push(Point::new(row.usual("along_pct"), row.usual("off_pct")));
            }
            let own = MeanLine::Own(points);
            if own.usable() {
                return own;
            }
            let path = mast_path(m, &off_line(&typed.cloth.ordinates));
            let mut text = Text::new("problem.ordinates");
            if let Some(row) = bounds::row(&path) {
                text = text.with_key("label", row.quantity.label);
            }
            problems.push(Problem::refused(path, text));
            MeanLine::FourDigit
        }
        _ => MeanLine::FourDigit,
    }
}

/// The first ordinate that keeps own ones from being a mean line.
fn off_line(rows: &[Leaves]) -> String {
    let mut reached = -1.0;
    for (i, row) in rows.iter().enumerate() {
        let (along, last) = (row.number("along_pct"), i + 1 == rows.len());
        let end = if i == 0 {
            Some(0.0)
        } else if last {
            Some(1.0)
        } else {
            None
        };
        let rises = along.is_some_and(|along| along - reached > 1e-3);
        let leaf = if !rises || end.is_some() && along != end {
            ".along_pct"
        } else if end.is_some() && row.usual("off_pct") > 0.0 {
            ".off_pct"
        } else {
            reached = along.unwrap_or(reached);
            continue;
        };
        return ["cloth.ordinates.", row.at.to_string().as_str(), leaf].concat();
    }
    // Too few, or none off the chord.
    "cloth.line".into()
}

/// Tells what is wrong with the cloth of a sail.
struct Told<'a> {
    m: usize,
    typed: &'a MastDesign,
    problems: &'a mut Vec<Problem>,
}

impl Told<'_> {
    /// A problem at a field of the mast, with its value and what is allowed [SI], and the panel it is in. A field has but one: the first.
    fn add(&mut self, leaf: &str, key: &'static str, value: f64, limit: f64, panel: usize) {
        let path = mast_path(self.m, leaf);
        let mut text = Text::new(key).with("number", panel as u32);
        if let Some(row) = bounds::row(&path) {
            let number = |si: f64| row.quantity.document_from_si(si);
            text = text
                .with_key("label", row.quantity.label)
                .with("value", Arg::Given(number(value), row.quantity))
                .with("limit", (number(limit), row.quantity));
        }
        if self.problems.iter().all(|known| known.path != path) {
            self.problems.push(Problem::new(path, text));
        }
    }

    fn fault(&mut self, fault: Fault, input: &Input, weighed: &Weighed) {
        let sail = &self.typed.sail;
        match fault {
            Fault::Panel(panel) => self.narrow(panel, input),
            Fault::Camber(panel) => {
                let Construction::Split(split) = input.construction else {
                    return;
                };
                // One number is for all panels: that of the deepest suits them.
                let (mut at, mut camber) = (panel, 1e-3);
                for (i, shape) in input.shapes.iter().enumerate() {
                    if shape.camber > camber {
                        (at, camber) = (i + 1, shape.camber);
                    }
                }
                // Down to what is shown.
                let most = 0.1 * (5.0 / camber).floor();
                let key = "problem.fore_camber";
                self.add("cloth.fore_times", key, split.fore, most, at);
            }
            Fault::BarrelDeep(panel) | Fault::ShelvesMeet(panel) => {
                let n = input.panels();
                // A fore part that is turned in takes room without any camber.
                let mut turned = Vec::new();
                if let Construction::Split(split) = input.construction {
                    let mut bare = input.clone();
                    for shape in &mut bare.shapes {
                        shape.camber = 0.0;
                    }
                    turned = bare.weigh().fills;
                    let fills = turned.get(panel - 1).copied().unwrap_or(0.0);
                    if fills >= 1.0 {
                        // Down to what is shown; a tangent falls faster than its angle.
                        let most = (10.0 * (split.turn / fills).to_degrees()).floor();
                        let most = (0.1 * most).to_radians();
                        let key = "problem.camber_room";
                        return self.add("cloth.turn_deg", key, split.turn, most, panel);
                    }
                }
                let leaf = self.camber_leaf(panel, n);
                // A field that shapes several panels has to suit them all.
                let (mut at, mut most) = (panel, f64::INFINITY);
                for (i, (shape, fills)) in input.shapes.iter().zip(&weighed.fills).enumerate() {
                    let bare = turned.get(i).copied().unwrap_or(0.0);
                    let would = shape.camber * (1.0 - bare) / (fills - bare);
                    if *fills > 1.0
                        && bare < 1.0
                        && would < most
                        && self.camber_leaf(i + 1, n) == leaf
                    {
                        (at, most) = (i + 1, would);
                    }
                }
                let made = &self.typed.cloth.made;
                let used = if leaf == "cloth.camber_pct" {
                    made.number("camber_pct")
                        .unwrap_or_else(|| usual_camber(self.typed, self.typed.sail.cut))
                } else {
                    input.shapes.get(at - 1).map_or(0.0, |s| s.camber)
                };
                // Down to what is shown.
                let most = 0.001 * (1000.0 * most).floor();
                self.add(&leaf, "problem.camber_room", used, most, at);
            }
            Fault::Slot(panel) => {
                let Construction::Split(split) = input.construction else {
                    return;
                };
                // The least share of a chord ahead of the mast, and abaft it.
                let (mut ahead, mut abaft) = (1.0f64, 1.0f64);
                for spar in &input.spars {
                    let share = spar.ahead().map_or(0.0, |ahead| ahead / spar.length);
                    ahead = ahead.min(share);
                    abaft = abaft.min(1.0 - share);
                }
                let key = "problem.slot_room";
                let most = 2.0 * (ahead.min(abaft) - LEAST_PART);
                if most >= LEAST_SLOT {
                    let most = 0.001 * (1000.0 * most).floor();
                    self.add("cloth.slot_pct", key, split.slot, most, panel);
                } else {
                    let needs = LEAST_PART + 0.5 * split.slot;
                    let value = sail.balance;
                    // Up or down to what is shown.
                    let would = if ahead < needs {
                        (1000.0 * (value + needs - ahead)).floor() + 1.0
                    } else {
                        (1000.0 * (value + abaft - needs)).floor()
                    };
                    self.add("sail.balance_pct", key, value, 0.001 * would, panel);
                }
            }
            Fault::Roll | Fault::Ordinates => {}
            Fault::Count | Fault::Number | Fault::Sewing => {
                self.add("cloth", "problem.no_cloth", 0.0, 0.0, 0);
            }
        }
    }

    /// The field that sets the camber of a panel.
    fn camber_leaf(&self, panel: usize, n: usize) -> String {
        let rows = &self.typed.cloth.shapes;
        let own = rows
            .iter()
            .rev()
            .find(|row| row.usual("panel") as usize == panel && row.number("camber_pct").is_some());
        match own {
            Some(row) => ["cloth.shapes.", row.at.to_string().as_str(), ".camber_pct"].concat(),
            None if panel == n && n > 1 => "cloth.head_camber_pct".into(),
            None => "cloth.camber_pct".into(),
        }
    }

    /// A panel too narrow to be cut; of one whose spars cross the plan tells.
    fn narrow(&mut self, panel: usize, input: &Input) {
        let Some([lower, upper]) = input.spars.get(panel - 1..=panel) else {
            return;
        };
        let drawn = Panel {
            lower: *lower,
            upper: *upper,
            luff_round: 0.0,
            leech_round: 0.0,
        };
        if !drawn.is_convex() {
            return;
        }
        let sail = &self.typed.sail;
        let head = panel.wrapping_sub(1 + sail.panels.saturating_sub(sail.turning()));
        let key = "problem.panel_narrow";
        if let (Family::Table, Some([below, spar])) =
            (sail.family, sail.table.get(panel - 1..=panel))
        {
            let leaf = ["sail.spars.", panel.to_string().as_str(), ".up_m"].concat();
            let least = below.luff.y + LEAST_WIDTH;
            self.add(&leaf, key, spar.luff.y, least, panel);
        } else if let Some(width) = sail.head_widths.get(head) {
            let leaf = ["sail.head_widths_pct.", head.to_string().as_str()].concat();
            let least = LEAST_WIDTH / sail.panel_width.max(1e-3);
            self.add(&leaf, key, *width, least, panel);
        } else {
            self.add(
                "sail.panel_width_m",
                key,
                sail.panel_width,
                LEAST_WIDTH,
                panel,
            );
        }
    }

    /// A roll narrower than a piece that has no seams; one roll is for all sails.
    fn roll(&mut self, input: &Input, least: f64) {
        const PATH: &str = "cloth.roll_m";
        let roll = input.cloth.roll;
        if roll >= least || self.problems.iter().any(|known| known.path == PATH) {
            return;
        }
        let number = |si: f64| q::ROLL_WIDTH.document_from_si(si);
        // Up to what is shown.
        let least = 0.01 * (100.0 * least).ceil();
        let text = Text::new("problem.roll").with_key("label", q::ROLL_WIDTH.label);
        let text = text.with("value", Arg::Given(number(roll), &q::ROLL_WIDTH));
        let text = text.with("limit", (number(least), &q::ROLL_WIDTH));
        self.problems.push(Problem::new(PATH, text));
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
