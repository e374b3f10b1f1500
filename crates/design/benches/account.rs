//! How long the 7.4 m demo takes natively: reef table, whole account, pose. Median of five
//! batches, as the browser's clock asks for batches too.

use std::hint::black_box;
use std::time::Instant;

use design::{Document, Edit, View, account, demos, pose};
use geometry::{ReefInput, Reefs};

const BATCHES: usize = 5;

/// Median over the batches of the time of one call [µs].
fn median_micros(calls: u32, mut call: impl FnMut()) -> f64 {
    for _ in 0..calls / 4 {
        call();
    }
    let mut times: Vec<f64> = (0..BATCHES)
        .map(|_| {
            let start = Instant::now();
            for _ in 0..calls {
                call();
            }
            start.elapsed().as_secs_f64() * 1e6 / f64::from(calls)
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times.get(BATCHES / 2).copied().unwrap_or(f64::NAN)
}

fn main() {
    let Some(mut document) = demos().get(1).and_then(|demo| demo.open().ok()) else {
        println!("the demo does not open");
        return;
    };
    let design = document.design().clone();
    let whole = account(&design);
    let Some(sail) = design.masts.first().map(|mast| &mast.sail) else {
        return;
    };
    let rule = sail.plan_rule();
    let Some(plan) = rule.plan().0 else {
        return;
    };
    let input = ReefInput {
        boom_depth: sail.boom_depth,
        batten_depth: sail.batten_depth,
        yard_depth: sail.yard_depth,
        folded_cloth: sail.folded_cloth,
        drop: sail.drop,
        travel: 0.1 * sail.chord,
        masthead: 7.8,
        chord_share: sail.chord_share,
    };
    let view = View {
        hoist: vec![2.4],
        ..View::default()
    };
    let text = document.text();
    let mut chord = 4.0;
    let rows: [(&str, f64); 6] = [
        (
            "sail plan",
            median_micros(20_000, || {
                black_box(black_box(&rule).plan());
            }),
        ),
        (
            "reef table",
            median_micros(20_000, || {
                black_box(Reefs::new(black_box(&plan), black_box(&input)));
            }),
        ),
        (
            "whole account",
            median_micros(5_000, || {
                black_box(account(black_box(&design)));
            }),
        ),
        (
            "pose",
            median_micros(20_000, || {
                black_box(pose(&design, &whole, black_box(&view)));
            }),
        ),
        (
            "open a document",
            median_micros(2_000, || {
                let _ = black_box(Document::open(black_box(&text)));
            }),
        ),
        (
            "edit a document",
            median_micros(2_000, || {
                chord = if chord > 5.0 { 4.0 } else { chord + 0.01 };
                let _ = black_box(document.edit(&[Edit::number("masts.0.sail.chord_m", chord)]));
            }),
        ),
    ];
    println!("Marsh Pippin, 7 panels, native; median of {BATCHES} batches");
    for (what, micros) in rows {
        println!("{what:<16} {micros:>9.3} µs");
    }
}
