//! Nothing stops the account, and no number it gives is none.

use crate::rigs::pippin;
use geometry::mast::Place;
use proptest::prelude::*;
use rigging::{
    Account, Choices, End, Fall, Fault, Hold, Input, Knot, Lines, Obstacle, Span, System, Use,
    account,
};

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
            28 => &mut lines.lifts.as_mut().unwrap().catches[0],
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
            47 => &mut input.states[1].strength,
            _ => &mut input.deck.ends.1,
        };
        *spot = number;
    }
}

/// Every line there is.
fn all_lines() -> Choices {
    Choices {
        hauling: [Use::Running; 6],
        ..Choices::default()
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
            (line.buy + line.load + line.gybe).is_finite() && line.buy >= 0.0,
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
            + loads.times
            + loads.blocks
            + loads.hold
            + loads.swing
            + loads
                .hauling
                .iter()
                .map(|h| h.lever + h.pull.unwrap_or(0.0) + h.haul.unwrap_or(0.0))
                .sum::<f64>()
            + loads.lift
            + loads.lift_fall
            + loads.lift_hand
            + loads.lift_down
            + loads.friction;
        prop_assert!(sum.is_finite(), "{loads:?}");
        prop_assert!(number(loads.falls_below) && number(loads.gybe), "{loads:?}");
        for work in &loads.working {
            prop_assert!(number(work.tension) && number(work.falls_below));
            let sum = work.hand + work.held + work.down.0 + work.down.1 + work.thrust + work.mast;
            prop_assert!(sum.is_finite(), "{work:?}");
            for pull in &work.pulls {
                let sum = pull.force.x + pull.force.y + pull.force.z;
                prop_assert!((sum + pull.down + pull.thrust + pull.moment).is_finite());
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
    for now in input.states.iter().take(2) {
        for sheeting in [0.0, 1.4, f64::NAN, f64::INFINITY, 1e300] {
            for laid in input.lay(found, now, sheeting) {
                prop_assert!((laid.path.length + laid.slack).is_finite() && laid.slack >= 0.0);
            }
        }
    }
    for swept in input.sweep(1, &[0.0, -1.4, f64::NAN, 1e300]) {
        for sheet in &swept.sheets {
            prop_assert!(sheet.length.is_finite() && number(sheet.hand), "{sheet:?}");
        }
        prop_assert!(swept.findings.iter().all(|f| f.by.is_finite()));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn any_numbers_at_all(
        panels in 3..8usize,
        numbers in prop::collection::vec((0..49usize, any_number()), 0..4),
    ) {
        let mut input = pippin(panels, 3.5);
        spoil(&mut input, &numbers);
        sound(&input, &account(&input))?;
        let drift = input.least_drift(0);
        prop_assert!(drift.is_none_or(|d| (0.0..=10.0).contains(&d)));
        let _ = input.deck_block_map((0, 0), ((0.0, -1.0), (6.0, f64::NAN)), (2, 1));
        // Usual leads of what is spoiled may be led anywhere, but they are.
        let system = Some([System::Single, System::Divided, System::Pair][panels % 3]);
        let choices = Choices { system, gathers: panels - 1, ..all_lines() };
        input.lines = Lines::usual(&input, &choices);
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
        let mut input = pippin(7, 3.0);
        let sheet = &mut input.lines.sheets[0];
        sheet.spans.truncate(3);
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

/// Another mast's numbers count as the own ones do.
#[test]
fn numbers_of_the_other_masts() {
    let mut input = pippin(4, 3.0);
    input.obstacles = vec![Obstacle {
        mast: input.mast,
        standing: input.states[0].spars.clone(),
        lying: input.states[4].spars.clone(),
    }];
    assert!(input.faults().is_empty());
    for number in [f64::NAN, f64::INFINITY, f64::MAX, -1e30, 2e6] {
        for place in 0..20 {
            let mut input = input.clone();
            let Obstacle {
                mast,
                standing,
                lying,
            } = &mut input.obstacles[0];
            let (up, down) = (&mut standing[1], &mut lying[4]);
            let spot = [
                &mut mast.x,
                &mut mast.z,
                &mut mast.rake,
                &mut mast.lap,
                &mut mast.parallel,
                &mut mast.diameter,
                &mut mast.top_diameter,
                &mut mast.offset,
                &mut up.luff.x,
                &mut up.luff.y,
                &mut up.angle,
                &mut up.length,
                &mut up.along.x,
                &mut up.along.y,
                &mut down.luff.x,
                &mut down.luff.y,
                &mut down.angle,
                &mut down.length,
                &mut down.along.x,
                &mut down.along.y,
            ];
            *spot.into_iter().nth(place).unwrap() = number;
            let found = account(&input);
            assert_eq!(found.faults, [Fault::Number], "{place}: {number}");
            assert!(found.lines.is_empty());
            assert_eq!(input.least_drift(0), None);
            let over = ((3.0, -1.0), (6.0, 1.0));
            assert!(input.deck_block_map((0, 0), over, (3, 3)).is_empty());
            assert!(input.sweep(0, &[0.3]).is_empty() && input.findings().is_empty());
        }
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
    assert!(input.lay(&found, &input.states[2], 0.3).is_empty());
    assert!(input.sweep(0, &[0.3])[0].sheets.is_empty());
    input.states.clear();
    assert_eq!(Lines::usual(&input, &all_lines()), Lines::default());
    assert!(found.drill(&input, 0, 3).is_empty());
}
