//! Every check seen to pass and to fail, with its words.
#![allow(clippy::unwrap_used)]

mod support;

use std::collections::BTreeSet;

use design::checks::CHECKS;
use design::{Document, MastAccount, demos};
use kurbo::{PathEl, Point};
use quantities::{Catalogue, Check, Severity, Units};
use support::{account_of, failing, pippin, with};

/// The design a check is tried on: only one has a sail abaft another.
fn tried_on(key: &str) -> Document {
    match key {
        "sails_apart" | "sheet_neighbour" => demos()[2].open().unwrap(),
        _ => pippin(),
    }
}

/// A field and what is put into it.
type Put = (&'static str, &'static str);

/// Key, a design in which it fails, and what is then said.
const FAILING: &[(&str, &[Put], &str)] = &[
    (
        "aspect",
        &[
            ("masts.0.sail.chord_m", "2.2"),
            ("masts.0.sail.panels", "9"),
        ],
        "Aspect ratio is",
    ),
    (
        "panel_width",
        &[("masts.0.sail.panel_width_m", "0.5")],
        "Lowest panel is 0.50 m wide",
    ),
    (
        "balance",
        &[("masts.0.sail.balance_pct", "19")],
        "19.0% of the chord lies ahead of the mast",
    ),
    (
        "panel_convex",
        &[("masts.0.sail.boom_rise_deg", "40")],
        "Panel 1 folds over itself",
    ),
    (
        "head_step",
        &[("masts.0.sail.head_steps", "[0.2, 0.2, 3]")],
        "Panel 7 opens by",
    ),
    (
        "leech_kink",
        &[("masts.0.sail.leech_kink_deg", "10")],
        "Leech kinks by 14.1° at batten",
    ),
    (
        "cloth_folds",
        &[("masts.0.sail.folded_cloth_m", "0.4")],
        "cannot fold",
    ),
    ("slide_forced", &[], "Batten 6 must slide 137 mm aft"),
    (
        "travel",
        &[("masts.0.sail.travel_pct", "2")],
        "of travel; its parrel leaves 0.09 m",
    ),
    (
        "yard_at_mast",
        &[
            ("masts.0.sail.balance_pct", "1"),
            ("masts.0.sail.yard_length_pct", "80"),
        ],
        "Yard leaves the mast",
    ),
    (
        "halyard_angle",
        &[("masts.0.sail.sling_pct", "55")],
        "Halyard leaves the mast by",
    ),
    (
        "drift",
        &[("masts.0.lap_m", "7.6")],
        "Halyard is left 0.16 m block to block",
    ),
    (
        "over_coachroof",
        &[("boat.coachroof.height_m", "0.7")],
        "Boom passes 0.03 m above the coachroof",
    ),
    (
        "over_seat",
        &[("boat.cockpit_clearance_m", "1.4")],
        "Boom passes 1.29 m above the cockpit seat",
    ),
    (
        "sight",
        &[("boat.eye_height_m", "1.0")],
        "Boom and bundle hide the view ahead",
    ),
    (
        "boom_end",
        &[("boat.boom_end_clearance_m", "2.5")],
        "Boom end squared off is",
    ),
    (
        "sails_apart",
        &[("masts.0.position_m", "1.1")],
        "Sail reaches 0.19 m past the luff of main",
    ),
    (
        "air_draught",
        &[("boat.air_draught_m", "9.5")],
        "Highest point is 10.48 m above the water",
    ),
    (
        "mast_place",
        &[("masts.0.from_m", "2"), ("masts.0.to_m", "3")],
        "Mast stands at 1.50 m",
    ),
    (
        "overbalance",
        &[("wind.overbalance_pct", "15")],
        "Attached force lies 12.4% of the chord aft of the mast",
    ),
    (
        "spills",
        &[("masts.0.sail.balance_pct", "40")],
        "Attached force lies 18.8% of the chord ahead of the mast",
    ),
    (
        "lead",
        &[("masts.0.position_m", "0.9")],
        "CE lies 20.6% of LWL ahead of the CLR",
    ),
    (
        "lead_now",
        &[("masts.0.position_m", "0.9")],
        "CE lies 10.3% of LWL ahead of that of the rig she has",
    ),
    (
        "lead_shift",
        &[
            ("masts.0.sail.family", "\"low-yard\""),
            ("masts.0.rake_deg", "8"),
        ],
        "CE moves 8.1% of LWL aft as she is reefed",
    ),
    (
        "stable",
        &[("boat.stability", "\"form\""), ("boat.kg_pct", "150")],
        "GM is below nought",
    ),
    (
        "estimate",
        &[("boat.stability", "\"form\"")],
        "Her stability is known to ±28% only",
    ),
    (
        "sail_area",
        &[("boat.displacement_kg", "1000")],
        "Sail area over displacement is 30.4",
    ),
    (
        "reef_winds",
        &[
            ("masts.0.sail.folded_cloth_m", "0.4"),
            ("wind.bundle_drag", "4"),
        ],
        "A reef stands",
    ),
    (
        "two_blocked",
        &[(
            "masts.0.lines.spans",
            r#"[{"top":1,"ends":2,"length_m":8}]"#,
        )],
        "Sheet is two-blocked, boom 0° out",
    ),
    (
        "sheet_holds",
        &[("masts.0.lines.sheet.block_x_m", "1.5")],
        "Sheet does not hold the sail, boom 15° out",
    ),
    (
        "ends_gathered",
        &[(
            "masts.0.lines.spans",
            r#"[{"top":6,"ends":3},{"top":2,"ends":3}]"#,
        )],
        "Batten 3 is on no span",
    ),
    (
        "gybe",
        &[("lines.stretch_pct", "0.5"), ("lines.knot_pct", "25")],
        "Sheet: the rope bears an accidental gybe 1.",
    ),
    (
        "sail_held",
        &[
            ("masts.0.lines.luff.use", "\"none\""),
            ("masts.0.lines.yard.use", "\"none\""),
        ],
        "No hauling parrel keeps the sail from swinging under its sling",
    ),
    (
        "blocks_apart",
        &[(
            "masts.0.lines.spans",
            r#"[{"top":1,"ends":2,"length_m":3.75}]"#,
        )],
        "Span's block comes within 115 mm of the deck block",
    ),
    (
        "span_short",
        &[(
            "masts.0.lines.spans",
            r#"[{"top":6,"ends":2,"length_m":0.5}]"#,
        )],
        "A span is 1284 mm too short for its batten ends",
    ),
    (
        "sheet_leech",
        &[
            ("masts.0.lines.sheet.block_y_m", "-0.11"),
            ("masts.0.lines.sheet.block_x_m", "6.7"),
            (
                "masts.0.lines.spans",
                r#"[{"top":5,"ends":2,"length_m":1.75},{"top":3,"ends":2},{"top":1,"ends":2}]"#,
            ),
        ],
        "Sheet comes within",
    ),
    (
        "sheet_on_boat",
        &[("masts.0.lines.sheet.block_x_m", "29")],
        "A deck block stands 21776 mm off the boat",
    ),
    (
        "sheet_neighbour",
        &[("masts.0.lines.sheet.block_x_m", "5.2")],
        "into another mast or its sail, boom",
    ),
    (
        "sheet_coachroof",
        &[
            ("masts.0.lines.sheet.block_x_m", "4"),
            ("masts.0.lines.sheet.block_z_m", "0.8"),
        ],
        "through the coachroof, boom",
    ),
    (
        "sheet_deck",
        &[
            ("masts.0.lines.sheet.block_z_m", "-0.5"),
            (
                "masts.0.lines.spans",
                r#"[{"top":1,"ends":2,"length_m":3}]"#,
            ),
        ],
        "A span's block hangs 32 mm under the deck",
    ),
    (
        "sheet_lifeline",
        &[
            ("lines.lifeline_m", "0.6"),
            ("masts.0.lines.sheet.block_z_m", "0.8"),
        ],
        "under the lifeline, boom 85° out",
    ),
    (
        "span_catches",
        &[
            ("masts.0.lines.sheet.tip_m", "0.3"),
            (
                "masts.0.lines.spans",
                r#"[{"top":4,"ends":2,"length_m":4},{"top":2,"ends":3,"length_m":5}]"#,
            ),
        ],
        "A slack span can catch a batten end",
    ),
    (
        "lifts_off",
        &[
            ("masts.0.sail.travel_pct", "30"),
            ("masts.0.lines.lifts.height_m", "2"),
        ],
        "Lifts are 171 mm off as the boom moves",
    ),
    (
        "sheet_rove",
        &[(
            "masts.0.lines.spans",
            r#"[{"top":5,"ends":3,"parts":1},{"top":2,"ends":3,"parts":1}]"#,
        )],
        "Two spans of a sheet have an odd number of parts",
    ),
    (
        "gear",
        &[("masts.0.lines.lifts.use", "\"none\"")],
        "Topping lifts: left out",
    ),
    (
        "hand_force",
        &[
            ("lines.hand_n", "60"),
            ("masts.0.lines.sheet.system", "\"none\""),
        ],
        "Halyard takes a pull of 182 N",
    ),
    (
        "rope_strength",
        &[("lines.factor_halyard", "50"), ("lines.knot_pct", "10")],
        "Halyard: a pull of 443 N, more than any rope of the table bears",
    ),
    (
        "comes_down",
        &[
            ("lines.parrel_friction", "1"),
            ("masts.0.weights.batten_kg", "2"),
            ("masts.0.weights.yard_kg", "6"),
        ],
        "Luffing, the sail comes down of itself in up to",
    ),
    (
        "mast_stress",
        &[("masts.0.spars.mast_wall_m", "0.004")],
        "Mast is stressed to",
    ),
    (
        "mast_bend",
        &[("spars.mast_bend_pct", "1")],
        "Mast bends by",
    ),
    (
        "mast_stands",
        &[
            ("masts.0.diameter_m", "0.04"),
            ("masts.0.spars.mast_wall_m", "0.002"),
        ],
        "Mast gives way sideways under a thrust of",
    ),
    (
        "wedges",
        &[
            ("masts.0.spars.mast_kind", "\"solid\""),
            ("masts.0.spars.wedge_height_m", "0.03"),
        ],
        "Wedges press the mast with up to",
    ),
    (
        "wall_crushed",
        &[("masts.0.spars.mast_wall_m", "0.002")],
        "Wedges bend the mast's wall in with up to",
    ),
    (
        "mast_shakes",
        &[("masts.0.diameter_m", "0.5")],
        "Bare mast shakes in winds from",
    ),
    (
        "spar_stress",
        &[("masts.0.spars.special", "[]")],
        "Batten 5 is stressed to",
    ),
    (
        "spar_bend",
        &[("spars.spar_bend_pct", "0.5")],
        "Batten 6 bends by",
    ),
    (
        "straddles",
        &[
            ("masts.0.sail.cut", "\"wing\""),
            ("masts.0.sail.balance_pct", "18"),
        ],
        "Yard: the mast stands 81 mm in a limb",
    ),
    (
        "mast_room",
        &[
            ("masts.0.sail.cut", "\"paired\""),
            ("masts.0.cloth.room_m", "0.05"),
        ],
        "Batten 6 leaves the mast 35 mm of room",
    ),
    (
        "slot",
        &[
            ("masts.0.sail.cut", "\"split\""),
            ("masts.0.sail.balance_pct", "32"),
            ("masts.0.cloth.slot_pct", "4"),
        ],
        "Boom has a slot of 4.0%",
    ),
    (
        "barrel",
        &[
            ("masts.0.sail.cut", "\"cambered\""),
            ("masts.0.cloth.camber_pct", "9"),
        ],
        "Barrel of panel 4 is 43% of its width deep",
    ),
];

