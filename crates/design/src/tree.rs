//! The document as a tree: opened from text, changed by path, undone to the byte.
//!
//! A path is the keys from the root down, joined by dots; a list index is a key of digits:
//! `masts.0.sail.chord_m`. Whatever the tree holds and this version does not know stays in it.
//! Numbers keep the digits they were typed with.

use crate::json;
use quantities::bounds::{self, MOST_CHARACTERS, MOST_POINTS};
use quantities::listed::Listed as _;
use quantities::{Problem, Text, units};
use serde_json::{Map, Number, Value};

/// Longest text that is opened [bytes].
pub const MOST_BYTES: usize = 1_000_000;

/// Deepest nesting of lists and objects: below the JSON reader's own limit of 128, so that what
/// was edited can be opened again.
pub(crate) const MOST_DEPTH: usize = 100;

/// A document of any version, its counts checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    root: Value,
    /// Bytes of text, never less than there are.
    bytes: usize,
}

/// One wanted change.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// Where.
    pub path: String,
    /// What is to stand there; `None` removes it.
    pub value: Option<Value>,
    /// True: the number stays as it is; false: it is rounded to the step of its row.
    pub exact: bool,
}

/// One change made, enough to undo and redo it. In a list, what was not there is inserted and
/// what is no longer there closes up.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Where.
    pub path: String,
    /// What stood there; `None` = nothing.
    pub old: Option<Value>,
    /// What stands there now; `None` = nothing.
    pub new: Option<Value>,
}

impl Tree {
    /// Opens a text.
    ///
    /// # Errors
    /// Broken JSON, something else than an object, or more of anything than a design can hold.
    pub fn parse(text: &str) -> Result<Self, Problem> {
        if text.len() > MOST_BYTES {
            return Err(too_large(""));
        }
        let root = json::read(text).map_err(|fault| {
            Problem::refused(
                "",
                Text::new("problem.syntax")
                    .with("line", fault.line() as u32)
                    .with("column", fault.column() as u32),
            )
        })?;
        if !root.is_object() {
            return Err(Problem::refused("", Text::new("problem.not_a_design")));
        }
        check_counts("", &root)?;
        Ok(Self {
            root,
            bytes: text.len(),
        })
    }

    /// The canonical text: keys sorted, no blanks, digits as typed.
    pub fn text(&self) -> String {
        written(&self.root)
    }

    /// What stands at a path.
    pub fn get(&self, path: &str) -> Option<&Value> {
        let mut node = &self.root;
        for part in path.split('.') {
            node = match node {
                Value::Object(entries) => entries.get(part)?,
                Value::Array(items) => items.get(index(part)?)?,
                _ => return None,
            };
        }
        Some(node)
    }

    /// The whole tree.
    pub(crate) fn root(&self) -> &Value {
        &self.root
    }

    /// The whole tree, for migrations.
    pub(crate) fn root_mut(&mut self) -> &mut Value {
        &mut self.root
    }

    /// Makes all changes as one step and tells what was changed; with a problem, makes none.
    ///
    /// What has to stand above a new value is made too. An index one past the end lengthens
    /// the list.
    ///
    /// # Errors
    /// A path that leads through a value that holds nothing, or more than a design can hold.
    pub fn edit(&mut self, edits: &[Edit]) -> Result<Vec<Step>, Problem> {
        let mut steps = Vec::with_capacity(edits.len());
        for edit in edits {
            match self.edit_one(edit) {
                Ok(Some(step)) => steps.push(step),
                Ok(None) => {}
                Err(problem) => {
                    self.apply(&steps, true)?;
                    return Err(problem);
                }
            }
        }
        Ok(steps)
    }

