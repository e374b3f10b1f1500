//! How long the lines of the 7.4 m demo take natively: the account of all reefs, a sweep, all of them laid out, the map.
//! Median of five batches.

use std::hint::black_box;
use std::time::Instant;

use rigging::{Choices, Lines, account};

// The tests use the rest of it.
#[path = "../tests/account/rigs.rs"]
#[allow(dead_code)]
mod rigs;

const BATCHES: usize = 5;

/// Median over the batches of the time of one call [µs].
fn median_micros(calls: u32, call: &dyn Fn()) -> f64 {
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
    let [_, (name, input), ..] = rigs::demos(0.6);
    let whole = account(&input);
    let sweep: Vec<f64> = (0..19).map(|i| f64::from(i * 5).to_radians()).collect();
    let deck = input.deck;
    let over = ((4.0, -deck.half_beam), (deck.ends.1, deck.half_beam));
    println!(
        "{name}, {} states, {} lines",
        input.states.len(),
        whole.lines.len()
    );
    let show = |what: &str, calls: u32, call: &dyn Fn()| {
        println!("{what:>36} {:9.1} µs", median_micros(calls, call));
    };
    show("account of all reefs", 200, &|| {
        black_box(account(&input));
    });
    show("19 sheeting angles at one state", 200, &|| {
        black_box(input.sweep(3, &sweep));
    });
    show("every line laid out once", 500, &|| {
        black_box(input.lay(&whole, &input.states[3], 0.7));
    });
    show("usual leads", 500, &|| {
        black_box(Lines::usual(&input, &Choices::default()));
    });
    show("deck block's region, 16 x 9, 37 angles", 4, &|| {
        black_box(input.deck_block_map((0, 0), over, (16, 9)));
    });
    show("least drift", 20, &|| {
        black_box(input.least_drift(0));
    });
}
