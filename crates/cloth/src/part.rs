//! The parts a panel is cut in, and where their finished cloth lies.

use geometry::{MOST_PANELS, Spar};
use kurbo::{Point, Vec2};

use crate::mean_line::{Form, STEPS};
use crate::shape::barrel_point;
use crate::space::At;
use crate::thickness::half_thickness;
use crate::{Barrel, Construction, Cut, Fault, Input};

fn tan(angle: f64) -> f64 {
    let (sin, cos) = angles::sin_cos(angle);
    sin / cos
}

/// Which part of its panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Of {
    /// The whole panel.
    Whole,
    /// The part ahead of the slot.
    Fore,
    /// The part abaft the slot or the join.
    After,
    /// The wing's skin to port.
    PortSkin,
    /// The wing's skin to starboard.
    StarboardSkin,
}

/// What an edge of cloth is made fast to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Seam {
    /// A spar, boom 0, and the next panel beyond it.
    Spar(usize),
    /// Nothing: the luff.
    Luff,
    /// Nothing: the leech.
    Leech,
    /// Nothing: an edge of the slot.
    Slot,
    /// A shelf, or the panel it belongs to.
    Shelf,
    /// The other skin, at the luff of a wing.
    Skin,
    /// Skins and after part, at the join.
    Join,
}

/// Edge of a part along a spar: straight in the sail's plane, and out of it by a form.
#[derive(Clone, Copy)]
pub(crate) struct Rail<'a> {
    pub(crate) from: Point,
    pub(crate) to: Point,
    pub(crate) out: Out<'a>,
}

/// How a rail stands out of the sail's plane.
#[derive(Clone, Copy)]
pub(crate) enum Out<'a> {
    /// Not at all; stations as those of a form with this place.
    Straight(f64),
    /// By a mean line on its own chord.
    Bow(Form<'a>),
    /// By a thickness form, its stations evenly spaced against the root of the share.
    Skin(f64),
}

impl Rail<'_> {
    pub(crate) fn chord(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// Unit vector from its fore to its after end.
    pub(crate) fn along(&self) -> Vec2 {
        (self.to - self.from) / self.chord()
    }

    /// Share of the chord and its slope, in half 0 or 1 at `s` of it.
    fn share(&self, half: usize, s: f64) -> (f64, f64) {
        let place = match self.out {
            Out::Straight(place) => place,
            Out::Bow(form) => form.place,
            Out::Skin(_) => {
                let t = 0.5 * (half as f64 + s);
                return (t * t, t);
            }
        };
        if half == 0 {
            (place * s, place)
        } else {
            (place + (1.0 - place) * s, 1.0 - place)
        }
    }

    /// Its foot in the sail's plane.
    pub(crate) fn foot(&self, half: usize, s: f64) -> Point {
        self.from + (self.to - self.from) * self.share(half, s).0
    }

    /// Height out of the sail's plane.
    pub(crate) fn height(&self, half: usize, s: f64) -> f64 {
        self.at(half, s).0.w
    }

    /// Place, and slope against `s`.
    pub(crate) fn at(&self, half: usize, s: f64) -> (At, At) {
        let (x, dx) = self.share(half, s);
        let chord = self.chord();
        let (w, dw) = match self.out {
            Out::Straight(_) => (0.0, 0.0),
            Out::Bow(form) => {
                // At the joint of the halves either side has its own slope.
                let (y, slope) = form.at(x);
                (chord * y, chord * slope * dx)
            }
            Out::Skin(thickness) => {
                let (y, slope) = half_thickness(thickness, 0.5 * (half as f64 + s));
                (chord * y, 0.5 * chord * slope)
            }
        };
        let way = self.to - self.from;
        (
            At::over(self.from + way * x, w),
            At {
                u: way.x * dx,
                v: way.y * dx,
                w: dw,
            },
        )
    }
}

/// How the cloth of a part runs from spar to spar.
#[derive(Clone, Copy)]
pub(crate) enum How<'a> {
    /// Straight from rail to rail at equal shares.
    Ruled,
    /// In arcs whose sagitta is a form on the mean chord.
    Barrel(Form<'a>, Barrel),
    /// Straight from rail to rail, but cut where shelves at this tangent come up from the spars.
    Shelf(f64),
}

/// A part of a panel.
#[derive(Clone, Copy)]
pub(crate) struct Part<'a> {
    pub(crate) panel: usize,
    pub(crate) of: Of,
    pub(crate) low: Rail<'a>,
    pub(crate) up: Rail<'a>,
    pub(crate) how: How<'a>,
    pub(crate) fore: Seam,
    pub(crate) after: Seam,
    /// Round of fore and after edge, share of the edge.
    pub(crate) round: [f64; 2],
}

