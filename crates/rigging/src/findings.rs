//! What fouls, chafes or does not reach.

use crate::loads::{lying, wind_on};
use crate::sheet::{Hanging, NO_LEVER, leech, outward, turns};
use crate::space::{Frame, distance, on, plus};
use crate::usual::on_roof;
use crate::work::Hung;
use crate::{Input, Knot, Line, Sheet, Span, State};
use geometry::Spar;
use geometry::mast::Place;
use kurbo::Point;

/// Something found: at the state and the angle where it is worst.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Finding {
    /// What.
    pub what: What,
    /// The line it happens to.
    pub line: Line,
    /// Number of the state.
    pub state: usize,
    /// Sheeting angle [rad].
    pub sheeting: f64,
    /// How much [m]; what of, see [`What`].
    pub by: f64,
}

impl Finding {
    /// Whether it is worse than another of its kind.
    pub fn worse(&self, other: &Self) -> bool {
        match self.what {
            // Of distances the least is the worst.
            What::BlockToBlock | What::Leech => self.by < other.by,
            _ => self.by.abs() > other.by.abs(),
        }
    }
}

/// What may be found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum What {
    /// A span's block comes nearer its deck block than the least distance; by: the distance.
    BlockToBlock,
    /// A span's block is drawn down on its deck block: the sheet holds no more; by: nought.
    TwoBlocked,
    /// A span does not reach all its batten ends; by: what it is too short.
    SpanShort,
    /// A part of the sheet comes nearer to cloth or batten tips than [`CLEAR`]; by: the clearance, negative ahead of the leech.
    Leech,
    /// A span's block is under the deck's height; by: how far.
    Deck,
    /// A part of the sheet leads through the coachroof, or its deck block stands in it; by: for how long.
    Coachroof,
    /// A part of the sheet fouls another mast, or its sail or bundle; by: how far it is within.
    Neighbour,
    /// A deck block stands off the boat; by: how far.
    OffBoat,
    /// A part of the sheet goes out under a lifeline; by: how far under.
    Lifeline,
    /// A slack span can catch a spar end under it in a gybe; by: how far that end stands out abaft the span.
    Catches,
    /// A sheet that does not hold the sail in: it grows no longer as the sail goes out; by: nought.
    NoHold,
    /// The lifts let a part of the boom down, or would have to stretch, since the boom moved fore or aft; by: the
    /// most a leg's length is off, too short positive.
    Lifts,
}

/// Too little to speak of [m].
const SLIGHT: f64 = 0.05;

/// Findings of a state.
pub(crate) fn of(input: &Input, state: usize, hung: &[Hung], found: &mut Vec<Finding>) {
    for (sheeting, sheets) in hung {
        for (i, (sheet, hanging)) in input.lines.sheets.iter().zip(sheets).enumerate() {
            if let Some(hanging) = hanging {
                of_sheet(input, (state, *sheeting), i, sheet, hanging, found);
            }
        }
    }
    if let Some(by) = input
        .states
        .get(state)
        .and_then(|now| lifts_off(input, now))
    {
        let lifts = Finding {
            what: What::Lifts,
            line: Line::Lifts,
            state,
            sheeting: 0.0,
            by,
        };
        worst(found, lifts);
    }
}

