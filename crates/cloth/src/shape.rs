//! Camber panel by panel, and the arcs of a barrel.

/// How deep a panel is cut and where.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct PanelShape {
    /// Greatest camber, share of the chord (0 to 0.14; refused above 0.5).
    pub camber: f64,
    /// Its place from the luff, share of the chord (0.25 to 0.50).
    pub place: f64,
}

/// Shapes from foot to head in one stroke: both numbers run straight from the lowest panel to the top one.
pub fn graded(panels: usize, foot: PanelShape, head: PanelShape) -> Vec<PanelShape> {
    (0..panels.min(geometry::MOST_PANELS))
        .map(|i| {
            let t = i as f64 / panels.saturating_sub(1).max(1) as f64;
            PanelShape {
                camber: foot.camber * (1.0 - t) + head.camber * t,
                place: foot.place * (1.0 - t) + head.place * t,
            }
        })
        .collect()
}

/// The usual shapes: `lower` camber, 5 % in the two panels under the top one, 2 % in the top one, at 38 % of the
/// chord; one panel alone is a lower one. Common practice.
pub fn usual(panels: usize, lower: f64) -> Vec<PanelShape> {
    let panels = panels.min(geometry::MOST_PANELS);
    (1..=panels)
        .map(|i| PanelShape {
            camber: match panels - i {
                0 if panels > 1 => lower.min(0.02),
                1 | 2 => lower.min(0.05),
                _ => lower,
            },
            place: 0.38,
        })
        .collect()
}

/// Arc over a width [m] with a sagitta [m]: how much cloth a barrel takes from spar to spar.
///
/// R = w²/(8 s) + s/2, arc = 4 R atan(2 s / w); w (1 + 8/3 (s/w)²) as s goes to nought. Derived; holds past the half
/// circle (s/w = 0.5). Range: w > 0, s >= 0.
pub fn barrel_arc(width: f64, sagitta: f64) -> f64 {
    let q = sagitta / width;
    if q < 1e-4 {
        return width * (1.0 + 8.0 / 3.0 * q * q);
    }
    let radius = width * width / (8.0 * sagitta) + 0.5 * sagitta;
    4.0 * radius * (2.0 * q).atan()
}

/// A point of a barrel's arc at a share of its length: way along the width and height over it [m].
///
/// Half angle α = 2 atan(2 s / w), R = w / (2 sin α); at share η the angle from the crown is α (2 η - 1).
pub fn barrel_point(width: f64, sagitta: f64, share: f64) -> (f64, f64) {
    let q = sagitta / width;
    if q < 1e-6 {
        return (width * share, 4.0 * sagitta * share * (1.0 - share));
    }
    let half = 2.0 * (2.0 * q).atan();
    let radius = width * width / (8.0 * sagitta) + 0.5 * sagitta;
    let angle = half * (2.0 * share - 1.0);
    (
        0.5 * width + radius * angle.sin(),
        radius * (angle.cos() - half.cos()),
    )
}