/// Half and place in it of station `i`, taken from the half below at the joint.
pub(crate) fn halved(i: usize) -> (usize, f64) {
    let half = usize::from(i > STEPS / 2);
    (half, i as f64 / (STEPS / 2) as f64 - half as f64)
}

impl Part<'_> {
    pub(crate) fn mean_chord(&self) -> f64 {
        0.5 * (self.low.chord() + self.up.chord())
    }

    /// Width from spar to spar at a station, its unit vector, and the sagitta of a barrel there.
    pub(crate) fn width(&self, half: usize, s: f64) -> (f64, Vec2, f64) {
        let way = self.up.foot(half, s) - self.low.foot(half, s);
        let width = way.hypot();
        let sagitta = match self.how {
            How::Barrel(form, _) => self.mean_chord() * form.at(self.low.share(half, s).0).0,
            _ => 0.0,
        };
        (width, way / width, sagitta)
    }

    /// Shares of the ruling at which the shelves end: where its height over the sail's plane is its
    /// distance from the spar divided by tan β; η Y = tan β (s_low + η (s_up - s_low)), and the like from above.
    pub(crate) fn shelf_ends(&self, half: usize, s: f64) -> (f64, f64) {
        let How::Shelf(tan) = self.how else {
            return (0.0, 1.0);
        };
        let (low, up) = (self.low.height(half, s), self.up.height(half, s));
        let way = self.up.foot(half, s) - self.low.foot(half, s);
        let rise = |rail: &Rail| rail.along().cross(way);
        (
            tan * low / (rise(&self.low) - tan * (up - low)),
            1.0 - tan * up / (rise(&self.up) - tan * (low - up)),
        )
    }

    /// Where the finished cloth lies, at a share of its own width.
    pub(crate) fn point(&self, half: usize, s: f64, share: f64) -> At {
        let (low, up) = (self.low.at(half, s).0, self.up.at(half, s).0);
        match self.how {
            How::Ruled => low.lerp(up, share),
            How::Barrel(..) => {
                let (width, way, sagitta) = self.width(half, s);
                let (along, height) = barrel_point(width, sagitta, share);
                At::over(low.flat() + way * along, height)
            }
            How::Shelf(_) => {
                let (from, to) = self.shelf_ends(half, s);
                if share < from {
                    let foot = At::over(low.flat(), 0.0);
                    foot.lerp(low.lerp(up, from), share / from)
                } else if share > to {
                    let foot = At::over(up.flat(), 0.0);
                    foot.lerp(low.lerp(up, to), (1.0 - share) / (1.0 - to))
                } else {
                    low.lerp(up, share)
                }
            }
        }
    }

    /// Share of the room for its camber that it takes: 1 is a half circle of a barrel, or shelves that leave a hair of panel between them.
    pub(crate) fn fills(&self) -> f64 {
        let mut most = 0.0_f64;
        for i in 0..=STEPS {
            let (half, s) = halved(i);
            let filled = match self.how {
                How::Barrel(..) => {
                    let (width, _, sagitta) = self.width(half, s);
                    2.0 * sagitta / width
                }
                How::Shelf(_) => {
                    let (from, to) = self.shelf_ends(half, s);
                    if from >= 0.0 && to <= 1.0 {
                        (from + 1.0 - to) / 0.98
                    } else {
                        f64::INFINITY
                    }
                }
                How::Ruled => return 0.0,
            };
            most = most.max(filled);
        }
        most
    }

    /// What keeps it from being cut when it takes so much of its room.
    pub(crate) fn fault(&self, fills: f64) -> Option<Fault> {
        if fills <= 1.0 {
            return None;
        }
        Some(match self.how {
            How::Shelf(_) => Fault::ShelvesMeet(self.panel),
            _ => Fault::BarrelDeep(self.panel),
        })
    }
}

