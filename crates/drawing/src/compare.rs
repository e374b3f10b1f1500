//! Two designs at the same scale, their waterlines level: each by itself, or one laid over the other.

use kurbo::{Affine, BezPath, Point, Rect, Vec2};

use crate::fit::Frame;
use crate::moment::Moment;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::sail_plan::{hull, mast, sail_plan};
use crate::scene::{Dash, Scene, Stroke, circle, through};

/// Room kept round both [px].
const ROOM: f64 = 26.0;

/// How two designs lie in a pane of a size [px] so that they can be held against each other: by one scale, waterlines at one height;
/// with `over` the forward ends of the waterlines at one place too, else each amidst a pane of its own.
pub fn frames(one: &Moment, other: &Moment, over: bool, width: f64, height: f64) -> [Frame; 2] {
    let fit = |moment: &Moment| Frame::fit(moment.design, moment.account, width, height);
    let mut frames = [fit(one), fit(other)];
    // How far each reaches from the forward end of its waterline [m].
    let reach = frames.map(
        |Frame {
             drawn,
             origin,
             scale,
             ..
         }| {
            Rect::new(
                (drawn.x0 - origin.x) / scale,
                (drawn.y0 - origin.y) / scale,
                (drawn.x1 - origin.x) / scale,
                (drawn.y1 - origin.y) / scale,
            )
        },
    );
    let both = reach[0].union(reach[1]);
    let across = if over {
        both.width()
    } else {
        reach[0].width().max(reach[1].width())
    };
    let fits = |room: f64, length: f64| (room - 2.0 * ROOM).max(0.5 * room) / length.max(1e-3);
    let scale = fits(width, across).min(fits(height, both.height()));
    for (frame, reach) in frames.iter_mut().zip(reach) {
        let middle = if over {
            both.center()
        } else {
            Point::new(reach.center().x, both.center().y)
        };
        frame.scale = scale;
        frame.origin = Point::new(0.5 * frame.width, 0.5 * frame.height) - middle.to_vec2() * scale;
        frame.drawn = (reach.scale_from_origin(scale)) + frame.origin.to_vec2();
    }
    frames
}

/// The other one laid over the first, in a quieter ink and dashed: hull, masts, spars, edges of the cloth, centre of effort.
pub fn over(one: &Moment, other: &Moment, width: f64, height: f64) -> Scene {
    let [first, second] = frames(one, other, true, width, height);
    let mut scene = sail_plan(one, &first);
    let mut board = Board::new(other, &second);
    let sails = board.sails();
    let line = Stroke::new(Role::Note, 1.3).dashed(Dash::Dashed);
    let ship = second.ship();
    let outline = ship * other.design.boat.hull.profile();
    if let Some(traced) = hull::traced(&board) {
        // What is drawn by rule is hers above the water alone.
        let above = hull::below(&(Affine::FLIP_Y * outline), -second.origin.y);
        board.scene.stroke(Affine::FLIP_Y * above, line);
        board.scene.stroke(traced, line);
    } else {
        board.scene.stroke(outline, line);
    }
    if let Some(roof) = hull::roof(&board) {
        board.scene.stroke(roof, line);
    }
    for account in &other.account.masts {
        let pole = mast::stretch(&account.mast, 0.0, account.mast.lap);
        board.scene.stroke(second.mast(&account.mast) * pole, line);
    }
    for sail in &sails {
        let (mut luff, mut leech) = (Vec::new(), Vec::new());
        for spar in &sail.pose.spars {
            let (fore, after) = sail.ends(spar);
            board.scene.line(fore, after, line);
            luff.push(fore);
            leech.push(after);
        }
        board.scene.stroke(through(&luff), line);
        board.scene.stroke(through(&leech), line);
    }
    if let Some(standing) = other.pose.standing {
        let at = ship * Point::new(standing.x, standing.z);
        let mut mark: BezPath = circle(at, 6.0);
        for arm in [Vec2::new(9.0, 0.0), Vec2::new(0.0, 9.0)] {
            mark.move_to(at - arm);
            mark.line_to(at + arm);
        }
        board.scene.stroke(mark, Stroke::new(Role::Note, 1.3));
    }
    scene.items.append(&mut board.scene.items);
    scene
}
