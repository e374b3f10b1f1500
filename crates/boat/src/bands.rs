//! Bands of what is estimated.

/// A value with the ends of its 95 % band.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Banded {
    /// The value.
    pub value: f64,
    /// Lower end.
    pub least: f64,
    /// Upper end; may be infinite.
    pub most: f64,
}

impl Banded {
    /// First-order propagation: `values` as estimated, then with the first input at the lower and upper
    /// end of its band, then with the second. Whole bands are gone to, not slopes: the ends of what depends
    /// on one input alone are exact, and inputs that act together through the calculation are told
    /// apart by it. Inputs themselves are independent: their squares add.
    pub(crate) fn of(values: [f64; 5]) -> Self {
        let [value, a, b, c, d] = values;
        let (mut down, mut up) = (0.0, 0.0);
        for (one, other) in [(a, b), (c, d)] {
            let (low, high) = if one < other {
                (one, other)
            } else {
                (other, one)
            };
            if low < value {
                down += (value - low) * (value - low);
            }
            if high > value {
                up += (high - value) * (high - value);
            }
        }
        Self {
            value,
            least: value - down.sqrt(),
            most: value + up.sqrt(),
        }
    }
}
