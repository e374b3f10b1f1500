//! Where two documents differ.

use serde_json::Value;

use crate::document::Document;
use crate::tree::number_of;

/// Paths at which two documents differ, in the order of their keys: single values, and lists or entries of lists that one of them has
/// not at all. At most so many; then how many there are.
pub fn differing(one: &Document, other: &Document, most: usize) -> (Vec<String>, usize) {
    let (mut paths, mut found) = (Vec::new(), 0);
    // As deep as a document may be nested, times its widest object: bounded as documents are.
    let mut open = vec![(String::new(), Some(one.root()), Some(other.root()))];
    while let Some((path, a, b)) = open.pop() {
        if same(a, b) {
            continue;
        }
        let mut keys: Vec<String> = Vec::new();
        let mut deeper = false;
        match (a, b) {
            (Some(Value::Array(a)), Some(Value::Array(b))) => {
                deeper = true;
                for i in 0..a.len().max(b.len()) {
                    keys.push(quantities::units::fixed(i as f64, 0));
                }
            }
            _ if entry_of_list(&path) && (a.is_none() || b.is_none()) => {}
            _ => {
                for side in [a, b] {
                    if let Some(Value::Object(entries)) = side {
                        deeper = true;
                        for key in entries.keys() {
                            if !keys.iter().any(|known| known == key) {
                                keys.push(key.clone());
                            }
                        }
                    }
                }
            }
        }
        if !deeper {
            found += 1;
            if paths.len() < most {
                paths.push(path);
            }
            continue;
        }
        // The last is looked at first.
        for key in keys.iter().rev() {
            let child = if path.is_empty() {
                key.clone()
            } else {
                [&path, ".", key].concat()
            };
            open.push((child, at(a, key), at(b, key)));
        }
    }
    (paths, found)
}

/// What an object or a list has under a key.
fn at<'a>(value: Option<&'a Value>, key: &str) -> Option<&'a Value> {
    match value? {
        Value::Object(entries) => entries.get(key),
        Value::Array(items) => items.get(key.parse::<usize>().ok()?),
        _ => None,
    }
}

/// Numbers are the same however they are written, and nothing is as good as a null.
fn same(a: Option<&Value>, b: Option<&Value>) -> bool {
    let (a, b) = (a.filter(|v| !v.is_null()), b.filter(|v| !v.is_null()));
    match (a.and_then(number_of), b.and_then(number_of)) {
        (Some(a), Some(b)) => a.total_cmp(&b).is_eq(),
        _ => a == b,
    }
}

/// Whether a path ends in the number of an entry.
fn entry_of_list(path: &str) -> bool {
    path.as_bytes().last().is_some_and(u8::is_ascii_digit)
}
