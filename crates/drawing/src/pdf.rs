//! PDF pages: scenes, paths and words in points of a page, numbers rounded to a thousandth of one.
//!
//! Own work: a page, a drawing used on many pages and two fonts every reader has are little to write, while the writer there is on
//! the registries (pdf-writer 0.15) adds 39 KB to the download, most of it the standard library's printing of floats. Letters are
//! those of Windows code page 1252 in Helvetica, which is not embedded; what else is said is spelled with them (see [`encoded`]).

use kurbo::{Affine, BezPath, PathEl, Point, Rect, Vec2};
use quantities::units::fixed;

use crate::palette::{Ink, Role};
use crate::scene::{Anchor, Cap, Dash, Figure, Item, Scene, Stroke, Weight, Words};
use crate::svg::trimmed;

/// Points per metre, exact: 72 an inch.
pub const POINTS: f64 = 72.0 / 0.0254;

/// Longest side of a page [m]: 14,400 points (ISO 32000-1, Annex C).
pub const LONGEST: f64 = 5.08;

/// No line is thinner [points], however small its drawing: printers lose what is.
const THINNEST: f64 = 0.4;

/// Objects that stand first: catalogue, page tree, resources of drawings and of pages, two fonts, title.
const CATALOGUE: usize = 1;
const TREE: usize = 2;
const OF_FORMS: usize = 3;
const OF_PAGES: usize = 4;
const FONTS: [usize; 2] = [5, 6];
const TITLE: usize = 7;

/// Pages being written.
pub struct Document {
    out: Vec<u8>,
    /// Where each object begins, by its number less one; nought: not yet written.
    offsets: Vec<usize>,
    pages: Vec<usize>,
    forms: Vec<usize>,
}

/// A drawing kept once and placed on many pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Form(usize);

/// What stands on a page or in a form.
pub struct Content {
    out: Vec<u8>,
    /// From the drawing's units to points, y up.
    place: Affine,
    /// Points per unit.
    scale: f64,
    /// The line last set, so that it is not set again.
    pen: Option<(Ink, f64, Dash, Cap)>,
    /// The ink last set for surfaces and letters.
    ink: Option<Ink>,
    /// Words are drawn together to the length they have in our own letters, where their drawing has left no more room.
    pub(crate) fitted: bool,
}

/// A page's own axes: metres from its lower left corner, y up.
pub fn metres() -> Affine {
    Affine::scale(POINTS)
}

/// A drawing in units of so many metres, y down from a height [units] above the page's lower edge.
pub fn hung(unit: f64, height: f64) -> Affine {
    let k = unit * POINTS;
    Affine::new([k, 0.0, 0.0, -k, 0.0, k * height])
}

impl Document {
    /// No pages yet. Readers show the title; printers are asked not to scale the pages.
    pub fn new(title: &str) -> Self {
        let mut document = Self {
            out: b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n".to_vec(),
            offsets: vec![0; TITLE],
            pages: Vec::new(),
            forms: Vec::new(),
        };
        document.object(
            CATALOGUE,
            "<</Type/Catalog/Pages 2 0 R/ViewerPreferences<</PrintScaling/None/DisplayDocTitle true>>>>",
        );
        document.object(OF_FORMS, "<</Font<</F0 5 0 R/F1 6 0 R>>>>");
        for (number, font) in FONTS.into_iter().zip(["", "-Bold"]) {
            let font = [
                "<</Type/Font/Subtype/Type1/BaseFont/Helvetica",
                font,
                "/Encoding/WinAnsiEncoding>>",
            ];
            document.object(number, &font.concat());
        }
        document.begin(TITLE);
        document.put("<</Title<FEFF");
        for unit in title.encode_utf16() {
            for shift in [12, 8, 4, 0] {
                document.out.push(HEX[usize::from(unit >> shift & 15)]);
            }
        }
        document.put(">/Creator(Battenwright)>>\nendobj\n");
        document
    }

    /// Keeps a drawing of a size [m] to be placed by [`Content::form`].
    pub fn form(&mut self, width: f64, height: f64, content: Content) -> Form {
        let number = self.next();
        self.forms.push(number);
        self.put("<</Type/XObject/Subtype/Form/Resources 3 0 R/BBox");
        self.sized([width, height].map(|m| m.max(0.0) * POINTS));
        self.stream(content);
        Form(number)
    }

