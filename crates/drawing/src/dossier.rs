//! The dossier: sheets of tables, notes and drawings, set on as many pages of A4 or letter as they take.
//!
//! The same sheets are printed by a browser and written here as PDF: [`Block::on_paper`] makes both tables of a width that a page has.
//! Lengths are millimetres, y down.

use core::mem;

use kurbo::{Affine, Point, Rect};
use quantities::units::fixed;
use quantities::{Catalogue, Text, Units};

use crate::palette::{Role, Scheme, ink};
use crate::patterns::Paper;
use crate::pdf::{self, Content, Document};
use crate::scene::{Anchor, Figure, Scene, Stroke, Weight, Words, through};

/// Part of the dossier under a heading of its own; it begins a page.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    /// Which of the parts that can be chosen.
    pub part: &'static str,
    /// Its heading.
    pub title: String,
    /// What stands under it, from the top down.
    pub blocks: Vec<Block>,
}

/// What a block is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Kind {
    /// Rows of cells under heads; without heads the first cell of a row names the others.
    #[default]
    Table,
    /// A paragraph a row.
    Notes,
    /// A scene in pixels, 96 an inch.
    Drawing,
}

/// One thing on a sheet.
#[derive(Clone, Debug, Default)]
pub struct Block {
    /// What it is.
    pub kind: Kind,
    /// What stands over it; of a drawing, what it shows besides the sheet's heading.
    pub title: String,
    /// Label and unit of each column.
    pub heads: Vec<[String; 2]>,
    /// Cells.
    pub rows: Vec<Vec<String>>,
    /// Drawn; nothing but of a drawing.
    pub scene: Scene,
}

/// What stands at the foot of every page.
#[derive(Clone, Copy)]
pub struct Foot<'a> {
    /// The design and the day.
    pub name: &'a str,
    /// The caution.
    pub caution: &'a str,
    /// The language, for the number of the page.
    pub words: &'a Catalogue,
}

/// Left white on each side.
const MARGIN: f64 = 12.0;
/// Kept for two lines at the foot, within the margin.
const FOOT: f64 = 10.0;
/// Type sizes: 8.5, 11 and 14 points.
const SIZE: f64 = 3.0;
const CAPTION: f64 = 3.9;
const HEADING: f64 = 5.0;
/// From line to line, of its size.
const LEAD: f64 = 1.25;
/// White between columns, and round the lines of a row.
const PAD: f64 = 2.6;
const ROW: f64 = 1.4;
/// Over a block.
const GAP: f64 = 5.0;
/// Most that a column is wider than its words.
const LOOSE: f64 = 7.0;
/// A longer cell is read from its left end.
const READ: f64 = 28.0;
/// Words that are wider are broken within.
const UNBROKEN: f64 = 60.0;
/// So many rows without heads stand two and two.
const TALL: usize = 12;
/// By so much a drawing may be made smaller: letters of 9 points stay over 8.5.
const SMALLER: f64 = 0.95;
/// Pixels of a scene.
const PIXEL: f64 = 25.4 / 96.0;
/// Most pages: what is over it is not set. The largest design takes a tenth.
const MOST_PAGES: usize = 1000;

/// What an A4 page has between its margins, and letter too.
const ROOM: f64 = 186.0;

/// Lines no longer than a width: broken at blanks, and within words that are longer.
fn lines(words: &str, size: f64, weight: Weight, most: f64) -> Vec<String> {
    let mut all = Vec::new();
    for part in words.split('\n') {
        for line in pdf::wrapped(part, size, weight, most) {
            if pdf::width(&line, size, weight) <= most {
                all.push(line);
                continue;
            }
            let (mut piece, mut long) = (String::new(), 0.0);
            for letter in line.chars() {
                let mut one = [0; 4];
                let width = pdf::width(letter.encode_utf8(&mut one), size, weight);
                if long + width > most && !piece.is_empty() {
                    all.push(mem::take(&mut piece));
                    long = 0.0;
                }
                piece.push(letter);
                long += width;
            }
            all.push(piece);
        }
    }
    all
}

/// How wide a column must be and how wide it would like to be.
#[derive(Clone, Copy, Default)]
struct Width {
    least: f64,
    most: f64,
}

