//! Lists made by the shortest code.

/// Any iterator.
pub trait Listed: Iterator {
    /// All items in a list. `collect` does the same by way of three functions, each with a copy for
    /// every iterator: here it is one.
    fn listed(self) -> Vec<Self::Item>;
}

impl<I: Iterator> Listed for I {
    fn listed(self) -> Vec<I::Item> {
        let mut list = Vec::new();
        for item in self {
            list.push(item);
        }
        list
    }
}
