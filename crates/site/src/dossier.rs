//! The dossier: everything that is known of a design on sheets, chosen parts of it. One list of sheets for the browser's printer, for
//! PDF and for tables.

use drawing::dossier::{Block, Foot, Kind, Sheet, write};
use drawing::patterns::Paper as Size;
use drawing::{Role, Scene, Scheme, svg};
use kurbo::{BezPath, Point};
use quantities::bounds;
use quantities::csv::Lines;
use quantities::listed::joined;
use quantities::quantity as q;
use quantities::units::fixed;
use quantities::{Basis, Text};
use serde_json::Value;

use crate::bench::Bench;
use crate::rows::{Column, Detail, Paper, PaperBlock, PaperSheet, ReefTable};
use crate::sources::SOURCES;

/// What can be chosen, in the order of the sheets, and the letter that sources know it by.
const PARTS: [(&str, char); 9] = [
    ("title", ' '),
    ("particulars", 'i'),
    ("plan", 'p'),
    ("reefs", 'r'),
    ("lines", 'l'),
    ("spars", 's'),
    ("cloth", 'c'),
    ("checks", 'b'),
    ("sources", ' '),
];

/// What stands on every sheet.
const CAUTIONS: [&str; 4] = [
    "page.caution.aid",
    "page.caution.checked",
    "page.caution.rules",
    "page.caution.measured",
];

/// Lists that were typed or traced: where, what they are called, their leaves.
const LISTS: [(&str, &str, &[&str]); 4] = [
    (
        "boat.test.readings",
        "page.group.stability",
        &["weight_kg", "arm_m", "deflection_m"],
    ),
    ("boat.gz", "page.group.stability", &["heel_deg", "gz_m"]),
    ("boat.old_rig", "page.group.swap.off", &RIG),
    ("boat.new_rig", "page.group.swap.on", &RIG),
];
const RIG: [&str; 4] = ["name", "mass_kg", "x_m", "z_m"];

/// Sheets of the spars: the spars themselves, for hull and deck, what to buy and cut.
const SPARS: [&str; 3] = ["page.paper.spars", "page.paper.hull", "page.paper.cutting"];

/// Side of a module of a link's code [px]: half a millimetre.
const MODULE: f64 = 0.5 * 96.0 / 25.4;

fn heads_of(columns: Vec<Column>) -> Vec<[String; 2]> {
    let mut heads = Vec::new();
    for column in columns {
        heads.push([column.label, column.unit]);
    }
    heads
}

/// A list as it stands on a sheet.
fn listed(title: String, detail: Detail) -> Block {
    Block::table(title, heads_of(detail.columns), detail.rows)
}

impl Bench {
    /// Sheets of the parts chosen, tables as long and as wide as they are.
    fn sheets(&mut self, parts: &[String]) -> Vec<Sheet> {
        let mut sheets = Vec::new();
        for (part, _) in PARTS {
            if !parts.iter().any(|chosen| chosen == part) {
                continue;
            }
            match part {
                "particulars" => {
                    let blocks = self.particulars();
                    self.add(&mut sheets, part, "page.paper.particulars", blocks, &[]);
                }
                "plan" => {
                    let blocks = vec![self.drawn("plan", 0, "")];
                    self.add(&mut sheets, part, "page.paper.plan", blocks, &[]);
                }
                "reefs" => {
                    let mut blocks = vec![self.states_block("", self.reef_table())];
                    for mast in 0..self.n_masts() {
                        blocks.extend(self.parrels(mast));
                    }
                    self.add(&mut sheets, part, "page.paper.reefs", blocks, &[]);
                }
                "lines" => self.line_sheet(&mut sheets),
                "spars" => self.spar_sheets(&mut sheets),
                "cloth" => {
                    for mast in 0..self.n_masts() {
                        self.cloth_sheet(mast, &mut sheets);
                    }
                }
                "checks" => {
                    let blocks = self.balance_blocks();
                    let own = ["page.balance.caution"];
                    self.add(&mut sheets, part, "page.paper.checks", blocks, &own);
                }
                "sources" => {
                    let blocks = vec![self.sources(parts)];
                    self.add(&mut sheets, part, "page.paper.sources", blocks, &[]);
                }
                _ => {}
            }
        }
        if parts.iter().any(|chosen| chosen == "title") {
            let first = self.title(&sheets);
            sheets.insert(0, first);
        }
        sheets
    }