impl Width {
    /// Takes the words of a cell; those of a head may be broken.
    fn take(&mut self, words: &str, head: bool) {
        for part in words.split('\n') {
            for word in part.split(' ') {
                let word = pdf::width(word, SIZE, Weight::Regular).min(UNBROKEN);
                self.least = self.least.max(word);
            }
            if !head {
                self.most = self.most.max(pdf::width(part, SIZE, Weight::Regular));
            }
        }
        self.most = self.most.max(self.least);
    }
}

impl Block {
    /// A table under a title.
    pub fn table(title: String, heads: Vec<[String; 2]>, rows: Vec<Vec<String>>) -> Self {
        Self {
            title,
            heads,
            rows,
            ..Self::default()
        }
    }

    /// A paragraph each.
    pub fn notes(rows: Vec<Vec<String>>) -> Self {
        Self {
            kind: Kind::Notes,
            rows,
            ..Self::default()
        }
    }

    /// A drawing.
    pub fn drawing(title: String, scene: Scene) -> Self {
        Self {
            kind: Kind::Drawing,
            title,
            scene,
            ..Self::default()
        }
    }

    fn widths(&self) -> Vec<Width> {
        let mut widths: Vec<Width> = Vec::new();
        for [label, unit] in &self.heads {
            let mut width = Width::default();
            width.take(label, true);
            width.take(unit, true);
            widths.push(width);
        }
        for row in &self.rows {
            for (i, cell) in row.iter().enumerate() {
                if widths.len() <= i {
                    widths.push(Width::default());
                }
                if let Some(width) = widths.get_mut(i) {
                    width.take(cell, false);
                }
            }
        }
        widths
    }

    /// Puts a table into as many as a page's width takes, the first column in each; a long one without heads stands two and two.
    pub fn on_paper(self, all: &mut Vec<Block>) {
        let widths = self.widths();
        let columns = widths.len();
        if self.kind != Kind::Table || columns == 0 {
            all.push(self);
            return;
        }
        let (mut least, mut most) = (0.0, 0.0);
        for width in &widths {
            least += width.least + PAD;
            most += width.most + PAD;
        }
        if self.heads.is_empty() && columns == 2 && self.rows.len() > TALL && 2.0 * most <= ROOM {
            let half = self.rows.len().div_ceil(2);
            let mut rows: Vec<Vec<String>> = Vec::new();
            for (i, row) in self.rows.into_iter().enumerate() {
                match i.checked_sub(half).and_then(|i| rows.get_mut(i)) {
                    Some(first) => first.extend(row),
                    None => rows.push(row),
                }
            }
            all.push(Self {
                rows,
                ..Self::table(self.title, Vec::new(), Vec::new())
            });
            return;
        }
        if least <= ROOM || columns < 3 {
            all.push(self);
            return;
        }
        // First how many tables it takes, then as many columns in each.
        let mut each = columns;
        let mut parts = split(&widths, each);
        each = (columns - 1).div_ceil(parts.len().max(1));
        parts = split(&widths, each);
        for (from, to) in parts {
            let mut part = Self::table(self.title.clone(), Vec::new(), Vec::new());
            part.heads.extend(self.heads.first().cloned());
            part.heads
                .extend_from_slice(self.heads.get(from..to).unwrap_or(&[]));
            for row in &self.rows {
                let mut cells = Vec::new();
                cells.extend(row.first().cloned());
                let to = to.min(row.len());
                cells.extend_from_slice(row.get(from..to).unwrap_or(&[]));
                part.rows.push(cells);
            }
            all.push(part);
        }
    }
}

/// Columns from and to, beside the first.
fn split(widths: &[Width], each: usize) -> Vec<(usize, usize)> {
    let first = widths.first().map_or(0.0, |width| width.least) + PAD;
    let mut parts = Vec::new();
    let (mut from, mut sum) = (1, first);
    for (i, width) in widths.iter().enumerate().skip(1) {
        if i > from && (sum + width.least + PAD > ROOM || i - from >= each) {
            parts.push((from, i));
            (from, sum) = (i, first);
        }
        sum += width.least + PAD;
    }
    parts.push((from, widths.len()));
    parts
}

/// A row of a table in lines.
type Broken = Vec<Vec<String>>;

