//! `cargo xtask test`: every check there is, the quick ones first.

use std::process::Command;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};

use crate::route::{Route, TARGET};
use crate::{browser, debian, node, samples, serve, site, size, words, workspace};

/// One check of the list.
struct Step {
    name: &'static str,
    about: &'static str,
    run: fn() -> Result<Tally>,
}

/// In the order they run: what fails in seconds comes first.
const STEPS: [Step; 11] = [
    Step {
        name: "format",
        about: "rustfmt finds nothing to change",
        run: format,
    },
    Step {
        name: "words",
        about: "every word shown stands in the catalogue, and none for nothing",
        run: words,
    },
    Step {
        name: "lint",
        about: "clippy has no complaint",
        run: lint,
    },
    Step {
        name: "native",
        about: "Rust tests on this machine",
        run: native,
    },
    Step {
        name: "build",
        about: "the site builds into dist/",
        run: build,
    },
    Step {
        name: "size",
        about: "the download keeps to tests/budgets.json",
        run: size,
    },
    Step {
        name: "types",
        about: "the page's JavaScript passes the type check",
        run: types,
    },
    Step {
        name: "packing",
        about: "what the page unpacks is what was packed, and what is broken is refused",
        run: packing,
    },
    Step {
        name: "wasm",
        about: "Rust tests in headless Chromium",
        run: wasm,
    },
    Step {
        name: "journeys",
        about: "browser journeys, phone and desktop",
        run: journeys,
    },
    Step {
        name: "webkit",
        about: "the page works in WebKit",
        run: webkit,
    },
];

/// How many tests did what. A step that is one check counts as one test.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Tally {
    passed: u32,
    failed: u32,
    skipped: u32,
}

impl Tally {
    const ONE: Self = Self {
        passed: 1,
        failed: 0,
        skipped: 0,
    };
    const SKIPPED: Self = Self {
        passed: 0,
        failed: 0,
        skipped: 1,
    };

    fn add(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
        self.skipped += other.skipped;
    }
}

/// Names and meanings, for `--help`.
pub(crate) fn step_list() -> [(&'static str, &'static str); STEPS.len()] {
    STEPS.map(|step| (step.name, step.about))
}

/// Runs the steps named, or all, in the order of the list; stops at the first that fails.
pub(crate) fn run(names: &[String]) -> Result<()> {
    if let Some(unknown) = names
        .iter()
        .find(|name| STEPS.iter().all(|step| step.name != **name))
    {
        let steps = STEPS.map(|step| step.name).join(", ");
        bail!("there is no step {unknown:?}; the steps are {steps}");
    }
    let mut total = Tally::default();
    let mut times: Vec<(&str, Duration)> = Vec::new();
    let mut failure = None;
    for step in STEPS
        .iter()
        .filter(|step| names.is_empty() || names.iter().any(|name| name == step.name))
    {
        println!("\n== {}: {}", step.name, step.about);
        let began = Instant::now();
        let result = (step.run)();
        times.push((step.name, began.elapsed()));
        match result {
            Ok(tally) => {
                total.add(tally);
                println!(
                    "== {}: {} in {:.1} s",
                    step.name,
                    spell(tally),
                    began.elapsed().as_secs_f64()
                );
            }
            Err(problem) => {
                // Tests that failed one by one are in the problem; the step as a whole is one at least.
                let counted = problem
                    .downcast_ref::<Failed>()
                    .map_or(Tally::default(), |failed| failed.0);
                total.add(Tally {
                    failed: counted.failed.max(1),
                    ..counted
                });
                failure = Some(format!("step {} failed: {problem:#}", step.name));
                break;
            }
        }
    }
    println!("\ntimes:");
    for (name, time) in &times {
        println!("{:>8.1} s  {name}", time.as_secs_f64());
    }
    println!("{}", spell(total));
    match failure {
        Some(failure) => bail!("{failure}"),
        None => Ok(()),
    }
}

fn spell(tally: Tally) -> String {
    let skipped = if tally.skipped > 0 {
        format!(", {} skipped", tally.skipped)
    } else {
        String::new()
    };
    format!("{} passed, {} failed{skipped}", tally.passed, tally.failed)
}

