//! The order of work.

use crate::account::{Account, Effort, Held, Length, LineAccount, Loads};
use crate::loads::{Jerk, jerk, loads, lying, parts};
use crate::path::{beside, grip};
use crate::sheet::Hanging;
use crate::space::{Frame, distance, on};
use crate::{GYBE_FACTOR, Hauling, Hauls, Input, Line, Span, State, findings};
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
    if !input.usable() {
        return account;
    }
    for line in input.all() {
        if input.led(line) {
            account.lines.push(LineAccount::new(input, line));
        }
    }
    let mut jerks = Vec::new();
    for (i, state) in input.states.iter().enumerate() {
        let mut hung: Vec<Hung> = Vec::new();
        for angle in angles {
            hung.push((angle, input.hung_all(state, angle)));
        }
        let carried = loads(input, state, &hung[1..]);
        findings::of(input, i, &hung, &mut account.findings);
        for line in &mut account.lines {
            line.lengths.push(length(input, line.line, state, &hung));
            let load = line.carries(input, state, &carried, &hung[1..]);
            line.load = line.load.max(load);
        }
        if let Some(jerk) = jerk(input, &carried.working, &hung, state) {
            jerks.push((i, jerk, hung.pop().map_or_else(Vec::new, |hung| hung.1)));
        }
        account.loads.push(carried);
    }
    for line in &mut account.lines {
        line.finish(input);
    }
    gybes(input, &jerks, &mut account);
    account.effort = effort(input, &account);
    account
}

/// Length of a line at a state over the account's angles.
fn length(input: &Input, line: Line, now: &State, hung: &[Hung]) -> Length {
    let mut found = Length::default();
    for (i, (angle, sheets)) in hung.iter().enumerate() {
        let length = match (line, line.sheet()) {
            // Blocks move along it; its rope is one length.
            (Line::Span(..), Some((which, span))) => {
                let sheet = input.lines.sheets.get(which);
                sheet
                    .and_then(|s| s.spans.get(span))
                    .map_or(0.0, |s| s.length)
            }
            (_, Some((which, _))) => match sheets.get(which) {
                Some(Some(hanging)) => hanging.length,
                _ => continue,
            },
            _ if i == 0 => {
                let frame = Frame::new(&input.mast, *angle);
                let path = input.laid(line, now, &frame, sheets, false);
                path.map_or(0.0, |p| p.length)
            }
            // As the sail turns only what leads from it to the deck away from the mast changes.
            (Line::Hauling(line), _) => match input.lines.hauling.get(line) {
                Some(hauling) if !hauling.leads.is_empty() => {
                    let run = |angle| run(input, hauling, now, angle).unwrap_or(0.0);
                    found.now + run(*angle) - run(hung[0].0)
                }
                _ => break,
            },
            _ => break,
        };
        if i == 0 {
            (found.now, found.least) = (length, length);
        }
        found.least = found.least.min(length);
        found.most = found.most.max(length);
    }
    if let Line::Parrel(spar) = line {
        found.most = found.most.max(travelled(input, spar, now).unwrap_or(0.0));
    }
    found
}

/// From the last hold of a hauling line to its lead at a sheeting angle [m].
fn run(input: &Input, hauling: &Hauling, now: &State, angle: f64) -> Option<f64> {
    let hold = hauling.holds.last()?;
    let p = on(now.spars.get(hold.spar)?, hold.share);
    Some(distance(
        Frame::new(&input.mast, angle).sail(p),
        *hauling.leads.first()?,
    ))
}

/// Taut length of a batten parrel at the ends of the travel wanted, at full hoist [m].
fn travelled(input: &Input, spar: usize, now: &State) -> Option<f64> {
    let parrels = input.lines.parrels.filter(|_| !now.on_lifts)?;
    let spar = now.spars.get(spar)?;
    let (radius, off) = beside(input, on(spar, 0.0).y);
    let half = 0.5 * parrels.travel.abs();
    let mut most = 0.0f64;
    for by in [half, -half] {
        let (ahead, abaft) = (parrels.ahead + by, parrels.abaft - by);
        most = most.max(yard_parrel_length(ahead, abaft, off, radius, spar.angle));
    }
    Some(most)
}

/// How much more than an even share of the standing panels the worst of them presses with (common practice: panels differ, and
/// battens bend).
const UNEVEN: f64 = 1.5;

/// What a spar that stands hangs off the mast with, of all the sail does: a batten has two half panels, the yard one [N].
fn pressed(input: &Input, now: &State, mast: f64, spar: usize) -> f64 {
    let standing = now.spars.len().saturating_sub(lying(now)).max(1) as f64;
    let halves = if spar + 1 < input.spars() { 1.0 } else { 0.5 };
    UNEVEN * halves * mast / standing
}

/// Batten above which a parrel leads badly [rad] (common practice).
const STEEP: f64 = core::f64::consts::FRAC_PI_6;

