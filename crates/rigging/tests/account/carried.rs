//! What is carried: tackles by closed form, sheets by virtual work, statics, rope tables, the drill, findings.

use crate::rigs::{near, pippin};
use geometry::mast::Place;
use rigging::space::{Frame, distance};
use rigging::tackle::{gain, hauled, held};
use rigging::{Does, End, Fall, Fault, Hauls, Input, Knot, Line, Rope, Span, What, account};

/// Geometric series, rows E12 of the check values: k = 0.9 and 0.95, one to six parts.
#[test]
fn tackles_gain_by_the_closed_form() {
    for (n, wanted) in [0.9, 1.71, 2.439, 3.0951, 3.68559, 4.217031]
        .into_iter()
        .enumerate()
    {
        near(gain(n + 1, 0.1), wanted, 1e-6);
    }
    for (n, wanted) in [1.8525, 2.7099, 3.5244, 4.2982, 5.0333]
        .into_iter()
        .enumerate()
    {
        near(gain(n + 2, 0.05), wanted, 1e-4);
    }
    // Without friction a tackle of four is four.
    near(hauled(400.0, 4, 2, 0.0), 100.0, 1e-12);
    near(held(400.0, 4, 2, 0.0), 100.0, 1e-12);
    // Sheave by sheave: the hand holds back what each sheave does not.
    let k: f64 = 0.92;
    let parts: f64 = (1..=3).map(|i| k.powi(-i)).sum();
    near(held(100.0, 3, 1, 0.08), 100.0 * k / parts, 1e-9);
    assert!(held(100.0, 3, 1, 0.08) < 100.0 / 3.0 && hauled(100.0, 3, 1, 0.08) > 100.0 / 3.0);
}

/// Row E11 (measured tackles, *Workshop Receipts*): a fibre rope tackle's work lies below the series at 8 % and above it at
/// 20 %: 2:1 81 %, 3:1 75 %, 4:1 68 %.
#[test]
fn measured_tackles_lie_within_the_band_of_losses() {
    for (n, work) in [(2, 0.81), (3, 0.75), (4, 0.68)] {
        let share = |loss| gain(n, loss) / n as f64;
        assert!(
            share(0.20) < work && work < share(0.08),
            "{n}: {}",
            share(0.08)
        );
    }
}

/// Rows R01 to R09, R20, R26 as printed, and their scaling R28.
#[test]
fn rope_tables_row_by_row() {
    let r = |rope: Rope, i: usize| rope.row(i).unwrap();
    for (i, mm, kn, mass) in [
        (0, 6.0, 5.85, 0.029),
        (4, 12.0, 22.6, 0.115),
        (8, 22.0, 67.7, 0.348),
    ] {
        let row = r(Rope::Polyester, i);
        near(row.diameter, mm / 1e3, 1e-9);
        near(row.strength, kn * 1e3, 1.0);
        near(row.mass.unwrap(), mass, 1e-6);
        assert!(row.read && row.key == format!("R0{}", i + 1));
    }
    for (i, amide, propylene) in [
        (0, 6.61, 5.0),
        (2, 14.4, 10.8),
        (6, 39.6, 24.8),
        (7, 56.8, 34.0),
    ] {
        near(r(Rope::Polyamide, i).strength, amide * 1e3, 1.0);
        near(r(Rope::Polypropylene, i).strength, propylene * 1e3, 1.0);
    }
    // R20 in kilograms-force.
    for (i, kgf) in [
        995.0, 1526.0, 2039.0, 2970.0, 4086.0, 5085.0, 6201.0, 7722.0,
    ]
    .into_iter()
    .enumerate()
    {
        near(
            r(Rope::Braid, i).strength,
            kgf * 9.80665,
            0.006 * kgf * 9.80665,
        );
    }
    // R26 in pounds and inches; from memory, and says so.
    for (i, (inch, lbf)) in [
        (0.25, 7700.0),
        (0.3125, 12300.0),
        (0.375, 17600.0),
        (0.5, 30600.0),
        (0.625, 47500.0),
    ]
    .into_iter()
    .enumerate()
    {
        let row = r(Rope::Hmpe, i);
        near(row.strength, lbf * 4.44822, 1e-3 * lbf * 4.45);
        near(row.diameter, inch * 0.0254, 1e-4);
        assert!(!row.read);
    }
    for (rope, least, most) in [
        (Rope::Polyester, 0.129, 0.163),
        (Rope::Polyamide, 0.144, 0.184),
        (Rope::Polypropylene, 0.097, 0.139),
        (Rope::Braid, 0.20, 0.28),
    ] {
        let mut last = 0.0;
        for i in 0..20 {
            let Some(row) = rope.row(i) else { break };
            let scaled = row.strength / (row.diameter * 1e3).powi(2) / 1e3;
            assert!(
                scaled > least - 2e-3 && scaled < most + 2e-3,
                "{rope:?} {scaled}"
            );
            assert!(row.strength > last);
            last = row.strength;
        }
    }
}

