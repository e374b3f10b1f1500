//! The greater and the lesser of two numbers.
//!
//! `f64::max` and `f64::min` ask whether a number is none, and are calls in the wasm; the reefs ask
//! a thousand times a table. These compare, and keep `a` beside a number that is none.

use kurbo::common::solve_itp;

/// The greater of two.
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// The lesser of two.
pub(crate) fn lesser(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

/// Where a rising function passes nought, to an accuracy, from its values at both ends: ITP (I. Oliveira,
/// R. Takahashi), in one copy.
pub(crate) fn rises_through(
    value: &dyn Fn(f64) -> f64,
    (low, high): (f64, f64),
    (at_low, at_high): (f64, f64),
    accuracy: f64,
) -> f64 {
    solve_itp(
        value,
        low,
        high,
        accuracy,
        1,
        0.2 / (high - low),
        at_low,
        at_high,
    )
}
