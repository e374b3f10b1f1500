//! Panels cut through at half their width: mast, battens and cloth to one scale, on both tacks.

use cloth::{Construction, Input, Section, Way};
use geometry::mast::Side;
use kurbo::{Affine, Point, Rect, Vec2};
use quantities::listed::joined;
use quantities::quantity;

use super::{AXIS, Look, NOTE, NUMBER, Spot, hair, letter, nothing, say};
use crate::fit::Frame;
use crate::lettering::{self, LEAST_SIZE};
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::sail_plan::scale_bar;
use crate::scene::{Anchor, Dash, Stroke, Weight, circle, through};

/// Round a drawing, and from figure to figure [px].
const ROOM: f64 = 18.0;
/// The scale bar with its numbers [px].
const BAR: f64 = 36.0;
/// Over all of it, and over a figure [px].
const TOP: f64 = 4.0;
const EDGE: f64 = 6.0;
/// A line of words, or of a dimension with its number [px].
const LINE: f64 = LEAST_SIZE + 6.0;
/// Wind and its name on the weather side [px].
const WIND: f64 = 26.0;
/// Wind with its name from the right edge [px].
const SIDE: f64 = 158.0;
/// From this width on the tacks stand beside one another [px].
const BROAD: f64 = 480.0;
/// About figures that are dimensioned: name; camber, two rows of dimensions, camber; wind on either side.
const AROUND: f64 = 2.0 * WIND + 5.0 * LINE + 2.0 * ROOM;

/// What is to be heeded.
const HEED: Look = Look {
    role: Role::Accent,
    weight: Weight::Strong,
    ..NOTE
};
/// Name of the way that is in use.
const IN_USE: Look = Look {
    role: Role::Accent,
    ..NUMBER
};

/// A panel with the wind from starboard, and from port.
type Tacks = [Section; 2];

fn tacks(input: &Input, panel: usize) -> Option<Tacks> {
    let cut = |lee| input.section(panel, 0.5, lee);
    Some([cut(Side::Port)?, cut(Side::Starboard)?])
}

/// The same made in another way, cut through the highest of the panels with most camber: the lowest lies on the boom, which is straight.
fn other(input: &Input, way: &Way) -> Option<Tacks> {
    let input = input.made(way);
    let (mut panel, mut most) = (1, -1.0);
    for (i, shape) in input.shapes.iter().enumerate() {
        if shape.camber > most - 1e-9 {
            (panel, most) = (i + 1, shape.camber);
        }
    }
    tacks(&input, panel)
}

/// Cloth off its chord.
pub(super) struct Deep {
    /// On the chord, and on the cloth.
    pub(super) ends: [Point; 2],
    /// Shares of the chord: how deep, and where from its fore end.
    pub(super) camber: f64,
    pub(super) place: f64,
}

impl Deep {
    /// Where a line of cloth is deepest; none where it is straight.
    fn of(line: &[Point]) -> Option<Self> {
        let (first, last) = (*line.first()?, *line.last()?);
        let way = last - first;
        let chord = way.hypot();
        let mut found: Option<Self> = None;
        for p in line {
            let place = way.dot(*p - first) / (chord * chord);
            let foot = first + way * place;
            let camber = foot.distance(*p) / chord;
            if camber > found.as_ref().map_or(1e-4, |deep| deep.camber) {
                found = Some(Self {
                    ends: [foot, *p],
                    camber,
                    place,
                });
            }
        }
        found
    }

    /// Of each part of a sail as it is cut; of a wing its thickness, of the whole chord.
    pub(super) fn all(section: &Section) -> Vec<Self> {
        let mut all = Vec::with_capacity(3);
        for line in &section.cloth {
            all.extend(Self::of(line));
        }
        if let ([port, starboard], true) = (&mut all[..], section.cloth.len() == 3) {
            // Skins are each other's likes: from one to the other.
            port.ends[0] = starboard.ends[1];
            all.truncate(1);
        }
        all
    }

    /// What it is in words.
    pub(super) fn said(&self, board: &Board, section: &Section) -> String {
        let key = match section.cloth.len() {
            2 => "plot.cloth.part",
            3 => "plot.cloth.thick",
            _ => "plot.cloth.camber",
        };
        let depth = self.ends[0].distance(self.ends[1]);
        let numbers = [
            ("value", depth, &quantity::BATTEN_ROOM),
            ("share", self.camber, &quantity::CAMBER),
            ("place", self.place, &quantity::CAMBER_PLACE),
        ];
        say(board, key, &numbers)
    }
}

