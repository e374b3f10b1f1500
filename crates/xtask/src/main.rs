//! The chores of the workspace: `cargo xtask serve`, `build`, `test`, `bench`, `account`, `golden`.

mod account;
mod bench;
mod browser;
mod debian;
mod join;
mod minify;
mod node;
mod order;
mod pack;
mod precache;
mod route;
mod rows;
mod samples;
mod serve;
mod site;
mod size;
mod spell;
mod test;
mod texts;
mod words;
mod workspace;

use std::process::ExitCode;

use anyhow::{Context, Result, bail};

fn help() -> String {
    format!(
        "cargo xtask CHORE

  serve [PORT]     build the site and serve it on this machine; the address is printed
                   (port 4173, or the next that is free). --no-build serves dist/ as it is
  build            build the optimised site into dist/, ready for any static host
  test [STEP...]   run all checks, or those named, stopping at the first that fails:
{steps}  bench [PART...]  measure the speed, in Chromium at full speed and slowed four times:
{parts}  account FILE     print the whole account of a design document as JSON; - reads standard input
  golden           draw the reference drawings anew; look at the difference before committing

What a chore needs and does not find it gets: the wasm target by rustup; where that does not
work, Debian's packages, if this is Debian and you are root. It says so first.

Variables:
  WASM_ROUTE=plain|debian   how Rust becomes wasm, instead of what is found first
  CHROMIUM, CHROMEDRIVER    the browser for the tests and its driver, instead of those found
",
        steps = list(test::step_list()),
        parts = list(bench::PARTS)
    )
}

fn list(entries: impl IntoIterator<Item = (&'static str, &'static str)>) -> String {
    let lines = entries
        .into_iter()
        .map(|(name, about)| format!("      {name:9} {about}\n"));
    lines.collect()
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match chore(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("error: {problem:#}");
            ExitCode::FAILURE
        }
    }
}

fn chore(words: &[String]) -> Result<()> {
    let (name, rest) = words
        .split_first()
        .map_or(("--help", [].as_slice()), |(name, rest)| (name, rest));
    if rest.iter().any(|word| word == "--help" || word == "-h") {
        print!("{}", help());
        return Ok(());
    }
    match (name, rest) {
        ("serve", _) => serve(rest),
        ("build", []) => site::build().map(drop),
        ("test", _) => test::run(rest),
        ("bench", _) => bench::run(rest),
        ("account", [file]) => account::print(file),
        ("golden", []) => golden(),
        ("--help" | "-h" | "help", _) => {
            print!("{}", help());
            Ok(())
        }
        _ => bail!("no such chore: {}\n\n{}", words.join(" "), help()),
    }
}

fn serve(words: &[String]) -> Result<()> {
    let mut port = None;
    let mut build = true;
    for word in words {
        match word.as_str() {
            "--no-build" => build = false,
            _ => {
                port = Some(
                    word.parse()
                        .with_context(|| format!("{word:?} is not a port number"))?,
                )
            }
        }
    }
    if build {
        site::build()?;
    }
    let site = serve::start(&workspace::dist(), port)?;
    println!(
        "\n  Battenwright is at  {}\n\n  Ctrl+C ends it.",
        site.address
    );
    site.wait();
    Ok(())
}

fn golden() -> Result<()> {
    let mut draw = workspace::cargo();
    draw.args(["test", "--locked", "-p", "battenwright-drawing"])
        .env("UPDATE_GOLDEN", "1");
    workspace::run(&mut draw)
}
