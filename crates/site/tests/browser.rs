//! The boundary and the painter in a real browser.
#![cfg(target_arch = "wasm32")]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use battenwright_site::{Workbench, blank_text, demo_keys, demo_text, painter};
use drawing::palette::{Ink, Scheme, ink};
use drawing::scene::{Anchor, Dash, Stroke, Weight, Words};
use drawing::{Role, Scene};
use js_sys::{Array, Error, Function, JSON, Object, Reflect};
use kurbo::{Point, Rect, Shape as _};
use support::fields_of;
use wasm_bindgen::prelude::*;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

mod support;

wasm_bindgen_test_configure!(run_in_browser);

#[wasm_bindgen(inline_js = r#"
// A second instance of this very module, so that the tests outlive its end. In a worker: there a module of
// any size may be instantiated at once, as the reset does.
const WORK = `
onmessage = async ({ data: [origin, words] }) => {
  try {
    const site = await import(origin + "/wasm-bindgen-test.js");
    await site.default({ module_or_path: origin + "/wasm-bindgen-test_bg.wasm" });
    const before = new site.Workbench(site.demo_text("marsh-pippin"), words);
    before.edit('[["masts.0.sail.chord_m",4.2],["name","Not yet lost"]]');
    const text = before.text();
    // A workbench where there is no memory: its first step traps.
    before.__wbg_ptr = 0xfffffff0;
    let fault = null;
    try {
      before.text();
    } catch (caught) {
      fault = caught;
    }
    // The reset comes with the next call, here one without arguments: they would lie in the old memory.
    site.ask_for_reset();
    site.demo_keys();
    const after = new site.Workbench(text, words);
    after.set_view({ units: "ft", hoist: [2] });
    postMessage({
      trapped: fault instanceof WebAssembly.RuntimeError,
      same: after.text() === text,
      figures: after.headline().length,
      unit: after.headline()[0].unit,
    });
  } catch (fault) {
    postMessage(String(fault));
  }
};
`;
export function trap_and_recover(words) {
  return new Promise((resolve, reject) => {
    const url = URL.createObjectURL(new Blob([WORK], { type: "text/javascript" }));
    const worker = new Worker(url, { type: "module" });
    worker.onmessage = ({ data }) => (typeof data === "string" ? reject(data) : resolve(data));
    worker.onerror = (event) => reject(event.message);
    worker.postMessage([location.origin, words]);
  });
}
"#)]
extern "C" {
    #[wasm_bindgen(catch)]
    async fn trap_and_recover(words: &str) -> Result<JsValue, JsValue>;
}

/// Has the glue reset its state before the next call: the function that the site exports by name.
#[wasm_bindgen]
pub fn ask_for_reset() {
    wasm_bindgen::handler::schedule_reinit();
}

const ENGLISH: &str = include_str!("../../../www/texts/en.json");

fn open(text: &str) -> Workbench {
    Workbench::new(text, ENGLISH).map_err(message).unwrap()
}

fn message(error: Error) -> String {
    String::from(error.message())
}

fn path_of(error: &Error) -> String {
    Reflect::get(error, &"path".into())
        .unwrap()
        .as_string()
        .unwrap()
}

fn get(object: &JsValue, key: &str) -> JsValue {
    Reflect::get(object, &key.into()).unwrap()
}

fn keys(object: &JsValue) -> Vec<String> {
    let keys = Object::keys(object.unchecked_ref::<Object>());
    let mut keys: Vec<String> = keys.iter().filter_map(|key| key.as_string()).collect();
    keys.sort();
    keys
}

fn rows(rows: Result<JsValue, JsValue>) -> Array {
    rows.unwrap().unchecked_into()
}

fn view(json: &str) -> JsValue {
    JSON::parse(json).unwrap()
}

const LOWERED: &str = r#"{"units":"ft","mast":0,"hoist":[1.5,1],"sheet_deg":20,"dark":true,
    "shown":{"dimensions":true,"parrels":true,"lifts":true,"trail":true},
    "zoom":2,"pan_x":10,"pan_y":-5,"active":"clew","hands":true}"#;

fn canvas(width: u32, height: u32) -> CanvasRenderingContext2d {
    let document = web_sys::window().unwrap().document().unwrap();
    let canvas: HtmlCanvasElement = document.create_element("canvas").unwrap().unchecked_into();
    canvas.set_width(width);
    canvas.set_height(height);
    canvas.get_context("2d").unwrap().unwrap().unchecked_into()
}

