//! Mast and spars of a design: that forces balance, that more is more, what cannot be, and what is asked on demand.
#![allow(clippy::unwrap_used)]

mod support;

use core::cell::Cell;

use design::spar_shop::{
    Chosen, Cut, RigPart, boat_with, choose, cutting, find, joint_edits, raising, rig_weights,
    tried,
};
use design::{Document, SparsAccount, demos};
use spars::blow::Factor;
use spars::finder::{Aim, MOST_CANDIDATES};
use spars::mast::{Case, Rule};
use spars::spar::SparAccount;
use spars::{GRAVITY, prove_sail};
use support::{account_of, failing, pippin, problems, with};

fn near(a: f64, b: f64, share: f64) {
    assert!((a - b).abs() <= share * b.abs().max(1e-3), "{a} is not {b}");
}

fn spars_of(document: &Document) -> SparsAccount {
    account_of(document).masts[0].spars.clone().unwrap()
}

/// A mast's part of the document, and what it is then made of.
fn made(edits: &[(&str, &str)]) -> SparsAccount {
    spars_of(&with(pippin(), edits))
}

fn all() -> Vec<Document> {
    demos().iter().map(|demo| demo.open().unwrap()).collect()
}

/// Partners and step together take what is put on the mast: sail and weights across it, weights and lines down it.
#[test]
fn what_is_put_on_the_mast_comes_out_at_partners_and_step() {
    for document in all() {
        for mast in account_of(&document).masts {
            let of = mast.spars.unwrap();
            let (input, rules) = (&of.mast_input, &of.mast_input.rules);
            let own = (of.mast.weight.mass + input.head) * GRAVITY;
            let (sin_rake, cos_rake) = input.rake.sin_cos();
            for case in &of.mast.cases {
                let state = &input.states[case.state];
                let hung = own + state.standing + state.lying;
                let blow = &rules.blow;
                let (mut side, mut aft, heel) = match case.case {
                    Case::SquaredOff => (0.0, -blow.pressure(state.wind_off) * state.area, 0.0f64),
                    Case::Gybe => {
                        let (snatch, pressure) = state.gybe.unwrap();
                        (0.0, -pressure * state.area - 0.5 * snatch, 0.0)
                    }
                    Case::CloseHauled if case.by_wind => {
                        (blow.pressure(state.wind_on) * state.area, 0.0, rules.heel)
                    }
                    _ => continue,
                };
                side += hung * heel.sin();
                aft += hung * sin_rake * heel.cos();
                near(case.partners[0] + case.step[0], side, 1e-6);
                near(case.partners[1] + case.step[1], aft, 1e-6);
                let down = own * cos_rake * heel.cos() + state.halyard + state.lifts;
                near(case.thrust, down, 1e-9);
            }
        }
    }
}

/// Boat and sail as one: what the wind puts on the sail the mast and the sheet give the boat, and mast and sheet of all spars
/// together bear the wind; the halyard's parts and their fall hang on the masthead.
#[test]
fn mast_sheet_and_halyard_bear_the_sail() {
    for document in all() {
        for mast in account_of(&document).masts {
            let (of, lines) = (mast.spars.unwrap(), mast.lines.unwrap());
            let parts = lines.input.lines.halyard.unwrap().parts as f64;
            let blow = &of.sail_input.rules.blow;
            for (k, loads) in lines.account.loads.iter().enumerate() {
                let (state, spars) = (&of.mast_input.states[k], &of.sail_input.states[k]);
                let now = &lines.input.states[k];
                for (i, thrust) in spars.thrust.iter().enumerate() {
                    let pulls = loads.working.iter().flat_map(|work| &work.pulls);
                    let most = pulls.filter(|pull| pull.spar == i).map(|pull| pull.thrust);
                    let scale = blow.pressure(spars.wind) / now.pressure;
                    let most = most.fold(0.0, f64::max);
                    near(*thrust, if most > 0.0 { most * scale } else { 0.0 }, 1e-12);
                }
                // The sheet draws as hard as the wind that the spars are made for.
                let times = blow.pressure(spars.wind) / now.pressure;
                let times = if now.pressure > 0.0 { times } else { 0.0 };
                let down = loads.standing + loads.blocks + loads.sheet_down * times;
                near(state.halyard, down * (1.0 + 1.0 / parts), 1e-12);
                near(
                    spars.wind.unwrap(),
                    state.wind_on.unwrap().max(state.wind_off.unwrap()),
                    1e-12,
                );
                // Bend is told in the wind it is carried up to, on the wind or off, no gust.
                let plain = |wind: f64, c: f64| 0.5 * 1.225 * c * wind * wind;
                let winds = lines.winds[now.lowered];
                let conditions = &document.design().boat.particulars.conditions;
                let running = plain(winds[1], conditions.running_force);
                near(spars.steady, now.pressure.max(running), 1e-9);
                // And so is a gybe, running.
                if let Some((_, pressure)) = state.gybe {
                    near(pressure, running, 1e-9);
                }
                for work in &loads.working {
                    // Square to the sail the sheet gives the rest of the wind; along it the mast has it all.
                    let moment: f64 = work.pulls.iter().map(|pull| pull.moment).sum();
                    let centre = lines.input.states[0].centre.unwrap().x;
                    if state.area == of.mast_input.states[0].area {
                        near(moment.abs(), loads.wind * centre, 0.02);
                    }
                    assert!(work.mast <= state.mast_share * loads.wind + 1e-9);
                }
            }
            // One state, and like panels: the wind on them is their mast's and their sheet's.
            let mut input = of.sail_input.clone();
            input.states.truncate(1);
            for weak in &mut input.spars {
                weak.weak.clear();
            }
            let proved = prove_sail(&input);
            let borne: f64 = proved.spars.iter().map(|s| s.mast + s.sheet).sum();
            let wind = proved.pressures[0] * of.mast_input.states[0].area;
            // Panels of the fan are taken by the width of their edges.
            near(borne, wind, 0.12);
        }
    }
}

