//! A panel in three dimensions: seen from port, a little from ahead and above, every length along one axis to one scale.

use cloth::{At, Input, Of};
use geometry::Spar;
use geometry::mast::Side;
use kurbo::{Affine, BezPath, Point, Rect, Vec2};
use quantities::listed::joined;
use quantities::quantity;

use super::cut::{Deep, as_cut};
use super::{NOTE, NUMBER, letter, nothing, say};
use crate::lettering::LEAST_SIZE;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::scene::{Anchor, Dash, Stroke, Words, through};

/// Cosine and sine of the turn from square off, 28°, and of the height of the eye, 15°.
const TURN: (f64, f64) = (0.882_948, 0.469_472);
const EYE: (f64, f64) = (0.965_926, 0.258_819);
/// Net of the cloth.
const COLUMNS: usize = 16;
const ROWS: usize = 8;
/// Round the drawing, and for words over and under it [px].
const ROOM: f64 = 18.0;
const LINE: f64 = LEAST_SIZE + 6.0;

/// A place of the sail as the eye has it [m], y down.
fn seen(at: At) -> Point {
    let near = -at.w;
    let deep = near * TURN.0 - at.u * TURN.1;
    Point::new(at.u * TURN.0 + near * TURN.1, deep * EYE.1 - at.v * EYE.0)
}

/// A place of a section, (x along a line from its fore end, y to starboard).
fn placed(line: (Point, Vec2), p: Point) -> At {
    let foot = line.0 + line.1 * p.x;
    At {
        u: foot.x,
        v: foot.y,
        w: p.y,
    }
}

/// Middle lines of a spar [m].
fn sticks(input: &Input, spar: usize) -> Vec<Vec<Point>> {
    let mut all = Vec::with_capacity(3);
    let Some(at) = input.spars.get(spar) else {
        return all;
    };
    let line = (at.luff, at.along);
    if let Some(section) = input.section(spar + 1, 0.0, Side::Port) {
        for limb in &section.battens {
            let mut points = Vec::with_capacity(limb.len());
            for p in limb {
                points.push(seen(placed(line, *p)));
            }
            all.push(points);
        }
        return all;
    }
    let straight = [0.0, at.length].map(|x| seen(placed(line, Point::new(x, 0.0))));
    all.push(straight.to_vec());
    all
}