/// Findings of a sheet that is taut, at a state and an angle.
pub(crate) fn of_sheet(
    input: &Input,
    (state, sheeting): (usize, f64),
    i: usize,
    sheet: &Sheet,
    hanging: &Hanging,
    found: &mut Vec<Finding>,
) {
    // A slack one lies anywhere.
    let now = input
        .states
        .get(state)
        .filter(|_| !input.leeward(i, sheeting));
    let Some(now) = now else {
        return;
    };
    let frame = Frame::new(&input.mast, sheeting);
    let mut push = |what, line, by| {
        let new = Finding {
            what,
            line,
            state,
            sheeting,
            by,
        };
        worst(found, new);
    };
    for block in &sheet.deck {
        let (fore, after) = input.deck.ends;
        let astern = OUTRIGGER * (after - fore);
        let off = (fore - block.x).max(block.x - after - astern);
        let off = off.max(block.y.abs() - input.deck.half_beam_at(block.x));
        if off > 1e-3 {
            push(What::OffBoat, Line::Sheet(i), off);
        }
    }
    let (wind, centre) = wind_on(now);
    let out = sheeting.abs() >= input.close.abs() - 1e-9;
    if out && wind * centre > 0.0 && outward(sheeting) * hanging.lever <= NO_LEVER {
        push(What::NoHold, Line::Sheet(i), 0.0);
    }
    for (j, (span, q)) in sheet.spans.iter().zip(&hanging.blocks).enumerate() {
        let line = Line::Span(i, j);
        let short = hanging.short.get(j).map_or(0.0, |short| *short);
        if short > 1e-3 {
            push(What::SpanShort, line, short);
        }
        let under = input.deck.height - q.z;
        if under > 1e-3 {
            push(What::Deck, line, under);
        }
        for fall in &span.falls {
            let Some(s) = hanging.end(sheet, fall.to) else {
                continue;
            };
            let apart = distance(*q, s);
            if apart < 1e-3 {
                push(What::TwoBlocked, line, 0.0);
                continue;
            }
            if apart < input.rules.block_to_block {
                push(What::BlockToBlock, line, apart);
            }
            let clear = leech_clearance(input, now, &frame, s, *q);
            if clear < CLEAR {
                push(What::Leech, Line::Sheet(i), clear);
            }
            if let Some(by) = input.deck.in_roof(s, *q) {
                push(What::Coachroof, Line::Sheet(i), by);
            }
            if let Some(by) = fouls_neighbour(input, sheeting, s, *q) {
                push(What::Neighbour, Line::Sheet(i), by);
            }
            if let Some(by) = under_lifeline(input, s, *q) {
                push(What::Lifeline, Line::Sheet(i), by);
            }
        }
        if sheeting == 0.0
            && let Some(by) = catches(input, now, span)
        {
            push(What::Catches, line, by);
        }
    }
}

/// Keeps one finding of a kind for each line, the worst.
fn worst(found: &mut Vec<Finding>, new: Finding) {
    for known in found.iter_mut() {
        if known.what == new.what && known.line == new.line {
            if new.worse(known) {
                *known = new;
            }
            return;
        }
    }
    found.push(new);
}

/// How far astern an outrigger carries a deck block, share of the boat's length (common practice).
const OUTRIGGER: f64 = 0.06;

/// Least clearance of a sheet from cloth and batten tips [m] (common practice).
pub const CLEAR: f64 = 0.05;

/// A rope nearer to the sail than this times what it lies ahead of the leech chafes (about 20°; common practice).
const FLAT: f64 = 0.35;

/// Clearance of the sheet from cloth and batten tips on its way from deck to block [m]: abaft the leech or beside it; negative, how far
/// ahead of the leech it passes through the sail's plane or lies flat along the sail. Rope and leech are straight between the battens'
/// tips, so the worst is at one of those, at the block, or in the plane. Infinite where they share no
/// height, or at least [`CLEAR`] where the rope is all abaft.
pub(crate) fn leech_clearance(
    input: &Input,
    now: &State,
    frame: &Frame,
    from: Place,
    to: Place,
) -> f64 {
    let (a, b) = (frame.of(from), frame.of(to));
    let (wa, wb) = (a.1 - frame.off, b.1 - frame.off);
    let mut worst = f64::INFINITY;
    let mut at = |share: f64, low: Point, high: Point| {
        let (u, v) = (a.0 + share * (b.0 - a.0), a.2 + share * (b.2 - a.2));
        let up = (v - low.y) / (high.y - low.y);
        // Comparisons are false where the leech has no height.
        if (0.0..=1.0).contains(&share) && (0.0..=1.0).contains(&up) {
            let ahead = low.x + up * (high.x - low.x) - u;
            let beside = (wa + share * (wb - wa)).abs();
            worst = worst.min(if ahead > 0.0 && beside < FLAT * ahead {
                -ahead
            } else {
                beside.hypot((-ahead).max(0.0))
            });
        }
    };
    let (least, most) = (a.2.min(b.2), a.2.max(b.2));
    let fore = a.0.min(b.0) - CLEAR;
    let mut below: Option<Point> = None;
    for spar in &now.spars {
        let high = spar.at(spar.length + input.rules.tip.max(0.0));
        if let Some(low) = below
            // Else out of the rope's heights, or all of it is abaft.
            && low.y.min(high.y) <= most
            && low.y.max(high.y) >= least
            && low.x.max(high.x) > fore
        {
            at(1.0, low, high);
            at((low.y - a.2) / (b.2 - a.2), low, high);
            at(wa / (wa - wb), low, high);
        }
        below = Some(high);
    }
    worst
}

