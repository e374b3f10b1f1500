//! Debian packages: asked for by the chores that need them, never in silence.

use anyhow::{Result, bail};

use crate::workspace::{command, run};

/// Whether packages can come from apt at all.
pub(crate) fn is_debian() -> bool {
    std::path::Path::new("/etc/debian_version").exists()
}

/// Whether this is Debian itself; a relative may ship some of the same names as empty shells.
pub(crate) fn is_debian_proper() -> bool {
    let release = std::fs::read_to_string("/etc/os-release").unwrap_or_default();
    is_debian() && release.lines().any(|line| line == "ID=debian")
}

/// Installs packages, saying so first.
///
/// # Errors
/// When this user may not: the message then holds the command to give. When apt fails.
pub(crate) fn install(packages: &[&str], purpose: &str) -> Result<()> {
    if !is_root() {
        bail!(
            "{purpose}: these Debian packages are missing. Install them with\n  sudo sh -c '{}'",
            spelled(packages)
        );
    }
    println!(
        "{purpose}: installing Debian packages\n  {}",
        spelled(packages)
    );
    run(apt().args(["update", "-qq"]))?;
    run(apt()
        .args(["install", "-qq", "-y", "--no-install-recommends"])
        .args(packages))
}

/// Whether packages can be installed here without asking anyone.
pub(crate) fn may_install() -> bool {
    is_debian() && is_root()
}

fn spelled(packages: &[&str]) -> String {
    let packages = packages.join(" ");
    format!("apt-get update && apt-get install -y --no-install-recommends {packages}")
}

fn apt() -> std::process::Command {
    let mut apt = command("apt-get");
    apt.env("DEBIAN_FRONTEND", "noninteractive")
        .args(["-o", "Dpkg::Use-Pty=0"]);
    apt
}

#[cfg(unix)]
fn is_root() -> bool {
    use std::os::unix::fs::MetadataExt;
    // The owner of our own entry: the one way to the user's number without unsafe code.
    std::fs::metadata("/proc/self").is_ok_and(|entry| entry.uid() == 0)
}

#[cfg(not(unix))]
fn is_root() -> bool {
    false
}
