//! The words of the trade, pointed at: each part inked over in the accent where it lies now, its name in large letters
//! beside it. One table for the drawing, the glossary and the lesson; what has no place on a drawing stands in it too.

use geometry::Spar;
use kurbo::{BezPath, PathEl, Point, Rect, Vec2};
use quantities::Part;
use rigging::{Hauls, Line, Named};

use crate::fit::Frame;
use crate::lettering::CAP_HEIGHT;
use crate::moment::Moment;
use crate::palette::Role;
use crate::sail_plan::board::{Board, EDGE, Quad, Sail, crossing, grown, strip};
use crate::sail_plan::{lines, pointed};
use crate::scene::{Anchor, Stroke, Weight, Words, boxed, circle, through};

/// Where a word of the trade lies.
#[derive(Clone, Copy, Debug, PartialEq)]
enum What {
    /// On no drawing.
    Nowhere,
    Of(Part),
    Battens,
    Chord,
    AheadOfMast,
    /// From the luff to where the wind's force lies while the flow holds.
    Attached,
    MiddlePanel,
    HeadPanels,
    /// A point of the mast, share of its length from heel (-1) by the partners (0) to the head (1).
    OnMast(f64),
    /// From the partners along the mast.
    AlongMast(f64),
    /// The luff end or the leech end of boom or yard: yard, leech.
    Corner(bool, bool),
    Sling,
    Drift,
    Sheets,
    Spans,
    SheetBlocks,
    DeckBlocks,
    Cleats,
    Parrel,
    Hauling(Hauls),
    Effort,
    Resistance,
    Lead,
    Waterline,
}

/// Keys of all words, in the order in which a boat is gone over; `part.` and `help.part.` before them are the words
/// themselves and their meaning.
#[rustfmt::skip]
static PARTS: [(&str, What); 55] = [
    ("mast", What::Of(Part::Mast)),
    ("masthead", What::OnMast(1.0)),
    ("partners", What::OnMast(0.0)),
    ("step", What::OnMast(-1.0)),
    ("bury", What::AlongMast(-1.0)),
    ("lap", What::AlongMast(1.0)),
    ("sail", What::Of(Part::Sail)),
    ("yard", What::Of(Part::Yard)),
    ("battens", What::Battens),
    ("boom", What::Of(Part::Boom)),
    ("panel", What::MiddlePanel),
    ("head-panels", What::HeadPanels),
    ("luff", What::Of(Part::Luff)),
    ("leech", What::Of(Part::Leech)),
    ("head", What::Of(Part::Yard)),
    ("foot", What::Of(Part::Boom)),
    ("throat", What::Corner(true, false)),
    ("peak", What::Corner(true, true)),
    ("tack", What::Corner(false, false)),
    ("clew", What::Corner(false, true)),
    ("chord", What::Chord),
    ("balance", What::AheadOfMast),
    ("area-balance", What::Nowhere),
    ("rise", What::Nowhere),
    ("stagger", What::Nowhere),
    ("aspect", What::Nowhere),
    ("camber", What::Nowhere),
    ("sling", What::Sling),
    ("halyard", What::Of(Part::Halyard)),
    ("drift", What::Drift),
    ("lifts", What::Of(Part::Lifts)),
    ("sheet", What::Sheets),
    ("span", What::Spans),
    ("sheet-block", What::SheetBlocks),
    ("deck-block", What::DeckBlocks),
    ("cleat", What::Cleats),
    ("batten-parrel", What::Parrel),
    ("yard-parrel", What::Hauling(Hauls::Yard)),
    ("luff-parrel", What::Hauling(Hauls::Luff)),
    ("throat-parrel", What::Hauling(Hauls::Throat)),
    ("tack-line", What::Hauling(Hauls::Tack)),
    ("restraint", What::Hauling(Hauls::Restraint)),
    ("downhaul", What::Hauling(Hauls::Down)),
    ("bundle", What::Of(Part::Bundle)),
    ("reef", What::Nowhere),
    ("two-blocked", What::Nowhere),
    ("squared-off", What::Nowhere),
    ("gybe", What::Nowhere),
    ("attached", What::Attached),
    ("overbalance", What::Nowhere),
    ("ce", What::Effort),
    ("clr", What::Resistance),
    ("lead", What::Lead),
    ("righting-moment", What::Nowhere),
    ("waterline", What::Waterline),
];

/// Whether it is drawn in the middle of what it names, and not beside it.
fn within(what: What) -> bool {
    matches!(
        what,
        What::Of(Part::Sail | Part::Bundle) | What::MiddlePanel | What::HeadPanels
    )
}