    fn edit_one(&mut self, edit: &Edit) -> Result<Option<Step>, Problem> {
        let Some(mut new) = edit.value.clone() else {
            let old = self.get(&edit.path).cloned();
            if old.is_none() {
                return Ok(None);
            }
            let step = Step {
                path: edit.path.clone(),
                old,
                new: None,
            };
            self.put(&step.path, true, None)?;
            return Ok(Some(step));
        };
        if let Some(old) = self.get(&edit.path) {
            if *old == new {
                return Ok(None);
            }
            let step = Step {
                path: edit.path.clone(),
                old: Some(old.clone()),
                new: Some(new),
            };
            self.grow(&step)?;
            self.put(&step.path, true, step.new.clone())?;
            return Ok(Some(step));
        }
        if edit.path.split('.').count() > MOST_DEPTH {
            return Err(too_many(&edit.path));
        }
        // Climb to the lowest ancestor that holds something and wrap the value in what is missing.
        let mut path = edit.path.as_str();
        while let Some((above, last)) = path.rsplit_once('.') {
            if self.get(above).is_some_and(|node| !node.is_null()) {
                break;
            }
            new = match index(last) {
                Some(0) => Value::Array(vec![new]),
                Some(_) => return Err(no_such_place(&edit.path)),
                None => {
                    let mut entries = Map::new();
                    entries.insert(last.to_owned(), new);
                    Value::Object(entries)
                }
            };
            path = above;
        }
        let step = Step {
            path: path.to_owned(),
            // A null that stood for nothing.
            old: self.get(path).cloned(),
            new: Some(new),
        };
        self.grow(&step)?;
        self.put(&step.path, step.old.is_some(), step.new.clone())
            .map_err(|_| no_such_place(&edit.path))?;
        Ok(Some(step))
    }

    /// Makes steps again, or undoes them (`back`), last first.
    ///
    /// # Errors
    /// Steps that do not belong to this tree; the tree is then as it was.
    pub fn apply(&mut self, steps: &[Step], back: bool) -> Result<(), Problem> {
        let before = self.clone();
        let done = if back {
            steps
                .iter()
                .rev()
                .try_for_each(|s| self.put(&s.path, s.new.is_some(), s.old.clone()))
        } else {
            steps.iter().try_for_each(|s| {
                self.grow(s)?;
                self.put(&s.path, s.old.is_some(), s.new.clone())
            })
        };
        if done.is_err() {
            *self = before;
        }
        done
    }

    /// Puts a value at a path whose parent is there. `there` tells whether something stands there
    /// already: in a list it decides between replacing and inserting.
    fn put(&mut self, path: &str, there: bool, value: Option<Value>) -> Result<(), Problem> {
        let fault = || no_such_place(path);
        let (above, last) = path.rsplit_once('.').unwrap_or(("", path));
        let mut node = &mut self.root;
        for part in above.split('.').filter(|part| !part.is_empty()) {
            node = match node {
                Value::Object(entries) => entries.get_mut(part),
                Value::Array(items) => index(part).and_then(|i| items.get_mut(i)),
                _ => None,
            }
            .ok_or_else(fault)?;
        }
        match node {
            Value::Object(entries) => {
                if entries.contains_key(last) != there {
                    return Err(fault());
                }
                match value {
                    Some(value) => entries.insert(last.to_owned(), value),
                    None => take(entries, last),
                };
            }
            Value::Array(items) => {
                let at = index(last).ok_or_else(fault)?;
                match value {
                    Some(value) if there => *items.get_mut(at).ok_or_else(fault)? = value,
                    Some(value) if at <= items.len() => items.insert(at, value),
                    None if there && at < items.len() => drop(items.remove(at)),
                    _ => return Err(fault()),
                }
                if items.len() > MOST_POINTS {
                    return Err(too_many(above));
                }
            }
            _ => return Err(fault()),
        }
        Ok(())
    }

