//! Span blocks: the ellipse's reflection property, brute force, and the balance of forces as a certificate.

use geometry::mast::Place;
use rigging::net::{Net, Stretch, Tie};
use rigging::space::distance;

/// A generator of numbers, the same every time (SplitMix64, from memory).
pub(crate) struct Seeded(pub(crate) u64);

impl Seeded {
    pub(crate) fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    fn within(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.next()
    }

    fn place(&mut self, size: f64) -> Place {
        at(
            self.within(-size, size),
            self.within(-size, size),
            self.within(-size, size),
        )
    }
}

fn at(x: f64, y: f64, z: f64) -> Place {
    Place { x, y, z }
}

fn mix(a: Place, b: Place, share: f64) -> Place {
    let between = |a, b| a + (b - a) * share;
    at(between(a.x, b.x), between(a.y, b.y), between(a.z, b.z))
}

/// One span, one block, deck points.
#[derive(Debug)]
struct Case {
    ends: Vec<(Place, f64)>,
    length: f64,
    deck: Vec<(Place, f64)>,
}

impl Case {
    fn net(&self) -> Net {
        let mut stretches = Vec::new();
        for (list, span) in [(&self.ends, Some(0)), (&self.deck, None)] {
            for (to, parts) in list {
                stretches.push(Stretch {
                    from: Tie::Block(0),
                    to: Tie::Fixed(*to),
                    parts: *parts,
                    span,
                });
            }
        }
        Net {
            blocks: 1,
            spans: vec![self.length],
            stretches,
        }
    }

    fn sum(list: &[(Place, f64)], q: Place) -> f64 {
        list.iter().map(|(p, n)| n * distance(*p, q)).sum()
    }
}

/// Batten ends more or less up a leech, spans from barely long enough to slack, points that coincide or lie in one
/// line, deck points in and out of reach.
fn case(seed: &mut Seeded, i: usize) -> Case {
    let three = i % 2 == 1;
    let first = seed.place(2.0);
    let mut ends = vec![(first, 1.0)];
    let gap = seed.within(0.2, 1.5);
    for j in 1..if three { 3 } else { 2 } {
        let straight = at(first.x, first.y, first.z + gap * j as f64);
        let p = match i % 7 {
            // In one line.
            0 => straight,
            // All in one place, or two of them.
            1 => ends[j - 1].0,
            2 if j == 2 => first,
            _ => mix(straight, seed.place(2.0), 0.3),
        };
        ends.push((p, if three && j == 1 { 2.0 } else { 1.0 }));
    }
    // Least rope that reaches: to the turning end, or straight across.
    let least = Case::sum(&ends, ends[1].0);
    let spare = [0.002, 0.05, 0.5, 1.5, 6.0][i % 5];
    let deck = match i % 11 {
        // Where a batten end is, and in line with them.
        0 => ends[0].0,
        3 => mix(ends[0].0, ends[1].0, 3.0),
        _ => {
            let far = seed.place(1.5);
            at(far.x + 2.0, far.y, far.z - 3.0)
        }
    };
    let parts = 1.0 + (i % 3) as f64;
    let deck = vec![(deck, parts)];
    Case {
        ends,
        length: least + spare * seed.within(0.5, 1.0),
        deck,
    }
}