#[test]
fn twice_the_wind_is_twice_the_moment_and_nothing_else_comes_in() {
    let (one, two) = (
        made(&[("spars.coefficient", "1.2")]),
        made(&[("spars.coefficient", "2.4")]),
    );
    for (a, b) in one.mast.cases.iter().zip(&two.mast.cases) {
        if a.case == Case::SquaredOff {
            near(b.wind, 2.0 * a.wind, 1e-9);
            near(b.product, 2.0 * a.product, 1e-9);
        }
    }
    for (a, b) in one.sail.pressures.iter().zip(&two.sail.pressures) {
        near(*b, 2.0 * a, 1e-9);
    }
}

#[test]
fn a_thinner_wall_is_never_safer() {
    let mut last = 0.0;
    for wall in ["0.016", "0.012", "0.009", "0.006", "0.004", "0.002"] {
        let ratio = made(&[("masts.0.spars.mast_wall_m", wall)]).mast.ratio;
        assert!(ratio > last, "{wall} {ratio} {last}");
        last = ratio;
    }
    // Of a batten by itself: stiffer ones beside it change nothing for it.
    let batten = |wall: &str| {
        let rows = format!(r#"[{{"spar":5,"wall_m":{wall}}}]"#);
        made(&[("masts.0.spars.special", &rows)]).sail.spars[5].ratio
    };
    assert!(batten("0.002") > batten("0.003") && batten("0.003") > batten("0.006"));
}

/// Wind for strength: a reef late, its gusts within least and most, for lines and spars alike.
#[test]
fn lines_and_spars_are_made_for_one_wind() {
    for document in all() {
        for mast in account_of(&document).masts {
            let (of, lines) = (mast.spars.unwrap(), mast.lines.unwrap());
            let coefficient = lines.strength.coefficient;
            for (state, carried) in of.mast_input.states.iter().zip(&lines.input.states) {
                let on = of.mast_input.rules.blow.pressure(state.wind_on);
                near(on, carried.strength, 1e-9);
                let most = coefficient * 0.5 * 1.225 * lines.strength.cap.powi(2);
                assert!(on <= most + 1e-9);
            }
            let (now, next) = (lines.winds[0], lines.winds[1]);
            let first = &of.mast_input.states[0];
            near(first.wind_on.unwrap(), now[0].max(next[0]), 1e-12);
            near(first.wind_off.unwrap(), now[1].max(next[1]), 1e-12);
        }
    }
    let early = made(&[("spars.late_reefs", "0")]);
    assert!(early.mast_input.states[0].wind_on < spars_of(&pippin()).mast_input.states[0].wind_on);
    let capped = made(&[("spars.cap_kn", "30")]);
    let knots = capped.mast_input.rules.blow.winds.1 * 3600.0 / 1852.0;
    near(knots, 30.0, 1e-9);
}

#[test]
fn every_kind_of_mast_is_made_of_what_is_chosen() {
    let kind = |word: &str, more: &[(&str, &str)]| {
        let word = format!("\"{word}\"");
        let mut edits = vec![("masts.0.spars.mast_kind", word.as_str())];
        edits.extend_from_slice(more);
        let of = made(&edits);
        assert!(of.mast.faults.is_empty(), "{word} {:?}", of.mast.faults);
        near(of.mast_input.pole.length(), 7.83 * 1.14, 0.01);
        assert!(of.mast.ratio > 0.0 && of.mast.weight.mass > 5.0);
        of.mast_input.pole
    };
    let tube = kind("tube", &[("masts.0.spars.mast_wall_m", "0.010")]);
    assert_eq!(tube.pieces.len(), 2);
    near(tube.pieces[0].to, 8.93 - 0.85 * 7.83, 0.01);
    assert_eq!(tube.pieces[1].walls, Some((0.010, 0.010)));
    let solid = kind("solid", &[]);
    assert!(solid.pieces.iter().all(|piece| piece.walls.is_none()));
    near(solid.pieces[0].diameters.0, 0.75 * 0.165, 1e-9);
    let hollow = kind("hollow", &[("masts.0.spars.mast_wall_m", "null")]);
    assert_eq!(hollow.pieces[0].staves, 8);
    near(hollow.pieces[1].walls.unwrap().0, 0.2 * 0.165, 1e-9);
    let sleeved = kind("sleeved", &[("masts.0.spars.mast_wall_m", "null")]);
    let [alloy, lap, upper] = sleeved.pieces.as_slice() else {
        panic!("{sleeved:?}");
    };
    near(alloy.to - lap.from, 2.5 * 0.165, 1e-9);
    near(lap.diameters.0, 0.165 - 2.0 * 0.165 / 30.0, 1e-9);
    assert!(upper.material.density < 1000.0 && alloy.material.density > 2000.0);
    let laminate = kind("laminate", &[("masts.0.spars.mast_wall_m", "null")]);
    let usual = laminate.pieces[0].material;
    assert!(
        usual.stiffness > 30e9 && usual.stiffness < 41e9,
        "{usual:?}"
    );
    let plies = r#"[{"thickness_m":0.004},{"angle_deg":45,"thickness_m":0.002}]"#;
    let laid = kind("laminate", &[("masts.0.spars.plies", plies)]);
    near(laid.pieces[0].walls.unwrap().0, 0.006, 1e-9);
    let rows = r#"[{"length_m":4,"diameter_m":0.165,"wall_m":0.01},
        {"length_m":4.93,"diameter_m":0.12,"top_diameter_m":0.08,"material":"sitka-spruce"}]"#;
    let pieces = kind("pieces", &[("masts.0.spars.pieces", rows)]);
    assert_eq!(pieces.pieces.len(), 2);
    assert!(pieces.pieces[1].walls.is_none());
    // One of the user's own: as typed, the rest of a usual one of its kind.
    let own = kind(
        "tube",
        &[
            (
                "spars.materials",
                r#"[{"name":"mine","kind":"alloy","strength":310}]"#,
            ),
            ("masts.0.spars.mast_material", "\"own-1\""),
        ],
    );
    near(own.pieces[0].material.strength, 310e6, 1e-9);
    near(own.pieces[0].material.stiffness, 70e9, 1e-9);
}