/// Columns as they are set.
struct Columns {
    /// Right ends.
    ends: Vec<f64>,
    widths: Vec<f64>,
    /// Which are read from the left.
    left: Vec<bool>,
}

impl Columns {
    fn of(block: &Block, room: f64) -> Self {
        let wanted = block.widths();
        let (mut least, mut most) = (0.0, 0.0);
        for width in &wanted {
            least += width.least;
            most += width.most;
        }
        let n = wanted.len().max(1) as f64;
        // Pairs that stand two and two keep apart.
        let paired = block.heads.is_empty() && wanted.len() == 4;
        let apart = if paired { 3.0 * PAD } else { 0.0 };
        let room = room - n * PAD - apart;
        let loose = ((room - most) / n).max(0.0).min(LOOSE);
        let spare = (room - least) / (most - least).max(0.001);
        let mut columns = Self {
            ends: Vec::new(),
            widths: Vec::new(),
            left: Vec::new(),
        };
        let mut end = MARGIN;
        for (i, width) in wanted.iter().enumerate() {
            let own = if most <= room {
                width.most + loose
            } else if least <= room {
                width.least + spare * (width.most - width.least)
            } else {
                width.least * room / least
            };
            let second = paired && i == 2;
            end += own + PAD + if second { apart } else { 0.0 };
            columns.ends.push(end);
            columns.widths.push(own);
            columns.left.push(i == 0 || second || width.most > READ);
        }
        columns
    }

    fn broken(&self, cells: &[String]) -> Broken {
        let mut all = Vec::new();
        for (cell, width) in cells.iter().zip(&self.widths) {
            // A hair for the rounding of sums.
            all.push(lines(cell, SIZE, Weight::Regular, width + 0.01));
        }
        all
    }
}

fn tallest(row: &Broken) -> usize {
    let mut most = 1;
    for cell in row {
        most = most.max(cell.len());
    }
    most
}

/// Sets page after page.
struct Setter {
    width: f64,
    height: f64,
    pages: Vec<Content>,
    content: Content,
    y: f64,
}

impl Setter {
    fn new(paper: &Paper) -> Self {
        let (width, height) = (1000.0 * paper.width, 1000.0 * paper.height);
        Self {
            width,
            height,
            pages: Vec::new(),
            content: Content::new(pdf::hung(0.001, height)),
            y: MARGIN,
        }
    }

    fn bottom(&self) -> f64 {
        self.height - MARGIN - FOOT
    }

    fn room(&self) -> f64 {
        self.width - 2.0 * MARGIN
    }

    fn fresh(&self) -> Content {
        Content::new(pdf::hung(0.001, self.height))
    }

    /// Goes on with the next page, unless nothing stands on this one.
    fn turn(&mut self) {
        if self.y > MARGIN && self.pages.len() < MOST_PAGES {
            let fresh = self.fresh();
            self.pages.push(mem::replace(&mut self.content, fresh));
        }
        self.y = MARGIN;
    }

    /// Whether so much would stand past the foot.
    fn past(&self, height: f64) -> bool {
        self.y + height > self.bottom()
    }

    fn letter(&mut self, words: &str, at: Point, (size, weight, anchor): (f64, Weight, Anchor)) {
        let mut words = Words::new(words, Role::Note, at, anchor);
        (words.size, words.weight) = (size, weight);
        self.content.words(&words, &printed);
    }

    /// Words over the whole width.
    fn text(&mut self, words: &str, size: f64, weight: Weight) {
        for line in lines(words, size, weight, self.room()) {
            if self.past(LEAD * size) {
                self.turn();
            }
            self.y += LEAD * size;
            let at = Point::new(MARGIN, self.y - 0.3 * size);
            self.letter(&line, at, (size, weight, Anchor::Start));
        }
    }

    fn rule(&mut self, y: f64, to: f64) {
        let path = through(&[Point::new(MARGIN, y), Point::new(to, y)]);
        let stroke = Some(Stroke::new(Role::Dimension, 0.1).square());
        let figure = Figure {
            path,
            fill: None,
            stroke,
        };
        self.content.figure(&figure, &printed);
    }