/// Every word by its key, and whether this boat has it on the drawing now, by the mast being worked on.
pub fn parts(moment: &Moment, frame: &Frame) -> Vec<(&'static str, bool)> {
    let board = Board::new(moment, frame);
    let sails = board.sails();
    let mut parts = Vec::with_capacity(PARTS.len());
    for (key, what) in PARTS {
        parts.push((key, !place(&board, &sails, what).is_empty()));
    }
    parts
}

/// Inks and names what the view asks for: keys with blanks between.
pub(crate) fn draw(board: &mut Board, sails: &[Sail]) {
    let view = board.moment.view;
    if view.named.is_empty() {
        return;
    }
    let mut places = Vec::with_capacity(4);
    for (key, what) in PARTS {
        let mut asked = view.named.as_bytes().split(|letter| *letter == b' ');
        if asked.any(|asked| asked == key.as_bytes()) {
            let path = place(board, sails, what);
            if !path.is_empty() && path.is_finite() {
                places.push((key, what, path));
            }
        }
    }
    let heavy = (0.9 * board.pens.yard).max(3.0);
    for (_, _, path) in &places {
        board
            .scene
            .stroke(path.clone(), Stroke::new(Role::Accent, heavy));
    }
    let mut ways: Vec<Quad> = Vec::with_capacity(64);
    for (_, _, path) in &places {
        strips(path, heavy, &mut ways);
    }
    for (key, what, path) in &places {
        name(board, key, middle(path, within(*what)), &ways);
    }
}

/// Letters a name in a box beside a place and leads it there.
fn name(board: &mut Board, key: &str, at: Point, ways: &[Quad]) {
    const TURNS: [i8; 16] = [-2, 2, -1, -3, 1, 3, 0, 4, -4, 5, -5, 6, -6, 7, -7, 8];
    const REACHES: [f64; 8] = [14.0, 24.0, 36.0, 52.0, 72.0, 96.0, 130.0, 180.0];
    let (width, height) = (board.frame.width, board.frame.height);
    let key = ["part.", key].concat();
    let mut words = Words::new(
        board.moment.words.word(&key),
        Role::Accent,
        at,
        Anchor::Middle,
    );
    words.size = (width.min(height) / 22.0).max(17.0).min(34.0);
    words.weight = Weight::Strong;
    // Longer than the pane: smaller, while it can be read.
    let most = width - 2.0 * EDGE - 12.0;
    if words.length() > most {
        words.size = (words.size * most / words.length()).max(12.0);
    }
    let half = Vec2::new(
        0.5 * words.length() + 6.0,
        0.5 * CAP_HEIGHT * words.size + 6.0,
    );
    // What is out of sight is named at the edge of the pane.
    let held = |p: Point, out: Vec2| {
        let keep = |x: f64, out: f64, most: f64| x.min(most - EDGE - out).max(EDGE + out);
        Point::new(keep(p.x, out.x, width), keep(p.y, out.y, height))
    };
    let from = held(at, Vec2::ZERO);
    let down = Vec2::new(0.0, 0.5 * CAP_HEIGHT * words.size);
    let mut middle = held(from, half);
    // Clear of all and off the cloth; clear of all; clear of what is named; clear of other names.
    'looks: for look in 0..4 {
        for reach in REACHES {
            for turn in TURNS {
                let way = geometry::unit(f64::from(turn) * 0.125 * core::f64::consts::PI);
                let out = Vec2::new(way.x * (reach + half.x), way.y * (reach + half.y));
                let there = from + out;
                if held(there, half).distance(there) > 0.01 {
                    continue;
                }
                words.at = there + down;
                let quad = grown(words.corners(), (6.0, 4.0));
                let on_cloth = || board.cloth.iter().any(|(_, cloth)| crossing(&quad, cloth));
                let clear = look == 3 || !ways.iter().any(|way| crossing(&quad, way));
                let free = if look < 2 {
                    board.free(&words, (6.0, 4.0))
                } else {
                    board.clear_of_lettering(&quad)
                };
                if free && clear && (look > 0 || !on_cloth()) && board.clear_of_words(from, there) {
                    middle = there;
                    break 'looks;
                }
            }
        }
    }
    words.at = middle + down;
    let room = Rect::from_center_size(middle, (2.0 * half.x, 2.0 * half.y));
    let rim = Stroke::new(Role::Accent, 1.4);
    board.scene.stroke(through(&[at, middle]), rim);
    board.scene.fill(circle(at, 3.0), Role::Accent);
    board
        .scene
        .figure(boxed(room), Some(Role::Paper), Some(rim));
    board.take(room_of(room));
    board.take_line(at, middle, 1.0);
    board.letter_here(words);
}

