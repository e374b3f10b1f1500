//! The drawing board: the scene under the pen, its pens, and which places are taken.

use design::{MastAccount, MastDesign, MastPose};
use geometry::{SailPlan, Spar};
use kurbo::{Affine, Point, Rect, Vec2};
use quantities::Quantity;
use quantities::listed::Listed as _;

use crate::fit::Frame;
use crate::moment::{Medium, Moment};
use crate::palette::Role;
use crate::scene::{About, Anchor, Scene, Stroke, Words};

/// Line weights [px], in the ratio yard 1, boom 0.8, batten 0.4, cloth edge 0.2, dimension 0.15.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pens {
    pub(crate) yard: f64,
    pub(crate) boom: f64,
    pub(crate) batten: f64,
    pub(crate) edge: f64,
    pub(crate) dimension: f64,
}

impl Pens {
    fn new(frame: &Frame) -> Self {
        // Drawn on a larger board with a broader pen; magnified, a spar grows but its edges less.
        let yard = (frame.width.min(frame.height) / 150.0).max(2.8).min(5.0);
        Self {
            yard,
            boom: 0.8 * yard,
            batten: 0.4 * yard,
            edge: 0.2 * yard,
            dimension: (0.15 * yard).max(0.6),
        }
    }
}

/// One sail with all that drawing it needs.
pub(crate) struct Sail<'a> {
    /// Which mast.
    pub(crate) index: usize,
    pub(crate) design: &'a MastDesign,
    pub(crate) account: &'a MastAccount,
    pub(crate) plan: &'a SailPlan,
    pub(crate) pose: &'a MastPose,
    /// From the sail's plane to pixels.
    pub(crate) plane: Affine,
    /// From the plane of the mast along the ship to pixels.
    pub(crate) mast: Affine,
}

/// What a panel does at this moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PanelState {
    Lying,
    Folding,
    Standing,
}

impl Sail<'_> {
    /// What panel `number` (1 = lowest) does.
    pub(crate) fn panel_state(&self, number: usize) -> PanelState {
        if self.pose.folding == Some(number) {
            PanelState::Folding
        } else if (number as f64) <= self.pose.hoist + 1e-9 {
            PanelState::Lying
        } else {
            PanelState::Standing
        }
    }

    /// How many spars stand clear of the bundle.
    pub(crate) fn standing_spars(&self) -> usize {
        let lying = self.pose.hoist.floor().max(0.0) as usize;
        if lying == 0 {
            return self.pose.spars.len();
        }
        self.pose.spars.len().saturating_sub(lying + 1)
    }

    /// A spar's luff end and leech end [px].
    pub(crate) fn ends(&self, spar: &Spar) -> (Point, Point) {
        (self.plane * spar.luff, self.plane * spar.leech())
    }

    /// Where a spar crosses the mast's axis, on the axis [px].
    pub(crate) fn on_mast(&self, spar: &Spar) -> Option<Point> {
        if !spar.crosses_mast() {
            return None;
        }
        spar.height_on_mast()
            .map(|height| self.mast * Point::new(0.0, height))
    }

    /// True when no panel is lowered, not in part either.
    pub(crate) fn fully_hoisted(&self) -> bool {
        self.pose.hoist < 1e-6
    }
}

/// A number to be lettered.
pub(crate) struct Label {
    pub(crate) words: String,
    pub(crate) about: About,
}

impl Label {
    /// A number alone, from SI.
    pub(crate) fn new(board: &Board, si: f64, quantity: &'static Quantity) -> Self {
        Self {
            words: board.moment.number(si, quantity),
            about: About {
                quantity,
                spar: None,
            },
        }
    }

    /// One of as many as there are spars.
    pub(crate) fn of_spar(mut self, spar: usize) -> Self {
        self.about.spar = Some(spar);
        self
    }

