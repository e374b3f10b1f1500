//! A scene as SVG: attributes only, no style sheet, no script, so that it opens anywhere.

use kurbo::{PathEl, Point};
use quantities::units::fixed;

use crate::palette::{Ink, Role, Scheme, ink};
use crate::scene::{Anchor, Cap, Figure, Item, Scene, Weight, Words};

/// Names of the letters; readers without our font take their own.
const FONT: &str = "Battenwright, sans-serif";

/// The drawing as one SVG document. Coordinates are rounded to a tenth of a pixel.
pub fn write(scene: &Scene, scheme: Scheme) -> String {
    write_inked(scene, &|role| ink(role, scheme))
}

/// The same with inks of one's own.
pub fn write_inked(scene: &Scene, inks: &dyn Fn(Role) -> Ink) -> String {
    let mut out = String::with_capacity(24 * 1024);
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
    number(&mut out, scene.width);
    out.push_str("\" height=\"");
    number(&mut out, scene.height);
    out.push_str("\" viewBox=\"0 0 ");
    number(&mut out, scene.width);
    out.push(' ');
    number(&mut out, scene.height);
    out.push_str(
        "\" role=\"img\" aria-labelledby=\"drawing-title drawing-description\" font-family=\"",
    );
    out.push_str(FONT);
    out.push_str("\" stroke-linejoin=\"round\">\n<title id=\"drawing-title\">");
    escaped(&mut out, &scene.title);
    out.push_str("</title>\n<desc id=\"drawing-description\">");
    escaped(&mut out, &scene.description);
    out.push_str("</desc>\n");
    items(&mut out, scene, inks);
    out.push_str("</svg>\n");
    out
}

/// A drawing to be set into a page, where several may stand: without names of its own, which would have to differ.
pub fn inline(scene: &Scene, scheme: Scheme) -> String {
    let mut out = String::with_capacity(24 * 1024);
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\"");
    let mut view = "0 0 ".to_string();
    for (name, length) in [("width", scene.width), ("height", scene.height)] {
        let mut size = String::new();
        number(&mut size, length);
        attribute(&mut out, name, &size);
        view.push_str(&size);
        view.push(' ');
    }
    attribute(&mut out, "viewBox", view.trim_end());
    attribute(&mut out, "role", "img");
    attribute(&mut out, "font-family", FONT);
    attribute(&mut out, "stroke-linejoin", "round");
    out.push_str(" aria-label=\"");
    escaped(&mut out, &scene.title);
    out.push_str(": ");
    escaped(&mut out, &scene.description);
    out.push_str("\">\n");
    items(&mut out, scene, &|role| ink(role, scheme));
    out.push_str("</svg>\n");
    out
}

