//! What a drawing is made from.

use design::{Account, Design, Pose, View};
use quantities::{Catalogue, Quantity, Text};

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

    /// What a mast is called: by its name, else by its number.
    pub fn mast_name(&self, mast: usize) -> String {
        match self.account.masts.get(mast) {
            Some(account) if !account.name.trim().is_empty() => account.name.clone(),
            _ => {
                let text = Text::new("mast.numbered").with("number", mast as u32 + 1);
                self.words.say(&text, self.view.units)
            }
        }
    }

    /// How far a sail is lowered: whole panels, and the one that is on its way.
    pub fn lowered(&self, mast: usize) -> Option<Text> {
        let pose = self.pose.masts.get(mast)?.as_ref()?;
        let panels = self.account.masts.get(mast)?.reefs.as_ref()?.n_panels();
        let text = match pose.folding {
            Some(folding) => Text::new("drawing.folding").with("folding", folding as u32),
            None => Text::new("drawing.lowered"),
        };
        let lowered = pose.hoist.floor().max(0.0) as u32;
        Some(text.with("lowered", lowered).with("n", panels as u32))
    }

    /// The same of every sail in words, with several masts mast by mast.
    pub(crate) fn state(&self) -> Vec<String> {
        let masts = self.account.masts.len();
        let mut lines = Vec::with_capacity(masts);
        for mast in 0..masts {
            let Some(mut text) = self.lowered(mast) else {
                continue;
            };
            if masts > 1 {
                let line = Text::new("drawing.of_mast").with("mast", self.mast_name(mast));
                text = line.with("state", text);
            }
            lines.push(self.words.say(&text, self.view.units));
        }
        lines
    }
}
