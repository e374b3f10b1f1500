//! Section Lines: every rope, what it carries, the drill, and the papers to buy and belay by.

use design::Strength;
use quantities::listed::{Listed as _, joined};
use quantities::quantity as q;
use quantities::{Quantity, Text, units};
use rigging::{
    Account, Does, Finding, Hauls, Input, Knot, Line, LineAccount, Loads, Named, Rope, Sheet,
    State, Stop, System, What, Working,
};

use crate::bench::Bench;
use crate::rows::{Column, Detail, Figure, LineInHand, Lines, Paper, ReefRow, ReefTable};

/// Where the words of its groups stand in the list.
const GROUPS: [&str; 5] = [
    "line.halyard",
    "line.sheets",
    "line.lifts",
    "line.parrels",
    "line.hauling",
];

/// A column: its own words, with the quantity its numbers are of; without words those of the quantity.
pub(crate) type Head = (&'static str, Option<&'static Quantity>);

const LINE: Head = ("line.line", None);
const BUY: Head = ("", Some(&q::LINE_BUY));
const LENGTH: Head = ("", Some(&q::LINE_LENGTH));
const PULL: Head = ("", Some(&q::LINE_PULL));
const HAND: Head = ("", Some(&q::HAND_PULL));

const LIST: [Head; 2] = [("line.next", Some(&q::LINE_MOVEMENT)), BUY];
const LENGTHS: [Head; 5] = [
    ("", Some(&q::PANELS_LOWERED)),
    LENGTH,
    ("line.least", Some(&q::LINE_LENGTH)),
    ("line.most", Some(&q::LINE_LENGTH)),
    ("", Some(&q::LINE_MOVEMENT)),
];
const LOADS: [Head; 8] = [
    ("line.carried", Some(&q::COMES_DOWN)),
    ("line.wind", Some(&q::LINE_PULL)),
    ("line.down_luffing", Some(&q::COMES_DOWN)),
    ("line.down_sheeted", Some(&q::COMES_DOWN)),
    HAND,
    ("line.hoist", Some(&q::HAND_PULL)),
    ("line.tension", Some(&q::LINE_PULL)),
    ("line.sling", Some(&q::LINE_PULL)),
];
const GYBE: Head = ("line.gybe_pull", Some(&q::LINE_PULL));
const GYBE_TIMES: Head = ("line.gybe_times", None);
const CORDAGE: [Head; 8] = [
    LINE,
    BUY,
    ROPE,
    PULL,
    GYBE,
    GYBE_TIMES,
    ("line.factor", None),
    ("line.strength", Some(&q::LINE_PULL)),
];
const ROPE: Head = ("", Some(&q::ROPE_DIAMETER));
const BLOCKS: [Head; 5] = [
    LINE,
    ("", Some(&q::LINE_PARTS)),
    ("line.blocks", None),
    ("line.sheaves", None),
    ("line.fastenings", None),
];
const TO_BUY: [Head; 4] = [
    ("line.block", None),
    ("line.pieces", None),
    ROPE,
    ("line.block_load", Some(&q::LINE_PULL)),
];
const BELAY: [Head; 5] = [
    LINE,
    ("", Some(&q::CLEAT_X)),
    ("", Some(&q::CLEAT_Y)),
    ("", Some(&q::CLEAT_Z)),
    ("line.tail", Some(&q::LINE_BUY)),
];

/// The lines of a sail, and what its sheets were chosen to be.
#[derive(Clone, Copy)]
pub(crate) struct Rigged<'a> {
    pub input: &'a Input,
    pub account: &'a Account,
    system: Option<System>,
    strength: Strength,
}

impl Rigged<'_> {
    /// Number of the yard.
    fn yard(self) -> usize {
        self.input.weights.spars.len().saturating_sub(1)
    }
}

impl Bench {
    /// Everything the section shows of the mast being worked on.
    pub fn lines(&self) -> Lines {
        let mast = self.view.mast;
        let mut shown = Lines {
            angles: Vec::new(),
            lowered: self.lowered(mast) as u32,
            panels: 0,
            list: Detail {
                columns: self.heads(&LIST),
                rows: Vec::new(),
            },
            loads: ReefTable {
                columns: self.heads(&LOADS),
                rows: Vec::new(),
            },
        };
        let Some(of) = self.lines_of(mast) else {
            return shown;
        };
        shown.angles = vec![of.input.close.to_degrees(), of.input.squared.to_degrees()];
        for known in &of.account.lines {
            shown.list.rows.push(self.list_row(of, known));
        }
        for (row, loads) in of.input.states.iter().zip(&of.account.loads) {
            shown.panels = shown.panels.max(row.lowered as u32);
            if row.lowered > 0 || !row.on_lifts {
                shown.loads.rows.push(self.loads_row(row, loads));
            }
        }
        shown
    }

    /// The line in hand: its path, all that is known of it, its length at every state.
    pub fn line_in_hand(&self) -> Option<LineInHand> {
        let mast = self.view.mast;
        let (line, of) = (self.view.line?, self.lines_of(mast)?);
        let known = of.account.lines.iter().find(|known| known.line == line)?;
        Some(LineInHand {
            id: line_key(line),
            name: self.line_name(of, line),
            path: self.path_rows(of, line),
            rove: self.rove(of, line),
            facts: self.facts(of, known),
            lengths: Detail {
                columns: self.heads(&LENGTHS),
                rows: self.length_rows(of, known),
            },
        })
    }

