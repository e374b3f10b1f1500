//! Documents through the short text of a link and back: nothing lost, nothing hostile gets further.
#![allow(clippy::unwrap_used)]

use std::io::Write as _;

use design::link::{packed, unpacked};
use design::{Document, Edit, demos};
use proptest::prelude::*;
use quantities::{Kind, bounds};
use serde_json::{Value, json};

fn there_and_back(document: &Document) {
    let text = document.text();
    let short = packed(document);
    assert!(short.len() < text.len());
    let again = Document::open(&unpacked(&short).unwrap()).unwrap();
    assert_eq!(again.text(), text);
    // The canonical text has one short text.
    assert_eq!(packed(&again), short);
}

/// A value for a row that its hard limits allow, from two random numbers.
fn value_for(row: &bounds::Row, share: f64, seed: u32) -> Value {
    match row.kind {
        Kind::Number => {
            let value = row.rounded(row.least + share * (row.most - row.least));
            serde_json::from_str(&format!("{value}")).unwrap()
        }
        Kind::Whole => json!((row.least + share * (row.most - row.least)).round() as i64),
        Kind::Flag => json!(seed.is_multiple_of(2)),
        Kind::Choice(words) => json!(words[seed as usize % words.len()]),
        Kind::Words => json!(format!("{} \"{}\" <b>é\\\n</b>", row.path, seed % 100)),
    }
}

/// Every row of the bounds filled, lists with one row each.
fn everything_typed() -> Document {
    let mut document = demos()[1].open().unwrap();
    let mut seed = 12_345_u32;
    for row in bounds::ROWS {
        seed = seed.wrapping_mul(1_103_515_245).wrapping_add(12_345);
        let share = f64::from(seed >> 8) / f64::from(1 << 24);
        let value = match row.kind {
            Kind::Words => json!("Fore"),
            _ => value_for(row, share, seed >> 16),
        };
        let path = row.path.replace("[]", ".0");
        let edit = Edit::value(path.clone(), value);
        document
            .edit(&[edit])
            .unwrap_or_else(|problem| panic!("{path}: {problem:?}"));
    }
    for row in bounds::ROWS {
        let path = row.path.replace("[]", ".0");
        assert!(document.value(&path).is_some(), "{path}");
    }
    document
}

/// Characters of the link of a document whose page has an address of 100.
fn link_length(document: &Document) -> usize {
    let mut deflated =
        flate2::write::DeflateEncoder::new(Vec::new(), flate2::Compression::default());
    deflated.write_all(packed(document).as_bytes()).unwrap();
    let bytes = 4 + deflated.finish().unwrap().len();
    100 + "#1.".len() + (bytes * 8).div_ceil(6) + "z".len()
}

#[test]
fn links_are_short_enough_to_be_sent_and_scanned() {
    for demo in demos() {
        let length = link_length(&demo.open().unwrap());
        assert!(length <= 1200, "{} {length}", demo.key);
    }
    let length = link_length(&everything_typed());
    assert!(length <= 3000, "{length}");
}

#[test]
fn words_of_a_lesson_lengthen_a_link_by_no_more_than_they_are() {
    let mut document = demos()[1].open().unwrap();
    let bare = link_length(&document);
    // Plain English of no author: what deflate makes of it is neither the best nor the worst.
    let words = include_str!("../../../www/texts/en.json")
        .split("\"help.")
        .skip(1);
    let words: String = words
        .step_by(7)
        .filter_map(|text| text.split("\": \"").nth(1)?.split('"').next())
        .collect();
    let steps: Vec<Value> = words.as_bytes().chunks(200).take(10)
        .map(|words| json!({"words": String::from_utf8_lossy(words), "reef": 1, "area_told": "asked"}))
        .collect();
    assert_eq!(steps.len(), 10);
    document
        .edit(&[Edit::value(
            "lesson",
            json!([{"title": "Reefing", "steps": steps}]),
        )])
        .unwrap();
    let length = link_length(&document);
    assert!(length - bare <= 2000, "{bare} {length}");
    there_and_back(&document);
}

#[test]
fn demos_and_a_design_with_everything_typed_come_back_to_the_byte() {
    for demo in demos() {
        there_and_back(&demo.open().unwrap());
    }
    let full = everything_typed();
    there_and_back(&full);
}

