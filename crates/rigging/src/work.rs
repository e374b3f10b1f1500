//! The order of work.

use crate::account::{Account, Effort, Length, LineAccount, Loads};
use crate::loads::{loads, parts};
use crate::path::beside;
use crate::ropes::Rope;
use crate::sheet::Hanging;
use crate::space::on;
use crate::tackle::hauled;
use crate::{Fault, Hauls, Input, Line, findings};
use geometry::parrel::yard_parrel_length;

/// A state's sheets at one angle.
pub(crate) type Hung = (f64, Vec<Option<Hanging>>);

/// Works out everything about the lines of a sail. Pure and total: what cannot be is named among the faults, and the
/// rest is worked out without it.
pub fn account(input: &Input) -> Account {
    let faults = input.faults();
    let angles = [
        0.0,
        input.close,
        -input.close,
        -input.squared,
        input.squared,
    ];
    let mut account = Account {
        angles,
        faults,
        ..Account::default()
    };
    if matches!(account.faults.first(), Some(Fault::States | Fault::Number)) {
        return account;
    }
    account.lines = (input.all().into_iter())
        .filter(|line| input.led(*line))
        .map(|line| LineAccount::new(input, line))
        .collect();
    for (i, state) in input.states.iter().enumerate() {
        let mut hung: Vec<Hung> = Vec::new();
        for angle in angles {
            let sheets = 0..input.lines.sheets.len();
            hung.push((angle, sheets.map(|s| input.hang(s, i, angle)).collect()));
        }
        let carried = loads(input, state, &hung[1..]);
        findings::of(input, i, &hung, &mut account.findings);
        for line in &mut account.lines {
            line.lengths.push(length(input, line.line, i, &hung));
            line.load = line.load.max(span_load(line.line, &carried, &hung[1..]));
        }
        account.loads.push(carried);
    }
    for line in &mut account.lines {
        line.finish(input, &account.loads);
    }
    account.effort = effort(input, &account);
    account
}

/// Length of a line at a state over the account's angles.
fn length(input: &Input, line: Line, state: usize, hung: &[Hung]) -> Length {
    let mut found: Option<Length> = None;
    for (i, (angle, sheets)) in hung.iter().enumerate() {
        let length = match line {
            Line::Sheet(which) => match sheets.get(which) {
                Some(Some(hanging)) => hanging.length,
                _ => continue,
            },
            Line::Span(which, span) => {
                let span = (input.lines.sheets.get(which)).and_then(|s| s.spans.get(span));
                span.map_or(0.0, |s| s.length)
            }
            // Nothing of it goes down to the deck.
            Line::Parrel(_) if i > 0 => break,
            _ => input.laid(line, state, *angle).map_or(0.0, |p| p.length),
        };
        let known = found.get_or_insert(Length {
            now: length,
            least: length,
            most: length,
        });
        known.least = known.least.min(length);
        known.most = known.most.max(length);
    }
    let mut found = found.unwrap_or_default();
    if let Line::Parrel(spar) = line {
        found.most = found.most.max(travelled(input, spar, state).unwrap_or(0.0));
    }
    found
}

/// Taut length of a batten parrel at the ends of the travel wanted, at full hoist [m].
fn travelled(input: &Input, spar: usize, state: usize) -> Option<f64> {
    let parrels = input.lines.parrels?;
    let now = input.states.first().filter(|_| state == 0)?;
    let spar = now.spars.get(spar)?;
    let (radius, off) = beside(input, on(spar, 0.0).y);
    let half = 0.5 * parrels.travel.abs();
    let slid = |by: f64| {
        yard_parrel_length(
            parrels.ahead + by,
            parrels.abaft - by,
            off,
            radius,
            spar.angle,
        )
    };
    Some(slid(half).max(slid(-half)))
}

impl LineAccount {
    fn new(input: &Input, line: Line) -> Self {
        let lines = &input.lines;
        let mut new = Self {
            line,
            parts: 1,
            lengths: Vec::new(),
            movement: Vec::new(),
            buy: 0.0,
            load: 0.0,
            factor: input.rules.factors[1],
            rope: None,
            sheaves: 0,
            blocks: 0,
            fastenings: 2,
            tail: None,
        };
        match line {
            Line::Halyard => {
                if let Some(halyard) = &lines.halyard {
                    new.parts = halyard.parts;
                    new.tail = Some(halyard.cleat);
                    // Parts at the moving block and the lead at the deck.
                    new.sheaves = halyard.parts + 1;
                    new.blocks = if halyard.parts > 1 { 3 } else { 2 };
                }
                new.factor = input.rules.factors[2];
            }
            Line::Sheet(i) => {
                if let Some(sheet) = lines.sheets.get(i) {
                    new.parts = parts(sheet);
                    new.sheaves = new.parts;
                    new.blocks = sheet.spans.len() + sheet.deck.len();
                    new.tail = Some(sheet.cleat);
                }
                new.factor = input.rules.factors[0];
            }
            Line::Span(i, j) => {
                if let Some(span) = lines.sheets.get(i).and_then(|s| s.spans.get(j)) {
                    let turning = span.ends.iter().filter(|e| e.turning).count();
                    new.sheaves = turning;
                    new.blocks = turning;
                    new.fastenings = span.ends.len() - turning;
                }
                new.factor = input.rules.factors[0];
            }
            Line::Lifts => {
                if let Some(lifts) = &lines.lifts {
                    new.fastenings = 2 * lifts.catches.len();
                    new.blocks = if lifts.cleat.is_some() { 2 } else { 0 };
                    new.sheaves = new.blocks;
                    new.tail = lifts.cleat;
                }
            }
            Line::Parrel(_) => {}
            Line::Hauling(i) => {
                if let Some(hauling) = lines.hauling.get(i) {
                    new.tail = hauling.leads.last().copied();
                    let leads = hauling.leads.len();
                    if leads > 0 {
                        new.blocks = hauling.holds.len() + leads - 2;
                        new.factor = input.rules.factors[0];
                    }
                    new.sheaves = new.blocks;
                }
            }
        }
        new
    }

