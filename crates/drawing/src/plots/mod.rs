//! Plots of the boat under her rig: heel from astern, righting moment, travel of the CE; sails and lines
//! from above, and where a deck block may stand; the mast in section, and charts of what spars bear.
//!
//! Each is lettered directly, without a legend; the accent marks what holds now. Their scales follow
//! boat and sail plan alone, so that nothing jumps while wind or reef change.

mod above;
mod chart;
mod cut;
mod deck;
mod plan;
mod righting;
mod section;
mod stern;
mod surface;
mod travel;

use boat::{Banded, Heel};
use cloth::{Input, Way};
use geometry::mast::Place;
use kurbo::{Point, Rect, Vec2};
use quantities::{Quantity, Text, Units, quantity};

pub use chart::{Chart, Kind, Part};
pub use deck::DeckMap;

use crate::fit::Frame;
use crate::lettering::{CAP_HEIGHT, LEAST_SIZE};
use crate::moment::Moment;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::scene::{Anchor, Scene, Stroke, Weight, Words, boxed, circle, through};

/// Which plot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Plot<'a> {
    /// The boat from astern, heeled by the wind that is looked at.
    Stern,
    /// Righting and heeling moment against heel.
    Righting,
    /// CE through the reefs against the CLR.
    Travel,
    /// Boat, sails and lines from above.
    Above,
    /// Where the deck block of a sheet may stand.
    Deck(&'a DeckMap),
    /// The mast being worked on, cut through at partners and top.
    Section,
    /// One thing against another.
    Chart(&'a Chart),
    /// A panel (1 = lowest) cut at half its width, on both tacks.
    ClothSection(&'a Input, usize),
    /// The ways to make the sail side by side, cut through the panel with most camber.
    ClothWays(&'a Input, &'a [Way]),
    /// A panel in three dimensions.
    ClothSurface(&'a Input, usize),
}

impl<'a> Plot<'a> {
    /// A drawing of the cloth by its name: `cloth-section` or `cloth-surface` with the number of a panel, else `cloth-ways`.
    pub fn of_cloth(name: &str, input: &'a Input, ways: &'a [Way]) -> Self {
        let panel = |number: &str| number.parse().unwrap_or(0);
        if let Some(number) = name.strip_prefix("cloth-section") {
            Plot::ClothSection(input, panel(number))
        } else if let Some(number) = name.strip_prefix("cloth-surface") {
            Plot::ClothSurface(input, panel(number))
        } else {
            Plot::ClothWays(input, ways)
        }
    }
}

/// How the view from above lies in its pane [px].
pub(crate) fn above_frame(moment: &Moment, width: f64, height: f64) -> Frame {
    let mut frame = pane(width, height);
    above::fit(moment, &mut frame);
    frame
}

/// Where a place is seen from above [px].
pub(crate) fn from_above(frame: &Frame, place: Place) -> Point {
    plan::at(frame, place)
}

/// A pane on which lines and letters keep their size: a larger one is not a magnified one.
fn pane(width: f64, height: f64) -> Frame {
    let usable = |length: f64| {
        if length.is_finite() {
            length.max(1.0).min(1e5)
        } else {
            1.0
        }
    };
    Frame {
        width: usable(width),
        height: usable(height),
        scale: 1.0,
        origin: Point::ORIGIN,
        zoom: 1.0,
        drawn: Rect::ZERO,
        pan: Vec2::ZERO,
    }
}

/// Draws a plot for a step of the reef sequence, in the true wind of the view, on a pane [px].
pub fn plot(which: Plot<'_>, moment: &Moment, step: usize, width: f64, height: f64) -> Scene {
    let mut frame = pane(width, height);
    match which {
        Plot::Stern => stern::fit(moment, &mut frame),
        Plot::Above => above::fit(moment, &mut frame),
        Plot::Deck(map) => deck::fit(moment, &mut frame, map),
        Plot::ClothSection(input, panel) => cut::fit(&mut frame, input, panel, &[]),
        Plot::ClothWays(input, ways) => cut::fit(&mut frame, input, 0, ways),
        _ => {}
    }
    let mut board = Board::new(moment, &frame);
    let sheet = Rect::new(0.0, 0.0, frame.width, frame.height);
    board.scene.fill(boxed(sheet), Role::Paper);
    let (title, said) = match which {
        Plot::Stern => ("plot.stern", stern::draw(&mut board, step)),
        Plot::Righting => ("plot.righting", righting::draw(&mut board, step)),
        Plot::Travel => ("plot.travel", travel::draw(&mut board, step)),
        Plot::Above => ("plot.above", above::draw(&mut board)),
        Plot::Deck(map) => ("plot.map", deck::draw(&mut board, map)),
        Plot::Section => ("plot.section", section::draw(&mut board)),
        Plot::Chart(chart) => (chart.title, chart::draw(&mut board, chart)),
        Plot::ClothSection(input, panel) => {
            ("plot.cloth.section", cut::section(&mut board, input, panel))
        }
        Plot::ClothWays(input, ways) => ("plot.cloth.ways", cut::ways(&mut board, input, ways)),
        Plot::ClothSurface(input, panel) => (
            "plot.cloth.surface",
            surface::draw(&mut board, input, panel),
        ),
    };
    board.scene.title = say(&board, title, &[]);
    board.scene.description = said;
    board.scene
}

/// A sentence with numbers in it, from SI.
fn say(board: &Board, key: &'static str, numbers: &[Number]) -> String {
    told(board.moment, key, numbers)
}

/// A number in a sentence: the name of its place, SI, what it is.
type Number = (&'static str, f64, &'static Quantity);

fn told(moment: &Moment, key: &'static str, numbers: &[Number]) -> String {
    let mut text = Text::new(key);
    for (name, si, quantity) in numbers {
        text = text.with(name, (quantity.document_from_si(*si), *quantity));
    }
    moment.words.say(&text, moment.view.units)
}

/// Says that there is nothing to draw.
fn nothing(board: &mut Board) -> String {
    let said = say(board, "plot.nothing", &[]);
    let at = Point::new(0.5 * board.frame.width, 0.5 * board.frame.height);
    letter(board, &said, &NOTE, at, &[(0.0, 0.0, Anchor::Middle)]);
    said
}

/// An angle in degrees, from radians.
fn degrees(board: &Board, angle: f64) -> String {
    quantity::HEEL.say(
        quantity::HEEL.document_from_si(angle),
        board.moment.view.units,
    )
}

/// The heel of a step in the wind of the view; `None` without stability or step.
fn heel(moment: &Moment, step: usize) -> Option<Heel> {
    let heel = moment.account.boat.heel(step, moment.view.wind)?;
    let angle = match heel {
        Heel::At(Banded { value, .. }) | Heel::Past(value) => value,
        Heel::KnockedDown => 0.0,
    };
    angle.is_finite().then_some(heel)
}

/// What a heel is, in words.
fn heel_said(board: &Board, heel: Option<&Heel>) -> String {
    let mut band = (0.0, 0.0);
    let (key, heel) = match heel {
        None => ("plot.unknown", 0.0),
        Some(Heel::At(found)) => {
            band = (found.least.max(0.0), found.most);
            let key = match band_key(found) {
                "" => "plot.heels",
                "plot.band" => "plot.heels_band",
                _ => "plot.heels_open",
            };
            (key, found.value)
        }
        Some(Heel::Past(end)) => ("plot.heels_past", *end),
        Some(Heel::KnockedDown) => ("plot.heels_down", 0.0),
    };
    let numbers = [
        ("heel", heel, &quantity::HEEL),
        ("least", band.0, &quantity::HEEL),
        ("most", band.1, &quantity::HEEL),
        ("wind", board.moment.view.wind, &quantity::TRUE_WIND),
    ];
    say(board, key, &numbers)
}

/// How the band of a heel is told: its ends, or the lower one where the other finds no balance; not
/// at all where whole degrees tell no ends apart.
fn band_key(heel: &Banded) -> &'static str {
    let whole = |angle: f64| angle.max(0.0).to_degrees().round();
    if !heel.most.is_finite() {
        "plot.band_open"
    } else if whole(heel.most) > whole(heel.least) {
        "plot.band"
    } else {
        ""
    }
}

/// How words are set.
struct Look {
    role: Role,
    size: f64,
    weight: Weight,
}

const NOTE: Look = Look {
    role: Role::Note,
    size: LEAST_SIZE,
    weight: Weight::Regular,
};
/// Beside an axis.
const AXIS: Look = Look {
    role: Role::Dimension,
    ..NOTE
};
const NUMBER: Look = Look {
    role: Role::Number,
    size: 13.0,
    weight: Weight::Strong,
};
/// What holds now.
const NOW: Look = Look {
    role: Role::Accent,
    size: 16.0,
    weight: Weight::Strong,
};

/// Where words may stand about a point [px]: how far right and down their middle or end lies.
type Spot = (f64, f64, Anchor);

/// Letters words at the first of some places that is free; false where none is.
fn letter(board: &mut Board, said: &str, look: &Look, at: Point, spots: &[Spot]) -> bool {
    let mut words = Words::new(said, look.role, at, Anchor::Start);
    words.size = look.size;
    words.weight = look.weight;
    for (x, y, anchor) in spots {
        words.at = at + Vec2::new(*x, *y + 0.5 * CAP_HEIGHT * look.size);
        words.anchor = *anchor;
        if board.letter(&words, (2.0, 1.0)) {
            return true;
        }
    }
    false
}

/// The same on either side of a point, `aside` from it (first to the left where that is negative), at the first height that is free.
fn letter_beside(
    board: &mut Board,
    said: &str,
    look: &Look,
    at: Point,
    aside: f64,
    heights: &[f64],
) -> bool {
    for y in heights {
        let mut spots = [(aside, *y, Anchor::Start), (-aside, *y, Anchor::End)];
        if aside < 0.0 {
            // To the left first.
            spots = [(aside, *y, Anchor::End), (-aside, *y, Anchor::Start)];
        }
        if letter(board, said, look, at, &spots) {
            return true;
        }
    }
    false
}

/// A thin line.
fn hair(board: &mut Board, from: Point, to: Point) {
    let pen = Stroke::new(Role::Dimension, board.pens.dimension);
    board.scene.line(from, to, pen);
}

/// Strokes a line through points and keeps words off it.
fn trace(board: &mut Board, points: &[Point], stroke: Stroke) {
    for pair in points.windows(2) {
        board.take_line(pair[0], pair[1], 0.5 * stroke.weight + 1.0);
    }
    board.scene.stroke(through(points), stroke);
}

/// A filled dot with a rim of paper, so that it stands clear of what it lies on.
fn dot(board: &mut Board, at: Point, radius: f64, role: Role) {
    let path = circle(at, radius);
    let rim = Stroke::new(Role::Paper, 1.5);
    board.scene.figure(path, Some(role), Some(rim));
    board.take_point(at, radius + 1.0);
}

/// A round distance between ticks: 1, 2 or 5 by a power of ten, at least this.
pub(crate) fn tick(least: f64) -> f64 {
    let mut step = 1e-3;
    for _ in 0..12 {
        for times in [1.0, 2.0, 5.0] {
            if step * times >= least {
                return step * times;
            }
        }
        step *= 10.0;
    }
    step
}

/// A number beside a tick, with no more decimals than the ticks are apart.
pub(crate) fn tick_number(value: f64, step: f64, shown: Units) -> String {
    let decimals = if step >= 1.0 {
        0
    } else if step >= 0.1 {
        1
    } else {
        2
    };
    shown.fixed(value, decimals)
}
