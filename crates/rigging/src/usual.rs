//! Leads that work for any rig, so that a new design has its lines at once. All of it is common practice.

use crate::findings::{CLEAR, leech_clearance};
use crate::loads::loads;
use crate::ropes::Rope;
use crate::sheet::{leech, turns};
use crate::space::{Frame, distance};
use crate::tackle::gain;
use crate::{
    Cleats, Deck, Halyard, Hauling, Hauls, Hold, Input, Knot, Lifts, Lines, Parrels, Ropes, Rules,
    Sheet, Span, State, Tails, Weights,
};
use core::f64::consts::PI;
use geometry::mast::{Mast, Place};
use kurbo::Point;

impl Default for Rules {
    fn default() -> Self {
        Self {
            sheave_loss: 0.08,
            parrel_friction: 0.25,
            knot: 0.5,
            factors: [5.0, 6.0, 8.0],
            dynamic: 2.0,
            hand: 150.0,
            hand_rope: 0.010,
            block_to_block: 0.25,
            tip: 0.0,
            stretch: 0.04,
        }
    }
}

impl Default for Ropes {
    fn default() -> Self {
        Self {
            halyard: Rope::Braid,
            sheet: Rope::Braid,
            lifts: Rope::Polyester,
            parrels: Rope::Polyester,
        }
    }
}

impl Default for Tails {
    fn default() -> Self {
        Self {
            halyard: 2.5,
            sheet: 2.0,
            hauling: 2.0,
            fixed: 0.5,
        }
    }
}

impl Input {
    /// A rig with the usual lines: [`Lines::usual`] by [`Choices::default`], every rule as it is mostly found.
    pub fn usual(
        mast: Mast,
        fitting: f64,
        sling: f64,
        states: Vec<State>,
        weights: Weights,
        deck: Deck,
    ) -> Self {
        let mut input = Self {
            mast,
            fitting,
            sling,
            squared: 85.0 * PI / 180.0,
            close: 15.0 * PI / 180.0,
            states,
            lines: Lines::default(),
            weights,
            give: 0.0,
            deck,
            obstacles: Vec::new(),
            rules: Rules::default(),
            ropes: Ropes::default(),
            tails: Tails::default(),
        };
        input.lines = Lines::usual(&input, &Choices::default());
        input
    }
}

/// How the sail is sheeted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum System {
    /// One sheet for the whole sail.
    Single,
    /// Upper and lower sheet.
    Divided,
    /// A sheet to port and one to starboard, spans alike; the leeward one is slack.
    Pair,
}

/// How a line is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Use {
    /// Led to a cleat.
    Running,
    /// Fast at both ends.
    Standing,
    /// Left out.
    None,
}

/// What a set of usual leads is chosen by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Choices {
    /// How the sail is sheeted; none without a sheet.
    pub system: Option<System>,
    /// Batten ends a span gathers, 2 or 3.
    pub gathers: usize,
    /// With a halyard.
    pub halyard: bool,
    /// Lifts.
    pub lifts: Use,
    /// Batten parrels: long ones (true) or short ones; none without.
    pub parrels: Option<bool>,
    /// In the order of [`Hauls::ALL`].
    pub hauling: [Use; 6],
}

impl Default for Choices {
    fn default() -> Self {
        Self {
            system: Some(System::Single),
            gathers: 2,
            halyard: true,
            lifts: Use::Running,
            parrels: Some(false),
            hauling: [
                Use::Running,
                Use::Running,
                Use::None,
                Use::Running,
                Use::None,
                Use::None,
            ],
        }
    }
}

impl Hauls {
    /// All of them, in the order of the cordage list.
    pub const ALL: [Self; 6] = [
        Self::Yard,
        Self::Luff,
        Self::Throat,
        Self::Tack,
        Self::Restraint,
        Self::Down,
    ];
}

/// Fall of a span's block abaft the middle of a pair of batten ends, and of more, as a share of the distance from one end
/// to the next.
const BEHIND: [f64; 2] = [0.6, 0.8];

/// Deck block abaft the boom's end, share of the boom.
const ABAFT: f64 = 0.4;

/// Deck block ahead of the next mast's axis, in diameters of that.
const AHEAD: f64 = 2.3;