    /// What follows from all states together.
    fn finish(&mut self, input: &Input, loads: &[Loads]) {
        let most = self.lengths.iter().map(|l| l.most).fold(0.0, f64::max);
        let (rules, tails, ropes) = (&input.rules, &input.tails, &input.ropes);
        self.movement = (self.lengths.windows(2))
            .map(|two| two[1].now - two[0].now)
            .collect();
        let running = self.tail.is_some();
        let most_of = |of: &dyn Fn(&Loads) -> f64| loads.iter().map(of).fold(0.0, f64::max);
        let pulled = if running { rules.hand.max(0.0) } else { 0.0 };
        let (rope, tail, load): (Rope, f64, f64) = match self.line {
            Line::Halyard => {
                let part = |l: &Loads| (l.sling / self.parts as f64).max(l.hoist);
                (ropes.halyard, tails.halyard, most_of(&part))
            }
            Line::Sheet(_) => (
                ropes.sheet,
                tails.sheet,
                most_of(&|l| l.working.iter().map(|w| w.hand).fold(0.0, f64::max)),
            ),
            Line::Span(..) => (ropes.sheet, 2.0 * tails.fixed, self.load),
            Line::Lifts => {
                self.movement.clear();
                let legs = input.lines.lifts.as_ref().map_or(0, |l| l.catches.len());
                (
                    ropes.lifts,
                    2.0 * legs as f64 * tails.fixed,
                    most_of(&|l| l.lift),
                )
            }
            Line::Parrel(i) => {
                self.movement.clear();
                (
                    ropes.parrels,
                    2.0 * tails.fixed,
                    most_of(&|l| parrel_load(input, i, l)),
                )
            }
            Line::Hauling(i) => {
                let hauls = input.lines.hauling.get(i).map(|h| h.hauls);
                let draws = matches!(hauls, Some(Hauls::Yard | Hauls::Luff | Hauls::Throat));
                (
                    ropes.parrels,
                    if running {
                        tails.hauling
                    } else {
                        2.0 * tails.fixed
                    },
                    most_of(&|l| if draws { l.parrel.max(pulled) } else { pulled }),
                )
            }
        };
        self.buy = most + tail.max(0.0);
        self.load = load;
        let least = if running && self.line != Line::Lifts {
            rules.hand_rope
        } else {
            0.0
        };
        self.rope = rope.choose(load, self.factor, rules.knot.max(0.01), least);
    }
}

/// The most a span's rope carries at a state; of a sheet that is slack to leeward too, on the safe side.
fn span_load(line: Line, loads: &Loads, hung: &[Hung]) -> f64 {
    let mut most = 0.0f64;
    for (work, (_, sheets)) in loads.working.iter().zip(hung) {
        if let Line::Span(i, j) = line
            && let Some(Some(hanging)) = sheets.get(i)
            && let (Some(pull), Some(tension)) = (hanging.pulls.get(j), work.tension)
        {
            most = most.max(pull * tension);
        }
    }
    most
}

/// Two parts of a parrel hold an even share of what the sail hangs off the mast with.
fn parrel_load(input: &Input, spar: usize, loads: &Loads) -> f64 {
    let spars = input.spars();
    if spar >= spars {
        return 0.0;
    }
    let force = loads.working.iter().map(|w| w.mast).fold(0.0, f64::max);
    0.5 * force / spars as f64
}

/// Rope times pull at the tail from each state to the next.
fn effort(input: &Input, account: &Account) -> Vec<Effort> {
    let mut efforts = Vec::new();
    for (i, loads) in account.loads.iter().enumerate().skip(1) {
        let before = &account.loads[i - 1];
        let mut effort = Effort::default();
        for line in &account.lines {
            let moved = line.movement.get(i - 1).copied().unwrap_or(0.0);
            match line.line {
                // What stands in the state above is lifted.
                Line::Halyard => effort.shaking += moved.max(0.0) * before.hoist,
                Line::Hauling(_) => {
                    let pull = hauled(loads.parrel, 1, line.blocks, input.rules.sheave_loss);
                    effort.reefing += (-moved).max(0.0) * pull;
                    effort.shaking += moved.max(0.0) * pull;
                }
                // The sheet is slack while a reef goes in; its weight is nothing.
                _ => {}
            }
        }
        efforts.push(effort);
    }
    efforts
}
