//! The catalogue against the sources: every key asked for exists, every key is asked for, and each
//! language has the same keys with the same places and none of its words left in English.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Context, Result, bail};

use crate::site::{self, Files};
use crate::workspace;

type Catalogue = BTreeMap<String, String>;

/// Where words are asked for. The catalogue's own crate builds keys for the others.
const SOURCES: [&str; 7] = [
    "www",
    "crates/cloth/src",
    "crates/quantities/src",
    "crates/geometry/src",
    "crates/design/src",
    "crates/drawing/src",
    "crates/site/src",
];

/// Words that every longer English text holds some of, and that are none in the other languages.
const ENGLISH: [&str; 29] = [
    "and", "are", "as", "at", "boat", "boom", "by", "cannot", "cloth", "each", "for", "from", "is",
    "it", "its", "luff", "not", "of", "on", "or", "sail", "spar", "than", "the", "to", "wanted",
    "which", "with", "without",
];

/// # Errors
/// With all that is amiss, a line each.
pub(crate) fn check() -> Result<()> {
    let root = workspace::root();
    let languages = site::read(&root.join("www/texts"))?;
    let english = catalogue(&languages, "en.json")?;
    let mut literals = BTreeSet::new();
    for folder in SOURCES {
        for (name, bytes) in site::read(&root.join(folder))? {
            if [".rs", ".js", ".html"]
                .iter()
                .any(|end| name.ends_with(end))
            {
                literals.extend(literals_of(&String::from_utf8_lossy(&bytes)));
            }
        }
    }
    let mut amiss = compare(&english, &literals);
    for name in languages
        .keys()
        .filter(|name| *name != "en.json" && name.ends_with(".json"))
    {
        let other = catalogue(&languages, name)?;
        amiss.extend(compare_languages(name, &english, &other));
        amiss.extend(english_left(name, &other));
    }
    if !amiss.is_empty() {
        bail!("the catalogue www/texts/en.json:\n  {}", amiss.join("\n  "));
    }
    println!("{} keys, each asked for", english.len());
    Ok(())
}

fn catalogue(languages: &Files, name: &str) -> Result<Catalogue> {
    let bytes = languages
        .get(name)
        .with_context(|| format!("there is no www/texts/{name}"))?;
    serde_json::from_slice(bytes).with_context(|| format!("www/texts/{name}"))
}

/// What stands between quotes or backticks, comments and test modules left out. A place in the
/// text ends the literal: `page.show.${layer}` gives `page.show.`.
fn literals_of(source: &str) -> BTreeSet<String> {
    let source = source
        .split("#[cfg(test)]\nmod ")
        .next()
        .unwrap_or_default();
    let mut found = BTreeSet::new();
    for line in source.lines() {
        let start = line.trim_start();
        if ["//", "*", "/*"]
            .iter()
            .any(|comment| start.starts_with(comment))
        {
            continue;
        }
        for quote in ['"', '\'', '`'] {
            // All that lies between two quotes, and by mistake what lies between two literals:
            // that never looks like a key.
            for text in line.split(quote).skip(1) {
                let text = text.split(['{', '$']).next().unwrap_or_default();
                if text.contains('.') {
                    found.insert(text.to_owned());
                }
            }
        }
    }
    found
}

fn compare(english: &Catalogue, literals: &BTreeSet<String>) -> Vec<String> {
    let mut amiss = Vec::new();
    let spaces: BTreeSet<&str> = english
        .keys()
        .filter_map(|key| key.split('.').next())
        .collect();
    let of_catalogue = |text: &str| {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "._-".contains(c);
        text.split_once('.')
            .is_some_and(|(space, _)| spaces.contains(space))
            && text.chars().all(plain)
    };
    for literal in literals.iter().filter(|literal| of_catalogue(literal)) {
        let plural = ["one", "many"]
            .iter()
            .all(|end| english.contains_key(&format!("{literal}.{end}")));
        let beginning =
            literal.ends_with('.') && english.keys().any(|key| key.starts_with(literal.as_str()));
        if !english.contains_key(literal) && !plural && !beginning {
            amiss.push(format!("{literal} is asked for, but is no key"));
        }
    }
    for key in english.keys() {
        let stem = key
            .strip_suffix(".one")
            .or(key.strip_suffix(".many"))
            .unwrap_or(key);
        // A whole name space is built from a table elsewhere, whose own tests ask for each.
        let begun = key
            .match_indices('.')
            .any(|(dot, _)| literals.contains(&key[..=dot]));
        if !literals.contains(key) && !literals.contains(stem) && !begun {
            amiss.push(format!("{key} is never asked for"));
        }
    }
    amiss
}

