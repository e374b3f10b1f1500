//! Water, hull, deck and what stands on it.

use kurbo::{BezPath, PathEl, Point, Rect, Shape as _};

use super::board::Board;
use crate::palette::Role;
use crate::scene::{Dash, Stroke};

pub(super) fn draw(board: &mut Board) {
    let frame = board.frame;
    let ship = frame.ship();
    let hull = &board.moment.design.boat.hull;
    let surface = frame.origin.y;
    let outline = ship * hull.profile();
    let line = Stroke::new(Role::HullLine, 1.6 * board.pens.edge);
    let fine = Stroke::new(Role::HullLine, board.pens.edge);

    let pane = Rect::new(0.0, 0.0, frame.width, frame.height);
    board.scene.fill(pane.to_path(0.1), Role::Paper);
    if surface < frame.height {
        let sea = Rect::new(0.0, surface.max(0.0), frame.width, frame.height);
        board.scene.fill(sea.to_path(0.1), Role::Water);
    }
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
    for part in [&rudder, &outline] {
        board.scene.fill(part.clone(), Role::Hull);
        board.scene.fill(below(part, surface), Role::Underbody);
    }
    board.scene.line(
        Point::new(0.0, surface),
        Point::new(frame.width, surface),
        Stroke::new(Role::Waterline, board.pens.dimension),
    );
    if let Some(cockpit) = hull.cockpit
        && cockpit.to > cockpit.from
    {
        // Seen through the topside, so broken.
        let seat = |x: f64| ship * Point::new(x, cockpit.seat);
        let mut well = BezPath::new();
        well.move_to(deck(cockpit.from));
        well.line_to(seat(cockpit.from));
        well.line_to(seat(cockpit.to));
        well.line_to(deck(cockpit.to));
        let hidden = Stroke::new(Role::HullLine, board.pens.dimension).dashed(Dash::Dashed);
        board.scene.stroke(well, hidden);
    }
    board.scene.stroke(rudder, fine);
    if let Some(plate) = hull.plate() {
        let lowered = Stroke::new(Role::HullLine, board.pens.dimension).dashed(Dash::Dashed);
        board.scene.stroke(ship * plate, lowered);
    }
    board.scene.stroke(outline, line);
}

/// The coachroof: sides in from the deck, a roof with a little crown to it.
fn roof(board: &Board) -> Option<BezPath> {
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
fn below(outline: &BezPath, surface: f64) -> BezPath {
    let mut corners: Vec<Point> = Vec::with_capacity(128);
    kurbo::flatten(outline, 0.2, |element| match element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => corners.push(p),
        _ => {}
    });
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

    #[test]
    fn a_square_is_cut_at_the_surface() {
        let square = Rect::new(0.0, 0.0, 10.0, 10.0).to_path(0.1);
        assert!((below(&square, 4.0).area().abs() - 60.0).abs() < 1e-9);
        assert!(below(&square, 11.0).is_empty());
        assert!((below(&square, -1.0).area().abs() - 100.0).abs() < 1e-9);
    }
}
