//! Section Cloth: camber panel by panel, the pieces, how they lie on the roll, what to buy, the five constructions, the papers.
//!
//! Every table is a row of [`PARTS`], as those of the spars are: what needs patterns is asked for in the worker.

use std::rc::Rc;

use cloth::materials::{Bill, UK_OUNCE, US_OUNCE};
use cloth::{
    Compared, Construction, Cutting, Edge, Fault, Finding, Input, Patterns, Piece, Role, Seam, What,
};
use design::ClothAccount;
use drawing::patterns::{Paper as Sheet, Papers};
use drawing::{Scene, Scheme, svg};
use kurbo::Rect;
use quantities::listed::joined;
use quantities::quantity as q;
use quantities::units::{self, fixed};
use quantities::{Quantity, Text, UnitKind};

use crate::bench::Bench;
use crate::lines::Head;
use crate::rows::{Column, Detail, Paper};

type Rows = Vec<Vec<String>>;

/// What is made of a sail's cloth beyond the account, until the design changes.
#[derive(Debug, Default)]
pub(crate) struct Sewn {
    mast: usize,
    /// With what effort the roll was laid; none where it was not asked for.
    effort: Option<usize>,
    patterns: Patterns,
    cutting: Cutting,
}

/// What a table is filled from.
#[derive(Clone, Copy)]
struct Of<'a> {
    mast: usize,
    sail: &'a ClothAccount,
    /// Empty for tables of the account alone.
    sewn: &'a Sewn,
}

/// What a table needs.
#[derive(Clone, Copy, PartialEq)]
enum Needs {
    Account,
    Patterns,
    Roll,
}

/// One table of the section and of the papers: its title is its key.
struct Part {
    key: &'static str,
    needs: Needs,
    heads: &'static [Head],
    fill: fn(&Bench, Of, &mut Rows),
}

const CLOTH: Option<&Quantity> = Some(&q::PANEL_AREA);
const MASS: Option<&Quantity> = Some(&q::BOOM_MASS);
/// To buy.
const LENGTH: Option<&Quantity> = Some(&q::LINE_BUY);
const EXACT: Option<&Quantity> = Some(&q::PANEL_DIAGONAL);
const FINE: Option<&Quantity> = Some(&q::WALL);
const ONE: Option<&Quantity> = Some(&q::SAIL_AREA_RATIO);
const COUNT: Option<&Quantity> = Some(&q::LINE_PARTS);

/// Panels that cannot be cut, ahead of numbers that would look whole without them.
const WITHOUT: Head = ("sewn.without", None);
const PIECE: Head = ("pattern.piece_head", None);
const CUT: Head = ("sewn.cut", CLOTH);
const ALL: Head = ("sewn.mass", MASS);
const FITTINGS: Head = ("sewn.fittings", COUNT);
const SEWING: Head = ("sewn.sewing", LENGTH);
const WASTE: Head = ("sewn.waste", Some(&q::AREA_SHARE));
const ORDER: Head = ("sewn.order", LENGTH);

/// What is no total where panels are missing.
const HANGS_ON_ALL: [&str; 10] = [
    "sewn.order",
    "sewn.waste",
    "sewn.seams",
    "sewn.finished",
    "sewn.cut",
    "sewn.about",
    "sewn.mass",
    "sewn.webbing",
    "sewn.sewing",
    "sewn.thread",
];