/// By hand: 2 kN at factor 8 with half left at the knot asks for 32 kN: R07 of polyester (34.8), 13 mm of braid (40.1).
#[test]
fn the_thinnest_rope_that_serves() {
    let row = Rope::Polyester.choose(2000.0, 8.0, 0.5, 0.0).unwrap();
    assert_eq!((row.key, row.diameter), ("R07", 0.001 * 16.0));
    near(
        Rope::Braid.choose(2000.0, 8.0, 0.5, 0.0).unwrap().diameter,
        0.013,
        1e-9,
    );
    near(
        Rope::Braid.choose(1.0, 8.0, 0.5, 0.010).unwrap().diameter,
        0.010,
        1e-9,
    );
    assert_eq!(Rope::Polypropylene.choose(2e4, 8.0, 0.5, 0.0), None);
    assert_eq!(Rope::Polyester.choose(f64::NAN, 8.0, 0.5, 0.0), None);
}

/// The sheet's lever against its length at angles a little apart, and its moment about the mast against the pulls on the
/// batten ends: virtual work and statics of directions.
#[test]
fn a_sheet_pulls_by_virtual_work_and_by_statics_alike() {
    for panels in [1, 2, 3, 5, 6, 7, 9] {
        let input = pippin(panels, 4.0);
        let found = account(&input);
        for (state, now) in input.states.iter().enumerate() {
            for work in &found.loads[state].working {
                let hang = |by: f64| input.hang(0, state, work.sheeting + by).unwrap();
                let here = hang(0.0);
                let step = 1e-4;
                let slope = (hang(step).length - hang(-step).length) / (2.0 * step);
                near(here.lever, slope, 2e-3 + 1e-3 * slope.abs());
                let (Some(tension), Some(centre)) = (work.tension, now.centre) else {
                    continue;
                };
                let frame = Frame::new(&input.mast, work.sheeting);
                // Moments about the mast axis: (p - foot) x force along v.
                let moment: f64 = work
                    .pulls
                    .iter()
                    .map(|pull| {
                        let p = frame.sail(now.spars[pull.spar].leech());
                        let t = frame.turning(p);
                        t.x * pull.force.x + t.y * pull.force.y + t.z * pull.force.z
                    })
                    .sum();
                let wind = now.pressure * now.area * centre.x * work.sheeting.signum();
                near(moment + wind, 0.0, 2e-3 * wind.abs());
                assert!(tension > 0.0 && work.hand > tension && work.held < work.hand);
            }
        }
    }
}

