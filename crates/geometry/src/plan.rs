//! The sail plan: an ordered list of spars, and the rules that yield it.

use kurbo::{BezPath, Line, PathSeg, Point, Rect, Shape as _, Vec2};

use crate::order::rises_through;
use crate::panel::closed;
use crate::spar::{turned, unit};
use crate::{MOST_PANELS, Moments, Panel, Spar, moments};

/// What a sail plan is made from [SI, radians].
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRule {
    /// How the spars are found.
    pub shape: Shape,
    /// Share of the boom's length ahead of the mast axis (chord balance).
    pub balance: f64,
    /// Height on the mast where the boom crosses it [m above partners].
    pub boom_height: f64,
    /// Sling point along the yard from the throat, as a share of its length.
    pub sling: f64,
    /// Round (+) or hollow (-) of each panel's luff, share of the edge.
    pub luff_round: f64,
    /// Round (+) or hollow (-) of each panel's leech, share of the edge.
    pub leech_round: f64,
}

/// Where the spars come from.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Lower panels alike, the upper `turning` panels opening like a fan.
    Rule(FanRule),
    /// Every spar given, boom first: luff end measured from the tack.
    Table(Vec<Spar>),
}

/// The rule behind parallel sails with a fanned head (some panels turn), full fans and low yards
/// (all panels turn, by much or by little).
#[derive(Clone, Debug, PartialEq)]
pub struct FanRule {
    /// Number of panels, 1 to [`MOST_PANELS`].
    pub panels: usize,
    /// How many of them, counted from the top, turn from batten rise to yard angle.
    pub turning: usize,
    /// Length of boom and lower battens [m].
    pub chord: f64,
    /// Luff width of a lower panel [m].
    pub panel_width: f64,
    /// Luff width of each turning panel as a share of `panel_width`, upward.
    pub widths: Vec<f64>,
    /// How the turn from rise to yard angle is shared among the turning panels, upward.
    pub steps: Vec<f64>,
    /// Angle of the boom [rad].
    pub boom_rise: f64,
    /// Angle of the lower battens [rad].
    pub rise: f64,
    /// Angle of the yard [rad].
    pub yard_angle: f64,
    /// Length of the yard [m].
    pub yard_length: f64,
    /// Luff against the mast, head of luff aft positive [rad].
    pub luff_rake: f64,
}

/// A part beside the slot narrower than this share of the chord is not cut (common practice).
pub const LEAST_PART: f64 = 0.05;

/// Something about a plan that cannot be, with the numbers that show it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// No leech of equal kinks meets a yard of this length [m].
    YardOutOfReach(f64),
    /// Spars of this panel (1 = lowest) cross, or its edges fold back.
    PanelFolded(usize),
    /// A table needs at least a boom and a yard, and at most `MOST_PANELS` + 1 spars.
    SparCount(usize),
    /// A length, width or angle that is not a usable number.
    NotANumber,
    /// Two of chord, luff and mast are held: nothing is left to meet the target area with.
    AllHeld(Held, Held),
    /// The target area [m²] is out of reach with the held dimension.
    AreaOutOfReach(f64),
}

/// A dimension that must not change when the sail is fitted to an area.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// Chord of the lower panels.
    Chord,
    /// Luff width of the panels.
    Luff,
    /// Height of the sling point, and with it the mast.
    Mast,
}

/// A sail plan: spars boom to yard, and the moments of every panel.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SailPlan {
    /// Boom = 0 .. yard = N.
    pub spars: Vec<Spar>,
    /// Round (+) or hollow (-) of each panel's luff, share of the edge.
    pub luff_round: f64,
    /// Round (+) or hollow (-) of each panel's leech, share of the edge.
    pub leech_round: f64,
    /// Sling point along the yard from the throat, share of its length.
    pub sling: f64,
    /// Moments of the cloth of each panel, lowest first.
    pub panel_moments: Vec<Moments>,
    /// Width of the slot at the mast, share of the chord; nought without one.
    pub slot: f64,
}

