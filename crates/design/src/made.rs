//! What mast and spars are made of: the document's kinds, materials and walls as poles, every rule followed.

use core::f64::consts::FRAC_PI_4;

use geometry::SailPlan;
use geometry::mast::Mast;
use quantities::{Arg, Problem, Text, bounds};
use spars::finder::{Shape, timber_mast};
use spars::mast::{Weak, Weakness};
use spars::materials::{Kind, Material, Ply, find, laminate};
use spars::sections::parallel_foot;
use spars::{Fault, Piece, Pole, Weights};

use crate::design::{Design, Leaves, MastDesign, SparsRules};
use crate::edits::mast_path;

/// Mast and spars of one mast before any force is known.
#[derive(Clone, Debug)]
pub(crate) struct Made {
    /// The mast from its heel.
    pub(crate) mast: Pole,
    /// Boom to yard, from their luff ends.
    pub(crate) spars: Vec<Pole>,
    /// What they weigh.
    pub(crate) weights: Weights,
    /// How far the leech gives under a force there, boom and battens side by side [m/N].
    pub(crate) give: f64,
}

/// Diameter over wall of alloy and laminate masts; wall over diameter of hollow timber (common practice).
const TUBE: f64 = 30.0;
const HOLLOW: f64 = 0.20;
/// Least wall of other tubes [m], and wall over diameter (common practice).
const WALL: (f64, f64) = (0.002, 0.05);
/// Battens of the upper half stand alone in the hardest winds: their walls over the others' (worked).
const UPPER: f64 = 2.0;
/// A yard bears the pull of its panel on one side alone: its wall over that of the boom (worked).
const YARD: f64 = 1.75;
/// Where alloy ends and timber begins, and where the mast is drawn up by: shares of the LAP (common practice).
const SLEEVE: f64 = 0.4;
const RAISED_AT: f64 = 0.6;
/// The tackle that raises is fast at the forward end of the waterline, or so much of the LAP off the mast (common practice).
const RAISED_FROM: f64 = 0.1;
/// Usual plies: so much of the thickness along the spar, the rest at 45° both ways (common practice).
const ALONG: f64 = 0.8;

/// Words of the spars in the document.
pub(crate) const SPARS: [&str; 3] = ["boom", "battens", "yard"];

/// Which of [`SPARS`] a spar of so many panels is.
pub(crate) fn word_of(spar: usize, n: usize) -> &'static str {
    let [boom, battens, yard] = SPARS;
    match spar {
        0 => boom,
        _ if spar >= n => yard,
        _ => battens,
    }
}

/// Depth of a spar in the sail's plane [m].
fn depth(typed: &MastDesign, word: &str) -> f64 {
    let sail = &typed.sail;
    match word {
        "boom" => sail.boom_depth,
        "yard" => sail.yard_depth,
        _ => sail.batten_depth,
    }
}

/// Wall of a tube by rule, before what upper battens and yards have more [m].
fn tube(typed: &MastDesign, word: &str) -> f64 {
    (WALL.1 * depth(typed, word)).max(WALL.0)
}

/// What the rule of a leaf of `masts[].spars` comes to, SI; none of one that has no rule.
pub(crate) fn rule_value(typed: &MastDesign, mast: &Mast, leaf: &str) -> Option<f64> {
    Some(match leaf {
        "mast_wall_m" => match typed.spars.made.word("mast_kind") {
            "hollow" => HOLLOW * mast.diameter,
            "laminate" => laid(typed, "mast").unwrap_or(mast.diameter / TUBE),
            _ => mast.diameter / TUBE,
        },
        // Without plies it is not one number.
        "battens_wall_m" => return laid(typed, "battens"),
        "boom_wall_m" => tube(typed, "boom"),
        "yard_wall_m" => YARD * tube(typed, "yard"),
        "sleeve_m" => SLEEVE * mast.lap,
        "hinge_m" => 0.0,
        "raise_at_m" => RAISED_AT * mast.lap,
        "raise_x_m" => mast.x.max(RAISED_FROM * mast.lap),
        _ => return None,
    })
}

