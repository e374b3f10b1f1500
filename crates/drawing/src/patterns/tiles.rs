//! Pieces at their own size, in pages that are laid together or on a roll.

use cloth::Piece;
use kurbo::{Affine, Line, PathEl, Point, Rect, Vec2};
use quantities::Text;
use quantities::units::fixed;

use super::page::{Page, letter};
use super::{Drawn, Papers, ink};
use crate::palette::Role;
use crate::pdf::{self, Content, Document};
use crate::scene::{Anchor, Dash, Figure, Item, Scene, Stroke, Weight, Words, boxed, circle};

/// Most pages of one file.
pub const MOST_PAGES: usize = 2000;

/// Most columns or rows of a piece's pages.
const MOST_CELLS: f64 = 1000.0;

/// What the patterns are printed on. Lengths in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// Upright.
    pub width: f64,
    /// Upright; of a roll the longest page.
    pub height: f64,
    /// What a printer leaves white on each side (0.010).
    pub margin: f64,
    /// By how much neighbouring pages overlap (0.010).
    pub overlap: f64,
    /// Cut from a roll, as long as the piece needs.
    pub roll: bool,
}

impl Paper {
    /// ISO 216, A4.
    pub const A4: Self = Self::of(0.210, 0.297);
    /// ISO 216, A3.
    pub const A3: Self = Self::of(0.297, 0.420);
    /// 8 1/2 by 11 inches.
    pub const LETTER: Self = Self::of(0.2159, 0.2794);

    const fn of(width: f64, height: f64) -> Self {
        Self {
            width,
            height,
            margin: 0.010,
            overlap: 0.010,
            roll: false,
        }
    }

    /// A plotter's roll of a width [m].
    pub const fn roll(width: f64) -> Self {
        Self {
            roll: true,
            ..Self::of(width, pdf::LONGEST)
        }
    }

    /// Width, height and margin [mm].
    pub(super) fn mm(&self) -> (f64, f64, f64) {
        let [width, height, margin] = [self.width, self.height, self.margin];
        (1000.0 * width, 1000.0 * height, 1000.0 * margin)
    }

    /// What words and tables are printed on: a page of a roll is A4.
    pub(super) fn page(&self) -> Self {
        if self.roll {
            Self {
                margin: self.margin,
                ..Self::A4
            }
        } else {
            *self
        }
    }
}

/// More pages than one file may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooMany {
    /// How many it would take; at least so many.
    pub pages: usize,
}

impl TooMany {
    /// What to say about it.
    pub fn text(self) -> Text {
        Text::new("pattern.too_many")
            .with("n", self.pages.min(999_999) as u32)
            .with("most", MOST_PAGES as u32)
    }
}

/// A caption's height at the foot of each page [mm].
const CAPTION: f64 = 5.0;

/// How a drawing is divided into pages [mm].
struct Grid {
    /// Page.
    width: f64,
    height: f64,
    margin: f64,
    overlap: f64,
    /// What a page shows besides its overlap.
    cell: [f64; 2],
    columns: usize,
    rows: usize,
    /// Which have something to show, row by row from the top.
    inked: Vec<bool>,
}

impl Grid {
    fn of(drawn: &Drawn, paper: &Paper, lying: bool) -> Option<Self> {
        let (mut width, mut height, margin) = paper.mm();
        if lying {
            (width, height) = (height, width);
        }
        let overlap = 1000.0 * paper.overlap;
        let lost = 2.0 * margin + overlap;
        let mut cell = [width - lost, height - lost - CAPTION];
        let scene = &drawn.cut;
        // Marks need this much; a number that is none fails as well.
        if !(cell[0].min(cell[1]) >= 20.0 && margin >= 0.0 && overlap >= 0.0) {
            return None;
        }
        let mut columns = (scene.width / cell[0]).ceil();
        if paper.roll {
            // All pages as long as each other, and no longer than needed.
            cell[0] = (scene.width / columns).max(20.0);
            columns = (scene.width / cell[0]).ceil().max(1.0);
            width = cell[0] + lost;
        }
        let rows = (scene.height / cell[1]).ceil();
        if !(columns * rows >= 1.0 && columns.max(rows) <= MOST_CELLS) {
            return None;
        }
        let mut grid = Self {
            width,
            height,
            margin,
            overlap,
            cell,
            columns: columns as usize,
            rows: rows as usize,
            inked: vec![false; (columns * rows) as usize],
        };
        for item in scene.items.iter().chain(&drawn.marks.items) {
            match item {
                Item::Figure(figure) => grid.ink_figure(figure),
                Item::Words(words) => grid.ink_box(pdf::bounds(words)),
            }
        }
        Some(grid)
    }