/// In the order of the papers.
const PARTS: [Part; 10] = [
    Part {
        key: "sewn.sail",
        needs: Needs::Account,
        heads: &[
            WITHOUT,
            ("", Some(&q::AREA)),
            ("sewn.about", MASS),
            ("", Some(&q::CLOTH_WEIGHT)),
            ("sewn.uk", ONE),
            ("sewn.us", ONE),
        ],
        fill: |bench, of, rows| bench.cloth_figures(of, rows),
    },
    Part {
        key: "sewn.panels",
        needs: Needs::Account,
        heads: &[
            ("sewn.panel", None),
            ("sewn.asked", Some(&q::CAMBER)),
            ("sewn.place", Some(&q::CAMBER_PLACE)),
            ("sewn.depth", Some(&q::HEM)),
            ("sewn.weight", MASS),
        ],
        fill: |bench, of, rows| bench.panel_rows(of, rows),
    },
    Part {
        key: "sewn.verdict",
        needs: Needs::Patterns,
        heads: &[],
        fill: |bench, of, rows| bench.finding_rows(of, rows),
    },
    Part {
        key: "sewn.bill",
        needs: Needs::Roll,
        heads: &[
            WITHOUT,
            ORDER,
            WASTE,
            ("sewn.finished", CLOTH),
            CUT,
            ALL,
            ("sewn.webbing", LENGTH),
            SEWING,
            ("sewn.thread", LENGTH),
            ("sewn.pockets", COUNT),
            ("sewn.eyes", COUNT),
            FITTINGS,
        ],
        fill: |bench, of, rows| {
            let bill = bench.bill(of);
            let [order, waste, _] = bench.laid(of);
            let mut numbers = vec![0.0, order, waste, bill.finished, bill.cut, kilograms(&bill)];
            numbers.extend([bill.webbing, bill.sewing, bill.thread]);
            for count in [bill.pockets, bill.eyes, bill.fittings] {
                numbers.push(count as f64);
            }
            bench.whole_row("sewn.bill", of, &mut numbers, rows);
        },
    },
    Part {
        key: "sewn.roll",
        needs: Needs::Roll,
        heads: &[WITHOUT, ORDER, WASTE, ("sewn.seams", LENGTH)],
        fill: |bench, of, rows| {
            let [order, waste, seams] = bench.laid(of);
            bench.whole_row("sewn.roll", of, &mut [0.0, order, waste, seams], rows);
        },
    },
    Part {
        key: "sewn.sticks",
        needs: Needs::Patterns,
        heads: &[
            ("table.spar", None),
            ("sewn.count", COUNT),
            ("sewn.length", EXACT),
        ],
        fill: |bench, of, rows| bench.stick_rows(of, rows),
    },
    Part {
        key: "sewn.pieces",
        needs: Needs::Patterns,
        heads: &[
            PIECE,
            ("sewn.size", EXACT),
            ("sewn.piece_cut", CLOTH),
            ("sewn.gather", Some(&q::GATHER)),
            ("sewn.strain", Some(&q::STRAIN)),
            ("sewn.excess", FINE),
            ("pattern.warp", None),
            ("sewn.alike", None),
        ],
        fill: |bench, of, rows| bench.piece_rows(of, rows),
    },
    Part {
        key: "sewn.edges",
        needs: Needs::Patterns,
        heads: &[
            PIECE,
            ("pattern.edge_head", None),
            ("pattern.length", EXACT),
            ("pattern.finished", EXACT),
            ("pattern.gather", FINE),
            ("pattern.allowance", FINE),
        ],
        fill: |bench, of, rows| bench.edge_rows(of, rows),
    },
    Part {
        key: "sewn.offsets",
        needs: Needs::Patterns,
        heads: &[
            PIECE,
            ("pattern.place", Some(&q::MEAN_ALONG)),
            ("sewn.low_x", FINE),
            ("sewn.low_y", FINE),
            ("sewn.up_x", FINE),
            ("sewn.up_y", FINE),
        ],
        fill: |bench, of, rows| bench.offset_rows(of, rows),
    },
    Part {
        key: "sewn.ways",
        needs: Needs::Account,
        heads: &[
            ("sewn.way", None),
            CUT,
            ALL,
            ("sewn.camber", Some(&q::CAMBER)),
            ("sewn.balance", Some(&q::AREA_SHARE)),
            ("sewn.parts", COUNT),
            SEWING,
            ("sewn.sticks_count", COUNT),
            FITTINGS,
            ("sewn.bundle", CLOTH),
            ("sewn.ahead", CLOTH),
        ],
        fill: |bench, of, rows| bench.way_rows(of, rows),
    },
];

/// What a finding says, in what it is told, and the field that mends it.
const FINDINGS: [(What, &str, &Quantity, &str); 7] = [
    (
        What::Strain,
        "sewn.found.strain",
        &q::STRAIN,
        "cloth.camber_pct",
    ),
    (
        What::Gather,
        "sewn.found.gather",
        &q::GATHER,
        "cloth.camber_pct",
    ),
    (
        What::BarrelDeep,
        "sewn.found.barrel",
        &q::BARREL_DEPTH,
        "cloth.camber_pct",
    ),
    (What::Slot, "sewn.found.slot", &q::HEM, "cloth.slot_pct"),
    (
        What::Pressed,
        "sewn.found.pressed",
        &q::HEM,
        "sail.offset_m",
    ),
    (What::Short, "sewn.found.short", &q::HEM, "cloth.camber_pct"),
    (What::Patch, "sewn.found.patch", &q::LINE_PULL, ""),
];

/// Names of the five by their number.
const WAYS: [&str; 5] = [
    "choice.cut.flat",
    "choice.cut.cambered",
    "choice.cut.wing",
    "choice.cut.split",
    "choice.cut.paired",
];

/// As near as the checks take it [m].
const SHOWN_FINE: f64 = 5e-4;
/// More pages than anyone likes to glue.
const FEW_PAGES: usize = 60;