/// A leaf of `masts[].spars` as typed, or by its rule.
pub(crate) fn leaf(typed: &MastDesign, mast: &Mast, key: &str) -> f64 {
    let made = typed.spars.made.number(key);
    made.or_else(|| rule_value(typed, mast, key)).unwrap_or(0.0)
}

/// Thickness of the plies typed for the mast or the battens where they are laminates [m]; none without.
pub(crate) fn laid(typed: &MastDesign, spar: &str) -> Option<f64> {
    let kind = if spar == "mast" {
        "mast_kind"
    } else {
        "battens_kind"
    };
    let mut sum = 0.0;
    for ply in &typed.spars.plies {
        if ply.word("spar") == spar {
            sum += ply.usual("thickness_m");
        }
    }
    (sum > 0.0 && typed.spars.made.word(kind) == "laminate").then_some(sum)
}

/// Key of the material that stands where none is chosen, of a spar by its word (`mast`, `battens`).
pub fn usual_material(typed: &MastDesign, spar: &str) -> &'static str {
    match typed.spars.made.word(&[spar, "_kind"].concat()) {
        "solid" | "hollow" => "douglas-fir",
        "laminate" => "e-glass",
        _ => "6082-t6",
    }
}

/// The material of a word, `usual` where the rule chooses; none where it is of the user's own and not listed, or has no
/// strength.
pub(crate) fn material(rules: &SparsRules, word: &str, usual: &str) -> Option<Material> {
    let known = |key: &str| find(key).map(|row| row.material);
    let Some(own) = word.strip_prefix("own-") else {
        return known(word).or_else(|| known(usual));
    };
    let own = rules
        .materials
        .get(own.parse::<usize>().ok()?.wrapping_sub(1))?;
    // What of it is not typed is that of a usual one of its kind, but nobody knows its strength.
    let mut made = known(match own.word("kind") {
        "clear" => "douglas-fir",
        "class" => "c24",
        "laminate" => "e-glass",
        _ => "6082-t6",
    })?;
    let before = made.stiffness;
    made.strength = own.number("strength")?;
    for (key, number) in [
        ("density", &mut made.density),
        ("stiffness", &mut made.stiffness),
        ("compression", &mut made.compression),
        ("shear", &mut made.shear),
        ("bearing", &mut made.bearing),
    ] {
        *number = own.number(key).unwrap_or(*number);
    }
    made.across *= made.stiffness / before;
    made.shear_stiffness *= made.stiffness / before;
    Some(made)
}

/// The poles of a mast and its spars, told apart from what cannot be: that is a problem, and the rule stands in for it.
pub(crate) struct Maker<'a> {
    pub(crate) design: &'a Design,
    pub(crate) typed: &'a MastDesign,
    pub(crate) mast: &'a Mast,
    pub(crate) m: usize,
    pub(crate) problems: &'a mut Vec<Problem>,
}

/// Makes mast and spars, and weighs them.
pub(crate) fn made(
    design: &Design,
    m: usize,
    mast: &Mast,
    plan: &SailPlan,
    problems: &mut Vec<Problem>,
) -> Option<Made> {
    let mut maker = Maker {
        design,
        typed: design.masts.get(m)?,
        mast,
        m,
        problems,
    };
    let pole = maker.mast();
    let mut poles = Vec::new();
    let n = plan.n_panels();
    for (i, spar) in plan.spars.iter().enumerate() {
        poles.push(maker.spar(i, n, spar.length));
    }
    maker.rows(plan);
    let weights = spars::weigh(&pole, &poles);
    for (number, fault) in &weights.faults {
        match number {
            None => maker.mast_fault(*fault, &pole),
            Some(i) => maker.spar_fault(*i, n, &poles),
        }
    }
    let mut stiffness = 0.0;
    // Boom and battens; no sheet holds the yard.
    for (spar, pole) in plan.spars.iter().zip(&poles).take(n) {
        let abaft = spar.leech().x.max(0.1);
        if pole.check().is_ok() {
            let factors = factors(&design.spars.rules, "spar");
            stiffness += pole.at(0.5 * spar.length, &factors).bending / (abaft * abaft * abaft);
        }
    }
    Some(Made {
        mast: pole,
        spars: poles,
        weights,
        give: if stiffness > 0.0 {
            BENT / stiffness
        } else {
            0.0
        },
    })
}