impl Lines {
    /// A working set of every line chosen; none for a rig without spars.
    ///
    /// A sheet gathers boom and battens in pairs or triples from the top, upper ones left out that would draw it over the leech. Its deck
    /// block is on the centreline abaft the boom's end, but on the boat, ahead of the next mast, on top of the coachroof or at the height
    /// of the lifelines; a divided sail's two lie side by side, a pair's at the rails. A span's block has two parts; under 12 m² the
    /// sheet's end is fast on the lowest span. The halyard has 1, 3 or 4 parts (12, 25 m²), and up to five by which a hand hoists it.
    /// Lifts have two catch points, one under 10 m². Short parrels have both
    /// ends near the mast, long ones the after end near the middle of the batten.
    ///
    /// Yard hauling parrel from abaft the sling round the mast to ahead of it; luff hauling parrel from luff to luff of the upper
    /// battens, upward, crossing abaft the mast between them; throat parrel from the top batten round the mast to the throat; tack line
    /// to the foot of the mast; boom restraint round the mast; downhaul from the middle batten. All come aft to the row of
    /// cleats, a sheet from abaft that to one by its block; a standing tack line or downhaul ends at the foot of the mast, other
    /// standing ones on the spars.
    pub fn usual(input: &Input, choices: &Choices) -> Self {
        let Some(full) = input.states.first() else {
            return Self::default();
        };
        let (Some(boom), Some(yard)) = (full.spars.first(), full.spars.len().checked_sub(1)) else {
            return Self::default();
        };
        if yard == 0 {
            return Self::default();
        }
        let (deck, mast) = (&input.deck, &input.mast);
        let clew = Frame::new(mast, 0.0).sail(boom.leech());
        let mut taken = deck.cleats.from;
        let mut cleat = || {
            taken += 1;
            deck.cleats.place(taken - 1)
        };
        let small = full.area < 12.0;

        let halyard = choices.halyard.then(|| {
            let cleat = cleat();
            Halyard {
                parts: if small {
                    1
                } else if full.area <= 25.0 {
                    3
                } else {
                    4
                },
                lead: foot(input, cleat),
                cleat,
            }
        });
        let mut sheets = Vec::new();
        if let Some(system) = choices.system {
            let rail = 0.9 * deck.half_beam;
            let first = match system {
                System::Single => 0.0,
                System::Divided => -0.15,
                System::Pair => -rail,
            };
            let at = |y: f64| block(input, clew, boom.length, y);
            let spans = spans(
                input,
                full,
                choices.gathers,
                at(first),
                system == System::Pair,
            );
            let all = spans.len();
            let half = all / 2;
            let list: &[(f64, usize, usize)] = match system {
                System::Single => &[(first, 0, all)],
                System::Divided => &[(first, 0, half), (-first, half, all)],
                System::Pair => &[(first, 0, all), (-first, 0, all)],
            };
            for &(y, from, to) in list {
                if from < to {
                    let block = at(y);
                    let mut sheet = Sheet {
                        spans: spans[from..to].to_vec(),
                        deck: vec![block],
                        cleat: if block.x > deck.cleats.at.0 {
                            beside(deck, block)
                        } else {
                            cleat()
                        },
                    };
                    sheet.part(if small { 1 } else { 2 });
                    sheets.push(sheet);
                }
            }
        }
        let lifts = (choices.lifts != Use::None).then(|| Lifts {
            height: mast.lap,
            catches: if full.area < 10.0 {
                vec![0.6]
            } else {
                vec![0.35, 0.85]
            },
            cleat: (choices.lifts == Use::Running).then(&mut cleat),
        });

        let reach = mast.diameter_at(boom.height_on_mast().unwrap_or(0.0));
        let mut hauling = Vec::new();
        for (i, hauls) in Hauls::ALL.into_iter().enumerate() {
            // Spars, and how many mast diameters abaft the mast axis: 2 clear of it, far ahead the luff end.
            let (abaft, ahead, luff) = (2.0, -1.0, -1e3);
            let mut points = [(yard, abaft), (yard, ahead), (0, 0.0), (0, 0.0), (0, 0.0)];
            let mut count = 2;
            match hauls {
                Hauls::Yard => {}
                // The luffs of the uppermost battens: both ends of each turn draw them aft. The fall comes from the uppermost, which
                // stands longest, or the turns below eat up the pull.
                Hauls::Luff => {
                    count = (yard - 1 - yard / 4).min(points.len());
                    for (i, point) in points.iter_mut().enumerate().take(count) {
                        *point = (yard - count + i, luff);
                    }
                }
                Hauls::Throat => (points[0], points[1]) = ((yard - 1, abaft), (yard, luff)),
                Hauls::Tack => (points[0], count) = ((0, luff), 1),
                Hauls::Restraint => (points[0], points[1]) = ((0, 3.0), (0, -3.0)),
                Hauls::Down => (points[0], count) = ((yard / 2, 0.0), 1),
            }
            // Luffs of one batten alone are not drawn together.
            let used = choices.hauling[i];
            if used == Use::None || (hauls == Hauls::Luff && count < 2) {
                continue;
            }
            let mut holds = Vec::new();
            for &(spar, past) in points.iter().take(count) {
                let of = &full.spars[spar];
                let share = (past * reach - of.luff.x) / of.along.x.max(0.1) / of.length.max(0.1);
                holds.push(Hold {
                    spar,
                    share: share.max(0.0).min(1.0),
                });
            }
            let mut leads = Vec::new();
            if used == Use::Running {
                let cleat = cleat();
                leads = vec![foot(input, cleat), cleat];
            } else if count < 2 {
                // Fast at the foot, others on the spars.
                leads.push(foot(input, deck.cleats.place(0)));
            }
            hauling.push(Hauling {
                hauls,
                holds,
                leads,
            });
        }
        let near = 0.5 * reach + 0.04 * boom.length;
        let mut lines = Self {
            halyard,
            sheets,
            lifts,
            parrels: choices.parrels.map(|long| Parrels {
                ahead: near,
                abaft: if long { 0.45 * boom.length } else { near },
                travel: 0.08 * boom.length,
            }),
            hauling,
        };
        // Parts are added by the area till a hand hoists it.
        let mut rigged = input.clone();
        rigged.lines = lines.clone();
        let mut hung = Vec::new();
        for angle in [input.close, -input.close] {
            hung.push((angle, rigged.hung_all(full, angle)));
        }
        let hoist = loads(&rigged, full, &hung).hoist;
        if let Some(halyard) = &mut lines.halyard {
            let loss = input.rules.sheave_loss;
            let lifted = hoist * gain(halyard.parts, loss);
            while halyard.parts < MOST_PARTS
                && lifted > input.rules.hand * gain(halyard.parts, loss)
            {
                halyard.parts += 1;
            }
        }
        lines
    }
}

