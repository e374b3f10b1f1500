//! The boat from above, bow to the left, starboard up.

use geometry::hull::Hull;
use geometry::mast::Place;
use kurbo::{BezPath, PathEl, Point, Rect};

use crate::fit::Frame;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::scene::{Dash, Stroke, through};

/// Room round it for words [px].
const ROOM: (f64, f64) = (16.0, 22.0);

/// Puts a piece of the sea (x aft, y to starboard) [m] in the middle of the pane.
pub(super) fn fit(frame: &mut Frame, extent: Rect) {
    let [across, along] = [
        (frame.height - 2.0 * ROOM.1) / extent.height(),
        (frame.width - 2.0 * ROOM.0) / extent.width(),
    ];
    let scale = across.min(along);
    // A piece that is no piece, and a pane without room.
    frame.scale = if scale > 0.0 {
        scale.max(0.1).min(1e4)
    } else {
        1.0
    };
    let middle = extent.center();
    frame.origin = Point::new(
        0.5 * frame.width - frame.scale * middle.x,
        0.5 * frame.height + frame.scale * middle.y,
    );
}

/// Where a place is seen [px].
pub(super) fn at(frame: &Frame, place: Place) -> Point {
    flat(frame, Point::new(place.x, place.y))
}

/// The same of a place (x, y) [m].
pub(super) fn flat(frame: &Frame, p: Point) -> Point {
    Point::new(
        frame.origin.x + frame.scale * p.x,
        frame.origin.y - frame.scale * p.y,
    )
}

/// Her deck from stem head to stern, (x, half breadth) [m].
pub(super) fn deck(hull: &Hull) -> Vec<Point> {
    let (bow, stern) = hull.ends();
    let mut side = Vec::with_capacity(25);
    for i in 0..=24 {
        let x = bow + (stern - bow) * f64::from(i) / 24.0;
        side.push(Point::new(x, hull.half_beam_at(x)));
    }
    side
}

/// Deck, coachroof, cockpit and centreline.
pub(super) fn draw(board: &mut Board) {
    let frame = board.frame;
    let hull = &board.moment.design.boat.hull;
    let side = deck(hull);
    let both = |half: &[Point]| both(frame, half);
    let fine = Stroke::new(Role::HullLine, board.pens.dimension);
    board.scene.fill(both(&side), Role::Hull);
    outline(board, &side);
    let broad = |x: f64, share: f64| {
        let here = hull.half_beam_at(x);
        Point::new(x, (0.78 * here).min(share * 0.5 * hull.beam))
    };
    if let Some(roof) = hull.coachroof.filter(|roof| roof.to > roof.from) {
        let middle = 0.5 * (roof.from + roof.to);
        let end = |x: f64| broad(x, 0.62);
        let ends = [end(roof.from), end(middle), end(roof.to)];
        board
            .scene
            .figure(both(&ends), Some(Role::Roof), Some(fine));
    }
    if let Some(well) = hull.cockpit.filter(|well| well.to > well.from) {
        let ends = [broad(well.from, 0.5), broad(well.to, 0.5)];
        board.scene.stroke(both(&ends), fine);
    }
    let (bow, stern) = hull.ends();
    let end = |x: f64| flat(frame, Point::new(x, 0.0));
    let (fore, after) = (end(bow), end(stern));
    let axis = Stroke::new(Role::HullLine, board.pens.dimension).dashed(Dash::Chain);
    board.scene.line(fore, after, axis);
}

/// The edge of her deck.
pub(super) fn outline(board: &mut Board, side: &[Point]) {
    let path = both(board.frame, side);
    let mut from = None;
    for element in path.elements() {
        if let PathEl::MoveTo(to) | PathEl::LineTo(to) = *element {
            if let Some(from) = from {
                board.take_line(from, to, 1.0);
            }
            from = Some(to);
        }
    }
    board.scene.stroke(path, Stroke::new(Role::HullLine, 1.4));
}

/// Both sides of what is as broad as this, from forward [px].
fn both(frame: &Frame, half: &[Point]) -> BezPath {
    let mut points: Vec<Point> = Vec::with_capacity(2 * half.len());
    points.extend_from_slice(half);
    for p in half.iter().rev() {
        points.push(Point::new(p.x, -p.y));
    }
    for p in &mut points {
        *p = flat(frame, *p);
    }
    let mut path = through(&points);
    path.close_path();
    path
}
