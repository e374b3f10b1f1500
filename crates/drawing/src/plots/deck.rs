//! Where the deck block of a sheet may stand.

use geometry::mast::Place;
use kurbo::{BezPath, Point, Rect, Vec2};
use quantities::listed::Listed as _;
use rigging::{Allowed, Line, What};

use super::{Look, NOTE, dot, hair, letter, plan, say};
use crate::fit::Frame;
use crate::lettering;
use crate::moment::Moment;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::scene::{Anchor, Dash, Stroke, Weight, Words, arc, circle, through};

/// What comes of a sheet with its deck block somewhere else, cell by cell: worked out on demand, for it
/// takes many frames.
#[derive(Clone, Debug, PartialEq)]
pub struct DeckMap {
    /// The mast, the sheet, and which of its deck blocks.
    pub of: (usize, usize, usize),
    /// Cells of a row, along the boat.
    pub columns: usize,
    /// Row by row from port to starboard.
    pub cells: Vec<Allowed>,
}

/// Cells along the boat, and most across.
const COLUMNS: usize = 24;
const ROWS: usize = 15;

impl DeckMap {
    /// The map for the sheet in hand, or the first, of the mast being worked on; none without a sheet.
    pub fn of(moment: &Moment) -> Option<Self> {
        let mast = moment.view.mast;
        let account = moment.account.masts.get(mast)?;
        let lines = account.lines.as_ref()?;
        let sheet = match moment.view.line {
            Some(Line::Sheet(sheet) | Line::Span(sheet, _)) => sheet,
            _ => 0,
        };
        let block = lines.input.lines.sheets.get(sheet)?.deck.first()?;
        let boom = account.plan.as_ref()?.spars.first()?;
        let hull = &moment.design.boat.hull;
        // From amidships of the boom to a little abaft the stern, or where the block stands by now.
        let middle = account.mast.x + 0.5 * boom.leech().x;
        let fore = middle.min(block.x);
        // Nor further abaft the boom than half its length.
        let astern = hull.ends().1 + 0.06 * hull.loa;
        let after = astern.min(account.mast.x + boom.leech().x + 0.5 * boom.length);
        let after = after.max(block.x + 0.3);
        let half = (0.5 * hull.beam).max(block.y.abs());
        let cell = (after - fore) / (COLUMNS - 1) as f64;
        if !(cell > 1e-3 && cell < 1e3 && half < 1e3) {
            return None;
        }
        let rows = 2 * ((half / cell) as usize).min(ROWS / 2) + 1;
        let cells =
            lines
                .input
                .deck_block_map((sheet, 0), ((fore, -half), (after, half)), (COLUMNS, rows));
        Some(Self {
            of: (mast, sheet, 0),
            columns: COLUMNS,
            cells,
        })
    }

    /// Whatever it says, no more than there are.
    fn columns(&self) -> usize {
        self.columns.min(self.cells.len()).max(1)
    }

    /// Half a cell along and across [m].
    fn half(&self) -> (f64, f64) {
        let (Some(first), Some(last)) = (self.cells.first(), self.cells.last()) else {
            return (0.0, 0.0);
        };
        let rows = self.cells.len() / self.columns();
        let half =
            |from: f64, to: f64, n: usize| 0.5 * (to - from) / n.saturating_sub(1).max(1) as f64;
        (
            half(first.at.x, last.at.x, self.columns()),
            half(first.at.y, last.at.y, rows),
        )
    }
}

/// Room for her deck and the map.
pub(super) fn fit(moment: &Moment, frame: &mut Frame, map: &DeckMap) {
    let hull = &moment.design.boat.hull;
    let (bow, stern) = hull.ends();
    let mut extent = Rect::new(bow, -0.5 * hull.beam, stern, 0.5 * hull.beam);
    for cell in &map.cells {
        extent = extent.union_pt(Point::new(cell.at.x, cell.at.y));
    }
    // Words stand over her and under her.
    let words = 0.3 * hull.beam;
    plan::fit(frame, extent.inflate(0.0, words));
}

