//! Areas, centroids and edges against published cases and an independent polygon library.
#![allow(missing_docs, clippy::unwrap_used)]

mod sails;

use geo::{Area, Centroid};
use geometry::{Moments, moments};
use kurbo::{BezPath, Point, Shape as _};
use proptest::prelude::*;
use sails::{any_rule, families};

fn polygon(points: &[(f64, f64)]) -> BezPath {
    let mut path = BezPath::new();
    for (i, p) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*p);
        } else {
            path.line_to(*p);
        }
    }
    path.close_path();
    path
}

/// Shoelace formula, textbook cases: quadrilateral, L-shape, trapezium with centroid
/// h (a + 2 b) / (3 (a + b)), and Heron's 13-14-15 triangle.
#[test]
fn textbook_polygons_have_their_area_and_centroid() {
    type Case = (&'static [(f64, f64)], f64, (f64, f64));
    let cases: [Case; 3] = [
        (
            &[(0.0, 0.0), (4.0, 0.0), (5.0, 3.0), (1.0, 4.0)],
            14.5,
            (2.413793103448276, 1.781609195402299),
        ),
        (
            &[
                (0.0, 0.0),
                (4.0, 0.0),
                (4.0, 1.0),
                (1.0, 1.0),
                (1.0, 3.0),
                (0.0, 3.0),
            ],
            6.0,
            (1.5, 1.0),
        ),
        (
            &[(0.0, 0.0), (6.0, 0.0), (4.0, 3.0), (0.0, 3.0)],
            15.0,
            (38.0 / 15.0, 1.4),
        ),
    ];
    for (points, area, centroid) in cases {
        let m = Moments::of_path(polygon(points));
        let c = m.centroid().unwrap();
        assert!((m.area - area).abs() < 1e-9);
        assert!((c.x - centroid.0).abs() < 1e-9 && (c.y - centroid.1).abs() < 1e-9);
    }
    let heron = Moments::of_path(polygon(&[(0.0, 0.0), (14.0, 0.0), (5.0, 12.0)]));
    assert_eq!(heron.area, 84.0);
}

/// Second moments of a rectangle b x h: b h³ / 12 and h b³ / 12 about its centroid; of a circle
/// π r⁴ / 4; centroid of a quarter circle 4 R / (3 π) and of a half parabola (3/8, 2/5). Handbook
/// closed forms. Circles are Bézier paths good to 1e-7 here.
#[test]
fn handbook_figures_have_their_moments() {
    let m = Moments::of_path(polygon(&[(1.0, 2.0), (4.0, 2.0), (4.0, 7.0), (1.0, 7.0)]));
    let (uu, vv, uv) = m.second_about_centroid().unwrap();
    assert!((uu - 5.0 * 27.0 / 12.0).abs() < 1e-9);
    assert!((vv - 3.0 * 125.0 / 12.0).abs() < 1e-9);
    assert!(uv.abs() < 1e-9);

    let circle = Moments::of_path(kurbo::Circle::new((3.0, -1.0), 2.0).path_elements(1e-9));
    let (uu, _, _) = circle.second_about_centroid().unwrap();
    assert!((uu - core::f64::consts::PI * 16.0 / 4.0).abs() < 1e-5);

    // y = x² / 4 over 0..2, closed by x = 2: ∫ = 2/3, centroid (3/4 · 2, 3/10 · 1).
    let mut parabola = BezPath::new();
    parabola.move_to((0.0, 0.0));
    parabola.quad_to((1.0, 0.0), (2.0, 1.0));
    parabola.line_to((2.0, 0.0));
    parabola.close_path();
    let m = Moments::of_path(parabola);
    let c = m.centroid().unwrap();
    assert!((m.area.abs() - 2.0 / 3.0).abs() < 1e-12);
    assert!((c.x - 1.5).abs() < 1e-12 && (c.y - 0.3).abs() < 1e-12);
}

/// A rounded edge is a parabola: segment area 2 c f / 3 and arc length
/// c/2 (√(1 + u²) + asinh(u) / u), u = 4 f / c (closed forms).
#[test]
fn a_rounded_leech_adds_the_segment_of_a_parabola() {
    let (_, mut rule) = families()[0].clone();
    let (straight, _) = rule.plan();
    rule.leech_round = 0.03;
    let (round, _) = rule.plan();
    let (straight, round) = (straight.unwrap(), round.unwrap());
    let mut added = 0.0;
    let mut longer = 0.0;
    for panel in straight.panels() {
        let chord = panel.lower.leech().distance(panel.upper.leech());
        let u = 4.0 * 0.03f64;
        added += 2.0 / 3.0 * chord * (0.03 * chord);
        longer += chord / 2.0 * ((1.0 + u * u).sqrt() + u.asinh() / u) - chord;
    }
    assert!((round.area() - straight.area() - added).abs() < 1e-12);
    assert!((round.perimeter() - straight.perimeter() - longer).abs() < 1e-8);
}

/// Splits every edge into many straight pieces, so that a polygon library can have it.
fn ring(path: &BezPath) -> geo::Polygon<f64> {
    let mut points = Vec::new();
    kurbo::flatten(path.elements().iter().copied(), 1e-7, |el| {
        if let kurbo::PathEl::MoveTo(p) | kurbo::PathEl::LineTo(p) = el {
            points.push((p.x, p.y));
        }
    });
    geo::Polygon::new(points.into(), Vec::new())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Area and centroid of any plan with curved edges against the `geo` crate on the flattened
    /// outline (flattened to 0.1 µm, so agreement to a millionth is asked).
    #[test]
    fn any_sail_agrees_with_a_polygon_library(rule in any_rule()) {
        let (plan, faults) = rule.plan();
        prop_assume!(faults.is_empty());
        let plan = plan.unwrap();
        let outside = ring(&plan.outline());
        prop_assert!((plan.area() - outside.unsigned_area()).abs() < 1e-6 * plan.area());
        let (ours, theirs) = (plan.moments().centroid().unwrap(), outside.centroid().unwrap());
        prop_assert!(ours.distance(Point::new(theirs.x(), theirs.y())) < 1e-5);
    }

    /// Area ahead of the mast by Green's theorem against clipping by a polygon library.
    #[test]
    fn the_area_ahead_of_the_mast_agrees_with_clipping(rule in any_rule()) {
        use geo::BooleanOps;
        let (plan, faults) = rule.plan();
        prop_assume!(faults.is_empty());
        let plan = plan.unwrap();
        let ahead: f64 = plan.outline().segments().map(|s| moments::area_ahead(&s)).sum();
        let half = geo::Rect::new((-50.0, -50.0), (0.0, 50.0)).to_polygon();
        let outside = ring(&plan.outline()).intersection(&half).unsigned_area();
        prop_assert!((ahead - outside).abs() < 1e-5 * plan.area(), "{} {}", ahead, outside);
    }
}