/// How far a rope from the deck is within another mast, its sail at full hoist or its bundle. The other sail is trimmed as this one is, but
/// no closer than on the wind; with this one amidships either tack is tried.
fn fouls_neighbour(input: &Input, sheeting: f64, from: Place, to: Place) -> Option<f64> {
    let mut worst: Option<f64> = None;
    let mut found = |by: f64| {
        if by > worst.unwrap_or(0.0) {
            worst = Some(by);
        }
    };
    for other in &input.obstacles {
        let trim = sheeting.abs().max(input.close);
        for side in [-1.0, 1.0] {
            if sheeting * side < 0.0 {
                continue;
            }
            let frame = Frame::new(&other.mast, side * trim);
            let (a, b) = (frame.of(from), frame.of(to));
            // Nearest to the mast seen along it.
            let (u, w) = (b.0 - a.0, b.1 - a.1);
            let share = -(a.0 * u + a.1 * w) / (u * u + w * w).max(1e-12);
            let share = share.max(0.0).min(1.0);
            let v = a.2 + share * (b.2 - a.2);
            if v >= 0.0 && v <= other.mast.lap {
                let near = (a.0 + share * u).hypot(a.1 + share * w);
                found(0.5 * other.mast.diameter_at(v) + CLEAR - near);
            }
            let share = (frame.off - a.1) / w;
            if !(share > 0.0 && share < 1.0) {
                continue;
            }
            let p = Point::new(a.0 + share * u, a.2 + share * (b.2 - a.2));
            for spars in [&other.standing, &other.lying] {
                for two in spars.windows(2) {
                    // Above the lower spar and under the upper: where the rope's height lies between.
                    let along = |s: &Spar| {
                        let out = (p.x - s.luff.x) / s.along.x.max(0.1);
                        (out, s.luff.y + out * s.along.y - p.y)
                    };
                    let (low, high) = (along(&two[0]), along(&two[1]));
                    if low.1 <= 0.0 && high.1 >= 0.0 {
                        let up = -low.1 / (high.1 - low.1).max(1e-9);
                        let length = |a: f64, b: f64| a + up * (b - a);
                        let luff = length(low.0, high.0);
                        let leech = length(two[0].length - low.0, two[1].length - high.0);
                        found(luff.min(leech));
                    }
                }
            }
        }
    }
    worst
}

/// How far under the lifeline a rope from the deck goes out over the side, if it does, within the length of the
/// deck.
fn under_lifeline(input: &Input, from: Place, to: Place) -> Option<f64> {
    let deck = &input.deck;
    let beam = deck.half_beam;
    if deck.lifeline <= 0.0 || from.y.abs() > beam || to.y.abs() <= beam {
        return None;
    }
    let side = if to.y < 0.0 { -beam } else { beam };
    let share = (side - from.y) / (to.y - from.y);
    let at = plus(from, share, plus(to, -1.0, from));
    let under = deck.height + deck.lifeline - at.z;
    (under > 0.0 && at.x >= deck.ends.0 && at.x <= deck.ends.1).then_some(under)
}

/// How far the end of a lower spar stands out abaft a span that hangs slack, if the span can reach down to it.
fn catches(input: &Input, now: &State, span: &Span) -> Option<f64> {
    let ends = || {
        span.ends.iter().filter_map(|e| match e.at {
            Knot::Spar(spar) => now
                .spars
                .get(spar)
                .map(|s| (spar, s.leech(), turns(e.turning))),
            _ => None,
        })
    };
    let (mut low, mut at, mut fore) = (usize::MAX, f64::INFINITY, f64::INFINITY);
    for (spar, p, _) in ends() {
        fore = fore.min(p.x);
        if p.y < at {
            (low, at) = (spar, p.y);
        }
    }
    if low < lying(now) {
        return None;
    }
    // Slack, its legs hang straight down to the block from ends that are one over the other.
    let (mut legs, mut rope) = (0.0, span.length);
    for (_, p, n) in ends() {
        legs += n;
        rope -= n * (p.y - at);
    }
    let reach = at - rope.max(0.0) / legs;
    let mut worst = None;
    for (i, spar) in now.spars.iter().enumerate().take(low) {
        let tip = spar.at(spar.length + input.rules.tip.max(0.0));
        let out = tip.x - fore;
        if i >= lying(now).saturating_sub(1) && tip.y > reach && out > worst.unwrap_or(SLIGHT) {
            worst = Some(out);
        }
    }
    worst
}

