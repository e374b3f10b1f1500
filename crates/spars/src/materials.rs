//! What spars are made of: timber by species and by strength class, aluminium by alloy and temper, laminates by plies.

/// How the strength of a material is told, and so which factor goes with it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Kind {
    /// Aluminium: 0.2 % proof stress.
    Alloy,
    /// Timber of a species: mean of small clear pieces.
    Clear,
    /// Timber of a strength class: lower twentieth of pieces as sawn.
    Class,
    /// Laminate: strength of its fibres.
    Laminate,
}

/// A material. A row of the tables gives one, and so does a user.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Material {
    /// How its strength is told.
    pub kind: Kind,
    /// Density [kg/m³].
    pub density: f64,
    /// Young's modulus along the spar [Pa].
    pub stiffness: f64,
    /// Young's modulus across it [Pa]; counts for the wrinkling of thin walls.
    pub across: f64,
    /// Shear modulus [Pa]; counts in laminates.
    pub shear_stiffness: f64,
    /// Poisson's ratio, strain across by a pull along.
    pub poisson: f64,
    /// In bending: proof stress, modulus of rupture, f_m,k, tension along the fibre [Pa].
    pub strength: f64,
    /// Compression along the spar [Pa].
    pub compression: f64,
    /// Shear along the spar [Pa]; nought where no table tells, and then it is not looked at.
    pub shear: f64,
    /// Pressure across the spar that it bears under wedges or a parrel [Pa]; nought where no table tells.
    pub bearing: f64,
}

/// Factors on strength by kind: the strength over what a spar may be asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Factors {
    /// On the proof stress of alloy (mast 1.5, others 1.3).
    pub alloy: f64,
    /// On the mean of clear timber (mast 3.0, others 2.5).
    pub clear: f64,
    /// On a strength class, after its duration of load (1.3).
    pub class: f64,
    /// On the compression of a laminate (mast 3.0, others 2.5).
    pub laminate: f64,
}

/// Share of the strength of timber of a class left by the duration of load: k_mod of EN 1995-1-1 for long and
/// medium loads in service class 2 (defaults, "timber by strength class"; common practice for spars).
pub const CLASS_DURATION: f64 = 0.8;

impl Factors {
    /// Whether none is below one, or beyond all measure.
    pub fn is_real(&self) -> bool {
        let all = [self.alloy, self.clear, self.class, self.laminate];
        all.iter().all(|f| *f >= 1.0 && *f < 1e3)
    }

    /// Strength over allowable stress for a kind, the duration of load within.
    pub fn of(&self, kind: Kind) -> f64 {
        match kind {
            Kind::Alloy => self.alloy,
            Kind::Clear => self.clear,
            Kind::Class => self.class / CLASS_DURATION,
            Kind::Laminate => self.laminate,
        }
    }
}

impl Material {
    /// Stress that may be bent to before any factor [Pa]: strength in bending, of laminates the lesser of tension and
    /// compression.
    pub fn bending(&self) -> f64 {
        match self.kind {
            Kind::Laminate => self.strength.min(self.compression),
            _ => self.strength,
        }
    }

    /// Whether its numbers can be used: positive density, stiffness, strength within the range of real materials.
    pub fn is_real(&self) -> bool {
        let within = |n: f64, least: f64, most: f64| n >= least && n <= most;
        within(self.density, 50.0, 25e3)
            && within(self.stiffness, 1e7, 1e12)
            && within(self.across, 1e5, 1e12)
            && within(self.shear_stiffness, 1e5, 1e12)
            && within(self.poisson, 0.0, 0.49)
            && within(self.strength, 1e5, 1e10)
            && within(self.compression, 1e5, 1e10)
            && (self.shear == 0.0 || within(self.shear, 1e4, 1e10))
            && (self.bearing == 0.0 || within(self.bearing, 1e4, 1e10))
    }
}

/// A row of the tables.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Row {
    /// Key of the row, as documents have it. Rows are never altered, only superseded.
    pub key: &'static str,
    /// Key of the source: see DEVELOPERS.md.
    pub source: &'static str,
    /// Row of the reference list of check values.
    pub check: &'static str,
    /// Whether the table was read; else the row is from memory.
    pub read: bool,
    /// Its numbers.
    pub material: Material,
}

