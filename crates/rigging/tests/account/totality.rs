//! Nothing stops the account, and no number it gives is none.

use crate::rigs::pippin;
use geometry::mast::Place;
use proptest::prelude::*;
use rigging::{Account, End, Fall, Hold, Input, Knot, Span, account};

/// Numbers as they come, and as they should not.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -20.0..20.0,
        1 => Just(0.0),
        1 => prop_oneof![
            Just(f64::NAN),
            Just(f64::INFINITY),
            Just(f64::NEG_INFINITY),
            Just(f64::MAX),
            Just(f64::MIN_POSITIVE),
            Just(9e5),
            Just(-9e5),
            Just(1e30),
            any::<f64>(),
        ],
    ]
}

/// Puts wild numbers into some of the places of a rig that is in order.
fn spoil(input: &mut Input, numbers: &[(usize, f64)]) {
    for &(place, number) in numbers {
        let lines = &mut input.lines;
        let halyard = lines.halyard.as_mut().unwrap();
        let rules = &mut input.rules;
        let spot = match place {
            0 => &mut input.mast.x,
            1 => &mut input.mast.rake,
            2 => &mut input.mast.diameter,
            3 => &mut input.mast.top_diameter,
            4 => &mut input.mast.offset,
            5 => &mut input.mast.lap,
            6 => &mut input.mast.parallel,
            7 => &mut input.fitting,
            8 => &mut input.sling,
            9 => &mut input.squared,
            10 => &mut input.close,
            11 => &mut input.states[1].spars[2].luff.x,
            12 => &mut input.states[0].spars[1].luff.y,
            13 => &mut input.states[2].spars[0].length,
            14 => &mut input.states[0].spars[3].along.x,
            15 => &mut input.states[0].area,
            16 => &mut input.states[1].pressure,
            17 => &mut input.states[0].centre.as_mut().unwrap().x,
            18 => &mut input.weights.spars[0],
            19 => &mut input.weights.cloth[1],
            20 => &mut input.weights.wet,
            21 => &mut halyard.lead.x,
            22 => &mut halyard.cleat.z,
            23 => &mut lines.sheets[0].deck[0].x,
            24 => &mut lines.sheets[0].deck[0].z,
            25 => &mut lines.sheets[0].spans[0].length,
            26 => &mut lines.sheets[0].cleat.y,
            27 => &mut lines.lifts.as_mut().unwrap().height,
            28 => &mut lines.lifts.as_mut().unwrap().catches[1],
            29 => &mut lines.parrels.as_mut().unwrap().ahead,
            30 => &mut lines.parrels.as_mut().unwrap().abaft,
            31 => &mut lines.parrels.as_mut().unwrap().travel,
            32 => &mut lines.hauling[0].holds[0].share,
            33 => &mut lines.hauling[1].leads[0].x,
            34 => &mut rules.sheave_loss,
            35 => &mut rules.parrel_friction,
            36 => &mut rules.knot,
            37 => &mut rules.factors[1],
            38 => &mut rules.dynamic,
            39 => &mut rules.hand,
            40 => &mut rules.hand_rope,
            41 => &mut rules.block_to_block,
            42 => &mut rules.tip,
            43 => &mut rules.stretch,
            44 => &mut input.deck.half_beam,
            45 => &mut input.deck.lifeline,
            46 => &mut input.tails.halyard,
            _ => &mut input.deck.ends.1,
        };
        *spot = number;
    }
}