/// Give of a spar stopped at its leech as it swings, times E I / l³: held at mast and leech, l apart, its own inertia on it grows
/// with the way from the mast, so M = P l/2 (ξ - ξ³) under the force P at the leech, and ∫ M²/(2 E I) dx = P² l³ / (105 E I) is
/// P² give / 2. Derived; what lies ahead of the mast is left out, and all of them stop together, lying ones too, which gives least.
const BENT: f64 = 2.0 / 105.0;

/// Factors on strength, of the mast or of the other spars.
pub(crate) fn factors(rules: &Leaves, of: &str) -> spars::Factors {
    let keys = if of == "mast" {
        ["mast_alloy", "mast_clear", "mast_class", "mast_laminate"]
    } else {
        ["spar_alloy", "spar_clear", "spar_class", "spar_laminate"]
    };
    let [alloy, clear, class, laminate] = keys.map(|key| rules.usual(key));
    spars::Factors {
        alloy,
        clear,
        class,
        laminate,
    }
}

/// Whether a row of walls and materials of their own is of a spar.
fn is_of(row: &Leaves, spar: usize) -> bool {
    row.number("spar").is_some_and(|of| of as usize == spar)
}

/// Least and most of a number.
type Within = (f64, f64);

/// A number of a row of a mast's list that is left out, and what would do.
pub(crate) fn outside(
    m: usize,
    list: &str,
    row: &Leaves,
    leaf: &str,
    within: Within,
) -> Option<Problem> {
    let at = row.at.to_string();
    let path = mast_path(m, &[list, ".", at.as_str(), ".", leaf].concat());
    let known = bounds::row(&path)?;
    let given = |si: f64| Arg::Given(known.quantity.document_from_si(si), known.quantity);
    let mut text = Text::new("problem.not_given");
    if let Some(value) = row.number(leaf) {
        text = Text::new("problem.outside").with("value", given(value));
    }
    let text = text.with_key("label", known.quantity.label);
    let text = text.with("least", given(within.0));
    let text = text.with("most", given(within.1));
    Some(Problem::refused(path, text))
}

/// A weak place of a spar with these ends and so thick, or the leaf that does not let it be one with what it must lie within.
fn weakness(row: &Leaves, ends: Within, thick: f64) -> Result<Weak, (&'static str, Within)> {
    let within = |leaf: &'static str, (least, most): Within| {
        let known = row.number(leaf).filter(|n| *n >= least && *n <= most);
        known.ok_or((leaf, (least, most)))
    };
    let left = row.usual("left_pct");
    Ok(Weak {
        height: within("height_m", ends)?,
        what: match row.word("what") {
            "hole" => Weakness::Hole(within("hole_m", (0.0, thick))?),
            "tabernacle" => Weakness::Tabernacle(left),
            "joint" => Weakness::Joint(left),
            _ => Weakness::Weld(left),
        },
    })
}

/// Ends and greatest thickness of the mast or of other spars with so much length [m].
fn room(typed: &MastDesign, mast: &Mast, word: &str, length: f64) -> (Within, f64) {
    if word == "mast" {
        return ((-mast.bury, mast.lap), mast.diameter);
    }
    ((0.0, length), depth(typed, word))
}

/// Weak places of the mast, or of boom, a batten or yard of a length.
pub(crate) fn weak(typed: &MastDesign, mast: &Mast, word: &str, length: f64) -> Vec<Weak> {
    let (ends, thick) = room(typed, mast, word, length);
    let mut list = Vec::new();
    for row in &typed.spars.weak {
        if row.word("spar") == word {
            list.extend(weakness(row, ends, thick).ok());
        }
    }
    list
}