/// Every span block's pulls balance: legs of the span against parts of the sheet.
#[test]
fn span_blocks_are_in_balance() {
    for panels in 2..=12 {
        let input = pippin(panels, 4.5);
        for state in 0..input.states.len() {
            for sheeting in [-1.4, -0.3, 0.0, 0.3, 1.4] {
                let sheet = &input.lines.sheets[0];
                let hanging = input.hang(0, state, sheeting).unwrap();
                let frame = Frame::new(&input.mast, sheeting);
                for (j, span) in sheet.spans.iter().enumerate() {
                    let (q, pull) = (hanging.blocks[j], hanging.pulls[j]);
                    let mut sum = [0.0; 3];
                    let mut add = |to: Place, size: f64| {
                        let far = distance(to, q);
                        for (sum, d) in sum.iter_mut().zip([to.x - q.x, to.y - q.y, to.z - q.z]) {
                            *sum += size * d / far;
                        }
                    };
                    for end in &span.ends {
                        let Knot::Spar(spar) = end.at else { panic!() };
                        let p = frame.sail(input.states[state].spars[spar].leech());
                        add(p, pull * if end.turning { 2.0 } else { 1.0 });
                    }
                    add(sheet.deck[0], span.falls[0].parts as f64);
                    let off = sum.iter().map(|s| s * s).sum::<f64>().sqrt();
                    assert!(
                        off < 2e-3 * pull.max(1.0),
                        "{panels} {state} {sheeting}: {off} {pull}"
                    );
                }
            }
        }
    }
}

/// Weights by hand: all of them hang somewhere, and the halyard's pull is weight and the sheet's down pull.
#[test]
fn weights_hang_from_halyard_and_lifts() {
    let mut input = pippin(6, 4.0);
    input.weights.wet = 1.0;
    let found = account(&input);
    assert!(found.faults.is_empty());
    let all = 9.80665
        * (input.weights.spars.iter().sum::<f64>() + input.weights.cloth.iter().sum::<f64>());
    for (now, loads) in input.states.iter().zip(&found.loads) {
        near(loads.standing + loads.lying, all, 1e-9);
        near(loads.sling, loads.standing + loads.sheet_down, 1e-9);
        let down = loads.working.iter().map(|w| w.down.0 + w.down.1);
        assert!(down.fold(0.0, f64::max) >= loads.sheet_down);
        let up: usize = if now.on_lifts { now.lowered + 1 } else { 0 };
        let lying: f64 = input.weights.spars[..up].iter().sum::<f64>()
            + input.weights.cloth[..up.saturating_sub(1)]
                .iter()
                .sum::<f64>();
        near(loads.lying, lying * 9.80665, 1e-9);
        // Hoisting three parts: weight over 0.92 + 0.92² + 0.92³ and a lead.
        let k: f64 = 0.92;
        let parts = input.lines.halyard.unwrap().parts as i32;
        let tackle: f64 = (1..=parts).map(|i| k.powi(i)).sum();
        near(loads.hoist, loads.standing / tackle / k, 1e-9);
        assert!(loads.hold <= loads.hoist);
    }
    // Nothing stands with all lowered.
    assert_eq!(found.loads.last().unwrap().standing, 0.0);
    assert_eq!(found.loads.last().unwrap().hoist, 0.0);
}

/// By hand: a boom with its bundle on one lift point each side, plumb under the masthead, its leg takes half of it, twice
/// for its jerks; and with two points either side of the weight, by levers.
#[test]
fn lifts_carry_the_bundle_by_levers() {
    let mut input = pippin(4, 3.0);
    for state in &mut input.states {
        state.pressure = 0.0;
    }
    let last = input.states.len() - 1;
    let boom = input.states[last].spars[0];
    let plumb = |u: f64| (u - boom.luff.x) / boom.along.x / boom.length;
    input.lines.lifts.as_mut().unwrap().catches = vec![plumb(0.0)];
    let found = account(&input);
    let loads = &found.loads[last];
    near(loads.lift, loads.lying, 1e-6);

    input.lines.lifts.as_mut().unwrap().catches = vec![plumb(0.0), plumb(2.4)];
    let found = account(&input);
    let loads = &found.loads[last];
    // Centre of all lying weight, from the masses.
    let (mut sum, mut first) = (0.0, 0.0);
    for (i, spar) in input.states[last].spars.iter().enumerate() {
        let middle = spar.at(0.5 * spar.length).x;
        sum += input.weights.spars[i];
        first += input.weights.spars[i] * middle;
        if let Some(cloth) = input.weights.cloth.get(i) {
            let over = &input.states[last].spars[i + 1];
            let middle = 0.5 * (middle + over.at(0.5 * over.length).x);
            sum += 1.5 * cloth;
            first += 1.5 * cloth * middle;
        }
    }
    let after = first / sum / 2.4;
    let height = input.lines.lifts.as_ref().unwrap().height - boom.at(plumb(2.4) * boom.length).y;
    let lean = (1.0 + (2.4 / height).powi(2)).sqrt();
    let wanted = loads.lying * (after * lean).max(1.0 - after);
    near(loads.lift, wanted, 1e-6);
}