/// Number of what stands against a cell; allowed is none of them.
fn kind(cell: &Allowed) -> usize {
    match cell.fouls {
        None => 0,
        Some(What::TwoBlocked) => 1,
        Some(What::BlockToBlock) => 2,
        Some(What::Leech) => 3,
        Some(What::Deck) => 4,
        Some(What::Lifeline) => 5,
        Some(What::NoHold) => 6,
        Some(What::Coachroof) => 7,
        Some(What::Neighbour) => 8,
        Some(What::OffBoat) => 9,
        Some(_) => 10,
    }
}

/// What is said of each.
const SAID: [&str; 11] = [
    "plot.map.allowed",
    "plot.map.two_blocked",
    "plot.map.near",
    "plot.map.leech",
    "plot.map.deck",
    "plot.map.lifeline",
    "plot.map.no_hold",
    "plot.map.coachroof",
    "plot.map.neighbour",
    "plot.map.off_boat",
    "plot.map.other",
];

/// How each is hatched: one way, the other way, along her, across her.
const HATCH: [[bool; 4]; 11] = {
    const N: bool = false;
    const Y: bool = true;
    [
        [N, N, N, N],
        [Y, N, N, N],
        [N, Y, N, N],
        [Y, N, N, N],
        [N, Y, N, N],
        [Y, N, N, N],
        [Y, Y, N, N],
        [N, N, N, Y],
        [N, N, Y, N],
        [N, N, Y, Y],
        [Y, N, Y, N],
    ]
};

pub(super) fn draw(board: &mut Board, map: &DeckMap) -> String {
    plan::draw(board);
    let frame = board.frame;
    let hull = &board.moment.design.boat.hull;
    let (half_x, half_y) = map.half();
    // On deck, or astern of her on an outrigger.
    let on_deck = |cell: &Allowed| cell.at.y.abs() <= hull.half_beam_at(cell.at.x) + half_y;
    let columns = map.columns();
    let kinds: Vec<usize> = map
        .cells
        .iter()
        .map(|cell| {
            if on_deck(cell) {
                kind(cell)
            } else {
                SAID.len()
            }
        })
        .listed();
    // Of a cell that lies over her side only what is on deck.
    let corner = |cell: &Allowed, x: f64, y: f64| {
        let x = cell.at.x + x * half_x;
        let broad = hull.half_beam_at(x);
        let y = (cell.at.y + y * half_y).max(-broad).min(broad);
        plan::flat(frame, Point::new(x, y))
    };
    let mut allowed = BezPath::new();
    // Hatched where it may not stand, one way or the other by the reason.
    let mut hatch = BezPath::new();
    let mut rim = BezPath::new();
    for (i, (cell, found)) in map.cells.iter().zip(&kinds).enumerate() {
        if *found == SAID.len() {
            continue;
        }
        let after = corner(cell, 1.0, 1.0);
        let (port, fore) = (corner(cell, 1.0, -1.0), corner(cell, -1.0, 1.0));
        if *found == 0 {
            allowed.extend(through(&[corner(cell, -1.0, -1.0), port, after, fore]));
            allowed.close_path();
        } else {
            let [one, other, level, upright] = HATCH[*found];
            for (drawn, from, to) in [
                (one, corner(cell, -1.0, -1.0), after),
                (other, fore, port),
                (level, corner(cell, -1.0, 0.0), corner(cell, 1.0, 0.0)),
                (upright, corner(cell, 0.0, -1.0), corner(cell, 0.0, 1.0)),
            ] {
                if drawn {
                    hatch.extend(through(&[from, to]));
                }
            }
        }
        let aft = kinds.get(i + 1).filter(|_| (i + 1) % columns != 0);
        for (other, from) in [(aft, port), (kinds.get(i + columns), fore)] {
            if other.is_some_and(|other| other != found && *other < SAID.len()) {
                rim.extend(through(&[from, after]));
                board.take_line(from, after, 1.0);
            }
        }
    }
    board.scene.fill(allowed, Role::Water);
    let thin = Stroke::new(Role::Dimension, board.pens.dimension);
    board.scene.stroke(hatch, thin);
    board.scene.stroke(rim, Stroke::new(Role::HullLine, 1.4));
    // Where the map ends, on white paper too.
    for (cell, side) in [(map.cells.first(), -1.0), (map.cells.last(), 1.0)] {
        let Some(cell) = cell else { continue };
        let x = cell.at.x + side * half_x;
        let broad = hull.half_beam_at(x);
        let astern = hull.ends().1.min(x);
        let end = [(astern, -broad), (x, -broad), (x, broad), (astern, broad)];
        let end = end.map(|(x, y)| plan::flat(frame, Point::new(x, y)));
        board.scene.stroke(through(&end), thin.dashed(Dash::Dashed));
    }
    plan::outline(board, &plan::deck(hull));
    leech(board, map);
    let block = block(board, map);
    for found in 0..SAID.len() {
        name(board, map, &kinds, found);
    }
    let key = match block {
        _ if map.cells.is_empty() => "plot.map.none",
        Some(0) => "plot.map.stands",
        Some(_) => "plot.map.fouls",
        None if kinds.contains(&0) => "plot.map.elsewhere",
        None => "plot.map.nowhere",
    };
    let mut said = say(board, key, &[]);
    if let Some(key) = block
        .filter(|found| *found > 0)
        .and_then(|found| SAID.get(found))
    {
        said.push_str(": ");
        said.push_str(&say(board, key, &[]));
    }
    said
}