    /// A sheet with its own cautions and those of every sheet; none where nothing would stand on it.
    fn add(
        &self,
        sheets: &mut Vec<Sheet>,
        part: &'static str,
        title: &str,
        mut blocks: Vec<Block>,
        own: &[&str],
    ) {
        let full = |block: &Block| !block.rows.is_empty() || !block.scene.items.is_empty();
        blocks.retain(full);
        if blocks.is_empty() {
            return;
        }
        let mut notes = Vec::new();
        for key in own {
            notes.push(vec![self.word(key)]);
        }
        let cautions = CAUTIONS.map(|key| self.word(key));
        notes.push(vec![joined(&cautions, " ")]);
        blocks.push(Block::notes(notes));
        sheets.push(Sheet {
            part,
            title: self.word(title),
            blocks,
        });
    }

    fn drawn(&mut self, which: &str, mast: usize, title: &str) -> Block {
        let scene = self.paper_scene(which, mast);
        let title = match title {
            "" => String::new(),
            _ => self.word(title),
        };
        Block::drawing(title, scene)
    }

    /// Name, notes, the numbers that matter, what is in the dossier.
    fn title(&self, sheets: &[Sheet]) -> Sheet {
        let design = self.design();
        let mut figures = Vec::new();
        for figure in self.headline() {
            let value = [&figure.value, " ", &figure.unit].concat();
            figures.push(vec![figure.label, value]);
        }
        let mut contents = Vec::new();
        for sheet in sheets {
            contents.push(vec![sheet.title.clone()]);
        }
        let mut found = Vec::new();
        let note = Block::notes(vec![vec![design.note.clone()]]);
        let blocks = vec![
            note,
            Block::table(self.word("page.paper.now"), Vec::new(), figures),
            Block::table(self.word("page.paper.contents"), Vec::new(), contents),
        ];
        self.add(&mut found, "title", "page.paper.title", blocks, &[]);
        let mut sheet = found.pop().unwrap_or_default();
        if !design.name.is_empty() {
            sheet.title.clone_from(&design.name);
        }
        sheet
    }

    /// Every leaf that begins so and is in no list, told; of a mast by its number.
    fn leaves(&mut self, title: String, begin: &str, mast: Option<usize>) -> Block {
        let mut rows = Vec::new();
        for row in bounds::ROWS {
            let Some(rest) = row.path.strip_prefix(begin) else {
                continue;
            };
            let deep = mast.is_some() && rest.bytes().any(|byte| byte == b'.');
            if rest.bytes().any(|byte| byte == b'[') || (deep && !rest.starts_with("sail.")) {
                continue;
            }
            let told = match mast {
                Some(mast) => self.leaf(&["masts.", &fixed(mast as f64, 0), ".", rest].concat()),
                None => self.leaf(row.path),
            };
            rows.extend(told.map(Vec::from));
        }
        Block::table(title, Vec::new(), rows)
    }