    /// All that is carried with so many panels lowered: label and words.
    pub fn line_loads(&self, lowered: usize) -> Detail {
        let mut rows = Vec::new();
        if let Some(of) = self.lines_of(self.view.mast)
            && let Some(state) = state_at(of, lowered)
            && let Some(loads) = of.account.loads.get(state)
        {
            self.all_loads(of, state, loads, &mut |key: &str, words| {
                rows.push(vec![self.word(key), words, self.help_of(key)]);
            });
            rows.append(&mut self.end_rows(of, loads));
        }
        Detail {
            columns: Vec::new(),
            rows,
        }
    }

    /// The steps from so many panels lowered to as many: line, its name, what is done, how much.
    pub fn drill(&self, from: usize, to: usize) -> Vec<Vec<String>> {
        self.drill_of(self.view.mast, from, to)
    }

    /// The same of any mast.
    pub(crate) fn drill_of(&self, mast: usize, from: usize, to: usize) -> Vec<Vec<String>> {
        self.lines_of(mast)
            .map_or_else(Vec::new, |of| self.steps(of, from, to))
    }

    /// The sheets from squared off to port to squared off to starboard, at the state that holds now, and what
    /// is found of them there.
    pub fn sweep(&self) -> Detail {
        let mast = self.view.mast;
        let mut detail = Detail {
            columns: Vec::new(),
            rows: Vec::new(),
        };
        let Some(of) = self.lines_of(mast) else {
            return detail;
        };
        let Some(state) = state_at(of, self.lowered(mast)) else {
            return detail;
        };
        detail.columns.push(self.head(&("line.angle", None)));
        for i in 0..of.input.lines.sheets.len() {
            for head in [LENGTH, HAND, ("", Some(&q::BLOCKS_APART))] {
                let mut column = self.head(&head);
                if self.view.units.imperial() {
                    // Feet and inches have their marks.
                    column.unit = if head == HAND {
                        column.unit
                    } else {
                        String::new()
                    };
                }
                if of.input.lines.sheets.len() > 1 {
                    let name = self.line_name(of, Line::Sheet(i));
                    column.label = [&name, ": ", &column.label].concat();
                }
                detail.columns.push(column);
            }
        }
        detail.columns.push(self.head(&("line.found", None)));
        for swept in of.input.sweep(state, &of.input.angles()) {
            let mut row = vec![self.boom_out(swept.sheeting)];
            // Nobody sails closer than on the wind.
            let sails = swept.sheeting.abs() >= of.input.close.abs() - 1e-9;
            for sheet in &swept.sheets {
                row.push(self.number(sheet.length, &q::LINE_LENGTH));
                row.push(self.number_or_dash(sheet.hand.filter(|_| sails), &q::LINE_PULL));
                let apart = if self.view.units.imperial() {
                    &q::LINE_LENGTH
                } else {
                    &q::BLOCKS_APART
                };
                row.push(self.number(sheet.nearest, apart));
            }
            let mut found = String::new();
            for finding in &swept.findings {
                if !found.is_empty() {
                    found.push_str(", ");
                }
                if of.input.lines.sheets.len() > 1 {
                    found.push_str(&self.line_name(of, finding.line));
                    found.push_str(": ");
                }
                found.push_str(&self.found(finding));
            }
            row.push(found);
            detail.rows.push(row);
        }
        detail
    }

    /// How far each sheet's deck block must stand abaft the leech: label and words.
    pub fn drift(&self) -> Vec<Vec<String>> {
        let Some(of) = self.lines_of(self.view.mast) else {
            return Vec::new();
        };
        let mut rows = Vec::new();
        for i in 0..of.input.lines.sheets.len() {
            let least = of.input.least_drift(i);
            rows.push(vec![
                self.line_name(of, Line::Sheet(i)),
                self.measure(least.unwrap_or(f64::NAN), &q::LINE_LENGTH),
            ]);
        }
        rows
    }

    /// The edits that write the usual spans or holds out.
    pub fn write_out(&self, what: &str) -> String {
        let mast = self.view.mast;
        design::Edit::write_list(&if what == "spans" {
            self.document.write_spans(mast, &self.account)
        } else {
            self.document.write_holds(mast, &self.account)
        })
    }

    /// Cordage list, rope to buy, blocks and fittings, belay plan and drill card of every mast.
    pub fn line_papers(&self) -> Vec<Paper> {
        let mut papers = Vec::new();
        let mut ropes = Vec::new();
        for mast in 0..self.n_masts() {
            if let Some(of) = self.lines_of(mast) {
                self.papers_of(mast, of, &mut papers);
                self.ropes_of(of, &mut ropes);
            }
        }
        if self.n_masts() > 1 && !ropes.is_empty() {
            papers.push(Paper {
                title: self.word("line.counter_all"),
                detail: Detail {
                    columns: self.heads(&[ROPE, BUY]),
                    rows: self.asked(&ropes),
                },
            });
        }
        papers
    }

    /// What to ask for over the counter: each rope once.
    fn ropes_of(&self, of: Rigged, ropes: &mut Vec<(String, f64)>) {
        for known in &of.account.lines {
            let rope = self.rope(of, known);
            let buy = self.rounded(known.buy);
            match ropes.iter_mut().find(|(asked, _)| *asked == rope) {
                Some((_, sum)) => *sum += buy,
                None => ropes.push((rope, buy)),
            }
        }
    }

    fn asked(&self, ropes: &[(String, f64)]) -> Vec<Vec<String>> {
        let row = |(rope, sum): &(String, f64)| vec![rope.clone(), self.to_buy(*sum)];
        ropes.iter().map(row).listed()
    }

    /// Rope as it is bought: up to whole feet, or to tenths of a metre [m].
    fn rounded(&self, si: f64) -> f64 {
        let step = if self.view.units.imperial() {
            units::FOOT
        } else {
            0.1
        };
        (si / step - 1e-6).ceil() * step
    }

