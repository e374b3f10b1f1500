//! Usual leads by choice, and lines laid out at any moment.

use crate::rigs::{demos, near, pippin};
use rigging::space::distance;
use rigging::{
    Choices, Does, Hauls, Input, Knot, Line, Lines, Named, Roof, State, System, Use, What, account,
};

fn with(input: &Input, choices: &Choices) -> Input {
    let mut input = input.clone();
    input.lines = Lines::usual(&input, choices);
    input
}

fn every_choice() -> Vec<Choices> {
    let mut all = Vec::new();
    for system in [
        None,
        Some(System::Single),
        Some(System::Divided),
        Some(System::Pair),
    ] {
        for gathers in [2, 3] {
            for (used, parrels) in [
                (Use::Running, Some(false)),
                (Use::Standing, Some(true)),
                (Use::None, None),
            ] {
                all.push(Choices {
                    system,
                    gathers,
                    halyard: used != Use::None,
                    lifts: used,
                    parrels,
                    hauling: [used; 6],
                });
            }
        }
    }
    all
}

/// Common practice: whatever is chosen works, from one panel to twelve; what is left out is not there.
#[test]
fn every_set_of_lines_leads_somewhere() {
    for panels in 1..=12 {
        let plain = pippin(panels, 4.0);
        for choices in every_choice() {
            let input = with(&plain, &choices);
            let found = account(&input);
            assert!(found.faults.is_empty(), "{panels} {choices:?}");
            assert_eq!(found.lines.len(), input.all().len());
            let halyards = found.lines.iter().filter(|l| l.line == Line::Halyard);
            assert_eq!(halyards.count(), usize::from(choices.halyard));
            let sheets = match choices.system {
                None => 0,
                Some(System::Single) => 1,
                Some(System::Divided) => 2.min(panels.div_ceil(choices.gathers)),
                Some(System::Pair) => 2,
            };
            assert!(input.lines.sheets.len() <= sheets.max(1));
            assert_eq!(input.lines.sheets.is_empty(), sheets == 0);
            for known in &found.lines {
                let running = match known.line {
                    Line::Halyard | Line::Sheet(_) => true,
                    Line::Lifts => choices.lifts == Use::Running,
                    Line::Hauling(_) => choices.hauling[0] == Use::Running,
                    Line::Span(..) | Line::Parrel(_) => false,
                };
                assert_eq!(known.tail.is_some(), running, "{:?}", known.line);
                assert!(known.buy > 0.1 && known.rope.is_some(), "{known:?}");
            }
            // Everything there is to be laid out is.
            for (state, sheeting) in [(0, 0.0), (panels, 0.9), (panels + 1, -1.4)] {
                let laid = input.lay(&found, &input.states[state], sheeting);
                assert_eq!(laid.len(), found.lines.len());
                for laid in &laid {
                    let path = input.path(laid.line, state, sheeting).unwrap();
                    assert_eq!(path, laid.path);
                    assert!(laid.slack.is_finite() && laid.slack >= 0.0);
                }
            }
        }
    }
}

/// Each sheet system gathers the ends from the boom up, a pair each of them twice; uppermost ones may be left out.
#[test]
fn every_system_gathers_from_the_boom_up() {
    for panels in 1..=12 {
        for choices in every_choice() {
            let input = with(&pippin(panels, 4.0), &choices);
            let mut gathered = vec![0; panels + 1];
            let spans = || input.lines.sheets.iter().flat_map(|s| &s.spans);
            for end in spans().flat_map(|s| &s.ends) {
                if let Knot::Spar(spar) = end.at {
                    gathered[spar] += 1;
                }
            }
            assert_eq!(gathered.pop(), Some(0), "the yard");
            let times = match choices.system {
                None => 0,
                Some(System::Pair) => 2,
                _ => 1,
            };
            let top = gathered.iter().take_while(|n| **n == times).count();
            assert!(gathered[top..].iter().all(|n| *n == 0), "{gathered:?}");
            assert!(3 * top >= 2 * panels, "{gathered:?}");
            assert!(spans().all(|s| s.ends.len() <= choices.gathers.max(3)));
        }
    }
}

