//! What is wrong with an input ([`Problem`]) and what is worth a look in a result ([`Check`]).

use crate::{Quantity, Text};

/// What a number rests on. Shown to the user beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Basis {
    /// Printed somewhere a reader can look up: author, title, place.
    Published(&'static str),
    /// Follows by geometry or statics; the help states the equation.
    Derived,
    /// What the trade does, with no source: a starting point that the user may change.
    CommonPractice,
}

impl Basis {
    /// Catalogue key of the word for this basis.
    pub const fn key(self) -> &'static str {
        match self {
            Basis::Published(_) => "basis.published",
            Basis::Derived => "basis.derived",
            Basis::CommonPractice => "basis.common_practice",
        }
    }

    /// The basis in words; a published one names its source.
    pub fn text(self) -> Text {
        match self {
            Basis::Published(source) => Text::new(self.key()).with("source", source.to_string()),
            _ => Text::new(self.key()),
        }
    }
}

/// An input that cannot be used, or that is used but lies outside its usual range.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Problem {
    /// Path of the field in the document, with indices: `masts.0.sail.chord_m`.
    pub path: String,
    /// Quantity, value, allowed range, and a next step where one is likely.
    pub text: Text,
    /// True: the value is not used; what the field has when empty stands in its place.
    /// False: the value is used as it stands, and may be meant.
    pub refused: bool,
}

impl Problem {
    /// A warning: the value is used.
    pub fn new(path: impl Into<String>, text: Text) -> Problem {
        Problem {
            path: path.into(),
            text,
            refused: false,
        }
    }

    /// A refusal: the value is not used.
    pub fn refused(path: impl Into<String>, text: Text) -> Problem {
        Problem {
            path: path.into(),
            text,
            refused: true,
        }
    }
}

/// How much a check asks of the user, mildest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Severity {
    /// Within its limit.
    Passed,
    /// Outside its limit; may be meant.
    Look,
    /// Outside its limit in a way that breaks, blinds or will not set.
    Danger,
}

/// The part of the boat or rig that a check concerns, so that the drawing can point at it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Part {
    /// Nothing in particular.
    None,
    /// Hull, deck or waterline.
    Hull,
    /// Coachroof.
    Coachroof,
    /// Cockpit and the crew's sight line.
    Cockpit,
    /// Mast.
    Mast,
    /// Boom.
    Boom,
    /// Batten, 1 = the lowest.
    Batten(usize),
    /// Yard.
    Yard,
    /// Panel, 1 = between boom and batten 1.
    Panel(usize),
    /// Luff.
    Luff,
    /// Leech.
    Leech,
    /// Lowered panels and battens on the boom.
    Bundle,
    /// Halyard and sling point.
    Halyard,
    /// Topping lifts.
    Lifts,
    /// Parrel of the spar with this number: boom 0, batten 1 upward.
    Parrel(usize),
    /// The sail as a whole.
    Sail,
}

/// A result compared with its limit.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Check {
    /// Name in its crate's table of checks.
    pub key: &'static str,
    /// Which mast, counted from 0; none = the boat as a whole.
    pub mast: Option<usize>,
    /// Which row of the reef table, counted from 0; none = every state.
    pub state: Option<usize>,
    /// The value found, in document units.
    pub value: Option<(f64, &'static Quantity)>,
    /// The limit it is held against, in document units.
    pub limit: Option<(f64, &'static Quantity)>,
    /// What the limit rests on.
    pub basis: Basis,
    /// Passed, or how bad.
    pub severity: Severity,
    /// What was found.
    pub text: Text,
    /// What to do about it.
    pub advice: Text,
    /// Where it is.
    pub part: Part,
}
