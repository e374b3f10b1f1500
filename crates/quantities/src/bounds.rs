//! The bounds table: one row for each leaf of the document.
//!
//! A row checks the value, words the message, fills the form and feeds the random tests.
//! Inside `least..=most` a value is usual; outside it the user is told and the value is used.
//! Outside `hard_least..=hard_most` the geometry has no meaning and the value is not used.
//!
//! Ranges and usual values follow the trade's common practice, no source, unless a comment says
//! otherwise. Hard limits are not practice: they are wide guards for the arithmetic.

use std::sync::OnceLock;

use crate::quantity as q;
use crate::quantity::Quantity;
use crate::units::{self, FOOT, INCH, POUND, UnitKind, Units};
use crate::{Arg, Problem, Text};

use Usual::{Nothing, Rule, Value, Word};

/// Most masts on one boat.
pub const MOST_MASTS: usize = 3;
/// Most panels of one sail.
pub const MOST_PANELS: usize = 12;
/// Most characters of one text.
pub const MOST_CHARACTERS: usize = 2000;
/// Most points of one list (reef sequence).
pub const MOST_POINTS: usize = 2000;
/// Most rows of one list of the boat: points of an outline, readings, levers, weights.
pub const MOST_ROWS: usize = 200;
/// Most rows of one list of a sail's lines: spans, holds, catch points.
pub const MOST_LINE_ROWS: usize = 64;
/// Most materials of the user's own.
pub const MOST_MATERIALS: usize = 4;
/// Most ordinates of a mean line.
pub const MOST_ORDINATES: usize = 40;
/// Most sails she carries now.
pub const MOST_SAILS: usize = 12;
/// Most lessons of one design.
pub const MOST_LESSONS: usize = 8;
/// Most steps of one lesson.
pub const MOST_STEPS: usize = 60;
/// Aspect ratio of a sail that still sets and stands: least (common practice).
pub const ASPECT_LEAST: f64 = 1.2;
/// Aspect ratio: most (common practice).
pub const ASPECT_MOST: f64 = 3.5;

/// What a leaf holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A number.
    Number,
    /// A whole number.
    Whole,
    /// Free words; the bounds count characters.
    Words,
    /// One of these words; shown as `choice.<last word of the path>.<word>`.
    Choice(&'static [&'static str]),
    /// True or false; absent is false.
    Flag,
}

/// What an absent leaf stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Usual {
    /// This number, in document units.
    Value(f64),
    /// This word of a choice.
    Word(&'static str),
    /// It follows from other fields; the catalogue key states how.
    Rule(&'static str),
    /// Nothing: the user has to say, or may leave it out.
    Nothing,
}

/// One row of the bounds table.
#[derive(Debug)]
pub struct Row {
    /// Pattern path: `[]` stands for a list index.
    pub path: &'static str,
    /// The quantity it holds.
    pub quantity: &'static Quantity,
    /// What kind of value.
    pub kind: Kind,
    /// Least usual value, document units.
    pub least: f64,
    /// Greatest usual value.
    pub most: f64,
    /// Least value that is used at all.
    pub hard_least: f64,
    /// Greatest value that is used at all.
    pub hard_most: f64,
    /// Edits are rounded to whole multiples of this.
    pub step: f64,
    /// One press of an arrow key on a handle.
    pub nudge: f64,
    /// What an absent value stands for.
    pub usual: Usual,
}

/// The row of a path, with indices (`masts.0.sail.chord_m`) or as a pattern (`masts[].sail.chord_m`).
pub fn row(path: &str) -> Option<&'static Row> {
    // Most are asked for by their patterns, a few hundred for each reading of a document.
    row_of(path.as_bytes()).or_else(|| row_of(pattern_of(path, &mut [0; 64])?))
}

/// Places of the rows by a hash of their patterns, each counted from one; nought is none.
static PLACES: OnceLock<[u16; SLOTS]> = OnceLock::new();
/// A good deal more than there are rows, and a power of two.
const SLOTS: usize = 1024;

/// The row of a pattern.
fn row_of(pattern: &[u8]) -> Option<&'static Row> {
    let places = PLACES.get_or_init(|| {
        let mut places = [0; SLOTS];
        for (place, row) in (1..).zip(ROWS) {
            let free = slots(row.path.as_bytes()).find(|slot| places.get(*slot) == Some(&0));
            if let Some(free) = free.and_then(|slot| places.get_mut(slot)) {
                *free = place;
            }
        }
        places
    });
    for slot in slots(pattern) {
        let row = ROWS.get(usize::from(*places.get(slot)?).checked_sub(1)?)?;
        if row.path.as_bytes() == pattern {
            return Some(row);
        }
    }
    None
}

/// Where a pattern may stand: the slot of its hash (Fowler, Noll and Vo's, FNV-1a), or else one behind it.
fn slots(pattern: &[u8]) -> impl Iterator<Item = usize> {
    let mix = |hash: u32, byte: &u8| (hash ^ u32::from(*byte)).wrapping_mul(0x0100_0193);
    let hash = pattern.iter().fold(0x811c_9dc5, mix) as usize;
    (0..SLOTS).map(move |by| hash.wrapping_add(by) % SLOTS)
}

/// Writes the pattern of a path into `room`; none if it does not fit (no row is that long).
fn pattern_of<'a>(path: &str, room: &'a mut [u8; 64]) -> Option<&'a [u8]> {
    let mut length = 0;
    for (place, part) in path.split('.').enumerate() {
        let index = !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        let (dot, word) = match (place, index) {
            (_, true) => ("", "[]"),
            (0, false) => ("", part),
            (_, false) => (".", part),
        };
        for byte in dot.bytes().chain(word.bytes()) {
            *room.get_mut(length)? = byte;
            length += 1;
        }
    }
    room.get(..length)
}

impl Row {
    /// Whether the value can be used at all.
    pub fn usable(&self, value: f64) -> bool {
        value >= self.hard_least
            && value <= self.hard_most
            && (self.kind != Kind::Whole || value.fract() == 0.0)
    }

    /// The problem of a number, if it has one. `path` carries the indices.
    pub fn check(&self, path: &str, value: f64) -> Option<Problem> {
        self.check_between(path, value, self.least, self.most)
    }

    /// As [`Row::check`], against a narrower usual range (that of a cut or a family).
    pub fn check_between(&self, path: &str, value: f64, least: f64, most: f64) -> Option<Problem> {
        if !value.is_finite() {
            return Some(Problem::refused(
                path,
                self.possible("bounds.not_finite", value),
            ));
        }
        if self.kind == Kind::Whole && value.fract() != 0.0 {
            return Some(Problem::refused(path, self.possible("bounds.whole", value)));
        }
        if !self.usable(value) {
            let next = self.next_step(value, least, most);
            let text = self.possible("bounds.refused", value).with("next", next);
            return Some(Problem::refused(path, text));
        }
        if value < least || value > most {
            let next = self.next_step(value, least, most);
            let text = self
                .say("bounds.unusual", value, least, most)
                .with("next", next);
            return Some(Problem::new(path, text));
        }
        None
    }

    /// The problem of a word or a text, if it has one.
    pub fn check_word(&self, path: &str, word: &str) -> Option<Problem> {
        match self.kind {
            Kind::Choice(words) if words.contains(&word) => None,
            Kind::Words => {
                let (length, most) = (word.chars().count(), self.hard_most as usize);
                (length > most).then(|| {
                    let text = Text::new("bounds.long")
                        .with_key("label", self.quantity.label)
                        .with("length", length as u32)
                        .with("most", most as u32);
                    Problem::refused(path, text)
                })
            }
            _ => Some(self.wrong_type(path)),
        }
    }

    /// The problem of a value of the wrong type, or of a word that is no choice.
    pub fn wrong_type(&self, path: &str) -> Problem {
        let key = match self.kind {
            Kind::Number => "problem.want_number",
            Kind::Whole => "problem.want_whole",
            Kind::Words => "problem.want_words",
            Kind::Choice(_) => "problem.want_choice",
            Kind::Flag => "problem.want_flag",
        };
        let mut text = Text::new(key).with_key("label", self.quantity.label);
        if let Kind::Choice(words) = self.kind {
            text = text.with("choices", words.join(", "));
        }
        Problem::refused(path, text)
    }

    /// The problem of a value that is needed and not there.
    pub fn missing(&self, path: &str) -> Problem {
        Problem::new(
            path,
            Text::new("problem.missing").with_key("label", self.quantity.label),
        )
    }

    /// The nearest whole multiple of the step, without the noise of binary fractions.
    pub fn rounded(&self, value: f64) -> f64 {
        if self.step <= 0.0 || !value.is_finite() {
            return value;
        }
        // Steps below one are one over a whole number: dividing by that number gives the
        // very double that the decimal digits stand for.
        let rounded = if self.step < 1.0 {
            let per_one = (1.0 / self.step).round();
            (value * per_one).round() / per_one
        } else {
            (value / self.step).round() * self.step
        };
        if rounded.is_finite() {
            rounded + 0.0
        } else {
            value
        }
    }

    /// The number as it stands in its field: every digit stored, no unit.
    pub fn spell(&self, value: f64, units: Units) -> String {
        let quantity = self.quantity;
        units::spell_given(
            quantity.kind,
            quantity.decimals,
            quantity.decimals + 3,
            value,
            units,
        )
    }

    fn possible(&self, key: &'static str, value: f64) -> Text {
        self.say(key, value, self.hard_least, self.hard_most)
    }

    fn say(&self, key: &'static str, value: f64, least: f64, most: f64) -> Text {
        Text::new(key)
            .with_key("label", self.quantity.label)
            .with("value", Arg::Given(value, self.quantity))
            .with("least", Arg::Given(least, self.quantity))
            .with("most", Arg::Given(most, self.quantity))
    }

    /// What the slip may have been: a unit or a sign that brings the value into its usual range.
    fn next_step(&self, value: f64, least: f64, most: f64) -> Arg {
        let quantity = self.quantity;
        let guess = |slips: &[(f64, &'static str)]| {
            let usual = |meant: f64| meant >= least && meant <= most;
            let slip = slips.iter().find(|(share, _)| usual(value * share));
            match slip {
                Some((share, key)) => Some(Text::new(key).with("value", (value * share, quantity))),
                None if value != 0.0 && usual(-value) => Some(Text::new("bounds.next_sign")),
                None => None,
            }
        };
        let (metric, imperial) = slips(quantity.kind);
        Arg::ByUnits(Box::new([guess(metric), guess(imperial)]))
    }
}

/// Slips of unit: what the value was taken for over what was meant, likeliest first.
type Slips = &'static [(f64, &'static str)];