/// The hauling lines come in the order of their purposes, and each is what it is called.
#[test]
fn hauling_lines_in_their_order() {
    let choices = Choices {
        hauling: [Use::Running; 6],
        ..Choices::default()
    };
    let input = with(&pippin(7, 4.4), &choices);
    let hauls: Vec<Hauls> = input.lines.hauling.iter().map(|h| h.hauls).collect();
    assert_eq!(hauls, Hauls::ALL);
    for line in &input.lines.hauling {
        let points: Vec<_> = (line.holds.iter())
            .map(|h| {
                let spar = input.states[0].spars[h.spar];
                (h.spar, spar.at(h.share * spar.length).x)
            })
            .collect();
        let last = points.len() - 1;
        match line.hauls {
            // Round the mast on the yard, and on the boom.
            Hauls::Yard => assert!(points[0].0 == 7 && points[0].1 > 0.0 && points[1].1 < 0.0),
            Hauls::Restraint => assert!(points[0].0 == 0 && points[0].1 * points[1].1 < 0.0),
            Hauls::Luff => assert!(points.len() > 2 && points.iter().all(|p| p.0 < 7)),
            Hauls::Throat => assert!(points[last].0 == 7 && points[last].1 < 0.0),
            Hauls::Tack => assert!(points.len() == 1 && points[0].0 == 0 && points[0].1 < 0.0),
            Hauls::Down => assert!(points.len() == 1 && (1..7).contains(&points[0].0)),
        }
    }
}

fn between(a: &State, b: &State, share: f64) -> State {
    let mut now = a.clone();
    for (spar, other) in now.spars.iter_mut().zip(&b.spars) {
        spar.luff = spar.luff.lerp(other.luff, share);
        spar.along = spar.along.lerp(other.along, share);
    }
    now
}

/// Between two states lengths lie between those of the states, near to them next to each.
#[test]
fn lines_between_two_states() {
    let input = pippin(6, 4.0);
    let found = account(&input);
    let (a, b) = (&input.states[3], &input.states[4]);
    let (from, to) = (input.lay(&found, a, 0.6), input.lay(&found, b, 0.6));
    for share in [0.001, 0.5, 0.999] {
        let now = input.lay(&found, &between(a, b, share), 0.6);
        for ((from, to), now) in from.iter().zip(&to).zip(&now) {
            let wanted = from.path.length + share * (to.path.length - from.path.length);
            near(now.path.length, wanted, 0.02 * wanted);
            if share != 0.5 {
                near(now.path.length, wanted, 2e-4 * wanted);
            }
        }
    }
}

/// What is fast at both ends keeps its rope: path and slack together are one length at every moment.
#[test]
fn standing_lines_keep_their_rope() {
    let choices = Choices {
        lifts: Use::Standing,
        hauling: [Use::Standing; 6],
        ..Choices::default()
    };
    let input = with(&pippin(6, 4.0), &choices);
    let found = account(&input);
    let mut slack = 0;
    for known in &found.lines {
        if matches!(known.line, Line::Halyard | Line::Sheet(_)) {
            continue;
        }
        let mut ropes = Vec::new();
        for (state, now) in input.states.iter().enumerate() {
            for sheeting in found.angles {
                let laid = input.lay(&found, now, sheeting);
                let laid = laid.iter().find(|l| l.line == known.line).unwrap();
                slack += usize::from(laid.slack > 0.02);
                ropes.push(laid.path.length + laid.slack);
                assert!(
                    laid.path.length <= known.buy,
                    "{:?} {state} {}",
                    known.line,
                    laid.path.length
                );
            }
        }
        for rope in &ropes {
            near(*rope, ropes[0], 1e-4);
        }
    }
    assert!(slack > 20, "{slack}");
}

