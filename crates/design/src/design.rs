//! A design as the crates below compute with it: SI and radians, no document left in it.
//!
//! `None` means one thing only: the value follows its rule, which [`crate::account()`] knows.

use std::rc::Rc;

use geometry::Spar;
use geometry::hull::Hull;
use geometry::mast::Side;
use geometry::plan::{FanRule, Held, PlanRule, Shape};
use kurbo::Point;
use quantities::listed::Listed as _;

/// One boat with her masts and sails. What no handle of the drawing moves is shared by its copies:
/// copying it is long in the wasm.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Design {
    /// What the design is called.
    pub name: String,
    /// Whatever its owner wants remembered.
    pub note: String,
    /// The boat.
    pub boat: Rc<Boat>,
    /// One to three masts, in the document's order.
    pub masts: Vec<MastDesign>,
    /// The wind she is held against.
    pub wind: WindDesign,
    /// What holds for the lines of all sails.
    pub lines: LinesRules,
    /// What holds for the spars of all masts.
    pub spars: Rc<SparsRules>,
    /// What holds for the cloth of all sails: `cloth` of the document.
    pub cloth: Rc<Leaves>,
    /// Panels lowered per mast, step by step; rule: least change of lead.
    pub sequence: Option<Vec<Vec<usize>>>,
    /// Lessons given with her.
    pub lessons: Rc<Vec<Lesson>>,
}

/// A lesson of the teacher's own.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Lesson {
    /// What it is called; empty = by its number.
    pub title: String,
    /// What is shown, one after the other.
    pub steps: Vec<LessonStep>,
}

/// A step of a lesson.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LessonStep {
    /// What it is called.
    pub title: String,
    /// What is said.
    pub words: String,
    /// Drawing, part, line, reef, wind, and which numbers are told.
    pub shown: Leaves,
}

/// The boat, and what her crew needs kept clear.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Boat {
    /// Profile, sheer, coachroof, cockpit.
    pub hull: Hull,
    /// Boom's underside above the coachroof, least wanted [m].
    pub coachroof_clearance: f64,
    /// Boom's underside above the cockpit seat, least wanted [m].
    pub cockpit_clearance: f64,
    /// Helmsman's eye above the cockpit seat [m].
    pub eye_height: f64,
    /// End of the boom, squared off, above the water, least wanted [m].
    pub boom_end_clearance: f64,
    /// Greatest height above the waterline that bridges allow [m]; `None` = no limit.
    pub air_draught: Option<f64>,
    /// What she weighs, what rights her and what holds her against leeway. Its reef steps are
    /// empty: those the account knows.
    pub particulars: boat::Input,
    /// Fixed ballast [kg].
    pub ballast: f64,
    /// Place in the document's list of each reading of the dock test.
    pub readings_at: Vec<usize>,
    /// Names of the parts of the old rig and of the new one, as listed.
    pub rig_parts: [Vec<String>; 2],
    /// Names of the sails she carries now.
    pub sails_now: Vec<String>,
    /// Traced line of deck and house, ship axes (x, z) [m].
    pub deck: Vec<Point>,
}

/// The wind she is held against, besides [`boat::Conditions`].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct WindDesign {
    /// Drag coefficient of the hull's side above water.
    pub hull_drag: f64,
    /// Drag coefficient of the bundle.
    pub bundle_drag: f64,
    /// Drag coefficient of a mast.
    pub mast_drag: f64,
    /// Least share of the chord by which the attached force must lie aft of the mast.
    pub overbalance: f64,
    /// Greatest shift of the CE over the reefs, share of LWL.
    pub shift: f64,
}

