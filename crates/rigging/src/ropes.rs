//! Strength of rope by diameter, from published tables, and what to choose.

/// What a rope is made of and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Rope {
    /// Polyester, three or eight strands (R01 to R09).
    Polyester,
    /// Polyamide, three or eight strands (R01 to R09).
    Polyamide,
    /// Polypropylene, three or eight strands (R01 to R09).
    Polypropylene,
    /// Polyester, double braid, spliced (R20).
    Braid,
    /// HMPE, twelve strands, one maker's minimum (R26).
    Hmpe,
}

/// A rope of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Row {
    /// Row of the reference list of check values.
    pub key: &'static str,
    /// Whether the table was read; else it is from memory.
    pub read: bool,
    /// Nominal diameter [m].
    pub diameter: f64,
    /// Least strength, new and without knots [N].
    pub strength: f64,
    /// Mass [kg/m]; where the table has it.
    pub mass: Option<f64>,
}

/// mm, kN, kg/m of polyester, polyamide, polypropylene. Trade tables of the Cordage Institute's type, least breaking
/// strength, three and eight strands, as printed by an engineering site (three pages, read). 18 mm stands for ¾ in.
const LAID: [(u8, [(f32, f32); 3]); 9] = [
    (6, [(5.85, 0.029), (6.61, 0.023), (5.0, 0.02)]),
    (8, [(9.1, 0.045), (10.2, 0.036), (7.61, 0.03)]),
    (10, [(12.9, 0.065), (14.4, 0.053), (10.8, 0.04)]),
    (11, [(17.4, 0.088), (19.2, 0.071), (14.0, 0.05)]),
    (12, [(22.6, 0.115), (25.2, 0.094), (16.8, 0.07)]),
    (14, [(28.6, 0.146), (32.0, 0.119), (20.4, 0.09)]),
    (16, [(34.8, 0.179), (39.6, 0.147), (24.8, 0.11)]),
    (18, [(49.8, 0.256), (56.8, 0.213), (34.0, 0.15)]),
    (22, [(67.7, 0.348), (76.9, 0.290), (46.0, 0.21)]),
];

/// mm, kN: double braid, a rope maker's published table (read); makers differ by 15 %.
const BRAID: [(f32, f32); 8] = [
    (6.0, 9.76),
    (8.0, 14.97),
    (10.0, 20.0),
    (11.0, 29.1),
    (13.0, 40.1),
    (14.0, 49.9),
    (16.0, 60.8),
    (19.0, 75.7),
];

/// mm, kN: HMPE single braid, a maker's catalogue in pounds and inches (from memory, 10 %).
const HMPE: [(f32, f32); 5] = [
    (6.35, 34.25),
    (7.94, 54.71),
    (9.53, 78.29),
    (12.7, 136.1),
    (15.9, 211.3),
];

/// Keys of the laid ropes, by row.
const KEYS: [&str; 9] = [
    "R01", "R02", "R03", "R04", "R05", "R06", "R07", "R08", "R09",
];

impl Rope {
    /// A row of its table, thinnest first.
    pub fn row(self, i: usize) -> Option<Row> {
        let row = |key, read, (mm, kn): (f32, f32), mass| Row {
            key,
            read,
            diameter: 1e-3 * f64::from(mm),
            strength: 1e3 * f64::from(kn),
            mass,
        };
        match self {
            Self::Braid => Some(row("R20", true, *BRAID.get(i)?, None)),
            Self::Hmpe => Some(row("R26", false, *HMPE.get(i)?, None)),
            _ => {
                let (mm, of) = LAID.get(i)?;
                let (kn, mass) = of.get(self as usize)?;
                Some(row(
                    KEYS.get(i)?,
                    true,
                    (f32::from(*mm), *kn),
                    Some(f64::from(*mass)),
                ))
            }
        }
    }

    /// The thinnest that bears a load [N] by its factor, with the share of its strength a knot leaves, and is no
    /// thinner than `least` [m]: strength x knot >= load x factor. None where the table ends before.
    pub fn choose(self, load: f64, factor: f64, knot: f64, least: f64) -> Option<Row> {
        let mut i = 0;
        while let Some(row) = self.row(i) {
            if row.strength * knot >= load * factor && row.diameter >= least - 1e-9 {
                return Some(row);
            }
            i += 1;
        }
        None
    }
}
