//! Laying pieces on the roll, warp along it.
//!
//! Own work: the placement is a page of code, while the general packing crates bring a solver, threads and random numbers that the
//! download has no room for.

use kurbo::{Point, Vec2};

use crate::Fault;
use crate::outline::area;
use crate::widths::{across, strip};

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
const BAND: f64 = 0.0025;
/// Every how many bands a piece is tried as it is first laid, and as it is moved.
const STEP: usize = 10;
const GRID: usize = 32;
/// Most bands; those of a wider roll are higher.
const MOST_BANDS: usize = 900;
/// Most pieces that are laid.
const MOST_PIECES: usize = 400;
/// Most points of all outlines together.
const MOST_POINTS: usize = 200_000;
/// Most of `effort`, and the work to each unit of it, bars looked up and heights tried: two seconds or so for what is ordered.
const MOST_EFFORT: usize = 2000;
const WORK: usize = 100_000;
/// Where the search begins.
pub(crate) const SEED: u32 = 12345;
/// Hundredths of the work for the large pieces; all together get the last of it.
const LARGE: usize = 80;
/// A layout is pressed shorter by this share at first, and by ever less down to the least where the pieces find no room.
const MOST_PRESSED: f64 = 0.02;
const LEAST_PRESSED: f64 = 0.001;
/// After so many rounds in which less overlaps no more there is no room.
const IDLE: usize = 100;
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

/// Where a piece lies.
#[derive(Clone, Copy, Default)]
struct Place {
    x: f64,
    band: usize,
    turned: usize,
}

/// Lays all blanks on a roll of a width [m], the warp along it either way round; a blank too wide for it is cut in widths that overlap by
/// `seam` [m]. Fault::Roll where a blank without seams does not fit.
///
/// A piece, or either half of one with a hollow, takes in every band across the roll all from its foremost to its aftermost point; against each
/// piece that lies, and at each height, the places where it would overlap are then a few intervals along the roll. First each is laid
/// where it ends earliest, largest first. Then, until the work of an `effort` (0 to 2,000) is done, the roll is made a little shorter,
/// so that pieces overlap, and those that do are moved, one after the other, to where they overlap least; an overlap that stays
/// weighs more from round to round. Where none is left the layout stands, and the roll is made shorter again. Only such layouts are
/// given back. (Guided local search: Egeblad, Nielsen, Odgaard, "Fast neighborhood search for two- and three-dimensional nesting
/// problems", European Journal of Operational Research 183, 2007.)
pub fn nest(blanks: &[Blank], roll: f64, seam: f64, effort: usize) -> Result<Layout, Fault> {
    nest_from(blanks, roll, seam, effort, (SEED, &|_| {}))
}

