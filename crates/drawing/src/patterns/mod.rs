//! Patterns on paper: every piece of cloth at its own size, on pages to be laid together, on a plotter's roll, for a cutter, as a
//! table, and as what a loftsman strikes on a floor.
//!
//! Drawings of pieces are scenes in millimetres, y down.

mod loft;
pub(crate) mod page;
mod piece;
mod tiles;

use cloth::{Input, Of, Patterns, Piece, Role as Part, Seam};
use geometry::MOST_PANELS;
use kurbo::Point;
use quantities::csv::Lines;
use quantities::units::{self, INCH, fixed};
use quantities::{Arg, Catalogue, Text, UnitKind, Units};

pub use piece::Drawn;
pub use tiles::{MOST_PAGES, Paper, TooMany};

use crate::palette::{Ink, Role};
use crate::{pdf, svg};

/// How far a batten may be off its length [m]. Common practice.
pub const BATTEN_TOLERANCE: f64 = 0.003;
/// How far a panel's diagonal may be off [m]. Common practice.
pub const DIAGONAL_TOLERANCE: f64 = 0.005;

/// Side of the square that shows whether a printer has kept the scale [m].
pub const CHECK_SQUARE: f64 = 0.100;

/// Corners of a piece: lower fore, lower after, upper after, upper fore.
const CORNERS: [&str; 4] = ["A", "B", "C", "D"];

/// Edges of a piece by its corners: lower, after, upper, fore; its diagonals.
const EDGES: [&str; 6] = ["A–B", "B–C", "D–C", "A–D", "A–C", "B–D"];

/// What the papers of a sail's patterns are made from.
#[derive(Clone, Copy)]
pub struct Papers<'a> {
    /// What the patterns were made from.
    pub input: &'a Input,
    /// The patterns.
    pub patterns: &'a Patterns,
    /// The language.
    pub words: &'a Catalogue,
    /// The units.
    pub units: Units,
    /// Name of design and sail, as it heads each paper.
    pub title: &'a str,
}