/// The slips of someone typing metric and imperial units.
fn slips(kind: UnitKind) -> (Slips, Slips) {
    const SQUARE_FOOT: f64 = FOOT * FOOT;
    match kind {
        UnitKind::Length => (
            &[
                (FOOT, "bounds.next_feet"),
                (0.01, "bounds.next_centimetres"),
                (0.001, "bounds.next_millimetres"),
                (INCH, "bounds.next_inches"),
            ],
            &[
                (1.0 / FOOT, "bounds.next_metres"),
                (INCH / FOOT, "bounds.next_inches"),
                (0.01 / FOOT, "bounds.next_centimetres"),
                (0.001 / FOOT, "bounds.next_millimetres"),
            ],
        ),
        UnitKind::Fine => (
            &[
                (1000.0, "bounds.next_metres"),
                (10.0, "bounds.next_centimetres"),
                (1000.0 * INCH, "bounds.next_inches"),
            ],
            &[
                (0.001 / INCH, "bounds.next_millimetres"),
                (0.01 / INCH, "bounds.next_centimetres"),
                (FOOT / INCH, "bounds.next_feet"),
                (1.0 / INCH, "bounds.next_metres"),
            ],
        ),
        UnitKind::Area => (
            &[(SQUARE_FOOT, "bounds.next_square_feet")],
            &[(1.0 / SQUARE_FOOT, "bounds.next_square_metres")],
        ),
        UnitKind::Mass => (
            &[(POUND, "bounds.next_pounds")],
            &[(1.0 / POUND, "bounds.next_kilograms")],
        ),
        UnitKind::Percent => (
            &[(100.0, "bounds.next_share")],
            &[(100.0, "bounds.next_share")],
        ),
        _ => (&[], &[]),
    }
}

/// What the trade usually does with one construction of the cloth (common practice).
#[derive(Debug)]
pub struct CutUsual {
    /// Word of the choice `cut`.
    pub cut: &'static str,
    /// Chord balance: least, usual, most, in %.
    pub balance_pct: (f64, f64, f64),
    /// Folded cloth in the bundle, per batten, in m.
    pub folded_cloth_m: f64,
    /// Place of the wind's force along the chord, in %.
    pub chord_share_pct: f64,
    /// Coefficient of the force that heels her: 1.23 of ISO 12217-2 (from memory), less for flat
    /// cloth.
    pub side_force: f64,
}

/// One row for each choice of `cut`.
pub static CUTS: &[CutUsual; 5] = &[
    CutUsual {
        cut: "flat",
        balance_pct: (0.0, 10.0, 17.0),
        folded_cloth_m: 0.015,
        chord_share_pct: 40.0,
        side_force: 1.0,
    },
    CutUsual {
        cut: "cambered",
        balance_pct: (3.0, 12.0, 22.0),
        folded_cloth_m: 0.025,
        chord_share_pct: 36.0,
        side_force: 1.23,
    },
    CutUsual {
        cut: "wing",
        balance_pct: (8.0, 18.0, 27.0),
        folded_cloth_m: 0.035,
        chord_share_pct: 36.0,
        side_force: 1.23,
    },
    CutUsual {
        cut: "split",
        balance_pct: (22.0, 32.0, 36.0),
        folded_cloth_m: 0.035,
        chord_share_pct: 36.0,
        side_force: 1.23,
    },
    CutUsual {
        cut: "paired",
        balance_pct: (3.0, 10.0, 18.0),
        folded_cloth_m: 0.035,
        chord_share_pct: 36.0,
        side_force: 1.23,
    },
];

/// The row of a cut; the flat one for an unknown word.
pub fn cut(word: &str) -> &'static CutUsual {
    CUTS.iter().find(|row| row.cut == word).unwrap_or(&CUTS[0])
}

/// What the trade usually does with one plan family (common practice).
#[derive(Debug)]
pub struct FamilyUsual {
    /// Word of the choice `family`.
    pub family: &'static str,
    /// Panels in the head; none = all of them.
    pub head_panels: Option<u32>,
    /// Angle of the yard, in deg.
    pub yard_angle_deg: f64,
    /// Length of the yard, share of the chord, in %.
    pub yard_length_pct: f64,
    /// Luff widths of the turning panels, share of the panel width, from the lowest to the top, in
    /// %: three values to be spread over however many turn.
    pub head_widths_pct: [f64; 3],
    /// Relative steps of the spar angle among the turning panels, spread likewise.
    pub head_steps: [f64; 3],
    /// Aspect ratio.
    pub aspect: f64,
}

/// Luff widths of a fanned head's panels, share of a lower panel's, upward, in % (common practice).
const HEAD_WIDTHS_PCT: [f64; 3] = [65.0, 45.0, 30.0];
/// Relative steps of the spar angle in a fanned head, upward: panel areas of 16 to 18 % each
/// (common practice, worked out).
const HEAD_STEPS: [f64; 3] = [1.0, 1.4, 1.9];
/// Every panel turns alike.
const ALIKE: [f64; 3] = [1.0; 3];
/// Luff widths of a full fan: such that with the usual panel width its area and aspect are those
/// of the other fan, 1.40 B² and 2.5 (worked out).
const FULL_FAN_WIDTHS_PCT: [f64; 3] = [80.0; 3];

/// One row for each choice of `family`.
pub static FAMILIES: &[FamilyUsual; 4] = &[
    FamilyUsual {
        family: "fanned-head",
        head_panels: Some(3),
        yard_angle_deg: 65.0,
        yard_length_pct: 100.0,
        head_widths_pct: HEAD_WIDTHS_PCT,
        head_steps: HEAD_STEPS,
        aspect: 2.5,
    },
    FamilyUsual {
        family: "full-fan",
        head_panels: None,
        yard_angle_deg: 65.0,
        yard_length_pct: 90.0,
        head_widths_pct: FULL_FAN_WIDTHS_PCT,
        head_steps: ALIKE,
        aspect: 2.5,
    },
    FamilyUsual {
        family: "low-yard",
        head_panels: Some(0),
        yard_angle_deg: 25.0,
        yard_length_pct: 100.0,
        head_widths_pct: [100.0; 3],
        head_steps: ALIKE,
        aspect: 2.0,
    },
    FamilyUsual {
        family: "table",
        head_panels: Some(3),
        yard_angle_deg: 65.0,
        yard_length_pct: 100.0,
        head_widths_pct: HEAD_WIDTHS_PCT,
        head_steps: HEAD_STEPS,
        aspect: 2.5,
    },
];

/// The row of a family; fanned head for an unknown word.
pub fn family(word: &str) -> &'static FamilyUsual {
    FAMILIES
        .iter()
        .find(|row| row.family == word)
        .unwrap_or(&FAMILIES[0])
}

/// Most a spar may turn against the one below it, in deg (common practice).
pub const HEAD_STEP_MOST_DEG: f64 = 30.0;

/// The place of a row for a target area, which is typed but not stored.
pub static TARGET_AREA: Row = Row {
    path: "masts[].sail.area",
    quantity: &q::AREA,
    kind: Kind::Number,
    // The smallest dinghy's sail to the greatest that chord 9 m and aspect 3.5 make.
    least: 1.5,
    most: 160.0,
    hard_least: 0.05,
    hard_most: 2000.0,
    step: 0.001,
    nudge: 0.1,
    usual: Usual::Nothing,
};

const MM: f64 = 0.001;
const CM: f64 = 0.01;

const fn number(
    path: &'static str,
    quantity: &'static Quantity,
    (least, most): (f64, f64),
    (hard_least, hard_most): (f64, f64),
    (step, nudge): (f64, f64),
    usual: Usual,
) -> Row {
    Row {
        path,
        quantity,
        kind: Kind::Number,
        least,
        most,
        hard_least,
        hard_most,
        step,
        nudge,
        usual,
    }
}

const fn whole(
    path: &'static str,
    quantity: &'static Quantity,
    (least, most): (f64, f64),
    usual: Usual,
) -> Row {
    Row {
        path,
        quantity,
        kind: Kind::Whole,
        least,
        most,
        hard_least: least,
        hard_most: most,
        step: 1.0,
        nudge: 1.0,
        usual,
    }
}

const fn other(path: &'static str, quantity: &'static Quantity, kind: Kind, usual: Usual) -> Row {
    let most = match kind {
        Kind::Words => MOST_CHARACTERS as f64,
        _ => 1.0,
    };
    Row {
        path,
        quantity,
        kind,
        least: 0.0,
        most,
        hard_least: 0.0,
        hard_most: most,
        step: 1.0,
        nudge: 1.0,
        usual,
    }
}

const fn choice(
    path: &'static str,
    quantity: &'static Quantity,
    words: &'static [&'static str],
    usual: Usual,
) -> Row {
    other(path, quantity, Kind::Choice(words), usual)
}

/// Words of at most so many characters.
const fn words(path: &'static str, quantity: &'static Quantity, most: f64) -> Row {
    Row {
        most,
        hard_most: most,
        ..other(path, quantity, Kind::Words, Nothing)
    }
}

/// Whether a lesson shows a number: not at all, at once, or once it is asked for.
const fn told(path: &'static str, quantity: &'static Quantity) -> Row {
    choice(path, quantity, &["none", "shown", "asked"], Word("none"))
}

/// What an absent point of a line stands for.
const LEADS: Usual = Rule("rule.usual_leads");

/// Places of blocks, leads and cleats, ship axes: aft, to starboard, up.
const fn x(path: &'static str, quantity: &'static Quantity) -> Row {
    number(
        path,
        quantity,
        (-5.0, 30.0),
        (-20.0, 100.0),
        (MM, CM),
        LEADS,
    )
}

const fn y(path: &'static str, quantity: &'static Quantity) -> Row {
    number(path, quantity, (-4.0, 4.0), (-20.0, 20.0), (MM, CM), LEADS)
}

const fn z(path: &'static str, quantity: &'static Quantity) -> Row {
    number(path, quantity, (-1.0, 5.0), (-5.0, 80.0), (MM, CM), LEADS)
}

/// What ropes are made of.
const ROPES: &[&str] = &["polyester", "polyamide", "polypropylene", "braid", "hmpe"];
/// Parts that a lesson names on the drawing.
const PARTS: &[&str] = &[
    "sail",
    "yard",
    "battens",
    "boom",
    "panel",
    "head-panels",
    "luff",
    "leech",
    "head",
    "foot",
    "peak",
    "throat",
    "clew",
    "tack",
    "sling",
    "bundle",
    "mast",
    "masthead",
    "partners",
    "step",
    "halyard",
    "sheet",
    "span",
    "deck-block",
    "lifts",
    "batten-parrel",
    "yard-parrel",
    "luff-parrel",
    "throat-parrel",
    "tack-line",
    "downhaul",
    "balance",
    "chord",
    "attached",
    "ce",
    "clr",
    "lead",
    "waterline",
];
/// How a line is rigged.
const USES: &[&str] = &["running", "standing", "none"];

