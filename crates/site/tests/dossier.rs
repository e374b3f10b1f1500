//! The dossier as it is printed, without a browser; its PDF is read back by poppler, which may not complain.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::path::PathBuf;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

mod support;

use battenwright_site::bench::Bench;
use battenwright_site::rows::{PaperSheet, ViewGiven};
use battenwright_site::sources::SOURCES;
use design::Edit;
use quantities::Catalogue;
use support::DOSSIER as PARTS;

const DAY: &str = "27 November 2026";

fn parts(some: &[&str]) -> Vec<String> {
    some.iter().map(|part| (*part).to_owned()).collect()
}

fn demo(key: &str, units: &str) -> Bench {
    let demo = design::demos().iter().find(|demo| demo.key == key).unwrap();
    let opened = Bench::open(&demo.text(), Catalogue::english());
    let mut bench = opened.map_err(|(problem, _)| problem).unwrap();
    bench.set_view(ViewGiven {
        units: units.to_owned(),
        ..ViewGiven::default()
    });
    bench
}

/// A PDF on the disk.
struct Printed(PathBuf);

impl Drop for Printed {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

impl Printed {
    fn new(pdf: &[u8]) -> Self {
        static NUMBER: AtomicUsize = AtomicUsize::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("battenwright-dossier-{}-{number}.pdf", std::process::id());
        let path = std::env::temp_dir().join(name);
        std::fs::write(&path, pdf).unwrap();
        Self(path)
    }

    /// What one of poppler's tools says; a word of complaint is a failure.
    fn asked(&self, tool: &str, before: &[&str], after: &[&str]) -> String {
        let mut command = Command::new(tool);
        let output = command.args(before).arg(&self.0).args(after).output();
        let output = output.expect("poppler-utils is to be installed");
        let complaint = String::from_utf8_lossy(&output.stderr);
        assert!(
            output.status.success() && complaint.is_empty(),
            "{complaint}"
        );
        String::from_utf8(output.stdout).unwrap()
    }

    /// The words of every page, blanks of all kinds alike.
    fn pages(&self) -> Vec<String> {
        let text = self.asked("pdftotext", &["-layout"], &["-"]);
        let pages = text.split('\u{c}').map(|page| page.replace('\u{a0}', " "));
        let mut pages: Vec<String> = pages.collect();
        assert_eq!(pages.pop().as_deref(), Some(""));
        pages
    }

