//! What is asked about the spars now and then and is no part of the account: sections to choose from, what to cut from
//! which bars, raising the mast, the weights of the rig and what they do to the boat.

use core::f64::consts::PI;

use geometry::mast::{Mast, Place};
use kurbo::Point;
use spars::Factors;
use spars::blow::Blow;
use spars::cut::{Cutting, Stock, cut, joints};
use spars::finder::{Aim, Candidate, Found, Rated, find_mast, find_spar};
use spars::mast::MOST_WEAK;
use spars::materials::{Kind, Material};
use spars::raising::{Raised, Raising, balance, raise};
use spars::{Pole, Weight};

use crate::account::{Account, MastAccount, account};
use crate::afloat;
use crate::design::{Design, Leaves, MastDesign};
use crate::edits::mast_path;
use crate::made::{Maker, factors, laid, leaf, material, word_of};
use crate::proofs::SparsAccount;
use crate::tree::Edit;

/// A part that a section can be chosen for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// The mast.
    Mast,
    /// The boom.
    Boom,
    /// All battens alike, by the one that has most to bear.
    Battens,
    /// The yard.
    Yard,
}

/// A section that was tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tried {
    /// Word of its kind.
    pub kind: &'static str,
    /// Outside diameter, of a mast at the partners [m].
    pub diameter: f64,
    /// The same at the masthead; of other spars as `diameter` [m].
    pub top: f64,
    /// Wall [m]; solid without.
    pub wall: Option<f64>,
    /// Word of its material; empty as it is now.
    pub material: &'static str,
    /// What as much of it costs as is needed, where a price is typed.
    pub price: Option<f64>,
}

/// The material of a word, the user's own among them; none that is not listed or has no strength.
pub fn material_of(design: &Design, word: &str) -> Option<Material> {
    material(&design.spars, word, "")
}

/// Factors on strength, of masts.
pub fn mast_factors(design: &Design) -> Factors {
    factors(&design.spars.rules, "mast")
}

/// The wind for strength.
pub fn strength_wind(design: &Design) -> Blow {
    let rules = &design.spars.rules;
    Blow {
        coefficient: rules.usual("coefficient"),
        gust: rules.usual("gust"),
        winds: (rules.usual("floor_kn"), rules.usual("cap_kn")),
    }
}

/// Grid of sections where no stock is typed: least and greatest diameter, step, least and greatest wall, step [mm]; of the mast
/// and of other spars (common practice: what tube is commonly drawn in).
const GRIDS: [[f64; 6]; 2] = [
    [40.0, 300.0, 5.0, 2.0, 16.0, 0.5],
    [16.0, 120.0, 2.0, 1.0, 8.0, 0.5],
];
/// Diameter over wall of tubes worth a look, walls of hollow timber over diameter (common practice).
const SLIM: (f64, f64) = (8.0, 60.0);
const HOLLOW: [f64; 5] = [0.15, 0.20, 0.25, 0.30, 0.35];
/// Bars where no stock of a section is typed [m], and a scarf's length over the diameter (common practice).
const BAR: f64 = 6.0;
const SCARF: f64 = 12.0;

/// Share of the greatest moment of the battens from which one may come to be the worst with another section.
const NEAR: f64 = 0.7;

/// Everything of one mast that its questions need.
struct Shop<'a> {
    design: &'a Design,
    typed: &'a MastDesign,
    account: &'a MastAccount,
    spars: &'a SparsAccount,
    m: usize,
}

impl<'a> Shop<'a> {
    fn new(design: &'a Design, account: &'a Account, m: usize) -> Option<Self> {
        let account = account.masts.get(m)?;
        Some(Self {
            design,
            typed: design.masts.get(m)?,
            account,
            spars: account.spars.as_ref()?,
            m,
        })
    }

    fn mast(&self) -> &Mast {
        &self.account.mast
    }

    /// Number of the yard.
    fn yard(&self) -> usize {
        self.spars.sail_input.spars.len().saturating_sub(1)
    }

    /// The spars that a section is chosen for.
    fn spars(&self, part: Chosen) -> core::ops::Range<usize> {
        let yard = self.yard();
        match part {
            Chosen::Mast => 0..0,
            Chosen::Boom => 0..1,
            Chosen::Battens => 1..yard,
            Chosen::Yard => yard..yard + 1,
        }
    }

