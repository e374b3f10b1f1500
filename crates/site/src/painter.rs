//! Plays a [`Scene`] on a canvas. Knows pens and letters, nothing of boats.

use drawing::palette::ink;
use drawing::scene::{Anchor, Cap, Dash, Figure, Item, Weight, Words};
use drawing::{Role, Scene, Scheme};
use js_sys::Array;
use kurbo::PathEl;
use quantities::units::fixed;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::CanvasRenderingContext2d;

#[wasm_bindgen]
extern "C" {
    /// The same canvas, told in words that are JavaScript's already, which web-sys would have made anew each time.
    #[wasm_bindgen(extends = CanvasRenderingContext2d, js_name = CanvasRenderingContext2D)]
    type Canvas;
    #[wasm_bindgen(method, setter, js_name = fillStyle)]
    fn set_filling(this: &Canvas, ink: &JsValue);
    #[wasm_bindgen(method, setter, js_name = strokeStyle)]
    fn set_stroking(this: &Canvas, ink: &JsValue);
    #[wasm_bindgen(method, setter, js_name = font)]
    fn set_letters(this: &Canvas, font: &JsValue);
    #[wasm_bindgen(method, js_name = fillText)]
    fn fill_words(this: &Canvas, words: &JsValue, x: f64, y: f64);
    #[wasm_bindgen(method, js_name = strokeText)]
    fn stroke_words(this: &Canvas, words: &JsValue, x: f64, y: f64);
}

/// Most words that are kept: zooming by hand goes through many sizes of letters.
const MOST_WORDS: usize = 160;

/// What canvases were told before, kept from one drawing to the next: handing a word over costs as much as drawing.
#[derive(Debug, Default)]
pub struct Told {
    scheme: Scheme,
    /// The scheme's inks, role by role.
    inks: Vec<JsValue>,
    words: Vec<(String, JsValue)>,
    /// Behind the one told last: most come in the order of the drawing before.
    next: usize,
}

impl Told {
    fn begin(&mut self, scheme: Scheme) {
        if self.scheme != scheme || self.inks.is_empty() {
            self.scheme = scheme;
            let css = |role| JsValue::from_str(&ink(role, scheme).css());
            self.inks = Role::ALL.into_iter().map(css).collect();
        }
        if self.words.len() > MOST_WORDS {
            self.words.clear();
        }
        self.next = 0;
    }

    fn ink(&self, role: Role) -> Option<&JsValue> {
        self.inks.get(role as usize)
    }

    /// The same words as JavaScript's.
    fn said(&mut self, words: &str) -> Option<&JsValue> {
        let known = |(known, _): &(String, JsValue)| known == words;
        let (before, after) = self.words.split_at(self.next.min(self.words.len()));
        let at = match after.iter().position(known) {
            Some(at) => before.len() + at,
            None => before.iter().position(known).unwrap_or(self.words.len()),
        };
        if at == self.words.len() {
            self.words
                .push((words.to_owned(), JsValue::from_str(words)));
        }
        self.next = at + 1;
        self.words.get(at).map(|(_, said)| said)
    }
}

/// Paints a scene over whatever the canvas shows.
///
/// `ratio` is device pixels per CSS pixel; one that is no number counts as 1.
pub fn paint(
    canvas: &CanvasRenderingContext2d,
    scene: &Scene,
    scheme: Scheme,
    ratio: f64,
    told: &mut Told,
) {
    let ratio = if ratio.is_finite() && ratio > 0.0 {
        ratio
    } else {
        1.0
    };
    told.begin(scheme);
    let mut painter = Painter {
        canvas: canvas.unchecked_ref(),
        told,
        ratio,
        filling: None,
        stroking: None,
        weight: f64::NAN,
        dash: None,
        cap: None,
        letters: None,
        anchor: None,
    };
    painter.begin(scene);
    for item in &scene.items {
        match item {
            Item::Figure(figure) => painter.figure(figure),
            Item::Words(words) => painter.words(words),
        }
    }
}

/// The canvas and what it was last told: telling a canvas the same again costs as much as drawing.
struct Painter<'a> {
    canvas: &'a Canvas,
    told: &'a mut Told,
    ratio: f64,
    filling: Option<Role>,
    stroking: Option<Role>,
    weight: f64,
    dash: Option<Dash>,
    cap: Option<Cap>,
    letters: Option<(f64, Weight)>,
    anchor: Option<Anchor>,
}