    /// Adds a page of a size [m], 1 mm to [`LONGEST`].
    pub fn page(&mut self, width: f64, height: f64, content: Content) {
        let page = self.next();
        self.pages.push(page);
        self.put("<</Type/Page/Parent 2 0 R/Resources 4 0 R/MediaBox");
        self.sized([width, height].map(|m| m.max(0.001).min(LONGEST) * POINTS));
        self.put("/Contents ");
        self.reference(page + 1);
        self.put(">>\nendobj\n");
        self.next();
        self.put("<<");
        self.stream(content);
    }

    /// How many pages there are.
    pub fn pages(&self) -> usize {
        self.pages.len()
    }

    /// The file. A file has a page, were it an empty one.
    pub fn finish(mut self) -> Vec<u8> {
        if self.pages.is_empty() {
            self.page(0.210, 0.297, Content::new(metres()));
        }
        self.begin(TREE);
        self.put("<</Type/Pages/Count ");
        whole(&mut self.out, self.pages.len());
        self.put("/Kids[");
        for page in core::mem::take(&mut self.pages) {
            self.reference(page);
        }
        self.put("]>>\nendobj\n");
        self.begin(OF_PAGES);
        self.put("<</Font<</F0 5 0 R/F1 6 0 R>>/XObject<<");
        for form in core::mem::take(&mut self.forms) {
            self.put("/X");
            whole(&mut self.out, form);
            self.put(" ");
            self.reference(form);
        }
        self.put(">>>>\nendobj\n");
        let start = self.out.len();
        self.put("xref\n0 ");
        whole(&mut self.out, self.offsets.len() + 1);
        self.put("\n0000000000 65535 f \n");
        for offset in core::mem::take(&mut self.offsets) {
            let mut place = 1_000_000_000;
            for _ in 0..10 {
                self.out.push(b'0' + (offset / place % 10) as u8);
                place /= 10;
            }
            self.put(" 00000 n \n");
            self.pages.push(offset);
        }
        self.put("trailer\n<</Root 1 0 R/Info 7 0 R/Size ");
        whole(&mut self.out, self.pages.len() + 1);
        self.put(">>\nstartxref\n");
        whole(&mut self.out, start);
        self.put("\n%%EOF\n");
        self.out
    }

    fn put(&mut self, text: &str) {
        self.out.extend_from_slice(text.as_bytes());
    }

    /// Begins an object of a number that is kept for it.
    fn begin(&mut self, number: usize) {
        if let Some(offset) = self.offsets.get_mut(number - 1) {
            *offset = self.out.len();
        }
        whole(&mut self.out, number);
        self.put(" 0 obj\n");
    }

    /// Begins an object of the next number.
    fn next(&mut self) -> usize {
        self.offsets.push(0);
        self.begin(self.offsets.len());
        self.offsets.len()
    }

    fn object(&mut self, number: usize, text: &str) {
        self.begin(number);
        self.put(text);
        self.put("\nendobj\n");
    }

    fn reference(&mut self, number: usize) {
        whole(&mut self.out, number);
        self.put(" 0 R ");
    }

    fn sized(&mut self, [width, height]: [f64; 2]) {
        self.put("[0 0 ");
        numbers(&mut self.out, &[width, height]);
        self.put("]");
    }

    fn stream(&mut self, content: Content) {
        self.put("/Length ");
        whole(&mut self.out, content.out.len());
        self.put(">>\nstream\n");
        self.out.extend_from_slice(&content.out);
        self.put("\nendstream\nendobj\n");
    }
}

const HEX: &[u8; 16] = b"0123456789ABCDEF";

impl Content {
    /// Nothing yet, in a drawing's own axes.
    pub fn new(place: Affine) -> Self {
        let mut content = Self {
            out: b"1 j\n".to_vec(),
            place: Affine::IDENTITY,
            scale: 1.0,
            pen: None,
            ink: None,
            fitted: false,
        };
        content.placed(place);
        content
    }

    /// Goes on in other axes: from the drawing's units to points, y up.
    pub fn placed(&mut self, place: Affine) {
        self.place = place;
        self.scale = place.determinant().abs().sqrt();
    }

