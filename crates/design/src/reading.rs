//! The one typed reading of a document: every leaf through its bounds row, into SI and radians.
//!
//! A value of the wrong type is refused with its path. A number outside its usual range is used
//! and told; one outside its hard range is told and what an empty field stands for is used. Rules
//! that need no geometry are followed here; the others are left to [`crate::account()`].

use geometry::Spar;
use geometry::hull::{Coachroof, Cockpit, Hull, Keel};
use geometry::mast::Side;
use kurbo::Point;
use quantities::bounds::{
    self, MOST_LESSONS, MOST_LINE_ROWS, MOST_MASTS, MOST_MATERIALS, MOST_ORDINATES, MOST_PANELS,
    MOST_POINTS, MOST_ROWS, MOST_SAILS, MOST_STEPS, Row,
};
use quantities::listed::Listed as _;
use quantities::{Kind, Problem, Text, Usual};
use serde_json::{Map, Value};

use crate::design::{
    Boat, ClothDesign, Cut, Design, Family, HAULING, HoldRow, Leaves, Lesson, LessonStep,
    LinesDesign, LinesRules, MastDesign, SailDesign, SpanRow, SparsDesign, SparsRules,
    WeightsDesign, WindDesign,
};
use crate::tree::{Tree, number_of};

/// Displacement, light and laden, over that in sailing trim (common practice).
const LIGHT: f64 = 0.93;
const LADEN: f64 = 1.12;
/// Fresh water [kg/m³].
const FRESH_WATER: f64 = 1000.0;

/// A design and what was wrong with its document.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The design, every value usable.
    pub design: Design,
    /// Values not used, or used though unusual, in the document's order.
    pub problems: Vec<Problem>,
}

/// Reads a tree of the present version.
///
/// # Errors
/// The first value of the wrong type, or more masts, panels or steps than there can be.
pub fn read(tree: &Tree) -> Result<Reading, Problem> {
    let mut reader = Reader::default();
    let root = Node {
        entries: tree.root().as_object(),
        at: [0, 0],
    };
    let name = reader.words(&root, "name");
    let note = reader.words(&root, "note");
    let mut boat = {
        let boat = reader.object(&root, "boat", "boat");
        reader.boat(boat)
    };
    let wind = reader.object(&root, "wind", "wind");
    let wind = reader.wind(&wind, &mut boat);
    let lines = reader.object(&root, "lines", "lines");
    let lines = reader.lines_rules(&lines);
    let spars = reader.object(&root, "spars", "spars");
    let spars = reader.spars_rules(&spars);
    let cloth = reader.object(&root, "cloth", "cloth");
    let cloth = reader.leaves(&cloth, "cloth");
    let masts = reader.list(&root, "masts", "masts", MOST_MASTS);
    if masts.is_empty() {
        reader
            .problems
            .push(Problem::new("masts", Text::new("problem.no_mast")));
    }
    let lwl = boat.hull.lwl;
    let mut read_masts = Vec::with_capacity(masts.len());
    for (m, mast) in masts.iter().enumerate() {
        let node = reader.node(mast, [m, 0], "masts[]");
        // Where a mast might stand and how long its chord might be if nobody says.
        let place = lwl * (0.15 + 0.5 * m as f64);
        let chord = 0.55 * lwl / masts.len() as f64;
        read_masts.push(reader.mast(node, place, chord));
    }
    let reefs = reader.object(&root, "reefs", "reefs");
    let sequence = reader.sequence(&reefs);
    let lessons = reader.lessons(&root);
    if let Some(refusal) = reader.refusal {
        return Err(refusal);
    }
    Ok(Reading {
        design: Design {
            name,
            note,
            boat: boat.into(),
            wind,
            masts: read_masts,
            lines,
            spars: spars.into(),
            cloth: cloth.into(),
            sequence,
            lessons: lessons.into(),
        },
        problems: reader.problems,
    })
}

/// One object of the tree; absent ones read as empty.
#[derive(Clone, Copy)]
struct Node<'a> {
    entries: Option<&'a Map<String, Value>>,
    /// List indices on the way here: mast, spar.
    at: [usize; 2],
}

impl<'a> Node<'a> {
    fn get(&self, key: &str) -> Option<&'a Value> {
        self.entries?.get(key).filter(|value| !value.is_null())
    }
}

#[derive(Default)]
struct Reader {
    problems: Vec<Problem>,
    /// The first value of the wrong type. The reading goes on as if it were absent: one look at
    /// the end costs less code than one after every value.
    refusal: Option<Problem>,
    /// Place in the document's list of each reading that is used.
    readings_at: Vec<usize>,
}

impl Reader {
    fn refuse(&mut self, problem: Problem) {
        if self.refusal.is_none() {
            self.refusal = Some(problem);
        }
    }