fn format() -> Result<Tally> {
    workspace::run(workspace::cargo().args(["fmt", "--all", "--check"]))?;
    Ok(Tally::ONE)
}

fn words() -> Result<Tally> {
    words::check()?;
    Ok(Tally::ONE)
}

fn lint() -> Result<Tally> {
    let mut clippy = workspace::cargo();
    clippy.args([
        "clippy",
        "--quiet",
        "--locked",
        "--workspace",
        "--all-targets",
        "--all-features",
        "--",
        "-D",
        "warnings",
    ]);
    workspace::run(&mut clippy)?;
    Ok(Tally::ONE)
}

fn native() -> Result<Tally> {
    if workspace::on_path("pdftoppm").is_none() {
        debian::install(&["poppler-utils"], "Pages of patterns, looked at")?;
    }
    // Apart, so that the chores' dependencies are those already built to run this very program,
    // and without the test runner, which has no tests of its own and is long to build.
    let (chores, runner) = ("battenwright-xtask", "battenwright-wasm-test-runner");
    let mut product = workspace::cargo();
    product.args([
        "test",
        "--locked",
        "--workspace",
        "--all-features",
        "--exclude",
        chores,
        "--exclude",
        runner,
    ]);
    let mut tally = counted(&mut product, libtest_line)?;
    let mut own = workspace::cargo();
    own.args(["test", "--locked", "-p", chores]);
    tally.add(counted(&mut own, libtest_line)?);
    Ok(tally)
}

fn build() -> Result<Tally> {
    site::build()?;
    Ok(Tally::ONE)
}

fn size() -> Result<Tally> {
    size::check(&site::read(&workspace::dist()).context("cargo xtask build makes it")?)?;
    Ok(Tally::ONE)
}

fn types() -> Result<Tally> {
    // The worker's globals are not the page's, so it is a project of its own.
    for project in ["tsconfig.json", "tsconfig.sw.json"] {
        workspace::run(node::node()?.args(["node_modules/typescript/bin/tsc", "-p", project]))?;
    }
    Ok(Tally::ONE)
}

fn packing() -> Result<Tally> {
    let folder = workspace::target().join("packing");
    samples::write(&folder)?;
    let mut trial = node::node()?;
    trial
        .arg("packing/packing.mjs")
        .env("SAMPLES", folder)
        .env("UNPACKED", site::unpacked())
        .env("SITE", workspace::dist());
    counted(&mut trial, playwright_line)
}

fn wasm() -> Result<Tally> {
    let driver = browser::chromedriver()?;
    browser::chromium()?;
    // Built by the cargo in use on either route: the other one's would have it built a second time.
    let mut cargo = workspace::cargo();
    cargo.args(["build", "--locked", "-p", "battenwright-wasm-test-runner"]);
    let runner = workspace::built_files(&mut cargo, "crates/wasm-test-runner")?;
    let runner = runner
        .first()
        .context("the wasm test runner was not built")?;

    let mut test = Route::find()?.cargo();
    test.args([
        "test",
        "--locked",
        "-p",
        "battenwright-site",
        "--tests",
        // The features are there for the tests.
        "--all-features",
        "--target",
        TARGET,
    ])
    .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", runner)
    .env("CHROMEDRIVER", driver)
    .env("WASM_BINDGEN_TEST_TIMEOUT", "60");
    counted(&mut test, libtest_line)
}

fn journeys() -> Result<Tally> {
    let site = serve::start(&workspace::dist(), Some(0))?;
    let mut playwright = node::node()?;
    playwright
        .args(["node_modules/@playwright/test/cli.js", "test"])
        .env("CHROMIUM", browser::chromium()?)
        .env("SITE_ADDRESS", &site.address);
    counted(&mut playwright, playwright_line)
}

