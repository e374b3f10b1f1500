//! A sheet hung up: where its span blocks are at a state and a sheeting angle, and how it pulls.

use core::ops::Range;

use crate::findings::{self, Finding};
use crate::loads::{pulled, working};
use crate::net::{Net, Stretch, Tie};
use crate::path::{Named, Path};
use crate::space::{Frame, NOWHERE, distance, dot, less, plus};
use crate::{Account, Input, Knot, Line, Sheet, State};
use geometry::mast::Place;

/// A sheet hung up.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hanging {
    /// Block of each span.
    pub blocks: Vec<Place>,
    /// Pull in each span's rope over that in the sheet; nought while its block is drawn down on the deck block.
    pub pulls: Vec<f64>,
    /// What each span is too short by to reach all its ends [m].
    pub short: Vec<f64>,
    /// Rope from the sail to the cleat, every part [m].
    pub length: f64,
    /// How fast that grows as the sail goes out to starboard [m/rad]: the sheet's lever about the mast.
    pub lever: f64,
}

/// What one spar's end is pulled by [N].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Pull {
    /// The spar.
    pub spar: usize,
    /// The pull on its leech end, ship axes.
    pub force: Place,
    /// Of it down the mast.
    pub down: f64,
    /// Of it along the spar towards the luff.
    pub thrust: f64,
    /// Its moment about the mast, to starboard positive [N m].
    pub moment: f64,
}

impl Hanging {
    /// The pull on each batten end a sheet gathers, with this much in the sheet [N].
    pub(crate) fn ends(
        &self,
        sheet: &Sheet,
        now: &State,
        frame: &Frame,
        tension: f64,
        each: &mut dyn FnMut(Pull),
    ) {
        for ((span, q), pull) in sheet.spans.iter().zip(&self.blocks).zip(&self.pulls) {
            for end in &span.ends {
                if let Knot::Spar(spar) = end.at
                    && let Some(of) = now.spars.get(spar)
                {
                    let p = frame.sail(of.leech());
                    let far = distance(*q, p);
                    let size = if far > 0.0 {
                        tension * pull * turns(end.turning) / far
                    } else {
                        0.0
                    };
                    let force = plus(NOWHERE, size, less(*q, p));
                    let (aft, up) = (dot(force, frame.u), dot(force, frame.v));
                    each(Pull {
                        spar,
                        force,
                        down: -up,
                        thrust: -of.along.x * aft - of.along.y * up,
                        moment: dot(force, frame.turning(p)),
                    });
                }
            }
        }
    }

    /// What the sheet hauls a block to.
    pub(crate) fn end(&self, sheet: &Sheet, to: Knot) -> Option<Place> {
        match to {
            Knot::Deck(i) => sheet.deck.get(i).copied(),
            Knot::Block(i) => self.blocks.get(i).copied(),
            Knot::Spar(_) => None,
        }
    }

    /// Least distance of a span's block from what the sheet hauls it to [m].
    pub(crate) fn nearest(&self, sheet: &Sheet) -> f64 {
        let mut least = f64::INFINITY;
        for (span, q) in sheet.spans.iter().zip(&self.blocks) {
            for fall in &span.falls {
                if let Some(to) = self.end(sheet, fall.to) {
                    least = least.min(distance(*q, to));
                }
            }
        }
        least
    }

    /// Rope along the sheet, every part [m].
    fn rope(&self, sheet: &Sheet) -> Option<f64> {
        let mut rope = distance(*sheet.deck.first()?, sheet.cleat);
        for (span, q) in sheet.spans.iter().zip(&self.blocks) {
            for fall in &span.falls {
                rope += fall.parts as f64 * distance(*q, self.end(sheet, fall.to)?);
            }
        }
        Some(rope)
    }