/// Least rope by search: over the surface where the span is taut, the best of a grid made finer and finer, and the deck
/// point itself where it is within. It only ever finds too much.
fn searched(case: &Case) -> f64 {
    let (first, last) = (case.ends[0].0, case.ends[case.ends.len() - 1].0);
    let pair = case.ends.len() == 2;
    // A triple is gathered about its turning end; a pair is a spheroid, long and thin when nearly taut.
    let inside = if pair {
        mix(first, last, 0.5)
    } else {
        case.ends[1].0
    };
    let long = 0.5 * case.length;
    let axis = match distance(first, last) {
        0.0 => at(0.0, 0.0, 1.0),
        far => mix(
            at(0.0, 0.0, 0.0),
            at(last.x - first.x, last.y - first.y, last.z - first.z),
            1.0 / far,
        ),
    };
    let cross = |a: Place, b: Place| {
        at(
            a.y * b.z - a.z * b.y,
            a.z * b.x - a.x * b.z,
            a.x * b.y - a.y * b.x,
        )
    };
    let odd = if axis.z.abs() < 0.8 {
        at(0.0, 0.0, 1.0)
    } else {
        at(1.0, 0.0, 0.0)
    };
    let e = cross(axis, odd);
    let e = mix(at(0.0, 0.0, 0.0), e, 1.0 / distance(e, at(0.0, 0.0, 0.0)));
    let f = cross(axis, e);
    let taut = |azimuth: f64, height: f64| {
        // For a pair from the axis out, at a height on it; for a triple from the middle out.
        let (along, out, from) = if pair {
            (0.0, 1.0, long * height.sin())
        } else {
            (height.sin(), height.cos(), 0.0)
        };
        let go = |r: f64| {
            let (up, x, y) = (
                from + r * along,
                r * out * azimuth.cos(),
                r * out * azimuth.sin(),
            );
            at(
                inside.x + up * axis.x + x * e.x + y * f.x,
                inside.y + up * axis.y + x * e.y + y * f.y,
                inside.z + up * axis.z + x * e.z + y * f.z,
            )
        };
        // The span's rope is convex along it: secants from outside come down on the end and never pass it.
        let over = |r: f64| Case::sum(&case.ends, go(r)) - case.length;
        let legs: f64 = case.ends.iter().map(|e| e.1).sum();
        let (mut far, mut far_over) = (case.length, over(case.length));
        let mut r = far - far_over / legs;
        for _ in 0..80 {
            let now = over(r);
            let step = now * (far - r) / (far_over - now);
            (far, far_over) = (r, now);
            if step.is_nan() || step < 1e-10 {
                break;
            }
            r -= step;
        }
        go(r)
    };
    let mut best = f64::INFINITY;
    if Case::sum(&case.ends, case.deck[0].0) <= case.length {
        best = 0.0;
    }
    let mut centre = (0.0, 0.0);
    for i in 0..16 {
        for j in 0..9 {
            let tried = (f64::from(i) * 0.4, f64::from(j) * 0.35 - 1.4);
            let rope = Case::sum(&case.deck, taut(tried.0, tried.1));
            if rope < best {
                (best, centre) = (rope, tried);
            }
        }
    }
    let mut size = 0.3;
    while size > 1e-5 {
        let mut found = false;
        for (da, dh) in [
            (1.0, 0.0),
            (-1.0, 0.0),
            (0.0, 1.0),
            (0.0, -1.0),
            (0.7, 0.7),
            (-0.7, 0.7),
            (0.7, -0.7),
            (-0.7, -0.7),
        ] {
            let tried = (centre.0 + size * da, centre.1 + size * dh);
            let rope = Case::sum(&case.deck, taut(tried.0, tried.1));
            if rope < best - 1e-9 {
                (best, centre) = (rope, tried);
                found = true;
                break;
            }
        }
        if !found {
            size *= 0.5;
        }
    }
    best
}

/// Ten thousand cases in the eyes of a search that knows nothing of the solver.
#[test]
fn blocks_hang_where_brute_force_finds_them() {
    let mut seed = Seeded(1);
    let mut worst: (f64, f64) = (0.0, 0.0);
    for i in 0..10_000 {
        let case = case(&mut seed, i);
        let hung = case.net().hang().unwrap();
        assert!(hung.steps < 200, "{i}: {} steps", hung.steps);
        let drawn = Case::sum(&case.ends, hung.blocks[0]);
        assert!(
            drawn <= case.length + 1e-4,
            "{i}: the span holds: {drawn} {case:?}"
        );
        let found = searched(&case);
        let over = hung.rope - found;
        worst = (worst.0.min(over), worst.1.max(over));
        assert!(over < 1e-4, "{i}: {over} over {case:?}");
        // The search may end a little early, never below what is possible.
        assert!(over > -1e-4, "{i}: {over} under {case:?}");
        // The short way to one block.
        let s = case.deck[0];
        let (place, pull, short) = case.net().one().unwrap();
        let rope = s.1 * distance(place, s.0);
        assert!((rope - hung.rope).abs() < 2e-5, "{i}: {rope} {}", hung.rope);
        assert!(Case::sum(&case.ends, place) < case.length + 1e-6 && short == 0.0);
        if rope > 0.01 && pull < 60.0 {
            assert!(
                (pull - hung.pulls[0]).abs() < 0.01 * pull,
                "{i} {pull} {hung:?}"
            );
        }
    }
    println!("{worst:?}");
}