fn webkit() -> Result<Tally> {
    let Some(webkit) = browser::webkit()? else {
        println!(
            "WebKit is not here, and only root on Debian may install it (webkit2gtk-driver, xvfb, xauth): \
             the page was not tried in it."
        );
        return Ok(Tally::SKIPPED);
    };
    let site = serve::start(&workspace::dist(), Some(0))?;
    let mut smoke = node::node()?;
    smoke
        .arg("webkit/smoke.mjs")
        .env("SITE_ADDRESS", &site.address)
        .env("WEBKIT_BROWSER", webkit.browser)
        .env("WEBKIT_DRIVER", webkit.driver)
        .env("WEBKIT_SCREEN", webkit.screen);
    counted(&mut smoke, playwright_line)
}

/// A failure that knows its tests.
#[derive(Debug)]
struct Failed(Tally, String);

impl std::fmt::Display for Failed {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} ({})", self.1, spell(self.0))
    }
}

impl std::error::Error for Failed {}

/// Runs tests, counting by what their lines say. A run without a single test is a failure.
fn counted(command: &mut Command, line_tally: fn(&str) -> Tally) -> Result<Tally> {
    let mut tally = Tally::default();
    let result = workspace::run_seeing(command, |line| tally.add(line_tally(line)));
    if let Err(problem) = result {
        return Err(Failed(tally, format!("{problem:#}")).into());
    }
    if tally.passed == 0 || tally.failed > 0 {
        return Err(Failed(
            tally,
            format!("{} ran no good test", workspace::spell(command)),
        )
        .into());
    }
    Ok(tally)
}

/// `test result: ok. 5 passed; 0 failed; 1 ignored; …`
fn libtest_line(line: &str) -> Tally {
    let mut tally = Tally::default();
    if let Some((_, counts)) = line
        .strip_prefix("test result: ")
        .and_then(|rest| rest.split_once(". "))
    {
        for count in counts.split(';') {
            tally.add(number_and_word(count));
        }
    }
    tally
}

/// `  5 passed (6.5s)`, `  1 failed`, `  2 skipped`, each in a line of its own.
fn playwright_line(line: &str) -> Tally {
    let words = line.split(" (").next().unwrap_or_default();
    number_and_word(words)
}

fn number_and_word(text: &str) -> Tally {
    let mut tally = Tally::default();
    if let Some((Ok(number), word)) = text
        .trim()
        .split_once(' ')
        .map(|(number, word)| (number.parse(), word))
    {
        match word {
            // A flaky one passed when tried again, which only CI does; its name is in the list above.
            "passed" | "flaky" => tally.passed = number,
            "failed" | "interrupted" => tally.failed = number,
            "ignored" | "skipped" | "did not run" => tally.skipped = number,
            _ => {}
        }
    }
    tally
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tally(passed: u32, failed: u32, skipped: u32) -> Tally {
        Tally {
            passed,
            failed,
            skipped,
        }
    }

    #[test]
    fn rust_test_lines_are_counted() {
        let line = "test result: FAILED. 5 passed; 2 failed; 1 ignored; 0 measured; 3 filtered out; finished in 0.00s";
        assert_eq!(libtest_line(line), tally(5, 2, 1));
        assert_eq!(libtest_line("test sail::area ... ok"), Tally::default());
        assert_eq!(libtest_line("test result: unheard of"), Tally::default());
    }

    #[test]
    fn journey_lines_are_counted() {
        assert_eq!(playwright_line("  12 passed (6.5s)"), tally(12, 0, 0));
        assert_eq!(playwright_line("  1 failed"), tally(0, 1, 0));
        assert_eq!(playwright_line("  1 flaky"), tally(1, 0, 0));
        assert_eq!(playwright_line("  3 did not run"), tally(0, 0, 3));
        assert_eq!(
            playwright_line("12 passed tests of the day"),
            Tally::default()
        );
    }

    #[test]
    fn run_without_tests_is_a_failure() {
        let mut none = Command::new("rustc");
        let problem = counted(none.arg("--version"), libtest_line).unwrap_err();
        assert_eq!(
            problem.downcast_ref::<Failed>().unwrap().0,
            Tally::default()
        );
    }

    #[test]
    fn unknown_step_is_refused_with_the_list_of_steps() {
        let problem = run(&["jorneys".to_owned()]).unwrap_err().to_string();
        assert!(
            problem.contains("jorneys") && problem.contains("journeys"),
            "{problem}"
        );
    }
}