/// Red, green, blue, cover of every pixel.
fn pixels(canvas: &CanvasRenderingContext2d, width: u32, height: u32) -> Vec<[u8; 4]> {
    let image = canvas
        .get_image_data(0.0, 0.0, f64::from(width), f64::from(height))
        .unwrap();
    let bytes = image.data().0;
    bytes
        .chunks_exact(4)
        .map(|p| [p[0], p[1], p[2], p[3]])
        .collect()
}

fn count(pixels: &[[u8; 4]], ink: Ink) -> usize {
    let of_ink = [ink.red, ink.green, ink.blue, 255];
    pixels.iter().filter(|pixel| **pixel == of_ink).count()
}

#[wasm_bindgen_test]
fn every_export_answers_for_every_design() {
    assert_eq!(demo_keys(), ["saltwort", "marsh-pippin", "grey-heron"]);
    assert_eq!(demo_text("schooner"), "");
    let mut texts: Vec<String> = demo_keys().iter().map(|key| demo_text(key)).collect();
    texts.push(blank_text());
    for text in texts {
        let mut bench = open(&text);
        assert_eq!(bench.text(), text);
        for given in ["{}", LOWERED] {
            bench.set_view(view(given)).unwrap();
            let paths = [
                "name",
                "masts.0.sail.chord_m",
                "masts.0.sail.area",
                "boat.keel",
            ];
            let fields = rows(bench.fields(paths.map(str::to_owned).to_vec()));
            assert_eq!(fields.length(), 4);
            for (row, path) in fields.iter().zip(paths) {
                assert_eq!(get(&row, "path").as_string().unwrap(), path);
                assert!(get(&row, "by_rule").as_bool().is_some());
                assert!(get(&row, "options").is_instance_of::<Array>());
            }
            assert_eq!(rows(bench.headline()).length(), 3);
            assert!(rows(bench.attention()).is_instance_of::<Array>());
            let table = bench.reef_table().unwrap();
            assert_eq!(keys(&table), ["columns", "rows"]);
            let states: Array = get(&table, "rows").unchecked_into();
            assert!(states.length() > 5);
            let hoist: Array = get(&states.get(1), "hoist").unchecked_into();
            assert!(hoist.get(0).as_f64().is_some());
            assert!(bench.csv().contains("\r\n"));
            assert_eq!(
                keys(&bench.spars("proof.cases").unwrap()),
                ["columns", "rows"]
            );
            assert!(rows(bench.spar_verdict()).length() >= 2);
            assert!(rows(bench.dossier(vec!["spars".to_owned()])).length() >= 2);
            assert!(bench.dossier_csv("spars").contains("\r\n"));
            assert!(
                bench
                    .dossier_pdf(vec!["reefs".to_owned()], "a4", "", &[])
                    .starts_with(b"%PDF")
            );
            let found = bench.find("yard", "lightest", "", &Function::new_no_args(""));
            let [said, edits] = bench.found("yard", &found).try_into().unwrap();
            assert!(!said.is_empty() && edits.starts_with("[["), "{said}");
            assert!(bench.svg().starts_with("<svg"));
            assert!(bench.reading().len() > 40);
            assert!(rows(bench.hoist_scale()).length() >= 1);
            assert_eq!(rows(bench.handles(390.0, 844.0)).length(), 5);
            assert!(
                bench
                    .drag("clew", 300.0, 500.0, 390.0, 844.0)
                    .starts_with("[[")
            );
            assert!(
                bench
                    .drag("hoist", 200.0, 300.0, 390.0, 844.0)
                    .starts_with("{\"hoist\"")
            );
            assert!(bench.nudge("peak", 1.0, true, false).starts_with("[["));
            let typed = bench.type_in("masts.0.sail.chord_m", "4.1 m").unwrap();
            let steps = bench
                .edit(&get(&typed, "edits").as_string().unwrap())
                .unwrap();
            bench.apply(&steps, true).unwrap();
            assert_eq!(bench.text(), text);
            let typed = bench.type_in("masts.0.sail.chord_m", "long").unwrap();
            assert_eq!(keys(&typed), ["problem"]);
            bench.paint(&canvas(390, 844), 390.0, 844.0, 1.0);
        }
    }
}