/// Timbers that spars are made of, by species and by strength class: keys of crate `spars`.
macro_rules! timbers {
    ($($more:literal),*) => {
        &[
            "sitka-spruce",
            "douglas-fir",
            "western-red-cedar",
            "white-spruce",
            "longleaf-pine",
            "loblolly-pine",
            "white-ash",
            "western-larch",
            "c18",
            "c24",
            "c30",
            "d30",
            $($more,)*
            "own-1",
            "own-2",
            "own-3",
            "own-4",
        ]
    };
}

/// What spars are made of: the keys of the tables of crate `spars`, then the user's own.
pub const MATERIALS: &[&str] = timbers![
    "6061-t6",
    "6063-t6",
    "6063-t5",
    "6082-t6",
    "6082-t6-thin",
    "6061-t6-b221",
    "6063-t6-b221",
    "e-glass",
    "s-glass",
    "carbon-as4",
    "carbon-t300",
    "aramid"
];
/// What stands above in a mast of alloy below and timber above.
pub const TIMBERS: &[&str] = timbers![];
/// Plies, and the user's own.
pub const PLIES: &[&str] = MATERIALS.split_at(19).1;
/// How a boom, a batten or a yard is made.
const BEAMS: &[&str] = &["tube", "solid", "laminate"];
/// How a mast is made.
const POLES: &[&str] = &["tube", "pieces", "solid", "hollow", "sleeved", "laminate"];

/// What a spar is made of; absent: by its kind.
const fn material(path: &'static str) -> Row {
    choice(path, &q::MATERIAL, MATERIALS, Nothing)
}

/// Thickness of a wall.
const fn wall(path: &'static str, usual: Usual) -> Row {
    number(
        path,
        &q::WALL,
        (0.001, 0.15),
        (0.0003, 0.5),
        (0.1 * MM, MM),
        usual,
    )
}

/// Outside diameter of a spar.
const fn across(path: &'static str, quantity: &'static Quantity, usual: Usual) -> Row {
    number(
        path,
        quantity,
        (0.01, 0.5),
        (0.002, 1.5),
        (0.1 * MM, MM),
        usual,
    )
}

/// Length of a piece or of what can be bought.
const fn long(path: &'static str, usual: Usual) -> Row {
    number(
        path,
        &q::PIECE_LENGTH,
        (0.3, 18.0),
        (0.05, 60.0),
        (MM, CM),
        usual,
    )
}

/// A factor, share or strength.
const fn plain(
    path: &'static str,
    quantity: &'static Quantity,
    usual_range: (f64, f64),
    hard: (f64, f64),
    step: f64,
    usual: Usual,
) -> Row {
    number(
        path,
        quantity,
        usual_range,
        hard,
        (step, 10.0 * step),
        usual,
    )
}

/// A length measured on sail or rope.
const fn taped(path: &'static str, quantity: &'static Quantity) -> Row {
    number(
        path,
        quantity,
        (0.3, 25.0),
        (0.005, 200.0),
        (MM, CM),
        Nothing,
    )
}

/// What the quick checks ask for beyond the leaves of the document; never part of it.
pub static QUICK: &[Row] = &[
    taped("quick.luff", &q::LUFF_LENGTH),
    taped("quick.leech", &q::LEECH_LENGTH),
    taped("quick.foot", &q::FOOT_EDGE),
    taped("quick.head", &q::HEAD_EDGE),
    taped("quick.throat_clew", &q::THROAT_CLEW),
    taped("quick.tack_peak", &q::TACK_PEAK),
    x("quick.tack_x", &q::TACK_X),
    z("quick.tack_z", &q::TACK_Z),
    number(
        "quick.lean",
        &q::LUFF_LEAN,
        (-10.0, 50.0),
        (-80.0, 80.0),
        (0.1, 1.0),
        Nothing,
    ),
    choice(
        "quick.load",
        &q::LOAD_BY,
        &["righting", "wind", "moment"],
        Nothing,
    ),
    plain(
        "quick.moment",
        &q::BENDING_MOMENT,
        (100.0, 1e5),
        (1.0, 1e7),
        1.0,
        Nothing,
    ),
    plain(
        "quick.righting",
        &q::GREATEST_MOMENT,
        (100.0, 3e5),
        (1.0, 1e7),
        1.0,
        Nothing,
    ),
    number(
        "quick.lever",
        &q::CE_LEVER,
        (0.5, 12.0),
        (0.05, 60.0),
        (MM, CM),
        Nothing,
    ),
    plain(
        "quick.wind",
        &q::WIND_CARRIED,
        (10.0, 45.0),
        (0.0, 150.0),
        0.1,
        Nothing,
    ),
    choice(
        "quick.run",
        &q::LINE_RUN,
        &["parrel", "halyard", "sheet"],
        Nothing,
    ),
    number(
        "quick.diameter",
        &q::DIAMETER_AT,
        (0.03, 0.4),
        (0.005, 1.5),
        (MM, MM),
        Nothing,
    ),
    number(
        "quick.batten",
        &q::BATTEN_THICKNESS,
        (0.01, 0.1),
        (0.0, 0.5),
        (MM, MM),
        Nothing,
    ),
    number(
        "quick.room",
        &q::PARREL_ROOM,
        (0.0, 0.1),
        (0.0, 1.0),
        (MM, MM),
        Value(0.005),
    ),
    number(
        "quick.reach",
        &q::REACH,
        (0.5, 20.0),
        (0.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "quick.lead",
        &q::LEAD_LENGTH,
        (0.0, 25.0),
        (0.0, 200.0),
        (MM, CM),
        Nothing,
    ),
    choice("quick.sold", &q::CLOTH_SOLD, &["gsm", "us", "uk"], Nothing),
];

/// The row of a field of the quick checks, by its pattern.
pub fn quick_row(pattern: &str) -> Option<&'static Row> {
    let own = QUICK.iter().find(|row| row.path == pattern);
    let area = (pattern == TARGET_AREA.path).then_some(&TARGET_AREA);
    own.or(area).or_else(|| row(pattern))
}