/// Most parts a usual halyard has.
const MOST_PARTS: usize = 5;

/// Lead at the foot of the mast of a line that is belayed there.
pub(crate) fn foot(input: &Input, cleat: Place) -> Place {
    let mast = &input.mast;
    let at = Place {
        x: mast.x + 0.15,
        y: 0.5 * cleat.y,
        z: mast.z,
    };
    on_roof(&input.deck, at)
}

/// Cleat of a sheet by its deck block, on the side deck where that is over the cockpit.
fn beside(deck: &Deck, block: Place) -> Place {
    let (x, side) = (block.x - 0.3, 0.5 * deck.half_beam);
    let over = (deck.well).is_some_and(|(from, to)| x > from && x < to && block.y.abs() < side);
    let y = if over {
        side.copysign(block.y)
    } else {
        block.y
    };
    Place {
        x,
        y,
        z: deck.height,
    }
}

impl Cleats {
    /// The place of one of them: to starboard and to port in turn, from the middle outwards; what finds no room is ahead of the others.
    fn place(&self, i: usize) -> Place {
        let (x, half, z) = self.at;
        let room = ((half / APART) as usize).max(1);
        let pair = i / 2;
        let y = APART * (1 + pair % room) as f64;
        Place {
            x: x - 2.0 * APART * (pair / room) as f64,
            y: if i.is_multiple_of(2) { y } else { -y },
            z,
        }
    }
}

/// Cleat from cleat [m].
const APART: f64 = 0.15;