    /// Those of them that most is asked of, the hardest first.
    fn hardest(&self, part: Chosen) -> Vec<usize> {
        let moment = |i: usize| self.spars.sail.spars.get(i).map_or(0.0, |spar| spar.moment);
        let all = self.spars(part);
        let most = all.clone().fold(0.0, |most: f64, i| most.max(moment(i)));
        let mut list: Vec<usize> = Vec::new();
        for i in all {
            if moment(i) >= NEAR * most {
                let before = list.iter().position(|known| moment(*known) < moment(i));
                list.insert(before.unwrap_or(list.len()), i);
            }
        }
        list
    }

    /// Length of the hardest of them, or of the mast [m].
    fn length(&self, part: Chosen) -> f64 {
        let mast = self.mast();
        match self.hardest(part).first() {
            None => mast.bury + mast.lap,
            Some(i) => {
                let made = self.spars.sail_input.spars.get(*i);
                made.map_or(0.0, |made| made.pole.length())
            }
        }
    }

    /// A part of a section, as it is once that is chosen.
    fn pole(&self, part: Chosen, tried: &Tried) -> Pole {
        let mut typed = self.typed.clone();
        take(&mut typed, part, tried);
        let mut mast = *self.mast();
        if part == Chosen::Mast {
            (mast.diameter, mast.top_diameter) = (tried.diameter, tried.top);
        }
        let mut problems = Vec::new();
        let mut maker = Maker {
            design: self.design,
            typed: &typed,
            mast: &mast,
            m: self.m,
            problems: &mut problems,
        };
        match self.hardest(part).first() {
            None => maker.mast(),
            Some(i) => maker.spar(*i, self.yard(), self.length(part)),
        }
    }

    /// Sections to try: the stock typed, else a grid of usual ones.
    fn tried(&self, part: Chosen) -> Vec<Tried> {
        let mut list = Vec::new();
        let is_mast = part == Chosen::Mast;
        if !is_mast && self.hardest(part).is_empty() {
            return list;
        }
        let mast = self.mast();
        let length = self.length(part);
        let top = |diameter: f64| {
            if is_mast {
                to_mm(diameter * mast.top_diameter / mast.diameter, 1.0)
            } else {
                diameter
            }
        };
        for row in &self.design.spars.stock {
            let Some(diameter) = row.number("diameter_m") else {
                continue;
            };
            let bars = (length / row.usual("length_m").max(0.1) - 1e-9).ceil();
            let timber = row.word("form") == "timber";
            let wall = row.number("wall_m").filter(|_| !timber);
            list.push(Tried {
                kind: if wall.is_some() { "tube" } else { "solid" },
                diameter,
                // A tube is bought parallel, timber is planed.
                top: if timber { top(diameter) } else { diameter },
                wall,
                material: row.word("material"),
                price: row.number("price").map(|price| price * bars),
            });
        }
        if !list.is_empty() {
            return list;
        }
        let [word, _, kind, ..] = LEAVES[part as usize];
        // What is of many sections gives way to a tube.
        let kind = match self.typed.spars.made.word(kind) {
            kind @ ("solid" | "hollow" | "laminate") => kind,
            _ => "tube",
        };
        let grid = GRIDS[usize::from(!is_mast)].map(|mm| 1e-3 * mm);
        let [from, to, by, mut thin, mut thick, step] = grid;
        // Plies typed set the wall.
        if let Some(wall) = laid(self.typed, word) {
            (thin, thick) = (wall, wall);
        }
        let mut next = from;
        while next < to + 1e-6 {
            let diameter = to_mm(next, 1.0);
            let top = top(diameter);
            let mut add = |wall: Option<f64>| {
                list.push(Tried {
                    kind,
                    diameter,
                    top,
                    wall: wall.map(|wall| to_mm(wall, 10.0)),
                    material: "",
                    price: None,
                });
            };
            match kind {
                "solid" => add(None),
                "hollow" => {
                    for share in HOLLOW {
                        add(Some(share * diameter));
                    }
                }
                _ => {
                    let mut wall = thin;
                    while wall < thick + 1e-6 {
                        let slim = diameter / wall;
                        if slim >= SLIM.0 && slim <= SLIM.1 && 2.0 * wall < top {
                            add(Some(wall));
                        }
                        wall += step;
                    }
                }
            }
            next += by;
        }
        list
    }

