//! Bands of what is estimated.

/// A value with the ends of its 95 % band.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
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
    /// First-order propagation of a figure: number 0 as estimated, then 1 and 2 with the first input at the lower
    /// and upper end of its band, then 3 and 4 with the second. Whole bands are gone to, not slopes: the
    /// ends of what depends on one input alone are exact, and inputs that act together through the
    /// calculation are told apart by it. Inputs themselves are independent: their squares add.
    pub(crate) fn of(figure: &mut dyn FnMut(usize) -> f64) -> Self {
        let value = figure(0);
        let (mut down, mut up) = (0.0, 0.0);
        for input in [1, 3] {
            let (mut least, mut most) = (0.0, 0.0);
            for end in [input, input + 1] {
                let off = figure(end) - value;
                if off < least {
                    least = off;
                }
                if off > most {
                    most = off;
                }
            }
            down += least * least;
            up += most * most;
        }
        Self {
            value,
            least: value - down.sqrt(),
            most: value + up.sqrt(),
        }
    }

    /// Whether value and ends are numbers.
    pub(crate) fn is_finite(&self) -> bool {
        (self.least + self.most).is_finite()
    }
}
