//! The catalogues as they are served: a quarter of their download were keys.

use std::collections::BTreeMap;

use anyhow::{Result, bail};

/// One JSON string of a catalogue, a flat JSON object of words. Each line is a key, a blank and its
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
    Ok(serde_json::Value::String(lines.join("\n")).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace;

    /// As `unfoldWords` of `words.js` does.
    fn unfolded(json: &str) -> BTreeMap<String, String> {
        let text: String = serde_json::from_str(json).unwrap();
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
