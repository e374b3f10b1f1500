//! What crosses to the page: plain rows of finished text. Their types for JavaScript stand in
//! `rows.ts`; a test holds the two together.

use serde::Serialize;

/// What is looked at, as the page gives it. Whatever is missing takes its usual value.
#[derive(Clone, Debug, PartialEq)]
pub struct ViewGiven {
    /// `m` or `ft`.
    pub units: String,
    /// Mast being worked on, from 0.
    pub mast: f64,
    /// Panels lowered per mast, with fractions.
    pub hoist: Vec<f64>,
    /// Sheeting angle, boom to starboard positive [deg].
    pub sheet_deg: f64,
    /// Dark scheme.
    pub dark: bool,
    /// What is drawn besides boat and rig.
    pub shown: ShownGiven,
    /// Magnification; 1 = all of it fits.
    pub zoom: f64,
    /// Shift of the drawing [CSS px].
    pub pan_x: f64,
    /// See `pan_x` [CSS px].
    pub pan_y: f64,
    /// Handle in the hand, or empty.
    pub active: String,
    /// Whether there are handles: not where the design is only looked at.
    pub hands: bool,
    /// True wind at 10 m [kn].
    pub wind_kn: f64,
    /// Part of the drawing that is pointed at, or empty.
    pub pointed: String,
    /// Parts named on the drawing, with blanks between, or empty.
    pub named: String,
    /// The line in hand, of the mast being worked on, or empty.
    pub line: String,
    /// All lines are drawn: while they are worked on.
    pub lines: bool,
}

impl Default for ViewGiven {
    fn default() -> Self {
        Self {
            units: "m".to_owned(),
            mast: 0.0,
            hoist: Vec::new(),
            sheet_deg: 0.0,
            dark: false,
            shown: ShownGiven::default(),
            zoom: 1.0,
            pan_x: 0.0,
            pan_y: 0.0,
            active: String::new(),
            hands: true,
            wind_kn: 14.0,
            pointed: String::new(),
            named: String::new(),
            line: String::new(),
            lines: false,
        }
    }
}

/// What is drawn besides boat and rig.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShownGiven {
    /// Dimensions.
    pub dimensions: bool,
    /// Parrel marks with heights.
    pub parrels: bool,
    /// Topping lifts.
    pub lifts: bool,
    /// Centres of effort of all reefs.
    pub trail: bool,
    /// Moment, stress and bend beside the mast: while the spars are worked on.
    pub curves: bool,
    /// How far she heels, as a number in the plots.
    pub heel: bool,
}

impl Default for ShownGiven {
    fn default() -> Self {
        Self {
            dimensions: true,
            parrels: true,
            lifts: true,
            trail: true,
            curves: false,
            heel: true,
        }
    }
}

/// One field of a form. Meaning, basis, words to choose from and range are empty while a handle is
/// held: nobody asks for them then, and what crosses to the page costs time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FieldRow {
    /// Path in the document, with indices.
    pub path: String,
    /// What the field is called.
    pub label: String,
    /// Value as typed or chosen; where nothing is, what the rule gives.
    pub text: String,
    /// Unit that follows the value; empty where there is none.
    pub unit: String,
    /// Usual value, without unit; of a choice its word.
    pub usual: String,
    /// The document says nothing, so the usual value or the rule holds.
    pub by_rule: bool,
    /// What is wrong with the value; empty if nothing.
    pub problem: String,
    /// Meaning, equation, source.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub help: String,
    /// What the value rests on.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub basis: String,
    /// `number`, `whole`, `words`, `choice` or `flag`.
    pub kind: &'static str,
    /// What can be chosen.
    pub options: Vec<Choice>,
    /// Keyboard that fits: `decimal`, `numeric` or `text`.
    pub inputmode: &'static str,
    /// Least usual value, without unit.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub least: String,
    /// Greatest usual value, without unit.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub most: String,
    /// Step of the value, document unit.
    pub step: f64,
    /// The value itself, document unit; of a flag 1 or 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<f64>,
}

/// One word of a choice.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Choice {
    /// As the document has it.
    pub value: String,
    /// As the user reads it.
    pub label: String,
}

/// One of the numbers that matter now. Meaning and basis are empty while a handle is held.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// Key of its quantity.
    pub key: &'static str,
    /// What it is called.
    pub label: String,
    /// The number.
    pub value: String,
    /// What follows the number.
    pub unit: String,
    /// Meaning and equation.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub help: String,
    /// What it rests on.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub basis: String,
}

/// One thing that needs attention.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Attention {
    /// `look` or `danger`; in the list of all checks `passed` too.
    pub severity: &'static str,
    /// What it is about.
    pub title: String,
    /// What is wrong, and what to do.
    pub text: String,
    /// Field to go to, or empty.
    pub path: String,
    /// Part of the drawing, or empty.
    pub part: String,
    /// The mast it concerns.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mast: Option<u32>,
    /// Panels lowered per mast where it was found; empty where that does not matter.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hoist: Vec<f64>,
}

/// Head of one column.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Column {
    /// Key of its quantity.
    pub key: &'static str,
    /// What it is called.
    pub label: String,
    /// Unit of all its numbers.
    pub unit: String,
    /// Meaning and equation.
    pub help: String,
}

/// All states.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReefTable {
    /// Heads.
    pub columns: Vec<Column>,
    /// One row per state, all standing first.
    pub rows: Vec<ReefRow>,
}

/// One state.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReefRow {
    /// Name in the table, the same as long as the state is the same.
    pub id: String,
    /// Panels lowered, one number per mast.
    pub name: String,
    /// Panels lowered per mast: what the view takes to look at this state.
    pub hoist: Vec<f64>,
    /// One per column.
    pub cells: Vec<String>,
    /// This state holds now.
    pub now: bool,
    /// Every spar of it.
    pub detail: Detail,
}