/// The shape as it is cut, nothing pressing it in, with port to leeward.
pub(super) fn as_cut(input: &Input, panel: usize) -> Option<Section> {
    let [port, mut starboard] = tacks(input, panel)?;
    if port.touch.is_none() {
        return Some(port);
    }
    mirror(&mut starboard);
    Some(starboard)
}

fn mirror(section: &mut Section) {
    for line in &mut section.cloth {
        for p in line {
            p.y = -p.y;
        }
    }
}

/// All of a section (x aft, y to starboard) [m].
fn extent(section: &Section) -> Rect {
    let mut all = Rect::new(0.0, 0.0, section.chord, 0.0);
    for line in section.battens.iter().chain(&section.cloth) {
        for p in line {
            all = all.union_pt(*p);
        }
    }
    all = all.inflate(0.0, 0.5 * section.depth);
    if let Some(mast) = section.mast {
        all = all.union(Rect::from_center_size(
            mast.centre,
            (2.0 * mast.along, 2.0 * mast.across),
        ));
    }
    all
}

/// Scale of all figures, their least x in `origin`: as large as width and height allow.
pub(super) fn fit(frame: &mut Frame, input: &Input, panel: usize, ways: &[Way]) {
    let columns = columns(frame, ways);
    let (mut fore, mut after, mut high, mut lines) = (0.0_f64, 0.1_f64, 0.05, BAR);
    let mut take = |found: Option<Tacks>| {
        let Some(found) = found else { return 0.0 };
        let [one, other] = found.each_ref().map(extent);
        fore = fore.min(one.x0).min(other.x0);
        after = after.max(one.x1).max(other.x1);
        high += if columns > 1.0 {
            one.union(other).height()
        } else {
            one.height() + other.height()
        };
        let touched = found.iter().filter(|section| section.touch.is_some());
        LINE * touched.count() as f64
    };
    if ways.is_empty() {
        lines += AROUND + take(tacks(input, panel));
    } else {
        // One column has both tacks' upper edges.
        let gap = if columns > 1.0 { 0.0 } else { EDGE };
        lines += TOP + WIND;
        for way in ways {
            take(other(input, way));
            lines += LINE + gap + ROOM;
        }
    }
    let across = (frame.width - ROOM * (columns + 1.0)) / columns / (after - fore);
    let scale = across.min((frame.height - lines) / high);
    frame.scale = if scale > 1.0 { scale.min(1e4) } else { 1.0 };
    frame.origin.x = fore;
}

fn columns(frame: &Frame, ways: &[Way]) -> f64 {
    if ways.is_empty() || frame.width < BROAD {
        1.0
    } else {
        2.0
    }
}

/// From a section to pixels, its chord at a height and its column at a left end.
fn onto(board: &Board, left: f64, y: f64) -> Affine {
    let scale = board.frame.scale;
    let x = left - scale * board.frame.origin.x;
    Affine::new([scale, 0.0, 0.0, -scale, x, y])
}

/// Mast, battens and cloth.
fn figure(board: &mut Board, section: &Section, onto: Affine) {
    for line in &section.cloth {
        let mut path = onto * through(line);
        path.close_path();
        board.scene.fill(path, Role::Cloth);
    }
    let ends = [Point::ORIGIN, Point::new(section.chord, 0.0)].map(|p| onto * p);
    let axis = Stroke::new(Role::Dimension, board.pens.dimension).dashed(Dash::Chain);
    board.scene.line(ends[0], ends[1], axis);
    board.take_line(ends[0], ends[1], 1.0);
    let deep = (section.depth * board.frame.scale).max(1.2);
    for (lines, stroke) in [
        (&section.battens, Stroke::new(Role::Spar, deep)),
        (&section.cloth, Stroke::new(Role::ClothEdge, 1.6)),
    ] {
        for line in lines {
            for pair in line.windows(2) {
                board.take_line(onto * pair[0], onto * pair[1], 0.5 * stroke.weight + 1.0);
            }
            board.scene.stroke(onto * through(line), stroke);
        }
    }
    if let Some(mast) = section.mast {
        let ellipse = Affine::translate(mast.centre.to_vec2())
            * Affine::scale_non_uniform(mast.along, mast.across);
        let line = Stroke::new(Role::MastLine, 1.2);
        let path = onto * (ellipse * circle(Point::ORIGIN, 1.0));
        board.scene.figure(path, Some(Role::Mast), Some(line));
        board.take_point(onto * mast.centre, mast.across * board.frame.scale + 1.0);
    }
}

