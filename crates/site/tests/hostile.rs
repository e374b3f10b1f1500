//! Whatever a document holds and however it is looked at, the page is answered: no panic, no loop without an end.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

mod support;

use battenwright_site::bench::Bench;
use battenwright_site::rows::ViewGiven;
use design::{Edit, Tree};
use drawing::Scheme;
use quantities::{Catalogue, Kind, ROWS};
use serde_json::Value;
use support::{CLOTH, DOSSIER};

/// Knuth's numbers: the same designs every time.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = self.0.wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides
    }

    fn of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.roll(list.len())]
    }
}

/// What may stand where a number belongs.
const NUMBERS: [&str; 10] = [
    "0", "-0.0", "1", "-1", "1e-300", "1e300", "1e999", "-1e999", "0.5", "null",
];
/// What may stand where a list belongs.
const LISTS: [&str; 6] = [
    "[]",
    "[{}]",
    "[{},{},{}]",
    "[null]",
    "null",
    "[0,0,1e999,0,0,0,0,0,0,0,0,0,0,0]",
];

fn value(dice: &mut Dice, row: &quantities::Row) -> Value {
    let share = dice.of(&[0.0, 1.0, 0.5, 0.01, 0.99]);
    let number = row.hard_least + share * (row.hard_most - row.hard_least);
    match row.kind {
        _ if dice.roll(4) == 0 => serde_json::from_str(dice.of(&NUMBERS)).unwrap(),
        Kind::Number => number.into(),
        Kind::Whole => (number.round() as i64).into(),
        Kind::Flag => (dice.roll(2) > 0).into(),
        Kind::Choice(words) => dice.of(words).into(),
        Kind::Words => "é\n{".repeat(dice.roll(300)).into(),
    }
}

/// A path of a row, its places at random.
fn path(dice: &mut Dice, row: &quantities::Row) -> String {
    let mut path = row.path.to_owned();
    while path.contains("[]") {
        path = path.replacen("[]", &format!(".{}", dice.of(&[0, 0, 0, 1, 2])), 1);
    }
    path
}

/// A text with hostile values in it; one that is a document in most cases.
fn text(dice: &mut Dice) -> String {
    let demos = design::demos();
    let (blank, at) = (design::blank(), dice.roll(demos.len() + 1));
    let start = demos.get(at).unwrap_or(&blank);
    let mut document = start.open().unwrap();
    let put = |tree: &mut Tree, path: String, value: Value| {
        // An edit the tree itself refuses leaves it as it was.
        let _ = tree.edit(&[Edit::value(path, value)]);
    };
    let table = dice.roll(3) == 0;
    if table {
        let edits = document.to_table(0);
        document.edit(&edits).unwrap();
    }
    if dice.roll(3) == 0 {
        let account = design::account(document.design());
        for edits in [
            document.write_spans(0, &account),
            document.write_holds(0, &account),
        ] {
            document.edit(&edits).unwrap();
        }
    }
    let mut tree = Tree::parse(&document.text()).unwrap();
    if table && dice.roll(2) == 0 {
        let spars = tree
            .get("masts.0.sail.spars")
            .and_then(Value::as_array)
            .cloned();
        let mut spars = spars.unwrap_or_default();
        spars.truncate(dice.roll(4));
        put(&mut tree, "masts.0.sail.spars".into(), Value::Array(spars));
    }
    let cut = dice.of(&["flat", "cambered", "wing", "split", "paired"]);
    put(&mut tree, "masts.0.sail.cut".into(), cut.into());
    if dice.roll(3) == 0 {
        let panels = dice.of(&[1, 1, 2, 12]);
        put(&mut tree, "masts.0.sail.panels".into(), panels.into());
    }
    for _ in 0..dice.roll(10) {
        let row = &ROWS[dice.roll(ROWS.len())];
        if dice.roll(5) == 0
            && let Some((list, _)) = row.path.rsplit_once("[]")
        {
            let list = list.replace("[]", ".0");
            put(
                &mut tree,
                list,
                serde_json::from_str(dice.of(&LISTS)).unwrap(),
            );
            continue;
        }
        let (path, value) = (path(dice, row), value(dice, row));
        put(&mut tree, path, value);
    }
    tree.text()
}

fn open(text: &str) -> Option<Bench> {
    Bench::open(text, Catalogue::english()).ok()
}

const SIZES: [(f64, f64); 6] = [
    (390.0, 430.0),
    (1200.0, 800.0),
    (0.0, 0.0),
    (1.0, 3000.0),
    (f64::NAN, 300.0),
    (1e9, f64::INFINITY),
];
const LINES: [&str; 10] = [
    "",
    "halyard",
    "sheet-0",
    "sheet-1",
    "span-0-0",
    "span-1-7",
    "lifts",
    "parrel-1",
    "hauling-0",
    "parrel-18446744073709551615",
];
const POINTED: [&str; 6] = [
    "",
    "yard",
    "panel-0",
    "panel-1",
    "batten-18446744073709551615",
    "parrel-3",
];
const PLOTS: [&str; 17] = [
    "deck",
    "above",
    "mast-section",
    "raising",
    "finder",
    "righting",
    "travel",
    "stern",
    "spar",
    "spar0",
    "spar99",
    "cloth-ways",
    "cloth-section1",
    "cloth-section0",
    "cloth-surface0",
    "cloth-surface1",
    "cloth-surface12",
];
const SPARS: [&str; 15] = [
    "proof.mast",
    "proof.allowed",
    "proof.cases",
    "proof.weak_places",
    "proof.schedule",
    "proof.orders",
    "proof.staves",
    "proof.spars",
    "proof.weights",
    "proof.rig",
    "proof.winds",
    "proof.forces",
    "proof.hull",
    "proof.raising",
    "proof.cutting",
];

