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
const LATE: usize = 40;
/// How much is done is told every so many tries.
const TOLD: usize = 10;
/// Most orders tried.
const MOST_TRIES: usize = 2000;
/// No further order is tried after this many comparisons of bands: some seconds.
const MOST_ROWS: usize = 1_200_000_000;

/// A piece as its bands see it, lying with its least y at nought.
struct Shape {
    blank: usize,
    width: usize,
    widths: usize,
    outline: Vec<Point>,
    area: f64,
    /// Length along the roll.
    length: f64,
    /// Bands it takes up across the roll.
    rows: usize,
    /// As laid and turned round: one part, or two for a piece with a hollow, and of each the foremost and aftermost in each band.
    parts: [Vec<Bands>; 2],
}

/// Foremost and aftermost in each band; infinite where there is nothing.
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
/// `seam` [m]. `tries` (0 to 2,000) more orders are tried
/// after the first, largest first, until a fixed amount of work is done. Fault::Roll where a blank without seams does not fit.
///
/// A piece, or either half of one with a hollow, takes in every band across the roll all from its foremost to its aftermost point; against each
/// piece that lies, and at each height, the places where it would overlap are then a few intervals along the roll. It is laid where it
/// ends earliest. No piece ever overlaps another.
pub fn nest(blanks: &[Blank], roll: f64, seam: f64, tries: usize) -> Result<Layout, Fault> {
    nest_told(blanks, roll, seam, tries, &|_| {})
}

/// The same; `tell` hears the share of the tries that is done.
pub fn nest_told(
    blanks: &[Blank],
    roll: f64,
    seam: f64,
    tries: usize,
    tell: &dyn Fn(f64),
) -> Result<Layout, Fault> {
    let mut layout = Layout::default();
    let points: usize = blanks.iter().map(|b| b.outline.len()).sum();
    let usable = |b: &Blank| {
        b.warp.hypot() > 1e-9
            && b.warp.is_finite()
            && b.outline.iter().all(|p| p.x.abs() < 1e4 && p.y.abs() < 1e4)
    };
    let fits = (0.05..=100.0).contains(&roll) && (0.0..0.5 * roll).contains(&seam);
    if !fits || points > MOST_POINTS || !blanks.iter().all(usable) {
        return Err(Fault::Roll);
    }
    let n_bands = ((roll / BAND).round() as usize).max(1).min(MOST_BANDS);
    let band = roll / n_bands as f64;
    let mut shapes: Vec<Shape> = Vec::new();
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
                length: 1e-6 * (1e6 * outline.iter().fold(0.0, |m, p| p.x.max(m)) - 1e-3).ceil(),
                rows: rows(&outline, band),
                parts: [parts(&outline, band), parts(&turned(&outline), band)],
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
        n_bands,
        step: STEP,
        most_rows: MOST_ROWS,
        rows: 0,
        places: vec![Place::default(); shapes.len()],
        tell,
    };
    let tries = tries.min(MOST_TRIES);
    let mut seed = 12345_u32;
    let first = (lying.lay(&order, 0, f64::INFINITY).0, lying.places.clone());
    (lying.step, lying.most_rows) = (COARSE, MOST_ROWS / 10 * 7);
    lying.seek(&mut order[..large], 0, tries, &mut seed);
    (lying.step, lying.most_rows) = (STEP, MOST_ROWS);
    let length = lying.seek(&mut order, large, tries / 8, &mut seed);
    let (length, shortest) = if length < first.0 {
        (length, lying.places)
    } else {
        first
    };
    let mut used = 0.0;
    for (i, _) in order {
        let (shape, Some(place)) = (&shapes[i], shortest.get(i)) else {
            continue;
        };
        used += area(&shape.outline).abs();
        let shift = Vec2::new(place.x, place.band as f64 * band);
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
fn cut_off(outline: &[Point], distance: &dyn Fn(Point) -> f64) -> Vec<Point> {
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
    // To the next whole micrometre outward: so that wasm and native, whose maths differ in the last digits, lay alike.
    for ends in &mut all {
        *ends = (
            1e-6 * (1e6 * ends.0 + 1e-3).floor(),
            1e-6 * (1e6 * ends.1 - 1e-3).ceil(),
        );
    }
    all
}

/// Shapes on the roll.
struct Lying<'a> {
    shapes: &'a [Shape],
    n_bands: usize,
    /// Every how many bands a piece is tried, besides where it touches what lies.
    step: usize,
    /// Bands that may be compared.
    most_rows: usize,
    /// Bands compared so far: the measure of the work done.
    rows: usize,
    places: Vec<Place>,
    /// Hears the share of the tries that is done.
    tell: &'a dyn Fn(f64),
}