    /// The sheet's own rope: from each block down, from the first deck block to the cleat.
    fn path(&self, sheet: &Sheet) -> Option<Path> {
        let mut path = Path::default();
        for (j, (span, q)) in sheet.spans.iter().zip(&self.blocks).enumerate() {
            for fall in &span.falls {
                path.to(*q, Named::Block(j), fall.parts);
                let named = match fall.to {
                    Knot::Deck(i) => Named::DeckBlock(i),
                    Knot::Block(i) | Knot::Spar(i) => Named::Block(i),
                };
                path.to(self.end(sheet, fall.to)?, named, 0);
            }
        }
        path.to(*sheet.deck.first()?, Named::DeckBlock(0), 1);
        path.to(sheet.cleat, Named::Cleat, 0);
        Some(path)
    }
}

impl Sheet {
    /// The sheet hung up; None where it is led nowhere.
    pub(crate) fn hung(&self, now: &State, frame: &Frame) -> Option<Hanging> {
        let spans = self.spans.len();
        let mut hanging = Hanging {
            blocks: vec![NOWHERE; spans],
            pulls: vec![0.0; spans],
            short: vec![0.0; spans],
            ..Hanging::default()
        };
        // Spans no rope joins to one another hang each by itself.
        let block = |knot: Knot| matches!(knot, Knot::Block(_));
        let joined = self.spans.iter().any(|span| {
            span.ends.iter().any(|e| block(e.at)) || span.falls.iter().any(|f| block(f.to))
        });
        let group = if joined { spans } else { 1 };
        let mut net = Net {
            blocks: group,
            ..Net::default()
        };
        for first in (0..spans).step_by(group.max(1)) {
            let group = first..first + group;
            hang_group(self, now, frame, group, &mut net, &mut hanging)?;
        }
        hanging.length = hanging.rope(self)?;
        // The sheet's rope is least over the blocks, so only its ends' own motion changes it.
        let mut lever = 0.0;
        hanging.ends(self, now, frame, 1.0, &mut |pull| lever -= pull.moment);
        hanging.lever = lever;
        (hanging.length + hanging.lever)
            .is_finite()
            .then_some(hanging)
    }
}

/// Which way the boom goes out: 1 to starboard.
pub(crate) fn outward(sheeting: f64) -> f64 {
    if sheeting < 0.0 { -1.0 } else { 1.0 }
}

/// Legs of an end.
pub(crate) fn turns(turning: bool) -> f64 {
    if turning { 2.0 } else { 1.0 }
}

pub(crate) fn leech(now: &State, frame: &Frame, spar: usize) -> Option<Place> {
    now.spars.get(spar).map(|s| frame.sail(s.leech()))
}

/// Hangs spans that are joined to no others; the net is filled anew.
fn hang_group(
    sheet: &Sheet,
    now: &State,
    frame: &Frame,
    group: Range<usize>,
    net: &mut Net,
    hanging: &mut Hanging,
) -> Option<()> {
    net.spans.clear();
    net.stretches.clear();
    let first = group.start;
    for (i, span) in sheet.spans.get(group)?.iter().enumerate() {
        net.spans.push(span.length);
        let ends = span.ends.iter().map(|e| (e.at, turns(e.turning), Some(i)));
        let falls = span.falls.iter().map(|f| (f.to, f.parts as f64, None));
        for (to, parts, span) in ends.chain(falls) {
            net.stretches.push(Stretch {
                from: Tie::Block(i),
                to: match to {
                    Knot::Spar(spar) => Tie::Fixed(leech(now, frame, spar)?),
                    Knot::Deck(deck) => Tie::Fixed(*sheet.deck.get(deck)?),
                    Knot::Block(block) => Tie::Block(block),
                },
                parts,
                span,
            });
        }
    }
    if let Some((block, pull, short)) = net.one() {
        (hanging.blocks[first], hanging.pulls[first]) = (block, pull);
        hanging.short[first] = short;
        return Some(());
    }
    hang_joined(net, first, hanging)
}

#[cfg(feature = "joined")]
fn hang_joined(net: &Net, first: usize, hanging: &mut Hanging) -> Option<()> {
    let hung = net.hang()?;
    for i in 0..net.blocks {
        hanging.blocks[first + i] = *hung.blocks.get(i)?;
        hanging.pulls[first + i] = *hung.pulls.get(i)?;
        hanging.short[first + i] = *hung.short.get(i)?;
    }
    Some(())
}

