//! Comments and types are for readers of the source: a quarter of the scripts' download would be theirs.

/// The text of a script or a style sheet without the lines that hold nothing but a comment. Comments
/// beside code stay, and so does every line of a template literal.
pub(crate) fn without(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut in_comment = false;
    let mut in_template = false;
    for line in text.split_inclusive('\n') {
        let bare = line.trim();
        if in_comment {
            in_comment = !bare.ends_with("*/");
            continue;
        }
        if !in_template {
            if bare.starts_with("//") {
                continue;
            }
            if bare.starts_with("/*") {
                match bare.find("*/") {
                    None => {
                        in_comment = true;
                        continue;
                    }
                    Some(end) if end + 2 == bare.len() => continue,
                    Some(_) => {}
                }
            }
        }
        in_template ^= line.matches('`').count() % 2 == 1;
        kept.push_str(line);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::without;

    #[test]
    fn lines_of_comment_alone_go() {
        let text = "/**\n * What it is.\n * @param {string} key\n */\nexport function say(key) {\n  // Why.\n  return key; // beside\n}\n/* one line */\n";
        assert_eq!(
            without(text),
            "export function say(key) {\n  return key; // beside\n}\n"
        );
    }

    #[test]
    fn code_after_or_within_stays() {
        for text in [
            "const a = /** @type {string} */ (b);\n",
            "/** @type {string} */ let a = b;\n",
            "const page = `\n// no comment\n/* nor this */\n`;\n",
            "const address = \"https://example.invalid/*\";\n",
        ] {
            assert_eq!(without(text), text);
        }
    }

    #[test]
    fn styles_lose_theirs_too() {
        let text = "/* Paper\n   and ink. */\nbody { margin: 0; } /* beside */\n";
        assert_eq!(without(text), "body { margin: 0; } /* beside */\n");
    }
}
