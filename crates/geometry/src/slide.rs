//! The place of a folded stack: a small bounded least-squares problem, solved exactly.
//!
//! Spars 0..=k lie one upon another. Unknown is `x[i]`, how far spar i lies aft of its reference,
//! along the spar. Cloth bounds the differences x[i] - x[i-1], parrels bound each x[i], and the
//! preference is
//!
//!   least  w_top (x[k] - wanted)² + w_boom x[0]².
//!
//! A chain of bounded differences between boxes is a *zone*: one sweep up tells what is left for
//! (x[0], x[k]), a box cut by one strip, and the optimum of a separable square over it has a
//! closed form. No iteration, no tolerance.

use crate::MOST_PANELS;
use crate::order::{greater, lesser};

/// A closed interval [least, most].
pub type Span = (f64, f64);

/// The problem: boxes for each spar, spans for each difference, and what is preferred.
#[derive(Clone, Copy, Debug)]
pub struct Stack<'a> {
    /// Where each spar under the topmost may be, boom first; k entries.
    pub boxes: &'a [Span],
    /// Where the topmost may be.
    pub top: Span,
    /// Slide of each upper spar on the one below; k entries.
    pub slides: &'a [Span],
    /// Where the topmost lying spar would best be.
    pub wanted: f64,
    /// Weight of that wish.
    pub weight_top: f64,
    /// Weight of the boom staying at 0.
    pub weight_boom: f64,
}

/// The answer, and the room to work it out in: kept from one stack to the next, since clearing
/// and copying lists costs more than the work.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Places {
    /// Place of each lying spar; entries past k repeat x[k].
    pub x: [f64; MOST_PANELS + 1],
    /// How far every box had to be widened before any place satisfied the cloth; 0 when none.
    pub excess: f64,
    /// Boxes under the topmost, tightened.
    boxes: [Span; MOST_PANELS],
}

/// What one sweep up the stack tells.
struct Sweep {
    /// Where the boom may be.
    lowest: Span,
    /// Where the topmost may be.
    highest: Span,
    /// Slides all together.
    summed: Span,
    /// See [`Places::excess`].
    excess: f64,
}

/// 1 / n: the even share of each of n slides.
const SHARES: [f64; MOST_PANELS + 1] = {
    let mut shares = [0.0; MOST_PANELS + 1];
    let mut left = 1;
    while left <= MOST_PANELS {
        shares[left] = 1.0 / left as f64;
        left += 1;
    }
    shares
};

/// Solves the stack. Total: lists of unlike length are cut to the shorter.
pub fn settle(stack: &Stack<'_>, places: &mut Places) {
    let mut sweep = sweep_up(stack, 0.0, &mut places.boxes);
    places.excess = sweep.excess;
    if places.excess > 0.0 {
        // A hair of room keeps rounding from emptying a box that touches at one point.
        sweep = sweep_up(stack, places.excess + 1e-12, &mut places.boxes);
    }
    let Sweep {
        lowest,
        highest,
        summed,
        ..
    } = sweep;
    let mut first = within(0.0, lowest);
    let mut last = within(stack.wanted, highest);
    let strip = within(last - first, summed);
    if strip != last - first {
        // The strip binds: the optimum lies on its edge x[k] = x[0] + strip.
        let total = stack.weight_top + stack.weight_boom;
        let share = if total > 0.0 {
            stack.weight_top / total
        } else {
            0.0
        };
        let edge = (
            greater(lowest.0, highest.0 - strip),
            lesser(lowest.1, highest.1 - strip),
        );
        first = within(share * (stack.wanted - strip), edge);
        last = first + strip;
    }

    // Between the ends the slides are shared out as evenly as the spans allow: each box shrinks
    // to where its spar may be if the top is to end at `last`.
    let k = stack.boxes.len().min(stack.slides.len()).min(MOST_PANELS);
    let mut above = (last, last);
    for (own, slide) in places.boxes[..k].iter_mut().zip(stack.slides).rev() {
        (above, *own) = (meet(*own, (above.0 - slide.1, above.1 - slide.0)), above);
    }
    // Each now holds where the spar above it may be.
    let mut below = first;
    let (lying, standing) = places.x.split_at_mut(k);
    for (i, ((x, above), slide)) in lying
        .iter_mut()
        .zip(&places.boxes)
        .zip(stack.slides)
        .enumerate()
    {
        *x = below;
        let even = below + (last - below) * SHARES[k - i];
        below = within(even, meet(*above, (below + slide.0, below + slide.1)));
    }
    for x in standing {
        *x = below;
    }
}

/// Tightens every box under the topmost by the ones below it, all widened by `room`.
///
/// A system of differences is possible exactly when no cycle is negative; the chain alone is, so
/// only cycles through two boxes count, and each needs half of what it lacks. Of all boxes below
/// the tightest, carried up, lacks most:
///
///   excess = ½ max over i <= j of low_i + Σ least - high_j and low_j - (high_i + Σ most).
///
/// The boom may be where every box, carried down to it, lets it.
fn sweep_up(stack: &Stack<'_>, room: f64, tightened: &mut [Span; MOST_PANELS]) -> Sweep {
    let mut lowest = (f64::NEG_INFINITY, f64::INFINITY);
    let mut lacking = 0.0;
    let mut tighten = |own: Span, carried: Span, summed: Span| {
        let (low, high) = (own.0 - room, own.1 + room);
        lowest = (
            greater(low - summed.1, lowest.0),
            lesser(high - summed.0, lowest.1),
        );
        let tight = (greater(low, carried.0), lesser(high, carried.1));
        lacking = greater(lacking, greater(tight.0 - high, low - tight.1));
        tight
    };
    let mut carried = (f64::NEG_INFINITY, f64::INFINITY);
    let mut summed = (0.0, 0.0);
    for ((own, slide), tight) in stack.boxes.iter().zip(stack.slides).zip(tightened) {
        *tight = tighten(*own, carried, summed);
        carried = (tight.0 + slide.0, tight.1 + slide.1);
        summed = (summed.0 + slide.0, summed.1 + slide.1);
    }
    let highest = tighten(stack.top, carried, summed);
    Sweep {
        lowest,
        highest,
        summed,
        excess: 0.5 * lacking,
    }
}