    fn pages(&self) -> usize {
        self.inked.iter().filter(|inked| **inked).count()
    }

    /// Columns and rows that a box touches.
    fn touched(&self, box_: Rect) -> [(usize, usize); 2] {
        let span = |from: f64, to: f64, cell: f64, n: usize| {
            let last = n.saturating_sub(1);
            let place = |x: f64| ((x / cell).floor().max(0.0) as usize).min(last);
            (place(from), place(to))
        };
        [
            span(box_.x0, box_.x1, self.cell[0], self.columns),
            span(box_.y0, box_.y1, self.cell[1], self.rows),
        ]
    }

    fn ink_box(&mut self, box_: Rect) {
        let [(left, right), (top, bottom)] = self.touched(box_);
        for row in top..=bottom {
            for column in left..=right {
                self.inked[row * self.columns + column] = true;
            }
        }
    }

    /// Our figures are made of straight lines.
    fn ink_figure(&mut self, figure: &Figure) {
        let half = figure.stroke.map_or(0.0, |stroke| 0.5 * stroke.weight);
        let (mut first, mut last) = (Point::ORIGIN, Point::ORIGIN);
        for element in figure.path.elements() {
            let next = match *element {
                PathEl::MoveTo(p) => {
                    (first, last) = (p, p);
                    continue;
                }
                PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => p,
                PathEl::ClosePath => first,
            };
            self.ink_line(Line::new(last, next), half);
            last = next;
        }
    }

    fn ink_line(&mut self, line: Line, half: f64) {
        let box_ = Rect::from_points(line.p0, line.p1).inflate(half, half);
        let [(left, right), (top, bottom)] = self.touched(box_);
        for row in top..=bottom {
            for column in left..=right {
                let cell = self.cell_box(column, row).inflate(half, half);
                if crosses(line, cell) {
                    self.inked[row * self.columns + column] = true;
                }
            }
        }
    }

    fn cell_box(&self, column: usize, row: usize) -> Rect {
        let corner = Point::new(column as f64 * self.cell[0], row as f64 * self.cell[1]);
        Rect::from_origin_size(corner, (self.cell[0], self.cell[1]))
    }

    /// Name of a page: its column's letter and its row's number.
    fn name(column: usize, row: usize) -> String {
        let mut name = String::new();
        let mut place = column + 1;
        // Twenty-six letters, then two: never more than a thousand columns.
        for _ in 0..3 {
            if place > 0 {
                place -= 1;
                name.insert(0, char::from(b'A' + (place % 26) as u8));
                place /= 26;
            }
        }
        name.push_str(&fixed((row + 1) as f64, 0));
        name
    }
}

/// Whether a line has a point in a box: neither lies beyond a side of the other.
fn crosses(line: Line, box_: Rect) -> bool {
    let way = line.p1 - line.p0;
    let side = |x: f64, y: f64| way.cross(Point::new(x, y) - line.p0);
    let corners = [
        side(box_.x0, box_.y0),
        side(box_.x1, box_.y0),
        side(box_.x0, box_.y1),
        side(box_.x1, box_.y1),
    ];
    let (mut above, mut below) = (false, false);
    for corner in corners {
        above |= corner >= 0.0;
        below |= corner <= 0.0;
    }
    let span = Rect::from_points(line.p0, line.p1);
    let apart = span.x0 > box_.x1 || span.x1 < box_.x0 || span.y0 > box_.y1 || span.y1 < box_.y0;
    above && below && !apart
}

/// How all are divided, each as it takes fewest pages.
fn divided(all: &[Drawn], paper: &Paper) -> Result<(Vec<Grid>, usize), TooMany> {
    let mut grids = Vec::new();
    let mut pages = 0;
    for drawn in all {
        let lying = Grid::of(drawn, paper, true);
        let upright = if paper.roll {
            None
        } else {
            Grid::of(drawn, paper, false)
        };
        let best = match (upright, lying) {
            (Some(a), Some(b)) if b.pages() < a.pages() => Some(b),
            (a, b) => a.or(b),
        };
        // Paper that is too small for its margins would take pages without end.
        let Some(grid) = best else {
            return Err(TooMany { pages: usize::MAX });
        };
        pages += grid.pages() + usize::from(drawn.piece.is_some());
        grids.push(grid);
    }
    if pages > MOST_PAGES {
        return Err(TooMany { pages });
    }
    Ok((grids, pages))
}