/// One of the tables' species: specific gravity at 12 %, then modulus of rupture, of elasticity, compression and
/// shear along the grain, compression across it, in lbf/in², of elasticity in thousands of them.
type Species = (&'static str, &'static str, bool, [f32; 6]);

/// Clear timber at 12 % moisture, means: *Wood Handbook*, FPL-GTR-282 (2021), table 5-3b, read as transcribed. Of white
/// ash gravity, stiffness and compression were read, rupture and shear are from memory, and so are
/// compression and shear of larch and all compressions across the grain.
const CLEAR: [Species; 8] = [
    (
        "sitka-spruce",
        "T01",
        true,
        [0.40, 10200.0, 1570.0, 5610.0, 1150.0, 580.0],
    ),
    (
        "douglas-fir",
        "T02",
        true,
        [0.48, 12400.0, 1950.0, 7230.0, 1130.0, 800.0],
    ),
    (
        "western-red-cedar",
        "T03",
        true,
        [0.32, 7500.0, 1110.0, 4560.0, 990.0, 460.0],
    ),
    (
        "white-spruce",
        "T04",
        true,
        [0.36, 9400.0, 1430.0, 5180.0, 970.0, 430.0],
    ),
    (
        "longleaf-pine",
        "T05",
        true,
        [0.59, 14500.0, 1980.0, 8470.0, 1510.0, 960.0],
    ),
    (
        "loblolly-pine",
        "T06",
        true,
        [0.51, 12800.0, 1790.0, 7130.0, 1390.0, 790.0],
    ),
    (
        "white-ash",
        "T07",
        false,
        [0.60, 15000.0, 1740.0, 7410.0, 1910.0, 1160.0],
    ),
    (
        "western-larch",
        "T08",
        false,
        [0.52, 13000.0, 1870.0, 7620.0, 1360.0, 930.0],
    ),
];

/// Strength classes of EN 338:2016, N/mm² and kg/m³: f_m,k, f_c,0,k, f_v,k, E_0,mean, mean density, f_c,90,k. C read as
/// transcribed, D30 and all f_c,90,k from memory.
const CLASSES: [Species; 4] = [
    ("c18", "T20", true, [18.0, 18.0, 3.4, 9000.0, 380.0, 2.2]),
    ("c24", "T21", true, [24.0, 21.0, 4.0, 11000.0, 420.0, 2.5]),
    ("c30", "T22", true, [30.0, 24.0, 4.0, 12000.0, 460.0, 2.7]),
    ("d30", "T23", false, [30.0, 24.0, 3.9, 11000.0, 640.0, 5.3]),
];

/// Aluminium tube, N/mm²: 0.2 % proof stress. EN 755-2 as in EN 1999-1-1 table 3.2b, read as quoted; ASTM B221 from
/// memory.
const ALLOYS: [(&str, &str, &str, bool, f32); 7] = [
    ("6061-t6", "en-1999", "A01", true, 240.0),
    ("6063-t6", "en-1999", "A02", true, 160.0),
    // The thicker of its two rows: it serves up to 25 mm.
    ("6063-t5", "en-1999", "A03", true, 110.0),
    ("6082-t6", "en-1999", "A05", true, 260.0),
    ("6082-t6-thin", "en-1999", "A06", false, 250.0),
    ("6061-t6-b221", "astm-b221", "A10", false, 241.0),
    ("6063-t6-b221", "astm-b221", "A11", false, 172.0),
];

/// Plies with all fibres one way: kg/m³; E1, E2, G12 in GPa; Poisson's ratio; tension and compression in MPa. Typical
/// means of public lists; of the second carbon density and strengths are from memory.
const PLIES: [(&str, &str, bool, [f32; 7]); 5] = [
    (
        "e-glass",
        "C01",
        true,
        [1970.0, 41.0, 10.4, 4.3, 0.28, 1140.0, 620.0],
    ),
    (
        "s-glass",
        "C03",
        true,
        [2000.0, 45.0, 11.0, 4.5, 0.29, 1725.0, 690.0],
    ),
    (
        "carbon-as4",
        "C04",
        false,
        [1600.0, 147.0, 10.3, 7.0, 0.27, 2280.0, 1725.0],
    ),
    (
        "carbon-t300",
        "C05",
        false,
        [1600.0, 181.0, 10.3, 7.17, 0.28, 1500.0, 1500.0],
    ),
    (
        "aramid",
        "C06",
        true,
        [1380.0, 80.0, 5.5, 2.2, 0.34, 1400.0, 335.0],
    ),
];

