//! The scale bar, and the name of the drawing; on paper what of the sails stands.

use kurbo::{Point, Rect};
use quantities::units::FOOT;

use super::board::Board;
use crate::palette::Role;
use crate::scene::{Anchor, Stroke, Weight, Words, boxed};

pub(super) fn draw(board: &mut Board) {
    bar(board);
    if board.on_paper() || board.roomy {
        let mut name = Words::new(
            board.moment.design.name.clone(),
            Role::Title,
            Point::new(14.0, 24.0),
            Anchor::Start,
        );
        name.size = 15.0;
        name.weight = Weight::Strong;
        if board.on_paper() {
            board.letter_here(name);
        } else {
            // It stands on the page already: zoomed in, the boat needs the room.
            board.letter(&name, (2.0, 2.0));
        }
    }
    if board.on_paper() {
        let mut at = Point::new(14.0, 42.0);
        for line in board.moment.state() {
            board.letter_here(Words::new(line, Role::Note, at, Anchor::Start));
            at.y += 16.0;
        }
    }
}

/// Lengths a scale bar may have, in its unit, and into how many parts it is divided.
const LENGTHS: [(f64, u8); 12] = [
    (0.1, 2),
    (0.2, 2),
    (0.5, 5),
    (1.0, 2),
    (2.0, 2),
    (5.0, 5),
    (10.0, 2),
    (20.0, 2),
    (50.0, 5),
    (100.0, 2),
    (200.0, 2),
    (500.0, 5),
];

/// The bar alone, in its corner.
pub(crate) fn bar(board: &mut Board) {
    let (metres, unit) = if board.moment.view.units.imperial() {
        (FOOT, "ft")
    } else {
        (1.0, "m")
    };
    let px = metres * board.frame.scale;
    let longest = if board.roomy {
        170.0
    } else {
        0.28 * board.frame.width
    };
    let Some((length, parts)) = LENGTHS
        .iter()
        .rev()
        .find(|(length, _)| length * px <= longest)
    else {
        return;
    };
    let (left, top) = (14.0, board.frame.height - 12.0);
    let (part, tall) = (length * px / f64::from(*parts), 4.0);
    let line = Stroke::new(Role::ScaleBar, board.pens.dimension);
    for i in 0..*parts {
        let x = left + part * f64::from(i);
        let field = boxed(Rect::new(x, top, x + part, top + tall));
        let ink = if i % 2 == 0 {
            Role::ScaleBar
        } else {
            Role::Paper
        };
        board.scene.figure(field, Some(ink), Some(line));
    }
    let decimals = u8::from(*length < 1.0);
    let spelled = board.moment.view.units.fixed(*length, decimals);
    let ends = [
        (left, "0".to_string(), Anchor::Start),
        (
            left + length * px,
            format!("{spelled}\u{a0}{unit}"),
            Anchor::Middle,
        ),
    ];
    for (x, label, anchor) in ends {
        let mut words = Words::new(label, Role::ScaleBar, Point::new(x, top - 4.0), anchor);
        // It keeps its corner, zoomed in too.
        if !board.free(&words, (0.0, 0.0)) {
            words.halo = Some(Role::Paper);
        }
        board.letter_here(words);
    }
}