    /// Boxes round the words of every page [pt], and the words: left, right, top, bottom.
    fn boxes(&self) -> Vec<Vec<([f64; 4], String)>> {
        let text = self.asked("pdftotext", &["-bbox"], &["-"]);
        let pages = text.split("<page ").skip(1);
        let number = |line: &str, name: &str| {
            let from = line.split(&format!("{name}=\"")).nth(1).unwrap();
            from.split('"').next().unwrap().parse::<f64>().unwrap()
        };
        let word = |line: &str| {
            let place = ["xMin", "xMax", "yMin", "yMax"].map(|name| number(line, name));
            let words = line.split('>').nth(1).unwrap().split('<').next().unwrap();
            (place, words.to_owned())
        };
        let words = |page: &str| {
            page.lines()
                .filter(|line| line.contains("<word"))
                .map(word)
                .collect()
        };
        pages.map(words).collect()
    }
}

/// Words as the PDF can say them: letters of its code page, blanks alike.
fn plain(words: &str) -> Vec<String> {
    let encoded = drawing::pdf::encoded(words);
    let letters = encoded.iter().map(|byte| match byte {
        0x96 => '–',
        0x97 => '—',
        0x91 => '‘',
        0x92 => '’',
        0x93 => '“',
        0x94 => '”',
        0x85 => '…',
        0xa0 => ' ',
        other => char::from(*other),
    });
    let plain: String = letters.collect();
    plain.split_whitespace().map(str::to_owned).collect()
}

/// Every word of tables and notes.
fn said(sheets: &[PaperSheet]) -> Vec<String> {
    let mut all = Vec::new();
    for sheet in sheets {
        all.extend(plain(&sheet.title));
        for block in sheet.blocks.iter().filter(|block| block.kind != "drawing") {
            for words in block
                .heads
                .iter()
                .flatten()
                .chain(block.rows.iter().flatten())
            {
                all.extend(plain(words));
            }
            all.extend(plain(&block.title));
        }
    }
    all
}

#[test]
fn everything_said_on_the_sheets_is_in_the_pdf_of_every_demo_on_either_paper() {
    for (key, units, paper, size) in [
        ("grey-heron", "m", "a4", "595.276 x 841.89"),
        ("marsh-pippin", "ft", "letter", "612 x 792"),
        ("saltwort", "m", "letter", "612 x 792"),
        ("grey-heron", "ft", "letter", "612 x 792"),
    ] {
        let mut bench = demo(key, units);
        let all = parts(&PARTS);
        let printed = Printed::new(&bench.dossier_pdf(&all, paper, DAY, &[]));
        let (mut pages, boxes) = (printed.pages(), printed.boxes());
        for page in &mut pages {
            // More than its foot, and no cautions alone.
            assert!(page.split_whitespace().count() > 30, "{key}: {page}");
            let cautions = ["Preliminary design aid.", "Estimates", "Notes, balance"];
            let alone = cautions
                .iter()
                .any(|caution| page.trim_start().starts_with(caution));
            assert!(!alone, "{key}: {page}");
        }
        let count = pages.len();
        for (i, page) in pages.iter().enumerate() {
            assert!(page.contains(&format!("{} of {count}", i + 1)), "{page}");
            assert!(page.contains(DAY) && page.contains("Preliminary design aid:"));
        }
        let info = printed.asked("pdfinfo", &["-f", "1", "-l", "999"], &[]);
        let sizes = info
            .lines()
            .filter(|line| line.contains("size: "))
            .collect::<Vec<_>>();
        assert_eq!(
            sizes.iter().filter(|line| line.contains(size)).count(),
            count,
            "{info}"
        );

        // The contents lead to the pages that the parts begin on.
        let sheets = bench.dossier(&all);
        let (_, contents) = pages[0].split_once("Contents").unwrap();
        let lines = contents.lines().map(str::trim);
        let lines = lines.filter(|line| !line.is_empty());
        let mut told = 0;
        for (sheet, line) in sheets.iter().skip(1).zip(lines) {
            let title = sheet.title.replace('\u{a0}', " ");
            let number = line.strip_prefix(&title).unwrap().trim();
            let page = &pages[number.parse::<usize>().unwrap() - 1];
            assert!(page.trim_start().starts_with(&title), "{line}: {page}");
            told += 1;
        }
        assert!(told == sheets.len() - 1 && told > 7, "{told}");

        // Word by word: each as often as it is said.
        let mut found = std::collections::HashMap::<&str, i32>::new();
        for (_, word) in boxes.iter().flatten() {
            *found.entry(word).or_default() += 1;
        }
        let words = said(&bench.dossier(&all));
        assert!(words.len() > 2000);
        let mut missing = Vec::new();
        for word in &words {
            let word = word
                .replace('&', "&amp;")
                .replace('<', "&lt;")
                .replace('>', "&gt;");
            let word = word.replace('"', "&quot;").replace('\'', "&apos;");
            let known = found.get_mut(&*word).filter(|n| **n > 0);
            match known {
                Some(n) => *n -= 1,
                None => missing.push(word),
            }
        }
        assert!(missing.is_empty(), "{key}: {missing:?}");

        // Nothing in the margin of 12 mm, and nothing upon another of its line.
        let (width, height) = if paper == "a4" {
            (595.28, 841.89)
        } else {
            (612.0, 792.0)
        };
        let edge = 12.0 * 72.0 / 25.4 - 0.6;
        for ([left, right, top, bottom], word) in boxes.iter().flatten() {
            assert!(
                *left >= edge && *right <= width - edge,
                "{key}: {word} at {left} to {right}"
            );
            assert!(
                *top >= edge - 2.0 && *bottom <= height - edge + 4.0,
                "{key}: {word}"
            );
        }
    }
}

#[test]
fn heads_come_again_on_every_page_of_a_long_table() {
    let mut bench = demo("grey-heron", "m");
    let printed = Printed::new(&bench.dossier_pdf(&parts(&["cloth"]), "a4", DAY, &[]));
    let pages = printed.pages();
    let offsets: Vec<_> = pages
        .iter()
        .filter(|page| page.contains("Offsets, main"))
        .collect();
    assert!(offsets.len() > 1);
    for page in offsets {
        assert!(
            page.contains("Lower x") && page.contains("Upper y"),
            "{page}"
        );
    }
}

#[test]
fn chosen_parts_alone_and_an_empty_choice_is_one_blank_page() {
    let mut bench = demo("saltwort", "m");
    for part in PARTS {
        let sheets = bench.dossier(&parts(&[part]));
        assert!(
            !sheets.is_empty() && sheets.iter().all(|sheet| sheet.part == part),
            "{part}"
        );
        // Each has the cautions of all papers.
        for sheet in &sheets {
            let last = sheet.blocks.last().unwrap();
            let caution = Catalogue::english().word("page.caution.aid").to_owned();
            assert!(last.kind == "notes" && last.rows.last().unwrap()[0].starts_with(&caution));
        }
    }
    let both = bench.dossier(&parts(&["reefs", "plan"]));
    assert_eq!(
        both.iter().map(|sheet| sheet.part).collect::<Vec<_>>(),
        ["plan", "reefs"]
    );
    assert!(bench.dossier(&parts(&["no such part"])).is_empty());
    let printed = Printed::new(&bench.dossier_pdf(&[], "a4", DAY, &[]));
    assert!(
        printed
            .asked("pdfinfo", &[], &[])
            .contains("Pages:           1")
    );
}

/// The parrel table of a sail of twelve panels is too wide for a page: the spar's name stands in each of its parts.
#[test]
fn a_table_wider_than_a_page_stands_in_several_with_its_first_column() {
    let mut bench = demo("marsh-pippin", "ft");
    let edits = Edit::read_list(r#"[["masts.0.sail.panels",12]]"#).unwrap();
    bench.edit(&edits).unwrap();
    let sheets = bench.dossier(&parts(&["reefs"]));
    let tables: Vec<_> = (sheets[0].blocks.iter())
        .filter(|block| block.title.starts_with("Parrel heights"))
        .collect();
    assert!(tables.len() > 1);
    let mut states = 0;
    for table in &tables {
        assert_eq!(table.heads[0][0], "Spar");
        assert_eq!((table.rows.len(), &*table.rows[0][0]), (13, "Yard"));
        states += table
            .heads
            .iter()
            .filter(|[label, _]| label.ends_with("lowered"))
            .count();
        assert!(table.rows.iter().all(|row| row.len() == table.heads.len()));
    }
    assert_eq!(states, 13);
    let printed = Printed::new(&bench.dossier_pdf(&parts(&["reefs"]), "letter", DAY, &[]));
    assert!(
        printed
            .pages()
            .iter()
            .all(|page| page.contains("Cautions") || page.len() > 200)
    );
}

/// Names as long as they may be, of letters that no page has, of markup and of what a spreadsheet works out.
#[test]
fn hostile_names_are_set_within_the_page_and_are_no_formula() {
    let long = "W".repeat(300);
    for name in [
        &*long,
        "=HYPERLINK(\"x\")",
        "@x",
        "<b>漢字</b> \u{202e}(\\",
        "-1+1\r\n=2",
    ] {
        let mut bench = demo("grey-heron", "m");
        bench.edit(&[Edit::value("name", name.into())]).unwrap();
        bench
            .edit(&[Edit::value("masts.1.name", name.into())])
            .unwrap();
        bench.edit(&[Edit::value("note", name.into())]).unwrap();
        bench.dossier_pdf(&parts(&PARTS), "a4", DAY, &[1]);
        // A drawing is cut off at its own edge, which poppler does not tell: sheets without the sail plan.
        let tables = [
            "title",
            "particulars",
            "reefs",
            "cloth",
            "checks",
            "sources",
        ];
        let printed = Printed::new(&bench.dossier_pdf(&parts(&tables), "a4", DAY, &[1]));
        for ([left, right, ..], word) in printed.boxes().iter().flatten() {
            assert!(
                *left > 30.0 && *right < 566.0,
                "{word} from {left} to {right}"
            );
        }
        for part in PARTS {
            for line in bench.dossier_csv(part).lines() {
                for cell in line.split(',') {
                    let cell = cell.trim_start_matches('"');
                    // A measure: nothing in it to reckon with.
                    let number = cell.strip_prefix('-').is_some_and(|rest| {
                        rest.starts_with(|c: char| c.is_ascii_digit())
                            && !rest.contains(['+', '-', '*', '/', '^', '&', '=', '(', '|', '!'])
                    });
                    let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
                    assert!(!formula || number, "{part}: {cell}");
                }
            }
        }
    }
}

#[test]
fn a_sail_that_cannot_be_has_papers_without_it() {
    let mut bench = demo("marsh-pippin", "m");
    let edits = Edit::read_list(r#"[["masts.0.sail.chord_m",-1]]"#).unwrap();
    bench.edit(&edits).unwrap();
    let printed = Printed::new(&bench.dossier_pdf(&parts(&PARTS), "a4", DAY, &[]));
    let text = printed.pages().join(" ");
    assert!(text.contains("Particulars") && !text.contains("NaN"));
    let blank = Bench::open(&design::blank().text(), Catalogue::english());
    let mut blank = blank.map_err(|(problem, _)| problem).unwrap();
    let printed = Printed::new(&blank.dossier_pdf(&parts(&PARTS), "letter", "", &[]));
    assert!(printed.pages().len() > 5);
}

/// A code of a link is 0.5 mm a module: dots of 600 to the inch are counted.
#[test]
fn the_code_of_a_link_is_drawn_at_its_size() {
    let side = 41;
    let modules: Vec<u8> = (0..side * side).map(|at| u8::from(at % 2 == 0)).collect();
    let mut bench = demo("saltwort", "m");
    let printed = |code: &[u8], bench: &mut Bench| {
        let printed = Printed::new(&bench.dossier_pdf(&parts(&["sources"]), "a4", DAY, code));
        let dots = printed.0.with_extension("dots");
        printed.asked(
            "pdftoppm",
            &["-r", "600", "-gray", "-aa", "no", "-singlefile"],
            &[dots.to_str().unwrap()],
        );
        let path = dots.with_extension("dots.pgm");
        let bytes = std::fs::read(&path).unwrap();
        std::fs::remove_file(&path).unwrap();
        bytes[20..].iter().filter(|dot| **dot < 128).count() as f64
    };
    let light = vec![0; modules.len()];
    let more = printed(&modules, &mut bench) - printed(&light, &mut bench);
    let dark = modules.iter().filter(|dark| **dark == 1).count() as f64;
    let module = (0.5 * 600.0 / 25.4_f64).powi(2);
    assert!(
        (more / (dark * module) - 1.0).abs() < 0.05,
        "{more} of {}",
        dark * module
    );
    // What is no square of modules is left out.
    assert_eq!(printed(&modules[1..], &mut bench), printed(&[], &mut bench));
}

/// Every source a reader finds on paper is in DEVELOPERS.md by its key, and every key there is either told or a proof of the tests.
#[test]
fn sources_are_those_of_the_developers_page() {
    const OF_TESTS: [&str; 9] = [
        "geo",
        "arrete-2008",
        "wcag",
        "other-rope-tables",
        "clarabel",
        "workshop-receipts",
        "pynite",
        "iso-32000",
        "poppler-resvg",
    ];
    let page = include_str!("../../../DEVELOPERS.md");
    let table = page
        .split("## Sources")
        .nth(1)
        .unwrap()
        .split("\n## ")
        .next()
        .unwrap();
    let keys = table
        .lines()
        .filter_map(|line| line.strip_prefix("| ")?.split(" |").next());
    let mut told: Vec<String> = SOURCES
        .iter()
        .map(|source| source.word.replace("source.", ""))
        .collect();
    told.extend(OF_TESTS.map(str::to_owned));
    told.sort();
    let mut keys: Vec<String> = keys
        .filter(|key| *key != "key")
        .map(str::to_owned)
        .collect();
    keys.sort();
    assert_eq!(told, keys);
    let words = Catalogue::english();
    for source in SOURCES {
        assert_ne!(words.word(source.word), source.word);
        assert!(source.parts.chars().all(|part| "iprlscb".contains(part)));
    }
    let sheets = demo("saltwort", "m").dossier(&parts(&["cloth", "sources"]));
    let rows = sheets.last().unwrap().blocks[0].rows.clone();
    assert!(rows.iter().any(|row| row[1].contains("NASA TM-4741")));
    assert!(
        !rows
            .iter()
            .any(|row| row[1].contains("Passenger Yacht Code"))
    );
}