/// One pound-force a square inch [Pa] (NIST SP 811).
const PSI: f64 = 6894.757;

/// Stiffness across the grain over that along it, mean of the two directions, and shear over it: about the softwoods
/// of the *Wood Handbook*, table 5-1 (from memory). They count only for the wrinkling of thin walls.
const GRAIN: (f64, f64) = (0.06, 0.065);

fn timber(kind: Kind, density: f64, stiffness: f64, stresses: [f64; 4]) -> Material {
    Material {
        kind,
        density,
        stiffness,
        across: GRAIN.0 * stiffness,
        shear_stiffness: GRAIN.1 * stiffness,
        poisson: 0.3,
        strength: stresses[0],
        compression: stresses[1],
        shear: stresses[2],
        bearing: stresses[3],
    }
}

/// The first six numbers of a row; mapping an array is 5 KB of code.
fn wide(row: &[f32]) -> [f64; 6] {
    let mut numbers = [0.0; 6];
    for (number, narrow) in numbers.iter_mut().zip(row) {
        *number = f64::from(*narrow);
    }
    numbers
}

/// A row by its number, none past the last: timber, alloys, plies.
pub fn row(i: usize) -> Option<Row> {
    if let Some((key, check, read, n)) = CLEAR.get(i) {
        let [gravity, rupture, stiffness, compression, shear, bearing] = wide(n);
        return Some(Row {
            key,
            source: "wood-handbook",
            check,
            read: *read,
            // Gravity is dry mass over volume at 12 %: with its water 1.12 times as heavy.
            material: timber(
                Kind::Clear,
                1120.0 * gravity,
                1e3 * PSI * stiffness,
                [PSI * rupture, PSI * compression, PSI * shear, PSI * bearing],
            ),
        });
    }
    let i = i - CLEAR.len();
    if let Some((key, check, read, n)) = CLASSES.get(i) {
        let [bending, compression, shear, stiffness, density, bearing] = wide(n);
        return Some(Row {
            key,
            source: "en-338",
            check,
            read: *read,
            material: timber(
                Kind::Class,
                density,
                1e6 * stiffness,
                [1e6 * bending, 1e6 * compression, 1e6 * shear, 1e6 * bearing],
            ),
        });
    }
    let i = i - CLASSES.len();
    if let Some((key, source, check, read, proof)) = ALLOYS.get(i) {
        let proof = 1e6 * f64::from(*proof);
        return Some(Row {
            key,
            source,
            check,
            read: *read,
            // Modulus, ratio and density for design: EN 1999-1-1, 3.2.5 (from memory). Shear by von Mises.
            material: Material {
                kind: Kind::Alloy,
                density: 2700.0,
                stiffness: 70e9,
                across: 70e9,
                shear_stiffness: 27e9,
                poisson: 0.3,
                strength: proof,
                compression: proof,
                shear: proof / 3f64.sqrt(),
                bearing: proof,
            },
        });
    }
    let (key, check, read, n) = PLIES.get(i - ALLOYS.len())?;
    let ([density, e1, e2, g, poisson, tension], compression) = (wide(n), f64::from(n[6]));
    Some(Row {
        key,
        source: "ply-lists",
        check,
        read: *read,
        material: Material {
            kind: Kind::Laminate,
            density,
            stiffness: 1e9 * e1,
            across: 1e9 * e2,
            shear_stiffness: 1e9 * g,
            poisson,
            strength: 1e6 * tension,
            compression: 1e6 * compression,
            shear: 0.0,
            bearing: 0.0,
        },
    })
}

/// The row of a key.
pub fn find(key: &str) -> Option<Row> {
    let mut i = 0;
    while let Some(found) = row(i) {
        if found.key == key {
            return Some(found);
        }
        i += 1;
    }
    None
}