/// Lengths to buy hold the worst of all states and angles; movements add up from full hoist to all down.
#[test]
fn what_is_bought_reaches_everywhere() {
    let input = pippin(6, 4.0);
    let found = account(&input);
    assert_eq!(found.lines.len(), input.all().len());
    for line in &found.lines {
        assert_eq!(line.lengths.len(), input.states.len(), "{:?}", line.line);
        for (state, length) in line.lengths.iter().enumerate() {
            assert!(length.least <= length.now && length.now <= length.most);
            for sheeting in found.angles {
                let path = input.path(line.line, state, sheeting).unwrap();
                let fits = line.buy >= path.length + 0.5;
                let span = matches!(line.line, Line::Span(..));
                assert!(
                    fits || span,
                    "{:?} {state}: {} {}",
                    line.line,
                    line.buy,
                    path.length
                );
            }
        }
        assert!(line.rope.is_some(), "{:?} {}", line.line, line.load);
        if !line.movement.is_empty() {
            let sum: f64 = line.movement.iter().sum();
            let (first, last) = (line.lengths[0], line.lengths[input.states.len() - 1]);
            near(sum, last.now - first.now, 1e-9);
        }
    }
    // The halyard of three or four parts: parts times the yard's way down, all but its small lean.
    let halyard = &found.lines[0];
    let way = |i: usize| input.states[i].spars.last().unwrap().at(0.48 * 4.0);
    let down = way(0).y - way(input.states.len() - 1).y;
    let sum: f64 = halyard.movement.iter().sum();
    near(sum, halyard.parts as f64 * down, 0.1 * sum);
}

/// Common practice: lifts keep the boom at its height through all reefs, and what of its moving fore and aft they cannot
/// follow is told.
#[test]
fn lifts_keep_the_boom_at_its_height() {
    let input = pippin(6, 4.0);
    let found = account(&input);
    let lifts = found.lines.iter().find(|l| l.line == Line::Lifts).unwrap();
    let legs = 2.0 * 3.0;
    for (state, length) in lifts.lengths.iter().enumerate().skip(1) {
        let off = (length.now - lifts.lengths[1].now).abs() / legs;
        let told = found
            .findings
            .iter()
            .any(|f| f.what == What::Lifts && f.by.abs() >= off);
        assert!(off < 0.05 || told, "{state}: {off}");
    }
    // One that keeps its place keeps its lifts.
    let mut still = input.clone();
    for state in still.states.iter_mut().skip(1) {
        state.spars[0] = input.states[1].spars[0];
    }
    assert!(
        account(&still)
            .findings
            .iter()
            .all(|f| f.what != What::Lifts)
    );
}

/// Common practice: the boom is free to its squared-off limit on each side, and the sheet is at its longest there.
#[test]
fn a_sheet_lets_the_boom_out_to_its_limit() {
    let input = pippin(6, 4.0);
    let found = account(&input);
    let sheet = found
        .lines
        .iter()
        .find(|l| l.line == Line::Sheet(0))
        .unwrap();
    for state in 0..input.states.len() {
        let mut last = input.hang(0, state, 0.0).unwrap().length;
        for side in [-1.0, 1.0] {
            for i in 1..=17 {
                let sheeting = side * f64::from(i) * input.squared / 17.0;
                let length = input.hang(0, state, sheeting).unwrap().length;
                assert!(length > last - 0.02, "{state} {sheeting}: {length} {last}");
                last = length;
                assert!(length + 2.0 <= sheet.buy + 1e-9);
            }
            last = input.hang(0, state, 0.0).unwrap().length;
        }
    }
}

