//! The scale bar, and the name of the drawing.

use kurbo::{Point, Rect, Shape as _};
use quantities::Units;
use quantities::units::FOOT;

use super::board::Board;
use crate::palette::Role;
use crate::scene::{Anchor, Stroke, Weight, Words};

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
        board.letter_here(name);
    }
}

/// Lengths a scale bar may have, in its unit.
const LENGTHS: [f64; 12] = [
    0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0,
];

fn bar(board: &mut Board) {
    let (metres, unit) = match board.moment.view.units {
        Units::Metric => (1.0, "m"),
        Units::Imperial => (FOOT, "ft"),
    };
    let px = metres * board.frame.scale;
    let longest = if board.roomy {
        170.0
    } else {
        0.28 * board.frame.width
    };
    let Some(length) = LENGTHS.iter().rev().find(|l| **l * px <= longest) else {
        return;
    };
    let parts = if [2.0, 20.0, 200.0, 0.2].contains(length) {
        2
    } else {
        5
    };
    let parts = if *length == 1.0 || *length == 0.1 || *length == 10.0 || *length == 100.0 {
        2
    } else {
        parts
    };
    let (left, top) = (14.0, board.frame.height - 12.0);
    let (part, tall) = (length * px / f64::from(parts), 4.0);
    let line = Stroke::new(Role::ScaleBar, board.pens.dimension);
    for i in 0..parts {
        let x = left + part * f64::from(i);
        let field = Rect::new(x, top, x + part, top + tall).to_path(0.1);
        let ink = if i % 2 == 0 {
            Role::ScaleBar
        } else {
            Role::Paper
        };
        board.scene.figure(field, Some(ink), Some(line));
    }
    let decimals = u8::from(*length < 1.0);
    let spelled = quantities::units::fixed(*length, decimals);
    let ends = [
        (left, "0".to_string(), Anchor::Start),
        (
            left + length * px,
            format!("{spelled}\u{a0}{unit}"),
            Anchor::Middle,
        ),
    ];
    for (x, label, anchor) in ends {
        board.letter_here(Words::new(
            label,
            Role::ScaleBar,
            Point::new(x, top - 4.0),
            anchor,
        ));
    }
}
