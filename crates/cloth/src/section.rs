//! A cut through a panel: mast, battens and cloth to scale, on either tack.

use geometry::mast::Side;
use kurbo::Point;

use crate::mean_line::STEPS;
use crate::part::halved;
use crate::thickness::half_thickness;
use crate::{Construction, Input};

/// A cut across the sail along a chord. x aft from the luff along the chord, y to starboard [m].
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Section {
    /// Luff to leech, straight [m].
    pub chord: f64,
    /// The mast where the cut meets it.
    pub mast: Option<MastCut>,
    /// Middle lines of the spar under the cut: one straight, a fork of two limbs and its tail, or two bows.
    pub battens: Vec<Vec<Point>>,
    /// Depth of that spar [m].
    pub depth: f64,
    /// The cloth, luff to leech; one line for each part or skin.
    pub cloth: Vec<Vec<Point>>,
    /// Where the mast stands in the cloth's way.
    pub touch: Option<Touch>,
}

/// The mast cut by a chord: an ellipse, since the chord need not be square to it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MastCut {
    /// Its middle.
    pub centre: Point,
    /// Half its length along the chord [m]: D / (2 cos of the chord's angle).
    pub along: f64,
    /// Half its width across [m].
    pub across: f64,
}

/// The cloth held off its shape by the mast.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Touch {
    /// How deep the shape is pressed in [m].
    pub depth: f64,
    /// Where the cloth leaves its shape ahead of the mast [m from the luff].
    pub from: f64,
    /// Where it comes back to it [m from the luff].
    pub to: f64,
    /// What the cloth lacks to go round the mast [m]; nought unless luff and leech would have to come nearer.
    pub short: f64,
}

impl Input {
    /// A cut through a panel (1 = lowest) at a share of its width (0 at the lower spar, 1 at the upper), with this side to leeward.
    /// None for a panel that is not there or cannot be cut.
    ///
    /// Soft cloth lies to leeward as it was cut. Where the mast stands on that side it is pressed in: straight from its
    /// shape to the mast, round its weather side, and back, over so much of the chord that its length is kept.
    pub fn section(&self, panel: usize, share: f64, lee: Side) -> Option<Section> {
        if !self.faults().is_empty() || self.panel_fault(panel).is_some() {
            return None;
        }
        let share = share.max(0.0).min(1.0);
        let drawn = self.panel(panel)?;
        let [a, b, c, d] = drawn.corners();
        let luff = a.lerp(d, share);
        let way = b.lerp(c, share) - luff;
        let chord = way.hypot();
        let along = way / chord;
        let sign = match lee {
            Side::Starboard => 1.0,
            Side::Port => -1.0,
        };
        let mast = self.mast_cut(luff, along);
        let mut section = Section {
            chord,
            mast,
            battens: self.limbs(panel - 1),
            depth: self.depth(panel - 1),
            cloth: Vec::new(),
            touch: None,
        };
        for part in self.parts(panel) {
            let side = match part.of {
                crate::part::Of::PortSkin => -1.0,
                crate::part::Of::StarboardSkin => 1.0,
                _ => sign,
            };
            let mut line = Vec::new();
            for i in 0..=STEPS {
                let (half, s) = halved(i);
                let at = part.point(half, s, share);
                line.push(Point::new((at.flat() - luff).dot(along), side * at.w));
            }
            section.cloth.push(line);
        }
        let soft = !matches!(
            self.construction,
            Construction::Wing(_) | Construction::Split(_)
        );
        if let (true, Some(mast), Some(line)) = (soft, mast, section.cloth.first_mut())
            && lee != self.mast.side
        {
            section.touch = press(line, &mast, sign);
        }
        Some(section)
    }

