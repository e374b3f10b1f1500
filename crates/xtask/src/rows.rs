//! The bounds rows as TypeScript, so that a mistyped path in the page fails the type check.

use std::collections::BTreeSet;
use std::fmt::Write;

/// A declaration file with two unions: `Path`, the leaves of a document; `Branch`, what holds them.
///
/// `paths` are pattern paths: `masts[].sail.chord_m` stands for the chord of every mast.
pub(crate) fn types<'a>(paths: impl IntoIterator<Item = &'a str>) -> String {
    let mut leaves = BTreeSet::new();
    let mut branches = BTreeSet::new();
    for path in paths {
        let leaf = path.replace("[]", ".${number}");
        let dots = leaf.match_indices('.').map(|(dot, _)| dot);
        branches.extend(dots.map(|dot| leaf[..dot].to_owned()));
        leaves.insert(leaf);
    }
    let mut text =
        String::from("// Made by `cargo xtask build` from the bounds rows of crate quantities.\n");
    union(
        &mut text,
        "Path",
        "One value of a design document.",
        &leaves,
    );
    union(
        &mut text,
        "Branch",
        "An object or a list of values of a design document.",
        &branches,
    );
    text
}

fn union(text: &mut String, name: &str, about: &str, members: &BTreeSet<String>) {
    // Writing to a String cannot fail.
    let _ = write!(text, "\n/** {about} */\nexport type {name} =");
    if members.is_empty() {
        text.push_str(" never");
    }
    for member in members {
        let _ = write!(text, "\n  | `{member}`");
    }
    text.push_str(";\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn list_index_becomes_any_number_and_each_step_a_branch() {
        let text = types([
            "boat.loa_m",
            "masts[].sail.spars[].aft_m",
            "masts[].sail.head_steps[]",
        ]);
        let (leaves, branches) = text.split_once("export type Branch").unwrap();
        for leaf in [
            "boat.loa_m",
            "masts.${number}.sail.spars.${number}.aft_m",
            "masts.${number}.sail.head_steps.${number}",
        ] {
            assert!(
                leaves.contains(&format!("\n  | `{leaf}`")),
                "{leaf} in {leaves}"
            );
        }
        let expected = "boat masts masts.${number} masts.${number}.sail masts.${number}.sail.head_steps \
                        masts.${number}.sail.spars masts.${number}.sail.spars.${number}";
        let found: Vec<_> = branches.split('`').skip(1).step_by(2).collect();
        assert_eq!(found, expected.split_whitespace().collect::<Vec<_>>());
    }

    #[test]
    fn no_rows_give_a_type_that_takes_nothing() {
        assert!(types([]).contains("export type Path = never;"));
    }
}
