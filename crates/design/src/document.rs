//! A document in hand: the tree, and its typed reading kept in step with it.

use quantities::listed::Listed as _;
use quantities::{Kind, Problem, bounds};
use serde_json::Value;

use crate::design::Design;
use crate::migrate::migrate;
use crate::reading::{Reading, read};
use crate::tree::{Edit, Step, Tree, number, number_of};

/// One design being worked on.
#[derive(Clone, Debug)]
pub struct Document {
    tree: Tree,
    reading: Reading,
}

impl Document {
    /// Opens a text of this version or an earlier one.
    ///
    /// # Errors
    /// Broken JSON, a value of the wrong type (with its path), more of anything than a design can
    /// hold, a newer version.
    pub fn open(text: &str) -> Result<Self, Problem> {
        let mut tree = Tree::parse(text)?;
        migrate(&mut tree)?;
        let reading = read(&tree)?;
        Ok(Self { tree, reading })
    }

    /// The canonical text.
    pub fn text(&self) -> String {
        self.tree.text()
    }

    pub(crate) fn root(&self) -> &Value {
        self.tree.root()
    }

    /// The typed reading.
    pub fn design(&self) -> &Design {
        &self.reading.design
    }

    /// What the reading found wrong; the account has problems of its own.
    pub fn problems(&self) -> &[Problem] {
        &self.reading.problems
    }

    /// What stands at a path, as it was typed.
    pub fn value(&self, path: &str) -> Option<&Value> {
        self.tree.get(path)
    }

    /// The number that stands at a path, document units.
    pub fn number(&self, path: &str) -> Option<f64> {
        self.tree.get(path).and_then(number_of)
    }

    /// Makes all edits as one step; numbers are rounded to the step of their row unless the edit
    /// says exact.
    ///
    /// # Errors
    /// As [`Tree::edit`] and [`Document::open`]; nothing is then changed.
    pub fn edit(&mut self, edits: &[Edit]) -> Result<Vec<Step>, Problem> {
        let rounded: Vec<Edit> = edits.iter().map(rounded).listed();
        let steps = self.tree.edit(&rounded)?;
        self.read_anew(&steps, false)?;
        Ok(steps)
    }

    /// Reads the tree as steps have left it, or takes them back.
    fn read_anew(&mut self, steps: &[Step], back: bool) -> Result<(), Problem> {
        match read(&self.tree) {
            Ok(reading) => self.reading = reading,
            Err(problem) => {
                self.tree.apply(steps, !back)?;
                return Err(problem);
            }
        }
        Ok(())
    }

    /// The document that the edits make of this one, and the steps to it.
    ///
    /// # Errors
    /// As [`Document::edit`].
    pub fn edited(&self, edits: &[Edit]) -> Result<(Self, Vec<Step>), Problem> {
        let mut other = self.clone();
        let steps = other.edit(edits)?;
        Ok((other, steps))
    }

    /// Makes steps again, or undoes them (`back`), to the byte.
    ///
    /// # Errors
    /// Steps of another document; nothing is then changed.
    pub fn apply(&mut self, steps: &[Step], back: bool) -> Result<(), Problem> {
        self.tree.apply(steps, back)?;
        self.read_anew(steps, back)
    }
}

/// The edit with its number on the step of its row.
fn rounded(edit: &Edit) -> Edit {
    let mut edit = edit.clone();
    let row = bounds::row(&edit.path).filter(|row| row.kind == Kind::Number && !edit.exact);
    if let (Some(row), Some(value)) = (row, edit.value.as_ref().and_then(number_of))
        && value.is_finite()
    {
        edit.value = Some(number(row.rounded(value)));
    }
    edit
}