impl PlanRule {
    /// The plan this rule yields, with whatever is wrong about it.
    ///
    /// Only a plan without two usable spars is refused outright; every other fault leaves a plan
    /// to look at.
    pub fn plan(&self) -> (Option<SailPlan>, Vec<Fault>) {
        let mut faults = Vec::new();
        let spars = match &self.shape {
            Shape::Rule(rule) => rule.spars(&mut faults),
            Shape::Table(spars) => spars.clone(),
        };
        if spars.len() < 2 || spars.len() > MOST_PANELS + 1 {
            faults.push(Fault::SparCount(spars.len()));
            return (None, faults);
        }
        let plan = SailPlan::new(
            self.placed(spars),
            self.luff_round,
            self.leech_round,
            self.sling,
        );
        let finite = plan.spars.iter().all(|s| {
            s.luff.is_finite() && s.along.is_finite() && s.length.is_finite() && s.length > 0.0
        });
        if !finite || !plan.area().is_finite() {
            faults.push(Fault::NotANumber);
            return (None, faults);
        }
        for i in 1..=plan.n_panels() {
            if plan.panel(i).is_none_or(|p| !p.is_convex()) {
                faults.push(Fault::PanelFolded(i));
            }
        }
        (Some(plan), faults)
    }

    /// Moves the spars, given from the tack, so that the boom has its balance and height.
    fn placed(&self, mut spars: Vec<Spar>) -> Vec<Spar> {
        let Some(boom) = spars.first().copied() else {
            return spars;
        };
        let tack = Point::new(0.0, self.boom_height) - boom.along * (self.balance * boom.length);
        let shift = tack - boom.luff;
        for spar in &mut spars {
            spar.luff += shift;
        }
        spars
    }
}

impl FanRule {
    /// Spars with the tack at the origin.
    fn spars(&self, faults: &mut Vec<Fault>) -> Vec<Spar> {
        let panels = self.panels.clamp(1, MOST_PANELS);
        let turning = self.turning.min(panels);
        let lower = panels - turning;
        let (sin, cos) = angles::sin_cos(self.luff_rake);
        let up = Vec2::new(sin, cos);

        let mut luff = Point::ORIGIN;
        let mut spars = vec![Spar::new(luff, self.boom_rise, self.chord)];
        for _ in 0..lower {
            luff += up * self.panel_width;
            spars.push(Spar::new(luff, self.rise, self.chord));
        }
        let below = if lower == 0 {
            self.boom_rise
        } else {
            self.rise
        };
        let steps: Vec<f64> = (0..turning)
            .map(|j| self.steps.get(j).copied().unwrap_or(1.0).max(0.0))
            .collect();
        let total: f64 = steps.iter().sum();
        let mut done = 0.0;
        for (j, step) in steps.iter().enumerate() {
            luff += up * (self.panel_width * self.widths.get(j).copied().unwrap_or(1.0));
            done += step;
            let share = if total > 0.0 { done / total } else { 1.0 };
            spars.push(Spar::new(
                luff,
                below + (self.yard_angle - below) * share,
                self.yard_length,
            ));
        }
        if turning > 0 && !self.fair_leech(&mut spars, lower) {
            faults.push(Fault::YardOutOfReach(self.yard_length));
            let yard_length = self.yard_length;
            for (j, spar) in spars[lower + 1..].iter_mut().enumerate() {
                let share = (j + 1) as f64 / turning as f64;
                spar.length = self.chord + (yard_length - self.chord) * share;
            }
        }
        spars
    }

    /// Gives the turning spars the lengths that make the leech a line of equal kinks ending at
    /// the yard's length. False when no such line exists.
    ///
    /// Above parallel panels the leech leaves the last parallel spar in the direction of the lower
    /// leech and kinks there too; the kink is the unknown. Where every panel turns there is no
    /// lower leech: each kink is the mean turn of a panel, so that spars and leech meet at like
    /// angles all the way up, and the unknown is the heading in which the leech leaves the clew.
    /// Either way a greater unknown means a shorter yard, so it is bracketed (ITP, bounded).
    fn fair_leech(&self, spars: &mut [Spar], lower: usize) -> bool {
        let Some((fixed, turning)) = spars.split_at_mut_checked(lower + 1) else {
            return false;
        };
        let Some(start) = fixed.last().map(Spar::leech) else {
            return false;
        };
        let whole_fan = lower == 0;
        let mean_turn = (self.yard_angle - self.boom_rise) / turning.len().max(1) as f64;
        let leech_below = core::f64::consts::FRAC_PI_2 - self.luff_rake;
        // Angle and direction in which the leech leaves, and by which it kinks at each spar.
        let course = |unknown: f64| {
            let (heading, kink) = if whole_fan {
                (self.boom_rise + unknown, mean_turn)
            } else {
                (leech_below + unknown, unknown)
            };
            (heading, unit(heading), kink, unit(kink))
        };
        // How much too long the yard comes out; a ray that is never met counts as far too long,
        // a leech that runs past the luff as far too short.
        let miss = |unknown: f64| -> f64 {
            const FAR: f64 = 1e3;
            let (mut heading, mut direction, kink, turn) = course(unknown);
            let mut at = start;
            let mut length = 0.0;
            for spar in turning.iter() {
                let opening = spar.along.cross(direction);
                if opening < 1e-6 {
                    return if heading - spar.angle < 1.0 {
                        FAR
                    } else {
                        -FAR
                    };
                }
                length = (at - spar.luff).cross(direction) / opening;
                let next = spar.at(length);
                if length <= 0.0 || (next - at).dot(direction) <= 0.0 {
                    return -FAR;
                }
                at = next;
                heading += kink;
                direction = turned(direction, turn);
            }
            (length - self.yard_length).max(-FAR).min(FAR)
        };
        let (low, high) = if whole_fan { (0.2, 2.8) } else { (-1.0, 1.5) };
        let (at_low, at_high) = (miss(low), miss(high));
        if !(at_low > 0.0 && at_high < 0.0) {
            return false;
        }
        let rising = |x| -miss(x);
        let found = rises_through(&rising, (low, high), (-at_low, -at_high), 1e-14);
        let (_, mut direction, _, turn) = course(found);
        let mut at = start;
        for spar in turning.iter_mut() {
            spar.length = (at - spar.luff).cross(direction) / spar.along.cross(direction);
            at = spar.leech();
            direction = turned(direction, turn);
        }
        let met = turning
            .last()
            .is_some_and(|yard| (yard.length - self.yard_length).abs() < 1e-6);
        if met && let Some(yard) = turning.last_mut() {
            yard.length = self.yard_length;
        }
        met
    }
}

