//! Node's part: the browser journeys and the type check of the page live in tests/.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Result, bail};

use crate::workspace;

/// Node in tests/, with the packages of its lock file in place.
///
/// # Errors
/// When there is no Node, or the packages cannot be fetched.
pub(crate) fn node() -> Result<Command> {
    if workspace::on_path("node").is_none() {
        bail!(
            "Node 20 or later is needed for this: https://nodejs.org, or your system's package nodejs"
        );
    }
    install()?;
    let mut node = workspace::command("node");
    node.current_dir(folder());
    Ok(node)
}

fn folder() -> PathBuf {
    workspace::root().join("tests")
}

fn install() -> Result<()> {
    let wanted = std::fs::read(folder().join("package-lock.json"))?;
    // Our own copy: npm's is written even where an install broke off.
    let installed = folder().join("node_modules/.installed-lock.json");
    if std::fs::read(&installed).is_ok_and(|have| have == wanted) {
        return Ok(());
    }
    println!("installing Node packages into tests/node_modules");
    let mut npm = workspace::command(if cfg!(windows) { "npm.cmd" } else { "npm" });
    npm.current_dir(folder())
        .args(["ci", "--no-audit", "--no-fund"])
        // The system's browser is used.
        .env("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1");
    workspace::run(&mut npm)?;
    std::fs::write(installed, wanted)?;
    Ok(())
}