/// What cannot be is named at its field, and everything else is worked out.
#[test]
fn impossible_sections_are_problems() {
    for (edits, path) in [
        (
            &[("masts.0.spars.mast_wall_m", "0.2")][..],
            "masts.0.spars.mast_wall_m",
        ),
        (
            &[("masts.0.spars.mast_material", "\"own-2\"")],
            "masts.0.spars.mast_material",
        ),
        (
            &[
                ("spars.materials", r#"[{"name":"mine","strength":0}]"#),
                ("masts.0.spars.mast_material", "\"own-1\""),
            ],
            "masts.0.spars.mast_material",
        ),
        (
            &[("masts.0.spars.battens_wall_m", "0.03")],
            "masts.0.spars.battens_wall_m",
        ),
        (
            &[("masts.0.spars.special", r#"[{"spar":7,"wall_m":0.05}]"#)],
            "masts.0.spars.special.0.wall_m",
        ),
        (
            &[("masts.0.spars.mast_material", "\"own-3\"")],
            "masts.0.spars.mast_material",
        ),
        (
            &[
                ("masts.0.spars.mast_kind", "\"sleeved\""),
                ("masts.0.spars.sleeve_m", "9"),
            ],
            "masts.0.spars.sleeve_m",
        ),
        (
            &[
                ("masts.0.spars.mast_kind", "\"hollow\""),
                ("masts.0.spars.mast_wall_m", "0.004"),
                ("masts.0.spars.mast_staves", "3"),
            ],
            "masts.0.spars.mast_staves",
        ),
        (
            &[
                ("masts.0.spars.mast_kind", "\"pieces\""),
                (
                    "masts.0.spars.pieces",
                    r#"[{"length_m":3,"diameter_m":0.16,"wall_m":0.01}]"#,
                ),
            ],
            "masts.0.spars.pieces.0.length_m",
        ),
        (
            &[
                ("masts.0.spars.mast_kind", "\"laminate\""),
                ("masts.0.spars.plies", r#"[{"angle_deg":10}]"#),
            ],
            "masts.0.spars.plies",
        ),
    ] {
        let account = account_of(&with(pippin(), edits));
        let found = account.problems.iter().find(|problem| problem.path == path);
        assert!(found.is_some(), "{path} {:?}", account.problems);
        let mast = &account.masts[0];
        assert!(!mast.lines.as_ref().unwrap().account.loads.is_empty());
        let of = mast.spars.as_ref().unwrap();
        let proved = of.sail.spars.iter().filter(|spar| spar.ratio > 0.0);
        assert!(proved.count() > 0 || of.mast.ratio > 0.0);
    }
}

#[test]
fn typed_weights_win_over_those_of_the_sections() {
    let document = with(pippin(), &[("masts.0.weights.yard_kg", "7")]);
    let account = account_of(&document);
    let weights = &account.masts[0].lines.as_ref().unwrap().input.weights;
    let spars = account.masts[0].spars.as_ref().unwrap();
    assert_eq!(weights.spars[7], 7.0);
    assert_eq!(weights.spars[6], spars.sail.spars[6].weight.mass);
    // Heavier battens are a heavier sail.
    let heavy = with(pippin(), &[("masts.0.spars.battens_wall_m", "0.006")]);
    let standing = |document: &Document| {
        let account = account_of(document);
        account.masts[0].lines.as_ref().unwrap().account.loads[0].standing
    };
    assert!(standing(&heavy) > standing(&pippin()));
}

/// An unknown righting moment leaves the wind alone; rule B is full statics.
#[test]
fn what_rights_her_and_the_rule_reach_the_mast() {
    let known = spars_of(&pippin());
    assert!(known.mast_input.righting > 1e4 && known.mast_input.righting < 1e5);
    let unknown = made(&[
        ("boat.displacement_kg", "null"),
        ("boat.stability", "\"form\""),
    ]);
    let hauled = unknown
        .mast
        .cases
        .iter()
        .filter(|c| c.case == Case::CloseHauled);
    assert!(hauled.clone().count() > 0 && hauled.clone().all(|case| case.by_wind));
    assert_eq!(
        made(&[("spars.rule", "\"b\"")]).mast_input.rules.rule,
        Rule::B
    );
    // Two masts share the heeling moment.
    let heron = account_of(&demos()[2].open().unwrap());
    let share = |m: usize| heron.masts[m].spars.as_ref().unwrap().mast_input.states[0].share;
    assert!(share(0) < share(1) && share(0) > 0.2);
    assert!(
        share(0) + share(1) > 1.0 - 1e-9,
        "the most of the steps of each"
    );
}

#[test]
fn the_section_that_is_found_and_chosen_passes() {
    let thin = with(
        pippin(),
        &[
            ("masts.0.spars.mast_wall_m", "0.003"),
            ("masts.0.spars.battens_wall_m", "0.001"),
        ],
    );
    let account = account_of(&thin);
    for part in [Chosen::Mast, Chosen::Boom, Chosen::Battens, Chosen::Yard] {
        let n = tried(thin.design(), &account, 0, part).len();
        assert!(n > 100 && n <= MOST_CANDIDATES, "{n}");
    }
    let mut document = thin.clone();
    for part in [Chosen::Battens, Chosen::Yard, Chosen::Boom, Chosen::Mast] {
        let account = account_of(&document);
        let told = Cell::new(0);
        let (tried, found) = find(
            document.design(),
            &account,
            0,
            part,
            Aim::Lightest,
            &|n, of| {
                assert!(n > told.get() && n <= of);
                told.set(n);
            },
        )
        .unwrap();
        assert_eq!(told.get(), tried.len() - tried.len() % 16);
        let chosen = found.chosen.unwrap();
        let best = found.rated[chosen].unwrap();
        for rated in found.rated.iter().flatten() {
            assert!(!rated.passes || rated.mass >= best.mass - 1e-9);
        }
        let edits = choose(document.design(), 0, part, &tried[chosen]);
        document.edit(&edits).unwrap();
        let ratio = ratio_of(&document, part);
        assert!(ratio <= 1.0 && ratio > 0.7, "{part:?} {ratio}");
        near(ratio, best.ratio, 1e-12);
    }
    for key in [
        "mast_stress",
        "wedges",
        "wall_crushed",
        "mast_bend",
        "mast_stands",
    ] {
        let left = failing(&document);
        assert!(left.iter().all(|check| check.key != key), "{left:?}");
    }
}

/// Stress of a part as the account has it: of battens the worst.
fn ratio_of(document: &Document, part: Chosen) -> f64 {
    let of = spars_of(document);
    let n = of.sail.spars.len() - 1;
    let most = |spars: &[SparAccount]| spars.iter().map(|spar| spar.ratio).fold(0.0, f64::max);
    match part {
        Chosen::Mast => of.mast.ratio,
        Chosen::Boom => of.sail.spars[0].ratio,
        Chosen::Battens => most(&of.sail.spars[1..n]),
        Chosen::Yard => of.sail.spars[n].ratio,
    }
}

/// What is taken is what was proved, whatever the spar was made of before: a section with a wall is a tube, one without is
/// solid; of a grid hollow timber and laminates stay what they are.
#[test]
fn what_is_taken_is_what_was_proved() {
    let tubes = r#"[{"diameter_m":0.2032,"wall_m":0.0127}]"#;
    let cedar = r#"[{"form":"timber","diameter_m":0.24,"material":"sitka-spruce"}]"#;
    let batten_tubes = r#"[{"diameter_m":0.0635,"wall_m":0.0064}]"#;
    let poles = r#"[{"form":"timber","diameter_m":0.09,"material":"sitka-spruce"}]"#;
    let plies = r#"[{"thickness_m":0.009},{"angle_deg":45,"thickness_m":0.003},
        {"spar":"battens","thickness_m":0.004}]"#;
    let pieces = r#"[{"length_m":4,"diameter_m":0.165,"wall_m":0.01},
        {"length_m":4.93,"diameter_m":0.12,"top_diameter_m":0.08}]"#;
    let special = r#"[{"spar":7,"wall_m":0.005},{"spar":3,"wall_m":0.003},{"wall_m":0.01}]"#;
    for kind in ["tube", "pieces", "solid", "hollow", "sleeved", "laminate"] {
        for (part, stock, wanted) in [
            (Chosen::Mast, tubes, "tube"),
            (Chosen::Mast, cedar, "solid"),
            (Chosen::Mast, "[]", kind),
            (Chosen::Battens, batten_tubes, "tube"),
            (Chosen::Battens, poles, "solid"),
            (Chosen::Battens, "[]", kind),
        ] {
            let mast = part == Chosen::Mast;
            if !mast && !["tube", "solid", "laminate"].contains(&kind) {
                continue;
            }
            let leaf = if mast { "mast_kind" } else { "battens_kind" };
            let leaf = format!("masts.0.spars.{leaf}");
            let document = with(
                pippin(),
                &[
                    (leaf.as_str(), &format!("\"{kind}\"")),
                    ("masts.0.spars.pieces", pieces),
                    ("masts.0.spars.plies", plies),
                    ("masts.0.spars.special", special),
                    ("spars.stock", stock),
                    ("spars.mast_bend_pct", "25"),
                    ("spars.spar_bend_pct", "10"),
                ],
            );
            let account = account_of(&document);
            let design = document.design();
            let (tried, found) =
                find(design, &account, 0, part, Aim::Lightest, &|_, _| ()).unwrap();
            let chosen = found
                .chosen
                .unwrap_or_else(|| panic!("{kind} {part:?} {stock}"));
            let mut taken = document.clone();
            taken
                .edit(&choose(design, 0, part, &tried[chosen]))
                .unwrap();
            near(
                ratio_of(&taken, part),
                found.rated[chosen].unwrap().ratio,
                1e-12,
            );
            let wanted = match wanted {
                "pieces" | "sleeved" => "tube",
                wanted => wanted,
            };
            let spars = &taken.design().masts[0].spars;
            assert_eq!(spars.made.word(leaf.rsplit('.').next().unwrap()), wanted);
            let of = spars_of(&taken);
            let pole = if mast {
                &of.mast_input.pole
            } else {
                &of.sail_input.spars[3].pole
            };
            let wide = pole.pieces.iter().map(|p| p.diameters.0.max(p.diameters.1));
            near(wide.fold(0.0, f64::max), tried[chosen].diameter, 1e-12);
            if let (Some(row), false) = (tried[chosen].wall, wanted == "hollow") {
                assert!(
                    pole.pieces.iter().all(|p| p.walls == Some((row, row))),
                    "{pole:?}"
                );
            }
            // Walls of other spars stay, and a row of no spar.
            let left: Vec<_> = spars.special.iter().map(|row| row.number("spar")).collect();
            let all = [Some(7.0), Some(3.0), None];
            assert_eq!(left, if mast { &all[..] } else { &[Some(7.0), None] });
        }
    }
}

#[test]
fn the_cheapest_of_the_stock_is_found() {
    let stock = r#"[{"diameter_m":0.06,"wall_m":0.007,"price":90},{"diameter_m":0.07,"wall_m":0.008,"price":70},
        {"diameter_m":0.02,"wall_m":0.001,"price":5}]"#;
    let document = with(pippin(), &[("spars.stock", stock)]);
    let account = account_of(&document);
    let (part, aim) = (Chosen::Battens, Aim::Cheapest);
    let (tried, found) = find(document.design(), &account, 0, part, aim, &|_, _| ()).unwrap();
    assert_eq!((tried.len(), found.chosen), (3, Some(1)));
    assert_eq!(tried[1].price, Some(70.0));
}

#[test]
fn all_that_is_cut_is_there() {
    let stock = r#"[{"diameter_m":0.045,"wall_m":0.002,"length_m":6,"price":50},
        {"diameter_m":0.08,"wall_m":0.0055,"length_m":3,"price":40}]"#;
    let document = with(pippin(), &[("spars.stock", stock)]);
    let account = account_of(&document);
    let cuts = cutting(document.design(), &account, 0);
    let of = account.masts[0].spars.as_ref().unwrap();
    let mut whole = of.mast_input.pole.length();
    for spar in &of.sail_input.spars {
        whole += spar.pole.length();
    }
    let pieces = cuts.iter().flat_map(|cut| &cut.pieces);
    near(pieces.map(|piece| piece.1).sum(), whole, 1e-9);
    for cut in &cuts {
        let cutting = cut.cutting.as_ref().unwrap();
        let placed: usize = cutting.bars.iter().map(|bar| bar.pieces.len()).sum();
        assert_eq!(placed, cut.pieces.len());
    }
    // The mast tapers on from its foot: one tube, longer than a bar.
    let mast = cuts.iter().find(|cut| cut.pieces[0].0.is_none()).unwrap();
    assert_eq!((mast.pieces.len(), mast.joints.len()), (2, 1));
    // Three battens of 4.4 m take a bar of 6 m each; the yard of 4.4 m is joined of two of 3 m.
    let battens = cuts
        .iter()
        .find(|cut| (cut.diameter - 0.045).abs() < 1e-6)
        .unwrap();
    let cutting = battens.cutting.as_ref().unwrap();
    assert_eq!((cutting.bars.len(), cutting.price), (3, Some(150.0)));
    let yard = cuts
        .iter()
        .find(|cut| (cut.diameter - 0.08).abs() < 1e-6)
        .unwrap();
    assert_eq!((yard.pieces.len(), yard.joints.len()), (2, 1));
    assert_eq!(yard.joints[0].0, Some(7));
}

