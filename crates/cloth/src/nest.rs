//! Laying pieces on the roll, warp along it.
//!
//! Own work: the placement is a page of code, while the general packing crates bring a solver, threads and random numbers that the
//! download has no room for.

use kurbo::{Point, Vec2};

use crate::Fault;
use crate::outline::area;

/// A piece to be laid on the roll.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Blank {
    /// What to cut, allowances included, counter-clockwise [m].
    pub outline: Vec<Point>,
    /// Way of the warp in the outline's own axes.
    pub warp: Vec2,
    /// Whether it may be sewn together from several widths.
    pub seams: bool,
}

/// A piece, or one width of it, on the roll: x along the roll, y across it from the selvage [m].
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Laid {
    /// Number of its blank.
    pub blank: usize,
    /// Which width of it, from 0.
    pub width: usize,
    /// How many widths it has.
    pub widths: usize,
    /// Outline on the roll.
    pub outline: Vec<Point>,
}

/// The roll laid out.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Layout {
    /// Everything laid, in the order it was laid.
    pub laid: Vec<Laid>,
    /// Cloth to order along the roll [m].
    pub length: f64,
    /// Share of it that falls off.
    pub waste: f64,
    /// Seams between widths, all together [m].
    pub seams: f64,
}

/// Height of a band across the roll [m]: pieces are kept apart band by band, so up to this is lost between two rows.
const BAND: f64 = 0.005;
/// Every how many bands a piece is tried: the large ones while their order is sought, and all in the end.
const COARSE: usize = 16;
const STEP: usize = 5;
/// Most bands; those of a wider roll are higher.
const MOST_BANDS: usize = 800;
/// Most pieces that are laid.
const MOST_PIECES: usize = 400;
/// Most points of all outlines together.
const MOST_POINTS: usize = 200_000;
/// An order is kept that is no worse than what was kept so many tries before: so a dead end is left again.
const LATE: usize = 100;
/// Most of `effort`, and the work to each unit of it, bars looked up and heights tried: two seconds or so for what is ordered.
const MOST_EFFORT: usize = 2000;
const WORK: usize = 50_000;
/// How much is done is told every so many tries.
const TOLD: usize = 50;
/// Where the search begins.
pub(crate) const SEED: u32 = 12345;
/// Most orders tried in a row.
const MOST_TRIES: usize = 100_000;
/// How many searches are begun, each with a tenth of the work; the best goes on.
const STARTS: usize = 3;
/// Most bars kept: 32 MB.
const MOST_BARS: usize = 4_000_000;
/// Micrometres to the metre. Places along the roll are whole ones, so that wasm and native, whose maths differ in the last digits, lay
/// alike.
const MICRO: f64 = 1e6;

/// A piece as its bands see it, lying with its least y at nought.
struct Shape {
    blank: usize,
    width: usize,
    widths: usize,
    outline: Vec<Point>,
    area: f64,
    /// Length along the roll [µm].
    length: f64,
    /// Bands it takes up across the roll.
    rows: usize,
    /// As laid and turned round: its one part, or two for a piece with a hollow, by their numbers.
    parts: [Vec<usize>; 2],
}

/// Foremost and aftermost in each band [µm]; infinite where there is nothing.
type Bands = Vec<(f64, f64)>;

/// Which way round a piece may lie.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Either,
    Only(usize),
}

/// Where a piece lies.
#[derive(Clone, Copy, Default)]
struct Place {
    x: f64,
    band: usize,
    turned: usize,
}

/// Lays all blanks on a roll of a width [m], the warp along it either way round; a blank too wide for it is cut in widths that overlap by
/// `seam` [m]. More orders are tried
/// after the first, largest first, until the work of an `effort` (0 to 2,000) is done. Fault::Roll where a blank without seams does not fit.
///
/// A piece, or either half of one with a hollow, takes in every band across the roll all from its foremost to its aftermost point; against each
/// piece that lies, and at each height, the places where it would overlap are then a few intervals along the roll. It is laid where it
/// ends earliest. No piece ever overlaps another. Several searches are begun, and the best of them goes on.
pub fn nest(blanks: &[Blank], roll: f64, seam: f64, effort: usize) -> Result<Layout, Fault> {
    nest_from(blanks, roll, seam, effort, (SEED, &|_| {}))
}