/// Effort for a look.
pub(crate) const LOOK: usize = 20;

impl Bench {
    /// Tables of the mast being worked on, each by its key; empty without a plan, and of any other name. Cells past the heads are what
    /// a tap opens.
    pub fn cloth(&mut self, parts: &[String]) -> Vec<Detail> {
        let mut details = Vec::new();
        for key in parts {
            let part = PARTS.iter().find(|part| part.key == key);
            let mast = self.view.mast;
            details.push(part.map_or_else(Detail::default, |part| self.sewn_part(part, mast)));
        }
        details
    }

    fn sewn_part(&mut self, part: &Part, mast: usize) -> Detail {
        let mut detail = Detail::default();
        let sewn = match part.needs {
            Needs::Account => Rc::default(),
            Needs::Patterns => self.sewn(mast, None),
            Needs::Roll => self.sewn(mast, Some(LOOK)),
        };
        if let Some(sail) = self.sail_cloth(mast) {
            let of = Of {
                mast,
                sail,
                sewn: &sewn,
            };
            (part.fill)(self, of, &mut detail.rows);
        }
        if !detail.rows.is_empty() {
            detail.columns = self.heads(part.heads);
        }
        detail
    }

    fn sail_cloth(&self, mast: usize) -> Option<&ClothAccount> {
        self.account.masts.get(mast)?.cloth.as_ref()
    }

    /// Patterns of a sail, with the roll where it is asked for: that of the greatest effort so far.
    fn sewn(&mut self, mast: usize, effort: Option<usize>) -> Rc<Sewn> {
        self.sewn_telling(mast, effort, &|_| {})
    }

    fn sewn_telling(&mut self, mast: usize, effort: Option<usize>, tell: &dyn Fn(f64)) -> Rc<Sewn> {
        let place = self.sewn.iter().position(|sewn| sewn.mast == mast);
        let known = place.and_then(|place| self.sewn.get(place)).cloned();
        if let Some(known) = &known
            && known.effort >= effort
        {
            return known.clone();
        }
        let mut made = Sewn {
            mast,
            effort,
            ..Sewn::default()
        };
        if let Some(sail) = self.sail_cloth(mast) {
            made.patterns = match &known {
                Some(known) => known.patterns.clone(),
                None => sail.input.patterns(),
            };
            made.cutting = match effort {
                Some(effort) => sail.input.cutting_told(&made.patterns, effort, tell),
                None => sail.input.blanks(&made.patterns),
            };
            // A look may be lucky.
            if let Some(known) = known
                && let (Some(look), Some(layout)) = (&known.cutting.layout, &made.cutting.layout)
                && look.length < layout.length
            {
                made.cutting.layout = Some(look.clone());
            }
        }
        let made = Rc::new(made);
        match place.and_then(|place| self.sewn.get_mut(place)) {
            Some(known) => *known = made.clone(),
            None => self.sewn.push(made.clone()),
        }
        made
    }

    /// A row of numbers [SI] of a part, with words where there are no numbers.
    fn sewn_row(&self, key: &str, numbers: &[f64], words: &[(usize, String)], rows: &mut Rows) {
        if let Some(part) = PARTS.iter().find(|part| part.key == key) {
            rows.push(self.filled_as_sewn(part.heads, numbers, words));
        }
    }

    /// A row of what is told of the whole sail: no numbers where panels are missing, and which they are. What is counted spar by spar stays, and
    /// so does what is known without the panels.
    fn whole_row(&self, key: &str, of: Of, numbers: &mut [f64], rows: &mut Rows) {
        let Some(part) = PARTS.iter().find(|part| part.key == key) else {
            return;
        };
        let mut without = self.patterns_of(of, "").without();
        if without.is_empty() {
            without.push('–');
        } else {
            for (number, head) in numbers.iter_mut().zip(part.heads) {
                if HANGS_ON_ALL.contains(&head.0) {
                    *number = f64::NAN;
                }
            }
        }
        rows.push(self.filled_as_sewn(part.heads, numbers, &[(0, without)]));
    }

    /// A row where in feet what is bought is told in whole ones, and small lengths in sixteenths of an inch as on the papers.
    fn filled_as_sewn(
        &self,
        heads: &[Head],
        numbers: &[f64],
        words: &[(usize, String)],
    ) -> Vec<String> {
        let mut row = self.filled(heads, numbers, words);
        if self.view.units.imperial() {
            for ((cell, head), number) in row.iter_mut().zip(heads).zip(numbers) {
                if head.1 == LENGTH && number.is_finite() {
                    *cell = self.to_buy(*number);
                } else if head.1 == FINE {
                    *cell = self.number(*number, &q::HEM);
                }
            }
        }
        row
    }