/// Arrow and name of the wind, from starboard (above) or from port, its upper end at a height.
fn wind(board: &mut Board, at: Point, tack: usize) -> String {
    let (key, mut ends) = if tack == 0 {
        ("plot.cloth.from_starboard", [0.0, 14.0])
    } else {
        ("plot.cloth.from_port", [14.0, 0.0])
    };
    for y in &mut ends {
        *y += at.y + 4.0;
    }
    let stroke = Stroke::new(Role::Centre, 1.6);
    let (from, to) = (Point::new(at.x, ends[0]), Point::new(at.x + 24.0, ends[1]));
    board.scene.arrow(from, to, 7.0, stroke);
    board.take_line(from, to, 4.0);
    let said = say(board, key, &[]);
    let at = Point::new(at.x + 32.0, at.y + 11.0);
    letter(board, &said, &NOTE, at, &[(0.0, 0.0, Anchor::Start)]);
    said
}

/// A length along the chord with ticks and words, at a height.
fn along(board: &mut Board, (from, to): (Point, Point), said: &str) {
    for end in [from, to] {
        let tick = Vec2::new(0.0, 4.0);
        hair(board, end - tick, end + tick);
    }
    let long = lettering::width(said, LEAST_SIZE, Weight::Regular) + 16.0;
    let middle: Spot = (0.0, 0.0, Anchor::Middle);
    let stroke = Stroke::new(Role::Dimension, board.pens.dimension);
    if from.distance(to) > long {
        letter(board, said, &AXIS, from.midpoint(to), &[middle]);
        board.line_round_words(from, to, stroke);
    } else {
        board.scene.line(from, to, stroke);
        let aside: [Spot; 2] = [
            (8.0, 0.0, Anchor::Start),
            (from.x - to.x - 8.0, 0.0, Anchor::End),
        ];
        letter(board, said, &AXIS, to, &aside);
    }
    board.take_line(from, to, 2.0);
}

/// How the mast presses the cloth in, in words; nothing where it does not.
fn touched(board: &Board, input: &Input, section: &Section) -> String {
    let Some(touch) = section.touch else {
        return String::new();
    };
    let between = matches!(input.construction, Construction::Bows(_));
    let key = match (touch.short > 5e-4, between) {
        (true, _) => "plot.cloth.short",
        (false, true) => "plot.cloth.between",
        (false, false) => "plot.cloth.pressed",
    };
    let numbers = [
        ("value", touch.depth, &quantity::BATTEN_ROOM),
        ("short", touch.short, &quantity::BATTEN_ROOM),
    ];
    say(board, key, &numbers)
}

/// Draws a panel on both tacks with its dimensions; gives back what is lettered.
pub(super) fn section(board: &mut Board, input: &Input, panel: usize) -> String {
    let Some(pair) = tacks(input, panel) else {
        return nothing(board);
    };
    let extents = pair.each_ref().map(extent);
    let scale = board.frame.scale;
    let mut told = Vec::with_capacity(10);
    let numbers = [("n", panel as f64, &quantity::SHAPED_PANEL)];
    let name = say(board, "plot.cloth.half", &numbers);
    let at = Point::new(ROOM, 12.0);
    letter(board, &name, &NUMBER, at, &[(0.0, 0.0, Anchor::Start)]);
    told.push(name);
    // The words to weather: above the one, under the other.
    let first = LINE + 4.0;
    let weather = if pair[0].touch.is_some() { LINE } else { 0.0 };
    let top = first + WIND + weather + scale * extents[0].y1;
    let row = top - scale * extents[0].y0 + 6.0 + 1.5 * LINE;
    let chords = [top, row + 2.5 * LINE + 6.0 + scale * extents[1].y1];
    let words = [first, chords[1] - scale * extents[1].y0 + 6.0];
    for (tack, section) in pair.iter().enumerate() {
        let onto = onto(board, ROOM, chords[tack]);
        if section.touch.is_some() {
            // As it was cut.
            let mut cut = pair[1 - tack].clone();
            mirror(&mut cut);
            let dashed = Stroke::new(Role::ClothEdge, 1.0).dashed(Dash::Dashed);
            for line in &cut.cloth {
                board.scene.stroke(onto * through(line), dashed);
            }
        }
        figure(board, section, onto);
        told.push(wind(board, Point::new(ROOM, words[tack]), tack));
        let said = touched(board, input, section);
        if !said.is_empty() {
            let at = Point::new(ROOM, words[tack] + WIND + 6.0);
            letter(board, &said, &HEED, at, &[(0.0, 0.0, Anchor::Start)]);
            told.push(said);
        }
    }
    let shown = usize::from(pair[0].touch.is_some());
    let section = &pair[shown];
    let turned = onto(board, ROOM, chords[shown]);
    let lee = if shown == 0 { 1.0 } else { -1.0 };
    let mut spans = vec![(1, 0.0, section.chord, "plot.cloth.chord")];
    match &section.cloth[..] {
        [fore, after] => {
            if let (Some(from), Some(to)) = (fore.last(), after.first()) {
                spans.push((0, from.x, to.x, "plot.cloth.slot"));
            }
        }
        [skin, _, _] => spans.extend(skin.last().map(|p| (0, 0.0, p.x, "plot.cloth.join"))),
        _ => {}
    }
    let all = Deep::all(section);
    for deep in &all {
        let ends = deep.ends.map(|p| turned * p);
        let tick = Vec2::new(4.0, 0.0);
        for end in ends {
            hair(board, end - tick, end + tick);
        }
        hair(board, ends[0], ends[1]);
        board.take_line(ends[0], ends[1], 2.0);
        if section.cloth.len() == 1 {
            spans.push((0, 0.0, deep.ends[0].x, "plot.cloth.place"));
        }
    }
    for (line, from, to, key) in spans {
        let said = say(board, key, &[("value", to - from, &quantity::CHORD)]);
        let at = |x: f64| {
            Point::new(
                (turned * Point::new(x, 0.0)).x,
                row + f64::from(line) * LINE,
            )
        };
        along(board, (at(from), at(to)), &said);
        told.push(said);
    }
    for deep in &all {
        let said = deep.said(board, section);
        let ends = deep.ends.map(|p| turned * p);
        let off = lee * 11.0;
        let foot = ends[usize::from(lee * (ends[1].y - ends[0].y) > 0.0)];
        let spots: [Spot; 4] = [
            (0.0, off, Anchor::Middle),
            (-12.0, off, Anchor::Start),
            (12.0, off, Anchor::End),
            (0.0, off + lee * LINE, Anchor::Start),
        ];
        letter(board, &said, &NOTE, foot, &spots);
        told.push(said);
    }
    scale_bar::bar(board);
    joined(&told, ", ")
}