fn room_of(Rect { x0, y0, x1, y1 }: Rect) -> Quad {
    [
        Point::new(x0, y0),
        Point::new(x1, y0),
        Point::new(x1, y1),
        Point::new(x0, y1),
    ]
}

/// A path as straight pieces with its pen's room on either side; a curve by its ends.
fn strips(path: &BezPath, heavy: f64, ways: &mut Vec<Quad>) {
    let (mut from, mut start) = (Point::ORIGIN, Point::ORIGIN);
    for element in path.elements() {
        let to = match *element {
            PathEl::MoveTo(to) => {
                (from, start) = (to, to);
                continue;
            }
            PathEl::ClosePath => start,
            PathEl::LineTo(to) | PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => to,
        };
        ways.push(strip(from, to, 0.5 * heavy + 2.0));
        from = to;
    }
}

/// Where a leader ends: of an area its middle; of a line a little past half its way; of a ring its centre.
fn middle(path: &BezPath, within: bool) -> Point {
    let mut curved = false;
    let mut corners: Vec<(Point, bool)> = Vec::with_capacity(32);
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => corners.push((p, false)),
            PathEl::LineTo(p) | PathEl::QuadTo(_, p) => corners.push((p, true)),
            PathEl::CurveTo(..) => curved = true,
            PathEl::ClosePath => {}
        }
    }
    let box_of = path.control_box();
    if curved {
        // The first of some rings.
        let mut first = BezPath::new();
        for element in path.elements() {
            first.push(*element);
            if *element == PathEl::ClosePath {
                return first.control_box().center();
            }
        }
    }
    if within {
        let sum = corners
            .iter()
            .fold(Vec2::ZERO, |sum, (p, _)| sum + p.to_vec2());
        return (sum / corners.len().max(1) as f64).to_point();
    }
    let mut pieces = Vec::with_capacity(corners.len());
    let mut length = 0.0;
    for pair in corners.windows(2) {
        if pair[1].1 {
            length += pair[0].0.distance(pair[1].0);
            pieces.push((pair[0].0, pair[1].0, length));
        }
    }
    let wanted = 0.58 * length;
    let known = pieces.iter().find(|(_, _, so_far)| *so_far >= wanted);
    known.map_or(box_of.center(), |(from, to, so_far)| {
        let whole = from.distance(*to).max(1e-9);
        to.lerp(*from, (so_far - wanted) / whole)
    })
}

/// A part where it lies now [px]; empty where she has none.
fn place(board: &Board, sails: &[Sail], what: What) -> BezPath {
    let ship = board.frame.ship();
    let account = board.moment.account;
    let none = BezPath::new;
    let effort = board
        .moment
        .pose
        .standing
        .map(|s| ship * Point::new(s.x, s.z));
    let resistance = account
        .boat
        .resistance
        .map(|found| ship * Point::new(found.x, found.z));
    let ring = |at: Option<Point>| at.map_or_else(none, |at| circle(at, 2.6 * board.pens.yard));
    match what {
        What::Effort => return ring(effort),
        What::Resistance => return ring(resistance),
        What::Lead => {
            let (Some(effort), Some(resistance)) = (effort, resistance) else {
                return none();
            };
            return through(&[effort, Point::new(effort.x, resistance.y), resistance]);
        }
        What::Waterline => {
            let end = Point::new(board.moment.design.boat.hull.lwl, 0.0);
            return through(&[ship * Point::ORIGIN, ship * end]);
        }
        _ => {}
    }
    let in_hand = |sail: &&Sail| sail.index == board.moment.view.mast;
    let Some(sail) = sails.iter().find(in_hand) else {
        return none();
    };
    let mast = &sail.account.mast;
    let along_mast = |share: f64| {
        let length = if share < 0.0 { mast.bury } else { mast.lap };
        sail.mast * Point::new(0.0, share * length)
    };
    let spars = &sail.pose.spars;
    let n = sail.plan.n_panels();
    match what {
        What::Of(Part::Bundle) if sail.pose.hoist < 1.0 => none(),
        What::Of(part) => pointed::on_sail(board, sail, part),
        What::Battens => {
            let mut path = none();
            for spar in spars.get(1..n).unwrap_or_default() {
                let (luff, leech) = sail.ends(spar);
                path.move_to(luff);
                path.line_to(leech);
            }
            path
        }
        What::Chord => spars
            .get(standing(sail).saturating_sub(1))
            .map_or_else(none, |spar| {
                let (luff, leech) = sail.ends(spar);
                through(&[luff, leech])
            }),
        What::AheadOfMast => {
            let ahead = |spar: &Spar| Some((sail.ends(spar).0, sail.on_mast(spar)?));
            let known = spars.get(standing(sail).saturating_sub(1)).and_then(ahead);
            known.map_or_else(none, |(luff, at)| through(&[luff, at]))
        }
        What::Attached => {
            let (Some(spar), Some(typed)) = (
                spars.get(standing(sail).saturating_sub(1)),
                board.moment.design.masts.get(sail.index),
            ) else {
                return none();
            };
            let (luff, leech) = sail.ends(spar);
            let at = luff.lerp(leech, typed.sail.attached);
            // The ring first: the name leads there.
            let mut path = ring(Some(at));
            path.extend(through(&[luff, at]));
            path
        }
        What::MiddlePanel => pointed::on_sail(board, sail, Part::Panel(standing(sail))),
        What::HeadPanels => head_panels(sail),
        What::OnMast(share) => ring(Some(along_mast(share))),
        What::AlongMast(share) => through(&[along_mast(0.0), along_mast(share)]),
        What::Corner(yard, leech) => ring(spars.get(if yard { n } else { 0 }).map(|spar| {
            let (fore, after) = sail.ends(spar);
            if leech { after } else { fore }
        })),
        What::Sling => ring(Some(sail.plane * sail.pose.sling)),
        What::Drift if !sail.fully_hoisted() => none(),
        What::Parrel => {
            let path = roped(board, sail, what);
            if !path.is_empty() {
                return path;
            }
            pointed::on_sail(board, sail, Part::Parrel(standing(sail).saturating_sub(1)))
        }
        What::Drift
        | What::Sheets
        | What::Spans
        | What::SheetBlocks
        | What::DeckBlocks
        | What::Cleats
        | What::Hauling(_) => roped(board, sail, what),
        What::Nowhere | What::Effort | What::Resistance | What::Lead | What::Waterline => none(),
    }
}