/// Raising by hand: moments about the hinge, with the tackle's lever by plane geometry.
#[test]
fn a_mast_is_raised_by_its_weight_and_the_lever() {
    let document = with(
        pippin(),
        &[
            ("masts.0.spars.hinge_m", "0"),
            ("masts.0.spars.raise_at_m", "4"),
            ("masts.0.spars.raise_x_m", "3"),
            ("masts.0.spars.raise_z_m", "0"),
            ("masts.0.spars.gin_m", "2"),
        ],
    );
    let account = account_of(&document);
    let raised = raising(document.design(), &account, 0);
    let weight = rig_weights(document.design(), &account, 0).raised;
    assert_eq!(raised.len(), 11);
    let bury = account.masts[0].mast.bury;
    for (angle, forces) in &raised {
        let (sin, cos) = angle.sin_cos();
        // Gin pole's head, square to the mast; tackle fast 3 m off the hinge on its level.
        let (x, z) = (2.0 * sin, 2.0 * cos);
        let lever = 3.0 * z / (3.0 - x).hypot(z);
        let moment = weight.mass * GRAVITY * (weight.centre - bury) * cos;
        near(forces.pull, moment / lever, 1e-9);
    }
}

#[test]
fn the_rig_weighs_what_its_parts_do_and_lowers_the_boats_height() {
    let document = pippin();
    let account = account_of(&document);
    let weights = rig_weights(document.design(), &account, 0);
    let of = account.masts[0].spars.as_ref().unwrap();
    let parts: f64 = weights.parts.iter().map(|part| part.1).sum();
    near(weights.whole.0, parts, 1e-12);
    assert_eq!(weights.parts.len(), 8 + 3);
    assert_eq!(weights.parts[0].0, RigPart::Mast);
    near(weights.parts[0].1, of.mast.weight.mass, 1e-9);
    let mast = weights.parts[0].2;
    near(
        mast.z,
        account.masts[0].mast.z + of.mast.weight.centre - of.mast_input.bury,
        1e-9,
    );
    let with = boat_with(document.design(), &account);
    let swap = with.swap.unwrap();
    near(swap.mass, parts, 1e-9);
    let height = |boat: &boat::Account| boat.loadings[1].unwrap().height.unwrap().value;
    assert!(height(&with) < height(&account.boat));
    let on = |boat: &boat::Account| boat.steps[0].on.unwrap().apparent;
    assert!(on(&with) < on(&account.boat));
}

