//! Words of the trade for glossary and lesson.

use drawing::{Medium, naming};

use crate::bench::Bench;

impl Bench {
    /// Key, name, meaning, and `yes` where the drawing can point at it now, else nothing.
    pub fn named_parts(&mut self) -> Vec<Vec<String>> {
        let frame = self.last_frame();
        let mut rows = Vec::with_capacity(64);
        for (key, has) in naming::parts(&self.moment(Medium::Screen), &frame) {
            let yes = if has { "yes" } else { "" };
            rows.push(vec![
                key.to_owned(),
                self.word(&["part.", key].concat()),
                self.word(&["help.part.", key].concat()),
                yes.to_owned(),
            ]);
        }
        rows
    }
}
