//! Nothing stops it: whatever comes in, faults come out or numbers that are numbers.
#![allow(clippy::unwrap_used)]

mod sails;

use cloth::nest::nest;
use cloth::*;
use geometry::Spar;
use geometry::mast::Side;
use kurbo::{Point, Vec2};
use proptest::prelude::*;
use sails::*;

#[test]
fn camber_of_sixty_per_cent_is_told_panel_by_panel() {
    for construction in [SHELF, BARREL, BOWS] {
        let mut input = input(&marsh_pippin(), construction);
        input.shapes[0].camber = 0.6;
        let patterns = input.patterns();
        assert_eq!(patterns.faults, [Fault::Camber(1)]);
        assert!(patterns.pieces.iter().all(|p| p.panel != 1));
        assert!(patterns.pieces.iter().any(|p| p.panel == 2));
        assert_eq!(input.section(1, 0.5, Side::Port), None);
        assert!(input.surface(1, Side::Port, 16, 4).is_empty());
    }
}

#[test]
fn a_barrel_past_its_half_circle_and_shelves_that_meet_are_told() {
    // 0.97 m wide: half a circle is 0.485 m deep, 11 % of 4.4 m.
    let mut input = input(&marsh_pippin(), BARREL);
    input.shapes[1].camber = 0.12;
    assert_eq!(input.patterns().faults, [Fault::BarrelDeep(2)]);
    input.shapes[1].camber = 0.09;
    let found = input.patterns();
    assert_eq!(found.faults, []);
    assert!(
        found
            .findings
            .iter()
            .any(|f| f.what == What::BarrelDeep && f.at == 2)
    );
    input.construction = SHELF;
    input.shapes[1].camber = 0.12;
    assert_eq!(input.patterns().faults, [Fault::ShelvesMeet(2)]);
}

#[test]
fn panels_of_no_width_and_wrong_counts_are_told() {
    let mut input = input(&saltwort(), SHELF);
    input.spars[3] = input.spars[2];
    assert_eq!(input.patterns().faults, [Fault::Panel(3)]);
    input.spars.truncate(4);
    assert_eq!(input.patterns().faults, [Fault::Count]);
    input.spars.clear();
    assert_eq!(input.patterns().faults, [Fault::Count]);
    assert_eq!(input.section(0, 0.5, Side::Port), None);
}

#[test]
fn each_fault_is_told_for_its_own_cause() {
    let sound = input(&marsh_pippin(), SHELF);
    let told = |change: &dyn Fn(&mut Input)| {
        let mut input = sound.clone();
        change(&mut input);
        input.patterns().faults
    };
    assert_eq!(told(&|_| ()), []);
    assert_eq!(told(&|i| i.spars[2].length = f64::NAN), [Fault::Number]);
    assert_eq!(told(&|i| i.sewing.seam = -0.01), [Fault::Number]);
    assert_eq!(told(&|i| i.cloth.roll = 0.0), [Fault::Number]);
    assert_eq!(
        told(&|i| i.construction = Construction::Cambered(Cut::Shelf(1.5))),
        [Fault::Number]
    );
    assert_eq!(
        told(&|i| i.line = MeanLine::Own(vec![])),
        [Fault::Ordinates]
    );
    assert_eq!(told(&|i| i.sewing.offsets = 0), [Fault::Sewing]);
    assert_eq!(told(&|i| i.sewing.patches.layers = 9), [Fault::Sewing]);
    let slot = told(&|i| {
        i.construction = Construction::Split(Split {
            slot: 0.3,
            turn: 0.1,
            fore: 1.5,
            cut: Cut::Shelf(0.7),
        })
    });
    assert_eq!(slot.len(), 7);
    assert!(slot.iter().all(|f| matches!(f, Fault::Slot(_))));
}

/// Mostly sound, sometimes anything.
fn number(sound: core::ops::Range<f64>) -> impl Strategy<Value = f64> {
    prop_oneof![
        150 => sound,
        1 => prop_oneof![
            Just(0.0),
            Just(-1.0),
            Just(1e-9),
            Just(1e9),
            Just(f64::NAN),
            Just(f64::INFINITY),
            Just(f64::MIN_POSITIVE),
            -3.0..3.0,
        ],
    ]
}

fn construction() -> impl Strategy<Value = Construction> {
    (
        0..8_usize,
        number(0.0..1.2),
        number(0.0..0.5),
        number(0.0..0.6),
    )
        .prop_map(|(kind, a, b, c)| match kind {
            0 => Construction::Flat,
            1 => BARREL,
            2 => HOLLOW,
            3 => Construction::Cambered(Cut::Shelf(a)),
            4 => Construction::Wing(Wing {
                join: c,
                thickness: b,
                room: 0.03,
            }),
            5 => Construction::Split(Split {
                slot: 0.2 * c,
                turn: b,
                fore: a,
                cut: Cut::Shelf(b),
            }),
            6 => Construction::Split(Split {
                slot: 0.2 * c,
                turn: b,
                fore: a,
                cut: Cut::Barrel(Barrel::Added),
            }),
            _ => Construction::Bows(Bows { room: a }),
        })
}

