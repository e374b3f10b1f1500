//! A sheet hung up: where its span blocks are at a state and a sheeting angle, and how it pulls.

use crate::net::{Net, Stretch, Tie};
use crate::path::{Named, Path};
use crate::space::{Frame, NOWHERE, distance, dot, less, plus};
use crate::{Input, Knot, Line, Sheet, Span, State};
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

/// What one spar's end is pulled by, for each newton in the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Pull {
    /// The spar.
    pub spar: usize,
    /// The pull on it, ship axes.
    pub force: Place,
}

impl Hanging {
    fn empty(spans: usize) -> Self {
        Self {
            blocks: vec![NOWHERE; spans],
            pulls: vec![0.0; spans],
            short: vec![0.0; spans],
            ..Self::default()
        }
    }

    /// The pull on each batten end a sheet gathers.
    pub(crate) fn ends(&self, sheet: &Sheet, now: &State, frame: &Frame) -> Vec<Pull> {
        let mut ends = Vec::new();
        for ((span, q), pull) in sheet.spans.iter().zip(&self.blocks).zip(&self.pulls) {
            for end in &span.ends {
                if let Knot::Spar(spar) = end.at
                    && let Some(p) = leech(now, frame, spar)
                {
                    let far = distance(*q, p);
                    let force = if far > 0.0 {
                        pull * turns(end.turning) / far
                    } else {
                        0.0
                    };
                    ends.push(Pull {
                        spar,
                        force: plus(NOWHERE, force, less(*q, p)),
                    });
                }
            }
        }
        ends
    }
}

/// Legs of an end.
fn turns(turning: bool) -> f64 {
    if turning { 2.0 } else { 1.0 }
}

pub(crate) fn leech(now: &State, frame: &Frame, spar: usize) -> Option<Place> {
    now.spars.get(spar).map(|s| frame.sail(s.leech()))
}

/// Whether a span is joined to no other by rope.
fn alone(sheet: &Sheet, which: usize) -> bool {
    let block = |knot: Knot| matches!(knot, Knot::Block(_));
    let joined = |span: &Span| {
        span.ends.iter().any(|e| e.at == Knot::Block(which))
            || span.falls.iter().any(|f| f.to == Knot::Block(which))
    };
    !sheet.spans.iter().any(joined)
        && sheet.spans.get(which).is_some_and(|span| {
            !span.ends.iter().any(|e| block(e.at)) && !span.falls.iter().any(|f| block(f.to))
        })
}

/// Hangs spans whose blocks are joined to one another and to no others.
fn hang_group(
    sheet: &Sheet,
    now: &State,
    frame: &Frame,
    group: &[usize],
    hanging: &mut Hanging,
) -> Option<()> {
    let mut net = Net {
        blocks: group.len(),
        ..Net::default()
    };
    for (i, j) in group.iter().enumerate() {
        let span = sheet.spans.get(*j)?;
        net.spans.push(span.length);
        let mut add = |to: Knot, parts: f64, of: Option<usize>| {
            let to = match to {
                Knot::Spar(spar) => Tie::Fixed(leech(now, frame, spar)?),
                Knot::Deck(deck) => Tie::Fixed(*sheet.deck.get(deck)?),
                Knot::Block(block) => Tie::Block(group.iter().position(|g| *g == block)?),
            };
            net.stretches.push(Stretch {
                from: Tie::Block(i),
                to,
                parts,
                span: of,
            });
            Some(())
        };
        for end in &span.ends {
            add(end.at, turns(end.turning), Some(i))?;
        }
        for fall in &span.falls {
            add(fall.to, fall.parts as f64, None)?;
        }
    }
    if let ([j], Some(quick)) = (group, net.quick()) {
        (hanging.blocks[*j], hanging.pulls[*j]) = quick;
        return Some(());
    }
    let hung = net.hang()?;
    for (i, j) in group.iter().enumerate() {
        hanging.blocks[*j] = *hung.blocks.get(i)?;
        hanging.pulls[*j] = *hung.pulls.get(i)?;
        hanging.short[*j] = *hung.short.get(i)?;
    }
    Some(())
}

impl Input {
    /// A sheet at a state and a sheeting angle [rad]. None where it is led nowhere.
    pub fn hang(&self, which: usize, state: usize, sheeting: f64) -> Option<Hanging> {
        if !self.led(Line::Sheet(which)) || !sheeting.is_finite() {
            return None;
        }
        let sheet = self.lines.sheets.get(which)?;
        let now = self.states.get(state)?;
        let frame = Frame::new(&self.mast, sheeting);
        let mut hanging = Hanging::empty(sheet.spans.len());
        let mut joined = Vec::new();
        for j in 0..sheet.spans.len() {
            if alone(sheet, j) {
                hang_group(sheet, now, &frame, &[j], &mut hanging)?;
            } else {
                joined.push(j);
            }
        }
        if !joined.is_empty() {
            hang_group(sheet, now, &frame, &joined, &mut hanging)?;
        }
        hanging.length = self.sheet_path(sheet, &hanging)?.length;
        // The sheet's rope is least over the blocks, so only its ends' own motion changes it.
        for pull in hanging.ends(sheet, now, &frame) {
            if let Some(p) = leech(now, &frame, pull.spar) {
                hanging.lever -= dot(pull.force, frame.turning(p));
            }
        }
        (hanging.length + hanging.lever)
            .is_finite()
            .then_some(hanging)
    }

    /// The sheet's own rope: from each block down, from the first deck block to the cleat.
    fn sheet_path(&self, sheet: &Sheet, hanging: &Hanging) -> Option<Path> {
        let mut path = Path::default();
        for (j, span) in sheet.spans.iter().enumerate() {
            for fall in &span.falls {
                path.to(*hanging.blocks.get(j)?, Named::Block(j), fall.parts);
                let (at, named) = match fall.to {
                    Knot::Deck(i) => (*sheet.deck.get(i)?, Named::DeckBlock(i)),
                    Knot::Block(i) => (*hanging.blocks.get(i)?, Named::Block(i)),
                    Knot::Spar(_) => return None,
                };
                path.to(at, named, 0);
            }
        }
        path.to(*sheet.deck.first()?, Named::DeckBlock(0), 1);
        path.to(sheet.cleat, Named::Cleat, 0);
        Some(path)
    }

    /// A line laid out at a state and a sheeting angle [rad], point by point. None where it is led nowhere.
    pub fn path(&self, line: Line, state: usize, sheeting: f64) -> Option<Path> {
        let (Line::Sheet(i) | Line::Span(i, _)) = line else {
            return self.laid(line, state, sheeting);
        };
        let hanging = self.hang(i, state, sheeting)?;
        let sheet = self.lines.sheets.get(i)?;
        let Line::Span(_, j) = line else {
            return self.sheet_path(sheet, &hanging);
        };
        let (now, frame) = (self.states.get(state)?, Frame::new(&self.mast, sheeting));
        let mut path = Path::default();
        let block = *hanging.blocks.get(j)?;
        for end in &sheet.spans.get(j)?.ends {
            let (at, named) = match end.at {
                Knot::Spar(spar) => (leech(now, &frame, spar)?, Named::Leech(spar)),
                Knot::Block(i) => (*hanging.blocks.get(i)?, Named::Block(i)),
                Knot::Deck(_) => return None,
            };
            path.to(at, named, if end.turning { 2 } else { 1 });
            path.to(block, Named::Block(j), 0);
        }
        Some(path)
    }
}