/// As [`nest`], the search begun from a seed: how much hangs on that is tested. What comes with it hears the share of the work that is done.
pub fn nest_from(
    blanks: &[Blank],
    roll: f64,
    seam: f64,
    effort: usize,
    (mut seed, tell): (u32, &dyn Fn(f64)),
) -> Result<Layout, Fault> {
    let mut layout = Layout::default();
    let points: usize = blanks.iter().map(|b| b.outline.len()).sum();
    let usable = |b: &Blank| {
        b.warp.hypot() > 1e-9
            && b.warp.is_finite()
            && b.outline
                .iter()
                .all(|p| p.x.abs() < 500.0 && p.y.abs() < 500.0)
    };
    let fits = (0.05..=100.0).contains(&roll) && (0.0..0.5 * roll).contains(&seam);
    if !fits || points > MOST_POINTS || !blanks.iter().all(usable) {
        return Err(Fault::Roll);
    }
    let n_bands = ((roll / BAND).round() as usize).max(1).min(MOST_BANDS);
    let band = roll / n_bands as f64;
    let mut shapes: Vec<Shape> = Vec::new();
    let mut bars = Bars::default();
    for (number, blank) in blanks.iter().enumerate() {
        if blank.outline.len() < 3 {
            continue;
        }
        let pieces = widths(blank, roll, seam, &mut layout.seams).ok_or(Fault::Roll)?;
        let n = pieces.len();
        for (width, outline) in pieces.into_iter().enumerate() {
            if shapes.len() >= MOST_PIECES {
                return Err(Fault::Roll);
            }
            shapes.push(Shape {
                blank: number,
                width,
                widths: n,
                area: 1e-6 * (1e6 * area(&outline).abs()).round(),
                length: (MICRO * outline.iter().fold(0.0, |m, p| p.x.max(m)) - 1e-3).ceil(),
                rows: rows(&outline, band),
                parts: [outline.clone(), turned(&outline)]
                    .map(|way| bars.numbers(parts(&way, band))),
                outline,
            });
        }
    }
    // Largest first, by picking.
    let mut order: Vec<(usize, Way)> = Vec::new();
    let mut left: Vec<usize> = (0..shapes.len()).collect();
    while !left.is_empty() {
        let mut best = 0;
        for i in 1..left.len() {
            if shapes[left[i]].area > shapes[left[best]].area {
                best = i;
            }
        }
        order.push((left.remove(best), Way::Either));
    }
    // The large pieces make the length; the small ones, the last three hundredths of the cloth, fill holes.
    let n = order.len();
    let mut large = 0;
    let (total, mut sum): (f64, f64) = (shapes.iter().map(|s| s.area).sum(), 0.0);
    while large < n && sum < 0.97 * total {
        sum += shapes[order[large].0].area;
        large += 1;
    }
    let mut lying = Lying {
        shapes: &shapes,
        bars,
        n_bands,
        step: STEP,
        most_work: 0,
        work: 0,
        places: vec![Place::default(); shapes.len()],
        all: (effort.min(MOST_EFFORT) * WORK).max(1) as f64,
        tell,
    };
    let n_parts = lying.bars.parts.len();
    lying.bars.at.resize(n_parts * n_parts, 0);
    let first = (lying.lay(&order, 0, f64::INFINITY).0, lying.places.clone());
    let share = effort.min(MOST_EFFORT) * WORK / 10;
    let (mut shortest, start) = (f64::INFINITY, order.clone());
    lying.step = COARSE;
    for _ in 0..STARTS {
        let mut begun = start.clone();
        lying.most_work = lying.work + share;
        let reach = lying.seek(&mut begun[..large], 0, &mut seed);
        if reach < shortest {
            (shortest, order) = (reach, begun);
        }
    }
    lying.most_work = lying.work + (8 - STARTS) * share;
    lying.seek(&mut order[..large], 0, &mut seed);
    lying.step = STEP;
    lying.most_work = lying.work + 2 * share;
    let length = lying.seek(&mut order, large, &mut seed);
    let (length, shortest) = if length < first.0 {
        (length, lying.places)
    } else {
        first
    };
    let length = length / MICRO;
    let mut used = 0.0;
    for (i, _) in order {
        let (shape, Some(place)) = (&shapes[i], shortest.get(i)) else {
            continue;
        };
        used += area(&shape.outline).abs();
        let shift = Vec2::new(place.x / MICRO, place.band as f64 * band);
        let outline = if place.turned == 1 {
            turned(&shape.outline)
        } else {
            shape.outline.clone()
        };
        layout.laid.push(Laid {
            blank: shape.blank,
            width: shape.width,
            widths: shape.widths,
            outline: outline.iter().map(|p| *p + shift).collect(),
        });
    }
    layout.length = length;
    if length > 0.0 {
        layout.waste = 1.0 - used / (length * roll);
    }
    Ok(layout)
}