/// Draws it; gives back what is lettered.
pub(super) fn draw(board: &mut Board, input: &Input, panel: usize) -> String {
    let nets = input.surface(panel, Side::Port, COLUMNS, ROWS);
    let (Some(section), [Some(below), Some(above)]) = (
        as_cut(input, panel),
        [panel.wrapping_sub(1), panel].map(|spar| input.spars.get(spar)),
    ) else {
        return nothing(board);
    };
    let luff = below.luff.lerp(above.luff, 0.5);
    let leech = Spar::leech(below).lerp(Spar::leech(above), 0.5);
    let half = (luff, (leech - luff) / section.chord);
    let sticks = [panel - 1, panel].map(|spar| sticks(input, spar));
    let mast = mast(input, panel);
    let mut all = Rect::from_points(
        seen(placed(half, Point::ORIGIN)),
        seen(placed(half, Point::ORIGIN)),
    );
    for net in &nets {
        for p in &net.points {
            all = all.union_pt(seen(*p));
        }
    }
    for spar in &sticks {
        for limb in spar {
            for p in limb {
                all = all.union_pt(*p);
            }
        }
    }
    for [left, right] in &mast {
        all = all.union_pt(*left).union_pt(*right);
    }
    let frame = board.frame;
    let deep = Deep::all(&section);
    let words = LINE * (1.0 + deep.len() as f64);
    let scale = ((frame.width - 2.0 * ROOM) / all.width())
        .min((frame.height - ROOM - LINE - words) / all.height());
    if !(scale > 1e-3 && scale < 1e4 && all.is_finite()) {
        return nothing(board);
    }
    let origin = Vec2::new(
        0.5 * frame.width - scale * all.center().x,
        0.5 * (frame.height + LINE - words) - scale * all.center().y,
    );
    let onto = Affine::translate(origin) * Affine::scale(scale);
    let spar = |board: &mut Board, limbs: &[Vec<Point>], depth: f64| {
        let stroke = Stroke::new(Role::Spar, (depth * scale).max(1.2));
        for limb in limbs {
            board.scene.stroke(onto * through(limb), stroke);
        }
    };
    let depth = |spar: usize| {
        if spar == 0 {
            input.depths.boom
        } else if spar >= input.panels() {
            input.depths.yard
        } else {
            input.depths.batten
        }
    };
    spar(board, &sticks[0], depth(panel - 1));
    // From the far parts to the near ones, each from its foot up: what is nearer hides what is behind it.
    let mesh = Stroke::new(Role::ClothEdge, board.pens.dimension);
    let edge = Stroke::new(Role::ClothEdge, 1.4);
    for net in nets.iter().rev() {
        let wide = net.columns + 1;
        // Fewer lines on what is narrow.
        let every = match net.of {
            Of::Whole | Of::After => 1,
            Of::PortSkin | Of::StarboardSkin => 2,
            Of::Fore => 4,
        };
        let mut points = Vec::with_capacity(net.points.len());
        for p in &net.points {
            points.push(onto * seen(*p));
        }
        for row in 0..ROWS {
            let (Some(low), Some(up)) = (
                points.get(row * wide..(row + 1) * wide),
                points.get((row + 1) * wide..(row + 2) * wide),
            ) else {
                continue;
            };
            let mut strip = through(low);
            for p in up.iter().rev() {
                strip.line_to(*p);
            }
            strip.close_path();
            board.scene.fill(strip, Role::Cloth);
            let mut net = BezPath::new();
            for (i, (a, b)) in low.iter().zip(up).enumerate() {
                if i & (every - 1) == 0 {
                    net.move_to(*a);
                    net.line_to(*b);
                }
            }
            board.scene.stroke(net, mesh);
            let firm = row == 0 || row == ROWS / 2;
            board
                .scene
                .stroke(through(low), if firm { edge } else { mesh });
            for end in [0, wide - 1] {
                board.scene.line(low[end], up[end], edge);
            }
            if row + 1 == ROWS {
                board.scene.stroke(through(up), edge);
            }
        }
    }
    spar(board, &sticks[1], depth(panel));
    let ghost = Stroke::new(Role::MastGhost, 1.0).dashed(Dash::Dashed);
    if let [low, up] = mast[..] {
        for side in 0..2 {
            board.scene.line(onto * low[side], onto * up[side], ghost);
        }
    }
    let at = |p: Point| onto * seen(placed(half, p));
    let axis = Stroke::new(Role::Dimension, 1.0).dashed(Dash::Chain);
    let ends = [0.0, section.chord].map(|x| at(Point::new(x, 0.0)));
    board.scene.line(ends[0], ends[1], axis);
    let mut told = vec![say(
        board,
        "pattern.panel",
        &[("n", panel as f64, &quantity::SHAPED_PANEL)],
    )];
    let top = Point::new(ROOM, 12.0);
    letter(board, &told[0], &NUMBER, top, &[(0.0, 0.0, Anchor::Start)]);
    let chord = [("value", section.chord, &quantity::CHORD)];
    told.push(say(board, "plot.cloth.chord", &chord));
    for deep in deep {
        let stroke = Stroke::new(Role::Centre, 2.0);
        let [foot, crest] = deep.ends.map(at);
        board.scene.line(foot, crest, stroke);
        for end in [foot, crest] {
            board
                .scene
                .fill(crate::scene::circle(end, 2.4), Role::Centre);
        }
        told.push(deep.said(board, &section));
    }
    let mut low = frame.height - words + LINE - 6.0;
    for said in &told[1..] {
        let mut words = Words::new(
            said.as_str(),
            NOTE.role,
            Point::new(ROOM, low),
            Anchor::Start,
        );
        words.halo = Some(Role::Paper);
        board.letter_here(words);
        low += LINE;
    }
    joined(&told, ", ")
}

/// Its sides under and over the panel and a little beyond; nothing where a spar does not cross it.
fn mast(input: &Input, panel: usize) -> Vec<[Point; 2]> {
    let mut sides = Vec::with_capacity(2);
    let mut lines = Vec::with_capacity(2);
    for (i, spar) in [panel - 1, panel].into_iter().enumerate() {
        let cut = input.section(panel, i as f64, Side::Port);
        let (Some(spar), Some(mast)) = (input.spars.get(spar), cut.and_then(|cut| cut.mast)) else {
            return sides;
        };
        lines.push((
            seen(placed((spar.luff, spar.along), mast.centre)),
            mast.across,
        ));
    }
    if let [(low, half), (up, less)] = lines[..] {
        let beyond = (up - low) * 0.3;
        for (at, half) in [(low - beyond, half), (up + beyond, less)] {
            sides.push([at - Vec2::new(half, 0.0), at + Vec2::new(half, 0.0)]);
        }
    }
    sides
}