fn failing_in(key: &str, document: &Document) -> Option<Check> {
    failing(document).into_iter().find(|check| check.key == key)
}

#[test]
fn every_check_fails_where_it_should_and_says_what_was_found_and_what_to_do() {
    let words = Catalogue::english();
    for (key, edits, sentence) in FAILING {
        let document = with(tried_on(key), edits);
        let check = failing_in(key, &document).unwrap_or_else(|| panic!("{key} did not fail"));
        let said = words.say(&check.text, Units::METRIC).replace('\u{a0}', " ");
        let advice = words.say(&check.advice, Units::METRIC);
        assert!(said.contains(sentence), "{key}: {said}");
        for sentence in [&said, &advice] {
            assert!(
                !sentence.contains('{') && !sentence.contains("check."),
                "{sentence}"
            );
        }
        let table = CHECKS.iter().find(|row| row.key == *key).unwrap();
        assert_eq!(check.severity, table.severity);
        assert_eq!(check.basis, table.basis);
    }
    let tried: BTreeSet<&str> = FAILING.iter().map(|(key, ..)| *key).collect();
    let table: BTreeSet<&str> = CHECKS.iter().map(|row| row.key).collect();
    assert_eq!(tried, table);
    assert_eq!(table.len(), CHECKS.len());
}