/// A ply, or a pair of them laid plus and minus the angle.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Ply {
    /// With all its fibres one way.
    pub material: Material,
    /// Fibres off the spar's axis [rad].
    pub angle: f64,
    /// Thickness [m], of a pair both together.
    pub thickness: f64,
}

/// Most plies of a laminate.
pub const MOST_PLIES: usize = 24;

/// The wall of a laminate tube as one material, and its thickness [m].
///
/// Membrane stiffness A = Σ Q̄ t of classical lamination theory, every angle taken as laid both ways (A16 = A26 = 0):
/// E = (A11 - A12²/A22)/t, ν = A12/A22, G = A66/t. Strength: the pull, and the thrust, along the spar at which the fibres of
/// the first ply reach theirs; cracks between fibres are not looked at. None with no ply, with too many, or with one that
/// cannot be.
pub fn laminate(plies: &[Ply]) -> Option<(Material, f64)> {
    if plies.len() > MOST_PLIES {
        return None;
    }
    let (mut a11, mut a12, mut a22, mut a66) = (0.0, 0.0, 0.0, 0.0);
    let (mut thickness, mut mass) = (0.0, 0.0);
    for ply in plies {
        let m = &ply.material;
        if !(m.is_real() && ply.thickness > 0.0 && ply.thickness < 1.0 && ply.angle.abs() < 4.0) {
            return None;
        }
        let (s, c) = angles::sin_cos(ply.angle);
        let (s2, c2) = (s * s, c * c);
        let (q11, q12, q22) = reduced(m)?;
        let (g, t) = (m.shear_stiffness, ply.thickness);
        a11 += t * (q11 * c2 * c2 + 2.0 * (q12 + 2.0 * g) * s2 * c2 + q22 * s2 * s2);
        a22 += t * (q11 * s2 * s2 + 2.0 * (q12 + 2.0 * g) * s2 * c2 + q22 * c2 * c2);
        a12 += t * ((q11 + q22 - 4.0 * g) * s2 * c2 + q12 * (s2 * s2 + c2 * c2));
        a66 += t * ((q11 + q22 - 2.0 * q12 - 2.0 * g) * s2 * c2 + g * (s2 * s2 + c2 * c2));
        thickness += t;
        mass += t * m.density;
    }
    if thickness <= 0.0 {
        return None;
    }
    let stiffness = (a11 - a12 * a12 / a22) / thickness;
    let poisson = a12 / a22;
    let (mut tension, mut compression) = (f64::INFINITY, f64::INFINITY);
    for ply in plies {
        let m = &ply.material;
        let (s, c) = angles::sin_cos(ply.angle);
        let (s2, c2) = (s * s, c * c);
        let (q11, q12, _) = reduced(m)?;
        // Stress in the fibres by a stress of one along the spar.
        let along = (c2 - poisson * s2) / stiffness;
        let across = (s2 - poisson * c2) / stiffness;
        let fibre = q11 * along + q12 * across;
        if fibre > 0.0 {
            tension = tension.min(m.strength / fibre);
            compression = compression.min(m.compression / fibre);
        } else if fibre < 0.0 {
            tension = tension.min(-m.compression / fibre);
            compression = compression.min(-m.strength / fibre);
        }
    }
    let wall = Material {
        kind: Kind::Laminate,
        density: mass / thickness,
        stiffness,
        across: (a22 - a12 * a12 / a11) / thickness,
        shear_stiffness: a66 / thickness,
        poisson: poisson.max(0.0).min(0.49),
        strength: tension,
        compression,
        shear: 0.0,
        bearing: 0.0,
    };
    wall.is_real().then_some((wall, thickness))
}

/// Q11, Q12, Q22 of a ply: E1/(1 - ν12 ν21), ν12 E2/(1 - ν12 ν21), E2/(1 - ν12 ν21); ν21 = ν12 E2/E1.
fn reduced(m: &Material) -> Option<(f64, f64, f64)> {
    let rest = 1.0 - m.poisson * m.poisson * m.across / m.stiffness;
    (rest > 0.05).then(|| {
        (
            m.stiffness / rest,
            m.poisson * m.across / rest,
            m.across / rest,
        )
    })
}