    pub(crate) fn lettered(&self, role: Role, at: Point, anchor: Anchor) -> Words {
        let mut words = Words::new(self.words.clone(), role, at, anchor);
        words.about = Some(self.about);
        words
    }
}

/// No words come nearer to the edge of the pane [px].
pub(crate) const EDGE: f64 = 2.0;

/// Four corners of something that wants its place alone.
pub(crate) type Quad = [Point; 4];

/// The scene under the pen.
pub(crate) struct Board<'a> {
    pub(crate) scene: Scene,
    pub(crate) moment: &'a Moment<'a>,
    pub(crate) frame: &'a Frame,
    pub(crate) pens: Pens,
    /// False on a phone: fewer notes then.
    pub(crate) roomy: bool,
    /// Cloth drawn, panel by panel, with the number of its mast.
    pub(crate) cloth: Vec<(usize, Quad)>,
    taken: Vec<(Rect, Quad)>,
    /// Boxes round all words lettered so far.
    lettered: Vec<Quad>,
}

impl<'a> Board<'a> {
    pub(crate) fn new(moment: &'a Moment<'a>, frame: &'a Frame) -> Self {
        Self {
            scene: Scene::new(frame.width, frame.height),
            moment,
            frame,
            pens: Pens::new(frame),
            roomy: frame.width >= 480.0 && frame.height >= 480.0,
            cloth: Vec::with_capacity(24),
            taken: Vec::with_capacity(96),
            lettered: Vec::with_capacity(32),
        }
    }

    pub(crate) fn on_paper(&self) -> bool {
        self.moment.medium == Medium::Paper
    }

    /// All sails that can be drawn.
    pub(crate) fn sails(&self) -> Vec<Sail<'a>> {
        let moment = self.moment;
        moment
            .design
            .masts
            .iter()
            .zip(&moment.account.masts)
            .zip(&moment.pose.masts)
            .enumerate()
            .filter_map(|(index, ((design, account), pose))| {
                let (plan, pose) = (account.plan.as_ref()?, pose.as_ref()?);
                (pose.spars.len() == plan.spars.len()).then(|| Sail {
                    index,
                    design,
                    account,
                    plan,
                    pose,
                    plane: self.frame.sail(&account.mast, pose.sheeting),
                    mast: self.frame.mast(&account.mast),
                })
            })
            .listed()
    }

    /// Height of deck or coachroof at a place across the page [px].
    pub(crate) fn deck_at(&self, x: f64) -> f64 {
        let ship = (x - self.frame.origin.x) / self.frame.scale;
        let top = self.moment.design.boat.hull.top_at(ship);
        self.frame.origin.y - top * self.frame.scale
    }

    /// Whether a line with its number in it clears deck and coachroof.
    pub(crate) fn above_deck(&self, from: Point, to: Point) -> bool {
        (0..=12).all(|i| {
            let at = from.lerp(to, f64::from(i) / 12.0);
            at.y < self.deck_at(at.x) - 2.0
        })
    }

    /// Keeps a place from being lettered over.
    pub(crate) fn take(&mut self, quad: Quad) {
        if let Some(bounds) = bounds(&quad) {
            self.taken.push((bounds, quad));
        }
    }

    /// Keeps a line from being lettered over; `clear` [px] on either side of it.
    pub(crate) fn take_line(&mut self, from: Point, to: Point, clear: f64) {
        self.take(strip(from, to, clear));
    }

    /// Keeps the surroundings of a point from being lettered over.
    pub(crate) fn take_point(&mut self, at: Point, clear: f64) {
        self.take_line(at, at + Vec2::new(0.01, 0.0), clear);
        self.take_line(
            at - Vec2::new(clear, 0.0),
            at + Vec2::new(clear, 0.0),
            clear,
        );
    }

    /// Whether words could stand here: within the pane, on nothing taken, with a gap [px] along
    /// and across their line.
    pub(crate) fn free(&self, words: &Words, gap: (f64, f64)) -> bool {
        let quad = grown(words.corners(), gap);
        let Some(bounds) = bounds(&quad) else {
            return false;
        };
        bounds.x0 >= EDGE
            && bounds.y0 >= EDGE
            && bounds.x1 <= self.frame.width - EDGE
            && bounds.y1 <= self.frame.height - EDGE
            && !self
                .taken
                .iter()
                .any(|(other, taken)| overlap(bounds, *other) && crossing(&quad, taken))
    }

    /// Whether a line crosses the cloth of another sail than this mast's.
    pub(crate) fn crosses_another_sail(&self, mast: usize, from: Point, to: Point) -> bool {
        let quad = strip(from, to, 2.0);
        self.cloth
            .iter()
            .any(|(other, cloth)| *other != mast && crossing(&quad, cloth))
    }

    /// Letters words where they have room; false where they have none.
    pub(crate) fn letter(&mut self, words: &Words, gap: (f64, f64)) -> bool {
        let free = self.free(words, gap);
        if free {
            self.letter_here(words.clone());
        }
        free
    }

    /// Letters words, whatever stands there.
    pub(crate) fn letter_here(&mut self, words: Words) {
        let corners = words.corners();
        self.take(corners);
        self.lettered.push(grown(corners, (2.0, 1.0)));
        self.scene.words(words);
    }

    /// Whether a line crosses no words.
    pub(crate) fn clear_of_words(&self, from: Point, to: Point) -> bool {
        covered(from, to, &self.lettered).is_empty()
    }

    /// Whether no words stand on a place.
    pub(crate) fn clear_of_lettering(&self, quad: &Quad) -> bool {
        !self.lettered.iter().any(|taken| crossing(quad, taken))
    }

    /// A line that breaks where words stand in its way.
    pub(crate) fn line_round_words(&mut self, from: Point, to: Point, stroke: Stroke) {
        let mut start = 0.0;
        for (left_off, taken_up) in covered(from, to, &self.lettered) {
            self.scene
                .line(from.lerp(to, start), from.lerp(to, left_off), stroke);
            start = taken_up;
        }
        if start < 1.0 {
            self.scene.line(from.lerp(to, start), to, stroke);
        }
    }
}