/// Draws each way on both tacks, which are named once: side by side, or the wind from starboard over that from port; gives back what is lettered.
pub(super) fn ways(board: &mut Board, input: &Input, ways: &[Way]) -> String {
    let (scale, width) = (board.frame.scale, board.frame.width);
    let broad = columns(board.frame, ways) > 1.0;
    let start: [Spot; 1] = [(0.0, 0.0, Anchor::Start)];
    let lefts = [ROOM, if broad { 0.5 * (width + ROOM) } else { ROOM }];
    let mut told = Vec::with_capacity(24);
    let mut y = TOP;
    if broad {
        for (tack, left) in lefts.into_iter().enumerate() {
            told.push(wind(board, Point::new(left, y), tack));
        }
        y += WIND;
    }
    for (i, way) in ways.iter().enumerate() {
        let named = i == 0 && !broad;
        let mut name = say(board, NAMES[way.construction.number()], &[]);
        let look = if way.construction.number() == input.construction.number() {
            name.push_str(", ");
            name.push_str(&say(board, "plot.cloth.used", &[]));
            &IN_USE
        } else {
            &NUMBER
        };
        letter(board, &name, look, Point::new(ROOM, y + 11.0), &start);
        told.push(name);
        y += LINE;
        let Some(pair) = other(input, way) else {
            let said = say(board, "plot.cloth.cannot", &[]);
            letter(board, &said, &NOTE, Point::new(ROOM, y + 11.0), &start);
            told.push(said);
            y += LINE + ROOM;
            continue;
        };
        let mut extents = pair.each_ref().map(extent);
        if broad {
            extents = [extents[0].union(extents[1]); 2];
        }
        for (tack, section) in pair.iter().enumerate() {
            let extent = extents[tack];
            let top = y + EDGE;
            if named && tack == 0 {
                // Beside the name.
                told.push(wind(board, Point::new(width - SIDE, y - LINE), tack));
            }
            figure(
                board,
                section,
                onto(board, lefts[tack], top + scale * extent.y1),
            );
            if !(broad && tack == 0) {
                y = top + scale * extent.height();
            }
            if named && tack == 1 {
                told.push(wind(board, Point::new(width - SIDE, y + 4.0), tack));
                y += WIND;
            }
        }
        y += ROOM - EDGE;
    }
    if told.is_empty() {
        return nothing(board);
    }
    scale_bar::bar(board);
    joined(&told, ", ")
}

/// Names of the ways, by their numbers.
const NAMES: [&str; 5] = [
    "choice.cut.flat",
    "choice.cut.cambered",
    "choice.cut.wing",
    "choice.cut.split",
    "choice.cut.paired",
];