/// Least rope by a solver of others (clarabel): the cone programme written out anew.
fn by_clarabel(net: &Net) -> f64 {
    use clarabel::algebra::CscMatrix;
    use clarabel::solver::SupportedConeT::{NonnegativeConeT, SecondOrderConeT};
    use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver};
    let (blocks, count) = (3 * net.blocks, net.stretches.len());
    let columns = blocks + count;
    let rows = net.spans.len() + 4 * count;
    let mut dense = vec![vec![0.0; columns]; rows];
    let mut right = net.spans.clone();
    let mut cost = vec![0.0; columns];
    let mut cones = vec![NonnegativeConeT(net.spans.len())];
    for (e, stretch) in net.stretches.iter().enumerate() {
        let t = blocks + e;
        match stretch.span {
            Some(span) => dense[span][t] += stretch.parts,
            None => cost[t] = stretch.parts,
        }
        let row = net.spans.len() + 4 * e;
        dense[row][t] = -1.0;
        right.push(0.0);
        let mut fixed = [0.0; 3];
        for (tie, sign) in [(stretch.from, 1.0), (stretch.to, -1.0)] {
            match tie {
                Tie::Block(b) => {
                    for i in 0..3 {
                        dense[row + 1 + i][3 * b + i] -= sign;
                    }
                }
                Tie::Fixed(p) => {
                    for (fixed, p) in fixed.iter_mut().zip([p.x, p.y, p.z]) {
                        *fixed += sign * p;
                    }
                }
            }
        }
        right.extend(fixed);
        cones.push(SecondOrderConeT(4));
    }
    let settings = DefaultSettings {
        verbose: false,
        ..DefaultSettings::default()
    };
    let quadratic = CscMatrix::zeros((columns, columns));
    let matrix = CscMatrix::from(&dense);
    let mut solver =
        DefaultSolver::new(&quadratic, &cost, &matrix, &right, &cones, settings).unwrap();
    solver.solve();
    solver.solution.obj_val
}

/// Triples, several deck points, sheets from block to block and cascades, against a convex solver of others.
#[test]
fn nets_of_all_kinds_agree_with_another_solver() {
    let mut seed = Seeded(7);
    for i in 0..600 {
        let mut net = case(&mut seed, i).net();
        let go = |from, to, parts, span| Stretch {
            from,
            to,
            parts,
            span,
        };
        if i % 3 > 0 {
            // A second span higher up, its block joined to the first by the sheet.
            let (a, b) = (seed.place(1.0), seed.place(1.0));
            net.blocks = 2;
            net.spans.push(distance(a, b) + seed.within(0.1, 2.0));
            net.stretches
                .push(go(Tie::Block(1), Tie::Fixed(a), 1.0, Some(1)));
            net.stretches
                .push(go(Tie::Block(1), Tie::Fixed(b), 1.0, Some(1)));
            let deck = at(3.0, seed.within(-1.0, 1.0), -3.0);
            if i % 3 == 1 {
                net.stretches
                    .push(go(Tie::Block(1), Tie::Block(0), 1.0, None));
                net.stretches
                    .push(go(Tie::Block(1), Tie::Fixed(deck), 1.0, None));
            } else {
                // A third gathers both blocks; it alone goes to the deck.
                net.stretches.retain(|s| s.span.is_some());
                net.blocks = 3;
                net.spans.push(seed.within(7.0, 9.0));
                net.stretches
                    .push(go(Tie::Block(2), Tie::Block(0), 1.0, Some(2)));
                net.stretches
                    .push(go(Tie::Block(2), Tie::Block(1), 1.0, Some(2)));
                net.stretches
                    .push(go(Tie::Block(2), Tie::Fixed(deck), 2.0, None));
            }
        } else {
            net.stretches
                .push(go(Tie::Block(0), Tie::Fixed(seed.place(4.0)), 1.0, None));
        }
        let hung = net.hang().unwrap();
        let other = by_clarabel(&net);
        assert!(hung.short.iter().all(|s| *s < 1e-4), "{i}: {hung:?}");
        assert!(
            (hung.rope - other).abs() < 1e-4,
            "{i}: {} {other}",
            hung.rope
        );
    }
}

/// Spans over three ends, the middle one a turning point, against the solver of others; by the short way
/// too.
#[test]
fn three_legs_agree_with_another_solver() {
    let mut seed = Seeded(11);
    for i in 0..400 {
        let case = case(&mut seed, 2 * i + 1);
        assert_eq!(case.ends.len(), 3);
        let net = case.net();
        let other = by_clarabel(&net);
        let hung = net.hang().unwrap();
        assert!(
            (hung.rope - other).abs() < 1e-4,
            "{i}: {} {other}",
            hung.rope
        );
        let (place, _, short) = net.one().unwrap();
        let rope = case.deck[0].1 * distance(place, case.deck[0].0);
        assert!(
            (rope - other).abs() < 1e-4 && short == 0.0,
            "{i}: {rope} {other}"
        );
    }
}