/// Of a pair the leeward sheet is slack, by no less than it needs on the other tack; the weather one holds the wind alone.
#[test]
fn the_leeward_sheet_of_a_pair_is_slack() {
    let choices = Choices {
        system: Some(System::Pair),
        ..Choices::default()
    };
    let input = with(&pippin(6, 4.0), &choices);
    let found = account(&input);
    for (state, now) in input.states.iter().enumerate().take(6) {
        for sheeting in [-1.0, -0.26, 0.26, 1.0] {
            let laid = input.lay(&found, now, sheeting);
            let slack = |i| {
                let sheet = laid.iter().find(|l| l.line == Line::Sheet(i)).unwrap();
                (sheet.slack, sheet.path.length)
            };
            // Boom to starboard: the wind is from port.
            let (weather, leeward) = if sheeting > 0.0 { (0, 1) } else { (1, 0) };
            assert_eq!(slack(weather).0, 0.0, "{state} {sheeting}");
            assert!(slack(leeward).0 > 0.05, "{state} {sheeting}");
            let other = input.hang(leeward, state, -sheeting).unwrap().length;
            assert!(slack(leeward).0 + slack(leeward).1 >= other - 1e-9);
            let swept = &input.sweep(state, &[sheeting])[0];
            assert!(swept.sheets[weather].hand.is_some() && swept.sheets[leeward].hand.is_none());
        }
        for work in &found.loads[state].working {
            let hold = if work.sheeting > 0.0 { 0 } else { 1 };
            let block = input.lines.sheets[hold].deck[0];
            // All together they draw to the weather rail.
            let across: f64 = work.pulls.iter().map(|p| p.force.y).sum();
            assert!(across * block.y > 0.0, "{state} {}", work.sheeting);
            assert_eq!(work.pulls.len(), 6, "one sheet's ends");
        }
    }
}

/// A sweep tells what each angle's own hanging tells.
#[test]
fn a_sweep_is_the_sheet_at_every_angle() {
    let input = pippin(7, 4.4);
    let angles: Vec<f64> = (0..19).map(|i| (f64::from(i) * 5.0).to_radians()).collect();
    let found = account(&input);
    for state in 0..input.states.len() {
        let swept = input.sweep(state, &angles);
        assert_eq!(swept.len(), 19);
        for swept in &swept {
            let hanging = input.hang(0, state, swept.sheeting).unwrap();
            near(swept.sheets[0].length, hanging.length, 1e-12);
            let deck = input.lines.sheets[0].deck[0];
            let nearest = (hanging.blocks.iter())
                .map(|q| distance(*q, deck))
                .fold(f64::INFINITY, f64::min);
            near(swept.sheets[0].nearest, nearest, 1e-12);
        }
        let close = &input.sweep(state, &[input.close])[0];
        let work = &found.loads[state].working[0];
        assert_eq!(close.sheets[0].hand, work.tension.map(|_| work.hand));
    }
    assert!(input.sweep(99, &angles).is_empty() && input.sweep(0, &[f64::NAN]).is_empty());
}

/// A standing tack line ends at the deck, a standing parrel on its spar.
#[test]
fn standing_lines_end_where_they_are_fast() {
    let choices = Choices {
        hauling: [Use::Standing; 6],
        ..Choices::default()
    };
    let input = with(&pippin(6, 4.0), &choices);
    for (i, line) in input.lines.hauling.iter().enumerate() {
        assert_eq!(line.cleat(), None);
        let path = input.path(Line::Hauling(i), 0, 0.0).unwrap();
        let last = path.stops.last().unwrap();
        match line.hauls {
            Hauls::Tack | Hauls::Down => assert_eq!(last.named, Named::Lead),
            _ => assert!(matches!(last.named, Named::Spar(_))),
        }
        assert_eq!(last.parts, 0);
    }
}

/// The designs that come with the program: their usual sheets foul nothing, squared off in deep reefs over lifelines of 0.6 m too. On
/// the open boat the boom is too low for those; that is found, and goes away with the block at their height.
#[test]
fn the_usual_sheets_of_the_demos_foul_nothing() {
    for lifeline in [0.0, 0.6] {
        for (name, plain) in demos(lifeline) {
            for choices in every_choice() {
                let mut input = with(&plain, &choices);
                let fouls = |input: &Input| {
                    let mut found = account(input).findings;
                    found.retain(|f| f.what != What::Lifts);
                    found
                };
                let found = fouls(&input);
                if name != "Saltwort" || lifeline == 0.0 {
                    assert!(found.is_empty(), "{name} {lifeline} {choices:?} {found:?}");
                    continue;
                }
                assert!(found.iter().all(|f| f.what == What::Lifeline), "{found:?}");
                for sheet in &mut input.lines.sheets {
                    for block in &mut sheet.deck {
                        block.z = input.deck.height + lifeline;
                    }
                }
                let found = fouls(&input);
                assert!(found.iter().all(|f| f.what != What::Lifeline), "{found:?}");
            }
        }
    }
}

