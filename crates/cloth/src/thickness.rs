//! The thickness form of a wing.

/// Half thickness and its slope against `root`, shares of the wing's own chord, at `root`², a share of that chord.
///
/// y = 5 t (0.2969 √x - 0.1260 x - 0.3516 x² + 0.2843 x³ - 0.1036 x⁴), the four-digit thickness
/// form with its tail closed. Source: check values, section 8; the last coefficient is 0.1015 with
/// an open tail. Taken against √x, which keeps its slope finite at the luff. Range: `root` 0 to 1.
pub fn half_thickness(thickness: f64, root: f64) -> (f64, f64) {
    let (r, q) = (root, root * root);
    let y = r * (0.2969 + r * (-0.1260 + q * (-0.3516 + q * (0.2843 - q * 0.1036))));
    let slope = 0.2969
        + r * (2.0 * -0.1260 + q * (4.0 * -0.3516 + q * (6.0 * 0.2843 - q * (8.0 * 0.1036))));
    (5.0 * thickness * y, 5.0 * thickness * slope)
}
