//! JSON text to a value, by serde_json's reader and a visitor of our own.
//!
//! serde_json's own visitor brings what it may have to say of other types, and with that std's
//! printing of floats, into the wasm: 10 KB of the download for messages nobody sees.

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::{Error, Map, Number, Value};
use std::fmt;

/// The key under which serde_json hands over a number with all its digits
/// (feature `arbitrary_precision`); the tests below hold the two together.
const NUMBER: &str = "$serde_json::private::Number";

/// Reads one value and nothing after it; the digits of numbers stay as they are.
pub(crate) fn read(text: &str) -> Result<Value, Error> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let value = Node.deserialize(&mut reader)?;
    reader.end()?;
    Ok(value)
}

/// One value of any kind.
struct Node;

impl<'de> DeserializeSeed<'de> for Node {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Value, D::Error> {
        from.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Node {
    type Value = Value;

    fn expecting(&self, to: &mut fmt::Formatter) -> fmt::Result {
        to.write_str("any value")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Value, E> {
        Ok(Number::from_f64(value).map_or(Value::Null, Value::Number))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(Value::String(value.to_owned()))
    }

    fn visit_string<E>(self, value: String) -> Result<Value, E> {
        Ok(Value::String(value))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut from: A) -> Result<Value, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = from.next_element_seed(Node)? {
            items.push(item);
        }
        Ok(Value::Array(items))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut from: A) -> Result<Value, A::Error> {
        let mut entries = Map::new();
        while let Some(key) = from.next_key_seed(Node)? {
            let value = from.next_value_seed(Node)?;
            let Value::String(key) = key else { continue };
            if key == NUMBER
                && let Some(number) = value.as_str().and_then(|digits| digits.parse().ok())
            {
                return Ok(Value::Number(number));
            }
            entries.insert(key, value);
        }
        Ok(Value::Object(entries))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn reads_what_serde_json_reads() {
        for text in [
            r#"{"a":[1,-2.50,1e999,0.10,-0,12345678901234567890123,1E5],"b":{"c":null,"d":true},"é":"\u00e9\n"}"#,
            r#""word""#,
            "[]",
            "{}",
            " 7 ",
            r#"{"a":1,"a":2}"#,
            r#"{"$serde_json::private::Number":"4.430"}"#,
        ] {
            assert_eq!(
                read(text).unwrap(),
                serde_json::from_str::<Value>(text).unwrap()
            );
        }
        // As a key of the user's own it is nothing special.
        let own = r#"{"$serde_json::private::Number":"x"}"#;
        assert_eq!(read(own).unwrap().to_string(), own);
    }

    #[test]
    fn refuses_what_serde_json_refuses_at_the_same_place() {
        let deep = "[".repeat(200);
        for text in [
            "",
            "{",
            "[1,]",
            "{\"a\" 1}",
            "tru",
            "1 2",
            "[01]",
            "\"\\ud800\"",
            &deep,
        ] {
            let ours = read(text).unwrap_err();
            let theirs = serde_json::from_str::<Value>(text).unwrap_err();
            assert_eq!(
                (ours.line(), ours.column()),
                (theirs.line(), theirs.column()),
                "{text}"
            );
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_alike(text in r#"[\[\]{}",:0-9eE.a+-]{0,24}"#) {
            prop_assert_eq!(read(&text).ok(), serde_json::from_str::<Value>(&text).ok());
        }
    }
}