/// A blank with its warp along x and its least x and y at nought, cut in as many widths as the roll asks for.
fn widths(blank: &Blank, roll: f64, seam: f64, seams: &mut f64) -> Option<Vec<Vec<Point>>> {
    let unit = blank.warp / blank.warp.hypot();
    let mut outline: Vec<Point> = (blank.outline.iter().map(|p| p.to_vec2()))
        .map(|v| Point::new(v.dot(unit), unit.cross(v)))
        .collect();
    let size = settle(&mut outline);
    if size.y <= roll {
        return Some(vec![outline]);
    }
    let step = roll - seam;
    let n = ((size.y - seam) / step).ceil();
    if !blank.seams || n.is_nan() || n > MOST_PIECES as f64 {
        return None;
    }
    let mut pieces = Vec::new();
    for k in 0..n as usize {
        let from = k as f64 * step;
        let above = clipped(&outline, from, 1.0);
        let mut width = clipped(&above, from + roll, -1.0);
        if k > 0 {
            let (mut first, mut last) = (f64::INFINITY, f64::NEG_INFINITY);
            for p in &width {
                if p.y <= from + seam + 1e-9 {
                    first = first.min(p.x);
                    last = last.max(p.x);
                }
            }
            *seams += (last - first).max(0.0);
        }
        if width.len() > 2 {
            settle(&mut width);
            pieces.push(width);
        }
    }
    Some(pieces)
}

/// Moves an outline so that its least x and y are nought; its size.
fn settle(outline: &mut [Point]) -> Vec2 {
    let (mut least, mut most) = (Vec2::new(f64::INFINITY, f64::INFINITY), Vec2::ZERO);
    for p in outline.iter() {
        least = Vec2::new(least.x.min(p.x), least.y.min(p.y));
    }
    for p in outline.iter_mut() {
        *p -= least;
        most = Vec2::new(most.x.max(p.x), most.y.max(p.y));
    }
    most
}

/// What of an outline lies above a level (side 1) or below it (side -1).
fn clipped(outline: &[Point], level: f64, side: f64) -> Vec<Point> {
    cut_off(outline, &|p| side * (p.y - level))
}