/// Every leaf of the document, sorted by path.
pub static ROWS: &[Row] = &[
    // Boat. The ranges of lengths are those of boats this rig is put on: 2 to 25 m of waterline.
    number(
        "boat.air_draught_m",
        &q::AIR_DRAUGHT_LIMIT,
        (2.0, 40.0),
        (0.5, 200.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.ballast_kg",
        &q::BALLAST,
        (0.0, 30000.0),
        (0.0, 1e6),
        (0.1, 1.0),
        Nothing,
    ),
    number(
        "boat.beam_m",
        &q::BEAM,
        (0.8, 8.0),
        (0.2, 40.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.boom_end_clearance_m",
        &q::BOOM_END_CLEARANCE,
        (0.3, 3.0),
        (0.0, 20.0),
        (MM, CM),
        Value(0.6),
    ),
    // A stem may rake the other way.
    number(
        "boat.bow_overhang_m",
        &q::BOW_OVERHANG,
        (-0.5, 4.0),
        (-5.0, 30.0),
        (MM, CM),
        Rule("rule.bow_overhang"),
    ),
    number(
        "boat.bwl_m",
        &q::BWL,
        (0.6, 8.0),
        (0.1, 40.0),
        (MM, CM),
        Rule("rule.bwl"),
    ),
    number(
        "boat.canoe_draught_m",
        &q::CANOE_DRAUGHT,
        (0.05, 2.5),
        (0.01, 15.0),
        (MM, CM),
        Rule("rule.canoe_draught"),
    ),
    other(
        "boat.clr",
        &q::CLR_METHOD,
        Kind::Choice(&["profile", "keel"]),
        Word("profile"),
    ),
    number(
        "boat.coachroof.from_m",
        &q::COACHROOF_FROM,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.coachroof.height_m",
        &q::COACHROOF_HEIGHT,
        (0.05, 1.2),
        (0.0, 5.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.coachroof.to_m",
        &q::COACHROOF_TO,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.coachroof_clearance_m",
        &q::COACHROOF_CLEARANCE,
        (0.10, 1.5),
        (0.0, 10.0),
        (MM, CM),
        Value(0.30),
    ),
    number(
        "boat.cockpit.from_m",
        &q::COCKPIT_FROM,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    // Some seats lie below the waterline level in deep cockpits; none much.
    number(
        "boat.cockpit.seat_m",
        &q::COCKPIT_SEAT,
        (-0.2, 2.5),
        (-3.0, 10.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.cockpit.to_m",
        &q::COCKPIT_TO,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.cockpit_clearance_m",
        &q::COCKPIT_CLEARANCE,
        (0.85, 1.5),
        (0.0, 10.0),
        (MM, CM),
        Value(1.00),
    ),
    number(
        "boat.crew_arm_pct",
        &q::CREW_ARM,
        (0.0, 55.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(35.0),
    ),
    number(
        "boat.crew_kg",
        &q::CREW_MASS,
        (40.0, 130.0),
        (0.0, 500.0),
        (0.1, 1.0),
        Value(75.0),
    ),
    whole(
        "boat.crew_weather",
        &q::CREW_WEATHER,
        (0.0, 12.0),
        Value(0.0),
    ),
    number(
        "boat.deck[].x_m",
        &q::POINT_X,
        (-5.0, 30.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.deck[].z_m",
        &q::POINT_Z,
        (-4.0, 20.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.displacement_band_pct",
        &q::DISPLACEMENT_BAND,
        (0.0, 60.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(10.0),
    ),
    number(
        "boat.displacement_kg",
        &q::DISPLACEMENT,
        (60.0, 60000.0),
        (1.0, 1e6),
        (0.1, 10.0),
        Nothing,
    ),
    number(
        "boat.draught_m",
        &q::DRAUGHT,
        (0.1, 4.0),
        (0.02, 15.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.eye_height_m",
        &q::EYE_HEIGHT,
        (0.6, 1.8),
        (0.0, 5.0),
        (MM, CM),
        Value(0.75),
    ),
    number(
        "boat.fin.root_from_m",
        &q::FIN_ROOT_FROM,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.fin.root_to_m",
        &q::FIN_ROOT_TO,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.fin.tip_from_m",
        &q::FIN_TIP_FROM,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.fin.tip_to_m",
        &q::FIN_TIP_TO,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.freeboard_bow_m",
        &q::FREEBOARD_BOW,
        (0.2, 3.0),
        (0.02, 10.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.freeboard_mid_m",
        &q::FREEBOARD_MID,
        (0.15, 2.5),
        (0.02, 10.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.freeboard_stern_m",
        &q::FREEBOARD_STERN,
        (0.15, 2.5),
        (0.02, 10.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.gm_band_pct",
        &q::GM_BAND,
        (0.0, 60.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(25.0),
    ),
    number(
        "boat.greatest_factor",
        &q::GREATEST_FACTOR,
        (1.0, 1.8),
        (0.5, 3.0),
        (0.01, 0.1),
        Value(1.4),
    ),
    number(
        "boat.gyration_pct",
        &q::GYRATION,
        (30.0, 50.0),
        (10.0, 100.0),
        (0.1, 1.0),
        Value(40.0),
    ),
    number(
        "boat.gz[].gz_m",
        &q::TABLE_GZ,
        (-1.0, 3.0),
        (-10.0, 20.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.gz[].heel_deg",
        &q::TABLE_HEEL,
        (0.0, 180.0),
        (0.0, 180.0),
        (0.1, 1.0),
        Nothing,
    ),
    number(
        "boat.inertia_pct",
        &q::INERTIA,
        (3.2, 6.0),
        (1.0, 8.4),
        (0.01, 0.1),
        Value(4.0),
    ),
    other(
        "boat.keel",
        &q::KEEL,
        Kind::Choice(&["fin", "long", "open"]),
        Word("fin"),
    ),
    number(
        "boat.kg_pct",
        &q::KG_SHARE,
        (45.0, 95.0),
        (1.0, 200.0),
        (0.1, 1.0),
        Rule("rule.kg"),
    ),
    number(
        "boat.laden_kg",
        &q::LADEN,
        (60.0, 60000.0),
        (1.0, 1e6),
        (0.1, 10.0),
        Rule("rule.laden"),
    ),
    number(
        "boat.light_kg",
        &q::LIGHT,
        (60.0, 60000.0),
        (1.0, 1e6),
        (0.1, 10.0),
        Rule("rule.light"),
    ),
    number(
        "boat.loa_m",
        &q::LOA,
        (2.0, 30.0),
        (0.5, 100.0),
        (MM, 0.05),
        Nothing,
    ),
    other(
        "boat.loading",
        &q::LOADING,
        Kind::Choice(&["light", "sailing", "laden"]),
        Word("sailing"),
    ),
    number(
        "boat.lwl_m",
        &q::LWL,
        (2.0, 25.0),
        (0.5, 100.0),
        (MM, 0.05),
        Nothing,
    ),
    number(
        "boat.new_rig[].mass_kg",
        &q::PART_MASS,
        (0.1, 3000.0),
        (0.0, 1e5),
        (0.01, 0.5),
        Nothing,
    ),
    other("boat.new_rig[].name", &q::NAME, Kind::Words, Nothing),
    number(
        "boat.new_rig[].x_m",
        &q::PART_X,
        (-5.0, 30.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.new_rig[].z_m",
        &q::PART_Z,
        (-4.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.old_rig[].mass_kg",
        &q::PART_MASS,
        (0.1, 3000.0),
        (0.0, 1e5),
        (0.01, 0.5),
        Nothing,
    ),
    other("boat.old_rig[].name", &q::NAME, Kind::Words, Nothing),
    number(
        "boat.old_rig[].x_m",
        &q::PART_X,
        (-5.0, 30.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.old_rig[].z_m",
        &q::PART_Z,
        (-4.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.profile[].x_m",
        &q::POINT_X,
        (-5.0, 30.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.profile[].z_m",
        &q::POINT_Z,
        (-4.0, 20.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.roll_s",
        &q::ROLL_PERIOD,
        (1.0, 10.0),
        (0.2, 60.0),
        (0.01, 0.1),
        Nothing,
    ),
    other("boat.sails[].name", &q::NAME, Kind::Words, Nothing),
    number(
        "boat.sails[].points[].x_m",
        &q::POINT_X,
        (-5.0, 30.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.sails[].points[].z_m",
        &q::POINT_Z,
        (-4.0, 20.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    other(
        "boat.stability",
        &q::STABILITY,
        Kind::Choice(&["form", "test", "table"]),
        Word("form"),
    ),
    number(
        "boat.stores_m",
        &q::STORES_HEIGHT,
        (-1.0, 2.0),
        (-10.0, 20.0),
        (MM, CM),
        Value(0.0),
    ),
    number(
        "boat.test.pendulum_m",
        &q::PENDULUM,
        (0.5, 6.0),
        (0.05, 50.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.test.readings[].arm_m",
        &q::TEST_ARM,
        (-4.0, 4.0),
        (-20.0, 20.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "boat.test.readings[].deflection_m",
        &q::DEFLECTION,
        (-0.5, 0.5),
        (-10.0, 10.0),
        (0.0001, MM),
        Nothing,
    ),
    number(
        "boat.test.readings[].weight_kg",
        &q::TEST_WEIGHT,
        (0.0, 1000.0),
        (0.0, 1e5),
        (0.1, 1.0),
        Nothing,
    ),
    other(
        "boat.water",
        &q::WATER,
        Kind::Choice(&["sea", "fresh"]),
        Word("sea"),
    ),
    number(
        "boat.waterplane_pct",
        &q::WATERPLANE,
        (58.0, 85.0),
        (20.0, 100.0),
        (0.1, 1.0),
        Value(67.0),
    ),
    number(
        "cloth.barrel_depth_pct",
        &q::BARREL_DEPTH,
        (20.0, 50.0),
        (1.0, 50.0),
        (0.1, 1.0),
        Value(35.0),
    ),
    number(
        "cloth.batten_seam_m",
        &q::BATTEN_SEAM,
        (0.015, 0.06),
        (0.0, 0.5),
        (MM, MM),
        Value(0.025),
    ),
    number(
        "cloth.eye_pitch_m",
        &q::EYE_PITCH,
        (0.1, 1.0),
        (0.02, 10.0),
        (MM, CM),
        Value(0.30),
    ),
    number(
        "cloth.gather_pct",
        &q::GATHER,
        (0.2, 2.0),
        (0.1, 20.0),
        (0.1, 0.1),
        Value(1.0),
    ),
    number(
        "cloth.hem_m",
        &q::HEM,
        (0.015, 0.1),
        (0.0, 0.5),
        (MM, MM),
        Value(0.050),
    ),
    whole("cloth.offsets", &q::OFFSETS, (2.0, 32.0), Value(8.0)),
    whole(
        "cloth.patch_layers",
        &q::PATCH_LAYERS,
        (1.0, 6.0),
        Value(3.0),
    ),
    number(
        "cloth.patch_pct",
        &q::PATCH_SIZE,
        (10.0, 50.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(25.0),
    ),
    number(
        "cloth.patch_strength",
        &q::PATCH_STRENGTH,
        (0.5, 20.0),
        (0.1, 1000.0),
        (0.1, 0.1),
        Value(2.0),
    ),
    number(
        "cloth.pocket_ease_pct",
        &q::POCKET_EASE,
        (5.0, 30.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(12.0),
    ),
    number(
        "cloth.pocket_end_m",
        &q::POCKET_END,
        (0.005, 0.05),
        (0.0, 0.5),
        (MM, MM),
        Value(0.015),
    ),
    choice(
        "cloth.pockets",
        &q::POCKETS,
        &["strips", "hems"],
        Word("strips"),
    ),
    number(
        "cloth.roll_m",
        &q::ROLL_WIDTH,
        (0.7, 3.2),
        (0.05, 100.0),
        (MM, CM),
        Value(1.37),
    ),
    number(
        "cloth.seam_m",
        &q::SEAM,
        (0.008, 0.04),
        (0.0, 0.5),
        (MM, MM),
        Value(0.015),
    ),
    number(
        "cloth.strain_pct",
        &q::STRAIN,
        (0.2, 2.0),
        (0.1, 20.0),
        (0.1, 0.1),
        Value(1.0),
    ),
    number(
        "cloth.tabling_m",
        &q::TABLING,
        (0.015, 0.1),
        (0.0, 0.5),
        (MM, MM),
        Value(0.040),
    ),
    number(
        "cloth.thread",
        &q::THREAD,
        (3.0, 12.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(6.0),
    ),
    choice(
        "cloth.warp",
        &q::WARP,
        &["fitting", "battens", "leech"],
        Word("fitting"),
    ),
    number(
        "cloth.webbing_kg",
        &q::WEBBING,
        (1.0, 10.0),
        (0.0, 1000.0),
        (0.01, 0.1),
        Value(3.0),
    ),
    // Lessons.
    told("lesson[].steps[].advice_told", &q::LESSON_ADVICE),
    told("lesson[].steps[].amount_told", &q::LINE_MOVEMENT),
    told("lesson[].steps[].area_told", &q::AREA),
    told("lesson[].steps[].balance_told", &q::CHORD_BALANCE),
    told("lesson[].steps[].centre_told", &q::LESSON_CENTRE),
    choice(
        "lesson[].steps[].drawing",
        &q::LESSON_DRAWING,
        &["profile", "above", "sections", "stern", "travel"],
        Word("profile"),
    ),
    whole(
        "lesson[].steps[].from",
        &q::LESSON_FROM,
        (0.0, 36.0),
        Nothing,
    ),
    told("lesson[].steps[].heel_told", &q::HEEL),
    told("lesson[].steps[].lead_told", &q::LEAD),
    choice(
        "lesson[].steps[].line",
        &q::LESSON_LINE,
        &[
            "halyard",
            "sheet",
            "second-sheet",
            "lifts",
            "yard",
            "luff",
            "throat",
            "tack",
            "down",
            "restraint",
        ],
        Nothing,
    ),
    whole(
        "lesson[].steps[].mast",
        &q::LESSON_MAST,
        (1.0, 3.0),
        Nothing,
    ),
    choice("lesson[].steps[].part", &q::LESSON_PART, PARTS, Nothing),
    whole(
        "lesson[].steps[].reef",
        &q::LESSON_REEF,
        (0.0, 36.0),
        Value(0.0),
    ),
    choice(
        "lesson[].steps[].sail",
        &q::LESSON_SAIL,
        &["all", "first", "second", "third"],
        Word("all"),
    ),
    number(
        "lesson[].steps[].sheet_deg",
        &q::SHEETING_ANGLE,
        (-110.0, 110.0),
        (-180.0, 180.0),
        (0.1, 1.0),
        Value(0.0),
    ),
    choice(
        "lesson[].steps[].stage",
        &q::LESSON_STAGE,
        &["before", "after"],
        Word("after"),
    ),
    words("lesson[].steps[].title", &q::LESSON_TITLE, 80.0),
    number(
        "lesson[].steps[].wind_kn",
        &q::TRUE_WIND,
        (0.0, 60.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(14.0),
    ),
    words("lesson[].steps[].words", &q::LESSON_WORDS, 500.0),
    words("lesson[].title", &q::LESSON_TITLE, 80.0),
    // Lines: one set of rules for the boat.
    number(
        "lines.block_to_block_m",
        &q::BLOCK_TO_BLOCK,
        (0.1, 0.6),
        (0.0, 5.0),
        (MM, CM),
        Value(0.25),
    ),
    number(
        "lines.close_deg",
        &q::CLOSE_ANGLE,
        (5.0, 30.0),
        (0.0, 85.0),
        (0.1, 1.0),
        Value(15.0),
    ),
    number(
        "lines.dynamic",
        &q::LIFT_DYNAMIC,
        (1.3, 3.0),
        (1.0, 10.0),
        (0.01, 0.1),
        Value(2.0),
    ),
    number(
        "lines.factor_fixed",
        &q::FACTOR_FIXED,
        (4.0, 12.0),
        (1.0, 50.0),
        (0.1, 0.5),
        Value(6.0),
    ),
    number(
        "lines.factor_halyard",
        &q::FACTOR_HALYARD,
        (4.0, 12.0),
        (1.0, 50.0),
        (0.1, 0.5),
        Value(8.0),
    ),
    number(
        "lines.factor_running",
        &q::FACTOR_RUNNING,
        (4.0, 12.0),
        (1.0, 50.0),
        (0.1, 0.5),
        Value(5.0),
    ),
    choice("lines.halyard_rope", &q::HALYARD_ROPE, ROPES, Word("braid")),
    number(
        "lines.hand_n",
        &q::HAND_LIMIT,
        (50.0, 400.0),
        (1.0, 5000.0),
        (1.0, 5.0),
        Value(150.0),
    ),
    number(
        "lines.hand_rope_m",
        &q::HAND_ROPE,
        (0.008, 0.016),
        (0.001, 0.1),
        (MM, MM),
        Value(0.01),
    ),
    number(
        "lines.knot_pct",
        &q::KNOT_STRENGTH,
        (25.0, 100.0),
        (5.0, 100.0),
        (0.1, 1.0),
        Value(50.0),
    ),
    number(
        "lines.lifeline_m",
        &q::LIFELINE,
        (0.3, 1.0),
        (0.0, 3.0),
        (MM, CM),
        Nothing,
    ),
    choice("lines.lift_rope", &q::LIFT_ROPE, ROPES, Word("polyester")),
    number(
        "lines.parrel_friction",
        &q::PARREL_FRICTION,
        (0.05, 0.4),
        (0.0, 2.0),
        (0.01, 0.01),
        Value(0.25),
    ),
    choice(
        "lines.parrel_rope",
        &q::PARREL_ROPE,
        ROPES,
        Word("polyester"),
    ),
    number(
        "lines.sheave_loss_pct",
        &q::SHEAVE_LOSS,
        (3.0, 15.0),
        (0.0, 60.0),
        (0.1, 1.0),
        Value(8.0),
    ),
    choice("lines.sheet_rope", &q::SHEET_ROPE, ROPES, Word("braid")),
    number(
        "lines.stretch_pct",
        &q::SHEET_STRETCH,
        (1.0, 12.0),
        (0.1, 60.0),
        (0.1, 0.5),
        Value(4.0),
    ),
    number(
        "lines.tail_fixed_m",
        &q::TAIL_FIXED,
        (0.3, 6.0),
        (0.0, 60.0),
        (MM, 0.1),
        Value(0.5),
    ),
    number(
        "lines.tail_halyard_m",
        &q::TAIL_HALYARD,
        (0.3, 6.0),
        (0.0, 60.0),
        (MM, 0.1),
        Value(2.5),
    ),
    number(
        "lines.tail_hauling_m",
        &q::TAIL_HAULING,
        (0.3, 6.0),
        (0.0, 60.0),
        (MM, 0.1),
        Value(2.0),
    ),
    number(
        "lines.tail_sheet_m",
        &q::TAIL_SHEET,
        (0.3, 6.0),
        (0.0, 60.0),
        (MM, 0.1),
        Value(2.0),
    ),
    number(
        "lines.wet",
        &q::WET,
        (1.0, 2.0),
        (1.0, 10.0),
        (0.01, 0.1),
        Value(1.5),
    ),
    // Mast.
    // Bury 0.08 to 0.30 of LAP, for masts of 3 to 18 m.
    number(
        "masts[].bury_m",
        &q::BURY,
        (0.24, 5.4),
        (0.01, 20.0),
        (MM, CM),
        Rule("rule.bury"),
    ),
    choice(
        "masts[].cloth.barrel",
        &q::BARREL,
        &["added", "hollow"],
        Word("added"),
    ),
    choice(
        "masts[].cloth.camber_cut",
        &q::CAMBER_CUT,
        &["barrel", "shelf"],
        Word("barrel"),
    ),
    number(
        "masts[].cloth.camber_pct",
        &q::CAMBER,
        (0.0, 14.0),
        (0.0, 50.0),
        (0.1, 0.5),
        Rule("rule.camber"),
    ),
    number(
        "masts[].cloth.fore_times",
        &q::FORE_CAMBER,
        (0.5, 3.0),
        (0.0, 8.0),
        (0.1, 0.1),
        Value(1.5),
    ),
    number(
        "masts[].cloth.head_camber_pct",
        &q::HEAD_CAMBER,
        (0.0, 10.0),
        (0.0, 50.0),
        (0.1, 0.5),
        Rule("rule.head_camber"),
    ),
    number(
        "masts[].cloth.head_place_pct",
        &q::HEAD_PLACE,
        (25.0, 50.0),
        (5.0, 95.0),
        (0.1, 1.0),
        Rule("rule.head_place"),
    ),
    number(
        "masts[].cloth.join_pct",
        &q::JOIN,
        (25.0, 65.0),
        (5.0, 95.0),
        (0.1, 1.0),
        Value(40.0),
    ),
    choice(
        "masts[].cloth.line",
        &q::MEAN_LINE,
        &["four-digit", "parabola", "own"],
        Word("four-digit"),
    ),
    number(
        "masts[].cloth.ordinates[].along_pct",
        &q::MEAN_ALONG,
        (0.0, 100.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Nothing,
    ),
    number(
        "masts[].cloth.ordinates[].off_pct",
        &q::MEAN_OFF,
        (0.0, 20.0),
        (0.0, 100.0),
        (0.1, 0.5),
        Nothing,
    ),
    number(
        "masts[].cloth.place_pct",
        &q::CAMBER_PLACE,
        (25.0, 50.0),
        (5.0, 95.0),
        (0.1, 1.0),
        Value(38.0),
    ),
    number(
        "masts[].cloth.room_m",
        &q::BATTEN_ROOM,
        (0.01, 0.1),
        (0.0, 0.5),
        (MM, MM),
        Value(0.030),
    ),
    number(
        "masts[].cloth.shapes[].camber_pct",
        &q::PANEL_CAMBER,
        (0.0, 14.0),
        (0.0, 50.0),
        (0.1, 0.5),
        Rule("rule.graded"),
    ),
    whole(
        "masts[].cloth.shapes[].panel",
        &q::SHAPED_PANEL,
        (1.0, 12.0),
        Nothing,
    ),
    number(
        "masts[].cloth.shapes[].place_pct",
        &q::PANEL_PLACE,
        (25.0, 50.0),
        (5.0, 95.0),
        (0.1, 1.0),
        Rule("rule.graded"),
    ),
    number(
        "masts[].cloth.shelf_deg",
        &q::SHELF_ANGLE,
        (0.0, 65.0),
        (0.0, 75.0),
        (0.1, 1.0),
        Value(45.0),
    ),
    number(
        "masts[].cloth.slot_pct",
        &q::SLOT,
        (4.0, 15.0),
        (0.5, 50.0),
        (0.1, 0.5),
        Rule("rule.slot"),
    ),
    number(
        "masts[].cloth.thickness_pct",
        &q::WING_THICKNESS,
        (12.0, 40.0),
        (1.0, 50.0),
        (0.1, 1.0),
        Value(25.0),
    ),
    number(
        "masts[].cloth.turn_deg",
        &q::FORE_TURN,
        (0.0, 20.0),
        (0.0, 40.0),
        (0.1, 1.0),
        Value(8.0),
    ),
    // A twenty-fifth to a hundredth of the masts above.
    number(
        "masts[].diameter_m",
        &q::MAST_DIAMETER,
        (0.03, 0.4),
        (0.005, 1.5),
        (MM, MM),
        Rule("rule.diameter"),
    ),
    number(
        "masts[].from_m",
        &q::MAST_FROM,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].lap_m",
        &q::LAP,
        (2.0, 22.0),
        (0.3, 80.0),
        (MM, CM),
        Rule("rule.lap"),
    ),
    // Lines of a sail.
    x("masts[].lines.down.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.down.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.down.cleat_z_m", &q::CLEAT_Z),
    x("masts[].lines.down.lead_x_m", &q::LEAD_X),
    y("masts[].lines.down.lead_y_m", &q::LEAD_Y),
    z("masts[].lines.down.lead_z_m", &q::LEAD_Z),
    choice("masts[].lines.down.use", &q::LINE_USE, USES, Word("none")),
    x("masts[].lines.halyard.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.halyard.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.halyard.cleat_z_m", &q::CLEAT_Z),
    x("masts[].lines.halyard.lead_x_m", &q::LEAD_X),
    y("masts[].lines.halyard.lead_y_m", &q::LEAD_Y),
    z("masts[].lines.halyard.lead_z_m", &q::LEAD_Z),
    whole(
        "masts[].lines.halyard.parts",
        &q::LINE_PARTS,
        (1.0, 6.0),
        LEADS,
    ),
    choice(
        "masts[].lines.halyard.use",
        &q::LINE_USE,
        &["running", "none"],
        Word("running"),
    ),
    number(
        "masts[].lines.holds[].along_pct",
        &q::HOLD_ALONG,
        (0.0, 100.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Nothing,
    ),
    choice(
        "masts[].lines.holds[].line",
        &q::HOLD_LINE,
        &["yard", "luff", "throat", "tack", "restraint", "down"],
        Nothing,
    ),
    whole(
        "masts[].lines.holds[].spar",
        &q::HOLD_SPAR,
        (0.0, 12.0),
        Nothing,
    ),
    number(
        "masts[].lines.lifts.catches_pct[]",
        &q::CATCH,
        (0.0, 100.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Rule("rule.catches"),
    ),
    x("masts[].lines.lifts.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.lifts.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.lifts.cleat_z_m", &q::CLEAT_Z),
    number(
        "masts[].lines.lifts.height_m",
        &q::LIFT_HEIGHT,
        (1.5, 22.0),
        (0.1, 80.0),
        (MM, CM),
        LEADS,
    ),
    choice(
        "masts[].lines.lifts.use",
        &q::LINE_USE,
        USES,
        Word("running"),
    ),
    x("masts[].lines.luff.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.luff.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.luff.cleat_z_m", &q::CLEAT_Z),
    x("masts[].lines.luff.lead_x_m", &q::LEAD_X),
    y("masts[].lines.luff.lead_y_m", &q::LEAD_Y),
    z("masts[].lines.luff.lead_z_m", &q::LEAD_Z),
    choice(
        "masts[].lines.luff.use",
        &q::LINE_USE,
        USES,
        Word("running"),
    ),
    number(
        "masts[].lines.parrels.abaft_m",
        &q::PARREL_ABAFT,
        (0.03, 3.0),
        (0.0, 20.0),
        (MM, CM),
        LEADS,
    ),
    number(
        "masts[].lines.parrels.ahead_m",
        &q::PARREL_AHEAD,
        (0.03, 3.0),
        (0.0, 20.0),
        (MM, CM),
        LEADS,
    ),
    choice(
        "masts[].lines.parrels.use",
        &q::LINE_USE,
        &["short", "long", "none"],
        Word("short"),
    ),
    x("masts[].lines.restraint.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.restraint.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.restraint.cleat_z_m", &q::CLEAT_Z),
    x("masts[].lines.restraint.lead_x_m", &q::LEAD_X),
    y("masts[].lines.restraint.lead_y_m", &q::LEAD_Y),
    z("masts[].lines.restraint.lead_z_m", &q::LEAD_Z),
    choice(
        "masts[].lines.restraint.use",
        &q::LINE_USE,
        USES,
        Word("none"),
    ),
    x("masts[].lines.sheet.block_2_x_m", &q::BLOCK_X),
    y("masts[].lines.sheet.block_2_y_m", &q::BLOCK_Y),
    z("masts[].lines.sheet.block_2_z_m", &q::BLOCK_Z),
    x("masts[].lines.sheet.block_x_m", &q::BLOCK_X),
    y("masts[].lines.sheet.block_y_m", &q::BLOCK_Y),
    z("masts[].lines.sheet.block_z_m", &q::BLOCK_Z),
    x("masts[].lines.sheet.cleat_2_x_m", &q::CLEAT_X),
    y("masts[].lines.sheet.cleat_2_y_m", &q::CLEAT_Y),
    z("masts[].lines.sheet.cleat_2_z_m", &q::CLEAT_Z),
    x("masts[].lines.sheet.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.sheet.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.sheet.cleat_z_m", &q::CLEAT_Z),
    whole(
        "masts[].lines.sheet.gathers",
        &q::SHEET_GATHERS,
        (2.0, 3.0),
        Value(2.0),
    ),
    whole(
        "masts[].lines.sheet.parts",
        &q::LINE_PARTS,
        (1.0, 6.0),
        LEADS,
    ),
    choice(
        "masts[].lines.sheet.system",
        &q::SHEET_SYSTEM,
        &["single", "divided", "pair", "none"],
        Word("single"),
    ),
    number(
        "masts[].lines.sheet.tip_m",
        &q::SHEET_TIP,
        (0.0, 0.3),
        (0.0, 3.0),
        (MM, CM),
        Value(0.0),
    ),
    whole(
        "masts[].lines.spans[].ends",
        &q::SPAN_ENDS,
        (1.0, 4.0),
        Value(2.0),
    ),
    number(
        "masts[].lines.spans[].length_m",
        &q::SPAN_LENGTH,
        (0.2, 12.0),
        (0.01, 60.0),
        (MM, CM),
        LEADS,
    ),
    whole(
        "masts[].lines.spans[].parts",
        &q::LINE_PARTS,
        (1.0, 6.0),
        LEADS,
    ),
    whole(
        "masts[].lines.spans[].sheet",
        &q::SPAN_SHEET,
        (1.0, 2.0),
        Value(1.0),
    ),
    whole(
        "masts[].lines.spans[].top",
        &q::SPAN_TOP,
        (0.0, 12.0),
        Nothing,
    ),
    x("masts[].lines.tack.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.tack.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.tack.cleat_z_m", &q::CLEAT_Z),
    x("masts[].lines.tack.lead_x_m", &q::LEAD_X),
    y("masts[].lines.tack.lead_y_m", &q::LEAD_Y),
    z("masts[].lines.tack.lead_z_m", &q::LEAD_Z),
    choice(
        "masts[].lines.tack.use",
        &q::LINE_USE,
        USES,
        Word("running"),
    ),
    x("masts[].lines.throat.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.throat.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.throat.cleat_z_m", &q::CLEAT_Z),
    x("masts[].lines.throat.lead_x_m", &q::LEAD_X),
    y("masts[].lines.throat.lead_y_m", &q::LEAD_Y),
    z("masts[].lines.throat.lead_z_m", &q::LEAD_Z),
    choice("masts[].lines.throat.use", &q::LINE_USE, USES, Word("none")),
    x("masts[].lines.yard.cleat_x_m", &q::CLEAT_X),
    y("masts[].lines.yard.cleat_y_m", &q::CLEAT_Y),
    z("masts[].lines.yard.cleat_z_m", &q::CLEAT_Z),
    x("masts[].lines.yard.lead_x_m", &q::LEAD_X),
    y("masts[].lines.yard.lead_y_m", &q::LEAD_Y),
    z("masts[].lines.yard.lead_z_m", &q::LEAD_Z),
    choice(
        "masts[].lines.yard.use",
        &q::LINE_USE,
        USES,
        Word("running"),
    ),
    other("masts[].name", &q::NAME, Kind::Words, Nothing),
    number(
        "masts[].parallel_pct",
        &q::MAST_PARALLEL,
        (0.0, 60.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(15.0),
    ),
    number(
        "masts[].partners_m",
        &q::PARTNERS,
        (0.1, 4.0),
        (-2.0, 12.0),
        (MM, CM),
        Rule("rule.partners"),
    ),
    number(
        "masts[].position_m",
        &q::MAST_POSITION,
        (-1.5, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].rake_deg",
        &q::MAST_RAKE,
        (-10.0, 8.0),
        (-45.0, 45.0),
        (0.1, 0.5),
        Value(0.0),
    ),
    number(
        "masts[].sail.attached_pct",
        &q::ATTACHED,
        (25.0, 40.0),
        (5.0, 60.0),
        (0.1, 1.0),
        Value(33.0),
    ),
    // Sail.
    number(
        "masts[].sail.balance_pct",
        &q::BALANCE,
        (0.0, 36.0),
        (-50.0, 100.0),
        (0.1, 0.5),
        Rule("rule.balance"),
    ),
    // 0.006 to 0.016 of the chord, for chords of 0.8 to 9 m; flat battens are deeper.
    number(
        "masts[].sail.batten_depth_m",
        &q::BATTEN_DEPTH,
        (0.005, 0.15),
        (0.001, 0.6),
        (MM, MM),
        Rule("rule.batten_depth"),
    ),
    number(
        "masts[].sail.boom_depth_m",
        &q::BOOM_DEPTH,
        (0.005, 0.3),
        (0.001, 0.6),
        (MM, MM),
        Rule("rule.boom_depth"),
    ),
    number(
        "masts[].sail.boom_height_m",
        &q::BOOM_HEIGHT,
        (0.1, 2.5),
        (-2.0, 12.0),
        (MM, CM),
        Value(0.6),
    ),
    number(
        "masts[].sail.boom_rise_deg",
        &q::BOOM_RISE,
        (-5.0, 20.0),
        (-45.0, 60.0),
        (0.1, 0.5),
        Rule("rule.boom_rise"),
    ),
    number(
        "masts[].sail.chord_m",
        &q::CHORD,
        (0.8, 9.0),
        (0.2, 40.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].sail.chord_share_pct",
        &q::CHORD_SHARE,
        (25.0, 50.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Rule("rule.chord_share"),
    ),
    other(
        "masts[].sail.cut",
        &q::CUT,
        Kind::Choice(&["flat", "cambered", "wing", "split", "paired"]),
        Word("flat"),
    ),
    // 1 to 15 % of LAP, for masts of 3 to 18 m.
    number(
        "masts[].sail.drift_m",
        &q::DRIFT,
        (0.03, 2.7),
        (0.0, 20.0),
        (MM, CM),
        Rule("rule.drift"),
    ),
    number(
        "masts[].sail.drop_m",
        &q::DROP,
        (0.0, 0.2),
        (0.0, 3.0),
        (MM, MM),
        Value(0.03),
    ),
    number(
        "masts[].sail.efficiency_pct",
        &q::EFFICIENCY,
        (50.0, 110.0),
        (1.0, 200.0),
        (0.1, 1.0),
        Value(100.0),
    ),
    other(
        "masts[].sail.family",
        &q::FAMILY,
        Kind::Choice(&["fanned-head", "full-fan", "low-yard", "table"]),
        Word("fanned-head"),
    ),
    number(
        "masts[].sail.folded_cloth_m",
        &q::FOLDED_CLOTH,
        (0.005, 0.09),
        (0.0, 0.5),
        (MM, MM),
        Rule("rule.folded_cloth"),
    ),
    number(
        "masts[].sail.halyard_angle_deg",
        &q::HALYARD_ANGLE_LIMIT,
        (0.0, 30.0),
        (0.0, 90.0),
        (0.1, 1.0),
        Value(15.0),
    ),
    whole(
        "masts[].sail.head_panels",
        &q::HEAD_PANELS,
        (0.0, 12.0),
        Rule("rule.head_panels"),
    ),
    // Only the ratio of the steps counts; one may be nothing (two spars parallel).
    number(
        "masts[].sail.head_steps[]",
        &q::HEAD_STEP,
        (0.2, 5.0),
        (0.0, 100.0),
        (CM, 0.1),
        Rule("rule.head_steps"),
    ),
    number(
        "masts[].sail.head_widths_pct[]",
        &q::HEAD_WIDTH,
        (15.0, 100.0),
        (1.0, 400.0),
        (0.1, 1.0),
        Rule("rule.head_widths"),
    ),
    other(
        "masts[].sail.hold_chord",
        &q::HOLD_CHORD,
        Kind::Flag,
        Nothing,
    ),
    other("masts[].sail.hold_luff", &q::HOLD_LUFF, Kind::Flag, Nothing),
    other("masts[].sail.hold_mast", &q::HOLD_MAST, Kind::Flag, Nothing),
    number(
        "masts[].sail.leech_kink_deg",
        &q::LEECH_KINK_LIMIT,
        (5.0, 40.0),
        (0.0, 180.0),
        (0.1, 1.0),
        Value(25.0),
    ),
    number(
        "masts[].sail.leech_round_pct",
        &q::LEECH_ROUND,
        (-4.0, 4.0),
        (-25.0, 25.0),
        (0.1, 0.1),
        Value(0.0),
    ),
    number(
        "masts[].sail.luff_rake_deg",
        &q::LUFF_RAKE,
        (-10.0, 15.0),
        (-45.0, 45.0),
        (0.1, 0.5),
        Value(0.0),
    ),
    number(
        "masts[].sail.luff_round_pct",
        &q::LUFF_ROUND,
        (-4.0, 4.0),
        (-25.0, 25.0),
        (0.1, 0.1),
        Value(0.0),
    ),
    number(
        "masts[].sail.masthead_clearance_m",
        &q::MASTHEAD_CLEARANCE,
        (0.0, 0.5),
        (0.0, 10.0),
        (MM, CM),
        Value(0.1),
    ),
    number(
        "masts[].sail.offset_m",
        &q::OFFSET,
        (0.0, 0.3),
        (0.0, 2.0),
        (MM, MM),
        Rule("rule.offset"),
    ),
    // 0.12 to 0.32 of the chord, for chords of 0.8 to 9 m.
    number(
        "masts[].sail.panel_width_m",
        &q::PANEL_WIDTH,
        (0.09, 2.9),
        (0.02, 15.0),
        (MM, CM),
        Rule("rule.panel_width"),
    ),
    whole("masts[].sail.panels", &q::PANELS, (1.0, 12.0), Value(6.0)),
    number(
        "masts[].sail.rise_deg",
        &q::RISE,
        (-5.0, 20.0),
        (-45.0, 60.0),
        (0.1, 0.5),
        Value(8.0),
    ),
    other(
        "masts[].sail.side",
        &q::SIDE,
        Kind::Choice(&["port", "starboard"]),
        Word("port"),
    ),
    number(
        "masts[].sail.side_force",
        &q::SIDE_FORCE,
        (0.7, 1.6),
        (0.05, 4.0),
        (0.01, 0.05),
        Rule("rule.side_force"),
    ),
    number(
        "masts[].sail.sling_pct",
        &q::SLING_POINT,
        (40.0, 60.0),
        (0.0, 100.0),
        (0.1, 1.0),
        Value(48.0),
    ),
    // A spar of the table: from the lowest boom to the peak of the greatest sail above. Angles
    // finer than elsewhere, so that a plan written into the table keeps its shape to a millimetre.
    number(
        "masts[].sail.spars[].aft_m",
        &q::SPAR_AFT,
        (-3.0, 6.0),
        (-40.0, 40.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].sail.spars[].angle_deg",
        &q::SPAR_ANGLE,
        (-5.0, 80.0),
        (-60.0, 90.0),
        (CM, 0.5),
        Nothing,
    ),
    number(
        "masts[].sail.spars[].length_m",
        &q::SPAR_LENGTH,
        (0.3, 10.4),
        (0.05, 50.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].sail.spars[].up_m",
        &q::SPAR_UP,
        (-1.0, 20.0),
        (-10.0, 80.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].sail.squared_off_deg",
        &q::SQUARED_OFF,
        (70.0, 95.0),
        (5.0, 180.0),
        (0.1, 1.0),
        Value(85.0),
    ),
    number(
        "masts[].sail.travel_pct",
        &q::TRAVEL,
        (0.0, 30.0),
        (0.0, 100.0),
        (0.1, 0.5),
        Rule("rule.travel"),
    ),
    number(
        "masts[].sail.yard_angle_deg",
        &q::YARD_ANGLE,
        (0.0, 80.0),
        (-45.0, 90.0),
        (0.1, 0.5),
        Rule("rule.yard_angle"),
    ),
    number(
        "masts[].sail.yard_depth_m",
        &q::YARD_DEPTH,
        (0.005, 0.4),
        (0.001, 0.6),
        (MM, MM),
        Rule("rule.yard_depth"),
    ),
    number(
        "masts[].sail.yard_length_pct",
        &q::YARD_LENGTH,
        (60.0, 115.0),
        (5.0, 300.0),
        (0.1, 1.0),
        Rule("rule.yard_length"),
    ),
    // What mast and spars are made of.
    choice(
        "masts[].spars.battens_kind",
        &q::SPAR_KIND,
        BEAMS,
        Word("tube"),
    ),
    material("masts[].spars.battens_material"),
    wall("masts[].spars.battens_wall_m", Rule("rule.spar_wall")),
    choice(
        "masts[].spars.boom_kind",
        &q::SPAR_KIND,
        BEAMS,
        Word("tube"),
    ),
    material("masts[].spars.boom_material"),
    wall("masts[].spars.boom_wall_m", Rule("rule.spar_wall")),
    number(
        "masts[].spars.fitting_m",
        &q::FITTING_OUT,
        (0.0, 0.3),
        (0.0, 2.0),
        (MM, MM),
        Value(0.08),
    ),
    number(
        "masts[].spars.gin_m",
        &q::GIN_POLE,
        (0.0, 6.0),
        (0.0, 30.0),
        (MM, CM),
        Value(0.0),
    ),
    plain(
        "masts[].spars.head_kg",
        &q::HEAD_MASS,
        (0.0, 15.0),
        (0.0, 500.0),
        0.1,
        Value(2.0),
    ),
    number(
        "masts[].spars.hinge_m",
        &q::HINGE,
        (-0.5, 2.5),
        (-5.0, 20.0),
        (MM, CM),
        Value(0.0),
    ),
    plain(
        "masts[].spars.mast_heel_pct",
        &q::MAST_HEEL,
        (50.0, 100.0),
        (10.0, 200.0),
        0.1,
        Value(75.0),
    ),
    choice(
        "masts[].spars.mast_kind",
        &q::SPAR_KIND,
        POLES,
        Word("tube"),
    ),
    material("masts[].spars.mast_material"),
    whole(
        "masts[].spars.mast_staves",
        &q::STAVES,
        (4.0, 16.0),
        Value(8.0),
    ),
    wall("masts[].spars.mast_wall_m", Rule("rule.mast_wall")),
    plain(
        "masts[].spars.overlap_pct",
        &q::OVERLAP,
        (150.0, 500.0),
        (50.0, 1000.0),
        1.0,
        Value(250.0),
    ),
    across(
        "masts[].spars.pieces[].diameter_m",
        &q::SPAR_DIAMETER,
        Nothing,
    ),
    long("masts[].spars.pieces[].length_m", Nothing),
    material("masts[].spars.pieces[].material"),
    across(
        "masts[].spars.pieces[].top_diameter_m",
        &q::PIECE_TOP,
        Nothing,
    ),
    wall("masts[].spars.pieces[].wall_m", Nothing),
    number(
        "masts[].spars.plies[].angle_deg",
        &q::PLY_ANGLE,
        (0.0, 90.0),
        (-90.0, 90.0),
        (0.1, 5.0),
        Value(0.0),
    ),
    choice("masts[].spars.plies[].ply", &q::PLY, PLIES, Word("e-glass")),
    choice(
        "masts[].spars.plies[].spar",
        &q::OF_SPAR,
        &["mast", "battens"],
        Word("mast"),
    ),
    number(
        "masts[].spars.plies[].thickness_m",
        &q::PLY_THICKNESS,
        (0.0001, 0.01),
        (0.000_01, 0.1),
        (0.01 * MM, 0.1 * MM),
        Nothing,
    ),
    number(
        "masts[].spars.raise_at_m",
        &q::RAISE_AT,
        (0.5, 18.0),
        (0.01, 60.0),
        (MM, CM),
        Rule("rule.raise_at"),
    ),
    whole(
        "masts[].spars.raise_parts",
        &q::LINE_PARTS,
        (1.0, 6.0),
        Value(4.0),
    ),
    number(
        "masts[].spars.raise_x_m",
        &q::RAISE_X,
        (0.3, 15.0),
        (0.01, 60.0),
        (MM, CM),
        Rule("rule.raise_x"),
    ),
    number(
        "masts[].spars.raise_z_m",
        &q::RAISE_Z,
        (-2.0, 3.0),
        (-20.0, 20.0),
        (MM, CM),
        Value(0.0),
    ),
    number(
        "masts[].spars.sleeve_m",
        &q::SLEEVE,
        (0.2, 12.0),
        (0.01, 60.0),
        (MM, CM),
        Rule("rule.sleeve"),
    ),
    material("masts[].spars.special[].material"),
    whole(
        "masts[].spars.special[].spar",
        &q::HOLD_SPAR,
        (0.0, 12.0),
        Nothing,
    ),
    wall("masts[].spars.special[].wall_m", Nothing),
    choice(
        "masts[].spars.upper_material",
        &q::UPPER_MATERIAL,
        TIMBERS,
        Word("douglas-fir"),
    ),
    number(
        "masts[].spars.weak[].height_m",
        &q::WEAK_AT,
        (-3.0, 18.0),
        (-20.0, 60.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].spars.weak[].hole_m",
        &q::HOLE,
        (0.003, 0.1),
        (0.0005, 1.0),
        (0.1 * MM, MM),
        Nothing,
    ),
    plain(
        "masts[].spars.weak[].left_pct",
        &q::STRENGTH_LEFT,
        (40.0, 100.0),
        (1.0, 100.0),
        0.1,
        Value(70.0),
    ),
    choice(
        "masts[].spars.weak[].spar",
        &q::OF_SPAR,
        &["mast", "boom", "battens", "yard"],
        Word("mast"),
    ),
    choice(
        "masts[].spars.weak[].what",
        &q::WEAKNESS,
        &["weld", "hole", "tabernacle", "joint"],
        Word("joint"),
    ),
    number(
        "masts[].spars.wedge_height_m",
        &q::WEDGE_HEIGHT,
        (0.03, 0.3),
        (0.005, 2.0),
        (MM, CM),
        Value(0.1),
    ),
    number(
        "masts[].spars.wedge_thickness_m",
        &q::WEDGE_THICKNESS,
        (0.003, 0.06),
        (0.0, 0.5),
        (MM, MM),
        Value(0.02),
    ),
    choice(
        "masts[].spars.yard_kind",
        &q::SPAR_KIND,
        BEAMS,
        Word("tube"),
    ),
    material("masts[].spars.yard_material"),
    wall("masts[].spars.yard_wall_m", Rule("rule.spar_wall")),
    number(
        "masts[].to_m",
        &q::MAST_TO,
        (-2.0, 25.0),
        (-20.0, 100.0),
        (MM, CM),
        Nothing,
    ),
    number(
        "masts[].top_diameter_m",
        &q::MAST_TOP_DIAMETER,
        (0.015, 0.4),
        (0.002, 1.5),
        (MM, MM),
        Rule("rule.top_diameter"),
    ),
    number(
        "masts[].weights.batten_kg",
        &q::BATTEN_MASS,
        (0.1, 30.0),
        (0.0, 2000.0),
        (0.01, 0.1),
        Rule("rule.section"),
    ),
    number(
        "masts[].weights.boom_kg",
        &q::BOOM_MASS,
        (0.2, 60.0),
        (0.0, 2000.0),
        (0.01, 0.1),
        Rule("rule.section"),
    ),
    number(
        "masts[].weights.cloth_gsm",
        &q::CLOTH_WEIGHT,
        (60.0, 500.0),
        (10.0, 5000.0),
        (1.0, 5.0),
        Rule("rule.cloth_weight"),
    ),
    number(
        "masts[].weights.yard_kg",
        &q::YARD_MASS,
        (0.2, 100.0),
        (0.0, 2000.0),
        (0.01, 0.1),
        Rule("rule.section"),
    ),
    // The project.
    other("name", &q::NAME, Kind::Words, Nothing),
    other("note", &q::NOTE, Kind::Words, Nothing),
    whole(
        "reefs.sequence[][]",
        &q::PANELS_LOWERED,
        (0.0, 12.0),
        Nothing,
    ),
    // Strength of the spars.
    plain(
        "spars.cap_kn",
        &q::WIND_CAP,
        (30.0, 70.0),
        (5.0, 150.0),
        0.1,
        Value(45.0),
    ),
    plain(
        "spars.cloth_stiffness",
        &q::CLOTH_STIFFNESS,
        (20.0, 2000.0),
        (1.0, 1e5),
        1.0,
        Value(200.0),
    ),
    plain(
        "spars.coefficient",
        &q::STRENGTH_COEFFICIENT,
        (1.2, 2.0),
        (0.1, 5.0),
        0.01,
        Value(1.5),
    ),
    plain(
        "spars.dynamic",
        &q::SPAR_DYNAMIC,
        (1.0, 2.0),
        (1.0, 10.0),
        0.01,
        Value(1.3),
    ),
    plain(
        "spars.floor_kn",
        &q::WIND_FLOOR,
        (8.0, 30.0),
        (0.0, 150.0),
        0.1,
        Value(16.0),
    ),
    plain(
        "spars.gust",
        &q::GUST,
        (1.1, 1.6),
        (1.0, 3.0),
        0.01,
        Value(1.3),
    ),
    plain(
        "spars.gybe",
        &q::GYBE_FACTOR,
        (1.0, 3.0),
        (1.0, 10.0),
        0.01,
        Value(1.5),
    ),
    plain(
        "spars.heel_deg",
        &q::STRENGTH_HEEL,
        (15.0, 45.0),
        (0.0, 90.0),
        0.1,
        Value(30.0),
    ),
    number(
        "spars.kerf_m",
        &q::KERF,
        (0.001, 0.008),
        (0.0, 0.05),
        (0.1 * MM, MM),
        Value(0.004),
    ),
    whole("spars.late_reefs", &q::LATE_REEFS, (0.0, 3.0), Value(1.0)),
    plain(
        "spars.mast_alloy",
        &q::FACTOR_ALLOY,
        (1.25, 2.5),
        (1.0, 50.0),
        0.01,
        Value(1.5),
    ),
    plain(
        "spars.mast_bend_pct",
        &q::BEND_LIMIT,
        (1.0, 15.0),
        (0.1, 100.0),
        0.1,
        Value(8.0),
    ),
    plain(
        "spars.mast_class",
        &q::FACTOR_CLASS,
        (1.25, 2.0),
        (1.0, 50.0),
        0.01,
        Value(1.3),
    ),
    plain(
        "spars.mast_clear",
        &q::FACTOR_CLEAR,
        (2.5, 5.0),
        (1.0, 50.0),
        0.01,
        Value(3.0),
    ),
    plain(
        "spars.mast_laminate",
        &q::FACTOR_LAMINATE,
        (2.5, 5.0),
        (1.0, 50.0),
        0.01,
        Value(3.0),
    ),
    plain(
        "spars.materials[].bearing",
        &q::MATERIAL_BEARING,
        (0.0, 300.0),
        (0.0, 1e4),
        0.1,
        Nothing,
    ),
    plain(
        "spars.materials[].compression",
        &q::MATERIAL_COMPRESSION,
        (5.0, 2000.0),
        (0.1, 1e4),
        0.1,
        Nothing,
    ),
    plain(
        "spars.materials[].density",
        &q::MATERIAL_DENSITY,
        (250.0, 9000.0),
        (50.0, 25e3),
        1.0,
        Nothing,
    ),
    choice(
        "spars.materials[].kind",
        &q::MATERIAL_KIND,
        &["alloy", "clear", "class", "laminate"],
        Word("alloy"),
    ),
    other("spars.materials[].name", &q::NAME, Kind::Words, Nothing),
    plain(
        "spars.materials[].shear",
        &q::MATERIAL_SHEAR,
        (0.0, 300.0),
        (0.0, 1e4),
        0.1,
        Nothing,
    ),
    plain(
        "spars.materials[].stiffness",
        &q::MATERIAL_STIFFNESS,
        (4.0, 300.0),
        (0.01, 1000.0),
        0.01,
        Nothing,
    ),
    plain(
        "spars.materials[].strength",
        &q::MATERIAL_STRENGTH,
        (10.0, 3000.0),
        (0.1, 1e4),
        0.1,
        Nothing,
    ),
    choice("spars.rule", &q::MAST_RULE, &["a", "b"], Word("a")),
    plain(
        "spars.spar_alloy",
        &q::FACTOR_ALLOY,
        (1.1, 2.5),
        (1.0, 50.0),
        0.01,
        Value(1.3),
    ),
    plain(
        "spars.spar_bend_pct",
        &q::BEND_LIMIT,
        (0.5, 5.0),
        (0.1, 100.0),
        0.1,
        Value(2.5),
    ),
    plain(
        "spars.spar_class",
        &q::FACTOR_CLASS,
        (1.25, 2.0),
        (1.0, 50.0),
        0.01,
        Value(1.3),
    ),
    plain(
        "spars.spar_clear",
        &q::FACTOR_CLEAR,
        (2.0, 5.0),
        (1.0, 50.0),
        0.01,
        Value(2.5),
    ),
    plain(
        "spars.spar_laminate",
        &q::FACTOR_LAMINATE,
        (2.0, 5.0),
        (1.0, 50.0),
        0.01,
        Value(2.5),
    ),
    plain(
        "spars.statics",
        &q::SPAR_STATICS,
        (1.3, 4.0),
        (1.0, 10.0),
        0.01,
        Value(2.0),
    ),
    across("spars.stock[].diameter_m", &q::SPAR_DIAMETER, Nothing),
    choice(
        "spars.stock[].form",
        &q::STOCK_FORM,
        &["tube", "timber"],
        Word("tube"),
    ),
    long("spars.stock[].length_m", Value(6.0)),
    material("spars.stock[].material"),
    plain(
        "spars.stock[].price",
        &q::PRICE,
        (0.0, 2e4),
        (0.0, 1e5),
        0.01,
        Nothing,
    ),
    wall("spars.stock[].wall_m", Nothing),
    plain(
        "spars.storm_kn",
        &q::STORM_WIND,
        (48.0, 90.0),
        (10.0, 200.0),
        0.1,
        Value(64.0),
    ),
    number(
        "wind.angle_deg",
        &q::WIND_ANGLE,
        (35.0, 180.0),
        (0.0, 180.0),
        (0.1, 1.0),
        Value(50.0),
    ),
    number(
        "wind.boat_speed_kn",
        &q::BOAT_SPEED,
        (1.0, 14.0),
        (0.0, 60.0),
        (0.01, 0.1),
        Rule("rule.boat_speed"),
    ),
    number(
        "wind.bundle_drag",
        &q::BUNDLE_DRAG,
        (0.6, 1.4),
        (0.0, 4.0),
        (0.01, 0.05),
        Value(1.0),
    ),
    number(
        "wind.comfort_deg",
        &q::COMFORT_HEEL,
        (5.0, 25.0),
        (1.0, 80.0),
        (0.1, 1.0),
        Rule("rule.comfort"),
    ),
    number(
        "wind.exponent",
        &q::HEEL_EXPONENT,
        (0.0, 2.0),
        (0.0, 6.0),
        (0.01, 0.1),
        Value(1.3),
    ),
    number(
        "wind.gradient_pct",
        &q::GRADIENT,
        (0.0, 25.0),
        (0.0, 60.0),
        (0.1, 1.0),
        Value(14.3),
    ),
    number(
        "wind.hull_drag",
        &q::HULL_DRAG,
        (0.6, 1.4),
        (0.0, 4.0),
        (0.01, 0.05),
        Value(1.0),
    ),
    number(
        "wind.mast_drag",
        &q::MAST_DRAG,
        (0.6, 1.4),
        (0.0, 4.0),
        (0.01, 0.05),
        Value(1.1),
    ),
    number(
        "wind.overbalance_pct",
        &q::OVERBALANCE_MARGIN,
        (0.0, 15.0),
        (-50.0, 50.0),
        (0.1, 1.0),
        Value(3.0),
    ),
    number(
        "wind.running_force",
        &q::RUNNING_FORCE,
        (1.0, 1.5),
        (0.05, 4.0),
        (0.01, 0.05),
        Value(1.2),
    ),
    number(
        "wind.shift_pct",
        &q::SHIFT_LIMIT,
        (1.0, 8.0),
        (0.1, 100.0),
        (0.1, 0.5),
        Value(3.0),
    ),
];