#[wasm_bindgen_test]
fn what_cannot_be_opened_is_an_error_with_its_path() {
    for (text, path) in [
        ("", ""),
        ("{", ""),
        ("[]", ""),
        ("\u{0}", ""),
        ("null", ""),
        (
            r#"{"format":"battenwright-design","version":1,"masts":[{"sail":{"chord_m":"4"}}]}"#,
            "masts.0.sail.chord_m",
        ),
        (
            r#"{"format":"battenwright-design","version":1,"masts":[{},{},{},{}]}"#,
            "masts",
        ),
        (
            r#"{"format":"battenwright-design","version":99}"#,
            "version",
        ),
        (
            r#"{"format":"battenwright-design","version":1,"boat":[]}"#,
            "boat",
        ),
    ] {
        let error = Workbench::new(text, ENGLISH).unwrap_err();
        assert!(error.is_instance_of::<Error>());
        assert_eq!(path_of(&error), path, "{text}");
        let said = message(error);
        assert!(
            said.len() > 10 && !said.contains('{') && !said.starts_with("problem."),
            "{said}"
        );
    }
    let deep = ["[".repeat(100_000), "]".repeat(100_000)].concat();
    assert!(Workbench::new(&deep, ENGLISH).is_err());
    let long = ["\"", &"x".repeat(2_000_000), "\""].concat();
    assert!(Workbench::new(&long, ENGLISH).is_err());
}

