//! Water, hull, deck and what stands on it.

use kurbo::{BezPath, ParamCurve as _, PathEl, PathSeg, Point, Rect, Vec2};

use super::board::Board;
use super::centres;
use crate::palette::Role;
use crate::scene::{Dash, Stroke, boxed, through};

/// Gives back the outline under water, edge by edge.
pub(super) fn draw(board: &mut Board) -> Vec<(Point, Point)> {
    let frame = board.frame;
    let ship = frame.ship();
    let hull = &board.moment.design.boat.hull;
    let surface = frame.origin.y;
    let outline = ship * hull.profile();
    let line = Stroke::new(Role::HullLine, 1.6 * board.pens.edge);
    let fine = Stroke::new(Role::HullLine, board.pens.edge);

    let pane = Rect::new(0.0, 0.0, frame.width, frame.height);
    board.scene.fill(boxed(pane), Role::Paper);
    sea(board);
    centres::rig_now(board);
    // No note may sit on the sheer or on the coachroof's top.
    let deck = |x: f64| ship * Point::new(x, hull.deck_height(x));
    let (bow, stern) = hull.ends();
    let middle = 0.5 * (bow + stern);
    for (from, to) in [(bow, middle), (middle, stern)] {
        board.take_line(deck(from), deck(to), 3.0);
    }
    if let Some(roof) = hull.coachroof {
        let top = |x: f64| ship * Point::new(x, hull.deck_height(x) + roof.height);
        board.take_line(top(roof.from), top(roof.to), 2.0);
    }
    if let Some(roof) = roof(board) {
        board.scene.figure(roof, Some(Role::Roof), Some(fine));
    }
    let rudder = ship * hull.rudder();
    let traced = traced(board);
    let under = below(traced.as_ref().unwrap_or(&outline), surface);
    let mut edges = Vec::with_capacity(64);
    let mut last = None;
    for element in under.elements() {
        if let PathEl::MoveTo(to) | PathEl::LineTo(to) = *element {
            if let Some(from) = last {
                edges.push((from, to));
            }
            last = Some(to);
        }
    }
    if traced.is_some() {
        // What is drawn by rule goes under the sea again.
        for (part, pen) in [(&rudder, fine), (&outline, line)] {
            board
                .scene
                .figure(part.clone(), Some(Role::Hull), Some(pen));
        }
        sea(board);
        board.scene.figure(under, Some(Role::Underbody), Some(line));
    } else {
        board.scene.fill(rudder.clone(), Role::Hull);
        board.scene.fill(below(&rudder, surface), Role::Underbody);
        board.scene.fill(outline.clone(), Role::Hull);
        board.scene.fill(under, Role::Underbody);
    }
    board.scene.line(
        Point::new(0.0, surface),
        Point::new(frame.width, surface),
        Stroke::new(Role::Waterline, board.pens.dimension),
    );
    // Seen through the topside, so broken.
    let hidden = Stroke::new(Role::HullLine, board.pens.dimension).dashed(Dash::Dashed);
    board.scene.stroke(well(board), hidden);
    if traced.is_none() {
        board.scene.stroke(rudder, fine);
        if let Some(plate) = hull.plate() {
            board.scene.stroke(ship * plate, hidden);
        }
        board.scene.stroke(outline, line);
    }
    board
        .scene
        .stroke(ship * through(&board.moment.design.boat.deck), fine);
    edges
}

/// What of the pane lies under water.
fn sea(board: &mut Board) {
    let frame = board.frame;
    if frame.origin.y < frame.height {
        let sea = Rect::new(0.0, frame.origin.y.max(0.0), frame.width, frame.height);
        board.scene.fill(boxed(sea), Role::Water);
    }
}

/// The underwater profile as it was traced, closed [px].
pub(crate) fn traced(board: &Board) -> Option<BezPath> {
    let points = &board.moment.design.boat.particulars.lateral.profile;
    let mut path = board.frame.ship() * through(points);
    (points.len() > 2).then(|| {
        path.close_path();
        path
    })
}