/// How many pages [`write`] makes.
pub(super) fn pages(all: &[Drawn], paper: &Paper) -> Result<usize, TooMany> {
    Ok(divided(all, paper)?.1)
}

/// All pages: for each piece a map of its pages, then those of them that have something to show.
pub(super) fn write(papers: &Papers, all: &[Drawn], paper: &Paper) -> Result<Vec<u8>, TooMany> {
    let (grids, _) = divided(all, paper)?;
    let mut document = Document::new(&papers.heading("pattern.patterns"));
    for (drawn, grid) in all.iter().zip(&grids) {
        let piece = drawn.piece.and_then(|i| papers.patterns.pieces.get(i));
        if let Some(piece) = piece {
            papers.map(&mut document, drawn, piece, grid, &paper.page());
        }
        let scene = &drawn.cut;
        let mut content = Content::new(pdf::hung(0.001, scene.height));
        content.scene(scene, &ink);
        content.scene(&drawn.marks, &ink);
        let form = document.form(0.001 * scene.width, 0.001 * scene.height, content);
        for (k, inked) in grid.inked.iter().enumerate() {
            if *inked {
                let place = (k % grid.columns, k / grid.columns);
                let content = papers.tile(drawn, grid, place, form);
                document.page(0.001 * grid.width, 0.001 * grid.height, content);
            }
        }
    }
    Ok(document.finish())
}

