//! Tackles with friction.

/// What a tackle gains when it is hauled from its fixed block: k + k² + ... + k^n for n parts at the moving block, each
/// sheave passing on the share k = 1 - loss of the pull. Geometric series (textbooks). A loss below nought gives what it gains
/// in easing, with k above one.
pub fn gain(parts: usize, loss: f64) -> f64 {
    let k = passed(loss);
    let (mut sum, mut power) = (0.0, 1.0);
    for _ in 0..parts.min(100) {
        power *= k;
        sum += power;
    }
    sum
}

/// Share of the pull a sheave passes on; never nought, so that nothing is divided by it.
fn passed(loss: f64) -> f64 {
    (1.0 - loss).max(0.1)
}

/// Pull at the tail that raises a load [N] by so many parts and leads.
pub fn hauled(load: f64, parts: usize, leads: usize, loss: f64) -> f64 {
    load / (gain(parts.max(1), loss) * passed(loss).powi(leads.min(100) as i32))
}

/// Pull at the tail that just lets a load [N] down: every sheave holds with the hand, k becomes 1/k.
pub fn held(load: f64, parts: usize, leads: usize, loss: f64) -> f64 {
    hauled(load, parts, leads, 1.0 - 1.0 / passed(loss))
}

/// Rope in a tackle [m]: its parts over the greatest reach from block to block, then the leads to where it is belayed. Geometry; what
/// lies round the sheaves is left out, as everywhere.
pub fn rope(parts: usize, reach: f64, leads: f64) -> f64 {
    parts.min(100) as f64 * reach + leads
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three parts over 7 m and 9 m of leads: 30 m (by hand).
    #[test]
    fn rope_in_a_tackle() {
        assert_eq!(rope(3, 7.0, 9.0), 30.0);
        assert_eq!(rope(0, 7.0, 9.0), 9.0);
    }
}