/// One mast and the sail on it.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MastDesign {
    /// What it is called; empty = by its number.
    pub name: String,
    /// Mast axis at the partners, aft of the forward end of the waterline [m].
    pub position: f64,
    /// Partners above the waterline [m]; rule: the deck there.
    pub partners: Option<f64>,
    /// Heel to partners [m]; rule: 0.14 LAP.
    pub bury: Option<f64>,
    /// Partners to masthead [m]; rule: what the sail needs.
    pub lap: Option<f64>,
    /// Rake, head aft positive [rad].
    pub rake: f64,
    /// Diameter at the partners [m]; rule: 1/40 of the LAP.
    pub diameter: Option<f64>,
    /// Diameter at the masthead [m]; rule: half.
    pub top_diameter: Option<f64>,
    /// Share of the LAP that is parallel above the partners.
    pub parallel: f64,
    /// Foremost place where it may stand [m]; `None` = no limit.
    pub from: Option<f64>,
    /// Aftermost place where it may stand [m].
    pub to: Option<f64>,
    /// The sail.
    pub sail: SailDesign,
    /// Its lines.
    pub lines: Rc<LinesDesign>,
    /// What mast and spars are made of.
    pub spars: SparsDesign,
    /// How the cloth of its sail is shaped.
    pub cloth: Rc<ClothDesign>,
    /// What is known of its weights.
    pub weights: WeightsDesign,
}

/// What holds for the lines of all sails.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LinesRules {
    /// Sheeting angle on the wind [rad].
    pub close: f64,
    /// Friction, factors and limits; the batten ends' tips are each sail's own.
    pub rules: rigging::Rules,
    /// Rope left over.
    pub tails: rigging::Tails,
    /// What the lines are made of.
    pub ropes: rigging::Ropes,
    /// Wet over dry cloth.
    pub wet: f64,
    /// Lifeline above the deck [m]; nought without.
    pub lifeline: f64,
}

/// The lines of a sail as far as they are typed; rule: the usual leads of what is chosen.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LinesDesign {
    /// Which lines there are.
    pub choices: rigging::Choices,
    /// Numbers typed outside the lists, by their fields (`halyard.lead_x_m`), SI.
    pub typed: Vec<(&'static str, f64)>,
    /// Spans; a sheet without any has the usual ones.
    pub spans: Vec<SpanRow>,
    /// Catch points, shares of the boom from its luff end; rule, where there are none: the usual ones.
    pub catches: Vec<f64>,
    /// Holds of hauling lines; a line without any has the usual ones.
    pub holds: Vec<HoldRow>,
}

impl LinesDesign {
    /// What is typed in a field of it, SI.
    pub fn typed(&self, leaf: &str) -> Option<f64> {
        let known = self.typed.iter().find(|(known, _)| *known == leaf);
        known.map(|(_, value)| *value)
    }
}

/// Words of the hauling lines in the document, in the order of [`rigging::Hauls::ALL`].
pub const HAULING: [&str; 6] = ["yard", "luff", "throat", "tack", "restraint", "down"];

/// A span as typed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SpanRow {
    /// Place in the document's list.
    pub at: usize,
    /// Its sheet, from 0.
    pub sheet: usize,
    /// Uppermost spar whose end it gathers.
    pub top: usize,
    /// How many ends, downward.
    pub ends: usize,
    /// Its rope [m]; rule: by the distance of its ends.
    pub length: Option<f64>,
    /// Parts of the sheet from its block to the deck; rule: as all.
    pub parts: Option<usize>,
}

/// A hold as typed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct HoldRow {
    /// Place in the document's list.
    pub at: usize,
    /// Its line, a place in [`HAULING`].
    pub line: usize,
    /// Where it holds.
    pub hold: rigging::Hold,
}

/// The leaves of one object of the document by their last keys: what is typed, else the plain usual value. A number that follows
/// a rule and is not typed is not among them. SI and radians.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Leaves {
    /// Place in the document's list, of a row of one.
    pub at: usize,
    /// Numbers.
    pub numbers: Vec<(&'static str, f64)>,
    /// Words chosen.
    pub words: Vec<(&'static str, &'static str)>,
}

impl Leaves {
    /// A number, by its key.
    pub fn number(&self, key: &str) -> Option<f64> {
        let found = self.numbers.iter().find(|(known, _)| *known == key);
        found.map(|(_, value)| *value)
    }

    /// A number that has a plain usual value; nought if it is none.
    pub fn usual(&self, key: &str) -> f64 {
        self.number(key).unwrap_or(0.0)
    }

    /// A word chosen, by its key; empty where the rule chooses.
    pub fn word(&self, key: &str) -> &'static str {
        let found = self.words.iter().find(|(known, _)| *known == key);
        found.map_or("", |(_, word)| *word)
    }
}