    /// Refuses a step that would make the tree too deep, too wide or too long to open again.
    fn grow(&mut self, step: &Step) -> Result<(), Problem> {
        let Some(value) = &step.new else {
            return Ok(());
        };
        check_counts(&step.path, value)?;
        let added = step.path.len() + written(value).len();
        if self.bytes + added > MOST_BYTES {
            self.bytes = self.text().len();
            if self.bytes + added > MOST_BYTES {
                return Err(too_large(&step.path));
            }
        }
        self.bytes += added + 8;
        Ok(())
    }
}

impl Edit {
    /// A number, rounded to the step of its row when it is made.
    pub fn number(path: impl Into<String>, value: f64) -> Self {
        Self {
            path: path.into(),
            value: Some(number(value)),
            exact: false,
        }
    }

    /// A number that must not be rounded.
    pub fn exact(path: impl Into<String>, value: f64) -> Self {
        Self {
            exact: true,
            ..Self::number(path, value)
        }
    }

    /// Anything else than a number.
    pub fn value(path: impl Into<String>, value: Value) -> Self {
        Self {
            path: path.into(),
            value: Some(value),
            exact: false,
        }
    }

    /// Back to the rule or the usual value.
    pub fn remove(path: impl Into<String>) -> Self {
        Self {
            path: path.into(),
            value: None,
            exact: false,
        }
    }

    /// Reads `[["masts.0.sail.chord_m", 4.43], ["boat.coachroof", null]]`; a third entry
    /// `"exact"` keeps the number from being rounded.
    ///
    /// # Errors
    /// Anything else.
    pub fn read_list(json: &str) -> Result<Vec<Self>, Problem> {
        let Some(items) = read_array(json) else {
            return Err(broken_list());
        };
        items
            .into_iter()
            .map(|item| {
                let Value::Array(parts) = item else {
                    return None;
                };
                let mut parts = parts.into_iter();
                let Some(Value::String(path)) = parts.next() else {
                    return None;
                };
                let value = parts.next()?;
                let exact = parts.next();
                Some(Self {
                    path,
                    value: (!value.is_null()).then_some(value),
                    exact: exact.is_some_and(|word| word == "exact"),
                })
            })
            .collect::<Option<_>>()
            .ok_or_else(broken_list)
    }

    /// The same list as text.
    pub fn write_list(edits: &[Self]) -> String {
        let items = edits.iter().map(|edit| {
            let value = edit.value.clone().unwrap_or(Value::Null);
            let mut parts = vec![Value::String(edit.path.clone()), value];
            if edit.exact {
                parts.push(Value::String("exact".to_owned()));
            }
            Value::Array(parts)
        });
        written(&Value::Array(items.listed()))
    }
}

impl Step {
    /// Reads `[{"path": .., "old": .., "new": ..}]`; a missing `old` or `new` means nothing there.
    ///
    /// # Errors
    /// Anything else.
    pub fn read_list(json: &str) -> Result<Vec<Self>, Problem> {
        let Some(items) = read_array(json) else {
            return Err(broken_list());
        };
        items
            .into_iter()
            .map(|item| {
                let Value::Object(parts) = item else {
                    return None;
                };
                Some(Self {
                    path: parts.get("path")?.as_str()?.to_owned(),
                    old: parts.get("old").cloned(),
                    new: parts.get("new").cloned(),
                })
            })
            .collect::<Option<_>>()
            .ok_or_else(broken_list)
    }

    /// The same list as text.
    pub fn write_list(steps: &[Self]) -> String {
        let items = steps.iter().map(|step| {
            let mut parts = Map::new();
            parts.insert("path".to_owned(), Value::String(step.path.clone()));
            if let Some(old) = &step.old {
                parts.insert("old".to_owned(), old.clone());
            }
            if let Some(new) = &step.new {
                parts.insert("new".to_owned(), new.clone());
            }
            Value::Object(parts)
        });
        written(&Value::Array(items.listed()))
    }
}