    pub(crate) fn to_buy(&self, si: f64) -> String {
        let si = self.rounded(si);
        if self.view.units.imperial() {
            [&units::fixed(si / units::FOOT, 0), "'"].concat()
        } else {
            self.number(si, &q::LINE_BUY)
        }
    }

    fn papers_of(&self, mast: usize, of: Rigged, papers: &mut Vec<Paper>) {
        let mut add = |key: &str, columns, rows: Vec<Vec<String>>| {
            if !rows.is_empty() {
                papers.push(Paper {
                    title: self.of_mast(self.word(key), mast),
                    detail: Detail { columns, rows },
                });
            }
        };
        let (mut cordage, mut blocks, mut belay) = (Vec::new(), Vec::new(), Vec::new());
        let mut belay_y: Vec<f64> = Vec::new();
        let mut sums = [0, 0, 0];
        let mut ropes = Vec::new();
        self.ropes_of(of, &mut ropes);
        for known in &of.account.lines {
            let name = self.line_name(of, known.line);
            let rope = self.rope(of, known);
            let mut strength =
                self.number_or_dash(known.rope.map(|row| row.strength), &q::LINE_PULL);
            if known.rope.is_some_and(|row| !row.read) {
                strength = [&strength, " · ", &self.word("line.from_memory")].concat();
            }
            cordage.push(vec![
                name.clone(),
                self.to_buy(known.buy),
                rope,
                self.number_or_dash(known.pull, &q::LINE_PULL),
                self.number_or_dash(gybe(known), &q::LINE_PULL),
                self.view
                    .units
                    .fixed(known.gybe_left(of.input).unwrap_or(f64::NAN), 1),
                self.view.units.fixed(known.factor, 1),
                strength,
            ]);
            let counts = [known.blocks, known.sheaves, known.fastenings];
            let mut row = vec![name.clone(), count(known.parts)];
            for (sum, one) in sums.iter_mut().zip(counts) {
                *sum += one;
                row.push(count(one));
            }
            blocks.push(row);
            if let Some(tail) = known.tail {
                // From port to starboard, as they hang there.
                let place = belay_y.iter().position(|y| *y > tail.y);
                let place = place.unwrap_or(belay_y.len());
                belay_y.insert(place, tail.y);
                belay.insert(
                    place,
                    vec![
                        name,
                        self.number(tail.x, &q::CLEAT_X),
                        self.aside(tail.y, &q::CLEAT_X, 5e-3),
                        self.number(tail.z, &q::CLEAT_Z),
                        self.number(tail_length(of, known.line), &q::LINE_BUY),
                    ],
                );
            }
        }
        if !blocks.is_empty() {
            let mut total = vec![self.word("line.total"), String::new()];
            for sum in sums {
                total.push(count(sum));
            }
            blocks.push(total);
        }
        let asked = self.asked(&ropes);
        add("line.cordage", self.heads(&CORDAGE), cordage);
        let counter = [ROPE, BUY];
        add("line.counter", self.heads(&counter), asked);
        add("line.fittings", self.heads(&BLOCKS), blocks);
        add("line.blocks_list", self.heads(&TO_BUY), self.blocks(of));
        add("line.belay", self.heads(&BELAY), belay);
        for (key, back) in [("line.reefing", false), ("line.shaking", true)] {
            let (columns, rows) = self.card(of, back);
            add(key, columns, rows);
        }
    }

    /// The drill for every single reef: a line to a row, a reef to a column.
    fn card(&self, of: Rigged, back: bool) -> (Vec<Column>, Vec<Vec<String>>) {
        let panels = of.input.states.last().map_or(0, |state| state.lowered);
        let mut columns = vec![self.head(&LINE)];
        let free = self.word("line.free");
        // Each row begins with its line; one that is freed comes again to be hauled.
        let mut rows: Vec<(String, bool, Vec<String>)> = Vec::new();
        for reef in 0..panels {
            let (from, to) = if back {
                (reef + 1, reef)
            } else {
                (reef, reef + 1)
            };
            let mut column = self.head(&LINE);
            column.label = [&count(from), " → ", &count(to)].concat();
            columns.push(column);
            let mut next = 0;
            for step in self.steps(of, from, to) {
                let [line, name, does, amount] = step.as_slice() else {
                    continue;
                };
                let freed = *does == free;
                let known = rows
                    .iter()
                    .position(|(known, was, _)| known == line && *was == freed);
                let at = known.unwrap_or(next);
                if known.is_none() {
                    rows.insert(at, (line.clone(), freed, vec![name.clone()]));
                }
                next = at + 1;
                if let Some((_, _, cells)) = rows.get_mut(at) {
                    cells.resize(reef + 1, String::new());
                    cells.push([does, "\n", amount].concat().trim_end().to_owned());
                }
            }
        }
        let mut list = Vec::new();
        for (_, _, mut cells) in rows {
            cells.resize(panels + 1, String::new());
            list.push(cells);
        }
        (columns, list)
    }

    fn steps(&self, of: Rigged, from: usize, to: usize) -> Vec<Vec<String>> {
        let (Some(from), Some(to)) = (state_at(of, from), state_at(of, to)) else {
            return Vec::new();
        };
        let mut rows = Vec::new();
        for step in of.account.drill(of.input, from, to) {
            let moves = step.amount >= LEAST_MOVED;
            if let (Line::Sheet(_), Does::Ease | Does::Haul, false) = (step.line, step.does, moves)
            {
                continue;
            }
            let does = match step.does {
                Does::Ease | Does::Haul if !moves => "line.make_fast",
                Does::Luff => "line.luff_her",
                Does::SetUp => "line.set_up",
                Does::Free => "line.free",
                Does::Ease => "line.ease",
                Does::Haul => "line.haul",
                Does::MakeFast => "line.make_fast",
            };
            rows.push(vec![
                line_key(step.line),
                self.line_name(of, step.line),
                self.word(does),
                if moves {
                    self.measure(step.amount, &q::LINE_LENGTH)
                } else {
                    String::new()
                },
            ]);
        }
        rows
    }

