//! The drawing in words, for those who do not see it.

use drawing::Medium;
use quantities::listed::joined;
use quantities::quantity::{
    AREA, AREA_SHARE, CE_AFT, CE_AFT_WATERLINE, CE_UP, TOTAL_AREA, YARD_HEIGHT,
};
use quantities::{Quantity, Text};

use crate::bench::Bench;

impl Bench {
    /// Panels lowered, area, centre of effort and yard height as they are now; while the curves of the mast are drawn, what
    /// they come to.
    pub fn reading(&self) -> String {
        let mut said = vec![self.rig_reading()];
        if self.view.shown.curves {
            for told in self.spar_verdict() {
                said.extend(told.into_iter().nth(1));
            }
        }
        joined(&said, " ")
    }

    fn rig_reading(&self) -> String {
        if self.pose.masts.iter().all(Option::is_none) {
            return self.word("reading.no_sail");
        }
        if self.n_masts() < 2 {
            return self.one_sail();
        }
        let standing = self.pose.standing.filter(|standing| standing.area > 0.0);
        let mut sentences = vec![match standing {
            Some(standing) => self.say(
                &Text::new("reading.rig")
                    .with("area", (standing.area, &TOTAL_AREA))
                    .with("share", measure(self.pose.share, &AREA_SHARE))
                    .with("aft", (standing.x, &CE_AFT_WATERLINE))
                    .with("up", (standing.z, &CE_UP)),
            ),
            None => self.word("reading.rig_down"),
        }];
        for mast in 0..self.n_masts() {
            let text = Text::new("reading.mast").with("mast", self.mast_name(mast));
            sentences.extend(self.panels_and_yard(mast, text).map(|text| self.say(&text)));
        }
        joined(&sentences, " ")
    }

    fn one_sail(&self) -> String {
        let standing = self.state_now(0).filter(|row| row.area > 0.0);
        let text = match (standing, self.centre_now(0)) {
            (Some(row), Some((aft, up))) => Text::new("reading.sail")
                .with("area", (row.area, &AREA))
                .with("share", measure(row.share, &AREA_SHARE))
                .with("place", aft_of_mast(aft))
                .with("up", (up, &CE_UP)),
            _ => Text::new("reading.down"),
        };
        let text = self.panels_and_yard(0, text);
        text.map_or_else(String::new, |text| self.say(&text))
    }

    /// The sentence with panels lowered and yard height filled in.
    fn panels_and_yard(&self, mast: usize, text: Text) -> Option<Text> {
        let text = text.with("state", self.moment(Medium::Screen).lowered(mast)?);
        Some(text.with("yard", (self.yard_height_now(mast)?, &YARD_HEIGHT)))
    }
}

/// Where a centre lies from its mast.
fn aft_of_mast(aft: f64) -> Text {
    let key = if aft < 0.0 {
        "reading.ahead_of_mast"
    } else {
        "reading.aft_of_mast"
    };
    Text::new(key).with("value", (aft.abs(), &CE_AFT))
}

/// A result for a sentence, from SI.
fn measure(si: f64, quantity: &'static Quantity) -> (f64, &'static Quantity) {
    (quantity.document_from_si(si), quantity)
}
