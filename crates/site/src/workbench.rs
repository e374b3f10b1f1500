//! The boundary itself: names and types as JavaScript sees them.

use design::link::Unread;
use design::{Edit, Step};
use drawing::Scheme;
use js_sys::{Array, Error, Function, Object, Reflect};
use quantities::listed::Listed as _;
use quantities::{Catalogue, Problem, Units};
use serde::Serialize;
use wasm_bindgen::prelude::*;
use web_sys::CanvasRenderingContext2d;

use crate::bench::{Bench, SHEET};
use crate::painter::{self, Told};
use crate::rows::{ShownGiven, ViewGiven};

#[wasm_bindgen(typescript_custom_section)]
const ROWS: &'static str = include_str!("rows.ts");

/// Names of the designs that come with the program.
#[wasm_bindgen]
pub fn demo_keys() -> Vec<String> {
    let demos = design::demos().iter();
    demos.map(|demo| demo.key.to_owned()).listed()
}

/// The document of one of them; empty for any other name.
#[wasm_bindgen]
pub fn demo_text(key: &str) -> String {
    let demo = design::demos().iter().find(|demo| demo.key == key);
    demo.map_or_else(String::new, |demo| demo.text())
}

/// The document of a plain boat and sail, to be changed into one's own.
#[wasm_bindgen]
pub fn blank_text() -> String {
    design::blank().text()
}

/// The document of a link's short text; nothing where it is none, or names what this version does not know; empty
/// where it holds more than any design.
#[wasm_bindgen]
pub fn text_of_short(short: &str) -> Option<String> {
    match design::link::unpacked(short) {
        Ok(text) => Some(text),
        Err(Unread::Unknown) => None,
        Err(Unread::TooLarge) => Some(String::new()),
    }
}

/// One design, and one way of looking at it.
#[wasm_bindgen]
#[derive(Debug)]
pub struct Workbench {
    bench: Bench,
    told: Told,
}

#[wasm_bindgen]
impl Workbench {
    /// Opens a document. `words` is the catalogue of the user's language.
    ///
    /// Throws an Error with the `path` of what cannot be opened: broken JSON, a value of the wrong
    /// type, a newer version.
    #[wasm_bindgen(constructor)]
    pub fn new(text: &str, words: &str) -> Result<Workbench, Error> {
        match Bench::open(text, read_words(words)?) {
            Ok(bench) => Ok(Self {
                bench,
                told: Told::default(),
            }),
            Err((problem, words)) => Err(error(
                &problem,
                &words,
                crate::bench::spoken(&words, Units::METRIC),
            )),
        }
    }

    /// Takes the catalogue of another language.
    pub fn set_language(&mut self, catalogue_json: &str) -> Result<(), Error> {
        self.bench.set_words(read_words(catalogue_json)?);
        Ok(())
    }

    /// The canonical text of the document.
    pub fn text(&self) -> String {
        self.bench.text()
    }

    /// The short text of the document, for a link.
    pub fn short(&self) -> String {
        design::link::packed(&self.bench.document)
    }