    /// How a part is in an account.
    fn rated(&self, of: &Account, part: Chosen, price: Option<f64>) -> Option<Rated> {
        let spars = of.masts.get(self.m)?.spars.as_ref()?;
        if part == Chosen::Mast {
            return Rated::of_mast(&spars.mast, self.bend(part), price);
        }
        let mut worst: Option<Rated> = None;
        for i in self.hardest(part).into_iter().chain(self.spars(part)) {
            let new = Rated::of_spar(spars.sail.spars.get(i)?, self.bend(part), price)?;
            worst = Some(worst.map_or(new, |worst| worst.worse(new)));
        }
        worst
    }

    /// Most that a part may bend.
    fn bend(&self, part: Chosen) -> f64 {
        self.design.spars.rules.usual(if part == Chosen::Mast {
            "mast_bend_pct"
        } else {
            "spar_bend_pct"
        })
    }
}

/// A length to so many parts of a millimetre, as it is written [m].
fn to_mm(length: f64, parts: f64) -> f64 {
    let parts = 1e3 * parts;
    (length * parts).round() / parts
}

/// Word, and leaves of depth, kind, wall and material, in the order of [`Chosen`].
const LEAVES: [[&str; 5]; 4] = [
    [
        "mast",
        "diameter_m",
        "mast_kind",
        "mast_wall_m",
        "mast_material",
    ],
    [
        "boom",
        "sail.boom_depth_m",
        "boom_kind",
        "boom_wall_m",
        "boom_material",
    ],
    [
        "battens",
        "sail.batten_depth_m",
        "battens_kind",
        "battens_wall_m",
        "battens_material",
    ],
    [
        "yard",
        "sail.yard_depth_m",
        "yard_kind",
        "yard_wall_m",
        "yard_material",
    ],
];

/// Puts a value to its key.
fn put<T>(list: &mut Vec<(&'static str, T)>, key: &'static str, value: T) {
    list.retain(|known| known.0 != key);
    list.push((key, value));
}

/// Whether a row is of a single spar of a part.
fn is_single(row: &Leaves, word: &str, n: usize) -> bool {
    let spar = row.number("spar").map(|spar| spar as usize);
    spar.is_some_and(|spar| spar <= n && word_of(spar, n) == word)
}

/// Makes a part of what was tried: what [`choose`] writes.
fn take(typed: &mut MastDesign, part: Chosen, tried: &Tried) {
    let [word, _, kind, wall, material] = LEAVES[part as usize];
    let (n, sail) = (typed.sail.panels, &mut typed.sail);
    match part {
        Chosen::Mast => {
            (typed.diameter, typed.top_diameter) = (Some(tried.diameter), Some(tried.top));
        }
        Chosen::Boom => sail.boom_depth = tried.diameter,
        Chosen::Battens => sail.batten_depth = tried.diameter,
        Chosen::Yard => sail.yard_depth = tried.diameter,
    }
    let spars = &mut typed.spars;
    put(&mut spars.made.words, kind, tried.kind);
    if !tried.material.is_empty() {
        put(&mut spars.made.words, material, tried.material);
    }
    if let Some(number) = tried.wall {
        put(&mut spars.made.numbers, wall, number);
    }
    spars.special.retain(|row| !is_single(row, word, n));
}

/// Sections to try for a part of a mast's spars: the stock typed, else usual ones.
pub fn tried(design: &Design, account: &Account, m: usize, part: Chosen) -> Vec<Tried> {
    Shop::new(design, account, m).map_or_else(Vec::new, |shop| shop.tried(part))
}

/// Tries every section for a part: those tried and what was found, `None` without spars. What is chosen passes in an account of
/// its own. `tell` hears how many are done, and of how many.
pub fn find(
    design: &Design,
    of: &Account,
    m: usize,
    part: Chosen,
    aim: Aim,
    tell: &dyn Fn(usize, usize),
) -> Option<(Vec<Tried>, Found)> {
    let shop = Shop::new(design, of, m)?;
    let tried = shop.tried(part);
    let mut list = Vec::new();
    for one in &tried {
        list.push(Candidate {
            pole: shop.pole(part, one),
            price: one.price,
        });
    }
    let prove = |i: usize| {
        let one = tried.get(i)?;
        let mut design = design.clone();
        take(design.masts.get_mut(m)?, part, one);
        shop.rated(&account(&design), part, one.price)
    };
    let tell = |done: usize| tell(done, list.len());
    let (spars, bend) = (shop.spars, shop.bend(part));
    let found = if part == Chosen::Mast {
        find_mast(&spars.mast_input, &list, aim, bend, &prove, &tell)
    } else {
        let numbers = shop.hardest(part);
        find_spar(&spars.sail_input, &numbers, &list, aim, bend, &prove, &tell)
    };
    Some((tried, found))
}

/// Edits that make a part of what was tried. Walls and materials that single spars of it have of their own go.
pub fn choose(design: &Design, m: usize, part: Chosen, tried: &Tried) -> Vec<Edit> {
    let mut edits = Vec::new();
    let Some(typed) = design.masts.get(m) else {
        return edits;
    };
    let [word, depth, kind, wall, material] = LEAVES[part as usize];
    let path = |leaf: &str| mast_path(m, leaf);
    let under = |leaf: &str| mast_path(m, &["spars.", leaf].concat());
    // A size of stock stays what it is to the bit.
    edits.push(Edit::exact(path(depth), tried.diameter));
    if part == Chosen::Mast {
        edits.push(Edit::exact(path("top_diameter_m"), tried.top));
    }
    edits.push(Edit::value(under(kind), tried.kind.into()));
    if let Some(number) = tried.wall {
        edits.push(Edit::exact(under(wall), number));
    }
    if !tried.material.is_empty() {
        edits.push(Edit::value(under(material), tried.material.into()));
    }
    for row in typed.spars.special.iter().rev() {
        if is_single(row, word, typed.sail.panels) {
            let at = ["special.", row.at.to_string().as_str()].concat();
            edits.push(Edit::remove(under(&at)));
        }
    }
    edits
}

/// Bars to buy of one section, and what is cut from them.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Outside diameter, the greatest of a taper [m].
    pub diameter: f64,
    /// Wall [m]; solid without.
    pub wall: Option<f64>,
    /// What it is of.
    pub material: Material,
    /// Pieces: the spar (none for the mast) and the length [m].
    pub pieces: Vec<(Option<usize>, f64)>,
    /// Joints: the spar (none for the mast) and their places from its luff end, of a mast from its heel [m].
    pub joints: Vec<(Option<usize>, f64)>,
    /// What it is cut from.
    pub stock: Vec<Stock>,
    /// How; none where it cannot be cut.
    pub cutting: Option<Cutting>,
}