/// A line with some room on either side.
pub(crate) fn strip(from: Point, to: Point, clear: f64) -> Quad {
    let along = to - from;
    let length = along.hypot();
    let along = if length > 1e-9 {
        along / length
    } else {
        Vec2::new(1.0, 0.0)
    };
    let side = Vec2::new(-along.y, along.x) * clear;
    [from + side, to + side, to - side, from - side]
}

fn bounds(quad: &Quad) -> Option<Rect> {
    let [a, b, c, d] = *quad;
    let bounds = Rect::from_points(a, c).union(Rect::from_points(b, d));
    bounds.is_finite().then_some(bounds)
}

fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// A box with room along its line and across it.
pub(crate) fn grown(quad: Quad, by: (f64, f64)) -> Quad {
    let [a, b, _, d] = quad;
    let unit = |v: Vec2| {
        if v.hypot() > 1e-9 {
            v / v.hypot()
        } else {
            Vec2::ZERO
        }
    };
    let (along, down) = (unit(b - a) * by.0, unit(d - a) * by.1);
    let [a, b, c, d] = quad;
    [
        a - along - down,
        b + along - down,
        c + along + down,
        d - along + down,
    ]
}

/// Whether two convex quadrilaterals share any place: they do unless a side of one parts them.
pub(crate) fn crossing(one: &Quad, other: &Quad) -> bool {
    let parted = |by: &Quad| {
        (0..4).any(|i| {
            let (from, to) = (by[i], by[(i + 1) % 4]);
            let normal = Vec2::new(to.y - from.y, from.x - to.x);
            let span = |quad: &Quad| {
                quad.iter()
                    .map(|p| p.to_vec2().dot(normal))
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), d| {
                        (least.min(d), most.max(d))
                    })
            };
            let (a, b) = (span(one), span(other));
            a.1 <= b.0 || b.1 <= a.0
        })
    };
    !parted(one) && !parted(other)
}