/// Where no table tells what a mast bears across, or it has no wall, nothing is said of its wedges; nor has thrust a limit.
#[test]
fn wedges_are_judged_where_a_table_tells() {
    let found = |kind: &str| {
        let document = with(pippin(), &[("masts.0.spars.mast_kind", kind)]);
        let mut keys = Vec::new();
        for check in account_of(&document).checks {
            if ["wedges", "wall_crushed"].contains(&check.key) {
                keys.push(check.key);
            }
            assert!(check.key != "mast_stands" || check.limit.is_none());
        }
        keys
    };
    assert_eq!(found("\"tube\""), ["wedges", "wall_crushed"]);
    assert_eq!(found("\"solid\""), ["wedges"]);
    assert_eq!(found("\"laminate\""), [""; 0]);
}

/// Key, a design in which its value is below nothing, and what is then said and advised.
const BELOW: &[(&str, &[Put], &str, &str)] = &[
    (
        "sheet_leech",
        &[("masts.0.lines.sheet.block_x_m", "4")],
        "Sheet lies 975 mm over the leech, boom 0° out",
        "It chafes; wanted is 50 mm",
    ),
    (
        "balance",
        &[("masts.0.sail.balance_pct", "-4")],
        "Boom starts 4.0% of the chord abaft the mast",
        "Usual with this cut is 0.0% to 17.0%.",
    ),
    (
        "drift",
        &[("masts.0.lap_m", "7")],
        "Sling point lies 0.44 m above the masthead",
        "Wanted is 0.35 m",
    ),
    (
        "over_coachroof",
        &[("boat.coachroof.height_m", "1")],
        "Boom passes 0.27 m below the top of the coachroof",
        "Wanted is 0.30 m: raise the boom by 0.57 m.",
    ),
    (
        "over_seat",
        &[("masts.0.sail.boom_height_m", "-0.7")],
        "Boom passes 0.11 m below the cockpit seat",
        "raise the boom by 1.11 m",
    ),
    (
        "sight",
        &[("boat.eye_height_m", "1.2")],
        "Boom and bundle hide the view ahead",
        "The helmsman lacks 0.38 m to see past: raise the boom.",
    ),
    (
        "boom_end",
        &[
            ("masts.0.sail.boom_height_m", "-1"),
            ("masts.0.sail.rise_deg", "-8"),
        ],
        "Boom end squared off is 0.71 m under water",
        "raise the boom by 1.31 m",
    ),
    (
        "lead",
        &[("masts.0.position_m", "2.6")],
        "CE lies 6.4% of LWL abaft the CLR",
        "Usual by this CLR is 0.0% to 16.0%",
    ),
    (
        "lead_now",
        &[("masts.0.position_m", "2.6")],
        "CE lies 16.7% of LWL abaft that of the rig she has",
        "keep within 2.0%",
    ),
    (
        "lead_shift",
        &[("wind.shift_pct", "1")],
        "CE moves 1.2% of LWL forward as she is reefed",
        "Up to 1.0%",
    ),
];