/// What holds for the spars of all masts: `spars` of the document.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SparsRules {
    /// Rule, factors, winds, limits.
    pub rules: Leaves,
    /// Materials of the user's own; the first is the word `own-1`.
    pub materials: Vec<Leaves>,
    /// Their names.
    pub names: Vec<String>,
    /// Tubes and timber that can be bought.
    pub stock: Vec<Leaves>,
}

/// What mast and spars of one mast are made of: `masts[].spars` of the document.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SparsDesign {
    /// Kinds, materials, walls, partners, raising.
    pub made: Leaves,
    /// Pieces of a mast made of pieces, from the heel.
    pub pieces: Vec<Leaves>,
    /// Plies of laminate tubes, from outside.
    pub plies: Vec<Leaves>,
    /// Holes, welds, joints, tabernacle.
    pub weak: Vec<Leaves>,
    /// Battens, boom or yard with a wall or material of their own.
    pub special: Vec<Leaves>,
}

/// How the cloth of a sail is shaped: `masts[].cloth` of the document.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ClothDesign {
    /// Camber, cut, mean line, numbers of each construction.
    pub made: Leaves,
    /// Panels shaped one by one.
    pub shapes: Vec<Leaves>,
    /// Own ordinates of the mean line.
    pub ordinates: Vec<Leaves>,
}

/// Weights as far as they are known; rule: estimates by size.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct WeightsDesign {
    /// Cloth [g/m²].
    pub cloth: Option<f64>,
    /// Boom [kg].
    pub boom: Option<f64>,
    /// Each batten [kg].
    pub batten: Option<f64>,
    /// Yard [kg].
    pub yard: Option<f64>,
}

/// A sail, its spars and what its lowering needs to know.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SailDesign {
    /// How the spars are found.
    pub family: Family,
    /// Number of panels, 1 to 12.
    pub panels: usize,
    /// Panels of a fanned head.
    pub head_panels: usize,
    /// Length of boom and lower battens [m].
    pub chord: f64,
    /// Luff width of a lower panel [m].
    pub panel_width: f64,
    /// Luff width of each turning panel as a share of `panel_width`, upward; one per turning panel.
    pub head_widths: Vec<f64>,
    /// Relative steps from batten rise to yard angle, upward; one per turning panel.
    pub head_steps: Vec<f64>,
    /// Angle of the lower battens [rad].
    pub rise: f64,
    /// Angle of the boom [rad]; rule: the batten rise.
    pub boom_rise: Option<f64>,
    /// Angle of the yard [rad].
    pub yard_angle: f64,
    /// Length of the yard as a share of the chord.
    pub yard_length: f64,
    /// Luff against the mast, head of luff aft positive [rad].
    pub luff_rake: f64,
    /// Round (+) or hollow (-) of the luff, share of the edge.
    pub luff_round: f64,
    /// Round (+) or hollow (-) of the leech, share of the edge.
    pub leech_round: f64,
    /// Share of the boom ahead of the mast axis.
    pub balance: f64,
    /// Height on the mast where the boom crosses it [m above partners].
    pub boom_height: f64,
    /// Sling point along the yard from the throat, share of its length.
    pub sling: f64,
    /// Side of the mast the sail stands on.
    pub side: Side,
    /// Sail plane from the mast axis [m]; rule: D/2 + batten depth/2 + 5 mm.
    pub offset: Option<f64>,
    /// How the cloth is made to hold its shape.
    pub cut: Cut,
    /// Place of the wind's force on each panel, share of its chord from the luff.
    pub chord_share: f64,
    /// The same while the flow holds: what overbalance goes by.
    pub attached: f64,
    /// Coefficient of the force that heels her.
    pub side_force: f64,
    /// What it counts in the common centre of effort, 1 = in full.
    pub efficiency: f64,
    /// Depth of a batten, square to it in the sail's plane [m].
    pub batten_depth: f64,
    /// See `batten_depth` [m].
    pub boom_depth: f64,
    /// See `batten_depth` [m].
    pub yard_depth: f64,
    /// Folded cloth between two lying spars [m].
    pub folded_cloth: f64,
    /// Drop of the boom onto its lifts at the first ease [m].
    pub drop: f64,
    /// Travel of the battens past the mast that is wanted in all, share of the chord; rule: 8 %,
    /// not less than the reefs need.
    pub travel: Option<f64>,
    /// Sling point to masthead fitting at full hoist [m]; rule: 5 % LAP, at least 0.25 m.
    pub drift: Option<f64>,
    /// Room between the halyard's upper block and the masthead [m].
    pub masthead_clearance: f64,
    /// Kink of the leech above which it is worth a look [rad].
    pub leech_kink: f64,
    /// Angle of the halyard off the mast above which it is worth a look [rad].
    pub halyard_angle: f64,
    /// Chord stays when the sail is fitted to an area.
    pub hold_chord: bool,
    /// Luff widths stay when the sail is fitted to an area.
    pub hold_luff: bool,
    /// Sling height, and with it the mast, stays when the sail is fitted to an area.
    pub hold_mast: bool,
    /// Greatest sheeting angle [rad].
    pub squared_off: f64,
    /// Spars of [`Family::Table`], luff ends from the tack, boom first.
    pub table: Vec<Spar>,
}