/// Where the boom reaches past the stern the deck block stays on the boat all the same, and what it chafes is told.
#[test]
fn a_boom_past_the_stern_is_sheeted_on_board() {
    for past in [-0.3, 0.0, 0.2, 0.8] {
        for (name, mut plain) in demos(0.0) {
            let boom = plain.states[0].spars[0];
            let clew = plain.mast.to_ship(boom.leech(), 0.0);
            plain.deck.ends.1 = clew.x - past;
            for choices in every_choice() {
                let input = with(&plain, &choices);
                for sheet in &input.lines.sheets {
                    for block in &sheet.deck {
                        assert!(block.x <= plain.deck.ends.1 + 1e-12, "{name} {past}");
                        assert!(block.y.abs() <= plain.deck.half_beam);
                    }
                }
                let found = account(&input);
                for finding in &found.findings {
                    let known = matches!(finding.what, What::Leech | What::Lifts);
                    assert!(known, "{name} {past} {choices:?} {finding:?}");
                }
                if past > 0.5 && choices.system == Some(System::Single) {
                    assert!(
                        found.findings.iter().any(|f| f.what == What::Leech),
                        "{name}"
                    );
                }
            }
        }
    }
}

/// Even parts at every span block, one on the last span of a small sail, where the end is fast; and the rope in one path that is as long
/// as the sheet, turning at as many sheaves as it has parts.
#[test]
fn sheets_are_rove_in_one_path() {
    let small: Vec<bool> = (demos(0.0).iter())
        .map(|(_, input)| input.states[0].area < 12.0)
        .collect();
    assert_eq!(small, [true, false, false, false]);
    for (name, plain) in demos(0.0) {
        for choices in every_choice() {
            let input = with(&plain, &choices);
            let found = account(&input);
            for (i, sheet) in input.lines.sheets.iter().enumerate() {
                let parts: Vec<usize> = sheet.spans.iter().map(|s| s.falls[0].parts).collect();
                let (last, others) = parts.split_last().unwrap();
                assert!(others.iter().all(|n| *n == 2), "{name} {parts:?}");
                let single = input.states[0].area < 12.0;
                assert_eq!(*last, if single { 1 } else { 2 });
                assert_eq!(sheet.odd(), usize::from(single));
                let order = sheet.reeved();
                let blocks = input.hang(i, 0, 0.3).unwrap();
                let at = |named: &Named| match named {
                    Named::Block(j) => blocks.blocks[*j],
                    Named::DeckBlock(0) => sheet.deck[0],
                    Named::Cleat => sheet.cleat,
                    other => panic!("{other:?}"),
                };
                let rope: f64 = (order.windows(2))
                    .map(|two| distance(at(&two[0]), at(&two[1])))
                    .sum();
                near(rope, blocks.length, 1e-9);
                let known = (found.lines.iter())
                    .find(|l| l.line == Line::Sheet(i))
                    .unwrap();
                let total: usize = parts.iter().sum();
                assert_eq!((known.parts, known.sheaves), (total, total));
                let fast = if single { 1 } else { 0 };
                assert_eq!(known.blocks, parts.len() - fast + 1);
                assert_eq!(
                    order[0],
                    [Named::DeckBlock(0), Named::Block(parts.len() - 1)][fast]
                );
            }
        }
    }
    // By hand: one, three and six parts on two spans.
    let mut sheet = pippin(4, 3.0).lines.sheets[0].clone();
    assert_eq!(sheet.spans.len(), 2);
    let (top, low, deck) = (Named::Block(0), Named::Block(1), Named::DeckBlock(0));
    for (parts, wanted) in [
        (1, vec![low, deck, top, deck, Named::Cleat]),
        (2, vec![deck, low, deck, top, deck, Named::Cleat]),
        (3, vec![low, deck, low, deck, top, deck, Named::Cleat]),
    ] {
        sheet.part(parts);
        assert_eq!(sheet.reeved(), wanted, "{parts}");
    }
}