#[cfg(not(feature = "joined"))]
fn hang_joined(_: &Net, _: usize, _: &mut Hanging) -> Option<()> {
    None
}

/// A line laid out, and how taut it is.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Laid {
    /// Which.
    pub line: Line,
    /// Its path, as if it were taut.
    pub path: Path,
    /// Rope there is beyond the path [m], of lifts in all their legs together; nought for a taut one.
    pub slack: f64,
}

/// The sheets at one sheeting angle.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Swept {
    /// Boom to starboard positive [rad].
    pub sheeting: f64,
    /// Sheet by sheet; one that is led nowhere is all nought.
    pub sheets: Vec<SweptSheet>,
    /// What fouls, chafes or does not reach here.
    pub findings: Vec<Finding>,
}

/// A sheet at one sheeting angle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SweptSheet {
    /// Rope from the sail to the cleat, every part [m].
    pub length: f64,
    /// Pull at its tail to haul, in the state's design wind [N]; none while it is slack.
    pub hand: Option<f64>,
    /// Least distance of a span's block from what it is hauled to [m]; infinite if to nothing.
    pub nearest: f64,
}

/// A lever shorter than this holds nothing [m/rad].
pub(crate) const NO_LEVER: f64 = 0.02;

impl Input {
    /// A sheet at a state and a sheeting angle [rad]. None where it is led nowhere.
    pub fn hang(&self, which: usize, state: usize, sheeting: f64) -> Option<Hanging> {
        let now = self.states.get(state)?;
        self.hung(which, now, &Frame::new(&self.mast, sheeting))
    }

    /// All sheets at a sheeting angle [rad].
    pub(crate) fn hung_all(&self, now: &State, sheeting: f64) -> Vec<Option<Hanging>> {
        let frame = Frame::new(&self.mast, sheeting);
        let sheets = 0..self.lines.sheets.len();
        sheets.map(|i| self.hung(i, now, &frame)).collect()
    }

    fn hung(&self, which: usize, now: &State, frame: &Frame) -> Option<Hanging> {
        if !self.led(Line::Sheet(which)) {
            return None;
        }
        self.lines.sheets.get(which)?.hung(now, frame)
    }

    /// Whether a sheet holds the sail at a sheeting angle [rad]: it grows as the sail goes out, and is not the leeward one
    /// of a pair.
    pub(crate) fn holds(&self, which: usize, sheeting: f64, hanging: &Hanging) -> bool {
        outward(sheeting) * hanging.lever > NO_LEVER && !self.leeward(which, sheeting)
    }

    /// Whether a sheet is the leeward one of a pair: another gathers the same ends and its deck block is further to
    /// weather. Amidships there is none.
    pub(crate) fn leeward(&self, which: usize, sheeting: f64) -> bool {
        // What it gathers first, and its deck block.
        let of = |sheet: &Sheet| {
            let end = sheet.spans.first()?.ends.first()?.at;
            Some((end, sheet.deck.first()?.y * outward(sheeting)))
        };
        let sheets = &self.lines.sheets;
        let Some((end, out)) = sheets.get(which).and_then(of) else {
            return false;
        };
        let weather = |other: (Knot, f64)| other.0 == end && other.1 < out;
        sheeting != 0.0 && sheets.iter().filter_map(of).any(weather)
    }

    /// A line laid out at a state and a sheeting angle [rad], point by point. None where it is led nowhere.
    pub fn path(&self, line: Line, state: usize, sheeting: f64) -> Option<Path> {
        let now = self.states.get(state)?;
        let hung = match line {
            Line::Sheet(_) | Line::Span(..) => self.hung_all(now, sheeting),
            _ => Vec::new(),
        };
        self.laid(line, now, &Frame::new(&self.mast, sheeting), &hung, true)
    }

