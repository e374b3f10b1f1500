//! How boat and rig come to lie in the pane.

use design::{Account, Design, View};
use geometry::mast::{Mast, Place};
use kurbo::{Affine, ParamCurve as _, Point, Rect, Vec2};

/// Most and least magnification a hand can want.
const ZOOM: (f64, f64) = (0.2, 40.0);
/// On a pane as wide as the first there is to be room for the second ahead of the foremost luff:
/// heights of parrels in a column [px].
const NOTES: (f64, f64) = (480.0, 100.0);
/// A boat longer than this is no boat; it is drawn all the same, cut off [m].
const FURTHEST: f64 = 1e3;

/// From ship metres to pixels: x aft to the right, z up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Width of the pane [px].
    pub width: f64,
    /// Height of the pane [px].
    pub height: f64,
    /// Pixels to the metre.
    pub scale: f64,
    /// Forward end of the waterline [px].
    pub origin: Point,
    /// Magnification beyond the fit.
    pub zoom: f64,
    /// Box round boat, masts and sails at full hoist [px].
    pub drawn: Rect,
    /// How far it is panned from where its zoom alone would have it [px].
    pub pan: Vec2,
}

impl Frame {
    /// Fits boat, masts and the sails at full hoist into a pane [px], with room for notes round them.
    ///
    /// Hoist, sheeting angle and what is shown have no say in it, so nothing jumps while a sail
    /// is lowered. Keep one frame for the length of a gesture: a frame made anew from the changed
    /// design would slip from under the hand.
    pub fn fit(design: &Design, account: &Account, width: f64, height: f64) -> Self {
        let usable = |length: f64| {
            if length.is_finite() {
                length.max(1.0).min(1e5)
            } else {
                1.0
            }
        };
        let (width, height) = (usable(width), usable(height));
        let (mut extent, fore) = extent(design, account);
        // Room at the sides for notes, above for the masthead, below for the scale bar.
        let side = (0.05 * width).max(8.0).min(44.0);
        let above = (0.05 * height).max(22.0).min(36.0);
        let below = (0.075 * height).max(30.0).min(48.0);
        let room_x = (width - 2.0 * side).max(0.5 * width);
        let room_z = (height - above - below).max(0.5 * height);
        let fits = |extent: Rect| (room_x / extent.width()).min(room_z / extent.height());
        if width >= NOTES.0 {
            let room = NOTES.1 - side;
            let lacking = room / fits(extent) - (fore - extent.x0);
            extent.x0 -= lacking.max(0.0).min(0.2 * extent.width());
        }
        let scale = fits(extent);
        let middle = extent.center().x;
        // Spare height goes under the keel and over the masthead alike.
        let spare = room_z - scale * extent.height();
        let origin = Point::new(
            0.5 * width - scale * middle,
            height - below - 0.5 * spare + scale * extent.y0,
        );
        let [left, right] = [origin.x + scale * extent.x0, origin.x + scale * extent.x1];
        let [top, bottom] = [origin.y - scale * extent.y1, origin.y - scale * extent.y0];
        Self {
            width,
            height,
            scale,
            origin,
            zoom: 1.0,
            drawn: Rect::new(left, top, right, bottom),
            pan: Vec2::ZERO,
        }
    }

    /// The same frame zoomed about the middle of the pane and panned as the user wants, but no
    /// further than the drawing reaches to the middle of the pane; not at all where all of it fits.
    pub fn seen(self, view: &View) -> Self {
        let zoom = if view.zoom.is_finite() {
            view.zoom.max(ZOOM.0).min(ZOOM.1)
        } else {
            1.0
        };
        let middle = Point::new(0.5 * self.width, 0.5 * self.height);
        let zoomed = |p: Point| middle + (p - middle) * zoom;
        let drawn = Rect::from_points(
            zoomed(Point::new(self.drawn.x0, self.drawn.y0)),
            zoomed(Point::new(self.drawn.x1, self.drawn.y1)),
        );
        let beyond = (zoom - 1.0).max(0.0);
        let held = |by: f64, least: f64, most: f64, length: f64| {
            // A drawing that lies off the middle by itself need not be moved there.
            let (least, most) = (least.min(0.0), most.max(0.0));
            let furthest = beyond * length;
            if by.is_finite() {
                by.max(least).min(most).max(-furthest).min(furthest)
            } else {
                0.0
            }
        };
        let pan = Vec2::new(
            held(
                view.pan_x,
                middle.x - drawn.x1,
                middle.x - drawn.x0,
                self.width,
            ),
            held(
                view.pan_y,
                middle.y - drawn.y1,
                middle.y - drawn.y0,
                self.height,
            ),
        );
        Self {
            scale: self.scale * zoom,
            origin: zoomed(self.origin) + pan,
            zoom,
            drawn: drawn + pan,
            pan,
            ..self
        }
    }