/// Pull in a batten parrel [N]: its force over the rope it takes up as the batten stands off. A steep batten stands off as
/// the yard does, till it leads better. None is told where the batten has gone past the mast with both ends: its travel is too
/// short, and that is told.
fn parrel(input: &Input, now: &State, mast: f64, spar: usize) -> f64 {
    match input.parrel_ends(spar, now) {
        Some((fore, after)) if spar >= lying(now) && fore.x < 0.0 && after.x > 0.0 => {
            let steep = now.spars.get(spar).is_some_and(|s| s.angle > STEEP);
            let (radius, _) = beside(input, 0.5 * (fore.y + after.y));
            let off = if steep { radius } else { 0.0 };
            pressed(input, now, mast, spar) / grip(input, fore, after, off).max(0.1)
        }
        _ => 0.0,
    }
}

/// The same in the turn round the mast of a line that holds the yard. A steep spar leads it badly, so the yard stands off, by the mast's
/// radius (common practice), till it leads better.
fn yard_parrel(input: &Input, now: &State, mast: f64, line: &Hauling) -> f64 {
    let at = |i: usize| {
        let hold = line.holds.get(i)?;
        Some(on(now.spars.get(hold.spar)?, hold.share))
    };
    match (at(0), at(1)) {
        (Some(p), Some(q)) if matches!(line.hauls, Hauls::Yard | Hauls::Throat) => {
            let (off, _) = beside(input, 0.5 * (p.y + q.y));
            pressed(input, now, mast, input.spars() - 1) / grip(input, p, q, off).max(0.1)
        }
        _ => 0.0,
    }
}

impl LineAccount {
    /// What a line is, whatever the state; its tails are bought already.
    fn new(input: &Input, line: Line) -> Self {
        let (lines, rules, tails) = (&input.lines, &input.rules, &input.tails);
        // As for what is fast at two ends.
        let mut new = Self {
            line,
            parts: 1,
            lengths: Vec::new(),
            movement: Vec::new(),
            buy: 2.0 * tails.fixed,
            load: 0.0,
            pull: None,
            gybe: 0.0,
            factor: rules.factors[1],
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
                    let edge = input.deck.over(halyard.lead, halyard.cleat);
                    new.blocks += usize::from(edge.is_some());
                }
                new.buy = tails.halyard;
                new.factor = rules.factors[2];
            }
            Line::Sheet(i) => {
                if let Some(sheet) = lines.sheets.get(i) {
                    new.parts = parts(sheet);
                    // It turns wherever it comes by, from its fast end to the cleat; on one part it is fast.
                    new.sheaves = sheet.reeved().len() - 2;
                    let turns = |span: &&Span| span.falls.iter().any(|fall| fall.parts > 1);
                    new.blocks = sheet.spans.iter().filter(turns).count() + sheet.deck.len();
                    new.tail = Some(sheet.cleat);
                }
                new.buy = tails.sheet;
                new.factor = rules.factors[0];
            }
            Line::Span(i, j) => {
                if let Some(span) = lines.sheets.get(i).and_then(|s| s.spans.get(j)) {
                    new.blocks = span.ends.iter().filter(|e| e.turning).count();
                    new.fastenings = span.ends.len() - new.blocks;
                }
                new.sheaves = new.blocks;
                new.factor = rules.factors[0];
            }
            Line::Lifts => {
                if let Some(lifts) = &lines.lifts {
                    new.fastenings = 2 * lifts.catches.len();
                    // On either side one aloft and one at the foot.
                    new.blocks = if lifts.cleat.is_some() { 4 } else { 0 };
                    new.tail = lifts.cleat;
                }
                new.sheaves = new.blocks;
                new.buy = new.fastenings as f64 * tails.fixed;
            }
            Line::Parrel(_) => {}
            Line::Hauling(i) => {
                if let Some(hauling) = lines.hauling.get(i) {
                    new.tail = hauling.cleat();
                    // Fast at its first hold and at its end; what is between turns it.
                    let points = hauling.holds.len() + hauling.leads.len();
                    new.blocks = points.saturating_sub(2);
                    for two in hauling.leads.windows(2) {
                        let edge = input.deck.over(two[0], two[1]);
                        new.blocks += usize::from(edge.is_some());
                    }
                }
                new.sheaves = new.blocks;
                if new.tail.is_some() {
                    new.buy = tails.hauling;
                    new.factor = rules.factors[0];
                }
            }
        }
        new.buy = new.buy.max(0.0);
        new
    }

    /// What it carries at a state.
    fn carries(&self, input: &Input, now: &State, loads: &Loads, hung: &[Hung]) -> f64 {
        let (mut most, mut mast) = (0.0f64, 0.0f64);
        for (work, (_, sheets)) in loads.working.iter().zip(hung) {
            mast = mast.max(loads.times * work.mast);
            let pull = match self.line {
                Line::Sheet(_) => work.hand,
                // Of a sheet that is slack to leeward too, on the safe side.
                Line::Span(i, j) => match (sheets.get(i), work.tension) {
                    (Some(Some(hanging)), Some(tension)) => {
                        hanging.pulls.get(j).map_or(0.0, |pull| pull * tension)
                    }
                    _ => 0.0,
                },
                _ => 0.0,
            };
            most = most.max(loads.times * pull);
        }
        match self.line {
            Line::Halyard => {
                let sling = loads.standing + loads.blocks + loads.times * loads.sheet_down;
                (sling / self.parts as f64).max(loads.hoist)
            }
            Line::Lifts if self.tail.is_some() => loads.lift_fall,
            Line::Lifts => loads.lift,
            Line::Hauling(i) => {
                let keeps = if loads.keeps == Some(i) {
                    loads.hauling.get(i).map_or(0.0, Held::most)
                } else {
                    0.0
                };
                let yard = match input.lines.hauling.get(i) {
                    Some(line) => yard_parrel(input, now, mast, line),
                    None => 0.0,
                };
                yard.max(keeps)
            }
            Line::Parrel(spar) => parrel(input, now, mast, spar),
            _ => most,
        }
    }

    /// Its longest need over all states and angles [m].
    pub(crate) fn most(&self) -> f64 {
        self.lengths.iter().fold(0.0, |most, l| l.most.max(most))
    }

    /// What follows from all states together.
    fn finish(&mut self, input: &Input) {
        self.buy += self.most();
        // All legs of a side of the lifts hang on one fall.
        let lifts = self.line == Line::Lifts;
        let falls = if lifts { self.fastenings as f64 } else { 1.0 };
        if self.tail.is_some() {
            for two in self.lengths.windows(2) {
                self.movement.push((two[1].now - two[0].now) / falls);
            }
        }
        let (rules, ropes) = (&input.rules, &input.ropes);
        let rope = match self.line {
            Line::Halyard => ropes.halyard,
            Line::Sheet(_) | Line::Span(..) => ropes.sheet,
            Line::Lifts => ropes.lifts,
            Line::Parrel(_) | Line::Hauling(_) => ropes.parrels,
        };
        self.pull = (self.load > 0.0).then_some(self.load);
        if matches!(self.line, Line::Hauling(_)) {
            // At least what a hand gives it, standing ones too: what else they bear is not worked out.
            self.load = self.load.max(input.rules.hand);
        }
        let by_hand = self.tail.is_some() && !lifts;
        let least = if by_hand { rules.hand_rope } else { 0.0 };
        self.rope = rope.choose(self.load, self.factor, rules.knot.max(0.01), least);
    }
}