/// Cleats stand 0.15 m apart or more, no two alike; a line that comes aft under the coachroof's top goes over its edge.
#[test]
fn cleats_stand_in_a_row_and_leads_go_over_the_coachroof() {
    for (_, plain) in demos(0.0) {
        let mut plain = plain;
        let (fore, after) = (plain.mast.x + 0.5, plain.deck.cleats.at.0 + 0.05);
        let top = plain.deck.height + 0.4;
        plain.deck.roof = Some(Roof {
            from: fore,
            to: after,
            half_width: plain.deck.cleats.at.1,
            top,
        });
        plain.deck.cleats.at.2 = top;
        for choices in every_choice() {
            let input = with(&plain, &choices);
            let found = account(&input);
            let tails: Vec<_> = found.lines.iter().filter_map(|l| l.tail).collect();
            for (i, a) in tails.iter().enumerate() {
                assert!(
                    tails[..i].iter().all(|b| distance(*a, *b) > 0.149),
                    "{tails:?}"
                );
            }
            for known in &found.lines {
                let path = input.path(known.line, 0, 0.0).unwrap();
                let leads = path.stops.iter().filter(|s| s.named == Named::Lead).count();
                for two in path.stops.windows(2).filter(|two| two[0].parts > 0) {
                    let deck = two
                        .iter()
                        .all(|s| matches!(s.named, Named::Lead | Named::Cleat));
                    assert!(!deck || input.deck.in_roof(two[0].at, two[1].at).is_none());
                }
                if known.tail.is_some() && !matches!(known.line, Line::Sheet(_)) {
                    assert_eq!(leads, 2, "{:?}", known.line);
                }
            }
        }
    }
}

/// So many parts of the halyard that a hand hoists, at least those of the area, up to five.
#[test]
fn halyard_parts_follow_the_hand() {
    let mut more = 0;
    for (name, base) in demos(0.0) {
        for heavier in [0.3, 1.0, 1.5, 3.0] {
            let mut input = base.clone();
            for mass in input
                .weights
                .spars
                .iter_mut()
                .chain(&mut input.weights.cloth)
            {
                *mass *= heavier;
            }
            input.lines = Lines::usual(&input, &Choices::default());
            let area = input.states[0].area;
            let least = if area < 12.0 {
                1
            } else if area <= 25.0 {
                3
            } else {
                4
            };
            let parts = input.lines.halyard.unwrap().parts;
            let hoist = |parts: usize| {
                let mut input = input.clone();
                input.lines.halyard.as_mut().unwrap().parts = parts;
                account(&input).loads[0].hoist
            };
            let limit = input.rules.hand;
            assert!(parts == 5 || hoist(parts) <= limit, "{name} {parts}");
            assert!(parts == least || hoist(parts - 1) > limit, "{name} {parts}");
            more += usize::from(parts > least);
        }
    }
    assert!(more > 2);
}

/// Running lifts are in hand too: set up before the halyard is eased, let go last at full hoist. Standing ones are not.
#[test]
fn running_lifts_are_part_of_the_drill() {
    let input = pippin(6, 4.0);
    let found = account(&input);
    let states = input.states.len();
    for (from, to) in (0..states).flat_map(|a| (0..states).map(move |b| (a, b))) {
        let steps = found.drill(&input, from, to);
        assert_eq!(steps.is_empty(), from == to);
        let lifts: Vec<usize> = (0..steps.len())
            .filter(|i| steps[*i].line == Line::Lifts)
            .collect();
        if to > from {
            assert_eq!((lifts.as_slice(), steps[1].does), (&[1][..], Does::SetUp));
        } else if to == 0 && from > 0 {
            assert_eq!(lifts, [steps.len() - 1]);
        } else {
            assert!(lifts.is_empty());
        }
        // Every running line but the lifts, each in its own places, and amounts that are the lengths' differences.
        for step in &steps {
            let known = found.lines.iter().find(|l| l.line == step.line).unwrap();
            let moved = known.lengths[to].now - known.lengths[from].now;
            match (step.line, step.does) {
                (Line::Lifts, _) | (_, Does::MakeFast | Does::Luff) => {}
                (_, Does::Haul) => near(step.amount, -moved, 1e-9),
                _ => near(step.amount, moved.max(0.0), 1e-9),
            }
        }
    }
    let standing = Choices {
        lifts: Use::Standing,
        hauling: [Use::Standing; 6],
        ..Choices::default()
    };
    let input = with(&input, &standing);
    let steps = account(&input).drill(&input, 0, 3);
    assert!(
        steps
            .iter()
            .all(|s| matches!(s.line, Line::Halyard | Line::Sheet(_)))
    );
}

