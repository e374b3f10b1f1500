//! The greater and the lesser of two numbers.
//!
//! `f64::max` and `f64::min` ask whether a number is none, and are calls in the wasm; the reefs ask
//! a thousand times a table. These compare, and keep `a` beside a number that is none.

/// The greater of two.
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// The lesser of two.
pub(crate) fn lesser(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}