/// How much the worst leg of the lifts is off, the boom having moved along from where they were set up. Lifts that run are
/// set up again at each reef: what is left is how their legs differ.
fn lifts_off(input: &Input, now: &State) -> Option<f64> {
    let lifts = input.lines.lifts.as_ref().filter(|_| now.on_lifts)?;
    let set = input.states.iter().find(|s| s.on_lifts)?;
    let (boom, first) = (now.spars.first()?, set.spars.first()?);
    let frame = Frame::new(&input.mast, 0.0);
    let head = frame.at(0.0, 0.0, lifts.height);
    let off = |catch: &f64| {
        let leg = |boom| distance(head, frame.sail(on(boom, *catch)));
        leg(boom) - leg(first)
    };
    let mean = match lifts.cleat {
        Some(_) => lifts.catches.iter().map(off).sum::<f64>() / lifts.catches.len() as f64,
        None => 0.0,
    };
    let mut worst = 0.0f64;
    for catch in &lifts.catches {
        let off = off(catch) - mean;
        if off.abs() > worst.abs() {
            worst = off;
        }
    }
    (worst.abs() > SLIGHT).then_some(worst)
}

/// What becomes of the sheet with a deck block of it somewhere else: the worst over all states and sheeting angles.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Allowed {
    /// Where the deck block was tried.
    pub at: Place,
    /// The first thing found against it; none where it may stand.
    pub fouls: Option<What>,
}

/// Most cells of a map.
const MOST_CELLS: usize = 2_000;

/// Sheeting angles from amidships to squared off, both within.
pub const ANGLES: usize = 19;

/// All of them either side, amidships once.
const SIDES: usize = 2 * ANGLES - 1;

impl Input {
    /// Sheeting angles that everything on demand is tried at [rad]: [`ANGLES`] either side, from squared off to port to squared off to
    /// starboard.
    pub fn angles(&self) -> [f64; SIDES] {
        let mut angles = [0.0; SIDES];
        for (i, angle) in angles.iter_mut().enumerate() {
            *angle = self.squared * (i as f64 / (ANGLES - 1) as f64 - 1.0);
        }
        angles
    }

    /// On demand: what is found at every state and every one of [`Input::angles`], of each kind the worst for each line.
    pub fn findings(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        if !self.usable() {
            return found;
        }
        for (i, state) in self.states.iter().enumerate() {
            for angle in self.angles() {
                of(self, i, &[(angle, self.hung_all(state, angle))], &mut found);
            }
        }
        found
    }

    /// Where a deck block may stand: a grid of `columns` by `rows` over a piece of the deck, from one corner to the other, at its
    /// own height, where there is a coachroof on top of that. Each cell is tried at every state and every one of [`Input::angles`].
    pub fn deck_block_map(
        &self,
        (sheet, deck): (usize, usize),
        (from, to): ((f64, f64), (f64, f64)),
        (columns, rows): (usize, usize),
    ) -> Vec<Allowed> {
        let mut map = Vec::new();
        if columns.saturating_mul(rows) > MOST_CELLS
            || !self.usable()
            || !self.led(Line::Sheet(sheet))
        {
            return map;
        }
        let mut moved = self.clone();
        let share = |i: usize, n: usize| i as f64 / n.saturating_sub(1).max(1) as f64;
        // What stands on the coachroof stands on deck beside it.
        let block = self.lines.sheets.get(sheet).and_then(|s| s.deck.get(deck));
        let mut low = block.map_or(0.0, |block| block.z);
        if self.deck.roof.is_some_and(|roof| roof.top == low) {
            low = self.deck.height;
        }
        let mut known = 0;
        for cell in 0..columns * rows {
            let sheets = &mut moved.lines.sheets;
            let Some(block) = sheets.get_mut(sheet).and_then(|s| s.deck.get_mut(deck)) else {
                break;
            };
            block.x = from.0 + share(cell % columns, columns) * (to.0 - from.0);
            block.y = from.1 + share(cell / columns, rows) * (to.1 - from.1);
            block.z = low;
            *block = on_roof(&self.deck, *block);
            let at = *block;
            map.push(Allowed {
                at,
                // What is not the deck block's doing does not count.
                fouls: moved.fouls(
                    sheet,
                    &|what| !matches!(what, What::Catches | What::SpanShort),
                    (&mut known, false),
                ),
            });
        }
        map
    }