/// What of an outline lies on the positive side of a straight line, given by the distance from it.
pub(crate) fn cut_off(outline: &[Point], distance: &dyn Fn(Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::new();
    let n = outline.len();
    for i in 0..n {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        let (da, db) = (distance(a), distance(b));
        if da >= 0.0 {
            kept.push(a);
        }
        if (da > 0.0 && db < 0.0) || (da < 0.0 && db > 0.0) {
            kept.push(a.lerp(b, da / (da - db)));
        }
    }
    kept
}

/// An outline turned end for end within its own box.
fn turned(outline: &[Point]) -> Vec<Point> {
    let mut other: Vec<Point> = outline.iter().map(|p| Point::new(-p.x, -p.y)).collect();
    settle(&mut other);
    other
}

/// Bands an outline takes up.
fn rows(outline: &[Point], band: f64) -> usize {
    let top = outline.iter().fold(0.0_f64, |m, p| m.max(p.y));
    // A hair above a band's edge is on it.
    ((top - 1e-7) / band).ceil().max(1.0) as usize
}

/// An outline as one part or, where that takes in less, as two, cut across at one of a few places: so a hollow can be used.
fn parts(outline: &[Point], band: f64) -> Vec<Bands> {
    let n = rows(outline, band);
    let end = outline.iter().fold(0.0_f64, |m, p| m.max(p.x));
    let taken = |parts: &[Bands]| -> f64 {
        let width = |b: &(f64, f64)| (b.1 - b.0).max(0.0);
        band * parts.iter().flatten().map(width).sum::<f64>()
    };
    let mut best = vec![bands(outline, n, band)];
    let mut least = 0.98 * taken(&best);
    for k in 2..15 {
        let at = end * f64::from(k) / 16.0;
        let fore = cut_off(outline, &|p| at - p.x);
        let after = cut_off(outline, &|p| p.x - at);
        let two = vec![bands(&fore, n, band), bands(&after, n, band)];
        let now = taken(&two);
        if now < least {
            (best, least) = (two, now);
        }
    }
    best
}

/// Foremost and aftermost of an outline in each of `n` bands.
fn bands(outline: &[Point], n: usize, band: f64) -> Bands {
    let mut all = vec![(f64::INFINITY, f64::NEG_INFINITY); n];
    for i in 0..outline.len() {
        let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
        let (low, high) = if a.y <= b.y { (a, b) } else { (b, a) };
        let first = (((low.y - 1e-7) / band).max(0.0) as usize).min(n - 1);
        let last = (((high.y + 1e-7) / band) as usize).min(n - 1);
        for (k, ends) in all.iter_mut().enumerate().take(last + 1).skip(first) {
            let at = |y: f64| {
                let rise = high.y - low.y;
                let t = if rise > 0.0 { (y - low.y) / rise } else { 0.0 };
                low.x + (high.x - low.x) * t.max(0.0).min(1.0)
            };
            let (p, q) = (at(k as f64 * band), at((k + 1) as f64 * band));
            ends.0 = ends.0.min(p).min(q);
            ends.1 = ends.1.max(p).max(q);
            if high.y - low.y < 1e-7 {
                ends.0 = ends.0.min(low.x).min(high.x);
                ends.1 = ends.1.max(low.x).max(high.x);
            }
        }
    }
    // To the next whole micrometre outward.
    for ends in &mut all {
        *ends = (
            (MICRO * ends.0 + 1e-3).floor(),
            (MICRO * ends.1 - 1e-3).ceil(),
        );
    }
    all
}

/// Where, along the roll, parts overlap: worked out once for each two of them at each height.
#[derive(Default)]
struct Bars {
    parts: Vec<Bands>,
    /// Where those of two parts begin, by their numbers, plus one.
    at: Vec<u32>,
    kept: Vec<(i32, i32)>,
}

impl Bars {
    /// Numbers of parts; alike parts have one.
    fn numbers(&mut self, parts: Vec<Bands>) -> Vec<usize> {
        let mut numbers = Vec::new();
        for part in parts {
            let known = self.parts.iter().position(|known| *known == part);
            numbers.push(known.unwrap_or(self.parts.len()));
            if known.is_none() {
                self.parts.push(part);
            }
        }
        numbers
    }

    /// From where to where, along the roll from the part that lies, one that comes so many bands further `up` would overlap it; not at
    /// all where that is no way.
    fn bar(&mut self, lies: usize, comes: usize, up: isize) -> (f64, f64) {
        if lies > comes {
            let (from, to) = self.bar(comes, lies, -up);
            return (-to, -from);
        }
        let n = self.parts.len();
        let (below, above) = (&self.parts[lies], &self.parts[comes]);
        let (first, end) = (1 - above.len() as isize, below.len() as isize);
        if up < first || up >= end {
            return (0.0, 0.0);
        }
        let slot = lies * n + comes;
        if self.at[slot] == 0 {
            if self.kept.len() + (end - first) as usize > MOST_BARS {
                return bar(below, above, up);
            }
            self.at[slot] = self.kept.len() as u32 + 1;
            for up in first..end {
                let (from, to) = bar(below, above, up);
                self.kept.push((from as i32, to as i32));
            }
        }
        let (from, to) = self.kept[self.at[slot] as usize - 1 + (up - first) as usize];
        (f64::from(from), f64::from(to))
    }
}

/// Shapes on the roll.
struct Lying<'a> {
    shapes: &'a [Shape],
    bars: Bars,
    n_bands: usize,
    /// Every how many bands a piece is tried, besides where it touches what lies.
    step: usize,
    /// Work that may be done: bars looked up and heights tried.
    most_work: usize,
    /// Work done so far.
    work: usize,
    places: Vec<Place>,
    /// All of the work, and what hears the share of it that is done.
    all: f64,
    tell: &'a dyn Fn(f64),
}

