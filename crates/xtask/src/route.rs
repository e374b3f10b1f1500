//! The two routes from Rust to wasm.
//!
//! *Plain*: the compiler in use has the wasm target, or rustup can add it. *Debian*: rustup is not
//! there or its server does not hand the target out, so Debian's compiler builds the standard
//! library from Debian's source. `WASM_ROUTE=plain` or `WASM_ROUTE=debian` forces one.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Result, bail};

use crate::{debian, workspace};

pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

/// What the Debian route needs. The linker is a package of its own there.
const PACKAGES: [&str; 4] = ["rustc-web", "cargo-web", "rust-web-src", "lld-22"];

/// The workspace's `rust-version`: an older Debian compiler is as good as none.
const LEAST_MINOR: u32 = 95;

/// A way to build for wasm that was found to be ready.
#[derive(Debug, PartialEq)]
pub(crate) enum Route {
    /// The cargo and compiler in use.
    Plain,
    /// Debian's, with this linker.
    Debian {
        /// `/usr/bin/wasm-ld-NN`
        linker: PathBuf,
    },
}

impl Route {
    /// Finds a route, preparing one where none is ready. Tried in this order: the target is here;
    /// rustup adds it; Debian's compiler is here; apt brings it.
    ///
    /// # Errors
    /// When none can be had; the message says what to do.
    pub(crate) fn find() -> Result<Self> {
        let forced = std::env::var("WASM_ROUTE").unwrap_or_default();
        match forced.as_str() {
            "" => plain().or_else(debian_here).map_or_else(debian_by_apt, Ok),
            "plain" => match plain() {
                Some(route) => Ok(route),
                None => bail!(
                    "WASM_ROUTE=plain, but this compiler has no {TARGET} and rustup did not add it"
                ),
            },
            "debian" => debian_here().map_or_else(debian_by_apt, Ok),
            _ => bail!("WASM_ROUTE is {forced:?}; it may be plain or debian"),
        }
    }

    /// A cargo that can build for [`TARGET`]; add the subcommand and `--target`.
    pub(crate) fn cargo(&self) -> Command {
        match self {
            Self::Plain => workspace::cargo(),
            Self::Debian { linker } => {
                let mut cargo = workspace::command("/usr/bin/cargo");
                for (name, _) in std::env::vars_os() {
                    if name.to_str().is_some_and(belongs_to_other_toolchain) {
                        cargo.env_remove(name);
                    }
                }
                cargo
                    .env("RUSTC", "/usr/bin/rustc")
                    .env("RUSTDOC", "/usr/bin/rustdoc")
                    // For this command only: in a committed configuration these would touch host builds too.
                    .env("RUSTC_BOOTSTRAP", "1")
                    .env("CARGO_UNSTABLE_BUILD_STD", "std,panic_abort")
                    .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker)
                    .env("CARGO_TARGET_DIR", workspace::target().join("wasm-debian"));
                if let Some(folder) = std::env::var_os("CARGO_BUILD_BUILD_DIR") {
                    let folder = PathBuf::from(folder).join("wasm-debian");
                    cargo.env("CARGO_BUILD_BUILD_DIR", folder);
                }
                cargo
            }
        }
    }

    /// For people.
    pub(crate) fn name(&self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Debian { .. } => "debian",
        }
    }
}

/// Settings of the toolchain that runs this program, which mislead the other one.
fn belongs_to_other_toolchain(name: &str) -> bool {
    const KEPT: [&str; 4] = [
        "CARGO_HOME",
        "CARGO_NET_",
        "CARGO_HTTP_",
        "CARGO_TERM_COLOR",
    ];
    (name.starts_with("CARGO") || name.starts_with("RUST") || name == "LD_LIBRARY_PATH")
        && !KEPT.iter().any(|kept| name.starts_with(kept))
}

fn plain() -> Option<Route> {
    if target_is_here() {
        return Some(Route::Plain);
    }
    workspace::on_path("rustup")?;
    println!("adding the {TARGET} target by rustup");
    let mut rustup = workspace::command("rustup");
    rustup.args(["target", "add", TARGET]);
    // Its refusal is no failure of ours, so one line of it will do.
    match rustup.env_remove("RUST_BACKTRACE").output() {
        Ok(answer) if answer.status.success() => {}
        Ok(answer) => println!("rustup: {}", refusal(&answer.stderr)),
        Err(problem) => println!("rustup: {problem}"),
    }
    target_is_here().then_some(Route::Plain)
}