    /// A sheet or one of its spans, hung up, as a path.
    pub(crate) fn hung_path(
        &self,
        line: Line,
        now: &State,
        frame: &Frame,
        hung: &[Option<Hanging>],
    ) -> Option<Path> {
        let (Line::Sheet(i) | Line::Span(i, _)) = line else {
            return None;
        };
        let (sheet, hanging) = (self.lines.sheets.get(i)?, hung.get(i)?.as_ref()?);
        let Line::Span(_, j) = line else {
            return hanging.path(sheet);
        };
        let mut path = Path::default();
        let block = *hanging.blocks.get(j)?;
        for end in &sheet.spans.get(j)?.ends {
            let (at, named) = match end.at {
                Knot::Spar(spar) => (leech(now, frame, spar)?, Named::Leech(spar)),
                Knot::Block(i) => (*hanging.blocks.get(i)?, Named::Block(i)),
                Knot::Deck(_) => return None,
            };
            path.to(at, named, if end.turning { 2 } else { 1 });
            path.to(block, Named::Block(j), 0);
        }
        Some(path)
    }

    /// Every line laid out at any moment, also between two states, each sheet hung once. Full hoist is that of `states`.
    ///
    /// Lifts, parrels and standing lines have a rope of one length, their longest need of all states and angles; the slack is
    /// what is left of it. A sheet that does not hold the sail has what it needs more on the wind or on the other tack.
    /// Amidships every sheet is taken as taut.
    pub fn lay(&self, account: &Account, now: &State, sheeting: f64) -> Vec<Laid> {
        let frame = Frame::new(&self.mast, sheeting);
        let hung = self.hung_all(now, sheeting);
        let holds = |i: usize| {
            let hanging = hung.get(i).and_then(Option::as_ref);
            hanging.is_some_and(|h| self.holds(i, sheeting, h))
        };
        let mut all = Vec::new();
        for known in &account.lines {
            let line = known.line;
            let path = self.laid(line, now, &frame, &hung, true);
            let Some(path) = path.filter(|p| p.length.is_finite()) else {
                continue;
            };
            let rope = match line {
                Line::Sheet(i) if sheeting != 0.0 && !holds(i) => {
                    let need = |angle: f64| {
                        self.hung(i, now, &Frame::new(&self.mast, angle))
                            .map_or(0.0, |h| h.length)
                    };
                    need(-sheeting).max(need(self.close.copysign(sheeting)))
                }
                Line::Span(i, j) => (self.lines.sheets.get(i))
                    .and_then(|s| s.spans.get(j))
                    .map_or(0.0, |s| s.length),
                Line::Sheet(_) | Line::Halyard => 0.0,
                Line::Hauling(_) if known.tail.is_some() => 0.0,
                _ => known.most(),
            };
            // Below the micrometre it is rounding.
            let slack = rope - path.length;
            let slack = if slack > 1e-6 { slack } else { 0.0 };
            all.push(Laid { line, path, slack });
        }
        all
    }

    /// The sheets over any sheeting angles [rad] at one state, on demand. Empty where there is no such state or nothing can be
    /// worked out.
    pub fn sweep(&self, state: usize, angles: &[f64]) -> Vec<Swept> {
        let mut all = Vec::new();
        let Some(now) = self.states.get(state).filter(|_| self.usable()) else {
            return all;
        };
        for sheeting in angles.iter().copied().filter(|a| a.is_finite()) {
            let hung = self.hung_all(now, sheeting);
            let work = working(self, now, sheeting, &hung);
            let mut swept = Swept {
                sheeting,
                sheets: Vec::new(),
                findings: Vec::new(),
            };
            for (i, (sheet, hanging)) in self.lines.sheets.iter().zip(&hung).enumerate() {
                let mut one = SweptSheet::default();
                if let Some(hanging) = hanging {
                    let tension = work.tension.filter(|_| self.holds(i, sheeting, hanging));
                    one = SweptSheet {
                        length: hanging.length,
                        hand: tension.map(|t| pulled(self, sheet, t)),
                        nearest: hanging.nearest(sheet),
                    };
                    let at = (state, sheeting);
                    findings::of_sheet(self, at, i, sheet, hanging, &mut swept.findings);
                }
                swept.sheets.push(one);
            }
            all.push(swept);
        }
        all
    }
}
