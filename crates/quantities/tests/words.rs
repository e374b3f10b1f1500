//! The catalogue and the words of every quantity.

use proptest::prelude::*;
use quantities::quantity::{self, ALL};
use quantities::{Arg, Basis, Catalogue, Text, Units};

/// Every catalogue by its language, and what it calls derived.
fn languages() -> [(&'static str, Catalogue, &'static str); 2] {
    [("en", "erived"), ("de", "ergeleitet")].map(|(language, derived)| {
        let file = [
            env!("CARGO_MANIFEST_DIR"),
            "/../../www/texts/",
            language,
            ".json",
        ];
        let json = std::fs::read_to_string(file.concat()).unwrap();
        (language, Catalogue::read(&json).unwrap(), derived)
    })
}

#[test]
fn every_quantity_has_its_words_once() {
    for (language, words, _) in languages() {
        every_quantity_has_words(language, &words);
    }
}

fn every_quantity_has_words(language: &str, words: &Catalogue) {
    let mut keys = std::collections::BTreeSet::new();
    for quantity in ALL {
        assert!(
            keys.insert(quantity.key()),
            "{} stands twice",
            quantity.key()
        );
        assert_eq!(quantity.label, format!("label.{}", quantity.key()));
        let help = quantity.help();
        assert_eq!(help, format!("help.{}", quantity.key()));
        assert_eq!(quantity::quantity(quantity.key()), Some(*quantity));
        let label = words
            .find(quantity.label)
            .unwrap_or_else(|| panic!("{language}: no {}", quantity.label));
        let help = words
            .find(&help)
            .unwrap_or_else(|| panic!("{language}: no {help}"));
        assert!(
            !label.is_empty() && label.chars().count() <= 28,
            "{label}: too long for a phone"
        );
        assert!(help.ends_with('.') && help.chars().count() <= 300, "{help}");
        assert!(!help.contains(['{', '}']), "{help}");
    }
    assert_eq!(quantity::quantity("no such thing"), None);
}

#[test]
fn labels_tell_quantities_apart() {
    for (language, words, _) in languages() {
        let mut labels = std::collections::BTreeMap::new();
        for quantity in ALL {
            if let Some(other) = labels.insert(words.word(quantity.label), quantity.key()) {
                panic!(
                    "{language}: {other} and {} are both called {}",
                    quantity.key(),
                    words.word(quantity.label)
                );
            }
        }
    }
}

#[test]
fn a_derived_result_says_so() {
    for (_, words, derived) in languages() {
        for quantity in ALL
            .iter()
            .filter(|quantity| quantity.basis == Basis::Derived)
        {
            let help = words.find(&quantity.help()).unwrap();
            assert!(help.contains(derived), "{}: {help}", quantity.key());
        }
    }
}

/// Where a number or its usual value is somebody's, DEVELOPERS.md lists what it was taken from.
#[test]
fn published_sources_are_listed() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../DEVELOPERS.md");
    let written = std::fs::read_to_string(file).unwrap();
    let listed = written.split("## Sources").nth(1).unwrap();
    let listed = listed.split("\n## ").next().unwrap().to_lowercase();
    let mut sources = 0;
    for quantity in ALL {
        if let Basis::Published(source) = quantity.basis {
            sources += 1;
            let name = source.split(',').next().unwrap().to_lowercase();
            assert!(listed.contains(&name), "{}: {source}", quantity.key());
        }
    }
    assert!(sources > 3);
}

/// A first look round: six sentences at the most, of 25 words at the most, in every language.
#[test]
fn the_tour_is_short_in_every_language() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../www/texts");
    let mut languages = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|end| end != "json") {
            continue;
        }
        languages += 1;
        let words = Catalogue::read(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let own = ["step", "next", "skip", "done", "brief"].map(|name| format!("page.tour.{name}"));
        let steps: Vec<_> = words
            .entries()
            .filter(|(key, _)| key.starts_with("page.tour.") && !own.iter().any(|own| own == key))
            .collect();
        assert!((1..=6).contains(&steps.len()), "{}", path.display());
        for (key, text) in steps {
            let count = text.split_whitespace().count();
            assert!(count <= 25, "{}: {key} has {count} words", path.display());
        }
    }
    assert!(languages > 0);
}

#[test]
fn bases_have_words() {
    let words = Catalogue::english();
    let say = |basis: Basis| words.say(&basis.text(), Units::METRIC);
    assert_eq!(say(Basis::Derived), "Derived");
    assert_eq!(say(Basis::CommonPractice), "Common practice");
    assert_eq!(say(Basis::Published("a table")), "Published: a table");
}

fn small() -> Catalogue {
    Catalogue::read(
        r#"{"b": "{n} panels", "reef.one": "one panel of {area}", "reef.many": "{n} panels of {area}",
            "inner": "by {who}", "outer": "{what}, {inner}!", "open": "a {b", "twice": "{x}{x} {y}"}"#,
    )
    .unwrap()
}

