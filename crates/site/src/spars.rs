//! Section Spars: the mast proved, what it asks of hull and deck, the spars, what to order.
//!
//! Every table is a row of [`PARTS`]: heads, and a function that fills the rows. Cells past the heads are what a tap opens.

use ::spars::blow::Factor;
use ::spars::mast::{Case, CaseAccount, Row, Weakness};
use ::spars::materials::{self, Factors, Kind, Material};
use quantities::listed::joined;
use quantities::quantity as q;
use quantities::units::{self, FOOT};
use quantities::{Quantity, Text};

use ::spars::Pole;
use ::spars::finder::{Aim, Found, Rated};
use design::SparsAccount;
use design::spar_shop::{
    Chosen, RigPart, boat_with, choose, cutting, find, joint_edits, raising, rig_weights, tried,
};
use geometry::mast::Place;

use drawing::Medium;
use drawing::plots::Chart;

use crate::balance::whole;
use crate::bench::Bench;
use crate::lines::Head;
use crate::reef_table::state_name;
use crate::rows::{Detail, Paper};

type Rows = Vec<Vec<String>>;

/// One table of the section and of the papers: its title is its key.
struct Part {
    key: &'static str,
    /// Paper it stands on.
    sheet: usize,
    heads: &'static [Head],
    fill: fn(&Bench, &SparsAccount, usize, &mut Rows),
}

/// Of hull and deck: far more than a rope pulls.
const LOAD: Option<&Quantity> = Some(&q::HULL_FORCE);
const RATIO: Option<&Quantity> = Some(&q::SIDE_FORCE);
const MASS: Option<&Quantity> = Some(&q::BOOM_MASS);
const LENGTH: Option<&Quantity> = Some(&q::PARREL_HEIGHT);
const SMALL: Option<&Quantity> = Some(&q::DIAMETER_AT);
const FORCE: Option<&Quantity> = Some(&q::LINE_PULL);
const MOMENT: Option<&Quantity> = Some(&q::RIGHTING_MOMENT);
const SHARE: Option<&Quantity> = Some(&q::AREA_SHARE);
const BEND: Option<&Quantity> = Some(&q::LEAD);
const ANGLE: Option<&Quantity> = Some(&q::TEST_HEEL);
const WIND: Option<&Quantity> = Some(&q::TRUE_WIND);
const PRESSURE: Option<&Quantity> = Some(&q::MATERIAL_BEARING);
const COUNT: Option<&Quantity> = Some(&q::LINE_PARTS);

const STRESS: Head = ("proof.stress", SHARE);
const GOVERNS: Head = ("proof.governs", None);
const WEIGHS: Head = ("proof.mass", MASS);
const DIAMETER: Head = ("proof.diameter", SMALL);
const WALL: Head = ("", Some(&q::WALL));
const PIECE: Head = ("proof.piece", None);
const PIECES: Head = ("proof.pieces", COUNT);
const LONG: Head = ("proof.length", LENGTH);
const BENDS: Head = ("proof.bend", BEND);