/// What mast and spars are cut from, section by section; those longer than their stock in parts, joined away from the mast and
/// from where they are bent most.
pub fn cutting(design: &Design, account: &Account, m: usize) -> Vec<Cut> {
    let mut list: Vec<Cut> = Vec::new();
    let Some(shop) = Shop::new(design, account, m) else {
        return list;
    };
    let yard = shop.yard();
    let mut add = |spar: Option<usize>, pole: &Pole, mast: f64, sheet: f64| {
        let butted = spar.is_none() && shop.typed.spars.made.word("mast_kind") == "pieces";
        for piece in &pole.sticks(butted) {
            // Of a hollow stick its staves are cut, as planks of their greatest width.
            let stave = piece.stave();
            let (diameter, wall) = match &stave {
                Some(stave) => (stave.outer.0, Some(stave.thickness.0)),
                None => (
                    piece.diameters.0.max(piece.diameters.1),
                    piece.walls.map(|walls| walls.0.max(walls.1)),
                ),
            };
            let count = stave.map_or(1, |stave| stave.count);
            let timber = matches!(piece.material.kind, Kind::Clear | Kind::Class);
            let near = |a: f64, b: f64| (a - b).abs() < 1e-4;
            let like = |d: f64, w: Option<f64>| {
                near(d, diameter) && near(w.unwrap_or(0.0), wall.unwrap_or(0.0))
            };
            // What is laid up is told by its kind alone: its plies make it what it is.
            let same = |of: &Material| {
                let laid = of.kind == Kind::Laminate && piece.material.kind == Kind::Laminate;
                laid || *of == piece.material
            };
            let found = list.iter().position(|known| {
                like(known.diameter, known.wall) && known.material == piece.material
            });
            let at = found.unwrap_or(list.len());
            if found.is_none() {
                let mut stock = Vec::new();
                for row in &design.spars.stock {
                    let word = row.word("material");
                    let of = || material(&design.spars, word, "").is_some_and(|of| same(&of));
                    if like(row.usual("diameter_m"), row.number("wall_m"))
                        && (word.is_empty() || of())
                    {
                        stock.push(Stock {
                            length: row.usual("length_m"),
                            price: row.number("price"),
                        });
                    }
                }
                if stock.is_empty() {
                    stock.push(Stock {
                        length: BAR,
                        price: None,
                    });
                }
                list.push(Cut {
                    diameter,
                    wall,
                    material: piece.material,
                    pieces: Vec::new(),
                    joints: Vec::new(),
                    stock,
                    cutting: None,
                });
            }
            let Some(group) = list.get_mut(at) else {
                continue;
            };
            let longest = group
                .stock
                .iter()
                .fold(0.0, |most: f64, s| most.max(s.length));
            // Scarfs slope over the thickness.
            let thick = stave.map_or(diameter, |stave| stave.thickness.0);
            let lap = if timber { SCARF * thick } else { 0.0 };
            let length = piece.to - piece.from;
            let cover = if length > longest {
                longest - lap
            } else {
                longest
            };
            let places = joints(length, cover, mast - piece.from, sheet - piece.from);
            let mut from = 0.0;
            for place in places.unwrap_or_default() {
                group.joints.push((spar, piece.from + place));
                for _ in 0..count {
                    group.pieces.push((spar, place - from + lap));
                }
                from = place;
            }
            for _ in 0..count {
                group.pieces.push((spar, length - from));
            }
        }
    };
    let input = &shop.spars.mast_input;
    add(None, &input.pole, input.bury, input.pole.length());
    let first = shop.spars.sail_input.states.first();
    for (i, spar) in shop
        .spars
        .sail_input
        .spars
        .iter()
        .enumerate()
        .take(yard + 1)
    {
        let ahead = first.and_then(|state| state.ahead.get(i).copied());
        add(Some(i), &spar.pole, ahead.unwrap_or(0.0), spar.sheet);
    }
    for group in &mut list {
        let mut lengths = Vec::new();
        for (_, length) in &group.pieces {
            lengths.push(*length);
        }
        group.cutting = cut(&lengths, &group.stock, design.spars.rules.usual("kerf_m"));
    }
    list
}