fn sail() -> impl Strategy<Value = Input> {
    let spar = (
        number(-0.6..0.1),
        number(0.1..1.2),
        number(-0.1..0.5),
        number(2.0..5.0),
    );
    (
        proptest::collection::vec(spar, 0..9),
        construction(),
        proptest::collection::vec((number(0.0..0.14), number(0.2..0.6)), 8),
        proptest::array::uniform8(number(0.0..0.1)),
        number(0.2..2.2),
        (number(-0.04..0.04), number(-0.04..0.04), number(0.05..0.2)),
        (0..34_usize, 1..8_usize, 0..3_usize),
    )
        .prop_map(
            |(
                rows,
                construction,
                shapes,
                small,
                roll,
                (luff, leech, mast),
                (offsets, layers, line),
            )| {
                let mut input = input(&saltwort(), construction);
                let mut v = 0.0;
                input.spars = (rows.iter())
                    .map(|(u, rise, angle, length)| {
                        v += rise;
                        Spar::new(Point::new(*u, v), *angle, *length)
                    })
                    .collect();
                let n = input.spars.len().saturating_sub(1);
                input.shapes = shapes
                    .iter()
                    .take(n)
                    .map(|(camber, place)| PanelShape {
                        camber: *camber,
                        place: *place,
                    })
                    .collect();
                input.travel = vec![[small[0], small[1]]; n];
                (input.sewing.seam, input.sewing.batten, input.sewing.edge) =
                    (small[2], small[3], small[4]);
                (
                    input.sewing.hem,
                    input.depths.batten,
                    input.sewing.pocket_end,
                ) = (small[5], small[6], small[7]);
                (input.luff_round, input.leech_round, input.mast.diameter) = (luff, leech, mast);
                input.cloth.roll = roll;
                (input.sewing.offsets, input.sewing.patches.layers) = (offsets, layers);
                if line == 1 {
                    input.line = MeanLine::Parabola;
                } else if line == 2 {
                    input.line = MeanLine::Own(vec![
                        Point::ORIGIN,
                        Point::new(0.3, small[0]),
                        Point::new(0.4 + small[1], 1.0),
                        Point::new(1.0, 0.0),
                    ]);
                }
                input
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn any_sail_gives_faults_or_numbers(input in sail(), share in number(0.0..1.0), panel in 0..14_usize) {
        let patterns = input.patterns();
        for p in &patterns.pieces {
            for edge in &p.edges {
                prop_assert!(edge.length.is_finite() && edge.finished.is_finite());
                prop_assert!(edge.points.iter().all(|p| p.is_finite()));
            }
            prop_assert!(p.cut.iter().all(|p| p.is_finite()));
            prop_assert!(p.strain.iter().flat_map(|s| &s.values).all(|s| s.is_finite()));
            prop_assert!(p.offsets.iter().all(|o| o.low.is_finite() && o.up.is_finite()));
        }
        for f in &patterns.findings {
            prop_assert!(f.value.is_finite() && f.limit.is_finite());
        }
        // Every panel is cut or told.
        let weighed = input.weigh();
        prop_assert_eq!(&weighed.faults, &patterns.faults);
        for kilos in &weighed.panels {
            prop_assert!(kilos.is_finite() && *kilos >= 0.0, "{weighed:?}");
        }
        if input.faults().is_empty() {
            for i in 1..=input.panels() {
                let cut = patterns.pieces.iter().any(|p| p.panel == i);
                prop_assert!(cut != input.panel_fault(i).is_some());
            }
        } else {
            prop_assert!(patterns.pieces.is_empty());
        }
        let cutting = input.cutting(&patterns, 1);
        prop_assert!(cutting.layout.is_some() == cutting.faults.is_empty());
        let bill = input.bill(&patterns, &cutting);
        prop_assert!(bill.thread.is_finite() && bill.panels.iter().flatten().all(|m| m.is_finite()));
        for lee in [Side::Port, Side::Starboard] {
            if let Some(section) = input.section(panel, share, lee) {
                prop_assert!(section.cloth.iter().flatten().all(|p| p.is_finite()));
            }
            for net in input.surface(panel, lee, 8, 3) {
                prop_assert!(net.points.iter().all(|p| p.u.is_finite() && p.v.is_finite() && p.w.is_finite()));
            }
        }
        input.mast_room(panel);
    }

    #[test]
    fn any_blanks_are_laid_within_the_roll_or_refused(
        points in proptest::collection::vec((number(0.0..3.0), number(0.0..3.0)), 0..40),
        cuts in 1..6_usize,
        roll in number(0.3..2.0),
        seam in number(0.0..0.1),
        warp in (number(-1.0..1.0), number(-1.0..1.0)),
        seams in any::<bool>(),
    ) {
        let blanks: Vec<Blank> = points
            .chunks(points.len() / cuts + 1)
            .map(|c| Blank {
                outline: c.iter().map(|p| Point::new(p.0, p.1)).collect(),
                warp: Vec2::new(warp.0, warp.1),
                seams,
            })
            .collect();
        if let Ok(layout) = nest(&blanks, roll, seam, 3) {
            prop_assert!(layout.length.is_finite());
            for p in layout.laid.iter().flat_map(|l| &l.outline) {
                prop_assert!(p.x > -1e-6 && p.x < layout.length + 1e-6 && p.y > -1e-6 && p.y < roll + 1e-6);
            }
        }
    }
}