    fn panel_name(&self, panel: usize) -> String {
        self.say(&Text::new("pattern.panel").with("n", panel as u32))
    }

    fn cloth_figures(&self, of: Of, rows: &mut Rows) {
        let plan = self
            .account
            .masts
            .get(of.mast)
            .and_then(|m| m.plan.as_ref());
        let area = plan.map_or(f64::NAN, |plan| plan.moments().area);
        let cloth = of.sail.input.cloth.mass;
        let mass = of.sail.panels.iter().sum();
        // Documents have grams.
        let [uk, us] = [cloth / UK_OUNCE, cloth / US_OUNCE];
        let mut numbers = [0.0, area, mass, 1e3 * cloth, uk, us];
        if self.view.units.imperial() {
            // The same as UK ounces.
            numbers[3] = f64::NAN;
        }
        self.whole_row("sewn.sail", of, &mut numbers, rows);
    }

    /// Camber asked for and what is obtained, panel by panel, and what each weighs.
    fn panel_rows(&self, of: Of, rows: &mut Rows) {
        let input = &of.sail.input;
        for panel in 1..=input.panels() {
            let [place, depth] = obtained(input, panel).unwrap_or([f64::NAN; 2]);
            let shaped = !matches!(
                input.construction,
                Construction::Flat | Construction::Wing(_)
            );
            let asked = input.shapes.get(panel - 1).filter(|_| shaped);
            let camber = asked.map_or(f64::NAN, |shape| shape.camber);
            // One that cannot be cut was weighed as if it were flat.
            let known = input.faults().is_empty() && input.panel_fault(panel).is_none();
            let mass = of.sail.panels.get(panel - 1).filter(|_| known).copied();
            let numbers = [0.0, camber, place, depth, mass.unwrap_or(f64::NAN)];
            self.sewn_row(
                "sewn.panels",
                &numbers,
                &[(0, self.panel_name(panel))],
                rows,
            );
        }
    }

    /// What cannot be cut, then what is worth a look: severity, sentence, field.
    fn finding_rows(&self, of: Of, rows: &mut Rows) {
        let path = |leaf: &str| {
            if leaf.is_empty() {
                return "cloth.patch_strength".to_owned();
            }
            ["masts.", &fixed(of.mast as f64, 0), ".", leaf].concat()
        };
        for fault in of
            .sewn
            .patterns
            .faults
            .iter()
            .chain(&of.sewn.cutting.faults)
        {
            let (key, panel) = fault_key(*fault);
            let text = Text::new(key).with("panel", self.panel_name(panel));
            let field = if *fault == Fault::Roll {
                "cloth.roll_m".to_owned()
            } else {
                String::new()
            };
            rows.push(vec!["danger".to_owned(), self.say(&text), field]);
        }
        // The spar that leaves the mast the least room, as the checks tell of it.
        let mut least: Option<&Finding> = None;
        for found in &of.sewn.patterns.findings {
            let short = found.what == What::Room && found.value < found.limit - SHOWN_FINE;
            if short && least.is_none_or(|least| found.value < least.value) {
                least = Some(found);
            }
        }
        if let Some(found) = least {
            let spar = self.spar_name(found.at, of.sail.input.panels());
            let stands = found.value < -SHOWN_FINE;
            let (severity, [what, advice], value) = if stands {
                (
                    "danger",
                    ["check.straddles.found", "check.straddles.advice"],
                    -found.value,
                )
            } else {
                (
                    "look",
                    ["check.mast_room.found", "check.mast_room.advice"],
                    found.value,
                )
            };
            let text = Text::new(what).with("spar", spar);
            let text = text.with("value", self.said(value, &q::BATTEN_ROOM));
            let advice = Text::new(advice).with("limit", self.said(found.limit, &q::BATTEN_ROOM));
            let said = [self.say(&text), self.say(&advice)];
            rows.push(vec![
                severity.to_owned(),
                joined(&said, ". "),
                path(
                    if matches!(of.sail.input.construction, Construction::Wing(_)) {
                        "cloth.join_pct"
                    } else {
                        "cloth.camber_pct"
                    },
                ),
            ]);
        }
        for found in &of.sewn.patterns.findings {
            let Some((what, key, quantity, leaf)) =
                FINDINGS.iter().find(|(what, ..)| *what == found.what)
            else {
                continue;
            };
            let at = if *what == What::Slot {
                self.spar_name(found.at, of.sail.input.panels())
            } else {
                self.panel_name(found.at)
            };
            let text = Text::new(key).with("at", at);
            let text = text.with("value", self.said(found.value.abs(), quantity));
            let text = text.with("limit", self.said(found.limit, quantity));
            rows.push(vec!["look".to_owned(), self.say(&text), path(leaf)]);
        }
        // Shelves lie along their spars in any case.
        let (mut along, mut up) = (false, false);
        for piece in &of.sewn.patterns.pieces {
            if matches!(piece.role, Role::Cloth | Role::Body) {
                along |= along_battens(of, piece);
                up |= !along_battens(of, piece);
            }
        }
        if along && up {
            let text = self.word("sewn.found.warp");
            rows.push(vec!["look".to_owned(), text, "cloth.warp".to_owned()]);
        }
        if rows.is_empty() {
            rows.push(vec![
                "passed".to_owned(),
                self.word("sewn.passed"),
                String::new(),
            ]);
        }
    }

