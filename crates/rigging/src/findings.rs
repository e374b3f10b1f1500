//! What fouls, chafes or does not reach.

use crate::loads::lying;
use crate::sheet::leech;
use crate::space::{Frame, distance, on, plus};
use crate::work::Hung;
use crate::{Input, Knot, Line, State};
use geometry::mast::Place;

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
    /// A part of the sheet lies over the leech; by: how far ahead of it.
    Leech,
    /// A span's block is under the deck's height; by: how far.
    Deck,
    /// A part of the sheet goes out under a lifeline; by: how far under.
    Lifeline,
    /// A slack span can catch a spar end under it in a gybe; by: how far that end stands out abaft the span.
    Catches,
    /// The lifts let the boom's after end down, or would have to stretch, since the boom moved fore or aft; by: the
    /// most a leg's length is off, too short positive.
    Lifts,
}

/// Too little to speak of [m].
const SLIGHT: f64 = 0.05;

/// Findings of a state.
pub(crate) fn of(input: &Input, state: usize, hung: &[Hung], found: &mut Vec<Finding>) {
    let Some(now) = input.states.get(state) else {
        return;
    };
    for (sheeting, sheets) in hung {
        let frame = Frame::new(&input.mast, *sheeting);
        for (i, hanging) in sheets.iter().enumerate() {
            let (Some(hanging), Some(sheet)) = (hanging, input.lines.sheets.get(i)) else {
                continue;
            };
            let mut push = |what, line, by| {
                worst(
                    found,
                    Finding {
                        what,
                        line,
                        state,
                        sheeting: *sheeting,
                        by,
                    },
                );
            };
            for (j, (span, q)) in sheet.spans.iter().zip(&hanging.blocks).enumerate() {
                let line = Line::Span(i, j);
                if let Some(short) = hanging.short.get(j)
                    && *short > 1e-3
                {
                    push(What::SpanShort, line, *short);
                }
                let under = input.deck.height - q.z;
                if under > 1e-3 {
                    push(What::Deck, line, under);
                }
                for fall in &span.falls {
                    let Knot::Deck(deck) = fall.to else { continue };
                    let Some(s) = sheet.deck.get(deck) else {
                        continue;
                    };
                    let apart = distance(*q, *s);
                    if apart < 1e-3 {
                        push(What::TwoBlocked, line, 0.0);
                        continue;
                    }
                    if apart < input.rules.block_to_block {
                        push(What::BlockToBlock, line, apart);
                    }
                    if let Some(by) = over_leech(now, &frame, *s, *q) {
                        push(What::Leech, Line::Sheet(i), by);
                    }
                    if let Some(by) = under_lifeline(input, *s, *q) {
                        push(What::Lifeline, Line::Sheet(i), by);
                    }
                }
                if *sheeting == 0.0
                    && let Some(by) = catches(input, now, span)
                {
                    push(What::Catches, line, by);
                }
            }
        }
    }
    if let Some(by) = lifts_off(input, now) {
        worst(
            found,
            Finding {
                what: What::Lifts,
                line: Line::Lifts,
                state,
                sheeting: 0.0,
                by,
            },
        );
    }
}

/// Keeps one finding of a kind for each line, the worst.
fn worst(found: &mut Vec<Finding>, new: Finding) {
    for known in found.iter_mut() {
        if known.what == new.what && known.line == new.line {
            // Of distances the least is the worst.
            let near = new.what == What::BlockToBlock;
            if (new.by.abs() > known.by.abs()) != near {
                *known = new;
            }
            return;
        }
    }
    found.push(new);
}

/// A rope nearer to the sail than this times what it lies ahead of the leech chafes (about 20°; common practice).
const FLAT: f64 = 0.35;