/// Edits that list the joints which [`cutting`] places as weak places, with the strength that is usually left; those listed
/// already, and more than there can be, are left out. Battens have theirs at the same places.
pub fn joint_edits(design: &Design, account: &Account, m: usize) -> Vec<Edit> {
    let mut edits = Vec::new();
    let Some(shop) = Shop::new(design, account, m) else {
        return edits;
    };
    let (yard, bury) = (shop.yard(), shop.mast().bury);
    let rows = &shop.typed.spars.weak;
    let mut at = rows.last().map_or(0, |row| row.at + 1);
    let mut known: Vec<(&str, f64)> = Vec::new();
    for row in rows {
        if row.word("what") == "joint" {
            known.push((row.word("spar"), row.usual("height_m")));
        }
    }
    for cut in cutting(design, account, m) {
        for (spar, place) in cut.joints {
            let (word, place) = match spar {
                None => ("mast", place - bury),
                Some(i) => (word_of(i, yard), place),
            };
            let is = |joint: &(&str, f64)| joint.0 == word && (joint.1 - place).abs() < 0.005;
            if at >= MOST_WEAK || known.iter().any(is) {
                continue;
            }
            known.push((word, place));
            let number = at.to_string();
            let under = |leaf: &str| mast_path(m, &["spars.weak.", number.as_str(), leaf].concat());
            edits.push(Edit::value(under(".spar"), word.into()));
            edits.push(Edit::number(under(".height_m"), place));
            edits.push(Edit::value(under(".what"), "joint".into()));
            at += 1;
        }
    }
    edits
}

/// A part of the rig that weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RigPart {
    /// The mast.
    Mast,
    /// Fittings at its head.
    Head,
    /// Boom, batten or yard, with what is typed for it.
    Spar(usize),
    /// The cloth, dry.
    Cloth,
}

/// What the rig of a mast weighs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RigWeights {
    /// Mass [kg] and centre in ship axes, at full hoist amidships.
    pub parts: Vec<(RigPart, f64, Place)>,
    /// Mass of them all [kg] and their centre.
    pub whole: (f64, Option<Place>),
    /// The mast with its head, as it is raised: mass [kg] and balance point from the heel [m].
    pub raised: Weight,
}