    fn bill(&self, of: Of) -> Bill {
        of.sail.input.bill(&of.sewn.patterns, &of.sewn.cutting)
    }

    /// Cloth to order, what falls off, seams between widths; no numbers where it cannot be laid.
    fn laid(&self, of: Of) -> [f64; 3] {
        let layout = of.sewn.cutting.layout.as_ref();
        layout.map_or([f64::NAN; 3], |laid| [laid.length, laid.waste, laid.seams])
    }

    /// Spars as they are made, of forks and bows limb by limb; alike ones of a spar together.
    fn stick_rows(&self, of: Of, rows: &mut Rows) {
        let sticks = self.bill(of).sticks;
        let mut i = 0;
        while let Some(stick) = sticks.get(i) {
            let mut count = 0;
            while let Some(next) = sticks.get(i + count)
                && next.spar == stick.spar
                && (next.length - stick.length).abs() < 1e-6
            {
                count += 1;
            }
            let name = self.spar_name(stick.spar, of.sail.input.panels());
            let numbers = [0.0, count as f64, stick.length];
            self.sewn_row("sewn.sticks", &numbers, &[(0, name)], rows);
            i += count.max(1);
        }
    }

    fn patterns_of<'a>(&'a self, of: Of<'a>, title: &'a str) -> Papers<'a> {
        Papers {
            input: &of.sail.input,
            patterns: &of.sewn.patterns,
            words: &self.words,
            units: self.view.units,
            title,
        }
    }

    fn piece_rows(&self, of: Of, rows: &mut Rows) {
        let alike = of.sewn.patterns.alike();
        for (i, piece) in of.sewn.patterns.pieces.iter().enumerate() {
            let mut around: Option<Rect> = None;
            for p in &piece.cut {
                let at = Rect::from_points(*p, *p);
                around = Some(around.map_or(at, |all| all.union(at)));
            }
            let around = around.unwrap_or_default();
            let size = |metres| self.number(metres, &q::PANEL_DIAGONAL);
            let size = [&size(around.width()), " × ", &size(around.height())].concat();
            let strain = piece.strain.as_ref().map_or(0.0, |strain| strain.worst);
            let area = cloth::outline::area(&piece.cut);
            let numbers = [0.0, 0.0, area, 0.0, strain, piece.excess, 0.0, 0.0];
            let papers = self.patterns_of(of, "");
            let mut like = papers.alike(&alike, i);
            if like.is_empty() {
                like.push('1');
            }
            let warp = if along_battens(of, piece) {
                "choice.warp.battens"
            } else {
                "choice.warp.leech"
            };
            let (share, by) = gather(piece);
            let by = self.said(by, &q::HEM);
            let gather = [&self.number(share, &q::GATHER), " (", &by, ")"].concat();
            let words = [
                (0, papers.name(piece)),
                (1, size),
                (3, gather),
                (6, self.word(warp)),
                (7, like),
            ];
            self.sewn_row("sewn.pieces", &numbers, &words, rows);
        }
    }

    /// Lengths of edges and diagonals.
    fn edge_rows(&self, of: Of, rows: &mut Rows) {
        let papers = self.patterns_of(of, "");
        for piece in &of.sewn.patterns.pieces {
            for i in 0..6 {
                let edge = piece.edges.get(i);
                let diagonal = piece.diagonals.get(i.wrapping_sub(4)).copied();
                let numbers = edge.map_or([f64::NAN; 4], |edge| {
                    let by = gathered(edge);
                    [edge.length, edge.finished, by, edge.allowance]
                });
                let [length, finished, by, allowance] = numbers;
                let length = diagonal.unwrap_or(length);
                let numbers = [0.0, 0.0, length, finished, by, allowance];
                let words = [(0, papers.name(piece)), (1, papers.edge(piece, i))];
                self.sewn_row("sewn.edges", &numbers, &words, rows);
            }
        }
    }

    fn offset_rows(&self, of: Of, rows: &mut Rows) {
        let papers = self.patterns_of(of, "");
        for piece in &of.sewn.patterns.pieces {
            for at in &piece.offsets {
                let numbers = [0.0, at.share, at.low.x, at.low.y, at.up.x, at.up.y];
                self.sewn_row("sewn.offsets", &numbers, &[(0, papers.name(piece))], rows);
            }
        }
    }

    /// The five side by side; opened, notes and what is to be said of each.
    fn way_rows(&self, of: Of, rows: &mut Rows) {
        let ways = design::ways(self.design(), of.mast, &self.account);
        let in_use = self.state(of.mast, 0).and_then(|row| row.chord_balance);
        for way in of.sail.input.compare(&ways) {
            let Compared { balance, .. } = way;
            let share = |share| self.number(share, &q::AREA_SHARE);
            let number = way.construction.number();
            let mut name = self.word(WAYS.get(number).unwrap_or(&""));
            if number == of.sail.input.construction.number() {
                name = self.say(&Text::new("sewn.now").with("way", name));
            }
            let found = way.findings.len();
            // Of the panels that can be cut alone: no sail to hold against the others.
            let whole = |number: f64| {
                if way.faults.is_empty() {
                    number
                } else {
                    f64::NAN
                }
            };
            let numbers = [
                0.0,
                whole(way.cut),
                whole(way.mass),
                // Of a wing it is thickness, of flat cloth nothing.
                if way.camber > 0.0 {
                    way.camber
                } else {
                    f64::NAN
                },
                0.0,
                whole(way.pieces as f64),
                whole(way.sewing),
                way.sticks as f64,
                way.fittings as f64,
                way.bundle,
                way.ahead,
            ];
            if !way.faults.is_empty() {
                name = self.say(&Text::new("sewn.cannot").with("way", name));
            }
            let words = [
                (0, name),
                (4, [&share(balance[0]), "–", &share(balance[2])].concat()),
            ];
            self.sewn_row("sewn.ways", &numbers, &words, rows);
            let Some(row) = rows.last_mut() else { continue };
            for fault in &way.faults {
                let (key, panel) = fault_key(*fault);
                row.push(self.say(&Text::new(key).with("panel", self.panel_name(panel))));
            }
            for note in way.notes {
                row.push(self.word(note));
            }
            if let Some(in_use) = in_use {
                let inside = in_use >= balance[0] - 5e-4 && in_use <= balance[2] + 5e-4;
                let key = if inside {
                    "sewn.balance_inside"
                } else {
                    "sewn.balance_outside"
                };
                let text = Text::new(key).with("value", share(in_use));
                row.push(self.say(&text.with("usual", share(balance[1]))));
            }
            if found > 0 {
                row.push(self.say(&Text::new("sewn.way_found").with("n", found as u32)));
            }
        }
    }

    /// A piece as it is cut and sewn, for a page of a width [px].
    pub fn cloth_piece(&mut self, index: usize, width: f64) -> String {
        let mast = self.view.mast;
        let sewn = self.sewn(mast, None);
        let scheme = self.scheme();
        self.sail_cloth(mast).map_or_else(String::new, |sail| {
            let of = Of {
                mast,
                sail,
                sewn: &sewn,
            };
            drawing::sewing::piece(&self.patterns_of(of, ""), index, width, scheme)
        })
    }

    /// The roll of a sail laid out for a page of a width [px], with such an effort, unless it was greater before; `tell` hears the
    /// share that is done.
    pub fn cloth_roll(
        &mut self,
        mast: usize,
        (effort, width): (usize, f64),
        scheme: Scheme,
        tell: &dyn Fn(f64),
    ) -> String {
        let scene = self.roll_scene(mast, effort, width, tell);
        if scene.items.is_empty() {
            return String::new();
        }
        svg::inline(&scene, scheme)
    }

    /// The same as a drawing; empty without a sail.
    pub(crate) fn roll_scene(
        &mut self,
        mast: usize,
        effort: usize,
        width: f64,
        tell: &dyn Fn(f64),
    ) -> Scene {
        let sewn = self.sewn_telling(mast, Some(effort), tell);
        self.sail_cloth(mast).map_or_else(Scene::default, |sail| {
            let of = Of {
                mast,
                sail,
                sewn: &sewn,
            };
            drawing::sewing::roll(&self.patterns_of(of, ""), &sewn.cutting, width)
        })
    }

    /// Paper by its name, or a roll of a width as it is typed.
    fn sheet(&self, paper: &str) -> Result<Sheet, String> {
        Ok(match paper {
            "a4" => Sheet::A4,
            "a3" => Sheet::A3,
            "letter" => Sheet::LETTER,
            typed => match units::parse(UnitKind::Length, typed, self.view.units) {
                Ok(width) if (0.2..=5.0).contains(&width) => Sheet::roll(width),
                Ok(_) => return Err(self.word("sewn.plotter_bounds")),
                Err(problem) => return Err(self.say(&problem)),
            },
        })
    }

    /// How many pages `pdf` takes, and `piece`, in words of a line each; a sentence where it cannot be made.
    pub fn cloth_pages(&mut self, index: usize, paper: &str) -> String {
        let mast = self.view.mast;
        let sewn = self.sewn(mast, None);
        let sheet = match self.sheet(paper) {
            Ok(sheet) => sheet,
            Err(told) => return told,
        };
        let Some(sail) = self.sail_cloth(mast) else {
            return String::new();
        };
        let of = Of {
            mast,
            sail,
            sewn: &sewn,
        };
        let papers = self.patterns_of(of, "");
        let (once, drawn) = (papers.once(), papers.drawn());
        let mut told = Vec::with_capacity(2);
        for some in [once.get(..), drawn.get(index..=index)] {
            told.push(match papers.pages_of(some.unwrap_or(&[]), &sheet) {
                Ok(pages) => {
                    let said = self.say(&Text::new("sewn.pages").with("n", pages as u32));
                    let more = pages > FEW_PAGES && !sheet.roll;
                    let larger = if more {
                        self.word("sewn.larger")
                    } else {
                        String::new()
                    };
                    joined(&[said, larger], " ")
                }
                Err(many) => self.say(&many.text()),
            });
        }
        joined(&told, "\n")
    }

    /// A file of the sail being worked on: `pdf`, `piece` (one of them) and `lofting` on `a4`, `a3`, `letter` or a roll of a width as it
    /// is typed, `svg` of a whole piece or patch by its number, `blank` what is laid on the roll by its number, `csv`. A sentence
    /// where there is none.
    pub fn cloth_file(&mut self, kind: &str, index: usize, paper: &str) -> Result<Vec<u8>, String> {
        let mast = self.view.mast;
        let sewn = self.sewn(mast, None);
        let Some(sail) = self.sail_cloth(mast) else {
            return Err(String::new());
        };
        let title = self.sail_title(mast);
        let papers = self.patterns_of(
            Of {
                mast,
                sail,
                sewn: &sewn,
            },
            &title,
        );
        if papers.patterns.pieces.is_empty() {
            let panels = papers.without();
            return Err(self.say(&Text::new("pattern.without").with("panels", panels)));
        }
        let sheet = self.sheet(paper)?;
        Ok(match kind {
            "pdf" => papers.pdf(&sheet).map_err(|many| self.say(&many.text()))?,
            "piece" => match papers.drawn().get(index..=index) {
                Some(one) => papers
                    .pdf_of(one, &sheet)
                    .map_err(|many| self.say(&many.text()))?,
                None => Vec::new(),
            },
            "lofting" => papers.lofting(&sheet),
            "csv" => papers.csv().into_bytes(),
            "blank" => match papers.blank(&sewn.cutting, index) {
                Some(drawn) => papers.svg(&drawn).into_bytes(),
                None => Vec::new(),
            },
            _ => match papers.drawn().get(index) {
                Some(drawn) => papers.svg(drawn).into_bytes(),
                None => Vec::new(),
            },
        })
    }

    /// Design and sail, as papers are headed.
    fn sail_title(&self, mast: usize) -> String {
        self.of_mast(self.design().name.clone(), mast)
    }

    /// Every table for paper, of a mast, figures upright; what a tap would open stays behind.
    pub fn cloth_papers(&mut self, mast: usize) -> Vec<Paper> {
        let mut papers = Vec::new();
        let mut notes: Rows = Vec::new();
        for part in &PARTS {
            let mut detail = self.sewn_part(part, mast);
            if detail.rows.is_empty() {
                continue;
            }
            match part.key {
                "sewn.verdict" => {
                    for row in &mut detail.rows {
                        row.truncate(2);
                        row.remove(0);
                    }
                    let sewn = self.sewn(mast, None);
                    if let Some(sail) = self.sail_cloth(mast) {
                        let of = Of {
                            mast,
                            sail,
                            sewn: &sewn,
                        };
                        detail
                            .rows
                            .push(vec![self.patterns_of(of, "").tolerances()]);
                    }
                }
                // The five stand upright, each a column; their notes under them.
                "sewn.ways" => {
                    let heads = part.heads.len();
                    for row in &detail.rows {
                        let said = row.get(heads..).unwrap_or(&[]);
                        let name = row.first().map_or("", String::as_str);
                        notes.push(vec![[name, ": ", &joined(said, " ")].concat()]);
                    }
                    detail = turned(detail);
                }
                // The bill has what is missing, what is ordered and what falls off.
                "sewn.roll" => {
                    detail.columns.drain(..3);
                    for row in &mut detail.rows {
                        row.drain(..3);
                    }
                }
                _ => {}
            }
            if let [row] = detail.rows.as_slice()
                && matches!(part.heads, [("sewn.without", _), ..])
            {
                let mut upright = Vec::new();
                for (i, (column, cell)) in detail.columns.iter().zip(row).enumerate() {
                    if i == 0 && cell == "–" {
                        continue;
                    }
                    upright.push(vec![
                        column.label.clone(),
                        [cell, " ", &column.unit].concat(),
                    ]);
                }
                detail.columns = Vec::new();
                detail.rows = upright;
            }
            papers.push(Paper {
                title: self.of_mast(self.word(part.key), mast),
                detail,
            });
        }
        if !notes.is_empty() {
            papers.push(Paper {
                title: self.of_mast(self.word("sewn.notes"), mast),
                detail: Detail {
                    columns: Vec::new(),
                    rows: notes,
                },
            });
        }
        papers
    }
}