fn view(dice: &mut Dice) -> ViewGiven {
    let odd = [0.0, 0.0, 1.0, 1.5, 12.0, -1.0, f64::NAN, f64::INFINITY];
    let mut view = ViewGiven {
        units: dice.of(&["m", "ft"]).to_owned(),
        mast: dice.of(&odd),
        hoist: vec![dice.of(&odd), dice.of(&odd), dice.of(&odd)],
        sheet_deg: dice.of(&odd) * 30.0,
        zoom: dice.of(&[1.0, 1.0, 8.0, 0.0, 1e300, f64::NAN]),
        pan_x: dice.of(&odd),
        pan_y: dice.of(&odd),
        wind_kn: dice.of(&odd) * 20.0,
        pointed: dice.of(&POINTED).to_owned(),
        named: "yard boom batten panel luff leech".to_owned(),
        line: dice.of(&LINES).to_owned(),
        lines: dice.roll(2) == 0,
        ..ViewGiven::default()
    };
    view.shown.curves = dice.roll(2) == 0;
    view
}

fn look(bench: &mut Bench, dice: &mut Dice) {
    bench.set_view(view(dice));
    let (width, height) = dice.of(&SIZES);
    bench.scene(width, height);
    bench.placed(width, height);
    for plot in PLOTS {
        bench.plot(plot, width, height);
    }
    let pointers = [(0.0, 0.0), (200.0, 150.0), (f64::NAN, 1e300)];
    for handle in bench.handles(width, height) {
        let (x, y) = dice.of(&pointers);
        bench.drag(&handle.id, x, y, width, height);
        bench.nudge(&handle.id, dice.of(&[1.0, -1e300, f64::NAN]), true, false);
    }
    for handle in bench.handles_above(width, height) {
        let (x, y) = dice.of(&pointers);
        bench.drag_above(&handle.id, x, y, width, height);
        bench.nudge(&handle.id, 1.0, dice.roll(2) == 0, true);
    }
    for (x, y) in pointers {
        bench.line_at(dice.roll(2) == 0, x, y, width, height);
    }
    bench.named_parts();
    bench.hoist_scale();
    bench.line_in_hand();
    bench.balance();
    bench.reef_table();
}

fn read(bench: &mut Bench, dice: &mut Dice) {
    let mut paths = Vec::new();
    for row in ROWS {
        paths.push(path(dice, row));
    }
    bench.fields(&paths);
    for _ in 0..20 {
        let at = dice.of(&["3", "-1", "1e5", "12 m", "", "9 9/0\"", "é"]);
        bench.type_in(&paths[dice.roll(paths.len())], at);
    }
    bench.headline();
    bench.attention();
    bench.fit_centre();
    bench.lines();
    for state in [0, 1, 14, usize::MAX] {
        bench.line_loads(state);
        bench.drill(0, state);
        bench.drill(state, 1);
    }
    bench.sweep();
    bench.line_papers();
    bench.reading();
    bench.csv();
    bench.lessons();
    bench.lesson_figures();
    bench.lesson_copy(0);
    bench.lesson_copy(usize::MAX);
    for part in SPARS {
        bench.spars(part);
    }
    bench.spar_verdict();
    bench.joint_edits();
    for sheet in [0, 1, usize::MAX] {
        bench.spar_papers(sheet);
    }
    for what in ["spans", "holds"] {
        bench.write_out(what);
    }
    bench.take_found("boom", &[0.0, f64::NAN, 1.0, 0.0, 2.0, 1.0, 3.0]);
}

fn sew(bench: &mut Bench, dice: &mut Dice) {
    bench.cloth(&CLOTH.map(str::to_owned));
    bench.cloth_papers(0);
    let width = dice.of(&[320.0, 1200.0, 0.0, f64::NAN, 1e300]);
    for index in [0, 3, usize::MAX] {
        bench.cloth_piece(index, width);
        for paper in ["a4", "0.9 m", "letter", "nothing"] {
            bench.cloth_pages(index, paper);
        }
        for kind in ["piece", "svg", "blank"] {
            let _ = bench.cloth_file(kind, index, "a4");
        }
    }
    bench.cloth_roll(0, (1, width), Scheme::Light, &|_| {});
    for kind in ["lofting", "csv"] {
        let _ = bench.cloth_file(kind, 0, "a3");
    }
    for which in [
        "plan",
        "profile",
        "above",
        "curves",
        "cloth-roll",
        "cloth-section3",
        "cloth-ways",
    ] {
        bench.svg(which, dice.of(&[0, 1, usize::MAX]));
    }
}

/// A few documents for every day; `HOSTILE` asks for more.
#[test]
fn the_page_is_answered_whatever_the_document_holds() {
    let rounds = std::env::var("HOSTILE").ok().and_then(|n| n.parse().ok());
    let first = std::env::var("HOSTILE_FROM")
        .ok()
        .and_then(|n| n.parse().ok());
    let first: u64 = first.unwrap_or(0);
    let mut opened = 0;
    for round in first..first + rounds.unwrap_or(6_u64) {
        let mut dice = Dice(round.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        let text = text(&mut dice);
        let Some(mut bench) = open(&text) else {
            continue;
        };
        opened += 1;
        let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
            for _ in 0..2 {
                look(&mut bench, &mut dice);
            }
            read(&mut bench, &mut dice);
            sew(&mut bench, &mut dice);
            if round % 8 == 0 {
                bench.find(
                    dice.of(&["mast", "boom", "battens", "yard"]),
                    "lightest",
                    "",
                    &|_| {},
                );
                bench.dossier(&DOSSIER.map(str::to_owned));
            }
        }));
        assert!(done.is_ok(), "round {round}: {text}");
    }
    assert!(opened > 0);
}