/// Brackets on deck between which a mast may stand; their lines break for words.
pub(super) fn ranges(board: &mut Board) {
    let ship = board.frame.ship();
    let line = Stroke::new(Role::HullLine, board.pens.edge).square();
    for mast in &board.moment.design.masts {
        for (limit, inward) in [(mast.from, 3.5), (mast.to, -3.5)] {
            let Some(x) = limit else { continue };
            let top = board.moment.design.boat.hull.top_at(x);
            let foot = ship * Point::new(x, top);
            let head = foot - Vec2::new(0.0, 9.0);
            let aside = Vec2::new(inward, 0.0);
            for (from, to) in [(foot, head), (foot, foot + aside), (head, head + aside)] {
                board.line_round_words(from, to, line);
            }
        }
    }
}

/// The cockpit: down to the seat and up again; nothing where there is none.
pub(super) fn well(board: &Board) -> BezPath {
    let hull = &board.moment.design.boat.hull;
    let mut well = BezPath::new();
    if let Some(cockpit) = hull.cockpit.filter(|c| c.to > c.from) {
        well.move_to((cockpit.from, hull.deck_height(cockpit.from)));
        well.line_to((cockpit.from, cockpit.seat));
        well.line_to((cockpit.to, cockpit.seat));
        well.line_to((cockpit.to, hull.deck_height(cockpit.to)));
    }
    board.frame.ship() * well
}

/// The coachroof: sides in from the deck, a roof with a little crown to it.
pub(crate) fn roof(board: &Board) -> Option<BezPath> {
    let hull = &board.moment.design.boat.hull;
    let roof = hull.coachroof?;
    let length = roof.to - roof.from;
    if !(length > 0.0 && roof.height > 0.0) {
        return None;
    }
    let ship = board.frame.ship();
    let deck = |x: f64| hull.deck_height(x);
    let rake = (0.55 * roof.height).min(0.25 * length);
    let fore = roof.from + rake;
    let aft = roof.to - 0.25 * rake;
    let under = 0.03 * roof.height;
    let mut path = BezPath::new();
    path.move_to((roof.from, deck(roof.from) - under));
    path.line_to((fore, deck(fore) + 0.94 * roof.height));
    // Through the full height amidships of the roof.
    let middle = 0.5 * (fore + aft);
    let ends = 0.5 * (deck(fore) + 0.94 * roof.height + deck(aft) + 0.98 * roof.height);
    path.quad_to(
        (middle, 2.0 * (deck(middle) + roof.height) - ends),
        (aft, deck(aft) + 0.98 * roof.height),
    );
    path.line_to((roof.to, deck(roof.to) - under));
    path.close_path();
    Some(ship * path)
}

/// What of an outline lies below a height on the page.
pub(crate) fn below(outline: &BezPath, surface: f64) -> BezPath {
    let mut corners: Vec<Point> = Vec::with_capacity(128);
    for piece in outline.segments() {
        let straight = matches!(piece, PathSeg::Line(_));
        let pieces = if straight { 1 } else { 6 };
        for i in 0..pieces {
            corners.push(piece.eval(f64::from(i) / f64::from(pieces)));
        }
    }
    // Cut at the surface (Sutherland and Hodgman, one side).
    let mut path = BezPath::new();
    let mut add = |p: Point| {
        if path.elements().is_empty() {
            path.move_to(p);
        } else {
            path.line_to(p);
        }
    };
    for (i, to) in corners.iter().enumerate() {
        let Some(from) = corners.get(if i == 0 { corners.len() - 1 } else { i - 1 }) else {
            continue;
        };
        let (wet_from, wet_to) = (from.y > surface, to.y > surface);
        if wet_from != wet_to {
            add(from.lerp(*to, (surface - from.y) / (to.y - from.y)));
        }
        if wet_to {
            add(*to);
        }
    }
    if !path.is_empty() {
        path.close_path();
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape as _;

    #[test]
    fn a_square_is_cut_at_the_surface() {
        let square = boxed(Rect::new(0.0, 0.0, 10.0, 10.0));
        assert!((below(&square, 4.0).area().abs() - 60.0).abs() < 1e-9);
        assert!(below(&square, 11.0).is_empty());
        assert!((below(&square, -1.0).area().abs() - 100.0).abs() < 1e-9);
    }
}