/// What is proved is what the document says: every load of the inputs by another account or by hand.
#[test]
fn proofs_have_the_loads_of_sail_lines_and_boat() {
    for document in all() {
        let account = account_of(&document);
        let typed = document.design();
        for (m, mast) in account.masts.iter().enumerate() {
            let (of, lines) = (mast.spars.as_ref().unwrap(), mast.lines.as_ref().unwrap());
            let (input, sail) = (&of.mast_input, &of.sail_input);
            let reefs = mast.reefs.as_ref().unwrap();
            assert_eq!(input.states.len(), reefs.states.len());
            near(input.pole.length(), mast.mast.bury + mast.mast.lap, 1e-12);
            let greatest = account.boat.loadings[typed.boat.particulars.loading].unwrap();
            near(input.righting, greatest.greatest.value, 1e-12);
            let mut at_partners = 0.0f64;
            for (k, (state, now)) in input.states.iter().zip(&reefs.states).enumerate() {
                let loads = &lines.account.loads[k];
                assert_eq!((state.area, state.lying), (now.area.max(0.0), loads.lying));
                assert_eq!(sail.states[k].lowered, now.lowered);
                // Shares of the sail's force are all of it, at heights between boom and yard.
                let shares: f64 = state.holds.iter().map(|hold| hold.1).sum();
                let (low, high) = (state.holds.first(), state.holds.last());
                if let (Some(low), Some(high)) = (low, high) {
                    near(shares, 1.0, 1e-12);
                    assert!(low.0 < high.0 && high.0 <= mast.mast.lap);
                }
                // Rule A by hand, in whichever is less: her righting moment, or the wind.
                let lever: f64 = state.holds.iter().map(|hold| hold.0 * hold.1).sum();
                let wind = 1.5 * 0.5 * 1.225 * state.area * lever;
                let knots = |kn: f64| kn * 1852.0 / 3600.0;
                let gust = (1.3 * state.wind_on.unwrap())
                    .max(knots(16.0))
                    .min(knots(45.0));
                let cases = of.mast.cases.iter().filter(|case| case.state == k);
                for case in cases.filter(|case| case.case == Case::CloseHauled) {
                    let hand = (wind * gust * gust).min(1.3 * input.righting);
                    near(case.wind, hand, 1e-9);
                    at_partners = at_partners.max(hand);
                }
            }
            assert!(at_partners > 0.0);
            // Spars are as long as the plan has them and as heavy as the lines carry them.
            let plan = mast.plan.as_ref().unwrap();
            for (i, (made, spar)) in sail.spars.iter().zip(&plan.spars).enumerate() {
                near(made.pole.length(), spar.length, 1e-12);
                let known = &typed.masts[m].weights;
                if known.batten.is_none() && i > 0 && i + 1 < sail.spars.len() {
                    near(
                        lines.input.weights.spars[i],
                        of.sail.spars[i].weight.mass,
                        1e-12,
                    );
                }
            }
        }
    }
}