impl Input {
    /// The parts of a panel; none for a panel that is not there.
    pub(crate) fn parts(&self, panel: usize) -> Vec<Part<'_>> {
        self.parts_of(panel, &self.construction)
    }

    /// The parts of a panel were the sail made in this way.
    pub(crate) fn parts_of<'a>(
        &'a self,
        panel: usize,
        construction: &Construction,
    ) -> Vec<Part<'a>> {
        let (Some(drawn), Some(shape)) = (
            self.panel(panel),
            panel.checked_sub(1).and_then(|i| self.shapes.get(i)),
        ) else {
            return Vec::new();
        };
        let form = |share: f64, turn: f64| Form {
            line: &self.line,
            camber: share * shape.camber,
            place: self.line.place(shape.place),
            turn,
        };
        // The part between two shares of either spar.
        let part = |of: Of, low: (f64, f64), up: (f64, f64), out: [Out<'a>; 2], how: How<'a>| {
            let rail = |spar: &Spar, ends: (f64, f64), out| Rail {
                from: spar.at(ends.0 * spar.length),
                to: spar.at(ends.1 * spar.length),
                out,
            };
            Part {
                panel,
                of,
                low: rail(&drawn.lower, low, out[0]),
                up: rail(&drawn.upper, up, out[1]),
                how,
                fore: Seam::Luff,
                after: Seam::Leech,
                round: [self.luff_round, self.leech_round],
            }
        };
        let cut = |cut: Cut, form: Form<'a>| match cut {
            Cut::Barrel(barrel) => ([Out::Straight(form.place); 2], How::Barrel(form, barrel)),
            Cut::Shelf(beta) => ([Out::Bow(form); 2], How::Shelf(tan(beta))),
        };
        let whole = (0.0, 1.0);
        let flat = [Out::Straight(0.5); 2];
        match *construction {
            Construction::Flat => vec![part(Of::Whole, whole, whole, flat, How::Ruled)],
            Construction::Cambered(by) => {
                let (out, how) = cut(by, form(1.0, 0.0));
                vec![part(Of::Whole, whole, whole, out, how)]
            }
            Construction::Wing(wing) => {
                let (ahead, abaft) = ((0.0, wing.join), (wing.join, 1.0));
                let skin = [Out::Skin(wing.thickness); 2];
                let mut port = part(Of::PortSkin, ahead, ahead, skin, How::Ruled);
                (port.fore, port.after, port.round[1]) = (Seam::Skin, Seam::Join, 0.0);
                let mut after = part(Of::After, abaft, abaft, flat, How::Ruled);
                (after.fore, after.round[0]) = (Seam::Join, 0.0);
                let starboard = Part {
                    of: Of::StarboardSkin,
                    ..port
                };
                vec![port, starboard, after]
            }
            Construction::Split(split) => {
                let (Some(low), Some(up)) = (self.slot(panel - 1), self.slot(panel)) else {
                    return Vec::new();
                };
                let (out, how) = cut(split.cut, form(split.fore, tan(split.turn)));
                let mut fore = part(Of::Fore, (0.0, low.0), (0.0, up.0), out, how);
                (fore.after, fore.round[1]) = (Seam::Slot, 0.0);
                let (out, how) = cut(split.cut, form(1.0, 0.0));
                let mut after = part(Of::After, (low.1, 1.0), (up.1, 1.0), out, how);
                (after.fore, after.round[0]) = (Seam::Slot, 0.0);
                vec![fore, after]
            }
            Construction::Bows(_) => {
                let straight = Out::Straight(form(1.0, 0.0).place);
                let out = |spar: usize| self.bow(spar).map_or(straight, Out::Bow);
                let rails = [out(panel - 1), out(panel)];
                vec![part(Of::Whole, whole, whole, rails, How::Ruled)]
            }
        }
    }

    /// Form of the bows at a batten, the mean of the panels either side; boom and yard are straight, and so is all that has no bows.
    pub(crate) fn bow(&self, spar: usize) -> Option<Form<'_>> {
        let bows = matches!(self.construction, Construction::Bows(_));
        if !bows || spar == 0 || spar >= self.panels() || spar > MOST_PANELS {
            return None;
        }
        let (below, above) = (self.shapes.get(spar - 1)?, self.shapes.get(spar)?);
        Some(Form {
            line: &self.line,
            camber: 0.5 * (below.camber + above.camber),
            place: self.line.place(0.5 * (below.place + above.place)),
            turn: 0.0,
        })
    }
}

impl Rail<'_> {
    /// Station, not always a whole one, at a share of the chord: the inverse of its spacing.
    pub(crate) fn station_at(&self, x: f64) -> f64 {
        let place = match self.out {
            Out::Skin(_) => return STEPS as f64 * x.sqrt(),
            Out::Straight(place) => place,
            Out::Bow(form) => form.place,
        };
        let t = if x <= place {
            0.5 * x / place
        } else {
            0.5 + 0.5 * (x - place) / (1.0 - place)
        };
        STEPS as f64 * t
    }
}