/// The ellipse's reflection property (any textbook of geometry): seen from the block the line to the deck block bisects the two
/// legs, both in the closed form and in the solver.
#[test]
fn the_sheet_bisects_a_pair_of_legs() {
    let mut seed = Seeded(3);
    let mut seen = 0;
    for _ in 0..500 {
        let (a, b, s) = (seed.place(1.0), seed.place(1.0), seed.place(5.0));
        let length = distance(a, b) * seed.within(1.05, 2.5);
        let case = Case {
            ends: vec![(a, 1.0), (b, 1.0)],
            length,
            deck: vec![(s, 1.0)],
        };
        let solved = case.net().hang().unwrap().blocks[0];
        let closed = case.net().one().unwrap().0;
        for (q, within) in [(closed, 1e-6), (solved, 3e-3)] {
            if distance(q, s) < 0.05 {
                continue;
            }
            let cosine = |p: Place| {
                let d = (p.x - q.x) * (s.x - q.x)
                    + (p.y - q.y) * (s.y - q.y)
                    + (p.z - q.z) * (s.z - q.z);
                d / distance(p, q) / distance(s, q)
            };
            assert!(
                (cosine(a) - cosine(b)).abs() < within,
                "{} {}",
                cosine(a),
                cosine(b)
            );
            seen += 1;
        }
    }
    assert!(seen > 800, "{seen}");
    // By hand: foci 2 apart, rope 4, from straight abaft: an ellipse of half axes 2 and √3.
    let (q, pull, _) = Case {
        ends: vec![(at(0.0, 0.0, 1.0), 1.0), (at(0.0, 0.0, -1.0), 1.0)],
        length: 4.0,
        deck: vec![(at(9.0, 0.0, 0.0), 1.0)],
    }
    .net()
    .one()
    .unwrap();
    assert!((q.x - 3f64.sqrt()).abs() < 1e-12 && q.z.abs() < 1e-12);
    // Two legs of 2 with their ends 1 off: each pulls 1 / (2 cos 30°).
    assert!((pull - 1.0 / 3f64.sqrt()).abs() < 1e-12);
}

/// A block drawn down on its deck block is a result; so is a span that does not reach.
#[test]
fn two_blocked_and_too_short_are_results() {
    let (a, b) = (at(0.0, 0.0, 1.0), at(0.0, 0.0, -1.0));
    let net = |length, s| {
        Case {
            ends: vec![(a, 1.0), (b, 1.0)],
            length,
            deck: vec![(s, 1.0)],
        }
        .net()
    };
    let hang = |length, s| net(length, s).hang().unwrap();
    let one = |length, s| net(length, s).one().unwrap();
    let near = hang(4.0, at(0.5, 0.0, 0.0));
    assert!(near.rope < 1e-4 && near.pulls[0] < 0.2 && near.short[0] < 1e-6);
    let short = hang(1.5, at(3.0, 0.0, 0.0));
    assert!((short.short[0] - 0.5).abs() < 1e-3, "{short:?}");
    assert!((short.rope - 3.0).abs() < 0.05);
    let (place, _, lack) = one(1.5, at(3.0, 0.0, 0.0));
    assert!(
        (lack - 0.5).abs() < 1e-6 && distance(place, at(0.0, 0.0, 0.0)) < 1e-3,
        "{place:?} {lack}"
    );
    let s = at(0.5, 0.0, 0.0);
    assert_eq!(one(4.0, s), (s, 0.0, 0.0));
}

/// Spans that are too short, over two to four ends, by as much as the solver by barriers and the price of rope has it.
#[test]
fn spans_too_short_are_short_by_the_least_they_need() {
    let mut seed = Seeded(5);
    let mut four = 0;
    for i in 0..1_000 {
        let mut case = case(&mut seed, i);
        // A fourth end a little on, up the leech.
        if case.ends.len() == 3 && i % 4 == 1 {
            let (low, high) = (case.ends[1].0, case.ends[2].0);
            let next = mix(mix(low, high, 2.0), seed.place(2.0), 0.05);
            case.ends[2].1 = 2.0;
            case.ends.push((next, 1.0));
            four += 1;
        }
        case.length = 0.05;
        let hung = case.net().hang().unwrap();
        let (place, pull, short) = case.net().one().unwrap();
        // Of four ends the least lies between the middle two; it is taken at one of them.
        let within = if case.ends.len() == 4 { 0.01 } else { 2e-4 };
        assert!(
            (short - hung.short[0]).abs() < within,
            "{i} {short} {hung:?}"
        );
        let needs = Case::sum(&case.ends, place);
        assert!((needs - 0.05 - short).abs() < 1e-9 && pull <= 1e3 || short == 0.0);
    }
    assert!(four > 100);
}