/// Whoever is carried longer off the wind gybes harder: the blow follows the wind off, not that on.
#[test]
fn a_gybe_follows_the_wind_off() {
    for document in all() {
        for mast in account_of(&document).masts {
            let (of, lines) = (mast.spars.unwrap(), mast.lines.unwrap());
            let blow = |on: f64, off: f64| {
                let mut input = lines.input.clone();
                for state in &mut input.states {
                    state.pressure *= on * on;
                    state.running *= off * off;
                }
                rigging::account(&input).loads[0].blow.unwrap()
            };
            let now = blow(1.0, 1.0);
            near(of.mast_input.states[0].gybe.unwrap().0, now, 1e-12);
            near(blow(1.2, 1.0), now, 1e-9);
            assert!(blow(1.0, 1.2) > 1.15 * now);
        }
    }
    // A higher coefficient running is a lower wind off, and the pressure of both is the gybe's.
    for force in [1.0, 1.4] {
        let document = with(pippin(), &[("wind.running_force", &force.to_string())]);
        let mast = account_of(&document).masts[0].clone();
        let off = mast.lines.unwrap().winds[0][1];
        let pressure = mast.spars.unwrap().mast_input.states[0].gybe.unwrap().1;
        near(pressure, 0.5 * 1.225 * force * off * off, 1e-9);
    }
}