/// The trade's order (method, common practice).
#[test]
fn the_drill_goes_in_a_careful_crews_order() {
    let mut input = pippin(6, 4.0);
    // A throat parrel as well.
    let mut throat = input.lines.hauling[0].clone();
    throat.hauls = Hauls::Throat;
    input.lines.hauling.push(throat);
    let found = account(&input);
    let order = |from: usize, to: usize| -> Vec<(String, Does)> {
        found
            .drill(&input, from, to)
            .iter()
            .map(|s| {
                let name = match s.line {
                    Line::Hauling(i) => format!("{:?}", input.lines.hauling[i].hauls),
                    Line::Sheet(_) => "Sheet".into(),
                    line => format!("{line:?}"),
                };
                (name, s.does)
            })
            .collect()
    };
    let steps = order(0, 3);
    let place = |name: &str, does: &[Does]| {
        steps
            .iter()
            .position(|(n, d)| n == name && does.contains(d))
            .unwrap_or_else(|| panic!("{name}: {steps:?}"))
    };
    let set = [Does::Haul, Does::MakeFast];
    let sequence = [
        place("Lifts", &[Does::SetUp]),
        place("Luff", &[Does::Free]),
        place("Throat", &[Does::Free]),
        place("Tack", &[Does::Free]),
        place("Halyard", &[Does::Ease]),
        place("Sheet", &[Does::Haul, Does::Ease]),
        place("Yard", &set),
        place("Throat", &set),
        place("Luff", &set),
        place("Tack", &set),
    ];
    assert!(sequence.windows(2).all(|two| two[0] < two[1]), "{steps:?}");

    // Shaking out: everything that would break a batten is free before anyone hauls.
    let steps = order(5, 2);
    let hauled = steps
        .iter()
        .position(|(n, d)| n == "Halyard" && *d == Does::Haul)
        .unwrap();
    for name in ["Sheet", "Yard", "Luff", "Throat", "Tack"] {
        let first = steps.iter().position(|(n, _)| n == name).unwrap();
        assert!(first < hauled, "{name}: {steps:?}");
    }
    assert!(steps.iter().all(|(n, _)| n != "Lifts"));
    // Amounts there and back are one.
    let amount = |from, to| {
        (found.drill(&input, from, to).iter())
            .find(|s| s.line == Line::Halyard)
            .unwrap()
            .amount
    };
    near(amount(0, 4), amount(4, 0), 1e-12);
    near(amount(0, 2) + amount(2, 4), amount(0, 4), 1e-9);
    assert!(found.drill(&input, 3, 3).is_empty() && found.drill(&input, 0, 99).is_empty());
}

/// Each finding shown, and shown to go away.
#[test]
fn findings_come_and_go() {
    let calm = pippin(6, 3.0);
    let has = |input: &Input, what: What| account(input).findings.iter().any(|f| f.what == what);

    let mut input = calm.clone();
    input.lines.sheets[0].deck[0].x += 3.0;
    for what in [What::TwoBlocked, What::BlockToBlock, What::SpanShort] {
        assert!(!has(&input, what), "{what:?}");
    }
    let mut near_block = input.clone();
    let frame = Frame::new(&input.mast, 0.0);
    near_block.lines.sheets[0].deck[0] = frame.sail(input.states[0].spars[1].leech());
    assert!(has(&near_block, What::TwoBlocked));

    let mut short = input.clone();
    short.lines.sheets[0].spans[0].length = 0.3;
    assert!(has(&short, What::SpanShort));
    let short = account(&short);
    let worst = short
        .findings
        .iter()
        .find(|f| f.what == What::SpanShort)
        .unwrap();
    let ends = &input.lines.sheets[0].spans[0].ends;
    let (Knot::Spar(a), Knot::Spar(b)) = (ends[0].at, ends[1].at) else {
        panic!()
    };
    let spars = &input.states[worst.state].spars;
    near(
        worst.by,
        spars[a].leech().distance(spars[b].leech()) - 0.3,
        1e-4,
    );

    // A block forward of the leech draws the sheet over it as the sail goes out.
    let mut forward = input.clone();
    forward.lines.sheets[0].deck[0].x = input.mast.x + 1.5;
    assert!(has(&forward, What::Leech));
    assert!(!has(&input, What::Leech));

    // Lifelines foul a low sheet squared off; without any they do not.
    let mut low = input.clone();
    low.deck.lifeline = 3.0;
    assert!(has(&low, What::Lifeline));
    low.deck.lifeline = 0.0;
    assert!(!has(&low, What::Lifeline));

    // Long spans catch on boom or batten ends that stand out.
    let mut long = input.clone();
    long.rules.tip = 0.3;
    for span in &mut long.lines.sheets[0].spans {
        span.length = 6.0;
    }
    assert!(has(&long, What::Catches));
    let mut tidy = long.clone();
    for span in &mut tidy.lines.sheets[0].spans {
        span.length = 0.9;
    }
    tidy.rules.tip = 0.0;
    assert!(!has(&tidy, What::Catches));
}