#[test]
fn what_is_below_nothing_is_said_without_a_sign() {
    let words = Catalogue::english();
    for (key, edits, sentence, advised) in BELOW {
        let document = with(pippin(), edits);
        let check = failing_in(key, &document).unwrap_or_else(|| panic!("{key} did not fail"));
        let value = check.value.unwrap().0;
        assert!(value < 0.0, "{key} {value}");
        let say = |text| words.say(text, Units::METRIC).replace('\u{a0}', " ");
        assert_eq!(&say(&check.text), sentence);
        let advice = say(&check.advice);
        assert!(advice.contains(advised), "{key}: {advice}");
    }
    let tried: BTreeSet<&str> = BELOW.iter().map(|row| row.0).collect();
    for row in CHECKS {
        assert!(
            row.below.is_none() || tried.contains(row.key),
            "{}",
            row.key
        );
    }
}

#[test]
fn a_boom_raised_by_what_is_advised_clears() {
    let low = with(pippin(), &[("boat.coachroof.height_m", "1")]);
    assert!(failing_in("over_coachroof", &low).is_some());
    // 0.57 m is what is advised above.
    let raised = with(low, &[("masts.0.sail.boom_height_m", "1.27")]);
    assert!(failing_in("over_coachroof", &raised).is_none());
}

#[test]
fn a_panel_upside_down_is_not_measured() {
    let mut document = pippin();
    let edits = document.to_table(0);
    document.edit(&edits).unwrap();
    let document = with(document, &[("masts.0.sail.spars.1.up_m", "-1")]);
    assert!(failing_in("panel_convex", &document).is_some());
    let checks = account_of(&document).checks;
    assert!(checks.iter().all(|check| check.key != "panel_width"));
}