    /// What everything is worked out from.
    fn particulars(&mut self) -> Vec<Block> {
        let title = self.word("page.section.boat");
        let mut blocks = vec![self.leaves(title, "boat.", None)];
        for (path, title, leaves) in LISTS {
            let list = self.document.value(path).and_then(Value::as_array);
            let count = list.map_or(0, |list| list.len().min(bounds::MOST_ROWS));
            let mut block = Block::table(self.word(title), Vec::new(), Vec::new());
            for i in 0..count {
                let mut cells = Vec::new();
                for leaf in leaves {
                    let path = [path, ".", &fixed(i as f64, 0), ".", leaf].concat();
                    let told = self.leaf(&path).map_or(String::new(), |[_, told]| told);
                    if let Some(row) = bounds::row(&path).filter(|_| i == 0) {
                        let label = self.word(row.quantity.label);
                        block.heads.push([label, String::new()]);
                    }
                    cells.push(told);
                }
                block.rows.push(cells);
            }
            blocks.push(block);
        }
        for mast in 0..self.n_masts() {
            let title = self.of_mast(self.word("page.paper.rig"), mast);
            blocks.push(self.leaves(title, "masts[].", Some(mast)));
        }
        let title = self.word("page.paper.wind");
        blocks.push(self.leaves(title, "wind.", None));
        blocks
    }

    /// A table with a row for each state.
    fn states_block(&self, title: &str, table: ReefTable) -> Block {
        let mut heads = vec![[self.word("page.reefs.lowered"), String::new()]];
        heads.extend(heads_of(table.columns));
        let mut rows = Vec::new();
        for row in table.rows {
            let mut cells = vec![row.name];
            cells.extend(row.cells);
            rows.push(cells);
        }
        let title = if title.is_empty() {
            String::new()
        } else {
            self.word(title)
        };
        Block::table(title, heads, rows)
    }

    /// Where the parrels of a mast lie in each state of its sail, and how long they are.
    fn parrels(&self, mast: usize) -> Option<Block> {
        let known = self.account.masts.get(mast)?;
        let unit = q::PARREL_HEIGHT.unit(self.view.units).to_owned();
        let mut heads = vec![[self.word("table.spar"), String::new()]];
        for row in self.of_mast_states(mast) {
            let text = Text::new("page.paper.lowered").with("number", row.lowered as u32);
            heads.push([self.say(&text), unit.clone()]);
        }
        let length = self.column(&q::PARREL_LENGTH);
        heads.push([length.label, length.unit]);
        let yard = self.yard(mast);
        let mut rows = Vec::new();
        for spar in (0..=yard).rev() {
            let mut cells = vec![self.spar_name(spar, yard)];
            for row in self.of_mast_states(mast) {
                let height = row.on_mast.get(spar).copied().flatten();
                cells.push(self.number_or_dash(height, &q::PARREL_HEIGHT));
            }
            let length = known.parrels.get(spar).map(|parrel| parrel.parrel.length);
            cells.push(self.number_or_dash(length, &q::PARREL_LENGTH));
            rows.push(cells);
        }
        self.state(mast, 0)?;
        let title = self.of_mast(self.word("page.paper.parrels"), mast);
        Some(Block::table(title, heads, rows))
    }

    fn line_sheet(&mut self, sheets: &mut Vec<Sheet>) {
        let papers = self.line_papers();
        if papers.is_empty() {
            return;
        }
        let mut blocks = vec![
            self.drawn("profile", 0, "page.paper.profile"),
            self.drawn("above", 0, "plot.above"),
        ];
        for Paper { title, detail } in papers {
            blocks.push(listed(title, detail));
        }
        let title = self.word("page.paper.rules");
        blocks.push(self.leaves(title, "lines.", None));
        let own = ["page.lines.caution", "page.lines.free_first"];
        self.add(sheets, "lines", "page.paper.lines", blocks, &own);
    }

    fn spar_sheets(&mut self, sheets: &mut Vec<Sheet>) {
        for (i, title) in SPARS.into_iter().enumerate() {
            let mut blocks = Vec::new();
            for Paper { title, detail } in self.spar_papers(i) {
                blocks.push(listed(title, detail));
            }
            // The spars with their curves, mast by mast, and by what rules they were proved.
            if i == 0 && !blocks.is_empty() {
                let title = self.word("page.spars.rules");
                blocks.push(self.leaves(title, "spars.", None));
                for mast in 0..self.n_masts() {
                    let mut block = self.drawn("curves", mast, "page.paper.curves");
                    block.title = self.of_mast(block.title, mast);
                    blocks.push(block);
                }
            }
            self.add(sheets, "spars", title, blocks, &["page.spars.caution"]);
        }
    }

