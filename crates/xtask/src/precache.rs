//! The list of files the service worker keeps, with their checksums.

use base64::Engine;
use sha2::{Digest, Sha256};

use crate::site::Files;

/// A classic script for `importScripts`: sets `self.precache` to the version and the files of the site.
///
/// The version is a checksum of the whole list, so it changes exactly when a listed file does.
/// Each `integrity` is what a fetch checks: a damaged file never enters the cache.
pub(crate) fn script(files: &Files) -> String {
    let list: Vec<_> = files
        .iter()
        .filter(|(name, _)| page_needs(name))
        .map(|(name, bytes)| {
            (
                address(name),
                format!("sha256-{}", base64(&Sha256::digest(bytes))),
            )
        })
        .collect();
    let mut all = Sha256::new();
    for (url, integrity) in &list {
        all.update(format!("{url} {integrity}\n"));
    }
    let version: String = all
        .finalize()
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect();

    let entries: Vec<_> = list
        .iter()
        .map(|(url, integrity)| format!("    {{ url: \"{url}\", integrity: \"{integrity}\" }}"))
        .collect();
    format!(
        "// Made by `cargo xtask build`.\nself.precache = {{\n  version: \"{version}\",\n  files: [\n{}\n  ],\n}};\n",
        entries.join(",\n")
    )
}

/// Types for `self.precache`, for the check of the service worker.
pub(crate) const TYPES: &str = "\
// Made by `cargo xtask build`.

/** What the service worker keeps: set by precache.js. */
declare var precache: { version: string; files: { url: string; integrity: string }[] };
";

/// Whether the running page loads the file. The worker's own scripts are kept by the browser;
/// declarations, the schema and licence texts are for people.
pub(crate) fn page_needs(name: &str) -> bool {
    let own = ["sw.js", "precache.js", "design.schema.json"];
    let for_people = [".d.ts", ".txt", ".md"];
    !own.contains(&name) && !for_people.iter().any(|end| name.ends_with(end))
}

/// The front page is asked for by its folder, and would be kept twice under its name as well.
fn address(name: &str) -> String {
    match name {
        "index.html" => "./".to_owned(),
        _ => format!("./{name}"),
    }
}

fn base64(bytes: &[u8]) -> String {
    base64::engine::general_purpose::STANDARD.encode(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site(index: &str) -> Files {
        let mut files = Files::new();
        for (name, text) in [
            ("index.html", index),
            ("main.js", "abc"),
            ("sw.js", "worker"),
            ("pkg/site.bin", "packed"),
            ("pkg/site.d.ts", "types"),
            ("design.schema.json", "{}"),
            ("fonts/LICENCE.txt", "open"),
        ] {
            files.insert(name.to_owned(), text.as_bytes().to_vec());
        }
        files
    }

    fn version(script: &str) -> &str {
        script
            .split("version: \"")
            .nth(1)
            .unwrap()
            .split('"')
            .next()
            .unwrap()
    }

    #[test]
    fn page_files_are_listed_and_nothing_else() {
        let script = script(&site("page"));
        let urls: Vec<_> = script
            .split("url: \"")
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap())
            .collect();
        assert_eq!(urls, ["./", "./main.js", "./pkg/site.bin"]);
    }

    #[test]
    fn checksum_is_the_published_one() {
        // SHA-256 of "abc": FIPS 180-2, appendix B.1, ba7816bf…f20015ad, here in base 64.
        assert!(
            script(&site("page")).contains("sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=")
        );
    }

    #[test]
    fn version_follows_the_contents() {
        let first = script(&site("page"));
        assert_eq!(version(&first), version(&script(&site("page"))));
        assert_ne!(version(&first), version(&script(&site("pagE"))));
        let mut renamed = site("page");
        let main = renamed.remove("main.js").unwrap();
        renamed.insert("entry.js".to_owned(), main);
        assert_ne!(version(&first), version(&script(&renamed)));
        let mut worker = site("page");
        worker.insert("sw.js".to_owned(), b"other".to_vec());
        assert_eq!(version(&first), version(&script(&worker)));
    }
}