/// One row a panel: what the yard does before the boom lies on its lifts is in the first. A halyard that hoists what stands over the
/// panel's way works as much as is told.
#[test]
fn effort_goes_by_panels() {
    for (name, input) in demos(0.0) {
        let found = account(&input);
        let panels = input.states[0].spars.len() - 1;
        assert_eq!(found.effort.len(), panels, "{name}");
        let halyard = &found.lines[0];
        assert_eq!(halyard.line, Line::Halyard);
        for (k, effort) in found.effort.iter().enumerate() {
            // States: full hoist, on the lifts, one panel lowered and so on.
            let (from, to) = (if k == 0 { 0 } else { k + 1 }, k + 2);
            let way = halyard.lengths[to].now - halyard.lengths[from].now;
            let most = found.loads[from].hoist.max(found.loads[from + 1].hoist);
            assert!(effort.shaking >= 0.9 * way * found.loads[to - 1].hoist);
            let hauling: f64 = (found.lines.iter())
                .filter(|l| matches!(l.line, Line::Hauling(_)))
                .map(|l| l.movement[from..to].iter().map(|m| m.abs()).sum::<f64>() * l.load)
                .sum();
            assert!(effort.shaking <= way * most + hauling + 1e-9, "{name} {k}");
        }
    }
}

/// What a hauling line bears is told apart from what a hand gives it.
#[test]
fn the_pull_of_a_hauling_line_is_statics_or_not_known() {
    let choices = Choices {
        hauling: [Use::Running; 6],
        ..Choices::default()
    };
    for (name, plain) in demos(0.0) {
        let input = with(&plain, &choices);
        for known in &account(&input).lines {
            let Line::Hauling(i) = known.line else {
                assert_eq!(known.pull.unwrap_or(0.0), known.load, "{name}");
                continue;
            };
            match input.lines.hauling[i].hauls {
                Hauls::Tack | Hauls::Restraint | Hauls::Down => assert_eq!(known.pull, None),
                Hauls::Yard => assert!(known.pull.unwrap() > 1.0),
                _ => {}
            }
            assert!(known.load >= input.rules.hand.max(known.pull.unwrap_or(0.0)) - 1e-9);
        }
    }
}

/// A deck is as broad as it is there: a block on the side deck amidships is on board, beside a narrow stern it is not.
#[test]
fn side_decks_are_on_board() {
    let mut input = pippin(7, 4.4);
    let (fore, after) = input.deck.ends;
    input.deck.sides = core::array::from_fn(|i| if i < 8 { 1.2 } else { 0.4 });
    let off = |input: &mut rigging::Input, x: f64| {
        let block = input.lines.sheets[0].deck.first_mut().unwrap();
        (block.x, block.y) = (x, 0.9);
        let found = rigging::account(input).findings;
        found.iter().any(|f| f.what == rigging::What::OffBoat)
    };
    assert!(!off(&mut input, 0.5 * (fore + after)));
    assert!(off(&mut input, after));
}

/// At full hoist battens 5 and 6 hang off the mast alike, so their parrels' pulls are as the rope they take up (derived): 6,
/// steeper than 30°, stands off by the mast's radius first.
#[test]
fn a_steep_battens_parrel_pulls_as_it_stands_off() {
    let mut input = pippin(7, 4.4);
    input.states.truncate(1);
    let parrels = input.lines.parrels.unwrap();
    let account = rigging::account(&input);
    let pull = |spar: usize| {
        let known = account.lines.iter().find(|l| l.line == Line::Parrel(spar));
        known.unwrap().load
    };
    let taken_up = |spar: usize, stands_off: bool| {
        let spar = input.states[0].spars[spar];
        let (run, rise) = (spar.angle.cos(), spar.angle.sin());
        let (ahead, abaft) = (parrels.ahead * run, parrels.abaft * run);
        let up = (parrels.ahead + parrels.abaft) * rise;
        let height = spar.height_on_mast().unwrap() + 0.5 * (parrels.abaft - parrels.ahead) * rise;
        let radius = 0.5 * input.mast.diameter_at(height);
        let off = input.mast.offset - radius + if stands_off { radius } else { 0.0 };
        let rope =
            |off| geometry::parrel::batten_parrel_length(ahead, abaft, off, radius).hypot(up);
        (rope(off + 1e-4) - rope(off)) / 1e-4
    };
    assert!(input.states[0].spars[5].angle < 0.5 && input.states[0].spars[6].angle > 0.6);
    let wanted = taken_up(5, false) / taken_up(6, true);
    near(pull(6) / pull(5), wanted, 1e-3 * wanted);
}