    fn cloth_sheet(&mut self, mast: usize, sheets: &mut Vec<Sheet>) {
        let mut blocks = Vec::new();
        // Every shape once, cut through the lowest panel that has it.
        let mut shapes: Vec<Vec<String>> = Vec::new();
        let mut cuts = Vec::new();
        let panels = self.of_mast(self.word("sewn.panels"), mast);
        for paper in self.cloth_papers(mast) {
            if paper.title == panels {
                for (i, row) in paper.detail.rows.iter().enumerate() {
                    let shape = row.get(1..3).unwrap_or(&[]).to_vec();
                    if !shapes.contains(&shape) {
                        shapes.push(shape);
                        cuts.push(i + 1);
                    }
                }
            }
            blocks.push(listed(paper.title, paper.detail));
        }
        if blocks.is_empty() {
            return;
        }
        let title = self.word("page.cloth.sewing");
        blocks.push(self.leaves(title, "cloth.", None));
        blocks.push(self.drawn("cloth-roll", mast, "pattern.on_roll"));
        for cut in cuts {
            let which = ["cloth-section", &fixed(cut as f64, 0)].concat();
            let mut block = self.drawn(&which, mast, "");
            block.title = self.say(&Text::new("plot.cloth.half").with("n", cut as u32));
            blocks.push(block);
        }
        blocks.push(self.drawn("cloth-ways", mast, "plot.cloth.ways"));
        let own = ["page.cloth.practice", "page.cloth.caution"];
        let from = sheets.len();
        self.add(sheets, "cloth", "page.paper.cloth", blocks, &own);
        if let Some(sheet) = sheets.get_mut(from) {
            sheet.title = self.of_mast(core::mem::take(&mut sheet.title), mast);
        }
    }

    /// Winds, stability, what is known of her, every check.
    fn balance_blocks(&self) -> Vec<Block> {
        let balance = self.balance();
        let mut known = Vec::new();
        for figure in balance.figures {
            let value = [&figure.value, " ", &figure.unit].concat();
            known.push(vec![figure.label, value]);
        }
        let mut checks = Vec::new();
        for check in balance.checks {
            let severity = self.word(&["page.attention.", check.severity].concat());
            checks.push(vec![severity, check.title, check.text]);
        }
        vec![
            self.states_block("page.balance.reefs", balance.reefs),
            listed(self.word("page.balance.loadings"), balance.loadings),
            listed(self.word("page.balance.swap"), balance.swap),
            Block::table(self.word("page.balance.known"), Vec::new(), known),
            Block::table(self.word("page.balance.checks"), Vec::new(), checks),
        ]
    }

    /// What the numbers of the parts rest on; without any, those of all parts.
    fn sources(&self, parts: &[String]) -> Block {
        let mut letters = Vec::new();
        for all in [false, true] {
            for (part, letter) in PARTS {
                if letter != ' ' && (all || parts.iter().any(|chosen| chosen == part)) {
                    letters.push(letter);
                }
            }
            if !letters.is_empty() {
                break;
            }
        }
        let mut rows = Vec::new();
        for source in SOURCES {
            if source.parts.chars().any(|part| letters.contains(&part)) {
                let kind = match source.kind {
                    Basis::Published(_) => "page.paper.published",
                    kind => kind.key(),
                };
                rows.push(vec![self.word(kind), self.word(source.word)]);
            }
        }
        Block::table(String::new(), Vec::new(), rows)
    }

    /// Sheets for a printer: what is wider than a page stands in several tables.
    fn on_paper(&mut self, parts: &[String]) -> Vec<Sheet> {
        let mut sheets = self.sheets(parts);
        for sheet in &mut sheets {
            let mut blocks = Vec::new();
            for block in core::mem::take(&mut sheet.blocks) {
                block.on_paper(&mut blocks);
            }
            sheet.blocks = blocks;
        }
        sheets
    }

