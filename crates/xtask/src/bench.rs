//! `cargo xtask bench`: how fast it is, natively and in Chromium.

use anyhow::{Result, bail};

use crate::{browser, node, serve, site, workspace};

/// What can be measured, for `--help`; all but the first in Chromium.
pub(crate) const PARTS: [(&str, &str); 9] = [
    ("native", "the parts of the work on this machine"),
    ("work", "the same in wasm"),
    ("cloth", "patterns, sheets and nesting of a sail in wasm"),
    ("papers", "the PDF of everything in wasm"),
    ("links", "links that are meant to take long"),
    ("drag", "from a finger's move to the end of painting"),
    ("unpack", "the wasm out of its packing"),
    ("cache", "the first drawing from the service worker's cache"),
    ("visit", "a first visit over a slow line"),
];

/// Measures the parts named, or all, and prints; nothing here passes or fails, since a time depends
/// on the machine.
pub(crate) fn run(names: &[String]) -> Result<()> {
    if let Some(unknown) = names
        .iter()
        .find(|name| PARTS.iter().all(|(part, _)| part != name))
    {
        let parts = PARTS.map(|(part, _)| part).join(", ");
        bail!("nothing called {unknown:?} is measured; there are {parts}");
    }
    let wanted = |part: &str| names.is_empty() || names.iter().any(|name| name == part);
    println!("{}", machine());
    if wanted("native") {
        println!("\n== native");
        let mut native = workspace::cargo();
        native.args([
            "bench",
            "--quiet",
            "--locked",
            "-p",
            "battenwright-design",
            "--bench",
            "*",
        ]);
        workspace::run(&mut native)?;
    }
    let in_browser: Vec<_> = PARTS[1..]
        .iter()
        .map(|(part, _)| *part)
        .filter(|part| wanted(part))
        .collect();
    if in_browser.is_empty() {
        return Ok(());
    }
    site::build()?;
    let module = serve::start(&site::build_for_measuring()?, Some(0))?;
    let page = serve::start(&workspace::dist(), Some(0))?;
    println!("\n== Chromium");
    let mut speed = node::node()?;
    speed
        .arg("bench/speed.mjs")
        .args(in_browser)
        .env("CHROMIUM", browser::chromium()?)
        .env("SITE_ADDRESS", &page.address)
        .env("MODULE_ADDRESS", &module.address);
    workspace::run(&mut speed)
}

/// What figures are worth nothing without: the machine and the day.
fn machine() -> String {
    let cpu = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = cpu
        .lines()
        .find_map(|line| line.strip_prefix("model name")?.split(": ").nth(1));
    let cores = std::thread::available_parallelism().map_or(0, usize::from);
    let rustc =
        workspace::output_of(workspace::command("rustc").arg("--version")).unwrap_or_default();
    let date =
        workspace::output_of(workspace::command("date").arg("+%Y-%m-%d %H:%M")).unwrap_or_default();
    format!(
        "{}, {cores} cores, {} {}; {}; {}",
        model.unwrap_or("unnamed processor").trim(),
        std::env::consts::OS,
        std::env::consts::ARCH,
        rustc.trim(),
        date.trim()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unknown_part_is_refused_before_anything_is_built() {
        let problem = run(&["darg".to_owned()]).unwrap_err().to_string();
        assert!(
            problem.contains("darg") && problem.contains("drag"),
            "{problem}"
        );
    }
}