/// How the spars of a sail are found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Family {
    /// Lower panels parallel, head fanned.
    FannedHead,
    /// Every panel turns from boom to yard.
    FullFan,
    /// Near-rectangular: every panel turns a little, all alike.
    LowYard,
    /// Every spar given.
    Table,
}

/// How the cloth is made to hold its shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Cut {
    /// Panels cut as drawn.
    Flat,
    /// Camber cut into the panels.
    Cambered,
    /// A skin on either side of the mast.
    Wing,
    /// Fore and aft part with a slot at the mast.
    Split,
    /// Two bowed battens a station.
    Paired,
}

impl Family {
    /// Its word in the document.
    pub fn word(self) -> &'static str {
        match self {
            Self::FannedHead => "fanned-head",
            Self::FullFan => "full-fan",
            Self::LowYard => "low-yard",
            Self::Table => "table",
        }
    }
}

impl Cut {
    /// Its word in the document.
    pub fn word(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Cambered => "cambered",
            Self::Wing => "wing",
            Self::Split => "split",
            Self::Paired => "paired",
        }
    }
}

impl SailDesign {
    /// How many panels, counted from the top, turn.
    pub fn turning(&self) -> usize {
        match self.family {
            Family::FannedHead => self.head_panels.min(self.panels),
            Family::FullFan | Family::LowYard => self.panels,
            Family::Table => 0,
        }
    }

    /// Angle of the boom [rad].
    pub fn boom_angle(&self) -> f64 {
        match (self.family, self.table.first()) {
            (Family::Table, Some(boom)) => boom.angle,
            _ => self.boom_rise.unwrap_or(self.rise),
        }
    }

    /// Length of the boom [m].
    pub fn boom_length(&self) -> f64 {
        match (self.family, self.table.first()) {
            (Family::Table, Some(boom)) => boom.length,
            _ => self.chord,
        }
    }

    /// The rule that yields the spars.
    pub fn plan_rule(&self) -> PlanRule {
        PlanRule {
            shape: match self.family {
                Family::Table => Shape::Table(self.table.clone()),
                _ => Shape::Rule(FanRule {
                    panels: self.panels,
                    turning: self.turning(),
                    chord: self.chord,
                    panel_width: self.panel_width,
                    widths: self.head_widths.clone(),
                    steps: self.head_steps.clone(),
                    boom_rise: self.boom_angle(),
                    rise: self.rise,
                    yard_angle: self.yard_angle,
                    yard_length: self.yard_length * self.chord,
                    luff_rake: self.luff_rake,
                }),
            },
            balance: self.balance,
            boom_height: self.boom_height,
            sling: self.sling,
            luff_round: self.luff_round,
            leech_round: self.leech_round,
        }
    }

    /// Dimensions that must not change when the sail is fitted to an area.
    pub fn held(&self) -> Vec<Held> {
        [
            (self.hold_chord, Held::Chord),
            (self.hold_luff, Held::Luff),
            (self.hold_mast, Held::Mast),
        ]
        .into_iter()
        .filter_map(|(held, what)| held.then_some(what))
        .listed()
    }
}