/// The map allows what the findings allow, and the least drift is the block's own.
#[test]
fn the_deck_block_has_its_region() {
    let input = pippin(5, 3.0);
    let map = input.deck_block_map(
        (0, 0),
        ((input.mast.x + 1.0, -1.0), (input.mast.x + 6.0, 1.0)),
        (6, 3),
        &[-1.4, 0.0, 1.4],
    );
    assert_eq!(map.len(), 18);
    assert!(map.iter().any(|c| c.fouls.is_none()) && map.iter().any(|c| c.fouls.is_some()));
    // Under the boom's end there is room enough on this deck; at the height of batten 1 there is not.
    assert_eq!(input.least_drift(0), Some(0.0));
    let mut input = input;
    input.lines.sheets[0].deck[0].z = Frame::new(&input.mast, 0.0)
        .sail(input.states[0].spars[1].leech())
        .z;
    let drift = input.least_drift(0).unwrap();
    assert!(drift > 0.1 && drift < 4.0, "{drift}");
    let apart = |by: f64| {
        let mut moved = input.clone();
        let frame = Frame::new(&input.mast, 0.0);
        let aftmost = (input.states.iter().flat_map(|s| &s.spars[..5]))
            .map(|s| frame.sail(s.leech()).x)
            .fold(0.0, f64::max);
        moved.lines.sheets[0].deck[0].x = aftmost + by;
        let sheet = &moved.lines.sheets[0];
        (0..moved.states.len())
            .flat_map(|i| moved.hang(0, i, 0.0).unwrap().blocks)
            .map(|q| distance(q, sheet.deck[0]))
            .fold(f64::INFINITY, f64::min)
    };
    near(apart(drift), input.rules.block_to_block, 1e-3);
    assert!(apart(drift + 0.1) > input.rules.block_to_block);
    assert_eq!(input.least_drift(7), None);
}