    /// Looks at the design in another way.
    pub fn set_view(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "View")] view: JsValue,
    ) -> Result<(), JsValue> {
        self.bench.set_view(read_view(&view)?);
        Ok(())
    }

    /// Makes edits as one step: `[["masts.0.sail.chord_m",4.43],["boat.coachroof",null]]`. Numbers
    /// are rounded to the step of their field unless a third entry says `"exact"`.
    ///
    /// Hands back the changes made, `[{"path":..,"old":..,"new":..}]`, for `apply`.
    pub fn edit(&mut self, edits_json: &str) -> Result<String, Error> {
        let edits = Edit::read_list(edits_json).map_err(|problem| self.error(&problem))?;
        let steps = self
            .bench
            .edit(&edits)
            .map_err(|problem| self.error(&problem))?;
        Ok(Step::write_list(&steps))
    }

    /// Undoes changes (`back`) or makes them again, to the byte.
    pub fn apply(&mut self, steps_json: &str, back: bool) -> Result<(), Error> {
        let steps = Step::read_list(steps_json).map_err(|problem| self.error(&problem))?;
        self.bench
            .apply(&steps, back)
            .map_err(|problem| self.error(&problem))
    }

    /// What was typed into a field, as edits for `edit`, or the reason why not. Nothing typed means
    /// back to the rule or the usual value.
    #[wasm_bindgen(unchecked_return_type = "TypedIn")]
    pub fn type_in(&self, path: &str, typed: &str) -> Result<JsValue, JsValue> {
        row(&self.bench.type_in(path, typed))
    }

    /// One row per field, in the order of the paths; what is no field gives none.
    #[wasm_bindgen(unchecked_return_type = "FieldRow[]")]
    pub fn fields(&mut self, paths: Vec<String>) -> Result<JsValue, JsValue> {
        row(&self.bench.fields(&paths))
    }

    /// The three numbers that matter now.
    #[wasm_bindgen(unchecked_return_type = "Figure[]")]
    pub fn headline(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.headline())
    }

    /// Problems and checks not passed, the worst first.
    #[wasm_bindgen(unchecked_return_type = "Attention[]")]
    pub fn attention(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.attention())
    }

    /// One row per state; of several masts the steps of the reef sequence.
    #[wasm_bindgen(unchecked_return_type = "ReefTable")]
    pub fn reef_table(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.reef_table())
    }

    /// Section Balance.
    #[wasm_bindgen(unchecked_return_type = "Balance")]
    pub fn balance(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.balance())
    }

    /// The mast moved so that the centre of effort falls on that of the rig she has; with edits and a
    /// problem both, as near as it may stand.
    #[wasm_bindgen(unchecked_return_type = "{ edits?: string; problem?: string }")]
    pub fn fit_centre(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.fit_centre())
    }

    /// Section Lines, of the mast being worked on.
    #[wasm_bindgen(unchecked_return_type = "Lines")]
    pub fn lines(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.lines())
    }

    /// All of the line in hand; nothing without one.
    #[wasm_bindgen(unchecked_return_type = "LineInHand | undefined")]
    pub fn line_in_hand(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.line_in_hand())
    }

    /// All that is carried with so many panels lowered: label and words.
    #[wasm_bindgen(unchecked_return_type = "Detail")]
    pub fn line_loads(&self, lowered: usize) -> Result<JsValue, JsValue> {
        row(&self.bench.line_loads(lowered))
    }

    /// The steps from so many panels lowered to as many: line, its name, what is done, how much.
    #[wasm_bindgen(unchecked_return_type = "string[][]")]
    pub fn drill(&self, from: usize, to: usize) -> Result<JsValue, JsValue> {
        row(&self.bench.drill(from, to))
    }

    /// The sheets at angles out to squared off, in the state that holds now.
    #[wasm_bindgen(unchecked_return_type = "Detail")]
    pub fn sweep(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.sweep())
    }

    /// How far abaft the leech each sheet's deck block must stand: label and words.
    #[wasm_bindgen(unchecked_return_type = "string[][]")]
    pub fn drift(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.drift())
    }

    /// The usual `spans` or `holds` of the sail being worked on as rows of their own, to be changed: edits for `edit`.
    pub fn write_out(&self, what: &str) -> String {
        self.bench.write_out(what)
    }

    /// The sheets of some parts of the dossier: `title`, `particulars`, `plan`, `reefs`, `lines`, `spars`, `cloth`, `checks`, `sources`.
    #[wasm_bindgen(unchecked_return_type = "PaperSheet[]")]
    pub fn dossier(&mut self, parts: Vec<String>) -> Result<JsValue, JsValue> {
        row(&self.bench.dossier(&parts))
    }

    /// The same as PDF, on `a4` or `letter`; the day in words, and the modules of the link's code row by row, a byte each.
    pub fn dossier_pdf(
        &mut self,
        parts: Vec<String>,
        paper: &str,
        day: &str,
        code: &[u8],
    ) -> Vec<u8> {
        self.bench.dossier_pdf(&parts, paper, day, code)
    }

    /// The tables of one part as comma-separated values; empty where it has none.
    pub fn dossier_csv(&mut self, part: &str) -> String {
        self.bench.dossier_csv(part)
    }

    /// Cordage, fittings, belay plan and drill card of every mast.
    #[wasm_bindgen(unchecked_return_type = "Paper[]")]
    pub fn line_papers(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.line_papers())
    }

    /// The ready lessons, then the teacher's own.
    #[wasm_bindgen(unchecked_return_type = "LessonRow[]")]
    pub fn lessons(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.lessons())
    }

    /// The numbers of the moment that a lesson may tell, each with the key it is told by.
    #[wasm_bindgen(unchecked_return_type = "Figure[]")]
    pub fn lesson_figures(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.lesson_figures())
    }

    /// A lesson by its place among `lessons` as the last of the teacher's own: edits for `edit`.
    pub fn lesson_copy(&self, at: usize) -> String {
        self.bench.lesson_copy(at)
    }

    /// One table of section Spars, of the mast being worked on. Cells past the heads are more about their row.
    #[wasm_bindgen(unchecked_return_type = "Detail")]
    pub fn spars(&self, part: &str) -> Result<JsValue, JsValue> {
        row(&self.bench.spars(part))
    }

    /// Whether mast and spars bear what comes on them: severity, sentence and what it is of.
    #[wasm_bindgen(unchecked_return_type = "string[][]")]
    pub fn spar_verdict(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.spar_verdict())
    }

    /// Tries sections for a part, `mast`, `boom`, `battens` or `yard`, of the mast being worked on: the `lightest` that passes, the
    /// `stiffest` no heavier than what is typed, or the `cheapest`. `tell` hears the share that is done. What comes back is for
    /// `found`, of this bench or of another of the same document.
    pub fn find(
        &self,
        part: &str,
        aim: &str,
        most: &str,
        #[wasm_bindgen(unchecked_param_type = "(done: number) => void")] tell: &Function,
    ) -> Vec<f64> {
        self.bench.find(part, aim, most, &|done| {
            // Who does not listen is not told.
            let _ = tell.call1(&JsValue::NULL, &JsValue::from_f64(done));
        })
    }

    /// Takes what was found, for the plot `finder`: a sentence, and edits that take the chosen one, or nothing.
    pub fn found(&mut self, part: &str, found: &[f64]) -> Vec<String> {
        self.bench.take_found(part, found).into()
    }

    /// Edits that list the joints of the cutting list as weak places; `[]` where all are.
    pub fn joint_edits(&self) -> String {
        self.bench.joint_edits()
    }

    /// Tables of section Cloth, of the mast being worked on, each by its key; their patterns are made for the first that asks. Cells past
    /// the heads are more about their row; `sewn.verdict` has severity, sentence and field.
    #[wasm_bindgen(unchecked_return_type = "Detail[]")]
    pub fn cloth(&mut self, parts: Vec<String>) -> Result<JsValue, JsValue> {
        row(&self.bench.cloth(&parts))
    }

    /// A piece as SVG for a page of a width.
    pub fn cloth_piece(&mut self, index: usize, width: f64) -> String {
        self.bench.cloth_piece(index, width)
    }

    /// The roll of a mast's sail as SVG for a page of a width, to be printed where there is none; laid with an `effort` (20 for a look, 1,500 for the
    /// order), unless it was greater before. `tell` hears the share that is done.
    pub fn cloth_roll(
        &mut self,
        mast: usize,
        effort: usize,
        width: Option<f64>,
        #[wasm_bindgen(unchecked_param_type = "(done: number) => void")] tell: &Function,
    ) -> String {
        let scheme = match width {
            Some(_) => self.bench.scheme(),
            None => Scheme::Print,
        };
        let width = width.unwrap_or(SHEET.0);
        self.bench
            .cloth_roll(mast, (effort, width), scheme, &|done| {
                // Who does not listen is not told.
                let _ = tell.call1(&JsValue::NULL, &JsValue::from_f64(done));
            })
    }

    /// Pages of the PDF of all pieces, and of one by its number, in words of a line each.
    pub fn cloth_pages(&mut self, index: usize, paper: &str) -> String {
        self.bench.cloth_pages(index, paper)
    }

    /// A file, `pdf`, `piece` (one of them), `lofting`, `svg` of a piece or patch by its number (empty past the last) or `csv`; on `a4`, `a3`, `letter` or a
    /// plotter's roll as wide as is typed. A sentence where it cannot be made.
    #[wasm_bindgen(unchecked_return_type = "Uint8Array | string")]
    pub fn cloth_file(&mut self, kind: &str, index: usize, paper: &str) -> JsValue {
        match self.bench.cloth_file(kind, index, paper) {
            Ok(bytes) => js_sys::Uint8Array::from(bytes.as_slice()).into(),
            Err(told) => JsValue::from_str(&told),
        }
    }

    /// A quick check, `inclining`, `area`, `mast`, `line` or `cloth`, by names of fields and what was typed into them, in turn. Of a list
    /// the row `at` is in sight. `own`: first values come from the design, and it can be written into.
    #[wasm_bindgen(unchecked_return_type = "Quick")]
    pub fn quick(
        &self,
        which: &str,
        typed: Vec<String>,
        at: usize,
        own: bool,
    ) -> Result<JsValue, JsValue> {
        row(&self.bench.quick(which, &typed, at, own))
    }

    /// The reef table as comma-separated values.
    pub fn csv(&self) -> String {
        self.bench.csv()
    }

    /// The drawing for paper, the whole of it with its dimensions.
    pub fn svg(&mut self) -> String {
        self.bench.svg("plan", 0)
    }

    /// The drawing in words.
    pub fn reading(&self) -> String {
        self.bench.reading()
    }

    /// Words of the trade: key, name, meaning, and something where the drawing can point at it now.
    #[wasm_bindgen(unchecked_return_type = "string[][]")]
    pub fn named_parts(&mut self) -> Result<JsValue, JsValue> {
        row(&self.bench.named_parts())
    }

    /// This design against another, as it stands in either's view: results, then inputs that differ; label, this one's, the other's,
    /// the difference, what it means. The second's title says what else there is.
    #[wasm_bindgen(unchecked_return_type = "Paper[]")]
    pub fn compare(&mut self, other: &mut Workbench) -> Result<JsValue, JsValue> {
        row(&self.bench.compare(&mut other.bench))
    }

    /// By one scale: this design (`one`), the `other`, or the other laid `over` this one.
    pub fn compare_svg(&self, other: &Workbench, which: &str, width: f64, height: f64) -> String {
        self.bench.compare_svg(&other.bench, which, width, height)
    }

    /// Scales of the hoist control.
    #[wasm_bindgen(unchecked_return_type = "HoistScale[]")]
    pub fn hoist_scale(&self) -> Result<JsValue, JsValue> {
        row(&self.bench.hoist_scale())
    }

    /// Handles on the drawing in a pane of this size.
    #[wasm_bindgen(unchecked_return_type = "Handle[]")]
    pub fn handles(&mut self, width: f64, height: f64) -> Result<JsValue, JsValue> {
        row(&self.bench.handles(width, height))
    }

    /// How the drawing lies in a pane of this size: CSS px to the metre, where the forward end of the
    /// waterline is [CSS px], how far it is panned [CSS px], which is never out of sight.
    pub fn placed(&mut self, width: f64, height: f64) -> Vec<f64> {
        self.bench.placed(width, height).into()
    }

    /// What a handle held at this point asks for: edits for `edit`, or `{"hoist":[..]}` for the view.
    pub fn drag(&mut self, id: &str, x: f64, y: f64, width: f64, height: f64) -> String {
        self.bench.drag(id, x, y, width, height)
    }

    /// What presses of an arrow key on a handle ask for, as `drag` gives it: of a key up or down the page, and
    /// of a handle in the view from above.
    pub fn nudge(&mut self, id: &str, steps: f64, upright: bool, above: bool) -> String {
        self.bench.nudge(id, steps, upright, above)
    }

    /// The number lettered in the drawing where a tap is, or nothing. `held`: a handle lies there, so that only the number itself is meant.
    #[wasm_bindgen(unchecked_return_type = "Figure | undefined")]
    pub fn number_at(
        &mut self,
        x: f64,
        y: f64,
        width: f64,
        height: f64,
        held: bool,
    ) -> Result<JsValue, JsValue> {
        row(&self.bench.number_at(x, y, width, height, held))
    }

    /// Handles on the view from above in a pane of this size: what stands on deck of the line in hand.
    #[wasm_bindgen(unchecked_return_type = "Handle[]")]
    pub fn handles_above(&self, width: f64, height: f64) -> Result<JsValue, JsValue> {
        row(&self.bench.handles_above(width, height))
    }

    /// The line that a tap means, after the number of its mast and a blank, or nothing; `above`: on the view
    /// from above.
    pub fn line_at(&mut self, above: bool, x: f64, y: f64, width: f64, height: f64) -> String {
        self.bench.line_at(above, x, y, width, height)
    }

    /// As `drag`, on the view from above.
    pub fn drag_above(&self, id: &str, x: f64, y: f64, width: f64, height: f64) -> String {
        self.bench.drag_above(id, x, y, width, height)
    }

    /// Draws on a canvas of this size in CSS px; `ratio` is device pixels per CSS px.
    pub fn paint(&mut self, ctx: &CanvasRenderingContext2d, width: f64, height: f64, ratio: f64) {
        let scene = self.bench.scene(width, height);
        painter::paint(ctx, &scene, self.bench.scheme(), ratio, &mut self.told);
    }

    /// Draws a plot, `stern`, `righting`, `travel`, `above`, `deck`, `mast-section`, `spar` (the weakest) or `spar3`, `raising`, `finder`, `cloth-section3`, `cloth-surface3` or `cloth-ways`, on a canvas as [`Self::paint`] does; gives back what it shows in words.
    pub fn paint_plot(
        &mut self,
        ctx: &CanvasRenderingContext2d,
        name: &str,
        width: f64,
        height: f64,
        ratio: f64,
    ) -> String {
        let scene = self.bench.plot(name, width, height);
        painter::paint(ctx, &scene, self.bench.scheme(), ratio, &mut self.told);
        scene.description
    }

    fn error(&self, problem: &Problem) -> Error {
        error(problem, &self.bench.words, self.bench.view.units)
    }
}