    /// Line, group, name, what it is made of, movement of the next reef, rope to buy.
    fn list_row(&self, of: Rigged, known: &LineAccount) -> Vec<String> {
        let group = match known.line {
            Line::Halyard => 0,
            Line::Sheet(_) | Line::Span(..) => 1,
            Line::Lifts => 2,
            Line::Parrel(_) => 3,
            Line::Hauling(_) => 4,
        };
        let mut made = Vec::new();
        if known.parts > 1 {
            let text = Text::new("line.n_parts").with("n", known.parts as u32);
            made.push(self.say(&text));
        }
        made.push(self.rope(of, known));
        if let Some(pull) = known.pull {
            made.push(self.measure(pull, &q::LINE_PULL));
        }
        let now = self.lowered(self.view.mast);
        let moved = move_between(of, known, now, now + 1);
        vec![
            line_key(known.line),
            self.word(GROUPS.get(group).copied().unwrap_or("")),
            self.line_name(of, known.line),
            joined(&made, " · "),
            self.moved(moved.filter(|_| known.tail.is_some())),
            self.to_buy(known.buy),
        ]
    }

    /// Point by point, as the drawing numbers them: what it is, and the parts that lead on from it.
    fn path_rows(&self, of: Rigged, line: Line) -> Vec<Vec<String>> {
        let pose = self.pose.masts.get(self.view.mast);
        let laid = pose
            .and_then(Option::as_ref)
            .map_or(&[][..], |pose| &pose.lines);
        let Some(laid) = laid.iter().find(|laid| laid.line == line) else {
            return Vec::new();
        };
        let path = &laid.path;
        let points = drawing::ropes::points(path);
        let number = |stop: &Stop| {
            points
                .iter()
                .position(|known| known.named == stop.named && known.at == stop.at)
        };
        let mut rows: Vec<Vec<String>> = Vec::new();
        for point in &points {
            rows.push(vec![self.stop_name(of, point), String::new()]);
        }
        if let Line::Sheet(_) = line {
            return rows;
        }
        let mut from: Option<usize> = None;
        let mut parts = 0;
        let mut told = Vec::new();
        for stop in &path.stops {
            // Bends over mast or coachroof have no number.
            let Some(to) = number(stop) else {
                continue;
            };
            if parts > 0
                && let Some(from) = from
                && !told.contains(&(from, to))
                && let Some(row) = rows.get_mut(from)
                && let Some(cell) = row.last_mut()
            {
                told.push((from, to));
                let text = Text::new("line.parts_to").with("n", parts as u32);
                if !cell.is_empty() {
                    cell.push_str(", ");
                }
                cell.push_str(&self.say(&text.with("number", count(to + 1))));
            }
            (from, parts) = (Some(to), stop.parts);
        }
        rows
    }

    /// The way of a sheet's rope from its end to the cleat; of other lines nothing.
    fn rove(&self, of: Rigged, line: Line) -> String {
        let sheet = match line {
            Line::Sheet(i) => of.input.lines.sheets.get(i),
            _ => None,
        };
        let mut told = Vec::new();
        let mut high = false;
        let order = sheet.map_or_else(Vec::new, Sheet::reeved);
        for at in &order {
            let (name, up) = match *at {
                Named::Block(j) => {
                    let text = Text::new("line.rove.block");
                    (self.say(&text.with("number", j as u32 + 1)), true)
                }
                Named::DeckBlock(_) => (self.word("line.rove.deck"), false),
                _ => (self.word("line.rove.cleat"), false),
            };
            let key = match (told.is_empty(), up, high) {
                // It comes there once: no block, its end is fast.
                (true, true, _) if order.iter().filter(|b| *b == at).count() < 2 => {
                    "line.rove.fast"
                }
                (true, ..) => "line.rove.from",
                (_, true, false) => "line.rove.up",
                (_, false, true) => "line.rove.down",
                _ => "line.rove.to",
            };
            told.push(self.say(&Text::new(key).with("at", name)));
            high = up;
        }
        joined(&told, ", ")
    }