    /// The first thing found against a sheet that counts, over all states and angles, the one `known` for the last finding first, or that
    /// alone; then every sixth angle, since most that fouls fouls there.
    fn fouls(
        &self,
        which: usize,
        counts: &dyn Fn(What) -> bool,
        (known, alone): (&mut usize, bool),
    ) -> Option<What> {
        let sheet = self.lines.sheets.get(which)?;
        let angles = self.angles();
        let mut found = Vec::new();
        for turn in 0..if alone { 1 } else { 3 } {
            for at in 0..self.states.len() * SIDES {
                let sixth = (at % SIDES).is_multiple_of(6);
                let (state, angle) = (at / SIDES, angles[at % SIDES]);
                let its_turn = match turn {
                    0 => at == *known,
                    1 => sixth,
                    _ => !sixth,
                };
                if !its_turn || self.leeward(which, angle) {
                    continue;
                }
                let frame = Frame::new(&self.mast, angle);
                let Some(hanging) = sheet.hung(&self.states[state], &frame) else {
                    continue;
                };
                found.clear();
                of_sheet(self, (state, angle), which, sheet, &hanging, &mut found);
                for new in &found {
                    if counts(new.what) {
                        *known = at;
                        return Some(new.what);
                    }
                }
            }
        }
        None
    }

    /// Least distance of a sheet's first deck block abaft the aftmost batten end it gathers, amidships, from where on nothing fouls that a
    /// place further aft would clear, at any state and any one of [`Input::angles`] [m]; the block moved fore and aft alone. None within
    /// ten metres.
    pub fn least_drift(&self, sheet: usize) -> Option<f64> {
        if !self.usable() || !self.led(Line::Sheet(sheet)) {
            return None;
        }
        let frame = Frame::new(&self.mast, 0.0);
        let mut moved = self.clone();
        let mut aftmost = f64::NEG_INFINITY;
        for now in &self.states {
            for end in self
                .lines
                .sheets
                .get(sheet)?
                .spans
                .iter()
                .flat_map(|s| &s.ends)
            {
                if let Knot::Spar(spar) = end.at
                    && let Some(p) = leech(now, &frame, spar)
                {
                    aftmost = aftmost.max(p.x);
                }
            }
        }
        let mut known = 0;
        // To the centimetre.
        let mut clear = |steps: u32, alone: bool| {
            let sheets = &mut moved.lines.sheets;
            if let Some(block) = sheets.get_mut(sheet).and_then(|s| s.deck.first_mut()) {
                block.x = aftmost + STEP * f64::from(steps);
            }
            let counts = |what| {
                use What::{BlockToBlock, Leech, NoHold, TwoBlocked};
                matches!(what, BlockToBlock | Leech | NoHold | TwoBlocked)
            };
            moved.fouls(sheet, &counts, (&mut known, alone)).is_none()
        };
        if clear(0, false) {
            return Some(0.0);
        }
        if !clear(STEPS, false) || !aftmost.is_finite() {
            return None;
        }
        // What fouls is cleared by itself, then the rest are tried from there; after eight such rounds all are cleared together.
        let mut least = 0;
        for round in 0..9 {
            if clear(least, false) {
                break;
            }
            let mut far = STEPS;
            while least + 1 < far {
                let middle = (least + far) / 2;
                if clear(middle, round < 8) {
                    far = middle;
                } else {
                    least = middle;
                }
            }
            least = far;
        }
        Some(STEP * f64::from(least))
    }
}

/// Steps of the deck block in a search for the least drift, and how long they are [m].
const STEPS: u32 = 1024;

/// See [`STEPS`].
const STEP: f64 = 10.0 / STEPS as f64;