    /// What follows is drawn within a box alone, until [`Self::unclipped`].
    pub fn clipped(&mut self, within: Rect) {
        self.put("q ");
        self.path(&crate::scene::boxed(within));
        self.put("W n\n");
    }

    /// Ends the box last begun.
    pub fn unclipped(&mut self) {
        self.put("Q\n");
        self.pen = None;
        self.ink = None;
    }

    /// Places a form, its lower left corner at a point, in its own size times a scale.
    pub fn form(&mut self, form: Form, at: Point, scale: f64) {
        let at = self.place * at;
        self.put("q ");
        numbers(&mut self.out, &[scale, 0.0, 0.0, scale, at.x, at.y]);
        self.put("cm /X");
        whole(&mut self.out, form.0);
        self.put(" Do Q\n");
    }

    /// A scene, back to front.
    pub fn scene(&mut self, scene: &Scene, inks: &dyn Fn(Role) -> Ink) {
        for item in &scene.items {
            match item {
                Item::Figure(figure) => self.figure(figure, inks),
                Item::Words(words) => self.words(words, inks),
            }
        }
    }

    /// A path. One with a point that is no number is left out.
    pub fn figure(&mut self, figure: &Figure, inks: &dyn Fn(Role) -> Ink) {
        let end = match (figure.fill, figure.stroke) {
            (None, None) => return,
            (None, Some(_)) => "S\n",
            (Some(_), None) => "f\n",
            (Some(_), Some(_)) => "B\n",
        };
        if !figure.path.is_finite() {
            return;
        }
        if let Some(role) = figure.fill {
            self.inked(inks(role));
        }
        if let Some(Stroke {
            role,
            weight,
            dash,
            cap,
        }) = figure.stroke
        {
            self.penned((inks(role), weight, dash, cap));
        }
        self.path(&figure.path);
        self.put(end);
    }

    /// Words on a line, turned as the drawing is.
    pub fn words(&mut self, words: &Words, inks: &dyn Fn(Role) -> Ink) {
        let along = self.place * (words.at + geometry::unit(words.angle)) - self.place * words.at;
        let along = along / along.hypot();
        let letters = encoded(&words.words);
        let share = match words.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5,
            Anchor::End => 1.0,
        };
        let size = words.size * self.scale;
        let mut long = length(&letters, size, words.weight);
        let mut narrowed = 1.0;
        if self.fitted {
            let most = words.length() * self.scale;
            if most < long {
                narrowed = most / long;
                long = most;
            }
        }
        let at = self.place * words.at - along * (share * long);
        if letters.is_empty() || !at.is_finite() || !along.is_finite() {
            return;
        }
        if narrowed < 1.0 {
            numbers(&mut self.out, &[100.0 * narrowed]);
            self.put("Tz ");
        }
        if let Some(halo) = words.halo {
            self.penned((inks(halo), 2.0 * Words::HALO, Dash::Whole, Cap::Round));
            self.put("1 Tr ");
            self.run(&letters, words.weight, size, along, at);
            self.put("0 Tr\n");
        }
        self.inked(inks(words.role));
        self.run(&letters, words.weight, size, along, at);
        if narrowed < 1.0 {
            self.put("100 Tz\n");
        }
    }

    fn run(&mut self, letters: &[u8], weight: Weight, size: f64, along: Vec2, at: Point) {
        self.put(match weight {
            Weight::Regular => "BT /F0 ",
            Weight::Strong => "BT /F1 ",
        });
        numbers(&mut self.out, &[size]);
        self.put("Tf ");
        // Turned letters are placed to a thousandth of their size over the whole run.
        for n in [along.x, along.y, -along.y, along.x] {
            number(&mut self.out, n, 6);
        }
        numbers(&mut self.out, &[at.x, at.y]);
        self.put("Tm (");
        for letter in letters {
            if b"()\\".contains(letter) {
                self.out.push(b'\\');
            }
            self.out.push(*letter);
        }
        self.put(") Tj ET\n");
    }

    fn put(&mut self, text: &str) {
        self.out.extend_from_slice(text.as_bytes());
    }

    fn coloured(&mut self, ink: Ink, operator: &str) {
        for part in [ink.red, ink.green, ink.blue] {
            numbers(&mut self.out, &[f64::from(part) / 255.0]);
        }
        self.put(operator);
    }

    fn inked(&mut self, ink: Ink) {
        if self.ink != Some(ink) {
            self.ink = Some(ink);
            self.coloured(ink, "rg ");
        }
    }

    fn penned(&mut self, pen: (Ink, f64, Dash, Cap)) {
        if self.pen == Some(pen) {
            return;
        }
        self.pen = Some(pen);
        let (ink, weight, dash, cap) = pen;
        self.coloured(ink, "RG ");
        numbers(&mut self.out, &[(weight * self.scale).max(THINNEST)]);
        self.put(if cap == Cap::Round {
            "w 1 J ["
        } else {
            "w 0 J ["
        });
        for part in dash.pattern() {
            numbers(&mut self.out, &[part * self.scale]);
        }
        self.put("] 0 d\n");
    }

    fn path(&mut self, path: &BezPath) {
        let mut last = Point::ORIGIN;
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(p) => {
                    self.points(&[p], "m ");
                    last = p;
                }
                PathEl::LineTo(p) => {
                    self.points(&[p], "l ");
                    last = p;
                }
                PathEl::QuadTo(p, q) => {
                    self.points(&[last.lerp(p, 2.0 / 3.0), q.lerp(p, 2.0 / 3.0), q], "c ");
                    last = q;
                }
                PathEl::CurveTo(p, q, r) => {
                    self.points(&[p, q, r], "c ");
                    last = r;
                }
                PathEl::ClosePath => self.put("h "),
            }
        }
    }

    fn points(&mut self, points: &[Point], operator: &str) {
        for p in points {
            let p = self.place * *p;
            numbers(&mut self.out, &[p.x, p.y]);
        }
        self.put(operator);
    }
}