/// Where a deck block stands so far off the centreline: abaft the boom's end, on the boat, ahead of a mast that is next; over the
/// lifelines, on the pushpit or a horse, but no nearer the boom than half its height; on the coachroof where that is.
fn block(input: &Input, clew: Place, boom: f64, y: f64) -> Place {
    let deck = &input.deck;
    let mut x = deck.ends.1.min(clew.x + ABAFT * boom);
    for other in &input.obstacles {
        if other.mast.x > input.mast.x {
            x = x.min(other.mast.x - AHEAD * other.mast.diameter);
        }
    }
    let rail = deck.lifeline.min(0.5 * (clew.z - deck.height)).max(0.0);
    let at = Place {
        x,
        y,
        z: deck.height + rail,
    };
    on_roof(deck, at)
}

/// A place, raised to the top of the coachroof if it is within that.
pub(crate) fn on_roof(deck: &Deck, at: Place) -> Place {
    match deck.roof {
        Some(roof)
            if deck
                .in_roof(
                    at,
                    Place {
                        z: at.z - 1.0,
                        ..at
                    },
                )
                .is_some() =>
        {
            Place {
                z: at.z.max(roof.top),
                ..at
            }
        }
        _ => at,
    }
}

/// Boom and battens in pairs or triples from the top; an odd one goes with the lowest pair, of four left over two and
/// two. An upper batten whose sheet would lie over the leech under it, at full sail with the deck block in the sail's plane, is left
/// unsheeted. One of a pair is slack then; it is tried amidships.
fn spans(input: &Input, full: &State, gathers: usize, deck: Place, pair: bool) -> Vec<Span> {
    // The yard is not sheeted.
    let all = full.spars.len() - 1;
    let mut frame = Frame::new(&input.mast, 0.0);
    if !pair {
        let (u, w, _) = frame.of(deck);
        let aside = (frame.off / u.hypot(w).max(0.1)).max(-1.0).min(1.0);
        frame = Frame::new(&input.mast, w.atan2(u) - aside.asin());
    }
    let from = |mut left: usize| {
        let mut spans = Vec::new();
        while left > 0 {
            let take = match left {
                3 => 3,
                4 => 2,
                _ => left.min(gathers.max(2).min(3)),
            };
            spans.push(Span::usual(input, (left - 1, take), 1, deck));
            left -= take;
        }
        spans
    };
    // A third of them at most.
    for left in (all - all / 3..=all).rev() {
        let sheet = Sheet {
            spans: from(left),
            deck: vec![deck],
            cleat: deck,
        };
        let clear = sheet.hung(full, &frame).is_some_and(|hanging| {
            let clear = |q: &Place| leech_clearance(input, full, &frame, deck, *q) >= CLEAR;
            hanging.blocks.iter().all(clear)
        });
        if clear {
            return sheet.spans;
        }
    }
    from(all)
}

impl Span {
    /// The usual span over so many batten ends downward from one: its block as far abaft the middle of its ends as
    /// [`BEHIND`] says. It reaches at all, with a twentieth to spare. With all lowered the legs hang side by side: so
    /// short that the block keeps clear of the deck block then.
    pub fn usual(input: &Input, (top, ends): (usize, usize), parts: usize, deck: Place) -> Self {
        let mut span = Self::down_from(top, ends, 0.5, parts);
        let (Some(full), Some(down)) = (input.states.first(), input.states.last()) else {
            return span;
        };
        let frame = Frame::new(&input.mast, 0.0);
        let (mut gap, mut drift) = (0.0f64, f64::INFINITY);
        let mut above: Option<Point> = None;
        for end in &span.ends {
            let Knot::Spar(spar) = end.at else { continue };
            let at = full.spars.get(spar).map(|s| s.leech());
            if let (Some(above), Some(at)) = (above, at) {
                gap = gap.max(above.distance(at));
            }
            above = at;
            if let Some(p) = leech(down, &frame, spar) {
                drift = drift.min(distance(p, deck));
            }
        }
        drift -= 1.5 * input.rules.block_to_block;
        let n = span.ends.len();
        let behind = BEHIND[usize::from(n > 2)];
        let (mut legs, mut length, mut least) = (0.0, 0.0, 0.0);
        for (i, end) in span.ends.iter().enumerate() {
            let turns = turns(end.turning);
            let off = (i as f64 - 0.5 * (n as f64 - 1.0)).abs();
            legs += turns;
            length += turns * gap * (off * off + behind * behind).sqrt();
            least += turns * 1.05 * gap * off;
        }
        if n < 2 {
            length = 0.5;
        }
        span.length = length.min(legs * drift).max(least).max(0.05);
        span
    }
}