impl Papers<'_> {
    /// Every piece drawn, then every corner patch. What has a point that is no number, or is larger than any sail, is left out.
    pub fn drawn(&self) -> Vec<Drawn> {
        let mut all = Vec::new();
        for (i, piece) in self.patterns.pieces.iter().enumerate() {
            all.extend(self.piece(i, piece));
        }
        for patch in &self.patterns.patches {
            all.extend(self.patch(patch));
        }
        all
    }

    /// The pages of all pieces at their own size: on paper to be laid together, or on a roll.
    ///
    /// # Errors
    /// Where more pages would be needed than [`MOST_PAGES`].
    pub fn pdf(&self, paper: &Paper) -> Result<Vec<u8>, TooMany> {
        tiles::write(self, &self.once(), paper)
    }

    /// As [`Self::drawn`], but of pieces that are cut alike the first alone.
    pub fn once(&self) -> Vec<Drawn> {
        let alike = self.patterns.alike();
        let mut all = Vec::new();
        for drawn in self.drawn() {
            if drawn.piece.is_none_or(|i| alike.get(i) == Some(&i)) {
                all.push(drawn);
            }
        }
        all
    }

    /// How many times a piece is cut and for which, told with the first of those that are alike; with the others, as which. Empty for a
    /// piece like no other.
    pub fn alike(&self, alike: &[usize], piece: usize) -> String {
        let (Some(first), Some(of)) = (alike.get(piece), self.patterns.pieces.get(piece)) else {
            return String::new();
        };
        if *first != piece {
            let first = self.patterns.pieces.get(*first);
            let first = first.map_or_else(String::new, |first| self.name(first));
            return self.say("pattern.as", &[("piece", &first)]);
        }
        let (mut n, mut over, mut list) = (0.0, 0.0, String::new());
        for (other, as_first) in self.patterns.pieces.iter().zip(alike) {
            if as_first == first {
                n += 1.0;
                if cloth::alike::mirrored(of, other) {
                    over += 1.0;
                }
                list.push_str(if list.is_empty() { "" } else { "; " });
                list.push_str(&self.name(other));
            }
        }
        if n < 2.0 {
            return String::new();
        }
        let [n, over_said] = [n, over].map(|n| fixed(n, 0));
        let parts: &[_] = &[("n", &*n), ("over", &*over_said), ("list", &*list)];
        let key = if over > 0.0 {
            "pattern.cut_mirrored"
        } else {
            "pattern.cut_alike"
        };
        self.say(key, parts)
    }

    /// The pages of some of what is [`Papers::drawn`].
    ///
    /// # Errors
    /// As [`Papers::pdf`].
    pub fn pdf_of(&self, some: &[Drawn], paper: &Paper) -> Result<Vec<u8>, TooMany> {
        tiles::write(self, some, paper)
    }

    /// How many pages those are.
    ///
    /// # Errors
    /// As [`Papers::pdf`].
    pub fn pages_of(&self, some: &[Drawn], paper: &Paper) -> Result<usize, TooMany> {
        tiles::pages(some, paper)
    }

    /// Dimensions for striking the pieces on a floor, a page each, on the paper given.
    pub fn lofting(&self, paper: &Paper) -> Vec<u8> {
        let mut document = pdf::Document::new(&self.heading("pattern.lofting"));
        for piece in self.patterns.pieces.iter().take(MOST_PAGES) {
            if let Some(scene) = self.lofted(piece, paper) {
                let mut content = pdf::Content::new(pdf::hung(0.001, scene.height));
                content.scene(&scene, &ink);
                document.page(0.001 * scene.width, 0.001 * scene.height, content);
            }
        }
        document.finish()
    }

    /// A piece for a cutter: millimetres, what is cut apart from what is marked.
    pub fn svg(&self, drawn: &Drawn) -> String {
        svg::write_layers(
            &[("cut", &drawn.cut), ("mark", &drawn.marks)],
            &|role| match role {
                Role::ClothEdge => Ink::hex(0xff0000),
                _ => Ink::hex(0x0000ff),
            },
        )
    }

    /// Offsets of all pieces, then lengths of their edges: millimetres or inches, x along the line from the lower fore to the lower
    /// after corner, y square to it.
    pub fn csv(&self) -> String {
        let mut lines = Lines::new(self.units);
        self.heads(&mut lines, &["pattern.place", "x", "y"], 1);
        for piece in &self.patterns.pieces {
            for i in [0, 2, 3, 1] {
                for (share, at) in laid_out(piece, i) {
                    // As on the screen: 1/8 would be read as a day of January.
                    let share = self.units.fixed(100.0 * share, 1);
                    self.cells(&mut lines, piece, i, share, &[at.x, at.y]);
                }
            }
        }
        lines.text.push_str("\r\n");
        let heads = ["pattern.length", "pattern.finished", "pattern.allowance"];
        self.heads(&mut lines, &heads, 0);
        for piece in &self.patterns.pieces {
            for (i, edge) in piece.edges.iter().enumerate() {
                let length = self.plain(edge.length);
                self.cells(
                    &mut lines,
                    piece,
                    i,
                    length,
                    &[edge.finished, edge.allowance],
                );
            }
            for (i, diagonal) in piece.diagonals.into_iter().enumerate() {
                self.cells(&mut lines, piece, 4 + i, self.plain(diagonal), &[]);
            }
        }
        lines.text
    }

    /// Heads of a table with their units: shares, then lengths.
    fn heads(&self, lines: &mut Lines, keys: &[&str], shares: usize) {
        let unit = if self.units.imperial() { "in" } else { "mm" };
        let mut heads = vec![
            self.word("pattern.piece_head"),
            self.word("pattern.edge_head"),
        ];
        for (i, key) in keys.iter().enumerate() {
            let label = self.words.word(key);
            let unit = if i < shares { "%" } else { unit };
            heads.push(self.say("csv.heading", &[("label", label), ("unit", unit)]));
        }
        lines.push(&heads);
    }

    fn cells(&self, lines: &mut Lines, piece: &Piece, edge: usize, first: String, lengths: &[f64]) {
        let mut numbers = vec![first];
        for length in lengths {
            numbers.push(self.plain(*length));
        }
        lines.push_named(&[self.name(piece), self.edge(piece, edge)], &numbers);
    }

    /// A sentence with words in its places.
    pub(crate) fn say(&self, key: &'static str, parts: &[(&'static str, &str)]) -> String {
        let mut text = Text::new(key);
        for (name, words) in parts {
            text.args.push((name, Arg::Plain(words.to_string())));
        }
        self.words.say(&text, self.units)
    }

    /// The same with a number for `n`.
    fn count(&self, key: &'static str, name: &'static str, n: usize) -> String {
        let mut text = Text::new(key);
        text.args.push((name, Arg::Number(n as u32)));
        self.words.say(&text, self.units)
    }

    pub(crate) fn word(&self, key: &str) -> String {
        self.words.word(key).to_string()
    }

    /// Panels that cannot be cut, and so are in none of it: their numbers, neighbours as from – to. Empty where the sail is whole.
    pub fn without(&self) -> String {
        let all = !self.input.faults().is_empty();
        let missing = |panel| {
            (1..=self.input.panels()).contains(&panel)
                && (all || self.input.panel_fault(panel).is_some())
        };
        let (mut list, mut n) = (String::new(), 0_u32);
        for panel in 1..=self.input.panels().min(MOST_PANELS) {
            if !missing(panel) {
                continue;
            }
            n += 1;
            let within = missing(panel - 1);
            if within && missing(panel + 1) {
                continue;
            }
            if !list.is_empty() {
                list.push_str(if within { "–" } else { ", " });
            }
            list.push_str(&fixed(panel as f64, 0));
        }
        if n == 0 {
            return list;
        }
        let text = Text::new("pattern.panels").with("list", list);
        self.words.say(&text.with("n", n), self.units)
    }

    /// What a page says of panels that are not in the papers; empty where all are.
    pub(crate) fn said_without(&self) -> String {
        let panels = self.without();
        if panels.is_empty() {
            return panels;
        }
        self.say("pattern.without", &[("panels", &panels)])
    }

    /// What a paper is, and of which sail.
    fn heading(&self, key: &str) -> String {
        self.part(self.title, self.words.word(key))
    }

    fn part(&self, piece: &str, what: &str) -> String {
        self.say("pattern.part", &[("piece", piece), ("what", what)])
    }

    /// Name of a piece.
    pub fn name(&self, piece: &Piece) -> String {
        let mut name = self.count("pattern.panel", "n", piece.panel);
        let part = match piece.of {
            Of::Whole => "",
            Of::Fore => "pattern.fore",
            Of::After => "pattern.after",
            Of::PortSkin => "pattern.port",
            Of::StarboardSkin => "pattern.starboard",
        };
        let role = match piece.role {
            Part::Cloth | Part::Body => "",
            Part::ShelfBelow => "pattern.shelf_below",
            Part::ShelfAbove => "pattern.shelf_above",
        };
        for what in [part, role] {
            if !what.is_empty() {
                name = self.part(&name, self.words.word(what));
            }
        }
        name
    }

    /// Name of an edge (0 to 3) or a diagonal by its corners and what it is made fast to.
    pub fn edge(&self, piece: &Piece, i: usize) -> String {
        let seam = match piece.edges.get(i) {
            Some(edge) => self.seam(edge.seam),
            None => self.word("label.panel_diagonal"),
        };
        let mut name = EDGES.get(i).unwrap_or(&"").to_string();
        name.push(' ');
        name.push_str(&seam);
        name
    }

    /// Name of what an edge is made fast to.
    fn seam(&self, seam: Seam) -> String {
        self.word(match seam {
            Seam::Spar(0) => "spar.boom",
            Seam::Spar(spar) if spar >= self.input.panels() => "spar.yard",
            Seam::Spar(spar) => return self.count("spar.batten", "number", spar),
            Seam::Luff => "label.luff_length",
            Seam::Leech => "label.leech_length",
            Seam::Slot => "pattern.slot",
            Seam::Shelf => "pattern.shelf",
            Seam::Skin => "pattern.skin",
            Seam::Join => "pattern.join",
        })
    }

    /// A length on the floor: millimetres, or feet and inches.
    pub(crate) fn length(&self, metres: f64) -> String {
        if self.units.imperial() {
            spelled(UnitKind::Length, metres, self.units)
        } else {
            self.fine(metres)
        }
    }

    /// A small length: millimetres or inches.
    fn fine(&self, metres: f64) -> String {
        spelled(UnitKind::Fine, metres, self.units)
    }

    /// A number for a table, to a tenth of a millimetre or a hundredth of an inch.
    fn plain(&self, metres: f64) -> String {
        if self.units.imperial() {
            self.units.fixed(metres / INCH, 2)
        } else {
            self.units.fixed(1000.0 * metres, 1)
        }
    }
}