/// As [`nest`], the search begun from a seed: how much hangs on that is tested. What comes with it hears the share of the work that is done.
pub fn nest_from(
    blanks: &[Blank],
    roll: f64,
    seam: f64,
    effort: usize,
    (seed, tell): (u32, &dyn Fn(f64)),
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
    let mut order: Vec<usize> = Vec::new();
    let mut left: Vec<usize> = (0..shapes.len()).collect();
    while !left.is_empty() {
        let mut best = 0;
        for i in 1..left.len() {
            if shapes[left[i]].area > shapes[left[best]].area {
                best = i;
            }
        }
        order.push(left.remove(best));
    }
    // The large pieces make the length; the small ones, the last three hundredths of the cloth, fill holes.
    let mut large = 0;
    let (total, mut sum): (f64, f64) = (shapes.iter().map(|s| s.area).sum(), 0.0);
    while large < order.len() && sum < 0.97 * total {
        sum += shapes[order[large]].area;
        large += 1;
    }
    let (n, n_parts) = (shapes.len(), bars.parts.len());
    bars.at.resize(n_parts * n_parts, 0);
    let all = effort.min(MOST_EFFORT) * WORK;
    let mut lying = Lying {
        shapes: &shapes,
        bars,
        n_bands,
        band: MICRO * band,
        most_work: 0,
        work: 0,
        places: vec![Place::default(); n],
        weights: vec![1.0; n * n],
        seed,
        all: all.max(1) as f64,
        tell,
    };
    lying.lay(&order, 0);
    let first = (lying.reach(&order), lying.places.clone());
    lying.most_work = all / 100 * LARGE;
    lying.press(&order[..large]);
    lying.lay(&order, large);
    lying.most_work = all;
    let length = lying.press(&order);
    let (length, shortest) = if length < first.0 {
        (length, lying.places)
    } else {
        first
    };
    let length = length / MICRO;
    let mut used = 0.0;
    for i in order {
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
    settle(&mut outline);
    let own = Blank {
        outline,
        warp: Vec2::new(1.0, 0.0),
        seams: blank.seams,
    };
    let levels = own.widths(roll, seam)?;
    *seams += own.seams_between(&levels, seam);
    if levels.len() == 1 {
        return Some(vec![own.outline]);
    }
    let mut pieces = Vec::new();
    for level in levels {
        let mut width = strip(&own.outline, across(own.warp), level);
        if width.len() > 2 {
            settle(&mut width);
            pieces.push(width);
        }
    }
    Some(pieces)
}

/// Moves an outline so that its least x and y are nought.
fn settle(outline: &mut [Point]) {
    let mut least = Vec2::new(f64::INFINITY, f64::INFINITY);
    for p in outline.iter() {
        least = Vec2::new(least.x.min(p.x), least.y.min(p.y));
    }
    for p in outline.iter_mut() {
        *p -= least;
    }
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

/// Where along the roll a piece overlaps another at one height.
struct Barred {
    from: f64,
    to: f64,
    /// What an overlap counts at most [µm]: so far up or down the piece is clear.
    most: f64,
    weight: f64,
}

impl Barred {
    /// How far the piece overlaps at a place [µm].
    fn overlap(&self, x: f64) -> f64 {
        // Most are clear, and told so first: this is what a search spends its time on.
        if x <= self.from || x >= self.to {
            return 0.0;
        }
        let (after, before) = (x - self.from, self.to - x);
        let by = if after < before { after } else { before };
        if by < self.most { by } else { self.most }
    }
}

/// Shapes on the roll.
struct Lying<'a> {
    shapes: &'a [Shape],
    bars: Bars,
    n_bands: usize,
    /// Height of a band [µm].
    band: f64,
    /// Work that may be done: bars looked up and heights tried.
    most_work: usize,
    /// Work done so far.
    work: usize,
    places: Vec<Place>,
    /// What an overlap of two shapes weighs, by both numbers.
    weights: Vec<f64>,
    seed: u32,
    /// All of the work, and what hears the share of it that is done.
    all: f64,
    tell: &'a dyn Fn(f64),
}

impl Lying<'_> {
    /// A number below `n`, from a fixed sequence, so that one design has one layout.
    fn pick(&mut self, n: usize) -> usize {
        self.seed = (self.seed.wrapping_mul(1_664_525)).wrapping_add(1_013_904_223);
        (self.seed >> 8) as usize % n.max(1)
    }

    /// How far shapes reach along the roll.
    fn reach(&self, set: &[usize]) -> f64 {
        set.iter().fold(0.0, |most, i| {
            f64::max(most, self.places[*i].x + self.shapes[*i].length)
        })
    }

    /// The highest band a shape may lie on.
    fn highest(&self, number: usize) -> usize {
        self.n_bands.saturating_sub(self.shapes[number].rows)
    }

    /// Where a shape at a height would overlap others.
    fn barred(&mut self, others: &[usize], number: usize, at: Place, found: &mut Vec<Barred>) {
        let shape = &self.shapes[number];
        found.clear();
        self.work += 1;
        for j in others {
            let (other, lies) = (self.places[*j], &self.shapes[*j]);
            let up = at.band as isize - other.band as isize;
            let rows = (lies.rows as isize - up).min(shape.rows as isize + up);
            if rows <= 0 || *j == number {
                continue;
            }
            for a in &lies.parts[other.turned] {
                for b in &shape.parts[at.turned] {
                    self.work += 1;
                    let (from, to) = self.bars.bar(*a, *b, up);
                    if from < to {
                        found.push(Barred {
                            from: other.x + from,
                            to: other.x + to,
                            most: self.band * rows as f64,
                            weight: self.weights[number * self.shapes.len() + *j],
                        });
                    }
                }
            }
        }
    }

    /// Lays shapes in their order, each where it ends earliest, those before `from` being where they are.
    fn lay(&mut self, order: &[usize], from: usize) {
        for n in from..order.len() {
            self.places[order[n]] = self.earliest(&order[..n], order[n]);
        }
    }

    /// Where a shape ends earliest beside those that lie: from selvage to selvage, and against whatever lies.
    fn earliest(&mut self, lie: &[usize], number: usize) -> Place {
        let highest = self.highest(number);
        let mut tried = vec![false; highest + 1];
        for band in (0..highest).step_by(STEP) {
            tried[band] = true;
        }
        tried[highest] = true;
        for j in lie {
            let from = self.places[*j].band;
            let to = from + self.shapes[*j].rows;
            if to <= highest {
                tried[to] = true;
            }
            if from >= self.shapes[number].rows {
                tried[from - self.shapes[number].rows] = true;
            }
        }
        let mut best = Place {
            x: f64::INFINITY,
            ..Place::default()
        };
        let mut found = Vec::new();
        for (band, wanted) in tried.iter().enumerate() {
            for turned in 0..2 {
                if !wanted {
                    continue;
                }
                let at = Place {
                    x: 0.0,
                    band,
                    turned,
                };
                self.barred(lie, number, at, &mut found);
                let x = free(&found, best.x);
                if x < best.x {
                    best = Place { x, ..at };
                }
            }
        }
        best
    }

    /// Presses shapes together for as long as there is work, and puts them down as they lay shortest; their length. Where they find
    /// no room two of them change places.
    fn press(&mut self, set: &[usize]) -> f64 {
        let mut shortest = self.places.clone();
        let (mut length, mut by) = (self.reach(set), MOST_PRESSED);
        let longest = set
            .iter()
            .fold(0.0, |most, i| f64::max(most, self.shapes[*i].length));
        while self.work < self.most_work && set.len() > 1 {
            (self.tell)((self.work as f64 / self.all).min(1.0));
            // No shorter than its longest shape; a round that finds so at once is work too.
            let wanted = (length * (1.0 - by)).floor().max(longest);
            self.work += set.len();
            if wanted >= length {
                break;
            }
            if self.part(set, wanted) {
                length = self.reach(set);
                shortest.clone_from(&self.places);
                by = (1.5 * by).min(MOST_PRESSED);
            } else {
                by = (0.5 * by).max(LEAST_PRESSED);
                self.places.clone_from(&shortest);
                let (a, b) = (set[self.pick(set.len())], set[self.pick(set.len())]);
                self.places.swap(a, b);
                for i in [a, b] {
                    self.places[i].band = self.places[i].band.min(self.highest(i));
                }
            }
        }
        self.places = shortest;
        length
    }

    /// Moves shapes that overlap on a length of the roll until none does; whether they found room.
    fn part(&mut self, set: &[usize], length: f64) -> bool {
        let n = self.shapes.len();
        for i in set {
            let last = length - self.shapes[*i].length;
            if last < 0.0 {
                return false;
            }
            self.places[*i].x = self.places[*i].x.min(last);
        }
        self.weights.fill(1.0);
        let (mut least, mut idle) = (f64::INFINITY, 0);
        let (mut turns, mut found) = (set.to_vec(), Vec::new());
        while idle < IDLE && self.work < self.most_work {
            let (mut over, mut total, mut most) = (Vec::new(), 0.0, 0.0_f64);
            for (k, a) in set.iter().enumerate() {
                for b in &set[..k] {
                    let at = self.places[*a];
                    self.barred(&[*b], *a, at, &mut found);
                    let by: f64 = found.iter().map(|bar| bar.overlap(at.x)).sum();
                    if by > 0.0 {
                        over.push((*a, *b, by));
                        total += by;
                        most = most.max(by);
                    }
                }
            }
            if over.is_empty() {
                return true;
            }
            idle += 1;
            if total < 0.98 * least {
                (least, idle) = (total, 0);
            }
            for weight in &mut self.weights {
                *weight = (0.95 * *weight).max(1.0);
            }
            for (a, b, by) in &over {
                for at in [a * n + b, b * n + a] {
                    self.weights[at] *= 1.26 + 0.84 * by / most;
                }
            }
            for k in 0..turns.len() {
                let other = self.pick(turns.len());
                turns.swap(k, other);
            }
            for i in &turns {
                if over.iter().any(|(a, b, _)| a == i || b == i) {
                    self.ease(set, *i, length);
                }
            }
        }
        false
    }

    /// Moves a shape to where it overlaps the others least.
    fn ease(&mut self, set: &[usize], number: usize, length: f64) {
        let highest = self.highest(number);
        let now = self.places[number];
        let (mut best, mut least) = (now, f64::INFINITY);
        let mut found = Vec::new();
        let last = length - self.shapes[number].length;
        let mut look = |lying: &mut Self, band: usize, turned: usize, best: &mut Place| {
            if least == 0.0 || band > highest {
                return;
            }
            let at = Place {
                x: 0.0,
                band,
                turned,
            };
            lying.barred(set, number, at, &mut found);
            lying.work += found.len() * found.len() / 8;
            // Between two ends of intervals the sum is least at one of them.
            for k in 0..2 * found.len() + 2 {
                let x = match found.get(k / 2) {
                    Some(bar) if k % 2 == 0 => bar.from,
                    Some(bar) => bar.to,
                    None if k % 2 == 0 => 0.0,
                    None => last,
                };
                if x < 0.0 || x > last {
                    continue;
                }
                let mut sum = 0.0;
                for bar in &found {
                    sum += bar.weight * bar.overlap(x);
                    if sum >= least {
                        break;
                    }
                }
                if sum < least {
                    (*best, least) = (Place { x, ..at }, sum);
                }
            }
        };
        let from = self.pick(GRID);
        for turned in [now.turned, 1 - now.turned] {
            for band in [now.band, 0, highest] {
                look(self, band, turned, &mut best);
            }
            for band in (from..highest).step_by(GRID) {
                look(self, band, turned, &mut best);
            }
        }
        let mut step = GRID / 2;
        while step > 0 {
            let at = best;
            look(self, at.band + step, at.turned, &mut best);
            look(self, at.band.saturating_sub(step), at.turned, &mut best);
            step /= 2;
        }
        self.places[number] = best;
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
fn free(barred: &[Barred], most: f64) -> f64 {
    let mut x = 0.0;
    for _ in 0..=barred.len() {
        let mut moved = x;
        for bar in barred {
            if bar.from < moved && moved < bar.to {
                moved = bar.to;
            }
        }
        if moved == x || moved >= most {
            return moved;
        }
        x = moved;
    }
    x
}