/// In the order of the papers.
const PARTS: [Part; 15] = [
    Part {
        key: "proof.mast",
        sheet: 0,
        heads: &[
            STRESS,
            WEIGHS,
            ("proof.centre", LENGTH),
            BENDS,
            ("proof.frequency", Some(&q::SAIL_AREA_RATIO)),
            ("proof.shake", WIND),
        ],
        fill: |bench, of, _, rows| bench.mast_figures(of, rows),
    },
    Part {
        key: "proof.allowed",
        sheet: 0,
        heads: &[("table.spar", None), ("proof.allowed", None)],
        fill: |bench, of, _, rows| bench.allowed_rows(of, rows),
    },
    Part {
        key: "proof.cases",
        sheet: 0,
        heads: &[
            GOVERNS,
            STRESS,
            ("proof.moment", MOMENT),
            ("proof.product", RATIO),
        ],
        fill: |bench, of, _, rows| bench.case_rows(of, rows),
    },
    Part {
        key: "proof.weak_places",
        sheet: 0,
        heads: &[
            ("proof.part", None),
            ("proof.height", LENGTH),
            ("proof.strength_left", SHARE),
            STRESS,
            GOVERNS,
        ],
        fill: |bench, of, _, rows| bench.weak_rows(of, rows),
    },
    Part {
        key: "proof.schedule",
        sheet: 0,
        heads: &[
            ("proof.height", LENGTH),
            DIAMETER,
            WALL,
            ("proof.moment", MOMENT),
            ("proof.shear", LOAD),
            ("proof.slope", ANGLE),
            ("proof.deflection", SMALL),
            STRESS,
        ],
        fill: |bench, of, _, rows| bench.schedule_rows(of, rows),
    },
    Part {
        key: "proof.orders",
        sheet: 0,
        heads: &[
            PIECE,
            PIECES,
            ("proof.width", SMALL),
            ("proof.thickness", Some(&q::WALL)),
            LONG,
            ("proof.volume", None),
        ],
        fill: |bench, of, _, rows| bench.order_rows(of, rows),
    },
    Part {
        key: "proof.staves",
        sheet: 0,
        heads: &[
            PIECE,
            PIECES,
            ("proof.bevel", ANGLE),
            ("proof.outer_foot", SMALL),
            ("proof.outer_top", SMALL),
            ("proof.inner_foot", SMALL),
            ("proof.inner_top", SMALL),
        ],
        fill: |bench, of, _, rows| bench.stave_rows(of, rows),
    },
    Part {
        key: "proof.spars",
        sheet: 0,
        heads: &[
            ("table.spar", None),
            STRESS,
            BENDS,
            WEIGHS,
            ("proof.section", SMALL),
            GOVERNS,
        ],
        fill: |bench, of, _, rows| bench.spar_rows(of, rows),
    },
    Part {
        key: "proof.weights",
        sheet: 0,
        heads: &[
            ("proof.part", None),
            WEIGHS,
            ("proof.aft_of_bow", LENGTH),
            ("proof.over_water", LENGTH),
        ],
        fill: |bench, _, mast, rows| bench.weight_rows(mast, rows),
    },
    Part {
        key: "proof.rig",
        sheet: 0,
        heads: &[
            ("proof.raised", MASS),
            ("proof.balance", LENGTH),
            ("proof.gm_now", Some(&q::GM)),
            ("proof.gm_with", Some(&q::GM)),
        ],
        fill: |bench, _, mast, rows| bench.rig_figures(mast, rows),
    },
    Part {
        key: "proof.winds",
        sheet: 0,
        heads: &[
            ("", Some(&q::PANELS_LOWERED)),
            ("proof.wind_now", WIND),
            ("proof.wind_with", WIND),
        ],
        fill: |bench, _, _, rows| bench.wind_rows(rows),
    },
    Part {
        key: "proof.forces",
        sheet: 1,
        heads: &[
            ("proof.on", None),
            ("proof.leeward", LOAD),
            ("proof.aft", LOAD),
            ("proof.together", LOAD),
            GOVERNS,
        ],
        fill: |bench, of, _, rows| bench.force_rows(of, rows),
    },
    Part {
        key: "proof.hull",
        sheet: 1,
        heads: &[
            ("", Some(&q::BURY)),
            ("proof.thrust", LOAD),
            ("proof.uplift", LOAD),
            ("proof.hole", SMALL),
            ("proof.bearing", PRESSURE),
            ("proof.bearing_allowed", PRESSURE),
            ("proof.saddle", PRESSURE),
        ],
        fill: |bench, of, _, rows| bench.hull_figures(of, rows),
    },
    Part {
        key: "proof.raising",
        sheet: 1,
        heads: &[
            ("proof.angle", Some(&q::HEEL)),
            ("proof.pull", FORCE),
            ("proof.by_hand", FORCE),
            ("proof.stay", FORCE),
            ("proof.gin", FORCE),
            ("proof.hinge_along", LOAD),
            ("proof.hinge_down", LOAD),
        ],
        fill: |bench, _, mast, rows| bench.raising_rows(mast, rows),
    },
    Part {
        key: "proof.cutting",
        sheet: 2,
        heads: &[
            ("proof.section", None),
            ("proof.bar", LENGTH),
            ("proof.cut", None),
            ("proof.left", LENGTH),
        ],
        fill: |bench, of, mast, rows| bench.cutting_rows(of, mast, rows),
    },
];

const CASES: [(Case, &str); 5] = [
    (Case::CloseHauled, "proof.case.close_hauled"),
    (Case::SquaredOff, "proof.case.squared_off"),
    (Case::Gybe, "proof.case.gybe"),
    (Case::Storm, "proof.case.storm"),
    (Case::Weight, "proof.case.weight"),
];

const FACTORS: [(Factor, &str); 7] = [
    (Factor::Dynamic, "proof.factor.dynamic"),
    (Factor::Statics, "proof.factor.statics"),
    (Factor::Coefficient, "proof.factor.coefficient"),
    (Factor::GustSquared, "proof.factor.gust_squared"),
    (Factor::Gybe, "proof.factor.gybe"),
    (Factor::Drag, "proof.factor.drag"),
    (Factor::Material, "proof.factor.material"),
];

impl Bench {
    /// One table of the mast being worked on; empty without a plan, and of any other name.
    pub fn spars(&self, part: &str) -> Detail {
        let Some(part) = PARTS.iter().find(|known| known.key == part) else {
            return Detail::default();
        };
        let mut detail = self.part(part, self.view.mast);
        // What is worst is told as a row is opened: a phone has no room for it beside the numbers.
        if let [.., ("proof.governs", _)] = part.heads
            && let Some(head) = detail.columns.pop()
        {
            for row in &mut detail.rows {
                if let Some(worst) = row.get_mut(detail.columns.len()) {
                    *worst = [&head.label, ": ", worst].concat();
                }
            }
        }
        detail
    }