fn whole(out: &mut Vec<u8>, number: usize) {
    out.extend_from_slice(fixed(number as f64, 0).as_bytes());
}

fn numbers(out: &mut Vec<u8>, list: &[f64]) {
    for n in list {
        number(out, *n, 3);
    }
}

/// A number and a blank; beyond what a reader takes (ISO 32000-1, Annex C has no more than six figures in mind) it is cut off.
fn number(out: &mut Vec<u8>, value: f64, decimals: u8) {
    let value = value.max(-999_999.0).min(999_999.0);
    out.extend_from_slice(trimmed(&fixed(value, decimals)).as_bytes());
    out.push(b' ');
}

/// Length of words on the line, in the unit of their size.
pub fn width(words: &str, size: f64, weight: Weight) -> f64 {
    length(&encoded(words), size, weight)
}

/// The box round words, tails included.
pub fn bounds(words: &Words) -> Rect {
    words.boxed(width(&words.words, words.size, words.weight))
}

/// Words in lines no longer than a width, broken at blanks; a word that is longer has a line of its own.
pub fn wrapped(words: &str, size: f64, weight: Weight, most: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words.split(' ') {
        let mut longer = line.clone();
        if !longer.is_empty() {
            longer.push(' ');
        }
        longer.push_str(word);
        if !line.is_empty() && width(&longer, size, weight) > most {
            lines.push(line);
            line = word.to_string();
        } else {
            line = longer;
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

fn length(letters: &[u8], size: f64, weight: Weight) -> f64 {
    let column = match weight {
        Weight::Regular => 0,
        Weight::Strong => 1,
    };
    let mut thousandths = 0;
    for letter in letters {
        let pair = WIDTHS.get(usize::from(letter.wrapping_sub(32)));
        thousandths += pair.map_or(0, |pair| u32::from(pair[column]));
    }
    f64::from(thousandths) * size / 1000.0
}

/// Words in the letters of code page 1252. By rule: blanks of any width become blanks; Latin letters lose marks that the page has
/// not; signs of the trade are spelled; marks without a width are dropped; every other letter becomes a question mark, so that it is
/// seen to be missing.
pub fn encoded(words: &str) -> Vec<u8> {
    let mut out = Vec::with_capacity(words.len());
    for letter in words.chars() {
        let code = letter as u32;
        match code {
            0xad => {}
            0..0x20 | 0x2000..=0x200a | 0x202f | 0x205f | 0x3000 => out.push(b' '),
            0x20..=0x7e | 0xa0..=0xff => out.push(code as u8),
            0x7f..0xa0 | 0x300..=0x36f | 0x200b..=0x200f | 0x2028..=0x202e => {}
            0x2060..=0x206f | 0xfe00..=0xfe0f | 0xfeff => {}
            _ => {
                let place = OTHERS.iter().position(|other| u32::from(*other) == code);
                if let Some(place) = place {
                    out.push(0x80 + place as u8);
                    continue;
                }
                let plain = code.checked_sub(0x100).map(|place| place as usize);
                if let Some(plain) = plain.and_then(|place| LATIN.as_bytes().get(place)) {
                    out.push(*plain);
                    continue;
                }
                let spelled = SPELLED.iter().find(|(other, _)| *other == letter);
                out.extend_from_slice(spelled.map_or(b"?", |(_, spelled)| spelled));
            }
        }
    }
    out
}

/// Code page 1252 from 0x80 to 0x9f, as Unicode's table of it has them; nought where it has none.
#[rustfmt::skip]
static OTHERS: [u16; 32] = [
    0x20ac, 0, 0x201a, 0x192, 0x201e, 0x2026, 0x2020, 0x2021, 0x2c6, 0x2030, 0x160, 0x2039, 0x152, 0, 0x17d, 0,
    0, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x2dc, 0x2122, 0x161, 0x203a, 0x153, 0, 0x17e, 0x178,
];

/// U+0100 to U+017F without their marks.
static LATIN: &str = "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlLlLlNnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

/// Signs that the page has not.
static SPELLED: [(char, &[u8]); 24] = [
    ('−', b"\x96"),
    ('‑', b"-"),
    ('≤', b"<="),
    ('≥', b">="),
    ('≈', b"~"),
    ('√', b"sqrt "),
    ('π', b"pi"),
    ('φ', b"phi"),
    ('ρ', b"rho"),
    ('β', b"beta"),
    ('Σ', b"sum "),
    ('∫', b"int "),
    ('ⁿ', b"^n"),
    ('₀', b"0"),
    ('₁', b"1"),
    ('←', b"<-"),
    ('→', b"->"),
    ('′', b"'"),
    ('″', b"\""),
    ('⁄', b"/"),
    ('⅛', b"1/8"),
    ('⅜', b"3/8"),
    ('⅝', b"5/8"),
    ('⅞', b"7/8"),
];

/// Advance of each letter of code page 1252 from the blank on, thousandths of the type size, regular and strong. Source: the metrics
/// published with Helvetica as one of the fonts every reader has.
#[rustfmt::skip]
static WIDTHS: [[u16; 2]; 224] = [
    [278, 278], [278, 333], [355, 474], [556, 556], [556, 556], [889, 889], [667, 722], [191, 238], [333, 333],
    [333, 333], [389, 389], [584, 584], [278, 278], [333, 333], [278, 278], [278, 278], [556, 556], [556, 556],
    [556, 556], [556, 556], [556, 556], [556, 556], [556, 556], [556, 556], [556, 556], [556, 556], [278, 333],
    [278, 333], [584, 584], [584, 584], [584, 584], [556, 611], [1015, 975], [667, 722], [667, 722], [722, 722],
    [722, 722], [667, 667], [611, 611], [778, 778], [722, 722], [278, 278], [500, 556], [667, 722], [556, 611],
    [833, 833], [722, 722], [778, 778], [667, 667], [778, 778], [722, 722], [667, 667], [611, 611], [722, 722],
    [667, 667], [944, 944], [667, 667], [667, 667], [611, 611], [278, 333], [278, 278], [278, 333], [469, 584],
    [556, 556], [333, 333], [556, 556], [556, 611], [500, 556], [556, 611], [556, 556], [278, 333], [556, 611],
    [556, 611], [222, 278], [222, 278], [500, 556], [222, 278], [833, 889], [556, 611], [556, 611], [556, 611],
    [556, 611], [333, 389], [500, 556], [278, 333], [556, 611], [500, 556], [722, 778], [500, 556], [500, 556],
    [500, 500], [334, 389], [260, 280], [334, 389], [584, 584], [350, 350], [556, 556], [350, 350], [222, 278],
    [556, 556], [333, 500], [1000, 1000], [556, 556], [556, 556], [333, 333], [1000, 1000], [667, 667], [333, 333],
    [1000, 1000], [350, 350], [611, 611], [350, 350], [350, 350], [222, 278], [222, 278], [333, 500], [333, 500],
    [350, 350], [556, 556], [1000, 1000], [333, 333], [1000, 1000], [500, 556], [333, 333], [944, 944], [350, 350],
    [500, 500], [667, 667], [278, 278], [333, 333], [556, 556], [556, 556], [556, 556], [556, 556], [260, 280],
    [556, 556], [333, 333], [737, 737], [370, 370], [556, 556], [584, 584], [333, 333], [737, 737], [333, 333],
    [400, 400], [584, 584], [333, 333], [333, 333], [333, 333], [556, 611], [537, 556], [278, 278], [333, 333],
    [333, 333], [365, 365], [556, 556], [834, 834], [834, 834], [834, 834], [611, 611], [667, 722], [667, 722],
    [667, 722], [667, 722], [667, 722], [667, 722], [1000, 1000], [722, 722], [667, 667], [667, 667], [667, 667],
    [667, 667], [278, 278], [278, 278], [278, 278], [278, 278], [722, 722], [722, 722], [778, 778], [778, 778],
    [778, 778], [778, 778], [778, 778], [584, 584], [778, 778], [722, 722], [722, 722], [722, 722], [722, 722],
    [667, 667], [667, 667], [611, 611], [556, 556], [556, 556], [556, 556], [556, 556], [556, 556], [556, 556],
    [889, 889], [500, 556], [556, 556], [556, 556], [556, 556], [556, 556], [278, 278], [278, 278], [278, 278],
    [278, 278], [556, 611], [556, 611], [556, 611], [556, 611], [556, 611], [556, 611], [556, 611], [584, 584],
    [611, 611], [556, 611], [556, 611], [556, 611], [556, 611], [500, 556], [556, 611], [500, 556],
];

#[cfg(test)]
mod tests {
    use super::*;

    fn said(words: &str) -> String {
        encoded(words).iter().map(|b| char::from(*b)).collect()
    }

    #[test]
    fn letters_are_those_of_the_code_page_and_others_are_spelled_by_rule() {
        assert_eq!(said("Luff (+) 4.40 m"), "Luff (+) 4.40 m");
        assert_eq!(
            encoded("°½Ü€–Œž"),
            [0xb0, 0xbd, 0xdc, 0x80, 0x96, 0x8c, 0x9e]
        );
        assert_eq!(said("Łódź Čeľ ≤ 5\u{202f}m"), "Lódz Cel <= 5 m");
        assert_eq!(encoded("−3"), [0x96, b'3']);
        assert_eq!(said("a\u{301}\u{200d}\u{ad}b\nc"), "ab c");
        assert_eq!(said("漢🛶"), "??");
        assert_eq!(LATIN.len(), 128);
        for (letter, _) in &SPELLED {
            assert_ne!(said(&letter.to_string()), "?");
        }
    }

    #[test]
    fn lines_break_at_blanks_and_are_no_longer_than_asked() {
        let text = "Strike the base line, nail at every offset and bend a batten round the nails";
        let lines = wrapped(text, 3.0, Weight::Regular, 40.0);
        assert!(lines.len() > 2);
        for line in &lines {
            assert!(width(line, 3.0, Weight::Regular) <= 40.0);
        }
        assert_eq!(lines.join(" "), text);
        assert!(wrapped("", 3.0, Weight::Regular, 40.0).is_empty());
        assert_eq!(
            wrapped("unbroken", 3.0, Weight::Regular, f64::NAN),
            ["unbroken"]
        );
    }

    #[test]
    fn numbers_are_plain_and_within_measure() {
        let spelled = |n: f64| {
            let mut out = Vec::new();
            numbers(&mut out, &[n]);
            String::from_utf8(out).unwrap()
        };
        assert_eq!(spelled(0.5), "0.5 ");
        assert_eq!(spelled(-12.34567), "-12.346 ");
        assert_eq!(spelled(1e300), "999999 ");
        assert_eq!(spelled(f64::NAN), "-999999 ");
        assert_eq!(spelled(f64::NEG_INFINITY), "-999999 ");
    }
}