    /// The mast cut by a chord from its luff end along a unit vector.
    fn mast_cut(&self, luff: Point, along: kurbo::Vec2) -> Option<MastCut> {
        if along.x < 0.017 {
            return None;
        }
        let ahead = -luff.x / along.x;
        let height = (luff + along * ahead).y;
        if height < -self.mast.bury || height > self.mast.lap {
            return None;
        }
        let across = 0.5 * self.mast.diameter_at(height);
        let off = match (self.construction, self.mast.side) {
            // It stands inside.
            (Construction::Wing(_) | Construction::Bows(_), _) => 0.0,
            (_, Side::Port) => self.mast.offset,
            (_, Side::Starboard) => -self.mast.offset,
        };
        Some(MastCut {
            centre: Point::new(ahead, off),
            along: across / along.x,
            across,
        })
    }

    /// Depth of a spar [m].
    pub(crate) fn depth(&self, spar: usize) -> f64 {
        if spar == 0 {
            self.depths.boom
        } else if spar >= self.panels() {
            self.depths.yard
        } else {
            self.depths.batten
        }
    }

    /// A station of the limb to starboard of a forked or bowed spar, x aft from its luff end; none of other spars.
    fn limb(&self, spar: usize, i: usize) -> Option<Point> {
        let length = self.spars.get(spar)?.length;
        if let Construction::Wing(wing) = self.construction {
            let chord = wing.join * length;
            let root = i as f64 / STEPS as f64;
            let y = half_thickness(wing.thickness, root).0;
            return Some(Point::new(root * root * chord, y * chord));
        }
        let form = self.bow(spar)?;
        let x = form.station(i);
        Some(Point::new(x * length, form.at(x).0 * length))
    }

    /// Middle lines of a spar as made, x aft from its luff end, y to starboard.
    pub(crate) fn limbs(&self, spar: usize) -> Vec<Vec<Point>> {
        let Some(at) = self.spars.get(spar) else {
            return Vec::new();
        };
        let line = |from: f64, to: f64| vec![Point::new(from, 0.0), Point::new(to, 0.0)];
        let (mut port, mut starboard) = (Vec::new(), Vec::new());
        for i in 0..=STEPS {
            if let Some(p) = self.limb(spar, i) {
                port.push(Point::new(p.x, -p.y));
                starboard.push(p);
            }
        }
        if starboard.is_empty() {
            return vec![line(0.0, at.length)];
        }
        let mut limbs = vec![port, starboard];
        if let Construction::Wing(wing) = self.construction {
            limbs.push(line(wing.join * at.length, at.length));
        }
        limbs
    }

    /// Least room between the mast and the limb of a forked batten or a bow, either side, wherever its travel takes it [m];
    /// negative where it would have to pass through the mast. None for a spar that does not straddle the mast.
    ///
    /// Distance of the limb from the mast's middle less the mast's own reach that way. Derived.
    pub fn mast_room(&self, spar: usize) -> Option<f64> {
        let at = self.spars.get(spar)?;
        let mast = self.mast_cut(at.luff, at.along)?;
        let mut limb = [Point::ORIGIN; STEPS + 1];
        for (i, p) in limb.iter_mut().enumerate() {
            *p = self.limb(spar, i)?;
        }
        let travel = self.travel.get(spar).copied().unwrap_or([0.0; 2]);
        let mut least = f64::INFINITY;
        // A limb is fair: between the ends of the travel it is nowhere nearer than near one of these.
        for step in 0..=8 {
            let t = f64::from(step) / 8.0;
            let x = mast.centre.x + travel[0] - t * (travel[0] + travel[1]);
            for p in &limb {
                let way = *p - Point::new(x, 0.0);
                // Too far off to be the nearest.
                if way.x.abs() > least + mast.along || way.y > least + mast.along {
                    continue;
                }
                let reach = way.hypot();
                let (c, s) = (way.x / mast.along, way.y / mast.across);
                let own = if reach > 0.0 { reach / c.hypot(s) } else { 0.0 };
                least = least.min(reach - own);
            }
            let (from, to) = (limb[0].x, limb[STEPS].x);
            if x < from + mast.along || x > to - mast.along {
                least = least.min(-mast.across);
            }
        }
        least.is_finite().then_some(least)
    }