/// What stood under a key, taken out. A map's own `remove` keeps its tree in balance, 3 KB of code.
pub(crate) fn take(entries: &mut Map<String, Value>, key: &str) -> Option<Value> {
    let mut taken = None;
    for (name, value) in std::mem::take(entries) {
        if name == key {
            taken = Some(value);
        } else {
            entries.insert(name, value);
        }
    }
    taken
}

/// One way to write for all: a value's own `to_string` is a second writer, with io errors and their words.
pub(crate) fn written(value: &Value) -> String {
    // Strings as keys and finite numbers only: this cannot fail.
    serde_json::to_string(value).unwrap_or_default()
}

/// A number with as few digits as name it; infinite values become nothing at all.
pub fn number(value: f64) -> Value {
    if value.fract() == 0.0 && value.abs() < 1e15 {
        return Value::Number(Number::from(value as i64));
    }
    if !value.is_finite() {
        return Value::Null;
    }
    // Not by way of its text: serde_json's float printing is in the wasm anyway, std's need not be.
    Number::from_f64(value).map_or(Value::Null, Value::Number)
}

/// A row of a list by the patterns of its leaves, each number rounded to its step.
pub fn list_row(leaves: &[(&str, f64)]) -> Map<String, Value> {
    let mut entries = Map::new();
    for (path, value) in leaves {
        let value = bounds::row(path).map_or(*value, |row| row.rounded(*value));
        let leaf = path.rsplit('.').next().unwrap_or(path);
        entries.insert(leaf.to_owned(), number(value));
    }
    entries
}

/// A row of the table of spars: luff end aft of the tack and above it [m], angle [deg], length [m].
pub fn spar_row([aft, up, angle, length]: [f64; 4]) -> Value {
    Value::Object(list_row(&[
        ("masts[].sail.spars[].aft_m", aft),
        ("masts[].sail.spars[].up_m", up),
        ("masts[].sail.spars[].angle_deg", angle),
        ("masts[].sail.spars[].length_m", length),
    ]))
}

/// A number of the tree; one too large for a double is infinite.
pub fn number_of(value: &Value) -> Option<f64> {
    let Value::Number(digits) = value else {
        return None;
    };
    units::decimal(digits.as_str())
}

/// Counts of everything below `root`, without recursion.
fn check_counts(path: &str, root: &Value) -> Result<(), Problem> {
    let deep = path.split('.').count();
    let mut open = vec![(root, deep)];
    while let Some((node, depth)) = open.pop() {
        if depth > MOST_DEPTH {
            return Err(too_many(path));
        }
        match node {
            Value::Array(items) if items.len() > MOST_POINTS => return Err(too_many(path)),
            Value::Array(items) => open.extend(items.iter().map(|item| (item, depth + 1))),
            Value::Object(entries) => {
                if entries.len() > MOST_POINTS {
                    return Err(too_many(path));
                }
                open.extend(entries.values().map(|item| (item, depth + 1)));
            }
            // Bytes first: counting characters is for the few that might be too long.
            Value::String(words)
                if words.len() > MOST_CHARACTERS && words.chars().count() > MOST_CHARACTERS =>
            {
                return Err(Problem::refused(
                    path,
                    Text::new("problem.long_text").with("most", MOST_CHARACTERS as u32),
                ));
            }
            _ => {}
        }
    }
    Ok(())
}

/// A list index: digits only, none more than a list can have.
fn index(part: &str) -> Option<usize> {
    let digits = !part.is_empty() && part.len() <= 4 && part.bytes().all(|b| b.is_ascii_digit());
    digits.then(|| part.parse().ok()).flatten()
}

fn read_array(json: &str) -> Option<Vec<Value>> {
    match json::read(json) {
        Ok(Value::Array(items)) => Some(items),
        _ => None,
    }
}

fn broken_list() -> Problem {
    Problem::refused("", Text::new("problem.edits"))
}

fn no_such_place(path: &str) -> Problem {
    Problem::refused(
        path,
        Text::new("problem.no_such_place").with("path", path.to_owned()),
    )
}