    /// Blocks by type and rope, the greatest load on each: those of sheets and halyard as they are rove; a lead carries its rope
    /// twice at most.
    fn blocks(&self, of: Rigged) -> Vec<Vec<String>> {
        let mut list: Vec<(usize, bool, String, usize, f64)> = Vec::new();
        for known in &of.account.lines {
            let Some(row) = known.rope else { continue };
            let rope = self.measure(row.diameter, &q::ROPE_DIAMETER);
            let mut add = |sheaves: usize, becket: bool, parts: usize| {
                let load = parts as f64 * known.load;
                let same = list
                    .iter_mut()
                    .find(|one| one.0 == sheaves && one.1 == becket && one.2 == rope);
                match same {
                    Some(one) => (one.3, one.4) = (one.3 + 1, one.4.max(load)),
                    None => list.push((sheaves, becket, rope.clone(), 1, load)),
                }
            };
            let mut left = known.blocks;
            match known.line {
                Line::Sheet(i) => {
                    let order = of
                        .input
                        .lines
                        .sheets
                        .get(i)
                        .map_or_else(Vec::new, Sheet::reeved);
                    for (at, block) in order.iter().enumerate() {
                        if *block == Named::Cleat || order.iter().take(at).any(|b| b == block) {
                            continue;
                        }
                        let times = order.iter().filter(|b| *b == block).count();
                        let sheaves = times - usize::from(at == 0);
                        // Where it comes only to be made fast is no block.
                        if sheaves > 0 {
                            add(sheaves, at == 0, 2 * sheaves + usize::from(at == 0));
                            left = left.saturating_sub(1);
                        }
                    }
                }
                Line::Halyard if known.parts > 1 => {
                    let (high, low) = (known.parts.div_ceil(2), known.parts / 2);
                    let even = known.parts % 2 == 0;
                    add(high, even, known.parts + 1);
                    add(low, !even, known.parts);
                    left = left.saturating_sub(2);
                }
                _ => {}
            }
            for _ in 0..left.min(MOST_LEADS) {
                add(1, false, 2);
            }
        }
        let mut rows = Vec::new();
        for (sheaves, becket, rope, pieces, load) in list {
            let key = match sheaves {
                1 => "line.block.single",
                2 => "line.block.double",
                3 => "line.block.triple",
                _ => "line.block.more",
            };
            let mut name = self.say(&Text::new(key).with("number", sheaves as u32));
            if becket {
                name = [&name, " ", &self.word("line.block.with_becket")].concat();
            }
            rows.push(vec![
                name,
                count(pieces),
                rope,
                self.number(load, &q::LINE_PULL),
            ]);
        }
        rows
    }

    /// What is said of something found at one angle.
    fn found(&self, finding: &Finding) -> String {
        if finding.what != What::Leech {
            return self.word(found_word(finding.what));
        }
        let text = Text::new(if finding.by < 0.0 {
            "line.found.over_leech"
        } else {
            "line.found.near_leech"
        });
        let by = self.measure(finding.by.abs(), &q::LINE_OFF);
        let limit = self.measure(rigging::CLEAR, &q::LINE_OFF);
        self.say(&text.with("value", by).with("limit", limit))
    }

    /// How far the boom is out.
    fn boom_out(&self, sheeting: f64) -> String {
        if sheeting.abs() < 5e-3 {
            return self.word("line.amidships");
        }
        self.aside(sheeting, &q::HEEL, 5e-3)
    }

    fn stop_name(&self, of: Rigged, stop: &Stop) -> String {
        let yard = of.yard();
        let at =
            |key, spar: usize| self.say(&Text::new(key).with("spar", self.spar_name(spar, yard)));
        match stop.named {
            Named::Sling => self.word("line.at.sling"),
            Named::Masthead => self.word("line.at.masthead"),
            Named::Spar(spar) => at("line.at.spar", spar),
            Named::Leech(spar) => at("line.at.leech", spar),
            Named::Block(block) => {
                let text = Text::new("line.at.block");
                self.say(&text.with("number", block as u32 + 1))
            }
            Named::DeckBlock(_) => self.word("line.at.deck_block"),
            Named::Lead => self.word("line.at.lead"),
            Named::Cleat => self.word("line.at.cleat"),
            Named::Round => String::new(),
        }
    }

    /// Its numbers, each with its meaning.
    fn facts(&self, of: Rigged, known: &LineAccount) -> Vec<Figure> {
        let mut list = Vec::new();
        let mut add = |head: Head, value: String, more: &str| {
            let column = self.head(&head);
            list.push(Figure {
                key: column.key,
                label: column.label,
                value,
                unit: [&column.unit, more].concat(),
                help: column.help,
                basis: String::new(),
            });
        };
        add(BUY, self.to_buy(known.buy), "");
        if let (Line::Sheet(_), Some(full)) = (known.line, known.lengths.first()) {
            let length = self.number(full.most, &q::LINE_LENGTH);
            add(("line.squared", Some(&q::LINE_LENGTH)), length, "");
        }
        let mut out = String::new();
        if let Line::Sheet(_) = known.line {
            let mut hard: Option<&Working> = None;
            for working in of.account.loads.iter().filter_map(hardest) {
                if hard.is_none_or(|hard| working.hand > hard.hand) {
                    hard = Some(working);
                }
            }
            if let Some(hard) = hard {
                let text = Text::new("line.at_angle");
                out = self.say(&text.with("angle", self.boom_out(hard.sheeting)));
                out.insert_str(0, " · ");
            }
        }
        add(PULL, self.number_or_dash(known.pull, &q::LINE_PULL), &out);
        if known.pull.is_none() && known.load > 0.0 {
            // A hand pulls no harder: a limit.
            let limit = self.number(known.load, &q::LINE_PULL);
            add(("line.hand_limit", Some(&q::LINE_PULL)), limit, "");
        }
        if let Some(pull) = gybe(known) {
            let left = known.gybe_left(of.input).unwrap_or(f64::NAN);
            let text = Text::new("line.gybe_left").with("n", self.view.units.fixed(left, 1));
            let left = self.say(&text);
            add(
                GYBE,
                self.number(pull, &q::LINE_PULL),
                &[" · ", &left].concat(),
            );
        }
        let hand = self.by_hand(of, known.line);
        if let Some(hand) = hand.filter(|hand| hand.is_finite() && *hand > 0.0) {
            let limit = Text::new("line.of_limit");
            let limit = self.say(&limit.with("limit", (of.input.rules.hand, &q::HAND_LIMIT)));
            add(
                HAND,
                self.number(hand, &q::HAND_PULL),
                &[" ", &limit, &out].concat(),
            );
        }
        add(ROPE, self.rope(of, known), "");
        if let Some(row) = &known.rope {
            let source = self.word(if row.read {
                "line.read"
            } else {
                "line.from_memory"
            });
            let strength = self.number(row.strength, &q::LINE_PULL);
            let head = ("line.strength", Some(&q::LINE_PULL));
            add(head, strength, &[" · ", &source].concat());
        }
        add(
            ("line.factor", None),
            self.view.units.fixed(known.factor, 1),
            "",
        );
        for (head, n) in [
            (("", Some(&q::LINE_PARTS)), known.parts),
            (("line.blocks", None), known.blocks),
            (("line.sheaves", None), known.sheaves),
            (("line.fastenings", None), known.fastenings),
        ] {
            if n > 0 {
                add(head, count(n), "");
            }
        }
        list
    }