/// Shares and points of an edge that are laid out: of a long edge at the stations, of a short one a quarter, half and three quarters up.
fn laid_out(piece: &Piece, i: usize) -> Vec<(f64, Point)> {
    let mut all = Vec::new();
    if i & 1 == 0 {
        for offset in &piece.offsets {
            all.push((offset.share, if i == 0 { offset.low } else { offset.up }));
        }
        return all;
    }
    let edge = &piece.edges[i];
    let last = edge.points.len().saturating_sub(1);
    if edge.length > 0.01 {
        for quarter in 1..4 {
            let k = last * quarter / 4;
            // The fore edge is listed from its upper end.
            let at = edge.points.get(if i == 3 { last - k } else { k });
            all.extend(at.map(|at| (0.25 * quarter as f64, *at)));
        }
    }
    all
}

fn spelled(kind: UnitKind, metres: f64, units: Units) -> String {
    let mut number = units::spell(kind, 0, metres, units);
    let unit = units::label(kind, units);
    if !unit.is_empty() {
        number.push('\u{a0}');
        number.push_str(unit);
    }
    number
}

/// Inks of patterns: black for the pattern, red for what belongs to the paper, pale for what lies under both.
fn ink(role: Role) -> Ink {
    match role {
        Role::Accent => Ink::hex(0xe04a1a),
        Role::Number => Ink::hex(0xe2e2e2),
        Role::Paper => Ink::hex(0xffffff),
        _ => Ink::hex(0x000000),
    }
}