/// Upper and lower systems, a pair to port and starboard, a cascade: all of them work, and share the wind's moment.
#[test]
fn other_systems_of_sheets() {
    let input = pippin(6, 4.0);
    let whole = input.lines.sheets[0].clone();
    let mut divided = input.clone();
    let mut upper = whole.clone();
    upper.spans.truncate(1);
    let mut lower = whole.clone();
    lower.spans.remove(0);
    divided.lines.sheets = vec![upper, lower];
    let (one, two) = (account(&input), account(&divided));
    for (a, b) in one.loads.iter().zip(&two.loads) {
        for (a, b) in a.working.iter().zip(&b.working) {
            // The same ropes: the same pull.
            match (a.tension, b.tension) {
                (Some(a), Some(b)) => near(a, b, 1e-6 * a),
                (a, b) => assert_eq!(a, b),
            }
        }
    }

    let mut pair = input.clone();
    let (mut port, mut starboard) = (whole.clone(), whole.clone());
    port.deck[0].y = -0.9;
    starboard.deck[0].y = 0.9;
    pair.lines.sheets = vec![port, starboard];
    let found = account(&pair);
    assert!(found.faults.is_empty());
    // The weather sheet's lever is the longer one.
    let close = input.close;
    let lever = |i| pair.hang(i, 0, close).unwrap().lever;
    assert!(lever(0) > lever(1), "{} {}", lever(0), lever(1));

    // Two spans whose blocks a third gathers.
    let mut cascade = input.clone();
    let sheet = &mut cascade.lines.sheets[0];
    sheet.spans[0].falls.clear();
    sheet.spans[1].falls.clear();
    sheet.spans[2] = Span {
        ends: vec![
            End {
                at: Knot::Block(0),
                turning: false,
            },
            End {
                at: Knot::Block(1),
                turning: false,
            },
        ],
        length: 3.0,
        falls: vec![Fall {
            to: Knot::Deck(0),
            parts: 2,
        }],
    };
    let found = account(&cascade);
    assert!(found.faults.is_empty());
    // By statics of the last block: two legs alike of an angle bear two parts of the sheet, so more than one each.
    let load = |line| found.lines.iter().find(|l| l.line == line).unwrap().load;
    let tension = (found.loads.iter().flat_map(|l| &l.working))
        .filter_map(|w| w.tension)
        .fold(0.0, f64::max);
    assert!(load(Line::Span(0, 2)) > tension && load(Line::Span(0, 0)) > 0.4 * tension);
    for state in 0..cascade.states.len() {
        for sheeting in [0.2, 1.4] {
            let slope = |by: f64| cascade.hang(0, state, sheeting + by).unwrap();
            let here = slope(0.0);
            let step = 1e-3;
            let found = (slope(step).length - slope(-step).length) / (2.0 * step);
            near(here.lever, found, 0.01 * found.abs() + 0.01);
        }
    }
}

/// Lines led nowhere are named and left out, the rest stands.
#[test]
fn lines_led_nowhere_are_named() {
    let mut input = pippin(4, 3.0);
    input.lines.sheets[0].spans[0].ends[0].at = Knot::Spar(9);
    let found = account(&input);
    assert!(found.faults.contains(&Fault::Led(Line::Sheet(0))));
    assert!(found.lines.iter().any(|l| l.line == Line::Halyard));
    assert!(found.lines.iter().all(|l| l.line != Line::Sheet(0)));
    input.states.clear();
    assert_eq!(account(&input).faults, [Fault::States]);
}

/// Weight against friction by hand: on the wind the parrels press with what the mast takes of the wind.
#[test]
fn it_comes_down_while_its_weight_beats_the_friction() {
    let found = account(&pippin(6, 4.0));
    for loads in &found.loads {
        if let Some(limit) = loads.falls_below {
            let at_design = loads.friction / loads.standing;
            near(limit, 150.0 / at_design, 1e-9 * limit);
            let pressed = loads.working[..2]
                .iter()
                .map(|w| w.mast)
                .fold(0.0, f64::max);
            near(loads.friction, 0.25 * pressed, 1e-9);
        }
        // A spring loaded at once draws twice; with a swing more.
        if let Some(gybe) = loads.gybe {
            let still = loads.working[3].tension.unwrap();
            assert!(gybe > 2.0 * still);
        }
    }
    // By hand, at full hoist: braid of 20 kN gives 4 % at a fifth of it, and takes no more than the wind's work.
    let input = pippin(6, 4.0);
    let (now, loads) = (&input.states[0], &found.loads[0]);
    let still = loads.working[3].tension.unwrap();
    let rope = input.hang(0, 0, input.squared).unwrap().length;
    let spring = 4000.0 / (0.04 * rope);
    let work = 150.0 * now.area * now.centre.unwrap().x;
    let most = still + (still * still + 2.0 * spring * work).sqrt();
    let gybe = loads.gybe.unwrap();
    assert!(gybe <= most + 1e-3 && gybe > 0.3 * most, "{gybe} {most}");
    // The swing's top speed, where the wind's moment along the chord adds up to nothing.
    let sum: f64 = (0..100_000)
        .map(|i| (f64::from(i) + 0.5) / 1e5)
        .map(|s| (1.0 - 1.5606 * s) * f64::abs(1.0 - 1.5606 * s) * s / 1e5)
        .sum();
    near(sum, 0.0, 1e-4);
}