/// Scenes of one size in millimetres, one above another, each a group of its name: for cutters and plotters, at their own size.
pub fn write_layers(layers: &[(&str, &Scene)], inks: &dyn Fn(Role) -> Ink) -> String {
    let mut out = String::with_capacity(16 * 1024);
    let Some((_, first)) = layers.first() else {
        return out;
    };
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\"");
    for (name, length) in [("width", first.width), ("height", first.height)] {
        let mut size = String::new();
        number(&mut size, length);
        size.push_str("mm");
        attribute(&mut out, name, &size);
    }
    out.push_str(" viewBox=\"0 0 ");
    number(&mut out, first.width);
    out.push(' ');
    number(&mut out, first.height);
    out.push_str("\" font-family=\"");
    out.push_str(FONT);
    out.push_str("\" stroke-linejoin=\"round\">\n<title>");
    escaped(&mut out, &first.title);
    out.push_str("</title>\n");
    for (name, scene) in layers {
        out.push_str("<g id=\"");
        out.push_str(name);
        out.push_str("\">\n");
        items(&mut out, scene, inks);
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn items(out: &mut String, scene: &Scene, inks: &dyn Fn(Role) -> Ink) {
    for item in &scene.items {
        match item {
            Item::Figure(figure) => write_figure(out, figure, inks),
            Item::Words(words) => write_words(out, words, inks),
        }
    }
}

fn write_figure(out: &mut String, figure: &Figure, inks: &dyn Fn(Role) -> Ink) {
    out.push_str("<path d=\"");
    path(out, figure);
    out.push('"');
    let fill = figure.fill.map(|role| inks(role).css());
    attribute(out, "fill", fill.as_deref().unwrap_or("none"));
    if let Some(stroke) = figure.stroke {
        attribute(out, "stroke", &inks(stroke.role).css());
        out.push_str(" stroke-width=\"");
        out.push_str(trimmed(&fixed(stroke.weight, 2)));
        out.push('"');
        if stroke.cap == Cap::Round {
            attribute(out, "stroke-linecap", "round");
        }
        let pattern = stroke.dash.pattern();
        if !pattern.is_empty() {
            out.push_str(" stroke-dasharray=\"");
            for (i, length) in pattern.iter().enumerate() {
                if i > 0 {
                    out.push(' ');
                }
                number(out, *length);
            }
            out.push('"');
        }
    }
    out.push_str("/>\n");
}

fn write_words(out: &mut String, words: &Words, inks: &dyn Fn(Role) -> Ink) {
    out.push_str("<text x=\"");
    number(out, words.at.x);
    out.push_str("\" y=\"");
    number(out, words.at.y);
    out.push_str("\" font-size=\"");
    number(out, words.size);
    out.push('"');
    if words.weight == Weight::Strong {
        out.push_str(" font-weight=\"");
        out.push_str(&fixed(f64::from(words.weight.number()), 0));
        out.push('"');
    }
    match words.anchor {
        Anchor::Start => {}
        Anchor::Middle => attribute(out, "text-anchor", "middle"),
        Anchor::End => attribute(out, "text-anchor", "end"),
    }
    if words.angle != 0.0 {
        out.push_str(" transform=\"rotate(");
        number(out, words.angle.to_degrees());
        out.push(' ');
        number(out, words.at.x);
        out.push(' ');
        number(out, words.at.y);
        out.push_str(")\"");
    }
    attribute(out, "fill", &inks(words.role).css());
    if let Some(halo) = words.halo {
        attribute(out, "stroke", &inks(halo).css());
        out.push_str(" stroke-width=\"");
        number(out, 2.0 * Words::HALO);
        out.push('"');
        attribute(out, "paint-order", "stroke");
    }
    out.push('>');
    escaped(out, &words.words);
    out.push_str("</text>\n");
}

fn attribute(out: &mut String, name: &str, value: &str) {
    out.push(' ');
    out.push_str(name);
    out.push_str("=\"");
    out.push_str(value);
    out.push('"');
}

fn path(out: &mut String, figure: &Figure) {
    for element in figure.path.elements() {
        match element {
            PathEl::MoveTo(p) => points(out, 'M', &[*p]),
            PathEl::LineTo(p) => points(out, 'L', &[*p]),
            PathEl::QuadTo(p, q) => points(out, 'Q', &[*p, *q]),
            PathEl::CurveTo(p, q, r) => points(out, 'C', &[*p, *q, *r]),
            PathEl::ClosePath => out.push('Z'),
        }
    }
}

fn points(out: &mut String, letter: char, points: &[Point]) {
    out.push(letter);
    for (i, point) in points.iter().enumerate() {
        if i > 0 {
            out.push(' ');
        }
        number(out, point.x);
        out.push(' ');
        number(out, point.y);
    }
}

/// A number to a tenth, without a needless nought.
fn number(out: &mut String, value: f64) {
    out.push_str(trimmed(&fixed(value, 1)));
}

/// Without needless noughts after the point.
pub(crate) fn trimmed(number: &str) -> &str {
    if number.contains('.') {
        number.trim_end_matches('0').trim_end_matches('.')
    } else {
        number
    }
}

/// Words with what XML keeps for itself written out, and what it forbids left out.
fn escaped(out: &mut String, words: &str) {
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            _ if letter < ' ' => out.push(' '),
            _ => out.push(letter),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{Dash, Stroke};

    #[test]
    fn a_line_and_a_word_come_out_as_attributes() {
        let mut scene = Scene::new(100.0, 50.0);
        scene.title = "A & B".into();
        scene.line(
            Point::new(1.0, 2.04),
            Point::new(3.06, -4.0),
            Stroke::new(Role::Spar, 1.25).dashed(Dash::Dashed),
        );
        let mut words = Words::new("4 < 5", Role::Note, Point::new(9.0, 9.5), Anchor::End);
        words.halo = Some(Role::Paper);
        scene.words(words);
        let svg = write(&scene, Scheme::Light);
        assert!(svg.contains("<title id=\"drawing-title\">A &amp; B</title>"));
        assert!(svg.contains(
            "<path d=\"M1 2L3.1 -4\" fill=\"none\" stroke=\"#5b3a1e\" stroke-width=\"1.25\" stroke-dasharray=\"5 4\"/>"
        ), "{svg}");
        assert!(svg.contains(
            "<text x=\"9\" y=\"9.5\" font-size=\"12\" text-anchor=\"end\" fill=\"#22313a\" stroke=\"#f7f4ec\" stroke-width=\"4\" paint-order=\"stroke\">4 &lt; 5</text>"
        ), "{svg}");
        assert!(!svg.contains("style"));
    }
}