fn compare_languages(name: &str, english: &Catalogue, other: &Catalogue) -> Vec<String> {
    let keys: BTreeSet<&String> = english.keys().chain(other.keys()).collect();
    let amiss = |key: &String| {
        let said = match (english.get(key), other.get(key)) {
            (Some(said), None) => format!("is missing; in English: {said}"),
            (None, _) => "is too many: English has none".to_owned(),
            (Some(one), Some(two)) if places(one) != places(two) => {
                format!("has other places than English: {one}")
            }
            _ => return None,
        };
        Some(format!("{name}: {key} {said}"))
    };
    keys.into_iter().filter_map(amiss).collect()
}

/// The texts with an English word in them, the names of places and of books left out.
fn english_left(name: &str, other: &Catalogue) -> Vec<String> {
    let mut left = Vec::new();
    let books = |key: &str| key.starts_with("source.");
    for (key, said) in other.iter().filter(|(key, _)| !books(key)) {
        let plain = said
            .split('{')
            .map(|part| part.rsplit('}').next().unwrap_or_default());
        let plain = plain.collect::<Vec<_>>().join(" ").to_lowercase();
        let mut words = plain.split(|c: char| !c.is_alphanumeric());
        let found = words.find(|word| ENGLISH.contains(word));
        if let Some(word) = found {
            left.push(format!(
                "{name}: {key} is left in English: “{word}” in {said}"
            ));
        }
    }
    left
}

/// The names between braces.
fn places(text: &str) -> BTreeSet<&str> {
    text.split('{')
        .skip(1)
        .filter_map(|rest| rest.split('}').next())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn english() -> Catalogue {
        let keys = [
            "page.undo",
            "page.show.trail",
            "page.days.one",
            "page.days.many",
            "label.chord",
        ];
        keys.map(|key| (key.to_owned(), "{n} words".to_owned()))
            .into()
    }

    const USES: &str = r#"say("page.undo"); make("p", { word: `page.show.${layer}` });
        // say("page.gone")
        say('page.days', { n }); concat!("label.", $key)"#;

    #[test]
    fn keys_and_uses_that_agree_pass() {
        assert_eq!(
            compare(&english(), &literals_of(USES)),
            Vec::<String>::new()
        );
    }

    #[test]
    fn unknown_and_unused_keys_are_named() {
        let uses = USES.replace("page.undo", "page.redo");
        let amiss = compare(&english(), &literals_of(&uses));
        assert_eq!(
            amiss,
            [
                "page.redo is asked for, but is no key",
                "page.undo is never asked for"
            ]
        );
    }

    #[test]
    fn test_modules_may_invent_keys() {
        let source = "say(\"page.undo\");\n#[cfg(test)]\nmod tests {\n say(\"page.invented\"); }";
        assert!(!literals_of(source).contains("page.invented"));
    }

    #[test]
    fn languages_need_the_same_keys_and_places() {
        let mut other = english();
        assert_eq!(
            compare_languages("xx.json", &english(), &other),
            Vec::<String>::new()
        );
        other.insert("page.undo".to_owned(), "{m} mots".to_owned());
        other.remove("label.chord");
        let amiss = compare_languages("xx.json", &english(), &other);
        assert_eq!(
            amiss,
            [
                "xx.json: label.chord is missing; in English: {n} words",
                "xx.json: page.undo has other places than English: {n} words"
            ]
        );
        other.insert("page.more".to_owned(), String::new());
        let amiss = compare_languages("xx.json", &english(), &other);
        assert!(amiss.contains(&"xx.json: page.more is too many: English has none".to_owned()));
    }

    #[test]
    fn english_words_are_found_in_another_language() {
        let said = |said: &str| Catalogue::from([("page.undo".to_owned(), said.to_owned())]);
        for clean in ["Zug am Tampen", "{spar} von {at}", "Tonne", "Sailor"] {
            assert_eq!(english_left("xx.json", &said(clean)), Vec::<String>::new());
        }
        for left in ["Pull of {n}", "Zug of {value}", "Not"] {
            assert_eq!(english_left("xx.json", &said(left)).len(), 1, "{left}");
        }
    }
}