#[test]
fn sentences_are_filled() {
    let words = small();
    let say = |text: Text| words.say(&text, Units::METRIC);
    let reef = |n: u32| {
        Text::new("reef")
            .with("n", n)
            .with("area", (5.25, &quantity::PANEL_AREA))
    };
    assert_eq!(say(reef(1)), "one panel of 5.25\u{a0}m²");
    assert_eq!(say(reef(0)), "0 panels of 5.25\u{a0}m²");
    assert_eq!(
        words.say(&reef(3), Units::IMPERIAL),
        "3 panels of 56.5\u{a0}ft²"
    );
    // Feet and inches are one measure: no line ends within it.
    assert_eq!(
        quantity::CHORD.say(4.432, Units::IMPERIAL),
        "14'\u{a0}6\u{a0}1/2\""
    );
    let inner = Text::new("inner").with("who", "hand".to_string());
    assert_eq!(
        say(Text::new("outer")
            .with_key("what", "open")
            .with("inner", inner)),
        "a {b, by hand!"
    );
    assert_eq!(say(Text::new("no.such.key")), "no.such.key");
    assert_eq!(say(Text::new("open")), "a {b");
    assert_eq!(
        say(Text::new("twice").with("x", "{y}".to_string())),
        "{y}{y} {y}"
    );
    let by_units = Arg::ByUnits(Box::new([Some(Text::new("open")), None]));
    let text = Text::new("inner").with("who", by_units);
    assert_eq!(say(text.clone()), "by a {b");
    assert_eq!(words.say(&text, Units::IMPERIAL), "by ");
}

#[test]
fn a_catalogue_is_a_flat_list_of_words() {
    let words = small();
    let keys: Vec<&str> = words.entries().map(|(key, _)| key).collect();
    assert!(keys.is_sorted());
    assert_eq!(words.word("b"), "{n} panels");
    for broken in [
        "",
        "[]",
        "{",
        "3",
        r#"{"a": 1}"#,
        r#"{"a": {"b": "c"}}"#,
        r#"{"a": "b",}"#,
        r#"{"a": "b"} x"#,
        r#"{"a" "b"}"#,
        r#"{"a": "\x"}"#,
        r#"{"a": "\ud800"}"#,
        r#"{"a": "\ud800\u0041"}"#,
        "{\"a\": \"b\nc\"}",
    ] {
        let problem = Catalogue::read(broken).expect_err(broken);
        assert!(problem.refused);
        let said = Catalogue::english().say(&problem.text, Units::METRIC);
        assert!(
            said.starts_with("The catalogue of words cannot be read after"),
            "{said}"
        );
    }
}

#[test]
fn the_last_of_two_like_keys_counts() {
    let words = Catalogue::read(r#"{"b": "1", "a": "2", "b": "3"}"#).unwrap();
    assert_eq!(
        words.entries().collect::<Vec<_>>(),
        [("a", "2"), ("b", "3")]
    );
    assert_eq!(Catalogue::read(" { } ").unwrap().entries().count(), 0);
    let problem = Catalogue::read(r#"{"a": "b", "c": 3}"#).unwrap_err();
    assert_eq!(problem.path, "c");
}

proptest! {
    /// Our reader against the JSON library: any flat list, written two ways.
    #[test]
    fn catalogues_are_read_as_json(
        list in proptest::collection::btree_map("\\PC{0,12}|[a-z.]{1,12}", any::<String>(), 0..12),
    ) {
        let value = serde_json::to_value(&list).unwrap();
        for json in [value.to_string(), serde_json::to_string_pretty(&value).unwrap(), escaped(&value)] {
            let words = Catalogue::read(&json).unwrap();
            let found: std::collections::BTreeMap<String, String> =
                words.entries().map(|(key, word)| (key.to_string(), word.to_string())).collect();
            prop_assert_eq!(&found, &list);
        }
    }

    /// Text near a catalogue: whatever is read is what the library reads.
    #[test]
    fn what_is_no_catalogue_is_refused(json in r#"\{("[a\\u0-9"]{0,7}"[:, ]{1,2}){0,4}[}, ]{0,2}"#) {
        let library: Option<std::collections::BTreeMap<String, String>> = serde_json::from_str(&json).ok();
        let ours = Catalogue::read(&json).ok().map(|words| {
            words.entries().map(|(key, word)| (key.to_string(), word.to_string())).collect()
        });
        prop_assert_eq!(ours, library, "{}", json);
    }
}

/// The same JSON with every letter outside ASCII escaped.
fn escaped(value: &serde_json::Value) -> String {
    let mut out = String::new();
    for letter in value.to_string().chars() {
        if letter.is_ascii() {
            out.push(letter);
        } else {
            for unit in letter.encode_utf16(&mut [0; 2]) {
                out.push_str(&format!("\\u{unit:04x}"));
            }
        }
    }
    out
}

#[test]
fn english_is_compiled_in_and_whole() {
    let words = Catalogue::english();
    let file = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../www/texts/en.json"
    ))
    .unwrap();
    assert_eq!(Catalogue::read(&file).unwrap(), words);
    assert!(words.entries().count() > ALL.len());
}