/// The spars of one state; a table of finished words.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Detail {
    /// Heads; the first is the spar's name.
    pub columns: Vec<Column>,
    /// Boom at the bottom, yard at the top.
    pub rows: Vec<Vec<String>>,
}

/// Section Balance.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Balance {
    /// The wind looked at: knots, Beaufort, metres a second.
    pub wind: String,
    /// What to stand in it on the wind, panels lowered per mast; empty where nobody knows.
    pub hoist: Vec<f64>,
    /// Label and sentence: on the wind, running, heel now, apparent wind.
    pub advice: Vec<Vec<String>>,
    /// What is not known of her, each with the field to go to.
    pub needs: Vec<Attention>,
    /// Numbers of the boat as a whole.
    pub figures: Vec<Figure>,
    /// Winds and balance of every step; each detail holds label and words.
    pub reefs: ReefTable,
    /// Stability light, sailing, laden; the first column names the loading.
    pub loadings: Detail,
    /// Stability with the old rig and with the new; empty without a change.
    pub swap: Detail,
    /// Every check, with value, limit and basis.
    pub checks: Vec<Attention>,
}

/// Section Lines.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lines {
    /// Where the sheeting control rests [deg]: on the wind, squared off; empty without a sail.
    pub angles: Vec<f64>,
    /// Panels lowered now on the mast being worked on.
    pub lowered: u32,
    /// Panels of its sail.
    pub panels: u32,
    /// Line, group, name, what it is made of; then a cell for each column.
    pub list: Detail,
    /// What is carried in every state.
    pub loads: ReefTable,
}

/// The line in hand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LineInHand {
    /// Which.
    pub id: String,
    /// What it is called.
    pub name: String,
    /// Point by point: what is there, and the parts that lead on.
    pub path: Vec<Vec<String>>,
    /// The way a sheet is rove, in words; else empty.
    pub rove: String,
    /// Its numbers.
    pub facts: Vec<Figure>,
    /// State by state.
    pub lengths: Detail,
}

/// A lesson, ready or the teacher's own.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LessonRow {
    /// What it is called.
    pub title: String,
    /// Path of the teacher's own in the document; empty of a ready one.
    pub path: String,
    /// What is shown, one after the other.
    pub steps: Vec<LessonStepRow>,
}

/// A step of a lesson: what the view takes to show it, and what is told.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LessonStepRow {
    /// What it is called.
    pub title: String,
    /// What is said.
    pub words: String,
    /// Plot, or empty for the sail plan.
    pub plot: &'static str,
    /// Mast that is looked at, from 0.
    pub mast: u32,
    /// Panels lowered per mast.
    pub hoist: Vec<f64>,
    /// Sheeting angle.
    pub sheet_deg: f64,
    /// True wind.
    pub wind_kn: f64,
    /// Part named, or empty.
    pub part: &'static str,
    /// Line in hand, or empty.
    pub line: String,
    /// How that line is handled.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub handled: Option<Figure>,
    /// Keys of the numbers told, and `shown` or `asked`.
    pub told: Vec<[&'static str; 2]>,
    /// Whether it asks for more than she has.
    pub past: bool,
}

/// A list for the locker or the cockpit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Paper {
    /// What it is, of which mast.
    pub title: String,
    /// The list.
    pub detail: Detail,
}

/// A sheet of the dossier.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PaperSheet {
    /// The part it is of.
    pub part: &'static str,
    /// Its heading.
    pub title: String,
    /// What stands on it, from the top down.
    pub blocks: Vec<PaperBlock>,
}

/// One thing on a sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PaperBlock {
    /// `table`, `notes` (a paragraph a row) or `drawing`.
    pub kind: &'static str,
    /// What stands over it, or what it shows.
    pub title: String,
    /// Label and unit of each column; none where the first cell of a row names the others.
    pub heads: Vec<[String; 2]>,
    /// Finished words.
    pub rows: Vec<Vec<String>>,
    /// The drawing.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub svg: String,
}

/// One scale of the hoist control.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HoistScale {
    /// Which mast; -1 = all of them by the reef sequence.
    pub mast: i32,
    /// What it is called.
    pub label: String,
    /// Length of the scale.
    pub panels: u32,
    /// Where the hand is.
    pub value: f64,
    /// The same in words.
    pub valuetext: String,
}

/// Something on the drawing that a hand can hold.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HandleRow {
    /// Name, the same as long as the drawing has it.
    pub id: String,
    /// What it is called; empty, as its value is, while another handle is held.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub label: String,
    /// Its value in words.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub valuetext: String,
    /// Place [CSS px].
    pub x: f64,
    /// Place [CSS px].
    pub y: f64,
    /// Least value, document unit.
    pub min: f64,
    /// Greatest value, document unit.
    pub max: f64,
    /// Value, document unit.
    pub now: f64,
    /// One press of an arrow key, document unit.
    pub step: f64,
    /// `x`, `y` or `turn`.
    pub axis: &'static str,
}

/// A quick check.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Quick {
    /// What it asks for, of a list the row in sight.
    pub fields: Vec<FieldRow>,
    /// Rows of its list that hold something, and the most there may be; nought without a list.
    pub rows: u32,
    /// See `rows`.
    pub most: u32,
    /// What comes out, the answer first.
    pub figures: Vec<Figure>,
    /// What is wanted or worth knowing.
    pub told: Vec<String>,
    /// What can be written: word of the button, fields, edits as text.
    pub writes: Vec<Vec<String>>,
}

/// What became of something typed: a list of edits, or the reason why not.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TypedIn {
    /// Edits to make, as text.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edits: Option<String>,
    /// What is wrong with it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub problem: Option<String>,
}
