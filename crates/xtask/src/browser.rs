//! Finds the browsers the tests drive, or installs them where that may be done.

use std::path::PathBuf;

use anyhow::{Result, bail};

use crate::{debian, workspace};

/// Chromium or its sister. The variable CHROMIUM names another.
pub(crate) fn chromium() -> Result<PathBuf> {
    found_or_installed("Chromium", "CHROMIUM", || {
        from_variable("CHROMIUM")
            .or_else(|| {
                first_on_path(&[
                    "chromium",
                    "chromium-browser",
                    "google-chrome",
                    "google-chrome-stable",
                ])
            })
            .or_else(|| {
                let mac =
                    PathBuf::from("/Applications/Google Chrome.app/Contents/MacOS/Google Chrome");
                mac.exists().then_some(mac)
            })
    })
}

/// The program that steers Chromium for the wasm tests. The variable CHROMEDRIVER names another.
pub(crate) fn chromedriver() -> Result<PathBuf> {
    found_or_installed("ChromeDriver", "CHROMEDRIVER", || {
        from_variable("CHROMEDRIVER")
            // GitHub's machines name the folder.
            .or_else(|| from_variable("CHROMEWEBDRIVER").map(|folder| folder.join("chromedriver")))
            .or_else(|| first_on_path(&["chromedriver"]))
    })
}

fn found_or_installed(
    name: &str,
    variable: &str,
    find: impl Fn() -> Option<PathBuf>,
) -> Result<PathBuf> {
    if let Some(found) = find() {
        return Ok(found);
    }
    // On Debian's relatives the packages of these names hold no browser.
    if debian::is_debian_proper() {
        debian::install(&["chromium", "chromium-driver"], name)?;
    }
    match find() {
        Some(found) => Ok(found),
        None => bail!("{name} was not found. Install it, or name it: {variable}=/path/to/it"),
    }
}

/// WebKit with the program that steers it and a screen to paint on.
pub(crate) struct WebKit {
    /// WebKitGTK's small browser.
    pub(crate) browser: PathBuf,
    /// WebKitWebDriver
    pub(crate) driver: PathBuf,
    /// xvfb-run
    pub(crate) screen: PathBuf,
}

/// WebKit, or `None` where it is not there and cannot be installed.
pub(crate) fn webkit() -> Result<Option<WebKit>> {
    if let Some(found) = find_webkit() {
        return Ok(Some(found));
    }
    if !debian::may_install() {
        return Ok(None);
    }
    debian::install(&["webkit2gtk-driver", "xvfb", "xauth"], "WebKit")?;
    match find_webkit() {
        Some(found) => Ok(Some(found)),
        None => bail!(
            "WebKit's packages are installed, yet WebKitWebDriver, MiniBrowser or xvfb-run is not there"
        ),
    }
}

fn find_webkit() -> Option<WebKit> {
    let libraries = std::fs::read_dir("/usr/lib").ok()?.filter_map(Result::ok);
    let browser = libraries
        .flat_map(|folder| {
            ["4.1", "4.0"].map(|version| {
                folder
                    .path()
                    .join(format!("webkit2gtk-{version}/MiniBrowser"))
            })
        })
        .find(|browser| browser.is_file())?;
    Some(WebKit {
        browser,
        driver: workspace::on_path("WebKitWebDriver")?,
        screen: workspace::on_path("xvfb-run")?,
    })
}

fn from_variable(name: &str) -> Option<PathBuf> {
    std::env::var_os(name)
        .filter(|value| !value.is_empty())
        .map(PathBuf::from)
}

fn first_on_path(names: &[&str]) -> Option<PathBuf> {
    names.iter().find_map(|name| workspace::on_path(name))
}