    /// One row, line by line: a cell longer than a page goes on on the next.
    fn row(&mut self, row: &Broken, columns: &Columns, bottom: bool) {
        let most = tallest(row);
        for k in 0..most {
            if self.past(LEAD * SIZE) {
                self.turn();
            }
            self.y += LEAD * SIZE;
            for (i, cell) in row.iter().enumerate() {
                // Heads stand on the first row, cells hang from the rule.
                let line = if bottom {
                    (k + cell.len()).checked_sub(most)
                } else {
                    Some(k)
                };
                let Some(line) = line.and_then(|line| cell.get(line)) else {
                    continue;
                };
                let end = columns.ends.get(i).copied().unwrap_or(MARGIN);
                let width = columns.widths.get(i).copied().unwrap_or(0.0);
                let (x, anchor) = if columns.left.get(i) == Some(&true) {
                    (end - PAD - width, Anchor::Start)
                } else {
                    (end - PAD, Anchor::End)
                };
                let at = Point::new(x, self.y - 0.3 * SIZE);
                self.letter(line, at, (SIZE, Weight::Regular, anchor));
            }
        }
        self.y += ROW;
    }

    /// A table; its end stands with what comes below it.
    fn table(&mut self, block: &Block, below: f64) {
        let columns = Columns::of(block, self.room());
        let mut rows = Vec::new();
        let height = |row: &Broken| LEAD * SIZE * tallest(row) as f64 + ROW;
        let mut heads: Broken = Vec::new();
        for ([label, unit], width) in block.heads.iter().zip(&columns.widths) {
            let mut head = lines(label, SIZE, Weight::Regular, width + 0.01);
            head.extend(lines(unit, SIZE, Weight::Regular, width + 0.01));
            heads.push(head);
        }
        let mut begin = GAP + 2.0 * LEAD * CAPTION;
        if !heads.is_empty() {
            begin += height(&heads);
        }
        let mut whole = begin;
        for (i, cells) in block.rows.iter().enumerate() {
            let row = columns.broken(cells);
            whole += height(&row);
            if i < 2 {
                begin += height(&row);
            }
            rows.push(row);
        }
        // A short table is not torn for the sake of half a page.
        let page = self.bottom() - MARGIN;
        whole += below;
        if self.past(whole) && (self.past(begin) || whole < 0.4 * page) {
            self.turn();
        } else if self.y > MARGIN {
            self.y += GAP;
        }
        self.heads(block, &heads, &columns);
        let end = columns.ends.last().map_or(MARGIN, |end| end - PAD);
        let last = rows.len().saturating_sub(3);
        for (i, row) in rows.iter().enumerate() {
            let mut tall = height(row);
            if i == last && i > 0 {
                tall = below;
                for row in rows.iter().skip(i) {
                    tall += height(row);
                }
            }
            if self.past(tall) && tall < 0.5 * page {
                self.turn();
                self.heads(block, &heads, &columns);
            }
            self.rule(self.y, end);
            self.y += 0.5 * ROW;
            self.row(row, &columns, false);
            self.y -= 0.5 * ROW;
        }
    }

    fn heads(&mut self, block: &Block, heads: &Broken, columns: &Columns) {
        if !block.title.is_empty() {
            self.text(&block.title, CAPTION, Weight::Strong);
            self.y += 1.0;
        }
        if !heads.is_empty() {
            self.row(heads, columns, true);
            self.y -= 0.5 * ROW;
        }
    }

    /// How tall paragraphs are.
    fn notes(&self, block: &Block) -> f64 {
        let mut tall = 0.5 * GAP;
        for paragraph in block.rows.iter().flatten() {
            let lines = lines(paragraph, SIZE, Weight::Regular, self.room());
            tall += LEAD * SIZE * lines.len() as f64 + 0.6;
        }
        tall
    }

    /// A drawing, a little smaller where what stands below it would need a page of its own.
    fn drawing(&mut self, scene: &Scene, below: f64) {
        let (width, height) = (scene.width * PIXEL, scene.height * PIXEL);
        if !(width > 1.0 && height > 1.0) {
            return;
        }
        // As it was drawn; smaller only where a page has not so much room.
        let page = self.bottom() - MARGIN - GAP - LEAD * HEADING;
        let mut fit = (self.room() / width).min(page / height).min(1.0);
        if self.past(fit * height + GAP) {
            self.turn();
        } else if self.y > MARGIN {
            self.y += 0.5 * GAP;
        }
        let tight = (self.bottom() - self.y - below) / height;
        if tight < fit && tight > SMALLER * fit {
            fit = tight;
        }
        let x = MARGIN + 0.5 * (self.room() - fit * width);
        let place = pdf::hung(0.001, self.height);
        let scale = Affine::translate((x, self.y)) * Affine::scale(fit * PIXEL);
        self.content.placed(place * scale);
        self.content
            .clipped(Rect::new(0.0, 0.0, scene.width, scene.height));
        self.content.fitted = true;
        self.content.scene(scene, &printed);
        self.content.fitted = false;
        self.content.unclipped();
        self.content.placed(place);
        self.y += fit * height;
    }

