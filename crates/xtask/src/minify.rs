//! Comments, types, long names and blanks are for readers of the source: two fifths of the scripts'
//! download would be theirs.

use anyhow::{Result, bail};
use oxc_allocator::Allocator;
use oxc_codegen::{Codegen, CodegenOptions, CommentOptions};
use oxc_mangler::{MangleOptions, Mangler};
use oxc_parser::Parser;
use oxc_span::SourceType;

/// Loaded without `type="module"`, so their top-level names belong to the whole page or worker.
pub(crate) const CLASSIC: [&str; 3] = ["first.js", "sw.js", "unpack.js"];

/// It must be readable where the modules are not: its strings may not become template literals.
const OLDEST: &str = "first.js";

/// A script with short names and no blanks or comments; what it exports and its statements stay.
///
/// # Errors
/// When it is no JavaScript.
pub(crate) fn script(name: &str, text: &str) -> Result<String> {
    let kind = if CLASSIC.contains(&name) {
        SourceType::script()
    } else {
        SourceType::mjs()
    };
    let allocator = Allocator::default();
    let parsed = Parser::new(&allocator, text, kind).parse();
    if let Some(problem) = parsed.diagnostics.first() {
        bail!("{name}: {problem}");
    }
    let short = Mangler::new()
        .with_options(MangleOptions::default())
        .build(&parsed.program);
    let written = Codegen::new()
        .with_options(CodegenOptions {
            minify: name != OLDEST,
            comments: CommentOptions::disabled(),
            ..CodegenOptions::default()
        })
        .with_scoping(Some(short.scoping))
        .with_private_member_mappings(Some(short.class_private_mappings))
        .build(&parsed.program);
    Ok(written.code.to_string())
}

/// A style sheet without comments and without the blanks that nothing hangs on. A blank before a
/// colon is a descendant (`td :focus`), one beside a sign a sum: such stay.
pub(crate) fn styles(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = if rest.starts_with("/*") {
            rest.find("*/").map_or(rest.len(), |end| end + 2)
        } else if first == '"' || first == '\'' {
            quoted(rest, first)
        } else if first.is_whitespace() {
            rest.len() - rest.trim_start().len()
        } else {
            first.len_utf8()
        };
        let (piece, after) = rest.split_at(length);
        rest = after;
        if piece.starts_with("/*") || first.is_whitespace() {
            if !kept.ends_with(' ') {
                kept.push(' ');
            }
            continue;
        }
        if kept.ends_with(' ') {
            let before = kept.trim_end().chars().next_back();
            let free = before.is_none_or(|c| "{};,:(".contains(c)) || "{};,)!".contains(first);
            if free {
                kept.pop();
            }
        }
        if first == '}' && kept.ends_with(';') {
            kept.pop();
        }
        kept.push_str(piece);
    }
    kept.truncate(kept.trim_end().len());
    kept
}

/// The length of what begins with a quote, both quotes counted.
fn quoted(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        if c == quote && !escaped {
            return at + c.len_utf8();
        }
        escaped = c == '\\' && !escaped;
    }
    text.len()
}

/// A JSON text without blanks, its keys in their order by name.
///
/// # Errors
/// When it is no JSON.
pub(crate) fn json(text: &str) -> Result<String> {
    Ok(serde_json::from_str::<serde_json::Value>(text)?.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exports_and_properties_keep_their_names() {
        let text = "// Why.\nimport { say } from \"./words.js\";\n/** @param {string} key */\nexport function label(key) {\n  const text = say(key);\n  return { text, length: text.length };\n}\n";
        let small = script("views/label.js", text).unwrap();
        assert!(small.contains("export function label("), "{small}");
        assert!(small.contains("{say as "), "{small}");
        assert!(
            small.contains("{text:") && small.contains(".length"),
            "{small}"
        );
        assert!(
            !small.contains("Why") && !small.contains("key") && !small.contains('\n'),
            "{small}"
        );
    }

    #[test]
    fn classic_script_keeps_its_top_level_names() {
        let small = script("sw.js", "const version = self.precache.version;\n").unwrap();
        assert_eq!(small, "const version=self.precache.version;");
    }

    #[test]
    fn first_script_stays_in_the_oldest_syntax() {
        let text = "(function () {\n  /* why */\n  try { f(\"a\" + \"b\"); } catch (blocked) { /* no matter */ }\n})();\n";
        let small = script("first.js", text).unwrap();
        assert!(
            small.contains("\"a\" + \"b\"") && small.contains("catch ("),
            "{small}"
        );
        assert!(!small.contains("/*"), "{small}");
    }

    #[test]
    fn broken_script_is_an_error_that_names_the_file() {
        let problem = script("main.js", "const = 1;").unwrap_err().to_string();
        assert!(problem.starts_with("main.js: "), "{problem}");
    }

    #[test]
    fn styles_lose_comments_and_blanks() {
        for (text, small) in [
            (
                "/* Paper\n   and ink. */\nbody { margin: 0; } /* beside */\n",
                "body{margin:0}",
            ),
            (
                "@media (hover: hover) and (width > 1px) {\n  a, b { --x: 1px; }\n}",
                "@media (hover:hover) and (width > 1px){a,b{--x:1px}}",
            ),
            (
                "a { color: red !important; inset: 0 auto; }",
                "a{color:red!important;inset:0 auto}",
            ),
        ] {
            assert_eq!(styles(text), small);
        }
    }

    #[test]
    fn blanks_that_mean_something_stay() {
        for text in [
            "a{top:calc(1px + 2 * var(--x))}",
            ".entry ::placeholder{color:red}",
            "td :focus-visible{color:red}",
            "a > b,a + b{color:red}",
            "a{content:\"/* no  comment */ \\\"  \";margin:0}",
            ":root:not([data-scheme=light]){color:red}",
        ] {
            assert_eq!(styles(text), text);
        }
    }

    #[test]
    fn comment_parts_words() {
        assert_eq!(styles("a/**/ /**/b{margin:0/**/1px}"), "a b{margin:0 1px}");
    }

    #[test]
    fn catalogue_loses_blanks_between_its_entries_alone() {
        assert_eq!(
            json("{\n \"a\": \"x  y\",\n \"b\": \"é\"\n}\n").unwrap(),
            "{\"a\":\"x  y\",\"b\":\"é\"}"
        );
    }
}