fn refusal(stderr: &[u8]) -> String {
    let text = String::from_utf8_lossy(stderr);
    let line = text.lines().find(|line| line.contains("error"));
    line.or(text.lines().next()).unwrap_or_default().to_owned()
}

/// Whether the compiler in use has the target's library. It names the folder even when it is not there.
fn target_is_here() -> bool {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let asked = workspace::output_of(workspace::command(rustc).args([
        "--print",
        "target-libdir",
        "--target",
        TARGET,
    ]));
    asked.is_ok_and(|folder| holds_core(Path::new(folder.trim())))
}

fn holds_core(folder: &Path) -> bool {
    let Ok(files) = folder.read_dir() else {
        return false;
    };
    files
        .filter_map(Result::ok)
        .any(|file| file.file_name().to_string_lossy().starts_with("libcore-"))
}

fn debian_here() -> Option<Route> {
    let compiler =
        workspace::output_of(workspace::command("/usr/bin/rustc").arg("--version")).ok()?;
    let ready = minor_version(&compiler)? >= LEAST_MINOR
        && Path::new("/usr/bin/cargo").exists()
        && Path::new("/usr/lib/rustlib/src").exists();
    let linker = newest_linker(Path::new("/usr/bin"))?;
    ready.then_some(Route::Debian { linker })
}

fn debian_by_apt() -> Result<Route> {
    let purpose = format!("Rust for {TARGET} (no target by rustup)");
    if !debian::is_debian() {
        bail!(
            "no way to build for {TARGET} here.\n\
             With rustup: rustup target add {TARGET}\n\
             Without: install your system's Rust (1.{LEAST_MINOR} or later) together with its {TARGET} library."
        );
    }
    debian::install(&PACKAGES, &purpose)?;
    match debian_here() {
        Some(route) => Ok(route),
        None => bail!(
            "{purpose}: {} are installed, yet /usr/bin lacks a fitting rustc, cargo or wasm-ld",
            PACKAGES.join(", ")
        ),
    }
}

/// 96 of "rustc 1.96.0 (…)".
fn minor_version(text: &str) -> Option<u32> {
    text.strip_prefix("rustc 1.")?
        .split('.')
        .next()?
        .parse()
        .ok()
}

fn newest_linker(folder: &Path) -> Option<PathBuf> {
    let versions = folder.read_dir().ok()?.filter_map(|file| {
        let name = file.ok()?.file_name().into_string().ok()?;
        name.strip_prefix("wasm-ld-")?.parse::<u32>().ok()
    });
    versions
        .max()
        .map(|version| folder.join(format!("wasm-ld-{version}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn environment_of_the_other_toolchain_is_left_out_and_the_users_own_kept() {
        for name in [
            "CARGO",
            "CARGO_PKG_NAME",
            "CARGO_MANIFEST_DIR",
            "RUSTFLAGS",
            "RUSTUP_TOOLCHAIN",
            "LD_LIBRARY_PATH",
        ] {
            assert!(belongs_to_other_toolchain(name), "{name}");
        }
        for name in [
            "CARGO_HOME",
            "CARGO_NET_OFFLINE",
            "CARGO_TERM_COLOR",
            "PATH",
            "HOME",
        ] {
            assert!(!belongs_to_other_toolchain(name), "{name}");
        }
    }

    #[test]
    fn debian_version_is_read_and_least_version_is_the_workspaces() {
        assert_eq!(minor_version("rustc 1.96.0 (ab 2026-05-01)\n"), Some(96));
        assert_eq!(minor_version("error: no such command"), None);
        let manifest = std::fs::read_to_string(workspace::root().join("Cargo.toml")).unwrap();
        assert!(manifest.contains(&format!("rust-version = \"1.{LEAST_MINOR}\"")));
    }

    #[test]
    fn newest_linker_is_by_number_not_by_letter() {
        let folder = workspace::scratch("newest-linker");
        assert_eq!(newest_linker(&folder), None);
        for name in [
            "wasm-ld-9",
            "wasm-ld-22",
            "wasm-ld-19",
            "wasm-ld-old",
            "ld.lld-30",
        ] {
            std::fs::write(folder.join(name), "").unwrap();
        }
        assert_eq!(newest_linker(&folder), Some(folder.join("wasm-ld-22")));
    }

    #[test]
    fn target_folder_counts_only_with_the_library_in_it() {
        let folder = workspace::scratch("target-folder");
        assert!(!holds_core(&folder.join("missing")));
        assert!(!holds_core(&folder));
        std::fs::write(folder.join("libcore-0123.rlib"), "").unwrap();
        assert!(holds_core(&folder));
    }
}
