//! Mast and spars in the document: words, usual values, units, lists.
#![allow(clippy::unwrap_used)]

mod support;

use design::{Edit, blank, in_use};
use quantities::Usual;
use quantities::bounds::{self, MATERIALS, PLIES, TIMBERS};
use quantities::units::KNOT;
use spars::Kind;
use spars::materials::row;
use support::{account_of, pippin, with};

/// Keys of the tables that are of one of these kinds, then the user's own.
fn keys(kinds: &[Kind]) -> Vec<&'static str> {
    let mut keys = Vec::new();
    let mut i = 0;
    while let Some(row) = row(i) {
        if kinds.contains(&row.material.kind) {
            keys.push(row.key);
        }
        i += 1;
    }
    keys.extend(["own-1", "own-2", "own-3", "own-4"]);
    keys
}

#[test]
fn words_of_materials_are_the_keys_of_the_tables() {
    use Kind::{Alloy, Class, Clear, Laminate};
    assert_eq!(MATERIALS, keys(&[Clear, Class, Alloy, Laminate]));
    assert_eq!(TIMBERS, keys(&[Clear, Class]));
    assert_eq!(PLIES, keys(&[Laminate]));
    assert_eq!(MATERIALS.len(), 24 + bounds::MOST_MATERIALS);
}

/// Defaults of spars, common practice, in SI; they stand in the docs of crate `spars` as well.
#[test]
fn what_is_left_empty_has_the_usual_values() {
    let document = blank().open().unwrap();
    let design = document.design();
    let rules = &design.spars.rules;
    for (key, usual) in [
        ("dynamic", 1.3),
        ("statics", 2.0),
        ("coefficient", 1.5),
        ("gust", 1.3),
        ("late_reefs", 1.0),
        ("floor_kn", 16.0 * KNOT),
        ("cap_kn", 45.0 * KNOT),
        ("gybe", 1.5),
        ("storm_kn", 64.0 * KNOT),
        ("heel_deg", 30f64.to_radians()),
        ("mast_alloy", 1.5),
        ("mast_clear", 3.0),
        ("mast_class", 1.3),
        ("mast_laminate", 3.0),
        ("spar_alloy", 1.3),
        ("spar_clear", 2.5),
        ("spar_class", 1.3),
        ("spar_laminate", 2.5),
        ("mast_bend_pct", 0.08),
        ("spar_bend_pct", 0.025),
        ("cloth_stiffness", 2e5),
        ("kerf_m", 0.004),
    ] {
        let found = rules.number(key).unwrap();
        assert!((found - usual).abs() < 1e-9, "{key} {found}");
    }
    assert_eq!(rules.numbers.len(), 22);
    assert_eq!(rules.word("rule"), "a");
    let made = &design.masts[0].spars.made;
    for (key, usual) in [
        ("mast_heel_pct", 0.75),
        ("mast_staves", 8.0),
        ("overlap_pct", 2.5),
        ("wedge_height_m", 0.10),
        ("wedge_thickness_m", 0.02),
        ("head_kg", 2.0),
        ("fitting_m", 0.08),
        ("hinge_m", 0.0),
        ("gin_m", 0.0),
        ("raise_z_m", 0.0),
        ("raise_parts", 4.0),
    ] {
        let found = made.number(key).unwrap();
        assert!((found - usual).abs() < 1e-12, "{key} {found}");
    }
    // What follows a rule is none until typed.
    assert_eq!(made.numbers.len(), 11);
    for kind in ["mast_kind", "battens_kind", "boom_kind", "yard_kind"] {
        assert_eq!(made.word(kind), "tube");
    }
    assert_eq!(made.word("mast_material"), "");
}

#[test]
fn a_material_of_ones_own_is_read_in_si_with_its_name() {
    let document = with(
        pippin(),
        &[(
            "spars.materials",
            r#"[{"name":"Ash from the yard","kind":"clear","density":650,"stiffness":11.5,"strength":95,
                "compression":48,"shear":9,"bearing":7.5}]"#,
        )],
    );
    assert!(document.problems().is_empty());
    let spars = &document.design().spars;
    assert_eq!(spars.names, ["Ash from the yard"]);
    let own = &spars.materials[0];
    assert_eq!(own.word("kind"), "clear");
    for (key, si) in [
        ("density", 650.0),
        ("stiffness", 11.5e9),
        ("strength", 95e6),
        ("compression", 48e6),
        ("shear", 9e6),
        ("bearing", 7.5e6),
    ] {
        let found = own.number(key).unwrap();
        assert!((found / si - 1.0).abs() < 1e-12, "{key} {found}");
    }
}