    fn part(&self, part: &Part, mast: usize) -> Detail {
        let mut detail = Detail::default();
        let known = self.account.masts.get(mast);
        if let Some(of) = known.and_then(|known| known.spars.as_ref()) {
            (part.fill)(self, of, mast, &mut detail.rows);
        }
        if !detail.rows.is_empty() {
            detail.columns = self.heads(part.heads);
        }
        detail
    }

    /// Whether mast and spars bear what comes on them: severity, sentence, what it is of.
    pub fn spar_verdict(&self) -> Rows {
        let mut rows = Vec::new();
        let known = self.account.masts.get(self.view.mast);
        let Some(of) = known.and_then(|known| known.spars.as_ref()) else {
            return rows;
        };
        let add = |ratio: f64, name: String, text: Text, rows: &mut Rows| {
            let text = text.with("spar", name.clone());
            let mut stress = self.said(ratio.min(10.0), &q::AREA_SHARE);
            if ratio >= 10.0 {
                stress = self.say(&Text::new("proof.over").with("words", stress));
            }
            let text = text.with("stress", stress);
            let severity = if ratio > 1.0 { "danger" } else { "passed" };
            rows.push(vec![severity.to_owned(), self.say(&text), name]);
        };
        let unproved = |name: String, rows: &mut Rows| {
            let text = Text::new("proof.verdict.none").with("spar", name.clone());
            rows.push(vec!["danger".to_owned(), self.say(&text), name]);
        };
        let mast = self.word("proof.mast");
        if let Some(case) = of.mast.cases.get(of.mast.governs) {
            let text = Text::new("proof.verdict.mast").with("place", self.place(of.mast.at));
            let text = text.with("case", self.case_of(of, case));
            add(of.mast.ratio, mast, text, &mut rows);
        } else {
            unproved(mast, &mut rows);
        }
        if let Some(i) = Self::weakest(of)
            && let Some(spar) = of.sail.spars.get(i)
        {
            let text = Text::new("proof.verdict.spar").with("at", (spar.at, &q::PARREL_HEIGHT));
            let text = text.with("case", self.tack_of(of, spar.state, spar.on_parrel));
            let yard = of.sail.spars.len().saturating_sub(1);
            add(spar.ratio, self.spar_name(i, yard), text, &mut rows);
        }
        let yard = of.sail.spars.len().saturating_sub(1);
        for (i, spar) in of.sail.spars.iter().enumerate() {
            if spar.fault.is_some() {
                unproved(self.spar_name(i, yard), &mut rows);
            }
        }
        if !of.sail.faults.is_empty() && of.sail.spars.is_empty() {
            unproved(self.word("proof.spars"), &mut rows);
        }
        rows
    }

    /// The spar that bears least for what comes on it.
    fn weakest(of: &SparsAccount) -> Option<usize> {
        let mut worst: Option<(usize, f64)> = None;
        for (i, spar) in of.sail.spars.iter().enumerate() {
            if spar.fault.is_none() && worst.is_none_or(|(_, ratio)| spar.ratio > ratio) {
                worst = Some((i, spar.ratio));
            }
        }
        worst.map(|(i, _)| i)
    }

    /// A chart of the mast being worked on, by its name.
    pub(crate) fn spar_chart(&self, name: &str) -> Chart {
        let moment = self.moment(Medium::Screen);
        let known = self.account.masts.get(self.view.mast);
        let Some(of) = known.and_then(|known| known.spars.as_ref()) else {
            return Chart::default();
        };
        // Of the spar whose number follows, else of the weakest.
        if let Some(which) = name.strip_prefix("spar")
            && let Some(i) = which.parse().ok().or_else(|| Self::weakest(of))
            && let Some(spar) = of.sail.spars.get(i)
            && let Some((rows, [mast, sheet])) =
                ::spars::spar::profile(&of.sail_input, i, spar.state, spar.on_parrel)
        {
            return Chart::bending(&moment, &rows, mast, sheet);
        }
        if name == "raising" {
            let forces = raising(self.design(), &self.account, self.view.mast);
            return Chart::raising(&moment, &forces);
        }
        if name == "finder" {
            return Chart::finder(&moment, &self.finding);
        }
        Chart::default()
    }

    /// Every table of a sheet, of every mast, figures upright.
    pub fn spar_papers(&self, sheet: usize) -> Vec<Paper> {
        let mut papers = Vec::new();
        for mast in 0..self.n_masts() {
            for part in PARTS.iter().filter(|part| part.sheet == sheet) {
                let mut detail = self.part(part, mast);
                for row in &mut detail.rows {
                    // On paper the factors stand for their product.
                    if part.key == "proof.cases"
                        && let [_, _, _, product, factors, ..] = row.as_mut_slice()
                    {
                        product.clone_from(factors);
                    }
                    row.truncate(part.heads.len());
                }
                if let [row] = detail.rows.as_slice()
                    && !matches!(part.heads, [(_, None), ..])
                {
                    let mut upright = Vec::new();
                    for (column, cell) in detail.columns.iter().zip(row) {
                        upright.push(vec![
                            column.label.clone(),
                            [cell, " ", &column.unit].concat(),
                        ]);
                    }
                    detail.columns = Vec::new();
                    detail.rows = upright;
                }
                if !detail.rows.is_empty() {
                    papers.push(Paper {
                        title: self.of_mast(self.word(part.key), mast),
                        detail,
                    });
                }
            }
        }
        papers
    }