/// A weak place off its spar, a hole without a diameter and a row half filled are left out and told; the rest is proved.
#[test]
fn weak_places_that_cannot_be_are_told() {
    let rows = r#"[{"spar":"boom","height_m":9,"what":"joint"},{"what":"hole","height_m":1},
        {"spar":"yard"},{},{"height_m":-2,"what":"weld"},{"spar":"battens","what":"hole","height_m":1,"hole_m":0.06},
        {"height_m":2,"what":"weld"},{"spar":"battens","height_m":2}]"#;
    let document = with(pippin(), &[("masts.0.spars.weak", rows)]);
    let found = problems(&document);
    let at = |path: &str| {
        let path = format!("masts.0.spars.weak.{path}");
        let found = found.iter().find(|known| known.0 == path);
        let found = found.unwrap_or_else(|| panic!("{path}"));
        found.1.replace('\u{a0}', " ")
    };
    for (path, most) in [
        ("0.height_m", "4.4"),
        ("1.hole_m", "165.0 mm"),
        ("2.height_m", "4.4"),
        ("4.height_m", "7.8"),
        ("5.hole_m", "45.0 mm"),
    ] {
        assert!(at(path).contains(most), "{}", at(path));
    }
    assert_eq!(found.len(), 5, "{found:?}");
    let of = spars_of(&document);
    assert_eq!((of.mast.weak.len(), of.mast_input.weak[0].height), (1, 2.0));
    assert!(of.sail.spars[1].weak.len() == 1 && of.sail.spars[0].weak.is_empty());
    assert!(of.mast.ratio > 0.0 && of.sail.spars[7].ratio > 0.0);
}

/// A row of a single spar names one that there is, or it is told and matches nothing.
#[test]
fn single_spars_are_those_that_there_are() {
    let rows = r#"[{"wall_m":0.009},{"spar":8,"wall_m":0.009},{"spar":0,"wall_m":0.003}]"#;
    let document = with(pippin(), &[("masts.0.spars.special", rows)]);
    let found = problems(&document);
    let paths: Vec<&str> = found.iter().map(|found| found.0.as_str()).collect();
    assert_eq!(
        paths,
        [
            "masts.0.spars.special.0.spar",
            "masts.0.spars.special.1.spar"
        ]
    );
    assert!(
        found.iter().all(|found| found.1.contains("0 to 7")),
        "{found:?}"
    );
    let wall = |i: usize| spars_of(&document).sail_input.spars[i].pole.pieces[0].walls;
    assert_eq!(wall(0), Some((0.003, 0.003)));
    assert!((1..8).all(|i| wall(i).unwrap().0 < 0.008));
}