/// How far ahead of the leech the sheet chafes on its way from deck to block: where it passes through the sail's
/// plane, or where its block has been drawn over the leech and lies flat along the sail.
fn over_leech(now: &State, frame: &Frame, from: Place, to: Place) -> Option<f64> {
    let (a, b) = (frame.of(from), frame.of(to));
    let (wa, wb) = (a.1 - frame.off, b.1 - frame.off);
    let through = wa * wb < 0.0;
    let share = if through { wa / (wa - wb) } else { 1.0 };
    let (u, v) = (a.0 + share * (b.0 - a.0), a.2 + share * (b.2 - a.2));
    for two in now.spars.windows(2) {
        let (low, high) = (two[0].leech(), two[1].leech());
        if (v >= low.y) != (v >= high.y) {
            let share = (v - low.y) / (high.y - low.y);
            let ahead = low.x + share * (high.x - low.x) - u;
            if ahead > SLIGHT && (through || wb.abs() < FLAT * ahead) {
                return Some(ahead);
            }
        }
    }
    None
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
fn catches(input: &Input, now: &State, span: &crate::Span) -> Option<f64> {
    let ends = || {
        span.ends.iter().filter_map(|e| match e.at {
            Knot::Spar(spar) => now.spars.get(spar).map(|s| (spar, s.leech())),
            _ => None,
        })
    };
    let (low, at) = ends().min_by(|a, b| a.1.y.total_cmp(&b.1.y))?;
    if low < lying(now) {
        return None;
    }
    let fore = ends().map(|(_, p)| p.x).fold(at.x, f64::min);
    // A slack loop hangs to half its rope under the ends that hold it.
    let reach = at.y - 0.5 * span.length;
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

/// How much the worst leg of the lifts is off, the boom having moved along from where they were set up.
fn lifts_off(input: &Input, now: &State) -> Option<f64> {
    let lifts = input.lines.lifts.as_ref()?;
    let set = input.states.iter().find(|s| s.on_lifts)?;
    let (boom, first) = (now.spars.first()?, set.spars.first()?);
    if !now.on_lifts {
        return None;
    }
    let frame = Frame::new(&input.mast, 0.0);
    let head = frame.at(0.0, 0.0, lifts.height);
    let mut worst = 0.0f64;
    for catch in &lifts.catches {
        let leg = |boom| distance(head, frame.sail(on(boom, *catch)));
        let off = leg(boom) - leg(first);
        if off.abs() > worst.abs() {
            worst = off;
        }
    }
    (worst.abs() > SLIGHT).then_some(worst)
}

/// What becomes of the sheet with a deck block of it somewhere else: the worst over all states at the account's angles.
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

impl Input {
    /// Where a deck block may stand: a grid of `columns` by `rows` over a piece of the deck, from one corner to the other, at its
    /// own height. Each cell is tried at every state and every angle of `angles`.
    pub fn deck_block_map(
        &self,
        (sheet, deck): (usize, usize),
        (from, to): ((f64, f64), (f64, f64)),
        (columns, rows): (usize, usize),
        angles: &[f64],
    ) -> Vec<Allowed> {
        let mut map = Vec::new();
        let mut input = self.clone();
        if columns.saturating_mul(rows) > MOST_CELLS || !self.faults().is_empty() {
            return map;
        }
        let share = |i: usize, n: usize| i as f64 / n.saturating_sub(1).max(1) as f64;
        for row in 0..rows {
            for column in 0..columns {
                let Some(block) =
                    (input.lines.sheets.get_mut(sheet)).and_then(|s| s.deck.get_mut(deck))
                else {
                    return map;
                };
                block.x = from.0 + share(column, columns) * (to.0 - from.0);
                block.y = from.1 + share(row, rows) * (to.1 - from.1);
                let at = *block;
                map.push(Allowed {
                    at,
                    fouls: input.fouls(sheet, angles),
                });
            }
        }
        map
    }

    /// The first thing found against a sheet over all states and angles.
    fn fouls(&self, sheet: usize, angles: &[f64]) -> Option<What> {
        let mut found = Vec::new();
        for state in 0..self.states.len() {
            for angle in angles {
                let mut sheets = vec![None; self.lines.sheets.len()];
                *sheets.get_mut(sheet)? = self.hang(sheet, state, *angle);
                of(self, state, &[(*angle, sheets)], &mut found);
                // What is not the deck block's doing does not count.
                found.retain(|f| !matches!(f.what, What::Lifts | What::Catches | What::SpanShort));
                if let Some(first) = found.first() {
                    return Some(first.what);
                }
            }
        }
        None
    }

    /// Least distance of a sheet's first deck block abaft the aftmost batten end it gathers that keeps all its blocks apart by the
    /// least distance, amidships, at every state [m]; the block moved fore and aft alone. None within ten metres.
    pub fn least_drift(&self, sheet: usize) -> Option<f64> {
        if !self.faults().is_empty() {
            return None;
        }
        let frame = Frame::new(&self.mast, 0.0);
        let mut input = self.clone();
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
        let mut clear = |by: f64| {
            let block = (input.lines.sheets.get_mut(sheet)).and_then(|s| s.deck.first_mut());
            if let Some(block) = block {
                block.x = aftmost + by;
            }
            let apart = |state| {
                let (Some(hanging), Some(sheet)) =
                    (input.hang(sheet, state, 0.0), input.lines.sheets.get(sheet))
                else {
                    return false;
                };
                sheet.spans.iter().zip(&hanging.blocks).all(|(span, q)| {
                    span.falls.iter().all(|fall| match fall.to {
                        Knot::Deck(i) => (sheet.deck.get(i))
                            .is_none_or(|s| distance(*q, *s) >= self.rules.block_to_block),
                        _ => true,
                    })
                })
            };
            (0..self.states.len()).all(apart)
        };
        let (mut near, mut far) = (0.0, 10.0);
        if clear(near) {
            return Some(near);
        }
        if !clear(far) || !aftmost.is_finite() {
            return None;
        }
        for _ in 0..30 {
            let middle = 0.5 * (near + far);
            if clear(middle) {
                far = middle;
            } else {
                near = middle;
            }
        }
        Some(far)
    }
}
