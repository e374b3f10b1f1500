//! How much a first visit downloads, against written budgets.

use std::io::Write;

use anyhow::{Context, Result, bail};

use crate::site::Files;
use crate::{precache, workspace};

const WASM: &str = "pkg/site_bg.wasm";

/// Bytes as they are, by gzip at its best, by brotli at its best.
#[derive(Clone, Copy, Default)]
struct Size {
    raw: usize,
    gzip: usize,
    brotli: usize,
}

/// Prints the sizes of what a visitor downloads.
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

    println!("{:>9} {:>9} {:>9}  bytes", "raw", "gzip", "brotli");
    let mut wasm = Size::default();
    let mut all = Size::default();
    for (name, bytes) in files.iter().filter(|(name, _)| downloaded(name)) {
        let size = measure(bytes)?;
        all = Size {
            raw: all.raw + size.raw,
            gzip: all.gzip + size.gzip,
            brotli: all.brotli + size.brotli,
        };
        if name == WASM {
            wasm = size;
        }
        print(name, size);
    }
    print("all", all);
    if wasm.raw == 0 {
        bail!("no {WASM} to weigh");
    }
    within("the wasm", wasm.gzip, budget("wasm_gzip_bytes")?)?;
    within("the whole download", all.gzip, budget("all_gzip_bytes")?)
}

fn downloaded(name: &str) -> bool {
    precache::page_needs(name) || name == "sw.js" || name == "precache.js"
}

fn print(name: &str, size: Size) {
    println!(
        "{:>9} {:>9} {:>9}  {name}",
        size.raw, size.gzip, size.brotli
    );
}

fn within(what: &str, bytes: usize, budget: usize) -> Result<()> {
    if bytes > budget {
        bail!("{what} is {bytes} bytes by gzip; the budget in tests/budgets.json is {budget}");
    }
    println!("{what}: {bytes} of {budget} bytes by gzip");
    Ok(())
}

fn measure(bytes: &[u8]) -> Result<Size> {
    let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    gzip.write_all(bytes)?;
    let settings = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 22,
        ..Default::default()
    };
    let mut brotli = Vec::new();
    brotli::BrotliCompress(&mut &*bytes, &mut brotli, &settings)?;
    Ok(Size {
        raw: bytes.len(),
        gzip: gzip.finish()?.len(),
        brotli: brotli.len(),
    })
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
        assert!(check(&files).unwrap_err().to_string().contains(WASM));
    }

    #[test]
    fn sizes_shrink_for_repetition_and_are_whole_files() {
        let size = measure(&b"reef ".repeat(1000)).unwrap();
        assert_eq!(size.raw, 5000);
        assert!(size.gzip < 100 && size.brotli < size.gzip);
        // An empty gzip file has 20 bytes: head 10, an empty block 2, check 8 (RFC 1952).
        assert_eq!(measure(b"").unwrap().gzip, 20);
    }
}