impl Lying<'_> {
    /// Lays shapes in their order, the first `laid` of them being where they are, then tries others: one is drawn from its turn and put
    /// in at another, or may lie one way only. What is no worse, or no worse than what was kept [`LATE`] tries ago, is kept, and in the end
    /// the shortest. A fixed sequence, so that one design has one layout. The length.
    fn seek(
        &mut self,
        order: &mut [(usize, Way)],
        laid: usize,
        tries: usize,
        seed: &mut u32,
    ) -> f64 {
        let n = order.len();
        let (mut length, mut score) = self.lay(order, laid, f64::INFINITY);
        let mut places = self.places.clone();
        let mut shortest = (places.clone(), order.to_vec());
        let mut pick = |n: usize| {
            *seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (*seed >> 8) as usize % n.max(1)
        };
        let mut kept = [score; LATE];
        for k in 0..tries {
            if self.rows > self.most_rows || n == 0 {
                break;
            }
            // The small pieces' tries are the last, and soon done.
            if k % TOLD == 0 && laid == 0 {
                let worked = self.rows as f64 / self.most_rows as f64;
                (self.tell)(worked.max(k as f64 / tries as f64));
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
        let mut seen = vec![false; lie.len()];
        for (band, wanted) in tried.iter().enumerate() {
            for turned in 0..2 {
                if !wanted || way == Way::Only(1 - turned) {
                    continue;
                }
                barred.clear();
                seen.fill(false);
                let mut x = 0.0;
                // It moves on past whatever is in its way, which it does at most once for each.
                for _ in 0..=lie.len() {
                    for (k, (j, _)) in lie.iter().enumerate() {
                        let (other, lies) = (self.places[*j], &self.shapes[*j]);
                        let near = other.x - shape.length < x && x < other.x + lies.length;
                        if seen[k] || !near {
                            continue;
                        }
                        seen[k] = true;
                        self.rows += lies.rows.min(shape.rows);
                        for a in &lies.parts[other.turned] {
                            for b in &shape.parts[turned] {
                                if let Some((from, to)) = bar(a, other.band, b, band) {
                                    barred.push((other.x + from, other.x + to));
                                }
                            }
                        }
                    }
                    let on = free(&barred, x);
                    if on == x || on >= best.x - 1e-9 {
                        x = on;
                        break;
                    }
                    x = on;
                }
                if x < best.x - 1e-9 {
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

/// Where, along the roll, a second piece would overlap a first.
fn bar(lies: &[(f64, f64)], at: usize, comes: &[(f64, f64)], to: usize) -> Option<(f64, f64)> {
    let first = at.max(to);
    let last = (at + lies.len()).min(to + comes.len());
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for row in first..last {
        let (a, b) = (lies[row - at], comes[row - to]);
        let (from, till) = (a.0 - b.1, a.1 - b.0);
        if from < low {
            low = from;
        }
        if till > high {
            high = till;
        }
    }
    (low < high).then_some((low, high))
}

/// The least x from `from` on within none of the barred intervals.
fn free(barred: &[(f64, f64)], from: f64) -> f64 {
    let mut x = from;
    for _ in 0..=barred.len() {
        let mut moved = x;
        for (low, high) in barred {
            if *low < moved - 1e-9 && moved < *high - 1e-12 {
                moved = *high;
            }
        }
        if moved == x {
            break;
        }
        x = moved;
    }
    x
}