    /// Room at the mast asked for by the construction [m].
    pub fn room_wanted(&self) -> f64 {
        match self.construction {
            Construction::Wing(w) => w.room,
            Construction::Bows(b) => b.room,
            _ => 0.0,
        }
    }
}

/// Presses a line in where the mast stands to leeward in it; `sign` turns leeward positive.
fn press(line: &mut Vec<Point>, mast: &MastCut, sign: f64) -> Option<Touch> {
    let middle = sign * mast.centre.y;
    // Weather side of the mast, fore to aft.
    let rim: Vec<Point> = (0..=16)
        .map(|i| {
            let (sin, cos) = angles::sin_cos(core::f64::consts::PI * f64::from(i) / 16.0);
            Point::new(mast.centre.x - mast.along * cos, middle - mast.across * sin)
        })
        .collect();
    let shape: Vec<Point> = line.iter().map(|p| Point::new(p.x, sign * p.y)).collect();
    let (first, last) = (*shape.first()?, *shape.last()?);
    if rim.iter().all(|p| p.y >= height(&shape, p.x)) {
        return None;
    }
    if rim[0].x <= first.x || rim[16].x >= last.x {
        // Luff or leech against the mast: nothing to span from.
        return None;
    }
    let ends = |reach: f64| {
        let at = |x: f64| Point::new(x, height(&shape, x));
        let from = (rim[0].x - reach * (rim[0].x - first.x)).max(first.x);
        let to = (rim[16].x + reach * (last.x - rim[16].x)).min(last.x);
        (at(from), at(to))
    };
    let lack = |reach: f64| {
        let (from, to) = ends(reach);
        length(&taut(from, &rim, to)) - length_between(&shape, from, to)
    };
    // The further out it leaves its shape, the less it lacks.
    let (mut near, mut far) = (0.0, 1.0);
    let short = lack(far).max(0.0);
    if short == 0.0 {
        for _ in 0..40 {
            let reach = 0.5 * (near + far);
            if lack(reach) > 0.0 {
                near = reach;
            } else {
                far = reach;
            }
        }
    }
    let (from, to) = ends(far);
    let path = taut(from, &rim, to);
    let mut depth = 0.0_f64;
    for p in &path {
        depth = depth.max(height(&shape, p.x) - p.y);
    }
    let mut pressed: Vec<Point> = Vec::new();
    pressed.extend(shape.iter().filter(|p| p.x < from.x));
    pressed.extend(&path);
    pressed.extend(shape.iter().filter(|p| p.x > to.x));
    for p in &mut pressed {
        p.y *= sign;
    }
    *line = pressed;
    Some(Touch {
        depth,
        from: from.x,
        to: to.x,
        short,
    })
}

/// Height of a line of rising x at x.
fn height(line: &[Point], x: f64) -> f64 {
    for pair in line.windows(2) {
        if x <= pair[1].x {
            let t = (x - pair[0].x) / (pair[1].x - pair[0].x).max(1e-12);
            return pair[0].y + (pair[1].y - pair[0].y) * t.max(0.0).min(1.0);
        }
    }
    line.last().map_or(0.0, |p| p.y)
}

/// Shortest way from one point to another that leaves the rim to leeward: the lower hull.
fn taut(from: Point, rim: &[Point], to: Point) -> Vec<Point> {
    let mut hull: Vec<Point> = Vec::new();
    for p in [from].iter().chain(rim).chain([&to]) {
        while let [.., a, b] = hull[..]
            && (b - a).cross(*p - b) <= 0.0
        {
            hull.pop();
        }
        hull.push(*p);
    }
    hull
}

fn length(line: &[Point]) -> f64 {
    line.windows(2).map(|p| p[0].distance(p[1])).sum()
}

/// Length of a line of rising x between two of its points.
fn length_between(line: &[Point], from: Point, to: Point) -> f64 {
    let mut sum = 0.0;
    let mut before = from;
    for p in line {
        if p.x > from.x && p.x < to.x {
            sum += before.distance(*p);
            before = *p;
        }
    }
    sum + before.distance(to)
}
