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

/// All words in one, with something between them. Joining by the standard library is a copy for every kind
/// of list.
pub fn joined(words: &[String], between: &str) -> String {
    let mut all = String::new();
    for (i, word) in words.iter().enumerate() {
        if i > 0 {
            all.push_str(between);
        }
        all.push_str(word);
    }
    all
}
