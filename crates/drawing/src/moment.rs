//! What a drawing is made from.

use design::{Account, Design, Pose, View};
use quantities::{Catalogue, Quantity};

/// One moment of a design, as one user looks at it.
#[derive(Clone, Copy, Debug)]
pub struct Moment<'a> {
    /// What was designed.
    pub design: &'a Design,
    /// What it amounts to.
    pub account: &'a Account,
    /// Where everything is now.
    pub pose: &'a Pose,
    /// What the user wants to see, in which units.
    pub view: &'a View,
    /// Words of the user's language.
    pub words: &'a Catalogue,
    /// For the screen or for paper.
    pub medium: Medium,
}

/// Where a drawing is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Medium {
    /// With handles; its name stands elsewhere on the page unless there is room to spare.
    Screen,
    /// Without handles, with its name.
    Paper,
}

impl Moment<'_> {
    /// A number alone, from SI: lengths and angles on a drawing share one unit, told once.
    pub(crate) fn number(&self, si: f64, quantity: &Quantity) -> String {
        quantity.spell(quantity.document_from_si(si), self.view.units)
    }
}