/// The sail squared off either side, and the way its boom's end goes.
fn leech(board: &mut Board, map: &DeckMap) {
    let frame = board.frame;
    let moment = board.moment;
    let (Some(account), Some(design)) = (
        moment.account.masts.get(map.of.0),
        moment.design.masts.get(map.of.0),
    ) else {
        return;
    };
    let Some(boom) = account.plan.as_ref().and_then(|plan| plan.spars.first()) else {
        return;
    };
    let limit = design.sail.squared_off;
    let centre = plan::flat(frame, Point::new(account.mast.x, 0.0));
    let thin = Stroke::new(Role::Spar, 1.0);
    let mut ends = [centre; 3];
    for (end, angle) in ends.iter_mut().zip([-limit, 0.0, limit]) {
        *end = plan::at(frame, account.mast.to_ship(boom.leech(), angle));
        if angle != 0.0 {
            // As far as the pane, and no dash beyond it.
            let out = *end - centre;
            let most = frame.width + frame.height;
            let reach = (most / out.hypot().max(1.0)).min(1.0);
            board.scene.line(centre, centre + out * reach, thin);
            board.take_line(centre, centre + out * reach, 2.0);
        }
    }
    let out = ends[1] - centre;
    let radius = out.hypot();
    if radius > 4.0 && radius < 1e5 {
        let from = out.atan2();
        let way = Stroke::new(Role::Dimension, 1.0);
        let path = arc(centre, radius, from - limit, 2.0 * limit);
        board.scene.stroke(path, way.dashed(Dash::Dashed));
    }
    let said = say(board, "plot.map.boom_end", &[]);
    let half = 0.5 * moment.design.boat.hull.beam * frame.scale;
    let lie = |y: f64| {
        let across = y.abs().min(radius);
        Point::new(
            centre.x + (radius * radius - across * across).max(0.0).sqrt(),
            centre.y + y,
        )
    };
    for y in [half + 14.0, -half - 14.0] {
        let spots = [(-6.0, 0.0, Anchor::End), (6.0, 0.0, Anchor::Start)];
        if letter(board, &said, &NOTE, lie(y), &spots) {
            break;
        }
    }
    let said = say(board, "plot.map.squared", &[]);
    for side in [-1.0, 1.0] {
        let at = centre + Vec2::new(6.0, side * (half + 14.0));
        let spots = [(4.0, 0.0, Anchor::Start), (-14.0, 0.0, Anchor::End)];
        if letter(board, &said, &NOTE, at, &spots) {
            break;
        }
    }
}