    fn sheet(&mut self, sheet: &Sheet) {
        self.turn();
        self.text(&sheet.title, HEADING, Weight::Strong);
        for (i, block) in sheet.blocks.iter().enumerate() {
            let next = sheet.blocks.get(i + 1);
            let below = match next {
                Some(notes) if notes.kind == Kind::Notes => self.notes(notes),
                _ => 0.0,
            };
            match block.kind {
                Kind::Table => self.table(block, below),
                Kind::Drawing => self.drawing(&block.scene, below),
                Kind::Notes => {
                    let tall = self.notes(block);
                    if self.past(tall) && tall < 0.5 * self.bottom() {
                        self.turn();
                    } else if self.y > MARGIN {
                        self.y += 0.5 * GAP;
                    }
                    for paragraph in block.rows.iter().flatten() {
                        self.text(paragraph, SIZE, Weight::Regular);
                        self.y += 0.6;
                    }
                }
            }
        }
    }

    /// Foots come last: only then it is known how many pages there are.
    fn finish(mut self, title: &str, foot: &Foot<'_>) -> Vec<u8> {
        self.turn();
        let pages = mem::take(&mut self.pages);
        let count = pages.len() as u32;
        let mut document = Document::new(title);
        for (i, content) in pages.into_iter().enumerate() {
            self.content = content;
            let (left, right) = (MARGIN, self.width - MARGIN);
            let base = self.height - MARGIN;
            self.rule(base - FOOT + 2.0, right);
            let start = (SIZE, Weight::Regular, Anchor::Start);
            self.letter(foot.caution, Point::new(left, base - LEAD * SIZE), start);
            let text = Text::new("dossier.page").with("number", i as u32 + 1);
            let page = foot.words.say(&text.with("count", count), Units::METRIC);
            let long = pdf::width(&page, SIZE, Weight::Regular);
            let name = lines(foot.name, SIZE, Weight::Regular, right - left - long - PAD);
            let name = name.first().map_or("", String::as_str);
            self.letter(name, Point::new(left, base), start);
            let end = (SIZE, Weight::Regular, Anchor::End);
            self.letter(&page, Point::new(right, base), end);
            let content = self.fresh();
            let content = mem::replace(&mut self.content, content);
            document.page(0.001 * self.width, 0.001 * self.height, content);
        }
        document.finish()
    }
}

fn printed(role: Role) -> crate::Ink {
    ink(role, Scheme::Print)
}

/// The sheets as PDF, a title for the reader's window.
pub fn write(sheets: &[Sheet], paper: &Paper, title: &str, foot: &Foot<'_>) -> Vec<u8> {
    let mut setter = Setter::new(paper);
    let mut begins = Vec::new();
    for sheet in sheets {
        setter.turn();
        begins.push(setter.pages.len() + 1);
        setter.sheet(sheet);
    }
    // Only now it is known what the contents, the last table of the title, lead to: that sheet is set again.
    let mut first = sheets.first().cloned().unwrap_or_default();
    let mut tables = first.blocks.iter_mut();
    if let Some(contents) = tables.rfind(|block| block.kind == Kind::Table)
        && first.part == "title"
        && contents.rows.len() + 1 == sheets.len()
    {
        for (row, page) in contents.rows.iter_mut().zip(begins.iter().skip(1)) {
            row.push(fixed(*page as f64, 0));
        }
        let mut again = Setter::new(paper);
        again.sheet(&first);
        again.turn();
        if begins.get(1) == Some(&(again.pages.len() + 1)) {
            for (old, new) in setter.pages.iter_mut().zip(again.pages) {
                *old = new;
            }
        }
    }
    setter.finish(title, foot)
}