impl SailPlan {
    /// A plan from its spars; moments are worked out once, here.
    pub fn new(spars: Vec<Spar>, luff_round: f64, leech_round: f64, sling: f64) -> Self {
        let mut plan = Self {
            spars,
            luff_round,
            leech_round,
            sling,
            panel_moments: Vec::new(),
            slot: 0.0,
        };
        plan.panel_moments = plan.panels().map(|p| p.moments()).collect();
        plan
    }

    /// Opens a slot at the mast, so many of every spar's length wide with its middle on the mast axis: its area is no cloth. A
    /// panel of which a spar misses the mast, or has it too near an end, stays whole.
    pub fn open_slot(&mut self, share: f64) {
        self.slot = share;
        for i in 0..self.panel_moments.len() {
            let open = self.slot_edges(i, &self.spars[i], &self.spars[i + 1]);
            for (from, to) in open.into_iter().flatten() {
                let edge = Moments::of_segment(&PathSeg::Line(Line::new(from, to)));
                self.panel_moments[i] = self.panel_moments[i] - edge;
            }
        }
    }

    /// Edges of the slot in panel `i` (0 = lowest), counter-clockwise, wherever its two spars lie; none where it has none.
    pub fn slot_edges(&self, i: usize, lower: &Spar, upper: &Spar) -> Option<[(Point, Point); 4]> {
        let cut = |i: usize, lies: &Spar| {
            let spar = self.spars.get(i)?;
            let (middle, half) = (spar.ahead()?, 0.5 * self.slot * spar.length);
            let (ahead, abaft) = (middle - half, spar.length - middle - half);
            let within = half > 0.0 && ahead.min(abaft) > LEAST_PART * spar.length;
            within.then(|| (lies.at(middle - half), lies.at(middle + half)))
        };
        let ((a, b), (d, c)) = (cut(i, lower)?, cut(i + 1, upper)?);
        Some([(a, b), (b, c), (c, d), (d, a)])
    }

    /// Number of panels, N.
    pub fn n_panels(&self) -> usize {
        self.spars.len().saturating_sub(1)
    }

    /// Panel `number`, 1 = lowest.
    pub fn panel(&self, number: usize) -> Option<Panel> {
        let lower = *self.spars.get(number.checked_sub(1)?)?;
        let upper = *self.spars.get(number)?;
        Some(Panel {
            lower,
            upper,
            luff_round: self.luff_round,
            leech_round: self.leech_round,
        })
    }