fn meet(a: Span, b: Span) -> Span {
    let (low, high) = (greater(a.0, b.0), lesser(a.1, b.1));
    if low <= high {
        (low, high)
    } else {
        let middle = 0.5 * (low + high);
        (middle, middle)
    }
}

/// `clamp` that never panics, whatever the span.
fn within(x: f64, span: Span) -> f64 {
    lesser(greater(x, span.0), span.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn settled(stack: &Stack<'_>) -> Places {
        let mut places = Places::default();
        settle(stack, &mut places);
        places
    }

    #[test]
    fn slides_are_shared_out_evenly_where_the_cloth_lets_them() {
        let (boxes, slides) = ([(-9.0, 9.0); 4], [(-1.0, 1.0); 4]);
        let places = settled(&Stack {
            boxes: &boxes,
            top: (2.0, 2.0),
            slides: &slides,
            wanted: 2.0,
            weight_top: 1.0,
            weight_boom: 1.0,
        });
        for (x, wanted) in places.x.iter().zip([0.0, 0.5, 1.0, 1.5, 2.0]) {
            assert!((x - wanted).abs() < 1e-12, "{places:?}");
        }
    }

    fn cost(stack: &Stack<'_>, first: f64, last: f64) -> f64 {
        stack.weight_top * (last - stack.wanted).powi(2) + stack.weight_boom * first.powi(2)
    }

    proptest! {
        /// Against brute force: no point of a fine grid over the allowed zone is better.
        #[test]
        fn no_allowed_place_is_better(
            spans in prop::collection::vec((-0.2..0.2f64, 0.0..0.2f64), 1..5),
            travel in 0.01..0.5f64, wanted in -1.0..1.0f64, weight_boom in 0.01..1.0f64,
        ) {
            let slides: Vec<Span> = spans.iter().map(|(l, w)| (*l, l + w)).collect();
            let boxes = vec![(-travel, travel); slides.len() + 1];
            let (top, under) = boxes.split_last().unwrap();
            let stack = Stack { boxes: under, top: *top, slides: &slides, wanted, weight_top: 1.0, weight_boom };
            let places = settled(&stack);
            let wide = places.excess + 1e-9;
            for (i, x) in places.x[..boxes.len()].iter().enumerate() {
                prop_assert!(*x >= boxes[i].0 - wide && *x <= boxes[i].1 + wide);
                if i > 0 {
                    let s = x - places.x[i - 1];
                    prop_assert!(s >= slides[i - 1].0 - 1e-9 && s <= slides[i - 1].1 + 1e-9);
                }
            }
            if places.excess > 0.0 { return Ok(()); }
            let best = cost(&stack, places.x[0], places.x[boxes.len() - 1]);
            let steps = 200;
            for step in 0..=steps {
                let first = -travel + 2.0 * travel * f64::from(step) / f64::from(steps);
                // Where the top may be, from this boom place, by plain interval arithmetic.
                let mut at = (first, first);
                let mut possible = true;
                for (slide, bound) in slides.iter().zip(&boxes[1..]) {
                    at = ((at.0 + slide.0).max(bound.0), (at.1 + slide.1).min(bound.1));
                    possible &= at.0 <= at.1;
                }
                if possible {
                    let last = wanted.max(at.0).min(at.1);
                    prop_assert!(cost(&stack, first, last) >= best - 1e-9);
                }
            }
        }
    }

    #[test]
    fn forced_slides_bring_the_boom_forward_and_leave_the_sail() {
        let slides = [(0.03, 0.2); 3];
        let boxes = [(-0.2, 0.2); 3];
        let places = settled(&Stack {
            boxes: &boxes,
            top: (-0.2, 0.2),
            slides: &slides,
            wanted: 0.0,
            weight_top: 1.0,
            weight_boom: 0.0,
        });
        assert_eq!(places.excess, 0.0);
        assert!((places.x[3] - 0.0).abs() < 1e-12, "{:?}", places.x);
        assert!((places.x[0] + 0.09).abs() < 1e-12);
    }

    #[test]
    fn travel_too_short_for_the_cloth_is_told() {
        let slides = [(0.1, 0.1); 4];
        let boxes = [(-0.1, 0.1); 4];
        let places = settled(&Stack {
            boxes: &boxes,
            top: (-0.1, 0.1),
            slides: &slides,
            wanted: 0.0,
            weight_top: 1.0,
            weight_boom: 0.1,
        });
        assert!((places.excess - 0.1).abs() < 1e-9);
        assert!((places.x[4] - places.x[0] - 0.4).abs() < 1e-9);
    }
}