impl Painter<'_> {
    fn begin(&mut self, scene: &Scene) {
        self.upright();
        self.canvas.set_line_join("round");
        self.canvas.set_text_baseline("alphabetic");
        self.fill_with(Role::Paper);
        self.canvas.fill_rect(0.0, 0.0, scene.width, scene.height);
    }

    /// One unit is one CSS pixel again.
    fn upright(&self) {
        // Fails on no canvas: finite numbers always make a transform.
        let _ = self
            .canvas
            .set_transform(self.ratio, 0.0, 0.0, self.ratio, 0.0, 0.0);
    }

    fn figure(&mut self, figure: &Figure) {
        self.canvas.begin_path();
        for element in figure.path.elements() {
            match element {
                PathEl::MoveTo(p) => self.canvas.move_to(p.x, p.y),
                PathEl::LineTo(p) => self.canvas.line_to(p.x, p.y),
                PathEl::QuadTo(p, q) => self.canvas.quadratic_curve_to(p.x, p.y, q.x, q.y),
                PathEl::CurveTo(p, q, r) => {
                    self.canvas.bezier_curve_to(p.x, p.y, q.x, q.y, r.x, r.y)
                }
                PathEl::ClosePath => self.canvas.close_path(),
            }
        }
        if let Some(role) = figure.fill {
            self.fill_with(role);
            self.canvas.fill();
        }
        if let Some(stroke) = figure.stroke {
            self.stroke_with(stroke.role, stroke.weight, stroke.dash, stroke.cap);
            self.canvas.stroke();
        }
    }

    fn words(&mut self, words: &Words) {
        if self.letters != Some((words.size, words.weight)) {
            self.letters = Some((words.size, words.weight));
            let font = font(words.size, words.weight);
            if let Some(font) = self.told.said(&font) {
                self.canvas.set_letters(font);
            }
        }
        if self.anchor != Some(words.anchor) {
            self.anchor = Some(words.anchor);
            self.canvas.set_text_align(match words.anchor {
                Anchor::Start => "left",
                Anchor::Middle => "center",
                Anchor::End => "right",
            });
        }
        let turned = words.angle != 0.0;
        let (x, y) = if turned {
            let (sin, cos) = angles::sin_cos(words.angle);
            let (sin, cos) = (sin * self.ratio, cos * self.ratio);
            let (x, y) = (words.at.x * self.ratio, words.at.y * self.ratio);
            let _ = self.canvas.set_transform(cos, sin, -sin, cos, x, y);
            (0.0, 0.0)
        } else {
            (words.at.x, words.at.y)
        };
        if let Some(halo) = words.halo {
            self.stroke_with(halo, 2.0 * Words::HALO, Dash::Whole, Cap::Round);
        }
        self.fill_with(words.role);
        if let Some(said) = self.told.said(&words.words) {
            if words.halo.is_some() {
                self.canvas.stroke_words(said, x, y);
            }
            self.canvas.fill_words(said, x, y);
        }
        if turned {
            self.upright();
        }
    }

    fn fill_with(&mut self, role: Role) {
        if self.filling != Some(role) {
            self.filling = Some(role);
            if let Some(ink) = self.told.ink(role) {
                self.canvas.set_filling(ink);
            }
        }
    }

    fn stroke_with(&mut self, role: Role, weight: f64, dash: Dash, cap: Cap) {
        if self.stroking != Some(role) {
            self.stroking = Some(role);
            if let Some(ink) = self.told.ink(role) {
                self.canvas.set_stroking(ink);
            }
        }
        if self.weight != weight {
            self.weight = weight;
            self.canvas.set_line_width(weight);
        }
        if self.dash != Some(dash) {
            self.dash = Some(dash);
            let pattern: Array = dash
                .pattern()
                .iter()
                .map(|length| JsValue::from(*length))
                .collect();
            let _ = self.canvas.set_line_dash(&pattern);
        }
        if self.cap != Some(cap) {
            self.cap = Some(cap);
            self.canvas.set_line_cap(match cap {
                Cap::Butt => "butt",
                Cap::Round => "round",
            });
        }
    }
}

/// As CSS names letters: weight, size, face.
fn font(size: f64, weight: Weight) -> String {
    let mut font = fixed(f64::from(weight.number()), 0);
    font.push(' ');
    font.push_str(&fixed(size, 2));
    font.push_str("px Battenwright, sans-serif");
    font
}