/// Rows for columns; units go with what is told in them.
fn turned(detail: Detail) -> Detail {
    let mut columns = Vec::new();
    let mut rows = Vec::new();
    for (i, column) in detail.columns.iter().enumerate() {
        let mut cells = vec![joined(&[column.label.clone(), column.unit.clone()], " ")];
        for row in &detail.rows {
            cells.extend(row.get(i).cloned());
        }
        rows.push(cells);
    }
    if !rows.is_empty() {
        for label in rows.remove(0) {
            columns.push(Column {
                key: "",
                label,
                unit: String::new(),
                help: String::new(),
            });
        }
    }
    Detail { columns, rows }
}

/// Whether the warp runs along the lower spar on a piece.
fn along_battens(of: Of, piece: &Piece) -> bool {
    of.sail.input.warp(piece).y.abs() < 1e-9
}

/// Cloth of an edge beyond what it is sewn to [m]; nought of what is sewn to nothing.
fn gathered(edge: &Edge) -> f64 {
    if edge.finished > 1e-6 && edge.seam != Seam::Slot {
        edge.length - edge.finished
    } else {
        0.0
    }
}

/// Greatest gather of an edge that is sewn to something, share and length [m]; negative where it has to stretch.
fn gather(piece: &Piece) -> (f64, f64) {
    let mut worst = (0.0_f64, 0.0);
    for edge in &piece.edges {
        let gather = edge.gather();
        if edge.seam != Seam::Slot && gather.abs() > worst.0.abs() {
            worst = (gather, gathered(edge));
        }
    }
    worst
}

