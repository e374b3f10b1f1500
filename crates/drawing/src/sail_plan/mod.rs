//! The sail plan in profile, seen from the port side, bow to the left.
//!
//! Painted from back to front: water, hull, masts, sails (cloth, the mast behind it as a ghost,
//! spars), lines, marks, centres, dimensions and notes, handles.

pub(crate) mod board;
mod bundle;
pub(crate) mod centres;
mod curves;
mod dimensions;
pub(crate) mod hull;
pub(crate) mod lines;
pub(crate) mod mast;
mod numbers;
mod parrels;
pub(crate) mod pointed;
pub(crate) mod sail;
pub(crate) mod scale_bar;

use quantities::Text;
use quantities::listed::joined;

use crate::fit::Frame;
use crate::handles;
use crate::moment::Moment;
use crate::naming;
use crate::points;
use crate::scene::Scene;
use board::Board;

/// Draws the sail plan in a frame.
pub fn sail_plan(moment: &Moment, frame: &Frame) -> Scene {
    let mut board = Board::new(moment, frame);
    board.scene.title = title(moment);
    board.scene.description = description(moment);

    let sails = board.sails();
    let under = hull::draw(&mut board);
    mast::draw_all(&mut board);
    for sail in &sails {
        sail::draw(&mut board, sail);
    }
    for sail in &sails {
        lines::draw(&mut board, sail);
        parrels::draw_rings(&mut board, sail);
    }
    let named = centres::draw(&mut board, &sails);
    lines::draw_in_hand(&mut board, &sails);
    pointed::draw(&mut board, &sails);
    scale_bar::draw(&mut board);
    let rings = handles::rings(moment, frame, points::in_profile(moment, frame));
    for ring in &rings {
        board.take_point(ring.at, ring.radius + 1.0);
    }
    // Notes give way to names.
    naming::draw(&mut board, &sails);
    parrels::draw_heights(&mut board, &sails);
    dimensions::draw_mast_height(&mut board, &sails);
    for sail in &sails {
        numbers::draw(&mut board, sail);
        lines::take(&mut board, sail);
    }
    let told = curves::draw(&mut board, &sails);
    // Only the name of the CLR can come near it.
    for (from, to) in under {
        board.take_line(from, to, 1.0);
    }
    for mark in named {
        centres::name(&mut board, mark);
    }
    dimensions::draw(&mut board, &sails);
    hull::ranges(&mut board);
    handles::draw(&mut board.scene, &rings);
    for said in told {
        board.scene.description.push_str(", ");
        board.scene.description.push_str(&said);
    }
    board.scene
}

fn title(moment: &Moment) -> String {
    let text = Text::new("drawing.title").with("name", moment.design.name.clone());
    moment.words.say(&text, moment.view.units)
}

fn description(moment: &Moment) -> String {
    use quantities::quantity::TOTAL_AREA;
    let standing = moment.pose.standing.map_or(0.0, |s| s.area);
    let text = Text::new("drawing.description")
        .with("state", joined(&moment.state(), ", "))
        .with("area", (standing, &TOTAL_AREA));
    moment.words.say(&text, moment.view.units)
}
