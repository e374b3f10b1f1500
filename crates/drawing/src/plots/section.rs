//! The mast cut through at its partners and at its top, to scale.

use core::f64::consts::{PI, TAU};

use ::spars::Piece;
use kurbo::{Point, Vec2};
use quantities::listed::joined;
use quantities::quantity;

use super::{NOTE, NUMBER, letter, nothing, say};
use crate::lettering::LEAST_SIZE;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::scene::{Anchor, Dash, Stroke, circle, through};

/// Lines of words under a section [px].
const LINE: f64 = LEAST_SIZE + 4.0;

/// A piece where it is cut [m]: outside diameter, wall (the radius of what is solid), staves.
#[derive(Clone, Copy)]
struct Cut {
    diameter: f64,
    wall: f64,
    staves: usize,
}

impl Cut {
    fn of(piece: &Piece, x: f64) -> Self {
        let share = ((x - piece.from) / (piece.to - piece.from))
            .max(0.0)
            .min(1.0);
        let between = |(foot, top): (f64, f64)| foot + (top - foot) * share;
        let diameter = between(piece.diameters);
        Self {
            diameter,
            wall: piece.walls.map_or(0.5 * diameter, between),
            staves: piece.staves.min(24),
        }
    }
}

/// Draws both; gives back what is lettered.
pub(super) fn draw(board: &mut Board) -> String {
    let mast = board.moment.view.mast;
    let account = board.moment.account.masts.get(mast);
    let Some(spars) = account.and_then(|account| account.spars.as_ref()) else {
        return nothing(board);
    };
    let (input, hole) = (&spars.mast_input, spars.mast.hole);
    let mut widest = hole;
    for piece in &input.pole.pieces {
        widest = widest.max(piece.diameters.0).max(piece.diameters.1);
    }
    let frame = board.frame;
    let room = (frame.height - 7.0 * LINE - 62.0).min(0.4 * frame.width);
    let scale = room / widest;
    if !(widest < 1e3 && scale > 1e-3) {
        return nothing(board);
    }
    let top = input.pole.length();
    let mut told = Vec::with_capacity(12);
    for (i, (key, x)) in [
        ("plot.section.partners", input.bury),
        ("plot.section.top", top),
    ]
    .into_iter()
    .enumerate()
    {
        let at = Point::new((0.25 + 0.5 * i as f64) * frame.width, 38.0 + 0.5 * room);
        let mut line = Point::new(at.x, 14.0);
        let said = say(board, key, &[]);
        letter(board, &said, &NUMBER, line, &[(0.0, 0.0, Anchor::Middle)]);
        told.push(said);
        line.y = at.y + 0.5 * room + 24.0;
        let mut tell = |board: &mut Board, key: &'static str, value: f64, staves: usize| {
            let of = if key == "plot.section.wall" {
                &quantity::WALL
            } else {
                &quantity::MAST_DIAMETER
            };
            let numbers = [
                ("value", value, of),
                ("n", staves as f64, &quantity::STAVES),
                ("bevel", PI / staves as f64, &quantity::RISE),
            ];
            let said = say(board, key, &numbers);
            letter(board, &said, &NOTE, line, &[(0.0, 0.0, Anchor::Middle)]);
            told.push(said);
            line.y += LINE;
        };
        if i == 0 {
            deck(board, at, 0.5 * scale * hole);
        }
        let mut outer = f64::INFINITY;
        let mut reach = if i == 0 { hole } else { 0.0 };
        // The wider first: what is sleeved lies in it.
        for _ in 0..2 {
            let mut next: Option<Cut> = None;
            for piece in &input.pole.pieces {
                // Where two meet, the upper.
                let here = x >= piece.from && (x < piece.to || piece.to >= top);
                let cut = Cut::of(piece, x);
                let wider = next.is_none_or(|next| cut.diameter > next.diameter);
                if here && wider && cut.diameter < outer {
                    next = Some(cut);
                }
            }
            let Some(cut) = next else { break };
            let key = if outer.is_finite() {
                "plot.section.inside"
            } else {
                "plot.section.diameter"
            };
            tell(board, key, cut.diameter, 0);
            outer = cut.diameter;
            reach = reach.max(outer);
            ring(board, at, &cut, 0.5 * scale);
            if cut.wall < 0.499 * cut.diameter {
                tell(board, "plot.section.wall", cut.wall, 0);
            }
            if cut.staves > 2 {
                let staves = cut.staves;
                let (sin, cos) = angles::sin_cos(PI / staves as f64);
                tell(
                    board,
                    "plot.section.staves",
                    cut.diameter * sin / cos,
                    staves,
                );
                tell(board, "plot.section.bevel", 0.0, staves);
            }
        }
        if i == 0 {
            if hole > 0.0 {
                tell(board, "plot.section.hole", hole, 0);
            }
            tell(board, "plot.section.wedges", input.wedges.thickness, 0);
        }
        let axis = Stroke::new(Role::Dimension, board.pens.dimension).dashed(Dash::Chain);
        for arm in [Vec2::new(0.5, 0.0), Vec2::new(0.0, 0.5)] {
            let arm = arm * (scale * reach + 18.0);
            board.scene.line(at - arm, at + arm, axis);
        }
    }
    joined(&told, ", ")
}

/// The hole in the deck, and the wedges in it.
fn deck(board: &mut Board, at: Point, radius: f64) {
    let line = Stroke::new(Role::HullLine, 1.4);
    board
        .scene
        .figure(circle(at, radius), Some(Role::Roof), Some(line));
    let thin = Stroke::new(Role::HullLine, board.pens.dimension);
    for i in 0..48 {
        let out = geometry::unit(TAU * f64::from(i) / 48.0);
        let edge = at + out * radius;
        board.scene.line(
            edge,
            edge + out * 5.0 + Vec2::new(out.y, -out.x) * 5.0,
            thin,
        );
        if i % 4 == 0 {
            // Under the mast, which covers it.
            board.scene.line(at, edge, thin);
        }
    }
}

/// A piece as it is cut; `half` the scale.
fn ring(board: &mut Board, at: Point, cut: &Cut, half: f64) {
    let outer = half * cut.diameter;
    let bore = half * (cut.diameter - 2.0 * cut.wall);
    let line = Stroke::new(Role::MastLine, 1.2);
    board
        .scene
        .figure(circle(at, outer), Some(Role::Mast), Some(line));
    if bore < 0.5 {
        return;
    }
    let mut path = circle(at, bore);
    if cut.staves > 2 {
        // Flat inside: corners at the joints.
        let turn = PI / cut.staves as f64;
        let corner = bore / angles::cos(turn);
        let mut corners = Vec::with_capacity(24);
        for i in 0..cut.staves {
            let out = geometry::unit(turn * (1.0 + 2.0 * i as f64));
            corners.push(at + out * corner);
            board.scene.line(at + out * corner, at + out * outer, line);
        }
        path = through(&corners);
        path.close_path();
    }
    board.scene.figure(path, Some(Role::Paper), Some(line));
}
