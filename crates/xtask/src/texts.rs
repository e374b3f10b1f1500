//! The catalogues as they are served: a quarter of their download were keys. English keeps what no other
//! says of them, the other languages leave them to it.

use std::collections::BTreeMap;

use anyhow::{Result, bail};

/// Lines of a catalogue, a flat JSON object of words. Each line is a key, a blank and its
/// words. Of the key each leading dot stands for one more part of the key before; the label of a
/// quantity stands after its help, behind a tab. `unfoldWords` of `words.js` reads it.
///
/// # Errors
/// When it is no catalogue, or a line break, a tab or a key's blank would be taken for a mark.
pub(crate) fn folded(json: &str) -> Result<String> {
    let words: BTreeMap<String, String> = serde_json::from_str(json)?;
    let other = |key: &str, from: &str, to: &str| {
        let other = [to, key.strip_prefix(from)?].concat();
        words.get(&other)
    };
    let mut before: Vec<&str> = Vec::new();
    let mut lines = Vec::new();
    for (key, said) in &words {
        if key.starts_with('.') || key.contains([' ', '\n']) || said.contains(['\n', '\t']) {
            bail!("{key}: no dot at the begin, no blank in the key, no line break or tab");
        }
        if other(key, "label.", "help.").is_some() {
            continue;
        }
        let parts: Vec<&str> = key.split('.').collect();
        // The last part is always said.
        let like = parts[1..].iter().zip(&parts).zip(&before);
        let like = like.take_while(|((_, one), two)| one == two).count();
        let mut line = [".".repeat(like), parts[like..].join("."), " ".into()].concat();
        line += said;
        if let Some(label) = other(key, "help.", "label.") {
            line = [line, label.clone()].join("\t");
        }
        lines.push(line);
        before = parts;
    }
    Ok(lines.join("\n"))
}

/// The words of another language, a line for each key of English in its order; an empty
/// one where the words are the same. `matched` of `words.js` reads it.
///
/// # Errors
/// When one of the two is no catalogue, a key is missing or too many, or a line break would be taken for a mark.
pub(crate) fn beside(english: &str, json: &str) -> Result<String> {
    let english: BTreeMap<String, String> = serde_json::from_str(english)?;
    let mut words: BTreeMap<String, String> = serde_json::from_str(json)?;
    let mut lines = Vec::new();
    for (key, of) in &english {
        match words.remove(key) {
            Some(said) if said == *of => lines.push(String::new()),
            Some(said) if said.is_empty() || said.contains('\n') => {
                bail!("{key}: neither empty nor with a line break");
            }
            Some(said) => lines.push(said),
            None => bail!("{key} is missing"),
        }
    }
    if let Some(key) = words.keys().next() {
        bail!("{key}: English has none");
    }
    Ok(lines.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace;

    /// As `unfoldWords` of `words.js` does.
    fn unfolded(text: &str) -> BTreeMap<String, String> {
        let mut words = BTreeMap::new();
        let mut before: Vec<String> = Vec::new();
        for line in text.lines() {
            let (name, said) = line.split_once(' ').unwrap();
            let dots = name.bytes().take_while(|byte| *byte == b'.').count();
            before.truncate(dots);
            before.extend(name[dots..].split('.').map(str::to_owned));
            let key = before.join(".");
            let (said, label) = said.split_once('\t').unwrap_or((said, ""));
            if !label.is_empty() {
                words.insert(key.replacen("help.", "label.", 1), label.to_owned());
            }
            words.insert(key, said.to_owned());
        }
        words
    }

    #[test]
    fn a_folded_catalogue_holds_every_word() {
        let file = workspace::root().join("www/texts/en.json");
        let english = std::fs::read_to_string(file).unwrap();
        for json in [
            english.as_str(),
            "{}",
            r#"{"a":"1","a.b":"2","a.b.c":"","b.c":"\"x\"","help.a":"y","label.a":"z","label.b":"w"}"#,
        ] {
            let words: BTreeMap<String, String> = serde_json::from_str(json).unwrap();
            let small = folded(json).unwrap();
            assert_eq!(unfolded(&small), words);
        }
        assert!(folded(&english).unwrap().len() < english.len() * 4 / 5);
    }

    #[test]
    fn another_language_is_told_by_the_keys_of_english() {
        let [english, german] = ["en", "de"].map(|name| {
            let file = workspace::root().join(format!("www/texts/{name}.json"));
            std::fs::read_to_string(file).unwrap()
        });
        let lines = beside(&english, &german).unwrap();
        let keys: BTreeMap<String, String> = serde_json::from_str(&english).unwrap();
        let words: BTreeMap<String, String> = keys
            .into_iter()
            .zip(lines.split('\n'))
            .map(|((key, of), said)| (key, if said.is_empty() { of } else { said.to_owned() }))
            .collect();
        let wanted: BTreeMap<String, String> = serde_json::from_str(&german).unwrap();
        assert_eq!(words, wanted);
        for (other, amiss) in [
            (r#"{"a":"x"}"#, "b is missing"),
            (r#"{"a":"x","b":"y","c":"z"}"#, "c: English has none"),
            (r#"{"a":"x","b":""}"#, "b: neither empty"),
            (
                r#"{"a":"x\ny","b":"z"}"#,
                "a: neither empty nor with a line break",
            ),
        ] {
            let told = beside(r#"{"a":"1","b":"2"}"#, other)
                .unwrap_err()
                .to_string();
            assert!(told.starts_with(amiss), "{told}");
        }
    }

    #[test]
    fn marks_within_words_are_refused() {
        for json in [
            r#"{"a b":"c"}"#,
            r#"{".a":"c"}"#,
            r#"{"a":"b\nc"}"#,
            r#"{"a":"b\tc"}"#,
            r#"{"a":1}"#,
        ] {
            assert!(folded(json).is_err(), "{json}");
        }
    }
}