    /// Numbers [SI] under heads; what has no quantity is left to words.
    fn cells(&self, heads: &[Head], numbers: &[f64]) -> Vec<String> {
        let mut cells = Vec::new();
        for ((_, quantity), number) in heads.iter().zip(numbers) {
            cells.push(match quantity {
                Some(quantity) => self.number(*number, quantity),
                None => String::new(),
            });
        }
        cells
    }

    /// The cells of a row of a part, with words where there are no numbers.
    fn row(&self, key: &str, numbers: &[f64], words: &[(usize, String)]) -> Vec<String> {
        let part = PARTS.iter().find(|part| part.key == key);
        part.map_or_else(Vec::new, |part| self.filled(part.heads, numbers, words))
    }

    /// Cells under heads, with words where there are no numbers.
    pub(crate) fn filled(
        &self,
        heads: &[Head],
        numbers: &[f64],
        words: &[(usize, String)],
    ) -> Vec<String> {
        let mut cells = self.cells(heads, numbers);
        for (at, word) in words {
            if let Some(cell) = cells.get_mut(*at) {
                cell.clone_from(word);
            }
        }
        cells
    }

    fn mast_figures(&self, of: &SparsAccount, rows: &mut Rows) {
        let m = &of.mast;
        if m.cases.is_empty() {
            return;
        }
        let two = |numbers: [f64; 2], quantity: &'static Quantity, between| {
            let words = numbers.map(|n| self.number(n, quantity));
            joined(&words, between)
        };
        let (least, most) = m.shake[0];
        let [first, second] = m.frequencies;
        rows.push(self.row(
            "proof.mast",
            &[
                m.ratio,
                m.weight.mass,
                m.weight.centre,
                m.bend,
                first,
                least,
            ],
            &[
                (4, two([first, second], &q::SAIL_AREA_RATIO, " · ")),
                (5, two([least, most], &q::TRUE_WIND, "–")),
            ],
        ));
    }

    /// Each case at its hardest; opened, its factors and every reef of it.
    fn case_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        for (case, _) in CASES {
            let mut worst: Option<&CaseAccount> = None;
            let mut each = Vec::new();
            for known in of.mast.cases.iter().filter(|known| known.case == case) {
                each.push(self.number(known.ratio, &q::AREA_SHARE));
                if worst.is_none_or(|worst| known.ratio > worst.ratio) {
                    worst = Some(known);
                }
            }
            let Some(worst) = worst else { continue };
            let [a, b] = worst.moment;
            let mut row = self.row(
                "proof.cases",
                &[0.0, worst.ratio, size(a, b), worst.product],
                &[(0, self.case_of(of, worst))],
            );
            row.push(self.factors(&worst.factors, worst.product));
            let open = |key, words| self.say(&Text::new(key).with("words", words));
            if each.len() > 1 {
                row.push(open("proof.each_reef", joined(&each, " · ")));
            }
            row.push(open("proof.peak_at", self.place(worst.at)));
            row.push(open(
                "proof.magnified",
                self.view.units.fixed(worst.magnified, 2),
            ));
            let state = of.mast_input.states.get(worst.state);
            if let (Case::Gybe, Some((blow, _))) = (case, state.and_then(|state| state.gybe)) {
                row.push(open("proof.blow", self.said(blow, &q::LINE_PULL)));
            }
            if worst.by_wind {
                row.push(self.word("proof.by_wind"));
            }
            if !worst.stands {
                row.push(self.word("proof.falls"));
            }
            rows.push(row);
        }
    }

    /// What the materials of each spar may be stressed to: mast, boom, battens, yard.
    fn allowed_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        let factors = &of.mast_input.rules.factors;
        let mut add = |spar: &str, said: &[String]| {
            let name = self.word(&["choice.spar.", spar].concat());
            rows.push(vec![name, joined(said, "; ")]);
        };
        let mut said = Vec::new();
        self.allowed(&of.mast_input.pole, factors, &mut said);
        add("mast", &said);
        let factors = &of.sail_input.rules.factors;
        let yard = of.sail_input.spars.len().saturating_sub(1);
        for (name, from, to) in [
            ("boom", 0, 1),
            ("battens", 1, yard),
            ("yard", yard, yard + 1),
        ] {
            said.clear();
            for made in of.sail_input.spars.get(from..to).unwrap_or_default() {
                self.allowed(&made.pole, factors, &mut said);
            }
            add(name, &said);
        }
    }

    /// Allowed stress, strength over factor and source of each material from the foot up, but what was just said.
    fn allowed(&self, pole: &Pole, factors: &Factors, said: &mut Vec<String>) {
        for piece in &pole.pieces {
            let (strength, factor) = (piece.material.bending(), factors.of(piece.material.kind));
            let [material, source] = self.source(&piece.material);
            let text = Text::new("proof.allowed_is")
                .with(
                    "allowed",
                    self.said(strength / factor, &q::MATERIAL_STRENGTH),
                )
                .with("strength", self.number(strength, &q::MATERIAL_STRENGTH))
                .with("factor", self.view.units.fixed(factor, 2))
                .with("material", material)
                .with("source", source);
            let text = self.say(&text);
            if said.last() != Some(&text) {
                said.push(text);
            }
        }
    }

    /// What a material is called, and where its numbers are from.
    fn source(&self, material: &Material) -> [String; 2] {
        let mut i = 0;
        while let Some(row) = materials::row(i) {
            if row.material == *material {
                let name = self.word(&["choice.material.", row.key].concat());
                let source = self.word(&["proof.source.", row.source].concat());
                let memory = Text::new("proof.from_memory");
                return match row.read {
                    true => [name, source],
                    false => [name, self.say(&memory.with("words", source))],
                };
            }
            i += 1;
        }
        let plies = material.kind == Kind::Laminate;
        let [name, source] = if plies {
            ["choice.kind.laminate", "proof.source.plies"]
        } else {
            ["proof.own", "proof.source.own"]
        };
        [self.word(name), self.word(source)]
    }

    /// Weak places of the mast.
    fn weak_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        for (typed, found) in of.mast_input.weak.iter().zip(&of.mast.weak) {
            let what = match typed.what {
                Weakness::Weld(_) => "choice.what.weld",
                Weakness::Hole(_) => "choice.what.hole",
                Weakness::Tabernacle(_) => "choice.what.tabernacle",
                Weakness::Joint(_) => "choice.what.joint",
            };
            let case = of.mast.cases.get(found.governs);
            let case = case.map_or_else(String::new, |case| self.case_of(of, case));
            rows.push(self.row(
                "proof.weak_places",
                &[0.0, found.height, found.left, found.ratio, 0.0],
                &[(0, self.word(what)), (4, case)],
            ));
        }
    }

    /// Every half metre or foot from the partners, up and down, with heel and top.
    fn schedule_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        let input = &of.mast_input;
        let step = if self.view.units.imperial() {
            FOOT
        } else {
            0.5
        };
        let (Some(heel), Some(top)) = (of.mast.rows.first(), of.mast.rows.last()) else {
            return;
        };
        let mut height = heel.height;
        for _ in 0..MOST_ROWS {
            if let Some([shear, moment, slope, deflection, ratio]) = at(&of.mast.rows, height) {
                let section = input.pole.at(height + input.bury, &input.rules.factors);
                let numbers = [
                    height,
                    section.diameter,
                    section.wall,
                    moment,
                    shear,
                    slope,
                    deflection,
                    ratio,
                ];
                rows.push(self.row("proof.schedule", &numbers, &[]));
            }
            if height >= top.height - 1e-6 {
                break;
            }
            // The next whole step; no sliver before the top.
            height = ((height / step + 1e-6).floor() + 1.0) * step;
            if height > top.height - 1e-3 {
                height = top.height;
            }
        }
    }

    fn order_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        for order in of.mast_input.pole.order(self.butted(), 0.006, 0.1) {
            let numbers = [
                0.0,
                order.count as f64,
                order.width,
                order.thickness,
                order.length,
                0.0,
            ];
            let volume = if self.view.units.imperial() {
                [
                    &self
                        .view
                        .units
                        .fixed(order.volume / (FOOT * FOOT * FOOT), 2),
                    " ft³",
                ]
                .concat()
            } else {
                [&self.view.units.fixed(order.volume, 3), " m³"].concat()
            };
            let volume = if order.volume > 0.0 {
                volume
            } else {
                "–".to_owned()
            };
            let mut piece = units::fixed(order.piece as f64 + 1.0, 0);
            if let Some(made) = of.mast_input.pole.pieces.get(order.piece) {
                let [material, _] = self.source(&made.material);
                piece = [&piece, " · ", &material].concat();
            }
            rows.push(self.row("proof.orders", &numbers, &[(0, piece), (5, volume)]));
        }
    }

    /// Whether the mast is of pieces that were typed.
    fn butted(&self) -> bool {
        let typed = self.document.design().masts.get(self.view.mast);
        typed.is_some_and(|typed| typed.spars.made.word("mast_kind") == "pieces")
    }

    fn stave_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        for (i, piece) in of.mast_input.pole.pieces.iter().enumerate() {
            let Some(stave) = piece.stave() else { continue };
            let numbers = [
                0.0,
                stave.count as f64,
                stave.bevel,
                stave.outer.0,
                stave.outer.1,
                stave.inner.0,
                stave.inner.1,
            ];
            let piece = units::fixed(i as f64 + 1.0, 0);
            rows.push(self.row("proof.staves", &numbers, &[(0, piece)]));
        }
    }

    /// Yard at the top; opened, all that is known of it.
    fn spar_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        let yard = of.sail.spars.len().saturating_sub(1);
        let spars = of.sail_input.spars.iter().zip(&of.sail.spars);
        for (i, (made, spar)) in spars.enumerate().rev() {
            let mut section = String::new();
            if let Some(piece) = made.pole.pieces.first() {
                section = self.section(piece.diameters.0, piece.walls.map(|walls| walls.0));
            }
            let mut row = self.row(
                "proof.spars",
                &[0.0, spar.ratio, spar.bend, spar.weight.mass, 0.0, 0.0],
                &[
                    (0, self.spar_name(i, yard)),
                    (4, section),
                    (5, self.tack_of(of, spar.state, spar.on_parrel)),
                ],
            );
            if spar.fault.is_some() {
                rows.push(self.row(
                    "proof.spars",
                    &[f64::NAN; 6],
                    &[(0, self.spar_name(i, yard))],
                ));
                continue;
            }
            row.push(self.factors(&spar.factors, spar.product));
            for (key, si, quantity) in [
                ("proof.peak_luff", spar.at, &q::PARREL_HEIGHT),
                ("proof.most_moment", spar.moment, &q::RIGHTING_MOMENT),
                ("proof.bow", spar.bow, &q::LEAD),
                ("proof.on_mast", spar.mast, &q::LINE_PULL),
                ("proof.on_sheet", spar.sheet, &q::LINE_PULL),
            ] {
                row.push(self.say(&Text::new(key).with("words", self.said(si, quantity))));
            }
            let times = self.view.units.fixed(spar.magnified, 2);
            row.push(self.say(&Text::new("proof.magnified").with("words", times)));
            for ratio in &spar.weak {
                let words = self.said(*ratio, &q::AREA_SHARE);
                row.push(self.say(&Text::new("proof.weak").with("words", words)));
            }
            if !spar.stands {
                row.push(self.word("proof.falls"));
            }
            rows.push(row);
        }
    }

    /// Diameter and wall.
    fn section(&self, diameter: f64, wall: Option<f64>) -> String {
        let across = self.number(diameter, &q::DIAMETER_AT);
        match wall {
            Some(wall) => [&across, " × ", &self.number(wall, &q::WALL)].concat(),
            None => across,
        }
    }

    fn weight_rows(&self, mast: usize, rows: &mut Rows) {
        let weights = rig_weights(self.design(), &self.account, mast);
        let yard = self.yard(mast);
        let mut add = |name: String, mass: f64, at: Place| {
            let numbers = [0.0, mass, at.x, at.z];
            rows.push(self.row("proof.weights", &numbers, &[(0, name)]));
        };
        for (part, mass, at) in weights.parts {
            let name = match part {
                RigPart::Mast => self.word("proof.mast"),
                RigPart::Head => self.word("line.at.masthead"),
                RigPart::Spar(spar) => self.spar_name(spar, yard),
                RigPart::Cloth => self.word("proof.cloth"),
            };
            add(name, mass, at);
        }
        if let (mass, Some(at)) = weights.whole {
            add(self.word("line.total"), mass, at);
        }
    }

    /// The boat with the weights of these sections, where what came off her is listed: else they would come on top of the old rig.
    fn with_these(&self) -> Option<boat::Account> {
        let off = &self.design().boat.particulars.off;
        (!off.is_empty()).then(|| boat_with(self.design(), &self.account))
    }

    /// What is raised, and how high her metacentre is now and with the weights of these sections.
    fn rig_figures(&self, mast: usize, rows: &mut Rows) {
        let raised = rig_weights(self.design(), &self.account, mast).raised;
        let with = self.with_these();
        let [now, with] = [Some(&self.account.boat), with.as_ref()].map(|boat| {
            let known = boat?.loadings.get(self.design().boat.particulars.loading)?;
            Some(known.as_ref()?.height?.value)
        });
        let [now, with] = [now, with].map(|height| height.unwrap_or(f64::NAN));
        rows.push(self.row("proof.rig", &[raised.mass, raised.centre, now, with], &[]));
    }

    fn wind_rows(&self, rows: &mut Rows) {
        let Some(with) = self.with_these() else {
            return;
        };
        let steps = self.account.boat.steps.iter().zip(&with.steps);
        for (step, (now, with)) in self.account.rig.sequence.iter().zip(steps) {
            let [now, with] = [now, with].map(|step| {
                let limit = step.on.map(|limit| whole(limit.forecast.value));
                limit.unwrap_or(f64::NAN)
            });
            if now.is_finite() || with.is_finite() {
                let name = state_name(&step.lowered);
                rows.push(self.row("proof.winds", &[0.0, now, with], &[(0, name)]));
            }
        }
    }

    fn raising_rows(&self, mast: usize, rows: &mut Rows) {
        for (angle, at) in raising(self.design(), &self.account, mast) {
            let (along, down) = at.hinge;
            let numbers = [angle, at.pull, at.hand, at.stay, at.gin, along, 0.0 - down];
            rows.push(self.row("proof.raising", &numbers, &[]));
        }
    }

    /// Bar by bar what is cut from it; then the joints, and what all of it costs.
    fn cutting_rows(&self, of: &SparsAccount, mast: usize, rows: &mut Rows) {
        let yard = of.sail.spars.len().saturating_sub(1);
        let name = |spar: &Option<usize>| match spar {
            Some(spar) => self.spar_name(*spar, yard),
            None => self.word("proof.mast"),
        };
        let mut costs = 0.0;
        for group in cutting(self.design(), &self.account, mast) {
            let section = self.section(group.diameter, group.wall);
            let mut add = |numbers: [f64; 4], words: String| {
                let words = [(0, section.clone()), (2, words)];
                rows.push(self.row("proof.cutting", &numbers, &words));
            };
            let Some(cut) = group.cutting else {
                add([f64::NAN; 4], self.word("proof.too_long"));
                continue;
            };
            for bar in cut.bars {
                let mut pieces = Vec::new();
                for piece in bar.pieces {
                    if let Some((spar, length)) = group.pieces.get(piece) {
                        let length = self.number(*length, &q::PARREL_HEIGHT);
                        pieces.push([&name(spar), " ", &length].concat());
                    }
                }
                let length = group
                    .stock
                    .get(bar.stock)
                    .map_or(f64::NAN, |stock| stock.length);
                add([0.0, length, 0.0, bar.left], joined(&pieces, ", "));
            }
            for (spar, place) in &group.joints {
                let text = Text::new("proof.joint").with("spar", name(spar));
                add(
                    [f64::NAN; 4],
                    self.say(&text.with("at", (*place, &q::PARREL_HEIGHT))),
                );
            }
            costs += cut.price.unwrap_or(0.0);
        }
        if costs > 0.0 {
            let words = [
                (0, self.word("proof.priced")),
                (2, self.view.units.fixed(costs, 2)),
            ];
            rows.push(self.row("proof.cutting", &[f64::NAN; 4], &words));
        }
    }

    /// Tries sections for a part of the mast being worked on; tells the share that is done. The one chosen, or -1; then mass [kg],
    /// stress over what is allowed, bend, price and whether it passes, each. Nothing where `most` is wanted and is no weight.
    pub fn find(&self, part: &str, aim: &str, most: &str, tell: &dyn Fn(f64)) -> Vec<f64> {
        let mast = self.view.mast;
        let part = chosen(part);
        let most = units::parse(q::BOOM_MASS.kind, most, self.view.units);
        let aim = match (aim, most) {
            ("stiffest", Ok(most)) => Aim::Stiffest(most),
            ("stiffest", Err(_)) => return Vec::new(),
            ("cheapest", _) => Aim::Cheapest,
            _ => Aim::Lightest,
        };
        let found = find(
            self.design(),
            &self.account,
            mast,
            part,
            aim,
            &|done, all| {
                tell(done as f64 / all as f64);
            },
        );
        let mut list = Vec::new();
        if let Some((_, found)) = found {
            list.push(found.chosen.map_or(-1.0, |chosen| chosen as f64));
            for rated in found.rated {
                let passes = rated.is_some_and(|rated| rated.passes);
                list.extend(rated.map_or([f64::NAN; 5], |r| {
                    let price = r.price.unwrap_or(f64::NAN);
                    [r.mass, r.ratio, r.bend, price, f64::from(u8::from(passes))]
                }));
            }
        }
        list
    }

    /// Takes what [`Self::find`] found: a sentence, and the edits that take the chosen one.
    pub fn take_found(&mut self, part: &str, list: &[f64]) -> [String; 2] {
        let mast = self.view.mast;
        let mut found = Found::default();
        let (mut n, mut passing) = (0, 0);
        if let [chosen, rated @ ..] = list {
            found.chosen = (*chosen >= 0.0).then_some(*chosen as usize);
            for one in rated.chunks_exact(5) {
                if let [mass, ratio, bend, price, passes] = *one {
                    n += 1;
                    passing += u32::from(passes > 0.0);
                    found.rated.push(mass.is_finite().then_some(Rated {
                        mass,
                        ratio,
                        bend,
                        price: Some(price).filter(|price| price.is_finite()),
                        passes: passes > 0.0,
                    }));
                }
            }
        }
        let tried = tried(self.design(), &self.account, mast, chosen(part));
        let which = found.chosen.and_then(|i| {
            let rated = found.rated.get(i).copied().flatten()?;
            Some((tried.get(i)?, rated))
        });
        let mut text = Text::new("proof.none_found");
        let mut edits = String::new();
        if let Some((tried, rated)) = which {
            text = Text::new(if rated.price.is_some() {
                "proof.found_price"
            } else {
                "proof.found"
            })
            .with("section", self.section(tried.diameter, tried.wall))
            .with("mass", (rated.mass, &q::BOOM_MASS))
            .with("stress", self.said(rated.ratio, &q::AREA_SHARE))
            .with("safety", self.view.units.fixed(1.0 / rated.ratio, 2))
            .with(
                "price",
                self.view.units.fixed(rated.price.unwrap_or(0.0), 2),
            );
            edits = design::Edit::write_list(&choose(self.design(), mast, chosen(part), tried));
        }
        let text = text.with("tried", units::fixed(f64::from(n), 0));
        let text = text.with("passing", units::fixed(f64::from(passing), 0));
        let told = self.say(&text);
        self.finding = found;
        [told, edits]
    }

    /// Edits that list the joints of the cutting list as weak places; an empty list where all are.
    pub fn joint_edits(&self) -> String {
        design::Edit::write_list(&joint_edits(self.design(), &self.account, self.view.mast))
    }

    fn force_rows(&self, of: &SparsAccount, rows: &mut Rows) {
        for (key, ([leeward, aft], case)) in [
            ("proof.partners", of.mast.partners),
            ("proof.step", of.mast.step),
        ] {
            let Some(case) = of.mast.cases.get(case) else {
                continue;
            };
            rows.push(self.row(
                "proof.forces",
                &[0.0, leeward, aft, size(leeward, aft), 0.0],
                &[(0, self.word(key)), (4, self.case_of(of, case))],
            ));
        }
    }

    fn hull_figures(&self, of: &SparsAccount, rows: &mut Rows) {
        let m = &of.mast;
        if m.cases.is_empty() {
            return;
        }
        let pressure = |allowed: f64| if allowed > 0.0 { allowed } else { f64::NAN };
        rows.push(self.row(
            "proof.hull",
            &[
                of.mast_input.bury,
                m.thrust,
                m.uplift,
                m.hole,
                m.bearing,
                pressure(m.bearing_allowed),
                m.wall.unwrap_or(f64::NAN),
            ],
            &[],
        ));
    }

    /// A case with the reef it stands at.
    fn case_of(&self, of: &SparsAccount, case: &CaseAccount) -> String {
        let known = CASES.iter().find(|(known, _)| *known == case.case);
        let name = self.word(known.map_or("", |(_, word)| *word));
        match case.case {
            Case::Storm => name,
            _ => self.at_reef(of, name, case.state),
        }
    }

    /// On which tack, at which reef.
    fn tack_of(&self, of: &SparsAccount, state: usize, on_parrel: bool) -> String {
        let key = if on_parrel {
            "proof.on_parrel"
        } else {
            "proof.on_the_mast"
        };
        self.at_reef(of, self.word(key), state)
    }

    fn at_reef(&self, of: &SparsAccount, name: String, state: usize) -> String {
        let lowered = of.sail_input.states.get(state).map_or(0, |s| s.lowered);
        if lowered == 0 {
            return name;
        }
        let text = Text::new("attention.at").with("title", name);
        self.say(&text.with("n", lowered as u32))
    }

    /// Every factor by name, and their product.
    fn factors(&self, factors: &[(Factor, f64)], product: f64) -> String {
        let mut words = Vec::new();
        for (factor, value) in factors {
            let known = FACTORS.iter().find(|(known, _)| known == factor);
            let name = self.word(known.map_or("", |(_, word)| *word));
            words.push([&name, " ", &self.view.units.fixed(*value, 2)].concat());
        }
        [
            &joined(&words, " × "),
            " = ",
            &self.view.units.fixed(product, 2),
        ]
        .concat()
    }

    /// A place on the mast.
    fn place(&self, height: f64) -> String {
        // What would be told as nought.
        let key = if height.abs() < 0.005 {
            "proof.at_partners"
        } else if height < 0.0 {
            "proof.below_partners"
        } else {
            "proof.above_partners"
        };
        self.say(&Text::new(key).with("at", (height.abs(), &q::PARREL_HEIGHT)))
    }

    pub(crate) fn said(&self, si: f64, quantity: &'static Quantity) -> String {
        quantity.say(quantity.document_from_si(si), self.view.units)
    }
}

/// The part of a word.
fn chosen(part: &str) -> Chosen {
    match part {
        "boom" => Chosen::Boom,
        "battens" => Chosen::Battens,
        "yard" => Chosen::Yard,
        _ => Chosen::Mast,
    }
}

/// A mast of the greatest length has fewer.
const MOST_ROWS: usize = 400;

fn size(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

/// Shear, moment, slope, deflection and stress at a height, between stations.
fn at(rows: &[Row], height: f64) -> Option<[f64; 5]> {
    let list = |r: &Row| [r.shear, r.moment, r.slope, r.deflection, r.ratio];
    let mut low = rows.first()?;
    for row in rows {
        if row.height >= height - 1e-9 {
            let span = row.height - low.height;
            let part = if span > 1e-9 {
                (height - low.height) / span
            } else {
                1.0
            };
            let mut found = list(low);
            for (number, to) in found.iter_mut().zip(list(row)) {
                *number += part * (to - *number);
            }
            return Some(found);
        }
        low = row;
    }
    None
}