#[test]
fn bars_of_another_material_are_not_cut() {
    let boom = with(pippin(), &[("masts.0.spars.boom_material", "\"6061-t6\"")]);
    let cuts = |stock: &str| {
        let document = with(boom.clone(), &[("spars.stock", stock)]);
        cutting(document.design(), &account_of(&document), 0)
    };
    let of = |cuts: &[Cut], spar: usize| {
        let has = |cut: &&Cut| cut.pieces.iter().any(|piece| piece.0 == Some(spar));
        cuts.iter().find(has).unwrap().clone()
    };
    let depth = 1e3 * boom.design().masts[0].sail.boom_depth;
    let row = |material: &str| {
        format!(
            r#"[{{"diameter_m":{},"wall_m":0.002,"length_m":5,"price":9{material}}}]"#,
            1e-3 * depth
        )
    };
    // Like boom and battens in depth and wall, they are no longer one.
    let any = cuts(&row(""));
    assert_ne!(of(&any, 0).material, of(&any, 1).material);
    let price = |material: &str| of(&cuts(&row(material)), 0).stock[0].price;
    assert_eq!(price(""), Some(9.0));
    assert_eq!(price(r#","material":"6061-t6""#), Some(9.0));
    assert_eq!(price(r#","material":"6082-t6""#), None);
    // As many lengths of a section as can be typed are cut from.
    let rows: Vec<String> = (0..20)
        .map(|i| {
            format!(
                r#"{{"diameter_m":{},"wall_m":0.002,"length_m":{}}}"#,
                1e-3 * depth,
                5 + i
            )
        })
        .collect();
    let many = of(&cuts(&format!("[{}]", rows.join(","))), 0);
    assert!(many.stock.len() == 20 && many.cutting.is_some());
}

/// Joints of the cutting list, listed as weak places, are proved as such; taken twice nothing is added.
#[test]
fn joints_that_are_cut_can_be_listed() {
    let stock = r#"[{"diameter_m":0.08,"wall_m":0.0055,"length_m":3}]"#;
    let mut document = with(pippin(), &[("spars.stock", stock)]);
    let account = account_of(&document);
    let cuts = cutting(document.design(), &account, 0);
    let joints: Vec<_> = cuts.iter().flat_map(|cut| cut.joints.clone()).collect();
    assert_eq!(joints.len(), 2);
    let before = spars_of(&document);
    assert!(before.mast.weak.is_empty() && before.sail.spars[7].weak.is_empty());
    document
        .edit(&joint_edits(document.design(), &account, 0))
        .unwrap();
    assert!(document.problems().is_empty());
    let of = spars_of(&document);
    for (spar, place) in joints {
        let weak = match spar {
            None => of.mast.weak[0].height + of.mast_input.bury,
            Some(i) => of.sail_input.spars[i].weak[0].height,
        };
        assert!((weak - place).abs() < 0.006, "{weak} {place}");
    }
    near(of.mast.weak[0].left, 0.7, 1e-12);
    assert!(of.sail.spars[7].weak[0] > 0.0);
    let again = joint_edits(document.design(), &account_of(&document), 0);
    assert_eq!(again, []);
}

/// The boom that bears the bundle has the factor of jerks, and no wind.
#[test]
fn a_boom_under_its_bundle_has_no_wind() {
    let mut seen = [false; 2];
    for document in all()
        .into_iter()
        .chain([with(pippin(), &[("lines.dynamic", "4")])])
    {
        for mast in account_of(&document).masts {
            let of = mast.spars.unwrap();
            for (i, spar) in of.sail.spars.iter().enumerate() {
                let lies = of.sail_input.states[spar.state].lowered > i;
                let names: Vec<Factor> = spar.factors.iter().map(|factor| factor.0).collect();
                seen[usize::from(lies)] = true;
                if lies {
                    assert_eq!(names, [Factor::Dynamic, Factor::Material], "{i}");
                    assert_eq!(spar.factors[0].1, of.sail_input.rules.dynamic);
                } else {
                    let wind = [Factor::Coefficient, Factor::GustSquared, Factor::Material];
                    assert_eq!(names, wind);
                }
            }
        }
    }
    assert_eq!(seen, [true; 2]);
}

/// A least wind over the most is told, and the most serves for lines and spars alike.
#[test]
fn a_floor_over_the_cap_is_the_cap() {
    let winds = |floor: &str, cap: &str| {
        with(
            pippin(),
            &[("spars.floor_kn", floor), ("spars.cap_kn", cap)],
        )
    };
    let (both, level) = (winds("50", "40"), winds("40", "40"));
    let told = |document: &Document| {
        let found = problems(document).into_iter();
        let floor = found.filter(|found| found.0 == "spars.floor_kn");
        floor
            .filter(|found| found.1.contains("is the most wind"))
            .count()
    };
    assert_eq!((told(&both), told(&level)), (1, 0));
    assert_eq!(spars_of(&both), spars_of(&level));
    let lines = |document: &Document| account_of(document).masts[0].lines.clone().unwrap().account;
    assert_eq!(lines(&both), lines(&level));
    assert!(spars_of(&both).mast.ratio > 0.0);
}

/// Eight staves of a hollow mast are eight planks a stick long, scarfed where the stock is shorter; no bar of the mast's own girth.
#[test]
fn staves_are_cut_as_planks() {
    let stock = r#"[{"form":"timber","length_m":12,"diameter_m":0.0683,"wall_m":0.033}]"#;
    let document = with(
        pippin(),
        &[
            ("masts.0.spars.mast_kind", "\"hollow\""),
            ("masts.0.spars.mast_wall_m", "null"),
            ("spars.stock", stock),
        ],
    );
    let cuts = cutting(document.design(), &account_of(&document), 0);
    let staves: Vec<_> = cuts
        .iter()
        .filter(|cut| cut.pieces.iter().any(|piece| piece.0.is_none()))
        .collect();
    assert_eq!(staves.len(), 1);
    let side = 0.165 * (core::f64::consts::PI / 8.0).tan();
    near(staves[0].diameter, side, 1e-9);
    near(staves[0].wall.unwrap(), 0.033, 1e-9);
    assert_eq!(staves[0].pieces.len(), 8);
    assert!(staves[0].joints.is_empty());
    near(staves[0].pieces[0].1, 8.93, 0.01);
}

/// Cambered cloth stands round between its spars and pulls less in the sail's plane: (R - s) / (h / 2) falls as the arc deepens.
#[test]
fn cambered_panels_draw_less_on_the_yard() {
    let of = |cut: &str| made(&[("masts.0.sail.cut", cut)]);
    let (flat, cambered) = (of("\"flat\""), of("\"cambered\""));
    assert!(
        flat.sail_input
            .panels
            .iter()
            .all(|panel| panel.sagitta == 0.0)
    );
    let spars = &cambered.sail_input.spars;
    let chord = 0.5 * (spars[6].pole.length() + spars[7].pole.length());
    near(cambered.sail_input.panels[6].sagitta, 0.02 * chord, 1e-9);
    near(cambered.sail_input.panels[0].sagitta, 0.07 * 4.4, 1e-9);
    let bow = |of: &SparsAccount| of.sail.spars[7].bow;
    assert!(
        bow(&cambered) < 0.95 * bow(&flat),
        "{} {}",
        bow(&cambered),
        bow(&flat)
    );
}