fn read_words(json: &str) -> Result<Catalogue, Error> {
    Catalogue::read(json).map_err(|problem| error(&problem, &Catalogue::default(), Units::METRIC))
}

/// A problem as the page gets it: an Error whose `path` names the field.
fn error(problem: &Problem, words: &Catalogue, units: Units) -> Error {
    let error = Error::new(&words.say(&problem.text, units));
    // Setting a property of an object just made cannot fail.
    let _ = Reflect::set(&error, &"path".into(), &JsValue::from_str(&problem.path));
    error
}

/// A view leaf by leaf: reading it by serde would bring a second printing of floats into the wasm.
fn read_view(view: &JsValue) -> Result<ViewGiven, JsValue> {
    let usual = ViewGiven::default();
    let object = |value: &JsValue| value.is_object().then(|| value.clone());
    let shown = read(view, "shown", &object, Object::new().into())?;
    let on = |key, usual| read(&shown, key, &JsValue::as_bool, usual);
    Ok(ViewGiven {
        units: read(view, "units", &JsValue::as_string, usual.units)?,
        mast: read(view, "mast", &JsValue::as_f64, usual.mast)?,
        hoist: read(view, "hoist", &numbers, usual.hoist)?,
        sheet_deg: read(view, "sheet_deg", &JsValue::as_f64, usual.sheet_deg)?,
        dark: read(view, "dark", &JsValue::as_bool, usual.dark)?,
        shown: ShownGiven {
            dimensions: on("dimensions", usual.shown.dimensions)?,
            parrels: on("parrels", usual.shown.parrels)?,
            lifts: on("lifts", usual.shown.lifts)?,
            trail: on("trail", usual.shown.trail)?,
            curves: on("curves", usual.shown.curves)?,
            heel: on("heel", usual.shown.heel)?,
        },
        zoom: read(view, "zoom", &JsValue::as_f64, usual.zoom)?,
        pan_x: read(view, "pan_x", &JsValue::as_f64, usual.pan_x)?,
        pan_y: read(view, "pan_y", &JsValue::as_f64, usual.pan_y)?,
        active: read(view, "active", &JsValue::as_string, usual.active)?,
        hands: read(view, "hands", &JsValue::as_bool, usual.hands)?,
        wind_kn: read(view, "wind_kn", &JsValue::as_f64, usual.wind_kn)?,
        pointed: read(view, "pointed", &JsValue::as_string, usual.pointed)?,
        named: read(view, "named", &JsValue::as_string, usual.named)?,
        line: read(view, "line", &JsValue::as_string, usual.line)?,
        lines: read(view, "lines", &JsValue::as_bool, usual.lines)?,
    })
}

/// A property, its usual value where there is none, an Error naming it where it is something else.
fn read<T>(
    object: &JsValue,
    key: &str,
    as_type: &dyn Fn(&JsValue) -> Option<T>,
    usual: T,
) -> Result<T, JsValue> {
    let value = Reflect::get(object, &key.into())?;
    if value.is_undefined() {
        return Ok(usual);
    }
    as_type(&value).ok_or_else(|| Error::new(&["view: ", key].concat()).into())
}

fn numbers(value: &JsValue) -> Option<Vec<f64>> {
    let list = value.dyn_ref::<Array>()?;
    // No room is set aside: a list may claim any length.
    let mut numbers = Vec::new();
    for item in list.iter() {
        numbers.push(item.as_f64()?);
    }
    Some(numbers)
}

fn row<T: Serialize + ?Sized>(row: &T) -> Result<JsValue, JsValue> {
    Ok(serde_wasm_bindgen::to_value(row)?)
}