/// What a gybe does to sheets and spans. The stiffest sheet's rope gives least; spans are sized for what comes of it.
fn gybes(input: &Input, jerks: &[(usize, Jerk, Vec<Option<Hanging>>)], account: &mut Account) {
    let rope = input.ropes.sheet;
    let least = rope.choose(0.0, 1.0, 1.0, input.rules.hand_rope);
    let mut strength = least.map_or(0.0, |row| row.strength);
    for line in &account.lines {
        if let (Line::Sheet(_), Some(row)) = (line.line, line.rope) {
            strength = strength.max(row.strength);
        }
    }
    for (state, jerk, sheets) in jerks {
        let (pull, blow) = jerk.pull(input, strength);
        if let Some(loads) = account.loads.get_mut(*state) {
            loads.gybe = Some(pull);
            loads.blow = Some(blow);
        }
        for line in &mut account.lines {
            let share = match line.line {
                Line::Sheet(_) => 1.0,
                Line::Span(i, j) => match sheets.get(i) {
                    Some(Some(hanging)) => hanging.pulls.get(j).copied().unwrap_or(0.0),
                    _ => 0.0,
                },
                _ => 0.0,
            };
            line.gybe = line.gybe.max(share * pull);
        }
    }
    for line in &mut account.lines {
        if let Line::Span(..) = line.line {
            let load = (line.load * line.factor).max(line.gybe * GYBE_FACTOR);
            line.rope = rope.choose(load, 1.0, input.rules.knot.max(0.01), 0.0);
        }
    }
}

/// Rope times pull at the tail, panel by panel.
fn effort(input: &Input, account: &Account) -> Vec<Effort> {
    let mut efforts: Vec<Effort> = Vec::new();
    for (i, loads) in account.loads.iter().enumerate().skip(1) {
        let before = &account.loads[i - 1];
        let mut effort = Effort::default();
        for line in &account.lines {
            let moved = line.movement.get(i - 1).copied().unwrap_or(0.0);
            match line.line {
                // What stands in the state above is lifted.
                Line::Halyard => effort.shaking += moved.max(0.0) * before.hoist,
                Line::Hauling(i) => {
                    let haul = |i: usize| loads.hauling.get(i).and_then(|held| held.haul);
                    // What does not hold the swing is hauled taut.
                    let keeps = loads.keeps == Some(i);
                    let pull = if keeps { haul(i).unwrap_or(0.0) } else { 0.0 };
                    effort.reefing += (-moved).max(0.0) * pull;
                    effort.shaking += moved.max(0.0) * pull;
                }
                // The sheet is slack while a reef goes in; its weight is nothing.
                _ => {}
            }
        }
        // What the boom does before it lies on its lifts belongs to the first panel.
        if i == 2
            && input.states.get(1).is_some_and(|s| s.lowered == 0)
            && let Some(first) = efforts.pop()
        {
            effort.reefing += first.reefing;
            effort.shaking += first.shaking;
        }
        efforts.push(effort);
    }
    efforts
}
