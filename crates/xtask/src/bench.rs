//! `cargo xtask bench`: how fast it is, natively and in Chromium.

use anyhow::Result;

use crate::{browser, node, serve, site, workspace};

/// Measures and prints; nothing here passes or fails, since a time depends on the machine.
pub(crate) fn run() -> Result<()> {
    site::build()?;
    let measuring = site::build_for_measuring()?;
    println!("\n{}", machine());

    println!("\n== native");
    workspace::run(workspace::cargo().args([
        "bench",
        "--quiet",
        "--locked",
        "-p",
        "battenwright-design",
        "--bench",
        "*",
    ]))?;

    println!("\n== Chromium");
    let page = serve::start(&workspace::dist(), Some(0))?;
    let module = serve::start(&measuring, Some(0))?;
    let mut speed = node::node()?;
    speed
        .arg("bench/speed.mjs")
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