#[test]
fn rows_are_added_taken_out_and_undone() {
    for (list, leaf, first, second) in [
        ("spars.stock", "length_m", 6.0, 4.0),
        ("spars.materials", "density", 500.0, 600.0),
        ("masts.0.spars.pieces", "length_m", 3.0, 2.0),
        ("masts.0.spars.plies", "thickness_m", 0.002, 0.001),
        ("masts.0.spars.weak", "height_m", 1.0, 2.0),
        ("masts.0.spars.special", "spar", 1.0, 2.0),
    ] {
        let mut document = blank().open().unwrap();
        let bare = document.text();
        let path = |i: usize| format!("{list}.{i}.{leaf}");
        let mut steps = document.edit(&[Edit::number(path(0), first)]).unwrap();
        steps.extend(document.edit(&[Edit::number(path(1), second)]).unwrap());
        assert_eq!(document.number(&path(1)), Some(second));
        steps.extend(document.edit(&[Edit::remove(format!("{list}.0"))]).unwrap());
        assert_eq!(document.number(&path(0)), Some(second), "{list}");
        assert_eq!(document.number(&path(1)), None, "{list}");
        document.apply(&steps, true).unwrap();
        assert_eq!(document.text(), bare, "{list}");
    }
}

/// A rule's number stands in the field before anything is typed, and typed it changes nothing. Walls of battens are not one number.
#[test]
fn what_follows_a_rule_is_known_and_can_be_typed() {
    let battens = "masts.0.spars.battens_wall_m";
    for kind in ["tube", "hollow", "sleeved", "laminate"] {
        let word = format!("\"{kind}\"");
        let document = blank().open().unwrap();
        let document = with(document, &[("masts.0.spars.mast_kind", &word)]);
        let before = account_of(&document);
        let mut typed = document.clone();
        let mut found = 0;
        for row in bounds::ROWS {
            let of_spars = row.path.starts_with("masts[].spars.");
            if !of_spars || !matches!(row.usual, Usual::Rule(_)) {
                continue;
            }
            let path = row.path.replace("[]", ".0");
            let value = in_use(document.design(), &before, &path);
            if path == battens {
                assert_eq!(value, None);
                continue;
            }
            let value = value.unwrap_or_else(|| panic!("{path} is not known"));
            assert!(row.usable(value), "{path} {value}");
            typed.edit(&[Edit::exact(&path, value)]).unwrap();
            found += 1;
        }
        assert_eq!(found, 6);
        let after = account_of(&typed);
        assert_eq!(after.masts[0].spars, before.masts[0].spars, "{kind}");
        let other = with(document, &[("masts.0.spars.mast_wall_m", "0.0123")]);
        let wall = in_use(
            other.design(),
            &account_of(&other),
            "masts.0.spars.mast_wall_m",
        );
        assert_eq!(wall, Some(0.0123));
        assert_ne!(
            account_of(&other).masts[0].spars,
            before.masts[0].spars,
            "{kind}"
        );
    }
    let plies = r#"[{"spar":"battens","thickness_m":0.003}]"#;
    let laid = with(
        blank().open().unwrap(),
        &[
            ("masts.0.spars.battens_kind", "\"laminate\""),
            ("masts.0.spars.plies", plies),
        ],
    );
    let value = in_use(laid.design(), &account_of(&laid), battens);
    assert_eq!(value, Some(0.003));
}

/// Walls by rule, as the field tells it: 1/20 of the depth, of a yard 7/80, of battens of the upper half 1/10, at least 2 mm.
#[test]
fn walls_of_spars_follow_their_rule() {
    let deep = |depth: &str| {
        let sail = |leaf: &str| format!("masts.0.sail.{leaf}_depth_m");
        let leaves = ["boom", "batten", "yard"].map(sail);
        let edits = [0, 1, 2].map(|i| (leaves[i].as_str(), depth));
        let account = account_of(&with(blank().open().unwrap(), &edits));
        let spars = account.masts[0].spars.clone().unwrap().sail_input.spars;
        let walls = spars
            .iter()
            .map(|made| made.pole.pieces[0].walls.unwrap().0);
        walls.collect::<Vec<f64>>()
    };
    for (depth, least) in [("0.08", 0.004), ("0.03", 0.002)] {
        let walls = deep(depth);
        let n = walls.len() - 1;
        for (i, wall) in walls.into_iter().enumerate() {
            let times = match i {
                _ if i == n => 1.75,
                _ if 2 * i > n => 2.0,
                _ => 1.0,
            };
            assert!((wall - times * least).abs() < 1e-12, "{depth} {i} {wall}");
        }
    }
}