#[test]
fn every_check_passes_where_it_should() {
    // Travel typed that the reefs are content with; a limit that the rig stays under; a strong crew.
    let document = with(
        pippin(),
        &[
            ("lines.hand_n", "200"),
            ("masts.0.sail.travel_pct", "12"),
            ("boat.air_draught_m", "12"),
            ("masts.0.from_m", "1.2"),
            ("lines.lifeline_m", "0.6"),
        ],
    );
    let mut checks = account_of(&document).checks;
    checks.extend(account_of(&tried_on("sails_apart")).checks);
    for (cut, balance) in [("\"paired\"", "12"), ("\"split\"", "32")] {
        let edits = [
            ("masts.0.sail.cut", cut),
            ("masts.0.sail.balance_pct", balance),
            ("masts.0.cloth.room_m", "0.02"),
        ];
        checks.extend(account_of(&with(pippin(), &edits)).checks);
    }
    // Where the force lies well aft, the milder of two checks says so.
    for row in CHECKS.iter().filter(|row| row.key != "spills") {
        let check = checks.iter().find(|check| check.key == row.key).unwrap();
        assert_eq!(check.severity, Severity::Passed, "{}", row.key);
    }
    let words = Catalogue::english();
    for check in &checks {
        assert_ne!(words.say(&check.text, Units::METRIC), check.text.key);
    }
}

#[test]
fn typed_travel_that_is_enough_answers_the_forced_slide() {
    assert!(failing_in("slide_forced", &pippin()).is_some());
    let answered = with(pippin(), &[("masts.0.sail.travel_pct", "11")]);
    assert!(failing_in("slide_forced", &answered).is_none());
    assert!(failing_in("travel", &answered).is_none());
}

#[test]
fn lines_that_are_left_out_are_not_checked() {
    let none = with(
        pippin(),
        &[
            ("masts.0.lines.sheet.system", "\"none\""),
            ("masts.0.lines.lifts.use", "\"none\""),
            ("masts.0.lines.halyard.use", "\"none\""),
        ],
    );
    let checks = account_of(&none).checks;
    for key in [
        "two_blocked",
        "blocks_apart",
        "sheet_leech",
        "lifts_off",
        "hand_force",
    ] {
        assert!(checks.iter().all(|check| check.key != key), "{key}");
    }
    // All that is left out is told.
    let left: Vec<Check> = failing(&none)
        .into_iter()
        .filter(|check| check.key == "gear")
        .collect();
    assert_eq!(left.len(), 3);
    let bare = with(
        pippin(),
        &[
            ("masts.0.lines.parrels.use", "\"none\""),
            ("masts.0.lines.yard.use", "\"none\""),
        ],
    );
    assert_eq!(failing(&bare).iter().filter(|c| c.key == "gear").count(), 2);
    // One check of a kind, whatever fouls.
    let fouling = with(pippin(), &[("masts.0.lines.sheet.block_x_m", "4")]);
    let keys: Vec<&str> = failing(&fouling).iter().map(|check| check.key).collect();
    assert_eq!(keys.iter().filter(|key| **key == "sheet_leech").count(), 1);
    let leech = failing_in("sheet_leech", &fouling).unwrap();
    assert_eq!((leech.mast, leech.state), (Some(0), Some(1)));
}

#[test]
fn a_check_of_one_mast_names_its_mast() {
    let heron = with(
        demos()[2].open().unwrap(),
        &[("masts.1.sail.balance_pct", "30")],
    );
    let check = failing_in("balance", &heron).unwrap();
    assert_eq!(check.mast, Some(1));
}

/// A sail's outline, curves and all, and the fore side of its mast, (x, z) in ship axes.
fn outlines(mast: &MastAccount) -> [Vec<Point>; 2] {
    let mut sail: Vec<Point> = Vec::new();
    let outline = mast.plan.as_ref().unwrap().outline();
    kurbo::flatten(outline, 1e-4, |el| match el {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => sail.push(p),
        _ => {}
    });
    sail.push(sail[0]);
    let heights = (0..=40).map(|i| mast.mast.lap * f64::from(i) / 40.0);
    let side = heights.map(|up| Point::new(-0.5 * mast.mast.diameter_at(up), up));
    [sail, side.collect()].map(|line| {
        let ship = line.into_iter().map(|p| mast.mast.to_ship(p, 0.0));
        ship.map(|place| Point::new(place.x, place.z)).collect()
    })
}