/// Weights of a mast's rig by part; lines and blocks are left out.
pub fn rig_weights(design: &Design, account: &Account, m: usize) -> RigWeights {
    let mut weights = RigWeights::default();
    let Some(shop) = Shop::new(design, account, m) else {
        return weights;
    };
    let (mast, input) = (shop.mast(), &shop.spars.mast_input);
    let lap = input.pole.length() - input.bury;
    if let Ok((_, weight)) = input.pole.weigh() {
        let at = mast.axis_at(weight.centre - input.bury);
        weights.parts.push((RigPart::Mast, weight.mass, at));
        weights
            .parts
            .push((RigPart::Head, input.head, mast.axis_at(lap)));
        weights.raised = balance(weight, &[(input.head, input.pole.length())]);
    }
    let lines = shop.account.lines.as_ref();
    if let (Some(lines), Some(plan)) = (lines, &shop.account.plan) {
        for (i, (spar, mass)) in plan
            .spars
            .iter()
            .zip(&lines.input.weights.spars)
            .enumerate()
        {
            let at = mast.to_ship(spar.at(0.5 * spar.length), 0.0);
            weights.parts.push((RigPart::Spar(i), *mass, at));
        }
        let (mut sum, mut u, mut v) = (0.0, 0.0, 0.0);
        for (panel, mass) in plan.panel_moments.iter().zip(&lines.input.weights.cloth) {
            if let Some(centre) = panel.centroid() {
                sum += mass;
                u += mass * centre.x;
                v += mass * centre.y;
            }
        }
        if sum > 0.0 {
            let at = mast.to_ship(Point::new(u / sum, v / sum), 0.0);
            weights.parts.push((RigPart::Cloth, sum, at));
        }
    }
    let (mut sum, mut x, mut y, mut z) = (0.0, 0.0, 0.0, 0.0);
    for (_, mass, at) in &weights.parts {
        sum += mass;
        x += mass * at.x;
        y += mass * at.y;
        z += mass * at.z;
    }
    let centre = (sum > 0.0).then(|| Place {
        x: x / sum,
        y: y / sum,
        z: z / sum,
    });
    weights.whole = (sum, centre);
    weights
}

/// Angles a mast is looked at while it is raised.
const ANGLES: u32 = 11;
/// The last of them [rad]: 80°.
const UP: f64 = 80.0 * PI / 180.0;

/// Raising a mast: angle above the level [rad] and forces there; angles at which the tackle has no lever are left out.
pub fn raising(design: &Design, account: &Account, m: usize) -> Vec<(f64, Raised)> {
    let mut list = Vec::new();
    let Some(shop) = Shop::new(design, account, m) else {
        return list;
    };
    let weight = rig_weights(design, account, m).raised;
    if weight.mass <= 0.0 {
        return list;
    }
    let (typed, mast) = (shop.typed, shop.mast());
    let hinge = leaf(typed, mast, "hinge_m");
    let how = Raising {
        weight,
        hinge: mast.bury + hinge,
        fast: leaf(typed, mast, "raise_at_m") - hinge,
        gin: leaf(typed, mast, "gin_m"),
        lead: (
            leaf(typed, mast, "raise_x_m"),
            leaf(typed, mast, "raise_z_m"),
        ),
        tackle: (
            leaf(typed, mast, "raise_parts") as usize,
            design.lines.rules.sheave_loss,
        ),
    };
    for i in 0..ANGLES {
        let angle = UP * f64::from(i) / f64::from(ANGLES - 1);
        if let Some(raised) = raise(&how, angle) {
            list.push((angle, raised));
        }
    }
    list
}

/// The boat with what her rig weighs by its sections, in place of the weights typed for the new rig: for the change of GM and
/// of the reef winds.
pub fn boat_with(design: &Design, account: &Account) -> boat::Account {
    let mut input = afloat::input(design, &account.masts, &account.rig.sequence);
    input.on.clear();
    for m in 0..account.masts.len() {
        for (_, mass, at) in rig_weights(design, account, m).parts {
            input.on.push(boat::Weight {
                mass,
                x: at.x,
                z: at.z,
            });
        }
    }
    boat::account(&input)
}
