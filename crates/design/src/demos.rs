//! Designs to begin with: three invented boats, and a blank one.

use quantities::Problem;

use crate::document::Document;

/// A design that comes with the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demo {
    /// Its name in addresses and tests; shown as `demo.<key>`.
    pub key: &'static str,
    /// Catalogue key of one line about it.
    pub about: &'static str,
    source: &'static str,
}

impl Demo {
    /// The document in hand.
    ///
    /// # Errors
    /// None for the documents compiled in: a test opens them.
    pub fn open(&self) -> Result<Document, Problem> {
        Document::open(self.source)
    }

    /// The canonical text.
    pub fn text(&self) -> String {
        self.open()
            .map_or_else(|_| self.source.to_owned(), |d| d.text())
    }
}

/// Three invented boats.
pub fn demos() -> &'static [Demo] {
    &[
        Demo {
            key: "saltwort",
            about: "demo.saltwort",
            source: include_str!("../demos/saltwort.json"),
        },
        Demo {
            key: "marsh-pippin",
            about: "demo.marsh_pippin",
            source: include_str!("../demos/marsh-pippin.json"),
        },
        Demo {
            key: "grey-heron",
            about: "demo.grey_heron",
            source: include_str!("../demos/grey-heron.json"),
        },
    ]
}

/// A plain boat and sail to change: every plain default written in.
pub fn blank() -> Demo {
    Demo {
        key: "blank",
        about: "demo.blank",
        source: include_str!("../demos/blank.json"),
    }
}