#[wasm_bindgen_test]
fn what_cannot_be_done_is_an_error_and_changes_nothing() {
    let mut bench = open(&demo_text("marsh-pippin"));
    let text = bench.text();
    for edits in [
        "",
        "{}",
        "[[1,2]]",
        r#"[["masts.0.sail.chord_m","wide"]]"#,
        r#"[["masts.9.x.y",1]]"#,
    ] {
        let error = bench.edit(edits).unwrap_err();
        assert!(!message(error).is_empty());
        assert_eq!(bench.text(), text, "{edits}");
    }
    let error = bench
        .edit(r#"[["name","x"],["masts.0.sail.chord_m",[]]]"#)
        .unwrap_err();
    assert_eq!(path_of(&error), "masts.0.sail.chord_m");
    assert!(
        bench
            .apply(r#"[{"path":"no.where","new":1}]"#, true)
            .is_err()
    );
    assert!(bench.apply("[", false).is_err());
    assert!(bench.set_language("{\"a\":1}").is_err());
    for given in ["7", "\"m\"", r#"{"hoist":"all"}"#, r#"{"hoist":[0,"1"]}"#] {
        assert!(bench.set_view(view(given)).is_err(), "{given}");
    }
    // Every field of a view is read: one of the wrong type is refused, by its name.
    let fields = fields_of("View");
    assert!(fields.len() > 5, "{fields:?}");
    for field in &fields {
        let given = format!(r#"{{"{field}":null}}"#);
        let error = bench.set_view(view(&given)).unwrap_err();
        let said = get(&error, "message").as_string().unwrap();
        assert!(said.contains(field.as_str()), "{said}");
    }
    for field in ["dimensions", "parrels", "lifts", "trail"] {
        let given = format!(r#"{{"shown":{{"{field}":1}}}}"#);
        assert!(bench.set_view(view(&given)).is_err(), "{field}");
    }
    assert!(bench.set_view(JsValue::UNDEFINED).is_err());
    assert_eq!(bench.text(), text);
    // An error is said in the language given, from the first on.
    let words = r#"{"problem.syntax":"Nix verstehen: {line}."}"#;
    let error = Workbench::new("{", words).unwrap_err();
    assert_eq!(message(error), "Nix verstehen: 1.");
}

#[wasm_bindgen_test]
fn a_thousand_steps_are_undone_to_the_byte() {
    let mut bench = open(&demo_text("saltwort"));
    let first = bench.text();
    let undo: Vec<String> = (0..1000)
        .map(|i| {
            let chord = 3.0 + 0.0013 * f64::from(i);
            let edits = match i % 4 {
                0 => format!(r#"[["masts.0.sail.chord_m",{chord}]]"#),
                1 => format!(
                    r#"[["boat.coachroof.height_m",{chord}],["masts.0.sail.rise_deg",null]]"#
                ),
                2 => r#"[["boat.coachroof",null],["masts.0.sail.head_steps.0",1.25]]"#.to_owned(),
                _ => format!(
                    r#"[["masts.0.sail.rise_deg",{}],["note","step {i}"]]"#,
                    chord / 2.0
                ),
            };
            bench.edit(&edits).map_err(message).unwrap()
        })
        .collect();
    let last = bench.text();
    assert_ne!(last, first);
    for steps in undo.iter().rev() {
        bench.apply(steps, true).map_err(message).unwrap();
    }
    assert_eq!(bench.text(), first);
    // What was saved opens as the same.
    assert_eq!(open(&last).text(), last);
}

#[wasm_bindgen_test]
fn cloth_and_spars_are_found_on_the_canvas_by_their_inks() {
    let (width, height, ratio) = (390, 700, 2.0);
    for key in demo_keys() {
        for (dark, scheme) in [(false, Scheme::Light), (true, Scheme::Dark)] {
            let mut bench = open(&demo_text(&key));
            bench
                .set_view(view(&format!(r#"{{"dark":{dark},"hoist":[0,0]}}"#)))
                .unwrap();
            let (wide, high) = (width * 2, height * 2);
            let screen = canvas(wide, high);
            assert_eq!(
                count(&pixels(&screen, wide, high), ink(Role::Paper, scheme)),
                0
            );
            bench.paint(&screen, f64::from(width), f64::from(height), ratio);
            let painted = pixels(&screen, wide, high);
            assert!(
                painted.iter().all(|pixel| pixel[3] == 255),
                "a hole in the paper"
            );
            let all = painted.len() as f64;
            for (role, least) in [
                (Role::Paper, 0.2),
                (Role::Water, 0.02),
                (Role::Cloth, 0.04),
                (Role::ClothOther, 0.04),
                (Role::Spar, 0.001),
                (Role::HullLine, 0.0005),
            ] {
                let share = count(&painted, ink(role, scheme)) as f64 / all;
                assert!(share > least, "{key} {scheme:?} {role:?}: {share}");
            }
        }
    }
}

#[wasm_bindgen_test]
fn lowering_takes_cloth_off_the_canvas() {
    let mut bench = open(&demo_text("marsh-pippin"));
    let cloth = |bench: &mut Workbench, hoist: f64| {
        bench
            .set_view(view(&format!(r#"{{"hoist":[{hoist}]}}"#)))
            .unwrap();
        let screen = canvas(390, 700);
        bench.paint(&screen, 390.0, 700.0, 1.0);
        let painted = pixels(&screen, 390, 700);
        count(&painted, ink(Role::Cloth, Scheme::Light))
            + count(&painted, ink(Role::ClothOther, Scheme::Light))
    };
    let standing: Vec<usize> = [0.0, 2.0, 4.0, 6.0]
        .map(|hoist| cloth(&mut bench, hoist))
        .to_vec();
    assert!(
        standing.windows(2).all(|pair| pair[1] < pair[0]),
        "{standing:?}"
    );
}

/// One scene by hand, so that each thing a painter must do is seen alone.
fn painted(scene: &Scene, ratio: f64) -> (Vec<[u8; 4]>, usize) {
    let (wide, high) = ((scene.width * ratio) as u32, (scene.height * ratio) as u32);
    let screen = canvas(wide, high);
    painter::paint(
        &screen,
        scene,
        Scheme::Light,
        ratio,
        &mut painter::Told::default(),
    );
    (pixels(&screen, wide, high), wide as usize)
}

fn is(pixel: [u8; 4], role: Role) -> bool {
    let ink = ink(role, Scheme::Light);
    pixel[..3] == [ink.red, ink.green, ink.blue]
}

#[wasm_bindgen_test]
fn the_painter_is_sharp_at_any_ratio() {
    for ratio in [1.0, 1.5, 2.0, 2.625, 3.0] {
        let mut scene = Scene::new(80.0, 80.0);
        scene.fill(Rect::new(20.0, 20.0, 60.0, 40.0).to_path(0.1), Role::Spar);
        let (pixels, wide) = painted(&scene, ratio);
        let at = |x: f64, y: f64| pixels[(y * ratio) as usize * wide + (x * ratio) as usize];
        assert!(is(at(40.0, 30.0), Role::Spar), "ratio {ratio}");
        assert!(is(at(40.0, 50.0), Role::Paper) && is(at(10.0, 30.0), Role::Paper));
        // Between ink and paper lies at most one device pixel.
        let row = (30.0 * ratio) as usize * wide;
        let edge = pixels[row..row + wide]
            .iter()
            .filter(|pixel| !is(**pixel, Role::Spar) && !is(**pixel, Role::Paper))
            .count();
        assert!(edge <= 2, "ratio {ratio}: {edge}");
    }
    // A ratio that is none is one.
    let mut scene = Scene::new(20.0, 20.0);
    scene.fill(Rect::new(0.0, 0.0, 20.0, 20.0).to_path(0.1), Role::Spar);
    let screen = canvas(20, 20);
    painter::paint(
        &screen,
        &scene,
        Scheme::Light,
        f64::NAN,
        &mut painter::Told::default(),
    );
    assert_eq!(
        count(&pixels(&screen, 20, 20), ink(Role::Spar, Scheme::Light)),
        400
    );
}

#[wasm_bindgen_test]
fn dashes_leave_gaps_and_whole_lines_none() {
    for (dash, gaps) in [(Dash::Whole, 0), (Dash::Dashed, 21), (Dash::Chain, 19)] {
        let mut scene = Scene::new(200.0, 20.0);
        // A dashed one first: the pattern must not stay for the next.
        scene.line(
            Point::new(0.0, 3.0),
            Point::new(200.0, 3.0),
            Stroke::new(Role::Line, 2.0).dashed(Dash::Dotted),
        );
        scene.line(
            Point::new(0.0, 10.0),
            Point::new(200.0, 10.0),
            Stroke::new(Role::Spar, 4.0).dashed(dash).square(),
        );
        let (pixels, wide) = painted(&scene, 1.0);
        let row: Vec<bool> = pixels[10 * wide..11 * wide]
            .iter()
            .map(|p| is(*p, Role::Paper))
            .collect();
        let found = row.windows(2).filter(|pair| !pair[0] && pair[1]).count();
        assert!(found.abs_diff(gaps) <= 2, "{dash:?}: {found} gaps");
    }
}

/// Box of the ink of words: left, top, right, bottom [px].
fn box_of(words: Words, role: Role) -> Option<[usize; 4]> {
    let mut scene = Scene::new(200.0, 200.0);
    scene.words(words);
    let (pixels, wide) = painted(&scene, 1.0);
    let inked = pixels
        .iter()
        .enumerate()
        .filter(|(_, pixel)| is(**pixel, role));
    inked
        .map(|(i, _)| (i % wide, i / wide))
        .fold(None, |found, (x, y)| {
            let [left, top, right, bottom] = found.unwrap_or([x, y, x, y]);
            Some([left.min(x), top.min(y), right.max(x), bottom.max(y)])
        })
}

#[wasm_bindgen_test]
fn words_stand_at_their_anchor_turned_and_with_their_halo() {
    let words = |anchor| {
        let mut words = Words::new("HHHHH", Role::Title, Point::new(100.0, 100.0), anchor);
        words.size = 16.0;
        words.weight = Weight::Strong;
        words
    };
    let [left, top, right, bottom] = box_of(words(Anchor::Start), Role::Title).unwrap();
    assert!(left >= 100 && right > 130 && bottom <= 100 && top > 80);
    let [left, _, right, _] = box_of(words(Anchor::End), Role::Title).unwrap();
    assert!(right <= 100 && left < 70);
    let [left, _, right, _] = box_of(words(Anchor::Middle), Role::Title).unwrap();
    assert!((left + right).abs_diff(200) <= 3);
    // A quarter turn clockwise: the words go down the page.
    let mut turned = words(Anchor::Start);
    turned.angle = std::f64::consts::FRAC_PI_2;
    let [left, top, right, bottom] = box_of(turned, Role::Title).unwrap();
    assert!(top >= 99 && bottom > 130 && left >= 99 && right < 120);
    let mut haloed = words(Anchor::Start);
    haloed.halo = Some(Role::Accent);
    let [left, top, right, bottom] = box_of(haloed.clone(), Role::Accent).unwrap();
    let letters = box_of(haloed, Role::Title).unwrap();
    let halo = [left, top, right, bottom];
    assert!(
        left < letters[0] && top < letters[1] && right > letters[2] && bottom > letters[3],
        "{halo:?} round {letters:?}"
    );
}

#[wasm_bindgen_test]
async fn after_a_trap_a_fresh_instance_opens_the_last_text() {
    let told = trap_and_recover(ENGLISH).await.unwrap();
    assert_eq!(get(&told, "trapped"), JsValue::TRUE);
    assert_eq!(get(&told, "same"), JsValue::TRUE);
    assert_eq!(get(&told, "figures").as_f64(), Some(3.0));
    assert!(get(&told, "unit").as_string().unwrap().starts_with("ft²"));
}