    /// The most a hand has to pull at the tail of halyard, sheet or running lifts [N].
    fn by_hand(&self, of: Rigged, line: Line) -> Option<f64> {
        let run = of
            .input
            .lines
            .lifts
            .as_ref()
            .is_some_and(|lifts| lifts.cleat.is_some());
        let mut most = None;
        for loads in &of.account.loads {
            let pull = match line {
                Line::Halyard => loads.hoist,
                Line::Lifts if run => loads.lift_hand,
                Line::Sheet(_) => hardest(loads).map_or(0.0, |working| working.hand),
                _ => return None,
            };
            most = Some(pull.max(most.unwrap_or(0.0)));
        }
        most
    }

    fn length_rows(&self, of: Rigged, known: &LineAccount) -> Vec<Vec<String>> {
        let mut rows = Vec::new();
        for (state, length) in of.input.states.iter().zip(&known.lengths) {
            if state.lowered == 0 && state.on_lifts {
                continue;
            }
            let moved = move_between(of, known, state.lowered, state.lowered + 1);
            rows.push(vec![
                count(state.lowered),
                self.number(length.now, &q::LINE_LENGTH),
                self.number(length.least, &q::LINE_LENGTH),
                self.number(length.most, &q::LINE_LENGTH),
                self.moved(moved),
            ]);
        }
        rows
    }

    fn loads_row(&self, state: &State, loads: &Loads) -> ReefRow {
        let lowered = state.lowered;
        let mut hoist = self.view.hoist.clone();
        while hoist.len() < self.n_masts() {
            hoist.push(0.0);
        }
        if let Some(at) = hoist.get_mut(self.view.mast) {
            *at = lowered as f64;
        }
        let hard = hardest(loads);
        let mast = self.design().masts.get(self.view.mast);
        let side = mast.map_or(f64::NAN, |mast| mast.sail.side_force);
        let wind = |pressure: Option<f64>| {
            let speed = pressure.map(|pressure| wind::speed_of(pressure / side));
            self.number_or_dash(speed, &q::COMES_DOWN)
        };
        let mut sheeted: Option<f64> = None;
        for falls in loads.working.iter().filter_map(|w| w.falls_below) {
            sheeted = Some(falls.min(sheeted.unwrap_or(falls)));
        }
        let force = |si: Option<f64>| self.number_or_dash(si, &q::LINE_PULL);
        ReefRow {
            id: count(lowered),
            name: count(lowered),
            hoist,
            cells: vec![
                wind(Some(state.pressure)),
                force(Some(loads.wind)),
                wind(loads.falls_below.map(|falls| falls / rigging::LUFFING)),
                wind(sheeted),
                force(hard.map(|working| working.hand)),
                force(Some(loads.hoist)),
                force(hard.and_then(|working| working.tension)),
                force(Some(loads.sling)),
            ],
            now: lowered == self.lowered(self.view.mast),
            // Asked for where it is unfolded.
            detail: Detail {
                columns: Vec::new(),
                rows: Vec::new(),
            },
        }
    }

    fn all_loads(
        &self,
        of: Rigged,
        state: usize,
        loads: &Loads,
        add: &mut dyn FnMut(&str, String),
    ) {
        for (key, si) in [
            ("line.standing", loads.standing),
            ("line.block_weight", loads.blocks),
            ("line.lying", loads.lying),
            ("line.sheet_down", loads.sheet_down),
            ("line.hold", loads.hold),
            ("line.friction", loads.friction),
            ("line.lift", loads.lift),
            ("line.lift_fall", loads.lift_fall),
            ("line.lift_hand", loads.lift_hand),
            ("line.lift_down", loads.lift_down),
            ("line.gybe", loads.gybe.unwrap_or(f64::NAN)),
        ] {
            if !si.is_nan() {
                add(key, self.measure(si, &q::LINE_PULL));
            }
        }
        let keeps = loads.keeps.and_then(|line| {
            let pull = loads.hauling.get(line)?.pull?;
            Some((line, pull))
        });
        if loads.swing > 0.0 {
            let mut told = self.measure(loads.swing, &q::RIGHTING_MOMENT);
            if let Some((line, pull)) = keeps {
                let text = Text::new("line.keeps");
                let text = text.with("line", self.line_name(of, Line::Hauling(line)));
                let text = text.with("pull", self.measure(pull, &q::LINE_PULL));
                told = [&told, " · ", &self.say(&text)].concat();
            }
            add("line.swing", told);
        }
        if loads.times > 0.0 {
            let parts = of.strength;
            let mut text = Text::new("line.times_of").with("n", parts.late_reefs as u32);
            for (name, number) in [
                ("times", loads.times),
                ("gust", parts.gust),
                ("coefficient", parts.coefficient),
            ] {
                text = text.with(name, self.view.units.fixed(number, 1));
            }
            add("line.times", self.say(&text));
        }
        let effort = of.account.effort.get(loads_lowered(of, state));
        if let Some(effort) = effort {
            for (key, si) in [
                ("line.effort_reefing", effort.reefing),
                ("line.effort_shaking", effort.shaking),
            ] {
                add(key, self.measure(si, &q::EFFORT));
            }
        }
    }