/// A panel that stands, the middle one while it does.
fn standing(sail: &Sail) -> usize {
    let n = sail.plan.n_panels();
    let lowered = sail.pose.hoist.max(0.0).ceil() as usize;
    n.div_ceil(2).max(lowered + 1).min(n)
}

/// The panels whose spars are not parallel, up to the yard; none where all turn or none does.
fn head_panels(sail: &Sail) -> BezPath {
    let spars = &sail.plan.spars;
    let mut first = spars.len();
    while first > 1 && spars[first - 1].along.cross(spars[first - 2].along).abs() > 1e-6 {
        first -= 1;
    }
    let mut path = BezPath::new();
    let Some(head) = sail.pose.spars.get(first.saturating_sub(1)..) else {
        return path;
    };
    if head.len() < 2 {
        return path;
    }
    let mut corners = Vec::with_capacity(2 * head.len());
    for spar in head {
        corners.push(sail.ends(spar).0);
    }
    for spar in head.iter().rev() {
        corners.push(sail.ends(spar).1);
    }
    path = through(&corners);
    path.close_path();
    path
}

/// What of a line's stops or of its whole course is meant.
fn roped(board: &Board, sail: &Sail, what: What) -> BezPath {
    let known = sail.account.lines.as_ref();
    let mut path = BezPath::new();
    for laid in &sail.pose.lines {
        let whole = match (what, laid.line) {
            (What::Sheets, Line::Sheet(_)) | (What::Spans, Line::Span(..)) => true,
            (What::Parrel, Line::Parrel(spar)) => spar + 1 == standing(sail),
            (What::Hauling(hauls), Line::Hauling(i)) => {
                let hauling = known.and_then(|lines| lines.input.lines.hauling.get(i));
                hauling.is_some_and(|hauling| hauling.hauls == hauls)
            }
            _ => false,
        };
        if whole {
            path.extend(lines::shape(board, sail, laid.line));
        }
        let mut last = None;
        for stop in &laid.path.stops {
            let at = board.frame.at(stop.at);
            match (what, laid.line, stop.named) {
                (What::SheetBlocks, Line::Sheet(_), Named::Block(_))
                | (What::DeckBlocks, Line::Sheet(_), Named::DeckBlock(_))
                | (What::Cleats, Line::Halyard, Named::Cleat) => {
                    path.extend(circle(at, 2.2 * board.pens.yard));
                }
                (What::Drift, Line::Halyard, Named::Sling | Named::Masthead) => {
                    if let Some(last) = last {
                        path.extend(through(&[last, at]));
                    }
                    last = Some(at);
                }
                _ => {}
            }
        }
    }
    path
}