    /// The sheets of some parts, as the page prints them.
    pub fn dossier(&mut self, parts: &[String]) -> Vec<PaperSheet> {
        let mut rows = Vec::new();
        for sheet in self.on_paper(parts) {
            let mut blocks = Vec::new();
            for block in sheet.blocks {
                let (kind, svg) = match block.kind {
                    Kind::Table => ("table", String::new()),
                    Kind::Notes => ("notes", String::new()),
                    Kind::Drawing => ("drawing", svg::write(&block.scene, Scheme::Print)),
                };
                blocks.push(PaperBlock {
                    kind,
                    title: block.title,
                    heads: block.heads,
                    rows: block.rows,
                    svg,
                });
            }
            rows.push(PaperSheet {
                part: sheet.part,
                title: sheet.title,
                blocks,
            });
        }
        rows
    }

    /// The same as PDF, on `letter` or else A4; the day in words, and the modules of the link's code row by row, if any.
    pub fn dossier_pdf(
        &mut self,
        parts: &[String],
        paper: &str,
        day: &str,
        code: &[u8],
    ) -> Vec<u8> {
        let mut sheets = self.on_paper(parts);
        if let Some(last) = sheets.last_mut()
            && let Some(scene) = self.code(code)
        {
            last.blocks.push(Block::drawing(String::new(), scene));
        }
        let size = if paper == "letter" {
            Size::LETTER
        } else {
            Size::A4
        };
        let mut title = self.design().name.clone();
        if title.is_empty() {
            title = self.word("page.unnamed");
        }
        let name = [&self.word("page.title"), " · ", day, " · ", &title].concat();
        let foot = Foot {
            name: &name,
            caution: self.words.word("page.caution.short"),
            words: &self.words,
        };
        write(&sheets, &size, &title, &foot)
    }

    /// The code of a link as a drawing, with what it is for beside it.
    fn code(&self, modules: &[u8]) -> Option<Scene> {
        let side = (modules.len() as f64).sqrt() as usize;
        if side == 0 || side * side != modules.len() {
            return None;
        }
        let mut path = BezPath::new();
        for (y, row) in modules.chunks_exact(side).enumerate() {
            for (x, dark) in row.iter().enumerate() {
                if *dark != 0 {
                    let at = |x: usize, y: usize| Point::new(x as f64 * MODULE, y as f64 * MODULE);
                    path.move_to(at(x, y));
                    path.line_to(at(x + 1, y));
                    path.line_to(at(x + 1, y + 1));
                    path.line_to(at(x, y + 1));
                    path.close_path();
                }
            }
        }
        let size = side as f64 * MODULE;
        let mut scene = Scene::new(size, size);
        scene.fill(path, Role::HullLine);
        Some(scene)
    }

    /// Tables of a part as comma-separated values, each under its title; empty where it has none.
    pub fn dossier_csv(&mut self, part: &str) -> String {
        let mut lines = Lines::new(self.view.units);
        for sheet in self.sheets(&[part.to_owned()]) {
            for block in &sheet.blocks {
                if block.kind == Kind::Table {
                    self.table_csv(block, &mut lines);
                }
            }
        }
        lines.text
    }

    /// A table under its title, after a line left blank.
    fn table_csv(&self, block: &Block, lines: &mut Lines) {
        if !lines.text.is_empty() {
            lines.text.push_str("\r\n");
        }
        lines.push(core::slice::from_ref(&block.title));
        let mut heads = Vec::new();
        for [label, unit] in &block.heads {
            heads.push(self.with_unit(label.clone(), unit.clone()));
        }
        if !heads.is_empty() {
            lines.push(&heads);
        }
        for row in &block.rows {
            lines.push(row);
        }
    }
}