    /// What each batten end is pulled by, on the wind and squared off, with the boom on the side that pulls
    /// harder.
    fn end_rows(&self, of: Rigged, loads: &Loads) -> Vec<Vec<String>> {
        let mut rows = Vec::new();
        let yard = of.yard();
        for spar in (0..=yard).rev() {
            let mut told = Vec::new();
            for (sides, key) in [([0, 1], "line.end_close"), ([2, 3], "line.end_squared")] {
                // The pull itself, of it down the mast, of it along the batten.
                let mut most = [0.0; 3];
                for working in sides.iter().filter_map(|side| loads.working.get(*side)) {
                    let mut sum = [0.0; 5];
                    for one in working.pulls.iter().filter(|one| one.spar == spar) {
                        let f = one.force;
                        let parts = [f.x, f.y, f.z, one.down, one.thrust];
                        for (sum, part) in sum.iter_mut().zip(parts) {
                            *sum += part;
                        }
                    }
                    let [x, y, z, down, thrust] = sum;
                    let pull = (x * x + y * y + z * z).sqrt();
                    if pull > most[0] {
                        most = [pull, down, thrust];
                    }
                }
                if most[0] > 0.0 {
                    let mut text = Text::new(key);
                    for (name, si) in ["pull", "down", "thrust"].into_iter().zip(most) {
                        text = text.with(name, (si, &q::LINE_PULL));
                    }
                    told.push(self.say(&text));
                }
            }
            if !told.is_empty() {
                let name = Text::new("line.at.leech").with("spar", self.spar_name(spar, yard));
                rows.push(vec![self.say(&name), joined(&told, "; ")]);
            }
        }
        rows
    }

    /// What a line is called.
    pub(crate) fn line_name(&self, of: Rigged, line: Line) -> String {
        let yard = of.yard();
        match line {
            Line::Halyard => self.word("line.halyard"),
            Line::Sheet(i) => self.word(sheet_word(of, i)),
            Line::Span(i, j) => {
                let span = of.input.lines.sheets.get(i).and_then(|s| s.spans.get(j));
                let mut ends = Vec::new();
                for end in span.map_or(&[][..], |span| &span.ends) {
                    ends.push(match end.at {
                        Knot::Spar(0) => self.word("spar.boom"),
                        Knot::Spar(spar) if spar == yard => self.word("spar.yard"),
                        Knot::Spar(spar) | Knot::Block(spar) | Knot::Deck(spar) => count(spar),
                    });
                }
                let text = Text::new("line.span").with("number", j as u32 + 1);
                self.say(&text.with("ends", joined(&ends, " + ")))
            }
            Line::Lifts => self.word("line.lifts"),
            Line::Parrel(spar) => {
                let text = Text::new("line.parrel");
                self.say(&text.with("spar", self.spar_name(spar, yard)))
            }
            Line::Hauling(i) => {
                let known = of.input.lines.hauling.get(i);
                self.word(match known.map(|known| known.hauls) {
                    Some(Hauls::Yard) => "choice.line.yard",
                    Some(Hauls::Luff) => "choice.line.luff",
                    Some(Hauls::Throat) => "choice.line.throat",
                    Some(Hauls::Tack) => "choice.line.tack",
                    Some(Hauls::Restraint) => "choice.line.restraint",
                    _ => "choice.line.down",
                })
            }
        }
    }

    /// Diameter and material.
    fn rope(&self, of: Rigged, known: &LineAccount) -> String {
        let ropes = &of.input.ropes;
        let rope = match known.line {
            Line::Halyard => ropes.halyard,
            Line::Sheet(_) | Line::Span(..) => ropes.sheet,
            Line::Lifts => ropes.lifts,
            Line::Parrel(_) | Line::Hauling(_) => ropes.parrels,
        };
        let material = self.word(match rope {
            Rope::Polyester => "line.rope.polyester",
            Rope::Polyamide => "line.rope.polyamide",
            Rope::Polypropylene => "line.rope.polypropylene",
            Rope::Braid => "line.rope.braid",
            Rope::Hmpe => "line.rope.hmpe",
        });
        match &known.rope {
            Some(row) => [
                &self.measure(row.diameter, &q::ROPE_DIAMETER),
                " ",
                &material,
            ]
            .concat(),
            None => self.word("line.too_thick"),
        }
    }

    /// Movement at the tail, with where it goes; a dash where there is none.
    fn moved(&self, moved: Option<f64>) -> String {
        let Some(moved) = moved.filter(|moved| moved.abs() >= LEAST_MOVED) else {
            return self.number(f64::NAN, &q::LINE_LENGTH);
        };
        let text = Text::new(if moved < 0.0 { "line.in" } else { "line.out" });
        self.say(&text.with("length", self.number(moved.abs(), &q::LINE_LENGTH)))
    }

    /// A place or an angle to port or to starboard; neither where it is less than this.
    fn aside(&self, y: f64, quantity: &Quantity, least: f64) -> String {
        let mut length = self.number(y.abs(), quantity);
        if *quantity == q::HEEL {
            length = self.measure(y.abs(), quantity);
        }
        if y.abs() < least {
            return length;
        }
        let text = Text::new(if y < 0.0 {
            "line.port"
        } else {
            "line.starboard"
        });
        self.say(&text.with("length", length))
    }

    fn measure(&self, si: f64, quantity: &Quantity) -> String {
        quantity.say(quantity.document_from_si(si), self.view.units)
    }

    pub(crate) fn heads(&self, heads: &[Head]) -> Vec<Column> {
        heads.iter().map(|head| self.head(head)).listed()
    }

