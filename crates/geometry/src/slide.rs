//! The place of a folded stack: a small bounded least-squares problem, solved exactly.
//!
//! Spars 0..=k lie one upon another. Unknown is `x[i]`, how far spar i lies aft of its reference,
//! along the spar. Cloth bounds the differences x[i] - x[i-1], parrels bound each x[i], and the
//! preference is
//!
//!   least  w_top (x[k] - wanted)² + w_boom x[0]².
//!
//! A chain of bounded differences between boxes is a *zone*: once the boxes are tightened by one
//! sweep up and one sweep down, what is left for (x[0], x[k]) is a box cut by one strip, and the
//! optimum of a separable square over it has a closed form. No iteration, no tolerance.

use crate::MOST_PANELS;

/// A closed interval [least, most].
pub type Span = (f64, f64);

/// The problem: boxes for each spar, spans for each difference, and what is preferred.
#[derive(Clone, Copy, Debug)]
pub struct Stack<'a> {
    /// Where each lying spar may be, boom first; k + 1 entries.
    pub boxes: &'a [Span],
    /// Slide of each upper spar on the one below; k entries.
    pub slides: &'a [Span],
    /// Where the topmost lying spar would best be.
    pub wanted: f64,
    /// Weight of that wish.
    pub weight_top: f64,
    /// Weight of the boom staying at 0.
    pub weight_boom: f64,
}

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Places {
    /// Place of each lying spar; entries past k repeat x[k].
    pub x: [f64; MOST_PANELS + 1],
    /// How far every box had to be widened before any place satisfied the cloth; 0 when none.
    pub excess: f64,
}

/// Solves the stack. Total: an empty list of boxes gives zeros.
pub fn settle(stack: &Stack<'_>) -> Places {
    let n = stack
        .boxes
        .len()
        .min(stack.slides.len() + 1)
        .min(MOST_PANELS + 1);
    let mut places = Places {
        x: [0.0; MOST_PANELS + 1],
        excess: excess(stack, n),
    };
    let Some(top) = n.checked_sub(1) else {
        return places;
    };
    let mut boxes = [(0.0, 0.0); MOST_PANELS + 1];
    // A hair of room keeps rounding from emptying a box that touches at one point.
    let room = places.excess + if places.excess > 0.0 { 1e-12 } else { 0.0 };
    for (to, from) in boxes.iter_mut().zip(stack.boxes) {
        *to = (from.0 - room, from.1 + room);
    }
    for i in 1..n {
        let (least, most) = stack.slides[i - 1];
        boxes[i] = meet(boxes[i], (boxes[i - 1].0 + least, boxes[i - 1].1 + most));
    }
    for i in (0..top).rev() {
        let (least, most) = stack.slides[i];
        boxes[i] = meet(boxes[i], (boxes[i + 1].0 - most, boxes[i + 1].1 - least));
    }

    let summed = stack.slides[..top]
        .iter()
        .fold((0.0, 0.0), |s, d| (s.0 + d.0, s.1 + d.1));
    let mut first = within(0.0, boxes[0]);
    let mut last = within(stack.wanted, boxes[top]);
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
            boxes[0].0.max(boxes[top].0 - strip),
            boxes[0].1.min(boxes[top].1 - strip),
        );
        first = within(share * (stack.wanted - strip), edge);
        last = first + strip;
    }

    // Between the ends the slides are shared out as evenly as the spans allow: reach[i] is where
    // spar i may be if the top is to end at `last`.
    let mut reach = boxes;
    reach[top] = (last, last);
    for i in (0..top).rev() {
        let (least, most) = stack.slides[i];
        reach[i] = meet(boxes[i], (reach[i + 1].0 - most, reach[i + 1].1 - least));
    }
    places.x[0] = first;
    let mut below = first;
    for (i, (slide, reachable)) in stack.slides.iter().zip(&reach[1..n]).enumerate() {
        let even = below + (last - below) / (top - i) as f64;
        let allowed = meet(*reachable, (below + slide.0, below + slide.1));
        below = within(even, allowed);
        places.x[i + 1] = below;
    }
    for i in n..places.x.len() {
        places.x[i] = last;
    }
    places
}

/// Least uniform widening of all boxes that makes the chain possible.
///
/// A system of differences is possible exactly when no cycle is negative; the chain alone is, so
/// only cycles through two boxes count, and each needs half of what it lacks.
fn excess(stack: &Stack<'_>, n: usize) -> f64 {
    let mut worst: f64 = 0.0;
    for i in 0..n {
        let (low, high) = stack.boxes[i];
        worst = worst.max(0.5 * (low - high));
        let mut sum = (0.0, 0.0);
        for j in i + 1..n {
            let (least, most) = stack.slides[j - 1];
            sum = (sum.0 + least, sum.1 + most);
            let above = stack.boxes[j];
            worst = worst.max(0.5 * (sum.0 - (above.1 - low)));
            worst = worst.max(0.5 * ((above.0 - high) - sum.1));
        }
    }
    worst
}

fn meet(a: Span, b: Span) -> Span {
    let (low, high) = (a.0.max(b.0), a.1.min(b.1));
    if low <= high {
        (low, high)
    } else {
        let middle = 0.5 * (low + high);
        (middle, middle)
    }
}

/// `clamp` that never panics, whatever the span.
fn within(x: f64, span: Span) -> f64 {
    x.max(span.0).min(span.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

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
            let stack = Stack { boxes: &boxes, slides: &slides, wanted, weight_top: 1.0, weight_boom };
            let places = settle(&stack);
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
        let boxes = [(-0.2, 0.2); 4];
        let places = settle(&Stack {
            boxes: &boxes,
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
        let boxes = [(-0.1, 0.1); 5];
        let places = settle(&Stack {
            boxes: &boxes,
            slides: &slides,
            wanted: 0.0,
            weight_top: 1.0,
            weight_boom: 0.1,
        });
        assert!((places.excess - 0.1).abs() < 1e-9);
        assert!((places.x[4] - places.x[0] - 0.4).abs() < 1e-9);
    }
}