/// The deck block as it stands; gives back what its cell says.
fn block(board: &mut Board, map: &DeckMap) -> Option<usize> {
    let (mast, sheet, block) = map.of;
    let lines = board.moment.account.masts.get(mast)?.lines.as_ref()?;
    let place: Place = *lines.input.lines.sheets.get(sheet)?.deck.get(block)?;
    let at = plan::at(board.frame, place);
    if !at.is_finite() {
        return None;
    }
    board
        .scene
        .stroke(circle(at, 8.0), Stroke::new(Role::Accent, 1.4));
    dot(board, at, 4.0, Role::Accent);
    board.take_point(at, 9.0);
    let said = say(board, "plot.map.block", &[]);
    let look = Look {
        role: Role::Accent,
        weight: Weight::Strong,
        ..NOTE
    };
    let half = 0.5 * board.moment.design.boat.hull.beam * board.frame.scale + 14.0;
    let beside = board.frame.origin.y - at.y;
    let heights = [
        -16.0,
        16.0,
        -26.0,
        26.0,
        -40.0,
        40.0,
        beside - half,
        beside + half,
    ];
    for y in heights {
        let spots = [(0.0, y, Anchor::Middle), (8.0, y, Anchor::End)];
        if letter(board, &said, &look, at, &spots) {
            break;
        }
    }
    let (half_x, half_y) = map.half();
    let here = map.cells.iter().find(|cell| {
        let off = (cell.at.x - place.x, cell.at.y - place.y);
        off.0.abs() <= half_x + 1e-9 && off.1.abs() <= half_y + 1e-9
    });
    here.map(kind)
}

/// Names a field: in the middle of it where there is room, else led to from beside her.
fn name(board: &mut Board, map: &DeckMap, kinds: &[usize], found: usize) {
    let frame = board.frame;
    let half = 0.5 * board.moment.design.boat.hull.beam * frame.scale;
    let cells = || {
        map.cells
            .iter()
            .zip(kinds)
            .filter(|(_, kind)| **kind == found)
    };
    let (mut n, mut mean) = (0.0, Vec2::ZERO);
    for (cell, _) in cells() {
        n += 1.0;
        mean += plan::at(frame, cell.at).to_vec2();
    }
    // The cell of it that is nearest to its middle.
    let (mut middle, mut off) = (Point::ORIGIN, f64::INFINITY);
    for (cell, _) in cells() {
        let at = plan::at(frame, cell.at);
        let away = (at.to_vec2() - mean / n).hypot();
        if away < off {
            (middle, off) = (at, away);
        }
    }
    if !off.is_finite() {
        return;
    }
    let mut words = Words::new(
        say(board, SAID[found], &[]),
        Role::Note,
        middle,
        Anchor::Middle,
    );
    let down = Vec2::new(0.0, 0.5 * lettering::CAP_HEIGHT * words.size);
    words.at = middle + down;
    words.weight = Weight::Strong;
    words.halo = Some(if found == 0 { Role::Water } else { Role::Hull });
    if board.letter(&words, (2.0, 1.0)) {
        return;
    }
    words.halo = None;
    for out in [14.0, 30.0, 46.0, 62.0] {
        for aside in [0.0, -40.0, 40.0, -80.0, 80.0, -120.0] {
            for side in [-1.0, 1.0] {
                let y = frame.origin.y + side * (half + out);
                let foot = Point::new(middle.x + aside, y);
                words.at = foot + down;
                let edge = foot - Vec2::new(0.0, side * 7.0);
                if board.clear_of_words(middle, edge) && board.letter(&words, (2.0, 1.0)) {
                    hair(board, middle, edge);
                    board.take_line(middle, edge, 1.0);
                    dot(board, middle, 2.0, Role::Dimension);
                    return;
                }
            }
        }
    }
}
