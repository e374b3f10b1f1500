//! Where the workspace lies, and how its chores start other programs.

use std::ffi::OsStr;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};

/// The folder of the workspace's Cargo.toml.
pub(crate) fn root() -> PathBuf {
    // Cargo sets the variable at run time too; then a binary copied between clones still finds its own.
    let package = std::env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    package
        .ancestors()
        .nth(2)
        .map_or_else(|| package.clone(), Path::to_path_buf)
}

/// The finished site.
pub(crate) fn dist() -> PathBuf {
    root().join("dist")
}

/// Cargo's folder for what it builds.
pub(crate) fn target() -> PathBuf {
    // Every command of ours starts in the root, so a relative folder is meant from there.
    root().join(std::env::var_os("CARGO_TARGET_DIR").unwrap_or_else(|| "target".into()))
}

/// A command in the root of the workspace.
pub(crate) fn command(program: impl AsRef<OsStr>) -> Command {
    let mut command = Command::new(program);
    command.current_dir(root());
    command
}

/// The very cargo that runs this program, so that both use one compiler and one cache.
pub(crate) fn cargo() -> Command {
    command(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// First file of that name on the PATH.
pub(crate) fn on_path(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|folder| folder.join(format!("{name}{}", std::env::consts::EXE_SUFFIX)))
        .find(|file| file.is_file())
}

/// Runs a command to its end, its output going where ours goes.
///
/// # Errors
/// When it cannot be started or does not succeed; the message holds the command line.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let status = command.status().with_context(|| spell(command))?;
    if !status.success() {
        bail!("{} ended with {status}", spell(command));
    }
    Ok(())
}

/// Runs a command to its end and hands back what it wrote, showing none of it.
pub(crate) fn output_of(command: &mut Command) -> Result<String> {
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .with_context(|| spell(command))?;
    if !output.status.success() {
        bail!("{} ended with {}", spell(command), output.status);
    }
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}

/// Runs a command to its end, passing on each line it writes after showing it to `see`.
///
/// # Errors
/// As [`run`]; `see` has had every line by then.
pub(crate) fn run_seeing(command: &mut Command, mut see: impl FnMut(&str)) -> Result<()> {
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .with_context(|| spell(command))?;
    if let Some(stdout) = child.stdout.take() {
        let mut shown = std::io::stdout();
        for line in BufReader::new(stdout).split(b'\n') {
            let line = line?;
            let line = String::from_utf8_lossy(&line);
            writeln!(shown, "{line}")?;
            shown.flush()?;
            see(&line);
        }
    }
    let status = child.wait()?;
    if !status.success() {
        bail!("{} ended with {status}", spell(command));
    }
    Ok(())
}

/// Runs a cargo build command and hands back the files of `package` it made, `.rmeta` and the like included.
///
/// Asking cargo is the one way that holds for every setting of target folders.
pub(crate) fn built_files(command: &mut Command, package: &str) -> Result<Vec<PathBuf>> {
    let messages = output_of(command.arg("--message-format=json-render-diagnostics"))?;
    let mut files = Vec::new();
    for line in messages.lines() {
        let Ok(message) = serde_json::from_str::<serde_json::Value>(line) else {
            continue;
        };
        // `target.name` is the crate's or the binary's; the manifest names the package in every case.
        let of_package = message["manifest_path"].as_str().is_some_and(|path| {
            Path::new(path)
                .parent()
                .is_some_and(|p| p.ends_with(package))
        });
        if message["reason"] == "compiler-artifact" && of_package {
            let made = message["filenames"].as_array().into_iter().flatten();
            files.extend(made.filter_map(|name| name.as_str().map(PathBuf::from)));
        }
    }
    Ok(files)
}

/// The command line as one would type it.
pub(crate) fn spell(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words
        .map(|word| word.to_string_lossy().into_owned())
        .collect::<Vec<_>>()
        .join(" ")
}

/// An empty folder for a test, the same for each of its runs.
#[cfg(test)]
pub(crate) fn scratch(name: &str) -> PathBuf {
    let folder = target().join("xtask-tests").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}
