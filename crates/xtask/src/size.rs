//! How much a first visit downloads, against written budgets.

use std::io::Write;

use anyhow::{Context, Result, bail};

use crate::site::{Files, PACKED};
use crate::{precache, workspace};

/// Prints the sizes of what a visitor downloads: as it is, by gzip and by brotli, each at its best.
///
/// # Errors
/// When the wasm or the whole, by gzip, is over its budget in tests/budgets.json.
pub(crate) fn check(files: &Files) -> Result<()> {
    let budgets = std::fs::read_to_string(workspace::root().join("tests/budgets.json"))?;
    let budgets: serde_json::Value = serde_json::from_str(&budgets)?;
    let budget = |name: &str| {
        let value = budgets[name]
            .as_u64()
            .with_context(|| format!("tests/budgets.json: {name}"))?;
        Ok::<_, anyhow::Error>(usize::try_from(value)?)
    };

    let names: Vec<&str> = files
        .keys()
        .map(String::as_str)
        .filter(|name| downloaded(name))
        .collect();
    let by_brotli = brotli_sizes(&names);
    let print = |raw: usize, gzip: usize, brotli: Option<usize>, name: &str| {
        let brotli = brotli.map_or_else(|| "-".to_owned(), |size| size.to_string());
        println!("{raw:>9} {gzip:>9} {brotli:>9}  {name}");
    };
    println!("{:>9} {:>9} {:>9}  bytes", "raw", "gzip", "brotli");
    let (mut wasm, mut all, mut raw) = (0, 0, 0);
    for (at, name) in names.iter().enumerate() {
        let bytes = &files[*name];
        let gzip = gzip_size(bytes)?;
        raw += bytes.len();
        all += gzip;
        if *name == PACKED {
            wasm = gzip;
        }
        print(bytes.len(), gzip, by_brotli.get(at).copied(), name);
    }
    print(
        raw,
        all,
        by_brotli.iter().copied().reduce(|sum, size| sum + size),
        "all",
    );
    if wasm == 0 {
        bail!("no {PACKED} to weigh");
    }
    within("the wasm", wasm, budget("wasm_gzip_bytes")?)?;
    within("the whole download", all, budget("all_gzip_bytes")?)
}

fn downloaded(name: &str) -> bool {
    precache::page_needs(name) || name == "sw.js" || name == "precache.js"
}

fn within(what: &str, bytes: usize, budget: usize) -> Result<()> {
    if bytes > budget {
        bail!("{what} is {bytes} bytes by gzip; the budget in tests/budgets.json is {budget}");
    }
    println!("{what}: {bytes} of {budget} bytes by gzip");
    Ok(())
}

fn gzip_size(bytes: &[u8]) -> Result<usize> {
    let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    gzip.write_all(bytes)?;
    Ok(gzip.finish()?.len())
}

/// By Node, which has it built in; none without Node, for no budget hangs on them.
fn brotli_sizes(names: &[&str]) -> Vec<usize> {
    const SCRIPT: &str = "for (const name of process.argv.slice(1))
        console.log(require('zlib').brotliCompressSync(require('fs').readFileSync(name)).length)";
    let mut node = workspace::command("node");
    node.current_dir(workspace::dist())
        .args(["-e", SCRIPT, "--"])
        .args(names);
    let sizes = workspace::output_of(&mut node).unwrap_or_default();
    sizes.lines().filter_map(|line| line.parse().ok()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn over_budget_is_an_error_that_names_both_numbers() {
        assert!(within("the wasm", 100, 100).is_ok());
        let problem = within("the wasm", 101, 100).unwrap_err().to_string();
        assert!(
            problem.contains("101") && problem.contains("100"),
            "{problem}"
        );
    }

    #[test]
    fn site_without_wasm_is_no_small_site() {
        let files = Files::from([("index.html".to_owned(), b"page".to_vec())]);
        assert!(check(&files).unwrap_err().to_string().contains(PACKED));
    }

    #[test]
    fn sizes_are_of_whole_gzip_files() {
        // An empty gzip file has 20 bytes: head 10, an empty block 2, check and length 8 (RFC 1952).
        assert_eq!(gzip_size(b"").unwrap(), 20);
        assert!(gzip_size(&b"reef ".repeat(1000)).unwrap() < 100);
    }
}