    /// All panels, lowest first.
    pub fn panels(&self) -> impl Iterator<Item = Panel> + '_ {
        self.spars.windows(2).map(|pair| Panel {
            lower: pair[0],
            upper: pair[1],
            luff_round: self.luff_round,
            leech_round: self.leech_round,
        })
    }

    /// Moments of the whole sail.
    pub fn moments(&self) -> Moments {
        self.panel_moments
            .iter()
            .fold(Moments::default(), |sum, m| sum + *m)
    }

    /// Area of the sail [m²].
    pub fn area(&self) -> f64 {
        self.moments().area
    }

    /// The boom; every plan made by [`PlanRule::plan`] has one.
    pub fn boom(&self) -> Option<&Spar> {
        self.spars.first()
    }

    /// The yard.
    pub fn yard(&self) -> Option<&Spar> {
        self.spars.last()
    }

    /// Where the halyard takes the yard (u, v) [m].
    pub fn sling_point(&self) -> Point {
        self.yard()
            .map_or(Point::ORIGIN, |yard| yard.at(self.sling * yard.length))
    }

    /// Outline of the whole sail, counter-clockwise from the tack.
    pub fn outline(&self) -> BezPath {
        let (Some(boom), Some(yard)) = (self.boom(), self.yard()) else {
            return BezPath::new();
        };
        let panels: Vec<Panel> = self.panels().collect();
        let mut edges = vec![PathSeg::Line(Line::new(boom.luff, boom.leech()))];
        edges.extend(panels.iter().map(Panel::leech_edge));
        edges.push(PathSeg::Line(Line::new(yard.leech(), yard.luff)));
        edges.extend(panels.iter().rev().map(Panel::luff_edge));
        closed(&edges)
    }

    /// Length all round the sail [m].
    pub fn perimeter(&self) -> f64 {
        moments::perimeter(self.outline())
    }

    /// Smallest upright box round the sail.
    pub fn bounds(&self) -> Rect {
        self.outline().bounding_box()
    }

    /// (peak height above the lowest point of the boom)² / area.
    pub fn aspect(&self) -> f64 {
        let (Some(boom), Some(yard)) = (self.boom(), self.yard()) else {
            return 0.0;
        };
        let peak = yard.leech().y.max(yard.luff.y);
        let foot = boom.luff.y.min(boom.leech().y);
        (peak - foot).powi(2) / self.area()
    }

    /// Kink of the leech at each batten 1..N-1, positive where it turns forward [rad].
    pub fn leech_kinks(&self) -> Vec<f64> {
        self.spars
            .windows(3)
            .map(|s| {
                let below = s[1].leech() - s[0].leech();
                let above = s[2].leech() - s[1].leech();
                below.cross(above).atan2(below.dot(above))
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The usual sail of the defaults table: six panels, three in the head.
    pub(crate) fn usual() -> PlanRule {
        PlanRule {
            shape: Shape::Rule(FanRule {
                panels: 6,
                turning: 3,
                chord: 1.0,
                panel_width: 0.22,
                widths: vec![0.65, 0.45, 0.30],
                steps: vec![1.0, 1.4, 1.9],
                boom_rise: 8f64.to_radians(),
                rise: 8f64.to_radians(),
                yard_angle: 65f64.to_radians(),
                yard_length: 1.0,
                luff_rake: 0.0,
            }),
            balance: 0.10,
            boom_height: 0.5,
            sling: 0.48,
            luff_round: 0.0,
            leech_round: 0.0,
        }
    }

    /// The table of usual values says of itself: area 1.40 B², aspect 2.5, head panels 16 to 18 %
    /// of the area each (common practice, worked there by other means).
    #[test]
    fn the_usual_proportions_give_the_stated_area_and_aspect() {
        let (plan, faults) = usual().plan();
        let plan = plan.unwrap();
        assert!(faults.is_empty(), "{faults:?}");
        assert!((plan.area() - 1.40).abs() < 0.05, "{}", plan.area());
        assert!((plan.aspect() - 2.5).abs() < 0.1, "{}", plan.aspect());
    }

    #[test]
    fn a_fan_kinks_its_leech_by_the_mean_turn_of_its_panels() {
        let mut rule = usual();
        if let Shape::Rule(fan) = &mut rule.shape {
            fan.turning = 6;
            fan.widths = vec![0.45; 6];
            fan.steps = vec![1.0; 6];
            fan.yard_length = 0.9;
        }
        let (plan, faults) = rule.plan();
        assert!(faults.is_empty(), "{faults:?}");
        let plan = plan.unwrap();
        for kink in plan.leech_kinks() {
            assert!((kink - (57.0 / 6.0f64).to_radians()).abs() < 1e-9);
        }
        assert_eq!(plan.yard().unwrap().length, 0.9);
    }

    #[test]
    fn the_head_leech_kinks_alike_and_the_yard_keeps_its_length() {
        let (plan, _) = usual().plan();
        let plan = plan.unwrap();
        let kinks = plan.leech_kinks();
        for kink in &kinks[3..] {
            assert!((kink - kinks[2]).abs() < 1e-9, "{kinks:?}");
        }
        assert!(kinks[0].abs() < 1e-12);
        assert_eq!(plan.yard().unwrap().length, 1.0);
    }
}