impl Papers<'_> {
    /// One page of a piece.
    fn tile(
        &self,
        drawn: &Drawn,
        grid: &Grid,
        (column, row): (usize, usize),
        form: pdf::Form,
    ) -> Content {
        let name = Grid::name(column, row);
        let half = 0.5 * grid.overlap;
        // From the drawing to the page, both in millimetres with y down.
        let cell = grid.cell_box(column, row);
        let to_page = Vec2::new(grid.margin + half, grid.margin + half) - cell.origin().to_vec2();
        let on_page = pdf::hung(0.001, grid.height);
        let mut content = Content::new(on_page * Affine::translate(to_page));
        content.clipped(cell.inflate(half, half));
        let mut under = Scene::default();
        let size = 0.25 * grid.cell[0].min(grid.cell[1]).min(200.0);
        let middle = cell.center() + Vec2::new(0.0, 0.35 * size);
        let mut pale = Words::new(name.clone(), Role::Number, middle, Anchor::Middle);
        (pale.size, pale.weight) = (size, Weight::Strong);
        under.words(pale);
        let stroke = Stroke::new(Role::Accent, 0.15);
        under.stroke(boxed(cell), stroke.dashed(Dash::Dashed));
        let arm = half.min(4.0);
        for corner in 0..4 {
            let x = if corner & 1 == 0 { cell.x0 } else { cell.x1 };
            let y = if corner & 2 == 0 { cell.y0 } else { cell.y1 };
            let at = Point::new(x, y);
            for way in [Vec2::new(arm, 0.0), Vec2::new(0.0, arm)] {
                under.line(at - way, at + way, stroke);
            }
            under.stroke(circle(at, 0.5 * arm), stroke);
        }
        content.scene(&under, &ink);
        content.form(form, Point::new(0.0, drawn.cut.height), 1.0);
        content.unclipped();
        content.placed(on_page);
        let mut caption = Scene::default();
        let y = grid.height - grid.margin - 1.0;
        let at = Point::new(grid.margin, y);
        let set = (3.0, Weight::Regular, Anchor::Start);
        letter(&mut caption, &self.part(&drawn.name, &name), at, set);
        let at = Point::new(grid.width - grid.margin, y);
        let set = (3.0, Weight::Regular, Anchor::End);
        letter(&mut caption, self.title, at, set);
        content.scene(&caption, &ink);
        content
    }

    /// The page before those of a piece: how they lie, the square to measure, the lengths to true it up by.
    fn map(
        &self,
        document: &mut Document,
        drawn: &Drawn,
        piece: &Piece,
        grid: &Grid,
        paper: &Paper,
    ) {
        let (width, height, margin) = paper.mm();
        let mut page = Page::new(width, height, margin);
        self.head(&mut page, &drawn.name);
        let alike = self.patterns.alike();
        let said = self.alike(&alike, drawn.piece.unwrap_or(usize::MAX));
        page.text(&said, 3.5, Weight::Strong);
        let foot = height - margin - 105.0;
        let room = (foot - page.y - 55.0).max(10.0);
        let whole = [
            grid.columns as f64 * grid.cell[0],
            grid.rows as f64 * grid.cell[1],
        ];
        let scale = ((width - 2.0 * margin) / whole[0]).min(room / whole[1]);
        let origin = Vec2::new(0.5 * (width - scale * whole[0]), page.y);
        // In the drawing's own millimetres.
        let mut cells = Scene::default();
        let size = (0.35 * grid.cell[0])
            .min(0.6 * grid.cell[1])
            .min(6.0 / scale);
        for (k, inked) in grid.inked.iter().enumerate() {
            if *inked {
                let (column, row) = (k % grid.columns, k / grid.columns);
                let cell = grid.cell_box(column, row);
                cells.stroke(boxed(cell), Stroke::new(Role::Accent, 0.15));
                let at = cell.center() + Vec2::new(0.0, 0.35 * size);
                let set = (size, Weight::Regular, Anchor::Middle);
                letter(&mut cells, &Grid::name(column, row), at, set);
            }
        }
        let on_page = pdf::hung(0.001, height);
        let scaled = Affine::new([scale, 0.0, 0.0, scale, origin.x, origin.y]);
        let mut content = Content::new(on_page * scaled);
        content.scene(&cells, &ink);
        content.scene(&drawn.cut, &ink);
        page.y += scale * whole[1] + 2.0;
        self.lengths(&mut page, piece, true);
        self.said_laps(&mut page, piece);
        self.check_square(&mut page.scene, Point::new(margin, height - margin));
        page.left = margin + 106.0;
        page.y = height - margin - 102.0;
        page.text(self.words.word("pattern.print"), 3.4, Weight::Strong);
        let overlap = self.fine(0.001 * grid.overlap);
        let text = self.say("pattern.glue", &[("overlap", &overlap)]);
        page.text(&text, 3.0, Weight::Regular);
        page.text(self.words.word("pattern.lines"), 3.0, Weight::Regular);
        self.cautions(&mut page);
        content.placed(on_page);
        content.scene(&page.scene, &ink);
        document.page(0.001 * width, 0.001 * height, content);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::through;

    #[test]
    fn columns_go_on_after_the_alphabet() {
        let names = [0, 25, 26, 27, 701, 702].map(|column| Grid::name(column, 11));
        assert_eq!(names, ["A12", "Z12", "AA12", "AB12", "ZZ12", "AAA12"]);
    }

    #[test]
    fn a_line_crosses_a_box_or_does_not() {
        let box_ = Rect::new(0.0, 0.0, 10.0, 10.0);
        let line = |a: (f64, f64), b: (f64, f64)| Line::new(a, b);
        assert!(crosses(line((-5.0, 5.0), (15.0, 6.0)), box_));
        assert!(crosses(line((2.0, 2.0), (3.0, 3.0)), box_));
        assert!(crosses(line((-1.0, 9.5), (1.0, 10.2)), box_));
        assert!(!crosses(line((-5.0, 5.0), (5.0, 16.0)), box_));
        assert!(!crosses(line((11.0, 0.0), (11.0, 10.0)), box_));
        assert!(crosses(line((4.0, 4.0), (4.0, 4.0)), box_));
    }

    #[test]
    fn a_line_of_the_drawing_stays_on_its_pages() {
        let mut drawn = Drawn::default();
        drawn.cut = Scene::new(1000.0, 600.0);
        drawn.marks = drawn.cut.clone();
        let points = [Point::new(5.0, 300.0), Point::new(995.0, 300.0)];
        drawn
            .cut
            .stroke(through(&points), Stroke::new(Role::ClothEdge, 0.4));
        let grid = Grid::of(&drawn, &Paper::A4, false).unwrap();
        assert_eq!((grid.columns, grid.rows), (6, 3));
        assert_eq!(grid.pages(), 6);
        assert!(grid.inked[6..12].iter().all(|inked| *inked));
    }
}