/// Which stretches of a line, as shares of it, lie on these; neighbours joined.
pub(crate) fn covered(from: Point, to: Point, quads: &[Quad]) -> Vec<(f64, f64)> {
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for stretch in quads.iter().filter_map(|quad| within(from, to, quad)) {
        let before = stretches.iter().take_while(|s| s.0 <= stretch.0).count();
        stretches.insert(before, stretch);
    }
    let mut joined: Vec<(f64, f64)> = Vec::with_capacity(2);
    for (start, end) in stretches {
        match joined.last_mut() {
            Some(last) if start <= last.1 + 1e-3 => last.1 = last.1.max(end),
            _ => joined.push((start, end)),
        }
    }
    joined
}

/// The share of a line inside a convex quadrilateral, whichever way round it runs.
fn within(from: Point, to: Point, quad: &Quad) -> Option<(f64, f64)> {
    let doubled: f64 = (0..4)
        .map(|i| quad[i].to_vec2().cross(quad[(i + 1) % 4].to_vec2()))
        .sum();
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for i in 0..4 {
        let (a, b) = (quad[i], quad[(i + 1) % 4]);
        let side = |p: Point| (b - a).cross(p - a) * doubled.signum();
        let (at_from, at_to) = (side(from), side(to));
        if at_from < 0.0 && at_to < 0.0 {
            return None;
        }
        if at_from < 0.0 {
            start = start.max(at_from / (at_from - at_to));
        } else if at_to < 0.0 {
            end = end.min(at_from / (at_from - at_to));
        }
    }
    (start < end).then_some((start, end))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, half: f64, angle: f64) -> Quad {
        let (a, b) = (
            geometry::unit(angle) * half,
            geometry::unit(angle + core::f64::consts::FRAC_PI_2) * half,
        );
        let at = Point::new(x, y);
        [at - a - b, at + a - b, at + a + b, at - a + b]
    }

    #[test]
    fn turned_boxes_that_only_their_upright_boxes_join_do_not_touch() {
        let one = square(0.0, 0.0, 1.0, 0.0);
        let diamond = square(2.0, 2.0, 1.0, core::f64::consts::FRAC_PI_4);
        assert!(overlap(bounds(&one).unwrap(), bounds(&diamond).unwrap()));
        assert!(!crossing(&one, &diamond));
        assert!(crossing(
            &one,
            &square(1.5, 1.5, 1.0, core::f64::consts::FRAC_PI_4)
        ));
        assert!(
            crossing(&square(0.0, 0.0, 0.1, 0.3), &one),
            "one inside the other"
        );
    }

    #[test]
    fn a_line_is_ghosted_only_where_cloth_lies_and_panels_join() {
        let panel = |low: f64, high: f64| {
            [(0.0, low), (1.0, low), (1.0, high), (0.0, high)].map(|(x, y)| Point::new(x, y))
        };
        let (from, to) = (Point::new(0.5, 0.0), Point::new(0.5, 10.0));
        let found = covered(
            from,
            to,
            &[panel(4.0, 6.0), panel(2.0, 4.0), panel(8.0, 9.0)],
        );
        assert_eq!(found.len(), 2, "{found:?}");
        assert!((found[0].0 - 0.2).abs() < 1e-9 && (found[0].1 - 0.6).abs() < 1e-9);
        assert!((found[1].0 - 0.8).abs() < 1e-9 && (found[1].1 - 0.9).abs() < 1e-9);
        assert!(
            covered(
                Point::new(2.0, 0.0),
                Point::new(2.0, 9.0),
                &[panel(1.0, 2.0)]
            )
            .is_empty()
        );
    }
}
