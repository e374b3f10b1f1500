//! How long the papers of a seven-panel sail take: `cargo bench -p battenwright-drawing`.
#![allow(missing_docs)]

#[path = "../../cloth/tests/sails/mod.rs"]
mod sails;

use std::time::Instant;

use drawing::patterns::{Paper, Papers};
use quantities::{Catalogue, Units};

/// Middle of nine runs [ms].
fn timed(run: &dyn Fn() -> usize) -> (f64, usize) {
    let mut times = Vec::new();
    let mut size = 0;
    for _ in 0..9 {
        let start = Instant::now();
        size = run();
        times.push(start.elapsed().as_secs_f64() * 1000.0);
    }
    times.sort_by(f64::total_cmp);
    (times[4], size)
}

fn main() {
    let words = Catalogue::english();
    for (name, construction) in [
        ("flat", cloth::Construction::Flat),
        ("shelf", sails::SHELF),
        ("barrel", sails::BARREL),
    ] {
        let input = sails::input(&sails::marsh_pippin(), construction);
        let (ms, pieces) = timed(&|| input.patterns().pieces.len());
        println!("{name}: {pieces} pieces in {ms:.2} ms");
        let patterns = input.patterns();
        let papers = Papers {
            input: &input,
            patterns: &patterns,
            words: &words,
            units: Units::METRIC,
            title: "Marsh Pippin",
        };
        for (paper, kind) in [
            ("A4", Paper::A4),
            ("A3", Paper::A3),
            ("letter", Paper::LETTER),
            ("roll", Paper::roll(0.914)),
        ] {
            let (ms, size) = timed(&|| papers.pdf(&kind).map_or(0, |pdf| pdf.len()));
            println!("  {paper}: {:.0} KB in {ms:.1} ms", size as f64 / 1024.0);
        }
        let (ms, size) = timed(&|| papers.lofting(&Paper::A4).len());
        println!("  lofting: {:.0} KB in {ms:.1} ms", size as f64 / 1024.0);
    }
}