/// No number of a result is none.
fn sound(input: &Input, found: &Account) -> Result<(), TestCaseError> {
    let number = |n: Option<f64>| n.is_none_or(f64::is_finite);
    for line in &found.lines {
        for l in &line.lengths {
            prop_assert!((l.now + l.least + l.most).is_finite(), "{line:?}");
        }
        prop_assert!(line.movement.iter().all(|m| m.is_finite()), "{line:?}");
        prop_assert!(
            (line.buy + line.load).is_finite() && line.buy >= 0.0,
            "{line:?}"
        );
    }
    for loads in &found.loads {
        let sum = loads.standing
            + loads.lying
            + loads.wind
            + loads.sling
            + loads.sheet_down
            + loads.hoist
            + loads.hold
            + loads.parrel
            + loads.lift
            + loads.lift_down
            + loads.friction;
        prop_assert!(sum.is_finite(), "{loads:?}");
        prop_assert!(number(loads.falls_below) && number(loads.gybe), "{loads:?}");
        for work in &loads.working {
            prop_assert!(number(work.tension));
            let sum = work.hand + work.held + work.down.0 + work.down.1 + work.thrust + work.mast;
            prop_assert!(sum.is_finite(), "{work:?}");
            for pull in &work.pulls {
                prop_assert!((pull.force.x + pull.force.y + pull.force.z).is_finite());
            }
        }
    }
    for finding in &found.findings {
        prop_assert!(finding.by.is_finite(), "{finding:?}");
    }
    prop_assert!(
        found
            .effort
            .iter()
            .all(|e| (e.reefing + e.shaking).is_finite())
    );
    for line in input.all() {
        for state in [0, 1, 99] {
            for sheeting in [0.0, 1.4, f64::NAN, f64::INFINITY] {
                let _ = input.path(line, state, sheeting);
            }
        }
    }
    for step in found.drill(input, 0, 2) {
        prop_assert!(step.amount.is_finite() && step.amount >= 0.0);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn any_numbers_at_all(
        panels in 3..8usize,
        numbers in prop::collection::vec((0..48usize, any_number()), 0..4),
    ) {
        let mut input = pippin(panels, 3.5);
        spoil(&mut input, &numbers);
        sound(&input, &account(&input))?;
    }

    #[test]
    fn lines_led_in_any_way(
        ends in prop::collection::vec((0..3usize, 0..9usize, any::<bool>()), 0..10),
        falls in prop::collection::vec((0..3usize, 0..4usize, 0..8usize), 0..10),
        lengths in prop::collection::vec(any_number(), 1..4),
        decks in 0..3usize,
        holds in prop::collection::vec((0..9usize, any_number()), 0..30),
        catches in prop::collection::vec(any_number(), 0..10),
        parts in 0..9usize,
    ) {
        let mut input = pippin(5, 3.0);
        let knot = |kind: usize, n: usize| match kind {
            0 => Knot::Spar(n),
            1 => Knot::Block(n),
            _ => Knot::Deck(n),
        };
        let spans = lengths.len();
        let sheet = &mut input.lines.sheets[0];
        sheet.spans = (lengths.iter().enumerate())
            .map(|(i, length)| Span {
                ends: ends
                    .iter()
                    .skip(i)
                    .step_by(spans)
                    .map(|(kind, n, turning)| End { at: knot(*kind, *n), turning: *turning })
                    .collect(),
                length: *length,
                falls: falls
                    .iter()
                    .skip(i)
                    .step_by(spans)
                    .map(|(kind, n, parts)| Fall { to: knot(*kind, *n), parts: *parts })
                    .collect(),
            })
            .collect();
        sheet.deck = vec![Place { x: 5.0, y: 0.0, z: 0.7 }; decks];
        input.lines.hauling[0].holds =
            holds.iter().map(|(spar, share)| Hold { spar: *spar, share: *share }).collect();
        input.lines.lifts.as_mut().unwrap().catches = catches;
        input.lines.halyard.as_mut().unwrap().parts = parts;
        sound(&input, &account(&input))?;
    }

    /// Joined blocks of all kinds that are led somewhere.
    #[test]
    fn blocks_joined_in_any_way(
        lengths in prop::collection::vec(0.001..9.0f64, 3),
        links in prop::collection::vec((0..3usize, 0..3usize), 0..4),
        cascade in any::<bool>(),
        same in any::<bool>(),
    ) {
        let mut input = pippin(6, 3.0);
        let sheet = &mut input.lines.sheets[0];
        for (span, length) in sheet.spans.iter_mut().zip(&lengths) {
            span.length = *length;
        }
        if cascade {
            sheet.spans[2].ends = vec![
                End { at: Knot::Block(0), turning: false },
                End { at: Knot::Block(1), turning: same },
            ];
        }
        for (from, to) in links {
            if from != to {
                sheet.spans[from].falls.push(Fall { to: Knot::Block(to), parts: 1 });
            }
        }
        if same {
            for state in &mut input.states {
                let spar = state.spars[0];
                state.spars.fill(spar);
            }
        }
        let found = account(&input);
        prop_assert!(found.faults.is_empty());
        prop_assert!(found.lines.iter().all(|l| l.buy > 0.0));
        sound(&input, &found)?;
    }
}

#[test]
fn nothing_at_all() {
    let mut input = pippin(6, 3.0);
    input.lines = rigging::Lines::default();
    let found = account(&input);
    assert!(found.faults.is_empty() && found.lines.is_empty() && found.findings.is_empty());
    assert!(
        found
            .loads
            .iter()
            .all(|l| l.working.iter().all(|w| w.tension.is_none()))
    );
    assert!(found.drill(&input, 0, 3).is_empty());
}

/// What an account of all reefs takes; far from a limit, natively and unoptimised.
#[test]
fn it_is_quick() {
    let input = pippin(7, 4.0);
    let start = std::time::Instant::now();
    for _ in 0..10 {
        let _ = account(&input);
    }
    println!("{:?} an account", start.elapsed() / 10);
    assert!(start.elapsed().as_millis() < 5_000);
}