/// Place of the camber and its depth [m] at mid panel, as it is cut: of a split panel its after part, of a wing of either skin.
fn obtained(input: &Input, panel: usize) -> Option<[f64; 2]> {
    if matches!(input.construction, Construction::Flat) {
        return None;
    }
    let section = input.section(panel, 0.5, input.mast.side)?;
    let wing = matches!(input.construction, Construction::Wing(_));
    let line = if wing {
        section.cloth.first()?
    } else {
        section.cloth.last()?
    };
    let (from, to) = (line.first()?.x, line.last()?.x);
    let (mut depth, mut at) = (0.0, f64::NAN);
    for p in line {
        if p.y.abs() > depth + 1e-9 {
            (depth, at) = (p.y.abs(), p.x);
        }
    }
    let chord = to - from;
    Some([(at - from) / chord, depth])
}

/// All of the cloth [kg].
fn kilograms(bill: &Bill) -> f64 {
    let mut mass = 0.0;
    for panel in bill.panels.iter().flatten() {
        mass += panel;
    }
    mass
}

/// What a fault says, and the panel it is of.
fn fault_key(fault: Fault) -> (&'static str, usize) {
    match fault {
        Fault::Count => ("sewn.fault.count", 0),
        Fault::Number => ("sewn.fault.number", 0),
        Fault::Ordinates => ("sewn.fault.ordinates", 0),
        Fault::Sewing => ("sewn.fault.sewing", 0),
        Fault::Panel(n) => ("sewn.fault.panel", n),
        Fault::Camber(n) => ("sewn.fault.camber", n),
        Fault::BarrelDeep(n) => ("sewn.fault.barrel", n),
        Fault::ShelvesMeet(n) => ("sewn.fault.shelves", n),
        Fault::Slot(n) => ("sewn.fault.slot", n),
        Fault::Roll => ("sewn.fault.roll", 0),
    }
}
