//! From every earlier version of the document to the present one: one function per version, on
//! the tree. A document of each version is kept in `tests/documents` and its numbers compared.

use quantities::{Problem, Text};
use serde_json::Value;

use crate::tree::{Tree, number, number_of, take};

/// The `format` of a document.
pub const FORMAT: &str = "battenwright-design";

/// The present version.
pub const VERSION: u32 = 1;

/// Brings a tree to the present version.
///
/// # Errors
/// A tree that is no design, or one of a version still to come.
pub fn migrate(tree: &mut Tree) -> Result<(), Problem> {
    let not_a_design = || Problem::refused("format", Text::new("problem.not_a_design"));
    let mut version = match (tree.get("format"), tree.get("version")) {
        (Some(Value::String(format)), Some(version)) if format == FORMAT => {
            let version = number_of(version).filter(|v| v.fract() == 0.0 && *v >= 1.0);
            let version =
                version.ok_or_else(|| Problem::refused("version", Text::new("problem.version")))?;
            if version > f64::from(VERSION) {
                return Err(Problem::refused(
                    "version",
                    Text::new("problem.newer_version")
                        .with("version", version.min(1e9) as u32)
                        .with("known", VERSION),
                ));
            }
            version as u32
        }
        // The first documents had no format, only `"version": 0`.
        (None, Some(version)) if number_of(version) == Some(0.0) => 0,
        _ => return Err(not_a_design()),
    };
    if version == 0 {
        format_named_and_yard_in_percent(tree.root_mut());
        version = 1;
    }
    debug_assert_eq!(version, VERSION);
    Ok(())
}

/// Version 0 to 1: the format gets its name; the length of the yard, a share of the chord in
/// `sail.yard_length`, becomes per cent in `sail.yard_length_pct`.
fn format_named_and_yard_in_percent(root: &mut Value) {
    let Some(root) = root.as_object_mut() else {
        return;
    };
    root.insert("format".to_owned(), Value::String(FORMAT.to_owned()));
    root.insert("version".to_owned(), Value::from(1));
    let masts = root.get_mut("masts").and_then(Value::as_array_mut);
    for mast in masts.into_iter().flatten() {
        let Some(sail) = mast.get_mut("sail").and_then(Value::as_object_mut) else {
            continue;
        };
        let Some(length) = take(sail, "yard_length") else {
            continue;
        };
        // What is not a number is moved as it is: the reading names it.
        let length = match number_of(&length) {
            Some(share) if share.abs() < 1e9 => number((share * 1e8).round() / 1e6),
            _ => length,
        };
        sail.insert("yard_length_pct".to_owned(), length);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn migrated(text: &str) -> Result<String, Problem> {
        let mut tree = Tree::parse(text)?;
        migrate(&mut tree)?;
        Ok(tree.text())
    }

    #[test]
    fn the_first_version_gets_its_format_and_its_yard_in_percent() {
        assert_eq!(
            migrated(
                r#"{"version":0,"kept":[1.50],"masts":[{"sail":{"yard_length":0.95}},{"sail":{"yard_length":"x"}},7]}"#
            )
            .unwrap(),
            r#"{"format":"battenwright-design","kept":[1.50],"masts":[{"sail":{"yard_length_pct":95}},{"sail":{"yard_length_pct":"x"}},7],"version":1}"#
        );
    }

    #[test]
    fn the_present_version_is_left_alone_and_others_are_told_apart() {
        let present = r#"{"format":"battenwright-design","version":1}"#;
        assert_eq!(migrated(present).unwrap(), present);
        for (text, key) in [
            (
                r#"{"format":"battenwright-design","version":2}"#,
                "problem.newer_version",
            ),
            (
                r#"{"format":"battenwright-design","version":1e99}"#,
                "problem.newer_version",
            ),
            (
                r#"{"format":"battenwright-design","version":0}"#,
                "problem.version",
            ),
            (
                r#"{"format":"battenwright-design","version":1.5}"#,
                "problem.version",
            ),
            (
                r#"{"format":"battenwright-design","version":"1"}"#,
                "problem.version",
            ),
            (
                r#"{"format":"battenwright-design"}"#,
                "problem.not_a_design",
            ),
            (r#"{"format":"other","version":1}"#, "problem.not_a_design"),
            ("{}", "problem.not_a_design"),
            ("[]", "problem.not_a_design"),
        ] {
            assert_eq!(migrated(text).unwrap_err().text.key, key, "{text}");
        }
    }
}