    fn head(&self, (key, quantity): &Head) -> Column {
        let mut column = quantity.map_or_else(
            || Column {
                key: "",
                label: String::new(),
                unit: String::new(),
                help: String::new(),
            },
            |quantity| self.column(quantity),
        );
        if !key.is_empty() {
            column.key = "";
            column.label = self.word(key);
            column.help = self.help_of(key);
        }
        if *quantity == Some(&q::ROPE_DIAMETER) {
            // Its cells have words with their unit.
            column.unit = String::new();
        }
        column
    }

    /// Meaning, equation and source of what is called by a key; empty where there is none.
    pub(crate) fn help_of(&self, key: &str) -> String {
        let help = match key.strip_prefix("line.") {
            Some(name) => ["line.help.", name].concat(),
            None => ["help.", key].concat(),
        };
        let words = self.word(&help);
        if words == help { String::new() } else { words }
    }

    pub(crate) fn lines_of(&self, mast: usize) -> Option<Rigged<'_>> {
        let found = self.account.masts.get(mast)?.lines.as_ref()?;
        Some(Rigged {
            input: &found.input,
            account: &found.account,
            strength: found.strength,
            system: self.design().masts.get(mast)?.lines.choices.system,
        })
    }

    /// Panels lowered on a mast now.
    fn lowered(&self, mast: usize) -> usize {
        self.state_now(mast).map_or(0, |row| row.lowered)
    }
}

/// Less rope than this does not move [m]: it is not to be seen on deck.
const LEAST_MOVED: f64 = 5e-3;

/// Beyond any boat's.
const MOST_LEADS: usize = 100;

/// A word for something found.
fn found_word(what: What) -> &'static str {
    match what {
        What::TwoBlocked => "plot.map.two_blocked",
        What::BlockToBlock => "plot.map.near",
        What::SpanShort => "line.found.short",
        What::NoHold => "plot.map.no_hold",
        What::Coachroof => "plot.map.coachroof",
        What::Neighbour => "plot.map.neighbour",
        What::OffBoat => "plot.map.off_boat",
        What::Leech => "plot.map.leech",
        What::Deck => "plot.map.deck",
        What::Lifeline => "plot.map.lifeline",
        What::Catches => "line.found.catches",
        What::Lifts => "line.found.lifts",
    }
}

/// Rope left over in the cockpit [m].
fn tail_length(of: Rigged, line: Line) -> f64 {
    let tails = &of.input.tails;
    match line {
        Line::Halyard => tails.halyard,
        Line::Sheet(_) => tails.sheet,
        Line::Hauling(_) => tails.hauling,
        _ => tails.fixed,
    }
}

/// The sheets at their hardest.
fn hardest(loads: &Loads) -> Option<&Working> {
    let mut hard: Option<&Working> = None;
    for working in &loads.working {
        let more = hard.is_none_or(|hard| working.hand > hard.hand);
        if more && working.tension.is_some() {
            hard = Some(working);
        }
    }
    hard
}

/// The state with so many panels lowered; with none, before the boom drops.
fn state_at(of: Rigged, lowered: usize) -> Option<usize> {
    let states = &of.input.states;
    states
        .iter()
        .position(|state| state.lowered == lowered && (lowered > 0 || !state.on_lifts))
}

fn loads_lowered(of: Rigged, state: usize) -> usize {
    of.input.states.get(state).map_or(0, |state| state.lowered)
}

/// Rope that goes through the cleat from one number of panels lowered to another [m]; eased positive.
fn move_between(of: Rigged, known: &LineAccount, from: usize, to: usize) -> Option<f64> {
    let length = |lowered| Some(known.lengths.get(state_at(of, lowered)?)?.now);
    Some(length(to)? - length(from)?)
}

/// What a sheet is called among those of its sail.
fn sheet_word(of: Rigged, which: usize) -> &'static str {
    match (of.system, which) {
        (Some(System::Pair), 0) => "line.sheet_port",
        (Some(System::Pair), _) => "line.sheet_starboard",
        (Some(System::Divided), 0) => "line.sheet_upper",
        (Some(System::Divided), _) => "line.sheet_lower",
        _ => "line.sheet",
    }
}

/// Pull in an accidental gybe, where it comes to the line [N].
fn gybe(known: &LineAccount) -> Option<f64> {
    Some(known.gybe).filter(|pull| *pull > 0.0)
}

fn count(number: usize) -> String {
    units::fixed(number as f64, 0)
}

/// A name for a line, for the page.
pub(crate) fn line_key(line: Line) -> String {
    let (word, numbers) = match line {
        Line::Halyard => return "halyard".to_owned(),
        Line::Lifts => return "lifts".to_owned(),
        Line::Sheet(i) => ("sheet-", [Some(i), None]),
        Line::Span(i, j) => ("span-", [Some(i), Some(j)]),
        Line::Parrel(i) => ("parrel-", [Some(i), None]),
        Line::Hauling(i) => ("hauling-", [Some(i), None]),
    };
    let numbers = numbers.into_iter().flatten().map(count);
    [word, &joined(&numbers.listed(), "-")].concat()
}

/// The line of a name.
pub(crate) fn line_of(key: &str) -> Option<Line> {
    let mut parts = key.split('-');
    let word = parts.next()?;
    let mut number = || parts.next()?.parse::<usize>().ok();
    match word {
        "halyard" => Some(Line::Halyard),
        "lifts" => Some(Line::Lifts),
        "sheet" => Some(Line::Sheet(number()?)),
        "span" => Some(Line::Span(number()?, number()?)),
        "parrel" => Some(Line::Parrel(number()?)),
        "hauling" => Some(Line::Hauling(number()?)),
        _ => None,
    }
}