impl Lying<'_> {
    /// Lays shapes in their order, the first `laid` of them being where they are, then tries others: one is drawn from its turn and put
    /// in at another, or may lie one way only. What is no worse, or no worse than what was kept [`LATE`] tries ago, is kept, and in the end
    /// the shortest. A fixed sequence, so that one design has one layout. The length.
    fn seek(&mut self, order: &mut [(usize, Way)], laid: usize, seed: &mut u32) -> f64 {
        let n = order.len();
        let (mut length, mut score) = self.lay(order, laid, f64::INFINITY);
        let mut places = self.places.clone();
        let mut shortest = (places.clone(), order.to_vec());
        let mut pick = |n: usize| {
            *seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (*seed >> 8) as usize % n.max(1)
        };
        let mut kept = [score; LATE];
        for k in 0..MOST_TRIES {
            if self.work >= self.most_work || n == 0 {
                break;
            }
            if k % TOLD == 0 {
                (self.tell)((self.work as f64 / self.all).min(1.0));
            }
            let (from, to, way) = (pick(n), pick(n), pick(4));
            let before = order[from].1;
            if from == to || way < 2 {
                order[from].1 = [Way::Either, Way::Only(0), Way::Only(1)][pick(3)];
            }
            shift(order, from, to);
            self.places.clone_from(&places);
            let late = score.max(kept[k % LATE]);
            kept[k % LATE] = score;
            let (reach, now) = self.lay(order, from.min(to), late);
            if reach < length {
                length = reach;
                shortest = (self.places.clone(), order.to_vec());
            }
            if now <= late {
                score = now;
                places.clone_from(&self.places);
            } else {
                shift(order, to, from);
                order[from].1 = before;
            }
        }
        self.places = shortest.0;
        order.copy_from_slice(&shortest.1);
        length
    }

    /// Lays the shapes in an order, each where it ends earliest, those before `from` being where they are; gives up once longer than `bound`. How
    /// far they reach, and that with the mean of their ends: what leaves room at the end is better though no shorter yet.
    fn lay(&mut self, order: &[(usize, Way)], from: usize, bound: f64) -> (f64, f64) {
        let (mut length, mut total, mut moment) = (0.0_f64, 0.0, 0.0);
        let mut reached = |reach: f64, area: f64| {
            length = length.max(reach);
            total += area;
            moment += area * reach;
            (length, length + 0.5 * moment / total.max(1e-9))
        };
        let mut far = (0.0, 0.0);
        for (n, (i, way)) in order.iter().enumerate() {
            if n >= from {
                self.places[*i] = self.earliest(&order[..n], *i, *way);
            }
            let shape = &self.shapes[*i];
            far = reached(self.places[*i].x + shape.length, shape.area);
            if far.0 > bound {
                return (f64::INFINITY, f64::INFINITY);
            }
        }
        far
    }

    /// Where a shape ends earliest beside those that lie.
    fn earliest(&mut self, lie: &[(usize, Way)], number: usize, way: Way) -> Place {
        let shape = &self.shapes[number];
        let highest = self.n_bands.saturating_sub(shape.rows);
        // From selvage to selvage, and against whatever lies.
        let mut tried = vec![false; highest + 1];
        let mut step = 0;
        while step < highest {
            tried[step] = true;
            step += self.step;
        }
        tried[highest] = true;
        for (j, _) in lie {
            let from = self.places[*j].band;
            let to = from + self.shapes[*j].rows;
            if to <= highest {
                tried[to] = true;
            }
            if from >= shape.rows {
                tried[from - shape.rows] = true;
            }
        }
        let mut best = Place {
            x: f64::INFINITY,
            ..Place::default()
        };
        let mut barred: Vec<(f64, f64)> = Vec::new();
        for (band, wanted) in tried.iter().enumerate() {
            for turned in 0..2 {
                if !wanted || way == Way::Only(1 - turned) {
                    continue;
                }
                barred.clear();
                self.work += 1;
                for (j, _) in lie {
                    let (other, lies) = (self.places[*j], &self.shapes[*j]);
                    // Beside it, or farther on than where it would come to lie.
                    if band >= other.band + lies.rows
                        || other.band >= band + shape.rows
                        || other.x >= best.x + shape.length
                    {
                        continue;
                    }
                    let up = band as isize - other.band as isize;
                    for a in &lies.parts[other.turned] {
                        for b in &shape.parts[turned] {
                            self.work += 1;
                            let (from, to) = self.bars.bar(*a, *b, up);
                            if from < to && other.x + to > 0.0 {
                                barred.push((other.x + from, other.x + to));
                            }
                        }
                    }
                }
                let x = free(&barred, best.x);
                if x < best.x {
                    best = Place { x, band, turned };
                }
            }
        }
        best
    }
}

/// Moves an entry of a list to another place in it.
fn shift(order: &mut [(usize, Way)], from: usize, to: usize) {
    let mut at = from;
    while at != to {
        let next = if at < to { at + 1 } else { at - 1 };
        order.swap(at, next);
        at = next;
    }
}

/// Where, along the roll, a part so many bands further up would overlap one that lies.
fn bar(lies: &Bands, comes: &Bands, up: isize) -> (f64, f64) {
    let (skip, under) = (up.max(0) as usize, (-up).max(0) as usize);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for (a, b) in lies.iter().skip(skip).zip(comes.iter().skip(under)) {
        let (from, till) = (a.0 - b.1, a.1 - b.0);
        if from < low {
            low = from;
        }
        if till > high {
            high = till;
        }
    }
    if low < high { (low, high) } else { (0.0, 0.0) }
}

/// The least x within none of the barred intervals; given up beyond `most`.
fn free(barred: &[(f64, f64)], most: f64) -> f64 {
    let mut x = 0.0;
    for _ in 0..=barred.len() {
        let mut moved = x;
        for (low, high) in barred {
            if *low < moved && moved < *high {
                moved = *high;
            }
        }
        if moved == x || moved >= most {
            return moved;
        }
        x = moved;
    }
    x
}