/// Where lines pass a height.
fn met<'a>(lines: &'a [Vec<Point>], z: f64) -> impl Iterator<Item = f64> + 'a {
    let pairs = lines.iter().flat_map(|line| line.windows(2));
    pairs.filter_map(move |pair| {
        let (a, b) = (pair[0], pair[1]);
        let passes = a.y.min(b.y) < z && z <= a.y.max(b.y);
        passes.then(|| a.x + (b.x - a.x) * (z - a.y) / (b.y - a.y))
    })
}

/// Against the outlines cut by thousands of level lines.
#[test]
fn the_room_between_sails_is_the_least_at_any_height() {
    let families = ["fanned-head", "full-fan", "low-yard"];
    for (i, (balance, rake)) in [(16.0, -3.0), (-12.0, 4.0), (25.0, 0.0)].iter().enumerate() {
        for (fore, main) in [(0, 0), (1, 2), (2, 1)] {
            let mut heron = demos()[2].open().unwrap();
            for (mast, family) in [(0, fore), (1, main)] {
                let edits = heron.to_family(mast, families[family]);
                heron.edit(&edits).unwrap();
            }
            let document = with(
                heron,
                &[
                    ("masts.0.position_m", &format!("{}", 0.6 * i as f64)),
                    ("masts.0.rake_deg", &rake.to_string()),
                    ("masts.1.sail.balance_pct", &balance.to_string()),
                    ("masts.1.sail.luff_round_pct", "1"),
                    ("masts.0.sail.leech_round_pct", "2"),
                ],
            );
            let account = account_of(&document);
            let mut checks = account.checks.iter();
            let check = checks.find(|check| check.key == "sails_apart").unwrap();
            let [sail, _] = outlines(&account.masts[0]);
            let ahead = [sail];
            let abaft = outlines(&account.masts[1]);
            let mut least = f64::MAX;
            for step in 0..4000 {
                let z = 0.003 * f64::from(step);
                let aftmost = met(&ahead, z).reduce(f64::max);
                let foremost = met(&abaft, z).reduce(f64::min);
                if let (Some(aftmost), Some(foremost)) = (aftmost, foremost) {
                    least = least.min(foremost - aftmost);
                }
            }
            // Rounds are met at mid-panel, levels are 3 mm apart.
            let gap = check.value.unwrap().0;
            assert!((gap - least).abs() < 0.01, "{gap} {least}");
            assert_eq!(check.severity == Severity::Passed, gap >= -0.005);
            assert_eq!((check.mast, check.state), (Some(0), Some(0)));
        }
    }
}

#[test]
fn each_of_three_masts_is_held_against_the_next_one_aft() {
    let mizzen = r#"{"position_m":8.2,"sail":{"chord_m":3}}"#;
    let three = with(demos()[2].open().unwrap(), &[("masts.2", mizzen)]);
    let of = |document: &Document| -> Vec<(Option<usize>, String)> {
        let words = Catalogue::english();
        let failing = failing(document).into_iter();
        failing
            .filter(|check| check.key == "sails_apart")
            .map(|check| {
                (
                    check.mast,
                    words.say(&check.text, Units::METRIC).replace('\u{a0}', " "),
                )
            })
            .collect()
    };
    // The main's boom ends some 4 m abaft its mast at 4.75 m.
    let found = of(&three);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].0, Some(1));
    assert!(
        found[0].1.ends_with(" past the luff of Mast 3"),
        "{found:?}"
    );
    // With its sail far abaft it, the mast comes first.
    let high = with(three.clone(), &[("masts.2.sail.balance_pct", "-40")]);
    assert!(
        of(&high)[0].1.ends_with(" past the mast of Mast 3"),
        "{:?}",
        of(&high)
    );
    assert!(of(&with(three.clone(), &[("masts.2.position_m", "10")])).is_empty());
    // Counted along the boat, not in the list.
    let swapped = with(three, &[("masts.2.position_m", "-3.5")]);
    assert_eq!(of(&swapped).len(), 0);
    let one = account_of(&pippin()).checks;
    assert!(one.iter().all(|check| check.key != "sails_apart"));
}

#[test]
fn every_word_of_a_check_belongs_to_a_check() {
    let words = Catalogue::english();
    for (key, _) in words.entries().filter(|(key, _)| key.starts_with("check.")) {
        let stem = key.trim_end_matches(".one").trim_end_matches(".many");
        let known = CHECKS.iter().any(|row| {
            [row.name, row.found, row.advice].contains(&stem) || row.below == Some(stem)
        });
        assert!(known || key == "check.nothing_to_do", "{key}");
    }
}