    /// From ship axes (x, z) [m] to pixels.
    pub fn ship(&self) -> Affine {
        Affine::new([
            self.scale,
            0.0,
            0.0,
            -self.scale,
            self.origin.x,
            self.origin.y,
        ])
    }

    /// Where a place on the ship is drawn [px].
    pub fn at(&self, place: Place) -> Point {
        self.ship() * Point::new(place.x, place.z)
    }

    /// From a sail's plane (u, v) [m] to pixels, at a sheeting angle [rad].
    pub fn sail(&self, mast: &Mast, sheeting: f64) -> Affine {
        self.plane(&|p| mast.to_ship(p, sheeting))
    }

    /// From the plane through the mast's axis along the ship (u, v) [m] to pixels.
    pub fn mast(&self, mast: &Mast) -> Affine {
        let on_axis = Mast {
            offset: 0.0,
            ..*mast
        };
        self.plane(&|p| on_axis.to_ship(p, 0.0))
    }

    fn plane(&self, to_ship: &dyn Fn(Point) -> Place) -> Affine {
        let [origin, aft, up] =
            [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)].map(|p| self.at(to_ship(p.into())));
        let (aft, up) = (aft - origin, up - origin);
        Affine::new([aft.x, aft.y, up.x, up.y, origin.x, origin.y])
    }
}

/// Box (x, z) round boat, masts and sails at full hoist, and where the foremost luff is [m].
fn extent(design: &Design, account: &Account) -> (Rect, f64) {
    let mut fore = FURTHEST;
    let mut points = Vec::with_capacity(64);
    let hull = &design.boat.hull;
    let plate = hull.plate().unwrap_or_default();
    for part in [hull.profile(), hull.rudder(), plate] {
        for piece in part.segments() {
            for i in 0..=8 {
                points.push(piece.eval(f64::from(i) / 8.0));
            }
        }
    }
    points.extend_from_slice(&design.boat.particulars.lateral.profile);
    points.extend_from_slice(&design.boat.deck);
    for mast in &account.masts {
        for place in [mast.mast.heel(), mast.mast.head()] {
            points.push(Point::new(place.x, place.z));
        }
        let Some(plan) = &mast.plan else { continue };
        for spar in &plan.spars {
            for end in [spar.luff, spar.leech()] {
                let place = mast.mast.to_ship(end, 0.0);
                points.push(Point::new(place.x, place.z));
                fore = fore.min(place.x);
            }
        }
    }
    let mut extent: Option<Rect> = None;
    for p in points {
        if p.is_finite() && p.x.abs() < FURTHEST && p.y.abs() < FURTHEST {
            let found = extent.unwrap_or_else(|| Rect::from_points(p, p));
            extent = Some(found.union_pt(p));
        }
    }
    let extent = match extent {
        Some(extent) if extent.width() > 0.1 && extent.height() > 0.1 => extent,
        // Nothing to see yet: the room a small boat would take.
        _ => Rect::new(-1.0, -1.0, 7.0, 9.0),
    };
    (extent, fore)
}

#[cfg(test)]
mod tests {
    use super::*;
    use design::demos;

    #[test]
    fn however_it_is_panned_the_drawing_reaches_to_the_middle_of_the_pane() {
        for demo in demos() {
            let document = demo.open().unwrap();
            let account = design::account(document.design());
            for (width, height) in [(314.0, 397.0), (788.0, 840.0), (1600.0, 300.0)] {
                let frame = Frame::fit(document.design(), &account, width, height);
                for zoom in [1.0, 1.3, 3.0, 12.0] {
                    for (x, y) in [(9e9, 9e9), (-9e9, 70.0), (3.0, -9e9), (f64::NAN, 5e3)] {
                        let view = View {
                            zoom,
                            pan_x: x,
                            pan_y: y,
                            ..View::default()
                        };
                        let seen = frame.seen(&view);
                        let middle = Point::new(0.5 * width, 0.5 * height);
                        // A hair for rounding.
                        let drawn = seen.drawn.inflate(1e-6, 1e-6);
                        assert!(drawn.contains(middle), "{} {view:?} {drawn:?}", demo.key);
                        if zoom == 1.0 {
                            assert_eq!(seen.pan, Vec2::ZERO);
                            assert_eq!(seen.origin, frame.origin);
                        }
                        let own = View {
                            pan_x: seen.pan.x,
                            pan_y: seen.pan.y,
                            ..view
                        };
                        assert_eq!(frame.seen(&own), seen, "what is held is not held again");
                    }
                }
            }
        }
    }

    #[test]
    fn a_small_pan_is_taken_as_it_is() {
        let document = demos()[1].open().unwrap();
        let account = design::account(document.design());
        let view = View {
            zoom: 2.0,
            pan_x: 40.0,
            pan_y: -30.0,
            ..View::default()
        };
        let seen = Frame::fit(document.design(), &account, 314.0, 397.0).seen(&view);
        assert_eq!(seen.pan, Vec2::new(40.0, -30.0));
    }
}
