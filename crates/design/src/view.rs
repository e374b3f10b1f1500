//! What the user looks at. Not design: never saved in it, never undone, no input of the account.

use quantities::{Part, Units};

/// One way of looking at a design.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    /// Units of every number shown.
    pub units: Units,
    /// The mast whose sail is being worked on, from 0.
    pub mast: usize,
    /// Panels lowered per mast, with fractions; a mast without an entry stands at full hoist.
    pub hoist: Vec<f64>,
    /// Sheeting angle, boom to starboard positive [rad].
    pub sheeting: f64,
    /// True wind at 10 m that is looked at [m/s].
    pub wind: f64,
    /// Dark scheme.
    pub dark: bool,
    /// What is drawn besides boat and rig.
    pub shown: Shown,
    /// Magnification; 1 = all of it fits.
    pub zoom: f64,
    /// Shift of the drawing [CSS px].
    pub pan_x: f64,
    /// See `pan_x` [CSS px].
    pub pan_y: f64,
    /// Handle being held; empty = none.
    pub active: String,
    /// What a check in hand is about, on the mast being worked on.
    pub pointed: Option<Part>,
    /// Parts named on the drawing, on the mast being worked on: their keys with blanks between; empty = none.
    pub named: String,
    /// The line in hand, of the mast being worked on.
    pub line: Option<rigging::Line>,
    /// All lines are drawn, not halyard, sheets and lifts alone: while they are worked on.
    pub lines: bool,
    /// Whether there is anything to take hold of: not where the design is only looked at.
    pub hands: bool,
}

/// What is drawn besides boat and rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Dimensions.
    pub dimensions: bool,
    /// Parrel marks with heights.
    pub parrels: bool,
    /// Sheets and lifts.
    pub lifts: bool,
    /// Centres of effort of all reefs.
    pub trail: bool,
    /// Moment, stress and bend along the mast in hand; dimensions and heights give way to them.
    pub curves: bool,
    /// How far she heels, as a number: not while a class is asked for it.
    pub heel: bool,
}

impl Default for View {
    fn default() -> Self {
        Self {
            units: Units::METRIC,
            mast: 0,
            hoist: Vec::new(),
            sheeting: 0.0,
            wind: 7.0,
            dark: false,
            shown: Shown {
                dimensions: true,
                parrels: true,
                lifts: true,
                trail: true,
                curves: false,
                heel: true,
            },
            zoom: 1.0,
            pan_x: 0.0,
            pan_y: 0.0,
            active: String::new(),
            pointed: None,
            named: String::new(),
            line: None,
            lines: false,
            hands: true,
        }
    }
}