impl Maker<'_> {
    /// A problem at a field, with its value in use and what is allowed.
    fn problem(&mut self, leaf: &str, key: &'static str, value: f64, limit: f64) {
        let path = mast_path(self.m, leaf);
        let mut text = Text::new(key);
        if let Some(row) = bounds::row(&path) {
            let number = |si: f64| row.quantity.document_from_si(si);
            text = text
                .with_key("label", row.quantity.label)
                .with("value", Arg::Given(number(value), row.quantity))
                .with("limit", (number(limit), row.quantity));
        }
        let problem = Problem::new(path, text);
        if !self.problems.contains(&problem) {
            self.problems.push(problem);
        }
    }

    /// Rows that name no place or no spar that there is.
    fn rows(&mut self, plan: &SailPlan) {
        let (typed, n) = (self.typed, plan.n_panels());
        for row in &typed.spars.weak {
            let word = row.word("spar");
            let mut longest = 0.0f64;
            for (i, spar) in plan.spars.iter().enumerate() {
                if word_of(i, n) == word {
                    longest = longest.max(spar.length);
                }
            }
            let (ends, thick) = room(typed, self.mast, word, longest);
            if let Err((leaf, within)) = weakness(row, ends, thick) {
                self.problems
                    .extend(outside(self.m, "spars.weak", row, leaf, within));
            }
        }
        for row in &typed.spars.special {
            let most = n as f64;
            if row.number("spar").is_none_or(|spar| spar > most) {
                let within = (0.0, most);
                self.problems
                    .extend(outside(self.m, "spars.special", row, "spar", within));
            }
        }
    }

    fn material(&mut self, word: &str, usual: &'static str, leaf: &str) -> Option<Material> {
        let found = material(&self.design.spars, word, usual);
        if found.is_none() {
            self.problem(leaf, "problem.own_material", 0.0, 0.0);
        }
        found
    }

    /// The wall of a tube: of a laminate by its plies, of the rest as it is. With its thickness, where plies set it.
    fn walled(&mut self, base: Material, kind: &str, spar: &str) -> (Material, Option<f64>) {
        if kind != "laminate" && base.kind != Kind::Laminate {
            return (base, None);
        }
        let mut plies = Vec::new();
        if kind == "laminate" {
            for row in &self.typed.spars.plies {
                if row.word("spar") == spar {
                    let ply = material(&self.design.spars, row.word("ply"), "e-glass");
                    plies.push(Ply {
                        material: ply.unwrap_or(base),
                        angle: row.usual("angle_deg"),
                        thickness: row.usual("thickness_m"),
                    });
                }
            }
        }
        if let (false, Some((wall, thickness))) = (plies.is_empty(), laminate(&plies)) {
            return (wall, Some(thickness));
        }
        if !plies.is_empty() {
            self.problem("spars.plies", "problem.no_laminate", 0.0, 0.0);
        }
        let ply = |angle: f64, thickness: f64| Ply {
            material: base,
            angle,
            thickness,
        };
        let usual = laminate(&[ply(0.0, ALONG), ply(FRAC_PI_4, 1.0 - ALONG)]);
        (usual.map_or(base, |(wall, _)| wall), None)
    }

    /// The mast from its heel.
    pub(crate) fn mast(&mut self) -> Pole {
        let (typed, mast) = (self.typed, self.mast);
        let made = &typed.spars.made;
        let kind = made.word("mast_kind");
        let usual = usual_material(typed, "mast");
        let word = made.word("mast_material");
        let Some(base) = self.material(word, usual, "spars.mast_material") else {
            return Pole::default();
        };
        let length = mast.bury + mast.lap;
        let wall = leaf(typed, mast, "mast_wall_m");
        let (diameter, top) = (mast.diameter, mast.top_diameter);
        let foot = mast.bury + mast.parallel.max(0.0).min(1.0) * mast.lap;
        match kind {
            "solid" | "hollow" => {
                let shape = Shape {
                    top: top / diameter,
                    heel: made.usual("mast_heel_pct"),
                    parallel: mast.parallel,
                    wall: if kind == "solid" {
                        0.0
                    } else {
                        wall / diameter
                    },
                    staves: made.usual("mast_staves") as usize,
                };
                timber_mast(mast.bury, mast.lap, diameter, &shape, base)
            }
            "sleeved" => {
                let word = made.word("upper_material");
                let upper = self.material(word, "douglas-fir", "spars.upper_material");
                let bore = diameter - 2.0 * wall;
                let to = mast.bury + leaf(typed, mast, "sleeve_m");
                let from = to - made.usual("overlap_pct") * diameter;
                let piece = |from: f64, to: f64, diameters, walls, material| {
                    Piece::new(from, to, diameters, walls, material)
                };
                let upper = upper.unwrap_or(base);
                Pole {
                    pieces: vec![
                        piece(0.0, to, (diameter, diameter), Some((wall, wall)), base),
                        piece(from, to, (bore, bore), None, upper),
                        piece(to, length, (bore, top.min(bore)), None, upper),
                    ],
                }
            }
            "pieces" if !typed.spars.pieces.is_empty() => self.pieces(length, base),
            _ => {
                let (material, laid) = self.walled(base, kind, "mast");
                let wall = laid.unwrap_or(wall);
                parallel_foot(length, foot, (diameter, top), Some((wall, wall)), material)
            }
        }
    }

    /// Pieces from the heel; the last one ends at the masthead.
    fn pieces(&mut self, length: f64, base: Material) -> Pole {
        let rows = &self.typed.spars.pieces;
        let mut pieces = Vec::new();
        let mut reached = 0.0;
        for (i, row) in rows.iter().enumerate() {
            let at = row.at.to_string();
            let leaf = |leaf: &str| ["spars.pieces.", at.as_str(), ".", leaf].concat();
            let word = row.word("material");
            let material = if word.is_empty() {
                Some(base)
            } else {
                self.material(word, "6082-t6", &leaf("material"))
            };
            let wall = row.number("wall_m").map(|wall| (wall, wall));
            let foot = row.number("diameter_m").unwrap_or(self.mast.diameter);
            let top = row.number("top_diameter_m").unwrap_or(foot);
            let from = reached;
            reached += row.usual("length_m");
            let to = if i + 1 == rows.len() { length } else { reached };
            let (material, _) = self.walled(material.unwrap_or(base), "", "mast");
            pieces.push(Piece::new(from, to, (foot, top), wall, material));
        }
        if (reached - length).abs() > 0.005 {
            let last = [
                "spars.pieces.",
                rows.last().map_or(0, |row| row.at).to_string().as_str(),
                ".length_m",
            ]
            .concat();
            let typed = rows.last().map_or(0.0, |row| row.usual("length_m"));
            let limit = (typed + length - reached).max(0.0);
            self.problem(&last, "problem.pieces_length", typed, limit);
        }
        Pole { pieces }
    }

    /// Spar `i` of a sail whose yard is `n`, from its luff end.
    pub(crate) fn spar(&mut self, i: usize, n: usize, length: f64) -> Pole {
        let typed = self.typed;
        let made = &typed.spars.made;
        let word = word_of(i, n);
        let leaf_of = |leaf: &str| [word, leaf].concat();
        let kind = made.word(&leaf_of("_kind"));
        let special = typed.spars.special.iter().find(|row| is_of(row, i));
        let mut chosen = (
            made.word(&leaf_of("_material")),
            ["spars.", word, "_material"].concat(),
        );
        let wall_leaf = leaf_of("_wall_m");
        let known = made.number(&wall_leaf);
        let known = known.or_else(|| rule_value(typed, self.mast, &wall_leaf));
        let upper = if 2 * i > n { UPPER } else { 1.0 };
        let mut wall = known.unwrap_or_else(|| upper * tube(typed, word));
        let mut typed_wall = false;
        if let Some(row) = special {
            let own = row.word("material");
            if !own.is_empty() {
                let at = row.at.to_string();
                chosen = (own, ["spars.special.", at.as_str(), ".material"].concat());
            }
            if let Some(own) = row.number("wall_m") {
                (wall, typed_wall) = (own, true);
            }
        }
        let usual = usual_material(typed, word);
        let Some(base) = self.material(chosen.0, usual, &chosen.1) else {
            return Pole::default();
        };
        let (material, laid) = self.walled(base, kind, word);
        let wall = laid.filter(|_| !typed_wall).unwrap_or(wall);
        let depth = depth(typed, word);
        let walls = (kind != "solid").then_some((wall, wall));
        Pole::one(length, (depth, depth), walls, material)
    }

    fn mast_fault(&mut self, fault: Fault, pole: &Pole) {
        let (mast, made) = (self.mast, &self.typed.spars.made);
        let kind = made.word("mast_kind");
        let typed = kind == "pieces" && !self.typed.spars.pieces.is_empty();
        let of = |i: usize, leaf: &str| {
            let at = self.typed.spars.pieces.get(i).map_or(i, |row| row.at);
            ["spars.pieces.", at.to_string().as_str(), leaf].concat()
        };
        let (Fault::Length(i)
        | Fault::Diameter(i)
        | Fault::Wall(i)
        | Fault::Staves(i)
        | Fault::Material(i)
        | Fault::Gap(i)
        | Fault::Sleeve(i)) = fault
        else {
            return self.problem("spars", "problem.no_spar", 0.0, 0.0);
        };
        let piece = pole.pieces.get(i);
        let thin = piece.map_or(0.0, |p| p.diameters.0.min(p.diameters.1));
        let wall = piece.and_then(|p| p.walls).map_or(0.0, |w| w.0);
        let (leaf, key, value, limit) = match fault {
            Fault::Wall(_) if typed => (of(i, ".wall_m"), "problem.wall", wall, 0.5 * thin),
            Fault::Wall(_) => ("spars.mast_wall_m".into(), "problem.wall", wall, 0.5 * thin),
            Fault::Diameter(_) if typed => (of(i, ".diameter_m"), "problem.no_spar", thin, 0.0),
            Fault::Diameter(_) if kind != "sleeved" => {
                let top = mast.top_diameter;
                ("top_diameter_m".into(), "problem.no_spar", top, 0.0)
            }
            Fault::Diameter(_) => {
                let wall = leaf(self.typed, mast, "mast_wall_m");
                let most = 0.5 * mast.diameter;
                ("spars.mast_wall_m".into(), "problem.wall", wall, most)
            }
            Fault::Staves(_) => {
                let staves = made.usual("mast_staves");
                ("spars.mast_staves".into(), "problem.staves", staves, 0.0)
            }
            Fault::Material(_) => ("spars.mast_material".into(), "problem.no_spar", 0.0, 0.0),
            _ if typed => (of(i, ".length_m"), "problem.no_spar", 0.0, 0.0),
            _ if kind == "sleeved" => {
                let sleeve = leaf(self.typed, mast, "sleeve_m");
                ("spars.sleeve_m".into(), "problem.sleeve", sleeve, mast.lap)
            }
            _ => ("lap_m".into(), "problem.no_spar", mast.lap, 0.0),
        };
        self.problem(&leaf, key, value, limit);
    }

    fn spar_fault(&mut self, i: usize, n: usize, poles: &[Pole]) {
        let word = word_of(i, n);
        let piece = poles.get(i).and_then(|pole| pole.pieces.first());
        let wall = piece.and_then(|p| p.walls).map_or(0.0, |w| w.0);
        let most = 0.5 * piece.map_or(0.0, |p| p.diameters.0);
        let special = self.typed.spars.special.iter();
        let special = special
            .clone()
            .find(|row| is_of(row, i) && row.number("wall_m").is_some());
        let leaf = match special {
            Some(row) => ["spars.special.", row.at.to_string().as_str(), ".wall_m"].concat(),
            None => ["spars.", word, "_wall_m"].concat(),
        };
        let key = if wall > most {
            "problem.wall"
        } else {
            "problem.no_spar"
        };
        self.problem(&leaf, key, wall, most);
    }
}