    fn node<'a>(&mut self, value: &'a Value, at: [usize; 2], pattern: &str) -> Node<'a> {
        let entries = value.as_object();
        if entries.is_none() && !value.is_null() {
            self.refuse(wrong(pattern, at, "problem.want_object"));
        }
        Node { entries, at }
    }

    fn object<'a>(&mut self, node: &Node<'a>, key: &str, pattern: &str) -> Node<'a> {
        self.node(node.get(key).unwrap_or(&Value::Null), node.at, pattern)
    }

    fn list<'a>(&mut self, node: &Node<'a>, key: &str, pattern: &str, most: usize) -> &'a [Value] {
        match node.get(key) {
            None => return &[],
            Some(Value::Array(items)) if items.len() <= most => return items,
            Some(Value::Array(_)) => {
                let path = path_of(pattern, node.at);
                let text = Text::new("problem.too_many").with("most", most as u32);
                self.refuse(Problem::refused(path, text));
            }
            Some(_) => self.refuse(wrong(pattern, node.at, "problem.want_list")),
        }
        &[]
    }

    fn boat(&mut self, boat: Node<'_>) -> Boat {
        // Proportions to draw something by when a dimension is missing.
        let loa = self.number(&boat, "boat.loa_m");
        let lwl = self.number(&boat, "boat.lwl_m");
        let loa = self.needed(loa, "boat.loa_m", lwl.used().map_or(7.0, |l| 1.15 * l));
        let lwl = self.needed(lwl, "boat.lwl_m", 0.87 * loa);
        let mut dimension = |pattern, share: f64| -> f64 {
            let number = self.number(&boat, pattern);
            self.needed(number, pattern, share * loa)
        };
        let beam = dimension("boat.beam_m", 0.34);
        let draught = dimension("boat.draught_m", 0.13);
        let freeboard_bow = dimension("boat.freeboard_bow_m", 0.13);
        let freeboard_mid = dimension("boat.freeboard_mid_m", 0.10);
        let freeboard_stern = dimension("boat.freeboard_stern_m", 0.11);
        let bow_overhang = self.by_rule(&boat, "boat.bow_overhang_m", 0.5 * (loa - lwl).max(0.0));
        let keel = match self.choice(&boat, "boat.keel") {
            "long" => Keel::Long,
            "open" => Keel::Open,
            _ => Keel::Fin,
        };
        let coachroof = self.coachroof(&boat);
        let cockpit = self.cockpit(&boat);
        let hull = Hull {
            loa,
            lwl,
            beam,
            draught,
            bow_overhang,
            freeboard_bow,
            freeboard_mid,
            freeboard_stern,
            keel,
            coachroof,
            cockpit,
        };
        let ballast = self.number(&boat, "boat.ballast_kg").used().unwrap_or(0.0);
        let rig_parts = [
            self.names(&boat, "boat.old_rig", "boat.old_rig[].name"),
            self.names(&boat, "boat.new_rig", "boat.new_rig[].name"),
        ];
        let particulars = self.particulars(&boat, &hull, ballast);
        Boat {
            readings_at: core::mem::take(&mut self.readings_at),
            particulars,
            ballast,
            rig_parts,
            sails_now: self.names(&boat, "boat.sails", "boat.sails[].name"),
            deck: self.outline(&boat, &["boat.deck[].x_m", "boat.deck[].z_m"], [0, 0]),
            hull,
            coachroof_clearance: self.usual(&boat, "boat.coachroof_clearance_m"),
            cockpit_clearance: self.usual(&boat, "boat.cockpit_clearance_m"),
            eye_height: self.usual(&boat, "boat.eye_height_m"),
            boom_end_clearance: self.usual(&boat, "boat.boom_end_clearance_m"),
            air_draught: self.number(&boat, "boat.air_draught_m").used(),
        }
    }

    /// What she weighs, what rights her, what holds her against leeway, and the rig she has now.
    fn particulars(&mut self, boat: &Node<'_>, hull: &Hull, ballast: f64) -> boat::Input {
        let displacement = self.number(boat, "boat.displacement_kg").used();
        let mut load = |pattern, share: f64| {
            let typed = self.number(boat, pattern).used();
            typed.or(displacement.map(|mass| share * mass))
        };
        let loads = [
            load("boat.light_kg", LIGHT),
            displacement,
            load("boat.laden_kg", LADEN),
        ];
        let test = self.object(boat, "test", "boat.test");
        let pendulum = self.number(&test, "boat.test.pendulum_m");
        let readings = self.rows(
            &test,
            &[
                "boat.test.readings[].weight_kg",
                "boat.test.readings[].arm_m",
                "boat.test.readings[].deflection_m",
            ],
            [0, 0],
        );
        self.readings_at = readings.iter().map(|row| row[3] as usize).collect();
        if !readings.is_empty() {
            self.told_if_missing(pendulum, "boat.test.pendulum_m");
        }
        let pendulum = pendulum.used().unwrap_or(f64::NAN);
        let fin = self.object(boat, "fin", "boat.fin");
        let mut edge = |pattern| self.number(&fin, pattern).used();
        let fin = match [
            edge("boat.fin.root_from_m"),
            edge("boat.fin.root_to_m"),
            edge("boat.fin.tip_from_m"),
            edge("boat.fin.tip_to_m"),
        ] {
            [Some(a), Some(b), Some(c), Some(d)] => Some(boat::Fin {
                root: (a, b),
                tip: (c, d),
            }),
            _ => None,
        };
        let sails = self.list(boat, "sails", "boat.sails", MOST_SAILS);
        let mut sails_now = Vec::with_capacity(sails.len());
        for (i, sail) in sails.iter().enumerate() {
            let node = self.node(sail, [i, 0], "boat.sails[]");
            sails_now.push(self.outline(
                &node,
                &["boat.sails[].points[].x_m", "boat.sails[].points[].z_m"],
                node.at,
            ));
        }
        let levers = self.rows(boat, &["boat.gz[].heel_deg", "boat.gz[].gz_m"], [0, 0]);
        let usual_gravity = if hull.keel == Keel::Open || ballast <= 0.0 {
            0.70
        } else {
            0.62
        };
        boat::Input {
            hull: boat::Hull {
                length: hull.lwl,
                beam: self.by_rule(boat, "boat.bwl_m", 0.90 * hull.beam),
                canoe_draught: self.by_rule(boat, "boat.canoe_draught_m", hull.body_depth()),
                draught: hull.draught,
                freeboard: hull.freeboard_mid,
                water: match self.choice(boat, "boat.water") {
                    "fresh" => FRESH_WATER,
                    _ => boat::SEA_WATER,
                },
                waterplane: self.usual(boat, "boat.waterplane_pct"),
                inertia: self.usual(boat, "boat.inertia_pct"),
                gravity: self.by_rule(boat, "boat.kg_pct", usual_gravity),
            },
            source: match self.choice(boat, "boat.stability") {
                "test" => boat::Source::Test,
                "table" => boat::Source::Table,
                _ => boat::Source::Form,
            },
            readings: readings
                .iter()
                .map(|row| boat::Reading {
                    weight: row[0],
                    distance: row[1],
                    tangent: row[2] / pendulum,
                })
                .listed(),
            table: levers.iter().map(|row| (row[0], row[1])).listed(),
            roll: boat::Roll {
                period: self.number(boat, "boat.roll_s").used(),
                gyration: hull.beam * self.usual(boat, "boat.gyration_pct"),
            },
            loads,
            stores_height: self.usual(boat, "boat.stores_m"),
            loading: match self.choice(boat, "boat.loading") {
                "light" => 0,
                "laden" => 2,
                _ => 1,
            },
            crew: boat::Crew {
                to_weather: self.usual(boat, "boat.crew_weather"),
                mass: self.usual(boat, "boat.crew_kg"),
                arm: hull.beam * self.usual(boat, "boat.crew_arm_pct"),
            },
            off: self.weights(
                boat,
                &[
                    "boat.old_rig[].mass_kg",
                    "boat.old_rig[].x_m",
                    "boat.old_rig[].z_m",
                ],
            ),
            on: self.weights(
                boat,
                &[
                    "boat.new_rig[].mass_kg",
                    "boat.new_rig[].x_m",
                    "boat.new_rig[].z_m",
                ],
            ),
            bands: boat::Bands {
                displacement: self.usual(boat, "boat.displacement_band_pct"),
                height: self.usual(boat, "boat.gm_band_pct"),
            },
            greatest_factor: self.usual(boat, "boat.greatest_factor"),
            lateral: boat::Lateral {
                method: match self.choice(boat, "boat.clr") {
                    "keel" => boat::Method::Keel,
                    _ => boat::Method::Profile,
                },
                profile: self.outline(boat, &["boat.profile[].x_m", "boat.profile[].z_m"], [0, 0]),
                fin,
            },
            sails_now,
            conditions: boat::Conditions {
                course: wind::Course {
                    boat_speed: 0.0,
                    wind_angle: 0.0,
                },
                gradient: wind::Gradient::default(),
                comfort: 0.0,
                exponent: 0.0,
                running_force: 0.0,
            },
            steps: Vec::new(),
        }
    }

    /// The wind; what belongs to the boat's conditions goes there.
    fn wind(&mut self, wind: &Node<'_>, boat: &mut Boat) -> WindDesign {
        let hull = &boat.hull;
        let comfort: f64 = if hull.keel == Keel::Open { 10.0 } else { 15.0 };
        boat.particulars.conditions = boat::Conditions {
            course: wind::Course {
                boat_speed: self.by_rule(wind, "wind.boat_speed_kn", hull.lwl.sqrt()),
                wind_angle: self.usual(wind, "wind.angle_deg"),
            },
            gradient: wind::Gradient {
                exponent: self.usual(wind, "wind.gradient_pct"),
                ..wind::Gradient::default()
            },
            comfort: self.by_rule(wind, "wind.comfort_deg", comfort.to_radians()),
            exponent: self.usual(wind, "wind.exponent"),
            running_force: self.usual(wind, "wind.running_force"),
        };
        WindDesign {
            hull_drag: self.usual(wind, "wind.hull_drag"),
            bundle_drag: self.usual(wind, "wind.bundle_drag"),
            mast_drag: self.usual(wind, "wind.mast_drag"),
            overbalance: self.usual(wind, "wind.overbalance_pct"),
            shift: self.usual(wind, "wind.shift_pct"),
        }
    }

    /// Rows of a list, SI, the first columns of three, then its place in the list; one that lacks a
    /// number is left out and told.
    fn rows(
        &mut self,
        node: &Node<'_>,
        patterns: &[&'static str],
        at: [usize; 2],
    ) -> Vec<[f64; 4]> {
        let first = patterns.first().copied().unwrap_or("");
        // Without `[].` and the key.
        let end = first.len().saturating_sub(key_of(first).len() + 3);
        let list = first.get(..end).unwrap_or(first);
        let items = self.list(node, key_of(list), list, MOST_ROWS);
        // The index of the row is the pattern's last.
        let place = usize::from(list.bytes().any(|byte| byte == b'['));
        let mut rows = Vec::with_capacity(items.len());
        for (i, item) in items.iter().enumerate() {
            let mut at = at;
            at[place] = i;
            let item = self.node(item, at, list);
            // A row just added has nothing in it yet.
            if patterns
                .iter()
                .all(|pattern| item.get(key_of(pattern)).is_none())
            {
                continue;
            }
            let mut row = [0.0, 0.0, 0.0, i as f64];
            let mut whole = true;
            for (to, pattern) in row.iter_mut().zip(patterns) {
                let number = self.number(&item, pattern);
                if let Typed::Absent = number {
                    self.needed_at(number, pattern, at, 0.0);
                }
                match (number.used(), bounds::row(pattern)) {
                    (Some(number), Some(bound)) => *to = bound.quantity.si_from_document(number),
                    _ => whole = false,
                }
            }
            if whole {
                rows.push(row);
            }
        }
        rows
    }

    fn outline(
        &mut self,
        node: &Node<'_>,
        patterns: &[&'static str; 2],
        at: [usize; 2],
    ) -> Vec<Point> {
        let rows = self.rows(node, patterns, at);
        rows.iter().map(|row| Point::new(row[0], row[1])).listed()
    }

    /// Names of the items of a list, empty where there is none.
    fn names(&mut self, node: &Node<'_>, list: &str, name: &'static str) -> Vec<String> {
        let items = self.list(node, key_of(list), list, MOST_ROWS);
        let mut names = Vec::with_capacity(items.len());
        for (i, item) in items.iter().enumerate() {
            let item = self.node(item, [i, 0], list);
            names.push(self.words(&item, name));
        }
        names
    }

    fn weights(&mut self, boat: &Node<'_>, patterns: &[&'static str; 3]) -> Vec<boat::Weight> {
        let rows = self.rows(boat, patterns, [0, 0]);
        rows.iter()
            .map(|row| boat::Weight {
                mass: row[0],
                x: row[1],
                z: row[2],
            })
            .listed()
    }

    fn coachroof(&mut self, boat: &Node<'_>) -> Option<Coachroof> {
        let node = self.object(boat, "coachroof", "boat.coachroof");
        let from = self.number(&node, "boat.coachroof.from_m");
        let to = self.number(&node, "boat.coachroof.to_m");
        let height = self.number(&node, "boat.coachroof.height_m");
        node.entries?;
        self.told_if_missing(from, "boat.coachroof.from_m");
        self.told_if_missing(to, "boat.coachroof.to_m");
        self.told_if_missing(height, "boat.coachroof.height_m");
        let (Some(from), Some(to), Some(height)) = (from.used(), to.used(), height.used()) else {
            return None;
        };
        self.in_order(from, to, "boat.coachroof.to_m")
            .then_some(Coachroof { from, to, height })
    }

    fn cockpit(&mut self, boat: &Node<'_>) -> Option<Cockpit> {
        let node = self.object(boat, "cockpit", "boat.cockpit");
        let from = self.number(&node, "boat.cockpit.from_m");
        let to = self.number(&node, "boat.cockpit.to_m");
        let seat = self.number(&node, "boat.cockpit.seat_m");
        node.entries?;
        self.told_if_missing(from, "boat.cockpit.from_m");
        self.told_if_missing(to, "boat.cockpit.to_m");
        self.told_if_missing(seat, "boat.cockpit.seat_m");
        let (Some(from), Some(to), Some(seat)) = (from.used(), to.used(), seat.used()) else {
            return None;
        };
        self.in_order(from, to, "boat.cockpit.to_m")
            .then_some(Cockpit { from, to, seat })
    }

    /// Tells when something ends before it begins.
    fn in_order(&mut self, from: f64, to: f64, path: &'static str) -> bool {
        if from < to {
            return true;
        }
        if let Some(row) = bounds::row(path) {
            let text = Text::new("problem.inverted")
                .with_key("label", row.quantity.label)
                .with("value", quantities::Arg::Given(to, row.quantity))
                .with("least", quantities::Arg::Given(from, row.quantity));
            self.problems.push(Problem::refused(path, text));
        }
        false
    }

    fn mast(&mut self, mast: Node<'_>, place: f64, chord: f64) -> MastDesign {
        let position = self.number(&mast, "masts[].position_m");
        let position = self.needed_at(position, "masts[].position_m", mast.at, place);
        MastDesign {
            name: self.words(&mast, "masts[].name"),
            position,
            partners: self.number(&mast, "masts[].partners_m").used(),
            bury: self.number(&mast, "masts[].bury_m").used(),
            lap: self.number(&mast, "masts[].lap_m").used(),
            rake: self.usual(&mast, "masts[].rake_deg"),
            diameter: self.number(&mast, "masts[].diameter_m").used(),
            top_diameter: self.number(&mast, "masts[].top_diameter_m").used(),
            parallel: self.usual(&mast, "masts[].parallel_pct"),
            from: self.number(&mast, "masts[].from_m").used(),
            to: self.number(&mast, "masts[].to_m").used(),
            sail: {
                let sail = self.object(&mast, "sail", "masts[].sail");
                self.sail(sail, chord)
            },
            lines: {
                let lines = self.object(&mast, "lines", "masts[].lines");
                self.lines(&lines).into()
            },
            spars: {
                let spars = self.object(&mast, "spars", "masts[].spars");
                self.spars(&spars)
            },
            cloth: {
                let cloth = self.object(&mast, "cloth", "masts[].cloth");
                self.cloth(&cloth).into()
            },
            weights: {
                let weights = self.object(&mast, "weights", "masts[].weights");
                let mut weight = |pattern| self.number(&weights, pattern).used();
                WeightsDesign {
                    cloth: weight("masts[].weights.cloth_gsm"),
                    boom: weight("masts[].weights.boom_kg"),
                    batten: weight("masts[].weights.batten_kg"),
                    yard: weight("masts[].weights.yard_kg"),
                }
            },
        }
    }

    /// What holds for the lines of all sails.
    fn lines_rules(&mut self, lines: &Node<'_>) -> LinesRules {
        let mut usual = |pattern| self.usual(lines, pattern);
        let close = usual("lines.close_deg");
        let rules = rigging::Rules {
            sheave_loss: usual("lines.sheave_loss_pct"),
            parrel_friction: usual("lines.parrel_friction"),
            knot: usual("lines.knot_pct"),
            factors: [
                usual("lines.factor_running"),
                usual("lines.factor_fixed"),
                usual("lines.factor_halyard"),
            ],
            dynamic: usual("lines.dynamic"),
            hand: usual("lines.hand_n"),
            hand_rope: usual("lines.hand_rope_m"),
            block_to_block: usual("lines.block_to_block_m"),
            tip: 0.0,
            stretch: usual("lines.stretch_pct"),
        };
        let tails = rigging::Tails {
            halyard: usual("lines.tail_halyard_m"),
            sheet: usual("lines.tail_sheet_m"),
            hauling: usual("lines.tail_hauling_m"),
            fixed: usual("lines.tail_fixed_m"),
        };
        let wet = usual("lines.wet");
        let lifeline = usual("lines.lifeline_m");
        let mut rope = |pattern| match self.choice(lines, pattern) {
            "polyamide" => rigging::Rope::Polyamide,
            "polypropylene" => rigging::Rope::Polypropylene,
            "braid" => rigging::Rope::Braid,
            "hmpe" => rigging::Rope::Hmpe,
            _ => rigging::Rope::Polyester,
        };
        LinesRules {
            close,
            rules,
            tails,
            ropes: rigging::Ropes {
                halyard: rope("lines.halyard_rope"),
                sheet: rope("lines.sheet_rope"),
                lifts: rope("lines.lift_rope"),
                parrels: rope("lines.parrel_rope"),
            },
            wet,
            lifeline,
        }
    }

    /// The lines of a sail.
    fn lines(&mut self, lines: &Node<'_>) -> LinesDesign {
        let mut read = LinesDesign::default();
        if lines.entries.is_none() {
            return read;
        }
        let mut node = *lines;
        let mut of = "";
        for row in bounds::ROWS {
            let Some(leaf) = row.path.strip_prefix("masts[].lines.") else {
                continue;
            };
            let Some((head, key)) = leaf.split_once('.').filter(|_| !leaf.ends_with(']')) else {
                continue;
            };
            if head.ends_with(']') {
                continue;
            }
            if head != of {
                node = self.object(lines, head, &["masts[].lines.", head].concat());
                of = head;
            }
            if !matches!(row.kind, quantities::Kind::Choice(_)) {
                if let Some(number) = self.number(&node, row.path).used() {
                    let number = row.quantity.si_from_document(number);
                    read.typed.push((leaf, number));
                    if key == "gathers" {
                        read.choices.gathers = number as usize;
                    }
                }
                continue;
            }
            let word = self.choice(&node, row.path);
            let rigged = match word {
                "running" => rigging::Use::Running,
                "standing" => rigging::Use::Standing,
                _ => rigging::Use::None,
            };
            let choices = &mut read.choices;
            match head {
                "halyard" => choices.halyard = word != "none",
                "lifts" => choices.lifts = rigged,
                "parrels" => choices.parrels = (word != "none").then_some(word == "long"),
                "sheet" => {
                    choices.system = match word {
                        "divided" => Some(rigging::System::Divided),
                        "pair" => Some(rigging::System::Pair),
                        "none" => None,
                        _ => Some(rigging::System::Single),
                    }
                }
                _ => {
                    if let Some(i) = HAULING.iter().position(|known| *known == head) {
                        choices.hauling[i] = rigged;
                    }
                }
            }
        }
        let lifts = self.object(lines, "lifts", "masts[].lines.lifts");
        let catches = lifts.get("catches_pct").and_then(Value::as_array);
        let n = catches.map_or(0, Vec::len).min(MOST_LINE_ROWS);
        let usual = |i: usize| [0.3, 0.6, 0.9][i.min(2)];
        let pattern = "masts[].lines.lifts.catches_pct[]";
        read.catches = self.per_panel(&lifts, pattern, MOST_LINE_ROWS, n, &usual);
        read.spans = self.spans(lines);
        read.holds = self.holds(lines);
        read
    }

    /// Spans typed; one that lacks its uppermost end is left out and told.
    fn spans(&mut self, lines: &Node<'_>) -> Vec<SpanRow> {
        let items = self.list(lines, "spans", "masts[].lines.spans", MOST_LINE_ROWS);
        let mut rows = Vec::with_capacity(items.len());
        for (at, item) in items.iter().enumerate() {
            let node = self.node(item, [lines.at[0], at], "masts[].lines.spans[]");
            let top = "masts[].lines.spans[].top";
            let typed = self.number(&node, top);
            let row = SpanRow {
                at,
                sheet: (self.usual(&node, "masts[].lines.spans[].sheet") as usize)
                    .saturating_sub(1),
                top: typed.used().unwrap_or(0.0) as usize,
                ends: self.usual(&node, "masts[].lines.spans[].ends") as usize,
                length: self.number(&node, "masts[].lines.spans[].length_m").used(),
                parts: (self.number(&node, "masts[].lines.spans[].parts").used())
                    .map(|n| n as usize),
            };
            if typed.used().is_some() {
                rows.push(row);
            } else if node.entries.is_some_and(|entries| !entries.is_empty()) {
                self.needed_at(typed, top, node.at, 0.0);
            }
        }
        rows
    }

    /// Holds typed; one that lacks its line, spar or place is left out and told.
    fn holds(&mut self, lines: &Node<'_>) -> Vec<HoldRow> {
        let items = self.list(lines, "holds", "masts[].lines.holds", MOST_LINE_ROWS);
        let mut rows = Vec::with_capacity(items.len());
        for (at, item) in items.iter().enumerate() {
            let node = self.node(item, [lines.at[0], at], "masts[].lines.holds[]");
            if node.entries.is_none_or(Map::is_empty) {
                continue;
            }
            let word = self.choice(&node, "masts[].lines.holds[].line");
            let line = HAULING.iter().position(|known| *known == word);
            if node.get("line").is_none() {
                self.needed_at(Typed::Absent, "masts[].lines.holds[].line", node.at, 0.0);
            }
            let mut needed = |pattern| {
                let typed = self.number(&node, pattern);
                self.needed_at(typed, pattern, node.at, 0.0);
                typed.used()
            };
            let spar = needed("masts[].lines.holds[].spar");
            let along = needed("masts[].lines.holds[].along_pct");
            if let (Some(line), Some(spar), Some(along)) = (line, spar, along) {
                let hold = rigging::Hold {
                    spar: spar as usize,
                    share: 0.01 * along,
                };
                rows.push(HoldRow { at, line, hold });
            }
        }
        rows
    }

    /// All leaves of an object, by the bounds rows right under it.
    fn leaves(&mut self, node: &Node<'_>, object: &str) -> Leaves {
        let mut read = Leaves::default();
        let from = bounds::ROWS.partition_point(|row| row.path < object);
        for row in &bounds::ROWS[from..] {
            let Some(rest) = row.path.strip_prefix(object) else {
                break;
            };
            let Some(key) = rest.strip_prefix('.').filter(|key| !key.contains('.')) else {
                continue;
            };
            match row.kind {
                Kind::Number | Kind::Whole => {
                    let mut number = self.number(node, row.path).used();
                    if let (None, Usual::Value(usual)) = (number, row.usual) {
                        number = Some(usual);
                    }
                    if let Some(number) = number {
                        let number = row.quantity.si_from_document(number);
                        read.numbers.push((key, number));
                    }
                }
                Kind::Choice(_) => read.words.push((key, self.choice(node, row.path))),
                _ => {}
            }
        }
        read
    }

    /// The rows of a list of objects.
    fn leaves_of(&mut self, node: &Node<'_>, key: &str, list: &str, most: usize) -> Vec<Leaves> {
        let object = [list, "[]"].concat();
        let items = self.list(node, key, list, most);
        let mut rows = Vec::with_capacity(items.len());
        for (at, item) in items.iter().enumerate() {
            // A list of a mast has two indices, one of the document's own only one.
            let place = if object.starts_with("masts") {
                [node.at[0], at]
            } else {
                [at, 0]
            };
            let node = self.node(item, place, &object);
            // A row just added has nothing in it yet; one's own materials are counted by their places.
            let empty = node
                .entries
                .is_some_and(|entries| entries.values().all(Value::is_null));
            if empty && key != "materials" {
                continue;
            }
            let mut row = self.leaves(&node, &object);
            row.at = at;
            rows.push(row);
        }
        rows
    }

    fn spars_rules(&mut self, spars: &Node<'_>) -> SparsRules {
        SparsRules {
            rules: self.leaves(spars, "spars"),
            materials: self.leaves_of(spars, "materials", "spars.materials", MOST_MATERIALS),
            names: self.names(spars, "spars.materials", "spars.materials[].name"),
            stock: self.leaves_of(spars, "stock", "spars.stock", MOST_LINE_ROWS),
        }
    }

    fn spars(&mut self, spars: &Node<'_>) -> SparsDesign {
        let mut of = |key: &str, list: &str, most: usize| self.leaves_of(spars, key, list, most);
        SparsDesign {
            pieces: of("pieces", "masts[].spars.pieces", 8),
            plies: of("plies", "masts[].spars.plies", 24),
            weak: of("weak", "masts[].spars.weak", 16),
            special: of("special", "masts[].spars.special", 16),
            made: self.leaves(spars, "masts[].spars"),
        }
    }

    fn cloth(&mut self, cloth: &Node<'_>) -> ClothDesign {
        ClothDesign {
            shapes: self.leaves_of(cloth, "shapes", "masts[].cloth.shapes", MOST_PANELS),
            ordinates: self.leaves_of(
                cloth,
                "ordinates",
                "masts[].cloth.ordinates",
                MOST_ORDINATES,
            ),
            made: self.leaves(cloth, "masts[].cloth"),
        }
    }

    fn sail(&mut self, sail: Node<'_>, chord: f64) -> SailDesign {
        let family = match self.choice(&sail, "masts[].sail.family") {
            "full-fan" => Family::FullFan,
            "low-yard" => Family::LowYard,
            "table" => Family::Table,
            _ => Family::FannedHead,
        };
        let cut = match self.choice(&sail, "masts[].sail.cut") {
            "cambered" => Cut::Cambered,
            "wing" => Cut::Wing,
            "split" => Cut::Split,
            "paired" => Cut::Paired,
            _ => Cut::Flat,
        };
        let side = match self.choice(&sail, "masts[].sail.side") {
            "starboard" => Side::Starboard,
            _ => Side::Port,
        };
        let of_family = bounds::family(family.word());
        let of_cut = bounds::cut(cut.word());

        let panels = (self.usual(&sail, "masts[].sail.panels") as usize).clamp(1, MOST_PANELS);
        let head = of_family.head_panels.map_or(panels, |n| n as usize);
        let head = self.by_rule(&sail, "masts[].sail.head_panels", head as f64);
        let head_panels = (head as usize).min(panels);
        let turning = match family {
            Family::FannedHead => head_panels,
            Family::FullFan | Family::LowYard => panels,
            Family::Table => 0,
        };
        let head_widths = self.per_panel(
            &sail,
            "masts[].sail.head_widths_pct[]",
            MOST_POINTS,
            turning,
            &|j| 0.01 * along(&of_family.head_widths_pct, j, turning),
        );
        let head_steps = self.per_panel(
            &sail,
            "masts[].sail.head_steps[]",
            MOST_POINTS,
            turning,
            &|j| along(&of_family.head_steps, j, turning),
        );

        let table = self.table(&sail, family == Family::Table);
        let typed_chord = self.number(&sail, "masts[].sail.chord_m");
        let chord = match (family, table.first()) {
            (Family::Table, Some(boom)) => typed_chord.used().unwrap_or(boom.length),
            _ => self.needed_at(typed_chord, "masts[].sail.chord_m", sail.at, chord),
        };
        let batten_depth = self.by_rule(&sail, "masts[].sail.batten_depth_m", 0.010 * chord);
        SailDesign {
            family,
            panels,
            head_panels,
            chord,
            panel_width: self.by_rule(&sail, "masts[].sail.panel_width_m", 0.22 * chord),
            head_widths,
            head_steps,
            rise: self.usual(&sail, "masts[].sail.rise_deg"),
            boom_rise: self
                .number(&sail, "masts[].sail.boom_rise_deg")
                .used()
                .map(f64::to_radians),
            yard_angle: self.by_rule(
                &sail,
                "masts[].sail.yard_angle_deg",
                of_family.yard_angle_deg.to_radians(),
            ),
            yard_length: self.by_rule(
                &sail,
                "masts[].sail.yard_length_pct",
                0.01 * of_family.yard_length_pct,
            ),
            luff_rake: self.usual(&sail, "masts[].sail.luff_rake_deg"),
            luff_round: self.usual(&sail, "masts[].sail.luff_round_pct"),
            leech_round: self.usual(&sail, "masts[].sail.leech_round_pct"),
            balance: self.by_rule(
                &sail,
                "masts[].sail.balance_pct",
                0.01 * of_cut.balance_pct.1,
            ),
            boom_height: self.usual(&sail, "masts[].sail.boom_height_m"),
            sling: self.usual(&sail, "masts[].sail.sling_pct"),
            side,
            offset: self.number(&sail, "masts[].sail.offset_m").used(),
            cut,
            chord_share: self.by_rule(
                &sail,
                "masts[].sail.chord_share_pct",
                0.01 * of_cut.chord_share_pct,
            ),
            attached: self.usual(&sail, "masts[].sail.attached_pct"),
            side_force: self.by_rule(&sail, "masts[].sail.side_force", of_cut.side_force),
            efficiency: self.usual(&sail, "masts[].sail.efficiency_pct"),
            batten_depth,
            boom_depth: self.by_rule(&sail, "masts[].sail.boom_depth_m", 1.2 * batten_depth),
            yard_depth: self.by_rule(&sail, "masts[].sail.yard_depth_m", 1.7 * batten_depth),
            folded_cloth: self.by_rule(&sail, "masts[].sail.folded_cloth_m", of_cut.folded_cloth_m),
            drop: self.usual(&sail, "masts[].sail.drop_m"),
            travel: self
                .number(&sail, "masts[].sail.travel_pct")
                .used()
                .map(|percent| 0.01 * percent),
            drift: self.number(&sail, "masts[].sail.drift_m").used(),
            masthead_clearance: self.usual(&sail, "masts[].sail.masthead_clearance_m"),
            leech_kink: self.usual(&sail, "masts[].sail.leech_kink_deg"),
            halyard_angle: self.usual(&sail, "masts[].sail.halyard_angle_deg"),
            hold_chord: self.flag(&sail, "masts[].sail.hold_chord"),
            hold_luff: self.flag(&sail, "masts[].sail.hold_luff"),
            hold_mast: self.flag(&sail, "masts[].sail.hold_mast"),
            squared_off: self.usual(&sail, "masts[].sail.squared_off_deg"),
            table,
        }
    }

    /// The spars typed in. What one lacks is told only where the table is in use.
    fn table(&mut self, sail: &Node<'_>, in_use: bool) -> Vec<Spar> {
        let rows = self.list(sail, "spars", "masts[].sail.spars", MOST_PANELS + 1);
        let mut spars = Vec::with_capacity(rows.len());
        for (i, row) in rows.iter().enumerate() {
            let node = self.node(row, [sail.at[0], i], "masts[].sail.spars[]");
            let mut entry = |pattern, stand_in: f64| -> f64 {
                let number = self.number(&node, pattern);
                if in_use {
                    self.needed_at(number, pattern, node.at, stand_in)
                } else {
                    number.used().unwrap_or(stand_in)
                }
            };
            let below = spars.last().copied();
            let below = below.unwrap_or_else(|| Spar::new(Point::new(0.0, -0.5), 0.0, 2.0));
            let aft = entry("masts[].sail.spars[].aft_m", below.luff.x);
            let up = entry("masts[].sail.spars[].up_m", below.luff.y + 0.5);
            let angle = entry("masts[].sail.spars[].angle_deg", below.angle.to_degrees());
            let length = entry("masts[].sail.spars[].length_m", below.length);
            spars.push(Spar::new(Point::new(aft, up), angle.to_radians(), length));
        }
        spars
    }

    /// A list of `n` values, such as one per turning panel, upward; what is not typed follows the rule.
    fn per_panel(
        &mut self,
        sail: &Node<'_>,
        pattern: &'static str,
        most: usize,
        n: usize,
        rule: &dyn Fn(usize) -> f64,
    ) -> Vec<f64> {
        let list = pattern.strip_suffix("[]").unwrap_or(pattern);
        let typed = self.list(sail, key_of(list), list, most);
        let mut values: Vec<f64> = (0..n).map(rule).listed();
        let Some(row) = bounds::row(pattern) else {
            return values;
        };
        for (j, value) in typed.iter().enumerate() {
            let number = self.checked(row, value, &|| path_of(pattern, [sail.at[0], j]));
            if let (Some(to), Some(from)) = (values.get_mut(j), number.used()) {
                *to = row.quantity.si_from_document(from);
            }
        }
        values
    }

    /// Lessons; a step keeps its place even with nothing in it yet.
    fn lessons(&mut self, root: &Node<'_>) -> Vec<Lesson> {
        let items = self.list(root, "lesson", "lesson", MOST_LESSONS);
        let mut lessons = Vec::with_capacity(items.len());
        for (i, item) in items.iter().enumerate() {
            let lesson = self.node(item, [i, 0], "lesson[]");
            let steps = self.list(&lesson, "steps", "lesson[].steps", MOST_STEPS);
            let mut read = Lesson {
                title: self.words_checked(&lesson, "lesson[].title"),
                steps: Vec::with_capacity(steps.len()),
            };
            for (at, step) in steps.iter().enumerate() {
                let step = self.node(step, [i, at], "lesson[].steps[]");
                read.steps.push(LessonStep {
                    title: self.words_checked(&step, "lesson[].steps[].title"),
                    words: self.words_checked(&step, "lesson[].steps[].words"),
                    shown: self.leaves(&step, "lesson[].steps[]"),
                });
            }
            lessons.push(read);
        }
        lessons
    }

    /// Words that are told of when there are too many; what was written stays.
    fn words_checked(&mut self, node: &Node<'_>, pattern: &'static str) -> String {
        let words = self.words(node, pattern);
        if let Some(row) = bounds::row(pattern) {
            let problem = row.check_word(&path_of(pattern, node.at), &words);
            self.problems.extend(problem);
        }
        words
    }

    fn sequence(&mut self, reefs: &Node<'_>) -> Option<Vec<Vec<usize>>> {
        let steps = self.list(reefs, "sequence", "reefs.sequence", MOST_POINTS);
        let row = bounds::row("reefs.sequence[][]")?;
        let mut read = Vec::with_capacity(steps.len());
        let mut usable = !steps.is_empty();
        for (i, step) in steps.iter().enumerate() {
            let lowered = match step {
                Value::Array(lowered) if lowered.len() <= MOST_MASTS => lowered,
                _ => {
                    self.refuse(wrong("reefs.sequence[]", [i, 0], "problem.want_list"));
                    return None;
                }
            };
            let mut tuple = Vec::with_capacity(lowered.len());
            for (m, value) in lowered.iter().enumerate() {
                let number = self.checked(row, value, &|| path_of("reefs.sequence[][]", [i, m]));
                match number.used() {
                    Some(panels) => tuple.push(panels as usize),
                    None => usable = false,
                }
            }
            read.push(tuple);
        }
        usable.then_some(read)
    }

    /// A number, document units.
    fn number(&mut self, node: &Node<'_>, pattern: &str) -> Typed {
        let Some(value) = node.get(key_of(pattern)) else {
            return Typed::Absent;
        };
        match bounds::row(pattern) {
            Some(row) => self.checked(row, value, &|| path_of(pattern, node.at)),
            None => Typed::Absent,
        }
    }

    fn checked(&mut self, row: &Row, value: &Value, path: &dyn Fn() -> String) -> Typed {
        if value.is_null() {
            return Typed::Absent;
        }
        let Some(number) = number_of(value) else {
            self.refuse(row.wrong_type(&path()));
            return Typed::Absent;
        };
        if number >= row.least && number <= row.most && row.usable(number) {
            return Typed::Used(number);
        }
        let Some(problem) = row.check(&path(), number) else {
            return Typed::Used(number);
        };
        let typed = if problem.refused {
            Typed::Refused
        } else {
            Typed::Used(number)
        };
        self.problems.push(problem);
        typed
    }

    /// A number or its rule, SI.
    fn by_rule(&mut self, node: &Node<'_>, pattern: &'static str, rule: f64) -> f64 {
        self.si(node, pattern).unwrap_or(rule)
    }

    /// A number, SI.
    fn si(&mut self, node: &Node<'_>, pattern: &'static str) -> Option<f64> {
        let number = self.number(node, pattern).used()?;
        Some(bounds::row(pattern)?.quantity.si_from_document(number))
    }

    /// A number or the usual one, SI.
    fn usual(&mut self, node: &Node<'_>, pattern: &'static str) -> f64 {
        self.si(node, pattern).unwrap_or_else(|| {
            let row = bounds::row(pattern);
            row.map_or(0.0, |row| match row.usual {
                Usual::Value(usual) => row.quantity.si_from_document(usual),
                _ => 0.0,
            })
        })
    }

    /// A length nobody can know but the user: told when missing, and stood in for.
    fn needed(&mut self, number: Typed, pattern: &'static str, stand_in: f64) -> f64 {
        self.needed_at(number, pattern, [0, 0], stand_in)
    }

    fn needed_at(
        &mut self,
        number: Typed,
        pattern: &'static str,
        at: [usize; 2],
        stand_in: f64,
    ) -> f64 {
        if let (Typed::Absent, Some(row)) = (number, bounds::row(pattern)) {
            self.problems.push(row.missing(&path_of(pattern, at)));
        }
        number.used().unwrap_or(stand_in)
    }

    fn told_if_missing(&mut self, number: Typed, pattern: &'static str) {
        self.needed(number, pattern, 0.0);
    }

    fn words(&mut self, node: &Node<'_>, pattern: &'static str) -> String {
        match (bounds::row(pattern), node.get(key_of(pattern))) {
            (_, Some(Value::String(words))) => words.clone(),
            (Some(row), Some(_)) => {
                self.refuse(row.wrong_type(&path_of(pattern, node.at)));
                String::new()
            }
            _ => String::new(),
        }
    }

    /// A word of a choice; an unknown one is told and the usual word used.
    fn choice(&mut self, node: &Node<'_>, pattern: &str) -> &'static str {
        let Some(row) = bounds::row(pattern) else {
            return "";
        };
        let usual = match row.usual {
            Usual::Word(word) => word,
            _ => "",
        };
        let word = match node.get(key_of(pattern)) {
            None => return usual,
            Some(Value::String(word)) => word,
            Some(_) => {
                self.refuse(row.wrong_type(&path_of(pattern, node.at)));
                return usual;
            }
        };
        if let quantities::Kind::Choice(words) = row.kind
            && let Some(known) = words.iter().find(|known| *known == word)
        {
            return known;
        }
        self.problems
            .extend(row.check_word(&path_of(pattern, node.at), word));
        usual
    }

    fn flag(&mut self, node: &Node<'_>, pattern: &'static str) -> bool {
        match (bounds::row(pattern), node.get(key_of(pattern))) {
            (_, Some(Value::Bool(flag))) => *flag,
            (Some(row), Some(_)) => {
                self.refuse(row.wrong_type(&path_of(pattern, node.at)));
                false
            }
            _ => false,
        }
    }
}

/// What was found where a number may stand.
#[derive(Clone, Copy)]
enum Typed {
    Used(f64),
    Refused,
    Absent,
}

impl Typed {
    fn used(self) -> Option<f64> {
        match self {
            Self::Used(number) => Some(number),
            _ => None,
        }
    }
}

/// Three usual values spread over n panels, upward.
fn along(three: &[f64; 3], j: usize, n: usize) -> f64 {
    let place = if n > 1 {
        2.0 * j as f64 / (n - 1) as f64
    } else {
        0.0
    };
    if place <= 1.0 {
        three[0] + (three[1] - three[0]) * place
    } else {
        three[1] + (three[2] - three[1]) * (place - 1.0)
    }
}

/// Last key of a pattern.
fn key_of(pattern: &str) -> &str {
    pattern.rsplit('.').next().unwrap_or(pattern)
}

/// The path of a pattern: its `[]` filled with the indices, in order.
fn path_of(pattern: &str, at: [usize; 2]) -> String {
    let mut path = String::with_capacity(pattern.len() + 2);
    // By letters: searching for a string is 4 KB of code.
    let mut parts = pattern.split('[');
    path.push_str(parts.next().unwrap_or(""));
    for (part, index) in parts.zip(at) {
        path.push('.');
        path.push_str(&index.to_string());
        path.push_str(part.strip_prefix(']').unwrap_or(part));
    }
    path
}

fn wrong(pattern: &str, at: [usize; 2], key: &'static str) -> Problem {
    Problem::refused(path_of(pattern, at), Text::new(key))
}
