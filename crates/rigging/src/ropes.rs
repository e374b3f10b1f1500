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
}

/// mm, kN of polyester, polyamide, polypropylene. Trade tables of the Cordage Institute's type, least breaking
/// strength, three and eight strands, as printed by an engineering site (three pages, read). 18 mm stands for ¾ in.
const LAID: [(u8, [f32; 3]); 9] = [
    (6, [5.85, 6.61, 5.0]),
    (8, [9.1, 10.2, 7.61]),
    (10, [12.9, 14.4, 10.8]),
    (11, [17.4, 19.2, 14.0]),
    (12, [22.6, 25.2, 16.8]),
    (14, [28.6, 32.0, 20.4]),
    (16, [34.8, 39.6, 24.8]),
    (18, [49.8, 56.8, 34.0]),
    (22, [67.7, 76.9, 46.0]),
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
        let row = |key, read, (mm, kn): (f32, f32)| Row {
            key,
            read,
            diameter: 1e-3 * f64::from(mm),
            strength: 1e3 * f64::from(kn),
        };
        match self {
            Self::Braid => Some(row("R20", true, *BRAID.get(i)?)),
            Self::Hmpe => Some(row("R26", false, *HMPE.get(i)?)),
            _ => {
                let (mm, of) = LAID.get(i)?;
                let kn = of.get(self as usize)?;
                Some(row(KEYS.get(i)?, true, (f32::from(*mm), *kn)))
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
