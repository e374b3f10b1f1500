//! `cargo xtask account FILE`: all that is to be known about a design, as JSON, without a browser.

use std::io::{ErrorKind, Read, Write};

use anyhow::{Context, Result, bail};
use design::Document;
use quantities::{Catalogue, Problem, Units};
use serde_json::{Value, json};

/// Prints the account of the design document in a file; `-` reads the standard input.
///
/// # Errors
/// The file cannot be read, or is no design this version opens; the message then names the path
/// inside the document.
pub(crate) fn print(file: &str) -> Result<()> {
    let mut text = String::new();
    if file == "-" {
        std::io::stdin().read_to_string(&mut text)?;
    } else {
        // Cargo starts us in the folder the user stands in, so a relative name is the user's.
        text = std::fs::read_to_string(file).with_context(|| file.to_owned())?;
    }
    let account = account(&text).with_context(|| file.to_owned())?;
    match writeln!(std::io::stdout(), "{account:#}") {
        // The reader, `head` say, has seen enough.
        Err(problem) if problem.kind() == ErrorKind::BrokenPipe => Ok(()),
        result => Ok(result?),
    }
}

/// The account with the problems of the reading before its own.
fn account(text: &str) -> Result<Value> {
    let document = match Document::open(text) {
        Ok(document) => document,
        Err(problem) => bail!("{}: {}", place(&problem), words(&problem)),
    };
    let mut account = serde_json::to_value(design::account(document.design()))?;
    let reading = document.problems().iter().map(|problem| {
        json!({ "path": problem.path, "text": words(problem), "refused": problem.refused })
    });
    match account["problems"].as_array_mut() {
        Some(problems) => drop(problems.splice(0..0, reading)),
        None => bail!("the account came without its list of problems"),
    }
    Ok(account)
}

fn place(problem: &Problem) -> &str {
    if problem.path.is_empty() {
        "the document"
    } else {
        &problem.path
    }
}

fn words(problem: &Problem) -> String {
    Catalogue::english().say(&problem.text, Units::METRIC)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn account_of_each_demo_has_no_problems_and_an_area_that_is_its_panels() {
        for demo in design::demos() {
            let account = account(&demo.text()).unwrap();
            assert_eq!(account["problems"], json!([]), "{}", demo.key);
            let sail = |mast: &Value| {
                let panels = mast["figures"]["panel_areas"].as_array().unwrap();
                panels
                    .iter()
                    .map(|area| area.as_f64().unwrap())
                    .sum::<f64>()
            };
            let panels: f64 = account["masts"].as_array().unwrap().iter().map(sail).sum();
            let area = account["rig"]["area"].as_f64().unwrap();
            assert!(
                panels > 1.0 && (area - panels).abs() < 1e-9,
                "{}: {area}, {panels}",
                demo.key
            );
        }
    }

    #[test]
    fn problem_of_the_reading_stands_in_the_account() {
        let mut tree: Value = serde_json::from_str(&design::demos()[0].text()).unwrap();
        tree["boat"]["loa_m"] = json!(-4.0);
        let account = account(&tree.to_string()).unwrap();
        let problems = account["problems"].as_array().unwrap();
        assert!(
            problems
                .iter()
                .any(|problem| problem["path"] == "boat.loa_m"),
            "{problems:?}"
        );
    }

    #[test]
    fn wrong_type_is_refused_with_its_path() {
        let mut tree: Value = serde_json::from_str(&design::demos()[0].text()).unwrap();
        tree["boat"]["loa_m"] = json!("long");
        let problem = account(&tree.to_string()).unwrap_err().to_string();
        assert!(problem.contains("boat.loa_m"), "{problem}");
    }
}