/// The page's encoder makes these very codes, a journey sees to it; here a reader by others reads them.
#[test]
fn codes_of_the_page_are_read_by_another_reader() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/golden/codes");
    let mut read = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let file = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        let mut lines = file.lines();
        let text = lines.next().unwrap();
        let rows: Vec<&[u8]> = lines.map(str::as_bytes).collect();
        let wide = (rows.len() + 8) * 3;
        let mut image = rqrr::PreparedImage::prepare_from_bitmap(wide, wide, |x, y| {
            let module = |at: usize| (at / 3).wrapping_sub(4);
            let row = rows.get(module(y)).copied().unwrap_or_default();
            row.get(module(x)) == Some(&b'#')
        });
        let grids = image.detect_grids();
        let (meta, content) = grids[0].decode().unwrap();
        assert_eq!(content, text);
        assert_eq!(rows.len(), 17 + 4 * meta.version.0);
        // ISO/IEC 18004 counts its levels M, L, H, Q.
        let level = if text.len() > 1000 { 1 } else { 0 };
        assert_eq!(meta.ecc_level, level, "{}", text.len());
        read.push(text.len());
    }
    read.sort_unstable();
    assert_eq!(read, [60, 740, 1000, 1001, 1200]);
}

/// A key of the user's own, or of a version to come.
fn own_key() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z_]{1,8}",
        Just("__proto__".to_owned()),
        Just("constructor".to_owned()),
        Just("é\"\\\n".to_owned()),
        Just(String::new()),
        Just("chord_m".to_owned()),
        "\\PC{0,6}",
    ]
}

/// Any value of JSON.
fn own_value() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        "-?(0|[1-9][0-9]{0,5})(\\.[0-9]{1,4})?([eE][+-]?[0-9]{1,2})?"
            .prop_map(|digits| serde_json::from_str(&digits).unwrap()),
        "\\PC{0,12}".prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 24, 5, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..5).prop_map(Value::from),
            prop::collection::btree_map(own_key(), inner, 0..5).prop_map(|entries| Value::from(
                entries.into_iter().collect::<serde_json::Map<_, _>>()
            )),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn random_designs_come_back_to_the_byte(
        demo in 0_usize..3,
        leaves in prop::collection::vec((any::<prop::sample::Index>(), 0_usize..3, 0.0..1.0_f64, any::<u32>()), 0..30),
        own in prop::collection::vec((own_key(), own_value()), 0..4),
    ) {
        let mut document = demos()[demo].open().unwrap();
        for (row, at, share, seed) in leaves {
            let row = row.get(bounds::ROWS);
            // A place further on than a list is long is refused, and then nothing is changed.
            let path = row.path.replacen("[]", &format!(".{at}"), 1).replace("[]", ".0");
            let _ = document.edit(&[Edit::value(path, value_for(row, share, seed))]);
        }
        let mut tree: Value = serde_json::from_str(&document.text()).unwrap();
        for (key, value) in own {
            if !["format", "version", "masts"].contains(&key.as_str()) {
                tree["masts"][0][&key] = value.clone();
                tree["boat"]["own"][key] = value;
            }
        }
        // What reads as a wrong type is not opened, and nobody can make a link of it.
        if let Ok(document) = Document::open(&tree.to_string()) {
            there_and_back(&document);
        }
    }

}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn mutated_short_texts_are_refused_or_read(
        demo in 0_usize..3,
        changes in prop::collection::vec((any::<prop::sample::Index>(), 0_u8..4, "[(\\[\\])\"*/_,.a-zA-Z0-9é-]"), 1..8),
    ) {
        let mut short: Vec<char> = packed(&demos()[demo].open().unwrap()).chars().collect();
        for (at, what, letter) in changes {
            let at = at.index(short.len());
            let letter = letter.chars().next().unwrap();
            match what {
                0 => short[at] = letter,
                1 => short.insert(at, letter),
                2 if short.len() > 1 => drop(short.remove(at)),
                _ => short.truncate(at.max(1)),
            }
        }
        let short: String = short.into_iter().collect();
        if let Ok(text) = unpacked(&short)
            && let Ok(document) = Document::open(&text)
        {
            let again = Document::open(&unpacked(&packed(&document)).unwrap()).unwrap();
            prop_assert_eq!(again.text(), document.text());
        }
    }
}
