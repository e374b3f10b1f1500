//! Conversions against those printed in NIST Special Publication 811 (2008), Appendix B.8:
//! foot 3.048 E-01 m, inch 2.54 E-02 m, square foot 9.290 304 E-02 m² (exact), pound avoirdupois
//! 4.535 923 7 E-01 kg (exact), degree 1.745 329 E-02 rad. The fourth power of the foot,
//! 8.630 975 E-03 m⁴, is the same table's, from memory.

use quantities::UnitKind::{
    Angle, Area, Cloth, Density, Fine, Force, Length, Mass, Modulus, Moment, Percent, SecondMoment,
    Speed, Spring, Stress, Work,
};
use quantities::Units;
use quantities::units::{document_from_si, parse, si_from_document, spell};

fn close(found: f64, printed: f64, digits: i32) {
    let allowed = printed.abs() * 0.5 * 10_f64.powi(1 - digits);
    assert!(
        (found - printed).abs() <= allowed,
        "{found} is not the printed {printed}"
    );
}

#[test]
fn lengths() {
    for units in [Units::METRIC, Units::IMPERIAL] {
        close(parse(Length, "1 ft", units).unwrap(), 3.048e-1, 15);
        close(parse(Length, "1 in", units).unwrap(), 2.54e-2, 15);
        close(parse(Fine, "1 in", units).unwrap(), 2.54e-2, 15);
    }
}

#[test]
fn areas() {
    close(
        parse(Area, "1 ft²", Units::METRIC).unwrap(),
        9.290_304e-2,
        15,
    );
    // 1 m² is 10.763 910 ft²: the reciprocal of the above.
    assert_eq!(spell(Area, 6, 1.0, Units::IMPERIAL), "10.76391");
}

#[test]
fn masses() {
    close(
        parse(Mass, "1 lb", Units::METRIC).unwrap(),
        4.535_923_7e-1,
        15,
    );
    // A stone of 14 lb is printed as 6.350 293 kg.
    // foot pound-force 1.355 818 E+00 N m; knot 5.144 444 E-01 m/s.
    assert_eq!(spell(Moment, 3, 1_355.818, Units::IMPERIAL), "1000.0");
    // Pound-force 4.448 222 N, foot pound-force 1.355 818 J, ounce a square yard 33.905 75 g/m².
    assert_eq!(spell(Force, 1, 4_448.222, Units::IMPERIAL), "1000.0");
    assert_eq!(spell(Work, 1, 1_355.818, Units::IMPERIAL), "1000.0");
    assert_eq!(spell(Cloth, 2, 33.905_75, Units::IMPERIAL), "1.00");
    for (kind, typed, metric) in [(Force, "1000", 4_448.222), (Cloth, "10", 339.057_5)] {
        let read = parse(kind, typed, Units::IMPERIAL).unwrap();
        assert!((read - metric).abs() < 1e-3, "{read}");
        assert_eq!(parse(kind, "150", Units::METRIC), Ok(150.0));
    }
    assert_eq!(parse(Force, "150 N", Units::IMPERIAL), Ok(150.0));
    assert_eq!(parse(Cloth, "230 g", Units::IMPERIAL), Ok(230.0));
    close(document_from_si(Speed, 5.144_444e-1), 1.0, 7);
    close(parse(Mass, "14 lb", Units::METRIC).unwrap(), 6.350_293, 7);
    assert_eq!(spell(Mass, 4, 6.350_293_18, Units::IMPERIAL), "14.0000");
}

/// Pound-force a square inch 6.894 757 E+03 Pa, kip a square inch 6.894 757 E+06 Pa, pound-force an inch
/// 1.751 268 E+02 N/m, pound a cubic foot 1.601 846 E+01 kg/m³.
#[test]
fn strengths() {
    for (kind, document, si) in [
        (Stress, 6.894_757e-3, 6.894_757e3),
        (Modulus, 6.894_757e-3, 6.894_757e6),
        (Spring, 1.751_268e-1, 1.751_268e2),
        (Density, 1.601_846e1, 1.601_846e1),
    ] {
        close(parse(kind, "1", Units::IMPERIAL).unwrap(), document, 7);
        close(si_from_document(kind, document), si, 12);
        close(document_from_si(kind, si), document, 12);
        assert_eq!(parse(kind, "260", Units::METRIC), Ok(260.0));
    }
    close(
        parse(Stress, "1 psi", Units::METRIC).unwrap(),
        6.894_757e-3,
        7,
    );
    close(
        parse(Modulus, "1 ksi", Units::METRIC).unwrap(),
        6.894_757e-3,
        7,
    );
    assert_eq!(parse(Stress, "260 MPa", Units::IMPERIAL), Ok(260.0));
    assert_eq!(parse(Modulus, "70 GPa", Units::IMPERIAL), Ok(70.0));
    for (kind, value, spelled) in [
        (Stress, 260.0, "37710"),
        (Modulus, 70.0, "10153"),
        (Spring, 200.0, "1142"),
        (Density, 2700.0, "169"),
    ] {
        assert_eq!(spell(kind, 0, value, Units::IMPERIAL), spelled);
    }
}

#[test]
fn angles_and_shares() {
    close(si_from_document(Angle, 1.0), 1.745_329e-2, 7);
    close(document_from_si(Angle, 1.745_329_25e-2), 1.0, 8);
    close(si_from_document(Percent, 12.5), 0.125, 15);
    close(document_from_si(Percent, 0.125), 12.5, 15);
    close(si_from_document(Length, 4.43), 4.43, 15);
}

#[test]
fn second_moments() {
    // A square foot-by-foot plate has ft⁴/12; spelled back from the printed m⁴.
    assert_eq!(
        spell(SecondMoment, 6, 8.630_975e-3, Units::IMPERIAL),
        "1.0000"
    );
}