fn too_many(path: &str) -> Problem {
    Problem::refused(
        path,
        Text::new("problem.too_many").with("most", MOST_POINTS as u32),
    )
}

fn too_large(path: &str) -> Problem {
    Problem::refused(path, Text::new("problem.document_large"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::json;

    fn tree() -> Tree {
        Tree::parse(r#"{"b":{"x":4.430,"big":1e999},"a":[1,2.50,{"deep":[]}],"z":"word"}"#).unwrap()
    }

    #[test]
    fn text_is_sorted_and_keeps_the_digits_typed() {
        assert_eq!(
            tree().text(),
            r#"{"a":[1,2.50,{"deep":[]}],"b":{"big":1e+999,"x":4.430},"z":"word"}"#
        );
        assert_eq!(number_of(tree().get("b.big").unwrap()), Some(f64::INFINITY));
        assert_eq!(number_of(tree().get("a.1").unwrap()), Some(2.5));
    }

    #[test]
    fn what_is_missing_above_a_value_is_made_with_it_and_undone_with_it() {
        let mut t = tree();
        let before = t.text();
        let steps = t
            .edit(&[
                Edit::number("boat.coachroof.from_m", 2.0),
                Edit::number("boat.coachroof.to_m", 3.5),
                Edit::value("new.0.sail.name", json!("fore")),
                Edit::number("a.3", 7.0),
                Edit::remove("a.0"),
                Edit::remove("nowhere"),
            ])
            .unwrap();
        assert_eq!(steps.len(), 5);
        assert_eq!(
            t.text(),
            r#"{"a":[2.50,{"deep":[]},7],"b":{"big":1e+999,"x":4.430},"boat":{"coachroof":{"from_m":2,"to_m":3.5}},"new":[{"sail":{"name":"fore"}}],"z":"word"}"#
        );
        let after = t.text();
        let steps = Step::read_list(&Step::write_list(&steps)).unwrap();
        t.apply(&steps, true).unwrap();
        assert_eq!(t.text(), before);
        t.apply(&steps, false).unwrap();
        assert_eq!(t.text(), after);
    }

    #[test]
    fn a_null_that_stands_in_the_tree_is_told_from_nothing() {
        let mut t = Tree::parse(r#"{"a":null}"#).unwrap();
        let steps = t.edit(&[Edit::number("a", 1.0)]).unwrap();
        assert_eq!(
            Step::write_list(&steps),
            r#"[{"new":1,"old":null,"path":"a"}]"#
        );
        let steps = Step::read_list(&Step::write_list(&steps)).unwrap();
        t.apply(&steps, true).unwrap();
        assert_eq!(t.text(), r#"{"a":null}"#);
        let steps = t.edit(&[Edit::number("a.b.0", 1.0)]).unwrap();
        assert_eq!(t.text(), r#"{"a":{"b":[1]}}"#);
        t.apply(&steps, true).unwrap();
        assert_eq!(t.text(), r#"{"a":null}"#);
    }

    #[test]
    fn one_edit_that_cannot_be_leaves_all_undone() {
        let mut t = tree();
        let before = t.text();
        for path in ["z.0", "a.9", "a.word", "b.x.more", "fresh.3.x", "", "a..b"] {
            let result = t.edit(&[Edit::number("b.y", 2.0), Edit::number(path, 1.0)]);
            if path.is_empty() {
                // The empty key is a key like any other.
                t.apply(&result.unwrap(), true).unwrap();
            } else {
                assert_eq!(result.unwrap_err().path, path);
            }
            assert_eq!(t.text(), before, "{path}");
        }
    }

    #[test]
    fn steps_of_another_tree_are_refused_whole() {
        let mut t = tree();
        let before = t.text();
        let foreign = [
            Step {
                path: "b.y".into(),
                old: None,
                new: Some(json!(1)),
            },
            Step {
                path: "q.r".into(),
                old: Some(json!(1)),
                new: None,
            },
        ];
        assert!(t.apply(&foreign, false).is_err());
        assert!(t.apply(&foreign, true).is_err());
        assert_eq!(t.text(), before);
    }

    #[test]
    fn counts_are_bounded_on_opening_and_on_editing() {
        let wide = format!(r#"{{"a":[{}1]}}"#, "1,".repeat(2000));
        assert_eq!(Tree::parse(&wide).unwrap_err().text.key, "problem.too_many");
        let deep = format!(r#"{{"a":{}1{}}}"#, "[".repeat(110), "]".repeat(110));
        assert_eq!(Tree::parse(&deep).unwrap_err().text.key, "problem.too_many");
        let deeper = format!(r#"{{"a":{}1{}}}"#, "[".repeat(9000), "]".repeat(9000));
        assert_eq!(Tree::parse(&deeper).unwrap_err().text.key, "problem.syntax");
        let long = format!(r#"{{"a":"{}"}}"#, "ü".repeat(2001));
        assert_eq!(
            Tree::parse(&long).unwrap_err().text.key,
            "problem.long_text"
        );
        let heavy = format!(r#"{{"a":"{}"}}"#, " ".repeat(1_000_000));
        assert_eq!(
            Tree::parse(&heavy).unwrap_err().text.key,
            "problem.document_large"
        );
        let mut t = tree();
        let mut more = (0..600).map(|i| {
            let words = Value::String("w".repeat(2000));
            t.edit(&[Edit::value(format!("k{i}"), words)])
        });
        assert!(more.any(|edited| edited.is_err()));
        drop(more);
        assert!(t.text().len() <= MOST_BYTES && t.text().len() > MOST_BYTES - 4000);
        assert!(Tree::parse(&t.text()).is_ok());
        let path = vec!["p"; 200].join(".");
        assert!(t.edit(&[Edit::number(path, 1.0)]).is_err());
        // Not even made: what is nested so deep cannot be let go of again without recursion.
        for key in ["p", "0"] {
            let path = vec![key; 300_000].join(".");
            let problem = t.edit(&[Edit::number(path, 1.0)]).unwrap_err();
            assert_eq!(problem.text.key, "problem.too_many");
        }
    }

    #[test]
    fn lists_of_edits_are_read_and_written() {
        let json = r#"[["a.b",4.43],["c",null],["d",0.1,"exact"]]"#;
        let edits = Edit::read_list(json).unwrap();
        assert!(edits[1].value.is_none() && edits[2].exact && !edits[0].exact);
        assert_eq!(Edit::write_list(&edits), json);
        for broken in ["", "{}", "[1]", "[[1,2]]", r#"[["a"]]"#] {
            assert!(Edit::read_list(broken).is_err(), "{broken}");
            assert!(broken.is_empty() || Step::read_list(broken).is_err() || broken == "[]");
        }
    }

    proptest! {
        /// Whatever is edited, undoing all of it gives the first text, redoing it the last.
        #[test]
        fn undo_of_everything_gives_the_first_text(
            edits in prop::collection::vec(
                ("(a|b|c|new)(\\.(0|1|2|x|deep)){0,3}", prop::option::of(0..4u8)), 1..40),
        ) {
            let mut t = tree();
            let first = t.text();
            let mut undo = Vec::new();
            for (path, what) in edits {
                let value = what.map(|w| match w {
                    0 => json!(1.25),
                    1 => json!([1, 2]),
                    2 => json!({"x": "y"}),
                    _ => json!(null),
                });
                if let Ok(steps) = t.edit(&[Edit { path, value, exact: true }]) {
                    undo.push(steps);
                }
            }
            let last = t.text();
            for steps in undo.iter().rev() {
                t.apply(steps, true).unwrap();
            }
            prop_assert_eq!(t.text(), first);
            for steps in &undo {
                t.apply(steps, false).unwrap();
            }
            prop_assert_eq!(t.text(), last);
        }
    }
}
